package heat

import (
	"fmt"
	"math"

	"billet/sim/internal/fd"
)

// Reading is a temperature read off the field.
type Reading int

// The readings.
const (
	Skin         Reading = iota // centre of the top face
	Core                        // where Body.CoreAt is, at mid width and length
	ColdestJoint                // coldest spot over all joints; the core with one layer
	OverLimit                   // hottest spot measured from its layer's limit: 0 is at the limit
)

// End says what ends a stage.
type End struct {
	// Timed stages end after Time, s; others when On reaches Temperature, K:
	// upward where the surroundings are hotter than it is, else downward.
	Timed       bool
	Time        float64
	On          Reading
	Temperature float64
	Hold        float64 // s to stay after the end is met
}

// Longest is the time after which a stage that waits for a temperature gives
// up, and Still the rate of change, K/s, below which it does.
const (
	Longest = 4 * 3600.0
	Still   = 0.1 / 60
)

// Stage is one stay in one place.
type Stage struct {
	In   Surroundings
	End  End
	Coil *Induction // nil: nothing heats it from inside
}

// Watch waits for a reading to rise to a temperature for the first time.
type Watch struct {
	On          Reading
	Temperature float64 // K
	Reached     bool
	Time        float64 // s
	// Do, if set, is called at the moment, with the field standing at the
	// end of the step that passed it; Field.Snapshot(Time) is the state.
	Do func(f *Field)
}

// History is rows of readings, close enough together to be joined by straight
// lines.
type History struct {
	Time, Skin, Core, ColdestJoint []float64 // s, K
}

// Monitor is what goes along with the stages: watches, limits and a record.
type Monitor struct {
	Watches []*Watch
	Limits  []float64 // K by layer, for OverLimit
	Record  *History
	// Each, if set, is called after every step.
	Each func(f *Field)
}

// Run stays in the stage until its end. reached is false where a stage that
// waits for a temperature gave up.
func (f *Field) Run(st Stage, mon *Monitor) (reached bool, err error) {
	if err := f.fits(st.In); err != nil {
		return false, err
	}
	f.med.coil = nil
	if st.Coil != nil {
		f.med.coil = f.newInduced(*st.Coil)
	}
	f.Surround(st.In)
	f.record(mon, true)
	begin := f.time
	if st.End.Timed {
		return true, f.until(begin+st.End.Time, st, mon)
	}
	reached, err = f.wait(st, f.heats(st), mon)
	if err != nil || !reached {
		return reached, err
	}
	return true, f.until(f.time+st.End.Hold, st, mon)
}

// fits returns an error where the surroundings lack a mirror symmetry that the
// field was made with.
func (f *Field) fits(s Surroundings) error {
	for a, half := range f.mesh.half {
		if half && !s[2*a].equal(s[2*a+1]) {
			return fmt.Errorf("heat: faces %d and %d see different surroundings, but the body was made with symmetric ones; list all surroundings in Options.All", 2*a, 2*a+1)
		}
	}
	return nil
}

// heats says that the stage drives its reading up: that the surroundings, now
// or later, are hotter than it is. Where they are as hot, or all faces are
// insulated, nothing changes; that counts as up, so that a temperature above
// the present one is not taken as met.
func (f *Field) heats(st Stage) bool {
	const same = 0.01 // K, well above what the tables round
	hottest := math.Inf(-1)
	for i, face := range st.In {
		if i/2 < f.body.Dims {
			hottest = max(hottest, face.hottest(f.time))
		}
	}
	return math.IsInf(hottest, -1) || hottest >= f.Read(st.End.On)-same
}

// until advances to a time.
func (f *Field) until(end float64, st Stage, mon *Monitor) error {
	for f.time < end-1e-9*(1+end) {
		if err := f.advance(f.limit(end, st.In)); err != nil {
			return err
		}
		f.watch(mon)
		f.record(mon, false)
	}
	return nil
}

// limit is the next time a step may not pass.
func (f *Field) limit(end float64, s Surroundings) float64 {
	for _, face := range s {
		end = min(end, face.Wall.next(f.time), face.Gas.next(f.time))
	}
	return end
}

