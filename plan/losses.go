package plan

import (
	"math"
	"sort"

	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/media"
	"wellwright/nexttest"
	"wellwright/source"
)

// lossTable holds the loss of every decision in every plausible water; nil where
// there are too few waters or nothing to choose between.
func (d *Desk) lossTable(c chosen) (*nexttest.Table, []decision) {
	ds := d.decisions(c)
	if len(ds) < 2 {
		return nil, nil
	}
	draws := d.Cloud.Draws
	losses := d.lossesOf(ds, c)
	keep := worthKeeping(losses)
	named := make([]nexttest.Decision, len(keep))
	kept := make([]decision, len(keep))
	for n, k := range keep {
		kept[n] = ds[k]
		named[n] = nexttest.Decision{ID: ds[k].id(), Words: d.words(ds[k])}
	}
	t := nexttest.NewTable(named, len(draws))
	for i := range draws {
		for n, k := range keep {
			t.Set(i, n, cost.USD(losses[i][k]))
		}
	}
	return t, kept
}

// lossesOf is the loss of every decision in every draw.
func (d *Desk) lossesOf(ds []decision, c chosen) [][]float64 {
	losses := make([][]float64, len(d.Cloud.Draws))
	for i := range losses {
		losses[i] = make([]float64, len(ds))
		remedy := d.remedy(c, i)
		for k := range ds {
			losses[i][k] = d.lossOf(&ds[k], i, remedy)
		}
	}
	d.asRanked(losses, ds)
	if last := len(ds) - 1; ds[last].train == nil {
		d.asked(losses, last)
	}
	return losses
}

// asRanked shifts the losses of each train, alike in all draws in which it does its work, so that its best
// start costs on the mean what the train is ranked by: what is done as things
// stand is the first option, and a test is worth what moves it from there.
func (d *Desk) asRanked(losses [][]float64, ds []decision) {
	for first := 0; first < len(ds) && ds[first].train != nil; {
		last, least := first, math.Inf(1)
		for ; last < len(ds) && ds[last].train == ds[first].train; last++ {
			if ds[last].work == ds[first].work {
				least = math.Min(least, meanOf(losses, last))
			}
		}
		r := ds[first].train
		shift := r.expected - (least - d.workUSD(ds[first].work))
		weight := r.weights()
		for i, row := range losses {
			for k := first; k < last; k++ {
				row[k] += shift * weight[i]
			}
		}
		first = last
	}
}

// weights are the parts that the draws have in a shift of mean one: where a train
// fails all trains that fail are alike, and none is shifted against another.
func (r *ranked) weights() []float64 {
	ws, sum := make([]float64, len(r.over.Over)), 0.0
	for i, v := range r.over.Over {
		ws[i] = 1 - v.Fails
		sum += ws[i]
	}
	mean := sum / float64(len(ws))
	for i := range ws {
		if ws[i] /= mean; mean < 1-mostlyFails {
			ws[i] = 1
		}
	}
	return ws
}

// mostlyFails is a chance of failing from which too few draws are left to carry
// a shift.
const mostlyFails = 0.9

// workUSD is what the usual work on the well costs on the mean, beside the train.
func (d *Desk) workUSD(w wellWork) float64 {
	if w != cleanFirst {
		return 0
	}
	given := 0
	for i := range d.Cloud.Draws {
		if d.givenUp(i) {
			given++
		}
	}
	return d.rehabUSD() + float64(given)/float64(len(d.Cloud.Draws))*(d.newWell()+d.set.Of(callback))
}

// givenUp reports whether a cleaned well would not come back to enough in draw i.
func (d *Desk) givenUp(i int) bool {
	return d.Cloud.Draws[i].Supply.Recovery < d.set.Of(nexttest.RecoveredEnough())
}

// remedy is the cost of the train that one would turn to in draw i if another
// had failed there: by then one knows the water, and takes the cheapest that does
// its work in it. Where none is known to, it is the refuge of the whole cloud.
func (d *Desk) remedy(c chosen, i int) float64 {
	best := math.Inf(1)
	for k := range c.table {
		r := &c.table[k]
		if r.over == nil || i >= len(r.over.Over) || r.overBudget {
			continue
		}
		if v := r.over.Over[i]; v.Fails < worksBelow {
			best = math.Min(best, r.own+v.Calls*d.set.Of(callback))
		}
	}
	if math.IsInf(best, 1) {
		return c.refuge
	}
	return best
}

