package unit

import (
	"fmt"
	"math/big"
	"strings"
)

// maxText is the longest text Parse looks at, in bytes. No quantity needs as
// much; the bound keeps exact arithmetic on hostile input cheap.
const maxText = 100

// Parse reads a quantity of the given kind and returns it in SI base units:
// m, K, s, N, m/s, rad/s, 1/s, W, J, Hz, Pa, W/(m² K), W/(m K), J/(kg K),
// kg/m³, a fraction, kg. Temperatures are returned in kelvin, shares as a
// fraction (0.20 % is 0.0020).
//
// A number may be whole, decimal, with a power of ten, a fraction or a whole
// and a fraction ("3/8", "1-1/2", "1 1/2", "1½"), with a sign before it. Times,
// feet and inches, and pounds and ounces may be sums, larger unit first
// ("1 min 30 s"); a sign before a sum holds for all of it. The arithmetic is
// exact and rounded once, so equal sizes in different units give equal numbers.
//
// The error says what was given and what is accepted; it comes for a number
// without a unit, an unknown unit, a number that is not finite or is out of all
// measure, and a temperature below absolute zero. The sign of other quantities
// is left to the caller. An accepted number is finite and never negative zero.
func Parse(kind Kind, text string) (si float64, err error) {
	if !kind.valid() {
		return 0, fmt.Errorf("%v is not a kind of quantity", kind)
	}
	if len(text) > maxText {
		return 0, refuse(kind, text, "is too long")
	}
	total, err := sum(kind, text)
	if err != nil {
		return 0, err
	}
	if kind == Temperature && total.Sign() < 0 {
		return 0, refuse(kind, text, "is below absolute zero")
	}
	si, _ = total.Float64()
	return si, nil
}

// sum reads the terms of a quantity and adds them up.
func sum(kind Kind, text string) (*big.Rat, error) {
	rest, negative := sign(tidy(text))
	total := new(big.Rat)
	var last *measure
	for {
		value, after, problem := number(rest)
		if problem != "" {
			return nil, refuse(kind, text, problem)
		}
		name, next := splitUnit(kind, after)
		m, problem := find(kind, name, next)
		if problem != "" {
			return nil, refuse(kind, text, problem)
		}
		if last != nil && !m.follows(last) {
			return nil, refuse(kind, text, fmt.Sprintf("has %q after %q: sums go from large to small units", name, last.names[0]))
		}
		total.Add(total, value.Mul(value, m.factor))
		last = m
		if rest = next; rest == "" {
			break
		}
	}
	if negative {
		total.Neg(total)
	}
	if last.offset != nil {
		total.Add(total, last.offset)
	}
	return total, nil
}

// follows reports whether m may stand after larger in a sum.
func (m *measure) follows(larger *measure) bool {
	return m.sum != "" && m.sum == larger.sum && m.factor.Cmp(larger.factor) < 0
}

// refuse builds the one form of error this package returns for a text.
func refuse(kind Kind, text, problem string) error {
	const shown = 40 // characters of a bad text worth repeating
	if r := []rune(text); len(r) > shown {
		text = string(r[:shown]) + "…"
	}
	accepted := kind.Accepted()
	if units := kind.Units(); len(units) > 1 {
		accepted += " (" + strings.Join(units, ", ") + ")"
	}
	return fmt.Errorf("%q %s; accepted is %s", text, problem, accepted)
}

// splitUnit cuts the text after a number into the unit's name and the rest of
// a sum. Only kinds that allow sums are cut; their units hold no digits.
func splitUnit(kind Kind, s string) (name, rest string) {
	s = strings.TrimPrefix(s, " ")
	cut := len(s)
	if sums[kind] {
		if i := strings.IndexAny(s, "0123456789"); i >= 0 {
			cut = i
			if i > 0 && s[i-1] == '.' { // "1 ft .5 in"
				cut--
			}
		}
	}
	return strings.TrimSuffix(s[:cut], " "), s[cut:]
}

// find looks a unit's name up among those of the kind. The problem is empty
// when it is found, else the middle of an error message. Capitals do not
// matter ("KN", "Mpa"), except in mPa, which is a unit of its own.
func find(kind Kind, name, rest string) (m *measure, problem string) {
	if name == "" && rest == "" {
		return nil, "has no unit"
	}
	if m := byName[kind][plain(name)]; m != nil && name != "mPa" {
		return m, ""
	}
	for other := range kindCount {
		if byName[other][plain(name)] != nil && other != kind && name != "mPa" {
			return nil, fmt.Sprintf("is %s %v", kinds[other].article, other)
		}
	}
	if name == "" || strings.ContainsRune("0123456789.,+-/'", rune(name[0])) {
		if strings.HasPrefix(name, ",") {
			return nil, "has a comma in its number: write a decimal point"
		}
		return nil, "has a number that cannot be read"
	}
	return nil, fmt.Sprintf("has an unknown unit %q", name)
}

// byName finds a unit by its plain name; sums marks the kinds that have sums.
var byName, sums = index()

func index() (names [kindCount]map[string]*measure, sums [kindCount]bool) {
	for k := range measures {
		names[k] = make(map[string]*measure)
		for i := range measures[k] {
			m := &measures[k][i]
			for _, name := range m.names {
				names[k][plain(name)] = m
			}
			sums[k] = sums[k] || m.sum != ""
		}
	}
	return names, sums
}

// plain brings a unit's name to the form names are compared in: small letters,
// no space around signs, no full stop at the end.
func plain(name string) string {
	return strings.ToLower(strings.TrimSuffix(unitSpelling.Replace(name), "."))
}

var unitSpelling = strings.NewReplacer(
	"²", "2", "³", "3", "^", "", " · ", " ", "·", " ", "⋅", " ", "*", " ",
	" / ", "/", " /", "/", "/ ", "/", "( ", "(", " )", ")", "° ", "°")
