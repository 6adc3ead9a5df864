package jobfile

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"billet/sim"
	"billet/sim/steel"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// sameJob compares jobs: numbers to rounding of a unit conversion, materials
// by name, since what is in them is not this package's to check.
var sameJob = cmp.Options{
	cmpopts.EquateApprox(1e-12, 1e-15),
	cmp.Transformer("name", func(m steel.Material) string { return m.Name }),
	cmpopts.IgnoreFields(sim.Job{}, "Assumed"),
	cmpopts.IgnoreUnexported(sim.Job{}), // what a run works out
}

// exactly compares to the last bit. Laws of flow hold functions, which can't
// be compared: two are the same if they give the same stress.
var exactly = cmp.Comparer(func(a, b steel.Flow) bool {
	x, okX := steel.Material{Flow: a}.FlowStress(0.3, 5, 1373)
	y, okY := steel.Material{Flow: b}.FlowStress(0.3, 5, 1373)
	return x == y && okX == okY
})

const zeroC = 273.15

func c(t float64) float64 { return t + zeroC }

func ptr[T any](v T) *T { return &v }

func named(name string) steel.Material { return steel.Material{Name: name} }

func load(t *testing.T, path string) *sim.Job {
	t.Helper()
	j, err := Load(path)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return j
}

func read(t *testing.T, text string) *sim.Job {
	t.Helper()
	j, err := Read("test.toml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return j
}

// wholeJob is what testdata/whole.toml, the job with every plain key of the
// job file, must come out as. Conversions by hand: 1 ton = 2000 lbf =
// 8896.443230521 N (lbf exact by definition), 1 rpm = pi/30 rad/s.
func wholeJob() *sim.Job {
	const ton = 2000 * 4.4482216152605
	whole := sim.Surround{Wall: sim.Constant(c(1300)), Gas: sim.Constant(c(1300)), Film: 30, Emissivity: 0.8}
	j := &sim.Job{Title: "Boning knife, three layers"}
	j.Stack = sim.Stack{Width: 0.040, Length: 0.140, Start: c(20), Layers: []sim.Layer{
		{Material: named("1018"), Thickness: 0.010},
		{Material: named("80CrV2"), Thickness: 0.008, Core: true, Joint: sim.Joint{State: sim.Ground, Conductance: 1000}},
		{Material: named("1018"), Thickness: 0.010, Joint: sim.Joint{State: sim.Ground, Conductance: 1000}},
	}}
	j.Forge = sim.Forge{Kind: sim.Gas, Whole: whole, Chamber: 0.3, FilmGiven: true, EmissivityGiven: true, Lit: 1200, Burner: 20e3, Lining: 0.04}
	j.Forge.Faces[sim.Bottom] = &sim.Surround{Wall: sim.Constant(c(1000)), Gas: sim.Constant(c(1000)), Film: 300}
	j.Air = sim.Surround{Wall: sim.Constant(c(20)), Gas: sim.Constant(c(20)), Film: 10, Emissivity: 0.8}
	j.Weld = sim.Weld{Heat: c(1150), Flux: c(700), Hold: 120}
	j.Heats = []sim.Stage{
		{In: sim.InForge, Until: sim.UntilSkin, Temperature: c(700)},
		{In: sim.InAir, Until: sim.UntilTime, Time: 60},
		{In: sim.InForge, Until: sim.UntilCore, Temperature: c(1150), Hold: 120},
	}
	j.Shop = &sim.Shop{
		Bar:  &sim.Bar{Material: named("1018"), Thickness: 0.025, Width: 0.025, Length: 0.15},
		Seen: []sim.Seen{{Time: 310, Temperature: c(1000), Plus: 20, Minus: 20, Text: "1000 C"}},
	}
	die := sim.Die{Along: 0.05, Across: 0.1, Temperature: c(80)}
	j.Press = &sim.Press{Force: 25 * ton, Top: die, Bottom: die, Speed: 0.012, FrictionTop: 0.4, FrictionBottom: 0.4}
	j.Rolls = &sim.Rolls{DiameterTop: 0.08, DiameterBottom: 0.08, Speed: 20 * math.Pi / 30, Power: 2000,
		Force: 15 * ton, Friction: 0.5, Temperature: c(60)}
	j.Hammer = &sim.Hammer{Energy: 40, Rate: 1, Face: 0.03, Anvil: c(15)}
	j.Handling = sim.Handling{Transfer: 4, Rest: 2, WorkAbove: c(900),
		Reheat: sim.Stage{In: sim.InForge, Until: sim.UntilCore, Temperature: c(1100)}}
	j.Passes = []sim.Pass{{Line: j0PassLine, Tool: sim.ByPress, To: 0.022, DownA: ptr(false), Reheat: ptr(true), Repeat: 1,
		TemperatureA: ptr(c(1120)), TemperatureB: ptr(c(1020)), FrictionA: ptr(0.3), FrictionB: ptr(0.6),
		Bond: &sim.Bond{Welded: true}, Tilt: 0.5e-3}}
	j.Measured = []sim.Measured{{After: 2, Thickness: ptr(0.021), Width: ptr(0.043), Offset: ptr(0.3e-3)}}
	j.Target = &sim.Target{Thickness: 0.008, Width: 0.038}
	j.Blade = &sim.Blade{Spine: 0.003, TipSpine: 0.0015, Height: 0.032, Length: 0.15, Edge: 0.3e-3,
		Grind: sim.Bevel{Kind: sim.FlatGrind, Height: 0.028}, CoreLine: 0.008, EdgeFromSide: 0.003, EdgeRight: true,
		Clean: 0.4e-3}
	const inch = 0.0254
	j.Stock = &sim.Stock{Sizes: []float64{3 * inch / 16, inch / 4, 3 * inch / 8}, Trim: 0.012}
	temper := sim.TemperStep{Temperature: c(200), Time: 7200}
	j.Harden = &sim.Harden{Cycles: []float64{c(860), c(830), c(800)}, Austenitise: c(820), Soak: 300,
		Temper: []sim.TemperStep{temper, temper}}
	return j
}

// j0PassLine is the line of [[pass]] in testdata/whole.toml.
const j0PassLine = 98

func TestWhole(t *testing.T) {
	j := load(t, "testdata/whole.toml")
	if d := cmp.Diff(wholeJob(), j, sameJob); d != "" {
		t.Error("(-want +got)\n" + d)
	}
	m := j.Stack.Layers[1].Material
	known, err := steel.Lookup("80CrV2")
	if d := cmp.Diff(known, m, exactly); err != nil || d != "" {
		t.Errorf("the core is not the known 80CrV2 (%v)\n%s", err, d)
	}
}

// least is the smallest job: the required keys alone.
const least = `
[stack]
width = "40 mm"
length = "120 mm"
[[stack.layer]]
material = "1018"
thickness = "10 mm"
[[stack.layer]]
material = "1084"
thickness = "8 mm"
`

// TestDefaults leaves out everything that may be left out.
func TestDefaults(t *testing.T) {
	j := read(t, least)
	top := j.Stack.Layers[1].Material.Emissivity
	if top <= 0 || top > 1 {
		t.Fatalf("emissivity of 1084 is %g", top)
	}
	want := &sim.Job{}
	want.Stack = sim.Stack{Width: 0.040, Length: 0.120, Start: c(20), Layers: []sim.Layer{
		{Material: named("1018"), Thickness: 0.010},
		{Material: named("1084"), Thickness: 0.008, Joint: sim.Joint{State: sim.Ground, Conductance: 1000}},
	}}
	want.Forge = sim.Forge{Kind: sim.Gas, Chamber: 0.3,
		Whole: sim.Surround{Wall: sim.Constant(c(1300)), Gas: sim.Constant(c(1300)), Film: 30, Emissivity: top}}
	want.Air = sim.Surround{Wall: sim.Constant(c(20)), Gas: sim.Constant(c(20)), Film: 10, Emissivity: top}
	want.Weld = sim.Weld{Heat: c(1150), Flux: c(700), Hold: 120}
	want.Heats = []sim.Stage{
		{In: sim.InForge, Until: sim.UntilSkin, Temperature: c(700)},
		{In: sim.InAir, Until: sim.UntilTime, Time: 60},
		{In: sim.InForge, Until: sim.UntilJoints, Temperature: c(1150), Hold: 120},
	}
	want.Handling = sim.Handling{Transfer: 4, Rest: 2, WorkAbove: c(900),
		Reheat: sim.Stage{In: sim.InForge, Until: sim.UntilCore, Temperature: c(1100)}}
	if d := cmp.Diff(want, j, sameJob); d != "" {
		t.Error("(-want +got)\n" + d)
	}
	for _, part := range []string{"ground and tight (1000 W/m²K; 300 to 5000 is usual)", "1300 °C taken", "radiate", "gases in the forge"} {
		if !strings.Contains(strings.Join(j.Assumed, "\n"), part) {
			t.Errorf("nothing assumed about %q:\n%s", part, strings.Join(j.Assumed, "\n"))
		}
	}
}

// TestTableDefaults gives each optional table by its header alone: it must
// come out as in the whole job, except for the keys that are optional there.
func TestTableDefaults(t *testing.T) {
	j := read(t, least+`
[press]
[rolls]
[hammer]
[target]
[blade]
[stock]
[harden]
[spread]
[shop]
seen = [["5 min 10 s", "1000 C"]]
[[heat]]
until = "skin 700 C"
[[pass]]
to = "22 mm"
`)
	want := wholeJob()
	want.Rolls.Force = 0    // no limit
	want.Blade.CoreLine = 0 // not asked
	for _, pair := range [][2]any{
		{want.Press, j.Press}, {want.Rolls, j.Rolls}, {want.Hammer, j.Hammer}, {want.Target, j.Target},
		{want.Blade, j.Blade}, {want.Stock, j.Stock}, {want.Harden, j.Harden}, {want.Shop, j.Shop},
		{ptr(sim.DefaultSpread()), j.Spread},
		{want.Heats[:1], j.Heats},
		{sim.Pass{Line: 24, Tool: sim.ByPress, To: 0.022, Repeat: 1}, j.Passes[0]},
	} {
		if d := cmp.Diff(pair[0], pair[1], sameJob); d != "" {
			t.Errorf("%T (-want +got)\n%s", pair[0], d)
		}
	}
	if s := strings.Join(j.Assumed, "\n"); !strings.Contains(s, "Not given in [target] and taken: thickness 8 mm, width 38 mm.") {
		t.Errorf("the target's defaults are not listed:\n%s", s)
	}
}

// TestKinds holds what each kind of forge blows over the skin when the job
// does not say.
func TestKinds(t *testing.T) {
	for kind, film := range map[string]float64{"gas": 30, "coal": 50, "electric": 8} {
		j := read(t, least+"[forge]\nkind = \""+kind+"\"\n")
		if j.Forge.Whole.Film != film || j.Forge.Whole.Wall.Value[0] != c(1300) {
			t.Errorf("%s: film %g and wall %g, want %g and %g", kind, j.Forge.Whole.Film, j.Forge.Whole.Wall.Value[0], film, c(1300))
		}
	}
	j := read(t, least+"[forge]\nkind = \"induction\"\nfrequency = \"10 kHz\"\npower = \"15 kW\"\n")
	f := j.Forge
	if f.Whole.Wall.Value[0] != c(20) || f.Whole.Film != 10 || f.Frequency != 1e4 || f.Power != 1.5e4 {
		t.Errorf("induction: %+v", f)
	}
}

// TestUnlikeJackets: the bottom radiates as its own material does.
func TestUnlikeJackets(t *testing.T) {
	text := `
[stack]
width = "40 mm"
length = "120 mm"
[[stack.layer]]
material = "dull"
thickness = "10 mm"
[[stack.layer]]
material = "1084"
thickness = "8 mm"
[[material]]
name = "dull"
like = "1018"
emissivity = 0.95
`
	j := read(t, text)
	if s := j.Forge.Faces[sim.Bottom]; s == nil || s.Emissivity != 0.95 || s.Film != 30 {
		t.Errorf("bottom sees %+v", s)
	}
	j = read(t, text+"[forge.face.bottom]\nfilm = \"300 W/m2K\"\nemissivity = 0.0\n")
	if s := j.Forge.Faces[sim.Bottom]; s.Emissivity != 0 || s.Film != 300 {
		t.Errorf("bottom sees %+v", s)
	}
}

func TestStarter(t *testing.T) {
	text := Starter()
	if _, err := Read("starter.toml", strings.NewReader(text)); err != nil {
		t.Error(err)
	}
	for _, word := range []string{"film", "emissivity", "friction"} {
		if strings.Contains(text, word) {
			t.Errorf("the starter speaks of %s", word)
		}
	}
	// What it offers behind a # must load too.
	var open strings.Builder
	for line := range strings.Lines(text) {
		if rest, ok := strings.CutPrefix(line, "# "); ok && (strings.Contains(rest, " = ") || strings.HasPrefix(rest, "[")) {
			line = rest
		}
		open.WriteString(line)
	}
	j := read(t, open.String())
	if j.Rolls == nil || j.Hammer == nil || j.Shop == nil || len(j.Passes) != 1 || j.Forge.Faces[sim.Bottom] == nil {
		t.Error("not everything the starter offers was read")
	}
}

func TestDemoJobs(t *testing.T) {
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) < 6 {
		t.Fatalf("found %d jobs (%v)", len(files), err)
	}
	for _, file := range files {
		j := load(t, file)
		if j.Title == "" || len(j.Stack.Layers) == 0 {
			t.Errorf("%s: empty job", file)
		}
	}
}

