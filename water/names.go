package water

import (
	"strings"
)

// ParseAnalyte reads the name of an analyte as the trade, a laboratory or a
// data portal writes it: "Fe, total", "Iron (II)", "NO3-N", "Hardness, Ca, Mg",
// "Alkalinity, total as CaCO3". It returns the fraction and the basis (such as
// "as N") if the name says them.
func ParseAnalyte(name string) (a Analyte, f Fraction, basis string, ok bool) {
	s := plain(name)
	if a, f, basis, ok = find(s); ok {
		return a, f, basis, true
	}
	rest, said := cutBasis(s)
	if a, f, basis, ok = find(rest); ok {
		return a, f, either(said, basis), true
	}
	rest, part := cutFraction(rest)
	a, f, basis, ok = find(rest)
	if !ok || (part != Unspecified && !a.hasFraction()) {
		return "", Unspecified, "", false
	}
	if f == Unspecified {
		f = part
	}
	return a, f, either(said, basis), true
}

func either(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// hasFraction reports whether a part of the water may be analysed for a alone.
func (a Analyte) hasFraction() bool {
	switch a.Dimension() {
	case OfPH, OfTemperature, OfPotential, OfOdour, OfPercent:
		return false
	}
	return true
}

var spellings = indexNames()

func indexNames() map[string]alias {
	index := make(map[string]alias, 8*len(table))
	for _, e := range table {
		put(index, alias{name: plain(string(e.id)), analyte: e.id})
		put(index, alias{name: plain(e.name), analyte: e.id})
		for s := range strings.SplitSeq(e.also, ";") {
			put(index, alias{name: plain(s), analyte: e.id})
		}
	}
	for _, a := range aliases {
		index[a.name] = a
	}
	return index
}

func put(index map[string]alias, a alias) {
	if a.name != "" {
		index[a.name] = a
	}
}

func find(s string) (Analyte, Fraction, string, bool) {
	a, ok := spellings[s]
	if !ok {
		return "", Unspecified, "", false
	}
	basis := a.basis
	if basis != "" {
		basis = "as " + basis
	}
	return a.analyte, a.fraction, basis, true
}

var lower = strings.NewReplacer(
	"₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "⁺", "+", "²", "2", "³", "3", "⁻", "", "⁴", "4",
	"µ", "u", "μ", "u")

// plain lowers a name and leaves only letters, digits, plus signs and single spaces.
func plain(s string) string {
	s = lower.Replace(strings.ToLower(s))
	var b strings.Builder
	gap := false
	for _, r := range s {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '+' {
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(r)
			continue
		}
		gap = true
	}
	return strings.ReplaceAll(strings.ReplaceAll(b.String(), " + ", "+"), "+ ", "+")
}

// formulas are the bases by their plain spelling, written as chemists do.
var formulas = indexFormulas()

func indexFormulas() map[string]string {
	index := map[string]string{}
	for f := range basisMass {
		index[strings.ToLower(f)] = f
	}
	return index
}

// cutBasis takes " as caco3" out of a plain name. The last "as" that is followed
// by a known formula counts.
func cutBasis(s string) (rest, basis string) {
	words := strings.Fields(s)
	for i := len(words) - 2; i > 0; i-- {
		f, ok := formulas[words[i+1]]
		if words[i] == "as" && ok {
			return strings.Join(append(words[:i:i], words[i+2:]...), " "), "as " + f
		}
	}
	return s, ""
}

// fractionWords are the words for a fraction, longest first.
var fractionWords = []struct {
	words    string
	fraction Fraction
}{
	{"filtered field and or lab", Dissolved},
	{"total recoverable", Recoverable},
	{"field filtered", Dissolved},
	{"filtered field", Dissolved},
	{"filtered lab", Dissolved},
	{"lab filtered", Dissolved},
	{"unfiltered field", Total},
	{"unfiltered lab", Total},
	{"non filterable particle", Suspended},
	{"total dissolved", Dissolved},
	{"recoverable", Recoverable},
	{"unfiltered", Total},
	{"acid soluble", Recoverable},
	{"total soluble", Dissolved},
	{"dissolved", Dissolved},
	{"suspended", Suspended},
	{"particulate", Suspended},
	{"filtered", Dissolved},
	{"filterable", Dissolved},
	{"soluble", Dissolved},
	{"ferrous", FerrousIron},
	{"total", Total},
	{"tot", Total},
	{"diss", Dissolved},
}

// ParseFraction reads a fraction in the words of a laboratory or a portal. An
// empty text is Unspecified; an unknown word is not ok.
func ParseFraction(s string) (Fraction, bool) {
	p := plain(s)
	if p == "" || p == "none" || p == "unspecified" {
		return Unspecified, true
	}
	if p == "fine" {
		return Fine, true
	}
	for _, w := range fractionWords {
		if p == w.words {
			return w.fraction, true
		}
	}
	return Unspecified, false
}

// cutFraction takes a fraction word out of the start or end of a plain name.
func cutFraction(s string) (string, Fraction) {
	for _, w := range fractionWords {
		if rest, ok := strings.CutSuffix(s, " "+w.words); ok {
			return rest, w.fraction
		}
		if rest, ok := strings.CutPrefix(s, w.words+" "); ok {
			return rest, w.fraction
		}
	}
	return s, Unspecified
}

var fractionNames = [...]string{"", "total", "recoverable", "dissolved", "fine", "suspended", "ferrous"}

// String returns the fraction in a word, "" if it was not said.
func (f Fraction) String() string {
	if f < 0 || int(f) >= len(fractionNames) {
		return "unknown fraction"
	}
	return fractionNames[f]
}
