package hydraulic_test

import (
	"testing"

	"wellwright/hydraulic"
	"wellwright/unit"
)

const (
	davis     = "Davis, 2010, Water and Wastewater Engineering"
	hendricks = "Hendricks, Fundamentals of Water Treatment Unit Processes"
	penn      = "derived: baffling factors of Pennsylvania DEP"
	handbook  = "capacity of the Environmental engineers' handbook, balance derived"
)

func metersPerHour(v float64) unit.Loading {
	return hydraulic.LoadingOn(unit.M3PerHour(v), unit.Ft2(1/(0.3048*0.3048)))
}

func inMetersPerHour(v unit.Loading) float64 {
	return hydraulic.FlowOver(v, unit.Ft2(1/(0.3048*0.3048))).M3PerHour()
}

// head reads a pressure as metres of water.
func head(p unit.Pressure, t unit.Temperature) float64 {
	return p.KPa() * 1000 / (hydraulic.Density(t) * 9.80665)
}

// layersOfDavis is the sorted sand of the book's examples.
func layersOfDavis() hydraulic.Stratified {
	b := hydraulic.Stratified{Porosity: 0.45, Sphericity: 0.82}
	for _, l := range [][2]float64{{5.3, 2}, {17.1, 1.42}, {14.6, 1}, {20.4, 0.714}, {17.6, 0.505}, {11.9, 0.357}, {5.9, 0.252}, {3.1, 0.178}, {0.7, 0.126}} {
		b.Layers = append(b.Layers, hydraulic.Layer{Share: l[0] / 100, Size: unit.MM(l[1])})
	}
	return b
}

func bedExamples(t *testing.T) []example {
	c := unit.Celsius
	fluid := func(mm, celsius float64) float64 {
		g := hydraulic.Grain{D10: unit.MM(mm), D60: unit.MM(mm), D90: unit.MM(mm), Density: 2.65, Porosity: 0.45}
		return inMetersPerHour(g.MinFluidisation(c(celsius)))
	}
	corning := func(d60 float64) hydraulic.Grain {
		return hydraulic.Grain{D10: unit.MM(0.5), D60: unit.MM(d60), Porosity: 0.407, Density: 2.655, ErgunViscous: 112, ErgunInertial: 2.25}
	}
	coal := hydraulic.Grain{D10: unit.MM(0.95), D60: unit.MM(1.33), Porosity: 0.5, Density: 1.65, ErgunViscous: 228, ErgunInertial: 4.4}
	sand := hydraulic.Grain{Sphericity: 0.82, Density: 2.65, Porosity: 0.45}
	settled := func(mm float64) float64 { return sand.Settled(unit.MM(mm), metersPerHour(36), c(10)) }
	amirtharajah := "data of Amirtharajah and Cleasby, 1972, in " + hendricks + ", example 12.9"
	rows := []example{
		{"anthracite, 1.8 m at 15 m/h", "m", 0.50, 0.01, head(coal.HeadLoss(metersPerHour(15), unit.M(1.8), c(15)), c(15)), "MWH, 2005, Water Treatment, example 11-2 (from memory)", ""},
		{"sorted sand by Rose", "m", 0.76, 0.01, head(layersOfDavis().RoseLoss(metersPerHour(9), unit.M(0.5), c(10)), c(10)), davis + ", example 11-2", ""},
		{"fluidising 2.00 mm sand at 25 °C", "m/h", 87.5, 0.9, fluid(2, 25), hendricks + ", table 12.9, predicted", ""},
		{"fluidising 2.00 mm sand at 40 °C", "m/h", 97.6, 1, fluid(2, 40), hendricks + ", table 12.9, predicted", ""},
		{"fluidising 1.40 mm sand at 25 °C", "m/h", 57.2, 0.6, fluid(1.4, 25), hendricks + ", table 12.9, predicted", ""},
		{"fluidising 1.40 mm sand at 40 °C", "m/h", 67.3, 0.7, fluid(1.4, 40), hendricks + ", table 12.9, predicted", ""},
		{"fluidising 1.40 mm sand at 40 °C as measured", "m/h", 57.6, 8.6, fluid(1.4, 40), hendricks + ", table 12.9, measured",
			"the measurement does not rise from 25 to 40 °C, as thinner water must make it; our range of error is 15 %"},
		{"fluidising Corning sand at 20 °C, second method", "gpm/ft2", 8.2, 0.17, corning(0.736).AmirtharajahFluidisation(c(20)).GPMPerFt2(), hendricks + ", p. 368", ""},
	}
	for _, e := range []struct{ v, expansion float64 }{{20, 0.03}, {25, 0.07}, {35, 0.16}, {40, 0.20}, {45, 0.24}} {
		rows = append(rows, example{"expansion of Corning sand at " + short(e.v) + " m/h, 0.66 mm", "", e.expansion, 0.05,
			corning(0.66).Expansion(metersPerHour(e.v), c(16)), amirtharajah + "; water temperature not printed", ""})
	}
	rows = append(rows, example{"expansion of Corning sand at 45 m/h by its printed d60 of 0.736 mm", "", 0.24, 0.05, corning(0.736).Expansion(metersPerHour(45), c(16)), amirtharajah,
		"the closed form fits this sand at 0.9 of its d60; the coefficients are for graded sand at large"})
	for _, e := range []struct{ mm, porosity float64 }{{2, 0.255}, {1, 0.371}, {0.505, 0.537}, {0.252, 0.758}} {
		rows = append(rows, example{"porosity of " + short(e.mm) + " mm sand at 36 m/h", "", e.porosity, 0.015, settled(e.mm), davis + ", example 11-3", ""})
	}
	return append(rows, example{"coal of 1.7 that settles with 0.55 mm sand", "mm", 0.97, 0.01, hydraulic.SameSettling(unit.MM(0.55), 2.65, 1.7).MM(),
		"Tchobanoglous and others, 2003, Wastewater Engineering (from memory)", ""})
}

