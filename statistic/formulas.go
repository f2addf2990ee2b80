package statistic

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	onTests  = "tests before and after"
	onCharts = "control charts"
	onCurves = "breakthrough of a bed"
)

// Sources that more than one formula or example names.
const (
	textbook  = "textbook"
	guidance  = "US EPA Unified Guidance 2009"
	aldicarb  = "published: " + guidance + ", example 21-1, as printed in the manual of EnvStats 3.1.0"
	cohenBook = "from memory: Cohen, Statistical Power Analysis, effect ½, paired"
	owenTable = "from memory: Owen 1963; Natrella, NBS Handbook 91, table A-7"
)

// measuredIn is one result as a laboratory prints it.
var measuredIn = formula.Own("result", "such as 0.3, <0.05 or >10", readValue, showValue, showValue, func(v Value) float64 { return v.Figure })

// wholeIn is a number of things.
var wholeIn = formula.Own("whole number", "", readWhole, showWhole, showWhole, func(n int) float64 { return float64(n) })

// boundIn tells on which side of a figure the answer lies.
var boundIn = formula.Choice("bound", []Sign{Exact, Below, Above}, func(s Sign) string { return [...]string{"as measured", "at most", "at least"}[s] })

func readValue(s string) (Value, error) {
	v, text := Value{}, strings.TrimSpace(s)
	switch {
	case strings.HasPrefix(text, "<"):
		v.Sign, text = Below, text[1:]
	case strings.HasPrefix(text, ">"):
		v.Sign, text = Above, text[1:]
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return Value{}, fmt.Errorf("%q is not a result such as 0.3, <0.05 or >10, in the unit of the other one", s)
	}
	v.Figure = x
	return v, nil
}

func showValue(v Value) formula.Amount {
	if v.Sign != Exact {
		return formula.Amount{Value: v.Figure, Words: v.String()}
	}
	return formula.Amount{Value: v.Figure}
}

func readWhole(s string) (int, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || v != math.Trunc(v) || math.Abs(v) > maxSamples {
		return 0, fmt.Errorf("%q is not a whole number up to %d", s, maxSamples)
	}
	return int(v), nil
}

func showWhole(n int) formula.Amount { return formula.Amount{Value: float64(n)} }

// Formulas lists the public formulas of this room that need no list of values.
func Formulas() []formula.Formula {
	return []formula.Formula{removalFormula(), pairsFormula(), sameSignFormula(), mcNemarFormula(), findFormula(), exceedanceFormula(),
		halfWidthFormula(), halfWidthSamplesFormula(), effectiveFormula(), tFormula(), toleranceFormula(),
		constantsFormula(), cusumRunFormula(), ewmaRunFormula(), breakthroughFormula(), thomasFormula(), bohartFormula()}
}

func confidenceIn() formula.In[float64] {
	return formula.Share.Takes("confidence", "", "confidence of the answer").Between("50 %", "99.99 %").
		Assume(unit.Digits(100*confidence.Value)+" %", confidence.From)
}

func samplesIn(low string) formula.In[int] {
	return wholeIn.Takes("samples", "n", "number of samples").Between(low, "10000")
}

func deviationIn(what string) formula.In[float64] {
	return plainFigure.Takes("standard_deviation", "s", what).Between("1e-9", "")
}

func alphaIn() formula.In[float64] {
	return formula.Share.Takes("false_alarm", "α", "chance to take for granted of finding what is not there").Between("0.01 %", "50 %").Assume("5 %", "usual level of a test")
}

func count(name, symbol, what string, n int) formula.Result {
	return wholeIn.Gives(name, symbol, what, n)
}

func removalFormula() formula.Formula {
	raw := measuredIn.Takes("raw_result", "I", "raw water").Between("1e-12", "")
	treated := measuredIn.Takes("treated_result", "E", "treated water of the same moment, in the same unit").Between("1e-12", "")
	const (
		definition = "definition"
		rule       = "rule: a treated non-detect bounds the removal from below, a raw one from above"
		swtr       = "from memory: US EPA Surface Water Treatment Rule, 40 CFR 141.70, 3 log is 99.9 %"
	)
	return formula.Formula{
		Name: "removal", Subject: onTests, What: "log and percent removal of one pair of raw and treated water",
		Inputs: formula.Inputs(raw, treated), Equation: "LRV = log10(I/E),  R = 100 (1 - E/I)", Range: "figures above zero; the limit stands for a non-detect", Error: "twice that of one analysis; percents are unsteady where the raw figure is small", Source: definition, Kind: source.Derived,
		Examples: formula.By(formula.On("raw_result=10", "treated_result=0.01").Is("log", "3", "1e-9", definition).Is("share", "99.9 %", "1e-6 %", swtr),
			formula.On("raw_result=10", "treated_result=<0.1").Is("log", "2", "1e-9", definition).Is("bound", "at least", "", rule),
			formula.On("raw_result=1", "treated_result=10").Is("share", "-900 %", "1e-6 %", "definition: ten times as much leaves")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			p := Pair{raw.Of(a), treated.Of(a)}
			lrv, ok := LogRemoval(p)
			if !ok {
				return formula.Outcome{}, fmt.Errorf("removal: raw_result %v and treated_result %v say nothing of removal; one of them must be a figure, or the limits must point apart", p.First, p.Second)
			}
			percent, _ := PercentRemoval(p)
			o := formula.Give(formula.Number("log removal").Gives("log", "LRV", "decades removed", lrv.Figure), formula.Share.Gives("share", "R", "removed", percent.Figure/100), boundIn.Gives("bound", "", "how to read both", lrv.Sign))
			if lrv.Figure < 0 {
				o = o.Say("more leaves than enters")
			}
			return o, nil
		},
	}
}

