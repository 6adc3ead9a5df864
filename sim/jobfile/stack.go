package jobfile

import (
	"math"

	"billet/sim"
	"billet/sim/steel"
	"billet/sim/unit"
)

// Ranges of a billet and of the heats it is worked at.
var (
	anyLayer  = span{"0.05 mm", "100 mm"}
	anyWidth  = span{"3 mm", "300 mm"}
	anyLength = span{"3 mm", "2 m"}
	anyHeat   = span{"-50 C", "1700 C"}
	anyGap    = span{"0.001 mm", "5 mm"}
	contact   = span{"0.1 W/m2K", "10000000 W/m2K"}
)

// maxLayers is the tallest stack.
const maxLayers = 500

// jointWords are the states a joint can be given in, by their place as
// sim.JointState.
var jointWords = []string{"ground", "scaled", "gapped", "fluxed", "welded"}

func (d *decoder) stack() {
	t := d.sub("stack")
	s := &d.job.Stack
	if !t.given() {
		if !d.has("stack") {
			d.missing("stack", "a table [stack] with width, length and its layers")
		}
		return
	}
	s.Width = t.need("width", unit.Length, anyWidth)
	s.Length = t.need("length", unit.Length, anyLength)
	s.Start = t.quantity("start", unit.Temperature, "20 C", anyHeat)
	if s.Start >= d.job.Weld.Heat {
		t.wrong("start", t.n.kids["start"], "a temperature below welding heat", "")
	}
	whole := d.joint(t, sim.Joint{State: sim.Ground})
	rows := t.rows("layer", maxLayers)
	if !t.has("layer") {
		t.missing("layer", "a table [[stack.layer]] for each layer, from side B to side A")
	}
	for i, row := range rows {
		s.Layers = append(s.Layers, d.layer(row, i, whole))
	}
	d.thickness(t, s.Layers)
	t.done()
	d.assumeJoints()
	for _, l := range s.Layers {
		if sentence := d.shelf.from[l.Material.Name]; sentence != "" {
			d.assume("%s", sentence)
		}
	}
}

func (d *decoder) thickness(t *table, layers []sim.Layer) {
	sum := 0.0
	for _, l := range layers {
		sum += l.Thickness
	}
	if math.IsNaN(sum) || len(layers) == 0 || anyWidth.holds(unit.Length, sum) {
		return
	}
	t.add(t.n.kids["layer"], Problem{
		Key:      t.name("layer"),
		Given:    "layers " + trim(math.Round(sum*1e6)/1e3) + " mm thick in all",
		Accepted: anyWidth.String() + " in all",
	})
}

func (d *decoder) layer(t *table, i int, whole sim.Joint) sim.Layer {
	l := sim.Layer{
		Material:  d.material(t, "material"),
		Thickness: t.need("thickness", unit.Length, anyLayer),
		Core:      t.isSet("core"),
		Joint:     d.joint(t, whole),
	}
	if i == 0 {
		l.Joint = sim.Joint{}
		for _, key := range []string{"joint", "conductance", "gap"} {
			if t.has(key) {
				t.wrong(key, t.n.kids[key], "no joint under the first layer: nothing lies under it",
					"a joint is given with the layer above it")
			}
		}
	}
	t.done()
	return l
}

// joint reads how two layers touch; whole is what the stack says.
func (d *decoder) joint(t *table, whole sim.Joint) sim.Joint {
	j := whole
	state := t.choice("joint", "ground", jointWords...)
	conductance := t.maybe("conductance", unit.Conductance, contact)
	gap := t.maybe("gap", unit.Length, anyGap)
	switch {
	case t.has("joint") && conductance != nil:
		t.clash("one of the two: the joint's state, or its conductance", "joint", "conductance")
	case conductance != nil:
		j = sim.Joint{State: sim.Given, Conductance: *conductance}
	case t.has("joint"):
		j = sim.Joint{State: sim.JointState(state)}
	}
	if gap != nil && j.State != sim.Gapped {
		t.wrong("gap", t.n.kids["gap"], `a gap only with joint = "gapped"`, "")
	}
	return d.fill(j, gap)
}

// fill puts in the numbers a joint's state stands for.
func (d *decoder) fill(j sim.Joint, gap *float64) sim.Joint {
	switch j.State {
	case sim.Gapped:
		if gap != nil {
			j.Gap = *gap
		} else if j.Gap == 0 {
			j.Gap = d.taken["gap"].value * 1e-3
		}
	case sim.Ground, sim.Scaled, sim.Fluxed:
		j.Conductance = d.taken["joint "+jointWords[j.State]].value
	}
	return j
}

// assumeJoints lists what is taken of the joints that are not given as a
// number.
func (d *decoder) assumeJoints() {
	words := map[sim.JointState]string{
		sim.Ground: "ground and tight", sim.Scaled: "tight with scale between", sim.Fluxed: "filled with liquid flux",
	}
	for i, l := range d.job.Stack.Layers {
		switch s := l.Joint.State; {
		case i == 0:
		case words[s] != "":
			d.assume("Joints taken as %s (%v).", words[s], d.taken["joint "+jointWords[s]])
		case s == sim.Gapped && l.Joint.Gap == d.taken["gap"].value*1e-3:
			d.assume("Gaps in the joints taken as %v mm.", d.taken["gap"].value)
		}
	}
}

// material reads a key that names a material.
func (d *decoder) material(t *table, key string) steel.Material {
	v := t.get(key)
	if v == nil {
		t.missing(key, `the name of a material, such as "1084"`)
		return steel.Material{}
	}
	return d.shelf.find(t, key, v)
}

func (d *decoder) weld() {
	t := d.sub("weld")
	w := &d.job.Weld
	w.Heat = t.quantity("heat", unit.Temperature, "1150 C", span{"600 C", "1500 C"})
	w.Flux = t.quantity("flux", unit.Temperature, "700 C", span{"100 C", "1500 C"})
	w.Hold = t.quantity("hold", unit.Time, "2 min", span{"0 s", "24 h"})
	if w.Flux >= w.Heat {
		key := "flux"
		if !t.has(key) {
			key = "heat"
		}
		t.wrong(key, t.n.kids[key], "flux heat below welding heat", "")
	}
	t.done()
}
