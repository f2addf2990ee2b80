package plan_test

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/water"
)

// The companion wells are bundled wells in which the iron has company: organic
// matter, arsenic, nitrate, radon, germs, a herd. The answer to each was worked by
// hand before the program was asked, and stands with its sources in the head of
// its book.
const byHead = "worked by hand in the head of the book"

// solved is a well with its answer.
type solved struct {
	desk   *plan.Desk
	answer plan.Answer
	err    error
}

// companionWells answer each well once, when first asked for.
var companionWells = func() map[string]func() solved {
	m := map[string]func() solved{}
	for _, name := range []string{"bog-bound-iron", "arsenic-with-iron", "nitrate-with-infant", "radon-granite", "dug-well-after-rain", "dairy-parlour"} {
		m[name] = sync.OnceValue(func() solved { return solve(name) })
	}
	return m
}()

// solve opens a bundled well on the day of its last entry and answers it.
func solve(name string) solved { return solveOn(name, time.Time{}) }

// solveOn opens it as it stood on a day; zero: that of its last entry.
func solveOn(name string, day time.Time) (s solved) {
	all, err := demo.Wells()
	if err != nil {
		return solved{err: err}
	}
	for _, w := range all {
		if w.Name != name {
			continue
		}
		b, _ := book.Read(name+".yaml", w.Text)
		if day.IsZero() {
			day = b.Entries[len(b.Entries)-1].On
		}
		if s.desk, s.err = plan.Open(b.Present(day), plan.Ask{Prices: plan.Prices()}); s.err == nil {
			s.answer, s.err = s.desk.Answer()
		}
	}
	return s
}

// companion is the well and its answer.
func companion(t *testing.T, name string) (*plan.Desk, plan.Answer) {
	t.Helper()
	s := companionWells[name]()
	if s.err != nil || s.desk == nil {
		t.Fatalf("%s is not answered: %v", name, s.err)
	}
	return s.desk, s.answer
}

// awaits skips a test of a process that no search tries yet.
func awaits(t *testing.T, p media.Process) {
	t.Helper()
	if !p.Built() {
		t.Skipf("no search tries the %s yet: it has no place in a train", p.Words())
	}
}

// Every well is answered, whatever can be done for it: an empty list of options is
// an answer too.
func TestCompanionsAreAnswered(t *testing.T) {
	for name := range companionWells {
		_, a := companion(t, name)
		if len(a.Options) == 0 && len(a.Rejected) == 0 {
			t.Errorf("%s: neither an option nor a reason why there is none", name)
		}
		for _, o := range a.Options {
			if len(o.Train) == 0 || len(o.Stages) != len(o.Train) {
				t.Errorf("%s: option %d has train %v and %d stages", name, o.Rank, o.Train, len(o.Stages))
			}
		}
	}
}

// Health is said first, and its rank is what it should be: 1 stop now, 2 act, 3
// watch.
func TestCompanionHealth(t *testing.T) {
	const none = ""
	for _, tt := range []struct {
		well, first string
		rank        int
		met         bool
		source      string
	}{
		{"bog-bound-iron", none, 0, true, "nothing above a value of health: iron, colour and tannin have none (40 CFR 143.3)"},
		{"arsenic-with-iron", "arsenic", 2, false, "0.038 above 0.010 mg/L (40 CFR 141.62)"},
		{"nitrate-with-infant", "nitrate", 1, false, "14 above 10 mg/L as N with an infant (40 CFR 141.62; 141.11(d) singles infants out)"},
		{"radon-granite", "radon", 3, false, "above the levels proposed in 1999, which are not in force (64 FR 59246): watch, and test the air"},
		{"dug-well-after-rain", "e_coli", 1, false, "none allowed (40 CFR 141.63)"},
		{"dairy-parlour", "manganese", 2, false, "0.4 above the lifetime advisory of 0.3 mg/L (US EPA 2004)"},
	} {
		_, a := companion(t, tt.well)
		if tt.first == none {
			for _, x := range a.Alerts {
				if x.Rank < 3 {
					t.Errorf("%s: alert %+v, want none (%s)", tt.well, x, tt.source)
				}
			}
			continue
		}
		if len(a.Alerts) == 0 || a.Alerts[0].Analyte != tt.first || a.Alerts[0].Rank != tt.rank || a.Alerts[0].Met != tt.met {
			t.Errorf("%s: alerts %+v, want %s first with rank %d (%s)", tt.well, a.Alerts, tt.first, tt.rank, tt.source)
		}
		if !slices.IsSortedFunc(a.Alerts, func(x, y plan.Alert) int { return x.Rank - y.Rank }) {
			t.Errorf("%s: the gravest alert does not stand first: %+v", tt.well, a.Alerts)
		}
	}
}

