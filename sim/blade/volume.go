package blade

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// volumePoints is the number of Gauss points along each part of the blade.
// The section's area is linear in the spine's thickness for all kinds but the
// hollow, and smooth for that: 12 points leave nothing above rounding.
const volumePoints = 12

// Volume is the blade's, m3; the outline is a rectangle of height × length,
// so a point drawn on it takes off more. The blade must pass Check.
func (b Blade) Volume() float64 {
	area := func(s float64) float64 { return b.ProfileAt(s).Area() }
	v, from := 0.0, 0.0
	for _, to := range append(b.kinks(), b.Length) {
		v += quad.Fixed(area, from, to, volumePoints, quad.Legendre{}, 0)
		from = to
	}
	return v
}

// kinks are the places along a tapered hollow blade where the bevel starts to
// be limited by the wheel: rise g = R − √(R² − H²).
func (b Blade) kinks() []float64 {
	r, h := b.Grind.Wheel/2, b.Grind.Height
	if b.Grind.Kind != Hollow || h >= r || b.Spine == b.TipSpine {
		return nil
	}
	g := h * h / (r + math.Sqrt(r*r-h*h))
	s := b.Length * (b.Edge + 2*g - b.Spine) / (b.TipSpine - b.Spine)
	if s <= 0 || s >= b.Length {
		return nil
	}
	return []float64{s}
}

// Mass is the blade's, kg, of one density in kg/m3.
func (b Blade) Mass(density float64) float64 { return density * b.Volume() }
