package train

import (
	"slices"

	"wellwright/media"
	"wellwright/source"
)

// OrderRule is a rule on which processes may follow which.
type OrderRule struct {
	ID     string
	First  []media.Process
	Then   []media.Process
	Unless []media.Process // the rule is kept if one of these stands between
	Law    Law
	When   func(quest) bool // nil: in every water
	Say    string
	Kind   source.Kind
	From   string
}

// Law is what an order rule demands.
type Law int

// The laws.
const (
	Never  Law = iota // First must not stand before Then
	Needs             // First is of no use unless one of Then follows
	Behind            // First is of no use unless one of Then stands ahead
	Apart             // First and Then must not stand in one train
	Beside            // First is of no use unless one of Then stands somewhere in the train
)

// Rules are the interaction rules that bear on order.
func Rules() []OrderRule { return orderRules }

var orderRules = []OrderRule{
	{"polyphosphate_hides", []media.Process{media.PolyphosphateFeed}, append([]media.Process{media.Softener, media.Ultraviolet, media.CarbonFilter, media.TanninExchanger, media.NitrateExchanger, media.ArsenicAdsorber, media.RadonAeration, media.ReverseOsmosis}, oxidisingAndFilters...), nil, Never, nil,
		"polyphosphate keeps iron from being oxidised, filtered or exchanged: nothing that removes iron may follow it",
		source.Published, "Wisconsin Admin. Code NR 811.56, sequestration"},
	{"oxidised_before_resin", append([]media.Process{media.OzoneFeed}, oxidising...), append([]media.Process{media.Softener}, anionResins...), filters, Never, metal,
		"iron that has been oxidised coats the resin: a filter must stand between an oxidiser and a softener or anion resin",
		source.Published, "Wisconsin Admin. Code NR 811.52; Utah Admin. Code R309-535-11"},
	{"resin_before_oxidiser", []media.Process{media.Softener}, oxidisingAndFilters, nil, Never, nil,
		"the iron filter stands before the softener, so that the resin gets water without iron, sulfur or air",
		source.CommonPractice, "usual order of treatment"},
	{"carbon_eats_oxidant", []media.Process{media.CarbonFilter}, append([]media.Process{media.ContactTank, media.OzoneFeed}, oxidants...), nil, Never, nil,
		"carbon takes the oxidant out: contact comes first",
		source.CommonPractice, "usual order of treatment"},
	{"peroxide_and_chlorine", []media.Process{media.PeroxideFeed}, []media.Process{media.ChlorineFeed}, nil, Apart, nil,
		"peroxide and chlorine cancel one another",
		source.FromMemory, "oxidant chemistry, H2O2 + OCl- = Cl- + H2O + O2"},
	{"peroxide_needs_carbon", []media.Process{media.PeroxideFeed}, []media.Process{media.CatalyticCarbonFilter}, nil, Needs, nil,
		"without a catalyst peroxide takes more than 20 minutes on sulfide: the catalytic carbon bed is the reactor",
		source.Published, "Hillsborough County peroxide study, AWWA WQTC 2003 (abstract)"},
	{"permanganate_needs_bed", []media.Process{media.PermanganateFeed}, []media.Process{media.GreensandFilter, media.CoatedSandFilter, media.ManganeseOreFilter}, nil, Needs, nil,
		"permanganate is fed only ahead of a manganese-oxide bed that catches what is over",
		source.CommonPractice, "water-works practice"},
	{"solids_need_filter", []media.Process{media.ChlorineFeed, media.PressureAeration, media.VentedAeration, media.ContactTank}, filters, nil, Needs, metal,
		"what has been oxidised must be filtered out",
		source.CommonPractice, "usual order of treatment"},
	{"contact_needs_oxidant", []media.Process{media.ContactTank}, append(append([]media.Process{media.OzoneFeed, media.CoagulantFeed}, oxidants...), aerators...), nil, Behind, nil,
		"a contact tank gives an oxidant or a coagulant time: there must be one ahead of it",
		source.CommonPractice, "usual order of treatment"},
	{"coagulant_needs_time", []media.Process{media.CoagulantFeed}, []media.Process{media.ContactTank}, nil, Needs, nil,
		"floc needs time to grow: a retention tank behind the coagulant",
		source.CommonPractice, "coagulant or chlorine, then retention and a filter"},
	{"coagulant_needs_filter", []media.Process{media.CoagulantFeed}, flocBeds, nil, Needs, nil,
		"the floc of a coagulant must be filtered out behind it",
		source.CommonPractice, "coagulant or chlorine, then retention and a filter"},
	{"coagulant_on_bed", []media.Process{media.CoagulantFeed}, append([]media.Process{media.Softener, media.CarbonFilter, media.ArsenicAdsorber, media.Ultraviolet, media.CartridgeFilter, media.ReverseOsmosis, media.CalciteBed, media.MagnesiaBlendBed}, anionResins...), filters, Never, nil,
		"floc blinds resin, carbon, cartridge and lamp: a filter that is washed stands between the coagulant and them",
		source.CommonPractice, "usual order of treatment"},
	{"coagulant_behind_filter", filters, []media.Process{media.CoagulantFeed}, nil, Never, nil,
		"the coagulant is fed ahead of the filter that holds its floc",
		source.CommonPractice, "usual order of treatment"},
	{"air_pocket_and_coagulant", []media.Process{media.CoagulantFeed}, []media.Process{media.AirInjectionFilter, media.CatalyticCarbonFilter, media.CopperZincFilter}, nil, Apart, nil,
		"an air pocket, catalytic carbon or copper-zinc is no filter for floc",
		source.CommonPractice, "usual order of treatment"},
	{"oxidant_behind_coagulant", []media.Process{media.CoagulantFeed}, oxidants, nil, Never, nil,
		"an oxidant is fed ahead of the coagulant, so that ferrous iron has turned when the floc forms",
		source.CommonPractice, "usual order of treatment"},
	{"double_air", []media.Process{media.PressureAeration, media.VentedAeration}, []media.Process{media.AirInjectionFilter}, nil, Apart, nil,
		"aerated water has no use for a second air intake in the filter",
		source.CommonPractice, "usual order of treatment"},
	{"air_pocket_and_oxidant", oxidants, []media.Process{media.AirInjectionFilter}, nil, Apart, nil,
		"a chemical feed makes the air pocket needless",
		source.CommonPractice, "usual order of treatment"},
	{"rust_on_dissolving_bed", []media.Process{media.CalciteBed, media.MagnesiaBlendBed}, append([]media.Process{media.CartridgeFilter, media.Softener}, filters...), nil, Beside, rust,
		"a bed that dissolves is no iron filter: rust coats its grains and stops them, so something else must hold the rust",
		source.CommonPractice, "usual order of treatment"},
	{"ultraviolet_last", []media.Process{media.Ultraviolet}, append([]media.Process{media.Softener, media.CarbonFilter, media.CartridgeFilter, media.TanninExchanger, media.NitrateExchanger, media.ArsenicAdsorber, media.RadonAeration}, filters...), nil, Never, nil,
		"ultraviolet stands last: nothing that can grow or shed may follow it",
		source.CommonPractice, "disinfection practice"},
	{"tannin_needs_softener", []media.Process{media.TanninExchanger}, []media.Process{media.Softener}, nil, Behind, nil,
		"calcium and magnesium tannates foul tannin resin: a softener stands ahead of it",
		source.CommonPractice, "common practice: tannin resin after a softener"},
	{"oxidant_on_anion_resin", []media.Process{media.ChlorineFeed, media.PeroxideFeed}, anionResins, []media.Process{media.CarbonFilter, media.CatalyticCarbonFilter}, Never, nil,
		"chlorine and peroxide break anion resin: carbon stands between",
		source.CommonPractice, "usual order of treatment: oxidant, filter, carbon, then resin"},
	{"iron_after_anion_resin", append([]media.Process{media.ArsenicAdsorber}, anionResins...), oxidisingAndFilters, nil, Never, nil,
		"iron, manganese and sulfur foul anion resin and blind an adsorbent: what removes them stands ahead",
		source.CommonPractice, "usual order of treatment"},
	{"arsenic_needs_oxidant", []media.Process{media.ArsenicAdsorber}, []media.Process{media.ChlorineFeed, media.PermanganateFeed, media.OzoneFeed}, nil, Behind, arsenite,
		"arsenic (III) passes an adsorbent: chlorine, permanganate or ozone stands ahead; air, peroxide and combined chlorine do not count",
		source.FromMemory, "oxidation of arsenic (III): Ghurye and Clifford 2001"},
	{"ozone_apart", []media.Process{media.OzoneFeed}, append([]media.Process{media.AirInjectionFilter}, oxidants...), nil, Apart, nil,
		"ozone and another oxidant use each other up: one is enough",
		source.CommonPractice, "usual order of treatment"},
	{"ozone_needs_filter", []media.Process{media.OzoneFeed}, []media.Process{media.SedimentFilter, media.CoatedSandFilter, media.GreensandFilter, media.ManganeseOreFilter, media.LightweightFilter, media.CatalyticCarbonFilter}, nil, Needs, nil,
		"what ozone turns must be filtered out behind it",
		source.CommonPractice, "usual order of treatment"},
	{"radon_iron_ahead", []media.Process{media.RadonAeration}, append([]media.Process{media.Softener}, filters...), nil, Behind, ironPlates,
		"iron plates out on the plates and in the tank of a radon aerator: take it out ahead",
		source.CommonPractice, "iron below 0.5 to 1 mg/L, or a filter first"},
	{"radon_open_to_air", []media.Process{media.RadonAeration}, []media.Process{media.Ultraviolet, media.ChlorineFeed}, nil, Beside, nil,
		"the water of a radon aerator has stood open to air: ultraviolet behind it, or a chlorine residual through it",
		source.CommonPractice, "second hand: North Carolina Cooperative Extension, disinfect open tanks"},
	{"kitchen_tap_last", []media.Process{media.ReverseOsmosis}, append([]media.Process{media.Softener, media.Ultraviolet, media.CarbonFilter, media.CartridgeFilter, media.TanninExchanger, media.NitrateExchanger, media.ArsenicAdsorber, media.RadonAeration}, oxidisingAndFilters...), nil, Never, nil,
		"reverse osmosis serves one tap at the kitchen: nothing of the house can stand behind it",
		source.Derived, "what the unit gives, gallons a day"},
}

