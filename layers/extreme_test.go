package layers

import (
	"math"
	"testing"
)

// hardening is a law that is soft at no strain, as Shida's form of carbon
// steel: 1.3 (e/0.2)^n - 0.3 e/0.2.
func hardening(_ testing.TB) Strength {
	return func(strain, rate, tempK float64) float64 {
		x := strain / 0.2
		return 60e6 * math.Pow(rate, 0.13) * math.Exp(5000/tempK-5000.0/1373) * (1.3*math.Pow(x, 0.4) - 0.3*x)
	}
}

// Source: the requirement that every accepted input gives finite answers or an
// error that says what to change.
func TestExtremes(t *testing.T) {
	stack := func(w float64, thick []float64, law Strength, js []Joint) *Stack {
		var ls []Layer
		for _, x := range thick {
			ls = append(ls, Layer{Thickness: x * 1e-3, Strength: law})
		}
		s, err := NewStack(w*1e-3, 0.1, ls, js, len(ls)/2, Mesh{})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	base := powerLaw(60e6, 0.13)
	loose := []Joint{{}, {}}
	frictionless := func(to float64) Squeeze { q := plain(to, 0, 0); q.Restraint = NoRestraint; return q }
	tilted := func(q Squeeze) Squeeze { q.Top.Slope = 0.03; return q }
	for _, c := range []struct {
		name string
		s    *Stack
		q    Squeeze
	}{
		{"no friction, tilted", stack(38, []float64{12, 14, 12}, base, nil), tilted(frictionless(33))},
		{"no friction anywhere, slipping", stack(38, []float64{12, 14, 12}, base, loose), frictionless(33)},
		{"no friction, slipping, tilted", stack(38, []float64{12, 14, 12}, base, loose), tilted(frictionless(33))},
		{"thin and wide", stack(100, []float64{0.3, 0.4, 0.3}, base, nil), cold(0.8, 0.5, 0.9)},
		{"tall and narrow", stack(5, []float64{20, 20, 20}, base, nil), cold(54, 0.5, 0.9)},
		{"hardening", stack(38, []float64{12, 14, 12}, hardening(t), nil), cold(26, 0.3, 0.8)},
		{"rate exponent 0", stack(38, []float64{12, 14, 12}, powerLaw(60e6, 0), nil), cold(30, 0.3, 0.8)},
		{"rate exponent 1", stack(38, []float64{12, 14, 12}, powerLaw(60e6, 1), nil), cold(30, 0.3, 0.8)},
		{"sticking dies", stack(38, []float64{12, 14, 12}, base, nil), cold(12, 1, 1)},
		{"narrow die", stack(60, []float64{12, 14, 12}, base, nil), func() Squeeze { q := cold(34, 0.4, 0.4); q.Top.Across = 0.02; return q }()},
		{"die beside the nodes", stack(60, []float64{12, 14, 12}, base, nil), func() Squeeze { q := cold(36, 0.4, 0.4); q.Top.Across = 1e-3; return q }()},
		{"hair's breadth", stack(38, []float64{12, 14, 12}, base, nil), cold(37.9999999, 0.3, 0.8)},
		{"very long bite", stack(38, []float64{12, 14, 12}, base, nil), func() Squeeze { q := cold(33, 0.4, 0.4); q.Bite = 5; q.Spatial = &Spatial{}; return q }()},
		{"very short bite", stack(38, []float64{12, 14, 12}, base, nil), func() Squeeze { q := cold(33, 0.4, 0.4); q.Bite = 1e-3; q.Spatial = &Spatial{OneSided: true}; return q }()},
		{"one layer", stack(38, []float64{38}, base, nil), func() Squeeze { q := cold(33, 0.4, 0.6); q.Spatial = &Spatial{}; return q }()},
	} {
		rep, err := c.s.Press(c.q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if v := rep.Force + rep.After.Offset + rep.After.Width + rep.After.Length + rep.Work.Die; math.IsNaN(v) || math.IsInf(v, 0) || rep.Force <= 0 {
			t.Errorf("%s: force %g, %+v", c.name, rep.Force, rep.After)
		}
		if volume := sum(c.s.Areas()) * c.s.Length(); rep.Correction == nil && !within(volume, rep.Before.Length*areaOf(rep.Before), 5e-3, 0) {
			t.Errorf("%s: volume %g", c.name, volume)
		}
	}
}

func areaOf(sh Shape) float64 {
	t := 0.0
	for _, l := range sh.Layers {
		t += l.Area
	}
	return t
}
