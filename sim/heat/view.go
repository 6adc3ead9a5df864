package heat

import (
	"math"

	"billet/sim/internal/fd"
)

// Profile is the temperature through the middle, bottom to top, with two
// entries at each joint.
func (f *Field) Profile() (z, tK []float64) {
	phi, g, m := f.step.Phi(), f.mesh.grid, f.mesh
	axis := g.Axes[fd.Z]
	for k, x := range axis.X {
		t := phi[g.Index(k, m.midY, m.midX)]
		z, tK = append(z, x), append(tK, t)
		if m.shared(axis, k) {
			z, tK = append(z, x), append(tK, t)
		}
	}
	if !m.half[fd.Z] {
		return z, tK
	}
	thick := f.body.Thickness()
	from := len(z) - 1
	if n := len(f.body.Layers); n%2 == 1 || m.packOf(f.med.nz-1).to >= n/2 {
		from-- // the mid-plane's node is not on a joint between packs
	}
	for k := from; k >= 0; k-- {
		z, tK = append(z, thick-z[k]), append(tK, tK[k])
	}
	return z, tK
}

// Faces is the temperature at the centre of each face, by Face, K; is is false
// for the faces of directions that are not solved.
func (f *Field) Faces() (tK [6]float64, is [6]bool) {
	phi, g, m := f.step.Phi(), f.mesh.grid, f.mesh
	mid := [3]int{m.coreMid(f), m.midY, m.midX}
	for a := range 3 {
		if a >= f.body.Dims {
			continue
		}
		for e := range 2 {
			at := mid
			if e == 1 && !m.half[a] {
				at[a] = g.Axes[a].Len() - 1
			} else {
				at[a] = 0
			}
			tK[2*a+e], is[2*a+e] = phi[g.Index(at[fd.Z], at[fd.Y], at[fd.X])], true
		}
	}
	return tK, is
}

// coreMid is the Z node nearest the middle of the stack's height.
func (m *mesh) coreMid(f *Field) int {
	if m.half[fd.Z] {
		return m.grid.Axes[fd.Z].Len() - 1
	}
	return nearest(m.grid.Axes[fd.Z].X, f.body.Thickness()/2)
}

// Extremes is the hottest and the coldest temperature anywhere, K.
func (f *Field) Extremes() (hottest, coldest float64) {
	hottest, coldest = math.Inf(-1), math.Inf(1)
	for _, t := range f.step.Phi() {
		hottest, coldest = max(hottest, t), min(coldest, t)
	}
	return hottest, coldest
}

// OverLayer is the layer whose hottest spot is furthest past its limit.
func (f *Field) OverLayer() int {
	z := f.extreme(f.step.Phi(), nil, 1, f.zLimits) % f.med.nz
	if f.limits == nil {
		return f.mesh.packOf(z).from
	}
	return f.mesh.leastAt(z, f.limits)
}

// Section is the temperature over the section at mid length, whole.
type Section struct {
	Y, Z        []float64   // m from the left side and the bottom
	Temperature [][]float64 // K, [z][y]
}

// SectionAt is the section at a time within the last step, s.
func (f *Field) SectionAt(t float64) Section {
	phi := make([]float64, len(f.u))
	f.between(t, phi)
	g, m := f.mesh.grid, f.mesh
	ys, yi := unfold(g.Axes[fd.Y].X, m.half[fd.Y], f.body.Width, f.body.Dims >= 2)
	zs, zi := unfold(g.Axes[fd.Z].X, m.half[fd.Z], f.body.Thickness(), true)
	s := Section{Y: ys, Z: zs}
	for _, k := range zi {
		row := make([]float64, len(yi))
		for j, y := range yi {
			row[j] = phi[g.Index(k, y, m.midX)]
		}
		s.Temperature = append(s.Temperature, row)
	}
	return s
}

// unfold lists positions and node numbers of a whole axis from what is solved.
// An axis that is not solved is given its two ends.
func unfold(x []float64, half bool, size float64, solved bool) (pos []float64, node []int) {
	if !solved {
		return []float64{0, size}, []int{0, 0}
	}
	for i, v := range x {
		pos, node = append(pos, v), append(node, i)
	}
	if half {
		last := len(x) - 1
		if math.Abs(2*x[last]-size) < 1e-9*size {
			last-- // the node on the plane of symmetry stands once
		}
		for i := last; i >= 0; i-- {
			pos, node = append(pos, size-x[i]), append(node, i)
		}
	}
	return pos, node
}
