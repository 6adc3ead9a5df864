package steel

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"sync"
)

// Element is one alloying element.
type Element struct {
	Symbol  string  // "C", "Mn", ...
	Percent float64 // wt %
}

// Fact is one number used for a material, with where it comes from.
type Fact struct {
	Property string
	At       string  // "700 C", or empty
	Value    float64 // in Unit, as the source gives it
	Unit     string
	Source   string // key of Sources
	Locator  string // where in the source
	Status   string // read, read in excerpt, from memory, assumed or common practice
}

// Material is what the engine knows of one steel or metal. Values are SI and
// kelvin; sizes are cold sizes, so Density is the cold one at every heat.
type Material struct {
	Name    string  // canonical, "1084"
	Title   string  // one line for a list
	Density float64 // kg/m3, cold

	Conductivity Curve // W/mK

	// Specific enthalpy is Base + Latent * fraction, J/kg from 20 C.
	Base      Curve   // J/kg, strictly increasing; magnetic peak included
	Latent    float64 // J/kg, taken up on heating, given back on cooling; 0 for one-curve materials
	OnHeating Curve   // 0..1, fraction taken up on the way up
	OnCooling Curve   // 0..1, fraction still held on the way down; never below OnHeating

	Emissivity float64 // total, of the scaled skin in a forge
	Solidus    float64 // K, first melting
	BurnMargin float64 // K below Solidus at which the alarm stands
	Carbon     float64 // wt %

	Composition []Element // wt %, iron not listed
	Flow        Flow      // law of the flow stress

	Facts   []Fact   // every number used
	Assumed []string // assumed values, in sentences
}

// Enthalpy returns the specific enthalpy in J/kg from 20 C at tK (K) on the
// full heating branch, or on the full cooling branch.
func (m Material) Enthalpy(tK float64, heating bool) float64 {
	h := m.Base.At(tK)
	if m.Latent == 0 {
		return h
	}
	if heating {
		return h + m.Latent*m.OnHeating.At(tK)
	}
	return h + m.Latent*m.OnCooling.At(tK)
}

// BurnLimit returns the temperature (K) above which the steel is said to
// burn: Solidus less BurnMargin.
func (m Material) BurnLimit() float64 { return m.Solidus - m.BurnMargin }

// Describe lists every number used for m, in a fixed order.
func Describe(m Material) []Fact { return append([]Fact(nil), m.Facts...) }

// Names lists the canonical names, irons first, then steels by carbon, then
// stainless steels, other metals and the standard's reference steels.
func Names() []string {
	out := make([]string, len(grades))
	for i, g := range grades {
		out[i] = g.name
	}
	return out
}

// Lookup returns a material by its canonical name or an alias; case, spaces
// and hyphens do not count. The error lists the nearest names.
func Lookup(name string) (Material, error) {
	g := find(name)
	if g == nil {
		return Material{}, fmt.Errorf("material: %q; known: %s", name, strings.Join(Nearest(name), ", "))
	}
	built, err := g.built()
	if err != nil {
		return Material{}, err
	}
	return built.clone(), nil
}

// clone keeps a caller's changes away from the shared material.
func (m Material) clone() Material {
	m.Conductivity, m.Base = m.Conductivity.clone(), m.Base.clone()
	m.OnHeating, m.OnCooling = m.OnHeating.clone(), m.OnCooling.clone()
	m.Composition = append([]Element(nil), m.Composition...)
	m.Facts = append([]Fact(nil), m.Facts...)
	m.Assumed = append([]string(nil), m.Assumed...)
	return m
}

// percent returns the content of one element, 0 when it is not listed.
func (m Material) percent(symbol string) float64 {
	for _, e := range m.Composition {
		if e.Symbol == symbol {
			return e.Percent
		}
	}
	return 0
}

var spoken = strings.NewReplacer(" ", "", "-", "", "_", "", "/", "")

// plain is the form in which names are compared.
func plain(name string) string {
	s := spoken.Replace(strings.ToLower(strings.TrimSpace(name)))
	for _, prefix := range []string{"aisi", "sae"} {
		s = strings.TrimPrefix(s, prefix)
	}
	return s
}

func find(name string) *grade {
	want := plain(name)
	for _, g := range grades {
		if plain(g.name) == want {
			return g
		}
		for _, a := range g.aliases {
			if plain(a) == want {
				return g
			}
		}
	}
	return nil
}

// Nearest returns the canonical names closest to what was typed, the nearest
// first: those within a third of its length in edits, at most five, or every
// name when none is.
func Nearest(name string) []string {
	typed := plain(name)
	type near struct {
		name string
		far  int
	}
	var all []near
	for _, g := range grades {
		best := edits(typed, plain(g.name))
		for _, a := range g.aliases {
			best = min(best, edits(typed, plain(a)))
		}
		if best <= max(1, len(typed)/3) {
			all = append(all, near{g.name, best})
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].far < all[j].far })
	if len(all) == 0 {
		return Names()
	}
	var out []string
	for _, n := range all[:min(5, len(all))] {
		out = append(out, n.name)
	}
	return out
}

