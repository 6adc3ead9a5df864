package main

import (
	"bytes"
	"fmt"
	"math"

	"billet/sim"
)

// becauses say what each cause is, after "because".
var becauses = map[string]string{
	sim.StartJackets: "the jackets were not of one thickness to start with",
	sim.Temperature:  "one side was colder than the other",
	sim.Friction:     "the tools grip the two faces unequally",
	sim.StrengthName: "the jackets are not equally strong",
	sim.ToolShape:    "the tools' shape and blows work one face more",
	sim.Slip:         "the layers slipped before the weld set",
	sim.Losses:       "more was lost off one face than off the other",
	sim.Interaction:  "its causes do not simply add up",
}

// causeNames name each cause in the table.
var causeNames = map[string]string{
	sim.StartJackets: "jackets unequal at the start",
	sim.Temperature:  "one side colder",
	sim.Friction:     "tools grip unequally",
	sim.StrengthName: "jackets unequally strong",
	sim.ToolShape:    "shape and blows of the tools",
	sim.Slip:         "slip before the weld sets",
	sim.Losses:       "more lost off one face",
	sim.Interaction:  "causes acting together",
}

// lies says where the core ends, in short.
func (w workWords) lies() string {
	f := w.w.Final
	if len(w.w.Passes) == 0 || len(w.job.Stack.Layers) < 2 {
		return ""
	}
	if w.nothing(f.Offset) {
		return "The core ends in the middle of the bar."
	}
	return fmt.Sprintf("The core ends %s toward %s, %s of the thickness; billet drift says why.", w.both(f.Offset), sideName(f.Offset > 0), w.Share(math.Abs(f.Offset)/f.Thickness))
}

// ends says where the core ends and mostly why.
func (w workWords) ends() string {
	f := w.w.Final
	if len(w.w.Passes) == 0 {
		return "No pass can be made, so nothing moves the core."
	}
	if len(w.job.Stack.Layers) == 1 {
		return "The bar is of one piece: it has no core to drift."
	}
	rest := w.unsure() + w.parts()
	if w.nothing(f.Offset) {
		text := "The core ends in the middle of the bar"
		if worst := w.worst(); worst.Name != "" && !w.nothing(worst.Offset) {
			text += "; what would move it cancels out"
		}
		return text + "." + rest
	}
	text := fmt.Sprintf("The core ends %s toward %s, %s of the thickness", w.both(f.Offset), sideName(f.Offset > 0), w.Share(math.Abs(f.Offset)/f.Thickness))
	if worst := w.worst(); worst.Name != "" {
		text += ", mostly because " + w.because(worst.Name)
	}
	return text + "." + rest
}

// unsure gives the range of the offset.
func (w workWords) unsure() string {
	lo, hi := w.w.Final.OffsetRange[0], w.w.Final.OffsetRange[1]
	if w.FineLength(lo) == w.FineLength(hi) {
		return ""
	}
	return " It may be " + w.offsets(lo, hi) + ", by how the metal flows along the bar."
}

// parts gives tilt and wave where there are any, and which can be ground out.
func (w workWords) parts() string {
	f := w.w.Final
	text := ""
	const worth = 0.03e-3 // m, a hair's half: less is not worth a word
	if math.Abs(f.Tilt) >= worth {
		text += fmt.Sprintf(" From the left side of the bar to the right it tilts by %s, toward %s on the right.", w.FineLength(math.Abs(f.Tilt)), sideName(f.Tilt > 0))
	}
	if f.Wave >= worth {
		text += fmt.Sprintf(" Along the bar it waves by %s either way, which no grinding takes out.", w.FineLength(f.Wave))
	}
	return text
}

// worst is the largest cause that moves the core the way it went.
func (w workWords) worst() sim.Cause {
	total, worst := w.w.Final.Offset, sim.Cause{}
	for _, c := range w.w.Causes {
		if math.Abs(c.Offset) > math.Abs(worst.Offset) && (w.nothing(total) || c.Offset*total > 0) {
			worst = c
		}
	}
	return worst
}

