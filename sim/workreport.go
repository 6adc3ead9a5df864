package sim

import (
	"fmt"
	"math"
	"strings"

	"billet/layers"
)

// expansion is the mean linear expansion from cold to forging heat, 1/K: EN
// 1993-1-2 3.4.1.1 gives 1.78 % at 1200 °C (read in excerpt).
const expansion = 0.0178 / 1180

// hotSize is a cold size at tK.
func hotSize(coldM, tK float64) float64 {
	return coldM * (1 + expansion*math.Max(0, tK-293.15))
}

// sizes is the bar now.
func (w *worker) sizes() Sizes {
	var s Sizes
	for _, st := range w.st {
		sh := st.stack.Shape()
		s.Thickness += sh.Thickness
		s.Width = math.Max(s.Width, sh.Width)
		s.Length += sh.Length
	}
	n := float64(len(w.st))
	s.Thickness /= n
	s.Length /= n
	return s
}

// layerSizes is the layers now, means along the bar.
func (w *worker) layerSizes() []LayerSize {
	ls := w.st[0].stack.Layers()
	out := make([]LayerSize, len(ls))
	n := float64(len(w.st))
	for _, st := range w.st {
		for i, l := range st.stack.Shape().Layers {
			out[i].Material = ls[i].Name
			out[i].Thickness += l.Thickness / n
			out[i].Width += l.Width / n
		}
	}
	return out
}

// forceShare is the honest band of any force: measured hot flow curves lie within
// 15 % of Shida's formula on average.
const forceShare = 0.15

// take notes what a station's squeeze asked of the machine.
func (w *worker) take(i int, o *layers.Outcome) {
	d := w.current
	if w.st[i].byHandle {
		return // nobody leans on the end that is cut off
	}
	if o.ForceMax > d.Force {
		d.Force, d.ForceRange = o.ForceMax, [2]float64{o.ForceMax * (1 - forceShare), o.ForceMax * (1 + forceShare)}
		d.Pressure = o.ForceMax / math.Max(1e-6, o.Bite*o.After.Width)
	}
	d.Torque, d.Power = math.Max(d.Torque, o.Torque), math.Max(d.Power, o.Power)
	d.StallsAt = math.Max(d.StallsAt, o.StallsAt)
	if w.st[i] == w.middle() {
		w.flow = o.Field
	}
	if d.Bite == 0 {
		d.Rate, d.Bite, d.Bites = o.NominalPS, o.Bite, o.Bites
		if !d.Edge { // on edge the stop sets the width
			d.WidthRange = [2]float64{o.WidthRange[0] - o.After.Width, o.WidthRange[1] - o.After.Width}
		}
	}
	d.Blows = max(d.Blows, o.Blows)
	d.Within = d.Within && o.Within()
	for _, l := range o.Limits {
		d.limit(l)
	}
	for _, t := range o.Warnings {
		if !ofLimit(o, t) {
			d.warn(t)
		}
	}
	if o.Correction != nil {
		w.correction(o)
	}
}

// correction widens the final offset's range by the uncertainty of the
// three-dimensional factor.
func (w *worker) correction(o *layers.Outcome) {
	n := float64(len(w.st))
	c := o.Correction
	lo, hi := c.OffsetRange[0], c.OffsetRange[1]
	w.spread[0] += (lo - o.After.Offset) / n
	w.spread[1] += (hi - o.After.Offset) / n
	w.wave = math.Max(w.wave, c.WaveShare)
}

// ofLimit says that a warning only repeats a limit, which is kept as a number
// and said once for the whole bar.
func ofLimit(o *layers.Outcome, text string) bool {
	for _, l := range o.Limits {
		if strings.HasPrefix(text, l.What+": ") {
			return true
		}
	}
	return false
}

