package water

import (
	"fmt"
	"math"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

// figure is a measured figure in the canonical unit, half its limit for a
// non-detect; not ok if it was not measured.
func (c *checker) figure(a Analyte) (float64, bool) {
	got, _, ok := c.amount(a, Unspecified)
	return got.value(AtHalf), ok
}

// hardness is that of calcium and magnesium, else as reported, mg/L as CaCO3.
func (c *checker) hardness() (float64, bool) {
	ca, okCa := c.figure(Calcium)
	mg, okMg := c.figure(Magnesium)
	if okCa && okMg {
		return hardnessOf(ca, mg), true
	}
	return c.figure(Hardness)
}

// hardnessOf is the hardness, mg/L as CaCO3, of calcium and magnesium in mg/L.
func hardnessOf(ca, mg float64) float64 {
	return chem.HardnessOf(unit.MgPerL(ca), unit.MgPerL(mg)).MgPerLAsCaCO3()
}

// HardnessParts splits a hardness into that which carbonate holds (temporary) and
// the rest (permanent).
//
//	carbonate = min(H, Alk),  permanent = H - carbonate
//
//	H, Alk  hardness and alkalinity, mg/L as CaCO3
//
// Source: definition; Davis, Water and Wastewater Engineering 2010, chapter 7.
func HardnessParts(h unit.Hardness, alk unit.Alkalinity) (carbonate, permanent unit.Hardness) {
	c := max(0, min(h.MgPerLAsCaCO3(), alk.MgPerLAsCaCO3()))
	return unit.HardnessAsCaCO3(c), unit.HardnessAsCaCO3(h.MgPerLAsCaCO3() - c)
}

// hardnessSum lays the printed hardness against calcium and magnesium.
func (c *checker) hardnessSum() {
	printed, res, ok := c.amount(Hardness, Unspecified)
	ca, okCa := c.figure(Calcium)
	mg, okMg := c.figure(Magnesium)
	if !ok || !okCa || !okMg || printed.Sign != Exact {
		return
	}
	sum := hardnessOf(ca, mg)
	allowed := max(c.set.Of(hardnessGap), c.set.Of(hardnessShare)/100*sum)
	f := Finding{ID: "hardness_sum", Analyte: Hardness, Value: sum, Unit: "mg/L as CaCO3", Kind: hardnessShare.Kind, From: hardnessShare.From, Place: res.Place}
	f.Say = fmt.Sprintf("hardness %s printed, %s mg/L as CaCO3 from calcium and magnesium", mark(printed), unit.Digits(sum))
	if math.Abs(printed.v-sum) <= allowed {
		c.add(f)
		return
	}
	f.Verdict, f.SetAside = Doubt, []Result{res}
	switch {
	case math.Abs(printed.v-hardnessOf(ca, 0)) <= max(1, c.set.Of(hardnessShare)/100*hardnessOf(ca, 0)):
		f.Say += ": the printed figure is calcium hardness only. Work with the sum"
	case math.Abs(printed.v-sum/unit.GPG(1).MgPerLAsCaCO3()) <= 0.5:
		f.Say += ": the printed figure is in grains a gallon. Work with the sum"
	default:
		f.Say += fmt.Sprintf(": they differ by %s. One of the three is wrong", unit.Digits(math.Abs(printed.v-sum)))
		f.SetAside, f.Ask = nil, "Ask the laboratory to check calcium, magnesium and hardness"
	}
	c.add(f)
}

// calculatedSolids returns the dissolved solids a full analysis adds up to, mg/L;
// not ok unless alkalinity, Ca, Mg, Na, Cl and SO4 were measured.
func (c *checker) calculatedSolids() (float64, bool) {
	t, alk, full := Totals(c.report, c.temperature())
	if !full {
		return 0, false
	}
	return chem.CalculatedTDS(t, alk).MgPerL(), true
}

// solidsSum lays measured dissolved solids against the sum of the ions.
func (c *checker) solidsSum() {
	measured, res, ok := c.amount(TDS, Unspecified)
	sum, full := c.calculatedSolids()
	if !ok || !full || sum <= 0 || measured.Sign != Exact {
		return
	}
	ratio := measured.v / sum
	f := Finding{ID: "solids_sum", Analyte: TDS, Value: ratio, Kind: solidsHigh.Kind, From: solidsHigh.From, Place: res.Place}
	f.Say = fmt.Sprintf("dissolved solids %s measured, %s mg/L from the ions: ratio %.2f, usual %g to %g", mark(measured), unit.Digits(sum), ratio, c.set.Of(solidsLow), c.set.Of(solidsHigh))
	far := c.set.Of(solidsFar) / 100
	switch {
	case ratio >= c.set.Of(solidsLow) && ratio <= c.set.Of(solidsHigh):
	case math.Abs(ratio-1) <= far:
		f.Verdict = Notice
	default:
		f.Verdict = Doubt
		f.Ask = "Have dissolved solids and the major ions checked"
	}
	c.add(f)
}

// solidsConductivity lays dissolved solids against conductivity.
func (c *checker) solidsConductivity() {
	solids, res, ok := c.amount(TDS, Unspecified)
	ec, _, okEC := c.amount(Conductivity, Unspecified)
	if !ok || !okEC || ec.v <= 0 || solids.Sign != Exact || ec.Sign != Exact {
		return
	}
	ratio := solids.v / ec.v
	f := Finding{ID: "solids_conductivity", Analyte: TDS, Value: ratio, Kind: solidsEC.Kind, From: solidsEC.From, Place: res.Place}
	low, high := c.set.Of(solidsEC), c.set.Of(solidsECHigh)
	f.Say = fmt.Sprintf("dissolved solids over conductivity %.2f, usual %g to %g", ratio, low, high)
	switch {
	case ratio >= low && ratio <= high:
	case ratio > high && ratio <= c.set.Of(solidsECFar):
		f.Verdict, f.Say = Notice, f.Say+"; sulfate waters run higher"
	default:
		f.Verdict, f.Ask = Doubt, "Read conductivity again on site"
	}
	c.add(f)
}

// ionsConductivity lays the sums of the ions against conductivity.
func (c *checker) ionsConductivity() {
	b, ok := balanceOf(c.set, c.report, AtHalf)
	ec, res, okEC := c.amount(Conductivity, Unspecified)
	if !ok || !okEC || len(b.Missing) > 0 || ec.Sign != Exact || ec.v <= 0 {
		return
	}
	cations, anions := 100*b.Cations.MeqPerL()/ec.v, 100*b.Anions.MeqPerL()/ec.v
	off := 100 * max(math.Abs(cations-1), math.Abs(anions-1))
	f := Finding{ID: "ions_conductivity", Analyte: Conductivity, Value: off, Unit: "%", Kind: sumEC.Kind, From: sumEC.From, Place: res.Place}
	f.Say = fmt.Sprintf("100 x cations over conductivity %.2f, anions %.2f, usual 0.9 to 1.1", cations, anions)
	f.Verdict = c.departure(off)
	if f.Verdict == Doubt {
		f.Ask = "Read conductivity again on site; it tells which sum is off"
	}
	c.add(f)
}

func (c *checker) departure(off float64) Verdict {
	switch {
	case off <= c.set.Of(sumEC):
		return OK
	case off <= c.set.Of(sumECFar):
		return Notice
	}
	return Doubt
}

// conductivityCalculated lays the conductivity read against that of the ions.
func (c *checker) conductivityCalculated() {
	t, alk, full := Totals(c.report, c.temperature())
	ec, res, okEC := c.amount(Conductivity, Unspecified)
	if !full || !okEC || ec.Sign != Exact {
		return
	}
	of := chem.CalculatedConductivity(t, alk).USPerCm()
	f := Finding{ID: "conductivity_calculated", Analyte: Conductivity, Value: of, Unit: "uS/cm", Kind: sumEC.Kind, From: "from memory: Standard Methods 2510", Place: res.Place}
	f.Say = fmt.Sprintf("conductivity %s read, %s uS/cm from the ions", mark(ec), unit.Digits(of))
	f.Verdict = c.departure(100 * math.Abs(ec.v/of-1))
	c.add(f)
}

// carbonateSpecies lays titrated carbonate and hydroxide against the pH. What
// passes is one finding; each that fails has its own.
func (c *checker) carbonateSpecies() {
	ph, _, ok := c.amount(PH, Unspecified)
	if !ok {
		return
	}
	var passed *Finding
	for _, s := range []struct {
		a     Analyte
		least source.Factor
	}{{Carbonate, carbonatePH}, {PAlkalinity, carbonatePH}, {Hydroxide, hydroxidePH}} {
		got, place, ok := c.amount(s.a, Unspecified)
		if !ok {
			continue
		}
		f := Finding{ID: "carbonate_species", Analyte: s.a, Value: got.v, Unit: s.a.Unit(), Kind: s.least.Kind, From: s.least.From, Place: place.Place}
		f.Say = fmt.Sprintf("%s %s at pH %s", s.a.Name(), mark(got), mark(ph))
		switch {
		case got.Sign != Below && got.v > 0 && ph.v < c.set.Of(s.least):
			f.Verdict, f.SetAside = Doubt, []Result{place}
			f.Say += fmt.Sprintf(": there is none to titrate below pH %g", c.set.Of(s.least))
			f.Ask = "Read pH and titrate alkalinity on site"
			c.add(f)
		case passed == nil:
			passed = &f
		default:
			passed.Say += ", " + f.Say
		}
	}
	if passed != nil {
		c.add(*passed)
	}
}
