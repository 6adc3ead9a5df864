package layers

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Source: math.Pow. 6e-15: the base-2 logarithm, up to 40, and 128 times its
// product with the exponent are each rounded to half a unit in the last place,
// 3.6e-15 x ln 2; the tables and the series add two roundings.
func TestPower(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	worst := 0.0
	for range 300000 {
		q, a := math.Pow(10, 24*r.Float64()-12), 2*r.Float64()-1
		want := math.Pow(q, a)
		worst = math.Max(worst, math.Abs(power(q, a)/want-1))
	}
	t.Logf("worst %.2g", worst)
	if worst > 6e-15 {
		t.Errorf("off by %g", worst)
	}
	for _, q := range []float64{1, 2, 0.5, math.Nextafter(1, 0), math.Nextafter(2, 0), 1e-200, 1e200} {
		for _, a := range []float64{-1, -0.435, 0, 0.5, 1} {
			if got, want := power(q, a), math.Pow(q, a); math.Abs(got-want) > 6e-15*want {
				t.Errorf("%g^%g: %g, wanted %g", q, a, got, want)
			}
		}
	}
}

func BenchmarkPower(b *testing.B) {
	x := 0.0
	for b.Loop() {
		x += power(1.7+x*1e-9, -0.435)
	}
}

func BenchmarkMathPow(b *testing.B) {
	x := 0.0
	for b.Loop() {
		x += math.Pow(1.7+x*1e-9, -0.435)
	}
}
