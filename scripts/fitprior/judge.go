package main

import "math"

// moment is a judged median, in the unit of the coordinate, and a standard
// deviation of the coordinate.
type moment struct{ median, sd float64 }

// judged are the moments used where the public files hold too little: fewer than
// leastWells wells with a detection, or detections in fewer than leastDetected
// of the wells. Kind: judgement, by the classes' meaning and the limits of
// detection in the files.
var judged = [classes]map[int]moment{
	oxic: {atSilica: {14, 0.5}, atAmmonia: {0.02, 1.0}, atArsenic: {0.0006, 1.0}, atCarbon: {0.6, 0.7},
		atOxygen: {5, 0.6}, atSulfide: {0.003, 1.0}},
	mixed:    {atSilica: {14, 0.5}, atCarbon: {0.8, 0.7}, atOxygen: {0.7, 1.0}, atSulfide: {0.005, 1.0}},
	reduced:  {atSilica: {15, 0.5}, atCarbon: {0.9, 0.7}, atOxygen: {0.2, 0.9}, atSulfide: {0.01, 1.1}},
	sulfidic: {atNitrate: {0.03, 1.2}, atSilica: {14, 0.5}, atPhosphate: {0.03, 1.0}, atArsenic: {0.0008, 1.0}, atCarbon: {1.5, 0.7}, atOxygen: {0.08, 0.9}, atSulfide: {0.5, 1.2}},
	acid: {atTemperature: {12, 3}, atPH: {6.0, 0.4}, atAlkalinity: {25, 0.7}, atCalcium: {9, 0.8}, atMagnesium: {3, 0.8},
		atSodium: {8, 0.8}, atPotassium: {1.8, 0.6}, atChloride: {9, 1.0}, atSulfate: {9, 0.9}, atNitrate: {0.8, 1.5},
		atFluoride: {0.07, 0.6}, atSilica: {14, 0.5}, atPhosphate: {0.02, 1.0}, atAmmonia: {0.03, 1.0}, atIron: {0.3, 1.6},
		atManganese: {0.04, 1.3}, atArsenic: {0.0005, 1.0}, atCarbon: {1.0, 0.7}, atOxygen: {3, 1.0}, atSulfide: {0.003, 1.0}},
}

// Rules of judgement.
const (
	leastWells    = 4    // with a detection, for a moment of the joint fit to stand
	leastAlone    = 6    // the same where a coordinate is fitted by itself
	leastDetected = 0.15 // of the wells where it was looked for
	priorWells    = 20   // that draw a covariance to the pooled one, and the pooled one to its diagonal
	meanWells     = 10   // that draw the mean of an ion to that of all wells
	widen         = 1.3  // public supplies of one State are narrower than household wells everywhere
	acidShare     = 0.12 // of all wells; the limestone country of the files has none
	worstCond     = 1e4  // of a correlation matrix
	leastLoosen   = 0.02 // by which every correlation is loosened at least
)

// rock are the coordinates that the rock sets rather than redox. Their means in
// a class of few wells are those of one aquifer, so they are drawn to all wells.
var rock = map[int]bool{atTemperature: true, atPH: true, atAlkalinity: true, atCalcium: true, atMagnesium: true, atSodium: true,
	atPotassium: true, atChloride: true, atSulfate: true, atFluoride: true}

// tally counts the wells of a group, by weight, in which a coordinate was
// detected and in which it was looked for.
func tally(group []sheet, i int) (detected, looked float64) {
	for _, s := range group {
		switch s.mark[i] {
		case exact:
			detected += s.weight
			looked += s.weight
		case below:
			looked += s.weight
		}
	}
	return detected, looked
}

// holds reports whether the files carry a moment of the coordinate.
func holds(group []sheet, i int) bool {
	detected, looked := tally(group, i)
	least := float64(leastWells)
	if i == atSilica || i == atOxygen {
		least = leastAlone
	}
	return detected >= least && detected >= leastDetected*looked
}

// spread widens a fitted standard deviation and keeps it above its floor. Oxygen
// is not widened: saturation bounds it everywhere alike.
func spread(i int, sd float64) float64 {
	if !coordinates[i].linear && i != atOxygen {
		sd *= widen
	}
	return math.Max(sd, coordinates[i].floor)
}
