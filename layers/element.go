package layers

import "math"

// Quadratic form of the equivalent strain rate, e^2 = q.D.q: for the normal
// entries D = (2/3)(I - 11'/3), for the shears 1/3.
const (
	dSame  = 4.0 / 9
	dCross = -2.0 / 9
	dShear = 1.0 / 3
)

// local is an element's contribution: eight nodal unknowns, then elongation
// and curvature rate.
type local struct {
	g [10]float64
	h [10][10]float64 // upper triangle used
}

// flow adds one element's plastic potential and volume penalty at the
// velocities u. With hess it fills loc's second derivatives as well.
func (s *section) flow(e *element, u []float64, loc *local, hess bool) float64 {
	*loc = local{}
	var v [8]float64
	for i, n := range e.node {
		v[2*i], v[2*i+1] = u[2*n], u[2*n+1]
	}
	elong, curl := u[s.dofs+e.group], 0.0
	if s.curls {
		curl = u[s.dofs+s.groups]
	}
	pi := 0.0
	for g := 0; g < 4; g++ {
		pi += s.plastic(e, g, &v, elong, curl, loc, hess)
	}
	return pi + s.volume(e, &v, elong, curl, loc, hess)
}

// shearOfCurl is gamma_xz per unit curvature rate: its root mean square over
// the bite.
func (s *section) shearOfCurl() float64 { return s.law.bite / math.Sqrt(12) }

// plastic adds the potential psi = S/(m+1) (e^2+e_min^2)^((m+1)/2) at one Gauss
// point.
func (s *section) plastic(e *element, g int, v *[8]float64, elong, curl float64, loc *local, hess bool) float64 {
	dy, dz := &e.dy[g], &e.dz[g]
	var ey, ez, gam float64
	for i := 0; i < 4; i++ {
		ey += dy[i] * v[2*i]
		ez += dz[i] * v[2*i+1]
		gam += dz[i]*v[2*i] + dy[i]*v[2*i+1]
	}
	arm, xz := 0.0, 0.0
	if s.curls {
		arm, xz = e.zg[g]-s.law.midZ, s.shearOfCurl()
	}
	ex := elong + curl*arm
	third := (ex + ey + ez) / 3
	sx, sy, sz := (ex-third)*2/3, (ey-third)*2/3, (ez-third)*2/3
	sg, sxz := gam*dShear, curl*xz*dShear
	q := sx*ex + sy*ey + sz*ez + sg*gam + sxz*curl*xz + s.law.minRate2
	p := e.coef * e.w[g] * math.Pow(q, (e.exponent-1)/2)
	var f [10]float64
	for i := 0; i < 4; i++ {
		f[2*i] = dy[i]*sy + dz[i]*sg
		f[2*i+1] = dz[i]*sz + dy[i]*sg
	}
	f[8], f[9] = sx, sx*arm+sxz*xz
	for i := range f {
		loc.g[i] += p * f[i]
	}
	if hess {
		bend(loc, dy, dz, arm, xz, p, (e.exponent-1)*p/q, &f)
	}
	return p * q / (e.exponent + 1)
}

// bend adds c1 B'DB + c2 f f' to the upper triangle.
func bend(loc *local, dy, dz *[4]float64, arm, xz, c1, c2 float64, f *[10]float64) {
	for a := 0; a < 4; a++ {
		ya, za := c1*dy[a], c1*dz[a]
		fy, fz := c2*f[2*a], c2*f[2*a+1]
		hy, hz := &loc.h[2*a], &loc.h[2*a+1]
		for b := a; b < 4; b++ {
			yb, zb := dy[b], dz[b]
			hy[2*b] += dSame*ya*yb + dShear*za*zb + fy*f[2*b]
			hy[2*b+1] += dCross*ya*zb + dShear*za*yb + fy*f[2*b+1]
			hz[2*b] += dCross*za*yb + dShear*ya*zb + fz*f[2*b]
			hz[2*b+1] += dSame*za*zb + dShear*ya*yb + fz*f[2*b+1]
		}
		hy[8] += dCross*ya + fy*f[8]
		hz[8] += dCross*za + fz*f[8]
		hy[9] += dCross*ya*arm + fy*f[9]
		hz[9] += dCross*za*arm + fz*f[9]
	}
	loc.h[8][8] += c1*dSame + c2*f[8]*f[8]
	loc.h[8][9] += c1*dSame*arm + c2*f[8]*f[9]
	loc.h[9][9] += c1*(dSame*arm*arm+dShear*xz*xz) + c2*f[9]*f[9]
}

