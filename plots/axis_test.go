package plots

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		min, max float64
		most     int
		want     []float64
		first    string
	}{
		{0, 9.2, 10, []float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, "0"},
		{0, 10, 10, []float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, "0"},
		{0, 47, 10, []float64{0, 5, 10, 15, 20, 25, 30, 35, 40, 45}, "0"},
		{0, 3.6, 10, []float64{0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5}, "0.0"},
		{-0.34, 11.2, 10, []float64{0, 2, 4, 6, 8, 10}, "0"},
		{0, 1400, 8, []float64{0, 200, 400, 600, 800, 1000, 1200, 1400}, "0"},
		{0, 0.3, 3, []float64{0, 0.1, 0.2, 0.3}, "0.0"},
		{1.1e-3, 4.2e-3, 4, []float64{0.002, 0.003, 0.004}, "0.002"},
		{7, 7, 5, []float64{7, 7.2, 7.4, 7.6, 7.8, 8}, "7.0"}, // no span: one unit is shown
	} {
		a := newAxis(c.min, c.max, c.most)
		if d := cmp.Diff(c.want, a.ticks); d != "" {
			t.Errorf("ticks from %g to %g: %s", c.min, c.max, d)
		}
		if got := a.label(a.ticks[0]); got != c.first {
			t.Errorf("first label from %g to %g: %q; %q", c.min, c.max, got, c.first)
		}
	}
}

func TestRoundAxis(t *testing.T) {
	for _, c := range []struct{ min, max, lo, hi float64 }{
		{0, 1250 * 1.02, 0, 1400}, {486, 1246, 400, 1300}, {0, 1400, 0, 1400}, {1086.6, 1152, 1080, 1160},
	} {
		if a := roundAxis(c.min, c.max, 8); a.min != c.lo || a.max != c.hi {
			t.Errorf("axis over %g to %g: %g to %g; %g to %g", c.min, c.max, a.min, a.max, c.lo, c.hi)
		}
	}
}

// TestTicksAlways holds the rules for any axis: steps of 1, 2, 5 times a power
// of ten, no more parts than asked, none outside, labels all different.
func TestTicksAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		min := rapid.Float64Range(-500, 3000).Draw(t, "min")
		span := math.Pow(10, rapid.Float64Range(-2, 4).Draw(t, "power"))
		most := rapid.IntRange(1, 12).Draw(t, "most")
		a := newAxis(min, min+span, most)
		if len(a.ticks) > most+1 {
			t.Fatalf("%d ticks for %d parts", len(a.ticks), most)
		}
		seen := map[string]bool{}
		for i, v := range a.ticks {
			if v < a.min-1e-6*span || v > a.max+1e-6*span {
				t.Fatalf("tick %g outside %g to %g", v, a.min, a.max)
			}
			if seen[a.label(v)] {
				t.Fatalf("label %s twice", a.label(v))
			}
			seen[a.label(v)] = true
			if i == 0 {
				continue
			}
			step := v - a.ticks[i-1]
			lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-6))
			if d := math.Min(math.Abs(lead-1), math.Min(math.Abs(lead-2), math.Abs(lead-5))); d > 1e-6 {
				t.Fatalf("step %g starts with %g", step, lead)
			}
		}
	})
}

func TestAxisAt(t *testing.T) {
	a := axis{min: 10, max: 30, lo: 100, hi: 200}
	for _, c := range []struct {
		v    float64
		want vg.Length
	}{{10, 100}, {15, 125}, {30, 200}} {
		if got := a.at(c.v); got != c.want {
			t.Errorf("place of %g: %g; %g", c.v, got, c.want)
		}
	}
}

// TestThin: what is left out lies within the tolerance of what is kept, and
// corners stay.
func TestThin(t *testing.T) {
	var pts []vg.Point
	for i := range 1001 {
		x := float64(i)
		pts = append(pts, vg.Point{X: vg.Length(x), Y: vg.Length(100 * math.Sin(x/100))})
	}
	pts[500].Y += 30 // a spike of one point
	const tolerance = 0.05
	kept := thin(pts, tolerance)
	// A chord of length c over the curvature 0.01 at the crests rises c²·0.01/8:
	// 6 long, to the whole point below, at the tolerance. Halving at the worst point may keep up to twice
	// as many as that needs.
	if len(kept) > 2*1000/6 || len(kept) < 10 {
		t.Errorf("%d points kept of %d", len(kept), len(pts))
	}
	j := 0
	for _, p := range pts {
		for kept[j+1].X < p.X {
			j++
		}
		if d := distance(p, kept[j], kept[j+1]); d > tolerance {
			t.Fatalf("point at %g is %g off the line drawn", p.X, d)
		}
	}
	if d := cmp.Diff(pts[0], kept[0]); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(pts[1000], kept[len(kept)-1]); d != "" {
		t.Error(d)
	}
}