// What is to be done before any filter, and what must not be said.
func TestCompanionActions(t *testing.T) {
	for _, tt := range []struct {
		well, action string
		says, never  []string
		source       string
	}{
		{"arsenic-with-iron", "other-water-for-drinking", []string{"laboratory"}, nil, "boiling does not take arsenic out (common practice of health departments)"},
		{"nitrate-with-infant", "other-water-for-drinking", []string{"infants first", "Do not boil"}, nil, "boiling concentrates nitrate (health departments, from memory)"},
		{"nitrate-with-infant", "boil-or-other-water", []string{"Do not boil"}, []string{"Boil drinking water"}, "coliform beside nitrate: boiling is no way out"},
		{"nitrate-with-infant", "repair-cap", nil, nil, "the cap lets ants in (common practice)"},
		{"nitrate-with-infant", "shock-disinfection", []string{"repaired"}, nil, "coliform found: repair, then shock (common practice)"},
		{"dug-well-after-rain", "other-water-for-drinking", nil, []string{"Do not boil"}, "nitrate was tested and is 3.8 mg/L: boiling is open"},
		{"dug-well-after-rain", "rebuild-or-replace", []string{"licensed", "new drilled well", "heavy rain", "Cryptosporidium"}, nil, "the well is the matter; chlorine does not hold Cryptosporidium (15,300 mg min/L: Sci. Total Environ. 720:137451)"},
		{"dug-well-after-rain", "repair-cap", []string{"licensed"}, nil, "planks under a slab (common practice)"},
		{"dairy-parlour", "other-water-for-drinking", nil, nil, "manganese above the advisory (US EPA 2004)"},
	} {
		_, a := companion(t, tt.well)
		i := slices.IndexFunc(a.Actions, func(x plan.Action) bool { return x.ID == tt.action })
		if i < 0 {
			t.Errorf("%s: no action %s (%s)", tt.well, tt.action, tt.source)
			continue
		}
		for _, w := range tt.says {
			if !strings.Contains(a.Actions[i].Say, w) {
				t.Errorf("%s: %s does not say %q: %s (%s)", tt.well, tt.action, w, a.Actions[i].Say, tt.source)
			}
		}
		for _, w := range tt.never {
			if strings.Contains(a.Actions[i].Say, w) {
				t.Errorf("%s: %s says %q: %s (%s)", tt.well, tt.action, w, a.Actions[i].Say, tt.source)
			}
		}
	}
	for _, name := range []string{"bog-bound-iron", "radon-granite"} {
		if _, a := companion(t, name); hasAction(a, "other-water-for-drinking") {
			t.Errorf("%s: other water is asked for, where nothing that is drunk is above a limit in force (%s)", name, byHead)
		}
	}
}

