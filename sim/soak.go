package sim

import (
	"context"
	"fmt"
	"math"

	"billet/sim/heat"
)

// Options set how a job is worked out.
type Options struct {
	Accuracy float64 // K; 0 means 0.5
	// Dims is 1, 2 or 3 directions of heat flow; 0 means 3, but 2 for stacks
	// of very many loose layers.
	Dims int
	// Ranges asks for the range of every answer, Sweeps for the four causes
	// of a cold core swept one by one.
	Ranges, Sweeps bool
	// Draws is the number of days to draw for the odds; 0 none. Seed makes
	// them the same every time.
	Draws int
	Seed  int64
	// Progress, if set, is told the share done and of what.
	Progress func(done float64, what string)
}

func (o Options) accuracy() float64 {
	if o.Accuracy == 0 {
		return 0.5
	}
	return o.Accuracy
}

func (o Options) dims() int {
	if o.Dims == 0 {
		return 3
	}
	return o.Dims
}

// heatBody is the stack as the heat model sees it.
func heatBody(j *Job, dims int) heat.Body {
	b := heat.Body{Width: j.Stack.Width, Length: j.Stack.Length, Dims: dims, CoreAt: j.Stack.CoreAt()}
	for _, l := range j.Stack.Layers {
		b.Layers = append(b.Layers, heat.Layer{Material: l.Material, Thickness: l.Thickness, Joint: l.Joint})
	}
	return b
}

// CoreAt is the height of the core's middle above side B, m: of the layer
// marked, of the middle one of several marked, of the stack if none is.
func (s Stack) CoreAt() float64 {
	if k, ok := s.CoreLayer(); ok {
		at := s.Layers[k].Thickness / 2
		for _, l := range s.Layers[:k] {
			at += l.Thickness
		}
		return at
	}
	return s.Thickness() / 2
}

// CoreLayer is the layer marked as core, the middle one of several. ok is
// false where none is marked.
func (s Stack) CoreLayer() (k int, ok bool) {
	var marked []int
	for i, l := range s.Layers {
		if l.Core {
			marked = append(marked, i)
		}
	}
	if len(marked) == 0 {
		return 0, false
	}
	return marked[len(marked)/2], true
}

// Thickness is that of the whole stack, m.
func (s Stack) Thickness() float64 {
	var t float64
	for _, l := range s.Layers {
		t += l.Thickness
	}
	return t
}

// surroundings is what the six faces see in a place.
func (j *Job) surroundings(p Place) heat.Surroundings {
	var s heat.Surroundings
	for f := range s {
		if p == InAir {
			s[f] = j.Air
		} else {
			s[f] = j.Forge.Surround(Face(f))
		}
	}
	return s
}

func heatStage(j *Job, st Stage) heat.Stage {
	end := heat.End{Temperature: st.Temperature, Hold: st.Hold}
	switch st.Until {
	case UntilTime:
		end.Timed, end.Time = true, st.Time
	case UntilSkin:
		end.On = heat.Skin
	case UntilCore:
		end.On = heat.Core
	case UntilJoints:
		end.On = heat.ColdestJoint
	}
	return heat.Stage{In: j.surroundings(st.In), End: end, Coil: j.coil(st.In)}
}

// coilShare is the share of an induction heater's power that ends in the
// billet (assumed; 0.5 to 0.8 with a coil that fits).
const coilShare = 0.6

// coil is the induction coil in the forge; nil elsewhere.
func (j *Job) coil(p Place) *heat.Induction {
	if p != InForge || j.Forge.Kind != Induction {
		return nil
	}
	return &heat.Induction{Power: coilShare * j.Forge.Power, Frequency: j.Forge.Frequency}
}

// soakRun is one run of a job's heats on one grid.
type soakRun struct {
	job                            *Job
	field                          *heat.Field
	mon                            heat.Monitor
	soak                           *Soak
	forge                          float64 // s, first time in the forge
	inside                         bool    // it has been in the forge
	skin, joints, core, flux, over *heat.Watch
	overLayer                      int
}

