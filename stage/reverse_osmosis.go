package stage

import (
	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// reverseOsmosis is a membrane unit at one kitchen tap. It acts on that tap
// alone and makes no limit of the house pass.
type reverseOsmosis struct{}

// The faults of reverse osmosis.
const (
	MembraneTorn Fault = "membrane_torn"
	MembraneOld  Fault = "membrane_old"
)

func (reverseOsmosis) ID() media.Process { return media.ReverseOsmosis }

func (reverseOsmosis) Sizes(j *Job) []Size {
	return []Size{{Label: "kitchen tap, 50 gal/day", Count: 1, Volume: unit.Gal(3)}}
}

func (reverseOsmosis) Run(j *Job, z Size) Outcome {
	set := j.Site.Factors
	out := j.permeate()
	o := Outcome{Out: out, Limits: Envelope(j, media.ReverseOsmosis)}
	press := set.In(membranePressure)
	o.Limits = append(o.Limits, Limit{ID: "feed_pressure", Have: j.Supply.CutIn.PSI(), Need: press.Value, Unit: "psi", Soft: true,
		Say: "low pressure: little water comes, and more salt with it; fit a small booster", Kind: press.Kind, From: press.From})
	o.Limits = j.withOutput(o.Limits)
	reject := set.Of(drunkPerDay) * set.Of(rejectRatio)
	o.Washes = []Wash{{Waste: WasteReject, Need: unit.GalPerDay(reject), Have: j.Peak, Minutes: minutesPerDay, Gallons: unit.Gal(reject), Days: 1, Vessels: 1}}
	o.Needs = Needs{Height: unit.Inches(20), Floor: unit.Ft2(2), NoFrost: true}
	if j.Lean {
		return o
	}
	o.AtPeak, o.Settings = out, Settings{VolumeGal: z.Volume.Gal()}
	j.settleOutput(o.Settings)
	o.Bill = cost.Bill{
		First:    []cost.Line{{Part: media.OsmosisUnit, Amount: 1, Why: "unit with its tap and tank"}, {Part: media.LabourHour, Amount: 2, Why: "fitting"}},
		Yearly:   []cost.Use{{Part: media.OsmosisFilters, PerYear: 1.5, Why: "filters each 6 to 12 months"}},
		Renewals: []cost.Renewal{{Part: media.OsmosisMembrane, Amount: 1, EveryYears: cost.Years{Low: 2, Mid: 3, High: 5}, Why: "membrane"}},
		Hours:    1,
	}
	o.Cautions = []string{
		"For arsenic or nitrate send a laboratory sample yearly: conductivity does not prove it.",
		"The reject goes to a drain with an air gap.",
	}
	o.WillNot = []string{
		"It treats one tap for drinking: not the showers, not the stains.",
		"It does not make water with coliform safe, and holds arsenic poorly that has not been oxidised.",
	}
	return o
}

// permeate is the water at the kitchen tap. Gases pass the membrane: carbon
// dioxide stays while alkalinity is held back, so that the pH falls.
func (j *Job) permeate() water.State {
	w := j.In
	if j.Fault == MembraneTorn || j.Fault == BypassOpen {
		return w
	}
	pass := func(c unit.Concentration, f source.Factor) unit.Concentration {
		return unit.MgPerL(c.MgPerL() * j.leaks(f))
	}
	w.Sodium, w.Potassium = pass(w.Sodium, holdsSodium), pass(w.Potassium, holdsSodium)
	w.Chloride, w.Silica, w.Fluoride = pass(w.Chloride, holdsSodium), pass(w.Silica, holdsFluoride), pass(w.Fluoride, holdsFluoride)
	for _, c := range []*unit.Concentration{&w.Calcium, &w.Magnesium, &w.Sulfate, &w.Ferrous, &w.Particulate, &w.Bound, &w.Manganese, &w.ManganeseOx, &w.Polyphosphate, &w.Solids, &w.Sulfur, &w.OrganicCarbon} {
		*c = pass(*c, holdsHardness)
	}
	w.Nitrate = unit.MgPerLAsN(w.Nitrate.MgPerLAsN() * j.leaks(holdsNitrate))
	w.Ammonia = unit.MgPerLAsN(w.Ammonia.MgPerLAsN() * j.leaks(holdsNitrate))
	w.Phosphate = unit.MgPerLAsP(w.Phosphate.MgPerLAsP() * j.leaks(holdsHardness))
	forms := j.arsenicForms(j.In)
	w.ArsenicV = pass(forms.V, holdsArsenate)
	w.Arsenic = unit.MgPerL(w.ArsenicV.MgPerL() + pass(forms.III, holdsArsenite).MgPerL())
	w.FreeChlorine, w.CombinedChlorine = unit.Chlorine{}, unit.Chlorine{} // its own carbon takes it
	c := j.conditions(j.In)
	carbonate := j.Site.Model.Carbonate(c.Temperature, c.Ionic)
	gas := carbonate.CO2(w.PH, w.Alkalinity)
	w.Alkalinity = unit.AlkalinityAsCaCO3(w.Alkalinity.MgPerLAsCaCO3() * j.leaks(holdsSodium))
	if gas.MgPerL() > 0 && w.Alkalinity.MgPerLAsCaCO3() > 0 {
		w.PH, _ = carbonate.WithCO2(w.Alkalinity, gas)
	}
	return w
}

// leaks is the share that passes, more through an old membrane.
func (j *Job) leaks(f source.Factor) float64 {
	l := 1 - j.Site.Factors.Of(f)/100
	if j.Fault == MembraneOld {
		l = min(1, l*oldMembrane)
	}
	return l
}

// oldMembrane is how many times more passes a membrane past its life. Kind:
// judgement.
const oldMembrane = 3

func (reverseOsmosis) Ways() []Way {
	return []Way{
		{MembraneTorn, "the membrane is torn or unseated", "conductivity at the tap near that of the feed", "renew the membrane and its seal"},
		{MembraneOld, "the membrane is old or fouled", "conductivity at the tap creeps up, the tank fills slowly", "renew the membrane; look at iron and chlorine in the feed"},
		{BypassOpen, "the tap is fed around the unit", "conductivity as the feed", "mend the pipes"},
	}
}

// membraneFactors are those of reverse osmosis.
var membraneFactors = []source.Factor{holdsSodium, holdsHardness, holdsNitrate, holdsArsenate, holdsArsenite, holdsFluoride, rejectRatio, drunkPerDay, membranePressure}

const membraneSheets = "household membrane data (from memory)"

var (
	holdsSodium = source.Factor{Name: "reverse_osmosis_sodium", What: "reverse osmosis: sodium, chloride and alkalinity held back", Unit: "%",
		Value: 92, Low: 90, High: 95, Kind: source.FromMemory, From: membraneSheets}
	holdsHardness = source.Factor{Name: "reverse_osmosis_hardness", What: "reverse osmosis: hardness, sulfate, iron and manganese held back", Unit: "%",
		Value: 96, Low: 94, High: 98, Kind: source.FromMemory, From: membraneSheets}
	holdsNitrate = source.Factor{Name: "reverse_osmosis_nitrate", What: "reverse osmosis: nitrate held back", Unit: "%",
		Value: 80, Low: 70, High: 90, Kind: source.FromMemory, From: membraneSheets}
	holdsArsenate = source.Factor{Name: "reverse_osmosis_arsenate", What: "reverse osmosis: arsenic held back once oxidised", Unit: "%",
		Value: 94, Low: 90, High: 98, Kind: source.FromMemory, From: membraneSheets}
	holdsArsenite = source.Factor{Name: "reverse_osmosis_arsenite", What: "reverse osmosis: arsenic held back that has not been oxidised", Unit: "%",
		Value: 55, Low: 40, High: 70, Kind: source.FromMemory, From: membraneSheets}
	holdsFluoride = source.Factor{Name: "reverse_osmosis_fluoride", What: "reverse osmosis: fluoride and silica held back", Unit: "%",
		Value: 89, Low: 85, High: 93, Kind: source.FromMemory, From: membraneSheets}
	rejectRatio = source.Factor{Name: "reverse_osmosis_reject", What: "reverse osmosis: reject for each gallon made", Unit: "gal/gal",
		Value: 3, Low: 2, High: 4, Kind: source.CommonPractice, From: "recovery 20 to 35 %"}
	drunkPerDay = source.Factor{Name: "reverse_osmosis_use", What: "reverse osmosis: water drawn at the kitchen tap", Unit: "gal/day",
		Value: 3, Low: 1, High: 5, Kind: source.CommonPractice, From: "reject of 5 to 15 gal/day at the usual recovery"}
	membranePressure = source.Factor{Name: "reverse_osmosis_pressure", What: "reverse osmosis: feed pressure below which a booster is wanted", Unit: "psi",
		Value: 45, Low: 40, High: 50, Kind: source.CommonPractice, From: "40 to 80 psi; boost below 45"}
)
