package plan

import (
	"math"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/unit"
	"wellwright/water"
)

// quantity is one thing that is believed: how it is taken from a draw, and which
// results measure it.
type quantity struct {
	name, unit string
	of         func(*Desk, *cloud.Draw) float64 // NaN: this draw has none
	read       []assay                          // the first of them that was measured is shown
	record     func(*Desk) []Reading            // of the supply: what is on record
	reported   func(water.Report) (float64, water.Sign, bool)
	leansOn    string // leaf name by which it is assumed; "" its own
	limited    bool   // the limits on its analyte are for this quantity
	optional   bool   // shown only where it was read
}

// assay is an analyte in some fractions; none is any.
type assay struct {
	analyte   water.Analyte
	fractions []water.Fraction
}

func plain(a water.Analyte) []assay { return []assay{{analyte: a}} }

var whole = []water.Fraction{water.Total, water.Recoverable, water.Unspecified}

// quantities are in reading order. They mirror the leaf names of package cloud;
// pump_gpm, daily_use_gal_per_day and chlorine_demand_mg_l are of the supply.
var quantities = []quantity{
	{name: "iron_total_mg_l", unit: "mg/L", limited: true, read: []assay{{water.Iron, whole}},
		of: ofWater(func(w *water.State) float64 { return w.TotalIron().MgPerL() })},
	{name: "iron_dissolved_mg_l", unit: "mg/L", optional: true, leansOn: "iron_ferrous_mg_l", read: []assay{{water.Iron, []water.Fraction{water.Dissolved}}},
		of: ofWater(func(w *water.State) float64 { return w.Ferrous.MgPerL() + w.Bound.MgPerL() })},
	{name: "iron_ferrous_mg_l", unit: "mg/L", read: []assay{{water.Iron, []water.Fraction{water.FerrousIron}}},
		of: ofWater(func(w *water.State) float64 { return w.Ferrous.MgPerL() })},
	{name: "iron_particulate_mg_l", unit: "mg/L", read: []assay{{water.Iron, []water.Fraction{water.Suspended}}},
		of: ofWater(func(w *water.State) float64 { return w.Particulate.MgPerL() })},
	{name: "iron_bound_mg_l", unit: "mg/L", of: ofWater(func(w *water.State) float64 { return w.Bound.MgPerL() })},
	{name: "manganese_total_mg_l", unit: "mg/L", limited: true, leansOn: "manganese_mg_l",
		read: []assay{{water.Manganese, whole}, {water.Manganese, []water.Fraction{water.Dissolved}}},
		of:   ofWater(func(w *water.State) float64 { return w.TotalManganese().MgPerL() })},
	{name: "ph", limited: true, read: plain(water.PH), of: ofWater(func(w *water.State) float64 { return w.PH.Value() })},
	{name: "alkalinity_mg_l_as_caco3", unit: "mg/L as CaCO3", read: plain(water.Alkalinity), reported: reportedAlkalinity,
		of: ofWater(func(w *water.State) float64 { return w.Alkalinity.MgPerLAsCaCO3() })},
	{name: "hardness_mg_l_as_caco3", unit: "mg/L as CaCO3", limited: true, read: plain(water.Hardness), reported: reportedHardness,
		of: ofWater(func(w *water.State) float64 { return w.Hardness().MgPerLAsCaCO3() })},
	{name: "co2_mg_l", unit: "mg/L", read: plain(water.CO2), of: carbonDioxide},
	{name: "temperature_c", unit: "°C", read: plain(water.Temperature), of: ofWater(func(w *water.State) float64 { return w.Temperature.Celsius() })},
	{name: "oxygen_mg_l", unit: "mg/L", read: plain(water.Oxygen), of: ofWater(func(w *water.State) float64 { return w.Oxygen.MgPerL() })},
	{name: "sulfide_mg_l_as_h2s", unit: "mg/L as H2S", limited: true, read: plain(water.Sulfide),
		of: ofWater(func(w *water.State) float64 { return w.Sulfide.MgPerLAsH2S() })},
	{name: "ammonia_mg_l_as_n", unit: "mg/L as N", limited: true, read: plain(water.Ammonia),
		of: ofWater(func(w *water.State) float64 { return w.Ammonia.MgPerLAsN() })},
	{name: "toc_mg_l", unit: "mg/L", limited: true, read: plain(water.TOC), of: ofWater(func(w *water.State) float64 { return w.OrganicCarbon.MgPerL() })},
	{name: "silica_mg_l", unit: "mg/L as SiO2", limited: true, read: plain(water.Silica), of: ofWater(func(w *water.State) float64 { return w.Silica.MgPerL() })},
	{name: "sodium_mg_l", unit: "mg/L", limited: true, read: plain(water.Sodium), of: ofWater(func(w *water.State) float64 { return w.Sodium.MgPerL() })},
	{name: "chloride_mg_l", unit: "mg/L", limited: true, read: plain(water.Chloride), of: ofWater(func(w *water.State) float64 { return w.Chloride.MgPerL() })},
	{name: "sulfate_mg_l", unit: "mg/L", limited: true, read: plain(water.Sulfate), of: ofWater(func(w *water.State) float64 { return w.Sulfate.MgPerL() })},
	{name: "arsenic_mg_l", unit: "mg/L", limited: true, read: plain(water.Arsenic), of: ofWater(func(w *water.State) float64 { return w.Arsenic.MgPerL() })},
	{name: "nitrate_mg_l_as_n", unit: "mg/L as N", limited: true, read: []assay{{analyte: water.Nitrate}, {analyte: water.NitrateNitrite}},
		of: ofWater(func(w *water.State) float64 { return w.Nitrate.MgPerLAsN() })},
	{name: "yield_gpm", unit: "gpm", record: recordedYield,
		of: ofSupply(func(d *cloud.Draw) float64 { return d.Supply.Hydraulic.Yield.GPM() })},
	{name: "pump_gpm", unit: "gpm", record: recordedPump, of: ofSupply(func(d *cloud.Draw) float64 { return pumpNow(*d) })},
	{name: "daily_use_gal_per_day", unit: "gal/day", record: recordedUse,
		of: ofSupply(func(d *cloud.Draw) float64 { return d.Supply.Use().GalPerDay() })},
	{name: "chlorine_demand_mg_l", unit: "mg/L as Cl2", record: recordedDemand, of: chlorineDemand},
}

