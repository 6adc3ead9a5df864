package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strings"
	"testing"

	"billet/plots"
	"billet/sim"
	"billet/sim/unit"

	"pgregory.net/rapid"
)

// writers are both pages.
var writers = map[string]func(*sim.Result) ([]byte, error){
	"sheet":  Sheet,
	"report": func(r *sim.Result) ([]byte, error) { return Report(r, nil) },
}

// checkPage parses a page as XML, which all HTML written here also is, and
// returns its text outside style. It fails for anything that is not closed, for
// an identifier given twice, for a script, and for anything that would be
// fetched.
func checkPage(t rapid.TB, html []byte) string {
	t.Helper()
	for _, bad := range []string{"http", "//", "@import", "<script", "javascript", "NaN", "Inf", "%!"} {
		if strings.Contains(withoutData(string(html)), bad) {
			t.Errorf("the page has %q", bad)
		}
	}
	d := xml.NewDecoder(bytes.NewReader(html))
	var text strings.Builder
	ids := map[string]bool{}
	inStyle := false
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch k := tok.(type) {
		case xml.StartElement:
			inStyle = k.Name.Local == "style"
			checkElement(t, k, ids)
		case xml.EndElement:
			inStyle = false
			if k.Name.Local != "b" {
				text.WriteString(" ")
			}
		case xml.CharData:
			if !inStyle {
				text.Write(k)
			}
		}
	}
	return spaced(text.String())
}

// spaced has single plain spaces only.
func spaced(s string) string { return strings.Join(strings.Fields(s), " ") }

func checkElement(t rapid.TB, k xml.StartElement, ids map[string]bool) {
	t.Helper()
	for _, a := range k.Attr {
		switch n := a.Name.Local; {
		case n == "src" || n == "href" && !strings.HasPrefix(a.Value, "#"):
			if !strings.HasPrefix(a.Value, "data:") {
				t.Errorf("%s fetches %q", k.Name.Local, a.Value)
			}
		case n == "id":
			if ids[a.Value] {
				t.Errorf("two elements are %q", a.Value)
			}
			ids[a.Value] = true
		case strings.HasPrefix(n, "on"):
			t.Errorf("%s has the script %s", k.Name.Local, n)
		}
	}
	switch k.Name.Local {
	case "script", "link", "iframe", "object", "base":
		t.Errorf("the page has the element %s", k.Name.Local)
	}
}

var data = regexp.MustCompile(`data:image/png;base64,[A-Za-z0-9+/=]*`)

func withoutData(s string) string { return data.ReplaceAllString(s, "") }

// mustHave fails for each text that the page does not have.
func mustHave(t *testing.T, page string, texts ...string) {
	t.Helper()
	for _, s := range texts {
		if !strings.Contains(page, s) {
			t.Errorf("the page does not say %q", s)
		}
	}
}

func TestWellFormedAndRepeatable(t *testing.T) {
	for name, r := range cases(t) {
		for what, write := range writers {
			t.Run(name+" "+what, func(t *testing.T) {
				a, err := write(r)
				if err != nil {
					t.Fatal(err)
				}
				text := checkPage(t, a)
				for _, c := range r.Cautions {
					mustHave(t, text, c)
				}
				if b, _ := write(r); !bytes.Equal(a, b) {
					t.Error("twice the same result gives two pages")
				}
			})
		}
	}
}

func TestNoJob(t *testing.T) {
	for what, write := range writers {
		for _, r := range []*sim.Result{nil, {}} {
			if b, err := write(r); err == nil || b != nil {
				t.Errorf("%s of nothing: %d bytes, %v", what, len(b), err)
			}
		}
	}
}

// TestEveryHeatAndPass: each heat stands on the sheet once, and under it its
// passes in order, with the stop in both systems of units, the job's own first.
func TestEveryHeatAndPass(t *testing.T) {
	for _, units := range []sim.Units{sim.Metric, sim.Inch} {
		r := madeResult(t, 8, 3)
		r.Job.Units = units
		system := unit.Metric
		if units == sim.Inch {
			system = unit.Inch
		}
		b, err := Sheet(r)
		if err != nil {
			t.Fatal(err)
		}
		page := checkPage(t, b)
		for h := 1; h <= 8; h++ {
			if n := strings.Count(page, fmt.Sprintf("Heat %d:", h)); n != 1 {
				t.Errorf("heat %d stands there %d times", h, n)
			}
		}
		at := 0
		for _, p := range r.Work.Passes {
			if p.Number > 1 && p.Heat != r.Work.Passes[p.Number-2].Heat {
				k := strings.Index(page[at:], fmt.Sprintf("Heat %d:", p.Heat))
				if k < 0 {
					t.Fatalf("heat %d is not after the heats before it", p.Heat)
				}
				at += k
			}
			row := fmt.Sprintf("%d press", p.Number)
			k := strings.Index(page[at:], row)
			if k < 0 {
				t.Fatalf("pass %d is not there in its place", p.Number)
			}
			at += k
			stop := strings.Index(page[at:], system.BothLength(p.StopHot))
			if next := strings.Index(page[at:], fmt.Sprintf("%d press", p.Number+1)); stop < 0 || next >= 0 && next < stop {
				t.Errorf("pass %d does not stop at %s", p.Number, system.BothLength(p.StopHot))
			}
		}
	}
}

