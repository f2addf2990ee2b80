package stage

import (
	"wellwright/chem"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// Envelope checks the inlet water against the limits in print for the process,
// the caution and the refusal of each.
func Envelope(j *Job, p media.Process) []Limit {
	bounds := media.Envelope(p)
	ls := j.room(2*len(bounds) + roomForMore)
	for i := range bounds {
		e := &bounds[i]
		if e.Of == media.PHForManganese && totalManganese(&j.In) <= j.Site.Factors.Of(media.ManganeseTrace) {
			continue
		}
		ls = appendBound(ls, j, e)
	}
	return ls
}

// roomForMore is how many limits a stage mostly adds to those in print.
const roomForMore = 12

// appendBound checks one bound: the refusal first, then the caution.
func appendBound(ls []Limit, j *Job, e *media.EnvelopeLimit) []Limit {
	have, times, unit := quantity(j, e.Of)
	if e.Refuse != nil {
		ls = append(ls, Limit{ID: e.ID, Have: have, Unit: unit, AtMost: !e.AtLeast, Say: e.Say})
		ls[len(ls)-1].founded(j, e.Refuse, times)
	}
	if e.Caution != nil {
		ls = append(ls, Limit{ID: e.ID, Have: have, Unit: unit, AtMost: !e.AtLeast, Say: e.Say, Soft: true})
		l := &ls[len(ls)-1]
		l.founded(j, e.Caution, times)
		l.Doubtful, l.Doubt = doubt(ls[:len(ls)-1], e, l)
		if e.Of == media.PHForManganese {
			l.Doubt *= stainShare(j)
		}
	}
	return ls
}

// founded sets what the limit needs, a factor as it stands in the set, times over.
func (l *Limit) founded(j *Job, f *source.Factor, times float64) {
	in := j.Site.Factors.In(*f)
	l.Need, l.Kind, l.From = in.Value*times, in.Kind, in.From
}

// stainShare is how much of a failure it is when manganese passes: nothing at the
// level that begins to stain, all of one at four times that.
func stainShare(j *Job) float64 {
	stain := j.Site.Factors.Of(media.ManganeseTrace)
	return min(1, max(0, (totalManganese(&j.In)-stain)/(3*stain)))
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
func doubt(before []Limit, e *media.EnvelopeLimit, caution *Limit) (doubtful bool, share float64) {
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
	w := &j.In
	switch q {
	case media.TotalIron:
		return totalIron(w), 1, "mg/L"
	case media.Ferrous:
		return w.Ferrous.MgPerL(), 1, "mg/L"
	case media.ParticulateIron:
		return w.Particulate.MgPerL(), 1, "mg/L"
	case media.BoundIron:
		return w.Bound.MgPerL(), 1, "mg/L"
	case media.Manganese:
		return totalManganese(w), 1, "mg/L"
	case media.IronPlusManganese:
		return totalIron(w) + totalManganese(w), 1, "mg/L"
	case media.Sulfide:
		return w.Sulfide.MgPerLAsH2S(), 1, "mg/L"
	case media.PH, media.PHForManganese:
		return w.PH.Value(), 1, "pH"
	case media.Oxygen:
		return w.Oxygen.MgPerL(), 1, "mg/L"
	case media.OxygenPerIron:
		return w.Oxygen.MgPerL(), totalIron(w), "mg/L"
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
		return hardness(w).GPG(), 1, "gpg"
	case media.Alkalinity:
		return w.Alkalinity.MgPerLAsCaCO3(), 1, "mg/L as CaCO3"
	case media.AlkalinityOverSalts:
		return w.Alkalinity.MgPerLAsCaCO3() / max(w.Chloride.MgPerL()+w.Sulfate.MgPerL(), 1e-3), 1, "ratio"
	case media.IronPerHardness:
		return w.Ferrous.MgPerL() / max(hardness(w).GPG(), 0.1), 1, "mg/L per gpg"
	case media.Silica:
		return w.Silica.MgPerL(), 1, "mg/L"
	case media.IronBacteria:
		return slimeChance(j), 1, "chance"
	case media.Solids, media.Turbidity: // a milligram of fine floc a litre scatters about one NTU
		return solids(w), 1, "mg/L"
	}
	return 0, 1, ""
}

// The sums of a water, read where it lies: a state is large to copy for one sum.
func totalIron(w *water.State) float64 {
	return w.Ferrous.MgPerL() + w.Particulate.MgPerL() + w.Bound.MgPerL()
}

func totalManganese(w *water.State) float64 { return w.Manganese.MgPerL() + w.ManganeseOx.MgPerL() }

func hardness(w *water.State) unit.Hardness { return chem.HardnessOf(w.Calcium, w.Magnesium) }
