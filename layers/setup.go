package layers

import (
	"fmt"
	"math"
)

// newSection builds the flow problem of a squeeze from the mesh. perm gives
// each mesh node's number in the section.
func (s *Stack) newSection(q *Squeeze) (*section, []int) {
	m := s.mesh
	sec := &section{
		nodes: m.nc * m.nl, levels: m.nl, dofs: 2 * m.nc * m.nl, groups: len(m.elongation),
		half: m.half, curls: q.Curl, closed: !m.half, dies: q.dies(s.down),
		stretch: append([]float64(nil), m.elongation...),
	}
	if s.OnEdge() {
		sec.levels = m.nc
	}
	sec.border = sec.groups
	if q.Curl {
		sec.border++
	}
	perm := s.place(sec)
	sec.addElements(m, perm)
	sec.addRing(m, perm)
	sec.addColumns(m, perm, s.OnEdge())
	sec.addSlips(s, perm)
	if m.half {
		for l := 0; l < m.nl; l++ {
			sec.spine = append(sec.spine, perm[l])
		}
	}
	sec.law.restraint = q.restraint(s)
	sec.u = make([]float64, sec.dofs+sec.border)
	sec.trial = make([]float64, sec.dofs+sec.border)
	sec.next = make([]float64, sec.dofs+sec.border)
	sec.guess(q)
	return sec, perm
}

// restraint is alpha of the bar outside the bite: given, none, or
// 0.22 + 0.46 min(b/w, 1.6), a fit to a three-dimensional model's spread
// (computed; agrees within 9 % with Tomlinson and Stringer's spread law). The
// fit was made with friction 0.3 and 0.8; with 0.3 at both tools the spread
// comes out 7 to 24 % below the law.
func (q *Squeeze) restraint(s *Stack) float64 {
	switch {
	case q.Restraint == NoRestraint:
		return 0
	case q.Restraint > 0:
		return q.Restraint
	}
	w := s.mesh.meanWidth(0, s.mesh.nl-1)
	if s.OnEdge() {
		w = s.Thickness()
	}
	return 0.22 + 0.46*math.Min(q.Bite/w, 1.6)
}

// place numbers the nodes for the narrowest band and sets their positions in
// the section's frame. On edge the section is turned a quarter.
func (s *Stack) place(sec *section) []int {
	m := s.mesh
	perm := make([]int, m.nc*m.nl)
	sec.x = make([]float64, 2*len(perm))
	for c := 0; c < m.nc; c++ {
		for l := 0; l < m.nl; l++ {
			i := c*m.nl + l
			y, z, n := m.y[i], m.z[i], i
			switch s.down {
			case SideLeft:
				y, z, n = -m.z[i], m.y[i], (m.nl-1-l)*m.nc+c
			case SideRight:
				y, z, n = m.z[i], -m.y[i], l*m.nc+m.nc-1-c
			}
			perm[i] = n
			sec.x[2*n], sec.x[2*n+1] = y, z
		}
	}
	return perm
}

func (sec *section) addElements(m *mesh, perm []int) {
	sec.els = make([]element, (m.nc-1)*len(m.rows))
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			e := &sec.els[m.element(c, r)]
			a := c*m.nl + row.level
			n := [4]int{perm[a], perm[a+1], perm[a+m.nl], perm[a+m.nl+1]}
			sortFour(&n)
			e.node, e.group, e.row = n, row.group, r
			i := m.element(c, r)
			e.area0, e.strain = m.area0[i], m.strain[i]
			e.stretch = m.elongation[row.group]
		}
	}
}

// sortFour orders node numbers upward: lower left, upper left, lower right,
// upper right of the section's grid.
func sortFour(n *[4]int) {
	for i := 1; i < 4; i++ {
		for j := i; j > 0 && n[j] < n[j-1]; j-- {
			n[j], n[j-1] = n[j-1], n[j]
		}
	}
}

