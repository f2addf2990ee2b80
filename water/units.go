package water

import (
	"fmt"
	"strings"

	"wellwright/unit"
)

// family says how figures in a unit of measure turn into canonical amounts.
type family int

const (
	noUnit      family = iota // nothing was written
	massPerL                  // mass in a litre: factor to mg/L
	molesPerL                 // factor to mmol/L
	equivPerL                 // factor to meq/L
	asHardness                // already counted as CaCO3: factor to mg/L as CaCO3
	conductance               // factor to uS/cm
	cloudiness                // factor to NTU
	colourUnit
	odourUnit
	phUnit
	voltage // factor to mV
	activity
	count
	celsius
	fahrenheit
	days
	percent
)

// measure is one way to write a unit.
type measure struct {
	family family
	factor float64
}

// bqInPCi is one becquerel in picocuries: 1 Ci = 3.7e10 Bq, definition.
const bqInPCi = 1 / 0.037

// hours is one hour in days.
const hours = 1.0 / 24

// written are the units of measure by their squeezed lower-case spelling.
//
// Sources: definitions, but the grain a gallon (64.79891 mg in 3.785412 L,
// derived, taken from package unit), the German, French and English degrees of
// hardness (from memory: water-works handbooks), and the turbidity units, which
// are three methods read as one.
var written = map[string]measure{
	"": {noUnit, 1}, "none": {noUnit, 1}, "unitless": {noUnit, 1},

	"mg/l": {massPerL, 1}, "ppm": {massPerL, 1}, "g/m3": {massPerL, 1}, "mg/dm3": {massPerL, 1}, "mgl": {massPerL, 1},
	"mg/litre": {massPerL, 1}, "mg/liter": {massPerL, 1}, "mgperl": {massPerL, 1},
	"ug/l": {massPerL, 1e-3}, "ppb": {massPerL, 1e-3}, "mcg/l": {massPerL, 1e-3}, "mg/m3": {massPerL, 1e-3},
	"ng/l": {massPerL, 1e-6}, "ppt": {massPerL, 1e-6}, "g/l": {massPerL, 1e3},

	"mmol/l": {molesPerL, 1}, "umol/l": {molesPerL, 1e-3}, "mol/l": {molesPerL, 1e3}, "mm": {molesPerL, 1},
	"meq/l": {equivPerL, 1}, "ueq/l": {equivPerL, 1e-3}, "me/l": {equivPerL, 1}, "epm": {equivPerL, 1},

	"gpg": {asHardness, unit.GPG(1).MgPerLAsCaCO3()}, "gr/gal": {asHardness, unit.GPG(1).MgPerLAsCaCO3()},
	"grains": {asHardness, unit.GPG(1).MgPerLAsCaCO3()}, "grains/gal": {asHardness, unit.GPG(1).MgPerLAsCaCO3()},
	"grains/gallon": {asHardness, unit.GPG(1).MgPerLAsCaCO3()}, "grainspergallon": {asHardness, unit.GPG(1).MgPerLAsCaCO3()},
	"dh": {asHardness, 17.848}, "dgh": {asHardness, 17.848}, "fh": {asHardness, 10}, "clark": {asHardness, 14.254},

	"us/cm": {conductance, 1}, "us/cm@25c": {conductance, 1}, "umho/cm": {conductance, 1}, "umhos/cm": {conductance, 1},
	"umho/cm@25c": {conductance, 1}, "umhos/cm@25c": {conductance, 1},
	"micromhos/cm": {conductance, 1}, "micromho/cm": {conductance, 1}, "microsiemens/cm": {conductance, 1},
	"ms/cm": {conductance, 1e3}, "ds/m": {conductance, 1e3}, "mmhos/cm": {conductance, 1e3}, "mmho/cm": {conductance, 1e3}, "ms/m": {conductance, 10},

	"ntu": {cloudiness, 1}, "ntru": {cloudiness, 1}, "fnu": {cloudiness, 1}, "ftu": {cloudiness, 1}, "fau": {cloudiness, 1},

	"cu": {colourUnit, 1}, "tcu": {colourUnit, 1}, "acu": {colourUnit, 1}, "ptco": {colourUnit, 1}, "pt-co": {colourUnit, 1},
	"pcu": {colourUnit, 1}, "pt/co": {colourUnit, 1}, "colorunits": {colourUnit, 1}, "colourunits": {colourUnit, 1}, "hazen": {colourUnit, 1}, "mg/lpt": {colourUnit, 1},
	"ton": {odourUnit, 1}, "thresholdodornumber": {odourUnit, 1}, "thresholdodournumber": {odourUnit, 1},

	"ph": {phUnit, 1}, "phunits": {phUnit, 1}, "stdunits": {phUnit, 1}, "standardunits": {phUnit, 1}, "su": {phUnit, 1}, "s.u.": {phUnit, 1}, "units": {phUnit, 1},
	"mv": {voltage, 1}, "v": {voltage, 1e3},

	"pci/l": {activity, 1}, "bq/l": {activity, bqInPCi}, "bq/m3": {activity, bqInPCi / 1000},

	"/100ml": {count, 1}, "per100ml": {count, 1}, "mpn/100ml": {count, 1}, "cfu/100ml": {count, 1}, "#/100ml": {count, 1}, "col/100ml": {count, 1},
	"colonies/100ml": {count, 1}, "no./100ml": {count, 1}, "organisms/100ml": {count, 1}, "mpnper100ml": {count, 1}, "cfuper100ml": {count, 1},
	"mpn": {count, 1}, "cfu": {count, 1}, "count": {count, 1}, "p/a": {count, 1}, "presence/absence": {count, 1},
	"cfu/ml": {count, 100}, "mpn/ml": {count, 100}, "/ml": {count, 100}, "#/ml": {count, 100},

	"c": {celsius, 1}, "degc": {celsius, 1}, "degreesc": {celsius, 1}, "celsius": {celsius, 1},
	"f": {fahrenheit, 1}, "degf": {fahrenheit, 1}, "degreesf": {fahrenheit, 1}, "fahrenheit": {fahrenheit, 1},

	"d": {days, 1}, "day": {days, 1}, "days": {days, 1}, "h": {days, hours}, "hours": {days, hours},
	"%": {percent, 1}, "percent": {percent, 1}, "%saturatn": {percent, 1}, "%sat": {percent, 1}, "%saturation": {percent, 1},
}

