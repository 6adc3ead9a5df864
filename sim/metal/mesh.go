package metal

import (
	"fmt"
	"math"

	"billet/sim/internal/fd"
)

// Spacing of the nodes, for the accuracy of 0.005 %; it goes with the square
// root of the accuracy, as the error with the square of the spacing.
const (
	faceCell = 25e-6 // m, at joints and faces
	growth   = 0.14  // wider by this share of the distance from them
	minCells = 6     // in a layer
)

// spaced is the nodes of a layer of thickness l, close at its ends.
func spaced(l, accuracy float64) []float64 {
	fine := math.Sqrt(accuracy / 0.005)
	return graded(l, faceCell*fine, growth*fine)
}

// graded is the nodes from 0 to l, symmetric, with the spacing s0 + g·d at the
// distance d from the nearer end.
func graded(l, s0, g float64) []float64 {
	// The number of cells from an end to the middle is the integral of
	// 1/(s0 + g d), and the k-th of n lies at (s0/g) (exp(k w) - 1).
	total := math.Log1p(g*l/2/s0) / g
	n := max(minCells/2, int(math.Ceil(total)))
	out := make([]float64, 2*n+1)
	w := total / float64(n) * g
	for k := range n + 1 {
		d := s0 / g * math.Expm1(float64(k)*w)
		out[k], out[2*n-k] = d, l-d
	}
	out[n] = l / 2
	return out
}

// lay makes grid, medium and stepper for the nodes of every layer; u is left
// zero.
func (c *Carbon) lay(pieces [][]float64) {
	open := make([]bool, len(pieces))
	for i := range open {
		open[i] = true // two nodes at every joint, one for each steel
	}
	z := fd.NewAxis(pieces, open)
	c.grid = fd.NewGrid(z, fd.Single(1), fd.Single(1))
	n := z.Len()
	c.med = &carbonMedium{steel: make([]*isotherm, n), drawn: make([]float64, n),
		joint: make([]float64, max(0, len(pieces)-1)), cache: map[isoKey]*isotherm{}}
	c.step = fd.NewStepper(c.grid, c.med)
	c.u, c.weight = make([]float64, n), make([]float64, n)
	at := 0
	for i := range c.layers {
		l := &c.layers[i]
		l.first, l.last = at, at+len(pieces[i])-1
		at = l.last + 1
		for k := l.first; k <= l.last; k++ {
			c.weight[k] = 100 / l.density
		}
	}
	c.h = 0
}

// nodes is the positions of layer i's nodes from its own face, as at the last
// stacking, and what they store.
func (c *Carbon) nodes(i int) (x, u []float64) {
	l := &c.layers[i]
	z := c.grid.Axes[fd.Z].X
	for n := l.first; n <= l.last; n++ {
		x = append(x, z[n]-z[l.first])
		u = append(u, c.u[n])
	}
	return x, u
}

// Grind takes metal off the faces, m, measured now: what scale or a grinder
// eats. The carbon in it goes with it. It refuses to take all.
func (c *Carbon) Grind(offB, offA float64) error {
	if !(offB >= 0 && offA >= 0) || offB+offA >= c.Thickness()*(1-1e-9) {
		return fmt.Errorf("carbon: %g and %g m off a stack of %g m; zero or more, and something must be left", offB, offA, c.Thickness())
	}
	if offB == 0 && offA == 0 {
		return nil
	}
	var x, u [][]float64
	for i := range c.layers {
		xi, ui := c.nodes(i)
		x, u = append(x, xi), append(u, ui)
	}
	before := c.grid.Total(c.u)
	x, u = c.cutEnd(x, u, offB, SideB)
	mirror(x, u, c.layers)
	x, u = c.cutEnd(x, u, offA, SideA)
	mirror(x, u, c.layers)
	c.relay(x, u)
	c.ground += before - c.grid.Total(c.u)
	return nil
}

// relay puts the stack on new nodes.
func (c *Carbon) relay(x, u [][]float64) {
	h := c.h
	c.layers[0].openJoin = false
	c.lay(x)
	c.h = h
	for i, l := range c.layers {
		copy(c.u[l.first:l.last+1], u[i])
	}
}

// mirror turns layers and nodes end for end.
func mirror(x, u [][]float64, layers []layer) {
	n := len(x)
	for i := range n / 2 {
		j := n - 1 - i
		x[i], x[j], u[i], u[j] = x[j], x[i], u[j], u[i]
		layers[i], layers[j] = layers[j], layers[i]
	}
	// openJoin belongs to the joint under a layer; that is now over it.
	for i := n - 1; i > 0; i-- {
		layers[i].openJoin = layers[i-1].openJoin
	}
	layers[0].openJoin = false
	for i := range x {
		m := len(x[i])
		l := x[i][m-1]
		for a, b := 0, m-1; a <= b; a, b = a+1, b-1 {
			x[i][a], x[i][b] = l-x[i][b], l-x[i][a]
			u[i][a], u[i][b] = u[i][b], u[i][a]
		}
	}
}

