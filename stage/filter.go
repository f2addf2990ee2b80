package stage

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wellwright/cost"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// filterSpec is what sets one granular filter apart from another.
type filterSpec struct {
	process media.Process
	refuse  source.Factor // peak service rate refused, in place of the medium's own where it has a name
	valve   media.Part
	draw    float64 // gallons of a wash beside backwash and rinse
	drawMin float64 // minutes they take
	longest float64 // interval that the process itself allows, days; zero: no bound
}

// serve runs a bed: limits in the order of the flow, forecast, wash, cost.
func (b *bed) serve(s filterSpec) (Outcome, washing, error) {
	w := b.wash()
	w.gallons += s.draw
	w.draw = s.drawMin
	if s.longest > 0 {
		w.longest = math.Min(w.longest, s.longest)
		w.days = math.Min(w.days, s.longest)
	}
	o := Outcome{Settings: Settings{}, Limits: Envelope(b.j, s.process)}
	o.Limits = b.withService(o.Limits, s)
	o.Limits = w.withLimits(o.Limits, b.j.Site.Factors)
	var err error
	if o.Out, _, err = b.pass(b.in, b.j.Typical()); err != nil {
		return o, w, err
	}
	wash := w.record(WasteBackwash, b.z)
	wash.Whole += s.drawMin
	o.Washes = []Wash{wash}
	o.Loss, o.Needs = b.loss(w), b.needs()
	b.describe(o.Settings)
	w.settle(o.Settings, b.j.Lean)
	if b.j.Lean {
		return o, w, nil
	}
	if o.AtPeak, _, err = b.pass(b.inPeak, b.j.Peak); err != nil {
		return o, w, err
	}
	if o.AtPeak.TotalIron().MgPerL() < o.Out.TotalIron().MgPerL() {
		o.AtPeak = o.Out // sulfide and iron race for scant oxygen, and a slow draw may be the worse
	}
	o.Bill = b.bill(s)
	o.Cautions = b.cautions(w, o.Settings)
	b.work(w)
	return o, w, nil
}

// withService adds the limits of the rate through the bed at peak, and of its depth.
func (b *bed) withService(ls []Limit, s filterSpec) []Limit {
	set := b.j.Site.Factors
	refuse, caution := b.m.ServiceRefuse, set.In(b.m.ServiceCaution)
	if s.refuse.Name != "" {
		refuse = s.refuse
	}
	refuse = set.In(refuse)
	have := b.loading(b.j.Peak)
	ls = append(ls,
		Limit{ID: "service_rate", Have: have, Need: refuse.Value, Unit: "gpm/ft2", AtMost: true,
			Say: "the water runs through too fast at peak: what it should hold passes", Kind: refuse.Kind, From: refuse.From},
		Limit{ID: "service_rate", Have: have, Need: caution.Value, Unit: "gpm/ft2", AtMost: true, Soft: true,
			Say: "fast for this medium at peak: a part may pass", Kind: caution.Kind, From: caution.From})
	ls = b.j.whileWashing(ls, b.z, b.z.Vessel.Area.Ft2(), refuse, "gpm/ft2")
	if b.depth < b.m.MinBed.Inches() {
		ls = append(ls, Limit{ID: "bed_depth", Have: b.depth, Need: b.m.MinBed.Inches(), Unit: "in", Soft: true,
			Say: "the bed is shallower than the medium is meant to stand", Kind: source.CommonPractice, From: "media data sheets of the trade"})
	}
	return ls
}

// describe writes the vessel and its bed among the settings.
func (b *bed) describe(s Settings) {
	s[ServiceGPMFt2] = b.loading(b.j.Peak)
	if b.j.Lean {
		return
	}
	s[VesselDiameterIn], s[VesselHeightIn] = b.z.Vessel.Diameter.Inches(), b.z.Vessel.Height.Inches()
	s[MediaFt3] = b.z.Media.Ft3()
	s[EmptyBedMin] = b.emptyBedMinutes(b.j.Peak)
	if b.z.Lent.Gal() > 0 {
		s[PressureTankGal] = b.z.Lent.Gal()
	}
}

// loss is the pressure taken at peak, clean and just before a wash.
func (b *bed) loss(w washing) Loss {
	rate := unit.GPMPerFt2(b.loading(b.j.Peak))
	clean := b.grain.HeadLoss(rate, unit.Inches(b.depth), b.j.In.Temperature)
	share := math.Max(1, w.days) / math.Max(w.metered, 1)
	dirty := hydraulic.DirtyLoss(clean, unit.PSI(b.j.Site.Factors.Of(hydraulic.TerminalLoss)),
		hydraulic.LbPerFt2(share), hydraulic.LbPerFt2(1))
	valve := b.valveLoss(b.each())
	return Loss{Clean: unit.PSI(clean.PSI() + valve), Dirty: unit.PSI(dirty.PSI() + valve)}
}

