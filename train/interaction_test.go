package train

import (
	"fmt"
	"strings"
	"testing"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// house is a well with one water, for one train at a time.
type house struct {
	water water.State
	site  stage.Site
	pump  float64 // gpm at 45 psi
	yield float64 // gpm
}

// usual is an invented well with 4 mg/L of ferrous iron in hard, clear, neutral
// water, and a pump that washes every usual bed.
func usual() house {
	set := source.NewSet(nil)
	return house{pump: 15, yield: 15, site: stage.Site{Model: chem.New(set), Factors: set}, water: water.State{
		Temperature: unit.Celsius(10), PH: unit.PHOf(7.4), Alkalinity: unit.AlkalinityAsCaCO3(200),
		Ferrous: unit.MgPerL(4), Manganese: unit.MgPerL(0.2), Oxygen: unit.MgPerL(0.1),
		Calcium: unit.MgPerL(60), Magnesium: unit.MgPerL(15), Sodium: unit.MgPerL(12), Potassium: unit.MgPerL(2),
		Chloride: unit.MgPerL(15), Sulfate: unit.MgPerL(20), Silica: unit.MgPerL(15), OrganicCarbon: unit.MgPerL(1),
	}}
}

// clear is the same without iron or manganese.
func clear() house {
	h := usual()
	h.water.Ferrous, h.water.Manganese = unit.Concentration{}, unit.Concentration{}
	return h
}

func (h house) with(change func(*house)) house {
	change(&h)
	return h
}

func (h house) work(t testing.TB) *Work {
	t.Helper()
	points := []hydraulic.PumpPoint{{Flow: unit.GPM(h.pump), Pressure: unit.PSI(45)}}
	pump, err := hydraulic.PumpFromMeasurements(points)
	if err != nil {
		t.Fatal(err)
	}
	supply := cloud.Supply{
		Hydraulic: hydraulic.Supply{
			Pump: pump, CutIn: unit.PSI(40), CutOut: unit.PSI(60), Yield: unit.GPM(h.yield), CasingStorage: unit.Gal(60),
			Tank: hydraulic.PressureTank{Total: unit.Gal(44), Precharge: unit.PSI(38)},
		},
		Daily: unit.GalPerDay(250), Peak: unit.GPM(7), MeasuredAtTank: points, AmmoniaRatio: 7.6,
	}
	d := cloud.Draw{Name: cloud.Middle, Weight: 1, Water: h.water, Supply: supply, Law: chem.MiddleLaw}
	return NewWork(&h.site, []cloud.Draw{d}, asked())
}

// asked are the usual targets, with limits of health on nitrate and arsenic as in a
// well where they were measured above them.
func asked() Targets {
	return Targets{
		Iron: unit.MgPerL(0.3), Manganese: unit.MgPerL(0.05), ManganeseHealth: unit.MgPerL(0.3), Sulfide: unit.MgPerLAsH2S(0.05),
		PHLow: unit.PHOf(6.5), PHHigh: unit.PHOf(8.5), Hardness: unit.GPG(7), Chlorine: unit.MgPerLAsCl2(4), Sodium: unit.MgPerL(20),
		Nitrate: unit.MgPerLAsN(10), Arsenic: unit.MgPerL(0.010), Radon: unit.PCiPerL(4000),
	}
}

// carry evaluates a train on the well.
func (h house) carry(t testing.TB, tr Train) Evaluation {
	t.Helper()
	e, err := h.work(t).Evaluate(tr)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// finding is where a rule speaks.
type finding int

const (
	order   finding = iota // an order rule forbids the train
	refusal                // a hard limit is broken
	warning                // a limit is broken, hard or soft
	spoken                 // a caution of a stage says it
)

// says reports whether the train is told off in that way.
func (e Evaluation) says(f finding, id string) bool {
	switch f {
	case order:
		return e.Rule != nil && e.Rule.ID == id
	case spoken:
		for _, l := range e.Links {
			if strings.Contains(strings.Join(l.Outcomes[0].Cautions, " "), id) {
				return true
			}
		}
		return false
	}
	for _, l := range e.Limits[0] {
		if l.ID == id && l.Fails() && (f == warning || l.Hard()) {
			return true
		}
	}
	return false
}

func mg(v float64) unit.Concentration { return unit.MgPerL(v) }

// The interaction rules of the reference on treatment, one row or more for each:
// what breaks it is told off by the finding named, and what stands beside it and
// keeps it is not. The rules and their kinds are those of the reference: published,
// common practice or from memory as each finding says of itself.
func TestInteractionRules(t *testing.T) {
	chlorinated := func(h *house) { h.water.FreeChlorine = unit.MgPerLAsCl2(1.5) }
	smelly := func(h *house) { h.water.Sulfide = unit.MgPerLAsH2S(0.6) }
	arsenite := func(h *house) { h.water.Arsenic, h.water.ArsenicV = mg(0.040), mg(0.002) }
	feed, tank, sand, soft, carbon := media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener, media.CarbonFilter
	told := map[string]bool{}
	for _, n := range []string{"I14", "I24", "I26", "I27", "I28"} {
		told[n] = true // in tests of their own; I26 and I27 in that of the plan's cautions
	}
	for _, tt := range []struct {
		rule   string
		breaks house
		train  Train
		kind   finding
		id     string
		keeps  house
		kept   Train
	}{
		{"I1 free chlorine off the resin", clear().with(chlorinated), Train{soft}, refusal, "free-chlorine", clear().with(chlorinated), Train{carbon, soft}},
		{"I2 chlorine strips lightweight media", usual().with(chlorinated), Train{media.LightweightFilter}, refusal, "free-chlorine", usual(), Train{media.LightweightFilter}},
		{"I2 at shock it is bypassed", usual(), Train{media.LightweightFilter}, spoken, "bypass it", usual(), Train{sand}},
		{"I3 sulfide on lightweight media", usual().with(smelly), Train{media.LightweightFilter}, refusal, "sulfide", usual(), Train{media.LightweightFilter}},
		{"I3 sulfide on resin", clear().with(smelly), Train{soft}, refusal, "sulfide", clear(), Train{soft}},
		{"I3 sulfide on anion resin", clear().with(smelly), Train{media.NitrateExchanger}, refusal, "sulfide", clear(), Train{media.NitrateExchanger}},
		{"I3 sulfide at a membrane", clear().with(smelly), Train{media.ReverseOsmosis}, refusal, "sulfide", clear(), Train{media.ReverseOsmosis}},
		{"I3 sulfide at ultraviolet", clear().with(smelly), Train{media.Ultraviolet}, refusal, "sulfide", clear(), Train{media.Ultraviolet}},
		{"I4 sulfide on charged greensand", usual().with(func(h *house) { h.water.Sulfide = unit.MgPerLAsH2S(2.5) }), Train{media.GreensandFilter}, warning, "sulfide_on_charges", usual(), Train{media.GreensandFilter}},
		{"I4 much sulfide on charged greensand", usual().with(func(h *house) { h.water.Sulfide = unit.MgPerLAsH2S(6) }), Train{media.GreensandFilter}, refusal, "sulfide_on_charges", usual(), Train{media.GreensandFilter}},
		{"I5 polyphosphate ahead of removal", usual(), Train{media.PolyphosphateFeed, feed, sand}, order, "polyphosphate_hides", usual(), Train{media.PolyphosphateFeed}},
		{"I5 polyphosphate ahead of a membrane", usual(), Train{media.PolyphosphateFeed, media.ReverseOsmosis}, order, "polyphosphate_hides", usual(), Train{media.PolyphosphateFeed}},
		{"I6 oxidation before a softener", usual(), Train{media.PressureAeration, soft}, order, "oxidised_before_resin", usual(), Train{media.PressureAeration, sand, soft}},
		{"I6 ozone before anion resin", usual(), Train{media.OzoneFeed, media.NitrateExchanger, media.SedimentFilter}, order, "oxidised_before_resin", usual(), Train{media.OzoneFeed, sand, media.NitrateExchanger}},
		{"I7 oxidation eats alkalinity", usual().with(func(h *house) { h.water.Alkalinity = unit.AlkalinityAsCaCO3(35) }), Train{feed, tank, sand}, warning, "alkalinity_left", usual(), Train{feed, tank, sand}},
		{"I8 aeration of hard water drops scale", usual().with(func(h *house) {
			h.water.Calcium, h.water.Alkalinity = mg(110), unit.AlkalinityAsCaCO3(300)
		}), Train{media.VentedAeration, feed, sand}, warning, "scale_after_aeration", usual(), Train{media.VentedAeration, feed, sand}},
		{"I9 calcite behind the softener makes hard again", clear().with(func(h *house) {
			h.water.PH, h.water.Alkalinity = unit.PHOf(6.3), unit.AlkalinityAsCaCO3(60)
		}), Train{soft, media.CalciteBed}, warning, "hardness_behind_softener", clear(), Train{media.CalciteBed, soft}},
		{"I10 a softener does not mend acid water", clear().with(func(h *house) { h.water.PH = unit.PHOf(6.2) }), Train{soft}, refusal, "ph_at_kitchen", clear(), Train{soft}},
		{"I11 arsenic (III) at an adsorber", clear().with(arsenite), Train{media.ArsenicAdsorber}, order, "arsenic_needs_oxidant", clear().with(arsenite), Train{feed, tank, sand, media.ArsenicAdsorber}},
		{"I11 air does not count", usual().with(arsenite), Train{media.PressureAeration, sand, media.ArsenicAdsorber}, order, "arsenic_needs_oxidant", usual().with(arsenite), Train{feed, tank, sand, media.ArsenicAdsorber}},
		{"I11 peroxide does not count", usual().with(arsenite), Train{media.PeroxideFeed, media.CatalyticCarbonFilter, media.ArsenicAdsorber}, order, "arsenic_needs_oxidant", usual().with(arsenite), Train{media.PermanganateFeed, sand, media.ArsenicAdsorber}},
		{"I11 combined chlorine does not count", clear().with(func(h *house) {
			arsenite(h)
			h.water.CombinedChlorine = unit.MgPerLAsCl2(1)
		}), Train{media.ArsenicAdsorber}, refusal, "arsenic_oxidised", clear().with(func(h *house) { h.water.Arsenic, h.water.ArsenicV = mg(0.040), mg(0.040) }), Train{media.ArsenicAdsorber}},
		{"I11 nor a kitchen membrane alone", clear().with(arsenite), Train{soft}, refusal, "arsenic_at_kitchen", clear().with(func(h *house) { h.water.Arsenic, h.water.ArsenicV = mg(0.040), mg(0.040) }), Train{soft}},
		{"I12 iron undoes manganese", usual().with(func(h *house) { h.water.PH, h.water.Manganese = unit.PHOf(6.9), mg(0.4) }), Train{sand}, refusal, "manganese_at_kitchen", usual().with(func(h *house) { h.water.PH, h.water.Manganese = unit.PHOf(7.3), mg(0.4) }), Train{feed, tank, sand}},
		{"I13 a coated bed without its residual", usual(), Train{feed, carbon, sand}, warning, "residual_for_manganese", usual(), Train{feed, tank, sand}},
		{"I15 tannin resin without a softener", clear(), Train{media.TanninExchanger}, order, "tannin_needs_softener", clear(), Train{soft, media.TanninExchanger}},
		{"I15 anion resin drops the pH first", clear().with(func(h *house) { h.water.Alkalinity = unit.AlkalinityAsCaCO3(60); h.water.PH = unit.PHOf(6.9) }), Train{soft, media.TanninExchanger}, warning, "calcite_behind_anion_resin", clear().with(func(h *house) { h.water.Alkalinity = unit.AlkalinityAsCaCO3(60); h.water.PH = unit.PHOf(6.9) }), Train{soft, media.TanninExchanger, media.CalciteBed}},
		{"I16 organic matter with chlorine", usual().with(func(h *house) { h.water.OrganicCarbon = mg(3) }), Train{feed, tank, sand}, warning, "by_products", usual(), Train{feed, tank, sand}},
		{"I17 silica keeps rust fine", usual().with(func(h *house) { h.water.Silica = mg(55) }), Train{feed, tank, sand}, warning, "silica_colloid", usual(), Train{feed, tank, sand}},
		{"I18 ultraviolet stands last", usual(), Train{media.Ultraviolet, soft}, order, "ultraviolet_last", usual(), Train{soft, media.Ultraviolet}},
		{"I18 iron at its own inlet", usual(), Train{media.Ultraviolet}, refusal, "iron", usual(), Train{feed, tank, sand, soft, media.Ultraviolet}},
		{"I19 carbon ahead of contact", usual(), Train{feed, carbon, tank, sand}, order, "carbon_eats_oxidant", usual(), Train{feed, tank, sand, carbon}},
		{"I20 permanganate apart from what burns", usual(), Train{media.PermanganateFeed, sand}, spoken, "glycerin", usual(), Train{feed, tank, sand}},
		{"I21 peroxide and chlorine", usual(), Train{feed, media.PeroxideFeed, media.CatalyticCarbonFilter}, order, "peroxide_and_chlorine", usual(), Train{media.PeroxideFeed, media.CatalyticCarbonFilter}},
		{"I22 bleach is thinned with softened water", usual(), Train{feed, tank, sand}, spoken, "softened water", usual(), Train{sand}},
		{"I23 air in water to a softener", usual().with(func(h *house) { h.water.Oxygen = mg(6) }), Train{soft}, warning, "oxygen", usual(), Train{soft}},
		{"I23 air-over-water tank ahead of it", usual().with(func(h *house) { h.site.Well.Tank.Kind = well.AirOverWater }), Train{soft}, warning, "iron_turning_on_resin", usual(), Train{soft}},
		{"I25 the well cannot give use and washes", usual().with(func(h *house) { h.yield = 0.15 }), Train{feed, tank, sand}, refusal, "well_yield_per_day", usual(), Train{feed, tank, sand}},
		{"I29 radon on carbon", clear().with(func(h *house) { h.water.Radon = unit.PCiPerL(9000) }), Train{carbon}, refusal, "radon_on_carbon", clear().with(func(h *house) { h.water.Radon = unit.PCiPerL(3000) }), Train{carbon}},
		{"I30 an open aerator unprotected", clear().with(func(h *house) { h.water.Radon = unit.PCiPerL(9000) }), Train{media.RadonAeration}, order, "radon_open_to_air", clear().with(func(h *house) { h.water.Radon = unit.PCiPerL(9000) }), Train{media.RadonAeration, media.Ultraviolet}},
		{"I30 a vented tank unprotected", usual(), Train{media.VentedAeration, sand}, refusal, "open_tank_unprotected", usual(), Train{media.VentedAeration, feed, sand}},
		{"I31 a wash that the pump cannot give", usual().with(func(h *house) { h.pump = 5 }), Train{media.ManganeseOreFilter}, refusal, "backwash_flow", usual(), Train{sand}},
		{"I32 acid water dissolves the coat", usual().with(func(h *house) { h.water.PH = unit.PHOf(6.1) }), Train{feed, tank, sand}, refusal, "ph-low", usual(), Train{feed, tank, sand}},
		{"I33 pink water is not cured by carbon", usual().with(func(h *house) { h.water.Permanganate = mg(0.5) }), Train{carbon}, warning, "permanganate_at_carbon", usual(), Train{feed, tank, sand, carbon}},
	} {
		n, _, _ := strings.Cut(tt.rule, " ")
		told[n] = true
		t.Run(tt.rule, func(t *testing.T) {
			e := tt.breaks.carry(t, tt.train)
			if !e.says(tt.kind, tt.id) {
				t.Errorf("%s: %s does not say %s; rule %v, says %s", tt.rule, tt.train, tt.id, e.Rule, broken(e))
			}
			if k := tt.keeps.carry(t, tt.kept); k.says(tt.kind, tt.id) {
				t.Errorf("%s: %s says %s though it keeps the rule", tt.rule, tt.kept, tt.id)
			}
		})
	}
	for n := 1; n <= 33; n++ {
		if id := fmt.Sprintf("I%d", n); !told[id] {
			t.Errorf("nothing here breaks rule %s", id)
		}
	}
}

// I14: ammonia takes 7.6 to 10 mg of chlorine to the mg of nitrogen before any is
// free (breakpoint, Cl2 : N by weight; reference on treatment, from memory): the feed
// doses it, and where it cannot the train is refused.
func TestAmmoniaTakesChlorineFirst(t *testing.T) {
	tr := Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter}
	dose := func(ammonia float64) float64 {
		e := usual().with(func(h *house) { h.water.Ammonia = unit.MgPerLAsN(ammonia) }).carry(t, tr)
		return e.Links[0].Outcomes[0].Settings[stage.DoseMgL]
	}
	if more := dose(1) - dose(0); more < 7.6-0.05 || more > 10 {
		t.Errorf("1 mg/L of ammonia as N takes %.2f mg/L more chlorine, want 7.6 to 10", more)
	}
	unmet := usual().with(func(h *house) {
		h.water.Ferrous, h.water.Manganese = unit.Concentration{}, unit.Concentration{}
		h.water.Ammonia, h.water.Coliform, h.water.FreeChlorine = unit.MgPerLAsN(3), unit.Per100mL(4), unit.MgPerLAsCl2(2)
	})
	x, _ := stage.Of(media.ContactTank)
	j := unmet.work(t).start().jobFor(0, nil)
	j.In.FreeChlorine, j.In.CombinedChlorine = unit.Chlorine{}, unit.MgPerLAsCl2(2)
	told := false
	for _, l := range x.Run(&j, x.Sizes(&j)[0]).Limits {
		told = told || l.ID == "disinfection_ct" && l.Fails()
	}
	if !told {
		t.Error("combined chlorine alone is given credit for disinfection")
	}
}

// I28: where sulfate is above half of the nitrate by charge plain resin is refused,
// and the nitrate-selective resin is what a train is built with (reference on
// treatment, from memory).
func TestSulfateDumpsNitrate(t *testing.T) {
	const meqSulfate = 48.03
	for _, tt := range []struct {
		ratio   float64 // sulfate over nitrate by charge
		refused bool
	}{{0.45, false}, {0.55, true}, {1.25, true}} {
		h := clear().with(func(h *house) {
			h.water.Nitrate, h.water.Sulfate = unit.MgPerLAsN(14.007), mg(tt.ratio*meqSulfate)
		})
		x, _ := stage.Of(media.NitrateExchanger)
		j := h.work(t).start().jobFor(0, nil)
		for _, z := range x.Sizes(&j) {
			refused := false
			for _, l := range x.Run(&j, z).Limits {
				refused = refused || l.ID == "sulfate_dump" && l.Hard()
			}
			if want := tt.refused && z.Mode == stage.PlainAnion; refused != want {
				t.Errorf("sulfate : nitrate %g, %s: refused %t, want %t", tt.ratio, z.Mode, refused, want)
			}
		}
		if e := h.carry(t, Train{media.NitrateExchanger}); tt.refused && e.Links[0].Size.Mode != stage.SelectiveAnion {
			t.Errorf("sulfate : nitrate %g: the train is built with %s", tt.ratio, e.Links[0].Size.Mode)
		}
	}
}

// I24: no two vessels are washed at once (reference on treatment, common practice).
func TestWashesDoNotMeet(t *testing.T) {
	e := usual().carry(t, Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.CarbonFilter, media.Softener})
	slots := e.Nights.Hours
	if len(slots) < 3 {
		t.Fatalf("%d washes, want those of three beds at least", len(slots))
	}
	for i := range slots {
		for k := range i {
			if a, b := slots[k], slots[i]; a.Start < b.Start+b.Minutes && b.Start < a.Start+a.Minutes {
				t.Errorf("the washes of stages %d and %d meet", a.Stage, b.Stage)
			}
		}
	}
	long := usual().with(func(h *house) {
		h.site.Factors = source.NewSet(map[string]source.Override{"wash_night_minutes": {Value: 60, Why: "a short night"}})
	})
	if e := long.carry(t, e.Train); !e.says(warning, "wash_night") {
		t.Error("washes that do not fit one night are not told of")
	}
}

