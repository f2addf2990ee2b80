package sheet

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"wellwright/formula"
	"wellwright/source"
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
		p.listed(f)
	}
	p.line("")
	p.line("calc NAME shows a formula; calc NAME input=\"value unit\" ... answers it")
	return p.String()
}

// listed writes a formula as one entry of the list.
func (p *page) listed(f formula.Formula) {
	head := "  " + padded(f.Name, nameWidth) + "  "
	for _, l := range broken(f.What, Width-nameWidth-4, Width-nameWidth-4) {
		p.line("%s", head+l)
		head = strings.Repeat(" ", nameWidth+4)
	}
}

// nameWidth is room for all but the longest names of formulas.
const nameWidth = 27

// Calculation shows one formula: what it asks, what it holds for, where it comes
// from, and how it stands against what is published.
func Calculation(f formula.Formula) string {
	p := &page{}
	p.wrap(0, "", f.Name+" · "+f.What)
	p.line("")
	p.wrap(2, "", f.Equation)
	p.head("Asks")
	for _, i := range f.Inputs {
		if !i.Optional() {
			p.input(i)
		}
	}
	if more := optional(f); len(more) > 0 {
		p.wrap(2, "", "may be given too, else counted as none: "+strings.Join(more, ", "))
	}
	p.head("Gives")
	for _, r := range f.Gives() {
		p.wrap(2, "", spoken(r.Name)+": "+r.What)
	}
	p.provenance(f.Range, f.Error, f.Source, f.Kind, f.Care)
	p.factors(f.Factors)
	p.head("Worked examples")
	p.examples(f)
	return p.String()
}

// examples writes each worked example with the expected answers beside ours.
func (p *page) examples(f formula.Formula) {
	last, from := "", ""
	for _, c := range f.Checks() {
		if how := command(c.Given); how != last {
			p.wrap(2, "", "calc "+f.Name+" "+how)
			last, from = how, ""
		}
		line := fmt.Sprintf("%s: expected %s, here %s", spoken(c.Result), c.Want, c.Got)
		if c.Apart != "" {
			line += " (" + c.Apart + ")"
		}
		p.wrap(6, "", line)
		if c.Source != from {
			p.wrap(8, "", c.Source)
			from = c.Source
		}
	}
}

// optional lists the inputs that count as nothing unless given, by the units they
// are asked in.
func optional(f formula.Formula) []string {
	var out []string
	for k, i := range f.Inputs {
		if !i.Optional() {
			continue
		}
		entry := i.Name
		next := k + 1
		if next == len(f.Inputs) || !f.Inputs[next].Optional() || f.Inputs[next].Asked() != i.Asked() {
			entry += " (" + i.Asked() + ")"
		}
		out = append(out, entry)
	}
	return out
}

// input writes what a formula asks, in one or two lines.
func (p *page) input(i formula.Input) {
	name := i.Name
	if i.Symbol != "" {
		name += " (" + i.Symbol + ")"
	}
	p.wrap(2, "", name+": "+i.What)
	asks := i.Asked()
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
	if !strings.Contains(from, kind.String()) {
		from += " [" + kind.String() + "]"
	}
	p.wrap(2, "source: ", from)
	if care != "" {
		p.wrap(2, "caution: ", care)
	}
}

// factors writes the disputed numbers a formula rests on, a line each; the
// command factor opens one.
func (p *page) factors(fs []source.Factor) {
	for _, f := range fs {
		p.wrap(2, "factor ", f.Name+" = "+strings.TrimSpace(formula.Figure(f.Value)+" "+f.Unit)+" ["+f.Kind.String()+"]")
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

// Calculated writes an answer in both systems of units, with its working.
func Calculated(a formula.Answer) string {
	p := &page{}
	p.wrap(0, "", a.Formula+" · "+a.What)
	p.line("")
	rows := make([][]string, len(a.Results))
	for i, r := range a.Results {
		rows[i] = []string{spoken(r.Name), both(r.US, r.Metric), r.What}
	}
	p.remarked(rows)
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

// remarked writes rows of a name, a figure and a remark, which is broken under
// itself where it is long.
func (p *page) remarked(rows [][]string) {
	name, figure := 0, 0
	for _, r := range rows {
		name, figure = max(name, utf8.RuneCountInString(r[0])), max(figure, utf8.RuneCountInString(r[1]))
	}
	lead := 2 + name + 2 + figure + 2
	for _, r := range rows {
		head := "  " + padded(r[0], name) + "  " + padded(r[1], figure) + "  "
		for i, l := range broken(r[2], max(Width-lead, 30), max(Width-lead, 30)) {
			if i > 0 {
				head = strings.Repeat(" ", lead)
			}
			p.line("%s", head+l)
		}
	}
}

// padded fills a word up with spaces on the right.
func padded(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}

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
		if leftOut(g) {
			left = append(left, spoken(g.Name))
			continue
		}
		rows = append(rows, []string{spoken(g.Name), both(g.US, g.Metric), g.From})
	}
	p.remarked(rows)
	if len(left) > 0 {
		p.wrap(2, "none given, taken as none: ", strings.Join(left, ", "))
	}
}

// leftOut reports whether an input stands at nothing because nobody gave it.
func leftOut(g formula.Given) bool {
	return g.From == "assumed: "+formula.LeftOut || g.From == "assumed: "+formula.None
}

// symbols writes the letters of the equation with what they stood for.
func (p *page) symbols(a formula.Answer) {
	var words []string
	for _, g := range a.Inputs {
		if g.Symbol != "" && !leftOut(g) && g.US.Words == "" {
			words = append(words, g.Symbol+" = "+both(g.US, g.Metric))
		}
	}
	for _, s := range a.Symbols {
		words = append(words, strings.TrimSpace(s.Name+" = "+formula.Amount{Value: s.Value, Unit: s.Unit}.String()))
	}
	if len(words) > 0 {
		p.wrap(2, "with ", strings.Join(words, "; "))
	}
	mark := "so   "
	for _, r := range a.Results {
		name := spoken(r.Name)
		if r.Symbol != "" {
			name += ": " + r.Symbol
		}
		p.line("  %s%s = %s", mark, name, both(r.US, r.Metric))
		mark = "     "
	}
}
