// Package sheet writes every paper: the plan, and what explains it, as plain
// text that reads well on a narrow screen and prints in black and white.
package sheet

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Width is the widest line of a text sheet.
const Width = 96

// page collects lines.
type page struct{ b strings.Builder }

func (p *page) line(format string, args ...any) {
	p.b.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " "))
	p.b.WriteByte('\n')
}

// head writes a heading with an empty line before it.
func (p *page) head(s string) {
	p.line("")
	p.line("%s", strings.ToUpper(s))
}

// wrap writes text under a mark, the following lines under the first word.
func (p *page) wrap(indent int, mark, text string) {
	lead := strings.Repeat(" ", indent) + mark
	hang := strings.Repeat(" ", utf8.RuneCountInString(lead))
	room := Width - utf8.RuneCountInString(lead)
	for i, l := range broken(text, room) {
		if i == 0 {
			p.line("%s%s", lead, l)
			continue
		}
		p.line("%s%s", hang, l)
	}
}

// broken splits text into lines of at most room runes, at spaces.
func broken(text string, room int) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > room:
			lines = append(lines, line)
			line = w
		default:
			line += " " + w
		}
	}
	return append(lines, line)
}

// table writes rows in columns, the first to the left and the rest to the right.
func (p *page) table(indent int, rows [][]string) {
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
			if i == 0 {
				line += c + pad
			} else {
				line += "  " + pad + c
			}
		}
		p.line("%s", line)
	}
}

func (p *page) String() string { return strings.TrimLeft(p.b.String(), "\n") }
