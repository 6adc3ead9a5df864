package heat

import (
	"math"
	"slices"

	"billet/sim/internal/fd"
)

// Spot is a place whose temperature can be read off the field it was made by.
type Spot struct {
	node   []int
	weight []float64
}

// Spot is the place at a height in a layer (counted from 0 at the bottom) and
// at shares of the width and the length: z is the share of the layer's
// thickness, so a joint has two spots, 1 in the layer below and 0 in the one
// above. Between nodes the height is read off a cubic; across, the nearest
// node serves (the middle and the sides are nodes).
func (f *Field) Spot(layer int, z, y, x float64) Spot {
	m, axis := f.mesh, f.mesh.grid.Axes[fd.Z]
	n := len(f.body.Layers)
	layer = min(max(layer, 0), n-1)
	at := z * f.body.Layers[layer].Thickness
	for _, l := range f.body.Layers[:layer] {
		at += l.Thickness
	}
	if thick := f.body.Thickness(); m.half[fd.Z] && (2*layer > n-1 || 2*layer == n-1 && at > thick/2) {
		at, layer = thick-at, n-1-layer
	}
	lo, hi := m.span(slices.IndexFunc(m.packs, func(p pack) bool { return p.from <= layer && layer <= p.to }))
	zs, w := cubic(axis.X[lo:hi+1], at)
	iy := m.across(fd.Y, y, f.body.Width)
	ix := m.across(fd.X, x, f.body.Length)
	s := Spot{weight: w}
	for _, k := range zs {
		s.node = append(s.node, m.grid.Index(lo+k, iy, ix))
	}
	return s
}

// span is the first and the last Z node of a pack, with the node it shares with
// the one below.
func (m *mesh) span(pack int) (lo, hi int) {
	lo = slices.Index(m.pack, pack)
	hi = lo
	for hi+1 < len(m.pack) && m.pack[hi+1] == pack {
		hi++
	}
	if lo > 0 && m.grid.Axes[fd.Z].D[lo-1] > 0 {
		lo--
	}
	return lo, hi
}

// across is the node of axis a nearest a share of its size.
func (m *mesh) across(a int, share, size float64) int {
	if m.grid.Axes[a].Len() == 1 {
		return 0
	}
	if m.half[a] && share > 0.5 {
		share = 1 - share
	}
	return nearest(m.grid.Axes[a].X, share*size)
}

// cubic is the nodes and weights of the polynomial through the four nodes
// about a place (fewer where there are fewer); one node where it lies on it.
func cubic(xs []float64, at float64) (node []int, weight []float64) {
	k := nearest(xs, at)
	if math.Abs(xs[k]-at) < 1e-9 {
		return []int{k}, []float64{1}
	}
	if xs[k] > at {
		k--
	}
	first := max(0, min(k-1, len(xs)-4))
	last := min(first+4, len(xs))
	for i := first; i < last; i++ {
		w := 1.0
		for j := first; j < last; j++ {
			if j != i {
				w *= (at - xs[j]) / (xs[i] - xs[j])
			}
		}
		node, weight = append(node, i), append(weight, w)
	}
	return node, weight
}

// At is the temperature of a spot at a time within the last step, K.
func (f *Field) At(s Spot, t float64) float64 {
	h := f.time - f.time0
	var sum float64
	for k, i := range s.node {
		v := f.step.Phi()[i]
		if h > 0 && t < f.time {
			v = hermite((t-f.time0)/h, h, f.phi0[i], v, f.rate0[i], f.rate1[i])
		}
		sum += s.weight[k] * v
	}
	return sum
}
