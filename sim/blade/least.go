package blade

import "math"

// Least is how thin the bar may be left, with the layers' shares and lie as
// they are: the whole section made thinner or thicker about its own middle,
// the width kept. Each entry is the bar's thickness half way along the blade,
// m; nil where no thickness will do.
type Least struct {
	Pits *float64 // scale pits grind out of both faces, all along
	Edge *float64 // the edge lies in the core, all along
	Line *float64 // both core lines as high as asked half way along; nil too where not asked
	// Thickness is the greatest of them: stop no thinner. It leaves out any
	// that no thickness meets; see there.
	Thickness float64
	// EdgeMost is the thickness beyond which a core wholly to one side of the
	// bar's middle has moved off the edge; nil where there is none.
	EdgeMost *float64
}

// span is a range of shares of the bar's thickness.
type span struct{ low, high float64 }

var anyShare = span{0, math.Inf(1)}

func (a span) and(b span) span { return span{math.Max(a.low, b.low), math.Min(a.high, b.high)} }

// least is the span's low end as a thickness; nil where it is empty.
func (a span) least(thickness float64) *float64 {
	if a.low > a.high || math.IsInf(a.low, 1) {
		return nil
	}
	t := a.low * thickness
	return &t
}

// least works the thicknesses out in closed form: a line now at z lies at
// m + r (z − m) in a bar r times as thick, m the bar's middle.
func (g grinding) least(a *Answer) Least {
	pits, edge := anyShare, anyShare
	for _, s := range a.Along {
		pits.low = math.Max(pits.low, s.pits)
		edge = edge.and(g.edgeShare(s.S))
	}
	l := Least{Pits: pits.least(a.Thickness), Edge: edge.least(a.Thickness)}
	if l.Edge != nil && !math.IsInf(edge.high, 1) {
		most := edge.high * a.Thickness
		l.EdgeMost = &most
	}
	if g.ask.CoreLine > 0 {
		l.Line = g.lineShare().least(a.Thickness)
	}
	for _, t := range []*float64{l.Pits, l.Edge, l.Line} {
		if t != nil {
			l.Thickness = math.Max(l.Thickness, *t)
		}
	}
	return l
}

// shares are those at which a line now line from the middle is at least want
// from it, both counted outward.
func shares(line, want float64) span {
	switch {
	case line > 0:
		return span{math.Max(0, want/line), math.Inf(1)}
	case want > 0:
		return span{math.Inf(1), 0}
	case line < 0:
		return span{0, want / line}
	}
	return anyShare
}

// shareAt are the shares of its thickness at which the bar holds a face's
// point at height u inside the core's boundary on that side.
func (g grinding) shareAt(k knife, side Side, u float64) span {
	y, z := k.at(side, u)
	m := k.mid(y)
	if side == SideA {
		return shares(k.line(g.bar.Core+1, y)-m, z-m)
	}
	return shares(m-k.line(g.bar.Core, y), m-z)
}

// edgeShare is for both corners of the edge, s from the heel.
func (g grinding) edgeShare(s float64) span {
	k := g.knife(s)
	return g.shareAt(k, SideA, 0).and(g.shareAt(k, SideB, 0))
}

// lineShare is for both core lines to be at least as high as asked, half way
// along. A chisel's flat face has none to reach.
func (g grinding) lineShare() span {
	k := g.knife(g.blade.Length / 2)
	if g.ask.CoreLine >= k.Bevel {
		return span{math.Inf(1), 0}
	}
	r := anyShare
	for _, side := range []Side{SideB, SideA} {
		if k.Kind != Chisel || (side == SideA) == k.SideA {
			r = r.and(g.shareAt(k, side, g.ask.CoreLine))
		}
	}
	return r
}
