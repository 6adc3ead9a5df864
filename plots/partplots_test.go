package plots

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"billet/sim"

	"github.com/google/go-cmp/cmp"
)

// partDraws are the pictures of these parts, by what they are asked for.
var partDraws = map[string]func(*sim.Result, Format) ([]Figure, error){
	"grind": Grind, "stock": Stock, "losses": Losses, "harden": Harden, "causes": SoakCauses,
}

// TestPartFigures: the figures in order, readable in both formats, with the
// same bytes twice.
func TestPartFigures(t *testing.T) {
	r := basePart().result(t)
	for _, c := range []struct {
		what  string
		names []string
	}{
		{"grind", []string{"grind-section", "grind-side"}},
		{"stock", []string{"stock-chain"}},
		{"losses", []string{"losses-carbon", "losses-scale", "losses-blade"}},
		{"harden", []string{"harden-cooling", "harden-temper"}},
		{"causes", []string{"soak-causes", "soak-ranges", "soak-forge"}},
	} {
		for _, f := range []Format{SVG, PNG} {
			figures, err := partDraws[c.what](r, f)
			if err != nil {
				t.Fatal(err)
			}
			again, err := partDraws[c.what](r, f)
			if err != nil {
				t.Fatal(err)
			}
			sound(t, f, figures, again, c.names)
		}
		if _, err := partDraws[c.what](r, Format(9)); err == nil {
			t.Errorf("%s: format 9 drawn", c.what)
		}
	}
}

// TestPartsMissing: what was not worked out gives no figure and no error; no
// result at all is refused.
func TestPartsMissing(t *testing.T) {
	for _, what := range slices.Sorted(maps.Keys(partDraws)) {
		figures, err := partDraws[what](&sim.Result{Job: usual().result().Job}, SVG)
		if err != nil || len(figures) != 0 {
			t.Errorf("%s: %d figures, %v; none", what, len(figures), err)
		}
		refused(t, "no job in the result", nil, partDraws[what])
		refused(t, "no job in the result", &sim.Result{}, partDraws[what])
	}
	r := basePart().result(t)
	r.Ground, r.Soak.Forge, r.Soak.Ranges, r.Hardened.Curve = nil, nil, nil, sim.TemperCurve{}
	for what, want := range map[string]int{"losses": 2, "causes": 1, "harden": 1} {
		if figures, err := partDraws[what](r, SVG); err != nil || len(figures) != want {
			t.Errorf("%s: %d figures, %v; %d", what, len(figures), err, want)
		}
	}
}

// TestPartsInput: drawing leaves the result as it was.
func TestPartsInput(t *testing.T) {
	r, same := basePart().result(t), basePart().result(t)
	for _, what := range slices.Sorted(maps.Keys(partDraws)) {
		if _, err := partDraws[what](r, SVG); err != nil {
			t.Fatal(err)
		}
	}
	for _, d := range []string{cmp.Diff(same.Losses, r.Losses), cmp.Diff(same.Soak, r.Soak), cmp.Diff(same.Ground.Bar, r.Ground.Bar),
		cmp.Diff(same.Stock.Losses, r.Stock.Losses), cmp.Diff(same.Hardened.Curve, r.Hardened.Curve)} {
		if d != "" {
			t.Error(d)
		}
	}
}

