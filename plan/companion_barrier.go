package plan

import (
	"fmt"
	"slices"
	"strings"

	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// guarded is what a limit of health guards at the taps.
type guarded struct {
	analyte water.Analyte
	words   string
	unit    string
	of      func(water.State) float64
	most    func(*Desk) float64
	second  string // the barrier that a kitchen tap or a house can have beside the train
}

// germTrace is the forecast count that is none found in 100 mL.
const germTrace = 0.05

const (
	membraneBarrier = "A second barrier at the kitchen tap, a membrane proven by a laboratory once a year,"
	germBarrier     = "A second barrier, ultraviolet light behind clean water or chlorine with contact,"
)

// guards are the limits of health that a train's model follows.
var guards = []guarded{
	{water.Arsenic, "arsenic", "ug/L", func(w water.State) float64 { return w.Arsenic.UgPerL() }, func(d *Desk) float64 { return 1000 * d.arsenicMost() }, membraneBarrier},
	{water.Nitrate, "nitrate", "mg/L as N", func(w water.State) float64 { return w.Nitrate.MgPerLAsN() }, (*Desk).nitrateMost, membraneBarrier},
	{water.Manganese, "manganese", "mg/L", func(w water.State) float64 { return w.TotalManganese().MgPerL() }, func(d *Desk) float64 { return d.Work.Want.ManganeseHealth.MgPerL() }, membraneBarrier},
	{water.EColi, "E. coli", "per 100 mL", func(w water.State) float64 { return w.EColi.Per100mL() }, func(*Desk) float64 { return germTrace }, germBarrier},
	{water.TotalColiform, "coliform", "per 100 mL", func(w water.State) float64 { return w.Coliform.Per100mL() }, func(*Desk) float64 { return germTrace }, germBarrier},
}

// oneBarrier tells where a limit of health is kept only while one stage works: the
// water is carried through the train without each stage in turn.
func (v voyage) oneBarrier() []Companion {
	var cs []Companion
	for _, g := range guards {
		most := g.most(v.d)
		if g.of(v.draw.Water) <= most || g.of(v.drunk()) > most || g.analyte == water.TotalColiform && v.draw.Water.EColi.Per100mL() > germTrace {
			continue // E. coli speaks for all coliform
		}
		var rests []string
		worst := 0.0
		for k, p := range v.stages() {
			if left := g.of(v.after(lapse{stage: k, gone: true})); left > most {
				rests, worst = append(rests, p.Words()), max(worst, left)
			}
		}
		if len(rests) == 0 {
			continue
		}
		second := g.second
		if slices.Contains(rests, media.ReverseOsmosis.Words()) {
			second = "A unit for the house ahead of the kitchen tap, or other water for whoever is most at risk,"
		}
		cs = append(cs, Companion{"one-barrier", fmt.Sprintf("The limit of health on %s rests on each of these alone: %s. With one out, up to %s %s reach the tap. %s keeps the household when that goes unseen.",
			g.words, strings.Join(rests, ", "), unit.Significant(worst, 2), strings.ReplaceAll(g.unit, "ug", "µg"), second), sole(worst), g.unit, source.Derived, "the train run without each stage in turn"})
	}
	return cs
}
