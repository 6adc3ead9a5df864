package plots

import (
	"image"
	"math"
	"sort"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// section is the temperature over the section at mid length, at true scale.
type section struct {
	name, title, subtitle string
	across, up            axis // shown length
	heat                  axis // shown degrees
	layers                []layerBand
	faces                 []float64 // shown length from side B, between layers
	cold                  [2]float64
	coldLabel             string
	marks                 []level // beside the colour bar
	img                   image.Image
	units                 shown
}

const (
	sectionWide  = vg.Length(290) // pt, the most a section is drawn wide
	sectionTall  = vg.Length(260) // pt, and high
	sectionLeast = vg.Length(150) // pt, height of the colour bar at least
	acrossTick   = vg.Length(32)  // pt, between ticks at least
	upTick       = vg.Length(22)  // pt
)

// heatLeast is the least range of the colours, so that a section that is even
// for all a smith can do looks even.
const heatLeast = 20 // K

// level is a level named beside the colour bar.
type level struct {
	value float64
	label string
}

// soakSection collects what the picture shows.
func soakSection(r *sim.Result) *section {
	s := shownIn(r.Job)
	sec := r.Soak.Section
	k := &section{
		name:      "soak-section",
		title:     sectionTitle(r, s),
		subtitle:  billet(r.Job, s, ""),
		layers:    layerBands(r.Job, s),
		cold:      [2]float64{s.size(coldAcross(sec)), s.size(sec.Cold[1])},
		coldLabel: "coldest spot " + s.near(sec.ColdT, r.Job.Weld.Heat),
		units:     s,
	}
	width := s.size(r.Job.Stack.Width)
	if n := len(sec.Y); n > 1 {
		width = s.size(sec.Y[n-1])
	}
	height := s.size(sec.Z[len(sec.Z)-1])
	scale := min(sectionWide/vg.Length(width), sectionTall/vg.Length(height))
	k.across = newAxis(0, width, max(1, int(scale*vg.Length(width)/acrossTick)))
	k.up = newAxis(0, height, max(1, int(scale*vg.Length(height)/upTick)))
	k.across.hi, k.up.hi = scale*vg.Length(width), scale*vg.Length(height)
	for _, z := range sec.Layers {
		if v := s.size(z); v > k.up.min && v < k.up.max {
			k.faces = append(k.faces, v)
		}
	}
	low, high := span(sec.Temperature[0])
	for _, row := range sec.Temperature {
		a, b := span(row)
		low, high = min(low, a), max(high, b)
	}
	if wider := (heatLeast - (high - low)) / 2; wider > 0 {
		low, high = low-wider, high+wider
	}
	k.heat = roundAxis(s.degrees(low), s.degrees(high), 8)
	k.marks = append(k.marks, level{s.degrees(sec.ColdT), "coldest"})
	k.marks = append(k.marks, level{s.degrees(r.Job.Weld.Heat), "welding heat"})
	k.img = k.picture(sec)
	return k
}

// coldAcross is where across the cold spot is marked: in the middle, if it is
// as cold there.
func coldAcross(sec sim.Section) float64 {
	const same = 0.01 // K, far below what is written
	mid := (sec.Y[0] + sec.Y[len(sec.Y)-1]) / 2
	ky, ty := between(sec.Y, mid)
	for i, z := range sec.Z {
		if z == sec.Cold[1] && math.Abs(mix(sec.Temperature[i], ky, ty)-sec.ColdT) < same {
			return mid
		}
	}
	return sec.Cold[0]
}

// pixels is the longer side of the picture of the section; more than are
// printed.
const pixels = 640

// picture is the section as an image, temperature linear between the places
// it is known at.
func (k *section) picture(sec sim.Section) image.Image {
	w, h := pixels, pixels
	if ratio := k.across.max / k.up.max; ratio > 1 {
		h = max(2, int(pixels/ratio+0.5))
	} else {
		w = max(2, int(pixels*ratio+0.5))
	}
	img := image.NewPaletted(image.Rect(0, 0, w, h), heatScale())
	y0, y1 := sec.Y[0], sec.Y[len(sec.Y)-1]
	z0, z1 := sec.Z[0], sec.Z[len(sec.Z)-1]
	for j := range h {
		kz, tz := between(sec.Z, z1+(z0-z1)*(float64(j)+0.5)/float64(h))
		for i := range w {
			ky, ty := between(sec.Y, y0+(y1-y0)*(float64(i)+0.5)/float64(w))
			t := (1-tz)*mix(sec.Temperature[kz], ky, ty) + tz*mix(sec.Temperature[min(kz+1, len(sec.Z)-1)], ky, ty)
			share := (k.units.degrees(t) - k.heat.min) / (k.heat.max - k.heat.min)
			img.SetColorIndex(i, j, scaleIndex(share))
		}
	}
	return img
}

// between finds v among rising values: it lies the share t of the way from
// at[k] to at[k+1]; outside, at the end.
func between(at []float64, v float64) (k int, t float64) {
	k = sort.SearchFloat64s(at, v) - 1
	switch {
	case k < 0:
		return 0, 0
	case k >= len(at)-1:
		return len(at) - 1, 0
	case at[k+1] == at[k]:
		return k, 0
	}
	return k, (v - at[k]) / (at[k+1] - at[k])
}

// mix is the value the share t of the way from row[k] to the next.
func mix(row []float64, k int, t float64) float64 {
	if t == 0 {
		return row[k]
	}
	return (1-t)*row[k] + t*row[k+1]
}

// sheet draws the picture.
func (k *section) sheet() *sheet {
	w, h := k.across.hi-k.across.lo, k.up.hi-k.up.lo
	tall := max(h, sectionLeast)
	const over = 2*axisRow + 4
	foot := pageMargin + axisRow + tickRow
	s := head(k.name, k.title, k.subtitle, over+tall+foot)
	x0, y0 := pageMargin+leftRoom+18, foot+(tall-h)/2
	k.across.lo, k.across.hi = x0, x0+w
	k.up.lo, k.up.hi = y0, y0+h
	s.add(raster{over: vg.Rectangle{Min: vg.Point{X: x0, Y: y0}, Max: vg.Point{X: x0 + w, Y: y0 + h}}, img: k.img})
	k.drawAxes(s)
	k.drawFaces(s)
	k.drawCold(s)
	x := k.nameLayers(s, pageWidth-pageMargin-barRight-barLeft, foot-6, foot+tall+6) + barLeft
	k.drawBar(s, x, foot, foot+tall)
	return s
}

// drawAxes draws sizes under and to the left of the section, and the sides.
func (k *section) drawAxes(s *sheet) {
	x0, y0, y1 := k.across.lo, k.up.lo, k.up.hi
	for _, v := range k.across.ticks {
		x := k.across.at(v)
		s.line(x, y0, x, y0-tickLength, 0.8, inkAxis, nil)
		s.text(handTick, x, y0-tickRow/2-3, 0.5, k.across.label(v))
	}
	for _, v := range k.up.ticks {
		y := k.up.at(v)
		s.line(x0, y, x0-tickLength, y, 0.8, inkAxis, nil)
		if v > 0 {
			s.text(handTick, x0-6, y, 1, k.up.label(v))
		}
	}
	s.text(handAxis, x0, y0-tickRow-axisRow/2-1, 0, k.units.sizeWord()+" across from left to right, and up; true scale")
	s.text(handHead, x0-16, y1+axisRow/2+3, 1, "side A")
	s.text(handHead, x0-16, y0-tickRow/2-3, 1, "side B")
}

// drawFaces draws the joints and the outline, pale over dark so that they show
// on every colour.
func (k *section) drawFaces(s *sheet) {
	x0, x1 := k.across.lo, k.across.hi
	wide := vg.Length(2)
	if len(k.faces) > 12 {
		wide = 0.8
	}
	for _, v := range k.faces {
		y := k.up.at(v)
		s.line(x0, y, x1, y, wide, inkPaper, nil)
		s.line(x0, y, x1, y, wide*0.4, inkText, nil)
	}
	s.add(stroke{width: 0.8, ink: inkAxis, pts: []vg.Point{
		{X: x0, Y: k.up.lo}, {X: x1, Y: k.up.lo}, {X: x1, Y: k.up.hi}, {X: x0, Y: k.up.hi}, {X: x0, Y: k.up.lo}}})
}

// drawCold marks the coldest spot, with a line up to its label over the
// section.
func (k *section) drawCold(s *sheet) {
	x, y := k.across.at(k.cold[0]), k.up.at(k.cold[1])
	top := k.up.hi + axisRow
	s.line(x, y, x, top, 2.2, inkPaper, nil)
	s.line(x, y, x, top, 0.8, inkText, nil)
	s.add(dot{at: vg.Point{X: x, Y: y}, radius: 3, ink: inkText})
	half := handHead.width(k.coldLabel) / 2
	x = clamp(x, pageMargin+half, pageWidth-pageMargin-half)
	s.text(handHead, x, top+axisRow/2, 0.5, k.coldLabel)
}

// nameLayers writes the materials to the right of the section, or what the
// stack is made of where there are too many, no further right than right, and
// returns how far right that went.
func (k *section) nameLayers(s *sheet, right, foot, top vg.Length) (end vg.Length) {
	x := k.across.hi + labelGap
	step := handLabel.height() + rowGap
	if vg.Length(len(k.layers))*step > top-foot {
		return k.braceLayers(s, right)
	}
	want := make([]vg.Length, len(k.layers))
	for i, b := range k.layers {
		want[i] = k.up.at((b.from + b.to) / 2)
	}
	got := spread(want, step, foot, top)
	for i, b := range k.layers {
		s.add(stroke{width: 0.8, ink: inkSoft, pts: []vg.Point{
			{X: k.across.hi + 1, Y: want[i]}, {X: k.across.hi + 3, Y: want[i]}, {X: x - 3, Y: got[i]}}})
		end = max(end, s.text(handLabel, x, got[i], 0, handLabel.fit(b.name, right-x)).Max.X)
	}
	return end
}

// braceLayers writes what the stack is made of beside a bracket.
func (k *section) braceLayers(s *sheet, right vg.Length) (end vg.Length) {
	x := k.across.hi + 5
	s.add(stroke{width: 0.8, ink: inkSoft, pts: []vg.Point{
		{X: x - 2, Y: k.up.lo}, {X: x + 2, Y: k.up.lo}, {X: x + 2, Y: k.up.hi}, {X: x - 2, Y: k.up.hi}}})
	lines := handLabel.wrap(madeOf(k.layers), right-x-8, 6)
	y := (k.up.lo+k.up.hi)/2 + axisRow*vg.Length(len(lines)-1)/2
	for _, l := range lines {
		end = max(end, s.text(handLabel, x+8, y, 0, l).Max.X)
		y -= axisRow
	}
	return end
}

const (
	barWide  = vg.Length(14)  // pt, the colour bar
	barRight = vg.Length(104) // pt, from its left edge to the edge of the page
	barLeft  = vg.Length(52)  // pt, for its numbers
)

// drawBar draws the colour bar with the named levels.
func (k *section) drawBar(s *sheet, x, foot, top vg.Length) {
	k.heat.lo, k.heat.hi = foot, top
	s.colourBar(k.heat, k.units.degreeUnit(), x)
	k.nameLevels(s, x+barWide, foot, top)
}

// colourBar draws the heat scale along an axis with numbers on its left.
func (s *sheet) colourBar(a axis, unit string, x vg.Length) {
	strip := image.NewPaletted(image.Rect(0, 0, 1, scaleSteps), heatScale())
	for i := range scaleSteps {
		strip.SetColorIndex(0, i, uint8(scaleSteps-1-i))
	}
	s.add(raster{over: vg.Rectangle{Min: vg.Point{X: x, Y: a.lo}, Max: vg.Point{X: x + barWide, Y: a.hi}}, img: strip})
	s.add(stroke{width: 0.8, ink: inkAxis, pts: []vg.Point{
		{X: x, Y: a.lo}, {X: x + barWide, Y: a.lo}, {X: x + barWide, Y: a.hi}, {X: x, Y: a.hi}, {X: x, Y: a.lo}}})
	for _, v := range a.ticks {
		y := a.at(v)
		s.line(x, y, x-tickLength, y, 0.8, inkAxis, nil)
		s.text(handTick, x-6, y, 1, a.label(v))
	}
	s.text(handAxis, x-6, a.hi+unitRow-3, 1, unit)
}

// nameLevels writes the named levels to the right of the colour bar.
func (k *section) nameLevels(s *sheet, x, foot, top vg.Length) {
	var marks []level
	var want []vg.Length
	for _, m := range k.marks {
		if k.heat.holds(m.value) {
			marks, want = append(marks, m), append(want, k.heat.at(m.value))
		}
	}
	step := handLabel.height() + rowGap
	got := spread(want, step, foot-step/2, top+step/2)
	for i, m := range marks {
		s.add(stroke{width: 0.8, ink: inkText, pts: []vg.Point{
			{X: x - barWide, Y: want[i]}, {X: x + 3, Y: want[i]}, {X: x + labelGap - 3, Y: got[i]}}})
		s.text(handLabel, x+labelGap, got[i], 0, handLabel.fit(m.label, barRight-barWide-labelGap))
	}
}
