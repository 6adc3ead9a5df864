package heat

import (
	"fmt"
	"math"
	"testing"

	"billet/sim/steel"
)

// changingMaterial: a conductivity that falls with temperature, and a material
// that takes up latent heat.
func changingMaterial(t *testing.T) []comparison {
	return append([]comparison{fallingConductivity(t)}, latentFront(t)...)
}

// fallingConductivity is a slab between 700 and 100 °C with k = 54 − 0.0333 T.
// The films are such that the faces come to those temperatures only if the
// flux is right: q·l = ∫k dT (Kirchhoff's transform: Carslaw and Jaeger section
// 2.16, from memory).
func fallingConductivity(t *testing.T) comparison {
	const h, hot, cold, thick = 20e3, 700.0, 100.0, 0.020
	theta := func(c float64) float64 { return 54*c - 0.0333/2*c*c }
	q := (theta(hot) - theta(cold)) / thick
	mid := root(cold, hot, func(c float64) float64 { return theta(c) - (theta(hot)+theta(cold))/2 })
	if math.Abs(q-1220400) > 1e-3 || math.Abs(mid-363.702949205) > 1e-8 {
		t.Errorf("q %.3f, middle %.9f; computed apart 1220400 and 363.702949205", q, mid)
	}
	m := plain("EN conductivity", 0, 7850, 650)
	m.Conductivity = steel.Curve{T: []float64{zeroC, 800 + zeroC}, V: []float64{54, 54 - 0.0333*800}}
	e := experiment{body: slab(m, thick), start: 400, times: []float64{600},
		stages: lasting(Surroundings{Bottom: film(h, hot+q/h), Top: film(h, cold-q/h)}, 600),
		at:     []place{{0, 0, 0.5, 0.5}, {0, 0.5, 0.5, 0.5}, {0, 1, 0.5, 0.5}}}
	return each("slab 20 mm, k = 54 − 0.0333 T, steady: both faces and the middle", "Kirchhoff's transform (Carslaw and Jaeger section 2.16, from memory)", 1,
		func(a float64) float64 { return e.run(t, a).worst(t, [][]float64{{hot, mid, cold}}) })
}

// stepping is a material that takes up latent J/kg over a ramp of width K about
// melt °C.
func stepping(s stuff, melt, latent, width float64) steel.Material {
	m := plain(fmt.Sprintf("step of %g K", width), s.k, s.rho, s.c)
	lo, hi := melt-width/2, melt+width/2
	m.Base = steel.Curve{T: []float64{20 + zeroC, lo + zeroC, hi + zeroC, 1300 + zeroC},
		V: []float64{0, s.c * (lo - 20), s.c*(hi-20) + latent, s.c*1280 + latent}}
	return m
}

// latentFront is Neumann's problem, whose front has no width. The model spreads the
// latent heat over a ramp, as a steel does (on heating over 20 K and more); behind
// a face held at 1100 °C, far harsher than a forge.
func latentFront(t *testing.T) (out []comparison) {
	const long, s = 0.15, 60.0
	exact := newFrozen(billet, 1100, 740, 20, 82e3)
	if front, at := exact.front(s), exact.at(0.005, s); math.Abs(exact.lambda-0.2907857129) > 1e-9 || math.Abs(front-0.01095810186) > 1e-10 || math.Abs(at-932.081631) > 1e-5 {
		t.Errorf("λ %.10f, front %.9g m, %.6f °C; computed apart 0.2907857129, 0.01095810186, 932.081631", exact.lambda, front, at)
	}
	const source = "Neumann's solution (Carslaw and Jaeger section 11.2, from memory)"
	for _, width := range []float64{1, 5, 20, 40} {
		e := experiment{body: slab(stepping(billet, 740, 82e3, width), long), start: 20, times: []float64{s},
			stages: lasting(Surroundings{Bottom: fixed(1100)}, s), at: []place{{0, 0.005 / long, 0.5, 0.5}, {0, 0.02 / long, 0.5, 0.5}}}
		want := [][]float64{{exact.at(0.005, s), exact.at(0.02, s)}}
		fronts := comparison{name: fmt.Sprintf("front of latent heat, ramp %g K: depth after 60 s", width), source: source, what: "5, 1, 0.5, 0.1 K", unit: "%"}
		temps := each(fmt.Sprintf("front of latent heat, ramp %g K: 5 and 20 mm deep after 60 s", width), source, 1, func(a float64) float64 {
			o := e.run(t, a)
			fronts.got = append(fronts.got, 100*math.Abs(depthOf(o.field, 740+zeroC)/exact.front(s)-1))
			fronts.limit = append(fronts.limit, 1)
			return o.worst(t, want)
		})
		fronts.note = "an enthalpy scheme with cells of 0.5 mm, computed apart"
		out = append(out, temps, fronts)
	}
	return out
}

// depthOf is the height at which the temperature falls through tK.
func depthOf(f *Field, tK float64) float64 {
	z, v := f.Profile()
	for k := 1; k < len(z); k++ {
		if v[k-1] >= tK && v[k] < tK {
			return z[k-1] + (v[k-1]-tK)/(v[k-1]-v[k])*(z[k]-z[k-1])
		}
	}
	return math.NaN()
}
