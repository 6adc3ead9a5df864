package layers

import (
	"fmt"
	"math"
)

// Spatial asks for the corrections that a section cannot see: under a short
// bite the softer half also takes more of the local strain. All are fits to a
// three-dimensional finite-element model of one bite (computed; 12 % bites,
// b/h 0.5 to 1.7), not to measured bars.
type Spatial struct {
	// OneSided adds the drift of hammering from the top on a flat anvil.
	OneSided bool
}

// Correction is what the three-dimensional corrections did in one squeeze.
type Correction struct {
	K3            float64    // factor on the offset that tool-side asymmetry makes
	K3Range       [2]float64 // its range
	ForceFactor   float64    // on the section's force
	FromTools     float64    // m, the section's own mean offset increment from tool-side asymmetry
	FromHammer    float64    // m, mean offset added by one-sided hammering
	Added         float64    // m, mean offset added altogether
	OffsetRange   [2]float64 // m, mean offset with the factors at either end of their ranges
	WaveShare     float64    // share of the thickness by which the offset may wave along the bar, unpredicted; 0 or 0.06
	SpreadPercent float64    // the width gained is uncertain by this much
}

// K3 is the factor on the offset made by tool-side asymmetry at height h and
// bite b (m): 1.3 + 0.2 (h/b)^2, held at 2.1 below b/h = 0.5. Fit to
// three-dimensional single bites within 11 % for b/h 0.5 to 1.7 (computed).
func K3(h, b float64) float64 {
	r := math.Min(h/b, 2)
	return 1.3 + 0.2*r*r
}

// k3Spread is the largest misfit of K3 to the bites it was fitted to.
const k3Spread = 0.11

// HammerDrift is d(offset/h)/d ln(1/h) under one-sided hammering on a flat
// anvil, toward the hammer: 0.05 (h/b)^1.6 (h/w)^1.5, within a factor of about
// two (fit to five three-dimensional blows, computed). h, b, w in m.
func HammerDrift(h, b, w float64) float64 {
	return 0.05 * math.Pow(h/b, 1.6) * math.Pow(h/w, 1.5)
}

// longDie is the share of the bar's length beyond which a die makes the length
// mushroom.
const longDie = 0.7

// apply corrects the stack after a squeeze and its report. before is the stack
// as it was.
func (sp *Spatial) apply(before, after *Stack, q *Squeeze, rep *Report) error {
	h := (rep.History[0].Height + q.To) / 2
	c := &Correction{K3: K3(h, q.Bite), ForceFactor: 1, SpreadPercent: 20}
	c.K3Range = [2]float64{c.K3 * (1 - k3Spread), c.K3 * (1 + k3Spread)}
	if q.Rolled {
		c.K3, c.K3Range, c.SpreadPercent = 1, [2]float64{1, 2.1}, 40
	} else {
		sp.limits(before, q, h, rep, c)
		sp.force(q, rep, c)
	}
	rep.Correction = c
	if before.OnEdge() {
		c.OffsetRange = [2]float64{rep.After.Offset, rep.After.Offset}
		return nil
	}
	return sp.shift(before, after, q, rep, c)
}

func (sp *Spatial) limits(s *Stack, q *Squeeze, h float64, rep *Report, c *Correction) {
	if q.Bite < 0.5*h {
		rep.warn("bite %.1f mm is under half the height %.1f mm: the offset's correction is held at its last known value 2.1", q.Bite*1e3, h*1e3)
	}
	if q.Bite > 1.7*h {
		rep.warn("bite %.1f mm is over 1.7 heights of %.1f mm: the offset's correction is extrapolated", q.Bite*1e3, h*1e3)
	}
	if q.Bite > longDie*s.Length() {
		c.WaveShare = 0.06
		rep.warn("the die covers more than 0.7 of the bar's length: mushrooming along the bar adds an offset wave of about 6 %% of the thickness either way, not predicted")
	}
}

// force multiplies the section's force by 1 + 0.08 (h/b)^2.
func (sp *Spatial) force(q *Squeeze, rep *Report, c *Correction) {
	factor := func(h float64) float64 { return 1 + 0.08*(h/q.Bite)*(h/q.Bite) }
	rep.Greatest = 0
	for i := range rep.History {
		f := &rep.History[i]
		f.Force *= factor(f.Height)
		rep.Greatest = math.Max(rep.Greatest, f.Force)
	}
	last := rep.History[len(rep.History)-1]
	rep.Force, c.ForceFactor = last.Force, factor(last.Height)
	rep.Total = rep.Greatest * q.Bite
}

