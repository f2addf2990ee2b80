package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// store is a vented tank between well and house, with its booster, as bare
// numbers.
type store struct {
	j       *Job
	z       Size
	day     float64 // gal that house and washes take
	refill  float64 // gpm that well and pump give, the less of the two
	usable  float64 // gal over the low-water cut-off
	fillMin float64 // minutes a day of well pumping
	days    float64 // of use that the tank holds
}

func newStore(j *Job, z Size) store {
	s := store{j: j, z: z, day: storeDay(j), refill: j.refill()}
	s.usable = j.Site.Factors.Of(storeUsable) * z.Volume.Gal()
	s.fillMin = refillMinutes(s.day, s.refill)
	s.days = daysHeld(z.Volume, s.day)
	return s
}

// storeDay is what the tank must give in a day, gal: the house, and the washes
// of beds behind it.
func storeDay(j *Job) float64 {
	gal := j.Daily.GalPerDay()
	if j.Leads(washedBeds...) {
		gal *= 1 + j.Site.Factors.Of(storeWash)
	}
	return gal
}

// refill is the flow at which the tank can be kept filled, gpm: the pump's, but
// over hours no more than the well yields.
func (j *Job) refill() float64 {
	return refillFlow(j.pumpFlow().GPM(), j.Draw.Supply.Hydraulic.Yield.GPM())
}

// outcome is everything but the water.
func (s store) outcome(p media.Process) Outcome {
	o := Outcome{
		Supply: s.supply(), Needs: s.needs(),
		Limits:   append(Envelope(s.j, p), s.limits()...),
		Settings: Settings{StorageDays: s.days},
		Washes:   []Wash{s.cleaning()},
	}
	if s.j.Lean {
		return o
	}
	o.Bill = s.bill()
	o.Settings[VolumeGal], o.Settings[BoosterGPM] = s.z.Volume.Gal(), s.z.Booster.GPM()
	o.Settings[FillMinPerDay], o.Settings[PressureTankGal] = s.fillMin, boosterTankGal
	s.working()
	return o
}

// limits are those of well, tank, booster and room.
func (s store) limits() []Limit {
	set, house := s.j.Site.Factors, s.j.Site.House
	most, easy := set.In(storeFillMost), set.In(storeFillEasy)
	ls := []Limit{
		{ID: "refill_time", Have: s.fillMin, Need: most.Value, Unit: "min/day", AtMost: true, Say: "the well does not give in a day what the house takes", Kind: most.Kind, From: most.From},
		{ID: "refill_time", Have: s.fillMin, Need: easy.Value, Unit: "min/day", AtMost: true, Soft: true, Say: "the well only just keeps up: a pump timer, and no dry season to spare", Kind: easy.Kind, From: easy.From},
		s.holds(), s.buffer(),
		{ID: "booster_flow", Have: s.z.Booster.GPM(), Need: s.j.Peak.GPM(), Unit: "gpm", Say: "the booster gives less than the house's peak", Kind: source.Derived, From: "peak of the house"},
	}
	if top := house.Room.StorageMax; top != nil {
		ls = append(ls, Limit{ID: "storage_room", Have: s.z.Volume.Gal(), Need: top.Gal(), Unit: "gal", AtMost: true, Say: "there is no room for so large a tank", Kind: source.Derived, From: "room as recorded"})
	}
	stale := set.In(storeStale)
	return append(ls, Limit{ID: "storage_age", Have: s.days, Need: stale.Value, Unit: "days", AtMost: true, Soft: true, Say: "the water grows stale in so large a tank", Kind: stale.Kind, From: stale.From})
}

// holds asks a day's use of the tank where the well is weak; a strong well only
// needs the tank as a buffer and for time.
func (s store) holds() Limit {
	f := s.j.Site.Factors.In(storeDaysStrong)
	if s.refill < s.j.Site.Factors.Of(storeWeakWell) {
		f = s.j.Site.Factors.In(storeDaysWeak)
	}
	return Limit{ID: "storage_days", Have: s.days, Need: f.Value, Unit: "days", Say: "the tank runs dry on a busy day", Kind: f.Kind, From: f.From}
}

// buffer asks that tank and well carry the busiest two hours.
func (s store) buffer() Limit {
	f := s.j.Site.Factors.In(storeBusy)
	return Limit{
		ID: "storage_peak", Have: s.usable + s.refill*busyMinutes, Need: f.Value * s.j.Daily.GalPerDay(), Unit: "gal",
		Say: "the tank runs dry in the busiest two hours", Kind: f.Kind, From: f.From,
	}
}

const busyMinutes = 120

