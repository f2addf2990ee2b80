package hydraulic

import (
	"wellwright/source"
	"wellwright/unit"
)

// Code is a plumbing code with its own table of fixture units. Weights of one
// code must never be read on the curve of another: at the size of a house the
// curves differ by nearly two to one.
type Code int

// The codes.
const (
	IPC      Code = iota // International Plumbing Code, table E103.3(3)
	NSPC                 // National Standard Plumbing Code, as New Jersey B.5.4
	Illinois             // Illinois Plumbing Code, table N
)

// String names the code and its table.
func (c Code) String() string {
	return [...]string{
		"International Plumbing Code, table E103.3(3)",
		"National Standard Plumbing Code / New Jersey, table B.5.4",
		"Illinois Plumbing Code, 77 Ill. Adm. Code 890, table N",
	}[c]
}

// Kind tells how well a code's table is founded: the IPC table is partly from
// memory, though all its rows from 60 up agree with the Illinois print.
func (c Code) Kind() source.Kind {
	if c == IPC {
		return source.FromMemory
	}
	return source.Published
}

var flushTank = map[Code][]point{
	IPC: {{1, 3}, {2, 5}, {3, 6.5}, {4, 8}, {5, 9.4}, {6, 10.7}, {7, 11.8}, {8, 12.8}, {9, 13.7}, {10, 14.6},
		{11, 15.4}, {12, 16}, {13, 16.5}, {14, 17}, {15, 17.5}, {16, 18}, {17, 18.4}, {18, 18.8}, {19, 19.2}, {20, 19.6},
		{25, 21.5}, {30, 23.3}, {35, 24.9}, {40, 26.3}, {45, 27.7}, {50, 29.1}, {60, 32}, {70, 35}, {80, 38}, {90, 41},
		{100, 43.5}, {120, 48}, {140, 52.5}, {160, 57}, {180, 61}, {200, 65}, {250, 75}, {300, 85}, {400, 105},
		{500, 124}, {750, 170}, {1000, 208}},
	NSPC: {{3, 3}, {4, 4}, {5, 4.5}, {6, 5}, {7, 6}, {8, 7}, {9, 7.5}, {10, 8}, {11, 8.5}, {12, 9}, {13, 10}, {14, 10.5}},
	Illinois: {{2, 2}, {4, 3}, {6, 5}, {8, 6.5}, {10, 8}, {12, 9.2}, {14, 10.4}, {16, 11.6}, {20, 14}, {25, 17}, {30, 20},
		{35, 22.5}, {40, 25}, {45, 27}, {50, 29}, {60, 32}, {70, 35}, {80, 38}, {90, 41}, {100, 43.5}, {120, 48},
		{140, 52.5}, {160, 57}, {180, 61}, {200, 65}, {250, 75}, {300, 85}, {400, 105}, {500, 125}, {750, 170}, {1000, 208}},
}

// flushTankLarge is the far part of the NSPC table; the rows between 14 and 120
// were not seen and are not filled in.
var flushTankLarge = []point{{120, 49}, {140, 53}, {160, 57}, {180, 61}, {200, 65}, {250, 75}, {300, 85},
	{400, 105}, {500, 125}, {750, 170}, {1000, 210}}

var flushValve = map[Code][]point{
	IPC: {{5, 15}, {6, 17.4}, {7, 19.8}, {8, 22.2}, {9, 24.6}, {10, 27}, {11, 27.8}, {12, 28.6}, {13, 29.4}, {14, 30.2},
		{15, 31}, {20, 35}, {25, 38}, {30, 42}, {40, 46}, {50, 50}, {60, 54}, {80, 61.2}, {100, 67.5}, {120, 73},
		{140, 77}, {160, 81}, {180, 85.5}, {200, 90}, {225, 95.5}, {250, 101}, {300, 108}, {400, 127}, {500, 143},
		{750, 177}, {1000, 208}},
	NSPC: {{5, 22}, {6, 23}, {7, 24}, {8, 25}, {9, 26}, {10, 27}, {11, 28}, {12, 29}, {13, 29.5}, {14, 30}},
}

var flushValveLarge = []point{{120, 74}, {140, 78}, {160, 83}, {180, 87}, {200, 91}, {225, 95}, {250, 100}, {300, 110},
	{400, 125}, {500, 140}, {750, 175}, {1000, 210}}

// FlushTankPeak returns the peak flow a code's table gives for a number of
// supply fixture units in a house with flush tanks, on straight lines between
// rows. It is a cross-check, not a basis for sizing treatment.
//
// Range: that of the table. Error: the codes differ by two to one at house
// size. Source: the table that Code names.
func (c Code) FlushTankPeak(units float64) (unit.Flow, error) {
	return c.read(flushTank, flushTankLarge, units)
}

// FlushValvePeak is FlushTankPeak for a house with flush valves.
func (c Code) FlushValvePeak(units float64) (unit.Flow, error) {
	return c.read(flushValve, flushValveLarge, units)
}

func (c Code) read(tables map[Code][]point, large []point, units float64) (unit.Flow, error) {
	table := tables[c]
	if c == NSPC && units >= large[0].x {
		table = large
	}
	if len(table) == 0 {
		return unit.Flow{}, &RangeError{c.String(), "supply fixture units", units, 0, 0, "(no table seen)"}
	}
	low, high := table[0].x, table[len(table)-1].x
	if !(units >= low && units <= high) {
		return unit.Flow{}, &RangeError{c.String(), "supply fixture units", units, low, high, "units"}
	}
	return unit.GPM(between(table, units)), nil
}

// FixtureUnits returns the IPC's supply fixture units, private use, cold and
// hot together, of a fixture or a group; not ok if the name is not known.
//
// Source: International Plumbing Code, 2018, table E103.3(2).
func FixtureUnits(name string) (units float64, ok bool) {
	units, ok = map[string]float64{
		"bathroom group, flush tank": 3.6, "bathroom group, flush valve": 8, "bathtub": 1.4, "bath and shower": 1.4,
		"shower head": 1.4, "lavatory faucet": 0.7, "toilet": 2.2, "kitchen faucet": 1.4, "dishwasher": 1.4,
		"clothes washer": 1.4, "laundry faucet": 1.4, "bidet": 2, "combination fixture": 3, "service sink": 3,
	}[name]
	return units, ok
}
