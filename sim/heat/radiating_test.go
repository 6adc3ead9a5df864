package heat

import (
	"fmt"
	"math"
	"testing"

	"billet/sim/steel"
)

// radiatingBodies are thin bodies that radiate, against ordinary differential
// equations, and solid slabs in a forge.
func radiatingBodies(t *testing.T) []comparison {
	return append([]comparison{lumpedTimes(t)}, append(fireProofs(t), forgeProofs(t)...)...)
}

// radiated is the time, s, in which a lumped body goes from a to b, K, by
// radiation alone with surroundings at s, K; scale is ρ·c·V/A, J/m2K (Heat
// Transfer Handbook, Bejan and Kraus eds., p. 231, read in excerpt).
func radiated(a, b, s, emissivity, scale float64) float64 {
	f := func(t float64) float64 { return math.Log(math.Abs((s+t)/(s-t))) + 2*math.Atan(t/s) }
	return scale / (4 * emissivity * Sigma * s * s * s) * (f(b) - f(a))
}

// lumpedTimes: the end of a stage is to be within 0.1 %.
func lumpedTimes(t *testing.T) comparison {
	const depth, scale = 0.0125, 7850 * 650 * 0.0125
	p := comparison{name: "lumped body by radiation alone: times to 1000, 1200 and from 1200 to 900 °C", source: "closed form (Heat Transfer Handbook p. 231, read in excerpt)",
		what: "5, 1, 0.5, 0.1 K", unit: "%", note: "end times"}
	for _, acc := range asked {
		worst := 0.0
		for _, r := range []struct{ from, to, around, apart float64 }{{20, 1000, 1250, 302.097249}, {20, 1200, 1250, 483.4835857}, {1200, 900, 20, 144.064113}} {
			want := radiated(r.from+zeroC, r.to+zeroC, r.around+zeroC, 0.8, scale)
			if math.Abs(want-r.apart) > 1e-4 {
				t.Errorf("%g to %g °C: %.6f s, computed apart %.6f", r.from, r.to, want, r.apart)
			}
			e := experiment{body: slab(plain("lump", 1e6, 7850, 650), 2*depth), start: r.from,
				stages: []Stage{{In: All(Surround{Wall: Constant(r.around + zeroC), Emissivity: 0.8}), End: End{On: Core, Temperature: r.to + zeroC}}}}
			worst = math.Max(worst, 100*math.Abs(e.run(t, acc).ends[0]-want)/want)
		}
		p.got, p.limit = append(p.got, worst), append(p.limit, 0.1)
	}
	return p
}

// isoFire is the standard fire, °C, after t s (ISO 834-1; EN 1991-1-2 section
// 3.2.1: 20 + 345 log10(8t + 1), t in minutes, read in excerpt).
func isoFire(t float64) float64 { return 20 + 345*math.Log10(8*t/60+1) }

// isoSeries is that fire in rows so close that straight lines stay within 0.02 K.
func isoSeries() Series {
	var s Series
	for t := 0.0; t < 5600; t += math.Sqrt(8*0.02*math.Ln10/345) * (t + 7.5) {
		s.Time, s.Value = append(s.Time, t), append(s.Value, isoFire(t)+zeroC)
	}
	return s
}

// enHeat is the specific heat of carbon steel, J/kgK at °C (EN 1993-1-2:2005
// section 3.4.1.2, read in excerpt).
func enHeat(c float64) float64 {
	switch {
	case c < 600:
		return 425 + 0.773*c - 1.69e-3*c*c + 2.22e-6*c*c*c
	case c < 735:
		return 666 + 13002/(738-c)
	case c < 900:
		return 545 + 17820/(c-731)
	}
	return 650
}

