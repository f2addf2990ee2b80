package rehab

import (
	"math"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// PurgeVolumes is how many well volumes are pumped to waste.
var PurgeVolumes = source.Factor{
	Name: "shock_purge_volumes", What: "well volumes pumped to waste after the contact",
	Value: 3, Low: 3, High: 5, Kind: source.Published,
	From: "three in Kuo, Practical Design Calculations, example 2.23",
}

// Purge is the pumping to waste after the contact. Time is zero where the
// pump's flow is not known; Rest says that the well gives less than the pump
// takes and must be rested between runs for longer than it ran.
type Purge struct {
	Volume unit.Volume
	Time   time.Duration
	Rest   bool
}

// PurgeOf returns the water and the time of a purge. Its end is told by the
// strip, not by the clock: no chlorine and clear water.
//
//	V = n (well) + house,  t = V / min(pump, yield)
//
// Source: Kuo, Practical Design Calculations, example 2.23.
func PurgeOf(set source.Set, v Volumes, pump, yield *unit.Flow) Purge {
	p := Purge{Volume: unit.Gal(set.Of(PurgeVolumes)*v.Well().Gal() + v.House().Gal())}
	if pump == nil || pump.GPM() <= 0 {
		return p
	}
	rate := pump.GPM()
	if yield != nil && yield.GPM() > 0 && yield.GPM() < rate {
		rate, p.Rest = yield.GPM(), true
	}
	p.Time = time.Duration(math.Round(p.Volume.Gal()/rate)) * time.Minute
	return p
}

// Agent takes chlorine out of water before it is let go.
type Agent struct {
	Name   string
	Factor source.Factor // mass for each mass of chlorine
}

// Agents returns the agents in the order of preference for an owner.
func Agents() []Agent {
	return []Agent{
		{"ascorbic acid (vitamin C)", source.Factor{Name: "dechlorinate_ascorbic", What: "ascorbic acid for each weight of chlorine",
			Unit: "mg/mg", Value: 2.5, Kind: source.Derived, From: "molar masses 176.1 and 70.9"}},
		{"sodium sulfite", source.Factor{Name: "dechlorinate_sulfite", What: "sodium sulfite for each weight of chlorine",
			Unit: "mg/mg", Value: 1.8, Kind: source.Derived, From: "molar masses 126.0 and 70.9"}},
		{"sodium bisulfite", source.Factor{Name: "dechlorinate_bisulfite", What: "sodium bisulfite for each weight of chlorine",
			Unit: "mg/mg", Value: 1.5, Kind: source.Derived, From: "molar masses 104.1 and 70.9"}},
		{"sodium thiosulfate, crystals", source.Factor{Name: "dechlorinate_thiosulfate", What: "sodium thiosulfate pentahydrate for each weight of chlorine",
			Unit: "mg/mg", Value: 3, Low: 0.9, High: 7, Kind: source.CommonPractice, From: "0.9 to sulfate, 7 to tetrathionate; practice 2 to 3.5"}},
		{"hydrogen peroxide, as pure", source.Factor{Name: "dechlorinate_peroxide", What: "hydrogen peroxide for each weight of chlorine",
			Unit: "mg/mg", Value: 0.5, Kind: source.Derived, From: "molar masses 34.0 and 70.9"}},
	}
}

// AgentExcess is added to the reckoned agent.
var AgentExcess = source.Factor{
	Name: "dechlorinate_excess", What: "share added to the reckoned dechlorinating agent",
	Value: 0.1, Kind: source.CommonPractice, From: "rule of the trade",
}

// Quench returns the agent that takes the chlorine out of a volume, without the
// excess.
//
//	m = r C V
//
// Error: thiosulfate by a factor of three with pH. Source: stoichiometry.
func (a Agent) Quench(set source.Set, v unit.Volume, residual unit.Chlorine) unit.Mass {
	return unit.G(set.Of(a.Factor) * ChlorineFor(v, residual).G())
}

// DischargeChlorine is the residual at which water may be let go where no rule
// says otherwise.
var DischargeChlorine = source.Factor{
	Name: "dechlorinate_discharge", What: "chlorine below which purge water is let go; the State's rule decides",
	Unit: "mg/L", Value: 0.1, Kind: source.CommonPractice, From: "rule of the trade",
}
