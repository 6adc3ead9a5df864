package heat

import (
	"math"
	"testing"
)

// stageEnds: events against closed forms, in percent of their time, at most 0.1.
func stageEnds(t *testing.T) []comparison {
	const half, cold, hot, bi = 0.015, 20.0, 1250.0, 1.0
	w := newWall(bi)
	second := half * half / billet.alpha()
	arrival := func(x, theta float64) float64 {
		return second * root(1e-3, 20, func(fo float64) float64 { return w.at(x, fo) - theta })
	}
	h := bi * billet.k / half
	events := []struct {
		name   string
		start  float64
		around float64
		on     Reading
		to     float64
		x      float64
	}{
		{"skin upward", cold, hot, Skin, 700, 1}, {"core upward", cold, hot, Core, 1150, 0}, {"skin early", cold, hot, Skin, 400, 1},
		{"skin downward", hot, cold, Skin, 600, 1}, {"core downward", hot, cold, Core, 300, 0}, {"core near the end", cold, hot, Core, 1249, 0},
	}
	var out []comparison
	for _, ev := range events {
		want := arrival(ev.x, (ev.to-ev.around)/(ev.start-ev.around))
		p := comparison{name: "wall 30 mm, Bi 1, stage ends with " + ev.name, source: series, what: "5, 1, 0.5, 0.1 K", unit: "%", note: "end times"}
		for _, acc := range asked {
			e := experiment{body: billet.steel(), start: ev.start, stages: []Stage{{In: All(film(h, ev.around)), End: End{On: ev.on, Temperature: ev.to + zeroC}}}}
			o := e.run(t, acc)
			if !o.reached[0] {
				t.Errorf("%s: not reached", ev.name)
			}
			if d := math.Abs(o.field.Read(ev.on) - ev.to - zeroC); d > 1e-4 { // K: what a microsecond and the cubic between steps leave
				t.Errorf("%s: stopped at %.6f K from its temperature", ev.name, d)
			}
			p.got, p.limit = append(p.got, 100*math.Abs(o.ends[0]-want)/want), append(p.limit, 0.1)
		}
		out = append(out, p)
	}
	return append(out, jointEnd(t))
}

// jointEnd: in a stack that conducts so well that it is even, the coldest joint
// is where radiation alone has the lumped body.
func jointEnd(t *testing.T) comparison {
	m := plain("lump", 1e5, 7850, 650)
	b := stack([]Layer{{Material: m, Thickness: 0.008}, {Material: m, Thickness: 0.009}, {Material: m, Thickness: 0.008}}, []float64{1e7, 1e7})
	want := radiated(20+zeroC, 1150+zeroC, 1250+zeroC, 0.8, 7850*650*0.0125)
	p := comparison{name: "even stack of 25 mm, stage ends with the coldest joint", source: "closed form (Heat Transfer Handbook p. 231, read in excerpt)", what: "5, 1, 0.5, 0.1 K", unit: "%", note: "end times"}
	for _, acc := range asked {
		e := experiment{body: b, start: 20, stages: []Stage{{In: All(Surround{Wall: Constant(1250 + zeroC), Emissivity: 0.8}), End: End{On: ColdestJoint, Temperature: 1150 + zeroC}}}}
		p.got, p.limit = append(p.got, 100*math.Abs(e.run(t, acc).ends[0]-want)/want), append(p.limit, 0.1)
	}
	return p
}

func TestEnds(t *testing.T) {
	forge, air := All(gasForge(1250)), All(Surround{Wall: Constant(293.15), Gas: Constant(293.15), Film: 10, Emissivity: 0.8})
	lit := Series{Time: []float64{0, 300}, Value: []float64{293.15, 1523.15}}
	lighting := All(Surround{Wall: lit, Gas: lit, Film: 25, Emissivity: 0.8})
	skin := func(in Surroundings, c, hold float64) Stage {
		return Stage{In: in, End: End{On: Skin, Temperature: c + zeroC, Hold: hold}}
	}
	for _, c := range []struct {
		name     string
		start    float64
		stages   []Stage
		reached  []bool
		min, max float64 // s, length of the last stage
	}{
		{"already met upward", 800, []Stage{skin(forge, 700, 0)}, []bool{true}, 0, 0},
		{"already met downward", 500, []Stage{skin(air, 700, 0)}, []bool{true}, 0, 0},
		{"already met, then held", 800, []Stage{skin(forge, 700, 45)}, []bool{true}, 45, 45},
		{"out of reach", 20, []Stage{skin(forge, 1260, 0)}, []bool{false}, 500, Longest},
		{"out of reach by a hair", 20, []Stage{skin(forge, 1250, 0)}, []bool{false}, 500, Longest},
		{"nothing happens in air", 20, []Stage{skin(air, 700, 0)}, []bool{false}, 0, Longest},
		{"insulated", 20, []Stage{skin(Surroundings{}, 700, 0)}, []bool{false}, 0, Longest},
		{"colder than the air", 200, []Stage{skin(air, 10, 0)}, []bool{false}, 500, Longest},
		{"a forge being lit", 20, []Stage{skin(lighting, 700, 0)}, []bool{true}, 200, 500},
		{"downward after upward", 20, []Stage{skin(forge, 900, 0), skin(air, 650, 0)}, []bool{true, true}, 150, 400},
		{"downward and held", 20, []Stage{skin(forge, 900, 0), skin(air, 650, 30)}, []bool{true, true}, 180, 430},
		{"no time at all", 20, lasting(forge, 0), []bool{true}, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := experiment{body: slab(lookup(t, "1018"), 0.02), start: c.start, stages: c.stages}.run(t, 0.5)
			for i, want := range c.reached {
				if o.reached[i] != want {
					t.Errorf("stage %d: reached %v, want %v", i+1, o.reached[i], want)
				}
			}
			length := o.ends[len(o.ends)-1]
			if n := len(o.ends); n > 1 {
				length -= o.ends[n-2]
			}
			if length < c.min-1e-6 || length > c.max+1e-6 {
				t.Errorf("took %g s, want %g to %g", length, c.min, c.max)
			}
		})
	}
}

// Surroundings that break the symmetry a field was made with are refused.
func TestAsymmetricSurroundingsRefused(t *testing.T) {
	f, err := New(slab(lookup(t, "1018"), 0.02), 293.15, Options{All: []Surroundings{All(gasForge(1250))}})
	if err != nil {
		t.Fatal(err)
	}
	uneven := Surroundings{Top: gasForge(1250)}
	if _, err := f.Run(Stage{In: uneven, End: End{Timed: true, Time: 10}}, nil); err == nil {
		t.Error("half a body went into an uneven forge")
	}
}
