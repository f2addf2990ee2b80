package cloud

import (
	"errors"
	"math"
	"sync"

	"wellwright/chem"
	"wellwright/cloud/internal/posterior"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/water"
	"wellwright/well"
)

// Count is how many draws a cloud has.
type Count int

// The counts: enough to trust a chance of one in a hundred, and enough for a
// first answer.
const (
	Full   Count = 2000
	Coarse Count = 200

	beforehand Count = 500 // before any evidence, for the pictures
)

// Weigh turns evidence into the cloud. Poor or contradictory evidence is never
// an error: it widens what is believed, and the cloud says where.
func Weigh(e Evidence, set source.Set, m *chem.Model, w *formula.Working) (Cloud, error) {
	return WeighIn(Full, e, set, m, w)
}

// WeighIn is Weigh with so many draws.
func WeighIn(n Count, e Evidence, set source.Set, m *chem.Model, w *formula.Working) (Cloud, error) {
	c, err := weighIn(n, e, set, m, w)
	if err == nil && n >= Full {
		c.Before, err = before(set, m)
	}
	return c, err
}

func weighIn(n Count, e Evidence, set source.Set, m *chem.Model, w *formula.Working) (Cloud, error) {
	if m == nil {
		return Cloud{}, errors.New("weigh: no chemistry model; make one with chem.New")
	}
	b := &balance{set: set, model: m, working: w, evidence: e, all: read(e), count: n}
	b.supply = believeSupply(e, set)
	b.scales = scales{set: set}
	b.checks = checksOn(set, e)
	b.charges = chargesOf()
	if err := b.ask(); err != nil {
		return Cloud{}, err
	}
	return b.cloud()
}

// before makes the draws that stand before any evidence. Those of the published
// factors are made once.
func before(set source.Set, m *chem.Model) ([]Draw, error) {
	if len(set.Overridden()) == 0 {
		return beforeAll()
	}
	c, err := weighIn(beforehand, Evidence{}, set, m, nil)
	return c.Draws, err
}

var beforeAll = sync.OnceValues(func() ([]Draw, error) {
	c, err := weighIn(beforehand, Evidence{}, source.Set{}, chem.New(source.Set{}), nil)
	return c.Draws, err
})

// balance holds the evidence on its way to the cloud.
type balance struct {
	set      source.Set
	model    *chem.Model
	working  *formula.Working
	evidence Evidence
	all      readings
	count    Count
	supply   supplyBelief
	scales   scales
	checks   []water.Finding
	charges  charges

	question   posterior.Question
	hypotheses []hypothesis
	prior      *posterior.Model
	answer     posterior.Answer
	middle     Draw
	peak       peak // of iron that comes in slugs
	bacteria   float64
	jarNames   []string // of the treated jars whose iron is weighed
	jarsTell   bool     // treated jars part bound iron from the rest
}

// checksOn puts every laboratory report through its checks against the readings
// taken on site; where there is no laboratory the readings are checked alone.
func checksOn(set source.Set, e Evidence) []water.Finding {
	var field, lab []water.Report
	for _, r := range e.Reports {
		if r.Field {
			field = append(field, r)
		} else {
			lab = append(lab, r)
		}
	}
	var out []water.Finding
	for _, r := range lab {
		out = append(out, water.CheckReportWith(set, r, field)...)
	}
	if len(lab) == 0 {
		for _, r := range field {
			out = append(out, water.CheckReportWith(set, r, nil)...)
		}
	}
	return out
}

// ask weighs the signs, puts the question and reads the answer.
func (b *balance) ask() error {
	var err error
	if b.prior, err = model(b.charges, b.set); err != nil {
		return err
	}
	iron := ironOf(b.set, b.all)
	b.peak = slugsOf(iron, b.known())
	b.scales.signs(b.evidence)
	b.told(iron)
	m := measuresOf(b.set, b.all)
	m.smell(b.evidence)
	m.near(b.evidence.Near)
	b.jarred(m)
	b.hypotheses = b.suspect(m.out)
	b.question = b.asked(m)
	b.answer = b.prior.Ask(b.question)
	b.wellFigures()
	return nil
}