// because says what a cause was in this job.
func (w workWords) because(name string) string {
	if name != sim.Temperature {
		return becauses[name]
	}
	n, lower, sideA := 0.0, 0.0, 0.0
	for _, p := range w.w.Passes {
		if p.Edge || p.Temperature == 0 {
			continue
		}
		d := p.SideA - p.SideB
		n, sideA = n+1, sideA+d
		if p.DownA {
			d = -d
		}
		lower += d
	}
	const plain = 1.0 // K, mean over the passes, below which no side is the colder
	switch {
	case n == 0:
		return becauses[name]
	case w.w.Heats > 0 && lower/n > plain && w.job.Hammer != nil && w.used(sim.ByHammer):
		return "the lower side lay on a cold anvil"
	case w.w.Heats > 0 && lower/n > plain && w.used(sim.ByPress):
		return "the lower side lay on a cold die"
	case math.Abs(sideA)/n > plain:
		return fmt.Sprintf("side %s was colder, by %s at the mean of the passes", sideName(sideA < 0), w.TemperatureDifference(math.Abs(sideA)/n))
	}
	return becauses[name]
}

func (w workWords) used(t sim.PassTool) bool {
	for _, p := range w.w.Passes {
		if p.Tool == t {
			return true
		}
	}
	return false
}

// atEdge says what the drift does at the edge of the blade.
func (w workWords) atEdge() string {
	if !w.w.EdgeOffset.OK {
		return ""
	}
	text := fmt.Sprintf("Where this blade's edge will lie the core is %s", w.toward(w.w.EdgeOffset.Value))
	g := w.r.Ground
	switch {
	case g == nil:
		return text + "."
	case !g.Answer.InCore:
		return "No: the edge of this blade leaves the core. " + text + "; billet grind says what can be saved."
	case g.Answer.Mismatch == nil:
		return text + "; the edge stays in the core."
	}
	mid := g.Answer.Mid
	return fmt.Sprintf("%s: the edge stays in the core, by %s at the least, and the core lines of the two faces differ by %s.", text,
		w.FineLength(leastMargin(g)), w.Length(math.Abs(*mid.A.CoreLine-*mid.B.CoreLine)))
}

// leastMargin is the least margin of the edge in the core along the blade, m.
func leastMargin(g *sim.Bevelled) float64 {
	least := math.Inf(1)
	for _, s := range g.Answer.Along {
		least = min(least, s.MarginA, s.MarginB)
	}
	return least
}

// turning says what another flipping habit, or the best remedy, would do.
func (w workWords) turning() string {
	now := math.Abs(w.w.Final.Offset)
	const worth = 0.02e-3 // m: below it there is nothing to mend
	text := ""
	for _, f := range w.w.Flips {
		if !f.IsCurrent && math.Abs(f.Offset) < 0.8*now && now >= worth && (text == "" || f.Habit == sim.FlipEveryPass) {
			text = fmt.Sprintf("%s: %s.", sentenceCase(turnWords[f.Habit]), w.left(f.Offset))
		}
	}
	if text == "" {
		for _, f := range w.w.Flips {
			if f.Habit == sim.FlipNever && !f.IsCurrent && math.Abs(f.Offset) > 1.25*now && !w.nothing(f.Offset) {
				text = fmt.Sprintf("Keep turning it over: never turned it would end %s.", w.toward(f.Offset))
			}
		}
	}
	for _, m := range w.w.Remedies {
		if math.Abs(m.Offset) <= now/2 && !turns(m.What) && now >= worth {
			return fmt.Sprintf("%s%s: %s.", spaced(text), sentenceCase(m.What), w.left(m.Offset))
		}
	}
	return text
}

// left is what an offset leaves, in the fewest words.
func (w words) left(m float64) string {
	if w.nothing(m) {
		return "in the middle"
	}
	return w.FineLength(math.Abs(m))
}

func spaced(text string) string {
	if text == "" {
		return ""
	}
	return text + " "
}

// turns says that a remedy is a flipping habit, which has its own sentence.
func turns(what string) bool {
	for _, t := range turnWords {
		if what == t {
			return true
		}
	}
	return false
}

// turnWords are the flipping habits as things to do, as the remedies have them.
var turnWords = [...]string{sim.FlipEveryHeat: "turn it over at every heat", sim.FlipEveryPass: "turn it over at every pass", sim.FlipNever: "never turn it over"}

// causes writes the causes as a table; those that add nothing in one line.
func (w workWords) causes(b *bytes.Buffer) {
	if len(w.w.Causes) == 0 {
		return
	}
	b.WriteString("\nWhat moves the core\n")
	var rows [][]string
	var none []string
	for _, c := range w.w.Causes {
		if w.nothing(c.Offset) {
			if c.Name != sim.Interaction {
				none = append(none, causeNames[c.Name])
			}
			continue
		}
		rows = append(rows, []string{causeNames[c.Name], w.toward(c.Offset)})
	}
	rows = append(rows, []string{"together", w.toward(w.w.Final.Offset)})
	columns(b, "  ", "ll", rows)
	if len(none) > 0 {
		paragraph(b, "  ", "  ", "nothing from: "+andList(none))
	}
}

