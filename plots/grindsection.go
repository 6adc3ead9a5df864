package plots

import (
	"fmt"
	"image/color"
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// Grind draws what the bevels show: the ground section half way along the
// blade in the bar it is cut from ("grind-section"), and the core lines of
// both faces along the blade ("grind-side"), in that order; nothing where the
// Result has no ground blade. Errors are as of Soak.
func Grind(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkGround, grindSheets)
}

// grindSheets lays out the pictures of the ground blade.
func grindSheets(r *sim.Result) []*sheet {
	if r.Ground == nil {
		return nil
	}
	return []*sheet{grindSection(r).sheet(), grindSide(r).sheet()}
}

// groundSection is the blade's section half way along, in the bar.
type groundSection struct {
	name, title, subtitle string
	view                  *groundView
	dims                  [2]dimension // the core lines, B and A
	margins               [2]string    // beside the edge, B and A
	key                   []keyed
	units                 shown
	note                  string
}

// dimension is a height above the edge and what is written of it.
type dimension struct {
	label string
	shown bool
}

// keyed is a tint and what it stands for.
type keyed struct {
	ink  color.Color
	name string
}

const (
	dimRow    = vg.Length(12)  // pt, between a face and its dimension line
	edgeTall  = vg.Length(132) // pt, the enlarged edge
	edgeWaste = vg.Length(96)  // pt, beside the edge for its margins
	edgeTimes = 1.5            // an enlargement by less is not worth its room
	barTall   = vg.Length(230) // pt, the bar at the most
)

// grindSection collects what the picture shows.
func grindSection(r *sim.Result) *groundSection {
	s, g := shownIn(r.Job), r.Ground
	k := &groundSection{name: "grind-section", title: sectionLines(g, s), units: s, view: viewGround(r),
		subtitle: billet(r.Job, s, "section half way along the blade"), key: groundKey(r)}
	mid := g.Answer.Mid
	wanted := ""
	if g.Ask.CoreLine > 0 {
		wanted = ", wanted " + s.fine(g.Ask.CoreLine)
	}
	for i, line := range [2]*float64{mid.B.CoreLine, mid.A.CoreLine} {
		side := [2]string{"B", "A"}[i]
		k.dims[i].label = "side " + side + ": no core line" + wanted
		if line != nil {
			k.dims[i] = dimension{"side " + side + ": core line " + s.fine(*line) + " above the edge" + wanted, true}
		}
		k.margins[i] = side + " " + s.fine(k.view.margin[i])
		if k.view.margin[i] <= 0 {
			k.margins[i] = side + " out by " + s.fine(k.view.margin[i])
		}
	}
	k.note = "true scale; what is ground away is pale"
	return k
}

// sectionLines says what shows half way along.
func sectionLines(g *sim.Bevelled, s shown) string {
	mid := g.Answer.Mid
	if d := g.Answer.NarrowBy; d > 0 && !s.nothing(d) {
		return "The bar is " + whole(s.fine(d)) + " too narrow for this blade: what stands out of it is not there"
	}
	if !mid.InCore() {
		return "Half way along the edge is not in the core"
	}
	a, b := mid.A.CoreLine, mid.B.CoreLine
	switch {
	case a == nil && b == nil:
		return "Half way along no core line shows on either face"
	case a == nil || b == nil:
		one, side, other := a, "A", "B"
		if a == nil {
			one, side, other = b, "B", "A"
		}
		return fmt.Sprintf("Half way along the core line is %s up on side %s; side %s shows none", whole(s.fine(*one)), side, other)
	case s.fine(*a) == s.fine(*b):
		return fmt.Sprintf("Half way along the core lines are %s up on both sides", whole(s.fine(*a)))
	}
	return fmt.Sprintf("Half way along the core line is %s up on side A, %s on side B: %s apart",
		whole(s.fine(*a)), whole(s.fine(*b)), whole(s.fine(*a-*b)))
}

// groundKey names the tints, core first.
func groundKey(r *sim.Result) []keyed {
	g, stack := r.Ground, r.Job.Stack.Layers
	n := len(g.Bar.Sections[0].Lines) - 1
	inks := layerInks(r.Job, n, g.Bar.Core)
	core := stack[g.Bar.Core%len(stack)].Material.Name
	key := []keyed{{inkSteel, "core " + core}}
	seen := map[color.Color]bool{inkSteel: true}
	for i, ink := range inks {
		if !seen[ink] {
			seen[ink] = true
			key = append(key, keyed{ink, stack[i%len(stack)].Material.Name})
		}
	}
	return key
}

// sheet draws the picture.
func (k *groundSection) sheet() *sheet {
	lo, hi := k.view.bounds()
	room := pageWidth - 2*pageMargin - sideRoom
	scale := min(room/vg.Length(hi.y-lo.y), barTall/vg.Length(hi.z-lo.z))
	bar := pane{lo: lo, hi: hi, scale: scale, x: pageMargin + sideRoom}
	edge, larger := k.view.enlarged(scale, room)
	const dims = dimRow + axisRow
	foot := pageMargin + 2*axisRow + 6
	below := foot
	if larger {
		below += edge.high() + axisRow + panelGap
	}
	s := head(k.name, k.title, k.subtitle, 2*dims+bar.high()+12+below)
	bar.y = below + dims
	bar.draw(s, k.view)
	s.sides(bar.x, bar.y, bar.high())
	for i := range k.dims {
		k.dimension(s, bar, i)
	}
	if larger {
		edge.y = foot
		k.edge(s, edge, bar)
	}
	s.ruler(pageMargin+sideRoom, pageMargin+axisRow/2, scale, k.units)
	s.text(handNote, pageWidth-pageMargin, pageMargin+axisRow/2, 1, k.note)
	s.key(k.key, pageMargin+sideRoom, foot-axisRow/2-6, pageWidth-pageMargin)
	return s
}

