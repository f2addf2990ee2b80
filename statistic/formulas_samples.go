package statistic

import (
	"wellwright/formula"
	"wellwright/source"
)

func findFormula() formula.Formula {
	bad, c := formula.Share.Takes("bad_share", "p", "share of all results that are bad").Between("0.1 %", "99 %"), confidenceIn()
	const wilks = "from memory: Wilks 1941, the 59 of 95/95 and 29 of 90/95"
	return formula.Formula{
		Name: "samples_to_find", Subject: onTests, What: "samples that show at least one bad result if a share of all is bad; the greatest of so many is an upper tolerance limit",
		Inputs: formula.Inputs(bad, c), Equation: "least n with (1 - p)^n ≤ 1 - confidence", Range: "independent samples, any distribution", Error: "exact", Source: "Wilks 1941", Kind: source.Published,
		Examples: formula.By(formula.On("bad_share=5 %", "confidence=95 %").Is("samples", "59", "0", wilks), formula.On("bad_share=10 %", "confidence=95 %").Is("samples", "29", "0", wilks),
			formula.On("bad_share=50 %", "confidence=75 %").Is("samples", "2", "0", "by hand: ½ · ½ is ¼")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			n, err := MaximumN(1-bad.Of(a), c.Of(a))
			return formula.Give(count("samples", "n", "needed", n)), err
		},
	}
}

func exceedanceFormula() formula.Formula {
	n, c := samplesIn("1"), confidenceIn()
	k := wholeIn.Takes("exceedances", "k", "samples among them over the limit").Between("0", "10000")
	const none, table = "definition: 1 - 0.05^(1/n)", "from memory: Clopper-Pearson table, one-sided 95 %"
	return formula.Formula{
		Name: "exceedance_upper", Subject: onTests, What: "share of all water that may still be over a limit, by how many of the samples were",
		Inputs: formula.Inputs(k, n, c), Equation: "P(X ≤ k | n, p) = 1 - confidence; k = 0: p = 1 - (1 - confidence)^(1/n)", Range: "k to n, independent samples", Error: "exact, on the safe side", Source: "Clopper and Pearson 1934", Kind: source.Published,
		Care: "for bacteria and nitrate one sample over the limit is enough to act on, whatever the share",
		Examples: formula.By(formula.On("exceedances=0", "samples=5", "confidence=95 %").Is("share", "45 %", "0.51 %", none), formula.On("exceedances=0", "samples=30", "confidence=95 %").Is("share", "9.5 %", "0.05 %", none),
			formula.On("exceedances=1", "samples=10", "confidence=95 %").Is("share", "39.4 %", "0.05 %", table), formula.On("exceedances=4", "samples=4", "confidence=95 %").Is("share", "100 %", "0 %", "definition: all were over")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			p, err := ExceedanceUpper(k.Of(a), n.Of(a), c.Of(a))
			return formula.Give(formula.Share.Gives("share", "p", "over the limit, at most", p)), err
		},
	}
}

// plainFigure is a figure in whatever unit the samples share.
var plainFigure = formula.Number("figure in the common unit")

func halfWidthFormula() formula.Formula {
	n, s, c := samplesIn("2"), deviationIn("standard deviation of single values"), confidenceIn()
	return formula.Formula{
		Name: "half_width", Subject: onTests, What: "how far the mean of some samples may lie from the true mean",
		Inputs: formula.Inputs(n, s, c), Equation: "h = t((1 + confidence)/2; n-1) s/√n", Range: "independent values, near normal", Error: "s is itself uncertain by about 1/√(2n)", Source: textbook, Kind: source.Derived,
		Examples: formula.By(formula.On("samples=4", "standard_deviation=4.9349", "confidence=95 %").Is("half_width", "7.853", "0.0005", aldicarb),
			formula.On("samples=8", "standard_deviation=4.9349", "confidence=95 %").Is("half_width", "4.126", "0.0005", aldicarb)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			h, err := HalfWidth(n.Of(a), s.Of(a), c.Of(a))
			return formula.Give(plainFigure.Gives("half_width", "h", "on each side of the mean, in the unit of s", h)), err
		},
	}
}