// valveLoss is that of a control valve with its distributors.
//
//	dP = (Q/Cv)²
func (b *bed) valveLoss(gpm float64) float64 {
	cv := b.j.Site.Factors.Of(hydraulic.ValveServiceCv)
	if b.z.largeValve() {
		cv = b.j.Site.Factors.Of(largeValveCv)
	}
	return gpm / cv * gpm / cv
}

// largeValve reports whether the vessel takes a 1.5 in valve: from 16 in, common
// practice.
func (z Size) largeValve() bool { return z.Vessel.Diameter.Inches() > 15 }

// needs is what the vessels ask of the room.
func (b *bed) needs() Needs {
	n := float64(max(1, b.z.Count))
	side := b.z.Vessel.Diameter.Ft() + besideVessel
	return Needs{
		Height: unit.Inches(b.z.Vessel.Height.Inches() + overVessel),
		Floor:  unit.Ft2(n * side * side), Power: true, NoFrost: true,
	}
}

// Room round a vessel. Kind: common practice.
const (
	overVessel   = 18  // in, valve and hands over it
	besideVessel = 0.5 // ft, on one side and at the back
)

// bill is what the filter asks to be bought.
func (b *bed) bill(s filterSpec) cost.Bill {
	n, ft3 := float64(max(1, b.z.Count)), b.z.Media.Ft3()
	valve := s.valve
	if b.z.largeValve() {
		valve = media.LargeValve
	}
	low, mid, high := b.j.Site.Factors.Range(b.m.Life)
	bill := cost.Bill{
		First: []cost.Line{
			{Part: b.z.Vessel.Part(), Amount: n, Why: "vessel"},
			{Part: b.m.Part, Amount: n * ft3, Why: "bed"},
			{Part: valve, Amount: n, Why: "backwash"},
			{Part: media.Connections, Amount: n, Why: "bypass, sample taps and gauges"},
			{Part: media.DrainLine, Amount: 1, Why: "drain with an air gap"},
			{Part: media.LabourHour, Amount: filterHours + (n-1)*secondHours, Why: "fitting and start-up"},
		},
		Renewals: []cost.Renewal{
			{Part: b.m.Part, Amount: n * ft3, EveryYears: cost.Years{Low: low, Mid: mid, High: high}, Why: "life of the bed"},
			{Part: media.LabourHour, Amount: n * rebedHours, EveryYears: cost.Years{Low: low, Mid: mid, High: high}, Why: "new bed"},
		},
		Hours: filterUpkeep * n,
	}
	if tank, ok := media.PressureTankOf(b.z.Lent); ok && b.z.Lent.Gal() > 0 {
		bill.First = append(bill.First, cost.Line{Part: tank, Amount: 1, Why: "lends its drawdown to the backwash"})
	}
	return bill
}

// Hours of work. Kind: common practice.
const (
	filterHours  = 4.0 // to fit one vessel and start it
	secondHours  = 2.0 // for each further vessel
	rebedHours   = 2.0 // to change one bed
	filterUpkeep = 1.0 // of the owner a year: clock, drain and gauges looked at
)

// cautions are those of every granular bed.
func (b *bed) cautions(w washing, s Settings) []string {
	l := b.lifting(w)
	s[ExpansionPercent], s[ExpansionWinterPct] = 100*l.now.Expansion, 100*l.winter.Expansion
	cs := []string{"The drain needs an air gap and must carry the backwash flow; check it with a bucket and a watch at start-up and yearly."}
	if c := l.caution(); c != "" {
		cs = append(cs, c)
	}
	if b.z.Count > 1 {
		cs = append(cs, fmt.Sprintf("%d vessels side by side: wash one after the other, never two at once; while one washes the house runs through what is left, so much faster: at its peak %.1f gpm/ft2.", b.z.Count, b.j.Peak.GPM()/(b.z.Vessel.Area.Ft2()*float64(b.z.left()))))
	} else {
		cs = append(cs, fmt.Sprintf("While it washes, about %.0f minutes, the house gets untreated water: set it for the night.", w.minutes+w.rinse+w.draw))
	}
	if c := b.j.drainCaution(w.gallons); c != "" {
		cs = append(cs, c)
	}
	if b.in.Arsenic.UgPerL() >= 1 {
		cs = append(cs, "Arsenic goes with the iron only as far as a laboratory shows: test the outlet, keep a second barrier at the drinking tap, and keep the backwash off gardens.")
	}
	return cs
}

