package blade

import (
	"errors"
	"fmt"
	"math"
)

// Wanted is what a bar must allow for.
type Wanted struct {
	CoreLine float64 // m above the edge, half way along the blade
	Clean    float64 // m off each face to clear scale pits
	Off      float64 // m, how far from the bar's middle the grind may have to be laid, either way
	Wave     float64 // m, how far off the edge the core may still wander, either way
}

// Need is the bar just before grinding that gives the blade wanted, its core
// straight.
type Need struct {
	Core      float64 // m, thickness
	JacketA   float64 // m, of all layers outside the core; 0: the core goes to the face
	JacketB   float64 // m
	Thickness float64 // m, the bar's
	Offset    float64 // m, where to lay the blade's centre plane, from the bar's middle toward A
	Margin    float64 // m, least margin of the edge in the core, with the wave; in the core above 0
	MoreCore  float64 // m to add to the core for a margin above 0; 0: none
}

// NeedFor works back from the blade to the bar before grinding: the inverse
// of the core lines' closed forms. The core reaches as far from the edge's
// own mid-plane as the bevelled face stands at the height wanted, on both
// sides, or to the bar's face if that comes first (a chisel's flat side); the
// jackets fill up to the blade's thickest place, what clears the pits, and
// what the grind may have to be moved.
func NeedFor(b Blade, w Wanted) (Need, error) {
	if err := errors.Join(b.Check(), w.check()); err != nil {
		return Need{}, err
	}
	mid := b.ProfileAt(b.Length / 2)
	if !(w.CoreLine > 0 && w.CoreLine < mid.Bevel) {
		return Need{}, fmt.Errorf("blade: core line %s above the edge; accepted: more than 0, below the bevel's height of %s half way along",
			mm(w.CoreLine), mm(mid.Bevel))
	}
	reach := mid.Reach(w.CoreLine)
	faceA, faceB := b.faces(mid.EdgeMid())
	allow := w.Clean + w.Off
	coreA, coreB := math.Min(reach, faceA+allow), math.Min(reach, faceB+allow)
	n := Need{
		Core: coreA + coreB, JacketA: faceA + allow - coreA, JacketB: faceB + allow - coreB,
		Thickness: faceA + faceB + 2*allow,
		Offset:    (faceB-faceA)/2 - mid.EdgeMid(),
		Margin:    math.Min(coreA, coreB) - b.Edge/2 - w.Wave,
	}
	if n.Margin <= 0 {
		n.MoreCore = -2 * n.Margin
	}
	return n, nil
}

func (w Wanted) check() error {
	var errs []error
	for _, v := range []struct {
		name string
		m    float64
	}{{"to clear pits", w.Clean}, {"to move the grind", w.Off}, {"of wave", w.Wave}} {
		if !(v.m >= 0 && v.m <= largest) {
			errs = append(errs, fmt.Errorf("blade: %g m %s; accepted: 0 to 10 m", v.m, v.name))
		}
	}
	return errors.Join(errs...)
}

// faces are how far the blade's faces stand from the edge's own mid-plane at
// the most, anywhere along it.
func (b Blade) faces(edgeMid float64) (a, c float64) {
	for _, s := range []float64{0, b.Length} {
		p := b.ProfileAt(s)
		for _, u := range []float64{0, p.widest()} {
			a, c = math.Max(a, p.A(u)-edgeMid), math.Max(c, edgeMid-p.B(u))
		}
	}
	return a, c
}
