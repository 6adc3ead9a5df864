package layers

import "math"

// Energy splits the work of a squeeze, J per m of bite. Die equals the sum of
// the others to the tolerance of Newton.
type Energy struct {
	Die            float64 // J/m, done by the tools, or by the moment that straightens
	Plastic        float64 // J/m, in the layers
	Friction       float64 // J/m, on the tools' faces
	Slip           float64 // J/m, in joints not welded
	Restraint      float64 // J/m, against the bar outside the bite
	Gap            float64 // J/m, closing small gaps at tools and joints and pulling volumes back (numerical)
	Penalty        float64 // J/m, in contact, volume and symmetry penalties (numerical)
	Regularisation float64 // J/m, against rigid drifting (numerical)
}

// Imbalance is (Die - everything else)/Die.
func (e Energy) Imbalance() float64 {
	return (e.Die - e.Plastic - e.Friction - e.Slip - e.Restraint - e.Gap - e.Penalty - e.Regularisation) / e.Die
}

func (e *Energy) add(power *Energy, dt float64) {
	e.Die += power.Die * dt
	e.Plastic += power.Plastic * dt
	e.Friction += power.Friction * dt
	e.Slip += power.Slip * dt
	e.Restraint += power.Restraint * dt
	e.Gap += power.Gap * dt
	e.Penalty += power.Penalty * dt
	e.Regularisation += power.Regularisation * dt
}

// rateSquared is the squared equivalent strain rate at a Gauss point.
func (s *section) rateSquared(e *element, g int) float64 {
	var ey, ez, gam float64
	for i, n := range e.node {
		vy, vz := s.u[2*n], s.u[2*n+1]
		ey += e.dy[g][i] * vy
		ez += e.dz[g][i] * vz
		gam += e.dz[g][i]*vy + e.dy[g][i]*vz
	}
	ex, xz := s.u[s.dofs+e.group], 0.0
	if s.curls {
		k := s.u[s.dofs+s.groups]
		ex += k * (e.zg[g] - s.law.midZ)
		xz = k * s.shearOfCurl()
	}
	third := (ex + ey + ez) / 3
	ex, ey, ez = ex-third, ey-third, ez-third
	return (ex*ex+ey*ey+ez*ez)*2/3 + (gam*gam+xz*xz)/3
}

// account works out the powers of the present flow, W per m of bite.
func (s *section) account() {
	s.power = Energy{}
	for i := range s.els {
		s.accountElement(&s.els[i])
	}
	for i := range s.ring {
		if r := &s.ring[i]; r.die != 0 {
			s.accountContact(r)
		}
	}
	s.accountJoints()
	if s.law.restraint > 0 {
		for i := range s.columns {
			c := &s.columns[i]
			v := 0.0
			for k, n := range c.nodes {
				v += c.share[k] * s.u[2*n]
			}
			s.power.Restraint += c.hold * v * v / math.Sqrt(v*v+s.law.slow2)
		}
	}
	for _, v := range s.u[:s.dofs] {
		s.power.Regularisation += s.law.rho * v * v
	}
	for _, n := range s.spine {
		s.power.Penalty += s.law.stiff * s.u[2*n] * s.u[2*n]
	}
	if s.half {
		two := s.power
		s.power.add(&two, 1)
	}
}

func (s *section) accountElement(e *element) {
	for g := range e.w {
		q := s.rateSquared(e, g)
		s.power.Plastic += e.coef * e.w[g] * power(q+s.law.minRate2, (e.exponent-1)/2) * q
	}
	tr := s.u[s.dofs+e.group]
	if s.curls {
		tr += s.u[s.dofs+s.groups] * (e.midZ - s.law.midZ)
	}
	for i, n := range e.node {
		tr += e.da[2*i]*s.u[2*n] + e.da[2*i+1]*s.u[2*n+1]
	}
	k := s.law.bulk * e.area
	s.power.Penalty += k * (tr + e.pull) * (tr + e.pull)
	s.power.Gap -= k * (tr + e.pull) * e.pull
}

func (s *section) accountContact(r *ringNode) {
	p := s.reaction(r)
	s.power.Penalty += p * p / s.law.stiff
	s.power.Gap += p * (r.want - r.tool)
	s.power.Die -= p * r.tool
	if r.drag == 0 {
		return
	}
	v := r.nz*s.u[2*r.node] - r.ny*s.u[2*r.node+1] - r.slide
	e := s.elongationAt(r.group, r.arm, s.u)
	g := s.glideAt(v, e)
	s.power.Friction += r.drag * (g.v*v + g.e*e)
	s.power.Die -= r.drag * g.v * r.slide
}

func (s *section) accountJoints() {
	for i := range s.slips {
		p := &s.slips[i]
		e := s.u[s.dofs+p.group[p.short]] - s.u[s.dofs+p.group[1-p.short]]
		for k := range p.links {
			l := &p.links[k]
			vn, vt := l.relative(s.u)
			g := s.glideAt(vt, e)
			f := s.law.stiff * (vn - l.want)
			s.power.Slip += l.drag * (g.v*vt + g.e*e)
			s.power.Penalty += f * (vn - l.want)
			s.power.Gap += f * l.want
		}
	}
}

// push is the force of one tool (1 lower, 2 upper) along z, N per m of bite,
// positive when it presses, and its moment about the bar's axis, N m per m.
func (s *section) push(which int) (force, moment float64) {
	for i := range s.ring {
		r := &s.ring[i]
		if r.die != which {
			continue
		}
		p := s.reaction(r)
		fy, fz := p*r.ny, p*r.nz
		if r.drag > 0 {
			v := r.nz*s.u[2*r.node] - r.ny*s.u[2*r.node+1] - r.slide
			g := s.glideAt(v, s.elongationAt(r.group, r.arm, s.u))
			fy += r.drag * g.v * r.nz
			fz -= r.drag * g.v * r.ny
		}
		force += fz * s.dies[which-1].up
		moment += s.x[2*r.node]*fz - s.x[2*r.node+1]*fy
	}
	if s.half {
		return 2 * force, 0
	}
	return force, moment
}

// note records the present force.
func (p *pass) note() {
	lower, a := p.sec.push(1)
	upper, b := p.sec.push(2)
	p.forces = append(p.forces, forcePoint{p.height, (lower + upper) / 2})
	p.moment = math.Abs(a + b)
}
