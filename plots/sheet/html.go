package sheet

import (
	"bytes"
	"fmt"
	"strings"
)

// page is HTML being written. Text is escaped here and nowhere else; markup
// comes only from this package.
type page struct{ bytes.Buffer }

// open writes a start tag: its name and pairs of attribute and value.
func (p *page) open(tag string, attrs ...string) {
	p.WriteString("<" + tag)
	for i := 0; i+1 < len(attrs); i += 2 {
		if attrs[i+1] != "" {
			fmt.Fprintf(p, ` %s="%s"`, attrs[i], escape(attrs[i+1]))
		}
	}
	p.WriteString(">")
}

// close writes end tags.
func (p *page) close(tags ...string) {
	for _, t := range tags {
		p.WriteString("</" + t + ">")
	}
	p.WriteString("\n")
}

// text writes escaped text.
func (p *page) text(s string) { p.WriteString(escape(s)) }

// line writes an element that holds only text.
func (p *page) line(tag, text string, attrs ...string) {
	p.open(tag, attrs...)
	p.text(text)
	p.close(tag)
}

// bold writes text in bold within a line.
func (p *page) bold(s string) {
	p.WriteString("<b>")
	p.text(s)
	p.WriteString("</b>")
}

// list writes a list of sentences, in their order; none for an empty one.
func (p *page) list(class string, items []string) {
	if len(items) == 0 {
		return
	}
	p.open("ul", "class", class)
	p.WriteString("\n")
	for _, s := range items {
		p.line("li", s)
	}
	p.close("ul")
}

// table writes a table with a caption. marks has a letter for each column: l
// for words, r for numbers.
func (p *page) table(caption, marks string, head []string, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	class := "wide"
	if len(rows) <= onePage {
		class = "wide short"
	}
	p.open("div", "class", class)
	p.WriteString("<table>\n")
	if caption != "" {
		p.line("caption", caption)
	}
	p.WriteString("<thead><tr>")
	for i, h := range head {
		p.open("th", "scope", "col", "class", side(marks, i))
		p.text(h)
		p.WriteString("</th>")
	}
	p.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range rows {
		p.WriteString("<tr>")
		for i, c := range row {
			p.open("td", "class", side(marks, i))
			p.text(c)
			p.WriteString("</td>")
		}
		p.WriteString("</tr>\n")
	}
	p.WriteString("</tbody></table></div>\n")
}

// onePage is how many rows a table has at most to be kept on one page in print.
const onePage = 20

// side is the class of a column.
func side(marks string, i int) string {
	if i < len(marks) && marks[i] == 'r' {
		return "n"
	}
	return ""
}

// begin writes all up to the body's content.
func (p *page) begin(title, style string) {
	p.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n" +
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n")
	p.line("title", title)
	p.WriteString("<style>\n" + style + "</style>\n</head>\n<body>\n")
}

// end closes the page.
func (p *page) end() { p.WriteString("</body>\n</html>\n") }

// escape makes text safe inside an element and inside quotes. What no page can
// hold, control characters and broken UTF-8, becomes U+FFFD.
func escape(s string) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r == '\t', r == '\n', r == '\r':
			return ' '
		case r < 0x20, r >= 0x7f && r < 0xa0, r == 0xfffe, r == 0xffff:
			return '\ufffd'
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	return escaper.Replace(clean)
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")
