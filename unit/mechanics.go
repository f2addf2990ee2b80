package unit

var pressureUnits = dimension{
	what: "pressure", us: "psi", metric: "kPa", low: -14.7,
	units: []measure{
		{name: "psi", factor: 1, also: []string{"psig"}},
		{name: "kPa", factor: psiPerKPa, also: []string{"kpa"}},
		{name: "bar", factor: 100 * psiPerKPa},
		{name: "ft water", factor: psiPerFtWater, also: []string{"ft of water"}},
		{name: "m water", factor: psiPerFtWater / metrePerFoot, also: []string{"m of water"}},
	},
}

// Pressure is gauge pressure, unless its user says absolute.
type Pressure struct{ v float64 }

// PSI makes a pressure from pounds a square inch.
func PSI(v float64) Pressure { return Pressure{v} }

// PSI returns pounds a square inch.
func (q Pressure) PSI() float64 { return q.v }

// KPa makes a pressure from kilopascals.
func KPa(v float64) Pressure { return Pressure{v * psiPerKPa} }

// KPa returns kilopascals.
func (q Pressure) KPa() float64 { return q.v / psiPerKPa }

// FtWater makes a pressure from feet of water at 60 °F.
func FtWater(v float64) Pressure { return Pressure{v * psiPerFtWater} }

// FtWater returns feet of water at 60 °F.
func (q Pressure) FtWater() float64 { return q.v / psiPerFtWater }

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
func (q Pressure) MarshalText() ([]byte, error) { return pressureUnits.exact(q.v) }

var massUnits = dimension{
	what: "mass", us: "lb", metric: "kg", low: 0,
	units: []measure{
		{name: "lb", factor: 1, also: []string{"lbs", "pound", "pounds"}},
		{name: "kg", factor: lbPerKg},
		{name: "g", factor: lbPerKg / 1000, also: []string{"gram", "grams"}},
		{name: "mg", factor: lbPerKg / 1e6},
		{name: "oz", factor: lbPerOunce, also: []string{"ounce", "ounces"}},
		{name: "grains", factor: lbPerGrain, also: []string{"grain", "gr"}},
	},
}

// Mass is a weight of salt, solids or chemical.
type Mass struct{ v float64 }

// Lb makes a mass from pounds.
func Lb(v float64) Mass { return Mass{v} }

// Lb returns pounds.
func (q Mass) Lb() float64 { return q.v }

// Kg makes a mass from kilograms.
func Kg(v float64) Mass { return Mass{v * lbPerKg} }

// Kg returns kilograms.
func (q Mass) Kg() float64 { return q.v / lbPerKg }

// G makes a mass from grams.
func G(v float64) Mass { return Mass{v * (lbPerKg / 1000)} }

// G returns grams.
func (q Mass) G() float64 { return q.v / (lbPerKg / 1000) }

// Grains makes a mass from grains.
func Grains(v float64) Mass { return Mass{v * lbPerGrain} }

// Grains returns grains.
func (q Mass) Grains() float64 { return q.v / lbPerGrain }

// In writes the mass in the preferred unit of a system.
func (q Mass) In(s System) string { return massUnits.print(q.v, s) }

// String writes the mass in US units.
func (q Mass) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Mass) UnmarshalText(b []byte) (err error) { q.v, err = massUnits.parse(string(b)); return err }

// MarshalText writes every digit in the base unit, so that reading gives the same mass.
func (q Mass) MarshalText() ([]byte, error) { return massUnits.exact(q.v) }

var powerUnits = dimension{
	what: "power", us: "hp", metric: "kW", low: 0,
	units: []measure{
		{name: "hp", factor: 1},
		{name: "kW", factor: hpPerKW, also: []string{"kw"}},
		{name: "W", factor: hpPerKW / 1000},
	},
}

// Power is electrical or shaft power.
type Power struct{ v float64 }

// HP makes a power from horsepower.
func HP(v float64) Power { return Power{v} }

// HP returns horsepower.
func (q Power) HP() float64 { return q.v }

// KW makes a power from kilowatts.
func KW(v float64) Power { return Power{v * hpPerKW} }

// KW returns kilowatts.
func (q Power) KW() float64 { return q.v / hpPerKW }

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
func (q Power) MarshalText() ([]byte, error) { return powerUnits.exact(q.v) }

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
func (q Energy) MarshalText() ([]byte, error) { return energyUnits.exact(q.v) }
