package sheet

import (
	"fmt"
	"math"
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// words writes quantities in the job's own units.
type words struct {
	unit.System
	r *sim.Result
}

func wordsFor(r *sim.Result) words {
	if r.Job.Units == sim.Inch {
		return words{unit.Inch, r}
	}
	return words{unit.Metric, r}
}

// other is the system that is not the job's own.
func (w words) other() unit.System {
	if w.System == unit.Inch {
		return unit.Metric
	}
	return unit.Inch
}

// bothTemperature is a temperature in both systems, the job's own first.
func (w words) bothTemperature(tempK float64) string {
	return whole(w.Temperature(tempK) + " (" + w.other().Temperature(tempK) + ")")
}

// whole keeps a quantity and its units on one line.
func whole(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }

// bothExact is a temperature that the job asks for in both systems.
func (w words) bothExact(tempK float64) string {
	return whole(w.ExactTemperature(tempK) + " (" + w.other().ExactTemperature(tempK) + ")")
}

// colour is the name of glowing steel at a temperature, "" where the Result
// has no names or it does not glow. Of ranges that overlap, the hotter counts.
func (w words) colour(tempK float64) string {
	name := ""
	for _, c := range w.r.Colours {
		if tempK >= c.From {
			name = c.Name
		}
	}
	return name
}

// glow is colour and temperature in both systems: "orange, 1000 °C (1830 °F)".
func (w words) glow(tempK float64) string {
	if c := w.colour(tempK); c != "" {
		return c + ", " + w.bothTemperature(tempK)
	}
	return w.bothTemperature(tempK)
}

// looks is a temperature with its colour: "1000 °C, orange".
func (w words) looks(tempK float64) string {
	if c := w.colour(tempK); c != "" {
		return w.Temperature(tempK) + ", " + c
	}
	return w.Temperature(tempK)
}

// near is a temperature written as finely as its distance from another is
// written beside it.
func (w words) near(tempK, gapK float64) string {
	const fine = 20 // K, below which unit writes differences to the degree
	if math.Abs(gapK) < fine {
		return w.ExactTemperature(tempK)
	}
	return w.Temperature(tempK)
}

// fine is a small length without its sign.
func (w words) fine(m float64) string { return w.FineLength(math.Abs(m)) }

// off is an offset: "0.41 mm toward A".
func (w words) off(m float64) string {
	switch {
	case w.fine(m) == w.fine(0):
		return w.fine(0)
	case m < 0:
		return w.fine(m) + " toward B"
	}
	return w.fine(m) + " toward A"
}

// maybe is a length that may be missing.
func (w words) maybe(m *float64, none string) string {
	if m == nil {
		return none
	}
	return w.Length(*m)
}

// bar is the three sizes of a bar.
func (w words) bar(s sim.Sizes) string {
	return w.Length(s.Thickness) + " × " + w.Length(s.Width) + " × " + w.LongLength(s.Length)
}

// stack is the billet in a line: its layers from B to A and its sizes.
func (w words) stack() string {
	s := w.r.Job.Stack
	size := sim.Sizes{Width: s.Width, Length: s.Length}
	var names []string
	for _, l := range s.Layers {
		size.Thickness += l.Thickness
		names = append(names, fmt.Sprintf("%s %s", l.Material.Name, w.Length(l.Thickness)))
	}
	const most = 5 // layers named one by one
	if n := len(names); n > most {
		return fmt.Sprintf("%d layers of %s: %s", n, strings.Join(materials(s.Layers), " and "), w.bar(size))
	}
	if len(names) == 1 {
		return names[0] + ": " + w.bar(size)
	}
	return "From B to A " + strings.Join(names, ", ") + ": " + w.bar(size)
}

// materials are the names of a stack's materials in the order they come.
func materials(layers []sim.Layer) []string {
	var out []string
	seen := map[string]bool{}
	for _, l := range layers {
		if !seen[l.Material.Name] {
			seen[l.Material.Name] = true
			out = append(out, l.Material.Name)
		}
	}
	return out
}

// title is the job's title, or a stand-in.
func (w words) title(otherwise string) string {
	if t := strings.TrimSpace(w.r.Job.Title); t != "" {
		return t
	}
	return otherwise
}

// count is a number of things: "1 pass", "3 passes".
func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// capital writes the first letter large.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

// percent is a share for reading, with no more digits than it deserves.
func percent(share float64) string { return unit.Metric.Share(math.Abs(share)) }

// name is a thing's name from a list by its number.
func name(list []string, i int) string {
	if i < 0 || i >= len(list) {
		return "?"
	}
	return list[i]
}

// The words for what does a pass, by sim.PassTool, and for the flipping habits,
// by sim.FlipHabit.
var (
	toolNames  = []string{sim.ByPress: "press", sim.ByRolls: "rolls", sim.ByHammer: "hammer", sim.ByGrind: "grinder", sim.ByRestack: "saw"}
	habitNames = []string{sim.FlipEveryHeat: "every heat", sim.FlipEveryPass: "every pass", sim.FlipNever: "never"}
)

// causeNames are the words for the causes of drift.
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

// causeName is a cause in words, known or not.
func causeName(c string) string {
	if n, ok := causeNames[c]; ok {
		return n
	}
	return strings.ReplaceAll(c, "_", " ")
}
