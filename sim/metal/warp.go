package metal

import (
	"fmt"
	"math"
)

// BladeLayer is a layer of a blade at a place, from side B to side A.
type BladeLayer struct {
	Name      string
	C         Composition
	Thickness float64 // m
	// Hardens says that it turns to martensite in the quench.
	Hardens bool
}

// Warp is which way a laminate bows in the quench.
type Warp struct {
	// Convex is the side that comes out convex, "A" or "B"; empty where the
	// section pulls evenly.
	Convex string
	// Curvature is that of elastic layers, 1/m, convex towards A positive:
	// more than the blade will show, since soft layers yield.
	Curvature float64
	Why       string
}

// Bow is the height of the bow (m) that the elastic curvature makes over a length
// (m): an upper bound.
func (w Warp) Bow(length float64) float64 { return math.Abs(w.Curvature) * length * length / 8 }

// leastWarp is the elastic curvature below which no direction is called: 0.1 mm
// over 200 mm.
const leastWarp = 8 * 0.1e-3 / (0.2 * 0.2)

// Strains of the change in the quench: austenite to martensite grows by 4.64 -
// 0.53 C % in volume (Thelning, Steel and its Heat Treatment, from memory);
// thermal expansion 23e-6 of austenite, 18e-6 of 18-8 steel, 12e-6 of ferrite
// and martensite (from memory).
const (
	expandAustenite = 23e-6
	expand188       = 18e-6
	expandFerrite   = 12e-6
)

// QuenchWarp is the bow of a laminate quenched evenly from both sides. Layers
// that do not harden, or whose martensite starts earlier, have changed while the
// rest was soft; what bends the blade is the layer that turns last, at its Ms: it
// grows by the change, all others shrink on cooling. So the side of the last one
// comes out convex: the steel side of a two-layer blade, the thin-jacket side of
// a three-layer one. Uneven cooling, uneven grinding before the quench, and
// stresses from forging bow blades too and are not in it.
func QuenchWarp(layers []BladeLayer) (Warp, error) {
	if len(layers) == 0 {
		return Warp{}, fmt.Errorf("warp: no layers; at least one")
	}
	last := math.Inf(1)
	for i, l := range layers {
		if !(l.Thickness > 0 && l.Thickness < 1) {
			return Warp{}, fmt.Errorf("warp: layer %d is %g m thick; above 0 to 1 m", i+1, l.Thickness)
		}
		if l.Hardens {
			last = math.Min(last, Martensite(l.C).TempK)
		}
	}
	if math.IsInf(last, 1) {
		return Warp{Why: "nothing hardens: no change pulls on one side"}, nil
	}
	strain := make([]float64, len(layers))
	thick := make([]float64, len(layers))
	for i, l := range layers {
		thick[i] = l.Thickness
		strain[i] = quenchStrain(l, last)
	}
	w := Warp{Curvature: bend(thick, strain)}
	switch {
	case math.Abs(w.Curvature) < leastWarp:
		w.Why = "layers pull evenly on both sides"
	case w.Curvature > 0:
		w.Convex, w.Why = "A", "side A holds more of the steel that turns to martensite last and grows"
	default:
		w.Convex, w.Why = "B", "side B holds more of the steel that turns to martensite last and grows"
	}
	return w, nil
}

// together is how far apart (K) two starts of martensite count as one.
const together = 30

// quenchStrain is a layer's own strain from lastK to 25 C.
func quenchStrain(l BladeLayer, lastK float64) float64 {
	fall := lastK - (zeroC + 25)
	ms := Martensite(l.C)
	switch {
	case l.Hardens && ms.TempK <= lastK+together:
		left := RetainedAustenite(l.C, ms.TempK, zeroC+25)
		return (1-left)*(4.64-0.53*l.C.C)/300 - expandAustenite*fall
	case l.C.Cr >= 10 && l.C.Ni >= 6:
		return -expand188 * fall
	}
	return -expandFerrite * fall
}

// bend is the curvature of layers of one modulus with their own strains, bonded
// and free: plane sections, no net force and moment. Convex towards the last layer
// is positive.
func bend(thick, strain []float64) float64 {
	var total, first float64
	for i, t := range thick {
		total += t
		first += t * strain[i]
	}
	mean := first / total
	var z, moment float64
	for i, t := range thick {
		mid := z + t/2 - total/2
		moment += t * mid * (strain[i] - mean)
		z += t
	}
	return moment / (total * total * total / 12)
}
