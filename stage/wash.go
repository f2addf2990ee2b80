package stage

import (
	"fmt"
	"math"

	"wellwright/chem"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/well"
)

// washing is the regular wash of one vessel, as bare numbers.
type washing struct {
	need, have    float64 // gpm
	minutes       float64 // upflow
	rinse         float64 // minutes of downflow afterwards
	rinseFlow     float64 // gpm
	draw          float64 // minutes of an air or chemical draw
	gallons       float64
	days, metered float64 // between washes, whole and as the load has it
	longest       float64 // days that medium and process allow
	load          float64 // iron and manganese reaching the bed, grains/ft2/day
}

// wash works out what it takes to keep the bed clean.
func (b *bed) wash() washing {
	set := b.j.Site.Factors
	one := b.z.Vessel.Area.Ft2()
	w := washing{
		need: one * set.Of(b.m.Backwash), minutes: set.Of(b.m.WashMinutes),
		rinse: set.Of(b.m.RinseMinutes), rinseFlow: one * set.Of(rinseRate),
		load: b.load(),
	}
	w.have = b.j.washFlow(b.z, w.minutes)
	w.gallons = w.need*w.minutes + w.rinseFlow*w.rinse
	w.metered = b.hold / math.Max(b.loadAll(), 1e-9)
	w.longest = set.Of(b.m.MaxDays)
	w.days = washDays(w.metered, w.longest)
	return w
}

// load returns the iron and manganese that reach the bed.
//
//	g = (Fe + Mn) · 3.785 Q / 64.8 / A
//
//	g       grains/ft2/day;  Fe, Mn  every form but bound iron, mg/L
//	Q       gal/day;  A  ft2
//
// Source: mass balance; the grain is 64.799 mg.
func (b *bed) load() float64 {
	return b.grainsPerDay(b.metals()) / b.area
}

func (b *bed) metals() float64 {
	w := b.j.In
	return w.Ferrous.MgPerL() + w.Particulate.MgPerL() + w.TotalManganese().MgPerL()
}

// loadAll counts sulfur and other particles as the iron that would make as much
// mud.
func (b *bed) loadAll() float64 {
	w := b.j.In
	made := w.Sulfide.MgPerLAsH2S()*solidsMade(chem.SulfideToSulfur) + w.Sulfur.MgPerL() + w.Solids.MgPerL()
	return b.grainsPerDay(b.metals()+made/solidsMade(chem.IronII)) / b.area
}

func (b *bed) grainsPerDay(mgL float64) float64 {
	return grainsADay(mgL, b.j.Daily)
}

// grainsADay is the grains that a day's water brings at so many mg/L.
func grainsADay(mgL float64, daily unit.Flow) float64 {
	return hydraulic.DailySolids(unit.MgPerL(mgL), 1, daily).Grains()
}

// washFlow returns what a wash of so many minutes can draw on at the pressure a
// backwash wants.
func (j *Job) washFlow(z Size, minutes float64) float64 {
	s, floor := j.WashSupply(z)
	if s.Tank.Total.Gal() <= 0 {
		return s.Available(minutes, floor).GPM()
	}
	return j.scope().lentTo(s, minutes, floor)
}

// lending is what a supply with a tank in it has for a wash.
type lending struct {
	supply  hydraulic.Supply
	minutes float64
	floor   unit.Pressure
	gpm     float64
}

// lentTo finds what a supply with a tank has for a wash, walked through once: every
// size that such a tank would help asks it again.
func (s *Scope) lentTo(from hydraulic.Supply, minutes float64, floor unit.Pressure) float64 {
	for i := range s.lent {
		if l := &s.lent[i]; l.minutes == minutes && l.floor == floor && l.supply.Same(from) {
			return l.gpm
		}
	}
	gpm := from.Available(minutes, floor).GPM()
	s.lent = append(s.lent, lending{from, minutes, floor, gpm})
	return gpm
}

// prechargeBelow is how far below cut-in a tank is charged, psi: common practice.
const prechargeBelow = 2

// measuredFlow is the flow read at the tank at the lowest pressure that will do
// for a wash: nothing is counted on beyond what was seen. It does not hold
// behind a booster pump, whose own rating bounds it.
func (j *Job) measuredFlow() (unit.Flow, bool) {
	if j.Draw == nil || j.Has(stores...) {
		return unit.Flow{}, false
	}
	floor := j.Site.Factors.Of(washPressure)
	best, found := hydraulic.PumpPoint{}, false
	for _, p := range j.Draw.Supply.MeasuredAtTank {
		if p.Pressure.PSI() >= floor && (!found || p.Pressure.PSI() < best.Pressure.PSI()) {
			best, found = p, true
		}
	}
	return best.Flow, found
}

// limits says what the wash needs beside what it has.
func (w washing) limits(set source.Set) []Limit { return w.withLimits(nil, set) }

