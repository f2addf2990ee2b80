package unit

var volumeUnits = dimension{
	what: "volume", us: "gal", metric: "L", low: 0,
	units: []measure{
		{name: "gal", factor: 1, also: []string{"us gal", "gallon", "gallons"}},
		{name: "L", factor: 0.26417205235814845, also: []string{"l", "litre", "litres", "liters"}},
		{name: "ft3", factor: 7.480519480519481, also: []string{"cu ft", "cubic feet"}},
		{name: "m3", factor: 264.17205235814845},
		{name: "mL", factor: 0.00026417205235814843, also: []string{"ml"}},
	},
}

// Volume is an amount of water or space.
type Volume struct{ v float64 }

// Gal makes a volume from US gallons.
func Gal(v float64) Volume { return Volume{v} }

// Gal returns US gallons.
func (q Volume) Gal() float64 { return q.v }

// L makes a volume from litres.
func L(v float64) Volume { return Volume{v * 0.26417205235814845} }

// L returns litres.
func (q Volume) L() float64 { return q.v / 0.26417205235814845 }

// Ft3 makes a volume from cubic feet.
func Ft3(v float64) Volume { return Volume{v * 7.480519480519481} }

// Ft3 returns cubic feet.
func (q Volume) Ft3() float64 { return q.v / 7.480519480519481 }

// In writes the volume in the preferred unit of a system.
func (q Volume) In(s System) string { return volumeUnits.print(q.v, s) }

// String writes the volume in US units.
func (q Volume) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Volume) UnmarshalText(b []byte) (err error) {
	q.v, err = volumeUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same volume.
func (q Volume) MarshalText() ([]byte, error) { return []byte(volumeUnits.exact(q.v)), nil }

var lengthUnits = dimension{
	what: "length", us: "ft", metric: "m", low: -1000000,
	units: []measure{
		{name: "ft", factor: 1, also: []string{"feet", "foot", "'"}},
		{name: "in", factor: 0.08333333333333333, also: []string{"inch", "inches", "\""}},
		{name: "m", factor: 3.280839895013123, also: []string{"metre", "metres", "meter", "meters"}},
		{name: "cm", factor: 0.03280839895013123},
		{name: "mm", factor: 0.0032808398950131233},
	},
}

// Length is a distance or depth.
type Length struct{ v float64 }

// Ft makes a length from feet.
func Ft(v float64) Length { return Length{v} }

// Ft returns feet.
func (q Length) Ft() float64 { return q.v }

// Inches makes a length from inches.
func Inches(v float64) Length { return Length{v * 0.08333333333333333} }

// Inches returns inches.
func (q Length) Inches() float64 { return q.v / 0.08333333333333333 }

// M makes a length from metres.
func M(v float64) Length { return Length{v * 3.280839895013123} }

// M returns metres.
func (q Length) M() float64 { return q.v / 3.280839895013123 }

// MM makes a length from millimetres.
func MM(v float64) Length { return Length{v * 0.0032808398950131233} }

// MM returns millimetres.
func (q Length) MM() float64 { return q.v / 0.0032808398950131233 }

// In writes the length in the preferred unit of a system.
func (q Length) In(s System) string { return lengthUnits.print(q.v, s) }

// String writes the length in US units.
func (q Length) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Length) UnmarshalText(b []byte) (err error) {
	q.v, err = lengthUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same length.
func (q Length) MarshalText() ([]byte, error) { return []byte(lengthUnits.exact(q.v)), nil }

var areaUnits = dimension{
	what: "area", us: "ft2", metric: "m2", low: 0,
	units: []measure{
		{name: "ft2", factor: 1, also: []string{"sq ft"}},
		{name: "m2", factor: 10.763910416709722},
	},
}

// Area is a cross-section.
type Area struct{ v float64 }

// Ft2 makes an area from square feet.
func Ft2(v float64) Area { return Area{v} }

// Ft2 returns square feet.
func (q Area) Ft2() float64 { return q.v }

// In writes the area in the preferred unit of a system.
func (q Area) In(s System) string { return areaUnits.print(q.v, s) }

// String writes the area in US units.
func (q Area) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Area) UnmarshalText(b []byte) (err error) { q.v, err = areaUnits.parse(string(b)); return err }

// MarshalText writes every digit in the base unit, so that reading gives the same area.
func (q Area) MarshalText() ([]byte, error) { return []byte(areaUnits.exact(q.v)), nil }
