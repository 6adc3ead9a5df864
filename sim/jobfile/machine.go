package jobfile

import (
	"math"

	"billet/sim"
	"billet/sim/unit"
)

// Ranges of machines and tools.
var (
	anyForce    = span{"100 N", "100000 kN"}
	anyPressure = span{"1 bar", "1000 bar"}
	anyTool     = span{"3 mm", "2 m"}
	toolHeat    = span{"-50 C", "700 C"}
	anyPower    = span{"10 W", "10000 kW"}
	anySpeed    = span{"0.1 mm/s", "2 m/s"}
)

func (d *decoder) press() {
	t := d.sub("press")
	p := &sim.Press{}
	d.ram(t, p)
	die := readDie(t.sub("die"), sim.Die{
		Along: si(unit.Length, "50 mm"), Across: si(unit.Length, "100 mm"), Temperature: si(unit.Temperature, "80 C"),
	})
	die.Crown = t.crown(0)
	p.Top = readDie(t.sub("die_top"), die)
	p.Bottom = readDie(t.sub("die_bottom"), die)
	friction := t.number("friction", 0.4, 0, 1)
	p.FrictionTop, p.FrictionBottom = friction, friction
	if m := t.maybeNumber("friction_top", 0, 1); m != nil {
		p.FrictionTop = *m
	}
	if m := t.maybeNumber("friction_bottom", 0, 1); m != nil {
		p.FrictionBottom = *m
	}
	t.done()
	d.assumeTaken(t)
	if t.given() {
		d.job.Press = p
	}
}