// The forms of iron are those of the readings: what passes 0.45 µm is in the
// report, what of it is ferrous was read on site.
func TestCompanionForms(t *testing.T) {
	for _, tt := range []struct {
		well                                string
		ferrous, particulate, bound, within float64
	}{
		{"bog-bound-iron", 0.3, 0.3, 1.9, 0.25},
		{"arsenic-with-iron", 2.35, 0.05, 0, 0.25},
		{"nitrate-with-infant", 0.04, 0.11, 0, 0.05},
		{"radon-granite", 2.9, 0.1, 0, 0.3},
		{"dug-well-after-rain", 0.05, 4.35, 0.05, 0.45},
		{"dairy-parlour", 4.9, 0.1, 0, 0.5},
	} {
		_, a := companion(t, tt.well)
		f := a.Forms
		for _, x := range []struct {
			form      string
			got, want float64
		}{{"ferrous", f.Ferrous.P50, tt.ferrous}, {"particulate", f.Particulate.P50, tt.particulate}, {"bound", f.Bound.P50, tt.bound}} {
			if math.Abs(x.got-x.want) > tt.within {
				t.Errorf("%s: %s iron %.2f, want %g ± %g mg/L (the readings of the book)", tt.well, x.form, x.got, x.want, tt.within)
			}
		}
		if b := float64(f.Bacteria); b > 0.3 {
			t.Errorf("%s: iron bacteria %.2f, with no slime, film or smell found (starting chance 0.30, common practice)", tt.well, b)
		}
	}
}

// Trains that the worked answers turn down, each by a limit that says the reason.
func TestCompanionRejections(t *testing.T) {
	for _, tt := range []struct {
		well, train string
		limits      []string
		reason      string
	}{
		{"bog-bound-iron", "air-injection-filter", []string{"ph-low", "organic-carbon", "iron_at_kitchen"}, "the jar with air keeps its colour; pH 6.6"},
		{"bog-bound-iron", "pressure-aeration,coated-sand-filter", []string{"ph-low", "organic-carbon", "iron_at_kitchen"}, "air does nothing for bound iron"},
		{"bog-bound-iron", "vented-aeration,sediment-filter", []string{"organic-carbon", "iron_at_kitchen"}, "air does nothing for bound iron"},
		{"bog-bound-iron", "softener", []string{"bound", "iron_at_kitchen"}, "resin for cations lets bound iron by"},
		{"bog-bound-iron", "cartridge-filter", []string{"iron_at_kitchen"}, "88 % passes 0.45 µm"},
		{"bog-bound-iron", "sediment-filter", []string{"iron_at_kitchen"}, "88 % passes 0.45 µm"},
		{"bog-bound-iron", "coated-sand-filter", []string{"organic-carbon", "oxidant", "iron_at_kitchen"}, "organic carbon 7 against 3"},
		{"bog-bound-iron", "polyphosphate-feed", []string{"iron-manganese", "iron_at_kitchen"}, "it hides ferrous iron only"},
		{"bog-bound-iron", "ultraviolet", []string{"iron", "transmittance"}, "iron and colour shade the lamp"},
		{"bog-bound-iron", "tannin-exchanger", []string{"iron", "hardness", "softener_ahead", "tannin_needs_softener"}, "calcium tannate fouls it: a softener stands ahead"},
		{"arsenic-with-iron", "arsenic-adsorber", []string{"iron", "arsenic_oxidised", "arsenic_needs_oxidant"}, "iron 2.4 against 0.5, and arsenic (III)"},
		{"arsenic-with-iron", "softener,arsenic-adsorber", []string{"arsenic_oxidised", "arsenic_needs_oxidant"}, "arsenic (III) must be turned first"},
		{"arsenic-with-iron", "polyphosphate-feed", []string{"iron-manganese", "iron_at_kitchen"}, "2.6 against 1.0 (Wisconsin NR 811.56)"},
		{"radon-granite", "chlorine-feed,coated-sand-filter,carbon-filter", []string{"radon_on_carbon"}, "above 5,000 pCi/L the bed is a source of rays"},
		{"radon-granite", "radon-aeration", []string{"iron", "radon_iron_ahead"}, "iron 3 plates out: 1 at most"},
		{"radon-granite", "lightweight-media-filter", []string{"oxygen", "ph-low"}, "oxygen 0.3 against 15 % of 3.0"},
		{"radon-granite", "pressure-aeration,coated-sand-filter", []string{"ph-low", "ph_at_kitchen"}, "at pH 6.8 half of the iron takes two hours"},
		{"radon-granite", "calcite-bed", []string{"iron", "iron_at_kitchen", "rust_on_dissolving_bed"}, "iron 3 coats it"},
		{"dug-well-after-rain", "ultraviolet", []string{"iron", "turbidity"}, "30 NTU and 4.5 mg/L in the light's way"},
		{"dug-well-after-rain", "cartridge-filter,ultraviolet", []string{"iron", "turbidity"}, "a 5 µm cartridge does not mend it"},
		{"dug-well-after-rain", "softener", []string{"ferric", "particulate_iron"}, "rust fouls the resin: 4.5 against 0.3"},
		{"dug-well-after-rain", "polyphosphate-feed", []string{"iron-manganese", "particulate"}, "rust is past hiding"},
		{"dug-well-after-rain", "calcite-bed", []string{"rust_on_dissolving_bed", "iron"}, "rust coats a bed that dissolves"},
		{"dug-well-after-rain", "sediment-filter", []string{"e_coli_at_kitchen"}, "no filter for rust makes it safe"},
		{"dairy-parlour", "coated-sand-filter", []string{"oxidant"}, "no oxygen in the water"},
		{"dairy-parlour", "polyphosphate-feed", []string{"iron-manganese"}, "5.4 against 1 (Wisconsin NR 811.56)"},
	} {
		_, e := behind(t, tt.well, tt.train)
		if !e.Fails || !slices.Contains(tt.limits, e.First.ID) {
			t.Errorf("%s: %s: fails %t, first limit %s; want it turned down by one of %v: %s (%s)", tt.well, tt.train, e.Fails, e.First.ID, tt.limits, tt.reason, byHead)
		}
	}
}

