package plots

import (
	"math"
	"strings"
	"testing"

	"billet/layers"
	"billet/sim"

	"github.com/google/go-cmp/cmp"
)

// TestWorkFigures: the figures in order, readable in both formats, with the
// same bytes twice.
func TestWorkFigures(t *testing.T) {
	for _, c := range []struct {
		draw  func(*sim.Result, Format) ([]Figure, error)
		r     *sim.Result
		names []string
	}{
		{Passes, usualWork().result(), []string{"passes-size", "passes-force"}},
		{Passes, works()["ground only"].result(), []string{"passes-size"}},
		{Drift, usualWork().result(), []string{"drift-sections", "drift-passes", "drift-causes", "drift-along", "drift-across", "drift-flow"}},
		{Drift, works()["too much"].result(), []string{"drift-sections", "drift-passes", "drift-causes", "drift-along", "drift-across"}},
		{Drift, works()["bare"].result(), []string{"drift-passes"}},
		{Lesson, lessons()["usual"], []string{"lesson"}},
	} {
		for _, f := range []Format{SVG, PNG} {
			figures, err := c.draw(c.r, f)
			if err != nil {
				t.Fatal(err)
			}
			again := figures
			if f == SVG || c.names[0] == "lesson" { // what is drawn is the same for both
				if again, err = c.draw(c.r, f); err != nil {
					t.Fatal(err)
				}
			}
			sound(t, f, figures, again, c.names)
		}
		if _, err := c.draw(c.r, Format(9)); err == nil {
			t.Error("format 9 drawn")
		}
	}
}

// TestWorkInput: drawing leaves the result as it was.
func TestWorkInput(t *testing.T) {
	r, same := usualWork().result(), usualWork().result()
	for _, draw := range []func(*sim.Result, Format) ([]Figure, error){Passes, Drift} {
		if _, err := draw(r, SVG); err != nil {
			t.Fatal(err)
		}
	}
	if d := cmp.Diff(same.Work, r.Work); d != "" {
		t.Error(d)
	}
}

// TestWorkRefused: whatever cannot be drawn is refused by name, and never
// drawn.
func TestWorkRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		want  string
		spoil func(w *sim.Work)
	}{
		{"thickness of bar at the start, value 1: NaN", func(w *sim.Work) { w.Start.Thickness = nan }},
		{"width of bar at the start: 0 m", func(w *sim.Work) { w.Start.Width = 0 }},
		{"passes: none", func(w *sim.Work) { w.Passes, w.Sections, w.Flips = nil, nil, nil }},
		{"width of bar after pass 3, value 1: +Inf", func(w *sim.Work) { w.Passes[2].After.Width = inf }},
		{"temperature of pass 2, value 3: NaN", func(w *sim.Work) { w.Passes[1].SideB = nan }},
		{"force of pass 9, value 1: NaN", func(w *sim.Work) { w.Passes[8].Force = nan }},
		{"force of pass 9, value 3: +Inf", func(w *sim.Work) { w.Passes[8].ForceRange[1] = inf }},
		{"torque of pass 1, value 1: NaN", func(w *sim.Work) { w.Passes[0].Torque = nan }},
		{"power of pass 1, value 1: NaN", func(w *sim.Work) { w.Passes[0].Power = nan }},
		{"offset after pass 4, value 1: NaN", func(w *sim.Work) { w.Passes[3].Offset = nan }},
		{"tool of pass 4: 17", func(w *sim.Work) { w.Passes[3].Tool = 17 }},
		{"press force in pass 1, value 2: NaN", func(w *sim.Work) { w.Passes[0].Limits[0].Allowed = nan }},
		{"length of finished bar: -1 m", func(w *sim.Work) { w.Final.Length = -1 }},
		{"range of the width, value 2: NaN", func(w *sim.Work) { w.Final.WidthRange[1] = nan }},
		{"range of the offset, value 1: -Inf", func(w *sim.Work) { w.Final.OffsetRange[0] = -inf }},
		{"offset, tilt and wave of the finished bar, value 2: NaN", func(w *sim.Work) { w.Final.Tilt = nan }},
		{"offset along the bar, value 2: NaN", func(w *sim.Work) { w.Final.Along.Value[1] = nan }},
		{"thickness along the bar: 4 values; 5", func(w *sim.Work) { w.Final.AlongThick = w.Final.AlongThick[1:] }},
		{"place across the bar, value 3: falls", func(w *sim.Work) { w.Final.Across.At[2] = -1 }},
		{"offset across the bar, value 21: NaN", func(w *sim.Work) { w.Final.Across.Value[20] = nan }},
		{"cause temperature, value 1: NaN", func(w *sim.Work) { w.Causes = []sim.Cause{{Name: sim.Temperature, Offset: nan}} }},
		{"offset by pass, turned never: 8 values; 9", func(w *sim.Work) { w.Flips[0].ByPass = w.Flips[0].ByPass[1:] }},
		{"offset by pass, turned every pass, value 5: NaN", func(w *sim.Work) { w.Flips[1].ByPass[4] = nan }},
		{"final offset, turned every heat, value 1: NaN", func(w *sim.Work) { w.Flips[2].Offset = nan }},
		{"offset at the blade's edge, value 1: NaN", func(w *sim.Work) { w.EdgeOffset.Value = nan }},
		{"odds of the offset, value 3: NaN", func(w *sim.Work) { w.Odds.Offset[2] = nan }},
		{"offset of end view 2, value 1: NaN", func(w *sim.Work) { w.Sections[1].Offset = nan }},
		{"end view 3: no layers", func(w *sim.Work) { w.Sections[2].Layers = nil }},
		{"end view 3: after pass 10; 0 to 9", func(w *sim.Work) { w.Sections[2].Pass = 10 }},
		{"lower line of layer 2 of end view 1, value 2: NaN", func(w *sim.Work) { w.Sections[0].Layers[1].Lower[4].Z = nan }},
		{"upper line of layer 3 of end view 1: 1 points", func(w *sim.Work) {
			w.Sections[0].Layers[2].Upper = w.Sections[0].Layers[2].Upper[:1]
		}},
		{"end view 1: 0 by 0 m", func(w *sim.Work) {
			p := make([]layers.Point, 2)
			w.Sections[0].Layers = []sim.LayerOutline{{Lower: p, Upper: p}}
		}},
		{"flow of end view 2, strain, value 7: NaN", func(w *sim.Work) { w.Sections[1].Field.Strain[6] = nan }},
		{"flow of end view 2: 0 flows", func(w *sim.Work) { w.Sections[1].Field.Flow = nil }},
		{"flow of end view 2, corners, value 1: NaN", func(w *sim.Work) { w.Sections[1].Field.Corners[3][2].Y = nan }},
		{"flow of end view 2, velocity, value 2: +Inf", func(w *sim.Work) { w.Sections[1].Field.Flow[3].Z = inf }},
	} {
		for _, draw := range []func(*sim.Result, Format) ([]Figure, error){Passes, Drift} {
			r := usualWork().result()
			c.spoil(r.Work)
			refused(t, c.want, r, draw)
		}
	}
	for _, draw := range []func(*sim.Result, Format) ([]Figure, error){Passes, Drift} {
		refused(t, "no passes in the result", nil, draw)
		refused(t, "no passes in the result", usual().result(), draw)
		r := usualWork().result()
		r.Job.Blade.Height = nan
		refused(t, "blade, value 1: NaN", r, draw)
		r = usualWork().result()
		r.Job.Handling.WorkAbove = nan
		refused(t, "working floor, value 1: NaN", r, draw)
	}
}

