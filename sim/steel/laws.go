package steel

import (
	"fmt"
	"math"
)

// creep is steady-state power-law creep with breakdown, Frost and Ashby,
// Deformation-Mechanism Maps (1982), form and constants from memory:
//
//	shear rate = A2 (D mu b / kT) [sinh(a s/mu)/a]^n,  A2 = 3^((n+1)/2) A
//	D = D0 exp(-Q/RT),  mu = mu300 [1 + slope (T - 300)/Tm]
//
// with shear rate = sqrt(3) rate and stress = sqrt(3) s. It has no strain in
// it: it is the level that hot metal settles to.
type creep struct {
	metal     string
	n, a      float64 // -, -
	d0, q     float64 // m2/s, J/mol
	mu, slope float64 // Pa at 300 K, -
	melts     float64 // K
	b         float64 // m
	breakdown float64 // a, about 1000; 0 for the plain power law
	low, high float64 // K, range
}

const boltzmann = 1.380649e-23 // J/K, exact

func (l creep) stress(_, rate, tK float64) (float64, bool) {
	t := math.Max(l.low, math.Min(tK, 0.99*l.melts)) // colder: held
	mu := l.mu * (1 + l.slope*(t-300)/l.melts)
	a2 := math.Pow(3, (l.n+1)/2) * l.a
	d := l.d0 * math.Exp(-l.q/(gasR*t))
	x := math.Pow(math.Sqrt(3)*rate*boltzmann*t/(a2*d*mu*l.b), 1/l.n)
	if l.breakdown > 0 {
		x = math.Asinh(l.breakdown*x) / l.breakdown
	}
	return math.Sqrt(3) * mu * x, tK >= l.low && tK <= l.high && rate >= 1e-3 && rate <= 100
}

func (l creep) says() string {
	return fmt.Sprintf("creep of %s after Frost and Ashby 1982 (from memory), %.0f to %.0f C, to 100 1/s, no effect of strain; held below", l.metal, l.low-zeroC, l.high-zeroC)
}

// powerLaw is the user's law: s rate^m exp(b/T - b/1373 K).
type powerLaw struct {
	s float64 // Pa at 1/s and 1373 K
	m float64
	b float64 // K
}

const userK = 1373.0 // K, where the user's flow stress holds

func (l powerLaw) stress(_, rate, tK float64) (float64, bool) {
	t := math.Max(tK, zeroC+600)
	in := tK >= zeroC+700 && tK <= zeroC+1300 && rate >= 0.01 && rate <= 100
	return l.s * math.Pow(rate, l.m) * math.Exp(l.b/t-l.b/userK), in
}

func (l powerLaw) says() string {
	return fmt.Sprintf("%.4g MPa at 1/s and 1100 C, times rate^%g exp(%g K/T - %g/1373), 700 to 1300 C, 0.01 to 100 1/s; held below 600 C", l.s/1e6, l.m, l.b, l.b)
}

// sinhLaw is Sellars and Tegart's hyperbolic sine: rate exp(Q/RT) =
// A sinh(alpha sigma)^n, form from memory.
type sinhLaw struct{ a, alpha, n, q float64 } // 1/s, 1/Pa, -, J/mol

func (l sinhLaw) stress(_, rate, tK float64) (float64, bool) {
	t := math.Max(tK, zeroC+600)
	lnX := (math.Log(rate) + l.q/(gasR*t) - math.Log(l.a)) / l.n
	in := tK >= zeroC+700 && tK <= zeroC+1300 && rate >= 0.01 && rate <= 100
	if lnX > 300 { // asinh(e^x) = x + ln 2 to the last digit
		return (lnX + math.Ln2) / l.alpha, in
	}
	return math.Asinh(math.Exp(lnX)) / l.alpha, in
}

func (l sinhLaw) says() string {
	return fmt.Sprintf("rate exp(%g/RT) = %g sinh(%g sigma/MPa)^%g as given, 700 to 1300 C, 0.01 to 100 1/s; held below 600 C", l.q, l.a, l.alpha*1e6, l.n)
}
