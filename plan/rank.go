package plan

import (
	"math"

	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
)

// ranked is a train with its cost and what its failing would cost.
type ranked struct {
	train.Evaluation
	bill     cost.Bill
	own      float64 // ten-year cost and the owner's time, US dollars
	chance   float64 // of failing, over the waters
	calls    float64 // callbacks in ten years
	loss     float64 // expected cost of failing and of callbacks
	expected float64 // own and loss
	healthy  float64 // share of the waters in which no limit of health is broken
	kept     []media.Process
	over     *train.Carried // over the whole cloud; nil: only a few waters are known
	lasted   int            // rounds of comparison over the cloud that it came through
	refuge   float64        // cost of the train that one would turn to when this one has failed
	regret   float64        // expected cost beyond the best train in each water

	overBudget bool
	failedHere bool // one like its first stage stands here and does not work
}

// price costs one train without its failing.
func (d *Desk) price(e train.Evaluation) ranked {
	bill, kept := d.bill(e)
	r := ranked{Evaluation: e, kept: kept, bill: bill, healthy: 1}
	r.own = cost.Expected(bill, d.ask.Prices, d.set).USD() + d.set.Of(ownerHour)*bill.Hours*d.set.Of(lossYears)
	r.failedHere = d.failedHere(e.Train)
	r.overBudget = d.overBudget(bill)
	r.expected = r.own
	return r
}

// overBudget reports whether a train is above what the owner would spend, first
// or yearly.
func (d *Desk) overBudget(b cost.Bill) bool {
	w := d.Present.Wishes
	if w.Budget == nil && w.YearlyBudget == nil {
		return false
	}
	c := d.work(b, nil)
	return (w.Budget != nil && c.First.Mid.USD() > *w.Budget) || (w.YearlyBudget != nil && c.Yearly.Mid.USD() > *w.YearlyBudget)
}

// key is what trains are ordered by: expected cost, and behind all others those
// that a budget, the likeliest water or, last, health speaks against.
func (d *Desk) key(r ranked) float64 {
	k := r.expected
	if r.overBudget {
		k += behind
	}
	if r.Fails {
		k += 10 * behind
	}
	if !d.healthyEnough(r) {
		k += 100 * behind
	}
	return k
}

// behind is far above what any train costs, US dollars: it only sets classes apart.
const behind = 1e7

// failedHere reports whether a train is nothing but equipment that stands here
// and is known not to do its work, trimmings apart.
func (d *Desk) failedHere(t train.Train) bool {
	if len(t) == 0 || method(t) == "" {
		return false
	}
	failed := map[media.Process]bool{}
	for _, q := range d.Present.Equipment {
		failed[media.Process(q.Process)] = q.Works != nil && !*q.Works
	}
	for _, p := range t {
		if !trimming(p) && !failed[p] {
			return false
		}
	}
	return true
}

// refuge is the cost of the train that one would turn to when another has
// failed: the cheapest of those that are least likely to fail.
func (d *Desk) refuge(rs []ranked) float64 {
	safest, cost := 2.0, 0.0
	for _, r := range rs {
		c, whole := math.Round(r.chance*20)/20, r.own+r.calls*d.set.Of(callback)
		if c < safest || (c == safest && whole < cost) {
			safest, cost = c, whole
		}
	}
	return cost
}

// lossIn is what a train costs beyond its own in a water where it fails with
// that chance and brings those callbacks: with its chance of failing, the useless
// unit and the dearer train that must follow it; and the callbacks meanwhile.
func (d *Desk) lossIn(r *ranked, chance, calls, refuge float64) float64 {
	if r.failedHere {
		chance = 1 - (1-chance)*(1-d.set.Of(failsAgain))
	}
	return chance*(d.set.Of(wrongUnit)+math.Max(0, refuge-r.own)) + calls*d.set.Of(callback)
}

// expect adds the expected loss, from the chance and callbacks over all waters.
func (d *Desk) expect(r *ranked, refuge float64) {
	r.refuge = refuge
	r.loss = d.lossIn(r, r.chance, r.calls, refuge)
	r.expected = r.own + r.loss
}

// bill joins the stages' bills for the leading water, less what is there and
// kept: a unit that works is not bought again; of one that does not, the vessel
// and valve serve on with new media.
func (d *Desk) bill(e train.Evaluation) (cost.Bill, []media.Process) {
	var whole cost.Bill
	var kept []media.Process
	for _, l := range e.Links {
		b := l.Outcomes[e.Lead].Bill
		if q, there := d.there(l.Process); there {
			b.First = withoutHousing(b.First, q)
			kept = append(kept, l.Process)
		}
		whole = whole.Join(b)
	}
	if e.Tap != nil { // it is what meets a limit of health
		b := e.Tap.Bill
		if works, there := d.there(media.ReverseOsmosis); there {
			b.First = withoutHousing(b.First, works)
		}
		whole = whole.Join(b)
	}
	return whole, kept
}