// supply is what stands behind the stages after the booster: the booster at its
// rated flow and no more, the tank as the well's storage, the well as its yield.
func (s store) supply() *hydraulic.Supply {
	set := s.j.Site.Factors
	gpm, usable := s.z.Booster.GPM(), s.usable
	switch s.j.Fault {
	case BoosterWeak:
		gpm *= faultBooster
	case StoreLow:
		usable = 0
	}
	pump, err := hydraulic.PumpFrom(set, []hydraulic.PumpPoint{{Flow: unit.GPM(gpm), Pressure: unit.PSI(boosterPSI)}})
	if err != nil {
		pump = hydraulic.PumpAtTank{}
	}
	return &hydraulic.Supply{
		Pump: pump.Throttled(unit.GPM(gpm)), CutIn: unit.PSI(boosterPSI - 10), CutOut: unit.PSI(boosterPSI + 10),
		Tank:  hydraulic.PressureTank{Total: unit.Gal(boosterTankGal), Precharge: unit.PSI(boosterPSI - 10 - prechargeBelow)},
		Yield: unit.GPM(s.refill), CasingStorage: unit.Gal(usable),
	}
}

// A booster is rated at 50 psi on a 40/60 switch with a small tank: common
// practice. A worn one gives half: judgement.
const (
	boosterPSI     = 50
	boosterTankGal = 20
	faultBooster   = 0.5
)

// stored lets the water stand in the tank as one mixed pool, its oxygen kept up
// by the spray. At peak the water is younger.
func (s store) stored(w water.State, peak bool) water.State {
	set := s.j.Site.Factors
	share := set.Of(storeFull)
	if peak {
		share *= set.Of(storePeakAge)
	}
	switch s.j.Fault {
	case StoreLow:
		share *= faultLow
	case TankSludge:
		share /= 2
	}
	minutes := share * s.z.Volume.Gal() / math.Max(s.day, 1e-3) * minutesPerDay
	out, err := s.j.React(w, chem.Vessel{Time: minutesLong(minutes), Tanks: 1, OxygenHeld: true, HeldOxygen: w.Oxygen})
	if err != nil {
		return w
	}
	return out
}

// faultLow is the share of the water's age left in a tank drawn low. Kind:
// judgement.
const faultLow = 0.2

// cleaning is the yearly emptying of the sludge.
func (s store) cleaning() Wash {
	gal := s.j.Site.Factors.Of(storeSludge) * s.z.Volume.Gal()
	return Wash{
		Waste: WasteSludge, Gallons: unit.Gal(gal), Days: daysPerYear, Vessels: max(1, s.z.Tanks),
		Need: unit.GPM(blowDownGPM), Have: s.z.Booster, Minutes: gal / blowDownGPM, Whole: 120,
	}
}

// storeHeights are the heights of upright tanks with hands over the lid, in, by
// nominal gallons up to: common practice of moulded tanks.
var storeHeights = [...]struct{ gal, height, side float64 }{
	{150, 70, 33}, {300, 72, 45}, {500, 84, 50}, {1000, 92, 66},
}

func (s store) needs() Needs {
	n := Needs{Power: true, NoFrost: true}
	for _, h := range storeHeights {
		n.Height, n.Floor = unit.Inches(h.height), unit.Ft2(h.side*h.side/144+4) // and 4 ft2 for the booster
		if h.gal >= s.z.Volume.Gal() {
			break
		}
	}
	return n
}

func (s store) bill() cost.Bill {
	day := unit.Gal(s.day * daysPerYear)
	kwh := hydraulic.PumpingEnergy(day, unit.Ft(unit.PSI(boosterPSI).FtWater()), boosterEfficiency).KWh()
	b := cost.Bill{
		First: []cost.Line{
			{Part: media.BoosterPump, Amount: 1, Why: "pressure and flow for house and backwash"},
			{Part: media.FloatValve, Amount: 1, Why: "fills the tank, stops both pumps at low water"},
			{Part: media.SprayHead, Amount: 1, Why: "air for the water as it fills"},
			{Part: media.Connections, Amount: 1, Why: "bypass, overflow and sample tap"},
			{Part: media.LabourHour, Amount: 10, Why: "set the tank, pipe and wire the booster"},
		},
		Yearly: []cost.Use{
			{Part: media.ElectricityKWh, PerYear: kwh, Why: "booster pump"},
			{Part: media.LabourHour, PerYear: 2, Why: "clean the tank yearly"},
		},
		Renewals: []cost.Renewal{{Part: media.BoosterPump, Amount: 1, EveryYears: cost.Years{Low: 7, Mid: 10, High: 15}, Why: "booster worn out"}},
		Hours:    3,
	}
	if tank, ok := media.StorageTankOf(s.z.Volume); ok {
		b.First = append(b.First, cost.Line{Part: tank, Amount: 1, Why: "storage"})
	}
	if tank, ok := media.PressureTankOf(unit.Gal(boosterTankGal)); ok {
		b.First = append(b.First, cost.Line{Part: tank, Amount: 1, Why: "pressure tank of the booster"})
	}
	return b
}

// boosterEfficiency is wire to water of a small pump: common practice.
const boosterEfficiency = 0.35

