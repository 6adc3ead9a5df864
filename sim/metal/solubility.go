package metal

import "math"

// The potential of carbon is given in wt %: the carbon of plain austenite that
// would stand in equilibrium with the place. Carbon flows from high to low
// potential, across layers of any steel.

// Gunnarson is the factor by which austenite of composition c holds more carbon
// than plain austenite at the same activity (Gunnarson, Härterei-Techn. Mitt. 22
// (1967), carburising practice; from memory). Silicon and nickel lower it,
// chromium and manganese raise it. Darken's couple (Trans. AIME 180 (1949) 430)
// of 3.8 % Si measured 0.54 where this gives 0.62. Meant for low-alloy steel;
// carbides of 12 % chromium steel bind more.
func Gunnarson(c Composition) float64 {
	return math.Pow(10, -0.055*c.Si+0.013*c.Mn+0.040*c.Cr-0.014*c.Ni+0.013*c.Mo)
}

// Activity is the activity of carbon in plain austenite relative to graphite at
// tempK (K) and carbon (wt %): Ban-ya, Elliott and Chipman, Metall. Trans. 1
// (1970) 1313; coefficients from memory. 900 to 1400 C.
func Activity(tempK, carbon float64) float64 {
	if carbon <= 0 {
		return 0
	}
	z := carbon / 12.011 / ((100-carbon)/55.845 - carbon/12.011)
	return z * math.Pow(10, 2300/tempK-0.92+3860/tempK*z)
}

// NickelSolubility is the carbon (wt %) that nickel holds in equilibrium with
// graphite: Lander, Kern and Beach, J. Appl. Phys. 23 (1952) 1305; from memory.
// 700 to 1300 C.
func NickelSolubility(tempK float64) float64 {
	return math.Exp(2.480 - 4880/tempK)
}

const (
	eutectoidC = 0.77    // wt % carbon, iron-carbon diagram
	eutectoidK = 1000.15 // 727 C
	ferriteMax = 0.0218  // wt % carbon in ferrite at 727 C
	maxAcmC    = 2.11    // wt % carbon at the eutectic, 1147 C
	ironA3     = 1185.0  // K, iron, 912 C
)

// a1 is where austenite begins, K: Andrews' Ac1 for low-alloy steel, without
// the overheating that a fast heat adds.
func (c Composition) a1() float64 {
	return zeroC + 723 - 10.7*c.Mn - 16.9*c.Ni + 29.1*c.Si + 16.9*c.Cr + 6.38*c.W
}

// a3Iron is where the last ferrite would go if the steel had no carbon, K: iron
// with the alloy terms of Andrews' Ac3 (J. Iron Steel Inst. 203 (1965) 721).
func (c Composition) a3Iron() float64 {
	t := ironA3 - 15.2*c.Ni + 44.7*c.Si + 104*c.V + 31.5*c.Mo + 13.1*c.W - 30*c.Mn - 11*c.Cr - 20*c.Cu + 700*c.P
	return math.Max(t, c.a1()+10)
}

// a3Carbon is the potential (wt %) at which austenite stands in equilibrium
// with ferrite at tempK between a1 and a3: a parabola from 0 % at a3 to 0.77 %
// at a1, of the shape of the iron-carbon A3 line (from memory: 841 C at 0.2 %,
// 786 at 0.4; within 12 K of the diagram).
func a3Carbon(a1, a3, tempK float64) float64 {
	s := math.Min(1, math.Max(0, (tempK-a1)/(a3-a1)))
	x := (1.648 - math.Sqrt(1.648*1.648-4*0.648*(1-s))) / (2 * 0.648)
	return eutectoidC * x
}

// ferriteCarbon is the carbon (wt %) of ferrite beside austenite, falling in a
// straight line from 0.0218 % at a1 to none at a3.
func ferriteCarbon(a1, a3, tempK float64) float64 {
	return ferriteMax * math.Min(1, math.Max(0, (a3-tempK)/(a3-a1)))
}

// ferriteBesideCarbide is the carbon (wt %) of ferrite beside cementite below
// a1 (heat of solution 40.5 kJ/mol, from memory).
func ferriteBesideCarbide(tempK float64) float64 {
	return ferriteMax * math.Exp(-40500/gasR*(1/tempK-1/eutectoidK))
}

// acmShift is how much chromium raises the cementite line, K per wt %: 52100
// is quoted 40 to 60 K above plain steel of its carbon (from memory).
const acmShift = 35

// AcmTemperature is where the last cementite dissolves, K, for steel of at
// least 0.77 %C: a parabola through 0.77 % at 727 C, 1.23 % at 900 and 2.11 %
// at 1147 (iron-cementite diagram, from memory), 35 K higher per % chromium.
func AcmTemperature(c Composition) float64 {
	x := c.C - eutectoidC
	return eutectoidK + 408.8*x - 71.2*x*x + acmShift*c.Cr
}

// AcmCarbon is the most carbon (wt %) austenite of composition c dissolves at
// tempK beside cementite; what is above stays carbide. Held at 2.11 %, where
// iron and carbon begin to melt together.
func AcmCarbon(c Composition, tempK float64) float64 {
	d := 408.8*408.8 - 4*71.2*(tempK-eutectoidK-acmShift*c.Cr)
	if d <= 0 {
		return maxAcmC
	}
	x := eutectoidC + (408.8-math.Sqrt(d))/(2*71.2)
	return math.Min(maxAcmC, math.Max(0.3, x))
}
