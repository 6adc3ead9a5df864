package heat

import (
	"fmt"
	"math"
	"testing"
)

// example is a worked example of a textbook: its answers as printed, rounded
// or read off a table or chart, and as its own formula gives them exactly.
type example struct {
	name, source string
	exact        []float64 // °C, or s
	printed      []float64 // the same; nil: not printed where read
	seconds      bool
	close        float64 // largest difference of exact and printed, in their unit
	got          func(accuracy float64) []float64
}

// workedExamples compares with the exact answers to the accuracy asked (times:
// to 0.1 %), and the exact answers with the printed ones.
func workedExamples(t *testing.T) (out []comparison) {
	for _, e := range examples(t) {
		p := comparison{name: e.name, source: e.source, what: "5, 1, 0.5, 0.1 K", unit: "K", note: "the accuracy asked, of the exact answer"}
		if e.seconds {
			p.unit, p.note = "%", "end times"
		}
		for _, a := range asked {
			worst, limit := 0.0, a
			for i, v := range e.got(a) {
				d := math.Abs(v - e.exact[i])
				if e.seconds {
					d, limit = 100*d/e.exact[i], 0.1
				}
				worst = math.Max(worst, d)
			}
			p.got, p.limit = append(p.got, worst), append(p.limit, limit)
		}
		out = append(out, p)
		for i, v := range e.printed {
			if math.Abs(v-e.exact[i]) > e.close {
				t.Errorf("%s: printed %g, exact %g: further apart than %g", e.name, v, e.exact[i], e.close)
			}
		}
	}
	return out
}

// heated is a plate with a film on both faces: the centre and the surface.
func heated(t *testing.T, s stuff, thick, h, from, around, seconds float64) func(float64) []float64 {
	e := experiment{body: slab(plain("plain", s.k, s.rho, s.c), thick), start: from, times: []float64{seconds},
		stages: lasting(All(film(h, around)), seconds), at: []place{{0, 0.5, 0.5, 0.5}, {0, 1, 0.5, 0.5}}}
	return func(a float64) []float64 { return e.run(t, a).c[0] }
}

// till is the same till its centre is at a temperature.
func till(t *testing.T, s stuff, thick, h, from, around, to float64) func(float64) []float64 {
	e := experiment{body: slab(plain("plain", s.k, s.rho, s.c), thick), start: from,
		stages: []Stage{{In: All(film(h, around)), End: End{On: Core, Temperature: to + zeroC}}}}
	return func(a float64) []float64 { return e.run(t, a).ends }
}

func examples(t *testing.T) []example {
	return []example{
		{"wall of 200 mm, k 20, film 100, α 2e-5, 600 s", "Yovanovich, worksheet on the plane wall (inputs read; no answers printed)",
			[]float64{1000 - 1000*0.641248769, 1000 - 1000*0.50921591}, nil, false, 0,
			heated(t, stuff{20, 5000, 200}, 0.2, 100, 0, 1000, 600)},
		{"annealing a plate of 100 mm, film 250, 200 to 550 °C in 800 °C", "Incropera et al., annealing problem of chapter 5 (from memory)",
			[]float64{857.002}, []float64{861}, true, 0.006 * 857, // read off a table of one term
			till(t, stuff{48, 7830, 550}, 0.1, 250, 200, 800, 550)},
		{"annealing a plate of 100 mm, film 500, 300 to 550 °C in 700 °C", "the same problem with other numbers (inputs read; no answer printed)",
			[]float64{489.902}, nil, true, 0, till(t, stuff{45, 7800, 500}, 0.1, 500, 300, 700, 550)},
		{"brass plate of 40 mm, film 120, 20 °C in 500 °C for 7 min: surface", "Cengel, Heat Transfer, example 4-3 (from memory)",
			[]float64{279.584}, []float64{282}, false, 0.01 * 260, // read off a chart
			func(a float64) []float64 {
				return heated(t, stuff{110, 8530, 110 / 33.9e-6 / 8530}, 0.04, 120, 20, 500, 420)(a)[1:]
			}},
		{"pipe wall of 40 mm, film 500 inside, −20 °C in 60 °C for 8 min: both sides", "Incropera et al., pipeline example of section 5.5 (from memory)",
			[]float64{43.0175, 45.3635}, []float64{42.9, 45.2}, false, 0.006 * 80, // read off a table of one term
			pipeWall(t)},
		{"soil at 20 °C under −15 °C for 60 days: depth of frost 0.677 m", "Incropera et al., water main example of section 5.7 (from memory)",
			[]float64{0}, nil, false, 0, waterMain(t)},
		{"plate of 20 mm quenched with a film of 6000, 425 to 65 °C in 25 °C", "textbook problem (inputs read; no answer printed)",
			[]float64{37.7218}, nil, true, 0, till(t, stuff{30, 7600, 700}, 0.02, 6000, 425, 25, 65)},
	}
}

func pipeWall(t *testing.T) func(float64) []float64 {
	const k, alpha = 63.9, 18.8e-6
	e := experiment{body: slab(plain("plain", k, 7832, k/alpha/7832), 0.04), start: -20, times: []float64{480},
		stages: lasting(Surroundings{Bottom: film(500, 60)}, 480), at: []place{{0, 1, 0.5, 0.5}, {0, 0, 0.5, 0.5}}}
	return func(a float64) []float64 { return e.run(t, a).c[0] }
}

// waterMain: 3 m of soil stand for any depth.
func waterMain(t *testing.T) func(float64) []float64 {
	const alpha, days, deep = 0.138e-6, 60.0, 0.67696185
	if v := 2 * math.Sqrt(alpha*days*86400) * math.Erfinv(15.0/35); math.Abs(v-deep) > 1e-7 || fmt.Sprintf("%.2f", v) != "0.68" {
		t.Errorf("depth of frost %.8f m; computed apart %.8f, printed 0.68", v, deep)
	}
	soil := stuff{0.52, 2050, 0.52 / alpha / 2050}
	e := experiment{body: slab(plain("soil", soil.k, soil.rho, soil.c), 6), start: 20, times: []float64{days * 86400},
		stages: lasting(Surroundings{Bottom: fixed(-15)}, days*86400), at: []place{{0, deep / 6, 0.5, 0.5}}}
	return func(a float64) []float64 { return e.run(t, a).c[0] }
}
