package metal

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Temper is one temper.
type Temper struct {
	TempK float64 // K
	TimeS float64 // s
}

// temperC is the constant of the temper parameter with time in hours: 18, Grange
// and Baughman, Trans. ASM 48 (1956) 165, for every steel (from memory). Hollomon
// and Jaffe's own, which falls with carbon, fits the tables here worse.
const temperC = 18

// TemperParameter is T (18 + log10 t) of tempers in turn, K with t in hours: each
// counts as the time at the last one's temperature that would have done as much.
// Hollomon and Jaffe, Trans. AIME 162 (1945) 223.
func TemperParameter(tempers []Temper) (float64, error) {
	if len(tempers) == 0 {
		return 0, fmt.Errorf("temper: none given; at least one")
	}
	var p float64
	for i, t := range tempers {
		if !(t.TempK >= 273 && t.TempK <= 1000) || !(t.TimeS > 0 && t.TimeS <= 1e7) {
			return 0, fmt.Errorf("temper %d: %g K for %g s; 273 to 1000 K, above 0 to 1e7 s", i+1, t.TempK, t.TimeS)
		}
		hours := t.TimeS / 3600
		if i > 0 {
			hours += math.Pow(10, p/t.TempK-temperC)
		}
		// A cooler temper after a hotter one adds next to nothing.
		p = math.Max(p, t.TempK*(temperC+math.Log10(hours)))
	}
	return p, nil
}

// temperShift is what a temper parameter is counted from, in thousands: the
// middle of the tables.
const temperShift = 11

// tempered is one published table.
type tempered struct {
	name   string
	carbon float64   // wt %
	x      []float64 // temper parameter / 1000 - temperShift
	hrc    []float64
}

func temperTable(name string) tempered {
	t := tempered{name: name, carbon: number(name, "carbon", 0)}
	hours := number(name, "time", 1)
	at, v := column(name, "hardness")
	for i := range at {
		t.x = append(t.x, at[i]*(temperC+math.Log10(hours))/1000-temperShift)
		t.hrc = append(t.hrc, v[i])
	}
	return t
}

// leastSquares is k with sum over i of (k·terms(i) - y[i])² least.
func leastSquares(y []float64, terms func(i int) []float64) []float64 {
	a := mat.NewDense(len(y), len(terms(0)), nil)
	for i := range y {
		a.SetRow(i, terms(i))
	}
	var k mat.VecDense
	if err := k.SolveVec(a, mat.NewVecDense(len(y), y)); err != nil {
		panic(fmt.Sprintf("temper tables: %v", err)) // embedded data, read by every test
	}
	return k.RawVector().Data
}

// commonCurve is HRC = k0 + k1 x + k2 x² + k3 min(C, 0.77): plain carbon steel
// tempers along one curve, higher with carbon up to the eutectoid.
type commonCurve []float64

func curveTerms(x, carbon float64) []float64 {
	return []float64{1, x, x * x, math.Min(carbon, eutectoidC)}
}

func (k commonCurve) at(x, carbon float64) float64 {
	return floats.Dot(k, curveTerms(x, carbon))
}

// departure is how far one published table lies from the common curve: a
// polynomial in x, held at its end values beyond the table.
type departure struct {
	carbon, lo, hi float64
	d              []float64
}

func powers(x float64, degree int) []float64 {
	out := []float64{1}
	for len(out) <= degree {
		out = append(out, out[len(out)-1]*x)
	}
	return out
}

func departs(t tempered, curve commonCurve, degree int) departure {
	off := make([]float64, len(t.x))
	for i, x := range t.x {
		off[i] = t.hrc[i] - curve.at(x, t.carbon)
	}
	return departure{t.carbon, slices.Min(t.x), slices.Max(t.x),
		leastSquares(off, func(i int) []float64 { return powers(t.x[i], degree) })}
}

func (d departure) at(x float64) float64 {
	return floats.Dot(d.d, powers(min(max(x, d.lo), d.hi), len(d.d)-1))
}

// departureReach is the carbon (wt %) over which a table's departure fades to
// none: no wider than the least gap between two tables, so that they never add up
// to more than one. A departure is mostly that steel's own scatter: carried on to
// the next steel it foretells that one worse than the common curve does.
const departureReach = 0.09

// temperLaw is the tempered hardness of plain carbon steel: the common curve of
// all its tables and, near each one's carbon, that table's departure from it (an
// offset and a slope).
type temperLaw struct {
	curve    commonCurve
	departed []departure
}

// plainTables are the plain carbon steels.
var plainTables = []string{"1050", "1065 type", "0.74 %C", "0.98 %C", "1.15 %C"}

func fitPlain(names []string) temperLaw {
	var tables []tempered
	var carbon, x, hrc []float64
	for _, name := range names {
		t := temperTable(name)
		tables = append(tables, t)
		x, hrc = append(x, t.x...), append(hrc, t.hrc...)
		for range t.x {
			carbon = append(carbon, t.carbon)
		}
	}
	law := temperLaw{curve: leastSquares(hrc, func(i int) []float64 { return curveTerms(x[i], carbon[i]) })}
	for _, t := range tables {
		law.departed = append(law.departed, departs(t, law.curve, 1))
	}
	return law
}

func (l temperLaw) at(x, carbon float64) float64 {
	hrc := l.curve.at(x, carbon)
	for _, d := range l.departed {
		if near := 1 - math.Abs(carbon-d.carbon)/departureReach; near > 0 {
			hrc += near * d.at(x)
		}
	}
	return hrc
}

