package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"billet/layers"
	"billet/sim"
	"billet/sim/blade"
	"billet/sim/metal"
)

// madeJob is a three-layer job put together for the tests.
func madeJob() *sim.Job {
	j := &sim.Job{Title: "Net mender, three layers"}
	j.Stack = sim.Stack{Width: 0.040, Length: 0.140}
	for i, n := range []string{"1018", "80CrV2", "1018"} {
		l := sim.Layer{Thickness: 0.009, Core: i == 1}
		l.Material.Name = n
		j.Stack.Layers = append(j.Stack.Layers, l)
	}
	j.Weld = sim.Weld{Heat: 1423.15, Flux: 973.15, Hold: 120}
	j.Heats = []sim.Stage{{In: sim.InForge, Until: sim.UntilJoints, Temperature: 1423.15, Hold: 120}}
	j.Handling = sim.Handling{WorkAbove: 1223.15, Reheat: sim.Stage{Until: sim.UntilCore, Temperature: 1373.15}}
	j.Harden = &sim.Harden{Austenitise: 1103.15, Soak: 300, Temper: []sim.TemperStep{{Temperature: 473.15, Time: 7200}}}
	j.Blade = &sim.Blade{Spine: 0.003, TipSpine: 0.0015, Height: 0.030, Length: 0.120, Edge: 0.0003,
		Grind: sim.Bevel{Height: 0.028}, CoreLine: 0.008, EdgeFromSide: 0.003}
	return j
}

func madeSoak() *sim.Soak {
	yes := func(v float64) sim.Maybe { return sim.Maybe{Value: v, OK: true} }
	return &sim.Soak{
		Stages: []sim.StageEnd{{In: sim.InForge, End: 700, Reached: true, Skin: 1450, Core: 1430, ColdestJoint: 1425, HasJoints: true}},
		Answers: sim.SoakAnswers{PullForFlux: yes(150), SkinAtWeld: yes(400), JointsAtWeld: yes(580), CoreAtWeld: yes(590),
			Soak: yes(700), Overheats: yes(1500), OverheatsLayer: 1, Window: yes(800)},
		Milestones:    []sim.Milestone{{Name: "skin at welding heat", Time: 400, Skin: 1423, Core: 1300, ColdestJoint: 1310}},
		CeilingJoints: 1500, Reaches: true,
		Ranges: &sim.SoakRanges{Soak: sim.Range{Low: 540, High: 900, OK: true}, Widest: "the forge reading", Share: 0.6,
			Causes: []sim.RangeCause{{What: "the forge reading", Low: 600, High: 800}}},
		Limits: []sim.LayerLimit{{Layer: 0, Material: "1018", Limit: 1700, Solidus: 1750}, {Layer: 1, Material: "80CrV2", Limit: 1600, Solidus: 1650}},
	}
}

// madeWork is a bar pressed in so many heats of so many passes.
func madeWork(heats, each int) *sim.Work {
	size := sim.Sizes{Thickness: 0.027, Width: 0.040, Length: 0.140}
	w := &sim.Work{Start: size, Can: true, Heats: heats}
	for h := range heats {
		w.HeatTimes = append(w.HeatTimes, 200+float64(h)*15)
		for range each {
			after := size
			after.Thickness *= 0.95
			after.Length /= 0.95
			p := sim.PassDone{Number: len(w.Passes) + 1, Heat: h + 1, DownA: h%2 == 1, Before: size, After: after,
				StopHot: after.Thickness * 1.015, Temperature: 1350, Force: 1.2e5, Within: true, Bite: 0.03, Bites: 6,
				Offset: 0.0001, Welded: min(1, 0.4*float64(len(w.Passes)+1)), LimitedBy: "the press"}
			w.Passes = append(w.Passes, p)
			size = after
		}
	}
	w.Final = sim.BarEnd{Sizes: size, Offset: 0.0001, OffsetRange: [2]float64{0.00005, 0.0002}}
	w.Causes = []sim.Cause{{Name: sim.Temperature, Offset: 0.00008}, {Name: sim.Slip, Offset: 0.00002}}
	w.Flips = []sim.Flipped{{Habit: sim.FlipNever, Offset: 0.0004}, {Habit: sim.FlipEveryHeat, Offset: 0.0001, IsCurrent: true}}
	for i := range w.Flips {
		w.Flips[i].ByPass = make([]float64, len(w.Passes))
	}
	w.Remedies = []sim.Remedy{{What: "warm the dies to 250 °C", Offset: 0.00003, Effort: 2}}
	w.Sections = []sim.EndView{madeView(size)}
	w.Odds = &sim.Odds{Draws: 100, Seed: 3, Offset: [3]float64{-0.0001, 0.0001, 0.0003}, Outside: 0.02, HasEdge: true, Shares: []float64{0.1, 0.6, 0.1, 0.1, 0.05, 0.05}}
	return w
}

