package metal

import "billet/sim/internal/fd"

// Clone is a copy that can go another way.
func (c *Carbon) Clone() *Carbon {
	d := *c
	d.layers = append([]layer(nil), c.layers...)
	d.warnings = append([]string(nil), c.warnings...)
	var x, u [][]float64
	for i := range c.layers {
		xi, ui := c.nodes(i)
		x, u = append(x, xi), append(u, ui)
	}
	h := c.h
	d.lay(x)
	d.h = h
	copyAxis(d.grid.Axes[fd.Z], c.grid.Axes[fd.Z])
	for i, l := range d.layers {
		copy(d.u[l.first:l.last+1], u[i])
	}
	return &d
}

// copyAxis makes positions the same to the last bit.
func copyAxis(to, from *fd.Axis) {
	copy(to.X, from.X)
	copy(to.W, from.W)
	copy(to.D, from.D)
}
