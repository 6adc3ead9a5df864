package plots

import "image/color"

// bandLook is how a kind of band shows in a strip.
type bandLook struct {
	name string
	fill color.Color
	hand hand
}

// band is a piece of a strip as it lies on the level axis.
type band struct {
	from, to float64 // shown
	kind     int     // of the looks
}

// strip draws bands under the frame. A kind none of whose pieces is long
// enough for its name is named beside the strip, in a second row where the
// first is full.
func (c *chart) strip(s *sheet, bands []band, looks []bandLook) {
	top, foot := c.frame.Min.Y, c.frame.Min.Y-stripHeight
	named, used := make([]bool, len(looks)), make([]bool, len(looks))
	for _, b := range bands {
		k := looks[b.kind]
		used[b.kind] = true
		x0, x1 := c.x.at(b.from), c.x.at(b.to)
		s.block(x0, foot, x1, top, k.fill)
		if x1-x0 >= k.hand.width(k.name)+6 {
			named[b.kind] = true
			s.text(k.hand, (x0+x1)/2, (top+foot)/2, 0.5, k.name)
		}
	}
	left := c.frame.Max.X + labelGap
	x := left
	for k, l := range looks {
		if !used[k] || named[k] {
			continue
		}
		if x > left && x+12+handLabel.width(l.name) > pageWidth-pageMargin {
			x, top, foot = left, top-stripHeight-1, foot-stripHeight-1
		}
		s.block(x, foot+3, x+8, top-3, l.fill)
		x = s.text(handLabel, x+12, (top+foot)/2, 0, l.name).Max.X + 10
	}
}
