package blade

import (
	"errors"
	"fmt"
	"math"
)

// Place is where the blade lies in the bar and how the grind is laid.
//
// The centre plane follows the bar's own mid-plane at each place along it: the
// straight line that best fits the middle between both faces over the blade's
// height. Offset, Tilt and Turn are measured from there, toward side A.
type Place struct {
	EdgeFromSide float64 // m, edge from the bar's side, trimmed off beyond it
	EdgeRight    bool    // the edge is near the bar's right side, else its left
	Offset       float64 // m, at the edge, half way along the blade
	Tilt         float64 // rad, spine turned toward A about the edge
	Turn         float64 // rad, tip turned toward A about half length
	Heel         float64 // m, the heel's x in the bar
	TipFront     bool    // the tip lies toward smaller x than the heel
}

// greatestTurn bounds Tilt and Turn, rad; far beyond what a bar has metal for.
const greatestTurn = 0.2

// Check reports everything wrong with the place, or nil.
func (p Place) Check() error {
	var errs []error
	if !(p.EdgeFromSide >= 0 && p.EdgeFromSide <= largest) {
		errs = append(errs, fmt.Errorf("blade: edge %g m from the bar's side; accepted: 0 to 10 m", p.EdgeFromSide))
	}
	if !(math.Abs(p.Offset) <= largest) || !(math.Abs(p.Heel) <= largest) {
		errs = append(errs, fmt.Errorf("blade: offset %g m, heel at %g m; accepted: within 10 m", p.Offset, p.Heel))
	}
	if !(math.Abs(p.Tilt) <= greatestTurn) || !(math.Abs(p.Turn) <= greatestTurn) {
		errs = append(errs, fmt.Errorf("blade: tilt %g rad, turn %g rad; accepted: within %g rad either way", p.Tilt, p.Turn, greatestTurn))
	}
	return errors.Join(errs...)
}

// Middle places a blade in the middle of the bar's length, tip to the front.
func (b Bar) Middle(length, edgeFromSide float64, edgeRight bool) Place {
	return Place{EdgeFromSide: edgeFromSide, EdgeRight: edgeRight, TipFront: true, Heel: (b.Start + b.End + length) / 2}
}

// X is the place in the bar s from the heel, m.
func (p Place) X(s float64) float64 {
	if p.TipFront {
		return p.Heel - s
	}
	return p.Heel + s
}

// Pose is the blade's own frame in one section of the bar.
type Pose struct {
	Y, Z  float64 // m, in the bar, where the centre plane meets the edge
	Slope float64 // rad, of the centre plane to the y axis, spine toward A
	Way   float64 // -1: u runs to the left (edge on the right), 1: to the right
}

// Bar maps a place in the blade's frame to the bar's section, m.
func (p Pose) Bar(u, v float64) (y, z float64) {
	s, c := math.Sincos(p.Slope)
	return p.Y + p.Way*(u*c-v*s), p.Z + u*s + v*c
}

// fitPoints is the number of places across the blade's height at which the
// bar's middle is looked up to lay the centre plane.
const fitPoints = 33

// pose lays the blade in the section c, s from its heel.
func (p Place) pose(c cross, b Blade, s float64) Pose {
	left, right := c.sides()
	q := Pose{Y: left + p.EdgeFromSide, Way: 1}
	if p.EdgeRight {
		q.Y, q.Way = right-p.EdgeFromSide, -1
	}
	level, slope := midPlane(c, q, b.Height)
	q.Z = level + p.Offset + (s-b.Length/2)*math.Tan(p.Turn)
	q.Slope = math.Atan(slope) + p.Tilt
	return q
}

// midPlane fits a straight line to the bar's middle over the blade's height:
// its height at the edge and its slope along u.
func midPlane(c cross, q Pose, height float64) (level, slope float64) {
	base := c.mid(q.Y)
	var sum, moment, square float64
	for i := range fitPoints {
		u := height * (float64(i)/(fitPoints-1) - 0.5)
		z := c.mid(q.Y+q.Way*(u+height/2)) - base
		sum += z
		moment += u * z
		square += u * u
	}
	slope = moment / square
	return base + sum/fitPoints - slope*height/2, slope
}

// across is where line i of the bar crosses the blade's section at height u:
// v in m from the centre plane. Lines lie near enough along the blade that the
// repeated step converges at once; the last step stands where one does not.
func (q Pose) across(c cross, i int, u float64) float64 {
	s, co := math.Sincos(q.Slope)
	v := 0.0
	for range 30 {
		y := q.Y + q.Way*(u*co-v*s)
		next := (c.line(i, y) - q.Z - u*s) / co
		if math.Abs(next-v) < 1e-13 {
			return next
		}
		v = next
	}
	return v
}