// One filter that no common size of serves eighteen gallons a minute is turned
// down with words, not by falling over.
func TestNoSizeServesTheParlour(t *testing.T) {
	d, _ := companion(t, "dairy-parlour")
	if w, err := d.Why(parse(t, "air-injection-filter")); err == nil && w.Meets {
		t.Errorf("a single-tank air-injection filter is passed for 18 gpm, 5 mg/L of iron and 0.4 of manganese at pH 7.3 (%s)", byHead)
	}
}

// behind is the water behind the last stage of a train, in the likeliest water.
func behind(t *testing.T, name, stages string) (water.State, train.Evaluation) {
	t.Helper()
	d, _ := companion(t, name)
	e, err := d.Work.Evaluate(parse(t, stages))
	if err != nil {
		t.Fatalf("%s: %s: %v", name, stages, err)
	}
	return e.Links[len(e.Links)-1].Outcomes[e.Lead].Out, e
}

// What the companions come to behind the trains of the worked answers.
func TestCompanionsBehindTrains(t *testing.T) {
	arsenic := func(w water.State) float64 { return w.Arsenic.MgPerL() }
	nitrate := func(w water.State) float64 { return w.Nitrate.MgPerLAsN() }
	radon := func(w water.State) float64 { return w.Radon.PCiPerL() }
	for _, tt := range []struct {
		well, train string
		of          func(water.State) float64
		low, high   float64
		source      string
	}{
		{"arsenic-with-iron", "chlorine-feed,coated-sand-filter,softener", arsenic, 0.0019, 0.0076, "80 to 95 % less where Fe : As is above 20 and the floc is held (from memory; the rule of 20: US EPA 2001)"},
		{"arsenic-with-iron", "softener", arsenic, 0.030, 0.045, "arsenic (III) has no charge: a cation resin lets it by"},
		{"arsenic-with-iron", "softener,reverse-osmosis", arsenic, 0.010, 0.023, "a membrane holds 40 to 70 % of arsenic (III) (from memory): above the limit of 0.010"},
		{"arsenic-with-iron", "air-injection-filter,softener", arsenic, 0.010, 0.038, "air turns arsenic (III) in days to weeks (Ghurye and Clifford, EPA/600/R-01/021, from memory)"},
		{"nitrate-with-infant", "softener", nitrate, 13, 15, "a cation resin takes no nitrate"},
		{"nitrate-with-infant", "carbon-filter", nitrate, 13, 15, "carbon takes no nitrate"},
		{"nitrate-with-infant", "softener,ultraviolet", nitrate, 13, 15, "light takes no nitrate"},
		{"nitrate-with-infant", "softener,reverse-osmosis", nitrate, 1.4, 4.2, "a membrane holds 70 to 90 % of nitrate (from memory)"},
		{"nitrate-with-infant", "softener,nitrate-exchanger", nitrate, 0, 5, "well below 10 between charges"},
		{"radon-granite", "chlorine-feed,coated-sand-filter", radon, 13000, 15000, "a filter holds no gas"},
		{"radon-granite", "chlorine-feed,coated-sand-filter,radon-aeration", radon, 0, 700, "95 to 99 % and more less (from memory)"},
	} {
		w, _ := behind(t, tt.well, tt.train)
		if got := tt.of(w); got < tt.low || got > tt.high {
			t.Errorf("%s: %s leaves %.4g, want %g to %g (%s)", tt.well, tt.train, got, tt.low, tt.high, tt.source)
		}
	}
}

