package layers

import (
	"errors"
	"fmt"
	"math"
)

// Straightening is how a curled bar is bent straight.
type Straightening struct {
	// Temperature in K; see Squeeze.
	Temperature func(across, through float64) float64
	Rate        float64 // 1/s, strain rate at the faces; 0 = 0.1
	Step        float64 // strain at the faces an increment; 0 = 0.01; at most 0.1
}

// The defaults. Straight increments add to the volume: strain at the faces times
// an increment of it, over 6, so 8e-4 at worst.
const (
	straightenRate = 0.1  // 1/s
	straightenStep = 0.01 // strain
	leastBends     = 4    // increments
)

// mostBent is the largest strain at the faces that is taken, curvature x half
// the thickness: strains go in as for a slender bar, whose curvature does not
// change the length of its fibres a second time.
const mostBent = 0.5

// plateNumber is width^2 x curvature / thickness above which a bar no longer
// bends as a beam, free to curve across (from memory: a beam under about 1, a
// plate over about 100).
const plateNumber = 1

func (o Straightening) check(s *Stack, curl float64) error {
	if o.Temperature == nil {
		return fmt.Errorf("layers: straighten: no temperature; give a function of place in K")
	}
	if !(o.Rate >= 0) || math.IsInf(o.Rate, 0) {
		return fmt.Errorf("layers: straighten: rate %g /s; 0 (default %g) or positive", o.Rate, straightenRate)
	}
	if !(o.Step >= 0 && o.Step <= 0.1) {
		return fmt.Errorf("layers: straighten: step %g; 0 (default %g) to 0.1 of strain at the faces", o.Step, straightenStep)
	}
	if b := s.faceStrain(curl); !(b <= mostBent) {
		return fmt.Errorf("layers: straighten: curl %g /m strains the faces by %.3g; at most %g", curl, b, mostBent)
	}
	return nil
}

// faceStrain is the strain at the faces that goes with a curl (1/m).
func (s *Stack) faceStrain(curl float64) float64 {
	return math.Abs(curl) / s.mesh.elongation[0] * s.ThicknessAt(0) / 2
}

// Straighten bends the bar straight without tools: curl is the angle to be
// taken out per m of length at lay-up, 1/m, positive when side A is the longer,
// as Report.Curl gives it (the sum over squeezes that followed it). The
// curvature rate is imposed step by step and every other speed is free, so
// that the section also curves across, as a beam's does, and the layers' lines
// move with it. How the bar lies does not matter. In the report Curl is what
// the straightening gathered, -curl; Work is per m of bar and its Die the
// bending moment's; forces are zero; Field is nil for a curl of zero.
//
// The offset taken out is that of a beam free to curve across, phi(1-phi) h/(4R)
// of the thickness h with jackets of phi each: half of what a section held flat
// across gathers with the same curvature. A squeeze that follows the curl holds
// it nearly flat and also lets the softer side take more of the work, so after
// one the core does not come back to where a bar held straight has it: from 38
// to 33.4 mm with 100 K between the faces 2 to 5 times that offset is left,
// where single bites of a three-dimensional model (computed) came back to within
// 25 %. For offsets hold the bar straight in the squeeze (Curl false) and take
// what curl leaves as that uncertainty.
//
// Wide thin bars (width^2 x curvature over 1 thickness) curve across less than
// computed, and a warning says so. Joints that slip keep
// their friction as if pressed together. Faces may be strained by up to 0.5; on
// an error the stack is left as it was.
func (s *Stack) Straighten(curl float64, o Straightening) (*Report, error) {
	if err := o.check(s, curl); err != nil {
		return nil, err
	}
	if o.Rate == 0 {
		o.Rate = straightenRate
	}
	if o.Step == 0 {
		o.Step = straightenStep
	}
	work := s.Clone()
	work.down = SideB // the curvature is in the metal's own frame
	rep, err := work.unbend(curl, o)
	if err != nil {
		return nil, err
	}
	work.down = s.down
	rep.After = work.Shape()
	rep.WidthRange = [2]float64{rep.After.Width, rep.After.Width}
	*s = *work
	return rep, nil
}

