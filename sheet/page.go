// Package sheet writes every paper: the plan, and what explains it, as plain
// text that reads well on a narrow screen and prints in black and white.
package sheet

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"wellwright/unit"
)

// Width is the widest line of a text sheet.
const Width = 96

// page collects lines; s is the system its figures are printed in.
type page struct {
	b strings.Builder
	s unit.System
}

// line writes a short line as it stands.
func (p *page) line(format string, args ...any) {
	p.b.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " "))
	p.b.WriteByte('\n')
}

// head writes a heading with an empty line before it.
func (p *page) head(s string) {
	p.line("")
	p.line("%s", strings.ToUpper(s))
}

// say is wrap with the figures of the text turned into the page's system.
func (p *page) say(indent int, mark, text string) { p.wrap(indent, mark, prose(text, p.s)) }

// wrap writes text under a mark, the following lines under the first word; under
// a long mark they stand only a little further in, so that a phone keeps room.
func (p *page) wrap(indent int, mark, text string) {
	lead := strings.Repeat(" ", indent) + mark
	wide := utf8.RuneCountInString(lead)
	hang := wide
	if wide > indent+longMark {
		hang = indent + 4
	}
	rest := strings.Repeat(" ", hang)
	for i, l := range broken(text, Width-wide, Width-hang) {
		if i == 0 {
			p.line("%s%s", lead, l)
			continue
		}
		p.line("%s%s", rest, l)
	}
}

// longMark is the width of a mark above which text hangs less far in.
const longMark = 10

// broken splits text at spaces into a first line of at most first runes and
// others of at most room.
func broken(text string, first, room int) []string {
	var lines []string
	line, most := "", first
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > most:
			lines = append(lines, line)
			line, most = w, room
		default:
			line += " " + w
		}
	}
	return append(lines, line)
}

// table writes rows in columns, the first to the left and the rest to the right.
func (p *page) table(indent int, rows [][]string) { p.columns(indent, 1, rows) }

// columns writes rows in columns, the first few to the left and the rest to the
// right.
func (p *page) columns(indent, left int, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	wide := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, c := range r {
			wide[i] = max(wide[i], utf8.RuneCountInString(c))
		}
	}
	for _, r := range rows {
		line := strings.Repeat(" ", indent)
		for i, c := range r {
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(c))
			switch {
			case i > 0 && i < left:
				line += "  " + c + pad
			case i == 0:
				line += c + pad
			default:
				line += "  " + pad + c
			}
		}
		p.line("%s", line)
	}
}

func (p *page) String() string { return strings.TrimLeft(p.b.String(), "\n") }