// I9: calcite ahead gives its hardness to the softener, which is sized on it: 2.27
// mg/L as CaCO3 for each mg/L of carbon dioxide that it takes up, 100.09/44.01 by
// weight (definition: CaCO3 + CO2 + H2O).
func TestSoftenerBehindCalciteTakesItsHardness(t *testing.T) {
	h := clear().with(func(h *house) { h.water.PH, h.water.Alkalinity = unit.PHOf(6.4), unit.AlkalinityAsCaCO3(80) })
	alone, behind := h.carry(t, Train{media.Softener}), h.carry(t, Train{media.CalciteBed, media.Softener})
	raised := behind.Links[0].Outcomes[0].Out.Hardness().GPG() - h.water.Hardness().GPG()
	asked := behind.Links[1].Outcomes[0].Settings[stage.HardnessGPG] - alone.Links[0].Outcomes[0].Settings[stage.HardnessGPG]
	if raised < 1 || asked < raised-0.5 || asked > raised+0.5 {
		t.Errorf("calcite raises hardness by %.2f gpg and the softener behind it is set %.2f higher", raised, asked)
	}
}

// A kitchen tap belongs to a train that leaves arsenic or nitrate above the limit where
// people drink, meets that limit alone, and is not sold beside one that does without.
// What a membrane holds: 94 % of arsenic (V), from memory, as the stage says.
func TestKitchenTapTakesOnlyWhatIsDrunk(t *testing.T) {
	arsenate := clear().with(func(h *house) { h.water.Arsenic, h.water.ArsenicV = mg(0.040), mg(0.040) })
	e := arsenate.carry(t, Train{media.Softener})
	if e.Tap == nil || len(e.Tap.Bill.First) == 0 {
		t.Fatal("a softener that leaves four times the limit of arsenic stands without a kitchen tap, or the tap costs nothing")
	}
	if e.says(refusal, "arsenic_at_kitchen") {
		t.Error("a membrane that holds 94 % of arsenic (V) does not meet the limit on four times of it")
	}
	if e := arsenate.carry(t, Train{media.Softener, media.ArsenicAdsorber}); e.Tap != nil || e.says(refusal, "arsenic_at_kitchen") {
		t.Errorf("an adsorber of its own: tap %t, %s", e.Tap != nil, broken(e))
	}
	if e := arsenate.carry(t, nil); e.Tap != nil || !e.says(refusal, "arsenic_at_kitchen") {
		t.Error("raw water with arsenic passes for fit, or nothing stands with a tap")
	}
	rusty := usual().with(func(h *house) { h.water.Nitrate = unit.MgPerLAsN(14) })
	if e := rusty.carry(t, Train{media.ReverseOsmosis}); !e.says(refusal, "iron_at_kitchen") || e.says(refusal, "nitrate_at_kitchen") {
		t.Errorf("a tap alone: want the iron of the house left and the nitrate taken: %s", broken(e))
	}
}

// broken lists what fails in the one water.
func broken(e Evaluation) string {
	var ids []string
	for _, l := range e.Limits[0] {
		if l.Fails() {
			ids = append(ids, l.ID)
		}
	}
	return strings.Join(ids, " ")
}
