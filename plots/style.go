package plots

import (
	"image/color"
	"strings"
	"sync"

	"billet/sim"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// The look, in one place: everything a picture is made of takes its sizes,
// colours and type from here. A picture is drawn 8½ inches wide and stays
// legible at 4.
const (
	pageWidth  = vg.Length(612) // pt
	pageMargin = vg.Length(14)  // pt, kept free on every side
	pngDPI     = 200            // 1700 pixels wide; at half size a line of text is 14 pixels

	plotHeight = vg.Length(250) // pt, the frame of a chart
	leftRoom   = vg.Length(34)  // pt, for the numbers of the upright axis
	labelGap   = vg.Length(14)  // pt, from the end of a line to its label
	rowGap     = vg.Length(2.5) // pt, between two labels one over the other
	tickLength = vg.Length(4)   // pt
)

// Inks. The five hues are from the palette of Okabe and Ito as printed in
// B. Wong, "Points of view: Color blindness", Nature Methods 8 (2011) 441,
// values from memory; lines differ in dash as well, for print in grey.
var (
	inkText  = color.NRGBA{0x22, 0x22, 0x22, 0xff}
	inkSoft  = color.NRGBA{0x66, 0x66, 0x66, 0xff}
	inkAxis  = color.NRGBA{0x55, 0x55, 0x55, 0xff}
	inkGrid  = color.NRGBA{0xe2, 0xe2, 0xe2, 0xff}
	inkShade = color.NRGBA{0xee, 0xf2, 0xf5, 0xff} // out of the fire
	inkAir   = color.NRGBA{0xc6, 0xd3, 0xdc, 0xff}
	inkForge = color.NRGBA{0x5a, 0x3a, 0x32, 0xff}
	inkLeft  = color.NRGBA{0xd9, 0xc3, 0xb8, 0xff}
	inkCore  = color.NRGBA{0xf4, 0xf1, 0xec, 0xff} // core layer behind a profile
	inkPaper = color.NRGBA{0xff, 0xff, 0xff, 0xff}

	inkHeat  = color.NRGBA{0xfb, 0xf3, 0xea, 0xff} // every other heat
	inkEdge  = color.NRGBA{0xe3, 0xcf, 0x9a, 0xff} // on edge
	inkSteel = color.NRGBA{0x8f, 0xa9, 0xbf, 0xff} // the core in an end view

	hueSkin  = color.NRGBA{0xd5, 0x5e, 0x00, 0xff} // vermillion
	hueJoint = color.NRGBA{0x00, 0x72, 0xb2, 0xff} // blue
	hueMid   = color.NRGBA{0x00, 0x00, 0x00, 0xff} // black: the core
	hueWeld  = color.NRGBA{0x00, 0x9e, 0x73, 0xff} // bluish green
	hueBurn  = color.NRGBA{0xcc, 0x79, 0xa7, 0xff} // reddish purple
	hueNear  = color.NRGBA{0xe6, 0x9f, 0x00, 0xff} // orange: past the red stop
	hueFine  = color.NRGBA{0x86, 0xb4, 0xd6, 0xff} // pale blue: within limits
)

// inkJackets are the tints of the materials of an end view that are not the
// core, in the order they come.
var inkJackets = [...]color.Color{
	color.NRGBA{0xef, 0xe7, 0xdb, 0xff},
	color.NRGBA{0xd5, 0xdc, 0xc6, 0xff},
	color.NRGBA{0xe3, 0xd6, 0xe2, 0xff},
	color.NRGBA{0xf6, 0xe3, 0xb4, 0xff},
}

// Dashes, in points on and off.
var (
	dashLong  = []vg.Length{7, 3}
	dashShort = []vg.Length{2, 2}
	dashMixed = []vg.Length{8, 2.5, 1.5, 2.5}
)

// hand is a way of writing: a size, a weight and an ink.
type hand struct {
	size   vg.Length // pt
	weight xfont.Weight
	style  xfont.Style
	ink    color.Color
}

// The hands.
var (
	handTitle = hand{size: 14, weight: xfont.WeightBold, ink: inkText}
	handSub   = hand{size: 10, ink: inkSoft}
	handTick  = hand{size: 10, ink: inkAxis}
	handAxis  = hand{size: 10, ink: inkAxis}
	handLabel = hand{size: 10, ink: inkText}
	handHead  = hand{size: 10, weight: xfont.WeightBold, ink: inkText}
	handNote  = hand{size: 9, style: xfont.StyleItalic, ink: inkSoft}
)

// The kinds of time in the strip of stages.
const (
	stageForge = iota
	stageAir
	stageLeft // after the stages as given, if left in the forge
)

// stageLooks is how each kind shows.
var stageLooks = [...]bandLook{
	stageForge: {"forge", inkForge, hand{size: 10, ink: inkPaper}},
	stageAir:   {"air", inkAir, hand{size: 10, ink: inkText}},
	stageLeft:  {"if left in", inkLeft, hand{size: 10, ink: inkText}},
}

// toolLooks is how the kinds of pass show in the strip of tools: sim.PassTool,
// and after those a pass on edge.
var toolLooks = [...]bandLook{
	sim.ByPress:   {"press", inkForge, hand{size: 10, ink: inkPaper}},
	sim.ByRolls:   {"rolls", inkAxis, hand{size: 10, ink: inkPaper}},
	sim.ByHammer:  {"hammer", inkLeft, hand{size: 10, ink: inkText}},
	sim.ByGrind:   {"grind", inkGrid, hand{size: 10, ink: inkText}},
	sim.ByRestack: {"pile", inkAir, hand{size: 10, ink: inkText}},
	passOnEdge:    {"edge", inkEdge, hand{size: 10, ink: inkText}},
}

// passOnEdge is the kind of pass after the tools.
const passOnEdge = int(sim.ByRestack) + 1

// fonts holds the three faces, from the copies built into the program.
var fonts = sync.OnceValue(func() *font.Cache {
	var faces font.Collection
	add := func(ttf []byte, w xfont.Weight, s xfont.Style) {
		f, err := opentype.Parse(ttf)
		if err != nil {
			panic("plots: built-in font: " + err.Error())
		}
		faces = append(faces, font.Face{
			Font: font.Font{Typeface: "Liberation", Variant: "Sans", Weight: w, Style: s},
			Face: f,
		})
	}
	add(liberationsansregular.TTF, xfont.WeightNormal, xfont.StyleNormal)
	add(liberationsansbold.TTF, xfont.WeightBold, xfont.StyleNormal)
	add(liberationsansitalic.TTF, xfont.WeightNormal, xfont.StyleItalic)
	return font.NewCache(faces)
})

// face is the font face of a hand.
func (h hand) face() font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Weight: h.weight, Style: h.style}
	return fonts().Lookup(f, h.size)
}

