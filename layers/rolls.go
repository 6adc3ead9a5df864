package layers

import (
	"fmt"
	"math"
)

// Driven names the rolls that turn under power.
type Driven int

// Which rolls are driven.
const (
	DrivenBoth Driven = iota
	DrivenTop
	DrivenBottom
)

// Rolls is a two-high mill.
type Rolls struct {
	DiameterTop, DiameterBottom float64 // m
	RevPerS                     float64 // 1/s, of the driven rolls
	Power                       float64 // W of the motor; 0 = no limit
	Force                       float64 // N, frame; 0 = no limit
	Torque                      float64 // N m per driven roll; 0 = no limit
	FrictionTop, FrictionBottom float64 // Tresca factor
	BiteFriction                float64 // Coulomb, for taking the bar; 0 = the lesser Tresca factor / sqrt 3
	Driven                      Driven
	SpreadFactor                float64 // on the spread law, from a measured pass; 0 = 1
}

func (r Rolls) check() error {
	if !positive(r.DiameterTop) || !positive(r.DiameterBottom) || !positive(r.RevPerS) {
		return fmt.Errorf("layers: rolls: diameters %g and %g m, %g rev/s; all must be positive", r.DiameterTop, r.DiameterBottom, r.RevPerS)
	}
	if !(r.Power >= 0 && r.Force >= 0 && r.Torque >= 0 && r.BiteFriction >= 0 && r.SpreadFactor >= 0) {
		return fmt.Errorf("layers: rolls: a negative limit or factor; zero means none")
	}
	if r.Driven < DrivenBoth || r.Driven > DrivenBottom {
		return fmt.Errorf("layers: rolls: driven %d; both, top or bottom", int(r.Driven))
	}
	return nil
}

// radius is that of the equal pair with the same contact length, m.
func (r Rolls) radius() float64 { return EffectiveRadius(r.DiameterTop/2, r.DiameterBottom/2) }

// speed is the surface speed of the driven rolls, m/s.
func (r Rolls) speed() float64 {
	d := (r.DiameterTop + r.DiameterBottom) / 2
	switch r.Driven {
	case DrivenTop:
		d = r.DiameterTop
	case DrivenBottom:
		d = r.DiameterBottom
	}
	return math.Pi * d * r.RevPerS
}

// gripFriction is the Coulomb friction that takes the bar: at a pressure of one
// flow stress, m k = mu Y gives mu = m/sqrt 3. With one roll driven the other
// drags, so only half of it counts.
func (r Rolls) gripFriction() float64 {
	mu := r.BiteFriction
	if mu == 0 {
		mu = math.Min(r.FrictionTop, r.FrictionBottom) / math.Sqrt(3)
	}
	if r.Driven != DrivenBoth {
		mu /= 2
	}
	return mu
}

// Pass rolls the bar to a thickness. The layers move as in a squeeze over the
// contact length, its end restraint chosen so that the spread is Wusatowski's;
// force and torque are those of Ford and Alexander on the layers' mean strength.
func (r Rolls) Pass(s *Stack, job Pass) (*Outcome, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	if err := checkPass("rolls", s, job); err != nil {
		return nil, err
	}
	h1, h2, length := s.between(), job.To, s.Length()
	q := job.squeeze()
	q.Rolled = true
	q.Bite = ContactLength(r.radius(), h1-h2)
	q.Speed = r.speed() * (h1 - h2) / q.Bite
	q.Top.Friction, q.Bottom.Friction = r.FrictionTop, r.FrictionBottom
	rate := RollRate(r.speed(), q.Bite, h1, h2)
	yield, err := s.meanStrength(&q, math.Log(h1/h2), rate)
	if err != nil {
		return nil, err
	}
	w1 := s.lateral()
	missed, err := r.restrain(s, &q, h1)
	if err != nil {
		return nil, err
	}
	rep, err := s.Press(q)
	if err != nil {
		return nil, err
	}
	o := &Outcome{Report: rep, Bite: q.Bite, Bites: 1, NominalPS: rate}
	o.Seconds = rep.After.Length / r.speed()
	if rep.After.Length < length {
		o.Seconds = length / r.speed()
	}
	if missed {
		o.warn("the rolled section spreads more or less than the spread law allows for at any end restraint; the nearest was taken")
	}
	r.demands(o, yield, (w1+s.lateral())/2, h1, h2)
	return o, nil
}

