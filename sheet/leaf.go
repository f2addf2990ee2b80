package sheet

import (
	"strings"

	"wellwright/plan"
	"wellwright/stage"
)

// leaf says how a figure of the answer is printed: its words, its unit, and how
// many digits of it are known.
type leaf struct {
	words, unit string
	digits      int
}

// leaves are the figures worth printing, by leaf name, in printing order.
var leaves = []struct {
	name string
	leaf
}{
	{stage.VesselDiameterIn, leaf{"vessel diameter", "in", 3}},
	{stage.VesselHeightIn, leaf{"vessel height", "in", 3}},
	{stage.MediaFt3, leaf{"media", "ft3", 3}},
	{stage.VolumeGal, leaf{"tank", "gal", 3}},
	{stage.TanksInSeries, leaf{"tanks in series", "", 2}},
	{stage.PressureTankGal, leaf{"larger pressure tank", "gal", 2}},
	{stage.BoosterGPM, leaf{"booster pump", "gpm", 2}},
	{stage.FeedPumpGalPerDay, leaf{"feed pump", "gal/day", 2}},
	{stage.RatedFlowGPM, leaf{"rated flow", "gpm", 3}},
	{stage.HardnessGPG, leaf{"hardness setting", "gpg", 2}},
	{stage.SaltLb, leaf{"salt each time", "lb", 2}},
	{stage.SaltLbPerYear, leaf{"salt a year", "lb", 2}},
	{stage.CapacityGrains, leaf{"capacity", "grains", 3}},
	{stage.LoadGrainsPerDay, leaf{"load a day", "grains", 2}},
	{stage.DoseMgL, leaf{"dose", "mg/L", 2}},
	{stage.ResidualMgL, leaf{"residual to hold", "mg/L", 2}},
	{stage.FeedMLMin, leaf{"feed while pumping", "mL/min", 2}},
	{stage.SolutionGL, leaf{"solution", "g/L", 2}},
	{stage.StrokePercent, leaf{"feed pump at", "%", 2}},
	{stage.SolutionLPerDay, leaf{"solution a day", "L", 2}},
	{stage.StockLPerYear, leaf{"stock a year", "L", 2}},
	{stage.TankDays, leaf{"a fill lasts", "days", 2}},
	{stage.ChemicalLbPerYear, leaf{"chemical a year", "lb", 2}},
	{stage.TargetPH, leaf{"pH aimed at", "", 2}},
	{stage.ContactMin, leaf{"contact at peak", "min", 2}},
	{stage.EmptyBedMin, leaf{"empty-bed contact", "min", 2}},
	{stage.ServiceGPMFt2, leaf{"peak rate", "gpm/ft2", 2}},
	{stage.BackwashMin, leaf{"backwash", "min", 2}},
	{stage.RinseMin, leaf{"rinse", "min", 2}},
	{stage.IronLoadGrainsFt2, leaf{"load", "grains/ft2/day", 2}},
	{stage.DaysBetween, leaf{"every", "days", 2}},
	{stage.DaysBetweenMetered, leaf{"by meter", "days", 2}},
	{stage.ExpansionPercent, leaf{"bed lifts", "%", 2}},
	{stage.ExpansionWinterPct, leaf{"in winter", "%", 2}},
	{stage.RegenerantOz, leaf{"permanganate each time", "oz", 2}},
	{stage.DaysBetweenCharges, leaf{"permanganate charge every", "days", 2}},
	{stage.RunGal, leaf{"or every", "gal", 2}},
	{stage.PermanganateLbYear, leaf{"permanganate a year", "lb", 2}},
	{stage.BrineGal, leaf{"brine each time", "gal", 2}},
	{stage.AirDrawMin, leaf{"air draw", "min", 2}},
	{stage.AirPocketGal, leaf{"air pocket", "gal", 2}},
	{stage.OxygenHaveMgL, leaf{"oxygen", "mg/L", 2}},
	{stage.OxygenNeedMgL, leaf{"oxygen needed", "mg/L", 2}},
	{stage.SodiumAddedMgL, leaf{"sodium added", "mg/L", 2}},
	{stage.ChlorideAddedMgL, leaf{"chloride added", "mg/L", 2}},
	{stage.BedVolumes, leaf{"bed volumes", "", 2}},
	{stage.MediaYears, leaf{"media lasts", "years", 2}},
	{stage.AirToWater, leaf{"air to water", "", 2}},
	{stage.RadonLeftPCiL, leaf{"radon behind it", "pCi/L", 2}},
	{stage.ExhaustRadonPCiL, leaf{"radon in the exhaust", "pCi/L", 2}},
	{stage.OzoneGPerH, leaf{"ozone", "g/h", 2}},
	{stage.MembraneGalPerDay, leaf{"membrane gives", "gal/day", 2}},
	{stage.RecoveryPercent, leaf{"recovery", "%", 2}},
	{stage.HardnessAddedGPG, leaf{"hardness added", "gpg", 2}},
	{stage.RefillMonths, leaf{"refill every", "months", 2}},
	{stage.MicronRating, leaf{"rating", "µm", 2}},
	{stage.ElementMonths, leaf{"element lasts", "months", 2}},
	{stage.LampDoseMJ, leaf{"lamp dose", "mJ/cm2", 2}},
	{stage.StorageDays, leaf{"storage", "days", 2}},
	{stage.FillMinPerDay, leaf{"well runs to fill", "min/day", 2}},
}

// ends are the leaf names that hold the ends of a figure's range.
var ends = map[string][2]string{
	stage.HardnessGPG: {stage.HardnessLowGPG, stage.HardnessHighGPG},
	stage.DoseMgL:     {stage.DoseLowMgL, stage.DoseHighMgL},
}

// figures writes the sizes and settings of a stage in one run of text, without
// what its wash says already.
func (p *page) figures(values map[string]float64, st plan.Stage) string {
	var parts []string
	for _, f := range Figures(values, st, p.s) {
		parts = append(parts, f.Words+" "+f.Amount)
	}
	return strings.Join(parts, " · ")
}

// ranged writes a figure, with the ends of its range if they are there.
func (p *page) ranged(values map[string]float64, name string, l leaf, v float64) string {
	e := ends[name]
	low, hasLow := values[e[0]]
	high, hasHigh := values[e[1]]
	if !hasLow || !hasHigh {
		return amount(v, l.unit, l.digits, p.s)
	}
	return spanIn(plan.Range{P05: low, P50: v, P95: high}, l.unit, p.s)
}

// repeats reports whether a figure says nothing new: one tank in series, the
// interval or the water that stands beside the wash.
func repeats(values map[string]float64, name string, st plan.Stage) bool {
	switch name {
	case stage.TanksInSeries:
		return values[name] == 1
	case stage.DaysBetween:
		return st.Backwash != nil && st.Backwash.Days == values[name]
	case stage.DaysBetweenMetered:
		return values[name] == values[stage.DaysBetween]
	case stage.BrineGal:
		return st.Backwash != nil && st.Backwash.Gallons == values[name]
	}
	return false
}
