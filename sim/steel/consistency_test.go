package steel

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// rule is one thing every material must keep to.
type rule struct {
	name  string
	broke func(Material) string // "" when kept
}

// rules of sense; the bounds are those of solid iron, nickel and copper alloys
// with room to spare.
var rules = []rule{
	{"density 7000 to 9000 kg/m3", func(m Material) string { return within(m.Density, 7000, 9000) }},
	{"emissivity 0.2 to 1", func(m Material) string { return within(m.Emissivity, 0.2, 1) }},
	{"first melting 1000 to 1540 C", func(m Material) string { return within(m.Solidus-zeroC, 1000, 1540) }},
	{"burns below melting", func(m Material) string { return within(m.Solidus-m.BurnLimit(), 1, 200) }},
	{"latent heat 0 to 90 kJ/kg", func(m Material) string { return within(m.Latent, 0, 90e3) }},
	{"every knot a number", allNumbers},
	{"conductivity 10 to 420 W/mK", conductivityRule},
	{"conductivity covers 100 to 1000 C or more", conductivityCovers},
	{"heat rises, 380 to 5000 J/kgK", heatRises},
	{"enthalpy knots 10 K apart at most, -20 to 1500 C", knotsRule},
	{"no steps in the heat capacity", noSteps},
	{"enthalpy zero at 20 C", func(m Material) string { return within(m.Enthalpy(roomK, true), -1, 1) }},
	{"cooling branch at or above heating", branchesOrdered},
	{"branches climb from 0 to 1 without a jump", branchesClimb},
	{"branches equal outside 150 to 1020 C", branchesMeet},
	{"strength falls with heat in one phase", strengthFalls},
	{"strength rises with rate and strain", strengthRises},
	{"facts and words", func(m Material) string {
		if len(m.Facts) < 5 || len(m.Assumed) == 0 || m.Title == "" {
			return fmt.Sprintf("%d facts, %d assumptions, title %q", len(m.Facts), len(m.Assumed), m.Title)
		}
		return ""
	}},
}

// The grid: every material against every rule.
func TestEveryMaterialKeepsEveryRule(t *testing.T) {
	for _, m := range allMaterials(t) {
		for _, r := range rules {
			if s := r.broke(m); s != "" {
				t.Errorf("%s: %s: %s", m.Name, r.name, s)
			}
		}
	}
}

// The same for steels of any carbon: nothing special about the ones listed.
func TestOwnSteelsKeepEveryRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0, 1.4).Draw(t, "carbon")
		like := rapid.SampledFrom([]string{"", "1018", "5160", "15N20", "52100", "wrought iron"}).Draw(t, "like")
		m, err := Own(Override{Name: "x", Like: like, Carbon: &c})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rules {
			if s := r.broke(m); s != "" {
				t.Fatalf("like %q, %.3f %%C: %s: %s", like, c, r.name, s)
			}
		}
	})
}

func within(x, low, high float64) string {
	if x >= low && x <= high {
		return ""
	}
	return fmt.Sprintf("%g; %g to %g", x, low, high)
}

func allNumbers(m Material) string {
	for i, c := range []Curve{m.Conductivity, m.Base, m.OnHeating, m.OnCooling} {
		for j := range c.T {
			if x := c.T[j] + c.V[j]; math.IsNaN(x) || math.IsInf(x, 0) {
				return fmt.Sprintf("curve %d, knot %d: %g at %g K", i, j, c.V[j], c.T[j])
			}
		}
	}
	return ""
}

func conductivityRule(m Material) string {
	for c := -20.0; c <= 1400; c++ {
		if s := within(m.Conductivity.At(c+zeroC), 10, 420); s != "" {
			return fmt.Sprintf("at %g C: %s", c, s)
		}
	}
	return ""
}

func conductivityCovers(m Material) string {
	k := m.Conductivity.T
	if k[0] > zeroC+100 || k[len(k)-1] < zeroC+900 {
		return fmt.Sprintf("%.0f to %.0f C", k[0]-zeroC, k[len(k)-1]-zeroC)
	}
	return ""
}

func heatRises(m Material) string {
	b := m.Base
	for i := 1; i < len(b.T); i++ {
		cp := (b.V[i] - b.V[i-1]) / (b.T[i] - b.T[i-1])
		low := 400.0
		if m.Name == "copper" {
			low = 380 // copper's published 385 at 300 K
		}
		if s := within(cp, low, 5000); s != "" {
			return fmt.Sprintf("at %.1f C: %s", b.T[i]-zeroC, s)
		}
	}
	return ""
}