// rust reports whether more rust is in the raw water than is wanted at the tap.
func rust(q quest) bool { return q.raw.Particulate.MgPerL() > q.want.Iron.MgPerL() }

var oxidisingAndFilters = append(append([]media.Process{media.ContactTank, media.OzoneFeed}, oxidising...), filters...)

// unlawful returns the first rule that a train so far breaks, whatever follows.
func unlawful(t Train, q quest) (OrderRule, bool) {
	return firstBroken(t, q, func(r OrderRule) bool { return r.Law != Needs && r.Law != Beside })
}

// lastChance is the place of the grammar behind the last that offers what a rule
// needs, by rule.
var lastChance = func() map[string]int {
	at := map[string]int{}
	for _, r := range orderRules {
		for i, p := range grammar {
			for _, ch := range p.choices {
				if r.Law == Needs && slices.Contains(r.Then, ch.process) {
					at[r.ID] = i + 1
				}
			}
		}
	}
	return at
}()

// tooLate returns a rule that a train so far breaks and that nothing from this place
// of the grammar on can mend: however the train goes on, it is not complete.
func tooLate(t Train, place int, q quest) (OrderRule, bool) {
	return firstBroken(t, q, func(r OrderRule) bool { return r.Law == Needs && lastChance[r.ID] == place })
}

