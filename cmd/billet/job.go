package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"billet/sim"
	"billet/sim/jobfile"
)

// jobName is how the call's job is called in messages.
func (c *call) jobName() (string, error) {
	switch {
	case len(c.args) == 0:
		return "", misuse("no job file given", fmt.Sprintf("billet %s JOB.toml", c.name), `"billet new -o my.toml" writes a job to begin from`)
	case len(c.args) > 1:
		return "", misuse(fmt.Sprintf("given %s; one job file at a time", andList(c.args)))
	case c.args[0] == "-":
		return "standard input", nil
	}
	return c.args[0], nil
}

// job reads and checks the call's job, with the units asked for.
func (c *call) job() (*sim.Job, error) {
	name, err := c.jobName()
	if err != nil {
		return nil, err
	}
	j, err := c.read(name)
	var ps jobfile.Problems
	if errors.As(err, &ps) {
		return nil, faulty(name, ps)
	} else if err != nil {
		return nil, err
	}
	j.Units, err = c.flags.system(j.Units)
	return j, err
}

// readAtMost is more than the longest job file accepted: jobfile says so of
// what is longer, and a device that never ends is not read for ever.
const readAtMost = 2 << 20 // bytes

// read reads the job; the error is jobfile.Problems where the job is at
// fault.
func (c *call) read(name string) (*sim.Job, error) {
	in := c.stdin
	if c.args[0] != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, cannotRead(name, err)
		}
		defer f.Close()
		if err := c.apart(f); err != nil {
			return nil, err
		}
		in = f
	}
	data, err := await(c.ctx, func() ([]byte, error) { return io.ReadAll(io.LimitReader(in, readAtMost)) })
	if err != nil {
		if c.ctx.Err() != nil {
			return nil, err
		}
		return nil, cannotRead(name, err)
	}
	return jobfile.Read(name, bytes.NewReader(data))
}

// apart refuses to write the answer over the job it is read from.
func (c *call) apart(job *os.File) error {
	if !c.out.toFile() {
		return nil
	}
	from, err := job.Stat()
	if err != nil {
		return nil
	}
	if to, err := os.Stat(c.out.path); err == nil && os.SameFile(from, to) {
		return misuse(fmt.Sprintf("-o: given %s, the job itself; another file", c.out.path))
	}
	return nil
}

func cannotRead(name string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return misuse(name+": no such file; a job file", `"billet new -o my.toml" writes a job to begin from`)
	}
	return misuse(fmt.Sprintf("%s: cannot be read: %v", name, reason(err)))
}

// faulty is the failure of a job file with problems.
func faulty(name string, ps jobfile.Problems) error {
	count := fmt.Sprintf("%d faults", len(ps))
	if len(ps) == 1 {
		count = "1 fault"
	}
	return &failure{code: exitUsage, problems: ps, what: fmt.Sprintf("%s: %s; nothing was worked out", name, count)}
}

// await runs f and returns what it returns, or the context's error as soon as
// that comes: f is then left to itself, so nothing it does may reach outside.
// A panic in f, a fault of the program, comes back as an error.
func await[T any](ctx context.Context, f func() (T, error)) (T, error) {
	type done struct {
		value T
		err   error
	}
	c := make(chan done, 1)
	go func() {
		var d done
		defer func() {
			if p := recover(); p != nil {
				d.err = &failure{code: exitFailed, what: fmt.Sprintf("a fault in this program: %v", p), hints: []string{"please report it with the job file"}}
			}
			c <- d
		}()
		d.value, d.err = f()
	}()
	select {
	case d := <-c:
		return d.value, d.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
