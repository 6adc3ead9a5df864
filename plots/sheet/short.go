package sheet

import (
	"fmt"
	"math"
	"strings"

	"billet/sim/unit"
)

// answer is the short answer of one part.
type answer struct {
	what, text string
	no         bool
}

// shortAnswers are the answers in the order in which things are done; what is
// not there has none.
func (w words) shortAnswers() []answer {
	var out []answer
	add := func(there bool, what string, say func() (string, bool)) {
		if !there {
			return
		}
		text, no := say()
		if no {
			text = "No: " + text
		}
		out = append(out, answer{what, text, no})
	}
	r := w.r
	add(r.Stock != nil, "Cut", w.stockAnswer)
	add(r.Soak != nil, "Soak", w.soakAnswer)
	add(r.Work != nil, "Work", w.workAnswer)
	add(r.Work != nil, "Core", w.driftAnswer)
	add(r.Work != nil && r.Work.Odds != nil, "Odds", w.oddsAnswer)
	add(r.Ground != nil && r.Ground.Answer != nil, "Grind", w.grindAnswer)
	add(r.Losses != nil, "Fire", w.lossesAnswer)
	if r.Hardened != nil {
		text, no := w.hardenAnswer(r.Hardened)
		add(text != "", "Harden", func() (string, bool) { return text, no })
	}
	add(r.Lesson != nil, "Lesson", func() (string, bool) {
		return count(len(r.Lesson.Scenes), "cause", "causes") + " of drift, one at a time.", false
	})
	add(r.Day != nil, "The day", w.dayAnswer)
	return out
}

func (w words) stockAnswer() (string, bool) {
	s := w.r.Stock
	var cut []string
	for _, p := range s.Pieces {
		cut = append(cut, fmt.Sprintf("%d of %s %s × %s × %s", p.Count, p.Material, w.Length(p.Thickness), w.Length(p.Width), w.LongLength(p.Length)))
	}
	text := fmt.Sprintf("%s. The bar before grinding: %s, enough for %s.", strings.Join(cut, ", "), w.bar(s.Bar), count(s.Blades, "blade", "blades"))
	if !s.Within {
		return "worked forward again, these pieces do not quite give the blade wanted. Nearest: " + text, true
	}
	return text, false
}

func (w words) soakAnswer() (string, bool) {
	s := w.r.Soak
	if why := w.soakFails(); why != "" {
		if !s.Reaches && len(s.Advice) > 0 {
			why += ". " + strings.TrimSuffix(s.Advice[0], ".")
		}
		return why + ".", true
	}
	a := s.Answers
	text := ""
	if a.PullForFlux.OK {
		text = "Pull for flux after " + unit.Duration(a.PullForFlux.Value) + ". "
	}
	what, at := w.inner()
	text += fmt.Sprintf("%s at welding heat after %s, %s; soak %s in all.", capital(what), unit.Duration(at.Value), w.skinWords(), unit.Duration(a.Soak.Value))
	if spread := w.soakSpread(); spread != "" {
		text += " It may take " + spread + "."
	}
	if a.Overheats.OK {
		text += fmt.Sprintf(" After %s %s starts to burn.", unit.Duration(a.Overheats.Value), w.burns())
	}
	if early := w.tooEarly(); early != "" {
		text += " " + early
	}
	return text, false
}

// skinWords is afterSkin, or that the skin's own time is not known.
func (w words) skinWords() string {
	if s := w.afterSkin(); s != "" {
		return s
	}
	return "the skin not watched"
}

func (w words) workAnswer() (string, bool) {
	k := w.r.Work
	text := fmt.Sprintf("%s in %s bring %s to %s, cold.", count(len(k.Passes), "pass", "passes"), count(max(1, k.Heats), "heat", "heats"), w.bar(k.Start), w.bar(k.Final.Sizes))
	if !k.Can {
		return w.cannot() + ". " + text, true
	}
	return text, false
}

