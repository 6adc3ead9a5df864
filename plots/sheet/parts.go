package sheet

import (
	"fmt"

	"billet/sim"
	"billet/sim/unit"
)

// soakPart is the moments of the soak and what makes its range.
func (w *report) soakPart() {
	s := w.r.Soak
	layered := len(w.r.Job.Stack.Layers) > 1
	head, marks := []string{"after", "", "skin", "looks", "core"}, "rlrlr"
	if layered {
		head, marks = append(head, "coldest joint"), marks+"r"
	}
	var rows [][]string
	for _, m := range w.soakMoments() {
		cells := []string{clock(m.at), m.what, w.Temperature(m.skin), w.colour(m.skin), w.Temperature(m.core)}
		if layered {
			cells = append(cells, w.Temperature(m.joint))
		}
		rows = append(rows, cells)
	}
	w.table("Times from first going into the forge, time out of it included", marks, head, rows)
	w.line("p", "Trust your eyes before the clock:")
	w.list("", w.signs())
	if g := s.Ranges; g != nil && g.Soak.OK {
		rows = nil
		for _, c := range g.Causes {
			rows = append(rows, []string{c.What, unit.DurationRange(c.Low, c.High)})
		}
		w.table("What is not known, and the soak at either end of it alone", "lr", []string{"unknown", "soak"}, rows)
	}
	if !s.Reaches && len(s.Advice) > 0 {
		w.line("h3", "What would help")
		w.list("", s.Advice)
	}
	rows = nil
	for _, l := range s.Limits {
		rows = append(rows, []string{fmt.Sprint(l.Layer + 1), l.Material, w.Temperature(l.Limit), w.Temperature(l.Solidus)})
	}
	w.table("Where the layers burn", "rlrr", []string{"layer", "material", "burns from", "begins to melt"}, rows)
}

// passesPart is every pass, heat by heat.
func (w *report) passesPart() {
	k := w.r.Work
	var rows [][]string
	for i, p := range k.Passes {
		var before *sim.PassDone
		if i > 0 {
			before = &k.Passes[i-1]
		}
		rows = append(rows, w.passCells(p, before))
	}
	w.table("Sizes cold, the stop hot; temperature of the section's mean at first contact", "rrllllrrrrl",
		[]string{"heat", "pass", "tool", "how it lies", "stop at, hot", "bites", "at", "thick", "wide", "long", "force"}, rows)
	var why []string
	for _, p := range k.Passes {
		if p.LimitedBy != "" {
			why = append(why, fmt.Sprintf("Pass %d: %s.", p.Number, p.LimitedBy))
		}
	}
	if len(why) > 0 {
		w.line("h3", "What sets each pass")
		w.list("", why)
	}
	w.layerTable()
}

// passCells is one pass as a row.
func (w words) passCells(p sim.PassDone, before *sim.PassDone) []string {
	at, force := "", ""
	if p.Temperature > 0 {
		at = w.Temperature(p.Temperature)
	}
	if p.Force > 0 {
		force = w.Force(p.Force)
	}
	if !p.Within {
		force += " TOO MUCH"
	}
	how, stop := lay(p, before), w.stop(p)
	if coldWork(p) {
		how, stop = w.cold(p), ""
	}
	return []string{fmt.Sprint(p.Heat), fmt.Sprint(p.Number), name(toolNames, int(p.Tool)), how, stop, w.bites(p), at,
		w.Length(p.After.Thickness), w.Length(p.After.Width), w.LongLength(p.After.Length), force}
}

// layerTable is the layers at the start and in the end.
func (w *report) layerTable() {
	b, e := w.r.Work.Before, w.r.Work.Final.Layers
	const most = 12 // more are a pattern, not a list
	if len(b) != len(e) || len(b) > most {
		return
	}
	var rows [][]string
	for i := range b {
		rows = append(rows, []string{fmt.Sprint(i + 1), b[i].Material, w.Length(b[i].Thickness), w.fine(e[i].Thickness), w.Length(e[i].Width)})
	}
	w.table("The layers from B to A", "rlrrr", []string{"layer", "material", "thick at the start", "thick in the end", "wide in the end"}, rows)
}

