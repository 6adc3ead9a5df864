package heat

import (
	"math"
	"testing"
)

// sameBody: the same thing described in another way gives the same answer.
func sameBody(t *testing.T) []comparison {
	return []comparison{mirrored(t), symmetryUsed(t, 1), symmetryUsed(t, 2), symmetryUsed(t, 3), splitSlab(t), packedLayers(t), turnedBrick(t)}
}

// difference is the largest between two outcomes, K, by time and place.
func difference(a, b outcome) float64 {
	worst := 0.0
	for i := range a.c {
		for k := range a.c[i] {
			worst = math.Max(worst, math.Abs(a.c[i][k]-b.c[i][k]))
		}
	}
	return worst
}

var often = []float64{5, 20, 60, 120, 180, 240}

// mirrored: stack and surroundings turned over.
func mirrored(t *testing.T) comparison {
	up := hysteretic(t, 2)
	up.Layers[1].Joint = Joint{State: Ground}
	down := up
	n := len(up.Layers)
	down.Layers = make([]Layer, n)
	for i, l := range up.Layers {
		down.Layers[n-1-i] = l
		if i > 0 {
			down.Layers[n-i].Joint = l.Joint
		}
	}
	down.CoreAt = up.Thickness() - up.CoreAt
	in := Surroundings{Bottom: film(300, 1000), Top: gasForge(1300), Left: gasForge(1250), Right: gasForge(1300)}
	over := Surroundings{Bottom: in[Top], Top: in[Bottom], Left: in[Right], Right: in[Left]}
	a := experiment{body: up, start: 20, stages: lasting(in, 240), times: often}
	b := experiment{body: down, start: 20, stages: lasting(over, 240), times: often}
	for layer := range n {
		for _, z := range []float64{0, 0.3, 1} {
			for _, y := range []float64{0, 0.5, 1} {
				a.at = append(a.at, place{layer, z, y, 0.5})
				b.at = append(b.at, place{n - 1 - layer, 1 - z, 1 - y, 0.5})
			}
		}
	}
	p := comparison{name: "three steels turned over with their forge: every layer's faces and inside", source: "symmetry", what: "5, 1, 0.5, 0.1 K", unit: "K",
		note: "rounding, grown by the choice of steps"}
	for _, acc := range asked {
		p.got, p.limit = append(p.got, difference(a.run(t, acc), b.run(t, acc))), append(p.limit, 1e-6)
	}
	return p
}

// symmetryUsed: a half, a quarter and an eighth against the whole. Steps are
// chosen by a mean over the volume, which is the same for the part, so that only
// rounding is left.
func symmetryUsed(t *testing.T, dims int) comparison {
	m, c := lookup(t, "EN 1993-1-2 carbon steel"), lookup(t, "EN 1993-1-2 stainless steel")
	b := Body{Width: 0.04, Length: 0.12, Dims: dims, CoreAt: 0.014,
		Layers: []Layer{{Material: m, Thickness: 0.010}, {Material: c, Thickness: 0.008}, {Material: m, Thickness: 0.010}}}
	part := experiment{body: b, start: 20, stages: lasting(All(gasForge(1300)), 240), times: often,
		at: []place{{0, 0, 0.5, 0.5}, {0, 1, 1, 0.5}, {1, 0, 0, 1}, {1, 0.5, 0.5, 0.5}, {2, 0, 0.5, 0}, {2, 0.5, 1, 1}, {2, 1, 1, 1}}}
	whole := part
	whole.opt.Whole = true
	name := [4]string{"", "half a stack", "a quarter of a section", "an eighth of a brick"}[dims]
	p := comparison{name: name + " against the whole: seven places", source: "symmetry", what: "5, 1, 0.5 K", unit: "K", note: "rounding, grown by the choice of steps"}
	for _, acc := range asked[:3] {
		p.got, p.limit = append(p.got, difference(part.run(t, acc), whole.run(t, acc))), append(p.limit, 1e-6)
	}
	return p
}

// splitSlab: 30 mm of one steel as ten welded layers of 3 mm, and as one.
func splitSlab(t *testing.T) comparison {
	m := lookup(t, "EN 1993-1-2 carbon steel")
	one := experiment{body: slab(m, 0.03), start: 20, stages: lasting(All(gasForge(1300)), 300), times: []float64{20, 60, 120, 300},
		at: []place{{0, 0, 0.5, 0.5}, {0, 0.3, 0.5, 0.5}, {0, 0.5, 0.5, 0.5}}}
	ten := one
	var layers []Layer
	for range 10 {
		layers = append(layers, Layer{Material: m, Thickness: 0.003})
	}
	ten.body = stack(layers, make([]float64, 9))
	ten.at = []place{{0, 0, 0.5, 0.5}, {2, 1, 0.5, 0.5}, {4, 1, 0.5, 0.5}}
	return each("slab 30 mm in one and in ten welded layers: face, 9 mm deep, middle", "the same body", 1, func(a float64) float64 {
		return difference(one.run(t, a), ten.run(t, a))
	})
}

