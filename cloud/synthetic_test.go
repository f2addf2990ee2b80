package cloud

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/cloud/internal/posterior"
	"wellwright/source"
	"wellwright/water"
)

// put makes the question of production ready without answering it: the steps of
// ask and weighIn but for the supply and the draws.
func put(t testing.TB, e Evidence, draws Count, start uint64) *balance {
	t.Helper()
	b := &balance{evidence: e, all: read(e), count: draws, charges: chargesOf()}
	b.scales = scales{set: b.set}
	var err error
	if b.prior, err = model(b.charges, b.set); err != nil {
		t.Fatal(err)
	}
	iron := ironOf(b.set, b.all)
	b.peak = slugsOf(iron, b.known())
	b.scales.signs(e)
	b.told(iron)
	m := measuresOf(b.set, b.all)
	m.smell(e)
	b.hypotheses = b.suspect(m.out)
	b.question = b.asked(m)
	b.question.Seed = start
	b.wellFigures()
	return b
}

// spec is one line of the panel: who read it, and below what he prints a limit.
type spec struct {
	field bool
	what  water.Result
	limit float64
}

// panel is a field visit and a laboratory's report, in the order in which the
// results are weighed. Limits are those that are usual (common practice).
var panel = []spec{
	{true, degC(1), 0}, {true, pHOf(1), 0}, {false, pHOf(1), 0}, {true, alk(1), 5}, {false, alk(1), 5},
	{true, mg(water.Oxygen, 1), 0.1}, {true, h2s(1), 0.1}, {false, asN(water.Ammonia, 1), 0.05},
	{false, mg(water.Calcium, 1), 1}, {false, mg(water.Magnesium, 1), 1}, {false, mg(water.Sodium, 1), 1}, {false, mg(water.Potassium, 1), 0.5},
	{false, mg(water.Chloride, 1), 1}, {false, mg(water.Sulfate, 1), 1}, {false, mg(water.Silica, 1), 0.5}, {false, asN(water.Nitrate, 1), 0.1},
	{false, mg(water.TOC, 1), 0.5}, {false, mg(water.Arsenic, 1), 0.001},
	{false, mn(water.Total, 1), 0.01}, {false, mn(water.Dissolved, 1), 0.01},
	{false, hard(1), 5}, {false, water.Result{Analyte: water.Conductivity, Value: 1, Unit: "µS/cm"}, 10},
	{false, iron(water.Total, 1), 0.03}, {true, iron(water.Total, 1), 0.1}, {false, iron(water.Dissolved, 1), 0.03}, {true, iron(water.FerrousIron, 1), 0.1},
}

var sampledOn = time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)

// reported puts results into the two reports.
func reported(bottle water.Bottle, lines []spec) Evidence {
	site, bench := visit(), lab()
	site.Sampled, bench.Sampled, bench.Bottle = sampledOn, sampledOn, bottle
	for _, s := range lines {
		if s.field {
			site.Results = append(site.Results, s.what)
		} else {
			bench.Results = append(bench.Results, s.what)
		}
	}
	return Evidence{Reports: []water.Report{site, bench}}
}

// law is how production would read one line that showed v, were it alone.
func law(bottle water.Bottle, s spec, v float64) posterior.Measure {
	s.what.Value = v
	var set source.Set
	out := measuresOf(set, read(reported(bottle, []spec{s}))).out
	if len(out) != 1 {
		panic(fmt.Sprintf("%s is read as %d results", s.what.Analyte, len(out)))
	}
	return out[0]
}

// synthetic is an invented well of which all is known.
type synthetic struct {
	truth    posterior.Draw
	faults   map[string]bool // by id and place among the hypotheses
	lives    bool            // iron bacteria
	evidence Evidence
}

// maker makes invented wells by the laws that production reads them with.
type maker struct {
	t     testing.TB
	r     *rand.Rand
	lines []spec
	synthetic
}

