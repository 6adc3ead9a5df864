package sim

import (
	"context"
	"fmt"
	"math"

	"billet/sim/heat"
)

// The planner finds passes one after another. Each is tried in the simulation
// itself, on a copy of the bar as it stands, and taken if the machine, the
// metal and the heat allow it; so a plan can't say other than its simulation.

// What a shop holds to, common practice, no source, unless another source is
// named. Limits by material are in data/practice.csv.
const (
	gentleShare   = 1.0 / 16 // of the height, first squeeze of a loose stack: 1/8 in on 2 in
	grips         = 0.3      // of the way to a weld, from where joints count as gripping (assumed)
	gentleMost    = 3.2e-3   // m, the same
	firmerShare   = 0.10     // of the height, once the joints have begun to grip
	squeezeShare  = 0.25     // of the height in one squeeze, before it folds at the sides
	worthShare    = 0.04     // of the height, below which another squeeze in this heat isn't worth it
	weakShare     = 0.08     // of the height, straight from the fire: the press has had its day where there are rolls
	nearestStop   = 1.15     // times the gentle draft, so that the nearest stop may be a little deeper
	tallEdge      = 2.1      // height over width when stood on edge (cogging: turn before about 2; from memory)
	rollsFrom     = 2.0      // times the target: where the rolls take over from the press
	rollsThick    = 12e-3    // m, the same at least
	rollsThin     = 6.35e-3  // m, below which rolls may fold cold shuts
	shortestBite  = 12e-3    // m, less can't be kept by eye
	biteLeast     = 0.5      // of the height: a shorter bite leaves the middle unworked
	rollsReserve  = 0.85     // of the mill's force, torque and power: the formula is good to 15 %
	gripReserve   = 0.9      // of the friction that takes the bar into the rolls (assumed)
	widthSlack    = 0.02     // of the target's width: not worth an edging pass
	widthMiss     = 0.10     // of the target's width: what counts as missed
	longestBite   = 0.7      // of the bar's length, above which the length mushrooms
	mostPasses    = 80       // a plan of more is no plan
	inchStop      = 25.4e-3 / 32
	metricStop    = 0.5e-3
	tighterMargin = 0.97 // on the limits, where the whole plan run again went past one
)

// errEdging says that an edging pass turned out to be needed: the heat model has
// to know from the start that the bar will lie on its side.
var errEdging = fmt.Errorf("an edging pass is needed")

// planPasses finds the passes that bring the job's bar to its target. reasons
// says, pass by pass, what limits it. Where the machines can't, ok is false and
// the last reason, one more than there are passes, says why and what would help.
// An error means that the computation failed.
func planPasses(ctx context.Context, j *Job, progress func(done float64, what string)) (passes []Pass, reasons []string, ok bool, err error) {
	margin, edging := 1.0, false
	for round := range 4 {
		p, err := newPlanner(ctx, j, margin, edging)
		if err != nil {
			return nil, nil, false, err
		}
		p.progress = progress
		if t := j.Target; round == 0 && t.Width > 0 && p.leastEnd(p.from, j.Stack.Width) > t.Width*(1+widthSlack) {
			edging = true
			continue
		}
		if err = p.run(); err == errEdging {
			edging = true
			continue
		}
		if err != nil {
			return nil, nil, false, err
		}
		passes, reasons, ok = p.passes, p.reasons, p.failed == ""
		if edging && !p.edged && ok {
			// Planned with the bar free to lie on its side, which it then never
			// did: the run of the plan uses a symmetry that this one had not.
			w, err := runWork(ctx, j, passes)
			if err != nil {
				return nil, nil, false, err
			}
			if !w.within() {
				margin *= tighterMargin
				continue
			}
		}
		break
	}
	return passes, reasons, ok, nil
}