// worksBelow is the chance of failing below which a train is taken to do its work
// in a water: less likely than not.
const worksBelow = 0.5

// asked scales the cost of doing nothing. Who has asked for treatment holds the
// water, as it is believed today, to be worse than the best train is dear; a worse
// water is worse than what is best in it. So nothing is done only where a test
// shows the water to be better than believed.
func (d *Desk) asked(losses [][]float64, nothing int) {
	believed, least := meanOf(losses, nothing), math.Inf(1)
	if believed <= 0 {
		return
	}
	for k := range nothing {
		least = math.Min(least, meanOf(losses, k))
	}
	over := d.set.Of(untreatedAsked)
	for _, row := range losses {
		share := row[nothing] / believed
		best := math.Inf(1)
		for _, l := range row[:nothing] {
			best = math.Min(best, l)
		}
		row[nothing] = math.Max(row[nothing], over*math.Max(share*least, math.Min(1, share)*best))
	}
}

func meanOf(losses [][]float64, k int) float64 {
	sum := 0.0
	for _, row := range losses {
		sum += row[k]
	}
	return sum / float64(len(losses))
}

// decisionsMost is how many decisions a table holds.
const decisionsMost = 24

// worthKeeping are the decisions that cost least in some water, cheapest on the
// mean first; one that is never best by itself only stays if it is best on the
// mean.
func worthKeeping(losses [][]float64) []int {
	n := len(losses[0])
	wins, mean, order := make([]int, n), make([]float64, n), make([]int, n)
	for k := range order {
		order[k] = k
	}
	for _, row := range losses {
		best := 0
		for k, l := range row {
			mean[k] += l
			if l < row[best] {
				best = k
			}
		}
		wins[best]++
	}
	sort.SliceStable(order, func(a, b int) bool { return mean[order[a]] < mean[order[b]] })
	var keep []int
	for n, k := range order {
		if n < decisionsMost/2 || wins[k] > 0 && len(keep) < decisionsMost {
			keep = append(keep, k)
		}
	}
	return keep
}

// lossOf is the loss of a decision in draw i, US dollars over ten years.
func (d *Desk) lossOf(x *decision, i int, remedy float64) float64 {
	if x.train == nil {
		return d.untreated(&d.Cloud.Draws[i])
	}
	loss := d.trainIn(x, i, remedy)
	if x.feed != nil {
		loss += d.feedLoss(x.feed, d.takes(x.train, x.feed, oxidants[x.feed.process], i))
	}
	switch x.work {
	case cleanFirst:
		loss += d.rehabUSD()
		if d.givenUp(i) {
			loss += d.newWell() + d.set.Of(callback)
		}
	case newWell:
		loss += d.newWell()
	}
	return loss
}

// trainIn is what the train costs in draw i, its failing counted. A feed pump too
// small is no failing here: it is a size, and changed. Nor is a well that gives
// too little: it is deepened in the end, and water hauled meanwhile, unless it was
// deepened before.
func (d *Desk) trainIn(x *decision, i int, remedy float64) float64 {
	r := x.train
	v := r.over.Over[i]
	dry, mends := r.runsDry(i)
	if dry && mends || brokenOnly(r, i, feedLimits) {
		v.Fails = 0
	}
	loss := r.own + d.lossIn(r, v.Fails, v.Calls*(1-v.Fails), remedy) // what has failed brings no callbacks after it
	switch {
	case x.work == deepenFirst:
		loss += d.set.Of(deepenUSD)
		if r.Train.Has(media.StorageBooster) {
			loss -= d.set.Of(deepenWorks) * d.storageUSD(r)
		}
	case dry:
		loss += d.set.Of(callback) + math.Min(d.set.Of(deepenUSD)+d.set.Of(hauledUSD), d.set.Of(hauledUSD)*d.set.Of(lossYears))
	}
	return loss
}

