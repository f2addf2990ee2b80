package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// arsenicAdsorber is a bed of iron-oxide adsorbent, thrown away when arsenic shows
// at its outlet.
type arsenicAdsorber struct{}

// The ways of running it.
const (
	SingleBed = "single bed"
	LeadLag   = "lead and lag" // two in series; the second becomes the first at each change
)

// MediumSpent is the fault of an adsorbent past its life.
const MediumSpent Fault = "medium_spent"

func (arsenicAdsorber) ID() media.Process { return media.ArsenicAdsorber }

// Sizes are those that give contact at peak, each alone and, dearer, as two in
// series.
func (arsenicAdsorber) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.ArsenicAdsorber)
	perFt2 := unit.Ft3(usualAdsorberDepth / inchesPerFoot).Gal()
	rate := math.Min(j.Site.Factors.Of(m.ServiceRefuse), perFt2/j.Site.Factors.Of(adsorberContact))
	zs := j.bedSizes(m, rate, filterVessels[:])
	zs = zs[:min(len(zs), mostAdsorberSizes)]
	both := make([]Size, 0, 2*len(zs))
	for _, mode := range [...]string{SingleBed, LeadLag} {
		for _, z := range zs {
			z.Mode = mode
			both = append(both, z)
		}
	}
	return both
}

// Kind: common practice and, for the count, so that few sizes are tried.
const (
	usualAdsorberDepth = 33 // in, of a common fill
	mostAdsorberSizes  = 4
)

