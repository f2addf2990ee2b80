package stage

import (
	"math"

	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
)

// softenerVessels are the common sizes, 1.0 to 3.0 ft3.
var softenerVessels = [...]string{"9 x 48", "10 x 54", "12 x 52", "13 x 54", "14 x 65"}

// Sizes returns the smallest softener for the house at the usual salt dose: a larger
// one saves a little salt and costs floor, resin and rinse. Where no single vessel of
// a house does, larger and more of them are tried.
func (softener) Sizes(j *Job) []Size {
	m := fillingOf(media.Softener)
	var all []softenerChoice
	for _, v := range vesselsNamed(softenerVessels[:]...) {
		c := j.softenerChoice(m, v, 1, InTurn)
		if c.short >= 1-1e-9 && !(j.commercial() && !c.modest) {
			return []Size{c.size}
		}
		all = append(all, c)
	}
	return j.workSizes(m, all)
}

// saltDose is the salt of one regeneration, lb/ft3: no less where there is iron to
// carry off than the least that does so.
func (j *Job) saltDose() float64 {
	dose := j.Site.Factors.Of(softenerSalt)
	if j.ironRemover() {
		return math.Max(dose, j.Site.Factors.Of(softenerIronSalt))
	}
	return dose
}

// softenerChoice is a size and how near it comes to doing: above one it does. Modest
// says that it takes no more pressure than one stage may.
type softenerChoice struct {
	size   Size
	short  float64
	modest bool
}

// shortfall is the least of the steady rate, that of the vessels left while one is
// regenerated, and the interval, over what is asked.
func shortfall(b *bed) float64 {
	set := b.j.Site.Factors
	steady := set.Of(softenerRate)
	rate := steady * b.z.Media.Ft3() * float64(b.z.Serving()) / math.Max(b.j.Peak.GPM(), leastFlow)
	return math.Min(math.Min(rate, b.whileAway(steady)), b.exchange().metered/b.z.leastDays(set))
}

func resinPart(mode string) media.Part {
	if mode == Resin10 {
		return media.Resin10Ft3
	}
	return media.ResinFt3
}

// capacityAt reads the capacity of a cubic foot off the salt dose, on straight
// lines between the doses in print.
//
// Range: 6 to 15 lb/ft3; outside it the nearest end holds. Error: 10 %, and more
// on fouled resin. Source: the factors.
func capacityAt(set source.Set, dose float64) float64 {
	x := [...]float64{6, 8, 10, 15}
	y := [...]float64{set.Of(softenerCapacity6), set.Of(softenerCapacity8), set.Of(softenerCapacity10), set.Of(softenerCapacity15)}
	if dose <= x[0] {
		return y[0] * math.Max(dose, 0) / x[0]
	}
	for i := 1; i < len(x); i++ {
		if dose <= x[i] {
			return y[i-1] + (y[i]-y[i-1])*(dose-x[i-1])/(x[i]-x[i-1])
		}
	}
	return y[len(y)-1]
}

// softenerLimits are those of the water: what is in print for the process, and
// what the trade asks of a softener that takes iron itself.
func softenerLimits(j *Job, z Size, x exchange) []Limit {
	set := j.Site.Factors
	ls := Envelope(j, media.Softener)
	if z.Mode == Resin10 {
		ls = drop(ls, true, "free-chlorine")
	}
	if !x.iron {
		ls = drop(ls, true, "oxygen")
	}
	most := func(id string, have float64, f source.Factor, soft bool, say string) Limit {
		f = set.In(f)
		return Limit{ID: id, Have: have, Need: f.Value, Unit: "mg/L", AtMost: true, Soft: soft, Say: say, Kind: f.Kind, From: f.From}
	}
	rust := j.In.Particulate.MgPerL()
	ls = append(ls,
		most("particulate_iron", rust, softenerRustCaution, true, "some iron has turned: clean the resin often"))
	if x.iron {
		ls = append(ls, most("oxygen", j.In.Oxygen.MgPerL(), softenerOxygen, false, "oxygen turns the iron on the resin"))
	}
	if z.Mode != Resin10 {
		ls = append(ls, most("free_chlorine", j.In.FreeChlorine.MgPerLAsCl2(), softenerChlorine, false, "chlorine breaks 8 % resin: take 10 %, or carbon before it"))
	}
	slime := most("iron_bacteria", j.In.Bacteria, softenerBacteria, false, "slime fouls the resin: cure the well and chlorinate first")
	slime.Unit = "chance"
	if !j.disinfected() {
		ls = append(ls, slime)
	}
	return ls
}

