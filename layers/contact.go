package layers

import "math"

// die is one tool's face seen in the section: z = at + slope y + bend y^2/2,
// moving at speed along z. up is +1 for the tool above the metal, -1 below.
type die struct {
	at, speed   float64 // m, m/s
	slope, bend float64 // 1, 1/m
	reach       float64 // half the width of the face, m
	friction    float64
	up          float64
}

// surface is the face's height at y.
func (d *die) surface(y float64) float64 { return d.at + d.slope*y + d.bend*y*y/2 }

// normal points from the metal into the tool at y.
func (d *die) normal(y float64) (ny, nz float64) {
	s := d.slope + d.bend*y
	r := math.Sqrt(1 + s*s)
	return -d.up * s / r, d.up / r
}

// clearance is the free distance from a point to the face, along the normal to
// first order, m.
func (d *die) clearance(y, z float64) float64 {
	_, nz := d.normal(y)
	return (d.surface(y) - z) * nz
}

func (d *die) covers(y float64) bool { return math.Abs(y) <= d.reach }

// ringNode is a boundary node and its state of contact.
type ringNode struct {
	node   int
	group  int
	die    int // 0 none, 1 lower, 2 upper
	ny, nz float64
	want   float64 // m/s, normal speed that just meets the face
	tool   float64 // m/s, the tool's own normal speed
	drag   float64 // m k L, N/m
	slide  float64 // m/s, the tool's own tangential speed
	arm    float64 // m, height above midZ: for the curvature's sliding
	fixed  bool    // released in this increment: not taken back
}

type ringEdge struct{ elem int }

// meetFaces finds which boundary nodes touch a face at the start of an
// increment. Between flat faces that do not fit a flat bar it is those of the
// columns that both faces reach within the increment: a guess, to be revised.
func (s *section) meetFaces() {
	near := 1e-3 * s.law.height
	for i := range s.ring {
		r := &s.ring[i]
		r.die, r.fixed = 0, false
		d, which := s.nearDie(r.node)
		y, z := s.x[2*r.node], s.x[2*r.node+1]
		gap := d.clearance(y, z)
		touching := gap < near
		if level := r.node % s.levels; s.flat && (level == 0 || level == s.levels-1) {
			touching = s.spare(r.node-level) < near+s.law.closing*s.law.dt
		}
		if touching && d.covers(y) {
			s.touch(r, which, gap)
		}
	}
	s.setDrag()
}

// spare is the clearance that both faces together leave to a column of nodes,
// given its lowest, m.
func (s *section) spare(lowest int) float64 {
	a, b := 2*lowest, 2*(lowest+s.levels-1)
	return s.dies[0].clearance(s.x[a], s.x[a+1]) + s.dies[1].clearance(s.x[b], s.x[b+1])
}

// nearDie is the tool on the node's half of the section.
func (s *section) nearDie(node int) (*die, int) {
	y, z := s.x[2*node], s.x[2*node+1]
	if z > 0.5*(s.dies[0].surface(y)+s.dies[1].surface(y)) {
		return &s.dies[1], 2
	}
	return &s.dies[0], 1
}

// touch makes a node follow a face, closing gap (m) within the increment at no
// more than a limited speed.
func (s *section) touch(r *ringNode, which int, gap float64) {
	d := &s.dies[which-1]
	r.die = which
	r.ny, r.nz = d.normal(s.x[2*r.node])
	limit := 0.5*s.law.closing + 0.25*s.law.rate*s.law.height
	r.tool = d.speed * r.nz
	r.want = r.tool + math.Max(-limit, math.Min(limit, gap/s.law.dt))
	r.slide = -d.speed * r.ny
	r.arm = s.x[2*r.node+1] - s.law.midZ
}

// setDrag gives each touching node its friction: half of each neighbouring
// edge whose two ends touch the same face.
func (s *section) setDrag() {
	for i := range s.ring {
		s.ring[i].drag = 0
	}
	for i, e := range s.edges {
		a, b := &s.ring[i], &s.ring[(i+1)%len(s.ring)]
		if e.elem < 0 || a.die == 0 || a.die != b.die {
			continue
		}
		k := s.els[e.elem].stress / math.Sqrt(3)
		f := 0.5 * k * s.edgeLength(a.node, b.node) * s.dies[a.die-1].friction
		a.drag += f
		b.drag += f
	}
}

func (s *section) edgeLength(a, b int) float64 {
	return math.Hypot(s.x[2*a]-s.x[2*b], s.x[2*a+1]-s.x[2*b+1])
}

