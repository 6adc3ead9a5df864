package layers

import "math"

// seatShare is the inner part of the lower face on which the bar is laid; its
// corners may be rounded off.
const seatShare = 0.8

// seat turns the section so that its lower face lies on the lower tool, as a bar
// does by its weight. A wedge left by a tilted squeeze would else touch by two
// opposite corners, and roll before it is pressed.
func (s *section) seat() {
	width := 0.0
	for i := 0; i < s.dofs; i += 2 * s.levels {
		width = math.Max(width, math.Abs(s.x[i]))
	}
	var n, y, z, yy, yz float64
	for i := 0; i < s.dofs; i += 2 * s.levels {
		if a, b := s.x[i], s.x[i+1]; math.Abs(a) <= seatShare*width {
			n, y, z, yy, yz = n+1, y+a, z+b, yy+a*a, yz+a*b
		}
	}
	slope := (n*yz - y*z) / (n*yy - y*y)
	sin, cos := math.Sincos(math.Atan(s.dies[0].slope) - math.Atan(slope))
	for i := 0; i < s.dofs; i += 2 {
		a, b := s.x[i], s.x[i+1]
		s.x[i], s.x[i+1] = cos*a-sin*b, sin*a+cos*b
	}
}
