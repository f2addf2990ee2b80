package plan

import (
	"fmt"
	"math"

	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/water"
)

// chlorinated is a water that has had chlorine, as the estimate of trihalomethanes
// takes it.
type chlorinated struct {
	carbon  float64 // organic carbon, mg/L
	dose    float64 // chlorine, mg/L as Cl2
	bromide float64 // µg/L
	celsius float64
	ph      float64
	hours   float64
}

// trihalomethanesOf estimates the trihalomethanes of a chlorinated water, µg/L.
//
//	TTHM = 10^-1.385 · TOC^1.098 · Cl2^0.152 · Br^0.068 · T^0.609 · pH^1.601 · t^0.263
//
//	TOC  organic carbon, mg/L;  Cl2  dose, mg/L;  Br  bromide, µg/L
//	T    temperature, °C;  t  hours since the dose
//
// Range: TOC 1.2 to 10.6, dose 1.51 to 33.6, bromide 7 to 600, 15 to 25 °C, pH 6.5
// to 8.5, 2 to 168 h (from memory); false outside it. Error: a factor of two; it was
// fitted to untreated river and lake water, and iron and sulfide, which take part of
// the dose, are not in it.
// Source: US EPA 815-R-98-005 (1998), raw water, as the agency's treatment-plant
// model has it (coefficients read in a public copy of that program).
func trihalomethanesOf(w chlorinated) (float64, bool) {
	for _, in := range [...]struct{ v, low, high float64 }{
		{w.carbon, 1.2, 10.6}, {w.dose, 1.51, 33.6}, {w.bromide, 7, 600}, {w.celsius, 15, 25}, {w.ph, 6.5, 8.5}, {w.hours, 2, 168},
	} {
		if in.v < in.low || in.v > in.high {
			return 0, false
		}
	}
	return math.Pow(10, -1.385) * math.Pow(w.carbon, 1.098) * math.Pow(w.dose, 0.152) * math.Pow(w.bromide, 0.068) *
		math.Pow(w.celsius, 0.609) * math.Pow(w.ph, 1.601) * math.Pow(w.hours, 0.263), true
}

// trihalomethanes asks for a test where chlorine meets much organic matter, and
// gives what may be found where the estimate holds.
func (v voyage) trihalomethanes() []Companion {
	k, fed := v.find(0, media.ChlorineFeed)
	if !fed {
		return nil
	}
	in := v.into(k)
	from := v.d.factor("organic_carbon_with_chlorine")
	if in.OrganicCarbon.MgPerL() <= from {
		return nil
	}
	say := fmt.Sprintf("Chlorine meets %.1f mg/L of organic carbon (tested for above %.0f) and makes trihalomethanes and haloacetic acids. Test both once at the kitchen tap after some weeks of running.", in.OrganicCarbon.MgPerL(), from)
	guess := v.guessed(k, in)
	if guess == nil {
		say += " How much is not known: the water lies outside the estimate, or its ammonia keeps the chlorine from it."
	} else {
		say += fmt.Sprintf(" An estimate made for river water gives %.3f to %.3f mg/L; %s.", guess.P05, guess.P95, v.d.besideLimit(water.Trihalomethanes))
	}
	if _, carbon := v.find(k, media.CarbonFilter, media.CatalyticCarbonFilter); carbon {
		say += " Carbon behind it takes them for some months, not for its whole life."
	} else {
		say += " Carbon at the drinking tap, or resin ahead of the chlorine that takes the organic matter."
	}
	return []Companion{{"trihalomethanes", say, guess, "mg/L", source.Published, "US EPA 815-R-98-005, raw water, 15 to 25 °C, 2 to 24 h, bromide 7 to 600 µg/L; trigger: water-works practice (from memory)"}}
}

