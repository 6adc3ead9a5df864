package layers

import "math"

// SpreadLaw is a published law S of w1/w0 = (h0/h1)^S.
type SpreadLaw struct {
	Name   string
	Status string
	S      func(SpreadCase) float64
}

// SpreadCase is what a spread law looks at. All lengths in m.
type SpreadCase struct {
	H0, H1 float64 // m, height before and after
	Width  float64 // m, before
	Bite   float64 // m, die contact along the bar; for pressing
	Radius float64 // m, of the rolls; for rolling
	Mu     float64 // Coulomb friction; Ekelund only
}

// contact is the rolls' contact length.
func (c SpreadCase) contact() float64 { return ContactLength(c.Radius, c.H0-c.H1) }

// Width1 is the width after a spread exponent s, m.
func (c SpreadCase) Width1(s float64) float64 { return c.Width * math.Pow(c.H0/c.H1, s) }

// fromMemory is the status of most of these laws.
const fromMemory = "from memory"

// PressSpreadLaws are the laws for squeezes by flat dies.
func PressSpreadLaws() []SpreadLaw {
	return []SpreadLaw{
		{"Tomlinson, Stringer 1959", fromMemory, TomlinsonStringer},
		{"Wistreich, Shutt 1959", fromMemory, WistreichShutt},
		{"Sagisaka", fromMemory, Sagisaka},
	}
}

// TomlinsonStringer is 0.29 - 0.16 h1/h0 + 0.343 b/w - 0.048 (b/w)^2.
func TomlinsonStringer(c SpreadCase) float64 {
	r := c.Bite / c.Width
	return 0.29 - 0.16*c.H1/c.H0 + 0.343*r - 0.048*r*r
}

// WistreichShutt is 0.14 + 0.36 b/w - 0.054 (b/w)^2, the simplified form.
func WistreichShutt(c SpreadCase) float64 {
	r := c.Bite / c.Width
	return 0.14 + 0.36*r - 0.054*r*r
}

// Sagisaka is (b/w)/(1 + b/w).
func Sagisaka(c SpreadCase) float64 {
	r := c.Bite / c.Width
	return r / (1 + r)
}

// RollSpreadLaws are the laws for flat rolling. They differ among themselves by
// a factor of two.
func RollSpreadLaws() []SpreadLaw {
	return []SpreadLaw{
		{"Wusatowski 1969", "read in excerpt (two transcriptions)", Wusatowski},
		{"Sparling 1961", fromMemory, Sparling},
		{"El-Kalay, Sparling 1968, smooth, light scale", fromMemory, elKalay(0.851, 1.766, 0.643, 0.386, -0.104)},
		{"El-Kalay, Sparling 1968, smooth, heavy scale", fromMemory, elKalay(0.955, 1.844, 0.643, 0.386, -0.104)},
		{"El-Kalay, Sparling 1968, rough, light scale", fromMemory, elKalay(0.993, 2.186, 0.569, 0.402, -0.123)},
		{"El-Kalay, Sparling 1968, rough, heavy scale", fromMemory, elKalay(0.980, 2.105, 0.569, 0.402, -0.123)},
		{"Helmi, Alexander 1968", fromMemory, HelmiAlexander},
		{"Beese 1972", fromMemory, Beese},
		{"Hill 1950", fromMemory, HillSpread},
		{"Shibahara 1981", fromMemory, Shibahara},
		{"Ekelund", fromMemory, EkelundSpread},
	}
}

// Wusatowski is 10^(-1.269 (w/h)(h/D)^0.56) for h1/h0 above 0.5, and
// 10^(-3.457 (w/h)(h/D)^0.968) (from memory) below.
func Wusatowski(c SpreadCase) float64 {
	delta, hd := c.Width/c.H0, c.H0/(2*c.Radius)
	if c.H1/c.H0 < 0.5 {
		return math.Pow(10, -3.457*delta*math.Pow(hd, 0.968))
	}
	return math.Pow(10, -1.269*delta*math.Pow(hd, 0.56))
}

// Sparling is 0.981 exp(-0.6735 * 2.395 w^0.9/(R^0.55 h^0.1 dh^0.25)); the
// powers of length cancel.
func Sparling(c SpreadCase) float64 {
	x := 2.395 * math.Pow(c.Width, 0.9) / (math.Pow(c.Radius, 0.55) * math.Pow(c.H0, 0.1) * math.Pow(c.H0-c.H1, 0.25))
	return 0.981 * math.Exp(-0.6735*x)
}

// elKalay is a exp(-b (w/h)^c (h/R)^d r^e), r the reduction.
func elKalay(a, b, c, d, e float64) func(SpreadCase) float64 {
	return func(k SpreadCase) float64 {
		r := (k.H0 - k.H1) / k.H0
		return a * math.Exp(-b*math.Pow(k.Width/k.H0, c)*math.Pow(k.H0/k.Radius, d)*math.Pow(r, e))
	}
}

// HelmiAlexander is 0.95 (w/h)^-1.1 exp(-0.707 (w/L)(h/w)^0.971).
func HelmiAlexander(c SpreadCase) float64 {
	return 0.95 * math.Pow(c.Width/c.H0, -1.1) * math.Exp(-0.707*c.Width/c.contact()*math.Pow(c.H0/c.Width, 0.971))
}

// Beese is 0.61 (w/h)^-1.3 exp(-0.38 h/L).
func Beese(c SpreadCase) float64 {
	return 0.61 * math.Pow(c.Width/c.H0, -1.3) * math.Exp(-0.38*c.H0/c.contact())
}

// HillSpread is 0.5 exp(-0.525 w/L).
func HillSpread(c SpreadCase) float64 { return 0.5 * math.Exp(-0.525*c.Width/c.contact()) }

// Shibahara is exp(-1.64 d^0.376 (w/L)^(0.016 d) (h/R)^(0.015 d)), d = w/h.
func Shibahara(c SpreadCase) float64 {
	d := c.Width / c.H0
	return math.Exp(-1.64 * math.Pow(d, 0.376) * math.Pow(c.Width/c.contact(), 0.016*d) * math.Pow(c.H0/c.Radius, 0.015*d))
}

// EkelundSpread solves w1^2 - w0^2 = 8 m L dh - 4 m (h0+h1) L ln(w1/w0), m =
// (1.6 mu L - 1.2 dh)/(h0+h1), for S.
func EkelundSpread(c SpreadCase) float64 {
	l, dh := c.contact(), c.H0-c.H1
	m := (1.6*c.Mu*l - 1.2*dh) / (c.H0 + c.H1)
	f := func(w float64) float64 {
		return w*w - c.Width*c.Width - 8*m*l*dh + 4*m*(c.H0+c.H1)*l*math.Log(w/c.Width)
	}
	lo, hi := c.Width/2, 3*c.Width
	for i := 0; i < 80; i++ {
		mid := (lo + hi) / 2
		if f(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return math.Log(lo/c.Width) / math.Log(c.H0/c.H1)
}
