package sim

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"

	"billet/layers"
	"billet/sim/heat"
	"billet/sim/steel"
)

// worker takes the bar through heats and passes.
type worker struct {
	ctx       context.Context
	job       *Job
	st        []*station
	out       *Work
	list      []Pass        // as given or planned
	flow      *layers.Field // of the last squeeze at mid length, for pictures
	corrected map[int]bool  // rows of measured that were taken over
	scaledTo  int           // events of the track whose scale has been taken off
	all       []heat.Surroundings
	cold      bool // every pass prescribes its temperature: no heats

	heats   int
	downA   bool
	left    float64 // s since it left the fire or since the last pass began
	script  []move
	parts   parting // as the bar was last in the fire
	current *PassDone
	spread  [2]float64 // m, what the range of the corrections adds to the offset
	wave    float64    // share of the thickness that long dies may leave as a wave
}

// runWork takes the job's bar through the passes.
func runWork(ctx context.Context, j *Job, passes []Pass) (*worker, error) {
	w, err := startWork(ctx, j, passes)
	if err != nil {
		return nil, err
	}
	for _, p := range passes {
		for range max(1, p.Repeat) {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if err := w.pass(p); err != nil {
				return nil, err
			}
		}
	}
	if err := w.correct(); err != nil {
		return nil, err
	}
	w.final()
	return w, nil
}

// startWork lays up the bar, cold, for passes of these kinds.
func startWork(ctx context.Context, j *Job, passes []Pass) (*worker, error) {
	w := &worker{ctx: ctx, job: j, out: &Work{Can: true}, corrected: map[int]bool{}, cold: len(passes) > 0 && allPrescribed(passes)}
	n := stationCount
	if w.cold {
		n = 1
	}
	for i := range n {
		s, err := newStack(j, changes{})
		if err != nil {
			return nil, err
		}
		w.st = append(w.st, &station{byHandle: n > 1 && atHandle(j, i, n), at: (float64(i) + 0.5) / float64(n), stack: s, set: startSetting(j)})
	}
	if !w.cold {
		w.middle().track = newTrack(j)
		w.surroundings(passes)
		if err := w.freshFields(j.Stack.Start); err != nil {
			return nil, err
		}
	}
	w.out.Start = w.sizes()
	w.out.Before = w.layerSizes()
	w.view(0, nil)
	return w, nil
}

// allPrescribed says that no pass needs a heat.
func allPrescribed(passes []Pass) bool {
	for _, p := range passes {
		if p.Tool != ByGrind && p.Tool != ByRestack && p.Temperature == nil && p.TemperatureA == nil {
			return false
		}
	}
	return true
}

// surroundings lists what the bar will see, so that the heat model knows which
// symmetry it may use.
func (w *worker) surroundings(passes []Pass) {
	j := w.job
	w.all = []heat.Surroundings{j.surroundings(InForge), j.surroundings(InAir), w.resting(300, false)}
	for _, p := range passes {
		if p.Edge {
			w.all = append(w.all, w.resting(300, true))
			break
		}
	}
}

// resting is lying on the lower tool at a temperature: the lower long side
// touches it, the rest is in air.
func (w *worker) resting(dieK float64, edge bool) heat.Surroundings {
	s := w.job.surroundings(InAir)
	s[w.lower(edge)] = heat.Surround{Gas: heat.Constant(dieK), Film: restConductance}
	return s
}

// lower is the face that lies on the lower tool.
func (w *worker) lower(edge bool) Face {
	switch {
	case edge:
		return Left
	case w.downA:
		return Top
	}
	return Bottom
}

func opposite(f Face) Face { return f ^ 1 }

func (w *worker) freshFields(startK float64) error {
	for _, s := range w.st {
		if err := s.newField(w.job, startK, w.all); err != nil {
			return err
		}
	}
	return nil
}

// pass does one pass, with a heat before it where one is due.
func (w *worker) pass(p Pass) error {
	d := PassDone{Number: len(w.out.Passes) + 1, Tool: p.Tool, Edge: p.Edge, Within: true}
	w.current = &d
	switch p.Tool {
	case ByGrind, ByRestack:
		return w.coldWork(p)
	}
	if !w.cold {
		if err := w.heatIfDue(p); err != nil {
			return err
		}
	}
	w.flip(p)
	d.Heat, d.DownA, d.Before = w.heats, w.downA, w.sizes()
	to, err := w.target(p)
	if err != nil {
		return err
	}
	if err := w.squeezeAll(p, to); err != nil {
		return err
	}
	w.finish(p, to)
	return nil
}

