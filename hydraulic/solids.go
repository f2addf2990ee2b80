package hydraulic

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// Solids is a mass of solids for each unit of bed area.
type Solids struct{ v float64 } // lb/ft2

// LbPerFt2 makes a solids loading from pounds a square foot.
func LbPerFt2(v float64) Solids { return Solids{v} }

// GrainsPerFt2 makes a solids loading from grains a square foot.
func GrainsPerFt2(v float64) Solids { return Solids{unit.Grains(v).Lb()} }

// LbPerFt2 returns pounds a square foot.
func (s Solids) LbPerFt2() float64 { return s.v }

// GrainsPerFt2 returns grains a square foot.
func (s Solids) GrainsPerFt2() float64 { return unit.Lb(s.v).Grains() }

const engineersHandbook = "Environmental engineers' handbook, table 7.33.2 and text (fractions partly illegible in the reprint)"

// Filter-run factors.
var (
	HydroxidePerIron = source.Factor{Name: "solids_hydroxide_per_iron", What: "dry ferric hydroxide for each weight of iron",
		Unit: "mg/mg", Value: 1.91, Low: 1.59, High: 1.91, Kind: source.Derived, From: "molar masses of Fe(OH)3 (high) and FeOOH (low)"}
	DioxidePerManganese = source.Factor{Name: "solids_dioxide_per_manganese", What: "manganese dioxide for each weight of manganese",
		Unit: "mg/mg", Value: 1.58, Kind: source.Derived, From: "molar masses"}
	SandCapacity = source.Factor{Name: "solids_capacity_single_layer", What: "solids a single layer of sand or coal takes in a run",
		Unit: "lb/ft2", Value: 0.25, Low: 0.25, High: 0.5, Kind: source.Published, From: engineersHandbook}
	DualCapacity = source.Factor{Name: "solids_capacity_dual_layer", What: "solids a mixed or dual layer bed takes in a run",
		Unit: "lb/ft2", Value: 0.5, Low: 0.5, High: 1, Kind: source.Published, From: engineersHandbook}
	SurfaceCapacity = source.Factor{Name: "solids_capacity_surface", What: "solids taken where they stay on the surface of the bed",
		Unit: "lb/ft2", Value: 0.125, Low: 0.125, High: 0.25, Kind: source.Published, From: engineersHandbook}
	MetalCapacity = source.Factor{Name: "solids_capacity_metal", What: "iron and manganese a bed takes in a run, as metal",
		Unit: "grains/ft2", Value: 500, Low: 500, High: 1000, Kind: source.CommonPractice, From: "trade loading, manganese greensand with anthracite cap"}
	TerminalLoss = source.Factor{Name: "bed_terminal_loss", What: "loss across a pressure filter at which it must be washed",
		Unit: "psi", Value: 8, Low: 8, High: 10, Kind: source.CommonPractice, From: "rule of the trade"}
	Freeboard = source.Factor{Name: "bed_freeboard", What: "free height over the bed as a share of its depth",
		Value: 0.5, Low: 0.4, High: 0.5, Kind: source.CommonPractice, From: "rule of the trade"}
	ValveBackwashCv = source.Factor{Name: "valve_backwash_cv", What: "flow coefficient of a 1 in control valve in backwash",
		Unit: "gpm/psi^0.5", Value: 4, Low: 3, High: 5, Kind: source.CommonPractice, From: "rule of the trade"}
	ValveServiceCv = source.Factor{Name: "valve_service_cv", What: "flow coefficient of a 1 in control valve in service",
		Unit: "gpm/psi^0.5", Value: 6, Low: 5, High: 7, Kind: source.CommonPractice, From: "rule of the trade"}
)

// DailySolids returns the solids that a day's water brings.
//
//	m = C r Q
//
//	C  metal, mg/L;  r  solids for each weight of metal;  Q  water in a day
//
// Source: mass balance.
func DailySolids(metal unit.Concentration, perMetal float64, daily unit.Flow) unit.Mass {
	return unit.G(metal.MgPerL() * perMetal * unit.Gal(daily.GalPerDay()).L() / 1000)
}

// RunDays returns the days between washes that a bed's capacity allows.
//
//	t = S A / m
//
//	S  capacity;  A  area;  m  solids in a day
//
// Range: m above zero; without solids the answer is +Inf and another rule
// governs. Error: that of the capacity, a factor of two. Source: mass balance.
func RunDays(capacity Solids, a unit.Area, daily unit.Mass) float64 {
	if daily.Lb() <= 0 {
		return math.Inf(1)
	}
	return capacity.LbPerFt2() * a.Ft2() / daily.Lb()
}
