package sim

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"billet/sim/metal"
)

// ErrNoHeats says that nothing is heated in the job.
var ErrNoHeats = errors.New("every pass prescribes its temperature, so there are no heats to lose anything in")

// Lost is what the fire did to the metal, heat by heat.
type Lost struct {
	Heats        []HeatLoss
	CarbonAtEdge float64 // %, in the core where the blade's edge will lie; mid core without a blade
	Transition   float64 // m, 10–90 % of the carbon step at the core's joint; 0: none left
	Levelled     int     // the heat after which the layers' carbon had levelled to a twentieth; 0: not
	Decarb       [2]float64
	DecarbFound  [2]bool // false: the face began with too little carbon to speak of
	Grain        float64 // m, after the last heat
	// Layers is the mean carbon left in each layer, %, by its number in the
	// stack; what scale has eaten whole keeps what it began with.
	Layers []float64
}

// HeatLoss is one heat and the passes after it.
type HeatLoss struct {
	Number         int
	ScaleA, ScaleB float64 // m of steel lost so far in this heat
	MassShare      float64 // of the stack's mass, in this heat
	Decarb         float64 // m, the deeper face, in the metal as it is then
	Grain          float64 // m
	Z, Carbon      []float64
}

// FireLosses works the bar and follows carbon, scale and grain through its heats.
func FireLosses(ctx context.Context, j *Job, opt Options) (*Result, error) {
	if len(j.Passes) == 0 && j.Target == nil {
		return soakLosses(ctx, j)
	}
	res, w, err := passes(ctx, j, opt)
	if err != nil {
		return nil, err
	}
	if w.cold {
		return nil, ErrNoHeats
	}
	return res, w.addLosses(res)
}

// soakLosses is the losses of the soak alone, where the job has no passes.
func soakLosses(ctx context.Context, j *Job) (*Result, error) {
	res := &Result{Job: j, Assumed: append([]string(nil), j.Assumed...), Cautions: forgeCautions()}
	w, err := startWork(ctx, j, nil)
	if err != nil {
		return nil, err
	}
	if err := w.reheat(nil); err != nil {
		return nil, err
	}
	w.final()
	return res, w.addLosses(res)
}

// addLosses replays what the metal went through.
func (w *worker) addLosses(res *Result) error {
	t := w.middle().track
	t.close()
	lost, warnings, err := replayLosses(w.ctx, w.job, t.events)
	if err != nil {
		return err
	}
	res.Losses = lost
	res.Warnings = append(res.Warnings, warnings...)
	res.Assumed = append(res.Assumed,
		w.job.gas(InForge).Assumed,
		"Scale is good to a factor of two, carbon's reach to a tenth; passes and the brush take the scale off.",
		strings.Join(metal.GrainAssumptions(), " "),
		"Carbon crosses a joint only once it has been pressed together.")
	return nil
}

// lossRun is the replay of the track.
type lossRun struct {
	job    *Job
	carbon *metal.Carbon
	skins  [2]*metal.Skin
	grain  *metal.Grain // of the core
	out    *Lost
	begin  [2]float64 // recession at the start of the heat, m
	mass   float64    // kg/m2 of the stack
	last   float64    // K, mean temperature at the last moment followed
	began  bool
}

// levelledTo is the share of the starting contrast at which fine layers count as
// levelled.
const levelledTo = 0.05

func replayLosses(ctx context.Context, j *Job, events []event) (*Lost, []string, error) {
	n := len(j.Stack.Layers)
	ls := make([]metal.Layer, n)
	r := &lossRun{job: j, out: &Lost{}, skins: newTrack(j).skins, grain: metal.NewGrain(metal.Of(j.Stack.Layers[coreIndex(j)].Material), nil)}
	for i, l := range j.Stack.Layers {
		ls[i] = metal.Layer{Material: l.Material, Thickness: l.Thickness, Open: i > 0 && l.Joint.State != Welded}
		r.mass += l.Material.Density * l.Thickness
	}
	var err error
	if r.carbon, err = metal.NewCarbon(ls, metal.Options{}); err != nil {
		return nil, nil, err
	}
	for _, e := range events {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if err := r.do(e); err != nil {
			return nil, nil, fmt.Errorf("losses: %w", err)
		}
	}
	r.endHeat()
	r.finish()
	return r.out, appendNew(r.carbon.Warnings(), r.grain.Warnings()...), nil
}

