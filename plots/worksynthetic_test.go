package plots

import (
	"math"
	"strings"

	"billet/layers"
	"billet/sim"
)

// forged describes passes put together for the tests. The numbers are made to
// be drawn, not to be right.
type forged struct {
	made                // the stack, the title and the units
	kinds   []int       // of each pass, as in toolLooks
	perHeat int         // passes; 0: temperatures prescribed, one place followed
	drift   float64     // m, the largest offset on the way
	force   float64     // N, of the first pass
	limit   float64     // N
	causes  []sim.Cause // nil: not split
	flow    bool        // the end views carry a flow
	half    bool        // of half the section
	bare    bool        // no end views, no habits
}

// kindsOf is n passes of a kind.
func kindsOf(n int, kind int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = kind
	}
	return out
}

// usualWork is nine passes under a press.
func usualWork() forged {
	return forged{made: usual(), kinds: kindsOf(9, int(sim.ByPress)), perHeat: 3, drift: 0.6e-3, force: 90e3, limit: 220e3,
		flow: true, half: true, causes: []sim.Cause{{Name: sim.StartJackets}, {Name: sim.Temperature, Offset: 0.5e-3},
			{Name: sim.Friction, Offset: -0.2e-3}, {Name: sim.Slip, Offset: 0.15e-3}, {Name: sim.Losses}, {Name: sim.Interaction, Offset: -0.05e-3}}}
}

// works are the results every picture of the passes must stand up to.
func works() map[string]forged {
	inch := usualWork()
	inch.units, inch.drift = sim.Inch, -0.4e-3
	inch.causes = []sim.Cause{{Name: sim.Temperature, Offset: -0.3e-3}, {Name: sim.ToolShape, Offset: -0.1e-3}}
	over := usualWork()
	over.limit, over.flow = 60e3, false
	rolls := usualWork()
	rolls.kinds, rolls.perHeat = kindsOf(17, int(sim.ByRolls)), 5
	hammer := usualWork()
	hammer.kinds, hammer.perHeat, hammer.limit, hammer.half = kindsOf(5, int(sim.ByHammer)), 1, 0, false
	mixed := usualWork()
	mixed.perHeat = 4
	mixed.kinds = nil
	for range 7 {
		mixed.kinds = append(mixed.kinds, int(sim.ByPress), passOnEdge, int(sim.ByRolls), int(sim.ByHammer), int(sim.ByGrind), int(sim.ByRestack))
	}
	cold := usualWork()
	cold.perHeat = 0
	even := usualWork()
	even.drift, even.causes = 1e-17, []sim.Cause{{Name: sim.Interaction, Offset: 1e-18}}
	single := usualWork()
	single.kinds, single.title = kindsOf(1, int(sim.ByPress)), ""
	many := usualWork()
	many.made = cases()["41 layers"]
	many.kinds = kindsOf(40, int(sim.ByPress))
	odd := usualWork()
	odd.made = cases()["odd"]
	odd.causes = append(odd.causes, sim.Cause{Name: "something_the_pictures_have_never_heard_of_before", Offset: 0.2e-3})
	ground := usualWork()
	ground.kinds = kindsOf(2, int(sim.ByGrind))
	bare := usualWork()
	bare.bare, bare.causes = true, nil
	big := usualWork()
	big.thickness, big.width, big.force, big.limit = 0.2, 0.3, 9e6, 2e7
	foil := usualWork()
	foil.thickness, foil.width = 0.0006, 0.09
	return map[string]forged{"usual": usualWork(), "inch": inch, "too much": over, "rolls": rolls, "hammer": hammer, "all tools": mixed,
		"prescribed": cold, "even": even, "one pass": single, "40 passes": many, "odd": odd, "ground only": ground, "bare": bare, "big": big, "foil": foil}
}

// result makes the result.
func (f forged) result() *sim.Result {
	r := f.made.result()
	j, w := r.Job, &sim.Work{Can: true}
	r.Soak, r.Work = nil, w
	j.Handling.WorkAbove = 1173.15
	j.Blade = &sim.Blade{Height: 0.8 * f.width, EdgeFromSide: 0.08 * f.width, EdgeRight: true}
	thick := 0.0
	for _, l := range j.Stack.Layers {
		thick += l.Thickness
	}
	now := sim.Sizes{Thickness: thick, Width: f.width, Length: j.Stack.Length}
	w.Start = now
	f.view(r, 0, now, 0)
	for i := range f.kinds {
		now = f.pass(r, i, now)
	}
	f.end(r, now)
	return r
}

