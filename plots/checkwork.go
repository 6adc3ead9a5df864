package plots

import (
	"fmt"

	"billet/layers"
	"billet/sim"
)

// checkWork finds anything in r's passes that cannot be drawn.
func checkWork(r *sim.Result) error {
	if r == nil || r.Job == nil || r.Work == nil {
		return fmt.Errorf("picture: no passes in the result; a run of the passes")
	}
	var c checker
	c.job(r.Job)
	w := r.Work
	c.sizes("bar at the start", w.Start)
	if len(w.Passes) == 0 {
		c.failf("passes: none; one or more")
	}
	for i, p := range w.Passes {
		c.pass(fmt.Sprintf("pass %d", i+1), p)
	}
	c.barEnd(w.Final)
	c.drift(r)
	for i, v := range w.Sections {
		c.endView(fmt.Sprintf("end view %d", i+1), v)
		if v.Pass < 0 || v.Pass > len(w.Passes) {
			c.failf("end view %d: after pass %d; 0 to %d", i+1, v.Pass, len(w.Passes))
		}
	}
	return c.err
}

// positive fails unless v is a finite size above nothing.
func (c *checker) positive(name string, v float64) {
	c.finite(name, v)
	if c.err == nil && v <= 0 {
		c.failf("%s: %g m; more than nothing", name, v)
	}
}

func (c *checker) sizes(name string, s sim.Sizes) {
	c.positive("thickness of "+name, s.Thickness)
	c.positive("width of "+name, s.Width)
	c.positive("length of "+name, s.Length)
}

func (c *checker) pass(name string, p sim.PassDone) {
	c.sizes("bar after "+name, p.After)
	c.finite("temperature of "+name, p.Temperature, p.SideA, p.SideB, p.Coldest)
	c.finite("force of "+name, p.Force, p.ForceRange[0], p.ForceRange[1])
	c.finite("torque of "+name, p.Torque)
	c.finite("power of "+name, p.Power)
	c.finite("offset after "+name, p.Offset)
	c.finite("weld after "+name, p.Welded)
	if int(p.Tool) < 0 || int(p.Tool) >= len(machineNames) {
		c.failf("tool of %s: %d; press, rolls, hammer, grind or restack", name, p.Tool)
	}
	for _, l := range p.Limits {
		c.finite(l.What+" in "+name, l.Demand, l.Allowed)
	}
}

func (c *checker) barEnd(e sim.BarEnd) {
	c.sizes("finished bar", e.Sizes)
	c.finite("range of the width", e.WidthRange[:]...)
	c.finite("range of the offset", e.OffsetRange[:]...)
	c.finite("offset, tilt and wave of the finished bar", e.Offset, e.Tilt, e.Wave)
	n := len(e.Along.At)
	c.series("place along the bar", n, e.Along.At)
	c.rising("place along the bar", e.Along.At)
	c.series("offset along the bar", n, e.Along.Value)
	c.series("thickness along the bar", n, e.AlongThick)
	n = len(e.Across.At)
	c.series("place across the bar", n, e.Across.At)
	c.rising("place across the bar", e.Across.At)
	c.series("offset across the bar", n, e.Across.Value)
}

// drift checks the causes and the habits.
func (c *checker) drift(r *sim.Result) {
	w := r.Work
	for _, k := range w.Causes {
		c.finite("cause "+k.Name, k.Offset)
	}
	for _, f := range w.Flips {
		c.series("offset by pass, turned "+habitName(f.Habit), len(w.Passes), f.ByPass)
		c.finite("final offset, turned "+habitName(f.Habit), f.Offset)
	}
	c.maybe("offset at the blade's edge", w.EdgeOffset)
	if w.Odds != nil {
		c.finite("odds of the offset", w.Odds.Offset[:]...)
	}
	c.finite("working floor", r.Job.Handling.WorkAbove)
	if b := r.Job.Blade; b != nil {
		c.finite("blade", b.Height, b.EdgeFromSide)
	}
}

func (c *checker) endView(name string, v sim.EndView) {
	c.finite("offset of "+name, v.Offset)
	if len(v.Layers) == 0 {
		c.failf("%s: no layers; one or more", name)
	}
	for i, l := range v.Layers {
		c.outline(fmt.Sprintf("lower line of layer %d of %s", i+1, name), l.Lower)
		c.outline(fmt.Sprintf("upper line of layer %d of %s", i+1, name), l.Upper)
	}
	if c.err == nil {
		if lo, hi := extent(v); !(hi.Y > lo.Y && hi.Z > lo.Z) {
			c.failf("%s: %g by %g m; more than nothing", name, hi.Y-lo.Y, hi.Z-lo.Z)
		}
	}
	if v.Field != nil {
		c.field("flow of "+name, *v.Field)
	}
}

func (c *checker) outline(name string, pts []layers.Point) {
	if len(pts) < 2 {
		c.failf("%s: %d points; two or more", name, len(pts))
	}
	for _, p := range pts {
		c.finite(name, p.Y, p.Z)
	}
}

func (c *checker) field(name string, f layers.Field) {
	n := len(f.Corners)
	c.series(name+", strain", n, f.Strain)
	if len(f.Flow) != n || len(f.Layer) != n {
		c.failf("%s: %d flows, %d layers; %d, one for each element", name, len(f.Flow), len(f.Layer), n)
	}
	for i, q := range f.Corners {
		for _, p := range q {
			c.finite(name+", corners", p.Y, p.Z)
		}
		if i < len(f.Flow) {
			c.finite(name+", velocity", f.Flow[i].Y, f.Flow[i].Z)
		}
	}
}

// checkLesson finds anything in r's lesson that cannot be drawn.
func checkLesson(r *sim.Result) error {
	if r == nil || r.Job == nil || r.Lesson == nil {
		return fmt.Errorf("picture: no lesson in the result; a run of the lesson")
	}
	var c checker
	c.job(r.Job)
	c.finite("draft of the lesson", r.Lesson.Draft)
	c.endView("the lesson's start", r.Lesson.Start)
	if len(r.Lesson.Scenes) == 0 {
		c.failf("lesson: no scenes; one or more")
	}
	for _, k := range r.Lesson.Scenes {
		c.endView("scene "+k.Title+", never turned", k.Never)
		c.endView("scene "+k.Title+", turned", k.Flipped)
	}
	return c.err
}