// TestTwice: the same file gives the same job, down to the last bit.
func TestTwice(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/jobs/*.toml")
	for _, file := range append(files, "testdata/whole.toml") {
		if d := cmp.Diff(load(t, file), load(t, file), exactly, cmpopts.IgnoreUnexported(sim.Job{})); d != "" {
			t.Errorf("%s: two loads differ\n%s", file, d)
		}
	}
	files, _ = filepath.Glob("../../testdata/broken/*.toml")
	for _, file := range files {
		_, a := Load(file)
		_, b := Load(file)
		if a == nil || b == nil || a.Error() != b.Error() {
			t.Errorf("%s: two loads differ", file)
		}
	}
}

// TestTooLarge: what no job can be is not read to its end.
func TestTooLarge(t *testing.T) {
	_, err := Read("big.toml", strings.NewReader(strings.Repeat("# filler\n", 200_000)))
	if err == nil || !strings.Contains(err.Error(), "1 MiB at most") {
		t.Errorf("error %v", err)
	}
}

type brokenReader struct{}

func (brokenReader) Read([]byte) (int, error) { return 0, os.ErrClosed }

func TestReadFails(t *testing.T) {
	if _, err := Read("job.toml", brokenReader{}); !errors.Is(err, os.ErrClosed) {
		t.Errorf("error %v", err)
	}
}

func TestLoadNoFile(t *testing.T) {
	if _, err := Load(filepath.Join(t.TempDir(), "none.toml")); !os.IsNotExist(err) {
		t.Errorf("error %v", err)
	}
}
