package jobfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Problem is one fault in a job file.
type Problem struct {
	File     string
	Line     int    // from 1; 0 where no line is to blame
	Key      string // dotted, lists counted from 1: stack.layer[2].thickness
	Given    string // as written in the file, text in its quotes
	Accepted string // what would do
	Hint     string // how to mend it, or the nearest known name; may be empty
}

// Error returns "file:line: key: given X: what is accepted", with the hint on
// a line of its own.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	b.WriteString(": ")
	if p.Key != "" {
		b.WriteString(p.Key + ": ")
	}
	b.WriteString("given " + p.Given + ": " + p.Accepted)
	if p.Hint != "" {
		b.WriteString("\n    hint: " + p.Hint)
	}
	return b.String()
}

// Problems are all the faults of a job file, in the order of the file.
type Problems []Problem

// Error returns the faults one after the other, a line or two for each.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Words used as Given where nothing in the file can be quoted.
const (
	nothing    = "nothing"
	unknownKey = "an unknown key"
)

// faults collects problems while a file is read.
type faults struct {
	file string
	list []placed
}

// placed is a problem and the byte it stands at, to sort by.
type placed struct {
	Problem
	offset int
}

func (f *faults) add(at *node, p Problem) {
	p.File = f.file
	offset := 0
	if at != nil {
		p.Line, offset = at.line, at.offset
	}
	f.list = append(f.list, placed{p, offset})
}

// problems returns what was collected in the order of the file. Where the
// file could not be parsed throughout, what seems to be missing may stand in
// a line that was skipped, so such faults are left out.
func (f *faults) problems(skipMissing bool) Problems {
	slices.SortStableFunc(f.list, func(a, b placed) int { return cmp.Compare(a.offset, b.offset) })
	var ps Problems
	for _, p := range f.list {
		if skipMissing && p.Given == nothing {
			continue
		}
		ps = append(ps, p.Problem)
	}
	return ps
}
