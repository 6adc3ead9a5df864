package jobfile

import (
	"bytes"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// kind is what a value in the file is.
type kind int

const (
	isTable kind = iota
	isList
	isText
	isNumber
	isBool
	isDate
)

// node is a value of the file and where it stands.
type node struct {
	kind   kind
	text   string // isText: the text itself
	raw    string // as written
	line   int    // from 1
	offset int    // byte

	keys   []string // isTable: in the order of the file
	kids   map[string]*node
	items  []*node // isList
	shut   bool    // isTable: has its own header, or is written in braces
	tables bool    // isList: made of [[name]] headers
}

func newTable(line, offset int) *node {
	return &node{kind: isTable, line: line, offset: offset, kids: map[string]*node{}}
}

func (n *node) put(key string, v *node) {
	n.keys = append(n.keys, key)
	n.kids[key] = v
}

// builder turns the parser's expressions into a tree of nodes.
type builder struct {
	data   []byte
	starts []int // offsets at which lines start
	parser unstable.Parser
	root   *node
	here   *node  // table the last header opened
	path   string // its name as written
	faults *faults
}

// build parses data. It returns the tree of everything that could be read,
// and whether all of it could.
func build(data []byte, fs *faults) (root *node, whole bool) {
	b := &builder{data: data, faults: fs, starts: lineStarts(data)}
	whole = b.repair()
	b.root = newTable(1, 0)
	b.root.shut = true
	b.here = b.root
	b.parser.Reset(b.data)
	for b.parser.NextExpression() {
		b.expression(b.parser.Expression())
	}
	return b.root, whole
}

func lineStarts(data []byte) []int {
	starts := []int{0}
	for i, c := range data {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

func (b *builder) line(offset int) int {
	return sort.SearchInts(b.starts, offset+1)
}

func (b *builder) expression(e *unstable.Node) {
	switch e.Kind {
	case unstable.KeyValue:
		b.keyValue(b.here, e, b.path)
	case unstable.Table:
		b.header(e, false)
	case unstable.ArrayTable:
		b.header(e, true)
	}
}

// header opens the table a [name] or [[name]] line names.
func (b *builder) header(e *unstable.Node, list bool) {
	parts, at := b.key(e.Key())
	b.path = at.text
	n := b.root
	for _, part := range parts[:len(parts)-1] {
		n = b.step(n, part, at)
		if n == nil {
			b.here = newTable(at.line, at.offset) // read on, out of the tree
			return
		}
	}
	b.here = b.open(n, parts[len(parts)-1], at, list)
}

// step goes down one part of a dotted name, making the table if need be;
// nil where the name is taken by something that is not a table.
func (b *builder) step(n *node, part string, at *node) *node {
	kid, ok := n.kids[part]
	if !ok {
		kid = newTable(at.line, at.offset)
		n.put(part, kid)
		return kid
	}
	if kid.kind == isList && kid.tables {
		return kid.items[len(kid.items)-1]
	}
	if kid.kind != isTable {
		b.twice(at, at.text, kid)
		return nil
	}
	return kid
}

func (b *builder) open(n *node, name string, at *node, list bool) *node {
	table := newTable(at.line, at.offset)
	table.shut = true
	kid, taken := n.kids[name]
	switch {
	case list && taken && kid.tables:
		kid.items = append(kid.items, table)
	case list && !taken:
		n.put(name, &node{kind: isList, tables: true, line: at.line, offset: at.offset, items: []*node{table}})
	case !list && taken && kid.kind == isTable && !kid.shut:
		kid.shut, kid.line, kid.offset = true, at.line, at.offset
		return kid
	case !list && !taken:
		n.put(name, table)
	default:
		b.twice(at, at.text, kid)
	}
	return table
}

// maxPath is the longest name of a table worth repeating before a key's, in
// bytes. No table of a job file has one as long.
const maxPath = 200

// keyValue reads a key and its value into table n, which is called path.
func (b *builder) keyValue(n *node, e *unstable.Node, path string) {
	parts, at := b.key(e.Key())
	if path != "" && len(path) < maxPath {
		at.text = path + "." + at.text
	}
	for _, part := range parts[:len(parts)-1] {
		if n = b.step(n, part, at); n == nil {
			return
		}
	}
	name := parts[len(parts)-1]
	if first, ok := n.kids[name]; ok {
		b.twice(at, at.text, first)
		return
	}
	v := b.value(e.Value(), at)
	if v.raw == "" {
		whole := b.parser.Raw(e.Raw)
		v.raw = string(bytes.TrimSpace(whole[bytes.IndexByte(whole, '=')+1:]))
	}
	n.put(name, v)
}

// twice reports a name that is already taken.
func (b *builder) twice(at *node, name string, first *node) {
	b.faults.add(at, Problem{
		Key:      name,
		Given:    "a second time",
		Accepted: "once; the first is in line " + itoa(first.line),
	})
}

// key returns the parts of a dotted name, and a node that tells where it
// stands with the whole name as its text.
func (b *builder) key(it unstable.Iterator) (parts []string, at *node) {
	at = &node{}
	for it.Next() {
		k := it.Node()
		if len(parts) == 0 {
			at.offset = int(k.Raw.Offset)
			at.line = b.line(at.offset)
		}
		parts = append(parts, strings.ToValidUTF8(string(k.Data), "\uFFFD"))
	}
	at.text = strings.Join(parts, ".")
	return parts, at
}

var kinds = map[unstable.Kind]kind{
	unstable.Array: isList, unstable.InlineTable: isTable,
	unstable.String: isText, unstable.Bool: isBool,
	unstable.Float: isNumber, unstable.Integer: isNumber,
	unstable.LocalDate: isDate, unstable.LocalTime: isDate,
	unstable.LocalDateTime: isDate, unstable.DateTime: isDate,
}

// value copies a value out of the parser. Lists carry no place of their own:
// they take that of the key they stand under.
func (b *builder) value(v *unstable.Node, at *node) *node {
	n := &node{kind: kinds[v.Kind], line: at.line, offset: at.offset}
	if v.Raw.Length > 0 {
		n.offset = int(v.Raw.Offset)
		n.line = b.line(n.offset)
	}
	switch n.kind {
	case isList:
		for it := v.Children(); it.Next(); {
			n.items = append(n.items, b.value(it.Node(), n))
		}
		if len(n.items) > 0 && n.items[0].offset > n.offset {
			n.offset, n.line = n.items[0].offset, n.items[0].line
		}
	case isTable:
		n.kids, n.shut = map[string]*node{}, true
		for it := v.Children(); it.Next(); {
			b.keyValue(n, it.Node(), at.text)
		}
	default:
		n.raw = string(b.parser.Raw(v.Raw))
		if n.kind == isText {
			n.text = string(v.Data)
		}
	}
	return n
}
