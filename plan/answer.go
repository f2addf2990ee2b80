// Package plan goes from a well book to everything computed and ranked. It is
// the single entry for every face: one pure function, no clock, no files.
package plan

import (
	"wellwright/book"
	"wellwright/cloud"
	"wellwright/formula"
	"wellwright/source"
)

// Answer is the whole answer for one well, in the order it is read. Every leaf
// name carries its unit; every uncertain number is a range. All keys are always
// present; what is not yet built is empty.
type Answer struct {
	Well   string `json:"well"`
	AsOf   string `json:"as_of"`
	Limits string `json:"limits"` // jurisdiction whose values were used

	Alerts    []Alert          `json:"alerts"`
	Checks    []Check          `json:"checks"`
	Conflicts []Conflict       `json:"conflicts"`
	Forms     Forms            `json:"forms"`
	Belief    []Belief         `json:"belief"`
	Quality   Quality          `json:"quality"`
	Water     map[string]Value `json:"water"`
	Actions   []Action         `json:"actions"`
	Options   []Option         `json:"options"`
	Rejected  []Rejected       `json:"rejected"`
	NextTests []NextTest       `json:"next_tests"` // those that pay first; what is not told from nothing is left out
	NextSay   string           `json:"next_say"`   // the same in one line
	Sampling  []Bottle         `json:"sampling_plan"`
	Cautions  []string         `json:"cautions"`
	Gates     []Gate           `json:"gates"`            // findings on which drinking other water rests
	Placings  []Placing        `json:"house_or_kitchen"` // where to treat each finding of health
	Proof     []Proof          `json:"proof"`            // what a certified laboratory is to show, in order of time
	Untested  []string         `json:"health_tests_missing"`

	Considered int              `json:"considered"` // lawful trains looked at
	Pruned     map[string]int   `json:"pruned"`     // and which limit ended how many
	Assumed    []Assumed        `json:"assumed"`
	Own        []source.Factor  `json:"own_values"` // factors the user has replaced
	Unsettled  []book.Finding   `json:"-"`
	Working    []formula.Placed `json:"working,omitempty"`
}

// Alert is something to say before anything else.
type Alert struct {
	Kind    string `json:"kind"` // health, safety, legal
	Rank    int    `json:"rank"` // 1 stop now, 2 act, 3 watch
	Met     bool   `json:"met"`  // the limit was met, if narrowly
	Analyte string `json:"analyte"`
	Say     string `json:"say"`
	Basis   string `json:"basis"`
}

// Check is one check made on the evidence.
type Check struct {
	ID      string   `json:"id"`
	Verdict string   `json:"verdict"` // ok, doubt, impossible
	Say     string   `json:"say"`
	Value   *float64 `json:"value"`
	Unit    string   `json:"unit"`
}

// Conflict is evidence that cannot all be right.
type Conflict struct {
	ID           string        `json:"id"`
	Say          string        `json:"say"`
	Explanations []Explanation `json:"explanations"`
	Settle       string        `json:"settle"` // what would settle it; "" if nothing more is known
}

// Explanation is one way a conflict may have come about.
type Explanation struct {
	ID          string  `json:"id"`
	Probability float64 `json:"probability"`
	Say         string  `json:"say"`
}

// Range is an uncertain number.
type Range struct {
	P05 float64 `json:"p05"`
	P50 float64 `json:"p50"`
	P95 float64 `json:"p95"`
}

// Value is a range of the raw water.
type Value struct {
	Range
	Assumed bool `json:"assumed"`
}

// Forms is the iron by form.
type Forms struct {
	Total       Range  `json:"total_mg_l"`
	Ferrous     Range  `json:"ferrous_mg_l"`
	Particulate Range  `json:"particulate_mg_l"`
	Bound       Range  `json:"bound_mg_l"`
	Bacteria    Number `json:"bacteria_probability"`
	Evidence    []Clue `json:"evidence"`
}

// Number is a plain figure, kept to three digits when printed.
type Number float64

// Clue is one piece of evidence on the forms.
type Clue struct {
	Sign          string      `json:"sign"`
	Toward        string      `json:"toward"`
	TimesLikelier float64     `json:"times_likelier"`
	Kind          source.Kind `json:"kind"`
	Say           string      `json:"say"`
}

// Action is work before or instead of any train.
type Action struct {
	ID    string             `json:"id"`
	Say   string             `json:"say"`
	Why   string             `json:"why"`
	Sizes map[string]float64 `json:"sizes,omitempty"`
}