// exposed is the temperature, °C by minute, of an unprotected section with the
// section factor am (1/m) in the standard fire (EN 1993-1-2 section 4.2.5.1
// without the shadow factor), integrated by the classic Runge-Kutta method in
// steps of 0.1 s.
func exposed(am float64, minutes []float64) (out []float64) {
	rate := func(t, c float64) float64 {
		g := isoFire(t)
		q := 25*(g-c) + 0.7*Sigma*(math.Pow(g+zeroC, 4)-math.Pow(c+zeroC, 4))
		return am * q / (7850 * enHeat(c))
	}
	const h = 0.1
	t, c := 0.0, 20.0
	for n := 0; len(out) < len(minutes); n++ {
		t = float64(n) * h
		if t >= 60*minutes[len(out)]-h/2 {
			out = append(out, c)
		}
		k1 := rate(t, c)
		k2 := rate(t+h/2, c+h/2*k1)
		k3 := rate(t+h/2, c+h/2*k2)
		k4 := rate(t+h, c+h*k3)
		c += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return out
}

// fireTable is the same computed apart with steps of 0.05 s (and 5.67e-8 and
// 273 in the radiation, as the standard rounds them): °C at 5, 10, 15, 20, 30,
// 45, 60 and 90 min by section factor.
var fireMinutes = []float64{5, 10, 15, 20, 30, 45, 60, 90}

var fireTable = map[float64][]float64{
	10: {38.71, 72.49, 113.51, 158.90, 257.11, 409.41, 549.28, 733.78}, 15: {47.74, 96.76, 155.06, 218.40, 350.96, 537.04, 681.22, 850.76},
	20: {56.58, 119.96, 193.99, 272.97, 431.21, 628.48, 735.59, 941.86}, 25: {65.23, 142.20, 230.61, 323.00, 498.45, 692.34, 776.97, 975.17},
	30: {73.71, 163.58, 265.09, 368.69, 553.85, 727.86, 834.40, 987.13}, 40: {90.17, 203.99, 328.08, 447.53, 636.18, 760.89, 900.54, 994.58},
	50: {106.03, 241.55, 383.46, 510.97, 690.30, 815.12, 922.92, 997.29}, 60: {121.33, 276.47, 431.65, 561.21, 721.30, 851.63, 930.66, 998.88},
	100: {177.66, 392.21, 564.52, 675.98, 767.35, 889.50, 937.99, 1001.86}, 150: {238.75, 490.86, 645.31, 722.51, 814.52, 895.01, 940.58, 1003.28},
	200: {290.95, 552.41, 681.78, 733.88, 828.17, 897.01, 941.82, 1003.97}, 250: {335.30, 590.45, 698.90, 738.10, 832.64, 898.14, 942.55, 1004.38},
	300: {372.69, 614.31, 707.77, 743.27, 834.68, 898.87, 943.02, 1004.65}, 400: {429.96, 639.85, 716.27, 753.99, 836.71, 899.77, 943.61, 1004.99},
}

// fireProofs: thin plates of EN steel that conduct so well that they are even.
func fireProofs(t *testing.T) []comparison {
	m := lookup(t, "EN 1993-1-2 carbon steel")
	m.Name, m.Conductivity = "EN 1993-1-2 carbon steel, even", steel.Curve{T: []float64{300, 1500}, V: []float64{1e5, 1e5}}
	iso := isoSeries()
	fire := All(Surround{Wall: iso, Gas: iso, Film: 25, Emissivity: 0.7})
	times := make([]float64, len(fireMinutes))
	for i, v := range fireMinutes {
		times[i] = 60 * v
	}
	err := map[float64][2]float64{}
	var table float64
	for am, row := range fireTable {
		exact := exposed(am, fireMinutes)
		want := make([][]float64, len(exact))
		for i, v := range exact {
			table = math.Max(table, math.Abs(v-row[i]))
			want[i] = []float64{v}
		}
		e := experiment{body: slab(m, 2/am), start: 20, times: times, stages: lasting(fire, 5400), at: []place{{0, 0.5, 0.5, 0.5}}}
		for _, a := range asked {
			out, in := e.run(t, a).within(t, want)
			err[a] = [2]float64{math.Max(err[a][0], out), math.Max(err[a][1], in)}
		}
	}
	const source = "EN 1993-1-2 section 4.2.5.1 and EN 1991-1-2 section 3.2.1 (read in excerpt), integrated here by Runge-Kutta"
	const name = "bare plates of Am/V 10 to 400 1/m in the standard fire, 5 to 90 min"
	return []comparison{
		each(name, source, 1, func(a float64) float64 { return err[a][0] }),
		each(name+", inside 700–770 °C", source, 3, func(a float64) float64 { return err[a][1] }),
		{name: "the same equations computed apart in 0.05 s steps, against the integration here", source: "computed apart", what: "0.5 K",
			got: []float64{table}, limit: []float64{0.5}, unit: "K", note: "the standard rounds σ to 5.67e-8 and 0 °C to 273 K; steps"},
	}
}

// forgeProofs: slabs of EN steel in a forge at 1250 °C, emissivity 0.8, film
// 30, until the core is at 1200 °C. The times are from an enthalpy finite
// volume program, run on 20 cells a half (25 and 50 mm on up to 40).
func forgeProofs(t *testing.T) []comparison {
	m := lookup(t, "EN 1993-1-2 carbon steel")
	fire := All(Surround{Wall: Constant(1250 + zeroC), Gas: Constant(1250 + zeroC), Film: 30, Emissivity: 0.8})
	wait := []Stage{{In: fire, End: End{On: Core, Temperature: 1200 + zeroC}}}
	p := comparison{name: "slabs of 10 to 80 mm in a forge at 1250 °C: times till the core is at 1200 °C", source: "finite volumes, computed apart to 0.3 s (25 and 50 mm: 0.05 s)",
		what: "5, 1, 0.5, 0.1 K", unit: "of the limit", note: "limit: 0.1 % and the table's own uncertainty"}
	for _, acc := range asked {
		worst := 0.0
		for _, r := range [][3]float64{{10, 196.4, .3}, {16, 318.4, .3}, {20, 401.6, .3}, {25, 507.70, .05}, {30, 616.1, .3}, {40, 840.0, .3}, {50, 1073.67, .05}, {60, 1317, .5}, {80, 1836, .5}} {
			e := experiment{body: slab(m, r[0]/1000), start: 20, stages: wait}
			worst = math.Max(worst, math.Abs(e.run(t, acc).ends[0]-r[1])/(r[1]/1000+r[2]))
		}
		p.got, p.limit = append(p.got, worst), append(p.limit, 1)
	}
	out := []comparison{p}
	for _, r := range []struct {
		mm   float64
		rows [][3]float64 // s, core, surface in °C
	}{
		{25, [][3]float64{{60, 328.3, 366.8}, {120, 564.3, 606.6}, {180, 714.2, 750.7}, {240, 804.7, 848.5}, {300, 955.7, 987.6}, {360, 1066.9, 1088.5}, {420, 1140.1, 1153.9}, {480, 1185.6, 1194.0}}},
		{50, [][3]float64{{60, 169.1, 239.9}, {180, 441.2, 521.4}, {300, 635.2, 717.7}, {360, 698.1, 771.2}, {420, 729.1, 821.7}, {480, 776.3, 868.2}, {600, 927.6, 991.5}, {780, 1084.5, 1120.9}, {960, 1169.7, 1188.3}}},
	} {
		e := experiment{body: slab(m, r.mm/1000), start: 20, stages: wait, at: []place{{0, 0.5, 0.5, 0.5}, {0, 1, 0.5, 0.5}}}
		var want [][]float64
		for _, row := range r.rows {
			e.times = append(e.times, row[0])
			want = append(want, []float64{row[1], row[2]})
		}
		p := each(fmt.Sprintf("slab of %g mm in that forge: core and surface against time", r.mm), "finite volumes, computed apart, printed to 0.1 K", 1,
			func(a float64) float64 { out, _ := e.run(t, a).within(t, want); return out })
		for i := range p.limit {
			p.limit[i] += 0.3
		}
		p.note = "the accuracy asked and 0.3 K: the table's rounding and its 0.05 s"
		out = append(out, p)
	}
	return out
}
