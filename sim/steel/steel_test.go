package steel

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestLookup(t *testing.T) {
	for given, want := range map[string]string{
		"1084": "1084", "C80": "1080", "c80": "1080", "75Ni8": "15N20", "15n20": "15N20", "1.2235": "80CrV2", "80 CrV 2": "80CrV2",
		"mild": "1018", "Mild Steel": "1018", "AISI 1095": "1095", "EN carbon steel": "EN 1993-1-2 carbon steel",
		"en 1993-1-2 carbon steel": "EN 1993-1-2 carbon steel", "wrought": "wrought iron", "304": "304", "w-2": "W2",
	} {
		m, err := Lookup(given)
		if err != nil || m.Name != want {
			t.Errorf("%q: got %q, %v; want %q", given, m.Name, err, want)
		}
	}
}

func TestNamesAreTold(t *testing.T) {
	seen := map[string]string{}
	for _, g := range grades {
		for _, n := range append([]string{g.name}, g.aliases...) {
			if other, twice := seen[plain(n)]; twice {
				t.Errorf("%q names both %s and %s", n, other, g.name)
			}
			seen[plain(n)] = g.name
		}
	}
	_, err := Lookup("1085")
	if err == nil || !strings.Contains(err.Error(), "1084") || !strings.Contains(err.Error(), `"1085"`) {
		t.Errorf("1085: %v; names what was given and 1084", err)
	}
	if _, err := Lookup(""); err == nil {
		t.Error("an empty name passed")
	}
	if got := Nearest("80CrV3"); len(got) == 0 || got[0] != "80CrV2" {
		t.Errorf("nearest to 80CrV3: %v; 80CrV2 first", got)
	}
	if len(Nearest("unobtainium")) != len(Names()) {
		t.Error("nothing near: all names are listed")
	}
}

// A caller's changes stay with the caller.
func TestLookupHandsOutCopies(t *testing.T) {
	a := material(t, "1084")
	a.Base.V[3], a.Facts[0].Value, a.Composition[0].Percent, a.OnHeating.V[2] = 1, 1, 1, 7
	b := material(t, "1084")
	if b.Base.V[3] == 1 || b.Facts[0].Value == 1 || b.Composition[0].Percent == 1 || b.OnHeating.V[2] == 7 {
		t.Error("a change reached the next caller")
	}
	if d := cmp.Diff(Describe(material(t, "1018")), Describe(material(t, "1018"))); d != "" {
		t.Errorf("facts change from call to call: %s", d)
	}
}

func TestCurve(t *testing.T) {
	c := Curve{T: []float64{300, 400, 600}, V: []float64{10, 20, 0}}
	for _, p := range [][2]float64{{0, 10}, {300, 10}, {350, 15}, {400, 20}, {500, 10}, {600, 0}, {1e9, 0}} {
		near(t, "curve", p[0], c.At(p[0]), p[1], 1e-12)
	}
	if v := c.At(math.NaN()); v != 10 {
		t.Errorf("no number: %g; the first value", v)
	}
	if (Curve{}).At(300) != 0 {
		t.Error("an empty curve is not 0")
	}
}

// A constant heat capacity gives a straight line, a straight one a parabola.
func TestOwnHeat(t *testing.T) {
	k := Curve{T: []float64{293.15}, V: []float64{30}}
	c := Curve{T: []float64{293.15}, V: []float64{650}}
	rho := 7850.0
	m, err := Own(Override{Name: "slab", Density: &rho, Conductivity: &k, HeatCapacity: &c})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "H", 1200, m.Enthalpy(1473.15, true), 650*1180, 1e-6)
	near(t, "H", 0, m.Enthalpy(273.15, false), -650*20, 1e-6)
	near(t, "k", 1200, m.Conductivity.At(1473.15), 30, 0)
	if m.Latent != 0 || m.Density != rho {
		t.Errorf("latent %g, density %g; 0, %g", m.Latent, m.Density, rho)
	}
	c = Curve{T: []float64{293.15, 1293.15}, V: []float64{400, 800}}
	if m, err = Own(Override{Name: "x", HeatCapacity: &c}); err != nil {
		t.Fatal(err)
	}
	for tK := 300.0; tK < 1290; tK += 7.3 { // exact: 400 s + 0.2 s^2; the curve is off by 0.005 K at most
		s := tK - 293.15
		near(t, "H", tK, m.Enthalpy(tK, true), 400*s+0.2*s*s, 0.005*800)
	}
	for _, a := range m.Assumed {
		if strings.Contains(a, "transformation") {
			t.Errorf("heat is given, yet: %s", a)
		}
	}
}

