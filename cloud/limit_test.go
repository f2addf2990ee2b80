package cloud

import (
	"math"
	"strings"
	"testing"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/water"
)

func belowIron(f water.Fraction, v float64) water.Result {
	r := iron(f, v)
	r.Sign = water.Below
	return r
}

func noted(r water.Result, note string) water.Result {
	r.Note = note
	return r
}

func clueOf(c Cloud, words string) *Clue {
	for i, x := range c.Forms.Evidence {
		if strings.Contains(x.Sign, words) {
			return &c.Forms.Evidence[i]
		}
	}
	return nil
}

// Slugs are told by repeats of one kind at one tap, or by the word of who took
// them; never by two figures that differ for another reason.
func TestSlugsNeedRepeats(t *testing.T) {
	const trade = "common practice, no source: growth sheds in bursts, a bottle without acid loses iron"
	total := func(vs ...float64) (out []water.Result) {
		for _, v := range vs {
			out = append(out, iron(water.Total, v))
		}
		return out
	}
	atK := visit(total(9)...)
	atK.Tap = "K"
	for _, tt := range []struct {
		name    string
		reports []water.Report
		want    bool
	}{
		{"a total set aside is no slug", []water.Report{unacidified(lab(total(0.4)...)), visit(iron(water.Total, 2.9), iron(water.FerrousIron, 2.8))}, false},
		{"nor are laboratory and kit", []water.Report{lab(total(3)...), visit(total(9)...)}, false},
		{"nor two of a kind", []water.Report{visit(total(3, 9)...)}, false},
		{"nor a bottle without acid beside two with", []water.Report{unacidified(lab(total(0.4)...)), lab(total(2.8)...), lab(total(2.9)...)}, false},
		{"nor the kitchen's", []water.Report{visit(total(3, 3.1)...), atK}, false},
		{"three of a kind within twofold", []water.Report{visit(total(3, 4, 6)...)}, false},
		{"three of a kind beyond it", []water.Report{visit(total(3, 4, 6.1)...)}, true},
		{"two of a kind, one called a slug", []water.Report{visit(noted(iron(water.Total, 3), "steady"), noted(iron(water.Total, 9), "slug at pump start"))}, true},
		{"three of a kind, set aside whole", []water.Report{visit(iron(water.Total, 0.1), iron(water.Total, 0.3), iron(water.Total, 0.2), iron(water.FerrousIron, 2))}, false},
	} {
		c := weighed(t, Evidence{Reports: tt.reports})
		if got := clueOf(c, "in slugs"); (got != nil) != tt.want {
			t.Errorf("%s: clue %+v, want one: %v (%s)", tt.name, got, tt.want, trade)
		}
		if !tt.want && c.Forms.BacteriaProbability > 0.3+1e-9 {
			t.Errorf("%s: bacteria %.2f, want the 0.30 of the start (%s)", tt.name, c.Forms.BacteriaProbability, trade)
		}
	}
	two := weighed(t, Evidence{Reports: []water.Report{visit(total(3, 9)...)}}).Forms.Total
	if two.P95 < 8 {
		t.Errorf("totals of 3 and 9: up to %.2f, want what was read to lie within", two.P95)
	}
}

