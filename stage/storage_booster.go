package stage

import (
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// storageBooster is a covered, vented tank filled from the well through a spray
// or diffuser on a float, with a booster pump behind it. It lends a weak well
// what a house and a backwash ask at once, and on the way gives the water air
// and a day to turn.
type storageBooster struct{}

func (storageBooster) ID() media.Process { return media.StorageBooster }

func (storageBooster) Sizes(j *Job) []Size { return storeSizes(j) }

func (storageBooster) Run(j *Job, z Size) Outcome {
	s := newStore(j, z)
	transfer := j.Site.Factors.Of(sprayTransfer)
	if j.Fault == SprayBlocked {
		transfer = faultSpray
	}
	o := s.outcome(media.StorageBooster)
	o.Limits = append(o.Limits, alkalinityLeft(j)...)
	in := j.aired(j.In, transfer)
	o.Out = s.stored(in, false)
	o.Out.Uncovered = true
	if j.Lean {
		return o
	}
	o.AtPeak = s.stored(in, true)
	o.AtPeak.Uncovered = true
	o.Cautions = append(storeCautions(), airedCautions(j)...)
	o.Cautions = append(o.Cautions, "Feed a little hypochlorite as it fills: stored water grows slime without a residual.")
	o.WillNot = []string{
		"It takes no iron out to count on: some floc settles and must be cleaned out yearly, the rest is for the filter.",
		"It does not mend the well: where the refill time grows, have the well looked at.",
	}
	return o
}

func (storageBooster) Ways() []Way {
	return append(storeWays(),
		Way{SprayBlocked, "the spray or diffuser is blocked, or the fill pipe stands under water", "little oxygen in the tank; iron still ferrous, pH not risen", "clean the nozzles; keep the fill above the water with an air gap"})
}

// faultSpray is the transfer left when the water falls in a solid stream. Kind:
// judgement.
const faultSpray = 0.1

var sprayTransfer = source.Factor{
	Name: "storage_spray_transfer", What: "share of the way to saturation that oxygen comes in the spray of a filling tank",
	Value: 0.7, Low: 0.5, High: 0.85, Kind: source.CommonPractice, From: "nozzles or a drilled pipe over the water",
}

// storeSizes are tanks from half a day's use up and the boosters from the
// house's peak up, cheapest first. A booster larger than the peak may be wanted
// by the wash of a bed behind it.
func storeSizes(j *Job) []Size {
	var zs []Size
	for _, v := range storeVolumes(j) {
		for _, b := range storeBoosters(j) {
			zs = append(zs, Size{Volume: v, Tanks: 1, Booster: b})
		}
	}
	return zs
}

// storeVolumes leaves out tanks below a third of a day and all but one above a
// day and a half.
func storeVolumes(j *Job) []unit.Volume {
	day := storeDay(j)
	var vs []unit.Volume
	all := media.StorageTankSizes()
	for i, v := range all {
		if v.Gal() < day/3 && i < len(all)-1 {
			continue
		}
		vs = append(vs, v)
		if v.Gal() > 1.5*day {
			break
		}
	}
	return vs
}

// boosterSizes are the flows of household booster pumps at 50 psi, gpm: common
// practice, no single source.
var boosterSizes = [...]float64{8, 10, 12, 15, 20}

// storeBoosters are the smallest booster for the peak and two larger ones, which
// the wash of a bed behind the store may need.
func storeBoosters(j *Job) []unit.Flow {
	first := len(boosterSizes) - 1
	for i, b := range boosterSizes {
		if b >= j.Peak.GPM()*(1-1e-9) {
			first = i
			break
		}
	}
	var fs []unit.Flow
	for _, b := range boosterSizes[first:min(first+3, len(boosterSizes))] {
		fs = append(fs, unit.GPM(b))
	}
	return fs
}

// washedBeds are the stages whose wash may ask more than the house does.
var washedBeds = []media.Process{
	media.SedimentFilter, media.AirInjectionFilter, media.GreensandFilter, media.CoatedSandFilter, media.LightweightFilter,
	media.ManganeseOreFilter, media.CopperZincFilter, media.CarbonFilter, media.CatalyticCarbonFilter,
	media.CalciteBed, media.MagnesiaBlendBed,
}
