package metal

import (
	"math"
	"testing"
)

// Every embedded number reads, with unit, source and status.
func TestTablesRead(t *testing.T) {
	if _, err := library(); err != nil {
		t.Fatal(err)
	}
	for _, f := range Facts("") {
		if f.Status == "from memory" && f.Source == "assumption" {
			t.Errorf("%+v", f)
		}
	}
	if len(Sources()) == 0 || len(Facts("O1")) == 0 {
		t.Error("empty tables")
	}
}

// Buczek and Telejko 2013 (abstract read): mineral oils 500 W/m2K at 800 C, 4700
// at the peak between 520 and 550 C, 500 at 150 C. And order: each quenchant is
// faster than the one before.
func TestFilms(t *testing.T) {
	q, err := QuenchantByName("fast oil")
	must(t, err)
	near(t, "800 C", q.Film(zeroC+800), 500, 1)
	near(t, "535 C", q.Film(zeroC+535), 4700, 1)
	near(t, "150 C", q.Film(zeroC+150), 500, 1)
	last := math.Inf(1)
	for _, n := range quenchants {
		q, err := QuenchantByName(n)
		must(t, err)
		s, good, err := q.PlateTime(0.003, zeroC+800, zeroC+540)
		must(t, err)
		t.Logf("%s: 3 mm from 800 to 540 C in %.2f s, even %v", n, s, good)
		if n != "plates" && n != "slow oil" && !(s < last) {
			t.Errorf("%s takes %g s, slower than the one before", n, s)
		}
		last = s
		if q.BathK < 273 || q.Spread < 1 || q.Film(100) <= 0 || q.Film(3000) <= 0 {
			t.Errorf("%+v", q)
		}
	}
	if _, err := QuenchantByName("soup"); err == nil {
		t.Error("soup accepted")
	}
	// A constant film of 2000 on 2 mm: rho c L/h ln((T0-Tb)/(T-Tb)) = 1.08 s,
	// Newton's law of cooling with the same constants, bath 50 C.
	c := Quenchant{Name: "test", BathK: zeroC + 50, at: []float64{300, 1500}, h: []float64{2000, 2000}}
	s, _, err := c.PlateTime(0.002, zeroC+800, zeroC+540)
	must(t, err)
	near(t, "Newton", s, 7800*650*0.001/2000*math.Log(750.0/490), 1e-4)
	near(t, "printed", s, 1.08, 0.005)
	// A gallon (3.785 l) to a pound (0.4536 kg): 38 C in shop texts, 40.6 by hand
	// from 840 to 60 C with other constants.
	near(t, "oil rise", OilRise(0.4536, 3.785, zeroC+840, zeroC+60), 39, 5)
}

// Grossmann's ideal diameters worked out apart, mm: 1045 23, 1084 32, 15N20 36,
// 5160 83.
func TestIdealDiameter(t *testing.T) {
	for n, want := range map[string]float64{"1045": 23, "1084": 32, "15N20": 36, "5160": 83} {
		d, in := IdealDiameter(Of(lookup(t, n)))
		near(t, n, d*1000, want, 0.8)
		if in != (n == "1045" || n == "5160") {
			t.Errorf("%s in range %v", n, in)
		}
	}
}

// Published noses (isothermal diagrams, from memory; 1084 common practice):
// within the factor of two that the estimate claims of the published range's middle, austenite of all
// carbon for those of a single phase, of what a hardening heat dissolves for the
// others.
func TestNoses(t *testing.T) {
	for _, n := range []string{"1080", "1084", "1095", "W1", "5160", "O1", "52100"} {
		lo, hi := number(n, "nose from", 0), number(n, "nose to", 0)
		c := Of(lookup(t, n))
		got := PearliteNose(c.With(Harden(c, zeroC+815).Carbon)).TimeS
		mid := math.Sqrt(lo * hi)
		t.Logf("%s: %.2f s, published %.2g to %.2g", n, got, lo, hi)
		if got > 2*mid || got < mid/2 {
			t.Errorf("%s: nose %.2f s, published %.2g to %.2g", n, got, lo, hi)
		}
	}
}

// Eutectoid steel cooled evenly: full martensite above about 140 K/s (textbook
// continuous-cooling diagram, read in excerpt). The additive rule with a nose of
// 0.65 s finds its limit within a factor of two of that; both rules ask for
// more, so they err to the safe side.
func TestCriticalRate(t *testing.T) {
	n := PearliteNose(Composition{C: 0.80, Mn: 0.75, Si: 0.22})
	limit := func(rate float64) Race {
		r, err := n.Beats([]float64{0, 700 / rate}, []float64{zeroC + 760, zeroC + 60})
		must(t, err)
		return r
	}
	lo, hi := 1.0, 2000.0
	for range 40 {
		if mid := math.Sqrt(lo * hi); limit(mid).Hardens {
			hi = mid
		} else {
			lo = mid
		}
	}
	t.Logf("additive rule: %.0f K/s; crossing the nose: %.0f K/s; published about 140", hi, (n.Ae1-noseK)/n.TimeS)
	if hi < 70 || hi > 280 {
		t.Errorf("critical rate %.0f K/s, published about 140", hi)
	}
	slow := limit(20)
	if slow.Hardens || slow.Pearlite < 0.99 || math.IsNaN(slow.StartedAt) {
		t.Errorf("at 20 K/s: %+v; published: pearlite only below 35 K/s", slow)
	}
	fast := limit(1500)
	if !fast.Hardens || !fast.Sure || fast.Pearlite > 0.01 {
		t.Errorf("at 1500 K/s: %+v", fast)
	}
	if at := n.start(noseK); math.Abs(at-n.TimeS) > 1e-9 || n.start(noseK+40) < at || n.start(noseK-40) < at {
		t.Error("the nose is not at 540 C")
	}
	if _, err := n.Beats([]float64{0}, []float64{1}); err == nil {
		t.Error("one sample accepted")
	}
}
