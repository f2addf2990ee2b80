package stage

import (
	"fmt"
	"math"

	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/well"
)

// Turn is how several vessels share the work.
type Turn string

// The turns.
const (
	InTurn  Turn = ""                 // all share the flow and are washed one after the other in quiet hours; a single vessel too
	Standby Turn = "duty and standby" // all share the flow, and any one may be washed at any hour: the rest carry the whole
	Abreast Turn = "in parallel"      // tanks that are not washed share the flow
	Twin    Turn = "twin alternating" // all but one serve; the one whose charge is spent is regenerated at once and then stands by
)

// Vessels is how many there are.
func (z Size) Vessels() int { return max(1, z.Count) }

// Serving is how many vessels carry the water at one time.
func (z Size) Serving() int {
	if z.Turn == Twin {
		return max(1, z.Vessels()-1)
	}
	return z.Vessels()
}

// left is how many carry the water while one is out of service.
func (z Size) left() int {
	if z.Turn == Twin {
		return z.Serving()
	}
	return z.Vessels() - 1
}

// Arranged says in words how several vessels share the work; "" of one alone.
func (z Size) Arranged() string {
	n := z.Vessels()
	switch {
	case n == 1:
		return ""
	case z.Turn == Twin && n == 2:
		return "2, twin alternating: one serves while the other is regenerated and stands by"
	case z.Turn == Twin:
		return fmt.Sprintf("%d, alternating: %d serve while one is regenerated and stands by", n, n-1)
	case z.Turn == Abreast:
		return fmt.Sprintf("%d in parallel", n)
	case z.Turn == Standby:
		return fmt.Sprintf("%d, duty and standby: any one may be washed while the rest carry the whole", n)
	}
	return fmt.Sprintf("%d in parallel, washed one after the other", n)
}

// lull is the quietest stretch of the day that is long enough for a wash or a
// regeneration with its rinse.
func (j *Job) lull() well.Lull {
	if len(j.Site.House.Shifts) == 0 {
		return well.Lull{}
	}
	return j.Site.House.QuietFor(LullMinutes)
}

// LullMinutes is how long a stretch of the day must be quiet for any vessel to be
// washed in it: that of a regeneration, the longest.
const LullMinutes = regenerationMinutes

// turnOf is how so many vessels of a kind share the work here.
func (j *Job) turnOf(n int) Turn {
	if n > 1 && j.lull().Share > 0 {
		return Standby
	}
	return InTurn
}

// besides is what is drawn beside a wash: by branches ahead of the treatment, if they
// draw in quiet hours too and from the same pump, and by a house that has no quiet
// hours.
func (j *Job) besides() unit.Flow {
	gpm := j.lull().Share * j.Peak.GPM()
	if j.Draw != nil && !j.Has(stores...) {
		gpm += j.Draw.Supply.Raw.Night.GPM()
	}
	return unit.GPM(gpm)
}

// commercial reports whether the place is more than a household: it works in shifts,
// or draws more at its peak than a house does.
func (j *Job) commercial() bool {
	return len(j.Site.House.Shifts) > 0 || j.Peak.GPM() >= j.Site.Factors.Of(commercialPeak)
}

// longPeak reports whether the peak lasts so long that it counts as steady use.
func (j *Job) longPeak() bool {
	return j.Draw != nil && j.Draw.Supply.PeakMinutes > j.Site.Factors.Of(shortPeak)
}

// whileWashing are the limits of the time when one vessel is out of service in a
// place without quiet hours: a vessel alone leaves raw water or none; of several the
// rest carry what is asked in the least busy stretch.
//
//	v = s Q / (n - 1)
//
//	s  share of the peak Q asked in that stretch;  n  vessels
//
// Of is the size of one vessel in the measure of the rate: ft2 of a filter, ft3 of
// resin. Source: water balance; two vessels at least, each for the design flow:
// Wisconsin Admin. Code NR 811.495.
func (j *Job) whileWashing(ls []Limit, z Size, of float64, refuse source.Factor, per string) []Limit {
	share := j.lull().Share
	if share <= 0 || z.Turn == Twin {
		return ls
	}
	from := "Wisconsin Admin. Code NR 811.495: at least two filters, each for the design flow"
	if z.left() < 1 {
		return append(ls, Limit{ID: "water_while_washing", Have: 0, Need: 1, Unit: "yes or no", Kind: source.Published, From: from,
			Say: "water is drawn round the clock, and while the only vessel washes it runs raw or not at all: a second one"})
	}
	return append(ls, Limit{ID: "service_rate_washing", Have: share * j.Peak.GPM() / (of * float64(z.left())), Need: refuse.Value, Unit: per, AtMost: true,
		Kind: refuse.Kind, From: refuse.From + "; " + from, Say: "while one vessel washes the rest run too fast: there is no quiet hour to wash in"})
}

