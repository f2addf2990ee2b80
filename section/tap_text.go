package section

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// textWidth is the width of plain text, in signs.
const textWidth = 96

// Text prints the table in plain text, no wider than a terminal.
func (t TapSheet) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "LONG SECTION OF %s, as of %s\n%s\n%s.\n", strings.ToUpper(t.Well), t.AsOf, capital(t.Train), t.Meets)
	if t.Flag != "" {
		wrapped(&b, "", t.Flag)
	}
	b.WriteString("\nTHE SUPPLY\n")
	for _, s := range t.Supply {
		wrapped(&b, "  ", s.Name+": "+s.Value)
	}
	b.WriteString("\nPRESSURE\n")
	for _, l := range t.Pressure {
		wrapped(&b, "  ", l)
	}
	if len(t.Stages) > 0 {
		b.WriteString("\nTHE TRAIN\n")
	}
	for _, s := range t.Stages {
		wrapped(&b, "  ", s.line())
	}
	t.taps(&b)
	b.WriteString("\n")
	for _, n := range t.Notes {
		wrapped(&b, "", n)
	}
	return b.String()
}

// line is a stage in one line.
func (s StageSaid) line() string {
	parts := []string{s.Name}
	for _, p := range []struct{ before, words string }{{"", s.Size}, {"", s.Setting}, {"wash ", s.Wash}, {"takes ", s.Loss}, {"tap ", s.Tap}} {
		if p.words != "" {
			parts = append(parts, p.before+p.words)
		}
	}
	if s.Short {
		parts = append(parts, "THE WASH FALLS SHORT")
	}
	return strings.Join(parts, "; ")
}

const (
	nameWide = 30
	cellWide = 13
)

// taps prints the figures, so many taps at a time as the width holds.
func (t TapSheet) taps(b *strings.Builder) {
	const each = (textWidth - nameWide) / cellWide
	b.WriteString("\nAT THE TAPS: forecast, nine in ten; * read; (a) assumed, nobody measured it\n")
	for from := 0; from < len(t.Taps); from += each {
		to := min(from+each, len(t.Taps))
		line := padded("", nameWide)
		for _, h := range t.Taps[from:to] {
			line += padded(h.Tap, cellWide)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
		for _, r := range t.Rows {
			r.print(b, from, to)
		}
		b.WriteString("\n")
	}
	for _, h := range t.Taps {
		fmt.Fprintf(b, "  %-4s%s\n", h.Tap, h.Where)
	}
}

// print writes one property at some taps: the forecast, and below it what was read.
func (r TapFigures) print(b *strings.Builder, from, to int) {
	name := strings.TrimSpace(r.Name + " " + r.Unit)
	if r.Assumed {
		name += " (a)"
	}
	line := padded(name, nameWide)
	deepest := 0
	for _, c := range r.Cells[from:to] {
		line += padded(c.Forecast, cellWide)
		deepest = max(deepest, len(c.Readings))
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	for i := range deepest {
		line = padded("", nameWide)
		for _, c := range r.Cells[from:to] {
			line += padded(c.read(i), cellWide)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// read is one reading of a cell, "" where there are fewer.
func (c TapCell) read(i int) string {
	if i >= len(c.Readings) {
		return ""
	}
	words := "* " + c.Readings[i].Value
	if c.Readings[i].Outside {
		words += " out"
	}
	return words
}

// padded fills a text with spaces to a width.
func padded(s string, wide int) string {
	return s + strings.Repeat(" ", max(1, wide-utf8.RuneCountInString(s)))
}

// wrapped writes a text in lines of the width of plain text, further ones indented.
func wrapped(b *strings.Builder, indent, words string) {
	line := indent
	for _, w := range strings.Fields(words) {
		if utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > textWidth {
			b.WriteString(line + "\n")
			line = indent + "  "
		}
		if strings.TrimSpace(line) != "" {
			line += " "
		}
		line += w
	}
	b.WriteString(line + "\n")
}