// disinfected reports whether a free residual or carbon behind one keeps slime
// from what follows.
func (j *Job) disinfected() bool {
	return j.Has(media.ChlorineFeed) || j.In.FreeChlorine.MgPerLAsCl2() >= leastResidual
}

// resinRates are the limits of the flow through the resin.
func (b *bed) resinRates() []Limit {
	set := b.j.Site.Factors
	refuse, caution := set.In(softenerPeakRate), set.In(softenerRate)
	have := b.j.Peak.GPM() / (b.z.Media.Ft3() * float64(b.z.Serving()))
	ls := []Limit{
		{ID: "service_rate", Have: have, Need: refuse.Value, Unit: "gpm/ft3", AtMost: true, Say: "too fast at peak: hardness and iron leak", Kind: refuse.Kind, From: refuse.From},
		{ID: "service_rate", Have: have, Need: caution.Value, Unit: "gpm/ft3", AtMost: true, Soft: true, Say: "fast at peak for steady use", Kind: caution.Kind, From: caution.From},
	}
	return b.j.whileWashing(ls, b.z, b.z.Media.Ft3(), refuse, "gpm/ft3")
}

// softenerBill is what a softener asks to be bought.
func (b *bed) softenerBill(x exchange) cost.Bill {
	n, ft3 := float64(b.z.Vessels()), b.z.Media.Ft3()
	resin := resinPart(b.z.Mode)
	low, mid, high := b.j.Site.Factors.Range(b.m.Life)
	if x.iron {
		low, mid, high = b.j.Site.Factors.Range(softenerIronLife)
	}
	life := cost.Years{Low: low, Mid: mid, High: high}
	bill := cost.Bill{
		First: append(b.vesselLines(resin),
			cost.Line{Part: media.BrineTank, Amount: brineTanks(x.salt), Why: "salt"},
			cost.Line{Part: media.Connections, Amount: n, Why: "bypass, sample taps and gauges"}, cost.Line{Part: media.DrainLine, Amount: 1, Why: "drain with an air gap"},
			cost.Line{Part: media.LabourHour, Amount: filterHours, Why: "fitting and start-up"},
		),
		Yearly: []cost.Use{{Part: media.SaltLb, PerYear: x.saltYear, Why: "regeneration"}},
		Renewals: []cost.Renewal{
			{Part: resin, Amount: n * ft3, EveryYears: life, Why: "life of the resin"},
			{Part: media.LabourHour, Amount: n * rebedHours, EveryYears: life, Why: "new resin"},
		},
		Hours: n*softenerUpkeep + x.saltYear*saltHours,
	}
	if x.iron {
		lb := b.j.Site.Factors.Of(softenerCleaner) * n * ft3 * monthsPerYear / ozPerLb
		bill.Yearly = append(bill.Yearly, cost.Use{Part: media.ResinCleanerLb, PerYear: lb, Why: "iron on the resin"})
		bill.Hours += cleanerUpkeep
	}
	return bill
}

// Hours of the owner. Kind: common practice.
const (
	monthsPerYear  = 12
	softenerUpkeep = 1.0        // hours a year: clock and hardness test
	saltHours      = 0.2 / 40.0 // hours a pound: twelve minutes a 40 lb bag, fetched and poured
	cleanerUpkeep  = 1.0        // hours a year
)
