package metal

import (
	"fmt"
	"math"

	"billet/sim/steel"
)

// Wüstite, Fe0.95O: 0.95·55.845 and 15.999 g/mol.
const (
	ironPerOxygen = 0.95 * 55.845 / 15.999  // kg of iron to a kg of oxygen
	oxygenShare   = 1 / (1 + ironPerOxygen) // of the mass of the scale
	scaleDensity  = 5600.0                  // kg/m3: 5200 to 5600 without pores (read in excerpt)
	wustiteK      = zeroC + 570             // below it no wüstite, and no law here
	scaleLimitK   = zeroC + 1250            // above it the law is stretched
)

// Paidassi is the parabolic constant of iron and low-carbon steel in air,
// (kg/m2)² of oxygen per s: 6.1 exp(-169452 J/RT) g²cm⁻⁴s⁻¹, Païdassi 1958 as
// quoted by Chen and Yuen, Oxid. Met. 59 (2003) 433; from memory. 700 to 1250 C;
// good to a factor of two, 40 % on thickness.
func Paidassi(tempK float64) float64 {
	return 610 * math.Exp(-169452/(gasR*tempK))
}

// Skin is the scale on one face of the metal and what it has cost.
type Skin struct {
	density float64 // kg/m3 of the metal
	factor  float64 // on the parabolic constant: what the alloy protects

	oxygen  float64 // kg/m2 in the scale now on
	taken   float64 // kg/m2 taken up since the start, per area at the time
	over    float64 // s spent above the law's range
	protect string
}

// NewSkin is a clean face of a material. Chromium above 10 % is taken to scale
// at a fiftieth of the parabolic constant and nickel at a hundredth: orders of
// magnitude, from memory.
func NewSkin(m steel.Material) *Skin {
	s := &Skin{density: m.Density, factor: 1}
	switch kindOf(m, Of(m)) {
	case chromium, austenitic:
		s.factor = 0.02
		s.protect = "scale on " + m.Name + ": a fiftieth of the plain steel's parabolic constant, an order of magnitude, from memory"
	case nickel, barrier:
		s.factor = 0.01
		s.protect = "scale on " + m.Name + ": a hundredth of steel's parabolic constant, an order of magnitude, from memory"
	}
	return s
}

// Grow lets scale grow for dt (s) while the face goes evenly from fromK to toK
// (K) in a gas: m²/kp + m/kl = t, with m the oxygen taken up, kp Paidassi's
// constant and kl the gas's supply; integrated in pieces of at most 5 K. Below
// 570 C none grows.
func (s *Skin) Grow(dt, fromK, toK float64, gas Atmosphere) error {
	if !(dt >= 0) || math.IsInf(dt, 0) || !(fromK > 0 && toK > 0) || fromK > 2000 || toK > 2000 {
		return fmt.Errorf("scale: %g s from %g to %g K; zero or more, temperatures above 0 and to 2000 K", dt, fromK, toK)
	}
	n := max(1, int(math.Ceil(math.Abs(toK-fromK)/5)))
	for i := range n {
		t := fromK + (toK-fromK)*(float64(i)+0.5)/float64(n)
		s.grow(dt/float64(n), t, gas)
	}
	return nil
}

func (s *Skin) grow(dt, tempK float64, gas Atmosphere) {
	if tempK < wustiteK || gas.Oxidises <= 0 {
		return
	}
	if tempK > scaleLimitK {
		s.over += dt
	}
	kp := Paidassi(tempK) * s.factor * gas.Oxidises
	m := s.oxygen
	b := 0.0
	if gas.Supply > 0 {
		b = kp / gas.Supply / 2
	}
	// m² + 2 b m grows by kp dt.
	s.oxygen = math.Sqrt((m+b)*(m+b)+kp*dt) - b
	s.taken += s.oxygen - m
}

// Descale takes the scale off: brush, blow, press.
func (s *Skin) Descale() { s.oxygen = 0 }

// Recession is the metal lost so far, m, at the thickness and area of the
// metal when it was lost.
func (s *Skin) Recession() float64 { return s.IronLost() / s.density }

// IronLost is the metal turned to scale so far, kg per m2 of face.
func (s *Skin) IronLost() float64 { return s.taken * ironPerOxygen }

// Thickness is the scale now on, m, without pores.
func (s *Skin) Thickness() float64 { return s.oxygen / oxygenShare / scaleDensity }

// Drawn takes notice that the face grew by a factor (area after over before):
// scale still on is spread over it.
func (s *Skin) Drawn(area float64) {
	if area > 0 {
		s.oxygen /= area
	}
}

// Warnings says what was outside the law's range.
func (s *Skin) Warnings() []string {
	var w []string
	if s.over > 0 {
		w = append(w, fmt.Sprintf("scale: %.0f s above 1250 C, where the law of growth was not measured", s.over))
	}
	if s.protect != "" {
		w = append(w, s.protect)
	}
	return w
}
