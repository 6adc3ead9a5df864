package sim

import (
	"context"
	"errors"
	"fmt"
	"math"

	"billet/sim/heat"
	"billet/sim/metal"
)

// ErrNoHarden says that the job names no heat treatment.
var ErrNoHarden = errors.New("the job has no [harden]; give austenitise, quench and temper")

// Hardened is the heat treatment and what it makes of the blade. The scalars are
// the core at the edge (the whole bar without a blade).
type Hardened struct {
	Stages       []HardenStage // at the edge
	Critical     metal.Critical
	Heat         float64 // K, the hardening heat used
	Advised      float64 // K, the usual one for this core; NaN: it does not harden
	CarbonAtEdge float64 // %, left after the fire
	AsQuenched   metal.Hardness
	Tempered     metal.Hardness
	Through      bool
	Places       []HardenPlace
	Cycles       []metal.Cycle // advised for the core
	CycleNotes   []string
	Warp         metal.Warp
	Bow          float64 // m over the blade's length: an upper bound
	Risks        []metal.Risk
	TemperColour string
	Curve        TemperCurve
	Nose         metal.Nose
	Quenchant    metal.Quenchant
}

// HardenStage is one step and what the metal is at its end.
type HardenStage struct {
	Name          string
	Surface, Core float64 // K
	Time          float64 // s from the step's own start
}

// HardenPlace is one place of the blade, as a slab of the thickness there.
type HardenPlace struct {
	Place     string
	Thickness float64 // m
	Stages    []HardenStage
	Layers    []HardenedLayer
	Time      []float64 // s in the quench
	Surface   []float64 // K
	Middle    []float64 // K
}

// HardenedLayer is one layer at a place.
type HardenedLayer struct {
	Material  string
	Thickness float64 // m
	Carbon    float64 // %
	metal.Hardened
}

// TemperCurve is the core's hardness against the temperature of the same tempers.
type TemperCurve struct {
	TempK, HRC []float64
	Within     float64
}

// HardenBlade works the heat treatment through the blade. so is what is known of
// the bar already (its Ground and Losses); nil: worked out here as far as the
// job says.
func HardenBlade(ctx context.Context, j *Job, opt Options, so *Result) (*Result, error) {
	if j.Harden == nil {
		return nil, ErrNoHarden
	}
	res := &Result{Job: j, Assumed: append([]string(nil), j.Assumed...)}
	if so == nil {
		so = &Result{}
		if j.Blade != nil || len(j.Passes) > 0 || j.Target != nil {
			var err error
			if so, err = beforeHardening(ctx, j, opt); err != nil {
				return nil, err
			}
			res.add(so)
		}
	}
	q, err := metal.QuenchantByName(quenchNames[j.Harden.Quench])
	if err != nil {
		return nil, err
	}
	h := &hardener{job: j, so: so, q: q, out: &Hardened{Quenchant: q, Heat: j.Harden.Austenitise}}
	if err := h.work(ctx); err != nil {
		return nil, err
	}
	res.Hardened = h.out
	res.Ground, res.Losses = so.Ground, so.Losses
	res.Cautions = appendNew(res.Cautions, h.hazards().Cautions()...)
	res.Assumed = append(res.Assumed,
		fmt.Sprintf("Film of %s good to a factor of %.1f; each place cools as a slab of its own thickness.", q.Name, q.Spread),
		"Pearlite's nose is good to a factor of two; a coarser grain hardens deeper.")
	return res, nil
}

// quenchNames are the quenchants' names, by Quench.
var quenchNames = [...]string{FastOil: "fast oil", SlowOil: "slow oil", Water: "water", Brine: "brine", Plates: "plates", StillAir: "air"}

// beforeHardening is the bar, its losses and what the bevels show.
func beforeHardening(ctx context.Context, j *Job, opt Options) (*Result, error) {
	if len(j.Passes) == 0 && j.Target == nil {
		return Grind(ctx, j, opt)
	}
	res, w, err := passes(ctx, j, opt)
	if err != nil {
		return nil, err
	}
	if !w.cold {
		if err := w.addLosses(res); err != nil {
			return nil, err
		}
	}
	if j.Blade != nil {
		res.Ground, err = grindFrom(j, w.bar())
	}
	return res, err
}

