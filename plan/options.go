package plan

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"wellwright/media"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/water"
)

// options writes the best trains down.
func (d *Desk) options(rs []ranked) []Option {
	most := d.ask.Most
	if most == 0 {
		most = 6
	}
	os := []Option{}
	for i, r := range rs {
		if i == most {
			break
		}
		o := d.option(r)
		o.Rank = i + 1
		o.Ties = d.ties(rs, i, most)
		os = append(os, o)
	}
	if len(os) > 0 && !d.ask.Brief {
		os[0].Flips = d.flips(rs)
	}
	return os
}

// ties lists the ranks whose expected cost is too near to call.
func (d *Desk) ties(rs []ranked, i, most int) []int {
	ties := []int{}
	for k := range rs {
		if k == i || k >= most {
			continue
		}
		if d.tied(&rs[i], &rs[k]) {
			ties = append(ties, k+1)
		}
	}
	return ties
}

// option writes one train down.
func (d *Desk) option(r ranked) Option {
	priced := d.work(r.bill, nil)
	o := Option{
		Train: names(r.Train), Addons: d.addons(r), FirstLimit: d.limit(r.Evaluation, r.First),
		ExpectedCost: round(r.expected), UpkeepHours: priced.Hours, Flips: []Flip{}, WillNot: []string{}, Kept: names(r.kept), Warnings: d.warnings(r),
		Cost: d.costs(r, priced), LimitsMet: d.limitsMet(r),
		Pressure: Pressure{CutIn: r.Budget.CutIn, Clean: r.Budget.Clean, Dirty: r.Budget.Dirty, Left: r.Budget.Left},
		Parts:    parts(priced),
	}
	d.uncertain(&o, r)
	tap := 1
	for k, l := range r.Links {
		s := d.stage(r, k)
		if hasTap(l.Process) {
			tap++
			s.Tap = fmt.Sprintf("T%d", tap)
		}
		o.Stages = append(o.Stages, s)
		mid := l.Outcomes[r.Lead]
		o.WillNot = append(o.WillNot, ofStage(l.Process, mid.WillNot)...)
		for _, w := range mid.Washes {
			o.WasteGalPerYear += w.PerDay().GalPerDay() * 365
		}
	}
	for _, s := range r.Nights.Hours {
		o.Night = append(o.Night, d.slot(r, s))
	}
	o.AtOnce = d.atOnce(r)
	return o
}

// ofStage says whose the shortcomings are: what one stage leaves another may take.
func ofStage(p media.Process, shortcomings []string) []string {
	var all []string
	for _, s := range shortcomings {
		first, size := utf8.DecodeRuneInString(s)
		all = append(all, p.Words()+": "+string(unicode.ToLower(first))+s[size:])
	}
	return all
}

// hasTap is false for a chemical feed, which has no vessel to take a tap behind.
func hasTap(p media.Process) bool {
	switch p {
	case media.ChlorineFeed, media.PermanganateFeed, media.PeroxideFeed, media.SodaAshFeed, media.PolyphosphateFeed, media.OzoneFeed, media.CoagulantFeed:
		return false
	}
	return true
}

// stage writes one stage down as sized, set and forecast.
func (d *Desk) stage(r ranked, k int) Stage {
	l := r.Links[k]
	mid := l.Outcomes[r.Lead]
	s := Stage{
		Process: string(l.Process), Words: l.Process.Words(), Count: max(l.Size.Count, 1), Mode: modeOf(l.Size), Label: l.Size.Label,
		Size: sizes(l.Size), Settings: without(mid.Settings, sizes(l.Size)), WaterOut: d.waterOut(r, k), Findings: []Limit{}, Cautions: mid.Cautions,
	}
	s.Ranges = d.settingRanges(r, k, s.Settings)
	if s.Cautions == nil {
		s.Cautions = []string{}
	}
	for i, ls := range r.Limits {
		for _, p := range ls {
			if p.Stage == k && p.Fails() && i == r.Lead {
				s.Findings = append(s.Findings, d.limit(r.Evaluation, p))
			}
		}
	}
	for _, w := range mid.Washes {
		if w.Waste == stage.WasteBackwash || s.Backwash == nil {
			s.Backwash = &Backwash{Need: w.Need.GPM(), Have: w.Have.GPM(), Days: w.Days, Gallons: w.Gallons.Gal()}
		}
	}
	return s
}

