package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"billet/layers"
	"billet/sim"
	"billet/sim/unit"
)

// workWords writes what the passes make of the bar in shop words.
type workWords struct {
	words
	r *sim.Result
	w *sim.Work
}

func workWordsFor(r *sim.Result) workWords { return workWords{wordsFor(r.Job), r, r.Work} }

// both writes a small length in both systems, the user's own first:
// "0.18 mm (0.007 in)".
func (w words) both(m float64) string {
	other := unit.Inch
	if w.System == unit.Inch {
		other = unit.Metric
	}
	m = math.Abs(m)
	return w.FineLength(m) + " (" + other.FineLength(m) + ")"
}

// nothing says that a small length is written as nought.
func (w words) nothing(m float64) bool { return w.FineLength(math.Abs(m)) == w.FineLength(0) }

// toward is an offset in words: "0.41 mm toward A".
func (w words) toward(m float64) string {
	if w.nothing(m) {
		return "in the middle"
	}
	return w.FineLength(math.Abs(m)) + " toward " + sideName(m > 0)
}

// between is a range of two written quantities, its unit written once where it
// is the same: "85 to 115 kN".
func between(low, high string) string {
	lowNumber, lowUnit, _ := strings.Cut(low, " ")
	_, highUnit, _ := strings.Cut(high, " ")
	switch {
	case low == high:
		return low
	case lowUnit == highUnit:
		return lowNumber + " to " + high
	}
	return low + " to " + high
}

// offsets is a range of offsets: "0.1 to 0.3 mm toward A", or "0.1 mm toward B
// to 0.2 mm toward A".
func (w words) offsets(low, high float64) string {
	if low*high < 0 && !w.nothing(low) && !w.nothing(high) {
		return w.toward(low) + " to " + w.toward(high)
	}
	if math.Abs(low) > math.Abs(high) {
		low, high = high, low
	}
	return between(w.FineLength(math.Abs(low)), w.FineLength(math.Abs(high))) + " toward " + sideName(high > 0)
}

// verdict says whether the machine can, and if not, why and what would help.
func (w workWords) verdict() string {
	if w.w.Can {
		return ""
	}
	n := len(w.w.Passes)
	if w.w.Planned && len(w.w.Reasons) > n {
		return "No: " + strings.TrimSuffix(w.w.Reasons[n], ".") + "."
	}
	for _, p := range w.w.Passes {
		if p.Within {
			continue
		}
		text := fmt.Sprintf("No: pass %d is too much for the %s", p.Number, machineNames[p.Tool])
		for _, l := range p.Limits {
			if !l.Within() {
				text += "; " + w.beyond(l)
				break
			}
		}
		if p.StallsAt > 0 {
			text += fmt.Sprintf("; it would stop at %s", w.BothLength(p.StallsAt))
		}
		return text + ". Take a smaller bite, a hotter bar, or narrower dies."
	}
	return "No: not every pass is within its machine."
}

// beyond says what a limit wants and what is there.
func (w words) beyond(l layers.Limit) string {
	write := func(v float64) string { return strings.TrimSpace(fmt.Sprintf("%.2g %s", v, l.Unit)) }
	switch l.Unit {
	case "N":
		write = w.Force
	case "W":
		write = w.Power
	case "m":
		write = w.Length
	}
	return fmt.Sprintf("%s: it wants %s, there is %s", l.What, write(l.Demand), write(l.Allowed))
}

// machineNames are the words for what does a pass, by sim.PassTool.
var machineNames = [...]string{sim.ByPress: "press", sim.ByRolls: "rolls", sim.ByHammer: "hammer", sim.ByGrind: "grinder", sim.ByRestack: "saw"}

// comes says what comes out: passes, heats, size with its range, and time.
func (w workWords) comes() string {
	f, n := w.w.Final, len(w.w.Passes)
	if n == 0 {
		return "No pass can be made."
	}
	text, verb := counted(n, "pass", "passes"), " take"
	if n == 1 {
		verb = " takes"
	}
	if w.w.Heats > 0 {
		text += " in " + counted(w.w.Heats, "heat", "heats")
	}
	if !w.w.Can && !w.w.Planned {
		text, verb = "were it strong enough, "+text, " would take"
	}
	text = sentenceCase(text)
	text += fmt.Sprintf("%s the bar from %s to %s thick, %s wide%s and %s long, cold.", verb, w.Length(w.w.Start.Thickness), w.Length(f.Thickness),
		w.Length(f.Width), w.widthRange(), w.LongLength(f.Length))
	if w.w.ForgeTime > 0 {
		text += fmt.Sprintf(" It is in and at the fire for %s in all.", unit.Duration(w.w.ForgeTime))
	}
	return text
}

func (w workWords) widthRange() string {
	lo, hi := w.Length(w.w.Final.WidthRange[0]), w.Length(w.w.Final.WidthRange[1])
	if lo == hi || w.w.Final.WidthRange[1] <= 0 {
		return ""
	}
	return " (" + between(lo, hi) + ", as it may spread)"
}

