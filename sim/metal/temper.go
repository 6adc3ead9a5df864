package metal

import (
	"fmt"
	"math"
	"sync"
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

// tempered is one published table.
type tempered struct {
	name   string
	carbon float64 // wt %
	p, hrc []float64
}

func temperTable(name string) tempered {
	t := tempered{name: name, carbon: number(name, "carbon", 0)}
	hours := number(name, "time", 1)
	at, v := column(name, "hardness")
	for i := range at {
		t.p = append(t.p, at[i]*(temperC+math.Log10(hours))/1000)
		t.hrc = append(t.hrc, v[i])
	}
	return t
}

// plainTables are the plain carbon steels the law is fitted to.
var plainTables = []string{"0.74 %C", "0.98 %C", "1.15 %C", "1065 type", "1050"}

// temperLaw is HRC = k0 + k1 x + k2 x² + k3 min(C, 0.77), x = P/1000 - 11.
type temperLaw [4]float64

func (k temperLaw) at(p, carbon float64) float64 {
	x := p - 11
	return k[0] + x*(k[1]+x*k[2]) + k[3]*math.Min(carbon, eutectoidC)
}

// fitPlain is the least-squares law through tables: one curve for all plain
// carbon steel, higher with carbon up to the eutectoid.
func fitPlain(names []string) temperLaw {
	var n [4][5]float64
	for _, name := range names {
		t := temperTable(name)
		for i, p := range t.p {
			x := p - 11
			f := [4]float64{1, x, x * x, math.Min(t.carbon, eutectoidC)}
			for r := range f {
				for c := range f {
					n[r][c] += f[r] * f[c]
				}
				n[r][4] += f[r] * t.hrc[i]
			}
		}
	}
	for c := range 4 { // elimination; the matrix is positive definite
		for r := range 4 {
			if r == c {
				continue
			}
			m := n[r][c] / n[c][c]
			for k := c; k < 5; k++ {
				n[r][k] -= m * n[c][k]
			}
		}
	}
	var out temperLaw
	for r := range out {
		out[r] = n[r][4] / n[r][r]
	}
	return out
}

var plainLaw = sync.OnceValue(func() temperLaw { return fitPlain(plainTables) })

// alloyed is a steel with a table of its own: the plain law of its carbon plus a
// straight difference d0 + d1 x.
type alloyed struct {
	table  string
	like   Composition
	d0, d1 float64
}

var alloyedLaws = sync.OnceValue(func() []alloyed {
	out := []alloyed{
		{table: "5160 type", like: Composition{C: 0.62, Mn: 0.87, Si: 0.25, Cr: 0.8}},
		{table: "O1", like: Composition{C: 0.92, Mn: 1.2, Si: 0.3, Cr: 0.5, W: 0.5}},
		{table: "52100", like: Composition{C: 1.0, Mn: 0.35, Si: 0.25, Cr: 1.45}},
	}
	for i := range out {
		out[i].fit(plainLaw())
	}
	return out
})

func (a *alloyed) fit(law temperLaw) {
	t := temperTable(a.table)
	var n, sx, sxx, sd, sxd float64
	for i, p := range t.p {
		x, d := p-11, t.hrc[i]-law.at(p, t.carbon)
		n, sx, sxx, sd, sxd = n+1, sx+x, sxx+x*x, sd+d, sxd+x*d
	}
	a.d0 = sd / n
	if n > 2 { // two points fix an offset, no slope
		a.d1 = (n*sxd - sx*sd) / (n*sxx - sx*sx)
		a.d0 = (sd - a.d1*sx) / n
	}
}

// near says whether a composition is that steel's, whatever carbon has moved.
func (a *alloyed) near(c Composition) bool {
	l := a.like
	return math.Abs(c.Mn-l.Mn) < 0.25 && math.Abs(c.Si-l.Si) < 0.25 && math.Abs(c.Cr-l.Cr) < 0.25 && c.Ni < 0.5 && c.Mo < 0.15
}

// Tempered is the hardness after tempering a steel of composition c that was
// quenched to quenched. Published tables (see Facts) of plain carbon steel of
// 0.50 to 1.15 % are met to 2 HRC in nineteen points of twenty; those of 5160, O1
// and 52100 to 2.5 about a law of their own; other alloyed steel is taken as
// plain, to 3. Never above quenched. Steel of 5 % chromium and more has no law
// here.
func Tempered(c Composition, quenched Hardness, tempers []Temper) (Hardness, error) {
	p, err := TemperParameter(tempers)
	if err != nil {
		return Hardness{}, err
	}
	h := Hardness{Within: 2, Notes: append([]string(nil), quenched.Notes...)}
	x := p / 1000
	h.HRC = plainLaw().at(x, c.C)
	switch a := alloyedFor(c); {
	case c.Cr >= 5:
		h.HRC, h.Within = quenched.HRC-2, 4
		h.Notes = append(h.Notes, "chromium steel: two points under as quenched at any usual temper, a guess")
	case a != nil:
		h.HRC += a.d0 + a.d1*(x-11)
		h.Within = 2.5
	case c.Mn > 1.1 || c.Cr > 0.35 || c.Ni > 0.6 || c.Mo > 0.1 || c.V > 0.15 || c.Si > 0.6 || c.W > 0.3:
		h.Within = 3
		h.Notes = append(h.Notes, "no published tempering table found for this alloy: taken as plain steel of its carbon; alloy usually keeps it a little harder")
	}
	if x < 8.3 || x > 16.8 || c.C < 0.45 || c.C > 1.2 {
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
