package blade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A straight off-centre core: shifting the grind onto it takes all of the
// mismatch out, and costs twice the offset in thickness (2 d, plane geometry).
func TestShiftOntoCore(t *testing.T) {
	b, c, d := hunter(), 1.2e-3, 0.2e-3
	bar := laid(c, d)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{Clean: 0.4e-3})
	r := a.Rescue[Shifted]
	near(t, "shift", r.Shift, d, rounding)
	near(t, "cost", r.Cost, 2*d, rounding)
	near(t, "needs", r.Needs, b.Spine+2*0.4e-3+2*d, rounding)
	line(t, "mismatch", r.Mismatch, 0, rounding)
	near(t, "margin", r.Margin, (c-b.Edge)/2, rounding)
	if !r.Fits || !r.InCore {
		t.Errorf("%+v, want one that fits in 6 mm", r)
	}
	line(t, "least for pits", a.Least.Pits, b.Spine+2*0.4e-3, rounding)
	near(t, "depth", a.DepthA, 1e-3, rounding)
}

// The grinder's own error counts against the pits, and is taken out by a
// shift that then costs less than nothing.
func TestGrindersError(t *testing.T) {
	b := hunter()
	bar := laid(1.2e-3, 0)
	p := bar.Middle(b.Length, 3e-3, true)
	p.Offset = 0.7e-3
	a := cut(t, bar, b, p, Ask{Clean: 0.4e-3})
	near(t, "d", a.Mid.D, -0.7e-3, rounding)
	near(t, "depth A", a.DepthA, 0.3e-3, rounding)
	near(t, "depth B", a.DepthB, 1.7e-3, rounding)
	if a.PitsA || !a.PitsB {
		t.Errorf("pits cleared: A %v, B %v; want B alone", a.PitsA, a.PitsB)
	}
	line(t, "least for pits", a.Least.Pits, b.Spine+2*0.4e-3+2*0.7e-3, rounding)
	near(t, "cost of shifting back", a.Rescue[Shifted].Cost, -2*0.7e-3, rounding)
}

// A core turned about the edge needs the tilt, one that wanders off evenly
// along the length the turn; each then shows both faces alike, and a wave
// stays whatever is done.
func TestTiltAndTurn(t *testing.T) {
	b, c, k := hunter(), 1.2e-3, 0.008
	bar := laid(c, 0)
	for _, i := range []int{1, 2} {
		z := bar.Sections[0].Lines[i].Z
		z[0], z[1] = z[0]+k*37e-3, z[1]-k*3e-3 // about the edge, 3 mm from the right
	}
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	near(t, "tilt", a.Rescue[Tilted].Tilt, math.Atan(k), rounding)
	line(t, "mismatch, shifted", a.Rescue[Shifted].Mismatch, *a.Mismatch, 1e-9)
	line(t, "mismatch, tilted", a.Rescue[Tilted].Mismatch, 0, 1e-9)
	// The tilt moves the spine's corner off by H tan τ at the most.
	near(t, "cost", a.Rescue[Tilted].Cost, 2*b.Height*k, 2e-2*2*b.Height*k)

	for _, front := range []bool{true, false} {
		bar = laid(c, 0)
		x := []float64{0, 140e-3}
		bar.Sections = vary(t, bar, x, []float64{-0.14e-3, 0.14e-3}, []float64{6e-3, 6e-3})
		p := bar.Middle(b.Length, 3e-3, true)
		if !front {
			p.TipFront, p.Heel = false, 20e-3
		}
		a = cut(t, bar, b, p, Ask{})
		way := 1.0
		if front { // the tip lies toward smaller x, where the core is low
			way = -1
		}
		near(t, "trend", a.Drift.Trend, way*0.2e-3, rounding)
		near(t, "turn", a.Rescue[Turned].Turn, way*math.Atan(0.002), rounding)
		line(t, "worst mismatch, turned", a.Rescue[Turned].Worst, 0, 1e-9)
		near(t, "margin, shifted only", a.Rescue[Tilted].Margin, (c-b.Edge)/2-0.1e-3, rounding)
		near(t, "margin, turned", a.Rescue[Turned].Margin, (c-b.Edge)/2, rounding)
	}
}

