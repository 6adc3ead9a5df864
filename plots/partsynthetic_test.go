package plots

import (
	"math"
	"testing"

	"billet/sim"
	"billet/sim/blade"
	"billet/sim/metal"
	"billet/sim/steel"
)

// part describes a ground, burnt and hardened blade put together for the
// tests. What shows on the bevels is cut by the geometry itself; the rest is
// made to be drawn, not to be right.
type part struct {
	made
	core      int
	jacket    float64 // m, of each layer outside the core in the bar
	thick     float64 // m, of the core
	barWide   float64 // m
	offset    float64 // m, of the grind
	grind     blade.Grind
	wanted    float64 // m
	heats     int
	piled     bool    // the layers are no longer those of the stack
	carbon    float64 // %, of the core
	quench    float64 // s, the spine takes to cool by two thirds
	temper    []sim.TemperStep
	mild      bool // the core does not harden
	never     bool // the soak's range has no end
	noHere    bool
	sweeps    bool
	dip       float64 // K, of the forge; 0: none
	tallNotes bool
}

// parts are the results these pictures must stand up to.
func parts(t *testing.T) map[string]*sim.Result {
	t.Helper()
	base := basePart()
	all := map[string]part{"usual": base}
	add := func(name string, change func(p *part)) {
		p := base
		change(&p)
		all[name] = p
	}
	add("inch", func(p *part) { p.units = sim.Inch })
	add("off the edge", func(p *part) { p.offset = 1.2e-3 })
	add("narrow bar", func(p *part) { p.barWide = 24e-3 })
	add("hollow, one heat", func(p *part) {
		p.grind = blade.Grind{Kind: blade.Hollow, Height: 20e-3, Wheel: 0.25}
		p.heats, p.temper, p.dip = 1, nil, 2
	})
	add("chisel, soft", func(p *part) {
		p.grind = blade.Grind{Kind: blade.Chisel, Height: 18e-3, SideA: true}
		p.wanted, p.mild, p.quench, p.noHere = 0, true, 900, true
	})
	add("many layers, piled", func(p *part) {
		p.materials = nil
		for i := range 41 {
			p.materials = append(p.materials, []string{"1084", "15N20 with a name that does not end"}[i%2])
		}
		p.core, p.jacket, p.thick, p.heats, p.piled, p.never = 20, 0.1e-3, 0.3e-3, 26, true, true
		p.title = "Pattern stack that somebody gave a title of quite unreasonable length, since nothing said they could not"
	})
	add("slow, tall notes", func(p *part) { p.quench, p.tallNotes, p.thick = 14, true, 3e-3 })
	add("all core", func(p *part) { p.jacket, p.thick = 0.1e-3, 6e-3 })
	add("no sweeps", func(p *part) { p.sweeps = false })
	add("thin core", func(p *part) { p.thick = 0.12e-3 })
	out := map[string]*sim.Result{}
	for name, p := range all {
		out[name] = p.result(t)
	}
	return out
}

// basePart is a flat-ground knife of three layers.
func basePart() part {
	return part{made: usual(), core: 1, jacket: 2e-3, thick: 1.5e-3, barWide: 40e-3, wanted: 8e-3, heats: 5, carbon: 0.8,
		grind: blade.Grind{Kind: blade.Flat, Height: 28e-3}, quench: 2, sweeps: true, dip: 60,
		temper: []sim.TemperStep{{Temperature: 473.15, Time: 7200}, {Temperature: 473.15, Time: 7200}}}
}

// result makes the result.
func (p part) result(t *testing.T) *sim.Result {
	t.Helper()
	r := p.made.result()
	for i := range r.Job.Stack.Layers {
		l := &r.Job.Stack.Layers[i]
		l.Core = i == p.core
		l.Material = steel.Material{Name: p.materials[i], Carbon: 0.2}
		if l.Core {
			l.Material.Carbon = p.carbon
		}
	}
	r.Job.Blade = &sim.Blade{}
	p.ground(t, r)
	p.burn(r)
	p.harden(r)
	p.stock(r)
	if p.sweeps {
		p.sweep(r)
	}
	p.ranges(r)
	if p.dip > 0 {
		p.forge(r)
	}
	return r
}

