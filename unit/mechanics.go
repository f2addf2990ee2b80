package unit

var pressureUnits = dimension{
	what: "pressure", us: "psi", metric: "kPa", low: -14.7,
	units: []measure{
		{name: "psi", factor: 1, also: []string{"psig"}},
		{name: "kPa", factor: 0.14503773773, also: []string{"kpa"}},
		{name: "bar", factor: 14.503773773},
		{name: "ft water", factor: 0.433097, also: []string{"ft of water"}},
		{name: "m water", factor: 1.4209, also: []string{"m of water"}},
	},
}

// Pressure is gauge pressure, unless its user says absolute.
type Pressure struct{ v float64 }

// PSI makes a pressure from pounds a square inch.
func PSI(v float64) Pressure { return Pressure{v} }

// PSI returns pounds a square inch.
func (q Pressure) PSI() float64 { return q.v }

// KPa makes a pressure from kilopascals.
func KPa(v float64) Pressure { return Pressure{v * 0.14503773773} }

// KPa returns kilopascals.
func (q Pressure) KPa() float64 { return q.v / 0.14503773773 }

// FtWater makes a pressure from feet of water at 60 °F.
func FtWater(v float64) Pressure { return Pressure{v * 0.433097} }

// FtWater returns feet of water at 60 °F.
func (q Pressure) FtWater() float64 { return q.v / 0.433097 }

// In writes the pressure in the preferred unit of a system.
func (q Pressure) In(s System) string { return pressureUnits.print(q.v, s) }

// String writes the pressure in US units.
func (q Pressure) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Pressure) UnmarshalText(b []byte) (err error) {
	q.v, err = pressureUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same pressure.
func (q Pressure) MarshalText() ([]byte, error) { return []byte(pressureUnits.exact(q.v)), nil }

var massUnits = dimension{
	what: "mass", us: "lb", metric: "kg", low: 0,
	units: []measure{
		{name: "lb", factor: 1, also: []string{"lbs", "pound", "pounds"}},
		{name: "kg", factor: 2.2046226218487757},
		{name: "g", factor: 0.002204622621848776, also: []string{"gram", "grams"}},
		{name: "mg", factor: 2.204622621848776e-06},
		{name: "oz", factor: 0.0625, also: []string{"ounce", "ounces"}},
		{name: "grains", factor: 0.00014285714285714287, also: []string{"grain", "gr"}},
	},
}

// Mass is a weight of salt, solids or chemical.
type Mass struct{ v float64 }

// Lb makes a mass from pounds.
func Lb(v float64) Mass { return Mass{v} }

// Lb returns pounds.
func (q Mass) Lb() float64 { return q.v }

// Kg makes a mass from kilograms.
func Kg(v float64) Mass { return Mass{v * 2.2046226218487757} }

// Kg returns kilograms.
func (q Mass) Kg() float64 { return q.v / 2.2046226218487757 }

// G makes a mass from grams.
func G(v float64) Mass { return Mass{v * 0.002204622621848776} }

// G returns grams.
func (q Mass) G() float64 { return q.v / 0.002204622621848776 }

// Grains makes a mass from grains.
func Grains(v float64) Mass { return Mass{v * 0.00014285714285714287} }

// Grains returns grains.
func (q Mass) Grains() float64 { return q.v / 0.00014285714285714287 }

// In writes the mass in the preferred unit of a system.
func (q Mass) In(s System) string { return massUnits.print(q.v, s) }

// String writes the mass in US units.
func (q Mass) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Mass) UnmarshalText(b []byte) (err error) { q.v, err = massUnits.parse(string(b)); return err }

// MarshalText writes every digit in the base unit, so that reading gives the same mass.
func (q Mass) MarshalText() ([]byte, error) { return []byte(massUnits.exact(q.v)), nil }

var powerUnits = dimension{
	what: "power", us: "hp", metric: "kW", low: 0,
	units: []measure{
		{name: "hp", factor: 1},
		{name: "kW", factor: 1.3410220888438076, also: []string{"kw"}},
		{name: "W", factor: 0.0013410220888438076},
	},
}

// Power is electrical or shaft power.
type Power struct{ v float64 }

// HP makes a power from horsepower.
func HP(v float64) Power { return Power{v} }

// HP returns horsepower.
func (q Power) HP() float64 { return q.v }

// KW makes a power from kilowatts.
func KW(v float64) Power { return Power{v * 1.3410220888438076} }

// KW returns kilowatts.
func (q Power) KW() float64 { return q.v / 1.3410220888438076 }

// In writes the power in the preferred unit of a system.
func (q Power) In(s System) string { return powerUnits.print(q.v, s) }

// String writes the power in US units.
func (q Power) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Power) UnmarshalText(b []byte) (err error) {
	q.v, err = powerUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same power.
func (q Power) MarshalText() ([]byte, error) { return []byte(powerUnits.exact(q.v)), nil }

var energyUnits = dimension{
	what: "energy", us: "kWh", metric: "kWh", low: 0,
	units: []measure{
		{name: "kWh", factor: 1, also: []string{"kwh"}},
	},
}

// Energy is electrical energy.
type Energy struct{ v float64 }

// KWh makes an energy from kilowatt hours.
func KWh(v float64) Energy { return Energy{v} }

// KWh returns kilowatt hours.
func (q Energy) KWh() float64 { return q.v }

// In writes the energy in the preferred unit of a system.
func (q Energy) In(s System) string { return energyUnits.print(q.v, s) }

// String writes the energy in US units.
func (q Energy) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Energy) UnmarshalText(b []byte) (err error) {
	q.v, err = energyUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same energy.
func (q Energy) MarshalText() ([]byte, error) { return []byte(energyUnits.exact(q.v)), nil }
