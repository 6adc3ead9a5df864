package steel

import (
	"fmt"
	"math"
	"sort"
)

// Curve is a piecewise-linear property of temperature.
type Curve struct {
	T []float64 // K, strictly increasing
	V []float64 // SI, same length as T
}

// At returns the value at tK (K): linear between the knots, held at the
// first and the last. An empty curve gives 0.
func (c Curve) At(tK float64) float64 {
	n := len(c.T)
	if n == 0 {
		return 0
	}
	if !(tK > c.T[0]) { // also catches NaN
		return c.V[0]
	}
	if tK >= c.T[n-1] {
		return c.V[n-1]
	}
	i := sort.SearchFloat64s(c.T, tK)
	t0, t1 := c.T[i-1], c.T[i]
	return c.V[i-1] + (c.V[i]-c.V[i-1])*(tK-t0)/(t1-t0)
}

// clone returns a copy that shares no memory with c.
func (c Curve) clone() Curve {
	return Curve{T: append([]float64(nil), c.T...), V: append([]float64(nil), c.V...)}
}

// check says what is wrong with a curve given by a caller; values must lie
// in [low, high].
func (c Curve) check(low, high float64, unit string) error {
	if len(c.T) == 0 || len(c.T) != len(c.V) {
		return fmt.Errorf("%d temperatures and %d values; as many of each, at least one", len(c.T), len(c.V))
	}
	for i, t := range c.T {
		if !(t >= 0 && t < 5000) {
			return fmt.Errorf("temperature %g K; 0 to 5000 K", t)
		}
		if i > 0 && t <= c.T[i-1] {
			return fmt.Errorf("temperature %g K after %g K; strictly increasing", t, c.T[i-1])
		}
		if v := c.V[i]; !(v >= low && v <= high) {
			return fmt.Errorf("%g %s at %g K; %g to %g %s", v, unit, t, low, high, unit)
		}
	}
	return nil
}

// The range over which every built curve carries knots. A smith's shop does
// not go beyond it; outside it a curve is held at its ends.
const (
	coldestK = 233.15  // K, -40 C
	hottestK = 1823.15 // K, 1550 C
	roomK    = 293.15  // K, 20 C, where every enthalpy is zero
	zeroC    = 273.15  // K, exact
)

// integrate returns the enthalpy, J/kg from 20 C, of a piecewise-linear heat
// capacity held at its ends. Within a segment the enthalpy is quadratic; the
// knots are put so close that reading it linearly is wrong by less than
// 0.005 K (h^2/8 * |dcp/dT| / cp).
func integrate(cp Curve) Curve {
	knots := []float64{coldestK, roomK, hottestK}
	for _, t := range cp.T {
		if t > coldestK && t < hottestK {
			knots = append(knots, t)
		}
	}
	knots = unique(knots)
	var out Curve
	h := 0.0
	out.T, out.V = append(out.T, knots[0]), append(out.V, 0)
	for i := 1; i < len(knots); i++ {
		a, b := knots[i-1], knots[i]
		ca, cb := cp.At(a), cp.At(b)
		slope := math.Abs(cb-ca) / (b - a) / math.Min(ca, cb)
		n := int(math.Ceil((b - a) / math.Min(10, math.Sqrt(8*0.005/math.Max(slope, 1e-12)))))
		for j := 1; j <= n; j++ {
			t := a + (b-a)*float64(j)/float64(n)
			if j == n {
				t = b
			}
			prev := out.T[len(out.T)-1]
			h += (cp.At(prev) + cp.At(t)) / 2 * (t - prev)
			out.T, out.V = append(out.T, t), append(out.V, h)
		}
	}
	return out.zeroAt(roomK)
}

// zeroAt shifts the values so that the curve is zero at tK.
func (c Curve) zeroAt(tK float64) Curve {
	z := c.At(tK)
	for i := range c.V {
		c.V[i] -= z
	}
	return c
}

// sample evaluates f at the given temperatures (K).
func sample(knots []float64, f func(tK float64) float64) Curve {
	c := Curve{T: knots, V: make([]float64, len(knots))}
	for i, t := range knots {
		c.V[i] = f(t)
	}
	return c
}

// unique sorts xs and drops values closer than a microkelvin to the one
// before.
func unique(xs []float64) []float64 {
	sort.Float64s(xs)
	out := xs[:0]
	for _, x := range xs {
		if len(out) == 0 || x-out[len(out)-1] > 1e-6 {
			out = append(out, x)
		}
	}
	return out
}

// spaced returns temperatures from a to b (K) no more than step apart.
func spaced(a, b, step float64) []float64 {
	n := int(math.Ceil((b-a)/step - 1e-9))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n)
	}
	return out
}

// smooth is the monotone cubic through increasing data (Fritsch and Carlson,
// SIAM J. Numer. Anal. 17 (1980) 238: harmonic-mean slopes), continued
// straight beyond both ends. It passes through every point, so published
// integrals are kept, and its slope has no steps.
type smooth struct{ x, y, d []float64 }

func newSmooth(x, y []float64) smooth {
	n := len(x)
	s := smooth{x, y, make([]float64, n)}
	secant := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	for i := 1; i < n-1; i++ {
		a, b := secant(i-1), secant(i)
		if a*b > 0 {
			h0, h1 := x[i]-x[i-1], x[i+1]-x[i]
			w0, w1 := 2*h1+h0, h1+2*h0
			s.d[i] = (w0 + w1) / (w0/a + w1/b)
		}
	}
	s.d[0], s.d[n-1] = secant(0), secant(n-2)
	return s
}

func (s smooth) at(x float64) float64 {
	n := len(s.x)
	switch {
	case x <= s.x[0]:
		return s.y[0] + s.d[0]*(x-s.x[0])
	case x >= s.x[n-1]:
		return s.y[n-1] + s.d[n-1]*(x-s.x[n-1])
	}
	i := sort.SearchFloat64s(s.x, x) - 1
	h := s.x[i+1] - s.x[i]
	t := (x - s.x[i]) / h
	u := 1 - t
	return u*u*(1+2*t)*s.y[i] + t*t*(3-2*t)*s.y[i+1] + h*t*u*(u*s.d[i]-t*s.d[i+1])
}
