package sim

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Sweep is how the lag of the joints behind the skin goes with one thing a
// smith can change, all else as in the job.
type Sweep struct {
	What  string // "joint tightness", ...
	Unit  string // of At: "W/m2K", "K", "s"
	Log   bool   // At is best drawn on a logarithmic scale
	At    []float64
	Lag   []float64 // s; NaN never occurs: points out of reach are left out
	Here  float64   // At of this job
	HasIt bool      // Here lies within the sweep
	Note  string    // one sentence
}

// withHere is rising values to sweep, with this job's own among them where it lies
// between: it is then worked out and not read off the line. It takes the place of a
// value beside it.
func (s Sweep) withHere(at []float64) []float64 {
	k, found := slices.BinarySearch(at, s.Here)
	if !s.HasIt || found || k == 0 || k == len(at) {
		return at
	}
	const beside = 0.25 // of the way between two values
	out := slices.Clone(at)
	switch f := (s.Here - at[k-1]) / (at[k] - at[k-1]); {
	case f < beside && k > 1:
		out[k-1] = s.Here
	case f > 1-beside && k < len(at)-1:
		out[k] = s.Here
	default:
		out = slices.Insert(out, k, s.Here)
	}
	return out
}

// sweeps are the four causes of a cold core, each swept alone.
func sweeps(ctx context.Context, j *Job, dims int) ([]Sweep, error) {
	var out []Sweep
	for _, s := range [](func(*Job) (Sweep, []*Job)){jointSweep, floorSweep, forgeSweep} {
		w, jobs := s(j)
		if len(jobs) == 0 {
			continue
		}
		answers, err := coarseSoaks(ctx, jobs, dims)
		if err != nil {
			return nil, err
		}
		at := w.At
		w.At = nil
		for i, a := range answers {
			if a.Lag.OK {
				w.At, w.Lag = append(w.At, at[i]), append(w.Lag, a.Lag.Value)
			}
		}
		if w.What == forgeTemperature {
			w.Note = forgeNote(w.Lag)
		}
		out = append(out, w)
	}
	early, err := earlySweep(ctx, j, dims)
	if err != nil {
		return nil, err
	}
	return append(out, early), nil
}

func jointSweep(j *Job) (Sweep, []*Job) {
	s := Sweep{What: "joint tightness", Unit: "W/m2K", Log: true,
		Note: "Loose joints hold heat back far more than the steel does; clamp them, grind them, keep scale out."}
	if len(j.Stack.Layers) < 2 {
		return s, nil
	}
	s.Here, s.HasIt = j.Stack.Layers[1].Joint.At(1273, 1273), true
	if math.IsInf(s.Here, 0) {
		s.HasIt = false
		s.Here = 0
	}
	var jobs []*Job
	for _, h := range s.withHere([]float64{150, 300, 600, 1000, 2000, 5000, 15000}) {
		c := j.with()
		c.Stack.Layers = append([]Layer(nil), j.Stack.Layers...)
		for i := range c.Stack.Layers {
			c.Stack.Layers[i].Joint = Joint{State: Given, Conductance: h}
		}
		s.At, jobs = append(s.At, h), append(jobs, c)
	}
	return s, jobs
}

// floorSweep sets the bottom face to a floor of a temperature, in the contact
// the job gives or that of a brick.
func floorSweep(j *Job) (Sweep, []*Job) {
	s := Sweep{What: "floor temperature", Unit: "K", Note: "A cold floor or a flame from one side leaves the far side behind; raise the billet and turn it."}
	top := j.Forge.Whole.Wall.At(0)
	bottom := j.Forge.Surround(Bottom)
	if bottom.Emissivity > 0 {
		bottom = Surround{Film: brickFilm}
	}
	if own := j.Forge.Faces[Bottom]; own != nil {
		const soon = 300.0 // s: where the floor changes, as it is a few minutes in
		s.Here, s.HasIt = own.Gas.At(soon), true
	}
	var jobs []*Job
	for d := -500.0; d <= 0; d += 100 {
		c := j.with()
		b := bottom
		b.Wall, b.Gas = Constant(top+d), Constant(top+d)
		c.Forge.Faces[Bottom] = &b
		s.At, jobs = append(s.At, top+d), append(jobs, c)
	}
	return s, jobs
}

