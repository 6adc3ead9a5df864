package sim

import (
	"context"
	"fmt"
	"math"

	"billet/layers"
	"billet/sim/heat"
)

// Lesson shows each cause of drift alone on this job's billet, then together,
// each flipped every pass and never.
type Lesson struct {
	Start  EndView
	Passes int     // squeezes in each scene
	Draft  float64 // share of the height in each
	Scenes []Scene
}

// Scene is one cause at work.
type Scene struct {
	Name    string // of the cause, or "together", or of what does not matter
	Title   string // a few words
	Why     string // one sentence
	Matters bool   // false: it makes no drift, and the scene shows it
	Never   EndView
	Flipped EndView
}

// The lesson's squeezes: eight of 14 % bring a square stack to under a third.
const (
	lessonPasses = 8
	lessonDraft  = 0.14
)

// lessonCase is what is wrong in a scene.
type lessonCase struct {
	colderK   float64 // lower side below upper
	sticky    bool    // lower die 0.6, upper 0.3
	unequal   float64 // share by which jackets differ
	stronger  float64 // share by which jacket A is stronger
	oneSided  bool    // hammered from one side
	slips     int     // first squeezes with the joints slipping
	grindMore float64 // m more off side A's face before the last squeeze
	topDriven bool    // rolls driven unevenly
}

// Teach is the lesson on this job's billet. The faults are of a size a shop
// meets: 50 K, a dry lower die, jackets 10 % apart.
func Teach(ctx context.Context, j *Job) (*Result, error) {
	if len(j.Stack.Layers) < 3 {
		return nil, fmt.Errorf("a lesson on drift needs a core between jackets; the job has %d layer(s)", len(j.Stack.Layers))
	}
	res := &Result{Job: j, Cautions: workCautions(j), Assumed: workAssumptions(j)}
	l := &Lesson{Passes: lessonPasses, Draft: lessonDraft}
	s, err := lessonStack(j, lessonCase{})
	if err != nil {
		return nil, err
	}
	l.Start = endView(j, s, 0, nil)
	for _, sc := range lessonScenes() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		scene := sc.scene
		for _, flip := range [2]bool{false, true} {
			v, err := lessonRun(j, sc.with, flip)
			if err != nil {
				return nil, fmt.Errorf("lesson, %s: %w", scene.Title, err)
			}
			if flip {
				scene.Flipped = v
			} else {
				scene.Never = v
			}
		}
		l.Scenes = append(l.Scenes, scene)
	}
	res.Lesson = l
	return res, nil
}

// lessonScenes are the scenes in order.
func lessonScenes() []struct {
	scene Scene
	with  lessonCase
} {
	type row = struct {
		scene Scene
		with  lessonCase
	}
	s := func(name, title, why string, matters bool) Scene {
		return Scene{Name: name, Title: title, Why: why, Matters: matters}
	}
	all := lessonCase{colderK: 50, sticky: true, unequal: 0.10, stronger: 0.10, oneSided: true, slips: 2, grindMore: 0.3e-3}
	return []row{
		{s(Temperature, "Cold lower side", "The side that lay on the die is 50 °C (90 °F) colder and so a good tenth stronger: its jacket spreads less, stays thick and pushes the core away.", true), lessonCase{colderK: 50}},
		{s(Friction, "Lower die sticks", "A rough, dry die holds its jacket back; the other one spreads and thins, and the core follows it.", true), lessonCase{sticky: true}},
		{s(StartJackets, "Unequal jackets", "A core that starts off the middle stays off by the same share of the thickness; no turning over mends it.", true), lessonCase{unequal: 0.10}},
		{s(StrengthName, "Jackets from two bars", "The stronger jacket thins less; it goes with the metal, so turning over does not help.", true), lessonCase{stronger: 0.10}},
		{s(ToolShape, "Hammered from one side", "On a thick bar the hammer works the near half more than the anvil works the far one: the core moves toward the hammer.", true), lessonCase{oneSided: true}},
		{s(Slip, "Heavy squeeze before the weld", "Layers that still slip spread each for itself; the hot soft one runs out, and what it lost stays lost when the weld sets.", true), lessonCase{colderK: 50, slips: 2}},
		{s(Losses, "More ground off one face", "What is taken off one face alone moves the middle by half of it.", true), lessonCase{grindMore: 0.3e-3}},
		{s("together", "All together", "The causes add up, and turning over takes out only those that belong to the tools.", true), all},
		{s("roll_speed", "One roll driven", "Welded layers share one length in a bar worked bite by bite or rolled straight, so unequal roll speeds and curl leave each layer its share; one long squeeze over most of the bar is another matter.", false), lessonCase{topDriven: true}},
	}
}

