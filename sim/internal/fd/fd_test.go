package fd

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// solid is a medium with a nonlinear store (u = c·φ·(1 + b·φ)) and a mobility
// by piece that grows with φ, heated by a film or by radiation.
type solid struct {
	axis    *Axis
	k, c    []float64 // by piece
	b, kb   float64
	contact []float64
	face    func(axis, end int, t, phi float64) (float64, float64)
	source  func(t float64, rate []float64) float64
	varies  bool
}

func (m *solid) Potential(u, phi, slope, kappa []float64) {
	n := m.axis.Len()
	for i := range u {
		c := m.mixed(m.c, i%n)
		if m.b == 0 {
			phi[i], slope[i] = u[i]/c, 1/c
		} else {
			r := math.Sqrt(1 + 4*m.b*u[i]/c)
			phi[i], slope[i] = (r-1)/(2*m.b), 1/(c*r)
		}
		kappa[i] = m.mixed(m.k, i%n) * (1 + m.kb*phi[i])
	}
}

// mixed is a value by piece at Z node i: on a split, the mean of the two halves.
func (m *solid) mixed(v []float64, i int) float64 {
	p := m.axis.Piece[i]
	if !slices.Contains(m.axis.Splits, i) {
		return v[p]
	}
	lo, hi := m.axis.D[i-1], m.axis.D[i]
	return (lo*v[p] + hi*v[p+1]) / (lo + hi)
}

func (m *solid) store(i int, phi float64) float64 {
	return m.mixed(m.c, i) * phi * (1 + m.b*phi)
}
func (m *solid) Contact(k int, lo, hi float64) float64 { return m.contact[k] }
func (m *solid) Split(k int, phi float64) (below, above float64) {
	p, f := m.axis.Piece[m.axis.Splits[k]], 1+m.kb*phi
	return m.k[p] * f, m.k[p+1] * f
}
func (m *solid) Face(axis, end int, t float64, node []int, phi, q, dq []float64) {
	for k, i := range node {
		q[k], dq[k] = m.face(axis, end, t, phi[i])
	}
}
func (m *solid) Source(t float64, rate []float64) float64 {
	if m.source == nil {
		return 0
	}
	return m.source(t, rate)
}
func (m *solid) Varies() bool { return m.varies }

func even(length float64, n int) []float64 {
	x := make([]float64, n+1)
	for i := range x {
		x[i] = length * float64(i) / float64(n)
	}
	return x
}

// run advances with n equal steps and returns the state and what came in.
func run(g *Grid, m Medium, u []float64, end float64, n int) ([]float64, float64) {
	s := NewStepper(g, m)
	u = append([]float64(nil), u...)
	var in float64
	h := end / float64(n)
	for i := range n {
		t := float64(i) * h
		s.Start(u, t)
		s.Step(u, t, h)
		copy(u, s.New)
		in += s.Inflow
	}
	return u, in
}

// The conditions of third order for a W-method (any Jacobian): Hairer and
// Wanner, Solving Ordinary Differential Equations II, section IV.7, table 7.1
// and the conditions that W adds (from memory; each is also implied by the
// measured order below).
func TestMethodOrderConditions(t *testing.T) {
	sum := func(f func(i int) float64) float64 {
		v := 0.0
		for i := range 4 {
			v += bi[i] * f(i)
		}
		return v
	}
	row := func(m [4][4]float64, v [4]float64) func(int) float64 {
		return func(i int) float64 {
			s := 0.0
			for j := range 4 {
				s += m[i][j] * v[j]
			}
			return s
		}
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"Σb", sum(func(int) float64 { return 1 }), 1},
		{"Σbα", sum(func(i int) float64 { return ci[i] }), 1. / 2},
		{"Σbγ", sum(func(i int) float64 { return gi[i] }), 0},
		{"Σbα²", sum(func(i int) float64 { return ci[i] * ci[i] }), 1. / 3},
		{"Σbαα", sum(row(alpha, ci)), 1. / 6},
		{"Σbαγ", sum(row(alpha, gi)), 0},
		{"Σbγα", sum(row(gammaij, ci)), 0},
		{"Σbγγ", sum(row(gammaij, gi)), 0},
	} {
		if math.Abs(c.got-c.want) > 1e-14 {
			t.Errorf("%s = %.16g, want %.16g", c.name, c.got, c.want)
		}
	}
}

