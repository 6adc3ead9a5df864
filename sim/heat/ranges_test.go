package heat

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"billet/sim/steel"
)

// overshoot is how far, as a share of a jump of temperature, a node may pass
// what drives it: the method leaves at most 0.13 of a stiff jump after a step,
// with the other sign (fd: TestNoRinging).
const overshoot = 0.13

var everyMaterial = func() (out []steel.Material) {
	for _, name := range []string{"1018", "1084", "52100", "wrought iron", "304 stainless", "nickel", "EN 1993-1-2 carbon steel"} {
		if m, err := steel.Lookup(name); err == nil {
			out = append(out, m)
		}
	}
	return out
}()

// anyBody draws a body within the accepted ranges, of up to most layers.
func anyBody(t *rapid.T, most int) Body {
	log := func(name string, lo, hi float64) float64 {
		return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, name))
	}
	b := Body{Width: log("width", 3e-3, 0.3), Length: log("length", 3e-3, 0.3), Dims: rapid.IntRange(1, 3).Draw(t, "dims")}
	for range rapid.IntRange(1, most).Draw(t, "layers") {
		j := Joint{State: rapid.SampledFrom([]JointState{Ground, Scaled, Gapped, Fluxed, Welded, Given}).Draw(t, "joint"),
			Conductance: log("conductance", 0.1, 1e7), Gap: log("gap", 1e-5, 5e-3), Factor: rapid.SampledFrom([]float64{0, 0.3, 5}).Draw(t, "factor")}
		b.Layers = append(b.Layers, Layer{Material: rapid.SampledFrom(everyMaterial).Draw(t, "material"), Thickness: log("thickness", 0.05e-3, 0.1), Joint: j})
	}
	b.CoreAt = b.Thickness() * rapid.Float64Range(0, 1).Draw(t, "core")
	return b
}

func anySurroundings(t *rapid.T) (s Surroundings) {
	temperature := func(name string) Series {
		at := func() float64 { return rapid.Float64Range(253.15, 1773.15).Draw(t, name) }
		if rapid.Bool().Draw(t, "varies") {
			return Series{Time: []float64{0, 30, 200}, Value: []float64{at(), at(), at()}}
		}
		return Constant(at())
	}
	for f := range s {
		s[f] = Surround{Wall: temperature("wall"), Gas: temperature("gas"),
			Film: rapid.SampledFrom([]float64{0, 10, 30, 1000, 1e5}).Draw(t, "film"), Emissivity: rapid.SampledFrom([]float64{0, 0.3, 0.8, 1}).Draw(t, "emissivity")}
		if f > 0 && rapid.Bool().Draw(t, "as before") {
			s[f] = s[f-1]
		}
	}
	return s
}

// Whatever body goes into whatever surroundings: an answer, no NaN, no panic, no
// hang; heat is kept, and temperatures stay between the coldest and the hottest
// there is, but for the method's overshoot.
func TestAnyBody(t *testing.T) {
	if len(everyMaterial) < 5 {
		t.Fatalf("only %d materials found", len(everyMaterial))
	}
	rapid.Check(t, func(t *rapid.T) {
		b := anyBody(t, 6)
		in := []Surroundings{anySurroundings(t), anySurroundings(t)}
		start := rapid.Float64Range(253.15, 1573.15).Draw(t, "start")
		f, err := New(b, start, Options{Accuracy: rapid.SampledFrom([]float64{2, 5, 20}).Draw(t, "accuracy"), All: in})
		if err != nil {
			t.Fatal(err)
		}
		if f.Cells() > 400 {
			t.Skip("a large body: see TestManyLayers")
		}
		lo, hi := start, start
		for _, s := range in {
			for _, face := range s {
				fLo, fHi := face.bounds()
				lo, hi = min(lo, fLo), max(hi, fHi)
			}
		}
		most, least := hi+overshoot*(hi-lo), lo-overshoot*(hi-lo)
		mon := &Monitor{Record: &History{}, Each: func(f *Field) {
			if hot, cold := f.Extremes(); !(hot <= most && cold >= least) {
				t.Fatalf("at %g s: %.2f to %.2f K, in %.2f to %.2f K", f.Time(), cold, hot, lo, hi)
			}
		}}
		on := rapid.SampledFrom([]Reading{Skin, Core, ColdestJoint}).Draw(t, "on")
		ends := []End{{Timed: true, Time: rapid.Float64Range(0, 300).Draw(t, "time")}, {On: on, Temperature: rapid.Float64Range(280, 1500).Draw(t, "to"), Hold: 5}}
		for i, s := range in {
			if _, err := f.Run(Stage{In: s, End: ends[i]}, mon); err != nil {
				t.Fatal(err)
			}
		}
		stored, through := f.Energy()
		scale := 7850 * 8e5 * b.Thickness() * b.Width * b.Length
		if !(math.Abs(stored-through) < 1e-9*scale*math.Max(1, float64(f.Steps)/100)) {
			t.Fatalf("stored %g J, came in %g J", stored, through)
		}
		if z, tK := f.Profile(); len(z) != len(tK) || math.Abs(z[len(z)-1]-b.Thickness()) > 1e-9 {
			t.Fatalf("profile of %d heights and %d temperatures ends at %g", len(z), len(tK), z[len(z)-1])
		}
	})
}

// Very many layers and very thin ones. A brick of 500 layers has a quarter of a
// million nodes and takes minutes; 40 layers stand for it here.
func TestManyLayers(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	a, b := lookup(t, "1084"), lookup(t, "1018")
	for _, c := range []struct {
		layers    int
		thickness float64
		joint     Joint
		dims      int
		accuracy  float64
	}{
		{500, 0.05e-3, Joint{State: Welded}, 1, 0.5}, {500, 0.2e-3, Joint{State: Ground}, 1, 0.5}, {500, 0.2e-3, Joint{State: Welded}, 2, 5},
		{500, 0.6e-3, Joint{State: Scaled}, 2, 5}, {40, 0.05e-3, Joint{State: Fluxed}, 3, 5}, {1, 0.1, Joint{}, 3, 2}, {3, 0.1, Joint{State: Gapped, Gap: 1e-4}, 3, 2},
	} {
		t.Run(fmt.Sprintf("%d × %g mm, %d directions", c.layers, 1000*c.thickness, c.dims), func(t *testing.T) {
			body := Body{Width: 0.04, Length: 0.15, Dims: c.dims}
			for i := range c.layers {
				body.Layers = append(body.Layers, Layer{Material: []steel.Material{a, b}[i%2], Thickness: c.thickness, Joint: c.joint})
			}
			body.CoreAt = body.Thickness() / 2
			in := All(gasForge(1300))
			began := time.Now()
			f, err := New(body, 293.15, Options{Accuracy: c.accuracy, All: []Surroundings{in}})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.Run(Stage{In: in, End: End{Timed: true, Time: 120}}, nil); err != nil {
				t.Fatal(err)
			}
			stored, through := f.Energy()
			hot, cold := f.Extremes()
			within := 0.2 * min(c.accuracy, loosest) // of the accuracy that the grid is made for
			t.Logf("%d nodes, %d steps, %v; %.0f to %.0f °C", f.Cells(), f.Steps, time.Since(began).Round(time.Millisecond), cold-zeroC, hot-zeroC)
			if !(math.Abs(stored-through) <= 1e-9*stored) || !(hot < 1573.15+within && cold > 293.15-within) {
				t.Errorf("stored %g J of %g J, %.1f to %.1f K", stored, through, cold, hot)
			}
		})
	}
}
