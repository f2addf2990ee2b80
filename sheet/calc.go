package sheet

import (
	"fmt"
	"strings"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

// Calculations lists formulas by subject, a line each.
func Calculations(fs []formula.Formula) string {
	p := &page{}
	subject := ""
	for _, f := range fs {
		if f.Subject != subject {
			subject = f.Subject
			p.head(subject)
		}
		p.columns(2, 2, [][]string{{fmt.Sprintf("%-*s", nameWidth, f.Name), f.What}})
	}
	p.line("")
	p.line("calc NAME shows a formula; calc NAME input=\"value unit\" ... answers it")
	return p.String()
}

// nameWidth is room for the longest name of a formula.
const nameWidth = 31

// Calculation shows one formula: what it asks, what it holds for, where it comes
// from, and how it stands against what is published.
func Calculation(f formula.Formula) string {
	p := &page{}
	p.wrap(0, "", f.Name+" · "+f.What)
	p.line("")
	p.wrap(2, "", f.Equation)
	p.head("Asks")
	for _, i := range f.Inputs {
		p.input(i)
	}
	p.provenance(f.Range, f.Error, f.Source, f.Kind, f.Care)
	p.factors(f.Factors)
	p.head("Worked examples")
	for _, e := range f.Examples {
		p.wrap(2, "", "calc "+f.Name+" "+command(e.Given))
	}
	rows := [][]string{{"", "published", "here", "apart"}}
	for _, c := range f.Checks() {
		rows = append(rows, []string{c.Result, c.Want, c.Got, c.Apart})
	}
	p.columns(4, 1, rows)
	for _, s := range sources(f.Checks()) {
		p.wrap(4, "", s)
	}
	return p.String()
}

// input writes what a formula asks, in one or two lines.
func (p *page) input(i formula.Input) {
	name := i.Name
	if i.Symbol != "" {
		name += " (" + i.Symbol + ")"
	}
	p.wrap(2, "", name+": "+i.What)
	asks := i.Kind
	if i.Units != "" {
		asks += " in " + i.Units
	}
	if strings.HasPrefix(i.Units, "a plain") || strings.HasPrefix(i.Units, "such as") {
		asks = i.Units
	}
	if i.Units != "" && i.Kind == "pH" {
		asks = "a plain number"
	}
	if r := formula.Span(i.Low, i.High); r != "" {
		asks += "; " + r
	}
	if i.Default != "" {
		asks += fmt.Sprintf("; assumed %s: %s", i.Default, i.Why)
	}
	p.wrap(6, "", asks)
}

// provenance writes what an equation holds for and where it comes from.
func (p *page) provenance(holds, far, from string, kind source.Kind, care string) {
	p.line("")
	if holds != "" {
		p.wrap(2, "holds for: ", holds)
	}
	if far != "" {
		p.wrap(2, "error: ", far)
	}
	p.wrap(2, "source: ", from+" ["+kind.String()+"]")
	if care != "" {
		p.wrap(2, "caution: ", care)
	}
}

// factors writes the disputed numbers a formula rests on.
func (p *page) factors(fs []source.Factor) {
	for _, f := range fs {
		p.wrap(2, "factor: ", strings.TrimSpace(fmt.Sprintf("%s = %s %s", f.Name, unit.Significant(f.Value, 4), f.Unit))+
			fmt.Sprintf(" [%s: %s]", f.Kind, f.From))
	}
}

// command writes inputs as they are typed.
func command(given []string) string {
	words := make([]string, len(given))
	for i, g := range given {
		words[i] = formula.Quoted(g)
	}
	return strings.Join(words, " ")
}

// sources lists the sources of checks, each once.
func sources(cs []formula.Check) []string {
	var out []string
	seen := map[string]bool{}
	for _, c := range cs {
		if !seen[c.Source] {
			seen[c.Source] = true
			out = append(out, c.Source)
		}
	}
	return out
}

// Calculated writes an answer in both systems of units, with its working.
func Calculated(a formula.Answer) string {
	p := &page{}
	p.wrap(0, "", a.Formula+" · "+a.What)
	p.line("")
	rows := make([][]string, len(a.Results))
	for i, r := range a.Results {
		rows[i] = []string{spoken(r.Name), both(r.US, r.Metric), r.What}
	}
	p.columns(2, 3, rows)
	for _, n := range a.Notes {
		p.wrap(2, "note: ", n)
	}
	if a.Care != "" {
		p.wrap(2, "caution: ", a.Care)
	}
	p.head("From")
	p.given(a.Inputs)
	p.head("Working")
	p.wrap(2, "", a.Equation)
	p.symbols(a)
	p.provenance(a.Range, a.Error, a.Source, a.Kind, "")
	p.factors(a.Factors)
	return p.String()
}

func spoken(name string) string { return strings.ReplaceAll(name, "_", " ") }

// both writes an amount in US and metric units, once if they are alike.
func both(us, metric formula.Amount) string {
	if us == metric || us.Words != "" {
		return us.String()
	}
	return us.String() + " = " + metric.String()
}

// given writes the inputs; those left out for want of a value are named together.
func (p *page) given(ins []formula.Given) {
	var rows [][]string
	var left []string
	for _, g := range ins {
		if strings.HasSuffix(g.From, "left out") || g.From == "assumed: none" {
			left = append(left, spoken(g.Name))
			continue
		}
		rows = append(rows, []string{spoken(g.Name), both(g.US, g.Metric), g.From})
	}
	p.columns(2, 3, rows)
	if len(left) > 0 {
		p.wrap(2, "none given, taken as none: ", strings.Join(left, ", "))
	}
}

// symbols writes the letters of the equation with what they stood for.
func (p *page) symbols(a formula.Answer) {
	var words []string
	for _, g := range a.Inputs {
		if g.Symbol != "" && !strings.HasPrefix(g.From, "assumed: left out") && g.US.Words == "" {
			words = append(words, g.Symbol+" = "+both(g.US, g.Metric))
		}
	}
	for _, s := range a.Symbols {
		words = append(words, strings.TrimSpace(s.Name+" = "+formula.Amount{Value: s.Value, Unit: s.Unit}.String()))
	}
	if len(words) > 0 {
		p.wrap(2, "with ", strings.Join(words, "; "))
	}
	for i, r := range a.Results {
		mark := "so "
		if i > 0 {
			mark = "   "
		}
		name := r.Symbol
		if name == "" {
			name = spoken(r.Name)
		}
		p.line("  %s%s = %s", mark, name, both(r.US, r.Metric))
	}
}
