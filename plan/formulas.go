package plan

import (
	"fmt"
	"strings"
	"sync"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/rehab"
	"wellwright/stage"
	"wellwright/statistic"
	"wellwright/unit"
)

// Formulas is every public formula of the program. A name used twice is a broken
// program, and panics.
var Formulas = sync.OnceValue(func() *formula.Register {
	r, err := formula.NewRegister(cloud.Formulas(), chem.Formulas(), hydraulic.Formulas(), stage.Formulas(), rehab.Formulas(), statistic.Formulas(), cost.Formulas())
	if err != nil {
		panic(err)
	}
	return r
})

// Fill gives the inputs of a formula that the book knows, each with where it comes
// from: measured, recorded, reckoned or assumed.
func (d *Desk) Fill(f formula.Formula) []formula.Filled {
	var fs []formula.Filled
	mid := d.Cloud.Middle()
	for _, k := range knowns {
		if _, asked := f.Input(k.name); !asked {
			continue
		}
		if text, ok := k.value(d, mid); ok {
			fs = append(fs, formula.Filled{Name: k.name, Text: text, From: d.origin(k)})
		}
	}
	return append(fs, d.fixtures(f)...)
}

// fixtures fills the counts of fixtures where the book has any, under whatever
// name people know them by.
func (d *Desk) fixtures(f formula.Formula) []formula.Filled {
	count := map[string]int{}
	for name, n := range d.Present.House.Fixtures {
		if x, ok := hydraulic.FixtureNamed(d.set, name); ok {
			count[x.Name] += n
		}
	}
	var fs []formula.Filled
	for _, x := range hydraulic.Fixtures(d.set) {
		input := strings.ReplaceAll(x.Name, " ", "_")
		if _, asked := f.Input(input); asked && count[x.Name] > 0 {
			fs = append(fs, formula.Filled{Name: input, Text: fmt.Sprint(count[x.Name]), From: "book: " + recorded})
		}
	}
	return fs
}

// known is one thing that a book may know, under the name that formulas ask it by.
type known struct {
	name  string
	leaf  string // its name among what is assumed; "" if it is recorded or not at all
	how   string // where it comes from when it is not assumed
	value func(*Desk, cloud.Draw) (string, bool)
}

// origin says where a value comes from, and why if it is assumed.
func (d *Desk) origin(k known) string {
	for _, a := range d.Cloud.Assumed {
		if k.leaf != "" && a.Name == k.leaf {
			return fmt.Sprintf("book: assumed, %s: %s", a.Kind, a.From)
		}
	}
	return "book: " + k.how
}

const (
	measured = "middle of what was measured"
	recorded = "recorded"
	reckoned = "reckoned from what was measured"
)

// of makes the value of a drawn quantity that is always there.
func of(u string, get func(cloud.Draw) float64) func(*Desk, cloud.Draw) (string, bool) {
	return func(_ *Desk, x cloud.Draw) (string, bool) { return write(get(x), u), true }
}

// write keeps five figures: more than any reading has.
func write(v float64, u string) string { return strings.TrimSpace(unit.Significant(v, 3) + " " + u) }

// maybe makes the value of a quantity of the well record that may not be there.
func maybe[T any](u string, find func(*Desk) *T, get func(T) float64) func(*Desk, cloud.Draw) (string, bool) {
	return func(d *Desk, _ cloud.Draw) (string, bool) {
		q := find(d)
		if q == nil {
			return "", false
		}
		return write(get(*q), u), true
	}
}

// knowns is all that a book can tell a formula.
var knowns = append(waterKnowns, supplyKnowns...)

// believed makes the value of a property of the raw water: the middle of what was
// measured, or of what is assumed.
func believed(leaf, u string) func(*Desk, cloud.Draw) (string, bool) {
	return func(d *Desk, _ cloud.Draw) (string, bool) {
		for _, r := range d.Cloud.Ranges {
			if r.Name == leaf {
				return write(r.P50, u), true
			}
		}
		return "", false
	}
}

// inWater is a property of the raw water under the name that formulas ask it by.
func inWater(name, leaf, u string) known { return known{name, leaf, measured, believed(leaf, u)} }

var waterKnowns = []known{
	inWater("temperature", "temperature_c", "C"),
	inWater("ph", "ph", ""),
	inWater("alkalinity", "alkalinity_mg_l_as_caco3", "mg/L as CaCO3"),
	inWater("iron", "iron_total_mg_l", "mg/L"),
	inWater("ferrous_iron", "iron_ferrous_mg_l", "mg/L"),
	inWater("manganese", "manganese_mg_l", "mg/L"),
	inWater("oxygen", "oxygen_mg_l", "mg/L"),
	inWater("sulfide", "sulfide_mg_l_as_h2s", "mg/L as H2S"),
	inWater("ammonia", "ammonia_mg_l_as_n", "mg/L as N"),
	inWater("nitrate", "nitrate_mg_l_as_n", "mg/L as N"),
	inWater("phosphate", "phosphate_mg_l_as_p", "mg/L as P"),
	inWater("toc", "toc_mg_l", "mg/L"),
	inWater("calcium", "calcium_mg_l", "mg/L"),
	inWater("magnesium", "magnesium_mg_l", "mg/L"),
	inWater("sodium", "sodium_mg_l", "mg/L"),
	inWater("potassium", "potassium_mg_l", "mg/L"),
	inWater("chloride", "chloride_mg_l", "mg/L"),
	inWater("sulfate", "sulfate_mg_l", "mg/L"),
	inWater("fluoride", "fluoride_mg_l", "mg/L"),
	inWater("silica", "silica_mg_l", "mg/L"),
	{"hardness", "calcium_mg_l", reckoned, believed("hardness_mg_l_as_caco3", "mg/L as CaCO3")},
	{"carbon_dioxide", "ph", "reckoned from pH and alkalinity", believed("co2_mg_l", "mg/L")},
	{"calcium_hardness", "calcium_mg_l", reckoned, of("mg/L as CaCO3", func(x cloud.Draw) float64 {
		return chem.HardnessOf(x.Water.Calcium, unit.Concentration{}).MgPerLAsCaCO3()
	})},
	{"tds", "", "reckoned from the ions", of("mg/L", func(x cloud.Draw) float64 {
		return chem.CalculatedTDS(x.Water.Totals(), x.Water.Alkalinity).MgPerL()
	})},
}

