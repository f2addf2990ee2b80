package stage

import (
	"wellwright/media"
	"wellwright/source"
)

// Envelope checks the inlet water against the limits in print for the process,
// the caution and the refusal of each.
func Envelope(j *Job, p media.Process) []Limit {
	bounds := media.Envelope(p)
	ls := make([]Limit, 0, 2*len(bounds)+roomForMore)
	for _, e := range bounds {
		if e.Of == media.PHForManganese && j.In.TotalManganese().MgPerL() <= j.Site.Factors.Of(media.ManganeseTrace) {
			continue
		}
		ls = appendBound(ls, j, e)
	}
	return ls
}

// roomForMore is how many limits a stage mostly adds to those in print.
const roomForMore = 12

// appendBound checks one bound: the refusal first, then the caution.
func appendBound(ls []Limit, j *Job, e media.EnvelopeLimit) []Limit {
	have, times, unit := quantity(j, e.Of)
	if e.Refuse != nil {
		ls = append(ls, limitOf(j, e, *e.Refuse, have, times, unit))
	}
	if e.Caution != nil {
		l := limitOf(j, e, *e.Caution, have, times, unit)
		l.Soft = true
		l.Doubtful, l.Doubt = doubt(ls, e, l)
		if e.Of == media.PHForManganese {
			l.Doubt *= stainShare(j)
		}
		ls = append(ls, l)
	}
	return ls
}

func limitOf(j *Job, e media.EnvelopeLimit, f source.Factor, have, times float64, unit string) Limit {
	f = j.Site.Factors.In(f)
	return Limit{
		ID: e.ID, Have: have, Need: f.Value * times, Unit: unit, AtMost: !e.AtLeast,
		Say: e.Say, Kind: f.Kind, From: f.From,
	}
}

// stainShare is how much of a failure it is when manganese passes: nothing at the
// level that begins to stain, all of one at four times that.
func stainShare(j *Job) float64 {
	stain := j.Site.Factors.Of(media.ManganeseTrace)
	return min(1, max(0, (j.In.TotalManganese().MgPerL()-stain)/(3*stain)))
}

// doubtPH is how far beyond a pH caution without a refusal nobody promises any
// more: half a unit is a tenfold change of the oxidation rate by air. Judgement.
const doubtPH = 0.5

// slimeChance is the chance that slime reaches the stage: chlorine fed ahead
// keeps it down.
func slimeChance(j *Job) float64 {
	if j.Has(media.ChlorineFeed) && residual(j.In) {
		return 0
	}
	return j.In.Bacteria
}

// doubt is how far a quantity stands from its caution towards its refusal, which
// is the limit before it; without a refusal, towards twice the caution.
func doubt(before []Limit, e media.EnvelopeLimit, caution Limit) (doubtful bool, share float64) {
	end := 2 * caution.Need
	switch {
	case caution.Unit == "pH" && caution.AtMost:
		end = caution.Need + doubtPH
	case caution.Unit == "pH":
		end = caution.Need - doubtPH
	case !caution.AtMost:
		end = caution.Need / 2
	}
	if e.Refuse != nil {
		end = before[len(before)-1].Need
	}
	if end == caution.Need || !caution.Fails() {
		return false, 0
	}
	return true, min(1, max(0, (caution.Have-caution.Need)/(end-caution.Need)))
}

// quantity reads from the inlet water what an envelope speaks of, and what its
// limit is to be multiplied by: oxygen is asked for as a share of the iron.
func quantity(j *Job, q media.Quantity) (value, times float64, unit string) {
	w := j.In
	switch q {
	case media.TotalIron:
		return w.TotalIron().MgPerL(), 1, "mg/L"
	case media.Ferrous:
		return w.Ferrous.MgPerL(), 1, "mg/L"
	case media.ParticulateIron:
		return w.Particulate.MgPerL(), 1, "mg/L"
	case media.BoundIron:
		return w.Bound.MgPerL(), 1, "mg/L"
	case media.Manganese:
		return w.TotalManganese().MgPerL(), 1, "mg/L"
	case media.IronPlusManganese:
		return w.TotalIron().MgPerL() + w.TotalManganese().MgPerL(), 1, "mg/L"
	case media.Sulfide:
		return w.Sulfide.MgPerLAsH2S(), 1, "mg/L"
	case media.PH, media.PHForManganese:
		return w.PH.Value(), 1, "pH"
	case media.Oxygen:
		return w.Oxygen.MgPerL(), 1, "mg/L"
	case media.OxygenPerIron:
		return w.Oxygen.MgPerL(), w.TotalIron().MgPerL(), "mg/L"
	case media.FreeChlorine:
		return w.FreeChlorine.MgPerLAsCl2(), 1, "mg/L"
	case media.Permanganate:
		return w.Permanganate.MgPerL(), 1, "mg/L"
	case media.Peroxide:
		return w.Peroxide.MgPerL(), 1, "mg/L"
	case media.Polyphosphate:
		return w.Polyphosphate.MgPerL(), 1, "mg/L"
	case media.OrganicCarbon:
		return w.OrganicCarbon.MgPerL(), 1, "mg/L"
	case media.TemperatureF:
		return w.Temperature.Fahrenheit(), 1, "F"
	case media.Hardness:
		return w.Hardness().GPG(), 1, "gpg"
	case media.Alkalinity:
		return w.Alkalinity.MgPerLAsCaCO3(), 1, "mg/L as CaCO3"
	case media.AlkalinityOverSalts:
		return w.Alkalinity.MgPerLAsCaCO3() / max(w.Chloride.MgPerL()+w.Sulfate.MgPerL(), 1e-3), 1, "ratio"
	case media.IronPerHardness:
		return w.Ferrous.MgPerL() / max(w.Hardness().GPG(), 0.1), 1, "mg/L per gpg"
	case media.Silica:
		return w.Silica.MgPerL(), 1, "mg/L"
	case media.IronBacteria:
		return slimeChance(j), 1, "chance"
	case media.Solids, media.Turbidity: // a milligram of fine floc a litre scatters about one NTU
		return Solids(w), 1, "mg/L"
	}
	return 0, 1, ""
}
