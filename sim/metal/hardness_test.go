package metal

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// ASTM A255's table of its own polynomials (from memory), to half a point.
func TestMartensiteHardness(t *testing.T) {
	for i, c := range []float64{0.10, 0.20, 0.30, 0.40, 0.50, 0.60, 0.69} {
		near(t, "all", MartensiteHRC(c), []float64{38.5, 44.2, 50.3, 56.1, 60.9, 64.3, 64.9}[i], 0.11)
		near(t, "half", HalfMartensiteHRC(c), []float64{26.2, 31.8, 37.5, 42.4, 46.8, 50.7, 53.0}[i], 0.11)
	}
	last := 0.0
	for c := 0.0; c < 1.5; c += 0.01 {
		h := MartensiteHRC(c)
		if h < last-0.16 || h > 66.0001 { // A255's polynomial sinks by 0.15 from 0.66 to 0.69 %
			t.Errorf("%.2f %%C: %.2f HRC after %.2f", c, h, last)
		}
		last = h
	}
	for hrc, hv := range map[float64]float64{68: 940, 60: 697, 50: 513, 20: 238} {
		near(t, "E140", ToVickers(hrc), hv, 1e-9)
		near(t, "and back", ToRockwell(hv), hrc, 1e-9)
	}
}

// Published hardness as quenched: 1095 65, W1 64 to 65, O1 65, 52100 64 to 67 (data
// sheets, read in excerpt), 1045 55 to 59 (from memory); stated error 2 HRC.
func TestAsQuenched(t *testing.T) {
	for _, q := range []struct {
		grade     string
		tempC     float64
		low, high float64
	}{{"1095", 800, 65, 65}, {"W1", 790, 64, 65}, {"O1", 800, 65, 65}, {"52100", 830, 64, 67}, {"1045", 845, 55, 59}, {"1084", 815, 64, 66}} {
		c := Of(lookup(t, q.grade))
		h := AsQuenched(c, Harden(c, zeroC+q.tempC), 0)
		t.Logf("%s from %.0f C: %.1f HRC, published %.0f to %.0f", q.grade, q.tempC, h.HRC, q.low, q.high)
		if h.HRC < q.low-h.Within || h.HRC > q.high+h.Within {
			t.Errorf("%s: %.1f HRC, published %.0f to %.0f", q.grade, h.HRC, q.low, q.high)
		}
	}
	c := Of(lookup(t, "1084"))
	last := 100.0
	for p := 0.0; p <= 1; p += 0.05 {
		h := AsQuenched(c, Harden(c, zeroC+815), p)
		if h.HRC > last || (p > 0.02 && h.Within < 4) {
			t.Errorf("%.2f pearlite: %+v after %.1f", p, h, last)
		}
		last = h.HRC
	}
	if soft := AsQuenched(c, Harden(c, zeroC+600), 0); soft.HRC > 35 {
		t.Errorf("not heated: %.1f", soft.HRC)
	}
	if s := AsQuenched(Of(lookup(t, "304")), Harden(Of(lookup(t, "304")), zeroC+815), 0); s.HRC > 20 {
		t.Errorf("304: %.1f", s.HRC)
	}
}

// Measured tempered hardness of plain carbon steel, 31 points of five steels: 0.74,
// 0.98 and 1.15 %C 2.5 h (Hollomon and Jaffe 1945 and later) and 1065 and 1050 1 h
// (Grange and Baughman 1956), both read in a compilation: each within 1.5 HRC, the
// scatter said of them. The law follows these tables (nine numbers of freedom past
// the common curve's four), so each steel is also foretold by the other four,
// within the 2 HRC the user is told; and the common curve alone, four numbers,
// comes within 1 HRC rms.
func TestTemperedPlain(t *testing.T) {
	law := plainLaw()
	var all int
	var sum float64
	for _, name := range plainTables {
		others := slices.DeleteFunc(slices.Clone(plainTables), func(o string) bool { return o == name })
		blind := fitPlain(others)
		tab := temperTable(name)
		var rms float64
		for i, x := range tab.x {
			near(t, fmt.Sprintf("%s, x %.2f", name, x), law.at(x, tab.carbon), tab.hrc[i], 1.5)
			b := blind.at(x, tab.carbon) - tab.hrc[i]
			c := law.curve.at(x, tab.carbon) - tab.hrc[i]
			all++
			sum += c * c
			rms += b * b
		}
		rms = math.Sqrt(rms / float64(len(tab.x)))
		t.Logf("%s foretold by the others: rms %.2f HRC", name, rms)
		if rms > 2 { // the error told to the user
			t.Errorf("%s foretold by the others: rms %.2f HRC, told 2", name, rms)
		}
	}
	if rms := math.Sqrt(sum / float64(all)); all != 31 || rms > 1 {
		t.Errorf("%d points, common curve rms %.2f", all, rms)
	}
}

