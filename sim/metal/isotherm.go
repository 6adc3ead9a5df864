package metal

import "math"

// isotherm is one steel at one temperature: the potential of carbon and its
// mobility against what is stored, kg/m3. Up to four straight pieces follow one
// another: ferrite, ferrite turning to austenite, austenite, austenite beside
// cementite. On the second and the last the potential hardly moves: they are to
// carbon what a melting point is to heat.
type isotherm struct {
	u, phi [4]float64 // corners: u[0] = phi[0] = 0; end of ferrite; start and end of austenite
	slope  [4]float64 // of the pieces that start at the corners, wt % per kg/m3
	kAlpha float64    // mobility of ferrite, kg/(m s) per wt %

	percent float64       // wt % per kg/m3
	pre     float64       // Ågren's law: pre (1 + y (1-y) q) exp(b y)
	q, b    float64       //
	slow    float64       // factor of the alloy on the diffusivity
	law     Diffusivity   // instead of Ågren's
	tempK   float64       //
	table   *solventCurve // instead of all this: nickel
}

// plateau is the rise of the potential over a two-phase piece, as a share: it
// keeps the stored carbon a function of the potential and moves the ends of the
// piece by less than the diagram is known.
const plateau = 0.01

// newIsotherm is layer l at tempK.
func newIsotherm(l *layer, law Diffusivity, tempK float64) *isotherm {
	s := &isotherm{percent: 100 / l.density, law: law, tempK: tempK, slow: l.slow}
	switch l.kind {
	case nickel:
		s.table = nickelCurve(l.density, tempK)
		return s
	case barrier:
		s.table = barrierCurve(l.density)
		return s
	}
	e := 1/tempK - 2.221e-4
	s.pre, s.q, s.b = 4.53e-7*math.Exp(-e*17767), 8339.9/tempK, e*26436
	switch {
	case l.kind == austenitic || tempK >= l.a3:
		s.austenite(l, 0)
	case tempK > l.a1:
		s.austenite(l, a3Carbon(l.a1, l.a3, tempK))
	default:
		s.belowA1(l)
	}
	return s
}

// austenite sets the pieces above a1. phi3 is the potential at which ferrite
// and austenite meet, 0 where there is no ferrite.
func (s *isotherm) austenite(l *layer, phi3 float64) {
	var uFerrite, uStart float64
	if phi3 > 0 {
		k := ferriteCarbon(l.a1, l.a3, s.tempK) / phi3
		uFerrite, uStart = k*phi3/s.percent, l.factor*phi3*(1+plateau)/s.percent
		s.kAlpha = InFerrite(s.tempK) * k / s.percent
	}
	most := math.Max(l.saturation(s.tempK)/l.factor, phi3*(1+2*plateau))
	s.u = [4]float64{0, uFerrite, uStart, l.factor * most / s.percent}
	s.phi = [4]float64{0, phi3, phi3 * (1 + plateau), most}
	s.slopes()
	s.slope[3] = 1e-3 * s.slope[2]
}

// belowA1 sets ferrite, and ferrite beside cementite: one corner that the
// other pieces follow in the same line.
func (s *isotherm) belowA1(l *layer) {
	most := ferriteBesideCarbide(s.tempK)
	s.kAlpha = InFerrite(s.tempK) * most / eutectoidC / s.percent
	u1 := most / s.percent
	far := 1.1 * 6.69 / s.percent // cementite
	const flat = 1e-6             // here the whole step of carbon lies on the piece
	s.u = [4]float64{0, u1, far, 2 * far}
	s.phi = [4]float64{0, eutectoidC, eutectoidC * (1 + flat), eutectoidC * (1 + 2*flat)}
	s.slopes()
	s.slope[3] = s.slope[2]
	s.pre = 0 // no austenite: the mobility stays that of ferrite
}

func (s *isotherm) slopes() {
	for i := range 3 {
		if s.u[i+1] > s.u[i] {
			s.slope[i] = (s.phi[i+1] - s.phi[i]) / (s.u[i+1] - s.u[i])
		}
	}
}

// look is the potential, its slope and the mobility at the stored carbon u.
func (s *isotherm) look(u float64) (phi, slope, kappa float64) {
	if s.table != nil {
		return s.table.look(u)
	}
	switch {
	case u >= s.u[2] || s.u[2] == 0: // also below zero, by an overshoot, of austenite alone
		if s.pre == 0 {
			return s.phi[2] + (u-s.u[2])*s.slope[2], s.slope[2], s.kAlpha
		}
		if u > s.u[3] {
			return s.phi[3] + (u-s.u[3])*s.slope[3], s.slope[3], s.gamma(s.u[3])
		}
		return s.phi[2] + (u-s.u[2])*s.slope[2], s.slope[2], s.gamma(u)
	case u < s.u[1]:
		return u * s.slope[0], s.slope[0], s.kAlpha
	}
	kappa = s.kAlpha
	if s.pre > 0 {
		share := (u - s.u[1]) / (s.u[2] - s.u[1])
		kappa += share * (s.gamma(s.u[2]) - s.kAlpha)
	}
	return s.phi[1] + (u-s.u[1])*s.slope[1], s.slope[1], kappa
}

// gamma is the mobility of austenite, D du/dphi.
func (s *isotherm) gamma(u float64) float64 {
	w := math.Max(0, u*s.percent)
	var d float64
	if s.law != nil {
		d = s.law(s.tempK, w)
	} else {
		y := 55.845 / 12.011 * w / (100 - w)
		d = s.pre * (1 + y*(1-y)*s.q) * exp(s.b*y)
	}
	return d * s.slow / s.slope[2]
}

// solventCurve is a metal that holds carbon in proportion to its activity: a
// table in equal steps of the potential.
type solventCurve struct {
	u    []float64 // kg/m3 at k * step
	d    float64   // m2/s
	step float64   // wt %
}

// nickelCurve is nickel at tempK: solubility times the activity of the carbon
// in plain austenite of the same potential.
func nickelCurve(density, tempK float64) *solventCurve {
	c := &solventCurve{d: InNickel(tempK), step: 0.1}
	s := NickelSolubility(tempK) * density / 100
	for k := range 26 {
		c.u = append(c.u, s*Activity(tempK, float64(k)*c.step))
	}
	return c
}

// barrierCurve lets nothing through and holds next to nothing.
func barrierCurve(density float64) *solventCurve {
	return &solventCurve{u: []float64{0, 1e-6 * density}, step: 2.5}
}

func (c *solventCurve) look(u float64) (phi, slope, kappa float64) {
	i := 0
	for i < len(c.u)-2 && u > c.u[i+1] {
		i++
	}
	slope = c.step / (c.u[i+1] - c.u[i])
	return float64(i)*c.step + (u-c.u[i])*slope, slope, c.d / slope
}

// exp is math.Exp to 2e-6 at 1 and 4e-4 at 2.8, the most it meets here: a
// quarter of the time, in the innermost loop of the package.
func exp(x float64) float64 {
	x /= 8
	p := 1 + x*(1+x*(0.5+x*(1.0/6+x/24)))
	p *= p
	p *= p
	return p * p
}