// A result below its limit is a measurement: nothing to the limit.
func TestBelowALimitIsMeasured(t *testing.T) {
	smelt := Evidence{Signs: seen(water.RottenEggBothConstant)}
	for _, tt := range []struct {
		name  string
		e     Evidence
		r     water.Result
		leaf  string
		limit float64
		most  float64 // of the middle
	}{
		{"sulfide, none found", Evidence{}, noted(below(water.Sulfide, 0.1), "none found"), "sulfide_mg_l_as_h2s", 0.1, 0.02},
		{"sulfide", Evidence{}, below(water.Sulfide, 0.1), "sulfide_mg_l_as_h2s", 0.1, 0.05},
		{"sulfide, smelt", smelt, below(water.Sulfide, 0.1), "sulfide_mg_l_as_h2s", 0.1, 0.05},
		{"ammonia, absent", Evidence{}, noted(below(water.Ammonia, 0.05), "absent"), "ammonia_mg_l_as_n", 0.05, 0.01},
		{"manganese", Evidence{}, mnBelow(0.01), "manganese_mg_l", 0.01, 0.005},
		{"arsenic", Evidence{}, below(water.Arsenic, 0.001), "arsenic_mg_l", 0.001, 0.0005},
		{"oxygen", Evidence{}, below(water.Oxygen, 0.5), "oxygen_mg_l", 0.5, 0.25},
		{"total iron", Evidence{}, belowIron(water.Total, 0.05), "iron_total_mg_l", 0.05, 0.025},
		{"ferrous iron", Evidence{}, belowIron(water.FerrousIron, 0.05), "iron_ferrous_mg_l", 0.05, 0.025},
	} {
		e := tt.e
		if tt.r.Analyte == water.Sulfide {
			tt.r.Basis = "H2S"
		}
		if tt.r.Analyte == water.Ammonia {
			tt.r.Basis = "N"
		}
		e.Reports = []water.Report{visit(tt.r)}
		c := weighed(t, e)
		got := rangeOf(t, c, tt.leaf)
		if got.Assumed || assumed(c, tt.leaf) {
			t.Errorf("%s is listed as assumed: %+v", tt.name, got)
		}
		if got.P50 <= 0 || got.P50 > tt.limit || got.P95 > 1.6*tt.limit {
			t.Errorf("%s below %g: %v, want most of it below the limit, error and season of the year allowed", tt.name, tt.limit, got.Range)
		}
	}
	// common practice, no source: sulfide is smelt from about 0.05 mg/L as H2S
	r := below(water.Sulfide, 0.2)
	r.Basis = "H2S"
	quiet := Evidence{Signs: missing(water.SlimeInTank), Reports: []water.Report{visit(r)}}
	smelt.Reports = quiet.Reports
	if q, s := rangeOf(t, weighed(t, quiet), "sulfide_mg_l_as_h2s"), rangeOf(t, weighed(t, smelt), "sulfide_mg_l_as_h2s"); q.P95 > 0.1 || s.P50 < 2*q.P50 {
		t.Errorf("below 0.2: %v where nobody smells it, %v where it is smelt; want no more than a nose overlooks, and more where it is smelt", q.Range, s.Range)
	}
	once := weighed(t, Evidence{Reports: []water.Report{lab(below(water.Arsenic, 0.002))}})
	twice := weighed(t, Evidence{Reports: []water.Report{lab(below(water.Arsenic, 0.002)), lab(below(water.Arsenic, 0.001))}})
	if a, b := rangeOf(t, once, "arsenic_mg_l"), rangeOf(t, twice, "arsenic_mg_l"); b.P95 >= a.P95 || b.P95 > 0.0014 {
		t.Errorf("below 0.002: %v, below 0.001 too: %v; want the lower limit to hold (both are true)", a.Range, b.Range)
	}
}

// What other faults the evidence may have does not narrow what was read.
func TestLimitsStandBesideOtherFaults(t *testing.T) {
	// a total of 0.052 by two methods is known to a third either way, whatever the kit's limit
	rs := []water.Report{visit(belowIron(water.FerrousIron, 0.05), iron(water.Total, 0.05)), lab(iron(water.Total, 0.052), iron(water.Dissolved, 0.041))}
	f := weighed(t, Evidence{Reports: rs}).Forms
	if f.Total.P05 > 0.052 || f.Total.P95 < 0.052 || f.Total.P95 > 0.15 || f.Ferrous.P95 > 0.07 {
		t.Errorf("total %v ferrous %v, want 0.052 in its range and the kit's limit held", f.Total, f.Ferrous)
	}
}

func mnBelow(v float64) water.Result {
	r := mn(water.Total, v)
	r.Sign = water.Below
	return r
}

