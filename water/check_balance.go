package water

import (
	"fmt"
	"math"
	"strings"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

// Part is what one ion brings to a balance.
type Part struct {
	Analyte Analyte
	Charge  chem.Equivalents
	Sign    Sign // Below: a non-detect stands behind it
}

// Balance is the sum of cations against that of anions.
type Balance struct {
	Cations, Anions chem.Equivalents
	Percent         float64 // error, (C - A)/(C + A) in percent
	Low, High       float64 // the same with non-detects at zero and at their limit, in order of size
	CationParts     []Part
	AnionParts      []Part
	Missing         []Analyte // major ions that were not measured
}

// Lacks reports whether major ion a was not measured.
func (b Balance) Lacks(a Analyte) bool {
	for _, m := range b.Missing {
		if m == a {
			return true
		}
	}
	return false
}

// Gap is the charge by which anions exceed cations; below zero the other way.
func (b Balance) Gap() chem.Equivalents {
	return chem.MeqPerL(b.Anions.MeqPerL() - b.Cations.MeqPerL())
}

// ChargeBalance sums the ions of a report in equivalents.
//
//	E = 100 (C - A) / (C + A)
//
//	E  error, %
//	C  cations: Ca, Mg, Na, K, and Fe(II), Mn, NH4 where above 0.02 meq/L, H+ below pH 4, meq/L
//	A  anions: alkalinity, Cl, SO4, F, Br, NO3, NO2, meq/L
//
// Alkalinity is taken in equivalents whole, so that carbonate and hydroxide are
// in it. Hardness stands in for calcium and magnesium that were not reported.
// Iron is the ferrous figure, else the dissolved, else the total, counted as
// Fe(II). Not ok if there is no cation or no anion at all.
//
// Range: pH 4 to 10. Error: that of the analyses.
// Source: Standard Methods 1030 E (from memory); the form with small ions is that
// of the ion balances of the USGS National Water Information System (published).
func ChargeBalance(r Report, nd NonDetect) (Balance, bool) { return balanceOf(source.Set{}, r, nd) }

func balanceOf(set source.Set, r Report, nd NonDetect) (Balance, bool) {
	b, ok := sumIons(set, r, nd)
	if !ok {
		return b, false
	}
	b.Low, b.High = b.Percent, b.Percent
	for _, n := range []NonDetect{AtZero, AtLimit} {
		if other, ok := sumIons(set, r, n); ok {
			b.Low, b.High = min(b.Low, other.Percent), max(b.High, other.Percent)
		}
	}
	return b, true
}

// AgencyBalance is the short form that some agencies print: Ca, Mg, Na and K
// against alkalinity, chloride and sulfate, non-detects at their limit. Not ok
// unless all seven were measured.
func AgencyBalance(r Report) (Balance, bool) {
	var b Balance
	for _, a := range []Analyte{Calcium, Magnesium, Sodium, Potassium} {
		b.cation(r, a, Unspecified, AtLimit, 0)
	}
	alk, _, ok := r.Alkalinity()
	if ok {
		b.AnionParts = append(b.AnionParts, Part{Analyte: Alkalinity, Charge: chem.MeqPerL(alk.MeqPerL())})
	}
	for _, a := range []Analyte{Chloride, Sulfate} {
		b.anion(r, a, AtLimit)
	}
	return b.summed(), len(b.CationParts) == 4 && len(b.AnionParts) == 3
}

func sumIons(set source.Set, r Report, nd NonDetect) (Balance, bool) {
	var b Balance
	b.hardIons(r, nd)
	if !b.cation(r, Sodium, Unspecified, nd, 0) {
		b.Missing = append(b.Missing, Sodium)
	}
	b.cation(r, Potassium, Unspecified, nd, 0)
	b.smallCations(set, r, nd)
	if alk, sign, ok := r.Alkalinity(); ok {
		c := alk.MeqPerL()
		if sign == Below {
			c = Amount{Analyte: Alkalinity, Sign: Below, v: c}.value(nd)
		}
		b.AnionParts = append(b.AnionParts, Part{Alkalinity, chem.MeqPerL(c), sign})
	} else {
		b.Missing = append(b.Missing, Alkalinity)
	}
	for _, a := range []Analyte{Chloride, Sulfate} {
		if !b.anion(r, a, nd) {
			b.Missing = append(b.Missing, a)
		}
	}
	b.anion(r, Fluoride, nd)
	b.anion(r, Bromide, nd)
	if !b.anion(r, NitrateNitrite, nd) {
		b.anion(r, Nitrate, nd)
		b.anion(r, Nitrite, nd)
	}
	majors := len(b.CationParts) > 0 && len(b.AnionParts) > 0
	b = b.summed()
	return b, majors && b.Cations.MeqPerL()+b.Anions.MeqPerL() > 0
}

// hardIons adds calcium and magnesium, or the hardness in their place.
func (b *Balance) hardIons(r Report, nd NonDetect) {
	ca := b.cation(r, Calcium, Unspecified, nd, 0)
	mg := b.cation(r, Magnesium, Unspecified, nd, 0)
	if ca && mg {
		return
	}
	if h, ok := r.Amount(Hardness, Unspecified); ok && h.Numeric() {
		b.CationParts = []Part{{Hardness, chem.MeqPerL(h.value(nd) / equivalentCaCO3), h.Sign}}
		return
	}
	if !ca {
		b.Missing = append(b.Missing, Calcium)
	}
	if !mg {
		b.Missing = append(b.Missing, Magnesium)
	}
}

// smallCations adds iron, manganese, ammonium and acid where they weigh.
func (b *Balance) smallCations(set source.Set, r Report, nd NonDetect) {
	least := set.Of(minorIon)
	_ = b.cation(r, Iron, FerrousIron, nd, least) || b.cation(r, Iron, Dissolved, nd, least) || b.cation(r, Iron, Unspecified, nd, least)
	_ = b.cation(r, Manganese, Dissolved, nd, least) || b.cation(r, Manganese, Unspecified, nd, least)
	b.cation(r, Ammonia, Unspecified, nd, least)
	if ph, ok := r.PH(); ok && ph.Value() < 4 {
		b.CationParts = append(b.CationParts, Part{Analyte: PH, Charge: chem.MeqPerL(1000 * math.Pow(10, -ph.Value()))})
	}
}

// cation adds an ion if it was measured and brings at least the given charge; it
// reports whether it was measured.
func (b *Balance) cation(r Report, a Analyte, f Fraction, nd NonDetect, least float64) bool {
	p, ok := part(r, a, f, nd)
	if ok && p.Charge.MeqPerL() >= least {
		b.CationParts = append(b.CationParts, p)
	}
	return ok
}

func (b *Balance) anion(r Report, a Analyte, nd NonDetect) bool {
	p, ok := part(r, a, Unspecified, nd)
	if ok {
		b.AnionParts = append(b.AnionParts, p)
	}
	return ok
}

func part(r Report, a Analyte, f Fraction, nd NonDetect) (Part, bool) {
	got, ok := r.Amount(a, f)
	if !ok || !got.Numeric() {
		return Part{}, false
	}
	e, _ := lookUp(a)
	return Part{a, chem.MeqPerL(got.value(nd) / e.equivalentMass()), got.Sign}, true
}

func (b Balance) summed() Balance {
	b.Cations, b.Anions = sumParts(b.CationParts), sumParts(b.AnionParts)
	b.Percent, _ = chem.ChargeBalance(b.Cations, b.Anions)
	return b
}

func sumParts(parts []Part) chem.Equivalents {
	sum := 0.0
	for _, p := range parts {
		sum += p.Charge.MeqPerL()
	}
	return chem.MeqPerL(sum)
}

// gapAs returns the gap as milligrams a litre of an ion.
func (b Balance) gapAs(a Analyte) float64 {
	e, _ := lookUp(a)
	return math.Abs(b.Gap().MeqPerL()) * e.equivalentMass()
}

// chargeBalance judges the balance, and says what is missing rather than call an
// incomplete analysis a bad one.
func (c *checker) chargeBalance() {
	b, ok := balanceOf(c.set, c.report, AtHalf)
	if !ok {
		return
	}
	f := Finding{ID: "charge_balance", Value: b.Percent, Unit: "%", Kind: balanceNotice.Kind, From: balanceNotice.From}
	sums := fmt.Sprintf("cations %s, anions %s meq/L, balance %+.1f %%%s", unit.Digits(b.Cations.MeqPerL()), unit.Digits(b.Anions.MeqPerL()), b.Percent, b.span())
	switch {
	case b.Lacks(Alkalinity):
		f.ID, f.Verdict = "alkalinity_missing", Doubt
		f.Say = "alkalinity missing: " + sums + ". The water is not speciated; this does not make it a bad analysis"
		f.Ask = "Ask for alkalinity, best read on site"
	case c.maySoftened(b):
		f.ID, f.Verdict = "softened_sample", Doubt
		f.Value, f.Unit = b.gapAs(Sodium), "mg/L sodium"
		f.Say = fmt.Sprintf("%s: the gap of %s meq/L is that of %s mg/L sodium, which was not reported, in very soft water: naturally soft, or a softened sample",
			sums, unit.Digits(b.Gap().MeqPerL()), unit.Digits(f.Value))
		f.Ask = "Sample the raw tap before any treatment, or have sodium measured"
	case b.excused():
		f.Verdict, f.Say, f.Ask = c.incomplete(b, sums)
	default:
		f.Verdict, f.Say = c.grade(b), sums
		if f.Verdict == Impossible {
			f.Say += ". Too far out to speciate the water"
			f.Ask = "Have the major ions measured again"
		}
	}
	c.add(f)
}

// span writes the balance at both bounds of the non-detects if they matter.
func (b Balance) span() string {
	if b.High-b.Low < 0.1 {
		return ""
	}
	return fmt.Sprintf(" (%+.1f to %+.1f with non-detects at none and at their limit)", b.Low, b.High)
}

// grade puts the error in its class. Equal to a bound belongs to the milder side.
// In dilute water a gap within the fixed allowance is at most noted.
func (c *checker) grade(b Balance) Verdict {
	e := math.Abs(b.Percent)
	dilute := b.Anions.MeqPerL() <= c.set.Of(diluteSum) && math.Abs(b.Gap().MeqPerL()) <= c.set.Of(diluteGap)
	switch {
	case e <= c.set.Of(balanceNotice):
		return OK
	case e <= c.set.Of(balanceDoubt) || dilute:
		return Notice
	case e <= c.set.Of(balanceRefuse):
		return Doubt
	}
	return Impossible
}

// maySoftened reports whether sodium is missing, anions are far above cations and
// the water is very soft.
func (c *checker) maySoftened(b Balance) bool {
	if !b.Lacks(Sodium) || b.Percent > -c.set.Of(balanceRefuse) || !c.report.Raw() {
		return false
	}
	return b.hardness() < c.set.Of(softWater) && !b.Lacks(Calcium) && !b.Lacks(Magnesium)
}

// hardness is that of the calcium and magnesium in the balance, mg/L as CaCO3.
func (b Balance) hardness() float64 {
	sum := 0.0
	for _, p := range b.CationParts {
		if p.Analyte == Calcium || p.Analyte == Magnesium || p.Analyte == Hardness {
			sum += p.Charge.MeqPerL() * equivalentCaCO3
		}
	}
	return sum
}

// excused reports whether a missing ion explains which way the balance leans.
func (b Balance) excused() bool {
	lacksCation := b.Lacks(Sodium) || b.Lacks(Calcium) || b.Lacks(Magnesium)
	lacksAnion := b.Lacks(Chloride) || b.Lacks(Sulfate)
	return lacksCation && b.Percent < 0 || lacksAnion && b.Percent > 0
}

// incomplete words a balance that leans the way its missing ions explain.
func (c *checker) incomplete(b Balance, sums string) (Verdict, string, string) {
	var names, would []string
	for _, m := range b.Missing {
		names = append(names, m.Name())
		if cation := m == Sodium || m == Calcium || m == Magnesium; cation == (b.Percent < 0) {
			would = append(would, fmt.Sprintf("%s mg/L %s", unit.Digits(b.gapAs(m)), m.Name()))
		}
	}
	missing := strings.Join(names, ", ")
	return Notice, fmt.Sprintf("%s missing: %s; the gap of %s meq/L would be %s", missing, sums,
		unit.Digits(math.Abs(b.Gap().MeqPerL())), strings.Join(would, " or ")), "Ask for " + missing
}

// softenedSodium doubts a sample said to be raw that is very soft and full of sodium.
func (c *checker) softenedSodium() {
	na, res, ok := c.amount(Sodium, Unspecified)
	hard, known := c.hardness()
	if !ok || !known || !c.report.Raw() || na.Sign == Below {
		return
	}
	f := Finding{ID: "softened_sodium", Verdict: OK, Value: na.v, Unit: "mg/L sodium", Analyte: Sodium, Kind: softSodium.Kind, From: softSodium.From, Place: res.Place}
	e, _ := lookUp(Sodium)
	ratio := c.set.Of(sodiumShare)
	if hard < c.set.Of(softWater) && na.v >= c.set.Of(softSodium) && na.v/e.equivalentMass() >= ratio*hard/equivalentCaCO3 {
		f.Verdict = Doubt
		f.Say = fmt.Sprintf("hardness %s mg/L as CaCO3 with sodium %s mg/L: naturally soft, or taken after a softener", unit.Digits(hard), unit.Digits(na.v))
		f.Ask = "Sample the raw tap before any treatment; a softener on by-pass counts"
	} else {
		f.Say = fmt.Sprintf("hardness %s mg/L as CaCO3 with sodium %s mg/L: no sign of a softener before the tap", unit.Digits(hard), unit.Digits(na.v))
	}
	c.add(f)
}