func halfWidthSamplesFormula() formula.Formula {
	h := plainFigure.Takes("half_width", "h", "how far the mean may be off, in the unit of s").Between("1e-9", "")
	s, c := deviationIn("standard deviation of single values"), confidenceIn()
	return formula.Formula{
		Name: "samples_for_half_width", Subject: onTests, What: "samples that bring the mean within a wanted distance of the true mean",
		Inputs: formula.Inputs(h, s, c), Equation: "least n with t((1 + confidence)/2; n-1) s/√n ≤ h", Range: "to a million samples; independent values, near normal", Error: "as the guess of s", Source: textbook + "; " + guidance + ", chapter 21 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("half_width=2.31", "standard_deviation=4.9349", "confidence=95 %").Is("samples", "20", "0", aldicarb)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			n, err := HalfWidthN(h.Of(a), s.Of(a), c.Of(a))
			return formula.Give(count("samples", "n", "needed", n)), err
		},
	}
}

func effectiveFormula() formula.Formula {
	n := samplesIn("1")
	r := formula.Number("correlation").Takes("lag_one", "r", "correlation of each sample with the one before it").Between("-0.99", "0.99")
	return formula.Formula{
		Name: "effective_samples", Subject: onTests, What: "independent samples that a run of alike ones is worth",
		Inputs: formula.Inputs(n, r), Equation: "n' = n (1 - r)/(1 + r), r below 0 taken as 0", Range: "samples at even steps, long series, first-order process", Error: "r of a short series is off by about 1/√n", Source: "textbook (Bayley and Hammersley 1946, from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("samples=30", "lag_one=0.5").Is("effective", "10", "1e-9", "by hand: 30 · ½/1½"), formula.On("samples=30", "lag_one=-0.2").Is("effective", "30", "0", "rule: never more than were taken")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x, err := EffectiveN(n.Of(a), r.Of(a))
			return formula.Give(formula.Count.Gives("effective", "n'", "samples' worth", x)), err
		},
	}
}

func tFormula() formula.Formula {
	p := formula.Share.Takes("probability", "p", "probability that a value stays below; 97.5 % for a two-sided 95 %").Between("0.01 %", "99.99 %")
	df := formula.Count.Takes("degrees_of_freedom", "ν", "samples less one, for a mean").Between("1", "1e9")
	const table = "published: table of Student's t, two-sided 95 %"
	return formula.Formula{
		Name: "student_t", Subject: onTests, What: "Student's t, by which intervals and tests of a few samples are made",
		Inputs: formula.Inputs(p, df), Equation: "P(T ≤ t | ν) = p", Range: "normal values", Error: "under 1e-9", Source: "definition (Student 1908)", Kind: source.Published,
		Examples: formula.By(formula.On("probability=97.5 %", "degrees_of_freedom=9").Is("t", "2.262", "0.0005", table), formula.On("probability=97.5 %", "degrees_of_freedom=3").Is("t", "3.182", "0.0005", table),
			formula.On("probability=97.5 %", "degrees_of_freedom=1").Is("t", "12.7062", "0.00005", "closed form tan(0.475 π)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t, err := TQuantile(p.Of(a), df.Of(a))
			return formula.Give(formula.Ratio.Gives("t", "t", "quantile", t)), err
		},
	}
}

func toleranceFormula() formula.Formula {
	n, c := samplesIn("2"), confidenceIn()
	cover := formula.Share.Takes("coverage", "", "share of all values that is to stay under the limit").Between("50 %", "99.9 %").Assume("95 %", "usual in groundwater monitoring")
	return formula.Formula{
		Name: "tolerance_factor", Subject: onTests, What: "standard deviations above the mean of some samples under which a share of all values stays",
		Inputs: formula.Inputs(n, cover, c), Equation: "k = t'(confidence; n-1, z(coverage) √n)/√n; limit = mean + k s", Range: "n from 2 to 10000, normal values, or logs of lognormal ones", Error: "under 1e-6 for normal values, far off for skewed ones", Source: "definition; Owen 1963; " + guidance + ", chapter 17 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("samples=10", "coverage=95 %", "confidence=95 %").Is("k", "2.911", "0.0005", "from memory: "+guidance+", table 17-3"), formula.On("samples=2", "coverage=95 %", "confidence=95 %").Is("k", "26.26", "0.005", owenTable),
			formula.On("samples=10", "coverage=99 %", "confidence=99 %").Is("k", "5.074", "0.002", owenTable)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			k, err := ToleranceFactor(n.Of(a), cover.Of(a), c.Of(a))
			return formula.Give(formula.Ratio.Gives("k", "k", "standard deviations above the mean", k)), err
		},
	}
}
