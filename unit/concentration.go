package unit

var concentrationUnits = dimension{
	what: "concentration", us: "mg/L", metric: "mg/L", low: 0,
	units: []measure{
		{name: "mg/L", factor: 1, also: []string{"ppm", "mg/l", "g/m3"}},
		{name: "ug/L", factor: 0.001, also: []string{"ppb", "ug/l"}},
		{name: "g/L", factor: 1000, also: []string{"g/l"}},
		{name: "ng/L", factor: 1e-06, also: []string{"ppt"}},
	},
}

// Concentration is mass of the named substance in a volume of water.
type Concentration struct{ v float64 }

// MgPerL makes a concentration from milligrams a litre.
func MgPerL(v float64) Concentration { return Concentration{v} }

// MgPerL returns milligrams a litre.
func (q Concentration) MgPerL() float64 { return q.v }

// UgPerL makes a concentration from micrograms a litre.
func UgPerL(v float64) Concentration { return Concentration{v * 0.001} }

// UgPerL returns micrograms a litre.
func (q Concentration) UgPerL() float64 { return q.v / 0.001 }

// GPerL makes a concentration from grams a litre.
func GPerL(v float64) Concentration { return Concentration{v * 1000} }

// GPerL returns grams a litre.
func (q Concentration) GPerL() float64 { return q.v / 1000 }

// In writes the concentration in the preferred unit of a system.
func (q Concentration) In(s System) string { return concentrationUnits.print(q.v, s) }

