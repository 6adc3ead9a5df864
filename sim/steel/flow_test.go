package steel

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Shida 1969 worked out by hand (status of the formula: read in excerpt).
// Columns: carbon %, C, strain, rate 1/s, MPa. Tolerance 0.06 MPa: the last
// printed digit.
func TestShidaTable(t *testing.T) {
	for _, c := range []struct{ carbon, t, strain, rate, mpa float64 }{
		{0.10, 1000, 0.2, 10, 130.5}, {0.10, 1000, 0.3, 1, 108.1}, {0.10, 1000, 0.3, 10, 141.0}, {0.10, 1000, 0.3, 100, 184.0},
		{0.20, 1000, 0.5, 1, 113.6}, {0.45, 1000, 0.3, 1, 107.2}, {0.80, 1000, 0.3, 1, 102.3}, {0.80, 1000, 0.3, 10, 144.8},
		{1.00, 1000, 0.3, 1, 99.3}, {0.10, 1100, 0.3, 1, 78.9}, {0.80, 1100, 0.3, 1, 74.9}, {0.10, 1200, 0.3, 1, 59.9},
		{0.80, 1200, 0.3, 1, 57.0}, {0.10, 900, 0.3, 1, 155.5}, {0.80, 900, 0.3, 1, 146.6}, {0.10, 850, 0.3, 1, 150.0},
		{0.10, 800, 0.3, 1, 137.6}, {0.80, 800, 0.3, 1, 223.8}, {0.80, 750, 0.3, 1, 274.8}, {0.10, 700, 0.3, 1, 185.1}, {0.80, 700, 0.3, 1, 281.2},
	} {
		m := ownSteel(t, c.carbon)
		pa, in := m.FlowStress(c.strain, c.rate, c.t+zeroC)
		near(t, "Shida, MPa", c.t, pa/1e6, c.mpa, 0.06)
		if !in {
			t.Errorf("%+v: said to be out of range", c)
		}
	}
}

// The two branches must meet at tau_d: stress within 1.6 %, which is what the
// published rounding of the constants leaves at 0.07 %C (q there is 1.004 at
// 0.2 %C and 0.990 at 0.8 %C), exponents within 0.001. A wrong sign or
// constant of the transcription is off by several per cent or more.
func TestShidaBranchesMeet(t *testing.T) {
	for c := 0.07; c <= 1.2; c += 0.01 {
		tau := shidaDivide(c)
		sa, ma := shidaAustenite(c, tau)
		sl, ml := shidaLow(c, tau)
		near(t, "stress", c, sl/sa, 1, 0.016)
		near(t, "exponent", c, ml, ma, 0.001)
	}
	_, m := shidaAustenite(0.2, shidaDivide(0.2))
	near(t, "m, austenite, 0.2 %C", 0, m, 0.1012, 1e-4)
	_, m = shidaLow(0.8, shidaDivide(0.8))
	near(t, "m, low, 0.8 %C", 0, m, 0.1244, 1e-4)
}

// Mild steel and iron are softer just below the change to ferrite than just
// above it: Shida's own dip, and Sakai and Ohashi, Tetsu-to-Hagane 67 (1981)
// 2000 (abstract: the stress jumps at A3 and is higher in austenite).
func TestFerriteIsSofter(t *testing.T) {
	for _, n := range []string{"pure iron", "wrought iron", "1018"} {
		m := material(t, n)
		cold, _ := m.FlowStress(0.3, 1, zeroC+810)
		least := math.Inf(1)
		hot := 0.0
		for c := 850.0; c < 950; c++ {
			s, _ := m.FlowStress(0.3, 1, zeroC+c)
			hot = math.Max(hot, s)
			least = math.Min(least, s)
		}
		if n != "1018" && !(cold < hot) || !(least < hot) {
			t.Errorf("%s: %.0f MPa at 810 C, %.0f at most at 850-950 C; softer below the change", n, cold/1e6, hot/1e6)
		}
	}
	hard, _ := material(t, "1080").FlowStress(0.2, 0.5, zeroC+800)
	soft, _ := ownSteel(t, 0.07).FlowStress(0.2, 0.5, zeroC+800)
	near(t, "0.8 %C over 0.07 %C", 800, hard/soft, 1.85, 0.02) // the formula by hand
}

