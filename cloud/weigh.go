package cloud

import (
	"errors"
	"math"

	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/water"
	"wellwright/well"
)

// Weigh turns evidence into the cloud. Poor or contradictory evidence is never
// an error: it widens what is believed, and the cloud says where.
func Weigh(e Evidence, set source.Set, m *chem.Model, w *formula.Working) (Cloud, error) {
	if m == nil {
		return Cloud{}, errors.New("weigh: no chemistry model; make one with chem.New")
	}
	b := &balance{set: set, model: m, working: w, evidence: e, all: read(e)}
	b.supply = believeSupply(e, set)
	b.scales = scales{set: set}
	b.checks = checksOn(set, e)
	b.waterAndIron()
	return b.cloud()
}

// balance holds the evidence on its way to the cloud.
type balance struct {
	set      source.Set
	model    *chem.Model
	working  *formula.Working
	evidence Evidence
	all      readings
	supply   supplyBelief
	scales   scales
	checks   []water.Finding
	beliefs  [nProperties]belief
	iron     ironBelief
	bacteria float64
	charges  charges
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

// waterAndIron forms the beliefs, in the order in which one leans on another.
func (b *balance) waterAndIron() {
	b.charges = chargesOf()
	for p := range property(nProperties) {
		b.beliefs[p] = b.all.believe(b.set, p)
	}
	b.hardness()
	b.manganese()
	b.coliform()
	b.scales.signs(b.evidence)
	b.organicFigures()
	b.iron = resolve(ironOf(b.set, b.all), b.known())
	b.gases()
	b.latePH()
	b.softened()
	b.oxygenBesideFerrous()
	b.figures()
	b.bacteria = b.scales.bacteria()
	b.iron.conflicts = append(b.iron.conflicts, fieldWins(b.set, b.all, b.iron.split)...)
	b.show()
}

// known gathers what the iron is judged beside.
func (b *balance) known() known {
	k := known{set: b.set, odds: b.scales.forms(), airTank: b.evidence.Supply.Tank.Kind == well.AirOverWater}
	k.toc, k.colour = b.all.span(b.set, water.TOC), b.all.span(b.set, water.Colour)
	if s := b.all.span(b.set, water.Hardness); s != nil {
		k.hardness = &s.high
	} else if h, ok := b.measuredHardness(); ok {
		k.hardness = &h
	}
	return k
}

// hardness fills in calcium and magnesium from a hardness that stands alone.
func (b *balance) hardness() {
	h, ok := b.all.one(b.set, water.Hardness)
	ca, mg := &b.beliefs[calcium], &b.beliefs[magnesium]
	if !ok || !ca.assumed && !mg.assumed {
		return
	}
	meq := h / oneOf(water.Hardness, "meq/L")
	perCa, perMg := oneOf(water.Calcium, "meq/L"), oneOf(water.Magnesium, "meq/L")
	sh := b.set.Of(calciumShare)
	switch {
	case !ca.assumed:
		*mg = b.derived(math.Max(0, meq-ca.P50/perCa)*perMg, "hardness less calcium")
	case !mg.assumed:
		*ca = b.derived(math.Max(0, meq-mg.P50/perMg)*perCa, "hardness less magnesium")
	default:
		*ca = b.derived(meq*sh*perCa, "share of a hardness reported whole")
		*mg = b.derived(meq*(1-sh)*perMg, "share of a hardness reported whole")
	}
}

// derived is a belief worked out from a measured one: listed as assumed, but held
// within the error of hardness.
func (b *balance) derived(v float64, from string) belief {
	err := b.set.Of(errHardness)
	spread := math.Exp(z05 * math.Hypot(2*err, b.set.Of(seasonIon)))
	return belief{Range: Range{v / spread, v, v * spread}, sd: 2 * err * v, split: true, kind: source.Derived, from: from}
}

func (b *balance) measuredHardness() (float64, bool) {
	if h, ok := b.all.one(b.set, water.Hardness); ok {
		return h, true
	}
	ca, mg := b.beliefs[calcium], b.beliefs[magnesium]
	if ca.assumed || mg.assumed {
		return 0, false
	}
	meq := ca.P50/oneOf(water.Calcium, "meq/L") + mg.P50/oneOf(water.Magnesium, "meq/L")
	return meq * oneOf(water.Hardness, "meq/L"), true
}

// manganese parts total manganese where both were measured; a lone total is
// taken as dissolved, which manganese nearly always is at household pH.
func (b *balance) manganese() {
	total := b.all.believeIn(b.set, manganese, water.Total)
	diss, ox := &b.beliefs[manganese], &b.beliefs[manganeseOx]
	switch {
	case total.assumed:
	case diss.assumed:
		*diss = total
	default:
		rest := math.Max(0, total.P50-diss.P50)
		*ox = belief{Range: Range{0, rest, rest + z05*math.Hypot(total.sd, diss.sd)}, sd: total.sd}
	}
}

// gases chooses the assumption on oxygen and sulfide by what else is known.
func (b *balance) gases() {
	if b.beliefs[oxygen].assumed && (b.iron.ferrous > 0.3 || b.scales.forms().leading() == ferrousIron) {
		b.beliefs[oxygen] = assumption(b.set, oxygenReduced)
	}
	smelt, s := smellsOfSulfide(b.evidence), &b.beliefs[sulfide]
	switch {
	case s.assumed && smelt:
		*s = assumption(b.set, sulfideSmelt)
	case s.bound && s.P05 == 0 && !smelt:
		*s = unsmelt(b.set, *s)
	}
}

// unsmelt is a sulfide that a test found below its limit and nobody smells: it is
// measured to the limit, and the nose, a finer test than most, says how far in
// that range the draws go.
func unsmelt(set source.Set, s belief) belief {
	low, mid, high := set.Range(traits[sulfide].prior)
	s.P50 = math.Min(s.P50, mid)
	s.draws = &Range{math.Min(low, s.P50), s.P50, math.Max(s.P50, math.Min(s.P95, high))}
	return s
}

// coliform takes E. coli, which is one of the coliforms, as none where no
// coliform was found.
func (b *balance) coliform() {
	all, one := b.beliefs[coliform], &b.beliefs[ecoli]
	if !all.assumed && all.P50 == 0 && one.assumed {
		*one = belief{}
	}
}

// latePH lowers a laboratory's pH where the checks find that gas was lost and
// nobody read it on site; the printed pH stays as a world of its own.
func (b *balance) latePH() {
	if len(b.all.of(water.PH, water.Total, true)) > 0 || b.beliefs[ph].assumed || !b.found("gas_lost") {
		return
	}
	low, drift, high := b.set.Range(labPHDrift)
	printed := b.beliefs[ph].P50
	p := &b.beliefs[ph]
	p.P05, p.P50, p.P95 = p.P05-high, p.P50-drift, p.P95-low
	p.split, p.kind, p.from = true, b.set.In(labPHDrift).Kind, "laboratory pH less the rise of a bottle that lost carbon dioxide"
	b.iron.conflict("ph-gas-lost", "the laboratory's pH cannot stand beside its iron and hardness: gas was lost before it was read. Read pH on site.",
		suspect{id: "gas-lost", say: "gas lost before pH was read", chance: b.set.Of(faultGas)},
		suspect{id: "as-printed", say: "laboratory pH as printed", chance: 1 - b.set.Of(faultGas), change: func(n *numbers) { n[ph] = printed }})
}

// oxygenBesideFerrous doubts much oxygen beside ferrous iron at a pH where the
// two do not last together.
func (b *balance) oxygenBesideFerrous() {
	o := b.beliefs[oxygen]
	if o.assumed || o.P50 <= 3 || b.iron.ferrous < 0.5 || b.beliefs[ph].P50 < 7 {
		return
	}
	tank := b.evidence.Supply.Tank.Kind
	air := yes(tank == well.AirOverWater, tank == well.PreCharged)
	b.iron.conflict("oxygen-beside-ferrous", "oxygen of "+mgL(o.P50)+" beside "+mgL(b.iron.ferrous)+" of ferrous iron at pH "+trim(b.beliefs[ph].P50)+": the two do not last together. Read oxygen again in a flow cell, and look for a leak on the suction.",
		suspect{id: "air-in-sample", say: "air got into the oxygen sample", chance: b.set.Of(faultAirIn), change: func(n *numbers) { n[oxygen] = b.set.Of(oxygenReduced) }},
		suspect{id: "air-leak", say: "air is drawn in by the pump or held in the tank", chance: evidence(b.set, b.set.Of(faultAirLeak), air)})
}

// softened keeps the raw water behind a sample that may have passed a softener:
// its sodium given back as hardness.
func (b *balance) softened() {
	h, ok := b.measuredHardness()
	if !ok || h >= softBelow {
		return
	}
	chance := 0.3
	if hasSoftener(b.evidence.Equipment) {
		chance = 0.8
	}
	c := b.charges
	b.iron.conflict("softened-sample", "hardness is "+trim(h)+" mg/L as CaCO3: naturally soft, or sampled after a softener? Sample the raw tap.",
		suspect{id: "after-softener", say: "sample after a softener", chance: chance, change: c.hardened(b.set.Of(calciumShare))},
		suspect{id: "soft", say: "naturally soft", chance: 1 - chance})
}

// hardened gives the sodium of a softened water back as calcium and magnesium,
// but for what stands with the chloride.
func (c charges) hardened(share float64) func(*numbers) {
	return func(n *numbers) {
		keep := math.Min(n[sodium], -n[chloride]*c.of[chloride]/c.of[sodium])
		meq := (n[sodium] - keep) * c.of[sodium]
		n[sodium] = keep
		n[calcium] += share * meq / c.of[calcium]
		n[magnesium] += (1 - share) * meq / c.of[magnesium]
	}
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
