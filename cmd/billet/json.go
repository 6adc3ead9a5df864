package main

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"

	"billet/sim"
	"billet/sim/unit"
)

// heading is what every answer in JSON begins with.
type heading struct {
	Command  string   `json:"command"`
	Title    string   `json:"title"`
	Warnings []string `json:"warnings"`
	Cautions []string `json:"cautions"`
	Assumed  []string `json:"assumed"`
}

func newHeading(name, title string, r *sim.Result) heading {
	if r == nil {
		r = &sim.Result{}
	}
	return heading{name, title, listOf(r.Warnings), listOf(r.Cautions), listOf(r.Assumed)}
}

// listOf is a list that is written [] where empty, not null.
func listOf(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// encode writes an answer as JSON with one line end after it. Answers hold
// finite numbers only (number sees to it), so it cannot fail.
func encode(v any) []byte {
	b := &bytes.Buffer{}
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		panic("cmd/billet: " + err.Error())
	}
	return numbers.ReplaceAllFunc(b.Bytes(), func(list []byte) []byte {
		return bytes.Join(bytes.Fields(list), nil)
	})
}

// numbers is a list of numbers over several lines, which encode writes in one.
// It can't match inside a string, where JSON has no line ends.
var numbers = regexp.MustCompile(`\[\n\s+(?:(?:-?[0-9][-+.0-9eE]*|null),?\n\s*)+\]`)

// number is a number in JSON: rounded to a millionth, far finer than anything
// known, so that 20 °C is 20 and not 20.000000000000057; null where it is not
// finite.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n.rounded()))
}

// rounded is n to a millionth, and never a negative zero.
func (n number) rounded() number {
	if math.Abs(float64(n)) < 1e9 {
		n = number(math.Round(float64(n)*1e6) / 1e6)
	}
	if n == 0 {
		return 0
	}
	return n
}

func celsius(tK float64) number       { return number(tK - unit.ZeroCelsius) }
func millimetres(m float64) number    { return number(m * 1e3) }
func kilojoules(joule float64) number { return number(joule / 1e3) }

// each turns a row of SI values into numbers.
func each(values []float64, f func(float64) number) []number {
	out := make([]number, len(values))
	for i, v := range values {
		out[i] = f(v)
	}
	return out
}

func seconds(s float64) number { return number(s) }

// optional is a number that may not apply.
func optional(ok bool, n number) *number {
	if !ok {
		return nil
	}
	return &n
}

// rangeJSON is a range as [low, high], high null where there is none; null
// where the range does not apply. The zero value was not asked for.
type rangeJSON struct {
	asked, ok bool
	low, high number
}

func rangeOf(r sim.Range) rangeJSON { return rangeJSON{true, r.OK, number(r.Low), number(r.High)} }

// MarshalJSON implements json.Marshaler.
func (r rangeJSON) MarshalJSON() ([]byte, error) {
	if !r.ok {
		return []byte("null"), nil
	}
	return json.Marshal([2]number{r.low, r.high})
}