// volume adds (K/2) A (tr + c_J)^2 with tr the element's exact volume rate.
func (s *section) volume(e *element, v *[8]float64, elong, curl float64, loc *local, hess bool) float64 {
	var b [10]float64
	copy(b[:8], e.da[:])
	b[8] = 1
	if s.curls {
		b[9] = e.midZ - s.law.midZ
	}
	tr := elong + curl*b[9] + e.pull
	for i := 0; i < 8; i++ {
		tr += b[i] * v[i]
	}
	k := s.law.bulk * e.area
	for i := range b {
		loc.g[i] += k * tr * b[i]
	}
	if hess {
		for i := range b {
			kb := k * b[i]
			for j := i; j < 10; j++ {
				loc.h[i][j] += kb * b[j]
			}
		}
	}
	return 0.5 * k * tr * tr
}

// assemble sums the functional at u and its gradient, and with hess the
// matrix: band for the nodes, columns for the border.
func (s *section) assemble(u []float64, hess bool) float64 {
	s.lin.clear(hess)
	var loc local
	pi := 0.0
	for i := range s.els {
		e := &s.els[i]
		pi += s.flow(e, u, &loc, hess)
		s.scatter(e, &loc, hess)
	}
	pi += s.pressContacts(u, hess)
	pi += s.holdColumns(u, hess)
	pi += s.slideJoints(u, hess)
	pi += s.steady(u, hess)
	return pi
}

// scatter puts an element's contribution in its place.
func (s *section) scatter(e *element, loc *local, hess bool) {
	g, border := s.lin.grad, s.dofs+e.group
	last := s.dofs + s.groups
	for i := 0; i < 8; i++ {
		g[2*e.node[i/2]+i&1] += loc.g[i]
	}
	g[border] += loc.g[8]
	if s.curls {
		g[last] += loc.g[9]
	}
	if !hess {
		return
	}
	for i := 0; i < 8; i++ {
		at := 2*e.node[i/2] + i&1
		row := s.lin.band[at*s.lin.ld-at:]
		for j := i; j < 8; j++ {
			row[2*e.node[j/2]+j&1] += loc.h[i][j]
		}
		s.lin.cols[e.group*s.dofs+at] += loc.h[i][8]
		if s.curls {
			s.lin.cols[s.groups*s.dofs+at] += loc.h[i][9]
		}
	}
	s.lin.addCorner(e.group, e.group, loc.h[8][8])
	if s.curls {
		s.lin.addCorner(e.group, s.groups, loc.h[8][9])
		s.lin.addCorner(s.groups, s.groups, loc.h[9][9])
	}
}

// holdColumns adds the restraint by the bar outside the bite.
func (s *section) holdColumns(u []float64, hess bool) float64 {
	if s.law.restraint == 0 {
		return 0
	}
	pi := 0.0
	for i := range s.columns {
		c := &s.columns[i]
		v := 0.0
		for k, n := range c.nodes {
			v += c.share[k] * u[2*n]
		}
		r := math.Sqrt(v*v + s.law.slow2)
		pi += c.hold * r
		d1, d2 := c.hold*v/r, c.hold*s.law.slow2/(r*r*r)
		for k, n := range c.nodes {
			s.lin.grad[2*n] += d1 * c.share[k]
			if !hess {
				continue
			}
			for j, o := range c.nodes {
				if o >= n {
					s.lin.add(2*n, 2*o, d2*c.share[k]*c.share[j])
				}
			}
		}
	}
	return pi
}

// steady adds the small regularisation of rigid motion, and the symmetry plane
// of a half section.
func (s *section) steady(u []float64, hess bool) float64 {
	pi := 0.0
	for i := 0; i < s.dofs; i++ {
		pi += 0.5 * s.law.rho * u[i] * u[i]
		s.lin.grad[i] += s.law.rho * u[i]
		if hess {
			s.lin.band[i*s.lin.ld] += s.law.rho
		}
	}
	for _, n := range s.spine {
		v := u[2*n]
		pi += 0.5 * s.law.stiff * v * v
		s.lin.grad[2*n] += s.law.stiff * v
		if hess {
			s.lin.band[2*n*s.lin.ld] += s.law.stiff
		}
	}
	return pi
}
