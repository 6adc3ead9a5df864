package heat

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/interp"

	"billet/sim/steel"
)

// table holds a material for the step loop: temperature and conductivity
// against stored heat on an even grid, with straight lines between grid points;
// the grid is fine enough that this adds less than 1e-3 K.
type table struct {
	latent   float64 // J/m3 at full transformation; 0: one curve
	heating  *branch
	cooling  *branch   // nil with one curve
	base     *branch   // against stored heat less the latent heat taken up
	from, to float64   // stored heat between which the branches part, J/m3
	first    float64   // K: all untransformed below
	last     float64   // K: all transformed above
	onHeat   []float64 // fraction transformed against temperature
	onCool   []float64
	conducts steel.Curve // W/mK
	weight   float64     // K per J/m3 by the mean heat capacity to welding heat
}

// branch is one curve of temperature and conductivity against stored heat.
type branch struct {
	u0, du, inv float64      // start of the grid, J/m3; spacing; 1/spacing
	v           [][2]float64 // K, W/mK
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

// part is a material and its share of the volume.
type part struct {
	steel.Material
	share float64
}

// sum is the sum over the parts, by share of volume.
func sum(parts []part, f func(m steel.Material) float64) (s float64) {
	for _, p := range parts {
		s += p.share * f(p.Material)
	}
	return s
}

// newTable is the table of a material, or of a blend of several that conducts as
// given.
func newTable(parts []part, conducts steel.Curve) *table {
	t := &table{latent: sum(parts, func(m steel.Material) float64 { return m.Density * m.Latent })}
	base := func(tK float64) float64 {
		return sum(parts, func(m steel.Material) float64 { return m.Density * extended(m.Base, tK) })
	}
	lo, hi := base(tableLo), base(tableHi)+t.latent
	var bases []steel.Curve
	for _, p := range parts {
		bases = append(bases, p.Base)
	}
	knots := knotsOf(bases...)
	t.conducts = conducts
	t.base = newBranch(lo, hi, knots, base, conducts)
	t.heating = t.base
	if t.latent > 0 {
		t.transforming(parts, func(taken func(float64) float64) *branch {
			return newBranch(lo, hi, withEveryKelvin(knots), func(k float64) float64 { return base(k) + t.latent*taken(k) }, conducts)
		})
		t.from, t.to = base(t.first), base(t.last)+t.latent
	}
	const cold, weld = 293.15, 1473.15
	t.weight = (weld - cold) / (base(weld) + t.latent - base(cold))
	return t
}

// transforming makes the branches that part, and what says where each lies.
func (t *table) transforming(parts []part, with func(taken func(float64) float64) *branch) {
	t.first, t.last = math.Inf(1), math.Inf(-1)
	var up, down []func(float64) float64
	var heat []float64 // share of the latent heat
	for _, p := range parts {
		if p.Latent == 0 {
			continue
		}
		up, down = append(up, smooth(p.OnHeating)), append(down, smooth(p.OnCooling))
		heat = append(heat, p.share*p.Density*p.Latent/t.latent)
		for _, c := range []steel.Curve{p.OnHeating, p.OnCooling} {
			t.first, t.last = min(t.first, c.T[0]), max(t.last, c.T[len(c.T)-1])
		}
	}
	mean := func(of []func(float64) float64) func(float64) float64 {
		if len(of) == 1 {
			return of[0]
		}
		return func(tK float64) (v float64) {
			for i, f := range of {
				v += heat[i] * f(tK)
			}
			return v
		}
	}
	onHeat, onCool := mean(up), mean(down)
	t.heating, t.cooling = with(onHeat), with(onCool)
	t.onHeat, t.onCool = sample(onHeat), sample(onCool)
}

// inSeries is the conductivity through layers one behind the other.
func inSeries(parts []part) steel.Curve {
	return blended(parts, func(tK float64) float64 {
		return 1 / sum(parts, func(m steel.Material) float64 { return 1 / m.Conductivity.At(tK) })
	})
}

// sideBySide is the conductivity along layers one beside the other.
func sideBySide(parts []part) steel.Curve {
	return blended(parts, func(tK float64) float64 {
		return sum(parts, func(m steel.Material) float64 { return m.Conductivity.At(tK) })
	})
}

// blended is a conductivity on the knots of all the parts'.
func blended(parts []part, at func(tK float64) float64) (out steel.Curve) {
	var ks []steel.Curve
	for _, p := range parts {
		ks = append(ks, p.Conductivity)
	}
	out.T = knotsOf(ks...)
	for _, tK := range out.T {
		out.V = append(out.V, at(tK))
	}
	return out
}

// smooth is a monotone cubic through the curve's points, held at its ends. The
// corners of straight pieces would each cost the integrator small steps.
func smooth(c steel.Curve) func(float64) float64 {
	var f interp.FritschButland
	if err := f.Fit(c.T, c.V); err != nil || len(c.T) < 3 {
		return c.At
	}
	lo, hi := c.T[0], c.T[len(c.T)-1]
	return func(tK float64) float64 { return f.Predict(min(max(tK, lo), hi)) }
}

// withEveryKelvin is the knots and one every kelvin.
func withEveryKelvin(knots []float64) []float64 {
	all := slices.Clone(knots)
	for t := tableLo + 1; t < tableHi; t++ {
		all = append(all, t)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func sample(f func(float64) float64) []float64 {
	out := make([]float64, kSize)
	for i := range out {
		out[i] = f(tableLo + float64(i)*(tableHi-tableLo)/(kSize-1))
	}
	return out
}

// newBranch finds T with h(T) = u on the even grid of u from lo to hi. h is a
// straight line between the knots, so the inverse is exact.
func newBranch(lo, hi float64, knots []float64, h func(float64) float64, k steel.Curve) *branch {
	b := &branch{u0: lo, du: (hi - lo) / (tableSize - 1), v: make([][2]float64, tableSize)}
	b.inv = 1 / b.du
	rows := pieceOf(k)
	at := 0
	h0, h1 := h(knots[0]), h(knots[1])
	slope := (knots[1] - knots[0]) / (h1 - h0)
	for i := range b.v {
		u := lo + float64(i)*b.du
		for h1 < u && at < len(knots)-2 {
			at++
			h0, h1 = h1, h(knots[at+1])
			slope = (knots[at+1] - knots[at]) / (h1 - h0)
		}
		tK := knots[at] + slope*(u-h0)
		b.v[i] = [2]float64{tK, rows.at(tK)}
	}
	return b
}

// rows reads a curve at temperatures that rise.
type rows struct {
	curve      steel.Curve
	next       int     // row that ends the piece
	slope, end float64 // of the piece; K
}

// pieceOf begins below the curve, where it is held.
func pieceOf(c steel.Curve) *rows { return &rows{curve: c, end: c.T[0]} }

func (r *rows) at(tK float64) float64 {
	c := r.curve
	for tK >= r.end {
		r.next++
		r.slope, r.end = 0, math.Inf(1)
		if i := r.next; i < len(c.T) {
			r.slope, r.end = (c.V[i]-c.V[i-1])/(c.T[i]-c.T[i-1]), c.T[i]
		}
	}
	if r.next == 0 {
		return c.V[0]
	}
	return c.V[r.next-1] + r.slope*(tK-c.T[r.next-1])
}

// narrowest is the middle and the width, K, of the narrowest transformation on
// heating: where the heat capacity is above one and a half times its mean, the
// width of the even ramp with the same standard deviation. Zero where there is
// none.
func (t *table) narrowest() (at, width float64) {
	v, du := t.heating.v, t.heating.du
	mean := du * float64(len(v)-1) / (v[len(v)-1][0] - v[0][0])
	var over, middle, square float64 // moments of the heat above the line
	for i := range v[1:] {
		rise := v[i+1][0] - v[i][0]
		if more := du - 1.5*mean*rise; more > 0 {
			mid := (v[i][0] + v[i+1][0]) / 2
			over, middle, square = over+more, middle+more*mid, square+more*mid*mid
			continue
		}
		if over > 5*mean {
			mid := middle / over
			if w := math.Sqrt(12 * math.Max(square/over-mid*mid, 0)); width == 0 || w < width {
				at, width = mid, w
			}
		}
		over, middle, square = 0, 0, 0
	}
	return at, width
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

// look is linear interpolation on the even grid, carried on past its ends. It
// returns the temperature, its slope per unit of u and the conductivity.
func (b *branch) look(u float64) (tK, slope, k float64) {
	x := (u - b.u0) * b.inv
	i := int(x)
	if uint(i) >= tableSize-1 {
		i = min(max(i, 0), tableSize-2)
	}
	lo, hi := &b.v[i], &b.v[i+1]
	f, d := x-float64(i), hi[0]-lo[0]
	return lo[0] + f*d, d * b.inv, lo[1] + f*(hi[1]-lo[1])
}

// lookAll is look for many.
func (b *branch) lookAll(u, tK, slope, k []float64) {
	v := b.v[:tableSize]
	tK, slope, k = tK[:len(u)], slope[:len(u)], k[:len(u)]
	for j, x := range u {
		x = (x - b.u0) * b.inv
		i := int(x)
		if uint(i) >= tableSize-1 {
			i = min(max(i, 0), tableSize-2)
		}
		lo, hi := v[i], v[i+1]
		f, d := x-float64(i), hi[0]-lo[0]
		tK[j], slope[j], k[j] = lo[0]+f*d, d*b.inv, lo[1]+f*(hi[1]-lo[1])
	}
}

// temperatures is temperature for many: outside the range in which the branches
// part one table serves all, and within it where a node is known to rise.
func (t *table) temperatures(u, xi, rises, tK, slope, k []float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range u {
		lo, hi = min(lo, v), max(hi, v)
	}
	if hi <= t.from || lo >= t.to {
		t.heating.lookAll(u, tK, slope, k)
		return
	}
	xi, rises, tK, slope, k = xi[:len(u)], rises[:len(u)], tK[:len(u)], slope[:len(u)], k[:len(u)]
	for j, v := range u {
		if v >= rises[j] {
			tK[j], slope[j], k[j] = t.heating.look(v)
		} else {
			tK[j], slope[j], k[j] = t.temperature(v, xi[j])
		}
	}
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

// temperature is T(u), dT/du and k with the fraction xi transformed so far. The
// fraction can only grow along the heating branch and only shrink along the
// cooling branch; between the branches it is frozen, so T is what the frozen
// curve gives, held between the branches.
func (t *table) temperature(u, xi float64) (tK, slope, k float64) {
	tK, slope, k = t.heating.look(u)
	if u <= t.from || u >= t.to {
		return tK, slope, k
	}
	tb, sb, kb := t.base.look(u - t.latent*xi)
	if tb >= tK {
		return tK, slope, k
	}
	tc, sc, kc := t.cooling.look(u)
	switch {
	case tc >= tK:
		return tK, slope, k
	case tb <= tc:
		return tc, sc, kc
	}
	return tb, sb, kb
}

// fraction is the fraction transformed at tK, coming from xi.
func (t *table) fraction(tK, xi float64) float64 {
	switch {
	case tK <= t.first:
		return 0
	case tK >= t.last:
		return 1
	}
	return min(max(xi, atT(t.onHeat, tK)), atT(t.onCool, tK))
}

// store is the heat per volume at tK with the fraction xi, J/m3, consistent
// with the tables.
func (t *table) store(tK, xi float64) float64 {
	v := t.base.v
	i := min(max(sort.Search(len(v), func(i int) bool { return v[i][0] > tK })-1, 0), len(v)-2)
	f := (tK - v[i][0]) / (v[i+1][0] - v[i][0])
	return t.base.u0 + (float64(i)+f)*t.base.du + t.latent*xi
}