// planner is a plan under way.
type planner struct {
	ctx      context.Context
	job      *Job
	w        *worker // the bar after the passes so far
	hot      *worker // the same after one more heat; nil until asked for
	margin   float64 // on the limits
	edging   bool    // the heat model knows of edging passes
	edged    bool    // there was one
	lastEdge bool    // the last pass was one
	weak     bool    // the press can do nothing worth while, straight from the fire
	strain   float64 // true strain since the bar left the fire
	metal    metalLimits
	spread   spreadGuess
	from     float64
	cooled   string  // why the last heat ended
	soak     *Stage  // what the heat of hot takes beyond the job's own
	soaked   float64 // s, how long that is
	passes   []Pass
	reasons  []string
	failed   string
	progress func(float64, string)
	shown    float64 // share done, as last reported
}

func newPlanner(ctx context.Context, j *Job, margin float64, edging bool) (*planner, error) {
	var seen []Pass
	if edging {
		seen = []Pass{{Edge: true, Tool: ByPress, To: 1}}
	}
	w, err := startWork(ctx, j, seen)
	if err != nil {
		return nil, err
	}
	p := &planner{ctx: ctx, job: j, w: w, margin: margin, edging: edging, from: w.sizes().Thickness,
		metal: limitsOf(j), spread: spreadGuess{press: 1, rolls: 1}}
	return p, nil
}

// run plans passes until the bar is at its target or nothing can be done.
func (p *planner) run() error {
	for len(p.passes) < mostPasses {
		if err := p.ctx.Err(); err != nil {
			return err
		}
		p.tell()
		if p.done() {
			return nil
		}
		if why := p.hopeless(); why != "" {
			return p.fail(why)
		}
		t, err := p.next()
		if err != nil {
			return err
		}
		if t.no != "" {
			return p.fail(t.no)
		}
		p.take(t)
	}
	return p.fail(fmt.Sprintf("%d passes did not get there", mostPasses))
}

func (p *planner) fail(why string) error {
	p.failed = why
	p.reasons = append(p.reasons, "stopped here: "+why)
	return nil
}

// tell reports how far the plan has come, by true strain.
func (p *planner) tell() {
	if p.progress == nil {
		return
	}
	h := p.w.sizes().Thickness
	done := math.Log(p.from/h) / math.Log(p.from/p.job.Target.Thickness)
	p.shown = min(max(done, p.shown), 1) // an edging pass makes the bar thicker
	p.progress(p.shown, fmt.Sprintf("planning: pass %d, %s", len(p.passes)+1, lengthWords(p.job, h)))
}

// atTarget is how near the target counts as there, m.
const atTarget = 1e-6

// done says that the last squeeze stopped at the target, and notes a width that
// came out otherwise than asked.
func (p *planner) done() bool {
	n := len(p.passes)
	if n == 0 || p.passes[n-1].Edge || math.Abs(p.passes[n-1].To-p.job.Target.Thickness) > atTarget {
		return false
	}
	want := p.job.Target.Width
	if want == 0 {
		return true
	}
	w := p.w.sizes().Width
	off := w - want
	if math.Abs(off) > widthSlack*want {
		p.reasons[n-1] += "; " + p.widthWords(w, want)
	}
	lo, hi := p.widthBand()
	if math.Abs(off) > widthMiss*want && (want < lo || want > hi) {
		p.failed = p.widthWords(w, want)
		p.reasons = append(p.reasons, p.failed+widthHelp(off))
	}
	return true
}

// widthBand is the final width with the spread less and more than computed, m.
func (p *planner) widthBand() (lo, hi float64) {
	w := p.w.sizes().Width
	lo, hi = w, w
	for _, d := range p.w.out.Passes {
		if !d.Edge {
			lo += d.WidthRange[0] - d.After.Width
			hi += d.WidthRange[1] - d.After.Width
		}
	}
	return lo, hi
}

