package stage

import (
	"testing"

	"wellwright/cloud"
	"wellwright/unit"
)

// What the steps of a series of jars left open widens the doses that the feed must
// be able to give: a demand of 7.0 known only to 5.5 to 7.9 mg/L.
func TestStepsOfTheSeriesWidenTheDose(t *testing.T) {
	j := tamarack().job(t)
	one := chlorineDose(j)
	j.Draw.Supply.Jars = &cloud.JarDoses{Chlorine: &cloud.Dosed{Low: unit.MgPerL(5.5), Value: unit.MgPerL(7), High: unit.MgPerL(7.9)}}
	d := chlorineDose(j)
	const sums = "the ends of the demand plus the residual (arithmetic)"
	near(t, "low dose", d.low, 5.5+d.residual, 1e-9, sums)
	near(t, "high dose", d.high, 7.9+d.residual, 1e-9, sums)
	near(t, "dose", d.dose, one.dose, 1e-9, "the demand itself is as before")
	j.Draw.Supply.Jars.Chlorine = &cloud.Dosed{Low: unit.MgPerL(6.9), Value: unit.MgPerL(7), High: unit.MgPerL(7.1)}
	d = chlorineDose(j)
	near(t, "low dose", d.low, one.low, 1e-9, "fine steps do not make the kit better")
	near(t, "high dose", d.high, one.high, 1e-9, "fine steps do not make the kit better")
}
