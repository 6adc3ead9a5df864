package sim

import (
	"context"
	"errors"
	"fmt"
	"math"
	"sort"

	"billet/sim/blade"
)

// ErrNoCore says that the stack cannot be worked back from a blade.
var ErrNoCore = errors.New("stock needs a stack with a core between jackets: mark one layer core = true and lay at least one on each side")

// StockCut is the pieces to cut, and what becomes of them.
type StockCut struct {
	Pieces []Piece
	Losses []LossStep
	Bar    Sizes      // the bar to stop at before grinding, cold
	Need   blade.Need // what the blade wants of it
	Job    *Job       // the job with these pieces and this target
	Proof  *Bevelled  // the blade ground from them by running the job forward
	Blades int        // how many such blades the bar is long enough for
	Rounds int
	// Within says that the forward run gives the wanted blade.
	Within bool
}

// Piece is one kind of piece to cut, m.
type Piece struct {
	Material                 string
	Thickness, Width, Length float64
	Count                    int
}

// LossStep is the mass after a step of the chain and the share of the start that
// the step took.
type LossStep struct {
	Step  string
	Mass  float64 // kg
	Share float64
}

// What stock allows for: the grind may have to be moved by this much to meet a
// core that drifted, and the core may still wander by the wave. Both are taken
// from the work itself, with this as the least (common practice, no source).
const (
	leastMove = 0.2e-3 // m
	leastWave = 0.05e-3
	stockWide = 1.0 / 16 * 0.0254 // width and length go up to the next sixteenth or millimetre
)

// CutStock works back from the blade to the pieces, and forward again to prove it.
func CutStock(ctx context.Context, j *Job, opt Options) (*Result, error) {
	if j.Blade == nil {
		return nil, ErrNoBlade
	}
	core, ok := j.Stack.CoreLayer()
	if !ok || core == 0 || core == len(j.Stack.Layers)-1 {
		return nil, ErrNoCore
	}
	s := &solver{ctx: ctx, opt: opt, job: j, core: core, move: leastMove, wave: leastWave}
	if err := s.solve(); err != nil {
		return nil, err
	}
	res := s.res
	res.Job = j
	res.Stock = s.cut
	res.Ground = s.cut.Proof
	return res, nil
}

// solver closes in on the pieces by running the job forward.
type solver struct {
	ctx        context.Context
	opt        Options
	job        *Job
	core       int
	move, wave float64 // m
	need       blade.Need
	cut        *StockCut
	res        *Result
}

// stockRounds bounds the runs forward; two or three do.
const stockRounds = 6

func (s *solver) solve() error {
	if err := s.wanted(); err != nil {
		return err
	}
	trial := s.first()
	for round := 1; ; round++ {
		res, w, err := passes(s.ctx, trial, s.opt)
		if err != nil {
			return fmt.Errorf("stock, trial %d: %w", round, err)
		}
		s.res = res
		proof, err := grindFrom(trial, w.bar())
		if err != nil {
			return err
		}
		s.cut = &StockCut{Bar: w.out.Final.Sizes, Need: s.need, Job: trial, Proof: proof, Rounds: round}
		s.cut.Within = s.within(proof)
		if s.cut.Within || round == stockRounds {
			s.cut.Blades = s.blades(w.out.Final.Length)
			s.pieces(trial)
			s.chain(trial, w, proof)
			return nil
		}
		if err := s.allow(w); err != nil {
			return err
		}
		trial = s.next(trial, w, proof)
	}
}

// wanted is what the bar must be before grinding.
func (s *solver) wanted() error {
	b := s.job.Blade
	line := b.CoreLine
	if line == 0 {
		line = b.Grind.Height / 3 // not asked: a third of the bevel
	}
	var err error
	s.need, err = blade.NeedFor(theBlade(b), blade.Wanted{CoreLine: line, Clean: b.Clean, Off: s.move, Wave: s.wave})
	return err
}

// allow widens the drift allowance to what the work showed.
func (s *solver) allow(w *worker) error {
	s.move = math.Max(leastMove, math.Abs(w.out.Final.Offset))
	s.wave = math.Max(leastWave, w.out.Final.Wave)
	return s.wanted()
}

