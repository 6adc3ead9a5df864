package heat

import "math"

// root is where f changes sign between lo and hi.
func root(lo, hi float64, f func(float64) float64) float64 {
	rising := f(hi) > f(lo)
	for range 200 {
		mid := 0.5 * (lo + hi)
		if (f(mid) > 0) == rising {
			hi = mid
		} else {
			lo = mid
		}
	}
	return 0.5 * (lo + hi)
}

// wall is the series for a plane wall with a film on both faces: eigenvalues
// ζ tan ζ = Bi and coefficients 4 sin ζ/(2ζ + sin 2ζ) (Carslaw and Jaeger,
// Conduction of Heat in Solids, 2nd ed., section 3.10; Incropera et al.,
// Fundamentals of Heat and Mass Transfer, section 5.5; from memory).
type wall struct{ zeta, c []float64 }

func newWall(bi float64) wall {
	var w wall
	for n := range 80 {
		lo := float64(n) * math.Pi
		z := root(lo+1e-12, lo+math.Pi/2-1e-15*(1+lo), func(z float64) float64 { return z*math.Sin(z) - bi*math.Cos(z) })
		w.zeta = append(w.zeta, z)
		w.c = append(w.c, 4*math.Sin(z)/(2*z+math.Sin(2*z)))
	}
	return w
}

// at is (T − T∞)/(Ti − T∞) at the share x from the middle to the face.
func (w wall) at(x, fo float64) float64 {
	var sum float64
	for n, z := range w.zeta {
		sum += w.c[n] * math.Exp(-z*z*fo) * math.Cos(z*x)
	}
	return sum
}

// mean is the average of at over the wall.
func (w wall) mean(fo float64) float64 {
	var sum float64
	for n, z := range w.zeta {
		sum += w.c[n] * math.Exp(-z*z*fo) * math.Sin(z) / z
	}
	return sum
}

// stuff is a material of constant properties.
type stuff struct{ k, rho, c float64 }

func (s stuff) alpha() float64 { return s.k / (s.rho * s.c) }

func (s stuff) effusivity() float64 { return math.Sqrt(s.k * s.rho * s.c) }

// convected is a half-space with a film on its face: the share of the way to
// the gas (Carslaw and Jaeger section 2.7; Incropera eq. 5.63; from memory).
func (s stuff) convected(x, t, h float64) float64 {
	a := x / (2 * math.Sqrt(s.alpha()*t))
	b := h * math.Sqrt(s.alpha()*t) / s.k
	return math.Erfc(a) - math.Exp(h*x/s.k+b*b)*math.Erfc(a+b)
}

// driven is the rise, K, of a half-space with a constant flux, W/m2 (Carslaw
// and Jaeger section 2.9; Incropera eq. 5.62; from memory).
func (s stuff) driven(x, t, q float64) float64 {
	l := math.Sqrt(s.alpha() * t)
	return 2*q/s.k*l*math.Exp(-x*x/(4*l*l))/math.SqrtPi - q*x/s.k*math.Erfc(x/(2*l))
}

// drivenWall is the rise, K, of a slab insulated at x = 0 with a constant flux
// on x = length (Carslaw and Jaeger section 3.8; from memory).
func (s stuff) drivenWall(x, t, length, q float64) float64 {
	v := s.alpha()*t/(length*length) + (3*x*x/(length*length)-1)/6
	for n := 1.0; n < 200; n++ {
		sign := 1.0
		if math.Mod(n, 2) == 1 {
			sign = -1
		}
		v -= 2 / (math.Pi * math.Pi) * sign / (n * n) * math.Exp(-s.alpha()*n*n*math.Pi*math.Pi*t/(length*length)) * math.Cos(n*math.Pi*x/length)
	}
	return q * length / s.k * v
}

// touching is two half-spaces, at a and b, through a conductance h: the faces'
// temperatures after t (Carslaw and Jaeger section 2.15 gives the perfect
// contact; with h both faces follow e^{m²t} erfc(m√t) of the difference, with
// m = h(1/ea + 1/eb)).
func touching(a, b stuff, ta, tb, h, t float64) (faceA, faceB float64) {
	ea, eb := a.effusivity(), b.effusivity()
	m := h * (1/ea + 1/eb)
	y := m * math.Sqrt(t)
	g := 1 - scaledErfc(y) // share of the way to perfect contact
	return ta - (ta-tb)*eb/(ea+eb)*g, tb + (ta-tb)*ea/(ea+eb)*g
}

// scaledErfc is e^{y²} erfc(y), by its continued fraction where e^{y²} is large.
func scaledErfc(y float64) float64 {
	if y < 5 {
		return math.Exp(y*y) * math.Erfc(y)
	}
	v := y
	for n := 60.0; n > 0; n-- {
		v = y + n/2/v
	}
	return 1 / (v * math.SqrtPi)
}

// frozen is the similarity solution of a half-space whose face is held above
// the temperature tm at which the heat latent, J/kg, is taken up, with the same
// properties on both sides of the front (Neumann; Carslaw and Jaeger section
// 11.2).
type frozen struct {
	stuff
	face, melt, body, latent, lambda float64
}

func newFrozen(s stuff, face, melt, body, latent float64) frozen {
	f := frozen{stuff: s, face: face, melt: melt, body: body, latent: latent}
	f.lambda = root(1e-6, 3, func(l float64) float64 {
		e := math.Exp(-l * l)
		return math.SqrtPi*l*latent/s.c - e/math.Erf(l)*(face-melt) + e/math.Erfc(l)*(melt-body)
	})
	return f
}

func (f frozen) front(t float64) float64 { return 2 * f.lambda * math.Sqrt(f.alpha()*t) }

func (f frozen) at(x, t float64) float64 {
	e := x / (2 * math.Sqrt(f.alpha()*t))
	if e < f.lambda {
		return f.face - (f.face-f.melt)*math.Erf(e)/math.Erf(f.lambda)
	}
	return f.body + (f.melt-f.body)*math.Erfc(e)/math.Erfc(f.lambda)
}
