package jobfile

import (
	"math"
	"strings"
	"testing"

	"billet/sim"
	"billet/sim/steel"
	"billet/sim/unit"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestOptionalKeys reads the keys the whole job leaves out.
func TestOptionalKeys(t *testing.T) {
	j := read(t, `
units = "inch"
[stack]
width = "40 mm"
length = "120 mm"
joint = "gapped"
gap = "0.3 mm"
[[stack.layer]]
material = "1018"
thickness = "10 mm"
[[stack.layer]]
material = "1084"
thickness = "8 mm"
gap = "0.1 mm"
[[stack.layer]]
material = "1018"
thickness = "10 mm"
conductance = "1500 W/m2K"
[[stack.layer]]
material = "1018"
thickness = "10 mm"
joint = "welded"
[[stack.layer]]
material = "1018"
thickness = "10 mm"

[forge]
temperature = [["0 s", "20 C"], ["5 min", "1200 C"]]
atmosphere = "lean"
[forge.face.left]
temperature = "900 C"
[forge.face.right]
temperature = "900 C"
gas = "1100 C"

[press]
bore = "5 in"
pressure = "2200 psi"
pump = [["5 MPa", "80 mm/s"], ["20 MPa", "15 mm/s"]]
die_top = { along = "60 mm", crown = "40 mm" }
crown = "50 mm"
friction_bottom = 0.7

[hammer]
mass = "1.5 kg"
speed = "7 m/s"

[rolls]
diameter_top = "100 mm"
speed = "0.25 m/s"
driven = "bottom"

[handling]
reheat = "3 min"
flip = "never"
handle = { length = "500 mm", at = "front" }

[[pass]]
draft = "2 mm"
bite = "20 mm"
down = "A"
temperature = "1100 C"
bond = "slipping"
repeat = 3
[[pass]]
tool = "rolls"
draft = "10 %"
bond = 0.35
tilt = "-0.2 mm"
[[pass]]
tool = "grind"
off_a = "0.3 mm"
[[pass]]
tool = "restack"
pieces = 4
off = "0.3 mm"

[shop]
seen = [["3 min", "cherry red"]]
squeeze = { from = "25 mm", to = "20 mm", width = "25 mm", temperature = "1100 C", pressure = "120 bar" }
`)
	joints := []sim.Joint{{}, {State: sim.Gapped, Gap: 0.1e-3}, {State: sim.Given, Conductance: 1500}, {State: sim.Welded}, {State: sim.Gapped, Gap: 0.3e-3}}
	for i, l := range j.Stack.Layers {
		same(t, "joint", joints[i], l.Joint)
	}
	same(t, "units", sim.Inch, j.Units)
	same(t, "forge against time", sim.Series{Time: []float64{0, 300}, Value: []float64{c(20), c(1200)}}, j.Forge.Whole.Wall)
	same(t, "gas as the wall", j.Forge.Whole.Wall, j.Forge.Whole.Gas)
	same(t, "left gas", sim.Constant(c(900)), j.Forge.Faces[sim.Left].Gas)
	same(t, "right gas", sim.Constant(c(1100)), j.Forge.Faces[sim.Right].Gas)
	same(t, "atmosphere", sim.Lean, j.Forge.Atmosphere)

	// pi/4 d² p by hand: 5 in = 0.127 m, 2200 psi = 15.168466 MPa.
	same(t, "press force", math.Pi/4*0.127*0.127*2200*6894.757293168361, j.Press.Force)
	same(t, "pump", []sim.PumpPoint{{Pressure: 5e6, Speed: 0.08}, {Pressure: 20e6, Speed: 0.015}}, j.Press.Pump)
	same(t, "top die", sim.Die{Along: 0.06, Across: 0.1, Temperature: c(80), Crown: 0.04}, j.Press.Top)
	same(t, "bottom die", sim.Die{Along: 0.05, Across: 0.1, Temperature: c(80), Crown: 0.05}, j.Press.Bottom)
	same(t, "friction", [2]float64{0.4, 0.7}, [2]float64{j.Press.FrictionTop, j.Press.FrictionBottom})
	same(t, "blow", 1.5*7*7/2, j.Hammer.Energy)
	same(t, "rolls", [3]float64{0.1, 0.08, 0.25 / 0.045}, [3]float64{j.Rolls.DiameterTop, j.Rolls.DiameterBottom, j.Rolls.Speed})
	same(t, "driven", sim.DrivenBottom, j.Rolls.Driven)
	same(t, "reheat", sim.Stage{In: sim.InForge, Until: sim.UntilTime, Time: 180}, j.Handling.Reheat)
	same(t, "handle", &sim.Handle{Thickness: 0.012, Width: 0.012, Length: 0.5, At: sim.Front}, j.Handling.Handle)

	first := j.Passes[0].Line
	same(t, "passes", []sim.Pass{
		{Line: first, Draft: 0.002, Bite: 0.02, DownA: ptr(true), Temperature: ptr(c(1100)), Bond: &sim.Bond{Factor: 0.2}, Repeat: 3},
		{Line: first + 7, Tool: sim.ByRolls, DraftShare: 0.1, Bond: &sim.Bond{Factor: 0.35}, Tilt: -0.2e-3, Repeat: 1},
		{Line: first + 12, Tool: sim.ByGrind, OffA: 0.3e-3, Repeat: 1},
		{Line: first + 15, Tool: sim.ByRestack, Pieces: 4, Off: 0.3e-3, Repeat: 1},
	}, j.Passes)
	mid, half, err := steel.ColourByName("cherry red")
	if err != nil {
		t.Fatal(err)
	}
	same(t, "colour", []sim.Seen{{Time: 180, Temperature: mid, Plus: half, Minus: half, Text: "cherry red"}}, j.Shop.Seen)
	same(t, "squeeze", &sim.Squeeze{From: 0.025, To: 0.02, Width: 0.025, Temperature: c(1100), Pressure: 12e6}, j.Shop.Squeeze)
}

func same[T any](t *testing.T, what string, want, got T) {
	t.Helper()
	if d := cmp.Diff(want, got, sameJob); d != "" {
		t.Errorf("%s (-want +got)\n%s", what, d)
	}
}

func TestBevels(t *testing.T) {
	for text, want := range map[string]sim.Bevel{
		`{ kind = "hollow" }`:                           {Kind: sim.HollowGrind, Height: 0.028, Wheel: 0.25},
		`{ kind = "convex", height = "20 mm" }`:         {Kind: sim.ConvexGrind, Height: 0.02, Bulge: 0.3e-3},
		`{ kind = "chisel", side = "B" }`:               {Kind: sim.ChiselGrind, Height: 0.028},
		`{ kind = "chisel", height = "32 mm" }`:         {Kind: sim.ChiselGrind, Height: 0.032, SideA: true},
		`{ kind = "hollow", wheel = "10 in" }`:          {Kind: sim.HollowGrind, Height: 0.028, Wheel: 0.254},
		`{ height = "20 mm" }` + "\nheight = \"21 mm\"": {Height: 0.02},
		`{ kind = "flat" }` + "\nheight = \"21 mm\"":    {Height: 0.021}, // no higher than the blade
	} {
		j := read(t, least+"[blade]\ngrind = "+text+"\n")
		same(t, text, want, j.Blade.Grind)
	}
}

// TestOwnMaterial: what is given is in the material, and what is not is said.
func TestOwnMaterial(t *testing.T) {
	j := read(t, `
[stack]
width = "40 mm"
length = "120 mm"
[[stack.layer]]
material = "slab"
thickness = "10 mm"
[[material]]
name = "slab"
density = "7800 kg/m3"
conductivity = [["20 C", "54 W/mK"], ["800 C", "27 W/mK"]]
heat_capacity = "650 J/kgK"
emissivity = 0.7
flow_stress = "90 MPa"
`)
	m := j.Stack.Layers[0].Material
	same(t, "density", 7800.0, m.Density)
	same(t, "conductivity between rows", 40.5, m.Conductivity.At(c(410)))
	same(t, "heat over 100 K", 65000.0, m.Enthalpy(c(1000), true)-m.Enthalpy(c(900), true))
	same(t, "skin", 0.7, j.Forge.Whole.Emissivity)
	at, _ := m.FlowStress(0.3, 1, c(1100)) // the job file's own law, at its reference
	if math.Abs(at/90e6-1) > 1e-3 {        // its 1373 K is 1100 C less 0.15 K
		t.Errorf("flow stress %g at 1/s and 1100 C, want 90 MPa", at)
	}
	if s := strings.Join(j.Assumed, "\n"); !strings.Contains(s, "What is not given of slab is taken from plain steel of 0.20 %C.") {
		t.Errorf("the carbon taken is not listed:\n%s", s)
	}
}

func TestFlowLaws(t *testing.T) {
	for _, law := range []string{
		`{ law = "power", stress = "80 MPa", rate_exponent = 0.15, heat_k = 4800 }`,
		`{ law = "sinh", a_per_s = 1e11, alpha_per_mpa = 0.012, n = 4.5, q_kj_per_mol = 310 }`,
		`{ law = "shida", carbon = "0.6 %" }`,
	} {
		j := read(t, strings.Replace(least, `"1084"`, `"mine"`, 1)+"[[material]]\nname = \"mine\"\nlike = \"1084\"\nflow_stress = "+law+"\n")
		s, _ := j.Stack.Layers[1].Material.FlowStress(0.3, 1, c(1100))
		// Steel at 1100 C and 1/s lies between 20 and 300 MPa (common practice, no source).
		if !(s > 20e6 && s < 300e6) {
			t.Errorf("%s gives %g Pa", law, s)
		}
	}
}

// TestPumpWithForce: the pump's last pressure brings the full force.
func TestPumpWithForce(t *testing.T) {
	p := read(t, least+"[press]\nforce = \"200 kN\"\npump = [[\"5 MPa\", \"80 mm/s\"], [\"20 MPa\", \"0 mm/s\"]]\n").Press
	same(t, "force", 200e3, p.Force)
	same(t, "force from bore", 200e3, math.Pi/4*p.Bore*p.Bore*p.Pressure)
}

// TestLineEnds: the same job whatever ends the lines, with or without a byte
// order mark.
func TestLineEnds(t *testing.T) {
	want := read(t, least)
	same(t, "windows", want, read(t, "\uFEFF"+strings.ReplaceAll(least, "\n", "\r\n")))
}

// TestSizes draws stacks and checks that sizes come through whatever unit
// they are written in, and that limits hold in every unit.
func TestSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]string{"mm", "in", "cm"}).Draw(t, "unit")
		size := rapid.Float64Range(0.001, 20).Draw(t, "size")
		text := trim(math.Round(size*1e4)/1e4) + " " + u
		m, err := unit.Parse(unit.Length, text)
		if err != nil {
			t.Fatal(err)
		}
		j, err := Read("x", strings.NewReader(strings.Replace(least, `"10 mm"`, `"`+text+`"`, 1)))
		fits := m >= 0.05e-3 && m <= 0.1 && m+0.008 >= 3e-3
		if (err == nil) != fits {
			t.Fatalf("%s (%g m): error %v, want accepted %v", text, m, err, fits)
		}
		if fits && j.Stack.Layers[0].Thickness != m {
			t.Fatalf("%s became %g m", text, j.Stack.Layers[0].Thickness)
		}
	})
}

