package jobfile

import (
	"bytes"
	"errors"
	"strings"

	toml "github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// maxBroken is how many unreadable lines are reported before giving up.
const maxBroken = 20

// repair reports every line that is not TOML and blanks it, so that the rest
// of the file can be read and its faults reported too. It stops at a broken
// [header], since what follows would land in the wrong table. It returns
// whether there was nothing to repair.
func (b *builder) repair() bool {
	whole := true
	for range maxBroken {
		at, message := b.firstBreak()
		if at < 0 {
			return whole
		}
		line := b.line(at)
		start, end := b.starts[line-1], len(b.data)
		if line < len(b.starts) {
			end = b.starts[line]
		}
		text := bytes.TrimSpace(b.data[start:end])
		b.faults.add(&node{line: line, offset: at}, Problem{
			Given:    quoteLine(text),
			Accepted: "a line of TOML (" + message + ")",
			Hint:     lineHint(string(text)),
		})
		if whole {
			b.data = bytes.Clone(b.data)
		}
		whole = false
		if len(text) == 0 || text[0] == '[' || !bytes.Contains(text, []byte("=")) {
			b.data = b.data[:start:start]
			return false
		}
		for i := start; i < end; i++ {
			if b.data[i] != '\n' {
				b.data[i] = ' '
			}
		}
	}
	b.data = nil
	return false
}

// firstBreak returns where the file stops being TOML, and why; -1 if it
// never does.
func (b *builder) firstBreak() (offset int, message string) {
	b.parser.Reset(b.data)
	for b.parser.NextExpression() {
		continue
	}
	err := b.parser.Error()
	var broken *unstable.ParserError
	if err == nil {
		return -1, ""
	}
	if errors.As(err, &broken) && len(broken.Highlight) > 0 {
		return int(b.parser.Range(broken.Highlight).Offset), broken.Message
	}
	return max(0, len(b.data)-1), err.Error()
}

func quoteLine(text []byte) string {
	if len(text) == 0 {
		return "the end of the file or an empty line"
	}
	return shorten(strings.ToValidUTF8(string(text), "\uFFFD"))
}

// lineHint guesses what is wrong with a line of the usual kinds of slips.
func lineHint(text string) string {
	key, value, ok := strings.Cut(text, "=")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	switch {
	case !ok || value == "" || strings.HasPrefix(text, "["):
		return ""
	case strings.HasPrefix(value, `"`) && strings.Count(value, `"`) >= 3:
		return `write inches as in: "1/2 in"`
	case strings.HasPrefix(value, `"`) && strings.Count(value, `"`) == 1:
		return `the closing " is missing`
	case !strings.ContainsAny(value, `"'[{`):
		value, _, _ = strings.Cut(value, "#")
		return "put it in quotes: " + key + ` = "` + strings.TrimSpace(value) + `"`
	}
	return ""
}

// stillBroken asks the library whether the whole file is TOML, for the rules
// that the walk over single lines does not see (a date that does not exist,
// a number too large, a table reopened).
func stillBroken(data []byte, fs *faults) {
	var all map[string]any
	err := toml.Unmarshal(data, &all)
	if err == nil {
		return
	}
	at := &node{line: 1}
	key, message := "", err.Error()
	var bad *toml.DecodeError
	if errors.As(err, &bad) {
		at.line, _ = bad.Position()
		key = strings.Join(bad.Key(), ".")
	}
	fs.add(at, Problem{
		Key:      key,
		Given:    "what breaks a rule of TOML",
		Accepted: "TOML (" + strings.TrimPrefix(message, "toml: ") + ")",
	})
}
