package sim

import (
	"context"
	"math"

	"billet/sim/heat"
)

// A forge as one lump of lining. The flame, at Tf, gives the lining Gf·(Tf − T);
// the walls lose Gl·(T − T₀) to the shop, the billet takes Q:
//
//	C·dT/dt = Gf·(Tf − T) − Gl·(T − T₀) − Q(t) = G·(T∞ − T) − Q(t)
//
// with G = Gf + Gl. All the burner's power P would go into a lining at T₀, so
// Gf = P/(Tf − T₀), and T∞ being where both balance, G = P/(T∞ − T₀): the flame's
// temperature drops out. T∞ is what the wall shows once it is hot through (the
// job's temperature). With Q constant,
// T = T∞ − Q/G + (T(0) − T∞ + Q/G)·e^(−t·G/C).
type lump struct {
	capacity float64 // J/K
	loss     float64 // W/K, G
	full     float64 // K, T∞
	shop     float64 // K, T₀
	start    float64 // K at the time the work goes in
}

// What the job can't tell of a forge (assumed): a chamber 120 mm square as long
// as the job says; ceramic-fibre lining of 130 kg/m3 and 1050 J/kgK, of which
// half follows the hot face; 12 mm of castable and floor brick, 2200 kg/m3 and
// 1000 J/kgK. With 20 kW and 40 mm it is hot after a quarter of an hour, as
// smiths allow (common practice, no source).
const (
	chamberAcross = 0.12                // m
	fibre         = 130 * 1050          // J/m3K
	facing        = 12e-3 * 2200 * 1000 // J/m2K
)

// varies says that the forge is to be followed in time.
func (f Forge) varies() bool { return f.Burner > 0 || f.Lining > 0 || f.Lit > 0 }

// lump makes the lumped forge of the job. What is not given of burner and
// lining is taken: 20 kW, 40 mm.
func (j *Job) lump() lump {
	f := j.Forge
	burner, lining := f.Burner, f.Lining
	if burner == 0 {
		burner = 20e3
	}
	if lining == 0 {
		lining = 40e-3
	}
	area := 4*chamberAcross*f.Chamber + chamberAcross*chamberAcross
	l := lump{full: f.Whole.Wall.At(0), shop: j.Air.Wall.At(0)}
	l.capacity = area * (facing + fibre*lining/2)
	l.loss = burner / (l.full - l.shop)
	l.start = l.full
	if f.Lit > 0 {
		l.start = l.at(l.shop, 0, f.Lit)
	}
	return l
}

// at is the temperature a time after it was from, with the billet taking a
// constant q, K.
func (l lump) at(from, q, seconds float64) float64 {
	end := l.full - q/l.loss
	return end + (from-end)*math.Exp(-seconds*l.loss/l.capacity)
}

// follow is the wall's temperature over rows of time while the billet takes up
// the given mean power in each.
func (l lump) follow(times, power []float64) Series {
	s := Series{Time: append([]float64(nil), times...), Value: make([]float64, len(times))}
	s.Value[0] = l.start
	for i := 1; i < len(times); i++ {
		s.Value[i] = math.Max(l.shop, l.at(s.Value[i-1], power[i], times[i]-times[i-1]))
	}
	return s
}

// lumpRounds bounds the rounds of forge and billet; each follows the other's
// last answer until the wall changes by less than a kelvin.
const lumpRounds = 12

// followForge replaces the forge's steady temperature by what a forge of finite
// burner and lining shows while this billet is in it.
func followForge(ctx context.Context, j *Job, dims int) (*Job, *ForgeCurve, error) {
	l := j.lump()
	c := j.with()
	wall := Constant(l.start)
	curve := &ForgeCurve{Start: l.start, Full: l.full, TimeConstant: l.capacity / l.loss}
	for round := range lumpRounds {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		setWall(c, j, wall, l.full)
		times, power, err := takenUp(c, dims)
		if err != nil {
			return nil, nil, err
		}
		next := l.follow(times, power)
		worst := 0.0
		for i, t := range next.Time {
			old := wall.At(t)
			worst = math.Max(worst, math.Abs(next.Value[i]-old))
			next.Value[i] = old + 0.6*(next.Value[i]-old) // damped: each overshoots the other
		}
		wall = next
		if worst < 1 && round > 0 {
			break
		}
	}
	curve.Wall = wall
	curve.Lowest = math.Inf(1)
	for i, v := range wall.Value {
		if v < curve.Lowest {
			curve.Lowest, curve.LowestAt = v, wall.Time[i]
		}
	}
	setWall(c, j, wall, l.full)
	return c, curve, nil
}

// setWall gives every face that sees the fire the wall's course, as far from
// the whole's reading as the job had it.
func setWall(c, j *Job, wall Series, full float64) {
	c.Forge.Faces = j.Forge.Faces
	c.Forge.Whole = j.Forge.Whole
	eachFace(c, func(s Surround) Surround {
		if s.Emissivity == 0 {
			return s
		}
		s.Wall = shifted(wall, s.Wall.At(0)-full)
		s.Gas = shifted(wall, s.Gas.At(0)-full)
		return s
	})
}

func shifted(c Series, by float64) Series {
	v := make([]float64, len(c.Value))
	for i := range v {
		v[i] = c.Value[i] + by
	}
	return Series{Time: c.Time, Value: v}
}

// takenUp runs the heats and then stays in the forge for half an hour, and
// returns rows of time and the mean power the billet took from the forge up to
// each, W. In air it takes none.
func takenUp(j *Job, dims int) (times, power []float64, err error) {
	all := []heat.Surroundings{j.surroundings(InForge), j.surroundings(InAir)}
	f, err := heat.New(heatBody(j, dims), j.Stack.Start, heat.Options{Accuracy: rangeAccuracy, All: all})
	if err != nil {
		return nil, nil, err
	}
	times, power = []float64{0}, []float64{0}
	const row = 5.0 // s
	for _, st := range append(append([]Stage(nil), j.Heats...), Stage{In: InForge, Until: UntilTime, Time: 1800}) {
		inForge := st.In == InForge
		_, before := f.Energy()
		begin := f.Time()
		mon := &heat.Monitor{Each: func(f *heat.Field) {
			if f.Time() < times[len(times)-1]+row {
				return
			}
			_, now := f.Energy()
			p := 0.0
			if inForge {
				p = (now - before) / (f.Time() - begin)
			}
			times, power = append(times, f.Time()), append(power, p)
			before, begin = now, f.Time()
		}}
		if _, err := f.Run(heatStage(j, st), mon); err != nil {
			return nil, nil, err
		}
	}
	return times, power, nil
}

// ForgeCurve is how the forge's wall went while the billet was in it.
type ForgeCurve struct {
	Wall         Series  // K against time from the start of the heats
	Start, Full  float64 // K when the work went in, and hot through
	Lowest       float64 // K
	LowestAt     float64 // s
	TimeConstant float64 // s
}
