package blade

import "math"

// Move is a way of laying the grind anew.
type Move int

// The moves, each with those before it.
const (
	Shifted Move = iota // centre plane moved toward the core
	Tilted              // and turned about the edge
	Turned              // and turned along the length
)

// String says what is done.
func (m Move) String() string {
	return [...]string{"shift the grind", "shift and tilt it", "shift, tilt and turn it along the length"}[max(0, min(2, int(m)))]
}

// Rescue is what laying the grind anew saves and what it costs.
type Rescue struct {
	Move     Move
	Place    Place    // the grind laid so
	Shift    float64  // m toward A, at half length, from where it lay
	Tilt     float64  // rad, spine toward A
	Turn     float64  // rad, tip toward A
	InCore   bool     // the edge then lies in the core all along
	Margin   float64  // m, least margin of the edge in the core, all along
	Mismatch *float64 // m, A minus B, half way along
	Worst    *float64 // m, greatest by size along the blade
	Needs    float64  // m, bar thickness then needed to clear the pits
	Cost     float64  // m, how much more than before; below 0: less
	Fits     bool     // the bar has it: both faces clean
}

// rescuePoints is the number of places along the blade looked at for a move.
const rescuePoints = 21

// rescue lays the grind anew, one freedom after the other: the shift leaves
// the same least margin on both sides; the tilt follows the core's own turn
// about the edge; the turn follows its trend along the length. Best fits, not
// a search: the margin cannot be bettered by shifting alone, and the last two
// are exact for a core that is straight.
func (g grinding) rescue(a *Answer) []Rescue {
	before := g.pitsNeed()
	var out []Rescue
	h := g
	h.ask.Brief = true
	for m := Shifted; m <= Turned; m++ {
		switch m {
		case Tilted:
			h.place.Tilt = limit(h.place.Tilt + h.drift(h.stations(rescuePoints)).Tilt)
		case Turned:
			trend := h.drift(h.stations(rescuePoints)).Trend
			h.place.Turn = limit(math.Atan(math.Tan(h.place.Turn) + trend/g.blade.Length))
		}
		h.place.Offset += h.centre()
		out = append(out, h.moved(m, g.place, before*a.Thickness, a.Thickness))
	}
	return out
}

func limit(angle float64) float64 { return math.Max(-greatestTurn, math.Min(greatestTurn, angle)) }

// pitsNeed is the share of its thickness the bar needs to clear the pits.
func (g grinding) pitsNeed() float64 {
	need := 0.0
	for i := range rescuePoints {
		k := g.knife(g.blade.Length * float64(i) / (rescuePoints - 1))
		need = math.Max(need, k.pits(k.heights(), g.ask.Clean))
	}
	return need
}

// leastMargins are the least margins along the blade on each side.
func leastMargins(along []Station) (a, b float64) {
	a, b = math.Inf(1), math.Inf(1)
	for _, s := range along {
		a, b = math.Min(a, s.MarginA), math.Min(b, s.MarginB)
	}
	return a, b
}

// centre is the shift that leaves the same least margin on both sides.
func (g grinding) centre() float64 {
	along := make([]Station, rescuePoints)
	for i := range along {
		s := g.blade.Length * float64(i) / (rescuePoints - 1)
		along[i] = g.edge(g.knife(s), s)
	}
	a, b := leastMargins(along)
	return (a - b) / 2
}

func (g grinding) moved(m Move, was Place, before, thickness float64) Rescue {
	along := g.stations(rescuePoints)
	r := Rescue{
		Move: m, Place: g.place,
		Shift: g.place.Offset - was.Offset, Tilt: g.place.Tilt - was.Tilt, Turn: g.place.Turn - was.Turn,
		Worst: worst(along), Needs: g.pitsNeed() * thickness,
	}
	a, b := leastMargins(along)
	r.Margin = math.Min(a, b)
	r.InCore = len(leaves(along)) == 0
	r.Mismatch = g.station(g.blade.Length / 2).Mismatch()
	r.Cost = r.Needs - before
	depthA, depthB := depths(along)
	r.Fits = cleared(depthA, g.ask.Clean) && cleared(depthB, g.ask.Clean)
	return r
}
