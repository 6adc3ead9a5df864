package layers

import (
	"fmt"
	"math"
)

// Pass is one pass of a tool over the bar, seen at one place of its length.
type Pass struct {
	To float64 // m, thickness (width when the bar lies on edge), hot
	// Temperature in K; see Squeeze.
	Temperature func(across, through float64) float64
	Slope       float64 // of the top tool, rise per width toward the smith's right
	Step        float64 // see Squeeze
	Section     bool    // leave the three-dimensional corrections out
	Restraint   float64 // see Squeeze; for rolls 0 = found from the spread law
}

// Tool does a pass on a stack: Press, Rolls or Hammer.
type Tool interface {
	// Pass shapes the stack as the pass would, whether or not the machine is
	// able to; Outcome.Within tells.
	Pass(s *Stack, p Pass) (*Outcome, error)
}

// Limit is a demand of a pass against what the machine can give.
type Limit struct {
	What    string
	Demand  float64
	Allowed float64
	Unit    string
}

// Within tells whether the machine can.
func (l Limit) Within() bool { return l.Demand <= l.Allowed }

// Outcome is what a pass asked of the machine.
type Outcome struct {
	*Report
	Bite       float64 // m, contact along the bar
	Bites      int     // to go once along the bar
	ForceMax   float64 // N
	ForceRange [2]float64
	Torque     float64 // N m, per driven roll; 0 for others
	Power      float64 // W, of the machine
	NominalPS  float64 // 1/s, nominal strain rate
	Seconds    float64 // once along the bar, tool time only
	Blows      int     // hammer: blows on one place
	StallsAt   float64 // m, height at which the force limit is met; 0 = not met
	Limits     []Limit
}

// Within tells whether every limit holds.
func (o *Outcome) Within() bool {
	for _, l := range o.Limits {
		if !l.Within() {
			return false
		}
	}
	return true
}

func (o *Outcome) limit(what string, demand, allowed float64, unit string) {
	o.Limits = append(o.Limits, Limit{what, demand, allowed, unit})
	if demand > allowed {
		o.warn("%s: %.4g %s wanted, %.4g %s there", what, demand, unit, allowed, unit)
	}
}

// stalls finds the height at which the force first exceeds what is allowed.
func (o *Outcome) stalls(allowed float64) {
	for i, f := range o.History {
		if f.Force*o.Bite <= allowed {
			continue
		}
		o.StallsAt = f.Height
		if i > 0 {
			a, b := o.History[i-1], f
			u := (allowed/o.Bite - a.Force) / (b.Force - a.Force)
			o.StallsAt = a.Height + math.Max(0, math.Min(1, u))*(b.Height-a.Height)
		}
		return
	}
}

func (p Pass) squeeze() Squeeze {
	q := Squeeze{To: p.To, Temperature: p.Temperature, Step: p.Step, Restraint: p.Restraint}
	q.Top.Slope = p.Slope
	if !p.Section {
		q.Spatial = &Spatial{}
	}
	return q
}

// between is the height from tool to tool before a pass, m.
func (s *Stack) between() float64 {
	if s.OnEdge() {
		return s.Width()
	}
	return s.ThicknessAt(0)
}

// lateral is the width across the pass, m.
func (s *Stack) lateral() float64 {
	if s.OnEdge() {
		return s.Thickness()
	}
	return s.Width()
}

// checkPass refuses a pass that closes nothing.
func checkPass(tool string, s *Stack, p Pass) error {
	if h := s.between(); !(p.To > 0 && p.To < h) {
		return fmt.Errorf("layers: %s: to %g mm from %g mm; a smaller height above zero", tool, p.To*1e3, h*1e3)
	}
	if p.Temperature == nil {
		return fmt.Errorf("layers: %s: no temperature; give a function of place in K", tool)
	}
	return nil
}
