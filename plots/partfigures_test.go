package plots

import (
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"billet/sim"

	"github.com/google/go-cmp/cmp"
)

// TestGrindSectionData: the core lines of a straight core in the middle of a
// flat bevel stand where plane geometry puts them, and the picture shows them
// there.
func TestGrindSectionData(t *testing.T) {
	r := basePart().result(t)
	k := grindSection(r)
	// Half way along the spine is (3.4 + 1.8)/2 = 2.6 mm and the flats begin
	// 28 mm up; the edge is 0.4 mm. A core of 1.5 mm in the middle comes out
	// where the half thickness, 0.2 mm + u (1.3 − 0.2)/28, is 0.75 mm: u = 14 mm.
	if want := "Half way along the core lines are 14.00 mm up on both sides"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	for side, p := range k.view.marks {
		// The edge is 4 mm inside the right side, y = 20 − 4 = 16 mm; the bar is
		// 5.5 mm thick and its middle lies at its own mid-plane.
		z := 2.75e-3 + [2]float64{-0.75e-3, 0.75e-3}[side]
		// 1e-6 m: the core line is found by a root finder
		if math.Abs(p.y-2e-3) > 1e-6 || math.Abs(p.z-middle(k.view)+2.75e-3-z) > 1e-6 {
			t.Errorf("core line %d at %v; 2 mm across, %g m up", side, *p, z)
		}
	}
	for side, m := range k.view.margin { // (1.5 − 0.4)/2
		if math.Abs(m-0.55e-3) > 1e-9 {
			t.Errorf("margin %d %g m; 0.55 mm", side, m)
		}
	}
	s := k.sheet()
	mustSay(t, s, "side A: core line 14.00 mm above the edge, wanted 8.00 mm", "A 0.55 mm", "B 0.55 mm", "core 80CrV2", "1018", "10 mm")
	// True scale: a millimetre is as long up as across, on the drawn pane.
	lo, hi := k.view.bounds()
	p := pane{lo: lo, hi: hi, scale: 3}
	if a, b := p.at(groundPoint{lo.y + 1, lo.z}), p.at(groundPoint{lo.y, lo.z + 1}); a.X != p.wide() || b.Y != p.high() {
		t.Errorf("held at %v, %v; the pane's sides", a, b)
	}
}

// middle is the height of the bar's mid-plane, m.
func middle(v *groundView) float64 {
	lo, hi := v.bar()
	return (lo.z + hi.z) / 2
}

// TestGroundLayers: within the blade the layers fill it, and their areas sum
// to the section's.
func TestGroundLayers(t *testing.T) {
	for name, r := range parts(t) {
		v := viewGround(r)
		sum := func(low, high []groundPoint) (a float64) {
			for i := 1; i < len(low); i++ {
				a += math.Abs(low[i].y-low[i-1].y) * (high[i].z - low[i].z + high[i-1].z - low[i-1].z) / 2
			}
			return a
		}
		whole := sum(v.faces[0], v.faces[1])
		layers := 0.0
		for i, w := range v.within {
			a := sum(w[0], w[1])
			layers += a
			// The geometry's own areas; a tenth of a per cent: 240 straight pieces.
			if got := r.Ground.Answer.Mid.Areas; got != nil && name != "narrow bar" && math.Abs(a-got[i]) > 1e-3*whole {
				t.Errorf("%s: layer %d has %g m²; %g", name, i, a, got[i])
			}
		}
		if name != "narrow bar" && name != "chisel, soft" && math.Abs(layers-whole) > 1e-3*whole {
			t.Errorf("%s: layers %g m², blade %g m²", name, layers, whole)
		}
	}
}

