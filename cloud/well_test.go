package cloud

import (
	"testing"
	"time"

	"wellwright/book"
	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// The demonstration wells of these tests are invented. What is expected of them
// was worked out by hand beside their reports: charge sums, CO2 and forms.

func ptr[T any](v T) *T { return &v }

func visit(rs ...water.Result) water.Report {
	return water.Report{Field: true, Tap: "T1", Results: rs}
}

func lab(rs ...water.Result) water.Report {
	return water.Report{Laboratory: "laboratory", Tap: "T1", Results: rs}
}

func mg(a water.Analyte, v float64) water.Result {
	return water.Result{Analyte: a, Value: v, Unit: "mg/L"}
}

func below(a water.Analyte, v float64) water.Result {
	r := mg(a, v)
	r.Sign = water.Below
	return r
}

func iron(f water.Fraction, v float64) water.Result {
	return water.Result{Analyte: water.Iron, Fraction: f, Value: v, Unit: "mg/L"}
}

func mn(f water.Fraction, v float64) water.Result {
	return water.Result{Analyte: water.Manganese, Fraction: f, Value: v, Unit: "mg/L"}
}

func pHOf(v float64) water.Result { return water.Result{Analyte: water.PH, Value: v} }

func degC(v float64) water.Result {
	return water.Result{Analyte: water.Temperature, Value: v, Unit: "C"}
}

func alk(v float64) water.Result {
	return water.Result{Analyte: water.Alkalinity, Value: v, Unit: "mg/L", Basis: "CaCO3"}
}

func hard(v float64) water.Result {
	return water.Result{Analyte: water.Hardness, Value: v, Unit: "mg/L", Basis: "CaCO3"}
}

func asN(a water.Analyte, v float64) water.Result {
	return water.Result{Analyte: a, Value: v, Unit: "mg/L", Basis: "N"}
}

func h2s(v float64) water.Result {
	return water.Result{Analyte: water.Sulfide, Value: v, Unit: "mg/L", Basis: "H2S"}
}

// salts are the majors of a report in the order Ca Mg Na K Cl SO4 F SiO2.
func salts(v ...float64) []water.Result {
	order := []water.Analyte{water.Calcium, water.Magnesium, water.Sodium, water.Potassium, water.Chloride, water.Sulfate, water.Fluoride, water.Silica}
	var out []water.Result
	for i, a := range order {
		out = append(out, mg(a, v[i]))
	}
	return out
}

func report(base water.Report, more ...[]water.Result) water.Report {
	for _, rs := range more {
		base.Results = append(base.Results, rs...)
	}
	return base
}

func seen(ids ...water.Symptom) (out []book.Sign) {
	for _, id := range ids {
		out = append(out, book.Sign{ID: id, Seen: true})
	}
	return out
}

func missing(ids ...water.Symptom) (out []book.Sign) {
	for _, id := range ids {
		out = append(out, book.Sign{ID: id})
	}
	return out
}

func measured(gpm, psi float64) well.PumpFlow {
	return well.PumpFlow{Flow: unit.GPM(gpm), Pressure: unit.PSI(psi)}
}

func tank(kind well.TankKind, gal float64) well.Tank {
	return well.Tank{Kind: kind, Volume: ptr(unit.Gal(gal)), CutIn: ptr(unit.PSI(40)), CutOut: ptr(unit.PSI(60))}
}

func wellA() Evidence {
	return Evidence{
		Supply: well.Supply{
			Well: well.Well{Casing: ptr(unit.Inches(6)), Static: ptr(unit.Ft(38))},
			Pump: well.Pump{Setting: ptr(unit.Ft(120)), Measured: []well.PumpFlow{measured(9.5, 45)}},
			Tank: tank(well.PreCharged, 44),
		},
		House: well.House{People: 4, Baths: ptr(2.5), Peak: ptr(unit.GPM(7)), Daily: ptr(unit.GalPerDay(270))},
		Signs: append(seen(water.ClearThenRust), missing(water.SlimeInTank)...),
		Reports: []water.Report{
			visit(degC(10), pHOf(7.3), mg(water.Oxygen, 0.2), iron(water.FerrousIron, 1.9), iron(water.Total, 2.0), h2s(0)),
			report(lab(alk(255), hard(290)), salts(74, 25.5, 9.5, 1.6, 9, 31, 0.2, 18), []water.Result{
				below(water.Nitrate, 0.05), iron(water.Total, 2.0), iron(water.Dissolved, 1.9), mn(water.Total, 0.06), mn(water.Dissolved, 0.06),
				below(water.Arsenic, 0.001), asN(water.Ammonia, 0.1), mg(water.TOC, 0.9), pHOf(7.8),
				{Analyte: water.TotalColiform, Sign: water.Absent}, {Analyte: water.EColi, Sign: water.Absent}}),
		},
	}
}

// wellA1 is well a whose total bottle held no acid.
func wellA1() Evidence {
	e := wellA()
	e.Reports[1] = edited(e.Reports[1], iron(water.Total, 0.7))
	e.Reports[1].Bottle.Acidified = ptr(false)
	return e
}

// wellA2 is well a behind an air-over-water tank, with the laboratory's filtered
// bottle taken as before.
func wellA2() Evidence {
	e := wellA()
	e.Supply.Tank = tank(well.AirOverWater, 44)
	e.Reports[0] = edited(e.Reports[0], iron(water.FerrousIron, 0.8))
	return e
}

func wellC() Evidence {
	return Evidence{
		Supply: well.Supply{
			Well: well.Well{Casing: ptr(unit.Inches(6)), Static: ptr(unit.Ft(55))},
			Pump: well.Pump{Setting: ptr(unit.Ft(160)), Measured: []well.PumpFlow{measured(12, 45), measured(11, 55)}},
			Tank: tank(well.PreCharged, 86),
		},
		House:    well.House{People: 5, Baths: ptr(3.0), Peak: ptr(unit.GPM(8))},
		Signs:    append(seen(water.ClearThenRust), missing(water.SlimeInTank)...),
		Cultures: []book.Culture{{Of: book.IronBacteria, Positive: true, Day: 8, Strength: book.Weak}},
		Jars:     []book.Jar{{Test: book.ChlorineDemand, After: 30 * time.Minute, Demand: ptr(unit.MgPerLAsCl2(7))}},
		Reports: []water.Report{
			visit(degC(9), pHOf(7.4), mg(water.Oxygen, 0.1), iron(water.FerrousIron, 9.0), iron(water.Total, 9.6), alk(318), h2s(0)),
			report(lab(alk(302), hard(380)), salts(96, 34, 11, 2.5, 14, 64, 0.3, 22), []water.Result{
				below(water.Nitrate, 0.05), iron(water.Total, 9.6), iron(water.Dissolved, 9.0), mn(water.Total, 0.22), mn(water.Dissolved, 0.22),
				mg(water.Arsenic, 0.002), asN(water.Ammonia, 0.15), mg(water.TOC, 1.4), pHOf(7.9)}),
		},
	}
}

// wellC1 is well c with an unpreserved laboratory total.
func wellC1() Evidence {
	e := wellC()
	e.Reports[1] = edited(e.Reports[1], iron(water.Total, 6.1))
	return e
}

func wellE() Evidence {
	return Evidence{
		Supply: well.Supply{
			Well: well.Well{Casing: ptr(unit.Inches(6)), Static: ptr(unit.Ft(35)),
				Capacities: []well.Capacity{{Value: unit.GPMPerFt(2.4)}, {Value: unit.GPMPerFt(0.9)}}},
			Pump: well.Pump{Setting: ptr(unit.Ft(120)), Measured: []well.PumpFlow{measured(11, 45)}},
			Tank: tank(well.PreCharged, 44),
		},
		House:    well.House{People: 3, Baths: ptr(2.0), Peak: ptr(unit.GPM(5)), Daily: ptr(unit.GalPerDay(225))},
		Signs:    seen(water.SlimeInTank, water.FeatheryGrowth, water.FilmBreaks, water.SwampySmell),
		Cultures: []book.Culture{{Of: book.IronBacteria, Positive: true, Day: 2, Strength: book.Strong}, {Of: book.SulfateReducers, Positive: true, Day: 5}},
		Reports: []water.Report{
			visit(degC(11), pHOf(7.0), mg(water.Oxygen, 1.2), iron(water.FerrousIron, 2.1), iron(water.Total, 3.5), h2s(0.1),
				water.Result{Analyte: water.ORP, Value: 80, Unit: "mV"}),
			visit(iron(water.Total, 9)), visit(iron(water.Total, 14)),
			report(lab(alk(150), hard(164)), salts(46, 12, 14, 2.1, 18, 22, 0.2, 16), []water.Result{
				asN(water.Nitrate, 0.1), iron(water.Total, 3.5), iron(water.Dissolved, 2.2), mn(water.Total, 0.18), mn(water.Dissolved, 0.15),
				below(water.Arsenic, 0.001), asN(water.Ammonia, 0.2), mg(water.TOC, 2.0), pHOf(7.5),
				{Analyte: water.TotalColiform, Value: 3, Unit: "per 100 mL"}, {Analyte: water.EColi, Sign: water.Absent}}),
		},
	}
}

func wellF() Evidence {
	return Evidence{
		Supply: well.Supply{
			Well: well.Well{Casing: ptr(unit.Inches(6)), Static: ptr(unit.Ft(70))},
			Pump: well.Pump{Measured: []well.PumpFlow{measured(12, 45)}},
			Tank: tank(well.PreCharged, 62),
		},
		House: well.House{People: 4, Baths: ptr(2.0), Peak: ptr(unit.GPM(7)), Daily: ptr(unit.GalPerDay(300))},
		Signs: seen(water.RottenEggBothConstant),
		Reports: []water.Report{
			visit(degC(11), pHOf(7.1), mg(water.Oxygen, 0), h2s(2.4), iron(water.FerrousIron, 4.1), iron(water.Total, 4.2), alk(262),
				water.Result{Analyte: water.ORP, Value: -190, Unit: "mV"}),
			report(lab(alk(262), hard(243)), salts(66, 19, 38, 3.4, 34, 12, 0.4, 24), []water.Result{
				below(water.Nitrate, 0.02), iron(water.Total, 4.2), iron(water.Dissolved, 4.1), mn(water.Total, 0.65), mn(water.Dissolved, 0.65),
				h2s(0.2), mg(water.Arsenic, 0.003), asN(water.Ammonia, 0.4), mg(water.TOC, 1.9), pHOf(7.7)}),
		},
	}
}

func wellI() Evidence {
	return Evidence{
		Supply: well.Supply{
			Well: well.Well{Casing: ptr(unit.Inches(4)), Static: ptr(unit.Ft(95)), Yield: ptr(unit.GPM(3))},
			Pump: well.Pump{Setting: ptr(unit.Ft(145)), FlowControl: ptr(unit.GPM(3)), Measured: []well.PumpFlow{measured(3, 45)}},
			Tank: tank(well.PreCharged, 20),
		},
		House: well.House{People: 4, Baths: ptr(1.5), Peak: ptr(unit.GPM(7.5)), Daily: ptr(unit.GalPerDay(300))},
		Signs: seen(water.ClearThenRust),
		Reports: []water.Report{
			visit(degC(10), pHOf(7.5), mg(water.Oxygen, 0.4), iron(water.FerrousIron, 5.3), iron(water.Total, 5.5), h2s(0)),
			report(lab(alk(196), hard(210)), salts(52, 19.5, 18, 1.9, 11, 36, 0.3, 15), []water.Result{
				below(water.Nitrate, 0.05), iron(water.Total, 5.5), iron(water.Dissolved, 5.3), mn(water.Total, 0.11), mn(water.Dissolved, 0.11),
				below(water.Arsenic, 0.001), asN(water.Ammonia, 0.1), mg(water.TOC, 0.7), pHOf(8.0)}),
		},
	}
}

// edited returns a report with one result put in place of that of its kind.
func edited(r water.Report, with water.Result) water.Report {
	out := r
	out.Results = append([]water.Result(nil), r.Results...)
	for i, res := range out.Results {
		if res.Analyte == with.Analyte && res.Fraction == with.Fraction {
			out.Results[i] = with
		}
	}
	return out
}

func weighed(t *testing.T, e Evidence) Cloud {
	t.Helper()
	c, err := Weigh(e, source.Set{}, chem.New(source.Set{}), nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
