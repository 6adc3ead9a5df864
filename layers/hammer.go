package layers

import (
	"fmt"
	"math"
)

// Hammer strikes from the top on a flat anvil.
type Hammer struct {
	Energy         float64 // J a blow; 0 = Mass and Speed
	Mass, Speed    float64 // kg, m/s at impact; Speed 0 = 5 m/s, assumed
	PerS           float64 // 1/s, blows
	Face           float64 // m, along and across the bar; force is that of one blow on it
	Share          float64 // of the energy that reaches the metal; 0 = BlowShare
	FrictionTop    float64 // Tresca factor, hammer
	FrictionBottom float64 // Tresca factor, anvil
	Even           bool    // leave out the drift of one-sided hammering, to see what it makes
}

// assumedImpact is a usual speed of impact, m/s (assumed).
const assumedImpact = 5.0

func (h Hammer) impact() float64 {
	if h.Speed == 0 {
		return assumedImpact
	}
	return h.Speed
}

// Blow is the energy of a blow, J.
func (h Hammer) Blow() float64 {
	if h.Energy > 0 {
		return h.Energy
	}
	return h.Mass * h.impact() * h.impact() / 2
}

func (h Hammer) check() error {
	if !positive(h.Blow()) || !positive(h.PerS) || !positive(h.Face) || !(h.Speed >= 0) || !(h.Share >= 0 && h.Share <= 1) {
		return fmt.Errorf("layers: hammer: %g J a blow, %g blows/s, face %g m, share %g; positive, share up to 1", h.Blow(), h.PerS, h.Face, h.Share)
	}
	return nil
}

// leastSink is the draft a blow must make to be worth counting, as a share of
// the height: elastic give of bar and anvil takes less (assumed).
const leastSink = 5e-4

// Pass hammers one length of face down. The blows are lumped into one closing
// at half the speed of impact, and taken as spread evenly over a bar wider than
// the face.
func (h Hammer) Pass(s *Stack, job Pass) (*Outcome, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	if err := checkPass("hammer", s, job); err != nil {
		return nil, err
	}
	q := job.squeeze()
	if q.Spatial != nil {
		q.Spatial.OneSided = !h.Even
	}
	length := s.Length()
	q.Bite = math.Min(h.Face, length)
	q.Speed = h.impact() / 2
	q.Top.Friction, q.Bottom.Friction = h.FrictionTop, h.FrictionBottom
	width := s.lateral()
	rep, err := s.Press(q)
	if err != nil {
		return nil, err
	}
	share := h.Share
	if share == 0 {
		share = BlowShare
	}
	force := rep.Total * math.Min(1, h.Face/width)
	o := &Outcome{Report: rep, Bite: q.Bite, ForceMax: force, NominalPS: rep.Rate}
	factor := 1.0
	if rep.Correction != nil {
		factor = rep.Correction.ForceFactor
	}
	work := rep.Work.Die * q.Bite * factor
	o.Blows = int(math.Ceil(work / (share * h.Blow())))
	o.Bites = int(math.Ceil(length/q.Bite - 1e-9))
	o.Seconds = float64(o.Blows*o.Bites) / h.PerS
	o.Power = h.Blow() * h.PerS
	o.ForceRange = [2]float64{force * (1 - pressForceShare), force * (1 + pressForceShare)}
	sink := (rep.History[0].Height - q.To) / float64(o.Blows)
	o.limit("blows for a draft of 0.05 % of the height", leastSink*q.To/sink, 1, "")
	return o, nil
}
