package plots

import (
	"fmt"

	"billet/layers"
	"billet/sim"
)

// tightest is the pass, by its index, and the limit that it comes nearest to.
func tightest(passes []sim.PassDone) (pass int, worst layers.Limit, ok bool) {
	best := 0.0
	for i, p := range passes {
		for _, l := range p.Limits {
			if l.Allowed > 0 && l.Demand/l.Allowed > best {
				best, pass, worst, ok = l.Demand/l.Allowed, i, l, true
			}
		}
	}
	return pass, worst, ok
}

// forceTitle says whether the machine can, in a sentence.
func forceTitle(w *sim.Work, s shown) string {
	pass, worst, ok := tightest(w.Passes)
	if !ok {
		return "No limit of the machine is known"
	}
	share := whole(fmt.Sprintf("%.0f %%", 100*worst.Demand/worst.Allowed))
	var over, red []int
	for i, p := range w.Passes {
		l, force := forceLimit(p)
		switch {
		case !p.Within:
			over = append(over, i+1)
		case force && p.Tool == sim.ByPress && l.Demand > redStop*l.Allowed:
			red = append(red, i+1)
		}
	}
	machine := machineNames[w.Passes[pass].Tool]
	for _, n := range over {
		if w.Passes[n-1].Tool != w.Passes[pass].Tool {
			machine = "machines"
		}
	}
	switch {
	case len(over) > 0:
		text := fmt.Sprintf("Too much for the %s in %s: up to %s of the allowed %s", machine, whole(passList(over)), share, limitWord(worst))
		if machine == machineNames[sim.ByHammer] {
			return fmt.Sprintf("Too much for the hammer in %s: a blow moves next to nothing", whole(passList(over)))
		}
		if at := w.Passes[over[0]-1].StallsAt; at > 0 {
			text += fmt.Sprintf("; it stalls first at %s", whole(s.length(at)))
		}
		return text
	case len(red) > 0:
		return fmt.Sprintf("Past the red stop in %s: up to %s of the %s’s %s", whole(passList(red)), share, machine, limitWord(worst))
	case machine == machineNames[sim.ByHammer]:
		return "The hammer moves the metal in every pass"
	}
	return fmt.Sprintf("The %s can: at most %s of the allowed %s, in pass %d", machine, share, limitWord(worst), pass+1)
}

// limitWord names a limit after its unit where it has one.
func limitWord(l layers.Limit) string {
	switch l.Unit {
	case "N":
		return "force"
	case "W":
		return "power"
	case "N m":
		return "torque"
	}
	return l.What
}
