package layers

import (
	"fmt"
	"math"
)

// Measured is what was found on the bar; nil where nothing was.
type Measured struct {
	Thickness *float64 // m, mean over the inner 90 %
	Width     *float64 // m, the widest
	Offset    *float64 // m, core toward A, mean over the inner 90 %
}

// Correct brings the section to what was measured: heights and widths by one
// factor each, the core's lines by an even move. The length follows so that the
// volume stays. It refuses factors outside a half to double and moves that the
// jackets don't allow.
func (s *Stack) Correct(m Measured) error {
	fz, fy := 1.0, 1.0
	if m.Thickness != nil {
		fz = *m.Thickness / s.Thickness()
	}
	if m.Width != nil {
		fy = *m.Width / s.Width()
	}
	for _, f := range [2]float64{fz, fy} {
		if !(f >= 0.5 && f <= 2) {
			return fmt.Errorf("layers: measured size is %.3g times the computed one; 0.5 to 2 can be taken over", f)
		}
	}
	for i := range s.mesh.z {
		s.mesh.z[i] *= fz
		s.mesh.y[i] *= fy
	}
	s.mesh.reference()
	s.length /= fz * fy
	if m.Offset == nil {
		return nil
	}
	move := make([]float64, s.mesh.nc)
	by := *m.Offset - s.Shape().Offset
	for i := range move {
		move[i] = by
	}
	if !s.mesh.shiftCore(s.mesh.lines[s.core], move) {
		return fmt.Errorf("layers: a measured offset needs a core between jackets")
	}
	if got := s.Shape().Offset; math.Abs(got-*m.Offset) > 1e-6+0.02*math.Abs(by) {
		return fmt.Errorf("layers: measured offset %.3g mm; the jackets leave room for %.3g mm", *m.Offset*1e3, got*1e3)
	}
	return nil
}

// Stretch makes the bar longer by a factor, its section as it is: what a mesh of
// coarse elements loses of the volume in a squeeze, a tenth of a percent or two,
// is given back to the length.
func (s *Stack) Stretch(factor float64) { s.length *= factor }