// work records the working of the wash and the load.
func (b *bed) work(w washing) {
	if !b.j.Site.Working.On() {
		return
	}
	set, sym, add := b.j.Site.Factors, formula.Sym, b.j.Site.Working.Add
	add(hydraulic.VesselFlowFormula().Step(BackwashGPM, w.need, "gpm",
		formula.Syms(sym("v", set.Of(b.m.Backwash), "gpm/ft2"), sym("π/4 D²", b.z.Vessel.Area.Ft2(), "ft2")), set.In(b.m.Backwash)))
	add(ironLoadFormula().Step(IronLoadGrainsFt2, w.load, "grains/ft2/day",
		formula.Syms(sym("Fe + Mn", b.metals(), "mg/L"), sym("Q", b.j.Daily.GalPerDay(), "gal/day"), sym("A", b.area, "ft2"))))
	add(washDaysFormula().Step(DaysBetween, math.Max(1, w.days), "days",
		formula.Syms(sym("H", b.hold, "grains/ft2"), sym("g", b.loadAll(), "grains/ft2/day"), sym("m", w.longest, "days")),
		set.In(b.m.HoldGrains), set.In(b.m.MaxDays)))
}

// filterVessels are the vessels that household filters are built in.
var filterVessels = [...]string{"8 x 44", "9 x 48", "10 x 54", "12 x 52", "13 x 54", "14 x 65", "16 x 65", "18 x 65"}

// bedSizes are the sizes worth trying for a medium, cheapest first: single
// vessels, two and three in parallel, and those that a larger pressure tank can
// help to wash; of a workplace more and larger ones. Where none comes near both its
// wash and its service rate, the least bad one stands for all, so that its first
// limit can be told.
func (j *Job) bedSizes(m media.Medium, refuse float64, vessels []string) []Size {
	t := sizing{
		job: j, medium: &m, work: j.commercial(), away: j.lull().Share,
		rate: j.Site.Factors.Of(m.Backwash), refuse: refuse, peak: math.Max(j.Peak.GPM(), leastFlow),
		slow:  slowest * j.Site.Factors.Of(m.ServiceCaution),
		plain: j.washFlow(Size{}, j.Site.Factors.Of(m.WashMinutes)),
		lent:  j.washFlow(Size{Lent: largestLent}, j.Site.Factors.Of(m.WashMinutes)),
		least: -1,
	}
	most := mostVessels
	if t.work {
		vessels, most = t.more(vessels), mostAtWork
	}
	all := vesselsNamed(vessels...)
	for n := 1; n <= most && !(n > 2 && t.sound); n++ {
		for _, v := range all {
			if v.Bed.Inches() >= shallowest*m.MinBed.Inches() {
				t.try(Size{Vessel: v, Count: n, Turn: j.turnOf(n), Media: v.Fill})
			}
		}
	}
	if len(t.near) == 0 {
		t.near = []Size{t.best}
	}
	return cheapestFirst(t.near, m.Part)
}

// sizing gathers the sizes worth trying.
type sizing struct {
	job          *Job
	medium       *media.Medium
	work         bool    // more than a household: larger and more vessels, and their pressure counts
	away         float64 // share of the peak asked while one is washed: above 0 there is no quiet hour
	rate, refuse float64 // wash and service, gpm/ft2
	peak         float64 // gpm
	slow         float64 // service at peak below which more vessel gains nothing, gpm/ft2
	plain, lent  float64 // to be had for a wash, without and with a larger tank, gpm
	near         []Size
	sound        bool // some size meets both
	best         Size
	least        float64
}

// more adds the vessels of a workplace to those of a process that is built in all of
// a house's.
func (t *sizing) more(vessels []string) []string {
	if len(vessels) < len(filterVessels) {
		return vessels
	}
	return append(slices.Clone(vessels), commercialVessels[2:]...)
}

