package plan

import (
	"math"
	"strings"

	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
)

// often is how many visits in ten years a broken caution brings.
type often struct {
	limit            string
	visits, low, top float64
	graded           bool   // it troubles more the further it is broken: the visits come at twice or none of what is asked
	why              string // what the visits are for
}

// oftens holds the cautions that do not bring the usual one visit in ten years.
// All are judgement, meant to rank, and each is a factor of its own.
var oftens = []often{
	{"peak_flow", 40, 10, 80, true, "taps sag when two uses meet"},
	{"service_rate", 6, 2, 12, true, "a bed pushed too fast lets iron through at peak"},
	{"permanganate_kept", 6, 2, 12, false, "charges spent early, and pink water"},
	{"charges_for_manganese", 4, 2, 8, false, "charges spent early let manganese through"},
	{"waste_share", 2, 0, 4, true, "wash water that fills the septic field"},
	{"backwash_flow", 3, 1, 6, false, "a bed that is not lifted cakes"},
	{"iron_at_peak", 4, 2, 8, false, "stains after heavy use"},
	{"hardness_at_kitchen", 2, 0, 4, false, "scale and soap curd"},
	{"chlorine_taste", 16, 4, 30, true, "taste of chlorine at the tap"},
	{"residual_for_manganese", 3, 1, 6, false, "manganese through a bed short of oxidant"},
	{"sulfur_haze", 12, 4, 20, false, "milky water and taste of sulfur"},
	{"wash_every_night", 2, 0, 4, false, "valves worn by nightly washes"},
	{"coliform_at_kitchen", 4, 1, 8, false, "repeat samples and disinfection"},
	{"public_works_rate", 0, 0, 1, false, "a rate that public works keep and houses do not"},
	{"sodium_restricted_diet", 0, 0, 1, false, "a tap of its own takes care of it"},
	{"by_products", 1, 0, 2, false, "a test, and carbon at the drinking tap"},
	{"wash_night", 0, 0, 1, false, "washes set on different nights"},
	{"drain_for_backwash", 0, 0, 1, false, "an office asked once"},
	{"drain_for_brine", 0, 0, 1, false, "an office asked once"},
	{"drain_for_permanganate", 1, 0, 2, false, "an office asked once, and a way out found"},
	{"drain_for_sludge", 0, 0, 1, false, "an office asked once"},
	{"drain_for_reject", 0, 0, 1, false, "an office asked once"},
}

// anyCaution is what a caution brings that is not in the list.
var anyCaution = source.Factor{
	Name: "callbacks_other", What: "visits in ten years that a broken caution brings, where it has no factor of its own", Unit: "in ten years",
	Value: 1, Low: 0, High: 3, Kind: source.Judgement, From: "one visit to see to it; meant only to rank",
}

func (o often) factor() source.Factor {
	what := "visits in ten years where " + strings.ReplaceAll(o.limit, "_", " ") + " is a broken caution"
	if o.graded {
		what += " by twice or by none of what is asked; fewer in proportion"
	}
	return source.Factor{
		Name: "callbacks_" + o.limit, What: what, Unit: "in ten years",
		Value: o.visits, Low: o.low, High: o.top, Kind: source.Judgement, From: o.why + "; meant only to rank",
	}
}

// visitFactors are the factors of this file.
func visitFactors() []source.Factor {
	fs := []source.Factor{anyCaution}
	for _, o := range oftens {
		fs = append(fs, o.factor())
	}
	return fs
}

// visits are the factors as they stand for one well, by limit.
type visits struct {
	of     map[string]float64
	graded map[string]bool
	other  float64
}

func visitsOf(set source.Set) visits {
	v := visits{of: map[string]float64{}, graded: map[string]bool{}, other: set.Of(anyCaution)}
	for _, o := range oftens {
		v.of[o.limit], v.graded[o.limit] = set.Of(o.factor()), o.graded
	}
	return v
}

// callbacks is how many visits in ten years a broken caution brings.
func (v visits) callbacks(l *stage.Limit) float64 {
	n, told := v.of[l.ID]
	if !told {
		return v.other
	}
	if v.graded[l.ID] && l.Need > 0 {
		over := (l.Have - l.Need) / l.Need
		if !l.AtMost {
			over = (l.Need - l.Have) / l.Need
		}
		return n * math.Min(1, math.Max(0, over))
	}
	return n
}

// failingIn is the chance of failing in one water. A broken hard limit is sure
// failure. Between the caution and the refusal in print for one quantity the
// chance rises evenly from nothing to one: the books disagree about where in
// between the process gives out.
func (v visits) failingIn(ls []train.Placed) (chance, calls float64) {
	holds := 1.0
	for _, l := range ls {
		if !l.Fails() {
			continue
		}
		switch {
		case !l.Soft:
			return 1, calls
		case l.Doubtful:
			holds *= 1 - l.Doubt
		default:
			calls += v.callbacks(l.Limit)
		}
	}
	return 1 - holds, calls
}
