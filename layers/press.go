package layers

import (
	"fmt"
	"math"
	"sort"
)

// PumpPoint is a pump's ram speed at a pressure.
type PumpPoint struct {
	Pressure float64 // Pa
	Speed    float64 // m/s
}

// Press is a hydraulic press.
type Press struct {
	Force          float64     // N, greatest; 0 = Bore and Pressure
	Bore, Pressure float64     // m and Pa
	Along, Across  float64     // m, of the dies; Across 0 = wider than the bar
	CrownTop       float64     // m, radius along the bar of a drawing die; 0 flat
	CrownBottom    float64     // m
	BulgeTop       float64     // m, radius across the bar, bulging toward the metal; 0 flat
	BulgeBottom    float64     // m
	Speed          float64     // m/s under load; unused with Pump
	Pump           []PumpPoint // needs Bore; any order
	FrictionTop    float64     // Tresca factor
	FrictionBottom float64
}

// Limit is the greatest force, N.
func (p Press) Limit() float64 {
	if p.Force > 0 {
		return p.Force
	}
	return p.Pressure * math.Pi / 4 * p.Bore * p.Bore
}

func (p Press) check() error {
	if !positive(p.Limit()) || !positive(p.Along) || !(p.Across >= 0) {
		return fmt.Errorf("layers: press: force %g N, die %g m along and %g m across; a positive force (or bore and pressure) and die", p.Limit(), p.Along, p.Across)
	}
	if !(p.CrownTop >= 0 && p.CrownBottom >= 0) {
		return fmt.Errorf("layers: press: crowns %g and %g m; zero (flat) or a radius", p.CrownTop, p.CrownBottom)
	}
	if len(p.Pump) > 0 && !positive(p.Bore) {
		return fmt.Errorf("layers: press: a pump curve without a bore; give the cylinder's bore")
	}
	for _, c := range p.Pump {
		if !(c.Pressure >= 0) || !positive(c.Speed) {
			return fmt.Errorf("layers: press: pump point %g Pa, %g m/s; a pressure of zero or more and a positive speed", c.Pressure, c.Speed)
		}
	}
	if len(p.Pump) == 0 && !positive(p.Speed) {
		return fmt.Errorf("layers: press: speed %g m/s; positive, or a pump curve", p.Speed)
	}
	return nil
}

// SpeedAt is the ram speed under a force, m/s.
func (p Press) SpeedAt(force float64) float64 {
	if len(p.Pump) == 0 {
		return p.Speed
	}
	c := append([]PumpPoint(nil), p.Pump...)
	sort.Slice(c, func(i, j int) bool { return c[i].Pressure < c[j].Pressure })
	at := force / (math.Pi / 4 * p.Bore * p.Bore)
	if at <= c[0].Pressure {
		return c[0].Speed
	}
	for i := 1; i < len(c); i++ {
		if at <= c[i].Pressure {
			u := (at - c[i-1].Pressure) / (c[i].Pressure - c[i-1].Pressure)
			return c[i-1].Speed + u*(c[i].Speed-c[i-1].Speed)
		}
	}
	return c[len(c)-1].Speed
}

// Bite is the contact along the bar when closing by draft, m: the die's length,
// or the mean chord of crowned dies sunk in by half the draft each, and never
// more than the bar.
func (p Press) Bite(draft, barLength float64) float64 {
	side := func(radius float64) float64 {
		if radius == 0 {
			return p.Along
		}
		return math.Min(p.Along, 2*math.Sqrt(radius*draft))
	}
	return math.Min(barLength, (side(p.CrownTop)+side(p.CrownBottom))/2)
}

// speedRounds bounds the search for the speed a pump gives at the force met.
const speedRounds = 6

// Pass squeezes one bite.
func (p Press) Pass(s *Stack, job Pass) (*Outcome, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := checkPass("press", s, job); err != nil {
		return nil, err
	}
	q := job.squeeze()
	q.Bite = p.Bite(s.between()-job.To, s.Length())
	q.Top.Friction, q.Bottom.Friction = p.FrictionTop, p.FrictionBottom
	q.Top.Across, q.Bottom.Across = p.Across, p.Across
	q.Top.Crown, q.Bottom.Crown = p.BulgeTop, p.BulgeBottom
	q.Speed = p.SpeedAt(p.Limit() / 2)
	length := s.Length()
	rep, after, err := p.settle(s, &q)
	if err != nil {
		return nil, err
	}
	*s = *after
	return p.outcome(rep, &q, length), nil
}

// settle repeats the squeeze until the pump's speed and the force agree.
func (p Press) settle(s *Stack, q *Squeeze) (*Report, *Stack, error) {
	for round := 0; ; round++ {
		after := s.Clone()
		rep, err := after.Press(*q)
		if err != nil {
			return nil, nil, err
		}
		next := p.SpeedAt(math.Min(rep.Total, p.Limit()))
		if round == speedRounds || math.Abs(next-q.Speed) < 0.01*q.Speed {
			return rep, after, nil
		}
		q.Speed = math.Sqrt(q.Speed * next)
	}
}

// pressForceShare is the uncertainty of the section's force (against the
// three-dimensional model, with its factor: within 10 %; flow stress apart).
const pressForceShare = 0.10

func (p Press) outcome(rep *Report, q *Squeeze, length float64) *Outcome {
	o := &Outcome{Report: rep, Bite: q.Bite, ForceMax: rep.Total, NominalPS: rep.Rate}
	o.ForceRange = [2]float64{rep.Total * (1 - pressForceShare), rep.Total * (1 + pressForceShare)}
	o.Power = rep.Total * q.Speed
	o.Bites = int(math.Ceil(length/q.Bite - 1e-9))
	o.Seconds = float64(o.Bites) * (rep.History[0].Height - q.To) / q.Speed
	o.limit("press force", rep.Total, p.Limit(), "N")
	o.stalls(p.Limit())
	return o
}
