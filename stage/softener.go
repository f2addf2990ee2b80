package stage

import (
	"fmt"
	"math"

	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// softener is a cation exchanger on sodium: for hardness, and for clear ferrous
// iron within bounds.
type softener struct{}

// The resins.
const (
	Resin8  = "8 % cross-linked resin"
	Resin10 = "10 % cross-linked resin"
)

// The faults of a softener beside those of any vessel.
const (
	ResinFouled Fault = "resin_fouled"
	SaltOut     Fault = "salt_out"
)

func (softener) ID() media.Process { return media.Softener }

func (softener) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.Softener)
	b := layBed(j, z, m)
	x := b.exchange()
	w := b.wash()
	o := Outcome{Settings: Settings{}, Limits: softenerLimits(j, z, x)}
	o.Limits = append(o.Limits, b.resinRates()...)
	o.Limits = w.withLimits(o.Limits, j.Site.Factors)
	o.Limits = o.Limits[:len(o.Limits)-2] // its interval is its own
	o.Limits = append(o.Limits, x.limits(j.Site.Factors)...)
	if z.Turn == Twin {
		o.Limits = append(o.Limits, j.regeneratingAtPeak(z, w.need, w.minutes))
	}
	o.Out, _ = b.soften(x, j.Typical())
	b.describe(o.Settings)
	x.settle(o.Settings, j.Lean)
	o.Washes = []Wash{{
		Waste: WasteBrine, Need: unit.GPM(w.need), Have: unit.GPM(w.have), Minutes: w.minutes, Whole: regenerationMinutes,
		Gallons: unit.Gal(x.gallons), Days: x.days * float64(z.Vessels()) / float64(z.Serving()), Vessels: z.Vessels(), Turn: z.Turn,
	}}
	o.Needs, o.Loss = b.needs(), b.softenerLoss()
	o.Needs.Salt = true
	o.Needs.Floor = unit.Ft2(o.Needs.Floor.Ft2() + brineFloor)
	if j.Lean {
		return o
	}
	o.AtPeak, _ = b.soften(x, j.Peak)
	o.Settings[BackwashGPM], o.Settings[BackwashMin] = w.need, w.minutes
	o.Bill = b.softenerBill(x)
	o.Cautions, o.WillNot = x.cautions(j, z), x.willNot(j)
	x.work(j)
	return o
}

// Kind: common practice.
const (
	regenerationMinutes = 90  // out of service
	brineFloor          = 4.0 // ft2 for the salt
)

// exchange is what the resin is asked and set to, as bare numbers.
type exchange struct {
	setting, low, high float64 // gpg
	salt               float64 // lb a regeneration
	capacity           float64 // grains
	load               float64 // grains a day
	metered            float64 // days by meter, with the reserve kept
	longest            float64 // override, days
	days               float64 // that one charge runs: whole days where it waits for the night
	gallons            float64 // of one regeneration
	saltYear           float64 // lb
	sodium             float64 // added for the hardness, mg/L
	heel               float64 // share of the sites never regenerated
	serving            float64 // vessels whose charge runs at one time
	turn               Turn
	iron               bool // it is there for the iron
}