// Letting the carbon dioxide out down to 5 mg/L lifts pH to pK1 + lg(0.88 Alk/5),
// 7.3 with 41.6 mg/L of alkalinity left: carbonate equilibrium.
func TestRadonBoxLiftsPH(t *testing.T) {
	w, _ := behind(t, "radon-granite", "chlorine-feed,coated-sand-filter,radon-aeration")
	want := 6.47 + math.Log10(0.88*w.Alkalinity.MgPerLAsCaCO3()/5)
	if got := w.PH.Value(); math.Abs(got-want) > 0.4 {
		t.Errorf("pH %.2f behind the radon box, want %.1f ± 0.4: between 2 and 12 mg/L of carbon dioxide left", got, want)
	}
}

// Sizes and settings of the worked answers.
func TestCompanionSizes(t *testing.T) {
	for _, tt := range []struct {
		well, train, process, leaf string
		want, share                float64
		working                    string
	}{
		{"arsenic-with-iron", "chlorine-feed,coated-sand-filter,softener", "chlorine-feed", stage.DoseMgL, 3.3, 0.10, "2.4 x 0.635 + 0.2 x 1.29 + 0.038 x 0.95 + 0.1 x 7.6 + 0.7"},
		{"arsenic-with-iron", "chlorine-feed,coated-sand-filter,softener", "coated-sand-filter", stage.BackwashGPM, 9.4, 0.02, "0.785 ft2 x 12"},
		{"arsenic-with-iron", "chlorine-feed,coated-sand-filter,softener", "coated-sand-filter", stage.IronLoadGrainsFt2, 43, 0.10, "225 x 3.785 x 2.6 mg/L on 0.785 ft2"},
		{"arsenic-with-iron", "chlorine-feed,coated-sand-filter,softener", "softener", stage.HardnessGPG, 13.5, 0.05, "nothing added behind the filter"},
		{"radon-granite", "chlorine-feed,coated-sand-filter,radon-aeration", "chlorine-feed", stage.DoseMgL, 2.7, 0.10, "3.0 x 0.635 + 0.04 x 1.29 + 0.7"},
		{"dairy-parlour", "chlorine-feed,contact-tank,coated-sand-filter", "chlorine-feed", stage.DoseMgL, 5.9, 0.10, "5 x 0.635 + 0.4 x 1.29 + 0.2 x 7.6 + 0.7"},
		{"dairy-parlour", "chlorine-feed,contact-tank,coated-sand-filter", "contact-tank", stage.ContactMin, 6.2, 0.02, "160 gal x 0.7 / 18 gpm"},
		{"bog-bound-iron", "softener,tannin-exchanger", "tannin-exchanger", stage.DaysBetween, 2.5, 0.21, "each 2 or 3 days (common practice)"},
		{"nitrate-with-infant", "softener,nitrate-exchanger", "nitrate-exchanger", stage.SaltLb, 15, 0.01, "10 lb/ft3 on 1.5 ft3"},
	} {
		d, _ := companion(t, tt.well)
		w, err := d.Why(parse(t, tt.train))
		if err != nil {
			t.Fatal(err)
		}
		got := leafOf(t, plan.Answer{Options: []plan.Option{w.Option}}, tt.process, tt.leaf)
		if math.Abs(got-tt.want) > tt.share*tt.want {
			t.Errorf("%s: %s %s = %.4g, want %g ± %g %%: %s (%s)", tt.well, tt.process, tt.leaf, got, tt.want, 100*tt.share, tt.working, byHead)
		}
	}
}

