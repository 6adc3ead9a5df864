package sim

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The end beside the handle against bar and handle cut into many slices and
// solved as one chain of conductances: the closed form of two fins in series.
func TestHandleCold(t *testing.T) {
	j := threeLayers(t)
	j.Handling.Handle = &Handle{Thickness: 0.0127, Width: 0.0127, Length: 0.4, At: Back}
	drop, reach := handleCold(j)

	const n = 1500
	const dx = 0.7 / n // the bar from -0.3 m to 0, the handle from 0 to 0.4
	fire, air := j.Forge.Whole.Wall.At(0), j.Air.Gas.At(0)
	film := j.Forge.Whole.Film + 4*finEmissivity*finStefan*math.Pow(fire, 3)
	a := mat.NewTridiag(n, make([]float64, n-1), make([]float64, n), make([]float64, n-1))
	b := mat.NewVecDense(n, nil)
	area := func(x float64) (area, round, h, around float64) {
		if x < 0 {
			return 0.026 * 0.038, 2 * (0.026 + 0.038), film, fire
		}
		return 0.0127 * 0.0127, 4 * 0.0127, finAirFilm, air
	}
	diag := make([]float64, n)
	for i := range n {
		x := -0.3 + (float64(i)+0.5)*dx
		s, p, h, around := area(x)
		diag[i] += h * p * dx
		b.SetVec(i, h*p*dx*around)
		if i+1 < n {
			s2, _, _, _ := area(x + dx)
			g := finConductivity / dx * 2 * s * s2 / (s + s2) // half a slice of each
			diag[i] += g
			diag[i+1] += g
			a.SetBand(i, i+1, -g)
			a.SetBand(i+1, i, -g)
		}
	}
	for i, d := range diag {
		a.SetBand(i, i, d)
	}
	var x mat.VecDense
	if err := a.SolveVecTo(&x, false, b); err != nil {
		t.Fatal(err)
	}
	at := int(math.Round(0.3 / dx))
	s1, _, _, _ := area(-dx)
	s2, _, _, _ := area(dx)
	got := fire - (s1*x.AtVec(at-1)+s2*x.AtVec(at))/(s1+s2) // the same heat flows in both half slices
	// The slice, 0.5 mm on a reach of 17, sets the tolerance.
	if math.Abs(got-drop) > 0.03*drop {
		t.Errorf("end %.1f K below the fire by slices, %.1f by two fins", got, drop)
	}
	further := fire - x.AtVec(at-1-int(math.Round(reach/dx)))
	if want := drop / math.E; math.Abs(further-want) > 0.05*want {
		t.Errorf("one reach on %.1f K below the fire, %.1f by the fin", further, want)
	}
	if !strings.Contains(handleNote(j), "cut it off") {
		t.Errorf("note %q", handleNote(j))
	}
	j.Handling.Handle = nil
	if handleNote(j) != "" {
		t.Error("a note without a handle")
	}
}
