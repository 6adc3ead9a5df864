package sheet

import (
	"fmt"
	"strings"
)

// cannot says which passes are beyond their machine.
func (w words) cannot() string {
	var n []int
	for _, p := range w.r.Work.Passes {
		if !p.Within {
			n = append(n, p.Number)
		}
	}
	if len(n) == 0 {
		return w.missed()
	}
	return passList(n) + " is more than the machine can do"
}

// missed says how the planned bar misses its target and what would help: the
// end of what the planner said of its last pass, without its full stop.
func (w words) missed() string {
	const help = "What would help"
	text := "the bar does not come to its target with these machines"
	n := len(w.r.Work.Reasons)
	if n == 0 {
		return text
	}
	last := w.r.Work.Reasons[n-1]
	at := strings.Index(last, help)
	if at < 0 {
		return text
	}
	if from := strings.LastIndex(last[:at], "; "); from >= 0 {
		last = last[from+2:]
	}
	return text + ": " + strings.TrimSuffix(last, ".")
}

// passList is "pass 3" or "one of passes 3, 4".
func passList(n []int) string {
	if len(n) == 1 {
		return fmt.Sprintf("pass %d", n[0])
	}
	s := ""
	for i, k := range n {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprint(k)
	}
	return "each of passes " + s
}

// bladeFaults are the reasons why the blade does not come out of the bar, none
// where it does.
func (w words) bladeFaults() []string {
	a := w.r.Ground.Answer
	var out []string
	if !a.InCore {
		text := "the blade's edge is not in the core"
		if len(a.Leaves) > 0 {
			v := a.Leaves[0]
			text += fmt.Sprintf(" from %s to %s from the heel", w.LongLength(v.From), w.LongLength(v.To))
		}
		out = append(out, text)
	}
	switch {
	case !a.PitsA && !a.PitsB:
		out = append(out, "scale pits do not grind out of either face")
	case !a.PitsA:
		out = append(out, "scale pits do not grind out of side A")
	case !a.PitsB:
		out = append(out, "scale pits do not grind out of side B")
	}
	if a.NarrowBy > 0 {
		out = append(out, "the bar is "+w.Length(a.NarrowBy)+" too narrow for the blade")
	}
	if a.ShortBy > 0 {
		out = append(out, "the bar is "+w.Length(a.ShortBy)+" too short for the blade")
	}
	return out
}
