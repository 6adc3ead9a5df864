package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"billet/sim/jobfile"
)

// Exit codes.
const (
	exitDone   = 0
	exitNo     = 1 // the job was understood but its answer is "no"
	exitUsage  = 2 // bad usage or bad job file
	exitFailed = 3 // the computation failed
)

// commands lists every command in the order of the help text.
var commands = []command{soakCommand, passesCommand, driftCommand, lossesCommand, grindCommand, stockCommand, hardenCommand, planCommand, teachCommand,
	checkCommand, materialsCommand, newCommand}

// command is one of the program's commands.
type command struct {
	name string
	line string            // what it answers, for the list of commands
	help string            // its whole help text
	take func(*flags)      // declares the flags it takes
	run  func(*call) error // does it; the answer goes to call.print
}

// call is one call of a command.
type call struct {
	ctx   context.Context
	name  string // of the command
	args  []string
	flags *flags
	stdin io.Reader
	out   output
}

// run runs the command that args name and returns the exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	err := dispatch(ctx, args, stdin, stdout, stderr)
	var f *failure
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errNo):
		return exitNo
	case errors.As(err, &f):
	case ctx.Err() != nil:
		f = &failure{code: exitFailed, what: "stopped; nothing was written"}
	default:
		f = &failure{code: exitFailed, what: err.Error()}
	}
	fmt.Fprint(stderr, f.text())
	return f.code
}

// errNo ends a command whose results are printed and whose answer is "no".
var errNo = errors.New("the answer is no")

// failure is an error with its exit code.
type failure struct {
	code int
	// problems of the job file, printed before the rest
	problems jobfile.Problems
	what     string
	hints    []string
}

func (f *failure) Error() string { return f.what }

func (f *failure) text() string {
	var b strings.Builder
	if len(f.problems) > 0 {
		b.WriteString(f.problems.Error() + "\n")
	}
	b.WriteString("billet: " + f.what + "\n")
	for _, h := range f.hints {
		b.WriteString("hint: " + h + "\n")
	}
	return b.String()
}

// misuse is bad usage: what was given and what is accepted, then hints.
func misuse(what string, hints ...string) *failure {
	return &failure{code: exitUsage, what: what, hints: hints}
}

func dispatch(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) error {
	if len(args) == 0 {
		fmt.Fprint(stderr, overview())
		return misuse("no command given")
	}
	name, rest := args[0], args[1:]
	switch name {
	case "help", "--help", "-h":
		return help(rest, stdout)
	}
	if strings.HasPrefix(name, "-") {
		return misuse(name+": given before the command; the command comes first", "billet COMMAND JOB.toml [flags]")
	}
	c, err := find(name)
	if err != nil {
		return err
	}
	f := newFlags(c)
	if err := f.parse(rest); errors.Is(err, pflag.ErrHelp) {
		return help([]string{c.name}, stdout)
	} else if err != nil {
		return err
	}
	out := output{stdout: stdout, stderr: stderr, path: f.out, quiet: f.quiet}
	if err := out.check(f); err != nil {
		return err
	}
	return c.run(&call{ctx: ctx, name: c.name, args: f.set.Args(), flags: f, stdin: stdin, out: out})
}

// find is the command of that name.
func find(name string) (command, error) {
	var names []string
	for _, c := range commands {
		if c.name == name {
			return c, nil
		}
		names = append(names, c.name)
	}
	hint := `"billet help" lists the commands`
	if near := nearest(name, names); near != "" {
		hint = fmt.Sprintf("did you mean %q?", "billet "+near)
	}
	return command{}, misuse(fmt.Sprintf("%s: an unknown command; %s", name, orList(names)), hint)
}

// overview is the program's own help text.
func overview() string {
	var b strings.Builder
	b.WriteString(`billet: what a forge-welded billet will do, worked out before the fire is lit

    billet COMMAND JOB.toml [flags]

Commands:
`)
	for _, c := range commands {
		fmt.Fprintf(&b, "    %-11s%s\n", c.name, c.line)
	}
	b.WriteString(`
A job is one text file that describes the billet, the forge and what is
wanted. "-" in place of its name reads the job from standard input.

    billet new -o my.toml        write a job to begin from, then edit it
    billet check my.toml         see whether it says what you meant
    billet soak my.toml          get an answer
    billet plan my.toml -o plan  get all answers, with a sheet to print
    billet help soak             what a command takes and gives

Exit code: 0 done; 1 the job was understood but the answer is "no"; 2 the
command or the job file is at fault; 3 the computation failed.
`)
	return b.String()
}

// help prints the help text of the command named, or of the program.
func help(args []string, w io.Writer) error {
	text := overview()
	if len(args) > 0 {
		c, err := find(args[0])
		if err != nil {
			return err
		}
		text = c.help
	}
	if _, err := io.WriteString(w, text); err != nil {
		return cannotPrint(err)
	}
	return nil
}

// orList joins words as "a, b or c".
func orList(words []string) string { return list(words, "or") }

// andList joins words as "a, b and c".
func andList(words []string) string { return list(words, "and") }

func list(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " " + last + " " + words[n]
}
