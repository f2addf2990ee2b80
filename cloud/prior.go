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
		{ID: ferrousIron.String(), Chance: (1 - even) * o[ferrousIron], Alpha: [3]float64{12, 0.8, 0.25}},
		{ID: particulateIron.String(), Chance: (1 - even) * o[particulateIron], Alpha: [3]float64{0.8, 10, 0.3}},
		{ID: organicIron.String(), Chance: (1 - even) * o[organicIron], Alpha: [3]float64{1.2, 1, 6}, Organic: true},
		{ID: "mixed", Chance: even, Alpha: [3]float64{1.5, 1.5, 0.4}},
	}
	if b.airTank() {
		fs[0].Alpha = [3]float64{4, 4, 0.4}
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

func potential(class string, mv float64) source.Factor {
	return source.Factor{Name: "cloud_redox_" + class, What: "redox potential of " + class + " water", Unit: "mV",
		Value: mv, Low: mv - 100, High: mv + 100, Kind: source.Judgement, From: "ranges of field readings"}
}

func modelFactors() []source.Factor {
	fs := []source.Factor{potentialSpread, formEven, smeltFrom, noseSpread}
	for _, c := range []string{"oxic", "mixed", "reduced", "sulfidic", "acid"} {
		fs = append(fs, potentials[c])
	}
	return fs
}