// exchange works out setting, capacity and interval.
//
//	load = setting · Q,  days = capacity/load - reserve
//
//	setting   compensated hardness in whole grains a gallon
//	capacity  by salt dose, grains
//	Q         gal/day;  reserve days of use kept back, none by a twin: it is
//	          regenerated when its charge is spent, at any hour
//
// Source: trade practice; the arithmetic of any valve's programming sheet.
func (b *bed) exchange() exchange {
	set, j := b.j.Site.Factors, b.j
	x := exchange{salt: b.z.Settings[SaltLb], iron: j.ironRemover()}
	low, mid, high := set.Range(softenerAllowance)
	x.setting = math.Max(1, math.Round(j.Compensated(mid)))
	x.low, x.high = math.Max(1, math.Round(j.Compensated(low))), math.Max(1, math.Round(j.Compensated(high)))
	n, ft3 := float64(b.z.Serving()), b.z.Media.Ft3()
	perFt3 := capacityAt(set, x.salt/ft3)
	if j.Fault == ResinFouled {
		perFt3 *= fouledCapacity
	}
	x.serving, x.turn = n, b.z.Turn
	x.capacity = n * ft3 * perFt3
	x.heel = 1 - math.Min(perFt3/fullCapacity, 0.95)
	x.load = x.setting * j.Daily.GalPerDay()
	x.metered = meteredDays(x.capacity, x.load, reserveOf(set, x.turn))
	x.longest = set.Of(softenerLongest)
	if x.iron {
		x.longest = set.Of(softenerIronDays)
	}
	x.days = x.set(math.Min(x.metered, x.longest))
	x.gallons = ft3 * set.Of(softenerWater)
	x.saltYear = saltAYear(n, x.salt, x.days)
	x.sodium = sodiumFor(j.In.Hardness())
	return x
}

// reserveOf is the days of use kept back: none by twins.
func reserveOf(set source.Set, t Turn) float64 {
	if t == Twin {
		return 0
	}
	return set.Of(softenerReserve)
}

// kept is the reserve as the working shows it.
func (x exchange) kept(set source.Set) source.Factor {
	f := set.In(softenerReserve)
	f.Value = reserveOf(set, x.turn)
	return f
}

// set is the run that a softener is set to: a twin's to the hour, else whole days,
// since it regenerates at night.
func (x exchange) set(days float64) float64 {
	if x.turn == Twin {
		return math.Max(days, shortestRun)
	}
	return math.Max(1, math.Floor(days+1e-9))
}

// shortestRun keeps a division whole, days.
const shortestRun = 0.01

// meteredDays is how long a capacity lasts at a load, less the days kept back.
func meteredDays(capacity, load, reserve float64) float64 {
	return capacity/math.Max(load, 1e-6) - reserve
}

const (
	// fullCapacity is the whole exchange capacity of a cubic foot, grains: 1.9
	// equivalents a litre (from memory: data sheets of 8 % cross-linked resin).
	fullCapacity = 1.9 * grainsPerEquivalent
	// grainsPerEquivalent is the grains a cubic foot of one equivalent a litre:
	// 28.317 L · 50.04 g / 64.799 mg (derived from definitions).
	grainsPerEquivalent = 28.316847 * 50.0435 / 0.06479891
	// sodiumPerHardness is milligrams of sodium for one of hardness as CaCO3.
	sodiumPerHardness = 22.990 / 50.0435
	// Fouled resin: half the capacity, ten times the slip. Kind: judgement.
	fouledCapacity = 0.5
	fouledSlip     = 10.0
)

// Compensated returns the hardness a softener is set to, before rounding, gpg.
//
//	H' = H + f Fe + 2 Mn
//
//	H   hardness, gpg;  Fe ferrous and particulate iron, Mn manganese, mg/L
//	f   gpg for each mg/L of iron
//
// Chemistry alone would ask 0.105 gpg for each mg/L of iron; the rest pays for
// fouling. Range: f of 2 to 5 is in print. Source: trade practice.
func (j *Job) Compensated(allowance float64) float64 {
	w := j.In
	return w.Hardness().GPG() + allowance*(w.Ferrous.MgPerL()+w.Particulate.MgPerL()) +
		j.Site.Factors.Of(softenerManganese)*w.TotalManganese().MgPerL()
}

// ironRemover reports whether the softener is what takes the iron.
func (j *Job) ironRemover() bool {
	return j.In.Ferrous.MgPerL() > j.Site.Factors.Of(softenerForIron)
}

