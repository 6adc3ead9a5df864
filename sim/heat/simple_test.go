package heat

import (
	"fmt"
	"math"
	"testing"
)

var billet = stuff{k: 30, rho: 7800, c: 650}

func (s stuff) steel() Body { return slab(plain("plain", s.k, s.rho, s.c), 0.03) }

// The first root and coefficient of ζ tan ζ = Bi, and centre and surface of the
// series, computed apart with 60 terms (the classic printed tables round these
// to four digits: Incropera table 5.1, Cengel table 4-1, from memory).
var wallTable = []struct{ bi, zeta, c float64 }{
	{0.01, 0.0998336386, 1.00166084}, {0.1, 0.311052848, 1.01609422}, {0.5, 0.653271187, 1.07012814},
	{1, 0.860333589, 1.11913201}, {2, 1.07687399, 1.17845579}, {5, 1.31383772, 1.24024931},
	{10, 1.42887001, 1.26196259}, {50, 1.54000594, 1.27265181}, {100, 1.55524513, 1.27308762},
}

var fourier = []float64{0.05, 0.2, 1, 5}

var wallSeries = []struct {
	bi       float64
	mid, out [4]float64 // by fourier
}{
	{0.1, [4]float64{0.99997328, 0.9939985, 0.92238857, 0.62637672}, [4]float64{0.97526039, 0.95141985, 0.87812649, 0.59631807}},
	{0.5, [4]float64{0.99987059, 0.97260042, 0.69838322, 0.12668674}, [4]float64{0.88536524, 0.79014655, 0.55458907, 0.10060193}},
	{1, [4]float64{0.99975096, 0.95064178, 0.5338594, 0.027644844}, [4]float64{0.79037676, 0.64339078, 0.34817685, 0.018029542}},
	{5, [4]float64{0.99904634, 0.86488143, 0.22072068, 2.2140094e-4}, [4]float64{0.39736262, 0.23153319, 0.056094024, 5.6266878e-5}},
}

// fixedFace is the centre with the face held at a temperature, by Fo.
var fixedFace = [][2]float64{{0.05, 0.996869195}, {0.1, 0.949305363}, {0.2, 0.772311607}, {0.5, 0.37077743}, {1, 0.107977044}, {2, 0.00915699029}}

func TestWallSeries(t *testing.T) {
	for _, r := range wallTable {
		w := newWall(r.bi)
		if math.Abs(w.zeta[0]-r.zeta) > 1e-8 || math.Abs(w.c[0]-r.c) > 1e-7 {
			t.Errorf("Bi %g: ζ %.9g, C %.9g; want %.9g, %.9g", r.bi, w.zeta[0], w.c[0], r.zeta, r.c)
		}
	}
	for _, r := range wallSeries {
		w := newWall(r.bi)
		for i, fo := range fourier {
			if mid, out := w.at(0, fo), w.at(1, fo); math.Abs(mid-r.mid[i]) > 1e-8 || math.Abs(out-r.out[i]) > 1e-8 {
				t.Errorf("Bi %g Fo %g: %.9g, %.9g; want %.9g, %.9g", r.bi, fo, mid, out, r.mid[i], r.out[i])
			}
		}
	}
}

// simpleBodies are closed forms of one material with constant properties.
func simpleBodies(t *testing.T) []comparison {
	out := wallProofs(t)
	out = append(out, billetProofs(t)...)
	out = append(out, brickProof(t))
	out = append(out, longSlabProofs(t)...)
	return append(out, drivenSlabProof(t))
}

const series = "series solution (Incropera et al. section 5.5, from memory), summed here"

