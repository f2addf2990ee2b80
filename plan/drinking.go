package plan

import (
	"slices"

	"wellwright/book"
	"wellwright/limits"
	"wellwright/source"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
)

// drinking adds the targets that hold only where something was found: nitrate and
// arsenic where a report has them above the limit, colour where it was seen, and
// radon, which no water holds that it was not measured in.
func (d *Desk) drinking(t train.Targets) train.Targets {
	t.Coloured, t.Radon = d.coloured(), unit.PCiPerL(d.radonMost())
	if d.foundAbove(water.Nitrate, water.NitrateNitrite) {
		t.Nitrate = unit.MgPerLAsN(d.nitrateMost())
	}
	if d.foundAbove(water.Arsenic) {
		t.Arsenic = unit.MgPerL(d.arsenicMost())
	}
	return t
}

// foundAbove reports whether a raw report has one of the analytes above its limit.
func (d *Desk) foundAbove(as ...water.Analyte) bool {
	for _, f := range d.judged() {
		if f.Outcome == limits.Exceeds && f.Limit.Basis.Protects() && slices.Contains(as, water.Analyte(f.ID)) {
			return true
		}
	}
	return false
}

// coloured reports whether tea colour was seen.
func (d *Desk) coloured() bool {
	return slices.ContainsFunc(d.Present.Signs, func(s book.Sign) bool { return s.ID == water.TeaColour && s.Seen })
}

// radonMost is the advice of the state for radon in water, or the factor where it
// has none or the user has a value of their own. The federal levels were proposed
// and are not in force.
func (d *Desk) radonMost() float64 {
	if !slices.Contains(d.set.Overridden(), radonAdvice.Name) {
		for _, l := range d.Table.Of(water.Radon) {
			if l.High != nil && l.Jurisdiction != "US" {
				return *l.High
			}
		}
	}
	return d.set.Of(radonAdvice)
}

var radonAdvice = source.Factor{Name: "target_radon", What: "radon in water of a house from which it is treated, where the state has no advice", Unit: "pCi/L",
	Value: 4000, Low: 300, High: 10000, Kind: source.Published, From: "alternative level proposed by the US EPA in 1999, not in force (second hand)"}