func vary(t *testing.T, bar Bar, x, offset, thickness []float64) []Section {
	t.Helper()
	s, err := Vary(bar.Sections[0], bar.Core, x, offset, thickness)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A wave d = w cos(2π s / L) over the blade: shift, tilt and turn leave it
// (half range w), and the edge leaves the core where |d| > (c − e)/2.
func TestWave(t *testing.T) {
	b, c, w := hunter(), 1.2e-3, 0.5e-3
	bar := laid(c, 0)
	const n = 201
	x, d, thick := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		x[i] = 20e-3 + b.Length*float64(i)/(n-1)
		d[i] = w * math.Cos(2*math.Pi*float64(i)/(n-1))
		thick[i] = 6e-3
	}
	bar.Sections[0].X = x[0] + b.Length/4 // where the wave is 0, as this section has it
	bar.Sections = vary(t, bar, x, d, thick)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{Points: n})
	near(t, "wave", a.Drift.Wave, w, rounding)
	near(t, "margin, turned", a.Rescue[Turned].Margin, (c-b.Edge)/2-w, 1e-3*w) // 21 places miss no extreme here
	at := b.Length / (2 * math.Pi) * math.Acos((c-b.Edge)/2/w)
	want := []Leave{
		{From: b.Length/2 - at, To: b.Length/2 + at, Side: SideA, Worst: (c-b.Edge)/2 - w, At: b.Length / 2},
		{From: 0, To: at, Side: SideB, Worst: (c-b.Edge)/2 - w, At: 0},
		{From: b.Length - at, To: b.Length, Side: SideB, Worst: (c-b.Edge)/2 - w, At: b.Length},
	}
	if len(a.Leaves) != len(want) || a.InCore || a.Rescue[Turned].InCore {
		t.Fatalf("leaves %+v, want %+v", a.Leaves, want)
	}
	for i, l := range a.Leaves {
		// Straight interpolation within 0.5 mm steps of a cosine: below 1 µm.
		near(t, "from", l.From, want[i].From, 5e-6)
		near(t, "to", l.To, want[i].To, 5e-6)
		near(t, "worst", l.Worst, want[i].Worst, rounding)
		near(t, "at", l.At, want[i].At, rounding)
		if l.Side != want[i].Side || l.Short {
			t.Errorf("leave %d: %+v", i, l)
		}
	}
}

// At the least thickness each condition is just met: the bar made that thick,
// layers in proportion, is cut again.
func TestLeastThickness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		if b.Grind.Kind == Chisel {
			b.Grind.Kind = Convex
		}
		bar := anyBar(t, b)
		bar.Sections = bar.Sections[:1]
		p := anyPlace(t, bar, b)
		p.Tilt = 0 // sections scaled about a bowed middle then keep y
		ask := Ask{Clean: 0.3e-3, CoreLine: b.Grind.Height / 4, Points: 5}
		a, err := Cut(bar, b, p, ask)
		if err != nil {
			t.Fatal(err)
		}
		again := func(thickness float64) *Answer {
			x := []float64{bar.Sections[0].X}
			s, err := Vary(bar.Sections[0], bar.Core, []float64{x[0], x[0] + 1}, []float64{0, 0}, []float64{a.Thickness, thickness})
			if err != nil {
				t.Skip("too thin to be a bar") // an edge of nothing needs nothing
			}
			now := bar
			now.Sections = s[1:]
			r, err := Cut(now, b, p, Ask{Clean: ask.Clean, Points: 5, Brief: true})
			if err != nil {
				t.Skip("too thin to be a bar")
			}
			return r
		}
		r := again(*a.Least.Pits)
		if got := math.Min(r.DepthA, r.DepthB); math.Abs(got-ask.Clean) > 1e-9 { // looked at in the same places
			t.Fatalf("depth %g at the least thickness for pits, want %g", got, ask.Clean)
		}
		if e := a.Least.Edge; e != nil && *e > 1e-4 {
			ma, mb := leastMargins(again(*e).Along)
			if got := math.Min(ma, mb); math.Abs(got) > 1e-9 {
				t.Fatalf("margin %g at the least thickness for the edge", got)
			}
		}
	})
}

// In a symmetric bar both least thicknesses are closed forms: the edge in the
// core down to e / core share, the line as high as asked at 2 w(y) / share.
func TestLeastOfSymmetricBar(t *testing.T) {
	b, c := hunter(), 1.2e-3
	bar := laid(c, 0)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{Clean: 0.4e-3, CoreLine: 8e-3})
	tan := (b.Spine - b.Edge) / 2 / b.Grind.Height
	line(t, "edge", a.Least.Edge, b.Edge*6e-3/c, rounding)
	line(t, "line", a.Least.Line, (b.Edge+2*8e-3*tan)*6e-3/c, rounding)
	near(t, "stop at", a.Least.Thickness, *a.Least.Line, 0)
	// A core wholly to one side of the middle never gets to an edge there; an
	// edge laid onto it (0.15 to 0.65 mm from the middle) is left again by a
	// core from 0.1 to 0.7 mm once that grows beyond 0.15.
	side := laid(0.6e-3, 0.4e-3)
	p := side.Middle(b.Length, 3e-3, true)
	p.Offset = 0.4e-3
	s := cut(t, side, b, p, Ask{})
	line(t, "most", s.Least.EdgeMost, 0.15e-3/0.1e-3*6e-3, rounding)
	line(t, "edge", s.Least.Edge, 0.65e-3/0.7e-3*6e-3, rounding)
	off := laid(c, 0.9e-3)
	if a := cut(t, off, b, off.Middle(b.Length, 3e-3, true), Ask{}); a.Least.Edge != nil || a.InCore {
		t.Errorf("a core 0.3 mm to one side of the middle: least %v", *a.Least.Edge)
	}
}
