package hydraulic

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	mayerSource = "published: Mayer and others, 1999"
	convolution = "exact convolution worked outside the program; fixture chances of Buchberger and others, 2017 (from memory)"
)

func demandFormulas() []formula.Formula {
	return []formula.Formula{peakFormula(), hunterFormula(), unitsFormula(), codeFormula(), bathsFormula(), dailyFormula(), planningFormula(), sharedFormula(), dayFormula(), hourFormula()}
}

func countIn(name, what string) formula.In[float64] {
	return formula.Count.Takes(name, "k", what).Between("0", "1000")
}

// inputName makes an input's name of the words of a fixture.
func inputName(words string) string {
	return strings.ReplaceAll(strings.ReplaceAll(words, ",", ""), " ", "_")
}

// fixtureCounts are how many there are of each known fixture.
func fixtureCounts() []formula.In[float64] {
	var ins []formula.In[float64]
	for _, f := range Fixtures(source.Set{}) {
		ins = append(ins, countIn(inputName(f.Name), fmt.Sprintf("number of: %s", f.Name)).Assume("0", formula.None))
	}
	return ins
}

func listed(ins []formula.In[float64]) []formula.Input {
	var out []formula.Input
	for _, i := range ins {
		out = append(out, i.Input)
	}
	return out
}

func peakFormula() formula.Formula {
	counts := fixtureCounts()
	share := formula.Share.Takes("share", "", "share of the busy time in which the flow is not exceeded").Between("50 %", "99.9 %").Assume("99 %", "usual")
	return formula.Formula{
		Name: "peak_flow", Subject: onDemand, What: "peak flow of a house from its fixtures, by exact enumeration",
		Inputs: append(listed(counts), share.Input), Equation: "P(n of k running) = C(k,n) p^n (1-p)^(k-n), all kinds convolved;  Q99 = least q with P(flow ≤ q | flow > 0) ≥ 0.99",
		Range: "a house or a few, independent fixtures", Error: "that of the chances", Source: "Buchberger and others, 2017, Peak Water Demand Study, exhaustive enumeration (from memory)", Kind: source.FromMemory,
		Factors: []source.Factor{busyFactor(3), busyFactor(4), busyFactor(10)},
		Examples: formula.By(formula.On("toilet=3", "lavatory_faucet=3", "shower_head=1", "bath_and_shower=1", "kitchen_faucet=1", "dishwasher=1", "clothes_washer=1").
			Is("peak", "9.0 gpm", "0.01 gpm", convolution).Is("of_the_hour", "7.0 gpm", "0.01 gpm", convolution).Is("modified_wistort", "7.59 gpm", "0.01 gpm", convolution).Is("wistort", "4.77 gpm", "0.01 gpm", convolution),
			formula.On("toilet=1", "lavatory_faucet=1", "bath_and_shower=1", "kitchen_faucet=1", "clothes_washer=1").Is("of_the_hour", "5.5 gpm", "0.01 gpm", convolution)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			var groups []Group
			for i, f := range Fixtures(a.Factors) {
				groups = append(groups, Group{f, int(counts[i].Of(a))})
			}
			if counted(groups) == 0 {
				return formula.Outcome{}, errors.New("peak_flow: no fixture is given; write how many there are of each, as in toilet=2 kitchen_faucet=1")
			}
			p, err := PeakQuantile(groups, share.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			return formula.Give(formula.Flow.Gives("peak", "Q99", "not exceeded in 99 % of the busy time", p.Busy99), formula.Flow.Gives("of_the_hour", "", "of the whole peak hour", p.All99),
				formula.Flow.Gives("modified_wistort", "", "check: zero-truncated normal", p.ModifiedWistort()), formula.Flow.Gives("wistort", "", "check: normal, far too low for one house", p.Wistort())).
				With(sym("H", p.Hunter, ""), sym("P0", p.Idle, ""), sym("mean", p.Mean.GPM(), "gpm"), sym("variance", p.Variance, "gpm2")), nil
		},
	}
}

// counted is the number of fixtures in all.
func counted(groups []Group) (n int) {
	for _, g := range groups {
		n += g.Count
	}
	return n
}

func hunterFormula() formula.Formula {
	n := formula.Count.Takes("fixtures", "n", "fixtures of one kind").Between("1", "10000")
	p := formula.Share.Takes("busy", "p", "chance that one is running").Between("0.0001", "0.9")
	const hunter = "Hunter, 1940, NBS BMS 65, method by hand; chances from memory"
	return formula.Formula{
		Name: "hunter_count", Subject: onDemand, What: "number of like fixtures not exceeded in 99 % of the time",
		Inputs: formula.Inputs(n, p), Equation: "least m with Σ_{x≤m} C(n,x) p^x (1-p)^(n-x) ≥ 0.99", Source: "Hunter, 1940, NBS BMS 65", Kind: source.FromMemory,
		Examples: formula.By(formula.On("fixtures=10", "busy=0.03").Is("count", "2", "0", hunter), formula.On("fixtures=100", "busy=0.20").Is("count", "30", "0", hunter)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Count.Gives("count", "m", "running at once", float64(HunterCount(int(n.Of(a)), p.Of(a))))), nil
		},
	}
}

