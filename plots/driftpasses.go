package plots

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// passDrift is the offset against the pass under each habit of turning over.
type passDrift struct {
	chart
	heats []heatBand
	tools []band
	ends  []vertical // ranges at the end
}

// vertical is a range at a place of the level axis.
type vertical struct {
	at, low, high float64
	ink           color.Color
}

// leastOffset is the least an axis of offsets reaches to one side: an offset
// nobody can measure must not look like one.
const leastOffset = 5e-5 // m

// offsetAxis is an axis that holds the offsets given, in m, and nought.
func offsetAxis(s shown, values ...float64) axis {
	low, high := span(values)
	low, high = math.Min(low, 0), math.Max(high, 0)
	if high-low < leastOffset {
		low, high = math.Min(low, -leastOffset), math.Max(high, leastOffset)
	}
	room := 0.04 * (high - low)
	if low < 0 {
		low -= room
	}
	if high > 0 {
		high += room
	}
	return roundAxis(s.size(low), s.size(high), 7)
}

// toSides says over and under the frame which side is up.
func (c *chart) toSides(s *sheet, over, under vg.Length) {
	f := c.frame
	if c.y.max > 0 {
		s.text(handNote, f.Min.X+2, f.Max.Y+over, 0, "↑ core toward side A")
	}
	if c.y.min < 0 {
		s.text(handNote, f.Min.X+2, f.Min.Y-under, 0, "↓ core toward side B")
	}
}

// middle draws the line of no offset.
func (c *chart) middle(s *sheet) {
	y := c.y.at(0)
	s.line(c.frame.Min.X, y, c.frame.Max.X, y, 1, inkAxis, nil)
}

// driftPasses collects what the picture shows.
func driftPasses(r *sim.Result) *passDrift {
	s, w := shownIn(r.Job), r.Work
	n := len(w.Passes)
	k := &passDrift{chart: chart{name: "drift-passes", title: flipsTitle(w, s), x: passAxis(0, n), xTitle: "pass", yTitle: s.sizeUnit()},
		heats: heatBands(w.Passes), tools: toolBands(w.Passes)}
	start := 0.0
	if len(w.Sections) > 0 && w.Sections[0].Pass == 0 {
		start = w.Sections[0].Offset
	}
	all := []float64{start}
	add := func(l line, by []float64, name string) {
		by = append([]float64{start}, by...)
		all = append(all, by...)
		l.x, l.y = upTo(n), each(by, s.size)
		l.label = name + " " + s.off(by[n])
		k.lines = append(k.lines, l)
	}
	note, mine := "", "this job"
	for _, f := range w.Flips {
		if f.IsCurrent {
			mine = "this job, " + habitName(f.Habit)
			continue
		}
		add(flipLook(f.Habit), f.ByPass, turned(f.Habit, ""))
	}
	own := make([]float64, n)
	for i, p := range w.Passes {
		own[i] = p.Offset
	}
	add(line{ink: hueMid, width: 2.2, dots: true}, own, mine)
	at := float64(n)
	if lo, hi := w.Final.OffsetRange[0], w.Final.OffsetRange[1]; hi > lo {
		k.ends = append(k.ends, vertical{at, s.size(lo), s.size(hi), inkText})
		all = append(all, lo, hi)
		note = "upright bar: range of the model"
	}
	if o := w.Odds; o != nil {
		k.ends = append(k.ends, vertical{at + 0.3, s.size(o.Offset[0]), s.size(o.Offset[2]), hueBurn})
		all = append(all, o.Offset[0], o.Offset[2])
		note = strings.TrimPrefix(note+fmt.Sprintf("; purple: 90 %% of %d draws", o.Draws), "; ")
	}
	k.y, k.subtitle = offsetAxis(s, all...), billet(r.Job, s, note)
	return k
}

// flipLook is how the line of a habit shows.
func flipLook(h sim.FlipHabit) line {
	switch h {
	case sim.FlipNever:
		return line{ink: hueSkin, width: 1.6, dash: dashLong}
	case sim.FlipEveryPass:
		return line{ink: hueWeld, width: 1.6, dash: dashMixed}
	}
	return line{ink: hueJoint, width: 1.6, dash: dashShort}
}

// sheet draws the picture.
func (k *passDrift) sheet() *sheet {
	const under = stripHeight + heatRow
	s := k.begin(unitRow+heatRow+6, under, passRight)
	k.shadeHeats(s, k.heats, true)
	k.grid(s)
	k.toSides(s, heatRow+unitRow/2, heatRow/2)
	k.middle(s)
	for _, v := range k.ends {
		s.whisker(k.x.at(v.at), k.chart.y.at(v.low), k.chart.y.at(v.high), 7, v.ink)
	}
	k.plot(s, passRight)
	strip := k.chart
	strip.frame.Min.Y -= heatRow
	strip.strip(s, k.tools, toolLooks[:])
	k.base(s, under)
	return s
}

// flipsTitle compares the habits of turning over in a sentence.
func flipsTitle(w *sim.Work, s shown) string {
	end := w.Passes[len(w.Passes)-1].Offset
	var now *sim.Flipped
	best, worst := -1, -1
	for i, f := range w.Flips {
		if f.IsCurrent {
			now = &w.Flips[i]
			continue
		}
		if best < 0 || math.Abs(f.Offset) < math.Abs(w.Flips[best].Offset) {
			best = i
		}
		if worst < 0 || math.Abs(f.Offset) > math.Abs(w.Flips[worst].Offset) {
			worst = i
		}
	}
	text := "The core ends " + whole(s.toward(end))
	switch {
	case now == nil || best < 0:
		return text
	case s.tells(w.Flips[best].Offset, end) && math.Abs(w.Flips[best].Offset) < math.Abs(end):
		f := w.Flips[best]
		return fmt.Sprintf("%s; %s it would end %s", text, whole(turned(f.Habit, " over")), whole(s.toward(f.Offset)))
	case s.tells(w.Flips[worst].Offset, end) && math.Abs(w.Flips[worst].Offset) > math.Abs(end):
		f := w.Flips[worst]
		return fmt.Sprintf("%s; %s it would end %s", text, whole(turned(f.Habit, " over")), whole(s.toward(f.Offset)))
	}
	return text + "; how often the bar is turned over makes no difference"
}

// tells says whether two offsets differ in size by more than a tenth of the
// larger and by something that is written.
func (s shown) tells(a, b float64) bool {
	a, b = math.Abs(a), math.Abs(b)
	return !s.nothing(a-b) && math.Abs(a-b) > 0.1*math.Max(a, b)
}