// The standard's own curve, given as a table of heat capacities.
func TestOwnHeatFromATable(t *testing.T) {
	var c Curve
	for x := 20.0; x <= 1200; x += 1 {
		c.T, c.V = append(c.T, x+zeroC), append(c.V, ec3HeatCapacity(x))
	}
	m, err := Own(Override{Name: "x", HeatCapacity: &c})
	if err != nil {
		t.Fatal(err)
	}
	// the table's own straight pieces overshoot the peak by 0.1 %
	near(t, "H", 1200, m.Enthalpy(1473.15, true), 827063.843, 0.002*827063.843)
}

func TestOwn(t *testing.T) {
	c, e := 0.30, 0.7
	m, err := Own(Override{Name: "shop steel", Like: "mild", Carbon: &c, Emissivity: &e})
	if err != nil {
		t.Fatal(err)
	}
	if m.Name != "shop steel" || m.Carbon != 0.30 || m.percent("C") != 0.30 || m.percent("Mn") != 0.75 || m.Emissivity != 0.7 {
		t.Errorf("got %s %g %v %g", m.Name, m.Carbon, m.Composition, m.Emissivity)
	}
	near(t, "solidus", 0, m.Solidus-zeroC, 1525-178*0.30, 0.01)
	near(t, "latent", 0, m.Latent, 82e3*0.30/0.77+18.14e3*(1-0.30/0.77), 1)
	minus, nan := -1.0, math.NaN()
	bad := Curve{T: []float64{400, 300}, V: []float64{1, 1}}
	zero := Curve{T: []float64{300}, V: []float64{0}}
	short := Curve{T: []float64{300, 400}, V: []float64{500}}
	for _, o := range []Override{
		{}, {Name: "x", Like: "cheese"}, {Name: "x", Carbon: &minus}, {Name: "x", Density: &minus}, {Name: "x", Density: &nan},
		{Name: "x", Emissivity: &minus}, {Name: "x", FlowStress: &minus}, {Name: "x", Conductivity: &bad}, {Name: "x", HeatCapacity: &zero},
		{Name: "x", HeatCapacity: &short}, {Name: "x", Conductivity: &Curve{}}, {Name: "x", FlowStress: &c, FlowLaw: "shida"},
	} {
		if _, err := Own(o); err == nil || !strings.Contains(err.Error(), "material") {
			t.Errorf("%+v: %v; an error that says what is accepted", o, err)
		}
	}
}

// Nothing accepted gives a NaN, an infinity or a negative stress.
func TestNoNaN(t *testing.T) {
	names := Names()
	rapid.Check(t, func(t *rapid.T) {
		m, err := Lookup(rapid.SampledFrom(names).Draw(t, "name"))
		if err != nil {
			t.Fatal(err)
		}
		tK := rapid.Float64Range(0, 4000).Draw(t, "K")
		strain := rapid.Float64Range(-3, 3).Draw(t, "strain")
		rate := rapid.Float64Range(-10, 1e5).Draw(t, "rate")
		s, _ := m.FlowStress(strain, rate, tK)
		x := m.RateExponent(strain, rate, tK)
		h := m.Enthalpy(tK, true) + m.Enthalpy(tK, false) + m.Conductivity.At(tK)
		if math.IsNaN(s+x+h) || math.IsInf(s+x+h, 0) || s <= 0 {
			t.Fatalf("%s: stress %g, exponent %g, heat %g", m.Name, s, x, h)
		}
	})
}

// The table of heat colours as published (Chapman 1972, as quoted), and the
// half-width of 60 K that tables differ by.
func TestColours(t *testing.T) {
	for _, c := range []struct {
		t    float64
		want string
	}{{20, "black"}, {500, "black red"}, {650, "very dark red"}, {750, "dark red"}, {850, "cherry red"}, {900, "light cherry"}, {1050, "orange"}, {1150, "yellow"}, {1300, "yellow white"}, {1500, "white"}} {
		if got := ColourAt(c.t + zeroC); got != c.want {
			t.Errorf("%g C: %q; %q", c.t, got, c.want)
		}
	}
	for _, c := range []struct {
		name      string
		mid, half float64
	}{{"Cherry red", 842.5, 60}, {"yellow", 1175.5, 82.5}, {"orange", 1037, 60}, {"bright orange", 1199, 60}, {" dull-red heat", 699, 60}, {"white", 1375, 60}} {
		mid, half, err := ColourByName(c.name)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, 0, mid-zeroC, c.mid, 1e-9)
		near(t, c.name, 0, half, c.half, 1e-9)
	}
	if _, _, err := ColourByName("mauve"); err == nil || !strings.Contains(err.Error(), "cherry red") || !strings.Contains(err.Error(), "bright orange") {
		t.Errorf("mauve: %v; an error that lists the names", err)
	}
	last := 0.0
	for _, c := range Colours() {
		if c.Low < last || c.High <= c.Low || c.Source != "chapman" {
			t.Errorf("%+v after %g K", c, last)
		}
		last = c.High
	}
	seen := map[string]bool{}
	for _, n := range ColourNames() {
		if seen[n] {
			t.Errorf("%q stands in two tables", n)
		}
		seen[n] = true
	}
}
