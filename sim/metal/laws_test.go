package metal

import (
	"math"
	"testing"
)

// Diffusivities at 900 to 1300 C against the values of each formula worked out
// apart, m2/s; and what they say of each other: Ågren, Slycke and Ericsson, and
// Tibbetts, fitted to different measurements, lie within 15 % of one another.
func TestDiffusivities(t *testing.T) {
	for i, c := range []float64{900, 1000, 1100, 1200, 1300} {
		k := zeroC + c
		for _, row := range []struct {
			name      string
			got, want float64
		}{
			{"Callister", Callister(k, 0), []float64{5.87e-12, 1.93e-11, 5.36e-11, 1.29e-10, 2.79e-10}[i]},
			{"Ågren 0.2", Agren(k, 0.2), []float64{7.72e-12, 2.48e-11, 6.74e-11, 1.60e-10, 3.39e-10}[i]},
			{"Ågren 0.8", Agren(k, 0.8), []float64{1.46e-11, 4.40e-11, 1.13e-10, 2.57e-10, 5.24e-10}[i]},
			{"Slycke 0.8", SlyckeEricsson(k, 0.8), []float64{1.52e-11, 4.50e-11, 1.13e-10, 2.52e-10, 5.06e-10}[i]},
			{"Tibbetts 0.8", Tibbetts(k, 0.8), []float64{1.61e-11, 4.68e-11, 1.17e-10, 2.57e-10, 5.12e-10}[i]},
			{"Wells 0.8", WellsMehl(k, 0.8), []float64{1.29e-11, 3.79e-11, 9.51e-11, 2.11e-10, 4.23e-10}[i]},
		} {
			near(t, row.name, row.got/row.want, 1, 0.006) // three figures
		}
		for _, w := range []float64{0.2, 0.8} {
			near(t, "Slycke over Ågren", SlyckeEricsson(k, w)/Agren(k, w), 1, 0.15)
			near(t, "Tibbetts over Ågren", Tibbetts(k, w)/Agren(k, w), 1, 0.15)
		}
	}
	near(t, "ferrite 700", InFerrite(zeroC+700)/6.3e-11, 1, 0.01)
	near(t, "ferrite 800", InFerrite(zeroC+800)/1.66e-10, 1, 0.01)
	near(t, "nickel 1100", InNickel(k1100)/1.0e-10, 1, 0.05)
	// Callister example 5.3: D 4.8e-14 at 500 C and 5.3e-13 at 600 C (copper in
	// aluminium, read in excerpt): 10 h at 600 C equal 110.4 h at 500 C. A hold
	// in our solver depends on D t alone.
	a := newCarbon(t, steels(t, []float64{0.95, 0.05}, []float64{0.001, 0.001}), Options{Law: func(float64, float64) float64 { return 5.3e-13 }})
	b := newCarbon(t, steels(t, []float64{0.95, 0.05}, []float64{0.001, 0.001}), Options{Law: func(float64, float64) float64 { return 4.8e-14 }})
	must(t, a.Hold(36000, k1100))
	must(t, b.Hold(110.417*3600, k1100))
	near(t, "equal Dt", b.At(0.0012), a.At(0.0012), wanted/100) // steps differ
}

// Activity against the stable iron-graphite diagram (from memory), where it is
// 1: 0.68 %C at 738 C, 2.08 % at 1154 C.
func TestActivity(t *testing.T) {
	near(t, "eutectoid", Activity(zeroC+738, 0.68), 1, 0.08)
	near(t, "eutectic", Activity(zeroC+1154, 2.08), 1, 0.08)
	if Activity(1200, 0) != 0 || !(Activity(1200, 0.9) > Activity(1200, 0.8)) {
		t.Error("activity does not rise with carbon")
	}
}

// Gunnarson's factors as computed apart.
func TestGunnarson(t *testing.T) {
	for _, c := range []struct {
		is   Composition
		want float64
	}{{Composition{Si: 3.8}, 0.618}, {Composition{Ni: 2}, 0.938}, {Composition{Ni: 2, Mn: 0.4, Si: 0.3}, 0.913}} {
		near(t, "factor", Gunnarson(c.is), c.want, 5e-4)
	}
}

// The lines of the diagram: A3 of iron and carbon by Andrews-free textbook points
// (iron-carbon diagram, from memory: 0.2 % 848 C, 0.4 % 797 C), Acm at its three
// anchors and between (0.95 % 798, 1.2 % 890 C, worked out apart), and one the
// inverse of the other.
func TestPhaseLines(t *testing.T) {
	a1, a3 := zeroC+727, zeroC+912
	near(t, "848 C", a3Carbon(a1, a3, zeroC+848), 0.2, 0.03)
	near(t, "797 C", a3Carbon(a1, a3, zeroC+797), 0.4, 0.06)
	near(t, "A1", a3Carbon(a1, a3, a1), 0.77, 0.002)
	near(t, "A3", a3Carbon(a1, a3, a3), 0, 1e-9)
	for c, want := range map[float64]float64{0.77: 727, 0.85: 759, 0.95: 798, 1.0: 817, 1.2: 890, 1.4: 956, 1.23: 900, 2.11: 1147} {
		near(t, "Acm", AcmTemperature(Composition{C: c})-zeroC, want, 1.2)
		near(t, "and back", AcmCarbon(Composition{}, AcmTemperature(Composition{C: c})), c, 1e-9)
	}
	// 1095 (0.95 %): 0.89 % in austenite at 775 C, 0.93 at 790 (worked out apart).
	near(t, "775 C", AcmCarbon(Composition{}, zeroC+775), 0.89, 0.005)
	near(t, "790 C", AcmCarbon(Composition{}, zeroC+790), 0.93, 0.005)
}

// The fast exponential of the inner loop.
func TestExp(t *testing.T) {
	for x := 0.0; x <= 2.8; x += 0.1 {
		near(t, "exp", exp(x)/math.Exp(x), 1, 4e-4)
	}
	near(t, "exp", exp(1)/math.E, 1, 2.1e-6)
}

// Two and a half hours at a ramp: a history in coarse samples and in fine ones
// diffuse the same, and as one hold of the integral of D.
func TestHistory(t *testing.T) {
	run := func(n int) float64 {
		c := newCarbon(t, steels(t, []float64{0.95, 0.05}, []float64{0.004, 0.004}), Options{})
		var h History
		for i := range n + 1 {
			s := float64(i) / float64(n)
			h = append(h, Sample{3600 * s, []float64{zeroC + 900 + 300*s}})
		}
		must(t, c.Run(h))
		return c.At(0.0044)
	}
	coarse, fine := run(1), run(500)
	near(t, "samples", coarse, fine, 0.002)
	var dt float64
	for i := range 10000 {
		dt += 0.36 * Agren(zeroC+900+300*(float64(i)+0.5)/10000, 0.5)
	}
	c := newCarbon(t, steels(t, []float64{0.95, 0.05}, []float64{0.004, 0.004}), Options{})
	must(t, c.Hold(dt/Agren(k1100, 0.5), k1100))
	near(t, "one hold", coarse, c.At(0.0044), wanted)
	uneven := newCarbon(t, steels(t, []float64{0.95, 0.05}, []float64{0.004, 0.004}), Options{})
	must(t, uneven.Run(History{{0, []float64{1300, 1350, 1400}}, {600, []float64{1350, 1400, 1450}}}))
	balanced(t, uneven)
	if err := uneven.Run(History{{0, []float64{1300, 1350}}}); err == nil {
		t.Error("two temperatures for two layers accepted")
	}
}
