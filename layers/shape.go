package layers

import "math"

// InnerShare is the share of the narrowest half width over which thicknesses
// and offsets are averaged.
const InnerShare = 0.9

// acrossPoints is the number of intervals from the middle to either side in
// profiles across the width.
const acrossPoints = 20

// Point is a place in the section, metal's frame.
type Point struct{ Y, Z float64 } // m

// Shape is what can be measured on the section. Offsets are the core's
// mid-plane minus the bar's, positive toward side A.
type Shape struct {
	Thickness    float64 // m, mean over the inner 90 % of the narrowest half width
	Height       float64 // m, at mid width
	Width        float64 // m, the widest
	Narrowest    float64 // m, twice the narrowest half width
	Length       float64 // m
	Layers       []LayerShape
	Offset       float64 // m, mean over the inner 90 %
	Centre       float64 // m, offset at mid width
	Left, Right  float64 // m, offset at 90 % of the narrowest half width
	Tilt         float64 // m, Right - Left
	CoreShare    float64 // core's share of the thickness, inner 90 %
	CoreAtCentre float64 // core's share of the thickness at mid width
	Across       Profile
}

// Profile is a quantity line by line across the width, left to right, within
// the narrowest half width.
type Profile struct{ Y, Offset []float64 } // m

// LayerShape is one layer's measure.
type LayerShape struct {
	Thickness  float64 // m, mean over the inner 90 %
	Width      float64 // m, area over mean thickness
	MeanWidth  float64 // m, mean of its widths over its thickness
	Area       float64 // m2
	Elongation float64 // length over length at lay-up
}

// lineY and lineZ give a traced line's place at a node column.
func (m *mesh) lineY(p linePlace, c int) float64 {
	i := c*m.nl + p.level
	return m.y[i] + p.share*(m.y[min(i+1, len(m.y)-1)]-m.y[i])
}

func (m *mesh) lineZ(p linePlace, c int) float64 {
	i := c*m.nl + p.level
	return m.z[i] + p.share*(m.z[min(i+1, len(m.z)-1)]-m.z[i])
}

// lineAt is a traced line's height at y, straight between columns and carried
// on beyond the last.
func (m *mesh) lineAt(p linePlace, y float64) float64 {
	if m.half {
		y = math.Abs(y)
	}
	c := 0
	for c < m.nc-2 && m.lineY(p, c+1) < y {
		c++
	}
	y0, y1 := m.lineY(p, c), m.lineY(p, c+1)
	z0, z1 := m.lineZ(p, c), m.lineZ(p, c+1)
	if y1 == y0 {
		return z0
	}
	return z0 + (z1-z0)*(y-y0)/(y1-y0)
}

// faces are the places of the bar's two faces.
func (m *mesh) faces() (bottom, top linePlace) {
	return linePlace{}, linePlace{level: m.nl - 2, share: 1}
}

// widthAt is the full width at a level.
func (m *mesh) widthAt(l int) float64 {
	right := m.y[(m.nc-1)*m.nl+l]
	if m.half {
		return 2 * right
	}
	return right - m.y[l]
}

// meanWidth averages the width over the levels from lo to hi by height.
func (m *mesh) meanWidth(lo, hi int) float64 {
	t, d := 0.0, 0.0
	side := (m.nc - 1) * m.nl
	for l := lo; l < hi; l++ {
		h := math.Abs(m.z[side+l+1]-m.z[side+l]) + 1e-300
		t += h * (m.widthAt(l) + m.widthAt(l+1)) / 2
		d += h
	}
	return t / d
}

// narrowest is the narrowest half width, seen from the middle.
func (m *mesh) narrowest() float64 {
	w := math.Inf(1)
	for l := 0; l < m.nl; l++ {
		w = math.Min(w, m.y[(m.nc-1)*m.nl+l])
		if !m.half {
			w = math.Min(w, -m.y[l])
		}
	}
	return w
}

// meanInner averages a function of y over the inner 90 %.
func (m *mesh) meanInner(f func(y float64) float64) float64 {
	const n = 60
	a := InnerShare * m.narrowest()
	t := 0.0
	for k := -n; k <= n; k++ {
		w := 1.0
		if k == -n || k == n {
			w = 0.5
		}
		t += w * f(a*float64(k)/n)
	}
	return t / (2 * n)
}

// Areas gives each layer's area, m2.
func (s *Stack) Areas() []float64 {
	m := s.mesh
	out := make([]float64, len(s.layers))
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			a := m.elementArea(c, r)
			for _, p := range row.parts {
				out[p.layer] += a * p.share
			}
		}
	}
	if m.half {
		for i := range out {
			out[i] *= 2
		}
	}
	return out
}

// OffsetAt is the core's offset at y (m from the middle, left negative).
func (s *Stack) OffsetAt(y float64) float64 {
	m := s.mesh
	bottom, top := m.faces()
	l := m.lines[s.core]
	core := m.lineAt(l.bottom, y) + m.lineAt(l.top, y)
	return (core - m.lineAt(bottom, y) - m.lineAt(top, y)) / 2
}

