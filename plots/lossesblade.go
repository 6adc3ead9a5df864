package plots

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"sync"

	"billet/sim"

	"gonum.org/v1/plot/vg"
)

// carbonBlade is the carbon in the ground blade's section half way along.
type carbonBlade struct {
	name, title, subtitle string
	view                  *groundView
	carbon                axis // shown %
	layers                []carbonLayer
	units                 shown
}

// carbonLayer is the carbon (%) through a layer by the share of its thickness.
type carbonLayer struct{ share, carbon []float64 }

// lossesBlade collects what the picture shows.
func lossesBlade(r *sim.Result) *carbonBlade {
	s, heats := shownIn(r.Job), r.Losses.Heats
	last := heats[len(heats)-1]
	k := &carbonBlade{name: "losses-blade", units: s, view: viewGround(r),
		subtitle: billet(r.Job, s, "section half way along the blade")}
	k.layers = carbonLayers(last, len(k.view.within))
	_, high := span(last.Carbon)
	k.carbon = roundAxis(0, math.Max(high, leastCarbon), 6)
	a, b := k.onFace(0, 0), k.onFace(1, 0)
	low := math.Min(a, b)
	k.title = fmt.Sprintf("At the edge the blade’s faces hold %s carbon on side A and %s on side B",
		whole(s.system.Share(b/100)), whole(s.system.Share(a/100)))
	if s.system.Share(a/100) == s.system.Share(b/100) {
		k.title = fmt.Sprintf("At the edge the blade holds %s carbon", whole(s.system.Share(low/100)))
	}
	return k
}

// carbonLayers splits a profile at its joints. Where these are not the n
// layers of the bar, the whole is one layer, mapped over all of the bar.
func carbonLayers(h sim.HeatLoss, n int) []carbonLayer {
	var out []carbonLayer
	from := 0
	for i := 1; i <= len(h.Z); i++ {
		if i < len(h.Z) && h.Z[i] != h.Z[i-1] {
			continue
		}
		out = append(out, shareOf(h.Z[from:i], h.Carbon[from:i]))
		from = i
	}
	if len(out) != n {
		return []carbonLayer{shareOf(h.Z, h.Carbon)}
	}
	return out
}

// shareOf is a piece of a profile by the share of its thickness.
func shareOf(z, carbon []float64) carbonLayer {
	low, high := z[0], z[len(z)-1]
	l := carbonLayer{carbon: carbon}
	for _, v := range z {
		share := 0.0
		if high > low {
			share = (v - low) / (high - low)
		}
		l.share = append(l.share, share)
	}
	return l
}

// onFace is the carbon at step k of the blade's height on face B (0) or A (1).
func (k *carbonBlade) onFace(face, step int) float64 {
	p := k.view.faces[face][step]
	return k.at(p, k.stackAt(p.y))
}

// stackAt is the heights of the bar's lines at y.
func (k *carbonBlade) stackAt(y float64) []float64 {
	out := make([]float64, len(k.view.lines))
	for i := range out {
		out[i] = k.view.line(i, y)
	}
	return out
}

// at is the carbon at a place whose stack has its lines at z.
func (k *carbonBlade) at(p groundPoint, z []float64) float64 {
	n := len(z) - 1
	if len(k.layers) != n {
		if z[n] <= z[0] {
			return k.layers[0].at(0.5)
		}
		return k.layers[0].at((p.z - z[0]) / (z[n] - z[0]))
	}
	i := 0
	for i < n-1 && p.z > z[i+1] {
		i++
	}
	if z[i+1] <= z[i] {
		return k.layers[i].at(0.5)
	}
	return k.layers[i].at((p.z - z[i]) / (z[i+1] - z[i]))
}

// at is the carbon at a share of the layer's thickness.
func (l carbonLayer) at(share float64) float64 {
	i, t := between(l.share, share)
	return mix(l.carbon, i, t)
}

// bladePixels is the width of the picture of the blade; more are printed.
const bladePixels = 1400

// picture is a pane's share of the blade as an image: clear where it is not
// blade.
func (k *carbonBlade) picture(p pane) image.Image {
	w := bladePixels
	h := max(2, int(float64(w)*float64(p.high()/p.wide())+0.5))
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	low, high := k.view.within[0][0], k.view.within[len(k.view.within)-1][1]
	if len(low) < 2 {
		return img
	}
	for i := range w {
		y := p.lo.y + (p.hi.y-p.lo.y)*(float64(i)+0.5)/float64(w)
		if a, b := low[0].y, low[len(low)-1].y; y < math.Min(a, b) || y > math.Max(a, b) {
			continue
		}
		foot, top := faceAt(low, y), faceAt(high, y)
		z := k.stackAt(y)
		for j := range h {
			q := groundPoint{y, p.hi.z - (p.hi.z-p.lo.z)*(float64(j)+0.5)/float64(h)}
			if q.z >= foot && q.z <= top {
				img.Set(i, j, k.ink(k.at(q, z)))
			}
		}
	}
	return img
}

