package unit

var flowUnits = dimension{
	what: "flow", us: "gpm", metric: "L/min", low: 0,
	units: []measure{
		{name: "gpm", factor: 1, also: []string{"gal/min", "us gpm", "gallons per minute"}},
		{name: "L/min", factor: galPerL, also: []string{"lpm", "litres per minute"}},
		{name: "L/s", factor: 60 * galPerL},
		{name: "m3/h", factor: gpmPerM3AnHour, also: []string{"m³/h"}},
		{name: "gal/day", factor: gpmPerGalADay, also: []string{"gpd"}},
		{name: "L/day", factor: galPerL / minutePerDay},
		{name: "mL/min", factor: galPerL / 1000},
	},
}

// Flow is volume of water per time.
type Flow struct{ v float64 }

// GPM makes a flow from gallons a minute.
func GPM(v float64) Flow { return Flow{v} }

// GPM returns gallons a minute.
func (q Flow) GPM() float64 { return q.v }

// LPerMin makes a flow from litres a minute.
func LPerMin(v float64) Flow { return Flow{v * galPerL} }

// LPerMin returns litres a minute.
func (q Flow) LPerMin() float64 { return q.v / galPerL }

// GalPerDay makes a flow from gallons a day.
func GalPerDay(v float64) Flow { return Flow{v * gpmPerGalADay} }

// GalPerDay returns gallons a day.
func (q Flow) GalPerDay() float64 { return q.v / gpmPerGalADay }

// M3PerHour makes a flow from cubic metres an hour.
func M3PerHour(v float64) Flow { return Flow{v * gpmPerM3AnHour} }

// M3PerHour returns cubic metres an hour.
func (q Flow) M3PerHour() float64 { return q.v / gpmPerM3AnHour }

// In writes the flow in the preferred unit of a system.
func (q Flow) In(s System) string { return flowUnits.print(q.v, s) }

// String writes the flow in US units.
func (q Flow) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Flow) UnmarshalText(b []byte) (err error) { q.v, err = flowUnits.parse(string(b)); return err }

// MarshalText writes every digit in the base unit, so that reading gives the same flow.
func (q Flow) MarshalText() ([]byte, error) { return flowUnits.exact(q.v) }

var loadingUnits = dimension{
	what: "loading", us: "gpm/ft2", metric: "m/h", low: 0,
	units: []measure{
		{name: "gpm/ft2", factor: 1, also: []string{"gpm/sq ft"}},
		{name: "m/h", factor: gpmPerM3AnHour * metrePerFoot * metrePerFoot},
	},
}

// Loading is water flow through a bed, for each unit of its area.
type Loading struct{ v float64 }

// GPMPerFt2 makes a loading from gallons a minute for each square foot.
func GPMPerFt2(v float64) Loading { return Loading{v} }

// GPMPerFt2 returns gallons a minute for each square foot.
func (q Loading) GPMPerFt2() float64 { return q.v }

// In writes the loading in the preferred unit of a system.
func (q Loading) In(s System) string { return loadingUnits.print(q.v, s) }

// String writes the loading in US units.
func (q Loading) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Loading) UnmarshalText(b []byte) (err error) {
	q.v, err = loadingUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same loading.
func (q Loading) MarshalText() ([]byte, error) { return loadingUnits.exact(q.v) }

var specificCapacityUnits = dimension{
	what: "specific capacity", us: "gpm/ft", metric: "L/min/m", low: 0,
	units: []measure{
		{name: "gpm/ft", factor: 1},
		{name: "L/min/m", factor: galPerL * metrePerFoot, also: []string{"L/min per m"}},
	},
}

// SpecificCapacity is flow a well gives for each foot of drawdown.
type SpecificCapacity struct{ v float64 }

// GPMPerFt makes a specific capacity from gallons a minute for each foot.
func GPMPerFt(v float64) SpecificCapacity { return SpecificCapacity{v} }

// GPMPerFt returns gallons a minute for each foot.
func (q SpecificCapacity) GPMPerFt() float64 { return q.v }

// In writes the specific capacity in the preferred unit of a system.
func (q SpecificCapacity) In(s System) string { return specificCapacityUnits.print(q.v, s) }

// String writes the specific capacity in US units.
func (q SpecificCapacity) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *SpecificCapacity) UnmarshalText(b []byte) (err error) {
	q.v, err = specificCapacityUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same specific capacity.
func (q SpecificCapacity) MarshalText() ([]byte, error) {
	return specificCapacityUnits.exact(q.v)
}
