package plots

import (
	"fmt"
	"math"

	"billet/sim"
)

// checker keeps the first fault found in a Result.
type checker struct{ err error }

func (c *checker) failf(format string, args ...any) {
	if c.err == nil {
		c.err = fmt.Errorf("picture: "+format, args...)
	}
}

// finite fails, with the series' name, on the first value that is not a
// finite number.
func (c *checker) finite(name string, values ...float64) {
	for i, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			c.failf("%s, value %d: %v; a finite number", name, i+1, v)
			return
		}
	}
}

// series fails unless values has the length n and is finite.
func (c *checker) series(name string, n int, values []float64) {
	if len(values) != n {
		c.failf("%s: %d values; %d, one for each place or time", name, len(values), n)
	}
	c.finite(name, values...)
}

// rising fails if the values ever fall, by more than the rounding of the whole.
func (c *checker) rising(name string, values []float64) {
	if len(values) == 0 {
		return
	}
	slack := 1e-12 * math.Abs(values[len(values)-1]-values[0])
	for i := 1; i < len(values); i++ {
		if values[i] < values[i-1]-slack {
			c.failf("%s, value %d: falls from %g to %g; rising values", name, i+1, values[i-1], values[i])
			return
		}
	}
}

// maybe checks a time that may never come.
func (c *checker) maybe(name string, m sim.Maybe) {
	if m.OK {
		c.finite(name, m.Value)
	}
}

// checkSoak finds anything in r that cannot be drawn.
func checkSoak(r *sim.Result) error {
	if r == nil || r.Job == nil || r.Soak == nil {
		return fmt.Errorf("picture: no soak in the result; a run of the heats")
	}
	var c checker
	c.job(r.Job)
	c.history("history", r.Soak.History)
	if len(r.Soak.History.Time) < 2 {
		c.failf("history: %d samples; two or more", len(r.Soak.History.Time))
	}
	c.history("history if left in", r.Soak.RunOn)
	c.rising("history time", joined(r.Soak).Time)
	c.stages(r.Soak.Stages)
	c.marks(r.Soak)
	c.section(r.Soak.Section)
	for _, k := range r.Colours {
		c.finite("range of colour "+k.Name, k.From, k.To)
	}
	return c.err
}

func (c *checker) job(j *sim.Job) {
	c.finite("welding heat", j.Weld.Heat)
	c.finite("stack width", j.Stack.Width)
	c.finite("stack length", j.Stack.Length)
	if len(j.Stack.Layers) == 0 {
		c.failf("stack: no layers; one or more")
	}
	for i, l := range j.Stack.Layers {
		name := fmt.Sprintf("thickness of layer %d", i+1)
		c.finite(name, l.Thickness)
		if l.Thickness <= 0 {
			c.failf("%s: %g m; more than nothing", name, l.Thickness)
		}
	}
	if j.Stack.Width <= 0 {
		c.failf("stack width: %g m; more than nothing", j.Stack.Width)
	}
}

func (c *checker) history(name string, h sim.History) {
	n := len(h.Time)
	c.series(name+" time", n, h.Time)
	c.rising(name+" time", h.Time)
	c.series(name+" skin", n, h.Skin)
	c.series(name+" core", n, h.Core)
	if len(h.ColdestJoint) > 0 {
		c.series(name+" coldest joint", n, h.ColdestJoint)
	}
}

func (c *checker) stages(stages []sim.StageEnd) {
	if len(stages) == 0 {
		c.failf("stages: none; one or more")
	}
	for i, s := range stages {
		name := fmt.Sprintf("stage %d", i+1)
		c.finite(name, s.Start, s.End, s.Skin, s.Core)
		c.rising(name+" times", []float64{s.Start, s.End})
		n := len(s.Profile.Z)
		if n < 2 {
			c.failf("profile of %s: %d places; two or more", name, n)
		}
		c.series("profile height of "+name, n, s.Profile.Z)
		c.rising("profile height of "+name, s.Profile.Z)
		c.series("profile temperature of "+name, n, s.Profile.Temperature)
	}
}

// marks checks what is written and marked beside the lines.
func (c *checker) marks(s *sim.Soak) {
	a := s.Answers
	c.maybe("skin at welding heat", a.SkinAtWeld)
	c.maybe("joints at welding heat", a.JointsAtWeld)
	c.maybe("core at welding heat", a.CoreAtWeld)
	c.maybe("lag", a.Lag)
	c.maybe("soak time", a.Soak)
	c.maybe("overheating time", a.Overheats)
	c.finite("ceiling of the joints", s.CeilingJoints)
	for _, m := range s.Milestones {
		c.finite("milestone "+m.Name, m.Time, m.Skin, m.Core)
		if len(s.History.ColdestJoint) > 0 {
			c.finite("coldest joint at milestone "+m.Name, m.ColdestJoint)
		}
	}
	for _, l := range s.Limits {
		c.finite("burning limit of "+l.Material, l.Limit)
	}
}

func (c *checker) section(s sim.Section) {
	if len(s.Temperature) == 0 {
		return
	}
	if len(s.Y) == 0 || len(s.Z) < 2 {
		c.failf("section: %d by %d places; one or more across, two or more up", len(s.Y), len(s.Z))
	}
	c.series("section width", len(s.Y), s.Y)
	c.rising("section width", s.Y)
	c.series("section height", len(s.Z), s.Z)
	c.rising("section height", s.Z)
	if n := len(s.Y); n > 1 && !(s.Y[n-1] > s.Y[0]) {
		c.failf("section width: %g m; more than nothing", s.Y[n-1]-s.Y[0])
	}
	if n := len(s.Z); n > 1 && !(s.Z[n-1] > s.Z[0]) {
		c.failf("section height: %g m; more than nothing", s.Z[n-1]-s.Z[0])
	}
	if len(s.Temperature) != len(s.Z) {
		c.failf("section temperature: %d rows; %d, one for each height", len(s.Temperature), len(s.Z))
	}
	for i, row := range s.Temperature {
		c.series(fmt.Sprintf("section temperature, row %d", i+1), len(s.Y), row)
	}
	c.finite("section layer faces", s.Layers...)
	c.finite("section cold spot", s.Cold[0], s.Cold[1], s.ColdT, s.Time)
}
