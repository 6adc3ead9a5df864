package heat

import (
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
	In  Surroundings
	End End
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

// History is one row a step.
type History struct {
	Time, Skin, Core, ColdestJoint []float64 // s, K
}

// Monitor is what goes along with the stages: watches, limits and a record.
type Monitor struct {
	Watches []*Watch
	Limits  []float64 // K by layer, for OverLimit
	Record  *History
}

// Run stays in the stage until its end. reached is false where a stage that
// waits for a temperature gave up.
func (f *Field) Run(st Stage, mon *Monitor) (reached bool, err error) {
	f.Surround(st.In)
	f.record(mon, true)
	begin := f.time
	if st.End.Timed {
		return true, f.until(begin+st.End.Time, st, mon)
	}
	up := f.hottestAround(st.In) > f.Read(st.End.On)
	reached, err = f.wait(st, up, mon)
	if err != nil || !reached {
		return reached, err
	}
	return true, f.until(f.time+st.End.Hold, st, mon)
}

func (f *Field) hottestAround(s Surroundings) float64 {
	v := math.Inf(-1)
	for i, face := range s {
		if i/2 < f.body.Dims {
			v = max(v, face.hottest(f.time))
		}
	}
	return v
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
	for f.time < end {
		if err := f.advance(f.limit(end, st.In)); err != nil {
			return false, err
		}
		if gap(f.Read(st.End.On)) >= 0 {
			err := f.locate(st.End.On, gap)
			f.watch(mon)
			f.record(mon, false)
			return true, err
		}
		f.watch(mon)
		f.record(mon, false)
		if f.time > lastRow && f.still() {
			break
		}
	}
	return false, nil
}

// still says that nothing in the body changes any more.
func (f *Field) still() bool {
	for _, r := range f.rate1 {
		if math.Abs(r) >= Still {
			return false
		}
	}
	return true
}

// locate ends the last step where the reading passes the temperature, by
// redoing it with the length that interpolation finds, then correcting.
func (f *Field) locate(on Reading, gap func(float64) float64) error {
	lo, hi := f.time0, f.time
	for range 6 {
		t := f.crossing(on, lo, hi, gap)
		if hi-t < 1e-7*(1+t) {
			return nil
		}
		f.back()
		saved := f.h
		f.h = t - f.time
		if err := f.advance(t); err != nil {
			return err
		}
		f.h = max(saved, f.h)
		g := gap(f.Read(on))
		_, rate := f.read(on, f.step.Phi(), f.rate1)
		if math.Abs(g) <= 1e-6*max(1, math.Abs(rate)) {
			return nil
		}
		if g > 0 {
			lo, hi = f.time0, f.time
			continue
		}
		// Short of it: go on by what is missing and a little more.
		f.h = max(2*math.Abs(g/rate), 1e-6)
		if err := f.advance(f.time + f.h); err != nil {
			return err
		}
		if gap(f.Read(on)) < 0 {
			continue
		}
		lo, hi = f.time0, f.time
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

// watch notes the watches that the last step passed.
func (f *Field) watch(mon *Monitor) {
	if mon == nil {
		return
	}
	f.limits = mon.Limits
	for _, w := range mon.Watches {
		if w.Reached || f.Read(w.On) < w.Temperature {
			continue
		}
		if w.On == OverLimit && mon.Limits == nil {
			continue
		}
		w.Reached, w.Time = true, f.time
		if v, _ := f.read(w.On, f.phi0, f.rate0); f.time > f.time0 && v < w.Temperature {
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
	f.limits = mon.Limits
	if first {
		f.watch(mon)
	}
	h := mon.Record
	if h == nil || first && len(h.Time) > 0 {
		return
	}
	h.Time = append(h.Time, f.time)
	h.Skin = append(h.Skin, f.Read(Skin))
	h.Core = append(h.Core, f.Read(Core))
	h.ColdestJoint = append(h.ColdestJoint, f.Read(ColdestJoint))
}

// Read is the reading now, K.
func (f *Field) Read(on Reading) float64 {
	v, _ := f.read(on, f.step.Phi(), f.rate1)
	return v
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
		i = f.extreme(phi, nil, 1, f.limits)
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
	return f.limits[f.mesh.layer[i%f.med.nz]]
}

// topZ is the Z node of the top face: the bottom's where only half is carried.
func (f *Field) topZ() int {
	if f.mesh.half[fd.Z] {
		return 0
	}
	return f.med.nz - 1
}

// extreme is the node with the largest sign·(T − limit of its layer) over the
// given Z nodes, all if nil.
func (f *Field) extreme(phi []float64, zs []int, sign float64, limits []float64) int {
	nz := f.med.nz
	best, at := math.Inf(-1), 0
	try := func(i, z int) {
		v := phi[i]
		if limits != nil {
			v -= limits[f.mesh.layer[z]]
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
