package sim

import (
	"fmt"
	"maps"
	"math"
	"sort"
	"sync"

	"billet/layers"
	"billet/sim/heat"
)

// try is a pass that was tried: first by a probe at one place, then on the whole
// bar.
type try struct {
	pass   Pass
	done   PassDone
	after  *worker   // the bar after it; nil after a probe
	heated bool      // a heat comes before it
	worth  bool      // worth doing without a heat
	no     string    // why it can't be done; empty: it can
	short  string    // the same in a few words
	why    string    // what limits it
	sets   float64   // how far the least set joint of the probe came
	joint  float64   // K, the coldest joint of the probe
	rest   []float64 // m, the stops shallower than this one
	bad    *try      // the next deeper stop, refused
}

// strain is the true strain of the pass.
func (t try) strain() float64 {
	if t.pass.Edge {
		return math.Log(t.done.Before.Width / t.pass.To)
	}
	return math.Log(t.done.Before.Thickness / t.pass.To)
}

// share is the draft as a share of the height.
func (t try) share() float64 { return 1 - math.Exp(-t.strain()) }

// clone is a worker of its own at the same point of the work, to try a pass on.
func (w *worker) clone() *worker {
	c := *w
	c.st = make([]*station, len(w.st))
	for i, s := range w.st {
		c.st[i] = s.clone()
	}
	out := *w.out
	out.Passes = append([]PassDone(nil), w.out.Passes...)
	out.Sections = append([]EndView(nil), w.out.Sections...)
	out.HeatTimes = append([]float64(nil), w.out.HeatTimes...)
	c.out = &out
	c.script = append([]move(nil), w.script...)
	out.Measured = append([]Compared(nil), w.out.Measured...)
	c.corrected = maps.Clone(w.corrected)
	c.current = nil
	return &c
}

func (s *station) clone() *station {
	c := *s
	c.stack = s.stack.Clone()
	if s.field != nil {
		c.field = s.field.Clone()
	}
	c.set = append(setting(nil), s.set...)
	c.areas = append([]float64(nil), s.areas...)
	if s.track != nil {
		c.track = s.track.clone()
	}
	return &c
}

// attempt does a pass on a copy of the whole bar. The heat before it, if any, has
// been done already.
func (p *planner) attempt(base *worker, t try) (try, error) {
	t.after = base.clone()
	no := false
	q := t.pass
	q.Reheat = &no
	if err := t.after.pass(q); err != nil {
		if p.ctx.Err() != nil {
			return t, p.ctx.Err()
		}
		t.no, t.short = err.Error(), "the model can't follow a deeper one"
		return t, nil
	}
	t.done = t.after.out.Passes[len(t.after.out.Passes)-1]
	t.no, t.short = t.after.refusal(&t.done, p.margin)
	return t, nil
}

// probe tries a pass on the station that waits longest, which is the coldest.
func (p *planner) probe(base *worker, pass Pass, contactK float64) (try, error) {
	t := try{pass: pass}
	seconds := p.guessTime(base, pass)
	for range 3 {
		o, err := p.probeAt(base, &t, seconds)
		if err != nil {
			if p.ctx.Err() != nil {
				return t, p.ctx.Err()
			}
			t.no, t.short = err.Error(), "the model can't follow a deeper one"
			return t, nil
		}
		if o == nil {
			break
		}
		took := passTime(pass.Tool, o)
		if math.Abs(took-seconds) < 0.1*seconds {
			break
		}
		seconds = took
	}
	t.done.Temperature = contactK
	t.no, t.short = base.refusal(&t.done, p.margin)
	if t.no == "" && !base.allWelded() && !pass.Edge && t.sets <= 0 {
		t.no, t.short = p.coldJoint(t.joint)
	}
	return t, nil
}

// guessTime is about how long a pass takes along the bar, s.
func (p *planner) guessTime(base *worker, pass Pass) float64 {
	s := base.sizes()
	draft := s.Thickness - pass.To
	if pass.Edge {
		draft = s.Width - pass.To
	}
	switch pass.Tool {
	case ByRolls:
		r := p.job.Rolls
		return s.Length*s.Thickness/pass.To/(r.Speed*r.DiameterTop/2) + backToRolls
	case ByHammer:
		return 10
	}
	t := pressTool(p.job.Press, 0, 0, changes{})
	bites := math.Ceil(s.Length/p.biteOf(pass.Tool, pass.Bite, draft) - 1e-9)
	return bites * (draft/t.SpeedAt(t.Limit()/2) + between)
}

