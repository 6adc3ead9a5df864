package metal

import (
	"fmt"
	"math"
	"sync"
)

// noseK is where pearlite starts soonest, 540 C (isotherm diagrams, from memory).
const noseK = zeroC + 540

// IdealDiameter is the ideal critical diameter, m, of a composition: Grossmann's
// carbon base at grain size 7 and alloy multipliers as ASTM A255 tabulates them
// (from memory), for carbon 0.10 to 0.70, Mn 0.50 to 1.65, Si 0.15 to 0.60, Cr to
// 1.35, Ni to 1.50, Mo to 0.55 %. inRange says whether all lie there; blade
// steels do not. Carbon above 0.90 is held there.
func IdealDiameter(c Composition) (m float64, inRange bool) {
	w := math.Min(c.C, 0.90)
	var base float64
	switch {
	case w < 0.395:
		base = 0.54 * w
	case w < 0.555:
		base = 0.171 + 0.001*w + 0.265*w*w
	case w < 0.655:
		base = 0.115 + 0.268*w - 0.038*w*w
	case w < 0.755:
		base = 0.143 + 0.2*w
	default:
		base = 0.062 + 0.409*w - 0.135*w*w
	}
	inch := base * (1 + 3.3333*c.Mn) * (1 + 0.7*c.Si) * (1 + 0.363*c.Ni) * (1 + 2.16*c.Cr) * (1 + 3*c.Mo)
	inRange = c.C >= 0.10 && c.C <= 0.70 && c.Mn >= 0.50 && c.Mn <= 1.65 && c.Si >= 0.15 && c.Si <= 0.60 &&
		c.Cr <= 1.35 && c.Ni <= 1.50 && c.Mo <= 0.55
	return inch * 0.0254, inRange
}

// Nose is when pearlite starts.
type Nose struct {
	TimeS float64 // s at 540 C, austenite of usual grain
	Ae1   float64 // K
	Note  string
}

// PearliteNose is the nose for austenite of composition c. Its time goes with the
// square of the ideal diameter, 0.65 s for 1084's: an estimate, since what an
// ideal quench just misses and what a nose just lets through both end at the time
// of cooling, which goes with the square of the size. It meets the published
// noses of 1080, 1095, W1, 5160, O1 and 52100 within a factor of two. A coarser
// grain hardens deeper, undissolved carbide shallower.
func PearliteNose(c Composition) Nose {
	if c.Cr >= 5 {
		return Nose{TimeS: 600, Ae1: zeroC + 800, Note: "chromium steel of 12 % and more hardens in air: nose of minutes, from memory"}
	}
	d, _ := IdealDiameter(c)
	ref, _ := IdealDiameter(Composition{C: 0.84, Mn: 0.75, Si: 0.22})
	return Nose{TimeS: 0.65 * d * d / (ref * ref), Ae1: c.a1(),
		Note: "nose time estimated from the composition's ideal diameter, good to a factor of two"}
}

// start is the time (s) pearlite takes to start when held at tempK: the C of 1080
// steel (isothermal diagram, from memory), moved to this nose's time and, above
// 540 C, stretched to its Ae1. Alloyed steels have a deeper bay under the nose.
func (n Nose) start(tempK float64) float64 {
	if tempK >= n.Ae1-1 {
		return math.Inf(1)
	}
	if tempK > noseK {
		tempK = noseK + (tempK-noseK)*(eutectoidK-noseK)/(n.Ae1-noseK)
	}
	at, over := startCurve()
	return n.TimeS * math.Exp(interpolate(at, over, tempK))
}

// startCurve is the logarithm of the start over that at the nose, by temperature.
var startCurve = sync.OnceValues(func() (at, over []float64) {
	at, over = column("pearlite start", "time over nose")
	for i := range over {
		over[i] = math.Log(over[i])
	}
	return at, over
})

// Race is a cooling curve against the nose.
type Race struct {
	Used      float64 // share of the time to the start of pearlite used up, added over the curve; 1: pearlite starts
	Hardens   bool    // Used below 1
	Sure      bool    // and below 0.5; above 2 it is sure not to
	At540     float64 // s from Ae1 to 540 C, NaN where the curve never gets there
	Margin    float64 // nose time over At540, the rule of thumb
	Pearlite  float64 // share pearlite, 0 to 1, rough
	StartedAt float64 // K where pearlite starts, NaN if not
	Note      string
}

// Beats runs a cooling curve (s, K) against the nose by the additive rule (Scheil
// 1935): each moment uses up its share of the time that temperature allows.
// Crossing the nose's time at 540 C, the rule of thumb, is stricter and given
// beside it. Pearlite beyond the start follows Avrami with exponent 3 and ten
// times the start for the end (from memory).
func (n Nose) Beats(times, tempsK []float64) (Race, error) {
	if len(times) != len(tempsK) || len(times) < 2 {
		return Race{}, fmt.Errorf("nose: %d times and %d temperatures; as many, at least two", len(times), len(tempsK))
	}
	r := Race{At540: math.NaN(), StartedAt: math.NaN(), Note: n.Note}
	below := math.NaN()
	for i := 1; i < len(times); i++ {
		dt := times[i] - times[i-1]
		if !(dt >= 0) || !(tempsK[i] > 0) || math.IsInf(tempsK[i], 0) || math.IsInf(dt, 0) {
			return Race{}, fmt.Errorf("nose: sample %d at %g s, %g K; times in order, temperatures above 0", i+1, times[i], tempsK[i])
		}
		const parts = 20
		for j := range parts {
			t := tempsK[i-1] + (tempsK[i]-tempsK[i-1])*(float64(j)+0.5)/parts
			now := times[i-1] + dt*(float64(j)+0.5)/parts
			if math.IsNaN(below) && t < n.Ae1 {
				below = now
			}
			if math.IsNaN(r.At540) && t <= noseK {
				r.At540 = now - below
			}
			if t > zeroC+300 { // below, bainite and martensite
				r.Used += dt / parts / n.start(t)
			}
			if r.Used >= 1 && math.IsNaN(r.StartedAt) {
				r.StartedAt = t
			}
		}
	}
	r.Margin = n.TimeS / r.At540
	r.Hardens = r.Used < 1
	r.Sure = r.Used < 0.5 || r.Used > 2
	// 1 % at Used 1, 99 % near 8.
	r.Pearlite = 1 - math.Exp(-0.01*math.Pow(r.Used, 3))
	return r, nil
}
