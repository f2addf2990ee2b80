package cloud

import (
	"fmt"
	"math"
	"sort"

	"wellwright/source"
)

// form is one form of iron.
type form int

const (
	ferrousIron form = iota
	particulateIron
	organicIron
	nForms
)

var formNames = [nForms]string{"ferrous", "particulate", "bound"}

// String returns the word used in the answer.
func (f form) String() string { return formNames[f] }

// bacteria is the other hypothesis that clues speak to.
const bacteria = "iron bacteria"

// formOdds is the chance of each form to be the leading one, from signs alone.
type formOdds [nForms]float64

func (o formOdds) leading() form {
	best := ferrousIron
	for f := range o {
		if o[f] > o[best] {
			best = form(f)
		}
	}
	return best
}

// Starting odds of a home that calls about orange, brown or slime.
var (
	startFerrous     = startFactor("ferrous", "ferrous iron leads", 0.60)
	startParticulate = startFactor("particulate", "rust particles lead", 0.17)
	startBound       = startFactor("bound", "organic or colloidal iron leads", 0.05)
	startBacteria    = startFactor("bacteria", "iron bacteria live in the well beside whatever else", 0.30)
	lookCap          = source.Factor{Name: "cloud_look_cap", What: "most that all look-and-smell findings together may multiply the odds",
		Value: 40, Low: 20, High: 100, Kind: source.CommonPractice, From: "signs say much the same thing twice"}
	bacteriaCeiling = source.Factor{Name: "cloud_bacteria_ceiling", What: "highest probability of iron bacteria that is printed",
		Value: 0.99, Low: 0.95, High: 0.999, Kind: source.Judgement, From: "no household test proves them"}
	capacityLoss = source.Factor{Name: "cloud_capacity_loss", What: "fall of specific capacity that counts as a finding",
		Value: 0.15, Low: 0.1, High: 0.25, Kind: source.CommonPractice, From: "rehabilitation is called for at 15 to 20 %"}
	growthOxygenLow = source.Factor{Name: "cloud_growth_oxygen_low", What: "least oxygen that iron bacteria grow well in", Unit: "mg/L",
		Value: 0.5, Kind: source.Published, From: "Alberta Agriculture, Agdex 716(D12), Shock Chlorination and Control of Iron Bacteria"}
	growthOxygenHigh = source.Factor{Name: "cloud_growth_oxygen_high", What: "most oxygen that iron bacteria grow well in", Unit: "mg/L",
		Value: 4, Kind: source.Published, From: "Alberta Agriculture, Agdex 716(D12), Shock Chlorination and Control of Iron Bacteria"}
)

func startFactor(name, what string, p float64) source.Factor {
	return source.Factor{Name: "cloud_start_" + name, What: "starting chance that " + what, Value: p, Low: p / 2, High: math.Min(0.95, 1.5*p),
		Kind: source.CommonPractice, From: "leaning on a regional split of nine clear to one rusty at the tap, second hand"}
}

// odds is how many times likelier a hypothesis is for a finding seen, and for
// one looked for in vain; zero: says nothing.
type odds struct{ seen, absent source.Factor }

func oddsOf(name, what string, seen, absent float64) odds {
	o := odds{seen: oddsFactor(name, what+", seen", seen)}
	if absent > 0 {
		o.absent = oddsFactor(name+"_absent", what+", looked for and not there", absent)
	}
	return o
}

func oddsFactor(name, what string, v float64) source.Factor {
	return source.Factor{Name: "cloud_likelier_" + name, What: "times likelier by this finding: " + what,
		Value: v, Low: min(math.Pow(v, 0.6), math.Pow(v, 1.4)), High: max(math.Pow(v, 0.6), math.Pow(v, 1.4)), Kind: source.CommonPractice, From: "expert judgement in bands; no published sensitivity of household signs was found"}
}

// The findings and what they are worth.
var (
	clearThenRust  = oddsOf("clear_then_rust", "clear from the cold raw tap, then yellow to orange", 12, 0.12)
	redAtOnce      = oddsOf("red_at_once", "orange or brown as it leaves the tap", 10, 0.2)
	teaColour      = oddsOf("tea_colour", "tea or straw colour that does not settle", 10, 0.15)
	bleachOrange   = oddsOf("bleach_orange", "a few drops of bleach turn clear water orange", 8, 0.2)
	hazeStays      = oddsOf("haze_stays", "a haze that does not settle in a day", 10, 0)
	laundryYellows = oddsOf("laundry_yellows", "laundry yellows and bleach makes it worse", 6, 0.5)
	rustAfterTank  = oddsOf("rust_after_tank", "clear at the well, rusty after the pressure tank", 5, 0.5)
	inkyTea        = oddsOf("inky_tea", "tea or coffee turns inky", 4, 0.6)
	filterClogs    = oddsOf("filter_clogs", "a sediment filter clogs within days, shared by slime and rust", 2, 0)
	slime          = oddsOf("slime", "jelly or slime in the flush tank", 8, 0.25)
	feathers       = oddsOf("feathers", "feathery or stringy growth", 10, 0.7)
	filmBreaks     = oddsOf("film_breaks", "film that breaks into plates", 5, 0.7)
	swampySmell    = oddsOf("swampy_smell", "swampy, cucumber or musty smell, worse after standing", 3, 0.6)
	wellWork       = oddsOf("well_work", "trouble began weeks after pump or well work", 4, 0.8)
	capacityFall   = oddsOf("capacity_fall", "specific capacity of the well has fallen", 4, 0.5)
	slugs          = oddsOf("slugs", "repeated totals spread more than twofold", 3, 0)
	cultureFast    = oddsOf("culture_fast", "culture positive within three days", 6, 0)
	cultureMiddle  = oddsOf("culture_middle", "culture positive on day four to seven", 2.5, 0)
	cultureSlow    = oddsOf("culture_slow", "culture positive on day eight or later", 1.2, 0)
	cultureNone    = oddsOf("culture_none", "culture negative after its full time", 0.3, 0)
	sheaths        = oddsOf("sheaths", "sheaths or stalks under the microscope", 30, 0.15)
	growthOxygen   = oddsOf("growth_oxygen", "a little oxygen beside iron", 2, 0.7)
	filterHolds    = oddsOf("filter_holds", "a fifth of the iron or less passes 0.45 µm", 20, 0.1)
	organicMatter  = oddsOf("organic_matter", "organic carbon of 4 or tannin of 1 mg/L or more with iron", 8, 0.3)
)