// guessed is the estimate from the least to the most that time, warmth and bromide,
// which nobody measured, allow in a house; nil outside its range.
func (v voyage) guessed(k int, in water.State) *Range {
	out := v.at(k).Out
	if out.CombinedChlorine.MgPerLAsCl2() > out.FreeChlorine.MgPerLAsCl2() {
		return nil // chloramine makes few
	}
	set := v.d.set
	at := func(of func(source.Factor) float64) (float64, bool) {
		return trihalomethanesOf(chlorinated{
			carbon: in.OrganicCarbon.MgPerL(), dose: v.at(k).Settings[stage.DoseMgL], ph: out.PH.Value(),
			bromide: of(set.In(byProductBromide)), celsius: of(set.In(byProductWarmth)), hours: of(set.In(byProductHours)),
		})
	}
	low, ok := at(func(f source.Factor) float64 { return f.Low })
	mid, okMid := at(func(f source.Factor) float64 { return f.Value })
	high, okHigh := at(func(f source.Factor) float64 { return f.High })
	if !ok || !okMid || !okHigh {
		return nil
	}
	const mgPerUg = 1e-3
	return kept(Range{low * mgPerUg, mid * mgPerUg, high * mgPerUg})
}

// chloramine tells what ammonia makes of chlorine.
func (v voyage) chloramine() []Companion {
	k, fed := v.find(0, media.ChlorineFeed)
	if !fed {
		return nil
	}
	n := v.into(k).Ammonia.MgPerLAsN()
	if n <= v.d.set.Of(ammoniaTold) {
		return nil
	}
	combined := v.over(v.last(), func(_, out *water.State, _ *stage.Outcome) float64 { return out.CombinedChlorine.MgPerLAsCl2() })
	say := fmt.Sprintf("Ammonia, %.2f mg/L as N, takes up %.1f mg/L of the chlorine or more before a free residual shows.", n, n*v.draw.Supply.AmmoniaRatio)
	if left := v.at(k).Out.CombinedChlorine.MgPerLAsCl2(); left > traceChlorine {
		say += fmt.Sprintf(" Behind the feed %.1f mg/L of it are combined: that turns hardly any arsenic or manganese, and earns no credit against germs here.", left)
	} else {
		say += " Feed less and what a kit reads as total chlorine is combined, which turns hardly any arsenic or manganese and earns no credit against germs here: read free chlorine."
	}
	return []Companion{{"chloramine", say + v.credit(), combined, "mg/L as Cl2", source.FromMemory, "breakpoint practice, 7.6 to 10 mg of chlorine to the mg of nitrogen; arsenic: Ghurye and Clifford, EPA/600/R-01/021"}}
}

// credit is the contact that a tank earns against germs, with what is free, where
// the water asks for it.
func (v voyage) credit() string {
	k, stands := v.find(0, media.ContactTank)
	if !stands {
		return ""
	}
	for _, l := range v.at(k).Limits {
		if l.ID == "disinfection_ct" {
			return fmt.Sprintf(" The contact tank earns %.0f mg·min/L of credit with what is free, where four logs of viruses ask %.0f.", l.Have, l.Need)
		}
	}
	return ""
}

// traceChlorine is what no kit tells from none, mg/L: common practice.
const traceChlorine = 0.05

// nitrite tells of ammonia that bacteria half burn on a bed without chlorine.
func (v voyage) nitrite() []Companion {
	k, stands := v.find(0, media.CarbonFilter, media.CatalyticCarbonFilter, media.LightweightFilter, media.AirInjectionFilter)
	if !stands {
		return nil
	}
	n := v.over(k, func(_, out *water.State, _ *stage.Outcome) float64 { return out.Ammonia.MgPerLAsN() })
	if n.P50 <= v.d.set.Of(ammoniaTold) {
		return nil
	}
	return []Companion{{"nitrite", fmt.Sprintf("%.2f mg/L of ammonia as N reach the %s: bacteria on it may turn that to as much nitrite, and then to nitrate. Test nitrite behind it after 2 and 6 months; %s.",
		n.P50, v.e.Links[k].Process.Words(), v.d.besideLimit(water.Nitrite)), n, "mg/L as N", source.FromMemory, "nitrification in carbon and on beds; nitrogen for nitrogen"}}
}

