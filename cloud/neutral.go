package cloud

import (
	"math"

	"wellwright/chem"
	"wellwright/source"
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

// close moves the ions of a water within their errors until its charge is nil.
//
//	least Σ (dx/s)²  with  Σ a dx = -net  gives  dx = -net a s² / Σ a² s²
//
//	a  charge of an ion, meq/mg;  s  its error, mg/L
//
// First go those that nobody measured; then sodium, potassium, chloride,
// sulfate and alkalinity, to hardnessHeld errors; calcium and magnesium, on
// which sizes hang and which are printed twice, last. Nothing goes below zero.
func (c *charges) close(set source.Set, n *numbers, b *[nProperties]belief, ferrous float64) {
	c.free(n, b, ferrous)
	limit := set.Of(hardnessHeld)
	c.share(n, b, ferrous, limit, sodium, potassium, chloride, sulfate, alkalinity)
	for range 20 {
		if math.Abs(c.net(n, ferrous)) < 1e-12 {
			return
		}
		c.share(n, b, ferrous, math.Inf(1), sodium, potassium, chloride, sulfate, alkalinity, calcium, magnesium)
	}
}

// free closes the charge on an ion that nobody measured: on alkalinity where all
// the metals are known, else on sodium or chloride, then sulfate.
func (c *charges) free(n *numbers, b *[nProperties]belief, ferrous float64) {
	order := []property{sodium, chloride, sulfate, alkalinity}
	if b[alkalinity].assumed && !b[sodium].assumed && !b[calcium].assumed && !b[magnesium].assumed {
		order = []property{alkalinity}
	}
	for _, p := range order {
		if !b[p].assumed {
			continue
		}
		least := math.Min(n[p], b[p].P05)
		n[p] = math.Max(least, n[p]-c.net(n, ferrous)/c.of[p])
	}
}

// share spreads the charge over ions by their errors, each moved by at most
// limit errors.
func (c *charges) share(n *numbers, b *[nProperties]belief, ferrous, limit float64, over ...property) {
	net, sum := c.net(n, ferrous), 0.0
	room := func(p property) float64 {
		if n[p] <= 0 && net*c.of[p] > 0 {
			return 0 // nothing left to take
		}
		return c.of[p] * c.of[p] * variance(n, b, p)
	}
	for _, p := range over {
		sum += room(p)
	}
	if sum == 0 {
		return
	}
	for _, p := range over {
		step := -net * c.of[p] * variance(n, b, p) / sum
		most := limit * math.Sqrt(variance(n, b, p))
		n[p] = math.Max(0, n[p]+math.Max(-most, math.Min(most, step)))
	}
}

// variance is the square of the error of an ion, never nil so that charge can
// always be closed.
func variance(n *numbers, b *[nProperties]belief, p property) float64 {
	s := math.Max(b[p].sd, 1e-3+0.01*n[p])
	return s * s
}
