package plots

import (
	"fmt"
	"math"
	"slices"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// driftSections is end views after chosen passes, at true scale.
type driftSections struct {
	name, title, subtitle string
	cells                 []endCell
	units                 shown
}

// endCell is an end view and what is written under it.
type endCell struct {
	view  sim.EndView
	lines [3]string
}

const (
	cellsTall = vg.Length(480) // pt, all rows of end views together at the most
	cellTall  = vg.Length(200) // pt, one end view at the most
	cellGap   = vg.Length(30)  // pt, between two, with room for the sides' letters
	cellLine  = vg.Length(13)  // pt, a line under one
	cellFoot  = 3*cellLine + 18
	sideRoom  = vg.Length(18) // pt, left of each, for the sides' letters
)

// driftSheets lays out the pictures of the drift.
func driftSheets(r *sim.Result) []*sheet {
	var all []*sheet
	w := r.Work
	if len(w.Sections) > 0 {
		all = append(all, sections(r).sheet())
	}
	all = append(all, driftPasses(r).sheet())
	if len(w.Causes) > 0 {
		all = append(all, driftCauses(r).sheet())
	}
	if len(w.Final.Along.At) > 0 {
		all = append(all, driftAlong(r).sheet())
	}
	if len(w.Final.Across.At) > 1 {
		all = append(all, driftAcross(r).sheet())
	}
	if f := driftFlow(r); f != nil {
		all = append(all, f.sheet())
	}
	return all
}

// sections collects what the picture shows.
func sections(r *sim.Result) *driftSections {
	s, w := shownIn(r.Job), r.Work
	k := &driftSections{name: "drift-sections", title: sectionsTitle(w, s),
		subtitle: billet(r.Job, s, "end views at mid length"), units: s}
	for _, c := range chosen(w) {
		sizes := w.Start
		if c.view.Pass > 0 {
			sizes = w.Passes[c.view.Pass-1].After
		}
		head := capital(c.why)
		if c.view.Pass > 0 {
			head = fmt.Sprintf("Pass %d: %s", c.view.Pass, c.why)
		}
		k.cells = append(k.cells, endCell{c.view, [3]string{head, s.toward(c.view.Offset), s.across(sizes)}})
	}
	return k
}

// choice is an end view and why it was chosen.
type choice struct {
	view sim.EndView
	why  string
}

// chosen are the end views to show, in order: the start, once the weld is
// set, at about half the thickness, where the core is furthest off, the end.
// One that is chosen twice goes by its first reason but the end's.
func chosen(w *sim.Work) []choice {
	why := map[int]string{}
	note := func(view int, text string) {
		if view >= 0 && why[view] == "" {
			why[view] = text
		}
	}
	last := len(w.Sections) - 1
	note(last, "finished")
	note(0, "the start")
	note(viewOf(w, weldSet(w)), "the weld is set")
	note(viewOf(w, halfWay(w)), "about half the thickness")
	far := 0
	for i, v := range w.Sections {
		if math.Abs(v.Offset) > math.Abs(w.Sections[far].Offset) {
			far = i
		}
	}
	const notable = 1.25 // times the final offset
	if math.Abs(w.Sections[far].Offset) > notable*math.Abs(w.Sections[last].Offset) {
		note(far, "furthest off")
	}
	if w.Sections[last].Pass == 0 {
		why[last] = "the start"
	}
	var out []choice
	for i, v := range w.Sections {
		if why[i] != "" {
			out = append(out, choice{v, why[i]})
		}
	}
	return out
}

// viewOf is the end view after a pass; −1 where none was kept.
func viewOf(w *sim.Work, pass int) int {
	return slices.IndexFunc(w.Sections, func(v sim.EndView) bool { return v.Pass == pass && pass > 0 })
}

// weldSet is the first pass after which every joint is set, unless they were
// from the start; 0 for none.
func weldSet(w *sim.Work) int {
	for i, p := range w.Passes {
		if p.Welded >= 1 {
			return i + 1
		}
	}
	return 0
}

// halfWay is the pass after which the bar is nearest half as thick as at the
// start; 0 where it never gets near.
func halfWay(w *sim.Work) int {
	best, near := 0, 0.25 // shares of half the thickness
	for i, p := range w.Passes {
		if d := math.Abs(p.After.Thickness/(w.Start.Thickness/2) - 1); d < near {
			best, near = i+1, d
		}
	}
	return best
}

// cellRow is end views side by side.
type cellRow struct {
	from, to   int
	wide, high vg.Length // of the whole, and of the highest end view
}

// wide is the room a cell takes across.
func (c endCell) wide(scale vg.Length) vg.Length {
	w, _ := size(c.view)
	most := scale * vg.Length(w)
	for i, l := range c.lines {
		most = max(most, cellHand(i).width(l))
	}
	return most
}

// cellHand is the hand of line i under an end view.
func cellHand(i int) hand { return [...]hand{handHead, handLabel, handSub}[i] }

// pack puts the cells in rows at a scale.
func (k *driftSections) pack(scale vg.Length) (rows []cellRow, high vg.Length) {
	room := pageWidth - 2*pageMargin
	for i, c := range k.cells {
		_, h := size(c.view)
		wide, tall := sideRoom+c.wide(scale), max(scale*vg.Length(h), sidesTall())
		n := len(rows) - 1
		if n < 0 || rows[n].wide+cellGap+wide > room {
			rows = append(rows, cellRow{i, i + 1, wide, tall})
			continue
		}
		r := &rows[n]
		r.to, r.wide, r.high = i+1, r.wide+cellGap+wide, max(r.high, tall)
	}
	for _, r := range rows {
		high += r.high + cellFoot
	}
	return rows, high
}

// scale is the largest scale at which all fit, pt per m.
func (k *driftSections) scale() vg.Length {
	scale := vg.Length(math.Inf(1))
	for _, c := range k.cells {
		w, h := size(c.view)
		scale = min(scale, (pageWidth-2*pageMargin-sideRoom-midSpill)/vg.Length(w), cellTall/vg.Length(h))
	}
	for range 200 { // to a fiftieth: captions alone then take less than the page
		if _, high := k.pack(scale); high <= cellsTall {
			break
		}
		scale *= 0.98
	}
	return scale
}

// sheet draws the picture.
func (k *driftSections) sheet() *sheet {
	scale := k.scale()
	rows, high := k.pack(scale)
	const foot = pageMargin + 2*axisRow
	const over = vg.Length(16)
	s := head(k.name, k.title, k.subtitle, over+high+foot)
	y := foot + high
	e := ender{scale, tintsOf(k.cells[0].view)}
	for _, r := range rows {
		y -= r.high
		x := pageMargin
		for _, c := range k.cells[r.from:r.to] {
			w, h := size(c.view)
			x += sideRoom
			deep := scale * vg.Length(h)
			low := y + (r.high-deep)/2
			e.draw(s, c.view, x, low)
			s.sides(x, low, deep)
			for i, l := range c.lines {
				s.text(cellHand(i), x, y-12-cellLine*vg.Length(i), 0, l)
			}
			x += max(c.wide(scale), scale*vg.Length(w)) + cellGap
		}
		y -= cellFoot
	}
	s.ruler(pageMargin+sideRoom, pageMargin+axisRow/2, scale, k.units)
	s.text(handNote, pageWidth-pageMargin, pageMargin+axisRow/2, 1, "true scale, all alike; core shaded, dashed line: the bar’s own middle; side A up, whichever lay down")
	return s
}

// sectionsTitle says where the core ends.
func sectionsTitle(w *sim.Work, s shown) string {
	o := w.Final.Offset
	if s.nothing(o) {
		return "The core ends on the middle of the bar"
	}
	text := fmt.Sprintf("The core ends %s off the middle toward side %s, %s", whole(s.fine(o)), sideOf(o), whole(s.share(o, w.Final.Thickness)))
	if w.EdgeOffset.OK && s.off(w.EdgeOffset.Value) != s.off(o) {
		text += fmt.Sprintf("; at the blade’s edge %s", whole(s.toward(w.EdgeOffset.Value)))
	}
	return text
}
