package fd

// rates sets f = du/dt for the potentials phi and mobilities kappa and returns
// the inflow through all faces and from sources. With keep it stores the links
// and the slopes of the faces for the Jacobian.
func (s *Stepper) rates(t float64, phi, kappa, f []float64, keep bool) float64 {
	total := s.faces(t, phi, keep)
	if s.lay[Z].Len() > 1 {
		s.ratesZ(phi, kappa, f, keep)
	} else {
		clear(f)
	}
	for a := Y; a <= X; a++ {
		if s.lay[a].Len() > 1 {
			s.ratesAcross(a, phi, kappa, f, keep)
		}
	}
	return total + s.m.Source(t, f)
}

// ratesZ is the exchange along Z, the direction in which nodes lie next to
// each other in memory, with what comes in at its faces. It overwrites f.
func (s *Stepper) ratesZ(phi, kappa, f []float64, keep bool) {
	ax := s.lay[Z]
	n := ax.Len()
	in, out := s.face[Z][0].q, s.face[Z][1].q
	c := s.links[:n-1]
	for base := 0; base < s.n; base += n {
		if keep {
			c = s.cond[Z][base : base+n-1]
		}
		s.linksZ(phi[base:base+n], kappa[base:base+n], c)
		ax.exchange(phi[base:base+n], c, in[base/n], out[base/n], f[base:base+n])
	}
}

// linksZ sets the conductances c of a line's links.
func (s *Stepper) linksZ(p, k, c []float64) {
	ax := s.lay[Z]
	per := ax.perD[:len(c)]
	k = k[:len(c)+1]
	for i, half := range per {
		c[i] = half * (k[i] + k[i+1])
	}
	for contact, i := range ax.Contacts {
		c[i] = s.m.Contact(contact, p[i], p[i+1])
	}
	for split, i := range ax.Splits {
		below, above := s.m.Split(split, p[i])
		c[i-1] += per[i-1] * (below - k[i])
		c[i] += per[i] * (above - k[i])
	}
}

// exchange sets r = M⁻¹·F/W for a line with potentials p, links c and what comes
// in at its ends.
func (a *Axis) exchange(p, c []float64, in, out float64, r []float64) {
	n := len(c)
	p, r = p[:n+1], r[:n+1]
	mLo, mUp, w := a.mLo[:n+1], a.mUp[:n+1], a.perM[:n+1]
	below, prev := -in, 0.0
	for i, g := range c {
		flow := g * (p[i+1] - p[i])
		prev = (flow-below)*w[i] - mLo[i]*prev
		r[i] = prev
		below = flow
	}
	prev = (out-below)*w[n] - mLo[n]*prev
	r[n] = prev
	for i := n - 1; i >= 0; i-- {
		prev = r[i] - mUp[i]*prev
		r[i] = prev
	}
}

// ratesAcross adds the exchange along axis a, whose neighbours lie a stride
// apart, with what comes in at its faces.
func (s *Stepper) ratesAcross(a int, phi, kappa, f []float64, keep bool) {
	ax, st := s.lay[a], s.g.stride[a]
	n := ax.Len()
	below := s.links[:st]
	for base := 0; base < s.n; base += n * st {
		line := base / n
		for j, q := range s.face[a][0].q[line : line+st] {
			below[j] = -q
		}
		for i := range n {
			at := base + i*st
			r := s.flow[i*st : (i+1)*st]
			w := ax.perM[i]
			if i == n-1 {
				for j, q := range s.face[a][1].q[line : line+st] {
					r[j] = (q - below[j]) * w
				}
			} else {
				half := ax.perD[i]
				p0, p1 := phi[at:at+st], phi[at+st:at+2*st]
				k0, k1 := kappa[at:at+st], kappa[at+st:at+2*st]
				if keep {
					c := s.cond[a][at : at+st]
					for j := range p0 {
						c[j] = half * (k0[j] + k1[j])
					}
				}
				for j := range p0 {
					flow := half * (k0[j] + k1[j]) * (p1[j] - p0[j])
					r[j] = (flow - below[j]) * w
					below[j] = flow
				}
			}
			s.eliminate(ax, st, i)
		}
		s.backAcross(ax, st, f[base:base+n*st])
	}
}

// eliminate takes the row before out of row i of the lines in flow: a step down
// the lower factor of M.
func (s *Stepper) eliminate(ax *Axis, st, i int) {
	if lo := ax.mLo[i]; lo != 0 {
		r := s.flow[i*st : (i+1)*st]
		for j, v := range s.flow[(i-1)*st : i*st] {
			r[j] -= lo * v
		}
	}
}

// backAcross solves the upper factor of M for the lines in flow and adds what it
// finds to f.
func (s *Stepper) backAcross(ax *Axis, st int, f []float64) {
	for i := ax.Len() - 1; i >= 0; i-- {
		r, g := s.flow[i*st:(i+1)*st], f[i*st:(i+1)*st]
		if up := ax.mUp[i]; up != 0 {
			for j, v := range s.flow[(i+1)*st : (i+2)*st] {
				r[j] -= up * v
			}
		}
		for j, v := range r {
			g[j] += v
		}
	}
}

