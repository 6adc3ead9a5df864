package steel

import "math"

// ec3Heat is EN 1993-1-2:2005 3.4.1.2 as one reversible curve.
func ec3Heat(b *builder) {
	knots := append(spaced(coldestK, roomK, 10), spaced(roomK, zeroC+600, 5)...)
	knots = append(knots, spaced(zeroC+600, zeroC+715, 1)...)
	knots = append(knots, spaced(zeroC+715, zeroC+765, 0.25)...)
	knots = append(knots, spaced(zeroC+765, zeroC+900, 1)...)
	knots = append(knots, spaced(zeroC+900, hottestK, 5)...)
	b.m.Base = sample(unique(knots), ec3Enthalpy)
	b.note(Fact{Property: "heat capacity", At: "20 C", Value: round(ec3HeatCapacity(20), 2), Unit: "J/kgK",
		Source: "en1993", Locator: "3.4.1.2, formulas", Status: "read in excerpt"})
	b.assume("heat capacity above 1200 C held at 650 J/kgK, where the standard ends")
}

// ec3HeatCapacity is EN 1993-1-2:2005 3.4.1.2, J/kgK, t in C; held outside 20
// to 1200.
func ec3HeatCapacity(t float64) float64 {
	switch {
	case t < 20:
		return ec3HeatCapacity(20)
	case t < 600:
		return 425 + 7.73e-1*t - 1.69e-3*t*t + 2.22e-6*t*t*t
	case t < 735:
		return 666 + 13002/(738-t)
	case t < 900:
		return 545 + 17820/(t-731)
	}
	return 650
}

// ec3Enthalpy is the integral of ec3HeatCapacity from 20 C in J/kg, in closed
// form; tK in K.
func ec3Enthalpy(tK float64) float64 {
	cold := func(t float64) float64 { return 425*t + 0.3865*t*t - 1.69e-3/3*t*t*t + 2.22e-6/4*t*t*t*t }
	low := func(t float64) float64 { return 666*t - 13002*math.Log(738-t) }
	high := func(t float64) float64 { return 545*t + 17820*math.Log(t-731) }
	t := tK - zeroC
	if t < 20 {
		return ec3HeatCapacity(20) * (t - 20)
	}
	h := cold(math.Min(t, 600)) - cold(20)
	if t > 600 {
		h += low(math.Min(t, 735)) - low(600)
	}
	if t > 735 {
		h += high(math.Min(t, 900)) - high(735)
	}
	if t > 900 {
		h += 650 * (t - 900)
	}
	return h
}

// ec3Conducts is EN 1993-1-2:2005 3.4.1.3, W/mK: 54 - 0.0333 t below 800 C
// and 27.3 above; the published step of 0.06 at 800 C is kept.
func ec3Conducts(b *builder) Curve {
	b.note(Fact{Property: "conductivity", At: "20 C", Value: 53.334, Unit: "W/mK",
		Source: "en1993", Locator: "3.4.1.3, 54 - 0.0333 t below 800 C", Status: "read in excerpt"})
	b.note(Fact{Property: "conductivity", At: "800 C", Value: 27.3, Unit: "W/mK",
		Source: "en1993", Locator: "3.4.1.3", Status: "read in excerpt"})
	b.assume("conductivity above 1200 C held at 27.3 W/mK, where the standard ends")
	return Curve{
		T: []float64{roomK, zeroC + 800 - 1e-6, zeroC + 800, hottestK},
		V: []float64{54 - 3.33e-2*20, 54 - 3.33e-2*800, 27.3, 27.3},
	}
}

// stainlessHeat is EN 1993-1-2:2005 annex C for 18-8 steel, held outside 20
// to 1200 C: no transformation.
func stainlessHeat(b *builder) {
	h := func(t float64) float64 { return 450*t + 0.140*t*t - 2.91e-4/3*t*t*t + 1.34e-7/4*t*t*t*t }
	b.m.Base = sample(unique(append(spaced(coldestK, roomK, 10), spaced(roomK, hottestK, 5)...)), func(tK float64) float64 {
		t := tK - zeroC
		in := math.Max(20, math.Min(1200, t))
		return h(in) - h(20) + stainlessHeatCapacity(t)*(t-in)
	})
	b.note(Fact{Property: "heat capacity", At: "20 C", Value: round(stainlessHeatCapacity(20), 2), Unit: "J/kgK",
		Source: "en1993", Locator: "annex C, formula", Status: "read in excerpt"})
	b.assume("heat capacity and conductivity above 1200 C held at the value there, where the standard ends")
}

func stainlessHeatCapacity(t float64) float64 {
	t = math.Max(20, math.Min(1200, t))
	return 450 + 0.280*t - 2.91e-4*t*t + 1.34e-7*t*t*t
}

// stainlessConducts is EN 1993-1-2:2005 annex C: 14.6 + 0.0127 t W/mK.
func stainlessConducts(b *builder) Curve {
	b.note(Fact{Property: "conductivity", At: "20 C", Value: 14.854, Unit: "W/mK",
		Source: "en1993", Locator: "annex C, 14.6 + 0.0127 t", Status: "read in excerpt"})
	return Curve{T: []float64{roomK, zeroC + 1200}, V: []float64{14.6 + 1.27e-2*20, 14.6 + 1.27e-2*1200}}
}

// tableHeat integrates a published heat capacity: one curve.
func tableHeat(table string) func(*builder) {
	return func(b *builder) { b.m.Base = integrate(b.curve(table, "heat capacity")) }
}

