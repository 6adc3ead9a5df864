package sim

import (
	"context"
	"fmt"
	"math"
	"sync"
)

// Range is how low and how high an answer may lie. High is +Inf where it may
// never come.
type Range struct {
	Low, High float64 // s
	OK        bool
}

// SoakRanges are the ranges of the answers, and what makes them wide.
type SoakRanges struct {
	SkinAtWeld, JointsAtWeld, CoreAtWeld, Lag, PullForFlux, Soak, Overheats, Window Range
	// Widest says which unknown makes most of the soak's range, and Share by
	// how much of it, 0..1.
	Widest string
	Share  float64
	// Causes are the widths of the soak's range by each unknown alone, s,
	// widest first.
	Causes []RangeCause
}

// RangeCause is one unknown and the soak at either end of it alone, s.
type RangeCause struct {
	What      string
	Low, High float64
}

// unknown is something the smith can't know exactly. at sets it in a job: x = 1
// is the end at which the billet heats fastest, −1 the slowest, 0 as stated.
type unknown struct {
	what string
	at   func(c *Job, x float64)
	// within: it moves heat inside the billet, so that what speeds the joints
	// slows the skin.
	within bool
}

// The spread of what the job did not state. Emissivity of scaled steel 0.7 to
// 0.9 (handbook tables, read in excerpt: oxidised steel 0.78–0.82 to 500 °C,
// 0.85–0.89 at 1200 °C; less while it scales); film by kind of forge as half to
// double (assumed); a thermocouple or a judged colour in a forge ±20 K (common
// practice, no source) unless [spread] says otherwise.
const (
	emissivityLow, emissivityHigh = 0.70, 0.90
	filmShare                     = 2.0
)

// unknowns lists what this job leaves open.
func unknowns(j *Job) []unknown {
	var out []unknown
	spread := DefaultSpread()
	if j.Spread != nil {
		spread = *j.Spread
	}
	if d := spread.Reading; d > 0 {
		out = append(out, unknown{what: "the forge reading", at: func(c *Job, x float64) { shiftForge(c, d*x) }})
	}
	if f := j.fit; f != nil {
		out = append(out, unknown{what: "what the timed bar leaves open of the fire's strength",
			at: func(c *Job, x float64) { scaleExchange(c, math.Max(0.05, 1+x*f.Plus/f.Exchange)) }})
	} else {
		out = append(out, unfitted(j)...)
	}
	for _, l := range j.Stack.Layers[1:] {
		if lo, hi := l.Joint.Range(); lo != hi {
			out = append(out, unknown{what: "how tight the joints are", at: scaleJoints, within: true})
			break
		}
	}
	return out
}

// unfitted is what is unknown of the fire where no bar was timed in it.
func unfitted(j *Job) []unknown {
	var out []unknown
	if !j.Forge.EmissivityGiven {
		out = append(out, unknown{what: "how well the skin takes up the fire's glow (scale, flame)", at: setEmissivity})
	}
	if !j.Forge.FilmGiven {
		out = append(out, unknown{what: "the draught of hot gas on the billet",
			at: func(c *Job, x float64) { scaleFilm(c, math.Pow(filmShare, x)) }})
	}
	return out
}

// eachFace changes what the whole and every odd face of the forge see.
func eachFace(c *Job, change func(Surround) Surround) {
	c.Forge.Whole = change(c.Forge.Whole)
	for f, s := range c.Forge.Faces {
		if s != nil {
			v := change(*s)
			c.Forge.Faces[f] = &v
		}
	}
}

func shiftForge(c *Job, by float64) {
	eachFace(c, func(s Surround) Surround { return heated(s, by) })
}

// setEmissivity moves the faces that see the fire between their own emissivity
// and the ends of its range.
func setEmissivity(c *Job, x float64) {
	eachFace(c, func(s Surround) Surround {
		end := math.Max(s.Emissivity, emissivityHigh)
		if x < 0 {
			end = math.Min(s.Emissivity, emissivityLow)
		}
		if s.Emissivity > 0 {
			s.Emissivity += math.Abs(x) * (end - s.Emissivity)
		}
		return s
	})
}

// scaleFilm changes the draught on the faces that see the fire.
func scaleFilm(c *Job, f float64) {
	eachFace(c, func(s Surround) Surround {
		if s.Emissivity > 0 {
			s.Film *= f
		}
		return s
	})
}

// scaleJoints moves every joint's conductance within its range, by ratio.
func scaleJoints(c *Job, x float64) {
	c.Stack.Layers = append([]Layer(nil), c.Stack.Layers...)
	for i := range c.Stack.Layers {
		lo, hi := c.Stack.Layers[i].Joint.Range()
		c.Stack.Layers[i].Joint.Factor = math.Pow(hi, math.Max(0, x)) * math.Pow(lo, math.Max(0, -x))
	}
}

// rangeAccuracy is the accuracy of the runs at the bounds, K: they are used as
// ratios to a run of the same accuracy.
const rangeAccuracy = 4.0

// corners is how many runs at combined bounds come after the base run.
const corners = 4

