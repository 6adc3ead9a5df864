// Package proof keeps the validation table beside the tests that fill it: each
// package owns a part between two marks, writes it when told to, and fails when
// the table no longer says what the tests find.
package proof

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
)

// Part is a package's part of a table in a file.
type Part struct {
	File    string // the table
	Package string // its owner
	Again   string // the command that writes it
}

// marks are the lines around the part.
func (p Part) marks() (begin, end string) {
	return fmt.Sprintf("<!-- %s: written by `%s` -->\n", p.Package, p.Again), fmt.Sprintf("<!-- end of %s -->\n", p.Package)
}

// Hold compares the part with text and returns an error where they differ: the
// words must be the same, and the numbers equal to 30 % or both no more than 1e-9.
// Small errors are as far apart as that between processors that round otherwise;
// what passes is decided by the tests' own limits. With update it writes text
// instead.
func (p Part) Hold(text string, update bool) error {
	raw, err := os.ReadFile(p.File)
	if err != nil {
		return err
	}
	begin, end := p.marks()
	before, rest, ok1 := strings.Cut(string(raw), begin)
	old, after, ok2 := strings.Cut(rest, end)
	if !ok1 || !ok2 {
		return fmt.Errorf("%s: the marks around this package's part are gone", p.File)
	}
	if update {
		return os.WriteFile(p.File, []byte(before+begin+text+end+after), 0o644)
	}
	if line, ok := same(old, text); !ok {
		return fmt.Errorf("%s is stale; run %s\n%s", p.File, p.Again, line)
	}
	return nil
}

var number = regexp.MustCompile(`-?\d+(\.\d+)?(e[-+]\d+)?`)

// same compares two texts, and shows the first line that differs.
func same(a, b string) (string, bool) {
	la, lb := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range max(len(la), len(lb)) {
		if i >= len(la) || i >= len(lb) {
			return fmt.Sprintf("%d lines, now %d", len(la), len(lb)), false
		}
		differ := fmt.Sprintf("was %s\nnow %s", la[i], lb[i])
		if number.ReplaceAllString(la[i], "#") != number.ReplaceAllString(lb[i], "#") {
			return differ, false
		}
		na, nb := number.FindAllString(la[i], -1), number.FindAllString(lb[i], -1)
		for k := range na {
			x, _ := strconv.ParseFloat(na[k], 64)
			y, _ := strconv.ParseFloat(nb[k], 64)
			if math.Abs(x-y) > 0.3*math.Max(math.Abs(x), math.Abs(y))+1e-9 {
				return differ, false
			}
		}
	}
	return "", true
}
