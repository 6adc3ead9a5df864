package steel

import (
	"fmt"
	"math"
)

// shida is Shida, J. Japan Soc. Technol. Plasticity 10 (103), 1969, 610-617:
//
//	sigma [kgf/mm2] = s_d f_w (rate/10)^m,  tau = (t_C + 273)/1000
//	f_w = 1.3 (e/0.2)^n - 0.3 (e/0.2),  n = 0.41 - 0.07 C
//	austenite (tau >= tau_d): s_d = 0.28 exp(5/tau - 0.01/(C + 0.05)),
//	    m = (-0.019 C + 0.126) tau + 0.075 C - 0.050
//	below tau_d = 0.95 (C + 0.41)/(C + 0.32):
//	    s_d = 0.28 q exp(5/tau_d - 0.01/(C + 0.05)),
//	    q = 30 (C + 0.9) [tau - 0.95 (C + 0.49)/(C + 0.42)]^2 + (C + 0.06)/(C + 0.09),
//	    m = (0.081 C - 0.154) tau - 0.019 C + 0.207 + 0.027/(C + 0.32)
//
// with C in wt % (0.07 to 1.2), 700 to 1200 C, 0.1 to 100 1/s, strain to 0.7.
// The formula was read in excerpts of public transcriptions; the range and the
// coefficient -0.154 are from memory, the latter borne out by the two branches
// meeting at tau_d.
type shida struct {
	carbon    float64 // wt %, within the formula's range
	factor    float64 // alloy
	austenite bool    // only the austenite branch
}

const (
	kgfPerMM2  = 9.80665e6 // Pa, exact
	shidaLeast = 0.01      // strain below which the law is held
	shidaMost  = 0.7       // strain above which it is held
)

// shidaCarbon keeps carbon in the range of the formula; below 0.07 % its
// exponential would fall away steeply.
func shidaCarbon(c float64) float64 { return math.Max(0.07, math.Min(1.2, c)) }

// shidaDivide is tau_d.
func shidaDivide(c float64) float64 { return 0.95 * (c + 0.41) / (c + 0.32) }

func shidaAustenite(c, tau float64) (s, m float64) {
	return 0.28 * math.Exp(5/tau-0.01/(c+0.05)), (-0.019*c+0.126)*tau + 0.075*c - 0.050
}

func shidaLow(c, tau float64) (s, m float64) {
	d := tau - 0.95*(c+0.49)/(c+0.42)
	q := 30*(c+0.9)*d*d + (c+0.06)/(c+0.09)
	s = 0.28 * q * math.Exp(5/shidaDivide(c)-0.01/(c+0.05))
	return s, (0.081*c-0.154)*tau - 0.019*c + 0.207 + 0.027/(c+0.32)
}

// strainFactor is f_w, held below 0.01 and above 0.7, where it would fall.
func (l shida) strainFactor(strain float64) float64 {
	n := 0.41 - 0.07*l.carbon
	x := math.Max(shidaLeast, math.Min(shidaMost, strain)) / 0.2
	return 1.3*math.Pow(x, n) - 0.3*x
}

func (l shida) stress(strain, rate, tK float64) (float64, bool) {
	in := strain <= shidaMost && rate >= 0.1 && rate <= 100 && tK >= zeroC+700 && tK <= zeroC+1200
	tau := (math.Max(tK, zeroC+600) - 0.15) / 1000 // the paper adds 273, not 273.15; held below 600 C
	s, m := shidaAustenite(l.carbon, tau)
	if !l.austenite && tau < shidaDivide(l.carbon) {
		s, m = shidaLow(l.carbon, tau)
	}
	return l.factor * kgfPerMM2 * s * l.strainFactor(strain) * math.Pow(rate/10, m), in
}

func (l shida) says() string {
	s := fmt.Sprintf("Shida 1969 at %.2f %%C, 700 to 1200 C, 0.1 to 100 1/s, strain to 0.7; held below 600 C, below strain 0.01 and above 0.7", l.carbon)
	if l.austenite {
		s += ", austenite branch only"
	}
	if l.factor != 1 {
		s += fmt.Sprintf(", times %g", l.factor)
	}
	return s
}
