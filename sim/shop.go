package sim

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/optimize"

	"billet/layers"
	"billet/sim/heat"
)

// BarFit is what a timed plain bar says of a forge: how much heat it gives at
// its reading, against what the job's emissivity and film would.
type BarFit struct {
	Exchange float64 // factor on radiation and film; 1 is as the job says
	Plus     float64 // the factor is within ± this, 2.5 standard errors
	Readings []ReadingFit
	// Contradicts says that no one factor fits: some reading lies further off
	// than it can by its own uncertainty.
	Contradicts bool
}

// ReadingFit is one reading against the fitted forge.
type ReadingFit struct {
	Seen
	Model  float64 // K, by the fitted forge
	Within bool    // within the reading's own uncertainty
}

// Readings are taken as normally spread with their stated bounds at two
// standard deviations; the fit's bound is at 2.5 of its own, which holds 98.8 %.
const (
	boundSigmas = 2.0
	fitSigmas   = 2.5
	leastSigma  = 2.0 // K, no reading is better
)

// barJob is the test bar in the job's forge.
func barJob(j *Job) *Job {
	b := j.Shop.Bar
	c := j.with()
	c.Stack = Stack{Width: b.Width, Length: b.Length, Start: j.Stack.Start,
		Layers: []Layer{{Material: b.Material, Thickness: b.Thickness, Core: true}}}
	return c
}

// barTemps is the skin of the bar at the readings' times with the exchange
// changed by a factor, K. The readings are in order of time.
func barTemps(bar *Job, factor float64, seen []Seen) ([]float64, error) {
	c := bar.with()
	scaleExchange(c, factor)
	in := c.surroundings(InForge)
	f, err := heat.New(heatBody(c, 2), c.Stack.Start, heat.Options{Accuracy: 1, All: []heat.Surroundings{in}})
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(seen))
	for i, s := range seen {
		if _, err := f.Run(heat.Stage{In: in, End: heat.End{Timed: true, Time: s.Time - f.Time()}}, nil); err != nil {
			return nil, err
		}
		out[i] = f.Read(heat.Skin)
	}
	return out, nil
}

// scaleExchange multiplies what radiation and film bring to every face that
// sees the fire.
func scaleExchange(c *Job, factor float64) {
	eachFace(c, func(s Surround) Surround {
		if s.Emissivity > 0 {
			s.Emissivity *= factor
			s.Film *= factor
		}
		return s
	})
}

func (s Seen) sigma() float64 {
	return math.Max(leastSigma, (s.Plus+s.Minus)/2/boundSigmas)
}

// fitBar finds the exchange that fits the readings best, by least squares over
// the readings weighted with their uncertainty.
func fitBar(j *Job) (*BarFit, error) {
	bar := barJob(j)
	seen := sortedSeen(j.Shop.Seen)
	var failed error
	misfit := func(x []float64) float64 {
		t, err := barTemps(bar, math.Exp(x[0]), seen)
		if err != nil {
			failed = err
			return math.Inf(1)
		}
		sum := 0.0
		for i, s := range seen {
			r := (t[i] - s.Temperature) / s.sigma()
			sum += r * r
		}
		return sum
	}
	best, err := leastOn(misfit, math.Log(0.25), math.Log(4))
	if failed != nil {
		return nil, failed
	}
	if err != nil {
		return nil, err
	}
	return judgeFit(bar, math.Exp(best), seen)
}

// leastOn is the least of a function of one variable between bounds: a coarse
// look, then Nelder–Mead from the best place.
func leastOn(f func([]float64) float64, lo, hi float64) (float64, error) {
	const looks = 12
	best, at := math.Inf(1), lo
	for i := range looks + 1 {
		x := lo + (hi-lo)*float64(i)/looks
		if v := f([]float64{x}); v < best {
			best, at = v, x
		}
	}
	res, err := optimize.Minimize(optimize.Problem{Func: f}, []float64{at},
		&optimize.Settings{Converger: &optimize.FunctionConverge{Absolute: 1e-7, Relative: 1e-9, Iterations: 8}},
		&optimize.NelderMead{SimplexSize: (hi - lo) / looks / 2})
	if err != nil {
		return 0, fmt.Errorf("test bar: %w", err)
	}
	return res.X[0], nil
}

// judgeFit says how well the readings determine the factor.
func judgeFit(bar *Job, factor float64, seen []Seen) (*BarFit, error) {
	const d = 0.01
	at, err := barTemps(bar, factor, seen)
	if err != nil {
		return nil, err
	}
	up, err := barTemps(bar, factor*(1+d), seen)
	if err != nil {
		return nil, err
	}
	fit := &BarFit{Exchange: factor}
	var info float64
	for i, s := range seen {
		slope := (up[i] - at[i]) / (factor * d) / s.sigma()
		info += slope * slope
		off := at[i] - s.Temperature
		within := off <= s.Plus+leastSigma && -off <= s.Minus+leastSigma
		fit.Readings = append(fit.Readings, ReadingFit{Seen: s, Model: at[i], Within: within})
		fit.Contradicts = fit.Contradicts || !within
	}
	fit.Plus = fitSigmas / math.Sqrt(info)
	return fit, nil
}

func sortedSeen(in []Seen) []Seen {
	out := append([]Seen(nil), in...)
	for i := range out {
		for k := i; k > 0 && out[k].Time < out[k-1].Time; k-- {
			out[k], out[k-1] = out[k-1], out[k]
		}
	}
	return out
}

// SqueezeFit is what a measured squeeze says of strength and friction together:
// a factor on the force the model would have asked.
type SqueezeFit struct {
	Measured, Model float64 // N
	Factor          float64
	Low, High       float64 // of the factor: gauge 10 %, temperature ±30 K
}

// errSqueeze says that a measured squeeze cannot be used.
var errSqueeze = errors.New("a measured squeeze needs the press with its bore and the bar it was done on")

// fitSqueeze works the measured squeeze through and compares the force.
func fitSqueeze(ctx context.Context, j *Job) (*SqueezeFit, error) {
	q, bar := j.Shop.Squeeze, j.Shop.Bar
	if j.Press == nil || j.Press.Bore == 0 || bar == nil {
		return nil, errSqueeze
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	force := func(dT float64) (float64, error) {
		l := layers.Layer{Name: bar.Material.Name, Thickness: q.From, Strength: strength(Layer{Material: bar.Material})}
		s, err := layers.NewStack(q.Width, bar.Length, []layers.Layer{l}, nil, 0, layers.Mesh{PerLayer: 6})
		if err != nil {
			return 0, err
		}
		tool := pressTool(j.Press, j.Press.FrictionTop, j.Press.FrictionBottom, changes{})
		o, err := tool.Pass(s, layers.Pass{To: q.To, Temperature: func(_, _ float64) float64 { return q.Temperature + dT }})
		if err != nil {
			return 0, err
		}
		return o.ForceMax, nil
	}
	const gauge, off = 0.10, 30.0
	mid, err := force(0)
	if err != nil {
		return nil, err
	}
	cold, err := force(-off)
	if err != nil {
		return nil, err
	}
	hot, err := force(off)
	if err != nil {
		return nil, err
	}
	f := &SqueezeFit{Measured: q.Pressure * math.Pi / 4 * j.Press.Bore * j.Press.Bore, Model: mid}
	f.Factor = f.Measured / f.Model
	f.Low, f.High = f.Measured*(1-gauge)/cold, f.Measured*(1+gauge)/hot
	return f, nil
}