func TestSheetSays(t *testing.T) {
	r := madeResult(t, 4, 3)
	b, err := Sheet(r)
	if err != nil {
		t.Fatal(err)
	}
	page := checkPage(t, b)
	mustHave(t, page,
		"2 min 30 s pull for flux", "6 min 30 s looks ready: leave it in", "11.5 min soaked",
		"It may take 9 to 15 min; most of that is the forge reading.",
		"vanishes against the lining", "no shadow", "the colour holds",
		"Back in when it has fallen to orange, 950 °C (1740 °F)",
		"Heat 1: soak 11.5 min in all · back at orange, 950 °C (1740 °F)",
		"Heat 2: 3 min 40 s, core to 1100 °C (2012 °F) · back at orange, 950 °C (1740 °F)",
		"B down", "as it is", "flip: A down", "flip: B down", "6 × 30.0 mm", "measured: height",
		"Section, true size", "Blade, true size", "50 mm", "2 in", "Pass 2: the bar is thin.")
}

// TestNo: what does not work stands first and large, with what would help, and
// the red stop at its pass.
func TestNo(t *testing.T) {
	r := cases(t)["no"]
	for what, write := range writers {
		b, err := write(r)
		if err != nil {
			t.Fatal(err)
		}
		page := checkPage(t, b)
		soak := "the joints never get to welding heat: left in for good 1115 °C at the coldest, 35 °C short of 1150 °C"
		mustHave(t, page, soak, "Raise it off the brick", "pass 5 is more than the machine can do", "scale pits do not grind out")
		if what == "report" {
			mustHave(t, page, "No: it does not harden through", "300-series cladding on a full-thick ricasso splits.")
		}
		if what == "sheet" {
			mustHave(t, page, "NO: "+soak, "STOP: 97 % of the ram; stay below 80 %")
			if strings.Index(page, "NO: ") > strings.Index(page, "Heat 1") {
				t.Error("the sheet says no after the heats")
			}
		}
	}
}

func TestReportSays(t *testing.T) {
	r := madeResult(t, 4, 3)
	r.Ground.Answer.Mismatch = nil
	b, err := Report(r, nil)
	if err != nil {
		t.Fatal(err)
	}
	page := checkPage(t, b)
	order := []string{"In short", "The pieces to cut", "The soak", "The passes", "Where the core goes", "What the fire takes", "What the bevels show", "The heat treatment", "The lesson", "Assumed", "Warnings", "Take care"}
	at := -1
	for _, s := range order {
		k := strings.LastIndex(page, s)
		if k <= at {
			t.Errorf("%q is missing or out of order", s)
		}
		at = k
	}
	for _, p := range r.Work.Passes {
		mustHave(t, page, unit.Metric.BothLength(p.StopHot))
	}
	mustHave(t, page, "12 passes in 4 heats bring", "In the end 0.10 mm toward A", "most by: one side colder",
		"warm the dies to 250 °C (then 0.03 mm toward A)", "the edge leaves the core on 2.0 % of days; what matters most: heat from side to side",
		"Carbon left in the core where the edge will lie: 0.78 %", "2 of 1018 9.0 mm × 40.0 mm × 140 mm",
		"The core at the edge: 65 ± 2 HRC as quenched, 60 ± 2 HRC tempered. It hardens through.", "under 20 HRC",
		"The core's points: Ac1 735 °C, Ac3 765 °C, Ms 220 °C.", "temper colour: straw", "Side B comes out convex, by at most 2.00 mm",
		"The edge lies in the core all along and the pits grind out", "Scale is good to a factor of two.", "Pass 2: the bar is thin.")
}

// TestEscape: whatever the job is called, the page is a page and says it.
func TestEscape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title := rapid.OneOf(rapid.String(), rapid.Just(`</title><img onerror="x"> & 'it' ]]> 漢字`)).Draw(t, "title")
		r := &sim.Result{Job: madeJob(), Soak: madeSoak(), Warnings: []string{title}, Cautions: []string{title}}
		r.Job.Title, r.Job.Stack.Layers[0].Material.Name = title, title
		want := strings.Map(func(c rune) rune {
			switch {
			case c == '\t' || c == '\n' || c == '\r' || c == '\u00a0':
				return ' '
			case c < 0x20 || c >= 0x7f && c < 0xa0 || c == 0xfffe || c == 0xffff:
				return '\ufffd'
			}
			return c
		}, title)
		for what, write := range writers {
			b, err := write(r)
			if err != nil {
				t.Fatal(err)
			}
			for _, bad := range []string{"http", "//", "@import", "javascript", "NaN", "Inf", "%!"} {
				if strings.Contains(title, bad) {
					return
				}
			}
			if text := checkPage(t, b); !strings.Contains(text, spaced(want)) {
				t.Errorf("%s does not say %q", what, want)
			}
		}
	})
	if got, want := escape("a\x00b\xff<&>\"'"), "a\ufffdb\ufffd&lt;&amp;&gt;&quot;&#39;"; got != want {
		t.Errorf("%q, wanted %q", got, want)
	}
}

