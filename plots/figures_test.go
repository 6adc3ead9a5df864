package plots

import (
	"fmt"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"billet/sim"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// close compares shown numbers: conversion rounds in the last bits only.
var closeTo = cmpopts.EquateApprox(1e-12, 1e-9)

// said collects every text of a sheet.
func said(s *sheet) []string {
	var out []string
	for _, m := range s.marks {
		if w, ok := m.(words); ok {
			out = append(out, w.text)
		}
	}
	return out
}

// mustSay fails for each text that is not on the sheet.
func mustSay(t *testing.T, s *sheet, texts ...string) {
	t.Helper()
	all := said(s)
	for _, want := range texts {
		if !slices.Contains(all, want) {
			t.Errorf("%s does not say %q; it says %q", s.name, want, all)
		}
	}
}

// plainResult is a small result with round numbers, for exact checks.
func plainResult() *sim.Result {
	k := func(c float64) float64 { return c + 273.15 }
	r := usual().result()
	for i := range r.Job.Stack.Layers {
		r.Job.Stack.Layers[i].Thickness = 0.01
	}
	prof := func(a, b, c float64) sim.Profile {
		return sim.Profile{Z: []float64{0, 0.01, 0.01, 0.02, 0.02, 0.03},
			Temperature: []float64{k(a), k(b), k(c), k(c), k(b), k(a)}}
	}
	r.Soak = &sim.Soak{
		Stages: []sim.StageEnd{
			{In: sim.InAir, Start: 0, End: 60, Profile: prof(20, 20, 20)},
			{In: sim.InForge, Start: 60, End: 660, Reached: true, Profile: prof(1170, 1160, 1155)},
		},
		History: sim.History{Time: []float64{0, 60, 360, 660}, Skin: []float64{k(20), k(20), k(1150), k(1170)},
			Core: []float64{k(20), k(20), k(1000), k(1155)}, ColdestJoint: []float64{k(20), k(20), k(1050), k(1160)}},
		RunOn: sim.History{Time: []float64{780, 1860}, Skin: []float64{k(1180), k(1190)},
			Core: []float64{k(1175), k(1190)}, ColdestJoint: []float64{k(1170), k(1190)}},
		Answers: sim.SoakAnswers{SkinAtWeld: sim.Maybe{Value: 300, OK: true}, JointsAtWeld: sim.Maybe{Value: 570, OK: true},
			CoreAtWeld: sim.Maybe{Value: 590, OK: true}, Soak: sim.Maybe{Value: 690, OK: true},
			Overheats: sim.Maybe{Value: 1800, OK: true}, OverheatsAt: "layer 2, 80CrV2"},
		Milestones: []sim.Milestone{{Name: "overheats", Time: 1860}, {Name: "skin at welding heat", Time: 360}},
		Limits:     []sim.LayerLimit{{Layer: 0, Material: "1018", Limit: k(1350)}, {Layer: 1, Material: "80CrV2", Limit: k(1260)}},
		Section: sim.Section{Time: 360, Y: []float64{0, 0.02, 0.04}, Z: []float64{0, 0.015, 0.03},
			Temperature: [][]float64{{k(1160), k(1150), k(1160)}, {k(1120), k(1000), k(1120)}, {k(1160), k(1150), k(1160)}},
			Layers:      []float64{0, 0.01, 0.02, 0.03}, Cold: [2]float64{0.02, 0.015}, ColdT: k(1000)},
		Reaches: true,
	}
	return r
}

func TestHistoryData(t *testing.T) {
	h := soakHistory(plainResult())
	if want := "Joints at welding heat after 9 min 30 s, 4 min 30 s after the skin looks ready"; plain(h.title) != want {
		t.Errorf("title %q; %q", plain(h.title), want)
	}
	// Times from first entering the forge, a minute after the start; the axis
	// ends with the soak, 690 s; what comes later than that is cut.
	times := []float64{-1, 0, 5, 10}
	for i, want := range []line{
		{name: "core", y: []float64{20, 20, 1000, 1155}, label: "core 1155 °C"},
		{name: "coldest joint", y: []float64{20, 20, 1050, 1160}, label: "coldest joint 1160 °C"},
		{name: "skin", y: []float64{20, 20, 1150, 1170}, label: "skin 1170 °C"},
	} {
		got := h.lines[i]
		if got.name != want.name || got.label != want.label {
			t.Errorf("line %q, %q; %q, %q", got.name, got.label, want.name, want.label)
		}
		if d := cmp.Diff(times, got.x, closeTo); d != "" {
			t.Error(d)
		}
		if d := cmp.Diff(want.y, got.y, closeTo); d != "" {
			t.Error(d)
		}
	}
	if d := cmp.Diff([2]float64{-1, 11.5}, [2]float64{h.x.min, h.x.max}, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([2]float64{0, 1400}, [2]float64{h.y.min, h.y.max}); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]band{{-1, 0, stageAir}, {0, 10, stageForge}, {10, 11.5, stageLeft}}, h.stages,
		cmp.AllowUnexported(band{}), closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{1150, 1260}, []float64{h.rules[0].value, h.rules[1].value}, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, h.sheet(), "°C", "minutes from first entering the forge", "0", "1400", "10",
		"welding heat 1150 °C", "80CrV2 burns 1260 °C", "skin at welding heat", "soak done",
		"overheats: layer 2, 80CrV2 →", "30 min", "if left in", "cherry",
		"Boning knife, three layers · 3 layers, 30.0 mm thick, 40.0 mm wide, 140 mm long")
}

