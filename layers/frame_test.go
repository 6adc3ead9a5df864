package layers

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

// Source: the rule that a top tool rising to the smith's right leaves the bar
// thicker on the right, which is the metal's left once side A is down.
func TestTiltSideFollowsTheFlip(t *testing.T) {
	for _, down := range []Side{SideB, SideA} {
		s := standard(t, Mesh{})
		if err := s.Lay(down); err != nil {
			t.Fatal(err)
		}
		q := plain(32, 0.3, 0.3)
		q.Top.Slope = 0.03
		press(t, s, q)
		right, left := s.ThicknessAt(0.015), s.ThicknessAt(-0.015)
		if (right > left) != (down == SideB) {
			t.Errorf("%v down: right %g, left %g m", down, right, left)
		}
		// 0.9 mm over 30 mm; the faces bear fully after 1.1 mm of closing
		near(t, "wedge", math.Abs(right-left), 0.03*0.03, 0.01)
	}
}

// Source: a crowned tool leaves its own sag, y^2/(2R).
func TestCrownLeavesItsShape(t *testing.T) {
	s := mmStack(t, 60, []float64{12, 14, 12}, even(3), 0.13, nil, 1, Mesh{Columns: 10})
	q := plain(30, 0.3, 0.3)
	q.Top.Crown = 0.15
	press(t, s, q)
	// straight segments between columns cut the curve by at most (dy)^2/(8R)
	if got, want := s.ThicknessAt(0.02)-s.ThicknessAt(0), 0.02*0.02/0.3; math.Abs(got-want) > 6e-5 {
		t.Errorf("sag %g m, wanted %g", got, want)
	}
}

// Source: symmetry, and that the hotter side lengthens: positive curvature.
// Flat tools resist it, so the mean offset changes little.
func TestCurl(t *testing.T) {
	q := plain(33, 0.3, 0.3)
	q.Curl = true
	if c := press(t, standard(t, Mesh{}), q).Curl; math.Abs(c) > 1e-6 {
		t.Errorf("even squeeze curled by %g per m", c)
	}
	q = cold(33, 0.3, 0.3)
	q.Curl = true
	rep := press(t, standard(t, Mesh{}), q)
	if rep.Curl <= 0 {
		t.Errorf("hot side A, curl %g per m", rep.Curl)
	}
	if straight := press(t, standard(t, Mesh{}), cold(33, 0.3, 0.3)); rep.After.Offset <= straight.After.Offset {
		t.Errorf("curled %g, held straight %g: curling adds to the offset", rep.After.Offset, straight.After.Offset)
	}
}

// Source: arithmetic, and that unequal sides make a whole section.
func TestLoseSides(t *testing.T) {
	s := standard(t, Mesh{})
	if err := s.Lose(1e-4, 1e-4, 2e-4, 2e-4); err != nil {
		t.Fatal(err)
	}
	near(t, "width", s.Width(), 0.0376, 1e-9)
	near(t, "thickness", s.Thickness(), 0.0378, 1e-9)
	if err := s.Lose(0, 0, 2e-4, 0); err != nil {
		t.Fatal(err)
	}
	near(t, "width", s.Width(), 0.0374, 1e-9)
	for _, bad := range [][4]float64{{-1, 0, 0, 0}, {0, math.NaN(), 0, 0}, {0, 0, 0.01, 0}, {0.02, 0.02, 0, 0}} {
		if err := s.Lose(bad[0], bad[1], bad[2], bad[3]); err == nil {
			t.Errorf("lose %v: no error", bad)
		}
	}
}

// Source: the requirement that what the model leaves out is said.
func TestManySlippingLayersAreSaid(t *testing.T) {
	n := 30
	js := make([]Joint, n-1)
	for i := range js {
		js[i].Friction = 0.5
	}
	thick := make([]float64, n)
	for i := range thick {
		thick[i] = 1.2
	}
	s := mmStack(t, 38, thick, even(n), 0.13, js, n/2, Mesh{})
	rep := press(t, s, plain(33, 0.3, 0.3))
	if !strings.Contains(strings.Join(rep.Warnings, " "), "slip") {
		t.Errorf("warnings %q", rep.Warnings)
	}
}

// Source: the requirement of sameness: the same job gives the same bytes.
func TestDeterministic(t *testing.T) {
	run := func() *Report {
		s := many(t, 20, 1.5, Mesh{})
		q := cold(30, 0.3, 0.8)
		q.Spatial, q.Top.Slope = &Spatial{}, 0.02
		return press(t, s, q)
	}
	if a, b := run(), run(); !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

// Source: geometry: the outline encloses the layers' areas, and each line ends
// on it.
func TestOutlineHoldsTheLayers(t *testing.T) {
	s := standard(t, Mesh{})
	rep := press(t, s, cold(28, 0.3, 0.8))
	o := s.Outline()
	area := 0.0
	for i, p := range o {
		q := o[(i+1)%len(o)]
		area += (p.Y*q.Z - q.Y*p.Z) / 2
	}
	near(t, "enclosed area", area, sum(s.Areas()), 1e-9)
	lower, upper := s.Line(1)
	if len(lower) != len(upper) || lower[0].Y >= 0 || lower[0].Y != -lower[len(lower)-1].Y {
		t.Errorf("core line from %v to %v", lower[0], lower[len(lower)-1])
	}
	lo, hi := s.LayerAt(1, 0)
	near(t, "core's offset", (lo+hi)/2, rep.After.Centre, 1e-12)
	if n := len(rep.Field.Corners); n != 36 || len(rep.Field.Flow) != n || len(rep.Field.Strain) != n || len(rep.Field.Layer) != n {
		t.Errorf("field of %d elements", n)
	}
}