// invent makes a well of a water of the prior.
func invent(t testing.TB, d posterior.Draw, how int, start uint64) synthetic {
	m := &maker{t: t, r: rand.New(rand.NewPCG(start, 0x1e57)), synthetic: synthetic{truth: d, faults: map[string]bool{}}}
	m.choose(how)
	m.analyse()
	m.look()
	return m.synthetic
}

// choose keeps the whole panel, half of it, or a handful.
func (m *maker) choose(how int) {
	switch how {
	case 0:
		m.lines = slices.Clone(panel)
	case 1:
		for _, s := range panel {
			if m.r.Float64() < 0.5 {
				m.lines = append(m.lines, s)
			}
		}
	default:
		handful := m.r.Perm(len(panel))[:3+m.r.IntN(4)]
		slices.Sort(handful)
		for _, i := range handful {
			m.lines = append(m.lines, panel[i])
		}
	}
}

// analyse draws what is wrong with the evidence and the figures that come of it.
func (m *maker) analyse() {
	var bottle water.Bottle
	if m.r.Float64() < 0.3 {
		bottle.Acidified, bottle.FilteredField = ptr(true), ptr(true)
	}
	base := make([]posterior.Measure, len(m.lines))
	for i, s := range m.lines {
		base[i] = law(bottle, s, m.settle(bottle, s, nil))
	}
	b := &balance{evidence: reported(bottle, m.lines)}
	b.all = read(b.evidence)
	suspects := b.suspect(base)
	set := m.wrong(suspects, base)
	for _, k := range set {
		m.faults[placed(suspects, k)] = true
	}
	var sd source.Set
	shared := posterior.Shared{Visit: []float64{sd.Of(seasonIron) * m.r.NormFloat64()}, Bottle: []float64{0, sd.Of(bottleError) * m.r.NormFloat64()}}
	for i := range m.lines {
		m.figure(bottle, &m.lines[i], at(suspects, set, base[i]), shared)
	}
	m.evidence = reported(bottle, m.lines)
}

// placed names a hypothesis, so that it is found again among those of production.
func placed(all []hypothesis, k int) string {
	n := 0
	for _, h := range all[:k] {
		if h.ID == all[k].ID {
			n++
		}
	}
	return fmt.Sprint(all[k].ID, n)
}

// wrong draws the faults at work: each by its chance, and all anew where one of
// them has nothing to touch or two touch the same result.
func (m *maker) wrong(suspects []hypothesis, base []posterior.Measure) []int {
	for {
		var set []int
		for k, h := range suspects {
			if m.r.Float64() < h.Chance {
				set = append(set, k)
			}
		}
		touched, idle := make([]int, len(base)), false
		for _, k := range set {
			any := false
			for i := range base {
				x := base[i]
				if suspects[k].Change(&x) {
					any = true
					touched[i]++
				}
			}
			idle = idle || !any
		}
		if !idle && !slices.ContainsFunc(touched, func(n int) bool { return n > 1 }) {
			return set
		}
	}
}

// at returns the fault of a set that touches a result; nil: none. A fault that
// knows its result by the figure is shown the figure it was suspected by.
func at(suspects []hypothesis, set []int, x posterior.Measure) func(*posterior.Measure) {
	for _, k := range set {
		change, y := suspects[k].Change, x
		if !change(&y) {
			continue
		}
		return func(m *posterior.Measure) {
			if v := m.Value; !change(m) {
				m.Value = x.Value
				change(m)
				m.Value = v
			}
		}
	}
	return nil
}

// settle finds the figure that a line would show without error. Some laws look
// at the figure itself: it is found by going round.
func (m *maker) settle(bottle water.Bottle, s spec, fault func(*posterior.Measure)) float64 {
	v := 1.0
	for range 40 {
		x := law(bottle, s, v)
		if fault != nil {
			fault(&x)
		}
		x.SD, x.Floor, x.Lag.SD = 0, 0, 0
		v = x.Simulate(&m.truth.Amount, posterior.Shared{}, m.r)
	}
	return v
}

