package metal

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

// Fact is one looked-up number with where it comes from.
type Fact struct {
	Of, Property string
	At           string // as the source gives it, or empty
	AtUnit       string
	Value        float64 // in Unit
	Unit         string
	Source       string // key of Sources
	Locator      string
	Status       string // read, read in excerpt, from memory, assumed or common practice
}

// Source is a publication the numbers come from.
type Source struct {
	Key, Authors, Title, Year, HowRead string
}

// units are the allowed units: SI = offset + factor * value. HRC, HV, wt % and h
// stand as they are.
var units = map[string]struct{ factor, offset float64 }{
	"1": {1, 0}, "C": {1, zeroC}, "F": {5.0 / 9, 459.67 * 5 / 9}, "s": {1, 0}, "h": {1, 0}, "wt %": {1, 0}, "HRC": {1, 0}, "HV": {1, 0},
	"W/m2K": {1, 0}, "": {1, 0},
}

var statuses = map[string]bool{"read": true, "read in excerpt": true, "from memory": true, "assumed": true, "common practice": true}

func (f Fact) si() float64 { return units[f.Unit].offset + units[f.Unit].factor*f.Value }

func (f Fact) atSI() float64 {
	v, _ := strconv.ParseFloat(f.At, 64) // names have no number and are not asked for one
	return units[f.AtUnit].offset + units[f.AtUnit].factor*v
}

type tables struct {
	facts   []Fact
	sources []Source
}

// library reads the embedded files once; a test shows that it does not fail.
var library = sync.OnceValues(func() (*tables, error) {
	t := &tables{}
	rows, err := records("data/sources.csv", "key,authors,title,year,how_read")
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, r := range rows {
		t.sources = append(t.sources, Source{r[0], r[1], r[2], r[3], r[4]})
		known[r[0]] = true
	}
	rows, err = records("data/tables.csv", "material,property,at,at_unit,value,unit,source,locator,status")
	if err != nil {
		return nil, err
	}
	for i, r := range rows {
		f := Fact{Of: r[0], Property: r[1], At: r[2], AtUnit: r[3], Unit: r[5], Source: r[6], Locator: r[7], Status: r[8]}
		if f.Value, err = strconv.ParseFloat(r[4], 64); err != nil || math.IsNaN(f.Value) || math.IsInf(f.Value, 0) {
			return nil, fmt.Errorf("tables.csv line %d: value %q; a finite number", i+2, r[4])
		}
		_, unit := units[f.Unit]
		_, at := units[f.AtUnit]
		if !unit || !at || !known[f.Source] || !statuses[f.Status] || f.Locator == "" {
			return nil, fmt.Errorf("tables.csv line %d: unit %q, at_unit %q, source %q, locator %q, status %q; known ones", i+2, f.Unit, f.AtUnit, f.Source, f.Locator, f.Status)
		}
		t.facts = append(t.facts, f)
	}
	return t, nil
})

func records(name, header string) ([][]string, error) {
	text, err := files.ReadFile(name)
	if err != nil {
		return nil, err
	}
	all, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(all) == 0 || strings.Join(all[0], ",") != header {
		return nil, fmt.Errorf("%s: first line is not %q", name, header)
	}
	return all[1:], nil
}

// Facts lists the numbers looked up for something ("fast oil", "O1"), in file
// order; all of them for an empty name.
func Facts(of string) []Fact {
	t, err := library()
	if err != nil {
		return nil
	}
	var out []Fact
	for _, f := range t.facts {
		if of == "" || f.Of == of {
			out = append(out, f)
		}
	}
	return out
}

// Sources lists every publication the looked-up numbers come from.
func Sources() []Source {
	t, err := library()
	if err != nil {
		return nil
	}
	return append([]Source(nil), t.sources...)
}

// column is one property of something, by rising argument.
func column(of, property string) (at, value []float64) {
	for _, f := range Facts(of) {
		if f.Property == property {
			at, value = append(at, f.atSI()), append(value, f.si())
		}
	}
	return at, value
}

// number is a property without argument, otherwise where there is none.
func number(of, property string, otherwise float64) float64 {
	if _, v := column(of, property); len(v) == 1 {
		return v[0]
	}
	return otherwise
}

// interpolate is straight between the points, held at the ends.
func interpolate(at, value []float64, x float64) float64 {
	n := len(at)
	if n == 0 {
		return 0
	}
	if !(x > at[0]) {
		return value[0]
	}
	for i := 1; i < n; i++ {
		if x <= at[i] {
			return value[i-1] + (value[i]-value[i-1])*(x-at[i-1])/(at[i]-at[i-1])
		}
	}
	return value[n-1]
}