// TestBarSides: beyond the end of a line the bar's side is followed, and
// beyond the widest place there is no bar.
func TestBarSides(t *testing.T) {
	run := func(left, right, z float64) []groundPoint {
		var out []groundPoint
		for k := range groundSteps + 1 {
			out = append(out, groundPoint{left + (right-left)*float64(k)/groundSteps, z})
		}
		return out
	}
	v := &groundView{lines: [][]groundPoint{run(-8, 8, 0), run(-10, 12, 2), run(-9, 9, 6)}, within: make([][2][]groundPoint, 2)}
	for _, c := range []struct {
		line    int
		y, want float64
	}{{0, 0, 0}, {0, 10, 1}, {0, -9, 1}, {2, 10.5, 4}, {2, -9.5, 4}, {1, 11, 2}, {0, 20, 2}} {
		if got := v.line(c.line, c.y); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("line %d at %g: %g; %g", c.line, c.y, got, c.want)
		}
	}
	v.fillIn(groundPoint{13, 0}, groundPoint{13, 5})
	if len(v.within[0][0]) != 0 {
		t.Error("steel beyond the bar's side")
	}
	v.fillIn(groundPoint{0, 1}, groundPoint{0, 5})
	if w := v.within; w[0][0][0].z != 1 || w[0][1][0].z != 2 || w[1][1][0].z != 5 {
		t.Errorf("layers %v; 1 to 2 to 5", w)
	}
}

func TestGrindSideData(t *testing.T) {
	r := basePart().result(t)
	k := grindSide(r)
	if len(k.lines) != 2 || k.lines[0].dash != nil || k.lines[1].dash == nil {
		t.Fatalf("%d lines; side A solid, side B dashed", len(k.lines))
	}
	if len(k.rules) != 1 || math.Abs(k.rules[0].value-8) > 1e-9 {
		t.Errorf("rules %v; wanted at 8 mm", k.rules)
	}
	mustSay(t, k.sheet(), "wanted 8.00 mm", "heel", "tip", "core on both faces", "mm from the heel")
	off := parts(t)["off the edge"]
	k = grindSide(off)
	if len(k.out) == 0 || k.out[0].to <= k.out[0].from || !strings.HasPrefix(k.title, "The edge leaves the core over") {
		t.Errorf("stretches %v, title %q; the edge out of the core", k.out, k.title)
	}
	mustSay(t, k.sheet(), k.out[0].label)
	thin := grindSide(parts(t)["thin core"]) // out on both sides all along, counted once
	if want := "The edge leaves the core over 140.0 mm of its length"; plain(thin.title) != want || len(thin.out) != 1 || thin.out[0].label != "jacket on both sides" {
		t.Errorf("title %q, stretches %v", thin.title, thin.out)
	}
}

func TestStockData(t *testing.T) {
	k := stockChain(basePart().result(t))
	if want := "36 % of the steel cut becomes blade; the largest loss, 55 %: ground to the blade"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	// 800 g, of which 3, 6 and 55 % go.
	want := []fall{{to: 800}, {from: 800, to: 776}, {from: 776, to: 728}, {from: 728, to: 288}, {to: 288}}
	for i, w := range want {
		if g := k.rows[i]; math.Abs(g.from-w.from) > 1e-9 || math.Abs(g.to-w.to) > 1e-9 {
			t.Errorf("row %d from %g to %g; %g to %g", i, g.from, g.to, w.from, w.to)
		}
	}
	mustSay(t, k.sheet(), "the stack", "800 g", "−440 g, 55 %", "290 g, 36 %", "g")
}

func TestLossesData(t *testing.T) {
	r := basePart().result(t)
	k := lossesCarbon(r)
	if want := "Of 0.80 % carbon the core has 0.78 % where the edge will lie, after 5 heats; the joint has blurred to 0.30 mm"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	if d := cmp.Diff([]float64{0, 100.0 / 3, 100.0 / 3, 200.0 / 3, 200.0 / 3, 100}, k.lines[0].x, closeTo); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{0.2, 0.2, 0.8, 0.8, 0.2, 0.2}, k.lines[0].y, closeTo); d != "" {
		t.Error(d)
	}
	if n := len(k.lines); n != 6 {
		t.Errorf("%d lines; as laid up and five heats", n)
	}
	mustSay(t, k.sheet(), "side A", "side B", "% C", "as laid up", "heat 1, 27.9 mm thick", "heat 5, 5.6 mm thick")
	b := lossesScale(r)
	if d := cmp.Diff([2]float64{0.025, 0.02}, b.heats[1].lost, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, b.sheet(), "side A, in all 0.11 mm", "side B, in all 0.09 mm", "1.20 %", "heat")
	many := lossesCarbon(parts(t)["many layers, piled"])
	if n := len(many.lines); n != carbonMost || !strings.HasSuffix(many.subtitle, "19 heats in between left out") {
		t.Errorf("%d lines, %q; %d of 26", n, many.subtitle, carbonMost)
	}
}

