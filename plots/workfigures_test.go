package plots

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"billet/layers"
	"billet/sim"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
)

// plainWork is a small result with round numbers, for exact checks: two
// presses in heat 1, one in heat 2, and both faces ground.
func plainWork() *sim.Result {
	r := usual().result()
	for i := range r.Job.Stack.Layers {
		r.Job.Stack.Layers[i].Thickness = 0.01
	}
	r.Soak = nil
	r.Job.Handling.WorkAbove = 1173.15
	k := func(c float64) float64 { return c + 273.15 }
	size := func(h, b float64) sim.Sizes { return sim.Sizes{Thickness: h, Width: b, Length: 0.1} }
	press := func(n, heat int, after sim.Sizes, mean, a, b, force, off float64) sim.PassDone {
		return sim.PassDone{Number: n, Heat: heat, After: after, Temperature: k(mean), SideA: k(a), SideB: k(b), Coldest: k(mean),
			Force: force, ForceRange: [2]float64{0.9 * force, 1.1 * force}, Within: force <= 200e3, Offset: off, Welded: float64(n) / 2,
			Limits: []layers.Limit{{What: "press force", Demand: force, Allowed: 200e3, Unit: "N"}}}
	}
	w := &sim.Work{Start: size(0.03, 0.04), Can: true, Heats: 2, Passes: []sim.PassDone{
		press(1, 1, size(0.025, 0.042), 1100, 1120, 1050, 100e3, 0.2e-3),
		press(2, 1, size(0.020, 0.046), 1000, 1020, 950, 170e3, 0.6e-3),
		press(3, 2, size(0.015, 0.050), 1080, 1030, 1100, 150e3, 0.3e-3),
		{Number: 4, Tool: sim.ByGrind, Heat: 2, After: size(0.014, 0.050), Offset: 0.4e-3, Welded: 1, Within: true},
	}}
	for i := range 5 {
		off := 0.0
		if i > 0 {
			off = w.Passes[i-1].Offset
		}
		v := bulged(r.Job, size(0.03-0.004*float64(i), 0.04), off)
		v.Pass = i
		w.Sections = append(w.Sections, v)
	}
	w.Final = sim.BarEnd{Sizes: size(0.014, 0.050), Offset: 0.4e-3, WidthRange: [2]float64{0.048, 0.053}, OffsetRange: [2]float64{0.35e-3, 0.5e-3},
		Along: sim.Line{At: []float64{0.025, 0.075}, Value: []float64{0.3e-3, 0.5e-3}}, AlongThick: []float64{0.0138, 0.0142},
		Across: sim.Line{At: []float64{-0.02, 0, 0.02}, Value: []float64{0.1e-3, 0.4e-3, -0.1e-3}}}
	w.Causes = []sim.Cause{{Name: sim.Temperature, Offset: 0.5e-3}, {Name: sim.Friction}, {Name: sim.Slip, Offset: -0.2e-3}, {Name: sim.Interaction, Offset: 0.1e-3}}
	w.Flips = []sim.Flipped{
		{Habit: sim.FlipNever, Offset: 0.9e-3, ByPass: []float64{0.2e-3, 0.6e-3, 0.8e-3, 0.9e-3}},
		{Habit: sim.FlipEveryHeat, Offset: 0.4e-3, ByPass: []float64{0.2e-3, 0.6e-3, 0.3e-3, 0.4e-3}, IsCurrent: true}}
	r.Work = w
	return r
}