// The stability function for one, two and three directions with non-positive
// real eigenvalues: never above 1 in size, and 0 in the stiff limit of one
// direction (L-stable).
func TestStability(t *testing.T) {
	grow := func(z ...float64) float64 {
		sum, prod := 0.0, 1.0
		for _, v := range z {
			sum += v
			prod *= 1 - gamma*v
		}
		jac := (1 - prod) / gamma
		var k [4]float64
		r := 1.0
		for i := range 4 {
			s := sum
			for j := range i {
				s += sum*alpha[i][j]*k[j] + jac*gammaij[i][j]*k[j]
			}
			k[i] = s / prod
			r += bi[i] * k[i]
		}
		return r
	}
	if r := grow(-1e12); math.Abs(r) > 1e-9 {
		t.Errorf("stiff limit: %g, want 0", r)
	}
	v := []float64{0}
	for e := -3.0; e <= 7; e += 0.25 {
		v = append(v, -math.Pow(10, e))
	}
	low := 1.0
	for _, a := range v {
		for _, b := range v {
			for _, c := range v {
				r := grow(a, b, c)
				if r > 1+1e-12 || r < -0.72 {
					t.Fatalf("R(%g, %g, %g) = %g", a, b, c, r)
				}
				low = min(low, r)
			}
		}
	}
	t.Logf("lowest value of the stability function in three directions: %.3f", low)
}

// manufactured is a solution with a jump of conductivity at x = a, a radiating
// face at 0 and a film at the other end. With ξ = x − a,
//
//	φ = 900 + 200·w(t)·[cos(ξ/l) + (q/k)·l·sin(ξ/l)]
//
// is continuous at ξ = 0, and so is its flux 200·w·q.
type manufactured struct {
	a, length, l, q float64
	k, c            [2]float64
}

func (s manufactured) wave(t float64) (w, dw float64) {
	return 1 + 0.5*math.Sin(t/20), 0.5 * math.Cos(t/20) / 20
}

func (s manufactured) shape(p int, x float64) (v, d, dd float64) {
	e := (x - s.a) / s.l
	g := s.q / s.k[p] * s.l
	return math.Cos(e) + g*math.Sin(e), (-math.Sin(e) + g*math.Cos(e)) / s.l, -(math.Cos(e) + g*math.Sin(e)) / (s.l * s.l)
}

func (s manufactured) at(p int, x, t float64) float64 {
	w, _ := s.wave(t)
	v, _, _ := s.shape(p, x)
	return 900 + 200*w*v
}

func (s manufactured) medium(axis *Axis, u []float64) *solid {
	const es, film = 0.8 * 5.67e-8, 150.0
	m := &solid{axis: axis, k: s.k[:], c: s.c[:], varies: true}
	m.face = func(_, end int, t, phi float64) (float64, float64) {
		w, _ := s.wave(t)
		if end == 0 { // radiation from a wall that makes the solution exact
			_, d, _ := s.shape(0, 0)
			exact := s.at(0, 0, t)
			wall4 := math.Pow(exact, 4) - s.k[0]*200*w*d/es
			return es * (wall4 - math.Pow(phi, 4)), -4 * es * phi * phi * phi
		}
		_, d, _ := s.shape(1, s.length)
		gas := s.at(1, s.length, t) + s.k[1]*200*w*d/film
		return film * (gas - phi), -film
	}
	m.source = func(t float64, rate []float64) float64 {
		w, dw := s.wave(t)
		var total float64
		for i, x := range axis.X {
			// A node on the jump holds half of each side.
			var r, wsum float64
			for p := range 2 {
				share := s.share(axis, i, p)
				v, _, dd := s.shape(p, x)
				r += share * 200 * (s.c[p]*dw*v - s.k[p]*w*dd)
				wsum += share
			}
			rate[i] += r / wsum
			total += r / wsum * axis.V[i]
		}
		return total
	}
	for i, x := range axis.X {
		u[i] = m.mixed(m.c, i) * s.at(axis.Piece[i], x, 0)
	}
	return m
}

