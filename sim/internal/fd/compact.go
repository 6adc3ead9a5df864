package fd

import "slices"

// Compact makes every control volume hold what it does by the nodes beside it as
// well: M u' = F/W with F the flows and M the tridiagonal matrix for which
// second differences of φ match the mean of u' to fourth order on even nodes
// (1/12, 10/12, 1/12), third on graded ones (Collatz, The Numerical Treatment of
// Differential Equations, the Mehrstellenverfahren, from memory). What is
// conserved is Σ W·M·u. The flow κ̄·Δφ/d is the difference of ∫κ dφ wherever κ is
// a straight line between two nodes, so φ(u) and κ(φ) cost no order. mirrored says
// that the axis ends in a plane of symmetry. Between links longer than widest a
// control volume keeps to its node: where a front is sharper than the links are
// long, a node that leans on its neighbour dips by a tenth of what that rises.
func (a *Axis) Compact(mirrored bool, widest float64) {
	a.compact, a.mirrored, a.widest = true, mirrored, widest
	a.weigh()
}

// weigh sets the widths of the control volumes, M, and what follows from them.
func (a *Axis) weigh() {
	n := len(a.X)
	if len(a.D) > 0 {
		a.W = make([]float64, n)
		for i, d := range a.D {
			a.W[i] += d / 2
			a.W[i+1] += d / 2
		}
	}
	a.down, a.self, a.up = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		a.down[i], a.self[i], a.up[i] = a.row(i)
	}
	if a.compact {
		a.standAlone()
	}
	a.V = make([]float64, n)
	for i, w := range a.W {
		a.V[i] += a.self[i] * w
		if i > 0 {
			a.V[i-1] += a.down[i] * w
		}
		if i < n-1 {
			a.V[i+1] += a.up[i] * w
		}
	}
	a.factor()
}

// standAlone makes the nodes beside faces, contacts and splits do without those.
// A face may jump, and a node that leans on it would dip behind it by a tenth of
// the jump; and what a split holds on one side is not what it holds in all.
func (a *Axis) standAlone() {
	last := len(a.X) - 1
	for i := range a.X {
		split := slices.Contains(a.Splits, i)
		open := i == last && !a.mirrored || i < last && a.D[i] == 0 // above
		if i > 0 && a.D[i-1] > 0 && (split || open) {
			a.part(i, i-1, a.down, a.up)
		}
		open = i == 0 || a.D[i-1] == 0
		if i < last && a.D[i] > 0 && (split || open) {
			a.part(i, i+1, a.up, a.down)
		}
	}
}

// part moves the weight that the node beside an end has for it to that node
// itself, and as much the other way in the end's own row, so that column sums and
// the pair's first moments stay. from is the weights on that side in the end's
// row, to those in the other's.
func (a *Axis) part(end, beside int, from, to []float64) {
	moved := a.W[beside] * to[beside] / a.W[end]
	a.self[beside] += to[beside]
	to[beside] = 0
	a.self[end] += moved
	from[end] -= moved
}

// row is row i of M.
func (a *Axis) row(i int) (down, self, up float64) {
	var lo, hi float64 // links below and above
	if i > 0 {
		lo = a.D[i-1]
	}
	if i < len(a.D) {
		hi = a.D[i]
	}
	if !a.compact || lo == 0 && hi == 0 {
		return 0, 1, 0
	}
	// A half cell at a face or contact: by a straight line.
	const third = 1. / 3
	switch {
	case lo == 0:
		return 0, 1 - third, third
	case hi == 0 && a.mirrored && i == len(a.X)-1: // half of a whole cell
		return 1. / 6, 5. / 6, 0
	case hi == 0:
		return third, 1 - third, 0
	case slices.Contains(a.Splits, i): // two half cells
		return third * lo / (lo + hi), 1 - third, third * hi / (lo + hi)
	}
	down = (lo*lo + lo*hi - hi*hi) / (6 * lo * (lo + hi))
	up = (hi*hi + lo*hi - lo*lo) / (6 * hi * (lo + hi))
	if down < 0 || up < 0 || max(lo, hi) > a.widest { // links too unlike, or too long
		return 0, 1, 0
	}
	return down, 1 - down - up, up
}

// factor decomposes M, and keeps what the step loop would divide by.
func (a *Axis) factor() {
	n := len(a.X)
	a.mLo, a.mUp, a.perM, a.perD = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, len(a.D))
	for i, w := range a.W {
		pivot := a.self[i]
		if i > 0 {
			pivot -= a.down[i] * a.mUp[i-1]
		}
		a.perM[i] = 1 / (pivot * w)
		a.mLo[i] = a.down[i] / pivot
		a.mUp[i] = a.up[i] / pivot
	}
	for i, d := range a.D {
		if d > 0 {
			a.perD[i] = 0.5 / d
		}
	}
}
