package section

import (
	"wellwright/canvas"
	"wellwright/plan"
)

// foot explains the marks and says what the bands were counted from.
func (p *beliefPage) foot(a plan.Answer, rows []BeliefRow) {
	p.y += 22
	if len(rows) > 0 {
		p.Group("Key", "What the marks stand for.", func() { p.key(rows) })
	}
	for _, l := range small.Lines(Drawn(a.Quality)+" An axis is the same on every sheet unless a value lies beyond it. Limits are advice for a private well; local code may ask more.", beliefWidth-2*nameX) {
		p.Text(at(nameX, p.y), l, small)
		p.y += 12
	}
}

// entry is one mark of the key with its words.
type entry struct {
	words string
	room  float64 // that the mark takes
	draw  func(x, y float64)
}

// The room that a band and a single mark take in the key.
const (
	bandRoom = 40
	markRoom = 16
)

// key lists the marks that stand on the picture, in lines that fit it.
func (p *beliefPage) key(rows []BeliefRow) {
	x := nameX
	for _, e := range p.entries(rows) {
		need := e.room + 6 + small.Width(e.words)
		if x+need > limitX && x > nameX {
			x = nameX
			p.y += 19
		}
		e.draw(x, p.y)
		p.Text(at(x+e.room+6, p.y+3), e.words, small)
		x += need + 18
	}
	p.y += 24
}

func (p *beliefPage) entries(rows []BeliefRow) []entry {
	var es []entry
	if has(rows, func(r BeliefRow) bool { return r.Before != nil }) {
		es = append(es, entry{"before the evidence: 5 to 95 %, middle half, median", bandRoom, p.sample(true)})
	}
	es = append(es, entry{"now: 5 to 95 %, middle half, median", bandRoom, p.sample(false)})
	for _, m := range []struct{ kind, words string }{{"field", "read on site"}, {"laboratory", "by a laboratory"}, {"record", "on record"}} {
		if has(rows, func(r BeliefRow) bool { return anyReading(r, func(x plan.Reading) bool { return x.Kind == m.kind }) }) {
			es = append(es, entry{m.words, markRoom, func(x, y float64) { p.mark(at(x+markRoom/2, y), plan.Reading{Kind: m.kind}) }})
		}
	}
	if has(rows, func(r BeliefRow) bool { return anyReading(r, func(x plan.Reading) bool { return x.Sign == "<" }) }) {
		es = append(es, entry{"not found: below", markRoom + 6, func(x, y float64) { p.mark(at(x+markRoom, y), plan.Reading{Kind: "laboratory", Sign: "<"}) }})
	}
	if has(rows, func(r BeliefRow) bool { return r.Limit.Low != nil || r.Limit.High != nil }) {
		es = append(es, entry{"limit for taste, stains or scale, hatched where it is not met", markRoom, func(x, y float64) { p.wallAt(x+markRoom/2, y-8, 16, 1, plain) }})
	}
	if has(rows, func(r BeliefRow) bool { return r.Limit.Health != nil }) {
		es = append(es, entry{"limit of health", markRoom, func(x, y float64) { p.wallAt(x+markRoom/2, y-8, 16, 1, heavy) }})
	}
	return es
}

// sample draws a small band as it stands on the picture.
func (p *beliefPage) sample(before bool) func(x, y float64) {
	return func(x, y float64) {
		if before {
			p.Rect(canvas.Box{X: x, Y: y - bandH/2, W: bandRoom, H: bandH}, outline, canvas.Hatched)
			p.Rect(canvas.Box{X: x + 12, Y: y - bandH/2, W: 16, H: bandH}, outline, canvas.CrossHatched)
			p.Line(at(x+20, y-bandH/2-1.5), at(x+20, y+bandH/2+1.5), plain)
			return
		}
		p.Rect(canvas.Box{X: x, Y: y - 1.5, W: bandRoom, H: 3}, noPen, canvas.Black)
		p.Rect(canvas.Box{X: x + 12, Y: y - 3.5, W: 16, H: 7}, noPen, canvas.Black)
		p.Rect(canvas.Box{X: x + 19.25, Y: y - 3.5, W: 1.5, H: 7}, noPen, canvas.White)
	}
}

func has(rows []BeliefRow, is func(BeliefRow) bool) bool {
	for _, r := range rows {
		if is(r) {
			return true
		}
	}
	return false
}

func anyReading(r BeliefRow, is func(plan.Reading) bool) bool {
	for _, x := range r.Readings {
		if is(x) {
			return true
		}
	}
	return false
}
