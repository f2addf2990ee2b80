package stage

import (
	"math"
	"slices"

	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// ultraviolet is a lamp in a chamber: for organisms, in clear water only.
type ultraviolet struct{}

// The faults of ultraviolet.
const (
	LampOut      Fault = "lamp_out"
	SleeveCoated Fault = "sleeve_coated"
)

func (ultraviolet) ID() media.Process { return media.Ultraviolet }

// Sizes returns the lamps on the price list.
func (ultraviolet) Sizes(j *Job) []Size {
	return []Size{{Label: "12 gpm", Rated: unit.GPM(12), Count: 1}, {Label: "18 gpm", Rated: unit.GPM(18), Count: 1}}
}

func (ultraviolet) Run(j *Job, z Size) Outcome {
	set := j.Site.Factors
	t := transmittance(set, j.In)
	rated := lampFlow(z.Rated.GPM(), t, unit.Inches(lightPath/cmPerInch))
	o := Outcome{Out: j.In, Limits: lampLimits(j, t, rated)}
	if lit(j, o.Limits) {
		o.Out.Coliform, o.Out.EColi = unit.Per100mL(0), unit.Per100mL(0)
	}
	o.Loss = Loss{Clean: unit.PSI(lampLoss), Dirty: unit.PSI(lampLoss)}
	o.Needs = Needs{Height: unit.Inches(60), Floor: unit.Ft2(2), Power: true, NoFrost: true}
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Settings = Settings{RatedFlowGPM: rated, LampDoseMJ: set.Of(lampDose) * rated / math.Max(j.Peak.GPM(), leastFlow)}
	lamp := media.UltravioletUnit
	if z.Rated.GPM() > 12 {
		lamp = media.LargeUltraviolet
	}
	o.Bill = cost.Bill{
		First: []cost.Line{{Part: lamp, Amount: 1, Why: "lamp and chamber"}, {Part: media.ShutOffValve, Amount: 1, Why: "shuts the water off when the light is weak"},
			{Part: media.LargeHousing, Amount: 1, Why: "5 µm guard ahead of the lamp"}, {Part: media.LargeElement, Amount: 1, Why: "first element"},
			{Part: media.Connections, Amount: 1, Why: "bypass and sample taps"}, {Part: media.LabourHour, Amount: filterHours, Why: "fitting; disinfecting the pipes behind"}},
		Yearly: []cost.Use{{Part: media.UltravioletLamp, PerYear: 1, Why: "9,000 hours"}, {Part: media.LargeElement, PerYear: 2, Why: "guard elements"},
			{Part: media.ElectricityKWh, PerYear: lampKW * hoursPerYear, Why: "lamp"}},
		Renewals: []cost.Renewal{{Part: media.UltravioletSleeve, Amount: 1, EveryYears: cost.Years{Low: 2, Mid: 2.5, High: 3}, Why: "sleeve"}},
		Hours:    lampUpkeep,
	}
	o.Cautions = []string{
		"Disinfect the house pipes behind the lamp at the start: it leaves nothing in the water.",
		"The light burns eyes: never look at a lit lamp. Spent lamps hold mercury.",
		"Wait a minute after power returns; clean the sleeve each 3 to 6 months.",
	}
	o.WillNot = []string{
		"It kills organisms where it shines and nothing else: no iron, no smell, no chemical.",
		"It does not touch the well, nor slime in the pipes behind it.",
	}
	j.workLamp(z, t, rated)
	return o
}

// Kind: common practice unless said.
const (
	lightPath          = 2.5  // cm across the annulus of a household chamber: judgement
	ratedTransmittance = 0.95 // at which household lamps are rated
	cmPerInch          = 2.54 // definition
	lampKW             = 0.06
	hoursPerYear       = 8766
	lampUpkeep         = 2.0 // hours of the owner a year
	lampLoss           = 1.0 // psi
)

// Derate returns the mean light across a chamber as a share of that at the
// sleeve.
//
//	f = (1 - T^L) / (-L ln T)
//
//	T  transmittance of one centimetre, 0 to 1;  L  light path, cm
//
// The flow a lamp is good for falls with f. Range: T from 0.5 to 0.99; a planar
// estimate: the maker's own curve rules. Source: Beer-Lambert law, averaged.
func Derate(t float64, path unit.Length) float64 {
	l := path.Inches() * cmPerInch
	if t >= 1 {
		return 1
	}
	if t <= 0 {
		return 0
	}
	return (1 - math.Pow(t, l)) / (-l * math.Log(t))
}

// transmittance estimates the light that passes one centimetre.
//
//	T = 10^-(s TOC/100 + a Fe)
//
//	s  specific absorbance of the organic matter, L/mg/m;  TOC mg/L
//	a  absorbance of ferric iron, 1/cm for each mg/L;  Fe particulate and bound, mg/L
//
// Error: wide; a laboratory reads it for a few dollars. Source: definition of
// absorbance; the two constants with their factors.
func transmittance(set source.Set, w water.State) float64 {
	a := set.Of(organicAbsorbance)*w.OrganicCarbon.MgPerL()/100 +
		set.Of(ironAbsorbance)*(w.Particulate.MgPerL()+w.Bound.MgPerL())
	return math.Pow(10, -a)
}

// lampLimits are those of the water at the lamp itself. Hardness and turbidity
// count as refusals at the feed limits: a lamp whose sleeve scales or whose water
// shades the organisms does not disinfect.
func lampLimits(j *Job, t, rated float64) []Limit {
	ls := Envelope(j, media.Ultraviolet)
	for i, l := range ls {
		if l.ID == "hardness" || l.ID == "turbidity" {
			ls[i].Soft = false
		}
	}
	f := j.Site.Factors.In(leastTransmittance)
	return append(ls,
		Limit{ID: "transmittance", Have: 100 * t, Need: f.Value, Unit: "%", Say: "the water is too dark for the light", Kind: f.Kind, From: f.From},
		Limit{ID: "rated_flow", Have: rated, Need: j.Peak.GPM(), Unit: "gpm", Say: "the peak runs through faster than the dose allows",
			Kind: lampDose.Kind, From: lampDose.From})
}

// lit reports whether the lamp does its work.
func lit(j *Job, ls []Limit) bool {
	_, fails := FirstHard(ls)
	return !fails && !slices.Contains([]Fault{LampOut, SleeveCoated, BypassOpen}, j.Fault)
}

func (j *Job) workLamp(z Size, t, rated float64) {
	if !j.Site.Working.On() {
		return
	}
	j.Site.Working.Add(lampFormula().Step(RatedFlowGPM, rated, "gpm",
		formula.Syms(formula.Sym("Qr", z.Rated.GPM(), "gpm"), formula.Sym("T", t, ""), formula.Sym("L", lightPath, "cm")),
		j.Site.Factors.In(organicAbsorbance), j.Site.Factors.In(ironAbsorbance)))
}

func (ultraviolet) Ways() []Way {
	return []Way{
		{LampOut, "the lamp is dark, old or unplugged", "alarm, or coliform behind the lamp", "renew the lamp, shock the pipes behind, test again"},
		{SleeveCoated, "the sleeve is coated with iron or scale", "orange or white sleeve, low light", "clean or renew it; mend what stands ahead"},
		{BypassOpen, "the bypass stands open", "coliform behind the lamp with a bright lamp", "close it, shock the pipes behind, test again"},
	}
}

// lampFactors are those of ultraviolet.
var lampFactors = []source.Factor{lampDose, leastTransmittance, organicAbsorbance, ironAbsorbance}

var (
	lampDose = source.Factor{
		Name: "ultraviolet_dose", What: "ultraviolet: dose at the rated flow, end of lamp life", Unit: "mJ/cm2",
		Value: 40, Low: 16, High: 40, Kind: source.FromMemory, From: "NSF/ANSI 55 class A (from memory)",
	}
	leastTransmittance = source.Factor{
		Name: "ultraviolet_transmittance", What: "ultraviolet: least transmittance of one centimetre", Unit: "%",
		Value: 75, Low: 70, High: 85, Kind: source.FromMemory, From: "feed limit of household units (from memory)",
	}
	organicAbsorbance = source.Factor{
		Name: "ultraviolet_organic_absorbance", What: "ultraviolet: absorbance at 254 nm of organic carbon", Unit: "L/mg/m",
		Value: 2.5, Low: 1, High: 4.5, Kind: source.FromMemory, From: "range of specific ultraviolet absorbance of ground water (from memory)",
	}
	ironAbsorbance = source.Factor{
		Name: "ultraviolet_iron_absorbance", What: "ultraviolet: absorbance at 254 nm of ferric iron", Unit: "1/cm per mg/L",
		Value: 0.06, Low: 0.03, High: 0.08, Kind: source.FromMemory, From: "molar absorbance of ferric iron about 3,300 L/mol/cm (from memory)",
	}
)
