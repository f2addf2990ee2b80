package book

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"wellwright/water"
)

// The bounds of what is read. A book of a thousand entries is about a megabyte;
// the YAML parser takes time by the square of the keys in one entry.
const (
	maxBytes = 2 << 20
	maxEntry = 64 << 10
	maxKeys  = 1000
	maxDepth = 12
	maxList  = 10000 // entries
)

// scan turns the text of a file into values. It reads entry by entry, so that
// one slip does not hide those of other entries.
func scan(name string, text []byte) (Value, []Finding) {
	if f := unreadable(name, text); f != nil {
		return Value{}, []Finding{*f}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // some editors begin a file with this mark
	if isJSON(text) {
		return parseJSON(name, text)
	}
	all := Value{Shape: List}
	var found []Finding
	for _, p := range split(string(text)) {
		if len(all.List)+len(found) > maxList {
			return all, append(found, *mistakeAt(name, p.line+1, fmt.Sprintf("more than %d entries", maxList), "begin a second book"))
		}
		if p.blank() {
			continue
		}
		v, f := parse(name, p.text, p.line)
		switch {
		case f != nil:
			found = append(found, *f)
		case v.Shape != List:
			found = append(found, *mistakeAt(name, v.Line, fmt.Sprintf("%q is no entry", short(v)), "begin each entry with \"- entry: 1\" at the left edge"))
		default:
			all.List = append(all.List, v.List...)
		}
	}
	return all, found
}

func unreadable(name string, text []byte) *Finding {
	switch {
	case len(text) > maxBytes:
		return mistakeAt(name, 1, fmt.Sprintf("the file has %d bytes", len(text)), fmt.Sprintf("a book has at most %d", maxBytes))
	case !utf8.Valid(text):
		return mistakeAt(name, badLine(text), "bytes that are not UTF-8 text", "save the file as UTF-8")
	}
	for i, c := range string(text) {
		loose := c == '\r' && (i+1 == len(text) || text[i+1] != '\n')
		if c < ' ' && c != '\n' && c != '\r' && c != '\t' || loose {
			return mistakeAt(name, 1+strings.Count(string(text[:i]), "\n"), fmt.Sprintf("control character %U", c), "take it out")
		}
	}
	return nil
}

// badLine returns the first line that is not UTF-8.
func badLine(text []byte) int {
	for i, line := range strings.Split(string(text), "\n") {
		if !utf8.ValidString(line) {
			return i + 1
		}
	}
	return 1
}

func mistakeAt(name string, line int, read, want string) *Finding {
	return &Finding{Place: water.Place{File: name, Line: line}, Read: read, Want: want}
}

// part is the text of one entry and the number of lines before it.
type part struct {
	text string
	line int
}

// split cuts a book before each line that begins an entry.
func split(text string) []part {
	var parts []part
	var b strings.Builder
	start := 0
	for i, line := range strings.SplitAfter(text, "\n") {
		if beginsEntry(line) && b.Len() > 0 {
			parts = append(parts, part{b.String(), start})
			b.Reset()
			start = i
		}
		b.WriteString(line)
	}
	return append(parts, part{b.String(), start})
}

func beginsEntry(line string) bool {
	return strings.HasPrefix(line, "- ") || strings.TrimRight(line, " \r\n") == "-"
}

// blank reports whether the part holds nothing but comments.
func (p part) blank() bool {
	for line := range strings.Lines(p.text) {
		line = strings.TrimSpace(line)
		if line != "" && line != "---" && line[0] != '#' {
			return false
		}
	}
	return true
}

// parse reads YAML whose first line is line above+1 of the file. The parser
// counts a comment line that ends in a carriage return twice; so none is left.
func parse(name, text string, above int) (v Value, f *Finding) {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	line := func(t *token.Token) int {
		if t == nil || t.Position == nil {
			return above + 1
		}
		return above + t.Position.Line
	}
	// The parser is not ours: should it break on some text, the text is a
	// mistake of the book and no reason to stop the program.
	defer func() {
		if recover() != nil {
			v, f = Value{}, mistakeAt(name, above+1, "this part cannot be read as YAML", "look for a stray quote, bracket or tab")
		}
	}()
	if len(text) > maxEntry {
		return Value{}, mistakeAt(name, above+1, fmt.Sprintf("an entry of %d bytes", len(text)), fmt.Sprintf("an entry has at most %d: begin each with \"- \" at the left edge", maxEntry))
	}
	text = quoteAbove(text)
	tokens := lexer.Tokenize(text)
	if t, why := refused(tokens); t != nil {
		return Value{}, mistakeAt(name, line(t), why, "write plain keys and values")
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	var at yaml.Error
	if errors.As(err, &at) {
		return Value{}, mistakeAt(name, line(at.GetToken()), "not YAML: "+at.GetMessage(), "look at the indent, colons and quotes here")
	}
	if err != nil {
		return Value{}, mistakeAt(name, above+1, "not YAML: "+err.Error(), "look at the indent, colons and quotes")
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil {
		return Value{Shape: List, Line: above + 1}, nil
	}
	w := walker{name: name, above: above}
	v = w.value(file.Docs[0].Body, 0)
	return v, w.wrong
}

// aboveForm is a value that begins with ">" and a figure, which YAML takes for the
// head of a folded text: a result above what a test can read.
var aboveForm = regexp.MustCompile(`(?m)^(\s*(?:- )*[^#"'\n]*?(?:: |- ))(> ?[0-9][0-9.,]*[^\S\n]+[^\s#"\\][^#"\\\n]*?)([^\S\n]*(?: #.*)?)$`)

// quoteAbove puts such values into quotes.
func quoteAbove(text string) string {
	return aboveForm.ReplaceAllString(text, `$1"$2"$3`)
}

// refused returns the first token that no book needs and that could make a
// small file large or deep: anchors, aliases, tags, second documents, nesting.
func refused(tokens token.Tokens) (*token.Token, string) {
	flow, dashes, keys, line, seen := 0, 0, 0, 0, false
	for _, t := range tokens {
		if t.Position.Line != line {
			line, dashes = t.Position.Line, 0
		}
		switch t.Type {
		case token.AnchorType, token.AliasType, token.TagType, token.DirectiveType, token.MergeKeyType, token.MappingKeyType, token.DocumentEndType:
			return t, fmt.Sprintf("%q begins a YAML anchor, alias, tag or other device a book does not use", t.Value)
		case token.DocumentHeaderType:
			if seen {
				return t, "a second document begins here"
			}
		case token.SequenceStartType, token.MappingStartType:
			flow++
		case token.SequenceEndType, token.MappingEndType:
			flow--
		case token.SequenceEntryType:
			dashes++
		case token.MappingValueType:
			if keys++; keys > maxKeys {
				return t, fmt.Sprintf("more than %d keys in one entry", maxKeys)
			}
		}
		if t.Type != token.CommentType {
			seen = true
		}
		if flow > maxDepth || dashes > maxDepth || t.Position.Column > 10*maxDepth && t.Type == token.SequenceEntryType {
			return t, "nested too deep"
		}
	}
	return nil, ""
}

// walker turns the parser's nodes into values.
type walker struct {
	name  string
	above int
	wrong *Finding
}

func (w *walker) fail(n ast.Node, read, want string) Value {
	if w.wrong == nil {
		w.wrong = mistakeAt(w.name, w.line(n), read, want)
	}
	return Value{}
}

func (w *walker) line(n ast.Node) int {
	if t := n.GetToken(); t != nil && t.Position != nil {
		return w.above + t.Position.Line
	}
	return w.above + 1
}

func (w *walker) value(n ast.Node, depth int) Value {
	if depth > maxDepth {
		return w.fail(n, "nested too deep", "")
	}
	v := Value{Line: w.line(n)}
	switch n := n.(type) {
	case *ast.MappingNode:
		v.Shape, v.Pairs = Map, w.pairs(n.Values, depth)
	case *ast.MappingValueNode:
		v.Shape, v.Pairs = Map, w.pairs([]*ast.MappingValueNode{n}, depth)
	case *ast.SequenceNode:
		v.Shape = List
		for _, item := range n.Values {
			v.List = append(v.List, w.value(item, depth+1))
		}
	case *ast.LiteralNode:
		v.Text = strings.TrimRight(n.Value.Value, "\n")
	case *ast.StringNode:
		v.Text = n.Value
	case *ast.NullNode:
		v.Text = ""
	case ast.ScalarNode:
		v.Text = n.GetToken().Value
	default:
		return w.fail(n, fmt.Sprintf("a %s, which a book does not use", strings.ToLower(n.Type().String())), "write a word, a figure, a list or named values")
	}
	if len(v.Pairs) > 0 {
		v.Line = v.Pairs[0].Line
	}
	return v
}

func (w *walker) pairs(nodes []*ast.MappingValueNode, depth int) []Pair {
	out := make([]Pair, 0, len(nodes))
	for _, n := range nodes {
		key := w.value(n.Key, depth+1)
		if key.Shape != Text {
			w.fail(n, "a key that is not a word", "")
			continue
		}
		p := Pair{Key: key.Text, Line: key.Line, Value: w.value(n.Value, depth+1)}
		if p.Value.Shape == Text && p.Value.Text == "" {
			p.Value.Line = p.Line
		}
		out = append(out, p)
	}
	return out
}
