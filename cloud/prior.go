package cloud

import (
	_ "embed" // the prior is data
	"fmt"
	"sync"

	"wellwright/cloud/internal/posterior"
	"wellwright/source"
)

//go:embed prior.json
var priorText []byte

// readPrior reads the prior once.
var readPrior = sync.OnceValues(func() (posterior.Prior, error) { return posterior.ReadPrior(priorText) })

// model joins the prior with the charges of its coordinates.
func model(c charges, set source.Set) (*posterior.Model, error) {
	p, err := readPrior()
	if err != nil {
		return nil, fmt.Errorf("weigh: %w", err)
	}
	return &posterior.Model{Prior: own(p, set), Charges: chargesFor(c)}, nil
}

// forms are the classes of the iron's forms, with the chance that signs give them.
func (b *balance) forms() []posterior.Form {
	o, even := b.scales.forms(), b.set.Of(formEven)
	fs := []posterior.Form{
		{ID: ferrousIron.String(), Chance: (1 - even) * o[ferrousIron], Alpha: b.shares("ferrous")},
		{ID: particulateIron.String(), Chance: (1 - even) * o[particulateIron], Alpha: b.shares("particulate")},
		{ID: organicIron.String(), Chance: (1 - even) * o[organicIron], Alpha: b.shares("bound"), Organic: true},
		{ID: "mixed", Chance: even, Alpha: b.shares("mixed")},
	}
	if b.airTank() {
		fs[0].Alpha = b.shares("aired")
	}
	return fs
}

// shares are the weights of the Dirichlet of a class of forms.
func (b *balance) shares(class string) (a [3]float64) {
	for i, f := range formShares[class] {
		a[i] = b.set.Of(f)
	}
	return a
}

// formShares are the weights of ferrous, particulate and bound iron by class:
// their shares are the means, and their sum says how close to the means wells stand.
var formShares = map[string][3]source.Factor{
	"ferrous": weights("ferrous", 12, 0.8, 0.25), "particulate": weights("particulate", 0.8, 10, 0.3),
	"bound": weights("bound", 1.2, 1, 6), "mixed": weights("mixed", 1.5, 1.5, 0.4), "aired": weights("aired", 4, 4, 0.4),
}

func weights(class string, vs ...float64) (fs [3]source.Factor) {
	for i, v := range vs {
		fs[i] = source.Factor{Name: "cloud_form_" + class + "_" + form(i).String(), What: "weight of " + form(i).String() + " iron in wells of the class " + class,
			Value: v, Low: v / 2, High: 2 * v, Kind: source.Judgement, From: "no open set parts iron by form; a leading form is seldom alone"}
	}
	return fs
}

// Redox potential by class, mV against hydrogen.
var (
	potentials = map[string]source.Factor{
		"oxic": potential("oxic", 300), "mixed": potential("mixed", 180), "reduced": potential("reduced", 20),
		"sulfidic": potential("sulfidic", -150), "acid": potential("acid", 300),
	}
	potentialSpread = source.Factor{Name: "cloud_redox_spread", What: "spread of redox potential within a class", Unit: "mV",
		Value: 120, Low: 80, High: 200, Kind: source.Judgement, From: "platinum electrodes are slow and mixed"}
	formEven = source.Factor{Name: "cloud_form_even", What: "chance that no form of iron leads: plumbing, manganese alone, or neither",
		Value: 0.18, Low: 0.1, High: 0.3, Kind: source.CommonPractice, From: "starting odds of homes that call: 0.10 plumbing, 0.05 manganese only, 0.03 none of these"}
	smeltFrom = source.Factor{Name: "cloud_sulfide_smelt_from", What: "sulfide from which a house complains of the smell", Unit: "mg/L as H2S",
		Value: 0.12, Low: 0.05, High: 0.4, Kind: source.CommonPractice, From: "smelt by most near 0.05; complained of from about twice that"}
	noseSpread = source.Factor{Name: "cloud_nose_spread", What: "spread of what a nose finds, natural logarithm",
		Value: 0.7, Low: 0.4, High: 1.2, Kind: source.Judgement, From: "noses differ, and tire"}
)

var (
	organicAt = source.Factor{Name: "cloud_organic_at", What: "organic carbon about which bound iron becomes likely", Unit: "mg/L",
		Value: 4, Low: 2, High: 6, Kind: source.CommonPractice, From: "watch above 2, expect trouble above 4"}
	oxygenShare = source.Factor{Name: "cloud_error_oxygen_share", What: "error of a field oxygen reading as a share, one standard deviation",
		Value: 0.05, Low: 0.02, High: 0.1, Kind: source.CommonPractice, From: "membrane and optical meters"}
	fineSpread = source.Factor{Name: "cloud_fine_spread", What: "spread of what a filter of 0.1 to 0.2 µm passes, natural logarithm",
		Value: 0.3, Low: 0.15, High: 0.6, Kind: source.Judgement, From: "filters differ by maker and load (Horowitz and others 1996, on 0.45 µm); the figure is judgement"}
	slugLeast = source.Factor{Name: "cloud_slug_least", What: "iron of a slug over that of the highest seen, at least",
		Value: 0.6, Low: 0.3, High: 0.9, Kind: source.Judgement, From: "slugs differ"}
	arsenicSpread = source.Factor{Name: "cloud_arsenic_turned_spread", What: "spread of the share of arsenic that is As(V), of its log odds",
		Value: 1.2, Low: 0.6, High: 2, Kind: source.Judgement, From: "wells of one class differ widely"}
)

func potential(class string, mv float64) source.Factor {
	return source.Factor{Name: "cloud_redox_" + class, What: "redox potential of " + class + " water", Unit: "mV",
		Value: mv, Low: mv - 100, High: mv + 100, Kind: source.Judgement, From: "ranges of field readings"}
}

func modelFactors() []source.Factor {
	fs := []source.Factor{potentialSpread, formEven, smeltFrom, noseSpread, organicAt, oxygenShare, fineSpread, slugLeast, arsenicSpread}
	for _, c := range []string{"oxic", "mixed", "reduced", "sulfidic", "acid"} {
		fs = append(fs, potentials[c])
	}
	for _, c := range []string{"ferrous", "particulate", "bound", "mixed", "aired"} {
		for _, f := range formShares[c] {
			fs = append(fs, f)
		}
	}
	return fs
}
