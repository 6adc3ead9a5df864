package heat

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write this package's part of benchmarks/VALIDATION.md anew")

// asked are the accuracies at which every case is run, K.
var asked = []float64{5, 1, 0.5, 0.1}

// proof is one comparison with something from outside, and how well it went.
type proof struct {
	name   string // what is compared
	source string // where the answer comes from, and its status
	what   string // what was asked for, one for each number got
	got    []float64
	limit  []float64 // the largest got that passes; NaN: reported only
	unit   string
	note   string // what sets the limit
}

// each collects one error at each accuracy, to be at most factor × accuracy.
func each(name, source string, factor float64, err func(accuracy float64) float64) proof {
	p := proof{name: name, source: source, what: "5, 1, 0.5, 0.1 K", unit: "K", note: "the accuracy asked"}
	if factor != 1 {
		p.note = fmt.Sprintf("%g × the accuracy asked", factor)
	}
	for _, a := range asked {
		p.got, p.limit = append(p.got, err(a)), append(p.limit, factor*a)
	}
	return p
}

// reported marks a proof as a finding, without a limit.
func (p proof) reported(why string) proof {
	p.note = why
	for i := range p.limit {
		p.limit[i] = math.NaN()
	}
	return p
}

func (p proof) check(t *testing.T) {
	for i, g := range p.got {
		if !(g <= p.limit[i]) && !math.IsNaN(p.limit[i]) || math.IsNaN(g) {
			t.Errorf("%s: got %s, limits %s %s (%s)", p.name, numbers(p.got), numbers(p.limit), p.unit, p.note)
			return
		}
	}
	t.Logf("%s: got %s %s", p.name, numbers(p.got), p.unit)
}

func numbers(v []float64) string {
	var out []string
	for _, x := range v {
		out = append(out, strconv.FormatFloat(x, 'g', 2, 64))
	}
	return strings.Join(out, ", ")
}

// group is a set of proofs under one heading of VALIDATION.md.
type group struct {
	title string
	run   func(t *testing.T) []proof
}

var groups = []group{
	{"Plane wall, brick and long slab", simpleBodies},
	{"Layers and joints", layeredBodies},
	{"Radiation and varying fire", radiatingBodies},
	{"Changing material", changingMaterial},
	{"Published worked examples", workedExamples},
	{"Reference cases of general-purpose solvers", referenceCases},
	{"Measured", measuredHeating},
	{"Energy", energyKept},
	{"Mirrors, turns and splits", sameBody},
	{"Ends of stages", stageEnds},
}

// TestValidation runs every comparison and holds the results against
// benchmarks/VALIDATION.md.
func TestValidation(t *testing.T) {
	var text strings.Builder
	ran := 0
	for _, g := range groups {
		t.Run(g.title, func(t *testing.T) {
			ran++
			fmt.Fprintf(&text, "\n### %s\n\n| case | source, status | asked | got | limit, what sets it |\n|---|---|---|---|---|\n", g.title)
			for _, p := range g.run(t) {
				p.check(t)
				text.WriteString(p.row())
			}
		})
	}
	if ran == len(groups) {
		holdAgainst(t, text.String())
	}
}

func (p proof) row() string {
	limit := p.note
	if p.unit != "K" || !strings.Contains(p.note, "accuracy") {
		if !math.IsNaN(p.limit[0]) {
			limit = fmt.Sprintf("%s %s: %s", unique(p.limit), p.unit, p.note)
		} else {
			limit = "reported: " + p.note
		}
	}
	return fmt.Sprintf("| %s | %s | %s | %s %s | %s |\n", p.name, p.source, p.what, numbers(p.got), p.unit, limit)
}

func unique(v []float64) string {
	for _, x := range v {
		if x != v[0] {
			return numbers(v)
		}
	}
	return numbers(v[:1])
}

const beginPart, endPart = "<!-- sim/heat: written by `go test ./sim/heat -run Validation -update` -->\n", "<!-- end of sim/heat -->\n"

// holdAgainst fails where the checked-in table differs beyond rounding.
func holdAgainst(t *testing.T, text string) {
	name := filepath.Join("..", "..", "benchmarks", "VALIDATION.md")
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok1 := strings.Cut(string(raw), beginPart)
	old, after, ok2 := strings.Cut(rest, endPart)
	if !ok1 || !ok2 {
		t.Fatalf("%s: the marks around this package's part are gone", name)
	}
	if *update {
		if err := os.WriteFile(name, []byte(before+beginPart+text+endPart+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if line, ok := sameText(old, text); !ok {
		t.Errorf("%s is stale; run go test ./sim/heat -run Validation -update\n%s", name, line)
	}
}

var number = regexp.MustCompile(`-?\d+(\.\d+)?(e[-+]\d+)?`)

// sameText compares two tables: the same words, and numbers equal to 5 % (they
// are printed to two digits) or both no more than rounding, 1e-9.
func sameText(a, b string) (string, bool) {
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
			if math.Abs(x-y) > 0.05*math.Max(math.Abs(x), math.Abs(y))+1e-9 {
				return differ, false
			}
		}
	}
	return "", true
}
