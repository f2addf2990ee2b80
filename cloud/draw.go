package cloud

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"strings"

	"wellwright/chem"
	"wellwright/cloud/internal/posterior"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// cloud makes the draws and reads everything else off them.
func (b *balance) cloud() (Cloud, error) {
	b.bacteria = b.bacteriaChance()
	draws, err := b.draws(b.answer.Draws)
	if err != nil {
		return Cloud{}, err
	}
	b.middle, err = b.center(draws)
	if err != nil {
		return Cloud{}, err
	}
	c := Cloud{Draws: draws, Checks: append(b.checks, b.supply.found...)}
	c.Spread = b.spread(draws)
	c.Quality = Quality{Asked: len(draws), Effective: b.answer.Effective, Distinct: b.answer.Distinct, Coarse: b.count < Full}
	c.Quality.Few = c.Quality.Distinct < min(fewDraws, len(draws)/2)
	c.Conflicts = b.explained()
	c.Forms = b.formRanges(draws)
	c.Ranges = b.ranges(draws)
	c.Assumed = b.assumptions(c.Ranges)
	c.Checks = append(c.Checks, b.closed())
	b.show()
	if f, is := b.notComplaint(); is {
		c.Checks = append(c.Checks, f)
	}
	return c, nil
}

// notComplaint says so where every total of iron that was read is below the level
// at which it stains.
func (b *balance) notComplaint() (water.Finding, bool) {
	r := ironOf(b.set, b.all)
	t := math.Max(math.Max(r.labTotal.most(), r.fieldTotal.most()), b.peak.v)
	if t == 0 || t >= b.set.Of(ironComplaint) || b.middle.Water.TotalIron().MgPerL() > b.set.Of(ironComplaint) {
		return water.Finding{}, false
	}
	return water.Finding{ID: "iron_not_complaint", Verdict: water.Notice, Value: t, Unit: "mg/L", Analyte: water.Iron,
		Say:  fmt.Sprintf("total iron is %s: iron is not the complaint. Look at manganese, tannin, copper, plumbing, or a sample taken after treatment.", mgL(t)),
		Kind: ironComplaint.Kind, From: ironComplaint.From}, true
}

// fewDraws is how many different draws a probability should rest on.
const fewDraws = 500

// bacteriaChance is the chance of iron bacteria over the draws.
func (b *balance) bacteriaChance() float64 {
	sum := 0.0
	for i := range b.answer.Draws {
		sum += b.bacteriaIn(&b.answer.Draws[i])
	}
	return sum / float64(len(b.answer.Draws))
}

// bacteriaIn is the chance of iron bacteria in one water.
func (b *balance) bacteriaIn(d *posterior.Draw) float64 {
	return chanceAfter(b.set.Of(startBacteria), b.scales.weight(bacteria)+math.Log(b.growth(d.Amount[posterior.Oxygen])), b.set.Of(bacteriaCeiling))
}

// draws turns the waters of the answer into draws on a day of the year, each with
// a supply to go with it.
func (b *balance) draws(from []posterior.Draw) ([]Draw, error) {
	out := make([]Draw, len(from))
	pump, err := b.supply.ready()
	if err != nil {
		return nil, err
	}
	posterior.Each(len(from), func(i int) {
		r := rand.New(rand.NewPCG(seed, uint64(i)+1))
		out[i] = b.draw(&from[i], r, pump)
		out[i].Weight = 1 / float64(len(from))
	})
	return out, nil
}

// draw puts one water on a day: the season moves iron, manganese, sulfide and pH,
// growth sheds slugs, and bacteria live in it or not.
func (b *balance) draw(d *posterior.Draw, r *rand.Rand, pump readyPump) Draw {
	n, iron := numbersOf(d)
	swing := func(f source.Factor) float64 { return math.Exp(b.set.Of(f) * r.NormFloat64()) }
	s := swing(seasonIron)
	iron = split{iron.ferrous * s, iron.particulate * s, iron.bound * s}
	n[manganese] *= swing(seasonManganese)
	n[sulfide] *= swing(seasonSulfide)
	n[ph] += b.set.Of(seasonPH) * r.NormFloat64()
	n[solids] = b.solids(r)
	n[coliform], n[ecoli] = b.germs()
	lives := r.Float64() < b.bacteriaIn(d)
	if slug := r.Float64(); b.peak.slug && slug < b.set.Of(slugShare) {
		iron.particulate += math.Max(0, b.peak.v*(b.set.Of(slugLeast)+(1-b.set.Of(slugLeast))*r.Float64())-iron.total())
	}
	b.charges.close(&n, iron.ferrous)
	chance := 0.0
	if lives {
		chance = 1
	}
	names := b.faultNames(d.Faults)
	out := Draw{Name: nameOf(names), Water: n.state(iron, chance), Supply: b.supply.draw(r, pump, lives, n[carbon]), Law: lawOf(r),
		World: World{Redox: b.prior.Prior.Classes[d.Redox].ID, Lead: b.question.Forms[d.Form].ID, Faults: names, Bacteria: lives}}
	b.company(&out.Water, out.World.Redox, r)
	return out
}