// without returns the settings that do not only repeat the size.
func without(settings stage.Settings, size map[string]float64) map[string]float64 {
	m := map[string]float64{}
	for k, v := range settings {
		if _, same := size[k]; !same {
			m[k] = v
		}
	}
	return m
}

// sizes lists the fields of a size that are in use, by leaf name.
func sizes(z stage.Size) map[string]float64 {
	m := map[string]float64{}
	put := func(name string, v float64) {
		if v > 0 {
			m[name] = v
		}
	}
	put(stage.VesselDiameterIn, z.Vessel.Diameter.Inches())
	put(stage.VesselHeightIn, z.Vessel.Height.Inches())
	put(stage.MediaFt3, z.Media.Ft3())
	put(stage.VolumeGal, z.Volume.Gal())
	if z.Volume.Gal() > 0 {
		put(stage.TanksInSeries, float64(z.Tanks))
	}
	put(stage.FeedPumpGalPerDay, z.Feed.GalPerDay())
	put(stage.BoosterGPM, z.Booster.GPM())
	put(stage.PressureTankGal, z.Lent.Gal())
	put(stage.RatedFlowGPM, z.Rated.GPM())
	return m
}

// waterOut is the forecast behind a stage: the range over the cloud, or, of few
// waters, over the draws of error and season.
func (d *Desk) waterOut(r ranked, k int) map[string]Range {
	m := map[string]Range{}
	l := r.Links[k]
	for n, q := range forecastLeaves {
		if r.over != nil {
			m[q.name] = rangeOver(q.of(l.Outcomes[r.Lead].Out), r.over.Leaf(k, n))
		} else {
			m[q.name] = d.over(func(i int) float64 { return q.of(l.Outcomes[i].Out) })
		}
	}
	return m
}

// uncertain writes down what only the whole cloud tells of an option.
func (d *Desk) uncertain(o *Option, r ranked) {
	if r.over == nil {
		return
	}
	m := d.meets(r)
	o.MeetsProbability, o.MeetsError = &m.P, &m.Error
	regret := round(r.regret)
	o.Carried, o.Regret = len(r.over.Over), &regret
}

// over is the least, middle and greatest of a figure over the draws.
func (d *Desk) over(f func(i int) float64) Range {
	mid := f(d.middle())
	r := Range{mid, mid, mid}
	for i := range d.Work.Draws {
		v := f(i)
		r.P05, r.P95 = min(r.P05, v), max(r.P95, v)
	}
	return r
}

// leaf is one figure of a water by its name in the answer.
type leaf struct {
	name string
	of   func(water.State) float64
}

// forecastLeaves are the figures forecast at every tap.
var forecastLeaves = []leaf{
	{"iron_total_mg_l", func(w water.State) float64 { return w.TotalIron().MgPerL() }},
	{"iron_ferrous_mg_l", func(w water.State) float64 { return w.Ferrous.MgPerL() }},
	{"iron_particulate_mg_l", func(w water.State) float64 { return w.Particulate.MgPerL() }},
	{"iron_bound_mg_l", func(w water.State) float64 { return w.Bound.MgPerL() }},
	{"manganese_mg_l", func(w water.State) float64 { return w.TotalManganese().MgPerL() }},
	{"ph", func(w water.State) float64 { return w.PH.Value() }},
	{"alkalinity_mg_l_as_caco3", func(w water.State) float64 { return w.Alkalinity.MgPerLAsCaCO3() }},
	{"hardness_gpg", func(w water.State) float64 { return w.Hardness().GPG() }},
	{"sodium_mg_l", func(w water.State) float64 { return w.Sodium.MgPerL() }},
	{"oxygen_mg_l", func(w water.State) float64 { return w.Oxygen.MgPerL() }},
	{"sulfide_mg_l_as_h2s", func(w water.State) float64 { return w.Sulfide.MgPerLAsH2S() }},
	{"ammonia_mg_l_as_n", func(w water.State) float64 { return w.Ammonia.MgPerLAsN() }},
	{"free_chlorine_mg_l", func(w water.State) float64 { return w.FreeChlorine.MgPerLAsCl2() }},
	{"permanganate_mg_l", func(w water.State) float64 { return w.Permanganate.MgPerL() }},
	{"arsenic_mg_l", func(w water.State) float64 { return w.Arsenic.MgPerL() }},
	{"nitrate_mg_l_as_n", func(w water.State) float64 { return w.Nitrate.MgPerLAsN() }},
}