// wait advances until the reading passes the temperature.
func (f *Field) wait(st Stage, up bool, mon *Monitor) (bool, error) {
	sign := 1.0
	if !up {
		sign = -1
	}
	gap := func(v float64) float64 { return sign * (v - st.End.Temperature) }
	if gap(f.Read(st.End.On)) >= 0 {
		return true, nil
	}
	end := f.time + Longest
	lastRow := 0.0
	for _, face := range st.In {
		lastRow = max(lastRow, face.lastRow())
	}
	defer func() { f.pace = 0 }()
	for f.time < end {
		f.keepPace(st.End.On, gap)
		if err := f.advance(f.limit(end, st.In)); err != nil {
			return false, err
		}
		if gap(f.Read(st.End.On)) >= 0 {
			err := f.locate(st.End.On, gap, mon)
			f.watch(mon)
			f.record(mon, false)
			return true, err
		}
		f.watch(mon)
		f.record(mon, false)
		if f.time > lastRow && f.Steady() {
			break
		}
	}
	return false, nil
}

// keepPace holds the steps to what the time of the stage's end allows. An error
// of δ in the reading shifts the end by δ/rate, which is to stay within 0.1 % of
// the time; it matters where the reading creeps towards its surroundings. Before
// that, what is still to go counts as well.
func (f *Field) keepPace(on Reading, gap func(float64) float64) {
	const share = 2e-4 // a fifth of 0.1 %, as errors of several steps add up
	v, rate := f.read(on, f.step.Phi(), f.rate1)
	f.pace = share * (f.time*math.Abs(rate) + math.Abs(gap(v)))
}

// Steady says that nothing in the body changes any more.
func (f *Field) Steady() bool {
	for _, r := range f.rate1 {
		if math.Abs(r) >= Still {
			return false
		}
	}
	return true
}

// locate ends the last step where the reading passes the temperature, by
// redoing it with the length that interpolation finds. Where that falls short,
// the step is kept and a small one follows.
func (f *Field) locate(on Reading, gap func(float64) float64, mon *Monitor) error {
	for range 8 {
		t := f.crossing(on, f.time0, f.time, gap)
		if f.time-t < 1e-7*(1+t) {
			return nil
		}
		f.back()
		saved := f.h
		f.h = t - f.time
		if err := f.advance(t); err != nil {
			return err
		}
		g := gap(f.Read(on))
		_, rate := f.read(on, f.step.Phi(), f.rate1)
		rate = math.Abs(rate)
		if math.Abs(g) <= min(located, 1e-6*max(1, rate)) {
			f.h = max(saved, f.h)
			return nil
		}
		for g < 0 {
			f.watch(mon)
			f.record(mon, false)
			f.h = max(1.5*-g/max(rate, 1e-9), 1e-6)
			if err := f.advance(f.time + f.h); err != nil {
				return err
			}
			g = gap(f.Read(on))
		}
		f.h = max(saved, f.h)
	}
	return nil
}

