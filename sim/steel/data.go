package steel

import (
	"embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.csv
var files embed.FS

// Source is a publication the numbers come from.
type Source struct {
	Key     string
	Authors string
	Title   string
	Year    string
	HowRead string // whether the publication itself, an excerpt or nothing was read
}

// row is one number of the data files.
type row struct {
	Material, Property string
	at                 string // as written, "" when the property has no argument
	atUnit             string
	value              float64 // as written, in unit
	unit               string
	source             string
	locator            string
	status             string
}

// statuses are the allowed words for how a number is known.
var statuses = map[string]bool{"read": true, "read in excerpt": true, "from memory": true, "assumed": true, "common practice": true}

// units are the allowed units: SI = offset + factor * value.
var units = map[string]struct{ factor, offset float64 }{
	"1": {1, 0}, "C": {1, zeroC}, "K": {1, 0}, "W/mK": {1, 0}, "J/kgK": {1, 0}, "J/kg": {1, 0}, "kJ/kg": {1e3, 0},
	"kg/m3": {1, 0}, "wt %": {1, 0}, "m2/s": {1, 0}, "kJ/mol": {1e3, 0}, "GPa": {1e9, 0}, "MPa": {1e6, 0}, "nm": {1e-9, 0},
}

// si returns the value in SI units (kelvin; weight per cent as it stands).
func (r row) si() float64 {
	u := units[r.unit]
	return u.offset + u.factor*r.value
}

// atSI returns the argument in SI units, 0 when there is none.
func (r row) atSI() float64 {
	if r.at == "" {
		return 0
	}
	x, _ := strconv.ParseFloat(r.at, 64) // checked when read
	u := units[r.atUnit]
	return u.offset + u.factor*x
}

func (r row) fact() Fact {
	f := Fact{Property: r.Property, Value: r.value, Unit: r.unit, Source: r.source, Locator: r.locator, Status: r.status}
	if r.at != "" {
		f.At = r.at + " " + r.atUnit
	}
	return f
}

// book holds all rows, by material and property, in file order.
type book struct {
	rows    map[string][]row // by material + "\x00" + property
	order   []string         // keys in file order
	sources []Source
}

func key(material, property string) string { return material + "\x00" + property }

// library reads the embedded files once. A test proves that it does not fail.
var library = sync.OnceValues(func() (*book, error) {
	b := &book{rows: map[string][]row{}}
	src, err := files.ReadFile("data/sources.csv")
	if err != nil {
		return nil, err
	}
	if b.sources, err = readSources(string(src)); err != nil {
		return nil, fmt.Errorf("sources.csv: %w", err)
	}
	for _, name := range []string{"tables.csv", "grades.csv", "colours.csv"} {
		text, err := files.ReadFile("data/" + name)
		if err != nil {
			return nil, err
		}
		rows, err := readRows(string(text))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if err := b.add(rows); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return b, nil
})

// readRows parses one long-form file.
func readRows(text string) ([]row, error) {
	records, err := records(text, "material,property,at,at_unit,value,unit,source,locator,status")
	if err != nil {
		return nil, err
	}
	var out []row
	for i, f := range records {
		r := row{Material: f[0], Property: f[1], at: f[2], atUnit: f[3], unit: f[5], source: f[6], locator: f[7], status: f[8]}
		if err := r.parse(f[4]); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+2, err)
		}
		out = append(out, r)
	}
	return out, nil
}

func (r *row) parse(value string) error {
	v, err := strconv.ParseFloat(value, 64)
	switch _, known := units[r.unit]; {
	case r.Material == "" || r.Property == "":
		return fmt.Errorf("material %q, property %q; neither may be empty", r.Material, r.Property)
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return fmt.Errorf("value %q; a finite number", value)
	case !known:
		return fmt.Errorf("unit %q; one of the units in data.go", r.unit)
	case !statuses[r.status]:
		return fmt.Errorf("status %q; read, read in excerpt, from memory, assumed or common practice", r.status)
	case r.source == "" || r.locator == "":
		return fmt.Errorf("source %q, locator %q; neither may be empty", r.source, r.locator)
	case (r.at == "") != (r.atUnit == ""):
		return fmt.Errorf("at %q with unit %q; both or neither", r.at, r.atUnit)
	}
	r.value = v
	if r.at == "" {
		return nil
	}
	if x, err := strconv.ParseFloat(r.at, 64); err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Errorf("at %q; a finite number", r.at)
	}
	if _, known := units[r.atUnit]; !known {
		return fmt.Errorf("at_unit %q; one of the units in data.go", r.atUnit)
	}
	return nil
}

