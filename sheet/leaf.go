package sheet

import (
	"strings"

	"wellwright/plan"
	"wellwright/stage"
	"wellwright/unit"
)

// leaf says how a figure of the answer is printed: its words, its unit in each
// system, and what one US unit is in the metric one.
type leaf struct {
	words, us, metric string
	times             float64
	digits            int
}

// leaves are the figures worth printing, by leaf name, in printing order.
var leaves = []struct {
	name string
	leaf
}{
	{stage.VesselDiameterIn, leaf{"vessel diameter", "in", "mm", 25.4, 3}},
	{stage.VesselHeightIn, leaf{"vessel height", "in", "mm", 25.4, 3}},
	{stage.MediaFt3, leaf{"media", "ft3", "L", 28.3168, 3}},
	{stage.VolumeGal, leaf{"tank", "gal", "L", 3.78541, 3}},
	{stage.TanksInSeries, leaf{"tanks in series", "", "", 1, 2}},
	{stage.PressureTankGal, leaf{"larger pressure tank", "gal", "L", 3.78541, 3}},
	{stage.BoosterGPM, leaf{"booster pump", "gpm", "L/min", 3.78541, 3}},
	{stage.FeedPumpGalPerDay, leaf{"feed pump", "gal/day", "L/day", 3.78541, 3}},
	{stage.RatedFlowGPM, leaf{"rated flow", "gpm", "L/min", 3.78541, 3}},
	{stage.HardnessGPG, leaf{"hardness setting", "gpg", "mg/L", 17.118, 2}},
	{stage.HardnessLowGPG, leaf{"setting, least", "gpg", "mg/L", 17.118, 2}},
	{stage.HardnessHighGPG, leaf{"setting, most", "gpg", "mg/L", 17.118, 2}},
	{stage.SaltLb, leaf{"salt each time", "lb", "kg", 0.453592, 3}},
	{stage.SaltLbPerYear, leaf{"salt a year", "lb", "kg", 0.453592, 3}},
	{stage.CapacityGrains, leaf{"capacity", "grains", "g CaCO3", 0.0647989, 3}},
	{stage.LoadGrainsPerDay, leaf{"load a day", "grains", "g CaCO3", 0.0647989, 3}},
	{stage.DoseMgL, leaf{"dose", "mg/L", "mg/L", 1, 2}},
	{stage.DoseLowMgL, leaf{"dose, least", "mg/L", "mg/L", 1, 2}},
	{stage.DoseHighMgL, leaf{"dose, most", "mg/L", "mg/L", 1, 2}},
	{stage.ResidualMgL, leaf{"residual to hold", "mg/L", "mg/L", 1, 2}},
	{stage.FeedMLMin, leaf{"feed while pumping", "mL/min", "mL/min", 1, 2}},
	{stage.SolutionGL, leaf{"solution", "g/L", "g/L", 1, 2}},
	{stage.StrokePercent, leaf{"feed pump at", "%", "%", 1, 2}},
	{stage.SolutionLPerDay, leaf{"solution a day", "L", "L", 1, 2}},
	{stage.StockLPerYear, leaf{"stock a year", "L", "L", 1, 2}},
	{stage.TankDays, leaf{"a fill lasts", "days", "days", 1, 2}},
	{stage.ChemicalLbPerYear, leaf{"chemical a year", "lb", "kg", 0.453592, 2}},
	{stage.TargetPH, leaf{"pH aimed at", "", "", 1, 2}},
	{stage.ContactMin, leaf{"contact at peak", "min", "min", 1, 2}},
	{stage.EmptyBedMin, leaf{"empty-bed contact", "min", "min", 1, 2}},
	{stage.ServiceGPMFt2, leaf{"peak rate", "gpm/ft2", "m/h", 2.4447, 2}},
	{stage.BackwashMin, leaf{"backwash", "min", "min", 1, 2}},
	{stage.RinseMin, leaf{"rinse", "min", "min", 1, 2}},
	{stage.IronLoadGrainsFt2, leaf{"load", "grains/ft2/day", "g/m2/day", 0.6975, 3}},
	{stage.DaysBetween, leaf{"every", "days", "days", 1, 2}},
	{stage.DaysBetweenMetered, leaf{"by meter", "days", "days", 1, 2}},
	{stage.ExpansionPercent, leaf{"bed lifts", "%", "%", 1, 2}},
	{stage.ExpansionWinterPct, leaf{"in winter", "%", "%", 1, 2}},
	{stage.RegenerantOz, leaf{"permanganate each time", "oz", "g", 28.3495, 2}},
	{stage.AirDrawMin, leaf{"air draw", "min", "min", 1, 2}},
	{stage.AirPocketGal, leaf{"air pocket", "gal", "L", 3.78541, 2}},
	{stage.OxygenHaveMgL, leaf{"oxygen", "mg/L", "mg/L", 1, 2}},
	{stage.OxygenNeedMgL, leaf{"oxygen needed", "mg/L", "mg/L", 1, 2}},
	{stage.SodiumAddedMgL, leaf{"sodium added", "mg/L", "mg/L", 1, 3}},
	{stage.ElementMonths, leaf{"element lasts", "months", "months", 1, 2}},
	{stage.LampDoseMJ, leaf{"lamp dose", "mJ/cm2", "mJ/cm2", 1, 2}},
	{stage.StorageDays, leaf{"storage", "days", "days", 1, 2}},
	{stage.FillMinPerDay, leaf{"well runs to fill", "min/day", "min/day", 1, 3}},
}

// print writes a value in the system's unit.
func (l leaf) print(v float64, s unit.System) string {
	u := l.us
	if s == unit.Metric {
		u, v = l.metric, v*l.times
	}
	return strings.TrimSpace(unit.Significant(v, l.digits) + " " + u)
}

// figures writes the sizes and settings of a stage in one run of text.
func figures(values map[string]float64, s unit.System) string {
	var parts []string
	for _, l := range leaves {
		if v, ok := values[l.name]; ok && !repeats(values, l.name) {
			parts = append(parts, l.words+" "+l.print(v, s))
		}
	}
	return strings.Join(parts, " · ")
}

// repeats reports whether the end of a range only repeats its middle.
func repeats(values map[string]float64, name string) bool {
	return (name == stage.HardnessLowGPG || name == stage.HardnessHighGPG) && values[name] == values[stage.HardnessGPG]
}

// span writes a range as low–high around the middle, or the middle alone.
func span(r plan.Range, digits int) string {
	mid := unit.Significant(r.P50, digits)
	low, high := unit.Significant(r.P05, digits), unit.Significant(r.P95, digits)
	if low == mid && high == mid {
		return mid
	}
	return mid + " (" + low + "–" + high + ")"
}
