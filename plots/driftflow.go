package plots

import (
	"fmt"
	"image/color"
	"math"

	"billet/layers"
	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// flowMap is how the metal of one squeeze flows: strain in colours, velocity
// as arrows.
type flowMap struct {
	name, title, subtitle string
	view                  sim.EndView
	field                 layers.Field
	strain                axis
	fastest               float64 // m/s
	units                 shown
}

const (
	flowWide   = vg.Length(455) // pt, the most a section is drawn wide
	flowTall   = vg.Length(270) // pt, and high
	arrowLong  = vg.Length(24)  // pt, the longest arrow
	arrowLeast = vg.Length(3)   // pt, a shorter one is a dot
	arrowApart = vg.Length(13)  // pt, two arrows are never nearer
)

// driftFlow collects what the picture shows; nil where no flow was kept. The
// squeeze is the one that moved the core most.
func driftFlow(r *sim.Result) *flowMap {
	views := r.Work.Sections
	best, most := -1, -1.0
	for i, v := range views {
		if v.Field == nil || len(v.Field.Corners) == 0 || i == 0 {
			continue
		}
		if d := math.Abs(v.Offset - views[i-1].Offset); d > most {
			best, most = i, d
		}
	}
	if best < 0 {
		return nil
	}
	s, v := shownIn(r.Job), views[best]
	moved := v.Offset - views[best-1].Offset
	k := &flowMap{view: v, field: wholeField(*v.Field)}
	k.name, k.subtitle, k.units = "drift-flow", billet(r.Job, s, fmt.Sprintf("flow at the end of pass %d", v.Pass)), s
	k.title = fmt.Sprintf("Pass %d moved the core most: %s", v.Pass, whole(s.toward(moved)))
	if s.nothing(moved) {
		k.title = "No pass moved the core to speak of"
	}
	high := 0.0
	for i, f := range k.field.Flow {
		k.fastest = math.Max(k.fastest, math.Hypot(f.Y, f.Z))
		high = math.Max(high, k.field.Strain[i])
	}
	k.strain = roundAxis(0, math.Max(high, 0.01), 8)
	return k
}

// wholeField completes the field of a half section, which lies at y of nought
// or more, by its mirror image.
func wholeField(f layers.Field) layers.Field {
	low, high := 0.0, 0.0
	for _, q := range f.Corners {
		for _, p := range q {
			low, high = math.Min(low, p.Y), math.Max(high, p.Y)
		}
	}
	if low < -1e-6*high { // rounding of the middle line
		return f
	}
	n := len(f.Corners)
	out := layers.Field{
		Corners: append([][4]layers.Point(nil), f.Corners...), Layer: append([]int(nil), f.Layer...),
		Strain: append([]float64(nil), f.Strain...), Flow: append([]layers.Point(nil), f.Flow...),
	}
	for i := range n {
		q := f.Corners[i]
		for k := range q {
			q[k].Y = -q[k].Y
		}
		out.Corners, out.Layer, out.Strain = append(out.Corners, q), append(out.Layer, f.Layer[i]), append(out.Strain, f.Strain[i])
		out.Flow = append(out.Flow, layers.Point{Y: -f.Flow[i].Y, Z: f.Flow[i].Z})
	}
	return out
}

// sheet draws the picture.
func (k *flowMap) sheet() *sheet {
	w, h := size(k.view)
	lo, _ := extent(k.view)
	scale := min(flowWide/vg.Length(w), flowTall/vg.Length(h))
	deep := scale * vg.Length(h)
	tall := max(deep, sectionLeast)
	const foot = pageMargin + 2*axisRow
	s := head(k.name, k.title, k.subtitle, unitRow+14+tall+foot)
	x0, y0 := pageMargin+sideRoom, foot+(tall-deep)/2
	place := func(p layers.Point) vg.Point {
		return vg.Point{X: x0 + scale*vg.Length(p.Y-lo.Y), Y: y0 + scale*vg.Length(p.Z-lo.Z)}
	}
	k.fill(s, place)
	k.lines(s, place)
	k.arrows(s, place)
	s.sides(x0, y0, deep)
	k.strain.lo, k.strain.hi = foot, foot+tall
	s.colourBar(k.strain, "strain so far", pageWidth-pageMargin-barWide-4)
	s.ruler(x0, pageMargin+axisRow/2, scale, k.units)
	s.text(handNote, pageWidth-pageMargin, pageMargin+axisRow/2, 1, "true scale; the longest arrow is "+k.units.system.Speed(k.fastest)+"; core between the heavy lines")
	return s
}

// fill colours the elements by strain, with a hair of overlap so that no paper
// shows between them.
func (k *flowMap) fill(s *sheet, place func(layers.Point) vg.Point) {
	for i, q := range k.field.Corners {
		ink := heatScale()[scaleIndex((k.field.Strain[i]-k.strain.min)/(k.strain.max-k.strain.min))]
		pts := []vg.Point{place(q[0]), place(q[1]), place(q[2]), place(q[3])}
		s.add(area{pts: pts, ink: ink}, stroke{pts: append(pts, pts[0]), width: 0.5, ink: ink})
	}
}

// lines draws the lines between layers, those of the core heavier.
func (k *flowMap) lines(s *sheet, place func(layers.Point) vg.Point) {
	for i, l := range k.view.Layers {
		if i == 0 {
			continue
		}
		wide := vg.Length(0.6)
		if l.Core || k.view.Layers[i-1].Core {
			wide = 1.6
		}
		pts := make([]vg.Point, len(l.Lower))
		for j, p := range l.Lower {
			pts[j] = place(p)
		}
		s.add(stroke{pts: pts, width: wide * 1.9, ink: inkPaper}, stroke{pts: pts, width: wide, ink: inkText})
	}
}

// arrows draws the velocities, those that would crowd others left out.
func (k *flowMap) arrows(s *sheet, place func(layers.Point) vg.Point) {
	if k.fastest == 0 {
		return
	}
	var taken []vg.Point
	for i, q := range k.field.Corners {
		at := place(layers.Point{Y: (q[0].Y + q[1].Y + q[2].Y + q[3].Y) / 4, Z: (q[0].Z + q[1].Z + q[2].Z + q[3].Z) / 4})
		if crowded(at, taken) {
			continue
		}
		taken = append(taken, at)
		f := k.field.Flow[i]
		by := vg.Point{X: arrowLong * vg.Length(f.Y/k.fastest), Y: arrowLong * vg.Length(f.Z/k.fastest)}
		s.arrow(at, by)
	}
}

func crowded(at vg.Point, taken []vg.Point) bool {
	for _, p := range taken {
		if math.Hypot(float64(at.X-p.X), float64(at.Y-p.Y)) < float64(arrowApart) {
			return true
		}
	}
	return false
}

// arrow draws an arrow about at, dark on pale so that it shows on every
// colour.
func (s *sheet) arrow(at, by vg.Point) {
	long := vg.Length(math.Hypot(float64(by.X), float64(by.Y)))
	if long < arrowLeast {
		s.add(dot{at: at, radius: 0.9, ink: inkText})
		return
	}
	from := vg.Point{X: at.X - by.X/2, Y: at.Y - by.Y/2}
	to := vg.Point{X: at.X + by.X/2, Y: at.Y + by.Y/2}
	const tip = vg.Length(4.5)
	ux, uy := by.X/long, by.Y/long
	barb := func(side vg.Length) vg.Point {
		return vg.Point{X: to.X - tip*ux - side*0.45*tip*uy, Y: to.Y - tip*uy + side*0.45*tip*ux}
	}
	for _, pen := range []struct {
		width vg.Length
		ink   color.Color
	}{{2.8, inkPaper}, {1.1, inkText}} {
		s.add(stroke{pts: []vg.Point{from, to}, width: pen.width, ink: pen.ink})
		s.add(stroke{pts: []vg.Point{barb(1), to, barb(-1)}, width: pen.width, ink: pen.ink})
	}
}
