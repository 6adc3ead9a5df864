package jobfile

import (
	"slices"
	"strconv"
	"strings"

	"billet/sim/steel"
	"billet/sim/unit"
)

// maxMaterials is how many own materials a job may bring.
const maxMaterials = 100

// shelf holds a job's own materials beside the known ones.
type shelf struct {
	own   map[string]steel.Material // by name in small letters
	bad   map[string]bool           // own materials that were refused
	names []string                  // own names, in the order of the file
	from  map[string]string         // by name: where what is not given comes from, a sentence
}

// readShelf reads the [[material]] tables.
func readShelf(file *table) *shelf {
	s := &shelf{own: map[string]steel.Material{}, bad: map[string]bool{}, from: map[string]string{}}
	for _, t := range file.rows("material", maxMaterials) {
		s.read(t)
	}
	return s
}

func (s *shelf) read(t *table) {
	before := len(t.list)
	o := steel.Override{Name: t.text("name"), Like: t.text("like")}
	key := strings.ToLower(o.Name)
	switch _, err := steel.Lookup(o.Name); {
	case !t.has("name"):
		t.missing("name", "a name for the material")
	case strings.TrimSpace(o.Name) == "":
		t.wrong("name", t.n.kids["name"], "a name for the material", "")
	case slices.ContainsFunc(s.names, func(n string) bool { return strings.EqualFold(n, o.Name) }):
		t.wrong("name", t.n.kids["name"], "a name that no other [[material]] has", "")
	case err == nil && o.Like == "" && !t.has("like"):
		t.wrong("name", t.n.kids["name"], "a new name; this one is known",
			`to change a known material add like = "`+o.Name+`"`)
	}
	if _, err := steel.Lookup(o.Like); o.Like != "" && err != nil {
		t.wrong("like", t.n.kids["like"], "the name of a known material (see: billet materials)",
			nearKnown(o.Like))
	}
	s.values(t, &o)
	t.done()
	s.names = append(s.names, o.Name)
	if len(t.list) > before {
		s.bad[key] = true
		return
	}
	m, err := steel.Own(o)
	if err != nil {
		t.add(t.n, Problem{Key: t.path, Given: "a material", Accepted: err.Error()})
		s.bad[key] = true
		return
	}
	s.own[key] = m
	source := o.Like
	if source == "" {
		source = "plain steel of " + strconv.FormatFloat(m.Carbon, 'f', 2, 64) + " %C"
	}
	s.from[m.Name] = "What is not given of " + m.Name + " is taken from " + source + "."
}

// values reads the properties an own material may bring.
func (s *shelf) values(t *table, o *steel.Override) {
	if c := t.maybe("carbon", unit.Share, span{"0 %", "2.1 %"}); c != nil {
		percent := *c * 100
		o.Carbon = &percent
	}
	o.Density = t.maybe("density", unit.Density, span{"1000 kg/m3", "22000 kg/m3"})
	o.Conductivity = t.curve("conductivity", unit.Conductivity, span{"0.1 W/mK", "2000 W/mK"})
	o.HeatCapacity = t.curve("heat_capacity", unit.HeatCapacity, span{"50 J/kgK", "100000 J/kgK"})
	o.Emissivity = t.maybeNumber("emissivity", 0, 1)
	if v := t.get("flow_stress"); v != nil {
		t.flow(v, o)
	}
}

// anyFlow is the range of a flow stress.
var anyFlow = span{"1 MPa", "2000 MPa"}

// flow reads a flow stress, or a named law with its constants. The constants
// that have no unit of their own in shop text carry it in their names.
func (t *table) flow(v *node, o *steel.Override) {
	if v.kind != isTable {
		x := t.parse("flow_stress", v, unit.Pressure, anyFlow)
		o.FlowStress = &x
		return
	}
	f := t.sub("flow_stress")
	if !f.has("law") {
		f.missing("law", "one of power, sinh, shida")
	}
	laws := []string{"power", "sinh", "shida"}
	o.FlowLaw = laws[f.choice("law", "power", laws...)]
	if v := f.n.kids["law"]; v == nil || v.text != o.FlowLaw {
		return // reported; which keys belong here is not known
	}
	c := map[string]float64{}
	switch o.FlowLaw {
	case "power":
		c["stress"] = f.need("stress", unit.Pressure, anyFlow)
		c["m"] = f.needNumber("rate_exponent", 0, 0.9)
		c["b"] = f.needNumber("heat_k", 1, 100000)
	case "sinh":
		c["a"] = f.needNumber("a_per_s", 1e-10, 1e30)
		c["alpha"] = f.needNumber("alpha_per_mpa", 1e-6, 1) / 1e6
		c["n"] = f.needNumber("n", 0.1, 20)
		c["q"] = f.needNumber("q_kj_per_mol", 1, 2000) * 1e3
	case "shida":
		c["carbon"] = 100 * f.need("carbon", unit.Share, span{"0.01 %", "1.5 %"})
		c["factor"] = f.number("factor", 1, 0.1, 10)
	}
	o.FlowConstants = c
	f.done()
}

// curve reads a property, or a table of it against temperature.
func (t *table) curve(key string, k unit.Kind, in span) *steel.Curve {
	v := t.get(key)
	if v == nil {
		return nil
	}
	if v.kind != isList {
		return &steel.Curve{T: []float64{si(unit.Temperature, "20 C")}, V: []float64{t.parse(key, v, k, in)}}
	}
	ts, vs := t.pairs(key, v, pair{
		first: unit.Temperature, firstIn: span{"-270 C", "3000 C"},
		second: k, secondIn: in,
		rising: "a temperature higher than in the row before",
	})
	return &steel.Curve{T: ts, V: vs}
}

// find returns the material v names under key of t.
func (s *shelf) find(t *table, key string, v *node) steel.Material {
	accepted := "the name of a known material (see: billet materials) or of a [[material]] in this file"
	if v.kind != isText {
		hint := ""
		if v.kind == isNumber {
			hint = `names go in quotes: "` + v.raw + `"`
		}
		t.wrong(key, v, accepted, hint)
		return steel.Material{}
	}
	low := strings.ToLower(v.text)
	if m, ok := s.own[low]; ok {
		return m
	}
	if s.bad[low] {
		return steel.Material{}
	}
	m, err := steel.Lookup(v.text)
	if err != nil {
		hint := didYouMean(nearest(v.text, s.names))
		if hint == "" {
			hint = nearKnown(v.text)
		}
		t.wrong(key, v, accepted, hint)
		return steel.Material{}
	}
	return m
}

// nearKnown is the hint that offers the known materials nearest in name; ""
// where none is near.
func nearKnown(name string) string {
	near := steel.Nearest(name)
	if len(name) > maxName || len(near) == len(steel.Names()) {
		return ""
	}
	return `did you mean "` + strings.Join(near, `" or "`) + `"?`
}

func first(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return names[0]
}
