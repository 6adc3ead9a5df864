package layers

import (
	"errors"
	"fmt"
	"math"
)

// pass is one squeeze under way.
type pass struct {
	q          *Squeeze
	stack      *Stack
	sec        *section
	perm       []int // mesh node -> section node
	start      Shape
	before     []float64 // elongation of each group at the start
	height     float64   // m, present gap at mid width
	first      float64   // m, gap at first touch
	step       float64
	forces     []forcePoint
	solves     int
	increments int
	newtons    int
	moment     float64
	work       Energy
	turned     float64 // curvature rate x elongation over time, 1/m of the length at lay-up
	warnings   []string
}

// errNoGap tells that the tools are to stop before they touch.
var errNoGap = errors.New("a smaller gap")

// forcePoint is the force during the squeeze.
type forcePoint struct{ height, force float64 } // m, N per m of bite

func (s *Stack) newPass(q *Squeeze) (*pass, error) {
	p := &pass{q: q, stack: s, start: s.Shape(), step: q.Step, warnings: append([]string(nil), s.notices...)}
	p.before = append(p.before, s.mesh.elongation...)
	if p.step == 0 {
		p.step = DefaultStep
	}
	p.sec, p.perm = s.newSection(q)
	p.sec.flat = !s.mesh.half && !s.OnEdge() && q.Top.Crown == 0 && q.Bottom.Crown == 0
	if p.sec.flat {
		p.sec.seat()
	}
	p.firstTouch()
	if q.To > p.first*(1+1e-9) {
		return nil, fmt.Errorf("layers: squeeze: to %g mm, but the tools touch at %g mm; %w",
			q.To*1e3, p.first*1e3, errNoGap)
	}
	if q.To < 0.2*p.first {
		return nil, fmt.Errorf("layers: squeeze: from %g mm to %g mm in one closing; at most to a fifth of the height",
			p.first*1e3, q.To*1e3)
	}
	return p, p.setTemperatures()
}

// firstTouch brings both tools to the metal.
func (p *pass) firstTouch() {
	s := p.sec
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range s.ring {
		n := s.ring[i].node
		y, z := s.x[2*n], s.x[2*n+1]
		lo = math.Min(lo, z-s.dies[0].surface(y)+s.dies[0].at)
		hi = math.Max(hi, z-s.dies[1].surface(y)+s.dies[1].at)
	}
	s.dies[0].at, s.dies[1].at = lo, hi
	p.first = hi - lo
	p.height = p.first
}

// setTemperatures asks for the temperature at each element's middle, from its
// present place between the faces and the sides.
func (p *pass) setTemperatures() error {
	s, m := p.sec, p.stack.mesh
	node := func(c, l int) (y, z float64) {
		n := p.perm[c*m.nl+l]
		return p.metal(s.x[2*n], s.x[2*n+1])
	}
	for c := 0; c < m.nc-1; c++ {
		_, b0 := node(c, 0)
		_, b1 := node(c+1, 0)
		_, t0 := node(c, m.nl-1)
		_, t1 := node(c+1, m.nl-1)
		for r, row := range m.rows {
			var y, z float64
			for k := 0; k < 4; k++ {
				yk, zk := node(c+k/2, row.level+k%2)
				y, z = y+yk/4, z+zk/4
			}
			right, _ := node(m.nc-1, row.level)
			left := -right
			if !m.half {
				left, _ = node(0, row.level)
			}
			through := (2*z - b0 - b1) / (t0 + t1 - b0 - b1)
			t := p.q.Temperature((2*y-left-right)/(right-left), math.Max(0, math.Min(1, through)))
			if !positive(t) {
				return fmt.Errorf("layers: squeeze: temperature %g K inside the bar; it must be positive", t)
			}
			s.els[m.element(c, r)].tempK = t
		}
	}
	return nil
}

// run closes the tools increment by increment, then solves once more at the
// final height for the force there.
func (p *pass) run() error {
	meeting := p.first - p.touchDown()
	for p.height > p.q.To {
		end, limit := p.q.To, p.step*p.height
		if p.height > meeting*(1+1e-9) {
			end = math.Max(end, meeting)
			limit = math.Min(limit, (p.first-meeting)/p.meetingSteps(p.first-meeting))
		}
		left := p.height - end
		next := p.height - left/math.Ceil(left/limit-1e-9)
		if left <= limit*(1+1e-9) {
			next = end
		}
		if err := p.close(next); err != nil {
			return err
		}
	}
	if err := p.solve(p.height * p.step / p.q.Speed); err != nil {
		return err
	}
	p.note()
	return nil
}

// The least number of increments in which faces that do not fit the metal
// (tilted, crowned, a barrelled side) come to bear. With fewer the core's offset
// under a tool tilted 2 degrees is off by 0.05 mm on 38 mm; with six it is within
// 0.002 mm of the limit of small increments (computed). The error goes with the
// closing an increment; three do for flat faces that are out of true by up to
// 3/stepsPerLean of the width: over twelve squeezes each tilted at random by
// 0.3 mm they leave 0.006 mm of the offset in the root mean square, 0.013 at
// worst (computed), under the coarse mesh's own 0.02.
const (
	leastMeeting = 3
	mostMeeting  = 6
	stepsPerLean = 200
)