// refused fails unless r is refused with the words and not drawn.
func refused(t *testing.T, want string, r *sim.Result, draw func(*sim.Result, Format) ([]Figure, error)) {
	t.Helper()
	figures, err := draw(r, SVG)
	if err == nil || !strings.HasPrefix(err.Error(), "picture: ") || !strings.Contains(err.Error(), want) {
		t.Errorf("%s: %v", want, err)
	}
	if figures != nil {
		t.Errorf("%s: drawn", want)
	}
}

func TestLessonRefused(t *testing.T) {
	for want, spoil := range map[string]func(r *sim.Result){
		"no lesson in the result":                                    func(r *sim.Result) { r.Lesson = nil },
		"lesson: no scenes":                                          func(r *sim.Result) { r.Lesson.Scenes = nil },
		"draft of the lesson, value 1: NaN":                          func(r *sim.Result) { r.Lesson.Draft = math.NaN() },
		"the lesson's start: no layers":                              func(r *sim.Result) { r.Lesson.Start.Layers = nil },
		"offset of scene Cold lower side, never turned, value 1: +I": func(r *sim.Result) { r.Lesson.Scenes[2].Never.Offset = math.Inf(1) },
		"scene Cold lower side, turned: no layers":                   func(r *sim.Result) { r.Lesson.Scenes[2].Flipped.Layers = nil },
	} {
		r := taught(usualWork(), 9)
		spoil(r)
		refused(t, want, r, Lesson)
	}
}

// TestWorkOddNames: names with anything in them give a readable picture.
func TestWorkOddNames(t *testing.T) {
	r := usualWork().result()
	r.Job.Title = "A <b>&\"odd\"\x00\x01\xff\u202e title </text>"
	r.Work.Causes[1].Name = "]]> & <text "
	r.Work.Passes[8].Limits[0] = layers.Limit{What: strings.Repeat("<long> ", 60), Demand: 2, Allowed: 1}
	r.Work.Sections[0].Layers[0].Material = "\x00"
	figures, err := Drift(r, SVG)
	if err != nil {
		t.Fatal(err)
	}
	more, err := Passes(r, SVG)
	if err != nil {
		t.Fatal(err)
	}
	l := taught(usualWork(), 3)
	l.Lesson.Scenes[0].Title, l.Lesson.Scenes[1].Why = strings.Repeat("<title>&", 40), strings.Repeat("why\x00", 300)
	page, err := Lesson(l, SVG)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range append(append(figures, more...), page...) {
		readable(t, f)
	}
}
