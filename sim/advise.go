package sim

import (
	"context"
	"fmt"
	"math"
)

// change to a job that may bring the joints to welding heat.
type remedy struct {
	what  string
	apply func(j *Job)
}

// advise says what would bring the billet to welding heat: each remedy is
// tried alone on a coarse grid, and what it does is what is said.
func advise(ctx context.Context, j *Job, s *Soak) error {
	const coarseK = 5
	base, err := runSoak(ctx, j, min(2, s.Grid.Dims), coarseK, 2)
	if err != nil {
		return err
	}
	for _, r := range remedies(j) {
		changed := *j
		changed.Stack.Layers = append([]Layer(nil), j.Stack.Layers...)
		r.apply(&changed)
		run, err := runSoak(ctx, &changed, min(2, s.Grid.Dims), coarseK, 2)
		if err != nil {
			return err
		}
		gain := run.soak.CeilingJoints - base.soak.CeilingJoints
		switch {
		case run.soak.Reaches:
			s.Advice = append(s.Advice, fmt.Sprintf("%s: the joints would reach welding heat, soak done after about %.0f min.", r.what, math.Ceil(run.soak.Answers.Soak.Value/60)))
		case gain > 5:
			s.Advice = append(s.Advice, fmt.Sprintf("%s: the coldest spot would get about %s hotter, still not enough.", r.what, stepWords(j, gain)))
		}
	}
	if len(s.Advice) == 0 {
		s.Advice = append(s.Advice, "No single change of forge, floor, joints or thickness tried here brings it to welding heat.")
	}
	return nil
}

// remedies are the changes a smith can make.
func remedies(j *Job) []remedy {
	hotter := func(by float64) func(*Job) {
		return func(j *Job) {
			j.Forge.Whole = heated(j.Forge.Whole, by)
			for f, s := range j.Forge.Faces {
				if s != nil {
					h := heated(*s, by)
					j.Forge.Faces[f] = &h
				}
			}
		}
	}
	out := []remedy{
		{"A forge " + stepWords(j, 50) + " hotter", hotter(50)},
		{"A forge " + stepWords(j, 100) + " hotter", hotter(100)},
	}
	odd := false
	for _, s := range j.Forge.Faces {
		odd = odd || s != nil
	}
	if odd {
		out = append(out, remedy{"Raised off the floor and turned, so that all faces see the same fire", func(j *Job) {
			j.Forge.Faces = [6]*Surround{}
		}})
	}
	loose := false
	for _, l := range j.Stack.Layers[1:] {
		loose = loose || l.Joint.State == Scaled || l.Joint.State == Gapped || l.Joint.State == Given && l.Joint.Conductance < 1000
	}
	if loose {
		out = append(out, remedy{"Joints ground and clamped tight", func(j *Job) {
			for i := range j.Stack.Layers[1:] {
				j.Stack.Layers[i+1].Joint = Joint{State: Ground}
			}
		}})
	}
	return append(out, remedy{"A stack of half the thickness", func(j *Job) {
		for i := range j.Stack.Layers {
			j.Stack.Layers[i].Thickness /= 2
		}
	}})
}

// heated is a surroundings hotter by dT.
func heated(s Surround, dT float64) Surround {
	up := func(c Series) Series {
		v := make([]float64, len(c.Value))
		for i := range v {
			v[i] = c.Value[i] + dT
		}
		return Series{Time: c.Time, Value: v}
	}
	s.Wall, s.Gas = up(s.Wall), up(s.Gas)
	return s
}
