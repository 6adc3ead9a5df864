package steel

import (
	"strings"
	"testing"
)

func TestLibraryLoads(t *testing.T) {
	if _, err := library(); err != nil {
		t.Fatal(err)
	}
}

// Every source is named by some fact, and every fact names a source.
func TestSourcesUsed(t *testing.T) {
	used := map[string]bool{}
	for _, c := range everyColour() {
		used[c.Source] = true
	}
	for _, m := range allMaterials(t) {
		for _, f := range Describe(m) {
			used[f.Source] = true
			if f.Property == "" || f.Locator == "" || !statuses[f.Status] {
				t.Errorf("%s: fact %+v is incomplete", m.Name, f)
			}
			if _, known := units[f.Unit]; !known {
				t.Errorf("%s: fact %+v: unknown unit", m.Name, f)
			}
		}
	}
	rho := 7000.0
	own, err := Own(Override{Name: "x", Density: &rho})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range own.Facts {
		used[f.Source] = true
	}
	for _, s := range Sources() {
		if !used[s.Key] {
			t.Errorf("source %s is never used", s.Key)
		}
		delete(used, s.Key)
	}
	for k := range used {
		t.Errorf("source %s is not in sources.csv", k)
	}
}

// Every row of the data files reaches some material or colour.
func TestRowsUsed(t *testing.T) {
	b, err := library()
	if err != nil {
		t.Fatal(err)
	}
	facts := map[string]bool{}
	for _, m := range allMaterials(t) {
		for _, f := range m.Facts {
			facts[m.Name+": "+f.Property], facts[f.Property] = true, true
		}
	}
	for _, k := range b.order {
		material, property, _ := strings.Cut(k, "\x00")
		isColour := strings.Contains(material, "/")
		if !isColour && !facts[material+": "+property] {
			t.Errorf("%s, %s: in the data, used by no material", material, property)
		}
	}
}

func TestLoaderIsStrict(t *testing.T) {
	const head = "material,property,at,at_unit,value,unit,source,locator,status\n"
	good := "m,p,1,C,2,W/mK,s,l,read\n"
	load := func(text string) error {
		rows, err := readRows(text)
		if err != nil {
			return err
		}
		return (&book{rows: map[string][]row{}, sources: []Source{{Key: "s"}}}).add(rows)
	}
	if err := load(head + good); err != nil {
		t.Fatalf("a good row: %v", err)
	}
	for _, c := range []struct{ name, text, says string }{
		{"header", strings.Replace(head, "unit", "units", 1) + good, "first line"},
		{"unit", head + "m,p,1,C,2,furlong,s,l,read\n", "unit"},
		{"at unit", head + "m,p,1,F,2,W/mK,s,l,read\n", "at_unit"},
		{"half an argument", head + "m,p,1,,2,W/mK,s,l,read\n", "both or neither"},
		{"status", head + "m,p,1,C,2,W/mK,s,l,guessed\n", "status"},
		{"source", head + "m,p,1,C,2,W/mK,nobody,l,read\n", "sources.csv"},
		{"no locator", head + "m,p,1,C,2,W/mK,s,,read\n", "locator"},
		{"not a number", head + "m,p,1,C,two,W/mK,s,l,read\n", "finite"},
		{"not finite", head + "m,p,1,C,NaN,W/mK,s,l,read\n", "finite"},
		{"duplicate", head + good + good, "increasing"},
		{"decreasing", head + good + "m,p,0.5,C,2,W/mK,s,l,read\n", "increasing"},
		{"single given twice", head + "m,p,,,2,W/mK,s,l,read\nm,p,,,2,W/mK,s,l,read\n", "increasing"},
		{"short row", head + "m,p,1,C\n", "field"},
	} {
		if err := load(c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: got %v; want an error with %q", c.name, err, c.says)
		}
	}
	if _, err := readSources("key,authors,title,year,how_read\na,b,c,1,d\na,b,c,1,d\n"); err == nil {
		t.Error("a source key given twice passed")
	}
}

func allMaterials(t *testing.T) []Material {
	t.Helper()
	var out []Material
	for _, n := range Names() {
		out = append(out, material(t, n))
	}
	return out
}

func material(t *testing.T, name string) Material {
	t.Helper()
	m, err := Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
