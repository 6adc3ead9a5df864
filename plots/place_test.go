package plots

import (
	"math"
	"sort"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

func TestSpread(t *testing.T) {
	for name, c := range map[string]struct{ want, got []vg.Length }{
		"apart":         {[]vg.Length{10, 30, 60}, []vg.Length{10, 30, 60}},
		"two together":  {[]vg.Length{50, 50}, []vg.Length{45, 55}},
		"order kept":    {[]vg.Length{52, 50}, []vg.Length{56, 46}},
		"a chain":       {[]vg.Length{50, 52, 60}, []vg.Length{44, 54, 64}},
		"foot":          {[]vg.Length{0, 2}, []vg.Length{5, 15}},
		"head":          {[]vg.Length{99, 100}, []vg.Length{85, 95}},
		"runs that met": {[]vg.Length{20, 20, 34, 34}, []vg.Length{12, 22, 32, 42}},
	} {
		if d := cmp.Diff(c.got, spread(c.want, 10, 0, 100)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

// TestSpreadAlways: labels never touch or leave their room, keep their order,
// and any single one could not be moved nearer to its place on its own.
func TestSpreadAlways(t *testing.T) {
	const height, hi = 10, 200
	const slack = 1e-9 // rounding of sums of twenty places
	rapid.Check(t, func(t *rapid.T) {
		var want []vg.Length
		for _, v := range rapid.SliceOfN(rapid.Float64Range(-20, 220), 0, 20).Draw(t, "want") {
			want = append(want, vg.Length(v))
		}
		got := spread(want, height, 0, hi)
		order := make([]int, len(want))
		for i := range order {
			order[i] = i
		}
		sort.SliceStable(order, func(a, b int) bool { return want[order[a]] < want[order[b]] })
		for k, i := range order {
			below, above := vg.Length(height/2), vg.Length(hi-height/2)
			if k > 0 {
				below = got[order[k-1]] + height
			}
			if k+1 < len(order) {
				above = got[order[k+1]] - height
			}
			if got[i] < below-slack || got[i] > above+slack {
				t.Fatalf("label %d at %g; from %g to %g", i, got[i], below, above)
			}
			best := clamp(want[i], below, above)
			if math.Abs(float64(best-want[i])) < math.Abs(float64(got[i]-want[i]))-slack {
				t.Fatalf("label %d at %g; %g is free and nearer to %g", i, got[i], best, want[i])
			}
		}
	})
}

func TestRows(t *testing.T) {
	got := rows([]flag{{0, 50}, {100, 50}, {120, 50}, {125, 10}, {300, 5}}, 8)
	if d := cmp.Diff([]int{0, 2, 1, 0, 0}, got); d != "" {
		t.Error(d)
	}
}

// TestRowsAlways: no label touches another, and no flag's line, which goes
// down from its row, runs through a label.
func TestRowsAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "n")
		flags := make([]flag, n)
		x := vg.Length(0)
		for i := range flags {
			x += vg.Length(rapid.Float64Range(0, 60).Draw(t, "dx"))
			flags[i] = flag{x, vg.Length(rapid.Float64Range(5, 150).Draw(t, "width"))}
		}
		row := rows(flags, 8)
		for i, a := range flags {
			for j, b := range flags {
				if i == j {
					continue
				}
				if row[i] == row[j] && a.x < b.x+b.width && b.x < a.x+a.width {
					t.Fatalf("labels %d and %d overlap in row %d", i, j, row[i])
				}
				if row[i] >= row[j] && a.x > b.x && a.x < b.x+b.width {
					t.Fatalf("line of %d runs through label %d", i, j)
				}
			}
		}
	})
}
