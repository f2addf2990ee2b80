package canvas

import "strings"

// widths are the advances of the characters from space to tilde, in thousandths
// of the size. Source: DejaVu Sans 2.37, table hmtx of the regular face. It is
// the widest of the faces a drawing asks for, so that what fits in it fits.
var widths = [...]float64{
	318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
	636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
	1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
	603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
	500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
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

// Lines breaks a text at its spaces into lines that fit a room. A word longer
// than the room is shortened.
func (l Lettering) Lines(words string, room float64) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(words) {
		w = l.Fit(w, room)
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