func pairsFormula() formula.Formula {
	d := plainFigure.Takes("difference", "δ", "least mean difference worth finding; log removal will do").Between("1e-9", "")
	s, alpha := deviationIn("standard deviation of the differences of pairs"), alphaIn()
	power := formula.Share.Takes("power", "1-β", "chance of finding the difference if it is there").Between("50 %", "99.9 %").Assume("80 %", "usual in planning a trial")
	two := formula.Yes.Takes("two_sided", "", "a fall is to be found as well as a rise").Assume("no", "treatment is asked whether it lowers")
	const apart = "normal approximation with Guenther's correction, computed outside the program"
	return formula.Formula{
		Name: "pairs_to_detect", Subject: onTests, What: "pairs of samples that a trial needs to find a difference by the paired t test",
		Inputs: formula.Inputs(d, s, alpha, power, two), Equation: "n = (z(1-α) + z(1-β))² s²/δ² + z(1-α)²/2, α/2 if two-sided; exact: least n with P(T' > t(1-α; n-1)) ≥ 1-β, T' noncentral t of δ√n/s", Range: "differences near normal, independent pairs", Error: "as the guess of s; the short form within one of the exact number", Source: "Guenther 1981 (correction from memory); definition of the noncentral t", Kind: source.FromMemory,
		Examples: formula.By(formula.On("difference=0.15", "standard_deviation=0.2").Is("approximate", "13", "0", apart),
			formula.On("difference=0.3", "standard_deviation=0.5").Is("approximate", "19", "0", apart),
			formula.On("difference=0.5", "standard_deviation=1", "two_sided=yes").Is("pairs", "34", "0", cohenBook).Is("power", "80.78 %", "0.05 %", cohenBook)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x := Detection{Difference: d.Of(a), SD: s.Of(a), Alpha: alpha.Of(a), Power: power.Of(a), TwoSided: two.Of(a)}
			n, err := ExactDetectionN(x)
			if err != nil {
				return formula.Outcome{}, err
			}
			short, err := DetectionN(x)
			if err != nil {
				return formula.Outcome{}, err
			}
			had, err := x.PowerOf(n)
			return formula.Give(count("pairs", "n", "exact", n), count("approximate", "n", "by the short form", short), formula.Share.Gives("power", "1-β", "that so many pairs have", had)), err
		},
	}
}

func sameSignFormula() formula.Formula {
	alpha := alphaIn()
	const def = "definition: 2·½^n at or under the level"
	return formula.Formula{
		Name: "same_sign_pairs", Subject: onTests, What: "pairs, all better or all worse, that make a difference sure by the sign test",
		Inputs: formula.Inputs(alpha), Equation: "least n with 2 · ½^n ≤ α", Range: "two-sided, no ties", Error: "exact", Source: "the sign test", Kind: source.Derived,
		Examples: formula.By(formula.On("false_alarm=5 %").Is("pairs", "6", "0", def), formula.On("false_alarm=6.25 %").Is("pairs", "5", "0", def+"; on the level is enough"), formula.On("false_alarm=1 %").Is("pairs", "8", "0", def)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(count("pairs", "n", "all of one sign", MinimumSameSign(alpha.Of(a)))), nil
		},
	}
}

func mcNemarFormula() formula.Formula {
	c := func(name, symbol, what string) formula.In[int] {
		return wholeIn.Takes(name, symbol, what).Between("0", "10000")
	}
	b, s := c("only_first_failed", "b", "samples that only the first failed"), c("only_second_failed", "c", "samples that only the second failed")
	return formula.Formula{
		Name: "failed_samples", Subject: onTests, What: "whether two units, or before and after, fail unequally often on the same samples (McNemar)",
		Inputs: formula.Inputs(b, s), Equation: "p = 2 P(X ≤ min(b, c)), X binomial (b + c, ½), at most 1", Range: "b + c at least 1; samples on which both agree say nothing", Error: "exact", Source: "McNemar, Psychometrika 12, 1947, in its exact form (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("only_first_failed=9", "only_second_failed=2").Is("chance", "6.543 %", "0.001 %", "definition: 2 (1 + 11 + 55)/2^11"),
			formula.On("only_first_failed=6", "only_second_failed=0").Is("chance", "3.125 %", "1e-9 %", "definition: 2/2^6"),
			formula.On("only_first_failed=4", "only_second_failed=4").Is("chance", "100 %", "1e-9 %", "definition: no difference")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			p, err := McNemar(b.Of(a), s.Of(a))
			return formula.Give(formula.Share.Gives("chance", "p", "of a difference so large, or larger, by luck alone", p.Both), formula.Share.Gives("one_sided", "", "the same, asking only whether the first fails more", p.Greater)), err
		},
	}
}
