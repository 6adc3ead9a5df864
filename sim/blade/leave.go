package blade

import "math"

// Leave is a stretch of the blade on which the edge is not in the core.
type Leave struct {
	From, To float64 // m from the heel
	Side     Side    // the side on which jacket shows at the edge
	Worst    float64 // m, the least margin there, 0 or less
	At       float64 // m from the heel, where that is
	Short    bool    // the core ends before it reaches the edge, on both sides
}

// leaves finds the stretches, side A first, then B, then where the core ends
// short; ends between stations by straight interpolation of the margin.
func leaves(along []Station) []Leave {
	var out []Leave
	out = append(out, stretches(along, SideA, func(s Station) float64 { return s.MarginA })...)
	out = append(out, stretches(along, SideB, func(s Station) float64 { return s.MarginB })...)
	for _, l := range stretches(along, SideA, func(s Station) float64 {
		// A core that ends exactly at the edge still holds it.
		return s.Beyond + math.SmallestNonzeroFloat64
	}) {
		l.Short = true
		out = append(out, l)
	}
	return out
}

// stretches are where margin is 0 or less.
func stretches(along []Station, side Side, margin func(Station) float64) []Leave {
	var out []Leave
	open := false
	for i, s := range along {
		m := margin(s)
		if m > 0 {
			if open {
				last := along[i-1]
				out[len(out)-1].To = zero(last.S, margin(last), s.S, m)
			}
			open = false
			continue
		}
		if !open {
			l := Leave{From: s.S, Side: side, Worst: m, At: s.S}
			if i > 0 {
				last := along[i-1]
				l.From = zero(last.S, margin(last), s.S, m)
			}
			out = append(out, l)
			open = true
		}
		l := &out[len(out)-1]
		l.To = s.S
		if m < l.Worst {
			l.Worst, l.At = m, s.S
		}
	}
	return out
}

// zero is where the straight line through two points is 0.
func zero(x0, y0, x1, y1 float64) float64 { return x0 + (x1-x0)*y0/(y0-y1) }

// Drift is how the core lies to the edge along the blade, in parts that call
// for different mending. At the edge d = Mean + Trend × (s/length − 1/2) +
// a rest whose half range is Wave.
type Drift struct {
	Mean   float64 // m, toward A; mean along the edge; a shift takes it out
	Tilt   float64 // rad, the core's turn about the edge against the centre plane; a tilt takes it out
	Trend  float64 // m, from heel to tip; a turn takes it out
	Wave   float64 // m, half the range of the rest; nothing takes it out
	Needed float64 // m, off-centre at which the edge leaves the core, least along the blade; below 0: core thinner than the edge
}

// drift takes the core's lie apart.
func (g grinding) drift(along []Station) Drift {
	d := Drift{Needed: math.Inf(1)}
	n := float64(len(along))
	var moment, square float64
	for _, s := range along {
		x := s.S/g.blade.Length - 0.5
		d.Mean += s.D / n
		moment += x * s.D
		square += x * x
		d.Tilt += g.turned(s) / n
		d.Needed = math.Min(d.Needed, (s.Core-g.blade.Edge)/2)
	}
	d.Trend = moment / square
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range along {
		rest := s.D - d.Mean - d.Trend*(s.S/g.blade.Length-0.5)
		low, high = math.Min(low, rest), math.Max(high, rest)
	}
	d.Wave = (high - low) / 2
	return d
}

// turned is the core's mid-plane's turn against the centre plane at a
// station, rad, between the edge and the height where the bevels meet the
// core (the bevel's where they do not).
func (g grinding) turned(s Station) float64 {
	k := g.knife(s.S)
	u, n := 0.0, 0.0
	for _, f := range []Face{s.A, s.B} {
		if f.CoreLine != nil {
			u, n = u+*f.CoreLine, n+1
		}
	}
	if u > 0 {
		u /= n
	} else {
		u = k.Bevel
	}
	mid := func(u float64) float64 {
		return (k.across(k.cross, g.bar.Core, u) + k.across(k.cross, g.bar.Core+1, u)) / 2
	}
	return math.Atan((mid(u) - mid(0)) / u)
}