// add files the rows, refusing unknown sources, duplicates and arguments that
// do not increase.
func (b *book) add(rows []row) error {
	known := map[string]bool{}
	for _, s := range b.sources {
		known[s.Key] = true
	}
	for i, r := range rows {
		if !known[r.source] {
			return fmt.Errorf("line %d: source %q; a key of sources.csv", i+2, r.source)
		}
		k := key(r.Material, r.Property)
		before := b.rows[k]
		if n := len(before); n > 0 && !(r.at != "" && before[n-1].at != "" && r.atSI() > before[n-1].atSI()) {
			return fmt.Errorf("line %d: %s, %s at %q after %q; strictly increasing", i+2, r.Material, r.Property, r.at, before[n-1].at)
		}
		if len(before) == 0 {
			b.order = append(b.order, k)
		}
		b.rows[k] = append(before, r)
	}
	return nil
}

func readSources(text string) ([]Source, error) {
	records, err := records(text, "key,authors,title,year,how_read")
	if err != nil {
		return nil, err
	}
	var out []Source
	seen := map[string]bool{}
	for i, f := range records {
		if f[0] == "" || f[2] == "" || f[4] == "" || seen[f[0]] {
			return nil, fmt.Errorf("line %d: key %q, title %q, how read %q; all given, keys once", i+2, f[0], f[2], f[4])
		}
		seen[f[0]] = true
		out = append(out, Source{f[0], f[1], f[2], f[3], f[4]})
	}
	return out, nil
}

func records(text, header string) ([][]string, error) {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(all) == 0 || strings.Join(all[0], ",") != header {
		return nil, fmt.Errorf("first line is not %q", header)
	}
	return all[1:], nil
}

// Sources lists every publication the numbers come from, by key.
func Sources() []Source {
	b, err := library()
	if err != nil {
		return nil
	}
	return append([]Source(nil), b.sources...)
}

// reader hands out numbers and remembers which, so that a material can list
// every one it uses. A missing number is remembered as an error, checked once
// at the end.
type reader struct {
	book  *book
	name  string // of the material being built
	facts []Fact
	used  map[string]bool
	err   error
}

func (r *reader) take(material, property string) []row {
	k := key(material, property)
	rows := r.book.rows[k]
	if !r.used[k] {
		r.used[k] = true
		for _, x := range rows {
			f := x.fact()
			if material != r.name {
				f.Property = material + ": " + property
			}
			r.facts = append(r.facts, f)
		}
	}
	return rows
}

// number returns one value in SI units.
func (r *reader) number(material, property string) float64 {
	rows := r.take(material, property)
	if len(rows) != 1 {
		if r.err == nil {
			r.err = fmt.Errorf("steel data: %d rows of %q for %q; exactly one", len(rows), property, material)
		}
		return math.NaN()
	}
	return rows[0].si()
}

// optional returns one value in SI units, or otherwise where there is none.
func (r *reader) optional(material, property string, otherwise float64) float64 {
	if len(r.book.rows[key(material, property)]) == 0 {
		return otherwise
	}
	return r.number(material, property)
}

// curve returns a table as it stands.
func (r *reader) curve(material, property string) Curve {
	rows := r.take(material, property)
	if len(rows) < 2 && r.err == nil {
		r.err = fmt.Errorf("steel data: %d rows of %q for %q; a table", len(rows), property, material)
	}
	var c Curve
	for _, x := range rows {
		c.T, c.V = append(c.T, x.atSI()), append(c.V, x.si())
	}
	return c
}

// note records an equation's result as a fact.
func (r *reader) note(f Fact) { r.facts = append(r.facts, f) }
