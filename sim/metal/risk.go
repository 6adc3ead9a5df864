package metal

import (
	"fmt"
	"math"
)

// Risk is something that goes wrong in shops.
type Risk struct {
	Stop bool // better not done; else to be watched
	Text string
}

// shares of common practice, no source
const (
	fullJacket = 0.55 // of the thickness in 18-8 jackets: the core is split at the ricasso
	lopsided   = 0.10 // difference of the jackets over the thickness
)

// QuenchRisks are the risks of a place (its name goes into the text) quenched in q
// from hardeningK (K); core is the number of the core layer. What splits, what
// does not harden, what bows: common practice of smiths, no source.
func QuenchRisks(place string, layers []BladeLayer, core int, hardeningK float64, q Quenchant) ([]Risk, error) {
	if core < 0 || core >= len(layers) {
		return nil, fmt.Errorf("risks: core is layer %d of %d", core+1, len(layers))
	}
	var out []Risk
	add := func(stop bool, format string, args ...any) {
		out = append(out, Risk{stop, fmt.Sprintf(place+": "+format, args...)})
	}
	var total, stainless, under, over float64
	var chromiumJacket bool
	for i, l := range layers {
		if !(l.Thickness > 0) {
			return nil, fmt.Errorf("risks: layer %d is %g m thick; above 0", i+1, l.Thickness)
		}
		total += l.Thickness
		switch {
		case l.C.Cr >= 10 && l.C.Ni >= 6:
			stainless += l.Thickness
		case l.C.Cr >= 5 && i != core:
			chromiumJacket = true
		}
		if i < core {
			under += l.Thickness
		} else if i > core {
			over += l.Thickness
		}
	}
	if share := stainless / total; share > fullJacket {
		add(true, "%.0f %% of the thickness is 18-8 stainless; where such jackets stand at full thickness the core splits down its middle in the quench. Grind the jackets down first, or use 400-series or a nickel shim, the low end of the hardening range, and leave the oil at 200 C", 100*share)
	} else if stainless > 0 {
		add(false, "18-8 jackets shrink more than the core and do not harden: leave the oil at about 200 C, straighten warm")
	}
	if chromiumJacket && hardeningK < zeroC+930 {
		add(false, "the chromium jacket is not all austenite at %.0f C: it stays soft", hardeningK-zeroC)
	}
	if math.Abs(over-under) > lopsided*total {
		add(false, "jackets of %.1f and %.1f mm: expect a bow, concave on the thicker jacket's side", under*1e3, over*1e3)
	}
	c := layers[core].C
	if d, _ := IdealDiameter(c); (q.Name == "water" || q.Name == "brine") && d > 0.040 {
		add(true, "%s is too fast for this core: it hardens in oil and is likely to crack", q.Name)
	} else if (q.Name == "water" || q.Name == "brine") && c.C > 0.6 {
		add(false, "%s cracks thin edges of %.2f %%C steel: leave the edge thick, round the corners, go in fast and straight", q.Name, c.C)
	}
	if a := Harden(c, hardeningK); a.Retained > 0.25 && a.Retained < 1 {
		add(false, "%.0f %% austenite left in the core: harden cooler", 100*a.Retained)
	}
	return out, nil
}

// Hazards says which dangers a job has.
type Hazards struct {
	Quench   string // as QuenchantByName
	Flux     bool
	Forge    bool // gas or coal
	Grinding bool
	Nickel   bool // nickel or nickel steel in the stack
	Chromium bool // stainless in the stack
}

// Cautions are sentences to print with the result. Limits are those of the US
// OSHA and NIOSH, from memory; what to do is common practice.
func (h Hazards) Cautions() []string {
	var out []string
	if h.Forge {
		out = append(out,
			"Carbon monoxide: the rich flame that saves scale makes it. Ventilate, and hang an alarm with figures where you breathe; 50 ppm over eight hours is the legal limit, 1200 ppm kills.",
			"Never heat galvanised, plated or painted stock: zinc boils at 907 C and its fume has killed a smith.",
			"No closed cavity in the fire: a sealed can needs a vent hole; wet or oily steel inside bursts it.")
	}
	if h.Flux {
		out = append(out,
			"Flux spits on the first squeeze: face shield, leather, nobody in line with the die. Damp steel into molten flux is a steam explosion.",
			"Flux with fluorspar gives off fluorides and hydrogen fluoride (3 ppm over eight hours): use it only under draught, better not at all.")
	}
	switch h.Quench {
	case "fast oil", "slow oil":
		out = append(out, "Oil fire: metal tank with a lid, dip the blade wholly and fast, oil at least 50 C below its flash point (D92; fast oils 150 to 200 C), no water in it, CO2 or class B extinguisher in reach, enough oil for the steel.")
	case "water", "brine":
		out = append(out, "Water and brine spatter scalding: apron, gloves, face shield; a blade that pings has cracked and may part.")
	}
	if h.Quench != "" {
		out = append(out, "A blade as quenched is as brittle as glass: do not drop, bend or knock it; temper within the hour.")
	}
	if h.Grinding {
		out = append(out, "At the grinder: respirator for fine dust, eye protection, no loose clothing.")
		if h.Nickel || h.Chromium {
			out = append(out, "Dust of nickel and chromium steel harms lungs more than plain steel's (chromium VI 5 ug/m3): respirator with P100 filters and extraction.")
		}
	}
	return out
}
