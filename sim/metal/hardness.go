package metal

import (
	"fmt"
	"math"
	"sync"
)

// Hardness is a Rockwell C hardness and how well it is known. Below 20 the scale
// is not in use; the value is then for comparison only.
type Hardness struct {
	HRC    float64
	Within float64 // HRC either way
	Notes  []string
}

// MartensiteHRC is the hardness of a structure all martensite of carbon (wt %):
// the polynomial of ASTM A255 (from memory) to 0.69 %, then straight to 66 at 0.8
// %, where published as-quenched values lie at 65 to 67 however much carbon there
// is. It depends on carbon alone (Grange, Hribal and Porter, Metall. Trans. A 8
// (1977) 1775, abstract read). Below 0.10 % it is stretched.
func MartensiteHRC(carbon float64) float64 {
	c := math.Max(0, carbon)
	if c <= 0.69 {
		return 35.395 + c*(6.990+c*(312.330+c*(-821.744+c*(1015.479-538.346*c))))
	}
	const at069 = 64.93 // the polynomial there
	return at069 + (66-at069)*math.Min(1, (c-0.69)/0.11)
}

// HalfMartensiteHRC is the hardness of half martensite: same source.
func HalfMartensiteHRC(carbon float64) float64 {
	c := math.Min(0.69, math.Max(0, carbon))
	return 22.974 + c*(6.214+c*(356.364+c*(-1091.488+c*(1464.880-750.441*c))))
}

// pearliteHV is the hardness of pearlite and ferrite quenched too slowly: 120 HV
// of ferrite rising to 320 of fine pearlite at 0.77 %; from memory.
func pearliteHV(carbon float64) float64 { return 120 + 200*math.Min(1, carbon/eutectoidC) }

// ToVickers converts HRC to HV and ToRockwell back: ASTM E140 (from memory)
// between 20 and 68 HRC, carried on at the slope of the ends.
func ToVickers(hrc float64) float64 {
	at, hv := e140()
	return stretched(at, hv, hrc)
}

// ToRockwell converts HV to HRC.
func ToRockwell(hv float64) float64 {
	at, v := e140()
	return stretched(v, at, hv)
}

var e140 = sync.OnceValues(func() (hrc, hv []float64) { return column("hardness", "vickers") })

// stretched is straight between the points and beyond them.
func stretched(at, value []float64, x float64) float64 {
	i := 1
	for i < len(at)-1 && x > at[i] {
		i++
	}
	return value[i-1] + (value[i]-value[i-1])*(x-at[i-1])/(at[i]-at[i-1])
}

// AsQuenched is the hardness of a steel whose austenite at the hardening heat was
// a, with a share of pearlite (0 to 1, of the austenite) that the quench let
// through. Ferrite left at the hardening heat counts as soft. Retained austenite
// above 10 % costs 0.3 HRC per 1 % (common practice, no source); undissolved
// carbide adds nothing.
func AsQuenched(c Composition, a Austenite, pearlite float64) Hardness {
	p := math.Min(1, math.Max(0, pearlite))
	soft := ToRockwell(pearliteHV(c.C))
	h := Hardness{Within: 2, Notes: append([]string(nil), a.Notes...)}
	if a.Share <= 0 || a.Retained >= 1 {
		h.HRC, h.Within = soft, 5
		if a.Retained >= 1 { // 18-8 steel: 160 HV annealed, from memory
			h.HRC = ToRockwell(160)
		}
		return h
	}
	full := MartensiteHRC(a.Carbon) - 0.3*math.Max(0, 100*a.Retained-10)
	half := HalfMartensiteHRC(a.Carbon)
	martensite := a.Share * (1 - p)
	switch {
	case martensite >= 0.5:
		h.HRC = half + (full-half)*(2*martensite-1)
	default:
		h.HRC = soft + (half-soft)*2*martensite
	}
	if martensite < 0.99 {
		h.Within = 4
		h.Notes = append(h.Notes, fmt.Sprintf("%.0f %% martensite: hardness between the published values for all and for half", 100*martensite))
	}
	return h
}
