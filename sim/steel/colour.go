package steel

import (
	"fmt"
	"math"
	"strings"
)

// Colour is a colour of heat as a published table gives it, in dim light.
type Colour struct {
	Name      string
	Low, High float64 // K
	Source    string  // key of Sources
}

// shownTable is the table by which colours are shown: the only one of those
// read that gives ranges.
const shownTable = "chapman"

// leastHalf is the least half-width (K) a colour name stands for: tables
// differ by that much from each other.
const leastHalf = 60.0

// Colours lists the heat colours shown, coldest first: Chapman, Workshop
// Technology (1972), as quoted by an encyclopedia.
func Colours() []Colour {
	var out []Colour
	for _, c := range everyColour() {
		if c.Source == shownTable {
			out = append(out, c)
		}
	}
	return out
}

// everyColour lists the colours of all tables, the shown one first. A table
// that gives single temperatures yields Low = High.
func everyColour() []Colour {
	b, err := library()
	if err != nil {
		return nil
	}
	var out []Colour
	for _, k := range b.order {
		name, property, _ := strings.Cut(k, "\x00")
		table, colour, is := strings.Cut(name, "/")
		if !is {
			continue
		}
		v := b.rows[k][0].si()
		switch property {
		case "point":
			out = append(out, Colour{colour, v, v, table})
		case "low":
			out = append(out, Colour{colour, v, b.rows[key(name, "high")][0].si(), table})
		}
	}
	return out
}

// ColourAt returns the name of the colour at tK (K), "black" when it is too
// cold to glow in dim light.
func ColourAt(tK float64) string {
	name := "black"
	for _, c := range Colours() {
		if tK >= c.Low {
			name = c.Name
		}
	}
	return name
}

// ColourNames lists every name ColourByName accepts.
func ColourNames() []string {
	var out []string
	for _, c := range everyColour() {
		out = append(out, c.Name)
	}
	return out
}

// ColourByName returns the middle (K) of the range a published table gives
// for a colour and half its width (K), at least 60 K. Capitals, hyphens and
// "heat" after the name do not count. The error lists the accepted names.
func ColourByName(name string) (mid, half float64, err error) {
	want := strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(name), "-", " ")), " ")
	want = strings.TrimSuffix(want, " heat")
	for _, c := range everyColour() {
		if c.Name == want {
			return (c.Low + c.High) / 2, math.Max(leastHalf, (c.High-c.Low)/2), nil
		}
	}
	return 0, 0, fmt.Errorf("colour: %q; accepted: %s", name, strings.Join(ColourNames(), ", "))
}
