package water

import (
	"fmt"
	"math"

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
func hardnessOf(ca, mg float64) float64 { return massCaCO3 * (ca/massCa + mg/massMg) }

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
		f.SetAside, f.Ask = nil, "ask the laboratory to check calcium, magnesium and hardness"
	}
	c.add(f)
}

// calculatedSolids returns the dissolved solids a full analysis adds up to.
//
//	S = 0.6 Alk + Na + K + Ca + Mg + Cl + SO4 + SiO2 + NO3 + F
//
//	S  dissolved solids after drying, mg/L; all terms mg/L, Alk as CaCO3, NO3 as the ion
//
// Not ok unless alkalinity, Ca, Mg, Na, Cl and SO4 were measured.
// Error: 2 to 5 %. Source: Standard Methods 1030 E (from memory).
func (c *checker) calculatedSolids() (float64, bool) {
	alk, _, ok := c.report.Alkalinity()
	if !ok {
		return 0, false
	}
	sum := c.set.Of(alkalinityResidue) * alk.MgPerLAsCaCO3()
	for _, a := range []Analyte{Calcium, Magnesium, Sodium, Chloride, Sulfate} {
		v, ok := c.figure(a)
		if !ok {
			return 0, false
		}
		sum += v
	}
	for _, a := range []Analyte{Potassium, Silica, Fluoride} {
		v, _ := c.figure(a)
		sum += v
	}
	n, ok := c.figure(NitrateNitrite)
	if !ok {
		n, _ = c.figure(Nitrate)
	}
	return sum + n*massNO3/massN, true
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
		f.Ask = "have dissolved solids and the major ions checked"
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
		f.Verdict, f.Ask = Doubt, "read conductivity again on site"
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
	cations, anions := 100*b.Cations.meq/ec.v, 100*b.Anions.meq/ec.v
	off := 100 * max(math.Abs(cations-1), math.Abs(anions-1))
	f := Finding{ID: "ions_conductivity", Analyte: Conductivity, Value: off, Unit: "%", Kind: sumEC.Kind, From: sumEC.From, Place: res.Place}
	f.Say = fmt.Sprintf("100 x cations over conductivity %.2f, anions %.2f, usual 0.9 to 1.1", cations, anions)
	f.Verdict = c.departure(off)
	if f.Verdict == Doubt {
		f.Ask = "read conductivity again on site; it tells which sum is off"
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

// molar conductivities at 25 °C, uS/cm for each meq/L (from memory: CRC handbook
// and Standard Methods 2510), with the charge of the ion.
var conductances = map[Analyte]struct{ lambda, charge float64 }{
	Calcium: {59.5, 2}, Magnesium: {53.1, 2}, Hardness: {57, 2}, Sodium: {50.1, 1}, Potassium: {73.5, 1}, Ammonia: {73.5, 1},
	Iron: {54, 2}, Manganese: {53.5, 2}, PH: {349.8, 1}, Alkalinity: {44.5, 1}, Chloride: {76.4, 1}, Sulfate: {80, 2},
	Nitrate: {71.4, 1}, NitrateNitrite: {71.4, 1}, Nitrite: {71.8, 1}, Fluoride: {55.4, 1}, Bromide: {78.1, 1},
}

// ConductivityOf returns the conductivity at 25 °C that the ions of a balance make.
//
//	EC = EC0 y²,  EC0 = sum of m λ,  log y = -0.5 (√I/(1+√I) - 0.3 I)
//
//	EC  uS/cm
//	m   ion, meq/L
//	λ   its conductivity at infinite dilution, uS/cm for each meq/L
//	I   ionic strength, mol/L, all ions free
//
// All alkalinity counts as bicarbonate. Range: to about 2000 uS/cm.
// Error: 3 %. Source: Standard Methods 2510 (from memory).
func ConductivityOf(b Balance) unit.Conductivity {
	ec, ionic := 0.0, 0.0
	for _, parts := range [][]Part{b.CationParts, b.AnionParts} {
		for _, p := range parts {
			k := conductances[p.Analyte]
			ec += p.Charge.meq * k.lambda
			ionic += p.Charge.meq * k.charge / 2000
		}
	}
	root := math.Sqrt(ionic)
	y := math.Pow(10, -0.5*(root/(1+root)-0.3*ionic))
	return unit.USPerCm(ec * y * y)
}

// conductivityCalculated lays the conductivity read against that of the ions.
func (c *checker) conductivityCalculated() {
	b, ok := balanceOf(c.set, c.report, AtHalf)
	ec, res, okEC := c.amount(Conductivity, Unspecified)
	if !ok || !okEC || len(b.Missing) > 0 || ec.Sign != Exact {
		return
	}
	of := ConductivityOf(b).USPerCm()
	f := Finding{ID: "conductivity_calculated", Analyte: Conductivity, Value: of, Unit: "uS/cm", Kind: sumEC.Kind, From: "from memory: Standard Methods 2510", Place: res.Place}
	f.Say = fmt.Sprintf("conductivity %s read, %s uS/cm from the ions", mark(ec), unit.Digits(of))
	f.Verdict = c.departure(100 * math.Abs(ec.v/of-1))
	c.add(f)
}

// carbonateSpecies lays titrated carbonate and hydroxide against the pH.
func (c *checker) carbonateSpecies() {
	ph, _, ok := c.amount(PH, Unspecified)
	if !ok {
		return
	}
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
		if got.Sign != Below && got.v > 0 && ph.v < c.set.Of(s.least) {
			f.Verdict, f.SetAside = Doubt, []Result{place}
			f.Say += fmt.Sprintf(": there is none to titrate below pH %g", c.set.Of(s.least))
			f.Ask = "read pH and titrate alkalinity on site"
		}
		c.add(f)
	}
}
