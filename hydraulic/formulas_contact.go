package hydraulic

import (
	"errors"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	swtr        = "US EPA surface water treatment guidance manual, 1991, table E-7 (from memory)"
	contactCare = "contact credit is a rule for clear water; who may rely on it for a public supply is the health department's to say"
)

// The names of tanks by how they are built.
var bafflingNames = [...]string{NoContact: "one connection", Unbaffled: "unbaffled", UnbaffledSpread: "diffusers", PoorBaffling: "poor", AverageBaffling: "average",
	SuperiorBaffling: "superior", NearPlugFlow: "near plug flow", PlugFlow: "pipe or coil"}

func contactFormulas() []formula.Formula {
	return []formula.Formula{t10Formula(), seriesT10Formula(), ctFormula(), virusFormula(), giardiaFormula(), FeedRateFormula(), doseFormula()}
}

func residualIn() formula.In[unit.Chlorine] {
	return formula.Chlorine.Takes("residual", "C", "free residual at the end of the contact").Between("0 mg/L as Cl2", "20 mg/L as Cl2")
}

func phIn() formula.In[unit.PH] { return formula.PH.Takes("ph", "pH", "pH").Between("6", "9") }

func t10Formula() formula.Formula {
	b := formula.Choice("baffling", []Baffling{NoContact, Unbaffled, UnbaffledSpread, PoorBaffling, AverageBaffling, SuperiorBaffling, NearPlugFlow, PlugFlow},
		func(b Baffling) string { return bafflingNames[b] }).Takes("baffling", "f", "how the tank is built")
	v, q := formula.Volume.Takes("volume", "V", "least working volume").Between("0 gal", "100000 gal"), flowIn("peak_flow", "Q", "peak flow").Between("0.01 gpm", "5000 gpm")
	const pa = "factor published: Pennsylvania DEP; volume over flow by hand"
	return formula.Formula{
		Name: "contact_t10", Subject: onContact, What: "time that nine tenths of the water stays at least, for disinfection credit",
		Inputs: formula.Inputs(b, v, q), Equation: "T10 = f V / Q", Range: "steady flow", Error: "a tracer test may differ by half", Source: "US EPA surface water treatment guidance, 1991 (from memory)", Kind: source.FromMemory, Care: contactCare,
		Factors: []source.Factor{baffles[Unbaffled], baffles[PoorBaffling], baffles[AverageBaffling], baffles[SuperiorBaffling]},
		Examples: formula.By(formula.On("baffling=poor", "volume=120 gal", "peak_flow=10 gpm").Is("t10", "3.6 min", "0.001 min", pa),
			formula.On("baffling=unbaffled", "volume=120 gal", "peak_flow=10 gpm").Is("t10", "1.2 min", "0.001 min", pa)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			f := a.Factors.Of(b.Of(a).Factor())
			return formula.Give(formula.Time.Gives("t10", "T10", "credited", T10(f, v.Of(a), q.Of(a))), formula.Time.Gives("mean", "T", "volume over flow, not credited", T10(1, v.Of(a), q.Of(a)))).
				With(sym("f", f, "")), nil
		},
	}
}

func seriesT10Formula() formula.Formula {
	n := formula.Count.Takes("tanks", "N", "equal mixed tanks in series; a fraction is a fitted value").Between("1", "200")
	const gamma = "gamma distribution, general-purpose library SciPy 1.10.1"
	return formula.Formula{
		Name: "tanks_in_series_t10", Subject: onContact, What: "T10 over the mean time for tanks in series",
		Inputs: formula.Inputs(n), Equation: "1 - e^(-N x) Σ_{k<N} (N x)^k/k! = 0.10,  x = T10/T", Source: "gamma distribution of residence times, textbook", Kind: source.Published,
		Examples: formula.By(formula.On("tanks=3").Is("factor", "0.367", "0.0006", gamma), formula.On("tanks=10").Is("factor", "0.622", "0.0006", gamma)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x, err := SeriesT10(n.Of(a))
			return formula.Give(formula.Ratio.Gives("factor", "x", "T10 over the mean time", x)), err
		},
	}
}

func ctFormula() formula.Formula {
	c, t := residualIn().Between("0 mg/L as Cl2", "1000 mg/L as Cl2"), formula.Time.Takes("contact", "T", "T10, or the time of standing").Between("0 s", "30 days")
	return formula.Formula{
		Name: "ct_had", Subject: onContact, What: "residual times time",
		Inputs: formula.Inputs(c, t), Equation: "CT = C T", Source: "definition", Kind: source.Derived, Care: contactCare,
		Examples: formula.By(formula.On("residual=2 mg/L as Cl2", "contact=360 min").Is("ct", "720 mg·min/L", "0.001 mg·min/L", "published: CDC Emerging Infectious Diseases, 1999, table 2"),
			formula.On("residual=20 mg/L as Cl2", "contact=12.75 h").Is("ct", "255 mg h/L", "0.001 mg h/L", "published: Sci. Total Environ. 720:137451, 2020, the product for Cryptosporidium")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			ct := CTOf(c.Of(a), t.Of(a))
			return formula.Give(ctIn.Gives("ct", "CT", "had", ct.MgMinPerL())).With(sym("in hours", ct.MgHourPerL(), "mg·h/L")), nil
		},
	}
}

