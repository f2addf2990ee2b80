package chem

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// poolOf turns a mix into mol/L.
func poolOf(x *Mix) pool {
	mol := func(c unit.Concentration, mass float64) float64 { return c.MgPerL() / (mass * mgPerG) }
	cl := func(c unit.Chlorine) float64 { return c.MgPerLAsCl2() / (molCl2 * mgPerG) }
	return pool{
		iFe: mol(x.IronII, molFe), iFeSolid: mol(x.IronSolid, molFe), iMn: mol(x.ManganeseII, molMn), iMnSolid: mol(x.ManganeseSolid, molMn),
		iO2: mol(x.Oxygen, molO2), iMnO4: mol(x.Permanganate, molKMnO4), iH2O2: mol(x.Peroxide, molH2O2),
		iCl: cl(x.FreeChlorine), iNCl: cl(x.CombinedChlorine),
		iN: x.Ammonia.MgPerLAsN() / (molN * mgPerG), iS: x.Sulfide.MgPerLAsH2S() / (molH2S * mgPerG),
		iSulfur: mol(x.SulfurSolid, molS), iSulfate: mol(x.SulfateMade, molSO4), iNitrogen: x.NitrogenMade.MgPerLAsN() / (molN * mgPerG),
		iCarbon: x.Carbon.molL, iTA: eqPerL(x.Alkalinity),
	}
}

// mixOf turns mol/L into a mix.
func mixOf(p *pool) Mix {
	mg := func(i int, mass float64) unit.Concentration { return unit.MgPerL(p[i] * mass * mgPerG) }
	cl := func(i int) unit.Chlorine { return unit.MgPerLAsCl2(p[i] * molCl2 * mgPerG) }
	nitrogen := func(i int) unit.Nitrogen { return unit.MgPerLAsN(p[i] * molN * mgPerG) }
	return Mix{
		IronII: mg(iFe, molFe), IronSolid: mg(iFeSolid, molFe), ManganeseII: mg(iMn, molMn), ManganeseSolid: mg(iMnSolid, molMn),
		Oxygen: mg(iO2, molO2), Permanganate: mg(iMnO4, molKMnO4), Peroxide: mg(iH2O2, molH2O2),
		FreeChlorine: cl(iCl), CombinedChlorine: cl(iNCl), Ammonia: nitrogen(iN),
		Sulfide: unit.MgPerLAsH2S(p[iS] * molH2S * mgPerG), SulfurSolid: mg(iSulfur, molS), SulfateMade: mg(iSulfate, molSO4),
		NitrogenMade: nitrogen(iNitrogen), Alkalinity: alkOf(p[iTA]), Carbon: TotalCarbon{p[iCarbon]},
	}
}

var amountNames = [nAmounts]string{"ferrous iron", "ferric floc", "manganese", "manganese dioxide", "oxygen", "permanganate", "peroxide",
	"free chlorine", "combined chlorine", "ammonia", "sulfide", "sulfur", "sulfate made", "nitrogen made", "carbon", "alkalinity"}

// checkReact refuses what cannot be.
func checkReact(p *pool, c *Conditions, v *Vessel) error {
	if t := c.Temperature.Celsius(); !(t >= 0 && t <= 40) {
		return &RangeError{"reactions", "water temperature", t, "°C", 0, 40}
	}
	if i := c.Ionic.molL; !(i >= 0 && i <= 0.5) {
		return &RangeError{"reactions", "ionic strength", i, "mol/L", 0, 0.5}
	}
	for i := range iTA {
		if !(p[i] >= 0) || math.IsInf(p[i], 0) {
			return fmt.Errorf("reactions: %s of %g mol/L is not an amount; want zero or more", amountNames[i], p[i])
		}
	}
	if math.IsNaN(p[iTA]) || math.IsInf(p[iTA], 0) {
		return fmt.Errorf("reactions: alkalinity of %g eq/L is not an amount", p[iTA])
	}
	if err := v.Bubbled.check(v.OxygenHeld); err != nil {
		return err
	}
	if v.Time < 0 || v.Tanks < 0 {
		return fmt.Errorf("reactions: vessel of %v in %d tanks; want zero or more of both", v.Time, v.Tanks)
	}
	if s := v.Surface; !(s.Ferric.MgPerL() >= 0) || !(s.ManganeseOxide.MgPerL() >= 0) || !(v.HeldOxygen.MgPerL() >= 0) {
		return fmt.Errorf("reactions: coatings of %g and %g mg/L with oxygen held at %g mg/L; want zero or more",
			s.Ferric.MgPerL(), s.ManganeseOxide.MgPerL(), v.HeldOxygen.MgPerL())
	}
	return nil
}
