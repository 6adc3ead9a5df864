package sim

import (
	"fmt"
	"math"

	"billet/layers"
)

// Compared is one row of what was measured beside what was planned, cold sizes.
type Compared struct {
	After                    int // heats done
	Planned                  Sizes
	PlannedOffset            float64  // m
	Thickness, Width, Offset *float64 // m; nil where not measured
	Says                     []string // what the difference reveals
}

// correct takes over what was measured after as many heats as are done, so that
// the rest of the plan starts from the bar as it is.
func (w *worker) correct() error {
	for _, m := range w.job.Measured {
		if m.After != w.heats || w.corrected[m.After] {
			continue
		}
		w.corrected[m.After] = true
		if err := w.takeOver(m); err != nil {
			return fmt.Errorf("measured after heat %d: %w", m.After, err)
		}
	}
	return nil
}

func (w *worker) takeOver(m Measured) error {
	c := Compared{After: m.After, Planned: w.sizes()}
	c.PlannedOffset, _, _ = w.offset()
	cold := 1.0
	if m.Hot {
		cold = 1 / hotSize(1, w.lastHeat())
	}
	scale := func(v *float64) *float64 {
		if v == nil {
			return nil
		}
		x := *v * cold
		return &x
	}
	c.Thickness, c.Width, c.Offset = scale(m.Thickness), scale(m.Width), m.Offset
	c.reveal(w.job)
	seen := layers.Measured{Thickness: c.Thickness, Width: c.Width, Offset: c.Offset}
	for _, s := range w.st {
		before := s.stack.Areas()
		wide, long := s.stack.Width(), s.stack.Length()
		if err := s.stack.Correct(seen); err != nil {
			return err
		}
		if s.field == nil {
			continue
		}
		after := s.stack.Areas()
		z := make([]float64, len(after))
		y := s.stack.Width() / wide
		for i := range z {
			z[i] = after[i] / before[i] / y
		}
		if err := s.field.Reshape(z, y, s.stack.Length()/long); err != nil {
			return err
		}
		s.areas, s.wide, s.long = after, s.stack.Width(), s.stack.Length()
	}
	w.script = append(w.script, move{kind: moveCorrect, seen: seen})
	w.out.Measured = append(w.out.Measured, c)
	return nil
}

// lastHeat is the temperature of the last pass, K.
func (w *worker) lastHeat() float64 {
	if n := len(w.out.Passes); n > 0 {
		return w.out.Passes[n-1].Temperature
	}
	return w.job.Weld.Heat
}

// reveal says what the differences tell of press, fire and handling. The bands
// are those of the model's own uncertainty.
func (c *Compared) reveal(j *Job) {
	const size, spread, off = 0.01, 0.04, 0.1e-3
	if t := c.Thickness; t != nil {
		switch d := *t/c.Planned.Thickness - 1; {
		case d > size:
			c.Says = append(c.Says, fmt.Sprintf("%.1f %% thicker than planned: the press gave less than taken, the bar was colder, or the stop sits high.", 100*d))
		case d < -size:
			c.Says = append(c.Says, fmt.Sprintf("%.1f %% thinner than planned: the stop sits low, or more was lost to scale than taken.", -100*d))
		}
	}
	if v := c.Width; v != nil {
		switch d := *v/c.Planned.Width - 1; {
		case d > spread:
			c.Says = append(c.Says, fmt.Sprintf("%.0f %% wider than planned: the metal spreads more under these dies than taken.", 100*d))
		case d < -spread:
			c.Says = append(c.Says, fmt.Sprintf("%.0f %% narrower than planned: it goes more into length than taken.", -100*d))
		}
	}
	if v := c.Offset; v != nil {
		if d := *v - c.PlannedOffset; math.Abs(d) > off {
			c.Says = append(c.Says, fmt.Sprintf("The core lies %s further toward %s than planned: that side was hotter or gripped less than taken.", fineWords(j, math.Abs(d)), map[bool]string{true: "A", false: "B"}[d > 0]))
		}
	}
	if len(c.Says) == 0 {
		c.Says = append(c.Says, "As planned, within what the model can tell.")
	}
}
