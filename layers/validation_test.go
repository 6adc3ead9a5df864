package layers

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "work the whole coarse-against-fine table anew (minutes) and write it to benchmarks/VALIDATION.md")

const (
	beginPart = "<!-- layers: written by `go test ./layers -run ValidationTable -update -timeout 30m` -->\n"
	endPart   = "<!-- end of layers -->\n"
)

// judged is one row of the table and the bounds it must keep: of the prototype's
// own comparison of a coarse with a fine mesh (computed).
type judged struct {
	set, quantity        string
	sign, within, median float64 // least share of right signs and within 25 %; largest distance of the median from 1
}

var judgedRows = []judged{
	{"welded", "centre", 1, 1, 0.07}, {"welded", "mean", 1, 1, 0.07}, {"welded", "edge", 1, 0.7, 0.2},
	{"slipping", "centre", 0.98, 0.85, 0.07}, {"slipping", "mean", 1, 0.97, 0.07}, {"slipping", "edge", 0.98, 0.85, 0.1},
}

// The whole coarse-against-fine table. It takes minutes, so it is worked only
// with -update; otherwise the table as written must keep its bounds. That it is
// still true is checked on every seventh trial by TestCoarseAgainstFine.
func TestValidationTable(t *testing.T) {
	name := filepath.Join("..", "benchmarks", "VALIDATION.md")
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
		old = workTable(t)
		if err := os.WriteFile(name, []byte(before+beginPart+old+endPart+after), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, r := range judgedRows {
		var count int
		var sign, median, low, high, within float64
		found := false
		for _, line := range strings.Split(old, "\n") {
			if n, _ := fmt.Sscanf(line, "| "+r.set+" | "+r.quantity+" | %d | %f | %f | %f to %f | %f |", &count, &sign, &median, &low, &high, &within); n == 6 {
				found = true
			}
		}
		switch {
		case !found:
			t.Errorf("no row for %s, %s", r.set, r.quantity)
		case sign < r.sign || within < r.within || median < 1-r.median || median > 1+r.median:
			t.Errorf("%s, %s: sign %g, median %g, within 25 %% %g", r.set, r.quantity, sign, median, within)
		}
	}
}

func workTable(t *testing.T) string {
	var text strings.Builder
	text.WriteString("\nThe coarse mesh (6 columns × 2 rows a layer, half section) judged by a fine one (20 × 6) over the whole matrix of trials: jacket over core strength 0.5, 1, 2; 0, 50, 100 K; friction 0.3/0.3 and 0.3/0.8; thickness over width 0.4, 0.7, 1; to 10 … 50 %; equal and unequal jackets. Only offsets above 0.1 mm, less that of the jackets, count. This is verification of the mechanics and no proof on steel: cut an end, etch it, and compare.\n\n| joints | offset at | squeezes | sign right | coarse/fine, median | a tenth below, a tenth above | within 25 % |\n|---|---|---|---|---|---|---|\n")
	for _, slip := range []bool{false, true} {
		var trials []Trial
		for _, x := range Trials() {
			if (x.SlipFactor > 0) == slip {
				trials = append(trials, x)
			}
		}
		got, force, err := Judge(trials, Mesh{}, Mesh{Columns: 20, PerLayer: 6}, 0, 0.015)
		if err != nil {
			t.Fatal(err)
		}
		set := map[bool]string{false: "welded", true: "slipping"}[slip]
		for _, a := range got {
			fmt.Fprintf(&text, "| %s | %s | %d | %.3f | %.3f | %.3f to %.3f | %.3f |\n", set, a.Quantity, a.Count, a.SameSign, a.Median, a.Low, a.High, a.Within25)
		}
		fmt.Fprintf(&text, "| %s | force | | | %.4f | | |\n", set, force)
		if force < 0.97 || force > 1.03 {
			t.Errorf("%s: force ratio %g", set, force)
		}
	}
	return text.String()
}
