package media

import (
	"strings"
	"sync"

	"wellwright/source"
)

// Quantity is what a limit of an envelope is about.
type Quantity int

// The quantities. Each names the unit its limits are written in.
const (
	TotalIron           Quantity = iota // mg/L, every form
	Ferrous                             // mg/L, dissolved Fe(II)
	ParticulateIron                     // mg/L, held by 0.45 µm
	BoundIron                           // mg/L, colloidal or organic
	Manganese                           // mg/L, every form
	IronPlusManganese                   // mg/L
	Sulfide                             // mg/L as H2S
	PH                                  // pH units
	PHForManganese                      // pH units; asked only where manganese exceeds ManganeseTrace
	Oxygen                              // mg/L
	OxygenPerIron                       // mg O2 for each mg of ferrous iron
	FreeChlorine                        // mg/L as Cl2
	Permanganate                        // mg/L as KMnO4
	Peroxide                            // mg/L as H2O2
	Polyphosphate                       // mg/L as PO4
	OrganicCarbon                       // mg/L
	Solids                              // mg/L suspended, iron and manganese floc included
	Turbidity                           // NTU
	TemperatureF                        // °F
	Hardness                            // grains a gallon as CaCO3
	Alkalinity                          // mg/L as CaCO3
	AlkalinityOverSalts                 // alkalinity over chloride plus sulfate, mg/L over mg/L
	IronPerHardness                     // mg/L of ferrous iron for each grain of hardness
	Silica                              // mg/L as SiO2
	IronBacteria                        // probability that they live in the water, 0 to 1
	quantityCount
)

var quantityNames = [quantityCount]struct{ words, unit string }{
	{"total iron", "mg/L"}, {"ferrous iron", "mg/L"}, {"particulate iron", "mg/L"}, {"bound iron", "mg/L"},
	{"manganese", "mg/L"}, {"iron plus manganese", "mg/L"}, {"sulfide", "mg/L as H2S"},
	{"pH", ""}, {"pH with manganese", ""}, {"oxygen", "mg/L"}, {"oxygen for each mg of ferrous iron", "mg/mg"},
	{"free chlorine", "mg/L as Cl2"}, {"permanganate", "mg/L as KMnO4"}, {"peroxide", "mg/L"},
	{"polyphosphate", "mg/L as PO4"}, {"organic carbon", "mg/L"}, {"suspended solids", "mg/L"}, {"turbidity", "NTU"},
	{"temperature", "°F"}, {"hardness", "gpg"}, {"alkalinity", "mg/L as CaCO3"},
	{"alkalinity over chloride plus sulfate", "mg/mg"}, {"ferrous iron for each grain of hardness", "mg/L per gpg"},
	{"silica", "mg/L"}, {"chance of iron bacteria", ""},
}

// String returns the quantity in words.
func (q Quantity) String() string { return quantityNames[q].words }

// Unit returns the unit its limits are written in, "" for a pure number.
func (q Quantity) Unit() string { return quantityNames[q].unit }

// Quantities returns every quantity an envelope may speak of.
func Quantities() []Quantity {
	all := make([]Quantity, quantityCount)
	for i := range all {
		all[i] = Quantity(i)
	}
	return all
}

// EnvelopeLimit is one bound on the water a process can take. The limit itself
// is still inside: a caution begins beyond Caution, a refusal beyond Refuse.
type EnvelopeLimit struct {
	ID      string // unique within the process, such as "ferrous"
	Of      Quantity
	AtLeast bool // the water must have at least this; else at most
	Caution *source.Factor
	Refuse  *source.Factor
	Say     string // what goes wrong beyond it
}

// Envelope returns the bounds on the water that a process can take, none for a
// process without limits of its own. It is asked for every water of a cloud, so
// the slice is shared: read it, do not change it.
func Envelope(p Process) []EnvelopeLimit {
	limits := envelopes()[p]
	return limits[:len(limits):len(limits)]
}

// envelopes builds the table once; it is never changed afterwards.
var envelopes = sync.OnceValue(func() map[Process][]EnvelopeLimit {
	all := make(map[Process][]EnvelopeLimit)
	for _, rows := range [][]limitRow{filterLimits, oxidiserLimits, exchangerLimits, polisherLimits} {
		for _, r := range rows {
			all[r.process] = withRow(all[r.process], r.limit())
		}
	}
	return all
})

// withRow adds a limit, or its bounds to the limit before it if that is the same
// one: caution and refusal stand in two rows where their sources differ in kind.
func withRow(limits []EnvelopeLimit, l EnvelopeLimit) []EnvelopeLimit {
	n := len(limits) - 1
	if n < 0 || limits[n].ID != l.ID {
		return append(limits, l)
	}
	if l.Caution != nil {
		limits[n].Caution = l.Caution
	}
	if l.Refuse != nil {
		limits[n].Refuse = l.Refuse
	}
	return limits
}

// limitRow is one bound as the tables hold it. A bound that is not there is none.
type limitRow struct {
	process         Process
	id              string
	of              Quantity
	side            side
	caution, refuse float64
	kind            source.Kind
	from, say       string
}

// side tells a floor from a ceiling.
type side bool

const (
	most  side = false
	least side = true
)

// none stands for a bound that is not there; no bound in use is negative.
const none = -1

// limit turns a row into a limit with named factors.
func (r limitRow) limit() EnvelopeLimit {
	l := EnvelopeLimit{ID: r.id, Of: r.of, AtLeast: bool(r.side), Say: r.say}
	l.Caution = r.bound("caution", r.caution)
	l.Refuse = r.bound("refusal", r.refuse)
	return l
}

func (r limitRow) bound(level string, v float64) *source.Factor {
	if v == none {
		return nil
	}
	word := "most"
	if r.side == least {
		word = "least"
	}
	return &source.Factor{
		Name: snake(string(r.process)) + "_" + snake(r.id) + "_" + level,
		What: r.process.Words() + ": " + word + " " + r.of.String() + " before a " + level,
		Unit: r.of.Unit(), Value: v, Kind: r.kind, From: r.from,
	}
}

// snake writes an identifier as factor names are written.
func snake(s string) string { return strings.ReplaceAll(s, "-", "_") }
