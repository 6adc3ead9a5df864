package sim

import "math"

// A bar longer than the forge's chamber is heated and worked in parts: each goes
// into the fire, out and under the tool while the rest hangs out in the air, and
// where two parts overlap the metal is heated twice.

// partOverlap is how much of the chamber's length neighbouring parts share at
// least. Common practice, no source.
const partOverlap = 0.1

// zone is the stretch of the bar that is in the fire at once, m from the front.
type zone struct{ from, to float64 }

// zones divides a bar of a length for a chamber, m, evenly.
func zones(length, chamber float64) []zone {
	if chamber <= 0 || length <= chamber {
		return []zone{{0, length}}
	}
	lap := partOverlap * chamber
	n := int(math.Ceil((length-lap)/(chamber-lap) - 1e-9))
	out := make([]zone, n)
	for k := range out {
		from := float64(k) / float64(n-1) * (length - chamber)
		out[k] = zone{from, from + chamber}
	}
	return out
}

// parting says with which part of the bar each station is worked, and whether it
// is heated twice.
type parting struct {
	count int
	of    []int
	twice []bool
}

// divide parts the bar as it is now.
func (w *worker) divide() parting {
	length := w.sizes().Length
	zs := zones(length, w.job.Forge.Chamber)
	p := parting{count: len(zs), of: make([]int, len(w.st)), twice: make([]bool, len(w.st))}
	for i, s := range w.st {
		x, best, inside := s.at*length, math.Inf(1), 0
		for k, z := range zs {
			if off := math.Abs(x - (z.from+z.to)/2); off < best-1e-9 {
				best, p.of[i] = off, k
			}
			if x >= z.from && x <= z.to {
				inside++
			}
		}
		p.twice[i] = inside > 1
	}
	return p
}

// first says that a station is the first of its part to be worked.
func (p parting) first(i int) bool { return i == 0 || p.of[i] != p.of[i-1] }

// before is how many stations of its part are worked before this one.
func (p parting) before(i int) int {
	n := 0
	for k := range i {
		if p.of[k] == p.of[i] {
			n++
		}
	}
	return n
}

// coldest is the station that waits longest for its squeeze, the last of equals.
func (p parting) coldest() int {
	at, most := 0, -1
	for i := range p.of {
		if n := p.before(i); n >= most {
			at, most = i, n
		}
	}
	return at
}
