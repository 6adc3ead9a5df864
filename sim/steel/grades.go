package steel

import "math"

// grades in the order in which they are listed.
var grades = []*grade{
	{name: "pure iron", title: "pure iron", aliases: []string{"iron", "Fe"},
		heat: ironHeat, conducts: ironConducts, flows: ironFlows},
	{name: "wrought iron", title: "wrought iron, slag-bearing, 0.03 %C", aliases: []string{"wrought"},
		heat: ironCarbonHeat, conducts: ironConducts, flows: shidaFlows,
		assumed: []saying{
			{aboutStrength, "wrought iron resists like the softest steel of the formula (0.07 %C); below about 900 C clean iron may be half as strong"},
			{aboutMelting, "slag of wrought iron melts from about 1180 C on, which this leaves out"}}},
	{name: "phosphoric iron", title: "phosphoric iron: wrought iron rich in phosphorus, ferrite at every heat", aliases: []string{"phosphoric", "phosphorus iron"},
		heat: ferriteHeat, conducts: ironConducts, flows: ferriteFlows,
		assumed: []saying{{aboutStrength, "phosphoric iron taken as ferrite at every heat, as strong as pure ferrite"}}},
	plainSteel("1018", "mild steel, 0.18 %C", "mild", "mild steel", "low carbon steel", "C15", "C18"),
	plainSteel("1045", "plain carbon steel, 0.45 %C", "C45", "1.0503", "medium carbon steel"),
	lowAlloy("5160", "chromium spring steel, 0.60 %C, 0.8 %Cr", "60Cr3"),
	plainSteel("1075", "plain carbon steel, 0.75 %C", "C75", "C75S", "1.1248"),
	lowAlloy("15N20", "nickel band-saw steel, 0.75 %C, 2 %Ni", "75Ni8", "1.5634"),
	plainSteel("1080", "plain carbon steel, 0.80 %C", "C80", "C80S"),
	lowAlloy("80CrV2", "chromium-vanadium blade steel, 0.80 %C", "1.2235"),
	plainSteel("1084", "plain carbon steel, 0.84 %C", "C85"),
	lowAlloy("O1", "oil-hardening tool steel, 0.92 %C, 1.2 %Mn", "1.2510", "100MnCrW4"),
	plainSteel("1095", "plain carbon steel, 0.95 %C", "C95"),
	plainSteel("W1", "water-hardening tool steel, 1.0 %C", "C105", "1.1545"),
	plainSteel("W2", "water-hardening tool steel with vanadium, 1.0 %C"),
	lowAlloy("52100", "bearing steel, 1.0 %C, 1.5 %Cr", "100Cr6", "1.3505"),
	chromium("410", "stainless, 12 %Cr, 0.12 %C", "1.4006", "X12Cr13"),
	chromium("416", "stainless, free-cutting, 13 %Cr, 0.2 %S", "1.4005"),
	chromium("420", "stainless, 13 %Cr, 0.30 %C", "1.4021", "1.4028"),
	{name: "304", title: "stainless, 18 %Cr, 9 %Ni", aliases: []string{"1.4301", "18-8", "304L"},
		heat: tableHeat("18-8 stainless"), conducts: tableConducts("18-8 stainless"), flows: austeniticFlows, assumed: []saying{{aboutStrength, stainlessStrength}}},
	{name: "nickel", title: "nickel, commercially pure", aliases: []string{"Ni", "pure nickel"},
		heat: tableHeat("nickel"), conducts: tableConducts("nickel"), flows: creepFlows("nickel", zeroC+600, zeroC+1300),
		assumed: []saying{{aboutConductivity, "conductivity of nickel above 700 C carried on at the slope of the pure metal"}}},
	{name: "copper", title: "copper", aliases: []string{"Cu"},
		heat: tableHeat("copper"), conducts: tableConducts("copper"), flows: creepFlows("copper", zeroC+400, zeroC+1000),
		assumed: []saying{{aboutMelting, "copper melts at 1085 C; its melting is not computed, above that its curves are those of the solid held"}}},
	{name: "EN 1993-1-2 carbon steel", title: "carbon steel as EN 1993-1-2 publishes it", aliases: []string{"EN carbon steel", "EC3", "EC3 carbon steel"},
		heat: ec3Heat, conducts: ec3Conducts, flows: shidaFlows,
		assumed: []saying{{aboutStrength, "EN 1993-1-2 carbon steel: strength and melting as steel of 0.2 %C, which the standard does not give"}}},
	{name: "EN 1993-1-2 stainless steel", title: "stainless steel as EN 1993-1-2 publishes it", aliases: []string{"EN stainless steel"},
		heat: stainlessHeat, conducts: stainlessConducts, flows: austeniticFlows, assumed: []saying{{aboutStrength, stainlessStrength}}},
}

