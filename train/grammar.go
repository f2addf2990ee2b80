// Package train assembles stages in lawful orders, carries every plausible water
// through them, and says for each train what it meets, what it needs, and which
// limit fails first.
package train

import (
	"wellwright/cloud"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/water"
)

// Train is a list of processes in the order the water meets them.
type Train []media.Process

// Has reports whether any of the processes is in the train.
func (t Train) Has(ps ...media.Process) bool { return t.index(ps) >= 0 }

// index returns the place of the first of ps in the train, or -1.
func (t Train) index(ps []media.Process) int {
	for i, have := range t {
		for _, p := range ps {
			if have == p {
				return i
			}
		}
	}
	return -1
}

// String writes the train as it is typed at the command line.
func (t Train) String() string {
	s := ""
	for i, p := range t {
		if i > 0 {
			s += ","
		}
		s += string(p)
	}
	return s
}

// place is one position of the grammar: at most one of its processes stands
// there. The places are in the order the water meets them.
type place struct {
	name    string
	choices []choice
}

// choice is a process with its purpose: it is tried only where it has work to do.
type choice struct {
	process media.Process
	purpose func(q quest) bool
}

// quest is what a search looks at before it tries a process.
type quest struct {
	raw    water.State
	now    water.State // middle water at this point of the train
	want   Targets
	site   *stage.Site
	so     Train
	weak   bool // the pump cannot meet the house or a wash
	slimed bool // iron bacteria are likelier than not
	jars   *cloud.JarDoses
}

// The families that the grammar and the rules speak of.
var (
	oxidants  = []media.Process{media.ChlorineFeed, media.PermanganateFeed, media.PeroxideFeed}
	aerators  = []media.Process{media.PressureAeration, media.VentedAeration, media.StorageBooster}
	oxidising = append(append([]media.Process{}, oxidants...), append(aerators, media.AirInjectionFilter)...)
	catalytic = []media.Process{
		media.GreensandFilter, media.CoatedSandFilter, media.LightweightFilter,
		media.ManganeseOreFilter, media.AirInjectionFilter, media.CatalyticCarbonFilter,
	}
	flocBeds     = []media.Process{media.SedimentFilter, media.GreensandFilter, media.CoatedSandFilter, media.LightweightFilter, media.ManganeseOreFilter}
	filters      = append([]media.Process{media.SedimentFilter, media.CopperZincFilter}, catalytic...)
	anionResins  = []media.Process{media.TanninExchanger, media.NitrateExchanger}
	beds         = append(append([]media.Process{media.CarbonFilter, media.Softener, media.ArsenicAdsorber, media.CalciteBed, media.MagnesiaBlendBed}, anionResins...), filters...)
	dissolving   = []media.Process{media.CalciteBed, media.MagnesiaBlendBed}
	neutralising = append([]media.Process{media.SodaAshFeed}, dissolving...)
)

