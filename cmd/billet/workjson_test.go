package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// workJob has a press, two passes at prescribed temperatures, a blade and a
// heat treatment: quick to work out.
const workJob = `title = "Work"
[stack]
width = "40 mm"
length = "120 mm"
[[stack.layer]]
material = "1018"
thickness = "5.4 mm"
[[stack.layer]]
material = "1095"
thickness = "4 mm"
core = true
[[stack.layer]]
material = "1018"
thickness = "5 mm"
[press]
force = "60 ton"
[[pass]]
tool = "press"
to = "11 mm"
temperature_a = "1100 C"
temperature_b = "1060 C"
bond = "welded"
[[pass]]
tool = "press"
to = "8 mm"
temperature = "1060 C"
bond = "welded"
`

const bladeTables = `[blade]
spine = "3 mm"
height = "30 mm"
length = "100 mm"
edge = "0.4 mm"
grind = { kind = "flat", height = "28 mm" }
core_line = "8 mm"
edge_from_side = "4 mm"
clean = "0.4 mm"
[harden]
austenitise = "800 C"
quench = "fast oil"
temper = [{ temperature = "200 C", time = "1 h" }]
`

// answer runs a command on a job with --format json and decodes its answer.
func answer(t *testing.T, want int, job string, args ...string) map[string]any {
	t.Helper()
	code, out, errs := billet(t, job, append(args, "--format", "json")...)
	if code != want || errs != "" {
		t.Fatalf("%v: exit code %d, want %d: %s", args, code, want, errs)
	}
	var v map[string]any
	if err := json.Unmarshal([]byte(out), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// contractKeys are the keys that other programs build on, by command. More may
// be added; none may change.
var contractKeys = map[string]string{
	"passes": `start.thickness_mm start.width_mm start.length_mm start.layers[].material start.layers[].thickness_mm start.layers[].width_mm
passes[].number passes[].tool passes[].heat passes[].down passes[].before.thickness_mm passes[].before.width_mm passes[].before.length_mm
passes[].after.thickness_mm passes[].after.width_mm passes[].after.length_mm
passes[].temperature_c passes[].side_a_c passes[].side_b_c passes[].force_kn passes[].torque_nm passes[].power_kw passes[].strain_rate_per_s
passes[].within_limits passes[].layers[].thickness_mm passes[].layers[].width_mm
passes[].core_offset_mm passes[].core_offset_percent passes[].core_tilt_mm passes[].core_wave_mm
final.thickness_mm final.width_mm final.length_mm final.layers[].thickness_mm final.layers[].width_mm
final.core_offset_mm final.core_offset_percent final.core_tilt_mm final.core_wave_mm
final.across.y_mm final.across.offset_mm final.along.x_mm final.along.offset_mm final.along.thickness_mm causes odds`,
	"drift":  `causes[].cause causes[].offset_mm odds.draws odds.seed odds.offset_mm.p05 odds.offset_mm.p50 odds.offset_mm.p95 odds.outside_percent`,
	"losses": `heats[].number heats[].scale_a_mm heats[].scale_b_mm heats[].mass_lost_percent heats[].decarb_mm heats[].grain_um heats[].carbon.z_mm heats[].carbon.percent carbon_at_edge_percent transition_mm`,
	"grind": `side_a.core_line_mm side_a.jacket_at_spine_mm side_a.pits_cleared side_b.core_line_mm side_b.jacket_at_spine_mm side_b.pits_cleared mismatch_mm
edge.in_core edge.core_margin_a_mm edge.core_margin_b_mm least_thickness_mm along.x_mm along.core_line_a_mm along.core_line_b_mm along.margin_a_mm along.margin_b_mm`,
	"harden": `stages[].name stages[].surface_c stages[].core_c stages[].time_s critical.ac1_c critical.ac3_c critical.acm_c critical.ms_c
carbon_at_edge_percent as_quenched_hrc tempered_hrc hardens_through places[].place places[].thickness_mm places[].stages[].name
places[].layers[].material places[].layers[].as_quenched_hrc places[].layers[].tempered_hrc places[].layers[].transforms`,
	"teach": `scenes[].name scenes[].why scenes[].never_turned_offset_mm`,
}

// TestContractKeys compares each command's keys with the list above.
func TestContractKeys(t *testing.T) {
	answers := map[string]map[string]any{
		"passes": answer(t, exitDone, workJob, "passes", "-"),
		"drift":  answer(t, exitDone, workJob+bladeTables, "drift", "-", "--draws", "4"),
		"losses": answer(t, exitDone, smallJob, "losses", "-"),
		"grind":  answer(t, exitDone, workJob+bladeTables, "grind", "-"),
		"harden": answer(t, exitNo, workJob+bladeTables, "harden", "-"),
		"teach":  answer(t, exitDone, workJob, "teach", "-"),
	}
	for name, keys := range contractKeys {
		got := map[string]bool{}
		paths("", answers[name], got)
		for _, want := range strings.Fields("command title warnings cautions assumed " + keys) {
			if !got[want] {
				t.Errorf("%s: no %s", name, want)
			}
		}
		if answers[name]["command"] != name {
			t.Errorf("%s calls itself %v", name, answers[name]["command"])
		}
	}
}

// TestCausesSum: the causes as written sum to the final offset as written.
func TestCausesSum(t *testing.T) {
	v := answer(t, exitDone, workJob, "drift", "-")
	sum := 0.0
	for _, c := range v["causes"].([]any) {
		sum += c.(map[string]any)["offset_mm"].(float64)
	}
	offset := at(v, "final", "core_offset_mm").(float64)
	const rounding = 1e-9 // mm: sums of numbers written to 1e-6
	if math.Abs(sum-offset) > rounding || math.Abs(offset) < 0.01 {
		t.Errorf("causes sum to %v, offset %v", sum, offset)
	}
}

// TestWorkNulls: what does not apply is null and there.
func TestWorkNulls(t *testing.T) {
	v := answer(t, exitDone, workJob, "passes", "-")
	for _, k := range []string{"odds", "causes", "edge", "flips"} {
		if got, there := v[k]; got != nil || !there {
			t.Errorf("passes: %s is %v", k, got)
		}
	}
	p := v["passes"].([]any)[0].(map[string]any)
	for _, k := range []string{"heat", "torque_nm"} {
		if got, there := p[k]; got != nil || !there {
			t.Errorf("a press at a prescribed temperature: %s is %v", k, got)
		}
	}
	v = answer(t, exitDone, workJob, "drift", "-", "--draws", "4")
	if at(v, "odds", "outside_percent") != nil || at(v, "odds", "draws") == nil {
		t.Errorf("no blade: odds are %v", v["odds"])
	}
}

// TestPlanHoldsTheParts: plan.json holds what the commands say by themselves.
func TestPlanHoldsTheParts(t *testing.T) {
	job, dir := workJob+bladeTables, t.TempDir()
	plan := answer(t, exitNo, job, "plan", "-", "-o", dir, "--dims", "1", "--ranges", "off")
	alone := answer(t, exitDone, job, "grind", "-")
	for _, k := range []string{"stock", "losses"} {
		if got, there := plan[k]; got != nil || !there {
			t.Errorf("%s is %v", k, got)
		}
	}
	for _, keys := range [][]string{{"side_b", "core_line_mm"}, {"edge", "core_margin_a_mm"}} {
		if a, b := at(plan["grind"], keys...), at(alone, keys...); a != b || a == nil {
			t.Errorf("grind %v: %v in the plan, %v alone", keys, a, b)
		}
	}
	a := at(plan, "passes", "final", "width_mm")
	if b := at(answer(t, exitDone, job, "passes", "-"), "final", "width_mm"); a != b || a == nil {
		t.Errorf("final width: %v in the plan, %v alone", a, b)
	}
}
