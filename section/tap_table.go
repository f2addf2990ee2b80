package section

import (
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// TapSheet is a long section as a table: the same content for a phone, for a
// screen reader and for plain text.
type TapSheet struct {
	Well, AsOf, Train string
	Meets             string // chance of meeting every limit
	Flag              string // first limit to fail, or the least to spare
	Supply            []Said
	Pressure          []string
	Stages            []StageSaid
	Taps              []TapHead
	Rows              []TapFigures
	Notes             []string
}

// Said is a name and what is said of it.
type Said struct{ Name, Value string }

// StageSaid is one stage in words.
type StageSaid struct {
	Name, Tap, Size, Setting string
	Wash                     string // needed and to be had; "" where it is not washed
	Short                    bool   // the wash needs more than is to be had
	Loss                     string // pressure it takes at the house peak, clean to dirty
}

// TapHead is a tap and where it hangs.
type TapHead struct{ Tap, Where string }

// TapFigures is one property at every tap, in the order of the heads.
type TapFigures struct {
	Name, Unit string
	Assumed    bool // nobody measured it in the raw water
	Cells      []TapCell
}

// TapCell is what is forecast at a tap and what was read there.
type TapCell struct {
	Middle   string // likeliest
	Forecast string // nine in ten
	Readings []TapRead
}

// TapRead is one reading in words.
type TapRead struct {
	Value, Kind, On string
	Outside         bool // of the forecast
}

// TapTable puts a course into a table, in the units of a system.
func TapTable(c plan.Course, s unit.System) TapSheet {
	p := &longSheet{in: unitsOf(s), ways: []plan.Course{c}}
	t := TapSheet{
		Well: wellName(c.Well), AsOf: c.AsOf, Train: trainName(c), Meets: capital(meetsWords(c)), Flag: strings.TrimSpace(p.flagWords()),
		Supply: p.supplySaid(), Notes: p.noteWords(),
	}
	for _, l := range c.Pressure {
		t.Pressure = append(t.Pressure, p.lineWords(0, l))
	}
	for _, v := range c.Vessels {
		t.Stages = append(t.Stages, p.in.stageSaid(v))
	}
	if c.Kitchen != nil {
		t.Stages = append(t.Stages, p.in.stageSaid(*c.Kitchen))
	}
	for _, x := range c.Taps {
		t.Taps = append(t.Taps, TapHead{x.Tap, x.Where})
	}
	for _, r := range p.rowsShown() {
		t.Rows = append(t.Rows, r.figures(p.in, c))
	}
	return t
}

// supplySaid is the well and the pressure tank in words.
func (p *longSheet) supplySaid() []Said {
	var words []string
	for _, l := range levelWords(p.first().Bore, p.in) {
		words = append(words, l.words)
	}
	said := []Said{{"well", strings.Join(words, "; ")}}
	if missing := p.first().Bore.Unrecorded; len(missing) > 0 {
		said = append(said, Said{"not recorded", strings.Join(missing, ", ")})
	}
	var tank []string
	for _, l := range p.tankLines(p.first().Tank)[1:] {
		tank = append(tank, l.words)
	}
	return append(said, Said{"pressure tank", strings.Join(tank, "; ")})
}

// stageSaid is one stage in words.
func (u longUnits) stageSaid(v plan.Vessel) StageSaid {
	s := StageSaid{Name: v.Words, Tap: v.Tap, Size: u.sizeWords(v), Setting: u.setWords(v)}
	if b := v.Backwash; b != nil {
		s.Wash, s.Short = "needs "+u.flow.figure(b.Need)+", has "+u.flow.say(b.Have), b.Have < b.Need
	}
	if v.Dirty > 0 {
		s.Loss = u.pressure.figure(v.Clean)
		if v.Dirty > v.Clean {
			s.Loss += " to " + u.pressure.figure(v.Dirty)
		}
		s.Loss += " " + u.pressure.name
	}
	return s
}

// figures is one property at every tap of a course.
func (r tapRow) figures(u longUnits, c plan.Course) TapFigures {
	row := TapFigures{Name: r.name, Unit: r.unit, Assumed: r.assumed(c)}
	for _, t := range c.Taps {
		f, ok := t.Figure(r.leaf)
		if !ok {
			row.Cells = append(row.Cells, TapCell{})
			continue
		}
		cell := TapCell{Middle: r.one(u, f.Forecast.P50), Forecast: r.forecast(u, f.Forecast)}
		for _, x := range f.Readings {
			cell.Readings = append(cell.Readings, TapRead{Value: r.reading(u, x), Kind: x.Kind, On: x.On, Outside: x.Outside})
		}
		row.Cells = append(row.Cells, cell)
	}
	return row
}
