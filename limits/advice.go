package limits

import "wellwright/water"

// advised are a line of what to do when a limit is not met. Common practice;
// health departments and local code go before it.
var advised = map[water.Analyte]string{
	water.EColi:          "do not drink it: other water, or one minute at a rolling boil where nitrate was tested and is low; call the health department; find the way in before treating iron",
	water.FecalColiform:  "do not drink it: other water, or one minute at a rolling boil where nitrate was tested and is low; call the health department; find the way in before treating iron",
	water.TotalColiform:  "sample again, with E. coli; have cap and casing looked at; disinfect and sample once more",
	water.Nitrate:        "other water for infants and in pregnancy, today; never boil it, that concentrates it; call a doctor if an infant looks blue-grey",
	water.NitrateNitrite: "other water for infants and in pregnancy, today; never boil it, that concentrates it; call a doctor if an infant looks blue-grey",
	water.Nitrite:        "other water for infants and in pregnancy, today; look for sewage or half-oxidised ammonia",
	water.Manganese:      "other water for drinking and formula above a health value; showers and laundry are a matter of stains",
	water.Arsenic:        "other water for drinking and cooking; confirm; an iron filter takes part of it, prove it by test and keep a kitchen barrier",
	water.Lead:           "no amount is known to be safe: draw first and flushed samples to tell pipes from well; flush before drinking, use cold water only; other water or a certified lead filter for infants",
	water.Copper:         "draw first and flushed samples; correct pH and alkalinity",
	water.Uranium:        "other water for drinking; confirm; spent resin and backwash need care",
	water.Radium:         "other water for drinking; confirm; a softener removes it and its brine carries it",
	water.GrossAlpha:     "ask for radium and uranium",
	water.Radon:          "test the air first; aeration must vent outdoors",
	water.Fluoride:       "children under nine should not drink it daily above 2 mg/L; other water or a kitchen barrier above the health limit",
	water.Sodium:         "tell the doctor of whoever limits sodium; a kitchen barrier, not a softener",
	water.PH:             "below the range copper and lead dissolve: sample first draw, correct pH; above it expect scale and weak chlorine",
	water.Hardness:       "plan for scale",
	water.Sulfide:        "read it on site; ventilate pits and tanks: the gas is a danger there",
	water.Chloride:       "corrosion of stainless steel and copper; look for salt, sewage or softener waste",
	water.Iron:           "comfort, stains and fouled equipment",
	water.FreeChlorine:   "flush more before drinking",
	water.Sulfate:        "loose bowels in guests and infants; food for sulfate reducers",
}

// advice returns what to do about a finding.
func advice(a water.Analyte, f Finding) string {
	switch f.Outcome {
	case Undecided:
		if f.Amount.Sign == water.Below {
			return "have it tested with a detection limit below the value"
		}
		return "have it measured above the range of this test"
	case Watch:
		if a == water.Lead {
			return "no amount is known to be safe: draw first and flushed samples, and give infants other water or a tap with a certified lead filter"
		}
		return "test again, in another season"
	}
	if s, ok := advised[a]; ok {
		return s
	}
	if f.Limit.Basis.Protects() {
		return "other water for drinking; sample again to confirm; call the health department"
	}
	return ""
}
