package heat

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"billet/sim/internal/proof"
)

var update = flag.Bool("update", false, "write this package's part of benchmarks/VALIDATION.md anew")

var validation = proof.Part{File: filepath.Join("..", "..", "benchmarks", "VALIDATION.md"), Package: "sim/heat", Again: "go test ./sim/heat -run Validation -update"}

// asked are the accuracies at which every case is run, K.
var asked = []float64{5, 1, 0.5, 0.1}

// comparison is one with something from outside, and how well it went.
type comparison struct {
	name   string // what is compared
	source string // where the answer comes from, and its status
	what   string // what was asked for, one for each number got
	got    []float64
	limit  []float64 // the largest got that passes; NaN: reported only
	unit   string
	note   string // what sets the limit
}

// each collects one error at each accuracy, to be at most factor × accuracy.
func each(name, source string, factor float64, err func(accuracy float64) float64) comparison {
	p := comparison{name: name, source: source, what: "5, 1, 0.5, 0.1 K", unit: "K", note: "the accuracy asked"}
	if factor != 1 {
		p.note = fmt.Sprintf("%g × the accuracy asked", factor)
	}
	for _, a := range asked {
		p.got, p.limit = append(p.got, err(a)), append(p.limit, factor*a)
	}
	return p
}

func (p comparison) check(t *testing.T) {
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

// group is a set of comparisons under one heading of VALIDATION.md.
type group struct {
	title string
	run   func(t *testing.T) []comparison
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
		if err := validation.Hold(text.String(), *update); err != nil {
			t.Error(err)
		}
	}
}

func (p comparison) row() string {
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
