package sheet

import (
	"errors"
	"fmt"
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// errNoJob says that there is nothing to write of.
var errNoJob = errors.New("page: no job in the result; the result of a run")

// Sheet is the page to hang by the forge: HTML for one printed page, A4 or
// Letter alike, by heats. A part that is nil in r is left out; where a plan is
// too long for one page even in small type the sheet says so and goes on
// overleaf. It returns an error only where r has no job.
func Sheet(r *sim.Result) ([]byte, error) {
	if r == nil || r.Job == nil {
		return nil, errNoJob
	}
	w := wordsFor(r)
	var b []block
	var l layout
	for _, l = range layouts() {
		b = w.blocks(l)
		if total(b) <= pageHigh {
			break
		}
	}
	var p page
	p.begin(w.title("Forge sheet"), l.style())
	p.WriteString("<main>\n")
	for _, k := range b {
		p.Write(k.Bytes())
	}
	p.WriteString("</main>\n")
	p.end()
	return p.Bytes(), nil
}

// block is a part of the sheet and about how high it is on paper.
type block struct {
	page
	high float64 // mm
}

func total(b []block) float64 {
	sum := 0.0
	for _, k := range b {
		sum += k.high
	}
	return sum
}

// blocks sets the sheet in a layout.
func (w words) blocks(l layout) []block {
	out := []block{w.headBlock(l), w.stopBlock(l), w.soakBlock(l), w.heatsBlock(l), w.endBlock(l)}
	if l.pictures {
		out = append(out, w.picturesBlock())
	}
	return append(out, w.footBlock(l))
}

// headBlock is the title and what the billet is.
func (w words) headBlock(l layout) block {
	var b block
	write := func(tag, class, text string, share float64, bold bool) {
		b.line(tag, text, "class", class)
		b.high += l.height(text, pageWide, share, bold)
	}
	write("h1", "", w.title("Forge sheet"), 1.4, true)
	write("p", "about", w.stack()+". Mark side A: it is up at the start.", 0.8, false)
	if l.over {
		write("p", "", "This plan does not fit one page: it goes on overleaf.", 1, true)
	}
	return b
}

// stopBlock is what says no, large.
func (w words) stopBlock(l layout) block {
	var b block
	var no []string
	if w.r.Soak != nil {
		if why := w.soakFails(); why != "" {
			no = append(no, "NO: "+why+".")
			if len(w.r.Soak.Advice) > 0 && !w.r.Soak.Reaches {
				no = append(no, w.r.Soak.Advice[0])
			}
		}
	}
	if k := w.r.Work; k != nil && !k.Can {
		no = append(no, "NO: "+w.cannot()+".")
	}
	if g := w.r.Ground; g != nil && g.Answer != nil && !g.OK() {
		no = append(no, "NO: "+strings.Join(w.bladeFaults(), "; ")+".")
	}
	if len(no) == 0 {
		return b
	}
	b.open("div", "class", "stop")
	for _, s := range no {
		b.line("p", s)
		b.high += l.height(s, pageWide-6, 1, true)
	}
	b.close("div")
	b.high += 4.8
	return b
}

// soakBlock is the soak and the signs to look for.
func (w words) soakBlock(l layout) block {
	var b block
	half := pageWide/2 - 6
	left := 1.0
	b.WriteString(`<div class="soak"><div>` + "\n")
	if w.r.Soak != nil {
		b.line("h2", "Soak, from first going in")
		left = l.size(0.8) * lineGap
		for _, s := range w.soakLines() {
			b.open("p")
			b.bold(s[0])
			b.text(" " + s[1])
			b.close("p")
			left += l.height(s[0]+" "+s[1], half, 1.1, false) + l.size(0.3)
		}
		for _, s := range w.soakSmall() {
			b.line("p", s, "class", "small")
			left += l.height(s, half, 0.8, false)
		}
	} else {
		b.line("p", "The soak was not worked out: go by the signs.")
		left += l.height("The soak was not worked out: go by the signs.", half, 1, false)
	}
	b.WriteString("</div><div>\n")
	b.line("h2", "Every heat, before you pull")
	b.list("", w.signs())
	right := l.size(0.8) * lineGap
	for _, s := range w.signs() {
		right += l.height(s, half-l.size(1.1), 0.94, false)
	}
	if back := w.back(); back != "" {
		b.open("p")
		b.bold("Back in")
		b.text(" when it has fallen to " + back)
		b.close("p")
		right += l.height("Back in when it has fallen to "+back, half, 1.1, false)
	}
	b.WriteString("</div></div>\n")
	b.high = max(left, right) + 3.5
	return b
}

// soakLines are the times of the soak: the time, large, and what it is.
func (w words) soakLines() [][2]string {
	a := w.r.Soak.Answers
	var out [][2]string
	if a.PullForFlux.OK {
		out = append(out, [2]string{unit.Duration(a.PullForFlux.Value), "pull for flux (" + w.looks(w.r.Job.Weld.Flux) + ")"})
	}
	if a.SkinAtWeld.OK {
		out = append(out, [2]string{unit.Duration(a.SkinAtWeld.Value), "looks ready: leave it in"})
	}
	if a.Soak.OK {
		out = append(out, [2]string{unit.Duration(a.Soak.Value), "soaked: pull, if the signs agree"})
	}
	if a.Overheats.OK {
		out = append(out, [2]string{unit.Duration(a.Overheats.Value), w.burns() + " burns if left in"})
	}
	return out
}

// soakSmall is what else to know of the soak.
func (w words) soakSmall() []string {
	var out []string
	if s := w.soakSpread(); s != "" && w.r.Soak.Answers.Soak.OK {
		out = append(out, "It may take "+s+".")
	}
	if s := w.tooEarly(); s != "" {
		out = append(out, s)
	}
	return out
}

// columns of the table of heats: heading and share of the width.
var columns = []struct {
	head  string
	share float64
}{{"pass", 0.06}, {"tool", 0.10}, {"how it lies", 0.16}, {"stop at, hot", 0.27}, {"bites", 0.14}, {"height", 0.09}, {"width", 0.09}, {"notes", 0.09}}

const blanks = 3 // columns left blank to write in

// heatsBlock is the table of heats and passes.
func (w words) heatsBlock(l layout) block {
	var b block
	hs := w.heats()
	if len(hs) == 0 {
		return b
	}
	b.WriteString(`<div class="wide"><table><colgroup>`)
	for _, c := range columns {
		fmt.Fprintf(&b, `<col style="width:%s%%"/>`, mm(100*c.share))
	}
	b.WriteString("</colgroup>\n<thead><tr>")
	for i, c := range columns {
		head := c.head
		if i == len(columns)-blanks {
			head = "measured: " + head
		}
		b.line("th", head, "scope", "col")
	}
	b.WriteString("</tr></thead>\n")
	b.high = 2*l.size(0.72)*lineGap + 2
	var before *sim.PassDone
	for _, h := range hs {
		before = w.heatRows(&b, l, h, before)
	}
	b.WriteString("</table></div>\n")
	return b
}

// heatRows writes one heat; before is the pass before it, nil for none.
func (w words) heatRows(b *block, l layout, h heat, before *sim.PassDone) *sim.PassDone {
	b.WriteString("<tbody>\n<tr>")
	b.open("th", "colspan", fmt.Sprint(len(columns)), "scope", "rowgroup")
	title, rest := w.heatTitle(h)
	b.bold(title)
	b.text(rest)
	b.WriteString("</th></tr>\n")
	b.high += l.height(title+rest, pageWide-4, 0.88, false) + l.size(0.2) + 0.9
	if len(h.passes) == 0 {
		row(b, l, make([]string, len(columns)))
	}
	for i := range h.passes {
		p := &h.passes[i]
		w.passRow(b, l, p, before)
		before = p
	}
	b.WriteString("</tbody>\n")
	return before
}

// heatTitle is a heat's name, and how long and how hot it is.
func (w words) heatTitle(h heat) (title, rest string) {
	switch {
	case h.number == 0 && len(h.passes) > 0 && coldWork(h.passes[0]):
		return "Cold", ""
	case h.number == 0:
		return "At the heat prescribed", ""
	}
	title = fmt.Sprintf("Heat %d", h.number)
	if h.number == 1 && w.r.Soak != nil {
		if a := w.r.Soak.Answers.Soak; a.OK {
			rest = ": soak " + unit.Duration(a.Value) + " in all"
		} else {
			rest = ": soak"
		}
	} else {
		var how []string
		for _, t := range []string{h.time(), w.until(h)} {
			if t != "" {
				how = append(how, t)
			}
		}
		if len(how) > 0 {
			rest = ": " + strings.Join(how, ", ")
		}
	}
	if back := w.back(); back != "" {
		rest += " · back at " + back
	}
	if h.parts > 1 {
		rest += fmt.Sprintf(" · too long for the fire: in %d parts", h.parts)
	}
	return title, rest
}

// passRow writes a pass, and under it what stops it.
func (w words) passRow(b *block, l layout, p, before *sim.PassDone) {
	cells := make([]string, len(columns))
	cells[0], cells[1] = fmt.Sprint(p.Number), name(toolNames, int(p.Tool))
	cells[2], cells[3], cells[4] = lay(*p, before), w.stop(*p), w.bites(*p)
	if coldWork(*p) {
		cells[2], cells[3] = "to "+w.BothLength(p.After.Thickness)+", cold", w.cold(*p)
	}
	row(b, l, cells)
	for _, s := range stops(*p) {
		b.WriteString("<tr>")
		b.line("td", "STOP: "+s, "class", "note", "colspan", fmt.Sprint(len(columns)))
		b.WriteString("</tr>\n")
		b.high += l.height("STOP: "+s, pageWide-4, 0.75, true) + 1
	}
}

// rowHigh is the height of a row to write in, as a share of the type.
const rowHigh = 1.62

// row writes cells and adds how high they are.
func row(b *block, l layout, cells []string) {
	b.WriteString("<tr>")
	high := l.size(rowHigh)
	for i, c := range cells {
		class, share := "", 1.0
		if columns[i].head == "stop at, hot" {
			class, share = "stopat", 1.08
		}
		b.line("td", c, "class", class)
		high = max(high, l.height(c, pageWide*columns[i].share-2.4, share, class != ""))
	}
	b.WriteString("</tr>\n")
	b.high += high + 0.2
}

// redStop begins a pass's warning that a shop must heed.
const redStop = "red stop: "

// stops are the red stops of a pass.
func stops(p sim.PassDone) []string {
	var out []string
	for _, s := range p.Warnings {
		if strings.HasPrefix(s, redStop) {
			out = append(out, strings.TrimPrefix(s, redStop))
		}
	}
	if len(out) == 0 && !p.Within {
		out = append(out, "more than the machine can do")
	}
	return out
}

// endBlock is what should lie on the anvil in the end.
func (w words) endBlock(l layout) block {
	var b block
	if w.r.Work == nil {
		return b
	}
	f := w.r.Work.Final
	text := "In the end, cold: " + w.bar(f.Sizes) + "; core off the middle " + w.off(f.Offset) + "."
	b.line("p", text, "class", "end")
	b.high = l.height(text, pageWide, 0.88, false) + 1
	return b
}

// picturesBlock is section and blade at true size, and the ruler.
func (w words) picturesBlock() block {
	var b block
	section, blade := w.sectionDrawing(), w.bladeDrawing(pageWide)
	if section == nil && blade == nil {
		return b
	}
	var small, large block
	wide := max(small.figure(section), small.figure(ruler()))
	large.figure(blade)
	b.WriteString(`<div class="pictures"><div>` + "\n")
	b.Write(small.Bytes())
	b.WriteString("</div><div>\n")
	b.Write(large.Bytes())
	b.WriteString("</div></div>\n")
	b.high = max(small.high, large.high)
	if blade != nil && wide+blade.wide+2*figureGap > pageWide {
		b.high = small.high + large.high
	}
	b.high += 2
	return b
}

const (
	figureGap   = 5.0  // mm, right of a figure
	captionWide = 48.0 // mm, the least room for a caption
	captionType = 2.5  // mm
)

// figure writes a drawing with its caption and returns how wide they are, mm;
// nothing for nil.
func (b *block) figure(d *drawing) float64 {
	if d == nil {
		return 0
	}
	wide := max(d.wide, captionWide)
	b.WriteString("<figure>" + d.svg())
	b.line("figcaption", d.caption, "style", "width:"+mm(wide)+"mm")
	b.close("figure")
	b.high += d.high + 1.5 + float64(lines(d.caption, wide, captionType, false))*captionType*lineGap
	return wide
}

// footBlock is warnings and cautions.
func (w words) footBlock(l layout) block {
	var b block
	b.open("div", "class", "foot")
	b.WriteString("\n")
	size := max(2.5, l.size(0.64))
	list := func(head string, items []string) {
		if len(items) == 0 {
			return
		}
		b.line("h2", head)
		b.list("", items)
		var n []int
		for _, s := range items {
			n = append(n, lines(s, pageWide/2-2.5-1.1*size, size, false))
		}
		b.high += l.size(0.8)*lineGap + float64(twoColumns(n))*size*lineGap
	}
	if n := len(w.r.Warnings); l.warnings || l.over {
		list("Warnings", w.r.Warnings)
	} else if n > 0 {
		b.line("p", count(n, "warning stands", "warnings stand")+" in the report: read it first.")
		b.high += size * lineGap
	}
	if !l.pictures && (w.sectionDrawing() != nil || w.bladeDrawing(pageWide) != nil) {
		b.line("p", "No room here for section and blade at true size: they are in the report.")
		b.high += size * lineGap
	}
	list("Take care", w.r.Cautions)
	b.close("div")
	b.high += 3
	return b
}