func TestPassesSizeData(t *testing.T) {
	p := passesSize(plainWork())
	if want := "4 passes in 2 heats bring the bar from 30.0 mm × 40.0 mm to 14.0 mm × 50.0 mm"; plain(p.size.title) != want {
		t.Errorf("title %q; %q", plain(p.size.title), want)
	}
	for i, want := range [][]float64{{40, 42, 46, 50, 50}, {30, 25, 20, 15, 14}} {
		if d := cmp.Diff(want, p.size.lines[i].y, closeTo); d != "" {
			t.Error(d)
		}
		if d := cmp.Diff([]float64{0, 1, 2, 3, 4}, p.size.lines[i].x); d != "" {
			t.Error(d)
		}
	}
	// Heats by pass; the ground pass belongs to none.
	if d := cmp.Diff([]heatBand{{0.5, 2.5, 1}, {2.5, 3.5, 2}}, p.heats, cmp.AllowUnexported(heatBand{})); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]band{{0.5, 3.5, int(sim.ByPress)}, {3.5, 4.5, int(sim.ByGrind)}}, p.tools, cmp.AllowUnexported(band{})); d != "" {
		t.Error(d)
	}
	// Temperatures in a piece for each heat, none for the cold pass.
	type piece struct {
		Name string
		X, Y []float64
	}
	var got []piece
	for _, l := range p.heat.lines {
		got = append(got, piece{l.name, l.x, l.y})
	}
	if d := cmp.Diff([]piece{{"mean", []float64{1, 2}, []float64{1100, 1000}}, {"mean", []float64{3}, []float64{1080}},
		{"side A", []float64{1, 2}, []float64{1120, 1020}}, {"side A", []float64{3}, []float64{1030}},
		{"side B", []float64{1, 2}, []float64{1050, 950}}, {"side B", []float64{3}, []float64{1100}}}, got, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, p.sheet(), "heat 1", "heat 2", "mm", "°C", "press", "start", "4", "pass", "width 50.0 mm", "at most 53.0 mm",
		"at least 48.0 mm", "thickness 14.0 mm", "mean 1080 °C", "side A 1030 °C", "side B 1100 °C", "work above 900 °C",
		"Boning knife, three layers · 3 layers, 30.0 mm thick, 40.0 mm wide, 140 mm long · ends 100 mm long")
}

// TestWidthRange: a range that the width does not lie in is not drawn.
func TestWidthRange(t *testing.T) {
	r := plainWork()
	r.Work.Final.WidthRange = [2]float64{0.030, 0.040}
	if p := passesSize(r); len(p.size.lines) != 2 || p.width != [2]float64{} {
		t.Errorf("%d lines, range %v; width and thickness alone", len(p.size.lines), p.width)
	}
}

// TestColdestPlace: a place along the bar that is colder is shown, for the
// working floor is judged on it.
func TestColdestPlace(t *testing.T) {
	r := plainWork()
	r.Work.Passes[1].Coldest -= 40
	p := passesSize(r)
	mustSay(t, p.sheet(), "coldest place 1080 °C")
	if got := p.heat.lines[0].y[1]; math.Abs(got-960) > 1e-9 {
		t.Errorf("coldest place %g °C; 960", got)
	}
}

func TestPassesForceData(t *testing.T) {
	k := passesForce(plainWork())
	if want := "Past the red stop in pass 2: up to 85 % of the press’s force"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	if len(k.panels) != 1 {
		t.Fatalf("%d panels; force alone", len(k.panels))
	}
	p := k.panels[0]
	if d := cmp.Diff([]bar{{at: 1, value: 100, low: 90, high: 110, share: 0.5, label: "50 %"},
		{at: 2, value: 170, low: 153, high: 187, share: 0.85, red: true, label: "85 %"},
		{at: 3, value: 150, low: 135, high: 165, share: 0.75, label: "75 %"}, {at: 4}}, p.bars, cmp.AllowUnexported(bar{}), closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]limitRun{{0.5, 3.5, 160, "red stop, 80 %", true, sim.ByPress}, {0.5, 3.5, 200, "press 200 kN", false, sim.ByPress}}, p.limits,
		cmp.AllowUnexported(limitRun{}), closeTo); d != "" {
		t.Error(d)
	}
	for i, want := range []any{hueFine, hueNear, hueFine} {
		if got := p.bars[i].ink(); got != want {
			t.Errorf("bar %d: ink %v; %v", i+1, got, want)
		}
	}
	mustSay(t, k.sheet(), "kN", "force", "85 %", "red stop, 80 %", "press 200 kN", "grind", "1", "4")
}

func TestForceTitles(t *testing.T) {
	over, fine := plainWork(), plainWork()
	p := &over.Work.Passes[2]
	p.Limits[0].Demand, p.Within, p.StallsAt = 260e3, false, 0.0175
	fine.Work.Passes = fine.Work.Passes[:1]
	rolls := works()["rolls"]
	rolls.limit = 1e6
	bite := rolls.result()
	bite.Work.Passes[3].Within, bite.Work.Passes[3].Limits[1].Demand = false, 0.58
	both := plainWork()
	both.Work.Passes = both.Work.Passes[:2]
	both.Work.Passes[0].Within, both.Work.Passes[1].Within, both.Work.Passes[0].Tool = false, false, sim.ByRolls
	both.Work.Passes[1].Limits[0].Allowed = 100e3
	blow := works()["hammer"].result()
	blow.Work.Passes[1].Within = false
	for want, r := range map[string]*sim.Result{
		"Too much for the machines in passes 1, 2: up to 170 % of the allowed force":                     both,
		"Too much for the press in pass 3: up to 130 % of the allowed force; it stalls first at 17.5 mm": over,
		"The press can: at most 50 % of the allowed force, in pass 1":                                    fine,
		"Too much for the rolls in pass 4: up to 200 % of the allowed tangent of the bite angle":         bite,
		"The hammer moves the metal in every pass":                                                       works()["hammer"].result(),
		"Too much for the hammer in pass 2: a blow moves next to nothing":                                blow,
	} {
		if got := plain(passesForce(r).title); got != want {
			t.Errorf("title %q; %q", got, want)
		}
	}
}

