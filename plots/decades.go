package plots

import (
	"math"
	"strconv"
)

// decades is an axis of logarithms to base ten over whole decades that hold
// low to high, both above nought. Its numbers are drawn by drawDecades.
func decades(low, high float64) axis {
	const slack = 1e-9 // for the rounding of logarithms only
	from, to := math.Floor(math.Log10(low)+slack), math.Ceil(math.Log10(high)-slack)
	return axis{min: from, max: math.Max(to, from+1)}
}

// drawDecades draws the grid and the numbers of a level axis of logarithms that
// begins at a decade.
func (c *chart) drawDecades(s *sheet) {
	foot, top := c.frame.Min.Y, c.frame.Max.Y
	for d := int(c.x.min); d <= int(c.x.max); d++ {
		x := c.x.at(float64(d))
		s.line(x, foot, x, top, 0.6, inkGrid, nil)
		s.line(x, foot, x, foot-tickLength, 0.8, inkAxis, nil)
		s.text(handTick, x, foot-tickRow/2-3, 0.5, strconv.FormatFloat(pow10(d), 'f', -1, 64))
		for n := 2.0; n < 10 && float64(d)+math.Log10(n) <= c.x.max; n++ {
			x := c.x.at(float64(d) + math.Log10(n))
			s.line(x, foot, x, foot-tickLength/2, 0.6, inkAxis, nil)
		}
	}
}
