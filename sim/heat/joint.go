package heat

import "math"

// JointState says how two layers touch.
type JointState int

// The states of a joint.
const (
	Ground JointState = iota // ground and tight, tacked or clamped
	Scaled                   // tight, but scale on both faces
	Gapped                   // an air gap of stated width
	Fluxed                   // filled with flux, liquid when hot
	Welded                   // perfect
	Given                    // a known contact conductance
)

// Joint is the contact between two layers.
type Joint struct {
	State       JointState
	Conductance float64 // W/m2K, with Given
	Gap         float64 // m, with Gapped
	// Factor multiplies the conductance of Ground, Scaled and Fluxed
	// joints; 0 means 1. It carries the range of what is unknown.
	Factor float64
}

// Tight is the conductance of ground, clamped faces, W/m2K. The joint
// conductance of ground steel plates under their own weight in air is
// 1800–4700 W/m2K between 20 and 1000 °C by the model of Yovanovich (contact
// spots and gas gap; read in excerpt in Mechanical Engineers' Handbook, vol. 4,
// p. 374); strips that are not flat leave gaps of 10–100 µm, which bring it to
// 300–5000. 1000 is the middle of that range on a log scale: assumed.
const Tight = 1000

// TightLow and TightHigh are the range of Tight, W/m2K.
const (
	TightLow  = 300
	TightHigh = 5000
)

// perfect stands for a weld made while the body is followed, W/m2K: each side has
// a node of its own already, and the stiffer the link between them the shorter the
// steps while their heat capacities part; a fifth of the accuracy asked is left
// between them at forgeFlux. Layers welded from the start share their nodes.
func perfect(accuracyK float64) float64 { return forgeFlux / (0.2 * accuracyK) }

// forgeFlux is what a cold skin takes up in a forge at welding heat, W/m2.
const forgeFlux = 250e3

// airConductivity is that of air at 1 bar, W/mK, against °C (from memory of
// handbook tables).
var airConductivity = [...][2]float64{{20, 0.026}, {200, 0.038}, {500, 0.057}, {800, 0.071}, {1000, 0.079}, {1200, 0.090}, {1400, 0.098}}

func airK(tK float64) float64 {
	c := tK - 273.15
	t := airConductivity[:]
	if c <= t[0][0] {
		return t[0][1]
	}
	for i := 1; i < len(t); i++ {
		if c <= t[i][0] {
			return t[i-1][1] + (c-t[i-1][0])/(t[i][0]-t[i-1][0])*(t[i][1]-t[i-1][1])
		}
	}
	return t[len(t)-1][1]
}

// The parts of joint laws that no source gives; all are assumed.
const (
	gapEmissivity  = 0.8    // both faces of a gap, oxidised
	scaleThickness = 0.1e-3 // m on each face of a scaled joint
	scaleK         = 2.0    // W/mK, porous scale (dense: 3–6, Beygelzimer, read in excerpt)
	scaleGap       = 0.1e-3 // m of air left between two scaled faces
	fluxK          = 1.2    // W/mK, molten borax glass (from memory: 1–1.5)
	fluxFilm       = 50e-6  // m
	fluxSoft       = 993.0  // K: begins to soften; borax melts at 743 °C (CRC handbook, from memory)
	fluxLiquid     = 1033.0 // K: runs everywhere
)

// gapConductance is conduction and radiation across an air gap, W/m2K:
// k/d + 4σT³/(1/ε + 1/ε − 1).
func gapConductance(gap, tK float64) float64 {
	return airK(tK)/gap + 4*Sigma*tK*tK*tK/(2/gapEmissivity-1)
}

// At is the joint's conductance, W/m2K, between sides at tLo and tHi, K. It is
// +Inf for a weld.
func (j Joint) At(tLo, tHi float64) float64 {
	mean := 0.5 * (tLo + tHi)
	f := j.Factor
	if f == 0 {
		f = 1
	}
	switch j.State {
	case Given:
		return j.Conductance
	case Scaled:
		return f / (2*scaleThickness/scaleK + 1/gapConductance(scaleGap, mean))
	case Gapped:
		return gapConductance(j.Gap, mean)
	case Fluxed:
		w := min(max((mean-fluxSoft)/(fluxLiquid-fluxSoft), 0), 1)
		return f * (Tight + w*(fluxK/fluxFilm-Tight))
	case Welded:
		return math.Inf(1)
	}
	return f * Tight
}

// Range is the factor by which the joint's conductance may be lower and
// higher than stated: 1, 1 where it is known.
func (j Joint) Range() (low, high float64) {
	switch j.State {
	case Ground:
		return TightLow / float64(Tight), TightHigh / float64(Tight)
	case Scaled:
		return 0.5, 2 // scale and gap 50–200 µm: assumed
	case Fluxed:
		return 0.3, 5 // as ground below the melting point of the flux
	}
	return 1, 1
}
