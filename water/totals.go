package water

import (
	"wellwright/chem"
	"wellwright/unit"
)

// Totals returns the dissolved ions of a report, for chem to speciate, with its
// alkalinity. Non-detects are at half their limit; what was not measured is none.
// Iron is the ferrous figure, else the dissolved, else the total. Full is false
// unless alkalinity, calcium, magnesium, sodium, chloride and sulfate were
// measured.
func Totals(r Report, t unit.Temperature) (all chem.Totals, alk unit.Alkalinity, full bool) {
	alk, _, full = r.Alkalinity()
	mass := func(a Analyte, major bool, fs ...Fraction) unit.Concentration {
		for _, f := range append(fs, Unspecified) {
			if got, ok := r.Amount(a, f); ok && got.Numeric() {
				return unit.MgPerL(got.value(AtHalf))
			}
		}
		full = full && !major
		return unit.MgPerL(0)
	}
	asN := func(a Analyte) unit.Nitrogen {
		n, _ := r.Amount(a, Unspecified)
		return unit.MgPerLAsN(n.value(AtHalf))
	}
	all = chem.Totals{
		Temperature: t,
		Calcium:     mass(Calcium, true), Magnesium: mass(Magnesium, true), Sodium: mass(Sodium, true), Potassium: mass(Potassium, false),
		IronII: mass(Iron, false, FerrousIron, Dissolved), Manganese: mass(Manganese, false, Dissolved),
		Chloride: mass(Chloride, true), Sulfate: mass(Sulfate, true), Fluoride: mass(Fluoride, false), Silica: mass(Silica, false),
		Ammonia: asN(Ammonia), Nitrate: asN(NitrateNitrite),
	}
	if all.Nitrate.MgPerLAsN() == 0 {
		all.Nitrate = asN(Nitrate)
	}
	p, _ := r.Amount(Phosphate, Unspecified)
	s, _ := r.Amount(Sulfide, Unspecified)
	all.Phosphate, all.Sulfide = unit.MgPerLAsP(p.value(AtHalf)), unit.MgPerLAsH2S(s.value(AtHalf))
	return all, alk, full
}
