package train

import (
	"fmt"

	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/well"
)

// gathered are limits of one draw: all of them, or only those that are broken.
type gathered struct {
	ls  []stage.Limit
	all bool
	tap bool // a kitchen tap is fitted beside the train
}

// add keeps those limits that are wanted.
func (g *gathered) add(ls ...stage.Limit) {
	for i := range ls {
		if g.all || ls[i].Fails() {
			g.ls = append(g.ls, ls[i])
		}
	}
}

// wholeLimits gathers the limits that belong to no single stage.
func (c *carried) wholeLimits(i int, g *gathered) {
	c.slimeLimits(i, g)
	c.contactLimits(i, g)
	c.fluxLimits(i, g)
	c.resinLimits(i, g)
	c.chemistryLimits(i, g)
	c.polishLimits(i, g)
	b := c.budget(i)
	b.limits(c.job.Site.Factors, g)
	c.supplyLimits(i, g)
	c.drainLimits(i, g)
	c.placeLimits(i, g)
	c.kitchenLimits(i, g)
}

// slimeLimits refuses a bed in the way of slime without a disinfectant ahead.
func (c *carried) slimeLimits(i int, g *gathered) {
	raw := c.job.Draws[i].Water
	t := c.so
	if raw.Bacteria <= c.job.Site.Factors.Of(slimeAt) || !t.Has(beds...) {
		return
	}
	have := 0.0
	if t[:t.index(beds)].Has(media.ChlorineFeed) {
		have = 1
	}
	g.add(least("slime_reaches_bed", have, 1, "chlorine feed ahead", "iron bacteria bind an unchlorinated bed within months: clean the well, then feed chlorine ahead of every bed", common))
}

// contactLimits ask for time between a feed and the bed that filters what it makes:
// for floc to grow from much iron, for sulfide, and most of all where slime must be
// held in check. Peroxide has its time in the catalytic carbon.
func (c *carried) contactLimits(i int, g *gathered) {
	t, raw, f := c.so, c.job.Draws[i].Water, c.job.Site.Factors
	feed := t.index([]media.Process{media.ChlorineFeed, media.PermanganateFeed})
	if feed < 0 || t[feed:].index(beds) < 0 {
		return
	}
	need, say := 0.0, ""
	switch {
	case raw.Bacteria > f.Of(slimeAt):
		need, say = f.Of(contactSlime), "slime needs long contact with chlorine ahead of the bed"
	case raw.Sulfide.MgPerLAsH2S() > c.job.Want.Sulfide.MgPerLAsH2S()*10:
		need, say = f.Of(contactSulfide), "sulfide and its sulfur need contact ahead of the bed"
	case raw.TotalIron().MgPerL() > f.Of(contactIronFrom):
		need, say = f.Of(contactIron), "so much iron needs time to form floc ahead of the bed"
	default:
		return
	}
	g.add(least("contact_before_bed", c.contact(i, t), need, "min", say, common))
}

// contact is the time that tanks ahead of the first bed give at peak flow.
func (c *carried) contact(i int, t Train) float64 {
	sum := 0.0
	for k, l := range c.links {
		if t[k:k+1].index(beds) >= 0 {
			break
		}
		sum += l.Outcomes[i].Settings[stage.ContactMin]
		if l.Process == media.StorageBooster || l.Process == media.VentedAeration {
			sum += l.Outcomes[i].Settings[stage.StorageDays] * 1440
		}
	}
	return sum
}

// fluxLimits bound the ferrous iron that a bed must oxidise by itself, as iron
// times rate: print gives its iron limits at the rated service flow, and at a
// faster peak the same bed meets more iron in the same minute.
func (c *carried) fluxLimits(i int, g *gathered) {
	f := c.job.Site.Factors
	in := c.job.Draws[i].Water
	for k, l := range c.links {
		if c.so[k:k+1].index(catalytic) >= 0 && in.Ferrous.MgPerL() > c.job.Want.Iron.MgPerL() {
			flux := soft(true, most("ferrous_flux", in.Ferrous.MgPerL()*l.Outcomes[i].Settings[stage.ServiceGPMFt2], f.Of(fluxCaution), "mg/L x gpm/ft2",
				"at peak the bed meets more ferrous iron than its kind is rated for", from{source.CommonPractice, fluxCaution.From}))
			if flux.Fails() {
				flux.Doubtful = true
				flux.Doubt = min(1, (flux.Have-flux.Need)/(f.Of(fluxMost)-flux.Need))
			}
			g.add(flux)
		}
		in = l.Outcomes[i].Out
	}
}