// first is a stack of the job's total thickness with the layers in the
// proportions that the blade wants.
func (s *solver) first() *Job {
	t := s.with(s.job)
	k := s.job.Stack.Thickness() / s.need.Thickness
	s.layers(t, func(i int) float64 { return k * s.share(i) })
	t.Target = &Target{Thickness: s.need.Thickness, Width: s.wide()}
	volume := s.long() * s.need.Thickness * s.wide()
	const burnt = 1.05 // scale takes some (common practice, no source)
	t.Stack.Length = math.Max(shortest, s.up(burnt*volume/(t.Stack.Thickness()*t.Stack.Width)))
	return t
}

// share is what layer i must be in the bar before grinding, m.
func (s *solver) share(i int) float64 {
	if i == s.core {
		return s.need.Core
	}
	var side, all float64
	for k, l := range s.job.Stack.Layers {
		if k != s.core && (k < s.core) == (i < s.core) {
			all += l.Thickness
		}
	}
	side = s.need.JacketA
	if i < s.core {
		side = s.need.JacketB
	}
	return side * s.job.Stack.Layers[i].Thickness / all
}

// wide is the width the bar must have for the blade.
func (s *solver) wide() float64 {
	b := s.job.Blade
	return b.Height + 2*b.EdgeFromSide
}

// with is a copy whose layers can be changed.
func (s *solver) with(j *Job) *Job {
	c := j.with()
	c.Stack.Layers = append([]Layer(nil), j.Stack.Layers...)
	c.Passes = nil
	return c
}

// layers sets the thicknesses, rounded up to what can be bought.
func (s *solver) layers(t *Job, thickness func(i int) float64) {
	for i := range t.Stack.Layers {
		t.Stack.Layers[i].Thickness = s.buy(thickness(i))
	}
}

// buy is the least size in the catalogue that is thick enough, or that can be
// ground to it; without a catalogue the next half millimetre or 1/32 in.
func (s *solver) buy(m float64) float64 {
	const slack = 0.01 // a hundredth thinner does
	if k := s.job.Stock; k != nil && len(k.Sizes) > 0 {
		sizes := append([]float64(nil), k.Sizes...)
		sort.Float64s(sizes)
		for _, v := range sizes {
			if v >= m*(1-slack) {
				return v
			}
		}
	}
	step := 0.5e-3
	if s.job.Units == Inch {
		step = 0.0254 / 32
	}
	return math.Ceil(m*(1-slack)/step) * step
}

// next changes the trial by what the run forward missed: the reduction so that
// the core comes out as wanted, the layers that came out too thin, width and
// length.
func (s *solver) next(t *Job, w *worker, proof *Bevelled) *Job {
	n := s.with(t)
	e := w.out.Final
	// Drawn further, or less, until the core is right; jackets follow.
	target := e.Thickness * s.need.Core / s.coreFor(w, proof)
	n.Target = &Target{Thickness: target, Width: s.wide()}
	for i := range n.Stack.Layers {
		if i == s.core {
			continue
		}
		left := e.Layers[i].Thickness * target / e.Thickness
		if want := s.share(i); left < 0.99*want {
			n.Stack.Layers[i].Thickness = s.buy(t.Stack.Layers[i].Thickness * want / left)
		}
	}
	grow := target / e.Thickness // thinner is longer
	if e.Width < s.wide() {
		n.Stack.Width = s.up(t.Stack.Width * math.Min(1.5, s.wide()/e.Width))
	}
	if long := e.Length / grow; long > 0 {
		n.Stack.Length = math.Max(shortest, s.up(t.Stack.Length*s.long()/long))
	}
	return n
}

// shortest is the shortest stack that tongs hold and a forge welds evenly, m
// (common practice, no source). What is longer than one blade wants is left for
// another.
const shortest = 0.075