// TestRollsForce: rolls have power, torque and bite in panels of their own.
func TestRollsForce(t *testing.T) {
	k := passesForce(works()["rolls"].result())
	var heads []string
	for _, p := range k.panels {
		heads = append(heads, p.head)
	}
	if d := cmp.Diff([]string{"force", "power of the rolls", "torque on a roll", "bite: tangent of its angle, against grip"}, heads); d != "" {
		t.Error(d)
	}
	if got := k.panels[1].bars[0].value; math.Abs(got-1.8) > 1e-12 {
		t.Errorf("power %g kW; 1.8", got)
	}
	if n := len(k.panels[0].limits); n != 1 {
		t.Errorf("%d limits of force; the rolls' alone, no red stop", n)
	}
	mustSay(t, k.sheet(), "rolls 4.0 kW", "rolls 0.29", "rolls 220 kN", "kW", "N m")
}

func TestHammerForce(t *testing.T) {
	k := passesForce(works()["hammer"].result())
	mustSay(t, k.sheet(), "12×", "16×")
	if k.panels[0].bars[0].share != 0 || len(k.panels[0].limits) != 0 {
		t.Error("a hammer has no limit of force")
	}
}

func TestPassAxis(t *testing.T) {
	for n, want := range map[int][]float64{1: {0, 1}, 4: {0, 1, 2, 3, 4}, 40: {0, 5, 10, 15, 20, 25, 30, 35, 40}} {
		a := passAxis(0, n)
		if d := cmp.Diff(want, a.ticks); d != "" || a.min != -0.5 || a.max != float64(n)+0.5 || a.label(0) != "start" {
			t.Errorf("%d passes: %v from %g to %g: %s", n, a.ticks, a.min, a.max, d)
		}
	}
	if got := passAxis(1, 3).ticks; !cmp.Equal(got, []float64{1, 2, 3}) {
		t.Errorf("without the start: %v", got)
	}
}

func TestPassList(t *testing.T) {
	for want, n := range map[string][]int{"pass 3": {3}, "passes 1, 2": {1, 2}, "passes 1 to 3, 5, 7 to 9": {1, 2, 3, 5, 7, 8, 9}} {
		if got := passList(n); got != want {
			t.Errorf("%v: %q; %q", n, got, want)
		}
	}
}