const stainlessStrength = "strength of 18-8 stainless taken as 1.6 times plain steel at the same heat (1.5 to 1.8)"

func plainSteel(name, title string, aliases ...string) *grade {
	return &grade{name: name, title: title, aliases: aliases, heat: ironCarbonHeat, conducts: carbonConducts, flows: shidaFlows}
}

func lowAlloy(name, title string, aliases ...string) *grade {
	return &grade{name: name, title: title, aliases: aliases, heat: ironCarbonHeat, conducts: carbonConducts, flows: shidaFlows,
		assumed: []saying{{aboutStrength, "strength of " + name + " at heat: plain steel of its carbon, times a factor for the alloy, good to 15 %"}}}
}

func chromium(name, title string, aliases ...string) *grade {
	return &grade{name: name, title: title, aliases: aliases, heat: chromiumHeat, conducts: tableConducts("13 % chromium"), flows: shidaFlows,
		assumed: []saying{{aboutStrength, "strength of " + name + " at heat: 1.3 times plain steel of its carbon, good to 25 %"}}}
}

// tableConducts takes a published conductivity as it stands.
func tableConducts(table string) func(*builder) Curve {
	return func(b *builder) Curve { return b.curve(table, "conductivity") }
}

// ironConducts is commercially pure iron, lowered by the grade's factor.
func ironConducts(b *builder) Curve {
	return b.lowered(b.curve("iron", "conductivity"))
}

// carbonConducts interpolates the published columns in carbon, held at 0.23
// and 1.22 %C, and lowers them by the grade's alloy factor.
func carbonConducts(b *builder) Curve {
	tables := []string{"plain 0.23 %C", "plain 0.80 %C", "plain 1.22 %C"}
	carbons := []float64{0.23, 0.80, 1.22}
	c := math.Max(carbons[0], math.Min(carbons[2], b.m.Carbon))
	i := 0
	if c > carbons[1] {
		i = 1
	}
	w := (c - carbons[i]) / (carbons[i+1] - carbons[i])
	low := b.curve(tables[i], "conductivity")
	if w == 0 {
		return b.lowered(low)
	}
	high := b.curve(tables[i+1], "conductivity")
	for j := range low.V {
		low.V[j] += w * (high.V[j] - low.V[j])
	}
	return b.lowered(low)
}

// lowered applies the grade's conductivity factor: in full to 700 C, fading
// out to 800 C, where all austenite conducts about alike.
func (b *builder) lowered(c Curve) Curve {
	factor := b.own("conductivity factor", 1)
	if factor == 1 {
		return c
	}
	knots := unique(append(append([]float64{}, c.T...), zeroC+700, zeroC+800))
	b.assume("conductivity of %s: no table found; the plain metal's, less %.0f %% below 700 C, equal above 800 C", b.g.name, 100*(1-factor))
	return sample(knots, func(tK float64) float64 {
		w := math.Max(0, math.Min(1, (zeroC+800-tK)/100))
		return c.At(tK) * (1 - (1-factor)*w)
	})
}
