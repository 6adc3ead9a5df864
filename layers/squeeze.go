package layers

import (
	"errors"
	"fmt"
	"math"
)

// Face is a tool's face as seen in the bar's cross-section.
type Face struct {
	Friction float64 // Tresca factor m, 0..1
	Slope    float64 // rise of the face per width, toward the smith's right; |slope| <= 0.2
	Crown    float64 // m, radius across the bar, bulging toward the metal; 0 = flat
	Across   float64 // m, width of the face; 0 = wider than the bar
}

// NoRestraint asks for no end restraint at all.
const NoRestraint = -1

// DefaultStep is the share of the height closed in one increment.
const DefaultStep = 0.04

// Squeeze is one closing of two tools on the bar as it lies. Top and Bottom
// are the machine's, whichever side of the bar is down.
type Squeeze struct {
	To          float64 // m, gap between the tools at mid width when closed
	Top, Bottom Face
	Bite        float64 // m, contact along the bar
	Speed       float64 // m/s, closing speed
	// Temperature in K, at a share of the half width (-1 left .. 1 right) and a
	// share of the thickness (0 at side B .. 1 at side A) in the metal's frame.
	Temperature func(across, through float64) float64
	TempStays   bool
	Step        float64 // share of the height an increment; 0 = DefaultStep; at most 0.1
	Restraint   float64 // alpha; 0 = from bite and width; NoRestraint = none
	Curl        bool    // follow the curvature instead of holding the bar straight; see Stack.Straighten

	Rolled  bool     // between rolls: bite is the contact length
	Spatial *Spatial // three-dimensional corrections; nil = none

	guide *guide // written by a squeeze, read by the even one compared with it
}

func (q *Squeeze) check(s *Stack) error {
	if !positive(q.To) || !positive(q.Bite) || !positive(q.Speed) {
		return fmt.Errorf("layers: squeeze: to %g m, bite %g m, speed %g m/s; all must be positive", q.To, q.Bite, q.Speed)
	}
	if q.Temperature == nil {
		return fmt.Errorf("layers: squeeze: no temperature; give a function of place in K")
	}
	if !(q.Step >= 0 && q.Step <= 0.1) {
		return fmt.Errorf("layers: squeeze: step %g; 0 (default %g) to 0.1 of the height", q.Step, DefaultStep)
	}
	if !(q.Restraint >= 0 && q.Restraint < 100) && q.Restraint != NoRestraint {
		return fmt.Errorf("layers: squeeze: restraint %g; 0 (from the bite), a positive factor or NoRestraint", q.Restraint)
	}
	for _, f := range []Face{q.Top, q.Bottom} {
		if err := f.check(); err != nil {
			return err
		}
	}
	if q.Curl && s.OnEdge() {
		return fmt.Errorf("layers: squeeze: curl on edge; curvature is followed flat only")
	}
	return nil
}

func (f Face) check() error {
	if !(f.Friction >= 0 && f.Friction <= 1) {
		return fmt.Errorf("layers: face: friction %g; a Tresca factor from 0 to 1", f.Friction)
	}
	if !(math.Abs(f.Slope) <= 0.2) {
		return fmt.Errorf("layers: face: slope %g; -0.2 to 0.2", f.Slope)
	}
	if !(f.Crown >= 0) || !(f.Across >= 0) || math.IsInf(f.Crown, 0) || math.IsInf(f.Across, 0) {
		return fmt.Errorf("layers: face: crown %g m, across %g m; zero or positive", f.Crown, f.Across)
	}
	return nil
}

func (f Face) die(up float64) die {
	d := die{slope: f.Slope, friction: f.Friction, up: up, reach: f.Across / 2}
	if f.Crown > 0 {
		d.bend = up / f.Crown
	}
	if f.Across == 0 {
		d.reach = math.Inf(1)
	}
	return d
}

// dies gives the lower and upper tool in the section's frame. Turning the bar
// over swaps them and keeps the sign of a slope.
func (q *Squeeze) dies(down Side) [2]die {
	if down == SideA {
		return [2]die{q.Top.die(-1), q.Bottom.die(1)}
	}
	return [2]die{q.Bottom.die(-1), q.Top.die(1)}
}

// sideways tells whether anything in the squeeze differs left from right.
func (q *Squeeze) sideways(m *mesh) bool {
	if q.Top.Slope != 0 || q.Bottom.Slope != 0 {
		return true
	}
	for _, r := range m.rows {
		through := (r.from + r.to) / 2
		for k := 1; k <= 8; k++ {
			u := float64(k) / 8
			if math.Abs(q.Temperature(u, through)-q.Temperature(-u, through)) > 1e-9 {
				return true
			}
		}
	}
	return false
}

// Press closes the tools on the bar as it lies and changes the stack's shape.
// On an error the stack is left as it was.
func (s *Stack) Press(q Squeeze) (*Report, error) {
	if err := q.check(s); err != nil {
		return nil, err
	}
	work := s.Clone()
	q.guide = nil
	if q.Spatial != nil {
		q.guide = &guide{}
	}
	rep, err := work.press(&q)
	if err != nil {
		return nil, err
	}
	rep.After = work.Shape()
	if q.Spatial != nil {
		if err := q.Spatial.apply(s, work, &q, rep); err != nil {
			return nil, err
		}
	}
	rep.After = work.Shape()
	rep.widthRange(s.lateral(), work.lateral(), q.Rolled)
	*s = *work
	return rep, nil
}

// press does the squeeze on s itself, without three-dimensional corrections.
func (s *Stack) press(q *Squeeze) (*Report, error) {
	if s.OnEdge() || (s.mesh.half && q.sideways(s.mesh)) {
		s.mesh = s.mesh.whole()
	}
	var p *pass
	for round := 0; ; round++ {
		next, err := s.newPass(q)
		if p != nil && errors.Is(err, errNoGap) {
			return p.report(), nil // the redrawn bar is as thin as wanted
		}
		if err != nil {
			return nil, err
		}
		next.follow(p)
		p = next
		err = p.run()
		p.writeBack()
		if err == nil {
			return p.report(), nil
		}
		if !errors.Is(err, errFolded) || round == maxRemeshes {
			return nil, err
		}
		p.warnings = append(p.warnings, fmt.Sprintf(
			"the section folded over at %.1f mm (a soft layer running past a hard one) and was drawn anew with straight sides", p.height*1e3))
		if err := s.remesh(); err != nil {
			return nil, err
		}
	}
}

// maxRemeshes bounds how often one squeeze is meshed anew.
const maxRemeshes = 8

// follow takes over the books of a squeeze interrupted for a new mesh.
func (p *pass) follow(q *pass) {
	if q == nil {
		return
	}
	p.start, p.before, p.forces, p.work, p.turned = q.start, q.before, q.forces, q.work, q.turned
	p.solves, p.newtons, p.increments, p.warnings = q.solves, q.newtons, q.increments, q.warnings
}
