package plots

import (
	"fmt"
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// passSize is the bar's size after each pass over its temperature at each.
type passSize struct {
	size, heat chart
	hot        bool       // there are temperatures to show
	width      [2]float64 // the range of the final width; none if equal
	heats      []heatBand
	tools      []band
}

const passPanel = vg.Length(175) // pt, the height of a panel

// passesSheets lays out the pictures of the passes.
func passesSheets(r *sim.Result) []*sheet {
	all := []*sheet{passesSize(r).sheet()}
	if f := passesForce(r); len(f.panels) > 0 {
		all = append(all, f.sheet())
	}
	return all
}

// passesSize collects what the picture shows.
func passesSize(r *sim.Result) *passSize {
	s, w := shownIn(r.Job), r.Work
	n := len(w.Passes)
	p := &passSize{
		size: chart{
			name: "passes-size", title: passesTitle(r, s), yTitle: s.sizeUnit(), x: passAxis(0, n), xTitle: "pass",
			subtitle: billet(r.Job, s, "ends "+s.system.LongLength(w.Final.Length)+" long"),
		},
		heat:  chart{yTitle: s.degreeUnit(), x: passAxis(0, n), xTitle: "pass"},
		heats: heatBands(w.Passes), tools: toolBands(w.Passes),
	}
	thick, wide := []float64{s.size(w.Start.Thickness)}, []float64{s.size(w.Start.Width)}
	for _, k := range w.Passes {
		thick, wide = append(thick, s.size(k.After.Thickness)), append(wide, s.size(k.After.Width))
	}
	last := w.Passes[n-1].After
	p.size.lines = []line{
		{x: upTo(n), y: wide, label: "width " + s.length(last.Width), ink: hueJoint, width: 1.8, dash: dashLong, dots: true},
		{x: upTo(n), y: thick, label: "thickness " + s.length(last.Thickness), ink: hueSkin, width: 1.8, dots: true},
	}
	p.addRange(w, s)
	_, high := span(append(append([]float64{p.width[1]}, thick...), wide...))
	p.size.y = roundAxis(0, high*1.03, 6)
	p.addHeat(r, s)
	return p
}

// addRange sets the range of the final width and its labels, where it shows;
// one that the width does not lie in is not its range.
func (p *passSize) addRange(w *sim.Work, s shown) {
	lo, hi := w.Final.WidthRange[0], w.Final.WidthRange[1]
	if s.length(lo) == s.length(hi) || lo > w.Final.Width || hi < w.Final.Width {
		return
	}
	p.width = [2]float64{s.size(lo), s.size(hi)}
	n := float64(len(w.Passes))
	for _, k := range []struct {
		at   float64
		text string
	}{{hi, "at most "}, {lo, "at least "}} {
		p.size.lines = append(p.size.lines, line{x: []float64{n}, y: []float64{s.size(k.at)}, ink: inkSoft, label: k.text + s.length(k.at)})
	}
}

// addHeat sets the lines of temperature, a piece for each heat.
func (p *passSize) addHeat(r *sim.Result, s shown) {
	lines := []struct {
		line
		of func(sim.PassDone) float64
	}{
		{line{name: "coldest place", ink: inkSoft, width: 1, dash: dashShort}, func(k sim.PassDone) float64 { return k.Coldest }},
		{line{name: "mean", ink: hueMid, width: 2}, func(k sim.PassDone) float64 { return k.Temperature }},
		{line{name: "side A", ink: hueSkin, width: 1.4}, func(k sim.PassDone) float64 { return k.SideA }},
		{line{name: "side B", ink: hueJoint, width: 1.4, dash: dashLong}, func(k sim.PassDone) float64 { return k.SideB }},
	}
	if !colderPlaces(r.Work.Passes) {
		lines = lines[1:]
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range lines {
		pieces := pieces(r.Work.Passes, l.of)
		for i, piece := range pieces {
			k := l.line
			k.x, k.y, k.dots = piece.At, each(piece.Value, s.degrees), true
			if i == len(pieces)-1 {
				k.label = k.name + " " + s.temperature(piece.Value[len(piece.Value)-1])
			}
			a, b := span(k.y)
			low, high = math.Min(low, a), math.Max(high, b)
			p.heat.lines, p.hot = append(p.heat.lines, k), true
		}
	}
	if !p.hot {
		return
	}
	if floor := r.Job.Handling.WorkAbove; floor > 0 && len(p.heats) > 0 {
		p.heat.rules = []rule{{value: s.degrees(floor), label: "work above " + s.system.ExactTemperature(floor), ink: hueWeld, dash: dashMixed}}
		low, high = math.Min(low, s.degrees(floor)), math.Max(high, s.degrees(floor))
	}
	room := math.Max(0.03*(high-low), 5)
	p.heat.y = roundAxis(low-room, high+room, 6)
}

// colderPlaces says whether some place along the bar is colder than the one
// the temperatures are taken at by more than the pictures of heat care for.
func colderPlaces(passes []sim.PassDone) bool {
	for _, p := range passes {
		if p.Temperature-p.Coldest > 2*evenEnough {
			return true
		}
	}
	return false
}

// pieces are a temperature of the hot passes, K, cut where the bar went back
// into the fire or was cold.
func pieces(passes []sim.PassDone, of func(sim.PassDone) float64) []sim.Line {
	var out []sim.Line
	last := -1
	for i, p := range passes {
		if p.Temperature == 0 {
			continue
		}
		if last < 0 || last != i-1 || passes[last].Heat != p.Heat {
			out = append(out, sim.Line{})
		}
		k := &out[len(out)-1]
		k.At, k.Value = append(k.At, float64(i+1)), append(k.Value, of(p))
		last = i
	}
	return out
}

// sheet draws the picture.
func (p *passSize) sheet() *sheet {
	foot := pageMargin + axisRow + tickRow + stripHeight
	below := foot + passPanel + unitRow + heatRow
	if p.hot {
		below += passPanel + panelGap + unitRow
	}
	s := head(p.size.name, p.size.title, p.size.subtitle, below)
	low := &p.size
	if p.hot {
		p.heat.place(foot, passPanel, passRight)
		foot += passPanel + panelGap + unitRow
		low = &p.heat
	}
	p.size.place(foot, passPanel, passRight)
	p.size.shadeHeats(s, p.heats, true)
	p.size.grid(s)
	if p.width[1] > p.width[0] {
		x := p.size.x.at(p.size.x.max - 0.5)
		s.whisker(x, p.size.y.at(p.width[0]), p.size.y.at(p.width[1]), 7, inkText)
	}
	p.size.plot(s, passRight)
	if p.hot {
		p.heat.shadeHeats(s, p.heats, false)
		p.heat.grid(s)
		p.heat.plot(s, passRight)
	}
	low.strip(s, p.tools, toolLooks[:])
	low.base(s, stripHeight)
	return s
}

// passesTitle is what the passes make of the bar, in a sentence.
func passesTitle(r *sim.Result, s shown) string {
	w := r.Work
	text := count(len(w.Passes), "pass", "passes")
	if w.Heats > 0 {
		text += " in " + count(w.Heats, "heat", "heats")
	}
	verb := "bring"
	if len(w.Passes) == 1 {
		verb = "brings"
	}
	text = fmt.Sprintf("%s %s the bar from %s × %s to %s × %s", text, verb,
		whole(s.length(w.Start.Thickness)), whole(s.length(w.Start.Width)), whole(s.length(w.Final.Thickness)), whole(s.length(w.Final.Width)))
	if !w.Can {
		text += ", more than the machine can do"
	}
	return text
}
