package jobfile

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// wanted is what a broken job file says of itself in its first lines:
// # want: line: key: part of the message
type wanted struct {
	line int
	key  string
	part string
}

func readWanted(t *testing.T, text string) []wanted {
	t.Helper()
	var all []wanted
	for line := range strings.Lines(text) {
		rest, ok := strings.CutPrefix(strings.TrimSpace(line), "# want: ")
		if !ok {
			break
		}
		parts := strings.SplitN(rest, ": ", 3)
		if strings.Contains(rest, ": : ") { // no key
			number, part, _ := strings.Cut(rest, ": : ")
			parts = []string{number, "", part}
		}
		n, err := strconv.Atoi(parts[0])
		if err != nil || len(parts) != 3 {
			t.Fatalf("bad want line %q", line)
		}
		all = append(all, wanted{n, parts[1], parts[2]})
	}
	return all
}

// TestBroken reads every broken job and checks that exactly the faults it
// announces are reported: their number, order, line, key and words.
func TestBroken(t *testing.T) {
	files, err := filepath.Glob("../../testdata/broken/*.toml")
	if err != nil || len(files) < 60 {
		t.Fatalf("found %d broken jobs (%v); at least 60", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			wants := readWanted(t, string(text))
			if len(wants) == 0 {
				t.Fatal("says nothing of its faults")
			}
			_, err = Load(file)
			var ps Problems
			if !errors.As(err, &ps) {
				t.Fatalf("error %v; want Problems", err)
			}
			if len(ps) != len(wants) {
				t.Fatalf("%d faults, want %d:\n%v", len(ps), len(wants), ps)
			}
			for i, w := range wants {
				compareFault(t, file, ps[i], w)
			}
		})
	}
}

func compareFault(t *testing.T, file string, p Problem, w wanted) {
	t.Helper()
	if p.Line != w.line || p.Key != w.key || p.File != file {
		t.Errorf("fault at %s:%d %q, want line %d, %q\n%v", p.File, p.Line, p.Key, w.line, w.key, p)
	}
	message := p.Error()
	if !strings.Contains(message, w.part) {
		t.Errorf("message lacks %q:\n%s", w.part, message)
	}
	for _, word := range []string{"sim.", "jobfile.", "struct", " toml:", "(toml", "%!", "NaN"} {
		if strings.Contains(message, word) {
			t.Errorf("message speaks of %q:\n%s", word, message)
		}
	}
}

// TestProblemError holds the form of a message.
func TestProblemError(t *testing.T) {
	p := Problem{File: "boning.toml", Line: 12, Key: "stack.layer[2].thickness", Given: `"10"`,
		Accepted: `a length with its unit, such as "12 mm" or "1/2 in"`}
	want := `boning.toml:12: stack.layer[2].thickness: given "10": a length with its unit, such as "12 mm" or "1/2 in"`
	if got := p.Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	p.Hint = "measure it"
	if got := (Problems{p, p}).Error(); got != want+"\n    hint: measure it\n"+want+"\n    hint: measure it" {
		t.Errorf("got %s", got)
	}
}
