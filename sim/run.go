package sim

import (
	"context"
	"errors"
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
	given := j
	j, about, err := prepare(ctx, j, opt, res)
	if err != nil {
		return nil, err
	}
	run, err := checkedSoak(ctx, j, opt)
	if err != nil {
		return nil, err
	}
	res.Soak = run.soak
	if n := len(j.Stack.Layers); run.soak.Grid.Dims < opt.dims() {
		res.Assumed = append(res.Assumed, fmt.Sprintf("With %d loose layers the section at mid length is worked out alone: the heat that comes in at the ends is left out, so short stacks are hot a little sooner. --dims 3 works out the whole billet, in minutes.", n))
	}
	res.Soak.Forge, res.Soak.Bar, res.Soak.Squeeze = about.Forge, about.Bar, about.Squeeze
	if err := widen(ctx, given, j, opt, res.Soak); err != nil {
		return nil, err
	}
	res.Warnings = append(res.Warnings, soakWarnings(j, run.soak)...)
	if !run.soak.Reaches {
		if err := advise(ctx, j, run.soak); err != nil {
			return nil, err
		}
	}
	return res, nil
}

// prepare works what the shop has measured, and a forge that is followed in
// time, into the job.
func prepare(ctx context.Context, j *Job, opt Options, res *Result) (*Job, Soak, error) {
	var about Soak
	flat := min(2, opt.dims())
	if s := j.Shop; s != nil {
		if s.Bar != nil && len(s.Seen) > 0 {
			fit, err := fitBar(j)
			if err != nil {
				return nil, about, err
			}
			j = j.with()
			j.fit, about.Bar = fit, fit
			scaleExchange(j, fit.Exchange)
			if fit.Contradicts {
				res.Warnings = append(res.Warnings, "The timed bar's readings contradict each other: no one forge fits all of them.")
			}
		}
		if s.Squeeze != nil {
			fit, err := fitSqueeze(ctx, j)
			switch {
			case errors.Is(err, errSqueeze):
				res.Warnings = append(res.Warnings, "The measured squeeze is not used: it needs [press] with its bore and the [shop] bar it was done on.")
			case err != nil:
				return nil, about, err
			default:
				about.Squeeze = fit
				j = j.with()
				j.strength = fit.Factor
				res.Assumed = append(res.Assumed, fmt.Sprintf("Forces times %.2f (%.2f to %.2f), by the squeeze that was measured.", fit.Factor, fit.Low, fit.High))
			}
		}
	}
	if j.Forge.varies() && j.Forge.Kind != Induction {
		var err error
		if j, about.Forge, err = followForge(ctx, j, flat); err != nil {
			return nil, about, err
		}
		res.Assumed = append(res.Assumed, "The forge's wall follows burner, lining and billet: a chamber 120 mm square, fibre lining with a hard face; what is not given of burner and lining is 20 kW and 40 mm.")
	}
	return j, about, nil
}

// widen adds the ranges of the answers and the sweeps, where they are wanted.
func widen(ctx context.Context, given, j *Job, opt Options, s *Soak) error {
	var err error
	if opt.Ranges {
		if s.Ranges, err = ranges(ctx, j, s); err != nil {
			return err
		}
	}
	if opt.Sweeps && given.Forge.Kind != Induction {
		s.Sweeps, err = sweeps(ctx, given, min(2, s.Grid.Dims))
	}
	return err
}

// mostWork is the nodes of a section times its steps up to which the whole brick
// is solved unasked, which is some twenty times that: half a minute. It takes more
// than a hundred loose layers to pass it, every one of them needing nodes; the
// section at mid length is then taken alone, which leaves out the ends.
const mostWork = 3_000_000

// checkedSoak finds the grid that meets the accuracy asked and runs the soak on
// it. The grid is judged on the section at mid length, where it costs little:
// spacing and steps are made so that the error goes with the accuracy asked for,
// so a run for four times the accuracy is off from the first by three times what
// that leaves. The length, where the body's least half size does not lie, is
// gridded by the same rule.
func checkedSoak(ctx context.Context, j *Job, opt Options) (*soakRun, error) {
	acc, dims := opt.accuracy(), opt.dims()
	flat := min(dims, 2)
	rough, err := runSoak(ctx, j, flat, acc, 2)
	if err != nil {
		return nil, err
	}
	run, err := runSoak(ctx, j, flat, acc, 1)
	if err != nil {
		return nil, err
	}
	// The coarse run's longer steps add about a fifth to the change.
	estimate := 0.8 * change(rough.soak, run.soak, band(j)) / 3
	finer := 1.0
	if estimate > acc {
		const least = 0.5 // four times the cells in a section: no further
		finer = math.Max(least, 0.95*math.Sqrt(acc/estimate))
		estimate *= finer * finer
	}
	if opt.Dims == 0 && run.soak.Grid.Cells*run.soak.Grid.Steps > mostWork {
		dims = flat
	}
	if dims > flat || finer < 1 {
		if run, err = runSoak(ctx, j, dims, acc, finer); err != nil {
			return nil, err
		}
	}
	run.soak.Grid.ErrorEstimate = estimate
	return run, nil
}

// band is the temperatures within which the error is not judged, K: 700–770 °C,
// where the heat-capacity peak magnifies any error, and the range over which a
// steel of the stack transforms on heating in this model.
func band(j *Job) (out [2]float64) {
	out = [2]float64{700 + 273.15, 770 + 273.15}
	const margin = 10 // K
	for _, l := range j.Stack.Layers {
		if on := l.Material.OnHeating.T; l.Material.Latent > 0 && len(on) > 0 {
			out[0] = math.Min(out[0], on[0]-margin)
			out[1] = math.Max(out[1], on[len(on)-1]+margin)
		}
	}
	return out
}

// change is the largest difference between the histories of two runs outside
// the band, K, stage by stage at the same share of each stage. The first
// seconds of a stage, when the skin jumps, are left out.
func change(a, b *Soak, band [2]float64) float64 {
	const jump = 5.0 // s
	worst := 0.0
	for _, read := range [3]func(*Soak) []float64{
		func(s *Soak) []float64 { return s.History.Skin },
		func(s *Soak) []float64 { return s.History.Core },
		func(s *Soak) []float64 { return s.History.ColdestJoint },
	} {
		va, vb := read(a), read(b)
		if len(va) == 0 || len(vb) == 0 {
			continue
		}
		stage := 0
		for i, t := range a.History.Time {
			for stage < len(a.Stages)-1 && t > a.Stages[stage].End {
				stage++
			}
			sa, sb := a.Stages[stage], b.Stages[stage]
			if t < sa.Start+jump || sa.End <= sa.Start {
				continue
			}
			at := sb.Start + (t-sa.Start)/(sa.End-sa.Start)*(sb.End-sb.Start)
			other := interpolate(b.History.Time, vb, at)
			if min(other, va[i]) <= band[1] && max(other, va[i]) >= band[0] {
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
	out = append(out, "Joints keep their state until welded; flux on the outside does not fill a tight joint.")
	if !j.Forge.varies() && j.Forge.Kind != Induction {
		out = append(out, "The billet takes nothing from the forge: its temperatures are those given, whatever goes in.")
	}
	return out
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
			out = append(out, fmt.Sprintf("The billet passes %s; the steels' data end there and are carried on in a straight line.", tempWords(j, dataEnds)))
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