// grammar is the lawful order of treatment, after the usual order of the trade:
// screen, pH, air or storage, oxidant, coagulant, contact, filter, pH after iron, carbon,
// softener, anion resins, arsenic, pH after softening, fine filter, ultraviolet.
// Radon is blown out behind what holds the iron, and ahead of carbon, which would
// keep it. A kitchen tap stands in a train only where nothing else is asked for;
// beside a train it is an addition (see kitchenTap).
var grammar = []place{
	{"screen", []choice{{media.CartridgeFilter, hasParticles}}},
	{"pH ahead", []choice{{media.SodaAshFeed, acid}, {media.CalciteBed, acid}, {media.MagnesiaBlendBed, acid}}},
	{"sequestering", []choice{{media.PolyphosphateFeed, hasIron}}},
	{"air or storage", []choice{{media.PressureAeration, oxidisable}, {media.VentedAeration, oxidisable}, {media.StorageBooster, weakSupply}, {media.RadonAeration, radonClear}}},
	{"oxidant", []choice{{media.ChlorineFeed, chlorinable}, {media.PermanganateFeed, permanganable}, {media.PeroxideFeed, peroxidable}, {media.OzoneFeed, ozonable}}},
	{"coagulant", []choice{{media.CoagulantFeed, coagulable}}},
	{"contact", []choice{{media.ContactTank, dosed}}},
	{"filter", []choice{
		{media.SedimentFilter, hasParticles}, {media.GreensandFilter, catalysable}, {media.CoatedSandFilter, catalysable},
		{media.LightweightFilter, catalysable}, {media.ManganeseOreFilter, catalysable}, {media.CopperZincFilter, catalysable},
		{media.AirInjectionFilter, catalysable}, {media.CatalyticCarbonFilter, sulfideOrPeroxide},
	}},
	{"radon after iron", []choice{{media.RadonAeration, radonFiltered}}},
	{"pH after iron", []choice{{media.CalciteBed, acidAfterFilter}}},
	{"carbon", []choice{{media.CarbonFilter, hasResidual}}},
	{"softener", []choice{{media.Softener, softenable}}},
	{"radon after softening", []choice{{media.RadonAeration, radonSoftened}}},
	{"colour", []choice{{media.TanninExchanger, coloured}}},
	{"nitrate", []choice{{media.NitrateExchanger, nitrated}}},
	{"arsenic", []choice{{media.ArsenicAdsorber, arsenical}}},
	{"pH after softening", []choice{{media.CalciteBed, acidAfterSoftener}}},
	{"fine filter", []choice{{media.CartridgeFilter, hasParticles}}},
	{"ultraviolet", []choice{{media.Ultraviolet, disinfectable}}},
	{"kitchen tap alone", []choice{{media.ReverseOsmosis, tapAlone}}},
}

func hasParticles(q quest) bool {
	return stage.Solids(q.now) > 0.2 && !q.so.Has(media.CartridgeFilter)
}
func hasIron(q quest) bool { return q.now.Ferrous.MgPerL() > q.want.Iron.MgPerL() && len(q.so) == 0 }
func acid(q quest) bool    { return q.now.PH.Value() < 7.0 }
func metal(q quest) bool {
	return q.now.TotalIron().MgPerL() > q.want.Iron.MgPerL() ||
		q.now.TotalManganese().MgPerL() > q.want.Manganese.MgPerL() || oxidisable(q)
}

// catalysable is work for an oxide coat: something still dissolved, or the floc
// that an oxidiser ahead has made. The floc of a coagulant alone wants no coat.
func catalysable(q quest) bool {
	if q.so.Has(media.CoagulantFeed) {
		return q.so.Has(oxidants...)
	}
	return oxidisable(q) || q.so.Has(oxidising...)
}

func oxidisable(q quest) bool {
	return q.now.Ferrous.MgPerL() > q.want.Iron.MgPerL() || q.now.Sulfide.MgPerLAsH2S() > q.want.Sulfide.MgPerLAsH2S() ||
		q.now.Manganese.MgPerL() > q.want.Manganese.MgPerL()
}
func weakSupply(q quest) bool { return q.weak }
func chlorinable(q quest) bool {
	return oxidisable(q) || hasGerms(q) || q.slimed || arsenite(q) || q.so.Has(aerators...)
}

// permanganable is work that chlorine does badly or not at all. Elsewhere the train
// with permanganate is that with chlorine once more, and dearer: the same bed behind
// it must be an oxide bed, its chemical costs more for the same electrons, its dose
// must be met from both sides, and it leaves nothing that could be read. So nothing
// that could be chosen is lost where chlorine has no trouble. Behind air the iron has
// turned, and what manganese is left greensand takes by its own charge.
func permanganable(q quest) bool {
	return (oxidisable(q) || arsenite(q)) && !q.so.Has(media.PressureAeration, media.VentedAeration) && (q.jars != nil && q.jars.Permanganate != nil || chlorineTrouble(q))
}

