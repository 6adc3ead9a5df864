package sheet

import "strings"

// The printed page: what A4 (210 × 297 mm) and Letter (215.9 × 279.4 mm) both
// hold inside margins of 9 mm, less a reserve for printers and typefaces that
// are a little larger than reckoned here.
const (
	pageMargin = 9.0                        // mm
	pageWide   = 210 - 2*pageMargin         // mm, of A4, the narrower
	pageHigh   = 279.4 - 2*pageMargin - 6.0 // mm, of Letter, the shorter, less the reserve
	textSize   = 4.2                        // mm, 12 points: type at scale 1
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
	sizes := []float64{1, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64}
	var all []layout
	for _, k := range sizes[:3] {
		all = append(all, layout{scale: k, pictures: true, warnings: true})
	}
	for _, k := range sizes[:5] {
		all = append(all, layout{scale: k, pictures: true})
	}
	for _, k := range sizes {
		all = append(all, layout{scale: k})
	}
	return append(all, layout{scale: 0.82, pictures: true, warnings: true, over: true})
}

// size is a type size on paper, mm, of a share of the sheet's own.
func (l layout) size(share float64) float64 { return textSize * l.scale * share }

// lines is how many lines a text takes in a room of so many mm, set in type of
// so many mm, broken at spaces. It errs on the long side.
func lines(text string, room, size float64, bold bool) int {
	k := size * spare
	if bold {
		k *= boldWider
	}
	n, at := 1, 0.0
	for _, word := range strings.Split(text, " ") {
		long := 0.0
		for _, c := range word {
			long += charWide(c) * k
		}
		switch space := charWide(' ') * k; {
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

// How much wider type is reckoned than it is, and how much wider bold is.
const (
	spare     = 1.03
	boldWider = 1.09
)

// asciiWide are the widths of the characters from space to tilde in thousandths
// of the type's size: the advance widths common to Helvetica, Arial and
// Liberation Sans (from memory; a test holds them to Liberation Sans).
var asciiWide = [95]int{
	278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, // space to /
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, // 0 to ?
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, // @ to O
	667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, // P to _
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, // ` to o
	556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, // p to ~
}

// charWide is how wide a character is, as a share of the type's size.
func charWide(c rune) float64 {
	switch {
	case c == '\u00a0':
		return charWide(' ')
	case c >= ' ' && c <= '~':
		return float64(asciiWide[c-' ']) / 1000
	case c < 0x2000:
		return 0.8 // letters of Europe
	}
	return 1 // wide scripts and signs
}

// height is that of a text set solid, mm.
func (l layout) height(text string, room, share float64, bold bool) float64 {
	return float64(lines(text, room, l.size(share), bold)) * l.size(share) * lineGap
}

// lineGap is from base line to base line, as a share of the type.
const lineGap = 1.22

// twoColumns is how many lines items of these many take in two columns, none
// of them broken.
func twoColumns(items []int) int {
	all := 0
	for _, n := range items {
		all += n
	}
	best, left := all, 0
	for _, n := range items {
		left += n
		best = min(best, max(left, all-left))
	}
	return best
}
