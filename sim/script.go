package sim

import (
	"fmt"
	"math"

	"billet/layers"
	"billet/sim/heat"
)

// moveKind is what a move of the script does.
type moveKind int

const (
	moveSqueeze moveKind = iota
	moveAnneal
	moveGrind
	moveRestack
	moveLose
	moveCorrect
)

// move is one thing done to every station, so that the same work can be done
// again with a cause of drift switched off.
type move struct {
	kind   moveKind
	pass   Pass
	downA  bool
	to     float64
	lay    layers.Side
	joints [][]layers.Joint // by station
	temps  []heat.Map       // by station
	lose   [4]float64       // m off A, B, left and right
	seen   layers.Measured
}

// layerPass is the layer model's pass at a station.
func (m move) layerPass(t heat.Map, widthM float64, c changes) layers.Pass {
	slope := m.pass.Tilt / widthM
	if c.plainTools {
		slope = 0
	}
	if c.evenTemperature {
		t = t.Mirrored()
	}
	if c.draw != nil {
		t = c.draw.temperatures(t, m.downA)
	}
	return layers.Pass{To: m.to, Slope: slope, Section: c.section, Temperature: func(across, through float64) float64 {
		return t.At((across+1)/2, through)
	}}
}

// do does a move's squeeze on a station's stack.
func (m move) do(j *Job, s *layers.Stack, station int, c changes) (*layers.Outcome, error) {
	joints := m.joints[station]
	if c.welded {
		joints = make([]layers.Joint, len(joints))
		for i := range joints {
			joints[i].Welded = true
		}
	}
	if _, err := s.SetJoints(joints); err != nil {
		return nil, err
	}
	if err := s.Lay(m.lay); err != nil {
		return nil, err
	}
	tool, err := makeTool(j, m.pass, m.downA, c)
	if err != nil {
		return nil, err
	}
	width := s.Width()
	if m.pass.Edge {
		width = s.Thickness()
	}
	before := volume(s)
	o, err := tool.Pass(s, m.layerPass(m.temps[station], width, c))
	if err != nil {
		return nil, err
	}
	s.Stretch(before / volume(s))
	return o, nil
}

// apply does a move on a station's stack.
func (m move) apply(j *Job, s *layers.Stack, station int, c changes) error {
	switch m.kind {
	case moveAnneal:
		s.Anneal()
	case moveGrind:
		a, b := m.pass.OffA, m.pass.OffB
		if c.noLosses {
			a, b = (a+b)/2, (a+b)/2
		}
		_, _, err := s.Grind(a, b)
		return err
	case moveCorrect:
		return s.Correct(m.seen)
	case moveLose:
		a, b := m.lose[0], m.lose[1]
		if c.noLosses {
			a, b = (a+b)/2, (a+b)/2
		}
		return s.Lose(a, b, m.lose[2], m.lose[3])
	case moveRestack:
		return s.Restack(m.pass.Pieces, m.pass.Off, layers.Joint{Friction: slippery})
	default:
		_, err := m.do(j, s, station, c)
		return err
	}
	return nil
}

// replay does the script again on a fresh stack at one station.
func replay(j *Job, script []move, station int, c changes) (*layers.Stack, error) {
	s, err := newStack(j, c)
	if err != nil {
		return nil, err
	}
	for _, m := range script {
		if err := m.apply(j, s, station, c); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// makeTool makes the tool of a pass with side A down or not.
func makeTool(j *Job, p Pass, downA bool, c changes) (layers.Tool, error) {
	var top, bottom float64
	switch p.Tool {
	case ByPress:
		if j.Press == nil {
			return nil, fmt.Errorf("a pass by the press; the job has no press")
		}
		top, bottom = j.Press.FrictionTop, j.Press.FrictionBottom
	case ByRolls:
		if j.Rolls == nil {
			return nil, fmt.Errorf("a pass by the rolls; the job has no rolls")
		}
		top, bottom = j.Rolls.Friction, j.Rolls.Friction
	case ByHammer:
		if j.Hammer == nil {
			return nil, fmt.Errorf("a pass by the hammer; the job has no hammer")
		}
		top, bottom = hammerFriction, hammerFriction
	}
	if p.FrictionA != nil {
		*pick(downA, &bottom, &top) = *p.FrictionA
	}
	if p.FrictionB != nil {
		*pick(downA, &top, &bottom) = *p.FrictionB
	}
	if c.evenFriction {
		top = (top + bottom) / 2
		bottom = top
	}
	if c.draw != nil {
		top, bottom = min(1, top*c.draw.friction[0]), min(1, bottom*c.draw.friction[1])
	}
	switch p.Tool {
	case ByRolls:
		return rollsTool(j.Rolls, top, bottom, c), nil
	case ByHammer:
		h := j.Hammer
		return layers.Hammer{Energy: h.Energy, PerS: h.Rate, Face: h.Face, FrictionTop: top, FrictionBottom: bottom, Even: c.plainTools}, nil
	}
	t := pressTool(j.Press, top, bottom, c)
	if p.Bite > 0 {
		t.Along = math.Min(t.Along, p.Bite)
	}
	return t, nil
}

// hammerFriction is the Tresca factor of hammer and anvil on scaled steel
// (assumed, as the press's default).
const hammerFriction = 0.4

func pick(first bool, a, b *float64) *float64 {
	if first {
		return a
	}
	return b
}

func pressTool(p *Press, top, bottom float64, c changes) layers.Press {
	out := layers.Press{Force: p.Force, Bore: p.Bore, Pressure: p.Pressure,
		Along: math.Min(p.Top.Along, p.Bottom.Along), Across: math.Min(p.Top.Across, p.Bottom.Across),
		CrownTop: p.Top.Crown, CrownBottom: p.Bottom.Crown, Speed: p.Speed, FrictionTop: top, FrictionBottom: bottom}
	if p.Bore > 0 {
		for _, pt := range p.Pump {
			out.Pump = append(out.Pump, layers.PumpPoint{Pressure: pt.Pressure, Speed: pt.Speed})
		}
	}
	if c.plainTools && out.CrownTop != out.CrownBottom {
		out.CrownTop = (out.CrownTop + out.CrownBottom) / 2
		out.CrownBottom = out.CrownTop
	}
	return out
}

func rollsTool(r *Rolls, top, bottom float64, c changes) layers.Rolls {
	out := layers.Rolls{DiameterTop: r.DiameterTop, DiameterBottom: r.DiameterBottom, RevPerS: r.Speed / (2 * math.Pi),
		Power: r.Power, Force: r.Force, FrictionTop: top, FrictionBottom: bottom, Driven: layers.Driven(r.Driven)}
	if c.plainTools {
		out.DiameterTop = (out.DiameterTop + out.DiameterBottom) / 2
		out.DiameterBottom = out.DiameterTop
	}
	return out
}
