package main

import (
	"bytes"
	"fmt"
	"math"

	"billet/plots"
	"billet/sim"
	"billet/sim/blade"
)

var grindCommand = command{
	name: "grind",
	line: "what the bevels show: core lines, edge in the core or not, pits",
	help: `What the bevels of the blade show when it is ground from the bar: how high the
core line stands on each side, whether the edge lies in the core, how much
jacket is left, whether scale pits are gone, and what moving the grind saves.

    billet grind JOB.toml
    billet grind JOB.toml --format csv   the core lines along the blade

Flags:
        --format FORMAT      text, json, or csv: a row a place along the blade
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json and csv are metric always
        --quiet              say nothing but the answer and errors

Without [[pass]] and [target] the blade is cut from the stack as laid up.
Bevels that are forged in, and the curve of belly and point, are left out.

Exit code: 0 done; 1 the answer is "no": the edge leaves the core, pits stay,
the bar is too small, or a pass is too much for its machine (the results are
given all the same); 2 the command or the job is at fault; 3 the computation
failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json", "csv")
		f.takeOut()
		f.takePictures()
		f.takeUnits()
	},
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working out the bar to grind",
			work:  func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) { return sim.Grind(c.ctx, j, opt) },
			draw:  plots.Grind, text: grindText, json: grindResult, csv: grindCSV, no: grindFails,
		})
	},
}

// grindFails says that the blade can't be ground as placed, or its bar not be
// made.
func grindFails(r *sim.Result) bool {
	return !r.Ground.OK() || r.Work != nil && !r.Work.Can
}

// grindWords writes what the bevels show in shop words.
type grindWords struct {
	words
	r *sim.Result
	g *sim.Bevelled
	a *blade.Answer
}

func grindWordsFor(r *sim.Result) grindWords {
	return grindWords{wordsFor(r.Job), r, r.Ground, r.Ground.Answer}
}

// grindText is the answer of grind for a person.
func grindText(r *sim.Result) []byte {
	w := grindWordsFor(r)
	b := &bytes.Buffer{}
	if r.Work != nil {
		if no := workWordsFor(r).verdict(); no != "" {
			paragraph(b, "", "", no)
		}
	}
	for _, text := range []string{w.edge(), w.lines(), w.pits(), w.room(), w.least(), w.rescue()} {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	b.WriteString("\n")
	w.table(b)
	w.moves(b)
	w.habits(b)
	b.WriteString("\n")
	if r.Job.Title != "" {
		paragraph(b, "", "", r.Job.Title)
	}
	paragraph(b, "", "", w.from())
	footing(b, r)
	return b.Bytes()
}

// edge says whether the edge lies in the core.
func (w grindWords) edge() string {
	if w.a.InCore {
		a, b := w.margins()
		return fmt.Sprintf("The edge lies in the core all along the blade, with %s of core beyond it on side A and %s on side B at the least.", w.FineLength(a), w.FineLength(b))
	}
	var where []string
	for _, l := range w.a.Leaves {
		side := "on side " + l.Side.String()
		if l.Short {
			side = "since the core ends before it"
		}
		from, to := w.LongLength(l.From), w.LongLength(l.To)
		if l.From <= 0 && l.To >= w.g.Blade.Length*(1-1e-9) {
			where = append(where, fmt.Sprintf("%s all along, by up to %s", side, w.FineLength(-l.Worst)))
			continue
		}
		where = append(where, fmt.Sprintf("%s from %s to %s from the heel, by up to %s", side, from, to, w.FineLength(-l.Worst)))
	}
	return "No: the edge leaves the core " + andList(where) + "."
}

// margins are the least margins on each side along the blade, m.
func (w grindWords) margins() (a, b float64) {
	a, b = math.Inf(1), math.Inf(1)
	for _, s := range w.a.Along {
		a, b = min(a, s.MarginA), min(b, s.MarginB)
	}
	return a, b
}

// lines says how high the core lines stand.
func (w grindWords) lines() string {
	a, b := w.a.Mid.A.CoreLine, w.a.Mid.B.CoreLine
	switch {
	case a == nil && b == nil:
		return "No core line shows on either side half way along."
	case a == nil:
		return fmt.Sprintf("Half way along the core line stands %s above the edge on side B; side A shows none.", w.Length(*b))
	case b == nil:
		return fmt.Sprintf("Half way along the core line stands %s above the edge on side A; side B shows none.", w.Length(*a))
	}
	text := fmt.Sprintf("Half way along the core line stands %s above the edge on side A and %s on side B: %s apart", w.Length(*a), w.Length(*b), w.Length(math.Abs(*a-*b)))
	if m := w.a.Worst; m != nil && math.Abs(*m)-math.Abs(*a-*b) > 0.1e-3 {
		text += fmt.Sprintf(", %s where it is most", w.Length(math.Abs(*m)))
	}
	if want := w.g.Ask.CoreLine; want > 0 {
		text += fmt.Sprintf("; wanted %s", w.Length(want))
	}
	return text + "."
}

// pits says whether scale pits are ground out.
func (w grindWords) pits() string {
	want := w.g.Ask.Clean
	if want == 0 {
		return ""
	}
	if w.a.PitsA && w.a.PitsB {
		return fmt.Sprintf("The pits are gone: at least %s comes off side A and %s off side B, %s is wanted.", w.FineLength(w.a.DepthA), w.FineLength(w.a.DepthB), w.FineLength(want))
	}
	var sides []string
	for i, d := range []float64{w.a.DepthA, w.a.DepthB} {
		if ok := [...]bool{w.a.PitsA, w.a.PitsB}[i]; !ok {
			sides = append(sides, fmt.Sprintf("side %s, where only %s comes off", sideName(i == 0), w.FineLength(math.Max(0, d))))
		}
	}
	return fmt.Sprintf("No: pits stay on %s; %s is wanted.", andList(sides), w.FineLength(want))
}

// room says whether the bar is large enough.
func (w grindWords) room() string {
	var short []string
	if w.a.NarrowBy > 0 {
		short = append(short, w.Length(w.a.NarrowBy)+" too narrow")
	}
	if w.a.ShortBy > 0 {
		short = append(short, w.Length(w.a.ShortBy)+" too short")
	}
	if len(short) == 0 {
		return ""
	}
	return "No: the bar is " + andList(short) + " for this blade."
}

// least says how thick to leave the bar.
func (w grindWords) least() string {
	if w.a.Least.Thickness <= 0 {
		return ""
	}
	text := fmt.Sprintf("Stop no thinner than %s before grinding; this bar is %s there", w.Length(w.a.Least.Thickness), w.Length(w.a.Thickness))
	if w.g.Ask.CoreLine > 0 && w.a.Least.Line == nil {
		text += "; no thickness brings both lines as high as wanted"
	}
	return text + "."
}

// rescue says what moving the grind would save.
func (w grindWords) rescue() string {
	if len(w.a.Rescue) == 0 {
		return ""
	}
	best := w.a.Rescue[0]
	const worth, line = 0.05e-3, 0.5e-3 // m: less is not worth a grind laid anew
	for _, r := range w.a.Rescue[1:] {
		if r.Margin > best.Margin+worth {
			best = r
		}
	}
	a, b := w.margins()
	closer := w.a.Mismatch != nil && best.Mismatch != nil && math.Abs(*best.Mismatch) < math.Abs(*w.a.Mismatch)-line
	if best.Margin < math.Min(a, b)+worth && !closer {
		return ""
	}
	text := fmt.Sprintf("It pays to %s: %s, with the edge then ", best.Move, w.laid(best))
	if best.InCore {
		text += fmt.Sprintf("%s inside the core", w.FineLength(best.Margin))
	} else {
		text += "still outside the core"
	}
	if best.Mismatch != nil {
		text += fmt.Sprintf(" and the lines %s apart", w.Length(math.Abs(*best.Mismatch)))
	}
	switch {
	case !best.Fits:
		text += fmt.Sprintf("; for that the bar would have to be %s thick", w.Length(best.Needs))
	case best.Cost > 0 && !w.nothing(best.Cost):
		text += fmt.Sprintf("; it takes %s more of the bar's thickness, which is there", w.FineLength(best.Cost))
	}
	return text + "."
}

// laid says how the grind is laid anew.
func (w grindWords) laid(r blade.Rescue) string {
	out := []string{"the centre plane moved " + w.toward(r.Shift)}
	if w.nothing(r.Shift) {
		out = []string{"the centre plane where it is"}
	}
	if a := math.Abs(r.Tilt) * w.g.Blade.Height; !w.nothing(a) {
		out = append(out, fmt.Sprintf("the spine %s further toward %s", w.FineLength(a), sideName(r.Tilt > 0)))
	}
	if a := math.Abs(r.Turn) * w.g.Blade.Length; !w.nothing(a) {
		out = append(out, fmt.Sprintf("the tip %s further toward %s", w.FineLength(a), sideName(r.Turn > 0)))
	}
	return andList(out)
}

// table writes the blade at heel, middle and tip.
func (w grindWords) table(b *bytes.Buffer) {
	rows := [][]string{{"from the heel", "line, A", "line, B", "jacket, A", "jacket, B", "core past edge, A", "B"}}
	n := len(w.a.Along) - 1
	for k := range 5 {
		s := w.a.Along[k*n/4]
		rows = append(rows, []string{w.LongLength(s.S), w.line(s.A.CoreLine), w.line(s.B.CoreLine), w.FineLength(s.A.Jacket), w.FineLength(s.B.Jacket),
			w.FineLength(s.MarginA), w.FineLength(s.MarginB)})
	}
	columns(b, "  ", "rrrrrrr", rows)
	paragraph(b, "  ", "  ", "Line: height of the core line above the edge. Jacket: what is left at the spine.")
}

func (w grindWords) line(m *float64) string {
	if m == nil {
		return "none"
	}
	return w.Length(*m)
}

// moves lists what each way of laying the grind anew gives.
func (w grindWords) moves(b *bytes.Buffer) {
	var out []string
	for _, r := range w.a.Rescue {
		text := fmt.Sprintf("%s: edge %s inside the core", r.Move, w.FineLength(r.Margin))
		if !r.InCore {
			text = fmt.Sprintf("%s: the edge still leaves the core", r.Move)
		}
		if r.Mismatch != nil {
			text += fmt.Sprintf(", lines %s apart", w.Length(math.Abs(*r.Mismatch)))
		}
		text += fmt.Sprintf("; clean faces need a bar of %s", w.Length(r.Needs))
		if !r.Fits {
			text += ", which this is not"
		}
		out = append(out, text)
	}
	bullets(b, "What laying the grind anew saves", out)
}

// habits lists what makers take: opinions to hold beside the answer.
func (w grindWords) habits(b *bytes.Buffer) {
	var out []string
	for _, h := range w.g.Habits {
		switch h.What {
		case "ground off each face after press or rolls", "ground off each face after a hammer", "trimmed off each long side", "edge thickness before hardening":
			out = append(out, fmt.Sprintf("%s: %s", h.What, between(w.Length(h.Low), w.Length(h.High))))
		}
	}
	bullets(b, "What makers take (common practice, no source)", out)
}

// from says what the blade was cut from.
func (w grindWords) from() string {
	if w.g.FromStack {
		return "Cut from the stack as laid up: the job has neither passes nor a target. " + sentence(w.stack())
	}
	f := w.r.Work.Final
	return fmt.Sprintf("Cut from the worked bar: %s thick, %s wide, %s long.", w.Length(f.Thickness), w.Length(f.Width), w.LongLength(f.Length))
}