// feedLimits are those that a larger feed pump mends.
var feedLimits = map[string]bool{"feed_pump_output": true}

// feedLoss is what a start costs where the feed must come to another dose: more
// visits to titrate the further it is off, and another pump if this one cannot
// give it.
//
//	loss = c min(1, ((D − s) / (w s))²) + (P + c) [D > top]
//
//	s, top  dose at the start and the most the pump gives, mg/L
//	D       dose that the water asks for, mg/L
//	c, P    a callback and a feed pump, US dollars;  w  feed_visit_at
//
// Error: as large as itself. Source: judgement, meant only to rank.
func (d *Desk) feedLoss(f *feedStart, asks float64) float64 {
	off := (asks - f.dose) / (d.set.Of(feedVisitAt) * math.Max(f.dose, 0.1))
	loss := d.set.Of(callback) * math.Min(1, off*off)
	if asks > f.top {
		pump, _ := d.ask.Prices.Of(media.FeedPump)
		loss += cost.Cents(pump.Mid).USD() + d.set.Of(callback)
	}
	return loss
}

// storageUSD is the first cost of tank and booster of a train.
func (d *Desk) storageUSD(r *ranked) float64 {
	for _, l := range r.Links {
		if l.Process == media.StorageBooster {
			return d.listed(l.Outcomes[r.Lead].Bill.First...)
		}
	}
	return 0
}

// rehabUSD is what cleaning a well costs: the pump pulled and set, days of
// brushing, acid and surging, and a sound cap.
func (d *Desk) rehabUSD() float64 {
	return d.listed(cost.Line{Part: media.PullPump, Amount: 1}, cost.Line{Part: media.WellCleaningDay, Amount: d.set.Of(cleaningDays)},
		cost.Line{Part: media.WellAcidGal, Amount: d.set.Of(cleaningAcid)}, cost.Line{Part: media.WellCap, Amount: 1})
}

// newWell is what a new well costs: one as deep as this at the price list's foot,
// with a pump; where the depth is not recorded, the factor.
func (d *Desk) newWell() float64 {
	w := d.Present.Supply.Well
	if w.Depth == nil {
		return d.set.Of(newWellUSD)
	}
	return d.listed(cost.Line{Part: media.NewWellFt, Amount: w.Depth.Ft()}, cost.Line{Part: media.WellPump, Amount: 1},
		cost.Line{Part: media.PullPump, Amount: 1}, cost.Line{Part: media.LabourHour, Amount: d.set.Of(newWellHours)})
}

// listed is the price of some lines at the list's usual price.
func (d *Desk) listed(ls ...cost.Line) float64 {
	return cost.Expected(cost.Bill{First: ls}, d.ask.Prices, d.set).USD()
}

// untreated is what a water costs in ten years if nothing is done: stains,
// laundry, fixtures and smell, as much as owners would pay to be rid of them.
//
//	loss = years · (a log10(Fe/Fe0) + b log10(Mn/Mn0) + c [S > S0] + h (H/H0 − 1))
//
//	each part only above its target, the logarithms and the last bracket 1 at most
//
// Error: a factor of two and more. Source: judgement, meant only to rank.
func (d *Desk) untreated(x *cloud.Draw) float64 {
	w, want := &x.Water, d.Work.Want
	above := func(have, aim float64) float64 {
		if have <= aim || aim <= 0 {
			return 0
		}
		return math.Min(1, math.Log10(have/aim))
	}
	yearly := d.set.Of(untreatedIron)*above(w.TotalIron().MgPerL(), want.Iron.MgPerL()) +
		d.set.Of(untreatedManganese)*above(w.TotalManganese().MgPerL(), want.Manganese.MgPerL())
	if w.Sulfide.MgPerLAsH2S() > want.Sulfide.MgPerLAsH2S() {
		yearly += d.set.Of(untreatedSulfide)
	}
	if aim := want.Hardness.GPG(); aim > 0 {
		yearly += d.set.Of(untreatedHardness) * math.Min(1, math.Max(0, w.Hardness().GPG()/aim-1))
	}
	return yearly * d.set.Of(lossYears)
}

