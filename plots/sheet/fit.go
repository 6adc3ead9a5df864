package sheet

import "strings"

// The printed page: what A4 (210 × 297 mm) and Letter (215.9 × 279.4 mm) both
// hold inside margins of 9 mm, less a reserve for printers and typefaces that
// are a little larger than reckoned here.
const (
	pageMargin = 9.0                         // mm
	pageWide   = 210 - 2*pageMargin          // mm, of A4, the narrower
	pageHigh   = 279.4 - 2*pageMargin - 10.0 // mm, of Letter, the shorter, less the reserve
	textSize   = 4.2                         // mm, 12 points: type at scale 1
)

// layout is how the sheet is set: type gets smaller, then the pictures and the
// warnings go, until it all fits one page.
type layout struct {
	scale    float64 // of the type
	pictures bool
	warnings bool
	over     bool // it does not fit and goes on overleaf
}

// layouts are the ways to set the sheet, the one liked best first.
func layouts() []layout {
	var all []layout
	for _, k := range []struct{ pictures, warnings bool }{{true, true}, {true, false}, {false, false}} {
		for _, scale := range []float64{1, 0.94, 0.88, 0.82, 0.76} {
			all = append(all, layout{scale: scale, pictures: k.pictures, warnings: k.warnings})
		}
	}
	return append(all, layout{scale: 0.7}, layout{scale: 0.64}, layout{scale: 0.76, pictures: true, warnings: true, over: true})
}

// size is a type size on paper, mm, of a share of the sheet's own.
func (l layout) size(share float64) float64 { return textSize * l.scale * share }

// lines is how many lines a text takes in a room of so many mm, set in type of
// so many mm, broken at spaces. It errs on the long side.
func lines(text string, room, size float64, bold bool) int {
	k := size
	if bold {
		k *= 1.08
	}
	n, at := 1, 0.0
	space := charWide(' ') * k
	for _, word := range strings.Fields(text) {
		long := 0.0
		for _, c := range word {
			long += charWide(c) * k
		}
		switch {
		case at == 0:
			at = long
		case at+space+long > room:
			n++
			at = long
		default:
			at += space + long
		}
		for at > room { // a word longer than the room is broken
			n++
			at -= room
		}
	}
	return n
}

// charWide is about how wide a character is in a sans typeface, as a share of
// its size: from the advance widths common to Helvetica, Arial and Liberation
// Sans (from memory), rounded up.
func charWide(c rune) float64 {
	switch {
	case strings.ContainsRune("ijl'|.,:;!()[]ft/- \u00b7", c):
		return 0.33
	case strings.ContainsRune("mwMW%@\u2014", c):
		return 0.9
	case c >= 'A' && c <= 'Z':
		return 0.72
	case c < 0x2000:
		return 0.57
	}
	return 1 // wide scripts and signs
}

// height is that of a text set solid, mm.
func (l layout) height(text string, room, share float64, bold bool) float64 {
	return float64(lines(text, room, l.size(share), bold)) * l.size(share) * lineGap
}

// lineGap is from base line to base line, as a share of the type.
const lineGap = 1.22