// Two or three coated beds in turn are washed by 22 gpm: no tank above 1.67 ft2.
func TestParlourBedsCanBeWashed(t *testing.T) {
	d, _ := companion(t, "dairy-parlour")
	w, err := d.Why(parse(t, "chlorine-feed,contact-tank,coated-sand-filter"))
	if err != nil {
		t.Fatal(err)
	}
	bed := w.Option.Stages[2]
	if bed.Count < 2 || bed.Backwash.Need*1.1 > 22 {
		t.Errorf("%d beds asking %.1f gpm each, want two at least and 20 gpm at most: 22 / 1.1 (%s)", bed.Count, bed.Backwash.Need, byHead)
	}
	if l := w.Option.FirstLimit; w.Meets || l.Limit != "hardness_at_kitchen" {
		t.Errorf("meets %t, first limit %s; all but the hardness of 22 gpg should be met (%s)", w.Meets, l.Limit, byHead)
	}
}

// Sulfate 1.25 against nitrate 1.00 meq/L is above a half: the resin must be one
// that prefers nitrate. Its run lies between all sites for nitrate alone and the
// same shared with sulfate: 0.45 eq/L is 12.7 eq/ft3, 3,364 and 1,495 gal/ft3; a
// fifth less on 1.5 ft3 is 4,037 and 1,794 gal.
// Source: capacity and rule from memory; the rest is arithmetic.
func TestNitrateResinIsSelective(t *testing.T) {
	w, e := behind(t, "nitrate-with-infant", "softener,nitrate-exchanger")
	bed := e.Links[1]
	if bed.Size.Mode != stage.SelectiveAnion {
		t.Errorf("%s taken, want %s", bed.Size.Mode, stage.SelectiveAnion)
	}
	run := bed.Outcomes[e.Lead].Settings[stage.DaysBetweenMetered] * 240
	if run < 1794 || run > 4037 {
		t.Errorf("the resin runs %.0f gal, want 1,794 to 4,037", run)
	}
	if w.PH.Value() > 6.9 {
		t.Errorf("pH %.2f behind the resin, above the 6.9 of the raw water: it takes bicarbonate too (from memory)", w.PH.Value())
	}
}

