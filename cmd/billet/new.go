package main

import (
	"fmt"
	"os"

	"billet/sim/jobfile"
)

var newCommand = command{
	name: "new",
	line: "write a job to begin from",
	help: `Write a job to begin from, with a word on every line: fill in your own sizes,
heats and machines.

    billet new               print it
    billet new -o my.toml    write it into a new file

Flags:
    -o, --out FILE           write it into FILE
        --quiet              say nothing but errors
`,
	take: func(f *flags) { f.takeOut() },
	run:  runNew,
}

func runNew(c *call) error {
	if len(c.args) > 0 {
		return misuse(fmt.Sprintf("given %s; no file to read", andList(c.args)), "billet new -o "+c.args[0])
	}
	if c.out.toFile() {
		if _, err := os.Lstat(c.out.path); err == nil {
			return misuse(c.out.path+": exists already; a new name", "billet new -o another.toml")
		}
	}
	return c.out.deliver([]byte(jobfile.Starter()), nil)
}
