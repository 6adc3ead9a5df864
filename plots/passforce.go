package plots

import (
	"fmt"
	"image/color"
	"math"
	"strconv"

	"billet/layers"
	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// passForce is what each pass asks of the machine.
type passForce struct {
	name, title, subtitle string
	panels                []barPanel
	heats                 []heatBand
	tools                 []band
}

// barPanel is a quantity with a bar for each pass and what the machine has.
type barPanel struct {
	chart
	head   string
	bars   []bar
	limits []limitRun
}

// bar is one pass.
type bar struct {
	at, value float64
	low, high float64 // the range; none if equal
	share     float64 // of the limit; 0: none
	red       bool    // past the red stop
	label     string
}

// limitRun is a limit over passes that share it.
type limitRun struct {
	from, to, value float64
	label           string
	stop            bool // the red stop, not the limit
	tool            sim.PassTool
}

// redStop is the share of a press at which to stop: common practice, no
// source.
const redStop = 0.8

// ask is one of the quantities a machine is asked for.
type ask struct {
	head, unit string
	limit      func(sim.PassDone) (layers.Limit, bool)
	number     func(float64) float64
	text       func(float64) string
	of         func(sim.PassDone) float64
}

// asks are the quantities in order; the later ones only by rolls.
func asks(s shown) []ask {
	torque := func(v float64) string { return fmt.Sprintf("%.0f %s", s.torque(v), s.torqueUnit()) }
	same := func(v float64) float64 { return v }
	plain := func(v float64) string { return fmt.Sprintf("%.2f", v) }
	return []ask{
		{force, s.forceUnit(), unitLimit("N"), s.force, s.system.Force, func(p sim.PassDone) float64 { return p.Force }},
		{"power of the rolls", s.powerUnit(), unitLimit("W"), s.power, s.system.Power, func(p sim.PassDone) float64 { return rolled(p) * p.Power }},
		{"torque on a roll", s.torqueUnit(), unitLimit("N m"), s.torque, torque, func(p sim.PassDone) float64 { return rolled(p) * p.Torque }},
		{"bite: tangent of its angle, against grip", "", biteLimit, same, plain, func(p sim.PassDone) float64 {
			l, _ := biteLimit(p)
			return l.Demand
		}},
	}
}

// rolled is 1 for a pass in the rolls.
func rolled(p sim.PassDone) float64 {
	if p.Tool == sim.ByRolls {
		return 1
	}
	return 0
}

// passesForce collects what the picture shows.
func passesForce(r *sim.Result) *passForce {
	s, w := shownIn(r.Job), r.Work
	k := &passForce{name: "passes-force", title: forceTitle(w, s), heats: heatBands(w.Passes), tools: toolBands(w.Passes)}
	percent, blows := false, false
	for _, a := range asks(s) {
		p := barPanel{head: a.head, chart: chart{yTitle: a.unit, x: passAxis(1, len(w.Passes)), xTitle: "pass"}}
		any := false
		for i, d := range w.Passes {
			b := a.bar(i+1, d)
			any = any || b.value > 0
			percent = percent || b.share > 0
			blows = blows || b.label != "" && b.share == 0
			p.bars = append(p.bars, b)
		}
		if !any {
			continue
		}
		p.limits = limitRuns(w.Passes, a)
		p.y = p.heights()
		k.panels = append(k.panels, p)
	}
	k.subtitle = billet(r.Job, s, figuresNote(percent, blows))
	return k
}

// figuresNote says what the figures over the bars are.
func figuresNote(percent, blows bool) string {
	switch {
	case percent && blows:
		return "over the bars: share of the limit, or blows on one place"
	case blows:
		return "over the bars: blows on one place"
	case percent:
		return "over the bars: share of the limit"
	}
	return ""
}

// bar is the bar of pass n.
func (a ask) bar(n int, d sim.PassDone) bar {
	v := a.of(d)
	b := bar{at: float64(n), value: a.number(v)}
	if a.head == force {
		b.low, b.high = s2(a.number(d.ForceRange[0]), a.number(d.ForceRange[1]))
		if d.Tool == sim.ByHammer && d.Blows > 0 {
			b.label = strconv.Itoa(d.Blows) + "×"
		}
	}
	if l, ok := a.limit(d); ok && v > 0 {
		b.share = v / l.Allowed
		b.label = strconv.Itoa(int(math.Round(100*b.share))) + " %"
		b.red = d.Tool == sim.ByPress && b.share > redStop
	}
	return b
}

// s2 puts two numbers in order.
func s2(a, b float64) (low, high float64) { return math.Min(a, b), math.Max(a, b) }

// force is the heading of the first quantity.
const force = "force"

// unitLimit finds the limit of a pass with the unit.
func unitLimit(unit string) func(sim.PassDone) (layers.Limit, bool) {
	return func(d sim.PassDone) (layers.Limit, bool) {
		for _, l := range d.Limits {
			if l.Unit == unit && l.Allowed > 0 {
				return l, true
			}
		}
		return layers.Limit{}, false
	}
}

// forceLimit is the limit of the force of a pass.
var forceLimit = unitLimit("N")

// biteLimit is the limit without a unit that rolls have: they must grip.
func biteLimit(d sim.PassDone) (layers.Limit, bool) {
	if d.Tool != sim.ByRolls {
		return layers.Limit{}, false
	}
	return unitLimit("")(d)
}

// limitRuns are the limits of the passes, and the red stop of a press. The
// last run of each machine is the one that is named.
func limitRuns(passes []sim.PassDone, a ask) []limitRun {
	var out []limitRun
	named := map[sim.PassTool]bool{}
	for i := len(passes) - 1; i >= 0; i-- {
		d := passes[i]
		l, ok := a.limit(d)
		if !ok || a.of(d) == 0 {
			continue
		}
		v, at := a.number(l.Allowed), float64(i+1)
		if k := len(out) - 1; k >= 0 && !out[k].stop && out[k].value == v && out[k].tool == d.Tool && out[k].from == at+0.5 {
			out[k].from = at - 0.5
			if k > 0 && out[k-1].stop && d.Tool == sim.ByPress {
				out[k-1].from = at - 0.5
			}
			continue
		}
		run := limitRun{from: at - 0.5, to: at + 0.5, value: v, tool: d.Tool}
		stop := limitRun{from: at - 0.5, to: at + 0.5, value: redStop * v, stop: true, tool: d.Tool}
		if !named[d.Tool] {
			named[d.Tool] = true
			run.label = machineNames[d.Tool] + " " + a.text(l.Allowed)
			stop.label = fmt.Sprintf("red stop, %.0f %%", 100*redStop)
		}
		if d.Tool == sim.ByPress && a.head == force {
			out = append(out, stop)
		}
		out = append(out, run)
	}
	return out
}

// heights is the upright axis: over bars, ranges, limits and the figures over
// the bars.
func (p *barPanel) heights() axis {
	high := 0.0
	for _, b := range p.bars {
		high = math.Max(high, math.Max(b.value, b.high))
	}
	for _, l := range p.limits {
		high = math.Max(high, l.value)
	}
	return roundAxis(0, 1.1*high, 6)
}

const (
	forcePanel = vg.Length(190) // pt, the height of the first panel
	smallPanel = vg.Length(95)  // pt, of the others
)

// sheet draws the picture.
func (k *passForce) sheet() *sheet {
	const rowOver = unitRow + heatRow + 4
	foot := pageMargin + axisRow + tickRow + stripHeight
	last := len(k.panels) - 1
	below := foot + forcePanel + rowOver + vg.Length(last)*(smallPanel+panelGap+unitRow)
	s := head(k.name, k.title, k.subtitle, below)
	for i := last; i >= 0; i-- {
		height := smallPanel
		if i == 0 {
			height = forcePanel
		}
		k.panels[i].place(foot, height, passRight)
		foot += height + panelGap + unitRow
	}
	for i := range k.panels {
		p := &k.panels[i]
		p.shadeHeats(s, k.heats, i == 0)
		p.grid(s)
		over := unitRow - 3
		if i == 0 {
			over = heatRow + unitRow/2 + 2
		}
		s.text(handHead, p.frame.Min.X, p.frame.Max.Y+over, 0, p.head)
		p.draw(s)
	}
	low := &k.panels[last]
	low.strip(s, k.tools, toolLooks[:])
	low.base(s, stripHeight)
	return s
}

// draw draws bars, limits and the figures over the bars.
func (p *barPanel) draw(s *sheet) {
	slot := p.x.at(1) - p.x.at(0)
	half := min(0.32*slot, 18)
	for _, b := range p.bars {
		if b.value <= 0 {
			continue
		}
		x, y := p.x.at(b.at), p.y.at(b.value)
		s.block(x-half, p.frame.Min.Y, x+half, y, b.ink())
		if b.high > b.low {
			s.whisker(x, p.y.at(b.low), p.y.at(b.high), min(half, 8), inkText)
		}
	}
	var ends []end
	for _, l := range p.limits {
		e := end{at: vg.Point{X: p.x.at(l.to), Y: p.y.at(l.value)}, label: l.label, ink: inkText}
		wide := vg.Length(1.6)
		if l.stop {
			e.ink, e.dash, wide = hueSkin, dashLong, 1.1
		}
		s.line(p.x.at(l.from), e.at.Y, e.at.X, e.at.Y, wide, e.ink, e.dash)
		if l.label != "" {
			ends = append(ends, e)
		}
	}
	p.labelEnds(s, ends, passRight)
	p.figures(s, slot)
}

// ink is the colour of a bar.
func (b bar) ink() color.Color {
	switch {
	case b.share > 1:
		return hueSkin
	case b.red:
		return hueNear
	}
	return hueFine
}

// figures writes over the bars: over each if there is room, else over the one
// nearest its limit alone.
func (p *barPanel) figures(s *sheet, slot vg.Length) {
	worst, room := -1, true
	for i, b := range p.bars {
		if b.label == "" || b.value <= 0 {
			continue
		}
		room = room && handLabel.width(b.label)+5 <= slot
		if worst < 0 || b.share > p.bars[worst].share {
			worst = i
		}
	}
	for i, b := range p.bars {
		if b.label == "" || b.value <= 0 || !room && i != worst {
			continue
		}
		x, y := p.x.at(b.at), p.y.at(math.Max(b.value, b.high))
		y += handLabel.height()/2 + 3
		w := handLabel.width(b.label)/2 + 1.5
		s.block(x-w, y-handLabel.height()/2, x+w, y+handLabel.height()/2, inkPaper)
		s.text(handLabel, x, y, 0.5, b.label)
	}
}