// cutEnd takes off (m, measured now) from the low end, where side now lies.
func (c *Carbon) cutEnd(x, u [][]float64, off float64, side Side) ([][]float64, [][]float64) {
	for off > 0 {
		s := c.layers[0].stretch
		thick := x[0][len(x[0])-1] * s
		if off < thick*(1-1e-9) {
			x[0], u[0] = cutNodes(x[0], u[0], off/s, faceCell/s*math.Sqrt(c.opt.Accuracy/0.005))
			return x, u
		}
		off -= thick
		x, u = x[1:], u[1:]
		c.layers = c.layers[1:]
		c.gone[side]++
	}
	return x, u
}

// cutNodes takes off from the low end of a layer's nodes. What stays is the
// straight line between the nodes, so its carbon is exactly that of the part
// kept. The first cell is halved until it is at most fine; a first
// cell far thinner than its neighbour joins it.
func cutNodes(x, u []float64, off, fine float64) (nx, nu []float64) {
	k := 1
	for k < len(x)-1 && x[k] <= off {
		k++
	}
	s := (off - x[k-1]) / (x[k] - x[k-1])
	nx = append([]float64{0}, x[k:]...)
	for i := range nx[1:] {
		nx[i+1] -= off
	}
	nu = append([]float64{u[k-1] + s*(u[k]-u[k-1])}, u[k:]...)
	if len(nx) > minCells/2 && nx[1] < 0.2*(nx[2]-nx[1]) {
		nx, nu = joinFirst(nx, nu)
	}
	for nx[1] > fine || len(nx) < minCells/2 {
		nx = append([]float64{0, nx[1] / 2}, nx[1:]...)
		nu = append([]float64{nu[0], (nu[0] + nu[1]) / 2}, nu[1:]...)
	}
	return nx, nu
}

// joinFirst leaves out the second node and keeps the carbon: what the first
// two links held is made up at the ends of the link that replaces them.
func joinFirst(x, u []float64) (nx, nu []float64) {
	held := (u[0]+u[1])/2*x[1] + (u[1]+u[2])/2*(x[2]-x[1])
	nx = append([]float64{0}, x[2:]...)
	nu = append([]float64{u[0]}, u[2:]...)
	w := nx[1]
	if len(nx) > 2 {
		w += (nx[2] - nx[1]) / 2
	}
	d := (held - (nu[0]+nu[1])/2*nx[1]) / w
	nu[0] += d
	nu[1] += d
	return nx, nu
}

// Restack cuts the bar in pieces, takes off (m) from both faces of each, and
// lays them on each other, all the same way up. Joints between the pieces are
// open until Weld. The balance starts anew.
func (c *Carbon) Restack(pieces int, off float64) error {
	if pieces < 1 || pieces*len(c.layers) > 100000 {
		return fmt.Errorf("carbon: %d pieces of %d layers; at least one, and at most 100000 layers", pieces, len(c.layers))
	}
	if err := c.Grind(off, off); err != nil {
		return err
	}
	var x, u [][]float64
	for i := range c.layers {
		xi, ui := c.nodes(i)
		l := &c.layers[i]
		for k := range xi {
			xi[k] *= l.stretch
		}
		nx := spaced(xi[len(xi)-1], c.opt.Accuracy)
		x, u = append(x, nx), append(u, moved(xi, ui, nx))
		l.stretch = 1
	}
	one := append([]layer(nil), c.layers...)
	ox, ou := x, u
	for range pieces - 1 {
		c.layers = append(c.layers, one...)
		c.layers[len(c.layers)-len(one)].openJoin = true
		x, u = append(x, ox...), append(u, ou...)
	}
	c.relay(x, u)
	c.initial, c.through, c.ground, c.gone = c.grid.Total(c.u), 0, 0, [2]int{}
	return nil
}

// moved reads the line through nodes x, u at nx and shifts it evenly so that it
// holds the same carbon.
func moved(x, u, nx []float64) []float64 {
	nu := make([]float64, len(nx))
	k := 0
	for i, at := range nx {
		for k < len(x)-2 && x[k+1] < at {
			k++
		}
		nu[i] = u[k] + (u[k+1]-u[k])*(at-x[k])/(x[k+1]-x[k])
	}
	d := (held(x, u) - held(nx, nu)) / nx[len(nx)-1]
	for i := range nu {
		nu[i] += d
	}
	return nu
}

// held is the integral of the line through the nodes.
func held(x, u []float64) float64 {
	var sum float64
	for i := 1; i < len(x); i++ {
		sum += (u[i] + u[i-1]) / 2 * (x[i] - x[i-1])
	}
	return sum
}

// Thickness is the thickness of the stack now, m.
func (c *Carbon) Thickness() float64 {
	var sum float64
	for i := range c.layers {
		sum += c.LayerThickness(i)
	}
	return sum
}

// Gone is how many whole layers have been taken off each face since the last
// stacking: layer i of the stack is now layer i - b.
func (c *Carbon) Gone() (b, a int) { return c.gone[SideB], c.gone[SideA] }

// Layers is how many layers are left.
func (c *Carbon) Layers() int { return len(c.layers) }

// LayerThickness is the thickness of layer i now, m.
func (c *Carbon) LayerThickness(i int) float64 {
	z, l := c.grid.Axes[fd.Z].X, &c.layers[i]
	return (z[l.last] - z[l.first]) * l.stretch
}