type hardener struct {
	job *Job
	so  *Result
	q   metal.Quenchant
	out *Hardened
}

// slab is a place's thickness and what it is made of, B to A.
type slab struct {
	place  string
	layers []slabLayer
}

type slabLayer struct {
	index int // in the stack
	thick float64
}

func (s slab) thickness() float64 {
	t := 0.0
	for _, l := range s.layers {
		t += l.thick
	}
	return t
}

func (h *hardener) work(ctx context.Context) error {
	core := coreIndex(h.job)
	c := h.composition(core)
	o := h.out
	o.CarbonAtEdge = c.C
	o.Critical, o.Advised, o.Nose = metal.CriticalPoints(c), metal.HardeningHeat(c), metal.PearliteNose(c)
	var jackets []metal.Composition
	for i := range h.job.Stack.Layers {
		if i != core {
			jackets = append(jackets, h.composition(i))
		}
	}
	o.Cycles, o.CycleNotes = metal.AdviseCycles(c, jackets)
	for _, s := range h.slabs() {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := h.place(s, core); err != nil {
			return fmt.Errorf("harden, %s: %w", s.place, err)
		}
	}
	if err := h.warp(core); err != nil {
		return err
	}
	return h.edge(core)
}

// composition is a layer's, with the carbon the fire left in it.
func (h *hardener) composition(i int) metal.Composition {
	c := metal.Of(h.job.Stack.Layers[i].Material)
	if l := h.so.Losses; l != nil {
		if i == coreIndex(h.job) {
			return c.With(l.CarbonAtEdge)
		}
		if i < len(l.Layers) {
			return c.With(l.Layers[i])
		}
	}
	return c
}

// slabs are the places worked: edge, mid bevel and spine of the blade, or the
// bar.
func (h *hardener) slabs() []slab {
	g := h.so.Ground
	if g == nil {
		var all []slabLayer
		for i, l := range h.job.Stack.Layers {
			t := l.Thickness
			if w := h.so.Work; w != nil {
				t = w.Final.Layers[i].Thickness
			}
			all = append(all, slabLayer{i, t})
		}
		return []slab{{"bar", all}}
	}
	b := g.Blade
	return []slab{h.cut("edge", leastSlab), h.cut("mid bevel", b.Grind.Height/2), h.cut("spine", 0.98*b.Height)}
}

// leastSlab is how far above the edge "the edge" is read, m: a slab has no
// corner.
const leastSlab = 1e-3

// cut is the blade's section at height u, half way along, as a slab.
func (h *hardener) cut(place string, u float64) slab {
	g := h.so.Ground
	mid := g.Answer.Mid
	p := g.Blade.ProfileAt(g.Blade.Length / 2)
	_, lowFace := mid.Pose.Bar(u, p.B(u))
	y, highFace := mid.Pose.Bar(u, p.A(u))
	section := g.Bar.Sections[len(g.Bar.Sections)/2]
	s := slab{place: place}
	for i := 0; i+1 < len(section.Lines); i++ {
		lo := math.Max(section.Lines[i].At(y), lowFace)
		hi := math.Min(section.Lines[i+1].At(y), highFace)
		if hi-lo > 1e-5 {
			s.layers = append(s.layers, slabLayer{i, hi - lo})
		}
	}
	if len(s.layers) == 0 {
		s.layers = []slabLayer{{coreIndex(h.job), math.Max(1e-4, highFace-lowFace)}}
	}
	return s
}