// Option is a train that meets what is wanted in the likeliest water.
type Option struct {
	Rank             int        `json:"rank"`
	Train            []string   `json:"train"`
	Addons           []string   `json:"addons"`
	MeetsProbability *float64   `json:"meets_probability"` // null: three waters give no probability
	MeetsError       *float64   `json:"meets_standard_error"`
	Carried          int        `json:"draws_carried"` // plausible waters that it was carried through
	LimitsMet        []LimitMet `json:"limits_met"`    // hard limits that some of them break
	Regret           *float64   `json:"regret_usd"`    // expected cost beyond the best train in each water
	FirstLimit       Limit      `json:"first_limit"`
	ExpectedCost     float64    `json:"expected_cost"` // US dollars, failing, callbacks and own time counted
	Cost             Cost       `json:"cost"`
	UpkeepHours      float64    `json:"upkeep_h_per_year"`
	WasteGalPerYear  float64    `json:"waste_water_gal_per_year"`
	Stages           []Stage    `json:"stages"`
	Flips            []Flip     `json:"flips"`
	WillNot          []string   `json:"will_not"`
	Ties             []int      `json:"near_ties"` // ranks too close to call
	Kept             []string   `json:"kept"`      // equipment already there and kept
	Warnings         []string   `json:"warnings"`  // what the owner should hear before its price

	Companions []Companion `json:"companions"` // by-products and side effects, those of health first

	Pressure Pressure `json:"pressure"`
	Night    []Slot   `json:"night"`
	AtOnce   *AtOnce  `json:"washes_at_once"` // null: there are no two
	Parts    []Part   `json:"parts"`
}

// AtOnce is the two greatest washes of a train put on pump and well at one time.
type AtOnce struct {
	Stages  []string `json:"stages"`
	Need    float64  `json:"need_gpm"`
	Have    float64  `json:"have_gpm"`
	Allowed bool     `json:"allowed"`
	AnyHour bool     `json:"any_hour"` // a twin regenerates when its meter says: two may meet
	Say     string   `json:"say"`
}

// Limit is a limit with its margin.
type Limit struct {
	Stage  string  `json:"stage"`
	Limit  string  `json:"limit"`
	Have   float64 `json:"have"`
	Need   float64 `json:"need"`
	Unit   string  `json:"unit"`
	Margin float64 `json:"margin"`
	AtMost bool    `json:"at_most"`
	Fails  bool    `json:"fails"`
	Water  string  `json:"water"` // the draw in which it stands so
	Say    string  `json:"say"`
	Kind   string  `json:"kind"`
	From   string  `json:"from"`
}

// LimitMet is a hard limit and the chance of meeting it.
type LimitMet struct {
	Limit       string  `json:"limit"`
	Stage       string  `json:"stage"`
	Probability float64 `json:"probability"`
}

// Cost is in US dollars.
type Cost struct {
	First   Range `json:"first_usd"`
	Yearly  Range `json:"yearly_usd"`
	TenYear Range `json:"ten_year_usd"`
}

// Part is one line of the bill.
type Part struct {
	Part   string  `json:"part"`
	When   string  `json:"when"` // first, yearly, every N years
	Amount float64 `json:"amount"`
	Mid    float64 `json:"mid_usd"`
	Kind   string  `json:"kind"`
	Why    string  `json:"why"`
}

// Stage is one stage of an option as sized and set.
type Stage struct {
	Process  string             `json:"process"`
	Words    string             `json:"words"`
	Count    int                `json:"count"` // vessels washed one after the other
	Mode     string             `json:"mode"`
	Tap      string             `json:"tap"` // behind it; "" for a feed
	Size     map[string]float64 `json:"size"`
	Settings map[string]float64 `json:"settings"`
	Ranges   map[string]Range   `json:"settings_range"` // of the settings that vary over the cloud
	Backwash *Backwash          `json:"backwash"`
	WaterOut map[string]Range   `json:"water_out"`
	Findings []Limit            `json:"findings"`
	Cautions []string           `json:"cautions"`
	Label    string             `json:"label"`
}

// Backwash is what a bed needs and what can be had for it.
type Backwash struct {
	Need    float64 `json:"need_gpm"`
	Have    float64 `json:"have_gpm"`
	Days    float64 `json:"interval_days"`
	Gallons float64 `json:"gallons"`
}

// Flip is the value of an input at which the first choice changes.
type Flip struct {
	Input string  `json:"input"`
	At    float64 `json:"at"`
	Unit  string  `json:"unit"`
	To    string  `json:"to"`
	Say   string  `json:"say"`

	Probability *float64 `json:"probability"` // share of the plausible waters beyond it; null: three waters give none
	Outside     bool     `json:"outside"`     // it lies beyond what is believed
}

// Rejected is a train and the limit that ruled it out.
type Rejected struct {
	Train      []string `json:"train"`
	FirstLimit Limit    `json:"first_limit"`
	Say        string   `json:"say"`
}

// Assumed is a value nobody measured.
type Assumed struct {
	Name  string      `json:"name"`
	Unit  string      `json:"unit"`
	Value Range       `json:"value"`
	Kind  source.Kind `json:"kind"`
	From  string      `json:"from"`
}

// Pressure is the pressure budget at house peak.
type Pressure struct {
	CutIn float64 `json:"cut_in_psi"`
	Clean float64 `json:"clean_loss_psi"`
	Dirty float64 `json:"dirty_loss_psi"`
	Left  float64 `json:"left_at_top_psi"`
}

// Slot is the hour of a wash.
type Slot struct {
	Stage   string  `json:"stage"`
	Vessel  int     `json:"vessel"`
	Start   string  `json:"start"`
	Minutes float64 `json:"minutes"`
	Days    float64 `json:"every_days"`
}

func rangeOf(r cloud.Range) Range { return Range(r) }
