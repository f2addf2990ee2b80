package section

import (
	"fmt"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// flag stands where the first limit fails, or has least to spare.
func (p *longSheet) flag() {
	for way, c := range p.ways {
		if c.First.Limit == "" {
			continue
		}
		x := p.flagX(way, c)
		p.flagAt(x, way, p.flagLines(c))
	}
}

// flagX is where the flag of a course stands: over its stage, or at the kitchen.
func (p *longSheet) flagX(way int, c plan.Course) float64 {
	if c.FirstAt == none {
		return p.house.kitchen
	}
	return p.columnOf(way, c.FirstAt).middle
}

const flagRoom = 250.0

// flagAt draws the pole and the flag, and writes beside it, on the side that has
// the room.
func (p *longSheet) flagAt(x float64, way int, lines []string) {
	top := eavesY + 4 + 16*float64(way)
	foot := pipeY - 9.0
	if x >= p.house.riser {
		foot = pipeY - 33
	}
	side, anchor := 1.0, canvas.Start
	if x+flagRoom > longRight {
		side, anchor = -1, canvas.End
	}
	fill := canvas.Black
	if way > 0 {
		fill = canvas.White
	}
	p.Line(at(x, foot), at(x, top), steel)
	p.Polygon([]canvas.Point{at(x, top), at(x+side*17, top+4.5), at(x, top+9)}, steel, fill)
	for i, l := range lines {
		lettering := fine
		if i == 0 {
			lettering = fineStrong
		}
		lettering.Anchor = anchor
		p.Text(at(x+side*21, top+7+9*float64(i)), l, lettering)
	}
}

// flagLines are the words at the flag.
func (p *longSheet) flagLines(c plan.Course) []string {
	head := "thinnest margin: "
	if c.First.Fails {
		head = "first limit to fail: "
	}
	lines := fineStrong.Lines(head+c.First.Say, flagRoom-25)
	if len(lines) > 2 {
		lines = []string{lines[0], fineStrong.Fit(lines[1]+" …", flagRoom-25)}
	}
	if p.overlaid() {
		lines = lines[:1]
	}
	return append(lines, fine.Fit(flagFigures(c.First), flagRoom-25))
}

// flagFigures are what a limit has, what it needs and its margin.
func flagFigures(l plan.Limit) string {
	word := "at least"
	if l.AtMost {
		word = "at most"
	}
	switch l.Unit {
	case "yes or no", "lawful drain", "count", "chlorine feed ahead":
		return ""
	}
	words := fmt.Sprintf("has %s, needs %s %s %s", unit.Digits(l.Have), word, unit.Digits(l.Need), l.Unit)
	if !l.Fails {
		words += fmt.Sprintf(", margin %.2f", l.Margin)
	}
	if l.Water != "" && l.Water != "middle" {
		words += ", if " + l.Water
	}
	return words
}

// flagWords tells the flags.
func (p *longSheet) flagWords() string {
	words := ""
	for _, c := range p.ways {
		if c.First.Limit != "" {
			words += capital(c.First.Say) + ": " + flagFigures(c.First) + ". "
		}
	}
	return words
}
