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

// unknown is something the smith can't know exactly: fast and slow are the job
// with it at the end that heats faster or slower.
type unknown struct {
	what       string
	fast, slow func(*Job)
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
		out = append(out, unknown{"the forge reading", func(c *Job) { shiftForge(c, d) }, func(c *Job) { shiftForge(c, -d) }})
	}
	if f := j.fit; f != nil {
		out = append(out, unknown{"what the timed bar leaves open of the fire's strength",
			func(c *Job) { scaleExchange(c, 1+f.Plus/f.Exchange) }, func(c *Job) { scaleExchange(c, math.Max(0.05, 1-f.Plus/f.Exchange)) }})
	} else {
		out = append(out, unfitted(j)...)
	}
	for _, l := range j.Stack.Layers[1:] {
		if lo, hi := l.Joint.Range(); lo != hi {
			out = append(out, unknown{"how tight the joints are", func(c *Job) { scaleJoints(c, true) }, func(c *Job) { scaleJoints(c, false) }})
			break
		}
	}
	return out
}

// unfitted is what is unknown of the fire where no bar was timed in it.
func unfitted(j *Job) []unknown {
	var out []unknown
	if !j.Forge.EmissivityGiven {
		out = append(out, unknown{"how well the skin takes up the fire's glow (scale, flame)",
			func(c *Job) { setEmissivity(c, emissivityHigh) }, func(c *Job) { setEmissivity(c, emissivityLow) }})
	}
	if !j.Forge.FilmGiven {
		out = append(out, unknown{"the draught of hot gas on the billet",
			func(c *Job) { scaleFilm(c, filmShare) }, func(c *Job) { scaleFilm(c, 1/filmShare) }})
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

// setEmissivity changes the faces that see the fire.
func setEmissivity(c *Job, e float64) {
	eachFace(c, func(s Surround) Surround {
		if s.Emissivity > 0 {
			s.Emissivity = min(1, e)
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

func scaleJoints(c *Job, up bool) {
	c.Stack.Layers = append([]Layer(nil), c.Stack.Layers...)
	for i := range c.Stack.Layers {
		lo, hi := c.Stack.Layers[i].Joint.Range()
		c.Stack.Layers[i].Joint.Factor = lo
		if up {
			c.Stack.Layers[i].Joint.Factor = hi
		}
	}
}

// rangeAccuracy is the accuracy of the runs at the bounds, K: they are used as
// ratios to a run of the same accuracy.
const rangeAccuracy = 4.0

// ranges finds the bounds of the answers. Every answer comes later where the
// billet takes up heat more slowly, so all unknowns at their fast ends and all
// at their slow ends bound it; each alone says which matters.
func ranges(ctx context.Context, j *Job, s *Soak) (*SoakRanges, error) {
	list := unknowns(j)
	jobs := []*Job{j, j.with(), j.with()}
	for _, u := range list {
		u.fast(jobs[1])
		u.slow(jobs[2])
		f, sl := j.with(), j.with()
		u.fast(f)
		u.slow(sl)
		jobs = append(jobs, f, sl)
	}
	answers, err := coarseSoaks(ctx, jobs, min(2, s.Grid.Dims))
	if err != nil {
		return nil, err
	}
	r := &SoakRanges{}
	fill := func(get func(SoakAnswers) Maybe) Range {
		return bounds(get(s.Answers), get(answers[0]), get(answers[1]), get(answers[2]))
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
func bounds(v, base, fast, slow Maybe) Range {
	if !v.OK || !base.OK {
		if fast.OK { // it may come, at the fast end
			return Range{Low: fast.Value, High: math.Inf(1), OK: true}
		}
		return Range{}
	}
	r := Range{Low: v.Value, High: math.Inf(1), OK: true}
	if fast.OK {
		r.Low = math.Min(v.Value, v.Value*fast.Value/base.Value)
	}
	if slow.OK {
		r.High = math.Max(v.Value, v.Value*slow.Value/base.Value)
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
		b := bounds(v.Soak, runs[0].Soak, runs[3+2*i].Soak, runs[4+2*i].Soak)
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