// ground cuts the blade from a straight bar.
func (p part) ground(t *testing.T, r *sim.Result) {
	t.Helper()
	var layers []float64
	for i := range p.materials {
		layers = append(layers, p.jacket)
		if i == p.core {
			layers[i] = p.thick
		}
	}
	g := &sim.Bevelled{Bar: blade.Even(p.barWide, 0.2, layers, p.core),
		Blade: blade.Blade{Spine: 3.4e-3, TipSpine: 1.8e-3, Height: 30e-3, Length: 0.14, Edge: 0.4e-3, Grind: p.grind},
		Ask:   blade.Ask{CoreLine: p.wanted, Clean: 0.2e-3}}
	g.Place = g.Bar.Middle(g.Blade.Length, 4e-3, true)
	g.Place.Offset = p.offset
	var err error
	if g.Answer, err = blade.Cut(g.Bar, g.Blade, g.Place, g.Ask); err != nil {
		t.Fatal(err)
	}
	r.Ground = g
}

// burn makes the losses: steps of carbon that blur and faces that lose it.
func (p part) burn(r *sim.Result) {
	l := &sim.Lost{CarbonAtEdge: 0.97 * p.carbon, Transition: 0.3e-3}
	n := len(p.materials)
	for h := range p.heats {
		k := sim.HeatLoss{Number: h + 1, ScaleA: 5e-5 / float64(h+1), ScaleB: 4e-5 / float64(h+1), MassShare: 0.012 / float64(h+1)}
		layers := n
		if p.piled {
			layers = 2 * n
		}
		thick := p.thickness * float64(n) / float64(1+h)
		for i := range layers {
			for j := range 9 {
				z := (float64(i) + float64(j)/8) / float64(layers)
				c := 0.2
				if i%n == p.core {
					c = p.carbon
				}
				face := 1 - math.Exp(-40*math.Min(z, 1-z)/float64(h+1))
				k.Z, k.Carbon = append(k.Z, z*thick), append(k.Carbon, c*face)
			}
		}
		l.Heats = append(l.Heats, k)
	}
	r.Losses = l
}

// harden makes the heat treatment: three places that cool by a power.
func (p part) harden(r *sim.Result) {
	h := &sim.Hardened{Heat: 1103.15, Through: p.quench < 5, Nose: metal.Nose{TimeS: 3, Ae1: 1000},
		Quenchant:  metal.Quenchant{Name: "fast oil", BathK: 333.15},
		Critical:   metal.Critical{Ac1: metal.Point{TempK: 1000}, Ms: metal.Point{TempK: 480}},
		AsQuenched: metal.Hardness{HRC: 64, Within: 1}, Tempered: metal.Hardness{HRC: 60, Within: 2.5}}
	if p.mild {
		h.Critical = metal.Critical{Ac1: metal.Point{TempK: math.NaN()}, Ms: metal.Point{TempK: math.NaN()}}
		h.Tempered.HRC, h.AsQuenched.HRC = 12, 14
	}
	for i, name := range []string{"edge", "mid bevel", "spine"} {
		k := sim.HardenPlace{Place: name, Thickness: 1e-3 * float64(i+1)}
		tau := p.quench * float64(i+1) / 3
		for j := range 60 {
			at := 4 * tau * float64(j) / 59
			k.Time = append(k.Time, at)
			k.Middle = append(k.Middle, 333.15+(h.Heat-333.15)*math.Exp(-at/tau))
		}
		l := sim.HardenedLayer{Material: p.materials[p.core]}
		l.Transforms = !p.mild
		l.Race.Used = tau / 6
		k.Layers = append(k.Layers, l)
		h.Places = append(h.Places, k)
	}
	r.Job.Harden = &sim.Harden{Temper: p.temper}
	if len(p.temper) > 0 {
		for c := 150.0; c <= 600; c += 25 {
			h.Curve.TempK = append(h.Curve.TempK, c+273.15)
			h.Curve.HRC = append(h.Curve.HRC, h.AsQuenched.HRC-0.0001*c*c)
		}
		h.Curve.Within = 2.5
	}
	r.Hardened = h
}