// edits is Levenshtein's distance in bytes.
func edits(a, b string) int {
	line := make([]int, len(b)+1)
	for j := range line {
		line[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := line[0]
		line[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = line[j]
			line[j] = min(cost, line[j]+1, line[j-1]+1)
		}
	}
	return line[len(b)]
}

// grade is how one named material is put together. Its numbers are in the
// data files under its name.
type grade struct {
	name, title string
	aliases     []string
	heat        func(*builder)       // Base, Latent, OnHeating, OnCooling
	conducts    func(*builder) Curve // W/mK
	flows       func(*builder) flowLaw
	assumed     []saying

	once  sync.Once
	made  Material
	fault error
}

// saying is an assumption in words, about one part of a material.
type saying struct{ about, text string }

// The parts of a material a user may give.
const (
	aboutDensity      = "density"
	aboutEmissivity   = "emissivity"
	aboutConductivity = "conductivity"
	aboutHeat         = "heat"
	aboutStrength     = "strength"
	aboutMelting      = "melting"
)

func (g *grade) built() (Material, error) {
	g.once.Do(func() { g.made, g.fault = g.build(nil, nil) })
	return g.made, g.fault
}

// builder is a material on its way, with the numbers it has drawn.
type builder struct {
	reader
	g *grade
	m Material
}

func (b *builder) assume(format string, args ...any) {
	b.m.Assumed = append(b.m.Assumed, fmt.Sprintf(format, args...))
}

// own returns a number of this grade, or otherwise where the data has none.
func (b *builder) own(property string, otherwise float64) float64 {
	return b.optional(b.g.name, property, otherwise)
}

var symbols = []string{"C", "Mn", "Si", "P", "S", "Cr", "Ni", "W", "V", "Cu"}

// build puts the material together. carbon, if given, replaces the grade's
// (wt %); parts named in given are left empty for the user's own.
func (g *grade) build(carbon *float64, given map[string]bool) (Material, error) {
	lib, err := library()
	if err != nil {
		return Material{}, err
	}
	b := &builder{reader: reader{book: lib, name: g.name, used: map[string]bool{}}, g: g}
	b.m.Name, b.m.Title = g.name, g.title
	if !strings.Contains(g.title, g.name) {
		b.m.Title = g.name + " " + g.title
	}
	b.compose(carbon)
	b.m.BurnMargin = b.number(g.name, "burn margin")
	b.m.Solidus = b.solidus()
	b.assume("burning is warned of %g C below first melting", b.m.BurnMargin)
	for _, p := range []struct {
		about string
		make  func()
	}{
		{aboutDensity, func() { b.m.Density = b.number(g.name, "density") }},
		{aboutEmissivity, func() { b.skin() }},
		{aboutConductivity, func() { b.m.Conductivity = g.conducts(b) }},
		{aboutHeat, func() { g.heat(b) }},
		{aboutStrength, func() { b.m.Flow = Flow{law: g.flows(b)} }},
	} {
		if !given[p.about] {
			p.make()
		}
	}
	for _, s := range g.assumed {
		if !given[s.about] {
			b.m.Assumed = append(b.m.Assumed, s.text)
		}
	}
	b.m.Facts = b.facts
	return b.m, b.err
}

// skin sets the emissivity and says what it stands for.
func (b *builder) skin() {
	b.m.Emissivity = b.number(b.g.name, "emissivity")
	b.assume("skin of %s taken as scaled, the same at every heat: emissivity %g", b.g.name, b.m.Emissivity)
}

// compose lists the elements, with the carbon given in place of the grade's.
func (b *builder) compose(carbon *float64) {
	for _, s := range symbols {
		if p := b.own(s, math.NaN()); p > 0 {
			b.m.Composition = append(b.m.Composition, Element{s, p})
		}
	}
	if carbon != nil {
		b.setCarbon(*carbon)
	}
	b.m.Carbon = b.m.percent("C")
}

func (b *builder) setCarbon(c float64) {
	for i, e := range b.m.Composition {
		if e.Symbol == "C" {
			b.m.Composition[i].Percent = c
			return
		}
	}
	b.m.Composition = append([]Element{{"C", c}}, b.m.Composition...)
}

// solidus returns the temperature of first melting, K: the grade's own, or
// the iron-carbon line.
func (b *builder) solidus() float64 {
	own := b.own("solidus", math.NaN())
	if !math.IsNaN(own) {
		return own
	}
	t := solidusIronCarbon(b.m.Carbon)
	b.note(Fact{Property: "solidus", Value: round(t-zeroC, 0), Unit: "C", Source: "gustafson",
		Locator: "fit 1525 - 178 %C to the computed iron-carbon solidus, 0.17-1.5 %C", Status: "from memory"})
	b.assume("first melting of %s taken from carbon alone (%s C); phosphorus, sulphur and bands of alloy start to melt lower",
		b.g.name, strconv.FormatFloat(round(t-zeroC, 0), 'f', -1, 64))
	return t
}

// solidusIronCarbon is the equilibrium solidus of iron with c wt % carbon, K.
// For 0.17 to 1.5 %C the fit 1525 - 178 c (C), +-1.5 K, to the solidus
// computed from Gustafson, Scand. J. Metall. 14 (1985) 259; the assessment
// itself is good to about 10 K. The peritectic line 1495 C from 0.09 to
// 0.17 %C and a straight line from iron's 1538 C below it, textbook
// invariants. Above 1.5 %C the fit is carried on, never below the eutectic
// 1148 C.
func solidusIronCarbon(c float64) float64 {
	switch {
	case c <= 0.09:
		return zeroC + 1538 - (1538-1495)*c/0.09
	case c < 0.17:
		return zeroC + 1495
	}
	return zeroC + math.Max(1525-178*c, 1148)
}

func round(x float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(x*p) / p
}
