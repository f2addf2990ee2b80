package cloud

import (
	"math"
	"slices"

	"wellwright/cloud/internal/posterior"
	"wellwright/source"
)

// Chances that something is wrong with the evidence, before any figure is looked
// at and where nobody said how the bottle was kept.
var (
	faultUnacidified = faultFactor("unacidified", "the total bottle was not acidified", 0.12)
	faultLate        = faultFactor("late", "the bottle was filtered late, after its iron had rusted", 0.08)
	faultAcidFirst   = faultFactor("acid_first", "the bottle held acid before it was filtered", 0.06)
	faultSoftener    = faultFactor("softener", "the bottle was filled behind a softener", 0.03)
	faultUnits       = faultFactor("units", "micrograms were written as milligrams, or the other way", 0.004)
	faultSwapped     = faultFactor("swapped", "total and dissolved were swapped", 0.02)
	faultHoseBib     = faultFactor("hose_bib", "rust of the tap itself got into the bottle", 0.03)
	faultFirstDraw   = faultFactor("first_draw", "a first draw was taken for a flushed sample", 0.02)
	faultColour      = faultFactor("colour", "colour or a late reading raised the ferrous kit", 0.03)
	faultKitRust     = faultFactor("kit_rust", "the field kit for total iron did not dissolve the rust", 0.10)
	faultTank        = faultFactor("tank", "behind an air-over-water tank, the filtered bottle and the kit met different iron", 0.25)
	faultAirSample   = faultFactor("air_sample", "air got into the oxygen sample", 0.05)
	faultOther       = faultFactor("other", "something else is wrong with one result of iron", 0.01)
	faultMajors      = faultFactor("majors", "something else is wrong with the salts of a report", 0.02)
	faultWeigh       = source.Factor{Name: "cloud_fault_evidence", What: "how many times a word about the bottle raises the odds of its fault, or divides them",
		Value: 10, Low: 3, High: 30, Kind: source.CommonPractice, From: "strong evidence"}
	faultCold  = faultFactor("cold_meter", "conductivity on site was not brought to 25 °C", 0.05)
	faultMeter = faultFactor("conductivity", "something else is wrong with conductivity", 0.02)
	coldMeter  = source.Factor{Name: "cloud_cold_meter", What: "conductivity at the temperature of a well over that at 25 °C",
		Value: 0.75, Low: 0.65, High: 0.85, Kind: source.CommonPractice, From: "2 % for each degree below 25 °C"}
	otherSpread = source.Factor{Name: "cloud_other_spread", What: "error of a result that something else is wrong with, natural logarithm",
		Value: 1.6, Low: 1, High: 3, Kind: source.Judgement, From: "out by a factor of five either way: a heavy tail, so that the nearest named fault does not always win"}
	hoseRust = source.Factor{Name: "cloud_hose_rust", What: "rust that a corroded tap adds to a sample", Unit: "mg/L",
		Value: 1, Low: 0.2, High: 5, Kind: source.Judgement, From: "a pinch of scale in a litre"}
	softenedLeak = source.Factor{Name: "cloud_softened_leak", What: "share of hardness that a softener leaves",
		Value: 0.02, Low: 0.003, High: 0.15, Kind: source.CommonPractice, From: "below one grain of twenty or thirty"}
)

func faultFactor(name, what string, p float64) source.Factor {
	return source.Factor{Name: "cloud_fault_" + name, What: "chance before the figures that " + what,
		Value: p, Low: p / 4, High: math.Min(0.5, 4*p), Kind: source.Judgement, From: "ranking of what is met on site"}
}

func hypothesisFactors() []source.Factor {
	return []source.Factor{faultUnacidified, faultLate, faultAcidFirst, faultSoftener, faultUnits, faultSwapped, faultHoseBib, faultFirstDraw,
		faultColour, faultKitRust, faultTank, faultAirSample, faultOther, faultMajors, faultCold, faultMeter, coldMeter, faultWeigh, otherSpread, hoseRust, softenedLeak,
		hoseSpread, stoodLoss, stoodSpread, lateLoss, lateSpread, resinRust, resinBound, resinFerrous, resinSpread, colourBound, colourCarbon, colourSpread,
		kitBound, kitRust, kitSpread, tankThrough, tankSpread, airSpread, saltSpread}
}