// soften exchanges and catches. What the resin takes is the same share of every
// doubly charged ion, so that iron and manganese leave like the hardness but for
// the slip.
//
//	c = x/(1-x)² · N²/(K q)
//
//	c  left in the water, eq/L;  x share of sites not regenerated (co-current)
//	N  sodium in the outlet, all the cations, eq/L
//	K  selectivity of calcium over sodium;  q sites, eq/L
//
// Error: a factor of three. Source: ion-exchange equilibrium, Helfferich, Ion
// Exchange, 1962; selectivity after Clifford, Water Quality and Treatment (both
// from memory).
func (b *bed) soften(x exchange, flow unit.Flow) (water.State, held) {
	j, in := b.j, b.j.In
	var h held
	w := b.capture(in, math.Exp(-b.depth/b.captureAt(flow, in.Temperature)), &h)
	if j.Fault != SaltOut {
		w = b.trade(w, x, &h)
	}
	if b.bypass == 0 {
		return w, h
	}
	return j.blend(w, in, b.bypass), h
}

// trade is the exchange itself.
func (b *bed) trade(w water.State, x exchange, h *held) water.State {
	set := b.j.Site.Factors
	double := w.Calcium.MgPerL()/eqCa + w.Magnesium.MgPerL()/eqMg + w.Ferrous.MgPerL()/eqFe + w.Manganese.MgPerL()/eqMn
	n := (double + w.Sodium.MgPerL()/eqNa + w.Potassium.MgPerL()/eqK) / mgPerG
	left := x.heel / ((1 - x.heel) * (1 - x.heel)) * n * n / (set.Of(softenerSelectivity) * sitesEqL)
	share := math.Min(1, left*mgPerG/math.Max(double, 1e-9))
	slip := set.Of(softenerSlip)
	if b.j.Fault == ResinFouled {
		share, slip = math.Min(1, share+fouledLeak), math.Min(1, slip*fouledSlip)
	}
	keep := func(c unit.Concentration, s float64, sum *float64) unit.Concentration {
		if sum != nil {
			*sum += c.MgPerL() * (1 - s)
		}
		return unit.MgPerL(c.MgPerL() * s)
	}
	metal := math.Min(1, share+slip)
	before := double
	w.Calcium, w.Magnesium = keep(w.Calcium, share, nil), keep(w.Magnesium, share, nil)
	w.Ferrous, w.Manganese = keep(w.Ferrous, metal, &h.iron), keep(w.Manganese, metal, &h.manganese)
	after := w.Calcium.MgPerL()/eqCa + w.Magnesium.MgPerL()/eqMg + w.Ferrous.MgPerL()/eqFe + w.Manganese.MgPerL()/eqMn
	w.Sodium = unit.MgPerL(w.Sodium.MgPerL() + (before-after)*eqNa)
	return w
}

// Equivalent weights, mg/meq: atomic weights over charge.
const (
	eqCa     = 40.078 / 2
	eqMg     = 24.305 / 2
	eqFe     = 55.845 / 2
	eqMn     = 54.938 / 2
	eqNa     = 22.990
	eqK      = 39.098
	sitesEqL = 1.9 // as fullCapacity
	// fouledLeak is the hardness that passes fouled resin. Kind: judgement.
	fouledLeak = 0.1
)

// softenerLoss is that of resin and valve; rust in it comes out with each wash,
// so that the dirty loss stays near the clean one unless particles come in.
func (b *bed) softenerLoss() Loss {
	clean := b.grain.HeadLoss(unit.GPMPerFt2(b.loading(b.j.Peak)), unit.Inches(b.depth), b.j.In.Temperature)
	mud := b.loadAll() / math.Max(b.hold, 1) * float64(softenerMudDays)
	dirty := hydraulic.DirtyLoss(clean, unit.PSI(b.j.Site.Factors.Of(hydraulic.TerminalLoss)),
		hydraulic.LbPerFt2(math.Min(1, mud)), hydraulic.LbPerFt2(1))
	valve := b.valveLoss(b.each())
	return Loss{Clean: unit.PSI(clean.PSI() + valve), Dirty: unit.PSI(dirty.PSI() + valve)}
}

const softenerMudDays = 3 // days of mud in the resin before a wash with iron: common practice

