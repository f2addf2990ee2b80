package nexttest

import (
	"strings"
	"sync"

	"wellwright/cloud"
	"wellwright/source"
	"wellwright/stage"
)

// charge is what one test costs in fee, time and waiting.
type charge struct {
	id             string
	what           string
	low, mid, high float64 // fee, US dollars
	minutes        float64 // on site, of whoever makes it
	days           [3]float64
	kind           source.Kind
	from           string
}

const (
	band    = "bands of laboratory prices, United States, 2023 to 2025 (trade)"
	kitBand = "band of kit reagents for each reading, United States, 2023 to 2025 (trade)"
)

// Waits, days: a laboratory answers in 5 to 15 days (our estimate of practice).
var (
	atOnce  = [3]float64{0, 0, 0}
	byLab   = [3]float64{5, 10, 15}
	culture = [3]float64{8, 10, 14} // a slow culture turns on day eight and later
)

var charges = []charge{
	{"ferrous-on-site", "ferrous iron by kit within two minutes", 0.5, 2, 4, 5, atOnce, source.CommonPractice, kitBand},
	{"iron-on-site", "total iron by kit", 0.5, 2, 4, 5, atOnce, source.CommonPractice, kitBand},
	{"ph-on-site", "pH by meter in a flow cell", 0.5, 1, 4, 5, atOnce, source.CommonPractice, kitBand},
	{"alkalinity-on-site", "alkalinity by titration on site", 0.5, 2, 4, 5, atOnce, source.CommonPractice, kitBand},
	{"oxygen-on-site", "dissolved oxygen by meter in a flow cell", 0.5, 2, 4, 10, atOnce, source.CommonPractice, kitBand},
	{"sulfide-on-site", "sulfide by kit, not shaken", 0.5, 2, 4, 5, atOnce, source.CommonPractice, kitBand},
	{"hardness-on-site", "hardness by drop kit", 0.5, 2, 4, 5, atOnce, source.CommonPractice, kitBand},
	{"iron-manganese", "total iron and manganese, acidified", 20, 30, 45, 10, byLab, source.CommonPractice, band},
	{"iron-dissolved-total", "iron, dissolved and total, filtered on site, acidified", 35, 50, 70, 15, byLab, source.CommonPractice, band},
	{"manganese-dissolved-total", "manganese, dissolved and total, filtered on site, acidified", 20, 30, 45, 15, byLab, source.CommonPractice, band},
	{"basic-panel", "basic well panel", 100, 160, 250, 15, byLab, source.CommonPractice, band},
	{"wide-panel", "wide panel with arsenic, lead, uranium and fluoride", 200, 300, 450, 20, byLab, source.CommonPractice, band},
	{"organic-carbon", "total organic carbon", 30, 45, 70, 10, byLab, source.CommonPractice, band},
	{"tannin", "tannin", 20, 35, 50, 10, byLab, source.CommonPractice, band},
	{"ammonia", "ammonia", 15, 25, 35, 10, byLab, source.CommonPractice, "as nitrate: " + band},
	{"nitrate", "nitrate", 15, 25, 35, 10, byLab, source.CommonPractice, band},
	{"arsenic", "arsenic, total", 20, 30, 45, 10, byLab, source.CommonPractice, "as one pair of metals: " + band},
	{"sulfide-preserved", "sulfide, bottle preserved with zinc acetate", 25, 35, 50, 10, byLab, source.CommonPractice, band},
	{"coliform", "coliform and E. coli", 20, 35, 50, 10, [3]float64{1, 2, 5}, source.CommonPractice, band},
	{"iron-bacteria-culture", "iron-bacteria culture of first draw", 25, 50, 80, 10, culture, source.CommonPractice, band},
	{"iron-bacteria-microscopy", "slime under the microscope", 50, 90, 150, 10, byLab, source.CommonPractice, band},
	{"settled-jar", "settled jar, one open and one sealed, a day", 0, 0, 1, 5, [3]float64{1, 1, 1}, source.Judgement, "two jars"},
	{"bleach-jar", "a few drops of bleach in a jar", 0, 0, 1, 5, atOnce, source.Judgement, "two jars and bleach"},
	{"chlorine-demand-jar", "chlorine demand in jars, 30 min", 2, 9, 20, 30, atOnce, source.CommonPractice, "five readings: " + kitBand},
	{"alum-filter-jar", "iron left after alum and a 0.45 µm filter, in a jar", 1, 4, 8, 20, atOnce, source.CommonPractice, "two readings: " + kitBand},
	{"iron-other-season", "second total and ferrous iron in another season", 35, 50, 70, 15, [3]float64{60, 120, 180}, source.CommonPractice, "as iron, dissolved and total: " + band},
	{"pump-flow", "pump flow at the tank by bucket and watch", 0, 0, 0, 10, atOnce, source.CommonPractice, "a bucket and a watch"},
	{"yield-test", "yield test of four hours in the dry season", 0, 100, 300, 60, [3]float64{14, 60, 180}, source.Judgement, "tape and bucket, pump as it hangs: nothing to a contractor's call"},
	{"capacity-test", "specific-capacity test and downhole video", 250, 450, 800, 60, [3]float64{3, 10, 21}, source.CommonPractice, "price list: downhole video; the pump is pulled once, with the work that follows"},
}

// named turns an identifier into the tail of a factor's name.
func named(id string) string { return strings.ReplaceAll(id, "-", "_") }

