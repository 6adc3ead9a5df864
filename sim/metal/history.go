package metal

import (
	"fmt"
	"math"
	"sort"
)

// Sample is the temperature of the stack at a time. Between samples it runs
// straight.
type Sample struct {
	Time  float64   // s
	TempK []float64 // K, one for all, or at every layer's face from side B to side A
}

// History is samples in order of time.
type History []Sample

const (
	pieceK   = 30.0   // K: a piece of history spans at most this much while hot
	driftQ   = 150e3  // J/mol: how diffusion goes with temperature, for the mean of a piece
	rampLow  = 873.15 // K: below 600 C little moves; pieces may span more
	grindAt  = 10e-6  // m of scale between two cuts of the nodes
	historyK = zeroC + 1550
)

// check says what is wrong with a history for n layers.
func (h History) check(n int) error {
	for i, s := range h {
		if len(s.TempK) != 1 && len(s.TempK) != n+1 {
			return fmt.Errorf("history: sample %d has %d temperatures for %d layers; one, or one at every face", i+1, len(s.TempK), n)
		}
		if len(s.TempK) != len(h[0].TempK) || (i > 0 && !(s.Time >= h[i-1].Time)) || math.IsInf(s.Time, 0) {
			return fmt.Errorf("history: sample %d at %g s with %d temperatures; times in order, always as many temperatures", i+1, s.Time, len(s.TempK))
		}
		for _, t := range s.TempK {
			if !(t > 0 && t <= historyK) {
				return fmt.Errorf("history: sample %d at %.4g K; above 0 and at most %.0f K", i+1, t, historyK)
			}
		}
	}
	return nil
}

// piece is a stretch of history carried as one hold at the temperatures that
// diffuse as much.
type piece struct {
	dt    float64
	tempK []float64
	dose  float64 // diffusion at the hottest face, m2

	longer float64 // factor on dt for diffusion; 0: others make up for it
}

// pieces cuts the history. Each spans at most 30 K at every face where that is
// above 600 C.
func (h History) pieces() []piece {
	var out []piece
	var p *gather
	for i := 1; i < len(h); i++ {
		dt := h[i].Time - h[i-1].Time
		if dt <= 0 {
			continue
		}
		n := 1
		for k, to := range h[i].TempK {
			n = max(n, int(math.Ceil((math.Max(to, rampLow)-math.Max(h[i-1].TempK[k], rampLow))/pieceK)),
				int(math.Ceil((math.Max(h[i-1].TempK[k], rampLow)-math.Max(to, rampLow))/pieceK)))
		}
		for j := range n {
			a, b := float64(j)/float64(n), float64(j+1)/float64(n)
			from, to := between(h[i-1].TempK, h[i].TempK, a), between(h[i-1].TempK, h[i].TempK, b)
			if p == nil || !p.room(from, to) {
				if p != nil {
					out = append(out, p.piece())
				}
				p = newGather(from)
			}
			p.add(dt/float64(n), from, to)
		}
	}
	if p != nil {
		out = append(out, p.piece())
	}
	return settled(out)
}

// leftOut is the share of a history's diffusion that may be carried by its
// hotter pieces instead of where it happened. The way up through the change to
// austenite and down again is costly to follow and moves next to nothing.
const leftOut = 0.01

// settled marks the coldest pieces, up to leftOut of the diffusion in all, and
// lengthens the others for diffusion by as much.
func settled(ps []piece) []piece {
	order := make([]int, len(ps))
	var all float64
	for i := range ps {
		order[i] = i
		all += ps[i].dose
	}
	rate := func(i int) float64 { return ps[i].dose / ps[i].dt }
	sort.SliceStable(order, func(a, b int) bool { return rate(order[a]) < rate(order[b]) })
	still := make([]bool, len(ps))
	var left float64
	for _, i := range order {
		if left+ps[i].dose > leftOut*all {
			break
		}
		left += ps[i].dose
		still[i] = true
	}
	for i := range ps {
		if !still[i] {
			ps[i].longer = all / (all - left)
		}
	}
	return ps
}

func between(a, b []float64, s float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] + s*(b[i]-a[i])
	}
	return out
}

// gather adds up a piece.
type gather struct {
	dt       float64
	low, top []float64 // K
	sum      []float64 // integral of exp(-Q/RT)
}

func newGather(t []float64) *gather {
	return &gather{low: append([]float64(nil), t...), top: append([]float64(nil), t...), sum: make([]float64, len(t))}
}

// room says whether the stretch fits in.
func (p *gather) room(from, to []float64) bool {
	for k := range from {
		low := math.Max(rampLow, math.Min(p.low[k], math.Min(from[k], to[k])))
		top := math.Max(rampLow, math.Max(p.top[k], math.Max(from[k], to[k])))
		if top-low > pieceK*1.0001 {
			return false
		}
	}
	return true
}

func (p *gather) add(dt float64, from, to []float64) {
	p.dt += dt
	for k := range from {
		p.low[k] = math.Min(p.low[k], math.Min(from[k], to[k]))
		p.top[k] = math.Max(p.top[k], math.Max(from[k], to[k]))
		mid := (from[k] + to[k]) / 2
		f := func(t float64) float64 { return math.Exp(-driftQ / (gasR * t)) }
		p.sum[k] += dt * (f(from[k]) + 4*f(mid) + f(to[k])) / 6 // Simpson
	}
}

func (p *gather) piece() piece {
	t := make([]float64, len(p.sum))
	for k, s := range p.sum {
		t[k] = -driftQ / (gasR * math.Log(s/p.dt))
	}
	hottest := 0.0
	for _, v := range t {
		hottest = math.Max(hottest, v)
	}
	return piece{dt: p.dt, tempK: t, dose: p.dt * Agren(hottest, 0.5)}
}

// Run takes the carbon through a history; the metal is not eaten (see Burn).
func (c *Carbon) Run(h History) error {
	if err := h.check(len(c.layers)); err != nil {
		return err
	}
	for _, p := range h.pieces() {
		if err := c.HoldProfile(p.dt*p.longer, p.tempK); err != nil {
			return err
		}
	}
	return nil
}

// Burn takes carbon and both faces' scale through a history together: scale
// eats the faces, whose carbon goes with the metal, while what is left diffuses
// on. Set the faces' gas by Carbon.Faces. Where scale eats a whole layer the
// next one becomes the face (see Gone). skinB or skinA may be nil.
func Burn(c *Carbon, skinB, skinA *Skin, h History) error {
	if err := h.check(len(c.layers)); err != nil {
		return err
	}
	skins := [2]*Skin{skinB, skinA}
	var due, seen [2]float64
	for i, s := range skins {
		if s != nil {
			seen[i] = s.Recession()
		}
	}
	gone := c.gone
	ps := h.pieces()
	for k, p := range ps {
		t := p.tempK
		if len(t) > 1 {
			t = t[c.gone[SideB]-gone[SideB] : len(t)-(c.gone[SideA]-gone[SideA])]
		}
		if err := c.HoldProfile(p.dt*p.longer, t); err != nil {
			return err
		}
		for i, s := range skins {
			if s == nil {
				continue
			}
			at := t[i*(len(t)-1)]
			if err := s.Grow(p.dt, at, at, c.face[i]); err != nil {
				return err
			}
			due[i] = s.Recession() - seen[i]
		}
		if k == len(ps)-1 || due[0]+due[1] > grindAt {
			if err := c.Grind(due[0], due[1]); err != nil {
				return err
			}
			seen[0], seen[1] = seen[0]+due[0], seen[1]+due[1]
			due = [2]float64{}
		}
	}
	return nil
}
