package sheet

import (
	"fmt"

	"billet/sim"
	"billet/sim/unit"
)

// heat is one heat and the passes after it, or passes between heats, done cold.
type heat struct {
	number int // 0: no heat before these passes
	passes []sim.PassDone
	fire   float64 // s in and at the fire; 0: not known
	welded bool    // the stack is one piece when it goes in
	parts  int     // the bar is heated and worked in; 1: whole
}

// heats puts the passes together by heat, in their order. The soak is a heat
// even where no pass is known.
func (w words) heats() []heat {
	var out []heat
	if w.r.Work == nil {
		if w.r.Soak == nil {
			return nil
		}
		return []heat{{number: 1, parts: 1}}
	}
	welded, last := false, 0
	for i, p := range w.r.Work.Passes {
		number := p.Heat
		if p.Tool == sim.ByGrind || p.Tool == sim.ByRestack || number <= 0 {
			number = 0
		}
		if i == 0 || number != out[len(out)-1].number || number == 0 && coldWork(p) != coldWork(out[len(out)-1].passes[0]) {
			h := heat{number: number, welded: welded, parts: 1}
			if number > last {
				last = number
				if number <= len(w.r.Work.HeatTimes) {
					h.fire = w.r.Work.HeatTimes[number-1]
				}
			}
			out = append(out, h)
		}
		h := &out[len(out)-1]
		h.passes = append(h.passes, p)
		h.parts = max(h.parts, p.Parts)
		welded = p.Welded >= 1 && p.Tool != sim.ByRestack
	}
	return out
}

// coldWork tells whether a pass is done off the fire.
func coldWork(p sim.PassDone) bool { return p.Tool == sim.ByGrind || p.Tool == sim.ByRestack }

// until is when a heat is hot enough, in words: "core to 1100 °C".
func (w words) until(h heat) string {
	st := w.r.Job.Handling.Reheat
	if n := len(w.r.Job.Heats); !h.welded && n > 0 {
		st = w.r.Job.Heats[n-1]
	}
	where := map[sim.Until]string{sim.UntilSkin: "skin", sim.UntilCore: "core", sim.UntilJoints: "every joint"}[st.Until]
	if where == "" || st.Temperature <= 0 {
		return ""
	}
	text := fmt.Sprintf("%s to %s", where, w.bothExact(st.Temperature))
	if st.Hold > 0 {
		text += ", and hold " + unit.Duration(st.Hold)
	}
	return text
}

// back is when to go back into the fire.
func (w words) back() string {
	if w.r.Job.Handling.WorkAbove <= 0 {
		return ""
	}
	return w.glow(w.r.Job.Handling.WorkAbove)
}

// lay is how the bar lies on the lower tool, and whether to turn it over for it.
// before is the pass before, nil for the first.
func lay(p sim.PassDone, before *sim.PassDone) string {
	down := "B down"
	if p.DownA {
		down = "A down"
	}
	switch {
	case coldWork(p):
		return ""
	case p.Edge:
		return "on edge"
	case before == nil || coldWork(*before):
		return down
	case before.DownA != p.DownA:
		return "flip: " + down
	case before.Edge:
		return "flat, " + down
	}
	return "as it is"
}

// bites is how the tool goes along the bar.
func (w words) bites(p sim.PassDone) string {
	switch p.Tool {
	case sim.ByPress:
		if p.Bites == 1 {
			return "1 squeeze"
		}
		return fmt.Sprintf("%d × %s", p.Bites, w.Length(p.Bite))
	case sim.ByHammer:
		if p.Bites > 1 {
			return fmt.Sprintf("%d × %s", p.Bites, count(p.Blows, "blow", "blows"))
		}
		return count(p.Blows, "blow", "blows")
	case sim.ByRolls:
		return "once through"
	}
	return ""
}

// stop is the height to stop at, in both systems of units.
func (w words) stop(p sim.PassDone) string { return w.BothLength(p.StopHot) }

// cold is what a pass off the fire does.
func (w words) cold(p sim.PassDone) string {
	q := w.given(p)
	switch {
	case p.Tool == sim.ByRestack && q != nil:
		return fmt.Sprintf("cut in %d, grind %s off each face, stack", q.Pieces, w.Length(q.Off))
	case p.Tool == sim.ByRestack:
		return "cut, grind the faces clean, stack"
	case q != nil:
		return fmt.Sprintf("grind %s off A, %s off B", w.Length(q.OffA), w.Length(q.OffB))
	}
	return "grind"
}

// given is the job's own entry for a pass, nil where it was planned.
func (w words) given(p sim.PassDone) *sim.Pass {
	n := 0
	for i := range w.r.Job.Passes {
		q := &w.r.Job.Passes[i]
		n += max(1, q.Repeat)
		if p.Number <= n {
			if q.Tool != p.Tool {
				return nil
			}
			return q
		}
	}
	return nil
}

// fire is how long a heat is in and at the fire, "" where not known.
func (h heat) time() string {
	if h.fire <= 0 {
		return ""
	}
	return unit.Duration(h.fire)
}
