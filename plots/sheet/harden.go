package sheet

import (
	"fmt"
	"math"
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// hardness is a Rockwell hardness for reading; below 20 the scale is not in use.
func hardness(hrc float64) string {
	if math.IsNaN(hrc) || hrc < 20 {
		return "under 20 HRC"
	}
	return fmt.Sprintf("%.0f HRC", hrc)
}

// withinHardness is a hardness and how well it is known.
func withinHardness(hrc, within float64) string {
	if hrc >= 20 && within > 0 {
		return fmt.Sprintf("%.0f ± %.0f HRC", hrc, math.Ceil(within))
	}
	return hardness(hrc)
}

// hardenAnswer is the heat treatment in short, and whether it says no.
func (w words) hardenAnswer(h *sim.Hardened) (text string, no bool) {
	text = fmt.Sprintf("The core at the edge: %s as quenched, %s tempered.",
		withinHardness(h.AsQuenched.HRC, h.AsQuenched.Within), withinHardness(h.Tempered.HRC, h.Tempered.Within))
	if h.Through {
		text += " It hardens through."
	} else {
		text, no = "it does not harden through. "+text, true
	}
	for _, r := range h.Risks {
		if r.Stop {
			text, no = text+" "+r.Text, true
		}
	}
	return text, no
}

// hardenPart is the heat treatment.
func (w *report) hardenPart() {
	h := w.r.Hardened
	w.hardenSteps(h)
	rows := [][]string{}
	for _, p := range h.Places {
		for i, l := range p.Layers {
			place, thick := "", ""
			if i == 0 {
				place, thick = p.Place, w.Length(p.Thickness)
			}
			rows = append(rows, []string{place, thick, l.Material, carbon(l.Carbon), hardness(l.AsQuenched.HRC), hardness(l.Tempered.HRC)})
		}
	}
	w.table("By place and layer", "lrlrrr", []string{"place", "thick", "layer", "carbon", "as quenched", "tempered"}, rows)
	w.line("p", w.points(h))
	if t := w.curve(h); t != nil {
		w.table("Tempered otherwise, the same times", "rr", []string{"temper", "core at the edge"}, t)
	}
	if h.Warp.Why != "" {
		text := h.Warp.Why
		if h.Warp.Convex != "" && h.Bow != 0 {
			text += fmt.Sprintf(" Side %s comes out convex, by at most %s over the blade's length.", h.Warp.Convex, w.fine(h.Bow))
		}
		w.line("p", text)
	}
	var risks []string
	for _, r := range h.Risks {
		if r.Stop {
			risks = append(risks, "Better not: "+r.Text)
		} else {
			risks = append(risks, r.Text)
		}
	}
	w.list("", risks)
}

// hardenSteps is what to do, step by step.
func (w *report) hardenSteps(h *sim.Hardened) {
	var rows [][]string
	for i, c := range h.Cycles {
		rows = append(rows, []string{fmt.Sprintf("advised cycle %d", i+1), w.looks(c.TempK), unit.Duration(c.HoldS), c.Why})
	}
	if d := w.r.Job.Harden; d != nil {
		what := ""
		if h.Advised > 0 { // false for what does not harden: NaN
			what = "usual for this core: " + w.Temperature(h.Advised)
		}
		rows = append(rows, []string{"harden", w.looks(h.Heat), unit.Duration(d.Soak), what},
			[]string{"quench", w.Temperature(h.Quenchant.BathK), "", h.Quenchant.Name})
		for i, t := range d.Temper {
			what := ""
			if i == 0 && h.TemperColour != "" {
				what = "temper colour: " + h.TemperColour
			}
			rows = append(rows, []string{fmt.Sprintf("temper %d", i+1), w.Temperature(t.Temperature), unit.Duration(t.Time), what})
		}
	}
	w.table("The steps", "lrrl", []string{"step", "heat", "hold", ""}, rows)
	w.list("", h.CycleNotes)
}

// points is the core's critical points and what carbon is left, in words.
func (w words) points(h *sim.Hardened) string {
	var out []string
	for _, p := range []struct {
		name  string
		tempK float64
	}{{"Ac1", h.Critical.Ac1.TempK}, {"Ac3", h.Critical.Ac3.TempK}, {"Acm", h.Critical.Acm.TempK}, {"Ms", h.Critical.Ms.TempK}} {
		if p.tempK > 0 { // false where the steel has no such point
			out = append(out, p.name+" "+w.Temperature(p.tempK))
		}
	}
	text := "Carbon left in the core at the edge: " + carbon(h.CarbonAtEdge) + "."
	if len(out) > 0 {
		text = "The core's points: " + strings.Join(out, ", ") + ". " + text
	}
	return text
}

// curve is the rows of hardness against tempering, nil without.
func (w words) curve(h *sim.Hardened) [][]string {
	if len(h.Curve.TempK) != len(h.Curve.HRC) {
		return nil
	}
	var rows [][]string
	for i, t := range h.Curve.TempK {
		rows = append(rows, []string{w.Temperature(t), hardness(h.Curve.HRC[i])})
	}
	return rows
}

// carbon is a carbon content given in per cent.
func carbon(percentC float64) string { return unit.Metric.Share(percentC / 100) }
