package main

import (
	"bytes"
	"errors"
	"fmt"

	"billet/sim"
	"billet/sim/jobfile"
)

var checkCommand = command{
	name: "check",
	line: "read a job and report every fault in it at once",
	help: `Read a job and say what was understood, or report every fault in it at once,
with the line, what was given and what is accepted.

    billet check JOB.toml
    billet check -           read the job from standard input

Flags:
        --format FORMAT      text or json
        --units UNITS        metric or inch, whatever the job says
    -o, --out FILE           write the answer into FILE
        --quiet              say nothing but the answer and errors

Exit code: 0 no fault; 2 faults.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json")
		f.takeUnits()
		f.takeOut()
	},
	run: runCheck,
}

func runCheck(c *call) error {
	name, err := c.jobName()
	if err != nil {
		return err
	}
	j, err := c.job()
	var f *failure
	if errors.As(err, &f) && c.flags.format == "json" && f.problems != nil {
		if err := c.out.deliver(encode(checkResult(nil, f.problems)), nil); err != nil {
			return err
		}
		return f
	}
	if err != nil {
		return err
	}
	if c.flags.format == "json" {
		return c.out.deliver(encode(checkResult(j, nil)), nil)
	}
	return c.out.deliver(checkText(name, j), nil)
}

// checkText says what was understood.
func checkText(name string, j *sim.Job) []byte {
	w := wordsFor(j)
	b := &bytes.Buffer{}
	fmt.Fprintf(b, "%s: no fault found\n", name)
	rows := [][2]string{{"Stack", w.stack()}, {"Forge", w.forge()}, {"Soak", w.soak()}}
	if rest := w.rest(); len(rest) > 0 {
		rows = append(rows, [2]string{"Also", andList(rest)})
	}
	for _, row := range rows {
		paragraph(b, fmt.Sprintf("  %-7s", row[0]+":"), "         ", sentence(row[1]))
	}
	bullets(b, "Assumed", j.Assumed)
	return b.Bytes()
}

// checkJSON is the answer of check as JSON.
type checkJSON struct {
	heading
	Problems []problemJSON `json:"problems"`
}

type problemJSON struct {
	File     string `json:"file"`
	Line     *int   `json:"line"` // null where no line is to blame
	Key      string `json:"key"`
	Given    string `json:"given"`
	Accepted string `json:"accepted"`
	Hint     string `json:"hint"`
}

func checkResult(j *sim.Job, ps jobfile.Problems) checkJSON {
	out := checkJSON{heading: newHeading("check", "", nil), Problems: []problemJSON{}}
	if j != nil {
		out.heading = newHeading("check", j.Title, &sim.Result{Assumed: j.Assumed})
	}
	for _, p := range ps {
		q := problemJSON{File: p.File, Key: p.Key, Given: p.Given, Accepted: p.Accepted, Hint: p.Hint}
		if p.Line > 0 {
			q.Line = &p.Line
		}
		out.Problems = append(out.Problems, q)
	}
	return out
}
