package plots

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// line is one line of a chart, in shown units, with the label at its end; a
// line without one is a piece of another.
type line struct {
	name  string
	x, y  []float64
	label string
	ink   color.Color
	width vg.Length
	dash  []vg.Length
	dots  bool // a dot at each value
}

// rule is a level right across a chart.
type rule struct {
	value float64
	label string
	ink   color.Color
	dash  []vg.Length
}

// chart is something against something else: what all charts have in common.
type chart struct {
	name, title, subtitle string
	x, y                  axis
	xTitle, yTitle        string
	lines                 []line
	rules                 []rule
	frame                 vg.Rectangle
}

// Heights of the rows about a frame, pt.
const (
	titleRow = vg.Length(18)
	subRow   = vg.Length(16)
	tickRow  = vg.Length(15)
	axisRow  = vg.Length(15)
	unitRow  = vg.Length(16) // the unit over the upright axis
)

// head writes title and subtitle at the top of a new sheet of the height
// asked for below them, and returns the sheet.
func head(name, title, subtitle string, below vg.Length) *sheet {
	room := pageWidth - 2*pageMargin
	lines := handTitle.wrap(title, room, 2)
	h := pageMargin + titleRow*vg.Length(len(lines)) + subRow + below
	s := &sheet{name: name, title: plain(title), w: pageWidth, h: h}
	y := h - pageMargin - titleRow/2
	for _, l := range lines {
		s.text(handTitle, pageMargin, y, 0, l)
		y -= titleRow
	}
	s.text(handSub, pageMargin, y+titleRow/2-subRow/2, 0, handSub.fit(subtitle, room))
	return s
}

// begin starts the sheet with the frame in its place: over is the room
// between the heading and the frame, under that between the frame and the
// numbers of the level axis, right that beside the frame.
func (c *chart) begin(over, under, right vg.Length) *sheet {
	foot := pageMargin + axisRow + tickRow + under
	s := head(c.name, c.title, c.subtitle, over+plotHeight+foot)
	c.place(foot, plotHeight, right)
	return s
}

// place puts the frame over foot, with right left free beside it.
func (c *chart) place(foot, height, right vg.Length) {
	c.frame = vg.Rectangle{
		Min: vg.Point{X: pageMargin + leftRoom, Y: foot},
		Max: vg.Point{X: pageWidth - pageMargin - right, Y: foot + height},
	}
	c.x.lo, c.x.hi = c.frame.Min.X, c.frame.Max.X
	c.y.lo, c.y.hi = c.frame.Min.Y, c.frame.Max.Y
}

// grid draws the level grid lines and the numbers and unit of the upright
// axis.
func (c *chart) grid(s *sheet) {
	f := c.frame
	for _, v := range c.y.ticks {
		y := c.y.at(v)
		s.line(f.Min.X, y, f.Max.X, y, 0.6, inkGrid, nil)
		s.text(handTick, f.Min.X-6, y, 1, c.y.label(v))
	}
	if c.yTitle != "" {
		s.text(handAxis, f.Min.X-6, f.Max.Y+unitRow-3, 1, c.yTitle)
	}
}

// base draws the level axis: its line at the foot of the frame, ticks, numbers
// and title under it; the numbers stand under by as much as was asked of
// begin.
func (c *chart) base(s *sheet, under vg.Length) {
	f := c.frame
	foot := f.Min.Y - under
	s.line(f.Min.X, foot, f.Max.X, foot, 0.8, inkAxis, nil)
	for _, v := range c.x.ticks {
		x := c.x.at(v)
		s.line(x, foot, x, foot-tickLength, 0.8, inkAxis, nil)
		s.text(handTick, x, foot-tickRow/2-3, 0.5, c.x.label(v))
	}
	s.text(handAxis, (f.Min.X+f.Max.X)/2, foot-tickRow-axisRow/2-1, 0.5, c.xTitle)
}

// points places a line's values on the sheet.
func (c *chart) points(l line) []vg.Point {
	pts := make([]vg.Point, len(l.x))
	for i := range l.x {
		pts[i] = vg.Point{X: c.x.at(l.x[i]), Y: c.y.at(l.y[i])}
	}
	return pts
}

// thinTolerance is far below the width of any line.
const thinTolerance = vg.Length(0.05) // pt

// plot draws rules and lines, then their labels beside the frame, moved apart.
func (c *chart) plot(s *sheet, room vg.Length) {
	f := c.frame
	var ends []end
	for _, r := range c.rules {
		y := c.y.at(r.value)
		s.line(f.Min.X, y, f.Max.X, y, 1.1, r.ink, r.dash)
		ends = append(ends, end{vg.Point{X: f.Max.X, Y: y}, r.label, r.ink, r.dash})
	}
	for _, l := range c.lines {
		pts := c.points(l)
		s.add(stroke{pts: thin(pts, thinTolerance), width: l.width, ink: l.ink, dash: l.dash})
		if l.dots {
			for _, p := range pts {
				s.add(dot{at: p, radius: 2, ink: l.ink})
			}
		}
		if l.label == "" {
			continue
		}
		ends = append(ends, end{pts[len(pts)-1], l.label, l.ink, l.dash})
	}
	c.labelEnds(s, ends, room)
}

// end is the right end of a line and what is to be written there.
type end struct {
	at    vg.Point
	label string
	ink   color.Color
	dash  []vg.Length
}

// labelEnds writes the labels to the right of the frame in a column no wider
// than room, each tied to its line.
func (c *chart) labelEnds(s *sheet, ends []end, room vg.Length) {
	want := make([]vg.Length, len(ends))
	for i, e := range ends {
		want[i] = e.at.Y
	}
	step := handLabel.height() + rowGap
	f := c.frame
	got := spread(want, step, f.Min.Y-step/2, f.Max.Y+step/2)
	for i, e := range ends {
		x := f.Max.X + labelGap
		s.add(stroke{width: 0.8, ink: e.ink, pts: []vg.Point{
			{X: e.at.X + 1, Y: e.at.Y}, {X: f.Max.X + 3, Y: e.at.Y}, {X: x - 3, Y: got[i]},
		}})
		s.text(handLabel, x, got[i], 0, handLabel.fit(e.label, room-labelGap))
	}
}
