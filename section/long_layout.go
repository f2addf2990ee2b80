package section

import (
	"math"

	"wellwright/plan"
)

// longColumn is a place on the floor: the pressure tank, or a stage of one course
// or of both.
type longColumn struct {
	process string // "" for the pressure tank
	stage   []int  // by course its place in the train; none where it has no such stage
	x, w    float64
	middle  float64 // of what stands in it
	half    float64 // of its width there
	tapX    float64 // of the tap behind it
}

// none is the place of a stage that is not there.
const none = -1

// in reports whether a course has the stage.
func (c longColumn) in(way int) bool { return c.process == "" || c.stage[way] != none }

// longHouse is where the house and its taps stand.
type longHouse struct {
	riser, kitchen, heater float64
	inch                   float64 // of a vessel on the sheet
	gpm                    float64 // of a backwash bar on the sheet
}

// Least widths on the floor.
const (
	feedWidth   = 50.0
	tankWidth   = 60.0
	stageWidth  = 48.0
	tapWidth    = 26.0
	endWidth    = 118.0 // riser, kitchen and heater
	wallRoom    = 14.0
	barsWidth   = 20.0
	tallest     = 88.0 // of a vessel on the sheet
	usualInch   = 1.25
	leastVessel = 9.0
)

// layOut places everything that stands on the floor.
func (p *longSheet) layOut() {
	p.columns = mergedColumns(p.ways)
	room := longRight - endWidth - wallX - wallRoom
	sum := 0.0
	for i := range p.columns {
		p.columns[i].w = p.leastWidth(p.columns[i])
		sum += p.columns[i].w
	}
	x := wallX + wallRoom
	spare := math.Max(0, room-sum) / float64(len(p.columns))
	scale := math.Min(1, room/sum)
	for i := range p.columns {
		c := &p.columns[i]
		c.x, c.w = x, c.w*scale+spare
		x += c.w
	}
	p.house.riser = x + 8
	p.house.kitchen = p.house.riser + 32
	p.house.heater = p.house.kitchen + 46
	p.scaleVessels()
	for i := range p.columns {
		p.place(&p.columns[i])
	}
}

// leastWidth is the room that a column asks for.
func (p *longSheet) leastWidth(c longColumn) float64 {
	if c.process == "" {
		return tankWidth + tapWidth
	}
	v := p.vesselOf(c)
	if v.Form == plan.FeedForm {
		return feedWidth
	}
	n := float64(v.Count * v.Series)
	w := v.Diameter*n*usualInch + vesselGap*(n-1) + 10
	if v.Backwash != nil {
		w += barsWidth
	}
	if v.Form == plan.OpenForm {
		w += 24
	}
	return math.Max(stageWidth, math.Min(w, widestStage)) + tapWidth
}

// widestStage is the most that one stage takes of the floor where others need it too.
const widestStage = 120.0

// vesselOf is what stands in a column: that of the first course which has it.
func (p *longSheet) vesselOf(c longColumn) plan.Vessel {
	for way, k := range c.stage {
		if k != none {
			return p.ways[way].Vessels[k]
		}
	}
	return plan.Vessel{}
}

// scaleVessels finds the one scale of all vessels, and that of all backwash bars.
func (p *longSheet) scaleVessels() {
	p.house.inch, p.house.gpm = usualInch, 6
	for _, c := range p.columns {
		wide, high := p.ways[0].Tank.Diameter, p.ways[0].Tank.Height
		room := c.w - tapWidth - 10
		if c.process != "" {
			v := p.vesselOf(c)
			wide, high = v.Diameter*float64(v.Count*v.Series), v.Height
			if b := v.Backwash; b != nil {
				p.house.gpm = math.Min(p.house.gpm, 56/most(b.Need, b.Have))
				room -= barsWidth
			}
			room -= 6 * float64(v.Count*v.Series-1)
		}
		if high > 0 {
			p.house.inch = math.Min(p.house.inch, tallest/high)
		}
		if wide > 0 {
			p.house.inch = math.Min(p.house.inch, math.Max(room, 10)/wide)
		}
	}
}