// TestPartsRefused: whatever cannot be drawn is refused by name, and never
// drawn.
func TestPartsRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		what, want string
		spoil      func(r *sim.Result)
	}{
		{"grind", "ground blade: no answer", func(r *sim.Result) { r.Ground.Answer = nil }},
		{"grind", "spine is", func(r *sim.Result) { r.Ground.Blade.Spine = nan }},
		{"grind", "line 1, point 0", func(r *sim.Result) { r.Ground.Bar.Sections[0].Lines[1].Z[0] = nan }},
		{"grind", "wanted core line, value 1: NaN", func(r *sim.Result) { r.Ground.Ask.CoreLine = nan }},
		{"grind", "core line of side A half way along, value 1: NaN", func(r *sim.Result) { *r.Ground.Answer.Mid.A.CoreLine = nan }},
		{"grind", "core line of side B at place 3 along the blade, value 1: +Inf", func(r *sim.Result) { *r.Ground.Answer.Along[2].B.CoreLine = inf }},
		{"grind", "margin of the edge half way along, value 2: NaN", func(r *sim.Result) { r.Ground.Answer.Mid.MarginB = nan }},
		{"grind", "blade half way along, value 5: NaN", func(r *sim.Result) { r.Ground.Answer.Mid.Slope = nan }},
		{"grind", "places along the blade: 1", func(r *sim.Result) { r.Ground.Answer.Along = r.Ground.Answer.Along[:1] }},
		{"grind", "greatest mismatch, value 1: NaN", func(r *sim.Result) { *r.Ground.Answer.Worst = nan }},
		{"grind", "thickness of layer 2: 0 m", func(r *sim.Result) { r.Job.Stack.Layers[1].Thickness = 0 }},
		{"stock", "mass after ends trimmed, value 1: NaN", func(r *sim.Result) { r.Stock.Losses[2].Mass = nan }},
		{"stock", "share lost as scale in the fire, value 1: NaN", func(r *sim.Result) { r.Stock.Losses[1].Share = nan }},
		{"stock", "mass of the stack: 0 kg", func(r *sim.Result) { r.Stock.Losses[0].Mass = 0 }},
		{"stock", "steps from stack to blade: 1", func(r *sim.Result) { r.Stock.Losses = r.Stock.Losses[:1] }},
		{"stock", "piece of 80CrV2, value 1: NaN", func(r *sim.Result) { r.Stock.Pieces[1].Thickness = nan }},
		{"losses", "carbon of heat 2, value 4: NaN", func(r *sim.Result) { r.Losses.Heats[1].Carbon[3] = nan }},
		{"losses", "height of the carbon of heat 3, value 2: falls", func(r *sim.Result) { r.Losses.Heats[2].Z[1] = -1 }},
		{"losses", "carbon of heat 1: 0 places", func(r *sim.Result) { r.Losses.Heats[0].Z = nil }},
		{"losses", "scale of heat 4, value 2: NaN", func(r *sim.Result) { r.Losses.Heats[3].ScaleB = nan }},
		{"losses", "carbon at the edge, value 1: NaN", func(r *sim.Result) { r.Losses.CarbonAtEdge = nan }},
		{"losses", "thickness in heat 1: 0 m", func(r *sim.Result) { clear(r.Losses.Heats[0].Z) }},
		{"losses", "spine is", func(r *sim.Result) { r.Ground.Blade.Spine = nan }},
		{"harden", "time of the nose: 0 s", func(r *sim.Result) { r.Hardened.Nose.TimeS = 0 }},
		{"harden", "temperature of the middle of spine, value 7: NaN", func(r *sim.Result) { r.Hardened.Places[2].Middle[6] = nan }},
		{"harden", "time in the quench of edge, value 2: falls", func(r *sim.Result) { r.Hardened.Places[0].Time[1] = -1 }},
		{"harden", "time to pearlite used up in 80CrV2, spine, value 1: NaN", func(r *sim.Result) { r.Hardened.Places[2].Layers[0].Race.Used = nan }},
		{"harden", "hardness by temper, value 2: NaN", func(r *sim.Result) { r.Hardened.Curve.HRC[1] = nan }},
		{"harden", "hardness as tempered, value 1: NaN", func(r *sim.Result) { r.Hardened.Tempered.HRC = nan }},
		{"harden", "temperature of temper 2, value 1: NaN", func(r *sim.Result) { r.Job.Harden.Temper = []sim.TemperStep{{Temperature: 400}, {Temperature: nan}} }},
		{"causes", "sweep of joint tightness, value 2: NaN", func(r *sim.Result) { r.Soak.Sweeps[0].At[1] = nan }},
		{"causes", "lag in the sweep of floor temperature: 6 values; 7", func(r *sim.Result) { r.Soak.Sweeps[1].Lag = r.Soak.Sweeps[1].Lag[1:] }},
		{"causes", "sweep of joint tightness: 0 on a logarithmic scale", func(r *sim.Result) { r.Soak.Sweeps[0].At[0] = 0 }},
		{"causes", "this job in the sweep of forge temperature, value 1: +Inf", func(r *sim.Result) { r.Soak.Sweeps[2].Here = inf }},
		{"causes", "soak by the forge reading: up to NaN", func(r *sim.Result) { r.Soak.Ranges.Causes[1].High = nan }},
		{"causes", "range of the soak, value 1: NaN", func(r *sim.Result) { r.Soak.Ranges.Soak.Low = nan }},
		{"causes", "temperature of the wall, value 9: NaN", func(r *sim.Result) { r.Soak.Forge.Wall.Value[8] = nan }},
	} {
		r := basePart().result(t)
		c.spoil(r)
		refused(t, c.want, r, partDraws[c.what])
	}
}

// TestPartOddNames: names with anything in them give a readable picture.
func TestPartOddNames(t *testing.T) {
	r := basePart().result(t)
	r.Job.Title = "A <b>&\"odd\"\x00\x01\xff\u202e title </text>"
	r.Job.Stack.Layers[0].Material.Name = strings.Repeat("<long> ", 60)
	r.Job.Stack.Layers[1].Material.Name = "\x00"
	r.Stock.Pieces[0].Material, r.Stock.Losses[1].Step = "]]> & <text ", strings.Repeat("step ", 50)
	r.Hardened.Places[0].Place, r.Hardened.Quenchant.Name = "<place>", strings.Repeat("oil & ", 60)
	r.Soak.Sweeps[0].What, r.Soak.Sweeps[1].Note = strings.Repeat("what ", 40), strings.Repeat("note\x00 ", 200)
	r.Soak.Ranges.Causes[0].What = strings.Repeat("cause ", 60)
	for _, what := range slices.Sorted(maps.Keys(partDraws)) {
		figures, err := partDraws[what](r, SVG)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range figures {
			readable(t, f)
		}
	}
}