func (t *sizing) try(z Size) {
	one := z.Vessel.Area.Ft2()
	area := one * float64(z.Count)
	serve, washed, helped := t.serving(z), t.plain/(t.rate*one), t.lent/(t.rate*one)
	if worth := math.Min(serve, washed); worth > t.least {
		t.best, t.least = z, worth
	}
	if serve < nearly || (t.sound && t.peak/area < t.slow) || t.work && !newBed(t.job, z, *t.medium).modest() {
		return
	}
	if washed >= nearly {
		t.near = append(t.near, z)
		t.sound = t.sound || (washed >= 1 && serve >= 1)
	}
	if washed < 1 && helped >= 1 && helped > washed {
		z.Lent = largestLent
		t.near = append(t.near, z)
		t.sound = t.sound || serve >= 1
	}
}

// serving is the rate that the medium allows over what is asked of it, at peak and,
// without quiet hours, of those left while one is washed.
func (t *sizing) serving(z Size) float64 {
	one := z.Vessel.Area.Ft2()
	serve := t.refuse * one * float64(z.Count) / t.peak
	if t.away > 0 {
		serve = math.Min(serve, t.refuse*one*float64(z.left())/(t.away*t.peak))
	}
	return serve
}

// What is worth trying. Kind: judgement, so that few sizes are tried and none
// that could win is missed.
const (
	nearly      = 0.9 // of what is needed
	shallowest  = 0.8 // of the least bed depth of the medium
	slowest     = 0.5 // of the medium's cautious service rate
	mostVessels = 3
	mostAtWork  = 6 // in a workplace
)

// largestLent is the pressure tank bought to help a wash: the largest of the
// common ones.
var largestLent = unit.Gal(119)

// cheapestFirst orders sizes by the price of vessel, bed, valve and tank.
func cheapestFirst(zs []Size, medium media.Part) []Size {
	prices := media.Prices()
	mid := func(p media.Part) float64 {
		price, _ := prices.Of(p)
		return float64(price.Mid)
	}
	price := func(z Size) float64 {
		each := mid(z.Vessel.Part()) + z.Media.Ft3()*mid(medium) + mid(media.TimerValve) + mid(media.Connections) + secondHours*mid(media.LabourHour)
		total := each * float64(max(1, z.Count))
		if tank, ok := media.PressureTankOf(z.Lent); ok && z.Lent.Gal() > 0 {
			total += mid(tank)
		}
		return total
	}
	slices.SortStableFunc(zs, func(a, b Size) int { return cmp.Compare(price(a), price(b)) })
	return zs
}

// drop takes the limits of some ids out of a list, soft ones only if so told.
func drop(ls []Limit, softOnly bool, ids ...string) []Limit {
	return slices.DeleteFunc(ls, func(l Limit) bool {
		return (l.Soft || !softOnly) && slices.Contains(ids, l.ID)
	})
}

// spoiled is the outcome of a stage whose water the chemistry could not carry:
// the water is passed on as it came, and the failure is said.
func spoiled(j *Job, o Outcome, err error) Outcome {
	o.Out, o.AtPeak = j.In, j.In
	o.Limits = append([]Limit{{ID: "reckoning", Have: 0, Need: 1, Say: "the reactions could not be worked out: " + err.Error(),
		Kind: source.Derived, From: "the program itself"}}, o.Limits...)
	return o
}

// commonWays are the ways in which every granular bed fails.
func commonWays() []Way {
	return []Way{
		{BypassOpen, "the bypass stands open or half open", "outlet between inlet and a good outlet, in every form; little pressure loss", "close the bypass, flush, read again"},
		{BedChannel, "the bed has channelled or mudballed", "iron passes at peak, in both forms; clear first, then brown at higher flow", "lengthen and strengthen the backwash; dig out mudballs or change the bed"},
		{BackwashWeak, "the backwash does not lift the bed", "iron held by 0.45 µm at the outlet, pressure loss that returns soon after a wash", "measure the drain flow with a bucket; mend the pump, drain line or flow control"},
		{MediaLost, "part of the bed has gone to the drain", "iron passes in both forms, grains in the drain, low bed", "check freeboard and drain control, top up the bed"},
		{TubeLeak, "the riser tube or its seal leaks", "a steady small share of raw water at every flow", "reseat the riser and renew the seal"},
	}
}

var spentWay = Way{CoatingSpent, "the oxide coat is spent or stripped",
	"ferrous iron and manganese at the outlet though an oxidant reaches the bed", "restore the residual, recharge with permanganate or change the bed"}

var largeValveCv = source.Factor{
	Name: "valve_service_cv_large", What: "flow coefficient of a 1.5 in control valve in service",
	Unit: "gpm/psi^0.5", Value: 12, Low: 10, High: 15, Kind: source.CommonPractice, From: "rule of the trade: twice that of a 1 in valve",
}
