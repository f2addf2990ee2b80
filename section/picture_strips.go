package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// The columns and heights of the picture of several trains.
const (
	trainStripH = 58.0
	trainStripX = pictureLeft + 6
	trainStripW = 520.0
	stripSayX   = trainStripX + trainStripW + 22
)

// LaneStrips draws several trains, one strip a train: every limit as a mark where
// so much of it is used up, hard ones above the line and cautions below it, the
// first to fail flagged.
func LaneStrips(ls []plan.Lanes, s unit.System) *canvas.Drawing {
	h := plan.Heading{Well: wellOf(ls).Well, AsOf: wellOf(ls).AsOf}
	p := &stripPage{newPage("strips", h, "How much of each limit is used up")}
	words := []string{"As of " + h.AsOf + "."}
	if len(ls) == 0 {
		p.prose("No train to draw: the water asks for none, or none holds.", body)
		return p.done([]string{"No train to draw."})
	}
	p.scale()
	for _, l := range ls {
		rows := LaneRows(l, s)
		words = append(words, stripSentence(l, rows))
		p.strip(l, rows)
	}
	p.foot()
	return p.done(words)
}

// wellOf is the heading of the first train, which is of the same well as the rest.
func wellOf(ls []plan.Lanes) plan.Heading {
	if len(ls) == 0 {
		return plan.Heading{}
	}
	return ls[0].Heading
}

// stripSentence tells a strip in words: what is broken and what comes first.
func stripSentence(l plan.Lanes, rows []LaneRow) string {
	words := trainWords(l.Heading) + ": "
	var broken []string
	first := ""
	for _, r := range rows {
		if r.Fails || r.Caution != nil && r.Caution.Fails {
			broken = append(broken, r.Words+", "+r.Name+" ("+r.Verdict()+")")
		}
		if r.First {
			first = r.flagWords() + " is " + r.Words + ", " + r.Name
		}
	}
	if len(broken) == 0 {
		words += "every limit and caution is kept in the likeliest water"
	} else {
		words += "not kept in the likeliest water: " + strings.Join(broken, "; ")
	}
	if first != "" {
		words += "; " + first
	}
	return words + "."
}

// stripPage is a picture of several trains on its way down the sheet.
type stripPage struct{ *page }

func stripAt(used float64) float64 { return trainStripX + trainStripW*laneAxis.At(used) }

func (p *stripPage) scale() {
	p.y += 10
	for _, v := range []float64{0, 0.5, 1, 1.5} {
		l := middle(small)
		if v == 0 {
			l = small
		}
		p.Text(at(stripAt(v), p.y), fmt.Sprintf("%.0f %%", 100*v), l)
	}
	p.y += 6
}

// strip draws one train.
func (p *stripPage) strip(l plan.Lanes, rows []LaneRow) {
	p.Group(trainWords(l.Heading), stripSentence(l, rows), func() {
		p.Text(at(pictureLeft, p.y+13), strong.Fit(rankWords(l.Heading), pictureRoom), strong)
		y := p.y + 36
		p.Line(at(trainStripX, y), at(trainStripX+trainStripW, y), plain)
		p.Line(at(stripAt(1), y-15), at(stripAt(1), y+15), canvas.Pen{Width: 3})
		for _, r := range rows {
			p.mark(r, y)
		}
		p.say(l, rows, y)
	})
	p.y += trainStripH
	p.Line(at(pictureLeft, p.y), at(pictureRight, p.y), hair)
	p.y += 2
}

// rankWords is a train with its rank before it.
func rankWords(h plan.Heading) string {
	words := strings.Join(h.Words, ", ")
	if h.Rank > 0 {
		return fmt.Sprintf("%d  %s", h.Rank, words)
	}
	return words
}