// withLimits adds them to others.
func (w washing) withLimits(ls []Limit, set source.Set) []Limit {
	thin := set.In(washMargin)
	return append(ls,
		Limit{ID: "backwash_flow", Have: w.have, Need: w.need, Unit: "gpm", Kind: source.CommonPractice, From: washFrom,
			Say: "the bed is not lifted, and binds within weeks to months"},
		Limit{ID: "backwash_flow", Have: w.have, Need: w.need * thin.Value, Unit: "gpm", Soft: true, Kind: thin.Kind, From: thin.From,
			Say: "the backwash is thin: any loss of pump flow starves it"},
		Limit{ID: "backwash_interval", Have: w.metered, Need: 1, Unit: "days", Kind: source.CommonPractice, From: washFrom,
			Say: "the bed fills in less than a day"},
		Limit{ID: "wash_every_night", Have: w.metered, Need: 2, Unit: "days", Soft: true, Kind: source.CommonPractice, From: "every 2 to 4 days is usual",
			Say: "a bed that must be washed every night has none to spare: one missed wash passes iron"},
	)
}

const washFrom = "backwash rate of the medium on the area of the vessel, against measured pump flow"

// record is the wash as the outcome keeps it.
func (w washing) record(waste Waste, z Size) Wash {
	return Wash{
		Waste: waste, Need: unit.GPM(w.need), Have: unit.GPM(w.have), Minutes: w.minutes,
		Whole: w.minutes + w.rinse, Gallons: unit.Gal(w.gallons), Days: math.Max(1, w.days), Vessels: z.Vessels(), Turn: z.Turn,
	}
}

// settle writes the wash among the settings.
func (w washing) settle(s Settings, lean bool) {
	s[DaysBetweenMetered] = w.metered
	if lean {
		return
	}
	s[BackwashGPM], s[BackwashMin], s[RinseMin], s[BackwashGal] = w.need, w.minutes, w.rinse, w.gallons
	s[DaysBetween], s[IronLoadGrainsFt2] = math.Max(1, w.days), w.load
}

// lift is how the bed behaves in its backwash.
type lift struct{ now, winter hydraulic.Carry }

// lifting checks the backwash against the room over the bed, with the water as
// it is and as cold as it may come in winter.
func (b *bed) lifting(w washing) lift {
	rate := unit.GPMPerFt2(w.need / b.z.Vessel.Area.Ft2())
	cold := unit.Celsius(math.Min(b.j.In.Temperature.Celsius(), b.j.Site.Factors.Of(winterWater)))
	depth := unit.Inches(b.depth)
	room := b.z.Vessel.Gross.Ft3()/b.z.Vessel.Area.Ft2() - depth.Ft()
	return lift{
		now:    b.grain.CarryOver(rate, depth, unit.Ft(room), b.j.In.Temperature),
		winter: b.grain.CarryOver(rate, depth, unit.Ft(room), cold),
	}
}

// caution says what the lift comes to, "" if there is nothing to say.
func (l lift) caution() string {
	switch {
	case l.winter.TopLeft.Ft() < 0:
		return fmt.Sprintf("In cold water this backwash lifts the bed by %.0f %% of its depth, more than the room over it: fit a smaller drain control or fill less medium, or it goes to the drain.", 100*l.winter.Expansion)
	case l.now.Expansion < leastExpansion:
		return fmt.Sprintf("At this rate the bed rises by only %.0f %% of its depth: watch the drain until it runs clear, and lengthen the wash if it does not.", 100*l.now.Expansion)
	}
	return ""
}

// leastExpansion is the rise below which a bed is not cleaned, share of its
// depth: common practice, 20 to 50 % for filter media.
const leastExpansion = 0.15

// drainCaution says where the water of a wash may go.
func (j *Job) drainCaution(gal float64) string {
	for _, d := range j.Site.House.Drains {
		if d.To == well.Septic && d.Backwash != nil && *d.Backwash {
			return fmt.Sprintf("A wash sends %.0f gal at once: to a septic system only as the local health department allows.", gal)
		}
	}
	return ""
}

var (
	washPressure = source.Factor{
		Name: "wash_pressure", What: "pressure kept at the inlet of a filter during its backwash",
		Unit: "psi", Value: 30, Low: 20, High: 30, Kind: source.CommonPractice,
		From: "control-valve makers' installation sheets: 20 psi at least, 30 better",
	}
	washMargin = source.Factor{
		Name: "wash_margin", What: "measured flow over backwash need below which the wash is thin",
		Value: 1.1, Low: 1, High: 1.25, Kind: source.CommonPractice, From: "rule of the trade: a tenth in hand",
	}
	rinseRate = source.Factor{
		Name: "wash_rinse_rate", What: "downward rinse after a backwash",
		Unit: "gpm/ft2", Value: 5, Low: 3, High: 6, Kind: source.CommonPractice, From: "rinse at service rate",
	}
	drawdownShare = source.Factor{
		Name: "wash_drawdown_share", What: "share of the drawdown of a larger pressure tank that a wash may count on",
		Value: 0.8, Low: 0, High: 1, Kind: source.Judgement,
		From: "our judgement: a timed wash seldom finds the tank at cut-out, and a fast draw gives 5 to 10 % less",
	}
	winterWater = source.Factor{
		Name: "wash_winter_water", What: "coldest water a bed is washed with",
		Unit: "C", Value: 5, Low: 2, High: 10, Kind: source.CommonPractice,
		From: "cold-climate wells and storage in unheated rooms, about 40 °F",
	}
)
