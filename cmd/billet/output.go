package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// output is where a call's answer and notes go.
type output struct {
	stdout, stderr io.Writer
	path           string // of the answer; empty or "-": standard output
	quiet          bool
}

// file is a file to be written.
type file struct {
	path string
	data []byte
}

// check refuses, before anything is computed, what could not be written.
func (o output) check(f *flags) error {
	if o.toFile() {
		if _, err := target(o.path); err != nil {
			return err
		}
	}
	if f.pictures == "" {
		return nil
	}
	info, err := os.Stat(f.pictures)
	if err == nil && !info.IsDir() {
		return misuse(fmt.Sprintf("--pictures: %s is a file; a folder", f.pictures))
	}
	return nil
}

func (o output) toFile() bool { return o.path != "" && o.path != "-" }

// note tells the user something beside the answer.
func (o output) note(format string, args ...any) {
	if !o.quiet {
		fmt.Fprintf(o.stderr, "billet: "+format+"\n", args...)
	}
}

// deliver puts the answer and the files beside it where they belong, all or
// none: every file is first written under another name in its own folder, the
// answer is printed, and only then do the files take their names. A folder
// that does not exist yet is made for the files beside the answer.
func (o output) deliver(answer []byte, beside []file) error {
	d := &delivery{}
	defer d.undo()
	if len(beside) > 0 {
		if err := d.folder(filepath.Dir(beside[0].path)); err != nil {
			return err
		}
	}
	files := beside
	if o.toFile() {
		files = append([]file{{o.path, answer}}, beside...)
	}
	for _, f := range files {
		if err := d.stage(f); err != nil {
			return err
		}
	}
	if !o.toFile() {
		if _, err := o.stdout.Write(answer); err != nil {
			return cannotPrint(err)
		}
	}
	if err := d.commit(); err != nil {
		return err
	}
	for _, f := range files {
		o.note("wrote %s", f.path)
	}
	return nil
}

// cannotPrint is the failure of writing to standard output.
func cannotPrint(err error) error {
	return &failure{code: exitFailed, what: fmt.Sprintf("standard output: %v", reason(err))}
}

// delivery is a set of files on their way to their names.
type delivery struct {
	staged []staged
	made   []string // folders made, the outermost first
}

type staged struct {
	temp, path string
	fresh      bool // nothing had that name before
	done       bool
}

// folder makes dir and those above it where they do not exist.
func (d *delivery) folder(dir string) error {
	var missing []string
	for at := dir; ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		missing = append(missing, at)
	}
	for i := len(missing) - 1; i >= 0; i-- {
		if err := os.Mkdir(missing[i], 0o777); err != nil {
			return misuse(fmt.Sprintf("%s: the folder cannot be made: %v", dir, reason(err)))
		}
		d.made = append(d.made, missing[i])
	}
	return nil
}

// stage writes a file under another name beside its own.
func (d *delivery) stage(f file) error {
	path, err := target(f.path)
	if err != nil {
		return err
	}
	for _, s := range d.staged {
		if s.path == path {
			return misuse(fmt.Sprintf("%s: two things to write into one file; another name for -o", f.path))
		}
	}
	temp, mode := filepath.Join(filepath.Dir(path), fmt.Sprintf(".billet-%d-%d", os.Getpid(), len(d.staged))), fs.FileMode(0o666)
	info, err := os.Stat(path)
	fresh := err != nil
	if !fresh {
		mode = info.Mode().Perm()
	}
	d.staged = append(d.staged, staged{temp: temp, path: path, fresh: fresh})
	if err := write(temp, f.data, mode, !fresh); err != nil {
		return &failure{code: exitUsage, what: fmt.Sprintf("%s: cannot be written: %v", f.path, reason(err))}
	}
	return nil
}

// write makes a new file of the given mode, exactly so where told.
func write(path string, data []byte, mode fs.FileMode, exactly bool) error {
	w, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	if exactly {
		err = w.Chmod(mode)
	}
	if err == nil {
		_, err = w.Write(data)
	}
	return errors.Join(err, w.Close())
}

// commit gives the staged files their names.
func (d *delivery) commit() error {
	for i := range d.staged {
		s := &d.staged[i]
		if err := os.Rename(s.temp, s.path); err != nil {
			return &failure{code: exitFailed, what: fmt.Sprintf("%s: cannot be written: %v", s.path, reason(err))}
		}
		s.done = true
	}
	d.staged, d.made = nil, nil
	return nil
}

// undo takes back what was not committed.
func (d *delivery) undo() {
	for _, s := range d.staged {
		if !s.done {
			os.Remove(s.temp)
		} else if s.fresh {
			os.Remove(s.path)
		}
	}
	for i := len(d.made) - 1; i >= 0; i-- {
		os.Remove(d.made[i])
	}
}

// target is the file that path leads to, links followed. It refuses what a
// file cannot be written to.
func target(path string) (string, error) {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return "", misuse(fmt.Sprintf("%s: a folder; the name of a file", path), "-o "+filepath.Join(path, "answer.txt"))
	case err == nil && !info.Mode().IsRegular():
		return "", misuse(fmt.Sprintf("%s: not an ordinary file; the name of a file, or no -o to print", path))
	case err == nil:
		return filepath.EvalSymlinks(path)
	case !errors.Is(err, fs.ErrNotExist):
		return "", misuse(fmt.Sprintf("%s: cannot be written: %v", path, reason(err)))
	case strings.HasSuffix(path, "/"):
		return "", misuse(fmt.Sprintf("%s: a folder; the name of a file", path))
	}
	if _, err := os.Stat(filepath.Dir(path)); err != nil {
		return "", misuse(fmt.Sprintf("%s: the folder %s does not exist; a folder that does", path, filepath.Dir(path)))
	}
	return path, nil
}

// reason is a file error without the path, which the message has already.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}
