package plan

import (
	"sync"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/hydraulic"
	"wellwright/limits"
	"wellwright/media"
	"wellwright/nexttest"
	"wellwright/rehab"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/statistic"
	"wellwright/train"
	"wellwright/water"
)

// Register is every factor of the program. A name used twice is a broken
// program, and panics.
var Register = sync.OnceValue(func() *source.Register {
	r, err := source.NewRegister(chem.Factors(), hydraulic.Factors(), water.Factors(), limits.Factors(), media.Factors(),
		cost.Factors(), rehab.Factors(), statistic.Factors(), cloud.Factors(), stage.Factors(), train.Factors(), nexttest.Factors(), lossFactors(), companionFactors(), courseFactors(), Factors())
	if err != nil {
		panic(err)
	}
	return r
})
