package blade

import (
	"errors"
	"fmt"
	"math"
)

// Kind is the shape of the bevels.
type Kind int

// The grinds.
const (
	Flat Kind = iota
	Hollow
	Convex
	Chisel
)

// String is the kind's name.
func (k Kind) String() string {
	if k < Flat || k > Chisel {
		return fmt.Sprintf("kind %d", int(k))
	}
	return [...]string{"flat", "hollow", "convex", "chisel"}[k]
}

// Grind is how the bevels are ground.
type Grind struct {
	Kind   Kind
	Height float64 // m, from the edge to the shoulder; the blade's height: full
	Wheel  float64 // m, diameter, hollow only
	Bulge  float64 // m, each face, at the heel, convex only
	SideA  bool    // chisel only: A is the bevelled side
}

// Blade is a finished blade before its edge is sharpened.
type Blade struct {
	Spine    float64 // m, thickness at the heel
	TipSpine float64 // m, thickness at the tip
	Height   float64 // m, edge to spine
	Length   float64 // m, heel to tip
	Edge     float64 // m, thickness at the edge; 0: ground to zero
	Grind    Grind
}

const largest = 10.0 // m; no size of a blade or bar is beyond it

// Check reports everything wrong with the blade, or nil.
func (b Blade) Check() error {
	var errs []error
	wrong := func(name string, v float64, accepted string) {
		errs = append(errs, fmt.Errorf("blade: %s is %s; accepted: %s", name, mm(v), accepted))
	}
	size := func(name string, v float64) bool {
		ok := v > 0 && v <= largest
		if !ok {
			wrong(name, v, "more than 0, up to 10 m")
		}
		return ok
	}
	spine := size("spine", b.Spine)
	tip := size("tip spine", b.TipSpine)
	height := size("height", b.Height)
	size("length", b.Length)
	if !(b.Edge >= 0) {
		wrong("edge", b.Edge, "0 or more")
	}
	if spine && tip && !(b.Edge < math.Min(b.Spine, b.TipSpine)) {
		wrong("edge", b.Edge, "less than the spine, at heel and tip")
	}
	if size("bevel height", b.Grind.Height) && height && b.Grind.Height > b.Height {
		wrong("bevel height", b.Grind.Height, "no more than the blade's height of "+mm(b.Height))
	}
	errs = append(errs, b.checkKind()...)
	return errors.Join(errs...)
}

func (b Blade) checkKind() (errs []error) {
	switch g := b.Grind; g.Kind {
	case Flat, Chisel:
	case Hollow:
		if thick := math.Max(b.Spine, b.TipSpine); !(g.Wheel > thick && g.Wheel <= largest) {
			errs = append(errs, fmt.Errorf("blade: wheel is %s; accepted: a diameter more than the spine, up to 10 m", mm(g.Wheel)))
		}
	case Convex:
		if !(g.Bulge >= 0 && g.Bulge <= largest) {
			errs = append(errs, fmt.Errorf("blade: bulge is %s; accepted: 0 or more, up to 10 m", mm(g.Bulge)))
		}
	default:
		errs = append(errs, fmt.Errorf("blade: %v; accepted: flat, hollow, convex, chisel", g.Kind))
	}
	return errs
}

// SpineAt is the spine's thickness s from the heel, m; even taper, held
// beyond heel and tip.
func (b Blade) SpineAt(s float64) float64 {
	f := math.Max(0, math.Min(1, s/b.Length))
	return b.Spine + f*(b.TipSpine-b.Spine)
}

// MaxThickness is the blade's greatest thickness anywhere, m.
func (b Blade) MaxThickness() float64 {
	return math.Max(b.ProfileAt(0).MaxThickness(), b.ProfileAt(b.Length).MaxThickness())
}

// Notes are sentences about what a bevel asked for cannot be, empty if none.
func (b Blade) Notes() []string {
	var notes []string
	heel, tip := b.ProfileAt(0), b.ProfileAt(b.Length)
	if low := math.Min(heel.Bevel, tip.Bevel); low < b.Grind.Height {
		notes = append(notes, fmt.Sprintf("a wheel of %s cannot grind a hollow %s high here without thinning the blade above its edge: "+
			"the bevel is taken %s high at the heel and %s at the tip; a larger wheel, a lower bevel or a thicker spine would reach",
			mm(b.Grind.Wheel), mm(b.Grind.Height), mm(heel.Bevel), mm(tip.Bevel)))
	}
	if thick := b.MaxThickness(); thick > math.Max(b.Spine, b.TipSpine)*(1+1e-12) {
		notes = append(notes, fmt.Sprintf("with a bulge of %s the blade is %s thick below its spine, more than the spine's %s; "+
			"a bulge up to an eighth of spine less edge stays within it", mm(b.Grind.Bulge), mm(thick), mm(math.Max(b.Spine, b.TipSpine))))
	}
	return notes
}

// mm writes a length in sentences, to a hundredth.
func mm(v float64) string {
	v *= 1000
	if math.Abs(v) >= 10 {
		return fmt.Sprintf("%.1f mm", v)
	}
	return fmt.Sprintf("%.2f mm", v)
}
