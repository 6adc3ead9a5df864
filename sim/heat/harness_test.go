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

// flux is a heat flow, W/m2, that hardly depends on the temperature: a weak film
// to very hot gas, off by 2e-6 of itself where the skin is 300 K hotter.
func flux(q float64) Surround {
	const h = 1e-3
	return Surround{Gas: Constant(q/h + 293.15), Film: h}
}

// fixed holds a face at a temperature: a film that no steel can resist.
func fixed(c float64) Surround { return film(1e9, c) }

// slab is one layer heated from above and below.
func slab(m steel.Material, thickness float64) Body {
	return Body{Layers: []Layer{{Material: m, Thickness: thickness}}, CoreAt: thickness / 2, Width: 0.04, Length: 0.1, Dims: 1}
}

// place is where an experiment reads: a layer and shares of its thickness, of
// the width and of the length.
type place struct {
	layer   int
	z, y, x float64
}

// experiment is a body taken through stages and read at places and times.
type experiment struct {
	body   Body
	start  float64 // °C
	stages []Stage
	opt    Options
	at     []place
	times  []float64 // s, rising
	limits []float64 // K by layer
}

// outcome is what an experiment gave.
type outcome struct {
	field   *Field
	c       [][]float64 // °C by time, by place
	ends    []float64   // s, by stage
	reached []bool      // by stage
	history History
}

// run carries the experiment out at an accuracy in K.
func (e experiment) run(t testing.TB, accuracy float64) outcome {
	t.Helper()
	opt := e.opt
	opt.Accuracy = accuracy
	for _, st := range e.stages {
		opt.All = append(opt.All, st.In)
	}
	f, err := New(e.body, e.start+zeroC, opt)
	if err != nil {
		t.Fatal(err)
	}
	var spots []Spot
	for _, p := range e.at {
		spots = append(spots, f.Spot(p.layer, p.z, p.y, p.x))
	}
	out := outcome{field: f}
	read := func(f *Field) {
		for len(out.c) < len(e.times) && e.times[len(out.c)] <= f.Time()+1e-9 {
			row := make([]float64, len(spots))
			for k, s := range spots {
				row[k] = f.At(s, e.times[len(out.c)]) - zeroC
			}
			out.c = append(out.c, row)
		}
	}
	mon := &Monitor{Each: read, Record: &out.history, Limits: e.limits}
	for i, st := range e.stages {
		reached, err := f.Run(st, mon)
		if err != nil {
			t.Fatalf("stage %d: %v", i+1, err)
		}
		out.ends, out.reached = append(out.ends, f.Time()), append(out.reached, reached)
	}
	return out
}

// lasting is one stage of a length in s.
func lasting(in Surroundings, s float64) []Stage {
	return []Stage{{In: in, End: End{Timed: true, Time: s}}}
}

// within returns the largest error against want, by time and place, outside
// and inside 700–770 °C; there the peak of heat capacity of EN steel magnifies
// any error.
func (o outcome) within(t testing.TB, want [][]float64) (out, in float64) {
	t.Helper()
	if len(o.c) != len(want) {
		t.Fatalf("%d rows read, %d wanted", len(o.c), len(want))
	}
	for i, row := range want {
		for k, w := range row {
			e := math.Abs(o.c[i][k] - w)
			if w >= 700 && w <= 770 {
				in = math.Max(in, e)
			} else {
				out = math.Max(out, e)
			}
		}
	}
	return out, in
}

// worst is the largest error against want, by time and place.
func (o outcome) worst(t testing.TB, want [][]float64) float64 {
	t.Helper()
	return math.Max(o.within(t, want))
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