// help lists what would help, that which halves the offset first, then by
// effort.
func (w workWords) help(b *bytes.Buffer) {
	efforts := [...]string{1: "a habit", 2: "a little work", 3: "other stock or tools"}
	var out []string
	for _, m := range w.w.Remedies {
		out = append(out, fmt.Sprintf("%s: the core would end %s (%s)", m.What, w.toward(m.Offset), efforts[min(max(m.Effort, 1), 3)]))
	}
	if !w.nothing(w.w.Final.Offset) {
		bullets(b, "What would help", out)
	}
}

// flips writes the flipping habits side by side.
func (w workWords) flips(b *bytes.Buffer) {
	if len(w.w.Flips) == 0 {
		return
	}
	b.WriteString("\nTurned over\n")
	var rows [][]string
	for _, f := range w.w.Flips {
		here := ""
		if f.IsCurrent {
			here = "as the job has it"
		}
		rows = append(rows, []string{habitNames[f.Habit], w.toward(f.Offset), here})
	}
	columns(b, "  ", "lll", rows)
}

// inputNames name what the odds draw, and what to do about each.
var inputNames = map[string]struct{ name, do string }{
	"jackets":      {"how equal the jackets are", "measure the jackets and grind them to one thickness"},
	"side_to_side": {"how even the heat is from side to side", "turn the bar in the fire and warm the dies"},
	"rest":         {"how long it lies on the lower tool", "squeeze at once, or warm the tool"},
	"tilt":         {"how true the tools are", "true the tools and feed the bar level"},
	"friction":     {"how the tools grip", "keep both tool faces equally clean and dry"},
	"reading":      {"the reading of the fire", "time a plain bar in this forge"},
}

// odds says how it may come out and what matters most.
func (w workWords) odds() string {
	o := w.w.Odds
	if o == nil {
		return ""
	}
	text := fmt.Sprintf("Over %d days drawn at random the core ended %s in nine of ten", o.Draws, w.offsets(o.Offset[0], o.Offset[2]))
	if o.HasEdge {
		out := int(math.Round(o.Outside * float64(o.Draws)))
		switch out {
		case 0:
			text += ", and the edge never left the core"
		default:
			text += fmt.Sprintf(", and the edge left the core on %d of them (%s)", out, w.Share(o.Outside))
		}
	}
	if o.HasMismatch {
		text += fmt.Sprintf("; the core lines differ by up to %s", w.Length(math.Max(math.Abs(o.Mismatch[0]), math.Abs(o.Mismatch[2]))))
	}
	text += "."
	most := -1
	for i, s := range o.Shares {
		if s > 0 && (most < 0 || s > o.Shares[most]) {
			most = i
		}
	}
	if most >= 0 {
		in := inputNames[sim.InputNames[most]]
		text += fmt.Sprintf(" What matters most is %s: %s.", in.name, in.do)
	}
	return text
}

// oddsTable writes what the spread is made of.
func (w workWords) oddsTable(b *bytes.Buffer) {
	o := w.w.Odds
	if o == nil {
		return
	}
	b.WriteString("\nWhat the spread over the days is made of\n")
	var rows [][]string
	rest := 1.0
	for i, s := range o.Shares {
		rest -= s
		rows = append(rows, []string{inputNames[sim.InputNames[i]].name, fmt.Sprintf("%.0f %%", 100*s)})
	}
	rows = append(rows, []string{"what no straight line explains", fmt.Sprintf("%.0f %%", 100*math.Max(0, rest))})
	columns(b, "  ", "lr", rows)
	text := fmt.Sprintf("Drawn with seed %d.", o.Seed)
	if o.Checked > 0 {
		text += fmt.Sprintf(" Tilt was taken in proportion; %d days worked in full differ by %s at most.", o.Checked, w.FineLength(o.TiltMiss))
	}
	if o.Worked > 0 && o.Worked < o.Draws {
		text += fmt.Sprintf(" %d days were worked in full and the rest read off a surface through them, which misses by %s.", o.Worked, w.FineLength(o.SurfaceMiss))
	}
	if o.Failed > 0 {
		text += fmt.Sprintf(" %d more days could not be worked and are left out.", o.Failed)
	}
	paragraph(b, "  ", "  ", text)
}
