package hydraulic

import (
	"math"
	"strings"

	"wellwright/source"
	"wellwright/unit"
)

// Fixture is a water outlet in the busiest hour of the day: the chance that it
// is running, and its flow when it is.
type Fixture struct {
	Name string
	Busy float64
	Flow unit.Flow
}

// Group is a number of like fixtures.
type Group struct {
	Fixture Fixture
	Count   int
}

// The report that the chances and flows come from; its tables were not seen.
const peakStudy = "Buchberger, Omaghomi, Wolfe, Hewitt and Cole, 2017, Peak Water Demand Study, efficient fixtures (from memory, to be confirmed)"

var fixtureTable = []struct {
	name, id  string
	busy, gpm float64
}{
	{"bar sink", "bar_sink", 0.020, 1.5},
	{"bathtub", "bathtub", 0.010, 5.5},
	{"bidet", "bidet", 0.010, 2.0},
	{"clothes washer", "clothes_washer", 0.055, 3.5},
	{"bath and shower", "bath_shower", 0.055, 5.5},
	{"dishwasher", "dishwasher", 0.005, 1.3},
	{"kitchen faucet", "kitchen_faucet", 0.020, 2.2},
	{"laundry faucet", "laundry_faucet", 0.020, 2.0},
	{"lavatory faucet", "lavatory_faucet", 0.020, 1.5},
	{"shower head", "shower_head", 0.045, 2.0},
	{"toilet", "toilet", 0.010, 3.0},
}

func busyFactor(i int) source.Factor {
	f := fixtureTable[i]
	return source.Factor{Name: "demand_" + f.id + "_busy", What: "chance that a " + f.name + " runs in the peak hour",
		Value: f.busy, Kind: source.FromMemory, From: peakStudy}
}

func flowFactor(i int) source.Factor {
	f := fixtureTable[i]
	return source.Factor{Name: "demand_" + f.id + "_flow", What: "flow of a running " + f.name,
		Unit: "gpm", Value: f.gpm, Kind: source.FromMemory, From: peakStudy}
}

// Fixtures returns the known fixtures as they stand in a set of factors.
func Fixtures(set source.Set) []Fixture {
	all := make([]Fixture, len(fixtureTable))
	for i, f := range fixtureTable {
		all[i] = Fixture{f.name, set.Of(busyFactor(i)), unit.GPM(set.Of(flowFactor(i)))}
	}
	return all
}

// everyday gives the table's name of a fixture that people call otherwise.
var everyday = map[string]string{
	"basin": "lavatory faucet", "lavatory": "lavatory faucet", "bathroom sink": "lavatory faucet",
	"bath": "bath and shower", "tub": "bathtub", "shower": "shower head",
	"kitchen sink": "kitchen faucet", "laundry sink": "laundry faucet", "laundry tub": "laundry faucet",
	"washing machine": "clothes washer", "wc": "toilet", "water closet": "toilet",
}

// FixtureNamed returns the fixture of a name, such as "toilet", or of what people
// call it every day, such as "washing machine".
func FixtureNamed(set source.Set, name string) (Fixture, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	if known, ok := everyday[name]; ok {
		name = known
	}
	for _, f := range Fixtures(set) {
		if f.Name == name {
			return f, true
		}
	}
	return Fixture{}, false
}

// HouseOf lists the fixtures of an ordinary house of so many bathrooms: a toilet
// and a lavatory faucet in each, half a bathroom too, a bath with shower in the
// first whole one and a shower in each that follows, and one kitchen faucet,
// dishwasher and clothes washer.
//
// Range: from half a bathroom up. Source: common practice.
func HouseOf(set source.Set, baths float64) []Group {
	rooms := int(math.Ceil(baths))
	count := map[string]int{
		"toilet": rooms, "lavatory faucet": rooms, "bath and shower": 1, "shower head": max(0, int(baths)-1),
		"kitchen faucet": 1, "dishwasher": 1, "clothes washer": 1,
	}
	var groups []Group
	for _, f := range Fixtures(set) {
		if n := count[f.Name]; n > 0 {
			groups = append(groups, Group{f, n})
		}
	}
	return groups
}
