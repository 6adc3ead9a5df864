package jobfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"billet/sim/unit"
)

// table reads one table of the file, key by key. Each key asked for becomes
// a known one; done reports the others. What is wrong is reported and read
// as NaN, so that comparisons with it come out false and no fault is
// reported twice.
type table struct {
	*faults
	n     *node  // nil where the file does not have the table
	path  string // dotted name, "" for the file itself
	known []string
	taken []string // defaults used, as "key value"
}

// given reports whether the table stands in the file.
func (t *table) given() bool { return t.n != nil }

// get returns the value of key, nil if it is not in the file.
func (t *table) get(key string) *node {
	t.known = append(t.known, key)
	if t.n == nil {
		return nil
	}
	return t.n.kids[key]
}

func (t *table) has(key string) bool { return t.n != nil && t.n.kids[key] != nil }

// name is the full name of a key in messages.
func (t *table) name(key string) string {
	if t.path == "" {
		return key
	}
	return t.path + "." + key
}

// wrong reports the value v of key.
func (t *table) wrong(key string, v *node, accepted, hint string) {
	t.add(v, Problem{Key: t.name(key), Given: show(v), Accepted: accepted, Hint: hint})
}

// missing reports a key that must be given.
func (t *table) missing(key, accepted string) {
	t.add(t.n, Problem{Key: t.name(key), Given: nothing, Accepted: accepted})
}

// clash reports keys that exclude each other; it stands at the last of them.
func (t *table) clash(accepted string, keys ...string) {
	at := t.n.kids[keys[0]]
	for _, k := range keys {
		if v := t.n.kids[k]; v != nil && v.offset >= at.offset {
			at = v
		}
	}
	t.add(at, Problem{Key: t.name(keys[0]), Given: strings.Join(keys, " and "), Accepted: accepted})
}

// done reports the keys that nobody asked for.
func (t *table) done() {
	if t.n == nil {
		return
	}
	slices.Sort(t.known)
	t.known = slices.Compact(t.known)
	where := "the file"
	if t.path != "" {
		where = t.path
	}
	accepted := "the keys of " + where + " are " + strings.Join(t.known, ", ")
	for _, key := range t.n.keys {
		if slices.Contains(t.known, key) {
			continue
		}
		hint := didYouMean(nearest(key, t.known))
		if strings.Contains(hint, `"`+strings.ToLower(key)+`"`) {
			hint += " keys are written in small letters"
		}
		t.add(t.n.kids[key], Problem{
			Key:      t.name(shorten(key)),
			Given:    unknownKey,
			Accepted: accepted,
			Hint:     hint,
		})
	}
}

// span is the range of a quantity, both ends accepted.
type span struct{ low, high string }

func (s span) String() string { return s.low + " to " + s.high }

// slack lets a size typed in another unit meet its limit: it is above the
// rounding of a conversion and far below anything that can be measured.
const slack = 1e-9

func (s span) holds(k unit.Kind, v float64) bool {
	low, high := si(k, s.low), si(k, s.high)
	return v >= low-slack*math.Abs(low) && v <= high+slack*math.Abs(high)
}

// si parses a quantity written in this package.
func si(k unit.Kind, text string) float64 {
	v, err := unit.Parse(k, text)
	if err != nil {
		panic("jobfile: quantity in the program: " + err.Error()) // a test reads them all
	}
	return v
}

// parse reads the quantity in v, which stands under key.
func (t *table) parse(key string, v *node, k unit.Kind, in span) float64 {
	if v.kind != isText {
		hint := ""
		if v.kind == isNumber {
			hint = "write it in quotes with its unit"
		}
		t.wrong(key, v, k.Accepted(), hint)
		return math.NaN()
	}
	x, err := unit.Parse(k, v.text)
	if err != nil {
		t.wrong(key, v, k.Accepted(), reason(err, v.text, k))
		return math.NaN()
	}
	if !in.holds(k, x) {
		t.wrong(key, v, in.String(), "")
		return math.NaN()
	}
	return x
}

// reason takes out of an error of unit.Parse what is wrong with the text.
func reason(err error, text string, k unit.Kind) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	why, _, ok := strings.Cut(err.Error(), "; accepted is")
	if i := strings.LastIndex(why, `" `); ok && i >= 0 && !strings.Contains(why, "unknown unit") {
		return "the text " + why[i+2:]
	}
	return "units here are " + strings.Join(k.Units(), ", ")
}

// quantity reads a key with a default.
func (t *table) quantity(key string, k unit.Kind, def string, in span) float64 {
	v := t.get(key)
	if v == nil {
		t.taken = append(t.taken, key+" "+def)
		return si(k, def)
	}
	return t.parse(key, v, k, in)
}

// need reads a key that must be given.
func (t *table) need(key string, k unit.Kind, in span) float64 {
	v := t.get(key)
	if v == nil {
		t.missing(key, k.Accepted())
		return math.NaN()
	}
	return t.parse(key, v, k, in)
}

// maybe reads a key that may be left out; nil then.
func (t *table) maybe(key string, k unit.Kind, in span) *float64 {
	v := t.get(key)
	if v == nil {
		return nil
	}
	x := t.parse(key, v, k, in)
	return &x
}

// orZero reads a key whose absence is 0.
func (t *table) orZero(key string, k unit.Kind, in span) float64 {
	if x := t.maybe(key, k, in); x != nil {
		return *x
	}
	return 0
}