// A non-detect is evidence only where its limit lies below the other figure.
func TestNonDetectsAgainstFigures(t *testing.T) {
	const rule = "definition of a limit"
	clean := mg(water.TOC, 0.9)
	for _, tt := range []struct {
		name     string
		reports  []water.Report
		conflict string // "": none at all
		against  bool   // the kit speaks against ferrous
	}{
		{"ferrous <0.05 beside 0.041 dissolved", []water.Report{visit(belowIron(water.FerrousIron, 0.05), iron(water.Total, 0.05)),
			lab(iron(water.Total, 0.052), iron(water.Dissolved, 0.041), clean)}, "", false},
		{"ferrous <0.05 beside 2 dissolved in clean water", []water.Report{visit(belowIron(water.FerrousIron, 0.05)),
			lab(iron(water.Total, 2.1), iron(water.Dissolved, 2), clean)}, "dissolved-not-ferrous", false},
		{"ferrous <2 beside 2 dissolved", []water.Report{visit(belowIron(water.FerrousIron, 2)), lab(iron(water.Total, 2.1), iron(water.Dissolved, 2), clean)}, "", false},
		{"ferrous 2 above a total <0.05", []water.Report{visit(iron(water.FerrousIron, 2)), lab(belowIron(water.Total, 0.05))}, "ferrous-above-total", false},
		{"ferrous 0.3 beside a total <0.5", []water.Report{visit(iron(water.FerrousIron, 0.3)), lab(belowIron(water.Total, 0.5))}, "", false},
		{"ferrous <5 beside a total of 1", []water.Report{visit(belowIron(water.FerrousIron, 5)), lab(iron(water.Total, 1))}, "", false},
		{"kit total <0.5 beside 0.3 by the laboratory", []water.Report{visit(belowIron(water.Total, 0.5)), lab(iron(water.Total, 0.3))}, "", false},
		{"kit total <0.05 beside 2 by the laboratory", []water.Report{visit(belowIron(water.Total, 0.05)), lab(iron(water.Total, 2))}, "total-field-below-lab", false},
		{"dissolved <1 beside a total of 2", []water.Report{lab(belowIron(water.Dissolved, 1), iron(water.Total, 2))}, "", false},
		{"sulfide <0.5 on site, <0.02 by the laboratory", []water.Report{visit(belowH2S(0.5)), lab(belowH2S(0.02))}, "", false},
		{"sulfide 2 on site, <0.02 by the laboratory", []water.Report{visit(h2s(2)), lab(belowH2S(0.02))}, "sulfide-lab-below-field", false},
	} {
		c := weighed(t, Evidence{Reports: tt.reports})
		if tt.conflict == "" && len(c.Conflicts) > 0 {
			t.Errorf("%s: conflict %q (%s)", tt.name, c.Conflicts[0].Say, rule)
		}
		if tt.conflict != "" && conflict(c, tt.conflict) == nil {
			t.Errorf("%s: no conflict %s among %v (%s)", tt.name, tt.conflict, c.Conflicts, rule)
		}
		against := false
		for _, x := range c.Forms.Evidence {
			against = against || x.Toward == "ferrous" && x.TimesLikelier < 0.3 || x.Toward != "ferrous" && x.TimesLikelier > 3 && strings.Contains(x.Sign, "ferrous")
		}
		if against != tt.against {
			t.Errorf("%s: speaks against ferrous is %v, want %v: %+v (%s)", tt.name, against, tt.against, c.Forms.Evidence, rule)
		}
	}
	c := weighed(t, Evidence{Reports: []water.Report{visit(belowIron(water.FerrousIron, 5)), lab(iron(water.Total, 1))}})
	if got := c.Forms.Total.P50; !within5(got, 1) {
		t.Errorf("total %g, want the 1 read: half of <5 is no reading (%s)", got, rule)
	}
	c = weighed(t, Evidence{Reports: []water.Report{visit(belowIron(water.Total, 0.5)), lab(iron(water.Total, 0.3))}})
	if got := c.Forms.Total.P50; !within5(got, 0.3) {
		t.Errorf("total %g, want the 0.3 read (%s)", got, rule)
	}
	little := weighed(t, Evidence{Reports: []water.Report{lab(below(water.TOC, 1), iron(water.Total, 2))}}).Forms.Bound
	much := weighed(t, Evidence{Reports: []water.Report{lab(mg(water.TOC, 8), iron(water.Total, 2))}}).Forms.Bound
	if little.P95 >= much.P95 {
		t.Errorf("bound iron up to %g with organic carbon below 1, %g with 8: want less with less (%s)", little.P95, much.P95, rule)
	}
}