// ranges finds the bounds of the answers. Everything comes later where the fire
// gives less; what lies inside the billet may speed one answer and slow another,
// so both ends of it are run with the strongest fire and with the weakest. Each
// unknown alone says which matters.
func ranges(ctx context.Context, j *Job, s *Soak) (*SoakRanges, error) {
	list := unknowns(j)
	jobs := []*Job{j}
	for _, fire := range [2]float64{1, -1} {
		for _, inside := range [2]float64{1, -1} {
			c := j.with()
			for _, u := range list {
				if u.within {
					u.at(c, inside)
				} else {
					u.at(c, fire)
				}
			}
			jobs = append(jobs, c)
		}
	}
	for _, u := range list {
		for _, x := range [2]float64{1, -1} {
			c := j.with()
			u.at(c, x)
			jobs = append(jobs, c)
		}
	}
	answers, err := coarseSoaks(ctx, jobs, min(2, s.Grid.Dims))
	if err != nil {
		return nil, err
	}
	r := &SoakRanges{}
	fill := func(get func(SoakAnswers) Maybe) Range {
		var ends []Maybe
		for _, a := range answers[1 : 1+corners] {
			ends = append(ends, get(a))
		}
		return bounds(get(s.Answers), get(answers[0]), ends...)
	}
	r.SkinAtWeld = fill(func(a SoakAnswers) Maybe { return a.SkinAtWeld })
	r.JointsAtWeld = fill(func(a SoakAnswers) Maybe { return a.JointsAtWeld })
	r.CoreAtWeld = fill(func(a SoakAnswers) Maybe { return a.CoreAtWeld })
	r.PullForFlux = fill(func(a SoakAnswers) Maybe { return a.PullForFlux })
	r.Overheats = fill(func(a SoakAnswers) Maybe { return a.Overheats })
	r.soak(j, s)
	r.causes(list, s.Answers, answers)
	r.differences(s.Answers, answers)
	return r, nil
}

// with is a copy of the job that changes can be made to.
func (j *Job) with() *Job {
	c := *j
	return &c
}

// coarseSoaks runs jobs coarsely, side by side.
func coarseSoaks(ctx context.Context, jobs []*Job, dims int) ([]SoakAnswers, error) {
	out := make([]SoakAnswers, len(jobs))
	errs := make([]error, len(jobs))
	var wg sync.WaitGroup
	gate := make(chan struct{}, 2)
	for i, c := range jobs {
		wg.Add(1)
		go func() {
			defer wg.Done()
			gate <- struct{}{}
			defer func() { <-gate }()
			run, err := runSoak(ctx, c, dims, rangeAccuracy, 1)
			if err == nil {
				out[i] = run.soak.Answers
			}
			errs[i] = err
		}()
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// bounds carries the ratios of the coarse runs over to the answer.
func bounds(v, base Maybe, ends ...Maybe) Range {
	r := Range{Low: math.Inf(1), High: math.Inf(-1)}
	take := func(t float64) { r.Low, r.High, r.OK = math.Min(r.Low, t), math.Max(r.High, t), true }
	ratio := 1.0
	if v.OK {
		take(v.Value)
		if base.OK && base.Value > 0 {
			ratio = v.Value / base.Value
		}
	}
	for _, e := range ends {
		if e.OK {
			take(e.Value * ratio)
		}
	}
	if !r.OK {
		return Range{}
	}
	for _, e := range ends {
		if !e.OK {
			r.High = math.Inf(1) // at this end it never comes
		}
	}
	return r
}

// soak is the range of the whole soak: that of the joints (the core with one
// layer) and the hold.
func (r *SoakRanges) soak(j *Job, s *Soak) {
	ready := r.JointsAtWeld
	if len(j.Stack.Layers) < 2 {
		ready = r.CoreAtWeld
	}
	if ready.OK {
		r.Soak = Range{Low: ready.Low + j.Weld.Hold, High: ready.High + j.Weld.Hold, OK: true}
	}
}

// differences are the ranges of lag and window, taken over all runs at the
// bounds: they are not monotonic in every unknown.
func (r *SoakRanges) differences(v SoakAnswers, runs []SoakAnswers) {
	over := func(get func(SoakAnswers) Maybe) Range {
		base, now := get(runs[0]), get(v)
		if !base.OK || !now.OK {
			return Range{}
		}
		out := Range{Low: now.Value, High: now.Value, OK: true}
		for _, a := range runs[1:] {
			if m := get(a); m.OK {
				out.Low = math.Min(out.Low, now.Value+m.Value-base.Value)
				out.High = math.Max(out.High, now.Value+m.Value-base.Value)
			} else {
				out.High = math.Inf(1)
			}
		}
		return out
	}
	r.Lag = over(func(a SoakAnswers) Maybe { return a.Lag })
	r.Window = over(func(a SoakAnswers) Maybe { return a.Window })
}

// causes ranks the unknowns by what each alone does to the soak.
func (r *SoakRanges) causes(list []unknown, v SoakAnswers, runs []SoakAnswers) {
	whole := 0.0
	for i, u := range list {
		b := bounds(v.Soak, runs[0].Soak, runs[1+corners+2*i].Soak, runs[2+corners+2*i].Soak)
		if !b.OK {
			continue
		}
		c := RangeCause{What: u.what, Low: b.Low, High: b.High}
		whole += c.width()
		at := len(r.Causes)
		for at > 0 && r.Causes[at-1].width() < c.width() {
			at--
		}
		r.Causes = append(r.Causes, RangeCause{})
		copy(r.Causes[at+1:], r.Causes[at:])
		r.Causes[at] = c
	}
	if len(r.Causes) == 0 {
		return
	}
	r.Widest = r.Causes[0].What
	switch {
	case math.IsInf(whole, 1):
		r.Share = 1
	case whole > 0:
		r.Share = r.Causes[0].width() / whole
	}
}

func (c RangeCause) width() float64 { return c.High - c.Low }

// String is the range in seconds, for messages.
func (r Range) String() string { return fmt.Sprintf("%.0f to %.0f s", r.Low, r.High) }