func wallProofs(t *testing.T) (out []comparison) {
	const half, cold, hot = 0.015, 20.0, 1250.0
	second := half * half / billet.alpha() // s per Fo
	for _, r := range wallSeries {
		e := experiment{body: billet.steel(), start: cold, at: []place{{0, 0.5, 0.5, 0.5}, {0, 1, 0.5, 0.5}}}
		var want [][]float64
		for i, fo := range fourier {
			e.times = append(e.times, fo*second)
			want = append(want, []float64{hot + (cold-hot)*r.mid[i], hot + (cold-hot)*r.out[i]})
		}
		e.stages = lasting(All(film(r.bi*billet.k/half, hot)), 5*second+1)
		out = append(out, each(fmt.Sprintf("wall 30 mm, Bi %g, Fo 0.05 to 5: centre and surface", r.bi), series, 1,
			func(a float64) float64 { return e.run(t, a).worst(t, want) }))
	}
	e := experiment{body: billet.steel(), start: cold, at: []place{{0, 0.5, 0.5, 0.5}}, stages: lasting(All(fixed(hot)), 2*second+1)}
	var want [][]float64
	for _, r := range fixedFace {
		e.times = append(e.times, r[0]*second)
		want = append(want, []float64{hot + (cold-hot)*r[1]})
	}
	return append(out, each("wall 30 mm, faces held, Fo 0.05 to 2: centre", series, 1,
		func(a float64) float64 { return e.run(t, a).worst(t, want) }))
}

// billetProofs are two billets with a film of 200 W/m2K, with the mean
// temperature from the heat taken up.
func billetProofs(t *testing.T) (out []comparison) {
	const h, cold, hot = 200, 20.0, 1250.0
	for _, r := range []struct {
		half  float64
		times []float64
	}{{0.025, []float64{20, 300, 600}}, {0.015, []float64{60}}} {
		w := newWall(h * r.half / billet.k)
		b := slab(plain("plain", billet.k, billet.rho, billet.c), 2*r.half)
		e := experiment{body: b, start: cold, times: r.times, at: []place{{0, 0.5, 0.5, 0.5}, {0, 1, 0.5, 0.5}}}
		var want [][]float64
		last := 0.0
		for _, s := range r.times {
			last = s
			fo := s * billet.alpha() / (r.half * r.half)
			want = append(want, []float64{hot + (cold-hot)*w.at(0, fo), hot + (cold-hot)*w.at(1, fo)})
		}
		mean := hot + (cold-hot)*w.mean(last*billet.alpha()/(r.half*r.half))
		e.stages = lasting(All(film(h, hot)), last)
		out = append(out, each(fmt.Sprintf("billet %g mm, film 200: centre, surface, mean", 2000*r.half), series, 1, func(a float64) float64 {
			o := e.run(t, a)
			stored, _ := o.field.Energy()
			got := cold + stored/(billet.rho*billet.c*2*r.half*b.Width*b.Length)
			return math.Max(o.worst(t, want), math.Abs(got-mean))
		}))
	}
	return out
}

func brickProof(t *testing.T) comparison {
	const h, cold, hot, s = 200, 20.0, 1250.0, 300.0
	b := slab(plain("plain", billet.k, billet.rho, billet.c), 0.025)
	b.Width, b.Length, b.Dims = 0.04, 0.1, 3
	theta := func(shares ...float64) float64 {
		v := 1.0
		for a, half := range []float64{0.0125, 0.02, 0.05} {
			v *= newWall(h*half/billet.k).at(shares[a], s*billet.alpha()/(half*half))
		}
		return hot + (cold-hot)*v
	}
	// Computed apart: centre 1005.92343, centre of the side 1021.332165, corner 1062.562284 °C.
	want := [][]float64{{theta(0, 0, 0), theta(0, 1, 0), theta(1, 1, 1)}}
	for k, w := range []float64{1005.92343, 1021.332165, 1062.562284} {
		if math.Abs(want[0][k]-w) > 1e-5 {
			t.Errorf("product solution %.6f, computed apart %.6f", want[0][k], w)
		}
	}
	e := experiment{body: b, start: cold, times: []float64{s}, stages: lasting(All(film(h, hot)), s),
		at: []place{{0, 0.5, 0.5, 0.5}, {0, 0.5, 1, 0.5}, {0, 1, 1, 1}}}
	return each("brick 25 × 40 × 100 mm, film 200, 300 s: centre, side, corner", "product of three walls (Incropera et al. section 5.8, from memory)", 1,
		func(a float64) float64 { return e.run(t, a).worst(t, want) })
}