// lessonStack lays up the job's stack with a scene's faults in it.
func lessonStack(j *Job, c lessonCase) (*layers.Stack, error) {
	n, core := len(j.Stack.Layers), coreIndex(j)
	ls := make([]layers.Layer, n)
	even, err := newStack(j, changes{evenJackets: true, evenStrength: true})
	if err != nil {
		return nil, err
	}
	copy(ls, even.Layers())
	for i := range core {
		ls[i].Thickness *= 1 - c.unequal/2
		if k := 2*core - i; k < n {
			ls[k].Thickness *= 1 + c.unequal/2
			if base := ls[k].Strength; c.stronger != 0 {
				ls[k].Strength = func(e, r, t float64) float64 { return base(e, r, t) * (1 + c.stronger) }
			}
		}
	}
	return layers.NewStack(j.Stack.Width, j.Stack.Length, ls, nil, core, layers.Mesh{})
}

// lessonRun works a scene and returns the end view.
func lessonRun(j *Job, c lessonCase, flip bool) (EndView, error) {
	s, err := lessonStack(j, c)
	if err != nil {
		return EndView{}, err
	}
	down := layers.SideB
	for pass := range lessonPasses {
		if c.grindMore > 0 && pass == lessonPasses-1 {
			if err := s.Lay(layers.SideB); err != nil {
				return EndView{}, err
			}
			if _, _, err := s.Grind(c.grindMore, 0); err != nil {
				return EndView{}, err
			}
		}
		joints := make([]layers.Joint, len(s.Joints()))
		for i := range joints {
			joints[i] = layers.Joint{Welded: pass >= c.slips, Friction: slippery}
		}
		if _, err := s.SetJoints(joints); err != nil {
			return EndView{}, err
		}
		if err := s.Lay(down); err != nil {
			return EndView{}, err
		}
		to := s.Thickness() * (1 - lessonDraft)
		if _, err := lessonTool(j, c).Pass(s, layers.Pass{To: to, Temperature: lessonTemps(c, down)}); err != nil {
			return EndView{}, err
		}
		if flip {
			down = down.Opposite()
		}
	}
	return endView(j, s, lessonPasses, nil), nil
}

func lessonTool(j *Job, c lessonCase) layers.Tool {
	bottom, top := 0.4, 0.4
	if c.sticky {
		bottom, top = 0.6, 0.3
	}
	bite := j.Stack.Thickness()
	switch {
	case c.oneSided:
		return layers.Hammer{Energy: 1e4, PerS: 1, Face: bite, FrictionTop: top, FrictionBottom: bottom}
	case c.topDriven:
		return layers.Rolls{DiameterTop: 4 * bite, DiameterBottom: 4 * bite, RevPerS: 0.3, FrictionTop: top, FrictionBottom: bottom, Driven: layers.DrivenTop}
	}
	if p := j.Press; p != nil {
		bite = math.Min(p.Top.Along, p.Bottom.Along)
	}
	return layers.Press{Force: 1e9, Along: bite, Speed: 0.02, FrictionTop: top, FrictionBottom: bottom}
}

// lessonTemps is 1100 °C on the upper side and colder below by the scene's
// difference.
func lessonTemps(c lessonCase, down layers.Side) func(across, through float64) float64 {
	const hot = 1100 + 273.15
	a, b := hot, hot-c.colderK
	if down == layers.SideA {
		a, b = b, a
	}
	m := heat.Map{Y: []float64{0, 1}, Z: []float64{0, 1}, T: [][]float64{{b, b}, {a, a}}}
	return func(across, through float64) float64 { return m.At((across+1)/2, through) }
}
