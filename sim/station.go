package sim

import (
	"billet/layers"
	"billet/sim/heat"
)

// stationCount is the number of places along the bar that are followed.
const stationCount = 5

// workAccuracy is the accuracy of the heat in the passes, K.
const workAccuracy = 2.0

// station is one place along the bar: its section, and the heat in it.
type station struct {
	at       float64 // share of the length from the front
	stack    *layers.Stack
	field    *heat.Field // nil where every pass prescribes its temperature
	set      setting
	areas    []float64 // of the layers, m2, when the field was last reshaped
	wide     float64   // m
	long     float64   // m
	byHandle bool      // the end beside the handle: colder than the rest, and cut off
	track    *track    // of the middle station; nil elsewhere
}

// strength is a material's flow stress as the layer model asks for it. Strain
// beyond the data counts as the data's end: at welding and forging heat steel
// recrystallises as fast as it hardens.
func strength(l Layer) layers.Strength {
	const least, most = 0.02, 0.5
	m := l.Material
	return func(strain, rate, tK float64) float64 {
		s, _ := m.FlowStress(min(max(strain, least), most), max(rate, 1e-3), tK)
		return s
	}
}

// scaledStrength is a layer's strength times what a measured squeeze gave.
func scaledStrength(j *Job, l Layer) layers.Strength {
	base := strength(l)
	if j.strength == 0 {
		return base
	}
	return func(strain, rate, tK float64) float64 { return j.strength * base(strain, rate, tK) }
}

// changes is what a run of the script differs in from the job.
type changes struct {
	section                                                  bool // no three-dimensional corrections
	evenJackets, evenTemperature, evenFriction, evenStrength bool
	plainTools, welded, noLosses                             bool
	draw                                                     *draw // nil: as the job says
}

// newStack lays up the stack of the job.
func newStack(j *Job, c changes) (*layers.Stack, error) {
	n := len(j.Stack.Layers)
	ls := make([]layers.Layer, n)
	for i, l := range j.Stack.Layers {
		ls[i] = layers.Layer{Name: l.Material.Name, Thickness: l.Thickness, Strength: scaledStrength(j, l)}
	}
	core := coreIndex(j)
	for i := range core {
		k := 2*core - i
		if k >= n {
			continue
		}
		if c.evenJackets {
			t := (ls[i].Thickness + ls[k].Thickness) / 2
			ls[i].Thickness, ls[k].Thickness = t, t
		}
		if c.evenStrength && ls[i].Name != ls[k].Name {
			a, b := ls[i].Strength, ls[k].Strength
			mean := func(e, r, t float64) float64 { return (a(e, r, t) + b(e, r, t)) / 2 }
			ls[i].Strength, ls[k].Strength = mean, mean
		}
	}
	if c.draw != nil {
		for i := range ls {
			if i != core {
				ls[i].Thickness *= c.draw.jacket[i]
			}
		}
	}
	joints := startSetting(j).joints()
	return layers.NewStack(j.Stack.Width, j.Stack.Length, ls, joints, core, layers.Mesh{})
}

// coreIndex is the layer whose offset is followed: the core, or the middle one.
func coreIndex(j *Job) int {
	if k, ok := j.Stack.CoreLayer(); ok {
		return k
	}
	return (len(j.Stack.Layers) - 1) / 2
}

// startSetting is how the joints are when the work begins.
func startSetting(j *Job) setting {
	s := make(setting, len(j.Stack.Layers)-1)
	for i := range s {
		if j.Stack.Layers[i+1].Joint.State == Welded {
			s[i] = 1
		}
	}
	return s
}

// reshaped hands the section's new sizes on to the heat field.
func (s *station) reshaped() error {
	if s.field == nil {
		return nil
	}
	areas, wide, long := s.stack.Areas(), s.stack.Width(), s.stack.Length()
	y := wide / s.wide
	s.thinned(s.areas, areas, y, long/s.long)
	z := make([]float64, len(areas))
	for i := range z {
		z[i] = areas[i] / s.areas[i] / y
	}
	err := s.field.Reshape(z, y, long/s.long)
	s.areas, s.wide, s.long = areas, wide, long
	return err
}

// newField makes the heat field of the section as it is now.
func (s *station) newField(j *Job, startK float64, all []heat.Surroundings) error {
	shape := s.stack.Shape()
	b := heat.Body{Width: s.stack.Width(), Length: s.stack.Length(), Dims: 2}
	ls := s.stack.Layers()
	core := 0.0
	for i := range ls {
		l := heat.Layer{Material: materialOf(j, ls[i].Name), Thickness: shape.Layers[i].Area / b.Width}
		if i > 0 {
			l.Joint = s.heatJoint(j, i)
		}
		if i < s.stack.Core() {
			core += l.Thickness
		} else if i == s.stack.Core() {
			core += l.Thickness / 2
		}
		b.Layers = append(b.Layers, l)
	}
	b.CoreAt = core
	f, err := heat.New(b, startK, heat.Options{Accuracy: workAccuracy, All: all, Chilled: true})
	if err != nil {
		return err
	}
	s.field = f
	s.areas, s.wide, s.long = s.stack.Areas(), s.stack.Width(), s.stack.Length()
	return nil
}

// heatJoint is the joint under layer i for the heat: as given until it sets.
func (s *station) heatJoint(j *Job, i int) heat.Joint {
	if s.set[i-1] >= 1 {
		return heat.Joint{State: heat.Welded}
	}
	if i < len(j.Stack.Layers) {
		return j.Stack.Layers[i].Joint
	}
	return heat.Joint{State: heat.Ground}
}