// resinLimits doubt a softener that is to take manganese or iron out of aerated
// water: they turn on the resin.
func (c *carried) resinLimits(i int, g *gathered) {
	f := c.job.Site.Factors
	in := c.job.Draws[i].Water
	for _, l := range c.links {
		if l.Process == media.Softener && c.job.Site.Well.Tank.Kind == well.AirOverWater && in.Ferrous.MgPerL() > c.job.Want.Iron.MgPerL() {
			g.add(stage.Limit{
				ID: "iron_turning_on_resin", Have: in.Ferrous.MgPerL(), Need: c.job.Want.Iron.MgPerL(), Unit: "mg/L", AtMost: true, Soft: true,
				Doubtful: true, Doubt: f.Of(turningDoubt), Kind: source.Published,
				Say:  "behind an air-over-water tank the iron goes on turning, on the resin",
				From: "Wisconsin Admin. Code NR 811.52 and Utah Admin. Code R309-535-11: no ion exchange for iron where the water holds oxygen",
			})
			return
		}
		if l.Process == media.Softener && in.Oxygen.MgPerL() > f.Of(airedAbove) {
			mn := soft(true, most("manganese_with_air", in.Manganese.MgPerL(), c.job.Want.Manganese.MgPerL(), "mg/L",
				"manganese reaches the resin in aerated water and browns it: do not promise manganese", from{source.Published, "Wisconsin Admin. Code NR 811.52 and Utah Admin. Code R309-535-11: no oxidation ahead of ion exchange for iron and manganese"}))
			if mn.Fails() {
				mn.Doubtful = true
				mn.Doubt = min(1, (mn.Have-mn.Need)/max(f.Of(airedManganese)-mn.Need, 0.01))
			}
			g.add(mn)
			return
		}
		in = l.Outcomes[i].Out
	}
}

// chemistryLimits are interactions along the way: alkalinity left, by-products,
// silica, scale.
func (c *carried) chemistryLimits(i int, g *gathered) {
	raw, f, t := c.job.Draws[i].Water, c.job.Site.Factors, c.so
	if t.Has(oxidising...) {
		g.add(soft(true, least("alkalinity_left", c.leastAlkalinity(i), f.Of(alkalinityFloor), "mg/L as CaCO3", "oxidation eats the alkalinity: feed alkali ahead", from{source.Derived, "1.79 mg CaCO3 for each mg of iron; floor of 30 is common practice"})))
		g.add(soft(true, most("silica_colloid", raw.Silica.MgPerL(), f.Of(silicaMost), "mg/L", "silica keeps rust fine: chlorine should meet the iron before air does, and a jar test comes first", from{source.FromMemory, "Robinson; AWWA"})))
	}
	if t.Has(media.ChlorineFeed) {
		g.add(soft(true, most("by_products", raw.OrganicCarbon.MgPerL(), f.Of(organicMost), "mg/L", "chlorine with this much organic matter makes trihalomethanes: test once, carbon at the drinking tap", from{source.FromMemory, "water-works practice"})))
	}
	if t.Has(media.ChlorineFeed) && !t.Has(media.CarbonFilter) {
		g.add(soft(true, most("sulfur_haze", raw.Sulfide.MgPerLAsH2S(), f.Of(hazeFrom), "mg/L as H2S", "chlorine turns sulfide to a sulfur haze that can be tasted: carbon behind the filter takes it", common)))
	}
	if d := &c.job.Draws[i].Water; t.Has(media.ChlorineFeed) && c.job.Want.aboveArsenic(d) && reduced(d, f) {
		g.add(soft(true, most("arsenite_and_ammonia", raw.Ammonia.MgPerLAsN(), f.Of(ammoniaSpoils), "mg/L as N", "ammonia binds chlorine, and bound chlorine does not turn arsenic (III): permanganate is surer", from{ammoniaSpoils.Kind, ammoniaSpoils.From})))
	}
	if t.Has(media.VentedAeration) && raw.Hardness().GPG() > 15 && raw.Alkalinity.MgPerLAsCaCO3() > 200 {
		g.add(soft(true, most("scale_after_aeration", raw.Hardness().GPG(), 15, "gpg", "letting the carbon dioxide out may drop scale in the tank", common)))
	}
}

