package heat

import (
	"fmt"
	"math"

	"billet/sim/internal/fd"
)

// Options set how a body is solved.
type Options struct {
	// Accuracy is the largest error wanted in the temperature history
	// outside 700–770 °C, K. 0 means 0.5.
	Accuracy float64
	// All lists every surroundings the body will see: the grid is made fine
	// enough for the strongest, and mirror symmetry is used where the body and
	// all of them have it. Nil: a grid for a forge, no symmetry.
	All []Surroundings
	// Whole switches the use of mirror symmetry off.
	Whole bool
	// Chilled asks for cells of at most 1 mm at the faces, as contact with
	// cold dies needs.
	Chilled bool
	// Coarser makes the spacing and the steps' allowed error what they would
	// be for an accuracy Coarser² as loose. 0 means 1. A run with 2 beside
	// one with 1 shows what the grid leaves: a third of the difference.
	Coarser float64
}

// skinCells is the spacing at a face that dies will chill, m.
const skinCells = 1e-3

// loosest is the accuracy, K, below which the grid is not made coarser whatever
// is asked, so that end times stay within 0.1 %.
const loosest = 1.2

// Field is the temperature of a body and how it changes.
type Field struct {
	body     Body
	mesh     *mesh
	med      *medium
	step     *fd.Stepper
	tol      float64 // K of error a step may make
	pace     float64 // K of error it may make by the end waited for; 0: any
	accuracy float64 // K
	time     float64 // s
	h        float64 // s, next step to try
	u        []float64
	w        []float64 // weights of the error norm, K per J/m3
	start    float64   // J stored at the start
	in       float64   // J through the faces since the start

	// The previous state, for events and pictures between steps.
	phi0, rate0, rate1 []float64
	xi0                []float64
	limits             []float64 // K by layer, of the monitor in use
	zLimits            []float64 // the same by Z node
	time0              float64

	// Steps and Rejected count what the solution cost.
	Steps, Rejected int
}

// stepShare is the share of the accuracy that one step's error estimate, a mean
// over the volume, may reach. Errors of a heating body die away towards its
// surroundings, so the sum over the steps stays a few times this; checked on the
// reference cases.
const stepShare = 0.12

// stepTolerance is the error allowed in a step, K. At small accuracies the steps
// are many and their errors add up more.
func stepTolerance(accuracyK float64) float64 {
	return stepShare * accuracyK * math.Pow(math.Min(1, accuracyK), 0.6)
}

// New makes the field of a body, at startK but for layers with a Start of their
// own.
func New(b Body, startK float64, opt Options) (*Field, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	if !(startK > 0) || math.IsInf(startK, 0) {
		return nil, fmt.Errorf("heat: start at %g K; a temperature above absolute zero is needed", startK)
	}
	acc := opt.Accuracy
	if acc == 0 {
		acc = 0.5
	}
	if !(acc > 0) || math.IsInf(acc, 0) {
		return nil, fmt.Errorf("heat: accuracy %g K; it must be above 0", acc)
	}
	var sym [3]bool
	if !opt.Whole && len(opt.All) > 0 {
		sym = symmetric(b, opt.All)
	}
	grid := min(acc, loosest)
	if opt.Coarser > 0 {
		grid *= opt.Coarser * opt.Coarser
	}
	space := spacingFor(grid, b.reach(), loadOn(b, startK, opt.All))
	space.jumps = jumpsOf(b, startK, grid)
	if opt.Chilled && space.face > skinCells {
		space.face, space.growth = skinCells, max(space.growth, 0.25)
	}
	b.Layers = append([]Layer(nil), b.Layers...)
	packs := packsOf(b, grid, space.through(b.Thickness()))
	space.fronts = frontsOf(packs, b.Dims, opt.All, grid)
	f := &Field{body: b, mesh: newMesh(b, packs, sym, space), tol: stepTolerance(grid), accuracy: acc}
	f.buildMedium(sym)
	f.step = fd.NewStepper(f.mesh.grid, f.med)
	f.fill(startK)
	return f, nil
}

func (f *Field) buildMedium(sym [3]bool) {
	m := &medium{perfect: perfect(f.accuracy), nz: f.mesh.grid.Axes[fd.Z].Len(), half: sym}
	m.tables = f.mesh.tablesByZ(f.body.Layers)
	for _, z := range f.mesh.grid.Axes[fd.Z].Splits {
		below, above := f.mesh.packOf(z).table, f.mesh.packOf(z+1).table
		m.splits = append(m.splits, [2][]float64{sample(below.conducts.At), sample(above.conducts.At)})
	}
	for _, l := range f.mesh.contact {
		m.joints = append(m.joints, f.body.Layers[l].Joint)
	}
	m.runs = runsOf(m.tables)
	m.xi, m.rises = make([]float64, f.mesh.grid.Len()), make([]float64, f.mesh.grid.Len())
	f.med = m
}