// flip turns the bar as the pass or the habit says.
func (w *worker) flip(p Pass) {
	if p.DownA != nil {
		w.downA = *p.DownA
		return
	}
	if len(w.out.Passes) > 0 && !p.Edge && w.job.Handling.Flip == FlipEveryPass {
		w.downA = !w.downA
	}
}

// heatIfDue puts the bar back in the fire before the pass where it must.
func (w *worker) heatIfDue(p Pass) error {
	due := w.heats == 0
	switch {
	case p.Reheat != nil:
		due = due || *p.Reheat
	case !due:
		coldest := math.Inf(1)
		for _, s := range w.st {
			if !s.byHandle {
				coldest = min(coldest, s.field.Map().Mean())
			}
		}
		due = coldest < w.job.Handling.WorkAbove
	}
	if !due {
		return nil
	}
	return w.reheat(p.Soak)
}

// reheat is one heat: into the fire until the core is hot, and out again. longer
// is one more stage in the fire; nil: none.
func (w *worker) reheat(longer *Stage) error {
	stages := []Stage{w.job.Handling.Reheat}
	if !w.allWelded() {
		stages = w.job.Heats
		if w.heats > 0 {
			stages = stages[len(stages)-1:]
		}
	}
	if err := w.correct(); err != nil {
		return err
	}
	if w.heats > 0 && w.job.Handling.Flip == FlipEveryHeat {
		w.downA = !w.downA
	}
	w.heats++
	if longer != nil {
		stages = append(stages[:len(stages):len(stages)], *longer)
	}
	begin := w.middle().field.Time()
	if err := w.inFire(stages); err != nil {
		return err
	}
	took := w.middle().field.Time() - begin
	w.out.ForgeTime += took
	w.out.HeatTimes = append(w.out.HeatTimes, took)
	if err := w.scaled(); err != nil {
		return err
	}
	for _, s := range w.st {
		s.stack.Anneal()
		if s.track != nil {
			s.track.note(event{kind: heatEnded})
		}
	}
	w.handleDraws()
	w.script = append(w.script, move{kind: moveAnneal})
	w.left = w.job.Handling.Transfer
	return nil
}

// inFire takes the bar through the stages of a heat, part by part: while one is
// in the fire or under the tool the others hang in the air.
func (w *worker) inFire(stages []Stage) error {
	w.parts = w.divide()
	if others := float64(w.parts.count - 1); others > 0 && w.heats > 1 {
		turn, err := w.turn(stages)
		if err != nil {
			return err
		}
		err = w.each(func(i int, s *station) error {
			if w.parts.twice[i] {
				if err := s.waitIn(InForge, w.job.surroundings(InForge), turn); err != nil {
					return err
				}
			}
			return s.wait(w.job.surroundings(InAir), others*turn)
		})
		if err != nil {
			return err
		}
	}
	for _, st := range stages {
		if err := w.stage(st); err != nil {
			return err
		}
	}
	return nil
}

// turn is about how long a part is in the fire, s: the last station, from the
// temperature it has now.
func (w *worker) turn(stages []Stage) (float64, error) {
	s := w.st[len(w.st)-1].clone()
	begin := s.field.Time()
	for _, st := range stages {
		if _, err := s.run(heatStage(w.job, st), st.In); err != nil {
			return 0, err
		}
	}
	return s.field.Time() - begin, nil
}

func (w *worker) allWelded() bool { return w.welded() >= 1 }

// welded is how far the joint least on its way has come, anywhere along the bar.
func (w *worker) welded() float64 {
	least := 1.0
	for _, s := range w.st {
		if !s.byHandle { // that end is cut off
			least = math.Min(least, s.set.least())
		}
	}
	return least
}

