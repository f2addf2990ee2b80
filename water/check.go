package water

import (
	"fmt"
	"strings"

	"wellwright/source"
	"wellwright/unit"
)

// Verdict is the outcome of one check.
type Verdict int

// The verdicts, mildest first.
const (
	OK         Verdict = iota
	Notice             // worth knowing; the figures stand
	Doubt              // do not lean on it before it is explained
	Impossible         // cannot be true as written
)

var verdictNames = [...]string{"ok", "notice", "doubt", "impossible"}

// String returns the verdict in a word.
func (v Verdict) String() string {
	if v < 0 || int(v) >= len(verdictNames) {
		return "unknown verdict"
	}
	return verdictNames[v]
}

// MarshalText writes the verdict in a word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Finding is what one check found. A check that was made and passed is a finding too.
type Finding struct {
	ID       string
	Verdict  Verdict
	Say      string
	Value    float64 // the figure the check turns on, in Unit
	Unit     string
	Analyte  Analyte  // "" for a check of the whole report
	SetAside []Result // not to be worked with
	Use      []Result // to be worked with in their place
	Ask      string   // what would settle it; "" if nothing is needed
	Kind     source.Kind
	From     string
	Place    Place
}

// CheckReport makes every check on a report, alone and against the readings
// taken on site, with the default factors. Checks that pass are among the
// findings; those for which nothing was measured are left out.
func CheckReport(r Report, field []Report) []Finding { return CheckReportWith(source.Set{}, r, field) }

// CheckReportWith is CheckReport with the user's own factors.
func CheckReportWith(set source.Set, r Report, field []Report) []Finding {
	best, found := Reconcile(set, r, field)
	c := checker{set: set, report: best, written: r}
	for _, check := range aloneChecks {
		check(&c)
	}
	return append(found, c.found...)
}

// Reconcile lays a laboratory's report beside the readings taken on site and
// returns the water to work with: the report without the figures that are set
// aside, with the readings of site in their place and beside them. The findings
// say what was set aside and why.
func Reconcile(set source.Set, r Report, field []Report) (Report, []Finding) {
	c := checker{set: set, report: r, written: r, field: sameWater(r, field)}
	for _, check := range pairChecks {
		check(&c)
	}
	return c.merged(), c.found
}

// pairChecks compare figures of one thing with each other, laboratory and site.
var pairChecks = []func(*checker){
	(*checker).readable, (*checker).ferrousOverTotal, (*checker).ferrousOverDissolved, (*checker).dissolvedOverTotal,
	(*checker).phDrift, (*checker).alkalinityLost, (*checker).sulfideLost, (*checker).turbidityRust,
}

// aloneChecks are made on the reconciled report.
var aloneChecks = []func(*checker){
	(*checker).chargeBalance, (*checker).softenedSodium, (*checker).hardnessSum, (*checker).solidsSum, (*checker).solidsConductivity,
	(*checker).ionsConductivity, (*checker).conductivityCalculated, (*checker).carbonateSpecies, (*checker).ironHighPH,
	(*checker).gasLost, (*checker).chlorineInRaw, (*checker).bottle, (*checker).holdingTimes,
}

// checker gathers the findings on one report.
type checker struct {
	set     source.Set
	report  Report // what checks read
	written Report // as it came
	field   []Report
	found   []Finding
	aside   []Result
	use     []Result
}

// sameWater returns the readings that belong beside r: those of its tap if there
// are any, else those of any tap before treatment if r itself is raw.
func sameWater(r Report, field []Report) []Report {
	var same, raw []Report
	for _, f := range field {
		if f.Tap == r.Tap {
			same = append(same, f)
		}
		if f.Raw() {
			raw = append(raw, f)
		}
	}
	if len(same) == 0 && r.Raw() {
		return raw
	}
	return same
}

// add records a finding and what it sets aside.
func (c *checker) add(f Finding) {
	c.found = append(c.found, f)
	c.aside = append(c.aside, f.SetAside...)
	c.use = append(c.use, f.Use...)
}

// amount reads the report.
func (c *checker) amount(a Analyte, f Fraction) (Amount, Result, bool) {
	return amountIn(c.report, a, f)
}

// onSite reads the newest reading taken on site.
func (c *checker) onSite(a Analyte, f Fraction) (got Amount, res Result, ok bool) {
	var newest Report
	for _, r := range c.field {
		if x, w, is := amountIn(r, a, f); is && (!ok || r.Sampled.After(newest.Sampled)) {
			got, res, ok, newest = x, w, true, r
		}
	}
	return got, res, ok
}

// either reads the site first, then the report.
func (c *checker) either(a Analyte, f Fraction) (Amount, Result, bool) {
	if got, res, ok := c.onSite(a, f); ok {
		return got, res, true
	}
	return c.amount(a, f)
}

