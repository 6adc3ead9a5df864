package metal

import "math"

// Diffusivity is a law for carbon in austenite: m2/s at tempK (K) and carbon
// (wt %).
type Diffusivity func(tempK, carbon float64) float64

// siteRatio is y = x/(1-x), x the mole fraction of carbon (12.011) in iron
// (55.845), for carbon in wt %.
func siteRatio(carbon float64) float64 {
	return carbon / 12.011 / ((100 - carbon) / 55.845)
}

// Agren is carbon in austenite by Ågren, Scripta Metall. 20 (1986) 1507, as
// read in public code that cites it. 700 to 1450 C, to 1.5 %C. Carburised
// profiles measured at 930 C ask for 1.0 to 1.3 times it; 20 % is its
// uncertainty, 10 % on a distance.
func Agren(tempK, carbon float64) float64 {
	y := siteRatio(carbon)
	return 4.53e-7 * (1 + y*(1-y)*8339.9/tempK) * math.Exp(-(1/tempK-2.221e-4)*(17767-26436*y))
}

// SlyckeEricsson is carbon in austenite by Slycke and Ericsson, J. Heat
// Treating 2 (1981), as read in a public notebook; of its two copies the one
// whose sign agrees with the other laws.
func SlyckeEricsson(tempK, carbon float64) float64 {
	y := siteRatio(carbon)
	x := y / (1 + y)
	return 4.84e-5 * math.Exp(-320/gasR*x) / (1 - 5*x) * math.Exp(-(155000-570000*x)/(gasR*tempK))
}

// Tibbetts is carbon in austenite by Tibbetts, J. Appl. Phys. 51 (1980) 4813;
// from memory.
func Tibbetts(tempK, carbon float64) float64 {
	return 4.7e-5 * math.Exp(-1.6*carbon) * math.Exp(-(37000-6600*carbon)/(1.987*tempK))
}

// WellsMehl is carbon in austenite by Wells and Mehl, Trans. AIME 140 (1940)
// 279; from memory.
func WellsMehl(tempK, carbon float64) float64 {
	return (0.07 + 0.06*carbon) * 1e-4 * math.Exp(-32000/(1.987*tempK))
}

// Callister is the constant of a textbook (Callister, Materials Science and
// Engineering, table 5.2: 2.3e-5 m2/s, 148 kJ/mol), read in excerpt. At 0.8 %C
// it is half of what the laws that know of carbon give; for teaching and for
// comparison with closed forms.
func Callister(tempK, _ float64) float64 {
	return 2.3e-5 * math.Exp(-148000/(8.31*tempK))
}

// InFerrite is the diffusivity of carbon in ferrite, m2/s, by Ågren, Acta
// Metall. 30 (1982) 841; from memory.
func InFerrite(tempK float64) float64 {
	return 2e-6 * math.Exp(-10115/tempK) * math.Exp(0.5898*(1+2/math.Pi*math.Atan(1.4985-15309/tempK)))
}

// InNickel is the diffusivity of carbon in nickel, m2/s, by Lander, Kern and
// Beach, J. Appl. Phys. 23 (1952) 1305; from memory. Its 168 kJ/mol lie a
// little above the 149 to 165 of other measurements (Siegel and Hamilton, Phys.
// Rev. B 68 (2003) 094105, read in excerpt).
func InNickel(tempK float64) float64 {
	return 2.48e-4 * math.Exp(-168000/(gasR*tempK))
}

// slowing is the factor by which chromium slows carbon in austenite. Measured
// at 21 % Cr, 32 % Ni: 7.91e-6 exp(-186.2 kJ/RT), 760 to 1360 K (read in
// excerpt), two decades below plain austenite at 1000 C. Between, its logarithm
// is taken as proportional to chromium: an assumption, used above 5 % Cr only.
func slowing(cr float64) float64 {
	if cr < 5 {
		return 1
	}
	return math.Pow(10, -0.1*cr)
}
