package sim

import (
	"fmt"
	"math"
)

// What refuses a pass, in short.
const (
	thePress = "the press"
	theGrip  = "the rolls' grip"
	theCold  = "cooling"
)

// useWords says what a pass uses and what the next stop deeper would.
func (p *planner) useWords(good, bad try) string {
	at := tempWords(p.job, good.done.Temperature)
	if bad.short == thePress {
		ram := p.job.Press.Force
		return fmt.Sprintf("%s: %.0f %% of the ram at %s, one stop deeper %.0f %%", thePress, 100*good.done.Force/ram, at, 100*bad.done.Force/ram)
	}
	used, asked := good.done.share(bad.short), bad.done.share(bad.short)
	if used > 0 && asked > 0 {
		return fmt.Sprintf("%s: %.0f %% of the mill's at %s, one stop deeper %.0f %%, and the formula is good to 15 %%", bad.short, 100*used, at, 100*asked)
	}
	return bad.no
}

// share is the demand of a limit as a share of what is allowed; 0 without it.
func (d *PassDone) share(what string) float64 {
	for _, l := range d.Limits {
		if l.What == what {
			return l.Demand / l.Allowed
		}
	}
	return 0
}

// biteWords says what bite to take, where it is shorter than the die.
func biteWords(j *Job, t try) string {
	if t.pass.Bite == 0 {
		return ""
	}
	return fmt.Sprintf("bites of %s; ", lengthWords(j, t.pass.Bite))
}

// stuckWords says that nothing goes any further and what would help.
func (p *planner) stuckWords(t try, s Sizes) string {
	help := map[string]string{
		thePress:        "shorter bites under narrower dies, a hotter bar (reheat higher, go faster from the fire), or a stronger press",
		theCold:         "a hotter reheat, less time from the fire and on the die, a shorter piece, or warmer tools",
		theGrip:         "larger or rougher rolls, or a press",
		"roll force":    "a hotter bar, smaller rolls, or a stronger mill",
		"roll torque":   "a hotter bar or smaller rolls",
		"rolling power": "slower rolls, a hotter bar, or a stronger motor",
	}[t.short]
	if help == "" {
		help = "a hotter bar, or another machine"
	}
	return fmt.Sprintf("at %s thick and %s wide even the lightest squeeze straight from the fire is too much for %s. What would help: %s",
		lengthWords(p.job, s.Thickness), lengthWords(p.job, s.Width), t.no, help)
}

// widthWords says how the final width misses the target.
func (p *planner) widthWords(w, want float64) string {
	how := "wider"
	if w < want {
		how = "narrower"
	}
	return fmt.Sprintf("ends %s wide, %s %s than asked", lengthWords(p.job, w), lengthWords(p.job, math.Abs(w-want)), how)
}

func widthHelp(off float64) string {
	if off > 0 {
		return ". What would help: a narrower or thinner stack, narrower dies, or trimming the sides"
	}
	return ". What would help: a wider or thicker stack"
}