func (x arsenicAdsorber) Run(j *Job, z Size) Outcome {
	b := layBed(j, z, fillingOf(media.ArsenicAdsorber))
	o, _, err := b.serve(filterSpec{process: media.ArsenicAdsorber, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	l := b.adsorberLife(o.Out)
	o.Limits = append(append(o.Limits, b.adsorberContactLimits()...), b.arsenicLimits(l)...)
	o.Out = b.adsorbed(o.Out, l, l.meanShare)
	if z.Mode == LeadLag {
		o.Loss = Loss{Clean: unit.PSI(2 * o.Loss.Clean.PSI()), Dirty: unit.PSI(2 * o.Loss.Dirty.PSI())}
		o.Needs.Floor = unit.Ft2(2 * o.Needs.Floor.Ft2())
		o.Washes[0].Vessels *= 2
	}
	if j.Lean {
		return o
	}
	o.AtPeak = b.adsorbed(o.AtPeak, l, l.endShare)
	o.Settings[BedVolumes], o.Settings[RunGal], o.Settings[MediaYears] = l.volumes, l.gallons, l.years
	o.Bill = b.adsorberBill(o.Bill, l)
	b.workAdsorber(l)
	o.Cautions = append(o.Cautions, adsorberCautions...)
	o.WillNot = []string{
		"It holds arsenic (III) badly: an oxidant stands ahead of it.",
		"It takes no nitrate, hardness, bacteria or smell, and iron and manganese blind it.",
		"It says nothing of itself: only a laboratory shows that it still holds.",
	}
	return o
}

var adsorberCautions = []string{
	"Send the outlet of the first bed to a laboratory each three months, and more often near the end; change it at the limit of the state, and let the second bed become the first.",
	"Other water for drinking until a certified laboratory has passed the treated tap.",
	"Spent medium goes where the state allows after a leaching test; keep its backwash off gardens.",
}

// adsorber is how long a bed lasts.
type adsorber struct {
	to                  unit.Concentration // arsenic at the outlet to change at
	oxidised            float64            // share of the arsenic that is As(V)
	arsenic             unit.Concentration
	volumes             float64    // bed volumes
	gallons, years      float64    // of each line
	span                cost.Years // least, usual and most
	meanShare, endShare float64    // of arsenic at the outlet of the first bed
	lag                 bool
}

// adsorberLife works out the life of a bed on a water.
//
//	W = N V,  years = W / (365 D)
//
//	N  bed volumes, chem.AdsorberLife, in proportion less where contact at an ordinary
//	   draw is short
//	V  bed of one vessel times those side by side, gal;  D  gal/day
func (b *bed) adsorberLife(w water.State) adsorber {
	j, set := b.j, b.j.Site.Factors
	forms := j.arsenicForms(w)
	l := adsorber{to: unit.UgPerL(set.Of(adsorberChange)), arsenic: forms.Sum(), lag: b.z.Mode == LeadLag, oxidised: 1}
	if l.arsenic.MgPerL() > 0 {
		l.oxidised = forms.V.MgPerL() / l.arsenic.MgPerL()
	}
	law := j.Site.Model.ArsenicLaw()
	n := law.AdsorberLife(forms, l.to, flocWater(w))
	short := math.Min(1, b.emptyBedMinutes(j.Typical())/set.Of(adsorberContact))
	gal := float64(max(1, b.z.Count)) * b.z.Media.Gal()
	years := func(n float64) float64 {
		y := adsorberYears(n*short, gal, j.Daily)
		return math.Max(leastAdsorberYears, math.Min(y, mostAdsorberYears))
	}
	l.years = years(leaning(j, n))
	l.volumes = math.Min(leaning(j, n)*short, l.years*daysPerYear*j.Daily.GalPerDay()/gal)
	l.gallons = l.volumes * gal
	l.span = cost.Years{Low: years(n.Least), Mid: years(n.Usual), High: years(n.Most)}
	l.shares(law, j.Fault, b.active)
	return l
}

// Years that are planned with at least and at most, whatever the arsenic: a bed is
// not changed more often than a house bears, and ages. Kind: judgement.
const (
	leastAdsorberYears = 0.1
	mostAdsorberYears  = 6
)

// adsorberYears is the years that bed volumes of a bed last.
func adsorberYears(volumes, gal float64, daily unit.Flow) float64 {
	return volumes * gal / math.Max(daily.GalPerDay(), leastFlow) / daysPerYear
}

// leaning picks the bed volumes of one plausible water, as its beds lean.
func leaning(j *Job, n chem.BedVolumes) float64 {
	if j.Draw != nil {
		switch j.Draw.Law {
		case chem.SlowLaw:
			return n.Least
		case chem.FastLaw:
			return n.Most
		}
	}
	return n.Usual
}

// shares are what is at the outlet: the mean of the life it was planned for, and at
// the end of it. A channelled bed is used up the sooner, by the share that is active;
// a second bed takes most of what the first lets through.
func (l *adsorber) shares(law *chem.ArsenicLaw, f Fault, active float64) {
	at := func(used float64) float64 {
		used /= active
		if f == MediumSpent {
			used += pastLife
		}
		s := law.AdsorberOutlet(l.arsenic, l.to, used)
		if l.lag {
			return s * law.AdsorberOutlet(l.arsenic, l.to, math.Max(0, used-1))
		}
		return s
	}
	for i := range lifeCuts {
		l.meanShare += at((float64(i)+0.5)/lifeCuts) / lifeCuts
	}
	l.endShare = math.Max(l.meanShare, at(1))
}

// A spent bed has run twice its life over: judgement. Sixteen cuts of a life leave
// 1 %: own trial.
const (
	pastLife = 2.0
	lifeCuts = 16
)

// adsorbed takes arsenic out.
func (b *bed) adsorbed(w water.State, l adsorber, share float64) water.State {
	forms := b.j.arsenicForms(w)
	pass := share + (1-share)*b.bypass
	w.ArsenicV = unit.MgPerL(forms.V.MgPerL() * pass)
	w.Arsenic = unit.MgPerL(forms.Sum().MgPerL() * pass)
	return w
}

// adsorberContactLimits are those of contact at peak.
func (b *bed) adsorberContactLimits() []Limit {
	f := b.j.Site.Factors.In(adsorberContact)
	have := b.emptyBedMinutes(b.j.Peak)
	return []Limit{
		{ID: "empty_bed_contact", Have: have, Need: f.Value, Unit: "min", Say: "too little contact at peak: arsenic slips through", Kind: f.Kind, From: f.From},
		{ID: "empty_bed_contact", Have: have, Need: math.Max(f.Value, f.High), Unit: "min", Soft: true, Say: "little contact at peak: the bed is changed early", Kind: f.Kind, From: f.From},
	}
}

// arsenicLimits are those of the form of arsenic, of phosphate and of the life.
func (b *bed) arsenicLimits(l adsorber) []Limit {
	set, w := b.j.Site.Factors, b.j.In
	form, p, years := set.In(adsorberOxidised), set.In(adsorberPhosphateMost), set.In(adsorberShort)
	var ls []Limit
	if l.arsenic.UgPerL() >= 1 { // below it there is nothing to hold
		ls = append(ls, Limit{ID: "arsenic_oxidised", Have: 100 * l.oxidised, Need: form.Value, Unit: "%",
			Say: "arsenic (III) passes: chlorine or permanganate ahead; air does not turn it", Kind: form.Kind, From: form.From})
	}
	return append(ls,
		Limit{ID: "phosphate", Have: w.Phosphate.MgPerLAsP(), Need: p.Value, Unit: "mg/L as P", AtMost: true, Soft: true, Say: "phosphate takes the sites", Kind: p.Kind, From: p.From},
		Limit{ID: "media_life", Have: l.years, Need: years.Value, Unit: "years", Soft: true, Say: "the bed is spent within months: take more medium, lower the pH, or treat the kitchen tap alone", Kind: years.Kind, From: years.From})
}

// adsorberBill renews the medium by its own life, and doubles the vessels where two
// stand in series.
func (b *bed) adsorberBill(bill cost.Bill, l adsorber) cost.Bill {
	n := 1.0
	if l.lag {
		n = 2
	}
	for i, line := range bill.First {
		switch line.Part {
		case b.z.Vessel.Part(), b.m.Part, media.TimerValve, media.LargeValve, media.Connections:
			bill.First[i].Amount *= n
		}
	}
	if l.lag {
		bill.First = append(bill.First, cost.Line{Part: media.LabourHour, Amount: secondHours * float64(max(1, b.z.Count)), Why: "second bed in series, with valves to change their order"})
	}
	for i := range bill.Renewals { // one bed at a time
		bill.Renewals[i].EveryYears = l.span
	}
	bill.Yearly = append(bill.Yearly, cost.Use{Part: media.TestArsenic, PerYear: 4, Why: "outlet of the first bed, each three months"})
	bill.Hours += adsorberUpkeep
	return bill
}

const adsorberUpkeep = 2.0 // hours of the owner a year, sampling: common practice

func (b *bed) workAdsorber(l adsorber) {
	if !b.j.Site.Working.On() {
		return
	}
	b.workContact()
	b.j.Site.Working.Add(adsorberLifeFormula().Step(RunGal, l.gallons, "gal", formula.Syms(
		formula.Sym("N", l.volumes, "bed volumes"), formula.Sym("V", float64(max(1, b.z.Count))*b.z.Media.Gal(), "gal"))))
}

func (arsenicAdsorber) Ways() []Way {
	return []Way{
		{BypassOpen, "the bypass stands open or half open", "arsenic between inlet and a good outlet", "close the bypass, test again before anybody drinks"},
		{MediumSpent, "the medium is spent", "arsenic at the outlet of the first bed, then of the second", "change the first bed, test again before anybody drinks"},
		{BedChannel, "the bed has channelled or mudballed", "arsenic passes at peak, pressure loss returns soon after a wash", "wash longer; dig out mudballs; find the iron ahead of it"},
		{TubeLeak, "the riser tube or its seal leaks", "a steady small share of raw water at every flow", "reseat the riser and renew the seal"},
	}
}

var (
	adsorberChange = source.Factor{
		Name: "arsenic_change", What: "arsenic adsorber: arsenic at the outlet of the first bed at which it is changed", Unit: "ug/L",
		Value: 10, Low: 5, High: 10, Kind: source.Published, From: "federal limit of 10 µg/L; 5 in New Jersey and New Hampshire",
	}
	adsorberContact = source.Factor{
		Name: "arsenic_contact", What: "arsenic adsorber: least empty-bed contact at peak, each vessel", Unit: "min",
		Value: 3, Low: 2, High: 5, Kind: source.FromMemory, From: "3 to 5 min a vessel",
	}
	adsorberOxidised = source.Factor{
		Name: "arsenic_oxidised", What: "arsenic adsorber: least share of the arsenic that has been oxidised", Unit: "%",
		Value: 90, Low: 80, High: 100, Kind: source.Judgement, From: "arsenic (III) is to be oxidised first (from memory); the figure is judgement",
	}
	adsorberPhosphateMost = source.Factor{
		Name: "arsenic_phosphate_most", What: "arsenic adsorber: phosphate, caution above", Unit: "mg/L as P",
		Value: 0.033, Low: 0.02, High: 0.1, Kind: source.FromMemory, From: "0.1 mg/L as phosphate (from memory)",
	}
	adsorberShort = source.Factor{
		Name: "arsenic_short_life", What: "arsenic adsorber: life of the medium, caution below", Unit: "years",
		Value: 1, Low: 0.5, High: 2, Kind: source.Judgement, From: "our judgement: more than one change a year is not kept up",
	}
	adsorberFactors = []source.Factor{adsorberChange, adsorberContact, adsorberOxidised, adsorberPhosphateMost, adsorberShort}
)
