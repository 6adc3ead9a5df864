package plots

import (
	"math"

	"billet/sim"
)

// made describes a result put together for the tests. The numbers are made to
// be drawn, not to be right: each lags the one before it by its own time.
type made struct {
	title     string
	materials []string
	thickness float64 // m, of each layer
	width     float64 // m
	units     sim.Units
	wall      float64 // K, what the forge heats to
	tau       float64 // s, of the skin
	lag       float64 // s, of the core
	burn      float64 // K
	stages    []sim.Stage
	leave     float64 // s left in the forge after the stages
	dry       bool    // no section
}

const weldHeat = 1423.15 // K, 1150 °C

// threeStages are the stages of a job that names none.
func threeStages() []sim.Stage {
	return []sim.Stage{
		{In: sim.InForge, Until: sim.UntilSkin, Temperature: 973.15},
		{In: sim.InAir, Until: sim.UntilTime, Time: 60},
		{In: sim.InForge, Until: sim.UntilJoints, Temperature: weldHeat, Hold: 120},
	}
}

// usual is a three-layer stack in a good forge.
func usual() made {
	return made{
		title: "Boning knife, three layers", materials: []string{"1018", "80CrV2", "1018"},
		thickness: 0.0093, width: 0.040, wall: 1573.15, tau: 150, lag: 45, burn: 1523.15,
		stages: threeStages(),
	}
}

// cases are the results every picture must stand up to.
func cases() map[string]made {
	fast := usual()
	fast.thickness, fast.tau, fast.lag = 0.001, 14, 0.4
	slow := usual()
	slow.thickness, slow.tau, slow.lag, slow.wall = 0.03, 1500, 700, 1478.15
	never := usual()
	never.wall = 1373.15
	single := usual()
	single.title, single.materials, single.thickness = "", []string{"1095"}, 0.025
	inch := usual()
	inch.units, inch.thickness, inch.width = sim.Inch, 0.00635, 0.0381
	many := usual()
	many.title = "Pattern stack that somebody gave a title of quite unreasonable length, since nothing said they could not"
	many.materials, many.thickness, many.width = nil, 0.00125, 0.038
	for i := range 41 {
		many.materials = append(many.materials, []string{"1084", "15N20"}[i%2])
	}
	hot := usual()
	hot.wall, hot.burn, hot.lag = 1723.15, weldHeat+8, 120
	odd := usual()
	odd.materials = []string{"wrought iron from the old bridge", "80CrV2 bought as offcuts", "0.2 nickel", "a"}
	odd.stages = append([]sim.Stage{{In: sim.InAir, Time: 20}}, many9()...)
	left := usual()
	left.leave, left.stages = 900, left.stages[:2]
	late := usual()
	late.leave, late.burn, late.wall = 4000, 1572.15, 1573.15
	dry := usual()
	dry.dry = true
	return map[string]made{"usual": usual(), "fast": fast, "slow": slow, "never": never,
		"one layer": single, "inch": inch, "41 layers": many, "burns first": hot, "odd": odd, "no section": dry, "stages end early": left, "burns late": late}
}

// many9 are nine short turns in and out of the forge and then the usual ones.
func many9() []sim.Stage {
	var s []sim.Stage
	for range 5 {
		s = append(s, sim.Stage{In: sim.InForge, Time: 40}, sim.Stage{In: sim.InAir, Time: 15})
	}
	return append(s, threeStages()...)
}

// trace runs the made-up billet.
type trace struct {
	m                 made
	t                 float64
	skin, joint, core float64
	r                 *sim.Result
}

