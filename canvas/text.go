package canvas

import (
	"strings"
	"unicode"
)

// widths are the advances of the characters from space to tilde, in thousandths
// of the size: those of the widest of the faces a drawing asks for, so that what
// fits in it fits. Source: DejaVu Sans 2.37, table hmtx of the regular face; of
// the double quote, slash, J, backslash and backquote Source Sans 3.052, which is
// wider there.
var widths = [...]float64{
	318, 401, 480, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 350,
	636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
	1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 480, 656, 557, 863, 748, 787,
	603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 350, 390, 838, 500,
	542, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
	635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
}

// rarer are the advances of signs outside that range, from the same table.
var rarer = map[rune]float64{'·': 318, '–': 500, '°': 500, 'µ': 636, '²': 401, '³': 401, '…': 1000, '≥': 838, '≤': 838, '×': 838, '±': 838, '½': 969}

const (
	unknownWidth = 1000 // of a character in neither table
	boldWider    = 1.12 // a bold face over the regular one, most
)

// Width is the room a text takes up, at most.
func (l Lettering) Width(words string) float64 {
	sum := 0.0
	for _, r := range words {
		sum += advance(r)
	}
	if l.Bold {
		sum *= boldWider
	}
	return sum * l.Size / 1000
}

func advance(r rune) float64 {
	if i := int(r) - ' '; i >= 0 && i < len(widths) {
		return widths[i]
	}
	if w, known := rarer[r]; known {
		return w
	}
	return unknownWidth
}

// Fit shortens a text to a room, with three dots for what was left out.
func (l Lettering) Fit(words string, room float64) string {
	if l.Width(words) <= room {
		return words
	}
	runes := []rune(words)
	for n := len(runes) - 1; n > 0; n-- {
		if s := strings.TrimRight(string(runes[:n]), " ,·") + "…"; l.Width(s) <= room {
			return s
		}
	}
	return ""
}

// Tied is a space at which no line is broken, such as that before a unit.
const Tied = '\u00a0'

// Lines breaks a text at its spaces into lines that fit a room; what is tied stays
// together, and its spaces come out as others do. A word longer than the room is
// shortened.
func (l Lettering) Lines(words string, room float64) []string {
	var lines []string
	line := ""
	for _, w := range strings.FieldsFunc(words, func(r rune) bool { return unicode.IsSpace(r) && r != Tied }) {
		w = l.Fit(strings.ReplaceAll(w, string(Tied), " "), room)
		switch {
		case line == "":
			line = w
		case l.Width(line+" "+w) > room:
			lines = append(lines, line)
			line = w
		default:
			line += " " + w
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}
