package blade

import (
	"fmt"
	"math"
)

// warn adds what a reader must know about the answer.
func (a *Answer) warn(g grinding) {
	a.Warnings = append(a.Warnings, g.blade.Notes()...)
	add := func(format string, args ...any) { a.Warnings = append(a.Warnings, fmt.Sprintf(format, args...)) }
	a.room(g, add)
	if a.DepthA < 0 || a.DepthB < 0 {
		add("the blade does not fit in the bar's thickness: short by %s on side A and %s on side B",
			mm(math.Max(0, -a.DepthA)), mm(math.Max(0, -a.DepthB)))
	}
	if a.Mid.Core <= g.blade.Edge {
		add("the core is %s thick at the edge and the edge %s: there can be no edge wholly of core", mm(a.Mid.Core), mm(g.blade.Edge))
	}
	for _, l := range a.Leaves {
		if l.Short {
			add("the core ends %s before the edge, from %s to %s from the heel: take more off the bar's side", mm(-l.Worst), mm(l.From), mm(l.To))
		}
	}
	if n := windows(a.Along, g.bar.Core); n > 0 {
		add("the core shows again above its line at %d of %d places along the blade", n, len(a.Along))
	}
}

// room compares the bar's width and length with the blade.
func (a *Answer) room(g grinding, add func(string, ...any)) {
	past := 0.0
	for _, s := range a.Along {
		c := g.bar.at(s.X)
		left, right := c.sides()
		a.NarrowBy = math.Max(a.NarrowBy, g.place.EdgeFromSide+g.blade.Height-(right-left))
		y, _ := s.Pose.Bar(g.blade.Height, 0)
		for i := range c.layers() + 1 {
			l, r := c.ends(i)
			past = math.Max(past, math.Max(l-y, y-r))
		}
	}
	// 1 µm: rounding of widths; nothing is ground to it.
	const fine = 1e-6
	if a.NarrowBy > fine {
		add("the bar is %s too narrow for the blade and what is trimmed off; layer lines beyond its side are guessed level", mm(a.NarrowBy))
	} else {
		a.NarrowBy = 0
		if past > fine {
			add("a layer ends %s before the spine: the bar's far side is not full there", mm(past))
		}
	}
	heel, tip := g.place.X(0), g.place.X(g.blade.Length)
	a.ShortBy = math.Max(0, math.Max(g.bar.Start-math.Min(heel, tip), math.Max(heel, tip)-g.bar.End))
	if a.ShortBy > fine {
		add("the blade as placed runs %s past the bar's end; the section there is guessed to stay as it was", mm(a.ShortBy))
	} else {
		a.ShortBy = 0
	}
}

// windows counts the stations where a face shows core in more than one band,
// or core but not at the edge.
func windows(along []Station, core int) int {
	n := 0
	for _, s := range along {
		odd := false
		for _, f := range []Face{s.A, s.B} {
			for i, b := range f.Bands {
				odd = odd || i > 0 && b.Layer == core
			}
		}
		if odd {
			n++
		}
	}
	return n
}