// place puts what stands in a column, and its tap, in their places.
func (p *longSheet) place(c *longColumn) {
	c.tapX = c.x + c.w - tapWidth/2
	wide, bars, n := 14.0, 0.0, 1.0
	switch {
	case c.process == "":
		wide = math.Max(p.ways[0].Tank.Diameter*p.house.inch, leastVessel)
	default:
		v := p.vesselOf(*c)
		n = float64(v.Count * v.Series)
		if v.Diameter > 0 {
			wide = math.Max(v.Diameter*p.house.inch, leastVessel)
		}
		if v.Backwash != nil {
			bars = barsWidth
		}
		if v.Form == plan.FeedForm {
			c.tapX = c.x + c.w
		}
	}
	c.half = (wide*n + vesselGap*(n-1)) / 2
	room := c.tapX - tapWidth/2 - c.x
	c.middle = c.x + math.Max(c.half+2, (room-bars)/2)
}

// vesselGap is between vessels of one stage.
const vesselGap = 6.0

// mergedColumns puts the stages of two courses side by side in one order, those
// that both have in one place: the longest run of stages common to both.
func mergedColumns(ways []plan.Course) []longColumn {
	a := placesOf(ways[0])
	if len(ways) == 1 {
		var cs []longColumn
		for _, x := range a {
			cs = append(cs, longColumn{process: x.process, stage: []int{x.stage}})
		}
		return cs
	}
	return merged(a, placesOf(ways[1]))
}

// onFloor is one thing on the floor of one course.
type onFloor struct {
	process string
	stage   int
}

// placesOf are the stages with the pressure tank in its place among them.
func placesOf(c plan.Course) []onFloor {
	var out []onFloor
	for k, v := range c.Vessels {
		if v.AheadOfTank {
			out = append(out, onFloor{v.Process, k})
		}
	}
	out = append(out, onFloor{"", none})
	for k, v := range c.Vessels {
		if !v.AheadOfTank && !atKitchen(c, k) {
			out = append(out, onFloor{v.Process, k})
		}
	}
	return out
}

// atKitchen reports whether a stage stands at the kitchen tap alone: a membrane at
// the end of the train.
func atKitchen(c plan.Course, k int) bool {
	return k == len(c.Vessels)-1 && c.Vessels[k].Process == "reverse-osmosis"
}

// kitchenUnit is what stands at the kitchen tap of a course.
func kitchenUnit(c plan.Course) (plan.Vessel, bool) {
	if c.Kitchen != nil {
		return *c.Kitchen, true
	}
	if k := len(c.Vessels) - 1; k >= 0 && atKitchen(c, k) {
		return c.Vessels[k], true
	}
	return plan.Vessel{}, false
}

// merged joins two orders by their longest common subsequence.
func merged(a, b []onFloor) []longColumn {
	common := make([][]int, len(a)+1) // of what is left from i and j on
	for i := range common {
		common[i] = make([]int, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			common[i][j] = max(common[i+1][j], common[i][j+1])
			if a[i].process == b[j].process {
				common[i][j] = max(common[i][j], common[i+1][j+1]+1)
			}
		}
	}
	var cs []longColumn
	for i, j := 0, 0; i < len(a) || j < len(b); {
		switch {
		case i < len(a) && j < len(b) && a[i].process == b[j].process && common[i][j] == common[i+1][j+1]+1:
			cs = append(cs, longColumn{process: a[i].process, stage: []int{a[i].stage, b[j].stage}})
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && common[i+1][j] >= common[i][j+1]:
			cs = append(cs, longColumn{process: a[i].process, stage: []int{a[i].stage, none}})
			i++
		default:
			cs = append(cs, longColumn{process: b[j].process, stage: []int{none, b[j].stage}})
			j++
		}
	}
	return cs
}

// columnOf is the column of a stage of a course; that of the pressure tank for
// the whole train.
func (p *longSheet) columnOf(way, stage int) longColumn {
	for _, c := range p.columns {
		if stage == none && c.process == "" || stage != none && c.stage[way] == stage && c.process != "" {
			return c
		}
	}
	x := p.house.kitchen - 12 // ahead of the kitchen tap
	return longColumn{x: x - 6, w: 12, middle: x, half: 5, tapX: p.house.kitchen}
}

// tapX is where a tap of a course hangs.
func (p *longSheet) tapX(way int, tap string) float64 {
	switch tap {
	case "T0":
		return wellheadX
	case "T1":
		return p.columnOf(way, none).tapX
	case "K":
		return p.house.kitchen
	case "H":
		return p.house.heater
	}
	for k, v := range p.ways[way].Vessels {
		if v.Tap == tap {
			return p.columnOf(way, k).tapX
		}
	}
	return p.house.kitchen
}