// brickFilm is the contact of a billet with the floor it lies on, W/m2K
// (assumed: as a scaled bar at rest on a die, 200 to 1000).
const brickFilm = 300.0

const forgeTemperature = "forge temperature"

// forgeNote says what the sweep over the forge's temperature shows: lags from the
// coolest forge to the hottest, s.
func forgeNote(lag []float64) string {
	const alike = 0.3
	if n := len(lag); n > 1 && lag[0]-lag[n-1] > alike*lag[0] {
		return "Barely above the welding heat the last joint waits and waits; a hotter forge shortens that, but the skin runs further ahead in degrees and burns sooner."
	}
	return "A hotter forge hurries skin and joints alike: the wait stays much the same in minutes, but the gap in degrees grows with the fire."
}

func forgeSweep(j *Job) (Sweep, []*Job) {
	s := Sweep{What: forgeTemperature, Unit: "K", Here: j.Forge.Whole.Wall.At(0), HasIt: true}
	var jobs []*Job
	var ats []float64
	for over := 25.0; over <= 250; over += 45 {
		ats = append(ats, j.Weld.Heat+over)
	}
	for _, at := range s.withHere(ats) {
		c := j.with()
		shiftForge(c, at-s.Here)
		s.At, jobs = append(s.At, at), append(jobs, c)
	}
	return s, jobs
}

// earlySweep is how far the coldest joint is below the skin when the billet is
// pulled a time after the skin looks ready.
func earlySweep(ctx context.Context, j *Job, dims int) (Sweep, error) {
	s := Sweep{What: "pulled this long after the skin looks ready", Unit: "s",
		Note: "What the coldest joint still lacks of welding heat if it is pulled early."}
	run, err := runSoak(ctx, j, dims, rangeAccuracy, 1)
	if err != nil {
		return s, err
	}
	a := run.soak.Answers
	if !a.SkinAtWeld.OK || len(j.Stack.Layers) < 2 {
		return s, nil
	}
	start := a.SkinAtWeld.Value + run.forge
	span := 300.0
	if a.Lag.OK {
		span = math.Max(60, 1.3*a.Lag.Value)
	}
	for k := range 9 {
		t := start + span*float64(k)/8
		s.At = append(s.At, t-start)
		s.Lag = append(s.Lag, math.Max(0, j.Weld.Heat-run.jointAt(t)))
	}
	s.Unit = "s"
	if n := len(run.soak.Stages); n > 0 {
		s.Here = run.soak.Stages[n-1].End - start // when the job's heats end
		s.HasIt = s.Here >= 0 && s.Here <= span
	}
	return s, nil
}

// jointAt is the coldest joint at a time, through the stages and after, K.
func (r *soakRun) jointAt(t float64) float64 {
	h := r.soak.History
	if n := len(h.Time); n > 0 && t > h.Time[n-1] && len(r.soak.RunOn.Time) > 1 {
		h = r.soak.RunOn
	}
	return interpolate(h.Time, h.ColdestJoint, min(max(t, h.Time[0]), h.Time[len(h.Time)-1]))
}

// Day is what the job takes of time and fuel.
type Day struct {
	Heats   int
	Forge   float64 // s in the fire
	Preheat float64 // s before the first billet goes in
	Work    float64 // s at the tools
	Energy  float64 // J of fuel; 0: no burner given
}

// String is the day in words.
func (d Day) String() string {
	s := fmt.Sprintf("%d heats, %.0f min in the fire, %.0f min at the tools", d.Heats, d.Forge/60, d.Work/60)
	if d.Energy > 0 {
		s += fmt.Sprintf(", %.1f kWh of fuel", d.Energy/3.6e6)
	}
	return s
}
