package heat

import "math"

// spacing is the wanted distance between nodes: fine at top and bottom, where the
// skin is read and dies chill, less so at the sides, then even as far as the
// body's least half size reaches, then wider along the rest of a long body.
// Joints between layers that start at different temperatures are fine as well,
// and so is the way of a narrow transformation.
type spacing struct {
	face, side, growth float64 // m at top and bottom; at the sides; m per m of depth
	even               float64 // m
	reach              float64 // m
	jumps              []jump
	fronts             []front
}

// front is a transformation that goes through the body: between two nodes the
// temperature may fall by so much, K, and what drives the heat to it.
type front struct {
	fall, least float64 // K; m, spacing that is not gone below
	load
}

// jump is a joint whose two sides start at different temperatures.
type jump struct {
	at, fine float64 // m above the bottom; m, spacing there
}

// load is the hardest that a body is driven: a flux and the temperature
// difference behind it.
type load struct {
	flux, difference float64 // W/m2, K
}

// Steel as the spacing takes it to be, hot, and the load at which its constants
// were set: the forge of the cases in testdata/cases, a cold body in 1300 °C
// with an emissivity of 0.8 and a film of 25 W/m2K.
const (
	roughK     = 30.0    // W/mK
	roughAlpha = 6e-6    // m2/s
	standard   = 3.2e-3  // m, spacing for 1 K under the standard load
	faceCell   = 0.85e-3 // m, the same at top and bottom
	sideCells  = 1.6     // times that at the other faces
	spread     = 0.25    // m/m, how fast it may grow with depth
	leastCell  = 0.35e-3 // m, for 1 K, however narrow a transformation
	thin       = 14e-3   // m, reach of the standard body
)

var standardLoad = load{flux: 310e3, difference: 1280}

// after is the flux left when the steel behind the face has taken up heat for
// t seconds: there it stands against the rise 2q√(αt/π)/k of a half-space.
func (l load) after(t float64) float64 {
	return l.against(2 * math.Sqrt(roughAlpha*t/math.Pi) / roughK)
}

// against is the flux through a resistance in m2K/W besides the load's own.
func (l load) against(resistance float64) float64 {
	if l.flux == 0 {
		return 0
	}
	return l.flux / (1 + l.flux*resistance/l.difference)
}

// finer is by how much the spacing shrinks where the flux is above its
// standard. The error of the scheme goes with the cube of the spacing and with
// the bend of the temperature, which goes with the flux.
func finer(flux, standard float64) float64 {
	if flux <= standard {
		return 1
	}
	return math.Cbrt(standard / flux)
}

// spacingFor gives the spacing for an accuracy in K under a load. The bend of
// the temperature is smaller the thicker the body. The cells at top and bottom
// hold the skin to the accuracy from 0.05 s after a jump on. Those at the sides
// are wider: in an edge that is fine both ways the step's split into directions
// leaves more than the fine cells gain. The constants were set so that the spacing
// spends at most two thirds of the accuracy on the cases in testdata/cases; every
// run of a job is checked on a second grid.
func spacingFor(accuracyK, reach float64, l load) spacing {
	s := math.Cbrt(accuracyK)
	even := standard * s * math.Sqrt(math.Max(1, reach/thin)) * finer(l.against(reach/roughK), standardLoad.against(thin/roughK))
	face := faceCell * s * finer(l.after(0.1), standardLoad.after(0.1))
	return spacing{face: math.Min(face, even), side: math.Min(sideCells*face, even), growth: spread * math.Sqrt(s), even: even, reach: reach}
}

// frontsOf lists what transforms in a body on heating. An enthalpy scheme takes
// a front that is narrower than the fall from node to node forward cell by cell,
// which leaves an error that goes with the square of the fall; where the ramp is
// as wide as the fall or nearly, the error is that of smooth curves. The numbers
// are set on Neumann's problem with ramps of 1 to 40 K (in the validation table).
func frontsOf(packs []pack, dims int, all []Surroundings, accuracyK float64) (out []front) {
	seen := map[*table]bool{}
	for _, p := range packs {
		at, width := p.table.narrowest()
		if width == 0 || seen[p.table] {
			continue
		}
		seen[p.table] = true
		var drive load
		for _, s := range all {
			for i, f := range s {
				if i/2 < dims {
					_, hot := f.bounds()
					drive.flux = max(drive.flux, f.inward(at))
					drive.difference = max(drive.difference, hot-at)
				}
			}
		}
		if drive.flux > 0 {
			fall := math.Max(22*math.Sqrt(accuracyK), 1.2*width*math.Sqrt(math.Sqrt(accuracyK)))
			out = append(out, front{fall, leastCell * math.Cbrt(accuracyK), drive})
		}
	}
	return out
}

