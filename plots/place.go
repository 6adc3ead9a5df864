package plots

import (
	"sort"

	"gonum.org/v1/plot/vg"
)

// spread moves labels of the given height apart along one direction: it
// returns the middles nearest to those wanted, in the same order along the
// line, that keep at least height between neighbours and stay between lo and
// hi. If they cannot all fit they are packed from hi down past lo; callers
// make room first.
func spread(want []vg.Length, height, lo, hi vg.Length) []vg.Length {
	order := make([]int, len(want))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return want[order[a]] < want[order[b]] })

	// A run is a group of labels that touch, placed about the mean of what
	// its members want; runs that meet join. (Pooling of adjacent violators.)
	type run struct {
		start vg.Length // middle of the first label
		n     int
	}
	lo, hi = lo+height/2, hi-height/2
	var runs []run
	sums := []vg.Length{} // of want − place within the run, by run
	for _, i := range order {
		r, sum := run{n: 1}, want[i]
		for {
			r.start = clamp(sum/vg.Length(r.n), lo, hi-vg.Length(r.n-1)*height)
			k := len(runs) - 1
			if k < 0 || runs[k].start+vg.Length(runs[k].n)*height <= r.start {
				break
			}
			// Join with the run below: its members come first.
			sum = sums[k] + sum - vg.Length(runs[k].n*r.n)*height
			r.n += runs[k].n
			runs, sums = runs[:k], sums[:k]
		}
		runs, sums = append(runs, r), append(sums, sum)
	}

	got := make([]vg.Length, len(want))
	k := 0
	for _, r := range runs {
		for j := range r.n {
			got[order[k]] = r.start + vg.Length(j)*height
			k++
		}
	}
	return got
}

// clamp keeps v between lo and hi; hi wins when they cross.
func clamp(v, lo, hi vg.Length) vg.Length { return min(max(v, lo), hi) }

// flag is a label that stands to the right of a line going down from it.
type flag struct {
	x     vg.Length // of the line, which is the label's left edge
	width vg.Length
}

// rows stacks flags, which must come in order of x, so that no label touches
// another and no line runs through a label: a flag that stands in the way of
// a later one goes in a higher row. Row 0 is the lowest.
func rows(flags []flag, gap vg.Length) []int {
	row := make([]int, len(flags))
	for i := len(flags) - 1; i >= 0; i-- {
		for j := i + 1; j < len(flags); j++ {
			if flags[j].x < flags[i].x+flags[i].width+gap {
				row[i] = max(row[i], row[j]+1)
			}
		}
	}
	return row
}
