package main

import (
	"fmt"
	"path/filepath"

	"billet/plots"
	"billet/sim"
)

var soakCommand = command{
	name: "soak",
	line: "how long to soak, when to pull for flux, and when it burns",
	help: `How long to soak the billet: when to pull it for flux, when skin, joints and
core reach welding heat, how long to hold, and how long until something burns.

    billet soak JOB.toml
    billet soak -                            read the job from standard input
    billet soak JOB.toml --pictures folder   pictures beside the answer
    billet soak JOB.toml --format json       every number, for other programs

Flags:
        --format FORMAT      text, json, or csv: the temperatures step by step
    -o, --out FILE           write the answer into FILE
        --pictures DIR       draw pictures into the folder DIR
        --picture-format F   svg or png
        --units UNITS        metric or inch, whatever the job says; numbers in
                             json and csv are metric always
        --dims N             1: heat flows through the thickness alone, as in a
                             wide plate; 2: over the section, as in a long bar;
                             3: the whole billet, the default unless
                             it has very many loose layers
        --accuracy DT        error left by the calculation, "0.5 C" by default;
                             what is not known of the forge is not in it
        --ranges WHICH       on: also how far the answers may be out, and what
                             makes that so, the default; off: not
        --quiet              say nothing but the answer and errors

Times count from when the billet first goes into the forge, time out of it
included.

Exit code: 0 done; 1 the answer is "no": the billet does not get to welding
heat, or burns before the soak is done (the results are given all the same);
2 the command or the job is at fault; 3 the computation failed.
`,
	take: func(f *flags) {
		f.takeFormat("text", "json", "csv")
		f.takeOut()
		f.takePictures()
		f.takeUnits()
		f.takeModel()
	},
	run: runSoak,
}

func runSoak(c *call) error {
	j, err := c.job()
	if err != nil {
		return err
	}
	opt, err := c.flags.options()
	if err != nil {
		return err
	}
	p := c.out.progress("working out the soak")
	opt.Progress = p.report
	r, err := await(c.ctx, func() (*sim.Result, error) { return sim.Run(c.ctx, j, opt) })
	p.stop()
	if err != nil {
		return err
	}
	pictures, err := c.pictures(r, plots.Soak)
	if err != nil {
		return err
	}
	answer := soakText(r)
	switch c.flags.format {
	case "json":
		answer = encode(soakResult(c.name, r))
	case "csv":
		answer = soakCSV(r)
	}
	if err := c.out.deliver(answer, pictures); err != nil {
		return err
	}
	if c.flags.format == "csv" {
		for _, w := range r.Warnings {
			c.out.note("warning: %s", w)
		}
	}
	if soakFails(r) {
		return errNo
	}
	return nil
}

// soakFails says that the answer is "no": welding heat is out of reach, or
// something burns before the soak is done.
func soakFails(r *sim.Result) bool {
	a := r.Soak.Answers
	return !r.Soak.Reaches || a.Window.OK && a.Window.Value < 0
}

// pictures draws the pictures asked for; none where no folder was named.
func (c *call) pictures(r *sim.Result, draw func(*sim.Result, plots.Format) ([]plots.Figure, error)) ([]file, error) {
	if c.flags.pictures == "" {
		return nil, nil
	}
	format, err := c.flags.figures()
	if err != nil {
		return nil, err
	}
	figures, err := draw(r, format)
	if err != nil {
		return nil, fmt.Errorf("pictures: %w", err)
	}
	var files []file
	for _, f := range figures {
		files = append(files, file{filepath.Join(c.flags.pictures, f.Name+"."+f.Format.String()), f.Bytes})
	}
	return files, nil
}
