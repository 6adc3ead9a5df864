package sim

import (
	"context"
	"math"
	"reflect"
	"testing"
)

func oddsWorker(t testing.TB) *worker {
	j := pressJob(t)
	j.Blade = &Blade{Spine: 0.003, TipSpine: 0.0015, Height: 0.024, Length: 0.1, Edge: 0.0003,
		Grind: Bevel{Kind: FlatGrind, Height: 0.022}, EdgeFromSide: 0.004, EdgeRight: true}
	s := DefaultSpread()
	s.Tilt = 0
	j.Spread = &s
	return work(t, j, prescribed(3, 1373, 1363, 0.4, 0.4))
}

// The same seed gives the same odds, however many cores work them, and a spread
// of nothing gives the one offset of the job.
func TestOddsRepeat(t *testing.T) {
	w := oddsWorker(t)
	a, err := w.odds(40, 7, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := w.odds(40, 7, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, b) {
		t.Errorf("two runs of one seed differ: %+v %+v", a, b)
	}
	if !(a.Offset[0] < a.Offset[1] && a.Offset[1] < a.Offset[2]) {
		t.Errorf("quantiles %v", a.Offset)
	}
	w.job.Spread = &Spread{}
	c, err := w.odds(5, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	want, err := w.day(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range c.Offset {
		if math.Abs(v-want.offset) > 1e-12 {
			t.Errorf("nothing unknown: %g, the job's %g", v, want.offset)
		}
	}
}

// Jackets alone unknown: offset/h has the spread of (t_B − t_A)/2h, by the
// closed form for even strain, within sampling error (3σ of 200 draws is 15 %).
func TestOddsOfJackets(t *testing.T) {
	w := oddsWorker(t)
	w.job.Spread = &Spread{Jacket: 0.02}
	o, err := w.odds(200, 3, nil)
	if err != nil {
		t.Fatal(err)
	}
	h := w.out.Final.Thickness
	want := 0.02 * 0.010 * math.Sqrt2 / 2 / 0.026 * h // standard deviation, m
	got := (o.Offset[2] - o.Offset[0]) / (2 * 1.645)
	if math.Abs(got-want) > 0.15*want {
		t.Errorf("spread of the offset %g m, closed form %g", got, want)
	}
	if o.Shares[0] < 0.95 {
		t.Errorf("jackets alone are unknown, and make %g of the variance", o.Shares[0])
	}
}

// Beyond the draws worked in full, a surface fitted to them answers; on draws it
// was not fitted to it stays well within the spread.
func TestOddsSurface(t *testing.T) {
	if testing.Short() {
		t.Skip("a thousand replays")
	}
	w := oddsWorker(t)
	o, err := w.odds(3000, 5, nil)
	if err != nil {
		t.Fatal(err)
	}
	spread := o.Offset[2] - o.Offset[0]
	t.Logf("%d worked of %d, surface misses %.2e m of a spread of %.2e m", o.Worked, o.Draws, o.SurfaceMiss, spread)
	if o.Worked != workedDays || o.SurfaceMiss > 0.1*spread {
		t.Errorf("%d worked, surface misses %g m of a spread of %g m", o.Worked, o.SurfaceMiss, spread)
	}
}

func TestOddsStop(t *testing.T) {
	w := oddsWorker(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	w.ctx = ctx
	if _, err := w.odds(50, 1, nil); err == nil {
		t.Error("a cancelled run gave odds")
	}
}
