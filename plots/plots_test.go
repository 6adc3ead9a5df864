package plots

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"billet/sim"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
)

func TestParseFormat(t *testing.T) {
	for s, want := range map[string]Format{"svg": SVG, "PNG": PNG, "Svg": SVG} {
		if got, err := ParseFormat(s); err != nil || got != want {
			t.Errorf("%q: %v, %v; %v", s, got, err, want)
		}
	}
	_, err := ParseFormat("gif")
	if err == nil || err.Error() != `picture format: "gif"; svg or png` {
		t.Errorf("gif: %v", err)
	}
	if _, err := Soak(usual().result(), Format(7)); err == nil {
		t.Error("format 7 drawn")
	}
}

// sound checks figures of a format against the same drawn again: their names in
// order, titles, the same bytes, readable.
func sound(t *testing.T, f Format, figures, again []Figure, want []string) {
	t.Helper()
	var names []string
	for i, fig := range figures {
		names = append(names, fig.Name)
		if fig.Format != f || fig.Title == "" {
			t.Errorf("%s: format %v, title %q", fig.Name, fig.Format, fig.Title)
		}
		if !bytes.Equal(fig.Bytes, again[i].Bytes) {
			t.Errorf("%s.%v: other bytes the second time", fig.Name, f)
		}
		readable(t, fig)
	}
	if d := cmp.Diff(want, names); d != "" {
		t.Error(d)
	}
}

// TestSoak: three figures in order, readable in both formats, with the same
// bytes twice.
func TestSoak(t *testing.T) {
	for _, f := range []Format{SVG, PNG} {
		figures, err := Soak(usual().result(), f)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Soak(usual().result(), f)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, f, figures, again, []string{"soak-history", "soak-profile", "soak-section"})
	}
}

// readable reads a figure's file with the standard decoders.
func readable(t *testing.T, fig Figure) {
	t.Helper()
	if fig.Format == PNG {
		img, err := png.Decode(bytes.NewReader(fig.Bytes))
		if err != nil {
			t.Fatalf("%s: %v", fig.Name, err)
		}
		if w := img.Bounds().Dx(); w != 1700 { // 8.5 in at 200 dots an inch
			t.Errorf("%s: %d pixels wide; 1700", fig.Name, w)
		}
		return
	}
	d := xml.NewDecoder(bytes.NewReader(fig.Bytes))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%s: %v", fig.Name, err)
		}
	}
	var title bytes.Buffer
	if err := xml.EscapeText(&title, []byte(fig.Title)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(fig.Bytes, []byte("<title>"+title.String()+"</title>")) {
		t.Errorf("%s: no title element", fig.Name)
	}
	if a, b := bytes.Count(fig.Bytes, []byte("<text ")), bytes.Count(fig.Bytes, []byte("textLength=")); a != b || a == 0 {
		t.Errorf("%s: %d texts, %d lengths", fig.Name, a, b)
	}
	if bytes.Contains(fig.Bytes, []byte("NaN")) || bytes.Contains(fig.Bytes, []byte("Inf")) {
		t.Errorf("%s: a number that is none", fig.Name)
	}
}

// everySheet draws every figure of every case as marks.
func everySheet(t *testing.T) map[string][]*sheet {
	t.Helper()
	all := map[string][]*sheet{}
	add := func(name string, r *sim.Result, check func(*sim.Result) error, lay func(*sim.Result) []*sheet) {
		if err := check(r); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all[name] = append(all[name], lay(r)...)
	}
	for name, m := range cases() {
		add("soak, "+name, m.result(), checkSoak, soakSheets)
	}
	for name, f := range works() {
		add("work, "+name, f.result(), checkWork, passesSheets)
		add("work, "+name, f.result(), checkWork, driftSheets)
	}
	for name, r := range lessons() {
		add("lesson, "+name, r, checkLesson, lessonSheets)
	}
	for name, r := range parts(t) {
		sheets, err := partSheets(r)
		if err != nil {
			t.Fatalf("parts, %s: %v", name, err)
		}
		all["parts, "+name] = sheets
	}
	return all
}

// TestLabels: in no picture of any case do two texts overlap or leave the
// page, or is a text empty.
func TestLabels(t *testing.T) {
	for name, all := range everySheet(t) {
		for _, s := range all {
			var texts []words
			for _, k := range s.marks {
				if w, ok := k.(words); ok {
					texts = append(texts, w)
				}
			}
			for i, a := range texts {
				if strings.TrimSpace(a.text) == "" || strings.Contains(a.text, hold) {
					t.Errorf("%s, %s: text %q", name, s.name, a.text)
				}
				if b := a.box(); b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > s.w || b.Max.Y > s.h {
					t.Errorf("%s, %s: %q leaves the page", name, s.name, a.text)
				}
				for _, b := range texts[i+1:] {
					if overlap(a.box(), b.box()) {
						t.Errorf("%s, %s: %q overlaps %q", name, s.name, a.text, b.text)
					}
				}
			}
		}
	}
}

func overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// TestMarksOnPage: nothing that is drawn leaves the page.
func TestMarksOnPage(t *testing.T) {
	for name, all := range everySheet(t) {
		for _, s := range all {
			for _, k := range s.marks {
				var pts []vg.Point
				switch k := k.(type) {
				case stroke:
					pts = k.pts
				case area:
					pts = k.pts
				case dot:
					pts = []vg.Point{k.at}
				case raster:
					pts = []vg.Point{k.over.Min, k.over.Max}
				}
				for _, p := range pts {
					if !(p.X >= 0 && p.Y >= 0 && p.X <= s.w && p.Y <= s.h) {
						t.Fatalf("%s, %s: %T at %v leaves the page", name, s.name, k, p)
					}
				}
			}
		}
	}
}