// unitFixtures are the names that FixtureUnits knows.
func unitFixtures() []string {
	return []string{"bathroom group, flush tank", "bathroom group, flush valve", "bathtub", "bath and shower", "shower head", "lavatory faucet", "toilet", "kitchen faucet",
		"dishwasher", "clothes washer", "laundry faucet", "bidet", "combination fixture", "service sink"}
}

func unitsFormula() formula.Formula {
	names := unitFixtures()
	counts := make([]formula.In[float64], len(names))
	for i, n := range names {
		counts[i] = countIn(inputName(n), "number of: "+n).Assume("0", formula.None)
	}
	return formula.Formula{
		Name: "fixture_units", Subject: onDemand, What: "supply fixture units of a house, to be read in code_peak with the same code",
		Inputs: listed(counts), Equation: "Σ k w", Source: "International Plumbing Code, 2018, table E103.3(2)", Kind: source.Published,
		Examples: formula.By(formula.On("bathroom_group_flush_tank=2", "kitchen_faucet=1", "dishwasher=1", "clothes_washer=1").Is("units", "11.4", "0.0001", "published: IPC 2018, table E103.3(2)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			sum := 0.0
			for i, n := range names {
				w, _ := FixtureUnits(n)
				sum += w * counts[i].Of(a)
			}
			if sum == 0 {
				return formula.Outcome{}, errors.New("fixture_units: no fixture is given; write how many there are of each, as in toilet=2 kitchen_faucet=1")
			}
			return formula.Give(formula.Count.Gives("units", "", "supply fixture units", sum)), nil
		},
	}
}

func codeFormula() formula.Formula {
	names := [...]string{IPC: "IPC", NSPC: "NSPC", Illinois: "Illinois"}
	c := formula.Choice("code", []Code{IPC, NSPC, Illinois}, func(c Code) string { return names[c] }).Takes("code", "", "whose table: International, National Standard (New Jersey) or Illinois Plumbing Code")
	u := formula.Count.Takes("units", "", "supply fixture units of the same code").Between("0", "1000")
	v := formula.Yes.Takes("flush_valves", "", "the house has flush valves").Assume("no", "flush tanks")
	const hand = "read between rows of the code's table by hand"
	return formula.Formula{
		Name: "code_peak", Subject: onDemand, What: "peak flow that a plumbing code's table gives, as a check",
		Inputs: formula.Inputs(c, u, v), Equation: "read from the table, straight lines between rows", Error: "the codes differ by two to one at house size: no basis for sizing treatment",
		Source: "the code named in the answer; the IPC table is partly from memory", Kind: source.FromMemory,
		Examples: formula.By(formula.On("code=IPC", "units=12").Is("peak", "16.0 gpm", "0.001 gpm", "published: IRC examination page"), formula.On("code=NSPC", "units=11.4").Is("peak", "8.70 gpm", "0.01 gpm", hand),
			formula.On("code=Illinois", "units=11.4").Is("peak", "8.84 gpm", "0.01 gpm", hand), formula.On("code=NSPC", "units=8", "flush_valves=yes").Is("peak", "25 gpm", "0.001 gpm", "published: New Jersey B.5.4")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			read := c.Of(a).FlushTankPeak
			if v.Of(a) {
				read = c.Of(a).FlushValvePeak
			}
			q, err := read(u.Of(a))
			return formula.Give(formula.Flow.Gives("peak", "Q", "by the table", q)).Say("%s (%s)", c.Of(a), c.Of(a).Kind()), err
		},
	}
}

func bathsFormula() formula.Formula {
	b := formula.Count.Takes("baths", "b", "bathrooms, halves too").Between("1", "20")
	return formula.Formula{
		Name: "peak_from_baths", Subject: onDemand, What: "service flow that the trade allows for a number of bathrooms",
		Inputs: formula.Inputs(b), Equation: "7, 10, 12, 15 gpm for 1, 1½, 2, 3, straight lines between, 3 gpm for each more", Error: "twice what is metered in many houses: a ceiling", Source: "common practice", Kind: source.CommonPractice,
		Examples: formula.By(formula.On("baths=1.5").Is("peak", "10 gpm", "0 gpm", "common practice, no source"), formula.On("baths=3").Is("peak", "15 gpm", "0 gpm", "common practice, no source")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("peak", "Q", "service flow", PeakFromBaths(b.Of(a)))), nil
		},
	}
}

func dailyFormula() formula.Formula {
	n := formula.Count.Takes("people", "n", "people in the house").Between("1", "10")
	return formula.Formula{
		Name: "daily_use", Subject: onDemand, What: "indoor use of a household in a day",
		Inputs: formula.Inputs(n), Equation: "Q = 37.2 n + 69.2 gal/day", Error: "one house may use half or twice", Source: "Mayer and others, 1999", Kind: source.Published, Factors: []source.Factor{UsePerPerson, UsePerHouse},
		Examples: formula.By(formula.On("people=4").Is("use", "218 gal/day", "0.5 gal/day", mayerSource)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.DailyFlow.Gives("use", "Q", "indoors", DailyUse(a.Factors, n.Of(a)))), nil
		},
	}
}