// each does something to every station, several at a time: they don't touch each
// other. The error is that of the first station that has one.
func (w *worker) each(do func(i int, s *station) error) error {
	errs := make([]error, len(w.st))
	var wg sync.WaitGroup
	gate := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i, s := range w.st {
		wg.Add(1)
		gate <- struct{}{}
		go func() {
			defer wg.Done()
			errs[i] = do(i, s)
			<-gate
		}()
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// stage runs one stage for every station; the slowest sets the time.
func (w *worker) stage(st Stage) error {
	hs := heatStage(w.job, st)
	took := make([]float64, len(w.st))
	err := w.each(func(i int, s *station) error {
		begin := s.field.Time()
		_, err := s.run(hs, st.In)
		took[i] = s.field.Time() - begin
		return err
	})
	if err != nil {
		return err
	}
	longest := 0.0
	for _, t := range took {
		longest = max(longest, t)
	}
	const same = 1e-6 // s
	return w.each(func(i int, s *station) error {
		if longest-took[i] <= same {
			return nil
		}
		return s.waitIn(st.In, hs.In, longest-took[i])
	})
}

// wait lets a station be in surroundings outside the fire for a time, s.
func (s *station) wait(in heat.Surroundings, seconds float64) error {
	return s.waitIn(InAir, in, seconds)
}

func (s *station) waitIn(p Place, in heat.Surroundings, seconds float64) error {
	if s.field == nil || seconds <= 0 {
		return nil
	}
	_, err := s.run(heat.Stage{In: in, End: heat.End{Timed: true, Time: seconds}}, p)
	return err
}

// ErrPass says that a pass of the job would not make the bar less.
var ErrPass = errors.New("a pass must make it less")

// target is the height the pass stops at, m cold.
func (w *worker) target(p Pass) (float64, error) {
	now := w.sizes().Thickness
	what := "thick"
	if p.Edge {
		now, what = w.sizes().Width, "wide"
	}
	to := p.To
	switch {
	case p.Draft > 0:
		to = now - p.Draft
	case p.DraftShare > 0:
		to = now * (1 - p.DraftShare)
	}
	const rounding = 1e-9 // of the size
	if to <= 0 || to >= now*(1-rounding) {
		return 0, fmt.Errorf("pass %d: stops at %.2f mm; the bar is %.2f mm %s there, and %w", w.current.Number, to*1e3, now*1e3, what, ErrPass)
	}
	return to, nil
}

// squeezeAll does the pass at every station in turn, from the front.
func (w *worker) squeezeAll(p Pass, to float64) error {
	m := move{kind: moveSqueeze, pass: p, downA: w.downA, to: to, lay: w.laySide(p.Edge)}
	took := make([]float64, len(w.st))
	elapsed := w.left
	for i, s := range w.st {
		if w.parts.first(i) {
			elapsed = w.left
		}
		if err := w.cool(s, p, elapsed); err != nil {
			return err
		}
		temps := w.temperatures(s, p)
		w.note(i, temps)
		m.temps, m.joints = append(m.temps, temps), append(m.joints, jointsFor(s.set, p))
		o, err := m.do(w.job, s.stack, i, changes{})
		if err != nil {
			return fmt.Errorf("pass %d: %w", w.current.Number, err)
		}
		w.take(i, o)
		took[i] = passTime(p.Tool, o) / float64(len(w.st))
		if err := w.worked(s, p, o, temps, took[i]); err != nil {
			return err
		}
		elapsed += took[i]
		w.current.Seconds = math.Max(w.current.Seconds, elapsed)
	}
	w.current.Parts = w.parts.count
	w.script = append(w.script, m)
	return w.waitForLast(took)
}

// waitForLast cools the stations in air while those of their part after them are
// worked, s each.
func (w *worker) waitForLast(took []float64) error {
	if w.cold {
		return nil
	}
	air := w.job.surroundings(InAir)
	w.left = 0
	return w.each(func(i int, s *station) error {
		rest := 0.0
		for k := i + 1; k < len(w.st) && w.parts.of[k] == w.parts.of[i]; k++ {
			rest += took[k]
		}
		return s.wait(air, rest)
	})
}

func (w *worker) laySide(edge bool) layers.Side {
	switch {
	case edge:
		return layers.SideLeft
	case w.downA:
		return layers.SideA
	}
	return layers.SideB
}

// jointsFor is the joints for a pass: as they have set, or as the pass says.
func jointsFor(set setting, p Pass) []layers.Joint {
	out := set.joints()
	if p.Bond != nil {
		for i := range out {
			out[i] = layers.Joint{Welded: p.Bond.Welded, Friction: p.Bond.Factor}
		}
	}
	return out
}

// cool lets the station wait in air and then rest on the lower tool.
func (w *worker) cool(s *station, p Pass, elapsed float64) error {
	if s.field == nil {
		return nil
	}
	if err := s.wait(w.job.surroundings(InAir), elapsed); err != nil {
		return err
	}
	die, rest := w.lowerTool(p)
	return s.wait(w.resting(die, p.Edge), rest)
}

// lowerTool is the lower tool's temperature and how long the bar lies on it
// before it is squeezed.
func (w *worker) lowerTool(p Pass) (dieK, restS float64) {
	switch p.Tool {
	case ByPress:
		return w.job.Press.Bottom.Temperature, w.job.Handling.Rest
	case ByHammer:
		return w.job.Hammer.Anvil, w.job.Handling.Rest
	}
	return w.job.Rolls.Temperature, 0
}

// temperatures is the section's temperatures for the pass: prescribed or found.
func (w *worker) temperatures(s *station, p Pass) heat.Map {
	if p.TemperatureA != nil && p.TemperatureB != nil {
		a, b := *p.TemperatureA, *p.TemperatureB
		return heat.Map{Y: []float64{0, 1}, Z: []float64{0, 1}, T: [][]float64{{b, b}, {a, a}}}
	}
	if p.Temperature != nil {
		t := *p.Temperature
		return heat.Map{Y: []float64{0, 1}, Z: []float64{0, 1}, T: [][]float64{{t, t}, {t, t}}}
	}
	return s.field.Map()
}

// note keeps the temperatures of first contact.
func (w *worker) note(i int, m heat.Map) {
	d := w.current
	mean := m.Mean()
	if w.st[i].byHandle {
		return
	}
	if d.Coldest == 0 {
		d.Temperature, d.SideA, d.SideB = mean, m.At(0.5, 1), m.At(0.5, 0)
		d.Coldest = mean
	}
	d.Coldest = min(d.Coldest, mean)
}

// worked hands the squeeze on to the heat: contact under load, the new shape,
// the heat of the work, and the setting of the joints.
func (w *worker) worked(s *station, p Pass, o *layers.Outcome, temps heat.Map, seconds float64) error {
	strain := math.Log(o.Before.Thickness / math.Max(o.After.Thickness, 1e-6))
	if p.Edge {
		strain = 0
	}
	s.set.squeeze(strain, s.jointTemps(temps), w.job.Weld.Heat)
	if s.field == nil {
		return nil
	}
	for i := range s.set {
		if s.set[i] >= 1 {
			s.field.SetJoint(i+1, heat.Joint{State: heat.Welded})
		}
	}
	under := contactTime(p.Tool, o)
	pressure := o.ForceMax / math.Max(1e-6, o.Bite*o.After.Width)
	if p.Tool == ByHammer {
		// Between the blows the bar lies on the anvil.
		die, _ := w.lowerTool(p)
		lying := o.Seconds / float64(o.Bites)
		if err := s.wait(w.resting(die, p.Edge), lying); err != nil {
			return err
		}
		seconds -= lying
	}
	if err := s.wait(w.squeezed(p, pressure), under); err != nil {
		return err
	}
	if err := s.reshaped(); err != nil {
		return err
	}
	var area float64
	for _, a := range s.areas {
		area += a
	}
	q := make([]float64, len(s.areas))
	for i := range q {
		q[i] = workHeat * o.Work.Plastic / area
	}
	s.field.AddHeat(q)
	return s.wait(w.job.surroundings(InAir), seconds-under)
}

// passTime is how long a pass takes along the whole bar, s.
func passTime(tool PassTool, o *layers.Outcome) float64 {
	if tool == ByRolls {
		return o.Seconds + backToRolls
	}
	return o.Seconds + between*float64(o.Bites)
}

// contactTime is how long one place of the bar is under load, s: the ram's way
// to the stop, a place's way through the rolls, the closing and rebound of the
// blows.
func contactTime(tool PassTool, o *layers.Outcome) float64 {
	switch tool {
	case ByRolls:
		return o.Seconds * o.Bite / math.Max(o.Bite, o.After.Length)
	case ByHammer:
		return 2 * math.Log(o.Before.Thickness/o.After.Thickness) / o.NominalPS
	}
	return o.Seconds / math.Max(1, float64(o.Bites))
}

// squeezed is the surroundings under load.
func (w *worker) squeezed(p Pass, pressurePa float64) heat.Surroundings {
	s := w.job.surroundings(InAir)
	lower := w.lower(p.Edge)
	bottom, _ := w.lowerTool(p)
	top := bottom
	if p.Tool == ByPress {
		top = w.job.Press.Top.Temperature
	}
	h := pressed(pressurePa)
	s[lower] = heat.Surround{Gas: heat.Constant(bottom), Film: h}
	s[opposite(lower)] = heat.Surround{Gas: heat.Constant(top), Film: h}
	return s
}

// jointTemps is the temperature at each joint at mid width, K.
func (s *station) jointTemps(m heat.Map) []float64 {
	shape := s.stack.Shape()
	out := make([]float64, len(s.set))
	at := 0.0
	for i := range out {
		at += shape.Layers[i].Thickness / shape.Thickness
		out[i] = m.At(0.5, min(at, 1))
	}
	return out
}

// materialOf finds a layer's material by name.
func materialOf(j *Job, name string) steel.Material {
	for _, l := range j.Stack.Layers {
		if l.Material.Name == name {
			return l.Material
		}
	}
	return steel.Material{}
}
