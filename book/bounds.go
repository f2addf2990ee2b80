package book

import (
	"fmt"
	"math"
	"strconv"

	"wellwright/water"
)

// bound is the least and the most that a result may say, in the canonical unit
// of its analyte. Nothing in a book may lie outside it: a decimal point, a unit
// or a name has slipped.
type bound struct{ least, most float64 }

// none is the bound of what has none.
var none = bound{math.Inf(-1), math.Inf(1)}

// boundsOf are the bounds of single analytes, which go before those of their
// kind of quantity.
var boundsOf = map[water.Analyte]bound{
	// Judgement: household wells reach some tens of mg/L, and micrograms entered as
	// milligrams a thousand times that. Such a slip is taken in and explained; what
	// is beyond it is not iron in water.
	water.Iron: {0, 50_000},
	// Judgement: a few mg/L is much, and a thousand times that a slip of the unit.
	water.Manganese: {0, 5_000},
	// Physical for a well open to the air: the most that water holds under air at
	// 0 C is 14.6 mg/L (published: USGS tables of oxygen solubility; from memory),
	// doubled for air under the pressure of a tank.
	water.Oxygen: {0, 30},
}

// boundsBy are the bounds of kinds of quantity.
var boundsBy = map[water.Dimension]bound{
	// The scale of pH in water; figures beyond it are of strong acids and lyes.
	water.OfPH: {0, 14},
	// Physical: fresh water is ice below 0 C, and a probe may read a degree low.
	// The upper end is judgement: above it no household well is drawn, and no pipe
	// or medium known here would stand it.
	water.OfTemperature: {-1, 60},
	// Judgement, far beyond any well. Alkalinity below zero is free mineral acid;
	// there the same figure bounds it.
	water.OfAlkalinity: {-5_000, 5_000},
	// Judgement, far beyond any well: sea water has 6,600 mg/L as CaCO3 (from
	// memory), and no household drinks it.
	water.OfHardness: {0, 5_000},
	// Judgement, far beyond any well: sulfide kills long before.
	water.OfSulfide: {0, 100},
	// Judgement: three times sea water's 35,000 mg/L of solids and 50,000 uS/cm
	// (from memory). No single substance can be more than the solids they add up to.
	water.OfMass:         {0, maxSolids},
	water.OfNitrogen:     {0, maxSolids},
	water.OfPhosphorus:   {0, maxSolids},
	water.OfChlorine:     {0, maxSolids},
	water.OfConductivity: {0, 150_000},
	// Physical: water itself is torn apart below -830 and above 1,230 mV (standard
	// potentials; from memory), with room for the electrode the meter compares with.
	water.OfPotential: {-1_000, 1_500},
	// Physical: the most oxygen above, in warm water; only saturation is in percent.
	water.OfPercent: {0, 500},
	// Judgement, far beyond any well: mud, on which no turbidimeter reads.
	water.OfTurbidity: {0, 10_000},
}

// maxSolids is the most of any substance in a well's water, mg/L.
const maxSolids = 100_000

// Counts and radioactivity run over many powers of ten and have no bound, nor
// has what stands in neither table.
func boundOf(a water.Analyte) bound {
	if b, ok := boundsOf[a]; ok {
		return b
	}
	if b, ok := boundsBy[a.Dimension()]; ok {
		return b
	}
	return none
}

// oddPH is outside of what nearly every well has: such a reading is doubted, not
// refused, for mines and cement grout do make it. Judgement.
var oddPH = bound{4, 10}

// Possible returns an error if a result lies outside of what a well's water can
// be; the bounds are those of boundsOf and boundsBy, and each bound itself is
// still possible. A result that cannot be read as an amount passes here.
func Possible(r water.Result) error {
	a, err := r.Amount()
	if err != nil || !a.Numeric() {
		return nil
	}
	b := boundOf(r.Analyte)
	v, in := a.Canonical()
	if !b.beyond(v) {
		return nil
	}
	if r.Analyte.Dimension() == water.OfPH {
		in = "" // the name says it
	} else {
		in = " " + in
	}
	return fmt.Errorf("%s %s%s is outside %s to %s%s, all that a well's water can be", r.Analyte.Name(), figure(v), in, figure(b.least), figure(b.most), in)
}

// figure writes a figure whole, so that one just beyond a bound shows it.
func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// slack is the share by which a figure may pass its bound through the change of
// units alone.
const slack = 1e-9

func (b bound) beyond(v float64) bool {
	return v < b.least-slack*math.Abs(b.least) || v > b.most+slack*math.Abs(b.most)
}

// slipped ends the finding on a figure that cannot be.
const slipped = "look at the decimal point, the unit and the name; an entry that is sealed already is taken back by withdraw"

// possible says if a result cannot be.
func (r *reader) possible(v Value, res water.Result) bool {
	err := Possible(res)
	if err != nil {
		r.wrong(v, err.Error(), slipped)
		r.found[len(r.found)-1].TakeBack = true
	}
	return err == nil
}

// bounded is a field of a single figure of an analyte.
func bounded(f field, a water.Analyte) field {
	read := f.read
	f.read = func(r *reader, v Value, body any) bool {
		if !read(r, v, body) {
			return false
		}
		s, _ := r.text(v)
		figure, in := cutFigure(s)
		res, err := water.ParseResult(string(a), figure, in, water.Place{File: r.file, Line: v.Line})
		return err != nil || r.possible(v, res)
	}
	return f
}

// doubts are the notices on results that can be but hardly are.
func (b *Book) doubts(e Entry, rep water.Report) []Finding {
	var found []Finding
	for _, res := range rep.Results {
		a, err := res.Amount()
		if err != nil || res.Analyte != water.PH || !a.Numeric() {
			continue
		}
		if v, _ := a.Canonical(); oddPH.beyond(v) {
			f := b.at(e, fmt.Sprintf("pH %s is outside %g to %g, where nearly every well lies", figure(v), oddPH.least, oddPH.most), "calibrate the meter and read it again")
			f.Weight, f.Place = Notice, res.Place
			found = append(found, f)
		}
	}
	return found
}
