package plots

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// groundSide is the blade from the side, edge down, heel to tip, with the core
// lines of both faces over each other.
type groundSide struct {
	chart
	zones []zone
	out   []stretch // where the edge is not in the core
	note  string
}

// zone is a part of the blade between two heights, shown units.
type zone struct{ x, low, high []float64 }

// stretch is a piece of the edge, shown, and what is the matter there.
type stretch struct {
	from, to float64
	label    string
}

// grindSide collects what the picture shows.
func grindSide(r *sim.Result) *groundSide {
	s, g := shownIn(r.Job), r.Ground
	k := &groundSide{chart: chart{name: "grind-side", title: sideTitle(g, s), yTitle: s.sizeUnit(),
		subtitle: billet(r.Job, s, "edge down"),
		xTitle:   s.sizeWord() + " from the heel"}}
	k.x = newAxis(0, s.size(g.Blade.Length), 10)
	k.y = newAxis(0, s.size(g.Blade.Height), 8)
	for i, side := range [2]string{"A", "B"} {
		look := line{name: side, ink: hueSkin, width: 1.8}
		if i == 1 {
			look.ink, look.dash = hueJoint, dashLong
		}
		pieces := k.corePieces(g, s, i == 0, look)
		if n := len(pieces); n > 0 {
			last := &pieces[n-1]
			last.label = "side " + side + ", at its end " + s.fine(coreEnd(g, i == 0))
		}
		k.lines = append(k.lines, pieces...)
	}
	if w := g.Ask.CoreLine; w > 0 && k.y.holds(s.size(w)) {
		k.rules = append(k.rules, rule{value: s.size(w), label: "wanted " + s.fine(w), ink: hueWeld, dash: dashShort})
	}
	k.shade(g, s)
	k.out = outOfCore(g, s)
	k.note = fmt.Sprintf("height drawn %.1f times as large as length", k.stretched())
	return k
}

// outOfCore are the stretches on which the edge is not in the core, those of
// both sides at the same place as one.
func outOfCore(g *sim.Bevelled, s shown) []stretch {
	var out []stretch
	for _, l := range g.Answer.Leaves {
		k := stretch{s.size(l.From), s.size(l.To), "jacket on side " + l.Side.String()}
		if l.Short {
			k.label = "the core ends short of the edge"
		}
		if n := len(out) - 1; n >= 0 && out[n].from == k.from && out[n].to == k.to {
			if out[n].label != k.label {
				out[n].label = "jacket on both sides"
			}
			continue
		}
		out = append(out, k)
	}
	return out
}

// outLength is how much of the edge is not in the core, m: a place that is out
// on both sides counts once.
func outLength(g *sim.Bevelled) float64 {
	all := slices.Clone(g.Answer.Leaves)
	sort.SliceStable(all, func(i, j int) bool { return all[i].From < all[j].From })
	long, end := 0.0, math.Inf(-1)
	for _, l := range all {
		long += math.Max(0, l.To-math.Max(l.From, end))
		end = math.Max(end, l.To)
	}
	return long
}

// stretched is how much larger the picture's height is than its length.
func (k *groundSide) stretched() float64 {
	wide := float64(pageWidth - 2*pageMargin - leftRoom - passRight)
	return float64(plotHeight) / k.y.max * k.x.max / wide
}

// corePieces are the stretches on which a face shows its core line.
func (k *groundSide) corePieces(g *sim.Bevelled, s shown, sideA bool, look line) []line {
	var out []line
	open := false
	for _, st := range g.Answer.Along {
		c := st.B.CoreLine
		if sideA {
			c = st.A.CoreLine
		}
		if c == nil {
			open = false
			continue
		}
		if !open {
			out = append(out, look)
			open = true
		}
		l := &out[len(out)-1]
		l.x, l.y = append(l.x, s.size(st.S)), append(l.y, s.size(*c))
	}
	return out
}

// coreEnd is the core line's height where it shows last, m.
func coreEnd(g *sim.Bevelled, sideA bool) float64 {
	last := 0.0
	for _, st := range g.Answer.Along {
		c := st.B.CoreLine
		if sideA {
			c = st.A.CoreLine
		}
		if c != nil {
			last = *c
		}
	}
	return last
}

