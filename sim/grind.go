package sim

import (
	"context"
	"errors"
	"math"

	"billet/layers"
	"billet/sim/blade"
)

// ErrNoBlade says that the job names no blade.
var ErrNoBlade = errors.New("the job has no [blade]; describe the blade wanted")

// Bevelled is what the bevels show.
type Bevelled struct {
	Blade  blade.Blade
	Bar    blade.Bar
	Place  blade.Place
	Ask    blade.Ask
	Answer *blade.Answer
	// FromStack says that the job has neither passes nor target, and the
	// blade was cut from the stack as laid up.
	FromStack bool
	Habits    []blade.Habit
}

// OK says that the blade can be ground as placed: the edge in the core, the
// pits gone, the bar large enough.
func (g *Bevelled) OK() bool {
	a := g.Answer
	return a.InCore && a.PitsA && a.PitsB && a.NarrowBy <= 0 && a.ShortBy <= 0
}

// Grind works the bar and grinds the blade from it.
func Grind(ctx context.Context, j *Job, opt Options) (*Result, error) {
	if j.Blade == nil {
		return nil, ErrNoBlade
	}
	if len(j.Passes) == 0 && j.Target == nil {
		res := &Result{Job: j, Assumed: append([]string(nil), j.Assumed...), Cautions: grindCautions()}
		bar := stackBar(j)
		var err error
		res.Ground, err = grindFrom(j, bar)
		if err != nil {
			return nil, err
		}
		res.Ground.FromStack = true
		res.Warnings = append(res.Warnings, res.Ground.Answer.Warnings...)
		return res, nil
	}
	res, w, err := passes(ctx, j, opt)
	if err != nil {
		return nil, err
	}
	if res.Ground, err = grindFrom(j, w.bar()); err != nil {
		return nil, err
	}
	res.Warnings = append(res.Warnings, res.Ground.Answer.Warnings...)
	res.Cautions = append(grindCautions(), res.Cautions...)
	return res, nil
}

// theBlade is the job's blade as the geometry takes it.
func theBlade(b *Blade) blade.Blade {
	return blade.Blade{Spine: b.Spine, TipSpine: b.TipSpine, Height: b.Height, Length: b.Length, Edge: b.Edge,
		Grind: blade.Grind{Kind: blade.Kind(b.Grind.Kind), Height: b.Grind.Height, Wheel: b.Grind.Wheel, Bulge: b.Grind.Bulge, SideA: b.Grind.SideA}}
}

// grindFrom cuts the job's blade from a bar.
func grindFrom(j *Job, bar blade.Bar) (*Bevelled, error) {
	b := j.Blade
	g := &Bevelled{Blade: theBlade(b), Bar: bar, Habits: blade.Practice(), Ask: blade.Ask{Clean: b.Clean, CoreLine: b.CoreLine}}
	g.Place = bar.Middle(b.Length, b.EdgeFromSide, b.EdgeRight)
	g.Place.Offset = b.Offset
	var err error
	g.Answer, err = blade.Cut(bar, g.Blade, g.Place, g.Ask)
	return g, err
}

// stackBar is the stack as laid up, as a bar.
func stackBar(j *Job) blade.Bar {
	var t []float64
	for _, l := range j.Stack.Layers {
		t = append(t, l.Thickness)
	}
	return blade.Even(j.Stack.Width, j.Stack.Length, t, coreIndex(j))
}

// bar is the worked bar by its stations.
func (w *worker) bar() blade.Bar {
	length := w.sizes().Length
	b := blade.Bar{Core: w.st[0].stack.Core(), End: length}
	for _, s := range w.st {
		b.Sections = append(b.Sections, section(s.stack, s.at*length))
	}
	return b
}

// section is a stack's section as lines from side B's face to side A's.
func section(s *layers.Stack, x float64) blade.Section {
	out := blade.Section{X: x, Left: -s.Width() / 2, Right: s.Width() / 2}
	n := len(s.Layers())
	lower, _ := s.Line(0)
	out.Lines = append(out.Lines, line(lower))
	for i := range n {
		_, upper := s.Line(i)
		out.Lines = append(out.Lines, line(upper))
	}
	return out
}

// line is the points of a layer's edge with rising y; folded ends are left out.
func line(p []layers.Point) blade.Line {
	var l blade.Line
	last := math.Inf(-1)
	const least = 1e-7 // m
	for _, q := range p {
		if q.Y > last+least {
			l.Y, l.Z = append(l.Y, q.Y), append(l.Z, q.Z)
			last = q.Y
		}
	}
	return l
}

// grindCautions is what can hurt someone at the grinder.
func grindCautions() []string {
	return []string{
		"Grinding dust harms the lungs, that of stainless and nickel steel most: respirator, dust drawn off, no sparks into old dust.",
		"Eye and ear protection at the grinder; no gloves near a belt that can take them; a rest set close.",
	}
}
