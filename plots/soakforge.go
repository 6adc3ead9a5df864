package plots

import (
	"fmt"
	"math"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// forgeWall is the temperature of the forge's wall while the billet is in it.
type forgeWall struct {
	chart
	stages []band
	dip    spotAt // lowest, shown
	told   string
}

// soakForge collects what the picture shows.
func soakForge(r *sim.Result) *forgeWall {
	s, w := shownIn(r.Job), r.Soak.Forge
	k := &forgeWall{chart: chart{name: "soak-forge", title: forgeTitle(w, s), yTitle: s.degreeUnit(),
		xTitle: "minutes from first entering the forge", subtitle: billet(r.Job, s, "")}}
	start, end := enters(r.Soak), 0.0
	for _, st := range r.Soak.Stages {
		end = math.Max(end, st.End)
	}
	if !(end > w.Wall.Time[0]) {
		end = w.Wall.Time[len(w.Wall.Time)-1]
	}
	l := line{ink: hueSkin, width: 2, label: "wall"}
	for i, t := range w.Wall.Time {
		if t <= end {
			l.x, l.y = append(l.x, minutes(t-start)), append(l.y, s.degrees(w.Wall.Value[i]))
		}
	}
	if i, t := between(w.Wall.Time, end); minutes(end-start) > l.x[len(l.x)-1] {
		l.x, l.y = append(l.x, minutes(end-start)), append(l.y, s.degrees(mix(w.Wall.Value, i, t)))
	}
	last := l.y[len(l.y)-1]
	l.label = fmt.Sprintf("wall %.0f %s", last, s.degreeUnit())
	k.lines = []line{l}
	k.rules = []rule{{value: s.degrees(w.Full), label: "hot through, empty " + s.temperature(w.Full), ink: inkSoft, dash: dashShort}}
	low, high := span(l.y)
	if weld := s.degrees(r.Job.Weld.Heat); weld > low-s.degreesApart(60) {
		k.rules = append(k.rules, rule{value: weld, label: "welding heat " + s.system.ExactTemperature(r.Job.Weld.Heat), ink: hueWeld})
	}
	for _, v := range k.rules {
		low, high = math.Min(low, v.value), math.Max(high, v.value)
	}
	k.x, k.y = newAxis(l.x[0], l.x[len(l.x)-1], 8), roundAxis(low, high, 7)
	k.dip = spotAt{minutes(w.LowestAt - start), s.degrees(w.Lowest)}
	k.told = fmt.Sprintf("lowest %s, at %s", s.temperature(w.Lowest), unit.Duration(math.Max(0, w.LowestAt-start)))
	k.stages = stageBands(r.Soak, start)
	return k
}

// stageBands are the stages that took any time, in minutes from first
// entering the forge.
func stageBands(k *sim.Soak, start float64) []band {
	var out []band
	for _, st := range k.Stages {
		if st.End <= st.Start {
			continue
		}
		kind := stageForge
		if st.In == sim.InAir {
			kind = stageAir
		}
		out = append(out, band{minutes(st.Start - start), minutes(st.End - start), kind})
	}
	return out
}

// notThrough is how far short of hot through a forge is spoken of, K: what a
// thermocouple in it shows (common practice, no source).
const notThrough = 10.0

// forgeTitle says how far the wall dips.
func forgeTitle(w *sim.ForgeCurve, s shown) string {
	dip := w.Start - w.Lowest
	if dip < evenEnough {
		return "The forge does not dip under the billet: it goes in at " + whole(s.temperature(w.Start)) + " and only climbs"
	}
	text := fmt.Sprintf("The billet pulls the forge down by %s, to %s", whole(s.difference(dip)), whole(s.temperature(w.Lowest)))
	if w.Start < w.Full-notThrough {
		text += fmt.Sprintf("; it was not hot through when the billet went in, by %s", whole(s.difference(w.Full-w.Start)))
	}
	return text
}

// sheet draws the picture.
func (k *forgeWall) sheet() *sheet {
	s := k.begin(unitRow+axisRow, stripHeight, profileRight)
	k.grid(s)
	k.plot(s, profileRight)
	if k.x.holds(k.dip.at) && k.y.holds(k.dip.value) {
		k.drawDip(s)
	}
	k.strip(s, k.stages, stageLooks[:])
	k.base(s, stripHeight)
	return s
}

// drawDip marks the lowest place and writes it where the line leaves room:
// under it, or over it at the foot.
func (k *forgeWall) drawDip(s *sheet) {
	f := k.frame
	at := vg.Point{X: k.x.at(k.dip.at), Y: k.y.at(k.dip.value)}
	s.add(dot{at: at, radius: 3.5, ink: hueJoint})
	half := handHead.width(k.told) / 2
	y := at.Y - 13
	if y-handHead.height() < f.Min.Y {
		y = at.Y + 15
	}
	x := clamp(at.X, f.Min.X+half+4, f.Max.X-half-4)
	s.block(x-half-2, y-handHead.height()/2, x+half+2, y+handHead.height()/2, inkPaper)
	s.text(handHead, x, y, 0.5, k.told)
}
