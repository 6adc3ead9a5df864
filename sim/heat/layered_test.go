package heat

import (
	"fmt"
	"math"
	"testing"

	"billet/sim/steel"
)

// stack is layers with one joint state each, bonded where the conductance is 0.
func stack(layers []Layer, joints []float64) Body {
	b := Body{Layers: layers, Width: 0.04, Length: 0.1, Dims: 1}
	for i, h := range joints {
		b.Layers[i+1].Joint = Joint{State: Given, Conductance: h}
		if h == 0 {
			b.Layers[i+1].Joint = Joint{State: Welded}
		}
	}
	b.CoreAt = b.Thickness() / 2
	return b
}

const eigen = "eigenfunction series, two independent codings agree, computed apart"

// layeredBodies are composite walls, and two bodies brought into contact.
func layeredBodies(t *testing.T) (out []comparison) {
	for _, gap := range []float64{0, 1000} {
		out = append(out, threeAlike(t, gap))
	}
	for _, gaps := range [][]float64{{0, 0}, {500, 2000}} {
		out = append(out, threeUnlike(t, gaps))
	}
	return append(out, contactProofs(t)...)
}

func jointName(h ...float64) string {
	if h[0] == 0 {
		return "welded"
	}
	return fmt.Sprintf("joints of %v W/m2K", h)
}

// threeAlike is a core of 10 mm between two jackets of 10 mm.
func threeAlike(t *testing.T, gap float64) comparison {
	core, jacket := plain("core", 25, 7700, 700), plain("jacket", 35, 7850, 650)
	b := stack([]Layer{{Material: jacket, Thickness: 0.010}, {Material: core, Thickness: 0.010}, {Material: jacket, Thickness: 0.010}}, []float64{gap, gap})
	want := [][]float64{{384.9993663, 392.1957743, 392.1957743, 431.8313538}}
	if gap > 0 {
		want = [][]float64{{329.1302324, 336.5327623, 410.4643044, 449.7474243}}
	}
	e := experiment{body: b, start: 20, times: []float64{120}, stages: lasting(All(film(250, 1250)), 120),
		at: []place{{1, 0.5, 0.5, 0.5}, {1, 1, 0.5, 0.5}, {2, 0, 0.5, 0.5}, {2, 1, 0.5, 0.5}}}
	return each("core 10 mm between jackets of 10 mm, "+jointName(gap)+": centre, joint, surface", eigen, 1,
		func(a float64) float64 { return e.run(t, a).worst(t, want) })
}

// threeUnlike is 4 / 3 / 13 mm, also with gaps of two sizes.
func threeUnlike(t *testing.T, gaps []float64) comparison {
	a, c := plain("jacket", 33, 7850, 620), plain("core", 26, 7800, 680)
	b := stack([]Layer{{Material: a, Thickness: 0.004}, {Material: c, Thickness: 0.003}, {Material: a, Thickness: 0.013}}, gaps)
	want := [][]float64{{586.491074, 573.5379802, 573.5379802, 566.6845208, 566.6845208, 585.557461, 579.2288514, 569.4910574, 567.6953497}}
	if gaps[0] > 0 {
		want = [][]float64{{684.5396273, 673.3811345, 531.5994288, 525.8793911, 511.7760275, 534.587995, 678.3208295, 528.1236851, 514.7316733}}
	}
	e := experiment{body: b, start: 20, times: []float64{150}, stages: lasting(All(film(200, 1250)), 150),
		at: []place{{0, 0, 0.5, 0.5}, {0, 1, 0.5, 0.5}, {1, 0, 0.5, 0.5}, {1, 1, 0.5, 0.5}, {2, 0, 0.5, 0.5}, {2, 1, 0.5, 0.5},
			{0, 0.5, 0.5, 0.5}, {1, 0.5, 0.5, 0.5}, {2, 0.5, 0.5, 0.5}}}
	return each("4 / 3 / 13 mm, "+jointName(gaps...)+": faces, joints, middles of the layers", eigen, 1,
		func(acc float64) float64 { return e.run(t, acc).worst(t, want) })
}

// contactProofs bring a billet at 1150 °C on a die at 100 °C.
func contactProofs(t *testing.T) (out []comparison) {
	hot, die := stuff{28, 7800, 650}, stuff{30, 7800, 500}
	times := []float64{0.1, 1, 5}
	apart := map[float64][][]float64{
		2000:  {{1092.84058, 162.96191}, {999.978639, 265.250646}, {896.683751, 379.031423}},
		10000: {{943.765531, 327.170178}, {791.845898, 494.511797}, {719.728940, 573.949643}},
	}
	material := func(name string, s stuff) steel.Material { return plain(name, s.k, s.rho, s.c) }
	for _, h := range []float64{2000, 10000} {
		b := stack([]Layer{{Material: material("die", die), Thickness: 0.05, Start: 100 + zeroC}, {Material: material("billet", hot), Thickness: 0.05}}, []float64{h})
		e := experiment{body: b, start: 1150, times: times, stages: lasting(Surroundings{}, 5),
			at: []place{{1, 0, 0.5, 0.5}, {0, 1, 0.5, 0.5}}}
		var want [][]float64
		for i, s := range times {
			fa, fb := touching(hot, die, 1150, 100, h, s)
			want = append(want, []float64{fa, fb})
			if w := apart[h][i]; math.Abs(fa-w[0]) > 1e-4 || math.Abs(fb-w[1]) > 1e-4 {
				t.Errorf("contact %g at %g s: %.6f, %.6f; computed apart %.6f, %.6f", h, s, fa, fb, w[0], w[1])
			}
		}
		out = append(out, each(fmt.Sprintf("billet at 1150 °C on a die at 100 °C through %g W/m2K, 0.1 to 5 s: both faces", h),
			"closed form for two half-spaces (after Carslaw and Jaeger section 2.15, from memory)", 1,
			func(a float64) float64 { return e.run(t, a).worst(t, want) }))
	}
	return out
}
