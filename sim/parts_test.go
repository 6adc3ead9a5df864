package sim

import (
	"math"
	"testing"

	"billet/layers"
)

// The zones of a bar cover it, fit the chamber and overlap.
func TestZones(t *testing.T) {
	for _, c := range []struct{ length, chamber float64 }{{0.2, 0.3}, {0.3, 0.3}, {0.31, 0.3}, {0.5, 0.3}, {1.2, 0.3}, {5, 0.1}} {
		zs := zones(c.length, c.chamber)
		if zs[0].from != 0 || math.Abs(zs[len(zs)-1].to-c.length) > 1e-12 {
			t.Errorf("%+v: %v does not cover it", c, zs)
		}
		for k, z := range zs {
			if z.to-z.from > c.chamber+1e-12 {
				t.Errorf("%+v: zone %d is longer than the chamber", c, k)
			}
			if k > 0 && zs[k-1].to-z.from < partOverlap*c.chamber-1e-12 {
				t.Errorf("%+v: zones %d and %d overlap by %g m", c, k-1, k, zs[k-1].to-z.from)
			}
		}
	}
}

// A bar worked in halves waits half as long: its coldest place is hotter at the
// squeeze than that of the same bar worked whole; the middle is heated twice.
func TestWorkedInHalves(t *testing.T) {
	pass := []Pass{{Tool: ByPress, DraftShare: 0.1, Repeat: 1}, {Tool: ByPress, DraftShare: 0.1, Reheat: ptr(true), Repeat: 1}}
	j := pressJob(t)
	j.Stack.Length = 0.25
	whole := work(t, j, pass).out.Passes[1]
	j.Forge.Chamber = 0.15
	w := work(t, j, pass)
	halves := w.out.Passes[1]
	if whole.Parts != 1 || halves.Parts != 2 {
		t.Fatalf("parts %d and %d", whole.Parts, halves.Parts)
	}
	if halves.Coldest < whole.Coldest+5 || halves.Seconds > 0.8*whole.Seconds {
		t.Errorf("coldest %.0f K after %.1f s in halves, %.0f K after %.1f s whole", halves.Coldest, halves.Seconds, whole.Coldest, whole.Seconds)
	}
	if !w.parts.twice[2] || w.parts.twice[0] || w.parts.twice[4] {
		t.Errorf("heated twice: %v", w.parts.twice)
	}
}

// A place of the bar is in the rolls for the arc of contact over the surface
// speed, t = L/v, L = sqrt(R dh) (textbook geometry, from memory).
func TestTimeInTheRolls(t *testing.T) {
	j := threeLayers(t)
	j.Rolls = &Rolls{DiameterTop: 0.09, DiameterBottom: 0.09, Speed: 5.5, Power: 5e3, Friction: 0.5, Temperature: 330}
	s, err := newStack(j, changes{})
	if err != nil {
		t.Fatal(err)
	}
	const draft = 2e-3
	o, err := rollsTool(j.Rolls, 0.5, 0.5, changes{}).Pass(s, layers.Pass{To: s.Thickness() - draft, Temperature: func(_, _ float64) float64 { return 1373 }})
	if err != nil {
		t.Fatal(err)
	}
	want := math.Sqrt(0.045*draft) / (5.5 * 0.045)
	if got := contactTime(ByRolls, o); math.Abs(got-want) > 0.01*want {
		t.Errorf("%.4f s, %.4f by L/v", got, want)
	}
}

// A shorter bite takes less force and spreads the bar less.
func TestShortBite(t *testing.T) {
	whole := work(t, pressJob(t), []Pass{{Tool: ByPress, DraftShare: 0.15, Temperature: ptr(1373.0), Repeat: 1}}).out.Passes[0]
	half := work(t, pressJob(t), []Pass{{Tool: ByPress, DraftShare: 0.15, Bite: 0.02, Temperature: ptr(1373.0), Repeat: 1}}).out.Passes[0]
	if half.Bite != 0.02 || whole.Bite != 0.04 {
		t.Errorf("bites %g and %g", half.Bite, whole.Bite)
	}
	if half.Force >= whole.Force || half.After.Width >= whole.After.Width {
		t.Errorf("force %g against %g N, width %g against %g m", half.Force, whole.Force, half.After.Width, whole.After.Width)
	}
}
