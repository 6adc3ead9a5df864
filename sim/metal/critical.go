package metal

import (
	"fmt"
	"math"
)

// Point is a temperature of change of a steel.
type Point struct {
	TempK   float64 // K; NaN where the steel has no such point
	Within  float64 // K, the formula's stated or judged error, two standard deviations
	Law     string
	InRange bool // whether the composition lies where the law holds
	Why     string
}

func none(why string) Point { return Point{TempK: math.NaN(), Why: why} }

// Critical is the points of a steel.
type Critical struct {
	Ac1, Ac3, Acm, Ms Point
}

// CriticalPoints are the points of a composition: Ac1 and, below 0.6 %C, Ac3
// by Andrews; between 0.6 and 0.77 % the line from his value at 0.6 to Ac1; above
// that no Ac3 but Acm. Ms is van Bohemen's, with all carbon dissolved: for what
// is dissolved at the hardening heat see Austenite. Stainless steel of more than
// 5 % chromium has points of its own only where 12 to 14 % chromium.
func CriticalPoints(c Composition) Critical {
	if c.Ni > 30 || c.Cu > 30 {
		no := none("no steel: nothing changes on heating")
		return Critical{no, no, no, no}
	}
	if c.Cr >= 10 && c.Ni >= 6 {
		no := none("austenite at every heat: it does not harden")
		return Critical{no, no, no, none("austenite down to room temperature")}
	}
	if c.Cr >= 5 {
		w := Point{TempK: zeroC + 820, Within: 40, Law: "12 to 14 % chromium steel, handbook range", InRange: c.Cr >= 11 && c.Cr <= 14.5,
			Why: "chromium steel hardens from 950 to 1050 C; at the 800 C of plain steel it does not harden"}
		full := w
		full.TempK = zeroC + 950
		return Critical{Ac1: w, Ac3: full, Acm: none("carbides of chromium, no law here"), Ms: Martensite(c)}
	}
	return Critical{Ac1: ac1(c), Ac3: ac3(c), Acm: acm(c), Ms: Martensite(c)}
}

// ac1 is Andrews, J. Iron Steel Inst. 203 (1965) 721, read in excerpt; he gives
// a standard deviation of 11.5 K (from memory).
func ac1(c Composition) Point {
	return Point{TempK: c.a1(), Within: 23, Law: "Andrews 1965, Ac1", InRange: c.Mn <= 2 && c.Si <= 2 && c.Ni <= 5 && c.Cr <= 4.5}
}

// andrewsAc3 is Andrews' formula, K, for less than 0.6 %C: standard deviation
// 16.7 K (from memory). The bracket's signs: manganese, chromium and copper
// lower it.
func andrewsAc3(c Composition) float64 {
	return zeroC + 910 - 203*math.Sqrt(c.C) - 15.2*c.Ni + 44.7*c.Si + 104*c.V + 31.5*c.Mo + 13.1*c.W -
		30*c.Mn - 11*c.Cr - 20*c.Cu + 700*c.P
}

func ac3(c Composition) Point {
	switch {
	case c.C >= eutectoidC:
		return none("from 0.77 % carbon on there is no free ferrite: use Ac1 and Acm")
	case c.C < 0.6:
		return Point{TempK: math.Max(andrewsAc3(c), c.a1()+5), Within: 33, Law: "Andrews 1965, Ac3", InRange: true}
	}
	s := (c.C - 0.6) / (eutectoidC - 0.6)
	high := math.Max(andrewsAc3(c.With(0.6)), c.a1()+5)
	return Point{TempK: high + s*(c.a1()-high), Within: 33, Law: "straight from Andrews' Ac3 at 0.6 %C to Ac1 at 0.77 %", InRange: false,
		Why: "Andrews' Ac3 holds below 0.6 % carbon and falls below Ac1 from 0.75 % on"}
}

func acm(c Composition) Point {
	if c.C < eutectoidC {
		return none("below 0.77 % carbon there is no free carbide at heat")
	}
	p := Point{TempK: AcmTemperature(c), Within: 20, Law: "parabola through the iron-cementite diagram, 35 K higher per % chromium", InRange: c.Cr < 2 && c.C <= 1.5}
	if c.V > 0.1 || c.W > 0.2 {
		p.Within, p.Why = 40, "vanadium and tungsten carbides dissolve higher"
	}
	return p
}

// Martensite is the start of martensite for austenite of composition c by van
// Bohemen, Mater. Sci. Technol. 28 (2012) 487, as read in public code that cites
// it: 565 - 600 (1 - exp(-0.96 C)) - 31 Mn - 13 Si - 10 Cr - 18 Ni - 12 Mo; to 1.9
// %C, 40 K.
// Andrews' linear law lies 45 to 80 K lower from 0.8 %C on and his product turns
// upwards there: neither is used.
func Martensite(c Composition) Point {
	k := zeroC + 565 - 600*(1-math.Exp(-0.96*c.C)) - 31*c.Mn - 13*c.Si - 10*c.Cr - 18*c.Ni - 12*c.Mo
	return Point{TempK: k, Within: 40, Law: "van Bohemen 2012", InRange: c.C <= 1.9 && c.Cr < 5 && c.Ni < 5}
}