func ofWater(f func(*water.State) float64) func(*Desk, *cloud.Draw) float64 {
	return func(_ *Desk, d *cloud.Draw) float64 { return f(&d.Water) }
}

// ofSupply leaves out draws of a raw water alone, to which no supply belongs.
func ofSupply(f func(*cloud.Draw) float64) func(*Desk, *cloud.Draw) float64 {
	return func(_ *Desk, d *cloud.Draw) float64 {
		if !supplied(d) {
			return math.NaN()
		}
		return f(d)
	}
}

func supplied(d *cloud.Draw) bool { return d.Supply.Daily.GalPerDay() > 0 }

// carbonDioxide is the free carbon dioxide of a draw, from pH and alkalinity.
func carbonDioxide(k *Desk, d *cloud.Draw) float64 {
	w := &d.Water
	ionic := chem.IonicFromSums(w.Totals(), w.Alkalinity)
	return k.model().Carbonate(w.Temperature, ionic).CO2(w.PH, w.Alkalinity).MgPerL()
}

// chlorineDemand is what takes up chlorine in a draw, without a residual.
//
//	D = Fe + Mn + S0 + x (S6 - S0) + r N + extra
//
//	Fe, Mn  of dissolved iron and manganese, by stoichiometry, mg/L as Cl2
//	S0, S6  of sulfide taken to sulfur and to sulfate;  x  the draw's share to sulfate
//	N       ammonia, mg/L as N;  r  the draw's ratio at breakpoint
//	extra   organic matter and slime
//
// Source: derived, as for a chlorine feed.
func chlorineDemand(k *Desk, d *cloud.Draw) float64 {
	if !supplied(d) {
		return math.NaN()
	}
	w, s := &d.Water, &d.Supply
	p := k.model().ChlorineDemand(chem.ChlorineNeeds{IronII: w.Ferrous, Manganese: w.Manganese, Sulfide: w.Sulfide})
	toSulfate := p.Sulfide.High.MgPerLAsCl2() - p.Sulfide.Usual.MgPerLAsCl2()
	return p.Total().Usual.MgPerLAsCl2() + s.SulfateShare*toSulfate + s.AmmoniaRatio*w.Ammonia.MgPerLAsN() + s.ChlorineExtra.MgPerLAsCl2()
}