// First choices that today's search can reach.
func TestCompanionFirstChoices(t *testing.T) {
	t.Run("nitrate-with-infant", func(t *testing.T) {
		_, a := companion(t, "nitrate-with-infant")
		if len(a.Options) == 0 || core(a.Options[0].Train) != string(media.Softener) || !slices.Contains(a.Options[0].Addons, string(media.ReverseOsmosis)) {
			t.Fatalf("options %v, want a softener and reverse osmosis at the kitchen first (%s)", trains(a), byHead)
		}
		for _, o := range a.Options {
			if !slices.Contains(o.Addons, string(media.ReverseOsmosis)) && !slices.Contains(o.Train, string(media.NitrateExchanger)) {
				t.Errorf("option %d, %v, leaves the nitrate (%s)", o.Rank, o.Train, byHead)
			}
		}
	})
	t.Run("bog-bound-iron", func(t *testing.T) {
		_, a := companion(t, "bog-bound-iron")
		if len(a.Options) == 0 || !strings.HasPrefix(strings.Join(a.Options[0].Train, ","), "coagulant-feed,contact-tank,sediment-filter,softener") {
			t.Fatalf("options %v, want alum, retention, filter and softener first, by its jars (%s)", trains(a), byHead)
		}
		if p := a.Options[0].MeetsProbability; p == nil || *p < 0.3 || *p > 0.8 {
			t.Errorf("the only train is said to meet its limits with a chance of %v, want about even odds (%s)", p, byHead)
		}
		for _, o := range a.Options {
			if !slices.Contains(o.Train, string(media.CoagulantFeed)) {
				t.Errorf("option %d, %v, is offered for iron that neither air nor filter takes (%s)", o.Rank, o.Train, byHead)
			}
		}
	})
	t.Run("bog-bound-iron before its jars of alum", func(t *testing.T) {
		s := solveOn("bog-bound-iron", time.Date(2025, 6, 10, 0, 0, 0, 0, time.UTC))
		if s.err != nil {
			t.Fatal(s.err)
		}
		if len(s.answer.Options) > 0 {
			t.Errorf("options %v before any jar (%s)", trains(s.answer), byHead)
		}
		if !slices.ContainsFunc(s.answer.Actions, func(a plan.Action) bool { return a.ID == "coagulant-jar" }) {
			t.Errorf("no jar of alum is asked for (%s)", byHead)
		}
		if !slices.ContainsFunc(s.answer.Rejected, func(r plan.Rejected) bool { return r.FirstLimit.Limit == "jar_dose" }) {
			t.Error("the coagulant feed is not turned down for want of its jar")
		}
	})
	t.Run("arsenic-with-iron", func(t *testing.T) {
		_, a := companion(t, "arsenic-with-iron")
		for _, o := range a.Options {
			if !slices.Contains(o.Train, string(media.ChlorineFeed)) && !slices.Contains(o.Train, string(media.PermanganateFeed)) {
				t.Errorf("option %d, %v, leaves arsenic (III) as it is (%s)", o.Rank, o.Train, byHead)
			}
		}
	})
	t.Run("dug-well-after-rain", func(t *testing.T) {
		_, a := companion(t, "dug-well-after-rain")
		for _, o := range a.Options {
			if !slices.Contains(o.Train, string(media.ChlorineFeed)) && !slices.Contains(o.Train, string(media.Ultraviolet)) {
				t.Errorf("option %d, %v, lets E. coli through (%s)", o.Rank, o.Train, byHead)
			}
		}
		if len(a.Options) > 0 && slices.Contains(a.Options[0].Train, string(media.Ultraviolet)) {
			t.Errorf("ultraviolet comes first on 30 NTU (%s)", byHead)
		}
	})
}

// trains lists what is offered.
func trains(a plan.Answer) []string {
	var ts []string
	for _, o := range a.Options {
		ts = append(ts, strings.Join(o.Train, ","))
	}
	return ts
}

// kept checks that what is offered, with the kitchen tap offered beside it, leaves
// no more of something than its limit of health.
func kept(t *testing.T, name string, of func(water.State) float64, most float64, source string) {
	t.Helper()
	_, a := companion(t, name)
	for _, o := range a.Options {
		stages := slices.Clone(o.Train)
		if slices.Contains(o.Addons, string(media.ReverseOsmosis)) {
			stages = append(stages, string(media.ReverseOsmosis))
		}
		if w, _ := behind(t, name, strings.Join(stages, ",")); of(w) > most {
			t.Errorf("%s: option %d, %v with %v, leaves %.4g for the kitchen, want %g at most (%s)", name, o.Rank, o.Train, o.Addons, of(w), most, source)
		}
	}
}

