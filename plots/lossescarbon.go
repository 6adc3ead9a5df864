package plots

import (
	"fmt"

	"billet/sim"
)

// Losses draws what the fire takes: carbon through the stack heat by heat
// ("losses-carbon"), the steel lost as scale heat by heat ("losses-scale") and,
// where the blade is known too, the carbon in its section ("losses-blade"), in
// that order; nothing where the Result has no losses. Errors are as of Soak.
func Losses(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkLosses, lossesSheets)
}

// lossesSheets lays out the pictures of the losses.
func lossesSheets(r *sim.Result) []*sheet {
	if r.Losses == nil || len(r.Losses.Heats) == 0 {
		return nil
	}
	all := []*sheet{lossesCarbon(r).sheet(), lossesScale(r).sheet()}
	if r.Ground != nil {
		all = append(all, lossesBlade(r).sheet())
	}
	return all
}

// carbonLines is carbon against the share of the thickness, a line for each
// heat.
type carbonLines struct {
	throughStack // layers of the last heat, per cent of the thickness
}

// carbonMost is how many heats can be told apart.
const carbonMost = 7

// lossesCarbon collects what the picture shows.
func lossesCarbon(r *sim.Result) *carbonLines {
	s, lost := shownIn(r.Job), r.Losses
	k := &carbonLines{throughStack{chart: chart{name: "losses-carbon", title: carbonTitle(r, s), yTitle: "% C",
		xTitle: "per cent of the thickness at the time"}}}
	heats := someHeats(lost.Heats)
	note := ""
	if left := len(lost.Heats) - len(heats); left > 0 {
		note = count(left, "heat", "heats") + " in between left out"
	}
	k.subtitle = billet(r.Job, s, note)
	high := 0.0
	if first, ok := laidUp(r); ok {
		k.lines = append(k.lines, first)
		_, high = span(first.y)
	}
	for i, h := range heats {
		thick := h.Z[len(h.Z)-1] - h.Z[0]
		l := line{ink: timeInk(i, len(heats)), width: 1.6, y: h.Carbon,
			label: fmt.Sprintf("heat %d, %s thick", h.Number, s.length(thick))}
		l.x = each(h.Z, func(z float64) float64 { return 100 * (z - h.Z[0]) / thick })
		k.lines = append(k.lines, l)
		_, most := span(h.Carbon)
		high = max(high, most)
	}
	k.x, k.y = newAxis(0, 100, 10), roundAxis(0, max(high, leastCarbon), 7)
	k.layers = carbonBands(r)
	return k
}

// leastCarbon is the least an axis of carbon reaches, %: steel with none to
// speak of must not look rich.
const leastCarbon = 0.1

// someHeats are the heats shown: of too many the first and last, and others
// evenly between.
func someHeats(all []sim.HeatLoss) []sim.HeatLoss {
	if len(all) <= carbonMost {
		return all
	}
	var out []sim.HeatLoss
	for i := range carbonMost {
		out = append(out, all[i*(len(all)-1)/(carbonMost-1)])
	}
	return out
}

// laidUp is the carbon of the stack as laid up; ok is false where the heats
// have other layers, as after piling.
func laidUp(r *sim.Result) (l line, ok bool) {
	stack := r.Job.Stack.Layers
	if len(joints(r.Losses.Heats[0].Z)) != len(stack)-1 {
		return line{}, false
	}
	thick, at := r.Job.Stack.Thickness(), 0.0
	l = line{ink: inkSoft, width: 1.1, dash: dashShort, label: "as laid up"}
	for _, k := range stack {
		l.x = append(l.x, 100*at/thick, 100*(at+k.Thickness)/thick)
		l.y = append(l.y, k.Material.Carbon, k.Material.Carbon)
		at += k.Thickness
	}
	return l, true
}

// joints are the heights that stand twice in a profile.
func joints(z []float64) []float64 {
	var out []float64
	for i := 1; i < len(z); i++ {
		if z[i] == z[i-1] {
			out = append(out, z[i])
		}
	}
	return out
}

// carbonBands are the layers at the last heat, in per cent of the thickness;
// none where they are not those of the stack.
func carbonBands(r *sim.Result) []layerBand {
	heats := r.Losses.Heats
	z := heats[len(heats)-1].Z
	low, high := z[0], z[len(z)-1]
	at := append(joints(z), high)
	if len(at) != len(r.Job.Stack.Layers) {
		return nil
	}
	var out []layerBand
	from := 0.0
	for i, l := range r.Job.Stack.Layers {
		to := 100 * (at[i] - low) / (high - low)
		out = append(out, layerBand{from: from, to: to, name: l.Material.Name, core: l.Core})
		from = to
	}
	return out
}

// carbonTitle says what is left where it matters.
func carbonTitle(r *sim.Result, s shown) string {
	lost := r.Losses
	where := "in its middle"
	if r.Job.Blade != nil {
		where = "where the edge will lie"
	}
	left := whole(s.system.Share(lost.CarbonAtEdge / 100))
	text := "The core holds " + left + " carbon " + where
	if k, ok := r.Job.Stack.CoreLayer(); ok {
		text = "The core keeps its " + left + " carbon " + where
		if was := whole(s.system.Share(r.Job.Stack.Layers[k].Material.Carbon / 100)); was != left {
			text = "Of " + was + " carbon the core has " + left + " " + where
		}
	}
	text += ", after " + whole(count(len(lost.Heats), "heat", "heats"))
	switch {
	case lost.Levelled > 0:
		text += fmt.Sprintf("; the layers are level from heat %d", lost.Levelled)
	case lost.Transition > 0:
		text += "; the joint has blurred to " + whole(s.fine(lost.Transition))
	}
	return text
}
