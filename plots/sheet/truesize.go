package sheet

import (
	"fmt"
	"math"
	"strings"

	"billet/sim"
)

// drawing is a picture in millimetres on paper, to be printed at true size.
type drawing struct {
	caption    string
	wide, high float64 // mm
	marks      strings.Builder
}

// dot is a point in millimetres on paper, x to the right, y down.
type dot struct{ x, y float64 }

// svg is the drawing as an element, its size in millimetres.
func (d *drawing) svg() string {
	return fmt.Sprintf(`<svg role="img" width="%smm" height="%smm" viewBox="0 0 %s %s">`,
		mm(d.wide), mm(d.high), mm(d.wide), mm(d.high)) + d.marks.String() + "</svg>"
}

// mm writes millimetres on paper to a hundredth.
func mm(v float64) string {
	s := strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func (d *drawing) path(class string, closed bool, pts ...dot) {
	if len(pts) < 2 {
		return
	}
	fmt.Fprintf(&d.marks, `<path class="%s" d="`, class)
	for i, p := range pts {
		c := "L"
		if i == 0 {
			c = "M"
		}
		d.marks.WriteString(c + mm(p.x) + " " + mm(p.y))
	}
	if closed {
		d.marks.WriteString("Z")
	}
	d.marks.WriteString(`"/>`)
}

func (d *drawing) text(x, y float64, anchor, s string) {
	fmt.Fprintf(&d.marks, `<text x="%s" y="%s" text-anchor="%s">%s</text>`, mm(x), mm(y), anchor, escape(s))
}

// rim is what a drawing keeps free round its lines, mm.
const rim = 0.5

// fitting tells whether sizes can be drawn at all.
func fitting(v ...float64) bool {
	for _, x := range v {
		if !(x > 0) || x > 1 { // m
			return false
		}
	}
	return true
}

// boundary is a line of the section, y and z in m.
type boundary []dot

// section is a bar's section: boundaries from side B's face to side A's.
type section struct {
	lines []boundary
	core  int
}

// barSection is the worked bar's section, or the stack's where nothing was
// worked; ok is false where there is none.
func (w words) barSection() (s section, ok bool) {
	if g := w.r.Ground; g != nil && g.Answer != nil && len(g.Bar.Sections) > 0 {
		return w.groundSection(), true
	}
	if k := w.r.Work; k != nil && len(k.Sections) > 0 {
		return viewSection(k.Sections[len(k.Sections)-1]), true
	}
	return section{}, false
}

// groundSection is the section nearest the middle of the blade.
func (w words) groundSection() section {
	g := w.r.Ground
	best := 0
	for i, c := range g.Bar.Sections {
		if math.Abs(c.X-g.Answer.Mid.X) < math.Abs(g.Bar.Sections[best].X-g.Answer.Mid.X) {
			best = i
		}
	}
	s := section{core: g.Bar.Core}
	for _, l := range g.Bar.Sections[best].Lines {
		var b boundary
		for i := range l.Y {
			b = append(b, dot{l.Y[i], l.Z[i]})
		}
		s.lines = append(s.lines, b)
	}
	return s
}

// viewSection is an end view as boundaries.
func viewSection(v sim.EndView) section {
	s := section{core: -1}
	for i, l := range v.Layers {
		if l.Core {
			s.core = i
		}
		var low, up boundary
		for _, p := range l.Lower {
			low = append(low, dot{p.Y, p.Z})
		}
		for _, p := range l.Upper {
			up = append(up, dot{p.Y, p.Z})
		}
		if i == 0 {
			s.lines = append(s.lines, low)
		}
		s.lines = append(s.lines, up)
	}
	return s
}

// whole tells whether every boundary is there.
func (s section) whole() bool {
	for _, l := range s.lines {
		if len(l) < 2 {
			return false
		}
	}
	return len(s.lines) > 1
}

// extent is the least and greatest of a section, m.
func (s section) extent() (lo, hi dot) {
	lo, hi = dot{math.Inf(1), math.Inf(1)}, dot{math.Inf(-1), math.Inf(-1)}
	for _, l := range s.lines {
		for _, p := range l {
			lo.x, lo.y = math.Min(lo.x, p.x), math.Min(lo.y, p.y)
			hi.x, hi.y = math.Max(hi.x, p.x), math.Max(hi.y, p.y)
		}
	}
	return lo, hi
}

// sectionDrawing is the bar's section at true size with the blade in it; nil
// where there is no section.
func (w words) sectionDrawing() *drawing {
	s, ok := w.barSection()
	if !ok || !s.whole() {
		return nil
	}
	lo, hi := s.extent()
	if !fitting(hi.x-lo.x, hi.y-lo.y) {
		return nil
	}
	d := &drawing{wide: 1000*(hi.x-lo.x) + 2*rim, high: 1000*(hi.y-lo.y) + 2*rim}
	place := func(p dot) dot { return dot{rim + 1000*(p.x-lo.x), rim + 1000*(hi.y-p.y)} }
	d.layers(s, place)
	d.caption = "Section, true size, side A up: "
	size := w.BothLength(hi.y-lo.y) + " thick"
	if w.r.Ground != nil {
		w.bladeInSection(d, place)
		size += ", the blade in it"
	}
	d.caption += size
	return d
}

// finest is how far apart layer lines must be on paper to be drawn, mm.
const finest = 0.35

// layers draws the layers of a section.
func (d *drawing) layers(s section, place func(dot) dot) {
	on := make([][]dot, len(s.lines))
	for i, l := range s.lines {
		for _, p := range l {
			on[i] = append(on[i], place(p))
		}
	}
	n := len(on) - 1
	d.path("jacket", true, ring(on)...)
	if s.core >= 0 && s.core < n {
		d.path("core", true, ring(on[s.core:s.core+2])...)
	}
	if d.high/float64(n) > finest {
		for _, l := range on[1:n] {
			d.path("joint", false, l...)
		}
	}
	d.path("rim", true, ring(on)...)
}

// ring is the outline round boundaries: along the first, up their right ends,
// back along the last and down their left ends.
func ring(lines [][]dot) []dot {
	n := len(lines) - 1
	out := append([]dot(nil), lines[0]...)
	for _, l := range lines[1:n] {
		out = append(out, l[len(l)-1])
	}
	for i := len(lines[n]) - 1; i >= 0; i-- {
		out = append(out, lines[n][i])
	}
	for i := n - 1; i > 0; i-- {
		out = append(out, lines[i][0])
	}
	return out
}

// bladeInSection draws the blade's section where it lies in the bar.
func (w words) bladeInSection(d *drawing, place func(dot) dot) {
	g := w.r.Ground
	p := g.Blade.ProfileAt(g.Answer.Mid.S)
	if !fitting(p.Height) {
		return
	}
	const steps = 24
	var a, b []dot
	for i := range steps + 1 {
		u := p.Height * float64(i) / steps
		y, z := g.Answer.Mid.Bar(u, p.A(u))
		a = append(a, place(dot{y, z}))
		y, z = g.Answer.Mid.Bar(u, p.B(u))
		b = append([]dot{place(dot{y, z})}, b...)
	}
	d.path("blade", true, append(a, b...)...)
}

// bladeDrawing is the blade from the side, edge down, heel to the left, at true
// size or, where room (mm) does not do, at half; nil without a blade or where
// neither fits.
func (w words) bladeDrawing(room float64) *drawing {
	b := w.r.Job.Blade
	if b == nil || !fitting(b.Length, b.Height) {
		return nil
	}
	k, said := 1000.0, "true size"
	if k*b.Length+2*rim > room {
		k, said = 500, "HALF size (it is longer than the page is wide)"
	}
	if k*b.Length+2*rim > room {
		return nil
	}
	d := &drawing{wide: k*b.Length + 2*rim, high: k*b.Height + 2*rim}
	at := func(s, u float64) dot { return dot{rim + k*s, rim + k*(b.Height-u)} }
	d.path("rim", true, at(0, 0), at(b.Length, 0), at(b.Length, b.Height), at(0, b.Height))
	if h := b.Grind.Height; h > 0 && h < b.Height {
		d.path("shoulder", false, at(0, h), at(b.Length, h))
	}
	d.caption = fmt.Sprintf("Blade, %s, heel to the left, %s × %s", said, w.LongLength(b.Length), w.Length(b.Height))
	if w.coreLines(d, at) {
		d.caption += "; core line on A solid, on B dashed"
	}
	return d
}

// coreLines draws both faces' core lines along the blade where they show.
func (w words) coreLines(d *drawing, at func(s, u float64) dot) bool {
	g := w.r.Ground
	if g == nil || g.Answer == nil {
		return false
	}
	drawn := false
	for side, class := range []string{"line-a", "line-b"} {
		var run []dot
		for _, st := range g.Answer.Along {
			line := st.A.CoreLine
			if side == 1 {
				line = st.B.CoreLine
			}
			if line == nil {
				d.path(class, false, run...)
				drawn, run = drawn || len(run) > 1, nil
				continue
			}
			run = append(run, at(st.S, *line))
		}
		d.path(class, false, run...)
		drawn = drawn || len(run) > 1
	}
	return drawn
}

// ruler proves that the page was printed at true size: 50 mm over 2 in.
func ruler() *drawing {
	const inch = 25.4
	d := &drawing{wide: 2*inch + 2*rim, high: 9}
	tick := func(x, from, to float64) { d.path("joint", false, dot{rim + x, from}, dot{rim + x, to}) }
	d.path("joint", false, dot{rim, 4.5}, dot{rim + 2*inch, 4.5})
	for i := range 6 {
		tick(10*float64(i), 2.5, 4.5)
	}
	for i := range 9 {
		tick(inch/4*float64(i), 4.5, 6+0.5*float64((i+1)%2))
	}
	d.text(rim+25, 2, "middle", "50 mm")
	d.text(rim+inch, 8.8, "middle", "2 in")
	d.caption = "Print at 100 %: these must be 50 mm and 2 in long"
	return d
}
