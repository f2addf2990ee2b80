package statistic

import (
	"math"
	"time"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func sigmas(name, symbol, what string) formula.In[float64] {
	return formula.Number("standard deviations").Takes(name, symbol, what)
}

func shiftIn() formula.In[float64] {
	return sigmas("mean_shift", "δ", "shift of the mean, in standard deviations").Between("-10", "10").Assume("0", "in control: the run to a false alarm")
}

// ours makes a default of a factor's value.
func ours(i formula.In[float64], f source.Factor) formula.In[float64] {
	return i.Assume(unit.Digits(f.Value), f.From)
}

func runResult(v float64) formula.Result {
	return formula.Count.Gives("run", "ARL", "values, on the mean, until a signal", v)
}

func cusumRunFormula() formula.Formula {
	k := ours(sigmas("chart_slack", "k", "slack, in standard deviations").Between("0", "3"), cusumSlack)
	h := ours(sigmas("chart_limit", "h", "decision limit, in standard deviations").Between("0.1", "20"), cusumLimit)
	d := shiftIn()
	const book = "from memory: Montgomery, Introduction to Statistical Quality Control, run lengths of the tabular CUSUM"
	const closed = "closed approximation of Siegmund, computed outside the program"
	return formula.Formula{
		Name: "cusum_run_length", Subject: onCharts, What: "samples until a cumulative sum chart signals, falsely or rightly",
		Inputs: formula.Inputs(k, h, d), Equation: "L(u) = 1 + L(0) Φ(k - u - δ) + ∫ from 0 to h of L(x) φ(x + k - u - δ) dx;  1/ARL = 1/L⁺(0) + 1/L⁻(0)", Range: "independent normal values, mean and deviation known; answers to 1e8", Error: "under 1e-6; Siegmund's about 3 % for k ½ and h 4 to 5", Source: "Page 1954 (integral equation, from memory); Siegmund 1985 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("chart_slack=0.5", "chart_limit=5", "mean_shift=0").Is("run", "465", "1", book).Is("siegmund", "469", "0.5", closed),
			formula.On("chart_slack=0.5", "chart_limit=4", "mean_shift=0").Is("run", "168", "0.5", book), formula.On("chart_slack=0.5", "chart_limit=4", "mean_shift=1").Is("run", "8.38", "0.01", book).Is("siegmund", "8.3", "0.05", closed)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			run, err := CUSUMRunLength(k.Of(a), h.Of(a), d.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			s, err := SiegmundRunLength(k.Of(a), h.Of(a), d.Of(a))
			return formula.Give(runResult(run), formula.Count.Gives("siegmund", "", "the same by Siegmund's closed form", s)), err
		},
	}
}

func ewmaRunFormula() formula.Formula {
	l := ours(formula.Share.Takes("newest_weight", "λ", "weight of the newest value").Between("0.02", "1"), ewmaLambda)
	w := ours(sigmas("chart_width", "L", "limits, in standard deviations of the average").Between("0.1", "5"), ewmaWidth)
	d := shiftIn()
	const table = "from memory: Lucas and Saccucci 1990, table 3, as in Montgomery"
	return formula.Formula{
		Name: "ewma_run_length", Subject: onCharts, What: "samples until a moving average chart signals, falsely or rightly",
		Inputs: formula.Inputs(l, w, d), Equation: "L(u) = 1 + 1/λ ∫ from -A to A of L(x) φ((x - (1-λ) u)/λ - δ) dx,  A = L √(λ/(2-λ));  ARL = L(0)", Range: "independent normal values, mean and deviation known; final limits", Error: "under 1e-6; the opening limits shorten it slightly", Source: "Crowder 1987; Lucas and Saccucci 1990 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("newest_weight=0.2", "chart_width=2.962", "mean_shift=1").Is("run", "10.5", "0.06", table), formula.On("newest_weight=0.2", "chart_width=2.962", "mean_shift=0").Is("run", "500", "2.5", table),
			formula.On("newest_weight=1", "chart_width=3", "mean_shift=0").Is("run", "370.4", "0.05", "geometric run length of the plain chart, 1/0.0027")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			run, err := EWMARunLength(l.Of(a), w.Of(a), d.Of(a))
			return formula.Give(runResult(run)), err
		},
	}
}