// stock makes the pieces and what becomes of them.
func (p part) stock(r *sim.Result) {
	c := &sim.StockCut{Within: !p.never, Blades: 1, Job: r.Job}
	mass := 0.8
	for i, step := range []string{"stack", "scale in the fire", "ends trimmed", "ground to the blade"} {
		share := [...]float64{0, 0.03, 0.06, 0.55}[i]
		mass -= 0.8 * share
		c.Losses = append(c.Losses, sim.LossStep{Step: step, Mass: mass, Share: share})
	}
	for i, name := range p.materials {
		if i < 8 {
			c.Pieces = append(c.Pieces, sim.Piece{Material: name, Thickness: p.thickness, Width: 0.04, Length: 0.12, Count: 1 + i})
		}
	}
	r.Stock = c
}

// sweep makes the four sweeps.
func (p part) sweep(r *sim.Result) {
	note := "Loose joints hold heat back far more than the steel does; clamp them, grind them, keep scale out."
	if p.tallNotes {
		note += " " + note + " " + note + " " + note
	}
	s := []sim.Sweep{
		{What: "joint tightness", Unit: "W/m2K", Log: true, Here: 1000, HasIt: !p.noHere, Note: note},
		{What: "floor temperature", Unit: "K", Here: 600, HasIt: !p.noHere, Note: note},
		{What: "forge temperature", Unit: "K", Here: 1480, HasIt: true, Note: "Short."},
		{What: "pulled this long after the skin looks ready", Unit: "s", HasIt: true, Note: note},
	}
	for i := range 7 {
		x := float64(i)
		s[0].At, s[0].Lag = append(s[0].At, 150*math.Pow(2, x)), append(s[0].Lag, 600/(1+x))
		s[1].At, s[1].Lag = append(s[1].At, 1000+80*x), append(s[1].Lag, 400-50*x)
		s[3].At, s[3].Lag = append(s[3].At, 40*x), append(s[3].Lag, 120/(1+x))
		if i < 1 && p.noHere { // one point is no line
			s[2].At, s[2].Lag = []float64{1500}, []float64{60}
		} else if !p.noHere {
			s[2].At, s[2].Lag = append(s[2].At, 1450+30*x), append(s[2].Lag, 100)
		}
	}
	r.Soak.Sweeps = s
}

// ranges makes the soak's range.
func (p part) ranges(r *sim.Result) {
	k := &sim.SoakRanges{}
	v := r.Soak.Answers.Soak.Value
	high := 1.5 * v
	if p.never {
		high = math.Inf(1)
	}
	k.Soak = sim.Range{Low: 0.7 * v, High: high, OK: true}
	for i, what := range []string{"how well the skin takes up the fire's glow (scale, flame)", "the forge reading", "a"} {
		k.Causes = append(k.Causes, sim.RangeCause{What: what, Low: v * (0.8 + 0.1*float64(i)), High: v * (1.2 - 0.1*float64(i))})
	}
	if p.never {
		k.Causes[0].High = math.Inf(1)
	}
	r.Soak.Ranges = k
}

// forge makes a wall that dips and comes back.
func (p part) forge(r *sim.Result) {
	w := &sim.ForgeCurve{Start: 1500, Full: 1540, TimeConstant: 600, Lowest: 1500 - p.dip, LowestAt: 200}
	for i := range 60 {
		t := 20 * float64(i)
		w.Wall.Time = append(w.Wall.Time, t)
		w.Wall.Value = append(w.Wall.Value, 1500-p.dip*t/200*math.Exp(1-t/200))
	}
	r.Soak.Forge = w
}

// partSheets lays out every picture of these parts of a result.
func partSheets(r *sim.Result) ([]*sheet, error) {
	var all []*sheet
	for _, k := range []struct {
		check func(*sim.Result) error
		lay   func(*sim.Result) []*sheet
	}{{checkGround, grindSheets}, {checkStock, stockSheets}, {checkLosses, lossesSheets}, {checkHarden, hardenSheets}, {checkCauses, causesSheets}} {
		if err := k.check(r); err != nil {
			return nil, err
		}
		all = append(all, k.lay(r)...)
	}
	return all, nil
}
