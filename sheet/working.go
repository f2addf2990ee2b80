package sheet

import (
	"fmt"
	"strings"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// Working writes the working of the answer's figures, in the units of the
// formulas' sources; "" if none was recorded.
func Working(a plan.Answer) string {
	if len(a.Working) == 0 {
		return ""
	}
	p := &page{}
	p.head("Working of the first option, in the units of the sources")
	place := ""
	for _, w := range a.Working {
		if w.Place != place {
			place = w.Place
			p.line("  %s", strings.ToUpper(placeWords(place)))
		}
		p.step(w)
	}
	return "\n" + p.String()
}

func placeWords(s string) string {
	if p, err := media.ParseProcess(s); err == nil {
		return p.Words()
	}
	return s
}

func (p *page) step(w formula.Placed) {
	name, u := leafWords(w.Figure)
	if w.Unit != "" {
		u = w.Unit
	}
	p.wrap(4, "", strings.TrimSpace(fmt.Sprintf("%s = %s %s", name, unit.Significant(w.Value, 3), u)))
	p.wrap(8, "", w.Equation)
	var syms []string
	for _, y := range w.Symbols {
		syms = append(syms, strings.TrimSpace(fmt.Sprintf("%s = %s %s", y.Name, unit.Significant(y.Value, 4), y.Unit)))
	}
	if len(syms) > 0 {
		p.wrap(8, "with ", strings.Join(syms, "; "))
	}
	for _, f := range w.Factors {
		p.wrap(8, "", fmt.Sprintf("%s = %s %s [%s]", f.Name, unit.Significant(f.Value, 4), f.Unit, sourced(f.Kind, f.From)))
	}
	if w.Source != "" {
		p.wrap(8, "source: ", w.Source)
	}
	if name, ok := opens(w.Step); ok {
		p.wrap(8, "open it: ", "wellwright calc "+name+" --from BOOK")
	}
}

// opens names the formula that a step was worked out by, else one that opens its
// figure.
func opens(s formula.Step) (string, bool) {
	if s.Formula != "" {
		return s.Formula, true
	}
	f, ok := plan.Formulas().Opens(s.Figure)
	return f.Name, ok
}

// Shown is a factor as it is by default and as it stands in a book.
type Shown struct {
	source.Factor
	Now source.Factor `json:"now"`
}

// Factors writes factors, a line each or opened.
func Factors(fs []Shown, open bool) string {
	p := &page{}
	if len(fs) == 0 {
		p.line("No factor.")
	}
	if !open {
		for _, f := range fs {
			p.wrap(0, f.Name+" ", strings.Join(strings.Fields(fmt.Sprintf("%s %s (%s)", unit.Significant(f.Now.Value, 4), f.Unit, f.Now.Kind)), " "))
		}
		return p.String()
	}
	for _, f := range fs {
		p.wrap(0, "", strings.TrimSpace(fmt.Sprintf("%s = %s %s", f.Name, unit.Significant(f.Now.Value, 4), f.Unit)))
		p.wrap(4, "", f.What)
		if f.HasRange() {
			p.line("    in use or in print from %s to %s", unit.Significant(f.Low, 4), unit.Significant(f.High, 4))
		}
		p.wrap(4, "", sourced(f.Kind, f.From))
		if f.Now.Kind == source.Own {
			p.wrap(4, "own value: ", fmt.Sprintf("%s in place of %s, because %s", unit.Digits(f.Now.Value), unit.Digits(f.Value), f.Now.From))
		}
	}
	return p.String()
}
