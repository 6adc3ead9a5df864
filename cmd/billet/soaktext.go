package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"billet/sim"
	"billet/sim/steel"
	"billet/sim/unit"
)

// soakWords writes the answer of soak in shop words.
type soakWords struct {
	words
	r    *sim.Result
	into float64 // s, when the billet first goes into the forge
}

func soakWordsFor(r *sim.Result) soakWords {
	w := soakWords{words: wordsFor(r.Job), r: r}
	for _, e := range r.Soak.Stages {
		if e.In == sim.InForge {
			w.into = e.Start
			break
		}
	}
	return w
}

// soakText is the answer of soak for a person: the answer first, the signs to
// look for, the temperatures, then all that it rests on.
func soakText(r *sim.Result) []byte {
	w := soakWordsFor(r)
	b := &bytes.Buffer{}
	first := []string{w.answer(), w.burning()}
	if a := r.Soak.Answers.Window; a.OK && a.Value < 0 {
		first = []string{w.burning(), w.answer()}
	}
	for _, text := range append(first, w.tooEarly(), w.spread(), w.fire()) {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	if !r.Soak.Reaches {
		bullets(b, "What would help", r.Soak.Advice)
	}
	b.WriteString("\n")
	paragraph(b, "", "", w.signs())
	b.WriteString("\n")
	if r.Job.Title != "" {
		paragraph(b, "", "", r.Job.Title)
	}
	paragraph(b, "", "", sentence(w.stack()))
	note := "Times count from when it first goes into the forge, time out of it included."
	if len(r.Job.Stack.Layers) > 1 {
		note += " Joint: the coldest spot of any joint."
	}
	paragraph(b, "", "", note)
	b.WriteString("\n")
	w.table(b)
	bullets(b, "Assumed", r.Assumed)
	bullets(b, "Warnings", r.Warnings)
	bullets(b, "Take care", r.Cautions)
	return b.Bytes()
}

// inner is what has to reach welding heat.
func (w soakWords) inner() string {
	if len(w.job.Stack.Layers) == 1 {
		return "core"
	}
	return "joints"
}

func (w soakWords) innerAt() sim.Maybe {
	if len(w.job.Stack.Layers) == 1 {
		return w.r.Soak.Answers.CoreAtWeld
	}
	return w.r.Soak.Answers.JointsAtWeld
}

// answer is the soak in a sentence or two, or why there is none.
func (w soakWords) answer() string {
	a, at := w.r.Soak.Answers, w.innerAt()
	if !at.OK || !a.Soak.OK {
		return w.never()
	}
	text := ""
	if a.PullForFlux.OK && a.PullForFlux.Value < at.Value && (len(w.job.Stack.Layers) > 1 || w.airs()) {
		text = fmt.Sprintf("Pull for flux after %s. ", unit.Duration(a.PullForFlux.Value))
	}
	text += fmt.Sprintf("%s at welding heat after %s", sentenceCase(w.inner()), unit.Duration(at.Value))
	if a.SkinAtWeld.OK {
		lag := at.Value - a.SkinAtWeld.Value
		if lag >= 1 {
			text += fmt.Sprintf(", %s after the skin looks ready", unit.Duration(lag))
		} else {
			text += ", no later than the skin"
		}
	}
	if hold := w.job.Weld.Hold; hold > 0 {
		return fmt.Sprintf("%s; hold %s: soak %s in all.", text, unit.Duration(hold), unit.Duration(a.Soak.Value))
	}
	return text + ": soaked."
}

// airs says that the job takes the billet out of the forge on the way.
func (w soakWords) airs() bool {
	for _, st := range w.job.Heats {
		if st.In == sim.InAir {
			return true
		}
	}
	return false
}

// never says that welding heat is out of reach, and how far.
func (w soakWords) never() string {
	s := w.r.Soak
	forge := false
	for _, e := range s.Stages {
		forge = forge || e.In == sim.InForge
	}
	if !forge {
		return "No: this job never puts the billet into the forge."
	}
	verb, coldest := "reach", "the coldest of them gets to"
	if w.inner() == "core" {
		verb, coldest = "reaches", "it gets to"
	}
	text := fmt.Sprintf("No: the %s never %s welding heat.", w.inner(), verb)
	gap := w.job.Weld.Heat - s.CeilingJoints
	if gap > 0 {
		text += fmt.Sprintf(" Left in for good, %s %s: %s short of %s.", coldest, w.near(s.CeilingJoints, gap),
			w.TemperatureDifference(gap), w.ExactTemperature(w.job.Weld.Heat))
	}
	return text
}

// near writes a temperature as finely as its distance from another is written
// beside it.
func (w soakWords) near(tK, gapK float64) string {
	const fine = 20 // K, below which unit writes differences to the degree
	if math.Abs(gapK) < fine {
		return w.ExactTemperature(tK)
	}
	return w.Temperature(tK)
}

// burning says when something burns and how that compares with the soak.
func (w soakWords) burning() string {
	a := w.r.Soak.Answers
	if !a.Overheats.OK {
		if g := w.r.Soak.Ranges; g != nil && g.Overheats.OK {
			return fmt.Sprintf("Nothing burns if left in; but should the fire be as hot as it may, something does, from %s at the earliest.", unit.Duration(g.Overheats.Low))
		}
		return "Nothing burns if left in."
	}
	what := fmt.Sprintf("%s starts to burn (%s)", w.layer(a.OverheatsLayer), w.Temperature(w.r.Soak.Limits[a.OverheatsLayer].Limit))
	when := unit.Duration(a.Overheats.Value)
	switch {
	case a.Window.OK && a.Window.Value >= 0:
		return fmt.Sprintf("After %s %s: %s to spare.", when, what, unit.Duration(a.Window.Value))
	case a.Window.OK:
		return fmt.Sprintf("No: after %s %s, %s before the soak is done. This forge is too hot for it.", when, what, unit.Duration(-a.Window.Value))
	}
	return fmt.Sprintf("After %s %s.", when, what)
}

// tooEarly says that the job as written ends before the inside is hot.
func (w soakWords) tooEarly() string {
	at, last := w.innerAt(), w.r.Soak.Stages[len(w.r.Soak.Stages)-1]
	const soon = 1.0 // s, not worth a word
	if !at.OK || last.End-w.into > at.Value-soon || last.In != sim.InForge {
		return ""
	}
	what, t := "the coldest joint is", last.ColdestJoint
	if w.inner() == "core" {
		what, t = "the core is", last.Core
	}
	gap := w.job.Weld.Heat - t
	if gap <= 0 {
		return ""
	}
	return fmt.Sprintf("As the job is written it comes out after %s, when %s at %s (%s): %s short. Leave it in.",
		unit.Duration(last.End-w.into), what, w.near(t, gap), steel.ColourAt(t), w.TemperatureDifference(gap))
}

// spread says how far the soak may be out and what makes it so.
func (w soakWords) spread() string {
	g := w.r.Soak.Ranges
	if g == nil || !g.Soak.OK {
		return ""
	}
	took := unit.DurationRange(g.Soak.Low, g.Soak.High)
	if !w.r.Soak.Answers.Soak.OK {
		return fmt.Sprintf("Should all that is not known of the fire and the joints be in its favour, it soaks after all: after %s at the earliest.", unit.Duration(g.Soak.Low))
	}
	text := fmt.Sprintf("With what is not known the soak may take %s", took)
	if g.Widest != "" {
		part := "the largest part of that is "
		if g.Share > 0.5 {
			part = "most of that is "
		}
		text += "; " + part + g.Widest
	}
	if w.r.Soak.Bar == nil {
		return text + ". Time a plain bar in this forge ([shop] in the job) to know it better."
	}
	return text + "."
}

// fire says what was found of the forge: by a timed bar, and how its wall went.
func (w soakWords) fire() string {
	var text []string
	if bar := w.r.Soak.Bar; bar != nil {
		text = append(text, fmt.Sprintf("By your timed bar this fire gives %.0f %% of the heat usual at its reading, give or take %.0f %%.", 100*bar.Exchange, 100*bar.Plus))
	}
	if c := w.r.Soak.Forge; c != nil {
		text = append(text, fmt.Sprintf("The wall is at %s when the billet goes in and %s at its coldest, after %s.",
			w.Temperature(c.Start), w.Temperature(c.Lowest), clock(c.LowestAt-w.into)))
	}
	return strings.Join(text, " ")
}

// signs is what to look for, as no clock sees into a forge. Common practice,
// no source.
func (w soakWords) signs() string {
	fades := "the billet fades into the lining behind it; shift it, and no dark patch is left on the floor;"
	switch w.job.Forge.Kind {
	case sim.Coal:
		fades = "the billet fades into the coals round it;"
	case sim.Induction:
		fades = "one colour from edge to edge, with no dark line at the joints;"
	}
	return "Trust your eyes before the clock: " + fades + " pull it, and the colour holds. A quick drop to red means the inside is still cold: back in."
}

// row is one moment of the table.
type row struct {
	at                float64 // s from first entering the forge
	what              []string
	skin, core, joint float64 // K
}

// table writes the moments worth marking in order of time.
func (w soakWords) table(b *bytes.Buffer) {
	layered := len(w.job.Stack.Layers) > 1
	head, marks := []string{"after", "", "skin", "looks", "core"}, "rlrlr"
	if layered {
		head, marks = append(head, "joint"), marks+"r"
	}
	rows := [][]string{head}
	for _, m := range w.moments() {
		cells := []string{clock(m.at), m.what[0], w.Temperature(m.skin), steel.ColourAt(m.skin), w.Temperature(m.core)}
		if layered {
			cells = append(cells, w.Temperature(m.joint))
		}
		rows = append(rows, cells)
		for _, more := range m.what[1:] {
			rows = append(rows, []string{"", more})
		}
	}
	columns(b, "  ", marks, rows)
}

// clock is a time in the table; the start is no duration.
func clock(s float64) string {
	if math.Abs(s) < 0.05 {
		return "0"
	}
	return unit.Duration(s)
}

// moments are the milestones and the ends of stages in order of time, those
// within a second of each other in one row.
func (w soakWords) moments() []row {
	s := w.r.Soak
	var rows []row
	for _, m := range s.Milestones {
		rows = append(rows, row{m.Time - w.into, []string{milestone(m.Name)}, m.Skin, m.Core, m.ColdestJoint})
	}
	for k, e := range s.Stages {
		next := "the job's heats end"
		if k+1 < len(s.Stages) {
			next = [...]string{sim.InForge: "into the forge", sim.InAir: "out into the air"}[s.Stages[k+1].In]
		}
		rows = insert(rows, row{e.End - w.into, []string{next}, e.Skin, e.Core, e.ColdestJoint})
	}
	if a := s.Answers.Soak; a.OK {
		if m, ok := w.during(a.Value); ok {
			m.what = []string{"soak done"}
			rows = insert(rows, m)
		}
	}
	return rows
}

// milestone is a milestone's name in the table.
func milestone(name string) string {
	if name == "overheats" {
		return "something starts to burn"
	}
	return name
}

// insert puts m in its place by time, or into the row of the same moment.
func insert(rows []row, m row) []row {
	const same = 1.0 // s
	for i, r := range rows {
		if math.Abs(r.at-m.at) < same {
			rows[i].what = append(rows[i].what, m.what...)
			return rows
		}
		if r.at > m.at {
			return append(rows[:i], append([]row{m}, rows[i:]...)...)
		}
	}
	return append(rows, m)
}

// during reads the temperatures at a time (s from first entering the forge)
// from the history; ok is false where it does not reach so far.
func (w soakWords) during(at float64) (m row, ok bool) {
	for _, h := range []sim.History{w.r.Soak.History, w.r.Soak.RunOn} {
		t := at + w.into
		n := len(h.Time)
		if n < 2 || t < h.Time[0] || t > h.Time[n-1] {
			continue
		}
		i := 1
		for h.Time[i] < t {
			i++
		}
		share := 0.0
		if d := h.Time[i] - h.Time[i-1]; d > 0 {
			share = (t - h.Time[i-1]) / d
		}
		read := func(v []float64) float64 {
			if len(v) == 0 {
				return 0
			}
			return v[i-1] + share*(v[i]-v[i-1])
		}
		return row{at: at, skin: read(h.Skin), core: read(h.Core), joint: read(h.ColdestJoint)}, true
	}
	return row{}, false
}

// sentenceCase writes the first letter large.
func sentenceCase(s string) string { return strings.TrimSuffix(sentence(s), ".") }