var (
	feedVisitAt = source.Factor{Name: "feed_visit_at", What: "share by which the dose must be changed at which a second visit to titrate is sure; rarer with the square below", Unit: "",
		Value: 0.3, Low: 0.15, High: 0.6, Kind: source.Judgement, From: "tank and beds must come to rest between settings: one start-up visit settles small changes only"}
	cleaningDays = source.Factor{Name: "rehab_days", What: "days of a contractor to clean a well with slime", Unit: "days",
		Value: 2, Low: 1, High: 3, Kind: source.CommonPractice, From: "half a day to two days, and a day to pump out and disinfect"}
	cleaningAcid = source.Factor{Name: "rehab_acid_gal", What: "acid to clean a well with slime and rust", Unit: "gal",
		Value: 15, Low: 5, High: 30, Kind: source.Judgement, From: "a tenth of the water column of an ordinary domestic well"}
	newWellHours = source.Factor{Name: "new_well_hours", What: "hours to connect a new well and seal the old one", Unit: "h",
		Value: 16, Low: 8, High: 30, Kind: source.Judgement, From: "pitless adapter, trench and wire for two people a day"}
	newWellUSD = source.Factor{Name: "new_well_usd", What: "cost of a new drilled well with its pump and line, where the depth of this one is not recorded", Unit: "USD",
		Value: 13000, Low: 8000, High: 20000, Kind: source.Judgement, From: "150 to 250 ft at the price list's foot, pump, pitless and trench"}
	deepenUSD = source.Factor{Name: "deepen_well_usd", What: "cost of deepening or fracturing a weak well", Unit: "USD",
		Value: 6500, Low: 3000, High: 12000, Kind: source.Judgement, From: "a contractor's day or two with the rig, pump pulled and set"}
	deepenWorks = source.Factor{Name: "deepen_well_works", What: "chance that a deepened or fractured well then needs no storage", Unit: "",
		Value: 0.6, Low: 0.4, High: 0.8, Kind: source.Judgement, From: "most gain a little, about as many gain enough as not"}
	hauledUSD = source.Factor{Name: "hauled_water_usd", What: "water hauled through one dry season", Unit: "USD",
		Value: 1500, Low: 600, High: 3000, Kind: source.Judgement, From: "a tanker every week or two for two to three months"}
	untreatedAsked = source.Factor{Name: "untreated_over_best", What: "cost of living with the water as it is believed today, least, over that of the best train, for an owner who has asked for treatment", Unit: "",
		Value: 1.25, Low: 1, High: 2, Kind: source.Judgement, From: "they called; meant only to rank"}
	untreatedIron = source.Factor{Name: "untreated_iron_usd", What: "yearly cost of living with ten times the iron asked for", Unit: "USD a year",
		Value: 900, Low: 300, High: 2000, Kind: source.Judgement, From: "laundry, fixtures, cleaning and what owners would pay to be rid of stains; meant only to rank"}
	untreatedManganese = source.Factor{Name: "untreated_manganese_usd", What: "yearly cost of living with ten times the manganese asked for", Unit: "USD a year",
		Value: 400, Low: 100, High: 1000, Kind: source.Judgement, From: "as for iron; black stains"}
	untreatedSulfide = source.Factor{Name: "untreated_sulfide_usd", What: "yearly cost of living with a smell of sulfide", Unit: "USD a year",
		Value: 600, Low: 200, High: 1500, Kind: source.Judgement, From: "what owners would pay to be rid of it; meant only to rank"}
	untreatedHardness = source.Factor{Name: "untreated_hardness_usd", What: "yearly cost of living with twice the hardness asked for", Unit: "USD a year",
		Value: 350, Low: 100, High: 700, Kind: source.Judgement, From: "soap, heater, fixtures; meant only to rank"}
)

// lossFactors are the factors of the losses.
func lossFactors() []source.Factor {
	return []source.Factor{feedVisitAt, cleaningDays, cleaningAcid, newWellHours, newWellUSD, deepenUSD, deepenWorks, hauledUSD, untreatedAsked, untreatedIron, untreatedManganese, untreatedSulfide, untreatedHardness}
}
