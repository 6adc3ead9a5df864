package metal

import (
	"fmt"
	"math"

	"billet/sim/internal/fd"
	"billet/sim/steel"
)

// Layer is one layer of a stack, from side B to side A.
type Layer struct {
	Material  steel.Material
	Thickness float64 // m
	// Open says that the joint under this layer is not welded yet: carbon
	// does not cross it.
	Open bool
}

// Options set how carbon is computed.
type Options struct {
	// Accuracy is the largest error wanted in the profile, wt %. 0 means
	// 0.005.
	Accuracy float64
	// Law is the diffusivity of carbon in austenite; nil means Agren.
	Law Diffusivity
	// Factor multiplies it, for ranges; 0 means 1. The published laws agree
	// to 20 %.
	Factor float64
}

// layer is a layer as computed. Its place is kept as it was at the last
// stacking; stretch says how it has been drawn since.
type layer struct {
	name     string
	c        Composition
	kind     kind
	density  float64 // kg/m3
	a1, a3   float64 // K: start of austenite; end of ferrite if it had no carbon
	factor   float64 // carbon held over that of plain austenite
	slow     float64 // factor on the diffusivity
	start    float64 // wt % carbon it was made with
	stretch  float64 // thickness now over that at the last stacking
	group    int     // layers of one steel have one number
	first    int     // nodes
	last     int
	openJoin bool // the joint under it
}

// Carbon is the carbon through a stack and how it moves.
type Carbon struct {
	layers []layer
	opt    Options
	grid   *fd.Grid
	step   *fd.Stepper
	med    *carbonMedium
	u      []float64 // kg/m3
	weight []float64 // wt % per kg/m3
	h      float64   // s, next step to try
	pace   float64   // how fast carbon moved when h was found, 1/s
	face   [2]Atmosphere
	gone   [2]int // layers ground off or eaten

	initial float64 // kg per m2 of the last stacking's face
	through float64 // of these, in through the faces
	ground  float64 // of these, taken off with metal
	spread0 float64 // wt %, largest step of potential between neighbours at the start

	// Steps and Rejected count what the solution cost.
	Steps, Rejected int
	warnings        []string
}

// Side is a face of the stack.
type Side int

// The faces: B is at z = 0, A at the other end.
const (
	SideB Side = iota
	SideA
)

// NewCarbon starts with every layer at its own carbon, its faces sealed. It
// refuses a stack without layers, thicknesses outside 1 um to 1 m, and carbon
// outside 0 to 2.1 %.
func NewCarbon(stack []Layer, opt Options) (*Carbon, error) {
	if len(stack) == 0 {
		return nil, fmt.Errorf("carbon: no layers; at least one")
	}
	if opt.Accuracy == 0 {
		opt.Accuracy = 0.005
	}
	if opt.Factor == 0 {
		opt.Factor = 1
	}
	if !(opt.Accuracy >= 1e-6 && opt.Accuracy <= 0.1) || !(opt.Factor > 0 && opt.Factor <= 10) {
		return nil, fmt.Errorf("carbon: accuracy %g %%, factor %g; 1e-6 to 0.1 %% and up to 10", opt.Accuracy, opt.Factor)
	}
	c := &Carbon{opt: opt}
	pieces := make([][]float64, len(stack))
	for i, l := range stack {
		if !(l.Thickness >= 1e-6 && l.Thickness <= 1) {
			return nil, fmt.Errorf("carbon: layer %d is %g m thick; 1e-6 to 1", i+1, l.Thickness)
		}
		made, err := c.newLayer(l)
		if err != nil {
			return nil, fmt.Errorf("carbon: layer %d: %w", i+1, err)
		}
		made.openJoin = l.Open && i > 0
		made.group = i
		for _, o := range c.layers {
			if o.name == made.name && o.c == made.c && o.density == made.density {
				made.group = o.group
				break
			}
		}
		c.layers = append(c.layers, made)
		pieces[i] = spaced(l.Thickness, c.opt.Accuracy)
	}
	c.lay(pieces)
	for i := range c.layers {
		l := &c.layers[i]
		for n := l.first; n <= l.last; n++ {
			c.u[n] = l.start * l.density / 100
		}
	}
	c.initial = c.grid.Total(c.u)
	c.spread0 = c.spread()
	return c, nil
}

