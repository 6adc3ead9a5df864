package blade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Whatever is accepted gives numbers, and parts that agree with each other.
func TestAnyBladeInAnyBar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		bar := anyBar(t, b)
		a, err := Cut(bar, b, anyPlace(t, bar, b), Ask{Clean: 0.3e-3, CoreLine: 4e-3, Points: 11})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range append(a.Along, a.Mid) {
			finite(t, s.X, s.Y, s.Z, s.Slope, s.Core, s.D, s.MarginA, s.MarginB, s.Beyond)
			bandsClose(t, s.A, b.Height, bar.Core)
			bandsClose(t, s.B, b.Height, bar.Core)
		}
		finite(t, a.DepthA, a.DepthB, a.Thickness, a.Least.Thickness, a.Volume, a.NarrowBy, a.ShortBy,
			a.Drift.Mean, a.Drift.Tilt, a.Drift.Trend, a.Drift.Wave, a.Drift.Needed)
		for _, r := range a.Rescue {
			finite(t, r.Shift, r.Tilt, r.Turn, r.Margin, r.Needs, r.Cost)
			if r.InCore && r.Margin <= 0 {
				t.Fatalf("in the core with a margin of %g", r.Margin)
			}
		}
		if a.InCore != (len(a.Leaves) == 0) {
			t.Fatal("in the core, and leaves it")
		}
	})
}

func finite(t *rapid.T, values ...float64) {
	for i, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("value %d is %g", i, v)
		}
	}
}

// bandsClose: bands go from edge to spine without gaps, and no two
// neighbours are the same layer; the core line is the first one's end.
func bandsClose(t *rapid.T, f Face, height float64, core int) {
	at, layer := 0.0, -1
	for _, b := range f.Bands {
		if b.From != at || b.To <= b.From || b.Layer == layer {
			t.Fatalf("bands %+v", f.Bands)
		}
		at, layer = b.To, b.Layer
	}
	if at != height {
		t.Fatalf("bands %+v end below the spine at %g", f.Bands, height)
	}
	if l := f.CoreLine; l != nil && (f.Bands[0].Layer != core || *l != f.Bands[0].To) {
		t.Fatalf("core line %g of bands %+v", *l, f.Bands)
	}
	finite(t, f.Jacket, f.Depth)
}

// mirrored is the bar seen from its other face (up) or side (across).
func mirrored(bar Bar, up, across bool) Bar {
	out := bar
	out.Sections = nil
	if up {
		out.Core = len(bar.Sections[0].Lines) - 2 - bar.Core
	}
	for _, s := range bar.Sections {
		m := Section{X: s.X, Left: s.Left, Right: s.Right}
		if across {
			m.Left, m.Right = -s.Right, -s.Left
		}
		for i := range s.Lines {
			l := s.Lines[i]
			if up {
				l = s.Lines[len(s.Lines)-1-i]
			}
			m.Lines = append(m.Lines, mirroredLine(l, up, across))
		}
		out.Sections = append(out.Sections, m)
	}
	return out
}

func mirroredLine(l Line, up, across bool) Line {
	n := len(l.Y)
	m := Line{Y: make([]float64, n), Z: make([]float64, n)}
	for i := range l.Y {
		k, way, tall := i, 1.0, 1.0
		if across {
			k, way = n-1-i, -1
		}
		if up {
			tall = -1
		}
		m.Y[i], m.Z[i] = way*l.Y[k], tall*l.Z[k]
	}
	return m
}

// A bar that is its own mirror image about its mid-plane shows both faces
// alike, whatever the grind but a chisel, its lines bent as they may be.
func TestSymmetricBarHasNoMismatch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		if b.Grind.Kind == Chisel {
			b.Grind.Kind = Flat
		}
		c := b.Edge + (b.Spine-b.Edge)*rapid.Float64Range(0.05, 0.9).Draw(t, "core")
		jacket := b.Spine
		bar := Even(b.Height*1.5, b.Length*1.2, []float64{jacket, c, jacket}, 1)
		swell := rapid.Float64Range(-0.2, 0.2).Draw(t, "swell")
		for i, l := range bar.Sections[0].Lines {
			var y, z []float64
			for k := range 11 {
				p := l.Y[0] + (l.Y[1]-l.Y[0])*float64(k)/10
				y, z = append(y, p), append(z, l.Z[0]*(1+swell*math.Sin(100*p)))
			}
			bar.Sections[0].Lines[i] = Line{Y: y, Z: z}
		}
		p := bar.Middle(b.Length, 4e-3, rapid.Bool().Draw(t, "right"))
		a, err := Cut(bar, b, p, Ask{Points: 9})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range a.Along {
			if (s.A.CoreLine == nil) != (s.B.CoreLine == nil) {
				t.Fatalf("a line on one side only: %+v %+v", s.A.Bands, s.B.Bands)
			}
			if m := s.Mismatch(); m != nil && math.Abs(*m) > 1e-9 {
				t.Fatalf("mismatch %g", *m)
			}
			if math.Abs(s.D) > 1e-15 || math.Abs(s.A.Jacket-s.B.Jacket) > 1e-15 {
				t.Fatalf("d = %g, jackets %g and %g", s.D, s.A.Jacket, s.B.Jacket)
			}
		}
	})
}

// Turned over, A and B change places; seen from the other end, nothing does.
func TestMirrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBlade(t)
		bar := anyBar(t, b)
		p := anyPlace(t, bar, b)
		ask := Ask{Clean: 0.2e-3, Points: 5, Brief: true}
		a, err := Cut(bar, b, p, ask)
		if err != nil {
			t.Fatal(err)
		}
		over, q := b, p
		over.Grind.SideA = !b.Grind.SideA
		q.Offset, q.Tilt, q.Turn = -p.Offset, -p.Tilt, -p.Turn
		up, err := Cut(mirrored(bar, true, false), over, q, ask)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, a.Mid, up.Mid, true)
		q = p
		q.EdgeRight = !p.EdgeRight
		side, err := Cut(mirrored(bar, false, true), b, q, ask)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, a.Mid, side.Mid, false)
	})
}

// alike compares stations, with sides changed or not. Core lines are left to
// the margins and jackets: where a face runs along a line its crossing is not
// sharp.
func alike(t *rapid.T, a, b Station, swapped bool) {
	if swapped {
		b.A, b.B, b.MarginA, b.MarginB, b.D = b.B, b.A, b.MarginB, b.MarginA, -b.D
	}
	for i, d := range []float64{a.D - b.D, a.MarginA - b.MarginA, a.MarginB - b.MarginB,
		a.A.Jacket - b.A.Jacket, a.B.Jacket - b.B.Jacket, a.A.Depth - b.A.Depth, a.B.Depth - b.B.Depth, a.Beyond - b.Beyond} {
		if math.Abs(d) > 1e-11 {
			t.Fatalf("value %d differs by %g", i, d)
		}
	}
}