// hopeless finds what no pass can mend.
func (p *planner) hopeless() string {
	s, t := p.w.sizes(), p.job.Target
	switch {
	case s.Thickness <= t.Thickness+atTarget && len(p.passes) == 0:
		return fmt.Sprintf("the stack is %s thick, the target %s: a thicker stack is needed", lengthWords(p.job, s.Thickness), lengthWords(p.job, t.Thickness))
	case s.Thickness <= t.Thickness+atTarget:
		return fmt.Sprintf("the bar came out %s thick, thinner than the target", lengthWords(p.job, s.Thickness))
	case p.job.Press == nil && p.job.Rolls == nil && p.job.Hammer == nil:
		return noMachine
	}
	return ""
}

// next is the next pass: without a heat where one is worth doing, else after a
// heat.
func (p *planner) next() (try, error) {
	if p.w.heats > 0 {
		t, err := p.best(p.w, false)
		if err != nil || t.no == "" && t.worth {
			return t, err
		}
		p.cooled = t.no
		if t.no == "" {
			p.cooled = "little more could be had, " + t.why
		}
	}
	if err := p.heat(); err != nil {
		return try{}, err
	}
	return p.best(p.hot, true)
}

// heat takes a copy of the bar through one more heat, where that has not been
// done. A stack that has not set stays in until its joints are at welding heat,
// if the job's own heat takes it out before.
func (p *planner) heat() error {
	if p.hot != nil {
		return nil
	}
	p.soak, p.soaked = nil, 0
	p.hot = p.w.clone()
	if err := p.hot.reheat(nil); err != nil {
		return err
	}
	const near = 5 // K
	if p.hot.allWelded() || p.hot.coldestJoint() >= p.job.Weld.Heat-near {
		return nil
	}
	out := p.hot.st[0].field.Time()
	p.soak = &Stage{In: InForge, Until: UntilJoints, Temperature: p.job.Weld.Heat, Hold: p.job.Weld.Hold}
	p.hot = p.w.clone()
	if err := p.hot.reheat(p.soak); err != nil {
		return err
	}
	p.soaked = p.hot.st[0].field.Time() - out
	return nil
}

// coldestJoint is the coldest spot of any joint along the bar, K.
func (w *worker) coldestJoint() float64 {
	t := math.Inf(1)
	for _, s := range w.st {
		t = math.Min(t, s.field.Read(heat.ColdestJoint))
	}
	return t
}

// best is the best pass on the bar as it is in base.
func (p *planner) best(base *worker, heated bool) (try, error) {
	base.list = nil
	if !base.allWelded() {
		return p.gentle(base, heated)
	}
	if to, tool, want := p.wantsEdge(base); want {
		if !p.edging {
			return try{}, errEdging
		}
		t, err := p.edge(base, to, tool, heated)
		if err != nil || t.no == "" || !heated {
			return t, err
		}
	}
	return p.flat(base, heated)
}

// take puts a pass into the plan.
func (p *planner) take(t try) {
	if t.heated {
		p.strain = 0
	}
	reheat := t.heated
	t.pass.Reheat = &reheat
	why := t.why
	if t.heated {
		t.pass.Soak = p.soak
		if p.soak != nil {
			why += fmt.Sprintf(" (leave it in %.1f min longer than the job's heat, until the coldest joint is at welding heat)", p.soaked/60)
		}
	}
	if !t.pass.Edge {
		p.spread.learn(t.pass, t.done, p.job)
	}
	p.strain += t.strain()
	p.passes = append(p.passes, t.pass)
	if t.heated && len(p.passes) > 1 && p.cooled != "" {
		why += " (back in the fire first: " + p.cooled + ")"
	}
	p.reasons = append(p.reasons, why)
	p.w, p.hot, p.cooled = t.after, nil, ""
	p.lastEdge = t.pass.Edge
	p.edged = p.edged || t.pass.Edge
}

// within says that no pass went past a limit of the shop.
func (w *worker) within() bool {
	for i := range w.out.Passes {
		if no, _ := w.refusal(&w.out.Passes[i], 1); no != "" {
			return false
		}
	}
	return true
}