func (s store) working() {
	w := s.j.Site.Working
	if !w.On() {
		return
	}
	use, sym := formula.Sym("Q", s.day, "gal/day"), formula.Sym
	w.Add(refillFormula().Step(FillMinPerDay, s.fillMin, "min/day",
		formula.Syms(use, sym("P", s.j.pumpFlow().GPM(), "gpm"), sym("Y", s.j.Draw.Supply.Hydraulic.Yield.GPM(), "gpm"))))
	w.Add(storageDaysFormula().Step(StorageDays, s.days, "days", formula.Syms(sym("V", s.z.Volume.Gal(), "gal"), use)))
}

func storeCautions() []string {
	return []string{
		"Low-water cut-off on well pump and booster, an overflow to a drain with an air gap, a screened vent, a locked lid.",
		"Where the pump outruns the well, put a timer or level guard on it.",
		"Clean the tank yearly. Nobody climbs into it: the air in it may kill.",
	}
}

func storeWays() []Way {
	return []Way{
		{StoreLow, "the tank stands low: the float sticks or the well has fallen behind", "booster cuts out; cloudy water from the bottom; iron less turned than it was", "free the float; time the refill against the record"},
		{BoosterWeak, "the booster has lost flow", "pressure sags; drain flow of the backwash below its setting", "clean its strainer, check the tank's air charge, rebuild or change it"},
		{TankSludge, "sludge has risen to the outlet", "brown slugs after heavy use", "draw down and clean the tank"},
	}
}

var (
	storeUsable = source.Factor{
		Name: "storage_usable_share", What: "share of a storage tank that stands over the low-water cut-off",
		Value: 0.85, Low: 0.7, High: 0.9, Kind: source.CommonPractice, From: "outlet and cut-off 6 to 10 in over the floor",
	}
	storeWash = source.Factor{
		Name: "storage_wash_share", What: "water for washes behind a storage tank, as a share of the house's use",
		Value: 0.13, Low: 0.05, High: 0.25, Kind: source.Judgement, From: "115 gal every third day on 300 gal/day",
	}
	storeFillMost = source.Factor{
		Name: "storage_refill_most", What: "longest daily pumping by which a well keeps a tank filled", Unit: "min/day",
		Value: 1296, Low: 960, High: 1440, Kind: source.Judgement, From: "nine tenths of the day",
	}
	storeFillEasy = source.Factor{
		Name: "storage_refill_easy", What: "daily pumping above which a well only just keeps a tank filled", Unit: "min/day",
		Value: 600, Low: 480, High: 720, Kind: source.CommonPractice, From: "trade rule: ten hours of rest or more",
	}
	storeWeakWell = source.Factor{
		Name: "storage_weak_well", What: "yield below which a well may need storage", Unit: "gpm",
		Value: 5, Kind: source.Published, From: "New York State Department of Health, Individual Water Supply Wells, Fact Sheet 2, Water Storage",
	}
	storeDaysWeak = source.Factor{
		Name: "storage_days_weak", What: "least storage behind a weak well, days of use and washes", Unit: "days",
		Value: 1, Low: 0.75, High: 2, Kind: source.CommonPractice, From: "a day in hand; New York State asks 110 gal/day for each bedroom",
	}
	storeDaysStrong = source.Factor{
		Name: "storage_days_strong", What: "least storage behind a strong well, days of use", Unit: "days",
		Value: 0.33, Low: 0.2, High: 1, Kind: source.CommonPractice, From: "one to two hours of peak use",
	}
	storeStale = source.Factor{
		Name: "storage_stale_days", What: "storage above which water grows stale", Unit: "days",
		Value: 3, Low: 2, High: 5, Kind: source.CommonPractice, From: "trade rule for unheated storage with a residual",
	}
	storeBusy = source.Factor{
		Name: "storage_busy_share", What: "share of the day's use in the busiest two hours",
		Value: 0.4, Low: 0.3, High: 0.6, Kind: source.Judgement, From: "morning or evening peak of a family",
	}
	storeFull = source.Factor{
		Name: "storage_mean_fill", What: "mean filling of a storage tank",
		Value: 0.75, Low: 0.5, High: 0.9, Kind: source.Judgement, From: "float between half and full",
	}
	storePeakAge = source.Factor{
		Name: "storage_peak_age", What: "age of the water at the busiest hour over its mean age",
		Value: 0.2, Low: 0.1, High: 0.5, Kind: source.Judgement, From: "the tank half drawn down and refilled with fresh water",
	}
	storeSludge = source.Factor{
		Name: "storage_sludge_share", What: "share of a storage tank emptied at its yearly cleaning",
		Value: 0.15, Low: 0.1, High: 1, Kind: source.Judgement, From: "what stands under the outlet",
	}
	storageFactors = []source.Factor{
		storeUsable, storeWash, storeFillMost, storeFillEasy, storeWeakWell, storeDaysWeak, storeDaysStrong,
		storeStale, storeBusy, storeFull, storePeakAge, storeSludge, sprayTransfer,
	}
)
