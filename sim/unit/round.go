package unit

import (
	"math"
	"strconv"
	"strings"
)

// Unknown is what every formatter writes for a number that is not finite or
// is out of all measure.
const Unknown = "unknown"

// maxTicks bounds the count of steps a number is rounded to; beyond it a
// float64 no longer tells steps apart.
const maxTicks = 1e15

// tieSlack, in steps: a value this close to half a step counts as the half and
// is rounded away from zero. It covers the last bits lost in converting, so a
// printed 12.25 mm always becomes 12.3 mm, and is far below any real size.
const tieSlack = 1e-9

// rounding is the direction in which steps are counted.
type rounding int

const (
	nearest rounding = iota
	down             // toward minus infinity
	up               // toward plus infinity
)

// ticks counts the steps in x. It reports false for a count that is not finite
// or too large.
func ticks(x, step float64, r rounding) (n int64, ok bool) {
	q := x / step
	if math.IsNaN(q) || math.Abs(q) > maxTicks {
		return 0, false
	}
	switch r {
	case down:
		return int64(math.Floor(q + tieSlack)), true
	case up:
		return int64(math.Ceil(q - tieSlack)), true
	}
	n = int64(math.Floor(math.Abs(q) + 0.5 + tieSlack))
	if q < 0 {
		n = -n
	}
	return n, true
}

// grade is one line of a formatting rule: values that come out below a limit
// are shown in this unit, in steps of step/10^decimals. A rule is a list of
// grades, finest first; the last has no limit. Counting is in integers, so a
// value rounded up to the limit is shown by the next grade ("1.0 kN", never
// "1000 N").
type grade struct {
	unit     string
	size     float64 // of the unit in SI base units
	step     int64   // in the last decimal shown
	decimals int
	below    int64 // in the unit; 0 for no limit
}

// write shows an SI value by the first grade it comes out below the limit of.
func write(si float64, rule []grade) string {
	for _, g := range rule {
		p := pow(g.decimals)
		n, ok := ticks(si/g.size*float64(p), float64(g.step), nearest)
		if !ok {
			return Unknown
		}
		n *= g.step
		if g.below == 0 || abs(n) < g.below*p {
			return decimal(n, g.decimals) + " " + g.unit
		}
	}
	return Unknown
}

// decimal writes n/10^decimals. Zero has no sign.
func decimal(n int64, decimals int) string {
	p := pow(decimals)
	s := strconv.FormatInt(abs(n)/p, 10)
	if decimals > 0 {
		part := strconv.FormatInt(abs(n)%p, 10)
		s += "." + strings.Repeat("0", decimals-len(part)) + part
	}
	if n < 0 {
		s = "-" + s
	}
	return s
}

// trimmed is decimal without the zeros at the end of the decimals.
func trimmed(n int64, decimals int) string {
	for decimals > 0 && n%10 == 0 {
		n, decimals = n/10, decimals-1
	}
	return decimal(n, decimals)
}

// vulgar writes n/den as a whole and a reduced fraction: "1-1/2", "3/32", "2".
func vulgar(n, den int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, num := n/den, n%den
	for num > 0 && num%2 == 0 && den%2 == 0 {
		num, den = num/2, den/2
	}
	w, f := strconv.FormatInt(whole, 10), strconv.FormatInt(num, 10)+"/"+strconv.FormatInt(den, 10)
	switch {
	case num == 0:
		return sign + w
	case whole == 0:
		return sign + f
	}
	return sign + w + "-" + f
}

func abs(n int64) int64 { return max(n, -n) }

func pow(decimals int) int64 {
	p := int64(1)
	for range decimals {
		p *= 10
	}
	return p
}
