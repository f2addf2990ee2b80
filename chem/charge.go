package chem

// Charge is how far a water is from electroneutrality. Excess is the charge of
// its cations less that of its anions; Percent is that over the sum of both, and
// zero in a water without ions.
type Charge struct {
	Excess  Equivalents
	Percent float64
}

// Charge returns how much the water lacks electroneutrality, counted over every
// dissolved species: what a laboratory missed or misread, since a real water is
// neutral.
//
//	excess = Σ z c,  percent = 100 Σ z c / Σ |z| c
//
//	z  charge number of each species, ion pairs and H+, OH- with them
//	c  its amount
//
// Error: that of the analysis. The percentage is above that of [ChargeBalance]
// where ion pairs hide charge from the sum.
// Source: definition; the percentage as in Standard Methods 1030 E, taken over
// species (form published with USGS samples).
func (s State) Charge() Charge {
	net, sum := 0.0, 0.0
	for sp := range Species(nSpecies) {
		z := float64(sp.charge())
		c := s.amount(sp)
		net += z * c
		sum += max(z, -z) * c
	}
	if sum == 0 {
		return Charge{}
	}
	return Charge{MeqPerL(1000 * net), 100 * net / sum}
}
