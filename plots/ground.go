package plots

import (
	"image/color"
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// groundView is the blade half way along inside the bar's section, sampled:
// all lengths in m in the bar's own frame, y left to right, z from side B to
// side A.
type groundView struct {
	lines  [][]groundPoint    // of the bar, from side B's face to side A's, left to right
	faces  [2][]groundPoint   // of the blade, B and A, from edge to spine
	within [][2][]groundPoint // by layer: its lower and upper line within the blade, edge to spine
	core   int
	inks   []color.Color   // by layer
	marks  [2]*groundPoint // where the core line shows, B and A
	edge   groundPoint     // the middle of the edge
	margin [2]float64      // core beyond the edge, B and A, m
}

// groundPoint is a place in the bar's section, m.
type groundPoint struct{ y, z float64 }

// groundSteps is into how many pieces the width and the blade's height are
// cut: finer than the page shows.
const groundSteps = 240

// viewGround samples the ground section half way along.
func viewGround(r *sim.Result) *groundView {
	g := r.Ground
	mid := g.Answer.Mid
	v := &groundView{core: g.Bar.Core, inks: layerInks(r.Job, len(g.Bar.Sections[0].Lines)-1, g.Bar.Core),
		margin: [2]float64{mid.MarginB, mid.MarginA}}
	for i := range g.Bar.Sections[0].Lines {
		left, right := barEnds(g, mid.X, i)
		var pts []groundPoint
		for k := range groundSteps + 1 {
			y := left + (right-left)*float64(k)/groundSteps
			pts = append(pts, groundPoint{y, barLine(g, mid.X, i, y)})
		}
		v.lines = append(v.lines, pts)
	}
	p := g.Blade.ProfileAt(mid.S)
	place := func(u, w float64) groundPoint {
		y, z := mid.Pose.Bar(u, w)
		return groundPoint{y, z}
	}
	v.edge = place(0, (p.A(0)+p.B(0))/2)
	if c := mid.B.CoreLine; c != nil {
		at := place(*c, p.B(*c))
		v.marks[0] = &at
	}
	if c := mid.A.CoreLine; c != nil {
		at := place(*c, p.A(*c))
		v.marks[1] = &at
	}
	v.within = make([][2][]groundPoint, len(v.lines)-1)
	for k := range groundSteps + 1 {
		u := p.Height * float64(k) / groundSteps
		low, high := place(u, p.B(u)), place(u, p.A(u))
		v.faces[0], v.faces[1] = append(v.faces[0], low), append(v.faces[1], high)
		v.fillIn(low, high)
	}
	return v
}

// fillIn adds the layers between two places of the blade's faces; none where
// there is no bar.
func (v *groundView) fillIn(low, high groundPoint) {
	lo, hi := v.bar()
	if low.y < lo.y || low.y > hi.y {
		return
	}
	for i := range v.lines {
		at := crossing(low, high, func(y float64) float64 { return v.line(i, y) })
		if i > 0 {
			v.within[i-1][1] = append(v.within[i-1][1], at)
		}
		if i < len(v.within) {
			v.within[i][0] = append(v.within[i][0], at)
		}
	}
}

// line is the height of line i of the bar at y; beyond its end, that of the
// bar's side, and beyond that of its widest place.
func (v *groundView) line(i int, y float64) float64 {
	l := v.lines[i]
	n := len(l) - 1
	if y >= l[0].y && y <= l[n].y {
		t := (y - l[0].y) / (l[n].y - l[0].y) * float64(n) // evenly sampled
		k := min(int(t), n-1)
		return l[k].z + (t-float64(k))*(l[k+1].z-l[k].z)
	}
	end := 0
	if y > l[n].y {
		end = n
	}
	return v.side(i, end, y)
}

// side is the height of the bar's side at y on the way from the end of line i
// to where the bar is widest.
func (v *groundView) side(i, end int, y float64) float64 {
	widest := 0
	for k, l := range v.lines {
		if further := l[end].y - v.lines[widest][end].y; end == 0 && further < 0 || end > 0 && further > 0 {
			widest = k
		}
	}
	step := 1
	if widest < i {
		step = -1
	}
	for k := i; k != widest; k += step {
		a, b := v.lines[k][end], v.lines[k+step][end]
		if (y-a.y)*(y-b.y) <= 0 && a.y != b.y {
			return a.z + (b.z-a.z)*(y-a.y)/(b.y-a.y)
		}
	}
	return v.lines[widest][end].z
}

// crossing is where the way from low to high, which goes nearly straight up,
// meets a line, held between them.
func crossing(low, high groundPoint, line func(y float64) float64) groundPoint {
	if !(high.z > low.z) {
		return low
	}
	t := 0.0
	for range 4 { // each takes off the error all but the product of two slopes
		t = (line(low.y+t*(high.y-low.y)) - low.z) / (high.z - low.z)
		t = math.Max(0, math.Min(1, t))
	}
	return groundPoint{low.y + t*(high.y-low.y), low.z + t*(high.z-low.z)}
}

// barNear is the two sections on both sides of x and the share of the second.
func barNear(g *sim.Bevelled, x float64) (a, b int, share float64) {
	all := g.Bar.Sections
	at := make([]float64, len(all))
	for i, s := range all {
		at[i] = s.X
	}
	a, share = between(at, x)
	return a, min(a+1, len(all)-1), share
}

// barLine is the height of a line of the bar at x, y.
func barLine(g *sim.Bevelled, x float64, line int, y float64) float64 {
	a, b, t := barNear(g, x)
	return (1-t)*g.Bar.Sections[a].Lines[line].At(y) + t*g.Bar.Sections[b].Lines[line].At(y)
}

// barEnds is where a line of the bar ends at x.
func barEnds(g *sim.Bevelled, x float64, line int) (left, right float64) {
	a, b, t := barNear(g, x)
	p, q := g.Bar.Sections[a].Lines[line].Y, g.Bar.Sections[b].Lines[line].Y
	return (1-t)*p[0] + t*q[0], (1-t)*p[len(p)-1] + t*q[len(q)-1]
}

// layerInks are the tints of a bar's layers; those of a stack that was cut and
// piled again repeat.
func layerInks(j *sim.Job, n, core int) []color.Color {
	tint := map[string]color.Color{}
	out := make([]color.Color, n)
	stack := j.Stack.Layers
	for i := range out {
		name := stack[i%len(stack)].Material.Name
		if i == core {
			out[i] = inkSteel
			continue
		}
		if _, ok := tint[name]; !ok {
			tint[name] = inkJackets[len(tint)%len(inkJackets)]
		}
		out[i] = tint[name]
	}
	return out
}

// bar is the least and the largest y and z of the bar.
func (v *groundView) bar() (lo, hi groundPoint) { return around(v.lines) }

// bounds is the least and the largest y and z of the bar and the blade.
func (v *groundView) bounds() (lo, hi groundPoint) {
	return around(append(append([][]groundPoint(nil), v.lines...), v.faces[:]...))
}

// around is the least and the largest y and z of runs.
func around(runs [][]groundPoint) (lo, hi groundPoint) {
	lo, hi = groundPoint{math.Inf(1), math.Inf(1)}, groundPoint{math.Inf(-1), math.Inf(-1)}
	for _, l := range runs {
		for _, p := range l {
			lo.y, lo.z = math.Min(lo.y, p.y), math.Min(lo.z, p.z)
			hi.y, hi.z = math.Max(hi.y, p.y), math.Max(hi.z, p.z)
		}
	}
	return lo, hi
}

// pane is a window on the section at a scale: what lies outside of it is cut
// off.
type pane struct {
	lo, hi groundPoint // m
	x, y   vg.Length   // of lo on the page
	scale  vg.Length   // pt per m
}

// at is the place on the page, held within the pane.
func (p pane) at(q groundPoint) vg.Point {
	y := math.Max(p.lo.y, math.Min(p.hi.y, q.y))
	z := math.Max(p.lo.z, math.Min(p.hi.z, q.z))
	return vg.Point{X: p.x + p.scale*vg.Length(y-p.lo.y), Y: p.y + p.scale*vg.Length(z-p.lo.z)}
}

// holds says that a place lies in the pane, to the rounding of its sides.
func (p pane) holds(q groundPoint) bool {
	const slack = 1e-9 // m
	return q.y >= p.lo.y-slack && q.y <= p.hi.y+slack && q.z >= p.lo.z-slack && q.z <= p.hi.z+slack
}

func (p pane) wide() vg.Length { return p.scale * vg.Length(p.hi.y-p.lo.y) }
func (p pane) high() vg.Length { return p.scale * vg.Length(p.hi.z-p.lo.z) }

// cut keeps of a run of places, in order of y either way, what lies in the
// pane's width, with new ends where it is cut.
func (p pane) cut(run []groundPoint) []groundPoint {
	var out []groundPoint
	side := func(y float64) bool { return y >= p.lo.y && y <= p.hi.y }
	for i, q := range run {
		if i > 0 && side(q.y) != side(run[i-1].y) {
			a, b := run[i-1], q
			end := p.lo.y
			if a.y > p.hi.y || b.y > p.hi.y {
				end = p.hi.y
			}
			out = append(out, groundPoint{end, a.z + (b.z-a.z)*(end-a.y)/(b.y-a.y)})
		}
		if side(q.y) {
			out = append(out, q)
		}
	}
	return out
}

// fill paints what lies between two runs.
func (p pane) fill(s *sheet, lower, upper []groundPoint, ink color.Color) {
	lower, upper = p.cut(lower), p.cut(upper)
	if len(lower) < 2 || len(upper) < 2 {
		return
	}
	s.add(area{pts: append(p.run(lower), reversed(p.run(upper))...), ink: ink})
}

// run places a run on the page.
func (p pane) run(run []groundPoint) []vg.Point {
	out := make([]vg.Point, len(run))
	for i, q := range run {
		out[i] = p.at(q)
	}
	return thin(out, thinTolerance)
}

// trace draws a run as a line, broken where it is above or below the pane.
func (p pane) trace(s *sheet, run []groundPoint, width vg.Length, ink color.Color) {
	var piece []groundPoint
	flush := func() {
		if len(piece) > 1 {
			s.add(stroke{pts: p.run(piece), width: width, ink: ink})
		}
		piece = nil
	}
	for _, q := range p.cut(run) {
		if !p.holds(q) {
			flush()
			continue
		}
		piece = append(piece, q)
	}
	flush()
}

// paled is an ink mixed with paper: what is ground away.
func paled(c color.Color) color.Color {
	r, g, b, _ := c.RGBA()
	const keep = 0.32
	mix := func(v uint32) uint8 { return uint8(255 - keep*(255-float64(v>>8)) + 0.5) }
	return color.NRGBA{mix(r), mix(g), mix(b), 0xff}
}

// draw draws the bar, paled where it is ground away, and the blade in it.
func (p pane) draw(s *sheet, v *groundView) {
	for i := range v.within {
		p.fill(s, v.lines[i], v.lines[i+1], paled(v.inks[i]))
	}
	for i, w := range v.within {
		p.fill(s, w[0], w[1], v.inks[i])
	}
	p.outlines(s, v)
}

// outlines draws the lines between layers, the bar's faces and the blade's.
func (p pane) outlines(s *sheet, v *groundView) {
	lo, hi := v.bar()
	apart := p.scale*vg.Length(hi.z-lo.z)/vg.Length(len(v.within)) > lineCloser
	for i := 1; i < len(v.lines)-1; i++ {
		if apart || i == v.core || i == v.core+1 {
			p.trace(s, v.lines[i], lineThin, inkAir)
			p.trace(s, v.within[i][0], lineThin, inkAxis)
		}
	}
	n := len(v.lines) - 1
	p.trace(s, v.lines[0], 0.7, inkSoft)
	p.trace(s, v.lines[n], 0.7, inkSoft)
	p.ends(s, v)
	for _, f := range v.faces {
		p.trace(s, f, 1.1, inkText)
	}
	for _, k := range []int{0, groundSteps} { // edge and spine
		p.trace(s, []groundPoint{v.faces[0][k], v.faces[1][k]}, 1.1, inkText)
	}
}

// ends draws the bar's sides, where the pane shows them.
func (p pane) ends(s *sheet, v *groundView) {
	for _, k := range []int{0, groundSteps} {
		var side []groundPoint
		for _, l := range v.lines {
			side = append(side, l[k])
		}
		ok := true
		for _, q := range side {
			ok = ok && p.holds(q)
		}
		if ok {
			s.add(stroke{pts: p.run(side), width: 0.7, ink: inkSoft})
		}
	}
}
