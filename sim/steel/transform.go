package steel

import "math"

// ramp rises from 0 at a to 1 at b (K) like 3x^2 - 2x^3, in ten straight
// pieces.
func ramp(a, b float64) Curve {
	return sample(spaced(a, b, (b-a)/10), func(t float64) float64 {
		x := (t - a) / (b - a)
		return x * x * (3 - 2*x)
	})
}

// lever is the share of the ferrite (of a steel whose pearlite share is p)
// that has become austenite at tK, by the lever rule with a straight A3 line
// from (a1, 0.77 %C) to (a3, the steel's carbon). p is not taken below 0.1:
// in purer iron the rule alone would put all of it at one temperature. A steel
// that is all pearlite has no ferrite, and the answer is that of the last.
func lever(p, a1, a3, tK float64) float64 {
	switch {
	case tK <= a1:
		return 0
	case tK >= a3:
		return 1
	}
	p = math.Max(0.1, math.Min(p, 0.99))
	limit := p + (1-p)*(a3-tK)/(a3-a1) // carbon of the austenite over 0.77
	return (p/limit - p) / (1 - p)
}

// ac1Andrews is Andrews, J. Iron Steel Inst. 203 (1965) 721: the start of
// austenite on heating, K, composition in wt %.
func ac1Andrews(m Material) float64 {
	p := m.percent
	return zeroC + 723 - 10.7*p("Mn") - 16.9*p("Ni") + 29.1*p("Si") + 16.9*p("Cr") + 6.38*p("W")
}

// ac3Andrews is the end of ferrite on heating, K, same paper, for less than
// 0.6 %C: 910 - 203 sqrt(C) - 15.2 Ni + 44.7 Si + 104 V + 31.5 Mo + 13.1 W -
// (30 Mn + 11 Cr + 20 Cu - 700 P). Phosphorus raises it.
func ac3Andrews(m Material) float64 {
	p := m.percent
	return zeroC + 910 - 203*math.Sqrt(p("C")) - 15.2*p("Ni") + 44.7*p("Si") + 104*p("V") + 13.1*p("W") -
		30*p("Mn") - 11*p("Cr") + 700*p("P")
}

// transformation sets Latent and both branches of a steel with the given
// share of pearlite and the heats of its pearlite and its ferrite, J/kg.
// Heating: pearlite over 30 K from Ac1, ferrite by the lever rule to Ac3.
// Cooling: ferrite by the lever rule from Ar3 to Ar1, then pearlite where
// bare steel was measured to stall.
func (b *builder) transformation(share, pearlite, ferrite float64) {
	ac1 := ac1Andrews(b.m)
	b.noteAndrews("Ac1", ac1)
	heated := ac1 + b.number("transformation", "width on heating")
	shift := b.own("cooling shift", 0)
	ar1 := b.number("transformation", "cooling start") + shift
	done := b.number("transformation", "cooling end") + shift
	ac3, ar3 := heated, ar1
	if share < 1 {
		ac3 = math.Max(ac3Andrews(b.m), heated+10)
		ar3 = ac3 - b.number("transformation", "ferrite undercooling")
		b.noteAndrews("Ac3", ac3)
	}
	b.m.Latent = pearlite + ferrite
	mix := func(p, f float64) float64 { return (pearlite*p + ferrite*f) / b.m.Latent }
	up, down := ramp(ac1, heated), ramp(done, ar1)
	b.m.OnHeating = sample(unique(append(append([]float64{}, up.T...), bunched(ac1, ac3)...)), func(t float64) float64 {
		return mix(up.At(t), lever(share, ac1, ac3, t))
	})
	b.m.OnCooling = sample(unique(append(append([]float64{}, down.T...), bunched(ar1, ar3)...)), func(t float64) float64 {
		return mix(down.At(t), lever(share, ar1, ar3, t))
	})
	b.assume("transformation of %s placed at %.0f to %.0f C on heating by Andrews' formulas and at %.0f to %.0f C on cooling, the stall measured on bare steel beams; cooling rate and alloy move it",
		b.g.name, ac1-zeroC, ac3-zeroC, ar3-zeroC, done-zeroC)
}

func (b *builder) noteAndrews(what string, tK float64) {
	b.note(Fact{Property: what, Value: round(tK-zeroC, 0), Unit: "C", Source: "andrews",
		Locator: "formula, from the composition", Status: "read in excerpt"})
}

// bunched gives knots from a to b that crowd toward b, where the lever rule
// of a low-carbon steel is steep.
func bunched(a, b float64) []float64 {
	if b <= a {
		return nil
	}
	const n = 24
	out := make([]float64, n+1)
	for i := range out {
		x := 1 - float64(i)/n
		out[i] = b - (b-a)*x*x*x
	}
	return out
}
