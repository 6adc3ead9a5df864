package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"billet/sim"
	"billet/sim/steel"
)

var materialsCommand = command{
	name: "materials",
	line: "what is known of each material, and where from",
	help: `The materials a job can name, or every number used for one of them with its
source: who wrote it, where it stands, and whether it was read there.

    billet materials
    billet materials 52100
    billet materials 52100 --format csv -o 52100.csv

Flags:
        --format FORMAT      text, json or csv
        --units UNITS        metric or inch; the numbers of one material stand
                             as their source gives them
    -o, --out FILE           write the answer into FILE
        --quiet              say nothing but the answer and errors

Status of a number: read; read in excerpt (the passage, not the whole work);
from memory; assumed; common practice.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json", "csv")
		f.takeUnits()
		f.takeOut()
	},
	run: runMaterials,
}

func runMaterials(c *call) error {
	if len(c.args) == 0 {
		return c.out.deliver(allMaterials(c), nil)
	}
	name := strings.Join(c.args, " ") // names of two words need no quotes
	m, err := steel.Lookup(name)
	if err != nil {
		near := steel.Nearest(name)
		hint := `"billet materials" lists them`
		if len(near) > 0 && len(near) < len(steel.Names()) {
			hint = "did you mean " + orList(near) + "?"
		}
		return misuse(fmt.Sprintf("%s: not a known material", name), hint)
	}
	return c.out.deliver(oneMaterial(c, m), nil)
}

// allMaterials lists the materials.
func allMaterials(c *call) []byte {
	var ms []steel.Material
	for _, name := range steel.Names() {
		if m, err := steel.Lookup(name); err == nil {
			ms = append(ms, m)
		}
	}
	switch c.flags.format {
	case "json":
		return encode(materialsJSON{newHeading(c.name, "", nil), briefs(ms)})
	case "csv":
		rows := [][]string{{"name", "carbon_percent", "burns_above_c", "title"}}
		for _, m := range briefs(ms) {
			rows = append(rows, []string{m.Name, plain(float64(m.Carbon.rounded())), plain(float64(m.Limit.rounded())), m.Title})
		}
		return table(rows)
	}
	units, _ := c.flags.system(sim.Metric) // checked with the flags
	w := unitSystem(units)
	rows := [][]string{{"name", "carbon", "burns above", ""}}
	for _, m := range ms {
		rows = append(rows, []string{m.Name, w.Share(m.Carbon / 100), w.Temperature(m.BurnLimit()), titleBeside(m)})
	}
	b := &bytes.Buffer{}
	columns(b, "", "lrrl", rows)
	b.WriteString("\n")
	paragraph(b, "", "", `Above "burns above" a warning is given: it stands below the heat at which the steel first melts. "billet materials NAME" shows every number of one with its source. A job may bring its own steels.`)
	return b.Bytes()
}

// titleBeside is a material's title without the name it may begin with.
func titleBeside(m steel.Material) string {
	if m.Title == m.Name {
		return ""
	}
	if rest, ok := strings.CutPrefix(m.Title, m.Name+" "); ok {
		return rest
	}
	return m.Title
}

type materialsJSON struct {
	heading
	Materials []briefJSON `json:"materials"`
}

type briefJSON struct {
	Name    string `json:"name"`
	Title   string `json:"title"`
	Carbon  number `json:"carbon_percent"`
	Limit   number `json:"burns_above_c"`
	Solidus number `json:"first_melting_c"`
}

func briefs(ms []steel.Material) []briefJSON {
	var out []briefJSON
	for _, m := range ms {
		out = append(out, briefJSON{m.Name, m.Title, number(m.Carbon), celsius(m.BurnLimit()), celsius(m.Solidus)})
	}
	return out
}

// oneMaterial writes every number of a material.
func oneMaterial(c *call, m steel.Material) []byte {
	facts := steel.Describe(m)
	sources := map[string]steel.Source{}
	for _, s := range steel.Sources() {
		sources[s.Key] = s
	}
	switch c.flags.format {
	case "json":
		h := newHeading(c.name, m.Title, &sim.Result{Assumed: m.Assumed})
		return encode(materialJSON{h, briefs([]steel.Material{m})[0], m.FlowRange(), factsOf(facts, sources)})
	case "csv":
		rows := [][]string{{"property", "at", "value", "unit", "status", "authors", "title", "year", "locator", "how_read"}}
		for _, f := range facts {
			s := sources[f.Source]
			rows = append(rows, []string{f.Property, f.At, plain(f.Value), f.Unit, f.Status, s.Authors, s.Title, s.Year, f.Locator, s.HowRead})
		}
		return table(rows)
	}
	return materialText(m, facts)
}

type materialJSON struct {
	heading
	Material  briefJSON  `json:"material"`
	FlowRange string     `json:"flow_range"`
	Facts     []factJSON `json:"facts"`
}

type factJSON struct {
	Property string  `json:"property"`
	At       string  `json:"at"`
	Value    float64 `json:"value"`
	Unit     string  `json:"unit"`
	Status   string  `json:"status"`
	Authors  string  `json:"authors"`
	Title    string  `json:"source_title"`
	Year     string  `json:"year"`
	Locator  string  `json:"locator"`
	HowRead  string  `json:"how_read"`
}

func factsOf(facts []steel.Fact, sources map[string]steel.Source) []factJSON {
	out := []factJSON{}
	for _, f := range facts {
		s := sources[f.Source]
		out = append(out, factJSON{f.Property, f.At, f.Value, f.Unit, f.Status, s.Authors, s.Title, s.Year, f.Locator, s.HowRead})
	}
	return out
}

// materialText is a material for a person: numbers with the sources numbered,
// then the sources.
func materialText(m steel.Material, facts []steel.Fact) []byte {
	b := &bytes.Buffer{}
	fmt.Fprintf(b, "%s\n\n", m.Title)
	number, used := map[string]int{}, []string{}
	locator, property := "", ""
	var rows [][]string
	for _, f := range facts {
		if number[f.Source] == 0 {
			used = append(used, f.Source)
			number[f.Source] = len(used)
		}
		at := ""
		if f.At != "" {
			at = "at " + f.At
		}
		cells := []string{f.Property, at, plain(f.Value) + unitText(f.Unit), fmt.Sprintf("[%d]", number[f.Source]), f.Status, f.Locator}
		if f.Property == property && f.Locator == locator {
			cells[0], cells[5] = "", "" // a column of one table: named once
		}
		property, locator = f.Property, f.Locator
		rows = append(rows, cells)
	}
	columns(b, "  ", "llrlll", rows)
	b.WriteString("\n")
	paragraph(b, "", "", "Strength: "+sentence(m.FlowRange()))
	bullets(b, "Assumed", m.Assumed)
	b.WriteString("\nSources\n")
	for i, key := range used {
		for _, s := range steel.Sources() {
			if s.Key == key {
				paragraph(b, fmt.Sprintf("  [%d] ", i+1), "      ", citation(s))
			}
		}
	}
	return b.Bytes()
}

// citation is a source in a line, with how it was read.
func citation(s steel.Source) string {
	var parts []string
	for _, p := range []string{s.Authors, s.Title, s.Year} {
		if p != "" {
			parts = append(parts, strings.TrimSuffix(p, "."))
		}
	}
	return strings.Join(parts, ". ") + ". (" + s.HowRead + ")"
}

// unitText is a unit behind a number; a bare factor has none.
func unitText(u string) string {
	if u == "1" || u == "" {
		return ""
	}
	return " " + u
}

// plain writes a number of the data as it was typed.
func plain(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// table writes rows as csv.
func table(rows [][]string) []byte {
	b := &bytes.Buffer{}
	w := csv.NewWriter(b)
	w.WriteAll(rows) // into a buffer, which takes everything
	return b.Bytes()
}