// hypothesis is a fault with its words.
type hypothesis struct {
	posterior.Fault
	say string
}

// suspect lists what may be wrong with the evidence at hand.
func (b *balance) suspect(ms []posterior.Measure) []hypothesis {
	h := &suspicion{set: b.set, evidence: b.evidence, of: ms}
	for _, r := range h.reports(posterior.IronTotalLab, false) {
		h.total(r)
	}
	for _, r := range h.reports(posterior.IronDissolved, false) {
		h.dissolved(r)
	}
	for _, r := range h.reports(posterior.HardnessRead, true) {
		h.softener(r)
	}
	h.kits()
	if b.airTank() {
		h.add("rusted-before-tap", "rusted in the pressure tank between the two samples", b.set.Of(faultTank), kind(posterior.IronDissolved, func(m *posterior.Measure) {
			m.Terms, m.SD = []posterior.Term{{Of: posterior.Iron, Times: b.set.Of(tankThrough)}}, math.Hypot(m.SD, b.set.Of(tankSpread))
		}))
	}
	h.add("air-in-sample", "air got into the oxygen sample", b.set.Of(faultAirSample), kind(posterior.OxygenRead, func(m *posterior.Measure) { m.SD = math.Hypot(m.SD, b.set.Of(airSpread)) }))
	h.meter()
	h.jars()
	h.others()
	return h.list
}

// suspicion gathers hypotheses.
type suspicion struct {
	set      source.Set
	evidence Evidence
	of       []posterior.Measure
	list     []hypothesis
}

// reports lists the reports that hold a result of a kind, those of the field too
// if asked for.
func (h *suspicion) reports(t posterior.Tag, field bool) []int {
	var rs []int
	for _, m := range h.of {
		if m.Tag == t && m.Report >= 0 && (field || !h.evidence.Reports[m.Report].Field) && !slices.Contains(rs, m.Report) {
			rs = append(rs, m.Report)
		}
	}
	return rs
}

func (h *suspicion) add(id, say string, chance float64, change func(*posterior.Measure) bool) {
	if chance <= 0 {
		return
	}
	h.list = append(h.list, hypothesis{posterior.Fault{ID: id, Chance: math.Min(chance, 0.95), Change: change}, say})
}

// chance moves a chance by what is said of the bottle: its mark seen, looked for
// and missing, or not said.
func (h *suspicion) chance(f source.Factor, mark *bool) float64 {
	p := h.set.Of(f)
	if mark == nil {
		return p
	}
	odds := p / (1 - p)
	if *mark {
		odds *= h.set.Of(faultWeigh)
	} else {
		odds /= h.set.Of(faultWeigh)
	}
	return odds / (1 + odds)
}

// total lists what may be wrong with the total iron of a report.
func (h *suspicion) total(r int) {
	bottle := h.evidence.Reports[r].Bottle
	plated, spread := h.set.Of(platedLoss), h.set.Of(platedLossSD)
	if bottle.Acidified == nil || *bottle.Acidified {
		h.add("bottle-not-acidified", "bottle not acidified", h.chance(faultUnacidified, negated(bottle.Acidified)), on(r, posterior.IronTotalLab, func(m *posterior.Measure) {
			m.Shift, m.SD = m.Shift-plated, math.Hypot(m.SD, spread)
		}))
	}
	rust, rustSD := h.set.Of(hoseRust), h.set.Of(hoseSpread)
	add := func(m *posterior.Measure) {
		m.Terms = []posterior.Term{{Of: posterior.Iron, Times: 1 + rust/math.Max(m.Value, rust)}}
		m.SD = math.Hypot(m.SD, rustSD*rust/math.Max(m.Value, rust))
	}
	h.add("hose-bib", "rust of the tap in the bottle", h.set.Of(faultHoseBib), on(r, posterior.IronTotalLab, add))
	h.add("first-draw", "a first draw, taken for a flushed sample", h.set.Of(faultFirstDraw), func(m *posterior.Measure) bool {
		switch {
		case m.Report != r:
			return false
		case m.Tag == posterior.IronTotalLab:
			add(m)
		case m.Tag == posterior.IronDissolved:
			m.Shift, m.SD = m.Shift-h.set.Of(stoodLoss), math.Hypot(m.SD, h.set.Of(stoodSpread))
		default:
			return false
		}
		return true
	})
	slip := h.set.Of(faultUnits)
	for _, u := range []struct {
		id, say string
		times   float64
	}{{"units", "ug/L read as mg/L", 1000}, {"units-down", "mg/L read as ug/L", 1e-3}} {
		h.add(u.id, u.say, slip, func(m *posterior.Measure) bool {
			if m.Report != r || m.Tag != posterior.IronTotalLab && m.Tag != posterior.IronDissolved {
				return false
			}
			m.Value /= u.times
			return true
		})
	}
}