// Alloyed steel within 2.5 HRC of its published table: 5160 type 2.5 h (Hollomon
// and Jaffe and later, read in a compilation), O1 2 x 2 h from oil (makers' table,
// read in excerpt), 52100 (read in excerpt). The departure from the common curve
// is fitted to the table itself, three numbers to five points and to eight, one to
// two; TestO1SecondTable is blind.
func TestTemperedAlloyed(t *testing.T) {
	for name, grade := range map[string]string{"5160 type": "5160", "O1": "O1", "52100": "52100"} {
		c := Of(lookup(t, grade)).With(number(name, "carbon", 0))
		at, hrc := column(name, "hardness")
		hours := number(name, "time", 0)
		for i := range at {
			h, err := Tempered(c, Hardness{HRC: 66}, []Temper{{at[i], hours * 3600}})
			must(t, err)
			t.Logf("%s %.0f C: %.1f, published %.1f", name, at[i]-zeroC, h.HRC, hrc[i])
			near(t, name, h.HRC, hrc[i], 2.5)
		}
	}
}

// O1's second published table, not used in the fit: 2 x 2 h after 815 C, HRC 60 to
// 62 at 205 C, 58 to 60 at 260, 56 to 58 at 315, 53 to 55 at 370 C (steelmaker's
// sheet, read in excerpt): within 2.5 of the range.
func TestO1SecondTable(t *testing.T) {
	c := Of(lookup(t, "O1"))
	q := AsQuenched(c, Harden(c, zeroC+815), 0)
	for i, at := range []float64{205, 260, 315, 370} {
		h, err := Tempered(c, q, []Temper{{zeroC + at, 7200}, {zeroC + at, 7200}})
		must(t, err)
		mid := []float64{61, 59, 57, 54}[i]
		t.Logf("%.0f C: %.1f, published %.0f to %.0f", at, h.HRC, mid-1, mid+1)
		near(t, "O1", h.HRC, mid, 3.5)
	}
}

// Two tempers of 2 h are one of 4; a hotter one after a cooler counts alone,
// nearly; 205 C for 2 h is 209 to 214 C for 1 h (worked out with constants 15.8
// to 20).
func TestTemperParameter(t *testing.T) {
	p := func(ts ...Temper) float64 {
		v, err := TemperParameter(ts)
		must(t, err)
		return v
	}
	near(t, "2 x 2 h", p(Temper{473, 7200}, Temper{473, 7200}), p(Temper{473, 14400}), 1e-9)
	near(t, "cool then hot", p(Temper{400, 7200}, Temper{573, 7200}), p(Temper{573, 7200}), 1)
	near(t, "hot then cool", p(Temper{573, 7200}, Temper{400, 7200}), p(Temper{573, 7200}), 0.01)
	lo, hi := 478.0, 500.0
	for range 40 {
		if mid := (lo + hi) / 2; p(Temper{mid, 3600}) < p(Temper{478, 7200}) {
			lo = mid
		} else {
			hi = mid
		}
	}
	near(t, "1 h for 2 h", lo-478, 7, 2)
	if _, err := TemperParameter(nil); err == nil {
		t.Error("no temper accepted")
	}
	if _, err := TemperParameter([]Temper{{2000, 3600}}); err == nil {
		t.Error("2000 K accepted")
	}
}

// Hotter is softer, for every known steel and any number of tempers; never harder
// than as quenched; and TemperFor is the inverse.
func TestTemperingSoftens(t *testing.T) {
	for _, grade := range []string{"1045", "1084", "W1", "O1", "5160", "52100", "15N20", "80CrV2", "420"} {
		c := Of(lookup(t, grade))
		q := AsQuenched(c, Harden(c, zeroC+815), 0)
		last := q.HRC
		for k := 420.0; k < 920; k += 10 {
			h, err := Tempered(c, q, []Temper{{k, 7200}, {k, 7200}})
			must(t, err)
			if h.HRC > last+1e-9 || math.IsNaN(h.HRC) || h.Within < 2 {
				t.Fatalf("%s at %.0f K: %+v after %.2f", grade, k, h, last)
			}
			last = h.HRC
		}
	}
	c := Of(lookup(t, "1084"))
	q := AsQuenched(c, Harden(c, zeroC+815), 0)
	k, err := TemperFor(c, q, 60, 2)
	must(t, err)
	h, _ := Tempered(c, q, []Temper{{k, 7200}})
	near(t, "TemperFor", h.HRC, 60, 1e-6)
	if _, err := TemperFor(c, q, 70, 2); err == nil {
		t.Error("70 HRC by tempering accepted")
	}
}

// Colours: the means of five tables, F, read in excerpt.
func TestTemperColours(t *testing.T) {
	for f, want := range map[float64]string{400: "bright", 430: "faint yellow", 460: "light straw", 523: "reddish purple", 572: "blue", 640: "greenish-blue"} {
		if got := TemperColourAt((f + 459.67) * 5 / 9); got != want {
			t.Errorf("%.0f F: %s, want %s", f, got, want)
		}
	}
}
