package plots

import (
	"image/color"
	"math"
	"slices"
	"sort"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// history is temperature against time.
type history struct {
	chart
	stages  []band
	flags   []moment
	colours []colour
}

// moment is a milestone: a flag over the frame, dots on the lines.
type moment struct {
	at         float64 // min
	time, name string
	dots       []spot
	beyond     bool // later than the axis reaches
}

// spot is a dot on one of the lines.
type spot struct {
	value float64 // shown degrees
	ink   color.Color
}

// colour is a colour name and its range in shown degrees.
type colour struct {
	name     string
	from, to float64
}

const (
	labelRoom   = vg.Length(130) // pt, beside the frame for the labels of lines
	colourRoom  = vg.Length(72)  // pt, beside that for colour names
	flagRoom    = vg.Length(170) // pt, beside the frame at least, for the last flag
	stripHeight = vg.Length(14)  // pt, the strip of stages
	flagRow     = vg.Length(14)  // pt
)

// soakHistory collects what the picture shows.
func soakHistory(r *sim.Result) *history {
	s := shownIn(r.Job)
	start := enters(r.Soak)
	hist := joined(r.Soak)
	from := minutes(hist.Time[0] - start)
	to := minutes(horizon(r.Soak) - start)
	h := &history{chart: chart{
		name:     "soak-history",
		title:    historyTitle(r, s),
		subtitle: billet(r.Job, s, ""),
		xTitle:   "minutes from first entering the forge",
		yTitle:   s.degreeUnit(),
		x:        newAxis(from, to, 10),
	}}
	h.addLines(hist, s, start)
	h.addRules(r, s)
	h.addStages(r.Soak, start)
	h.addMoments(r, s, start)
	h.y = h.heights(s)
	for _, c := range r.Colours {
		h.addColour(c, s)
	}
	return h
}

// joined is the whole history: the stages as given and what follows if the
// work is left in the forge.
func joined(s *sim.Soak) sim.History {
	a, b := s.History, s.RunOn
	return sim.History{
		Time:         slices.Concat(a.Time, b.Time),
		Skin:         slices.Concat(a.Skin, b.Skin),
		Core:         slices.Concat(a.Core, b.Core),
		ColdestJoint: slices.Concat(a.ColdestJoint, b.ColdestJoint),
	}
}

// enters is when the work first goes into the fire; answers count from there.
func enters(s *sim.Soak) float64 {
	for _, st := range s.Stages {
		if st.In == sim.InForge {
			return st.Start
		}
	}
	return s.Stages[0].Start
}

// horizon is the last time worth showing, s from the first stage: the end of
// the stages or of the soak, and any milestone not much later. Of a run that
// never gets there only as much shows as it takes to level off.
func horizon(s *sim.Soak) float64 {
	hist := joined(s)
	first, last := hist.Time[0], s.Stages[len(s.Stages)-1].End
	start := enters(s)
	a := s.Answers
	for _, m := range []sim.Maybe{a.SkinAtWeld, a.JointsAtWeld, a.CoreAtWeld, a.Soak} {
		if m.OK {
			last = math.Max(last, start+m.Value)
		}
	}
	if !a.Soak.OK {
		last = math.Min(last, first+1.25*(levelsOff(hist)-first))
	}
	near := first + (last-first)*1.5
	for _, m := range s.Milestones {
		if m.Time <= near {
			last = math.Max(last, m.Time)
		}
	}
	if last > first {
		return last
	}
	return hist.Time[len(hist.Time)-1]
}

// levelsOff is the time from which skin and core stay as they end, to within
// what shows in the picture.
func levelsOff(h sim.History) float64 {
	const shows = 5 // K, about the width of a line
	n := len(h.Time) - 1
	for i := n; i > 0; i-- {
		if math.Abs(h.Skin[i]-h.Skin[n]) > shows || math.Abs(h.Core[i]-h.Core[n]) > shows {
			return h.Time[min(i+1, n)]
		}
	}
	return h.Time[n]
}

// addLines cuts the history at the end of the axis.
func (h *history) addLines(hist sim.History, s shown, start float64) {
	n := 0
	for n < len(hist.Time) && (n < 2 || minutes(hist.Time[n]-start) <= h.x.max) {
		n++
	}
	t := each(hist.Time[:n], func(v float64) float64 { return minutes(v - start) })
	h.x.max = math.Max(h.x.max, t[n-1])
	add := func(l line, tempK []float64) {
		l.x, l.y = t, each(tempK[:n], s.degrees)
		l.label = l.name + " " + s.temperature(tempK[n-1])
		h.lines = append(h.lines, l)
	}
	add(line{name: "core", ink: hueMid, width: 1.4, dash: dashShort}, hist.Core)
	if len(hist.ColdestJoint) > 0 {
		add(line{name: "coldest joint", ink: hueJoint, width: 1.8, dash: dashLong}, hist.ColdestJoint)
	}
	add(line{name: "skin", ink: hueSkin, width: 2}, hist.Skin)
}

// addRules sets the welding heat and the lowest limit at which a layer burns.
func (h *history) addRules(r *sim.Result, s shown) {
	weld := r.Job.Weld.Heat
	h.rules = append(h.rules, rule{
		value: s.degrees(weld), label: "welding heat " + s.system.ExactTemperature(weld), ink: hueWeld})
	if len(r.Soak.Limits) == 0 {
		return
	}
	low := r.Soak.Limits[0]
	for _, l := range r.Soak.Limits {
		if l.Limit < low.Limit {
			low = l
		}
	}
	burns := " burns " + s.temperature(low.Limit)
	room := labelRoom - labelGap - handLabel.width(burns)
	h.rules = append(h.rules, rule{value: s.degrees(low.Limit), ink: hueBurn, dash: dashMixed,
		label: handLabel.fit(low.Material, room) + burns})
}

// addStages sets the stages, and after them the time left in the forge.
func (h *history) addStages(s *sim.Soak, start float64) {
	least := 1e-3 * (h.x.max - h.x.min) // less than shows
	add := func(from, to float64, kind int) {
		b := band{minutes(from - start), math.Min(minutes(to-start), h.x.max), kind}
		if b.to-b.from > least {
			h.stages = append(h.stages, b)
		}
	}
	end := 0.0
	for _, st := range s.Stages {
		kind := stageForge
		if st.In == sim.InAir {
			kind = stageAir
		}
		add(st.Start, st.End, kind)
		end = st.End
	}
	add(end, math.Inf(1), stageLeft)
}

// addMoments sets the milestones in order of time, and the end of the soak.
func (h *history) addMoments(r *sim.Result, s shown, start float64) {
	marks := slices.Clone(r.Soak.Milestones)
	a := r.Soak.Answers
	if a.Soak.OK {
		marks = append(marks, sim.Milestone{Name: "soak done", Time: start + a.Soak.Value})
	}
	sort.SliceStable(marks, func(i, j int) bool { return marks[i].Time < marks[j].Time })
	for _, m := range marks {
		f := moment{at: minutes(m.Time - start), name: m.Name,
			time: unit.Duration(m.Time - start)}
		if m.Name == "overheats" && a.OverheatsAt != "" {
			f.name += ": " + a.OverheatsAt
		}
		if f.at > h.x.max {
			f.at, f.beyond = h.x.max, true
		} else {
			h.dot(&f)
		}
		h.flags = append(h.flags, f)
	}
}

// dot puts a dot on each line at the time of f.
func (h *history) dot(f *moment) {
	for _, l := range h.lines {
		k, t := between(l.x, f.at)
		f.dots = append(f.dots, spot{mix(l.y, k, t), l.ink})
	}
}

// heights is the upright axis: from nought or below to over everything drawn.
func (h *history) heights(s shown) axis {
	low, high := 0.0, 0.0
	for _, l := range h.lines {
		a, b := span(l.y)
		low, high = math.Min(low, a), math.Max(high, b)
	}
	for _, r := range h.rules {
		low, high = math.Min(low, r.value), math.Max(high, r.value)
	}
	for _, f := range h.flags {
		for _, d := range f.dots {
			low, high = math.Min(low, d.value), math.Max(high, d.value)
		}
	}
	return roundAxis(low, high+0.02*(high-low), 8)
}

// addColour adds the part of a colour name's range that shows.
func (h *history) addColour(c sim.HeatColour, s shown) {
	k := colour{c.Name, math.Max(s.degrees(c.From), h.y.min), math.Min(s.degrees(c.To), h.y.max)}
	if k.to > k.from {
		h.colours = append(h.colours, k)
	}
}

// sheet draws the picture.
func (h *history) sheet() *sheet {
	right := flagRoom
	if len(h.colours) > 0 {
		right = labelRoom + colourRoom
	}
	flags := make([]flag, len(h.flags))
	h.x.lo, h.x.hi = pageMargin+leftRoom, pageWidth-pageMargin-right
	for i, f := range h.flags {
		x := h.x.at(f.at)
		flags[i] = flag{x: x, width: flagIndent + f.width(pageWidth-pageMargin-x-flagIndent)}
	}
	row := rows(flags, 8)
	over := unitRow
	for _, r := range row {
		over = max(over, flagRow*vg.Length(r+1)+12)
	}
	s := h.begin(over, stripHeight, right)
	h.shade(s)
	h.grid(s)
	h.drawFlags(s, row)
	h.plot(s, labelRoom)
	h.drawDots(s)
	h.strip(s, h.stages, stageLooks[:])
	h.base(s, stripHeight)
	h.drawColours(s)
	return s
}

// shade tints the time out of the fire.
func (h *history) shade(s *sheet) {
	for _, b := range h.stages {
		if b.kind == stageAir {
			s.block(h.x.at(b.from), h.frame.Min.Y, h.x.at(b.to), h.frame.Max.Y, inkShade)
		}
	}
}

const (
	flagIndent = vg.Length(4) // pt, from the flag's line to its text
	flagSpace  = vg.Length(7) // pt, from the time to the name
)

// texts are the two parts of a flag's text, fitted to room.
func (m moment) texts(room vg.Length) (time, name string) {
	time = m.time
	name = m.name
	if m.beyond {
		name += " →"
	}
	return time, handLabel.fit(name, room-handHead.width(time)-flagSpace)
}

func (m moment) width(room vg.Length) vg.Length {
	time, name := m.texts(room)
	return handHead.width(time) + flagSpace + handLabel.width(name)
}

// drawFlags writes the milestones over the frame, each with a line down to the
// lowest dot it stands for.
func (h *history) drawFlags(s *sheet, row []int) {
	for i, f := range h.flags {
		x := h.x.at(f.at)
		y := h.frame.Max.Y + 6 + flagRow*(vg.Length(row[i])+0.5)
		foot := h.frame.Max.Y
		for _, d := range f.dots {
			foot = min(foot, h.y.at(d.value))
		}
		if !f.beyond {
			s.line(x, foot, x, y+flagRow/2-1, 0.8, inkSoft, nil)
		}
		time, name := f.texts(pageWidth - pageMargin - x - flagIndent)
		box := s.text(handHead, x+flagIndent, y, 0, time)
		s.text(handLabel, box.Max.X+flagSpace, y, 0, name)
	}
}

// drawDots marks the milestones on the lines, in the lines' inks.
func (h *history) drawDots(s *sheet) {
	for _, f := range h.flags {
		for _, d := range f.dots {
			s.add(dot{at: vg.Point{X: h.x.at(f.at), Y: h.y.at(d.value)}, radius: 2.4, ink: d.ink})
		}
	}
}

// drawColours writes the colour names at the right edge, beside the range each
// stands for.
func (h *history) drawColours(s *sheet) {
	if len(h.colours) == 0 {
		return
	}
	want := make([]vg.Length, len(h.colours))
	for i, c := range h.colours {
		want[i] = (h.y.at(c.from) + h.y.at(c.to)) / 2
	}
	step := handNote.height() + 1
	x := pageWidth - pageMargin - colourRoom + 6
	got := spread(want, step, h.frame.Min.Y-step/2, h.frame.Max.Y+step/2)
	for i, c := range h.colours {
		s.line(x, h.y.at(c.from)+0.8, x, h.y.at(c.to)-0.8, 2.5, inkAir, nil)
		s.add(stroke{width: 0.5, ink: inkAir, pts: []vg.Point{{X: x + 1, Y: want[i]}, {X: x + 5, Y: got[i]}}})
		s.text(handNote, x+7, got[i], 0, handNote.fit(c.name, colourRoom-13))
	}
}
