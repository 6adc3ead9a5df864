package heat

import (
	"math"
	"testing"
)

// reference is a case in testdata/cases solved by a general-purpose integrator.
type reference struct {
	Inputs struct {
		Thickness  float64   `json:"thickness_m"`
		Width      float64   `json:"width_m"`
		Length     float64   `json:"length_m"`
		Layers     []float64 `json:"layers_m"`
		Joint      float64   `json:"joint_conductance_w_m2k"`
		Density    float64   `json:"density_kg_m3"`
		Start      float64   `json:"start_k"`
		Emissivity float64   `json:"emissivity"`
		Fire       float64   `json:"fire_k"`
		Film       float64   `json:"film_w_m2k"`
		Gas        float64   `json:"gas_k"`
		Until      struct {
			Probe       string  `json:"probe"`
			Temperature float64 `json:"temperature_k"`
		} `json:"until"`
	} `json:"inputs"`
	Probes      []string             `json:"probes"`
	EndTime     float64              `json:"end_time_s"`
	Times       []float64            `json:"times_s"`
	Temperature map[string][]float64 `json:"temperatures_c"`
}

// where each probe lies: layer share of z (0 the whole stack), y, x.
var probeAt = map[string][3]float64{
	"c": {0.5, 0.5, 0.5}, "top": {1, 0.5, 0.5}, "side": {0.5, 1, 0.5}, "end": {0.5, 0.5, 1},
	"corner": {1, 1, 0.5}, "sz": {1, 0.5, 0.5}, "b": {0, 0.5, 0.5},
}

func (r reference) body(t testing.TB, dims int) Body {
	m := lookup(t, "EN 1993-1-2 carbon steel")
	b := Body{Width: r.Inputs.Width, Length: r.Inputs.Length, Dims: dims, CoreAt: r.Inputs.Thickness / 2}
	if b.Width == 0 {
		b.Width = 0.04
	}
	if b.Length == 0 {
		b.Length = 0.1
	}
	layers := r.Inputs.Layers
	if len(layers) == 0 {
		layers = []float64{r.Inputs.Thickness}
	}
	for _, h := range layers {
		b.Layers = append(b.Layers, Layer{Material: m, Thickness: h, Joint: Joint{State: Given, Conductance: r.Inputs.Joint}})
	}
	return b
}

// compare runs the case at the accuracy and returns the worst error of any
// probe outside and inside 700–770 °C and the error of the end time.
func (r reference) compare(t testing.TB, dims int, accuracy float64, opt Options) (out, in, dt float64, f *Field) {
	fire := All(Surround{Wall: Constant(r.Inputs.Fire), Gas: Constant(r.Inputs.Gas), Film: r.Inputs.Film, Emissivity: r.Inputs.Emissivity})
	opt.Accuracy = accuracy
	opt.All = []Surroundings{fire}
	f, err := New(r.body(t, dims), r.Inputs.Start, opt)
	if err != nil {
		t.Fatal(err)
	}
	s := &sampler{times: r.Times[1:]}
	n := len(f.body.Layers)
	for _, p := range r.Probes {
		at, ok := probeAt[p]
		switch {
		case p == "j_lo": // the upper joint, core side
			s.spots = append(s.spots, spot(f, n-2, 1, 0.5, 0.5))
		case p == "j_hi":
			s.spots = append(s.spots, spot(f, n-1, 0, 0.5, 0.5))
		case ok && at[0] == 1:
			s.spots = append(s.spots, spot(f, n-1, 1, at[1], at[2]))
		case ok && at[0] == 0:
			s.spots = append(s.spots, spot(f, 0, 0, at[1], at[2]))
		case ok:
			s.spots = append(s.spots, spot(f, n/2, 0.5, at[1], at[2]))
		default:
			t.Fatalf("unknown probe %q", p)
		}
	}
	reached, err := f.Run(Stage{In: fire, End: End{On: Core, Temperature: r.Inputs.Until.Temperature}}, &Monitor{Each: s.take})
	if err != nil || !reached {
		t.Fatalf("reached %v: %v", reached, err)
	}
	for i, row := range s.got {
		for k, p := range r.Probes {
			want := r.Temperature[p][i+1]
			e := math.Abs(row[k] - zeroC - want)
			if want >= 700 && want <= 770 {
				in = max(in, e)
			} else {
				out = max(out, e)
			}
		}
	}
	return out, in, math.Abs(f.Time() - r.EndTime), f
}

func TestReferenceCases(t *testing.T) {
	for _, c := range []struct {
		file string
		dims int
	}{{"section2d", 2}, {"brick3d", 3}} {
		var ref reference
		readJSON(t, "cases/"+c.file+".json", &ref)
		for _, acc := range []float64{5, 1, 0.5, 0.1} {
			out, in, dt, f := ref.compare(t, c.dims, acc, Options{})
			t.Logf("%s asked %g K: error %.3f K, %.3f K at 700–770 °C, end %.3f s of %.1f; %d nodes, %d steps, %d redone",
				c.file, acc, out, in, dt, ref.EndTime, f.Cells(), f.Steps, f.Rejected)
			if out > acc || in > 3*acc || dt > 1e-3*ref.EndTime {
				t.Errorf("%s: asked %g K, got %.3f K, %.3f K at 700–770 °C, end off by %.3f s", c.file, acc, out, in, dt)
			}
		}
	}
}