func TestFigures(t *testing.T) {
	svg := `<?xml version="1.0"?><!-- x --><svg width="10pt" height="5pt" viewBox="0 0 10 5" xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"><clipPath id="c"><path d="M0 0"/></clipPath><g clip-path="url(#c)"><text>%s</text></g></svg>`
	fig := func(name string) plots.Figure {
		return plots.Figure{Name: name, Title: `a "title"`, Bytes: []byte(fmt.Sprintf(svg, name)), Format: plots.SVG}
	}
	png := plots.Figure{Name: "soak-section", Title: `<b> & "q"`, Bytes: []byte{0x89, 'P', 'N', 'G'}, Format: plots.PNG}
	r := madeResult(t, 4, 3)
	b, err := Report(r, []plots.Figure{fig("drift-causes"), png, fig("soak-history"), fig("elsewhere"), fig("passes-size")})
	if err != nil {
		t.Fatal(err)
	}
	page := checkPage(t, b)
	at := map[string]int{}
	for _, s := range []string{"soak-history", "The passes", "passes-size", "Where the core goes", "drift-causes", "What the fire takes", "More pictures", "elsewhere"} {
		if strings.Count(page, s) != 1 {
			t.Errorf("%q is there %d times", s, strings.Count(page, s))
		}
		at[s] = strings.Index(page, s)
	}
	for _, pair := range [][2]string{{"soak-history", "The passes"}, {"passes-size", "Where the core goes"}, {"drift-causes", "What the fire takes"}, {"More pictures", "elsewhere"}} {
		if at[pair[0]] > at[pair[1]] {
			t.Errorf("%s comes after %s", pair[0], pair[1])
		}
	}
	mustHave(t, string(b), `src="data:image/png;base64,iVBORw=="`, `id="f0-c"`, `url(#f0-c)`, `id="f2-c"`, `viewBox="0 0 10 5"`)
	for _, bad := range []plots.Figure{{Name: "x", Format: plots.SVG, Bytes: []byte("no picture")}, {Name: "x", Format: plots.Format(9)}} {
		if _, err := Report(r, []plots.Figure{bad}); err == nil || !strings.Contains(err.Error(), `"x"`) {
			t.Errorf("%v: %v", bad.Format, err)
		}
	}
}

// TestRealFigures: pictures as plots writes them fit into the page.
func TestRealFigures(t *testing.T) {
	r := madeResult(t, 4, 3)
	figures, err := plots.Passes(r, plots.SVG)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Report(r, figures)
	if err != nil {
		t.Fatal(err)
	}
	checkPage(t, b)
	bare, err := Report(r, nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(b), "<svg") - strings.Count(string(bare), "<svg"); n != len(figures) || n == 0 {
		t.Errorf("%d pictures of %d", n, len(figures))
	}
	if strings.Count(string(bare), "mm\" viewBox") != 3 {
		t.Error("the report has not section, blade and ruler at true size")
	}
}

// TestColdAndParts: work off the fire stands by itself, and a bar longer than
// the fire says so.
func TestColdAndParts(t *testing.T) {
	r := madeResult(t, 3, 3)
	r.Work.Passes[3].Tool, r.Work.Passes[6].Parts = sim.ByRestack, 2
	r.Job.Passes = []sim.Pass{{Tool: sim.ByPress, Repeat: 3}, {Tool: sim.ByRestack, Pieces: 4, Off: 0.0004}}
	b, err := Sheet(r)
	if err != nil {
		t.Fatal(err)
	}
	mustHave(t, checkPage(t, b), "Cold", "cut in 4, grind 0.4 mm off each face, stack", "too long for the fire: in 2 parts")
}

func TestPartsOfNames(t *testing.T) {
	var names []string
	for n := range causeNames {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		if causeName(n) == n {
			t.Errorf("%s has no words", n)
		}
	}
	if got := causeName("new_thing"); got != "new thing" {
		t.Errorf("%q", got)
	}
	for i, n := range sim.InputNames {
		if got := inputName(i); strings.Contains(got, "_") || got == "?" {
			t.Errorf("%s is written %q", n, got)
		}
	}
}