// madeView is the end view of a bar of three even layers.
func madeView(s sim.Sizes) sim.EndView {
	var v sim.EndView
	for i := range 3 {
		line := func(k int) []layers.Point {
			z := s.Thickness * float64(k) / 3
			return []layers.Point{{Y: -s.Width / 2, Z: z}, {Y: 0, Z: z}, {Y: s.Width / 2, Z: z}}
		}
		v.Layers = append(v.Layers, sim.LayerOutline{Material: "1018", Core: i == 1, Lower: line(i), Upper: line(i + 1)})
	}
	return v
}

// madeResult is a result with every part.
func madeResult(t *testing.T, heats, each int) *sim.Result {
	t.Helper()
	j := madeJob()
	r := &sim.Result{Job: j, Soak: madeSoak(), Work: madeWork(heats, each),
		Assumed:  []string{"Scale is good to a factor of two."},
		Warnings: []string{"Pass 2: the bar is thin."},
		Cautions: []string{"Face shield & leather; bystanders back.", "A CO alarm with a display in the room."},
		Colours:  []sim.HeatColour{{Name: "cherry", From: 1088, To: 1143}, {Name: "orange", From: 1200, To: 1365}, {Name: "yellow", From: 1366, To: 1531}},
	}
	r.Losses = &sim.Lost{Heats: []sim.HeatLoss{{Number: 1, ScaleA: 1e-4, ScaleB: 1e-4, MassShare: 0.012, Decarb: 2e-4, Grain: 8e-5}}, CarbonAtEdge: 0.78, Transition: 4e-4}
	r.Stock = &sim.StockCut{Pieces: []sim.Piece{{Material: "1018", Thickness: 0.009, Width: 0.04, Length: 0.14, Count: 2}}, Within: true, Blades: 1,
		Losses: []sim.LossStep{{Step: "stack", Mass: 1.2}, {Step: "scale in the fire", Mass: 1.15, Share: 0.04}}, Bar: r.Work.Final.Sizes}
	r.Day = &sim.Day{Heats: heats, Forge: 3000, Preheat: 900, Work: 200, Energy: 9e6}
	r.Lesson = &sim.Lesson{Scenes: []sim.Scene{{Title: "Cold lower side", Why: "It stays thick."}}}
	r.Ground = madeGround(t, j, 0.0045)
	r.Hardened = madeHardened()
	return r
}

// madeHardened is a heat treatment of a core that hardens between jackets that
// don't.
func madeHardened() *sim.Hardened {
	no := metal.Point{TempK: math.NaN()}
	h := &sim.Hardened{Critical: metal.Critical{Ac1: metal.Point{TempK: 1008.15}, Ac3: metal.Point{TempK: 1038.15}, Acm: no, Ms: metal.Point{TempK: 493.15}},
		Heat: 1103.15, Advised: math.NaN(), CarbonAtEdge: 0.78, AsQuenched: metal.Hardness{HRC: 64.8, Within: 1.2}, Tempered: metal.Hardness{HRC: 60.4, Within: 1.5},
		Through: true, TemperColour: "straw", Cycles: []metal.Cycle{{TempK: 1153.15, HoldS: 300, Why: "To even out the carbon."}},
		Risks: []metal.Risk{{Text: "Watch the ricasso."}}, Bow: 0.002, Warp: metal.Warp{Convex: "B", Why: "Side A's jacket is thicker."},
		Curve: sim.TemperCurve{TempK: []float64{423.15, 473.15}, HRC: []float64{62, 60}}, Quenchant: metal.Quenchant{Name: "fast oil", BathK: 323.15}}
	core := sim.HardenedLayer{Material: "80CrV2", Carbon: 0.78, Hardened: metal.Hardened{AsQuenched: h.AsQuenched, Tempered: h.Tempered}}
	soft := sim.HardenedLayer{Material: "1018", Carbon: 0.18, Hardened: metal.Hardened{AsQuenched: metal.Hardness{HRC: 8}, Tempered: metal.Hardness{HRC: math.NaN()}}}
	h.Places = []sim.HardenPlace{{Place: "edge", Thickness: 0.0003, Layers: []sim.HardenedLayer{core}}, {Place: "spine", Thickness: 0.003, Layers: []sim.HardenedLayer{soft, core, soft}}}
	return h
}

