package section

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wellwright/canvas"
	"wellwright/media"
	"wellwright/plan"
)

// CostRow is what one option costs, in US dollars, made ready to be drawn or
// printed.
type CostRow struct {
	Rank     int
	Train    string
	Bars     []CostBar
	Expected float64 // over ten years, with failing, callbacks and own time
	Ties     []int   // ranks that are too close to call
}

// CostBar is one range of price.
type CostBar struct {
	Name string // first, yearly, ten years
	plan.Range
}

// CostRows makes the costs of the options ready, best first.
func CostRows(a plan.Answer) []CostRow {
	var rows []CostRow
	for _, o := range a.Options {
		words := make([]string, len(o.Train))
		for i, p := range o.Train {
			words[i] = media.Process(p).Words()
		}
		rows = append(rows, CostRow{
			Rank: o.Rank, Train: strings.Join(words, ", "), Expected: o.ExpectedCost, Ties: o.Ties,
			Bars: []CostBar{{"first", o.Cost.First}, {"yearly", o.Cost.Yearly}, {"ten years", o.Cost.TenYear}},
		})
	}
	return rows
}

// Sentence tells the row in words.
func (r CostRow) Sentence() string {
	words := []string{fmt.Sprintf("Option %d, %s:", r.Rank, r.Train)}
	for _, b := range r.Bars {
		words = append(words, fmt.Sprintf("%s %s, %s;", b.Name, dollars(b.P50), dollarSpan(b.Range)))
	}
	words = append(words, "expected over ten years "+dollars(r.Expected))
	if len(r.Ties) > 0 {
		words = append(words, "; too close to call with "+ranks(r.Ties))
	}
	return strings.ReplaceAll(strings.Join(words, " "), " ;", ";") + "."
}