// mark puts a limit where so much of it is used up: a hard one as a tall stroke
// above the line, a caution as a short one below it; beyond the end as an arrow.
func (p *stripPage) mark(r LaneRow, y float64) {
	if r.YesOrNo && !r.Fails && !r.First {
		return
	}
	used := r.Used.P50
	switch {
	case r.YesOrNo:
		used = laneMost
	case r.Elsewhere:
		used = r.Used.P95
	}
	p.tick(used, r.Soft, y)
	if r.Caution != nil && r.Caution.At > 0 {
		p.tick(used/r.Caution.At, true, y)
	}
	if r.First {
		(&lanePage{p.page}).flagAt(math.Min(stripAt(used), trainStripX+trainStripW-1), y-15)
	}
}

func (p *stripPage) tick(used float64, soft bool, y float64) {
	x, up := stripAt(used), -12.0
	pen := canvas.Pen{Width: 1.6}
	if soft {
		up, pen = 8, plain
	}
	if used > laneMost {
		p.Polygon([]canvas.Point{at(x, y+up-3), at(x+6, y+up), at(x, y+up+3)}, noPen, canvas.Black)
	}
	p.Line(at(x, y), at(x, y+up), pen)
}

// say writes what comes first and in how many waters the train holds.
func (p *stripPage) say(l plan.Lanes, rows []LaneRow, y float64) {
	var lines []string
	for _, r := range rows {
		if r.First {
			lines = append(lines, small.Fit(r.Words+":", pictureRight-stripSayX), small.Fit(r.usedWords(), pictureRight-stripSayX))
		}
	}
	if l.Meets != nil {
		lines = append(lines, small.Fit("keeps all in "+percent(*l.Meets)+" of waters", pictureRight-stripSayX))
	}
	for i, line := range lines {
		p.Text(at(stripSayX, y-10+12*float64(i)), line, small)
	}
}

// usedWords is a limit with how much of it is used up.
func (r LaneRow) usedWords() string {
	switch {
	case r.Elsewhere:
		return r.Name + ", in other waters"
	case r.YesOrNo:
		return r.Name
	}
	return r.Name + " " + percent(r.Used.P50) + " used"
}

// foot explains the marks.
func (p *stripPage) foot() {
	p.y += 16
	p.key([]entry{
		{"above the line: hard limits", 12, func(x, y float64) { p.Line(at(x+6, y-7), at(x+6, y+5), canvas.Pen{Width: 1.6}) }},
		{"below it: cautions", 12, func(x, y float64) { p.Line(at(x+6, y-4), at(x+6, y+4), plain) }},
		{"all of the limit used up", 8, func(x, y float64) { p.Line(at(x+4, y-7), at(x+4, y+7), canvas.Pen{Width: 3}) }},
		{"first limit to fail, or the nearest", 12, func(x, y float64) { (&lanePage{p.page}).flagAt(x+2, y) }},
		{"beyond the end", 10, func(x, y float64) {
			p.Polygon([]canvas.Point{at(x+2, y-3), at(x+8, y), at(x+2, y+3)}, noPen, canvas.Black)
		}},
	})
	p.prose("Each mark is one limit in the likeliest water; the picture of one train names them all.", small)
}

// StripTable is the picture of several trains as a table: what each does not keep
// and what comes first.
func StripTable(ls []plan.Lanes, s unit.System) Table {
	h := wellOf(ls)
	t := Table{
		Caption: "How much of each limit is used up, " + wellName(h.Well) + ", as of " + h.AsOf,
		Head:    []string{"", "train", "keeps all in", "first to fail, or nearest", "not kept in the likeliest water"},
	}
	for _, l := range ls {
		keeps := "not known"
		if l.Meets != nil {
			keeps = percent(*l.Meets) + " of waters"
		}
		first := ""
		var broken []string
		for _, r := range LaneRows(l, s) {
			if r.First {
				first = r.Words + ": " + r.usedWords()
			}
			if r.Fails || r.Caution != nil && r.Caution.Fails {
				broken = append(broken, r.Words+": "+r.Name)
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(l.Rank), strings.Join(l.Words, ", "), keeps, first, strings.Join(broken, "; ")})
	}
	return t
}