// Bounds of the end restraint tried for rolls and how near the spread exponent
// must come. The first try, 0.66, is near for bars one to nine times as wide as
// thick (computed); the
// nearness is a tenth of the law's own uncertainty of 40 % at an exponent of 0.1.
const (
	leastRestraint = 0.04
	mostRestraint  = 11
	spreadNear     = 0.004
)

// restrain finds the end restraint at which the section spreads as
// Wusatowski's law says, by halving its logarithm; missed tells that the bounds
// were met. The restraint fitted to squeezes would give rolled bars about twice
// the spread of the published laws.
func (r Rolls) restrain(s *Stack, q *Squeeze, h1 float64) (missed bool, err error) {
	if q.Restraint != 0 {
		return false, nil
	}
	want := Wusatowski(SpreadCase{H0: h1, H1: q.To, Width: s.lateral(), Radius: r.radius()})
	if r.SpreadFactor > 0 {
		want *= r.SpreadFactor
	}
	trial := *q
	trial.Spatial = nil
	lo, hi := math.Log(leastRestraint), math.Log(mostRestraint)
	for k := 0; k < 12; k++ {
		trial.Restraint = math.Exp((lo + hi) / 2)
		bar := s.Clone()
		if _, err := bar.press(&trial); err != nil {
			return false, err
		}
		got := 1 - math.Log(bar.Length()/s.Length())/math.Log(h1/q.To)
		q.Restraint = trial.Restraint
		if math.Abs(got-want) < spreadNear {
			return false, nil
		}
		if got > want {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	return true, nil
}

// rollForceShare is the uncertainty of the rolling formula's force and torque.
const rollForceShare = 0.15

// demands fills force, torque, power and limits.
func (r Rolls) demands(o *Outcome, yield, width, h1, h2 float64) {
	l := o.Bite
	plane := 2 / math.Sqrt(3) * yield
	q := FordAlexanderQ(l, h1, h2)
	o.ForceMax = plane * width * l * q
	high := math.Max(1+rollForceShare, PeeningQ(l, (h1+h2)/2)/q)
	o.ForceRange = [2]float64{o.ForceMax * (1 - rollForceShare), o.ForceMax * high}
	both := FordAlexanderTorque(width, plane/2, l, h1, h2)
	o.Torque = both / 2
	if r.Driven != DrivenBoth {
		o.Torque = both
	}
	o.Power = both * 2 * math.Pi * r.RevPerS
	if l < (h1+h2)/2 {
		o.warn("contact %.1f mm is shorter than the mean height %.1f mm: extra work in the thick bar may raise the force above the formula, up to %.0f kN",
			l*1e3, (h1+h2)/2*1e3, o.ForceRange[1]/1e3)
	}
	for _, l := range []Limit{
		{"roll force", o.ForceMax, r.Force, "N"},
		{"roll torque", o.Torque, r.Torque, "N m"},
		{"rolling power", o.Power, r.Power, "W"},
	} {
		if l.Allowed > 0 {
			o.limit(l.What, l.Demand, l.Allowed, l.Unit)
		}
	}
	o.limit("tangent of the bite angle", math.Tan(BiteAngle(r.radius(), h1-h2)), r.gripFriction(), "")
}

// meanStrength is the layers' flow stress averaged over the section by area and
// over the strain of the pass (three-point Simpson), Pa.
func (s *Stack) meanStrength(q *Squeeze, strain, rate float64) (float64, error) {
	p := &pass{q: q, stack: s}
	p.sec, p.perm = s.newSection(q)
	if err := p.setTemperatures(); err != nil {
		return 0, err
	}
	total, area := 0.0, 0.0
	m := s.mesh
	for c := 0; c < m.nc-1; c++ {
		for r := range m.rows {
			e := &p.sec.els[m.element(c, r)]
			a := m.elementArea(c, r)
			lo := e.strain + 1e-3*strain // laws of hardening may give 0 at no strain
			y := (p.mixed(e, lo, rate) + 4*p.mixed(e, e.strain+strain/2, rate) + p.mixed(e, e.strain+strain, rate)) / 6
			total += a * y
			area += a
		}
	}
	if y := total / area; positive(y) {
		return y, nil
	}
	return 0, fmt.Errorf("layers: rolls: the layers' mean strength came out as %g Pa; check the strength laws", total/area)
}
