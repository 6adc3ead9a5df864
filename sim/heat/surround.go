package heat

import "math"

// Sigma is the Stefan–Boltzmann constant, W/m2K4 (CODATA 2018, exact in the
// SI of 2019).
const Sigma = 5.670374419e-8

// Series is a value against time, linear between rows and held at its ends.
// One row is a constant.
type Series struct {
	Time  []float64 // s
	Value []float64
}

// Constant is a Series with one value.
func Constant(v float64) Series { return Series{Time: []float64{0}, Value: []float64{v}} }

// At is the value at time t, s. An empty series is 0.
func (s Series) At(t float64) float64 {
	n := len(s.Time)
	if n == 0 {
		return 0
	}
	if t <= s.Time[0] {
		return s.Value[0]
	}
	for i := 1; i < n; i++ {
		if t <= s.Time[i] {
			w := (t - s.Time[i-1]) / (s.Time[i] - s.Time[i-1])
			return s.Value[i-1] + w*(s.Value[i]-s.Value[i-1])
		}
	}
	return s.Value[n-1]
}

// next is the first row after t, or +Inf.
func (s Series) next(t float64) float64 {
	for _, v := range s.Time {
		if v > t+1e-9*(1+math.Abs(t)) {
			return v
		}
	}
	return math.Inf(1)
}

// highest is the largest value from time t on.
func (s Series) highest(t float64) float64 {
	v := s.At(t)
	for i, at := range s.Time {
		if at > t {
			v = max(v, s.Value[i])
		}
	}
	return v
}

func (s Series) varies() bool {
	for _, v := range s.Value {
		if v != s.Value[0] {
			return true
		}
	}
	return false
}

func (s Series) equal(o Series) bool {
	if len(s.Time) != len(o.Time) {
		return false
	}
	for i := range s.Time {
		if s.Time[i] != o.Time[i] || s.Value[i] != o.Value[i] {
			return false
		}
	}
	return true
}

// Surround is what one face sees: q = Emissivity·σ·(Wall⁴ − T⁴) + Film·(Gas − T).
// A solid in contact is Film alone with Gas its temperature. The zero value is
// insulated.
type Surround struct {
	Wall       Series  // K
	Gas        Series  // K
	Film       float64 // W/m2K
	Emissivity float64 // effective, skin to wall
	// FilmOf, where it is given, is the film against the temperature of the
	// surface instead: boiling in a quench.
	FilmOf *FilmCurve
}

// FilmCurve is a film against the temperature of the surface, straight between
// its points and held at its ends.
type FilmCurve struct {
	T []float64 // K, rising
	H []float64 // W/m2K
}

func (c *FilmCurve) at(tK float64) float64 {
	if len(c.T) == 1 {
		return c.H[0]
	}
	i, w := bracket(c.T, tK)
	return c.H[i] + w*(c.H[i+1]-c.H[i])
}

// lastRow is the time of the last row of its tables, s.
func (s Surround) lastRow() float64 {
	t := 0.0
	for _, c := range [2]Series{s.Wall, s.Gas} {
		if n := len(c.Time); n > 1 {
			t = max(t, c.Time[n-1])
		}
	}
	return t
}

func (s Surround) equal(o Surround) bool {
	return s.Film == o.Film && s.FilmOf == o.FilmOf && s.Emissivity == o.Emissivity && s.Wall.equal(o.Wall) && s.Gas.equal(o.Gas)
}

func (s Surround) varies() bool {
	return s.Emissivity != 0 && s.Wall.varies() || (s.Film != 0 || s.FilmOf != nil) && s.Gas.varies()
}

// hottest is the highest temperature the face is driven to from time t on, K;
// −Inf when insulated.
func (s Surround) hottest(t float64) float64 {
	v := math.Inf(-1)
	if s.Emissivity != 0 {
		v = s.Wall.highest(t)
	}
	if s.Film != 0 {
		v = max(v, s.Gas.highest(t))
	}
	return v
}

// bounds is the lowest and the highest temperature the face is ever driven to,
// K; +Inf and −Inf when insulated.
func (s Surround) bounds() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	take := func(c Series) {
		for _, v := range c.Value {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if s.Emissivity != 0 {
		take(s.Wall)
	}
	if s.Film != 0 {
		take(s.Gas)
	}
	return lo, hi
}

// hardest is the largest flux, W/m2, into or out of a skin between lo and hi, K.
func (s Surround) hardest(lo, hi float64) float64 {
	q := 0.0
	for _, skin := range [2]float64{lo, hi} {
		var radiated, convected float64
		for _, w := range s.Wall.Value {
			radiated = max(radiated, s.Emissivity*Sigma*math.Abs(w*w*w*w-skin*skin*skin*skin))
		}
		for _, g := range s.Gas.Value {
			convected = max(convected, s.Film*math.Abs(g-skin))
		}
		q = max(q, radiated+convected)
	}
	return q
}

// inward is the largest flux, W/m2, into a skin at tK; 0 where none is.
func (s Surround) inward(tK float64) float64 {
	var radiated, convected float64
	for _, w := range s.Wall.Value {
		radiated = max(radiated, s.Emissivity*Sigma*(w*w*w*w-tK*tK*tK*tK))
	}
	for _, g := range s.Gas.Value {
		convected = max(convected, s.Film*(g-tK))
	}
	return radiated + convected
}

// Face numbers the six faces of the billet.
type Face int

// The faces: bottom is side B at the start, top side A.
const (
	Bottom Face = iota
	Top
	Left
	Right
	Front
	Back
)

// Surroundings is what the six faces see, by Face.
type Surroundings [6]Surround

// All puts every face in the same surroundings.
func All(s Surround) Surroundings { return Surroundings{s, s, s, s, s, s} }

// at caches the surroundings of the moment for the face law.
type faceNow struct {
	wall4, gas float64
	film, es   float64
	curve      *FilmCurve
}

func (s Surround) now(t float64) faceNow {
	n := faceNow{film: s.Film, es: s.Emissivity * Sigma, curve: s.FilmOf}
	if n.es != 0 {
		w := s.Wall.At(t)
		n.wall4 = w * w * w * w
	}
	if n.film != 0 || n.curve != nil {
		n.gas = s.Gas.At(t)
	}
	return n
}

// flux is the inflow per area, W/m2, and its derivative, W/m2K.
func (n faceNow) flux(tK float64) (q, dq float64) {
	t3 := tK * tK * tK
	if n.curve != nil {
		n.film = n.curve.at(tK)
	}
	q = n.es*(n.wall4-t3*tK) + n.film*(n.gas-tK)
	dq = -4*n.es*t3 - n.film
	return q, dq
}