// width is the length of s when written.
func (h hand) width(s string) vg.Length {
	f := h.face()
	return f.Width(s)
}

// Heights over and under the base line as a share of the size: figures and
// capitals of Liberation Sans reach 0.73 (the degree sign 0.74), tails 0.21.
const (
	riseShare = 0.75
	tailShare = 0.22
)

func (h hand) rise() vg.Length   { return riseShare * h.size }
func (h hand) tail() vg.Length   { return tailShare * h.size }
func (h hand) height() vg.Length { return h.rise() + h.tail() }

// fit shortens s with an ellipsis until it is no longer than room.
func (h hand) fit(s string, room vg.Length) string {
	if h.width(s) <= room {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 && h.width(string(runes)+"…") > room {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// hold is a space at which no line is broken; it is written as a space.
const hold = "\u00a0"

// whole keeps a quantity and its units on one line.
func whole(s string) string { return strings.ReplaceAll(s, " ", hold) }

// plain turns the spaces held together back into spaces.
func plain(s string) string { return strings.ReplaceAll(s, hold, " ") }

// wrap breaks s at spaces into lines no longer than room; a single word that
// is longer is shortened. At most most lines are kept, the last with an
// ellipsis if more is left.
func (h hand) wrap(s string, room vg.Length, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(s, " ") {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line != "" && h.width(next) > room {
			if len(lines) == most-1 {
				line = next // over-long; shortened below
				continue
			}
			lines = append(lines, line)
			next = word
		}
		line = next
	}
	lines = append(lines, line)
	for i := range lines {
		lines[i] = h.fit(plain(lines[i]), room)
	}
	return lines
}
