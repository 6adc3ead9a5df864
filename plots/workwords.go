package plots

import (
	"fmt"
	"math"
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// force is a force as a number on an axis: kN or short tons.
func (s shown) force(n float64) float64 {
	if s.inch() {
		return n / unit.ShortTonNewtons
	}
	return n / 1000
}

func (s shown) forceUnit() string {
	if s.inch() {
		return "ton"
	}
	return "kN"
}

// power is a power as a number on an axis: kW or hp.
func (s shown) power(w float64) float64 {
	if s.inch() {
		return w / unit.HorsepowerWatts
	}
	return w / 1000
}

func (s shown) powerUnit() string {
	if s.inch() {
		return "hp"
	}
	return "kW"
}

// torque is a torque as a number on an axis: N m or ft lbf.
func (s shown) torque(nm float64) float64 {
	if s.inch() {
		return nm / unit.FootPoundJoules
	}
	return nm
}

func (s shown) torqueUnit() string {
	if s.inch() {
		return "ft lbf"
	}
	return "N m"
}

// sizeUnit is the unit of size over an upright axis.
func (s shown) sizeUnit() string {
	if s.inch() {
		return "in"
	}
	return "mm"
}

// fine is a small length as written, without a sign.
func (s shown) fine(m float64) string { return s.system.FineLength(math.Abs(m)) }

// nothing says that a small length is written as nought.
func (s shown) nothing(m float64) bool { return s.fine(m) == s.fine(0) }

// sideOf is the side an offset is toward.
func sideOf(m float64) string {
	if m < 0 {
		return "B"
	}
	return "A"
}

// off is an offset in the fewest words: "0.41 mm to A".
func (s shown) off(m float64) string {
	if s.nothing(m) {
		return s.fine(0)
	}
	return s.fine(m) + " to " + sideOf(m)
}

// toward is an offset in words: "0.41 mm toward A".
func (s shown) toward(m float64) string {
	if s.nothing(m) {
		return "on the middle"
	}
	return s.fine(m) + " toward " + sideOf(m)
}

// share is an offset as a share of the thickness, in words: "5 % of the
// thickness".
func (s shown) share(m, thickness float64) string {
	return s.system.Share(math.Abs(m)/thickness) + " of the thickness"
}

// count is a number of things: "1 pass", "3 passes".
func count(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// cause is how a cause of drift is named beside its bar, and in a sentence.
type cause struct{ name, because string }

// causes are the words for the causes.
var causes = map[string]cause{
	sim.StartJackets: {"jackets unequal at the start", "the jackets start unequal"},
	sim.Temperature:  {"one side colder", "one side is colder"},
	sim.Friction:     {"tools grip unequally", "the tools grip unequally"},
	sim.StrengthName: {"jackets unequally strong", "the jackets are unequally strong"},
	sim.ToolShape:    {"shape and blows of the tools", "of the shape and blows of the tools"},
	sim.Slip:         {"slip before the weld sets", "the stack slips before the weld sets"},
	sim.Losses:       {"more lost off one face", "more is lost off one face"},
	sim.Interaction:  {"causes acting together", "the causes do not simply add"},
}

// causeWords are the words for a cause, known or not.
func causeWords(name string) cause {
	if c, ok := causes[name]; ok {
		return c
	}
	plain := strings.ReplaceAll(name, "_", " ")
	return cause{plain, "of " + plain}
}

// habitNames are the words for the flipping habits, by sim.FlipHabit.
var habitNames = [...]string{
	sim.FlipEveryHeat: "every heat",
	sim.FlipEveryPass: "every pass",
	sim.FlipNever:     "never",
}

// habitName is a flipping habit as in "turned over: every heat".
func habitName(h sim.FlipHabit) string {
	if h < 0 || int(h) >= len(habitNames) {
		return "otherwise"
	}
	return habitNames[h]
}

// turned is a habit as in "turned every pass", or "never turned over".
func turned(h sim.FlipHabit, over string) string {
	if h == sim.FlipNever {
		return "never turned" + over
	}
	return "turned" + over + " " + habitName(h)
}

// machineNames are the words for what does a pass, by sim.PassTool.
var machineNames = [...]string{
	sim.ByPress: "press", sim.ByRolls: "rolls", sim.ByHammer: "hammer", sim.ByGrind: "grinder", sim.ByRestack: "saw",
}

// passList is "pass 3" or "passes 3 to 5, 7".
func passList(n []int) string {
	var runs []string
	for i := 0; i < len(n); {
		k := i
		for k+1 < len(n) && n[k+1] == n[k]+1 {
			k++
		}
		switch k - i {
		case 0:
			runs = append(runs, fmt.Sprint(n[i]))
		case 1:
			runs = append(runs, fmt.Sprint(n[i]), fmt.Sprint(n[k]))
		default:
			runs = append(runs, fmt.Sprintf("%d to %d", n[i], n[k]))
		}
		i = k + 1
	}
	if len(n) == 1 {
		return "pass " + runs[0]
	}
	return "passes " + strings.Join(runs, ", ")
}

// across is two sizes of a bar: "8.0 mm × 38.0 mm".
func (s shown) across(size sim.Sizes) string {
	return s.length(size.Thickness) + " × " + s.length(size.Width)
}
