package labfile

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/water"
)

// refusal is why a row is no result.
type refusal struct{ id, why, want string }

// made is a result's line with what is said of it aside.
type made struct {
	Line
	estimated bool
}

// result makes a result of a row.
func (r *reader) result(rec record) (water.Result, made, *refusal) {
	name, analyte, bad := nameOf(rec)
	if bad != nil {
		return water.Result{}, made{}, bad
	}
	limits := r.limitsOf(rec)
	text, unitText, bad := r.figureOf(rec, analyte, limits)
	if bad != nil {
		return water.Result{}, made{}, bad
	}
	text, unitText = cutUnit(name, text, unitText)
	res, err := water.ParseResult(name, text, unitText, water.Place{File: r.name, Line: rec.at.line})
	if err != nil {
		return res, made{}, refusalOf(err, unitText)
	}
	if bad := complete(rec, &res); bad != nil {
		return res, made{}, bad
	}
	l := made{Line: Line{Figure: plainFigure(text, res.Sign), Received: received(rec), Place: res.Place, Cell: rec.at.cell}}
	l.estimated = setLimit(rec, &res, limits)
	res.Method = oneLine(one(" ", rec.get(pMethodOf), one(": ", rec.get(pMethod), rec.get(pMethodName))))
	res.Note = notes(rec, res, l.estimated)
	return res, l, nil
}

// unknownAnalyte marks the refusal of a name that a mapping may still give.
const unknownAnalyte = "unknown-analyte"

// nameOf finds the analyte. A percentage of oxygen is its saturation, and the
// fraction of a chlorine says which chlorine it is.
func nameOf(rec record) (string, water.Analyte, *refusal) {
	name := rec.get(pName)
	a, _, _, ok := water.ParseAnalyte(name)
	if !ok {
		return "", "", &refusal{unknownAnalyte, "not an analyte known here", "it stays in the received file"}
	}
	part := folded(rec.get(pFraction))
	switch {
	case a == water.Oxygen && strings.HasPrefix(rec.get(pUnit), "%"):
		return string(water.OxygenSaturation), water.OxygenSaturation, nil
	case a == water.FreeChlorine && strings.HasPrefix(part, "total"):
		return string(water.TotalChlorine), water.TotalChlorine, nil
	case a == water.FreeChlorine && strings.HasPrefix(part, "comb"):
		return string(water.CombinedChlorine), water.CombinedChlorine, nil
	}
	return name, a, nil
}

// figureOf returns the text and unit of the figure to keep: the value as
// written, or the limit behind a sign.
func (r *reader) figureOf(rec record, a water.Analyte, limits []limit) (text, unitText string, bad *refusal) {
	value, unitText := rec.get(pValue), unitOf(rec.get(pUnit))
	c := conditionOf(rec.get(pCondition))
	if wordless := r.format == OhioSheets || r.format == Mapped; wordless && c == noCondition && value == "" && len(limits) > 0 {
		c = notDetected // a layout with limits and no words leaves the value empty
	}
	v, isNumber := number(value)
	if isNumber && flagged(rec.get(pQualifier)) && c == noCondition {
		c = notDetected
	}
	switch {
	case c == noResult:
		return "", "", &refusal{"no-result", "detection condition " + rec.get(pCondition), "there is no figure to keep"}
	case c == noCondition && value == "":
		return "", "", &refusal{"no-value", "neither a value nor a limit", "want a figure, or Not Detected with a limit"}
	case c == noCondition:
		return value, unitText, nil
	}
	l, ok := best(limits, c)
	if c == presentOnly { // seen, on no side of any limit
		ok, isNumber = false, false
	}
	if !ok && isNumber && v > 0 {
		l, ok = limit{value: value, unit: unitText}, true
	}
	if !ok {
		if w := c.word(a); w != "" && (w != "present" || a.Dimension() == water.OfCount) {
			return w, unitText, nil
		}
		return "", "", &refusal{"no-limit", rec.get(pCondition) + ", without a limit", "want the limit it lies beyond"}
	}
	sign := "<"
	if c == presentAbove {
		sign = ">"
	}
	return sign + l.value, first(unitOf(l.unit), unitText), nil
}

