package jobfile

import (
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// Ranges of passes.
const (
	maxPasses = 1000
	maxRepeat = 100
)

var (
	anyStop = span{"0.2 mm", "300 mm"}
	anyOff  = span{"0 mm", "50 mm"}
	anyBite = span{"3 mm", "1 m"}
	anyTilt = span{"-20 mm", "20 mm"}
)

// toolWords are the tools of a pass, by their place as sim.PassTool.
var toolWords = []string{"press", "rolls", "hammer", "grind", "restack"}

func (d *decoder) passes() {
	for _, t := range d.rows("pass", maxPasses) {
		d.job.Passes = append(d.job.Passes, d.pass(t))
	}
}

func (d *decoder) pass(t *table) sim.Pass {
	p := sim.Pass{Line: t.n.line, Tool: sim.PassTool(t.choice("tool", "press", toolWords...))}
	d.machineFor(t, p.Tool)
	t.shape(&p)
	p.Edge = t.isSet("edge")
	if t.has("down") {
		a := t.choice("down", "B", "B", "A") == 1
		p.DownA = &a
	} else {
		t.get("down")
	}
	p.Reheat = t.flag("reheat")
	p.Repeat = t.count("repeat", 1, 1, maxRepeat)
	d.passHeat(t, &p)
	p.FrictionA = t.maybeNumber("friction_a", 0, 1)
	p.FrictionB = t.maybeNumber("friction_b", 0, 1)
	p.Bond = d.bond(t)
	p.Tilt = t.orZero("tilt", unit.Length, anyTilt)
	t.strangers(p.Tool)
	t.done()
	return p
}

// machineFor reports a pass on a machine the job does not have.
func (d *decoder) machineFor(t *table, tool sim.PassTool) {
	word := toolWords[tool]
	if tool > sim.ByHammer || d.has(word) {
		return
	}
	at := t.n
	given := "a pass on the " + word + " (no tool means the press)"
	if v := t.n.kids["tool"]; v != nil {
		at, given = v, show(v)
		if v.text != word { // reported as an unknown tool
			return
		}
	}
	t.add(at, Problem{
		Key: t.name("tool"), Given: given,
		Accepted: "a machine this job has",
		Hint:     "describe it in a table [" + word + "]",
	})
}

// shape reads what the tool does to the bar.
func (t *table) shape(p *sim.Pass) {
	to := t.maybe("to", unit.Length, anyStop)
	draft := t.get("draft")
	if draft != nil {
		t.draft(p, draft)
	}
	p.Bite = t.orZero("bite", unit.Length, anyBite)
	p.OffA = t.orZero("off_a", unit.Length, anyOff)
	p.OffB = t.orZero("off_b", unit.Length, anyOff)
	p.Off = t.orZero("off", unit.Length, anyOff)
	switch p.Tool {
	case sim.ByGrind:
		if !t.has("off_a") && !t.has("off_b") {
			t.missing("off_a", `off_a, off_b or both: what is ground off that side, such as "0.3 mm"`)
		}
	case sim.ByRestack:
		p.Pieces = t.count("pieces", -1, 2, 100)
	case sim.ByPress, sim.ByRolls, sim.ByHammer:
		switch {
		case to != nil && draft != nil:
			t.clash("one of the two: the size to reach, or the draft", "to", "draft")
		case to == nil && draft == nil:
			t.missing("to", `to = "22 mm" (the size to reach) or draft = "2 mm" or "10 %"`)
		case to != nil:
			p.To = *to
		}
	}
}

// draft reads what a pass takes off: a length or a share.
func (t *table) draft(p *sim.Pass, v *node) {
	if share, err := unit.Parse(unit.Share, v.text); v.kind == isText && err == nil {
		if !(span{"0.1 %", "80 %"}).holds(unit.Share, share) {
			t.wrong("draft", v, "0.1 % to 80 %", "")
		}
		p.DraftShare = share
		return
	}
	if _, err := unit.Parse(unit.Length, v.text); v.kind == isText && err != nil {
		t.wrong("draft", v, `a length or a share, such as "2 mm" or "10 %"`, "")
		return
	}
	p.Draft = t.parse("draft", v, unit.Length, span{"0.01 mm", "200 mm"})
}

// passHeat reads prescribed temperatures. Those at the faces count before an
// even one.
func (d *decoder) passHeat(t *table, p *sim.Pass) {
	warm := span{"300 C", "1500 C"}
	even := t.maybe("temperature", unit.Temperature, warm)
	p.TemperatureA = t.maybe("temperature_a", unit.Temperature, warm)
	p.TemperatureB = t.maybe("temperature_b", unit.Temperature, warm)
	a, b := p.TemperatureA != nil, p.TemperatureB != nil
	switch {
	case a != b && even != nil:
		t.clash("temperature alone, or temperature_a and temperature_b", "temperature", []string{"temperature_b", "temperature_a"}[boolInt(a)])
	case a && !b:
		t.missing("temperature_b", "with temperature_a, the temperature of the other face")
	case b && !a:
		t.missing("temperature_a", "with temperature_b, the temperature of the other face")
	case a && even != nil:
		d.assume("The pass in line %d gives an even temperature and one for each face; those of the faces are used.", p.Line)
	default:
		p.Temperature = even
	}
}

// bond reads what holds the layers together in a pass.
func (d *decoder) bond(t *table) *sim.Bond {
	v := t.get("bond")
	switch {
	case v == nil:
		return nil
	case v.kind == isText && v.text == "welded":
		return &sim.Bond{Welded: true}
	case v.kind == isText && v.text == "slipping":
		slip := d.taken["slip"]
		d.assume("Slipping joints taken to rub with a factor of %v (0 slides freely, 1 sticks).", slip.value)
		return &sim.Bond{Factor: slip.value}
	case v.kind == isNumber:
		return &sim.Bond{Factor: t.plain("bond", v, 0, 1)}
	}
	t.wrong("bond", v, "welded, slipping or a number from 0 to 1",
		didYouMean(nearest(v.text, []string{"welded", "slipping"})))
	return nil
}

// strangers reports keys that the tool of the pass has no use for.
func (t *table) strangers(tool sim.PassTool) {
	t.get("pieces")
	squeezing := "press, rolls, hammer"
	belongs := map[string]string{
		"off_a": "grind", "off_b": "grind", "pieces": "restack", "off": "restack",
		"bite": "press", "to": squeezing, "draft": squeezing, "edge": squeezing, "tilt": squeezing,
		"bond": squeezing, "friction_a": squeezing, "friction_b": squeezing,
	}
	for _, key := range t.n.keys {
		tools, ok := belongs[key]
		if ok && !strings.Contains(tools, toolWords[tool]) {
			t.wrong(key, t.n.kids[key], "no such key in a pass by "+toolWords[tool]+"; it belongs to "+tools, "")
		}
	}
}