// share is how much of node i's volume lies in piece p.
func (s manufactured) share(axis *Axis, i, p int) float64 {
	if slices.Contains(axis.Splits, i) {
		return axis.D[i-1+p-axis.Piece[i]] / 2
	}
	if axis.Piece[i] == p {
		return axis.W[i]
	}
	return 0
}

// orders runs the manufactured solution on grids or steps doubled each time
// and returns the errors.
func (s manufactured) error(n, steps int, split, compact bool) float64 {
	axis := NewAxis([][]float64{even(s.a, n), even(s.length-s.a, n)}, []bool{!split})
	if split {
		axis.Splits = []int{n}
	}
	if compact {
		axis.Compact(false, math.Inf(1))
	}
	g := NewGrid(axis, Single(1), Single(1))
	u := make([]float64, g.Len())
	m := s.medium(axis, u)
	m.contact = []float64{1e11} // as good as bonded: no jump above 1e-5 K
	u, _ = run(g, m, u, 40, steps)
	worst := 0.0
	for i, x := range axis.X {
		worst = math.Max(worst, math.Abs(u[i]/m.mixed(m.c, i)-s.at(axis.Piece[i], x, 40)))
	}
	return worst
}

var jump = manufactured{a: 0.010, length: 0.025, l: 0.012, q: 2000, k: [2]float64{28, 55}, c: [2]float64{5e6, 3.8e6}}

// Verification by a manufactured solution (the method of Roache, J. Fluids
// Eng. 124, 2002), its jump of conductivity on a contact and on one shared node:
// the observed order in space is 2, of the compact scheme 3, as its half cells at
// faces, contacts and splits are of third order.
func TestOrderInSpace(t *testing.T) {
	for _, split := range []bool{false, true} {
		var last, lastCompact float64
		for _, n := range []int{4, 8, 16, 32} {
			e, compact := jump.error(n, 1600, split, false), jump.error(n, 1600, split, true)
			order, orderCompact := math.Log2(last/e), math.Log2(lastCompact/compact)
			t.Logf("split %v, n = %2d  error %.3e K  order %.2f; compact %.3e K  order %.2f", split, n, e, order, compact, orderCompact)
			if last > 0 && (math.Abs(order-2) > 0.1 || math.Abs(orderCompact-3) > 0.1) {
				t.Errorf("n = %d: order %.2f, want 2; compact %.2f, want 3", n, order, orderCompact)
			}
			if compact > e/4 {
				t.Errorf("n = %d: compact leaves %.3e K of %.3e", n, compact, e)
			}
			last, lastCompact = e, compact
		}
	}
}

// The observed order in time, against a fine-step solution on the same grid.
// The method's order is 3; a stiff boundary may cost some of it, 2 is asked.
func TestOrderInTime(t *testing.T) {
	for dims := 1; dims <= 3; dims++ {
		t.Run(fmt.Sprintf("dims=%d", dims), func(t *testing.T) {
			g, m, u := brick(dims, 6, dims > 1)
			ref, _ := run(g, m, u, 60, 2048)
			var last float64
			for _, n := range []int{8, 16, 32, 64, 128} {
				v, _ := run(g, m, u, 60, n)
				e := 0.0
				for i := range v {
					e = math.Max(e, math.Abs(v[i]-ref[i])/5e6)
				}
				order := math.Log2(last / e)
				t.Logf("steps %3d  error %.3e K  order %.2f", n, e, order)
				if n >= 32 && order < 2 {
					t.Errorf("%d steps: order %.2f, want at least 2", n, order)
				}
				last = e
			}
		})
	}
}

