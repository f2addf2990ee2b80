package hydraulic

import "wellwright/source"

// Factors returns every factor of this package.
func Factors() []source.Factor {
	all := []source.Factor{
		Atmosphere, PumpSlope,
		UsePerPerson, UsePerHouse, UsePerBedroom, SharedWellExisting, SharedWellProposed,
		HydroxidePerIron, DioxidePerManganese, SandCapacity, DualCapacity, SurfaceCapacity,
		MetalCapacity, TerminalLoss, Freeboard, ValveBackwashCv, ValveServiceCv,
	}
	all = append(all, baffles[:]...)
	all = append(all, endUseFactors()...)
	for i := range fixtureTable {
		all = append(all, busyFactor(i), flowFactor(i))
	}
	return all
}
