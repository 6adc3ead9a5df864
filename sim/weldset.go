package sim

import (
	"math"

	"billet/layers"
)

// A joint sets when it is hot enough and has been squeezed enough. The critical
// reduction of clean stainless on steel in vacuum is 28 % at 1200 °C and two
// points less for each 50 °C more (Qin et al., Adv. Mech. Eng. 7(7), 2015; read
// in abstract). With flux and a tight, seam-welded stack smiths see it take
// after far less, 6 % on the first squeeze (common practice, no source). Half
// the published figure is taken, and from a fifth to one and a half times it is
// the band in which nobody can be sure.
const (
	fluxShare     = 0.5
	fluxShareLow  = 0.2
	fluxShareHigh = 1.5
	// slippery is the Tresca factor of a joint that has not set (assumed; the
	// drift it makes is bounded by runs at welded).
	slippery = 0.2
)

// criticalStrain is the true thickness strain at which a clean joint sets at
// tK, by the published line between 1000 and 1250 °C, held outside.
func criticalStrain(tK float64) float64 {
	c := min(max(tK-273.15, 1000), 1250)
	r := 0.28 - 0.0004*(c-1200)
	return -math.Log(1 - r)
}

// weldFrom is the joint temperature below which squeezing sets nothing, K below
// the welding heat the job asks for (assumed).
const weldFrom = 50.0

// setting is how far each joint is on its way to a sure weld: 1 is set.
type setting []float64

// squeeze advances the joints for a true strain at the joints' temperatures.
func (s setting) squeeze(strain float64, tempsK []float64, weldK float64) {
	for i := range s {
		if s[i] >= 1 || tempsK[i] < weldK-weldFrom {
			continue
		}
		s[i] = min(1, s[i]+strain/(fluxShare*criticalStrain(tempsK[i])))
	}
}

// least is the joint least on its way; 1 where there are none.
func (s setting) least() float64 {
	v := 1.0
	for _, x := range s {
		v = min(v, x)
	}
	return v
}

// joints is the joints as the layer model takes them: slippery at first, gripping
// more as they set.
func (s setting) joints() []layers.Joint {
	out := make([]layers.Joint, len(s))
	for i, v := range s {
		out[i] = layers.Joint{Welded: v >= 1, Friction: slippery + (1-slippery)*math.Min(v, 0.99)}
	}
	return out
}