// brick is a nonlinear two-piece brick with a contact, radiating on all faces,
// compact or not; the compact one has a third piece that shares its node.
func brick(dims, n int, compact bool) (*Grid, *solid, []float64) {
	axis := NewAxis([][]float64{even(0.008, n), even(0.012, n)}, []bool{true})
	if compact {
		axis = NewAxis([][]float64{even(0.008, n), even(0.012, n), even(0.003, n)}, []bool{true, false})
		axis.Splits = []int{2*n + 1}
	}
	y, x := Single(0.03), Single(0.05)
	if dims > 1 {
		y = NewAxis([][]float64{even(0.03, n)}, nil)
	}
	if dims > 2 {
		x = NewAxis([][]float64{even(0.05, n)}, nil)
	}
	if compact {
		axis.Compact(false, math.Inf(1))
		y.Compact(false, math.Inf(1))
		x.Compact(false, math.Inf(1))
	}
	g := NewGrid(axis, y, x)
	m := &solid{axis: axis, k: []float64{30, 45, 20}, c: []float64{4e6, 3e6, 5e6}, b: 1e-4, kb: -2e-4, contact: []float64{1500}}
	m.face = func(a, e int, t, phi float64) (float64, float64) {
		const es = 0.8 * 5.67e-8
		wall := 1500 - 100*float64(2*a+e)
		return es * (math.Pow(wall, 4) - math.Pow(phi, 4)), -4 * es * phi * phi * phi
	}
	u := make([]float64, g.Len())
	for i := range u {
		u[i] = m.store(i%axis.Len(), 300)
	}
	return g, m, u
}

// What came in through the faces is what is stored, at any step size.
func TestConservation(t *testing.T) {
	for dims := 1; dims <= 3; dims++ {
		for _, steps := range []int{1, 3, 40} {
			for _, n := range []int{1, 2, 3, 5} {
				for _, compact := range []bool{false, true} {
					g, m, u := brick(dims, n, compact)
					v, in := run(g, m, u, 200, steps)
					stored := g.Total(v) - g.Total(u)
					if rel := math.Abs(stored-in) / math.Abs(in); rel > 1e-12 {
						t.Errorf("dims %d, %d cells, compact %v, %d steps: stored %g, came in %g: off by %.1e", dims, n, compact, steps, stored, in, rel)
					}
				}
			}
		}
	}
	// With varying surroundings and a source.
	axis := NewAxis([][]float64{even(jump.a, 6), even(jump.length-jump.a, 6)}, []bool{true})
	g := NewGrid(axis, Single(1), Single(1))
	u := make([]float64, g.Len())
	m := jump.medium(axis, u)
	m.contact = []float64{2000}
	v, in := run(g, m, u, 40, 7)
	if stored := g.Total(v) - g.Total(u); math.Abs(stored-in) > 1e-9*g.Total(u) {
		t.Errorf("varying surroundings: stored %g, came in %g", stored, in)
	}
}

// The face of a half-space under a steady flux rises by 2q√(t/πkc) (Carslaw and
// Jaeger, Conduction of Heat in Solids, section 2.9, from memory): the error is of
// second order in the spacing, in the compact scheme of fourth.
func TestCompactFace(t *testing.T) {
	const q, k, c, length, end = 2e5, 30.0, 5e6, 0.06, 8.0
	exact := 2 * q * math.Sqrt(end/(math.Pi*k*c))
	var last [2]float64
	for _, n := range []int{20, 40, 80} {
		var e [2]float64
		for i, compact := range []bool{false, true} {
			axis := NewAxis([][]float64{even(length, n)}, nil)
			if compact {
				axis.Compact(false, math.Inf(1))
			}
			m := &solid{axis: axis, k: []float64{k}, c: []float64{c}}
			m.face = func(_, at int, _, _ float64) (float64, float64) { return q * float64(1-at), 0 }
			u, _ := run(NewGrid(axis, Single(1), Single(1)), m, make([]float64, n+1), end, 4000)
			e[i] = math.Abs(u[0]/c - exact)
		}
		order := [2]float64{math.Log2(last[0] / e[0]), math.Log2(last[1] / e[1])}
		t.Logf("n = %d: error %.2e K, order %.2f; compact %.2e K, order %.2f", n, e[0], order[0], e[1], order[1])
		if e[1] > e[0]/10 {
			t.Errorf("n = %d: compact leaves %.2e K of %.2e", n, e[1], e[0])
		}
		if last[0] > 0 && order[1] < 3.8 {
			t.Errorf("n = %d: order %.2f compact, want 4", n, order[1])
		}
		last = e
	}
}

