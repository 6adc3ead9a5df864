package plots

import (
	"image/color"
	"math"

	"billet/layers"
	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// extent is the least and the largest y and z of an end view, m.
func extent(v sim.EndView) (lo, hi layers.Point) {
	lo = layers.Point{Y: math.Inf(1), Z: math.Inf(1)}
	hi = layers.Point{Y: math.Inf(-1), Z: math.Inf(-1)}
	for _, l := range v.Layers {
		for _, pts := range [2][]layers.Point{l.Lower, l.Upper} {
			for _, p := range pts {
				lo.Y, lo.Z = math.Min(lo.Y, p.Y), math.Min(lo.Z, p.Z)
				hi.Y, hi.Z = math.Max(hi.Y, p.Y), math.Max(hi.Z, p.Z)
			}
		}
	}
	return lo, hi
}

// size is the width and height of an end view, m.
func size(v sim.EndView) (wide, high float64) {
	lo, hi := extent(v)
	return hi.Y - lo.Y, hi.Z - lo.Z
}

// tints gives each material of a stack that is not its core a tint.
type tints map[string]color.Color

// tintsOf takes the materials in the order in which they come.
func tintsOf(v sim.EndView) tints {
	t := tints{}
	for _, l := range v.Layers {
		if _, ok := t[l.Material]; !ok && !l.Core {
			t[l.Material] = inkJackets[len(t)%len(inkJackets)]
		}
	}
	return t
}

// of is the ink of a layer.
func (t tints) of(l sim.LayerOutline) color.Color {
	if l.Core {
		return inkSteel
	}
	if c, ok := t[l.Material]; ok {
		return c
	}
	return inkJackets[0]
}

// ender draws end views at one scale in one set of tints.
type ender struct {
	scale vg.Length // pt per m
	tints tints
}

const (
	midSpill   = vg.Length(5)   // pt, by which the mid-plane stands out at both ends
	lineThin   = vg.Length(0.5) // pt, of a line between layers
	lineCloser = vg.Length(1.4) // pt, layers on the page thinner than this are not told apart
)

// draw draws an end view with the lower left corner of what surrounds it at
// x, y: core shaded, lines between layers, the bar's mid-plane dashed.
func (e ender) draw(s *sheet, v sim.EndView, x, y vg.Length) {
	lo, hi := extent(v)
	place := func(pts []layers.Point) []vg.Point {
		out := make([]vg.Point, len(pts))
		for i, p := range pts {
			out[i] = vg.Point{X: x + e.scale*vg.Length(p.Y-lo.Y), Y: y + e.scale*vg.Length(p.Z-lo.Z)}
		}
		return thin(out, thinTolerance)
	}
	for _, l := range v.Layers {
		round := append(place(l.Lower), reversed(place(l.Upper))...)
		s.add(area{pts: round, ink: e.tints.of(l)})
	}
	apart := e.scale*vg.Length(hi.Z-lo.Z)/vg.Length(len(v.Layers)) > lineCloser
	for i, l := range v.Layers {
		if i > 0 && (apart || l.Core || v.Layers[i-1].Core) {
			s.add(stroke{pts: place(l.Lower), width: lineThin, ink: inkAxis})
		}
	}
	s.add(stroke{pts: e.round(v, place), width: 0.8, ink: inkAxis})
	mid := place(midPlane(v))
	mid = append([]vg.Point{{X: mid[0].X - midSpill, Y: mid[0].Y}}, mid...)
	end := mid[len(mid)-1]
	mid = append(mid, vg.Point{X: end.X + midSpill, Y: end.Y})
	s.add(stroke{pts: mid, width: e.midWidth(v), ink: inkText, dash: []vg.Length{4, 2}})
}

// midWidth is how wide the mid-plane is drawn: thin where the core is.
func (e ender) midWidth(v sim.EndView) vg.Length {
	_, high := size(v)
	for _, l := range v.Layers {
		if l.Core {
			high = l.Upper[len(l.Upper)/2].Z - l.Lower[len(l.Lower)/2].Z
		}
	}
	return clamp(0.1*e.scale*vg.Length(high), 0.35, 0.8)
}

// round is the outline, closed.
func (e ender) round(v sim.EndView, place func([]layers.Point) []vg.Point) []vg.Point {
	out := place(v.Layers[0].Lower)
	var left []vg.Point
	for _, l := range v.Layers {
		up, down := place(l.Upper), place(l.Lower)
		out = append(out, down[len(down)-1], up[len(up)-1])
		left = append(left, down[0], up[0])
	}
	out = append(out, reversed(place(v.Layers[len(v.Layers)-1].Upper))...)
	out = append(out, reversed(left)...)
	return append(out, out[0])
}

func reversed(pts []vg.Point) []vg.Point {
	out := make([]vg.Point, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
}

// midPlane is half way between the faces, left to right, m.
func midPlane(v sim.EndView) []layers.Point {
	under, over := level1(v.Layers[0].Lower), level1(v.Layers[len(v.Layers)-1].Upper)
	from := math.Max(under.At[0], over.At[0])
	to := math.Min(under.At[len(under.At)-1], over.At[len(over.At)-1])
	const n = 40
	out := make([]layers.Point, n+1)
	for i := range out {
		y := from + (to-from)*float64(i)/n
		ku, tu := between(under.At, y)
		ko, to := between(over.At, y)
		out[i] = layers.Point{Y: y, Z: (mix(under.Value, ku, tu) + mix(over.Value, ko, to)) / 2}
	}
	return out
}

// level1 is a line as height against place, without the parts that run back
// where a side has folded over.
func level1(pts []layers.Point) sim.Line {
	var l sim.Line
	for _, p := range pts {
		if n := len(l.At); n == 0 || p.Y > l.At[n-1] {
			l.At, l.Value = append(l.At, p.Y), append(l.Value, p.Z)
		}
	}
	return l
}

// sides writes A and B to the left of an end view that is high high at x, y.
func (s *sheet) sides(x, y, high vg.Length) {
	mid := y + high/2
	apart := max(high/2-5, handHead.height()/2+0.5)
	s.text(handHead, x-midSpill-2, mid+apart, 1, "A")
	s.text(handHead, x-midSpill-2, mid-apart, 1, "B")
}

// sidesTall is how high the letters of the sides stand at the least, pt.
func sidesTall() vg.Length { return 2*handHead.height() + 1 }

// ruler draws a length of a round size at x, y and says what it is.
func (s *sheet) ruler(x, y vg.Length, scale vg.Length, units shown) {
	m, text := 0.01, "10 mm"
	if units.inch() {
		m, text = 0.0127, "1/2 in"
	}
	long := scale * vg.Length(m)
	s.line(x, y, x+long, y, 1.2, inkText, nil)
	s.line(x, y-3, x, y+3, 1.2, inkText, nil)
	s.line(x+long, y-3, x+long, y+3, 1.2, inkText, nil)
	s.text(handLabel, x+long+6, y, 0, text)
}