// limit writes a limit down with the stage it stands in.
func (d *Desk) limit(e train.Evaluation, p train.Placed) Limit {
	return Limit{
		Stage: at(e, p.Stage), Limit: p.ID, Have: p.Have, Need: p.Need, Unit: p.Unit, Margin: p.Margin(), AtMost: p.AtMost,
		Fails: p.Fails(), Water: p.Draw, Say: p.Say, Kind: p.Kind.String(), From: p.From,
	}
}

func (d *Desk) slot(r ranked, s train.Slot) Slot {
	return Slot{
		Stage: string(r.Links[s.Stage].Process), Vessel: s.Vessel, Minutes: s.Minutes, Days: s.Days,
		Start: fmt.Sprintf("%02d:%02d", int(s.Start)/60%24, int(s.Start)%60),
	}
}

func names[T ~string](ps []T) []string {
	ns := make([]string, len(ps))
	for i, p := range ps {
		ns[i] = string(p)
	}
	return ns
}

// addons are kitchen taps worth offering: one that the train needs to meet a limit
// of health, whose cost it bears; one for a restricted diet.
func (d *Desk) addons(r ranked) []string {
	as := []string{}
	end := r.Links[len(r.Links)-1].Outcomes[r.Lead].Out
	sodium := d.Present.House.LowSodium && end.Sodium.MgPerL() > d.Work.Want.Sodium.MgPerL()
	if r.Tap != nil || sodium || end.Nitrate.MgPerLAsN() > d.nitrateMost() || end.Arsenic.MgPerL() > d.arsenicMost() {
		as = append(as, string(media.ReverseOsmosis))
	}
	if !r.Train.Has(media.CarbonFilter) && end.FreeChlorine.MgPerLAsCl2() > chlorineNoticed {
		as = append(as, string(media.CarbonFilter))
	}
	return as
}

// chlorineNoticed is free chlorine, mg/L, that some people notice at the tap:
// common practice.
const chlorineNoticed = 0.2

// warnings are what the owner should hear of a train beside its limits.
func (d *Desk) warnings(r ranked) []string {
	ws := []string{}
	if r.overBudget {
		ws = append(ws, "Above the owner's budget: ranked behind what keeps to it.")
	}
	if !d.healthyEnough(r) {
		ws = append(ws, fmt.Sprintf("It keeps the limits of health in %.0f of 100 plausible waters; %.0f are asked for, with room for doubt: ranked behind what does.", 100*r.healthy, 100*d.set.Of(askedHealth)))
	}
	if r.Fails && d.offered(r) {
		ws = append(ws, "It does not hold in the likeliest water, though in most: ranked behind what does.")
	}
	if r.failedHere {
		ws = append(ws, "One like it stands here and does not do: find out why before buying it again.")
	}
	if m := d.atOnce(r); m != nil && m.AnyHour && !m.Allowed {
		ws = append(ws, m.Say)
	}
	if _, disputed := d.retest(); disputed {
		ws = append(ws, "It rests on a disputed sample: sample again before anything is bought.")
	}
	for _, l := range r.Limits[r.Lead] {
		if l.Stage == train.Whole && l.Fails() && l.ID != r.First.ID && !strings.HasPrefix(l.ID, "drain_") {
			ws = append(ws, sayLimit(d.limit(r.Evaluation, l)))
		}
	}
	return ws
}