// polishLimits are interactions of the stages behind the iron filter: pH behind an
// anion resin, hardness given back behind the softener, pink water at carbon.
func (c *carried) polishLimits(i int, g *gathered) {
	f, t := c.job.Site.Factors, c.so
	if t.Has(anionResins...) {
		g.add(c.acidBehindResin(i))
	}
	if at := t.index([]media.Process{media.Softener}); at >= 0 && t[at:].Has(dissolving...) {
		g.add(soft(true, most("hardness_behind_softener", c.house(i).Hardness().GPG(), f.Of(hardAgain), "gpg", "a dissolving bed behind the softener makes the water hard again: neutralise ahead of it, and size it on the raised hardness", from{hardAgain.Kind, hardAgain.From})))
	}
	in := &c.job.Draws[i].Water
	for k := range c.links {
		if p := c.links[k].Process; p == media.CarbonFilter || p == media.CatalyticCarbonFilter {
			g.add(soft(true, most("permanganate_at_carbon", in.Permanganate.MgPerL(), f.Of(pink), "mg/L", "carbon only hides pink water, for a while: turn the dose of permanganate down", common)))
		}
		in = &c.links[k].Outcomes[i].Out
	}
}

// acidBehindResin asks for calcite behind an anion resin that leaves the water
// acid: on the mean of a run, or just after each regeneration.
func (c *carried) acidBehindResin(i int) stage.Limit {
	at := lastIndex(c.so, anionResins)
	o := &c.links[at].Outcomes[i]
	ph := o.Out.PH.Value()
	for n := range o.Limits {
		if o.Limits[n].ID == "ph_after_regeneration" {
			ph = min(ph, o.Limits[n].Have)
		}
	}
	have := 1.0
	if ph < c.job.Want.PHLow.Value() && !c.so[at+1:].Has(dissolving...) {
		have = 0
	}
	return soft(true, least("calcite_behind_anion_resin", have, 1, "yes or no", "anion resin takes bicarbonate after each regeneration and the water turns acid: calcite behind it", common))
}

// leastAlkalinity is the lowest alkalinity behind any stage.
func (c *carried) leastAlkalinity(i int) float64 {
	least := c.job.Draws[i].Water.Alkalinity.MgPerLAsCaCO3()
	for _, l := range c.links {
		least = min(least, l.Outcomes[i].Out.Alkalinity.MgPerLAsCaCO3())
	}
	return least
}

// supplyLimits are what the well and pump must give the house, washes included.
func (c *carried) supplyLimits(i int, g *gathered) {
	d, f := c.job.Draws[i], c.job.Site.Factors
	have := c.peaks[i].GPM()
	use, waste := d.Supply.Use().GalPerDay(), c.wastePerDay(i)
	g.add(
		soft(true, least("peak_flow", have, d.Supply.Peak.GPM(), "gpm", "the supply cannot follow the house at its peak: taps sag when two uses meet", common)),
		least("well_yield_per_day", d.Supply.Hydraulic.Yield.GalPerDay(), (use+waste)*f.Of(yieldSpare), "gal/day", "the well cannot give a day's use and the washes", common),
		soft(true, most("waste_share", waste/max(use, 1), f.Of(wasteMost), "of use", "the washes use much water", common)),
	)
	c.nightLimits(i, g)
}

func (c *carried) wastePerDay(i int) float64 {
	sum := 0.0
	for _, l := range c.links {
		for _, w := range l.Outcomes[i].Washes {
			sum += w.PerDay().GalPerDay()
		}
	}
	return sum
}

// drainLimits asks for a lawful way out for every kind of waste.
func (c *carried) drainLimits(i int, g *gathered) {
	said := map[stage.Waste]bool{}
	for _, l := range c.links {
		for _, w := range l.Outcomes[i].Washes {
			if said[w.Waste] {
				continue
			}
			said[w.Waste] = true
			g.add(c.drainFor(w.Waste))
		}
	}
}

