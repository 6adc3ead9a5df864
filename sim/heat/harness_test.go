package heat

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"billet/sim/steel"
)

const zeroC = 273.15

func lookup(t testing.TB, name string) steel.Material {
	t.Helper()
	m, err := steel.Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// plain is a material of constant properties with one straight enthalpy line.
func plain(name string, k, rho, c float64) steel.Material {
	return steel.Material{Name: name, Density: rho,
		Conductivity: steel.Curve{T: []float64{293.15, 1573.15}, V: []float64{k, k}},
		Base:         steel.Curve{T: []float64{293.15, 1573.15}, V: []float64{0, 1280 * c}},
	}
}

func gasForge(c float64) Surround {
	return Surround{Wall: Constant(c + zeroC), Gas: Constant(c + zeroC), Film: 25, Emissivity: 0.8}
}

func film(h, c float64) Surround { return Surround{Gas: Constant(c + zeroC), Film: h} }

// sampler reads spots of a field at given times while the stages run.
type sampler struct {
	times []float64
	next  int
	spots []int
	got   [][]float64 // by time, by spot, K
}

// take notes the samples that lie in the last step.
func (s *sampler) take(f *Field) {
	h := f.time - f.time0
	for s.next < len(s.times) && s.times[s.next] <= f.time+1e-9 {
		row := make([]float64, len(s.spots))
		for k, i := range s.spots {
			row[k] = hermite((s.times[s.next]-f.time0)/h, h, f.phi0[i], f.step.Phi()[i], f.rate0[i], f.rate1[i])
		}
		s.got = append(s.got, row)
		s.next++
	}
}

// spot is the node at shares of z within a layer, of the width and the length;
// mirrored into the part that is solved.
func spot(f *Field, layer int, sz, sy, sx float64) int {
	at := sz * f.body.Layers[layer].Thickness
	for _, l := range f.body.Layers[:layer] {
		at += l.Thickness
	}
	m, thick := f.mesh, f.body.Thickness()
	if m.half[0] && at > thick/2+1e-12 {
		at = thick - at
		layer = len(f.body.Layers) - 1 - layer
	}
	z := -1
	for k, x := range m.grid.Axes[0].X {
		if math.Abs(x-at) < 1e-9 && (z < 0 || m.layer[k] == layer) {
			z = k
		}
	}
	cross := func(a int, s, size float64) int {
		if m.half[a] && s > 0.5 {
			s = 1 - s
		}
		if m.grid.Axes[a].Len() == 1 {
			return 0
		}
		return nearest(m.grid.Axes[a].X, s*size)
	}
	return m.grid.Index(z, cross(1, sy, f.body.Width), cross(2, sx, f.body.Length))
}

func readJSON(t testing.TB, name string, v any) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, v); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}
