package layers

import "math"

// mesh is the section as quadrilaterals in the metal's frame. Nodes stand in
// columns across the width and levels from side B to side A; node number =
// column*nl + level. A slipping joint has two levels, one for either side, with
// no elements between them.
type mesh struct {
	nc, nl     int
	half       bool // only y >= 0 is kept: the section mirrors about y = 0
	y, z       []float64
	rows       []meshRow
	lines      []layerLines // per layer
	groupOf    []int        // bonded group of each layer
	elongation []float64    // of each bonded group
	area0      []float64    // per element: area x elongation to be kept, m2
	strain     []float64    // per element: equivalent strain so far
}

// meshRow is one row of elements.
type meshRow struct {
	level    int // its lower node level
	group    int
	from, to float64   // share of the thickness below its lower and upper edge when meshed
	parts    []rowPart // the layers mixed in it; one unless grouped
}

type rowPart struct {
	layer int
	share float64
}

// layerLines places a layer's two edges in the rows: level + share of the row
// above it.
type layerLines struct{ bottom, top linePlace }

type linePlace struct {
	level int
	share float64
}

// element index of a column of elements and a row.
func (m *mesh) element(col, row int) int { return col*len(m.rows) + row }

func (m *mesh) clone() *mesh {
	c := *m
	c.y = append([]float64(nil), m.y...)
	c.z = append([]float64(nil), m.z...)
	c.elongation = append([]float64(nil), m.elongation...)
	c.area0 = append([]float64(nil), m.area0...)
	c.strain = append([]float64(nil), m.strain...)
	return &c // rows, lines and groupOf never change after building
}

// gradedColumn maps u in -1..1 so that columns crowd toward the sides.
func gradedColumn(u float64) float64 { return 0.5*u + 0.5*math.Sin(math.Pi*u/2) }

// newMesh builds a flat half section of layers of the given thicknesses (m)
// and full width (m).
func (s *Stack) newMesh(thick []float64, width float64) *mesh {
	return s.newMeshOf(bundleLayers(thick, s.core, s.joints, s.divide.Apart), thick, width)
}

// newMeshOf is newMesh with the layers bundled as given.
func (s *Stack) newMeshOf(bundles []bundle, thick []float64, width float64) *mesh {
	m := &mesh{nc: s.divide.Columns + 1, half: true}
	m.layOutRows(s, bundles, thick)
	m.y = make([]float64, m.nc*m.nl)
	m.z = make([]float64, m.nc*m.nl)
	level := m.levelHeights(thick)
	for c := 0; c < m.nc; c++ {
		y := width / 2 * gradedColumn(float64(c)/float64(m.nc-1))
		for l := 0; l < m.nl; l++ {
			m.y[c*m.nl+l], m.z[c*m.nl+l] = y, level[l]
		}
	}
	m.reference()
	m.strain = make([]float64, len(m.area0))
	return m
}

// reference takes the present areas times elongations as those to be kept.
func (m *mesh) reference() {
	m.area0 = make([]float64, (m.nc-1)*len(m.rows))
	for c := 0; c < m.nc-1; c++ {
		for r := range m.rows {
			m.area0[m.element(c, r)] = m.elementArea(c, r) * m.elongation[m.rows[r].group]
		}
	}
}

// elementArea is the area of one quadrilateral, m2.
func (m *mesh) elementArea(c, r int) float64 {
	a := c*m.nl + m.rows[r].level
	b, d := a+1, a+m.nl
	e := d + 1
	return 0.5 * ((m.y[e]-m.y[a])*(m.z[b]-m.z[d]) - (m.y[b]-m.y[d])*(m.z[e]-m.z[a]))
}

// layOutRows shares the rows among the layers, sets the groups and the places
// of the layers' lines.
func (m *mesh) layOutRows(s *Stack, bundles []bundle, thick []float64) {
	m.groupOf = make([]int, len(thick))
	s.notices = nil
	for _, b := range bundles {
		for i := b.from + 1; i < b.to; i++ {
			if !s.joints[i-1].Welded && s.notices == nil {
				s.notices = []string{"too many joints slip: layers that share a row of the section are taken as stuck together"}
			}
		}
	}
	total := sum(thick)
	m.lines = make([]layerLines, len(thick))
	level, group, below := 0, 0, 0.0
	for bi, b := range bundles {
		if bi > 0 && !s.joints[b.from-1].Welded {
			level++ // the joint's second level
			group++
		}
		for i := b.from; i < b.to; i++ {
			m.groupOf[i] = group
		}
		n := s.divide.PerLayer
		m.addRows(b, thick, level, n, group, below/total, total)
		m.placeLines(b, thick, level, n)
		level += n
		below += sum(thick[b.from:b.to])
	}
	m.nl = level + 1
	m.elongation = make([]float64, group+1)
	for i := range m.elongation {
		m.elongation[i] = 1
	}
}

// addRows appends n equal rows for a bundle of layers.
func (m *mesh) addRows(b bundle, thick []float64, level, n, group int, below, total float64) {
	t := sum(thick[b.from:b.to])
	for k := 0; k < n; k++ {
		lo, hi := t*float64(k)/float64(n), t*float64(k+1)/float64(n)
		row := meshRow{level: level + k, group: group, from: below + lo/total, to: below + hi/total}
		at := 0.0
		for i := b.from; i < b.to; i++ {
			in := math.Min(hi, at+thick[i]) - math.Max(lo, at)
			if in > 1e-12*t || b.to-b.from == 1 {
				row.parts = append(row.parts, rowPart{layer: i, share: in / (hi - lo)})
			}
			at += thick[i]
		}
		m.rows = append(m.rows, row)
	}
}

