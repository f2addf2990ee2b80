package section

import (
	"strings"
	"unicode/utf8"
)

// Table is the content of a picture for whoever reads it on a phone or hears it
// read out: every figure that is drawn, in words.
type Table struct {
	Caption string     `json:"caption"`
	Head    []string   `json:"head"`
	Rows    [][]string `json:"rows"`
	Notes   []string   `json:"notes"`
}

// The width of a sheet of text and the gap between its columns, in characters.
const (
	tableWidth = 92
	tableGap   = 2
)

// Text writes the table in columns no wider than a sheet of text; a cell that is
// too long is broken into lines.
func (t Table) Text() string {
	var b strings.Builder
	write := func(text string) {
		for _, l := range brokenAt(text, tableWidth) {
			b.WriteString(l + "\n")
		}
	}
	write(t.Caption)
	b.WriteString("\n")
	widths := t.widths()
	for _, r := range append([][]string{t.Head}, t.Rows...) {
		writeCells(&b, r, widths)
	}
	for _, n := range t.Notes {
		b.WriteString("\n")
		write(n)
	}
	return b.String()
}

// widths are those of the columns, the widest narrowed until all fit, if it can be
// without cutting a word.
func (t Table) widths() []int {
	widths, least := make([]int, len(t.Head)), make([]int, len(t.Head))
	for _, r := range append([][]string{t.Head}, t.Rows...) {
		for i, c := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
			for _, w := range strings.Fields(c) {
				for _, p := range pieces(w, tableWidth) {
					least[i] = max(least[i], utf8.RuneCountInString(p))
				}
			}
		}
	}
	for sum(widths)+tableGap*(len(widths)-1) > tableWidth {
		widest := -1
		for i, w := range widths {
			if w > least[i] && (widest < 0 || w > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	return widths
}

func sum(of []int) int {
	n := 0
	for _, v := range of {
		n += v
	}
	return n
}

// writeCells writes one row, over as many lines as its longest cell needs.
func writeCells(b *strings.Builder, row []string, widths []int) {
	cells, most := make([][]string, len(row)), 1
	for i, c := range row {
		cells[i] = brokenAt(c, widths[i])
		most = max(most, len(cells[i]))
	}
	for n := range most {
		line := ""
		for i := range row {
			cell := ""
			if n < len(cells[i]) {
				cell = cells[i][n]
			}
			line += cell + strings.Repeat(" ", max(0, widths[i]-utf8.RuneCountInString(cell))+tableGap)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// brokenAt breaks a text at its spaces and behind its hyphens into lines of at
// most so many characters; a longer piece is cut.
func brokenAt(text string, most int) []string {
	var lines []string
	line, gap := "", ""
	for _, w := range strings.Fields(text) {
		for _, piece := range pieces(w, most) {
			if utf8.RuneCountInString(line+gap+piece) > most && line != "" {
				lines, line, gap = append(lines, line), "", ""
			}
			line, gap = line+gap+piece, ""
		}
		gap = " "
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// pieces are the parts of a word between which a line may break.
func pieces(word string, most int) []string {
	var parts []string
	for _, p := range strings.SplitAfter(word, "-") {
		for utf8.RuneCountInString(p) > most {
			r := []rune(p)
			parts, p = append(parts, string(r[:most])), string(r[most:])
		}
		if p != "" {
			parts = append(parts, p)
		}
	}
	return parts
}