func constantsFormula() formula.Formula {
	n := wholeIn.Takes("subgroup", "n", "values in each subgroup; 2 for moving ranges").Between("2", "100")
	const book = "from memory: Montgomery, Introduction to Statistical Quality Control, appendix of factors"
	return formula.Formula{
		Name: "chart_constants", Subject: onCharts, What: "constants that turn ranges and deviations of small subgroups into the deviation of single values",
		Inputs: formula.Inputs(n), Equation: "σ = R̄/d2 = s̄/c4;  mean ± A2 R̄, A2 = 3/(d2 √n);  range limit D4 R̄, D4 = 1 + 3 d3/d2", Range: "independent normal values", Error: "the books round to three places", Source: "definition, as in Montgomery, Introduction to Statistical Quality Control (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("subgroup=5").Is("d2", "2.326", "0.0005", book).Is("d3", "0.864", "0.0005", book).Is("c4", "0.9400", "0.00005", book).Is("a2", "0.577", "0.001", book).Is("d4", "2.114", "0.0015", book),
			formula.On("subgroup=2").Is("d2", "1.12838", "0.00001", "closed form 2/√π").Is("c4", "0.7979", "0.00005", book).Is("d4", "3.267", "0.0015", book)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d2, err2 := RangeMean(n.Of(a))
			d3, err3 := RangeSD(n.Of(a))
			c4, err4 := SDBias(n.Of(a))
			if err := first(err2, err3, err4); err != nil {
				return formula.Outcome{}, err
			}
			give := func(name, symbol, what string, v float64) formula.Result {
				return formula.Ratio.Gives(name, symbol, what, v)
			}
			return formula.Give(give("d2", "d2", "mean range over σ", d2), give("d3", "d3", "deviation of the range over σ", d3), give("c4", "c4", "mean of s over σ", c4),
				give("a2", "A2", "limit of the mean over the mean range", chartWidth/(d2*math.Sqrt(float64(n.Of(a))))), give("d4", "D4", "upper limit of the range over the mean range", 1+chartWidth*d3/d2)), nil
		},
	}
}

const (
	uranium = "published: uranium column study, J. Chem. Eng. Process Technol. 5:200, 2014, table 2"
	chu     = "Chu, J. Hazard. Mater. 177, 2010"
)

// hourly is one per hour in one per minute; the kinds are those of curves.
const hourly = 1.0 / 60

var (
	slopeKind = formula.Measured("rate of a curve", formula.Measure{Unit: "1/min", Size: 1}, formula.Measure{Unit: "1/min", Size: 1}, formula.Measure{Unit: "1/h", Size: hourly}, formula.Measure{Unit: "1/day", Size: hourly / 24})
	bedRate   = formula.Measured("rate of uptake", formula.Measure{Unit: "mL/min/mg", Size: 1}, formula.Measure{Unit: "mL/min/mg", Size: 1}, formula.Measure{Unit: "L/min/mg", Size: 1000})
	onMedia   = formula.Measured("capacity by mass", formula.Measure{Unit: "mg/g", Size: 1}, formula.Measure{Unit: "mg/g", Size: 1}, formula.Measure{Unit: "g/kg", Size: 1})
	inBed     = formula.Measured("capacity by volume of bed", formula.Measure{Unit: "mg/L of bed", Size: 1}, formula.Measure{Unit: "mg/L of bed", Size: 1}, formula.Measure{Unit: "g/L of bed", Size: 1000})
)

func leakIn() formula.In[float64] {
	return formula.Share.Takes("breakthrough_share", "f", "treated over raw at which the bed counts as spent").Between("0.1 %", "99.9 %")
}

func inMinutes(v float64) time.Duration { return time.Duration(v * float64(time.Minute)) }