// probeAt squeezes a copy of one station after those before it have been worked.
func (p *planner) probeAt(base *worker, t *try, seconds float64) (*layers.Outcome, error) {
	at := base.parts.coldest()
	ahead := float64(base.parts.before(at)) / float64(len(base.st))
	w := *base
	w.out = &Work{Passes: base.out.Passes}
	w.current = &PassDone{Number: len(base.out.Passes) + 1, Tool: t.pass.Tool, Edge: t.pass.Edge, Within: true, Before: base.sizes()}
	s := base.st[at].clone()
	w.flip(t.pass)
	if cold, err := w.coolProbe(s, t, w.left+seconds*ahead); cold || err != nil {
		return nil, err
	}
	temps := w.temperatures(s, t.pass)
	w.note(0, temps)
	m := move{kind: moveSqueeze, pass: t.pass, downA: w.downA, to: t.pass.To, lay: w.laySide(t.pass.Edge),
		temps: []heat.Map{temps}, joints: [][]layers.Joint{jointsFor(s.set, t.pass)}}
	o, err := m.do(w.job, s.stack, 0, changes{})
	if err != nil {
		return nil, err
	}
	w.take(0, o)
	t.done = *w.current
	t.done.After = Sizes{Thickness: o.After.Thickness, Width: o.After.Width, Length: o.After.Length}
	joints := s.jointTemps(temps)
	before := s.set.least()
	if !t.pass.Edge {
		s.set.squeeze(math.Log(o.Before.Thickness/o.After.Thickness), joints, w.job.Weld.Heat)
	}
	t.sets, t.joint = s.set.least()-before, least(joints)
	if before >= 1 {
		t.sets = 1 // set here; other places are not
	}
	return o, nil
}

// coolProbe cools a station as it would before its squeeze. A probe that gets far
// below the working floor on the way is given up.
func (w *worker) coolProbe(s *station, t *try, elapsed float64) (cold bool, err error) {
	const look, far = 5.0, 20.0 // s, K
	for elapsed > 2*look {
		if err := s.wait(w.job.surroundings(InAir), look); err != nil {
			return false, err
		}
		elapsed -= look
		if mean := s.field.Map().Mean(); mean < w.job.Handling.WorkAbove-far {
			t.done = *w.current
			t.done.Coldest = mean
			return true, nil
		}
	}
	return false, w.cool(s, t.pass, elapsed)
}

func least(v []float64) float64 {
	t := math.Inf(1)
	for _, x := range v {
		t = math.Min(t, x)
	}
	return t
}

// refusal is why a shop would not do a pass, at length and short; empty: it would.
func (w *worker) refusal(d *PassDone, margin float64) (no, short string) {
	at := tempWords(w.job, d.Temperature)
	if d.Tool == ByPress {
		if share := d.Force / w.job.Press.Force; share > ramShare*margin {
			return fmt.Sprintf("the press: %.0f %% of the ram at %s", 100*share, at), thePress
		}
	}
	for _, l := range d.Limits {
		allowed := l.Allowed
		switch {
		case d.Tool == ByRolls && l.Unit == "":
			allowed *= gripReserve
		case d.Tool == ByRolls:
			allowed *= rollsReserve
		}
		if l.Demand <= allowed*margin {
			continue
		}
		if d.Tool == ByRolls && l.Unit == "" {
			return "the rolls' grip: they would slip on the bar instead of taking it in", theGrip
		}
		return fmt.Sprintf("%s: %.0f %% of what there is, at %s", l.What, 100*l.Demand/l.Allowed, at), l.What
	}
	if floor := w.job.Handling.WorkAbove; d.Coldest < floor {
		return fmt.Sprintf("cooling: the last of the bar would fall below the working floor of %s", tempWords(w.job, floor)), theCold
	}
	h, b := d.Before.Thickness, d.Before.Width
	if d.Edge {
		h, b = b, h
	}
	if h > tallest*b {
		return fmt.Sprintf("height: %.1f times the width, it would tip or fold", h/b), "the height over the width"
	}
	return "", ""
}

