package jobfile

import (
	"math"
	"slices"
	"strings"

	"billet/sim"
	"billet/sim/unit"
)

// Ranges of what a forge can be.
var (
	forgeHeat = span{"100 C", "1700 C"}
	anyFilm   = span{"0 W/m2K", "100000 W/m2K"}
	anyTime   = span{"0 s", "24 h"}
	realTime  = span{"0.01 s", "24 h"}
)

var forgeKinds = []string{"gas", "coal", "electric", "induction"}

// skin is how well the outer layer on one side radiates.
func (d *decoder) skin(bottom bool) (emissivity float64, name string) {
	layers := d.job.Stack.Layers
	if len(layers) == 0 {
		return 0, ""
	}
	l := layers[len(layers)-1]
	if bottom {
		l = layers[0]
	}
	return l.Material.Emissivity, l.Material.Name
}

func (d *decoder) assumeSkin(bottom bool) {
	if e, name := d.skin(bottom); name != "" {
		d.assume("Hot skin taken to radiate %s %% of what a black body would (scaled %s).", trim(math.Round(e*1000)/10), name)
	}
}

func (d *decoder) air() {
	t := d.sub("air")
	temperature := t.quantity("temperature", unit.Temperature, "20 C", anyHeat)
	a := sim.Surround{
		Wall: sim.Constant(temperature),
		Gas:  sim.Constant(temperature),
		Film: t.quantity("film", unit.Conductance, "10 W/m2K", anyFilm),
	}
	e := t.maybeNumber("emissivity", 0, 1)
	if e == nil {
		top, _ := d.skin(false)
		e = &top
		d.assumeSkin(false)
	}
	a.Emissivity = *e
	t.done()
	d.job.Air = a
}

func (d *decoder) forge() {
	t := d.sub("forge")
	f := &d.job.Forge
	f.Kind = sim.ForgeKind(t.choice("kind", "gas", forgeKinds...))
	f.Whole = d.whole(t, f.Kind)
	f.FilmGiven, f.EmissivityGiven = t.has("film"), t.has("emissivity")
	f.Atmosphere = sim.Atmosphere(t.choice("atmosphere", "neutral", "neutral", "lean", "rich"))
	f.Chamber = t.quantity("chamber", unit.Length, "300 mm", span{"20 mm", "5 m"})
	f.Lit = t.orZero("lit", unit.Time, realTime)
	f.Burner = t.orZero("burner", unit.Power, span{"100 W", "1000 kW"})
	f.Lining = t.orZero("lining", unit.Length, span{"3 mm", "1 m"})
	f.Frequency = t.orZero("frequency", unit.Frequency, span{"10 Hz", "10000 kHz"})
	f.Power = t.orZero("power", unit.Power, span{"100 W", "10000 kW"})
	d.inductionKeys(t, f.Kind)
	faces := t.sub("face")
	for i, name := range sim.FaceNames {
		f.Faces[i] = face(faces.sub(name), f.Whole)
	}
	faces.done()
	d.unlike(t, f)
	d.floorAndDoor(t, f)
	t.done()
}

// The floor and the door in shop words. A brick that the billet lies on is taken
// 100 °C below the forge's reading; through an open door the front sees the shop
// with half of what it sees. Both are assumed.
const (
	brickFilm   = 300.0 // W/m2K, as a scaled bar lying unloaded: 200 to 1000
	brickColder = 100.0 // K
	doorShare   = 0.5
)