func (c *Carbon) newLayer(in Layer) (layer, error) {
	m := in.Material
	comp := Of(m)
	if !(comp.C >= 0 && comp.C <= maxAcmC) || !(m.Density >= 1000) {
		return layer{}, fmt.Errorf("%q has %g %%C, density %g kg/m3; 0 to 2.11 %%, at least 1000", m.Name, comp.C, m.Density)
	}
	l := layer{name: m.Name, c: comp, kind: kindOf(m, comp), density: m.Density, factor: 1,
		slow: c.opt.Factor * slowing(comp.Cr), start: comp.C, stretch: 1, a1: comp.a1(), a3: comp.a3Iron()}
	switch l.kind {
	case nickel, barrier:
		l.start = math.Min(l.start, 0.1)
		return l, nil
	case chromium:
		l.a1, l.a3 = heatingRange(m)
	}
	l.factor = Gunnarson(comp)
	if l.kind != plain {
		c.warn("carbon moving into %s: its chromium holds and slows carbon by laws meant for low-alloy steel, and carbides form; only the direction is sure", m.Name)
	}
	return l, nil
}

// heatingRange is where a chromium steel turns to austenite, K, from its
// enthalpy; 820 and 950 C where the material does not say.
func heatingRange(m steel.Material) (a1, a3 float64) {
	if n := len(m.OnHeating.T); n > 1 && m.Latent > 0 {
		return m.OnHeating.T[0], m.OnHeating.T[n-1]
	}
	return zeroC + 820, zeroC + 950
}

// saturation is the most carbon the layer dissolves beside carbide, wt %.
func (l *layer) saturation(tempK float64) float64 {
	if l.kind == plain {
		return AcmCarbon(l.c, tempK)
	}
	return 5
}

func (c *Carbon) warn(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	for _, w := range c.warnings {
		if w == s {
			return
		}
	}
	c.warnings = append(c.warnings, s)
}

// Warnings lists what was computed outside the range of its law.
func (c *Carbon) Warnings() []string { return append([]string(nil), c.warnings...) }

// Faces says what the two faces stand in from now on.
func (c *Carbon) Faces(b, a Atmosphere) { c.face = [2]Atmosphere{b, a} }

// Weld closes every joint.
func (c *Carbon) Weld() {
	for i := range c.layers {
		c.layers[i].openJoin = false
	}
}

// Thin makes every layer thinner (or thicker) by a factor, thickness after over
// thickness before. Carbon moves with the metal; none is lost.
func (c *Carbon) Thin(factor float64) error {
	f := make([]float64, len(c.layers))
	for i := range f {
		f[i] = factor
	}
	return c.ThinLayers(f)
}

// ThinLayers makes each layer thinner by its own factor, from side B.
func (c *Carbon) ThinLayers(factors []float64) error {
	if len(factors) != len(c.layers) {
		return fmt.Errorf("carbon: %d factors of thickness for %d layers; one each", len(factors), len(c.layers))
	}
	for i, f := range factors {
		if now := f * c.layers[i].stretch; !(now > 1e-5 && now < 1e3) {
			return fmt.Errorf("carbon: layer %d thinned by %g; a positive factor, in all 1e-5 to 1e3", i+1, f)
		}
	}
	for i, f := range factors {
		c.layers[i].stretch *= f
	}
	return nil
}

// Hold keeps the whole stack at tempK (K) for dt (s).
func (c *Carbon) Hold(dt, tempK float64) error { return c.HoldProfile(dt, []float64{tempK}) }

