package sim

import (
	"fmt"
	"math"
)

// gentle is a light squeeze to set the weld.
func (p *planner) gentle(base *worker, heated bool) (try, error) {
	s := base.sizes()
	h, before := s.Thickness, base.welded()
	share, cap := gentleShare, "gentle: a sixteenth of the height sets the weld; a loose stack fans out and its joints slip under more"
	if before >= grips {
		share, cap = firmerShare, fmt.Sprintf("firmer: the joints grip (%.0f %% of the way to a sure weld) but have not all set", 100*before)
	}
	share = math.Min(share, p.metal.squeeze)
	draft := math.Min(share*h, gentleMost*share/gentleShare)
	least := h - nearestStop*draft
	// No more than the weld still needs, so that the bar stays narrow enough to
	// be stood on edge; but that at once, to the next stop.
	if need := h * (1 - math.Exp(-(1-before)*fluxShare*criticalStrain(p.job.Weld.Heat))); need < draft {
		least = math.Max(least, h-need-p.grid())
	}
	least = math.Max(least, p.job.Target.Thickness)
	tools := p.tools()
	if len(tools) == 0 {
		return try{no: noMachine, short: noMachine}, nil
	}
	var options []option
	for _, bite := range p.bites(tools[0], h, s) {
		options = append(options, option{Pass{Tool: tools[0], Bite: bite, Repeat: 1}, least, cap})
	}
	ts, err := p.tryAll(base, options)
	if err != nil {
		return try{}, err
	}
	best := p.choose(ts)
	if before < grips {
		// Loose layers want the longest bite there is force for: a short one
		// opens the joints beside it.
		best = deepestLongest(ts)
	}
	if best.no == "" {
		best, err = p.settle(base, best, heated)
	}
	best.worth = best.no == ""
	if best.no != "" && heated {
		best.no = "the weld can't be set: " + best.no
	}
	return best, err
}

// noMachine says that the job can't squeeze anything.
const noMachine = "the job has no press, rolls or hammer"

// coldJoint is why a squeeze sets nothing.
func (p *planner) coldJoint(coldestK float64) (no, short string) {
	return fmt.Sprintf("the coldest joint would be at %s when squeezed, and none sets below %s: soak longer, turn the billet, raise it off a cold floor, or go faster from fire to tool",
		tempWords(p.job, coldestK), tempWords(p.job, p.job.Weld.Heat-weldFrom)), "the joints are below welding heat"
}

// tools are the machines for a squeeze on a stack that has not set: the press
// before the hammer before the rolls, which pull a loose stack apart.
func (p *planner) tools() []PassTool {
	var out []PassTool
	if p.job.Press != nil {
		out = append(out, ByPress)
	}
	if p.job.Hammer != nil {
		out = append(out, ByHammer)
	}
	if p.job.Rolls != nil {
		out = append(out, ByRolls)
	}
	return out
}

// bites are the bites worth trying, m along the bar, longest first; 0 is as long
// as the tool.
func (p *planner) bites(tool PassTool, h float64, s Sizes) []float64 {
	if tool != ByPress {
		return []float64{0}
	}
	press := p.job.Press
	die := math.Min(press.Top.Along, press.Bottom.Along)
	if press.Top.Crown > 0 || press.Bottom.Crown > 0 {
		return []float64{0} // the crown sets the bite
	}
	var out []float64
	if die <= longestBite*s.Length {
		out = append(out, 0)
	}
	for _, part := range []float64{2.0 / 3, 1.0 / 2, 1.0 / 3, 1.0 / 4} {
		if b := part * die; b >= math.Max(biteLeast*h, shortestBite) && b <= longestBite*s.Length {
			out = append(out, b)
		}
	}
	if len(out) == 0 {
		out = append(out, 0)
	}
	return out
}

