package fd

// The cell at the end of a piece is half a cell: what it holds is its value at a
// quarter of the spacing's depth, not that at the node. Taken by the straight
// line to the next node that is 3/4 of the end's value and 1/4 of the next
// one's. For a half-space that takes in a steady flow the value at the face is
// then right to fourth order in the spacing h: a cell that holds its node's
// value makes the face's transform (1 + σ/8) times too small, σ = s·h²/D, and
// the quarter cancels that. With M this matrix, W the widths and F the flows, M
// u' = F/W, so that Σ W·M·u is what is conserved.
const quarter = 0.25

// end is a node at the end of a piece and the one beside it.
type end struct{ node, next int }

// FineEnds makes the cells at the ends of pieces hold what they do by a straight
// line. It is for smooth potentials: behind a jump a node can dip by a few
// hundredths of the jump at first. mirrored says that the axis ends in a plane
// of symmetry: there the last cell is half of a whole one, and stays as it is.
func (a *Axis) FineEnds(mirrored bool) {
	a.ends = a.ends[:0]
	first := 0
	for i := range a.X {
		last := i == len(a.X)-1
		if !last && a.D[i] > 0 {
			continue
		}
		if i-first >= 2 { // both ends of a single cell would lean on each other
			a.ends = append(a.ends, end{first, first + 1})
			if !last || !mirrored {
				a.ends = append(a.ends, end{i, i - 1})
			}
		}
		first = i + 1
	}
	a.weigh()
}

// weigh sets the widths of the cells and what each node stands for, and the
// coefficients that follow from them.
func (a *Axis) weigh() {
	n := len(a.X)
	if len(a.D) > 0 {
		a.W = make([]float64, n)
		for i, d := range a.D {
			a.W[i] += d / 2
			a.W[i+1] += d / 2
		}
	}
	a.V = append([]float64(nil), a.W...)
	a.self, a.down, a.up = make([]float64, n), make([]float64, n), make([]float64, n)
	a.gainLo, a.gainHi = make([]float64, n), make([]float64, n)
	a.pastLo, a.pastHi = make([]float64, n), make([]float64, n)
	for i := range n {
		a.self[i] = 1
		a.gainLo[i], a.gainHi[i] = 1/a.W[i], 0
		if i+1 < n {
			a.gainHi[i] = 1 / a.W[i+1]
		}
	}
	const third = quarter / (1 - quarter)
	for _, e := range a.ends {
		a.V[e.node] -= quarter * a.W[e.node]
		a.V[e.next] += quarter * a.W[e.node]
		a.self[e.node] = 1 - quarter
		own, other := third/a.W[e.node], third/a.W[e.next]
		if e.next > e.node {
			a.up[e.node] = quarter
			a.gainLo[e.node] += own + other
			a.pastLo[e.next] = other
		} else {
			a.down[e.node] = quarter
			a.gainHi[e.next] += own + other
			a.pastHi[e.next-1] = other
		}
	}
	a.in = [2]float64{1 / (a.W[0] * a.self[0]), 1 / (a.W[n-1] * a.self[n-1])}
}
