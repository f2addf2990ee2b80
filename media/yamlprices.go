package media

import (
	"fmt"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// readYAML reads a list of prices, each a mapping with the keys of the columns.
func readYAML(name string, text []byte, d priceDefaults) ([]Price, []error) {
	file, err := parser.ParseBytes(text, 0)
	if err != nil {
		return nil, []error{fmt.Errorf("%s: %w", name, err)}
	}
	var prices []Price
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
				prices = append(prices, p)
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
