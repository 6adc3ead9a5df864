package layers

import "math"

// slipPair is one slipping joint: the nodes of its two sides in order. The
// shorter side's nodes are held to the other side's segments.
type slipPair struct {
	side     [2][]int
	elems    [2][]int // the elements behind each segment
	group    [2]int
	friction float64
	links    []slipLink // one a node of the shorter side
	short    int
}

// slipLink holds a node of the shorter side to a segment of the other.
type slipLink struct {
	node   [3]int // slave, then the segment's two ends
	part   float64
	ny, nz float64
	want   float64 // m/s, normal speed that closes the gap
	drag   float64 // m k L, N/m
}

// meetJoints projects the shorter side of each slipping joint on the longer.
func (s *section) meetJoints() {
	for i := range s.slips {
		p := &s.slips[i]
		p.short = 0
		if s.sideLength(p.side[1]) < s.sideLength(p.side[0]) {
			p.short = 1
		}
		slave, master := p.side[p.short], p.side[1-p.short]
		for k, n := range slave {
			s.project(p, &p.links[k], n, master)
		}
		for k := range p.links {
			p.links[k].drag = 0
		}
		for k := 0; k+1 < len(slave); k++ {
			a, b := &p.links[k], &p.links[k+1]
			stress := math.Min(s.els[p.elems[0][k]].stress, s.els[p.elems[1][k]].stress)
			f := 0.5 * p.friction * stress / math.Sqrt(3) * s.edgeLength(slave[k], slave[k+1])
			a.drag += f
			b.drag += f
		}
	}
}

func (s *section) sideLength(nodes []int) float64 {
	t := 0.0
	for k := 0; k+1 < len(nodes); k++ {
		t += s.edgeLength(nodes[k], nodes[k+1])
	}
	return t
}

// project finds the master segment nearest a slave node.
func (s *section) project(p *slipPair, l *slipLink, n int, master []int) {
	y, z := s.x[2*n], s.x[2*n+1]
	best := math.Inf(1)
	for k := 0; k+1 < len(master); k++ {
		a, b := master[k], master[k+1]
		ey, ez := s.x[2*b]-s.x[2*a], s.x[2*b+1]-s.x[2*a+1]
		len2 := ey*ey + ez*ez
		t := ((y-s.x[2*a])*ey + (z-s.x[2*a+1])*ez) / len2
		t = math.Max(0, math.Min(1, t))
		dy, dz := y-s.x[2*a]-t*ey, z-s.x[2*a+1]-t*ez
		if d := dy*dy + dz*dz; d < best-1e-12*len2 {
			best = d
			r := math.Sqrt(len2)
			l.node, l.part = [3]int{n, a, b}, t
			l.ny, l.nz = -ez/r, ey/r
			gap := dy*l.ny + dz*l.nz
			limit := 0.25 * s.law.closing
			l.want = math.Max(-limit, math.Min(limit, -gap/s.law.dt))
		}
	}
}

// slideJoints adds the closure and friction of slipping joints.
func (s *section) slideJoints(u []float64, hess bool) float64 {
	pi := 0.0
	for i := range s.slips {
		p := &s.slips[i]
		gs, gm := p.group[p.short], p.group[1-p.short]
		for k := range p.links {
			pi += s.slideLink(&p.links[k], gs, gm, u, hess)
		}
	}
	return pi
}

// relative is a link's normal and tangential relative speed at u.
func (l *slipLink) relative(u []float64) (vn, vt float64) {
	c := [3]float64{1, l.part - 1, -l.part}
	var vy, vz float64
	for i, n := range l.node {
		vy += c[i] * u[2*n]
		vz += c[i] * u[2*n+1]
	}
	return vy*l.ny + vz*l.nz, vy*l.nz - vz*l.ny
}

func (s *section) slideLink(l *slipLink, gs, gm int, u []float64, hess bool) float64 {
	vn, vt := l.relative(u)
	miss := vn - l.want
	k := s.law.stiff
	g := s.glideAt(vt, u[s.dofs+gs]-u[s.dofs+gm])
	c := [3]float64{1, l.part - 1, -l.part}
	ty, tz := l.nz, -l.ny
	s.lin.grad[s.dofs+gs] += l.drag * g.e
	s.lin.grad[s.dofs+gm] -= l.drag * g.e
	for i, n := range l.node {
		s.lin.grad[2*n] += c[i] * (k*miss*l.ny + l.drag*g.v*ty)
		s.lin.grad[2*n+1] += c[i] * (k*miss*l.nz + l.drag*g.v*tz)
	}
	pi := 0.5*k*miss*miss + l.drag*g.f
	if !hess {
		return pi
	}
	yy := k*l.ny*l.ny + l.drag*g.vv*ty*ty
	yz := k*l.ny*l.nz + l.drag*g.vv*ty*tz
	zz := k*l.nz*l.nz + l.drag*g.vv*tz*tz
	for i, n := range l.node {
		for j, o := range l.node {
			cc := c[i] * c[j]
			if 2*n <= 2*o {
				s.lin.add(2*n, 2*o, cc*yy)
				s.lin.add(2*n+1, 2*o+1, cc*zz)
			}
			if 2*n <= 2*o+1 {
				s.lin.add(2*n, 2*o+1, cc*yz)
			}
			if 2*n+1 <= 2*o {
				s.lin.add(2*n+1, 2*o, cc*yz)
			}
		}
		s.lin.cols[gs*s.dofs+2*n] += l.drag * g.ve * ty * c[i]
		s.lin.cols[gs*s.dofs+2*n+1] += l.drag * g.ve * tz * c[i]
		s.lin.cols[gm*s.dofs+2*n] -= l.drag * g.ve * ty * c[i]
		s.lin.cols[gm*s.dofs+2*n+1] -= l.drag * g.ve * tz * c[i]
	}
	s.lin.addCorner(gs, gs, l.drag*g.ee)
	s.lin.addCorner(gm, gm, l.drag*g.ee)
	s.lin.addCorner(gs, gm, -l.drag*g.ee)
	return pi
}

// bandNeeded is the half-bandwidth (unknowns) that elements, uprights and slip
// links need.
func (s *section) bandNeeded() int {
	wide := 0
	see := func(nodes []int) {
		lo, hi := nodes[0], nodes[0]
		for _, n := range nodes {
			lo, hi = min(lo, n), max(hi, n)
		}
		wide = max(wide, hi-lo)
	}
	for i := range s.els {
		see(s.els[i].node[:])
	}
	for i := range s.columns {
		see(s.columns[i].nodes)
	}
	for i := range s.slips {
		for k := range s.slips[i].links {
			see(s.slips[i].links[k].node[:])
		}
	}
	return 2*wide + 1
}