// shade finds where the core shows on both faces, and where on one alone.
func (k *groundSide) shade(g *sim.Bevelled, s shown) {
	var both, one zone
	flush := func() {
		if len(both.x) > 1 {
			k.zones = append(k.zones, both, one)
		}
		both, one = zone{}, zone{}
	}
	for _, st := range g.Answer.Along {
		a, okA := coreUpTo(g, st.A.CoreLine, st.A.Jacket)
		b, okB := coreUpTo(g, st.B.CoreLine, st.B.Jacket)
		if !okA || !okB {
			flush()
			continue
		}
		low, high := s.size(math.Min(a, b)), s.size(math.Max(a, b))
		x := s.size(st.S)
		both.x, both.low, both.high = append(both.x, x), append(both.low, 0), append(both.high, low)
		one.x, one.low, one.high = append(one.x, x), append(one.low, low), append(one.high, high)
	}
	flush()
}

// coreUpTo is how far up a face the core shows, m: to its line, or to the
// spine where no jacket is left. ok is false where it does not show at the
// edge.
func coreUpTo(g *sim.Bevelled, line *float64, jacket float64) (height float64, ok bool) {
	switch {
	case line != nil:
		return *line, true
	case jacket <= 0:
		return g.Blade.Height, true
	}
	return 0, false
}

// sideTitle says how level the lines lie and whether the edge is in the core.
func sideTitle(g *sim.Bevelled, s shown) string {
	a := g.Answer
	if !a.InCore {
		where := map[string]bool{}
		for _, l := range a.Leaves {
			where[l.Side.String()] = true
		}
		text := "The edge leaves the core"
		if len(a.Leaves) > 0 {
			text += " over " + whole(s.length(outLength(g))) + " of its length"
		}
		if len(where) == 1 {
			text += " toward side " + a.Leaves[0].Side.String()
		}
		return text
	}
	if a.Worst == nil {
		return "The edge lies in the core all along; the core line does not show on both faces"
	}
	if s.nothing(*a.Worst) {
		return "The core lines match on both faces all along"
	}
	return fmt.Sprintf("The core lines are up to %s apart, side %s higher; the edge lies in the core all along",
		whole(s.fine(*a.Worst)), sideOf(*a.Worst))
}

// outRow is the room under the blade for what is wrong with its edge.
const outRow = vg.Length(16) // pt

// sheet draws the picture.
func (k *groundSide) sheet() *sheet {
	under := vg.Length(6)
	if len(k.out) > 0 {
		under += outRow
	}
	s := k.begin(unitRow+axisRow, under, passRight)
	f := k.frame
	s.block(f.Min.X, f.Min.Y, f.Max.X, f.Max.Y, inkJackets[0])
	for i, z := range k.zones {
		k.drawZone(s, z, i%2 == 0)
	}
	k.grid(s)
	s.add(stroke{width: 1, ink: inkAxis, pts: []vg.Point{f.Min, {X: f.Max.X, Y: f.Min.Y}, f.Max, {X: f.Min.X, Y: f.Max.Y}, f.Min}})
	k.plot(s, passRight)
	k.drawOut(s)
	y := f.Max.Y + axisRow/2 + 2
	end := s.text(handNote, f.Min.X, y, 0, "spine; "+k.note).Max.X
	if len(k.zones) > 0 {
		s.key([]keyed{{inkSteel, "core on both faces"}, {inkEdge, "on one alone"}}, end+16, y, pageWidth-pageMargin)
	}
	k.base(s, under)
	y = f.Min.Y - under - tickRow - axisRow/2 - 1
	s.text(handHead, f.Min.X, y, 0, "heel")
	s.text(handHead, f.Max.X, y, 1, "tip")
	return s
}

// drawZone paints where the core shows.
func (k *groundSide) drawZone(s *sheet, z zone, both bool) {
	ink := inkEdge
	if both {
		ink = inkSteel
	}
	low, high := k.points(line{x: z.x, y: z.low}), k.points(line{x: z.x, y: z.high})
	s.add(area{pts: append(thin(low, thinTolerance), reversed(thin(high, thinTolerance))...), ink: ink})
}

// drawOut marks the stretches on which the edge is not in the core and says
// what is wrong where there is room.
func (k *groundSide) drawOut(s *sheet) {
	f := k.frame
	free := f.Min.X
	for _, o := range k.out {
		x0, x1 := k.x.at(o.from), max(k.x.at(o.to), k.x.at(o.from)+1)
		x1 = min(x1, f.Max.X)
		s.block(min(x0, x1-1), f.Min.Y-3, x1, f.Min.Y+3, hueBurn)
		half := handLabel.width(o.label) / 2
		mid := clamp((x0+x1)/2, f.Min.X+half, pageWidth-pageMargin-half)
		if mid-half < free {
			continue
		}
		s.text(handLabel, mid, f.Min.Y-4-outRow/2, 0.5, o.label)
		free = mid + half + 8
	}
}