// curveTimes are the answers of a curve in minutes.
func curveTimes(c Logistic, f float64) (formula.Outcome, error) {
	t, err := c.TimeAt(f)
	if err != nil {
		return formula.Outcome{}, err
	}
	const most = math.MaxInt64 / float64(time.Minute)
	if math.Abs(t) >= most || c.Tau >= most {
		return formula.Outcome{}, within("time of breakthrough", "time in minutes", math.Max(math.Abs(t), c.Tau), 0, most)
	}
	o := formula.Give(formula.Time.Gives("time", "t", "until the share is reached", inMinutes(math.Max(0, t))), formula.Share.Gives("start", "", "treated over raw at the start, by the curve", c.At(0)))
	if t < 0 {
		o = o.Say("the curve starts above this share: the bed leaks more than that from the first minute")
	}
	return o, nil
}

func breakthroughFormula() formula.Formula {
	k := slopeKind.Takes("curve_rate", "k", "rate of the curve").Between("0.000001 1/min", "1000 1/min")
	tau := formula.Time.Takes("half_time", "τ", "time of half breakthrough").Between("1 s", "50 years")
	f := leakIn()
	return formula.Formula{
		Name: "breakthrough_time", Subject: onCurves, What: "time until a bed lets a share through, by the logistic curve of a column test",
		Inputs: formula.Inputs(k, tau, f), Equation: "t = τ + ln(f/(1-f))/k", Range: "the feed and flow of the test", Error: "the curve is even about τ, which real beds are not quite", Source: "Yoon and Nelson, Am. Ind. Hyg. Assoc. J. 45, 1984 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("curve_rate=0.041 1/min", "half_time=173.4 min", "breakthrough_share=5 %").Is("time", "101.6 min", "0.05 min", uranium+", by arithmetic"),
			formula.On("curve_rate=0.041 1/min", "half_time=173.4 min", "breakthrough_share=50 %").Is("time", "173.4 min", "0.001 min", "definition of τ"),
			formula.On("curve_rate=0.001 1/min", "half_time=60 min", "breakthrough_share=5 %").Is("time", "0 s", "0 s", "limit: a curve that starts above the share has reached it").Is("start", "48.5 %", "0.01 %", "by hand: 1/(1 + exp(0.06))")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return curveTimes(Logistic{k.Of(a), tau.Of(a).Minutes()}, f.Of(a))
		},
	}
}

func feedIn() formula.In[unit.Concentration] {
	return formula.MgL.Takes("bed_feed", "C0", "what enters the bed").Between("0.000001 mg/L", "100000 mg/L")
}

func uptakeIn() formula.In[float64] {
	return bedRate.Takes("uptake_rate", "kTh", "rate of uptake").Between("0.000001 mL/min/mg", "1000000 mL/min/mg")
}

// withCurve puts the letters of the curve before its time.
func withCurve(c Logistic, f float64) (formula.Outcome, error) {
	o, err := curveTimes(c, f)
	if err != nil {
		return formula.Outcome{}, err
	}
	o.Results = append(o.Results, formula.Time.Gives("half_time", "τ", "of half breakthrough", inMinutes(c.Tau)), slopeKind.Gives("curve_rate", "k", "of the curve", c.K))
	return o, nil
}

