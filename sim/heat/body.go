package heat

import (
	"fmt"
	"math"

	"billet/sim/internal/fd"
	"billet/sim/steel"
)

// Layer is one piece of a stack.
type Layer struct {
	Material  steel.Material
	Thickness float64 // m
	Joint     Joint   // the joint under this layer; unused in the first
}

// Body is a stack of layers, from bottom to top, as wide and long all through.
type Body struct {
	Layers []Layer
	CoreAt float64 // m above the bottom, where the core is read
	Width  float64 // m, left to right
	Length float64 // m, front to back
	// Dims is how many directions heat flows in: 1 through the thickness, 2
	// across the width as well, 3 along the length as well. The faces of
	// the other directions are insulated.
	Dims int
}

// Thickness is that of the whole stack, m.
func (b Body) Thickness() float64 {
	var t float64
	for _, l := range b.Layers {
		t += l.Thickness
	}
	return t
}

// check returns what is wrong with the body.
func (b Body) check() error {
	switch {
	case len(b.Layers) == 0:
		return fmt.Errorf("heat: no layers; at least one is needed")
	case b.Dims < 1 || b.Dims > 3:
		return fmt.Errorf("heat: %d directions; 1, 2 or 3 are accepted", b.Dims)
	case !(b.Width > 0) || !(b.Length > 0):
		return fmt.Errorf("heat: width %g m and length %g m; both must be above 0", b.Width, b.Length)
	case !(b.CoreAt >= 0 && b.CoreAt <= b.Thickness()):
		return fmt.Errorf("heat: core at %g m; it must lie within the stack, %g m thick", b.CoreAt, b.Thickness())
	}
	for i, l := range b.Layers {
		if !(l.Thickness > 0) {
			return fmt.Errorf("heat: layer %d is %g m thick; it must be above 0", i+1, l.Thickness)
		}
		if len(l.Material.Base.T) < 2 || len(l.Material.Conductivity.T) < 1 || !(l.Material.Density > 0) {
			return fmt.Errorf("heat: layer %d: material %q has no thermal data", i+1, l.Material.Name)
		}
	}
	return nil
}

// mirrored says that the stack is the same from above as from below.
func (b Body) mirrored() bool {
	n := len(b.Layers)
	if thick := b.Thickness(); math.Abs(2*b.CoreAt-thick) > 1e-9*thick {
		return false // the core would have two places
	}
	for i := range n / 2 {
		lo, hi := b.Layers[i], b.Layers[n-1-i]
		if lo.Material.Name != hi.Material.Name || math.Abs(lo.Thickness-hi.Thickness) > 1e-12 {
			return false
		}
		if i+1 <= n-1-i && b.Layers[i+1].Joint != b.Layers[n-1-i].Joint {
			return false
		}
	}
	return true
}

// spacing is the wanted distance between nodes at a distance from the nearest
// outer face: fine at the face, then even as far as the body's least half size
// reaches (there the temperature is a parabola through the section, for which
// even nodes are best), then wider along the rest of a long body.
type spacing struct {
	face, growth float64 // m, and m per m of depth
	even         float64 // m
	reach        float64 // m
}

// spacingFor gives the spacing for an accuracy in K. The error of the scheme
// goes with the square of the spacing and with the bend of the temperature,
// rate/diffusivity, which is smaller the thicker the body. The constants were
// set so that the spacing spends at most two thirds of the accuracy on the
// cases in testdata/cases; every run of a job is checked on a second grid.
func spacingFor(accuracyK, reach float64) spacing {
	s := math.Sqrt(accuracyK)
	face := 2.1e-3 * s
	return spacing{face: face, growth: 0.15 * math.Min(1, s), even: face * math.Sqrt(math.Max(1, reach/14e-3)), reach: reach}
}

func (s spacing) at(depth float64) float64 {
	h := math.Min(s.face+s.growth*depth, s.even)
	if past := depth/s.reach - 1; past > 0 {
		h *= 1 + 0.5*past*past
	}
	return h
}

// reach is half the least size of the directions in which heat flows, m.
func (b Body) reach() float64 {
	r := b.Thickness() / 2
	if b.Dims >= 2 {
		r = math.Min(r, b.Width/2)
	}
	if b.Dims >= 3 {
		r = math.Min(r, b.Length/2)
	}
	return r
}

// cells is ∫dx/h from a to b, the number of cells a stretch wants. depth(x) is
// the distance to the nearest outer face.
func (s spacing) cells(a, b float64, depth func(float64) float64) (total float64, cum []float64) {
	const parts = 64
	cum = make([]float64, parts+1)
	dx := (b - a) / parts
	for i := range parts {
		total += dx / s.at(depth(a+(float64(i)+0.5)*dx))
		cum[i+1] = total
	}
	return total, cum
}