// number reads a bare number with its default.
func (t *table) number(key string, def, low, high float64) float64 {
	v := t.get(key)
	if v == nil {
		t.taken = append(t.taken, key+" "+trim(def))
		return def
	}
	return t.plain(key, v, low, high)
}

// maybeNumber reads a bare number that may be left out; nil then.
func (t *table) maybeNumber(key string, low, high float64) *float64 {
	v := t.get(key)
	if v == nil {
		return nil
	}
	x := t.plain(key, v, low, high)
	return &x
}

// needNumber reads a bare number that must be given.
func (t *table) needNumber(key string, low, high float64) float64 {
	x := t.maybeNumber(key, low, high)
	if x == nil {
		t.missing(key, fmt.Sprintf("a number from %s to %s", trim(low), trim(high)))
		return math.NaN()
	}
	return *x
}

func (t *table) plain(key string, v *node, low, high float64) float64 {
	accepted := fmt.Sprintf("a number from %s to %s", trim(low), trim(high))
	if v.kind != isNumber {
		hint := ""
		if _, err := strconv.ParseFloat(v.text, 64); err == nil && v.kind == isText {
			hint = "write it without quotes"
		}
		t.wrong(key, v, accepted, hint)
		return math.NaN()
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(v.raw, "_", ""), 64)
	if err != nil || !(x >= low && x <= high) {
		t.wrong(key, v, accepted, "")
		return math.NaN()
	}
	return x + 0 // no negative zero
}

// count reads a whole number; def < 0 means it must be given. What is wrong
// reads as 0.
func (t *table) count(key string, def, low, high int) int {
	accepted := fmt.Sprintf("a whole number from %d to %d", low, high)
	v := t.get(key)
	if v == nil {
		if def < 0 {
			t.missing(key, accepted)
		}
		return max(def, 0)
	}
	x, err := strconv.Atoi(v.raw)
	if v.kind != isNumber || err != nil || x < low || x > high {
		t.wrong(key, v, accepted, "")
		return 0
	}
	return x
}

// flag reads true or false; nil where it is left out or wrong.
func (t *table) flag(key string) *bool {
	v := t.get(key)
	if v == nil {
		return nil
	}
	if v.kind != isBool {
		t.wrong(key, v, "true or false", "")
		return nil
	}
	yes := v.raw == "true"
	return &yes
}

func (t *table) isSet(key string) bool {
	f := t.flag(key)
	return f != nil && *f
}

// choice reads one of a few words and returns its place among them; the
// place of def where it is left out or wrong.
func (t *table) choice(key, def string, words ...string) int {
	v := t.get(key)
	fallback := slices.Index(words, def)
	if v == nil {
		return fallback
	}
	if i := slices.Index(words, v.text); i >= 0 && v.kind == isText {
		return i
	}
	t.wrong(key, v, "one of "+strings.Join(words, ", "), didYouMean(nearest(v.text, words)))
	return fallback
}

// maxText is the longest title or name, in bytes.
const maxText = 200

// text reads a short text on one line; "" where it is left out or wrong.
func (t *table) text(key string) string {
	v := t.get(key)
	if v == nil {
		return ""
	}
	if v.kind != isText || len(v.text) > maxText || strings.ContainsFunc(v.text, isControl) {
		t.wrong(key, v, fmt.Sprintf("a text in quotes on one line, of %d bytes at most", maxText), "")
		return ""
	}
	return v.text
}

func isControl(r rune) bool { return r < ' ' || r == 0x7f }

// sub opens the table under key; its n is nil where it is left out or wrong.
func (t *table) sub(key string) *table {
	v := t.get(key)
	if v != nil && v.kind != isTable {
		t.wrong(key, v, "a table, ["+t.name(key)+"] or { key = value }", "")
		v = nil
	}
	return &table{faults: t.faults, n: v, path: t.name(key)}
}

// rows opens the list of tables under key.
func (t *table) rows(key string, most int) []*table {
	v := t.get(key)
	if v == nil {
		return nil
	}
	accepted := fmt.Sprintf("1 to %d tables, each headed [[%s]]", most, t.name(key))
	if v.kind != isList || len(v.items) == 0 || len(v.items) > most {
		t.wrong(key, v, accepted, "")
		return nil
	}
	var list []*table
	for i, item := range v.items {
		path := fmt.Sprintf("%s[%d]", t.name(key), i+1)
		if item.kind != isTable {
			t.add(item, Problem{Key: path, Given: show(item), Accepted: "a table, headed [[" + t.name(key) + "]]"})
			continue
		}
		list = append(list, &table{faults: t.faults, n: item, path: path})
	}
	return list
}

// show is a value as it is repeated in a message.
func show(v *node) string {
	switch {
	case v.kind == isTable:
		return "a table"
	case v.kind == isList && v.tables:
		return "a list of tables"
	case v.kind == isList && v.raw == "":
		return "a list"
	}
	return shorten(strings.ToValidUTF8(v.raw, "\uFFFD"))
}

// shorten cuts a text to what is worth repeating, on one line.
func shorten(s string) string {
	const most = 60
	r := []rune(strings.Map(func(c rune) rune {
		if isControl(c) {
			return ' '
		}
		return c
	}, s))
	if len(r) > most {
		return string(r[:most]) + "…"
	}
	return string(r)
}

func trim(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func itoa(i int) string { return strconv.Itoa(i) }