// dissolved lists what may be wrong with the filtered iron of a report.
func (h *suspicion) dissolved(r int) {
	bottle := h.evidence.Reports[r].Bottle
	h.add("filtered-late", "filtered late", h.chance(faultLate, negated(bottle.FilteredField)), on(r, posterior.IronDissolved, func(m *posterior.Measure) {
		m.Shift, m.SD = m.Shift-h.set.Of(lateLoss), math.Hypot(m.SD, h.set.Of(lateSpread))
	}))
	h.add("acid-before-filter", "acid in the bottle before the filter", h.chance(faultAcidFirst, bottle.FilteredField), on(r, posterior.IronDissolved, func(m *posterior.Measure) {
		m.Terms = []posterior.Term{{Of: posterior.Iron, Times: 1}}
	}))
	h.add("swapped", "total and dissolved swapped", h.set.Of(faultSwapped), func(m *posterior.Measure) bool {
		switch {
		case m.Report != r:
			return false
		case m.Tag == posterior.IronTotalLab:
			m.Terms = []posterior.Term{{Of: posterior.Ferrous, Times: 1}, {Of: posterior.Bound, Times: 1}}
		case m.Tag == posterior.IronDissolved:
			m.Terms = []posterior.Term{{Of: posterior.Iron, Times: 1}}
		default:
			return false
		}
		return true
	})
}

// softener supposes that a report's bottles were filled behind a softener: the
// sodium it gave for hardness is read with the well's own.
func (h *suspicion) softener(r int) {
	mark := yes(hasSoftener(h.evidence.Equipment), false)
	leak := h.set.Of(softenedLeak)
	low, _, high := h.set.Range(softenedLeak)
	spread := math.Log(high/low) / (2 * z05)
	c := chargesOf()
	h.add("after-softener", "sample after a softener", h.chance(faultSoftener, mark), func(m *posterior.Measure) bool {
		if m.Report != r {
			return false
		}
		switch m.Tag {
		case posterior.HardnessRead, posterior.ManganeseRead:
			m.Shift, m.SD = m.Shift+math.Log(leak), math.Hypot(m.SD, spread)
		case posterior.SodiumRead:
			m.Terms = []posterior.Term{{Of: posterior.Sodium, Times: 1},
				{Of: posterior.Calcium, Times: c.of[calcium] / c.of[sodium]}, {Of: posterior.Magnesium, Times: c.of[magnesium] / c.of[sodium]}}
		case posterior.IronTotalLab, posterior.IronTotalKit, posterior.IronDissolved:
			m.Terms = []posterior.Term{{Of: posterior.Particulate, Times: h.set.Of(resinRust)}, {Of: posterior.Bound, Times: h.set.Of(resinBound)}, {Of: posterior.Ferrous, Times: h.set.Of(resinFerrous)}}
			m.SD = math.Hypot(m.SD, h.set.Of(resinSpread))
		default:
			return false
		}
		return true
	})
}

