package water

import "wellwright/unit"

// preference orders the fractions that may answer when one is asked for, best first.
var preference = [...][]Fraction{
	Unspecified: {Total, Recoverable, Unspecified, Dissolved, Fine},
	Total:       {Total, Recoverable, Unspecified},
	Recoverable: {Recoverable, Total, Unspecified},
	Dissolved:   {Dissolved},
	Fine:        {Fine},
	Suspended:   {Suspended},
	FerrousIron: {FerrousIron},
}

// Find returns the result for a. Asked for Total it also takes a result whose
// fraction is not said; asked for Unspecified it takes the fullest there is, but
// never ferrous or suspended iron. Of several it prefers one whose unit can be
// read, then the first written.
func (r Report) Find(a Analyte, f Fraction) (Result, bool) {
	if f < 0 || int(f) >= len(preference) {
		return Result{}, false
	}
	for _, want := range preference[f] {
		if res, ok := r.first(a, want); ok {
			return res, true
		}
	}
	return Result{}, false
}

func (r Report) first(a Analyte, f Fraction) (found Result, ok bool) {
	for _, res := range r.Results {
		if res.Analyte != a || res.Fraction != f {
			continue
		}
		if _, err := res.Amount(); err == nil {
			return res, true
		}
		if !ok {
			found, ok = res, true
		}
	}
	return found, ok
}

// Amount returns the amount of a in canonical units; not ok if it was not
// measured or cannot be read.
func (r Report) Amount(a Analyte, f Fraction) (Amount, bool) {
	res, ok := r.Find(a, f)
	if !ok {
		return Amount{}, false
	}
	got, err := res.Amount()
	return got, err == nil
}

// Concentration returns a mass in water with its sign.
func (r Report) Concentration(a Analyte, f Fraction) (unit.Concentration, Sign, bool) {
	got, ok := r.Amount(a, f)
	c, is := got.Concentration()
	return c, got.Sign, ok && is
}

// Nitrogen returns a nitrogen compound with its sign.
func (r Report) Nitrogen(a Analyte) (unit.Nitrogen, Sign, bool) {
	got, ok := r.Amount(a, Unspecified)
	n, is := got.Nitrogen()
	return n, got.Sign, ok && is
}

// PH returns the pH.
func (r Report) PH() (unit.PH, bool) {
	got, ok := r.Amount(PH, Unspecified)
	p, is := got.PH()
	return p, ok && is && got.Sign == Exact
}

// Alkalinity returns the alkalinity with its sign; where only bicarbonate and
// carbonate were reported it is their sum.
func (r Report) Alkalinity() (unit.Alkalinity, Sign, bool) {
	got, ok := r.Amount(Alkalinity, Unspecified)
	if a, is := got.Alkalinity(); ok && is {
		return a, got.Sign, true
	}
	parts := []Analyte{Bicarbonate, Carbonate, Hydroxide}
	sum, seen := 0.0, false
	for _, p := range parts {
		if c, ok := r.Amount(p, Unspecified); ok && c.Numeric() {
			e, _ := lookUp(p)
			sum += c.value(AtHalf) / e.equivalentMass()
			seen = seen || p != Hydroxide
		}
	}
	return unit.AlkalinityMeq(sum), Exact, seen
}

// Hardness returns the hardness as reported with its sign.
func (r Report) Hardness() (unit.Hardness, Sign, bool) {
	got, ok := r.Amount(Hardness, Unspecified)
	h, is := got.Hardness()
	return h, got.Sign, ok && is
}

// Sulfide returns the sulfide with its sign.
func (r Report) Sulfide() (unit.Sulfide, Sign, bool) {
	got, ok := r.Amount(Sulfide, Unspecified)
	s, is := got.Sulfide()
	return s, got.Sign, ok && is
}

// Conductivity returns the conductivity.
func (r Report) Conductivity() (unit.Conductivity, Sign, bool) {
	got, ok := r.Amount(Conductivity, Unspecified)
	c, is := got.Conductivity()
	return c, got.Sign, ok && is
}

// Temperature returns the water temperature.
func (r Report) Temperature() (unit.Temperature, bool) {
	got, ok := r.Amount(Temperature, Unspecified)
	t, is := got.Temperature()
	return t, ok && is && got.Sign == Exact
}

// Turbidity returns the turbidity with its sign.
func (r Report) Turbidity() (unit.Turbidity, Sign, bool) {
	got, ok := r.Amount(Turbidity, Unspecified)
	t, is := got.Turbidity()
	return t, got.Sign, ok && is
}

// Raw reports whether the sample was taken before any treatment, as far as its
// tap says: T0, T1 or not said.
func (r Report) Raw() bool { return r.Tap == "" || r.Tap == "T0" || r.Tap == "T1" }
