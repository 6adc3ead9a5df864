package plots

import (
	"fmt"
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// driftBar is thickness and offset along the finished bar.
type driftBar struct {
	thick, offset chart
}

const alongPanel = vg.Length(135) // pt, the height of a panel

// driftAlong collects what the picture shows.
func driftAlong(r *sim.Result) *driftBar {
	s, e := shownIn(r.Job), r.Work.Final
	at, off, thick := e.Along.At, e.Along.Value, e.AlongThick
	dots := len(at) > 1
	if !dots { // one place stands for the whole bar
		at, off, thick = []float64{0, e.Length}, []float64{off[0], off[0]}, []float64{thick[0], thick[0]}
	}
	x := newAxis(0, s.size(math.Max(e.Length, at[len(at)-1])), 8)
	k := &driftBar{
		thick: chart{name: "drift-along", title: alongTitle(e, s), subtitle: billet(r.Job, s, ""), x: x, yTitle: s.sizeUnit(),
			xTitle: s.sizeWord() + " from the front end"},
	}
	k.offset = chart{x: x, yTitle: s.sizeUnit(), xTitle: k.thick.xTitle}
	places := each(at, s.size)
	n := len(at) - 1
	k.thick.lines = []line{{x: places, y: each(thick, s.size), ink: hueSkin, width: 1.8, dots: dots,
		label: "thickness " + s.fine(thick[n])}}
	k.offset.lines = []line{{x: places, y: each(off, s.size), ink: hueMid, width: 1.8, dots: dots, label: "at the back " + s.off(off[n])}}
	k.offset.rules = []rule{{value: s.size(e.Offset), label: "mean " + s.off(e.Offset), ink: inkSoft, dash: dashShort}}
	low, high := span(thick)
	if room := 2e-4 - (high - low); room > 0 { // an even bar must look even
		low, high = low-room/2, high+room/2
	}
	k.thick.y = roundAxis(s.size(low), s.size(high), 5)
	k.offset.y = offsetAxis(s, append([]float64{e.Offset}, off...)...)
	return k
}

// alongTitle says how even the bar is along its length.
func alongTitle(e sim.BarEnd, s shown) string {
	if len(e.Along.At) < 2 {
		return "One place stands for the whole length: temperatures are prescribed"
	}
	a, b := span(e.Along.Value)
	if s.nothing(b - a) {
		return "The core lies even along the bar"
	}
	c, d := span(e.AlongThick)
	text := fmt.Sprintf("Along the bar the core moves by %s, which no grinding takes out", whole(s.fine(b-a)))
	if !s.nothing(d - c) {
		text += ", and the thickness by " + whole(s.fine(d-c))
	}
	return text
}

// sheet draws the picture.
func (k *driftBar) sheet() *sheet {
	const between = panelGap + unitRow + heatRow
	foot := pageMargin + axisRow + tickRow + heatRow
	s := head(k.thick.name, k.thick.title, k.thick.subtitle, foot+2*alongPanel+between+unitRow+6)
	k.offset.place(foot, alongPanel, passRight)
	k.thick.place(foot+alongPanel+between, alongPanel, passRight)
	k.thick.grid(s)
	k.thick.plot(s, passRight)
	k.offset.grid(s)
	k.offset.toSides(s, heatRow/2+1, heatRow/2)
	k.offset.middle(s)
	k.offset.plot(s, passRight)
	k.offset.base(s, heatRow)
	y := foot - heatRow - tickRow - axisRow/2 - 1
	s.text(handHead, k.offset.frame.Min.X, y, 0, "front")
	s.text(handHead, k.offset.frame.Max.X, y, 1, "back")
	return s
}

// driftWide is the offset across the width of the finished bar.
type driftWide struct {
	chart
	edge  *spotAt // where the blade's edge lies, and the offset there
	blade [2]float64
	label string
}

// spotAt is a value at a place of the level axis, shown.
type spotAt struct{ at, value float64 }

// driftAcross collects what the picture shows.
func driftAcross(r *sim.Result) *driftWide {
	s, w := shownIn(r.Job), r.Work
	e := w.Final
	k := &driftWide{chart: chart{name: "drift-across", title: acrossTitle(w, s), subtitle: billet(r.Job, s, ""),
		yTitle: s.sizeUnit(), xTitle: s.sizeWord() + " from the middle of the width"}}
	half := math.Max(e.Width/2, math.Max(-e.Across.At[0], e.Across.At[len(e.Across.At)-1]))
	n := len(e.Across.At) - 1
	values := append([]float64{e.Offset}, e.Across.Value...)
	k.lines = []line{{x: each(e.Across.At, s.size), y: each(e.Across.Value, s.size), ink: hueMid, width: 2,
		label: "at the right " + s.off(e.Across.Value[n])}}
	k.rules = []rule{{value: s.size(e.Offset), label: "mean " + s.off(e.Offset), ink: inkSoft, dash: dashShort}}
	if b := r.Job.Blade; b != nil {
		y, to := half-b.EdgeFromSide, half-b.EdgeFromSide-b.Height
		if !b.EdgeRight {
			y, to = -y, -to
		}
		y, to = clampTo(y, half), clampTo(to, half)
		at, share := between(e.Across.At, y)
		off := mix(e.Across.Value, at, share)
		if w.EdgeOffset.OK {
			off = w.EdgeOffset.Value
		}
		k.edge = &spotAt{s.size(y), s.size(off)}
		k.blade = [2]float64{s.size(math.Min(y, to)), s.size(math.Max(y, to))}
		k.label = "the blade’s edge: " + s.off(off)
		if y < e.Across.At[0] || y > e.Across.At[n] {
			k.label = "the blade’s edge, outside the lines followed: " + s.off(off)
		}
		values = append(values, off)
	}
	k.x = newAxis(-s.size(half), s.size(half), 10)
	k.y = offsetAxis(s, values...)
	return k
}

// clampTo keeps v within half of nought.
func clampTo(v, half float64) float64 { return math.Max(-half, math.Min(half, v)) }

// acrossTitle says how far off the core is at the edge, or across the bar.
func acrossTitle(w *sim.Work, s shown) string {
	a, b := span(w.Final.Across.Value)
	if w.EdgeOffset.OK {
		text := "Where the blade’s edge will lie the core is " + whole(s.toward(w.EdgeOffset.Value))
		if !s.nothing(w.EdgeOffset.Value - w.Final.Offset) {
			text += fmt.Sprintf("; over the whole width %s", whole(s.off(w.Final.Offset)))
		}
		return text
	}
	if s.nothing(b - a) {
		return "Across the width the core lies even, " + whole(s.toward(w.Final.Offset))
	}
	return fmt.Sprintf("Across the width the core lies from %s to %s", whole(s.off(a)), whole(s.off(b)))
}

// sheet draws the picture.
func (k *driftWide) sheet() *sheet {
	over := unitRow + heatRow + 6
	if k.edge == nil {
		over = unitRow
	}
	s := k.begin(over, heatRow, passRight)
	f := k.frame
	if k.edge != nil {
		s.block(k.x.at(k.blade[0]), f.Min.Y, k.x.at(k.blade[1]), f.Max.Y, inkCore)
	}
	k.grid(s)
	k.toSides(s, heatRow/2+1, heatRow/2)
	k.middle(s)
	if k.edge != nil {
		k.drawEdge(s)
	}
	k.plot(s, passRight)
	k.base(s, heatRow)
	y := f.Min.Y - heatRow - tickRow - axisRow/2 - 1
	s.text(handHead, f.Min.X, y, 0, "left")
	s.text(handHead, f.Max.X, y, 1, "right")
	return s
}

// drawEdge marks where the blade's edge lies.
func (k *driftWide) drawEdge(s *sheet) {
	f := k.frame
	x := k.x.at(k.edge.at)
	s.line(x, f.Min.Y, x, f.Max.Y+heatRow, 1, hueSkin, nil)
	s.add(dot{at: vg.Point{X: x, Y: k.chart.y.at(k.edge.value)}, radius: 3, ink: hueSkin})
	half := handHead.width(k.label) / 2
	s.text(handHead, clamp(x, f.Min.X+half, pageWidth-pageMargin-half), f.Max.Y+heatRow+unitRow/2-1, 0.5, k.label)
	mid := (k.blade[0] + k.blade[1]) / 2
	if wide := k.x.at(k.blade[1]) - k.x.at(k.blade[0]); wide > handNote.width("the blade")+8 {
		s.text(handNote, k.x.at(mid), f.Min.Y+8, 0.5, "the blade")
	}
}