// figure writes what a line shows, or its limit.
func (m *maker) figure(bottle water.Bottle, s *spec, fault func(*posterior.Measure), shared posterior.Shared) {
	x := law(bottle, *s, m.settle(bottle, *s, fault))
	times := x.Value
	if fault != nil {
		fault(&x)
	}
	times /= x.Value // a slip of units
	v := x.Simulate(&m.truth.Amount, shared, m.r)
	s.what.Value = v * times
	if v < s.limit {
		s.what.Sign, s.what.Value = water.Below, s.limit*times
	}
}

// look adds what is seen, smelt and grown. Two findings of bacteria at most and
// one of each form: more would meet the cap on findings that say the same.
func (m *maker) look() {
	var set source.Set
	d := &m.truth.Amount
	growth := (&balance{evidence: m.evidence, all: read(m.evidence)}).growth(d[posterior.Oxygen])
	m.lives = m.r.Float64() < chanceAfter(set.Of(startBacteria), math.Log(growth), 1)
	if m.r.Float64() < 0.4 {
		return
	}
	if d[posterior.Sulfide]*math.Exp(set.Of(noseSpread)*m.r.NormFloat64()) > set.Of(smeltFrom) {
		m.evidence.Signs = append(m.evidence.Signs, seen(water.RottenEggBothConstant)...)
	}
	groups := [][]any{{water.SlimeInTank, slime}, {water.FilmBreaks, filmBreaks}, {water.SwampySmell, swampySmell}, {water.AfterWellWork, wellWork}, {water.WeakPressureSlime, capacityFall}}
	for _, k := range m.r.Perm(len(groups))[:2] {
		m.sign(groups[k][0].(water.Symptom), groups[k][1].(odds), m.lives)
	}
	lead := m.lead()
	m.sign(water.ClearThenRust, clearThenRust, lead == ferrousIron)
	if m.r.Float64() < 0.5 {
		m.sign(water.RustAfterTank, rustAfterTank, lead == particulateIron)
		m.sign(water.InkyTea, inkyTea, lead == organicIron)
	}
	if m.r.Float64() < 0.3 {
		m.grow()
	}
}

// lead is the form that the signs tell of; where none leads they tell of any, as
// the starting odds have it.
func (m *maker) lead() form {
	var s scales
	o := s.forms()
	if m.truth.Form < int(nForms) {
		return form(m.truth.Form)
	}
	u := m.r.Float64()
	for f := range o {
		if u -= o[f]; u < 0 {
			return form(f)
		}
	}
	return ferrousIron
}

// sign draws whether a finding is there, by what its two factors imply.
//
//	p0 = (1 - c) / (a - c),  p1 = a p0
//
//	a, c  times likelier where seen and where missed;  p1, p0  chance to see it
func (m *maker) sign(id water.Symptom, o odds, so bool) {
	var set source.Set
	a, c := set.Of(o.seen), set.Of(o.absent)
	p := (1 - c) / (a - c)
	if so {
		p *= a
	}
	if m.r.Float64() < p {
		m.evidence.Signs = append(m.evidence.Signs, seen(id)...)
	} else {
		m.evidence.Signs = append(m.evidence.Signs, missing(id)...)
	}
}

// grow sets a culture. Without bacteria it turns within three days, a week, or
// later with chances that make the four factors agree.
func (m *maker) grow() {
	var set source.Set
	a := [4]float64{set.Of(cultureFast.seen), set.Of(cultureMiddle.seen), set.Of(cultureSlow.seen), set.Of(cultureNone.seen)}
	p := [4]float64{0, 0.10, 0.11, 0}
	p[0] = (1 - a[1]*p[1] - a[2]*p[2] - a[3]*(1-p[1]-p[2])) / (a[0] - a[3])
	p[3] = 1 - p[0] - p[1] - p[2]
	u := m.r.Float64()
	for k, day := range []int{2, 5, 9, 0} {
		q := p[k]
		if m.lives {
			q *= a[k]
		}
		if u -= q; u < 0 || k == 3 {
			m.evidence.Cultures = append(m.evidence.Cultures, book.Culture{Of: book.IronBacteria, Positive: day > 0, Day: day})
			return
		}
	}
}