// assumed reports whether nobody measured a quantity: by the cloud's own list, or
// of the supply where nothing is on record.
func (q quantity) assumed(b Belief, names map[string]bool) bool {
	if q.record != nil {
		return len(b.Readings) == 0
	}
	name := q.leansOn
	if name == "" {
		name = q.name
	}
	return names[name]
}

// readings are the results that measure a quantity in raw, flushed water.
func (q quantity) readings(d *Desk) []Reading {
	if q.record != nil {
		return q.record(d)
	}
	for _, m := range q.read {
		rs := []Reading{}
		for _, r := range d.Present.Reports {
			if r.Raw() && !r.FirstDraw {
				rs = append(rs, m.in(r)...)
			}
		}
		if len(rs) > 0 {
			return rs
		}
	}
	return q.workedOut(d)
}

// in returns what a report says of an analyte.
func (m assay) in(r water.Report) []Reading {
	var rs []Reading
	for _, res := range r.Results {
		if res.Analyte != m.analyte || !m.takes(res.Fraction) {
			continue
		}
		if a, err := res.Amount(); err == nil && a.Numeric() {
			v, _ := a.Canonical()
			rs = append(rs, readingOf(r, v, a.Sign))
		}
	}
	return rs
}

func (m assay) takes(f water.Fraction) bool {
	for _, x := range m.fractions {
		if x == f {
			return true
		}
	}
	return len(m.fractions) == 0
}

// workedOut are readings of a quantity that a report gives only by its parts.
func (q quantity) workedOut(d *Desk) []Reading {
	rs := []Reading{}
	if q.reported == nil {
		return rs
	}
	for _, r := range d.Present.Reports {
		if !r.Raw() || r.FirstDraw {
			continue
		}
		if v, sign, ok := q.reported(r); ok {
			rs = append(rs, readingOf(r, v, sign))
		}
	}
	return rs
}

func readingOf(r water.Report, v float64, sign water.Sign) Reading {
	kind := "laboratory"
	if r.Field {
		kind = "field"
	}
	return Reading{Value: v, Sign: signs[sign], Tap: string(r.Tap), Kind: kind}
}

func reportedAlkalinity(r water.Report) (float64, water.Sign, bool) {
	a, sign, ok := r.Alkalinity()
	return a.MgPerLAsCaCO3(), sign, ok
}

func reportedHardness(r water.Report) (float64, water.Sign, bool) {
	ca, one, ok := r.Concentration(water.Calcium, water.Unspecified)
	mg, two, both := r.Concentration(water.Magnesium, water.Unspecified)
	return chem.HardnessOf(ca, mg).MgPerLAsCaCO3(), water.Exact, ok && both && one == water.Exact && two == water.Exact
}

// onRecord is a figure of the supply.
func onRecord(v float64) Reading { return Reading{Value: v, Kind: "record"} }

func recordedYield(d *Desk) []Reading {
	if y := d.Present.Supply.Well.Yield; y != nil {
		return []Reading{onRecord(y.GPM())}
	}
	return []Reading{}
}

// recordedPump are the flows measured at the tank, at whatever pressure.
func recordedPump(d *Desk) []Reading {
	rs := []Reading{}
	for _, m := range d.Present.Supply.Pump.Measured {
		rs = append(rs, Reading{Value: m.Flow.GPM(), Kind: "field"})
	}
	return rs
}

func recordedUse(d *Desk) []Reading {
	rs := []Reading{}
	for _, f := range []*unit.Flow{d.Present.House.DailyLow, d.Present.House.Daily} {
		if f != nil {
			rs = append(rs, onRecord(f.GalPerDay()))
		}
	}
	return rs
}

// recordedDemand is the chlorine used up in jars.
func recordedDemand(d *Desk) []Reading {
	rs := []Reading{}
	for _, j := range d.Present.Jars {
		if j.Demand != nil {
			rs = append(rs, Reading{Value: j.Demand.MgPerLAsCl2(), Tap: string(j.Tap), Kind: "field"})
		}
	}
	if m := d.Cloud.Middle().Supply.DemandMeasured; m != nil && len(rs) == 0 { // read off a series of doses
		rs = append(rs, Reading{Value: m.MgPerLAsCl2(), Kind: "field"})
	}
	return rs
}
