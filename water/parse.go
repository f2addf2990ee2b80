package water

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// undetected are the words for "looked for and not found".
var undetected = map[string]bool{
	"nd": true, "n.d.": true, "bdl": true, "u": true, "not detected": true, "none detected": true, "non detect": true,
	"non-detect": true, "nondetect": true, "bql": true, "brl": true, "below detection limit": true,
	"below reporting limit": true, "below detection": true, "not detected at reporting limit": true,
	"not detected at detection limit": true, "below method detection limit": true, "trace": true, "tr": true,
	"present below quantification limit": true, "detected not quantified": true, "<mdl": true, "<rl": true, "*non-detect": true,
	"below limit of detection": true, "<lod": true, "<loq": true, "bld": true, "none found": true,
}

// absent and present are the words of a presence test.
var (
	absent = map[string]bool{"absent": true, "a": true, "negative": true, "neg": true, "not present": true,
		"none": true, "no growth": true, "-": true}
	present = map[string]bool{"present": true, "p": true, "positive": true, "pos": true, "detected": true, "*present": true, "+": true}
	tooMany = map[string]bool{"tntc": true, "too numerous to count": true, "confluent": true}
)

// unread are the words that are no result at all.
var unread = map[string]bool{"": true, "nt": true, "not tested": true, "na": true, "n/a": true, "not analyzed": true,
	"not analysed": true, "not reported": true, "see remark for text": true, "unable to measure": true}

// ParseResult reads one result as it was written: the name of the analyte, the
// text of the figure and its unit. It reads "<0.05", "ND", "TNTC", "absent",
// "0.2 J", "1,850" and a unit such as "mg/L as N".
//
// Too many to count is Above with the 200 colonies at which plates are no longer
// counted (from memory: Standard Methods 9222 B). A non-detect without a figure
// is Below with a Value of zero: Amount refuses it until Limit is filled in.
func ParseResult(name, text, unit string, p Place) (Result, error) {
	a, f, basis, ok := ParseAnalyte(name)
	if !ok {
		return Result{}, fmt.Errorf("%q is not the name of an analyte known here", name)
	}
	r := Result{Analyte: a, Fraction: f, Basis: basis, Unit: strings.TrimSpace(unit), Place: p}
	if err := r.read(text); err != nil {
		return Result{}, fmt.Errorf("%s: %w", a.Name(), err)
	}
	if r.Sign == Present || r.Sign == Absent {
		return r, nil
	}
	if r.Sign == Below && r.Value == 0 {
		_, _, err := r.unitAndBasis()
		return r, err
	}
	_, err := r.Amount()
	return r, err
}

// plateLimit is the count above which colonies run together.
const plateLimit = 200

// read takes the sign, the figure and the qualifier out of the text.
func (r *Result) read(text string) error {
	s := strings.ToLower(strings.TrimSpace(text))
	counted := r.Analyte.Dimension() == OfCount || r.Analyte.Dimension() == OfDays
	switch {
	case unread[s]:
		return fmt.Errorf("%q is not a result", text)
	case tooMany[s] && counted:
		r.Sign, r.Value, r.Note = Above, plateLimit, strings.TrimSpace(text)
		return nil
	case present[s] && counted:
		r.Sign = Present
		return nil
	case (absent[s] || undetected[s]) && counted:
		r.Sign = Absent
		return nil
	case undetected[s] || s == "none" || s == "absent":
		r.Sign, r.Note = Below, strings.TrimSpace(text)
		return nil
	}
	return r.readNumber(text)
}

// readNumber reads "< 0.05 U", "1,850", "0.2 J", "ND (0.05)", "day 8" and the like.
func (r *Result) readNumber(text string) error {
	s := strings.TrimSpace(text)
	s = r.readSign(s)
	if r.Analyte.Dimension() == OfDays {
		s = strings.TrimSpace(strings.TrimPrefix(strings.ToLower(s), "day"))
	}
	end := numberEnd(s)
	v, err := number(s[:end])
	if err != nil {
		return fmt.Errorf("%q is not a number; want, say, 0.3, <0.05, ND or absent", text)
	}
	r.Value = v
	r.Note = strings.TrimSpace(strings.Trim(s[end:], " )"))
	if r.Sign == Exact && nondetectFlag(r.Note) {
		r.Sign = Below
	}
	if r.Analyte.Dimension() == OfDays && r.Unit == "" {
		r.Unit = "days"
	}
	return nil
}

// signs are the marks and words that stand before a figure.
var signs = []struct {
	mark string
	sign Sign
}{
	{"<=", Below}, {"≤", Below}, {"&lt;", Below}, {"<", Below}, {"less than", Below}, {"below", Below},
	{">=", Above}, {"≥", Above}, {"&gt;", Above}, {">", Above}, {"greater than", Above}, {"more than", Above},
	{"nd(", Below}, {"nd (", Below}, {"nd <", Below}, {"nd<", Below}, {"nd @", Below}, {"u ", Below},
}

func (r *Result) readSign(s string) string {
	low := strings.ToLower(s)
	for _, m := range signs {
		if strings.HasPrefix(low, m.mark) {
			r.Sign = m.sign
			return strings.TrimSpace(s[len(m.mark):])
		}
	}
	return s
}

// numberEnd returns where the figure at the start of s ends.
func numberEnd(s string) int {
	end := 0
	for end < len(s) {
		c := s[end]
		exponent := (c == 'e' || c == 'E') && end > 0 && digitFollows(s, end+1)
		signed := (c == '-' || c == '+') && (end == 0 || s[end-1] == 'e' || s[end-1] == 'E')
		if !(c >= '0' && c <= '9' || c == '.' || c == ',' || exponent || signed) {
			break
		}
		end++
	}
	return end
}

func digitFollows(s string, i int) bool {
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	return i < len(s) && s[i] >= '0' && s[i] <= '9'
}

// number reads a figure with or without thousands commas. A comma that does not
// part thousands is refused: it may be a decimal mark.
func number(s string) (float64, error) {
	if strings.Contains(s, ",") {
		whole, _, _ := strings.Cut(s, ".")
		groups := strings.Split(strings.TrimLeft(whole, "+-"), ",")
		for i, g := range groups {
			if len(g) != 3 && (i > 0 || len(g) > 3 || g == "") {
				return 0, fmt.Errorf("comma in %q does not part thousands", s)
			}
		}
		s = strings.ReplaceAll(s, ",", "")
	}
	v, err := strconv.ParseFloat(s, 64)
	if err == nil && (math.IsInf(v, 0) || math.IsNaN(v)) {
		err = fmt.Errorf("%q is out of range", s)
	}
	return v, err
}

// nondetectFlag reports whether a qualifier list says "not detected". The letters
// are the common set of laboratories: U, ND, BDL (common practice).
func nondetectFlag(note string) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(note), func(r rune) bool { return strings.ContainsRune(" ,;()", r) }) {
		switch w {
		case "u", "nd", "bdl", "uj":
			return true
		}
	}
	return false
}
