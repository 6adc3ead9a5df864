package heat

import (
	"fmt"

	"billet/sim/internal/fd"
)

// Reshape gives the body new sizes: layer i becomes z[i] times as thick, the
// whole y times as wide and x times as long. Every control volume keeps its
// metal and what heat it holds per volume, so heat is conserved where each
// layer's volume is: z[i]·y·x = 1.
func (f *Field) Reshape(z []float64, y, x float64) error {
	if len(z) != len(f.body.Layers) {
		return fmt.Errorf("heat: reshape of %d layers; the body has %d", len(z), len(f.body.Layers))
	}
	for _, v := range append([]float64{y, x}, z...) {
		if !(v > 0) {
			return fmt.Errorf("heat: reshape by %g; factors must be above 0", v)
		}
	}
	before := f.mesh.grid.Total(f.u)
	g := f.mesh.grid
	byZ := f.byZ(z)
	g.Axes[fd.Z].Scale(func(link int) float64 { return byZ[link+1] })
	for a, s := range [3]float64{fd.Y: y, fd.X: x} {
		if a == fd.Z {
			continue
		}
		g.Axes[a].Scale(func(int) float64 { return s })
	}
	for i := range f.body.Layers {
		f.body.Layers[i].Thickness *= z[i]
	}
	f.body.Width *= y
	f.body.Length *= x
	f.body.CoreAt = g.Axes[fd.Z].X[f.mesh.coreZ]
	f.step.Reshaped()
	// What the change of volume itself adds belongs to neither account.
	f.start += f.mesh.grid.Total(f.u) - before
	return nil
}

// byZ is the mean of values by layer over the pack of each Z node; a node shared
// by two belongs to the lower one.
func (f *Field) byZ(byLayer []float64) []float64 {
	out := make([]float64, f.med.nz)
	for z := range out {
		out[z] = f.mesh.packOf(z).mean(f.body.Layers, byLayer)
	}
	return out
}

// Clone is a field of its own in the same state: what is done to one does not
// touch the other, and the same done to both gives the same.
func (f *Field) Clone() *Field {
	c := *f
	c.body.Layers = append([]Layer(nil), f.body.Layers...)
	mesh := *f.mesh
	mesh.grid = f.mesh.grid.Clone()
	c.mesh = &mesh
	med := *f.med
	med.xi = append([]float64(nil), f.med.xi...)
	med.rises = append([]float64(nil), f.med.rises...)
	med.joints = append([]Joint(nil), f.med.joints...)
	c.med = &med
	for _, p := range []*[]float64{&c.u, &c.phi0, &c.rate0, &c.rate1, &c.xi0} {
		*p = append([]float64(nil), *p...)
	}
	c.step = fd.NewStepper(mesh.grid, c.med)
	c.step.Start(c.u, c.time)
	copy(c.step.Phi(), f.step.Phi())
	copy(c.step.Slope(), f.step.Slope())
	return &c
}

// SetJoint changes the joint under a layer.
func (f *Field) SetJoint(layer int, j Joint) {
	f.body.Layers[layer].Joint = j
	for k, l := range f.mesh.contact {
		if l == layer {
			f.med.joints[k] = j
		}
	}
}

// AddHeat puts heat into each layer, J/m3 by layer, as working the metal does.
// It counts as heat that came through the faces.
func (f *Field) AddHeat(byLayer []float64) {
	before := f.mesh.grid.Total(f.u)
	byZ, axis := f.byZ(byLayer), f.mesh.grid.Axes[fd.Z]
	for _, z := range axis.Splits { // the node holds two halves
		lo, hi := axis.D[z-1], axis.D[z]
		byZ[z] = (lo*byZ[z] + hi*byZ[z+1]) / (lo + hi)
	}
	for i := range f.u {
		f.u[i] += byZ[i%f.med.nz]
	}
	f.in += f.mesh.grid.Total(f.u) - before
	f.step.Start(f.u, f.time)
	f.med.settle(f.u, f.step.Phi())
}

// Map is the temperature over the section at mid length at shares of its width
// and thickness.
type Map struct {
	Y, Z []float64   // shares 0..1 from the left and from the bottom
	T    [][]float64 // K, [z][y]
}

// Map reads the section's temperatures.
func (f *Field) Map() Map {
	s := f.SectionAt(f.time)
	m := Map{T: s.Temperature}
	for _, y := range s.Y {
		m.Y = append(m.Y, y/f.body.Width)
	}
	thick := f.body.Thickness()
	for _, z := range s.Z {
		m.Z = append(m.Z, z/thick)
	}
	return m
}

// At is the temperature at shares of width and thickness, K.
func (m Map) At(y, z float64) float64 {
	i, wi := bracket(m.Y, y)
	k, wk := bracket(m.Z, z)
	row := func(r []float64) float64 { return r[i] + wi*(r[i+1]-r[i]) }
	return row(m.T[k]) + wk*(row(m.T[k+1])-row(m.T[k]))
}

// bracket finds x in the rising list xs, which may hold equal neighbours.
func bracket(xs []float64, x float64) (int, float64) {
	lo, hi := 0, len(xs)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; xs[mid] <= x {
			lo = mid
		} else {
			hi = mid
		}
	}
	d := xs[lo+1] - xs[lo]
	if d <= 0 {
		return lo, 0
	}
	return lo, min(max((x-xs[lo])/d, 0), 1)
}

// Mean is the mean temperature of the section by area, K.
func (m Map) Mean() float64 {
	var sum, area float64
	for k := 1; k < len(m.Z); k++ {
		for i := 1; i < len(m.Y); i++ {
			a := (m.Z[k] - m.Z[k-1]) * (m.Y[i] - m.Y[i-1])
			sum += a * (m.T[k][i] + m.T[k-1][i] + m.T[k][i-1] + m.T[k-1][i-1]) / 4
			area += a
		}
	}
	return sum / area
}

// Mirrored is the map with the mean of both sides at each height, so that side
// A is as warm as side B.
func (m Map) Mirrored() Map {
	out := Map{Y: m.Y, Z: m.Z}
	for k, z := range m.Z {
		row := make([]float64, len(m.Y))
		for i, y := range m.Y {
			row[i] = 0.5 * (m.T[k][i] + m.At(y, 1-z))
		}
		out.T = append(out.T, row)
	}
	return out
}