func thomasFormula() formula.Formula {
	r, q := uptakeIn(), onMedia.Takes("media_capacity", "q0", "capacity of the media").Between("0.000001 mg/g", "1000 mg/g")
	m, w := formula.Mass.Takes("media_mass", "m", "mass of media").Between("0.000001 lb", "100000 lb"), formula.Flow.Takes("bed_flow", "Q", "flow through the bed").Between("0.000001 gpm", "1000 gpm")
	c, f := feedIn(), leakIn()
	return formula.Formula{
		Name: "thomas_breakthrough", Subject: onCurves, What: "time until a bed lets a share through, by the capacity of its media (Thomas)",
		Inputs: formula.Inputs(r, q, m, w, c, f), Equation: "k = kTh C0,  τ = q0 m/(C0 Q),  t = τ + ln(f/(1-f))/k", Range: "the rate holds for the grain and loading of the test", Error: "as breakthrough_time; a small column fits a full bed only at the same contact time", Source: "Thomas 1944; the identity: " + chu, Kind: source.Published,
		Examples: formula.By(formula.On("uptake_rate=0.410 mL/min/mg", "media_capacity=3.854 mg/g", "media_mass=4.5 g", "bed_flow=0.001 L/min", "bed_feed=100 mg/L", "breakthrough_share=5 %").
			Is("half_time", "173.4 min", "0.1 min", uranium).Is("curve_rate", "0.041 1/min", "0.0005 1/min", uranium).Is("time", "101.6 min", "0.1 min", uranium+", by arithmetic")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x, err := Thomas{Rate: r.Of(a) / 1000, Capacity: q.Of(a), Mass: m.Of(a).G(), Flow: w.Of(a).LPerMin(), Feed: c.Of(a).MgPerL()}.Logistic()
			if err != nil {
				return formula.Outcome{}, err
			}
			return withCurve(x, f.Of(a))
		},
	}
}

func bohartFormula() formula.Formula {
	r, n := uptakeIn(), inBed.Takes("bed_capacity", "N0", "capacity of the bed").Between("0.001 mg/L of bed", "1000000 mg/L of bed")
	z, u := formula.Length.Takes("bed_column", "Z", "depth of the bed").Between("0.01 ft", "100 ft"), formula.Loading.Takes("bed_velocity", "u", "flow per area of the open bed").Between("0.001 gpm/ft2", "100 gpm/ft2")
	c, f := feedIn(), leakIn()
	const hand = "by hand: 100 bed volumes of 6 min"
	return formula.Formula{
		Name: "bohart_adams_breakthrough", Subject: onCurves, What: "time until a bed lets a share through, by the capacity and depth of the bed (Bohart-Adams)",
		Inputs: formula.Inputs(r, n, z, u, c, f), Equation: "k = kTh C0,  τ = N0 Z/(C0 u),  t = τ + ln(f/(1-f))/k", Range: "k τ above 3", Error: "as breakthrough_time; below k τ of 3 the full equation differs", Source: "Bohart and Adams, J. Am. Chem. Soc. 42, 1920 (from memory); the identity: " + chu, Kind: source.FromMemory,
		Examples: formula.By(formula.On("uptake_rate=1 mL/min/mg", "bed_capacity=1000 mg/L of bed", "bed_column=1 m", "bed_velocity=10 m/h", "bed_feed=10 mg/L", "breakthrough_share=50 %").
			Is("half_time", "600 min", "0.1 min", hand).Is("time", "600 min", "0.1 min", hand).Is("curve_rate", "0.01 1/min", "1e-9 1/min", "by hand: 1 mL/min/mg of 10 mg/L")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			b := BohartAdams{Rate: r.Of(a) / 1000, Capacity: n.Of(a), Depth: z.Of(a).M(), Velocity: metresPerMinute(u.Of(a)), Feed: c.Of(a).MgPerL()}
			x, err := b.Logistic()
			if err != nil {
				return formula.Outcome{}, err
			}
			o, err := withCurve(x, f.Of(a))
			if x.K*x.Tau < leastSteps {
				o = o.Say("k τ is under 3: the full equation of Bohart and Adams differs from this curve")
			}
			return o, err
		},
	}
}

// leastSteps is the k·τ below which the 1 that the logistic curve leaves out
// counts: it adds exp(−kτ), 5 % at 3.
const leastSteps = 3

// metresPerMinute is a loading as a velocity over the open bed.
func metresPerMinute(l unit.Loading) float64 {
	flow := unit.GPM(l.GPMPerFt2()).LPerMin() / 1000 // m³/min on one square foot
	foot := unit.Ft(1).M()
	return flow / (foot * foot)
}
