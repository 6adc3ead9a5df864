package sheet

import (
	"encoding/base64"
	"fmt"
	"regexp"
	"strings"

	"billet/plots"
	"billet/sim"
)

// Report is one self-contained HTML page of a run: the answers in short, then
// tables and pictures part by part, then warnings, what was assumed, and
// cautions. It needs no network and no script. Figures stand in the part their
// name begins with ("soak-history" with the soak), in their order, others at the
// end; SVG is embedded as it is, PNG as data. It returns an error where r has no
// job, or for a figure that is neither.
func Report(r *sim.Result, figures []plots.Figure) ([]byte, error) {
	if r == nil || r.Job == nil {
		return nil, errNoJob
	}
	w := report{words: wordsFor(r)}
	for i, f := range figures {
		p, err := embedded(f, i)
		if err != nil {
			return nil, err
		}
		w.figures = append(w.figures, p)
	}
	p := &w.page
	p.begin(w.title("Report"), reportStyle)
	p.WriteString("<main>\n")
	p.line("h1", w.title("Report"))
	p.line("p", w.stack()+".", "class", "about")
	w.answers()
	w.parts()
	w.rest()
	p.WriteString("</main>\n")
	p.end()
	return p.Bytes(), nil
}

// report is a report being written.
type report struct {
	words
	page
	figures []picture
}

// picture is a figure as HTML.
type picture struct {
	name, html string
	used       bool
}

// answers is the short answer of every part that is there.
func (w *report) answers() {
	w.open("section", "class", "answers")
	w.WriteString("\n")
	w.line("h2", "In short")
	w.WriteString("<dl>\n")
	for _, a := range w.shortAnswers() {
		w.line("dt", a.what)
		class := ""
		if a.no {
			class = "no"
		}
		w.line("dd", a.text, "class", class)
	}
	w.WriteString("</dl>\n")
	w.close("section")
}

// parts writes the parts that are there.
func (w *report) parts() {
	r := w.r
	w.part(r.Stock != nil, "The pieces to cut", "stock", w.stockPart)
	w.part(r.Soak != nil, "The soak", "soak", w.soakPart)
	w.part(r.Work != nil, "The passes", "passes", w.passesPart)
	w.part(r.Work != nil, "Where the core goes", "drift", w.driftPart)
	w.part(r.Losses != nil, "What the fire takes", "losses", w.lossesPart)
	w.part(r.Ground != nil && r.Ground.Answer != nil, "What the bevels show", "grind", w.grindPart)
	w.part(r.Hardened != nil, "The heat treatment", "harden", w.hardenPart)
	w.part(r.Lesson != nil, "The lesson", "lesson", w.lessonPart)
	w.part(w.unused(), "More pictures", "", func() {})
}

// part writes a part with the figures whose names begin with stem.
func (w *report) part(there bool, title, stem string, write func()) {
	if !there {
		return
	}
	w.open("section", "id", stem)
	w.WriteString("\n")
	w.line("h2", title)
	write()
	for i := range w.figures {
		f := &w.figures[i]
		if !f.used && strings.HasPrefix(f.name, stem) {
			f.used = true
			w.WriteString(f.html)
		}
	}
	w.close("section")
}

// unused tells whether a figure stands in no part.
func (w *report) unused() bool {
	for _, f := range w.figures {
		if !f.used {
			return true
		}
	}
	return false
}

// rest is what all of it rests on.
func (w *report) rest() {
	for _, k := range []struct {
		title string
		items []string
	}{{"Assumed", w.r.Assumed}, {"Warnings", w.r.Warnings}, {"Take care", w.r.Cautions}} {
		if len(k.items) == 0 {
			continue
		}
		w.WriteString("<section>\n")
		w.line("h2", k.title)
		w.list("", k.items)
		w.close("section")
	}
}

// embedded makes a figure part of the page.
func embedded(f plots.Figure, n int) (picture, error) {
	p := picture{name: f.Name}
	var b page
	b.WriteString("<figure>")
	switch f.Format {
	case plots.SVG:
		svg, err := inline(f, n)
		if err != nil {
			return p, err
		}
		b.WriteString(svg)
	case plots.PNG:
		b.WriteString(`<img alt="` + escape(f.Title) + `" src="data:image/png;base64,` + base64.StdEncoding.EncodeToString(f.Bytes) + `"/>`)
	default:
		return p, fmt.Errorf("report: figure %q: %v; SVG or PNG", f.Name, f.Format)
	}
	b.close("figure")
	p.html = b.String()
	return p, nil
}

// What an SVG file has that a picture within a page must not: names of spaces,
// which a page gives itself, and a size that does not follow the page's.
var (
	svgTag    = regexp.MustCompile(`(?s)<svg\b[^>]*>`)
	svgSpace  = regexp.MustCompile(`(?s)\s+xmlns(:\w+)?\s*=\s*("[^"]*"|'[^']*')`)
	svgSize   = regexp.MustCompile(`(?s)\s(width|height)\s*=\s*("[^"]*"|'[^']*')`)
	svgID     = regexp.MustCompile(`(\s)id="([^"]*)"`)
	svgIDUsed = regexp.MustCompile(`(url\(#|href="#)`)
)

// inline is an SVG file as an element of the page. Identifiers are numbered by
// figure, so that those of two figures do not meet.
func inline(f plots.Figure, n int) (string, error) {
	s := string(f.Bytes)
	at := svgTag.FindStringIndex(s)
	end := strings.LastIndex(s, "</svg>")
	if at == nil || end < at[1] {
		return "", fmt.Errorf("report: figure %q: not an SVG picture; one with an svg element", f.Name)
	}
	tag := svgSize.ReplaceAllString(svgSpace.ReplaceAllString(s[at[0]:at[1]], ""), "")
	tag = strings.Replace(tag, "<svg", `<svg role="img"`, 1)
	body := s[at[1] : end+len("</svg>")]
	mark := fmt.Sprintf("f%d-", n)
	body = svgID.ReplaceAllString(body, `${1}id="`+mark+`${2}"`)
	body = svgIDUsed.ReplaceAllString(body, "${1}"+mark)
	return tag + body, nil
}
