package blade

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// Line is a curve z(y) across the bar, straight between its points.
type Line struct {
	Y []float64 // m, rising
	Z []float64 // m, as many
}

// At is the line's height at y, m; held level beyond its ends.
func (l Line) At(y float64) float64 {
	n := len(l.Y)
	if y <= l.Y[0] {
		return l.Z[0]
	}
	if y >= l.Y[n-1] {
		return l.Z[n-1]
	}
	i := sort.SearchFloat64s(l.Y, y)
	f := (y - l.Y[i-1]) / (l.Y[i] - l.Y[i-1])
	return l.Z[i-1] + f*(l.Z[i]-l.Z[i-1])
}

// ends are the line's left and right end.
func (l Line) ends() (left, right float64) { return l.Y[0], l.Y[len(l.Y)-1] }

// Section is the bar's cross-section at one place along it. Lines go from
// side B's face through every boundary between layers to side A's face, one
// more than there are layers. z may have any origin.
type Section struct {
	X     float64 // m, along the bar
	Left  float64 // m, y of the bar's left side, where it is widest
	Right float64 // m, y of its right side
	Lines []Line
}

// Bar is a layered bar by its sections, front to back; between them lines
// change evenly, beyond them they stay.
type Bar struct {
	Sections   []Section // rising X, all with the same layers
	Core       int       // the core's number, 0 next to side B's face
	Start, End float64   // m, x of the bar's ends
}

// Even is a straight bar with flat layers of the given thicknesses (m, from
// side B), its width centred on y = 0, x from 0 to length.
func Even(width, length float64, layers []float64, core int) Bar {
	total := 0.0
	for _, t := range layers {
		total += t
	}
	z := -total / 2
	y := []float64{-width / 2, width / 2}
	lines := []Line{{Y: y, Z: []float64{z, z}}}
	for _, t := range layers {
		z += t
		lines = append(lines, Line{Y: y, Z: []float64{z, z}})
	}
	return Bar{
		Sections: []Section{{X: length / 2, Left: -width / 2, Right: width / 2, Lines: lines}},
		Core:     core, End: length,
	}
}

// Check reports everything wrong with the bar, or nil.
func (b Bar) Check() error {
	var errs []error
	wrong := func(format string, args ...any) { errs = append(errs, fmt.Errorf("blade: bar: "+format, args...)) }
	if len(b.Sections) == 0 {
		return errors.New("blade: bar: no section; accepted: one or more")
	}
	if !(b.End > b.Start) || math.IsInf(b.End-b.Start, 0) {
		wrong("ends at x = %g m and %g m; accepted: the second beyond the first", b.Start, b.End)
	}
	n := len(b.Sections[0].Lines)
	if n < 2 {
		return errors.Join(append(errs, fmt.Errorf("blade: bar: %d lines; accepted: 2 or more, both faces and what is between", n))...)
	}
	if b.Core < 0 || b.Core > n-2 {
		wrong("core is layer %d of %d; accepted: 0 to %d", b.Core, n-1, n-2)
	}
	for i, s := range b.Sections {
		if i > 0 && !(s.X > b.Sections[i-1].X) {
			wrong("section %d at x = %g m; accepted: beyond the one before", i, s.X)
		}
		if len(s.Lines) != n {
			wrong("section %d has %d lines; accepted: %d as the first", i, len(s.Lines), n)
		}
		if err := s.check(); err != nil {
			errs = append(errs, fmt.Errorf("blade: bar: section %d: %w", i, err))
		}
	}
	return errors.Join(errs...)
}

// check reports the first fault of a section.
func (s Section) check() error {
	if !(s.Right > s.Left) || math.IsInf(s.Right-s.Left, 0) || math.IsInf(s.X, 0) || math.IsNaN(s.X) {
		return fmt.Errorf("x = %g m, sides at y = %g m and %g m; accepted: numbers, the right beyond the left", s.X, s.Left, s.Right)
	}
	for i, l := range s.Lines {
		if len(l.Y) < 2 || len(l.Y) != len(l.Z) {
			return fmt.Errorf("line %d has %d places and %d heights; accepted: as many of each, 2 or more", i, len(l.Y), len(l.Z))
		}
		for k := range l.Y {
			if !(math.Abs(l.Y[k]) <= largest) || !(math.Abs(l.Z[k]) <= largest) || k > 0 && !(l.Y[k] > l.Y[k-1]) {
				return fmt.Errorf("line %d, point %d: y = %g m, z = %g m; accepted: rising y, within 10 m", i, k, l.Y[k], l.Z[k])
			}
		}
	}
	return s.order()
}

// order reports a line that lies below the one before, or faces that touch.
func (s Section) order() error {
	last := len(s.Lines) - 1
	for i := 1; i <= last; i++ {
		for _, y := range append(append([]float64{}, s.Lines[i].Y...), s.Lines[i-1].Y...) {
			// 1 µm: what tracing and interpolation of nodes may cross by.
			if d := s.Lines[i].At(y) - s.Lines[i-1].At(y); d < -1e-6 {
				return fmt.Errorf("line %d is %g m below line %d at y = %g m; accepted: lines in order from side B to A", i, -d, i-1, y)
			}
		}
	}
	for _, y := range append(append([]float64{}, s.Lines[0].Y...), s.Lines[last].Y...) {
		if !(s.Lines[last].At(y)-s.Lines[0].At(y) > 1e-6) {
			return fmt.Errorf("no thickness at y = %g m; accepted: faces apart", y)
		}
	}
	return nil
}