// Measured hot compression of a reinforcing-bar steel, TU Bergakademie
// Freiberg, Institute of Metal Forming (MIT licence, 2025), carbon not stated,
// about 0.2 %. Asked: mean of calculated/measured within 12 %, each within
// 25 %, at strains 0.1 to 0.3, against the mean of the two tests of a condition:
// repeats differ by 3 % on average and 16 % at worst. Nothing is fitted to
// these data.
func TestFlowStressAgainstMeasured(t *testing.T) {
	m := ownSteel(t, 0.20)
	sum, n, low, high := 0.0, 0, math.Inf(1), 0.0
	for _, r := range measuredFlow(t) {
		pa, in := m.FlowStress(r.strain, r.rate, r.tK)
		if !in {
			t.Errorf("%+v: out of the law's range", r)
		}
		ratio := pa / r.pa
		sum, n = sum+ratio, n+1
		low, high = math.Min(low, ratio), math.Max(high, ratio)
		if math.Abs(ratio-1) > 0.25 {
			t.Errorf("%.0f C, %g 1/s, strain %g: %.1f MPa, measured %.1f", r.tK-zeroC, r.rate, r.strain, pa/1e6, r.pa/1e6)
		}
	}
	if n != 15*4 {
		t.Fatalf("%d values read; 15 conditions, 4 strains", n)
	}
	mean := sum / float64(n)
	t.Logf("calculated over measured: mean %.3f, %.2f to %.2f, %d values", mean, low, high, n)
	near(t, "mean ratio", 0, mean, 1, 0.12)
}

type flowPoint struct{ tK, rate, strain, pa float64 }

