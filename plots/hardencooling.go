package plots

import (
	"fmt"
	"image/color"
	"math"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// Harden draws the heat treatment: how each place cools in the quench against
// the pearlite nose ("harden-cooling"), and the core's hardness against the
// temperature of the temper ("harden-temper"), in that order; one for which
// the Result has nothing is left out. Errors are as of Soak.
func Harden(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkHarden, hardenSheets)
}

// hardenSheets lays out the pictures of the heat treatment.
func hardenSheets(r *sim.Result) []*sheet {
	if r.Hardened == nil {
		return nil
	}
	var all []*sheet
	if len(cooled(r.Hardened)) > 0 {
		all = append(all, hardenCooling(r).sheet())
	}
	if len(r.Hardened.Curve.TempK) > 1 {
		all = append(all, hardenTemper(r).sheet())
	}
	return all
}

// coolingChart is temperature against the logarithm of the time in the quench.
type coolingChart struct {
	chart
	nose     [3]float64 // log10 s: soonest, as taken, latest
	noseT    float64    // shown
	noseText string
}

const (
	noseK      = 540 + unit.ZeroCelsius // K, where a nose's time is given
	noseFactor = 2.0                    // either way: how well a nose's time is known
	leastTime  = 0.1                    // s, the shortest time anybody can act in
)

// placeInks are the inks of the places, edge first, and the dashes.
var (
	placeInks   = [...]color.Color{hueMid, hueJoint, hueSkin}
	placeDashes = [...][]vg.Length{nil, dashLong, dashMixed}
)

// cooled are the places whose cooling is known.
func cooled(h *sim.Hardened) []sim.HardenPlace {
	var out []sim.HardenPlace
	for _, p := range h.Places {
		if len(p.Time) > 1 && p.Time[len(p.Time)-1] > leastTime {
			out = append(out, p)
		}
	}
	return out
}

// hardenCooling collects what the picture shows.
func hardenCooling(r *sim.Result) *coolingChart {
	s, h := shownIn(r.Job), r.Hardened
	places := cooled(h)
	k := &coolingChart{chart: chart{name: "harden-cooling", title: coolingTitle(r, s), yTitle: s.degreeUnit(),
		xTitle: "seconds in the quench; for pearlite the clock starts at Ac1", subtitle: billet(r.Job, s, h.Quenchant.Name+"; yellow: how well the nose is known")}, noseT: s.degrees(noseK)}
	first, last := h.Nose.TimeS/noseFactor, h.Nose.TimeS*noseFactor
	hot := h.Heat
	cold := h.Quenchant.BathK
	for i, p := range places {
		last = math.Max(last, p.Time[len(p.Time)-1])
		l := line{ink: placeInks[i%len(placeInks)], dash: placeDashes[i%len(placeDashes)], width: 1.9}
		l.x, l.y = coolingCurve(p, first, s)
		low, high := span(p.Middle)
		cold, hot = math.Min(cold, low), math.Max(hot, high)
		l.label = fmt.Sprintf("%s, %s thick", p.Place, s.fine(p.Thickness))
		k.lines = append(k.lines, l)
	}
	k.x = decades(math.Min(leastTime, first), last)
	k.y = roundAxis(s.degrees(math.Min(cold, unit.ZeroCelsius+20)), s.degrees(hot), 9)
	k.nose = [3]float64{math.Log10(first), math.Log10(h.Nose.TimeS), math.Log10(h.Nose.TimeS * noseFactor)}
	k.noseText = "pearlite’s nose " + unit.Duration(h.Nose.TimeS)
	for _, p := range []struct {
		name string
		k    float64
		ink  color.Color
	}{{"Ac1", h.Critical.Ac1.TempK, hueBurn}, {"martensite starts, Ms", h.Critical.Ms.TempK, hueWeld}} {
		if v := s.degrees(p.k); !math.IsNaN(p.k) && k.y.holds(v) {
			k.rules = append(k.rules, rule{value: v, label: p.name + " " + s.temperature(p.k), ink: p.ink, dash: dashShort})
		}
	}
	return k
}