// ferriteHeat is iron that never becomes austenite: the bcc line throughout.
func ferriteHeat(b *builder) {
	b.m.Base = sample(ironKnots(), ferriteEnthalpy)
	b.noteIron("bcc iron at every heat")
}

func (b *builder) noteIron(what string) {
	b.note(Fact{Property: "heat capacity", At: "20 C", Value: ironColdHeat, Unit: "J/kgK",
		Source: "dinsdale", Locator: what, Status: "read in excerpt"})
}

// ironKnots is every 5 K, 1 K about the Curie point.
func ironKnots() []float64 {
	k := append(spaced(coldestK, 1013, 5), spaced(1013, 1073, 1)...)
	return unique(append(k, spaced(1073, hottestK, 5)...))
}

// ironHeat is pure iron: ferrite to 911.7 C, austenite above, and the
// transformation apart. Above 1394 C delta iron is left out.
func ironHeat(b *builder) {
	at := b.number("transformation", "iron temperature")
	b.m.Latent = b.number("transformation", "iron heat")
	b.m.Base = sample(unique(append(ironKnots(), at)), func(tK float64) float64 { return ironBase(tK, at) })
	b.noteIron("bcc iron to 911.7 C, fcc iron above")
	b.m.OnHeating = ramp(at, b.number("transformation", "iron heating end"))
	b.m.OnCooling = ramp(b.number("transformation", "iron cooling end"), b.number("transformation", "iron cooling start"))
	b.assume("on cooling iron gives its transformation heat back between 900 and 860 C")
}

// ironBase is iron's enthalpy without the transformation at atK.
func ironBase(tK, atK float64) float64 {
	if tK <= atK {
		return ferriteEnthalpy(tK)
	}
	return ferriteEnthalpy(atK) + austeniteRise(atK, tK)
}

// ironCarbonHeat is a plain or low-alloy steel by the rule of mixtures:
// ferrite has the curve of pure iron, pearlite that of 0.8 %C steel (with
// carbon above 0.8 % moving toward the 1.2 %C steel), each with its own
// transformation heat.
func ironCarbonHeat(b *builder) {
	tr := func(p string) float64 { return b.number("transformation", p) }
	share := math.Min(b.m.Carbon/tr("eutectoid carbon"), 1)
	at, iron := tr("iron temperature"), tr("iron heat")
	pearlite := b.pearlite()
	knots := append(ironKnots(), at, zeroC+735)
	b.m.Base = sample(unique(knots), func(tK float64) float64 {
		return share*pearlite(tK) + (1-share)*ironBase(tK, at)
	})
	if share < 1 {
		b.noteIron("bcc and fcc iron, for the ferrite")
	}
	b.transformation(share, share*tr("eutectoid heat"), (1-share)*iron)
	b.assume("heat of %s mixed from pure iron and 0.8 %%C steel by its carbon; alloys change it by a few per cent at most", b.g.name)
}

// pearlite returns the enthalpy of pearlitic steel without the transformation
// heat, J/kg from 20 C: the published means to 700 C, a straight piece to
// 735 C, then the line of austenite.
func (b *builder) pearlite() func(tK float64) float64 {
	const breakK = zeroC + 735
	one := func(table string) func(float64) float64 {
		line := meanHeat(b.curve(table, "mean heat capacity from 20 C"))
		cp := b.number(table, "heat capacity before transformation")
		top := line.x[len(line.x)-1]
		return func(tK float64) float64 {
			h := line.at(math.Min(tK, top)) + cp*math.Max(0, math.Min(tK, breakK)-top)
			if tK > breakK {
				h += austeniteRise(breakK, tK)
			}
			return h
		}
	}
	eutectoid := one("plain 0.8 %C")
	if b.m.Carbon <= 0.8 {
		return eutectoid
	}
	rich := one("plain 1.2 %C")
	w := math.Min((b.m.Carbon-0.8)/0.4, 1)
	return func(tK float64) float64 { return (1-w)*eutectoid(tK) + w*rich(tK) }
}

// meanHeat turns mean heat capacities from 20 C into an enthalpy line through
// every published point.
func meanHeat(c Curve) smooth {
	x, y := []float64{roomK}, []float64{0}
	for i, t := range c.T {
		x, y = append(x, t), append(y, c.V[i]*(t-roomK))
	}
	return newSmooth(x, y)
}

// chromiumHeat is 13 % chromium steel: published means to 800 C, austenite
// above, with the heat between 800 and 900 C that austenite leaves over as the
// transformation.
func chromiumHeat(b *builder) {
	line := meanHeat(b.curve("13 % chromium", "mean heat capacity from 20 C"))
	top := line.x[len(line.x)-1]
	b.m.Base = sample(unique(append(spaced(coldestK, top, 5), spaced(top, hottestK, 5)...)), func(tK float64) float64 {
		if tK <= top {
			return line.at(tK)
		}
		return line.at(top) + austeniteRise(top, tK)
	})
	b.m.Latent = b.number(b.g.name, "latent heat")
	b.m.OnHeating = ramp(b.number(b.g.name, "heating start"), b.number(b.g.name, "heating end"))
	b.m.OnCooling = ramp(b.number(b.g.name, "cooling end"), b.number(b.g.name, "cooling start"))
	b.assume("%s hardens in air: its transformation heat comes back only between 350 and 200 C", b.g.name)
}