// driftPart is the core after each pass, and why.
func (w *report) driftPart() {
	k := w.r.Work
	var rows [][]string
	for _, p := range k.Passes {
		rows = append(rows, []string{fmt.Sprint(p.Number), w.off(p.Offset), percent(p.OffsetShare()), w.fine(p.Tilt), w.fine(p.Wave), percent(p.Welded)})
	}
	w.table("The core after each pass", "rrrrrr", []string{"pass", "off the middle", "of the thickness", "tilt", "wave", "welded"}, rows)
	rows = nil
	for _, c := range k.Causes {
		rows = append(rows, []string{causeName(c.Name), w.off(c.Offset)})
	}
	w.table("What makes it, each alone; they add up to the whole", "lr", []string{"cause", "moves the core"}, rows)
	rows = nil
	for _, f := range k.Flips {
		mark := ""
		if f.IsCurrent {
			mark = "this job"
		}
		rows = append(rows, []string{name(habitNames, int(f.Habit)), w.off(f.Offset), mark})
	}
	w.table("Turned over", "lrl", []string{"how often", "core in the end", ""}, rows)
	rows = nil
	for _, m := range k.Remedies {
		rows = append(rows, []string{capital(m.What), w.off(m.Offset), name([]string{"", "a habit", "a little work", "other stock or tools"}, m.Effort)})
	}
	w.table("What would make it smaller", "lrl", []string{"change", "core then", "what it takes"}, rows)
	w.oddsTable()
}

// oddsTable is what the draws say.
func (w *report) oddsTable() {
	o := w.r.Work.Odds
	if o == nil {
		return
	}
	rows := [][]string{{"5 of 100 days below", w.off(o.Offset[0])}, {"the middle day", w.off(o.Offset[1])}, {"5 of 100 days above", w.off(o.Offset[2])}}
	if o.HasEdge {
		rows = append(rows, []string{"days on which the edge leaves the core", percent(o.Outside)})
	}
	w.table(fmt.Sprintf("The odds, from %s with seed %d", count(o.Draws, "draw", "draws"), o.Seed), "lr", []string{"", "core"}, rows)
	rows = nil
	for i, s := range o.Shares {
		rows = append(rows, []string{inputName(i), percent(s)})
	}
	w.table("What makes the days differ", "lr", []string{"what can't be held exactly", "share of the variance"}, rows)
}

// inputName is what the odds draw, in words.
func inputName(i int) string {
	known := map[string]string{"jackets": "thickness of the jackets", "side_to_side": "heat from side to side", "rest": "time lying on the die",
		"tilt": "tilt of the gap", "friction": "grip of the tools", "reading": "the forge's reading"}
	n := name(sim.InputNames, i)
	if s, ok := known[n]; ok {
		return s
	}
	return n
}

// lossesPart is the fire's toll, heat by heat.
func (w *report) lossesPart() {
	var rows [][]string
	for _, h := range w.r.Losses.Heats {
		rows = append(rows, []string{fmt.Sprint(h.Number), w.fine(h.ScaleA), w.fine(h.ScaleB), percent(h.MassShare), w.fine(h.Decarb), grain(h.Grain)})
	}
	w.table("By heat; scale as steel lost", "rrrrrr", []string{"heat", "scale A", "scale B", "of the mass", "decarburised", "grain"}, rows)
	l := w.r.Losses
	for i, side := range []string{"B", "A"} {
		if l.DecarbFound[i] {
			w.line("p", fmt.Sprintf("Side %s has lost carbon %s deep.", side, w.fine(l.Decarb[i])))
		}
	}
	if l.Transition > 0 {
		w.line("p", "The carbon step at the core's joint is spread over "+w.fine(l.Transition)+".")
	}
	if l.Levelled > 0 {
		w.line("p", fmt.Sprintf("The layers' carbon has levelled out by heat %d.", l.Levelled))
	}
}

// grain is a grain size in micrometres, the same in both systems.
func grain(m float64) string { return fmt.Sprintf("%.0f µm", 1e6*m) }