// result makes the result.
func (m made) result() *sim.Result {
	job := &sim.Job{Title: m.title, Units: m.units}
	job.Stack = sim.Stack{Width: m.width, Length: 0.14, Start: 293.15}
	for i, name := range m.materials {
		l := sim.Layer{Thickness: m.thickness, Core: i == len(m.materials)/2}
		l.Material.Name = name
		job.Stack.Layers = append(job.Stack.Layers, l)
	}
	job.Weld = sim.Weld{Heat: weldHeat, Flux: 973.15, Hold: 120}
	job.Heats = m.stages
	tr := trace{m: m, skin: 293.15, joint: 293.15, core: 293.15,
		r: &sim.Result{Job: job, Soak: &sim.Soak{}, Colours: madeColours()}}
	for i := range m.materials {
		tr.r.Soak.Limits = append(tr.r.Soak.Limits, sim.LayerLimit{Layer: i, Material: m.materials[i],
			Limit: m.burn + 80*math.Abs(float64(i-len(m.materials)/2)), Solidus: m.burn + 120})
	}
	tr.sample()
	for _, st := range m.stages {
		tr.stage(st)
	}
	tr.runOn()
	tr.answers()
	return tr.r
}

// madeColours are colour names of the tests' own.
func madeColours() []sim.HeatColour {
	var out []sim.HeatColour
	for i, name := range []string{"black red", "dark red", "cherry", "bright cherry", "orange", "yellow", "white yellow", "white"} {
		from := 700 + 120*float64(i)
		out = append(out, sim.HeatColour{Name: name, From: from, To: from + 119})
	}
	return out
}

func (tr *trace) sample() {
	h := &tr.r.Soak.History
	h.Time = append(h.Time, tr.t)
	h.Skin = append(h.Skin, tr.skin)
	h.Core = append(h.Core, tr.core)
	if len(tr.m.materials) > 1 {
		h.ColdestJoint = append(h.ColdestJoint, tr.joint)
	}
}

// step is the time step of the made-up billet, s.
func (tr *trace) step() float64 { return math.Min(1, tr.m.lag/4) }

func (tr *trace) advance(place sim.Place) {
	dt, to, tau := tr.step(), tr.m.wall, tr.m.tau
	if place == sim.InAir {
		to, tau = 293.15, 3*tau
	}
	skin, core := tr.skin, tr.core
	tr.skin += dt * (to - skin) / tau
	tr.core += dt * (skin - core) / tr.m.lag
	tr.joint = 0.45*tr.skin + 0.55*tr.core
	if tr.core > tr.joint {
		tr.joint = tr.core - 1
	}
	tr.t += dt
	s := tr.r.Soak
	for _, e := range []struct {
		name  string
		over  bool
		maybe *sim.Maybe
	}{
		{"pull for flux", tr.skin >= 973.15, &s.Answers.PullForFlux},
		{"skin at welding heat", tr.skin >= weldHeat, &s.Answers.SkinAtWeld},
		{"joints at welding heat", len(tr.m.materials) > 1 && tr.joint >= weldHeat, &s.Answers.JointsAtWeld},
		{"core at welding heat", tr.core >= weldHeat, &s.Answers.CoreAtWeld},
		{"overheats", tr.skin >= tr.m.burn, &s.Answers.Overheats},
	} {
		if e.over && !e.maybe.OK {
			*e.maybe = sim.Maybe{Value: tr.t, OK: true}
			tr.mark(e.name, tr.t)
			if e.maybe == &s.Answers.SkinAtWeld {
				tr.section()
			}
		}
	}
	tr.sample()
}

// runOn leaves the billet in the forge for the time the case asks.
func (tr *trace) runOn() {
	h := &tr.r.Soak.History
	n := len(h.Time)
	for end := tr.t + tr.m.leave; tr.t < end; {
		tr.advance(sim.InForge)
	}
	o := &tr.r.Soak.RunOn
	o.Time, h.Time = h.Time[n:], h.Time[:n:n]
	o.Skin, h.Skin = h.Skin[n:], h.Skin[:n:n]
	o.Core, h.Core = h.Core[n:], h.Core[:n:n]
	if len(h.ColdestJoint) > 0 {
		o.ColdestJoint, h.ColdestJoint = h.ColdestJoint[n:], h.ColdestJoint[:n:n]
	}
}

