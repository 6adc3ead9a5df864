package plots

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// causeBars is what each cause adds to the final offset.
type causeBars struct {
	name, title, subtitle string
	across                axis // shown offset
	rows                  []causeRow
	none                  string    // causes that add nothing
	names                 vg.Length // pt, the room of the names
	unit                  string
}

// causeRow is one bar.
type causeRow struct {
	name, label string
	value       float64 // shown
	ink         color.Color
	sum         bool
}

const (
	causeRowTall = vg.Length(22)  // pt
	causeNames   = vg.Length(190) // pt, left of the bars at the most
	causeLabel   = vg.Length(84)  // pt, beside the bars for their numbers
)

// driftCauses collects what the picture shows.
func driftCauses(r *sim.Result) *causeBars {
	s, w := shownIn(r.Job), r.Work
	k := &causeBars{name: "drift-causes", title: causesTitle(w, s), unit: s.sizeUnit(),
		subtitle: billet(r.Job, s, "")}
	var none []string
	values, total := []float64{}, 0.0
	for _, c := range w.Causes {
		total += c.Offset
		words := causeWords(c.Name)
		if s.nothing(c.Offset) {
			if c.Name != sim.Interaction {
				none = append(none, words.name)
			}
			continue
		}
		ink := color.Color(hueFine)
		if c.Name == sim.Interaction {
			ink = inkAir
		}
		values = append(values, c.Offset)
		k.rows = append(k.rows, causeRow{name: words.name, value: s.size(c.Offset), label: s.off(c.Offset), ink: ink})
	}
	values = append(values, total)
	k.rows = append(k.rows, causeRow{name: "together: the final offset", value: s.size(total), label: s.off(total), ink: inkAxis, sum: true})
	if len(none) > 0 {
		k.none = "nothing from: " + strings.Join(none, "; ")
	}
	k.across = offsetAxis(s, values...)
	return k
}

// causesTitle names the largest cause of the drift.
func causesTitle(w *sim.Work, s shown) string {
	total := 0.0
	for _, c := range w.Causes {
		total += c.Offset
	}
	worst := sim.Cause{}
	for _, c := range w.Causes {
		if c.Name != sim.Interaction && math.Abs(c.Offset) > math.Abs(worst.Offset) && (s.nothing(total) || c.Offset*total > 0) {
			worst = c
		}
	}
	text := "The core ends " + whole(s.toward(total))
	switch {
	case worst.Name == "" || s.nothing(worst.Offset):
		return text
	case s.nothing(total):
		return text + "; its causes cancel"
	}
	return fmt.Sprintf("%s, most of all because %s", text, causeWords(worst.Name).because)
}

// sheet draws the picture.
func (k *causeBars) sheet() *sheet {
	var notes []string
	if k.none != "" {
		notes = handNote.wrap(k.none, pageWidth-2*pageMargin, 3)
	}
	const numbers = tickRow + axisRow
	foot := pageMargin + vg.Length(len(notes))*axisRow + 4
	tall := causeRowTall*vg.Length(len(k.rows)) + 8
	s := head(k.name, k.title, k.subtitle, unitRow+tall+numbers+foot)
	low := foot + numbers
	for _, r := range k.rows {
		k.names = min(causeNames, max(k.names, handHead.width(r.name)+16))
	}
	k.across.lo, k.across.hi = pageMargin+k.names+causeLabel, pageWidth-pageMargin-causeLabel
	if k.across.min >= 0 {
		k.across.lo = pageMargin + k.names
	}
	if k.across.max <= 0 {
		k.across.hi = pageWidth - pageMargin
	}
	k.axes(s, low, tall)
	y := low + tall - causeRowTall/2
	for _, r := range k.rows {
		if r.sum {
			y -= 8
			s.line(pageMargin, y+causeRowTall/2+2, k.across.hi, y+causeRowTall/2+2, 0.8, inkAxis, nil)
		}
		k.row(s, r, y)
		y -= causeRowTall
	}
	for i, l := range notes {
		s.text(handNote, pageMargin, foot-axisRow*(vg.Length(i)+0.5)-4, 0, l)
	}
	return s
}

// axes draws the grid, the line of no offset and the numbers.
func (k *causeBars) axes(s *sheet, low, tall vg.Length) {
	for _, v := range k.across.ticks {
		x := k.across.at(v)
		ink, wide := color.Color(inkGrid), vg.Length(0.6)
		if v == 0 {
			ink, wide = inkAxis, 1
		}
		s.line(x, low, x, low+tall, wide, ink, nil)
		s.text(handTick, x, low-tickRow/2, 0.5, k.across.label(v))
	}
	zero := k.across.at(0)
	y := low - tickRow - axisRow/2
	if k.across.min < 0 {
		s.text(handAxis, zero-6, y, 1, "← "+k.unit+" toward side B")
	}
	if k.across.max > 0 {
		s.text(handAxis, zero+6, y, 0, k.unit+" toward side A →")
	}
}

// row draws one bar with its name and number.
func (k *causeBars) row(s *sheet, r causeRow, y vg.Length) {
	h := handLabel
	if r.sum {
		h = handHead
	}
	s.text(h, pageMargin, y, 0, h.fit(r.name, k.names-8))
	zero, end := k.across.at(0), k.across.at(r.value)
	const half = causeRowTall * 0.36
	s.block(zero, y-half, end, y+half, r.ink)
	at, across := end+6, 0.0
	if r.value < 0 {
		at, across = end-6, 1
	}
	x := at - vg.Length(across)*h.width(r.label)
	s.block(x-2, y-h.height()/2, x+h.width(r.label)+2, y+h.height()/2, inkPaper)
	s.text(h, at, y, across, r.label)
}