func contactExamples(t *testing.T) []example {
	t10 := func(b hydraulic.Baffling) float64 {
		return hydraulic.T10(b.Factor().Value, unit.Gal(120), unit.GPM(10)).Minutes()
	}
	coil := hydraulic.Pipe{Bore: unit.Inches(4), Length: unit.Ft(100)}
	daily := hydraulic.DailySolids(unit.MgPerL(3), hydraulic.HydroxidePerIron.Value, unit.GalPerDay(300))
	run := func(lb float64) float64 {
		return hydraulic.RunDays(hydraulic.LbPerFt2(lb), unit.Ft2(1), daily)
	}
	series := must[float64](t)
	giardia := func(log, ph, cl, celsius float64) float64 {
		return must[hydraulic.CT](t)(hydraulic.GiardiaCT(log, unit.PHOf(ph), unit.MgPerLAsCl2(cl), unit.Celsius(celsius))).MgMinPerL()
	}
	virus := func(log int, celsius float64) float64 {
		return must[hydraulic.CT](t)(hydraulic.VirusCT(log, unit.PHOf(7.5), unit.Celsius(celsius))).MgMinPerL()
	}
	const gamma = "derived: gamma distribution, SciPy 1.10.1"
	const e7 = "US EPA surface water treatment guidance manual, 1991, table E-7 (from memory)"
	return []example{
		{"T10 of a plain 120 gal tank at 10 gpm", "min", 1.2, 0.001, t10(hydraulic.Unbaffled), penn, ""},
		{"T10 with one baffled inlet", "min", 3.6, 0.001, t10(hydraulic.PoorBaffling), penn, ""},
		{"T10 of 100 ft of 4 in pipe", "min", 6.53, 0.01, hydraulic.T10(1, coil.Contents(), unit.GPM(10)).Minutes(), penn, ""},
		{"T10/T of one mixed tank", "", 0.105, 0.0006, series(hydraulic.SeriesT10(1)), gamma, ""},
		{"T10/T of five in series", "", 0.487, 0.0006, series(hydraulic.SeriesT10(5)), gamma, ""},
		{"CT for 4 log of viruses at 10 °C", "mg·min/L", 6, 0, virus(4, 10), e7, ""},
		{"CT for 2 log of viruses at 5 °C", "mg·min/L", 4, 0, virus(2, 5), e7, ""},
		{"CT for 3 log of Giardia, pH 7, 0.4 mg/L, 0.5 °C", "mg·min/L", 195, 19.5, giardia(3, 7, 0.4, 0.5), "consultant's page with the Giardia table", ""},
		{"CT for 3 log of Giardia, pH 7.5, 1.2 mg/L, 15 °C", "mg·min/L", 92, 9.2, giardia(3, 7.5, 1.2, 15), "note on the US EPA guidance CT tables", ""},
		{"feed of 5.25 % bleach, 5 mg/L into 10.5 gpm", "gal/day", 1.44, 0.005, hydraulic.FeedRate(unit.GPM(10.5), unit.MgPerL(5), unit.MgPerL(52500)).GalPerDay(), "trade formula Q dose 1440/strength", ""},
		{"solids of 3 mg/L iron in 300 gal/day", "g/day", 6.51, 0.02, daily.G(), handbook, ""},
		{"run of 1 ft2 at ¼ lb", "days", 17.4, 0.2, run(0.25), handbook, ""},
		{"run of 1 ft2 at ½ lb", "days", 34.9, 0.2, run(0.5), handbook, ""},
	}
}