// coolingCurve is a place's cooling in its middle from the least time shown,
// in log10 s and shown degrees.
func coolingCurve(p sim.HardenPlace, first float64, s shown) (x, y []float64) {
	start := decades(math.Min(leastTime, first), 1).min
	i, t := between(p.Time, pow10(int(start)))
	x, y = append(x, start), append(y, s.degrees(mix(p.Middle, i, t)))
	for i, at := range p.Time {
		if at > 0 && math.Log10(at) > start {
			x, y = append(x, math.Log10(at)), append(y, s.degrees(p.Middle[i]))
		}
	}
	return x, y
}

// usedUp is the place where the core comes nearest to pearlite, and the share
// of the time to its start used up there; false where no core turned to
// austenite.
func usedUp(r *sim.Result) (place string, share float64, ok bool) {
	k, marked := r.Job.Stack.CoreLayer()
	if !marked {
		k = len(r.Job.Stack.Layers) / 2
	}
	name := r.Job.Stack.Layers[k].Material.Name
	for _, p := range r.Hardened.Places {
		for _, l := range p.Layers {
			if l.Material == name && l.Transforms && (!ok || l.Race.Used > share) {
				place, share, ok = p.Place, l.Race.Used, true
			}
		}
	}
	return place, share, ok
}

// coolingTitle says whether the core hardens, and how near the place that is
// worst comes to pearlite.
func coolingTitle(r *sim.Result, s shown) string {
	place, used, ok := usedUp(r)
	if !ok {
		return "The core does not turn to austenite at " + whole(s.temperature(r.Hardened.Heat)) + ", so it does not harden"
	}
	text := "The core does not harden through"
	switch {
	case r.Hardened.Through && used < sureBelow:
		text = "The core hardens through"
	case r.Hardened.Through:
		text = "The core should harden through"
	case used < 1: // some of it was never austenite
		return text + ", though no place is slow enough for pearlite"
	case used < surelyNotAbove:
		text = "The core may not harden through"
	}
	much := s.system.Share(used) + " of"
	if used > 1 {
		much = fmt.Sprintf("%.2g times", used)
		if used >= 10 {
			much = fmt.Sprintf("%.0f times", used)
		}
	}
	return fmt.Sprintf("%s: slowest is the %s, which uses up %s the time to pearlite", text, place, whole(much))
}

// A race against pearlite is sure to be won with less than half the time used
// up, and sure to be lost with more than twice: as well as a nose is known.
const (
	sureBelow      = 1 / noseFactor
	surelyNotAbove = noseFactor
)

// sheet draws the picture.
func (k *coolingChart) sheet() *sheet {
	s := k.begin(unitRow+axisRow, 0, profileRight)
	k.grid(s)
	k.drawDecades(s)
	k.plot(s, profileRight)
	k.drawNose(s)
	k.base(s, 0)
	return s
}

// drawNose marks the nose with how well its time is known.
func (k *coolingChart) drawNose(s *sheet) {
	y := k.y.at(k.noseT)
	x0, x, x1 := k.x.at(k.nose[0]), k.x.at(k.nose[1]), k.x.at(k.nose[2])
	s.line(x0, y, x1, y, 1.4, hueNear, nil)
	s.line(x0, y-4, x0, y+4, 1.4, hueNear, nil)
	s.line(x1, y-4, x1, y+4, 1.4, hueNear, nil)
	s.add(dot{at: vg.Point{X: x, Y: y}, radius: 3.5, ink: hueNear})
	wide := handHead.width(k.noseText)
	left := clamp(x1+6, k.frame.Min.X+4, k.frame.Max.X-wide-4)
	s.block(left-2, y+7-handHead.height()/2, left+wide+2, y+7+handHead.height()/2, inkPaper)
	s.text(handHead, left, y+7, 0, k.noseText)
}