// offset is the offset after pass i of n.
func (f forged) offset(i int) float64 {
	return f.drift * math.Sin(2.2*float64(i)/float64(len(f.kinds)))
}

func (f forged) pass(r *sim.Result, i int, now sim.Sizes) sim.Sizes {
	p := sim.PassDone{Number: i + 1, Tool: sim.PassTool(f.kinds[i]), Before: now, Within: true, Offset: f.offset(i + 1), Welded: float64(i) / 2}
	if f.kinds[i] == passOnEdge {
		p.Tool, p.Edge = sim.ByPress, true
	}
	v := now.Thickness * now.Width * now.Length
	switch {
	case p.Tool == sim.ByRestack:
		now.Thickness, now.Length = 1.6*now.Thickness, now.Length/1.6
	case p.Edge:
		now.Width *= 0.8
	default:
		now.Thickness *= 1 - 1.3/float64(len(f.kinds)+3)
		now.Width *= 1.03
	}
	now.Length = v / now.Thickness / now.Width
	p.After = now
	if p.Tool != sim.ByGrind && p.Tool != sim.ByRestack {
		f.squeezed(&p, i)
	}
	r.Work.Passes = append(r.Work.Passes, p)
	r.Work.Heats = max(r.Work.Heats, p.Heat)
	r.Work.Can = r.Work.Can && p.Within
	f.view(r, i+1, now, p.Offset)
	return now
}

// squeezed is what a hot pass has and a cold one has not.
func (f forged) squeezed(p *sim.PassDone, i int) {
	p.Temperature, p.SideA, p.SideB = 1370, 1390, 1330
	p.Coldest = p.Temperature
	if f.perHeat > 0 {
		p.Heat = 1 + i/f.perHeat
		p.Temperature -= 35 * float64(i%f.perHeat)
		p.SideA, p.SideB, p.Coldest = p.Temperature+30, p.Temperature-45, p.Temperature-20
	}
	p.Force = f.force * (1 + 0.15*float64(i))
	p.ForceRange = [2]float64{0.85 * p.Force, 1.15 * p.Force}
	switch p.Tool {
	case sim.ByRolls:
		p.Power, p.Torque = 1800+100*float64(i), 250
		p.Limits = []layers.Limit{{What: "rolling power", Demand: p.Power, Allowed: 4000, Unit: "W"},
			{What: "tangent of the bite angle", Demand: 0.2, Allowed: 0.29}}
	case sim.ByHammer:
		p.Blows = 12 + i
		p.Limits = []layers.Limit{{What: "blows for a draft of 0.05 % of the height", Demand: 0.2, Allowed: 1}}
	}
	if f.limit > 0 && p.Tool != sim.ByHammer {
		p.Limits = append(p.Limits, layers.Limit{What: "press force", Demand: p.Force, Allowed: f.limit, Unit: "N"})
		p.Within = p.Force <= f.limit
	}
}

// end is the finished bar, the causes and the habits.
func (f forged) end(r *sim.Result, now sim.Sizes) {
	w, j := r.Work, r.Job
	w.Causes = f.causes
	e := &w.Final
	e.Sizes, e.Offset = now, f.offset(len(f.kinds))
	e.WidthRange = [2]float64{0.95 * now.Width, 1.08 * now.Width}
	e.OffsetRange = [2]float64{0.8 * e.Offset, 1.3 * e.Offset}
	if e.Offset < 0 {
		e.OffsetRange[0], e.OffsetRange[1] = e.OffsetRange[1], e.OffsetRange[0]
	}
	places := 5
	if f.perHeat == 0 {
		places = 1
	}
	for i := range places {
		e.Along.At = append(e.Along.At, (float64(i)+0.5)/float64(places)*now.Length)
		e.Along.Value = append(e.Along.Value, e.Offset*(1+0.1*float64(i)))
		e.AlongThick = append(e.AlongThick, now.Thickness*(1+0.003*float64(i)))
	}
	for i := range 21 {
		u := 2*float64(i)/20 - 1
		e.Across.At = append(e.Across.At, 0.45*now.Width*u)
		e.Across.Value = append(e.Across.Value, e.Offset*(1.2-0.6*u*u))
	}
	w.EdgeOffset = sim.Maybe{Value: 0.7 * e.Offset, OK: true}
	if f.bare {
		j.Blade, w.EdgeOffset, e.Across, e.Along, e.AlongThick = nil, sim.Maybe{}, sim.Line{}, sim.Line{}, nil
		w.Sections = nil
		return
	}
	w.Odds = &sim.Odds{Draws: 200, Offset: [3]float64{0.5 * e.Offset, e.Offset, 1.4 * e.Offset}}
	for _, h := range []sim.FlipHabit{sim.FlipNever, sim.FlipEveryPass, sim.FlipEveryHeat} {
		k := sim.Flipped{Habit: h, IsCurrent: h == sim.FlipEveryHeat}
		for i := range w.Passes {
			k.ByPass = append(k.ByPass, []float64{1, 0.2, 1.5}[h]*f.offset(i+1))
		}
		k.Offset = k.ByPass[len(k.ByPass)-1]
		w.Flips = append(w.Flips, k)
	}
}