// A plane of symmetry gives what the whole gives.
func TestMirroredAxis(t *testing.T) {
	whole, half := NewAxis([][]float64{even(0.03, 12)}, nil), NewAxis([][]float64{even(0.015, 6)}, nil)
	whole.Compact(false, math.Inf(1))
	half.Compact(true, math.Inf(1))
	heat := func(axis *Axis, other float64) []float64 {
		m := &solid{axis: axis, k: []float64{30}, c: []float64{5e6}, b: 1e-4, kb: -2e-4}
		m.face = func(_, at int, _, phi float64) (float64, float64) {
			if at == 1 {
				return other * 300 * (1500 - phi), -other * 300
			}
			return 300 * (1500 - phi), -300
		}
		u, _ := run(NewGrid(axis, Single(1), Single(1)), m, make([]float64, axis.Len()), 60, 30)
		return u
	}
	u, v := heat(whole, 1), heat(half, 0)
	for i := range v {
		if d := math.Abs(u[i]-v[i]) / u[0]; d > 1e-12 {
			t.Errorf("node %d: %.17g in the whole, %.17g in the half", i, u[i], v[i])
		}
	}
}

// After a jump of the surroundings a method that isn't L-stable rings on with
// full strength when steps are long. Here every step leaves at most 0.13 of
// what was left before: the largest size of the stability function beyond its
// zero, R(−10) = −0.128.
func TestNoRinging(t *testing.T) {
	axis := NewAxis([][]float64{even(0.03, 60)}, nil)
	axis.Compact(false, math.Inf(1))
	g := NewGrid(axis, Single(1), Single(1))
	m := &solid{axis: axis, k: []float64{30}, c: []float64{5e6}}
	m.face = func(_, _ int, _, phi float64) (float64, float64) { return 1e5 * (1500 - phi), -1e5 }
	u := make([]float64, g.Len())
	for i := range u {
		u[i] = m.c[0] * 300
	}
	for _, h := range []float64{1e3, 1e5, 1e7} {
		bound := 1200.0
		for n := 1; n <= 4; n++ {
			bound *= 0.13
			v, _ := run(g, m, u, float64(n)*h, n)
			for i := range v {
				if left := math.Abs(v[i]/m.c[0] - 1500); left > bound {
					t.Fatalf("%d steps of %g s: node %d is %g from the surroundings, want at most %g", n, h, i, left, bound)
				}
			}
		}
	}
}

func TestStepAllocatesNothing(t *testing.T) {
	g, m, u := brick(3, 4, true)
	s := NewStepper(g, m)
	s.Start(u, 0)
	if n := testing.AllocsPerRun(20, func() {
		s.Start(u, 0)
		s.Step(u, 0, 1)
	}); n != 0 {
		t.Errorf("a step allocates %g times", n)
	}
}

// Two pieces bonded into one axis, and one axis of the same nodes, agree.
func TestAxis(t *testing.T) {
	a := NewAxis([][]float64{{0, 1, 3}, {0, 2}}, []bool{false})
	if got, want := fmt.Sprint(a.X, a.W, a.D, a.Piece), "[0 1 3 5] [0.5 1.5 2 1] [1 2 2] [0 0 0 1]"; got != want {
		t.Errorf("bonded: %s, want %s", got, want)
	}
	b := NewAxis([][]float64{{0, 1}, {0, 2}}, []bool{true})
	if got, want := fmt.Sprint(b.X, b.W, b.D, b.Contacts), "[0 1 1 3] [0.5 0.5 1 1] [1 0 2] [1]"; got != want {
		t.Errorf("contact: %s, want %s", got, want)
	}
}
