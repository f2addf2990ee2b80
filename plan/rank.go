package plan

import (
	"math"
	"sort"

	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
)

// ranked is a train with its cost and what its failing would cost.
type ranked struct {
	train.Evaluation
	cost     cost.Answer
	own      float64 // ten-year cost and the owner's time, US dollars
	chance   float64 // of failing, over the waters drawn
	calls    float64 // callbacks in ten years
	loss     float64 // expected cost of failing and of callbacks
	expected float64 // own and loss
	kept     []media.Process

	failedHere bool // one like its first stage stands here and does not work
}

// rank costs every train, adds what its failing would cost, orders by expected
// cost, and folds away trains that only add stages to a better one.
func (d *Desk) rank(es []train.Evaluation) []ranked {
	var rs []ranked
	for _, e := range es {
		if !e.Fails {
			rs = append(rs, d.price(e))
		}
	}
	refuge := d.refuge(rs)
	for i := range rs {
		d.expect(&rs[i], refuge)
	}
	sort.SliceStable(rs, func(i, k int) bool {
		if a, b := d.overBudget(rs[i]), d.overBudget(rs[k]); a != b {
			return b
		}
		return rs[i].expected < rs[k].expected
	})
	return fold(rs)
}

// overBudget reports whether a train is above what the owner would spend, first
// or yearly.
func (d *Desk) overBudget(r ranked) bool {
	w := d.Present.Wishes
	return (w.Budget != nil && r.cost.First.Mid.USD() > *w.Budget) ||
		(w.YearlyBudget != nil && r.cost.Yearly.Mid.USD() > *w.YearlyBudget)
}

// price costs one train without its failing.
func (d *Desk) price(e train.Evaluation) ranked {
	bill, kept := d.bill(e)
	r := ranked{Evaluation: e, kept: kept, cost: d.work(bill, nil)}
	r.own = r.cost.TenYear.Mid.USD() + d.set.Of(ownerHour)*r.cost.Hours*d.set.Of(lossYears)
	r.chance, r.calls = d.failing(e)
	if d.failedHere(e.Train) {
		r.chance = 1 - (1-r.chance)*(1-d.set.Of(failsAgain))
		r.failedHere = true
	}
	r.expected = r.own
	return r
}

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

// expect adds the expected loss: with its chance of failing, the useless unit
// and the dearer train that must follow it; and the callbacks meanwhile.
func (d *Desk) expect(r *ranked, refuge float64) {
	r.loss = r.chance*(d.set.Of(wrongUnit)+math.Max(0, refuge-r.own)) + r.calls*d.set.Of(callback)
	r.expected = r.own + r.loss
}

// bill joins the stages' bills for the middle water, less what is there and
// kept: a unit that works is not bought again; of one that does not, the vessel
// and valve serve on with new media.
func (d *Desk) bill(e train.Evaluation) (cost.Bill, []media.Process) {
	var whole cost.Bill
	var kept []media.Process
	for _, l := range e.Links {
		b := l.Outcomes[d.middle()].Bill
		if q, there := d.there(l.Process); there {
			b.First = withoutHousing(b.First, q)
			kept = append(kept, l.Process)
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
	sum := d.work(o.Bill, nil).TenYear.Mid.USD() + d.set.Of(ownerHour)*o.Bill.Hours*d.set.Of(lossYears)
	for _, l := range o.Limits {
		switch {
		case l.Fails() && l.Doubtful:
			sum += l.Doubt * d.set.Of(wrongUnit)
		case l.Fails():
			sum += callbacks(l) * d.set.Of(callback)
		}
	}
	return sum
}

// middle is the index of the likeliest draw.
func (d *Desk) middle() int { return d.Work.Middle() }

// failing is the chance that a train fails, over the waters drawn, and how many
// callbacks in ten years its broken cautions bring.
func (d *Desk) failing(e train.Evaluation) (chance, calls float64) {
	for i, ls := range e.Limits {
		w := d.Work.Draws[i].Weight
		p, n := failingIn(ls)
		chance += w * p
		calls += w * n
	}
	return chance, calls
}

// failingIn is the chance of failing in one water. A broken hard limit is sure
// failure. Between the caution and the refusal in print for one quantity the
// chance rises evenly from nothing to one: the books disagree about where in
// between the process gives out.
func failingIn(ls []train.Placed) (chance, calls float64) {
	holds := 1.0
	for _, l := range ls {
		switch {
		case l.Hard():
			return 1, calls
		case l.Fails() && l.Doubtful:
			holds *= 1 - l.Doubt
		case l.Fails():
			calls += callbacks(*l.Limit)
		}
	}
	return 1 - holds, calls
}

// callbacks is how many visits in ten years a broken caution brings.
func callbacks(l stage.Limit) float64 {
	n, told := callbackTable[l.ID]
	if !told {
		return 1
	}
	if graded[l.ID] && l.Need > 0 {
		over := (l.Have - l.Need) / l.Need
		if !l.AtMost {
			over = (l.Need - l.Have) / l.Need
		}
		return n * math.Min(1, math.Max(0, over))
	}
	return n
}

// graded are the cautions that trouble more the further they are broken: the
// callbacks of the table come at twice or none of what is asked.
var graded = map[string]bool{"chlorine_taste": true, "peak_flow": true, "service_rate": true, "waste_share": true}

// callbackTable holds the cautions that do not bring the usual one callback in
// ten years. Judgement, meant only to rank.
var callbackTable = map[string]float64{
	"peak_flow": 40, "service_rate": 6, "permanganate_kept": 6, "charges_for_manganese": 4, "waste_share": 2, "backwash_flow": 3, "iron_at_peak": 4, "hardness_at_kitchen": 2, "chlorine_taste": 16, "residual_for_manganese": 3, "sulfur_haze": 12, "wash_every_night": 2,
	"coliform_at_kitchen": 4, "public_works_rate": 0,
	"sodium_restricted_diet": 0, "by_products": 1, "wash_night": 0,
	"drain_for_backwash": 0, "drain_for_brine": 0, "drain_for_permanganate": 1, "drain_for_sludge": 0, "drain_for_reject": 0,
}

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
	return []source.Factor{callback, wrongUnit, ownerHour, lossYears, nearTie, sulfideSmell, phLow, phHigh, hardnessAim, failsAgain, capacityLost, lowYield, dissolving, scaling, larsonHigh, dietSodium, phForMetal}
}
