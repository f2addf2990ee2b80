// Package train assembles stages in lawful orders, carries every plausible water
// through them, and says for each train what it meets, what it needs, and which
// limit fails first.
package train

import (
	"wellwright/media"
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
	filters = append([]media.Process{media.SedimentFilter, media.CopperZincFilter}, catalytic...)
	beds    = append([]media.Process{media.CarbonFilter, media.Softener, media.CalciteBed, media.MagnesiaBlendBed}, filters...)
)

// grammar is the lawful order of treatment, after the usual order of the trade:
// screen, pH, air or storage, oxidant, contact, filter, pH after iron, carbon,
// softener, pH after softening, fine filter, ultraviolet.
var grammar = []place{
	{"screen", []choice{{media.CartridgeFilter, hasParticles}}},
	{"pH ahead", []choice{{media.SodaAshFeed, acid}, {media.CalciteBed, acid}, {media.MagnesiaBlendBed, acid}}},
	{"sequestering", []choice{{media.PolyphosphateFeed, hasIron}}},
	{"air or storage", []choice{{media.PressureAeration, oxidisable}, {media.VentedAeration, oxidisable}, {media.StorageBooster, weakSupply}}},
	{"oxidant", []choice{{media.ChlorineFeed, chlorinable}, {media.PermanganateFeed, oxidisable}, {media.PeroxideFeed, oxidisable}}},
	{"contact", []choice{{media.ContactTank, dosed}}},
	{"filter", []choice{
		{media.SedimentFilter, hasParticles}, {media.GreensandFilter, catalysable}, {media.CoatedSandFilter, catalysable},
		{media.LightweightFilter, catalysable}, {media.ManganeseOreFilter, catalysable}, {media.CopperZincFilter, catalysable},
		{media.AirInjectionFilter, catalysable}, {media.CatalyticCarbonFilter, sulfideOrPeroxide},
	}},
	{"pH after iron", []choice{{media.CalciteBed, acidAfterFilter}}},
	{"carbon", []choice{{media.CarbonFilter, hasResidual}}},
	{"softener", []choice{{media.Softener, softenable}}},
	{"pH after softening", []choice{{media.CalciteBed, acidAfterSoftener}}},
	{"fine filter", []choice{{media.CartridgeFilter, hasParticles}}},
	{"ultraviolet", []choice{{media.Ultraviolet, hasGerms}}},
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
// that an oxidiser ahead has made.
func catalysable(q quest) bool { return oxidisable(q) || q.so.Has(oxidising...) }

func oxidisable(q quest) bool {
	return q.now.Ferrous.MgPerL() > q.want.Iron.MgPerL() || q.now.Sulfide.MgPerLAsH2S() > q.want.Sulfide.MgPerLAsH2S() ||
		q.now.Manganese.MgPerL() > q.want.Manganese.MgPerL()
}
func weakSupply(q quest) bool { return q.weak }
func chlorinable(q quest) bool {
	return oxidisable(q) || hasGerms(q) || q.slimed || q.so.Has(aerators...)
}
func dosed(q quest) bool { return q.so.Has(oxidants...) }
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
		return oxidisable(q)
	}
	return q.now.Hardness().GPG() > 3.5 || oxidisable(q)
}
func acidAfterSoftener(q quest) bool {
	return q.now.PH.Value() < 7.0 && q.so.Has(media.Softener) && !q.so.Has(media.CalciteBed, media.MagnesiaBlendBed, media.SodaAshFeed)
}
func hasGerms(q quest) bool { return q.raw.Coliform.Per100mL() > 0 || q.raw.EColi.Per100mL() > 0 }