// key names tints side by side, as many as there is room for.
func (s *sheet) key(all []keyed, x, y, right vg.Length) {
	for _, k := range all {
		name := handLabel.fit(clean(k.name), 160)
		if x+12+handLabel.width(name) > right {
			return
		}
		s.block(x, y-4, x+8, y+4, k.ink)
		s.add(stroke{width: 0.5, ink: inkAxis, pts: []vg.Point{{X: x, Y: y - 4}, {X: x + 8, Y: y - 4}, {X: x + 8, Y: y + 4}, {X: x, Y: y + 4}, {X: x, Y: y - 4}}})
		x = s.text(handLabel, x+12, y, 0, name).Max.X + 14
	}
}

// dimension draws the height of the core line on side B (0) or A (1) outside
// the bar, from the edge to where the line shows.
func (k *groundSection) dimension(s *sheet, p pane, side int) {
	d, v := k.dims[side], k.view
	away := vg.Length(-1)
	y := p.y - dimRow
	if side == 1 {
		y, away = p.y+p.high()+dimRow, 1
	}
	edge := p.at(v.faces[side][0])
	x := edge.X
	if d.shown {
		at := p.at(*v.marks[side])
		s.line(edge.X, edge.Y, edge.X, y+3*away, 0.6, inkText, nil)
		s.line(at.X, at.Y, at.X, y+3*away, 0.6, inkText, nil)
		s.line(edge.X, y, at.X, y, 0.8, inkText, nil)
		s.add(dot{at: at, radius: 2.2, ink: hueSkin})
		x = min(edge.X, at.X)
	}
	wide := handLabel.width(d.label)
	s.text(handLabel, clamp(x, pageMargin, pageWidth-pageMargin-wide), y+away*(axisRow/2+2), 0, d.label)
}

// heightAt is the height of a run that goes from left to right at y.
func heightAt(run []groundPoint, y float64) float64 {
	at, z := make([]float64, len(run)), make([]float64, len(run))
	for i, p := range run {
		at[i], z[i] = p.y, p.z
	}
	i, t := between(at, y)
	return mix(z, i, t)
}

// enlarged is the window on the edge: room wide, and half as high again as
// the core and the edge there; false where that is no enlargement worth having.
func (v *groundView) enlarged(scale, room vg.Length) (pane, bool) {
	top, foot := v.faces[1][0].z, v.faces[0][0].z
	for i, run := range [2][]groundPoint{v.lines[v.core], v.lines[v.core+1]} {
		z := heightAt(run, v.edge.y)
		if i == 0 {
			foot = math.Min(foot, z)
		} else {
			top = math.Max(top, z)
		}
	}
	half := 0.75 * (top - foot)
	mid := (top + foot) / 2
	larger := edgeTall / vg.Length(2*half)
	if !(half > 0) || larger < edgeTimes*scale {
		return pane{}, false
	}
	p := pane{lo: groundPoint{z: mid - half}, hi: groundPoint{z: mid + half}, scale: larger, x: pageMargin + sideRoom}
	wide := float64(room / larger)
	waste := float64(edgeWaste / larger)
	p.lo.y, p.hi.y = v.edge.y-waste, v.edge.y-waste+wide
	if v.faces[0][groundSteps].y < v.edge.y { // the spine is to the left
		p.lo.y, p.hi.y = v.edge.y+waste-wide, v.edge.y+waste
	}
	return p, true
}

// timesLarger is what is written over an enlarged edge.
func timesLarger(edge, bar pane) string {
	return fmt.Sprintf("the edge, %.1f times as large", float64(edge.scale/bar.scale))
}

// edge draws the enlarged edge with how far the core goes beyond it.
func (k *groundSection) edge(s *sheet, p, bar pane) {
	v := k.view
	p.draw(s, v)
	s.box(p.x, p.y, p.x+p.wide(), p.y+p.high())
	s.text(handHead, p.x, p.y+p.high()+axisRow/2+2, 0, timesLarger(p, bar))
	left := v.faces[0][groundSteps].y > v.edge.y
	x := p.at(v.edge).X
	way := vg.Length(1)
	across := 0.0
	if left {
		way, across = -1, 1
	}
	mid := p.at(v.edge).Y
	var want [2]vg.Length
	for i := range v.margin {
		corner := p.at(v.faces[i][0]).Y
		core := p.at(groundPoint{v.edge.y, heightAt(v.lines[v.core+i], v.edge.y)}).Y
		ink := color.Color(inkText)
		if v.margin[i] <= 0 {
			ink = hueSkin
		}
		at := x + 5*way
		s.line(at, corner, at, core, 1.6, ink, nil)
		s.line(at-3, corner, at+3, corner, 0.8, ink, nil)
		s.line(at-3, core, at+3, core, 0.8, ink, nil)
		want[i] = (corner + core) / 2
	}
	step := handLabel.height() + rowGap
	want[0], want[1] = min(want[0], mid-step/2), max(want[1], mid+step/2)
	for i, y := range want {
		wide := handLabel.width(k.margins[i])
		x := x + 12*way
		s.block(x-2, y-handLabel.height()/2, x+way*(wide+2), y+handLabel.height()/2, inkPaper)
		s.text(handLabel, x, y, across, k.margins[i])
	}
}

// box draws a thin frame.
func (s *sheet) box(x0, y0, x1, y1 vg.Length) {
	s.add(stroke{width: 0.6, ink: inkAir, pts: []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}, {X: x0, Y: y0}}})
}
