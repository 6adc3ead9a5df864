package layers

import (
	"fmt"
	"math"
)

// linear is the Newton system: a symmetric band for the nodal unknowns, a
// border of a few columns, condensed.
type linear struct {
	n, border, kd, ld int
	band              []float64 // upper band by rows: (i, j) at i*ld + j-i
	cols              []float64 // border columns, n entries each
	corner            []float64 // border x border, full
	grad              []float64 // n + border
	rhs               []float64 // K^-1 of the gradient, then of each border column
	schur, side       []float64
}

func (l *linear) size(n, border, kd int) {
	l.n, l.border, l.kd, l.ld = n, border, kd, kd+1
	l.band = make([]float64, n*l.ld+kd) // the tail lets rows be addressed whole
	l.cols = make([]float64, n*border)
	l.corner = make([]float64, border*border)
	l.grad = make([]float64, n+border)
	l.rhs = make([]float64, n*(border+2)) // in pairs: the last may be idle
	l.schur = make([]float64, border*border)
	l.side = make([]float64, border)
}

func (l *linear) clear(hess bool) {
	clear(l.grad)
	if hess {
		clear(l.band)
		clear(l.cols)
		clear(l.corner)
	}
}

// add puts h at (i, j) of the band, either triangle.
func (l *linear) add(i, j int, h float64) {
	if i > j {
		i, j = j, i
	}
	l.band[i*l.ld+j-i] += h
}

// addCorner puts h at (a, b) and (b, a) of the border's own block.
func (l *linear) addCorner(a, b int, h float64) {
	l.corner[a*l.border+b] += h
	if a != b {
		l.corner[b*l.border+a] += h
	}
}

// hold takes the border's unknown a as prescribed: no step changes it. It gives
// the gradient that was there.
func (l *linear) hold(a int) float64 {
	g := l.grad[l.n+a]
	l.grad[l.n+a] = 0
	clear(l.cols[a*l.n : (a+1)*l.n])
	for b := 0; b < l.border; b++ {
		l.corner[a*l.border+b], l.corner[b*l.border+a] = 0, 0
	}
	l.corner[a*l.border+a] = 1
	return g
}

// factor replaces the band by its Cholesky factor U, the diagonal by 1/U_ii.
// Two rows are taken at once. False: not positive definite.
func (l *linear) factor() bool {
	for i := 0; i < l.n; i += 2 {
		a, ok := l.pivot(i)
		if !ok {
			return false
		}
		if i+1 == l.n {
			return true
		}
		if f := a[0]; f != 0 {
			subtract(l.band[(i+1)*l.ld:], a, f)
		}
		b, ok := l.pivot(i + 1)
		if !ok {
			return false
		}
		a = a[1:]
		for j, g := range b {
			to := l.band[(i+2+j)*l.ld:][:len(b)-j]
			if j >= len(a) {
				subtract(to, b[j:], g)
				continue
			}
			f, rowA, rowB := a[j], a[j:], b[j:]
			rowB = rowB[:len(to)]
			if len(rowA) < len(to) { // b reaches one further than a
				to[len(to)-1] -= g * rowB[len(to)-1]
				to = to[:len(rowA)]
			}
			rowA, rowB = rowA[:len(to)], rowB[:len(to)]
			for k := range to {
				to[k] -= f*rowA[k] + g*rowB[k]
			}
		}
	}
	return true
}

// pivot scales row i of the factor and gives what stands right of its diagonal.
func (l *linear) pivot(i int) ([]float64, bool) {
	row := l.band[i*l.ld : i*l.ld+min(l.ld, l.n-i)]
	if !(row[0] > 0) {
		return nil, false
	}
	inverse := 1 / math.Sqrt(row[0])
	row[0] = inverse
	row = row[1:]
	for j := range row {
		row[j] *= inverse
	}
	return row, true
}

// subtract takes f x from the beginning of to.
func subtract(to, x []float64, f float64) {
	to = to[:len(x)]
	for k, u := range x {
		to[k] -= f * u
	}
}

// solve puts K^-1 x and K^-1 y in the places of x and y.
func (l *linear) solve(x, y []float64) {
	for i := 0; i < l.n; i++ {
		row := l.band[i*l.ld : i*l.ld+min(l.ld, l.n-i)]
		v, w := x[i]*row[0], y[i]*row[0]
		x[i], y[i] = v, w
		row = row[1:]
		p, q := x[i+1:][:len(row)], y[i+1:][:len(row)]
		for k, u := range row {
			p[k] -= v * u
			q[k] -= w * u
		}
	}
	for i := l.n - 1; i >= 0; i-- {
		row := l.band[i*l.ld : i*l.ld+min(l.ld, l.n-i)]
		v, w, inverse := x[i], y[i], row[0]
		row = row[1:]
		p, q := x[i+1:][:len(row)], y[i+1:][:len(row)]
		for k, u := range row {
			v -= u * p[k]
			w -= u * q[k]
		}
		x[i], y[i] = v*inverse, w*inverse
	}
}