// addRing lists the boundary: along side B, up the right, back along side A,
// down the left of a whole section.
func (sec *section) addRing(m *mesh, perm []int) {
	last, top, nr := m.nc-1, m.nl-1, len(m.rows)
	add := func(c, l, group, elem int) {
		sec.ring = append(sec.ring, ringNode{node: perm[c*m.nl+l], group: group})
		sec.edges = append(sec.edges, ringEdge{elem})
	}
	bottom, upper := m.rows[0].group, m.rows[nr-1].group
	rowAt, groupAt := m.levelRows()
	for c := 0; c < last; c++ {
		add(c, 0, bottom, m.element(c, 0))
	}
	for l := 0; l < top; l++ {
		elem := -1
		if rowAt[l] >= 0 {
			elem = m.element(last-1, rowAt[l])
		}
		add(last, l, groupAt[l], elem)
	}
	for c := last; c > 0; c-- {
		add(c, top, upper, m.element(c-1, nr-1))
	}
	if m.half {
		add(0, top, upper, -1)
		sec.edges = sec.edges[:len(sec.edges)-1]
		return
	}
	for l := top; l > 0; l-- {
		elem := -1
		if rowAt[l-1] >= 0 {
			elem = m.element(0, rowAt[l-1])
		}
		add(0, l, groupAt[l], elem)
	}
}

// levelRows gives the row above each level (-1 within a joint) and the group
// of each level's nodes.
func (m *mesh) levelRows() (rowAt, groupAt []int) {
	rowAt, groupAt = make([]int, m.nl), make([]int, m.nl)
	for l := range rowAt {
		rowAt[l] = -1
	}
	for r, row := range m.rows {
		rowAt[row.level] = r
		groupAt[row.level], groupAt[row.level+1] = row.group, row.group
	}
	return rowAt, groupAt
}

// addColumns lists the node lines that stand between the tools: the mesh's
// columns, or its levels when the bar stands on edge.
func (sec *section) addColumns(m *mesh, perm []int, onEdge bool) {
	lines, along := m.nc, m.nl
	if onEdge {
		lines, along = m.nl, m.nc
	}
	sec.columns = make([]upright, lines)
	for i := range sec.columns {
		up := &sec.columns[i]
		up.share = make([]float64, along)
		for k := 0; k < along; k++ {
			c, l := i, k
			if onEdge {
				c, l = k, i
			}
			up.nodes = append(up.nodes, perm[c*m.nl+l])
		}
	}
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			first, lower := c, row.level
			if onEdge {
				first, lower = row.level, c
			}
			e := uprightElem{m.element(c, r), lower, lower + 1}
			sec.columns[first].elems = append(sec.columns[first].elems, e)
			sec.columns[first+1].elems = append(sec.columns[first+1].elems, e)
		}
	}
}

func (sec *section) addSlips(s *Stack, perm []int) {
	m := s.mesh
	for r := 0; r+1 < len(m.rows); r++ {
		lo, hi := m.rows[r], m.rows[r+1]
		if hi.level == lo.level+1 {
			continue
		}
		p := slipPair{group: [2]int{lo.group, hi.group}, links: make([]slipLink, m.nc)}
		p.friction = s.joints[hi.parts[0].layer-1].Friction
		for c := 0; c < m.nc; c++ {
			p.side[0] = append(p.side[0], perm[c*m.nl+lo.level+1])
			p.side[1] = append(p.side[1], perm[c*m.nl+hi.level])
			if c < m.nc-1 {
				p.elems[0] = append(p.elems[0], m.element(c, r))
				p.elems[1] = append(p.elems[1], m.element(c, r+1))
			}
		}
		sec.slips = append(sec.slips, p)
	}
}

// guess starts Newton from a uniform flow.
func (s *section) guess(q *Squeeze) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for n := 0; n < s.nodes; n++ {
		lo, hi = math.Min(lo, s.x[2*n+1]), math.Max(hi, s.x[2*n+1])
	}
	rate, mid := q.Speed/(hi-lo), (lo+hi)/2
	for n := 0; n < s.nodes; n++ {
		s.u[2*n], s.u[2*n+1] = rate/2*s.x[2*n], -rate*(s.x[2*n+1]-mid)
	}
	for g := 0; g < s.groups; g++ {
		s.u[s.dofs+g] = rate / 2
	}
}