// chlorineTrouble reports what speaks against chlorine: ammonia that binds it,
// organic matter that makes by-products of it and holds iron from it, and manganese
// in water too acid for chlorine on an oxide bed.
func chlorineTrouble(q quest) bool {
	f := q.site.Factors
	return q.raw.Ammonia.MgPerLAsN() > f.Of(ammoniaSpoils) || q.raw.OrganicCarbon.MgPerL() > f.Of(organicMost) ||
		q.now.PH.Value() < f.Of(chlorineManganesePH) && q.now.Manganese.MgPerL() > q.want.Manganese.MgPerL()
}

// peroxidable is work for peroxide ahead of catalytic carbon: sulfide beyond what
// carbon takes alone, or iron where chlorine would make by-products. Manganese it
// does not take below pH 8.5. Without those reasons chlorine does more for less.
func peroxidable(q quest) bool {
	f := q.site.Factors
	if q.now.Sulfide.MgPerLAsH2S() > f.Of(carbonSulfide) {
		return true
	}
	return oxidisable(q) && q.raw.OrganicCarbon.MgPerL() > f.Of(organicMost) && q.now.Manganese.MgPerL() <= q.want.Manganese.MgPerL()
}

// ozonable is rarely so: ozone wants power, someone who looks at it each week, and
// a metal or smell that gives chlorine trouble, or an owner who will have no
// chemicals fed.
func ozonable(q quest) bool {
	room, owner := q.site.House.Room, q.site.House.Owner
	able := room.Power != nil && *room.Power && owner.Weekly != nil && *owner.Weekly && (room.VentOut == nil || *room.VentOut)
	return able && oxidisable(q) && (q.site.Wishes.NoChemicals || owner.Chemicals != nil && !*owner.Chemicals)
}

// dosed is work for a contact tank. Behind peroxide there is none: the catalytic
// carbon is its reactor.
func dosed(q quest) bool {
	return q.so.Has(media.ChlorineFeed, media.PermanganateFeed, media.CoagulantFeed)
}

// coagulable is bound iron that a jar of alum or ferric salt was seen to take. With no
// jar there is no dose, and nothing to search; and what was aired, stored, oxidised by
// other things or given alkali ahead is another water than the jar's. Chlorine and
// permanganate turn ferrous iron ahead of it, and without that work are left out.
func coagulable(q quest) bool {
	seen := q.jars != nil && (q.jars.Alum != nil || q.jars.Ferric != nil)
	if !seen || 2*q.now.Bound.MgPerL() <= q.want.Iron.MgPerL() || q.so.Has(changedWater...) {
		return false
	}
	return !q.so.Has(oxidants...) || q.raw.Ferrous.MgPerL() > q.want.Iron.MgPerL()
}

// changedWater are the stages behind which jars of raw water no longer hold.
var changedWater = append(append([]media.Process{media.PeroxideFeed, media.OzoneFeed, media.RadonAeration}, aerators...), neutralising...)

func sulfideOrPeroxide(q quest) bool {
	return q.so.Has(media.PeroxideFeed) || q.now.Sulfide.MgPerLAsH2S() > q.want.Sulfide.MgPerLAsH2S()
}
func acidAfterFilter(q quest) bool {
	return q.now.PH.Value() < 7.0 && q.so.Has(filters...) && !q.so.Has(media.CalciteBed)
}
func hasResidual(q quest) bool {
	return q.so.Has(media.ChlorineFeed, media.PeroxideFeed) ||
		(q.now.Sulfide.MgPerLAsH2S() > q.want.Sulfide.MgPerLAsH2S() && q.now.Sulfide.MgPerLAsH2S() < 0.5)
}
func softenable(q quest) bool {
	w := q.site.Wishes.SoftWater
	if w != nil && !*w {
		return oxidisable(q) || browned(q)
	}
	return q.now.Hardness().GPG() > 3.5 || oxidisable(q) || browned(q)
}
func acidAfterSoftener(q quest) bool {
	return q.now.PH.Value() < 7.0 && q.so.Has(media.Softener, media.NitrateExchanger) && !q.so.Has(neutralising...)
}
func hasGerms(q quest) bool { return q.raw.Coliform.Per100mL() > 0 || q.raw.EColi.Per100mL() > 0 }

