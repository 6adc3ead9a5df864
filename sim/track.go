package sim

import (
	"fmt"
	"math"

	"billet/layers"
	"billet/sim/heat"
	"billet/sim/metal"
)

// track is what the metal at mid length went through: temperatures of its layers
// and what was done to it, for scale, carbon and grain.
type track struct {
	events []event
	open   metal.History // since the last event, in one place
	place  Place
	clock  float64 // s, time of the field when it was last made
	skins  [2]*metal.Skin
	lost   [2]float64 // m taken off the stack so far by scale, B and A
}

// event is one thing that happened to the metal.
type event struct {
	kind    eventKind
	place   Place
	history metal.History
	factors []float64  // thinning of each layer
	area    float64    // growth of the faces
	off     [2]float64 // m ground off B and A
	pieces  int
}

type eventKind int

const (
	wasHeated  eventKind = iota // history in place
	wasThinned                  // factors and area
	wasGround                   // off
	wasStacked                  // pieces and off
	heatEnded
)

func newTrack(j *Job) *track {
	n := len(j.Stack.Layers)
	return &track{skins: [2]*metal.Skin{metal.NewSkin(j.Stack.Layers[0].Material), metal.NewSkin(j.Stack.Layers[n-1].Material)}}
}

func (t *track) clone() *track {
	c := *t
	c.events = append([]event(nil), t.events...)
	c.open = append(metal.History(nil), t.open...)
	for i, s := range t.skins {
		k := *s
		c.skins[i] = &k
	}
	return &c
}

// gas is the atmosphere the faces stand in at a place.
func (j *Job) gas(p Place) metal.Atmosphere {
	name := [...]string{Neutral: "neutral", Lean: "lean", Rich: "rich"}[j.Forge.Atmosphere]
	if p == InAir {
		name = "air"
	}
	a, err := metal.AtmosphereByName(name)
	if err != nil {
		return metal.Sealed
	}
	return a
}

// run lets the field go through a stage and keeps what its layers saw.
func (s *station) run(st heat.Stage, p Place) (bool, error) {
	if s.track == nil {
		return s.field.Run(st, nil)
	}
	s.track.at(s, p)
	return s.field.Run(st, &heat.Monitor{Each: func(*heat.Field) { s.track.at(s, p) }})
}

// at adds the temperatures of the moment, at every layer's face.
func (t *track) at(s *station, p Place) {
	if p != t.place {
		t.close()
		t.place = p
	}
	z, temps := s.field.Profile()
	faces := make([]float64, 0, len(s.areas)+1)
	faces = append(faces, temps[0])
	for i := 1; i < len(z); i++ {
		if z[i] == z[i-1] {
			faces = append(faces, 0.5*(temps[i]+temps[i-1]))
		}
	}
	faces = append(faces, temps[len(temps)-1])
	now := t.clock + s.field.Time()
	if n := len(t.open); n > 0 && now <= t.open[n-1].Time {
		return
	}
	t.open = append(t.open, metal.Sample{Time: now, TempK: faces})
}

// close ends the stretch of history in one place.
func (t *track) close() {
	if len(t.open) > 1 {
		t.events = append(t.events, event{kind: wasHeated, place: t.place, history: t.open})
		t.open = append(metal.History(nil), t.open[len(t.open)-1])
	}
}

// note adds an event at this moment.
func (t *track) note(e event) {
	t.close()
	t.events = append(t.events, e)
}

// grow lets scale grow on both faces over what was added since event number
// from, and returns the metal it took, m, B and A.
func (t *track) grow(j *Job, from int) (off [2]float64, err error) {
	before := [2]float64{t.skins[0].Recession(), t.skins[1].Recession()}
	for _, e := range t.events[from:] {
		if e.kind == wasThinned {
			for _, s := range t.skins {
				s.Descale() // the press cracks it off, the smith brushes
			}
			continue
		}
		if e.kind != wasHeated {
			continue
		}
		gas := j.gas(e.place)
		for i := 1; i < len(e.history); i++ {
			a, b := e.history[i-1], e.history[i]
			dt := b.Time - a.Time
			if err := t.skins[0].Grow(dt, a.TempK[0], b.TempK[0], gas); err != nil {
				return off, err
			}
			if err := t.skins[1].Grow(dt, a.TempK[len(a.TempK)-1], b.TempK[len(b.TempK)-1], gas); err != nil {
				return off, err
			}
		}
	}
	for k, s := range t.skins {
		off[k] = s.Recession() - before[k]
	}
	return off, nil
}

// scaled takes off every station what scale has eaten at mid length since the
// last heat: the faces as computed, the narrow sides as their mean.
func (w *worker) scaled() error {
	t := w.middle().track
	if t == nil {
		return nil
	}
	t.close()
	from := w.scaledTo
	off, err := t.grow(w.job, from)
	if err != nil {
		return fmt.Errorf("scale: %w", err)
	}
	w.scaledTo = len(t.events)
	if off[0]+off[1] <= 0 {
		return nil
	}
	m := move{kind: moveLose, lose: [4]float64{off[1], off[0], (off[0] + off[1]) / 2, (off[0] + off[1]) / 2}}
	for i, s := range w.st {
		before := s.stack.Clone()
		held := volume(before)
		if err := m.apply(w.job, s.stack, i, changes{}); err != nil {
			return fmt.Errorf("scale: %w", err)
		}
		w.out.Scaled += (held - volume(s.stack)) / float64(len(w.st))
		if err := s.lost(before.Areas()); err != nil {
			return err
		}
	}
	for k := range off {
		t.lost[k] += off[k]
	}
	w.script = append(w.script, m)
	return nil
}

// volume is a stack's, m3.
func volume(s *layers.Stack) float64 {
	a := 0.0
	for _, v := range s.Areas() {
		a += v
	}
	return a * s.Length()
}

// lost takes the metal that scale ate out of the heat field as well.
func (s *station) lost(before []float64) error {
	if s.field == nil {
		return nil
	}
	areas := s.stack.Areas()
	y := s.stack.Width() / s.wide
	z := make([]float64, len(areas))
	for i := range z {
		z[i] = areas[i] / before[i] / y
	}
	s.areas, s.wide, s.long = areas, s.stack.Width(), s.stack.Length()
	return s.field.Reshape(z, y, 1)
}

// thinned notes a pass of the middle station.
func (s *station) thinned(before, after []float64, wide, long float64) {
	if s.track == nil {
		return
	}
	f := make([]float64, len(before))
	for i := range f {
		f[i] = after[i] / before[i] / wide // thickness from area and width
	}
	s.track.note(event{kind: wasThinned, factors: f, area: math.Max(1e-3, wide*long)})
}