// longSlabProofs are half-spaces: slabs so long that 60 s don't reach the end.
func longSlabProofs(t *testing.T) (out []comparison) {
	const long = 0.2
	quick := stuff{k: 5.35e-6 * 7800 * 650, rho: 7800, c: 650}
	for _, r := range []struct {
		name    string
		s       stuff
		face    Surround
		times   []float64
		depths  []float64
		at      func(x, t float64) float64
		apart   [][]float64 // computed apart, °C
		closeTo float64     // K: digits of the numbers computed apart, or how far the flux is off
	}{
		{"face stepped to 1200 °C: 10 mm deep", quick, fixed(1200), []float64{60}, []float64{0.010},
			func(x, t float64) float64 { return 20 + 1180*math.Erfc(x/(2*math.Sqrt(quick.alpha()*t))) }, [][]float64{{837.8432958}}, 1e-6},
		{"film 200: face, 10 mm deep", billet, film(200, 1250), []float64{60}, []float64{0, 0.010},
			func(x, t float64) float64 { return 20 + 1230*billet.convected(x, t, 200) }, [][]float64{{176.6250445, 115.0375159}}, 1e-6},
		{"flux 150 kW/m2: face, 5 mm deep", billet, flux(150e3), []float64{30}, []float64{0, 0.005},
			func(x, t float64) float64 { return 20 + billet.driven(x, t, 150e3) }, [][]float64{{95.16961722, 72.80079245}}, 1e-6},
	} {
		b := slab(plain("plain", r.s.k, r.s.rho, r.s.c), long)
		e := experiment{body: b, start: 20, times: r.times}
		for _, d := range r.depths {
			e.at = append(e.at, place{0, d / long, 0.5, 0.5})
		}
		var want [][]float64
		for i, s := range r.times {
			var row []float64
			for k, d := range r.depths {
				v := r.at(d, s)
				if math.Abs(v-r.apart[i][k]) > r.closeTo {
					t.Errorf("%s: %.7f, computed apart %.7f", r.name, v, r.apart[i][k])
				}
				row = append(row, v)
			}
			want = append(want, row)
		}
		e.stages = lasting(Surroundings{Bottom: r.face}, r.times[len(r.times)-1])
		out = append(out, each("half-space, "+r.name, "closed form (Incropera et al. section 5.7, from memory)", 1,
			func(a float64) float64 { return e.run(t, a).worst(t, want) }))
	}
	return append(out, earlySkin(t))
}

// earlySkin is the face of a half-space in the first seconds after it meets a
// flux as in a forge, from 0.05 s on: there the temperature bends within little
// more than a cell.
func earlySkin(t *testing.T) comparison {
	const q = 240e3
	e := experiment{body: slab(plain("plain", billet.k, billet.rho, billet.c), 0.2), start: 20,
		at: []place{{0, 0, 0.5, 0.5}}, stages: lasting(Surroundings{Bottom: flux(q)}, 5)}
	var want [][]float64
	for s := 0.05; s < 5; s += 0.05 {
		e.times = append(e.times, s)
		want = append(want, []float64{20 + billet.driven(0, s, q)})
	}
	return each("half-space, flux 240 kW/m2: face in the first 5 s", "closed form (Incropera et al. section 5.7, from memory)", 1,
		func(a float64) float64 { return e.run(t, a).worst(t, want) })
}

func drivenSlabProof(t *testing.T) comparison {
	const half, q, s = 0.0125, 150e3, 60.0
	mid, face := 20+billet.drivenWall(0, s, half, q), 20+billet.drivenWall(half, s, half, q)
	if math.Abs(mid-151.5951677) > 1e-5 || math.Abs(face-182.8451677) > 1e-5 {
		t.Errorf("driven wall: %.7f and %.7f; computed apart 151.5951677 and 182.8451677", mid, face)
	}
	e := experiment{body: slab(plain("plain", billet.k, billet.rho, billet.c), 2*half), start: 20, times: []float64{s},
		at: []place{{0, 0.5, 0.5, 0.5}, {0, 1, 0.5, 0.5}}, stages: lasting(All(flux(q)), s)}
	return each("slab 25 mm, flux 150 kW/m2 on both faces, 60 s: centre, surface", "closed form (Carslaw and Jaeger section 3.8, from memory)", 1,
		func(a float64) float64 { return e.run(t, a).worst(t, [][]float64{{mid, face}}) })
}