// disinfectable is work for ultraviolet: germs, or water that stands open to air.
func disinfectable(q quest) bool { return hasGerms(q) || q.so.Has(media.RadonAeration) }

// gassy reports whether radon is above the advice and not yet blown out.
func gassy(q quest) bool {
	return q.want.Radon.PCiPerL() > 0 && q.now.Radon.PCiPerL() > q.want.Radon.PCiPerL() && !q.so.Has(media.RadonAeration)
}

// ironPlates reports whether the raw water holds iron that plates out in an aerator.
func ironPlates(q quest) bool {
	return q.raw.TotalIron().MgPerL() > q.site.Factors.Of(radonIronMost)
}
func radonClear(q quest) bool    { return gassy(q) && !ironPlates(q) }
func radonFiltered(q quest) bool { return gassy(q) && q.so.Has(filters...) }
func radonSoftened(q quest) bool {
	return gassy(q) && ironPlates(q) && q.so.Has(media.Softener) && !q.so.Has(filters...)
}

// browned reports whether organic matter colours the water or holds its iron.
func browned(q quest) bool {
	return q.now.OrganicCarbon.MgPerL() > q.site.Factors.Of(organicMost) && (q.want.Coloured || 2*q.now.Bound.MgPerL() > q.want.Iron.MgPerL())
}
func coloured(q quest) bool  { return browned(q) && q.so.Has(media.Softener) }
func nitrated(q quest) bool  { return q.want.aboveNitrate(&q.now) }
func arsenical(q quest) bool { return q.want.aboveArsenic(&q.now) }

// arsenite reports whether enough of the raw water's arsenic, above the limit, has
// still to be oxidised for an adsorbent to let it pass.
func arsenite(q quest) bool { return q.want.aboveArsenic(&q.raw) && reduced(&q.raw, q.site.Factors) }

func reduced(w *water.State, f source.Set) bool {
	as := w.Arsenic.MgPerL()
	return as-w.ArsenicV.MgPerL() > f.Of(arseniteShare)*as
}
func tapAlone(q quest) bool { return len(q.so) == 0 && (nitrated(q) || arsenical(q)) }

var (
	radonIronMost = source.Factor{Name: "radon_aeration_iron_most", What: "raw iron above which an iron filter stands ahead of a radon aerator", Unit: "mg/L",
		Value: 0.5, Low: 0.3, High: 1, Kind: source.CommonPractice, From: "iron plates out in the tank and on the plates: below 0.5 to 1, or a filter first"}
	chlorineManganesePH = source.Factor{Name: "chlorine_manganese_ph", What: "pH below which chlorine ahead of an oxide bed leaves manganese", Unit: "pH",
		Value: 7, Low: 6.5, High: 7.5, Kind: source.FromMemory, From: "with chlorine alone an oxide bed wants 7.0 to 7.5 for manganese"}
	carbonSulfide = source.Factor{Name: "carbon_sulfide_most", What: "sulfide that ordinary carbon takes by itself", Unit: "mg/L as H2S",
		Value: 0.3, Low: 0.05, High: 0.5, Kind: source.Published, From: "second hand: a bulletin on hydrogen sulfide in drinking water, 0.05 to 0.3 for carbon"}
	peroxideManganese = source.Factor{Name: "peroxide_manganese_most", What: "manganese above which peroxide is not tried", Unit: "mg/L",
		Value: 0.3, Low: 0.05, High: 0.5, Kind: source.CommonPractice, From: "0.3, as the envelope of the feed; poor below pH 8.5"}
	arseniteShare = source.Factor{Name: "arsenite_share", What: "share of raw arsenic that is As(III) from which an oxidant stands ahead of an adsorbent", Unit: "",
		Value: 0.1, Low: 0, High: 0.2, Kind: source.Judgement, From: "arsenic (III) is to be oxidised first (from memory); the figure is judgement, as the nine tenths asked at the adsorber"}
)