func (r *lossRun) do(e event) error {
	switch e.kind {
	case wasHeated:
		gas := r.job.gas(e.place)
		r.carbon.Faces(gas, gas)
		h := fitFaces(e.history, r.carbon)
		if err := metal.Burn(r.carbon, r.skins[0], r.skins[1], h); err != nil {
			return err
		}
		if err := r.grow(h); err != nil {
			return err
		}
	case wasThinned:
		if !r.began {
			r.carbon.Weld()
			r.began = true
		}
		for _, s := range r.skins {
			s.Descale()
			s.Drawn(e.area)
		}
		r.grain.Worked(-math.Log(math.Min(1, math.Max(1e-3, meanOf(e.factors)))), r.last)
		b, _ := r.carbon.Gone()
		f := e.factors
		if b+r.carbon.Layers() <= len(f) {
			f = f[b : b+r.carbon.Layers()]
		}
		if len(f) != r.carbon.Layers() {
			return r.carbon.Thin(meanOf(e.factors))
		}
		return r.carbon.ThinLayers(f)
	case wasGround:
		return r.carbon.Grind(e.off[0], e.off[1])
	case wasStacked:
		r.began = false
		return r.carbon.Restack(e.pieces, e.off[0])
	case heatEnded:
		r.endHeat()
		r.out.Heats = append(r.out.Heats, HeatLoss{Number: len(r.out.Heats) + 1})
	}
	return nil
}

// fitFaces gives a history as many faces as the carbon has layers left.
func fitFaces(h metal.History, c *metal.Carbon) metal.History {
	b, _ := c.Gone()
	want := c.Layers() + 1
	out := make(metal.History, len(h))
	for i, s := range h {
		t := s.TempK
		if len(t) >= b+want {
			t = t[b : b+want]
		}
		if len(t) != want {
			t = []float64{meanOf(t)}
		}
		out[i] = metal.Sample{Time: s.Time, TempK: t}
	}
	return out
}

func meanOf(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / math.Max(1, float64(len(v)))
}

// endHeat writes what the heat and its passes left.
func (r *lossRun) endHeat() {
	if len(r.out.Heats) == 0 {
		return
	}
	h := &r.out.Heats[len(r.out.Heats)-1]
	h.ScaleB, h.ScaleA = r.skins[0].Recession()-r.begin[0], r.skins[1].Recession()-r.begin[1]
	r.begin = [2]float64{r.skins[0].Recession(), r.skins[1].Recession()}
	density := r.job.Stack.Layers[0].Material.Density
	h.MassShare = r.sides() * (h.ScaleA + h.ScaleB) * density / r.mass
	h.Z, h.Carbon = r.carbon.Profile()
	for _, s := range [2]metal.Side{metal.SideB, metal.SideA} {
		if d, ok := r.carbon.DecarbDepth(s); ok {
			h.Decarb = math.Max(h.Decarb, d)
		}
	}
	h.Grain = r.grain.Size()
	if r.out.Levelled == 0 && len(r.job.Stack.Layers) > 3 && r.carbon.Levelled(levelledTo) {
		r.out.Levelled = h.Number
	}
}

// sides is the loss of all six faces over that of the two broad ones.
func (r *lossRun) sides() float64 {
	t, w, l := r.job.Stack.Thickness(), r.job.Stack.Width, r.job.Stack.Length
	return 1 + t/w + t/l
}

// finish reads the end of it all.
func (r *lossRun) finish() {
	core := coreIndex(r.job)
	b, _ := r.carbon.Gone()
	for i, l := range r.job.Stack.Layers {
		c := l.Material.Carbon
		if k := i - b; k >= 0 && k < r.carbon.Layers() {
			c = r.carbon.Mean(k)
		}
		r.out.Layers = append(r.out.Layers, c)
	}
	if k := core - b; k >= 0 && k < r.carbon.Layers() {
		r.out.CarbonAtEdge = r.carbon.InLayer(k, 0.5)
		if k > 0 {
			if w, ok, err := r.carbon.TransitionWidth(k - 1); ok && err == nil {
				r.out.Transition = w
			}
		}
	}
	for i, s := range [2]metal.Side{metal.SideB, metal.SideA} {
		r.out.Decarb[i], r.out.DecarbFound[i] = r.carbon.DecarbDepth(s)
	}
	r.out.Grain = r.grain.Size()
}

// grow lets the core's grain live through a history at its mean temperature.
func (r *lossRun) grow(h metal.History) error {
	times, temps := make([]float64, len(h)), make([]float64, len(h))
	for i, s := range h {
		times[i], temps[i] = s.Time, meanOf(s.TempK)
	}
	r.last = temps[len(temps)-1]
	return r.grain.Run(times, temps)
}
