package rehab

import (
	"fmt"

	"wellwright/unit"
)

// Form is how hypochlorite is sold.
type Form int

// The forms.
const (
	Liquid Form = iota // sodium hypochlorite; per cent on the label
	Dry                // calcium hypochlorite; per cent available chlorine
)

// Product is a hypochlorite fit for drinking water: plain, no scent, thickener
// or stabiliser.
type Product struct {
	Form    Form
	Percent float64
	Months  float64 // since it was made; liquid fades
}

// Products returns the strengths commonly sold.
func Products() []Product {
	return []Product{
		{Liquid, 5.25, 0}, {Liquid, 6, 0}, {Liquid, 8.25, 0}, {Liquid, 10, 0}, {Liquid, 12.5, 0},
		{Dry, 65, 0}, {Dry, 70, 0},
	}
}

// String names the product.
func (p Product) String() string {
	if p.Form == Dry {
		return fmt.Sprintf("dry calcium hypochlorite, %g %% available chlorine", p.Percent)
	}
	return fmt.Sprintf("sodium hypochlorite, %g %%", p.Percent)
}

// Amount is what a treatment takes of one product. Liquid is zero for a dry
// product and Mass for a liquid one.
type Amount struct {
	Product  Product
	Chlorine unit.Mass
	Liquid   unit.Volume
	Mass     unit.Mass
}

// ChlorineFor returns the chlorine that brings a volume to a dose.
//
//	m = C V   (lb = C V 8.34 with V in million gallons)
//
// Source: operator training form, Kirkpatrick Price, Applied math for water
// plant operators, ch. 8.
func ChlorineFor(v unit.Volume, dose unit.Chlorine) unit.Mass {
	return unit.G(dose.MgPerLAsCl2() * v.L() / 1000)
}

// gramsPerLPerPercent reads the label: per cent times ten is grams of available
// chlorine a litre, the rule of nearly all bulletins. Fresh household bleach
// holds 3 to 7 % more.
const gramsPerLPerPercent = 10.0

// fading is the share of its strength that liquid bleach keeps, by months since
// it was made; common practice, worse in heat and in the stronger grades.
var fading = []struct{ months, left float64 }{{0, 1}, {3, 0.9}, {6, 0.8}, {12, 0.5}}

// Left returns the share of its strength that the product still has.
//
// Range: to 12 months, cool and dark; past that the last value is held and the
// product should not be used. Error: large in heat. Source: common practice.
func (p Product) Left() float64 {
	if p.Form == Dry {
		return 1
	}
	for i := 1; i < len(fading); i++ {
		a, b := fading[i-1], fading[i]
		if p.Months <= b.months {
			return a.left + (b.left-a.left)*max(0, p.Months-a.months)/(b.months-a.months)
		}
	}
	return fading[len(fading)-1].left
}

// Strength returns the available chlorine of a liquid product, as Cl2.
//
//	s = 10 · per cent · share left   g/L
//
// Source: label rule of the extension bulletins; fading common practice.
func (p Product) Strength() unit.Concentration {
	return unit.GPerL(gramsPerLPerPercent * p.Percent * p.Left())
}

// Needed returns how much of the product brings a volume to a dose.
//
//	liquid  v = m / s
//	dry     M = 100 m / a
//
//	m  chlorine;  s  strength;  a  per cent available
//
// Range: liquid 1 to 20 %, dry 20 to 80 %. Error: that of the label, 10 %.
// Source: definition of available chlorine.
func (p Product) Needed(v unit.Volume, dose unit.Chlorine) (Amount, error) {
	low, high := 1.0, 20.0
	if p.Form == Dry {
		low, high = 20, 80
	}
	if !(p.Percent >= low && p.Percent <= high) {
		return Amount{}, fmt.Errorf("shock: %s: strength must be %g to %g %%", p, low, high)
	}
	a := Amount{Product: p, Chlorine: ChlorineFor(v, dose)}
	if p.Form == Dry {
		a.Mass = unit.G(a.Chlorine.G() * 100 / p.Percent)
	} else {
		a.Liquid = unit.L(a.Chlorine.G() / p.Strength().GPerL())
	}
	return a, nil
}

// DoseFrom returns the dose that an amount of liquid gives in a volume, such as
// the gallon that an owner poured in.
//
//	C = s v / V
//
// Source: mass balance.
func (p Product) DoseFrom(poured, v unit.Volume) unit.Chlorine {
	return unit.MgPerLAsCl2(p.Strength().MgPerL() * poured.L() / v.L())
}
