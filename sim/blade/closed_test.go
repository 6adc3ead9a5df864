package blade

import (
	"math"
	"testing"
)

// The closed forms here are plane geometry, derived in the tests from the
// points and curves that define a grind, by another way than the package's.

// rounding is for answers that are exact but for rounding, m: root finding
// stops at the last bits of heights up to 0.1 m.
const rounding = 1e-12

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g ± %g", what, got, want, tolerance)
	}
}

func line(t *testing.T, what string, got *float64, want, tolerance float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s: none, want %g", what, want)
		return
	}
	near(t, what, *got, want, tolerance)
}

// hunter is the blade most tests use, m.
func hunter() Blade {
	return Blade{Spine: 4e-3, TipSpine: 4e-3, Height: 28e-3, Length: 100e-3, Edge: 0.5e-3,
		Grind: Grind{Kind: Flat, Height: 28e-3}}
}

// laid is a bar 40 × 140 mm with its core c off the middle by d, 6 mm thick.
func laid(c, d float64) Bar {
	const t = 6e-3
	return Even(40e-3, 140e-3, []float64{t/2 + d - c/2, c, t/2 - d - c/2}, 1)
}

func cut(t *testing.T, bar Bar, b Blade, p Place, ask Ask) *Answer {
	t.Helper()
	a, err := Cut(bar, b, p, ask)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// y = (c/2 ± d − e/2)/tan α, at each place of a tapered blade, either side
// of the bar; full and partial height.
func TestFlat(t *testing.T) {
	for _, right := range []bool{true, false} {
		for _, height := range []float64{28e-3, 18e-3} {
			b := hunter()
			b.TipSpine, b.Grind.Height = 2e-3, height
			c, d := 1.2e-3, 0.1e-3
			bar := laid(c, d)
			a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, right), Ask{})
			for _, s := range append(a.Along, a.Mid) {
				tan := (b.SpineAt(s.S) - b.Edge) / 2 / height
				line(t, "line A", s.A.CoreLine, (c/2+d-b.Edge/2)/tan, rounding)
				line(t, "line B", s.B.CoreLine, (c/2-d-b.Edge/2)/tan, rounding)
				line(t, "mismatch", s.Mismatch(), 2*d/tan, 2*rounding)
				near(t, "jacket A", s.A.Jacket, b.SpineAt(s.S)/2-c/2-d, rounding)
				near(t, "jacket B", s.B.Jacket, b.SpineAt(s.S)/2-c/2+d, rounding)
				near(t, "margin A", s.MarginA, (c-b.Edge)/2+d, rounding)
				near(t, "margin B", s.MarginB, (c-b.Edge)/2-d, rounding)
			}
		}
	}
}

// A tilted grind in a flat core: on face A, u sin τ + (e/2 + u tan α) cos τ =
// c/2; on face B the tilt's sign turns.
func TestTiltedGrind(t *testing.T) {
	b, c := hunter(), 1.2e-3
	bar := laid(c, 0)
	for _, right := range []bool{true, false} {
		p := bar.Middle(b.Length, 3e-3, right)
		p.Tilt = 0.02
		a := cut(t, bar, b, p, Ask{})
		tan := (b.Spine - b.Edge) / 2 / b.Grind.Height
		sin, cos := math.Sincos(p.Tilt)
		line(t, "line A", a.Mid.A.CoreLine, (c/2-b.Edge/2*cos)/(sin+tan*cos), rounding)
		line(t, "line B", a.Mid.B.CoreLine, (c/2-b.Edge/2*cos)/(tan*cos-sin), rounding)
	}
}

// A core that climbs toward the spine, z = d ± c/2 + k u: y = (c/2 ± d −
// e/2)/(tan α ∓ k).
func TestTiltedCore(t *testing.T) {
	b, c, d, k := hunter(), 1.2e-3, 0.05e-3, 0.01
	tan := (b.Spine - b.Edge) / 2 / b.Grind.Height
	bar := laid(c, d)
	p := bar.Middle(b.Length, 3e-3, true)
	for _, i := range []int{1, 2} {
		z := bar.Sections[0].Lines[i].Z
		z[0] += k * 37e-3 // the left side is 37 mm from the edge
		z[1] -= k * 3e-3
	}
	a := cut(t, bar, b, p, Ask{})
	line(t, "line A", a.Mid.A.CoreLine, (c/2+d-b.Edge/2)/(tan-k), rounding)
	line(t, "line B", a.Mid.B.CoreLine, (c/2-d-b.Edge/2)/(tan+k), rounding)
	near(t, "tilt", a.Drift.Tilt, math.Atan(k), rounding)
}