// placeLines finds where each layer of a bundle begins and ends in its n rows.
func (m *mesh) placeLines(b bundle, thick []float64, level, n int) {
	t := sum(thick[b.from:b.to])
	at := 0.0
	place := func(z float64) linePlace {
		k := z / t * float64(n)
		l := math.Min(math.Floor(k+1e-9), float64(n-1))
		return linePlace{level: level + int(l), share: k - l}
	}
	for i := b.from; i < b.to; i++ {
		m.lines[i].bottom = place(at)
		at += thick[i]
		m.lines[i].top = place(at)
	}
	m.lines[b.from].bottom.share = 0
	m.lines[b.to-1].top = linePlace{level: level + n - 1, share: 1}
}

// levelHeights gives each level's height from thicknesses, counted from the
// middle of the section.
func (m *mesh) levelHeights(thick []float64) []float64 {
	total := sum(thick)
	z := make([]float64, m.nl)
	for _, r := range m.rows {
		z[r.level], z[r.level+1] = total*(r.from-0.5), total*(r.to-0.5)
	}
	return z
}

// bundle is a run of layers sharing rows: from <= i < to.
type bundle struct{ from, to int }

// bundleLayers gives each layer a bundle of its own up to apart of them, and
// beyond that joins neighbours so that bundles are about equally thick. A core
// at least half as thick as a bundle keeps rows of its own.
func bundleLayers(thick []float64, core int, joints []Joint, apart int) []bundle {
	n := len(thick)
	cut := make([]bool, n+1)
	cut[0], cut[n] = true, true
	if n <= apart {
		for i := range cut {
			cut[i] = true
		}
	} else {
		if thick[core]*float64(2*apart) > sum(thick) {
			cut[core], cut[core+1] = true, true
		}
		cutLoose(cut, joints, apart)
		total, at, was := sum(thick), 0.0, 0.0
		for i := range thick {
			now := math.Floor((at + thick[i]/2) / total * float64(apart))
			if i > 0 && now > was {
				cut[i] = true
			}
			at, was = at+thick[i], now
		}
	}
	var out []bundle
	from := 0
	for i := 1; i <= n; i++ {
		if cut[i] {
			out = append(out, bundle{from, i})
			from = i
		}
	}
	return joinThin(out, thick, joints)
}

// thinnestBundle is the share of the bar below which a bundle joins a neighbour
// it is welded to: a foil with rows of its own folds at its ends.
const thinnestBundle = 1.0 / 80

// joinThin merges thin bundles with the thinner welded neighbour. One between
// two alike stays by itself, for a symmetric bar's sake.
func joinThin(b []bundle, thick []float64, joints []Joint) []bundle {
	of := func(k int) float64 { return sum(thick[b[k].from:b[k].to]) }
	limit := thinnestBundle * sum(thick)
	for k := 0; k < len(b); k++ {
		if of(k) >= limit {
			continue
		}
		below := k > 0 && joints[b[k].from-1].Welded
		above := k+1 < len(b) && joints[b[k].to-1].Welded
		if below && above {
			if math.Abs(of(k-1)-of(k+1)) < 1e-9*of(k+1) {
				continue
			}
			below = of(k-1) < of(k+1)
			above = !below
		}
		switch {
		case below:
			b[k-1].to = b[k].to
			b = append(b[:k], b[k+1:]...)
			k -= 2
		case above:
			b[k].to = b[k+1].to
			b = append(b[:k+1], b[k+2:]...)
			k--
		}
		k = max(k, -1)
	}
	return b
}

// cutLoose makes joints that are not welded bundle edges, if they are few.
func cutLoose(cut []bool, joints []Joint, apart int) {
	loose := 0
	for _, j := range joints {
		if !j.Welded {
			loose++
		}
	}
	for i, j := range joints {
		if !j.Welded && loose <= apart {
			cut[i+1] = true
		}
	}
}

func sum(v []float64) float64 {
	t := 0.0
	for _, x := range v {
		t += x
	}
	return t
}

// whole returns the full section of a half one (or a copy of a full one).
func (m *mesh) whole() *mesh {
	f := m.clone()
	if !m.half {
		return f
	}
	f.half, f.nc = false, 2*m.nc-1
	f.y, f.z = make([]float64, f.nc*f.nl), make([]float64, f.nc*f.nl)
	for c := 0; c < m.nc; c++ {
		for l := 0; l < m.nl; l++ {
			from := c*m.nl + l
			right, left := (m.nc-1+c)*f.nl+l, (m.nc-1-c)*f.nl+l
			f.y[right], f.z[right] = m.y[from], m.z[from]
			f.y[left], f.z[left] = -m.y[from], m.z[from]
		}
	}
	nr, ne := len(m.rows), m.nc-1
	f.area0, f.strain = make([]float64, 2*ne*nr), make([]float64, 2*ne*nr)
	for c := 0; c < ne; c++ {
		for r := 0; r < nr; r++ {
			for _, at := range [2]int{(ne+c)*nr + r, (ne-1-c)*nr + r} {
				f.area0[at], f.strain[at] = m.area0[c*nr+r], m.strain[c*nr+r]
			}
		}
	}
	return f
}

// layerMeans averages a quantity of the elements over each layer, weighted by
// area.
func (m *mesh) layerMeans(layers int, of func(element int) float64) []float64 {
	out, area := make([]float64, layers), make([]float64, layers)
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			a := m.elementArea(c, r)
			for _, p := range row.parts {
				out[p.layer] += a * p.share * of(m.element(c, r))
				area[p.layer] += a * p.share
			}
		}
	}
	for i := range out {
		out[i] /= area[i]
	}
	return out
}