// hardest names the pass that asks most of its machine.
func (w workWords) hardest() string {
	most, at, limit := 0.0, sim.PassDone{}, layers.Limit{}
	for _, p := range w.w.Passes {
		for _, l := range p.Limits {
			if l.Allowed > 0 && (l.Unit == "N" || l.Unit == "W") && l.Demand/l.Allowed > most {
				most, at, limit = l.Demand/l.Allowed, p, l
			}
		}
	}
	if most == 0 || !w.w.Can {
		return ""
	}
	write := w.Force
	if limit.Unit == "W" {
		write = w.Power
	}
	return fmt.Sprintf("The hardest is pass %d: %s of the %s there is, give or take 15 %%.", at.Number, write(limit.Demand), write(limit.Allowed))
}

// passTables writes what to do, heat by heat, and what comes of it.
func (w workWords) passTables(b *bytes.Buffer) {
	if len(w.w.Passes) == 0 {
		return
	}
	w.doTable(b)
	b.WriteString("\n")
	b.WriteString("What comes of it, cold, and where the core then lies\n")
	rows := [][]string{{"pass", "thick", "wide", "long", "core off the middle", ""}}
	for _, p := range w.w.Passes {
		share := ""
		if !w.nothing(p.Offset) {
			share = w.Share(math.Abs(p.OffsetShare())) + " of it"
		}
		rows = append(rows, []string{fmt.Sprint(p.Number), w.Length(p.After.Thickness), w.Length(p.After.Width), w.LongLength(p.After.Length), w.toward(p.Offset), share})
	}
	columns(b, "  ", "rrrrll", rows)
}

func (w workWords) doTable(b *bytes.Buffer) {
	heat := 0
	rows := [][]string{{"pass", "", "down", "at", "stop at, hot", "bites", "force"}}
	var groups []string // the heading over each row; empty: none
	for _, p := range w.w.Passes {
		head := ""
		if p.Heat != heat && p.Heat > 0 {
			head = w.heatHead(p.Heat)
		}
		heat = p.Heat
		groups = append(groups, head)
		rows = append(rows, w.doRow(p))
	}
	text := &bytes.Buffer{}
	columns(text, "  ", "rllrlrl", rows)
	lines := strings.SplitAfter(strings.TrimSuffix(text.String(), "\n"), "\n")
	b.WriteString(lines[0])
	for i, head := range groups {
		if head != "" {
			b.WriteString(head + "\n")
		}
		b.WriteString(lines[i+1])
	}
	b.WriteString("\n")
}

// heatHead is the line over a heat's passes.
func (w workWords) heatHead(n int) string {
	text := fmt.Sprintf("Heat %d", n)
	if n-1 < len(w.w.HeatTimes) && w.w.HeatTimes[n-1] > 0 {
		text += ": " + unit.Duration(w.w.HeatTimes[n-1]) + " in and at the fire"
	}
	return text
}

func (w workWords) doRow(p sim.PassDone) []string {
	tool := toolNames[p.Tool]
	if p.Edge {
		tool += ", edge"
	}
	row := []string{fmt.Sprint(p.Number), tool, sideName(p.DownA), "", w.BothLength(p.StopHot), "", ""}
	if p.Edge {
		row[2] = "side"
	}
	if p.Tool == sim.ByGrind || p.Tool == sim.ByRestack {
		row[2], row[3] = "", "cold"
		return row
	}
	row[3] = w.Temperature(p.Temperature)
	if p.Bites > 0 && p.Tool != sim.ByRolls {
		row[5] = fmt.Sprint(p.Bites)
	}
	if p.Blows > 0 {
		row[5] += fmt.Sprintf(" × %d", p.Blows)
	}
	if p.Force > 0 {
		row[6] = between(w.Force(p.ForceRange[0]), w.Force(p.ForceRange[1]))
	}
	if !p.Within {
		row[6] += "  too much"
	}
	return row
}

// notes says how the table is to be read.
func (w workWords) notes() string {
	text := "Stop at: the hot height on the tool, widths on edge; all else is cold size. "
	tools := map[sim.PassTool]bool{}
	for _, p := range w.w.Passes {
		tools[p.Tool] = true
	}
	if tools[sim.ByPress] || tools[sim.ByHammer] {
		text += "Bites: to go once along the bar"
		if tools[sim.ByHammer] {
			text += ", × blows on one place"
		}
		text += ". "
	}
	text += "Down: the side on the lower tool; sides keep their letter with the metal."
	if w.w.Heats == 0 {
		text += " The temperatures are the job's own: no heat was worked out."
	}
	return text
}

