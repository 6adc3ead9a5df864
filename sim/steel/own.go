package steel

import (
	"fmt"
	"sort"
	"strings"
)

// Override describes a material of the user's own. A nil pointer or an empty
// text means "not given".
type Override struct {
	Name          string
	Like          string   // a known material to start from
	Carbon        *float64 // wt %, 0 to 2.1
	Density       *float64 // kg/m3, 1000 to 22000
	Conductivity  *Curve   // W/mK, 0.1 to 2000
	HeatCapacity  *Curve   // J/kgK, 50 to 100000; one reversible curve
	Emissivity    *float64 // 0 to 1
	FlowStress    *float64 // Pa at 1/s and 1100 C: times rate^0.13 exp(5000/T - 5000/1373)
	FlowLaw       string   // "power", "sinh" or "shida", with FlowConstants
	FlowConstants map[string]float64
}

// assumedCarbon is the carbon taken where neither a like nor carbon is given.
const assumedCarbon = 0.20 // wt %

// Own builds a material from a known one and what is given. What is not given
// comes from Like, else it is assumed from carbon and listed in Assumed. A
// changed carbon rebuilds heat, conductivity, melting and strength of plain
// and low-alloy steels; of other materials it changes the carbon alone.
func Own(o Override) (Material, error) {
	if err := o.check(); err != nil {
		return Material{}, err
	}
	carbon, like := o.Carbon, o.Like
	if like == "" {
		if carbon == nil {
			c := assumedCarbon
			carbon = &c
		}
		like = "1018"
		if *carbon > 0.5 {
			like = "1084"
		}
	}
	g := find(like)
	if g == nil {
		return Material{}, fmt.Errorf("material %q: like %q; known: %s", o.Name, like, strings.Join(Nearest(like), ", "))
	}
	m, err := g.build(carbon, o.given())
	if err != nil {
		return Material{}, err
	}
	m.Name, m.Title = o.Name, "own material like "+g.name
	if o.Like == "" {
		m.Title = "own material"
		m.Assumed = append(m.Assumed, fmt.Sprintf("%s: what is not given is taken from plain steel of %.2f %%C", o.Name, *carbon))
	}
	if o.Carbon != nil && g.ownSolidus() {
		m.Assumed = append(m.Assumed, fmt.Sprintf("%s: the changed carbon leaves heat, conductivity and melting as those of %s", o.Name, g.name))
	}
	return o.apply(m)
}

// given names the parts the user gives.
func (o Override) given() map[string]bool {
	return map[string]bool{
		aboutDensity: o.Density != nil, aboutEmissivity: o.Emissivity != nil,
		aboutConductivity: o.Conductivity != nil, aboutHeat: o.HeatCapacity != nil,
		aboutStrength: o.FlowStress != nil || o.FlowLaw != "",
	}
}

// ownSolidus says whether a grade is no plain or low-alloy steel.
func (g *grade) ownSolidus() bool {
	lib, err := library()
	return err == nil && len(lib.rows[key(g.name, "solidus")]) > 0
}

func (o Override) apply(m Material) (Material, error) {
	given := func(property string, v float64, unit string) {
		m.Facts = append(m.Facts, Fact{Property: property + " (given)", Value: v, Unit: unit, Source: "own", Locator: "as given", Status: "assumed"})
	}
	if o.Density != nil {
		m.Density = *o.Density
		given("density", m.Density, "kg/m3")
	}
	if o.Emissivity != nil {
		m.Emissivity = *o.Emissivity
		given("emissivity", m.Emissivity, "1")
	}
	if o.Conductivity != nil {
		m.Conductivity = o.Conductivity.clone()
		given("conductivity", m.Conductivity.At(roomK), "W/mK")
	}
	if o.HeatCapacity != nil {
		m.Base, m.Latent = integrate(*o.HeatCapacity), 0
		m.OnHeating, m.OnCooling = Curve{}, Curve{}
		given("heat capacity", o.HeatCapacity.At(roomK), "J/kgK")
	}
	law, err := o.flowLaw()
	if err != nil {
		return Material{}, err
	}
	if law != nil {
		m.Flow = Flow{law: law}
		pa, _ := m.FlowStress(0.3, 1, userK)
		given("flow stress at strain 0.3, 1/s, 1100 C", pa/1e6, "MPa")
	}
	return m, nil
}

// flowConstants are the constants each named law wants.
var flowConstants = map[string][]string{
	"power": {"b", "m", "stress"},
	"sinh":  {"a", "alpha", "n", "q"},
	"shida": {"carbon", "factor"},
}

// flowLaw returns the law given, nil when none is. Constants: power: stress
// (Pa at 1/s and 1100 C), m, b (K); sinh: a (1/s), alpha (1/Pa), n, q (J/mol);
// shida: carbon (wt %), factor.
func (o Override) flowLaw() (flowLaw, error) {
	if o.FlowLaw == "" {
		if o.FlowStress == nil {
			return nil, nil
		}
		return powerLaw{s: *o.FlowStress, m: 0.13, b: 5000}, nil
	}
	wanted, known := flowConstants[o.FlowLaw]
	if !known {
		return nil, fmt.Errorf("material %q: flow law %q; power, sinh or shida", o.Name, o.FlowLaw)
	}
	if o.FlowStress != nil {
		return nil, fmt.Errorf("material %q: flow stress and flow law both given; one of them", o.Name)
	}
	var got []string
	for k, v := range o.FlowConstants {
		got = append(got, k)
		if !(v > 0 && v < 1e30) && !(k == "m" && v >= 0 && v < 1) {
			return nil, fmt.Errorf("material %q: constant %s = %g; above 0", o.Name, k, v)
		}
	}
	sort.Strings(got)
	if strings.Join(got, " ") != strings.Join(wanted, " ") {
		return nil, fmt.Errorf("material %q: constants %q; flow law %s wants %s", o.Name, got, o.FlowLaw, strings.Join(wanted, ", "))
	}
	k := o.FlowConstants
	switch o.FlowLaw {
	case "power":
		return powerLaw{s: k["stress"], m: k["m"], b: k["b"]}, nil
	case "sinh":
		return sinhLaw{a: k["a"], alpha: k["alpha"], n: k["n"], q: k["q"]}, nil
	}
	return shida{carbon: shidaCarbon(k["carbon"]), factor: k["factor"]}, nil
}

func (o Override) check() error {
	if strings.TrimSpace(o.Name) == "" {
		return fmt.Errorf("material: no name; a name of its own")
	}
	for _, c := range []struct {
		what      string
		v         *float64
		low, high float64
		unit      string
	}{
		{"carbon", o.Carbon, 0, 2.1, "%"}, {"density", o.Density, 1000, 22000, "kg/m3"},
		{"emissivity", o.Emissivity, 0, 1, ""}, {"flow stress", o.FlowStress, 1e5, 5e9, "Pa"},
	} {
		if c.v != nil && !(*c.v >= c.low && *c.v <= c.high) {
			return fmt.Errorf("material %q: %s %g %s; %g to %g %s", o.Name, c.what, *c.v, c.unit, c.low, c.high, c.unit)
		}
	}
	if o.Conductivity != nil {
		if err := o.Conductivity.check(0.1, 2000, "W/mK"); err != nil {
			return fmt.Errorf("material %q: conductivity: %w", o.Name, err)
		}
	}
	if o.HeatCapacity != nil {
		if err := o.HeatCapacity.check(50, 1e5, "J/kgK"); err != nil {
			return fmt.Errorf("material %q: heat capacity: %w", o.Name, err)
		}
	}
	return nil
}