// MartensiteIngber is the start of martensite by Ingber and Kunert 2022, made for
// high carbon, K; as read in public code that cites it. For comparison.
func MartensiteIngber(c Composition) float64 {
	return zeroC + 530.2 - 290.3*c.C - 35.5*c.Mn - 6.8*c.Si - 17.2*c.Ni - 20.8*c.Cr - 10.4*c.Mo - 75*(1-math.Exp(-0.96*c.C))
}

// MartensiteAndrews is Andrews' linear law, K: 539 - 423 C - 30.4 Mn - 17.7 Ni -
// 12.1 Cr - 7.5 Mo; for comparison, and to 0.6 %C only.
func MartensiteAndrews(c Composition) float64 {
	return zeroC + 539 - 423*c.C - 30.4*c.Mn - 17.7*c.Ni - 12.1*c.Cr - 7.5*c.Mo
}

// RetainedAustenite is the share (0 to 1) of austenite that is left at tempK (K)
// of one whose martensite starts at msK: Koistinen and Marburger's law (Acta
// Metall. 7 (1959) 59) with van Bohemen's rate, which goes with his Ms. Slow
// cooling through the range and tempering change it.
func RetainedAustenite(c Composition, msK, tempK float64) float64 {
	if tempK >= msK {
		return 1
	}
	alpha := 1e-3 * (27.2 - 19.8*(1-math.Exp(-1.56*c.C)) - 0.14*c.Mn - 0.21*c.Si - 0.11*c.Cr - 0.08*c.Ni - 0.05*c.Mo)
	return math.Exp(-math.Max(alpha, 0.002) * (msK - tempK))
}

// KoistinenMarburger is the share left by their law with its own rate, 0.011 per
// K, for the Ms of linear laws. For comparison.
func KoistinenMarburger(msK, tempK float64) float64 {
	return math.Min(1, math.Exp(-0.011*(msK-tempK)))
}

// Austenite is what stands at the hardening heat.
type Austenite struct {
	Share    float64 // of the steel, 0 to 1
	Carbon   float64 // wt % in it
	Carbide  float64 // wt share left undissolved, 0 to 1
	Ms       Point   // of it
	Retained float64 // share of it left at 25 C after a full quench, 0 to 1
	Notes    []string
}

// Harden is the austenite of a steel held at tempK (K): ferrite left below Ac3 by
// the lever rule, carbide left below Acm, both at equilibrium. Pearlite dissolves
// in under a minute; spheroidised stock holds more carbide back than this says.
func Harden(c Composition, tempK float64) Austenite {
	a := Austenite{Share: 1, Carbon: c.C}
	crit := CriticalPoints(c)
	if math.IsNaN(crit.Ac1.TempK) {
		a.Retained, a.Ms = 1, crit.Ms
		a.Notes = append(a.Notes, "austenite before and after: does not harden")
		return a
	}
	switch {
	case tempK <= crit.Ac1.TempK:
		a.Share, a.Ms = 0, crit.Ms
		a.Notes = append(a.Notes, fmt.Sprintf("held at %.0f C, below its Ac1 of %.0f C: does not harden", tempK-zeroC, crit.Ac1.TempK-zeroC))
		return a
	case c.Cr >= 5:
		a.chromiumSteel(c, tempK, crit)
	case c.C < eutectoidC && tempK < crit.Ac3.TempK:
		a.ferriteLeft(c, tempK, crit)
	case c.C >= eutectoidC && tempK < crit.Acm.TempK:
		a.Carbon = math.Min(c.C, AcmCarbon(c, tempK))
		a.Carbide = (c.C - a.Carbon) / (6.69 - a.Carbon)
	}
	in := c.With(a.Carbon)
	a.Ms = Martensite(in)
	a.Retained = RetainedAustenite(in, a.Ms.TempK, zeroC+25)
	if a.Retained > 0.25 {
		a.Notes = append(a.Notes, fmt.Sprintf("%.0f %% of the austenite is left after the quench: a lower hardening heat keeps more carbide and less austenite", 100*a.Retained))
	}
	return a
}

// ferriteLeft is the lever rule between Ac1 and Ac3: the carbon of the austenite
// runs straight from 0.77 % at Ac1 to the steel's at Ac3.
func (a *Austenite) ferriteLeft(c Composition, tempK float64, crit Critical) {
	s := (tempK - crit.Ac1.TempK) / (crit.Ac3.TempK - crit.Ac1.TempK)
	a.Carbon = eutectoidC + s*(c.C-eutectoidC)
	a.Share = math.Max(0, math.Min(1, c.C/a.Carbon))
	if a.Share < 0.98 {
		a.Notes = append(a.Notes, fmt.Sprintf("%.0f %% ferrite left at %.0f C; all is austenite at %.0f C", 100*(1-a.Share), tempK-zeroC, crit.Ac3.TempK-zeroC))
	}
}

// chromiumSteel is a guess: share and carbon rise straight from Ac1 to Ac3.
func (a *Austenite) chromiumSteel(c Composition, tempK float64, crit Critical) {
	s := math.Min(1, (tempK-crit.Ac1.TempK)/(crit.Ac3.TempK-crit.Ac1.TempK))
	a.Share, a.Carbon = s, c.C*s
	if s < 1 {
		a.Notes = append(a.Notes, fmt.Sprintf("chromium steel at %.0f C hardens in part at most; it wants 950 to 1050 C", tempK-zeroC))
	}
}
