package unit

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// maxExponent bounds the power of ten in a number; 1e30 of any unit here is
// out of all measure, and far inside what a float64 holds.
const maxExponent = 30

var (
	mixedForm   = regexp.MustCompile(`^(?:([0-9]{1,9})(?: |- ?))?([0-9]{1,9})/([0-9]{1,9})`)
	decimalForm = regexp.MustCompile(`^(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE]([+-]?[0-9]+))?`)
)

// number reads the number at the start of s: a fraction, a whole and a
// fraction, or a decimal. It has no sign. The problem is empty on success,
// else the middle of an error message.
func number(s string) (value *big.Rat, rest, problem string) {
	if f := mixedForm.FindStringSubmatch(s); f != nil {
		value, problem = fraction(f[1], f[2], f[3])
		return value, s[len(f[0]):], problem
	}
	d := decimalForm.FindStringSubmatch(s)
	if d == nil {
		if s == "" {
			return nil, "", "is empty"
		}
		return nil, "", "does not start with a number"
	}
	if d[1] != "" {
		if e, err := strconv.Atoi(d[1]); err != nil || e > maxExponent || e < -maxExponent {
			return nil, "", "is out of all measure"
		}
	}
	value, ok := new(big.Rat).SetString(d[0])
	if !ok {
		return nil, "", "has a number that cannot be read"
	}
	if limit := new(big.Rat).SetInt(pow10(maxExponent)); value.Cmp(limit) > 0 {
		return nil, "", "is out of all measure"
	}
	return value, s[len(d[0]):], ""
}

// fraction is whole + num/den; whole may be empty, and then the fraction may
// be improper.
func fraction(whole, num, den string) (value *big.Rat, problem string) {
	n, d := atoi(num), atoi(den)
	switch {
	case d == 0:
		return nil, "divides by zero"
	case whole != "" && n >= d:
		return nil, "has a fraction that is not smaller than one"
	}
	value = big.NewRat(n, d)
	return value.Add(value, big.NewRat(atoi(whole), 1)), ""
}

// atoi reads at most nine digits, as matched by mixedForm; none is zero.
func atoi(digits string) int64 {
	n := int64(0)
	for _, c := range digits {
		n = 10*n + int64(c-'0')
	}
	return n
}

func pow10(n int64) *big.Int {
	return new(big.Int).Exp(big.NewInt(10), big.NewInt(n), nil)
}

// sign takes a sign off the start of s.
func sign(s string) (rest string, negative bool) {
	switch {
	case strings.HasPrefix(s, "-"):
		return strings.TrimPrefix(s[1:], " "), true
	case strings.HasPrefix(s, "+"):
		return strings.TrimPrefix(s[1:], " "), false
	}
	return s, false
}

// tidy replaces what typesetting and phones put in place of plain characters,
// and brings white space to single spaces.
func tidy(s string) string {
	return strings.Join(strings.Fields(spelling.Replace(s)), " ")
}

// spelling maps look-alikes to the plain characters the grammar knows. A
// fraction in one character gets a space before it, so "1½" is "1 1/2".
var spelling = strings.NewReplacer(
	"−", "-", "‐", "-", "‑", "-", "–", "-", "⁄", "/", "µ", "u",
	"º", "°", "˚", "°", "℃", "°C", "℉", "°F",
	"“", `"`, "”", `"`, "″", `"`, "''", `"`, "‘", "'", "’", "'", "′", "'",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// product multiplies the exact numbers in text, separated by spaces. The text
// is one of this package's own constants; a test builds them all.
func product(text string) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range strings.Fields(text) {
		num, den, _ := strings.Cut(f, "/")
		x, ok := new(big.Rat).SetString(num)
		if !ok {
			panic("unit: bad factor " + f)
		}
		p.Mul(p, x)
		if den == "" {
			continue
		}
		y, ok := new(big.Rat).SetString(den)
		if !ok {
			panic("unit: bad factor " + f)
		}
		p.Quo(p, y)
	}
	return p
}
