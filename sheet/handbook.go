package sheet

import (
	"fmt"
	"strings"

	"wellwright/formula"
)

// Handbook writes the page of every formula, in Markdown: what each asks and
// gives, and each published example beside our answer.
func Handbook(r *formula.Register) string {
	var b strings.Builder
	b.WriteString("# Handbook of formulas\n\n")
	b.WriteString("This page is generated from the register of formulas; `go test ./sheet -run TestHandbook -update` writes it anew.\n")
	b.WriteString("`wellwright calc NAME` shows any of them, `wellwright calc NAME input=\"value unit\"` answers it with its working,\n")
	b.WriteString("and `wellwright calc NAME --from BOOK` fills in what a well book knows.\n\n")
	b.WriteString("Words for how well a number is founded: *published*, *derived* (arithmetic from published values or definitions),\n")
	b.WriteString("*common practice* (a rule of the trade, no single source), *from memory* (source named, text not seen), *judgement*.\n\n")
	fmt.Fprintf(&b, "%d formulas, checked against %d answers from outside the program.\n\n", len(r.All()), answers(r))
	for _, s := range r.Subjects() {
		fmt.Fprintf(&b, "- [%s](#%s)\n", s, strings.ReplaceAll(strings.ToLower(s), " ", "-"))
	}
	subject := ""
	for _, f := range r.All() {
		if f.Subject != subject {
			subject = f.Subject
			fmt.Fprintf(&b, "\n## %s\n", subject)
		}
		entry(&b, f)
	}
	return b.String()
}

// answers counts the checks of all examples.
func answers(r *formula.Register) (n int) {
	for _, f := range r.All() {
		n += len(f.Checks())
	}
	return n
}

// entry writes one formula.
func entry(b *strings.Builder, f formula.Formula) {
	fmt.Fprintf(b, "\n### %s\n\n%s.\n\n```\n%s\n```\n\n", f.Name, sentenceCase(f.What), f.Equation)
	b.WriteString("| input | symbol | what | unit | range | assumed |\n|---|---|---|---|---|---|\n")
	for _, i := range f.Inputs {
		if i.Optional() {
			continue
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s | %s | %s |\n", i.Name, cell(i.Symbol), cell(i.What), cell(i.Units), cell(formula.Span(i.Low, i.High)), cell(assumedWords(i)))
	}
	b.WriteString("\n")
	for _, l := range [][2]string{{"May be given too, else counted as none", strings.Join(optional(f), ", ")}, {"Holds for", f.Range}, {"Error", f.Error}, {"Source", f.Source + " (" + f.Kind.String() + ")"}, {"Caution", f.Care}, {"Factors", factorNames(f)}} {
		if l[1] != "" {
			fmt.Fprintf(b, "- %s: %s\n", l[0], l[1])
		}
	}
	b.WriteString("\n| given | result | expected | here | apart | source |\n|---|---|---|---|---|---|\n")
	for _, c := range f.Checks() {
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s |\n", cell(strings.Join(c.Given, ", ")), cell(spoken(c.Result)), cell(c.Want), cell(c.Got), cell(c.Apart), cell(c.Source))
	}
}

func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func assumedWords(i formula.Input) string {
	if i.Default == "" {
		return ""
	}
	return i.Default + ": " + i.Why
}

func factorNames(f formula.Formula) string {
	var names []string
	for _, x := range f.Factors {
		names = append(names, "`"+x.Name+"`")
	}
	return strings.Join(names, ", ")
}

// cell keeps a text from breaking a table.
func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
