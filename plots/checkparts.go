package plots

import (
	"fmt"
	"math"

	"billet/sim"
)

// checkGround finds anything in r's ground blade that cannot be drawn.
func checkGround(r *sim.Result) error {
	if err := checkJob(r); err != nil || r.Ground == nil {
		return err
	}
	var c checker
	c.ground(r)
	return c.err
}

// checkJob finds anything in r's job that cannot be drawn.
func checkJob(r *sim.Result) error {
	if r == nil || r.Job == nil {
		return fmt.Errorf("picture: no job in the result; a result of a run")
	}
	var c checker
	c.job(r.Job)
	return c.err
}

// ground checks the bar, the blade and what shows.
func (c *checker) ground(r *sim.Result) {
	g := r.Ground
	if g.Answer == nil {
		c.failf("ground blade: no answer; one")
		return
	}
	if err := g.Blade.Check(); err != nil {
		c.failf("%w", err)
	}
	if err := g.Bar.Check(); err != nil {
		c.failf("%w", err)
	}
	c.finite("wanted core line", g.Ask.CoreLine)
	a := g.Answer
	if len(a.Along) < 2 {
		c.failf("places along the blade: %d; two or more", len(a.Along))
	}
	for i := range len(a.Along) + 1 {
		name, st := "half way along", a.Mid
		if i > 0 {
			name, st = fmt.Sprintf("at place %d along the blade", i), a.Along[i-1]
		}
		c.finite("blade "+name, st.S, st.X, st.Y, st.Z, st.Slope, st.Way)
		c.pointed("core line of side A "+name, st.A.CoreLine)
		c.pointed("core line of side B "+name, st.B.CoreLine)
		c.finite("jacket at the spine "+name, st.A.Jacket, st.B.Jacket)
		c.finite("margin of the edge "+name, st.MarginA, st.MarginB)
	}
	for i, l := range a.Leaves {
		c.finite(fmt.Sprintf("stretch %d out of the core", i+1), l.From, l.To)
	}
	c.pointed("greatest mismatch", a.Worst)
	c.finite("width the bar lacks", a.NarrowBy)
}

// pointed checks a number that may not be there.
func (c *checker) pointed(name string, v *float64) {
	if v != nil {
		c.finite(name, *v)
	}
}

// checkStock finds anything in r's stock that cannot be drawn.
func checkStock(r *sim.Result) error {
	if err := checkJob(r); err != nil || r.Stock == nil {
		return err
	}
	var c checker
	cut := r.Stock
	if len(cut.Losses) < 2 {
		c.failf("steps from stack to blade: %d; two or more", len(cut.Losses))
	}
	for i, l := range cut.Losses {
		c.finite("mass after "+l.Step, l.Mass)
		c.finite("share lost as "+l.Step, l.Share)
		if i == 0 && !(l.Mass > 0) {
			c.failf("mass of the stack: %g kg; more than nothing", l.Mass)
		}
		if l.Mass < 0 {
			c.failf("mass after %s: %g kg; nothing or more", l.Step, l.Mass)
		}
	}
	if cut.Job != nil {
		c.job(cut.Job)
	}
	for _, p := range cut.Pieces {
		c.finite("piece of "+p.Material, p.Thickness, p.Width, p.Length)
	}
	return c.err
}

// checkLosses finds anything in r's losses that cannot be drawn.
func checkLosses(r *sim.Result) error {
	if err := checkJob(r); err != nil || r.Losses == nil {
		return err
	}
	var c checker
	lost := r.Losses
	c.finite("carbon at the edge", lost.CarbonAtEdge)
	c.finite("width of the carbon's step", lost.Transition)
	for _, l := range r.Job.Stack.Layers {
		c.finite("carbon of "+l.Material.Name, l.Material.Carbon)
	}
	for _, h := range lost.Heats {
		name := fmt.Sprintf("heat %d", h.Number)
		c.finite("scale of "+name, h.ScaleA, h.ScaleB, h.MassShare)
		n := len(h.Z)
		if n < 2 {
			c.failf("carbon of %s: %d places; two or more", name, n)
			break
		}
		c.series("height of the carbon of "+name, n, h.Z)
		c.rising("height of the carbon of "+name, h.Z)
		c.series("carbon of "+name, n, h.Carbon)
		if !(h.Z[n-1] > h.Z[0]) {
			c.failf("thickness in %s: %g m; more than nothing", name, h.Z[n-1]-h.Z[0])
		}
	}
	if r.Ground != nil {
		c.ground(r)
	}
	return c.err
}