func (x exchange) cautions(j *Job, z Size) []string {
	cs := []string{"Brine goes to a drain with an air gap, and to a septic system only where the local health department allows it."}
	if x.iron {
		cs = append(cs, fmt.Sprintf("It takes the iron: regenerate every %.0f days whatever the meter says, and dose resin cleaner with the salt.", x.days),
			"Resin cleaner of the reducing kind gives off a choking gas with acid: ventilate, and never mix it.")
	}
	cs = append(cs, x.turns(z)...)
	if j.Site.House.LowSodium {
		cs = append(cs, fmt.Sprintf("It adds about %.0f mg/L of sodium, and someone here must limit sodium: drink from a reverse-osmosis tap or use potassium chloride, on a doctor's word.", x.sodium))
	}
	return cs
}

func (x exchange) willNot(j *Job) []string {
	return []string{
		"It does not take iron that has already turned, bound iron, slime or smell.",
		"It does not cure acid water, and does not make unsafe water safe.",
		fmt.Sprintf("It exchanges hardness for sodium: about %.0f mg/L more.", x.sodium),
	}
}

// settle writes the softener's figures among the settings.
func (x exchange) settle(s Settings, lean bool) {
	s[HardnessGPG], s[SaltLbPerYear], s[DaysBetweenMetered], s[SodiumAddedMgL] = x.setting, x.saltYear, x.metered, x.sodium
	if lean {
		return
	}
	s[HardnessLowGPG], s[HardnessHighGPG], s[SaltLb] = x.low, x.high, x.salt
	s[CapacityGrains], s[LoadGrainsPerDay], s[DaysBetween] = x.capacity, x.load, x.days
	s[BrineGal], s[BrineGalPerYear] = x.gallons, x.serving*x.gallons*daysPerYear/x.days
}

func (x exchange) work(j *Job) {
	if !j.Site.Working.On() {
		return
	}
	w, set, sym := j.In, j.Site.Factors, formula.Sym
	add := j.Site.Working.Add
	add(softenerSettingFormula().Step(HardnessGPG, x.setting, "gpg",
		formula.Syms(sym("H", w.Hardness().GPG(), "gpg"), sym("Fe", w.Ferrous.MgPerL()+w.Particulate.MgPerL(), "mg/L"), sym("Mn", w.TotalManganese().MgPerL(), "mg/L")),
		set.In(softenerAllowance), set.In(softenerManganese)))
	add(softenerDaysFormula().Step(DaysBetweenMetered, x.metered, "days",
		formula.Syms(sym("C", x.capacity, "grains"), sym("H' Q", x.load, "grains/day")), x.kept(set)))
	add(saltFormula().Step(SaltLbPerYear, x.saltYear, "lb",
		formula.Syms(sym("s", x.salt, "lb"), sym("t", x.days, "days"), sym("n", x.serving, ""))))
	add(sodiumFormula().Step(SodiumAddedMgL, x.sodium, "mg/L", formula.Syms(sym("H", w.Hardness().MgPerLAsCaCO3(), "mg/L as CaCO3"))))
}

func (softener) Ways() []Way {
	return []Way{
		{BypassOpen, "the bypass stands open or half open", "hardness and iron between inlet and good outlet", "close the bypass"},
		{ResinFouled, "the resin is fouled with iron or slime", "hard water before the meter runs out, iron at the outlet, orange first draw after regeneration", "reducing resin cleaner, longer backwash, more salt; find why iron reaches it turned"},
		{SaltOut, "no salt, a salt bridge or no brine draw", "outlet as hard as the inlet, iron passes", "fill, break the bridge, clean the injector; regenerate twice"},
		{TubeLeak, "the riser tube or its seal leaks", "a steady small share of hard water at every flow", "reseat the riser and renew the seal"},
		{BackwashWeak, "the backwash does not lift the resin", "pressure loss that grows, rust in the first draw", "measure the drain flow; fit the right flow control"},
	}
}
