package plots

import (
	"fmt"
	"image/color"
	"math"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// What the charts against the number of the pass have in common.
const (
	passRight = vg.Length(168) // pt, beside the frame for labels
	heatRow   = vg.Length(13)  // pt, over the frame for the numbers of heats
	panelGap  = vg.Length(14)  // pt, between two panels
)

// passAxis numbers the passes from first to n, each with half a slot on both
// sides; 0 is the start.
func passAxis(first, n int) axis {
	const most = 16
	step := max(1, int(math.Ceil(roundStep(float64(n), most))))
	a := axis{min: float64(first) - 0.5, max: float64(n) + 0.5, nought: "start"}
	for v := first; v <= n; v++ {
		if v%step == 0 {
			a.ticks = append(a.ticks, float64(v))
		}
	}
	return a
}

// heatBand is the passes of one heat.
type heatBand struct {
	from, to float64 // on the axis of passes
	number   int
}

// heatBands are the heats of the passes; none where the passes prescribe
// their temperatures.
func heatBands(passes []sim.PassDone) []heatBand {
	var out []heatBand
	for i, p := range passes {
		if p.Heat == 0 || p.Temperature == 0 {
			continue
		}
		at := float64(i) + 1
		if k := len(out) - 1; k >= 0 && out[k].number == p.Heat && out[k].to == at-0.5 {
			out[k].to = at + 0.5
			continue
		}
		out = append(out, heatBand{at - 0.5, at + 0.5, p.Heat})
	}
	return out
}

// shadeHeats tints every other heat, and names them over the frame if named.
func (c *chart) shadeHeats(s *sheet, heats []heatBand, named bool) {
	f := c.frame
	for i, h := range heats {
		x0, x1 := c.x.at(h.from), c.x.at(h.to)
		if h.number%2 == 1 {
			s.block(x0, f.Min.Y, x1, f.Max.Y, inkHeat)
		}
		if i > 0 {
			s.line(x0, f.Min.Y, x0, f.Max.Y, 0.5, inkAir, nil)
		}
		if !named {
			continue
		}
		for _, name := range []string{fmt.Sprintf("heat %d", h.number), fmt.Sprint(h.number)} {
			if handTick.width(name)+4 <= x1-x0 {
				s.text(handTick, (x0+x1)/2, f.Max.Y+heatRow/2, 0.5, name)
				break
			}
		}
	}
}

// toolBands are the tools of the passes for the strip.
func toolBands(passes []sim.PassDone) []band {
	var out []band
	for i, p := range passes {
		kind := int(p.Tool)
		if p.Edge {
			kind = passOnEdge
		}
		at := float64(i) + 1
		if k := len(out) - 1; k >= 0 && out[k].kind == kind {
			out[k].to = at + 0.5
			continue
		}
		out = append(out, band{at - 0.5, at + 0.5, kind})
	}
	return out
}

// upTo is 0, 1, … n.
func upTo(n int) []float64 {
	out := make([]float64, n+1)
	for i := range out {
		out[i] = float64(i)
	}
	return out
}

// whisker draws a range with short ends at x.
func (s *sheet) whisker(x, y0, y1, wide vg.Length, ink color.Color) {
	s.line(x, y0, x, y1, 1, ink, nil)
	s.line(x-wide/2, y0, x+wide/2, y0, 1, ink, nil)
	s.line(x-wide/2, y1, x+wide/2, y1, 1, ink, nil)
}