// deepestFlat is how deep a flat squeeze may go, m, and why no deeper.
func (p *planner) deepestFlat(h float64, heated bool) (least float64, cap string) {
	target := p.job.Target.Thickness
	share, cap := squeezeShare, fmt.Sprintf("%.0f %% a squeeze: more laps and folds at the sides (common practice)", 100*squeezeShare)
	if p.metal.squeeze < share {
		share, cap = p.metal.squeeze, fmt.Sprintf("%s: no more than %.0f %% a squeeze (common practice)", p.metal.squeezeOf, 100*p.metal.squeeze)
	}
	left := p.metal.heat
	if !heated {
		left -= 1 - math.Exp(-p.strain)
	}
	if left < share {
		share, cap = math.Max(left, 0), fmt.Sprintf("%s: no more than %.0f %% a heat (common practice)", p.metal.heatOf, 100*p.metal.heat)
	}
	if least = h * (1 - share); least <= target {
		return target, "to the target"
	}
	return least, cap
}

// flat is the best flat squeeze.
func (p *planner) flat(base *worker, heated bool) (try, error) {
	s := base.sizes()
	least, cap := p.deepestFlat(s.Thickness, heated)
	if least >= s.Thickness*(1-1e-3) {
		return try{no: cap, short: cap}, nil
	}
	best := try{no: noMachine, short: noMachine}
	for i, tool := range p.order(s, heated) {
		var options []option
		for _, bite := range p.bites(tool, s.Thickness, s) {
			options = append(options, option{Pass{Tool: tool, Bite: bite, Repeat: 1}, least, cap})
		}
		ts, err := p.tryAll(base, options)
		if err != nil {
			return try{}, err
		}
		t := p.choose(ts)
		if t.no == "" {
			if t, err = p.settle(base, t, heated); err != nil {
				return t, err
			}
		}
		if heated && tool == ByPress && (t.no != "" || t.share() < weakShare && !p.atEnd(t.pass)) {
			p.weak = true
		}
		if i == 0 || t.no == "" && (best.no != "" || t.worth) {
			best = t
		}
		if best.no == "" && best.worth {
			break
		}
	}
	if best.no != "" && heated {
		best.no = p.stuckWords(best, s)
	}
	if best.no == "" {
		best.why = biteWords(p.job, best) + best.why
		if best.pass.Tool == ByRolls && best.pass.To < rollsThin {
			best.why += fmt.Sprintf("; below %s the rolls may fold cold shuts: keep it hot (common practice)", lengthWords(p.job, rollsThin))
		}
	}
	return best, nil
}

// order is the machines to try for a flat squeeze, best first: the press while
// the bar is thick, the rolls to finish, the hammer where there is nothing else.
// Rolls spread the bar least: where width is wanted the press goes first, hot.
func (p *planner) order(s Sizes, heated bool) []PassTool {
	all := p.tools()
	if p.job.Rolls == nil || len(all) == 1 {
		return all
	}
	finish := s.Thickness <= math.Max(rollsFrom*p.job.Target.Thickness, rollsThick)
	if want := p.job.Target.Width; want > 0 && p.drawn(ByRolls, s.Thickness, s.Width, 0) < want*(1-widthSlack) {
		if !heated && !p.weak {
			return all[:len(all)-1]
		}
		finish = p.weak
	}
	if !finish {
		return all
	}
	return append([]PassTool{ByRolls}, all[:len(all)-1]...)
}

// choose picks among the bites of one machine: with a width to reach the one that
// leads nearest to it, of those that do at least two thirds of the deepest
// squeeze; else the deepest, and the longest bite of equals.
func (p *planner) choose(ts []try) try {
	most := deepestLongest(ts)
	want := p.job.Target.Width
	if want == 0 || most.no != "" {
		return most
	}
	const decent = 2.0 / 3
	best, miss := most, math.Inf(1)
	for _, t := range ts {
		if t.no != "" || t.strain() < decent*most.strain() {
			continue
		}
		m := math.Abs(p.drawn(t.pass.Tool, t.pass.To, t.done.After.Width, t.pass.Bite) - want)
		if m < miss-1e-6 {
			best, miss = t, m
		}
	}
	return best
}

// deepestLongest is the deepest of tries that can be done, the longest bite of
// equals; where none can, the last, which is the lightest.
func deepestLongest(ts []try) try {
	best := ts[len(ts)-1]
	for i := len(ts) - 2; i >= 0; i-- {
		if ts[i].no == "" && (best.no != "" || ts[i].strain() >= best.strain()-1e-9) {
			best = ts[i]
		}
	}
	return best
}
