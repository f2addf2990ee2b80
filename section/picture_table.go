package section

import "strings"

// Table is the content of a picture for whoever reads it on a phone or hears it
// read out: every figure that is drawn, in words.
type Table struct {
	Caption string     `json:"caption"`
	Head    []string   `json:"head"`
	Rows    [][]string `json:"rows"`
	Notes   []string   `json:"notes"`
}

// Text writes the table in columns for a screen or a terminal.
func (t Table) Text() string {
	var b strings.Builder
	b.WriteString(t.Caption + "\n\n")
	widths := make([]int, len(t.Head))
	for _, r := range append([][]string{t.Head}, t.Rows...) {
		for i, c := range r {
			widths[i] = max(widths[i], len([]rune(c)))
		}
	}
	for _, r := range append([][]string{t.Head}, t.Rows...) {
		line := ""
		for i, c := range r {
			line += c + strings.Repeat(" ", widths[i]-len([]rune(c))+2)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	for _, n := range t.Notes {
		b.WriteString("\n" + n + "\n")
	}
	return b.String()
}
