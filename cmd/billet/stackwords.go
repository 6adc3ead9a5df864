package main

import (
	"fmt"
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// words says what is in a job in the user's units.
type words struct {
	job *sim.Job
	unit.System
}

func wordsFor(j *sim.Job) words { return words{j, unitSystem(j.Units)} }

// layer names a layer for a sentence: "the 52100 core", "the 1018 jacket on
// side B".
func (w words) layer(k int) string {
	s := w.job.Stack
	name := s.Layers[k].Material.Name
	core, marked := s.CoreLayer()
	switch {
	case len(s.Layers) == 1:
		return "the " + name + " bar"
	case marked && k == core:
		return "the " + name + " core"
	case k == 0:
		return "the " + name + " on side B"
	case k == len(s.Layers)-1:
		return "the " + name + " on side A"
	}
	return fmt.Sprintf("layer %d from side B (%s)", k+1, name)
}

// stack describes the stack: how many layers, the whole, and each.
func (w words) stack() string {
	s := w.job.Stack
	text := fmt.Sprintf("%s, %s thick, %s wide, %s long", counted(len(s.Layers), "layer", "layers"),
		w.Length(s.Thickness()), w.Length(s.Width), w.LongLength(s.Length))
	if len(s.Layers) == 1 {
		return text + ", " + s.Layers[0].Material.Name
	}
	return text + "; from side B " + w.layers() + w.joints()
}

// layers lists the layers from side B to side A, or counts them where they
// are too many to list.
func (w words) layers() string {
	const most = 7
	s := w.job.Stack
	core, marked := s.CoreLayer()
	var each []string
	for k, l := range s.Layers {
		text := w.Length(l.Thickness) + " of " + l.Material.Name
		if marked && k == core {
			text += " (core)"
		}
		each = append(each, text)
	}
	if len(each) <= most {
		return strings.Join(each, ", ")
	}
	var kinds []string
	count := map[string]int{}
	for _, text := range each {
		if count[text] == 0 {
			kinds = append(kinds, text)
		}
		count[text]++
	}
	if len(kinds) > most {
		return fmt.Sprintf("%s up to %s", each[0], each[len(each)-1])
	}
	for i, text := range kinds {
		kinds[i] = fmt.Sprintf("%d × %s", count[text], text)
	}
	return strings.Join(kinds, ", ") + ", " + s.Layers[0].Material.Name + " first"
}

// joints says how the layers touch, the commonest state first.
func (w words) joints() string {
	var kinds []string
	for _, l := range w.job.Stack.Layers[1:] {
		text := w.joint(l.Joint)
		known := false
		for _, k := range kinds {
			known = known || k == text
		}
		if !known {
			kinds = append(kinds, text)
		}
	}
	return "; joints " + andList(kinds)
}

func (w words) joint(j sim.Joint) string {
	switch j.State {
	case sim.Scaled:
		return "scaled"
	case sim.Gapped:
		return "gapped by " + w.FineLength(j.Gap)
	case sim.Fluxed:
		return "fluxed"
	case sim.Welded:
		return "welded"
	case sim.Given:
		return fmt.Sprintf("of %.0f W/m²K", j.Conductance)
	}
	return "ground"
}

// forge describes the fire.
func (w words) forge() string {
	f := w.job.Forge
	kind := [...]string{"gas", "coal", "electric", "induction"}[f.Kind]
	flame := [...]string{"neutral", "lean", "rich"}[f.Atmosphere]
	text := fmt.Sprintf("%s at %s", kind, w.series(f.Whole.Wall))
	if f.Kind == sim.Gas || f.Kind == sim.Coal {
		text += ", " + flame + " flame"
	}
	for face, s := range f.Faces {
		if s != nil {
			text += fmt.Sprintf("; its %s face sees %s", sim.FaceNames[face], w.series(s.Wall))
		}
	}
	return text
}

// series writes a temperature against time by its ends.
func (w words) series(s sim.Series) string {
	n := len(s.Value)
	if n == 0 {
		return "nothing"
	}
	first, last := w.ExactTemperature(s.Value[0]), w.ExactTemperature(s.Value[n-1])
	if n == 1 || first == last {
		return first
	}
	return fmt.Sprintf("%s, %s after %s", first, last, unit.Duration(s.Time[n-1]))
}

// soak describes the heats and the welding heat.
func (w words) soak() string {
	var stages []string
	for _, st := range w.job.Heats {
		text := w.stageEnd(st)
		if st.Hold > 0 {
			text += " and " + unit.Duration(st.Hold) + " more"
		}
		stages = append(stages, [...]string{"in the forge ", "in the air "}[st.In]+text)
	}
	weld := w.job.Weld
	return fmt.Sprintf("%s; welding heat %s, held %s", strings.Join(stages, ", "), w.ExactTemperature(weld.Heat), unit.Duration(weld.Hold))
}

func (w words) stageEnd(st sim.Stage) string {
	if st.Until == sim.UntilTime {
		return "for " + unit.Duration(st.Time)
	}
	what := "the skin is"
	switch {
	case st.Until == sim.UntilCore, st.Until == sim.UntilJoints && len(w.job.Stack.Layers) == 1:
		what = "the core is"
	case st.Until == sim.UntilJoints:
		what = "every joint is"
	}
	return "until " + what + " " + w.ExactTemperature(st.Temperature)
}

// rest lists what else the job holds, for the commands to come.
func (w words) rest() []string {
	j := w.job
	var out []string
	add := func(there bool, name string) {
		if there {
			out = append(out, name)
		}
	}
	add(j.Shop != nil, "the timed bar")
	add(j.Press != nil, "the press")
	add(j.Rolls != nil, "the rolls")
	add(j.Hammer != nil, "the hammer")
	add(len(j.Passes) > 0, counted(len(j.Passes), "pass", "passes"))
	add(len(j.Measured) > 0, "what was measured")
	add(j.Target != nil, "the bar wanted")
	add(j.Blade != nil, "the blade")
	add(j.Stock != nil, "the stock")
	add(j.Harden != nil, "the heat treatment")
	add(j.Spread != nil, "the spread")
	return out
}
