package water

import (
	"fmt"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

// temperature is the water temperature read, else a usual one.
func (c *checker) temperature() unit.Temperature {
	if t, ok := c.report.Temperature(); ok {
		return t
	}
	return unit.Celsius(c.set.Of(usualTemperature))
}

// gasLost speciates the water. One fresh from the ground cannot hold much more
// calcite or iron carbonate than they dissolve to: if it seems to, its pH was read
// after carbon dioxide left, or its iron is not all in solution.
func (c *checker) gasLost() {
	ph, res, ok := c.amount(PH, Unspecified)
	totals, alk, full := Totals(c.report, c.temperature())
	b, balanced := balanceOf(c.set, c.report, AtHalf)
	if !ok || !full || !balanced || c.grade(b) == Impossible {
		return
	}
	state, err := chem.New(c.set).AtPH(totals, unit.PHOf(ph.v), alk)
	if err != nil {
		c.add(Finding{ID: "gas_lost", Verdict: Doubt, Say: "the water cannot be speciated: " + err.Error(), Analyte: PH, Kind: source.Derived, From: freshCalcite.From, Place: res.Place})
		return
	}
	calcite, _ := state.SI(chem.Calcite)
	siderite, iron := state.SI(chem.Siderite)
	f := Finding{ID: "gas_lost", Analyte: PH, Value: calcite, Kind: freshCalcite.Kind, From: freshCalcite.From, Place: res.Place}
	f.Say = fmt.Sprintf("at pH %s and %s: calcite index %+.2f", mark(ph), c.temperature().In(unit.Metric), calcite)
	if iron {
		f.Say += fmt.Sprintf(", siderite index %+.1f", siderite)
	}
	f.Say += fmt.Sprintf(", carbon dioxide %s mg/L", unit.Digits(state.CO2().MgPerL()))
	switch {
	case iron && siderite > c.set.Of(freshSiderite):
		f.Verdict = Notice
		f.Say += ": either some of the iron is particulate, or pH was read after carbon dioxide left"
		f.Ask = "Read pH and ferrous iron on site"
	case calcite > c.set.Of(freshCalcite):
		f.Verdict = Notice
		f.Say += ": more than a fresh sample holds; pH was likely read after carbon dioxide left"
		f.Ask = "Read pH on site"
	}
	c.add(f)
}