// floorAndDoor sets the bottom face and the front where the job says in words how
// they stand and does not give them as faces.
func (d *decoder) floorAndDoor(t *table, f *sim.Forge) {
	floor := t.choice("floor", "raised", "raised", "brick")
	door := t.choice("door", "closed", "closed", "open")
	given := func(face string) bool {
		return t.n != nil && t.n.kids["face"] != nil && t.n.kids["face"].kids[face] != nil
	}
	if floor == 1 && !given("bottom") {
		cold := series(f.Whole.Wall, -brickColder)
		f.Faces[sim.Bottom] = &sim.Surround{Wall: cold, Gas: cold, Film: brickFilm}
		d.assume("Lying on brick: the floor taken 100 °C below the forge's reading, touching through %v W/m²K.", brickFilm)
	}
	if door == 1 && !given("front") {
		s := f.Whole
		if own := f.Faces[sim.Front]; own != nil {
			s = *own
		}
		wall := sim.Series{Time: s.Wall.Time}
		shop := d.job.Air.Wall.At(0)
		for _, v := range s.Wall.Value {
			wall.Value = append(wall.Value, math.Pow(doorShare*math.Pow(shop, 4)+(1-doorShare)*math.Pow(v, 4), 0.25))
		}
		s.Wall = wall
		f.Faces[sim.Front] = &s
		d.assume("Door open: the front taken to see the shop with half of what it sees.")
	}
}

// series is a course of temperatures moved by a difference.
func series(c sim.Series, by float64) sim.Series {
	out := sim.Series{Time: c.Time}
	for _, v := range c.Value {
		out.Value = append(out.Value, v+by)
	}
	return out
}

// whole reads what every face sees where nothing else is said of it.
func (d *decoder) whole(t *table, kind sim.ForgeKind) sim.Surround {
	s := sim.Surround{}
	wall, gas := t.get("temperature"), t.get("gas")
	switch {
	case wall != nil:
		s.Wall = t.series("temperature", wall, forgeHeat)
	case kind == sim.Induction:
		s.Wall = d.job.Air.Wall
		d.assume("Around the coil taken as cold as the air.")
	default:
		s.Wall = sim.Constant(si(unit.Temperature, "1300 C"))
		d.assume("Forge reading not given: 1300 °C taken.")
	}
	s.Gas = s.Wall
	if gas != nil {
		s.Gas = t.series("gas", gas, anyHeat)
	}
	film := t.maybe("film", unit.Conductance, anyFilm)
	if film == nil {
		v := d.taken["film "+forgeKinds[kind]]
		film = &v.value
		d.assume("Heat carried by the gases in the forge taken as for %s (%v).", forgeKinds[kind], v)
	}
	s.Film = *film
	e := t.maybeNumber("emissivity", 0, 1)
	if e == nil {
		top, _ := d.skin(false)
		e = &top
		d.assumeSkin(false)
	}
	s.Emissivity = *e
	return s
}

// unlike gives the bottom its own emissivity where the outer layers are of
// different materials and the job does not say otherwise.
func (d *decoder) unlike(t *table, f *sim.Forge) {
	low, _ := d.skin(true)
	if t.has("emissivity") || low == f.Whole.Emissivity {
		return
	}
	s := f.Faces[sim.Bottom]
	if s == nil {
		whole := f.Whole
		s = &whole
		f.Faces[sim.Bottom] = s
	} else if faces := t.n.kids["face"]; faces.kids["bottom"].kids["emissivity"] != nil {
		return
	}
	s.Emissivity = low
	d.assumeSkin(true)
}

// inductionKeys checks the keys that only some forges have.
func (d *decoder) inductionKeys(t *table, kind sim.ForgeKind) {
	if kind == sim.Induction {
		for _, key := range []string{"frequency", "power"} {
			if !t.has(key) {
				t.missing(key, `frequency and power with kind = "induction", such as "10 kHz" and "15 kW"`)
			}
		}
		return
	}
	for _, key := range []string{"frequency", "power"} {
		if t.has(key) && t.has("kind") {
			t.wrong(key, t.n.kids[key], `only with kind = "induction"`, burnerHint(key))
		} else if t.has(key) {
			t.wrong(key, t.n.kids[key], `only with kind = "induction"; no kind is a gas forge`, burnerHint(key))
		}
	}
}