// TestLossesBladeData: the blade's own core has the core's carbon, and where
// the blade is not there is nothing.
func TestLossesBladeData(t *testing.T) {
	r := basePart().result(t)
	last := &r.Losses.Heats[4]
	for i := range last.Carbon { // flat layers
		last.Carbon[i] = []float64{0.2, 0.8, 0.3}[i/9]
	}
	k := lossesBlade(r)
	at := func(y, z float64) float64 {
		return k.at(groundPoint{y, z}, k.stackAt(y))
	}
	lo, _ := k.view.bar()
	for z, want := range map[float64]float64{1e-3: 0.2, 2.75e-3: 0.8, 4.5e-3: 0.3} {
		if got := at(0, lo.z+z); math.Abs(got-want) > 1e-12 {
			t.Errorf("carbon %g m up: %g %%; %g", z, got, want)
		}
	}
	lo, hi := k.view.bounds()
	img := k.picture(pane{lo: lo, hi: hi, scale: 1}).(*image.NRGBA)
	b := img.Bounds()
	if _, _, _, a := img.At(b.Dx()-3, b.Dy()/2).RGBA(); a != 0 {
		t.Error("painted beyond the edge")
	}
	// A third of the way from the left the blade's middle is core: 0.8 of 0.8.
	if got, want := img.At(b.Dx()/3, b.Dy()/2), k.ink(0.8); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("ink %v; %v", got, want)
	}
	// Another number of layers: the whole profile over the whole bar.
	last.Z, last.Carbon = []float64{0, 1}, []float64{0, 1}
	k = lossesBlade(r)
	lo, _ = k.view.bar()
	if got := at(0, lo.z+1.375e-3); math.Abs(got-0.25) > 1e-12 {
		t.Errorf("a quarter up %g %%; 0.25", got)
	}
}

// TestCarbonScale: more carbon is always darker, also in grey.
func TestCarbonScale(t *testing.T) {
	last := math.Inf(1)
	for i := 0; i < scaleSteps; i += 4 { // single steps are as small as eight bits hold
		r, g, b, _ := carbonScale()[i].RGBA()
		y := 0.2126*float64(r) + 0.7152*float64(g) + 0.0722*float64(b)
		if y >= last {
			t.Fatalf("step %d no darker", i)
		}
		last = y
	}
}

func TestHardenData(t *testing.T) {
	r := basePart().result(t)
	k := hardenCooling(r)
	// Whole decades that hold 0.1 s to four times the spine's 2 s.
	if d := cmp.Diff([2]float64{-1, 1}, [2]float64{k.x.min, k.x.max}); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([3]float64{math.Log10(1.5), math.Log10(3), math.Log10(6)}, k.nose, closeTo); d != "" {
		t.Error(d)
	}
	if math.Abs(k.noseT-540) > 1e-9 {
		t.Errorf("nose at %g °C; 540", k.noseT)
	}
	// The edge at the first 0.1 s: 830 °C falls to 60 °C with 2/3 s; the curve
	// is straight between its 60 points, which takes 1 K at the most.
	if got, want := k.lines[0].y[0], 60+770*math.Exp(-0.1/(2.0/3)); math.Abs(got-want) > 1 {
		t.Errorf("edge at 0.1 s %g °C; %g", got, want)
	}
	if want := "The core hardens through: slowest is the spine, which uses up 33 % of the time to pearlite"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	mustSay(t, k.sheet(), "0.1", "1", "10", "pearlite’s nose 3 s", "Ac1 725 °C", "martensite starts, Ms 205 °C", "spine, 3.00 mm thick")
	p := hardenTemper(r)
	if want := "Tempered at 200 °C the core at the edge is 60 HRC, give or take 2.5"; plain(p.title) != want {
		t.Errorf("title %q; %q", plain(p.title), want)
	}
	if math.Abs(p.at.at-200) > 1e-9 || p.at.value != 60 || math.Abs(p.high[0]-p.low[0]-5) > 1e-9 {
		t.Errorf("point %v, band %g; 60 HRC at 200 °C, 5 high", p.at, p.high[0]-p.low[0])
	}
	mustSay(t, p.sheet(), "HRC", "this job: 60 HRC", "as quenched 64 HRC", "the core at the edge, ± 2.5")
}