// jumpsOf lists the joints of a body whose sides start apart, with the spacing
// that they need for the accuracy to hold from 0.1 s on, as a squeeze between
// dies takes: half the accuracy goes into the error of a half-space under the
// flux q whose face is a plain half cell, q·h²/(8k√(παt)) (its transform expanded
// in the spacing h); the compact scheme leaves less.
func jumpsOf(b Body, startK, accuracyK float64) (out []jump) {
	const soon = 0.1 // s
	at := 0.0
	for i, l := range b.Layers {
		if i > 0 {
			below := b.Layers[i-1].startAt(startK)
			apart := math.Abs(l.startAt(startK) - below)
			h := math.Min(l.Joint.At(below, l.startAt(startK)), perfect(accuracyK))
			if apart > 0 && h > 0 {
				// Each side has half the difference to itself.
				q := load{flux: h * apart, difference: apart / 2}.after(soon)
				fine := math.Sqrt(0.5 * accuracyK * 8 * roughK * math.Sqrt(math.Pi*roughAlpha*soon) / q)
				out = append(out, jump{at, fine})
			}
		}
		at += l.Thickness
	}
	return out
}

// startAt is the temperature at which the layer starts in a body that starts at
// startK, K.
func (l Layer) startAt(startK float64) float64 {
	if l.Start > 0 {
		return l.Start
	}
	return startK
}

// loadOn is the hardest that any of the surroundings drives a body that starts
// at startK. Without surroundings it is the standard load.
func loadOn(b Body, startK float64, all []Surroundings) load {
	if len(all) == 0 {
		return standardLoad
	}
	lo, hi := startK, startK
	for _, l := range b.Layers {
		lo, hi = min(lo, l.startAt(startK)), max(hi, l.startAt(startK))
	}
	for _, s := range all {
		for i, f := range s {
			if i/2 < b.Dims {
				fLo, fHi := f.bounds()
				lo, hi = min(lo, fLo), max(hi, fHi)
			}
		}
	}
	worst := load{difference: hi - lo}
	for _, s := range all {
		for i, f := range s {
			if i/2 < b.Dims {
				worst.flux = max(worst.flux, f.hardest(lo, hi))
			}
		}
	}
	return worst
}

// at is the spacing at a distance from the nearest outer face, given the spacing
// at the face, m.
func (s spacing) at(depth, face float64) float64 {
	h := math.Min(face+s.growth*depth, s.even)
	for _, f := range s.fronts {
		h = math.Min(h, math.Max(f.least, f.fall*roughK/f.against(depth/roughK)))
	}
	if past := depth/s.reach - 1; past > 0 {
		h *= 1 + 0.5*past*past
	}
	return h
}

// across is the spacing along width or length.
func (s spacing) across(size float64) func(x float64) float64 {
	return func(x float64) float64 { return s.at(math.Min(x, size-x), s.side) }
}

// through is the spacing through the thickness.
func (s spacing) through(thick float64) func(z float64) float64 {
	return func(z float64) float64 {
		h := s.at(math.Min(z, thick-z), s.face)
		for _, j := range s.jumps {
			h = math.Min(h, j.fine+s.growth*math.Abs(z-j.at))
		}
		return h
	}
}

// reach is half the least size of the directions in which heat flows, m.
func (b Body) reach() float64 {
	r := b.Thickness() / 2
	if b.Dims >= 2 {
		r = math.Min(r, b.Width/2)
	}
	if b.Dims >= 3 {
		r = math.Min(r, b.Length/2)
	}
	return r
}

// cells is ∫dx/want from a to b, the number of cells the stretch wants, as it
// grows along it: total[i] up to at[i]. It is taken in quarters of the spacing
// from both ends to the middle, so that it is the same from either.
func cells(a, b float64, want func(float64) float64) (at, total []float64) {
	mid := (a + b) / 2
	march := func(from, sign float64) (x, n []float64) {
		x, n = []float64{from}, []float64{0}
		for sum, here := 0.0, from; here != mid; {
			next := here + sign*want(here)/4
			if sign*(mid-next) <= 0 {
				next = mid
			}
			sum += math.Abs(next-here) / want((here+next)/2)
			here = next
			x, n = append(x, here), append(n, sum)
		}
		return x, n
	}
	at, total = march(a, 1)
	x, n := march(b, -1)
	whole := total[len(total)-1] + n[len(n)-1]
	for i := len(x) - 2; i >= 0; i-- {
		at, total = append(at, x[i]), append(total, whole-n[i])
	}
	return at, total
}

// nodes places nodes on [a, b], at least one cell. They are offsets from a.
func nodes(a, b float64, want func(float64) float64) []float64 {
	at, total := cells(a, b, want)
	whole := total[len(total)-1]
	n := max(1, int(math.Ceil(whole-1e-9)))
	out := make([]float64, n+1)
	k := 0
	for i := 1; i < n; i++ {
		target := whole * float64(i) / float64(n)
		for total[k+1] < target {
			k++
		}
		f := (target - total[k]) / (total[k+1] - total[k])
		out[i] = at[k] + f*(at[k+1]-at[k]) - a
	}
	out[n] = b - a
	return out
}

// nodesWith is nodes on [a, b] with one at c if c lies inside.
func nodesWith(a, b, c float64, want func(float64) float64) []float64 {
	const tiny = 1e-6 // m: nearer than this to a face, the face's node serves
	if c < a+tiny || c > b-tiny {
		return nodes(a, b, want)
	}
	out := nodes(a, c, want)
	for _, x := range nodes(c, b, want)[1:] {
		out = append(out, c-a+x)
	}
	return out
}