// place heats, quenches and tempers one slab.
func (h *hardener) place(s slab, core int) error {
	o := HardenPlace{Place: s.place, Thickness: s.thickness()}
	body := heat.Body{Width: 0.02, Length: 0.1, Dims: 1, CoreAt: s.thickness() / 2}
	for k, l := range s.layers {
		hl := heat.Layer{Material: h.job.Stack.Layers[l.index].Material, Thickness: l.thick}
		if k > 0 {
			hl.Joint = heat.Joint{State: heat.Welded}
		}
		body.Layers = append(body.Layers, hl)
	}
	if err := h.heatUp(body, &o); err != nil {
		return err
	}
	if err := h.quench(body, &o); err != nil {
		return err
	}
	for _, l := range s.layers {
		made, err := metal.HardenLayer(h.composition(l.index), h.job.Harden.Austenitise, o.Time, o.Middle, h.tempers())
		if err != nil {
			return err
		}
		o.Layers = append(o.Layers, HardenedLayer{Material: h.job.Stack.Layers[l.index].Material.Name, Thickness: l.thick,
			Carbon: h.composition(l.index).C, Hardened: made})
	}
	for i, t := range h.job.Harden.Temper {
		o.Stages = append(o.Stages, HardenStage{Name: fmt.Sprintf("temper %d", i+1), Surface: t.Temperature, Core: t.Temperature, Time: t.Time})
	}
	risks, err := metal.QuenchRisks(s.place, h.bladeLayers(s, o), coreOf(s, core), h.job.Harden.Austenitise, h.q)
	if err != nil {
		return err
	}
	h.out.Risks = append(h.out.Risks, risks...)
	h.out.Places = append(h.out.Places, o)
	return nil
}

// coreOf is the core's number in the slab; the middle layer where it isn't there.
func coreOf(s slab, core int) int {
	for k, l := range s.layers {
		if l.index == core {
			return k
		}
	}
	return len(s.layers) / 2
}

func (h *hardener) bladeLayers(s slab, o HardenPlace) []metal.BladeLayer {
	var out []metal.BladeLayer
	for k, l := range s.layers {
		out = append(out, metal.BladeLayer{Name: o.Layers[k].Material, C: h.composition(l.index), Thickness: l.thick,
			Hardens: o.Layers[k].Transforms && o.Layers[k].Race.Pearlite < 0.5})
	}
	return out
}

func (h *hardener) tempers() []metal.Temper {
	var out []metal.Temper
	for _, t := range h.job.Harden.Temper {
		out = append(out, metal.Temper{TempK: t.Temperature, TimeS: t.Time})
	}
	return out
}

// hardenAccuracy is the accuracy of the heat in hardening, K.
const hardenAccuracy = 2.0

// heatUp runs the cycles and the hardening heat in a kiln.
func (h *hardener) heatUp(b heat.Body, o *HardenPlace) error {
	const film, emissivity = 8.0, 0.8 // still air of a kiln, scaled steel
	type step struct {
		name string
		k, s float64
	}
	var steps []step
	for i, k := range h.job.Harden.Cycles {
		steps = append(steps, step{fmt.Sprintf("cycle %d", i+1), k, 0})
	}
	steps = append(steps, step{"austenitise", h.job.Harden.Austenitise, h.job.Harden.Soak})
	for _, st := range steps {
		in := heat.All(heat.Surround{Wall: heat.Constant(st.k), Gas: heat.Constant(st.k), Film: film, Emissivity: emissivity})
		f, err := heat.New(b, h.job.Air.Wall.At(0), heat.Options{Accuracy: hardenAccuracy, All: []heat.Surroundings{in}})
		if err != nil {
			return err
		}
		const near = 5.0 // K
		if _, err := f.Run(heat.Stage{In: in, End: heat.End{On: heat.Core, Temperature: st.k - near, Hold: st.s}}, nil); err != nil {
			return err
		}
		o.Stages = append(o.Stages, HardenStage{Name: st.name, Surface: f.Read(heat.Skin), Core: f.Read(heat.Core), Time: f.Time()})
	}
	return nil
}