func TestHardenTitles(t *testing.T) {
	for _, c := range []struct {
		through bool
		used    float64
		want    string
	}{
		{true, 0.8, "The core should harden through: slowest is the spine, which uses up 80 % of the time to pearlite"},
		{false, 1.5, "The core may not harden through: slowest is the spine, which uses up 1.5 times the time to pearlite"},
		{false, 240, "The core does not harden through: slowest is the spine, which uses up 240 times the time to pearlite"},
		{false, 0.6, "The core does not harden through, though no place is slow enough for pearlite"},
	} {
		r := basePart().result(t)
		r.Hardened.Through = c.through
		r.Hardened.Places[2].Layers[0].Race.Used = c.used
		if got := plain(hardenCooling(r).title); got != c.want {
			t.Errorf("title %q; %q", got, c.want)
		}
	}
	soft := parts(t)["chisel, soft"]
	if want := "The core does not turn to austenite at 830 °C, so it does not harden"; plain(hardenCooling(soft).title) != want {
		t.Errorf("title %q", hardenCooling(soft).title)
	}
	if n := len(hardenCooling(soft).rules); n != 0 {
		t.Errorf("%d rules; a steel without critical points has none", n)
	}
}

func TestCausesData(t *testing.T) {
	r := basePart().result(t)
	k := soakCauses(r)
	if len(k.panels) != 4 {
		t.Fatalf("%d panels; 4", len(k.panels))
	}
	joint, floor, early := k.panels[0], k.panels[1], k.panels[3]
	if !joint.log || math.Abs(joint.here-3) > 1e-12 || joint.dot == nil {
		t.Errorf("joint at %g, %v; a thousand, on the line", joint.here, joint.dot)
	}
	if d := cmp.Diff([]float64{10, 5, 10.0 / 3, 2.5, 2, 10.0 / 6, 10.0 / 7}, joint.lines[0].y, closeTo); d != "" {
		t.Error(d)
	}
	if floor.dot != nil || floor.here >= floor.x.min {
		t.Errorf("floor at %g of %g; off the axis", floor.here, floor.x.min)
	}
	if d := cmp.Diff([]float64{120, 60, 40, 30, 24, 20, 120.0 / 7}, early.lines[0].y, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "← you are here 325 °C", "you are here", "Lag of the core by joint tightness", "What the coldest joint lacks if pulled early",
		"W/m²K through the joint", "minutes after the skin looks ready", "Short.")
	inch := parts(t)["inch"]
	if got := soakCauses(inch).panels[3].lines[0].y[0]; math.Abs(got-216) > 1e-9 { // 120 K
		t.Errorf("lacks %g °F; 216", got)
	}
	if got := soakCauses(parts(t)["chisel, soft"]).panels[2].empty; got == "" {
		t.Error("one point drawn as a line")
	}
}

func TestRangesData(t *testing.T) {
	r := basePart().result(t)
	r.Soak.Answers.Soak.Value = 600
	r.Soak.Ranges.Soak = sim.Range{Low: 480, High: 900, OK: true}
	r.Soak.Ranges.Causes = []sim.RangeCause{{What: "a", Low: 540, High: math.Inf(1)}, {What: "b", Low: 570, High: 660}}
	k := soakRanges(r)
	if !k.rows[0].never || k.rows[0].high != k.across.max || k.rows[1].never {
		t.Errorf("rows %v; the first never ends", k.rows)
	}
	if d := cmp.Diff([]float64{9.5, 11, 8, 15}, []float64{k.rows[1].low, k.rows[1].high, k.rows[2].low, k.rows[2].high}, closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "the soak 10 min", "more than 9 min", "9 to 11 min", "8 to 15 min", "all together")
}

func TestForgeData(t *testing.T) {
	r := basePart().result(t)
	k := soakForge(r)
	if want := "The billet pulls the forge down by 60 °C, to 1165 °C; it was not hot through when the billet went in, by 40 °C"; plain(k.title) != want {
		t.Errorf("title %q; %q", plain(k.title), want)
	}
	if d := cmp.Diff(spotAt{200.0 / 60, 1440 - 273.15}, k.dip, cmp.AllowUnexported(spotAt{}), closeTo); d != "" {
		t.Error(d)
	}
	mustSay(t, k.sheet(), "lowest 1165 °C, at 3 min 20 s", "forge", "°C")
}