// TestHistoryMoments: flags in order of time with a dot on each line there,
// none where the axis does not reach.
func TestHistoryMoments(t *testing.T) {
	h := soakHistory(plainResult())
	var got []moment
	for _, f := range h.flags {
		for i := range f.dots {
			f.dots[i].ink = nil
		}
		got = append(got, f)
	}
	want := []moment{
		{at: 5, time: "5 min", name: "skin at welding heat", dots: []spot{{1000, nil}, {1050, nil}, {1150, nil}}},
		{at: 11.5, time: "11.5 min", name: "soak done", dots: []spot{{1155, nil}, {1160, nil}, {1170, nil}}},
		{at: 11.5, time: "30 min", name: "overheats: layer 2, 80CrV2", beyond: true},
	}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(moment{}, spot{}), closeTo); d != "" {
		t.Error(d)
	}
}

func TestProfileData(t *testing.T) {
	p := soakProfile(plainResult())
	if want := "15 °C from hottest to coldest through the thickness when the last stage ends"; plain(p.title) != want {
		t.Errorf("title %q; %q", plain(p.title), want)
	}
	var labels []string
	for _, l := range p.lines {
		labels = append(labels, l.label)
	}
	if d := cmp.Diff([]string{"in air, at 0 s", "skin looks ready, at 5 min", "in the forge, at 10 min"}, labels); d != "" {
		t.Error(d)
	}
	// The jumps at both joints are there: two values at one height.
	if d := cmp.Diff([]float64{0, 10, 10, 20, 20, 30}, p.lines[2].x, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{1170, 1160, 1155, 1155, 1160, 1170}, p.lines[2].y, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{1150, 1000, 1150}, p.lines[1].y, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([4]float64{0, 30, 0, 1200}, [4]float64{p.x.min, p.x.max, p.y.min, p.y.max}, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, p.sheet(), "side A", "side B", "mm through the thickness", "°C", "1018", "80CrV2", "welding heat 1150 °C")
}

// TestProfileStages: of too many stages the first and last ones stay, and the
// picture says so.
func TestProfileStages(t *testing.T) {
	r := cases()["odd"].result()
	took := 0
	for _, st := range r.Soak.Stages {
		if st.End > st.Start {
			took++
		}
	}
	p := soakProfile(r)
	if len(p.lines) != profileMost+1 { // and the one when the skin looks ready
		t.Errorf("%d lines; %d", len(p.lines), profileMost+1)
	}
	if want := fmt.Sprintf(" · %d stages in the middle left out", took-profileMost); !strings.HasSuffix(p.subtitle, want) {
		t.Errorf("subtitle %q; %q", p.subtitle, want)
	}
}

func TestSectionData(t *testing.T) {
	k := soakSection(plainResult())
	if want := "When the skin looks ready the coldest spot is 150 °C short of welding heat"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	if d := cmp.Diff([6]float64{0, 40, 0, 30, 1000, 1160}, [6]float64{k.across.min, k.across.max, k.up.min, k.up.max,
		k.heat.min, k.heat.max}, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{10, 20}, k.faces, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "coldest spot 1000 °C", "welding heat", "coldest", "°C", "side A", "side B", "80CrV2",
		"mm across from left to right, and up; true scale")
	// True scale: as many points to the mm up as across, in the frame and in
	// the image, to a pixel.
	a, u := k.across, k.up
	if d := cmp.Diff(float64(a.hi-a.lo)/40, float64(u.hi-u.lo)/30, closeTo); d != "" {
		t.Error(d)
	}
	img := k.img.(*image.Paletted)
	if w, h := img.Bounds().Dx(), img.Bounds().Dy(); w != 640 || h != 480 {
		t.Errorf("image %d by %d; 640 by 480", w, h)
	}
	// The middle is the cold end of the colours; half way from there to the
	// top, 1075 °C; half way to the left, 1060 °C; a pixel off each.
	at := func(x, y int) float64 { return float64(img.ColorIndexAt(x, y)) / (scaleSteps - 1) }
	for _, c := range []struct {
		x, y int
		want float64 // °C
	}{{320, 240, 1000}, {320, 120, 1075}, {160, 240, 1060}, {0, 0, 1160}, {639, 479, 1160}} {
		// Two pixels of the steepest slope, 150 K in 240, and a colour step.
		if got := 1000 + 160*at(c.x, c.y); math.Abs(got-c.want) > 2*150.0/240+160.0/(scaleSteps-1) {
			t.Errorf("colour at %d, %d stands for %.1f °C; %.1f", c.x, c.y, got, c.want)
		}
	}
}

// TestSectionUpright: the first row of a section is side B and lies at the
// foot of the picture.
func TestSectionUpright(t *testing.T) {
	r := plainResult()
	for i := range r.Soak.Section.Temperature[0] {
		r.Soak.Section.Temperature[0][i] = r.Soak.Section.ColdT // B cold
	}
	img := soakSection(r).img.(*image.Paletted)
	if foot, head := img.ColorIndexAt(5, 479), img.ColorIndexAt(5, 0); foot > 5 || head < 240 {
		t.Errorf("foot %d, head %d; B cold at the foot, A hot at the head", foot, head)
	}
}

// TestColdAcross: where the section is as cold in the middle, that is where
// the mark goes; a spot that is coldest off the middle keeps its place.
func TestColdAcross(t *testing.T) {
	r := plainResult()
	s := &r.Soak.Section
	s.Cold[0] = 0
	s.Temperature[1][0] = s.ColdT
	if got := soakSection(r).cold[0]; got != 20 {
		t.Errorf("even across: marked at %g mm; 20", got)
	}
	s.Temperature[1][1] += 5
	if got := soakSection(r).cold[0]; got != 0 {
		t.Errorf("cold at the left: marked at %g mm; 0", got)
	}
}

// TestEvenSection: a section that is even for all a smith can do is not made
// to look uneven.
func TestEvenSection(t *testing.T) {
	r := plainResult()
	for _, row := range r.Soak.Section.Temperature {
		for i := range row {
			row[i] = 1423.15 + 0.5*float64(i)
		}
	}
	r.Soak.Section.ColdT = 1423.15
	k := soakSection(r)
	if k.heat.max-k.heat.min < heatLeast {
		t.Errorf("colours from %g to %g", k.heat.min, k.heat.max)
	}
	if want := "When the skin looks ready, the whole section is at welding heat"; k.title != want {
		t.Errorf("title %q; %q", k.title, want)
	}
}

func TestTitles(t *testing.T) {
	never := plainResult()
	a := &never.Soak.Answers
	a.JointsAtWeld, a.CoreAtWeld, a.Soak, a.SkinAtWeld = sim.Maybe{}, sim.Maybe{}, sim.Maybe{}, sim.Maybe{}
	never.Soak.CeilingJoints = 1080 + 273.15
	at := plainResult()
	at.Soak.Answers.JointsAtWeld.Value = 300
	burns := plainResult()
	burns.Soak.Answers.Overheats.Value = 600
	one := plainResult()
	one.Job.Stack.Layers = one.Job.Stack.Layers[:1]
	one.Soak.History.ColdestJoint, one.Soak.RunOn.ColdestJoint = nil, nil
	one.Soak.Answers.JointsAtWeld = sim.Maybe{}
	inch := plainResult()
	inch.Job.Units = sim.Inch
	inch.Soak.Answers = never.Soak.Answers
	inch.Soak.CeilingJoints = never.Soak.CeilingJoints
	for want, r := range map[string]*sim.Result{
		"The joints never reach welding heat: at 1080 °C still 70 °C short":                                    never,
		"The joints never reach welding heat: at 1980 °F still 130 °F short":                                   inch,
		"Joints at welding heat after 5 min, no later than the skin":                                           at,
		"Core at welding heat after 10 min, 4 min 50 s after the skin looks ready":                             one,
		"Joints at welding heat after 9 min 30 s, 4 min 30 s after the skin looks ready; it burns from 10 min": burns,
	} {
		if got := plain(soakHistory(r).title); got != want {
			t.Errorf("title %q; %q", got, want)
		}
	}
	if got, want := plain(soakSection(never).title), "The skin never reaches welding heat: in the end the coldest spot is 150 °C short of welding heat"; got != want {
		t.Errorf("title %q; %q", got, want)
	}
}

func TestInch(t *testing.T) {
	r := plainResult()
	r.Job.Units = sim.Inch
	h := soakHistory(r)
	if got, want := h.lines[2].y[3], 1170*1.8+32; math.Abs(got-want) > 1e-9 {
		t.Errorf("skin at the end %g °F; %g", got, want)
	}
	if d := cmp.Diff([2]float64{0, 2500}, [2]float64{h.y.min, h.y.max}); d != "" {
		t.Error(d)
	}
	mustSay(t, h.sheet(), "°F", "welding heat 2102 °F")
	p := soakProfile(r)
	if got, want := p.x.max, 30/25.4; math.Abs(got-want) > 1e-12 {
		t.Errorf("thickness %g in; %g", got, want)
	}
	mustSay(t, p.sheet(), "inches through the thickness", "1.0")
	mustSay(t, soakSection(r).sheet(), "°F", "coldest spot 1830 °F", "inches across from left to right, and up; true scale")
}

// TestLevelsOff: of a run that never gets there only what it takes to level
// off is shown, and a quarter more.
func TestLevelsOff(t *testing.T) {
	r := cases()["never"].result()
	h := joined(r.Soak)
	to := levelsOff(h)
	for i, v := range h.Skin {
		if h.Time[i] >= to && math.Abs(v-h.Skin[len(h.Skin)-1]) > 5 {
			t.Fatalf("skin at %g s is %g K off its end", h.Time[i], v-h.Skin[len(h.Skin)-1])
		}
	}
	if got, want := horizon(r.Soak), 1.25*to; math.Abs(got-want) > 1e-9 {
		t.Errorf("shown to %g s; %g", got, want)
	}
}

func TestBillet(t *testing.T) {
	for name, m := range cases() {
		r := m.result()
		text := billet(r.Job, shownIn(r.Job), "")
		if w := handSub.width(text); w > pageWidth-2*pageMargin {
			t.Errorf("%s: %q is %g long", name, text, w)
		}
		if !strings.HasSuffix(text, " long") {
			t.Errorf("%s: %q lost its sizes", name, text)
		}
	}
}

func TestWrap(t *testing.T) {
	got := handTitle.wrap("Joints at welding heat after "+whole("9 min 30 s")+", as it should be in the end", handTitle.width("Joints at welding heat after 9 min"), 2)
	if got[0] != "Joints at welding heat after" || !strings.HasPrefix(got[1], "9 min 30 s, as it") || len(got) != 2 {
		t.Errorf("%q", got)
	}
	if got := handSub.fit("a long name", handSub.width("a lo…")); got != "a lo…" {
		t.Errorf("%q", got)
	}
}
