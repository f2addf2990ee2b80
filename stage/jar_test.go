package stage

import (
	"testing"

	"wellwright/cloud"
	"wellwright/media"
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

// The first pink sets the permanganate feed where the jar was this water; the water
// behind the feed is as by the sum, with nothing over.
func TestFirstPinkSetsThePermanganate(t *testing.T) {
	j := tamarack().job(t)
	sum := permanganateDose(j)
	run := func() Outcome { return permanganateFeed{}.Run(j, permanganateFeed{}.Sizes(j)[0]) }
	before := run()
	j.Draw.Supply.Jars = &cloud.JarDoses{Permanganate: &cloud.Dosed{Low: unit.MgPerL(11), Value: unit.MgPerL(12), High: unit.MgPerL(13)}}
	o := run()
	const read = "as read of the jar"
	near(t, DoseMgL, o.Settings[DoseMgL], 12, 1e-9, read)
	near(t, DoseHighMgL, o.Settings[DoseHighMgL], 13, 1e-9, read)
	near(t, "permanganate behind", o.Out.Permanganate.MgPerL(), before.Out.Permanganate.MgPerL(), 1e-9, "organic matter has taken the rest (mass balance)")
	j.Before = append(j.Before, media.ChlorineFeed)
	near(t, "dose behind chlorine", permanganateDose(j).dose, sum.dose, 1e-9, "the jar was another water")
}
