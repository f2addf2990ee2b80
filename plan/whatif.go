package plan

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"wellwright/cloud"
	"wellwright/unit"
)

// Change is one input set to another value, as in iron=14 or pump=8gpm.
type Change struct {
	Name string
	Text string // value as written
	to   float64
	dial dial
}

// dial is an input that may be turned: it reads a value, says what it is now and
// sets it, either in the book's present state or in a drawn water.
type dial struct {
	name, unit string
	parse      func(string) (float64, error)
	now        func(cloud.Draw) float64
	set        func(*cloud.Draw, float64)
	low, high  float64 // values worth trying when looking for a flip
}

// bounds are the values that may be asked about: far beyond what a well gives,
// and within what the engines are made for.
func (d dial) bounds() (least, most float64) {
	switch d.name {
	case "ph":
		return 4, 10
	case "temperature":
		return 0, 40
	}
	return 0, 10 * d.high
}

// ParseChanges reads name=value pairs; every mistake is returned.
func ParseChanges(words []string) ([]Change, []error) {
	var cs []Change
	var bad []error
	for _, w := range words {
		c, err := parseChange(w)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		cs = append(cs, c)
	}
	return cs, bad
}

func parseChange(w string) (Change, error) {
	name, text, ok := strings.Cut(w, "=")
	if !ok {
		return Change{}, fmt.Errorf("%q: write an input and its value, as in iron=14 or pump=8gpm", w)
	}
	d, ok := dialNamed(strings.ToLower(strings.TrimSpace(name)))
	if !ok {
		return Change{}, fmt.Errorf("%q is not an input; the inputs are %s", name, strings.Join(Inputs(), ", "))
	}
	v, err := d.parse(text)
	if err != nil {
		return Change{}, fmt.Errorf("%s: %w", d.name, err)
	}
	if least, most := d.bounds(); !(v >= least && v <= most) {
		return Change{}, fmt.Errorf("%s: %q is outside what a well gives; write %g to %g %s", d.name, strings.TrimSpace(text), least, most, d.unit)
	}
	return Change{Name: d.name, Text: text, to: v, dial: d}, nil
}

// Inputs lists the names that ParseChanges knows.
func Inputs() []string {
	ns := make([]string, len(dials))
	for i, d := range dials {
		ns[i] = d.name
	}
	sort.Strings(ns)
	return ns
}

func dialNamed(name string) (dial, bool) {
	for _, d := range dials {
		if d.name == name {
			return d, true
		}
	}
	return dial{}, false
}

// With returns a desk whose waters and supplies have the changes made. A change
// moves every plausible water in proportion to the likeliest.
func (d *Desk) With(cs []Change) *Desk {
	c := d.Cloud
	c.Draws, c.Spread = slices.Clone(c.Draws), slices.Clone(c.Spread)
	for _, x := range cs {
		from := x.dial.now(d.likeliest())
		to := x.to
		if x.Name == people {
			to = from * x.to / d.people()
		}
		for _, draws := range [][]cloud.Draw{c.Draws, c.Spread} {
			for i := range draws {
				x.dial.set(&draws[i], proportion(x.dial.now(draws[i]), from, to))
			}
		}
	}
	return d.Believing(c)
}

// people is the input that is turned by turning the daily use.
const people = "people"

// people are those recorded in the house, else those assumed.
func (d *Desk) people() float64 {
	if n := max(d.Present.House.People, d.Present.House.Serves); n > 0 {
		return float64(n)
	}
	for _, a := range d.Cloud.Assumed {
		if a.Name == people && a.P50 > 0 {
			return a.P50
		}
	}
	return 1
}

// proportion moves a draw's value as the middle moves.
func proportion(draw, from, to float64) float64 {
	if from == 0 {
		return to
	}
	return to * draw / from
}