// why lists what sets each planned pass, like reasons together.
func (w workWords) why(b *bytes.Buffer) {
	var order []string
	passes := map[string][]int{}
	for _, p := range w.w.Passes {
		if p.LimitedBy == "" {
			continue
		}
		if passes[p.LimitedBy] == nil {
			order = append(order, p.LimitedBy)
		}
		passes[p.LimitedBy] = append(passes[p.LimitedBy], p.Number)
	}
	var out []string
	for _, text := range order {
		out = append(out, passList(passes[text])+": "+text)
	}
	bullets(b, "What sets each pass", out)
}

// passList is "pass 3" or "passes 3 to 5, 7".
func passList(n []int) string {
	var runs []string
	for i := 0; i < len(n); {
		k := i
		for k+1 < len(n) && n[k+1] == n[k]+1 {
			k++
		}
		switch {
		case k-i > 1:
			runs = append(runs, fmt.Sprintf("%d to %d", n[i], n[k]))
		case k > i:
			runs = append(runs, fmt.Sprint(n[i]), fmt.Sprint(n[k]))
		default:
			runs = append(runs, fmt.Sprint(n[i]))
		}
		i = k + 1
	}
	if len(n) == 1 {
		return "pass " + runs[0]
	}
	return "passes " + strings.Join(runs, ", ")
}

// measured writes what was measured beside what was planned, and what it says.
func (w workWords) measured(b *bytes.Buffer) {
	if len(w.w.Measured) == 0 {
		return
	}
	b.WriteString("\nMeasured beside planned, cold\n")
	rows := [][]string{{"after heat", "thick", "planned", "wide", "planned", "core off", "planned"}}
	var says []string
	for _, m := range w.w.Measured {
		off := ""
		if m.Offset != nil {
			off = w.toward(*m.Offset)
		}
		rows = append(rows, []string{fmt.Sprint(m.After), w.given(m.Thickness), w.Length(m.Planned.Thickness), w.given(m.Width), w.Length(m.Planned.Width), off, w.toward(m.PlannedOffset)})
		for _, text := range m.Says {
			says = append(says, fmt.Sprintf("after heat %d: %s", m.After, text))
		}
	}
	columns(b, "  ", "rrrrrll", rows)
	bullets(b, "What that says", says)
}

// given is a length that may not have been given.
func (w words) given(m *float64) string {
	if m == nil {
		return ""
	}
	return w.Length(*m)
}

// checkpoints lists where to cut, etch and look, and what should be seen there.
// Common practice, no source.
func (w workWords) checkpoints(b *bytes.Buffer) {
	core, marked := w.job.Stack.CoreLayer()
	if !marked || len(w.job.Stack.Layers) < 3 {
		return
	}
	start, final := w.w.Start.Thickness, w.w.Final.Thickness
	finish := final
	if w.job.Blade != nil {
		finish = w.job.Blade.Spine
	}
	var out []string
	seen := map[int]bool{}
	point := func(when string, reached func(sim.PassDone) bool) {
		for _, p := range w.w.Passes {
			if !reached(p) || p.Tool == sim.ByRestack {
				continue
			}
			if !seen[p.Number] && p.Number < len(w.w.Passes) {
				out = append(out, fmt.Sprintf("%s: after pass %d, %s", when, p.Number, w.look(p, core)))
			}
			seen[p.Number] = true
			return
		}
	}
	point("Once the weld is set", func(p sim.PassDone) bool { return p.Welded >= 1 })
	point("Half way down", func(p sim.PassDone) bool { return p.After.Thickness <= start/2 })
	point("At twice the finish", func(p sim.PassDone) bool { return p.After.Thickness <= 2*finish })
	if n := len(w.w.Passes); n > 0 {
		out = append(out, fmt.Sprintf("Before the bevels: after pass %d, %s", n, w.look(w.w.Passes[n-1], core)))
	}
	bullets(b, "Where to grind an end clean, etch and look (common practice, no source)", out)
}

// look says what an etched end should show after a pass.
func (w workWords) look(p sim.PassDone, core int) string {
	var below, above float64
	for i, l := range p.Layers {
		switch {
		case i < core:
			below += l.Thickness
		case i > core:
			above += l.Thickness
		}
	}
	text := fmt.Sprintf("at %s thick", w.Length(p.After.Thickness))
	if len(p.Layers) != len(w.job.Stack.Layers) {
		return text
	}
	return fmt.Sprintf("%s: jacket %s on side A, %s on side B", text, w.FineLength(above), w.FineLength(below))
}

// tail writes title, stack, and all that the answer rests on.
func (w workWords) tail(b *bytes.Buffer) {
	b.WriteString("\n")
	if w.job.Title != "" {
		paragraph(b, "", "", w.job.Title)
	}
	paragraph(b, "", "", sentence(w.stack()))
	footing(b, w.r)
}

// footing writes what an answer assumed, warns of and cautions against.
func footing(b *bytes.Buffer, r *sim.Result) {
	bullets(b, "Assumed", r.Assumed)
	bullets(b, "Warnings", r.Warnings)
	bullets(b, "Take care", r.Cautions)
}
