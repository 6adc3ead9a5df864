package metal

import (
	"fmt"
	"math"

	"billet/sim/internal/fd"
)

// Profile is carbon (wt %) against the height z (m) from side B, as the metal
// is now; two entries at every joint, one for each steel.
func (c *Carbon) Profile() (z, percent []float64) {
	at := 0.0
	for i := range c.layers {
		x, u := c.nodes(i)
		l := &c.layers[i]
		for k := range x {
			z = append(z, at+x[k]*l.stretch)
			percent = append(percent, u[k]*100/l.density)
		}
		at += x[len(x)-1] * l.stretch
	}
	return z, percent
}

// At is the carbon (wt %) at the height z (m) from side B, held at the faces;
// at a joint that of the layer under it.
func (c *Carbon) At(z float64) float64 {
	for i := range c.layers {
		t := c.LayerThickness(i)
		if z <= t || i == len(c.layers)-1 {
			return c.InLayer(i, z/t)
		}
		z -= t
	}
	return math.NaN() // there is always a layer
}

// InLayer is the carbon (wt %) at a share of layer i's thickness from its face
// towards side B; held at 0 and 1. The middle of the core is InLayer(core, 0.5).
func (c *Carbon) InLayer(i int, share float64) float64 {
	l := &c.layers[i]
	x := c.grid.Axes[fd.Z].X[l.first : l.last+1]
	u := c.u[l.first : l.last+1]
	at := x[0] + math.Min(1, math.Max(0, share))*(x[len(x)-1]-x[0])
	k := 0
	for k < len(x)-2 && x[k+1] < at {
		k++
	}
	s := math.Min(1, math.Max(0, (at-x[k])/(x[k+1]-x[k])))
	return (u[k] + s*(u[k+1]-u[k])) * 100 / l.density
}

// Mean is the mean carbon of layer i, wt %.
func (c *Carbon) Mean(i int) float64 {
	x, u := c.nodes(i)
	return held(x, u) / x[len(x)-1] * 100 / c.layers[i].density
}

// DecarbDepth is how far from a face (m) the carbon first reaches nine tenths
// of what the outer layer started with. found is false when it does not within
// that layer, which is then the depth given, and when the layer started with
// less than 0.01 %.
func (c *Carbon) DecarbDepth(side Side) (depth float64, found bool) {
	i := int(side) * (len(c.layers) - 1)
	x, u := c.nodes(i)
	l := &c.layers[i]
	n := len(x)
	want := 0.9 * l.start * l.density / 100
	at := func(k int) (float64, float64) {
		if side == SideA {
			return (x[n-1] - x[n-1-k]) * l.stretch, u[n-1-k]
		}
		return x[k] * l.stretch, u[k]
	}
	if l.start < 0.01 {
		return 0, false
	}
	for k := range n {
		d, v := at(k)
		if v < want {
			continue
		}
		if k == 0 {
			return 0, true
		}
		d0, v0 := at(k - 1)
		return d0 + (d-d0)*(want-v0)/(v-v0), true
	}
	return x[n-1] * l.stretch, false
}

// leastStep is the step of carbon (wt %) below which a joint shows no
// transition.
const leastStep = 0.02

// TransitionWidth is the width (m) over which carbon goes from 10 to 90 % of
// the step between the middles of the two layers at a joint; joint 0 lies
// between layers 0 and 1. found is false where the middles differ by less than
// 0.02 %.
func (c *Carbon) TransitionWidth(joint int) (width float64, found bool, err error) {
	if joint < 0 || joint >= len(c.layers)-1 {
		return 0, false, fmt.Errorf("carbon: joint %d; 0 to %d", joint, len(c.layers)-2)
	}
	under, over := c.InLayer(joint, 0.5), c.InLayer(joint+1, 0.5)
	if math.Abs(under-over) < leastStep {
		return 0, false, nil
	}
	return c.reach(joint, true, under+0.1*(over-under), over > under) + c.reach(joint+1, false, over+0.1*(under-over), under > over), true, nil
}

// reach is how far from the joint into layer i (m) carbon has not yet fallen
// (rising) or risen to want. down says that the joint is the layer's upper face.
func (c *Carbon) reach(i int, down bool, want float64, rising bool) float64 {
	x, u := c.nodes(i)
	l := &c.layers[i]
	n := len(x)
	joint := 0
	if down {
		joint = n - 1
	}
	v0, d0 := 0.0, 0.0
	for k := range n {
		j := k
		if down {
			j = n - 1 - k
		}
		d := math.Abs(x[j]-x[joint]) * l.stretch
		v := u[j] * 100 / l.density
		if (rising && v <= want) || (!rising && v >= want) {
			if k == 0 {
				return 0
			}
			return d0 + (d-d0)*(want-v0)/(v-v0)
		}
		v0, d0 = v, d
	}
	return d0
}

// spread is the largest step of potential between the middles of neighbours
// that dissolve carbon, wt %. Shims of nickel and copper are looked across.
func (c *Carbon) spread() float64 {
	most, last := 0.0, math.NaN()
	for i := range c.layers {
		l := &c.layers[i]
		if l.kind == nickel || l.kind == barrier {
			continue
		}
		phi := c.InLayer(i, 0.5) / l.factor
		if !math.IsNaN(last) {
			most = math.Max(most, math.Abs(phi-last))
		}
		last = phi
	}
	return most
}

// Contrast is the largest step of carbon between the middles of neighbouring
// layers, over the largest at the start: 1 at the start, 0 when all has levelled
// out. Alloyed layers are compared at equal activity. 0 where there was no step.
func (c *Carbon) Contrast() float64 {
	if c.spread0 == 0 {
		return 0
	}
	return c.spread() / c.spread0
}

// Levelled says whether no more than a share of the starting contrast is left.
func (c *Carbon) Levelled(share float64) bool { return c.Contrast() <= share }