// String writes the concentration in US units.
func (q Concentration) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Concentration) UnmarshalText(b []byte) (err error) {
	q.v, err = concentrationUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same concentration.
func (q Concentration) MarshalText() ([]byte, error) {
	return concentrationUnits.exact(q.v)
}

var hardnessUnits = dimension{
	what: "hardness", us: "gpg", metric: "mg/L as CaCO3", low: 0,
	units: []measure{
		{name: "mg/L as CaCO3", factor: 1, also: []string{"mg/L", "ppm", "mg/l caco3", "ppm as caco3"}},
		{name: "gpg", factor: mgPerLPerGPG, also: []string{"grains", "grains per gallon", "gr/gal"}},
		{name: "meq/L", factor: caco3PerMeq},
	},
}

// Hardness is calcium and magnesium, as calcium carbonate.
type Hardness struct{ v float64 }

// HardnessAsCaCO3 makes a hardness from milligrams a litre as CaCO3.
func HardnessAsCaCO3(v float64) Hardness { return Hardness{v} }

// MgPerLAsCaCO3 returns milligrams a litre as CaCO3.
func (q Hardness) MgPerLAsCaCO3() float64 { return q.v }

// GPG makes a hardness from grains a gallon as CaCO3.
func GPG(v float64) Hardness { return Hardness{v * mgPerLPerGPG} }

// GPG returns grains a gallon as CaCO3.
func (q Hardness) GPG() float64 { return q.v / mgPerLPerGPG }

// In writes the hardness in the preferred unit of a system.
func (q Hardness) In(s System) string { return hardnessUnits.print(q.v, s) }

// String writes the hardness in US units.
func (q Hardness) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Hardness) UnmarshalText(b []byte) (err error) {
	q.v, err = hardnessUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same hardness.
func (q Hardness) MarshalText() ([]byte, error) { return hardnessUnits.exact(q.v) }

var alkalinityUnits = dimension{
	what: "alkalinity", us: "mg/L as CaCO3", metric: "mg/L as CaCO3", low: -1000000,
	units: []measure{
		{name: "mg/L as CaCO3", factor: 1, also: []string{"mg/L", "ppm", "mg/l caco3"}},
		{name: "meq/L", factor: caco3PerMeq},
		{name: "mg/L as HCO3", factor: caco3PerHCO3, also: []string{"mg/l hco3"}},
	},
}

// Alkalinity is acid-neutralising capacity, as calcium carbonate.
type Alkalinity struct{ v float64 }

// AlkalinityAsCaCO3 makes an alkalinity from milligrams a litre as CaCO3.
func AlkalinityAsCaCO3(v float64) Alkalinity { return Alkalinity{v} }

// MgPerLAsCaCO3 returns milligrams a litre as CaCO3.
func (q Alkalinity) MgPerLAsCaCO3() float64 { return q.v }

// AlkalinityMeq makes an alkalinity from milliequivalents a litre.
func AlkalinityMeq(v float64) Alkalinity { return Alkalinity{v * caco3PerMeq} }

// MeqPerL returns milliequivalents a litre.
func (q Alkalinity) MeqPerL() float64 { return q.v / caco3PerMeq }

// In writes the alkalinity in the preferred unit of a system.
func (q Alkalinity) In(s System) string { return alkalinityUnits.print(q.v, s) }

// String writes the alkalinity in US units.
func (q Alkalinity) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Alkalinity) UnmarshalText(b []byte) (err error) {
	q.v, err = alkalinityUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same alkalinity.
func (q Alkalinity) MarshalText() ([]byte, error) { return alkalinityUnits.exact(q.v) }

var nitrogenUnits = dimension{
	what: "nitrogen", us: "mg/L as N", metric: "mg/L as N", low: 0,
	units: []measure{
		{name: "mg/L as N", factor: 1, also: []string{"mg/L", "ppm", "mg/l n"}},
	},
}

// Nitrogen is a nitrogen compound, as the element.
type Nitrogen struct{ v float64 }

// MgPerLAsN makes a nitrogen from milligrams a litre as N.
func MgPerLAsN(v float64) Nitrogen { return Nitrogen{v} }

// MgPerLAsN returns milligrams a litre as N.
func (q Nitrogen) MgPerLAsN() float64 { return q.v }

// In writes the nitrogen in the preferred unit of a system.
func (q Nitrogen) In(s System) string { return nitrogenUnits.print(q.v, s) }

// String writes the nitrogen in US units.
func (q Nitrogen) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Nitrogen) UnmarshalText(b []byte) (err error) {
	q.v, err = nitrogenUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same nitrogen.
func (q Nitrogen) MarshalText() ([]byte, error) { return nitrogenUnits.exact(q.v) }

var phosphorusUnits = dimension{
	what: "phosphorus", us: "mg/L as P", metric: "mg/L as P", low: 0,
	units: []measure{
		{name: "mg/L as P", factor: 1, also: []string{"mg/L", "ppm", "mg/l p"}},
	},
}

// Phosphorus is phosphate, as the element.
type Phosphorus struct{ v float64 }

// MgPerLAsP makes a phosphorus from milligrams a litre as P.
func MgPerLAsP(v float64) Phosphorus { return Phosphorus{v} }

// MgPerLAsP returns milligrams a litre as P.
func (q Phosphorus) MgPerLAsP() float64 { return q.v }

// In writes the phosphorus in the preferred unit of a system.
func (q Phosphorus) In(s System) string { return phosphorusUnits.print(q.v, s) }

// String writes the phosphorus in US units.
func (q Phosphorus) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Phosphorus) UnmarshalText(b []byte) (err error) {
	q.v, err = phosphorusUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same phosphorus.
func (q Phosphorus) MarshalText() ([]byte, error) { return phosphorusUnits.exact(q.v) }

var sulfideUnits = dimension{
	what: "sulfide", us: "mg/L as H2S", metric: "mg/L as H2S", low: 0,
	units: []measure{
		{name: "mg/L as H2S", factor: 1, also: []string{"mg/L", "ppm", "mg/l h2s"}},
		{name: "mg/L as S", factor: sulfidePerS, also: []string{"mg/l s"}},
	},
}

// Sulfide is dissolved sulfide of every form, as hydrogen sulfide.
type Sulfide struct{ v float64 }

// MgPerLAsH2S makes a sulfide from milligrams a litre as H2S.
func MgPerLAsH2S(v float64) Sulfide { return Sulfide{v} }

// MgPerLAsH2S returns milligrams a litre as H2S.
func (q Sulfide) MgPerLAsH2S() float64 { return q.v }

// In writes the sulfide in the preferred unit of a system.
func (q Sulfide) In(s System) string { return sulfideUnits.print(q.v, s) }

// String writes the sulfide in US units.
func (q Sulfide) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Sulfide) UnmarshalText(b []byte) (err error) {
	q.v, err = sulfideUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same sulfide.
func (q Sulfide) MarshalText() ([]byte, error) { return sulfideUnits.exact(q.v) }

var chlorineUnits = dimension{
	what: "chlorine", us: "mg/L as Cl2", metric: "mg/L as Cl2", low: 0,
	units: []measure{
		{name: "mg/L as Cl2", factor: 1, also: []string{"mg/L", "ppm", "mg/l cl2"}},
	},
}

// Chlorine is free or combined chlorine, as Cl2.
type Chlorine struct{ v float64 }

// MgPerLAsCl2 makes a chlorine from milligrams a litre as Cl2.
func MgPerLAsCl2(v float64) Chlorine { return Chlorine{v} }

// MgPerLAsCl2 returns milligrams a litre as Cl2.
func (q Chlorine) MgPerLAsCl2() float64 { return q.v }

// In writes the chlorine in the preferred unit of a system.
func (q Chlorine) In(s System) string { return chlorineUnits.print(q.v, s) }

// String writes the chlorine in US units.
func (q Chlorine) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Chlorine) UnmarshalText(b []byte) (err error) {
	q.v, err = chlorineUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same chlorine.
func (q Chlorine) MarshalText() ([]byte, error) { return chlorineUnits.exact(q.v) }

var countUnits = dimension{
	what: "count", us: "per 100 mL", metric: "per 100 mL", low: 0,
	units: []measure{
		{name: "per 100 mL", factor: 1, also: []string{"/100 ml", "mpn/100ml", "cfu/100ml", "#/100ml", "mpn", ""}},
	},
}

// Count is organisms in a hundred millilitres.
type Count struct{ v float64 }

// Per100mL makes a count from organisms in 100 mL.
func Per100mL(v float64) Count { return Count{v} }

// Per100mL returns organisms in 100 mL.
func (q Count) Per100mL() float64 { return q.v }

// In writes the count in the preferred unit of a system.
func (q Count) In(s System) string { return countUnits.print(q.v, s) }

// String writes the count in US units.
func (q Count) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Count) UnmarshalText(b []byte) (err error) {
	q.v, err = countUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same count.
func (q Count) MarshalText() ([]byte, error) { return countUnits.exact(q.v) }

var radioactivityUnits = dimension{
	what: "radioactivity", us: "pCi/L", metric: "Bq/L", low: 0,
	units: []measure{
		{name: "pCi/L", factor: 1, also: []string{"pci/l"}},
		{name: "Bq/L", factor: 1 / bqPerPCi, also: []string{"bq/l"}},
	},
}

// Radioactivity is radioactivity of water.
type Radioactivity struct{ v float64 }

// PCiPerL makes a radioactivity from picocuries a litre.
func PCiPerL(v float64) Radioactivity { return Radioactivity{v} }

// PCiPerL returns picocuries a litre.
func (q Radioactivity) PCiPerL() float64 { return q.v }

// In writes the radioactivity in the preferred unit of a system.
func (q Radioactivity) In(s System) string { return radioactivityUnits.print(q.v, s) }

// String writes the radioactivity in US units.
func (q Radioactivity) String() string { return q.In(US) }

// UnmarshalText reads a number with its unit.
func (q *Radioactivity) UnmarshalText(b []byte) (err error) {
	q.v, err = radioactivityUnits.parse(string(b))
	return err
}

// MarshalText writes every digit in the base unit, so that reading gives the same radioactivity.
func (q Radioactivity) MarshalText() ([]byte, error) {
	return radioactivityUnits.exact(q.v)
}
