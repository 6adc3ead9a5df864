package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"sort"
	"strings"
	"testing"
)

// soakKeys are the keys of soak's answer that other programs build on, "[]"
// for the entries of a list. More may be added; none may change.
const soakKeys = `
command title warnings cautions assumed
stages[].in stages[].start_s stages[].end_s stages[].reached
stages[].skin_c stages[].core_c stages[].coldest_joint_c stages[].hottest_c stages[].coldest_c
stages[].faces_c.top stages[].faces_c.bottom stages[].faces_c.left stages[].faces_c.right stages[].faces_c.front stages[].faces_c.back
stages[].profile.z_mm stages[].profile.temperature_c
answers.skin_at_weld_s answers.joints_at_weld_s answers.core_at_weld_s answers.lag_s
answers.pull_for_flux_s answers.soak_s answers.overheats_s answers.window_s
history.time_s history.skin_c history.core_c history.coldest_joint_c
energy.taken_up_kj energy.through_faces_kj energy.imbalance
grid.dims grid.cells grid.steps`

// addedKeys are what this program gives beside them.
const addedKeys = `
answers.overheats_what
answers.skin_at_weld_s_range answers.joints_at_weld_s_range answers.core_at_weld_s_range answers.lag_s_range
answers.pull_for_flux_s_range answers.soak_s_range answers.overheats_s_range answers.window_s_range
range_causes[].what range_causes[].soak_s_range
run_on.time_s run_on.skin_c run_on.core_c run_on.coldest_joint_c
grid.error_estimate_c
limits[].layer limits[].material limits[].limit_c limits[].solidus_c
advice`

// paths collects the paths of all values in v. Lists of numbers and of text
// count as one value.
func paths(at string, v any, out map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for k, w := range v {
			paths(strings.TrimPrefix(at+"."+k, "."), w, out)
		}
	case []any:
		if len(v) > 0 {
			if _, isMap := v[0].(map[string]any); isMap {
				for _, w := range v {
					paths(at+"[]", w, out)
				}
				return
			}
		}
		out[at] = true
	default:
		out[at] = true
	}
}

