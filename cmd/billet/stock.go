package main

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"billet/plots"
	"billet/sim"
)

var stockCommand = command{
	name: "stock",
	line: "from the blade wanted back to the pieces to cut",
	help: `From the blade wanted back to the pieces to cut: through grinding, drift,
passes, scale and trimmed ends, rounded up to what [stock] can be bought in, and
run forward again to see that the blade comes out.

    billet stock JOB.toml
    billet stock JOB.toml --format csv   the pieces as a table

Flags:
        --format FORMAT      text, json, or csv: a row a kind of piece
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json and csv are metric always
        --quiet              say nothing but the answer and errors

The job's stack gives the materials, their order and about how thick to start;
its thicknesses and lengths are worked out anew. Passes are planned.

Exit code: 0 done; 1 the answer is "no": the blade does not come out as wanted,
or a pass is too much for its machine (the nearest found is given all the same);
2 the command or the job is at fault; 3 the computation failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json", "csv")
		f.takeOut()
		f.takePictures()
		f.takeUnits()
	},
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working back to the stock",
			work:  func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) { return sim.CutStock(c.ctx, j, opt) },
			draw:  plots.Stock, text: stockText, json: stockResult, csv: stockCSV, no: stockFails,
		})
	},
}

// stockFails says that no pieces were found that give the blade.
func stockFails(r *sim.Result) bool {
	return !r.Stock.Within || r.Work != nil && !r.Work.Can
}

// stockWords writes the pieces in shop words.
type stockWords struct {
	words
	r *sim.Result
	k *sim.StockCut
}

// stockText is the answer of stock for a person.
func stockText(r *sim.Result) []byte {
	w := stockWords{wordsFor(r.Job), r, r.Stock}
	b := &bytes.Buffer{}
	for _, text := range []string{w.verdict(), w.cut(), w.draw(), w.proof()} {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	b.WriteString("\n")
	w.pieces(b)
	b.WriteString("\nWhere the steel goes\n")
	w.losses(b)
	b.WriteString("\n")
	if r.Job.Title != "" {
		paragraph(b, "", "", r.Job.Title)
	}
	footing(b, r)
	return b.Bytes()
}

func (w stockWords) verdict() string {
	switch {
	case w.r.Work != nil && !w.r.Work.Can:
		return workWordsFor(w.r).verdict()
	case !w.k.Within:
		return fmt.Sprintf("No: after %s these pieces come nearest, and the blade does not come out of them as wanted.", counted(w.k.Rounds, "trial", "trials"))
	}
	return ""
}

// cut says what to cut.
func (w stockWords) cut() string {
	var each []string
	for _, p := range w.k.Pieces {
		each = append(each, fmt.Sprintf("%s of %s %s thick", counted(p.Count, "piece", "pieces"), p.Material, w.Length(p.Thickness)))
	}
	p := w.k.Pieces[0]
	return fmt.Sprintf("Cut %s, all %s wide and %s long.", andList(each), w.Length(p.Width), w.LongLength(p.Length))
}

// draw says what to make of them.
func (w stockWords) draw() string {
	text := fmt.Sprintf("Weld and draw to %s thick, which gives %s wide and %s long, cold", w.Length(w.k.Bar.Thickness), w.Length(w.k.Bar.Width), w.LongLength(w.k.Bar.Length))
	if w.k.Blades > 1 {
		return text + fmt.Sprintf(": enough for %s.", counted(w.k.Blades, "blade", "blades"))
	}
	return text + "."
}

// proof says what the run forward gives.
func (w stockWords) proof() string {
	a := w.k.Proof.Answer
	text := "Run forward, the edge lies in the core"
	if !a.InCore {
		text = "Run forward, the edge leaves the core"
	}
	if la, lb := a.Mid.A.CoreLine, a.Mid.B.CoreLine; la != nil && lb != nil {
		text += fmt.Sprintf(" and the core line stands %s on side A and %s on side B", w.Length(*la), w.Length(*lb))
		if want := w.r.Job.Blade.CoreLine; want > 0 {
			text += fmt.Sprintf(", %s wanted", w.Length(want))
		}
	}
	return text + "."
}

func (w stockWords) pieces(b *bytes.Buffer) {
	rows := [][]string{{"pieces", "of", "thick", "wide", "long"}}
	for _, p := range w.k.Pieces {
		rows = append(rows, []string{strconv.Itoa(p.Count), p.Material, w.Length(p.Thickness), w.Length(p.Width), w.LongLength(p.Length)})
	}
	columns(b, "  ", "rlrrr", rows)
}

func (w stockWords) losses(b *bytes.Buffer) {
	rows := [][]string{{"", "left", "gone", ""}}
	before := 0.0
	for i, l := range w.k.Losses {
		gone, share := "", ""
		if i > 0 {
			gone, share = w.Mass(math.Max(0, before-l.Mass)), w.Share(l.Share)+" of the stack"
		}
		rows = append(rows, []string{l.Step, w.Mass(l.Mass), gone, share})
		before = l.Mass
	}
	columns(b, "  ", "lrrl", rows)
}

// stockJSON is the answer of stock as JSON.
type stockJSON struct {
	heading
	Pieces []pieceJSON `json:"pieces"`
	Losses []lossJSON  `json:"losses"`
	Bar    sizesJSON   `json:"bar"`
	Blades int         `json:"blades"`
	Rounds int         `json:"rounds"`
	Within bool        `json:"comes_out"`
	Grind  grindJSON   `json:"grind"` // of the run forward
}

type pieceJSON struct {
	Material  string `json:"material"`
	Thickness number `json:"thickness_mm"`
	Width     number `json:"width_mm"`
	Length    number `json:"length_mm"`
	Count     int    `json:"count"`
}

type lossJSON struct {
	Step  string `json:"step"`
	Mass  number `json:"mass_kg"` // left after it
	Share number `json:"share_percent"`
}

func stockResult(name string, r *sim.Result) any {
	k := r.Stock
	proof := *r
	proof.Ground = k.Proof
	out := stockJSON{heading: newHeading(name, r.Job.Title, r), Pieces: []pieceJSON{}, Losses: []lossJSON{}, Bar: sizesOf(k.Bar),
		Blades: k.Blades, Rounds: k.Rounds, Within: k.Within, Grind: grindResult("grind", &proof).(grindJSON)}
	for _, p := range k.Pieces {
		out.Pieces = append(out.Pieces, pieceJSON{p.Material, millimetres(p.Thickness), millimetres(p.Width), millimetres(p.Length), p.Count})
	}
	for _, l := range k.Losses {
		out.Losses = append(out.Losses, lossJSON{l.Step, number(l.Mass), number(100 * l.Share)})
	}
	return out
}

// stockCSV is the pieces as a table.
func stockCSV(r *sim.Result) []byte {
	rows := [][]string{{"material", "thickness_mm", "width_mm", "length_mm", "count"}}
	for _, p := range stockResult("", r).(stockJSON).Pieces {
		rows = append(rows, []string{p.Material, cell(&p.Thickness), cell(&p.Width), cell(&p.Length), strconv.Itoa(p.Count)})
	}
	return table(rows)
}
