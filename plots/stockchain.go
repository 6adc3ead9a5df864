package plots

import (
	"fmt"
	"strings"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// Stock draws what becomes of the steel that is cut ("stock-chain"), from the
// stack to the blade; nothing where the Result has no stock. Errors are as of
// Soak.
func Stock(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkStock, stockSheets)
}

// stockSheets lays out the picture of the stock.
func stockSheets(r *sim.Result) []*sheet {
	if r.Stock == nil {
		return nil
	}
	return []*sheet{stockChain(r).sheet()}
}

// waterfall is the mass from step to step.
type waterfall struct {
	name, title, subtitle string
	across                axis // shown mass
	unit                  string
	rows                  []fall
	notes                 string
	names                 vg.Length // pt, the room of the names
}

// fall is what a step takes, or what there is where from is nought.
type fall struct {
	name, label string
	from, to    float64 // shown mass
	whole       bool
}

// stockChain collects what the picture shows.
func stockChain(r *sim.Result) *waterfall {
	s, cut := shownIn(r.Job), r.Stock
	chain := cut.Losses
	start, end := chain[0].Mass, chain[len(chain)-1].Mass
	mass, name := s.massScale(start)
	k := &waterfall{name: "stock-chain", title: chainTitle(cut, s), unit: name}
	if k.subtitle = r.Job.Title; cut.Job != nil {
		k.subtitle = billet(cut.Job, s, "")
	}
	most := 0.0
	for i, l := range chain {
		most = max(most, l.Mass)
		if i == 0 {
			k.rows = append(k.rows, fall{name: "the " + l.Step, label: s.system.Mass(l.Mass), to: mass(l.Mass), whole: true})
			continue
		}
		lost := chain[i-1].Mass - l.Mass
		k.rows = append(k.rows, fall{name: l.Step, from: mass(chain[i-1].Mass), to: mass(l.Mass),
			label: fmt.Sprintf("%s, %s", s.signedMass(-lost), s.system.Share(max(l.Share, -l.Share)))})
	}
	what := "in the blade"
	if cut.Blades > 1 {
		what = fmt.Sprintf("in %d blades", cut.Blades)
	}
	k.rows = append(k.rows, fall{name: what, whole: true, to: mass(end),
		label: fmt.Sprintf("%s, %s", s.system.Mass(end), s.system.Share(end/start))})
	k.across = roundAxis(0, mass(most), 7)
	k.notes = "Cut: " + strings.Join(s.pieces(cut.Pieces), "; ")
	return k
}

// massScale is a mass as a number on an axis that reaches most kg, and the
// name of its unit.
func (s shown) massScale(most float64) (mass func(kg float64) float64, name string) {
	per := 1.0
	name = "kg"
	switch {
	case s.inch() && most < unit.PoundKilograms:
		per, name = unit.OunceKilograms, "oz"
	case s.inch():
		per, name = unit.PoundKilograms, "lb"
	case most < 1:
		per, name = 0.001, "g"
	}
	return func(kg float64) float64 { return kg / per }, name
}

// signedMass is a change of mass in words.
func (s shown) signedMass(kg float64) string {
	if kg < 0 {
		return "−" + s.system.Mass(-kg)
	}
	return "+" + s.system.Mass(kg)
}

// pieces are the pieces in words.
func (s shown) pieces(all []sim.Piece) []string {
	var out []string
	for _, p := range all {
		out = append(out, whole(fmt.Sprintf("%d × %s %s thick, %s wide, %s long", p.Count, p.Material,
			s.length(p.Thickness), s.length(p.Width), s.system.LongLength(p.Length))))
	}
	return out
}

// chainTitle says how much of the steel becomes blade and what takes most.
func chainTitle(cut *sim.StockCut, s shown) string {
	chain := cut.Losses
	worst := sim.LossStep{}
	for _, l := range chain[1:] {
		if l.Share > worst.Share {
			worst = l
		}
	}
	start, end := chain[0].Mass, chain[len(chain)-1].Mass
	blade := "blade"
	if cut.Blades > 1 {
		blade = fmt.Sprintf("%d blades", cut.Blades)
	}
	text := fmt.Sprintf("%s of the steel cut becomes %s", whole(s.system.Share(end/start)), blade)
	if worst.Share > 0 {
		text += fmt.Sprintf("; the largest loss, %s: %s", whole(s.system.Share(worst.Share)), worst.Step)
	}
	if !cut.Within {
		text += ". These pieces do not yet give the blade wanted"
	}
	return text
}

const (
	fallRow   = vg.Length(30)  // pt
	fallNames = vg.Length(180) // pt, left of the bars at the most
	fallLabel = vg.Length(104) // pt, right of the bars for their numbers
)

// sheet draws the picture.
func (k *waterfall) sheet() *sheet {
	notes := handNote.wrap(k.notes, pageWidth-2*pageMargin, 5)
	foot := pageMargin + vg.Length(len(notes))*axisRow + 6
	low := foot + tickRow + axisRow
	tall := fallRow * vg.Length(len(k.rows))
	s := head(k.name, k.title, k.subtitle, 8+tall+low)
	for _, r := range k.rows {
		k.names = min(fallNames, max(k.names, handHead.width(r.name)+14))
	}
	k.across.lo, k.across.hi = pageMargin+k.names, pageWidth-pageMargin-fallLabel
	for _, v := range k.across.ticks {
		x := k.across.at(v)
		s.line(x, low, x, low+tall, 0.6, inkGrid, nil)
		s.text(handTick, x, low-tickRow/2, 0.5, k.across.label(v))
	}
	s.line(k.across.lo, low, k.across.lo, low+tall, 1, inkAxis, nil)
	s.text(handAxis, (k.across.lo+k.across.hi)/2, low-tickRow-axisRow/2, 0.5, k.unit)
	y := low + tall - fallRow/2
	for i, r := range k.rows {
		k.row(s, r, y, i < len(k.rows)-1)
		y -= fallRow
	}
	for i, l := range notes {
		s.text(handNote, pageMargin, foot-axisRow*(vg.Length(i)+0.5)-4, 0, l)
	}
	return s
}

// row draws one bar, its name, its number and the way down to the next.
func (k *waterfall) row(s *sheet, r fall, y vg.Length, more bool) {
	h, ink := handLabel, hueSkin
	if r.whole {
		h, ink = handHead, inkSteel
	}
	s.text(h, pageMargin, y, 0, h.fit(r.name, k.names-8))
	const half = fallRow * 0.32
	x0, x1 := k.across.at(r.from), k.across.at(r.to)
	left, right := min(x0, x1), max(x0, x1)
	s.block(left, y-half, max(right, left+1), y+half, ink)
	if more {
		s.line(x1, y-half, x1, y-fallRow+half, 0.8, inkSoft, dashShort)
	}
	wide := h.width(r.label)
	s.block(right+4, y-h.height()/2, right+8+wide, y+h.height()/2, inkPaper)
	s.text(h, right+6, y, 0, r.label)
}