// kits lists what may be wrong with iron read on site.
func (h *suspicion) kits() {
	h.add("kit-colour", "colour in the ferrous kit", h.set.Of(faultColour), kind(posterior.IronFerrous, func(m *posterior.Measure) {
		m.Terms = []posterior.Term{{Of: posterior.Ferrous, Times: 1}, {Of: posterior.Bound, Times: h.set.Of(colourBound)}, {Of: posterior.OrganicCarbon, Times: h.set.Of(colourCarbon)}}
		m.SD = math.Hypot(m.SD, h.set.Of(colourSpread))
	}))
	h.add("kit-misses-rust", "the kit does not dissolve rust", h.set.Of(faultKitRust), kind(posterior.IronTotalKit, func(m *posterior.Measure) {
		m.Terms = []posterior.Term{{Of: posterior.Ferrous, Times: 1}, {Of: posterior.Bound, Times: h.set.Of(kitBound)}, {Of: posterior.Particulate, Times: h.set.Of(kitRust)}}
		m.SD = math.Hypot(m.SD, h.set.Of(kitSpread))
	}))
}

// meter lists what may be wrong with conductivity.
func (h *suspicion) meter() {
	low, mid, high := h.set.Range(coldMeter)
	h.add("cold-meter", "conductivity was not brought to 25 °C", h.set.Of(faultCold), func(m *posterior.Measure) bool {
		if m.Tag != posterior.ConductivityRead || m.Report < 0 || !h.evidence.Reports[m.Report].Field {
			return false
		}
		m.Shift, m.SD = m.Shift+math.Log(mid), math.Hypot(m.SD, math.Log(high/low)/(2*z05))
		return true
	})
	h.add("conductivity", "something else is wrong with conductivity", h.set.Of(faultMeter), kind(posterior.ConductivityRead, func(m *posterior.Measure) {
		m.SD = math.Hypot(m.SD, h.set.Of(saltSpread))
	}))
}

// others leaves room for what nobody thought of: one result of iron, or the
// salts of one report, far out.
func (h *suspicion) others() {
	wide := h.set.Of(otherSpread)
	seen := map[int]bool{}
	for i := range h.of {
		m := h.of[i]
		switch m.Tag {
		case posterior.IronTotalLab, posterior.IronTotalKit, posterior.IronDissolved, posterior.IronFerrous:
			h.add("something-else", "something else is wrong with "+words[m.Tag], h.set.Of(faultOther), func(x *posterior.Measure) bool {
				if x.Tag != m.Tag || x.Report != m.Report || x.Value != m.Value {
					return false
				}
				x.SD = math.Hypot(x.SD, wide)
				return true
			})
		case posterior.HardnessRead, posterior.SodiumRead, posterior.Major:
			if seen[m.Report] {
				continue
			}
			seen[m.Report] = true
			h.add("salts", "something else is wrong with the salts of a report", h.set.Of(faultMajors), func(x *posterior.Measure) bool {
				salt := x.Tag == posterior.HardnessRead || x.Tag == posterior.SodiumRead || x.Tag == posterior.Major
				if !salt || x.Report != m.Report {
					return false
				}
				x.SD = math.Hypot(x.SD, h.set.Of(saltSpread))
				return true
			})
		}
	}
}

var words = map[posterior.Tag]string{posterior.IronTotalLab: "the laboratory's total iron", posterior.IronTotalKit: "the kit's total iron",
	posterior.IronDissolved: "the filtered iron", posterior.IronFerrous: "the ferrous iron"}

// on makes a change of the results of one kind in one report.
func on(r int, t posterior.Tag, change func(*posterior.Measure)) func(*posterior.Measure) bool {
	return func(m *posterior.Measure) bool {
		if m.Report != r || m.Tag != t {
			return false
		}
		change(m)
		return true
	}
}

// kind makes a change of the results of one kind.
func kind(t posterior.Tag, change func(*posterior.Measure)) func(*posterior.Measure) bool {
	return func(m *posterior.Measure) bool {
		if m.Tag != t {
			return false
		}
		change(m)
		return true
	}
}

func negated(b *bool) *bool {
	if b == nil {
		return nil
	}
	n := !*b
	return &n
}

func yes(seen, missing bool) *bool {
	if seen || missing {
		return &seen
	}
	return nil
}