var figureForm = regexp.MustCompile(`[-+]?(?:[0-9][0-9,]*\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?`)

// plainFigure is the figure with no digit lost, behind its sign: "0.20 J" is
// 0.20, "ND (0.05)" and "0.05 U" are <0.05. A word such as absent stays.
func plainFigure(text string, sign water.Sign) string {
	digits := figureForm.FindString(text)
	switch {
	case digits == "" || sign == water.Present || sign == water.Absent:
		return text
	case sign == water.Below:
		return "<" + digits
	case sign == water.Above:
		return ">" + digits
	}
	return digits
}

// first is the first text that is not empty.
func first(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

// cutUnit takes a unit that stands behind the figure, as in "0.3 mg/L", where no
// unit is said elsewhere.
func cutUnit(name, text, unitText string) (string, string) {
	if unitText != "" {
		return text, unitText
	}
	at := figureForm.FindStringIndex(text)
	if at == nil {
		return text, unitText
	}
	if tail := strings.TrimSpace(text[at[1]:]); reads(name, tail) {
		return text[:at[1]], tail
	}
	return text, unitText
}

// unitOf takes the words that mean no unit away.
func unitOf(s string) string {
	switch folded(s) {
	case "none", "unitless", "n/a", "na", "-":
		return ""
	}
	return strings.TrimSpace(s)
}

// complete adds fraction and basis from their own columns and checks that the
// whole can be read.
func complete(rec record, res *water.Result) *refusal {
	if hasFraction(res.Analyte) {
		f, ok := water.ParseFraction(rec.get(pFraction))
		if !ok {
			return &refusal{"fraction", fmt.Sprintf("fraction %q", rec.get(pFraction)), "want total, recoverable, dissolved, suspended or filtered"}
		}
		if res.Fraction == water.Unspecified {
			res.Fraction = f
		}
		if res.Fraction == water.Unspecified {
			res.Fraction = saidFiltered(rec)
		}
	} else if res.Fraction != water.FerrousIron {
		res.Fraction = water.Unspecified
	}
	if b := rec.get(pBasis); b != "" && res.Analyte.Dimension() != water.OfCount {
		res.Basis = b
	}
	if res.Sign == water.Present || res.Sign == water.Absent {
		return nil
	}
	asked := *res
	if res.Sign == water.Below && res.Value == 0 {
		if res.Unit == "" {
			return nil
		}
		asked.Value = 1 // no amount, but the unit and basis must be ones that are read
	}
	if _, err := asked.Amount(); err != nil {
		return refusalOf(err, res.Unit)
	}
	beside := one(" ", oneLine(res.Unit), basisBeside(*res)) // what will stand in the book must read back
	if _, err := water.ParseResult(string(res.Analyte), strconv.FormatFloat(asked.Value, 'g', -1, 64), beside, res.Place); err != nil {
		return refusalOf(err, beside)
	}
	if err := book.Possible(*res); err != nil {
		return &refusal{"impossible", err.Error(), "look at the decimal point, the unit and the name in the file"}
	}
	return nil
}

// saidFiltered reads a yes or no on filtering; it counts for metals, whose
// fraction matters, and not for what the filter passes anyway.
func saidFiltered(rec record) water.Fraction {
	metal := strings.HasPrefix(folded(rec.get(pGroup)), "metals")
	switch f := folded(rec.get(pFiltered)); {
	case metal && (f == "n" || f == "no" || f == "false"):
		return water.Total
	case f == "y" || f == "yes" || f == "true":
		return water.Dissolved
	}
	return water.Unspecified
}

// hasFraction reports whether a fraction means anything for a: not for what is
// read in the whole water, and not for what is a fraction already.
func hasFraction(a water.Analyte) bool {
	switch a {
	case water.TDS, water.TSS, water.Oxygen, water.CO2, water.Methane:
		return false
	}
	switch a.Dimension() {
	case water.OfMass, water.OfNitrogen, water.OfPhosphorus, water.OfSulfide, water.OfAlkalinity, water.OfHardness, water.OfRadioactivity:
		return true
	}
	return false
}

func refusalOf(err error, unitText string) *refusal {
	say := err.Error()
	switch {
	case strings.Contains(say, "is not a number") || strings.Contains(say, "is not a result"):
		return &refusal{"not-a-number", say, ""}
	case strings.Contains(say, "basis"):
		return &refusal{"basis", say, ""}
	case strings.Contains(say, "unit") || strings.Contains(say, "want"):
		return &refusal{"unit", say, ""}
	}
	return &refusal{"impossible", say, ""}
}

// setLimit keeps the limit beside a figure, in the figure's unit, and tells
// whether the figure lies below it: an estimate.
func setLimit(rec record, res *water.Result, limits []limit) bool {
	l, ok := best(limits, notDetected)
	if !ok || res.Sign == water.Present || res.Sign == water.Absent {
		return false
	}
	v, ok := limitIn(res, l)
	if !ok {
		return false
	}
	res.Limit = &v
	return res.Sign == water.Exact && res.Value < v
}

// limitIn turns a limit into the unit of a result.
func limitIn(res *water.Result, l limit) (float64, bool) {
	v, _ := number(l.value)
	lu := unitOf(l.unit)
	if lu == "" || folded(lu) == folded(res.Unit) {
		return v, v >= 0
	}
	as, one := *res, *res
	as.Sign, as.Value, as.Unit, as.Limit = water.Exact, v, lu, nil
	one.Sign, one.Value, one.Limit = water.Exact, 1, nil
	a, errA := as.Amount()
	b, errB := one.Amount()
	if errA != nil || errB != nil {
		return 0, false
	}
	x, _ := a.Canonical()
	y, _ := b.Canonical()
	if y == 0 || math.IsNaN(x/y) || math.IsInf(x/y, 0) || x/y < 0 {
		return 0, false
	}
	return x / y, true
}

// notes gathers the remarks on one result.
func notes(rec record, res water.Result, estimated bool) string {
	est := ""
	if estimated {
		est = "estimated: below its quantitation limit"
	}
	cond := rec.get(pCondition)
	if c := conditionOf(cond); c == notDetected || c == noCondition {
		cond = ""
	}
	kind := rec.get(pValueType)
	if folded(kind) == "actual" {
		kind = ""
	}
	stat := one(" ", rec.get(pStatistic), rec.get(pTimeBasis))
	if strings.HasPrefix(stat, "MPN") {
		stat = ""
	}
	status := rec.get(pStatus)
	if s := folded(status); s == "accepted" || s == "final" || s == "approved" {
		status = ""
	}
	dry := rec.get(pWeight)
	if dry != "" {
		dry = "weighed " + strings.ToLower(dry)
	}
	return one("; ", strings.TrimSpace(res.Note), rec.get(pQualifier), cond, est, stat, dry, folded(kind), folded(status),
		plainComment(rec.get(pComment)), rec.get(pLabComment), rec.get(pNote))
}

// plainComment leaves out the comparison with federal limits that an agency's
// program adds to a row: limits are looked up afresh here.
func plainComment(s string) string {
	for _, w := range []string{"SMCL", "MCL", "ALE"} {
		if strings.Contains(s, w) && (strings.HasPrefix(s, ">") || strings.Contains(s, "of "+w) || strings.Contains(s, "% of")) {
			return ""
		}
	}
	return s
}

func received(rec record) string {
	value := rec.get(pValue)
	if rec.raw != "" {
		value = rec.raw
	}
	if value == "" {
		value = one(" ", rec.get(pCondition), one(" ", rec.get(pLimit), rec.get(pLimitUnit)))
		if value != "" && rec.get(pCondition) == "" {
			value = "empty, limit " + value
		}
	}
	return one(": ", one(", ", first(rec.name, rec.get(pName)), rec.get(pFraction)), one(" ", value, rec.get(pUnit), rec.get(pBasis)))
}

// number reads a plain figure.
func number(s string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(s), ",", ""), 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}
