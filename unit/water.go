package unit

var temperatureUnits = dimension{
	what: "temperature", us: "F", metric: "C", low: -273.15,
	units: []measure{
		{name: "C", factor: 1, also: []string{"°C", "deg C", "degC", "celsius"}},
		{name: "F", factor: 5.0 / 9, offset: -32.0 * 5 / 9, also: []string{"°F", "deg F", "degF", "fahrenheit"}},
	},
}

// Temperature is the warmth of water.
type Temperature struct{ v float64 }

// Celsius makes a temperature from degrees Celsius.
func Celsius(v float64) Temperature { return Temperature{v} }

// Fahrenheit makes a temperature from degrees Fahrenheit.
func Fahrenheit(v float64) Temperature { return Temperature{(v - 32) * 5 / 9} }

// Celsius returns degrees Celsius.
func (q Temperature) Celsius() float64 { return q.v }

// Fahrenheit returns degrees Fahrenheit.
func (q Temperature) Fahrenheit() float64 { return q.v*9/5 + 32 }

// Kelvin returns the absolute temperature.
func (q Temperature) Kelvin() float64 { return q.v + 273.15 }

// In writes the temperature in the preferred unit of a system.
func (q Temperature) In(s System) string { return temperatureUnits.print(q.v, s) }

// String writes the temperature in US units.
func (q Temperature) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Temperature) UnmarshalText(b []byte) (err error) {
	q.v, err = temperatureUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same temperature.
func (q Temperature) MarshalText() ([]byte, error) { return temperatureUnits.exact(q.v) }

var phUnits = dimension{
	what: "pH", us: "", metric: "", low: -2,
	units: []measure{
		{name: "", factor: 1, also: []string{"pH", "std units", "standard units", "s.u.", "su", "none"}},
	},
}

// PH is the acidity of water, as a meter reads it.
type PH struct{ v float64 }

// PHOf makes a pH from pH units.
func PHOf(v float64) PH { return PH{v} }

// Value returns pH units.
func (q PH) Value() float64 { return q.v }

// In writes the pH in the preferred unit of a system.
func (q PH) In(s System) string { return phUnits.print(q.v, s) }

// String writes the pH in US units.
func (q PH) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *PH) UnmarshalText(b []byte) (err error) { q.v, err = phUnits.parse(string(b)); return err }

// MarshalText writes every digit in the base unit, so that reading gives the same pH.
func (q PH) MarshalText() ([]byte, error) { return phUnits.exact(q.v) }

var conductivityUnits = dimension{
	what: "conductivity", us: "uS/cm", metric: "uS/cm", low: 0,
	units: []measure{
		{name: "uS/cm", factor: 1, also: []string{"umho/cm", "umhos/cm", "us/cm @25c", "micros/cm"}},
		{name: "mS/cm", factor: 1000, also: []string{"ds/m"}},
	},
}

// Conductivity is electrical conductivity at 25 °C.
type Conductivity struct{ v float64 }

// USPerCm makes a conductivity from microsiemens a centimetre.
func USPerCm(v float64) Conductivity { return Conductivity{v} }

// USPerCm returns microsiemens a centimetre.
func (q Conductivity) USPerCm() float64 { return q.v }

// In writes the conductivity in the preferred unit of a system.
func (q Conductivity) In(s System) string { return conductivityUnits.print(q.v, s) }

// String writes the conductivity in US units.
func (q Conductivity) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Conductivity) UnmarshalText(b []byte) (err error) {
	q.v, err = conductivityUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same conductivity.
func (q Conductivity) MarshalText() ([]byte, error) { return conductivityUnits.exact(q.v) }

var turbidityUnits = dimension{
	what: "turbidity", us: "NTU", metric: "NTU", low: 0,
	units: []measure{
		{name: "NTU", factor: 1, also: []string{"ntru", "fnu"}},
	},
}

// Turbidity is cloudiness by scattered light.
type Turbidity struct{ v float64 }

// NTU makes a turbidity from nephelometric units.
func NTU(v float64) Turbidity { return Turbidity{v} }

// NTU returns nephelometric units.
func (q Turbidity) NTU() float64 { return q.v }

// In writes the turbidity in the preferred unit of a system.
func (q Turbidity) In(s System) string { return turbidityUnits.print(q.v, s) }

// String writes the turbidity in US units.
func (q Turbidity) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Turbidity) UnmarshalText(b []byte) (err error) {
	q.v, err = turbidityUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same turbidity.
func (q Turbidity) MarshalText() ([]byte, error) { return turbidityUnits.exact(q.v) }

var potentialUnits = dimension{
	what: "potential", us: "mV", metric: "mV", low: -1000000,
	units: []measure{
		{name: "mV", factor: 1, also: []string{"mv", "millivolts"}},
	},
}

// Potential is redox potential against the hydrogen electrode, unless its user says otherwise.
type Potential struct{ v float64 }

// MV makes a potential from millivolts.
func MV(v float64) Potential { return Potential{v} }

// MV returns millivolts.
func (q Potential) MV() float64 { return q.v }

// In writes the potential in the preferred unit of a system.
func (q Potential) In(s System) string { return potentialUnits.print(q.v, s) }

// String writes the potential in US units.
func (q Potential) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Potential) UnmarshalText(b []byte) (err error) {
	q.v, err = potentialUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same potential.
func (q Potential) MarshalText() ([]byte, error) { return potentialUnits.exact(q.v) }
