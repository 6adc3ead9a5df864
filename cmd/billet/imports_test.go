package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	pathpkg "path"
	"strings"
	"testing"
)

// module is this module's path.
const module = "billet"

// TestImports compares what each package imports with the table of packages in
// DEVELOPERS.md: a package that is not in the table, or that imports one its
// row does not name, of ours or of others', fails.
func TestImports(t *testing.T) {
	table := importTable(t)
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	seen := map[string]bool{}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, module+"/")
		may, known := table[name]
		if !known {
			if len(p.Imports) > 0 {
				t.Errorf("%s stands in no row of the table", name)
			}
			continue
		}
		seen[name] = true
		for _, i := range p.Imports {
			if !allowed(i, may) {
				t.Errorf("%s imports %s, which its row does not name", name, i)
			}
		}
	}
	for name := range table {
		if !seen[name] {
			t.Errorf("the table names %s, which is no package", name)
		}
	}
}

// allowed says whether a row lets a package be imported. Our own stand in it
// without the module's path, or as "all"; packages of other modules by their
// module; the standard library's need no word.
func allowed(path string, may map[string]bool) bool {
	if ours, ok := strings.CutPrefix(path, module+"/"); ok {
		return may[ours] || may["all"]
	}
	if first, _, _ := strings.Cut(path, "/"); !strings.Contains(first, ".") {
		return true
	}
	for ; path != "."; path = pathpkg.Dir(path) {
		if may[path] {
			return true
		}
	}
	return false
}

// importTable reads the table between the marks "imports" and "/imports": a row
// names packages, and what they may import, in backticks.
func importTable(t *testing.T) map[string]map[string]bool {
	t.Helper()
	data, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(data), "<!-- imports -->")
	text, _, end := strings.Cut(rest, "<!-- /imports -->")
	if !ok || !end {
		t.Fatal("DEVELOPERS.md: no table between <!-- imports --> and <!-- /imports -->")
	}
	table := map[string]map[string]bool{}
	for _, line := range strings.Split(text, "\n") {
		cells := strings.Split(line, "|")
		if len(cells) < 5 || !strings.Contains(cells[1], "`") {
			continue
		}
		may := map[string]bool{}
		for _, name := range append(quoted(cells[2]), quoted(cells[3])...) {
			may[name] = true
		}
		if strings.TrimSpace(cells[2]) == "all" {
			may["all"] = true
		}
		for _, name := range quoted(cells[1]) {
			table[name] = may
		}
	}
	return table
}

// quoted lists what stands in backticks.
func quoted(s string) []string {
	var out []string
	for i, part := range strings.Split(s, "`") {
		if i%2 == 1 {
			out = append(out, part)
		}
	}
	return out
}
