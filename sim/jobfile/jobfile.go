package jobfile

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"billet/sim"
)

// maxBytes is the largest job file read. The longest sensible one, 500
// layers and long property tables, has a tenth of it.
const maxBytes = 1 << 20

// Load reads the job file at path. The error is [Problems] where the file
// could be read but is not a job that can be worked with.
func Load(path string) (*sim.Job, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return Read(path, f)
}

// Read reads a job from r; name stands for the file in messages. The job
// holds SI units with every default filled in, all numbers finite. The error
// is [Problems], every fault at once in the order of the file, or that of r.
func Read(name string, r io.Reader) (*sim.Job, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	fs := &faults{file: name}
	if len(data) > maxBytes {
		fs.add(nil, Problem{Given: "more than 1 MiB", Accepted: "a job file of 1 MiB at most"})
		return nil, fs.problems(false)
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	root, whole := build(data, fs)
	job := decode(&table{faults: fs, n: root})
	if len(fs.list) == 0 {
		stillBroken(data, fs)
	}
	if ps := fs.problems(!whole); len(ps) > 0 {
		return nil, ps
	}
	return job, nil
}

// decoder holds what the tables of one file share.
type decoder struct {
	*table
	job   *sim.Job
	shelf *shelf
	taken map[string]taken
}

// decode reads all tables of the file. The job is fit for use only where no
// fault was reported.
func decode(t *table) *sim.Job {
	d := &decoder{table: t, job: &sim.Job{}, taken: readTaken()}
	j := d.job
	j.Title = t.text("title")
	j.Units = sim.Units(t.choice("units", "metric", "metric", "inch"))
	d.shelf = readShelf(t)
	d.weld()
	d.stack()
	d.air()
	d.forge()
	d.heats()
	d.shop()
	d.press()
	d.rolls()
	d.hammer()
	d.handling()
	d.passes()
	d.measured()
	d.target()
	d.blade()
	d.stock()
	d.harden()
	d.spread()
	t.done()
	return j
}

// assume lists a plain sentence under the job's assumptions, once.
func (d *decoder) assume(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	for _, have := range d.job.Assumed {
		if have == s {
			return
		}
	}
	d.job.Assumed = append(d.job.Assumed, s)
}

// assumeTaken lists the defaults a table that is in the file was left with.
func (d *decoder) assumeTaken(t *table) {
	if !t.given() || len(t.taken) == 0 {
		return
	}
	s := t.taken[0]
	for _, more := range t.taken[1:] {
		s += ", " + more
	}
	d.assume("Not given in [%s] and taken: %s.", t.path, s)
}