// coreFor is the thickness of a straight core that would show the same core
// lines, m: layers bend toward the bar's sides, so the core where the line ends
// is not as thick as at the edge.
func (s *solver) coreFor(w *worker, proof *Bevelled) float64 {
	mid := proof.Answer.Mid
	if mid.A.CoreLine == nil || mid.B.CoreLine == nil {
		return s.coreAtEdge(w)
	}
	p := proof.Blade.ProfileAt(proof.Blade.Length / 2)
	return p.Reach(*mid.A.CoreLine) + p.Reach(*mid.B.CoreLine)
}

// long is the length of bar the blade and the trimmed ends take.
func (s *solver) long() float64 {
	trim := 0.0
	if k := s.job.Stock; k != nil {
		trim = k.Trim
	}
	return s.job.Blade.Length + 2*trim
}

// blades is how many blades a bar of a length gives, the ends trimmed.
func (s *solver) blades(length float64) int {
	return max(0, int((length-(s.long()-s.job.Blade.Length))/s.job.Blade.Length+1e-6))
}

// up rounds a width or length up.
func (s *solver) up(m float64) float64 {
	step := 1e-3
	if s.job.Units == Inch {
		step = stockWide
	}
	return math.Ceil(m/step-1e-6) * step
}

// coreAtEdge is the core's thickness where the edge will lie, mean along the
// bar, m.
func (s *solver) coreAtEdge(w *worker) float64 {
	sum := 0.0
	for _, st := range w.st {
		sum += w.outcomeOf(st.stack).edgeCore
	}
	return sum / float64(len(w.st))
}

// within says that the blade comes out: edge in the core, pits gone, bar large
// enough but not by a tenth of its length, core line within a tenth of what is
// asked or half a millimetre.
func (s *solver) within(g *Bevelled) bool {
	if !g.OK() {
		return false
	}
	a := g.Answer
	spare := (g.Bar.End - g.Bar.Start) - s.long()
	if spare < -1e-3 || spare > 0.15*s.long()+5e-3 && s.cut.Job.Stack.Length > shortest*1.02 {
		return false
	}
	line := s.job.Blade.CoreLine
	if line == 0 {
		return true
	}
	if a.Mid.A.CoreLine == nil || a.Mid.B.CoreLine == nil {
		return false
	}
	mean := (*a.Mid.A.CoreLine + *a.Mid.B.CoreLine) / 2
	return math.Abs(mean-line) <= math.Max(0.5e-3, 0.1*line)
}

// pieces lists what to cut, like pieces together.
func (s *solver) pieces(t *Job) {
	for _, l := range t.Stack.Layers {
		p := Piece{Material: l.Material.Name, Thickness: l.Thickness, Width: t.Stack.Width, Length: t.Stack.Length, Count: 1}
		found := false
		for i := range s.cut.Pieces {
			q := &s.cut.Pieces[i]
			if q.Material == p.Material && q.Thickness == p.Thickness {
				q.Count++
				found = true
			}
		}
		if !found {
			s.cut.Pieces = append(s.cut.Pieces, p)
		}
	}
}

// chain is the mass from stack to blade.
func (s *solver) chain(t *Job, w *worker, g *Bevelled) {
	density := func(i int) float64 { return t.Stack.Layers[i].Material.Density }
	start, bar := 0.0, 0.0
	areas := w.middle().stack.Areas()
	for i, l := range t.Stack.Layers {
		start += density(i) * l.Thickness * t.Stack.Width * t.Stack.Length
		bar += density(i) * areas[i] * w.out.Final.Length
	}
	blade := 0.0
	for i, v := range g.Answer.Layers {
		blade += density(i) * v
	}
	trimmed := bar * math.Max(0, 1-(s.long()-s.job.Blade.Length)/w.out.Final.Length)
	blade *= float64(max(1, s.cut.Blades))
	add := func(step string, mass, before float64) {
		share := 0.0
		if start > 0 {
			share = (before - mass) / start
		}
		s.cut.Losses = append(s.cut.Losses, LossStep{Step: step, Mass: mass, Share: share})
	}
	add("stack", start, start)
	add("scale in the fire", bar, start)
	add("ends trimmed", trimmed, bar)
	what := "ground to the blade"
	if s.cut.Blades > 1 {
		what = fmt.Sprintf("cut and ground to %d blades", s.cut.Blades)
	}
	add(what, blade, trimmed)
}