// shift moves the core's lines by (K3-1) times the increment that tool-side
// asymmetry made, and by the hammer's rule.
func (sp *Spatial) shift(before, after *Stack, q *Squeeze, rep *Report, c *Correction) error {
	section := after.Shape()
	even := after
	if mean, uneven := q.evened(before); uneven {
		even = before.Clone()
		mean.guide.ready = true
		if _, err := even.press(mean); err != nil {
			return fmt.Errorf("%w (in the even squeeze compared with)", err)
		}
	}
	evened := even.Shape()
	c.FromTools = section.Offset - evened.Offset
	hammer := sp.hammer(before, q, rep)
	m := after.mesh
	move := make([]float64, m.nc)
	core := m.lines[after.core]
	for i := range move {
		y := (m.lineY(core.bottom, i) + m.lineY(core.top, i)) / 2
		tools := after.OffsetAt(y) - even.OffsetAt(y*evened.Narrowest/section.Narrowest)
		move[i] = (c.K3-1)*tools + hammer
	}
	if !m.shiftCore(core, move) {
		rep.warn("the core lies at a face: its offset is not corrected in three dimensions")
		hammer = 0
	}
	c.FromHammer = hammer
	c.Added = after.mesh.meanInner(after.OffsetAt) - section.Offset
	at := section.Offset + c.Added
	lo, hi := (c.K3Range[0]-c.K3)*c.FromTools, (c.K3Range[1]-c.K3)*c.FromTools
	c.OffsetRange = [2]float64{
		at + math.Min(lo, hi) + math.Min(-hammer/2, hammer),
		at + math.Max(lo, hi) + math.Max(-hammer/2, hammer),
	}
	return nil
}

// hammer is the offset one-sided hammering adds, m.
func (sp *Spatial) hammer(before *Stack, q *Squeeze, rep *Report) float64 {
	if !sp.OneSided {
		return 0
	}
	h0, h1 := rep.Before.Height, q.To
	d := HammerDrift((h0+h1)/2, q.Bite, rep.Before.Width) * math.Log(h0/h1) * h1
	if before.down == SideA {
		return -d
	}
	return d
}

// evened is the same squeeze with both tools and both faces' temperatures at
// their mean; uneven tells whether that changes anything.
func (q *Squeeze) evened(s *Stack) (*Squeeze, bool) {
	e := *q
	wedge := (q.Top.Slope - q.Bottom.Slope) / 2
	e.Top.Friction = (q.Top.Friction + q.Bottom.Friction) / 2
	e.Top.Slope = wedge
	e.Top.Crown = meanRadius(q.Top.Crown, q.Bottom.Crown)
	e.Top.Across = math.Min(orWide(q.Top.Across), orWide(q.Bottom.Across))
	if math.IsInf(e.Top.Across, 1) {
		e.Top.Across = 0
	}
	e.Bottom = e.Top
	e.Bottom.Slope = -wedge
	uneven := e.Top != q.Top || e.Bottom != q.Bottom
	for _, r := range s.mesh.rows {
		for _, u := range []float64{-0.8, 0, 0.8} {
			t := (r.from + r.to) / 2
			uneven = uneven || math.Abs(q.Temperature(u, t)-q.Temperature(u, 1-t)) > 1e-9
		}
	}
	e.Temperature = func(across, through float64) float64 {
		return (q.Temperature(across, through) + q.Temperature(across, 1-through)) / 2
	}
	return &e, uneven
}

func orWide(across float64) float64 {
	if across == 0 {
		return math.Inf(1)
	}
	return across
}

// meanRadius averages two curvatures given as radii; 0 = flat.
func meanRadius(a, b float64) float64 {
	k := 0.0
	for _, r := range [2]float64{a, b} {
		if r > 0 {
			k += 0.5 / r
		}
	}
	if k == 0 {
		return 0
	}
	return 1 / k
}

// mostOfJacket bounds a correction: no jacket loses more than this share.
const mostOfJacket = 0.5

// shiftCore moves the core's lines by move (m) at each column; the jackets give
// way linearly to nothing at the faces. It returns false for a core at a face.
func (m *mesh) shiftCore(core layerLines, move []float64) bool {
	bottom, top := m.faces()
	if core.bottom == bottom || core.top == top {
		return false
	}
	for c, d := range move {
		z0, z3 := m.lineZ(bottom, c), m.lineZ(top, c)
		z1, z2 := m.lineZ(core.bottom, c), m.lineZ(core.top, c)
		d = math.Max(-mostOfJacket*(z1-z0), math.Min(mostOfJacket*(z3-z2), d))
		for l := 0; l < m.nl; l++ {
			i := c*m.nl + l
			switch z := m.z[i]; {
			case z < z1:
				m.z[i] += d * (z - z0) / (z1 - z0)
			case z > z2:
				m.z[i] += d * (z3 - z) / (z3 - z2)
			default:
				m.z[i] += d
			}
		}
	}
	m.reference()
	return true
}
