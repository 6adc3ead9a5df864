package blade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A full flat blade of even thickness is a trapezium times its length; ground
// to zero it is a wedge; with taper a prismatoid, which Simpson's rule gives
// exactly. Mensuration, textbook formulas.
func TestVolumeOfFlatBlades(t *testing.T) {
	b := hunter()
	near(t, "trapezium", b.Volume(), (4e-3+0.5e-3)/2*28e-3*100e-3, 1e-18)
	b.Edge = 0
	near(t, "wedge", b.Volume(), 4e-3*28e-3*100e-3/2, 1e-18)
	b.Edge, b.TipSpine, b.Grind.Height = 0.5e-3, 1.5e-3, 20e-3
	area := func(spine float64) float64 { return (spine+b.Edge)/2*20e-3 + spine*8e-3 }
	near(t, "prismatoid", b.Volume(), 100e-3/6*(area(4e-3)+4*area(2.75e-3)+area(1.5e-3)), 1e-18)
	b.Grind.Kind = Chisel
	near(t, "chisel", b.Volume(), 100e-3/6*(area(4e-3)+4*area(2.75e-3)+area(1.5e-3)), 1e-18)
	near(t, "mass", b.Mass(7850), 7850*b.Volume(), 0)
}

// Area in closed form against the sum of thicknesses up the blade, for all
// kinds and sizes.
func TestAreaIsSumOfThickness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		p := b.ProfileAt(b.Length * rapid.Float64Range(0, 1).Draw(t, "s"))
		sum := midpoint(p.Thickness, 0, p.Bevel, 4000) + p.Spine*(p.Height-p.Bevel)
		// Midpoint rule with 4000 steps: below 1e-6 even where a hollow
		// starts level (endpoint slope still bounded by h/√(R²−h²)).
		if math.Abs(sum-p.Area()) > 1e-6*p.Area() {
			t.Fatalf("area %g, sum %g", p.Area(), sum)
		}
	})
}

func midpoint(f func(float64) float64, from, to float64, n int) float64 {
	sum, h := 0.0, (to-from)/float64(n)
	for i := range n {
		sum += f(from+(float64(i)+0.5)*h) * h
	}
	return sum
}

// A tapered hollow blade whose wheel limits the bevel from somewhere on.
func TestVolumeOfLimitedHollow(t *testing.T) {
	b := hunter()
	b.TipSpine, b.Grind = 1.5e-3, Grind{Kind: Hollow, Height: 20e-3, Wheel: 250e-3}
	kinks := b.kinks()
	if len(kinks) != 1 {
		t.Fatalf("kinks %v, want one", kinks)
	}
	if p := b.ProfileAt(kinks[0]); math.Abs(p.cu) > 1e-9 || math.Abs(p.Bevel-20e-3) > 1e-12 {
		t.Errorf("at the kink the circle's centre is %g m above the edge, the bevel %g m high", p.cu, p.Bevel)
	}
	sum := midpoint(func(s float64) float64 { return b.ProfileAt(s).Area() }, 0, b.Length, 20000)
	near(t, "volume", b.Volume(), sum, 1e-8*sum)
	if len(b.Notes()) != 1 {
		t.Errorf("notes %q, want one on the wheel's reach", b.Notes())
	}
	// The reach by Pythagoras in the wheel: H² + (R − g)² = R².
	tip := b.ProfileAt(b.Length)
	near(t, "reach at the tip", math.Hypot(tip.Bevel, 125e-3-0.5e-3), 125e-3, 1e-15)
}

// The layers' volumes close on the blade's: 0.1 % asked of the whole chain,
// 0.01 % allowed here for the trapezoid rule on 240 × 41 places.
func TestLayersCloseOnVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		bar := anyBar(t, b)
		g := grinding{bar, b, anyPlace(t, bar, b), Ask{}}
		sum, layers := 0.0, layerVolumes(g.stations(41), b.Length)
		for _, v := range layers {
			if v < 0 {
				t.Fatalf("negative volume in %v", layers)
			}
			sum += v
		}
		if math.Abs(sum-b.Volume()) > 1e-4*b.Volume() {
			t.Fatalf("layers sum to %g, blade %g", sum, b.Volume())
		}
	})
}

// The core's volume in a straight blade with a flat core: a trapezium up to
// the core line, a slab above.
func TestCoreVolume(t *testing.T) {
	b, c := hunter(), 1.2e-3
	bar := laid(c, 0)
	a := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	y := *a.Mid.A.CoreLine
	want := b.Length * ((b.Edge+c)/2*y + c*(b.Height-y))
	// The kink at the core line falls within a step: (step/height)² / 8 of it.
	near(t, "core", a.Layers[1], want, 1e-5*want)
	near(t, "jackets", a.Layers[0]-a.Layers[2], 0, 1e-15)
}
