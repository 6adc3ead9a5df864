package plots

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// axis maps shown values to places on the sheet.
type axis struct {
	min, max float64   // in shown units
	ticks    []float64 // round values within min and max
	decimals int       // of the numbers at the ticks
	lo, hi   vg.Length // places of min and max
	nought   string    // instead of the number at tick 0
}

// at is the place of v.
func (a axis) at(v float64) vg.Length {
	return a.lo + vg.Length((v-a.min)/(a.max-a.min))*(a.hi-a.lo)
}

// holds reports whether v lies on the axis.
func (a axis) holds(v float64) bool { return v >= a.min && v <= a.max }

// label is the number at tick v.
func (a axis) label(v float64) string {
	if v == 0 && a.nought != "" {
		return a.nought
	}
	return strconv.FormatFloat(v, 'f', a.decimals, 64)
}

// roundStep is the smallest step of 1, 2 or 5 times a power of ten that cuts
// span into no more than most parts.
func roundStep(span float64, most int) float64 {
	if span <= 0 || most < 1 {
		return 1
	}
	power := int(math.Floor(math.Log10(span/float64(most)))) - 1
	for {
		for _, m := range [...]float64{1, 2, 5} {
			// Slack for the rounding of span and step only.
			if step := m * pow10(power); span/step <= float64(most)*(1+1e-9) {
				return step
			}
		}
		power++
	}
}

// pow10 is ten to the n; for negative n the quotient, which is the float
// nearest to the decimal.
func pow10(n int) float64 {
	if n < 0 {
		return 1 / math.Pow10(-n)
	}
	return math.Pow10(n)
}

// newAxis keeps the ends given and sets round ticks between them, no more
// than most parts.
func newAxis(min, max float64, most int) axis {
	if !(max > min) {
		max = min + 1
	}
	step := roundStep(max-min, most)
	a := axis{min: min, max: max, decimals: decimalsOf(step)}
	slack := 1e-9 * (max - min) // for the rounding of the ends only
	first := math.Ceil((min - slack) / step)
	last := math.Floor((max + slack) / step)
	for i := first; i <= last; i++ {
		v, _ := strconv.ParseFloat(strconv.FormatFloat(i*step, 'f', a.decimals, 64), 64)
		a.ticks = append(a.ticks, v+0) // +0: no minus sign on nought
	}
	return a
}

// roundAxis widens the ends given to round ticks.
func roundAxis(min, max float64, most int) axis {
	if !(max > min) {
		max = min + 1
	}
	step := roundStep(max-min, most)
	return newAxis(math.Floor(min/step+1e-9)*step, math.Ceil(max/step-1e-9)*step, most+2)
}

// decimalsOf is how many decimals show a step exactly.
func decimalsOf(step float64) int {
	return max(0, -int(math.Floor(math.Log10(step)+1e-9)))
}

// thin leaves out the points that a line through the others passes within
// tolerance of; the ends stay.
func thin(pts []vg.Point, tolerance vg.Length) []vg.Point {
	if len(pts) < 3 {
		return pts
	}
	a, b := pts[0], pts[len(pts)-1]
	far, worst := 0, tolerance
	for i := 1; i < len(pts)-1; i++ {
		if d := distance(pts[i], a, b); d > worst {
			far, worst = i, d
		}
	}
	if far == 0 {
		return []vg.Point{a, b}
	}
	left := thin(pts[:far+1], tolerance)
	return append(left[:len(left)-1:len(left)-1], thin(pts[far:], tolerance)...)
}

// distance is how far p lies from the line piece a to b.
func distance(p, a, b vg.Point) vg.Length {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(p.X-a.X), float64(p.Y-a.Y)
	share := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		share = math.Max(0, math.Min(1, (px*dx+py*dy)/l))
	}
	return vg.Length(math.Hypot(px-share*dx, py-share*dy))
}