func TestDriftPassesData(t *testing.T) {
	k := driftPasses(plainWork())
	if want := "The core ends 0.40 mm toward A; never turned over it would end 0.90 mm toward A"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	for i, want := range []struct {
		y     []float64
		label string
	}{
		{[]float64{0, 0.2, 0.6, 0.8, 0.9}, "never turned 0.90 mm to A"},
		{[]float64{0, 0.2, 0.6, 0.3, 0.4}, "this job, every heat 0.40 mm to A"},
	} {
		if d := cmp.Diff(want.y, k.lines[i].y, closeTo); d != "" || k.lines[i].label != want.label {
			t.Errorf("%q; %q: %s", k.lines[i].label, want.label, d)
		}
	}
	if d := cmp.Diff([]float64{4, 0.35, 0.5}, []float64{k.ends[0].at, k.ends[0].low, k.ends[0].high}, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([2]float64{0, 1}, [2]float64{k.chart.y.min, k.chart.y.max}, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "↑ core toward side A", "mm", "start", "heat 1", "press")
}

func TestFlipTitles(t *testing.T) {
	better, same, alone, none := plainWork(), plainWork(), plainWork(), plainWork()
	better.Work.Flips[0].Offset = -0.02e-3
	same.Work.Flips[0].Offset = -0.41e-3
	alone.Work.Flips = nil
	none.Work.Passes[3].Offset, none.Work.Flips[0].Offset = 1e-9, 2e-9
	for want, r := range map[string]*sim.Result{
		"The core ends 0.40 mm toward A; never turned over it would end 0.02 mm toward B":      better,
		"The core ends 0.40 mm toward A; how often the bar is turned over makes no difference": same,
		"The core ends 0.40 mm toward A": alone,
		"The core ends on the middle; how often the bar is turned over makes no difference": none,
	} {
		if got := plain(driftPasses(r).title); got != want {
			t.Errorf("title %q; %q", got, want)
		}
	}
}

func TestDriftCausesData(t *testing.T) {
	k := driftCauses(plainWork())
	if want := "The core ends 0.40 mm toward A, most of all because one side is colder"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	var got []string
	for _, r := range k.rows {
		got = append(got, fmt.Sprintf("%s %.2f %s %t", r.name, r.value, r.label, r.sum))
	}
	if d := cmp.Diff([]string{"one side colder 0.50 0.50 mm to A false", "slip before the weld sets -0.20 0.20 mm to B false",
		"causes acting together 0.10 0.10 mm to A false", "together: the final offset 0.40 0.40 mm to A true"}, got); d != "" {
		t.Error(d)
	}
	s := k.sheet()
	mustSay(t, s, "nothing from: tools grip unequally", "← mm toward side B", "mm toward side A →", "0.20 mm to B")
	// A bar toward A lies to the right of the line of no offset.
	zero := k.across.at(0)
	found := false
	for _, m := range s.marks {
		if a, ok := m.(area); ok && a.ink == hueFine {
			right := a.pts[1].X > zero+1
			if found == right {
				t.Errorf("bars in the order A, B; toward A is %t", right)
			}
			found = true
		}
	}
	if !found {
		t.Error("no bars")
	}
}

// TestUnknownCause: a cause the words do not know is drawn by its own name.
func TestUnknownCause(t *testing.T) {
	r := plainWork()
	r.Work.Causes[0].Name = "phase_of_moon"
	k := driftCauses(r)
	if want := "The core ends 0.40 mm toward A, most of all because of phase of moon"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	mustSay(t, k.sheet(), "phase of moon")
}

func TestDriftAlongData(t *testing.T) {
	k := driftAlong(plainWork())
	if want := "Along the bar the core moves by 0.20 mm, which no grinding takes out, and the thickness by 0.40 mm"; plain(k.thick.title) != want {
		t.Errorf("title %q; %q", plain(k.thick.title), want)
	}
	if d := cmp.Diff([][]float64{{25, 75}, {13.8, 14.2}, {0.3, 0.5}}, [][]float64{k.thick.lines[0].x, k.thick.lines[0].y, k.offset.lines[0].y}, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "front", "back", "mm from the front end", "thickness 14.20 mm", "at the back 0.50 mm to A", "mean 0.40 mm to A")
	one := works()["prescribed"].result()
	if got := driftAlong(one).thick.lines[0].x; len(got) != 2 || got[0] != 0 || math.Abs(got[1]-1000*one.Work.Final.Length) > 1e-9 {
		t.Errorf("one place stands for %v; the whole bar", got)
	}
}

func TestDriftAcrossData(t *testing.T) {
	r := plainWork()
	k := driftAcross(r)
	if want := "Across the width the core lies from 0.10 mm to B to 0.40 mm to A"; plain(k.title) != want || k.edge != nil {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	mustSay(t, k.sheet(), "left", "right", "↓ core toward side B", "at the right 0.10 mm to B")
	// A bar 50 mm wide whose blade's edge is 15 mm off its right side: at 10
	// mm from the middle, half way from 0.4 to -0.1 mm.
	r.Job.Blade = &sim.Blade{Height: 0.03, EdgeFromSide: 0.015, EdgeRight: true}
	k = driftAcross(r)
	if d := cmp.Diff([]float64{10, 0.15, -20, 10}, []float64{k.edge.at, k.edge.value, k.blade[0], k.blade[1]}, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "the blade’s edge: 0.15 mm to A", "the blade")
	r.Job.Blade.EdgeRight = false
	k = driftAcross(r)
	if d := cmp.Diff([]float64{-10, 0.25, -10, 20}, []float64{k.edge.at, k.edge.value, k.blade[0], k.blade[1]}, closeTo); d != "" {
		t.Error(d)
	}
	// Beyond the lines followed, 20 mm out: said so, with the run's own figure.
	r.Job.Blade.EdgeFromSide = 0.002
	r.Work.EdgeOffset = sim.Maybe{Value: 0.12e-3, OK: true}
	k = driftAcross(r)
	mustSay(t, k.sheet(), "the blade’s edge, outside the lines followed: 0.12 mm to A")
	if want := "Where the blade’s edge will lie the core is 0.12 mm toward A; over the whole width 0.40 mm to A"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
}

func TestChosenViews(t *testing.T) {
	r := plainWork()
	var got []string
	for _, c := range chosen(r.Work) {
		got = append(got, fmt.Sprintf("%d %s", c.view.Pass, c.why))
	}
	// Set by pass 2, where the core is furthest off as well; half of 30 mm
	// after pass 3.
	if d := cmp.Diff([]string{"0 the start", "2 the weld is set", "3 about half the thickness", "4 finished"}, got); d != "" {
		t.Error(d)
	}
	r.Work.Passes[1].Welded = 0.9
	got = nil
	for _, c := range chosen(r.Work) {
		got = append(got, fmt.Sprintf("%d %s", c.view.Pass, c.why))
	}
	if d := cmp.Diff([]string{"0 the start", "2 furthest off", "3 the weld is set", "4 finished"}, got); d != "" {
		t.Error(d)
	}
	for name, f := range works() {
		if w := f.result().Work; len(w.Sections) == 0 {
			continue
		} else if n := len(chosen(w)); n > 6 {
			t.Errorf("%s: %d end views; 6 at most", name, n)
		}
	}
}

// TestSectionsScale: every end view is drawn to one scale, the same up and
// across, and its core lies where it should to the width of a line.
func TestSectionsScale(t *testing.T) {
	k := sections(plainWork())
	if want := "The core ends 0.40 mm off the middle toward side A, 2.9 % of the thickness"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	s := k.sheet()
	mustSay(t, s, "The start", "on the middle", "Pass 2: the weld is set", "0.60 mm toward A", "Pass 4: finished", "14.0 mm × 50.0 mm", "10 mm", "A", "B")
	scale := k.scale()
	cores := 0
	for _, m := range s.marks {
		a, ok := m.(area)
		if !ok || a.ink != inkSteel {
			continue
		}
		view := k.cells[cores].view
		core := bounds(view.Layers[1].Lower, view.Layers[1].Upper)
		lo, hi := corners(a.pts)
		got := []float64{float64(hi.X - lo.X), float64(hi.Y - lo.Y)}
		want := []float64{float64(scale) * core[0], float64(scale) * core[1]}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 2*float64(thinTolerance) {
				t.Errorf("core of end view %d: %g pt; %g", cores+1, got[i], want[i])
			}
		}
		cores++
	}
	if cores != len(k.cells) {
		t.Errorf("%d cores; %d", cores, len(k.cells))
	}
}

// bounds is the width and height of two lines, m.
func bounds(a, b []layers.Point) [2]float64 {
	lo, hi := extent(sim.EndView{Layers: []sim.LayerOutline{{Lower: a, Upper: b}}})
	return [2]float64{hi.Y - lo.Y, hi.Z - lo.Z}
}

func corners(pts []vg.Point) (lo, hi vg.Point) {
	lo, hi = pts[0], pts[0]
	for _, p := range pts {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	return lo, hi
}

// TestMidPlane: half way between the faces, whatever lies between them.
func TestMidPlane(t *testing.T) {
	v := bulged(plainWork().Job, sim.Sizes{Thickness: 0.02, Width: 0.04}, 0.003)
	up := v.Layers[2].Upper
	for i := range up {
		up[i].Z += 0.1 * up[i].Y // wedge: 2 mm more at the right
	}
	for _, p := range midPlane(v) {
		if want := 0.05 * p.Y; math.Abs(p.Z-want) > 1e-12 {
			t.Fatalf("at %g: %g; %g", p.Y, p.Z, want)
		}
	}
}

// TestFoldedFace: a face whose ends run back is followed as far as it goes
// forward.
func TestFoldedFace(t *testing.T) {
	got := level1([]layers.Point{{Y: -2, Z: 1}, {Y: -3, Z: 2}, {Y: 0, Z: 3}, {Y: 2, Z: 4}, {Y: 1.5, Z: 5}})
	if d := cmp.Diff(sim.Line{At: []float64{-2, 0, 2}, Value: []float64{1, 3, 4}}, got); d != "" {
		t.Error(d)
	}
}

func TestFlowData(t *testing.T) {
	r := usualWork().result()
	k := driftFlow(r)
	views := r.Work.Sections
	most := 0.0
	for i := 1; i < len(views); i++ {
		most = math.Max(most, math.Abs(views[i].Offset-views[i-1].Offset))
	}
	if got := math.Abs(k.view.Offset - views[k.view.Pass-1].Offset); got != most {
		t.Errorf("pass %d moved the core %g; %g", k.view.Pass, got, most)
	}
	// Half a section is completed by its mirror image, a whole one stays.
	half, whole := streaming(sim.Sizes{Thickness: 0.01, Width: 0.02}, true), streaming(sim.Sizes{Thickness: 0.01, Width: 0.02}, false)
	got := wholeField(*half)
	if n := len(got.Corners); n != 72 || len(got.Flow) != n || len(got.Strain) != n || len(got.Layer) != n {
		t.Fatalf("%d elements; 72", n)
	}
	if got.Flow[36].Y != -half.Flow[0].Y || got.Flow[36].Z != half.Flow[0].Z || got.Corners[36][1].Y != -half.Corners[0][1].Y {
		t.Error("the other half is no mirror image")
	}
	if n := len(wholeField(*whole).Corners); n != 72 {
		t.Errorf("a whole section: %d elements; 72", n)
	}
	fastest := 0.0
	for _, f := range half.Flow {
		fastest = math.Max(fastest, math.Hypot(f.Y, f.Z))
	}
	mustSay(t, k.sheet(), "strain so far", "A", "B", "10 mm", fmt.Sprintf("true scale; the longest arrow is %.1f mm/s; core between the heavy lines", 1000*fastest))
}

// TestArrow: from tail to tip by what was asked, the middle where it was put.
func TestArrow(t *testing.T) {
	s := &sheet{}
	s.arrow(vg.Point{X: 100, Y: 50}, vg.Point{X: 12, Y: -16})
	got := s.marks[0].(stroke).pts
	if d := cmp.Diff([]vg.Point{{X: 94, Y: 58}, {X: 106, Y: 42}}, got); d != "" {
		t.Error(d)
	}
}

func TestLessonPage(t *testing.T) {
	for name, r := range lessons() {
		k := teach(r)
		s := k.sheet()
		if n := len(r.Lesson.Scenes); s.w != 612 || n <= 10 && s.h != 792 || s.h < 792 {
			t.Errorf("%s: %d scenes on %g by %g points; up to 10 on 612 by 792, a letter page", name, n, s.w, s.h)
		}
		cores := 0
		for _, m := range s.marks {
			if a, ok := m.(area); ok && a.ink == inkSteel {
				cores++
			}
		}
		if want := 1 + 2*len(r.Lesson.Scenes); cores != want {
			t.Errorf("%s: %d cores shaded; %d", name, cores, want)
		}
	}
	r := taught(usualWork(), 2)
	r.Lesson.Scenes[1].Title, r.Lesson.Scenes[1].Matters = "One roll driven", false
	r.Lesson.Scenes[1].Never.Offset, r.Lesson.Scenes[1].Flipped.Offset = 1e-9, -0.21e-3
	s := teach(r).sheet()
	mustSay(t, s, "Why the core drifts, one cause at a time", "One roll driven: no drift", "on the middle", "0.21 mm toward B", "0.60 mm toward A",
		"never turned over", "turned every squeeze", "Every row takes this stack and squeezes it 8 times, each time by 14 %:", "10 mm")
	if all := strings.Join(said(s), " "); !strings.Contains(all, "Computed, not measured") {
		t.Error("the page does not say that it is computed")
	}
}

func TestWorkInch(t *testing.T) {
	r := plainWork()
	r.Job.Units = sim.Inch
	p := passesSize(r)
	if got, want := p.size.lines[0].y[0], 40/25.4; math.Abs(got-want) > 1e-12 {
		t.Errorf("width %g in; %g", got, want)
	}
	mustSay(t, p.sheet(), "in", "°F", "work above 1652 °F")
	f := passesForce(r)
	if got, want := f.panels[0].bars[0].value, 100e3/8896.443230521; math.Abs(got-want) > 1e-9 {
		t.Errorf("force %g ton; %g", got, want) // SP 811: ton-force (2000 lbf) 8.896443 kN
	}
	mustSay(t, f.sheet(), "ton", "press 22 ton")
	mustSay(t, driftPasses(r).sheet(), "in", "this job, every heat 0.016 in to A")
	mustSay(t, driftCauses(r).sheet(), "0.020 in to A", "in toward side A →")
	mustSay(t, sections(r).sheet(), "1/2 in", "0.024 in toward A")
	mustSay(t, driftAcross(r).sheet(), "inches from the middle of the width")
	mustSay(t, driftAlong(r).sheet(), "inches from the front end", "thickness 0.559 in")
}
