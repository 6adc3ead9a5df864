package sim

import (
	"fmt"
	"math"
)

// The handle is a cold fin: it stands out of the fire and draws heat from the
// bar's end. Two long fins meeting, the bar in the fire and the handle in the
// air, each pass G = sqrt(h P k A) watts per kelvin (Incropera and DeWitt, fins;
// from memory), so the end stands at the mean of fire and air weighted by the two
// G, and comes up to the fire over a length sqrt(k A/(h P)). In the passes
// the end zone comes out of every fire colder by the mean of that over the zone;
// no weld and no limit is asked of it, for it is the part to cut off.

// Of steel at forging heat and of its skin, for the estimate (assumed).
const (
	finConductivity = 28.0  // W/mK
	finAirFilm      = 100.0 // W/m2K, radiation at the handle's mean temperature and still air
	finEmissivity   = 0.8
	finStefan       = 5.670374e-8 // W/m2K4
)

// handleCold is how far the bar's end at the handle stays below the fire's
// temperature, K, and the length over which that falls to about a third, m.
func handleCold(j *Job) (dropK, reach float64) {
	h := j.Handling.Handle
	if h == nil || h.Thickness <= 0 || h.Width <= 0 {
		return 0, 0
	}
	fin := func(film, thick, wide float64) (conductance, length float64) {
		p, a := 2*(thick+wide), thick*wide
		return math.Sqrt(film * p * finConductivity * a), math.Sqrt(finConductivity * a / (film * p))
	}
	fire, air := j.Forge.Whole.Wall.At(0), j.Air.Gas.At(0)
	if n := len(j.Forge.Whole.Wall.Value); n > 0 {
		fire = j.Forge.Whole.Wall.Value[n-1]
	}
	film := j.Forge.Whole.Film + 4*finEmissivity*finStefan*fire*fire*fire
	bar, reach := fin(film, j.Stack.Thickness(), j.Stack.Width)
	out, decay := fin(finAirFilm, h.Thickness, h.Width)
	out *= math.Tanh(h.Length / decay)
	return (fire - air) * out / (out + bar), reach
}

// atHandle says that station i of n, from the front, is the end beside the handle.
func atHandle(j *Job, i, n int) bool {
	if h := j.Handling.Handle; h != nil {
		return h.At == Front && i == 0 || h.At == Back && i == n-1
	}
	return false
}

// handleDraws takes out of the end zone, as it leaves the fire, what the handle
// has drawn: the mean over the zone of drop·e^(−x/reach).
func (w *worker) handleDraws() {
	drop, reach := handleCold(w.job)
	const heatCapacity = 650.0 // J/kgK, austenite (EN 1993-1-2, read in excerpt)
	for _, s := range w.st {
		if !s.byHandle || s.field == nil || drop <= 0 {
			continue
		}
		zone := s.stack.Length() / float64(len(w.st))
		mean := drop * reach / zone * (1 - math.Exp(-zone/reach))
		ls := s.stack.Layers()
		q := make([]float64, len(ls))
		for i := range q {
			q[i] = -mean * heatCapacity * materialOf(w.job, ls[i].Name).Density
		}
		s.field.AddHeat(q)
	}
}

// handleNote says what the handle does to the bar's end; empty where it does
// little.
func handleNote(j *Job) string {
	const little = 15.0 // K
	drop, reach := handleCold(j)
	if drop < little {
		return ""
	}
	below, over := fmt.Sprintf("%.0f °C", math.Round(drop/10)*10), fmt.Sprintf("%.0f mm", math.Ceil(2*reach*1e3/5)*5)
	if j.Units == Inch {
		below, over = fmt.Sprintf("%.0f °F", math.Round(drop*1.8/10)*10), lengthWords(j, 2*reach)
	}
	return fmt.Sprintf("The handle draws heat: the bar's end beside it stays about %s below the fire, most of it over the last %s. Don't count on the weld there, and cut it off.", below, over)
}
