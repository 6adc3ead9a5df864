package plots

import (
	"fmt"
	"image/color"
	"math"
	"sort"

	"billet/sim"
	"billet/sim/unit"

	"gonum.org/v1/plot/vg"
)

// profile is temperature through the thickness, from side B to side A.
type profile struct {
	throughStack
	left int // stage ends left out because there are too many
}

// throughStack is lines against the way through the stack, from side B to side
// A, over the layers.
type throughStack struct {
	chart
	layers []layerBand
}

// layerBand is a layer as it lies on the level axis.
type layerBand struct {
	from, to float64 // shown length from side B
	name     string
	core     bool
}

const (
	profileRight = vg.Length(162) // pt, for labels
	profileMost  = 8              // lines that can be told apart
)

// soakProfile collects what the picture shows.
func soakProfile(r *sim.Result) *profile {
	s := shownIn(r.Job)
	p := &profile{throughStack: throughStack{chart: chart{
		name:   "soak-profile",
		title:  profileTitle(r, s),
		xTitle: s.sizeWord() + " through the thickness",
		yTitle: s.degreeUnit(),
	}, layers: layerBands(r.Job, s)}}
	p.addLines(r, s)
	note := ""
	if p.left > 0 {
		note = fmt.Sprintf("%d stages in the middle left out", p.left)
	}
	p.subtitle = billet(r.Job, s, note)
	low, high := p.lines[0].y[0], p.lines[0].y[0]
	thick := p.layers[len(p.layers)-1].to
	for _, l := range p.lines {
		a, b := span(l.y)
		low, high = math.Min(low, a), math.Max(high, b)
		thick = math.Max(thick, l.x[len(l.x)-1])
	}
	if weld := s.degrees(r.Job.Weld.Heat); weld > low {
		high = math.Max(high, weld)
		p.rules = append(p.rules, rule{value: weld, ink: hueWeld,
			label: "welding heat " + s.system.ExactTemperature(r.Job.Weld.Heat)})
	}
	p.x = newAxis(0, thick, 8)
	p.y = roundAxis(low, high, 8)
	return p
}

// layerBands places the layers, from side B.
func layerBands(j *sim.Job, s shown) []layerBand {
	var bands []layerBand
	at := 0.0
	for _, l := range j.Stack.Layers {
		b := layerBand{from: s.size(at), name: l.Material.Name, core: l.Core}
		at += l.Thickness
		b.to = s.size(at)
		bands = append(bands, b)
	}
	return bands
}

// taken is a profile and the moment it was taken at.
type taken struct {
	sim.Profile
	time  float64 // s from the first stage
	where string
	dash  []vg.Length
}

// addLines adds the profile at the end of each stage that took any time, and
// when the skin looks ready, from the dark end of the heat scale up in order
// of time. Of too many the first and the last ones stay.
func (p *profile) addLines(r *sim.Result, s shown) {
	var all []taken
	for _, st := range r.Soak.Stages {
		if st.End <= st.Start {
			continue
		}
		k := taken{st.Profile, st.End, "in the forge", nil}
		if st.In == sim.InAir {
			k.where, k.dash = "in air", dashLong
		}
		all = append(all, k)
	}
	if len(all) == 0 {
		st := r.Soak.Stages[len(r.Soak.Stages)-1]
		all = []taken{{st.Profile, st.End, "at the end", nil}}
	}
	if n := len(all); n > profileMost {
		p.left = n - profileMost
		all = append(all[:profileMost/2:profileMost/2], all[n-profileMost/2:]...)
	}
	all = withReady(all, skinReady(r))
	sort.SliceStable(all, func(a, b int) bool { return all[a].time < all[b].time })
	start := enters(r.Soak)
	for i, k := range all {
		p.lines = append(p.lines, line{
			name:  k.where,
			x:     each(k.Z, s.size),
			y:     each(k.Temperature, s.degrees),
			label: k.where + ", at " + unit.Duration(k.time-start),
			ink:   timeInk(i, len(all)),
			width: 1.8,
			dash:  k.dash,
		})
	}
}

// withReady adds the profile when the skin looks ready, or names the one that
// was taken at the same time.
func withReady(all []taken, ready *taken) []taken {
	if ready == nil {
		return all
	}
	for i := range all {
		if math.Abs(all[i].time-ready.time) < 1 {
			all[i].where = ready.where
			return all
		}
	}
	return append(all, *ready)
}

// skinReady is the profile up the middle of the section when the skin looks
// ready; nil where it never does.
func skinReady(r *sim.Result) *taken {
	sec := r.Soak.Section
	if len(sec.Temperature) == 0 || !r.Soak.Answers.SkinAtWeld.OK {
		return nil
	}
	k, t := between(sec.Y, (sec.Y[0]+sec.Y[len(sec.Y)-1])/2)
	column := make([]float64, len(sec.Z))
	for i, row := range sec.Temperature {
		column[i] = mix(row, k, t)
	}
	return &taken{sim.Profile{Z: sec.Z, Temperature: column}, sec.Time, "skin looks ready", dashShort}
}

// timeInk is the ink of line i of n in order of time: steps of the heat scale
// dark enough to show on paper.
func timeInk(i, n int) color.Color {
	share := 0.62
	if n > 1 {
		share *= float64(i) / float64(n-1)
	}
	return heatScale()[scaleIndex(share)]
}

// sheet draws the picture.
func (t *throughStack) sheet() *sheet {
	s := t.begin(unitRow+axisRow, 0, profileRight)
	f := t.frame
	for i, b := range t.layers {
		x0, x1 := t.x.at(b.from), t.x.at(b.to)
		if b.core {
			s.block(x0, f.Min.Y, x1, f.Max.Y, inkCore)
		}
		if i > 0 {
			s.line(x0, f.Min.Y, x0, f.Max.Y, 0.5, inkAir, nil)
		}
	}
	t.grid(s)
	t.nameLayers(s)
	t.plot(s, profileRight)
	t.base(s, 0)
	y := f.Min.Y - tickRow - axisRow/2 - 1
	s.text(handHead, f.Min.X, y, 0, "side B")
	s.text(handHead, f.Max.X, y, 1, "side A")
	return s
}

// nameLayers writes the materials over their layers; if one does not fit, what
// the stack is made of over the whole.
func (t *throughStack) nameLayers(s *sheet) {
	f := t.frame
	y := f.Max.Y + unitRow/2
	for _, b := range t.layers {
		if handLabel.width(b.name)+6 > t.x.at(b.to)-t.x.at(b.from) {
			s.text(handLabel, (f.Min.X+f.Max.X)/2, y, 0.5,
				handLabel.fit(madeOf(t.layers), f.Max.X-f.Min.X-20))
			return
		}
	}
	for _, b := range t.layers {
		s.text(handLabel, (t.x.at(b.from)+t.x.at(b.to))/2, y, 0.5, b.name)
	}
}

// madeOf counts the layers and names their materials, each once.
func madeOf(layers []layerBand) string {
	text := fmt.Sprintf("%d layers: ", len(layers))
	if len(layers) == 1 {
		text = ""
	}
	seen := map[string]bool{}
	for i, b := range layers {
		if seen[b.name] {
			continue
		}
		seen[b.name] = true
		if i > 0 {
			text += ", "
		}
		text += b.name
	}
	return text
}