func virusFormula() formula.Formula {
	l := formula.Count.Takes("log", "L", "tenfold steps of inactivation: 2, 3 or 4").Between("2", "4").Assume("4", "asked of ground water under rules for public supplies")
	ph, t := phIn(), temperatureIn().Between("0.5 C", "40 C")
	return formula.Formula{
		Name: "ct_viruses", Subject: onContact, What: "residual times time that free chlorine needs against viruses",
		Inputs: formula.Inputs(ph, t, l), Equation: "read from a table; the row of the next lower temperature rules", Range: "clear water", Error: "the table holds a safety factor of 3", Source: swtr, Kind: source.FromMemory, Care: contactCare,
		Examples: formula.By(formula.On("ph=7.5", "temperature=10 C").Is("ct", "6 mg·min/L", "0 mg·min/L", swtr), formula.On("ph=8", "temperature=4.9 C").Is("ct", "12 mg·min/L", "0 mg·min/L", swtr)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if l.Of(a) != float64(int(l.Of(a))) {
				return formula.Outcome{}, errors.New("ct_viruses: log must be 2, 3 or 4: the table has no rows between")
			}
			ct, err := VirusCT(int(l.Of(a)), ph.Of(a), t.Of(a))
			return formula.Give(ctIn.Gives("ct", "CT", "needed", ct.MgMinPerL())), err
		},
	}
}

func giardiaFormula() formula.Formula {
	l := formula.Count.Takes("log", "L", "tenfold steps of inactivation").Between("0.5", "3").Assume("3", "asked of surface water")
	ph, t, c := phIn(), temperatureIn().Between("0.5 C", "40 C"), residualIn().Between("0.4 mg/L as Cl2", "4 mg/L as Cl2")
	const note, page = "published: note on the US EPA guidance CT tables", "published: consultant's page with the Giardia table"
	return formula.Formula{
		Name: "ct_giardia", Subject: onContact, What: "residual times time that free chlorine needs against Giardia",
		Inputs: formula.Inputs(ph, t, c, l), Equation: "CT = 0.2828 pH^2.69 C^0.15 0.933^(t-5) L", Range: "fitted from 0.5 to 5 °C; above, the law of temperature carries on", Error: "10 % of the printed tables",
		Source: "a consultant's page giving the regression to the US EPA tables", Kind: source.Published, Care: contactCare,
		Examples: formula.By(formula.On("ph=7.5", "temperature=15 C", "residual=1.2 mg/L as Cl2").Is("ct", "92 mg·min/L", "9.2 mg·min/L", note),
			formula.On("ph=7", "temperature=0.5 C", "residual=0.4 mg/L as Cl2").Is("ct", "195 mg·min/L", "19.5 mg·min/L", page)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			ct, err := GiardiaCT(l.Of(a), ph.Of(a), c.Of(a), t.Of(a))
			return formula.Give(ctIn.Gives("ct", "CT", "needed", ct.MgMinPerL())), err
		},
	}
}

func strengthIn() formula.In[unit.Concentration] {
	return formula.MgL.Takes("strength", "s", "of the solution fed").Between("1 mg/L", "1000000 mg/L")
}

// FeedRateFormula is what a feed pump must deliver while the main flow runs.
func FeedRateFormula() formula.Formula {
	q, d, s := pumpFlowIn(), formula.MgL.Takes("dose", "D", "wanted in the mixed water").Between("0 mg/L", "100000 mg/L"), strengthIn()
	const trade = "published trade formula: gpd = Q · dose · 1440 / strength"
	return formula.Formula{
		Name: "feed_rate", Subject: onContact, What: "what a feed pump must deliver while the main flow runs",
		Inputs: formula.Inputs(q, d, s), Equation: "q = Q D / (s - D)", Error: "strength fades", Source: "mass balance", Kind: source.Derived,
		Figures:  []string{"feed_ml_min"},
		Examples: formula.By(formula.On("pump_flow=10.5 gpm", "dose=5 mg/L", "strength=52500 mg/L").Is("feed", "1.44 gal/day", "0.005 gal/day", trade)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if d.Of(a).MgPerL() >= s.Of(a).MgPerL() {
				return formula.Outcome{}, errors.New("feed_rate: no feed can bring a water to the strength of its own solution; strength must be above dose")
			}
			return formula.Give(formula.Drip.Gives("feed", "q", "while the water runs", FeedRate(q.Of(a), d.Of(a), s.Of(a)))), nil
		},
	}
}

func doseFormula() formula.Formula {
	q, f, s := pumpFlowIn(), formula.Drip.Takes("feed", "q", "what the feed pump gives while running").Between("0 mL/min", "10000 mL/min"), strengthIn()
	return formula.Formula{
		Name: "dose_from_feed", Subject: onContact, What: "dose that a feed gives in a main flow",
		Inputs: formula.Inputs(q, f, s), Equation: "D = q s / (Q + q)", Source: "mass balance", Kind: source.Derived,
		Examples: formula.By(formula.On("pump_flow=10.5 gpm", "feed=1.44 gal/day", "strength=52500 mg/L").Is("dose", "5 mg/L", "0.02 mg/L", "published trade formula, turned round")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if q.Of(a).GPM()+f.Of(a).GPM() <= 0 {
				return formula.Outcome{}, errors.New("dose_from_feed: nothing flows; pump_flow must be above zero")
			}
			return formula.Give(formula.MgL.Gives("dose", "D", "in the mixed water", DoseFrom(q.Of(a), f.Of(a), s.Of(a)))), nil
		},
	}
}