// grindPart is both faces of the blade.
func (w *report) grindPart() {
	a := w.r.Ground.Answer
	pits := func(clear bool) string {
		if clear {
			return "ground out"
		}
		return "LEFT IN"
	}
	w.table("Half way along the blade", "lrr", []string{"", "side A", "side B"}, [][]string{
		{"core line above the edge", w.maybe(a.Mid.A.CoreLine, "none"), w.maybe(a.Mid.B.CoreLine, "none")},
		{"jacket left at the spine", w.fine(a.Mid.A.Jacket), w.fine(a.Mid.B.Jacket)},
		{"core beyond the edge", w.signed(a.Mid.MarginA), w.signed(a.Mid.MarginB)},
		{"least ground off the bar", w.fine(a.DepthA), w.fine(a.DepthB)},
		{"scale pits", pits(a.PitsA), pits(a.PitsB)},
	})
	w.table("How thin the bar may be left", "lr", []string{"", "no thinner than"}, [][]string{
		{"for pits to grind out", w.maybe(a.Least.Pits, "no thickness does")},
		{"for the edge to lie in the core", w.maybe(a.Least.Edge, "no thickness does")},
		{"for the core line asked", w.maybe(a.Least.Line, "not asked, or no thickness does")},
		{"the bar is", w.Length(a.Thickness)},
	})
	var rows [][]string
	for _, r := range a.Rescue {
		edge := "in the core"
		if !r.InCore {
			edge = "leaves the core"
		}
		fits := "the bar has it"
		if !r.Fits {
			fits = "too thin for it"
		}
		mismatch := "no line on a side"
		if r.Mismatch != nil {
			mismatch = w.signed(*r.Mismatch)
		}
		rows = append(rows, []string{r.Move.String(), edge, mismatch, w.Length(r.Needs), fits})
	}
	w.table("What laying the grind anew saves", "lllrl", []string{"grind", "edge", "lines differ by", "needs", ""}, rows)
	rows = nil
	for _, h := range w.r.Ground.Habits {
		rows = append(rows, []string{h.What, w.habit(h.Low, h.High), h.Status})
	}
	w.trueSize()
	w.table("What makers take or get, to compare", "lrl", []string{"", "", ""}, rows)
}

// trueSize is section and blade as the sheet has them, with the ruler.
func (w *report) trueSize() {
	b := w.picturesBlock()
	if b.Len() > 0 {
		w.line("h3", "At true size")
		w.Write(b.Bytes())
	}
}

// signed is a small length with its sign.
func (w words) signed(m float64) string {
	if m < 0 && w.fine(m) != w.fine(0) {
		return "−" + w.fine(m)
	}
	return w.fine(m)
}

// habit is a band of common practice: a length, or a share. Their numbers don't
// meet: no band of lengths ends as high as 50 mm, none of shares as low as 5 %.
func (w words) habit(low, high float64) string {
	const longest = 0.05 // m
	if high > longest {
		return percent(low) + " to " + percent(high)
	}
	return w.fine(low) + " to " + w.fine(high)
}

// stockPart is what to cut and what becomes of it.
func (w *report) stockPart() {
	s := w.r.Stock
	var rows [][]string
	for _, p := range s.Pieces {
		rows = append(rows, []string{fmt.Sprintf("%d ×", p.Count), p.Material, w.Length(p.Thickness), w.Length(p.Width), w.LongLength(p.Length)})
	}
	w.table("To cut", "rlrrr", []string{"", "material", "thick", "wide", "long"}, rows)
	rows = nil
	for _, l := range s.Losses {
		rows = append(rows, []string{l.Step, percent(l.Share), w.Mass(l.Mass)})
	}
	w.table("From stack to blade", "lrr", []string{"step", "takes of the start", "leaves"}, rows)
}

// lessonPart is the lesson's sentences.
func (w *report) lessonPart() {
	var items []string
	for _, s := range w.r.Lesson.Scenes {
		items = append(items, s.Title+": "+s.Why)
	}
	w.list("", items)
}
