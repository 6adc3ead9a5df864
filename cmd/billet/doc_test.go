package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// TestDocs runs every "$ billet ..." and "$ go run ./cmd/billet ..." in the
// console blocks of README.md and DEVELOPERS.md, from the module's root, and
// compares what is printed. A block that ends in a line "..." shows the
// beginning. With -update the blocks are rewritten.
func TestDocs(t *testing.T) {
	if testing.Short() {
		t.Skip("slow under the race detector, and nothing in it runs side by side that scripts do not")
	}
	t.Chdir("../..")
	for _, file := range []string{"README.md", "DEVELOPERS.md"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text, ran := string(data), 0
		for _, block := range consoleBlocks(text) {
			fresh, n := runBlock(t, block)
			ran += n
			if fresh == block {
				continue
			}
			if !*update {
				t.Errorf("%s: the block is out of date. It says:\n%s\nit should say:\n%s", file, block, fresh)
			}
			text = strings.Replace(text, block, fresh, 1)
		}
		if file == "README.md" && ran == 0 {
			t.Errorf("%s shows no command", file)
		}
		if *update && text != string(data) {
			if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// consoleBlocks are the contents of the blocks marked "console".
func consoleBlocks(text string) []string {
	var out []string
	for _, part := range strings.Split(text, "```console\n")[1:] {
		block, _, _ := strings.Cut(part, "```")
		out = append(out, block)
	}
	return out
}

// runBlock returns the block with what its commands print now.
func runBlock(t *testing.T, block string) (fresh string, ran int) {
	for _, part := range strings.Split("\n"+block, "\n$ ")[1:] {
		line, shown, _ := strings.Cut(part, "\n")
		fresh += "$ " + line + "\n"
		args, isOurs := strings.CutPrefix(line, "billet ")
		if !isOurs {
			args, isOurs = strings.CutPrefix(line, "go run ./cmd/billet ")
		}
		if !isOurs || shown == "" || strings.ContainsAny(args, "|>") {
			fresh += shown
			if shown != "" && !strings.HasSuffix(shown, "\n") {
				fresh += "\n"
			}
			continue
		}
		ran++
		code, out, errs := billet(t, "", strings.Fields(args)...)
		got := out + errs
		if code > exitNo {
			got += fmt.Sprintf("exit code %d\n", code)
		}
		if begin, short := strings.CutSuffix(strings.TrimSuffix(shown, "\n"), "\n..."); short {
			lines := strings.SplitAfter(got, "\n")
			got = strings.Join(lines[:min(len(lines), 1+strings.Count(begin, "\n"))], "") + "...\n"
		}
		fresh += got
	}
	return fresh, ran
}
