package plots

import (
	"math"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// soakSpread is how far each unknown alone may move the soak.
type soakSpread struct {
	name, title, subtitle string
	across                axis    // minutes
	soak                  float64 // minutes
	rows                  []spreadRow
}

// spreadRow is one unknown, or all together.
type spreadRow struct {
	name, label string
	low, high   float64 // minutes
	never       bool    // at its far end the soak never comes
	all         bool
}

// soakRanges collects what the picture shows.
func soakRanges(r *sim.Result) *soakSpread {
	s, k := shownIn(r.Job), r.Soak.Ranges
	soak := r.Soak.Answers.Soak.Value
	out := &soakSpread{name: "soak-ranges", title: rangesTitle(r.Soak), subtitle: billet(r.Job, s, "each unknown at both its ends"),
		soak: minutes(soak)}
	low, high := soak, soak
	add := func(name string, a, b float64, all bool) {
		row := spreadRow{name: name, low: minutes(a), high: minutes(b), label: unit.DurationRange(a, b), never: math.IsInf(b, 1), all: all}
		low = math.Min(low, a)
		if !row.never {
			high = math.Max(high, b)
		}
		out.rows = append(out.rows, row)
	}
	for _, c := range k.Causes {
		add(c.What, c.Low, c.High, false)
	}
	if k.Soak.OK {
		add("all together", k.Soak.Low, k.Soak.High, true)
	}
	room := math.Max(0.06*(high-low), 3)
	out.across = roundAxis(minutes(math.Max(0, low-room)), minutes(high+room), 8)
	for i := range out.rows {
		if out.rows[i].never {
			out.rows[i].high = out.across.max
		}
	}
	return out
}

// rangesTitle says how wide the soak's range is and what makes it so.
func rangesTitle(k *sim.Soak) string {
	text := "The soak is " + whole(unit.Duration(k.Answers.Soak.Value))
	if v := k.Ranges.Soak; v.OK {
		text += ", " + whole(unit.DurationRange(v.Low, v.High)) + " with what is not known"
	}
	return text + "; the widest: " + k.Ranges.Causes[0].What
}

const (
	spreadTall  = vg.Length(32)  // pt
	spreadNames = vg.Length(200) // pt, left of the bars
	spreadLabel = vg.Length(112) // pt, right of them
)

// sheet draws the picture.
func (k *soakSpread) sheet() *sheet {
	low := pageMargin + axisRow + tickRow
	tall := spreadTall * vg.Length(len(k.rows))
	s := head(k.name, k.title, k.subtitle, axisRow+6+tall+low)
	k.across.lo, k.across.hi = pageMargin+spreadNames, pageWidth-pageMargin-spreadLabel
	for _, v := range k.across.ticks {
		x := k.across.at(v)
		s.line(x, low, x, low+tall, 0.6, inkGrid, nil)
		s.text(handTick, x, low-tickRow/2, 0.5, k.across.label(v))
	}
	s.text(handAxis, (k.across.lo+k.across.hi)/2, low-tickRow-axisRow/2, 0.5, "minutes from first entering the forge")
	y := low + tall - spreadTall/2
	for _, r := range k.rows {
		if r.all {
			s.line(pageMargin, y+spreadTall/2, k.across.hi, y+spreadTall/2, 0.8, inkAxis, nil)
		}
		k.row(s, r, y)
		y -= spreadTall
	}
	x := k.across.at(k.soak)
	s.line(x, low, x, low+tall+4, 1.2, hueMid, nil)
	told := "the soak " + unit.Duration(60*k.soak)
	half := handHead.width(told) / 2
	s.text(handHead, clamp(x, pageMargin+half, pageWidth-pageMargin-half), low+tall+axisRow/2+5, 0.5, told)
	return s
}

// row draws one bar with its name and its range in words.
func (k *soakSpread) row(s *sheet, r spreadRow, y vg.Length) {
	h, ink := handLabel, hueFine
	if r.all {
		h, ink = handHead, inkAir
	}
	lines := h.wrap(r.name, spreadNames-10, 2)
	top := y + axisRow*vg.Length(len(lines)-1)/2*0.87
	for i, l := range lines {
		s.text(h, pageMargin, top-vg.Length(i)*axisRow*0.87, 0, l)
	}
	const half = spreadTall * 0.27
	x0, x1 := k.across.at(r.low), k.across.at(r.high)
	s.block(x0, y-half, max(x1, x0+1), y+half, ink)
	if r.never {
		s.add(area{ink: ink, pts: []vg.Point{{X: x1, Y: y - half - 3}, {X: x1 + 9, Y: y}, {X: x1, Y: y + half + 3}}})
	}
	s.text(h, k.across.hi+14, y, 0, h.fit(r.label, spreadLabel-14))
}
