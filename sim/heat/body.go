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
	// Start is the layer's own temperature at the start, K; 0 means that of
	// the rest of the body.
	Start float64
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
		if !(l.Start >= 0) || math.IsInf(l.Start, 0) {
			return fmt.Errorf("heat: layer %d starts at %g K; a temperature above absolute zero, or 0 for that of the body", i+1, l.Start)
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
		if lo.Material.Name != hi.Material.Name || math.Abs(lo.Thickness-hi.Thickness) > 1e-12 || lo.Start != hi.Start {
			return false
		}
		if i+1 <= n-1-i && b.Layers[i+1].Joint != b.Layers[n-1-i].Joint {
			return false
		}
	}
	return true
}

// mesh is the grid of a body and how it maps to the whole.
type mesh struct {
	grid  *fd.Grid
	half  [3]bool // by axis: only the lower half is carried
	packs []pack
	// By node of the Z axis:
	pack    []int // pack of each Z node
	joints  []int // Z nodes that lie on a joint, or among several
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

func newMesh(b Body, packs []pack, sym [3]bool, s spacing) *mesh {
	m := &mesh{half: sym, packs: packs}
	z := m.zAxis(b, s)
	y, x := fd.Single(b.Width), fd.Single(b.Length)
	if b.Dims >= 2 {
		y, m.midY = crossAxis(b.Width, sym[fd.Y], s)
	}
	if b.Dims >= 3 {
		x, m.midX = crossAxis(b.Length, sym[fd.X], s)
	}
	for a, axis := range [3]*fd.Axis{fd.Z: z, fd.Y: y, fd.X: x} {
		const smooth = 6 // times the even spacing; a front may be sharper than wider cells
		axis.Compact(sym[a], smooth*s.even)
	}
	m.grid = fd.NewGrid(z, y, x)
	return m
}

// zAxis lays the nodes through the thickness: on every layer face and where
// the core is read.
func (m *mesh) zAxis(b Body, s spacing) *fd.Axis {
	thick := b.Thickness()
	want := s.through(thick)
	top := thick
	if m.half[fd.Z] {
		top = thick / 2
	}
	var pieces [][]float64
	var open []bool
	at := 0.0
	for i, p := range m.packs {
		if at > top-1e-9*thick {
			break
		}
		if i > 0 {
			l := b.Layers[p.from]
			open = append(open, l.Joint.State != Welded || l.Start != b.Layers[p.from-1].Start)
		}
		end := at + p.thickness(b.Layers)
		pieces = append(pieces, nodesWith(at, math.Min(end, top), b.CoreAt, want))
		at = end
	}
	axis := fd.NewAxis(pieces, open)
	m.pack = axis.Piece
	for _, k := range axis.Contacts {
		m.contact = append(m.contact, m.packOf(k+1).from)
	}
	m.markJoints(axis)
	for k := range axis.Len() {
		if m.shared(axis, k) && m.packOf(k).table != m.packOf(k+1).table {
			axis.Splits = append(axis.Splits, k)
		}
	}
	if m.half[fd.Z] && len(b.Layers)%2 == 0 {
		m.joints = append(m.joints, axis.Len()-1) // the middle joint is the plane of symmetry
	}
	m.coreZ = nearest(axis.X, b.CoreAt)
	return axis
}

// packOf is the pack of a Z node.
func (m *mesh) packOf(z int) pack { return m.packs[m.pack[z]] }

// markJoints lists the Z nodes on joints: both sides of a contact, nodes shared
// by bonded layers, and all of a pack.
func (m *mesh) markJoints(axis *fd.Axis) {
	for k := range axis.Len() {
		below := k > 0 && axis.D[k-1] == 0
		above := k+1 < axis.Len() && m.pack[k+1] != m.pack[k]
		if below || above || !m.packOf(k).single() {
			m.joints = append(m.joints, k) // a shared node belongs below
		}
	}
}

// shared says that Z node k is one node for both sides of a joint.
func (m *mesh) shared(axis *fd.Axis, k int) bool {
	return k+1 < axis.Len() && axis.D[k] > 0 && m.pack[k+1] != m.pack[k]
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
	want := s.across(size)
	if half {
		n := nodes(0, size/2, want)
		return fd.NewAxis([][]float64{n}, nil), len(n) - 1
	}
	n := nodesWith(0, size, size/2, want)
	return fd.NewAxis([][]float64{n}, nil), (len(n) - 1) / 2
}