// packedLayers: welded layers thin enough to be solved as one piece, against the
// same layers each with nodes of its own, as an accuracy of 0.05 K asks for.
func packedLayers(t *testing.T) comparison {
	e := experiment{start: 20, stages: lasting(All(gasForge(1300)), 300), times: []float64{10, 30, 60, 90, 120, 180, 300},
		at: []place{{0, 0, 0.5, 0.5}, {12, 0.5, 0.5, 0.5}, {24, 1, 0.5, 0.5}, {24, 1, 0, 0.5}}}
	var layers []Layer
	for i := range 50 {
		layers = append(layers, Layer{Material: lookup(t, []string{"1084", "15N20"}[i%2]), Thickness: 0.4e-3, Joint: Joint{State: Welded}})
	}
	e.body = Body{Layers: layers, CoreAt: 0.01, Width: 0.04, Length: 0.1, Dims: 2}
	apart := e.run(t, 0.05)
	if n := len(apart.field.mesh.packs); n != 50 {
		t.Errorf("%d pieces at 0.05 K, want 50", n)
	}
	p := each("50 welded layers of 0.4 mm in few pieces and each its own, section: face, a quarter deep, middle, side", "the same body", 1, func(a float64) float64 {
		o := e.run(t, a)
		if n := len(o.field.mesh.packs); a >= 0.5 && n > 10 {
			t.Errorf("%d pieces at %g K", n, a)
		}
		out, _ := o.within(t, apart.c)
		return out
	})
	p.what, p.got, p.limit = "5, 1, 0.5 K", p.got[:3], p.limit[:3]
	return p
}

// turnedBrick: the three sizes in every direction.
func turnedBrick(t *testing.T) comparison {
	m := plain("plain", 30, 7800, 650)
	sizes := [3]float64{0.025, 0.04, 0.1}
	turn := func(z, y, x int) experiment {
		b := slab(m, sizes[z])
		b.Width, b.Length, b.Dims = sizes[y], sizes[x], 3
		e := experiment{body: b, start: 20, stages: lasting(All(gasForge(1250)), 120), times: []float64{10, 30, 60, 120}, at: []place{{0, 0.5, 0.5, 0.5}, {0, 1, 1, 1}}}
		for _, size := range []int{0, 1, 2} { // the centre of the face across each size
			p := place{0, 0.5, 0.5, 0.5}
			switch size {
			case z:
				p.z = 1
			case y:
				p.y = 1
			case x:
				p.x = 1
			}
			e.at = append(e.at, p)
		}
		return e
	}
	p := comparison{name: "brick 25 × 40 × 100 mm turned to all directions: centre, corner, faces", source: "the same body", what: "5, 1, 0.5 K", unit: "K", note: "the accuracy asked"}
	for _, a := range asked[:3] {
		first := turn(0, 1, 2).run(t, a)
		worst := 0.0
		for _, o := range [][3]int{{0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
			worst = math.Max(worst, difference(first, turn(o[0], o[1], o[2]).run(t, a)))
		}
		p.got, p.limit = append(p.got, worst), append(p.limit, a)
	}
	return p
}

// Order in space, and error against the tolerance of a step, with a steel that
// transforms, without reversal: 2 on the finest pair, to what rounding the number
// of cells up leaves.
func TestOrderWithTransformation(t *testing.T) {
	m := lookup(t, "1018")
	in := All(gasForge(1250))
	solve := func(time, grid, tol float64) (skin float64, nodes, steps int) {
		f, err := New(slab(m, 0.02), 293.15, Options{Accuracy: 0.5, All: []Surroundings{in}, Coarser: grid})
		if err != nil {
			t.Fatal(err)
		}
		f.tol = tol
		if _, err := f.Run(Stage{In: in, End: End{Timed: true, Time: time}}, nil); err != nil {
			t.Fatal(err)
		}
		return f.Read(Skin), f.Cells(), f.Steps
	}
	for _, c := range []struct {
		name string
		time float64
	}{{"before", 60}, {"through", 300}} {
		ref, _, _ := solve(c.time, 0.05, 2e-4)
		var lastErr, lastN float64
		for _, grid := range []float64{1, 0.5, 0.25} {
			v, n, _ := solve(c.time, grid, 2e-4)
			err := math.Abs(v - ref)
			order := math.Log(lastErr/err) / math.Log(float64(n-1)/lastN)
			t.Logf("space, %s: %d nodes, error %.2e K, order %.2f", c.name, n, err, order)
			if grid == 0.25 && order < 1.9 {
				t.Errorf("space, %s: order %.2f, want 2", c.name, order)
			}
			lastErr, lastN = err, float64(n-1)
		}
		ref, _, _ = solve(c.time, 1, 1e-5)
		for _, tol := range []float64{0.1, 0.01, 0.001} {
			v, _, steps := solve(c.time, 1, tol)
			t.Logf("time, %s: tolerance %g K, %d steps, error %.2e K", c.name, tol, steps, math.Abs(v-ref))
			if math.Abs(v-ref) > 4*tol {
				t.Errorf("time, %s: a tolerance of %g K a step leaves %.2e K, more than 4 times it", c.name, tol, math.Abs(v-ref))
			}
		}
	}
}