// lawOf takes one of the three published rates of oxidation.
func lawOf(r *rand.Rand) chem.Law {
	switch u := r.Float64(); {
	case u < sharesEnds:
		return chem.FastLaw
	case u < 2*sharesEnds:
		return chem.SlowLaw
	}
	return chem.MiddleLaw
}

// sharesEnds is the weight of the fast and of the slow law: with it the 5th, 50th
// and 95th percentile keep the mean and spread of a distribution near the normal.
// Source: extended Pearson-Tukey approximation, Keefer and Bodily, Management
// Science 29:595 (1983) (from memory).
const sharesEnds = 0.185

func nameOf(faults []string) string {
	if len(faults) == 0 {
		return "as read"
	}
	return strings.Join(faults, " and ")
}

func (b *balance) faultNames(set []int) []string {
	var ns []string
	for _, k := range set {
		ns = append(ns, b.hypotheses[k].say)
	}
	return ns
}

// solids draws the suspended solids: those read, or what wells usually hold.
func (b *balance) solids(r *rand.Rand) float64 {
	if v, ok := b.all.one(b.set, water.TSS); ok {
		return v * math.Exp(b.set.Of(errTrace)*r.NormFloat64())
	}
	low, mid, high := b.set.Range(assumedSolids)
	return math.Max(mid, b.cloudy()) * math.Exp(math.Log(high/low)/(2*z05)*r.NormFloat64())
}

// cloudy is the suspended solids that turbidity read at once on site speaks of,
// beyond what the rust of that water makes; a laboratory's turbidity is rust that
// formed in the bottle.
func (b *balance) cloudy() float64 {
	most := 0.0
	for _, o := range b.all.of(water.Turbidity, water.Total, true) {
		most = math.Max(most, o.value*b.set.Of(solidsPerTurbidity))
	}
	rust := 0.0
	for _, o := range b.all.of(water.Iron, water.Total, true) {
		rust = math.Max(rust, hydroxidePerIron*o.value)
	}
	return math.Max(0, most-rust)
}

// hydroxidePerIron is Fe(OH)3 over Fe by weight: 106.87 over 55.845 (IUPAC).
const hydroxidePerIron = 106.87 / 55.845

// germs are the counts found; what nobody tested stands at none and is listed as
// not tested, because only a test can ask for its treatment.
func (b *balance) germs() (all, coli float64) {
	all, _ = b.all.one(b.set, water.TotalColiform)
	coli, _ = b.all.one(b.set, water.EColi)
	return all, coli
}

// center makes the middle draw: the median of every figure over the draws of the
// likeliest world, closed in charge, with the supply as measured.
func (b *balance) center(draws []Draw) (Draw, error) {
	lead := b.leading()
	var n numbers
	var in []*posterior.Draw
	for i := range b.answer.Draws {
		if d := &b.answer.Draws[i]; sameFaults(d.Faults, lead) {
			in = append(in, d)
		}
	}
	vs := make([]float64, len(in))
	mid := func(q posterior.Quantity) float64 {
		for i, d := range in {
			vs[i] = d.Amount[q]
		}
		return median(vs)
	}
	for p := range property(nProperties) {
		if c := coordinate[p]; c >= 0 {
			n[p] = mid(posterior.Quantity(c))
		}
	}
	iron := split{mid(posterior.Ferrous), mid(posterior.Particulate), mid(posterior.Bound)}
	iron = iron.times(mid(posterior.Iron) / iron.total()) // medians of parts fall short of that of the whole
	n[solids] = math.Max(b.set.Of(assumedSolids), b.cloudy())
	if v, ok := b.all.one(b.set, water.TSS); ok {
		n[solids] = v
	}
	n[coliform], n[ecoli] = b.germs()
	b.charges.close(&n, iron.ferrous)
	supply, err := b.supply.middle(b.bacteria, n[carbon])
	if err != nil {
		return Draw{}, fmt.Errorf("middle draw: %w", err)
	}
	d := Draw{Name: Middle, Water: n.state(iron, b.bacteria), Supply: supply, Law: chem.MiddleLaw,
		World: World{
			Redox:  b.prior.Prior.Classes[commonest(in, func(d *posterior.Draw) int { return d.Redox })].ID,
			Lead:   b.question.Forms[commonest(in, func(d *posterior.Draw) int { return d.Form })].ID,
			Faults: b.faultNames(lead), Bacteria: b.bacteria > 0.5}}
	b.company(&d.Water, d.World.Redox, nil)
	return d, nil
}

