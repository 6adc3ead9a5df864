package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/pflag"
)

// update rewrites the golden answer, the scripts' expected text and the
// README's blocks: go test ./cmd/billet -update, then read what changed.
var update = flag.Bool("update", false, "rewrite golden files")

// billet runs the program in this process.
func billet(t *testing.T, stdin string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(t.Context(), args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// smallJob is quick to work out in one direction.
const smallJob = `title = "Small"
[stack]
width = "30 mm"
length = "90 mm"
[[stack.layer]]
material = "1018"
thickness = "6 mm"
[[stack.layer]]
material = "1095"
thickness = "4 mm"
core = true
[forge]
temperature = "1250 C"
[weld]
heat = "1120 C"
`

// TestHelpNamesEveryFlag keeps the hand-written help texts complete.
func TestHelpNamesEveryFlag(t *testing.T) {
	for _, c := range commands {
		newFlags(c).set.VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(c.help, "--"+f.Name+" ") {
				t.Errorf("help of %s does not tell of --%s", c.name, f.Name)
			}
		})
		for _, line := range strings.Split(c.help, "\n") {
			if len([]rune(line)) > textWidth {
				t.Errorf("help of %s: line longer than %d: %s", c.name, textWidth, line)
			}
		}
	}
}

// TestInterrupt stops while the job is awaited and while it is worked out:
// at once, with exit code 3, and nothing is left behind.
func TestInterrupt(t *testing.T) {
	job := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(job, []byte(smallJob), 0o666); err != nil {
		t.Fatal(err)
	}
	silent, w := io.Pipe() // nobody ever writes
	defer w.Close()
	for name, from := range map[string]string{"waiting": "-", "working": job} {
		dir := t.TempDir()
		ctx, cancel := context.WithCancel(t.Context())
		if from == "-" {
			time.AfterFunc(20*time.Millisecond, cancel)
		} else {
			cancel()
		}
		var out, errs bytes.Buffer
		code := run(ctx, []string{"soak", from, "-o", filepath.Join(dir, "answer.txt"), "--pictures", filepath.Join(dir, "pictures")}, silent, &out, &errs)
		cancel()
		if code != exitFailed || errs.String() != "billet: stopped; nothing was written\n" || out.Len() > 0 {
			t.Errorf("%s: code %d, stdout %q, stderr %q", name, code, out.String(), errs.String())
		}
		if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
			t.Errorf("%s: left %v, %v", name, left, err)
		}
	}
}

// full is a standard output that takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// TestFullOutput leaves no picture behind when the answer can't be printed.
func TestFullOutput(t *testing.T) {
	dir := t.TempDir()
	var errs bytes.Buffer
	code := run(t.Context(), []string{"soak", "-", "--dims", "1", "--ranges", "off", "--pictures", filepath.Join(dir, "a", "b")},
		strings.NewReader(smallJob), full{}, &errs)
	if code != exitFailed || errs.String() != "billet: standard output: no space left on device\n" {
		t.Errorf("code %d, stderr %q", code, errs.String())
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// TestDeliverKeepsWhatWasThere: a file that can't be written leaves the others
// of the same call as they were.
func TestDeliverKeepsWhatWasThere(t *testing.T) {
	dir := t.TempDir()
	old := filepath.Join(dir, "old.txt")
	if err := os.WriteFile(old, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	o := output{stdout: io.Discard, stderr: io.Discard, path: old}
	err := o.deliver([]byte("new"), []file{{filepath.Join(dir, "a.svg"), nil}, {filepath.Join(dir, "missing", "b.svg"), nil}})
	if err == nil {
		t.Error("a folder that does not exist was written to")
	}
	if got, _ := os.ReadFile(old); string(got) != "old" {
		t.Errorf("the old file now holds %q", got)
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("left %v", left)
	}
	if err := o.deliver([]byte("new"), nil); err != nil {
		t.Fatal(err)
	}
	got, _ := os.ReadFile(old)
	info, err := os.Stat(old)
	if string(got) != "new" || err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the file holds %q, mode %v, %v", got, info.Mode(), err)
	}
}

// TestPanicIsAnError: a fault of the program ends with exit code 3, not with 2,
// which would blame the job.
func TestPanicIsAnError(t *testing.T) {
	_, err := await(t.Context(), func() (int, error) { panic("fd: out of order") })
	var f *failure
	if !errors.As(err, &f) || f.code != exitFailed || !strings.Contains(f.text(), "fd: out of order") {
		t.Errorf("got %v", err)
	}
}

// TestProgress shows nothing at first, then one line, and erases it.
func TestProgress(t *testing.T) {
	var early bytes.Buffer
	tell(&early, "working", time.Hour, time.Hour).stop()
	if early.Len() > 0 {
		t.Errorf("told of it at once: %q", early.String())
	}
	r, w := io.Pipe()
	p := tell(w, "working", time.Millisecond, time.Millisecond)
	p.report(0.5, "odds")
	line := make([]byte, 100)
	n, _ := r.Read(line)
	if got := string(line[:n]); got != "\r\x1b[Kodds: 50 % ..." {
		t.Errorf("told %q", got)
	}
	rest := make(chan string)
	go func() {
		b, _ := io.ReadAll(r)
		rest <- string(b)
	}()
	p.stop()
	w.Close()
	if got := <-rest; !strings.HasSuffix(got, "\r\x1b[K") {
		t.Errorf("left %q on the line", got)
	}
}

func TestNearest(t *testing.T) {
	names := []string{"soak", "check", "materials", "new"}
	for given, want := range map[string]string{"sok": "soak", "chekc": "check", "material": "materials", "nwe": "new", "xyzzy": "", "": "",
		strings.Repeat("s", 1000): ""} {
		if got := nearest(given, names); got != want {
			t.Errorf("nearest to %.20q is %q, want %q", given, got, want)
		}
	}
}
