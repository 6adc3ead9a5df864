package layers

import (
	"fmt"
	"math"
	"sort"
)

// Trial is a three-layer bar pressed in steps: the cases on which the coarse
// mesh is judged by a fine one.
type Trial struct {
	Name       string
	Width      float64    // m, bar 38 mm thick
	Thickness  [3]float64 // m
	Strength   [3]float64 // Pa at 1/s and 1100 C; rate exponent 0.13
	Friction   [2]float64 // bottom, top
	ColderBy   float64    // K, side B below side A
	SlipFactor float64    // Tresca factor of both joints; 0 = welded
	Heights    []float64  // m, one squeeze each
}

// Trials are the combinations of jacket over core strength 0.5, 1, 2; 0, 50,
// 100 K; friction 0.3/0.3 and 0.3/0.8; thickness over width 0.4, 0.7, 1; welded
// or slipping at 0.2; equal or unequal jackets; to 10, 20, ... 50 %.
func Trials() []Trial {
	var out []Trial
	for _, slip := range []float64{0, 0.2} {
		for _, thick := range [][3]float64{{0.012, 0.014, 0.012}, {0.009, 0.014, 0.015}} {
			for _, ratio := range []float64{0.5, 1, 2} {
				for _, colder := range []float64{0, 50, 100} {
					for _, sticky := range []float64{0.3, 0.8} {
						for _, tw := range []float64{0.4, 0.7, 1} {
							out = append(out, newTrial(slip, thick, ratio, colder, sticky, tw))
						}
					}
				}
			}
		}
	}
	return out
}

func newTrial(slip float64, thick [3]float64, ratio, colder, sticky, tw float64) Trial {
	t := Trial{
		Name:  fmt.Sprintf("slip %g, %g/%g/%g mm, jacket/core %g, %g K, friction %g, t:w %g", slip, thick[0]*1e3, thick[1]*1e3, thick[2]*1e3, ratio, colder, sticky, tw),
		Width: 0.038 / tw, Thickness: thick, Friction: [2]float64{sticky, 0.3}, ColderBy: colder, SlipFactor: slip,
		Strength: [3]float64{60e6, 60e6 / ratio, 60e6},
	}
	for _, r := range []float64{0.1, 0.2, 0.3, 0.4, 0.5} {
		t.Heights = append(t.Heights, 0.038*(1-r))
	}
	return t
}

// Run presses a trial on a mesh and returns the shape and force after each
// squeeze.
func (t Trial) Run(mesh Mesh, step float64) ([]Shape, []float64, error) {
	ls := make([]Layer, 3)
	for i := range ls {
		s := t.Strength[i]
		ls[i] = Layer{Thickness: t.Thickness[i], Strength: func(_, rate, tempK float64) float64 {
			return s * math.Pow(rate, 0.13) * math.Exp(5000/tempK-5000.0/1373)
		}}
	}
	js := []Joint{{Welded: true}, {Welded: true}}
	if t.SlipFactor > 0 {
		js = []Joint{{Friction: t.SlipFactor}, {Friction: t.SlipFactor}}
	}
	s, err := NewStack(t.Width, 0.12, ls, js, 1, mesh)
	if err != nil {
		return nil, nil, err
	}
	var shapes []Shape
	var forces []float64
	for _, h := range t.Heights {
		rep, err := s.Press(Squeeze{
			To: h, Bite: 0.038, Speed: 0.02, Step: step,
			Bottom: Face{Friction: t.Friction[0]}, Top: Face{Friction: t.Friction[1]},
			Temperature: func(_, through float64) float64 { return 1373 + t.ColderBy*(through-0.5) },
			Restraint:   0.22 + 0.46*math.Min(0.038/t.Width, 1.6),
		})
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", t.Name, err)
		}
		shapes, forces = append(shapes, rep.After), append(forces, rep.Force)
	}
	return shapes, forces, nil
}

// Agreement says how well one mesh's offsets follow another's, over all
// squeezes whose offset (less the jackets' own inequality) is above 0.1 mm.
type Agreement struct {
	Quantity string // centre, mean or edge
	Count    int
	SameSign float64 // share
	Median   float64 // of the ratio coarse to fine
	Low      float64 // a tenth of the ratios lie below
	High     float64 // a tenth lie above
	Within25 float64 // share within 25 %
}

// Judge compares a coarse mesh with a fine one over trials. force is the mean
// ratio of the forces.
func Judge(trials []Trial, coarse, fine Mesh, coarseStep, fineStep float64) (out []Agreement, force float64, err error) {
	ratios := map[string][]float64{}
	names := []string{"centre", "mean", "edge"}
	sum, n := 0.0, 0
	for _, t := range trials {
		a, fa, err := t.Run(coarse, coarseStep)
		if err != nil {
			return nil, 0, err
		}
		b, fb, err := t.Run(fine, fineStep)
		if err != nil {
			return nil, 0, err
		}
		for i := range a {
			own := (t.Thickness[0] - t.Thickness[2]) / 0.076 * t.Heights[i]
			x := [3]float64{a[i].Centre - own, a[i].Offset - own, a[i].Right - own}
			y := [3]float64{b[i].Centre - own, b[i].Offset - own, b[i].Right - own}
			for k, name := range names {
				if math.Abs(y[k]) > 1e-4 {
					ratios[name] = append(ratios[name], x[k]/y[k])
				}
			}
			sum += fa[i] / fb[i]
			n++
		}
	}
	for _, name := range names {
		out = append(out, agreement(name, ratios[name]))
	}
	return out, sum / float64(n), nil
}

func agreement(name string, r []float64) Agreement {
	a := Agreement{Quantity: name, Count: len(r)}
	if len(r) == 0 {
		return a
	}
	sort.Float64s(r)
	at := func(q float64) float64 { return r[int(q*float64(len(r)-1)+0.5)] }
	a.Median, a.Low, a.High = at(0.5), at(0.1), at(0.9)
	for _, v := range r {
		if v > 0 {
			a.SameSign += 1 / float64(len(r))
		}
		if math.Abs(v-1) <= 0.25 {
			a.Within25 += 1 / float64(len(r))
		}
	}
	return a
}
