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
}

// least works the thicknesses out in closed form: a line now at z lies at
// m + r (z − m) in a bar r times as thick, m the bar's middle.
func (g grinding) least(a *Answer) Least {
	pits, edge := 0.0, 0.0
	for _, s := range a.Along {
		pits = math.Max(pits, s.pits)
		edge = math.Max(edge, g.edgeShare(s))
	}
	l := Least{Pits: scaled(pits, a.Thickness), Edge: scaled(edge, a.Thickness)}
	if g.ask.CoreLine > 0 {
		l.Line = scaled(g.lineShare(), a.Thickness)
	}
	for _, t := range []*float64{l.Pits, l.Edge, l.Line} {
		if t != nil {
			l.Thickness = math.Max(l.Thickness, *t)
		}
	}
	return l
}

// scaled is a share of a thickness; nil for an infinite one.
func scaled(share, thickness float64) *float64 {
	t := share * thickness
	if math.IsInf(t, 1) {
		return nil
	}
	return &t
}

// share is the r at which a line now line from the middle reaches want.
func share(line, want float64) float64 {
	switch {
	case want <= 0:
		return 0
	case line <= 0:
		return math.Inf(1)
	}
	return want / line
}

// edgeShare is the share of its thickness the bar needs at a station for both
// corners of the edge to lie in the core.
func (g grinding) edgeShare(s Station) float64 {
	k := g.knife(s.S)
	_, at := k.Pose.Bar(0, 0)
	m := (k.mid(k.Y) - at) / math.Cos(k.Slope)
	low, high := k.across(k.cross, g.bar.Core, 0), k.across(k.cross, g.bar.Core+1, 0)
	return math.Max(share(high-m, k.A(0)-m), share(m-low, m-k.B(0)))
}

// lineShare is the share of its thickness the bar needs half way along for
// both core lines to be at least as high as asked. A chisel's flat face has
// none to reach.
func (g grinding) lineShare() float64 {
	k := g.knife(g.blade.Length / 2)
	u := g.ask.CoreLine
	if u >= k.Bevel {
		return math.Inf(1)
	}
	r := 0.0
	for _, side := range []Side{SideB, SideA} {
		if k.Kind == Chisel && (side == SideA) != k.SideA {
			continue
		}
		y, z := k.at(side, u)
		m := k.mid(y)
		if side == SideA {
			r = math.Max(r, share(k.line(g.bar.Core+1, y)-m, z-m))
		} else {
			r = math.Max(r, share(m-k.line(g.bar.Core, y), m-z))
		}
	}
	return r
}