// ranks lists options by rank.
func ranks(rs []int) string {
	words := make([]string, len(rs))
	for i, r := range rs {
		words[i] = fmt.Sprint(r)
	}
	if len(words) == 1 {
		return "option " + words[0]
	}
	return "options " + strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// dollars rounds to two figures, as prices known to tens of per cent bear.
func dollars(v float64) string { return "$" + spareDollars(v) }

func dollarSpan(r plan.Range) string {
	return "$" + spareDollars(r.P05) + "–" + spareDollars(r.P95)
}

func spareDollars(v float64) string {
	if v <= 0 {
		return "0"
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return thousands(fmt.Sprintf("%.0f", math.Round(v/step)*step))
}

// The heights and columns of the picture of costs.
const (
	costBarHeight = 13.0
	costRowHead   = 18.0
	costStripX    = 140.0
	costStripW    = 470.0
	costFigureX   = costStripX + costStripW + 22
	tieLane       = 9.0
)

// Costs draws the first, yearly and ten-year cost of each option on one axis from
// nothing, the expected cost as a diamond, and joins what is too close to call.
func Costs(a plan.Answer) *canvas.Drawing {
	rows := CostRows(a)
	p := newPage("costs", plan.Heading{Well: a.Well, AsOf: a.AsOf}, "Cost of the options")
	if len(rows) == 0 {
		p.prose("No option is costed: the water asks for no train, or none holds.", body)
		return p.done([]string{"No option is costed."})
	}
	var all []float64
	words := []string{"As of " + a.AsOf + ", in US dollars."}
	for _, r := range rows {
		all = append(all, r.Expected)
		for _, b := range r.Bars {
			all = append(all, b.P95)
		}
		words = append(words, r.Sentence())
	}
	c := &costPage{page: p, axis: upTo(all...), at: map[int]float64{}, sets: TiedSets(rows)}
	c.scale(len(rows))
	for _, r := range rows {
		c.row(r)
	}
	c.ties()
	c.foot()
	return p.done(words)
}

// costPage is a picture of costs on its way down the sheet.
type costPage struct {
	*page
	axis Axis
	sets [][]int         // of options too close to call
	at   map[int]float64 // height of the expected cost by rank
}

func (c *costPage) x(v float64) float64 { return costStripX + costStripW*c.axis.At(v) }

// scale draws the axis with its hairs down through the rows.
func (c *costPage) scale(rows int) {
	c.y += 8
	c.Text(at(pictureLeft, c.y), "US dollars", small)
	foot := c.y + 8 + float64(rows)*(costRowHead+3*costBarHeight+12)
	var hairs []canvas.Stroke
	for _, t := range c.axis.Ticks() {
		x := costStripX + costStripW*t.At
		c.Text(at(x, c.y), t.Label, middle(small))
		hairs = append(hairs, canvas.Stroke{From: at(x, c.y+4), To: at(x, foot)})
	}
	c.Lines(hairs, hair)
	c.y += 8
}

// row draws one option.
func (c *costPage) row(r CostRow) {
	c.Group(fmt.Sprintf("Option %d", r.Rank), r.Sentence(), func() {
		x := pictureLeft + tieLane*float64(len(c.sets))
		head := strong.Fit(fmt.Sprintf("%d  %s", r.Rank, r.Train), pictureRight-x)
		c.Rect(canvas.Box{X: x, Y: c.y + 2, W: strong.Width(head) + 4, H: costRowHead - 3}, noPen, canvas.White)
		c.Text(at(x, c.y+13), head, strong)
		y := c.y + costRowHead
		for _, b := range r.Bars {
			c.bar(b, y)
			y += costBarHeight
		}
		c.expected(r, y-costBarHeight/2)
	})
	c.y += costRowHead + 3*costBarHeight + 12
}

// bar draws a range as an open box with its middle as a thick line.
func (c *costPage) bar(b CostBar, y float64) {
	const h = costBarHeight - 5
	x, to := c.x(b.P05), c.x(b.P95)
	c.Text(at(costStripX-10, y+h), b.Name, atEnd(small))
	f := canvas.Hatched
	if b.Name == "ten years" {
		f = canvas.White
	}
	c.Rect(canvas.Box{X: x, Y: y, W: math.Max(to-x, 1.5), H: h}, outline, f)
	c.Line(at(c.x(b.P50), y-1.5), at(c.x(b.P50), y+h+1.5), heavy)
	c.Text(at(costFigureX, y+h), dollars(b.P50)+"  ("+spareDollars(b.P05)+"–"+spareDollars(b.P95)+")", small)
}

// expected marks the expected cost over ten years with a diamond under its bar.
func (c *costPage) expected(r CostRow, y float64) {
	const n = 4.5
	mid := at(c.x(r.Expected), y-2.5)
	c.at[r.Rank] = mid.Y
	c.Polygon([]canvas.Point{at(mid.X, mid.Y-n), at(mid.X+n, mid.Y), at(mid.X, mid.Y+n), at(mid.X-n, mid.Y)}, noPen, canvas.Black)
	c.Text(at(costFigureX, mid.Y+n+11), "expected "+dollars(r.Expected), small)
}

// ties draws a lane down the left for every set of options among which none is
// told from another, with a dot at each of them.
func (c *costPage) ties() {
	x := pictureLeft + 3.0
	for _, set := range c.sets {
		c.Group("Too close to call", "Too close to call: "+ranks(set)+".", func() {
			c.Line(at(x, c.at[set[0]]), at(x, c.at[set[len(set)-1]]), plain)
			for _, r := range set {
				c.Circle(at(x, c.at[r]), 2.6, noPen, canvas.Black)
			}
		})
		x += tieLane
	}
}

// TiedSets are the largest sets of options in which every two are too close to
// call, by rank.
func TiedSets(rows []CostRow) [][]int {
	tied := map[[2]int]bool{}
	for _, r := range rows {
		for _, t := range r.Ties {
			tied[[2]int{r.Rank, t}], tied[[2]int{t, r.Rank}] = true, true
		}
	}
	var sets [][]int
	var grow func(set []int, from int)
	grow = func(set []int, from int) {
		for k := from; k < len(rows); k++ {
			if among(set, rows[k].Rank, tied) {
				grow(append(append([]int{}, set...), rows[k].Rank), k+1)
			}
		}
		if len(set) > 1 && !canGrow(set, rows, tied) {
			sets = append(sets, set)
		}
	}
	grow(nil, 0)
	return sets
}

// among reports whether an option is tied with all of a set.
func among(set []int, rank int, tied map[[2]int]bool) bool {
	for _, s := range set {
		if !tied[[2]int{s, rank}] {
			return false
		}
	}
	return true
}

// canGrow reports whether one option more could join a set.
func canGrow(set []int, rows []CostRow, tied map[[2]int]bool) bool {
	for _, r := range rows {
		if !slices.Contains(set, r.Rank) && among(set, r.Rank, tied) {
			return true
		}
	}
	return false
}

// foot explains the marks.
func (c *costPage) foot() {
	c.y += 14
	c.key([]entry{
		c.area("5 to 95 %, first and yearly", canvas.Hatched), c.area("ten years, present value", canvas.White),
		{"middle", 8, func(x, y float64) { c.Line(at(x+4, y-6), at(x+4, y+6), heavy) }},
		{"expected over ten years: with failing, callbacks and own time", 12, func(x, y float64) {
			c.Polygon([]canvas.Point{at(x+6, y-4.5), at(x+10.5, y), at(x+6, y+4.5), at(x+1.5, y)}, noPen, canvas.Black)
		}},
		{"dots on one line: too close to call", 12, func(x, y float64) {
			c.Line(at(x+5, y-6), at(x+5, y+6), plain)
			c.Circle(at(x+5, y-5), 2.2, noPen, canvas.Black)
			c.Circle(at(x+5, y+5), 2.2, noPen, canvas.Black)
		}},
	})
	c.prose("Prices are those of the list in use, known to some tens of per cent; yearly and ten-year cost also differ with the water.", small)
}

// CostTable is the picture of costs as a table.
func CostTable(a plan.Answer) Table {
	t := Table{Caption: "Cost of the options of " + wellName(a.Well) + ", as of " + a.AsOf + ", US dollars", Head: []string{"", "train", "first", "yearly", "ten years", "expected", "too close to call"}}
	for _, r := range CostRows(a) {
		row := []string{fmt.Sprint(r.Rank), r.Train}
		for _, b := range r.Bars {
			row = append(row, dollars(b.P50)+" ("+spareDollars(b.P05)+"–"+spareDollars(b.P95)+")")
		}
		tie := "no"
		if len(r.Ties) > 0 {
			tie = "with " + ranks(r.Ties)
		}
		t.Rows = append(t.Rows, append(row, dollars(r.Expected), tie))
	}
	return t
}