func dailyIn() formula.In[unit.Flow] {
	return formula.DailyFlow.Takes("daily_use", "Q", "water in a day").Between("0 gal/day", "100000 gal/day")
}

func planningFormula() formula.Formula {
	d := dailyIn()
	return formula.Formula{
		Name: "planning_peak", Subject: onDemand, What: "flow of a day's use drawn within two hours",
		Inputs: formula.Inputs(d), Equation: "q = Q / 120 min", Source: "Penn State Extension, Water system planning, 2017", Kind: source.Published,
		Examples: formula.By(formula.On("daily_use=400 gal/day").Is("peak", "3.33 gpm", "0.01 gpm", "rule published: Penn State Extension, 2017; arithmetic")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("peak", "q", "to plan for", PlanningPeak(d.Of(a)))), nil
		},
	}
}

func sharedFormula() formula.Formula {
	e, p := countIn("existing", "existing dwellings on the well"), countIn("proposed", "proposed dwellings").Assume("0", formula.None)
	return formula.Formula{
		Name: "shared_well_flow", Subject: onDemand, What: "flow that a shared well must hold for four hours",
		Inputs: formula.Inputs(e, p), Equation: "Q = 3 a + 5 b gpm", Source: "US HUD Handbook 4000.1", Kind: source.Published, Factors: []source.Factor{SharedWellExisting, SharedWellProposed},
		Examples: formula.By(formula.On("existing=2").Is("flow", "6 gpm", "0.0001 gpm", "published: US HUD Handbook 4000.1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("flow", "Q", "for four hours", SharedWellFlow(a.Factors, int(e.Of(a)), int(p.Of(a))))), nil
		},
	}
}

// patternNames are the day's patterns in order of patterns.
func patternNames() []string { return []string{"general", "hot water", "clothes washer", "dishwasher"} }

func patternOf(name string) HourPattern {
	return []HourPattern{GeneralPattern(), HotWaterPattern(), WasherPattern(), DishwasherPattern()}[slices.Index(patternNames(), name)]
}

func patternIn() formula.In[string] {
	return formula.Choice("pattern", patternNames(), func(s string) string { return s }).Takes("pattern", "", "how a day's use is spread").Assume("general", "whole-house use")
}

func dayFormula() formula.Formula {
	d, p, y := dailyIn(), patternIn(), flowIn("yield", "Y", "what the well gives")
	s := formula.Volume.Takes("store", "S", "casing or tank that the well refills").Between("0 gal", "100000 gal")
	return formula.Formula{
		Name: "day_balance", Subject: onDemand, What: "how a low-yield well and a store bear a day's use",
		Inputs: formula.Inputs(d, y, s, p), Equation: "S' = min(store, S + (Y - use)) each hour;  short where S' < 0", Range: "whole days of like use", Error: "peaks within the hour", Source: "water balance; pattern of ANSI/RESNET/ICC 301-2022 Addendum C", Kind: source.Published,
		Examples: formula.By(formula.On("daily_use=300 gal/day", "yield=0 gpm", "store=100 gal").Is("short", "200 gal", "0.001 gal", "by hand: 300 gal asked, 100 gal stored")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			r := BalanceDay(d.Of(a), patternOf(p.Of(a)), y.Of(a), s.Of(a))
			return formula.Give(formula.Volume.Gives("left", "", "least water left in store", r.Left), formula.Volume.Gives("short", "", "use that was not met", r.Short)), nil
		},
	}
}

func hourFormula() formula.Formula {
	d, p := dailyIn(), patternIn()
	h := formula.Count.Takes("hour", "", "hour of the day, 0 to 23").Between("0", "23")
	n := formula.Count.Takes("hours", "", "length of the quiet stretch looked for").Between("1", "23").Assume("2", "time for a backwash and rinse")
	const ansi = "published: ANSI/RESNET/ICC 301-2022 Addendum C"
	return formula.Formula{
		Name: "use_by_hour", Subject: onDemand, What: "mean flow in an hour of the day, and the quietest hours",
		Inputs: formula.Inputs(d, h, p, n), Equation: "q = share of the hour · Q", Source: "ANSI/RESNET/ICC 301-2022 Addendum C", Kind: source.Published,
		Examples: formula.By(formula.On("daily_use=1440 gal/day", "hour=1").Is("flow", "0.504 gpm", "0.0001 gpm", ansi+", 0.021 of the day").Is("quiet_from", "1", "0", ansi).Is("quiet_share", "4.2 %", "0.01 %", ansi)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x := patternOf(p.Of(a))
			start, share := x.Quietest(int(n.Of(a)))
			return formula.Give(formula.Flow.Gives("flow", "q", "mean of the hour", x.Flow(int(h.Of(a)), d.Of(a))), formula.Count.Gives("quiet_from", "", "hour at which the quietest stretch begins", float64(start)),
				formula.Share.Gives("quiet_share", "", "of the day that falls in it", share)), nil
		},
	}
}
