package plots

import (
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
	for name, m := range cases() {
		for _, f := range []Format{PNG, SVG} {
			figures, err := Soak(m.result(), f)
			if err != nil {
				t.Fatal(err)
			}
			for _, fig := range figures {
				file := strings.ReplaceAll(name, " ", "-") + "-" + fig.Name + "." + f.String()
				if err := os.WriteFile(filepath.Join(dir, file), fig.Bytes, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
