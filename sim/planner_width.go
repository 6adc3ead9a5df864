package sim

import (
	"fmt"
	"math"

	"billet/layers"
)

// spreadGuess foresees widths by published laws, scaled by what the passes so
// far gave against the law.
type spreadGuess struct{ press, rolls float64 }

// spreadLaw is the law's exponent S of w1/w0 = (h0/h1)^S: Tomlinson and Stringer
// 1959 under the press and hammer, Wusatowski 1969 in the rolls.
func spreadLaw(j *Job, tool PassTool, bite, h0, h1, w float64) float64 {
	c := layers.SpreadCase{H0: h0, H1: h1, Width: w, Bite: bite}
	if tool == ByRolls {
		c.Radius = layers.EffectiveRadius(j.Rolls.DiameterTop/2, j.Rolls.DiameterBottom/2)
		return layers.Wusatowski(c)
	}
	return layers.TomlinsonStringer(c)
}

// learn compares a pass with the law.
func (g *spreadGuess) learn(p Pass, d PassDone, j *Job) {
	strain := math.Log(d.Before.Thickness / d.After.Thickness)
	law := spreadLaw(j, p.Tool, d.Bite, d.Before.Thickness, d.After.Thickness, d.Before.Width)
	if strain < 0.02 || law <= 0.01 {
		return
	}
	r := min(max(math.Log(d.After.Width/d.Before.Width)/strain/law, 0.3), 3)
	f := &g.press
	if p.Tool == ByRolls {
		f = &g.rolls
	}
	*f = (*f + r) / 2
}

// drawn is the width that a bar of thickness h and width w will have at the
// target, drawn flat by one tool with bites of a length, m (0: as long as the
// tool).
func (p *planner) drawn(tool PassTool, h, w, bite float64) float64 {
	const step = 0.85
	factor := p.spread.press
	if tool == ByRolls {
		factor = p.spread.rolls
	}
	target := p.job.Target.Thickness
	for h > target*(1+1e-9) {
		next := math.Max(h*step, target)
		w *= math.Pow(h/next, factor*spreadLaw(p.job, tool, p.biteOf(tool, bite, h-next), h, next, w))
		h = next
	}
	return w
}

// biteOf is a bite in m, where 0 stands for the tool's own.
func (p *planner) biteOf(tool PassTool, bite, draft float64) float64 {
	switch tool {
	case ByHammer:
		return p.job.Hammer.Face
	case ByRolls:
		return 0
	}
	t := pressTool(p.job.Press, 0, 0, changes{})
	b := t.Bite(draft, math.Inf(1))
	if bite > 0 {
		b = math.Min(b, bite)
	}
	return b
}

// leastEnd is the narrowest that a bar can end, by the rolls or the shortest
// bites.
func (p *planner) leastEnd(h, w float64) float64 {
	least := math.Inf(1)
	for _, tool := range p.tools() {
		for _, b := range p.bites(tool, h, Sizes{Length: math.Inf(1)}) {
			least = math.Min(least, p.drawn(tool, h, w, b))
		}
	}
	return least
}

// wantsEdge says whether the bar must be worked on edge before its next flat
// squeeze, to what width, and by which machine. It is left until the flat
// squeeze after would make the bar too tall to stand on edge.
func (p *planner) wantsEdge(base *worker) (to float64, tool PassTool, want bool) {
	s, target := base.sizes(), p.job.Target
	if target.Width == 0 || p.lastEdge || s.Width > tallEdge*s.Thickness {
		return 0, 0, false
	}
	if p.leastEnd(s.Thickness, s.Width) <= target.Width*(1+widthSlack) {
		return 0, 0, false
	}
	const squeeze, widens = 0.8, 1.07 // of a usual flat squeeze
	least, _ := p.deepestFlat(s.Thickness, true)
	next := math.Max(least, squeeze*s.Thickness)
	if s.Width*widens <= tallEdge*next && next > target.Thickness {
		return 0, 0, false
	}
	return p.edgeTo(s), p.tools()[0], true
}

// edgeTo is the width to squeeze to on edge so that the bar ends at the target's
// width: the thickness grows by the same law as a flat squeeze's width.
func (p *planner) edgeTo(s Sizes) float64 {
	lo, hi := s.Width*(1-squeezeShare), s.Width
	for range 30 {
		mid := (lo + hi) / 2
		tool := p.tools()[0]
		law := p.spread.press * spreadLaw(p.job, tool, p.biteOf(tool, 0, s.Width-mid), s.Width, mid, s.Thickness)
		thick := s.Thickness * math.Pow(s.Width/mid, law)
		if p.leastEnd(thick, mid) > p.job.Target.Width {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// edge is the best squeeze on edge to a width.
func (p *planner) edge(base *worker, to float64, tool PassTool, heated bool) (try, error) {
	s := base.sizes()
	cap := fmt.Sprintf("on edge, to hold the width: drawn flat from here it would end %s wide, %s asked",
		lengthWords(p.job, p.leastEnd(s.Thickness, s.Width)), lengthWords(p.job, p.job.Target.Width))
	if share := p.metal.squeeze; to < s.Width*(1-share) {
		to = s.Width * (1 - share)
	}
	var options []option
	for _, bite := range p.bites(tool, s.Width, s) {
		options = append(options, option{Pass{Tool: tool, Edge: true, Bite: bite, Repeat: 1}, to, cap})
	}
	ts, err := p.tryAll(base, options)
	if err != nil {
		return try{}, err
	}
	best := ts[0]
	const clearly = 1.2
	for _, t := range ts[1:] {
		if t.no == "" && (best.no != "" || t.strain() > clearly*best.strain()) {
			best = t
		}
	}
	if best.no != "" {
		return best, nil
	}
	best, err = p.settle(base, best, heated)
	if best.why != cap {
		best.why = cap + "; " + best.why
	}
	return best, err
}
