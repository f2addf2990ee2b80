package stage

import (
	"slices"

	"wellwright/source"
)

// Factors lists every factor of the stages; each file keeps its own list.
func Factors() []source.Factor {
	return slices.Concat(
		[]source.Factor{typicalShare},
		feedFactors, chlorineFactors, permanganateFactors, peroxideFactors, coagulantFactors,
		sodaAshFactors, polyphosphateFactors, alkalinityFactors,
		contactFactors, neutraliserFactors,
		aerationFactors, storageFactors,
		bedFactors, greensandFactors, airFactors, carbonFactors,
		softenerFactors, turnFactors, cartridgeFactors, lampFactors, membraneFactors,
		anionFactors, nitrateFactors, tanninFactors, adsorberFactors, radonFactors, ozoneFactors, membraneOutputFactors,
	)
}
