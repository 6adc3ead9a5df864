package jobfile

import (
	"fmt"

	"billet/sim"
	"billet/sim/steel"
	"billet/sim/unit"
)

func (d *decoder) shop() {
	t := d.sub("shop")
	s := &sim.Shop{Bar: d.bar(t.sub("bar"))}
	if v := t.get("seen"); v != nil {
		s.Seen = t.seen(v)
	}
	q := t.sub("squeeze")
	if q.given() {
		s.Squeeze = squeeze(q)
	}
	t.done()
	if !t.given() {
		return
	}
	if !t.has("seen") && !t.has("squeeze") {
		t.missing("seen", `what was seen of the plain bar: seen = [["5 min 10 s", "1000 C"]], or squeeze`)
	}
	d.job.Shop = s
}

func (d *decoder) bar(t *table) *sim.Bar {
	b := &sim.Bar{
		Thickness: t.quantity("thickness", unit.Length, "25 mm", anyWidth),
		Width:     t.quantity("width", unit.Length, "25 mm", anyWidth),
		Length:    t.quantity("length", unit.Length, "150 mm", anyLength),
	}
	if v := t.get("material"); v != nil {
		b.Material = d.shelf.find(t, "material", v)
	} else {
		t.taken = append([]string{"material 1018"}, t.taken...)
		b.Material, _ = steel.Lookup("1018")
	}
	t.done()
	d.assumeTaken(t)
	return b
}

// readingSpread is how far off a temperature read from an instrument in a
// forge may be, K; the same as in sim.DefaultSpread.
var readingSpread = sim.DefaultSpread().Reading

// seen reads the rows of [shop] seen: a time, and a temperature or a colour.
func (t *table) seen(v *node) []sim.Seen {
	const accepted = `rows of a time and a temperature or a colour, such as [["5 min 10 s", "1000 C"]]`
	if v.kind != isList || len(v.items) == 0 || len(v.items) > maxRows {
		t.wrong("seen", v, accepted, "")
		return nil
	}
	var rows []sim.Seen
	last := 0.0
	for i, row := range v.items {
		name := fmt.Sprintf("seen[%d]", i+1)
		if row.kind != isList || len(row.items) != 2 {
			t.wrong(name, row, accepted, "")
			continue
		}
		s := sim.Seen{Time: t.parse(name, row.items[0], unit.Time, realTime), Text: row.items[1].text}
		if s.Time <= last {
			t.wrong(name, row.items[0], "a time later than in the row before", "")
		}
		last = s.Time
		t.sight(name, row.items[1], &s)
		rows = append(rows, s)
	}
	return rows
}

// sight reads a temperature or the name of a colour.
func (t *table) sight(name string, v *node, s *sim.Seen) {
	if v.kind == isText {
		if mid, half, err := steel.ColourByName(v.text); err == nil {
			s.Temperature, s.Plus, s.Minus = mid, half, half
			return
		}
		if _, err := unit.Parse(unit.Temperature, v.text); err != nil {
			var names []string
			for _, c := range steel.Colours() {
				names = append(names, c.Name)
			}
			t.wrong(name, v, `a temperature, such as "1000 C", or the name of a colour`, didYouMean(nearest(v.text, names)))
			return
		}
	}
	s.Temperature = t.parse(name, v, unit.Temperature, span{"100 C", "1500 C"})
	s.Plus, s.Minus = readingSpread, readingSpread
}

func squeeze(t *table) *sim.Squeeze {
	q := &sim.Squeeze{
		From:        t.need("from", unit.Length, anyWidth),
		To:          t.need("to", unit.Length, anyWidth),
		Width:       t.need("width", unit.Length, anyWidth),
		Temperature: t.need("temperature", unit.Temperature, span{"500 C", "1400 C"}),
		Pressure:    t.need("pressure", unit.Pressure, anyPressure),
	}
	if q.To >= q.From {
		t.wrong("to", t.n.kids["to"], "less than from", "")
	}
	t.done()
	return q
}

func (d *decoder) measured() {
	for _, t := range d.rows("measured", 100) {
		m := sim.Measured{
			After:     t.count("after", -1, 0, 1000),
			Thickness: t.maybe("thickness", unit.Length, anyStop),
			Width:     t.maybe("width", unit.Length, anyWidth),
			Offset:    t.maybe("offset", unit.Length, span{"-50 mm", "50 mm"}),
			Hot:       t.isSet("hot"),
		}
		if !t.has("thickness") && !t.has("width") && !t.has("offset") {
			t.missing("thickness", "thickness, width, offset, or more than one of them")
		}
		if have := d.job.Measured; len(have) > 0 && t.has("after") && m.After <= have[len(have)-1].After {
			t.wrong("after", t.n.kids["after"], "more heats than in the table before", "")
		}
		t.done()
		d.job.Measured = append(d.job.Measured, m)
	}
}

func (d *decoder) target() {
	t := d.sub("target")
	g := &sim.Target{
		Thickness: t.quantity("thickness", unit.Length, "8 mm", anyStop),
		Width:     t.quantity("width", unit.Length, "38 mm", anyWidth),
	}
	t.done()
	d.assumeTaken(t)
	if t.given() {
		d.job.Target = g
	}
}

