package layers

import "math"

// Formulas of flat rolling between two rolls without tension. Lengths in m,
// stresses in Pa, forces in N. Status of each: whether it was read in an
// excerpt of the source or stands from memory.

// ContactLength is sqrt(R (h1-h2)), m: Groover, Fundamentals of Modern
// Manufacturing, ch. 18 (read in excerpt).
func ContactLength(radius, draft float64) float64 { return math.Sqrt(radius * draft) }

// EffectiveRadius is the radius of the equal pair with the same contact length
// as two unlike rolls: 2 R1 R2/(R1+R2) (from the chord geometry).
func EffectiveRadius(r1, r2 float64) float64 { return 2 * r1 * r2 / (r1 + r2) }

// BiteAngle is acos(1 - draft/(2R)), rad: the rolls take the bar if its tangent
// is at most the Coulomb friction (from memory).
func BiteAngle(radius, draft float64) float64 { return math.Acos(math.Max(-1, 1-draft/(2*radius))) }

// GreatestDraft is the largest draft the rolls take by themselves at Coulomb
// friction mu: 2R(1 - cos(atan mu)), close to mu^2 R (Groover ch. 18, read in
// excerpt, for the latter).
func GreatestDraft(radius, mu float64) float64 { return 2 * radius * (1 - math.Cos(math.Atan(mu))) }

// EkelundFriction is the Coulomb friction of hot rolls at tempK, 1.05 - 0.0005
// T(C), times 0.8 for cast-iron rolls; 700 C and above (Ekelund, from memory).
func EkelundFriction(tempK float64, castIron bool) float64 {
	mu := 1.05 - 0.0005*(tempK-273.15)
	if castIron {
		mu *= 0.8
	}
	return mu
}

// RollRate is the mean strain rate (v/L) ln(h1/h2), 1/s (from memory).
func RollRate(speed, length, h1, h2 float64) float64 { return speed / length * math.Log(h1/h2) }

// SimsQ is mean pressure over plane-strain yield: Sims 1954 (from memory). The
// neutral angle comes with it, rad.
func SimsQ(radius, h1, h2 float64) (q, neutral float64) {
	r := (h1 - h2) / h1
	a := math.Sqrt((1 - r) / r)
	b := math.Sqrt(radius / h2)
	neutral = math.Tan(math.Pi/8/b*math.Log(1-r)+0.5*math.Atan(1/a)) / b
	hn := h2 + radius*neutral*neutral
	q = math.Pi/2*a*math.Atan(1/a) - math.Pi/4 - a*b*math.Log(hn/h2) + 0.5*a*b*math.Log(1/(1-r))
	return q, neutral
}

// ForwardSlip is (phi_n^2/2)(2R/h2 - 1) (from memory).
func ForwardSlip(neutral, radius, h2 float64) float64 {
	return neutral * neutral / 2 * (2*radius/h2 - 1)
}

// FordAlexanderQ is pi/4 + L/(4 hm) over plane-strain yield: Ford and Alexander
// 1964 (from memory).
func FordAlexanderQ(length, h1, h2 float64) float64 { return math.Pi/4 + length/(2*(h1+h2)) }

// FordAlexanderTorque is both rolls' torque w k L^2 (1.6 + 0.91 L/(h1+h2)), N m
// at shear yield k: Ford and Alexander 1964 (from memory).
func FordAlexanderTorque(width, shear, length, h1, h2 float64) float64 {
	return width * shear * length * length * (1.6 + 0.91*length/(h1+h2))
}

// DentonCraneQ is 0.655 + 0.265 L/sqrt(h1 h2): Denton and Crane 1972 (from
// memory).
func DentonCraneQ(length, h1, h2 float64) float64 { return 0.655 + 0.265*length/math.Sqrt(h1*h2) }

// PeeningQ is the pressure of thick stock between narrow contacts over
// plane-strain yield, 0.8 + 0.2 hm/L for hm/L from 1 to 4: a line through the
// slip-line solution of opposed indenters (from memory, approximate). Below 1
// it gives 1.
func PeeningQ(length, mean float64) float64 { return 0.8 + 0.2*math.Max(1, mean/length) }

// GrooverRolls are the textbook force Y w L, torque a roll 0.5 F L and power of
// two rolls 2 pi N F L, N rev/s: Groover ch. 18 (read in excerpt).
func GrooverRolls(yield, width, length, revPerS float64) (force, torque, power float64) {
	force = yield * width * length
	return force, 0.5 * force * length, 2 * math.Pi * revPerS * force * length
}