// ensureBand makes the linear system wide enough for the present links.
func (s *section) ensureBand() {
	if need := s.bandNeeded(); s.lin.n == 0 || need > s.lin.kd {
		s.lin.size(s.dofs, s.border, need)
	}
}

// strengths asks each element's layers for their flow stress around the
// nominal rate: S and m such that S R^m is the stress there, m the local
// logarithmic slope. The strain is taken half an increment ahead.
func (p *pass) strengths() error {
	s := p.sec
	r := s.law.rate
	s.law.scale = 0
	sumS, sumA := 0.0, 0.0
	for i := range s.els {
		e := &s.els[i]
		strain := e.strain + r*s.law.dt/2
		at := p.mixed(e, strain, r)
		slope := math.Log(p.mixed(e, strain, 2*r)/p.mixed(e, strain, r/2)) / math.Log(4)
		if !positive(at) || math.IsNaN(slope) {
			return fmt.Errorf("layers: squeeze: a strength law gave %g Pa at strain %.3g, %.3g /s, %.0f K; it must be positive and finite",
				at, strain, r, e.tempK)
		}
		e.stress = at
		e.exponent = math.Max(minExponent, math.Min(maxExponent, slope))
		e.coef = at * math.Pow(r, -e.exponent)
		sumS += e.coef * math.Pow(r, e.exponent-1) * e.area
		sumA += e.area
		s.law.scale += at * r * e.area
	}
	l := &s.law
	l.eta = sumS / sumA / 3
	l.bulk, l.stiff, l.rho = bulkFactor*l.eta, stiffFactor*l.eta, rhoFactor*l.eta
	return nil
}

// The rate exponent is held between these, so that the potential stays convex
// and Newton well posed. Hot steel has 0.1 to 0.2.
const minExponent, maxExponent = 0.01, 0.6

// mixed is the flow stress of an element: of its one layer, or the mean of the
// layers sharing it, weighted by their share (equal strain; from memory, Voigt).
func (p *pass) mixed(e *element, strain, rate float64) float64 {
	t := 0.0
	for _, part := range p.stack.mesh.rows[e.row].parts {
		t += part.share * p.stack.layers[part.layer].Strength(strain, rate, e.tempK)
	}
	return t
}

// metal turns a vector from the section's frame to the metal's.
func (p *pass) metal(y, z float64) (float64, float64) {
	switch p.stack.down {
	case SideLeft:
		return z, -y
	case SideRight:
		return -z, y
	}
	return y, z
}

// writeBack puts the deformed section into the mesh, in the metal's frame and
// centred.
func (p *pass) writeBack() {
	m, s := p.stack.mesh, p.sec
	for i, n := range p.perm {
		m.y[i], m.z[i] = p.metal(s.x[2*n], s.x[2*n+1])
	}
	if m.half {
		clear(m.y[:m.nl]) // the penalty leaves the middle 1e-9 m off
	}
	copy(m.elongation, s.stretch)
	for i := range s.els {
		e := &s.els[i]
		m.strain[i] = e.strain
		m.area0[i] = e.area0 * m.elongation[e.group] / e.stretch
	}
	m.centre()
}

// centre moves the section so that its mean width and its thickness at mid
// width are about the origin.
func (m *mesh) centre() {
	if !m.half {
		shift := 0.0
		for l := 0; l < m.nl; l++ {
			shift += (m.y[l] + m.y[(m.nc-1)*m.nl+l]) / 2 / float64(m.nl)
		}
		for i := range m.y {
			m.y[i] -= shift
		}
	}
	bottom, top := m.faces()
	mid := (m.lineAt(bottom, 0) + m.lineAt(top, 0)) / 2
	for i := range m.z {
		m.z[i] -= mid
	}
}
