package heat

import (
	"math"
	"slices"

	"billet/sim/internal/fd"
)

// pack is a run of layers that are solved as one piece.
type pack struct {
	from, to int // layers, both in it
	table    *table
}

// packsOf groups the layers of a body, for an accuracy in K. Layers that are welded
// to each other and thinner than the nodes would lie apart make one piece, whose
// material is the mean of theirs: heat by volume, resistance through the thickness
// in series. Where one of them transforms and its neighbour does not, p = 1e8 W/m3
// apart in a forge, the temperature within them parts by p·t²/8k; that is held to
// half the accuracy. Nodes on the faces of every such layer would cost steps as
// short as it takes them to even out. Across the layers, which conduct side by
// side, the series mean is a little low. All others are pieces of their own.
func packsOf(b Body, accuracyK float64, want func(z float64) float64) []pack {
	const apart = 1e8 // W/m3
	even := math.Sqrt(accuracyK / 2 * 8 * roughK / apart)
	var out []pack
	at, wasThin := 0.0, false
	for i, l := range b.Layers {
		isThin := l.Thickness < min(even, want(at+l.Thickness/2)/2)
		if i > 0 && isThin && wasThin && l.Joint.State == Welded && l.Start == b.Layers[i-1].Start {
			out[len(out)-1].to = i
		} else {
			out = append(out, pack{from: i, to: i})
		}
		at, wasThin = at+l.Thickness, isThin
	}
	tables := tablesOf(b.Layers, out)
	for i := range out {
		out[i].table = tables[i]
	}
	return out
}

// single says that the pack is one layer.
func (p pack) single() bool { return p.from == p.to }

// thickness is that of the pack in a body, m.
func (p pack) thickness(layers []Layer) float64 {
	var t float64
	for _, l := range layers[p.from : p.to+1] {
		t += l.Thickness
	}
	return t
}

// mean is the mean over the pack of a value by layer, by thickness.
func (p pack) mean(layers []Layer, byLayer []float64) float64 {
	var sum, thick float64
	for i := p.from; i <= p.to; i++ {
		sum += layers[i].Thickness * byLayer[i]
		thick += layers[i].Thickness
	}
	return sum / thick
}

// least is the layer of the pack with the least of a value by layer.
func (p pack) least(byLayer []float64) int {
	best := p.from
	for i := p.from + 1; i <= p.to; i++ {
		if byLayer[i] < byLayer[best] {
			best = i
		}
	}
	return best
}

// leastAt is the layer at a Z node with the least of a value by layer.
func (m *mesh) leastAt(z int, byLayer []float64) int {
	best := m.packOf(z).least(byLayer)
	if m.shared(m.grid.Axes[fd.Z], z) {
		if k := m.packOf(z + 1).least(byLayer); byLayer[k] < byLayer[best] {
			best = k
		}
	}
	return best
}

// tablesByZ is the table of each Z node: that of its pack, on a split the blend of
// both by the halves of its cell.
func (m *mesh) tablesByZ(layers []Layer) []*table {
	type pair struct {
		below, above *table
		share        float64
	}
	blends := map[pair]*table{}
	axis := m.grid.Axes[fd.Z]
	out := make([]*table, axis.Len())
	for z := range out {
		out[z] = m.packOf(z).table
	}
	for _, z := range axis.Splits {
		below, above := m.packOf(z), m.packOf(z+1)
		share := axis.D[z-1] / (axis.D[z-1] + axis.D[z])
		key := pair{below.table, above.table, share}
		if blends[key] == nil {
			parts := partsOf(layers[below.from:below.to+1], share)
			parts = append(parts, partsOf(layers[above.from:above.to+1], 1-share)...)
			blends[key] = newTable(parts, sideBySide(parts))
		}
		out[z] = blends[key]
	}
	return out
}

// tablesOf is the table of each pack, one for each material or blend.
func tablesOf(layers []Layer, packs []pack) []*table {
	byName := map[string]*table{}
	out := make([]*table, len(packs))
	for i, p := range packs {
		parts := partsOf(layers[p.from:p.to+1], 1)
		if len(parts) > 1 {
			out[i] = newTable(parts, inSeries(parts))
			continue
		}
		name := parts[0].Name
		if byName[name] == nil {
			byName[name] = newTable(parts, parts[0].Conductivity)
		}
		out[i] = byName[name]
	}
	return out
}

// partsOf is the materials of layers with their shares of the thickness, which
// sum to whole.
func partsOf(layers []Layer, whole float64) (out []part) {
	var thick float64
	for _, l := range layers {
		thick += l.Thickness
	}
	for _, l := range layers {
		k := slices.IndexFunc(out, func(p part) bool { return p.Name == l.Material.Name })
		if k < 0 {
			out = append(out, part{Material: l.Material})
			k = len(out) - 1
		}
		out[k].share += whole * l.Thickness / thick
	}
	return out
}
