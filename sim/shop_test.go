package sim

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"billet/sim/heat"
	"billet/sim/steel"
)

func known(t testing.TB, name string) steel.Material {
	t.Helper()
	m, err := steel.Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// threeLayers is a plain job: mild jackets on a 1084 core in a gas forge.
func threeLayers(t testing.TB) *Job {
	mild, core := known(t, "1018"), known(t, "1084")
	ground := Joint{State: Ground}
	k := func(c float64) float64 { return c + 273.15 }
	fire := Surround{Wall: Constant(k(1260)), Gas: Constant(k(1260)), Film: 30, Emissivity: 0.8}
	return &Job{
		Stack: Stack{Width: 0.038, Length: 0.12, Start: k(20), Layers: []Layer{
			{Material: mild, Thickness: 0.010, Joint: ground},
			{Material: core, Thickness: 0.006, Core: true, Joint: ground},
			{Material: mild, Thickness: 0.010, Joint: ground}}},
		Forge: Forge{Whole: fire, Chamber: 0.3},
		Air:   Surround{Wall: Constant(k(20)), Gas: Constant(k(20)), Film: 10, Emissivity: 0.8},
		Weld:  Weld{Heat: k(1150), Flux: k(700), Hold: 120},
		Heats: []Stage{{In: InForge, Until: UntilSkin, Temperature: k(700)}, {In: InAir, Until: UntilTime, Time: 60},
			{In: InForge, Until: UntilJoints, Temperature: k(1150), Hold: 120}},
		Handling: Handling{Transfer: 4, Rest: 2, WorkAbove: k(900), Reheat: Stage{In: InForge, Until: UntilCore, Temperature: k(1100)}},
	}
}

// A forge of known strength is recovered from noisy readings of a timed bar
// within the stated range in at least 95 of 100 draws (the range is 2.5 standard
// errors: 98.8 % for a straight line).
func TestBarFitRecovers(t *testing.T) {
	if testing.Short() {
		t.Skip("several seconds")
	}
	j := threeLayers(t)
	j.Shop = &Shop{Bar: &Bar{Material: known(t, "1018"), Thickness: 0.025, Width: 0.025, Length: 0.15}}
	const truth, noise = 0.85, 12.0
	seen := []Seen{{Time: 150}, {Time: 240}, {Time: 330}}
	exact, err := barTemps(barJob(j), truth, seen)
	if err != nil {
		t.Fatal(err)
	}
	within, draws := 0, 100
	for k := range draws {
		r := rand.New(rand.NewPCG(7, uint64(k)))
		j.Shop.Seen = append([]Seen(nil), seen...)
		for i := range seen {
			j.Shop.Seen[i].Temperature = exact[i] + noise*r.NormFloat64()
			j.Shop.Seen[i].Plus, j.Shop.Seen[i].Minus = 2*noise, 2*noise
		}
		fit, err := fitBar(j)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(fit.Exchange-truth) <= fit.Plus {
			within++
		}
	}
	t.Logf("%d of %d draws within the stated range", within, draws)
	if within < 95 {
		t.Errorf("%d of %d draws within the stated range, want 95", within, draws)
	}
}

func TestBarFitSaysContradiction(t *testing.T) {
	j := threeLayers(t)
	j.Shop = &Shop{Bar: &Bar{Material: known(t, "1018"), Thickness: 0.025, Width: 0.025, Length: 0.15},
		Seen: []Seen{{Time: 100, Temperature: 1300, Plus: 20, Minus: 20}, {Time: 300, Temperature: 1100, Plus: 20, Minus: 20}}}
	fit, err := fitBar(j)
	if err != nil {
		t.Fatal(err)
	}
	if !fit.Contradicts {
		t.Errorf("a bar that cools in a hot forge: no contradiction found, fit %+v", fit)
	}
}

// The bounds contain every sample inside: 200 Latin hypercube samples of all
// unknowns (McKay, Beckman and Conover, Technometrics 21, 1979, for the method).
func TestRangesHold(t *testing.T) {
	j := threeLayers(t)
	ctx := context.Background()
	res, err := runSoak(ctx, j, 2, rangeAccuracy, 1)
	if err != nil {
		t.Fatal(err)
	}
	r, err := ranges(ctx, j, res.soak)
	if err != nil {
		t.Fatal(err)
	}
	list := unknowns(j)
	const n = 200
	rnd := rand.New(rand.NewPCG(11, 3))
	jobs := make([]*Job, n)
	for k := range jobs {
		jobs[k] = j.with()
	}
	for _, u := range list {
		for k, slot := range rnd.Perm(n) {
			u.at(jobs[k], 2*(float64(slot)+rnd.Float64())/n-1)
		}
	}
	answers, err := coarseSoaks(ctx, jobs, 2)
	if err != nil {
		t.Fatal(err)
	}
	for k, a := range answers {
		for _, c := range []struct {
			name string
			in   Range
			got  Maybe
		}{{"skin", r.SkinAtWeld, a.SkinAtWeld}, {"joints", r.JointsAtWeld, a.JointsAtWeld}, {"core", r.CoreAtWeld, a.CoreAtWeld},
			{"flux", r.PullForFlux, a.PullForFlux}, {"soak", r.Soak, a.Soak}} {
			// The coarse runs themselves are good to about 0.2 %.
			if !c.got.OK || c.got.Value < c.in.Low*0.998 || c.got.Value > c.in.High*1.002 {
				t.Errorf("sample %d: %s %v outside %v", k, c.name, c.got, c.in)
			}
		}
	}
	if r.Widest == "" || r.Soak.High <= r.Soak.Low {
		t.Errorf("no widest cause or no range: %+v", r)
	}
}

// The lumped forge against its own equation, integrated in small steps.
func TestLump(t *testing.T) {
	l := lump{capacity: 5000, loss: 16, full: 1500, shop: 293, start: 400}
	temp, dt := l.start, 0.01
	const q = 3000.0
	for range 30000 {
		temp += dt / l.capacity * (l.loss*(l.full-temp) - q)
	}
	if got := l.at(l.start, q, 300); math.Abs(got-temp) > 0.05 { // explicit steps of 0.01 s are off by 0.03 K
		t.Errorf("after 300 s: %g, integrated %g", got, temp)
	}
	s := l.follow([]float64{0, 100, 300}, []float64{0, q, q})
	if math.Abs(s.Value[2]-l.at(l.start, q, 300)) > 1e-9 {
		t.Errorf("followed %g, closed form %g", s.Value[2], l.at(l.start, q, 300))
	}
	if got := l.at(l.start, 0, 1e9); math.Abs(got-l.full) > 1e-6 {
		t.Errorf("an empty forge ends at %g, want %g", got, l.full)
	}
}

// A forge that is followed dips when the billet goes in, and recovers.
func TestForgeDips(t *testing.T) {
	j := threeLayers(t)
	j.Forge.Burner, j.Forge.Lining = 15e3, 0.04
	c, curve, err := followForge(context.Background(), j, 2)
	if err != nil {
		t.Fatal(err)
	}
	if dip := curve.Full - curve.Lowest; dip < 10 || dip > 400 {
		t.Errorf("dip of %g K", dip)
	}
	steady, err := runSoak(context.Background(), j, 2, rangeAccuracy, 1)
	if err != nil {
		t.Fatal(err)
	}
	dipped, err := runSoak(context.Background(), c, 2, rangeAccuracy, 1)
	if err != nil {
		t.Fatal(err)
	}
	if !(dipped.soak.Answers.Soak.Value > steady.soak.Answers.Soak.Value) {
		t.Errorf("a forge that dips soaks in %v, a steady one in %v", dipped.soak.Answers.Soak, steady.soak.Answers.Soak)
	}
	// A burner without bounds is a steady forge.
	j.Forge.Burner = 1e6
	if _, curve, err = followForge(context.Background(), j, 2); err != nil || curve.Full-curve.Lowest > 10 {
		t.Errorf("1 MW dips by %g K (%v)", curve.Full-curve.Lowest, err)
	}
}

// Induction: what the coil gives is what the billet holds, less what the skin
// loses; and the skin depth is √(ρ/(πfμ)).
func TestInduction(t *testing.T) {
	// Textbook: 503·√(ρ/(μr·f)) m; above the Curie point at 10 kHz and
	// 1.24e-6 ohm m, 5.60 mm (closed form).
	if d := heat.SkinDepth(1200+273.15, 10e3); math.Abs(d-503.29*math.Sqrt(1.24e-6/10e3)) > 1e-6 {
		t.Errorf("skin depth %g m", d)
	}
	if cold, hot := heat.SkinDepth(600+273.15, 10e3), heat.SkinDepth(800+273.15, 10e3); hot < 5*cold {
		t.Errorf("skin depth %g cold and %g hot: no loss of permeability at the Curie point", cold, hot)
	}
	j := threeLayers(t)
	j.Forge.Kind, j.Forge.Frequency, j.Forge.Power = Induction, 10e3, 8e3
	j.Forge.Whole = Surround{} // nothing lost
	j.Heats = []Stage{{In: InForge, Until: UntilTime, Time: 60}}
	for dims := 1; dims <= 3; dims++ {
		r, err := runSoak(context.Background(), j, dims, 1, 1)
		if err != nil {
			t.Fatal(err)
		}
		want := coilShare * j.Forge.Power * 60
		if got := r.soak.Energy.TakenUp; math.Abs(got-want) > 1e-9*want {
			t.Errorf("%d directions: %g J taken up, the coil gave %g", dims, got, want)
		}
	}
}

// A measured squeeze scales every force by the same factor, and the factor is the
// measured force over the model's.
func TestMeasuredSqueeze(t *testing.T) {
	j := pressJob(t)
	j.Press.Bore, j.Press.Pressure = 0.1, 25e6
	bar := &Bar{Material: known(t, "1018"), Thickness: 0.025, Width: 0.025, Length: 0.15}
	j.Shop = &Shop{Bar: bar, Squeeze: &Squeeze{From: 0.025, To: 0.021, Width: 0.025, Temperature: 1373, Pressure: 12e6}}
	j.Passes = prescribed(2, 1373, 1373, 0.4, 0.4)
	got, err := Passes(context.Background(), j, Options{})
	if err != nil {
		t.Fatal(err)
	}
	f := got.Squeeze
	if f == nil || f.Factor <= 0 || !(f.Low < f.Factor && f.Factor < f.High) {
		t.Fatalf("fit %+v", f)
	}
	if want := 12e6 * math.Pi / 4 * 0.01; math.Abs(f.Measured-want) > 1e-6*want || math.Abs(f.Factor-f.Measured/f.Model) > 1e-12 {
		t.Errorf("measured %g N, gauge and bore give %g", f.Measured, want)
	}
	j.Shop = nil
	plain, err := Passes(context.Background(), j, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range plain.Work.Passes {
		if r := got.Work.Passes[i].Force / p.Force; math.Abs(r-f.Factor) > 2e-3*f.Factor {
			t.Errorf("pass %d: force times %g, fitted %g", i+1, r, f.Factor)
		}
	}
}
