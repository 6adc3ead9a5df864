package blade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Back and forth: a bar made as NeedFor says, cut forward, has its core line
// where it was wanted on both faces and the metal left over that was asked.
func TestNeedRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		mid := b.ProfileAt(b.Length / 2)
		w := Wanted{
			CoreLine: mid.Bevel * rapid.Float64Range(0.02, 0.98).Draw(t, "line"),
			Clean:    rapid.Float64Range(0, 1e-3).Draw(t, "clean"),
			Off:      rapid.Float64Range(0, 0.5e-3).Draw(t, "off"),
		}
		if b.Grind.Kind == Convex && mid.Reach(w.CoreLine) >= mid.Spine/2 {
			t.Skip("beyond the spine's thickness: the line is met lower down first")
		}
		n, err := NeedFor(b, w)
		if err != nil {
			t.Fatal(err)
		}
		layers, core := []float64{n.Core}, 0
		if n.JacketB > 1e-6 {
			layers, core = append([]float64{n.JacketB}, layers...), 1
		}
		if n.JacketA > 1e-6 {
			layers = append(layers, n.JacketA)
		}
		bar := Even(b.Height+10e-3, b.Length+20e-3, layers, core)
		p := bar.Middle(b.Length, 4e-3, true)
		p.Offset = n.Offset
		a, err := Cut(bar, b, p, Ask{Clean: w.Clean, Points: 3})
		if err != nil {
			t.Fatal(err)
		}
		for side, f := range map[Side]Face{SideA: a.Mid.A, SideB: a.Mid.B} {
			if b.Grind.Kind == Chisel && (side == SideA) != b.Grind.SideA {
				continue
			}
			// 1e-6 m: jackets below it were left out, and a bulge may be all
			// but level there.
			if f.CoreLine == nil || math.Abs(*f.CoreLine-w.CoreLine) > 1e-6 {
				t.Fatalf("side %v: %+v, want the line at %g", side, f, w.CoreLine)
			}
		}
		if got := math.Min(a.DepthA, a.DepthB); math.Abs(got-w.Clean-w.Off) > 1e-6 {
			t.Fatalf("depth %g, want %g", got, w.Clean+w.Off)
		}
		if b.Grind.Kind != Chisel && math.Abs(n.Margin-a.Mid.MarginA) > 1e-12 {
			t.Fatalf("margin %g, cut %g", n.Margin, a.Mid.MarginA)
		}
	})
}

// The inverse of y = (c/2 − e/2)/tan α by hand, and the core a wave asks for.
func TestNeedOfFlat(t *testing.T) {
	b := hunter()
	n, err := NeedFor(b, Wanted{CoreLine: 5.6e-3, Clean: 0.4e-3, Off: 0.1e-3, Wave: 0.4e-3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "core", n.Core, 1.2e-3, rounding) // 0.5 + 2 × 5.6 × 1.75/28 mm
	near(t, "thickness", n.Thickness, 5e-3, rounding)
	near(t, "jackets", n.JacketA, 1.9e-3, rounding)
	near(t, "even", n.JacketA-n.JacketB, 0, rounding)
	near(t, "margin", n.Margin, -0.05e-3, rounding)
	near(t, "more core", n.MoreCore, 0.1e-3, rounding)
}

// A chisel wants its core at the flat side: no jacket there.
func TestNeedOfChisel(t *testing.T) {
	b := hunter()
	b.Grind = Grind{Kind: Chisel, Height: 20e-3, SideA: true}
	n, err := NeedFor(b, Wanted{CoreLine: 6e-3, Clean: 0.4e-3})
	if err != nil {
		t.Fatal(err)
	}
	tan := 3.5e-3 / 20e-3
	near(t, "core", n.Core, 0.5e-3+6e-3*tan+0.4e-3, rounding)
	near(t, "jacket B", n.JacketB, 0, rounding)
	near(t, "thickness", n.Thickness, 4e-3+0.8e-3, rounding)
	near(t, "offset", n.Offset, 0, rounding)
}

// HeightAt and Reach undo each other on every bevel.
func TestHeightAtInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		p := b.ProfileAt(b.Length * rapid.Float64Range(0, 1).Draw(t, "s"))
		reach := p.Edge/2 + p.rise()*rapid.Float64Range(0, 0.999).Draw(t, "share")
		u, ok := p.HeightAt(reach)
		if !ok || u < 0 || u > p.Bevel {
			t.Fatalf("height %g, %v", u, ok)
		}
		// 1e-12 m: a hollow level at the edge loses half the digits of u.
		if got := p.Reach(u); math.Abs(got-reach) > 1e-12 {
			t.Fatalf("reach %g back from %g", got, reach)
		}
	})
}
