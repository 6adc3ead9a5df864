package main

import (
	"bytes"

	"billet/plots"
	"billet/sim"
)

var driftCommand = command{
	name: "drift",
	line: "how far the core drifts off the middle, why, and what would mend it",
	help: `How far the core ends off the middle of the bar, after each pass and in the
end, what makes it so, and what would mend it. With a [blade] in the job also
where that leaves the edge, and how far apart the core lines come.

    billet drift JOB.toml
    billet drift -                            read the job from standard input
    billet drift JOB.toml --draws 200         the odds, over 200 days
    billet drift JOB.toml --pictures folder   pictures beside the answer

Flags:
        --draws N            draw N days in which what can't be held exactly
                             goes this way or that ([spread] in the job), and
                             give the odds; 2 to 100000
        --seed S             another seed draws other days; 1 by default
        --format FORMAT      text, json, or csv: a row a pass
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json and csv are metric always
        --quiet              say nothing but the answer and errors

Offsets are those of the core's middle from the bar's, toward side A or B of
the metal, whichever is down. The same job and seed give the same bytes.

Exit code: 0 done; 1 the answer is "no": a pass is too much for its machine, or
the blade's edge lies outside the core (the results are given all the same); 2
the command or the job is at fault; 3 the computation failed.
`,
	take: func(f *flags) {
		takeWork(f)
		f.takeDraws()
	},
	run: func(c *call) error {
		return c.carryOut(deed{
			doing: "working out the drift",
			work:  func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error) { return sim.Drift(c.ctx, j, opt) },
			draw:  plots.Drift, text: driftText, json: workResult, csv: workCSV,
			no: func(r *sim.Result) bool { return !r.Work.Can || r.Ground != nil && !r.Ground.Answer.InCore },
		})
	},
}

// driftText is the answer of drift for a person.
func driftText(r *sim.Result) []byte {
	w := workWordsFor(r)
	b := &bytes.Buffer{}
	for _, text := range []string{w.verdict(), w.ends(), w.atEdge(), w.turning(), w.odds()} {
		if text != "" {
			paragraph(b, "", "", text)
		}
	}
	b.WriteString("\n")
	w.passTables(b)
	b.WriteString("\n")
	paragraph(b, "", "", w.comes()+" "+w.notes())
	w.causes(b)
	w.help(b)
	w.flips(b)
	w.oddsTable(b)
	w.measured(b)
	w.checkpoints(b)
	w.why(b)
	w.tail(b)
	return b.Bytes()
}
