package layers

import "math"

// The flow raises a number to a power at every Gauss point of every iteration;
// power does it from tables in a third of math.Pow's time.
const (
	powerBits = 7
	powerSize = 1 << powerBits
)

// powerTables are, for 128 parts of 1..2 with middles c: 1/c and log2 c; and 2
// to the powers k/128.
var powerTables = func() (t struct{ inverse, log, exp [powerSize]float64 }) {
	for i := range t.inverse {
		c := 1 + (float64(i)+0.5)/powerSize
		t.inverse[i] = 1 / c
		// of the reciprocal as rounded, so that x = (x t)(1/t) loses nothing
		t.log[i] = -math.Log2(t.inverse[i])
		t.exp[i] = math.Exp2(float64(i) / powerSize)
	}
	return t
}()

// power is q^a for q > 0 and |a| <= 1, to 6e-15 of it for q between 1e-12 and
// 1e12. With r the rest of q beside a table's middle, |r| < 1/256, the
// logarithm's series is cut at r^7/7 < 2e-18; the exponential's at 5e-19.
func power(q, a float64) float64 {
	if !(q > 1e-150 && q < 1e150) {
		return math.Pow(q, a)
	}
	bits := math.Float64bits(q)
	i := bits >> (52 - powerBits) & (powerSize - 1)
	m := math.Float64frombits(bits&(1<<52-1) | 1023<<52)
	r := m*powerTables.inverse[i] - 1
	ln := r * (1 + r*(-1.0/2+r*(1.0/3+r*(-1.0/4+r*(1.0/5-r*(1.0/6))))))
	log2 := float64(int(bits>>52)-1023) + (powerTables.log[i] + ln*math.Log2E)

	y := a * log2 * powerSize
	n := int(y+(1<<20)) - 1<<20 // floor: |y| < 2^16
	f := (y - float64(n)) * (math.Ln2 / powerSize)
	e := 1 + f*(1+f*(1.0/2+f*(1.0/6+f*(1.0/24+f*(1.0/120+f*(1.0/720))))))
	scale := math.Float64frombits(uint64(1023+n>>powerBits) << 52)
	return powerTables.exp[n&(powerSize-1)] * e * scale
}