// there reports whether a process stands in the house already; works is whether
// it is sound.
func (d *Desk) there(p media.Process) (works, there bool) {
	for _, q := range d.Present.Equipment {
		if q.Process == string(p) {
			return q.Works != nil && *q.Works, true
		}
	}
	return false, false
}

func withoutHousing(ls []cost.Line, works bool) []cost.Line {
	if works {
		return nil
	}
	var left []cost.Line
	for _, l := range ls {
		if !l.Part.Housing() {
			left = append(left, l)
		}
	}
	return left
}

// worth is what a stage costs over the years, callbacks counted: what a size is
// chosen by.
func (d *Desk) worth(o stage.Outcome) float64 {
	sum := cost.Expected(o.Bill, d.ask.Prices, d.set).USD() + d.set.Of(ownerHour)*o.Bill.Hours*d.set.Of(lossYears)
	for i := range o.Limits {
		l := &o.Limits[i]
		if !l.Fails() {
			continue
		}
		if l.Doubtful {
			sum += l.Doubt * d.set.Of(wrongUnit)
		} else {
			sum += d.visits.callbacks(l) * d.set.Of(callback)
		}
	}
	return sum
}

// middle is the index of the likeliest draw.
func (d *Desk) middle() int { return d.Work.Middle() }

// fold keeps the best of the trains that work alike.
func fold(rs []ranked) []ranked {
	var keep []ranked
	for _, r := range rs {
		if !dominated(r, keep) {
			keep = append(keep, r)
		}
	}
	return keep
}

// dominated reports whether a better train works in the same way, or filters as
// it stands and loses nothing by doing without what this one adds.
func dominated(r ranked, better []ranked) bool {
	for _, b := range better {
		if method(b.Train) == method(r.Train) {
			return true
		}
		if within(b.Train, r.Train) && r.loss >= b.loss-1 && (b.Train.Has(ironFilters...) || onlyStrains(r.Train, b.Train)) {
			return true
		}
	}
	return false
}

// onlyStrains reports whether a train has nothing beyond another but strainers.
func onlyStrains(more, less train.Train) bool {
	for _, p := range more {
		if p != media.SedimentFilter && p != media.CartridgeFilter && !less.Has(p) {
			return false
		}
	}
	return true
}

// ironFilters are the stages that hold oxidised iron.
var ironFilters = []media.Process{
	media.SedimentFilter, media.GreensandFilter, media.CoatedSandFilter, media.LightweightFilter,
	media.ManganeseOreFilter, media.AirInjectionFilter, media.CatalyticCarbonFilter,
}

// within reports whether a's stages stand in b in the same order.
func within(a, b train.Train) bool {
	i := 0
	for _, p := range b {
		if i < len(a) && a[i] == p {
			i++
		}
	}
	return i == len(a)
}

// method is what makes a train work: how it is oxidised, what filters it and
// whether it is softened. Trains alike in it differ in trimmings.
func method(t train.Train) string {
	s := ""
	for _, p := range t {
		if !trimming(p) {
			s += string(p) + ","
		}
	}
	return s
}

// trimming is true of stages that only round a train off.
func trimming(p media.Process) bool {
	switch p {
	case media.ContactTank, media.CarbonFilter, media.CartridgeFilter, media.Ultraviolet:
		return true
	}
	return false
}

var (
	callback = source.Factor{Name: "loss_callback", What: "cost of one callback", Unit: "USD",
		Value: 250, Low: 150, High: 350, Kind: source.Judgement, From: "lost time and travel, US conditions"}
	wrongUnit = source.Factor{Name: "loss_wrong_unit", What: "cost of a unit that cannot do the work", Unit: "USD",
		Value: 2750, Low: 1500, High: 4000, Kind: source.Judgement, From: "useless unit and its removal, US conditions"}
	ownerHour = source.Factor{Name: "owner_hour", What: "an hour of the owner's own upkeep", Unit: "USD",
		Value: 15, Low: 0, High: 40, Kind: source.Judgement, From: "what people say they would pay to be rid of it; meant only to rank"}
	lossYears = source.Factor{Name: "owner_hour_years", What: "present worth of ten years of one unit a year", Unit: "years",
		Value: 8.53, Kind: source.Derived, From: "(1 - 1.03^-10) / 0.03"}
	failsAgain = source.Factor{Name: "fails_again", What: "chance that equipment that failed here fails again at the same duty", Unit: "",
		Value: 0.7, Low: 0.5, High: 0.9, Kind: source.Judgement, From: "the well has given its evidence once"}
	nearTie = source.Factor{Name: "near_tie", What: "difference of expected cost below which two options are called a near-tie", Unit: "",
		Value: 0.10, Low: 0.05, High: 0.2, Kind: source.Judgement, From: "prices are known to about 40 %"}
)

// Factors lists the factors of this room.
func Factors() []source.Factor {
	return append(visitFactors(), callback, wrongUnit, ownerHour, lossYears, nearTie, sulfideSmell, phLow, phHigh, hardnessAim, failsAgain,
		capacityLost, lowYield, dissolving, scaling, larsonHigh, dietSodium, phForMetal, askedHealth, leastHolding, radonAdvice, testMonths, callDays)
}