// incomplete returns the first rule that a finished train breaks.
func incomplete(t Train, q quest) (OrderRule, bool) {
	return firstBroken(t, q, func(OrderRule) bool { return true })
}

// firstBroken returns the first of the asked rules that the train breaks in the
// raw water of q.
func firstBroken(t Train, q quest, asked func(OrderRule) bool) (OrderRule, bool) {
	q.now = q.raw
	for _, r := range orderRules {
		if asked(r) && (r.When == nil || r.When(q)) && r.broken(t) {
			return r, true
		}
	}
	return OrderRule{}, false
}

// broken reports whether the train breaks the rule.
func (r OrderRule) broken(t Train) bool {
	switch r.Law {
	case Never:
		return r.forbidden(t)
	case Needs:
		i := lastIndex(t, r.First)
		return i >= 0 && t[i+1:].index(r.Then) < 0
	case Behind:
		i := t.index(r.First)
		return i >= 0 && t[:i].index(r.Then) < 0
	case Beside:
		return t.Has(r.First...) && !t.Has(r.Then...)
	default:
		return t.Has(r.First...) && t.Has(r.Then...)
	}
}

// forbidden reports whether some First stands before some Then with no Unless
// between or among them.
func (r OrderRule) forbidden(t Train) bool {
	for i := range t {
		if t[i:i+1].index(r.First) < 0 {
			continue
		}
		for k := i + 1; k < len(t); k++ {
			if t[k:k+1].index(r.Then) >= 0 && t[i:k].index(r.Unless) < 0 {
				return true
			}
		}
	}
	return false
}

func lastIndex(t Train, ps []media.Process) int {
	for i := len(t) - 1; i >= 0; i-- {
		if t[i:i+1].index(ps) >= 0 {
			return i
		}
	}
	return -1
}
