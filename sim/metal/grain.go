package metal

import (
	"fmt"
	"math"
)

// GrainLaw is a law of austenite grain growth: the size after dt (s) at tempK (K)
// from the size d (m).
type GrainLaw func(c Composition, d, dt, tempK float64) float64

// SellarsWhiteman is the growth of austenite grains in carbon-manganese steel,
// Metal Sci. 13 (1979) 187; from memory: d¹⁰ = d0¹⁰ + 1.31e52 t exp(-914000/RT)
// up to 1100 C, 3.87e32 t exp(-400000/RT) above, um and s. The two meet there.
func SellarsWhiteman(_ Composition, d, dt, tempK float64) float64 {
	a, q := 3.87e32, 400000.0
	if tempK <= zeroC+1100 {
		a, q = 1.31e52, 914000
	}
	um := d * 1e6
	return 1e-6 * math.Pow(math.Pow(um, 10)+a*dt*math.Exp(-q/(gasR*tempK)), 0.1)
}

// LeeLee is the growth in low-alloy steel, Lee and Lee 2008; from memory: d = 76671
// exp(-(89098 + 3581 C + 1211 Ni + 1443 Cr + 4031 Mo)/RT) t^0.211, um and s. A
// starting size is taken as the time the law would have needed for it.
func LeeLee(c Composition, d, dt, tempK float64) float64 {
	k := 76671 * math.Exp(-(89098+3581*c.C+1211*c.Ni+1443*c.Cr+4031*c.Mo)/(gasR*tempK))
	had := math.Pow(d*1e6/k, 1/0.211)
	return 1e-6 * k * math.Pow(had+dt, 0.211)
}

const (
	grainStart  = 30e-6         // m: rolled bar as bought; assumed
	finest      = 9e-6          // m: least size after a cycle; common practice says 8 to 10 um, no source
	refines     = 0.5           // of the size before, in a full cycle; assumed
	pinnedAt    = 15e-6         // m: growth stops here while carbide is left; assumed
	cycleBottom = zeroC + 600.0 // K: cooled below this, the austenite has gone
)

// Grain is the austenite grain of one steel through its heats. Growth is a
// published law. That a full cycle halves the grain, down to 9 um, and that
// undissolved carbide holds it at 15 um, are assumptions; no law was found.
type Grain struct {
	c     Composition
	law   GrainLaw
	a1    float64 // K
	full  float64 // K: all austenite
	d     float64 // m
	cold  bool    // has been below cycleBottom since
	ready bool    // has been all austenite since
	out   float64 // s outside the law's range
}

// NewGrain starts a steel as bought, 30 um (assumed). law nil means
// SellarsWhiteman.
func NewGrain(c Composition, law GrainLaw) *Grain {
	if law == nil {
		law = SellarsWhiteman
	}
	g := &Grain{c: c, law: law, a1: c.a1(), d: grainStart, cold: true}
	g.full = fullyAustenite(c)
	return g
}

// fullyAustenite is where all is austenite but carbide, K: Ac3 below 0.77 %C,
// Ac1 with 30 K for the pearlite above.
func fullyAustenite(c Composition) float64 {
	a1, a3 := c.a1(), c.a3Iron()
	if c.C >= eutectoidC {
		return a1 + 30
	}
	lo, hi := a1, a3
	for range 50 {
		mid := (lo + hi) / 2
		if a3Carbon(a1, a3, mid) > c.C {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Max(lo, a1+30)
}

// Size is the grain's mean intercept, m.
func (g *Grain) Size() float64 { return g.d }

// Hold lets the grain live dt (s) at tempK (K).
func (g *Grain) Hold(dt, tempK float64) error {
	if !(dt >= 0) || math.IsInf(dt, 0) || !(tempK > 0 && tempK < 2000) {
		return fmt.Errorf("grain: %g s at %g K; zero or more, 0 to 2000 K", dt, tempK)
	}
	if tempK < cycleBottom {
		g.cold = true
		return nil
	}
	if tempK < g.full {
		return nil
	}
	if g.cold && g.ready {
		g.d = math.Max(math.Min(g.d, finest), refines*g.d)
	}
	g.cold, g.ready = false, true
	if tempK > zeroC+1300 {
		g.out += dt
	}
	d := g.law(g.c, g.d, dt, tempK)
	if g.c.C > eutectoidC && tempK < AcmTemperature(g.c) {
		d = math.Min(d, math.Max(g.d, pinnedAt))
	}
	g.d = math.Max(g.d, d)
	return nil
}

// Run takes the grain through a temperature in time: samples (s, K), straight
// between, in pieces of at most 10 K.
func (g *Grain) Run(times, tempsK []float64) error {
	if len(times) != len(tempsK) {
		return fmt.Errorf("grain: %d times, %d temperatures; as many", len(times), len(tempsK))
	}
	for i := 1; i < len(times); i++ {
		n := max(1, int(math.Ceil(math.Abs(tempsK[i]-tempsK[i-1])/10)))
		if n > 1000 {
			return fmt.Errorf("grain: sample %d at %g K; 0 to 2000 K", i+1, tempsK[i])
		}
		for j := range n {
			t := tempsK[i-1] + (tempsK[i]-tempsK[i-1])*(float64(j)+0.5)/float64(n)
			if err := g.Hold((times[i]-times[i-1])/float64(n), t); err != nil {
				return err
			}
		}
	}
	return nil
}

// Worked takes notice of a pass of true strain at tempK (K): new grains grow
// where the strain is 0.1 or more and the steel above 900 C, to 0.5 d^0.67/strain
// (um; Sellars and Whiteman, Metal Sci. 13 (1979) 187, from memory), never
// coarser than before. Below, the grain is only flattened.
func (g *Grain) Worked(strain, tempK float64) {
	if !(strain >= 0.1) || !(tempK >= zeroC+900) {
		return
	}
	um := 0.5 * math.Pow(g.d*1e6, 0.67) / math.Min(strain, 1)
	g.d = math.Min(g.d, math.Max(5e-6, um*1e-6))
}

// ASTMNumber is the grain size number of a mean intercept d (m): -6.643856
// log10(d in mm) - 3.288 (ASTM E112, from memory).
func ASTMNumber(d float64) float64 { return -6.643856*math.Log10(d*1000) - 3.288 }

// Warnings says what was outside the law's range, and what is assumed.
func (g *Grain) Warnings() []string {
	var w []string
	if g.out > 0 {
		w = append(w, fmt.Sprintf("grain: %.0f s above 1300 C, outside the law of growth", g.out))
	}
	return w
}

// GrainAssumptions are sentences for the result.
func GrainAssumptions() []string {
	return []string{
		"grain: growth by a published law for carbon-manganese steel, good to 30 %; vanadium and aluminium, which hold it back, are left out",
		"grain: that a full cycle through the critical range halves the grain, down to 9 um, and that undissolved carbide holds it at 15 um, is assumed",
	}
}
