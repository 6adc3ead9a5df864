package heat

import (
	"math"

	"billet/sim/internal/fd"
)

// medium tells the kernel what the billet is made of and what its faces see.
type medium struct {
	nz      int
	tables  []*table // by Z node
	runs    []run
	xi      []float64      // fraction transformed
	rises   []float64      // J/m3, stored heat from which a node is on the heating branch
	joints  []Joint        // by contact
	splits  [][2][]float64 // W/mK below and above, against temperature
	perfect float64        // W/m2K, what a weld made on the way is taken as
	now     [6]faceNow
	sur     Surroundings
	half    [3]bool
	varies  bool
	coil    *induced // nil: none
}

// surround puts the faces in s from time t on.
func (m *medium) surround(s Surroundings, t float64) {
	m.sur = s
	m.varies = false
	for f := range s {
		m.now[f] = s[f].now(t)
		m.varies = m.varies || s[f].varies()
	}
}

// run is a stretch of Z nodes of one material.
type run struct {
	table    *table
	from, to int
}

// runsOf groups the materials of the Z nodes.
func runsOf(tables []*table) (out []run) {
	for z, t := range tables {
		if n := len(out); n > 0 && out[n-1].table == t {
			out[n-1].to = z + 1
			continue
		}
		out = append(out, run{t, z, z + 1})
	}
	return out
}

// Potential implements fd.Medium: temperature from stored heat.
func (m *medium) Potential(u, phi, slope, kappa []float64) {
	if m.coil != nil {
		m.coil.phi = phi
	}
	for base := 0; base < len(u); base += m.nz {
		for _, r := range m.runs {
			lo, hi := base+r.from, base+r.to
			if r.table.cooling == nil {
				r.table.heating.lookAll(u[lo:hi], phi[lo:hi], slope[lo:hi], kappa[lo:hi])
			} else {
				r.table.temperatures(u[lo:hi], m.xi[lo:hi], m.rises[lo:hi], phi[lo:hi], slope[lo:hi], kappa[lo:hi])
			}
		}
	}
}

// Contact implements fd.Medium.
func (m *medium) Contact(k int, lo, hi float64) float64 {
	return math.Min(m.joints[k].At(lo, hi), m.perfect)
}

// Split implements fd.Medium.
func (m *medium) Split(k int, phi float64) (below, above float64) {
	return atT(m.splits[k][0], phi), atT(m.splits[k][1], phi)
}

// Face implements fd.Medium.
func (m *medium) Face(axis, end int, t float64, node []int, phi, q, dq []float64) {
	if m.half[axis] && end == 1 {
		return // the plane of symmetry: q and dq stay 0
	}
	f := 2*axis + end
	now := m.now[f]
	if m.varies {
		now = m.sur[f].now(t)
	}
	for k, i := range node {
		q[k], dq[k] = now.flux(phi[i])
	}
}

// Source implements fd.Medium: nothing is heated from inside but by a coil.
func (m *medium) Source(_ float64, rate []float64) float64 {
	if m.coil == nil {
		return 0
	}
	return m.coil.add(rate)
}

// Varies implements fd.Medium.
func (m *medium) Varies() bool { return m.varies }

var _ fd.Medium = (*medium)(nil)

// settle updates the fraction transformed after a step that ended with the heat
// u at the temperatures phi.
func (m *medium) settle(u, phi []float64) {
	nz := m.nz
	for z, t := range m.tables {
		if t.cooling == nil {
			continue
		}
		for i := z; i < len(phi); i += nz {
			was := m.xi[i]
			now := t.fraction(phi[i], was)
			switch {
			case now > was: // it is on the heating branch
				m.rises[i] = u[i]
			case now < was:
				m.rises[i] = math.Inf(1)
			}
			m.xi[i] = now
		}
	}
}
