package metal

import (
	"math"

	"billet/sim/internal/fd"
)

// carbonMedium tells the kernel what the stack is at the temperature of one
// hold. Lengths are those of the last stacking: a layer drawn to the share s of
// its thickness has a mobility 1/s² as large there, per area of that time.
type carbonMedium struct {
	steel []*isotherm // by node
	drawn []float64   // by node: 1/stretch²
	joint []float64   // conductance by joint, kg/(m2 s) per wt %
	face  [2]struct{ rate, potential float64 }
	cache map[isoKey]*isotherm
}

// isoKey names an isotherm; the same steel at the same heat is made once.
type isoKey struct {
	group int
	tempK float64
}

// tight is the conductance of a welded joint over that of the finest cell
// beside it: as good as an eighth of a micrometre of steel. Tighter, it would
// level the two nodes of a joint between steels that hold carbide, whose
// potentials differ by rounding only.
const tight = 200

// evenK is the difference across a layer that is taken as none: a third of a per
// cent of the diffusivity, twice as far out.
const evenK = 2.0

// set makes the medium that of c at the temperatures given.
func (m *carbonMedium) set(c *Carbon, tempsK []float64, hottestK float64) {
	clear(m.cache)
	ax := c.grid.Axes[fd.Z]
	for i := range c.layers {
		l := &c.layers[i]
		lo, hi := tempsK[0], tempsK[0]
		if len(tempsK) > 1 {
			lo, hi = tempsK[i], tempsK[i+1]
			if math.Abs(hi-lo) < evenK {
				lo, hi = (lo+hi)/2, (lo+hi)/2
			}
		}
		one := m.isotherm(c, l, lo)
		from, span := ax.X[l.first], ax.X[l.last]-ax.X[l.first]
		for n := l.first; n <= l.last; n++ {
			m.steel[n] = one
			if lo != hi {
				m.steel[n] = m.isotherm(c, l, lo+(hi-lo)*(ax.X[n]-from)/span)
			}
			m.drawn[n] = 1 / (l.stretch * l.stretch)
		}
		if i > 0 {
			m.joint[i-1] = 0
			if !l.openJoin {
				m.joint[i-1] = c.tightness(i, hottestK)
			}
		}
	}
	for side, n := range [2]int{0, ax.Len() - 1} {
		l := &c.layers[side*(len(c.layers)-1)]
		m.face[side].rate = l.density / 100 * c.face[side].Transfer / l.stretch
		m.face[side].potential = c.face[side].Potential
		if m.steel[n].tempK < l.a1 && l.kind == plain {
			m.face[side].rate *= ferriteMax / eutectoidC // ferrite offers the gas that much less
		}
	}
}

// isotherm is layer l at tempK; layers of one steel share it.
func (m *carbonMedium) isotherm(c *Carbon, l *layer, tempK float64) *isotherm {
	k := isoKey{l.group, tempK}
	s := m.cache[k]
	if s == nil {
		s = newIsotherm(l, c.opt.Law, tempK)
		m.cache[k] = s
	}
	return s
}

// tightness is the conductance of the joint under layer i.
func (c *Carbon) tightness(i int, tempK float64) float64 {
	ax := c.grid.Axes[fd.Z]
	n := c.layers[i].first
	d := math.Min(ax.D[n], ax.D[n-2])
	s := math.Min(c.layers[i].stretch, c.layers[i-1].stretch)
	return tight * 78.5 * Agren(math.Max(tempK, 1100), 1) / (d * s * s)
}

// Potential implements fd.Medium.
func (m *carbonMedium) Potential(u, phi, slope, kappa []float64) {
	for i, s := range m.steel {
		p, sl, k := s.look(u[i])
		phi[i], slope[i], kappa[i] = p, sl, k*m.drawn[i]
	}
}

// Contact implements fd.Medium.
func (m *carbonMedium) Contact(k int, _, _ float64) float64 { return m.joint[k] }

// Split implements fd.Medium: there is none.
func (m *carbonMedium) Split(int, float64) (below, above float64) { return 0, 0 }

// Face implements fd.Medium: gas and steel exchange carbon in proportion to
// the difference of potential.
func (m *carbonMedium) Face(axis, end int, _ float64, _ []int, phi, q, dq []float64) {
	f := m.face[end]
	n := 0
	if end == 1 {
		n = len(phi) - 1
	}
	q[0], dq[0] = f.rate*(f.potential-phi[n]), -f.rate
}

// Source implements fd.Medium.
func (m *carbonMedium) Source(float64, []float64) float64 { return 0 }

// Varies implements fd.Medium.
func (m *carbonMedium) Varies() bool { return false }

var _ fd.Medium = (*carbonMedium)(nil)