// face is the nodes at one end of an axis, with their areas and the law there.
type face struct {
	node  []int
	area  []float64
	q, dq []float64 // at the point last asked for
	was   []float64 // q, for differences
	keep  []float64 // dq at the start of the step
}

// face lists the nodes at end e of axis a, in the order in which factor meets
// the lines of that axis.
func (g *Grid) face(a, e int) face {
	first := e * (g.Axes[a].Len() - 1) * g.stride[a]
	in, out := Z, X
	switch a {
	case Z:
		in = Y
	case X:
		out = Y
	}
	var f face
	for o, wo := range g.Axes[out].V {
		for i, wi := range g.Axes[in].V {
			f.node = append(f.node, first+o*g.stride[out]+i*g.stride[in])
			f.area = append(f.area, wo*wi)
		}
	}
	n := len(f.node)
	f.q, f.dq, f.keep, f.was = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	return f
}

// faces finds what comes in through the ends of each axis and returns the
// total. With keep it stores the slope of each face node.
func (s *Stepper) faces(t float64, phi []float64, keep bool) float64 {
	var total float64
	for a, ax := range s.lay {
		if ax.Len() == 1 {
			continue
		}
		for e := range s.face[a] {
			c := &s.face[a][e]
			s.m.Face(a, e, t, c.node, phi, c.q, c.dq)
			for k, q := range c.q {
				total += q * c.area[k]
			}
			if keep {
				copy(c.keep, c.dq)
			}
		}
	}
	return total
}

// addFaces adds to f what comes in through the faces of axis a.
func (s *Stepper) addFaces(a int, f []float64) {
	ax, st := s.lay[a], s.g.stride[a]
	n := ax.Len()
	for base := 0; base < s.n; base += n * st {
		line := base / n
		flow := s.flow[:n*st]
		clear(flow)
		for e, i := range [2]int{0, n - 1} {
			for j, q := range s.face[a][e].q[line : line+st] {
				flow[i*st+j] = q * ax.perM[i]
			}
		}
		for i := 1; i < n; i++ {
			s.eliminate(ax, st, i)
		}
		s.backAcross(ax, st, f[base:base+n*st])
	}
}

// timeRate sets ft = ∂f/∂t and qt, the change with time of the inflow at fixed
// potentials, as differences over the step.
func (s *Stepper) timeRate(t, h float64) {
	clear(s.f)
	clear(s.ft)
	s.qt = (s.m.Source(t+h, s.ft) - s.m.Source(t, s.f)) / h
	for i, v := range s.f {
		s.ft[i] = (s.ft[i] - v) / h
	}
	s.faces(t, s.phi, false)
	for a := range s.lay {
		for e := range s.face[a] {
			copy(s.face[a][e].was, s.face[a][e].q)
		}
	}
	s.faces(t+h, s.phi, false)
	for a := range s.lay {
		changes := false
		for e := range s.face[a] {
			c := &s.face[a][e]
			for k, was := range c.was {
				c.q[k] = (c.q[k] - was) / h
				s.qt += c.q[k] * c.area[k]
				changes = changes || c.q[k] != 0
			}
		}
		if changes {
			s.addFaces(a, s.ft)
		}
	}
}

// faceGain is the inflow through the faces of axis a that the increment r
// brings by the slope of the face law.
func (s *Stepper) faceGain(a int, r []float64) float64 {
	var sum float64
	for e := range s.face[a] {
		c := &s.face[a][e]
		for k, i := range c.node {
			sum += c.keep[k] * s.slope[i] * r[i] * c.area[k]
		}
	}
	return sum
}

// factor decomposes M − g·J along axis a, with J the exchange along that axis
// linearised at the start of the step.
func (s *Stepper) factor(a int, g float64) {
	ax, st := s.lay[a], s.g.stride[a]
	n := ax.Len()
	if n == 1 {
		return
	}
	if st == 1 {
		for base := 0; base < s.n; base += n {
			s.factorLine(base, g)
		}
		return
	}
	for base := 0; base < s.n; base += n * st {
		for i := range n {
			s.factorRow(a, i, base+i*st, g)
			for e := range 2 {
				if i == e*(n-1) {
					s.factorFace(a, e, base+i*st, base/n, g)
				}
			}
			s.pivots(a, i, base+i*st)
		}
	}
}

// factorRow sets the matrix's row i of the lines along axis a that begin at
// node at: lower entry, diagonal (in inv) and upper entry, without the faces.
func (s *Stepper) factorRow(a, i, at int, g float64) {
	ax, st := s.lay[a], s.g.stride[a]
	gw := g / ax.W[i]
	sl, diag := s.slope[at:at+st], s.inv[a][at:at+st]
	for j := range diag {
		diag[j] = ax.self[i]
	}
	if i > 0 {
		below, far := s.cond[a][at-st:at], s.slope[at-st:at]
		lo := s.lo[a][at : at+st]
		for j, c := range below {
			diag[j] += gw * c * sl[j]
			lo[j] = ax.down[i] - gw*c*far[j]
		}
	}
	if i < ax.Len()-1 {
		above, far := s.cond[a][at:at+st], s.slope[at+st:at+2*st]
		up := s.up[a][at : at+st]
		for j, c := range above {
			diag[j] += gw * c * sl[j]
			up[j] = ax.up[i] - gw*c*far[j]
		}
	}
}

