package media

import (
	"bytes"
	"fmt"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// The parser takes a time that grows with the square of nesting and length, so
// both are held down. A list of all our parts has some 20 kB and 900 marks.
const (
	maxYAML  = 64 << 10 // bytes
	maxMarks = 3000     // characters of structure
)

// readYAML reads a list of prices, each a mapping with the keys of the columns.
func readYAML(name string, text []byte, d priceDefaults) ([]linedPrice, []error) {
	if len(text) > maxYAML {
		return nil, []error{fmt.Errorf("%s: longer than %d bytes; write so long a list as CSV", name, maxYAML)}
	}
	if n := marks(text); n > maxMarks {
		return nil, []error{fmt.Errorf("%s: %d marks of structure; a price list has fewer than %d", name, n, maxMarks)}
	}
	file, err := parser.ParseBytes(text, 0)
	if err != nil {
		return nil, []error{fmt.Errorf("%s: %w", name, err)}
	}
	var prices []linedPrice
	var errs []error
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		list, ok := doc.Body.(*ast.SequenceNode)
		if !ok {
			errs = append(errs, fmt.Errorf("%s:%d: a price list is a list of mappings with the keys %s", name, lineOf(doc.Body), priceHeadings))
			continue
		}
		for _, item := range list.Values {
			p, more := priceOfNode(name, item, d)
			errs = append(errs, more...)
			if len(more) == 0 {
				prices = append(prices, linedPrice{p, lineOf(item)})
			}
		}
	}
	return prices, errs
}

func priceOfNode(name string, item ast.Node, d priceDefaults) (Price, []error) {
	fields, ok := item.(ast.MapNode)
	if !ok {
		return Price{}, []error{fmt.Errorf("%s:%d: an item is a mapping with the keys %s", name, lineOf(item), priceHeadings)}
	}
	l := pricedLine{line: lineOf(item)}
	var errs []error
	for it := fields.MapRange(); it.Next(); {
		key := it.Key().String()
		into := l.field(key)
		scalar, isScalar := it.Value().(ast.ScalarNode)
		switch {
		case into == nil:
			errs = append(errs, fmt.Errorf("%s:%d: key %q is not known; the keys are %s", name, lineOf(it.Key()), key, priceHeadings))
		case !isScalar:
			errs = append(errs, fmt.Errorf("%s:%d: %s must be one value", name, lineOf(it.Key()), key))
		default:
			*into = scalar.GetToken().Value
		}
	}
	p, more := l.price(name, d)
	return p, append(errs, more...)
}

func lineOf(n ast.Node) int {
	if n == nil || n.GetToken() == nil || n.GetToken().Position == nil {
		return 1
	}
	return n.GetToken().Position.Line
}

// marks counts the characters that may open a level.
func marks(text []byte) int {
	n := 0
	for _, b := range text {
		if bytes.IndexByte([]byte("[{&?!-*,@`"), b) >= 0 {
			n++
		}
	}
	return n
}