// meetingSteps is that number for faces that need the given closing (m) to bear.
func (p *pass) meetingSteps(closing float64) float64 {
	if !p.sec.flat {
		return mostMeeting
	}
	n := math.Ceil(stepsPerLean * closing / p.start.Width)
	return math.Max(leastMeeting, math.Min(mostMeeting, n))
}

// touchDown is how far the tools must close from first touch until all of the
// faces could bear on undeformed metal, m; 0 if they fit to 1e-3 of the height.
func (p *pass) touchDown() float64 {
	s := p.sec
	var most [2]float64
	for i := range s.ring {
		n := s.ring[i].node
		level := n % s.levels
		if level != 0 && level != s.levels-1 {
			continue
		}
		d := &s.dies[min(level, 1)]
		y := s.x[2*n]
		if d.covers(y) {
			most[min(level, 1)] = math.Max(most[min(level, 1)], d.clearance(y, s.x[2*n+1]))
		}
	}
	if t := most[0] + most[1]; t > 1e-3*p.first {
		return t
	}
	return 0
}

// maxHalvings bounds how often an increment is cut when it would fold an
// element over.
const maxHalvings = 6

// strainAtOnce is the largest equivalent strain an element may take in one
// increment; soft layers beside hard ones take several times the bar's. Straight
// steps of this size add at most 2 % to an area before it is pulled back.
const strainAtOnce = 0.2

// close moves the tools to the next height, in smaller steps where an element
// strains much more than the bar or would fold.
func (p *pass) close(next float64) error {
	for p.height > next {
		dt := (p.height - next) / p.q.Speed
		if err := p.solve(dt); err != nil {
			return err
		}
		part := math.Max(1.0/16, math.Min(1, strainAtOnce/(p.sec.fastest()*dt)))
		moved := false
		for k := 0; k < maxHalvings && !moved; k++ {
			moved = p.sec.move(dt * part)
			if !moved {
				part /= 2
			}
		}
		if !moved {
			return errFolded
		}
		p.moved(dt*part, next, part == 1)
	}
	return nil
}

// moved books what an increment of dt did.
func (p *pass) moved(dt, next float64, whole bool) {
	s := p.sec
	p.note()
	s.account()
	p.work.add(&s.power, dt)
	if s.curls {
		p.turned += s.u[s.dofs+s.groups] * s.stretch[0] * dt
	}
	p.height -= p.q.Speed * dt
	if whole {
		p.height = next
	}
}

// fastest is the largest equivalent strain rate of an element, or twice its
// spin (a straight step of angle a adds a^2 to an area) if that is more, 1/s.
func (s *section) fastest() float64 {
	r := 0.0
	for i := range s.els {
		e := &s.els[i]
		spin := 0.0
		for k, n := range e.node {
			for g := range e.w {
				spin += (e.dy[g][k]*s.u[2*n+1] - e.dz[g][k]*s.u[2*n]) / 8
			}
		}
		r = math.Max(r, math.Max(s.equivalent(e), 2*math.Abs(spin)))
	}
	return r
}

// errFolded tells that the mesh cannot follow; the section is then meshed anew.
var errFolded = errors.New("layers: squeeze: the section's mesh folded")

// maxRevisions bounds the contact revisions of one increment.
const maxRevisions = 5

// solve finds the flow at the present height.
func (p *pass) solve(dt float64) error {
	s := p.sec
	if err := p.begin(dt); err != nil {
		return err
	}
	p.q.guide.lead(s, p.increments)
	p.increments++
	for k := 0; ; k++ {
		it, err := s.newton()
		p.newtons += it
		p.solves++
		if err != nil {
			return err
		}
		if k == maxRevisions || !s.revise(true) {
			p.q.guide.note(s)
			return nil
		}
	}
}

// begin freezes shapes, strengths and contacts for an increment of dt seconds.
func (p *pass) begin(dt float64) error {
	s := p.sec
	s.law.freeze(p.height, p.q.Speed, dt, p.q.Bite)
	s.law.midZ = (s.dies[0].at + s.dies[1].at) / 2
	s.dies[0].speed, s.dies[1].speed = p.q.Speed/2, -p.q.Speed/2
	if err := p.prepare(); err != nil {
		return err
	}
	s.setColumns()
	s.meetFaces()
	return nil
}

// freeze sets what an increment of dt seconds takes as given: height and bite
// in m, closing speed in m/s.
func (l *increment) freeze(height, closing, dt, bite float64) {
	l.height, l.closing, l.dt, l.bite = height, closing, dt, bite
	l.rate = l.closing / l.height
	l.slow2 = slowFactor * slowFactor * l.closing * l.closing
	l.minRate2 = floorFactor * floorFactor * l.rate * l.rate
	for i := range l.arm {
		l.arm[i], l.weight[i] = l.bite/2*gauss4[0][i], gauss4[1][i]
	}
}

// prepare takes elements and joints as they lie now.
func (p *pass) prepare() error {
	s := p.sec
	for i := range s.els {
		if !s.shape(&s.els[i]) {
			return errFolded
		}
	}
	if err := p.strengths(); err != nil {
		return err
	}
	s.meetJoints()
	s.ensureBand()
	return nil
}