func burnerHint(key string) string {
	if key == "power" {
		return "the power of a flame is burner"
	}
	return ""
}

// face reads one face of the forge; nil where it is as the whole.
func face(t *table, whole sim.Surround) *sim.Surround {
	s := whole
	wall, gas := t.get("temperature"), t.get("gas")
	if wall != nil {
		s.Wall = t.series("temperature", wall, anyHeat)
		s.Gas = s.Wall
	}
	if gas != nil {
		s.Gas = t.series("gas", gas, anyHeat)
	}
	if film := t.maybe("film", unit.Conductance, anyFilm); film != nil {
		s.Film = *film
	}
	if e := t.maybeNumber("emissivity", 0, 1); e != nil {
		s.Emissivity = *e
	}
	t.done()
	if !t.given() || len(t.n.keys) == 0 {
		return nil
	}
	return &s
}

// series reads a temperature, or temperatures against time.
func (t *table) series(key string, v *node, constant span) sim.Series {
	if v.kind != isList {
		return sim.Constant(t.parse(key, v, unit.Temperature, constant))
	}
	times, values := t.pairs(key, v, pair{
		first: unit.Time, firstIn: anyTime,
		second: unit.Temperature, secondIn: anyHeat,
		rising: "a time later than in the row before",
	})
	if times == nil { // reported
		return sim.Constant(si(unit.Temperature, "20 C"))
	}
	return sim.Series{Time: times, Value: values}
}

// untilAccepted says what ends a stage.
const untilAccepted = `skin, core or joints with a temperature, such as "core 1150 C", or a time, such as "60 s"`

// until reads what ends a stage in the forge or in air.
func (t *table) until(key string, v *node, s *sim.Stage) {
	words := []string{"skin", "core", "joints"}
	if v.kind != isText {
		t.wrong(key, v, untilAccepted, "")
		return
	}
	word, rest, _ := strings.Cut(strings.TrimSpace(v.text), " ")
	place := slices.Index(words, word)
	if place < 0 && strings.ContainsAny(word, "0123456789") {
		s.Until = sim.UntilTime
		s.Time = t.parse(key, v, unit.Time, realTime)
		return
	}
	if place < 0 {
		t.wrong(key, v, untilAccepted, didYouMean(nearest(word, words)))
		return
	}
	s.Until = []sim.Until{sim.UntilSkin, sim.UntilCore, sim.UntilJoints}[place]
	k, err := unit.Parse(unit.Temperature, rest)
	switch {
	case err != nil:
		t.wrong(key, v, untilAccepted, reason(err, rest, unit.Temperature))
	case !anyHeat.holds(unit.Temperature, k):
		t.wrong(key, v, "a temperature of "+anyHeat.String(), "")
	}
	s.Temperature = k
}

// maxStages is the longest soak.
const maxStages = 100

func (d *decoder) heats() {
	j := d.job
	rows := d.rows("heat", maxStages)
	if !d.has("heat") {
		j.Heats = []sim.Stage{
			{In: sim.InForge, Until: sim.UntilSkin, Temperature: j.Weld.Flux},
			{In: sim.InAir, Until: sim.UntilTime, Time: si(unit.Time, "60 s")},
			{In: sim.InForge, Until: sim.UntilJoints, Temperature: j.Weld.Heat, Hold: j.Weld.Hold},
		}
		return
	}
	for _, t := range rows {
		s := sim.Stage{In: sim.Place(t.choice("in", "forge", "forge", "air"))}
		if v := t.get("until"); v != nil {
			t.until("until", v, &s)
		} else {
			t.missing("until", untilAccepted)
		}
		s.Hold = t.orZero("hold", unit.Time, anyTime)
		if s.Until == sim.UntilTime && s.Time > 0 && t.has("hold") {
			t.clash("one of the two: a time, or a hold after a temperature is met", "until", "hold")
		}
		t.done()
		j.Heats = append(j.Heats, s)
	}
}