// A hollow's core line by the circle itself: its centre is where two circles
// of the wheel's radius about the edge's corner and the shoulder meet, the
// one outside the blade; the line is where the circle is c/2 ± d from the
// middle.
func TestHollow(t *testing.T) {
	b := hunter()
	b.Grind = Grind{Kind: Hollow, Height: 18e-3, Wheel: 250e-3}
	c, d := 1.2e-3, 0.08e-3
	bar := laid(c, d)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	if len(a.Warnings) > 0 {
		t.Error(a.Warnings)
	}
	r := 125e-3
	x1, y1, x2, y2 := 0.0, b.Edge/2, b.Grind.Height, b.Spine/2
	q := math.Hypot(x2-x1, y2-y1)
	half := math.Sqrt(r*r - q*q/4)
	x, y := (x1+x2)/2-half*(y2-y1)/q, (y1+y2)/2+half*(x2-x1)/q
	at := func(reach float64) float64 { return x + math.Sqrt(r*r-(y-reach)*(y-reach)) }
	line(t, "line A", a.Mid.A.CoreLine, at(c/2+d), rounding)
	line(t, "line B", a.Mid.B.CoreLine, at(c/2-d), rounding)
	flat := (c/2 + d - b.Edge/2) / ((b.Spine - b.Edge) / 2 / b.Grind.Height)
	if *a.Mid.A.CoreLine <= flat {
		t.Errorf("a hollow's line is at %g m, no higher than a flat's at %g m", *a.Mid.A.CoreLine, flat)
	}
}

// The parabola of a convex bevel through edge, shoulder and a point `bulge`
// above the middle of the straight line, by Lagrange's form; the line is
// where it is c/2 ± d from the middle.
func TestConvex(t *testing.T) {
	b := hunter()
	b.Grind = Grind{Kind: Convex, Height: 24e-3, Bulge: 0.3e-3}
	c, d := 1.2e-3, 0.08e-3
	bar := laid(c, d)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	h, w0, w2 := b.Grind.Height, b.Edge/2, b.Spine/2
	w1 := (w0+w2)/2 + b.Grind.Bulge
	parabola := func(u float64) float64 {
		x := u / h
		return w0*(1-x)*(1-2*x) + w1*4*x*(1-x) + w2*x*(2*x-1)
	}
	for _, l := range []struct {
		face  Face
		reach float64
	}{{a.Mid.A, c/2 + d}, {a.Mid.B, c/2 - d}} {
		// 1e-13: the curve's slope times rounding of the height.
		near(t, "parabola at the line", parabola(*l.face.CoreLine), l.reach, 1e-13)
	}
	// The circle with the same chord and rise, for the shape left open by
	// "convex": the line moves by less than 0.05 mm on this blade.
	u, _ := b.ProfileAt(50e-3).HeightAt(c/2 + d)
	near(t, "line by a circle instead", arcHeight(h, w0, w2, b.Grind.Bulge, c/2+d), u, 0.05e-3)
}

// arcHeight is where a circle with rise s over the chord from (0, w0) to
// (h, w1) reaches w.
func arcHeight(h, w0, w1, s, w float64) float64 {
	q := math.Hypot(h, w1-w0)
	r := (q*q/4 + s*s) / (2 * s)
	nx, ny := -(w1-w0)/q, h/q
	cx, cy := h/2-nx*(r-s), (w0+w1)/2-ny*(r-s)
	return cx - math.Sqrt(r*r-(w-cy)*(w-cy))
}

// One bevelled side: y = (c/2 + d − e/2)/tan α with the whole wedge on one
// face and d from the edge's own mid-plane; the flat face shows one layer.
func TestChisel(t *testing.T) {
	for _, sideA := range []bool{true, false} {
		b := hunter()
		b.Grind = Grind{Kind: Chisel, Height: 20e-3, SideA: sideA}
		sign := 1.0
		if !sideA {
			sign = -1
		}
		// The core's mid-plane 0.1 mm from the edge's toward the bevel.
		c, d := 1.2e-3, 0.1e-3
		bar := laid(c, sign*(d-(b.Spine-b.Edge)/2))
		a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
		bevel, flat := a.Mid.A, a.Mid.B
		if !sideA {
			bevel, flat = flat, bevel
		}
		tan := (b.Spine - b.Edge) / b.Grind.Height
		line(t, "line", bevel.CoreLine, (c/2+d-b.Edge/2)/tan, rounding)
		near(t, "d", a.Mid.D, sign*d, rounding)
		near(t, "margin A", a.Mid.MarginA, (c-b.Edge)/2+sign*d, rounding)
		if flat.CoreLine != nil || len(flat.Bands) != 1 || flat.Bands[0].Layer != 1 || flat.Jacket != 0 {
			t.Errorf("flat face: %+v, want core up to the spine", flat)
		}
		if !a.InCore {
			t.Error("edge is not in the core")
		}
	}
}

