package jobfile

import (
	"fmt"
	"math"

	"billet/sim/unit"
)

// maxRows is the longest table of value against value.
const maxRows = 2000

// pair is the kinds and ranges of the two columns of a table written as
// [["0 s", "20 C"], ["5 min", "1200 C"]].
type pair struct {
	first, second     unit.Kind
	firstIn, secondIn span
	rising            string // what the first column must do, in words
}

// pairs reads the rows of such a table. The first column must rise from row
// to row. It returns nil where anything is wrong.
func (t *table) pairs(key string, v *node, p pair) (first, second []float64) {
	example := fmt.Sprintf("rows of %s and %s", p.first.Accepted(), p.second.Accepted())
	if v.kind != isList || len(v.items) == 0 || len(v.items) > maxRows {
		t.wrong(key, v, fmt.Sprintf("1 to %d %s", maxRows, example), "")
		return nil, nil
	}
	good := true
	for i, row := range v.items {
		name := fmt.Sprintf("%s[%d]", key, i+1)
		if row.kind != isList || len(row.items) != 2 {
			t.wrong(name, row, example, "")
			good = false
			continue
		}
		a := t.parse(name, row.items[0], p.first, p.firstIn)
		b := t.parse(name, row.items[1], p.second, p.secondIn)
		if math.IsNaN(a) || math.IsNaN(b) {
			good = false
			continue
		}
		if n := len(first); n > 0 && a <= first[n-1] {
			t.wrong(name, row.items[0], p.rising, "")
			good = false
		}
		first, second = append(first, a), append(second, b)
	}
	if !good {
		return nil, nil
	}
	return first, second
}

// quantities reads a list of quantities; nil where anything is wrong.
func (t *table) quantities(key string, v *node, k unit.Kind, in span, most int) []float64 {
	if v.kind != isList || len(v.items) > most {
		t.wrong(key, v, fmt.Sprintf("a list of up to %d, each %s", most, k.Accepted()), "")
		return nil
	}
	var xs []float64
	for i, item := range v.items {
		xs = append(xs, t.parse(fmt.Sprintf("%s[%d]", key, i+1), item, k, in))
	}
	return xs
}
