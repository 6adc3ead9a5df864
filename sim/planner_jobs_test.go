package sim_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"billet/sim"
	"billet/sim/jobfile"
)

// planOf plans a demonstration job.
func planOf(t *testing.T, name string) (*sim.Job, *sim.PlanFound) {
	t.Helper()
	if testing.Short() {
		t.Skip("seconds a plan")
	}
	j, err := jobfile.Load("../testdata/jobs/" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := sim.PlanOf(context.Background(), j)
	if err != nil {
		t.Fatal(err)
	}
	for i, d := range p.Work.Passes {
		t.Logf("%2d heat %d tool %d edge %v: %.1f x %.1f, %.0f C (coldest %.0f), %.0f kN on %.0f mm | %s", i+1, d.Heat, d.Tool, d.Edge,
			d.After.Thickness*1e3, d.After.Width*1e3, d.Temperature-273.15, d.Coldest-273.15, d.Force/1e3, d.Bite*1e3, p.Reasons[i])
	}
	return j, p
}

// shortTons is a pressure in short tons per square inch.
func shortTons(pa float64) float64 { return pa / (2000 * 4.4482216 / (0.0254 * 0.0254)) }

// The hunter is a job that a 21-ton press does: weld, edge, draw. The pressure at
// welding heat and the squeezes in a heat are common practice, no source: 3–5
// short tons per square inch, 2–5 squeezes while thick and 1–2 below 1/2 in. A
// short bite and a joint still cooling from 1150 °C take somewhat more, so up to
// 7 is let pass.
func TestHunterPlan(t *testing.T) {
	_, p := planOf(t, "hunter")
	if !p.OK || !p.Work.Can {
		t.Errorf("ok %v, can %v: %s", p.OK, p.Work.Can, p.Reasons[len(p.Reasons)-1])
	}
	first := p.Work.Passes[0]
	if v := shortTons(first.Pressure); v < 3 || v > 7 {
		t.Errorf("first squeeze at welding heat: %.1f short tons per square inch", v)
	}
	if !strings.Contains(p.Reasons[0], "longer than the job's heat") {
		t.Errorf("the bottom joint is short of welding heat when the top looks ready; the plan says only %q", p.Reasons[0])
	}
	squeezes := map[int]int{}
	edged := false
	for _, d := range p.Work.Passes {
		squeezes[d.Heat]++
		edged = edged || d.Edge
	}
	for h, n := range squeezes {
		if n > 5 {
			t.Errorf("%d squeezes in heat %d", n, h)
		}
	}
	if !edged {
		t.Error("never edged: drawn flat it ends half as wide again as asked")
	}
}

// The kitchen job's press sets the weld and draws while the bar is thick, its
// mill finishes, close to the width asked. From a stack 42 mm wide no way of
// drawing stainless to 4 mm spreads it to 56, and the plan says so.
func TestKitchenPlan(t *testing.T) {
	j, p := planOf(t, "kitchen")
	ps := p.Work.Passes
	if ps[0].Tool != sim.ByPress || ps[len(ps)-1].Tool != sim.ByRolls {
		t.Errorf("first by tool %d, last by %d", ps[0].Tool, ps[len(ps)-1].Tool)
	}
	for i, d := range ps {
		if d.Welded < 1 && d.Tool == sim.ByRolls {
			t.Errorf("pass %d rolls a stack that has not set", i+1)
		}
	}
	if got, want := p.Work.Final.Width, j.Target.Width; !p.OK || math.Abs(got-want) > 0.04*want {
		t.Errorf("ok %v, %g m wide, %g asked", p.OK, got, want)
	}
	j.Stack.Width = 0.042
	narrow, err := sim.PlanOf(t.Context(), j)
	if err != nil {
		t.Fatal(err)
	}
	if last := narrow.Reasons[len(narrow.Reasons)-1]; narrow.OK || !strings.Contains(last, "narrower than asked") {
		t.Errorf("from 42 mm: ok %v, %q", narrow.OK, last)
	}
}

// The mill alone and the hammer alone bring their bars to the target.
func TestMillAndHammerPlans(t *testing.T) {
	for name, tool := range map[string]sim.PassTool{"outdoor": sim.ByRolls, "five-layer": sim.ByHammer} {
		j, p := planOf(t, name)
		if !p.OK {
			t.Errorf("%s: %s", name, p.Reasons[len(p.Reasons)-1])
		}
		for i, d := range p.Work.Passes {
			if d.Tool != tool || !d.Within {
				t.Errorf("%s: pass %d by tool %d, within %v", name, i+1, d.Tool, d.Within)
			}
			if d.Coldest < j.Handling.WorkAbove {
				t.Errorf("%s: pass %d below the working floor", name, i+1)
			}
		}
	}
}