// splitUnit takes a unit as written apart into its measure and the basis it
// names: "mg/l asNO3" is milligrams a litre as NO3.
func splitUnit(text string) (measure, string, error) {
	if m, ok := written[text]; ok {
		return m, "", nil
	}
	s := squeeze(text)
	if m, ok := written[s]; ok {
		return m, "", nil
	}
	for end := len(s) - 1; end > 0; end-- {
		m, ok := written[s[:end]]
		if !ok || m.family == noUnit {
			continue
		}
		tail := strings.Trim(s[end:], "()-,")
		if f, ok := formulas[strings.TrimPrefix(tail, "as")]; ok {
			return m, f, nil
		}
		if f, ok := formulas[tail]; ok { // "mg/l as" is milligrams a litre of arsenic
			return m, f, nil
		}
	}
	return measure{}, "", fmt.Errorf("unit %q is not one that is read here; want, say, mg/L, ug/L, gpg, uS/cm, NTU, pCi/L or per 100 mL", text)
}

// squeeze lowers a unit and takes out spaces, degree signs and odd letters.
func squeeze(s string) string {
	if bare(s) {
		return strings.ToLower(s)
	}
	s = lower.Replace(strings.ToLower(s))
	return strings.TrimSpace(squeezed.Replace(s))
}

// bare reports whether a unit holds nothing that squeezing takes out or replaces.
func bare(s string) bool {
	for i := range len(s) {
		if s[i] <= ' ' || s[i] >= 0x7f {
			return false
		}
	}
	return true
}

// squeezed takes out what a unit may be written with or without.
var squeezed = strings.NewReplacer(" ", "", "\t", "", "°", "", "º", "", "−", "-", "\u00a0", "")

// basisOf reads "as CaCO3" or "CaCO3" as the formula; "" is none.
func basisOf(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	s := plain(text)
	if s == "" || s == "none" {
		return "", nil
	}
	if f, ok := formulas[s]; ok {
		return f, nil
	}
	if f, ok := formulas[strings.TrimPrefix(s, "as ")]; ok {
		return f, nil
	}
	return "", fmt.Errorf("basis %q is not one that is read here; want, say, as CaCO3, as N or as NO3", text)
}
