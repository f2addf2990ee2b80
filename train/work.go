package train

import (
	"math"

	"wellwright/cloud"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// Work is one well's search: the plausible waters, the place, and what is wanted.
type Work struct {
	Site  *stage.Site
	Draws []cloud.Draw // spread draws: about twenty waters that stand for all; weights add to one
	Whole []cloud.Draw // every plausible water, of equal weight; nil: there are only the spread ones
	Want  Targets

	Worth       func(stage.Outcome) float64            // cost of a stage over the years, for the choice of size; nil: fewest cautions
	Fails       func([]Placed) (chance, calls float64) // chance of failing in one water, and callbacks; nil: hard limits alone
	Full        int                                    // draws of the whole cloud that are worked out with all settings and the bill; in the rest a stage gives stage.LeanSettings
	Leaves      []func(*stage.Outcome) float64         // figures kept of every stage in every plausible water
	FailureCost float64                                // of a stage that breaks a hard limit in some other water
	given       Given                                  // sizes asked for
	middle      int
	core        []int       // spread draws that are always carried, the middle first
	share       []float64   // by spread draw: weight of those that a core draw stands for; 0 of others
	peaks       []unit.Flow // by spread draw: most that the house can pull
	available   []unit.Flow // by spread draw: ten minutes of its supply at 30 psi
}

// Targets is what the water at the kitchen tap should meet.
type Targets struct {
	Iron, Manganese unit.Concentration
	ManganeseHealth unit.Concentration
	Sulfide         unit.Sulfide
	PHLow, PHHigh   unit.PH
	Hardness        unit.Hardness // above it the house is softened
	Chlorine        unit.Chlorine // most at the tap
	Sodium          unit.Concentration
	Coloured        bool               // tea colour was seen
	Nitrate         unit.Nitrogen      // most where people drink; none: not measured above the limit
	Arsenic         unit.Concentration // most where people drink; none: not measured above the limit
	Radon           unit.Radioactivity // advice for the whole house
}

// aboveNitrate and aboveArsenic report whether a water is above a limit of health
// that holds here.
func (t Targets) aboveNitrate(w *water.State) bool {
	return t.Nitrate.MgPerLAsN() > 0 && w.Nitrate.MgPerLAsN() > t.Nitrate.MgPerLAsN()
}
func (t Targets) aboveArsenic(w *water.State) bool {
	return t.Arsenic.MgPerL() > 0 && w.Arsenic.MgPerL() > t.Arsenic.MgPerL()
}

// NewWork makes a search; the draws must hold one named cloud.Middle, else the
// first is taken for it.
func NewWork(site *stage.Site, draws []cloud.Draw, want Targets) *Work {
	w := &Work{Site: site, Draws: draws, Want: want}
	for i, d := range draws {
		if d.Name == cloud.Middle {
			w.middle = i
			break
		}
	}
	for i := range draws {
		d := &draws[i]
		w.available = append(w.available, d.Supply.Hydraulic.Available(peakMinutes, unitPSI30))
		w.peaks = append(w.peaks, peakOf(d, &d.Supply.Hydraulic, d.Supply.Raw.Peak))
	}
	w.choose()
	return w
}

// Middle is the index of the likeliest draw.
func (w *Work) Middle() int { return w.middle }

// Core lists the spread draws that a search always carries, the middle first.
func (w *Work) Core() []int { return w.core }

// Share is the weight of the spread draws that a core draw stands for.
func (w *Work) Share(i int) float64 { return w.share[i] }

// coreSize is how many spread draws a search always carries: enough for a size
// to be chosen by more than the middle, few enough to be quick.
const coreSize = 4

// choose picks the core: the middle, then each time the draw that is furthest
// from those picked, weight counted. Every draw is stood for by the nearest.
func (w *Work) choose() {
	n := len(w.Draws)
	places := make([][]float64, n)
	nearest, home := make([]float64, n), make([]int, n)
	for i, d := range w.Draws {
		places[i], nearest[i] = w.place(i, d), math.Inf(1)
	}
	for next := w.middle; next >= 0 && len(w.core) < coreOf(n); {
		w.core = append(w.core, next)
		far := 0.0
		pick := -1
		for i := range places {
			if x := apart(places[i], places[next]); x < nearest[i] {
				nearest[i], home[i] = x, next
			}
			if x := nearest[i] * math.Sqrt(w.Draws[i].Weight); x > far {
				far, pick = x, i
			}
		}
		next = pick
	}
	w.share = make([]float64, n)
	for i, d := range w.Draws {
		w.share[home[i]] += d.Weight
	}
}

// coreOf is the size of the core of n draws: a handful is carried whole.
func coreOf(n int) int {
	if n <= coreSize+2 {
		return n
	}
	return coreSize
}

// place is where a draw stands among the waters and supplies, in logarithms, by
// what trains turn on.
func (w *Work) place(i int, d cloud.Draw) []float64 {
	x := d.Water
	logs := []float64{
		0.1 + x.Ferrous.MgPerL(), 0.1 + x.Particulate.MgPerL() + x.Bound.MgPerL(), 0.05 + x.TotalManganese().MgPerL(), 0.05 + x.Sulfide.MgPerLAsH2S(),
		0.1 + x.OrganicCarbon.MgPerL(), 0.05 + x.Ammonia.MgPerLAsN(), 1 + x.Hardness().GPG(), 0.5 + w.available[i].GPM(), 0.3 + d.Supply.Hydraulic.Yield.GPM(),
		1 + d.Supply.Peak.GPM(), 30 + d.Supply.Daily.GalPerDay(), 0.3 + x.Bacteria,
	}
	for k, v := range logs {
		logs[k] = math.Log(v)
	}
	return append(logs, x.PH.Value()) // a unit of pH counts as a factor of e
}

// apart is the square of the distance of two places.
func apart(a, b []float64) float64 {
	sum := 0.0
	for k := range a {
		sum += (a[k] - b[k]) * (a[k] - b[k])
	}
	return sum
}
