package main

import (
	"bytes"
	"fmt"
	"strconv"

	"billet/plots"
	"billet/sim"
)

var lossesCommand = command{
	name: "losses",
	line: "carbon, scale and grain after each heat",
	help: `What the fire takes: scale off each face, carbon out of core and skin, heat by
heat, and whether the edge is still high in carbon.

    billet losses JOB.toml
    billet losses JOB.toml --format csv   the heats as a table

Flags:
        --format FORMAT      text, json, or csv: a row a heat
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json and csv are metric always
        --quiet              say nothing but the answer and errors

Without [[pass]] and [target] these are the losses of the soak alone.

Exit code: 0 done; 1 the answer is "no": a pass is too much for its machine
(the results are given all the same); 2 the command or the job is at fault; 3
the computation failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json", "csv")
		f.takeOut()
		f.takePictures()
		f.takeUnits()
	},
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working out the losses",
			work:  func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) { return sim.FireLosses(c.ctx, j, opt) },
			draw:  plots.Losses, text: lossesText, json: lossesResult, csv: lossesCSV,
			no: func(r *sim.Result) bool { return r.Work != nil && !r.Work.Can },
		})
	},
}

// lossWords writes the losses in shop words.
type lossWords struct {
	words
	r *sim.Result
	l *sim.Lost
}

// lossesText is the answer of losses for a person.
func lossesText(r *sim.Result) []byte {
	w := lossWords{wordsFor(r.Job), r, r.Losses}
	b := &bytes.Buffer{}
	if r.Work != nil && !r.Work.Can {
		paragraph(b, "", "", workWordsFor(r).verdict())
	}
	for _, text := range []string{w.edge(), w.taken(), w.decarb(), w.levelled()} {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	if len(w.l.Heats) > 0 {
		b.WriteString("\n")
		w.table(b)
	}
	b.WriteString("\n")
	if r.Job.Title != "" {
		paragraph(b, "", "", r.Job.Title)
	}
	paragraph(b, "", "", sentence(w.stack()))
	footing(b, r)
	return b.Bytes()
}

func carbon(percent float64) string { return fmt.Sprintf("%.2f %%", percent) }

// edge says what carbon is left where the blade's edge will lie.
func (w lossWords) edge() string {
	s := w.job.Stack
	core := s.Layers[w.core()].Material
	place := "The middle of the core"
	if w.job.Blade != nil {
		place = "The core at the edge"
	}
	if len(s.Layers) == 1 {
		place = "The middle of the bar"
	}
	text := fmt.Sprintf("%s keeps %s carbon of the %s it began with", place, carbon(w.l.CarbonAtEdge), carbon(core.Carbon))
	if w.l.Transition > 0 {
		text += fmt.Sprintf("; the grey band beside it, where carbon has crossed the joint, is %s wide", w.FineLength(w.l.Transition))
	}
	return text + "."
}

// core is the layer the edge is of: the marked one, else the middle one.
func (w lossWords) core() int {
	if k, ok := w.job.Stack.CoreLayer(); ok {
		return k
	}
	return len(w.job.Stack.Layers) / 2
}

// taken adds up the scale.
func (w lossWords) taken() string {
	var a, c, share, mass float64
	for _, h := range w.l.Heats {
		a, c, share = a+h.ScaleA, c+h.ScaleB, share+h.MassShare
	}
	s := w.job.Stack
	for _, l := range s.Layers {
		mass += l.Material.Density * l.Thickness * s.Width * s.Length
	}
	return fmt.Sprintf("Scale takes %s of steel off side A and %s off side B in %s, %s or %s of the stack in all, good to a factor of two.",
		w.FineLength(a), w.FineLength(c), counted(len(w.l.Heats), "heat", "heats"), w.Mass(share*mass), w.Share(share))
}

// decarb says how deep the skins have lost carbon, and whether the grind
// clears that.
func (w lossWords) decarb() string {
	d, found := 0.0, false
	for i, v := range w.l.Decarb {
		if w.l.DecarbFound[i] {
			found, d = true, max(d, v)
		}
	}
	switch {
	case !found:
		return "The outer layers began with too little carbon to speak of its loss."
	case w.nothing(d):
		return "The skin has lost no carbon to speak of."
	}
	text := fmt.Sprintf("The skin has lost carbon to a depth of %s", w.FineLength(d))
	if b := w.job.Blade; b != nil && b.Clean > 0 {
		if d > b.Clean {
			return fmt.Sprintf("%s; the %s to be cleaned off each face leaves some of it.", text, w.FineLength(b.Clean))
		}
		return fmt.Sprintf("%s; the %s to be cleaned off each face takes all of it.", text, w.FineLength(b.Clean))
	}
	return text + "."
}

func (w lossWords) levelled() string {
	if w.l.Levelled == 0 {
		return ""
	}
	return fmt.Sprintf("After heat %d the layers hold the same carbon within a twentieth of what they began apart.", w.l.Levelled)
}

func (w lossWords) table(b *bytes.Buffer) {
	grows := false
	for _, h := range w.l.Heats {
		grows = grows || h.Grain != w.l.Heats[0].Grain
	}
	head, marks := []string{"heat", "off side A", "off side B", "of the stack", "skin short of carbon"}, "rrrrr"
	if grows {
		head, marks = append(head, "grain"), marks+"r"
	}
	rows := [][]string{head}
	for _, h := range w.l.Heats {
		row := []string{strconv.Itoa(h.Number), w.FineLength(h.ScaleA), w.FineLength(h.ScaleB), w.Share(h.MassShare), w.FineLength(h.Decarb)}
		if grows {
			row = append(row, fmt.Sprintf("%.0f µm", 1e6*h.Grain))
		}
		rows = append(rows, row)
	}
	columns(b, "  ", marks, rows)
}

// lossesJSON is the answer of losses as JSON.
type lossesJSON struct {
	heading
	Heats        []heatLossJSON `json:"heats"`
	CarbonAtEdge number         `json:"carbon_at_edge_percent"`
	Transition   *number        `json:"transition_mm"` // null: no step left
	Levelled     *int           `json:"levelled_after_heat"`
	DecarbA      *number        `json:"decarb_a_mm"` // null: too little carbon to begin with
	DecarbB      *number        `json:"decarb_b_mm"`
	Grain        number         `json:"grain_um"`
}

type heatLossJSON struct {
	Number int        `json:"number"`
	ScaleA number     `json:"scale_a_mm"`
	ScaleB number     `json:"scale_b_mm"`
	Mass   number     `json:"mass_lost_percent"`
	Decarb number     `json:"decarb_mm"`
	Grain  number     `json:"grain_um"`
	Carbon carbonJSON `json:"carbon"`
}

type carbonJSON struct {
	Z       []number `json:"z_mm"`
	Percent []number `json:"percent"`
}

func micrometres(m float64) number { return number(m * 1e6) }

func lossesResult(name string, r *sim.Result) any {
	l := r.Losses
	out := lossesJSON{heading: newHeading(name, r.Job.Title, r), Heats: []heatLossJSON{}, CarbonAtEdge: number(l.CarbonAtEdge),
		Transition: positive(l.Transition, millimetres), Levelled: count(l.Levelled), Grain: micrometres(l.Grain),
		DecarbB: optional(l.DecarbFound[0], millimetres(l.Decarb[0])), DecarbA: optional(l.DecarbFound[1], millimetres(l.Decarb[1]))}
	for _, h := range l.Heats {
		out.Heats = append(out.Heats, heatLossJSON{h.Number, millimetres(h.ScaleA), millimetres(h.ScaleB), number(100 * h.MassShare),
			millimetres(h.Decarb), micrometres(h.Grain), carbonJSON{each(h.Z, millimetres), each(h.Carbon, func(v float64) number { return number(v) })}})
	}
	return out
}

// lossesCSV is the heats as a table.
func lossesCSV(r *sim.Result) []byte {
	rows := [][]string{{"number", "scale_a_mm", "scale_b_mm", "mass_lost_percent", "decarb_mm", "grain_um"}}
	for _, h := range lossesResult("", r).(lossesJSON).Heats {
		rows = append(rows, []string{strconv.Itoa(h.Number), cell(&h.ScaleA), cell(&h.ScaleB), cell(&h.Mass), cell(&h.Decarb), cell(&h.Grain)})
	}
	return table(rows)
}