// view adds an end view.
func (f forged) view(r *sim.Result, pass int, s sim.Sizes, offset float64) {
	v := bulged(r.Job, s, offset)
	v.Pass = pass
	if f.flow && pass > 0 {
		v.Field = streaming(s, f.half)
	}
	r.Work.Sections = append(r.Work.Sections, v)
}

// bulged is an end view of a bar with bulged sides whose layers keep their
// shares of the thickness, moved by offset but at the faces.
func bulged(j *sim.Job, s sim.Sizes, offset float64) sim.EndView {
	v := sim.EndView{Offset: offset}
	total, at := 0.0, 0.0
	for _, l := range j.Stack.Layers {
		total += l.Thickness
	}
	edge := func(share float64) []layers.Point {
		var pts []layers.Point
		d := 4 * share * (1 - share)
		for i := range 13 {
			u := 2*float64(i)/12 - 1
			pts = append(pts, layers.Point{Y: u * s.Width / 2 * (1 + 0.1*d), Z: s.Thickness*(share-0.5) + offset*d})
		}
		return pts
	}
	for _, l := range j.Stack.Layers {
		v.Layers = append(v.Layers, sim.LayerOutline{Material: l.Material.Name, Core: l.Core,
			Lower: edge(at / total), Upper: edge((at + l.Thickness) / total)})
		at += l.Thickness
	}
	return v
}

// streaming is a flow in 6 by 6 elements, of half the section or all of it.
func streaming(s sim.Sizes, half bool) *layers.Field {
	f := &layers.Field{}
	from := -6
	if half {
		from = 0
	}
	for i := from; i < 6; i++ {
		for k := range 6 {
			p := func(a, b int) layers.Point {
				return layers.Point{Y: s.Width / 2 * float64(a) / 6, Z: s.Thickness * (float64(b)/6 - 0.5)}
			}
			f.Corners = append(f.Corners, [4]layers.Point{p(i, k), p(i+1, k), p(i+1, k+1), p(i, k+1)})
			f.Layer = append(f.Layer, k/2)
			f.Strain = append(f.Strain, 0.02*float64(k)+0.01*math.Abs(float64(i)))
			f.Rate = append(f.Rate, 1)
			f.Flow = append(f.Flow, layers.Point{Y: 0.01 * (float64(i) + 0.5) / 6, Z: 0.012 * (0.5 - (float64(k)+0.5)/6)})
		}
	}
	return f
}

// taught is a lesson with so many scenes.
func taught(f forged, scenes int) *sim.Result {
	r := f.result()
	r.Work = nil
	start := sim.Sizes{Width: f.width}
	for _, l := range r.Job.Stack.Layers {
		start.Thickness += l.Thickness
	}
	end := sim.Sizes{Thickness: 0.3 * start.Thickness, Width: 2.2 * start.Width}
	l := &sim.Lesson{Start: bulged(r.Job, start, 0), Passes: 8, Draft: 0.14}
	for i := range scenes {
		why := strings.TrimSpace(strings.Repeat("The side that lay on the die is colder and so stronger. ", 1+i%4))
		l.Scenes = append(l.Scenes, sim.Scene{Name: sim.Temperature, Title: "Cold lower side", Why: why, Matters: i%3 > 0,
			Never: bulged(r.Job, end, f.drift), Flipped: bulged(r.Job, end, -f.drift/9)})
	}
	r.Lesson = l
	return r
}

// lessons are the results the page must stand up to.
func lessons() map[string]*sim.Result {
	square := usualWork()
	square.thickness, square.width = 0.0127, 0.038
	tall := usualWork()
	tall.thickness, tall.width = 0.03, 0.02
	return map[string]*sim.Result{"usual": taught(usualWork(), 9), "square": taught(square, 9), "tall": taught(tall, 10), "flat": taught(works()["foil"], 9),
		"inch": taught(works()["inch"], 9), "one": taught(square, 1), "crowded": taught(tall, 16), "41 layers": taught(works()["40 passes"], 9)}
}
