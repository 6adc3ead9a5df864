package main

import (
	"errors"
	"fmt"

	"billet/plots"
	"billet/sim"
)

// deed is what a command works out of a job, and how it gives the answer.
type deed struct {
	doing string // for the progress line
	work  func(c *call, j *sim.Job, opt sim.Options) (*sim.Result, error)
	draw  func(*sim.Result, plots.Format) ([]plots.Figure, error)
	text  func(*sim.Result) []byte
	json  func(name string, r *sim.Result) any
	csv   func(*sim.Result) []byte // nil: no table
	no    func(*sim.Result) bool   // the answer is "no"
}

// carryOut reads the job, works it out and delivers the answer.
func (c *call) carryOut(d deed) error {
	r, err := c.workOut(d)
	if err != nil {
		return err
	}
	pictures, err := c.pictures(r, d.draw)
	if err != nil {
		return err
	}
	var answer []byte
	switch c.flags.format {
	case "json":
		answer = encode(d.json(c.name, r))
	case "csv":
		answer = d.csv(r)
	default:
		answer = d.text(r)
	}
	if err := c.out.deliver(answer, pictures); err != nil {
		return err
	}
	if c.flags.format == "csv" {
		for _, w := range r.Warnings {
			c.out.note("warning: %s", w)
		}
	}
	if d.no(r) {
		return errNo
	}
	return nil
}

// workOut reads the job and works it out.
func (c *call) workOut(d deed) (*sim.Result, error) {
	j, err := c.job()
	if err != nil {
		return nil, err
	}
	opt, err := c.flags.options()
	if err != nil {
		return nil, err
	}
	p := c.out.progress(d.doing)
	opt.Progress = p.report
	r, err := await(c.ctx, func() (*sim.Result, error) { return d.work(c, j, opt) })
	p.stop()
	if err != nil {
		return nil, c.lacking(err)
	}
	return r, nil
}

// lacking turns what the engine found missing in the job, or at fault in it,
// into bad usage with a word on what to add.
func (c *call) lacking(err error) error {
	name, nameErr := c.jobName()
	if nameErr != nil {
		name = "the job"
	}
	for _, m := range []struct {
		err   error
		hints []string
	}{
		{sim.ErrNoWork, []string{`add [target] with thickness = "8 mm", or one [[pass]] after the other with tool = "press" and to = "22 mm"`}},
		{sim.ErrNoBlade, []string{`add [blade] with spine = "3 mm", height = "32 mm", length = "150 mm"; "billet new" shows the rest`}},
		{sim.ErrNoCore, []string{"write core = true in the [[stack.layer]] in the middle"}},
		{sim.ErrNoHeats, []string{"leave temperature, temperature_a and temperature_b out of the [[pass]] tables to have the heats worked out"}},
		{sim.ErrNoHarden, []string{`add [harden] with austenitise = "820 C", quench = "fast oil", temper = [{ temperature = "200 C", time = "2 h" }]`}},
		{errNoLesson, []string{"lay a core between two jackets: three [[stack.layer]] tables, core = true in the middle one"}},
		{sim.ErrPass, []string{`to = and draft = in [[pass]] are cold sizes; "billet check" shows the stack they start from`}},
	} {
		if errors.Is(err, m.err) {
			return misuse(fmt.Sprintf("%s: %v", name, err), m.hints...)
		}
	}
	return err
}