// dials are the inputs of whatif.
var dials = []dial{
	{"iron", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.TotalIron().MgPerL() }, setIron, 0.3, 30},
	{"ferrous", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Ferrous.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Ferrous = unit.MgPerL(v) }, 0.1, 30},
	{"particulate", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Particulate.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Particulate = unit.MgPerL(v) }, 0.05, 10},
	{"bound", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Bound.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Bound = unit.MgPerL(v) }, 0.05, 10},
	{"manganese", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Manganese.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Manganese = unit.MgPerL(v) }, 0.02, 3},
	{"sulfide", "mg/L as H2S", number, func(d cloud.Draw) float64 { return d.Water.Sulfide.MgPerLAsH2S() },
		func(d *cloud.Draw, v float64) { d.Water.Sulfide = unit.MgPerLAsH2S(v) }, 0.05, 10},
	{"ammonia", "mg/L as N", number, func(d cloud.Draw) float64 { return d.Water.Ammonia.MgPerLAsN() },
		func(d *cloud.Draw, v float64) { d.Water.Ammonia = unit.MgPerLAsN(v) }, 0.05, 5},
	{"oxygen", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Oxygen.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Oxygen = unit.MgPerL(v) }, 0.1, 8},
	{"toc", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.OrganicCarbon.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.OrganicCarbon = unit.MgPerL(v) }, 0.5, 10},
	{"ph", "pH", number, func(d cloud.Draw) float64 { return d.Water.PH.Value() },
		func(d *cloud.Draw, v float64) { d.Water.PH = unit.PHOf(v) }, 5.5, 8.5},
	{"alkalinity", "mg/L as CaCO3", number, func(d cloud.Draw) float64 { return d.Water.Alkalinity.MgPerLAsCaCO3() },
		func(d *cloud.Draw, v float64) { d.Water.Alkalinity = unit.AlkalinityAsCaCO3(v) }, 10, 500},
	{"hardness", "gpg", quantityIn(func(t string) (float64, error) {
		var h unit.Hardness
		err := h.UnmarshalText([]byte(t))
		return h.GPG(), err
	}), func(d cloud.Draw) float64 { return d.Water.Hardness().GPG() }, setHardness, 1, 60},
	{"temperature", "C", quantityIn(func(t string) (float64, error) {
		var q unit.Temperature
		err := q.UnmarshalText([]byte(t))
		return q.Celsius(), err
	}), func(d cloud.Draw) float64 { return d.Water.Temperature.Celsius() },
		func(d *cloud.Draw, v float64) { d.Water.Temperature = unit.Celsius(v) }, 3, 25},
	{"pump", "gpm", gpm, pumpNow, setPump, 1.5, 25},
	{"yield", "gpm", gpm, func(d cloud.Draw) float64 { return d.Supply.Hydraulic.Yield.GPM() },
		func(d *cloud.Draw, v float64) { d.Supply.Hydraulic.Yield = unit.GPM(v) }, 0.25, 25},
	{"peak", "gpm", gpm, func(d cloud.Draw) float64 { return d.Supply.Peak.GPM() },
		func(d *cloud.Draw, v float64) { d.Supply.Peak = unit.GPM(v) }, 3, 20},
	{"daily", "gal/day", quantityIn(func(t string) (float64, error) {
		var q unit.Flow
		err := q.UnmarshalText([]byte(t))
		return q.GalPerDay(), err
	}), dailyNow,
		setDaily, 75, 1500},
	{people, "people", number, dailyNow, setDaily, 1, 20},
	{"nitrate", "mg/L as N", number, func(d cloud.Draw) float64 { return d.Water.Nitrate.MgPerLAsN() },
		func(d *cloud.Draw, v float64) { d.Water.Nitrate = unit.MgPerLAsN(v) }, 0.5, 50},
	{"arsenic", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Arsenic.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Arsenic = unit.MgPerL(v) }, 0.002, 0.1},
}

func dailyNow(d cloud.Draw) float64 { return d.Supply.Daily.GalPerDay() }

func setDaily(d *cloud.Draw, v float64) { d.Supply.Daily = unit.GalPerDay(v) }

// number reads a plain number, with or without mg/L behind it.
func number(text string) (float64, error) {
	t := strings.TrimSpace(text)
	for _, u := range []string{"mg/L", "mg/l", "ppm"} {
		t = strings.TrimSpace(strings.TrimSuffix(t, u))
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", text)
	}
	return v, nil
}

// quantityIn reads a number with its unit; a bare number is in the dial's own.
func quantityIn(read func(string) (float64, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		if v, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
			return v, nil
		}
		return read(text)
	}
}

// gpm reads a flow in gallons a minute.
var gpm = quantityIn(func(text string) (float64, error) {
	var q unit.Flow
	err := q.UnmarshalText([]byte(text))
	return q.GPM(), err
})

// setIron scales every form of iron alike.
func setIron(d *cloud.Draw, total float64) {
	was := d.Water.TotalIron().MgPerL()
	if was == 0 {
		d.Water.Ferrous = unit.MgPerL(total)
		return
	}
	scale := func(c unit.Concentration) unit.Concentration { return unit.MgPerL(c.MgPerL() * total / was) }
	w := &d.Water
	w.Ferrous, w.Particulate, w.Bound = scale(w.Ferrous), scale(w.Particulate), scale(w.Bound)
}

// calciumInCarbonate is the share of calcium in calcium carbonate by weight:
// 40.078 over 100.087 (IUPAC).
const calciumInCarbonate = 40.078 / 100.087

// setHardness scales calcium and magnesium alike.
func setHardness(d *cloud.Draw, gpg float64) {
	was := d.Water.Hardness().GPG()
	if was == 0 {
		d.Water.Calcium = unit.MgPerL(unit.GPG(gpg).MgPerLAsCaCO3() * calciumInCarbonate)
		return
	}
	d.Water.Calcium = unit.MgPerL(d.Water.Calcium.MgPerL() * gpg / was)
	d.Water.Magnesium = unit.MgPerL(d.Water.Magnesium.MgPerL() * gpg / was)
}

func pumpNow(d cloud.Draw) float64 {
	return d.Supply.Hydraulic.Pump.FlowAt(d.Supply.Hydraulic.CutIn).GPM()
}

// setPump gives the pump another flow at cut-in pressure, of the same shape; the
// well is taken to follow if its yield was only assumed from the pump.
func setPump(d *cloud.Draw, flow float64) {
	was := pumpNow(*d)
	if was == 0 {
		return
	}
	d.Supply.Hydraulic.Pump = d.Supply.Hydraulic.Pump.Scaled(flow / was)
	if d.Supply.Hydraulic.Yield.GPM() < flow && d.Supply.Hydraulic.Yield.GPM() >= was*0.999 {
		d.Supply.Hydraulic.Yield = unit.GPM(flow)
	}
}
