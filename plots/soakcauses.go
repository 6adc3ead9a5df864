package plots

import (
	"fmt"
	"math"
	"strings"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// SoakCauses draws what stands behind the soak: what each cause of a cold core
// does alone ("soak-causes"), what makes the soak's range wide ("soak-ranges")
// and how the forge's wall dips under the billet ("soak-forge"), in that
// order; one for which the Result has nothing is left out. Errors are as of
// Soak.
func SoakCauses(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkCauses, causesSheets)
}

// causesSheets lays out the pictures of what stands behind the soak.
func causesSheets(r *sim.Result) []*sheet {
	if r.Soak == nil {
		return nil
	}
	var all []*sheet
	if len(r.Soak.Sweeps) > 0 {
		all = append(all, soakCauses(r).sheet())
	}
	if k := r.Soak.Ranges; k != nil && len(k.Causes) > 0 && r.Soak.Answers.Soak.OK {
		all = append(all, soakRanges(r).sheet())
	}
	if k := r.Soak.Forge; k != nil && len(k.Wall.Time) > 1 {
		all = append(all, soakForge(r).sheet())
	}
	return all
}

// soakPanels is a panel for each cause.
type soakPanels struct {
	name, title, subtitle string
	panels                []causePanel
}

// causePanel is how the core lags with one cause, all else as in the job.
type causePanel struct {
	chart
	log   bool
	head  string
	note  string
	here  float64 // on the level axis
	dot   *spotAt // this job on the line; nil: the line does not reach there
	told  string  // beside the mark of this job; empty: no mark
	place string  // where that is, written where it lies off the axis
	empty string  // instead of a line
}

// soakCauses collects what the picture shows.
func soakCauses(r *sim.Result) *soakPanels {
	s := shownIn(r.Job)
	k := &soakPanels{name: "soak-causes", title: lagTitle(r, s), subtitle: billet(r.Job, s, "each cause alone, all else as in the job")}
	for _, w := range r.Soak.Sweeps {
		k.panels = append(k.panels, causePanelOf(w, s))
	}
	return k
}

// lagTitle says which cause moves the lag most over its sweep.
func lagTitle(r *sim.Result, s shown) string {
	worst, wide := "", 0.0
	for _, w := range r.Soak.Sweeps {
		if len(w.Lag) < 2 || w.Unit == "s" {
			continue
		}
		if low, high := span(w.Lag); high-low > wide {
			worst, wide = w.What, high-low
		}
	}
	text := "What makes the core lag behind the skin"
	if l := r.Soak.Answers.Lag; l.OK {
		text = "The core lags " + whole(unit.Duration(l.Value)) + " behind the skin"
	}
	if worst == "" {
		return text
	}
	return fmt.Sprintf("%s; of what is swept here, %s moves it most, by %s", text, worst, whole(unit.Duration(wide)))
}

// causePanelOf is the panel of a sweep.
func causePanelOf(w sim.Sweep, s shown) causePanel {
	k := causePanel{log: w.Log, head: "Lag of the core by " + w.What, note: w.Note}
	along := func(v float64) float64 { return v }
	lag := minutes
	k.yTitle = "min"
	switch w.Unit {
	case "K":
		along, k.xTitle = s.degrees, s.degreeUnit()
	case "s":
		// The sweep of time is of what the joints lack, K.
		along, k.xTitle = minutes, "minutes after the skin looks ready"
		lag, k.yTitle = s.degreesApart, s.degreeUnit()
		k.head = "What the coldest joint lacks if pulled early"
	default:
		k.xTitle = unitWords(w.Unit)
	}
	if w.Log {
		along = math.Log10
	}
	if len(w.At) < 2 {
		k.empty = "no answer within reach"
		k.x, k.y = newAxis(0, 1, 1), newAxis(0, 1, 1)
		k.x.ticks, k.y.ticks, k.log = nil, nil, false
		return k
	}
	x, y := each(w.At, along), each(w.Lag, lag)
	k.lines = []line{{x: x, y: y, ink: hueJoint, width: 1.8, dots: true}}
	k.mark(w, x, y, along)
	if w.Unit == "K" {
		k.place = s.temperature(w.Here)
	}
	low, high := span(x)
	if k.told != "" && k.dot == nil && k.reaches(low, high) {
		low, high = math.Min(low, k.here), math.Max(high, k.here)
	}
	if w.Log {
		k.x = axis{min: math.Floor(low), max: high + 0.1}
	} else {
		k.x = roundAxis(low, high, 5)
	}
	_, most := span(y)
	k.y = roundAxis(0, math.Max(most, lag(1)), 5)
	return k
}