func (c charge) fee() source.Factor {
	return source.Factor{Name: "test_fee_" + named(c.id), What: "fee or material of a test: " + c.what, Unit: "USD",
		Value: c.mid, Low: c.low, High: c.high, Kind: c.kind, From: c.from}
}

func (c charge) wait() source.Factor {
	return source.Factor{Name: "test_days_" + named(c.id), What: "days until the result: " + c.what, Unit: "days",
		Value: c.days[1], Low: c.days[0], High: c.days[2], Kind: source.Judgement, From: "time for shipping, analysis and seasons; laboratories 5 to 15 days"}
}

func (c charge) time() source.Factor {
	return source.Factor{Name: "test_minutes_" + named(c.id), What: "minutes on site: " + c.what, Unit: "min",
		Value: c.minutes, Low: c.minutes / 2, High: 2 * c.minutes, Kind: source.Judgement, From: "on a visit that is made anyway"}
}

// Errors and limits of detection that no other room holds.
var (
	errYield = source.Factor{Name: "test_error_yield", What: "error of a four-hour yield test, one standard deviation as a share",
		Value: 0.1, Low: 0.05, High: 0.2, Kind: source.CommonPractice, From: "flow by bucket, level by tape; the year may be wetter or drier"}
	errBucket = source.Factor{Name: "test_error_bucket", What: "error of a flow by bucket and watch, one standard deviation as a share",
		Value: 0.05, Low: 0.02, High: 0.1, Kind: source.CommonPractice, From: "a bucket and a watch give 5 %"}
	errRecovery = source.Factor{Name: "test_error_recovery", What: "error of what a capacity test and camera foretell of a cleaned well, one standard deviation as a share of its first capacity",
		Value: 0.1, Low: 0.05, High: 0.25, Kind: source.Judgement, From: "camera and level show what is growth and what is scale or rock"}
	errTannin = source.Factor{Name: "test_error_tannin", What: "error of a tannin test as a reading of organic matter, one standard deviation as a share",
		Value: 0.4, Low: 0.2, High: 0.6, Kind: source.Judgement, From: "its reagents read iron too"}
	errBottlePH = source.Factor{Name: "test_error_bottle_ph", What: "error of a pH read from a mailed bottle, one standard deviation", Unit: "pH",
		Value: 0.25, Low: 0.1, High: 0.5, Kind: source.CommonPractice, From: "holding time of a pH is 15 minutes; a mailed one is late"}
	errSulfideLab = source.Factor{Name: "test_error_sulfide_preserved", What: "error of sulfide from a preserved bottle, one standard deviation as a share",
		Value: 0.15, Low: 0.1, High: 0.3, Kind: source.Judgement, From: "some is always lost in the filling"}
	limitKit = source.Factor{Name: "test_limit_kit", What: "least that a field kit tells from nothing", Unit: "mg/L",
		Value: 0.1, Low: 0.02, High: 0.3, Kind: source.CommonPractice, From: "colour comparison"}
	limitLab = source.Factor{Name: "test_limit_metal", What: "least that a laboratory reports of a metal or ion", Unit: "mg/L",
		Value: 0.02, Low: 0.005, High: 0.05, Kind: source.CommonPractice, From: "reporting limits of laboratories"}
	limitTrace = source.Factor{Name: "test_limit_trace", What: "least that a laboratory reports of arsenic", Unit: "mg/L",
		Value: 0.001, Low: 0.0005, High: 0.003, Kind: source.CommonPractice, From: "reporting limits of laboratories"}
	limitCarbon = source.Factor{Name: "test_limit_carbon", What: "least that a laboratory reports of organic carbon or tannin", Unit: "mg/L",
		Value: 0.5, Low: 0.2, High: 0.5, Kind: source.CommonPractice, From: "reporting limits of laboratories"}
	jarShare = source.Factor{Name: "test_jar_share", What: "share of the iron from which a jar shows a form of it",
		Value: 0.3, Low: 0.2, High: 0.5, Kind: source.Judgement, From: "what the eye tells beside clear water"}
	recoveredEnough = source.Factor{Name: "recovery_worth_keeping", What: "share of its first specific capacity below which a cleaned well is given up for a new one",
		Value: 0.6, Low: 0.5, High: 0.8, Kind: source.CommonPractice, From: "contractors' rule: recovery above about 60 % of the original"}
)

// RecoveredEnough is the share of its first capacity that a cleaned well must
// come back to.
func RecoveredEnough() source.Factor { return recoveredEnough }

// Factors lists every factor of the room.
func Factors() []source.Factor {
	fs := []source.Factor{errYield, errBucket, errRecovery, errTannin, errBottlePH, errSulfideLab, limitKit, limitLab, limitTrace, limitCarbon, jarShare, recoveredEnough}
	for _, c := range charges {
		fs = append(fs, c.fee(), c.wait(), c.time())
	}
	return fs
}

// borrowed finds a factor of another room by its name, so that one error stands
// for one method wherever it is used. A name that is not there is a broken
// program, and panics.
func borrowed(name string) source.Factor {
	f, ok := others()[name]
	if !ok {
		panic("nexttest: no factor " + name)
	}
	return f
}

var others = sync.OnceValue(func() map[string]source.Factor {
	m := map[string]source.Factor{}
	for _, fs := range [][]source.Factor{cloud.Factors(), stage.Factors()} {
		for _, f := range fs {
			m[f.Name] = f
		}
	}
	return m
})
