package chem

// bufferStep is the base added and taken away to read the slope, eq/L: small
// beside any alkalinity, large beside what the solver leaves over.
const bufferStep = 1e-6

// BufferIntensity returns how much base a water takes up for each unit that its
// pH rises, closed to the air: the higher, the steadier its pH.
//
//	β = dAlk / dpH at constant total carbon
//
// The result is in meq/L for each unit of pH.
//
// Range: as [Model.AtCarbon]. Error: below 0.1 % as a slope; no solid forms.
// Source: Van Slyke, 1922, Journal of Biological Chemistry 52 (from memory).
func (s State) BufferIntensity() (Equivalents, error) {
	var ph [2]float64
	for i, step := range [2]float64{-bufferStep, bufferStep} {
		x, err := s.model.AtCarbon(s.totals, alkOf(s.alk+step), s.Carbon())
		if err != nil {
			return Equivalents{}, err
		}
		ph[i] = x.PH().Value()
	}
	return MeqPerL(1000 * 2 * bufferStep / (ph[1] - ph[0])), nil
}
