package fd

import "math"

// Medium is what the kernel asks of the physics.
type Medium interface {
	// Potential sets φ(u), dφ/du and the mobility κ of every node.
	Potential(u, phi, slope, kappa []float64)
	// Contact is the conductance per area of contact k (in the order of the
	// Z axis's Contacts) between the potentials of its two sides.
	Contact(k int, lo, hi float64) float64
	// Split is the mobility in the two halves of split k (in the order of the
	// Z axis's Splits) at the potential phi; kappa is what the node conducts
	// across.
	Split(k int, phi float64) (below, above float64)
	// Face sets the inflow per area, and its derivative with the potential,
	// of every node of the face at one end of an axis at the time t. The
	// k-th node of the face is node[k] of the grid.
	Face(axis, end int, t float64, node []int, phi, q, dq []float64)
	// Source adds what is made inside each control volume per volume and
	// time to rate, and returns its integral over the grid.
	Source(t float64, rate []float64) float64
	// Varies says whether Face or Source depends on t.
	Varies() bool
}

// Stepper advances u in time. It holds every array it needs; Step allocates
// nothing.
type Stepper struct {
	g   *Grid
	m   Medium
	n   int
	lay [3]*Axis

	// The state at the start of the step.
	f0, phi, slope, kappa []float64
	cond                  [3][]float64 // conductance of the link above each node, per area
	face                  [3][2]face
	q0, qt                float64 // inflow and sources of the whole; its change with time

	stage   [4][]float64
	carried [4]float64 // what each stage brings in through faces and sources
	ut, f   []float64
	ft      []float64
	sphi    []float64
	sslope  []float64
	skappa  []float64
	lo, inv [3][]float64
	up      [3][]float64
	links   []float64 // of one line or one row of lines
	flow    []float64

	// New and Err are the result of the last Step: the new state and the
	// difference to the embedded solution, both in the unit of u.
	New, Err []float64
	// Rate is du/dt at the end of the last Step, taken from the last stage:
	// stiff errors that the method has damped don't come back in it, as they
	// would in the rate computed anew from New.
	Rate []float64
	// Inflow is what the faces and sources brought in in the last Step.
	Inflow float64
}

// NewStepper makes a stepper for the grid.
func NewStepper(g *Grid, m Medium) *Stepper {
	s := &Stepper{g: g, m: m, n: g.n, lay: g.Axes}
	vec := func() []float64 { return make([]float64, s.n) }
	for _, p := range []*[]float64{&s.f0, &s.phi, &s.slope, &s.kappa, &s.ut, &s.f, &s.ft,
		&s.sphi, &s.sslope, &s.skappa, &s.links, &s.flow, &s.New, &s.Err, &s.Rate} {
		*p = vec()
	}
	for i := range s.stage {
		s.stage[i] = vec()
	}
	for a := range s.lay {
		if s.lay[a].Len() == 1 {
			continue
		}
		s.cond[a], s.lo[a], s.inv[a], s.up[a] = vec(), vec(), vec(), vec()
		for e := range s.face[a] {
			s.face[a][e] = g.face(a, e)
		}
	}
	return s
}

// Start takes u at time t as the start of the next Step: it finds potentials,
// links and the rate of change. Call it after every accepted step and after
// every change of the surroundings.
func (s *Stepper) Start(u []float64, t float64) {
	s.m.Potential(u, s.phi, s.slope, s.kappa)
	s.q0 = s.rates(t, s.phi, s.kappa, s.f0, true)
}

// Reshaped takes notice of axes that were scaled.
func (s *Stepper) Reshaped() {
	for a := range s.face {
		if s.lay[a].Len() == 1 {
			continue
		}
		for e := range s.face[a] {
			s.face[a][e] = s.g.face(a, e)
		}
	}
}

// Phi is the potential of every node at the start of the step.
func (s *Stepper) Phi() []float64 { return s.phi }

// Slope is dφ/du of every node at the start of the step.
func (s *Stepper) Slope() []float64 { return s.slope }

// StartRate is du/dt of every node at the start of the step.
func (s *Stepper) StartRate() []float64 { return s.f0 }

