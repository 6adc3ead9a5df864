package plots

import (
	"fmt"
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// temperChart is hardness against the temperature of the temper.
type temperChart struct {
	chart
	low, high []float64 // HRC, the band about the line
	at        spotAt    // as tempered, shown
	within    float64   // HRC either way there
	label     string
}

// leastHRC is where the Rockwell C scale is no longer in use.
const leastHRC = 20

// hardenTemper collects what the picture shows.
func hardenTemper(r *sim.Result) *temperChart {
	s, h := shownIn(r.Job), r.Hardened
	c := h.Curve
	k := &temperChart{chart: chart{name: "harden-temper", title: temperTitle(r, s), yTitle: "HRC",
		xTitle: s.degreeUnit() + ", the temperature of every temper", subtitle: billet(r.Job, s, tempersNote(r.Job))}}
	for _, v := range c.HRC {
		k.low, k.high = append(k.low, v-c.Within), append(k.high, v+c.Within)
	}
	l := line{x: each(c.TempK, s.degrees), y: c.HRC, ink: hueMid, width: 2,
		label: fmt.Sprintf("the core at the edge, ± %.2g", c.Within)}
	k.lines = []line{l}
	low, _ := span(k.low)
	_, high := span(k.high)
	high = math.Max(high, h.AsQuenched.HRC)
	from, to := span(l.x)
	if t := r.Job.Harden; t != nil && len(t.Temper) > 0 {
		k.at, k.within = spotAt{s.degrees(hottest(r.Job)), h.Tempered.HRC}, h.Tempered.Within
		from, to = math.Min(from, k.at.at), math.Max(to, k.at.at)
		low, high = math.Min(low, k.at.value-k.within), math.Max(high, k.at.value+k.within)
		k.label = fmt.Sprintf("this job: %.0f HRC", h.Tempered.HRC)
	}
	k.rules = append(k.rules, rule{value: math.Max(h.AsQuenched.HRC, 0), label: fmt.Sprintf("as quenched %.0f HRC", h.AsQuenched.HRC), ink: hueSkin, dash: dashShort})
	k.x, k.y = newAxis(from, to, 9), roundAxis(math.Max(low, 0), math.Max(high, leastHRC), 8)
	k.lines[0].y = k.held(k.lines[0].y)
	k.low, k.high = k.held(k.low), k.held(k.high)
	if k.y.min < leastHRC {
		k.rules = append(k.rules, rule{value: leastHRC, label: "below 20 HRC is not in use", ink: inkSoft, dash: dashShort})
	}
	return k
}

// held keeps hardnesses on the axis: far below where the scale is in use there
// is nothing to read.
func (k *temperChart) held(hrc []float64) []float64 {
	return each(hrc, func(v float64) float64 { return math.Max(k.y.min, math.Min(k.y.max, v)) })
}

// hottest is the temperature of the hottest temper, K: it settles the
// hardness.
func hottest(j *sim.Job) float64 {
	t := 0.0
	for _, k := range j.Harden.Temper {
		t = math.Max(t, k.Temperature)
	}
	return t
}

// tempersNote says how many tempers the curve is for.
func tempersNote(j *sim.Job) string {
	if j.Harden == nil || len(j.Harden.Temper) == 0 {
		return ""
	}
	return count(len(j.Harden.Temper), "temper", "tempers")
}

// temperTitle says what the temper leaves.
func temperTitle(r *sim.Result, s shown) string {
	h := r.Hardened
	if r.Job.Harden == nil || len(r.Job.Harden.Temper) == 0 {
		return fmt.Sprintf("As quenched the core is %.0f HRC; what a temper would leave", h.AsQuenched.HRC)
	}
	at := whole(s.system.ExactTemperature(hottest(r.Job)))
	if h.Tempered.HRC < leastHRC {
		return fmt.Sprintf("Tempered at %s the core at the edge is softer than the Rockwell C scale shows", at)
	}
	return fmt.Sprintf("Tempered at %s the core at the edge is %s, give or take %.2g", at, whole(fmt.Sprintf("%.0f HRC", h.Tempered.HRC)), h.Tempered.Within)
}

// sheet draws the picture.
func (k *temperChart) sheet() *sheet {
	s := k.begin(unitRow+axisRow, 0, passRight)
	f := k.frame
	x := k.lines[0].x
	low, high := k.points(line{x: x, y: k.low}), k.points(line{x: x, y: k.high})
	s.add(area{pts: append(low, reversed(high)...), ink: inkShade})
	k.grid(s)
	k.plot(s, passRight)
	if k.label != "" {
		v := k.held([]float64{k.at.value, k.at.value - k.within, k.at.value + k.within})
		at := vg.Point{X: k.x.at(k.at.at), Y: k.y.at(v[0])}
		s.line(at.X, at.Y, at.X, f.Max.Y+4, 0.8, hueJoint, dashShort)
		s.whisker(at.X, k.y.at(v[1]), k.y.at(v[2]), 8, hueJoint)
		s.add(dot{at: at, radius: 3.5, ink: hueJoint})
		half := handHead.width(k.label) / 2
		s.text(handHead, clamp(at.X, f.Min.X+half, pageWidth-pageMargin-half), f.Max.Y+axisRow/2+4, 0.5, k.label)
	}
	k.base(s, 0)
	return s
}
