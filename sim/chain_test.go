package sim_test

import (
	"context"
	"math"
	"testing"

	"billet/sim"
	"billet/sim/jobfile"
)

// Back from the blade and forward again: the pieces that stock gives, worked
// through heats and passes, give the blade asked for.
func TestStockRoundTrip(t *testing.T) {
	if testing.Short() {
		t.Skip("plans each demo two or three times")
	}
	for _, name := range []string{"hunter", "kitchen", "outdoor"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			j, err := jobfile.Load("../testdata/jobs/" + name + ".toml")
			if err != nil {
				t.Fatal(err)
			}
			res, err := sim.CutStock(context.Background(), j, sim.Options{})
			if err != nil {
				t.Fatal(err)
			}
			c := res.Stock
			if !c.Within {
				t.Errorf("after %d rounds the forward run does not give the blade: in core %v, pits %v %v, narrow by %g, short by %g",
					c.Rounds, c.Proof.Answer.InCore, c.Proof.Answer.PitsA, c.Proof.Answer.PitsB, c.Proof.Answer.NarrowBy, c.Proof.Answer.ShortBy)
			}
			// The pieces, put into a job of their own and run by the command's
			// own path, give the same blade.
			again, err := sim.Grind(context.Background(), c.Job, sim.Options{})
			if err != nil {
				t.Fatal(err)
			}
			a, b := c.Proof.Answer.Mid.A.CoreLine, again.Ground.Answer.Mid.A.CoreLine
			if a == nil || b == nil || math.Abs(*a-*b) > 1e-9 {
				t.Errorf("core line on side A: solved %v, run again %v", a, b)
			}
			closes(t, c, again)
		})
	}
}

// closes checks the chain of masses: every step takes something, the shares add
// up to what is gone, and the bar's volume is the stack's less the scale to 0.1 %
// (the bound of the section model for a bar's volume).
func closes(t *testing.T, c *sim.StockCut, r *sim.Result) {
	t.Helper()
	gone, last := 0.0, c.Losses[0].Mass
	for _, l := range c.Losses {
		if l.Mass > last*(1+1e-9) {
			t.Errorf("%s: %g kg after %g kg", l.Step, l.Mass, last)
		}
		gone += l.Share
		last = l.Mass
	}
	if want := 1 - last/c.Losses[0].Mass; math.Abs(gone-want) > 1e-9 {
		t.Errorf("shares sum to %g, gone is %g", gone, want)
	}
	w := r.Work
	if off := math.Abs(w.Volume+w.Scaled-w.StartVolume) / w.StartVolume; off > 1e-3 {
		t.Errorf("volume of the bar %g and of the scale's steel %g against %g of the stack: off by %.2e", w.Volume, w.Scaled, w.StartVolume, off)
	}
}