// reaction is the push of the face on a touching node, N per m of bite,
// positive when it presses.
func (s *section) reaction(r *ringNode) float64 {
	v := r.ny*s.u[2*r.node] + r.nz*s.u[2*r.node+1]
	return s.law.stiff * (v - r.want)
}

// revise releases nodes that pull and takes up free nodes that would pass a
// face. It reports whether anything changed. A node released for good stays
// free for the rest of the increment.
func (s *section) revise(forGood bool) bool {
	changed := false
	for i := range s.ring {
		r := &s.ring[i]
		if r.die != 0 {
			if s.reaction(r) < 0 {
				r.die, r.fixed, changed = 0, forGood, true
			}
			continue
		}
		d, which := s.nearDie(r.node)
		y, z := s.x[2*r.node], s.x[2*r.node+1]
		next := *d
		next.at += d.speed * s.law.dt
		yn, zn := y+s.u[2*r.node]*s.law.dt, z+s.u[2*r.node+1]*s.law.dt
		past := -next.clearance(yn, zn)
		if !r.fixed && d.covers(yn) && past > 1e-9*s.law.height {
			s.touch(r, which, d.clearance(y, z))
			changed = true
		}
	}
	if changed {
		s.setDrag()
	}
	return changed
}

// pressContacts adds the contact penalty and the faces' friction.
func (s *section) pressContacts(u []float64, hess bool) float64 {
	pi := 0.0
	for i := range s.ring {
		r := &s.ring[i]
		if r.die == 0 {
			continue
		}
		y := 2 * r.node
		miss := r.ny*u[y] + r.nz*u[y+1] - r.want
		k := s.law.stiff
		pi += 0.5 * k * miss * miss
		s.lin.grad[y] += k * miss * r.ny
		s.lin.grad[y+1] += k * miss * r.nz
		if hess {
			s.lin.add(y, y, k*r.ny*r.ny)
			s.lin.add(y, y+1, k*r.ny*r.nz)
			s.lin.add(y+1, y+1, k*r.nz*r.nz)
		}
		if r.drag > 0 {
			pi += s.rub(r, u, hess)
		}
	}
	return pi
}

// glide is the mean over the half bite of sqrt(v^2 + (E x)^2 + v_0^2) with its
// derivatives in v and E.
type glide struct{ f, v, e, vv, ve, ee float64 }

func (s *section) glideAt(v, elong float64) glide {
	var g glide
	for i, x := range s.law.arm {
		w := s.law.weight[i]
		ex2 := elong * elong * x * x
		r2 := v*v + ex2 + s.law.slow2
		r := math.Sqrt(r2)
		r3 := r * r2
		g.f += w * r
		g.v += w * v / r
		g.e += w * elong * x * x / r
		g.vv += w * (ex2 + s.law.slow2) / r3
		g.ve -= w * x * x * v * elong / r3
		g.ee += w * x * x * (v*v + s.law.slow2) / r3
	}
	return g
}

// elongationAt is e_g + kappa (z - z0).
func (s *section) elongationAt(group int, arm float64, u []float64) float64 {
	e := u[s.dofs+group]
	if s.curls {
		e += u[s.dofs+s.groups] * arm
	}
	return e
}

// rub adds one node's friction on a face.
func (s *section) rub(r *ringNode, u []float64, hess bool) float64 {
	y := 2 * r.node
	ty, tz := r.nz, -r.ny
	g := s.glideAt(ty*u[y]+tz*u[y+1]-r.slide, s.elongationAt(r.group, r.arm, u))
	k := r.drag
	s.lin.grad[y] += k * g.v * ty
	s.lin.grad[y+1] += k * g.v * tz
	s.lin.grad[s.dofs+r.group] += k * g.e
	if s.curls {
		s.lin.grad[s.dofs+s.groups] += k * g.e * r.arm
	}
	if !hess {
		return k * g.f
	}
	s.lin.add(y, y, k*g.vv*ty*ty)
	s.lin.add(y, y+1, k*g.vv*ty*tz)
	s.lin.add(y+1, y+1, k*g.vv*tz*tz)
	s.lin.cols[r.group*s.dofs+y] += k * g.ve * ty
	s.lin.cols[r.group*s.dofs+y+1] += k * g.ve * tz
	s.lin.addCorner(r.group, r.group, k*g.ee)
	if s.curls {
		at := s.groups*s.dofs + y
		s.lin.cols[at] += k * g.ve * ty * r.arm
		s.lin.cols[at+1] += k * g.ve * tz * r.arm
		s.lin.addCorner(r.group, s.groups, k*g.ee*r.arm)
		s.lin.addCorner(s.groups, s.groups, k*g.ee*r.arm*r.arm)
	}
	return k * g.f
}
