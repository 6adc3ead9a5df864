package layers

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) { // so that NaN fails
		t.Errorf("%s: %.6g, published %.6g", what, got, want)
	}
}

// Source: Groover, Fundamentals of Modern Manufacturing, Example 18.1 (read in
// excerpt). The book rounds on the way: 0.2 %.
func TestGrooverRollingExample(t *testing.T) {
	const radius, h1, h2, w = 0.25, 0.025, 0.022, 0.3
	l := ContactLength(radius, h1-h2)
	near(t, "contact length", l, 0.0274, 2e-3)
	strain := math.Log(h1 / h2)
	near(t, "strain", strain, 0.128, 2e-3)
	yield := 275e6 * math.Pow(strain, 0.15) / 1.15
	near(t, "mean flow stress", yield, 175.7e6, 2e-3)
	force, torque, power := GrooverRolls(yield, w, l, 50.0/60)
	near(t, "force", force, 1444786, 2e-3)
	near(t, "torque a roll", torque, 19786, 2e-3)
	near(t, "power", power, 207201, 2e-3)
	// the book's greatest draft is mu^2 R = 3.6 mm; the exact one is 1 % less
	near(t, "greatest draft", GreatestDraft(radius, 0.12), 3.6e-3, 0.012)
}

// Source: Kalpakjian and Schmid, copper strip 228 mm wide, 25 to 20 mm, R 300,
// 100 rpm, 180 MPa (from memory): force 1.59 MN, power 644 kW. 0.5 %: three
// figures given.
func TestKalpakjianRollingExample(t *testing.T) {
	l := ContactLength(0.3, 0.005)
	near(t, "contact length", l, 0.0387, 2e-3)
	force, _, power := GrooverRolls(180e6, 0.228, l, 100.0/60)
	near(t, "force", force, 1.59e6, 5e-3)
	near(t, "power", power, 644e3, 5e-3)
}

// Source: table recomputed from the same equations elsewhere (computed); the
// equations from memory. Three decimals given.
func TestRollPressureTable(t *testing.T) {
	for _, c := range []struct{ h1, h2, r, sims, neutral, fa, dc, slip float64 }{
		{40, 34, 60, 0.886, 0.1144, 0.914, 0.791, 0.017},
		{25, 20, 60, 0.943, 0.1058, 0.978, 0.860, 0.028},
		{20, 16, 75, 0.995, 0.0895, 1.026, 0.912, 0.034},
		{10, 8, 60, 1.062, 0.0740, 1.090, 0.980, 0.038},
		{6, 4.8, 200, 1.492, 0.0344, 1.503, 1.420, 0.049},
	} {
		l := ContactLength(c.r, c.h1-c.h2)
		q, n := SimsQ(c.r, c.h1, c.h2)
		for _, x := range []struct {
			what      string
			got, want float64
		}{
			{"Sims", q, c.sims}, {"neutral angle", n, c.neutral}, {"Ford-Alexander", FordAlexanderQ(l, c.h1, c.h2), c.fa},
			{"Denton-Crane", DentonCraneQ(l, c.h1, c.h2), c.dc}, {"forward slip", ForwardSlip(n, c.r, c.h2), c.slip},
		} {
			if math.Abs(x.got-x.want) > 6e-4 {
				t.Errorf("%g to %g, R %g: %s %.4f, table %.4f", c.h1, c.h2, c.r, x.what, x.got, x.want)
			}
		}
	}
}

// Source: bite of a pair of 120 mm steel rolls at Ekelund's friction (table
// computed from the equations, which are from memory): at 1000 C 18.2 mm by
// mu^2 R, 14.9 mm exactly; at 1200 C 12.2 and 10.6.
func TestBiteLimit(t *testing.T) {
	for _, c := range []struct{ tempC, mu, exact float64 }{{800, 0.65, 0}, {1000, 0.55, 14.9}, {1200, 0.45, 10.6}} {
		mu := EkelundFriction(c.tempC+273.15, false)
		near(t, "friction", mu, c.mu, 1e-9)
		if c.exact > 0 {
			d := GreatestDraft(0.060, mu)
			near(t, "greatest draft", d*1e3, c.exact, 5e-3)
			near(t, "tangent of its bite angle", math.Tan(BiteAngle(0.060, d)), mu, 1e-9)
		}
	}
	near(t, "cast iron", EkelundFriction(1273.15, true), 0.44, 1e-9)
}

