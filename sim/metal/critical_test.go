package metal

import (
	"math"
	"testing"
)

// Each formula's own value for the listed grades, C, worked out apart: Ac1 and
// Ac3 of Andrews, Ms of van Bohemen and of Ingber, retained austenite in per cent
// by van Bohemen's rate at 25 C and by Koistinen and Marburger with Andrews'
// linear Ms.
func TestCriticalFormulas(t *testing.T) {
	for _, g := range []struct {
		name                       string
		ac1, ac3, ms, ingber, left float64
		koistinen                  float64
	}{
		{"1018", 721, 810, 444, 438, 0, 1}, {"1045", 721, 761, 328, 345, 1, 4}, {"1084", 721, 0, 207, 217, 10, 22},
		{"1095", 725, 0, 191, 194, 14, 33}, {"W1", 729, 0, 183, 181, 16, 41}, {"52100", 751, 0, 166, 149, 20, 50},
		{"O1", 731, 0, 167, 164, 19, 40}, {"5160", 734, 0, 264, 274, 3, 9}, {"15N20", 692, 0, 205, 223, 9, 19},
	} {
		c := Of(lookup(t, g.name))
		p := CriticalPoints(c)
		near(t, g.name+" Ac1", p.Ac1.TempK-zeroC, g.ac1, 0.6)
		if g.ac3 > 0 {
			near(t, g.name+" Ac3", p.Ac3.TempK-zeroC, g.ac3, 0.6)
		}
		near(t, g.name+" Ms", p.Ms.TempK-zeroC, g.ms, 1.1)
		near(t, g.name+" Ms, Ingber", MartensiteIngber(c)-zeroC, g.ingber, 1.1)
		near(t, g.name+" retained", 100*RetainedAustenite(c, p.Ms.TempK, zeroC+25), g.left, 0.8)
		near(t, g.name+" retained, Koistinen", 100*KoistinenMarburger(MartensiteAndrews(c), zeroC+25), g.koistinen, 0.8)
	}
}

// Published points within each formula's stated error. O1: 1370 F, 743 C, and
// 1325 F, 720 C, as steelmakers print (from memory). Where steel was found no
// longer magnetic: not compared, that is the Curie point or above. Ms: 1080 200
// C or 220, 1095 210 or less, 52100 quenched from 845 C about 200 to 250, 5160
// 255, O1 200 (isothermal diagrams, from memory): for those that hold carbide,
// what is dissolved at the hardening heat counts.
func TestPublishedPoints(t *testing.T) {
	// Ac3 of 1045 785 C and of 5160 766 C, Ac1 of both 727 and 729 (from
	// memory; data sheets differ by 10).
	for _, p := range []struct {
		grade    string
		ac1, ac3 float64
	}{{"1045", 727, 785}, {"5160", 729, 766}} {
		crit := CriticalPoints(Of(lookup(t, p.grade)))
		t.Logf("%s: Ac1 %.0f, Ac3 %.0f C; published %.0f and %.0f", p.grade, crit.Ac1.TempK-zeroC, crit.Ac3.TempK-zeroC, p.ac1, p.ac3)
		near(t, p.grade+" Ac1", crit.Ac1.TempK-zeroC, p.ac1, crit.Ac1.Within)
		near(t, p.grade+" Ac3", crit.Ac3.TempK-zeroC, p.ac3, crit.Ac3.Within)
	}
	for _, p := range []struct {
		grade        string
		ac1, ms      float64 // C, 0: none published
		hardeningC   float64
		msPublishedW float64 // K of spread between publications
	}{
		{"O1", 743, 200, 800, 20}, {"O1", 720, 0, 800, 0}, {"1080", 0, 210, 820, 10}, {"1095", 0, 205, 800, 10},
		{"5160", 0, 255, 830, 5}, {"52100", 0, 225, 815, 25}, {"1045", 0, 320, 845, 10},
	} {
		c := Of(lookup(t, p.grade))
		crit := CriticalPoints(c)
		if p.ac1 > 0 {
			near(t, p.grade+" Ac1", crit.Ac1.TempK-zeroC, p.ac1, crit.Ac1.Within)
		}
		if p.ms > 0 {
			a := Harden(c, zeroC+p.hardeningC)
			t.Logf("%s at %.0f C: %.2f %%C dissolved, Ms %.0f C, published %.0f", p.grade, p.hardeningC, a.Carbon, a.Ms.TempK-zeroC, p.ms)
			near(t, p.grade+" Ms", a.Ms.TempK-zeroC, p.ms, a.Ms.Within+p.msPublishedW)
		}
	}
}

// The traps: Andrews' Ac3 above 0.6 %C, no Ac3 above 0.77, and continuity where
// one law hands over to the next.
func TestAc3Traps(t *testing.T) {
	last := math.Inf(1)
	for w := 0.05; w < 0.77; w += 0.01 {
		p := CriticalPoints(Composition{C: w, Mn: 0.7, Si: 0.2})
		if !(p.Ac3.TempK < last && p.Ac3.TempK > p.Ac1.TempK-0.01) {
			t.Errorf("%.2f %%C: Ac3 %.1f after %.1f, Ac1 %.1f", w, p.Ac3.TempK, last, p.Ac1.TempK)
		}
		if p.Ac3.InRange != (w < 0.6) || !math.IsNaN(p.Acm.TempK) {
			t.Errorf("%.2f %%C: in range %v, Acm %g", w, p.Ac3.InRange, p.Acm.TempK)
		}
		last = p.Ac3.TempK
	}
	p := CriticalPoints(Composition{C: 0.95})
	if !math.IsNaN(p.Ac3.TempK) || math.IsNaN(p.Acm.TempK) || p.Ac3.Why == "" {
		t.Errorf("0.95 %%C: %+v", p)
	}
	if p := CriticalPoints(Of(lookup(t, "304"))); !math.IsNaN(p.Ac1.TempK) {
		t.Error("304 has an Ac1")
	}
}

// What is dissolved: 1095 at 775 C 0.89 %C and 1.0 % cementite, at 790 C 0.93 and
// 0.4; 1.2 %C steel at 790 C 4.7 %, at 815 C 3.6 % (worked out apart from the
// diagram); mild steel between Ac1 and Ac3 by the lever rule.
func TestHardeningHeat(t *testing.T) {
	for _, h := range []struct{ c, tempC, in, carbide float64 }{
		{0.95, 775, 0.89, 1.0}, {0.95, 790, 0.93, 0.4}, {0.95, 805, 0.95, 0}, {1.2, 790, 0.93, 4.7}, {1.2, 815, 0.995, 3.6},
	} {
		a := Harden(Composition{C: h.c}, zeroC+h.tempC)
		near(t, "carbon", a.Carbon, h.in, 0.006)
		near(t, "carbide", 100*a.Carbide, h.carbide, 0.1)
	}
	mild := Of(lookup(t, "1018"))
	a := Harden(mild, zeroC+770)
	near(t, "carbon of share", a.Share*a.Carbon, 0.18, 1e-9)
	if !(a.Share > 0.2 && a.Share < 0.6) || len(a.Notes) == 0 {
		t.Errorf("1018 at 770 C: %+v", a)
	}
	if Harden(mild, zeroC+700).Share != 0 || Harden(mild, zeroC+900).Share != 1 {
		t.Error("1018 at 700 and 900 C")
	}
	if s := Harden(Of(lookup(t, "420")), zeroC+815).Share; s != 0 {
		t.Errorf("420 at 815 C: %g austenite; published advice is that it does not harden there", s)
	}
}
