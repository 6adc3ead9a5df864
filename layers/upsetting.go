package layers

import "math"

// Formulas of pressing between flat dies: mean pressure over a yield stress.
// h is the height, l the contact across the flow, mu Coulomb friction.

// SlidingPressure is the mean pressure over plane-strain yield 2k with sliding
// friction, (h/(mu l))(e^(mu l/h) - 1), and the peak e^(mu l/h): slab method, a
// course solution (EML 4321 homework 6, 2011, read).
func SlidingPressure(mu, l, h float64) (mean, peak float64) {
	x := mu * l / h
	if x < 1e-9 {
		return 1, 1
	}
	return math.Expm1(x) / x, math.Exp(x)
}

// StickingPressure is the mean 1 + l/(4h) and peak 1 + l/(2h) over 2k with
// sticking friction (same course solution, read).
func StickingPressure(l, h float64) (mean, peak float64) { return 1 + l/(4*h), 1 + l/(2*h) }

// MixedPressure is the mean pressure over 2k of a plane-strain strip whose
// friction mu p is capped at shear yield: sliding up to xs = (h/2mu) ln(1/2mu)
// from the edge, sticking within (Ghosh and Mallik, Manufacturing Science,
// problem 3.4, read in excerpt; the cap at k = half of 2k). xs is returned in m,
// at most l/2.
func MixedPressure(mu, l, h float64) (mean, xs float64) {
	if mu <= 0 {
		return 1, l / 2
	}
	xs = math.Max(0, h/(2*mu)*math.Log(1/(2*mu)))
	if xs >= l/2 {
		mean, _ = SlidingPressure(mu, l, h)
		return mean, l / 2
	}
	edge := h / (2 * mu) * math.Expm1(2*mu*xs/h)
	atXs := math.Exp(2 * mu * xs / h)
	if mu >= 0.5 {
		xs, edge, atXs = 0, 0, 1
	}
	in := l/2 - xs
	return (edge + atXs*in + in*in/(2*h)) / (l / 2), xs
}

// TrescaSlabPressure is 1 + m l/(4h) over 2k with constant friction m k (slab
// method, from memory): the sticking formula at m = 1.
func TrescaSlabPressure(m, l, h float64) float64 { return 1 + m*l/(4*h) }

// GrooverUpset is Kf = 1 + 0.4 mu d/h over uniaxial yield for a short cylinder
// of diameter d: Groover ch. 19 (read in excerpt).
func GrooverUpset(mu, d, h float64) float64 { return 1 + 0.4*mu*d/h }

// DiscPressure is 1 + mu d/(3h) over uniaxial yield: slab method for a disc
// (from memory).
func DiscPressure(mu, d, h float64) float64 { return 1 + mu*d/(3*h) }

// RectanglePressure is 1 + ((3b-a)/(6b)) mu a/h over uniaxial yield for a
// rectangle a <= b, mu capped at 0.5: Unksov (from memory).
func RectanglePressure(mu, a, b, h float64) float64 {
	if a > b {
		a, b = b, a
	}
	return 1 + (3*b-a)/(6*b)*math.Min(mu, 0.5)*a/h
}

// BlowShare is the share of a soft blow's energy that reaches the metal, 0.7 to
// 0.9 (from memory); hard blows on thin cold stock give 0.2 to 0.5.
const BlowShare = 0.8