// drainFor is 1 when a drain is known to take the waste, 0 when every drain is
// known to refuse it, and a caution when nobody has asked.
func (c *carried) drainFor(w stage.Waste) stage.Limit {
	known, allowed := len(c.job.Site.House.Drains) > 0, false
	for _, d := range c.job.Site.House.Drains {
		ok := permission(d, w, c.job.Site.Rules)
		if ok == nil {
			known = false
		} else if *ok {
			allowed = true
		}
	}
	id := "drain_for_" + wasteID[w]
	switch {
	case allowed:
		return least(id, 1, 1, "lawful drain", fmt.Sprintf("%s has a lawful way out, with an air gap", w), common)
	case known:
		return least(id, 0, 1, "lawful drain", fmt.Sprintf("no drain here may take %s", w), common)
	}
	return soft(true, least(id, 0, 1, "lawful drain", fmt.Sprintf("ask the county or state office where %s may go", w), common))
}

var wasteID = map[stage.Waste]string{
	stage.WasteBackwash: "backwash", stage.WasteBrine: "brine", stage.WastePermanganate: "permanganate",
	stage.WasteReject: "reject", stage.WasteSludge: "sludge",
}

// permission is what the drain and the local rules say of a waste; nil is not known.
func permission(d well.Drain, w stage.Waste, r well.Rules) *bool {
	yes, no := true, false
	brine := w == stage.WasteBrine
	if d.To == well.Septic && w == stage.WastePermanganate {
		return &no
	}
	if d.To == well.Septic && brine && r.BrineToSeptic != nil {
		return r.BrineToSeptic
	}
	if d.To == well.Septic && !brine && r.BackwashToSeptic != nil {
		return r.BackwashToSeptic
	}
	if brine {
		return d.Brine
	}
	if w == stage.WasteReject || d.To == well.Sewer {
		return &yes
	}
	return d.Backwash
}

// placeLimits are the room, the power and the owner.
func (c *carried) placeLimits(i int, g *gathered) {
	h, wish := c.job.Site.House, c.job.Site.Wishes
	n := c.needs(i)
	if h.Room.Height != nil {
		g.add(least("room_height", h.Room.Height.Inches(), n.Height.Inches(), "in", "the room is too low for the tallest vessel", common))
	}
	if h.Room.FloorLong != nil && h.Room.FloorWide != nil {
		have := h.Room.FloorLong.Ft() * h.Room.FloorWide.Ft() * 0.6
		g.add(least("floor", have, n.Floor.Ft2(), "ft2", "the floor is too small, with room to walk left", common))
	}
	g.add(refused("power", n.Power, h.Room.Power, "needs an outlet in the room"),
		refused("vent", n.Vent, h.Room.VentOut, "needs a vent to outside"),
		refused("salt_carried", n.Salt, h.Owner.CarriesSalt, "someone must carry salt"),
		refused("chemicals_handled", n.Chemicals, h.Owner.Chemicals, "someone must handle chemicals"),
		refused("weekly_look", n.Weekly, h.Owner.Weekly, "someone must read a residual each week"))
	frostFree := h.Room.Frost
	if frostFree != nil {
		v := !*frostFree
		frostFree = &v
	}
	g.add(refused("frost", n.NoFrost, frostFree, "the room may freeze"))
	no := false
	if wish.NoSalt {
		g.add(refused("no_salt_wished", n.Salt, &no, "the owner wants no salt"))
	}
	if wish.NoChemicals {
		g.add(refused("no_chemicals_wished", n.Chemicals, &no, "the owner wants no chemicals"))
	}
}

// refused is a limit that fails when something needed is known not to be had.
func refused(id string, needed bool, have *bool, say string) stage.Limit {
	got, need := 1.0, 0.0
	if needed {
		need = 1
	}
	if have != nil && !*have {
		got = 0
	}
	return least(id, got, need, "yes or no", say, common)
}

// needs joins what the stages ask of the place.
func (c *carried) needs(i int) stage.Needs {
	var n stage.Needs
	for _, l := range c.links {
		n = n.Join(l.Outcomes[i].Needs)
	}
	return n
}