// beyond says what a limit wants and what is there.
func beyond(l layers.Limit) string {
	switch l.Unit {
	case "N":
		return fmt.Sprintf("%s: %.0f kN wanted, %.0f kN there", l.What, l.Demand/1e3, l.Allowed/1e3)
	case "W":
		return fmt.Sprintf("%s: %.1f kW wanted, %.1f kW there", l.What, l.Demand/1e3, l.Allowed/1e3)
	}
	return strings.TrimSpace(fmt.Sprintf("%s: %.2g %s wanted, %.2g %s there", l.What, l.Demand, l.Unit, l.Allowed, l.Unit))
}

// limit keeps the tightest demand of each kind.
func (d *PassDone) limit(l layers.Limit) {
	for i, have := range d.Limits {
		if have.What == l.What {
			if l.Demand > have.Demand {
				d.Limits[i] = l
			}
			return
		}
	}
	d.Limits = append(d.Limits, l)
}

func (d *PassDone) warn(text string) {
	for i, t := range d.Warnings {
		if sameBut(t) == sameBut(text) {
			d.Warnings[i] = text // of the place worked last
			return
		}
	}
	d.Warnings = append(d.Warnings, text)
}

// finish measures the bar after a pass that stopped at a height, m cold.
func (w *worker) finish(p Pass, to float64) {
	d := w.current
	d.After, d.Layers = w.sizes(), w.layerSizes()
	d.WidthRange[0] += d.After.Width // taken as what it may be off
	d.WidthRange[1] += d.After.Width
	d.Offset, d.Tilt, d.Wave = w.offset()
	d.Welded = w.welded()
	d.StopHot = hotSize(to, d.Temperature)
	for _, l := range d.Limits {
		if !l.Within() {
			d.warn(beyond(l))
		}
	}
	if d.Parts > 1 {
		d.warn(fmt.Sprintf("the bar is longer than the chamber: heat and work it in %d parts that overlap; the overlap is heated twice", d.Parts))
	}
	w.redStops(p)
	w.out.Can = w.out.Can && d.Within
	w.out.Passes = append(w.out.Passes, *d)
	w.view(d.Number, w.flow)
}

// Red stops: common practice, no source.
const (
	ramShare    = 0.8 // of the ram, above which to stop
	tallest     = 2.5 // height over width, above which a stack tips or folds
	tooColdNote = "colder than the working floor"
)

// redStops warns where a shop would stop.
func (w *worker) redStops(p Pass) {
	d, j := w.current, w.job
	if p.Tool == ByPress && d.Force > ramShare*j.Press.Force {
		d.warn(fmt.Sprintf("red stop: %.0f %% of the ram; stay below 80 %%", 100*d.Force/j.Press.Force))
	}
	h, b := d.Before.Thickness, d.Before.Width
	if p.Edge {
		h, b = b, h
	}
	if h > tallest*b {
		d.warn(fmt.Sprintf("red stop: %.1f times as tall as wide; above 2.5 it tips or folds", h/b))
	}
	if !w.cold && d.Coldest < j.Handling.WorkAbove {
		d.warn(fmt.Sprintf("red stop: part of the bar is at %s, %s of %s", tempWords(j, d.Coldest), tooColdNote, tempWords(j, j.Handling.WorkAbove)))
	}
}

// offset is the mean offset, tilt and wave along the bar, m.
func (w *worker) offset() (mean, tilt, wave float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	n := float64(len(w.st))
	for _, s := range w.st {
		sh := s.stack.Shape()
		mean += sh.Offset / n
		tilt += sh.Tilt / n
		lo, hi = math.Min(lo, sh.Offset), math.Max(hi, sh.Offset)
	}
	return mean, tilt, (hi - lo) / 2
}

// middle is the station nearest mid length.
func (w *worker) middle() *station { return w.st[len(w.st)/2] }

// view keeps the end view at mid length.
func (w *worker) view(pass int, f *layers.Field) {
	w.out.Sections = append(w.out.Sections, endView(w.job, w.middle().stack, pass, f))
}

func endView(j *Job, s *layers.Stack, pass int, f *layers.Field) EndView {
	v := EndView{Pass: pass, Field: f, Offset: s.Shape().Offset}
	for i, l := range s.Layers() {
		lower, upper := s.Line(i)
		v.Layers = append(v.Layers, LayerOutline{Material: l.Name, Core: i == s.Core(), Lower: lower, Upper: upper})
	}
	return v
}

