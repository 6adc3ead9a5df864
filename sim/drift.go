package sim

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"
	"sync"
)

// ErrNoWork says that the job names no passes and no target to plan them for.
var ErrNoWork = errors.New("the job has no [[pass]] and no [target]; give the passes, or a target to plan them for")

// Passes takes the job's bar through its passes, planned to its target where
// none are given.
func Passes(ctx context.Context, j *Job, opt Options) (*Result, error) {
	res, _, err := passes(ctx, j, opt)
	return res, err
}

func passes(ctx context.Context, j *Job, opt Options) (*Result, *worker, error) {
	res := &Result{Job: j, Assumed: workAssumptions(j), Cautions: append(workCautions(j), forgeCautions()...)}
	j, about, err := prepare(ctx, j, opt, res)
	if err != nil {
		return nil, nil, err
	}
	res.Squeeze = about.Squeeze
	list, reasons, ok := j.Passes, []string(nil), true
	if len(list) == 0 {
		if j.Target == nil {
			return nil, nil, ErrNoWork
		}
		list, reasons, ok, err = planPasses(ctx, j, opt.Progress)
		if err != nil {
			return nil, nil, err
		}
	}
	w, err := runWork(ctx, j, list)
	if err != nil {
		return nil, nil, err
	}
	w.list = list
	w.out.Planned, w.out.Reasons = len(j.Passes) == 0, reasons
	w.out.Can = w.out.Can && ok
	for i := range w.out.Passes {
		if w.out.Planned && i < len(reasons) {
			w.out.Passes[i].LimitedBy = reasons[i]
		}
	}
	res.Work = w.out
	res.Warnings = workWarnings(w)
	return res, w, nil
}

// Drift is Passes, with the offset split into its causes, the flipping habits
// compared and what would make it smaller; Ground too where a blade is given.
func Drift(ctx context.Context, j *Job, opt Options) (*Result, error) {
	res, w, err := drift(ctx, j, opt)
	if err != nil || j.Blade == nil {
		return res, err
	}
	if res.Ground, err = grindFrom(j, w.bar()); err != nil {
		res.Ground = nil
		res.Warnings = append(res.Warnings, "What the bevels of the blade show could not be worked out: "+err.Error()+".")
	}
	return res, nil
}

func drift(ctx context.Context, j *Job, opt Options) (*Result, *worker, error) {
	res, w, err := passes(ctx, j, opt)
	if err != nil {
		return nil, nil, err
	}
	if err := w.explain(); err != nil {
		return nil, nil, err
	}
	if err := w.compare(); err != nil {
		return nil, nil, err
	}
	if opt.Draws > 0 {
		if w.out.Odds, err = w.odds(opt.Draws, opt.Seed, opt.Progress); err != nil {
			return nil, nil, err
		}
	}
	if j.Blade != nil {
		w.out.EdgeOffset = Maybe{Value: w.edgeOffset(), OK: true}
	}
	return res, w, nil
}

// edgeOffset is the offset where the blade's edge will lie, m.
func (w *worker) edgeOffset() float64 {
	b, e := w.job.Blade, w.out.Final
	y := e.Width/2 - b.EdgeFromSide
	if !b.EdgeRight {
		y = -y
	}
	at := e.Across.At
	y = min(max(y, at[0]), at[len(at)-1])
	return interpolate(at, e.Across.Value, y)
}

// trial is a changed job to work through beside the real one.
type trial struct {
	what   string
	effort int
	habit  *FlipHabit
	job    *Job
}