// unbend straightens s itself.
func (s *Stack) unbend(curl float64, o Straightening) (*Report, error) {
	q := &Squeeze{Temperature: o.Temperature, Curl: true, Restraint: NoRestraint, Bite: s.Length(), Speed: o.Rate * s.ThicknessAt(0)}
	if s.mesh.half && q.sideways(s.mesh) {
		s.mesh = s.mesh.whole()
	}
	p := &pass{q: q, stack: s, start: s.Shape(), before: append([]float64(nil), s.mesh.elongation...)}
	p.warnings = append(p.warnings, s.notices...)
	p.sec, p.perm = s.newSection(q)
	p.sec.bent, p.sec.ring, p.sec.edges = true, nil, nil
	if err := p.setTemperatures(); err != nil {
		return nil, fmt.Errorf("%w (while straightening)", err)
	}
	p.warnBend(curl)
	if curl == 0 {
		rep := &Report{Before: p.start, Overhang: s.Overhang(), Warnings: p.warnings}
		for range p.before {
			rep.Elongation = append(rep.Elongation, 1)
		}
		return rep, nil
	}
	n := math.Max(leastBends, math.Ceil(s.faceStrain(curl)/o.Step))
	for range int(n) {
		err := p.bend(-curl/n, o.Rate)
		if errors.Is(err, errFolded) {
			return nil, fmt.Errorf("layers: straighten: the section's mesh folded; a smaller step or curl")
		}
		if err != nil {
			return nil, fmt.Errorf("%w (while straightening)", err)
		}
	}
	p.writeBack()
	return p.report(), nil
}

func (p *pass) warnBend(curl float64) {
	s := p.stack
	number := p.start.Width * p.start.Width * math.Abs(curl) / s.mesh.elongation[0] / p.start.Thickness
	if number > plateNumber {
		p.warnings = append(p.warnings, fmt.Sprintf(
			"straightening: width^2 x curvature is %.2g thicknesses: so wide a bar curves across less than computed, and its core's offset changes by up to twice as much", number))
	}
	if len(p.sec.slips) > 0 {
		p.warnings = append(p.warnings, "straightening: joints that are not welded slip with their friction as if pressed together")
	}
}

// bend turns the section by an angle per m of length at lay-up (1/m) at a
// strain rate at the faces (1/s).
func (p *pass) bend(turn, faceRate float64) error {
	s := p.sec
	bottom, height := s.middle()
	curving := math.Copysign(faceRate/(height/2), turn) // 1/(m s)
	dt := turn / (curving * s.stretch[0])
	s.law.freeze(height, faceRate/2*height, dt, p.q.Bite) // the mean rate is half the faces'
	s.law.midZ = bottom + height/2
	if err := p.prepare(); err != nil {
		return err
	}
	s.law.midZ = s.centroid()
	if p.increments == 0 {
		s.guessBend(curving)
	}
	s.u[s.dofs+s.groups] = curving
	p.increments++
	p.solves++
	it, err := s.newton()
	p.newtons += it
	if err != nil {
		return err
	}
	s.assemble(s.u, false)
	s.account()
	s.power.Die = s.moment * curving
	if s.half {
		s.power.Die *= 2
	}
	if !s.move(dt) {
		return errFolded
	}
	p.work.add(&s.power, dt)
	p.turned += turn
	return nil
}

// middle is the lowest place of the column nearest mid width, and its height, m.
func (s *section) middle() (bottom, height float64) {
	c := 0
	if !s.half {
		c = s.nodes / s.levels / 2
	}
	a, b := c*s.levels, (c+1)*s.levels-1
	return s.x[2*a+1], s.x[2*b+1] - s.x[2*a+1]
}

// centroid is the section's, along z, m: elongation counted there times the
// area is the volume.
func (s *section) centroid() float64 {
	t, a := 0.0, 0.0
	for i := range s.els {
		e := &s.els[i]
		for g, w := range e.w {
			t += w * e.zg[g]
		}
		a += e.w[0] + e.w[1] + e.w[2] + e.w[3]
	}
	return t / a
}

// guessBend starts Newton from the flow of a homogeneous beam, a single stress
// along the bar.
func (s *section) guessBend(curving float64) {
	clear(s.u)
	for n := 0; n < s.nodes; n++ {
		y, z := s.x[2*n], s.x[2*n+1]-s.law.midZ
		s.u[2*n], s.u[2*n+1] = -curving*y*z/2, curving*(y*y-z*z)/4
	}
}