func TestNitrateOptionsKeepTheLimit(t *testing.T) {
	kept(t, "nitrate-with-infant", func(w water.State) float64 { return w.Nitrate.MgPerLAsN() }, 10, "40 CFR 141.62")
}

func TestArsenicOptionsKeepTheLimit(t *testing.T) {
	awaits(t, media.ArsenicAdsorber)
	kept(t, "arsenic-with-iron", func(w water.State) float64 { return w.Arsenic.MgPerL() }, 0.010, "40 CFR 141.62")
}

// First choices that need a process which the search may not try yet.
func TestCompanionFirstChoicesToCome(t *testing.T) {
	t.Run("bog-bound-iron", func(t *testing.T) {
		awaits(t, media.TanninExchanger)
		_, a := companion(t, "bog-bound-iron")
		for _, o := range a.Options {
			resin, softener := slices.Index(o.Train, string(media.TanninExchanger)), slices.Index(o.Train, string(media.Softener))
			if resin < 0 {
				continue
			}
			if softener < 0 || softener > resin {
				t.Errorf("%v: the softener stands ahead of the tannin resin (%s)", o.Train, byHead)
			}
			if !strings.Contains(strings.Join(o.Stages[resin].Cautions, " "), "Try it first") {
				t.Errorf("%v: no word of trying the resin on this water first (%s)", o.Train, byHead)
			}
		}
	})
	t.Run("arsenic-with-iron", func(t *testing.T) {
		awaits(t, media.ArsenicAdsorber)
		_, a := companion(t, "arsenic-with-iron")
		if len(a.Options) == 0 {
			t.Fatal("no option")
		}
		first := a.Options[0].Train
		oxidant := slices.ContainsFunc(first, func(p string) bool {
			return p == string(media.ChlorineFeed) || p == string(media.PermanganateFeed) || p == string(media.OzoneFeed)
		})
		if !oxidant {
			t.Errorf("first choice %v turns no arsenic (III): air, resin and a membrane behind them leave more than 0.010 mg/L (%s)", first, byHead)
		}
	})
	t.Run("radon-granite", func(t *testing.T) {
		awaits(t, media.RadonAeration)
		_, a := companion(t, "radon-granite")
		if len(a.Options) == 0 {
			t.Fatal("no option")
		}
		first := a.Options[0].Train
		box := slices.Index(first, string(media.RadonAeration))
		bed := slices.IndexFunc(first, func(p string) bool { return strings.HasSuffix(p, "-filter") && p != string(media.CartridgeFilter) })
		if box < 0 || bed < 0 || bed > box {
			t.Errorf("first choice %v, want the iron filtered and then the radon blown out (%s)", first, byHead)
		}
	})
	t.Run("nitrate-with-infant", func(t *testing.T) {
		awaits(t, media.NitrateExchanger)
		_, a := companion(t, "nitrate-with-infant")
		for _, o := range a.Options {
			resin, softener := slices.Index(o.Train, string(media.NitrateExchanger)), slices.Index(o.Train, string(media.Softener))
			if resin >= 0 && softener > resin {
				t.Errorf("%v: the softener stands ahead of the nitrate resin in the usual order (common practice)", o.Train)
			}
		}
	})
	t.Run("dairy-parlour", func(t *testing.T) {
		_, a := companion(t, "dairy-parlour")
		if len(a.Options) == 0 {
			t.Fatal("no option")
		}
		want := "chlorine-feed,contact-tank,coated-sand-filter,softener"
		if got := core(a.Options[0].Train, string(media.CarbonFilter)); got != want {
			t.Errorf("first choice %s, want %s (%s)", got, want, byHead)
		}
	})
}
