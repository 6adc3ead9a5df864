package blade

import "math"

// Profile is the blade's cross-section at one place along it.
type Profile struct {
	Kind   Kind
	Spine  float64 // m, thickness of the flats and the spine here
	Edge   float64 // m, thickness at the edge
	Height float64 // m, edge to spine
	Bevel  float64 // m, edge to shoulder; lower than asked where the wheel cannot reach
	Bulge  float64 // m, convex: here
	Radius float64 // m, hollow: the wheel's
	SideA  bool    // chisel: A is the bevelled side
	Flat   float64 // m, chisel: the flat face's distance from the centre plane

	cu, cw float64 // m, centre of the hollow's circle: height, half thickness
}

// ProfileAt is the cross-section s from the heel, m. The blade must pass
// Check.
//
// A chisel's flat face stays one plane, half the heel's spine from the
// centre plane: its taper is all taken off the bevelled side.
func (b Blade) ProfileAt(s float64) Profile {
	t := b.SpineAt(s)
	p := Profile{Kind: b.Grind.Kind, Spine: t, Edge: b.Edge, Height: b.Height, Bevel: b.Grind.Height}
	switch p.Kind {
	case Chisel:
		p.SideA, p.Flat = b.Grind.SideA, b.Spine/2
	case Convex:
		p.Bulge = b.Grind.Bulge * (t - b.Edge) / (b.Spine - b.Edge)
	case Hollow:
		p.Radius = b.Grind.Wheel / 2
		p.hollow()
	}
	return p
}

// rise is what one bevel gains from edge to shoulder, m.
func (p Profile) rise() float64 {
	if p.Kind == Chisel {
		return p.Spine - p.Edge
	}
	return (p.Spine - p.Edge) / 2
}

// hollow lowers the bevel to what the wheel can reach and places its centre.
//
// A circle of radius R through the edge's corner (0, e/2) and the shoulder
// (H, T/2), g = (T − e)/2 apart in thickness, thins the blade above the edge
// once its centre is higher than the edge. With the centre level with the
// edge H² = 2Rg − g²: the greatest height. Plane geometry.
func (p *Profile) hollow() {
	g, r := p.rise(), p.Radius
	p.Bevel = math.Min(p.Bevel, math.Sqrt(2*r*g-g*g))
	chord := math.Hypot(p.Bevel, g)
	h := math.Sqrt(math.Max(0, r*r-chord*chord/4))
	p.cu = p.Bevel/2 - h*g/chord
	p.cw = (p.Edge+p.Spine)/4 + h*p.Bevel/chord
}

// ground is the bevel's thickness above the edge's at height u, one face.
func (p Profile) ground(u float64) float64 {
	g := p.rise()
	if u >= p.Bevel {
		return g
	}
	x := u / p.Bevel
	switch p.Kind {
	case Hollow:
		return math.Max(0, p.cw-math.Sqrt(p.Radius*p.Radius-(u-p.cu)*(u-p.cu))-p.Edge/2) // not below by rounding
	case Convex:
		return g*x + 4*p.Bulge*x*(1-x)
	}
	return g * x
}

// A is face A's place at height u, v in m from the centre plane.
func (p Profile) A(u float64) float64 {
	if p.Kind != Chisel {
		return p.Edge/2 + p.ground(u)
	}
	if p.SideA {
		return p.Edge - p.Flat + p.ground(u)
	}
	return p.Flat
}

// B is face B's place at height u, v in m from the centre plane.
func (p Profile) B(u float64) float64 {
	if p.Kind != Chisel {
		return -p.Edge/2 - p.ground(u)
	}
	if p.SideA {
		return -p.Flat
	}
	return p.Flat - p.Edge - p.ground(u)
}

// Thickness is the blade's at height u, m.
func (p Profile) Thickness(u float64) float64 {
	if p.Kind == Chisel {
		return p.Edge + p.ground(u)
	}
	return p.Edge + 2*p.ground(u)
}

// EdgeMid is the edge's own mid-plane, v in m: 0 but for a chisel.
func (p Profile) EdgeMid() float64 { return (p.A(0) + p.B(0)) / 2 }

// MaxThickness is the section's greatest, m.
func (p Profile) MaxThickness() float64 { return p.Thickness(p.widest()) }

// widest is the height at which the section is thickest: the parabola's top
// where a bulge stands beyond the flats, else the spine.
func (p Profile) widest() float64 {
	if g := p.rise(); p.Kind == Convex && 4*p.Bulge > g {
		return p.Bevel * (g + 4*p.Bulge) / (8 * p.Bulge)
	}
	return p.Height
}

// Angle is the bevel's mean slope to the centre plane, rad: of the straight
// line from edge to shoulder. A chisel's one bevel has it whole.
func (p Profile) Angle() float64 { return math.Atan2(p.rise(), p.Bevel) }

// EdgeAngle is the bevel's slope to the centre plane at the edge, rad.
func (p Profile) EdgeAngle() float64 {
	switch p.Kind {
	case Hollow:
		return math.Asin(math.Max(0, math.Min(1, -p.cu/p.Radius)))
	case Convex:
		return math.Atan2(p.rise()+4*p.Bulge, p.Bevel)
	}
	return p.Angle()
}

// HeightAt is how far above the edge a bevel first stands reach from the
// edge's own mid-plane, m: the core line of a straight core whose face lies
// there. With reach = c/2 ± d it is the closed form
//
//	flat, chisel  (reach − e/2)/tan α
//	hollow        cu + √(R² − (cw − reach)²), centre (cu, cw)
//	convex        the lower root of g x + 4 b x(1 − x) = reach − e/2, x = u/H
//
// ok is false where the bevel never is there: reach below e/2, or at or
// beyond the flats. Plane geometry.
func (p Profile) HeightAt(reach float64) (u float64, ok bool) {
	w, g := reach-p.Edge/2, p.rise()
	if w < 0 || w >= g {
		return 0, false
	}
	switch p.Kind {
	case Hollow:
		d := p.cw - reach
		return math.Max(0, p.cu+math.Sqrt(math.Max(0, p.Radius*p.Radius-d*d))), true // not below by rounding
	case Convex:
		k := g + 4*p.Bulge
		return p.Bevel * 2 * w / (k + math.Sqrt(k*k-16*p.Bulge*w)), true
	}
	return p.Bevel * w / g, true
}

// Reach is the inverse of HeightAt: how far from the edge's own mid-plane the
// bevelled face stands at height u, m. For a straight core in the middle of
// the edge it is half the core thickness whose line is u high.
func (p Profile) Reach(u float64) float64 { return p.Edge/2 + p.ground(u) }

// Area is the section's area, m2, in closed form: a trapezium and the flats
// above, less two circle segments (hollow), plus two parabola segments, each
// two thirds of bulge × height (convex).
func (p Profile) Area() float64 {
	area := p.Bevel*(p.Spine+p.Edge)/2 + (p.Height-p.Bevel)*p.Spine
	switch p.Kind {
	case Hollow:
		phi := 2 * math.Asin(math.Min(1, math.Hypot(p.Bevel, p.rise())/(2*p.Radius)))
		area -= p.Radius * p.Radius * (phi - math.Sin(phi))
	case Convex:
		area += 2 * 2. / 3 * p.Bulge * p.Bevel
	}
	return area
}
