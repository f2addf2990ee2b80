package rehab

import (
	"errors"
	"math"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

// Vinegar and the pH that a shock is held in.
var (
	VinegarStrength = source.Factor{Name: "shock_vinegar_strength", What: "acetic acid in white vinegar",
		Unit: "g/L", Value: 50, Low: 40, High: 50, Kind: source.CommonPractice, From: "label of 5 %"}
	BestPH = source.Factor{Name: "shock_best_ph", What: "pH to bring the well to before chlorine",
		Value: 7, Low: 6.5, High: 7.5, Kind: source.CommonPractice, From: "6.5 to 7.5 on a drilling contractor's page and in the trade"}
	LeastPH = source.Factor{Name: "shock_least_ph", What: "pH at which to stop adding vinegar; below 5 chlorine gas comes off",
		Value: 6.5, Kind: source.Published, From: "a drilling contractor's page on shock chlorination (limit of 5)"}
)

// Acidity is what chlorine does to the pH of a well and what vinegar undoes.
type Acidity struct {
	Raw           unit.PH
	AfterChlorine unit.PH // without vinegar; a lower bound, bleach holds some caustic
	AcidShare     float64 // of free chlorine that is hypochlorous acid, after chlorine, no vinegar
	SharedAtBest  float64 // the same at the best pH
	Vinegar       unit.Volume
	Needed        bool // pH after chlorine is above the upper end of the best range
}

// molar masses, g/mol, from atomic weights.
const (
	molCl2    = 70.906
	molAcetic = 60.052
)

// aceticPK is -log K of acetic acid at 25 °C; it moves by 0.02 from 5 to 25 °C
// (handbook value, from memory).
const aceticPK = 4.76

// ErrNoAlkalinity says that the pH of the shock cannot be worked out.
var ErrNoAlkalinity = errors.New("shock: pH after chlorine needs the pH, alkalinity and temperature of the raw water")

// AcidityOf works out the pH of a volume of water with chlorine in it, and the
// vinegar that brings it to the best pH. The vinegar goes in first, diluted and
// alone, never with the chlorine.
//
//	Alk(h, C) + [OCl-] + [Ac-] = Alk0 + n,  C fixed
//
//	n    hypochlorite added, mol/L;  C  total carbon, from raw pH and alkalinity
//	Alk  carbonate alkalinity at h;  OCl-, Ac-  what is not acid at this h
//
// Range: 2 to 30 °C, pH 5.5 to 9, closed to the air. Error: 0.2 in pH; the true
// pH is higher by the caustic in the bleach. Source: charge balance with the
// constants of package chem.
func AcidityOf(set source.Set, w Water, v unit.Volume, dose unit.Chlorine) (Acidity, error) {
	if w.PH == nil || w.Alkalinity == nil || w.Temperature == nil {
		return Acidity{}, ErrNoAlkalinity
	}
	m := chem.New(set)
	b := bath{model: m, t: *w.Temperature, alk: w.Alkalinity.MeqPerL() / 1000, added: dose.MgPerLAsCl2() / 1000 / molCl2}
	b.system = m.Carbonate(b.t, chem.IonicMolPerL(1.5*b.alk+b.added))
	b.carbon = b.system.Carbon(*w.PH, *w.Alkalinity)
	best := unit.PHOf(set.Of(BestPH))
	after := b.after(0)
	a := Acidity{
		Raw: *w.PH, AfterChlorine: after,
		AcidShare:    m.FreeAcidShare(b.t, after),
		SharedAtBest: m.FreeAcidShare(b.t, best),
	}
	_, _, upper := set.Range(BestPH)
	a.Needed = after.Value() > upper
	if after.Value() > best.Value() {
		a.Vinegar = unit.L(b.acidTo(best) * v.L() * molAcetic / set.Of(VinegarStrength))
	}
	return a, nil
}

// bath is a litre of the water under treatment.
type bath struct {
	model  *chem.Model
	system chem.Carbonate
	carbon chem.TotalCarbon
	t      unit.Temperature
	alk    float64 // eq/L of the raw water
	added  float64 // mol/L of hypochlorite
}

// loose is the charge of hypochlorite and acetate at a pH, eq/L.
func (b bath) loose(ph unit.PH, acid float64) float64 {
	return b.added*(1-b.model.FreeAcidShare(b.t, ph)) + acid/(1+math.Pow(10, aceticPK-ph.Value()))
}

// after finds the pH with some acetic acid, mol/L, by halving in the carbonate
// alkalinity.
func (b bath) after(acid float64) unit.PH {
	low, high := 0.0, b.alk+b.added
	var ph unit.PH
	for range 60 {
		mid := (low + high) / 2
		ph = b.system.PH(unit.AlkalinityMeq(mid*1000), b.carbon)
		if mid+b.loose(ph, acid) > b.alk+b.added {
			high = mid
		} else {
			low = mid
		}
	}
	return ph
}

// acidTo returns the acetic acid, mol/L, that brings the bath to a pH.
func (b bath) acidTo(want unit.PH) float64 {
	low, high := 0.0, b.alk+b.added
	for range 60 {
		mid := (low + high) / 2
		if b.system.PH(unit.AlkalinityMeq(mid*1000), b.carbon).Value() > want.Value() {
			high = mid
		} else {
			low = mid
		}
	}
	short := b.alk + b.added - low - b.loose(want, 0)
	return math.Max(0, short) * (1 + math.Pow(10, aceticPK-want.Value()))
}
