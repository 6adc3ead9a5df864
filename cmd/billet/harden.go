package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"billet/plots"
	"billet/sim"
	"billet/sim/metal"
	"billet/sim/unit"
)

var hardenCommand = command{
	name: "harden",
	line: "cycles, quench and temper: does it harden through, and how hard",
	help: `What cycles, quench and temper make of the blade: temperatures at edge, middle
of the bevel and spine, whether the core hardens through, how hard it is before
and after the temper, and what may go wrong. Without [blade] the bar, or the
stack, is quenched whole.

    billet harden JOB.toml

Flags:
        --format FORMAT      text or json
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json are metric always
        --quiet              say nothing but the answer and errors

What counts is the carbon the fire has left at the edge. Hardness is in HRC,
give or take what is said beside it.

Exit code: 0 done; 1 the answer is "no": the core does not harden through, or a
risk says stop (the results are given all the same); 2 the command or the job is
at fault; 3 the computation failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json")
		f.takeOut()
		f.takePictures()
		f.takeUnits()
	},
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working out the heat treatment",
			work: func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) {
				return sim.HardenBlade(c.ctx, j, opt, nil)
			},
			draw: plots.Harden, text: hardenText, json: hardenResult, no: hardenFails,
		})
	},
}

// hardenFails says that the core does not harden through, or a risk says stop.
func hardenFails(r *sim.Result) bool {
	for _, k := range r.Hardened.Risks {
		if k.Stop {
			return true
		}
	}
	return !r.Hardened.Through
}

// hardenWords writes the heat treatment in shop words.
type hardenWords struct {
	words
	h *sim.Hardened
}

// hardenText is the answer of harden for a person.
func hardenText(r *sim.Result) []byte {
	w := hardenWords{wordsFor(r.Job), r.Hardened}
	b := &bytes.Buffer{}
	for _, text := range []string{w.verdict(), w.hardness(), w.heat(), w.bows()} {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	w.risks(b)
	b.WriteString("\n")
	w.table(b)
	w.layersTable(b)
	w.points(b)
	w.cycles(b)
	b.WriteString("\n")
	if r.Job.Title != "" {
		paragraph(b, "", "", r.Job.Title)
	}
	paragraph(b, "", "", sentence(w.stack()))
	footing(b, r)
	return b.Bytes()
}

// verdict says whether the core hardens.
func (w hardenWords) verdict() string {
	if w.h.Through {
		return fmt.Sprintf("Quenched from %s in %s the core hardens through.", w.ExactTemperature(w.h.Heat), w.h.Quenchant.Name)
	}
	var where []string
	for _, p := range w.h.Places {
		for _, l := range p.Layers {
			if l.Material == w.coreName() && !l.Through {
				where = append(where, "at the "+p.Place)
				break
			}
		}
	}
	text := fmt.Sprintf("No: quenched from %s in %s the core does not harden through", w.ExactTemperature(w.h.Heat), w.h.Quenchant.Name)
	if len(where) > 0 {
		text += " " + andList(where)
	}
	return text + "."
}

func (w hardenWords) coreName() string {
	s := w.job.Stack
	if k, ok := s.CoreLayer(); ok {
		return s.Layers[k].Material.Name
	}
	return s.Layers[len(s.Layers)/2].Material.Name
}

// hrc is a hardness with what it is good to.
func hrc(h metal.Hardness) string {
	if h.HRC <= 0 {
		return "soft"
	}
	return fmt.Sprintf("%.0f ±%.0f HRC", h.HRC, math.Ceil(h.Within))
}

// hardness says how hard the edge is.
func (w hardenWords) hardness() string {
	text := fmt.Sprintf("The edge, at %s carbon, comes out of the quench at %s", carbon(w.h.CarbonAtEdge), hrc(w.h.AsQuenched))
	if n := len(w.job.Harden.Temper); n > 0 {
		text += fmt.Sprintf(" and is %s after %s", hrc(w.h.Tempered), counted(n, "temper", "tempers"))
		switch w.h.TemperColour {
		case "":
		case "bright":
			text += " (a bright face keeps its colour)"
		default:
			text += fmt.Sprintf(" (the last turns a bright face %s)", w.h.TemperColour)
		}
	}
	return text + "."
}

// heat compares the hardening heat with the usual one.
func (w hardenWords) heat() string {
	if math.IsNaN(w.h.Advised) {
		return "This core steel does not harden by quenching."
	}
	const near = 10.0 // K: as near as a kiln is held
	switch d := w.h.Heat - w.h.Advised; {
	case d > near:
		return fmt.Sprintf("%s is usual for this core; hotter makes the grain coarser.", w.Temperature(w.h.Advised))
	case d < -near:
		return fmt.Sprintf("%s is usual for this core; colder may leave it soft.", w.Temperature(w.h.Advised))
	}
	return ""
}

func (w hardenWords) bows() string {
	if w.h.Warp.Convex == "" || w.nothing(w.h.Bow) {
		return ""
	}
	return fmt.Sprintf("It will bow, side %s outward, by %s over its length at the most: %s.", w.h.Warp.Convex, w.Length(w.h.Bow), strings.TrimSuffix(w.h.Warp.Why, "."))
}

func (w hardenWords) risks(b *bytes.Buffer) {
	var stop, watch []string
	for _, k := range w.h.Risks {
		if k.Stop {
			stop = append(stop, k.Text)
		} else {
			watch = append(watch, k.Text)
		}
	}
	bullets(b, "Stop", stop)
	bullets(b, "Watch", watch)
}

// table writes the stages at each place.
func (w hardenWords) table(b *bytes.Buffer) {
	rows := [][]string{{"place", "thick", "", "skin", "middle", "after"}}
	for _, p := range w.h.Places {
		place, thick := p.Place, w.Length(p.Thickness)
		for _, s := range p.Stages {
			rows = append(rows, []string{place, thick, s.Name, w.ExactTemperature(s.Surface), w.ExactTemperature(s.Core), unit.Duration(s.Time)})
			place, thick = "", ""
		}
	}
	columns(b, "  ", "lrlrrr", rows)
}

// layersTable writes the layers at each place, side B first.
func (w hardenWords) layersTable(b *bytes.Buffer) {
	b.WriteString("\nLayers, side B first\n")
	rows := [][]string{{"place", "", "thick", "carbon", "as quenched", "tempered", ""}}
	for _, p := range w.h.Places {
		place := p.Place
		for _, l := range p.Layers {
			says := "hardens through"
			switch {
			case !l.Transforms:
				says = "does not harden"
			case !l.Through:
				says = "hardens in part"
			}
			rows = append(rows, []string{place, l.Material, w.FineLength(l.Thickness), carbon(l.Carbon), hrc(l.AsQuenched), hrc(l.Tempered), says})
			place = ""
		}
	}
	columns(b, "  ", "llrrrrl", rows)
}

// points writes the core's critical points.
func (w hardenWords) points(b *bytes.Buffer) {
	b.WriteString("\nThe core changes at\n")
	var rows [][]string
	for _, p := range []struct {
		name string
		at   metal.Point
	}{{"Ac1", w.h.Critical.Ac1}, {"Ac3", w.h.Critical.Ac3}, {"Acm", w.h.Critical.Acm}, {"Ms", w.h.Critical.Ms}} {
		if math.IsNaN(p.at.TempK) {
			continue
		}
		beyond := ""
		if !p.at.InRange {
			beyond = "outside the range of its law"
		}
		rows = append(rows, []string{p.name, w.ExactTemperature(p.at.TempK), "± " + w.TemperatureDifference(p.at.Within), p.at.Law, beyond})
	}
	columns(b, "  ", "lrrll", rows)
}

// cycles lists the thermal cycles usual for the core.
func (w hardenWords) cycles(b *bytes.Buffer) {
	var out []string
	for _, c := range w.h.Cycles {
		out = append(out, fmt.Sprintf("%s for %s: %s", w.Temperature(c.TempK), unit.Duration(c.HoldS), c.Why))
	}
	bullets(b, "Cycles before hardening usual for this core (common practice, no source)", append(out, w.h.CycleNotes...))
}

// hardenJSON is the answer of harden as JSON.
type hardenJSON struct {
	heading
	Stages       []hardenStageJSON `json:"stages"` // at the edge
	Critical     criticalJSON      `json:"critical"`
	CarbonAtEdge number            `json:"carbon_at_edge_percent"`
	AsQuenched   *number           `json:"as_quenched_hrc"` // null: does not harden
	QuenchRange  rangeJSON         `json:"as_quenched_hrc_range"`
	Tempered     *number           `json:"tempered_hrc"`
	TemperRange  rangeJSON         `json:"tempered_hrc_range"`
	Through      bool              `json:"hardens_through"`
	Places       []hardenPlaceJSON `json:"places"`
	Advised      *number           `json:"advised_c"`
	TemperColour *string           `json:"temper_colour"`
	Risks        []riskJSON        `json:"risks"`
	Bow          number            `json:"bow_mm"` // at the most
	Convex       *string           `json:"convex_side"`
	Cycles       []cycleJSON       `json:"cycles"`
	CycleNotes   []string          `json:"cycle_notes"`
}

type hardenStageJSON struct {
	Name    string `json:"name"`
	Surface number `json:"surface_c"`
	Core    number `json:"core_c"`
	Time    number `json:"time_s"`
}

type criticalJSON struct {
	Ac1 number `json:"ac1_c"` // a point that is not there is NaN, so null
	Ac3 number `json:"ac3_c"`
	Acm number `json:"acm_c"`
	Ms  number `json:"ms_c"`
}

type hardenPlaceJSON struct {
	Place     string            `json:"place"`
	Thickness number            `json:"thickness_mm"`
	Stages    []hardenStageJSON `json:"stages"`
	Layers    []hardLayerJSON   `json:"layers"`
}

type hardLayerJSON struct {
	Material   string  `json:"material"`
	Thickness  number  `json:"thickness_mm"`
	Carbon     number  `json:"carbon_percent"`
	AsQuenched *number `json:"as_quenched_hrc"`
	Tempered   *number `json:"tempered_hrc"`
	Transforms bool    `json:"transforms"`
	Through    bool    `json:"hardens_through"`
}

type riskJSON struct {
	Stop bool   `json:"stop"`
	Text string `json:"text"`
}

type cycleJSON struct {
	Temperature number `json:"temperature_c"`
	Hold        number `json:"hold_s"`
	Why         string `json:"why"`
}

func hardenResult(name string, r *sim.Result) any {
	h := r.Hardened
	out := hardenJSON{
		heading: newHeading(name, r.Job.Title, r), Stages: hardenStages(h.Stages),
		Critical:     criticalJSON{celsius(h.Critical.Ac1.TempK), celsius(h.Critical.Ac3.TempK), celsius(h.Critical.Acm.TempK), celsius(h.Critical.Ms.TempK)},
		CarbonAtEdge: number(h.CarbonAtEdge), AsQuenched: hardness(h.AsQuenched), QuenchRange: hardnessRange(h.AsQuenched),
		Tempered: hardness(h.Tempered), TemperRange: hardnessRange(h.Tempered), Through: h.Through, Places: []hardenPlaceJSON{},
		Advised: optional(!math.IsNaN(h.Advised), celsius(h.Advised)), TemperColour: named(h.TemperColour), Risks: []riskJSON{},
		Bow: millimetres(h.Bow), Convex: named(h.Warp.Convex), Cycles: []cycleJSON{}, CycleNotes: listOf(h.CycleNotes),
	}
	for _, p := range h.Places {
		q := hardenPlaceJSON{p.Place, millimetres(p.Thickness), hardenStages(p.Stages), []hardLayerJSON{}}
		for _, l := range p.Layers {
			q.Layers = append(q.Layers, hardLayerJSON{l.Material, millimetres(l.Thickness), number(l.Carbon), hardness(l.AsQuenched), hardness(l.Tempered), l.Transforms, l.Through})
		}
		out.Places = append(out.Places, q)
	}
	for _, k := range h.Risks {
		out.Risks = append(out.Risks, riskJSON{k.Stop, k.Text})
	}
	for _, c := range h.Cycles {
		out.Cycles = append(out.Cycles, cycleJSON{celsius(c.TempK), seconds(c.HoldS), c.Why})
	}
	return out
}

func hardenStages(all []sim.HardenStage) []hardenStageJSON {
	out := []hardenStageJSON{}
	for _, s := range all {
		out = append(out, hardenStageJSON{s.Name, celsius(s.Surface), celsius(s.Core), seconds(s.Time)})
	}
	return out
}

func hardness(h metal.Hardness) *number { return optional(h.HRC > 0, number(h.HRC)) }

func hardnessRange(h metal.Hardness) rangeJSON {
	return span([2]float64{h.HRC - h.Within, h.HRC + h.Within}, func(v float64) number { return number(v) }, h.HRC > 0)
}

// named is a word, null where it is empty.
func named(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
