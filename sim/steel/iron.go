package steel

import "math"

// Pure iron by the SGTE unary description: Dinsdale, CALPHAD 15 (1991) 317.
// Coefficients read in excerpt, magnetic constants (Curie temperature 1043 K,
// moment 2.22, p = 0.4; Hillert and Jarl's series) from memory.

const (
	gasR     = 8.314462618 // J/molK, exact in the SI of 2019
	molarFe  = 0.055847    // kg/mol, as in Dinsdale 1991
	curieFe  = 1043.0      // K
	momentFe = 2.22        // Bohr magnetons
)

// ferriteH is the molar enthalpy of bcc iron in J/mol at tK (K, 298 to 1811)
// against the SGTE reference.
//
// G = a + bT + cT lnT + dT^2 + eT^3 + f/T gives H = a - cT - dT^2 - 2eT^3 +
// 2f/T, to which the magnetic part -R T ln(m+1) tau g'(tau) is added.
func ferriteH(tK float64) float64 {
	const a, c, d, e, f = 1225.7, -23.5143, -4.39752e-3, -5.8927e-8, 77359.0
	h := a - c*tK - d*tK*tK - 2*e*tK*tK*tK + 2*f/tK
	return h - gasR*tK*math.Log(momentFe+1)*magneticSlope(tK/curieFe)
}

// magneticSlope is tau dg/dtau of Hillert and Jarl's magnetic function for
// bcc (p = 0.4), tau = T/Tc.
func magneticSlope(tau float64) float64 {
	const p = 0.4
	const q = 1/p - 1
	const d = 518.0/1125 + 11692.0/15975*q
	if tau < 1 {
		t3 := tau * tau * tau
		t9 := t3 * t3 * t3
		return -(-79/(140*p*tau) + 474.0/497*q*(t3/2+t9/15+t9*t3*t3/40)) / d
	}
	t5 := math.Pow(tau, -5)
	t15 := t5 * t5 * t5
	return (t5/2 + t15/21 + t15*t5*t5/60) / d
}

// austeniteH is the molar enthalpy of fcc iron in J/mol at tK (K) without its
// low-temperature magnetism: bcc without magnetism plus
// -1462.4 + 1.15 T - 6.4e-4 T^2.
func austeniteH(tK float64) float64 {
	const a, c, d, e, f = 1225.7, -23.5143, -4.39752e-3, -5.8927e-8, 77359.0
	h := a - c*tK - d*tK*tK - 2*e*tK*tK*tK + 2*f/tK
	return h - 1462.4 + 1.15*tK - 6.4e-4*tK*tK
}

// ferriteEnthalpy is the enthalpy of bcc iron in J/kg from 20 C. The
// description starts at 25 C; below 20 C its slope is held.
func ferriteEnthalpy(tK float64) float64 {
	t := math.Max(tK, roomK)
	return (ferriteH(t)-ferriteH(roomK))/molarFe + ironColdHeat*(tK-t)
}

// ironColdHeat is the heat capacity of bcc iron at 20 C, J/kgK.
const ironColdHeat = 442.62

// austeniteRise is the enthalpy of fcc iron in J/kg at tK less that at fromK.
func austeniteRise(fromK, tK float64) float64 {
	return (austeniteH(tK) - austeniteH(fromK)) / molarFe
}