// commonest is the class that most draws have, the first of those alike.
func commonest(ds []*posterior.Draw, of func(*posterior.Draw) int) int {
	count := map[int]int{}
	best := of(ds[0])
	for _, d := range ds {
		k := of(d)
		if count[k]++; count[k] > count[best] || count[k] == count[best] && k < best {
			best = k
		}
	}
	return best
}

// leading is the set of faults that most draws have.
func (b *balance) leading() []int {
	count := map[string]int{}
	sets := map[string][]int{}
	best := ""
	for i := range b.answer.Draws {
		k := fmt.Sprint(b.answer.Draws[i].Faults)
		count[k]++
		sets[k] = b.answer.Draws[i].Faults
		if best == "" || count[k] > count[best] || count[k] == count[best] && k < best {
			best = k
		}
	}
	return sets[best]
}

func sameFaults(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func median(vs []float64) float64 { return quantileOf(vs, 0.5) }

// quantileOf is a quantile of values of equal weight, which it sorts.
//
//	between the neighbours of (n - 1) p, in proportion
//
// Source: definition 7 of Hyndman & Fan 1996 (from memory).
func quantileOf(vs []float64, p float64) float64 {
	sort.Float64s(vs)
	at := p * float64(len(vs)-1)
	i := int(at)
	if i >= len(vs)-1 {
		return vs[len(vs)-1]
	}
	return vs[i] + (at-float64(i))*(vs[i+1]-vs[i])
}

// rangeOver is the 5, 50 and 95 % of a figure over draws of equal weight.
func rangeOver(draws []Draw, of func(*Draw) float64) Range {
	vs := make([]float64, len(draws))
	for i := range draws {
		vs[i] = of(&draws[i])
	}
	return Range{quantileOf(vs, 0.05), quantileOf(vs, 0.5), quantileOf(vs, 0.95)}
}

// around is the range over the draws about the figure of the middle draw.
func (b *balance) around(draws []Draw, of func(*water.State) float64) Range {
	r := rangeOver(draws, func(d *Draw) float64 { return of(&d.Water) })
	r.P50 = of(&b.middle.Water)
	r.P05, r.P95 = math.Min(r.P05, r.P50), math.Max(r.P95, r.P50)
	return r
}

// formRanges reads the iron off the draws.
func (b *balance) formRanges(draws []Draw) Forms {
	of := func(f func(*water.State) unit.Concentration) Range {
		return b.around(draws, func(s *water.State) float64 { return f(s).MgPerL() })
	}
	f := Forms{
		Total:               of(func(s *water.State) unit.Concentration { return s.TotalIron() }),
		Ferrous:             of(func(s *water.State) unit.Concentration { return s.Ferrous }),
		Particulate:         of(func(s *water.State) unit.Concentration { return s.Particulate }),
		Bound:               of(func(s *water.State) unit.Concentration { return s.Bound }),
		BacteriaProbability: b.bacteria,
		Evidence:            b.scales.clues(),
	}
	if b.count >= Full {
		f.Evidence = heaviest(append(f.Evidence, b.figureClues()...))
	}
	return f
}

// heaviest sorts clues by how far they move the odds.
func heaviest(cs []Clue) []Clue {
	sort.SliceStable(cs, func(i, k int) bool {
		return math.Abs(math.Log(cs[i].TimesLikelier)) > math.Abs(math.Log(cs[k].TimesLikelier))
	})
	return cs
}

// ranges lists the raw water: what was measured within its error, the rest as
// assumed.
func (b *balance) ranges(draws []Draw) []AnalyteRange {
	iron := func(f water.Fraction) bool { return len(b.all[part{water.Iron, f}]) > 0 }
	total, filtered, ferrous := iron(water.Total), iron(water.Dissolved), iron(water.FerrousIron)
	mg := func(f func(*water.State) unit.Concentration) Range {
		return b.around(draws, func(s *water.State) float64 { return f(s).MgPerL() })
	}
	out := []AnalyteRange{
		{"iron_total_mg_l", "mg/L", mg(func(s *water.State) unit.Concentration { return s.TotalIron() }), !total},
		{"iron_ferrous_mg_l", "mg/L", mg(func(s *water.State) unit.Concentration { return s.Ferrous }), !ferrous},
		{"iron_particulate_mg_l", "mg/L", mg(func(s *water.State) unit.Concentration { return s.Particulate }), !(total && (filtered || ferrous))},
		{"iron_bound_mg_l", "mg/L", mg(func(s *water.State) unit.Concentration { return s.Bound }), !(filtered && ferrous || b.jarsTell)},
	}
	for p := range property(nProperties) {
		r := b.around(draws, func(s *water.State) float64 { return numberIn(s, p) })
		out = append(out, AnalyteRange{traits[p].leaf, traits[p].unit, r, !b.read(p)})
	}
	hard := b.around(draws, func(s *water.State) float64 { return s.Hardness().MgPerLAsCaCO3() })
	_, known := b.measuredHardness()
	out = append(out, AnalyteRange{"hardness_mg_l_as_caco3", "mg/L as CaCO3", hard, !known})
	return append(out, AnalyteRange{"co2_mg_l", "mg/L", b.around(draws, b.co2), !b.read(ph) || !b.read(alkalinity)})
}

// read reports whether a property was read at all.
func (b *balance) read(p property) bool {
	switch p {
	case manganese:
		return len(b.all[part{water.Manganese, water.Total}])+len(b.all[part{water.Manganese, water.Dissolved}]) > 0
	case manganeseOx:
		return len(b.all[part{water.Manganese, water.Total}]) > 0 && len(b.all[part{water.Manganese, water.Dissolved}]) > 0
	case ecoli:
		if all, ok := b.all.one(b.set, water.TotalColiform); ok && all == 0 {
			return true // E. coli is one of the coliforms
		}
	}
	return len(b.all[part{traits[p].analyte, water.Total}]) > 0
}

// assumptions lists what nobody measured, with what is believed of it.
func (b *balance) assumptions(rs []AnalyteRange) []Assumption {
	var out []Assumption
	for _, r := range rs {
		if !r.Assumed || r.Name == "hardness_mg_l_as_caco3" || r.Name == "co2_mg_l" {
			continue
		}
		kind, from := b.basis(r.Name)
		out = append(out, Assumption{r.Name, r.Unit, r.Range, kind, from})
	}
	return append(out, b.supply.assumed...)
}

// basis says what an unmeasured figure rests on.
func (b *balance) basis(leaf string) (source.Kind, string) {
	for _, f := range []source.Factor{assumedSolids, assumedGerms, assumedEColi} {
		if property := strings.TrimPrefix(f.Name, "cloud_assumed_"); strings.Contains(leaf, property) {
			in := b.set.In(f)
			return in.Kind, in.From
		}
	}
	class := b.middle.World.Redox
	for i, n := range posterior.Leaves {
		if n != leaf {
			continue
		}
		for _, c := range b.prior.Prior.Classes {
			if c.ID == class && !c.Judgement[i] {
				return source.Published, "not measured: open data on " + class + " wells, given the rest of the evidence"
			}
		}
	}
	return source.Judgement, "not measured: what " + class + " wells hold, given the rest of the evidence"
}

// closed says how far the charge of what was measured is out.
func (b *balance) closed() water.Finding {
	var n numbers
	for p := range property(nProperties) {
		if v, ok := b.all.one(b.set, traits[p].analyte); ok && b.charges.of[p] != 0 && p != manganeseOx {
			n[p] = v
		} else if c := coordinate[p]; c >= 0 {
			n[p] = numberIn(&b.middle.Water, p)
		}
	}
	if f := b.all.of(water.Alkalinity, water.Total, true); len(f) > 0 {
		n[alkalinity] = typicalOf(b.set, f, false).v
	}
	gap := b.charges.net(&n, b.middle.Water.Ferrous.MgPerL())
	return water.Finding{ID: "charge_closed", Value: gap, Unit: "meq/L", Kind: source.Derived, From: "every plausible water is neutral; the errors are those of the analyses",
		Say: fmt.Sprintf("charge is out by %+.2f meq/L as read; the waters worked with are neutral", gap)}
}

// co2 is the free carbon dioxide of a raw water.
func (b *balance) co2(s *water.State) float64 {
	ionic := chem.IonicFromSums(s.Totals(), s.Alkalinity)
	return b.model.Carbonate(s.Temperature, ionic).CO2(s.PH, s.Alkalinity).MgPerL()
}

// explained names the contradictions with the chances of their explanations.
func (b *balance) explained() []Conflict {
	var out []Conflict
	say := map[string]string{}
	for _, h := range b.hypotheses {
		say[h.ID] = h.say
	}
	xs := contradictions(ironOf(b.set, b.all), b.known())
	xs = append(xs, b.otherContradictions()...)
	for _, x := range xs {
		out = append(out, x.weighed(b.chanceOf, func(id string) string {
			if id == "something-else" {
				return "something else is wrong"
			}
			return say[id]
		}, b.chanceOfNone(x.suspects)))
	}
	iron := split{ferrous: b.middle.Water.Ferrous.MgPerL()}
	return append(out, fieldWins(b.set, b.all, iron)...)
}

// chanceOf is the share of draws with a fault.
func (b *balance) chanceOf(id string) float64 {
	n := 0
	for i := range b.answer.Draws {
		if b.has(&b.answer.Draws[i], id) {
			n++
		}
	}
	return float64(n) / float64(len(b.answer.Draws))
}

func (b *balance) has(d *posterior.Draw, ids ...string) bool {
	for _, k := range d.Faults {
		for _, id := range ids {
			if b.hypotheses[k].ID == id {
				return true
			}
		}
	}
	return false
}

// chanceOfNone is the share of draws with none of the faults.
func (b *balance) chanceOfNone(ids []string) float64 {
	n := 0
	for i := range b.answer.Draws {
		if !b.has(&b.answer.Draws[i], ids...) {
			n++
		}
	}
	return float64(n) / float64(len(b.answer.Draws))
}

// otherContradictions are those outside the iron.
func (b *balance) otherContradictions() []contradiction {
	var out []contradiction
	if h, ok := b.measuredHardness(); ok && h < softBelow {
		out = append(out, contradiction{"softened-sample", "hardness is " + trim(h) + " mg/L as CaCO3: naturally soft, or sampled after a softener? Sample the raw tap.",
			[]string{"after-softener", "salts"}, "soft", "naturally soft"})
	}
	if len(b.all.of(water.PH, water.Total, true)) == 0 && b.read(ph) && b.found("gas_lost") {
		out = append(out, contradiction{"ph-gas-lost", "the laboratory's pH cannot stand beside its iron and hardness: gas was lost before it was read. Read pH on site.",
			nil, "gas-lost", "gas lost before pH was read"})
	}
	o, ok := b.all.one(b.set, water.Oxygen)
	w := b.middle.Water
	if ok && o > 3 && w.Ferrous.MgPerL() >= 0.5 && w.PH.Value() >= 7 {
		out = append(out, contradiction{"oxygen-beside-ferrous", "oxygen of " + mgL(o) + " beside " + mgL(w.Ferrous.MgPerL()) + " of ferrous iron at pH " + trim(w.PH.Value()) +
			": the two do not last together. Read oxygen again in a flow cell, and look for a leak on the suction.",
			[]string{"air-in-sample"}, "air-leak", "air is drawn in by the pump or held in the tank"})
	}
	return out
}

// numberIn reads a property off a state.
func numberIn(s *water.State, p property) float64 {
	switch p {
	case temperature:
		return s.Temperature.Celsius()
	case ph:
		return s.PH.Value()
	case alkalinity:
		return s.Alkalinity.MgPerLAsCaCO3()
	case sulfide:
		return s.Sulfide.MgPerLAsH2S()
	case ammonia:
		return s.Ammonia.MgPerLAsN()
	case nitrate:
		return s.Nitrate.MgPerLAsN()
	case phosphate:
		return s.Phosphate.MgPerLAsP()
	case coliform:
		return s.Coliform.Per100mL()
	case ecoli:
		return s.EColi.Per100mL()
	}
	return concentrations[p](s).MgPerL()
}

var concentrations = map[property]func(*water.State) unit.Concentration{
	manganese: func(s *water.State) unit.Concentration { return s.Manganese }, manganeseOx: func(s *water.State) unit.Concentration { return s.ManganeseOx },
	oxygen: func(s *water.State) unit.Concentration { return s.Oxygen }, calcium: func(s *water.State) unit.Concentration { return s.Calcium },
	magnesium: func(s *water.State) unit.Concentration { return s.Magnesium }, sodium: func(s *water.State) unit.Concentration { return s.Sodium },
	potassium: func(s *water.State) unit.Concentration { return s.Potassium }, chloride: func(s *water.State) unit.Concentration { return s.Chloride },
	sulfate: func(s *water.State) unit.Concentration { return s.Sulfate }, fluoride: func(s *water.State) unit.Concentration { return s.Fluoride },
	silica: func(s *water.State) unit.Concentration { return s.Silica }, carbon: func(s *water.State) unit.Concentration { return s.OrganicCarbon },
	arsenic: func(s *water.State) unit.Concentration { return s.Arsenic }, solids: func(s *water.State) unit.Concentration { return s.Solids },
}
