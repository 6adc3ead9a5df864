package steel

import (
	"fmt"
	"math"
)

// flowLaw is a law of the flow stress. Strain is true height strain, rate is
// 1/s, temperature K; the answer is Pa and whether the arguments lie in the
// range the law was made for. Every law answers outside it too, finitely.
type flowLaw interface {
	stress(strain, rate, tK float64) (pa float64, inRange bool)
	says() string
}

// Flow is a material's law of the flow stress.
type Flow struct{ law flowLaw }

// slowest is the rate (1/s) below which laws are held.
const slowest = 1e-6

// FlowStress returns the true flow stress in Pa at a true strain, a strain
// rate (1/s) and a temperature (K), and whether all three lie in the range of
// the law (FlowRange). Outside it the answer is an extrapolation, or held
// where the law would lose sense. Arguments that are no numbers give 0, false.
func (m Material) FlowStress(strain, rate, tK float64) (pa float64, inRange bool) {
	if m.Flow.law == nil || math.IsNaN(strain+rate+tK) || math.IsInf(strain+rate+tK, 0) {
		return 0, false
	}
	ok := rate >= slowest && tK >= coldestK && tK <= hottestK
	t := math.Max(coldestK, math.Min(hottestK, tK))
	pa, inRange = m.Flow.law.stress(math.Abs(strain), math.Max(rate, slowest), t)
	return pa, inRange && ok
}

// FlowRange says in words where the flow stress comes from and where it holds.
func (m Material) FlowRange() string {
	if m.Flow.law == nil {
		return "no flow stress given"
	}
	return m.Flow.law.says()
}

// RateExponent returns d ln(stress) / d ln(rate) at the given true strain,
// rate (1/s) and temperature (K), by a central difference.
func (m Material) RateExponent(strain, rate, tK float64) float64 {
	const step = 1e-3
	rate = math.Max(rate, 2*slowest)
	up, _ := m.FlowStress(strain, rate*math.Exp(step), tK)
	down, _ := m.FlowStress(strain, rate*math.Exp(-step), tK)
	if !(up > 0 && down > 0) {
		return 0
	}
	return math.Log(up/down) / (2 * step)
}

// shidaFlows is Shida's law at the grade's carbon, times its flow factor.
func shidaFlows(b *builder) flowLaw {
	f := b.own("flow factor", 1)
	c := shidaCarbon(b.m.Carbon)
	b.note(Fact{Property: "flow stress carbon", Value: c, Unit: "wt %", Source: "shida",
		Locator: "formula, 0.07 to 1.2 %C", Status: "read in excerpt"})
	return shida{carbon: c, factor: f}
}

// austeniticFlows is the austenite branch of Shida's law at every heat, times
// the grade's factor: 18-8 steel has no ferrite.
func austeniticFlows(b *builder) flowLaw {
	f := b.number(b.g.name, "flow factor")
	b.note(Fact{Property: "flow stress carbon", Value: 0.07, Unit: "wt %", Source: "shida",
		Locator: "formula, austenite branch", Status: "read in excerpt"})
	return shida{carbon: 0.07, factor: f, austenite: true}
}

// ferriteFlows is ferrite at every heat.
func ferriteFlows(b *builder) flowLaw {
	return b.creep("ferrite", zeroC+600, zeroC+1300)
}

// ironFlows is ferrite below iron's transformation and Shida's softest
// austenite above, mixed over 20 K.
func ironFlows(b *builder) flowLaw {
	b.note(Fact{Property: "flow stress carbon", Value: 0.07, Unit: "wt %", Source: "shida",
		Locator: "formula, austenite branch, for iron above 912 C", Status: "read in excerpt"})
	b.assume("strength of pure iron: creep data of ferrite below 912 C, steel of 0.07 %%C above")
	return twoPhase{
		below: b.creep("ferrite", zeroC+600, zeroC+922), above: shida{carbon: 0.07, factor: 1, austenite: true},
		at: b.number("transformation", "iron temperature"), width: 20,
	}
}

func creepFlows(metal string, lowK, highK float64) func(*builder) flowLaw {
	return func(b *builder) flowLaw { return b.creep(metal, lowK, highK) }
}

func (b *builder) creep(metal string, lowK, highK float64) creep {
	n := func(p string) float64 { return b.number("creep "+metal, p) }
	return creep{metal: metal, n: n("n"), a: n("A"), d0: n("D0"), q: n("Q"), mu: n("mu300"), slope: n("dmu"),
		melts: n("Tm"), b: n("b"), breakdown: n("breakdown"), low: lowK, high: highK}
}

// twoPhase mixes two laws over a width (K) about a transformation.
type twoPhase struct {
	below, above flowLaw
	at, width    float64 // K
}

func (l twoPhase) stress(strain, rate, tK float64) (float64, bool) {
	w := math.Max(0, math.Min(1, (tK-l.at)/l.width+0.5))
	cold, coldOK := l.below.stress(strain, rate, tK)
	hot, hotOK := l.above.stress(strain, rate, tK)
	return (1-w)*cold + w*hot, (w == 1 || coldOK) && (w == 0 || hotOK)
}

func (l twoPhase) says() string {
	return fmt.Sprintf("below %.0f C: %s; above: %s", l.at-zeroC, l.below.says(), l.above.says())
}