func (tr *trace) mark(name string, t float64) {
	tr.r.Soak.Milestones = append(tr.r.Soak.Milestones,
		sim.Milestone{Name: name, Time: t, Skin: tr.skin, Core: tr.core, ColdestJoint: tr.joint})
}

// stage runs one stage, at most an hour.
func (tr *trace) stage(st sim.Stage) {
	start, held := tr.t, 0.0
	met := func() bool {
		switch st.Until {
		case sim.UntilSkin:
			return tr.skin >= st.Temperature
		case sim.UntilJoints:
			if len(tr.m.materials) > 1 {
				return tr.joint >= st.Temperature
			}
			return tr.core >= st.Temperature
		default:
			return tr.t-start >= st.Time
		}
	}
	for !met() && tr.t-start < 3600*3 {
		tr.advance(st.In)
	}
	reached := met()
	for ; reached && held < st.Hold; held += tr.step() {
		tr.advance(st.In)
	}
	tr.r.Soak.Stages = append(tr.r.Soak.Stages, sim.StageEnd{In: st.In, Start: start, End: tr.t, Reached: reached,
		Skin: tr.skin, Core: tr.core, ColdestJoint: tr.joint, HasJoints: len(tr.m.materials) > 1,
		Hottest: tr.skin, Coldest: tr.core, Profile: tr.profile()})
}

// at is the temperature at the share z of the height and y of the width.
func (tr *trace) at(y, z float64) float64 {
	d := math.Max(math.Abs(2*z-1.1), math.Abs(2*y-1))
	return tr.core + (tr.skin-tr.core)*math.Min(1, d*d)
}

// profile has five places in each layer, with a jump between layers.
func (tr *trace) profile() sim.Profile {
	var p sim.Profile
	n := len(tr.m.materials)
	for i := range n {
		for j := range 5 {
			z := (float64(i) + float64(j)/4) / float64(n)
			jump := 0.02 * (tr.skin - tr.core) * (math.Abs(float64(i)-float64(n-1)/2) - 1)
			p.Z = append(p.Z, z*float64(n)*tr.m.thickness)
			p.Temperature = append(p.Temperature, tr.at(0.5, z)+jump)
		}
	}
	return p
}

func (tr *trace) section() {
	if tr.m.dry {
		return
	}
	p := tr.profile()
	s := sim.Section{Time: tr.t, Z: p.Z, ColdT: tr.core}
	for i := range 21 {
		s.Y = append(s.Y, tr.m.width*float64(i)/20)
	}
	thick := p.Z[len(p.Z)-1]
	for _, z := range s.Z {
		row := make([]float64, len(s.Y))
		for i := range row {
			row[i] = tr.at(float64(i)/20, z/thick)
		}
		s.Temperature = append(s.Temperature, row)
	}
	for i := range len(tr.m.materials) + 1 {
		s.Layers = append(s.Layers, float64(i)*tr.m.thickness)
	}
	s.Cold = [2]float64{tr.m.width / 2, 0.55 * thick}
	tr.r.Soak.Section = s
}

// answers completes the answers, counted from first entering the forge.
func (tr *trace) answers() {
	s := tr.r.Soak
	if len(s.Section.Temperature) == 0 {
		tr.section()
	}
	a := &s.Answers
	if a.JointsAtWeld.OK {
		a.Lag = sim.Maybe{Value: a.JointsAtWeld.Value - a.SkinAtWeld.Value, OK: true}
	}
	ready := a.JointsAtWeld
	if len(tr.m.materials) == 1 {
		ready = a.CoreAtWeld
	}
	if ready.OK {
		a.Soak = sim.Maybe{Value: ready.Value + 120, OK: true}
	}
	if a.Overheats.OK {
		a.OverheatsAt = "layer 2, 80CrV2"
	}
	start := enters(s)
	for _, m := range []*sim.Maybe{&a.SkinAtWeld, &a.JointsAtWeld, &a.CoreAtWeld, &a.PullForFlux, &a.Overheats, &a.Soak} {
		m.Value -= start
	}
	s.Reaches = a.JointsAtWeld.OK
	s.CeilingJoints = tr.joint
}