// nodes places nodes on [a, b], at least one cell, with a node in the middle
// if even. They are offsets from a.
func (s spacing) nodes(a, b float64, even bool, depth func(float64) float64) []float64 {
	if even {
		mid := (a + b) / 2
		lo, hi := s.nodes(a, mid, false, depth), s.nodes(mid, b, false, depth)
		for _, x := range hi[1:] {
			lo = append(lo, mid-a+x)
		}
		return lo
	}
	total, cum := s.cells(a, b, depth)
	n := max(1, int(math.Ceil(total-1e-9)))
	out := make([]float64, n+1)
	k := 0
	for i := 1; i < n; i++ {
		want := total * float64(i) / float64(n)
		for cum[k+1] < want {
			k++
		}
		f := (want - cum[k]) / (cum[k+1] - cum[k])
		out[i] = (b - a) * (float64(k) + f) / float64(len(cum)-1)
	}
	out[n] = b - a
	return out
}

// mesh is the grid of a body and how it maps to the whole.
type mesh struct {
	grid *fd.Grid
	half [3]bool // by axis: only the lower half is carried
	// By node of the Z axis:
	layer   []int // layer of each Z node
	joints  []int // Z nodes that lie on a joint
	contact []int // by contact: the layer above it
	coreZ   int   // Z node of the core's middle
	midY    int
	midX    int
}

// symmetric says along which axes both the body and all surroundings are
// mirrored.
func symmetric(b Body, all []Surroundings) [3]bool {
	sym := [3]bool{b.mirrored(), b.Dims >= 2, b.Dims >= 3}
	for _, s := range all {
		for a := range sym {
			sym[a] = sym[a] && s[2*a].equal(s[2*a+1])
		}
	}
	return sym
}

func newMesh(b Body, sym [3]bool, s spacing) *mesh {
	m := &mesh{half: sym}
	z := m.zAxis(b, s)
	y, x := fd.Single(b.Width), fd.Single(b.Length)
	if b.Dims >= 2 {
		y, m.midY = crossAxis(b.Width, sym[fd.Y], s)
	}
	if b.Dims >= 3 {
		x, m.midX = crossAxis(b.Length, sym[fd.X], s)
	}
	m.grid = fd.NewGrid(z, y, x)
	return m
}

// zAxis lays the nodes through the thickness: on every layer face and where
// the core is read.
func (m *mesh) zAxis(b Body, s spacing) *fd.Axis {
	thick := b.Thickness()
	depth := func(x float64) float64 { return math.Min(x, thick-x) }
	top := thick
	if m.half[fd.Z] {
		top = thick / 2
	}
	var pieces [][]float64
	var open []bool
	var layerOf []int
	at := 0.0
	for i, l := range b.Layers {
		if at > top-1e-9*thick {
			break
		}
		if i > 0 {
			perfect := l.Joint.State == Welded && l.Material.Name == b.Layers[i-1].Material.Name
			open = append(open, !perfect)
		}
		end := math.Min(at+l.Thickness, top)
		pieces = append(pieces, s.through(at, end, b.CoreAt, depth))
		layerOf = append(layerOf, i)
		at += l.Thickness
	}
	axis := fd.NewAxis(pieces, open)
	m.layer = make([]int, axis.Len())
	for k, p := range axis.Piece {
		m.layer[k] = layerOf[p]
	}
	for _, k := range axis.Contacts {
		m.contact = append(m.contact, m.layer[k+1])
	}
	m.markJoints(axis)
	if m.half[fd.Z] && len(b.Layers)%2 == 0 {
		m.joints = append(m.joints, axis.Len()-1) // the middle joint is the plane of symmetry
	}
	m.coreZ = nearest(axis.X, b.CoreAt)
	return axis
}

// through is nodes on [a, b] with one at c if c lies inside.
func (s spacing) through(a, b, c float64, depth func(float64) float64) []float64 {
	const tiny = 1e-6 // m: nearer than this to a face, the face's node serves
	if c < a+tiny || c > b-tiny {
		return s.nodes(a, b, false, depth)
	}
	out := s.nodes(a, c, false, depth)
	for _, x := range s.nodes(c, b, false, depth)[1:] {
		out = append(out, c-a+x)
	}
	return out
}

// markJoints lists the Z nodes on joints: both sides of a contact, and nodes
// shared by bonded layers.
func (m *mesh) markJoints(axis *fd.Axis) {
	for k := 1; k < axis.Len(); k++ {
		switch {
		case axis.D[k-1] == 0:
			m.joints = append(m.joints, k-1, k)
		case m.layer[k] != m.layer[k-1]:
			m.joints = append(m.joints, k-1) // the shared node belongs below
		}
	}
}

func nearest(xs []float64, at float64) int {
	best := 0
	for k, x := range xs {
		if math.Abs(x-at) < math.Abs(xs[best]-at)-1e-12 {
			best = k
		}
	}
	return best
}

// crossAxis is a direction across the layers' faces, with a node in the middle.
func crossAxis(size float64, half bool, s spacing) (*fd.Axis, int) {
	depth := func(x float64) float64 { return math.Min(x, size-x) }
	if half {
		n := s.nodes(0, size/2, false, depth)
		return fd.NewAxis([][]float64{n}, nil), len(n) - 1
	}
	n := s.nodes(0, size, true, depth)
	return fd.NewAxis([][]float64{n}, nil), (len(n) - 1) / 2
}
