package sheet

import (
	"fmt"

	"billet/sim"
	"billet/sim/unit"
)

// inner is what has to reach welding heat, and when it does.
func (w words) inner() (what string, at sim.Maybe) {
	if len(w.r.Job.Stack.Layers) == 1 {
		return "core", w.r.Soak.Answers.CoreAtWeld
	}
	return "joints", w.r.Soak.Answers.JointsAtWeld
}

// into is when the billet first goes into the forge, s from the first stage.
func (w words) into() float64 {
	for _, e := range w.r.Soak.Stages {
		if e.In == sim.InForge {
			return e.Start
		}
	}
	return 0
}

// soakFails is why the soak as it is gives no weld, "" where it does.
func (w words) soakFails() string {
	s := w.r.Soak
	what, at := w.inner()
	if !at.OK || !s.Answers.Soak.OK {
		text := fmt.Sprintf("the %s never get to welding heat", what)
		if what == "core" {
			text = "the core never gets to welding heat"
		}
		if gap := w.r.Job.Weld.Heat - s.CeilingJoints; gap > 0 {
			text += fmt.Sprintf(": left in for good %s at the coldest, %s short of %s",
				w.near(s.CeilingJoints, gap), w.TemperatureDifference(gap), w.ExactTemperature(w.r.Job.Weld.Heat))
		}
		return text
	}
	if a := s.Answers; a.Window.OK && a.Window.Value < 0 {
		return fmt.Sprintf("%s starts to burn after %s, %s before the soak is done", w.burns(), unit.Duration(a.Overheats.Value), unit.Duration(-a.Window.Value))
	}
	return ""
}

// burns names the layer that burns first.
func (w words) burns() string {
	if n := w.r.Soak.Answers.OverheatsLayer; n >= 0 && n < len(w.r.Soak.Limits) {
		return fmt.Sprintf("layer %d, %s,", n+1, w.r.Soak.Limits[n].Material)
	}
	return "the billet"
}

// soakSpread is how far the soak may be out and what makes it so, "" where that
// was not asked.
func (w words) soakSpread() string {
	g := w.r.Soak.Ranges
	if g == nil || !g.Soak.OK {
		return ""
	}
	text := unit.DurationRange(g.Soak.Low, g.Soak.High)
	if g.Widest != "" {
		part := "the largest part of that is "
		if g.Share > 0.5 {
			part = "most of that is "
		}
		text += "; " + part + g.Widest
	}
	return text
}

// afterSkin is how much longer the inside takes than the skin, "" where not
// known.
func (w words) afterSkin() string {
	_, at := w.inner()
	skin := w.r.Soak.Answers.SkinAtWeld
	if !at.OK || !skin.OK {
		return ""
	}
	if lag := at.Value - skin.Value; lag >= 1 {
		return unit.Duration(lag) + " after the skin looks ready"
	}
	return "no later than the skin"
}

// signs is what to look for, since no clock sees into a forge. Common practice,
// no source.
func (w words) signs() []string {
	colour := "Pull it: the colour holds. A quick drop to red means a cold core: back in."
	switch w.r.Job.Forge.Kind {
	case sim.Coal:
		return []string{"The billet vanishes against the coals round it.", "One colour from edge to edge, no dark line at the joints.", colour}
	case sim.Induction, sim.Electric:
		return []string{"One colour from edge to edge.", "No dark line at the joints.", colour}
	}
	return []string{"The billet vanishes against the lining.", "Shift it: no shadow, no dark patch on the floor.", colour}
}

// soakMoment is one row of the soak's table.
type soakMoment struct {
	at                float64 // s from first going into the forge
	what              string
	skin, core, joint float64 // K
}

// soakMoments are the moments worth marking and the ends of stages, by time.
func (w words) soakMoments() []soakMoment {
	s, into := w.r.Soak, w.into()
	var rows []soakMoment
	for _, m := range s.Milestones {
		what := m.Name
		if what == "overheats" {
			what = "something starts to burn"
		}
		rows = append(rows, soakMoment{m.Time - into, what, m.Skin, m.Core, m.ColdestJoint})
	}
	for k, e := range s.Stages {
		next := "the job's heats end"
		if k+1 < len(s.Stages) {
			next = name([]string{sim.InForge: "into the forge", sim.InAir: "out into the air"}, int(s.Stages[k+1].In))
		}
		rows = placed(rows, soakMoment{e.End - into, next, e.Skin, e.Core, e.ColdestJoint})
	}
	return rows
}

// placed puts m in its place by time, in the row of the same moment if there is
// one.
func placed(rows []soakMoment, m soakMoment) []soakMoment {
	const same = 1.0 // s
	for i, r := range rows {
		if d := r.at - m.at; d < same && d > -same {
			rows[i].what += "; " + m.what
			return rows
		}
		if r.at > m.at {
			rows = append(rows, soakMoment{})
			copy(rows[i+1:], rows[i:])
			rows[i] = m
			return rows
		}
	}
	return append(rows, m)
}

// clock is a time in a table; the start is no duration.
func clock(s float64) string {
	if s < 0.05 && s > -0.05 {
		return "0"
	}
	return unit.Duration(s)
}

// tooEarly says that the job as written ends before the inside is hot.
func (w words) tooEarly() string {
	s := w.r.Soak
	_, at := w.inner()
	if len(s.Stages) == 0 || !at.OK {
		return ""
	}
	last := s.Stages[len(s.Stages)-1]
	const soon = 1.0 // s, not worth a word
	if last.End-w.into() > at.Value-soon || last.In != sim.InForge {
		return ""
	}
	what, t := "the core", last.Core
	if last.HasJoints {
		what, t = "the coldest joint", last.ColdestJoint
	}
	gap := w.r.Job.Weld.Heat - t
	if gap <= 0 {
		return ""
	}
	return fmt.Sprintf("As the job is written it comes out after %s, with %s %s short of welding heat: leave it in.",
		unit.Duration(last.End-w.into()), what, w.TemperatureDifference(gap))
}
