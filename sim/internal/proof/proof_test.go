package proof

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A table stands while its words are the same and its numbers the same to 30 %.
func TestHold(t *testing.T) {
	p := Part{File: filepath.Join(t.TempDir(), "table.md"), Package: "a", Again: "it again"}
	write := func(text string) {
		if err := os.WriteFile(p.File, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("top\n<!-- a: written by `it again` -->\nold\n<!-- end of a -->\nend\n")
	if err := p.Hold("| case | 1.00 K |\n", true); err != nil {
		t.Fatal(err)
	}
	raw, _ := os.ReadFile(p.File)
	if got := string(raw); got != "top\n<!-- a: written by `it again` -->\n| case | 1.00 K |\n<!-- end of a -->\nend\n" {
		t.Errorf("written: %q", got)
	}
	for text, stands := range map[string]bool{
		"| case | 1.00 K |\n": true, "| case | 1.20 K |\n": true, "| case | 1.50 K |\n": false,
		"| other | 1.00 K |\n": false, "| case | 1.00 K |\n| more |\n": false,
	} {
		err := p.Hold(text, false)
		if (err == nil) != stands {
			t.Errorf("%q: %v", text, err)
		}
		if err != nil && !strings.Contains(err.Error(), "it again") {
			t.Errorf("%q: %v does not say what to run", text, err)
		}
	}
	write("no marks")
	if p.Hold("x", true) == nil {
		t.Error("written without marks")
	}
}