// compare works the bar again under other flipping habits and with the changes
// a smith could make, all at once on all cores.
func (w *worker) compare() error {
	trials := w.trials()
	type answer struct {
		out *Work
		err error
	}
	answers := make([]answer, len(trials))
	var wg sync.WaitGroup
	gate := make(chan struct{}, 2)
	for i, t := range trials {
		wg.Add(1)
		go func() {
			defer wg.Done()
			gate <- struct{}{}
			defer func() { <-gate }()
			o, err := runWork(w.ctx, t.job, w.list)
			if err == nil {
				answers[i].out = o.out
			}
			answers[i].err = err
		}()
	}
	wg.Wait()
	w.addFlip(w.job.Handling.Flip, w.out, true)
	for i, t := range trials {
		a := answers[i]
		if a.err != nil {
			if w.ctx.Err() != nil {
				return w.ctx.Err()
			}
			continue // the change makes the job impossible: no remedy
		}
		if t.habit != nil {
			w.addFlip(*t.habit, a.out, false)
		}
		if math.Abs(a.out.Final.Offset) < 0.8*math.Abs(w.out.Final.Offset) {
			w.out.Remedies = append(w.out.Remedies, Remedy{What: t.what, Offset: a.out.Final.Offset, Effort: t.effort})
		}
	}
	w.causeRemedies()
	sort.SliceStable(w.out.Flips, func(a, b int) bool { return w.out.Flips[a].Habit > w.out.Flips[b].Habit })
	total := math.Abs(w.out.Final.Offset)
	sort.SliceStable(w.out.Remedies, func(a, b int) bool {
		ra, rb := w.out.Remedies[a], w.out.Remedies[b]
		ha, hb := math.Abs(ra.Offset) <= total/2, math.Abs(rb.Offset) <= total/2
		if ha != hb {
			return ha
		}
		if ra.Effort != rb.Effort {
			return ra.Effort < rb.Effort
		}
		return math.Abs(ra.Offset) < math.Abs(rb.Offset)
	})
	return nil
}

func (w *worker) addFlip(h FlipHabit, o *Work, current bool) {
	f := Flipped{Habit: h, Offset: o.Final.Offset, Tilt: o.Final.Tilt, IsCurrent: current}
	for _, p := range o.Passes {
		f.ByPass = append(f.ByPass, p.Offset)
	}
	w.out.Flips = append(w.out.Flips, f)
}

// trials are the jobs to compare with.
func (w *worker) trials() []trial {
	var out []trial
	add := func(what string, effort int, change func(*Job)) *trial {
		c := *w.job
		change(&c)
		out = append(out, trial{what: what, effort: effort, job: &c})
		return &out[len(out)-1]
	}
	names := map[FlipHabit]string{FlipNever: "never turn it over", FlipEveryPass: "turn it over at every pass", FlipEveryHeat: "turn it over at every heat"}
	for _, h := range []FlipHabit{FlipNever, FlipEveryPass, FlipEveryHeat} {
		if h != w.job.Handling.Flip {
			add(names[h], 1, func(c *Job) { c.Handling.Flip = h }).habit = &h
		}
	}
	if w.cold {
		return out
	}
	if w.job.Handling.Rest > 0.5 {
		add("squeeze at once, without letting it lie on the die", 1, func(c *Job) { c.Handling.Rest = 0 })
	}
	const warm = 250 + 273.15 // K
	if p := w.job.Press; p != nil && p.Bottom.Temperature < warm {
		add("warm the dies to "+tempWords(w.job, warm), 2, func(c *Job) {
			press := *p
			press.Top.Temperature, press.Bottom.Temperature = warm, warm
			c.Press = &press
		})
	}
	if h := w.job.Hammer; h != nil && h.Anvil < warm {
		add("warm the anvil's face to "+tempWords(w.job, warm), 2, func(c *Job) {
			hammer := *h
			hammer.Anvil = warm
			c.Hammer = &hammer
		})
	}
	return out
}

// causeRemedies adds what taking away a cause that belongs to the stack or the
// tools would do, from the split.
func (w *worker) causeRemedies() {
	what := map[string]Remedy{
		StartJackets: {What: "stack jackets of equal thickness", Effort: 3},
		StrengthName: {What: "cut both jackets from one bar", Effort: 3},
		Friction:     {What: "make both tool faces alike, equally clean and dry", Effort: 2},
		ToolShape:    {What: "true the tools: parallel faces, and work both sides alike", Effort: 2},
		Slip:         {What: "set the weld with gentle squeezes at full heat before any heavy reduction", Effort: 1},
		Losses:       {What: "take the same off both faces", Effort: 1},
	}
	for _, c := range w.out.Causes {
		r, ok := what[c.Name]
		if !ok {
			continue
		}
		r.Offset = w.out.Final.Offset - c.Offset
		if math.Abs(r.Offset) < 0.8*math.Abs(w.out.Final.Offset) {
			w.out.Remedies = append(w.out.Remedies, r)
		}
	}
}

