package layers

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
)

var evenHeat = Straightening{Temperature: linearTemp(1100, 1100)}

func straighten(t testing.TB, s *Stack, curl float64, o Straightening) *Report {
	t.Helper()
	rep, err := s.Straighten(curl, o)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// beamOffset is the core's offset in a bar of jackets phi each and thickness h,
// bent to curvature k: phi(1-phi) h^2 k/4. Closed form of the next test's flow.
func beamOffset(phi, h, k float64) float64 { return phi * (1 - phi) * h * h * k / 4 }

// Source: closed form. A homogeneous beam under a single stress along the bar,
// eps_x = k z, eps_y = eps_z = -k z/2, gamma = 0 (v_y = -k y z/2,
// v_z = k (y^2 - z^2)/4) has free sides and no force: it is exact at small
// strain, here 1e-3 at the faces. A face's width changes by -k h/4, so its
// length by +-k h/2: the quads' mean rate sets 2 % (coarse), 0.5 % (fine).
// The offset is the same all across, its mean right to 0.5 %.
func TestPureBending(t *testing.T) {
	const curl = 0.05 // 1/m
	for mesh, tol := range map[Mesh]float64{{}: 0.02, {Columns: 12, PerLayer: 6}: 0.005} {
		s := standard(t, mesh)
		rep := straighten(t, s, -curl, evenHeat)
		near(t, "gathered", rep.Curl, curl, 1e-12)
		h := 0.038
		near(t, "offset", rep.After.Offset, beamOffset(12./38, h, curl), 0.005)
		for _, d := range rep.After.Across.Offset {
			near(t, "offset across", d, rep.After.Offset, 0.03) // coarse quads are the worst
		}
		m := s.mesh
		for at, sign := range map[int]float64{0: -1, m.nl - 1: 1} {
			y := m.y[(m.nc-1)*m.nl+at]
			near(t, "strain of a face", -2*math.Log(y/0.019), sign*curl*h/2, tol)
		}
	}
}

// Source: closed form, as in the steady bending of a bar whose rate follows a
// power of the stress: moment 2 S b k'^n (h/2)^(n+2)/(n+2), here times the angle.
// 0.5 %: the six rows' quadrature of |z|^(n+1), 0.05 % with eighteen.
func TestBendingWork(t *testing.T) {
	const curl, n, b, h = 1, 0.13, 0.038, 0.038
	beam := func(h float64) float64 { return 2 * 60e6 * b * math.Pow(h/2, n+2) / (n + 2) }
	rate := math.Pow(0.1/(h/2), n)
	for mesh, tol := range map[Mesh]float64{{}: 0.005, {Columns: 12, PerLayer: 6}: 0.0005} {
		rep := straighten(t, standard(t, mesh), -curl, evenHeat)
		near(t, "work", rep.Work.Die, beam(h)*rate*curl, tol)
	}
	// Layers that slip freely bend each on its own, and the outer ones, 26 mm
	// apart, run out by the angle times that. Two rows a layer: 3 %.
	loose := []Joint{{}, {}}
	s := mmStack(t, 38, []float64{12, 14, 12}, even(3), n, loose, 1, Mesh{})
	rep := straighten(t, s, -curl, evenHeat)
	near(t, "work of loose layers", rep.Work.Die, (2*beam(0.012)+beam(0.014))*rate*curl, 0.03)
	near(t, "overhang", rep.Overhang, curl*0.026*0.12, 0.01)
	if !strings.Contains(strings.Join(rep.Warnings, " "), "slip") {
		t.Errorf("slipping joints are not spoken of: %q", rep.Warnings)
	}
}

// Source: symmetry: what bends one way is undone by bending back, and a bar
// alike above and below bends alike either way. Straight increments of 0.01 of
// strain leave a second-order rest: 0.5 % of the offset, 0.1 % of the volume as
// elsewhere (0.095 x 0.01/6 each way).
func TestBentAndStraightened(t *testing.T) {
	const curl = 5
	var offsets []float64
	for _, sign := range []float64{1, -1} {
		s := standard(t, Mesh{})
		volume := sum(s.Areas()) * s.Length()
		bent := straighten(t, s, -sign*curl, evenHeat).After.Offset
		offsets = append(offsets, bent)
		near(t, "volume bent", sum(s.Areas())*s.Length(), volume, 1e-3)
		rep := straighten(t, s, sign*curl, evenHeat)
		if d := rep.After.Offset; math.Abs(d) > 0.005*math.Abs(bent) {
			t.Errorf("bent to %g m of offset, straightened to %g", bent, d)
		}
		near(t, "volume", sum(s.Areas())*s.Length(), volume, 1e-3)
		near(t, "width", rep.After.Width, 0.038, 2e-3)
	}
	near(t, "bent the other way", offsets[1], -offsets[0], 1e-6)
	near(t, "offset", offsets[0], beamOffset(12./38, 0.038, curl), 0.005)
}

// Source: closed form; the bar is no longer square nor even in heat (strength
// differs by a third from face to face), which shifts the neutral line: 5 %.
func TestStraighteningTakesTheBeamsOffset(t *testing.T) {
	for _, bite := range []float64{0.02, 0.038, 0.06} {
		q := cold(33.44, 0.3, 0.8)
		q.Bite, q.Curl = bite, true
		s := standard(t, Mesh{})
		curled := press(t, s, q)
		k := curled.Curl / s.Elongations()[0]
		want := beamOffset(12./38, 0.03344, k)
		rep := straighten(t, s, curled.Curl, Straightening{Temperature: q.Temperature})
		near(t, "offset taken", curled.After.Centre-rep.After.Centre, want, 0.05)
	}
}

// Known departure, kept in sight: after a squeeze that followed its curl the
// straightened bar's offset is 2 to 5 times that of a bar held straight. Source
// of what it should be: single bites of 12 % in a three-dimensional model
// (computed), held straight 0.49, 0.72, 0.36 mm at mid width, curled and
// straightened 0.57, 0.89, 0.28: -23 to +24 %. When this fails the section has
// come nearer; then bring Straighten's comment up to date.
func TestStraightenedDepartsFromHeldStraight(t *testing.T) {
	for _, c := range []struct{ width, bite float64 }{{38, 0.02}, {38, 0.038}, {54, 0.02}} {
		bar := func() *Stack { return mmStack(t, c.width, []float64{12, 14, 12}, even(3), 0.13, nil, 1, Mesh{}) }
		q := cold(33.44, 0.3, 0.8)
		q.Bite = c.bite
		held := press(t, bar(), q).After.Centre
		q.Curl = true
		s := bar()
		curled := press(t, s, q)
		got := straighten(t, s, curled.Curl, Straightening{Temperature: q.Temperature}).After.Centre
		t.Logf("%+v: held %.3f, curled %.3f, straightened %.3f mm", c, held*1e3, curled.After.Centre*1e3, got*1e3)
		if !(got < curled.After.Centre && got > 2*held && got < 5*held) {
			t.Errorf("%+v: held straight %g, straightened %g m", c, held, got)
		}
	}
}

// Source: energy balance: the functional's stationarity; as for a squeeze.
func TestStraighteningWorkIsAccountedFor(t *testing.T) {
	joints := []Joint{{Friction: 0.3}, {Welded: true}}
	side := func(across, through float64) float64 { return 1373 + 40*across + 50*through }
	for _, c := range []struct {
		s    *Stack
		temp func(across, through float64) float64
	}{
		{standard(t, Mesh{}), linearTemp(1050, 1150)},
		{mmStack(t, 38, []float64{12, 14, 12}, []float64{1, 1.5, 1}, 0.13, joints, 1, Mesh{}), linearTemp(1050, 1150)},
		{standard(t, Mesh{}), side},
	} {
		q := cold(33, 0.3, 0.8)
		q.Curl, q.Temperature = true, c.temp
		curl := press(t, c.s, q).Curl
		rep := straighten(t, c.s, curl, Straightening{Temperature: c.temp})
		w := rep.Work
		near(t, "gathered", rep.Curl, -curl, 1e-9)
		if i := w.Imbalance(); math.Abs(i) > 1e-8 || w.Die <= 0 {
			t.Errorf("imbalance %g of the moment's work %g", i, w.Die)
		}
		if num := math.Abs(w.Penalty) + math.Abs(w.Regularisation); num > 1e-3*w.Die {
			t.Errorf("penalties take %g of the work", num/w.Die)
		}
	}
}

// Source: symmetry: how the bar lies is nothing to a bend without tools, and a
// whole section bends as its half does (rounding times the condition, 1e-6).
func TestStraighteningIsInTheMetalsFrame(t *testing.T) {
	want := straighten(t, standard(t, Mesh{}), -3, evenHeat).After.Offset
	for _, down := range []Side{SideA, SideLeft, SideRight} {
		s := standard(t, Mesh{})
		if err := s.Lay(down); err != nil {
			t.Fatal(err)
		}
		near(t, down.String()+" down", straighten(t, s, -3, evenHeat).After.Offset, want, 1e-12)
		if s.Down() != down {
			t.Errorf("laid %v down, lies %v down", down, s.Down())
		}
	}
	s := standard(t, Mesh{})
	s.mesh = s.mesh.whole()
	near(t, "whole", straighten(t, s, -3, evenHeat).After.Offset, want, 1e-6)
}

// Source: the requirement that a wrong call is answered and changes nothing,
// that a straight bar stays as it is, and that what is left out is said.
func TestStraightenErrors(t *testing.T) {
	tired := func(strain, rate, _ float64) float64 {
		if strain > 0.03 {
			return -1
		}
		return 60e6 * math.Pow(rate, 0.13)
	}
	worn, err := NewStack(0.038, 0.12, []Layer{{"a", 0.019, tired}, {"b", 0.019, tired}}, nil, 0, Mesh{})
	if err != nil {
		t.Fatal(err)
	}
	heat := evenHeat.Temperature
	for name, c := range map[string]struct {
		s    *Stack
		curl float64
		o    Straightening
		says string
	}{
		"no temperature": {standard(t, Mesh{}), 1, Straightening{}, "temperature"},
		"rate":           {standard(t, Mesh{}), 1, Straightening{Temperature: heat, Rate: -1}, "rate"},
		"rate nan":       {standard(t, Mesh{}), 1, Straightening{Temperature: heat, Rate: math.NaN()}, "rate"},
		"step":           {standard(t, Mesh{}), 1, Straightening{Temperature: heat, Step: 0.2}, "step"},
		"curl nan":       {standard(t, Mesh{}), math.NaN(), evenHeat, "curl"},
		"curl":           {standard(t, Mesh{}), 27, evenHeat, "at most 0.5"},
		"cold":           {standard(t, Mesh{}), 1, Straightening{Temperature: func(_, _ float64) float64 { return -1 }}, "temperature"},
		"half way":       {worn, 10, evenHeat, "strength law"},
	} {
		before := c.s.Clone()
		rep, err := c.s.Straighten(c.curl, c.o)
		if err == nil || rep != nil || !strings.Contains(err.Error(), c.says) || errors.Is(err, errFolded) {
			t.Errorf("%s: error %v", name, err)
		}
		if !reflect.DeepEqual(before.mesh, c.s.mesh) || before.length != c.s.length {
			t.Errorf("%s: the stack was changed", name)
		}
	}
	s := standard(t, Mesh{})
	before := s.Clone()
	rep := straighten(t, s, 0, evenHeat)
	if !reflect.DeepEqual(before.mesh, s.mesh) || rep.After.Offset != 0 || len(rep.Warnings) > 0 {
		t.Errorf("a straight bar was changed: %+v", rep.After)
	}
	if rep := straighten(t, s, 1e-9, evenHeat); math.IsNaN(rep.Work.Die) || math.Abs(rep.After.Offset) > 1e-9 {
		t.Errorf("a hair of curl: %+v", rep.Work)
	}
	wide := mmStack(t, 100, []float64{3, 4, 3}, even(3), 0.13, nil, 1, Mesh{})
	if rep := straighten(t, wide, 3, evenHeat); !strings.Contains(strings.Join(rep.Warnings, " "), "wide") {
		t.Errorf("a plate's warnings %q", rep.Warnings)
	}
}
