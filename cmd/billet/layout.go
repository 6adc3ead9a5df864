package main

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// textWidth is the width of a line of text, in letters.
const textWidth = 80

// paragraph writes text in lines of at most textWidth, the first after first
// and the others after rest.
func paragraph(b *bytes.Buffer, first, rest, text string) {
	line, begun := first, false
	for _, word := range glued(strings.Fields(text)) {
		if begun && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > textWidth {
			b.WriteString(line + "\n")
			line, begun = rest, false
		}
		if begun {
			line += " "
		}
		line, begun = line+word, true
	}
	b.WriteString(line + "\n")
}

// glued joins a number with the word after it, its unit, so that no line ends
// between the two.
func glued(words []string) []string {
	var out []string
	for _, word := range words {
		if n := len(out); n > 0 && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789") {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// bullets writes a heading and a list of sentences; nothing for an empty list.
func bullets(b *bytes.Buffer, heading string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	b.WriteString("\n" + heading + "\n")
	for _, s := range sentences {
		paragraph(b, "  - ", "    ", sentence(s))
	}
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	if strings.ContainsAny(s[:1], "abcdefghijklmnopqrstuvwxyz") {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// columns writes rows in columns as wide as their widest entry. A column
// marked 'r' is set to the right.
func columns(b *bytes.Buffer, indent, marks string, rows [][]string) {
	widths := make([]int, len(marks))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		line := indent
		for i, cell := range row {
			if i > 0 {
				line += "  "
			}
			gap := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if marks[i] == 'r' {
				line += gap + cell
			} else {
				line += cell + gap
			}
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// counted writes a number of things in words up to twelve: "three layers",
// "one layer".
func counted(n int, one, more string) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	name := more
	if n == 1 {
		name = one
	}
	if n < len(words) {
		return words[n] + " " + name
	}
	return fmt.Sprintf("%d %s", n, name)
}
