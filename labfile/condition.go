package labfile

import (
	"strings"

	"wellwright/water"
)

// condition is what a detection condition says of a result without a figure.
type condition int

const (
	noCondition  condition = iota
	notDetected            // looked for and not found: below the limit
	presentBelow           // seen, but below what can be told as a figure
	presentAbove           // above what can be told as a figure
	presentOnly            // seen, nothing more
	noResult               // not analysed, contaminated, lost
)

// conditionOf reads the words for a result without a figure. Source: EPA, WQX
// domain list of result detection conditions; agencies' own words besides.
func conditionOf(s string) condition {
	s = folded(s)
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(s, w) {
				return true
			}
		}
		return false
	}
	switch {
	case s == "":
		return noCondition
	case has("between inst", "present below", "present <ql", "detected not quant", "trace"):
		return presentBelow
	case has("present above", "above operating", "above quant", "over range"):
		return presentAbove
	case s == "*present" || s == "present":
		return presentOnly
	case has("not detected", "non-detect", "nondetect", "below", "not present", "undetected"), s == "nd":
		return notDetected
	}
	return noResult // Not Reported, Unable to Measure, Value affected by contamination ...
}

// limit is one detection or quantitation limit of a result.
type limit struct{ value, unit, kind string }

// limitsOf gathers the limits of a row: its own, then those of the companion.
func (r *reader) limitsOf(rec record) []limit {
	var all []limit
	for _, l := range []limit{
		{rec.get(pLimit), rec.get(pLimitUnit), rec.get(pLimitType)},
		{rec.get(pLimit2), rec.get(pLimitUnit2), rec.get(pLimitType2)},
	} {
		if l.value != "" {
			all = append(all, l)
		}
	}
	if len(r.limits) > 0 {
		all = append(all, r.limits[limitKey(rec.get(pResultID), "", "")]...)
		all = append(all, r.limits[limitKey("", rec.get(pActivity), rec.get(pName))]...)
	}
	return all
}

// rank orders limits: the level below which the laboratory prints "not
// detected" comes first, then a quantitation limit, then a detection limit.
func (l limit) rank(c condition) int {
	k := folded(l.kind)
	detection := strings.Contains(k, "detect") || strings.Contains(k, "critical")
	switch {
	case strings.Contains(k, "censor"):
		return 0
	case strings.Contains(k, "upper") != (c == presentAbove):
		return 4
	case k == "":
		return 1
	case detection:
		return 3
	}
	return 2
}

// best picks the limit to keep.
func best(all []limit, c condition) (limit, bool) {
	found, ok := limit{}, false
	for _, l := range all {
		if _, isNumber := number(l.value); isNumber && (!ok || l.rank(c) < found.rank(c)) {
			found, ok = l, true
		}
	}
	return found, ok
}

// flagged reports whether a list of qualifiers, such as "H;U", says that the
// figure is a limit and nothing was found. The letters are those most
// laboratories share (common practice).
func flagged(qualifier string) bool {
	for _, w := range strings.FieldsFunc(strings.ToUpper(qualifier), func(c rune) bool { return strings.ContainsRune(";, |", c) }) {
		switch w {
		case "U", "UJ", "ND", "BDL", "BQL", "UI":
			return true
		}
	}
	return false
}

// word is what stands for a result without figure or limit.
func (c condition) word(a water.Analyte) string {
	switch {
	case c == notDetected:
		return "ND"
	case c == presentBelow && a.Dimension() == water.OfCount, c == presentOnly, c == presentAbove:
		return "present"
	case c == presentBelow:
		return "present below quantification limit"
	}
	return ""
}
