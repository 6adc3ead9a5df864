package metal

import (
	"fmt"
	"strings"
)

// Quenchant is what the blade is quenched in.
type Quenchant struct {
	Name   string
	BathK  float64 // K, usual temperature of the bath
	Spread float64 // factor either way on the film: how well it is known
	at, h  []float64
}

// quenchants in order of severity.
var quenchants = []string{"air", "plates", "slow oil", "fast oil", "water", "brine"}

// QuenchantByName returns water, brine, fast oil, slow oil, plates or air.
func QuenchantByName(name string) (Quenchant, error) {
	for _, q := range quenchants {
		if strings.EqualFold(q, strings.TrimSpace(name)) {
			at, h := column(q, "film")
			return Quenchant{Name: q, BathK: number(q, "bath", zeroC+20), Spread: number(q, "spread", 2), at: at, h: h}, nil
		}
	}
	return Quenchant{}, fmt.Errorf("quench %q; %s", name, strings.Join(quenchants, ", "))
}

// Film is the coefficient between a surface at surfaceK (K) and the bath, W/m2K:
// straight between the table's points, held at its ends. In air radiation is not
// in it. Fast oil and the ends of slow oil rest on published measurements on steel
// (Buczek and Telejko 2013; Kobasko); the rest is from memory or assumed (see
// Facts). A thin edge breaks the vapour blanket sooner than the thick probes it
// was measured on.
func (q Quenchant) Film(surfaceK float64) float64 { return interpolate(q.at, q.h, surfaceK) }

// Liquid says whether the blade is dipped.
func (q Quenchant) Liquid() bool { return q.Name != "air" && q.Name != "plates" }

// PlateTime is the time (s) a plate of thickness (m) that is even through its
// section takes from fromK to toK (K) by its film alone; an answer for tables. The
// heat released by any transformation is left out. good is false where half the
// thickness times the film over the conductivity exceeds 0.3 somewhere: the
// section is not even then.
func (q Quenchant) PlateTime(thickness, fromK, toK float64) (s float64, good bool, err error) {
	if !(thickness > 0 && thickness < 0.2) || !(fromK > toK && toK > q.BathK+1) || fromK > 1700 {
		return 0, false, fmt.Errorf("quench: %g m from %g to %g K in %s of %.0f K; above 0 to 0.2 m, falling, above the bath", thickness, fromK, toK, q.Name, q.BathK)
	}
	const n = 200
	const density, heat, conductivity = 7800.0, 650.0, 28.0 // austenite at 500 to 800 C (steel handbook means, from memory)
	good = true
	dT := (fromK - toK) / n
	for i := range n {
		t := fromK - (float64(i)+0.5)*dT
		h := q.Film(t)
		s += density * heat * thickness / 2 * dT / (h * (t - q.BathK))
		good = good && h*thickness/2/conductivity <= 0.3
	}
	return s, good, nil
}

// OilRise is by how much a bath of litres of oil warms when steel of massKg (kg)
// goes from fromK to the bath's temperature; oil of 0.87 kg/l and 2000 J/kgK,
// steel 650 J/kgK (from memory).
func OilRise(massKg, litres, fromK, bathK float64) float64 {
	if !(litres > 0) || !(fromK > bathK) || !(massKg > 0) {
		return 0
	}
	return massKg * 650 * (fromK - bathK) / (litres * 0.87 * 2000)
}
