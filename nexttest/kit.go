package nexttest

import (
	"math"
	"math/rand/v2"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// Test is one further test that could be made.
type Test struct {
	ID    string
	Words string     // what is done, in the words of the trade
	Price cost.Range // fee or reagents, and the time on site
	Days  float64    // until the result is known
	Parts []Part     // what is read
	Read  Reader
	Wants []Want // what its bottles are for; none if it is read on site
}

// Part is one figure that a test reads. A part without unit is yes (1) or no (0).
type Part struct{ Name, Unit string }

// Reader simulates one reading of a draw, part by part into got, with the error
// and the limit of detection of the method.
type Reader func(d *cloud.Draw, r *rand.Rand, got []float64)

// Demand is the oxidant that a plausible water takes up in its true state, mg/L
// as Cl2, KMnO4 or H2O2.
//
//	demand = a Fe + b Mn + (c + s (e − c)) S + k N + g x
//
//	Fe, Mn  ferrous iron and dissolved manganese, mg/L
//	S, s    sulfide as H2S, mg/L, and the share of it taken all the way to sulfate
//	N, k    ammonia as N, mg/L, and the chlorine it takes, mg/mg
//	x, g    organic matter and slime, mg/L as Cl2, and the oxidant that is worth one Cl2
//	a b c e of chlorine 0.635, 1.29, 2.08, 8.32: derived from the balanced reactions
//
// Range: draws of the cloud. Permanganate and peroxide leave ammonia alone and
// are taken to stop at sulfur. Error: none against the draw.
// Source: derived from atomic weights, see chem.Demand.
func Demand(o chem.Oxidant, d *cloud.Draw) unit.Concentration {
	per := func(t chem.Target) float64 {
		k, _ := chem.Demand(o, t)
		return k
	}
	w, s := &d.Water, &d.Supply
	like, _ := chem.Demand(chem.Hypochlorite, chem.IronII)
	sulfide, ammonia := per(chem.SulfideToSulfur), 0.0
	if o == chem.Hypochlorite {
		sulfide += s.SulfateShare * (per(chem.SulfideToSulfate) - sulfide)
		ammonia = s.AmmoniaRatio * w.Ammonia.MgPerLAsN()
	}
	return unit.MgPerL(per(chem.IronII)*w.Ferrous.MgPerL() + per(chem.ManganeseII)*w.Manganese.MgPerL() +
		sulfide*w.Sulfide.MgPerLAsH2S() + ammonia + per(chem.IronII)/like*s.ChlorineExtra.MgPerLAsCl2())
}

// kit makes readings with the factors of one well.
type kit struct{ set source.Set }

// method is an error and a limit of detection.
type method struct{ share, fixed, limit float64 }

// method joins the error of a reading with the swing of the seasons: a draw is
// what the water is to the plant, a reading that of one day.
func (k kit) method(share source.Factor, season string, limit source.Factor) method {
	return method{share: math.Hypot(k.set.Of(share), k.set.Of(borrowed("cloud_season_"+season))), limit: k.set.Of(limit)}
}

// afterAlum is the iron that passes a filter behind the best dose of alum in an
// aerated jar: what of the bound iron it leaves.
func (k kit) afterAlum(d *cloud.Draw) float64 {
	return k.set.Of(borrowed("cloud_jar_bound_coagulant")) * bound(d)
}

// alumMethod is the error of that reading, most of it in what alum takes.
func (k kit) alumMethod() method {
	low, mid, high := k.set.Range(borrowed("cloud_jar_bound_coagulant"))
	m := k.method(borrowed("cloud_error_field_kit"), "iron", limitKit)
	m.share = math.Hypot(m.share, (high-low)/(2*mid)/1.645)
	return m
}

// phMethod is the same for a reading of pH.
func (k kit) phMethod(fixed source.Factor) method {
	return method{fixed: math.Hypot(k.set.Of(fixed), k.set.Of(borrowed("cloud_season_ph")))}
}

// read is a value as the method gives it; below its limit all reads alike.
func (m method) read(v float64, r *rand.Rand) float64 {
	x := v + math.Hypot(m.share*v, m.fixed)*r.NormFloat64()
	if x < m.limit {
		return 0
	}
	return x
}

// look is a yes or no with two likelihood ratios: how many times likelier the
// thing is when it is found, and when it was looked for and not found.
type look struct{ there, not float64 } // chance of a yes, with the thing and without

// lookOf solves the two ratios for the chances.
//
//	LR+ = p/q,  LR− = (1−p)/(1−q)   so   q = (1 − LR−)/(LR+ − LR−),  p = LR+ q
//
// Source: definition of the likelihood ratios of a yes-or-no test.
func lookOf(seen, absent float64) look {
	q := (1 - absent) / (seen - absent)
	return look{there: seen * q, not: q}
}

func (k kit) look(name string) look {
	return lookOf(k.set.Of(borrowed("cloud_likelier_"+name)), k.set.Of(borrowed("cloud_likelier_"+name+"_absent")))
}

func (l look) read(there bool, r *rand.Rand) float64 {
	p := l.not
	if there {
		p = l.there
	}
	if r.Float64() < p {
		return 1
	}
	return 0
}

// present is whether a bottle of 100 mL shows a germ: of c on average in 100 mL
// it holds at least one with chance 1 − e^−c (Poisson).
func present(c unit.Count, r *rand.Rand) float64 {
	if r.Float64() < -math.Expm1(-c.Per100mL()) {
		return 1
	}
	return 0
}

// price is the fee with the time on site.
func (k kit) price(c charge, prices media.PriceList) cost.Range {
	feeLow, fee, feeHigh := k.set.Range(c.fee())
	_, minutes, _ := k.set.Range(c.time())
	hour, _ := prices.Of(media.LabourHour)
	time := func(cents int64) cost.Money { return cost.Cents(cents).Times(minutes / 60) }
	return cost.Range{Low: cost.USD(feeLow), Mid: cost.USD(fee), High: cost.USD(feeHigh)}.
		Add(cost.Range{Low: time(hour.Low), Mid: time(hour.Mid), High: time(hour.High)})
}