// regeneratingAtPeak is what the pump has for a twin that regenerates in the middle
// of a peak, as its meter will have it some day.
func (j *Job) regeneratingAtPeak(z Size, need, minutes float64) Limit {
	s, floor := j.WashSupply(z)
	s.HouseDraw = j.Peak
	if j.Draw != nil && !j.Has(stores...) {
		s.HouseDraw = unit.GPM(j.Peak.GPM() + j.Draw.Supply.Raw.Peak.GPM())
	}
	return Limit{ID: "regeneration_at_peak", Have: s.Available(minutes, floor).GPM(), Need: need, Unit: "gpm", Soft: true, Kind: source.Derived,
		From: "pump and well with the house at its peak", Say: "a twin that regenerates at the peak takes the pump's water from the taps: let it wait for a quiet hour, the other vessel has its whole charge"}
}

// modest reports whether a vessel takes no more pressure at peak than one stage of
// several may. Only a workplace is asked: a house has its own budget.
func (b *bed) modest() bool {
	clean := b.grain.HeadLoss(unit.GPMPerFt2(b.loading(b.j.Peak)), unit.Inches(b.depth), b.j.In.Temperature).PSI()
	return clean+b.valveLoss(b.each()) <= b.j.Site.Factors.Of(stageLoss)
}

// each is the flow through one vessel at peak, gpm.
func (b *bed) each() float64 { return b.j.Peak.GPM() / float64(b.z.Serving()) }

// turnFactors are those of places with more than a household's draw.
var turnFactors = []source.Factor{commercialPeak, shortPeak, stageLoss, twinDays, brineHours}

var (
	commercialPeak = source.Factor{
		Name: "light_commercial_peak", What: "peak through the treatment from which larger and more vessels are tried than a house has", Unit: "gpm",
		Value: 15, Low: 12, High: 20, Kind: source.Judgement, From: "our judgement: houses peak at 5 to 14 gpm; light commercial wells run to 50",
	}
	shortPeak = source.Factor{
		Name: "short_peak_minutes", What: "longest peak to which the rates for short peaks apply", Unit: "min",
		Value: 15, Low: 10, High: 30, Kind: source.Judgement, From: "our judgement: two showers and a washer draw for ten minutes; a wash-down or a milking draws longer",
	}
	stageLoss = source.Factor{
		Name: "stage_loss_most", What: "pressure that one clean vessel with its valve may take at peak where larger ones can be had", Unit: "psi",
		Value: 7, Low: 4, High: 10, Kind: source.Judgement, From: "our judgement: three stages in the 20 psi that a clean train may take at most",
	}
	twinDays = source.Factor{
		Name: "softener_twin_days_least", What: "softener of twin vessels: shortest run of one charge to size for", Unit: "days",
		Value: 1, Low: 0.5, High: 2, Kind: source.FromMemory, From: "dealers size twins for a charge a day or less often (from memory)",
	}
	brineHours = source.Factor{
		Name: "softener_brine_hours", What: "softener: time for the next charge of brine to saturate", Unit: "h",
		Value: 3, Low: 2, High: 4, Kind: source.CommonPractice, From: "handbooks of home water treatment: up to 3 h to saturate",
	}
)

// leastRun is the shortest run of a twin: each vessel that serves must be regenerated
// and the brine made anew for the next before its turn comes again, days.
func leastRun(set source.Set, serving int) float64 {
	return float64(serving) * (set.Of(brineHours) + regenerationMinutes/minutesPerHour) / hoursPerDay
}

const (
	minutesPerHour = 60.0
	hoursPerDay    = 24.0
)

// commercialVessels are the larger ones of the trade, for filters and softeners.
var commercialVessels = [...]string{"16 x 65", "18 x 65", "21 x 62", "24 x 72", "30 x 72"}

// vesselsNamed are the vessels of the names.
func vesselsNamed(names ...string) []media.Vessel {
	var all []media.Vessel
	for _, n := range names {
		if v, ok := media.VesselNamed(n); ok {
			all = append(all, v)
		}
	}
	return all
}

// Together is what two washes at one time need, and what the supply has for both.
type Together struct{ Need, Have unit.Flow }

// Allowed reports whether pump and well bear both at once.
func (t Together) Allowed() bool { return t.Have.GPM() >= t.Need.GPM()*(1-1e-9) }

// AtOnce puts two washes on one supply at the same time.
//
//	need = Q1 + Q2,  have = the steady flow held for the longer of the two
//
// Source: water balance (hydraulic.Supply).
func AtOnce(s hydraulic.Supply, floor unit.Pressure, a, b Wash) Together {
	return Together{
		Need: unit.GPM(a.Need.GPM() + b.Need.GPM()),
		Have: s.Available(math.Max(a.Minutes, b.Minutes), floor),
	}
}