var supplyKnowns = []known{
	{"pump_flow", "pump_gpm", "measured at the tank, at cut-in pressure", func(_ *Desk, x cloud.Draw) (string, bool) {
		q := pumpNow(x)
		return write(q, "gpm"), q > 0
	}},
	{"pump_points", "", "measured at the tank", func(_ *Desk, x cloud.Draw) (string, bool) {
		var ps []string
		for _, p := range x.Supply.MeasuredAtTank {
			ps = append(ps, write(p.Flow.GPM(), "gpm")+" at "+write(p.Pressure.PSI(), "psi"))
		}
		return strings.Join(ps, "; "), len(ps) > 0
	}},
	{"yield", "yield_gpm", recorded, of("gpm", func(x cloud.Draw) float64 { return x.Supply.Hydraulic.Yield.GPM() })},
	{"casing_storage", "", "reckoned from casing, static level and intake, no cover kept", func(_ *Desk, x cloud.Draw) (string, bool) {
		return write(x.Supply.Hydraulic.CasingStorage.Gal(), "gal"), x.Supply.Static != nil && x.Supply.Intake != nil
	}},
	{"peak_flow", "bathrooms", recorded, of("gpm", func(x cloud.Draw) float64 { return x.Supply.Peak.GPM() })},
	{"daily_use", "people", recorded, of("gal/day", func(x cloud.Draw) float64 { return x.Supply.Daily.GalPerDay() })},
	{"cut_in", "cut_in_psi", recorded, of("psi", func(x cloud.Draw) float64 { return x.Supply.Hydraulic.CutIn.PSI() })},
	{"cut_out", "cut_in_psi", recorded, of("psi", func(x cloud.Draw) float64 { return x.Supply.Hydraulic.CutOut.PSI() })},
	{"tank_volume", "", recorded, maybe("gal", func(d *Desk) *unit.Volume { return d.Present.Supply.Tank.Volume }, unit.Volume.Gal)},
	{"precharge", "", recorded, maybe("psi", func(d *Desk) *unit.Pressure { return d.Present.Supply.Tank.Precharge }, unit.Pressure.PSI)},
	{"drawdown", "", measured, maybe("gal", func(d *Desk) *unit.Volume { return d.Present.Supply.Tank.Drawdown }, unit.Volume.Gal)},
	{"casing_bore", "", recorded, maybe("in", func(d *Desk) *unit.Length { return d.Present.Supply.Well.Casing }, unit.Length.Inches)},
	{"depth", "", recorded, maybe("ft", func(d *Desk) *unit.Length { return d.Present.Supply.Well.Depth }, unit.Length.Ft)},
	{"static_level", "", recorded, maybe("ft", func(d *Desk) *unit.Length { return d.Present.Supply.Well.Static }, unit.Length.Ft)},
	{"intake", "", recorded, maybe("ft", func(d *Desk) *unit.Length { return d.Present.Supply.Pump.Setting }, unit.Length.Ft)},
	{"pump_power", "", recorded, maybe("hp", func(d *Desk) *unit.Power { return d.Present.Supply.Pump.Power }, unit.Power.HP)},
	{"nominal", "", recorded, maybe("in", func(d *Desk) *unit.Length { return d.Present.Supply.Pipe.Nominal }, unit.Length.Inches)},
	{"baths", "", recorded, maybe("", func(d *Desk) *float64 { return d.Present.House.Baths }, func(v float64) float64 { return v })},
	{"people", "", recorded, func(d *Desk, _ cloud.Draw) (string, bool) {
		return fmt.Sprint(d.Present.House.People), d.Present.House.People > 0
	}},
	{"first_capacity", "", "first on record", capacity(func(n int) int { return 0 })},
	{"capacity_now", "", "last on record", capacity(func(n int) int { return n - 1 })},
}

// capacity picks one of the specific capacities on record, if there are two.
func capacity(which func(n int) int) func(*Desk, cloud.Draw) (string, bool) {
	return func(d *Desk, _ cloud.Draw) (string, bool) {
		cs := d.Present.Supply.Well.Capacities
		if len(cs) < 2 {
			return "", false
		}
		return write(cs[which(len(cs))].Value.GPMPerFt(), "gpm/ft"), true
	}
}