// Vary makes sections along the bar from one of them and the core's offset
// and the bar's thickness along it (all m, x rising). At each x the whole
// section is made thicker or thinner about its own mid-line by the ratio of
// thicknesses, then the core is moved as a whole by the change of offset;
// the layers outside it are squeezed or eased evenly up to the faces.
func Vary(mid Section, core int, x, offset, thickness []float64) ([]Section, error) {
	if len(x) == 0 || len(x) != len(offset) || len(x) != len(thickness) {
		return nil, fmt.Errorf("blade: %d places, %d offsets, %d thicknesses along the bar; accepted: as many of each, 1 or more",
			len(x), len(offset), len(thickness))
	}
	for i := range x {
		if !(thickness[i] > 0) || !(math.Abs(offset[i]) < thickness[i]) || i > 0 && !(x[i] > x[i-1]) {
			return nil, fmt.Errorf("blade: along the bar, x = %g m: thickness %g m, offset %g m; accepted: rising x, offset less than the thickness",
				x[i], thickness[i], offset[i])
		}
	}
	if err := (Bar{Sections: []Section{mid}, Core: core, End: 1}).Check(); err != nil {
		return nil, err
	}
	at := func(v []float64) float64 {
		if len(x) == 1 {
			return v[0]
		}
		return Line{Y: x, Z: v}.At(mid.X)
	}
	t0, d0 := at(thickness), at(offset)
	out := make([]Section, len(x))
	for i := range x {
		r := thickness[i] / t0
		s, err := mid.moved(x[i], core, r, offset[i]-r*d0)
		if err != nil {
			return nil, err
		}
		out[i] = s
	}
	return out, nil
}

// moved is a section r times as thick with its core moved by d.
func (s Section) moved(x float64, core int, r, d float64) (Section, error) {
	n := len(s.Lines)
	out := Section{X: x, Left: s.Left, Right: s.Right, Lines: make([]Line, n)}
	for i, l := range s.Lines {
		out.Lines[i] = Line{Y: l.Y, Z: make([]float64, len(l.Z))}
		for k, y := range l.Y {
			bottom, top := s.Lines[0].At(y), s.Lines[n-1].At(y)
			low, high := s.Lines[core].At(y), s.Lines[core+1].At(y)
			share := 1.0
			switch {
			case i < core:
				share = ratio(l.Z[k]-bottom, low-bottom)
			case i > core+1:
				share = ratio(top-l.Z[k], top-high)
			case i == 0 || i == n-1:
				share = 0 // the core is the outer layer: its face stays
			}
			m := (bottom + top) / 2
			out.Lines[i].Z[k] = m + r*(l.Z[k]-m) + share*d
		}
	}
	if err := out.order(); err != nil {
		return Section{}, fmt.Errorf("blade: along the bar, x = %g m: the core's offset leaves no room: %w", x, err)
	}
	return out, nil
}

func ratio(a, b float64) float64 {
	if b <= 0 {
		return 0
	}
	return a / b
}

// cross is the bar between two of its sections.
type cross struct {
	a, b   *Section
	weight float64 // of b
}

// at is the bar's section at x.
func (b Bar) at(x float64) cross {
	n := len(b.Sections)
	i := sort.Search(n, func(i int) bool { return b.Sections[i].X >= x })
	if i == 0 || i == n {
		s := &b.Sections[min(i, n-1)]
		return cross{a: s, b: s}
	}
	lo, hi := &b.Sections[i-1], &b.Sections[i]
	return cross{a: lo, b: hi, weight: (x - lo.X) / (hi.X - lo.X)}
}

func (c cross) mix(a, b float64) float64 {
	if c.weight == 0 {
		return a
	}
	return a + c.weight*(b-a)
}

func (c cross) line(i int, y float64) float64 {
	z := c.a.Lines[i].At(y)
	if c.weight == 0 {
		return z
	}
	return z + c.weight*(c.b.Lines[i].At(y)-z)
}

func (c cross) sides() (left, right float64) {
	return c.mix(c.a.Left, c.b.Left), c.mix(c.a.Right, c.b.Right)
}

// ends are where line i ends.
func (c cross) ends(i int) (left, right float64) {
	al, ar := c.a.Lines[i].ends()
	bl, br := c.b.Lines[i].ends()
	return c.mix(al, bl), c.mix(ar, br)
}

func (c cross) layers() int { return len(c.a.Lines) - 1 }

func (c cross) mid(y float64) float64 { return (c.line(0, y) + c.line(c.layers(), y)) / 2 }

func (c cross) thickness(y float64) float64 { return c.line(c.layers(), y) - c.line(0, y) }
