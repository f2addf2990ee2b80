package cloud

import (
	"math"

	"wellwright/chem"
	"wellwright/water"
)

// charges are the milliequivalents that one milligram of each property brings
// to the balance, cations positive.
type charges struct {
	of      numbers
	ferrous float64
}

// chargesOf reads the charges off the sums of package chem, which are straight
// lines in every amount: titrated to the alkalinity end point, carbonate,
// sulfide, silica and ammonia stand at their zero level, so that alkalinity
// carries them all and phosphate keeps one charge.
func chargesOf() (c charges) {
	for p := range property(nProperties) {
		var n numbers
		n[p] = 1
		c.of[p] = netOf(n.state(split{}, 0))
	}
	var n numbers
	c.ferrous = netOf(n.state(split{ferrous: 1}, 0))
	return c
}

// netOf is the charge of a state, cations less anions and alkalinity, meq/L.
func netOf(s water.State) float64 {
	t := s.Totals()
	return chem.CationSum(t, s.Alkalinity).MeqPerL() - chem.AnionSum(t, s.Alkalinity).MeqPerL()
}

// oneOf returns one equivalent of an analyte in its own unit.
func oneOf(a water.Analyte, unit string) float64 {
	got, err := water.Result{Analyte: a, Value: 1, Unit: unit}.Amount()
	if err != nil {
		return math.Inf(1) // carries no charge that can be counted
	}
	v, _ := got.Canonical()
	return v
}

// net is the charge of a water from its numbers, meq/L.
//
//	net = 2Ca + 2Mg + Na + K + 2Fe(II) + 2Mn(II) + NH4 - Cl - 2SO4 - NO3 - F - PO4 - Alk
//
// in moles of each total and equivalents of alkalinity. Source: the definition
// of alkalinity as the charge of strong ions (Stumm & Morgan, Aquatic
// Chemistry, from memory).
func (c *charges) net(n *numbers, ferrous float64) float64 {
	sum := c.ferrous * ferrous
	for i := range n {
		sum += c.of[i] * n[i]
	}
	return sum
}

// close lays what charge a water has on its sodium, or where that is used up on
// its chloride. Draws are neutral as they come; a season of iron, or a median
// taken of each ion alone, leaves a trace.
func (c *charges) close(n *numbers, ferrous float64) {
	gap := c.net(n, ferrous)
	if na := n[sodium] - gap/c.of[sodium]; na > 0.2*n[sodium] {
		n[sodium] = na
		return
	}
	if cl := n[chloride] - gap/c.of[chloride]; cl > 0 {
		n[chloride] = cl
		return
	}
	n[alkalinity] = math.Max(0, n[alkalinity]-gap/c.of[alkalinity])
}
