package cloud

import (
	"fmt"
	"math"
	"sort"

	"wellwright/source"
	"wellwright/water"
)

// fieldWins names what a bottle lost on its way, where site and laboratory both
// read it. The reading of site is worked with.
func fieldWins(set source.Set, all readings, iron split) []Conflict {
	var out []Conflict
	add := func(c Conflict, ok bool) {
		if ok {
			out = append(out, c)
		}
	}
	add(alkalinityLost(set, all, iron))
	add(phRose(set, all))
	add(sulfideLost(set, all))
	return out
}

// both returns what site and laboratory read of one property; not ok unless both
// did. What site found below a limit cannot stand above the laboratory's, and what
// the laboratory did counts with its limit.
func (all readings) both(set source.Set, p property) (field, lab reading, ok bool) {
	f := typicalOf(set, all.of(traits[p].analyte, water.Total, true), p == ph || p == temperature)
	l := typicalOf(set, all.of(traits[p].analyte, water.Total, false), p == ph || p == temperature)
	if f == nil || l == nil || f.below > 0 {
		return reading{}, reading{}, false
	}
	return *f, *l, true
}

func typicalOf(set source.Set, obs []observation, absolute bool) *reading {
	if !absolute {
		return typical(set, obs)
	}
	if len(obs) == 0 {
		return nil
	}
	sum := 0.0
	for _, v := range figures(set, obs) {
		sum += v
	}
	return &reading{v: sum / float64(len(obs))}
}

// alkalinityLost: ferrous iron that rusts in the bottle uses alkalinity.
//
//	loss = 1.79 Fe(II)
func alkalinityLost(set source.Set, all readings, iron split) (Conflict, bool) {
	site, bottle, ok := all.both(set, alkalinity)
	field, lab := site.v, bottle.most()
	scatter := set.Of(errAlkalinity) * field
	if !ok || field-lab < scatter {
		return Conflict{}, false
	}
	rust := set.Of(alkalinityPerIron) * iron.ferrous
	say := fmt.Sprintf("alkalinity is %.0f on site and %.0f by the laboratory, mg/L as CaCO3; %s mg/L of ferrous iron that rusts in the bottle uses %.0f (%s for each mg/L). The reading of site is worked with.",
		field, lab, trim(iron.ferrous), rust, trim(set.Of(alkalinityPerIron)))
	fits := rust > 0.5*(field-lab) && rust < 1.5*(field-lab)+scatter
	return rank("alkalinity-lab-below-field", say,
		suspect{id: "rusted-in-bottle", say: "iron rusted in the bottle", chance: evidence(set, set.Of(faultRustInside), &fits)},
		suspect{id: "titration", say: "one of the two titrations is off", chance: 1 - set.Of(faultRustInside)}), true
}

// phRose: a laboratory pH above that of site has lost carbon dioxide.
func phRose(set source.Set, all readings) (Conflict, bool) {
	site, bottle, ok := all.both(set, ph)
	field, lab := site.v, bottle.v
	if !ok || lab-field <= 2*set.Of(errFieldPH) {
		return Conflict{}, false
	}
	say := fmt.Sprintf("pH is %.1f on site and %.1f in the laboratory. The reading of site is worked with.", field, lab)
	return rank("ph-lab-above-field", say,
		suspect{id: "gas-lost", say: "carbon dioxide left the bottle", chance: set.Of(faultGas)},
		suspect{id: "meter", say: "the field meter was not steady or not calibrated", chance: (1 - set.Of(faultGas)) / 3}), true
}

// sulfideLost: an unpreserved bottle loses its sulfide within hours.
func sulfideLost(set source.Set, all readings) (Conflict, bool) {
	site, bottle, ok := all.both(set, sulfide)
	field, lab := site.v, bottle.most()
	if !ok || field <= lab*(1+2*set.Of(errKit)) || field < 0.1 {
		return Conflict{}, false
	}
	say := fmt.Sprintf("sulfide is %s mg/L as H2S on site and %s in the laboratory: a lost sample, not a finding. The reading of site is worked with.", trim(field), bottle.mark())
	return rank("sulfide-lab-below-field", say,
		suspect{id: "sulfide-lost", say: "sulfide left or rusted in the bottle", chance: set.Of(faultSulfideLost)},
		suspect{id: "kit", say: "the kit read high", chance: 1 - set.Of(faultSulfideLost)}), true
}

// suspect is one explanation under trial.
type suspect struct {
	id, say string
	chance  float64 // not yet divided by the sum
}

// evidence multiplies a chance by what the mark of its fault says: seen, looked
// for and missing, or not known.
func evidence(set source.Set, chance float64, seen *bool) float64 {
	w := set.Of(faultWeigh)
	switch {
	case seen == nil:
		return chance
	case *seen:
		return chance * w
	}
	return chance / w
}

// rank makes a conflict of explanations, likeliest first, by what such bottles
// usually suffer.
func rank(id, say string, suspects ...suspect) Conflict {
	c := Conflict{ID: id, Say: say}
	sum := 0.0
	for _, s := range suspects {
		sum += math.Max(0, s.chance)
	}
	for _, s := range suspects {
		p := 1 / float64(len(suspects))
		if sum > 0 {
			p = math.Max(0, s.chance) / sum
		}
		c.Explanations = append(c.Explanations, Explanation{s.id, p, s.say})
	}
	sort.SliceStable(c.Explanations, func(i, k int) bool { return c.Explanations[i].Probability > c.Explanations[k].Probability })
	toOne(c.Explanations)
	return c
}

// Chances that a loss explains a difference between site and laboratory, where
// the two differ by more than their errors.
var (
	faultGas         = lossFactor("gas", "carbon dioxide left the bottle before its pH was read", 0.70)
	faultSulfideLost = lossFactor("sulfide_lost", "sulfide left or rusted in an unpreserved bottle", 0.90)
	faultRustInside  = lossFactor("rust_inside", "ferrous iron rusted in the bottle and used the alkalinity", 0.80)
	faultAirIn       = lossFactor("air_in", "air got into the sample before its oxygen was read", 0.60)
	faultAirLeak     = lossFactor("air_leak", "the pump draws air, or the pressure tank holds it", 0.30)
)

func lossFactor(name, what string, p float64) source.Factor {
	return source.Factor{Name: "cloud_loss_" + name, What: "chance, where site and laboratory differ, that " + what,
		Value: p, Low: p / 3, High: math.Min(1, 3*p), Kind: source.Judgement, From: "ranking of what is met on site"}
}

func lossFactors() []source.Factor {
	return []source.Factor{faultGas, faultSulfideLost, faultRustInside, faultAirIn, faultAirLeak}
}
