package chem

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// Totals are the dissolved amounts of a water, each of every form together.
// Carbonate is not among them: it follows from alkalinity and pH. A zero means
// that the water holds none, not that nobody looked. IronIII is dissolved ferric
// iron only; floc takes no part.
type Totals struct {
	Temperature                 unit.Temperature
	Calcium, Magnesium          unit.Concentration
	Sodium, Potassium           unit.Concentration
	IronII, IronIII, Manganese  unit.Concentration
	Chloride, Sulfate, Fluoride unit.Concentration
	Silica                      unit.Concentration // as SiO2
	Ammonia, Nitrate            unit.Nitrogen
	Phosphate                   unit.Phosphorus
	Sulfide                     unit.Sulfide
}

// amounts are the totals in mol/L.
type amounts struct {
	master [nMasters]float64
	ligand [nLigands]float64
}

// amountsOf turns the totals into mol/L. Carbonate is left at zero.
func amountsOf(t *Totals) (a amounts) {
	mol := func(c unit.Concentration, mass float64) float64 { return c.MgPerL() / (mass * mgPerG) }
	a.master = [nMasters]float64{
		mCa: mol(t.Calcium, molCa), mMg: mol(t.Magnesium, molMg), mNa: mol(t.Sodium, molNa), mK: mol(t.Potassium, molK),
		mFe2: mol(t.IronII, molFe), mFe3: mol(t.IronIII, molFe), mMn: mol(t.Manganese, molMn),
		mNH4: t.Ammonia.MgPerLAsN() / (molN * mgPerG), mSi: mol(t.Silica, molSiO2),
		mHS: t.Sulfide.MgPerLAsH2S() / (molH2S * mgPerG), mNO3: t.Nitrate.MgPerLAsN() / (molN * mgPerG),
	}
	a.ligand = [nLigands]float64{
		lSO4: mol(t.Sulfate, molSO4), lCl: mol(t.Chloride, molCl), lF: mol(t.Fluoride, molF),
		lPO4: t.Phosphate.MgPerLAsP() / (molP * mgPerG),
	}
	return a
}

// check refuses temperatures outside the constants and amounts that cannot be.
func (t *Totals) check(a *amounts) error {
	if c := t.Temperature.Celsius(); !(c >= 0 && c <= 90) {
		return &RangeError{"speciation", "water temperature", c, "°C", 0, 90}
	}
	for i, v := range a.master {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("speciation: %s of %g mol/L is not an amount; want zero or more", freeNames[i], v)
		}
	}
	for i, v := range a.ligand {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("speciation: %s of %g mol/L is not an amount; want zero or more", freeNames[int(nMasters)+i], v)
		}
	}
	return nil
}

// IonicFromSums returns the ionic strength of a water with every ion free and
// all alkalinity as bicarbonate.
//
//	I = ½ Σ c z²
//
// Error: high by 7 % in hard water and a quarter in strong sulfate water, whose
// ion pairs carry less charge.
func IonicFromSums(t Totals, alk unit.Alkalinity) IonicStrength {
	a := amountsOf(&t)
	sum := math.Abs(eqPerL(alk))
	for i, v := range a.master {
		sum += v * float64(masterZ[i]*masterZ[i])
	}
	for i, v := range a.ligand {
		sum += v * float64(ligandZ[i]*ligandZ[i])
	}
	// Phosphate and sulfide are not at their full charge near neutral.
	sum += a.ligand[lPO4]*(2.5-9) - a.master[mHS]*0.5
	return IonicStrength{sum / 2}
}