// smaller reports key where it is not below (or, with orEqual, above) what
// the key called other holds.
func (t *table) smaller(key, other string, x, y float64, orEqual bool) {
	if orEqual && x > y*(1+slack) {
		t.wrongAt(key, other, "no more than "+other)
	}
	if !orEqual && x >= y {
		t.wrongAt(key, other, "less than "+other)
	}
}

// wrongAt reports key, or the key other where key was left to its default.
func (t *table) wrongAt(key, other, accepted string) {
	if v := t.n.kids[key]; v != nil {
		t.wrong(key, v, accepted, "")
		return
	}
	if v := t.n.kids[other]; v != nil {
		t.wrong(other, v, "more than "+key, key+" is not given and takes its default")
	}
}

func (d *decoder) blade() {
	t := d.sub("blade")
	thin := span{"0.3 mm", "50 mm"}
	b := &sim.Blade{
		Spine:        t.quantity("spine", unit.Length, "3 mm", thin),
		TipSpine:     t.quantity("tip_spine", unit.Length, "1.5 mm", thin),
		Height:       t.quantity("height", unit.Length, "32 mm", anyWidth),
		Length:       t.quantity("length", unit.Length, "150 mm", anyLength),
		Edge:         t.quantity("edge", unit.Length, "0.3 mm", span{"0 mm", "10 mm"}),
		CoreLine:     t.orZero("core_line", unit.Length, span{"0.1 mm", "300 mm"}),
		EdgeFromSide: t.quantity("edge_from_side", unit.Length, "3 mm", span{"0 mm", "200 mm"}),
		EdgeRight:    t.choice("edge_side", "right", "right", "left") == 0,
		Offset:       t.orZero("offset", unit.Length, span{"-20 mm", "20 mm"}),
		Clean:        t.quantity("clean", unit.Length, "0.4 mm", span{"0 mm", "10 mm"}),
	}
	b.Grind = d.bevel(t.sub("grind"), b.Height)
	t.done()
	if !t.given() {
		return
	}
	t.smaller("edge", "spine", b.Edge, b.Spine, false)
	t.smaller("tip_spine", "spine", b.TipSpine, b.Spine, true)
	t.smaller("edge", "tip_spine", b.Edge, b.TipSpine, false)
	if t.has("core_line") {
		t.smaller("core_line", "height", b.CoreLine, b.Height, false)
	}
	d.assumeTaken(t)
	d.job.Blade = b
}

// bevel reads the grind of a blade of a height. Its own height, where left
// out, is no more than the blade's.
func (d *decoder) bevel(t *table, height float64) sim.Bevel {
	kinds := []string{"flat", "hollow", "convex", "chisel"}
	g := sim.Bevel{Kind: sim.GrindKind(t.choice("kind", "flat", kinds...))}
	g.Height = t.quantity("height", unit.Length, "28 mm", anyWidth)
	if t.has("height") {
		t.smaller("height", "the blade's height", g.Height, height, true)
	} else if g.Height > height {
		g.Height = height
		t.taken[0] = "height as the blade's"
	}
	only := func(key string, kind sim.GrindKind) bool {
		if g.Kind == kind {
			return true
		}
		if v := t.get(key); v != nil {
			t.wrong(key, v, `only with kind = "`+kinds[kind]+`"`, "")
		}
		return false
	}
	if only("wheel", sim.HollowGrind) {
		g.Wheel = t.quantity("wheel", unit.Length, "250 mm", span{"20 mm", "3 m"})
	}
	if only("bulge", sim.ConvexGrind) {
		g.Bulge = t.quantity("bulge", unit.Length, "0.3 mm", span{"0.01 mm", "10 mm"})
	}
	if only("side", sim.ChiselGrind) {
		g.SideA = t.choice("side", "A", "A", "B") == 0
	}
	t.done()
	d.assumeTaken(t)
	return g
}

func (d *decoder) stock() {
	t := d.sub("stock")
	s := &sim.Stock{}
	if v := t.get("sizes"); v != nil {
		s.Sizes = t.quantities("sizes", v, unit.Length, span{"0.1 mm", "300 mm"}, 200)
	} else {
		for _, size := range []string{"3/16 in", "1/4 in", "3/8 in"} {
			s.Sizes = append(s.Sizes, si(unit.Length, size))
		}
		t.taken = append(t.taken, "sizes 3/16, 1/4 and 3/8 in")
	}
	s.Trim = t.quantity("trim", unit.Length, "12 mm", span{"0 mm", "200 mm"})
	t.done()
	d.assumeTaken(t)
	if t.given() {
		d.job.Stock = s
	}
}

func (d *decoder) spread() {
	t := d.sub("spread")
	share := span{"0 %", "100 %"}
	s := &sim.Spread{
		Jacket:     t.quantity("jackets", unit.Share, "2 %", span{"0 %", "20 %"}),
		SideToSide: t.quantity("side_to_side", unit.TemperatureDifference, "20 C", span{"0 C", "200 C"}),
		Rest:       t.quantity("rest", unit.Share, "30 %", share),
		Tilt:       t.quantity("tilt", unit.Length, "0.3 mm", span{"0 mm", "10 mm"}),
		Friction:   t.quantity("friction", unit.Share, "20 %", share),
		Reading:    t.quantity("reading", unit.TemperatureDifference, "20 C", span{"0 C", "200 C"}),
	}
	t.done()
	if t.given() {
		d.job.Spread = s
	}
}