func TestNearest(t *testing.T) {
	names := []string{"temperature", "film", "lit", "lining", "kind"}
	for given, want := range map[string]string{
		"temperatur": "temperature", "Film": "film", "flim": "film", "kin": "kind", "linning": "lining",
		"xyzzy": "", "": "", "t": "", strings.Repeat("temperature", 9): "",
	} {
		if got := nearest(given, names); got != want {
			t.Errorf("nearest to %q is %q, want %q", given, got, want)
		}
	}
}

// TestTaken: the embedded values are sound, and every one names a status.
func TestTaken(t *testing.T) {
	all := readTaken()
	for name, v := range all {
		if !(v.low <= v.value && v.value <= v.high && v.low > 0) {
			t.Errorf("%s: %g outside %g to %g", name, v.value, v.low, v.high)
		}
	}
	for _, kind := range forgeKinds {
		if all["film "+kind].value == 0 {
			t.Errorf("no film for %s", kind)
		}
	}
	for _, s := range []sim.JointState{sim.Ground, sim.Scaled, sim.Fluxed} {
		if all["joint "+jointWords[s]].value == 0 {
			t.Errorf("no conductance for %s", jointWords[s])
		}
	}
}

// Floor and door in shop words become faces, unless the face is given.
func TestFloorAndDoor(t *testing.T) {
	job := func(extra string) *sim.Job {
		t.Helper()
		j, err := Read("job", strings.NewReader(`[stack]
width = "40 mm"
length = "140 mm"
[[stack.layer]]
material = "1018"
thickness = "10 mm"
[forge]
temperature = "1280 C"
`+extra))
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	j := job("floor = \"brick\"\ndoor = \"open\"\n")
	if b := j.Forge.Faces[sim.Bottom]; b == nil || b.Emissivity != 0 || b.Film <= 0 || b.Gas.At(0) >= j.Forge.Whole.Wall.At(0) {
		t.Errorf("brick floor: %+v", b)
	}
	if f := j.Forge.Faces[sim.Front]; f == nil || f.Wall.At(0) >= j.Forge.Whole.Wall.At(0) || f.Wall.At(0) < 800 {
		t.Errorf("open door: %+v", f)
	}
	if j := job("floor = \"brick\"\n[forge.face.bottom]\ntemperature = \"1000 C\"\n"); j.Forge.Faces[sim.Bottom].Gas.At(0) != 1273.15 {
		t.Errorf("a given face lost to the floor: %+v", j.Forge.Faces[sim.Bottom])
	}
	if j := job(""); j.Forge.Faces[sim.Bottom] != nil || j.Forge.Faces[sim.Front] != nil {
		t.Error("raised and closed give faces")
	}
}