func belowH2S(v float64) water.Result {
	r := h2s(v)
	r.Sign = water.Below
	return r
}

// The chances of one conflict add to one, not nearly so, under the user's own
// figures too.
func TestExplanationsAddToOne(t *testing.T) {
	odd := source.NewSet(map[string]source.Override{"cloud_loss_sulfide_lost": {Value: 1.0 / 3, Why: "own"}, "cloud_loss_gas": {Value: 0.1, Why: "own"},
		"cloud_fault_unacidified": {Value: 0.3, Why: "own"}, "cloud_loss_rust_inside": {Value: 1, Why: "own"}})
	for _, set := range []source.Set{{}, odd} {
		m := chem.New(set)
		for _, e := range []Evidence{wellA1(), wellA2(), wellC(), wellC1(), wellE(), wellF(), wellI()} {
			c, err := Weigh(e, set, m, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range c.Conflicts {
				sum, last := 0.0, 1.0
				for _, p := range x.Explanations {
					if sum += p.Probability; p.Probability < 0 || p.Probability > last+1e-12 {
						t.Errorf("%s: %s at %g is out of order", x.ID, p.ID, p.Probability)
					}
					last = p.Probability
				}
				if !near(sum, 1, 1e-12) {
					t.Errorf("%s: chances add to 1%+g", x.ID, sum-1)
				}
			}
		}
	}
	none := source.NewSet(map[string]source.Override{"cloud_loss_gas": {Value: 0, Why: "own"}, "cloud_loss_sulfide_lost": {Value: 0, Why: "own"}})
	c, err := Weigh(wellF(), none, chem.New(none), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range c.Conflicts {
		for _, p := range x.Explanations {
			if math.IsNaN(p.Probability) {
				t.Errorf("%s: %s has no number", x.ID, p.ID)
			}
		}
	}
}

// Not tested is not absent.
func TestUntestedColiformIsListed(t *testing.T) {
	for _, tt := range []struct {
		name      string
		e         Evidence
		all, coli bool
	}{
		{"nothing tested", wellI(), true, true},
		{"coliform found, E. coli not tested", Evidence{Reports: []water.Report{lab(water.Result{Analyte: water.TotalColiform, Value: 3, Unit: "per 100 mL"})}}, false, true},
		{"E. coli alone", Evidence{Reports: []water.Report{lab(water.Result{Analyte: water.EColi, Sign: water.Absent})}}, true, false},
		{"both absent", wellA(), false, false},
	} {
		c := weighed(t, tt.e)
		got := map[string]string{}
		for _, a := range c.Assumed {
			got[a.Name] = a.From
		}
		for name, want := range map[string]bool{"total_coliform_per_100ml": tt.all, "e_coli_per_100ml": tt.coli} {
			from, is := got[name]
			if is != want || is && !strings.Contains(from, "not tested") {
				t.Errorf("%s: %s assumed %v from %q, want %v", tt.name, name, is, from, want)
			}
		}
		if got["total_coliform_per_100ml"] != "" && !strings.Contains(got["total_coliform_per_100ml"], "coliform: not tested") {
			t.Errorf("%s: %q does not name coliform", tt.name, got["total_coliform_per_100ml"])
		}
	}
}

// A clue says what was found and which way it speaks, once and without its number.
func TestCluesSayThingsOnce(t *testing.T) {
	e := wellE()
	e.Signs = append(e.Signs, missing(water.RustyAtTap)...)
	for _, x := range append(weighed(t, e).Forms.Evidence, weighed(t, wellA()).Forms.Evidence...) {
		way := "speaks for "
		if x.TimesLikelier < 1 {
			way = "speaks against "
		}
		if strings.Count(x.Say, way) != 1 || !strings.HasPrefix(x.Say, x.Sign) || !strings.Contains(x.Say, x.Toward) {
			t.Errorf("%q: want the sign, %q and %q once each", x.Say, way, x.Toward)
		}
		rest := strings.TrimPrefix(x.Say, x.Sign)
		if strings.ContainsAny(rest, "0123456789") || strings.Contains(rest, "times") || strings.Contains(rest, "odds") {
			t.Errorf("%q repeats its number", x.Say)
		}
	}
}