// runSoak runs the heats once at the given accuracy, on a grid coarser by a
// factor.
func runSoak(ctx context.Context, j *Job, dims int, accuracyK, coarser float64) (*soakRun, error) {
	all := []heat.Surroundings{j.surroundings(InForge)}
	for _, st := range j.Heats {
		if st.In == InAir {
			all = append(all, j.surroundings(InAir))
			break
		}
	}
	f, err := heat.New(heatBody(j, dims), j.Stack.Start, heat.Options{Accuracy: accuracyK, All: all, Coarser: coarser})
	if err != nil {
		return nil, err
	}
	r := &soakRun{job: j, field: f, soak: &Soak{Limits: limits(j)}}
	r.watchFor()
	for _, st := range j.Heats {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := r.stage(st); err != nil {
			return nil, err
		}
	}
	r.balance()
	r.soak.Grid = GridInfo{Dims: dims, Cells: f.Cells(), Steps: f.Steps}
	if err := r.runOn(ctx); err != nil {
		return nil, err
	}
	r.answer()
	return r, nil
}

// limits is where each layer burns or melts.
func limits(j *Job) []LayerLimit {
	var out []LayerLimit
	for i, l := range j.Stack.Layers {
		out = append(out, LayerLimit{Layer: i, Material: l.Material.Name, Limit: l.Material.BurnLimit(), Solidus: l.Material.Solidus})
	}
	return out
}

// watchFor sets up the moments to look out for.
func (r *soakRun) watchFor() {
	weld := r.job.Weld
	mark := func(name string, on heat.Reading, t float64) *heat.Watch {
		w := &heat.Watch{On: on, Temperature: t}
		w.Do = func(f *heat.Field) { r.milestone(name, w.Time) }
		return w
	}
	r.flux = mark("pull for flux", heat.Skin, weld.Flux)
	r.skin = mark("skin at welding heat", heat.Skin, weld.Heat)
	r.core = mark("core at welding heat", heat.Core, weld.Heat)
	r.joints = mark("joints at welding heat", heat.ColdestJoint, weld.Heat)
	r.over = mark("overheats", heat.OverLimit, 0)
	done := r.skin.Do
	r.skin.Do = func(f *heat.Field) {
		done(f)
		r.section(r.skin.Time)
	}
	over := r.over.Do
	r.over.Do = func(f *heat.Field) {
		over(f)
		r.overLayer = f.OverLayer()
	}
	r.mon = heat.Monitor{Watches: []*heat.Watch{r.flux, r.skin, r.core, r.over}, Record: &heat.History{}}
	if len(r.job.Stack.Layers) > 1 {
		r.mon.Watches = append(r.mon.Watches, r.joints)
	}
	for _, l := range r.soak.Limits {
		r.mon.Limits = append(r.mon.Limits, l.Limit)
	}
}

func (r *soakRun) milestone(name string, t float64) {
	m := Milestone{Name: name, Time: t, Skin: r.field.ReadAt(heat.Skin, t), Core: r.field.ReadAt(heat.Core, t),
		ColdestJoint: r.field.ReadAt(heat.ColdestJoint, t)}
	r.soak.Milestones = append(r.soak.Milestones, m)
}

// section keeps the section at mid length as it stands at t.
func (r *soakRun) section(t float64) {
	s := r.field.SectionAt(t)
	out := Section{Time: t, Y: s.Y, Z: s.Z, Temperature: s.Temperature, ColdT: math.Inf(1)}
	at := 0.0
	out.Layers = append(out.Layers, 0)
	for _, l := range r.job.Stack.Layers {
		at += l.Thickness
		out.Layers = append(out.Layers, at)
	}
	for k, row := range s.Temperature {
		for i, v := range row {
			if v < out.ColdT-1e-9 {
				out.ColdT, out.Cold = v, [2]float64{s.Y[i], s.Z[k]}
			}
		}
	}
	r.soak.Section = out
}