// HoldProfile keeps the stack for dt (s) at temperatures (K) given at every
// layer's face from side B to side A, one more than there are layers, straight
// between; or a single one for all. Below 500 C nothing moves. Above 1550 C it
// refuses.
func (c *Carbon) HoldProfile(dt float64, tempsK []float64) error {
	if !(dt >= 0) || math.IsInf(dt, 0) {
		return fmt.Errorf("carbon: a hold of %g s; zero or more", dt)
	}
	if len(tempsK) != 1 && len(tempsK) != len(c.layers)+1 {
		return fmt.Errorf("carbon: %d temperatures for %d layers; one, or one at every face", len(tempsK), len(c.layers))
	}
	hottest := 0.0
	for _, t := range tempsK {
		if !(t > 0 && t <= zeroC+1550) {
			return fmt.Errorf("carbon: %.4g K; above 0 and at most 1823 K", t)
		}
		hottest = math.Max(hottest, t)
	}
	if dt == 0 || hottest < coldest {
		return nil
	}
	c.med.set(c, tempsK, hottest)
	c.keepPace(hottest)
	return c.run(dt)
}

// keepPace shortens or lengthens the next step to try as diffusion quickens or
// slows between holds.
func (c *Carbon) keepPace(hottestK float64) {
	thin := math.Inf(1)
	for i := range c.layers {
		thin = math.Min(thin, c.layers[i].stretch)
	}
	pace := Agren(hottestK, 0.5) / (thin * thin)
	c.h *= c.pace / pace
	c.pace = pace
}

// coldest is the temperature below which carbon is taken to rest, K.
const coldest = zeroC + 500

// stepShare is the share of the accuracy that the error estimate of one step may
// reach, a mean over the nodes; checked against closed forms and a run a
// hundred times as fine.
const stepShare = 0.1

// run advances by dt with steps of controlled error.
func (c *Carbon) run(dt float64) error {
	tol := stepShare * c.opt.Accuracy
	c.step.Start(c.u, 0)
	if c.h == 0 {
		c.h = c.firstStep(tol)
	}
	for t := 0.0; t < dt; {
		h := c.h
		last := t+h >= dt*(1-1e-12)
		if last {
			h = dt - t
		} else if t+1.6*h > dt {
			h = 0.5 * (dt - t)
		}
		c.step.Step(c.u, 0, h)
		err := c.step.ErrorNorm(c.weight) / tol
		factor := 0.2
		switch {
		case err == 0:
			factor = 5
		case err > 0:
			factor = math.Min(5, math.Max(0.2, 0.88*math.Pow(err, -1.0/3)))
		}
		if !(err <= 1) {
			c.Rejected++
			if c.h = h * factor; c.h < 1e-12 {
				return fmt.Errorf("carbon: the step fell below 1e-12 s; no solution found")
			}
			continue
		}
		c.u, c.step.New = c.step.New, c.u
		c.through += c.step.Inflow
		t += h
		c.Steps++
		c.step.Start(c.u, 0)
		if !last || factor < 1 {
			c.h = h * factor
		} else {
			c.h = math.Max(c.h, h*factor)
		}
	}
	return nil
}

// firstStep is short enough for the node that changes fastest after a jump.
func (c *Carbon) firstStep(tol float64) float64 {
	var fastest float64
	for i, r := range c.step.StartRate() {
		fastest = math.Max(fastest, math.Abs(r)*c.weight[i])
	}
	if fastest == 0 {
		return 1
	}
	return math.Max(1e-9, 10*tol/fastest)
}

// Balance is the carbon in kg per m2 of the face of the last stacking: what
// stood in it then, what it holds now, what came in through the faces (less than
// zero when lost) and what was taken off with metal. start + through = now +
// ground.
func (c *Carbon) Balance() (start, now, through, ground float64) {
	return c.initial, c.grid.Total(c.u), c.through, c.ground
}
