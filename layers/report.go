package layers

import (
	"fmt"
	"math"
)

// Report is what one squeeze did.
type Report struct {
	Before, After   Shape     // of the metal, metal's frame
	Force           float64   // N per m of bite, at the final height
	Greatest        float64   // N per m of bite, the largest on the way
	Total           float64   // N, Greatest x bite
	RollingMoment   float64   // N m per m of bite, what the tools' reactions leave to the bar outside the bite
	Rate            float64   // 1/s, nominal strain rate at the final height
	Work            Energy    // J per m of bite
	Elongation      []float64 // each bonded group, this squeeze
	Overhang        float64   // m, between the longest and the shortest layer
	Curl            float64   // angle gathered per m of length at lay-up, 1/m, positive when side A is the longer; 0 unless followed
	Restraint       float64   // alpha used
	History         []ForceAt
	Field           *Field
	Solves, Newtons int
	Correction      *Correction // nil unless asked for
	WidthRange      [2]float64  // m, after: width (thickness on edge) with the spread 20 % (rolls 40 %) less or more
	Warnings        []string
}

func (r *Report) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}

// Uncertainty of the width gained: by squeezes the published spread laws differ
// by about this from the model; by rolls they differ among themselves by this.
const (
	pressSpreadShare = 0.2
	rollsSpreadShare = 0.4
)

// widthRange widens the logarithmic spread, from w0 to w1 (m), by its
// uncertainty.
func (r *Report) widthRange(w0, w1 float64, rolled bool) {
	u := pressSpreadShare
	if rolled {
		u = rollsSpreadShare
	}
	a, b := w0*math.Pow(w1/w0, 1-u), w0*math.Pow(w1/w0, 1+u)
	r.WidthRange = [2]float64{math.Min(a, b), math.Max(a, b)}
}

// ForceAt is the force at a height during the squeeze.
type ForceAt struct {
	Height float64 // m
	Force  float64 // N per m of bite
}

// Field is the flow at the end of a squeeze, for pictures: one entry an
// element, metal's frame. Where nothing differs left from right only the right
// half is there.
type Field struct {
	Corners [][4]Point // counter-clockwise or clockwise round
	Layer   []int      // the layer with the largest share
	Strain  []float64  // equivalent strain so far
	Rate    []float64  // 1/s, equivalent
	Flow    []Point    // m/s, velocity of the element's middle (Y, Z)
}

func (p *pass) report() *Report {
	s, m := p.sec, p.stack.mesh
	rep := &Report{
		Before: p.start, Rate: s.law.rate, Work: p.work, Restraint: s.law.restraint,
		RollingMoment: p.moment, Curl: p.turned, Overhang: p.stack.Overhang(),
		Solves: p.solves, Newtons: p.newtons, Warnings: p.warnings,
	}
	for _, f := range p.forces {
		rep.History = append(rep.History, ForceAt{f.height, f.force})
		rep.Greatest = max(rep.Greatest, f.force)
		rep.Force = f.force
	}
	rep.Total = rep.Greatest * p.q.Bite
	for g, e := range m.elongation {
		rep.Elongation = append(rep.Elongation, e/p.before[g])
	}
	rep.Field = p.field()
	return rep
}

func (p *pass) field() *Field {
	f := &Field{}
	m, s := p.stack.mesh, p.sec
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			a := c*m.nl + row.level
			round := [4]int{a, a + m.nl, a + m.nl + 1, a + 1}
			var at [4]Point
			var v Point
			for k, n := range round {
				at[k] = Point{m.y[n], m.z[n]}
				vy, vz := p.metal(s.u[2*p.perm[n]], s.u[2*p.perm[n]+1])
				v.Y += vy / 4
				v.Z += vz / 4
			}
			best := row.parts[0]
			for _, q := range row.parts {
				if q.share > best.share {
					best = q
				}
			}
			e := &s.els[m.element(c, r)]
			f.Corners = append(f.Corners, at)
			f.Layer = append(f.Layer, best.layer)
			f.Strain = append(f.Strain, e.strain)
			f.Rate = append(f.Rate, s.equivalent(e))
			f.Flow = append(f.Flow, v)
		}
	}
	return f
}