// Every layer line of a seven-layer bar: (z ∓ e/2)/tan α, and which layers show.
func TestManyLayers(t *testing.T) {
	b := hunter()
	layers := []float64{2.4e-3, 0.2e-3, 0.3e-3, 0.8e-3, 0.4e-3, 0.2e-3, 1.7e-3}
	bar := Even(40e-3, 140e-3, layers, 3)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, false), Ask{})
	tan := (b.Spine - b.Edge) / 2 / b.Grind.Height
	want := map[Side][]float64{SideA: {0.7e-3, 1.1e-3, 1.3e-3}, SideB: {0.1e-3, 0.4e-3, 0.6e-3}}
	for side, f := range map[Side]Face{SideA: a.Mid.A, SideB: a.Mid.B} {
		var heights []float64
		for _, z := range want[side] {
			if z > b.Edge/2 {
				heights = append(heights, (z-b.Edge/2)/tan)
			}
		}
		if len(f.Bands) != len(heights)+1 {
			t.Fatalf("side %v: %+v, want lines at %v", side, f.Bands, heights)
		}
		for i, h := range heights {
			near(t, "line", f.Bands[i].To, h, rounding)
			near(t, "next band", f.Bands[i+1].From, h, rounding)
		}
	}
	// z = ±0.1 mm is inside the edge on B: there the edge shows layer 2.
	if a.Mid.A.Bands[0].Layer != 3 || a.Mid.B.Bands[0].Layer != 2 || a.Mid.B.CoreLine != nil || a.InCore {
		t.Errorf("bands %+v and %+v", a.Mid.A.Bands, a.Mid.B.Bands)
	}
}

// The tolerance table of shop arithmetic, by its own formulas (y, 2d/tan α,
// and (c − e)/2), to the digits printed there. Computed arithmetic on typical
// sizes (sizes: common practice, no source), not measurement: the cuts must
// give the same.
func TestToleranceTable(t *testing.T) {
	rows := []struct {
		name                               string
		spine, height, edge, core          float64 // mm
		line, per, for3, lost              float64 // mm
		lineTol, perTol, for3Tol, lostHalf float64
	}{
		{"chef, full flat", 2.5, 48, 0.25, 0.9, 14, 8.5, 0.035, 0.33, 0.5, 0.05, 0.0005, 0.0051},
		{"small kitchen", 2.0, 40, 0.25, 0.7, 10, 9.1, 0.033, 0.23, 0.5, 0.05, 0.0005, 0.0051},
		{"hunter, full flat", 4.0, 28, 0.5, 1.2, 5.6, 3.2, 0.09, 0.35, 0.05, 0.05, 0.005, 0.0051},
		{"hunter, sabre bevel", 4.0, 18, 0.5, 1.3, 4.1, 2.1, 0.15, 0.40, 0.05, 0.05, 0.005, 0.0051},
		{"camp, full flat", 5.5, 40, 0.8, 1.6, 6.8, 3.4, 0.09, 0.40, 0.05, 0.05, 0.005, 0.0051},
		{"outdoor, to zero", 4.0, 2 / math.Tan(12.5*math.Pi/180), 0, 1.3, 2.9, 0.9, 0.33, 0.65, 0.05, 0.05, 0.005, 0.0051},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			b := Blade{Spine: r.spine / 1e3, TipSpine: r.spine / 1e3, Height: 50e-3, Length: 0.1, Edge: r.edge / 1e3,
				Grind: Grind{Kind: Flat, Height: r.height / 1e3}}
			mid := func(d float64) Station { // mm
				const thick = 7e-3
				c := r.core / 1e3
				bar := Even(60e-3, 140e-3, []float64{thick/2 + d/1e3 - c/2, c, thick/2 - d/1e3 - c/2}, 1)
				return cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{Brief: true}).Mid
			}
			line(t, "core line", mid(0).A.CoreLine, r.line/1e3, r.lineTol/1e3)
			line(t, "mismatch at 0.1 mm off", mid(0.1).Mismatch(), r.per/1e3, r.perTol/1e3)
			for3 := 3 * 0.1 / (*mid(0.1).Mismatch() * 1e3)
			near(t, "off-centre for 3 mm, mm", for3, r.for3, r.for3Tol)
			s := mid(0)
			near(t, "edge lost at, mm", s.MarginA*1e3, r.lost, r.lostHalf)
			if s := mid(s.MarginA*1e3 + 1e-6); s.InCore() {
				t.Error("edge still in the core beyond that")
			}
		})
	}
}
