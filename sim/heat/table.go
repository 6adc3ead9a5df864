package heat

import (
	"slices"

	"billet/sim/steel"
)

// table holds a material for the step loop: temperature against stored heat on
// an even grid, and conductivity against temperature. Both are straight lines
// between grid points; the grid is fine enough that this adds less than 1e-3 K.
type table struct {
	rho     float64
	latent  float64 // J/m3 at full transformation; 0: one curve
	u0, inv float64 // start of the grid of u, J/m3; 1/spacing
	du      float64
	heating []float64 // K at u, on the heating branch
	cooling []float64 // K at u, on the cooling branch; nil with one curve
	base    []float64 // K at u less the latent heat taken up
	onHeat  []float64 // fraction transformed against temperature
	onCool  []float64
	k       []float64 // W/mK against temperature
	weight  float64   // K per J/m3 by the mean heat capacity to welding heat
}

const (
	tableLo   = 150.0  // K
	tableHi   = 2300.0 // K
	tableSize = 4096
	kSize     = 2048
)

// extended is the curve at tK with its last slopes carried on past its ends.
func extended(c steel.Curve, tK float64) float64 {
	n := len(c.T)
	if n == 1 {
		return c.V[0]
	}
	switch {
	case tK < c.T[0]:
		return c.V[0] + (tK-c.T[0])*(c.V[1]-c.V[0])/(c.T[1]-c.T[0])
	case tK > c.T[n-1]:
		return c.V[n-1] + (tK-c.T[n-1])*(c.V[n-1]-c.V[n-2])/(c.T[n-1]-c.T[n-2])
	}
	return c.At(tK)
}

func newTable(m steel.Material) *table {
	t := &table{rho: m.Density, latent: m.Density * m.Latent}
	lo := m.Density * extended(m.Base, tableLo)
	hi := m.Density*extended(m.Base, tableHi) + t.latent
	t.u0, t.du = lo, (hi-lo)/(tableSize-1)
	t.inv = 1 / t.du
	base := func(tK float64) float64 { return m.Density * extended(m.Base, tK) }
	t.base = invert(knotsOf(m.Base), base, t.u0, t.du)
	t.heating = t.base
	if t.latent > 0 {
		knots := knotsOf(m.Base, m.OnHeating, m.OnCooling)
		t.heating = invert(knots, func(k float64) float64 { return base(k) + t.latent*m.OnHeating.At(k) }, t.u0, t.du)
		t.cooling = invert(knots, func(k float64) float64 { return base(k) + t.latent*m.OnCooling.At(k) }, t.u0, t.du)
		t.onHeat, t.onCool = sample(m.OnHeating.At), sample(m.OnCooling.At)
	}
	t.k = sample(m.Conductivity.At)
	const cold, weld = 293.15, 1473.15
	t.weight = (weld - cold) / (base(weld) + t.latent - base(cold))
	return t
}

func sample(f func(float64) float64) []float64 {
	out := make([]float64, kSize)
	for i := range out {
		out[i] = f(tableLo + float64(i)*(tableHi-tableLo)/(kSize-1))
	}
	return out
}

// invert finds T with h(T) = u on the even grid of u. h is a straight line
// between the knots, so the inverse is exact.
func invert(knots []float64, h func(float64) float64, u0, du float64) []float64 {
	out := make([]float64, tableSize)
	k := 0
	h0, h1 := h(knots[0]), h(knots[1])
	for i := range out {
		u := u0 + float64(i)*du
		for h1 < u && k < len(knots)-2 {
			k++
			h0, h1 = h1, h(knots[k+1])
		}
		out[i] = knots[k] + (knots[k+1]-knots[k])*(u-h0)/(h1-h0)
	}
	return out
}

// knotsOf is the sorted union of the curves' temperatures and the table's ends.
func knotsOf(curves ...steel.Curve) []float64 {
	all := []float64{tableLo, tableHi}
	for _, c := range curves {
		for _, t := range c.T {
			if t > tableLo && t < tableHi {
				all = append(all, t)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// look is linear interpolation on the even grid, carried on past its ends; it
// returns the value and its slope per unit of u.
func (t *table) look(v []float64, u float64) (float64, float64) {
	x := (u - t.u0) * t.inv
	i := int(x)
	if uint(i) >= tableSize-1 {
		if i < 0 || x < 0 {
			i = 0
		} else {
			i = tableSize - 2
		}
	}
	d := v[i+1] - v[i]
	return v[i] + (x-float64(i))*d, d * t.inv
}

func atT(v []float64, tK float64) float64 {
	const inv = (kSize - 1) / (tableHi - tableLo)
	x := (tK - tableLo) * inv
	i := int(x)
	if uint(i) >= kSize-1 {
		if x < 0 {
			return v[0]
		}
		return v[kSize-1]
	}
	return v[i] + (x-float64(i))*(v[i+1]-v[i])
}

// temperature is T(u) and dT/du with the fraction xi transformed so far. The
// fraction can only grow along the heating branch and only shrink along the
// cooling branch; between the branches it is frozen, so T is what the frozen
// curve gives, held between the branches.
func (t *table) temperature(u, xi float64) (tK, slope float64) {
	tK, slope = t.look(t.heating, u)
	if t.cooling == nil {
		return tK, slope
	}
	tc, sc := t.look(t.cooling, u)
	if tc == tK {
		return tK, slope
	}
	tb, sb := t.look(t.base, u-t.latent*xi)
	if tb >= tK {
		return tK, slope
	}
	if tb <= tc {
		return tc, sc
	}
	return tb, sb
}

// fraction is the fraction transformed at tK, coming from xi.
func (t *table) fraction(tK, xi float64) float64 {
	return min(max(xi, atT(t.onHeat, tK)), atT(t.onCool, tK))
}

// store is the heat per volume at tK with the fraction xi, J/m3, consistent
// with the tables.
func (t *table) store(tK, xi float64) float64 {
	lo, hi := 0, tableSize-1
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if t.base[mid] <= tK {
			lo = mid
		} else {
			hi = mid
		}
	}
	f := (tK - t.base[lo]) / (t.base[hi] - t.base[lo])
	return t.u0 + (float64(lo)+f)*t.du + t.latent*xi
}