// soakAnswer runs soak with --format json and decodes the answer.
func soakAnswer(t *testing.T, want int, job string, args ...string) map[string]any {
	t.Helper()
	code, out, errs := billet(t, job, append([]string{"soak", "-", "--format", "json"}, args...)...)
	if code != want || errs != "" {
		t.Fatalf("exit code %d, want %d: %s", code, want, errs)
	}
	if !strings.HasSuffix(out, "}\n") || strings.HasSuffix(out, "\n\n") {
		t.Errorf("the answer does not end in one line end")
	}
	var v map[string]any
	if err := json.Unmarshal([]byte(out), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// at is the value at a path of keys.
func at(v any, keys ...string) any {
	for _, k := range keys {
		m, _ := v.(map[string]any)
		v = m[k]
	}
	return v
}

// TestSoakKeys compares the keys with the lists above, both ways.
func TestSoakKeys(t *testing.T) {
	got := map[string]bool{}
	paths("", soakAnswer(t, exitDone, smallJob, "--dims", "1"), got)
	for _, want := range strings.Fields(soakKeys + addedKeys) {
		if !got[want] {
			t.Errorf("no %s", want)
		}
		delete(got, want)
	}
	for k := range got {
		t.Errorf("%s is in no list", k)
	}
	got = map[string]bool{}
	paths("", soakAnswer(t, exitDone, smallJob, "--dims", "1", "--ranges", "off"), got)
	for k := range got {
		if strings.Contains(k, "range") {
			t.Errorf("%s though ranges are off", k)
		}
	}
}

// TestSoakNulls: what does not apply is null and there, never left out.
func TestSoakNulls(t *testing.T) {
	oneLayer := strings.ReplaceAll(smallJob[:strings.Index(smallJob, "[[stack.layer]]\nmaterial = \"1095\"")], `"6 mm"`, `"12 mm"`) +
		smallJob[strings.Index(smallJob, "[forge]"):]
	v := soakAnswer(t, exitDone, oneLayer, "--dims", "1", "--ranges", "off")
	stage := v["stages"].([]any)[0]
	for _, keys := range [][]string{{"answers", "joints_at_weld_s"}, {"answers", "lag_s"}, {"answers", "overheats_s"},
		{"answers", "window_s"}, {"answers", "overheats_what"}, {"history", "coldest_joint_c"}} {
		if got := at(v, keys...); got != nil {
			t.Errorf("one layer: %v is %v", keys, got)
		}
	}
	if at(stage, "coldest_joint_c") != nil || at(stage, "faces_c", "left") != nil || at(stage, "faces_c", "front") != nil {
		t.Errorf("one layer in one direction: %v", stage)
	}
	if at(stage, "faces_c", "top") == nil || at(v, "answers", "soak_s") == nil {
		t.Errorf("one layer: no soak or no top face: %v", stage)
	}
	cold := strings.Replace(smallJob, "1250 C", "1000 C", 1)
	v = soakAnswer(t, exitNo, cold, "--dims", "1", "--ranges", "off")
	for k, got := range v["answers"].(map[string]any) {
		if wants := k == "pull_for_flux_s"; wants != (got != nil) {
			t.Errorf("too cold: %s is %v", k, got)
		}
	}
}

// TestSameNumbersInEitherUnits: units are for the eyes alone.
func TestSameNumbersInEitherUnits(t *testing.T) {
	for _, format := range []string{"json", "csv"} {
		_, metric, _ := billet(t, smallJob, "soak", "-", "--dims", "1", "--ranges", "off", "--format", format, "--units", "metric")
		_, inch, _ := billet(t, smallJob, "soak", "-", "--dims", "1", "--ranges", "off", "--format", format, "--units", "inch")
		if metric != inch || len(metric) < 100 {
			t.Errorf("%s differs by units", format)
		}
	}
}

// TestGolden compares all numbers of one job's answer with those kept.
func TestGolden(t *testing.T) {
	const file = "testdata/golden/unlike-jackets.json"
	job, err := os.ReadFile("testdata/golden/unlike-jackets.toml")
	if err != nil {
		t.Fatal(err)
	}
	code, out, errs := billet(t, string(job), "soak", "-", "--format", "json", "--accuracy", "2 C")
	if code != exitDone {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	if *update {
		if err := os.WriteFile(file, []byte(out), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var got, want any
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(kept, &want); err != nil {
		t.Fatal(err)
	}
	for _, v := range []any{got, want} { // sentences may be put better without a number changing
		for _, k := range []string{"warnings", "cautions", "assumed"} {
			delete(v.(map[string]any), k)
		}
	}
	diffs := compare("", got, want)
	for _, d := range diffs[:min(len(diffs), 20)] {
		t.Error(d)
	}
}

// Tolerances of the golden answer. A processor that fuses multiply and add
// moves the last digits of a float64 (1e-16); iterations that stop at 1e-9 of
// a value may carry that to 1e-7. Numbers are written to 1e-6.
const (
	goldenRelative = 1e-6
	goldenAbsolute = 2e-6
)

// compare lists where got differs from want.
func compare(at string, got, want any) []string {
	var out []string
	switch w := want.(type) {
	case map[string]any:
		g, _ := got.(map[string]any)
		var keys []string
		for k := range w {
			keys = append(keys, k)
		}
		for k := range g {
			if _, known := w[k]; !known {
				keys = append(keys, k)
			}
		}
		sort.Strings(keys)
		for _, k := range keys {
			out = append(out, compare(at+"."+k, g[k], w[k])...)
		}
	case []any:
		g, _ := got.([]any)
		if len(g) != len(w) {
			return []string{fmt.Sprintf("%s: %d entries, want %d", at, len(g), len(w))}
		}
		for i := range w {
			out = append(out, compare(fmt.Sprintf("%s[%d]", at, i), g[i], w[i])...)
		}
	case float64:
		g, ok := got.(float64)
		if !ok || math.Abs(g-w) > math.Max(goldenAbsolute, goldenRelative*math.Abs(w)) {
			out = append(out, fmt.Sprintf("%s: %v, want %v", at, got, want))
		}
	default:
		if got != want {
			out = append(out, fmt.Sprintf("%s: %v, want %v", at, got, want))
		}
	}
	return out
}

// TestCompare shows that the golden comparison can fail.
func TestCompare(t *testing.T) {
	want := map[string]any{"a": 100.0, "b": []any{1.0, nil}, "c": "x"}
	same := map[string]any{"a": 100.00005, "b": []any{1.0, nil}, "c": "x"}
	if d := compare("", same, want); len(d) > 0 {
		t.Errorf("same: %v", d)
	}
	other := map[string]any{"a": 100.0002, "b": []any{1.0, 0.0}, "d": true}
	if d := compare("", other, want); len(d) != 4 {
		t.Errorf("other: %v", d)
	}
}

func TestNumber(t *testing.T) {
	for v, want := range map[number]string{celsius(293.15): "20", 1.0 / 3: "0.333333", -1e-9: "0", number(math.Inf(1)): "null",
		number(math.NaN()): "null", 1e12: "1000000000000"} {
		if got, err := json.Marshal(v); err != nil || string(got) != want {
			t.Errorf("%v is written %s, want %s", float64(v), got, want)
		}
	}
	got := string(encode(map[string]any{"a": []number{1, -2.5e-7, number(math.NaN())}, "s": "[ 1, 2 ]", "e": []string{}}))
	if want := "{\n  \"a\": [1,0,null],\n  \"e\": [],\n  \"s\": \"[ 1, 2 ]\"\n}\n"; got != want {
		t.Errorf("encode gives %s", got)
	}
	if !slices.Equal(listOf(nil), []string{}) {
		t.Error("an empty list would be null")
	}
}