// madeGround is the job's blade ground from an even bar of a thickness.
func madeGround(t *testing.T, j *sim.Job, thick float64) *sim.Bevelled {
	t.Helper()
	bar := blade.Even(0.040, 0.200, []float64{thick * 0.35, thick * 0.3, thick * 0.35}, 1)
	g := &sim.Bevelled{Bar: bar, Ask: blade.Ask{Clean: 0.0003, CoreLine: 0.008}, Habits: blade.Practice()}
	b := j.Blade
	g.Blade = blade.Blade{Spine: b.Spine, TipSpine: b.TipSpine, Height: b.Height, Length: b.Length, Edge: b.Edge, Grind: blade.Grind{Height: b.Grind.Height}}
	g.Place = bar.Middle(b.Length, b.EdgeFromSide, true)
	var err error
	if g.Answer, err = blade.Cut(bar, g.Blade, g.Place, g.Ask); err != nil {
		t.Fatal(err)
	}
	return g
}

// cases are results that both pages must stand up to.
func cases(t *testing.T) map[string]*sim.Result {
	all := func() *sim.Result { return madeResult(t, 4, 3) }
	out := map[string]*sim.Result{"all": all(), "long": madeResult(t, 8, 3), "too long": madeResult(t, 20, 3), "nothing": {Job: &sim.Job{}}}
	inch := all()
	inch.Job.Units = sim.Inch
	out["inch"] = inch
	for name, part := range map[string]func(r *sim.Result){
		"soak": func(r *sim.Result) { r.Soak = madeSoak() }, "work": func(r *sim.Result) { r.Work = madeWork(3, 2) },
		"ground": func(r *sim.Result) { r.Ground = madeGround(t, r.Job, 0.0045) }, "empty soak": func(r *sim.Result) { r.Soak = &sim.Soak{} },
		"empty work": func(r *sim.Result) { r.Work = &sim.Work{} }, "empty losses": func(r *sim.Result) { r.Losses = &sim.Lost{} },
		"empty ground": func(r *sim.Result) { r.Ground = &sim.Bevelled{} }, "empty stock": func(r *sim.Result) { r.Stock = &sim.StockCut{} },
		"empty hardened": func(r *sim.Result) { r.Hardened = &sim.Hardened{} }, "empty lesson": func(r *sim.Result) { r.Lesson = &sim.Lesson{} },
		"empty day": func(r *sim.Result) { r.Day = &sim.Day{} },
	} {
		r := &sim.Result{Job: madeJob()}
		part(r)
		out["only "+name] = r
	}
	no := all()
	no.Soak.Answers = sim.SoakAnswers{PullForFlux: sim.Maybe{Value: 200, OK: true}}
	no.Soak.Reaches, no.Soak.CeilingJoints, no.Soak.Advice = false, 1390, []string{"Raise it off the brick."}
	no.Work.Can, no.Work.Passes[4].Within = false, false
	no.Work.Passes[4].Warnings = []string{"red stop: 97 % of the ram; stay below 80 %"}
	no.Hardened.Through = false
	no.Hardened.Risks = []metal.Risk{{Stop: true, Text: "300-series cladding on a full-thick ricasso splits."}}
	no.Ground = madeGround(t, no.Job, 0.0028)
	out["no"] = no
	cold := all()
	for i := range cold.Work.Passes {
		cold.Work.Passes[i].Heat = 0
	}
	cold.Work.Passes[3].Tool, cold.Work.Passes[5].Tool = sim.ByGrind, sim.ByRestack
	out["cold"] = cold
	many := all()
	many.Job.Stack.Layers = nil
	for i := range 41 {
		l := sim.Layer{Thickness: 0.001}
		l.Material.Name = []string{"1084", "15N20"}[i%2]
		many.Job.Stack.Layers = append(many.Job.Stack.Layers, l)
	}
	many.Job.Title = strings.Repeat("A title of quite unreasonable length ", 12)
	for i := range 60 {
		many.Warnings = append(many.Warnings, fmt.Sprintf("Warning %d: %s", i, strings.Repeat("words ", 20)))
	}
	out["many"] = many
	return out
}
