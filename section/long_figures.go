package section

import (
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
)

// figures draws the taps on the pipe, a guide down from each, and the strip of
// figures under them: what is forecast at each tap, and in bold what was read.
func (p *longSheet) figures() {
	rows := p.figureRows()
	foot := tableTop
	for _, r := range rows {
		foot += r.high
	}
	p.guides(foot)
	p.tapMarks()
	p.Text(at(longLeft, tableTop-5), "At the taps", panelHead)
	y := tableTop
	p.Line(at(longLeft, y), at(longRight, y), thin)
	for _, r := range rows {
		p.Group(r.title(), "", func() { p.figureRow(r, y) })
		y += r.high
		p.Line(at(longLeft, y), at(longRight, y), hair)
	}
	p.Line(at(longLeft, y), at(longRight, y), plain)
}

// tapSpot is a tap on the sheet.
type tapSpot struct {
	way  int
	tap  string
	x, y float64
}

// spots are all taps of the first course, and those of the other which it does
// not share.
func (p *longSheet) spots() []tapSpot {
	var ss []tapSpot
	for way, c := range p.ways {
		for _, t := range c.Taps {
			s := tapSpot{way, t.Tap, p.tapX(way, t.Tap), pipeY}
			switch t.Tap {
			case "T0":
				s.y = floorY + 14
			case "K", "H":
				s.y = pipeY - houseRise
			}
			if !p.kitchenToo(way, t.Tap) && (way == 0 || !taken(ss, s)) {
				ss = append(ss, s)
			}
		}
	}
	return ss
}

// kitchenToo reports whether a numbered tap is the kitchen's: that behind a
// membrane which stands there.
func (p *longSheet) kitchenToo(way int, tap string) bool {
	k := len(p.ways[way].Vessels) - 1
	return k >= 0 && atKitchen(p.ways[way], k) && p.ways[way].Vessels[k].Tap == tap
}

func taken(ss []tapSpot, s tapSpot) bool {
	for _, o := range ss {
		if o.x == s.x {
			return true
		}
	}
	return false
}

// guides lead the eye from each tap down to its figures.
func (p *longSheet) guides(foot float64) {
	var lines []canvas.Stroke
	for _, s := range p.spots() {
		lines = append(lines, canvas.Stroke{From: at(s.x, s.y+8), To: at(s.x, floorY-1)}, canvas.Stroke{From: at(s.x, stripsTop-12), To: at(s.x, foot)})
	}
	p.Lines(lines, guidePen)
}

// tapMarks draws the numbered taps.
func (p *longSheet) tapMarks() {
	for _, s := range p.spots() {
		pen := steel
		if s.way > 0 {
			pen = canvas.Pen{Width: 0.8, Dash: []float64{2, 1.5}}
		}
		p.Circle(at(s.x, s.y), 8, pen, canvas.White)
		p.Text(at(s.x, s.y+3), s.tap, middle(fineStrong))
	}
}

// figureRow is one row of the strip of figures.
type figureRow struct {
	row  tapRow
	high float64
}

func (r figureRow) title() string { return strings.TrimSpace(r.row.name + " " + r.row.unit) }

const (
	rowOnce  = 11.5
	rowTwice = 19.0
)

// figureRows are the rows that there is room for, the most telling kept.
func (p *longSheet) figureRows() []figureRow {
	room := blockTop - 4 - tableTop
	var rows []figureRow
	for _, r := range p.rowsShown() {
		high := rowOnce
		if p.overlaid() || p.anyReading(r) {
			high = rowTwice
		}
		if room < high {
			break
		}
		room -= high
		rows = append(rows, figureRow{r, high})
	}
	return rows
}

func (p *longSheet) anyReading(r tapRow) bool {
	for _, c := range p.ways {
		for _, t := range c.Taps {
			if f, ok := t.Figure(r.leaf); ok && len(f.Readings) > 0 {
				return true
			}
		}
	}
	return false
}

// figureRow writes one row.
func (p *longSheet) figureRow(r figureRow, y float64) {
	name := small.Fit(r.row.name, bandX-longLeft-30)
	p.Text(at(longLeft, y+8.6), name, small)
	under := r.row.unit
	if r.row.assumed(p.first()) {
		under += ", assumed"
	}
	if under = strings.TrimPrefix(under, ", "); under != "" {
		x := longLeft + small.Width(name) + 4
		p.Text(at(x, y+8.6), fine.Fit(under, wellheadX-26-x), fine)
	}
	for way, c := range p.ways {
		for _, t := range c.Taps {
			f, ok := t.Figure(r.row.leaf)
			if !ok || p.kitchenToo(way, t.Tap) {
				continue
			}
			p.cell(r.row, f, p.tapX(way, t.Tap), y, way, p.cellRoom(p.tapX(way, t.Tap)))
		}
	}
}

// cellRoom is the room of a cell: to the nearest tap beside it.
func (p *longSheet) cellRoom(x float64) float64 {
	room := 70.0
	for _, s := range p.spots() {
		if d := s.x - x; d > 0.5 && d < room {
			room = d
		} else if d := x - s.x; d > 0.5 && d < room {
			room = d
		}
	}
	return min(room-3, 2*(longRight-x))
}

// cell writes a forecast and under it the latest reading; of the course laid over
// the forecast only, under that of the first.
func (p *longSheet) cell(r tapRow, f plan.Figure, x, y float64, way int, room float64) {
	l := middle(fine)
	words := r.forecast(p.in, f.Forecast)
	if l.Width(words) > room {
		words = r.one(p.in, f.Forecast.P50)
	}
	words = l.Fit(words, room)
	if way > 0 {
		p.Text(at(x, y+17), words, l)
		return
	}
	p.Rect(canvas.Box{X: x - l.Width(words)/2 - 1, Y: y + 1, W: l.Width(words) + 2, H: 9}, noPen, canvas.White)
	p.Text(at(x, y+8.6), words, l)
	if last, ok := r.latest(f.Readings); ok && !p.overlaid() {
		p.cellReading(r, last, x, y, room)
	}
}

// cellReading writes the latest reading, framed where it lies outside the forecast.
func (p *longSheet) cellReading(r tapRow, reading plan.TapReading, x, y, room float64) {
	l := middle(fineStrong)
	words := l.Fit(r.reading(p.in, reading), room)
	w := l.Width(words)
	pen := noPen
	if reading.Outside {
		pen = plain
	}
	p.Rect(canvas.Box{X: x - w/2 - 2, Y: y + 10, W: w + 4, H: 8.4}, pen, canvas.White)
	p.Text(at(x, y+17), words, l)
}
