package heat

import (
	"fmt"
	"math"
	"testing"
)

// fire is what a face sees, as the files in testdata/cases say it.
type fire struct {
	Emissivity float64 `json:"emissivity"`
	Fire       float64 `json:"fire_k"`
	Film       float64 `json:"film_w_m2k"`
	Gas        float64 `json:"gas_k"`
}

func (f fire) surround() Surround {
	return Surround{Wall: Constant(f.Fire), Gas: Constant(f.Gas), Film: f.Film, Emissivity: f.Emissivity}
}

// until is the end of a stage.
type until struct {
	Probe       string  `json:"probe"`
	Temperature float64 `json:"temperature_k"`
	Seconds     float64 `json:"seconds"`
}

func (u until) end() End {
	switch u.Probe {
	case "":
		return End{Timed: true, Time: u.Seconds}
	case "sz":
		return End{On: Skin, Temperature: u.Temperature}
	}
	return End{On: Core, Temperature: u.Temperature}
}

// reference is a case solved by general-purpose integrators: what to run and
// what came out.
type reference struct {
	name string
	experiment
	probes []string
	want   [][]float64  // °C by time, by probe
	ends   []float64    // s, by stage; NaN: given, or not stated
	passes [][2]float64 // core temperature, °C, and when, s, in the last stage
}

// where each probe lies: -1 is the top layer, -2 the middle one.
var probeAt = map[string]place{
	"c": {-2, 0.5, 0.5, 0.5}, "b": {0, 0, 0.5, 0.5}, "sz": {-1, 1, 0.5, 0.5}, "top": {-1, 1, 0.5, 0.5},
	"sy": {-2, 0.5, 1, 0.5}, "side": {-2, 0.5, 1, 0.5}, "end": {-2, 0.5, 0.5, 1}, "corner": {-1, 1, 1, 0.5},
	"j_lo": {1, 1, 0.5, 0.5}, "j_hi": {2, 0, 0.5, 0.5}, // the upper joint, from below and above
	"l0t": {0, 1, 0.5, 0.5}, "l1b": {1, 0, 0.5, 0.5}, "l1m": {1, 0.5, 0.5, 0.5}, "l1t": {1, 1, 0.5, 0.5}, "l2b": {2, 0, 0.5, 0.5},
}

func (r *reference) readAt(t testing.TB) {
	n := len(r.body.Layers)
	for _, name := range r.probes {
		p, ok := probeAt[name]
		if !ok {
			t.Fatalf("%s: unknown probe %q", r.name, name)
		}
		switch p.layer {
		case -1:
			p.layer = n - 1
		case -2:
			p.layer = n / 2
		}
		r.at = append(r.at, p)
	}
}

// oneCase reads slab1d, section2d or brick3d.
func oneCase(t testing.TB, name string, dims int) reference {
	var file struct {
		Inputs struct {
			Thickness float64   `json:"thickness_m"`
			Width     float64   `json:"width_m"`
			Length    float64   `json:"length_m"`
			Layers    []float64 `json:"layers_m"`
			Joint     float64   `json:"joint_conductance_w_m2k"`
			Start     float64   `json:"start_k"`
			fire
			Until until `json:"until"`
		} `json:"inputs"`
		Probes      []string             `json:"probes"`
		EndTime     float64              `json:"end_time_s"`
		Times       []float64            `json:"times_s"`
		Temperature map[string][]float64 `json:"temperatures_c"`
	}
	readJSON(t, "cases/"+name+".json", &file)
	in := file.Inputs
	if len(in.Layers) == 0 {
		in.Layers = []float64{in.Thickness}
	}
	r := reference{name: name, probes: file.Probes, ends: []float64{file.EndTime}}
	m := lookup(t, "EN 1993-1-2 carbon steel")
	r.body = Body{Width: cmpOr(in.Width, 0.04), Length: cmpOr(in.Length, 0.1), Dims: dims, CoreAt: in.Thickness / 2}
	for _, h := range in.Layers {
		r.body.Layers = append(r.body.Layers, Layer{Material: m, Thickness: h, Joint: Joint{State: Given, Conductance: in.Joint}})
	}
	r.start = in.Start - zeroC
	r.stages = []Stage{{In: All(in.surround()), End: in.Until.end()}}
	r.times = file.Times[1:]
	for i := range r.times {
		var row []float64
		for _, p := range r.probes {
			row = append(row, file.Temperature[p][i+1])
		}
		r.want = append(r.want, row)
	}
	r.readAt(t)
	return r
}

func cmpOr(v, otherwise float64) float64 {
	if v == 0 {
		return otherwise
	}
	return v
}

// hCase is one entry of heat_reference.json.
type hCase struct {
	Inputs struct {
		Dims   int     `json:"dims"`
		Start  float64 `json:"start_k"`
		Width  float64 `json:"width_m"`
		Layers []struct {
			Thickness    float64 `json:"thickness_m"`
			Density      float64 `json:"density_kg_m3"`
			Conductivity float64 `json:"conductivity_w_mk"`
			HeatCapacity float64 `json:"heat_capacity_j_kgk"`
			Joint        float64 `json:"joint_above_w_m2k"`
			Material     string  `json:"material"`
		} `json:"layers"`
		Stages []struct {
			Faces map[string]fire `json:"faces"`
			Until until           `json:"until"`
		} `json:"stages"`
	} `json:"inputs"`
	Quantities []struct {
		Key   string  `json:"key"`
		Value float64 `json:"value"`
	} `json:"quantities"`
	History struct {
		Probes []string    `json:"probes"`
		Rows   [][]float64 `json:"rows"`
	} `json:"history"`
}