// measuredFlow reads the curves at strains 0.1, 0.15, 0.2 and 0.3, the mean of
// the two tests of each condition.
func measuredFlow(t *testing.T) []flowPoint {
	t.Helper()
	f, err := os.Open("../../testdata/data/flow_stress_BSt_hot_compression.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	var out []flowPoint
	for i := 1; i+1 < len(all); i += 2 { // two tests of a condition, one after the other
		for j, name := range all[0] {
			text, is := strings.CutPrefix(name, "s_")
			if !is {
				continue
			}
			a, b := all[i], all[i+1]
			if a[0] != b[0] || a[1] != b[1] {
				t.Fatalf("rows %d and %d are not one condition", i, i+1)
			}
			if strain := number(text); strain >= 0.1 && strain <= 0.3 {
				out = append(out, flowPoint{number(a[0]) + zeroC, number(a[1]), strain, (number(a[j]) + number(b[j])) / 2 * 1e6})
			}
		}
	}
	return out
}

// Creep of pure metals at 1 1/s by Frost and Ashby's form, worked out by hand
// (constants from memory): power law and with breakdown, MPa. Tolerance: the
// printed whole number.
func TestCreepTable(t *testing.T) {
	gamma := creep{n: 4.5, a: 4.3e5, d0: 1.8e-5, q: 270e3, mu: 81e9, slope: -0.91, melts: 1810, b: 0.258e-9, low: 800, high: 1700}
	law := func(name string) creep {
		c, is := material(t, name).Flow.law.(creep)
		if !is {
			t.Fatalf("%s has no creep law", name)
		}
		return c
	}
	for _, c := range []struct {
		l             creep
		t, power, sin float64
	}{
		{gamma, 1000, 183, 120}, {gamma, 1100, 114, 86}, {gamma, 1200, 74, 62},
		{law("phosphoric iron"), 800, 80, 69}, {law("phosphoric iron"), 850, 65, 58}, {law("phosphoric iron"), 900, 54, 49},
		{law("nickel"), 1000, 127, 102}, {law("nickel"), 1100, 81, 71}, {law("nickel"), 1200, 54, 50},
		{law("copper"), 700, 132, 88}, {law("copper"), 800, 81, 63}, {law("copper"), 900, 53, 46},
	} {
		c.l.breakdown = 0
		pa, _ := c.l.stress(0.3, 1, c.t+zeroC)
		near(t, c.l.metal+" power law", c.t, pa/1e6, c.power, 0.6)
		c.l.breakdown = 1000
		pa, _ = c.l.stress(0.3, 1, c.t+zeroC)
		near(t, c.l.metal+" with breakdown", c.t, pa/1e6, c.sin, 0.6)
	}
	// Two unlike laws for iron's austenite: creep data and Shida at 0.07 %C,
	// within 16 %, the scatter between published flow stresses of one steel.
	for _, tC := range []float64{1000, 1100, 1200} {
		gamma.breakdown = 1000
		a, _ := gamma.stress(0.3, 1, tC+zeroC)
		b, _ := ownSteel(t, 0.07).FlowStress(0.3, 1, tC+zeroC)
		near(t, "creep over Shida", tC, a/b, 1, 0.16)
	}
}

// Hensel and Spittel's C45 (constants from memory), strain 0.3, 1/s, MPa: a
// second published law for one steel. Tolerance 18 %: as far apart as they
// are, at 900 C.
func TestShidaAgainstHenselSpittel(t *testing.T) {
	m := ownSteel(t, 0.45)
	for _, c := range []struct{ t, mpa float64 }{{900, 129.0}, {1000, 98.6}, {1100, 75.3}, {1150, 65.9}, {1200, 57.6}} {
		pa, _ := m.FlowStress(0.3, 1, c.t+zeroC)
		near(t, "C45, MPa", c.t, pa/1e6, c.mpa, 0.18*pa/1e6)
	}
}

// The user's law is its definition.
func TestUserLaw(t *testing.T) {
	s := 90e6
	m, err := Own(Override{Name: "mine", FlowStress: &s})
	if err != nil {
		t.Fatal(err)
	}
	pa, in := m.FlowStress(0.2, 1, 1373)
	near(t, "at 1/s and 1100 C", 1373, pa, 90e6, 1)
	if !in {
		t.Error("1100 C and 1/s said to be out of range")
	}
	pa, _ = m.FlowStress(0.2, 8, 1250)
	near(t, "at 8/s and 1250 K", 1250, pa, 90e6*math.Pow(8, 0.13)*math.Exp(5000.0/1250-5000.0/1373), 1)
	near(t, "exponent", 1250, m.RateExponent(0.2, 8, 1250), 0.13, 1e-6)
}

// The named laws at a point worked out from their definitions.
func TestNamedLaws(t *testing.T) {
	m, err := Own(Override{Name: "mine", FlowLaw: "sinh", FlowConstants: map[string]float64{"a": 5.977e9, "alpha": 0.01155e-6, "n": 4.458, "q": 274427}})
	if err != nil {
		t.Fatal(err)
	}
	// Medina and Hernandez, Acta Mater. 44 (1996) 137, 0.15C-0.74Mn-0.21Si,
	// peak stress at 1/s, MPa (constants partly from memory); printed digits
	for _, c := range []struct{ t, mpa float64 }{{900, 170.9}, {1000, 130.6}, {1100, 98.9}, {1200, 74.9}} {
		pa, _ := m.FlowStress(0.3, 1, c.t+zeroC)
		near(t, "Medina and Hernandez", c.t, pa/1e6, c.mpa, 0.1)
	}
	if m, err = Own(Override{Name: "x", FlowLaw: "shida", FlowConstants: map[string]float64{"carbon": 0.8, "factor": 1.1}}); err != nil {
		t.Fatal(err)
	}
	pa, _ := m.FlowStress(0.3, 1, zeroC+1000)
	near(t, "Shida, MPa", 1000, pa/1e6, 1.1*102.3, 0.06)
	if m, err = Own(Override{Name: "x", FlowLaw: "power", FlowConstants: map[string]float64{"stress": 80e6, "m": 0.2, "b": 4000}}); err != nil {
		t.Fatal(err)
	}
	pa, _ = m.FlowStress(0.3, 2, 1300)
	near(t, "power", 1300, pa, 80e6*math.Pow(2, 0.2)*math.Exp(4000.0/1300-4000.0/1373), 1)
	for _, o := range []Override{
		{Name: "x", FlowLaw: "magic"}, {Name: "x", FlowLaw: "power"},
		{Name: "x", FlowLaw: "power", FlowConstants: map[string]float64{"stress": -1, "m": 0.1, "b": 5000}},
		{Name: "x", FlowLaw: "shida", FlowConstants: map[string]float64{"carbon": 0.2, "factor": 1, "n": 3}},
	} {
		if _, err := Own(o); err == nil {
			t.Errorf("%+v passed", o)
		}
	}
}

// 18-8 stainless peaks at 1.5 to 1.8 times plain C-Mn steel at 1000 to 1100 C
// (McQueen and Ryan 2002, from memory); nickel is about as strong as the
// austenite beside it, 0.8 to 0.95 of it, by the two laws.
func TestStrengthBesidePlainSteel(t *testing.T) {
	for _, tC := range []float64{1000, 1050, 1100} {
		plain, _ := material(t, "1018").FlowStress(0.3, 1, tC+zeroC)
		for _, c := range []struct {
			name      string
			low, high float64
		}{{"304", 1.5, 1.8}, {"nickel", 0.8, 0.95}, {"wrought iron", 0.9, 1.05}, {"1084", 0.9, 1.05}} {
			pa, _ := material(t, c.name).FlowStress(0.3, 1, tC+zeroC)
			if s := within(pa/plain, c.low, c.high); s != "" {
				t.Errorf("%s over 1018 at %g C: %s", c.name, tC, s)
			}
		}
	}
}

// Pure iron's law says which of its two halves is in range.
func TestTwoPhaseRange(t *testing.T) {
	m := material(t, "pure iron")
	for tC, want := range map[float64]bool{500: false, 650: true, 850: true, 912: true, 1100: true, 1250: false} {
		if _, in := m.FlowStress(0.3, 1, tC+zeroC); in != want {
			t.Errorf("pure iron at %g C: in range %v; %v", tC, in, want)
		}
	}
}

// The rate exponent is Shida's m.
func TestRateExponent(t *testing.T) {
	m := ownSteel(t, 0.8)
	near(t, "0.8 %C", 1000, m.RateExponent(0.3, 1, zeroC+1000), 0.1510, 1e-4)
	near(t, "0.8 %C", 700, m.RateExponent(0.3, 1, zeroC+700), 0.1291, 1e-4)
}

// Outside the range the law answers, and says that it is outside.
func TestExtrapolationIsFlagged(t *testing.T) {
	for _, m := range allMaterials(t) {
		for _, c := range []struct{ strain, rate, t float64 }{{0.3, 1, 20}, {0.3, 1, 1400}, {0.3, 0, 1000}, {0.3, 1e4, 1000}, {0.3, -1, 1000}, {0.3, 1, -100}} {
			pa, in := m.FlowStress(c.strain, c.rate, c.t+zeroC)
			if in || !(pa > 0) || math.IsInf(pa, 0) {
				t.Errorf("%s at %+v: %g Pa, in range %v; positive, finite, out of range", m.Name, c, pa, in)
			}
		}
		if pa, in := m.FlowStress(math.NaN(), 1, 1300); pa != 0 || in {
			t.Errorf("%s: no number gives %g, %v", m.Name, pa, in)
		}
		if m.FlowRange() == "" {
			t.Errorf("%s: no words for the range", m.Name)
		}
	}
	if _, in := material(t, "1084").FlowStress(0.9, 1, 1300); in {
		t.Error("strain 0.9 said to be in range")
	}
}

func ownSteel(t *testing.T, carbon float64) Material {
	t.Helper()
	m, err := Own(Override{Name: "steel", Carbon: &carbon})
	if err != nil {
		t.Fatal(err)
	}
	return m
}
