package main

import (
	"bytes"

	"billet/plots"
	"billet/sim"
)

var passesCommand = command{
	name: "passes",
	line: "what to press, roll or hammer to, heat by heat, and what comes out",
	help: `What to press, roll or hammer to, heat by heat: stop heights, bites, force
against what the machine has, and the bar that comes out. The passes are those
of the job; where it gives a [target] and no [[pass]], they are planned.

    billet passes JOB.toml
    billet passes -                            read the job from standard input
    billet passes JOB.toml --pictures folder   pictures beside the answer
    billet passes JOB.toml --format csv        the passes as a table

Flags:
        --format FORMAT      text, json, or csv: a row a pass
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json and csv are metric always
        --quiet              say nothing but the answer and errors

Sizes are cold sizes; stop heights are hot sizes and say so. Passes that all
give their temperature are worked without any heat.

Exit code: 0 done; 1 the answer is "no": a pass is too much for its machine, or
the target is out of reach (the results are given all the same); 2 the command
or the job is at fault; 3 the computation failed.
`,
	take: takeWork,
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working out the passes",
			work:  func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) { return sim.Passes(c.ctx, j, opt) },
			draw:  plots.Passes, text: passesText, json: workResult, csv: workCSV,
			no: func(r *sim.Result) bool { return !r.Work.Can },
		})
	},
}

// takeWork declares the flags of a command whose table is an answer.
func takeWork(f *flags) {
	f.takeFormat("text", "json", "csv")
	f.takeOut()
	f.takePictures()
	f.takeUnits()
}

// passesText is the answer of passes for a person.
func passesText(r *sim.Result) []byte {
	w := workWordsFor(r)
	b := &bytes.Buffer{}
	for _, text := range []string{w.verdict(), w.comes(), w.hardest(), w.lies()} {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	b.WriteString("\n")
	w.passTables(b)
	b.WriteString("\n")
	paragraph(b, "", "", w.notes())
	w.why(b)
	w.measured(b)
	w.checkpoints(b)
	w.tail(b)
	return b.Bytes()
}
