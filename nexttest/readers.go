package nexttest

import (
	"math"
	"math/rand/v2"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// figure is one part of a reading: what it is of a draw, and the method.
type figure struct {
	part Part
	of   func(d *cloud.Draw) float64
	m    method
}

func figures(fs ...figure) ([]Part, Reader) {
	parts := make([]Part, len(fs))
	for i, f := range fs {
		parts[i] = f.part
	}
	return parts, func(d *cloud.Draw, r *rand.Rand, got []float64) {
		for i, f := range fs {
			got[i] = f.m.read(f.of(d), r)
		}
	}
}

func mgL(name string) Part { return Part{name, "mg/L"} }

// The figures of a draw.
func ferrous(d *cloud.Draw) float64   { return d.Water.Ferrous.MgPerL() }
func iron(d *cloud.Draw) float64      { return d.Water.TotalIron().MgPerL() }
func dissolved(d *cloud.Draw) float64 { return d.Water.Ferrous.MgPerL() + d.Water.Bound.MgPerL() }
func bound(d *cloud.Draw) float64     { return d.Water.Bound.MgPerL() }
func manganese(d *cloud.Draw) float64 { return d.Water.TotalManganese().MgPerL() }
func inSolution(d *cloud.Draw) float64 {
	return d.Water.Manganese.MgPerL()
}
func ph(d *cloud.Draw) float64         { return d.Water.PH.Value() }
func alkalinity(d *cloud.Draw) float64 { return d.Water.Alkalinity.MgPerLAsCaCO3() }
func hardness(d *cloud.Draw) float64   { return d.Water.Hardness().MgPerLAsCaCO3() }
func oxygen(d *cloud.Draw) float64     { return d.Water.Oxygen.MgPerL() }
func sulfide(d *cloud.Draw) float64    { return d.Water.Sulfide.MgPerLAsH2S() }
func ammonia(d *cloud.Draw) float64    { return d.Water.Ammonia.MgPerLAsN() }
func nitrate(d *cloud.Draw) float64    { return d.Water.Nitrate.MgPerLAsN() }
func carbon(d *cloud.Draw) float64     { return d.Water.OrganicCarbon.MgPerL() }
func arsenic(d *cloud.Draw) float64    { return d.Water.Arsenic.MgPerL() }
func sodium(d *cloud.Draw) float64     { return d.Water.Sodium.MgPerL() }
func chloride(d *cloud.Draw) float64   { return d.Water.Chloride.MgPerL() }
func sulfate(d *cloud.Draw) float64    { return d.Water.Sulfate.MgPerL() }
func fluoride(d *cloud.Draw) float64   { return d.Water.Fluoride.MgPerL() }
func yield(d *cloud.Draw) float64      { return d.Supply.Hydraulic.Yield.GPM() }
func recovery(d *cloud.Draw) float64   { return d.Supply.Recovery }
func demand(d *cloud.Draw) float64     { return Demand(chem.Hypochlorite, d).MgPerL() }

// bucketAt is the pressure at which a pump's flow is measured by bucket.
const bucketAt = 30 // psi: the least that a filter wash is judged at

func pumpFlow(d *cloud.Draw) float64 {
	return d.Supply.Hydraulic.Pump.FlowAt(unit.PSI(bucketAt)).GPM()
}

// inAnotherSeason is iron read once more at another time of the year: with the
// first it brackets the year, so that half of the swing stands in its error.
func (k kit) inAnotherSeason(share source.Factor, limit source.Factor) method {
	return method{share: math.Hypot(k.set.Of(share), k.set.Of(borrowed("cloud_season_iron"))/2), limit: k.set.Of(limit)}
}

// cultured is a culture of first draw: the class of the day on which it turns, 3 within
// three days, 2 by day seven, 1 later, 0 never.
func (k kit) cultured() ([]Part, Reader) {
	likelier := [4]float64{
		k.set.Of(borrowed("cloud_likelier_culture_none")), k.set.Of(borrowed("cloud_likelier_culture_slow")),
		k.set.Of(borrowed("cloud_likelier_culture_middle")), k.set.Of(borrowed("cloud_likelier_culture_fast")),
	}
	without := withoutGrowth
	var with [4]float64
	sum := 0.0
	for c := range with {
		with[c] = without[c] * likelier[c]
		sum += with[c]
	}
	return []Part{{"culture by the day it turns", "class"}}, func(d *cloud.Draw, r *rand.Rand, got []float64) {
		p, total := without, 1.0
		if d.World.Bacteria {
			p, total = with, sum
		}
		u, c := r.Float64()*total, 0
		for ; c < 3 && u >= p[c]; c++ {
			u -= p[c]
		}
		got[0] = float64(c)
	}
}

// withoutGrowth is how often a culture of a well without iron bacteria turns
// never, late, by day seven and within three days: the shares under which the
// likelihood ratios of the four (0.3, 1.2, 2.5, 6) give shares with bacteria that
// add to one. Two are free; the late ones are given to ordinary soil flora.
// Kind: derived, with judgement on the two.
var withoutGrowth = [4]float64{0.69, 0.15, 0.10, 0.06}

// microscope is sheaths and stalks looked for in slime.
func (k kit) microscope() ([]Part, Reader) {
	l := k.look("sheaths")
	return []Part{{Name: "sheaths or stalks seen"}}, func(d *cloud.Draw, r *rand.Rand, got []float64) {
		got[0] = l.read(d.World.Bacteria, r)
	}
}

// settled is a jar looked at at once and after a day.
func (k kit) settled() ([]Part, Reader) {
	clear, red, stays, threads := k.look("clear_then_rust"), k.look("red_at_once"), k.look("tea_colour"), k.look("feathers")
	share := k.set.Of(jarShare)
	return []Part{{Name: "clear, then rust"}, {Name: "rust at once"}, {Name: "colour that stays"}, {Name: "threads"}},
		func(d *cloud.Draw, r *rand.Rand, got []float64) {
			total := math.Max(iron(d), 1e-9)
			got[0] = clear.read(ferrous(d) > share*total, r)
			got[1] = red.read(d.Water.Particulate.MgPerL() > share*total, r)
			got[2] = stays.read(bound(d) > share*total, r)
			got[3] = threads.read(d.World.Bacteria, r)
		}
}

// bleached is a jar with a few drops of bleach.
func (k kit) bleached() ([]Part, Reader) {
	l, share := k.look("bleach_orange"), k.set.Of(jarShare)
	return []Part{{Name: "turns orange"}}, func(d *cloud.Draw, r *rand.Rand, got []float64) {
		got[0] = l.read(ferrous(d) > share*math.Max(iron(d), 1e-9), r)
	}
}

// germs are coliform and E. coli, present or absent.
func germs() ([]Part, Reader) {
	return []Part{{Name: "coliform present"}, {Name: "E. coli present"}}, func(d *cloud.Draw, r *rand.Rand, got []float64) {
		got[0], got[1] = present(d.Water.Coliform, r), present(d.Water.EColi, r)
	}
}

// panel are the figures of a basic well panel, and of a wide one.
func (k kit) panel(wide bool) ([]Part, Reader) {
	lab, ion := borrowed("cloud_error_lab_metal"), k.method(borrowed("cloud_error_lab_ion"), "ion", limitLab)
	fs := []figure{
		{mgL("total iron"), iron, k.method(lab, "iron", limitLab)}, {mgL("total manganese"), manganese, k.method(lab, "manganese", limitLab)},
		{Part{"pH of the bottle", "pH"}, ph, k.phMethod(errBottlePH)},
		{Part{"alkalinity", "mg/L as CaCO3"}, alkalinity, k.method(borrowed("cloud_error_alkalinity"), "ion", limitLab)},
		{Part{"hardness", "mg/L as CaCO3"}, hardness, k.method(borrowed("cloud_error_hardness"), "ion", limitLab)},
		{mgL("sodium"), sodium, ion}, {mgL("chloride"), chloride, ion}, {mgL("sulfate"), sulfate, ion},
		{Part{"nitrate", "mg/L as N"}, nitrate, ion},
	}
	if wide {
		fs = append(fs, figure{mgL("arsenic"), arsenic, k.method(borrowed("cloud_error_trace"), "ion", limitTrace)}, figure{mgL("fluoride"), fluoride, ion})
	}
	parts, read := figures(fs...)
	germParts, germ := germs()
	return append(parts, germParts...), func(d *cloud.Draw, r *rand.Rand, got []float64) {
		read(d, r, got)
		germ(d, r, got[len(parts):])
	}
}

// panelWants is what the bottles of a panel are for.
func panelWants(wide bool) []Want {
	ws := []Want{
		{Analyte: water.PH}, {Analyte: water.Alkalinity}, {Analyte: water.TDS}, {Analyte: water.Chloride}, {Analyte: water.Sulfate},
		{Analyte: water.Hardness, Fraction: water.Total}, {Analyte: water.Sodium, Fraction: water.Total}, {Analyte: water.Iron, Fraction: water.Total},
		{Analyte: water.Manganese, Fraction: water.Total}, {Analyte: water.Nitrate}, {Analyte: water.TotalColiform}, {Analyte: water.EColi},
	}
	if wide {
		ws = append(ws, Want{Analyte: water.Arsenic, Fraction: water.Total}, Want{Analyte: water.Uranium}, Want{Analyte: water.Fluoride},
			Want{Analyte: water.Lead, FirstDraw: true}, Want{Analyte: water.Copper, FirstDraw: true})
	}
	return ws
}