// quench cools the slab from the hardening heat and keeps its curve.
func (h *hardener) quench(b heat.Body, o *HardenPlace) error {
	start := h.job.Harden.Austenitise
	in := heat.All(h.bath())
	f, err := heat.New(b, start, heat.Options{Accuracy: hardenAccuracy, All: []heat.Surroundings{in}})
	if err != nil {
		return err
	}
	rec := &heat.History{}
	const near = 15.0 // K above the bath
	longest := 60.0
	if !h.q.Liquid() {
		longest = 1800
	}
	for f.Time() < longest && f.Read(heat.Core) > h.q.BathK+near {
		if _, err := f.Run(heat.Stage{In: in, End: heat.End{Timed: true, Time: longest / 20}}, &heat.Monitor{Record: rec}); err != nil {
			return err
		}
	}
	o.Time, o.Surface, o.Middle = rec.Time, rec.Skin, rec.Core
	o.Stages = append(o.Stages, HardenStage{Name: "quench in " + h.q.Name, Surface: f.Read(heat.Skin), Core: f.Read(heat.Core), Time: f.Time()})
	return nil
}

// bath is the quenchant as surroundings.
func (h *hardener) bath() heat.Surround {
	c := &heat.FilmCurve{}
	for k := 273.15; k <= 1373.15; k += 10 {
		c.T, c.H = append(c.T, k), append(c.H, h.q.Film(k))
	}
	s := heat.Surround{Gas: heat.Constant(h.q.BathK), FilmOf: c}
	if !h.q.Liquid() && h.job.Harden.Quench == StillAir {
		s.Wall, s.Emissivity = heat.Constant(h.q.BathK), 0.8
	}
	return s
}

// warp is which way the blade bows, judged where most of it is: mid bevel.
func (h *hardener) warp(core int) error {
	places := h.slabs()
	s := places[len(places)/2]
	w, err := metal.QuenchWarp(h.bladeLayers(s, h.out.Places[len(places)/2]))
	if err != nil {
		return err
	}
	h.out.Warp = w
	length := h.job.Stack.Length
	if b := h.job.Blade; b != nil {
		length = b.Length
	}
	h.out.Bow = w.Bow(length)
	return nil
}

// edge takes the scalars from the core at the edge.
func (h *hardener) edge(core int) error {
	o := h.out
	p := o.Places[0]
	o.Stages = p.Stages
	name := h.job.Stack.Layers[core].Material.Name
	for _, l := range p.Layers {
		if l.Material == name {
			o.AsQuenched, o.Tempered, o.Through = l.AsQuenched, l.Tempered, l.Through
		}
	}
	for _, q := range o.Places[1:] {
		for _, l := range q.Layers {
			if l.Material == name {
				o.Through = o.Through && l.Through
			}
		}
	}
	if t := h.job.Harden.Temper; len(t) > 0 {
		o.TemperColour = metal.TemperColourAt(t[len(t)-1].Temperature)
	}
	return h.temperCurve(core)
}

// temperCurve is the same tempers at other temperatures.
func (h *hardener) temperCurve(core int) error {
	t := h.tempers()
	if len(t) == 0 || !h.out.Places[0].Layers[coreOf(h.slabs()[0], core)].Transforms {
		return nil
	}
	for c := 150.0; c <= 600; c += 25 {
		for i := range t {
			t[i].TempK = c + 273.15
		}
		v, err := metal.Tempered(h.composition(core), h.out.AsQuenched, t)
		if err != nil {
			return nil // no law for this steel: no curve
		}
		h.out.Curve.TempK, h.out.Curve.HRC = append(h.out.Curve.TempK, c+273.15), append(h.out.Curve.HRC, v.HRC)
		h.out.Curve.Within = v.Within
	}
	return nil
}

func (h *hardener) hazards() metal.Hazards {
	// The forge and the grinder have had their say where the bar was worked.
	alone := h.so.Work == nil && h.so.Soak == nil
	z := metal.Hazards{Quench: h.q.Name, Grinding: alone}
	for i := range h.job.Stack.Layers {
		c := metal.Of(h.job.Stack.Layers[i].Material)
		z.Nickel = z.Nickel || c.Ni > 1
		z.Chromium = z.Chromium || c.Cr > 10
	}
	return z
}
