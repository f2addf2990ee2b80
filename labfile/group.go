package labfile

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"wellwright/unit"
	"wellwright/water"
)

// key parts the rows into visits. Total and dissolved metals of one bottle set
// stand in different activities, so that site and time count, not the activity.
type key struct {
	site, sheet, when, zone, tap string
	twin                         bool
}

// visit is all that was taken at one site and time.
type visit struct {
	key
	when       moment
	first      record
	activities []string
	remarks    []string
	laboratory half
	field      half
	balance    *float64
	well       WellFacts
	siteName   string
	filtered   bool
}

// half is the laboratory's part of a visit, or that read on site.
type half struct {
	results  []water.Result
	lines    []Line
	labs     []string
	analysed []time.Time
}

// visit finds or begins the visit of a row.
func (r *reader) visit(rec record, m moment) *visit {
	k := key{site: rec.get(pSite), sheet: rec.get(pSheet), when: m.at.Format("2006-01-02 15:04"), zone: m.zone, tap: rec.get(pTap),
		twin: activityKind(rec) == replicate}
	if !m.timed {
		k.when = m.at.Format(time.DateOnly)
	}
	v := r.visits[k]
	if v == nil {
		v = &visit{key: k, when: m, first: rec, siteName: rec.get(pSiteName), well: r.factsOf(rec)}
		if s, ok := r.stations[k.site]; ok {
			v.siteName = one("", v.siteName, s.name)
		}
		r.visits[k] = v
		r.order = append(r.order, v)
	}
	v.keep(rec)
	return v
}

// keep notes what a row says of the whole sample.
func (v *visit) keep(rec record) {
	if a := rec.get(pActivity); a != "" && !contains(v.activities, a) {
		v.activities = append(v.activities, a)
	}
	for _, p := range []part{pSampleRemark, pSampleRemark2} {
		v.remark(rec.get(p))
	}
	if b, ok := number(rec.get(pBalance)); ok && rec.get(pBalance) != "" {
		v.balance = &b
	}
	v.filtered = v.filtered || strings.HasPrefix(folded(rec.get(pFraction)), "filtered, field")
}

// remark keeps a comment once. What is only a code, or says that there is none,
// is left out.
func (v *visit) remark(s string) {
	s = strings.TrimSpace(strings.Trim(s, "; "))
	if _, isNumber := number(s); isNumber || s == "" || s == "No Lab Remarks Found" || contains(v.remarks, s) {
		return
	}
	v.remarks = append(v.remarks, s)
}

// levels are readings that are no property of the water but worth a remark.
var levels = []string{"water level", "depth to water", "flow rate, instantaneous"}

// note keeps a level or a flow among the remarks.
func (v *visit) note(rec record) bool {
	name := folded(rec.get(pName))
	for _, l := range levels {
		if strings.HasPrefix(name, l) {
			if rec.get(pValue) != "" {
				v.remark(fmt.Sprintf("%s: %s", rec.get(pName), one(" ", rec.get(pValue), rec.get(pUnit))))
			}
			return true
		}
	}
	return false
}

// add puts a result where it belongs.
func (v *visit) add(rec record, res water.Result, l Line) {
	h := &v.laboratory
	if onSite(rec, res.Analyte) {
		h = &v.field
	}
	h.results, h.lines = append(h.results, res), append(h.lines, l)
	lab := rec.get(pLaboratory)
	if lab == "" && rec.get(pAnalysed) != "" {
		lab = rec.get(pOrganisation)
	}
	if lab != "" && !contains(h.labs, lab) {
		h.labs = append(h.labs, lab)
	}
	if t, _, err := parseDate(rec.get(pAnalysed), rec.order, rec.epoch); err == nil {
		h.analysed = append(h.analysed, t)
	}
}

// samples makes the samples of all visits, the rows of one analyte brought to one.
func (r *reader) samples() []Sample {
	var all []Sample
	for _, v := range r.order {
		for _, h := range []*half{&v.laboratory, &v.field} {
			if len(h.results) > 0 && !r.tooLate(v, h) {
				r.settle(h, v.site)
				all = append(all, r.sample(v, h, h == &v.field))
			}
		}
	}
	return all
}

