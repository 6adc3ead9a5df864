package plots

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestLook writes every picture of every case where PLOTS_LOOK says, for a
// person to look at; without it there is nothing to do.
func TestLook(t *testing.T) {
	dir := os.Getenv("PLOTS_LOOK")
	if dir == "" {
		t.Skip("set PLOTS_LOOK to a folder to look at the pictures")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, all := range everySheet(t) {
		for _, s := range all {
			for _, f := range []Format{PNG, SVG} {
				var b bytes.Buffer
				if err := s.write(&b, f); err != nil {
					t.Fatal(err)
				}
				file := strings.NewReplacer(" ", "-", ",", "").Replace(name) + "-" + s.name + "." + f.String()
				if err := os.WriteFile(filepath.Join(dir, file), b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
