package unit

var volumeUnits = dimension{
	what: "volume", us: "gal", metric: "L", low: 0,
	units: []measure{
		{name: "gal", factor: 1, also: []string{"us gal", "gallon", "gallons"}},
		{name: "L", factor: galPerL, also: []string{"l", "litre", "litres", "liters"}},
		{name: "ft3", factor: galPerFt3, also: []string{"cu ft", "cubic feet"}},
		{name: "m3", factor: 1000 * galPerL},
		{name: "mL", factor: galPerL / 1000, also: []string{"ml"}},
	},
}

// Volume is an amount of water or space.
type Volume struct{ v float64 }

// Gal makes a volume from US gallons.
func Gal(v float64) Volume { return Volume{v} }

// Gal returns US gallons.
func (q Volume) Gal() float64 { return q.v }

// L makes a volume from litres.
func L(v float64) Volume { return Volume{v * galPerL} }

// L returns litres.
func (q Volume) L() float64 { return q.v / galPerL }

// Ft3 makes a volume from cubic feet.
func Ft3(v float64) Volume { return Volume{v * galPerFt3} }

// Ft3 returns cubic feet.
func (q Volume) Ft3() float64 { return q.v / galPerFt3 }

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
func (q Volume) MarshalText() ([]byte, error) { return volumeUnits.exact(q.v) }

var lengthUnits = dimension{
	what: "length", us: "ft", metric: "m", low: -1000000,
	units: []measure{
		{name: "ft", factor: 1, also: []string{"feet", "foot", "'"}},
		{name: "in", factor: ftPerInch, also: []string{"inch", "inches", "\""}},
		{name: "m", factor: ftPerM, also: []string{"metre", "metres", "meter", "meters"}},
		{name: "cm", factor: ftPerM / 100},
		{name: "mm", factor: ftPerM / 1000},
	},
}

// Length is a distance or depth.
type Length struct{ v float64 }

// Ft makes a length from feet.
func Ft(v float64) Length { return Length{v} }

// Ft returns feet.
func (q Length) Ft() float64 { return q.v }

// Inches makes a length from inches.
func Inches(v float64) Length { return Length{v * ftPerInch} }

// Inches returns inches.
func (q Length) Inches() float64 { return q.v / ftPerInch }

// M makes a length from metres.
func M(v float64) Length { return Length{v * ftPerM} }

// M returns metres.
func (q Length) M() float64 { return q.v / ftPerM }

// MM makes a length from millimetres.
func MM(v float64) Length { return Length{v * (ftPerM / 1000)} }

// MM returns millimetres.
func (q Length) MM() float64 { return q.v / (ftPerM / 1000) }

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
func (q Length) MarshalText() ([]byte, error) { return lengthUnits.exact(q.v) }

var areaUnits = dimension{
	what: "area", us: "ft2", metric: "m2", low: 0,
	units: []measure{
		{name: "ft2", factor: 1, also: []string{"sq ft"}},
		{name: "m2", factor: ftPerM * ftPerM},
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
func (q Area) MarshalText() ([]byte, error) { return areaUnits.exact(q.v) }