func (h hCase) reference(t testing.TB, name string) reference {
	r := reference{name: name, probes: h.History.Probes}
	r.body = Body{Width: cmpOr(h.Inputs.Width, 0.04), Length: 0.1, Dims: h.Inputs.Dims}
	joint := Joint{}
	for i, l := range h.Inputs.Layers {
		m := plain(fmt.Sprintf("layer of k %g", l.Conductivity), l.Conductivity, l.Density, l.HeatCapacity)
		if l.Material == "EC3" {
			m = lookup(t, "EN 1993-1-2 carbon steel")
		}
		r.body.Layers = append(r.body.Layers, Layer{Material: m, Thickness: l.Thickness, Joint: joint})
		joint = Joint{State: Given, Conductance: l.Joint}
		if l.Joint == 0 {
			joint = Joint{State: Welded}
		}
		if i == len(h.Inputs.Layers)/2 {
			r.body.CoreAt = r.body.Thickness() - l.Thickness/2
		}
	}
	r.start = h.Inputs.Start - zeroC
	for _, st := range h.Inputs.Stages {
		in := All(st.Faces["all"].surround())
		for name, f := range map[string]Face{"bottom": Bottom, "top": Top} {
			if s, ok := st.Faces[name]; ok {
				in[f] = s.surround()
			}
		}
		r.stages = append(r.stages, Stage{In: in, End: st.Until.end()})
	}
	for _, row := range h.History.Rows[1:] {
		r.times, r.want = append(r.times, row[0]), append(r.want, row[1:])
	}
	h.events(&r)
	r.readAt(t)
	return r
}

// events takes the times of stage ends and of the core's passing temperatures.
func (h hCase) events(r *reference) {
	r.ends = make([]float64, len(r.stages))
	for i := range r.ends {
		r.ends[i] = math.NaN()
	}
	for _, q := range h.Quantities {
		var stage int
		var c float64
		if n, _ := fmt.Sscanf(q.Key, "s%d.c=%g.t", &stage, &c); n == 2 && q.Key == fmt.Sprintf("s%d.c=%g.t", stage, c) {
			r.passes = append(r.passes, [2]float64{c, q.Value})
		} else if n, _ := fmt.Sscanf(q.Key, "s%d.end.t", &stage); n == 1 && q.Key == fmt.Sprintf("s%d.end.t", stage) {
			r.ends[stage-1] = q.Value
		}
	}
}

// allReferences reads every case.
func allReferences(t testing.TB) (out []reference) {
	var file struct {
		Cases map[string]hCase `json:"cases"`
	}
	readJSON(t, "cases/heat_reference.json", &file)
	for _, name := range []string{"H1a", "H1b", "H2a", "H2b", "H3", "H6-1D", "H6-2D"} {
		c, ok := file.Cases[name]
		if !ok {
			t.Fatalf("heat_reference.json has no case %s", name)
		}
		out = append(out, c.reference(t, name))
	}
	return append(out, oneCase(t, "slab1d", 1), oneCase(t, "section2d", 2), oneCase(t, "brick3d", 3))
}

// late is the largest error of the times of stage ends and of the core's
// passings, in percent of the time.
func (r reference) late(o outcome) float64 {
	worst := 0.0
	for i, want := range r.ends {
		if !math.IsNaN(want) {
			worst = math.Max(worst, 100*math.Abs(o.ends[i]-want)/want)
		}
	}
	from := 0.0
	if n := len(o.ends); n > 1 {
		from = o.ends[n-2]
	}
	h := o.history
	for _, p := range r.passes {
		for i := 1; i < len(h.Time); i++ {
			if a, b := h.Core[i-1]-zeroC, h.Core[i]-zeroC; h.Time[i] > from && a < p[0] && b >= p[0] {
				at := h.Time[i-1] + (p[0]-a)/(b-a)*(h.Time[i]-h.Time[i-1])
				worst = math.Max(worst, 100*math.Abs(at-p[1])/p[1])
				break
			}
		}
	}
	return worst
}

// referenceCases: the accuracy asked is kept outside 700–770 °C, three times
// it inside, and times to 0.1 %.
func referenceCases(t *testing.T) (out []comparison) {
	for _, r := range allReferences(t) {
		source := "testdata/cases/heat_reference.json, " + r.name
		if len(r.name) > 5 && r.name[0] != 'H' {
			source = "testdata/cases/" + r.name + ".json"
		}
		times := comparison{name: r.name + ": times of events", source: source, what: "5, 1, 0.5, 0.1 K", unit: "%", note: "end times"}
		inside := comparison{name: r.name + ": every probe, inside 700–770 °C", source: source, what: "5, 1, 0.5, 0.1 K", unit: "K", note: "3 × the accuracy asked"}
		outside := each(r.name+": every probe against time", source, 1, func(a float64) float64 {
			o := r.run(t, a)
			e, in := o.within(t, r.want)
			inside.got, inside.limit = append(inside.got, in), append(inside.limit, 3*a)
			times.got, times.limit = append(times.got, r.late(o)), append(times.limit, 0.1)
			t.Logf("%s at %g K: %d nodes, %d steps, %d redone", r.name, a, o.field.Cells(), o.field.Steps, o.field.Rejected)
			return e
		})
		out = append(out, outside, inside)
		if times.got[0] > 0 {
			out = append(out, times)
		}
	}
	return out
}