func (f *Field) fill(startK float64) {
	n := f.mesh.grid.Len()
	f.u, f.w = make([]float64, n), make([]float64, n)
	f.phi0, f.rate0, f.rate1 = make([]float64, n), make([]float64, n), make([]float64, n)
	f.xi0 = make([]float64, n)
	for i := range f.u {
		z := i % f.med.nz
		t, at := f.med.tables[z], f.body.Layers[f.mesh.packOf(z).from].startAt(startK)
		if t.cooling != nil {
			f.med.xi[i] = t.fraction(at, 0)
			if f.med.xi[i] > 0 {
				f.med.rises[i] = math.Inf(1)
			}
		}
		f.u[i] = t.store(at, f.med.xi[i])
		f.w[i] = t.weight
	}
	f.shareWeights()
	f.start = f.mesh.grid.Total(f.u)
	f.step.Start(f.u, 0) // so that it can be read before any stage
}

// shareWeights gives every node its share of the volume in the error norm, so
// that a half of a symmetric body chooses its steps as the whole does.
func (f *Field) shareWeights() {
	var volume float64
	for i := range f.w {
		volume += f.mesh.grid.Volume(i)
	}
	for i := range f.w {
		f.w[i] *= math.Sqrt(f.mesh.grid.Volume(i) / volume * float64(len(f.w)))
	}
}

// Time is the time of the field since it was made, s.
func (f *Field) Time() float64 { return f.time }

// Cells is the number of nodes solved for.
func (f *Field) Cells() int { return f.mesh.grid.Len() }

// parts is how many copies of the solved part make the whole.
func (f *Field) parts() float64 {
	p := 1.0
	for _, h := range f.mesh.half {
		if h {
			p *= 2
		}
	}
	return p
}

// Energy returns the heat stored since the start and the heat that came
// through the faces, J, for the whole body.
func (f *Field) Energy() (stored, through float64) {
	p := f.parts()
	return p * (f.mesh.grid.Total(f.u) - f.start), p * f.in
}

// Surround puts the body in new surroundings from now on.
func (f *Field) Surround(s Surroundings) {
	f.med.surround(s, f.time)
	f.step.Start(f.u, f.time)
	f.rates(f.step.StartRate())
	f.h = f.firstStep()
}

// rates sets the rates of temperature at the end of the last step.
func (f *Field) rates(du []float64) {
	for i, s := range f.step.Slope() {
		f.rate1[i] = s * du[i]
	}
}

// firstStep is a step short enough for the fastest node after a jump.
func (f *Field) firstStep() float64 {
	var fastest float64
	for _, r := range f.rate1 {
		fastest = max(fastest, math.Abs(r))
	}
	if fastest == 0 {
		return 1
	}
	return min(1, max(1e-4, 10*f.tol/fastest))
}

// advance makes one accepted step, not past end.
func (f *Field) advance(end float64) error {
	const (
		shrink, grow = 0.2, 4.0
		smallest     = 1e-9
	)
	for {
		h := f.h
		last := f.time+h >= end-1e-9*math.Abs(end)
		if last {
			h = end - f.time
		} else if f.time+1.6*h > end {
			h = 0.5 * (end - f.time)
		}
		f.step.Step(f.u, f.time, h)
		err := f.step.ErrorNorm(f.w) / f.allowed()
		factor := grow
		if err > 0 {
			factor = min(grow, max(shrink, 0.88*math.Pow(err, -1.0/3)))
		}
		if err <= 1 {
			f.accept(h)
			if !last || factor < 1 {
				f.h = h * factor
			} else {
				f.h = max(f.h, h*factor)
			}
			return nil
		}
		if err != err {
			factor = shrink
		}
		f.Rejected++
		f.h = h * factor
		if f.h < smallest {
			return fmt.Errorf("heat: the step fell below %g s at %g s; the surroundings or a material's data have a jump the solver can't follow", smallest, f.time)
		}
	}
}

// allowed is the error that a step may make, K.
func (f *Field) allowed() float64 {
	if f.pace > 0 {
		return max(min(f.tol, f.pace), f.tol/100)
	}
	return f.tol
}

// accept takes the step's result as the new state.
func (f *Field) accept(h float64) {
	copy(f.phi0, f.step.Phi())
	f.rate0, f.rate1 = f.rate1, f.rate0
	f.time0 = f.time
	f.u, f.step.New = f.step.New, f.u
	f.in += f.step.Inflow
	f.time += h
	f.Steps++
	f.step.Start(f.u, f.time)
	f.rates(f.step.Rate)
	copy(f.xi0, f.med.xi)
	f.med.settle(f.u, f.step.Phi())
}

// back undoes the last step, so that a shorter one can end where an event was
// found.
func (f *Field) back() {
	f.u, f.step.New = f.step.New, f.u
	f.in -= f.step.Inflow
	f.time = f.time0
	f.Steps--
	copy(f.med.xi, f.xi0)
	f.step.Start(f.u, f.time)
	f.rate0, f.rate1 = f.rate1, f.rate0
}

// between is the temperature of every node at time t within the last step, by
// cubic interpolation on values and rates.
func (f *Field) between(t float64, out []float64) {
	h := f.time - f.time0
	if h <= 0 {
		copy(out, f.step.Phi())
		return
	}
	for i, p1 := range f.step.Phi() {
		out[i] = hermite((t-f.time0)/h, h, f.phi0[i], p1, f.rate0[i], f.rate1[i])
	}
}

// hermite is the cubic through values v and slopes r at both ends of h, at the
// share s of it.
func hermite(s, h, v0, v1, r0, r1 float64) float64 {
	q := 1 - s
	return v0*q*q*(1+2*s) + v1*s*s*(3-2*s) + h*s*q*(r0*q-r1*s)
}