// mark is where this job stands.
func (k *causePanel) mark(w sim.Sweep, x, y []float64, along func(float64) float64) {
	if !w.HasIt {
		return
	}
	k.here, k.told = along(w.Here), "you are here"
	low, high := span(x)
	if k.here >= low && k.here <= high {
		i, t := between(x, k.here)
		k.dot = &spotAt{k.here, mix(y, i, t)}
	}
}

// reaches says that this job is near enough to what was swept for the axis to
// be widened to it.
func (k *causePanel) reaches(low, high float64) bool {
	const most = 0.35 // of the sweep
	room := most * (high - low)
	return k.here >= low-room && k.here <= high+room
}

// degreesApart is a difference of temperatures as a number on an axis.
func (s shown) degreesApart(dK float64) float64 {
	if s.inch() {
		return dK / unit.FahrenheitKelvins
	}
	return dK
}

// unitWords is a unit as readers write it.
func unitWords(u string) string {
	if u == "W/m2K" {
		return "W/m²K through the joint"
	}
	return u
}

const (
	causeWide  = vg.Length(266)         // pt, a panel with its numbers
	causeTall  = vg.Length(120)         // pt, its frame
	causeHead  = vg.Length(42)          // pt, over the frame
	causeNotes = 4                      // lines under a panel at the most
	causeFoot  = tickRow + axisRow + 12 // under the frame without them
)

// sheet draws the picture.
func (k *soakPanels) sheet() *sheet {
	rows, most := (len(k.panels)+1)/2, 0
	for _, p := range k.panels {
		most = max(most, len(p.notes()))
	}
	foot := causeFoot + axisRow*vg.Length(most)
	cell := causeHead + causeTall + foot
	s := head(k.name, k.title, k.subtitle, vg.Length(rows)*cell+pageMargin)
	for i := range k.panels {
		x := pageMargin + vg.Length(i%2)*(pageWidth-2*pageMargin-causeWide)
		y := pageMargin + vg.Length(rows-1-i/2)*cell + foot
		k.panels[i].draw(s, x, y)
	}
	return s
}

// draw draws a panel with the lower left corner of its frame right of x, over
// y.
func (k *causePanel) draw(s *sheet, x, y vg.Length) {
	k.frame = vg.Rectangle{Min: vg.Point{X: x + leftRoom, Y: y}, Max: vg.Point{X: x + causeWide - 12, Y: y + causeTall}}
	f := k.frame
	k.x.lo, k.x.hi, k.y.lo, k.y.hi = f.Min.X, f.Max.X, f.Min.Y, f.Max.Y
	s.text(handHead, x, f.Max.Y+causeHead-13, 0, handHead.fit(k.head, causeWide))
	if k.empty != "" {
		s.box(f.Min.X, f.Min.Y, f.Max.X, f.Max.Y)
		s.text(handLabel, (f.Min.X+f.Max.X)/2, (f.Min.Y+f.Max.Y)/2, 0.5, k.empty)
	} else {
		k.grid(s)
		if k.log {
			k.drawDecades(s)
		}
		for _, l := range k.lines {
			k.curve(s, l)
		}
		k.drawHere(s)
		k.base(s, 0)
	}
	for i, l := range k.notes() {
		s.text(handNote, x, f.Min.Y-tickRow-axisRow-axisRow*(vg.Length(i)+0.5)-2, 0, l)
	}
}

// notes are the lines under the panel.
func (k *causePanel) notes() []string { return handNote.wrap(k.note, causeWide-8, causeNotes) }

// curve draws a line with a dot at each value.
func (k *causePanel) curve(s *sheet, l line) {
	pts := k.points(l)
	s.add(stroke{pts: pts, width: l.width, ink: l.ink})
	for _, p := range pts {
		s.add(dot{at: p, radius: 1.6, ink: l.ink})
	}
}

// drawHere marks this job, with an arrow where it lies off the axis.
func (k *causePanel) drawHere(s *sheet) {
	if k.told == "" {
		return
	}
	f := k.frame
	y := f.Max.Y + 9
	told, x := strings.TrimSpace(k.told+" "+k.place), f.Min.X
	switch {
	case k.here < k.x.min:
		told = "← " + told
	case k.here > k.x.max:
		told, x = told+" →", f.Max.X
	default:
		told, x = k.told, k.x.at(k.here)
		s.line(x, f.Min.Y, x, f.Max.Y+3, 1, hueSkin, dashShort)
	}
	if k.dot != nil {
		s.add(dot{at: vg.Point{X: x, Y: k.y.at(k.dot.value)}, radius: 3, ink: hueSkin})
	}
	half := handLabel.width(told) / 2
	s.text(handLabel, clamp(x, f.Min.X+half, f.Max.X-half), y, 0.5, told)
}