func allOdds() []odds {
	return []odds{clearThenRust, redAtOnce, teaColour, bleachOrange, hazeStays, laundryYellows, rustAfterTank, inkyTea, filterClogs, slime, feathers, filmBreaks, swampySmell, wellWork,
		capacityFall, slugs, cultureFast, cultureMiddle, cultureSlow, cultureNone, sheaths, growthOxygen, filterHolds,
		organicMatter}
}

func clueFactors() []source.Factor {
	fs := []source.Factor{startFerrous, startParticulate, startBound, startBacteria, lookCap, bacteriaCeiling, capacityLoss, growthOxygenLow, growthOxygenHigh}
	for _, o := range allOdds() {
		fs = append(fs, o.seen)
		if o.absent.Name != "" {
			fs = append(fs, o.absent)
		}
	}
	return fs
}

// finding is one clue on its way to the scales. Findings of one group tell the
// same fact: only the strongest counts.
type finding struct {
	group string
	look  bool // seen, smelt or tasted: under the common cap
	clue  Clue
}

// scales gathers findings.
type scales struct {
	set  source.Set
	list []finding
}

// add puts a finding on the scales, seen or looked for in vain.
func (s *scales) add(group string, look bool, toward string, o odds, seen bool, say string) {
	f := o.seen
	if !seen {
		f = o.absent
	}
	if f.Name == "" {
		return
	}
	in := s.set.In(f)
	s.list = append(s.list, finding{group, look, Clue{say, toward, in.Value, in.Kind, wording(say, toward, in.Value)}})
}

// wording says what was found and which way it speaks; how far stands beside it.
func wording(sign, toward string, times float64) string {
	what := toward
	if toward != bacteria {
		what += " iron"
	}
	switch {
	case times < 1:
		return fmt.Sprintf("%s: speaks against %s", sign, what)
	case times > 1:
		return fmt.Sprintf("%s: speaks for %s", sign, what)
	}
	return fmt.Sprintf("%s: says nothing of %s either way", sign, what)
}

// strongest keeps the strongest finding of each group and hypothesis.
func (s *scales) strongest() []finding {
	type slot struct{ group, toward string }
	best := map[slot]finding{}
	var order []slot
	for _, f := range s.list {
		k := slot{f.group, f.clue.Toward}
		old, there := best[k]
		if !there {
			order = append(order, k)
		}
		if !there || math.Abs(math.Log(f.clue.TimesLikelier)) > math.Abs(math.Log(old.clue.TimesLikelier)) {
			best[k] = f
		}
	}
	out := make([]finding, len(order))
	for i, k := range order {
		out[i] = best[k]
	}
	return out
}

// weight returns the logarithm of the product of what speaks to a hypothesis,
// the look-and-smell part of it capped.
func (s *scales) weight(toward string) float64 {
	look, rest := 0.0, 0.0
	for _, f := range s.strongest() {
		if f.clue.Toward != toward {
			continue
		}
		if f.look {
			look += math.Log(f.clue.TimesLikelier)
		} else {
			rest += math.Log(f.clue.TimesLikelier)
		}
	}
	most := math.Log(s.set.Of(lookCap))
	return math.Max(-most, math.Min(most, look)) + rest
}

// forms returns the chance of each form to lead.
func (s *scales) forms() formOdds {
	var o formOdds
	start := [nForms]source.Factor{startFerrous, startParticulate, startBound}
	sum := 0.0
	for f := range o {
		o[f] = s.set.Of(start[f]) * math.Exp(s.weight(form(f).String()))
		sum += o[f]
	}
	for f := range o {
		o[f] /= sum
	}
	return o
}

// clues returns what counted, the heaviest first.
func (s *scales) clues() []Clue {
	var out []Clue
	for _, f := range s.strongest() {
		out = append(out, f.clue)
	}
	sort.SliceStable(out, func(i, j int) bool {
		return math.Abs(math.Log(out[i].TimesLikelier)) > math.Abs(math.Log(out[j].TimesLikelier))
	})
	return out
}