// crossing is the time in the last step at which gap turns positive, by the
// cubic of the reading's values and rates.
func (f *Field) crossing(on Reading, lo, hi float64, gap func(float64) float64) float64 {
	h := f.time - f.time0
	v0, r0 := f.read(on, f.phi0, f.rate0)
	v1, r1 := f.read(on, f.step.Phi(), f.rate1)
	g := func(t float64) float64 { return gap(hermite((t-f.time0)/h, h, v0, v1, r0, r1)) }
	for range 60 {
		mid := 0.5 * (lo + hi)
		if g(mid) >= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// located is how close to its temperature a located end of a stage may stop, K:
// a watch for that temperature must not miss it.
const located = 1e-4

// watch notes the watches that the last step passed.
func (f *Field) watch(mon *Monitor) {
	if mon == nil {
		return
	}
	f.limitBy(mon.Limits)
	if mon.Each != nil && f.time > f.time0 {
		mon.Each(f)
	}
	for _, w := range mon.Watches {
		if w.Reached || f.Read(w.On) < w.Temperature-located {
			continue
		}
		if w.On == OverLimit && mon.Limits == nil {
			continue
		}
		w.Reached, w.Time = true, f.time
		if v, _ := f.read(w.On, f.phi0, f.rate0); f.time > f.time0 && v < w.Temperature && f.Read(w.On) > w.Temperature {
			w.Time = f.crossing(w.On, f.time0, f.time, func(v float64) float64 { return v - w.Temperature })
		}
		if w.Do != nil {
			w.Do(f)
		}
	}
}

// record adds a row to the history. A stage's first row repeats the last one
// only if nothing is there yet.
func (f *Field) record(mon *Monitor, first bool) {
	if mon == nil {
		return
	}
	f.limitBy(mon.Limits)
	if first {
		f.watch(mon)
	}
	if h := mon.Record; h != nil && !(first && len(h.Time) > 0) {
		f.addRows(h)
	}
}

// addRows adds the end of the last step to the history, and enough moments
// within it that straight lines between the rows stay within a twentieth of
// the accuracy.
func (f *Field) addRows(rec *History) {
	h := f.time - f.time0
	parts := 1.0
	if len(rec.Time) > 0 && h > 0 {
		for _, on := range [3]Reading{Skin, Core, ColdestJoint} {
			_, r0 := f.read(on, f.phi0, f.rate0)
			_, r1 := f.read(on, f.step.Phi(), f.rate1)
			bow := h * math.Abs(r1-r0) / 8
			parts = max(parts, math.Ceil(math.Sqrt(bow/(0.05*f.accuracy))))
		}
		parts = min(parts, 16)
	}
	for k := 1.0; k <= parts; k++ {
		t := f.time - h*(1-k/parts)
		if k == parts {
			t = f.time
		}
		rec.Time = append(rec.Time, t)
		rec.Skin = append(rec.Skin, f.ReadAt(Skin, t))
		rec.Core = append(rec.Core, f.ReadAt(Core, t))
		rec.ColdestJoint = append(rec.ColdestJoint, f.ReadAt(ColdestJoint, t))
	}
}

// Read is the reading now, K.
func (f *Field) Read(on Reading) float64 {
	v, _ := f.read(on, f.step.Phi(), f.rate1)
	return v
}

// ReadAt is the reading at a time within the last step, K.
func (f *Field) ReadAt(on Reading, t float64) float64 {
	h := f.time - f.time0
	if h <= 0 || t >= f.time {
		return f.Read(on)
	}
	v0, r0 := f.read(on, f.phi0, f.rate0)
	v1, r1 := f.read(on, f.step.Phi(), f.rate1)
	return hermite((t-f.time0)/h, h, v0, v1, r0, r1)
}

// read is the reading off the temperatures phi, and its rate of change.
func (f *Field) read(on Reading, phi, rate []float64) (v, r float64) {
	g, m := f.mesh.grid, f.mesh
	i := 0
	switch {
	case on == Skin:
		i = g.Index(f.topZ(), m.midY, m.midX)
	case on == ColdestJoint && len(m.joints) > 0:
		i = f.extreme(phi, m.joints, -1, nil)
	case on == OverLimit:
		i = f.extreme(phi, nil, 1, f.zLimits)
		return phi[i] - f.limitAt(i), rate[i]
	default:
		i = g.Index(m.coreZ, m.midY, m.midX)
	}
	return phi[i], rate[i]
}

func (f *Field) limitAt(i int) float64 {
	if f.limits == nil {
		return math.Inf(1)
	}
	return f.zLimits[i%f.med.nz]
}

// limitBy sets the limits by layer that hold from now on.
func (f *Field) limitBy(layers []float64) {
	if len(layers) == len(f.limits) && (len(layers) == 0 || &layers[0] == &f.limits[0]) {
		return
	}
	f.limits, f.zLimits = layers, nil
	if layers == nil {
		return
	}
	for z := range f.med.nz {
		f.zLimits = append(f.zLimits, layers[f.mesh.leastAt(z, layers)])
	}
}

// topZ is the Z node of the top face: the bottom's where only half is carried.
func (f *Field) topZ() int {
	if f.mesh.half[fd.Z] {
		return 0
	}
	return f.med.nz - 1
}

// extreme is the node with the largest sign·(T − limit) over the given Z nodes,
// all if nil; limits go by Z node.
func (f *Field) extreme(phi []float64, zs []int, sign float64, limits []float64) int {
	nz := f.med.nz
	best, at := math.Inf(-1), 0
	try := func(i, z int) {
		v := phi[i]
		if limits != nil {
			v -= limits[z]
		}
		if v *= sign; v > best {
			best, at = v, i
		}
	}
	for base := 0; base < len(phi); base += nz {
		if zs == nil {
			for z := range nz {
				try(base+z, z)
			}
			continue
		}
		for _, z := range zs {
			try(base+z, z)
		}
	}
	return at
}
