package plan

import (
	"slices"
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

// Room is a room of the program with its factors.
type Room struct {
	ID, Words string
	Factors   []source.Factor
}

// Rooms returns every factor of the program by room.
func Rooms() []Room {
	return []Room{
		{"chem", "chemistry", chem.Factors()},
		{"hydraulic", "hydraulics", hydraulic.Factors()},
		{"water", "analytes and checks", water.Factors()},
		{"limits", "limits", limits.Factors()},
		{"media", "media and prices", media.Factors()},
		{"cost", "cost", cost.Factors()},
		{"rehab", "well work", rehab.Factors()},
		{"statistic", "statistics", statistic.Factors()},
		{"cloud", "what is believed of a water", cloud.Factors()},
		{"stage", "stages", stage.Factors()},
		{"train", "trains", train.Factors()},
		{"nexttest", "next test", nexttest.Factors()},
		{"plan", "choice and loss", slices.Concat(lossFactors(), companionFactors(), courseFactors(), Factors())},
	}
}

// Register is every factor of the program. A name used twice is a broken
// program, and panics.
var Register = sync.OnceValue(func() *source.Register {
	var all [][]source.Factor
	for _, r := range Rooms() {
		all = append(all, r.Factors)
	}
	r, err := source.NewRegister(all...)
	if err != nil {
		panic(err)
	}
	return r
})