// contact is the mean temperature at first contact, K, as the pass will report
// it: it does not depend on the draft.
func (p *planner) contact(base *worker, pass Pass) (float64, error) {
	w := *base
	out := *base.out
	w.out, w.current = &out, &PassDone{}
	s := base.st[0].clone()
	w.flip(pass)
	if err := w.cool(s, pass, w.left); err != nil {
		return 0, err
	}
	return w.temperatures(s, pass).Mean(), nil
}

// grid is the spacing of the stops a smith can set, m hot.
func (p *planner) grid() float64 {
	if p.job.Units == Inch {
		return inchStop
	}
	return metricStop
}

// stops are the sizes at which a pass may stop, m cold, deepest first: those of
// the grid as hot sizes, and the target itself. A stop that leaves a sliver above
// the target is left out.
func (p *planner) stops(base *worker, o option, contactK float64) []float64 {
	now, target, least := base.sizes().Thickness, p.job.Target.Thickness, o.least
	if o.pass.Edge {
		now, target = base.sizes().Width, 0
	}
	grid, hot := p.grid(), hotSize(1, contactK)
	var out []float64
	if least <= target {
		least = target
		out = append(out, target)
	}
	const touch = 1e-3 // share: less is not a squeeze
	for k := math.Ceil(least * hot / grid * (1 - 1e-9)); ; k++ {
		to := k * grid / hot
		if to > now*(1-touch) {
			break
		}
		if to <= target*(1+worthShare) && target > 0 {
			continue
		}
		out = append(out, to)
	}
	if next := (math.Ceil(now*hot/grid*(1-1e-9)) - 1) * grid / hot; len(out) == 0 && next > target {
		out = append(out, next) // one stop is always allowed
	}
	sort.Float64s(out)
	return out
}

// deepest is the deepest of an option's stops that a probe allows, by halving.
func (p *planner) deepest(base *worker, o option) (try, error) {
	contactK, err := p.contact(base, o.pass)
	if err != nil {
		return try{}, err
	}
	stops := p.stops(base, o, contactK)
	if len(stops) == 0 {
		return try{pass: o.pass, no: "no stop that can be set lies within: " + o.cap, short: o.cap}, nil
	}
	var good, bad try
	lo, hi := -1, len(stops) // refused, allowed; so far not known
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if lo < 0 {
			mid = 0
		}
		q := o.pass
		q.To = stops[mid]
		t, err := p.probe(base, q, contactK)
		if err != nil {
			return t, err
		}
		if t.no == "" {
			good, hi = t, mid
		} else {
			bad, lo = t, mid
		}
	}
	if hi == len(stops) {
		return bad, nil
	}
	good.why, good.rest = o.cap, stops[hi+1:]
	if hi > 0 {
		good.bad = &bad
	}
	return good, nil
}

// settle does the pass on the whole bar, at a shallower stop where the probe
// asked too much of it.
func (p *planner) settle(base *worker, t try, heated bool) (try, error) {
	t.heated = heated
	for {
		full, err := p.attempt(base, t)
		if err != nil {
			return full, err
		}
		if full.no != "" && len(t.rest) > 0 {
			bad := full
			t.bad, t.pass.To, t.rest = &bad, t.rest[0], t.rest[1:]
			continue
		}
		if full.no == "" && t.bad != nil {
			full.why, full.short = "limited by "+p.useWords(full, *t.bad), t.bad.short
		}
		full.worth = full.share() > worthShare || p.atEnd(full.pass)
		return full, nil
	}
}

// atEnd says that a pass reaches the target.
func (p *planner) atEnd(pass Pass) bool {
	return !pass.Edge && math.Abs(pass.To-p.job.Target.Thickness) <= atTarget
}

// option is a way of doing a pass, and how deep it may go.
type option struct {
	pass  Pass
	least float64 // m, no deeper
	cap   string  // why no deeper
}

// tryAll probes each option, side by side; the order is that of the options.
func (p *planner) tryAll(base *worker, options []option) ([]try, error) {
	out := make([]try, len(options))
	errs := make([]error, len(options))
	var wg sync.WaitGroup
	gate := make(chan struct{}, 2)
	for i, o := range options {
		wg.Add(1)
		go func() {
			defer wg.Done()
			gate <- struct{}{}
			defer func() { <-gate }()
			out[i], errs[i] = p.deepest(base, o)
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
