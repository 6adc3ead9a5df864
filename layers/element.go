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
	loc.g = [10]float64{}
	if hess {
		loc.h = [10][10]float64{}
	}
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
// the bite; none in free bending.
func (s *section) shearOfCurl() float64 {
	if s.bent {
		return 0
	}
	return s.law.bite / math.Sqrt(12)
}

// rates is the flow at a Gauss point: D q for the entries eps_x, eps_y, eps_z,
// gamma_yz; arm and bent are what the curvature rate puts into eps_x and, times
// D, into gamma_xz.
type rates struct{ x, y, z, g, arm, xz, bent float64 }

// plastic adds the potential psi = S/(m+1) (e^2+e_min^2)^((m+1)/2) at one Gauss
// point.
func (s *section) plastic(e *element, g int, v *[8]float64, elong, curl float64, loc *local, hess bool) float64 {
	dy, dz := &e.dy[g], &e.dz[g]
	ey := dy[0]*v[0] + dy[1]*v[2] + dy[2]*v[4] + dy[3]*v[6]
	ez := dz[0]*v[1] + dz[1]*v[3] + dz[2]*v[5] + dz[3]*v[7]
	gam := dz[0]*v[0] + dz[1]*v[2] + dz[2]*v[4] + dz[3]*v[6] + dy[0]*v[1] + dy[1]*v[3] + dy[2]*v[5] + dy[3]*v[7]
	var f rates
	if s.curls {
		f.arm, f.xz = e.zg[g]-s.law.midZ, s.shearOfCurl()
		f.bent = curl * f.xz * dShear
	}
	ex := elong + curl*f.arm
	third := (ex + ey + ez) / 3
	f.x, f.y, f.z, f.g = (ex-third)*2/3, (ey-third)*2/3, (ez-third)*2/3, gam*dShear
	q := f.x*ex + f.y*ey + f.z*ez + f.g*gam + f.bent*curl*f.xz + s.law.minRate2
	p := e.coef * e.w[g] * power(q, (e.exponent-1)/2)
	py, pz, pg := p*f.y, p*f.z, p*f.g
	for i := 0; i < 4; i++ {
		loc.g[2*i] += dy[i]*py + dz[i]*pg
		loc.g[2*i+1] += dz[i]*pz + dy[i]*pg
	}
	loc.g[8] += p * f.x
	loc.g[9] += p * (f.x*f.arm + f.bent*f.xz)
	if hess {
		bend(loc, dy, dz, &f, p, (e.exponent-1)*p/q, s.curls)
	}
	return p * q / (e.exponent + 1)
}

// bend adds B'(c1 D + c2 Dq qD)B to the upper triangle.
func bend(loc *local, dy, dz *[4]float64, f *rates, c1, c2 float64, curls bool) {
	same, cross := c1*dSame, c1*dCross
	x, y, z, g := c2*f.x, c2*f.y, c2*f.z, c2*f.g
	yy, yz, yg := same+y*f.y, cross+y*f.z, y*f.g
	zz, zg, gg := same+z*f.z, z*f.g, c1*dShear+g*f.g
	xx, xy, xz, xg := same+x*f.x, cross+x*f.y, cross+x*f.z, x*f.g
	for a := 0; a < 4; a++ {
		da, ea := dy[a], dz[a]
		yToY, yToZ, yToG := yy*da+yg*ea, yz*da+zg*ea, yg*da+gg*ea
		zToY, zToZ, zToG := yz*ea+yg*da, zz*ea+zg*da, zg*ea+gg*da
		hy, hz := &loc.h[2*a], &loc.h[2*a+1]
		for b := a; b < 4; b++ {
			db, eb := dy[b], dz[b]
			hy[2*b] += yToY*db + yToG*eb
			hy[2*b+1] += yToZ*eb + yToG*db
			hz[2*b] += zToY*db + zToG*eb
			hz[2*b+1] += zToZ*eb + zToG*db
		}
		hy[8] += xy*da + xg*ea
		hz[8] += xz*ea + xg*da
	}
	loc.h[8][8] += xx
	if curls {
		bendCurl(loc, dy, dz, f, c1, c2, [4]float64{xx, xy, xz, xg})
	}
}

// bendCurl adds the curvature rate's column: arm in eps_x (x is that row of
// c1 D + c2 Dq qD) and a shear of its own.
func bendCurl(loc *local, dy, dz *[4]float64, f *rates, c1, c2 float64, x [4]float64) {
	own := c2 * f.bent * f.xz
	for a := 0; a < 4; a++ {
		loc.h[2*a][9] += f.arm*(x[1]*dy[a]+x[3]*dz[a]) + own*(f.y*dy[a]+f.g*dz[a])
		loc.h[2*a+1][9] += f.arm*(x[2]*dz[a]+x[3]*dy[a]) + own*(f.z*dz[a]+f.g*dy[a])
	}
	loc.h[8][9] += f.arm*x[0] + own*f.x
	loc.h[9][9] += f.arm*f.arm*x[0] + 2*own*f.x*f.arm + (c1*dShear+c2*f.bent*f.bent)*f.xz*f.xz
}

// volume adds (K/2) A (tr + c_J)^2 with tr the element's exact volume rate.
func (s *section) volume(e *element, v *[8]float64, elong, curl float64, loc *local, hess bool) float64 {
	var b [10]float64
	copy(b[:8], e.da[:])
	b[8] = 1
	n := 9
	if s.curls {
		b[9], n = e.midZ-s.law.midZ, 10
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
		for i := 0; i < n; i++ {
			kb, row := k*b[i], &loc.h[i]
			for j := i; j < n; j++ {
				row[j] += kb * b[j]
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
	if s.bent {
		s.moment = s.lin.hold(s.groups)
	}
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