// workAssumptions is what the passes take for granted.
func workAssumptions(j *Job) []string {
	out := append([]string(nil), j.Assumed...)
	seen := map[string]bool{}
	for _, l := range j.Stack.Layers {
		if !seen[l.Material.Name] {
			seen[l.Material.Name] = true
			out = append(out, fmt.Sprintf("Strength of %s: %s.", l.Material.Name, l.Material.FlowRange()))
		}
	}
	return append(out,
		"Forces are good to about 15 %, width gained to 20 % under the press and 40 % in the rolls.",
		fmt.Sprintf("An unset joint slips at a Tresca factor of %.1f; it sets after half the squeeze published for clean stainless on steel in vacuum.", slippery),
		fmt.Sprintf("From bite to bite %.0f s; heat into a die 500 W/m²K lying, 1500 and 400 for each MPa under load.", between),
		"All places along the bar soak alike; each is followed on its own from the fire on.",
		"The layer model is checked against closed forms, published loads and a three-dimensional computation, not yet against a cut and etched bar: cut an end, etch it, and enter what you measure.")
}

// workCautions is what can hurt someone at press, rolls and hammer.
func workCautions(j *Job) []string {
	out := []string{
		"Face shield, leather and ear protection; tongs that fit; fingers out of the reins; nobody in line with the bar.",
		"Never press a cold, tilted or tall thin stack; stop at 80 % of the ram.",
	}
	if j.Press != nil {
		out = append(out, "Keep hydraulic hoses out of reach of the fire, an extinguisher and the stop button within reach; never go past the frame's rating.")
	}
	if j.Rolls != nil {
		out = append(out, "Rolls pull in gloves, sleeves and hair: feed with tongs, guard the nip, a stop within reach.")
	}
	return out
}

// workWarnings gathers what the passes warned of, by pass.
func workWarnings(w *worker) []string {
	var out []string
	type said struct {
		text   string
		passes []int
	}
	byKind := map[string]*said{}
	var order []*said
	for _, p := range w.out.Passes {
		for _, t := range p.Warnings {
			s := byKind[sameBut(t)]
			if s == nil {
				s = &said{text: t}
				byKind[sameBut(t)], order = s, append(order, s)
			}
			s.passes = append(s.passes, p.Number)
		}
	}
	for _, s := range order {
		figures := ""
		if len(s.passes) > 1 && sameBut(s.text) != s.text {
			figures = fmt.Sprintf(" (figures of pass %d)", s.passes[0])
		}
		out = append(out, fmt.Sprintf("%s: %s%s.", passList(s.passes), inUnits(w.job, s.text), figures))
	}
	if note := handleNote(w.job); note != "" && !w.cold {
		out = append(out, note)
	}
	if n := len(w.out.Passes); n > 0 && w.out.Passes[n-1].Welded < 1 && !allBonded(w.list) {
		out = append(out, fmt.Sprintf("The joints are only %.0f %% of the way to a sure weld after the last pass: squeeze more while they are at welding heat. Layers that slip all the way are beyond this model.", 100*w.out.Passes[n-1].Welded))
	}
	if w.wave > 0 {
		out = append(out, fmt.Sprintf("The die is longer than most of the bar: the length mushrooms like the width does and may leave the core in a wave of about %.0f %% of the thickness, which this model can't follow.", 100*w.wave))
	}
	return out
}

// allBonded says that every pass prescribes its joints.
func allBonded(list []Pass) bool {
	for _, p := range list {
		if p.Bond == nil && p.Tool != ByGrind && p.Tool != ByRestack {
			return false
		}
	}
	return true
}

// passList is "pass 3" or "passes 3 to 5, 7".
func passList(n []int) string {
	s := ""
	for i := 0; i < len(n); {
		k := i
		for k+1 < len(n) && n[k+1] == n[k]+1 {
			k++
		}
		if s != "" {
			s += ", "
		}
		if k > i {
			s += fmt.Sprintf("%d to %d", n[i], n[k])
		} else {
			s += fmt.Sprint(n[i])
		}
		i = k + 1
	}
	if len(n) == 1 {
		return "Pass " + s
	}
	return "Passes " + s
}