// Step computes New from u after the time h. Start must have been called with
// the same u and t.
func (s *Stepper) Step(u []float64, t, h float64) {
	g := gamma * h
	for a := range s.lay {
		s.factor(a, g)
	}
	varies := s.m.Varies()
	if varies {
		s.timeRate(t, h)
	}
	for i := range s.stage {
		f, q := s.f0, s.q0
		if i > 0 {
			combine(s.ut, u, s.stage[:i], aij[i][:i])
			s.m.Potential(s.ut, s.sphi, s.sslope, s.skappa)
			q = s.rates(t+ci[i]*h, s.sphi, s.skappa, s.f, false)
			f = s.f
		}
		s.solveStage(i, g, h, f, q, varies)
	}
	combine(s.New, u, s.stage[:], mi[:])
	s.Inflow = 0
	for i, c := range s.carried {
		s.Inflow += mi[i] * c
	}
	k0, k1, k2, k3 := s.stage[0], s.stage[1], s.stage[2], s.stage[3]
	r0, r1, r2, r3 := gammaInv[3][0]/h, gammaInv[3][1]/h, gammaInv[3][2]/h, gammaInv[3][3]/h
	for j := range s.Err {
		s.Rate[j] = r0*k0[j] + r1*k1[j] + r2*k2[j] + r3*k3[j]
		s.Err[j] = ei[0]*k0[j] + ei[1]*k1[j] + ei[2]*k2[j] + ei[3]*k3[j]
	}
}

// solveStage finds the increment of stage i from the rate f at its point.
func (s *Stepper) solveStage(i int, g, h float64, f []float64, q float64, varies bool) {
	r := s.stage[i]
	gt := 0.0
	if varies {
		gt = g * gi[i] * h
	}
	switch i {
	case 0:
		for j, v := range f {
			r[j] = g * v
		}
	case 1:
		c0, k0 := g*cij[1][0]/h, s.stage[0]
		for j, v := range f {
			r[j] = g*v + c0*k0[j]
		}
	case 2:
		c0, c1, k0, k1 := g*cij[2][0]/h, g*cij[2][1]/h, s.stage[0], s.stage[1]
		for j, v := range f {
			r[j] = g*v + c0*k0[j] + c1*k1[j]
		}
	default:
		c0, c1, c2 := g*cij[3][0]/h, g*cij[3][1]/h, g*cij[3][2]/h
		k0, k1, k2 := s.stage[0], s.stage[1], s.stage[2]
		for j, v := range f {
			r[j] = g*v + c0*k0[j] + c1*k1[j] + c2*k2[j]
		}
	}
	e := g * q
	for j := 0; j < i; j++ {
		e += g * cij[i][j] / h * s.carried[j]
	}
	if varies {
		e += gt * s.qt
		for j, v := range s.ft {
			r[j] += gt * v
		}
	}
	// The through-thickness direction comes last: it is the stiffest, and
	// the last sweep leaves its own direction smooth.
	for a := X; a >= Z; a-- {
		if s.lay[a].Len() == 1 {
			continue
		}
		s.sweep(a, r)
		e += g * s.faceGain(a, r)
	}
	s.carried[i] = e
}

// combine sets out = u + Σ c·k.
func combine(out, u []float64, k [][]float64, c []float64) {
	switch len(k) {
	case 1:
		k0, c0 := k[0], c[0]
		for j, v := range u {
			out[j] = v + c0*k0[j]
		}
	case 2:
		k0, k1, c0, c1 := k[0], k[1], c[0], c[1]
		for j, v := range u {
			out[j] = v + c0*k0[j] + c1*k1[j]
		}
	case 3:
		k0, k1, k2, c0, c1, c2 := k[0], k[1], k[2], c[0], c[1], c[2]
		for j, v := range u {
			out[j] = v + c0*k0[j] + c1*k1[j] + c2*k2[j]
		}
	default:
		k0, k1, k2, k3 := k[0], k[1], k[2], k[3]
		c0, c1, c2, c3 := c[0], c[1], c[2], c[3]
		for j, v := range u {
			out[j] = v + c0*k0[j] + c1*k1[j] + c2*k2[j] + c3*k3[j]
		}
	}
}

// ErrorNorm is the root mean square of Err·weight over the nodes. A node that
// passes a bend of φ(u) is off for a moment and its neighbours take it up; the
// mean sees what lasts.
func (s *Stepper) ErrorNorm(weight []float64) float64 {
	var sum float64
	for j, e := range s.Err {
		v := e * weight[j]
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(s.Err)))
}