// ThicknessAt is the bar's thickness at y, m.
func (s *Stack) ThicknessAt(y float64) float64 {
	bottom, top := s.mesh.faces()
	return s.mesh.lineAt(top, y) - s.mesh.lineAt(bottom, y)
}

// LayerAt gives the heights of a layer's lower and upper edge at y, m from the
// bar's mid-plane there. Beyond a layer's own side the line is carried on.
func (s *Stack) LayerAt(layer int, y float64) (lower, upper float64) {
	m := s.mesh
	bottom, top := m.faces()
	mid := (m.lineAt(bottom, y) + m.lineAt(top, y)) / 2
	return m.lineAt(m.lines[layer].bottom, y) - mid, m.lineAt(m.lines[layer].top, y) - mid
}

// Thickness is the bar's mean thickness over the inner 90 %, m.
func (s *Stack) Thickness() float64 { return s.mesh.meanInner(s.ThicknessAt) }

// Width is the bar's widest width, m.
func (s *Stack) Width() float64 {
	w := 0.0
	m := s.mesh
	right, left := math.Inf(-1), math.Inf(1)
	for l := 0; l < m.nl; l++ {
		right = math.Max(right, m.y[(m.nc-1)*m.nl+l])
		left = math.Min(left, m.y[l])
		w = math.Max(w, m.widthAt(l))
	}
	if m.half {
		return w
	}
	return right - left
}

// Shape measures the section.
func (s *Stack) Shape() Shape {
	m := s.mesh
	sh := Shape{
		Thickness: s.Thickness(), Height: s.ThicknessAt(0), Width: s.Width(),
		Narrowest: 2 * m.narrowest(), Length: s.Length(),
		Offset: m.meanInner(s.OffsetAt), Centre: s.OffsetAt(0),
	}
	edge := InnerShare * sh.Narrowest / 2
	sh.Left, sh.Right = s.OffsetAt(-edge), s.OffsetAt(edge)
	sh.Tilt = sh.Right - sh.Left
	areas, elong := s.Areas(), s.Elongations()
	for i, a := range areas {
		l := LayerShape{Area: a, Elongation: elong[i], MeanWidth: m.layerWidth(i)}
		l.Thickness = m.meanInner(func(y float64) float64 { return m.layerThickness(i, y) })
		l.Width = a / l.Thickness
		sh.Layers = append(sh.Layers, l)
	}
	sh.CoreShare = sh.Layers[s.core].Thickness / sh.Thickness
	sh.CoreAtCentre = m.layerThickness(s.core, 0) / sh.Height
	for k := -acrossPoints; k <= acrossPoints; k++ {
		y := sh.Narrowest / 2 * float64(k) / acrossPoints
		sh.Across.Y = append(sh.Across.Y, y)
		sh.Across.Offset = append(sh.Across.Offset, s.OffsetAt(y))
	}
	return sh
}

func (m *mesh) layerThickness(i int, y float64) float64 {
	return m.lineAt(m.lines[i].top, y) - m.lineAt(m.lines[i].bottom, y)
}

// layerWidth is the mean of a layer's widths over its thickness.
func (m *mesh) layerWidth(i int) float64 {
	const n = 24
	at := m.lines[i]
	lo, hi := float64(at.bottom.level)+at.bottom.share, float64(at.top.level)+at.top.share
	t := 0.0
	for k := 0; k < n; k++ {
		x := lo + (hi-lo)*(float64(k)+0.5)/n
		p := linePlace{level: int(x), share: x - math.Floor(x)}
		w := m.lineY(p, m.nc-1)
		if m.half {
			w *= 2
		} else {
			w -= m.lineY(p, 0)
		}
		t += w / n
	}
	return t
}

// Line traces a layer's lower and upper edge from left to right.
func (s *Stack) Line(layer int) (lower, upper []Point) {
	m := s.mesh
	return m.trace(m.lines[layer].bottom), m.trace(m.lines[layer].top)
}

func (m *mesh) trace(p linePlace) []Point {
	var out []Point
	if m.half {
		for c := m.nc - 1; c > 0; c-- {
			out = append(out, Point{-m.lineY(p, c), m.lineZ(p, c)})
		}
	}
	for c := 0; c < m.nc; c++ {
		out = append(out, Point{m.lineY(p, c), m.lineZ(p, c)})
	}
	return out
}

// Outline traces the section's boundary once round, counter-clockwise seen
// along the bar with left on the left, from the left end of side B.
func (s *Stack) Outline() []Point {
	m := s.mesh.whole()
	bottom, top := m.faces()
	out := m.trace(bottom)
	for l := 1; l < m.nl-1; l++ {
		i := (m.nc-1)*m.nl + l
		out = append(out, Point{m.y[i], m.z[i]})
	}
	upper := m.trace(top)
	for i := len(upper) - 1; i >= 0; i-- {
		out = append(out, upper[i])
	}
	for l := m.nl - 2; l > 0; l-- {
		out = append(out, Point{m.y[l], m.z[l]})
	}
	return out
}