// tooLate refuses what was taken or analysed on a day that is yet to come.
func (r *reader) tooLate(v *visit, h *half) bool {
	if r.opt.Today.IsZero() {
		return false
	}
	end := r.opt.Today.Truncate(day).Add(day)
	at := spot{line: h.lines[0].Place.Line, cell: h.lines[0].Cell, site: v.site}
	for _, t := range append([]time.Time{wall(v.when.at)}, h.analysed...) {
		if t.Before(end) {
			continue
		}
		word := "analysed"
		if t.Equal(wall(v.when.at)) {
			word = "sampled"
		}
		r.refuse("future", at, fmt.Sprintf("%s on %s, after today, %s: %d results", word, t.Format(time.DateOnly), r.opt.Today.Format(time.DateOnly), len(h.results)),
			"put the year or the order of day and month right; a book holds what was found, not what is to come")
		return true
	}
	return false
}

const day = 24 * time.Hour

func (r *reader) sample(v *visit, h *half, field bool) Sample {
	s := Sample{Format: r.format, Site: v.site, SiteName: v.siteName, Sheet: v.sheet, Zone: v.zone, Timed: v.when.timed,
		Lines: h.lines, Well: v.well, Duplicate: v.twin, Balance: v.balance, Remarks: v.remarks, Activities: v.activities}
	s.Report = water.Report{Field: field, Tap: r.tap(v), Sampled: v.when.at, Results: h.results}
	if s.Sheet == "" && len(v.activities) == 1 {
		s.Sheet = v.activities[0]
	}
	if field {
		s.Report.Analysed = v.when.at
		return s
	}
	s.Report.Laboratory = strings.Join(h.labs, "; ")
	if v.filtered {
		yes := true
		s.Report.Bottle.FilteredField = &yes
	}
	s.Report.Analysed, s.Remarks = analysedOn(h.analysed, s.Remarks)
	return s
}

// analysedOn keeps the date of analysis where there is one; several are told in
// a remark, for each result has its own.
func analysedOn(all []time.Time, remarks []string) (time.Time, []string) {
	if len(all) == 0 {
		return time.Time{}, remarks
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Before(all[j]) })
	first, last := all[0], all[len(all)-1]
	if first.Equal(last) {
		return first, remarks
	}
	say := fmt.Sprintf("analysed from %s to %s", first.Format(time.DateOnly), last.Format(time.DateOnly))
	return time.Time{}, append(remarks[:len(remarks):len(remarks)], say)
}

func (r *reader) tap(v *visit) water.Where {
	switch {
	case v.tap != "":
		return water.Where(strings.ToUpper(v.tap))
	case r.opt.Tap != "":
		return r.opt.Tap
	}
	return "T1"
}

// factsOf reads what a row, or the companion file, says of the well. Depths of a
// survey without a unit are feet, and zero there is unknown (the agency's own
// well logs are in feet: from memory).
func (r *reader) factsOf(rec record) WellFacts {
	w := r.stations[rec.get(pSite)].well
	if d, ok := lengthOf(rec.get(pDepth), rec.get(pDepthUnit)); ok {
		w.Depth = &d
	}
	if c, ok := lengthOf(rec.get(pCasing), ""); ok {
		w.Casing = &c
	}
	if a := aquiferOf(rec.get(pAquifer), rec.get(pFormation)); a != "" && w.Aquifer == "" {
		w.Aquifer = a
	}
	return w
}

// lengthOf reads a depth above zero.
func lengthOf(value, unitText string) (unit.Length, bool) {
	v, ok := number(value)
	if !ok || v <= 0 || v > 20_000 {
		return unit.Length{}, false
	}
	switch folded(unitText) {
	case "ft", "feet", "foot", "":
		return unit.Ft(v), true
	case "m", "metre", "meter", "metres", "meters":
		return unit.M(v), true
	}
	return unit.Length{}, false
}

// lithologies are the codes of the survey's rocks.
var lithologies = map[string]string{"UNC": "unconsolidated", "LS": "limestone and dolomite", "SS": "sandstone"}

func aquiferOf(rock, setting string) string {
	if long, ok := lithologies[rock]; ok {
		rock = long
	}
	return one(", ", rock, strings.ToLower(strings.ReplaceAll(setting, "_", " ")))
}