// stage runs one stage and notes how it ended.
func (r *soakRun) stage(st Stage) error {
	f := r.field
	begin := f.Time()
	if st.In == InForge && !r.inside {
		r.forge, r.inside = begin, true
	}
	reached, err := f.Run(heatStage(r.job, st), &r.mon)
	if err != nil {
		return err
	}
	e := StageEnd{In: st.In, Start: begin, End: f.Time(), Reached: reached,
		Skin: f.Read(heat.Skin), Core: f.Read(heat.Core), ColdestJoint: f.Read(heat.ColdestJoint),
		HasJoints: len(r.job.Stack.Layers) > 1}
	e.Hottest, e.Coldest = f.Extremes()
	e.Faces, e.FaceIs = f.Faces()
	e.Profile.Z, e.Profile.Temperature = f.Profile()
	r.soak.Stages = append(r.soak.Stages, e)
	return nil
}

func (r *soakRun) balance() {
	stored, through := r.field.Energy()
	r.soak.Energy = Energy{TakenUp: stored, ThroughFaces: through}
	if stored != 0 {
		r.soak.Energy.Imbalance = math.Abs(stored-through) / math.Abs(stored)
	}
	h := r.mon.Record
	r.soak.History = History{Time: h.Time, Skin: h.Skin, Core: h.Core}
	if len(r.job.Stack.Layers) > 1 {
		r.soak.History.ColdestJoint = h.ColdestJoint
	}
}

// runOn stays on in the last forge until all that is waited for has come, or
// nothing changes any more.
func (r *soakRun) runOn(ctx context.Context) error {
	if !r.inside {
		return nil
	}
	r.mon.Record = &heat.History{}
	in := r.job.surroundings(InForge)
	for _, w := range r.mon.Watches {
		if w.Reached {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		reached, err := r.field.Run(heat.Stage{In: in, End: heat.End{On: w.On, Temperature: w.Temperature}, Coil: r.job.coil(InForge)}, &r.mon)
		if err != nil {
			return err
		}
		if !reached && r.field.Steady() {
			break
		}
	}
	h := r.mon.Record
	r.soak.RunOn = History{Time: h.Time, Skin: h.Skin, Core: h.Core}
	if len(r.job.Stack.Layers) > 1 {
		r.soak.RunOn.ColdestJoint = h.ColdestJoint
	}
	return nil
}

// answer works the watches into the answers.
func (r *soakRun) answer() {
	at := func(w *heat.Watch) Maybe {
		if !w.Reached || !r.inside {
			return Maybe{}
		}
		return Maybe{Value: w.Time - r.forge, OK: true}
	}
	a := SoakAnswers{SkinAtWeld: at(r.skin), CoreAtWeld: at(r.core), PullForFlux: at(r.flux), Overheats: at(r.over)}
	ready := a.CoreAtWeld
	if len(r.job.Stack.Layers) > 1 {
		a.JointsAtWeld = at(r.joints)
		a.Lag = minus(a.JointsAtWeld, a.SkinAtWeld)
		ready = a.JointsAtWeld
	}
	if ready.OK {
		a.Soak = Maybe{Value: ready.Value + r.job.Weld.Hold, OK: true}
	}
	a.Window = minus(a.Overheats, a.Soak)
	if a.Overheats.OK {
		l := r.soak.Limits[r.overLayer]
		a.OverheatsLayer = r.overLayer
		a.OverheatsAt = fmt.Sprintf("layer %d, %s", l.Layer+1, l.Material)
	}
	r.soak.Answers = a
	r.soak.Reaches = ready.OK
	r.soak.CeilingJoints = r.field.Read(heat.ColdestJoint)
	if r.soak.Section.Temperature == nil {
		r.section(r.field.Time())
	}
}

func minus(a, b Maybe) Maybe {
	if !a.OK || !b.OK {
		return Maybe{}
	}
	return Maybe{Value: a.Value - b.Value, OK: true}
}