var plainLaw = sync.OnceValue(func() temperLaw { return fitPlain(plainTables) })

// alloyed is a steel with a table of its own: the common curve at its carbon plus
// the table's departure, bent where the table has points enough to say so.
type alloyed struct {
	table string
	like  Composition
	departure
}

var alloyedLaws = sync.OnceValue(func() []alloyed {
	out := []alloyed{
		{table: "5160 type", like: Composition{C: 0.62, Mn: 0.87, Si: 0.25, Cr: 0.8}},
		{table: "O1", like: Composition{C: 0.92, Mn: 1.2, Si: 0.3, Cr: 0.5, W: 0.5}},
		{table: "52100", like: Composition{C: 1.0, Mn: 0.35, Si: 0.25, Cr: 1.45}},
	}
	for i := range out {
		t := temperTable(out[i].table)
		out[i].departure = departs(t, plainLaw().curve, min(2, (len(t.x)-1)/2))
	}
	return out
})

// near says whether a composition is that steel's, whatever carbon has moved.
func (a *alloyed) near(c Composition) bool {
	l := a.like
	return math.Abs(c.Mn-l.Mn) < 0.25 && math.Abs(c.Si-l.Si) < 0.25 && math.Abs(c.Cr-l.Cr) < 0.25 && c.Ni < 0.5 && c.Mo < 0.15
}

// Tempered is the hardness after tempering a steel of composition c that was
// quenched to quenched. Published tables (see Facts) of plain carbon steel of
// 0.50 to 1.15 % are met to 1.5 HRC, and a steel not among them is foretold to 2;
// those of 5160, O1 and 52100 are met to 2.5; other alloyed steel is taken as
// plain, to 3. Never above quenched. Steel of 5 % chromium and more has no law
// here.
func Tempered(c Composition, quenched Hardness, tempers []Temper) (Hardness, error) {
	p, err := TemperParameter(tempers)
	if err != nil {
		return Hardness{}, err
	}
	h := Hardness{Within: 2, Notes: append([]string(nil), quenched.Notes...)}
	x := p/1000 - temperShift
	law := plainLaw()
	h.HRC = law.at(x, c.C)
	switch a := alloyedFor(c); {
	case c.Cr >= 5:
		h.HRC, h.Within = quenched.HRC-2, 4
		h.Notes = append(h.Notes, "chromium steel: two points under as quenched at any usual temper, a guess")
	case a != nil:
		h.HRC = law.curve.at(x, c.C) + a.at(x)
		h.Within = 2.5
	case c.Mn > 1.1 || c.Cr > 0.35 || c.Ni > 0.6 || c.Mo > 0.1 || c.V > 0.15 || c.Si > 0.6 || c.W > 0.3:
		h.Within = 3
		h.Notes = append(h.Notes, "no published tempering table found for this alloy: taken as plain steel of its carbon; alloy usually keeps it a little harder")
	}
	if x < -2.7 || x > 5.8 || c.C < 0.45 || c.C > 1.2 {
		h.Within += 1.5
		h.Notes = append(h.Notes, "temper or carbon outside the published tables (0.50 to 1.15 %C, 200 to 600 C)")
	}
	if h.HRC >= quenched.HRC {
		h.HRC, h.Within = quenched.HRC, math.Max(h.Within, quenched.Within)
	} else if quenched.Within > 2 {
		h.Within = math.Max(h.Within, quenched.Within)
	}
	return h, nil
}

func alloyedFor(c Composition) *alloyed {
	laws := alloyedLaws()
	for i := range laws {
		if laws[i].near(c) {
			return &laws[i]
		}
	}
	return nil
}

// TemperColour is a colour of bright steel at the temper.
type TemperColour struct {
	Name  string
	TempK float64 // K
}

// TemperColours lists the colours, coolest first: means of five shop tables, for
// plain steel and short times. Colour deepens with time: held for hours at 205 C
// steel goes past straw, so an oven temper is not judged by it. Stainless colours
// later.
func TemperColours() []TemperColour {
	var out []TemperColour
	for _, f := range Facts("temper colour") {
		out = append(out, TemperColour{f.Property, f.si()})
	}
	return out
}

// TemperColourAt is the colour after a short temper at tempK (K), "bright" below
// the first.
func TemperColourAt(tempK float64) string {
	name := "bright"
	all := TemperColours()
	for i, c := range all {
		edge := c.TempK - 5
		if i > 0 {
			edge = (all[i-1].TempK + c.TempK) / 2
		}
		if tempK >= edge {
			name = c.Name
		}
	}
	return name
}

// TemperFor is the temperature (K) at which hours (h) of temper leave hrc; an error
// where none between 100 and 650 C does.
func TemperFor(c Composition, quenched Hardness, hrc, hours float64) (float64, error) {
	lo, hi := zeroC+100, zeroC+650.0
	for range 50 {
		mid := (lo + hi) / 2
		h, err := Tempered(c, quenched, []Temper{{mid, hours * 3600}})
		if err != nil {
			return 0, err
		}
		if h.HRC > hrc {
			lo = mid
		} else {
			hi = mid
		}
	}
	if hi > zeroC+649 || lo < zeroC+101 {
		return 0, fmt.Errorf("temper: %.1f HRC from %.0f; no temper of %g h between 100 and 650 C leaves that", hrc, quenched.HRC, hours)
	}
	return lo, nil
}