func amountIn(r Report, a Analyte, f Fraction) (Amount, Result, bool) {
	res, ok := r.Find(a, f)
	if !ok {
		return Amount{}, res, false
	}
	got, err := res.Amount()
	return got, res, err == nil && got.Numeric()
}

// merged is the report without what was set aside and with what was read on site.
func (c *checker) merged() Report {
	best := c.report
	best.Results = nil
	for _, res := range c.report.Results {
		if !among(res, c.aside) {
			best.Results = append(best.Results, res)
		}
	}
	for _, res := range c.use {
		if !among(res, best.Results) {
			best.Results = append([]Result{res}, best.Results...)
		}
	}
	for _, f := range c.field {
		for _, res := range f.Results {
			if _, there := best.first(res.Analyte, res.Fraction); !there && !among(res, c.aside) {
				best.Results = append(best.Results, res)
			}
		}
	}
	return best
}

func among(r Result, rs []Result) bool {
	for _, x := range rs {
		if x.Analyte == r.Analyte && x.Fraction == r.Fraction && x.Sign == r.Sign && x.Value == r.Value && x.Unit == r.Unit &&
			x.Basis == r.Basis && x.Place == r.Place && x.Method == r.Method {
			return true
		}
	}
	return false
}

// readable reports results that cannot be read as amounts, and those of which
// something had to be assumed.
func (c *checker) readable() {
	for _, res := range c.report.Results {
		got, err := res.Amount()
		switch {
		case err != nil:
			verdict := Doubt
			if res.Sign == Below || !res.Analyte.Known() {
				verdict = Notice
			}
			c.add(Finding{ID: "unreadable", Verdict: verdict, Say: err.Error(), Analyte: res.Analyte, SetAside: []Result{res},
				Kind: source.Derived, From: "units and bases by definition", Place: res.Place})
		case got.Assumed != "":
			c.add(c.basisUnsaid(res, got))
		}
		if f, odd := c.unlikely(res, got, err); odd {
			c.add(f)
		}
	}
}

// basisUnsaid says what a figure would be on its other usual basis.
func (c *checker) basisUnsaid(res Result, got Amount) Finding {
	f := Finding{ID: "basis_unsaid", Verdict: Notice, Analyte: res.Analyte, Value: got.v, Unit: res.Analyte.Unit(),
		Kind: source.Derived, From: "atomic weights", Place: res.Place}
	f.Say = fmt.Sprintf("%s %s: %s", res.Analyte.Name(), got, got.Assumed)
	if others := basesOf[res.Analyte]; len(others) > 0 {
		e, _ := lookUp(res.Analyte)
		if v, _, err := e.onBasis(got.v, others[0]); err == nil {
			f.Say += fmt.Sprintf("; if it was as %s it is %s %s", others[0], unit.Digits(v), res.Analyte.Unit())
		}
	}
	f.Ask = "Ask the laboratory for the basis"
	return f
}

// unlikely catches a slip of the unit: more iron than any household well gives.
func (c *checker) unlikely(res Result, got Amount, err error) (Finding, bool) {
	if err != nil || !got.Numeric() {
		return Finding{}, false
	}
	most, ok := ceilings[res.Analyte]
	if !ok || got.v <= c.set.Of(most) {
		return Finding{}, false
	}
	return Finding{ID: "unit_slip", Verdict: Doubt, Analyte: res.Analyte, Value: got.v, Unit: res.Analyte.Unit(),
		Say: fmt.Sprintf("%s %s is more than a household well gives; most likely it was %s ug/L", res.Analyte.Name(), got, unit.Digits(got.v)),
		Ask: "Ask the laboratory for the unit", Kind: most.Kind, From: most.From, Place: res.Place}, true
}

// Worst returns the gravest verdict among the findings.
func Worst(fs []Finding) Verdict {
	v := OK
	for _, f := range fs {
		v = max(v, f.Verdict)
	}
	return v
}

// IDs are the checks that a report is put through, for lists and help.
func IDs() []string {
	ids := strings.Fields(`unreadable basis_unsaid unit_slip ferrous_over_total ferrous_over_dissolved
		ph_drift alkalinity_lost sulfide_lost turbidity_rust charge_balance alkalinity_missing softened_sample softened_sodium
		hardness_sum solids_sum solids_conductivity ions_conductivity conductivity_calculated carbonate_species iron_high_ph
		chlorine_in_raw bottle_acid filtered_late holding_time gas_lost`)
	for _, a := range Analytes() {
		if a.hasFraction() {
			ids = append(ids, dissolvedOverTotalID(a))
		}
	}
	return ids
}