// TestOddNames: names with anything in them give a readable picture.
func TestOddNames(t *testing.T) {
	r := usual().result()
	r.Job.Title = "A <b>&\"odd\"\x00\x01\xff\u202e title </text>"
	r.Soak.Milestones[0].Name = "]]> & <text "
	r.Job.Stack.Layers[1].Material.Name = strings.Repeat("long ", 60)
	r.Soak.Limits[1].Material = r.Job.Stack.Layers[1].Material.Name
	figures, err := Soak(r, SVG)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range figures {
		readable(t, f)
	}
}

// TestRefused: whatever cannot be drawn is refused by name, and never drawn.
func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		want  string
		spoil func(r *sim.Result)
	}{
		{"no soak in the result", func(r *sim.Result) { r.Soak = nil }},
		{"history time, value 3: NaN", func(r *sim.Result) { r.Soak.History.Time[2] = nan }},
		{"history time, value 3: falls", func(r *sim.Result) { r.Soak.History.Time[2] = 0 }},
		{"history skin, value 5: +Inf", func(r *sim.Result) { r.Soak.History.Skin[4] = inf }},
		{"history core: ", func(r *sim.Result) { r.Soak.History.Core = r.Soak.History.Core[1:] }},
		{"history coldest joint, value 1: NaN", func(r *sim.Result) { r.Soak.History.ColdestJoint[0] = nan }},
		{"history: 0 samples", func(r *sim.Result) { r.Soak.History = sim.History{} }},
		{"history if left in skin, value 1: NaN", func(r *sim.Result) {
			r.Soak.RunOn = sim.History{Time: []float64{9e3}, Skin: []float64{nan}, Core: []float64{300}, ColdestJoint: []float64{300}}
		}},
		{"stages: none", func(r *sim.Result) { r.Soak.Stages = nil }},
		{"stage 2, value 3: NaN", func(r *sim.Result) { r.Soak.Stages[1].Skin = nan }},
		{"profile temperature of stage 1, value 2: -Inf", func(r *sim.Result) { r.Soak.Stages[0].Profile.Temperature[1] = -inf }},
		{"profile height of stage 3, value 1: NaN", func(r *sim.Result) { r.Soak.Stages[2].Profile.Z[0] = nan }},
		{"profile of stage 1: 0 places", func(r *sim.Result) { r.Soak.Stages[0].Profile = sim.Profile{} }},
		{"milestone pull for flux, value 1: NaN", func(r *sim.Result) { r.Soak.Milestones[0].Time = nan }},
		{"soak time, value 1: +Inf", func(r *sim.Result) { r.Soak.Answers.Soak.Value = inf }},
		{"burning limit of 80CrV2, value 1: NaN", func(r *sim.Result) { r.Soak.Limits[1].Limit = nan }},
		{"section temperature, row 2, value 4: NaN", func(r *sim.Result) { r.Soak.Section.Temperature[1][3] = nan }},
		{"section temperature, row 3: ", func(r *sim.Result) { r.Soak.Section.Temperature[2] = []float64{1} }},
		{"section cold spot, value 3: NaN", func(r *sim.Result) { r.Soak.Section.ColdT = nan }},
		{"section width, value 1: NaN", func(r *sim.Result) { r.Soak.Section.Y[0] = nan }},
		{"section width: 0 m", func(r *sim.Result) { clear(r.Soak.Section.Y) }},
		{"section height: 0 m", func(r *sim.Result) { clear(r.Soak.Section.Z) }},
		{"thickness of layer 2: 0 m", func(r *sim.Result) { r.Job.Stack.Layers[1].Thickness = 0 }},
		{"stack: no layers", func(r *sim.Result) { r.Job.Stack.Layers = nil }},
		{"welding heat, value 1: NaN", func(r *sim.Result) { r.Job.Weld.Heat = nan }},
		{"range of colour cherry, value 2: +Inf", func(r *sim.Result) { r.Colours[2].To = inf }},
		{"ceiling of the joints, value 1: NaN", func(r *sim.Result) { r.Soak.CeilingJoints = nan }},
	} {
		r := usual().result()
		c.spoil(r)
		figures, err := Soak(r, SVG)
		if err == nil || !strings.HasPrefix(err.Error(), "picture: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.want, err)
		}
		if figures != nil {
			t.Errorf("%s: drawn", c.want)
		}
	}
}

// TestBareResult: the least a run can give is drawn: a single stage of no
// length, no milestones, no limits, no colours, one column of section.
func TestBareResult(t *testing.T) {
	r := usual().result()
	first := r.Soak.Stages[0]
	first.End = first.Start
	s := &sim.Soak{Stages: []sim.StageEnd{first}}
	s.History = sim.History{Time: []float64{0, 0}, Skin: []float64{293, 293}, Core: []float64{293, 293}}
	s.Section = sim.Section{Y: []float64{0.02}, Z: []float64{0, 0.028}, Temperature: [][]float64{{293}, {293}}, Cold: [2]float64{0.02, 0}, ColdT: 293}
	figures, err := Soak(&sim.Result{Job: r.Job, Soak: s}, SVG)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range figures {
		readable(t, f)
	}
	if len(figures) != 3 {
		t.Errorf("%d figures; 3", len(figures))
	}
}

func ExampleParseFormat() {
	f, err := ParseFormat("PNG")
	fmt.Println(f, err)
	_, err = ParseFormat("bmp")
	fmt.Println(err)
	// Output:
	// png <nil>
	// picture format: "bmp"; svg or png
}
