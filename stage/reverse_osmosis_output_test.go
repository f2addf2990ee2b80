package stage

import (
	"testing"

	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

func TestMembraneOutput(t *testing.T) {
	at := func(f, psi, tds float64) float64 {
		return membrane{unit.Fahrenheit(f), unit.PSI(psi), mg(tds)}.output(source.Set{})
	}
	open := source.NewSet(map[string]source.Override{membraneTank.Name: {Value: 0, Why: "open vessel"}})
	near(t, "share of the label at the label's conditions", membrane{unit.Fahrenheit(77), unit.PSI(60), mg(250)}.output(open), 1, 0.01, "definition of the label: 77 °F, 60 psi, into an open vessel")
	// A second method: water passes in inverse proportion to its viscosity.
	thick := hydraulic.Viscosity(unit.Fahrenheit(50)) / hydraulic.Viscosity(unit.Fahrenheit(77))
	near(t, "output at 50 °F over that at 77", at(50, 60, 250)/at(77, 60, 250), 1/thick, 0.08, "viscosity of water; 1.5 to 2 % a degree (from memory)")
	if at(77, 45, 250) >= at(77, 60, 250) || at(77, 60, 1500) >= at(77, 60, 250) || at(77, 10, 250) != 0 {
		t.Error("less pressure or more salt does not give less; no net pressure, no water (limits of the law)")
	}
	g := plain()
	g.water.Temperature = unit.Fahrenheit(50)
	o := reverseOsmosis{}.Run(g.job(t), reverseOsmosis{}.Sizes(g.job(t))[0])
	near(t, "recovery, %", o.Settings[RecoveryPercent], 25, 0.1, "3 of reject for 1: recovery of 20 to 35 % (common practice)")
	within(t, "gal/day at 50 °F and 40 psi", o.Settings[MembraneGalPerDay], 5, 25, "by hand: 50 · (40 - 15 - 4)/57.5 · 0.62 = 11")
	if l := limitNamed(t, o, "membrane_output", true); l.Fails() {
		t.Errorf("%.1f gal/day is too little for %.1f", l.Have, l.Need)
	}
}