// Source: the published laws' table (S and width), computed elsewhere from the
// same equations; laws from memory but Wusatowski's, read in excerpt. Three
// decimals and 0.01 mm given.
func TestRollSpreadTable(t *testing.T) {
	want := map[string][3][2]float64{
		"Wusatowski 1969": {{.143, 41.30}, {.206, 41.36}, {.094, 51.06}},
		"Sparling 1961":   {{.101, 40.91}, {.123, 40.81}, {.069, 50.77}},
		"El-Kalay, Sparling 1968, smooth, light scale": {{.114, 41.03}, {.135, 40.89}, {.089, 51.00}},
		"El-Kalay, Sparling 1968, rough, heavy scale":  {{.093, 40.84}, {.102, 40.67}, {.077, 50.87}},
		"Helmi, Alexander 1968":                        {{.201, 41.84}, {.214, 41.42}, {.150, 51.70}},
		"Beese 1972":                                   {{.191, 41.74}, {.274, 41.82}, {.120, 51.35}},
		"Hill 1950":                                    {{.149, 41.35}, {.165, 41.09}, {.110, 51.24}},
		"Shibahara 1981":                               {{.141, 41.28}, {.192, 41.27}, {.101, 51.13}},
		"Ekelund":                                      {{.097, 40.87}, {.103, 40.68}, {.079, 50.88}},
	}
	cases := []SpreadCase{
		{H0: 25e-3, H1: 20e-3, Width: 40e-3, Radius: 60e-3, Mu: 0.4},
		{H0: 40e-3, H1: 34e-3, Width: 40e-3, Radius: 60e-3, Mu: 0.4},
		{H0: 20e-3, H1: 16e-3, Width: 50e-3, Radius: 75e-3, Mu: 0.4},
	}
	seen := 0
	for _, law := range RollSpreadLaws() {
		w, ok := want[law.Name]
		if !ok {
			continue
		}
		seen++
		for i, c := range cases {
			s := law.S(c)
			if math.Abs(s-w[i][0]) > 6e-4 || math.Abs(c.Width1(s)*1e3-w[i][1]) > 0.012 {
				t.Errorf("%s case %d: S %.4f width %.3f, table %.3f %.2f", law.Name, i, s, c.Width1(s)*1e3, w[i][0], w[i][1])
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d laws checked", seen, len(want))
	}
}

// Source: as above, for squeezes: S, width and elongation of three laws, all
// from memory.
func TestPressSpreadTable(t *testing.T) {
	for _, c := range []struct {
		h0, h1, b, w float64
		want         [3][3]float64
	}{
		{40, 32, 25, 40, [3][3]float64{{.358, 43.32, 1.154}, {.344, 43.19, 1.158}, {.385, 43.58, 1.147}}},
		{40, 32, 40, 40, [3][3]float64{{.457, 44.29, 1.129}, {.446, 44.19, 1.132}, {.500, 44.72, 1.118}}},
		{30, 24, 50, 40, [3][3]float64{{.516, 44.88, 1.114}, {.506, 44.78, 1.117}, {.556, 45.28, 1.104}}},
		{30, 24, 20, 50, [3][3]float64{{.292, 53.36, 1.171}, {.275, 53.17, 1.176}, {.286, 53.29, 1.173}}},
		{25, 20, 75, 40, [3][3]float64{{.636, 46.10, 1.085}, {.625, 45.99, 1.087}, {.652, 46.27, 1.081}}},
	} {
		k := SpreadCase{H0: c.h0, H1: c.h1, Width: c.w, Bite: c.b}
		for i, law := range PressSpreadLaws() {
			s := law.S(k)
			long := math.Pow(c.h0/c.h1, 1-s)
			if math.Abs(s-c.want[i][0]) > 6e-4 || math.Abs(k.Width1(s)-c.want[i][1]) > 0.012 || math.Abs(long-c.want[i][2]) > 6e-4 {
				t.Errorf("%s %g to %g: %.4f %.3f %.4f, table %v", law.Name, c.h0, c.h1, s, k.Width1(s), long, c.want[i])
			}
		}
	}
}

// Source: Ghosh and Mallik, Manufacturing Science, problem 3.4 (read in
// excerpt): lead strip pressed to 6 x 96 x 150 mm, 7 MPa, mu 0.25: 0.54 MN.
func TestLeadStrip(t *testing.T) {
	mean, xs := MixedPressure(0.25, 96e-3, 6e-3)
	near(t, "sliding length", xs, 8.32e-3, 1e-3)
	near(t, "force", mean*2*7e6/math.Sqrt(3)*96e-3*150e-3, 0.54e6, 5e-3)
}

// Source: course solution EML 4321, 2011 (read): 2 x 2 in bar, 96 in wide, 20
// ksi, 2k = 1.15 Y. Peaks and means in ksi, loads in kip, rounded there: 0.6 %.
func TestStartOfForging(t *testing.T) {
	const k2, area = 1.15 * 20, 2 * 96
	for _, c := range []struct{ mu, peak, mean, load float64 }{{0.1, 25.4, 24.2, 4644}, {0.3, 31, 26.8, 5150}} {
		mean, peak := SlidingPressure(c.mu, 2, 2)
		near(t, "peak", k2*peak, c.peak, 6e-3)
		near(t, "mean", k2*mean, c.mean, 6e-3)
		near(t, "load", k2*mean*area, c.load, 6e-3)
	}
	mean, peak := StickingPressure(2, 2)
	near(t, "sticking peak", k2*peak, 34.5, 6e-3)
	near(t, "sticking mean", k2*mean, 28.75, 1e-9)
	near(t, "sticking load", k2*mean*area, 5520, 1e-9)
}

// Source: Kalpakjian and Schmid, upset of 304 (from memory): 150 mm across, 100
// to 50 mm, mu 0.2, 1000 MPa: 45 MN.
func TestUpset(t *testing.T) {
	r := 75 * math.Sqrt(2)
	near(t, "load", 1000*math.Pi*r*r*DiscPressure(0.2, 2*r, 50), 45e6, 0.01)
	near(t, "Groover's factor", GrooverUpset(0.2, 50, 25), 1.16, 1e-12)
}

// Source: limits. The capped hill passes into sliding at small and sticking at
// great friction; a rectangle into a square and a strip.
func TestPressureLimits(t *testing.T) {
	slide, _ := SlidingPressure(0.1, 2, 2)
	mixed, _ := MixedPressure(0.1, 2, 2)
	near(t, "sliding", mixed, slide, 1e-12)
	stick, _ := StickingPressure(8, 2)
	mixed, xs := MixedPressure(0.7, 8, 2)
	near(t, "sticking", mixed, stick, 1e-12)
	if xs != 0 {
		t.Errorf("sliding length %g", xs)
	}
	lo, _ := MixedPressure(0.5-1e-9, 8, 2)
	near(t, "at 0.5", lo, stick, 1e-6)
	near(t, "square", RectanglePressure(0.3, 3, 3, 2), 1+0.3*3/(3*2.0), 1e-12)
	near(t, "strip", RectanglePressure(0.9, 3, 3e9, 2), 1+3/(4*2.0), 1e-6)
	near(t, "Tresca slab", TrescaSlabPressure(1, 4, 1), 2, 1e-12)
	near(t, "peening", PeeningQ(1, 4), 1.6, 1e-12)
}
