package section

import (
	"fmt"
	"math"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// flag stands where the first limit fails, or has least to spare.
func (p *longSheet) flag() {
	for way, c := range p.ways {
		if c.First.Limit != "" {
			p.flagAt(p.flagX(way, c), way, c)
		}
	}
}

// flagX is where the flag of a course stands: over its stage, or at the kitchen.
func (p *longSheet) flagX(way int, c plan.Course) float64 {
	if c.FirstAt == none {
		return p.house.kitchen
	}
	return p.columnOf(way, c.FirstAt).middle
}

// The words of a flag: how wide they run at most, and how far they stand from the
// pole.
const (
	flagWide  = 330.0
	flagStand = 21.0
	flagLine  = 9.0
)

// flagAt draws the pole and the flag, and writes beside it, on the side that has
// more room. Two flags have their words at different heights.
func (p *longSheet) flagAt(x float64, way int, c plan.Course) {
	top := eavesY + 3 + 19*float64(way)
	foot := pipeY - 9.0
	if x >= p.house.riser {
		foot = pipeY - houseRise - 8
	}
	right, left := p.house.riser-8-x-flagStand, math.Min(x-flagStand, p.house.riser-6)-wallX-6
	side, anchor, room := 1.0, canvas.Start, math.Min(right, flagWide)
	if right < math.Min(left, flagWide) {
		side, anchor, room = -1, canvas.End, math.Min(left, flagWide)
	}
	words := x + side*flagStand
	fill := canvas.Black
	if way > 0 {
		fill = canvas.White
		if side < 0 { // its words stand as low as the pipe's rise to the kitchen
			words = math.Min(words, p.house.riser-6)
		}
	}
	p.Line(at(x, foot), at(x, top), steel)
	p.Polygon([]canvas.Point{at(x, top), at(x+side*17, top+4.5), at(x, top+9)}, steel, fill)
	for i, l := range p.flagLines(c, room) {
		lettering := fine
		if l.strong {
			lettering = fineStrong
		}
		lettering.Anchor = anchor
		p.Text(at(words, top+7+flagLine*float64(i)), l.words, lettering)
	}
}

// flagLines are the words at the flag, that fit a room: what fails, and by how
// much; of two flags one line each.
func (p *longSheet) flagLines(c plan.Course, room float64) []labelLine {
	most := 3
	if p.overlaid() {
		most = 1
	}
	var ls []labelLine
	for _, l := range limited(fineStrong, flagHead(c)+c.First.Say, room, min(2, most)) {
		ls = append(ls, labelLine{l, true})
	}
	for _, l := range limited(fine, p.in.flagFigures(c.First), room, max(1, most-len(ls))) {
		ls = append(ls, labelLine{l, false})
	}
	return ls
}

// limited breaks words into so many lines at most.
func limited(l canvas.Lettering, words string, room float64, most int) []string {
	lines := l.Lines(tied(words), room)
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] = l.Fit(lines[most-1]+" and so on …", room)
	}
	return lines
}

func flagHead(c plan.Course) string {
	switch {
	case c.Fails:
		return "First limit to fail: "
	case c.First.Fails:
		return "First to fail, in other waters: "
	}
	return "Least to spare: "
}

// flagFigures are what a limit has, what it needs and its margin, and in which
// water.
func (u longUnits) flagFigures(l plan.Limit) string {
	where := ""
	switch l.Water {
	case "", "middle":
	case "as read":
		where = "in some waters as read"
	default:
		where = "if: " + l.Water
	}
	switch l.Unit {
	case "yes or no", "lawful drain", "count", "chlorine feed ahead":
		return where
	}
	word := "at least"
	if l.AtMost {
		word = "at most"
	}
	have, _ := unit.InSystem(l.Have, l.Unit, u.system)
	need, in := unit.InSystem(l.Need, l.Unit, u.system)
	words := fmt.Sprintf("has %s, needs %s %s %s, margin %.2f", unit.Digits(have), word, unit.Digits(need), in, l.Margin)
	if where != "" {
		words += ", " + where
	}
	return words
}

// flagWords tells the flags.
func (p *longSheet) flagWords() string {
	words := ""
	for _, c := range p.ways {
		if c.First.Limit != "" {
			words += flagHead(c) + c.First.Say + ": " + p.in.flagFigures(c.First) + ". "
		}
	}
	return words
}
