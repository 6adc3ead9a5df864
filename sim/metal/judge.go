package metal

import (
	"fmt"
	"math"
)

// Hardened is what a quench and temper make of one layer at one place.
type Hardened struct {
	Austenite  Austenite
	Transforms bool // it turned to austenite at the hardening heat, at least in part
	Race       Race // against the pearlite nose; zero where it does not transform
	Through    bool // all of it was austenite (but carbide) and beat the nose
	AsQuenched Hardness
	Tempered   Hardness // as quenched where no temper is given
}

// HardenLayer is steel of composition c (with the carbon left there) held at
// hardeningK (K), cooled along a curve (s, K) that starts at or above that of its
// Ae1, then tempered.
func HardenLayer(c Composition, hardeningK float64, times, tempsK []float64, tempers []Temper) (Hardened, error) {
	if !(hardeningK > 273 && hardeningK < 1600) {
		return Hardened{}, fmt.Errorf("harden: %g K; 273 to 1600 K", hardeningK)
	}
	h := Hardened{Austenite: Harden(c, hardeningK)}
	a := h.Austenite
	h.Transforms = a.Share > 0 && a.Retained < 1
	pearlite := 0.0
	if h.Transforms {
		var err error
		if h.Race, err = PearliteNose(c.With(a.Carbon)).Beats(times, tempsK); err != nil {
			return Hardened{}, err
		}
		pearlite = h.Race.Pearlite
		h.Through = h.Race.Hardens && a.Share > 0.98
	}
	h.AsQuenched = AsQuenched(c, a, pearlite)
	h.Tempered = h.AsQuenched
	if len(tempers) == 0 {
		return h, nil
	}
	if !h.Transforms {
		_, err := TemperParameter(tempers)
		return h, err
	}
	// The martensite softens as if there were nothing else; pearlite and ferrite
	// do not.
	whole := a
	whole.Share = 1
	full := AsQuenched(c, whole, 0)
	soft, err := Tempered(c.With(math.Max(c.C, a.Carbon)), full, tempers)
	if err != nil {
		return Hardened{}, err
	}
	h.Tempered = Hardness{HRC: h.AsQuenched.HRC - a.Share*(1-pearlite)*(full.HRC-soft.HRC),
		Within: math.Max(soft.Within, h.AsQuenched.Within), Notes: append(append([]string(nil), h.AsQuenched.Notes...), soft.Notes[len(full.Notes):]...)}
	return h, nil
}

// HardeningHeat is the usual heat to harden from, K: 75 K above Ac1 or 60 above
// Ac3, whichever is hotter, to the next 5 C; common practice, within 20 K of
// published ranges. Chromium steel of 12 % and more: 1000 C. NaN for steel that
// does not harden.
func HardeningHeat(c Composition) float64 {
	p := CriticalPoints(c)
	switch {
	case math.IsNaN(p.Ac1.TempK):
		return math.NaN()
	case c.Cr >= 5:
		return zeroC + 1000
	}
	k := p.Ac1.TempK + 75
	if !math.IsNaN(p.Ac3.TempK) {
		k = math.Max(k, p.Ac3.TempK+60)
	}
	return zeroC + 5*math.Round((k-zeroC)/5)
}

// Cycle is a thermal cycle before hardening.
type Cycle struct {
	TempK float64 // K
	HoldS float64 // s at heat, for a section of 6 mm or so
	Why   string
}

// AdviseCycles is three falling cycles for the core, each cooled in air to black
// (below 500 C): the first to dissolve carbide and even out, the last at the
// hardening heat. Heats are common practice, set by the core's critical points:
// 870 C, or 40 K above Acm, or 60 above Ac3 if hotter, then half way, then the
// hardening heat. notes says what they do to each jacket.
func AdviseCycles(core Composition, jackets []Composition) (cycles []Cycle, notes []string) {
	last := HardeningHeat(core)
	if math.IsNaN(last) || core.Cr >= 5 {
		return nil, []string{"core: no thermal cycles for this steel; follow its maker"}
	}
	p := CriticalPoints(core)
	first := math.Max(zeroC+870, last+30)
	if !math.IsNaN(p.Acm.TempK) {
		first = math.Max(first, p.Acm.TempK+40)
	}
	if !math.IsNaN(p.Ac3.TempK) {
		first = math.Max(first, p.Ac3.TempK+60)
	}
	five := func(k float64) float64 { return zeroC + 5*math.Round((k-zeroC)/5) }
	cycles = []Cycle{
		{five(first), 300, "dissolves carbide and evens out the forging"},
		{five((first + last) / 2), 300, "refines"},
		{last, 300, "refines; its heat sets the grain"},
	}
	for i, j := range jackets {
		notes = append(notes, fmt.Sprintf("jacket %d: %s", i+1, jacketNote(j, cycles)))
	}
	return cycles, notes
}

func jacketNote(j Composition, cycles []Cycle) string {
	p := CriticalPoints(j)
	switch {
	case math.IsNaN(p.Ac1.TempK):
		return "austenite at every heat: cycles do not refine it"
	case j.Cr >= 5:
		return "chromium steel, barely touched by these heats: it neither refines nor hardens"
	}
	full := p.Ac1.TempK
	if !math.IsNaN(p.Ac3.TempK) {
		full = p.Ac3.TempK
	}
	n := 0
	for _, c := range cycles {
		if c.TempK >= full {
			n++
		}
	}
	switch n {
	case len(cycles):
		return "refined by every cycle"
	case 0:
		return fmt.Sprintf("never all austenite (Ac3 %.0f C): refined in part at most", full-zeroC)
	}
	return fmt.Sprintf("all austenite in the first %d only (Ac3 %.0f C)", n, full-zeroC)
}