// checkHarden finds anything in r's heat treatment that cannot be drawn. A
// steel without a critical point has none to draw.
func checkHarden(r *sim.Result) error {
	if err := checkJob(r); err != nil || r.Hardened == nil {
		return err
	}
	var c checker
	h := r.Hardened
	c.finite("hardening heat", h.Heat)
	c.finite("bath temperature", h.Quenchant.BathK)
	c.finite("time of the nose", h.Nose.TimeS)
	if !(h.Nose.TimeS > 0) {
		c.failf("time of the nose: %g s; more than nothing", h.Nose.TimeS)
	}
	c.finite("hardness as quenched", h.AsQuenched.HRC)
	c.finite("hardness as tempered", h.Tempered.HRC, h.Tempered.Within)
	for _, p := range h.Places {
		n := len(p.Time)
		c.finite("thickness of "+p.Place, p.Thickness)
		c.series("time in the quench of "+p.Place, n, p.Time)
		c.rising("time in the quench of "+p.Place, p.Time)
		c.series("temperature of the middle of "+p.Place, n, p.Middle)
		for _, l := range p.Layers {
			if l.Transforms {
				c.finite("time to pearlite used up in "+l.Material+", "+p.Place, l.Race.Used)
			}
		}
	}
	n := len(h.Curve.TempK)
	c.series("temper temperature", n, h.Curve.TempK)
	c.rising("temper temperature", h.Curve.TempK)
	c.series("hardness by temper", n, h.Curve.HRC)
	c.finite("error of the hardness by temper", h.Curve.Within)
	if t := r.Job.Harden; t != nil {
		for i, v := range t.Temper {
			c.finite(fmt.Sprintf("temperature of temper %d", i+1), v.Temperature)
		}
	}
	return c.err
}

// checkCauses finds anything in what stands behind r's soak that cannot be
// drawn. The far end of a range may be never, +Inf.
func checkCauses(r *sim.Result) error {
	if err := checkJob(r); err != nil || r.Soak == nil {
		return err
	}
	var c checker
	for _, w := range r.Soak.Sweeps {
		c.sweep(w)
	}
	c.maybe("soak time", r.Soak.Answers.Soak)
	c.maybe("lag", r.Soak.Answers.Lag)
	if k := r.Soak.Ranges; k != nil {
		for _, v := range k.Causes {
			c.upTo("soak by "+v.What, v.Low, v.High)
		}
		if k.Soak.OK {
			c.upTo("range of the soak", k.Soak.Low, k.Soak.High)
		}
	}
	c.stageTimes(r.Soak.Stages)
	if w := r.Soak.Forge; w != nil {
		c.series("time of the wall", len(w.Wall.Time), w.Wall.Time)
		c.rising("time of the wall", w.Wall.Time)
		c.series("temperature of the wall", len(w.Wall.Time), w.Wall.Value)
		c.finite("wall hot through, at the start and at its lowest", w.Full, w.Start, w.Lowest, w.LowestAt)
	}
	return c.err
}

// sweep checks the sweep of one cause.
func (c *checker) sweep(w sim.Sweep) {
	n := len(w.At)
	c.series("sweep of "+w.What, n, w.At)
	c.rising("sweep of "+w.What, w.At)
	c.series("lag in the sweep of "+w.What, n, w.Lag)
	if w.HasIt {
		c.finite("this job in the sweep of "+w.What, w.Here)
	}
	if !w.Log {
		return
	}
	for _, v := range w.At {
		if !(v > 0) {
			c.failf("sweep of %s: %g on a logarithmic scale; more than nothing", w.What, v)
		}
	}
	if w.HasIt && !(w.Here > 0) {
		c.failf("this job in the sweep of %s: %g on a logarithmic scale; more than nothing", w.What, w.Here)
	}
}

// upTo checks a range whose high end may be never.
func (c *checker) upTo(name string, low, high float64) {
	c.finite(name, low)
	if math.IsNaN(high) || high < low {
		c.failf("%s: up to %v; %g or more, or never", name, high, low)
	}
}

// stageTimes checks when the stages begin and end.
func (c *checker) stageTimes(stages []sim.StageEnd) {
	for i, s := range stages {
		name := fmt.Sprintf("times of stage %d", i+1)
		c.finite(name, s.Start, s.End)
		c.rising(name, []float64{s.Start, s.End})
	}
}