// final measures the finished bar.
func (w *worker) final() {
	o := w.out
	e := BarEnd{Sizes: w.sizes(), Layers: w.layerSizes()}
	e.Offset, e.Tilt, e.Wave = w.offset()
	mid := w.middle().stack.Shape()
	e.CoreShare = mid.CoreShare
	narrow := math.Inf(1)
	for _, s := range w.st {
		narrow = math.Min(narrow, s.stack.Shape().Narrowest)
	}
	const points = 21
	for k := range points {
		y := layers.InnerShare * narrow / 2 * (2*float64(k)/(points-1) - 1)
		var v float64
		for _, s := range w.st {
			v += s.stack.OffsetAt(y) / float64(len(w.st))
		}
		e.Across.At, e.Across.Value = append(e.Across.At, y), append(e.Across.Value, v)
	}
	for _, s := range w.st {
		sh := s.stack.Shape()
		e.Along.At = append(e.Along.At, s.at*e.Length)
		e.Along.Value = append(e.Along.Value, sh.Offset)
		e.AlongThick = append(e.AlongThick, sh.Thickness)
	}
	e.WidthRange = [2]float64{e.Width, e.Width}
	for _, p := range o.Passes {
		if p.Edge || p.Tool == ByGrind || p.Tool == ByRestack {
			continue // on edge the range is of the thickness
		}
		e.WidthRange[0] += p.WidthRange[0] - p.After.Width
		e.WidthRange[1] += p.WidthRange[1] - p.After.Width
	}
	e.OffsetRange = [2]float64{math.Min(e.Offset+w.spread[0], e.Offset+w.spread[1]), math.Max(e.Offset+w.spread[0], e.Offset+w.spread[1])}
	e.WavePossible = w.wave * e.Thickness
	o.Final, o.Heats = e, w.heats
	o.StartVolume = w.job.Stack.Thickness() * w.job.Stack.Width * w.job.Stack.Length
	for _, s := range w.st {
		o.Volume += volume(s.stack) / float64(len(w.st))
	}
}

// coldWork grinds the faces or cuts and piles the bar, cold.
func (w *worker) coldWork(p Pass) error {
	d := w.current
	d.Heat, d.DownA, d.Before = w.heats, w.downA, w.sizes()
	m := move{kind: moveGrind, pass: p}
	if p.Tool == ByRestack {
		m.kind = moveRestack
	}
	for i, s := range w.st {
		if err := s.stack.Lay(layers.SideB); err != nil {
			return err
		}
		if err := m.apply(w.job, s.stack, i, changes{}); err != nil {
			return fmt.Errorf("pass %d: %w", d.Number, err)
		}
		if m.kind == moveRestack {
			s.set = append(setting(nil), make(setting, len(s.stack.Joints()))...)
			for k, jt := range s.stack.Joints() {
				if jt.Welded {
					s.set[k] = 1
				}
			}
		}
	}
	w.script = append(w.script, m)
	if t := w.middle().track; t != nil {
		e := event{kind: wasGround, off: [2]float64{p.OffB, p.OffA}}
		if p.Tool == ByRestack {
			e = event{kind: wasStacked, pieces: p.Pieces, off: [2]float64{p.Off, p.Off}}
		}
		t.clock += w.middle().field.Time()
		t.note(e)
		t.open = nil
	}
	if !w.cold {
		if err := w.freshFields(w.job.Air.Wall.At(0)); err != nil {
			return err
		}
		w.left = 0
	}
	d.Temperature, d.SideA, d.SideB, d.Coldest = 0, 0, 0, 0
	d.After, d.Layers = w.sizes(), w.layerSizes()
	d.WidthRange = [2]float64{d.After.Width, d.After.Width}
	d.Offset, d.Tilt, d.Wave = w.offset()
	d.Welded = w.welded()
	d.StopHot = d.After.Thickness
	w.out.Passes = append(w.out.Passes, *d)
	w.view(d.Number, nil)
	return nil
}
