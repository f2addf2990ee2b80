package sheet

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"wellwright/plan"
	"wellwright/section"
	"wellwright/unit"
)

// Ruling is the characters that a strip is drawn with.
type Ruling int

// The rulings. Boxed is for a terminal that shows box characters; Plain is for
// everything else, paper and files among them.
const (
	Plain Ruling = iota
	Boxed
)

// strip is the characters of one ruling.
type strip struct {
	before, beforeHalf, now, nowHalf, middle, limit, health, left, right rune
}

var strips = [...]strip{
	Plain: {'.', ':', '-', '=', '#', '!', '!', '|', '|'},
	Boxed: {'░', '▒', '─', '━', '█', '┊', '┋', '├', '┤'},
}

// marks of readings, alike in both rulings.
const (
	fieldMark      = 'o'
	laboratoryMark = 'x'
	recordMark     = '+'
)

const (
	// StripWidth is the widest line of a picture in text.
	StripWidth = 78
	stripRoom  = 58 // between the ends of the strip
	endRoom    = 7  // for the figure at the beginning of the axis
	nameRoom   = 20
)

// beliefs draws rows of belief under the headings of their parts.
func (p *page) beliefs(rows []section.BeliefRow, r Ruling) {
	part := ""
	for _, b := range rows {
		if b.Part != part {
			part = b.Part
			p.head(part)
		}
		p.line("%s", beliefLine(b))
		p.line("%s", strips[r].draw(b))
	}
	if len(rows) > 0 {
		p.line("")
		p.key(rows, strips[r])
	}
}

// beliefLine is the figures of a row, as many as fit a line: what is believed
// now, the limits, what was believed before.
func beliefLine(b section.BeliefRow) string {
	now := b.Figure(b.After.P50)
	if s := b.Span(b.After); s != now {
		now += " (" + s + ")"
	}
	line := "  " + padded(b.Name, nameRoom) + strings.TrimSpace(now+" "+b.Unit)
	var more []string
	if b.Assumed {
		more = append(more, "assumed")
	}
	more = append(more, b.Limits()...)
	if b.Before != nil {
		more = append(more, "before "+b.Figure(b.Before.P50)+" ("+b.Span(*b.Before)+")")
	}
	for _, m := range more {
		if utf8.RuneCountInString(line)+2+utf8.RuneCountInString(m) <= StripWidth {
			line += ", " + m
		}
	}
	return line
}

// draw draws a row between the ends of its axis. What comes later lies on top:
// the earlier belief, the present one, the limits, the readings.
func (s strip) draw(b section.BeliefRow) string {
	cells := []rune(strings.Repeat(" ", stripRoom))
	if q := b.Before; q != nil {
		fill(cells, b.Axis, q.P05, q.P95, s.before)
		fill(cells, b.Axis, q.P25, q.P75, s.beforeHalf)
	}
	q := b.After
	fill(cells, b.Axis, q.P05, q.P95, s.now)
	fill(cells, b.Axis, q.P25, q.P75, s.nowHalf)
	fill(cells, b.Axis, q.P50, q.P50, s.middle)
	for _, l := range []struct {
		v    *float64
		mark rune
	}{{b.Limit.Low, s.limit}, {b.Limit.High, s.limit}, {b.Limit.Health, s.health}} {
		if l.v != nil {
			fill(cells, b.Axis, *l.v, *l.v, l.mark)
		}
	}
	for _, x := range b.Readings {
		fill(cells, b.Axis, x.Value, x.Value, markOf(x))
	}
	low, high := b.Ends()
	return fmt.Sprintf("  %*s %c%s%c %s", endRoom, low, s.left, string(cells), s.right, high)
}

// markOf is the mark of a reading; of one that is only a limit it is its sign.
func markOf(x plan.Reading) rune {
	switch {
	case x.Sign != "":
		return rune(x.Sign[0])
	case x.Kind == "field":
		return fieldMark
	case x.Kind == "laboratory":
		return laboratoryMark
	}
	return recordMark
}

// fill writes a mark from one value to another.
func fill(cells []rune, a section.Axis, low, high float64, mark rune) {
	for i := cellAt(a, low, len(cells)); i <= cellAt(a, high, len(cells)); i++ {
		cells[i] = mark
	}
}

func cellAt(a section.Axis, v float64, n int) int { return min(n-1, int(a.At(v)*float64(n))) }

// key explains the marks that are there.
func (p *page) key(rows []section.BeliefRow, s strip) {
	words := []string{fmt.Sprintf("%c now, 5 to 95 %%; %c its middle half; %c median", s.now, s.nowHalf, s.middle)}
	seen := map[rune]bool{}
	for _, b := range rows {
		seen[s.before] = seen[s.before] || b.Before != nil
		seen[s.limit] = seen[s.limit] || b.Limit != plan.LimitTicks{}
		for _, x := range b.Readings {
			seen[markOf(x)] = true
		}
	}
	if seen[s.before] {
		words = append(words, fmt.Sprintf("%c before the evidence; %c its middle half", s.before, s.beforeHalf))
	}
	for _, k := range []struct {
		mark  rune
		words string
	}{{fieldMark, "read on site"}, {laboratoryMark, "by a laboratory"}, {recordMark, "on record"}, {'<', "not found above"}, {'>', "above"}, {s.limit, "a limit"}} {
		if seen[k.mark] {
			words = append(words, string(k.mark)+" "+k.words)
		}
	}
	for _, l := range broken(strings.Join(words, "; "), StripWidth-2, StripWidth-2) {
		p.line("  %s", l)
	}
}

// beliefRows are the rows of an answer that a sheet asks for.
func beliefRows(a plan.Answer, s unit.System, wanted func(section.BeliefRow) bool) []section.BeliefRow {
	var rows []section.BeliefRow
	for _, b := range section.BeliefRows(a, s) {
		if wanted(b) {
			rows = append(rows, b)
		}
	}
	return rows
}
