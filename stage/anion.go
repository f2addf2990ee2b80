package stage

import (
	"fmt"
	"math"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// anionBed is a bed of strong-base resin at work: what its regeneration wins back,
// how long it runs, and what leaves it meanwhile. Amounts are those of all vessels.
type anionBed struct {
	*bed
	kind     chem.Resin
	capacity float64          // eq/L, as regenerated
	run      chem.ExchangeRun // at that capacity
	salt     float64          // lb a regeneration of one vessel
	gallons  float64          // run that it is set to
	metered  float64          // days
	days     float64          // whole days
	ends     float64          // bed volumes of the set run
}

// AnionOverrun is the fault of an exchanger that runs past its meter.
const AnionOverrun Fault = "overrun"

// newAnionBed lays out a bed whose resin takes up a capacity, eq/L.
func newAnionBed(b *bed, kind chem.Resin, capacity float64) *anionBed {
	a := &anionBed{bed: b, kind: kind, capacity: capacity, salt: b.z.Settings[SaltLb]}
	if b.j.Fault == ResinFouled {
		a.capacity *= fouledCapacity
	}
	a.run = chem.AnionRun(b.j.Site.Factors, kind, chem.EqPerL(a.capacity), anionsOf(b.j.In))
	return a
}

// anionsOf are the anions of a water that resin trades. All alkalinity counts as
// bicarbonate.
func anionsOf(w water.State) chem.Anions {
	return chem.Anions{Sulfate: w.Sulfate, Nitrate: w.Nitrate, Chloride: w.Chloride, Bicarbonate: w.Alkalinity}
}

// resinGal is the room of the resin as bought, gal.
func (a *anionBed) resinGal() float64 {
	return float64(max(1, a.z.Count)) * a.z.Media.Gal()
}

// setRun sets the run: gallons, days and bed volumes.
func (a *anionBed) setRun(gallons, longest float64) {
	a.metered = gallons / math.Max(a.j.Daily.GalPerDay(), leastFlow)
	a.days = math.Max(1, math.Floor(math.Min(a.metered, longest)+1e-9))
	a.gallons = math.Min(gallons, a.days*a.j.Daily.GalPerDay())
	a.ends = a.gallons / a.resinGal()
}

// mean and fresh are the water of a whole run mixed, and that just after
// regeneration, when bicarbonate too stays on the resin and the pH is lowest.
func (a *anionBed) mean() water.State {
	if a.j.Fault == AnionOverrun {
		return a.traded(a.run.At(a.pastRun()))
	}
	return a.traded(a.run.Mean(a.ends))
}

// pastRun is a throughput past the run: between the fronts of nitrate and sulfate
// where nitrate goes first.
func (a *anionBed) pastRun() float64 {
	nitrate, sulfate := a.run.NitrateLeaves()
	if sulfate > nitrate {
		return (nitrate + math.Min(sulfate, 2*nitrate)) / 2
	}
	return nitrate * 1.5
}

func (a *anionBed) fresh() water.State {
	if a.j.Fault == AnionOverrun {
		return a.mean()
	}
	return a.traded(a.run.At(0))
}

// traded puts the anions that leave into the water. Slow grains and uneven flow let
// a share through as it came. Charge for charge is traded; carbonic acid stays, so
// that the pH falls with the bicarbonate.
func (a *anionBed) traded(out chem.Anions) water.State {
	j, w := a.j, a.j.In
	var h held
	w = a.capture(w, math.Exp(-a.depth/a.captureAt(j.Typical(), w.Temperature)), &h)
	if j.Fault == SaltOut {
		return w // in balance with the raw water: nothing is traded
	}
	s := j.Site.Factors.Of(anionSlip)
	part := func(in, out float64) float64 { return in*s + out*(1-s) }
	before := w
	w.Sulfate = unit.MgPerL(part(w.Sulfate.MgPerL(), out.Sulfate.MgPerL()))
	w.Nitrate = unit.MgPerLAsN(part(w.Nitrate.MgPerLAsN(), out.Nitrate.MgPerLAsN()))
	w.Chloride = unit.MgPerL(part(w.Chloride.MgPerL(), out.Chloride.MgPerL()))
	w.Alkalinity = unit.AlkalinityMeq(part(w.Alkalinity.MeqPerL(), out.Bicarbonate.MeqPerL()))
	k := j.carbonate(before)
	carbon := k.Carbon(before.PH, before.Alkalinity).MolPerL()
	carbon += (w.Alkalinity.MeqPerL() - before.Alkalinity.MeqPerL()) / mgPerG
	w.PH = k.PH(w.Alkalinity, chem.MolPerL(math.Max(0, carbon)))
	if a.bypass == 0 {
		return w
	}
	return j.blend(w, j.In, a.bypass)
}

// anionRates are the limits of flow and backwash.
func (a *anionBed) anionRates(w washing) []Limit {
	set := a.j.Site.Factors
	have := a.j.Peak.GPM() / (a.resinGal() / unit.Ft3(1).Gal())
	most := func(f source.Factor, soft bool, say string) Limit {
		f = set.In(f)
		return Limit{ID: "service_rate", Have: have, Need: f.Value, Unit: "gpm/ft3", AtMost: true, Soft: soft, Say: say, Kind: f.Kind, From: f.From}
	}
	ls := []Limit{
		most(anionPeakRate, false, "too fast at peak: what it should hold passes"),
		most(anionRate, true, "fast for this resin at peak: a part may pass"),
	}
	ls = a.j.whileWashing(ls, a.z, a.z.Media.Ft3(), set.In(anionPeakRate), "gpm/ft3")
	return append(append(ls, w.limits(set)[:2]...),
		Limit{ID: "regeneration_interval", Have: a.metered, Need: 1, Unit: "days", Say: "the resin does not last a day", Kind: source.CommonPractice, From: anionPractice},
		Limit{ID: "regeneration_interval", Have: a.metered, Need: 2, Unit: "days", Soft: true, Say: "it regenerates nearly daily: take more resin", Kind: source.CommonPractice, From: anionPractice})
}

// freshPH warns of the dip of pH after each regeneration.
func (a *anionBed) freshPH(fresh water.State) Limit {
	f := a.j.Site.Factors.In(anionLowPH)
	return Limit{ID: "ph_after_regeneration", Have: fresh.PH.Value(), Need: f.Value, Unit: "pH", Soft: true,
		Say: "the first water after each regeneration is acid and attacks copper and lead: calcite behind it, or rinse it away", Kind: f.Kind, From: f.From}
}

// anionSizes is the smallest vessel, or two, that keeps to the rate and runs two
// days, of a workplace up to three and larger ones; if none does, the one that comes
// nearest. Run is the gallons of a size.
func (j *Job) anionSizes(run func(Size) float64, mode string) Size {
	rate := j.Site.Factors.Of(anionRate)
	dose := j.Site.Factors.Of(anionSalt)
	names, most := anionVessels[:], mostAnionVessels
	if j.commercial() {
		names, most = append(names[:len(names):len(names)], commercialVessels[1:]...), mostVessels
	}
	vessels, away := vesselsNamed(names...), j.lull().Share
	var best Size
	least := -1.0
	for n := 1; n <= most; n++ {
		for _, v := range vessels {
			z := Size{Vessel: v, Count: n, Turn: j.turnOf(n), Media: v.Fill, Mode: mode, Settings: Settings{SaltLb: math.Round(dose*v.Fill.Ft3()*10) / 10}}
			worth := math.Min(rate*v.Fill.Ft3()*float64(n)/math.Max(j.Peak.GPM(), leastFlow), run(z)/math.Max(2*j.Daily.GalPerDay(), leastFlow))
			if away > 0 {
				worth = math.Min(worth, rate*v.Fill.Ft3()*float64(z.left())/math.Max(away*j.Peak.GPM(), leastFlow))
			}
			if worth >= 1-1e-9 {
				return z
			}
			if worth > least {
				best, least = z, worth
			}
		}
	}
	return best
}

// mostAnionVessels stand side by side at most: common practice in a house.
const mostAnionVessels = 2

// anionVessels are the common sizes, 1.0 to 4 ft3.
var anionVessels = [...]string{"9 x 48", "10 x 54", "12 x 52", "13 x 54", "14 x 65", "16 x 65"}

// carry fills in what carries a water on: wash, place, loss and the settings that
// a lean run gives.
func (a *anionBed) carry(o *Outcome, w washing) {
	a.describe(o.Settings)
	o.Settings[DaysBetweenMetered], o.Settings[SaltLbPerYear] = a.metered, a.saltYear()
	o.Washes = []Wash{{
		Waste: WasteBrine, Need: unit.GPM(w.need), Have: unit.GPM(w.have), Minutes: w.minutes, Whole: regenerationMinutes,
		Gallons: unit.Gal(a.brineGal()), Days: a.days, Vessels: a.z.Vessels(), Turn: a.z.Turn,
	}}
	o.Needs, o.Loss = a.needs(), a.softenerLoss()
	o.Needs.Salt = true
	o.Needs.Floor = unit.Ft2(o.Needs.Floor.Ft2() + brineFloor)
}

// brineGal is the water of one regeneration of one vessel.
func (a *anionBed) brineGal() float64 { return a.z.Media.Ft3() * a.j.Site.Factors.Of(anionWater) }

// saltYear is the salt of a year, lb.
func (a *anionBed) saltYear() float64 {
	return saltAYear(float64(max(1, a.z.Count)), a.salt, a.days)
}

// finish fills in what a full run has beside: settings and money.
func (a *anionBed) finish(o *Outcome, w washing, resin media.Part) {
	gal := a.brineGal()
	o.Settings[SaltLb] = a.salt
	o.Settings[DaysBetween], o.Settings[RunGal] = a.days, a.gallons
	o.Settings[BrineGal], o.Settings[BrineGalPerYear] = gal, float64(max(1, a.z.Count))*gal*daysPerYear/a.days
	o.Settings[BackwashGPM], o.Settings[BackwashMin] = w.need, w.minutes
	o.Settings[ChlorideAddedMgL] = math.Max(0, o.Out.Chloride.MgPerL()-a.j.In.Chloride.MgPerL())
	o.Bill = a.anionBill(resin, a.saltYear())
}

func (a *anionBed) anionBill(resin media.Part, salt float64) cost.Bill {
	n, ft3 := float64(max(1, a.z.Count)), a.z.Media.Ft3()
	low, mid, high := a.j.Site.Factors.Range(a.m.Life)
	life := cost.Years{Low: low, Mid: mid, High: high}
	valve := media.MeterValve
	if a.z.largeValve() {
		valve = media.LargeValve
	}
	return cost.Bill{
		First: []cost.Line{
			{Part: a.z.Vessel.Part(), Amount: n, Why: "vessel"}, {Part: resin, Amount: n * ft3, Why: "resin"},
			{Part: valve, Amount: n, Why: "metered regeneration"}, {Part: media.BrineTank, Amount: 1, Why: "salt"},
			{Part: media.Connections, Amount: n, Why: "bypass, sample taps and gauges"}, {Part: media.DrainLine, Amount: 1, Why: "drain with an air gap"},
			{Part: media.LabourHour, Amount: filterHours + (n-1)*secondHours, Why: "fitting and start-up"},
		},
		Yearly: []cost.Use{{Part: media.SaltLb, PerYear: salt, Why: "regeneration"}},
		Renewals: []cost.Renewal{
			{Part: resin, Amount: n * ft3, EveryYears: life, Why: "life of the resin"},
			{Part: media.LabourHour, Amount: n * rebedHours, EveryYears: life, Why: "new resin"},
		},
		Hours: softenerUpkeep + salt*saltHours,
	}
}

// anionCautions are those of any resin on salt that takes anions.
func (a *anionBed) anionCautions(fresh water.State) []string {
	cs := []string{
		"Brine goes to a drain with an air gap, away from the well, and to a septic system only where the local health department allows it: it carries what the resin took.",
		"Rinse new resin until the fish smell is gone: it comes from the resin itself.",
	}
	if fresh.PH.Value() < a.j.Site.Factors.Of(anionLowPH) {
		cs = append(cs, fmt.Sprintf("For the first hundred bed volumes or so after a regeneration the pH is near %.1f.", fresh.PH.Value()))
	}
	if a.j.In.Arsenic.UgPerL() >= 1 {
		cs = append(cs, "It takes some arsenic at first and gives it back when it overruns: it is no barrier against arsenic.")
	}
	if a.j.Site.House.LowSodium {
		cs = append(cs, "It adds chloride, not sodium; a softener ahead of it adds sodium.")
	}
	return cs
}

func anionWays() []Way {
	return []Way{
		{BypassOpen, "the bypass stands open or half open", "outlet between inlet and a good outlet", "close the bypass"},
		{SaltOut, "no salt, a salt bridge or no brine draw", "outlet as the inlet, no rise of chloride", "fill, break the bridge, clean the injector; regenerate twice, test before anybody drinks"},
		{ResinFouled, "the resin is fouled with iron or organic matter", "what it should hold is back before the meter runs out", "warm brine with caustic by someone trained to it; find what fouls it"},
		{TubeLeak, "the riser tube or its seal leaks", "a steady small share of raw water at every flow", "reseat the riser and renew the seal"},
		{AnionOverrun, "it has run past its meter", "more sulfate, and on plain resin more nitrate, than comes in", "regenerate at once, test, mend meter or valve"},
	}
}

const anionPractice = "common practice for anion exchangers, no single source"

var (
	anionSalt = source.Factor{
		Name: "anion_salt_dose", What: "anion exchanger: salt of one regeneration", Unit: "lb/ft3",
		Value: 10, Low: 8, High: 12, Kind: source.CommonPractice, From: "8 to 10 for tannin, 10 for nitrate",
	}
	anionWater = source.Factor{
		Name: "anion_water", What: "anion exchanger: water of one regeneration", Unit: "gal/ft3",
		Value: 75, Low: 60, High: 100, Kind: source.CommonPractice, From: "60 to 100",
	}
	anionRate = source.Factor{
		Name: "anion_rate", What: "anion exchanger: service rate to size for", Unit: "gpm/ft3",
		Value: 4, Low: 2, High: 4, Kind: source.CommonPractice, From: "2 to 4 for tannin, 4 or less for nitrate",
	}
	anionPeakRate = source.Factor{
		Name: "anion_peak_rate", What: "anion exchanger: peak service rate refused", Unit: "gpm/ft3",
		Value: 6, Low: 4, High: 8, Kind: source.Judgement, From: "our judgement: half again the trade's rate",
	}
	anionSlip = source.Factor{
		Name: "anion_slip", What: "anion exchanger: share of the water that slow grains and uneven flow let through",
		Value: 0.07, Low: 0.02, High: 0.2, Kind: source.Judgement, From: "our judgement: nine tenths and more of the nitrate are held in practice",
	}
	anionLowPH = source.Factor{
		Name: "anion_low_ph", What: "anion exchanger: pH of the first water that calls for a caution",
		Value: 6.5, Low: 6, High: 7, Kind: source.Published, From: "US EPA secondary level for pH, 6.5 to 8.5 (40 CFR 143.3)",
	}
	anionFactors = []source.Factor{anionSalt, anionWater, anionRate, anionPeakRate, anionSlip, anionLowPH}
)