// step solves for the Newton step into d. False: the band was not positive
// definite.
func (l *linear) step(d []float64) bool {
	if !l.factor() {
		return false
	}
	copy(l.rhs, l.grad[:l.n])
	copy(l.rhs[l.n:], l.cols)
	clear(l.rhs[l.n*(l.border+1):])
	for c := 0; c <= l.border; c += 2 {
		l.solve(l.rhs[c*l.n:(c+1)*l.n], l.rhs[(c+1)*l.n:(c+2)*l.n])
	}
	for a := 0; a < l.border; a++ {
		col := l.cols[a*l.n : (a+1)*l.n]
		for b := 0; b < l.border; b++ {
			l.schur[a*l.border+b] = l.corner[a*l.border+b] - dot(col, l.rhs[(b+1)*l.n:(b+2)*l.n])
		}
		l.side[a] = dot(col, l.rhs[:l.n]) - l.grad[l.n+a]
	}
	if !solveSmall(l.schur, l.side) {
		return false
	}
	for i := 0; i < l.n; i++ {
		d[i] = -l.rhs[i]
	}
	for a := 0; a < l.border; a++ {
		x := l.rhs[(a+1)*l.n : (a+2)*l.n]
		for i := range x {
			d[i] -= l.side[a] * x[i]
		}
		d[l.n+a] = l.side[a]
	}
	return true
}

func dot(a, b []float64) float64 {
	t := 0.0
	for i, v := range a {
		t += v * b[i]
	}
	return t
}

// solveSmall solves a x = b in place by elimination with row exchange; a is
// square, by rows.
func solveSmall(a, b []float64) bool {
	n := len(b)
	for k := 0; k < n; k++ {
		p := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i*n+k]) > math.Abs(a[p*n+k]) {
				p = i
			}
		}
		if a[p*n+k] == 0 || math.IsNaN(a[p*n+k]) {
			return false
		}
		for j := 0; j < n; j++ {
			a[k*n+j], a[p*n+j] = a[p*n+j], a[k*n+j]
		}
		b[k], b[p] = b[p], b[k]
		for i := k + 1; i < n; i++ {
			f := a[i*n+k] / a[k*n+k]
			for j := k; j < n; j++ {
				a[i*n+j] -= f * a[k*n+j]
			}
			b[i] -= f * b[k]
		}
	}
	for k := n - 1; k >= 0; k-- {
		for j := k + 1; j < n; j++ {
			b[k] -= a[k*n+j] * b[j]
		}
		b[k] /= a[k*n+k]
	}
	return true
}

// decrementLimit stops Newton when the predicted gain falls under this share
// of the plastic power scale S R^(1+m) A.
const decrementLimit = 1e-9

// maxNewton bounds the Newton iterations of one solve; two to ten are usual.
const maxNewton = 80

// earlyGain is the share of the power scale under which a whole step's flow is
// near enough to ask which nodes still touch, earlyRevisions the last iteration
// at which that is asked: later the contacts stay until Newton has stopped.
const (
	earlyGain      = 0.1
	earlyRevisions = 20
)

// newton minimises the functional from the present u, revising contacts on the
// way while that is cheap. It allocates nothing.
func (s *section) newton() (iterations int, err error) {
	pi := s.assemble(s.u, true)
	for it := 1; it <= maxNewton; it++ {
		if !s.lin.step(s.trial) {
			return it, errSingular
		}
		gain := -dot(s.lin.grad, s.trial)
		if math.IsNaN(gain) {
			return it, errSingular
		}
		if gain < decrementLimit*s.law.scale {
			for i, d := range s.trial {
				s.u[i] += d
			}
			return it, nil
		}
		var share float64
		pi, share = s.search(pi, gain)
		near := share == 1 && gain < earlyGain*s.law.scale && it <= earlyRevisions
		if share < 1 || near && s.revise(false) {
			pi = s.assemble(s.u, true)
		}
	}
	return maxNewton, errStuck
}

// slopeLeft is the share of the slope at a step's start that may be left where
// the step ends. Metal that hardly flows makes Newton overshoot by 1/m - 1: the
// functional still falls, but by next to nothing, and only the slope tells.
const slopeLeft = 0.5

// maxTrials bounds the shares of one step tried.
const maxTrials = 30

// search finds a share of the step at which the functional has fallen by 1e-4
// of the prediction and its slope to slopeLeft (the whole step may leave a
// downward slope), by regula falsi on the slope, which grows along the step
// because the functional is convex. It leaves u there; after a whole step the
// system is assembled.
func (s *section) search(pi, gain float64) (now, share float64) {
	lo, atLo, hi, atHi := 0.0, -gain, math.Inf(1), 0.0
	share = 1.0
	for k := 0; ; k++ {
		for i, d := range s.trial {
			s.next[i] = s.u[i] + share*d
		}
		now = s.assemble(s.next, k == 0)
		slope := dot(s.lin.grad, s.trial)
		fell := fallen(now, pi, share*gain)
		level := slope < slopeLeft*gain && (share == 1 || slope > -slopeLeft*gain)
		if fell && level || k == maxTrials {
			copy(s.u, s.next)
			return now, share
		}
		if slope > 0 || !fell {
			hi, atHi = share, slope
		} else {
			lo, atLo = share, slope
		}
		at := 0.5
		if atHi > 0 {
			at = math.Max(0.1, math.Min(0.9, atLo/(atLo-atHi)))
		}
		share = lo + at*(hi-lo)
	}
}

// fallen tells whether the functional fell enough; the last term forgives the
// rounding of the sum.
func fallen(now, before, predicted float64) bool {
	return now <= before-1e-4*predicted+1e-13*math.Abs(before)
}

var (
	errSingular = fmt.Errorf("layers: squeeze: the flow equations became singular; try a smaller step or check the strength law")
	errStuck    = fmt.Errorf("layers: squeeze: no steady flow found in %d iterations; try a smaller step or a rate exponent above 0.02", maxNewton)
)