var (
	turningDoubt = source.Factor{Name: "iron_turning_on_resin_doubt", What: "chance that a softener fails on ferrous iron behind an air-over-water tank", Unit: "",
		Value: 0.5, Low: 0.3, High: 0.8, Kind: source.Judgement, From: "rules forbid it, some run so for years"}
	hazeFrom = source.Factor{Name: "sulfur_haze_from", What: "raw sulfide from which chlorinated water is polished over carbon", Unit: "mg/L as H2S",
		Value: 1, Low: 0.5, High: 2, Kind: source.CommonPractice, From: "2.1 mg of chlorine to the mg leaves sulfur; 8.3 would be needed for sulfate"}
	airedAbove = source.Factor{Name: "aerated_oxygen_above", What: "oxygen above which water counts as aerated ahead of a resin", Unit: "mg/L",
		Value: 1, Low: 0.5, High: 2, Kind: source.CommonPractice, From: "low-oxygen water is asked for by all who soften for iron"}
	airedManganese = source.Factor{Name: "aerated_manganese_most", What: "manganese in aerated water that no resin is promised to take", Unit: "mg/L",
		Value: 0.3, Low: 0.1, High: 0.5, Kind: source.Judgement, From: "between the stain level and the usual limit of a softener, 0.5; public rules allow none"}
	fluxCaution = source.Factor{Name: "ferrous_flux_caution", What: "ferrous iron times peak rate that an oxidising bed is rated for", Unit: "mg/L x gpm/ft2",
		Value: 35, Low: 21, High: 50, Kind: source.CommonPractice, From: "7 mg/L at 5 gpm/ft2, the usual iron limit at the usual rate"}
	fluxMost = source.Factor{Name: "ferrous_flux_most", What: "ferrous iron times peak rate that no print promises", Unit: "mg/L x gpm/ft2",
		Value: 75, Low: 50, High: 100, Kind: source.CommonPractice, From: "15 mg/L, the refusal in print, at 5 gpm/ft2"}
	contactIronFrom = source.Factor{Name: "contact_iron_from", What: "iron from which a chlorine feed gets a contact tank", Unit: "mg/L",
		Value: 3, Low: 2, High: 5, Kind: source.CommonPractice, From: "below it the pipe and the bed do"}
	contactIron = source.Factor{Name: "contact_iron", What: "effective contact at peak for iron after chlorine", Unit: "min",
		Value: 5, Low: 5, High: 20, Kind: source.CommonPractice, From: "10 to 20 min nominal in the trade"}
	contactSulfide = source.Factor{Name: "contact_sulfide", What: "effective contact at peak for sulfide after chlorine", Unit: "min",
		Value: 10, Low: 10, High: 20, Kind: source.CommonPractice, From: "10 to 20 min nominal in the trade"}
	contactSlime = source.Factor{Name: "contact_slime", What: "effective contact at peak where iron bacteria live", Unit: "min",
		Value: 20, Low: 10, High: 30, Kind: source.CommonPractice, From: "20 min, continuous chlorination of iron bacteria"}
	alkalinityFloor = source.Factor{Name: "alkalinity_floor", What: "alkalinity to leave after oxidation", Unit: "mg/L as CaCO3",
		Value: 30, Low: 20, High: 100, Kind: source.CommonPractice, From: "usual in the trade; above 100 floc forms fast"}
	silicaMost = source.Factor{Name: "silica_colloid_above", What: "silica above which rust stays colloidal", Unit: "mg/L",
		Value: 45, Low: 40, High: 50, Kind: source.FromMemory, From: "Robinson; AWWA"}
	organicMost = source.Factor{Name: "organic_carbon_with_chlorine", What: "organic carbon above which chlorine by-products are tested for", Unit: "mg/L",
		Value: 2, Low: 2, High: 4, Kind: source.FromMemory, From: "water-works practice"}
	ammoniaSpoils = source.Factor{Name: "ammonia_spoils_chlorine", What: "ammonia above which chlorine is not counted on to turn arsenic (III)", Unit: "mg/L as N",
		Value: 0.3, Low: 0.1, High: 0.5, Kind: source.CommonPractice, From: "above 0.3 mg/L as N plan ten times the chlorine, or permanganate"}
	hardAgain = source.Factor{Name: "hardness_behind_softener_most", What: "hardness that a dissolving bed may give back behind a softener", Unit: "gpg",
		Value: 3.5, Low: 2, High: 7, Kind: source.CommonPractice, From: "moderately hard begins at 3.5 gpg in the trade's classes; 2.27 mg/L for each mg of carbon dioxide"}
	yieldSpare = source.Factor{Name: "well_yield_spare", What: "daily yield over daily use with washes, least", Unit: "",
		Value: 1, Low: 1, High: 2, Kind: source.CommonPractice, From: "a well pumped round the clock gives no more"}
	wasteMost = source.Factor{Name: "waste_share_most", What: "share of use that goes to drain, most", Unit: "",
		Value: 0.15, Low: 0.10, High: 0.20, Kind: source.CommonPractice, From: "well-sized units stay under 10 to 15 %"}
)
