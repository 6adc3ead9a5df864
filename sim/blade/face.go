package blade

import (
	"math"
	"sort"
)

// Side is a face of the blade.
type Side int

// The sides.
const (
	SideB Side = iota
	SideA
)

// String is the side's letter.
func (s Side) String() string { return [...]string{"B", "A"}[s&1] }

// Band is a stretch of a face, edge to spine, on which one layer shows.
type Band struct {
	Layer    int
	From, To float64 // m above the edge
}

// Face is what one face of the blade shows at one place along it.
type Face struct {
	// CoreLine is how far above the edge the jacket ends, m; nil where the
	// core does not show at the edge or no jacket is left up to the spine.
	CoreLine *float64
	Jacket   float64 // m, metal outside the core at the spine; 0: none left
	Bands    []Band  // from edge to spine; each boundary is a layer line
	Depth    float64 // m, least metal between the bar's face and this one
}

// bevelSteps and flatSteps are the numbers of equal steps up the bevel and up
// what is above it, between which a layer line is looked for. The lines' own
// bends are looked at besides, so straight lines are never missed; a line that
// dips into a curved face and out again within one step (0.6 % of the bevel)
// is.
const (
	bevelSteps = 160
	flatSteps  = 40
)

// knife is one section of the blade laid in one section of the bar.
type knife struct {
	cross
	Pose
	Profile
}

// at is a face's place at height u in the bar.
func (k knife) at(side Side, u float64) (y, z float64) {
	if side == SideA {
		return k.Pose.Bar(u, k.A(u))
	}
	return k.Pose.Bar(u, k.B(u))
}

// above is how far a face lies above line i at height u, m along z.
func (k knife) above(side Side, i int, u float64) float64 {
	y, z := k.at(side, u)
	return z - k.line(i, y)
}

// heights are the places up the blade at which faces and lines are compared.
func (k knife) heights() []float64 {
	h := make([]float64, 0, bevelSteps+flatSteps+1)
	for i := range bevelSteps + 1 {
		h = append(h, k.Bevel*float64(i)/bevelSteps)
	}
	if k.Bevel >= k.Height {
		return h
	}
	for i := range flatSteps {
		h = append(h, k.Bevel+(k.Height-k.Bevel)*float64(i+1)/flatSteps)
	}
	return h
}

// withBends adds the heights at which line i bends.
func (k knife) withBends(heights []float64, i int) []float64 {
	out := append([]float64{}, heights...)
	co := math.Cos(k.Slope)
	for _, y := range append(append([]float64{}, k.a.Lines[i].Y...), k.b.Lines[i].Y...) {
		if u := k.Way * (y - k.Y) / co; u > 0 && u < k.Height {
			out = append(out, u)
		}
	}
	sort.Float64s(out)
	return out
}

// crossings are the heights at which a face crosses line i, rising.
func (k knife) crossings(side Side, i int, heights []float64) []float64 {
	var out []float64
	heights = k.withBends(heights, i)
	f0 := k.above(side, i, heights[0])
	for n := 1; n < len(heights); n++ {
		f1 := k.above(side, i, heights[n])
		if (f0 < 0) != (f1 < 0) {
			out = append(out, k.root(side, i, heights[n-1], heights[n], f0 < 0))
		}
		f0 = f1
	}
	return out
}

// root halves an interval in which a face crosses line i down to rounding.
func (k knife) root(side Side, i int, lo, hi float64, below bool) float64 {
	for range 60 {
		m := (lo + hi) / 2
		if (k.above(side, i, m) < 0) == below {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// layerAt is the layer a face lies in at height u.
func (k knife) layerAt(side Side, u float64) int {
	layer := 0
	for i := 1; i < k.layers(); i++ {
		if k.above(side, i, u) >= 0 {
			layer = i
		}
	}
	return layer
}

// bands are the layers a face shows from edge to spine.
func (k knife) bands(side Side, heights []float64) []Band {
	cuts := []float64{0, k.Height}
	for i := 1; i < k.layers(); i++ {
		cuts = append(cuts, k.crossings(side, i, heights)...)
	}
	sort.Float64s(cuts)
	var out []Band
	for n := 1; n < len(cuts); n++ {
		from, to := cuts[n-1], cuts[n]
		if to-from <= 1e-12*k.Height {
			continue
		}
		layer := k.layerAt(side, (from+to)/2)
		if len(out) > 0 && out[len(out)-1].Layer == layer {
			out[len(out)-1].To = to
			continue
		}
		if len(out) > 0 {
			from = out[len(out)-1].To
		}
		out = append(out, Band{Layer: layer, From: from, To: to})
	}
	return out
}

// face works out what one face shows.
func (k knife) face(side Side, core int, heights []float64) Face {
	f := Face{Bands: k.bands(side, heights), Depth: k.depth(side, heights)}
	if first := f.Bands[0]; first.Layer == core && len(f.Bands) > 1 {
		f.CoreLine = &first.To
	}
	v, outer := k.A(k.Height), core+1
	if side == SideB {
		v, outer = -k.B(k.Height), core
	}
	line := k.across(k.cross, outer, k.Height)
	if side == SideB {
		line = -line
	}
	f.Jacket = math.Max(0, v-line)
	return f
}

// depth is the least metal between the bar's face and the blade's, m.
func (k knife) depth(side Side, heights []float64) float64 {
	least, n := math.Inf(1), 0
	if side == SideA {
		n = k.layers()
	}
	for _, u := range k.withBends(k.withBends(heights, 0), k.layers()) {
		d := k.above(side, n, u)
		if side == SideA {
			d = -d
		}
		least = math.Min(least, d)
	}
	return least
}

// layerAreas are the areas of the layers within the blade's section, m2:
// trapezoid rule up the blade on the same heights.
func (k knife) layerAreas(heights []float64) []float64 {
	out := make([]float64, k.layers())
	last := k.shares(heights[0])
	for n := 1; n < len(heights); n++ {
		next := k.shares(heights[n])
		for i := range out {
			out[i] += (heights[n] - heights[n-1]) * (last[i] + next[i]) / 2
		}
		last = next
	}
	return out
}

// shares are the thicknesses of the layers within the blade at height u.
func (k knife) shares(u float64) []float64 {
	top, low := k.A(u), k.B(u)
	out := make([]float64, k.layers())
	for i := range out {
		high := top
		if i < len(out)-1 {
			high = math.Max(low, math.Min(top, k.across(k.cross, i+1, u)))
		}
		out[i] = high - low
		low = high
	}
	return out
}