// nitrateDump tells what a plain resin gives back when it runs past its meter.
func (v voyage) nitrateDump() []Companion {
	k, has := v.find(0, media.NitrateExchanger)
	if !has {
		return nil
	}
	in, gone := v.into(k).Nitrate.MgPerLAsN(), v.behind(lapse{stage: k, way: stage.AnionOverrun}, k).Nitrate.MgPerLAsN()
	if gone <= in {
		return nil
	}
	return []Companion{{"nitrate-dump", fmt.Sprintf("Run past its meter this resin gives nitrate back: %.1f mg/L as N then leave it, where %.1f come in. Nitrate-selective resin does not; test the outlet every 3 months.", gone, in),
		sole(gone), "mg/L as N", source.Derived, "the exchanger run past its meter; sulfate drives nitrate off plain resin (from memory)"}}
}

// manganeseBleeds tells what reaches the tap when the feed ahead of a
// manganese-oxide bed stops.
func (v voyage) manganeseBleeds() []Companion {
	f, fed := v.find(0, media.ChlorineFeed, media.PermanganateFeed)
	k, bed := v.find(f, media.GreensandFilter, media.CoatedSandFilter, media.ManganeseOreFilter)
	if !fed || !bed || v.into(f).TotalManganese().MgPerL() <= v.d.Work.Want.Manganese.MgPerL() {
		return nil
	}
	out := v.behind(lapse{stage: f, way: stage.FeedEmpty}, k).TotalManganese().MgPerL()
	say := fmt.Sprintf("If the feed stops or the residual is used up, manganese comes through the %s: %.2f mg/L behind it by forecast (%.2f in the raw water), and for a while more than comes in, as the bed gives up its own coat.", v.e.Links[k].Process.Words(), out, v.draw.Water.TotalManganese().MgPerL())
	if most := v.d.Work.Want.ManganeseHealth.MgPerL(); out > most {
		say += fmt.Sprintf(" That is above the health value of %g mg/L: infants' bottles wait until the residual is back and manganese was tested.", most)
	}
	return []Companion{{"manganese-bleeding", say, sole(out), "mg/L", source.Derived, "the train run with the feed empty; that the coat is stripped: literature on manganese-oxide media (second hand)"}}
}

// factor is the value of a factor of another room, the user's own first.
func (d *Desk) factor(name string) float64 {
	f, _ := Register().Find(name)
	return d.set.Of(f)
}

// besideLimit names the strictest limit of health of an analyte in force here.
func (d *Desk) besideLimit(a water.Analyte) string {
	for _, l := range d.Table.Of(a) {
		if l.Basis.Protects() && l.High != nil {
			return "the limit is " + l.String()
		}
	}
	return "no limit is set here"
}

var (
	byProductHours = source.Factor{Name: "by_product_hours", What: "time that chlorinated water stands in tank, pipes and heater, for the estimate of trihalomethanes", Unit: "h",
		Value: 8, Low: 2, High: 24, Kind: source.Judgement, From: "from the least of the estimate's range to a night and a day in the heater"}
	byProductWarmth = source.Factor{Name: "by_product_temperature", What: "temperature of chlorinated water in a house, for the estimate of trihalomethanes", Unit: "°C",
		Value: 20, Low: 15, High: 25, Kind: source.Judgement, From: "the estimate's range; a house warms cold well water to it, a heater beyond it"}
	byProductBromide = source.Factor{Name: "by_product_bromide", What: "bromide where nobody measured it, for the estimate of trihalomethanes", Unit: "ug/L",
		Value: 60, Low: 7, High: 600, Kind: source.Judgement, From: "the estimate's range and its middle on a scale of logarithms"}
	ammoniaTold = source.Factor{Name: "ammonia_told_from", What: "ammonia from which its companions of chlorine and of beds are spoken of", Unit: "mg/L as N",
		Value: 0.1, Low: 0.1, High: 0.3, Kind: source.Published, From: "Ontario practice (second hand): look for a source above 0.1; the trade plans tenfold chlorine above 0.3"}
)