// slugsOf is the peak of repeated totals that stand: those below a part of
// themselves tell of bottles, not of slugs.
func slugsOf(r ironReadings, k known) peak {
	c := ironCheck{r: r, ratio: k.set.Of(impossibleRatio)}
	var p peak
	part := func(whole *reading) bool { return c.above(r.ferrous, whole) || c.above(r.dissolved, whole) }
	if !part(r.labTotal) {
		p = r.labPeak
	}
	if !part(r.fieldTotal) {
		p = peak{math.Max(p.v, r.fieldPeak.v), p.slug || r.fieldPeak.slug}
	}
	return p
}

// told takes off the scales the signs whose fact a reading tells: a number enters
// by its error alone.
func (b *balance) told(iron ironReadings) {
	if iron.ferrous != nil {
		b.scales.drop("at the tap")
	}
	if iron.dissolved != nil {
		b.scales.drop("filter")
	}
}

// asked is the question put to the prior.
func (b *balance) asked(m *measures) posterior.Question {
	low, mid, high := b.set.Range(oxideMiddle)
	q := posterior.Question{
		Measures: m.out, Forms: b.forms(), Redox: b.redox(), Visits: len(m.visits), Bottles: len(b.evidence.Reports),
		VisitSD: b.set.Of(seasonIron), BottleSD: b.set.Of(bottleError),
		OxideMid: mid, OxideSD: math.Log(high/low) / (2 * z05),
		OrganicAt: b.set.Of(organicAt), OrganicSeen: b.set.Of(organicMatter.seen), OrganicAbsent: b.set.Of(organicMatter.absent),
		Draws: int(b.count), Seed: seed,
	}
	for _, h := range b.hypotheses {
		q.Faults = append(q.Faults, h.Fault)
	}
	return q
}

// seed makes the same evidence give the same draws.
const seed = 0x77656c6c

// redox is how likely the redox potential is in each class.
func (b *balance) redox() []float64 {
	v, ok := b.all.one(b.set, water.ORP)
	if !ok {
		return nil
	}
	ls := make([]float64, len(b.prior.Prior.Classes))
	for i, c := range b.prior.Prior.Classes {
		mid := b.set.Of(potentials[c.ID])
		z := (v - mid) / b.set.Of(potentialSpread)
		ls[i] = -0.5 * z * z
	}
	return ls
}

// smell sets sulfide by the nose: smelt at the cold tap it is above what a nose
// finds; where signs were asked for and it was not among them, below.
func (m *measures) smell(e Evidence) {
	x := posterior.Measure{Terms: []posterior.Term{{Of: posterior.Sulfide, Times: 1}}, Visit: -1, Bottle: -1, Report: -1,
		Value: m.set.Of(smeltFrom), SD: m.set.Of(noseSpread)}
	switch {
	case smellsOfSulfide(e):
		x.Sign = posterior.Above
	case len(e.Signs) > 0:
		x.Sign = posterior.Below
	default:
		return
	}
	m.out = append(m.out, x)
}

// known gathers what the iron is judged beside.
func (b *balance) known() known {
	k := known{set: b.set, odds: b.scales.forms(), airTank: b.airTank()}
	k.toc, k.colour = b.all.span(b.set, water.TOC), b.all.span(b.set, water.Colour)
	return k
}

func (b *balance) airTank() bool { return b.evidence.Supply.Tank.Kind == well.AirOverWater }

// measuredHardness is the hardness that was read, or that of the metals read.
func (b *balance) measuredHardness() (float64, bool) {
	if h, ok := b.all.one(b.set, water.Hardness); ok {
		return h, true
	}
	ca, okCa := b.all.one(b.set, water.Calcium)
	mg, okMg := b.all.one(b.set, water.Magnesium)
	meq := ca/oneOf(water.Calcium, "meq/L") + mg/oneOf(water.Magnesium, "meq/L")
	return meq * oneOf(water.Hardness, "meq/L"), okCa && okMg
}

func hasSoftener(all []well.Equipment) bool {
	for _, e := range all {
		if e.Process == "softener" && !e.Bypassed {
			return true
		}
	}
	return false
}

// found reports whether a check of that id did not pass.
func (b *balance) found(id string) bool {
	for _, f := range b.checks {
		if f.ID == id && f.Verdict != water.OK {
			return true
		}
	}
	return false
}