// faceAt is the height of a run sampled evenly from edge to spine, at y.
func faceAt(face []groundPoint, y float64) float64 {
	n := len(face) - 1
	t := math.Max(0, math.Min(1, (y-face[0].y)/(face[n].y-face[0].y))) * float64(n)
	i := min(int(t), n-1)
	return face[i].z + (t-float64(i))*(face[i+1].z-face[i].z)
}

// ink is the colour of a carbon content.
func (k *carbonBlade) ink(percent float64) color.Color {
	share := math.Max(0, math.Min(1, (percent-k.carbon.min)/(k.carbon.max-k.carbon.min)))
	return carbonScale()[int(math.Round(share*(scaleSteps-1)))]
}

// carbonPath is the path of the colours for carbon, in CIELAB: from pale to
// dark blue, lightness falling evenly. Our own choice, inside sRGB.
var carbonPath = [2][3]float64{{95, -2, 4}, {22, 6, -30}}

// carbonScale is the colours for carbon, least first.
var carbonScale = sync.OnceValue(func() color.Palette {
	out := make(color.Palette, scaleSteps)
	for i := range out {
		t := float64(i) / (scaleSteps - 1)
		var c [3]float64
		for j := range c {
			c[j] = carbonPath[0][j] + t*(carbonPath[1][j]-carbonPath[0][j])
		}
		out[i] = labColor(c)
	}
	return out
})

// carbonBar is the room for the colour bar right of the panes, pt.
const carbonBar = vg.Length(64)

// sheet draws the picture.
func (k *carbonBlade) sheet() *sheet {
	lo, hi := k.view.bounds()
	room := pageWidth - 2*pageMargin - sideRoom - carbonBar
	scale := min(room/vg.Length(hi.y-lo.y), barTall/vg.Length(hi.z-lo.z))
	bar := pane{lo: lo, hi: hi, scale: scale, x: pageMargin + sideRoom}
	edge, larger := k.view.enlarged(scale, room)
	foot := pageMargin + axisRow + 6
	below := foot
	if larger {
		below += edge.high() + axisRow + panelGap
	}
	tall := max(below+bar.high()-foot, 90)
	s := head(k.name, k.title, k.subtitle, unitRow+6+tall+foot)
	bar.y = foot + tall - bar.high()
	k.pane(s, bar)
	s.sides(bar.x, bar.y, bar.high())
	if larger {
		edge.y = foot
		k.pane(s, edge)
		s.box(edge.x, edge.y, edge.x+edge.wide(), edge.y+edge.high())
		s.text(handHead, edge.x, edge.y+edge.high()+axisRow/2+2, 0, timesLarger(edge, bar))
	}
	k.carbon.lo, k.carbon.hi = foot, foot+tall
	k.colours(s, pageWidth-pageMargin-barWide)
	s.ruler(pageMargin+sideRoom, pageMargin+axisRow/2, scale, k.units)
	s.text(handNote, pageWidth-pageMargin, pageMargin+axisRow/2, 1, "true scale; carbon by the last heat, laid over each layer by its thickness")
	return s
}

// pane draws the blade's carbon and the outlines of bar and layers.
func (k *carbonBlade) pane(s *sheet, p pane) {
	s.add(raster{over: vg.Rectangle{Min: vg.Point{X: p.x, Y: p.y}, Max: vg.Point{X: p.x + p.wide(), Y: p.y + p.high()}}, img: k.picture(p)})
	p.outlines(s, k.view)
}

// colours draws the colour bar at x.
func (k *carbonBlade) colours(s *sheet, x vg.Length) {
	a := k.carbon
	strip := image.NewPaletted(image.Rect(0, 0, 1, scaleSteps), carbonScale())
	for i := range scaleSteps {
		strip.SetColorIndex(0, i, uint8(scaleSteps-1-i))
	}
	s.add(raster{over: vg.Rectangle{Min: vg.Point{X: x, Y: a.lo}, Max: vg.Point{X: x + barWide, Y: a.hi}}, img: strip})
	s.box(x, a.lo, x+barWide, a.hi)
	for _, v := range a.ticks {
		y := a.at(v)
		s.line(x, y, x-tickLength, y, 0.8, inkAxis, nil)
		s.text(handTick, x-6, y, 1, a.label(v))
	}
	s.text(handAxis, x+barWide, a.hi+unitRow-3, 1, "% carbon")
}
