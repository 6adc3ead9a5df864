package heat

import (
	"math"

	"billet/sim/internal/fd"
)

// Induction heats the metal from inside: a coil around the billet, along its
// length, puts its power into a skin below the four long faces.
type Induction struct {
	Power     float64 // W that ends in the billet
	Frequency float64 // Hz
}

// mu0 is the permeability of free space, H/m (CODATA 2018: 1.25663706212e-6).
const mu0 = 1.25663706212e-6

// resistivity of plain high-carbon steel, ohm m, against °C (grade handbook
// table of 0.8 %C steel, read in excerpt; the ends from memory).
var resistivityC = [...]float64{20, 100, 400, 600, 700, 800, 900, 1200}
var resistivityV = [...]float64{0.20e-6, 0.23e-6, 0.491e-6, 0.769e-6, 0.931e-6, 1.129e-6, 1.165e-6, 1.24e-6}

// Below the Curie point a strong field saturates the steel: a relative
// permeability of 40 is assumed to 700 °C, falling to 1 at 770 °C.
const (
	magnetic  = 40.0
	curieFrom = 700.0
	curieTo   = 770.0 // °C, Curie point of iron
)

// SkinDepth is √(ρ/(π·f·μ)), the depth at which the current has fallen to 1/e,
// m, in steel at tK.
func SkinDepth(tK, frequencyHz float64) float64 {
	c := tK - 273.15
	mu := magnetic + (1-magnetic)*min(max((c-curieFrom)/(curieTo-curieFrom), 0), 1)
	i, w := bracket(resistivityC[:], c)
	rho := resistivityV[i] + w*(resistivityV[i+1]-resistivityV[i])
	return math.Sqrt(rho / (math.Pi * frequencyHz * mu * mu0))
}

// induced holds where the coil's power goes.
type induced struct {
	coil  Induction
	depth []float64 // m below the nearest long face, by node
	vol   []float64
	skin  int // node read for the skin depth
	share float64
	phi   []float64 // temperatures at the point last asked for
	w     []float64
	delta float64 // skin depth that w and sum were made for, m
	sum   float64
}

// newInduced prepares the source for a field.
func (f *Field) newInduced(c Induction) *induced {
	s := &induced{coil: c, share: 1 / f.parts()}
	g := f.mesh.grid
	z, y := g.Axes[fd.Z], g.Axes[fd.Y]
	thick, wide := f.body.Thickness(), f.body.Width
	for i := range g.Len() {
		zz, yy := z.X[i%z.Len()], y.X[i/z.Len()%y.Len()]
		d := math.Min(zz, thick-zz)
		if f.body.Dims >= 2 {
			d = math.Min(d, math.Min(yy, wide-yy))
		}
		s.depth = append(s.depth, d)
		s.vol = append(s.vol, g.Volume(i))
	}
	s.skin = g.Index(f.topZ(), f.mesh.midY, f.mesh.midX)
	s.w = make([]float64, g.Len())
	return s
}

// add puts the power density, as the square of the current falls with depth,
// e^(−2d/δ), into rate and returns the whole.
func (s *induced) add(rate []float64) float64 {
	const close = 1e-3 // a change of skin depth too small to matter
	if d := SkinDepth(s.phi[s.skin], s.coil.Frequency); math.Abs(d-s.delta) > close*s.delta {
		s.delta, s.sum = d, 0
		for i, depth := range s.depth {
			s.w[i] = math.Exp(-2 * depth / d)
			s.sum += s.w[i] * s.vol[i]
		}
	}
	if s.sum == 0 {
		return 0
	}
	power := s.coil.Power * s.share
	for i, w := range s.w {
		rate[i] += power * w / s.sum
	}
	return power
}
