package sim

import (
	"context"
	"errors"
)

// Plan is everything chained on one job: the soak, the passes with drift and its
// odds, what the fire takes, what the bevels show, the pieces to cut where the
// blade and a core allow working back, and the heat treatment. Parts that the
// job does not describe stay nil.
func Plan(ctx context.Context, j *Job, opt Options) (*Result, error) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	stock := startStock(ctx, j, opt)
	res, err := Run(ctx, j, opt)
	if err != nil {
		return nil, err
	}
	if len(j.Passes) > 0 || j.Target != nil {
		if err := planWork(ctx, j, opt, res); err != nil {
			return nil, err
		}
	}
	if j.Blade != nil && res.Ground == nil {
		g, err := Grind(ctx, j, opt)
		if err != nil {
			return nil, err
		}
		res.add(g)
		res.Ground = g.Ground
	}
	cut := <-stock
	if cut.err != nil {
		return nil, cut.err
	}
	res.Stock = cut.stock
	if j.Harden != nil {
		h, err := HardenBlade(ctx, j, opt, res)
		if err != nil {
			return nil, err
		}
		res.add(h)
		res.Hardened = h.Hardened
	}
	res.Day = day(j, res)
	return res, nil
}

// planWork adds the passes, drift, losses and the grind of the same worked bar.
func planWork(ctx context.Context, j *Job, opt Options, res *Result) error {
	d, w, err := drift(ctx, j, opt)
	if err != nil {
		return err
	}
	res.add(d)
	res.Work = d.Work
	if !w.cold {
		if err := w.addLosses(res); err != nil {
			return err
		}
	}
	if j.Blade != nil {
		if res.Ground, err = grindFrom(j, w.bar()); err != nil {
			return err
		}
		res.Warnings = appendNew(res.Warnings, res.Ground.Answer.Warnings...)
		res.Cautions = appendNew(res.Cautions, grindCautions()...)
	}
	return nil
}

// cutting is what working back to the pieces gave; no stock where the job does
// not ask for it or its stack has no core to work back from.
type cutting struct {
	stock *StockCut
	err   error
}

// startStock works back to the pieces beside the rest of the plan, which needs
// nothing of it. Progress is left to the rest.
func startStock(ctx context.Context, j *Job, opt Options) <-chan cutting {
	done := make(chan cutting, 1)
	if j.Stock == nil || j.Blade == nil {
		done <- cutting{}
		return done
	}
	opt.Progress = nil
	go func() {
		res, err := CutStock(ctx, j, opt)
		switch {
		case errors.Is(err, ErrNoCore):
			done <- cutting{}
		case err != nil:
			done <- cutting{err: err}
		default:
			done <- cutting{stock: res.Stock}
		}
	}()
	return done
}

// add takes over the sentences of another part.
func (r *Result) add(o *Result) {
	r.Warnings = appendNew(r.Warnings, o.Warnings...)
	r.Cautions = appendNew(r.Cautions, o.Cautions...)
	r.Assumed = appendNew(r.Assumed, o.Assumed...)
}

func appendNew(list []string, more ...string) []string {
next:
	for _, m := range more {
		for _, have := range list {
			if have == m {
				continue next
			}
		}
		list = append(list, m)
	}
	return list
}

// day adds up minutes and fuel.
func day(j *Job, r *Result) *Day {
	d := &Day{Heats: 1, Preheat: j.Forge.Lit}
	if d.Preheat == 0 {
		d.Preheat = preheat
	}
	if r.Soak != nil && len(r.Soak.Stages) > 0 {
		d.Forge = r.Soak.Stages[len(r.Soak.Stages)-1].End
	}
	if r.Work != nil {
		d.Heats, d.Forge = max(1, r.Work.Heats), r.Work.ForgeTime
		for _, p := range r.Work.Passes {
			d.Work += p.Seconds
		}
	}
	if j.Forge.Burner > 0 {
		d.Energy = j.Forge.Burner * (d.Preheat + d.Forge + d.Work)
	}
	return d
}

// preheat is how long a forge burns before work goes in, s (common practice, no
// source: a quarter of an hour).
const preheat = 900.0
