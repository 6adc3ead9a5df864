package fd

// Axis is the nodes along one direction. Nodes sit on both ends and on every
// layer face; where two layers touch through a contact there are two nodes at
// the same place and the link between them has no length.
type Axis struct {
	X []float64 // position
	W []float64 // width of the control volume
	V []float64 // width that the node stands for in totals
	D []float64 // length of the link from node i to i+1; 0: a contact
	// Contacts lists the links without length, in order.
	Contacts []int
	// Piece is the number of the piece (layer) each node belongs to. A node
	// shared by two bonded pieces belongs to the lower one.
	Piece []int

	// Splits lists the nodes, in order, whose halves are of different stuff:
	// Medium.Split tells their mobilities apart. Set it before Compact.
	Splits []int

	compact, mirrored bool
	widest            float64
	// M ties what the control volumes hold to what their nodes do: row i is
	// down, self, up. Its factors are mLo, mUp and, over the width of the
	// control volume, perM.
	down, self, up []float64
	mLo, mUp, perM []float64
	perD           []float64 // half over the length of each link; 0 for a contact
}

// Len is the number of nodes.
func (a *Axis) Len() int { return len(a.X) }

// NewAxis joins pieces end to end. Each piece is the positions of its nodes
// from 0 to its own thickness, at least two. open[i] says that piece i touches
// piece i+1 through a contact; otherwise they share a node.
func NewAxis(pieces [][]float64, open []bool) *Axis {
	a := &Axis{}
	at := 0.0
	for p, nodes := range pieces {
		first := 0
		if p > 0 {
			if open[p-1] {
				a.Contacts = append(a.Contacts, len(a.X)-1)
				a.D = append(a.D, 0)
			} else {
				first = 1
			}
		}
		for i := first; i < len(nodes); i++ {
			if i > 0 {
				a.D = append(a.D, nodes[i]-nodes[i-1])
			}
			a.X = append(a.X, at+nodes[i])
			a.Piece = append(a.Piece, p)
		}
		at += nodes[len(nodes)-1]
	}
	a.weigh()
	return a
}

// Scale makes each link, by its number, longer or shorter by a factor. A Single
// axis has no links; its width takes the factor of link 0.
func (a *Axis) Scale(factor func(link int) float64) {
	if len(a.D) == 0 {
		a.W[0] *= factor(0)
		a.X[0] *= factor(0)
		a.weigh()
		return
	}
	for i := range a.D {
		a.D[i] *= factor(i)
		a.X[i+1] = a.X[i] + a.D[i]
	}
	a.weigh()
}

// clone is an axis of its own that can be scaled apart from this one.
func (a *Axis) clone() *Axis {
	c := *a
	c.X = append([]float64(nil), a.X...)
	c.W = append([]float64(nil), a.W...)
	c.D = append([]float64(nil), a.D...)
	return &c
}

// Single is the axis of a direction that is not modelled: one node of width w.
func Single(w float64) *Axis {
	a := &Axis{X: []float64{w / 2}, W: []float64{w}, Piece: []int{0}}
	a.weigh()
	return a
}

// The directions. Nodes are numbered with z running fastest, then y, then x.
const (
	Z = iota
	Y
	X
)

// Grid is the product of three axes. Contacts and splits are allowed along Z
// only.
type Grid struct {
	Axes   [3]*Axis // by Z, Y, X
	stride [3]int
	n      int
}

// NewGrid makes a grid of the three axes.
func NewGrid(z, y, x *Axis) *Grid {
	g := &Grid{Axes: [3]*Axis{z, y, x}}
	g.stride = [3]int{1, z.Len(), z.Len() * y.Len()}
	g.n = g.stride[2] * x.Len()
	return g
}

// Clone is a grid of its own that can be scaled apart from this one.
func (g *Grid) Clone() *Grid {
	c := *g
	for i, a := range g.Axes {
		c.Axes[i] = a.clone()
	}
	return &c
}

// Len is the number of nodes.
func (g *Grid) Len() int { return g.n }

// Index is the number of the node at positions z, y, x of the axes.
func (g *Grid) Index(z, y, x int) int { return z + y*g.stride[Y] + x*g.stride[X] }

// Volume is what node i stands for in totals.
func (g *Grid) Volume(i int) float64 {
	nz, ny := g.Axes[Z].Len(), g.Axes[Y].Len()
	return g.Axes[Z].V[i%nz] * g.Axes[Y].V[i/nz%ny] * g.Axes[X].V[i/(nz*ny)]
}

// Total is the integral of u over the grid.
func (g *Grid) Total(u []float64) float64 {
	z, y, x := g.Axes[Z], g.Axes[Y], g.Axes[X]
	var sum float64
	i := 0
	for _, wx := range x.V {
		for _, wy := range y.V {
			var line float64
			for _, wz := range z.V {
				line += wz * u[i]
				i++
			}
			sum += wx * wy * line
		}
	}
	return sum
}