// ram reads what drives the press: its force or bore and pressure, its speed
// or pump.
func (d *decoder) ram(t *table, p *sim.Press) {
	bore := t.maybe("bore", unit.Length, span{"5 mm", "1 m"})
	pressure := t.maybe("pressure", unit.Pressure, anyPressure)
	switch {
	case t.has("force") && (bore != nil || pressure != nil):
		t.get("force")
		t.clash("one of the two: force, or bore and pressure", "force", first([]string{"bore", "pressure"}[boolInt(bore == nil):]))
	case bore != nil && pressure != nil:
		t.get("force")
		p.Bore, p.Pressure = *bore, *pressure
		p.Force = math.Pi / 4 * p.Bore * p.Bore * p.Pressure
	case bore != nil:
		t.get("force")
		t.missing("pressure", "with bore, the pressure the pump reaches, such as \"160 bar\" or \"2300 psi\"")
	case pressure != nil:
		t.get("force")
		t.missing("bore", "with pressure, the bore of the cylinder, such as \"100 mm\" or \"4 in\"")
	default:
		p.Force = t.quantity("force", unit.Force, "25 ton", anyForce)
	}
	pump := t.get("pump")
	if pump == nil {
		p.Speed = t.quantity("speed", unit.Speed, "12 mm/s", anySpeed)
		return
	}
	if t.get("speed") != nil {
		t.clash("one of the two: speed, or pump", "speed", "pump")
		return
	}
	d.pump(t, p, pump)
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// pump reads the ram's speed against pressure. Where the press has a force
// and no bore, that force is taken to come at the pump's last pressure.
func (d *decoder) pump(t *table, p *sim.Press, v *node) {
	pressures, speeds := t.pairs("pump", v, pair{
		first: unit.Pressure, firstIn: span{"0 bar", "1000 bar"},
		second: unit.Speed, secondIn: span{"0 mm/s", "2 m/s"},
		rising: "a pressure higher than in the row before",
	})
	if pressures == nil {
		return
	}
	for i := range pressures {
		p.Pump = append(p.Pump, sim.PumpPoint{Pressure: pressures[i], Speed: speeds[i]})
	}
	if speeds[0] <= 0 {
		t.wrong("pump", v, "a speed above 0 in the first row", "")
	}
	p.Speed = speeds[0]
	if last := pressures[len(pressures)-1]; p.Bore == 0 && last > 0 {
		p.Pressure = last
		p.Bore = math.Sqrt(4 * p.Force / (math.Pi * last))
		d.assume("The press is taken to reach its full force at the pump's last pressure.")
	}
}

// crown reads the radius of a drawing die; whole where it is left out.
func (t *table) crown(whole float64) float64 {
	if r := t.maybe("crown", unit.Length, span{"2 mm", "10 m"}); r != nil {
		return *r
	}
	return whole
}

// readDie reads a die; what it leaves out is as in whole.
func readDie(t *table, whole sim.Die) sim.Die {
	die := whole
	if x := t.maybe("along", unit.Length, anyTool); x != nil {
		die.Along = *x
	}
	if x := t.maybe("across", unit.Length, anyTool); x != nil {
		die.Across = *x
	}
	if x := t.maybe("temperature", unit.Temperature, toolHeat); x != nil {
		die.Temperature = *x
	}
	die.Crown = t.crown(whole.Crown)
	t.done()
	return die
}

func (d *decoder) rolls() {
	t := d.sub("rolls")
	r := &sim.Rolls{}
	anyRoll := span{"10 mm", "2 m"}
	diameter := t.quantity("diameter", unit.Length, "80 mm", anyRoll)
	r.DiameterTop, r.DiameterBottom = diameter, diameter
	if x := t.maybe("diameter_top", unit.Length, anyRoll); x != nil {
		r.DiameterTop = *x
	}
	if x := t.maybe("diameter_bottom", unit.Length, anyRoll); x != nil {
		r.DiameterBottom = *x
	}
	r.Speed = rollSpeed(t, (r.DiameterTop+r.DiameterBottom)/2)
	r.Power = t.quantity("power", unit.Power, "2 kW", anyPower)
	r.Force = t.orZero("force", unit.Force, anyForce)
	r.Friction = t.number("friction", 0.5, 0, 1)
	r.Driven = sim.Driven(t.choice("driven", "both", "both", "top", "bottom"))
	r.Temperature = t.quantity("temperature", unit.Temperature, "60 C", toolHeat)
	t.done()
	d.assumeTaken(t)
	if t.given() {
		d.job.Rolls = r
	}
}

// rollSpeed reads the rolls' speed, turning or at their surface.
func rollSpeed(t *table, diameter float64) float64 {
	turning := span{"0.1 rpm", "2000 rpm"}
	v := t.get("speed")
	if v == nil {
		return t.quantity("speed", unit.Rotation, "20 rpm", turning)
	}
	if surface, err := unit.Parse(unit.Speed, v.text); v.kind == isText && err == nil {
		w := surface / (diameter / 2)
		if math.IsNaN(w) || turning.holds(unit.Rotation, w) {
			return w
		}
		t.wrong("speed", v, turning.String()+", or as much at the rolls' surface", "")
		return math.NaN()
	}
	return t.parse("speed", v, unit.Rotation, turning)
}

func (d *decoder) hammer() {
	t := d.sub("hammer")
	h := &sim.Hammer{}
	mass := t.maybe("mass", unit.Mass, span{"0.05 kg", "10000 kg"})
	speed := t.maybe("speed", unit.Speed, span{"0.1 m/s", "30 m/s"})
	switch {
	case t.has("energy") && (mass != nil || speed != nil):
		t.get("energy")
		other := "mass"
		if mass == nil {
			other = "speed"
		}
		t.clash("one of the two: energy, or mass and speed", "energy", other)
	case mass != nil && speed != nil:
		t.get("energy")
		h.Energy = *mass * *speed * *speed / 2
	case mass != nil:
		t.get("energy")
		t.missing("speed", `with mass, the speed it strikes at, such as "7 m/s"`)
	case speed != nil:
		t.get("energy")
		t.missing("mass", `with speed, the mass that strikes, such as "1.5 kg"`)
	default:
		h.Energy = t.quantity("energy", unit.Energy, "40 J", span{"0.1 J", "1000000 J"})
	}
	h.Rate = t.quantity("rate", unit.Rate, "60 /min", span{"1 /min", "2000 /min"})
	h.Face = t.quantity("face", unit.Length, "30 mm", span{"3 mm", "1 m"})
	h.Anvil = t.quantity("anvil", unit.Temperature, "15 C", toolHeat)
	t.done()
	d.assumeTaken(t)
	if t.given() {
		d.job.Hammer = h
	}
}

func (d *decoder) handling() {
	t := d.sub("handling")
	h := &d.job.Handling
	h.Transfer = t.quantity("transfer", unit.Time, "4 s", span{"0 s", "10 min"})
	h.Rest = t.quantity("rest", unit.Time, "2 s", span{"0 s", "10 min"})
	h.WorkAbove = t.quantity("work_above", unit.Temperature, "900 C", span{"300 C", "1400 C"})
	h.Reheat = sim.Stage{In: sim.InForge, Until: sim.UntilCore, Temperature: si(unit.Temperature, "1100 C")}
	if v := t.get("reheat"); v != nil {
		t.until("reheat", v, &h.Reheat)
		if h.Reheat.Until == sim.UntilTime {
			h.Reheat.Temperature = 0
		} else if h.Reheat.Temperature <= h.WorkAbove {
			t.wrong("reheat", v, "a temperature above work_above", "")
		}
	}
	h.Flip = sim.FlipHabit(t.choice("flip", "every heat", "every heat", "every pass", "never"))
	h.Handle = readHandle(t.sub("handle"))
	t.done()
}

func readHandle(t *table) *sim.Handle {
	h := &sim.Handle{
		Thickness: t.quantity("thickness", unit.Length, "12 mm", anyWidth),
		Width:     t.quantity("width", unit.Length, "12 mm", anyWidth),
		Length:    t.quantity("length", unit.Length, "400 mm", anyTool),
		At:        []sim.Face{sim.Back, sim.Front}[t.choice("at", "back", "back", "front")],
	}
	t.done()
	if !t.given() {
		return nil
	}
	return h
}
