package jobfile

import (
	"fmt"

	"billet/sim"
	"billet/sim/unit"
)

// Ranges of heat treatment.
var (
	cycleHeat  = span{"500 C", "1300 C"}
	quenchHeat = span{"600 C", "1300 C"}
	temperHeat = span{"20 C", "750 C"}
)

// quenchWords are the quenchants, by their place as sim.Quench.
var quenchWords = []string{"fast oil", "slow oil", "water", "brine", "plates", "air"}

func (d *decoder) harden() {
	t := d.sub("harden")
	h := &sim.Harden{}
	if v := t.get("cycles"); v != nil {
		h.Cycles = t.quantities("cycles", v, unit.Temperature, cycleHeat, 50)
	} else {
		t.taken = append(t.taken, "cycles 860, 830 and 800 C")
		for _, c := range []string{"860 C", "830 C", "800 C"} {
			h.Cycles = append(h.Cycles, si(unit.Temperature, c))
		}
	}
	h.Austenitise = t.quantity("austenitise", unit.Temperature, "820 C", quenchHeat)
	h.Soak = t.quantity("soak", unit.Time, "5 min", anyTime)
	h.Quench = sim.Quench(t.choice("quench", "fast oil", quenchWords...))
	if !t.has("quench") {
		t.taken = append(t.taken, "quench fast oil")
	}
	if v := t.get("temper"); v != nil {
		h.Temper = t.tempers(v)
	} else {
		t.taken = append(t.taken, "temper 200 C for 2 h, twice")
		step := sim.TemperStep{Temperature: si(unit.Temperature, "200 C"), Time: si(unit.Time, "2 h")}
		h.Temper = []sim.TemperStep{step, step}
	}
	t.done()
	d.assumeTaken(t)
	if t.given() {
		d.job.Harden = h
	}
}

// tempers reads the list of temperings; it may be empty.
func (t *table) tempers(v *node) []sim.TemperStep {
	const accepted = `a list of { temperature = "200 C", time = "2 h" }`
	if v.kind != isList || len(v.items) > 20 {
		t.wrong("temper", v, accepted, "")
		return nil
	}
	var steps []sim.TemperStep
	for i, item := range v.items {
		name := fmt.Sprintf("temper[%d]", i+1)
		if item.kind != isTable {
			t.wrong(name, item, accepted, "")
			continue
		}
		row := &table{faults: t.faults, n: item, path: t.name(name)}
		steps = append(steps, sim.TemperStep{
			Temperature: row.quantity("temperature", unit.Temperature, "200 C", temperHeat),
			Time:        row.quantity("time", unit.Time, "2 h", realTime),
		})
		row.done()
	}
	return steps
}