func (w words) driftAnswer() (string, bool) {
	k := w.r.Work
	f := k.Final
	if w.fine(f.Offset) == w.fine(0) {
		return "In the middle at the end.", false
	}
	text := fmt.Sprintf("In the end %s, %s of the thickness", w.off(f.Offset), percent(f.Offset/math.Max(f.Thickness, 1e-9)))
	if lo, hi := f.OffsetRange[0], f.OffsetRange[1]; hi > lo && w.off(lo) != w.off(hi) {
		text += fmt.Sprintf(" (may be %s to %s)", w.off(lo), w.off(hi))
	}
	most := -1
	for i, c := range k.Causes {
		if most < 0 || math.Abs(c.Offset) > math.Abs(k.Causes[most].Offset) {
			most = i
		}
	}
	if most >= 0 && k.Causes[most].Offset != 0 {
		text += "; most by: " + causeName(k.Causes[most].Name)
	}
	text += "."
	if k.EdgeOffset.OK {
		text += " Where the blade's edge will lie it is " + w.off(k.EdgeOffset.Value) + "."
	}
	if len(k.Remedies) > 0 {
		text += fmt.Sprintf(" To make it smaller: %s (then %s).", k.Remedies[0].What, w.off(k.Remedies[0].Offset))
	}
	return text, false
}

func (w words) oddsAnswer() (string, bool) {
	o := w.r.Work.Odds
	text := fmt.Sprintf("On 9 days of 10 the core ends between %s and %s", w.off(o.Offset[0]), w.off(o.Offset[2]))
	if o.HasEdge {
		text += fmt.Sprintf("; the edge leaves the core on %s of days", percent(o.Outside))
	}
	most := -1
	for i, s := range o.Shares {
		if most < 0 || s > o.Shares[most] {
			most = i
		}
	}
	if most >= 0 {
		text += "; what matters most: " + inputName(most)
	}
	return text + ".", false
}

func (w words) grindAnswer() (string, bool) {
	g := w.r.Ground
	a := g.Answer
	var lines string
	switch la, lb := a.Mid.A.CoreLine, a.Mid.B.CoreLine; {
	case la != nil && lb != nil:
		lines = fmt.Sprintf("Core line %s above the edge on A, %s on B: %s apart.", w.Length(*la), w.Length(*lb), w.fine(*la-*lb))
	case la != nil:
		lines = fmt.Sprintf("Core line %s above the edge on A, none on B.", w.Length(*la))
	case lb != nil:
		lines = fmt.Sprintf("Core line %s above the edge on B, none on A.", w.Length(*lb))
	default:
		lines = "No core line on either side."
	}
	if asked := g.Ask.CoreLine; asked > 0 {
		lines += " Asked: " + w.Length(asked) + "."
	}
	lines += fmt.Sprintf(" The bar is %s; stop no thinner than %s.", w.Length(a.Thickness), w.Length(a.Least.Thickness))
	if g.FromStack {
		lines += " Cut from the stack as laid up."
	}
	if !g.OK() {
		text := strings.Join(w.bladeFaults(), "; ") + ". " + lines
		for _, r := range a.Rescue {
			if r.InCore && r.Fits {
				return text + " With the grind " + r.Move.String() + " the edge lies in the core.", true
			}
		}
		return text, true
	}
	return "The edge lies in the core all along and the pits grind out. " + lines, false
}

func (w words) lossesAnswer() (string, bool) {
	l := w.r.Losses
	mass := 0.0
	for _, h := range l.Heats {
		mass += h.MassShare
	}
	text := fmt.Sprintf("The fire takes %s of the mass as scale.", percent(mass))
	if l.CarbonAtEdge > 0 {
		where := "in the middle of the core"
		if w.r.Job.Blade != nil {
			where = "in the core where the edge will lie"
		}
		text += " Carbon left " + where + ": " + carbon(l.CarbonAtEdge) + "."
	}
	return text, false
}

func (w words) dayAnswer() (string, bool) {
	d := w.r.Day
	text := count(d.Heats, "heat", "heats")
	if d.Preheat > 0 {
		text += ", " + unit.Duration(d.Preheat) + " to warm the forge"
	}
	if d.Forge > 0 {
		text += ", " + unit.Duration(d.Forge) + " in the fire"
	}
	if d.Work > 0 {
		text += ", " + unit.Duration(d.Work) + " at the tools"
	}
	if d.Energy > 0 {
		text += fmt.Sprintf(", %.0f kWh of fuel", d.Energy/3.6e6)
	}
	return text + ".", false
}