// factorFace adds the law of the face at end e to the diagonal of its nodes,
// which begin at node at and are number line and on of the face.
func (s *Stepper) factorFace(a, e, at, line int, g float64) {
	st := s.g.stride[a]
	gw := g / s.lay[a].W[e*(s.lay[a].Len()-1)]
	keep, sl, diag := s.face[a][e].keep[line:line+st], s.slope[at:at+st], s.inv[a][at:at+st]
	for j, dq := range keep {
		diag[j] -= gw * dq * sl[j]
	}
}

// pivots eliminates row i.
func (s *Stepper) pivots(a, i, at int) {
	st := s.g.stride[a]
	inv, up := s.inv[a][at:at+st], s.up[a][at:at+st]
	if i == 0 {
		for j, d := range inv {
			inv[j] = 1 / d
			up[j] *= inv[j]
		}
		return
	}
	lo, prev := s.lo[a][at:at+st], s.up[a][at-st:at]
	for j, d := range inv {
		piv := 1 / (d - lo[j]*prev[j])
		inv[j] = piv
		lo[j] *= piv
		up[j] *= piv
	}
}

// factorLine is factor for one line of neighbouring nodes.
func (s *Stepper) factorLine(base int, g float64) {
	ax := s.lay[Z]
	n := ax.Len()
	lo, inv, up := s.lo[Z][base:base+n], s.inv[Z][base:base+n], s.up[Z][base:base+n]
	cond, sl := s.cond[Z][base:base+n], s.slope[base:base+n]
	w, self, down, above := ax.W[:n], ax.self[:n], ax.down[:n], ax.up[:n]
	var below, prev, behind float64 // link below; up/pivot and slope of the node below
	for i, slope := range sl {
		gw := g / w[i]
		link := 0.0
		if i < n-1 {
			link = cond[i]
		}
		diag := self[i] + gw*(below+link)*slope
		if i == 0 {
			diag -= gw * s.face[Z][0].keep[base/n] * slope
		}
		if i == n-1 {
			diag -= gw * s.face[Z][1].keep[base/n] * slope
		}
		l := down[i] - gw*below*behind
		piv := 1 / (diag - l*prev)
		lo[i], inv[i] = l*piv, piv
		if i < n-1 {
			prev = (above[i] - gw*link*sl[i+1]) * piv
			up[i] = prev
		}
		below, behind = link, slope
	}
}

// sweep solves (M − g·J) x = M·r along axis a, in place.
func (s *Stepper) sweep(a int, r []float64) {
	ax, n, st := s.lay[a], s.lay[a].Len(), s.g.stride[a]
	lo, inv, up := s.lo[a], s.inv[a], s.up[a]
	if st == 1 {
		for base := 0; base < s.n; base += n {
			ax.sweepLine(r[base:base+n], lo[base:base+n], inv[base:base+n], up[base:base+n])
		}
		return
	}
	old := s.links[:st] // the row below before it was overwritten
	for base := 0; base < s.n; base += n * st {
		for i := range n {
			at := base + i*st
			x, v := r[at:at+st], inv[at:at+st]
			self := ax.self[i]
			switch {
			case i == 0:
				above, c := r[at+st:at+2*st], ax.up[i]
				for j, here := range x {
					old[j] = here
					x[j] = v[j] * (self*here + c*above[j])
				}
			case i == n-1:
				p, l, d := r[at-st:at], lo[at:at+st], ax.down[i]
				for j, here := range x {
					x[j] = v[j]*(d*old[j]+self*here) - l[j]*p[j]
				}
			default:
				above, p, l, d, c := r[at+st:at+2*st], r[at-st:at], lo[at:at+st], ax.down[i], ax.up[i]
				for j, here := range x {
					x[j] = v[j]*(d*old[j]+self*here+c*above[j]) - l[j]*p[j]
					old[j] = here
				}
			}
		}
		for i := n - 2; i >= 0; i-- {
			at := base + i*st
			x, p, u := r[at:at+st], r[at+st:at+2*st], up[at:at+st]
			for j := range x {
				x[j] -= u[j] * p[j]
			}
		}
	}
}

func (a *Axis) sweepLine(r, lo, inv, up []float64) {
	n := len(r)
	down, self, above := a.down[:n], a.self[:n], a.up[:n]
	old, prev := 0.0, 0.0
	for i, here := range r {
		v := down[i]*old + self[i]*here
		if i < n-1 {
			v += above[i] * r[i+1]
		}
		old = here
		prev = inv[i]*v - lo[i]*prev
		r[i] = prev
	}
	for i := n - 2; i >= 0; i-- {
		prev = r[i] - up[i]*prev
		r[i] = prev
	}
}
