package sim

import (
	"context"
	"fmt"
	"math"

	"billet/sim/steel"
)

// Run works out the soak of a job: the heats as given, checked on a second
// grid. The result says what is known and how well; an error means that the
// computation itself failed.
func Run(ctx context.Context, j *Job, opt Options) (*Result, error) {
	res := &Result{Job: j, Assumed: assumptions(j), Cautions: forgeCautions()}
	for _, c := range steel.Colours() {
		res.Colours = append(res.Colours, HeatColour{Name: c.Name, From: c.Low, To: c.High})
	}
	run, err := checkedSoak(ctx, j, opt)
	if err != nil {
		return nil, err
	}
	res.Soak = run.soak
	res.Warnings = append(res.Warnings, soakWarnings(j, run.soak)...)
	if !run.soak.Reaches {
		if err := advise(ctx, j, run.soak); err != nil {
			return nil, err
		}
	}
	return res, nil
}

// checkedSoak runs the soak on two grids, one twice as fine as the other, and
// refines until the change says that the accuracy asked is met. The scheme is
// of second order: what is left on the finer grid is a third of the change.
func checkedSoak(ctx context.Context, j *Job, opt Options) (*soakRun, error) {
	acc := opt.accuracy()
	coarse, err := runSoak(ctx, j, opt.dims(), acc, 2)
	if err != nil {
		return nil, err
	}
	for grid := 1.0; ; grid /= 2 {
		fine, err := runSoak(ctx, j, opt.dims(), acc, grid)
		if err != nil {
			return nil, err
		}
		fine.soak.Grid.ErrorEstimate = change(coarse.soak, fine.soak) / 3
		if fine.soak.Grid.ErrorEstimate <= acc || grid < 0.2 {
			return fine, nil
		}
		coarse = fine
	}
}

// change is the largest difference between the histories of two runs outside
// 700–770 °C, K.
func change(a, b *Soak) float64 {
	const lo, hi = 700 + 273.15, 770 + 273.15
	worst := 0.0
	for _, s := range [3]func(*Soak) []float64{
		func(s *Soak) []float64 { return s.History.Skin },
		func(s *Soak) []float64 { return s.History.Core },
		func(s *Soak) []float64 { return s.History.ColdestJoint },
	} {
		va, vb := s(a), s(b)
		if len(va) == 0 || len(vb) == 0 {
			continue
		}
		end := math.Min(a.History.Time[len(va)-1], b.History.Time[len(vb)-1])
		for i, t := range a.History.Time {
			if t > end {
				break
			}
			other := interpolate(b.History.Time, vb, t)
			if other >= lo && other <= hi || va[i] >= lo && va[i] <= hi {
				continue
			}
			worst = math.Max(worst, math.Abs(va[i]-other))
		}
	}
	return worst
}

// interpolate is the value at t on the straight line between two rows.
func interpolate(ts, vs []float64, t float64) float64 {
	lo, hi := 0, len(ts)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; ts[mid] <= t {
			lo = mid
		} else {
			hi = mid
		}
	}
	w := (t - ts[lo]) / (ts[hi] - ts[lo])
	return vs[lo] + w*(vs[hi]-vs[lo])
}

// assumptions lists what the job left open and what the materials' data and
// the model take for granted.
func assumptions(j *Job) []string {
	out := append([]string(nil), j.Assumed...)
	seen := map[string]bool{}
	for _, l := range j.Stack.Layers {
		for _, a := range l.Material.Assumed {
			if !seen[a] {
				seen[a] = true
				out = append(out, a)
			}
		}
	}
	return append(out,
		"Joints keep their state until welded; flux on the outside does not fill a tight joint.",
		"The billet takes nothing from the forge: its temperatures are those given, whatever goes in.")
}

// forgeCautions is what can hurt someone at the forge.
func forgeCautions() []string {
	return []string{
		"Burning gas or coal makes carbon monoxide: work with air moving through, a CO alarm with a display in the room, and leave when it sounds.",
		"Flux fumes, above all from fluoride fluxes, and fumes of zinc or other plating are poisonous: no plated metal in the fire.",
		"Flux and scale spray from the first squeeze: face shield, leather, bystanders back.",
		"A closed cavity with moisture or oil in it bursts when heated: dry, clean pieces, and a vent in anything sealed.",
		"White heat harms the eyes over time: shaded glasses.",
		"This is advice from a model, not a licence: local rules and qualified people come first.",
	}
}

func soakWarnings(j *Job, s *Soak) []string {
	var out []string
	const dataEnds = 1300 + 273.15
	for _, e := range s.Stages {
		if e.Hottest > dataEnds+1 {
			out = append(out, "The billet passes 1300 °C; the steels' data end there and are carried on in a straight line.")
			break
		}
	}
	for i, e := range s.Stages {
		if !e.Reached {
			out = append(out, fmt.Sprintf("Stage %d never reached its end; it was left after %.0f min, when nothing changed any more or after 4 h.", i+1, (e.End-e.Start)/60))
		}
	}
	if s.Answers.Window.OK && s.Answers.Window.Value < 0 {
		out = append(out, "Something burns before the soak is done: "+s.Answers.OverheatsAt+".")
	}
	return out
}