func knotsRule(m Material) string {
	b := m.Base
	if b.T[0] > zeroC-20 || b.T[len(b.T)-1] < zeroC+1500 {
		return fmt.Sprintf("%.0f to %.0f C", b.T[0]-zeroC, b.T[len(b.T)-1]-zeroC)
	}
	for i := 1; i < len(b.T); i++ {
		if !(b.T[i]-b.T[i-1] <= 10.001) || !(b.T[i] > b.T[i-1]) {
			return fmt.Sprintf("%.2f K then %.2f K", b.T[i-1], b.T[i])
		}
	}
	return ""
}

// noSteps: from piece to piece the heat capacity changes by no more than 1.6
// times; the largest are the end of pearlite at 735 C, 820 to 580, and the end
// of the table of 13 % chromium steel at 800 C, 932 to 591.
func noSteps(m Material) string {
	b := m.Base
	for i := 2; i < len(b.T); i++ {
		a := (b.V[i-1] - b.V[i-2]) / (b.T[i-1] - b.T[i-2])
		c := (b.V[i] - b.V[i-1]) / (b.T[i] - b.T[i-1])
		if !(math.Max(a/c, c/a) <= 1.6) {
			return fmt.Sprintf("%.0f to %.0f J/kgK at %.1f C", a, c, b.T[i-1]-zeroC)
		}
	}
	return ""
}

func branchesOrdered(m Material) string {
	if m.Latent == 0 {
		return ""
	}
	for c := 0.0; c <= 1400; c += 0.25 {
		if up, down := m.OnHeating.At(c+zeroC), m.OnCooling.At(c+zeroC); !(up <= down+1e-12) {
			return fmt.Sprintf("at %g C: %g heating, %g cooling", c, up, down)
		}
	}
	return ""
}

// branchesClimb: no piece is steeper than a tenth per kelvin.
func branchesClimb(m Material) string {
	if m.Latent == 0 {
		return ""
	}
	for _, c := range []Curve{m.OnHeating, m.OnCooling} {
		n := len(c.T)
		if n < 8 || !(math.Abs(c.V[0]) <= 1e-12) || !(math.Abs(c.V[n-1]-1) <= 1e-12) {
			return fmt.Sprintf("%d knots from %g to %g", n, c.V[0], c.V[n-1])
		}
		for i := 1; i < n; i++ {
			if slope := (c.V[i] - c.V[i-1]) / (c.T[i] - c.T[i-1]); !(slope >= 0 && slope <= 0.1) {
				return fmt.Sprintf("%g per K at %.1f C", slope, c.T[i]-zeroC)
			}
		}
	}
	return ""
}

func branchesMeet(m Material) string {
	for c := -20.0; c <= 1400; c++ {
		if c > 150 && c < 1020 {
			continue
		}
		if d := m.Enthalpy(c+zeroC, true) - m.Enthalpy(c+zeroC, false); d != 0 {
			return fmt.Sprintf("%g J/kg apart at %g C", d, c)
		}
	}
	return ""
}

// strengthFalls: outside the interval in which ferrite and austenite share the
// metal. For Shida's law that is between the lowest point of its lower branch
// (30 K lower where slow rates shift it) and tau_d.
func strengthFalls(m Material) string {
	from, to := math.Inf(1), math.Inf(1)
	top := zeroC + 1330
	switch l := m.Flow.law.(type) {
	case shida:
		if !l.austenite {
			from = 1000*0.95*(l.carbon+0.49)/(l.carbon+0.42) - 30
			to = 1000*shidaDivide(l.carbon) + 1
		}
	case creep:
		top = math.Min(top, 0.99*l.melts-5) // held from there on
	case twoPhase:
		from, to = l.at-l.width/2, l.at+l.width/2
	}
	for _, rate := range []float64{0.1, 1, 10, 100} {
		for tK := zeroC + 620; tK < top; tK += 5 {
			if tK+5 > from && tK < to {
				continue
			}
			a, _ := m.FlowStress(0.2, rate, tK)
			b, _ := m.FlowStress(0.2, rate, tK+5)
			if !(b < a) {
				return fmt.Sprintf("%g to %g Pa at %.0f C, %g 1/s", a, b, tK-zeroC, rate)
			}
		}
	}
	return ""
}

func strengthRises(m Material) string {
	for tK := zeroC + 500; tK < zeroC+1330; tK += 10 {
		for _, rate := range []float64{0.1, 1, 10, 100} {
			a, _ := m.FlowStress(0.2, rate, tK)
			b, _ := m.FlowStress(0.2, 2*rate, tK)
			c, _ := m.FlowStress(0.25, rate, tK)
			x := m.RateExponent(0.2, rate, tK)
			if !(b > a && c >= a && x >= 0.04 && x <= 0.35) {
				return fmt.Sprintf("%g Pa, twice the rate %g, more strain %g, exponent %.3f at %.0f C", a, b, c, x, tK-zeroC)
			}
		}
	}
	return ""
}
