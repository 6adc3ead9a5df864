package blade

import (
	"math"
	"strings"
	"testing"
)

// Every fault is told, all at once, with what is accepted.
func TestFaults(t *testing.T) {
	nan := math.NaN()
	good, bar := hunter(), laid(1.2e-3, 0)
	place := bar.Middle(good.Length, 3e-3, true)
	cases := []struct {
		name string
		b    func(*Blade)
		bar  func(*Bar)
		p    func(*Place)
		ask  Ask
		want []string
	}{
		{name: "sizes", b: func(b *Blade) { b.Spine, b.Height, b.Length, b.Edge = 0, nan, -1, nan }, want: []string{"spine", "height", "length", "edge"}},
		{name: "edge", b: func(b *Blade) { b.Edge = 4e-3 }, want: []string{"edge is 4.00 mm; accepted: less than the spine"}},
		{name: "bevel", b: func(b *Blade) { b.Grind.Height = 30e-3 }, want: []string{"bevel height is 30.0 mm; accepted: no more than the blade's height of 28.0 mm"}},
		{name: "wheel", b: func(b *Blade) { b.Grind.Kind, b.Grind.Wheel = Hollow, nan }, want: []string{"wheel"}},
		{name: "bulge", b: func(b *Blade) { b.Grind.Kind, b.Grind.Bulge = Convex, -1 }, want: []string{"bulge"}},
		{name: "kind", b: func(b *Blade) { b.Grind.Kind = 9 }, want: []string{"kind 9; accepted: flat"}},
		{name: "no section", bar: func(b *Bar) { b.Sections = nil }, want: []string{"no section"}},
		{name: "core", bar: func(b *Bar) { b.Core = 3 }, want: []string{"core is layer 3 of 3; accepted: 0 to 2"}},
		{name: "length", bar: func(b *Bar) { b.End = b.Start }, want: []string{"beyond the first"}},
		{name: "sides", bar: func(b *Bar) { b.Sections[0].Left = 1 }, want: []string{"section 0"}},
		{name: "lines", bar: func(b *Bar) { b.Sections[0].Lines[1] = Line{} }, want: []string{"line 1 has 0 places"}},
		{name: "height", bar: func(b *Bar) { b.Sections[0].Lines[1].Z[0] = nan }, want: []string{"line 1, point 0"}},
		{name: "order", bar: func(b *Bar) { b.Sections[0].Lines[1].Z[0] = -4e-3 }, want: []string{"below line 0"}},
		{name: "place", p: func(p *Place) { p.Tilt, p.EdgeFromSide, p.Heel = 1, nan, math.Inf(1) }, want: []string{"tilt", "edge", "heel"}},
		{name: "ask", ask: Ask{Clean: nan, CoreLine: -1, Points: 2}, want: []string{"pits", "core line", "2 places"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b, now, p := good, laid(1.2e-3, 0), place
			if c.b != nil {
				c.b(&b)
			}
			if c.bar != nil {
				c.bar(&now)
			}
			if c.p != nil {
				c.p(&p)
			}
			_, err := Cut(now, b, p, c.ask)
			if err == nil {
				t.Fatal("accepted")
			}
			for _, w := range c.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%v\nwant it to say %q", err, w)
				}
			}
		})
	}
}

// What cannot be is said, with how far it is off.
func TestWarnings(t *testing.T) {
	b := hunter()
	bar := Even(29e-3, 90e-3, []float64{1.4e-3, 0.4e-3, 1.4e-3}, 1)
	p := bar.Middle(b.Length, 3e-3, true)
	a := cut(t, bar, b, p, Ask{})
	near(t, "narrow by", a.NarrowBy, 2e-3, rounding)
	near(t, "short by", a.ShortBy, 5e-3, rounding)
	text := strings.Join(a.Warnings, "\n")
	for _, want := range []string{"2.00 mm too narrow", "5.00 mm past the bar's end", "short by 0.40 mm on side A",
		"the core is 0.40 mm thick at the edge and the edge 0.50 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	// A core that stops 5 mm short of the side, the edge 3 mm from it.
	bar = laid(1.2e-3, 0)
	for _, i := range []int{1, 2} {
		bar.Sections[0].Lines[i].Y = []float64{-20e-3, 15e-3}
	}
	a = cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	if len(a.Leaves) != 1 || !a.Leaves[0].Short || a.InCore {
		t.Fatalf("leaves %+v, want one where the core ends short", a.Leaves)
	}
	near(t, "short of the edge", a.Leaves[0].Worst, -2e-3, rounding)
}

// The bar's bow and wedge are followed: a bar bent or tapered across as a
// whole is ground about its own middle.
func TestCentrePlaneFollowsBar(t *testing.T) {
	b := hunter()
	bar := laid(1.2e-3, 0.1e-3)
	want := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	for _, l := range bar.Sections[0].Lines {
		l.Z[0], l.Z[1] = l.Z[0]+5e-3-0.2e-3, l.Z[1]+5e-3+0.2e-3
	}
	got := cut(t, bar, b, bar.Middle(b.Length, 3e-3, true), Ask{})
	// Turned by 0.4 mm in 40 mm: lengths across change by half its square.
	near(t, "mismatch", *got.Mismatch, *want.Mismatch, 1e-4**want.Mismatch)
	near(t, "slope", got.Mid.Slope, -0.01, 1e-6)
}

func TestVary(t *testing.T) {
	bar := Even(40e-3, 100e-3, []float64{1e-3, 1e-3, 2e-3, 1e-3, 1e-3}, 2)
	s := vary(t, bar, []float64{0, 50e-3, 100e-3}, []float64{0, 0.2e-3, -0.5e-3}, []float64{6e-3, 6e-3, 12e-3})
	// At the middle the section is as given; the offset there is the record's
	// own 0.2 mm, so 0 elsewhere moves the core 0.2 mm down.
	near(t, "as given", s[1].Lines[2].Z[0], -1e-3, 1e-18)
	near(t, "core", s[0].Lines[2].Z[0], -1.2e-3, 1e-15)
	near(t, "face", s[0].Lines[0].Z[0], -3e-3, 1e-15)
	near(t, "jackets share", s[0].Lines[1].Z[0], -2.1e-3, 1e-15)
	near(t, "twice as thick", s[2].Lines[5].Z[0], 6e-3, 1e-15)
	near(t, "twice, and moved", s[2].Lines[3].Z[0], 2e-3-0.5e-3-0.4e-3, 1e-15)
	for _, bad := range [][3][]float64{
		{{0}, {}, {}}, {{0, 0}, {0, 0}, {1, 1}}, {{0}, {0}, {0}}, {{0}, {math.NaN()}, {1}}, {},
		{{0, 100e-3}, {0, 5e-3}, {6e-3, 6e-3}},
	} {
		if _, err := Vary(bar.Sections[0], 2, bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("accepted %v", bad)
		}
	}
}

// Bands are shown as common practice and nothing else.
func TestPractice(t *testing.T) {
	for _, h := range Practice() {
		if h.What == "" || !(h.Low > 0 && h.High > h.Low && h.High <= 1) || h.Status != "common practice, no source" {
			t.Errorf("%+v", h)
		}
	}
	if h := Practice()[0]; !h.Holds(0.27) || h.Holds(0.5) {
		t.Errorf("%+v", h)
	}
}
