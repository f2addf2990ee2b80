package stage

import (
	"fmt"
	"math"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// ozoneFeed draws ozone made from air into the water and gives it its own contact
// tank, whose gas is led off and destroyed.
type ozoneFeed struct{}

func (ozoneFeed) ID() media.Process { return media.OzoneFeed }

// ozoneOutputs are household generators fed with air, g/h: common practice.
var ozoneOutputs = [...]float64{1, 2, 4}

// Sizes are the least generator that gives the high dose with each contact tank.
func (ozoneFeed) Sizes(j *Job) []Size {
	need := newOzone(j, Size{}).most
	output := ozoneOutputs[len(ozoneOutputs)-1]
	for _, g := range ozoneOutputs {
		if g >= need {
			output = g
			break
		}
	}
	var zs []Size
	for _, v := range media.ContactTankSizes() {
		zs = append(zs, Size{Label: fmt.Sprintf("%g g/h", output), Volume: v, Tanks: 1, Settings: Settings{OzoneGPerH: output}})
	}
	return zs
}

// ozone is a dose by its parts, mg/L, and what makes it.
type ozone struct {
	j            *Job
	z            Size
	demand, high float64   // taken up by the water, as usual and at most
	flow         unit.Flow // past the injector
	need, most   float64   // g/h at the generator, for the two
	contact      float64   // min at peak
}

// newOzone sums what takes up ozone.
//
//	D = 0.43 Fe + 0.87 Mn + 1.41 H2S + 0.64 As(III) + k TOC,  G = D Q / e
//
//	e  share of the ozone that dissolves;  Q  flow past the injector, L/h;  G  g/h
//
// Sulfide to sulfur; more goes on to sulfate, 1.9 at most. Error: a factor of two
// where there is organic matter. Source: derived from atomic weights; organic matter
// from memory.
func newOzone(j *Job, z Size) ozone {
	w, set := j.In, j.Site.Factors
	o := ozone{j: j, z: z, flow: j.fedFlow()}
	_, k, high := set.Range(ozoneOrganic)
	o.demand = ozoneDemand(w, j.arsenicForms(w).III, demandOf(chem.Ozone, chem.SulfideToSulfur), k)
	o.high = ozoneDemand(w, j.arsenicForms(w).III, set.Of(ozoneSulfideHigh), high)
	o.need = ozoneOutput(o.demand, set.Of(ozoneDissolved), o.flow)
	o.most = ozoneOutput(o.high, set.Of(ozoneDissolved), o.flow)
	o.contact = contactOf(z.Volume, float64(max(1, z.Tanks)), j.Peak, set.Of(contactShare))
	return o
}

// ozoneDemand is the ozone that a water takes up, mg/L.
func ozoneDemand(w water.State, arsenite unit.Concentration, perSulfide, perCarbon float64) float64 {
	perArsenite, _ := chem.OxidantForArsenite(chem.Ozone)
	return demandOf(chem.Ozone, chem.IronII)*w.Ferrous.MgPerL() + demandOf(chem.Ozone, chem.ManganeseII)*w.Manganese.MgPerL() +
		perSulfide*w.Sulfide.MgPerLAsH2S() + perArsenite*arsenite.MgPerL() + perCarbon*w.OrganicCarbon.MgPerL()
}

// ozoneOutput is the generator's output for a dose, g/h.
func ozoneOutput(dose, dissolves float64, q unit.Flow) float64 {
	return dose * q.LPerMin() * 60 / mgPerG / dissolves
}

// fed is the ozone that dissolves, mg/L: the dose, or what the generator can give.
func (o ozone) fed() float64 {
	most := o.z.Settings[OzoneGPerH] * o.j.Site.Factors.Of(ozoneDissolved) * mgPerG / math.Max(o.flow.LPerMin()*60, 1e-6)
	return math.Min(o.demand, most) * o.j.fedShare()
}

func (ozoneFeed) Run(j *Job, z Size) Outcome {
	x := newOzone(j, z)
	o := Outcome{Settings: Settings{DoseMgL: x.demand, ContactMin: x.contact}, Limits: x.limits()}
	o.Needs = Needs{Height: unit.Inches(72), Floor: unit.Ft2(8), Power: true, NoFrost: true, Vent: true, Weekly: true}
	dosed := x.dosed(j.In)
	o.Out = j.standing(dosed, contactOf(z.Volume, float64(max(1, z.Tanks)), j.Typical(), j.Site.Factors.Of(contactShare)), max(1, z.Tanks))
	if j.Lean {
		return o
	}
	o.AtPeak = j.standing(dosed, x.contact, max(1, z.Tanks))
	o.Settings[DemandMgL], o.Settings[DoseHighMgL], o.Settings[DoseLowMgL] = x.demand, x.high, x.demand
	o.Settings[OzoneGPerH], o.Settings[VolumeGal] = x.need, z.Volume.Gal()
	o.Bill = x.bill()
	o.Cautions = ozoneCautions()
	o.WillNot = []string{
		"It takes no iron or manganese out: a filter behind it holds the floc, and fills sooner than behind chlorine.",
		"It leaves nothing in the pipes that disinfects, and what it breaks of organic matter feeds slime.",
		"It does not take ammonia.",
	}
	x.work()
	return o
}

// dosed lets the ozone be taken up, the quickest taker first: sulfide, ferrous iron,
// arsenic (III), manganese, organic matter. What is over turns manganese pink.
//
//	mg of O3 for each mg: 1.41 H2S, 0.43 Fe, 0.64 As, 0.87 Mn
//
// Range: a dose near the demand. Source: order of the rate constants (iron with
// ozone 650 times manganese, Reisz et al. 2008, published ratio); atomic weights.
func (o ozone) dosed(w water.State) water.State {
	j, left := o.j, o.fed()
	take := func(there, per float64) float64 {
		got := math.Min(there, left/per)
		left -= got * per
		return got
	}
	x, c := j.mix(w)
	s := take(x.Sulfide.MgPerLAsH2S(), demandOf(chem.Ozone, chem.SulfideToSulfur))
	x.Sulfide = unit.MgPerLAsH2S(x.Sulfide.MgPerLAsH2S() - s)
	x.SulfurSolid = unit.MgPerL(x.SulfurSolid.MgPerL() + s*solidsMade(chem.SulfideToSulfur))
	fe := take(x.IronII.MgPerL(), demandOf(chem.Ozone, chem.IronII))
	x.IronII, x.IronSolid = unit.MgPerL(x.IronII.MgPerL()-fe), unit.MgPerL(x.IronSolid.MgPerL()+fe)
	forms := j.arsenicForms(w)
	perArsenite, _ := chem.OxidantForArsenite(chem.Ozone)
	as := take(forms.III.MgPerL(), perArsenite)
	mn := take(x.ManganeseII.MgPerL(), demandOf(chem.Ozone, chem.ManganeseII))
	x.ManganeseII, x.ManganeseSolid = unit.MgPerL(x.ManganeseII.MgPerL()-mn), unit.MgPerL(x.ManganeseSolid.MgPerL()+mn)
	take(w.OrganicCarbon.MgPerL(), j.Site.Factors.Of(ozoneOrganic))
	pink := take(x.ManganeseSolid.MgPerL()*j.Site.Factors.Of(ozonePink), ozonePerPink)
	x.ManganeseSolid = unit.MgPerL(x.ManganeseSolid.MgPerL() - pink)
	x.Permanganate = unit.MgPerL(x.Permanganate.MgPerL() + pink*molPermanganate/molManganese)
	x.Alkalinity = unit.AlkalinityMeq(x.Alkalinity.MeqPerL() - 2*fe/molIron - 2*mn/molManganese - pink/molManganese)
	w = j.remixed(w, x, c)
	w.ArsenicV = unit.MgPerL(forms.V.MgPerL() + as)
	full := chem.OxygenSaturation(w.Temperature, unit.KPa(seaLevelKPa)).MgPerL()
	return aerated(w, unit.MgPerL(full*j.Site.Factors.Of(ozoneAir)))
}

// Molar masses, g/mol: IUPAC, abridged. MnO2 + 2 H2O = MnO4- + 4 H+ + 3 e-, and one
// O3 takes two: 1.5 for each manganese.
const (
	molIron         = 55.845
	molManganese    = 54.938
	molPermanganate = 158.032
	ozonePerPink    = 1.5 * 3 * 15.999 / molManganese
)

// limits are those of the water, the generator, the time and what stands behind.
func (o ozone) limits() []Limit {
	j, set := o.j, o.j.Site.Factors
	time := set.In(ozoneContact)
	ls := append(Envelope(j, media.OzoneFeed),
		Limit{ID: "ozone_output", Have: o.z.Settings[OzoneGPerH], Need: o.need, Unit: "g/h", Say: "no household generator fed with air gives the dose at this flow", Kind: ozoneDissolved.Kind, From: "mass balance; " + ozoneDissolved.From},
		Limit{ID: "ozone_reserve", Have: o.z.Settings[OzoneGPerH], Need: o.most, Unit: "g/h", Soft: true, Say: "the generator cannot give the high dose: measure the demand first", Kind: source.Derived, From: "mass balance"},
		Limit{ID: "ozone_contact", Have: o.contact, Need: time.Value, Unit: "min", Say: "too little time at peak: manganese is not turned and ozone reaches the filter", Kind: time.Kind, From: time.From},
		Limit{ID: "ozone_contact", Have: o.contact, Need: math.Max(time.Value, time.High), Unit: "min", Soft: true, Say: "little time at peak", Kind: time.Kind, From: time.From},
		filterBehind(j))
	if !j.fedSteadily() {
		ls = append(ls, Limit{ID: "steady_flow", Have: 0, Need: 1, Unit: "steady flow at the feed point", Soft: true,
			Say: "the dose wanders with the flow: too much turns manganese pink, too little leaves iron", Kind: source.CommonPractice, From: "trade rule: pace the feed where the flow varies"})
	}
	return append(ls, alkalinityLeft(j)...)
}

// filterBehind asks for a filter.
func filterBehind(j *Job) Limit {
	return behind(j, "filter_behind", "what ozone turns must be filtered out behind it", media.SedimentFilter, media.CoatedSandFilter, media.GreensandFilter,
		media.ManganeseOreFilter, media.LightweightFilter, media.CatalyticCarbonFilter)
}

func ozoneCautions() []string {
	return []string{
		"Ozone in air harms lungs: 0.1 ppm is the limit of a working day, and it is smelt below that. Lead the gas of the tank through a destructor and outdoors; a leak is mended before anybody works on.",
		"Dry the air of the generator; no rubber, nylon or galvanised iron where ozone comes.",
		"Where bromide is above 0.1 mg/L ozone makes bromate: have bromide tested before it is sold.",
		"Pink water is too much ozone on manganese: turn it down. Test organic matter: what ozone breaks feeds slime, and carbon behind it holds some.",
	}
}

func (o ozone) bill() cost.Bill {
	n := float64(max(1, o.z.Tanks))
	hours := o.j.Daily.GalPerDay() / math.Max(o.flow.GPM(), leastFlow) / 60 * daysPerYear
	b := cost.Bill{
		First: []cost.Line{
			{Part: media.OzoneUnit, Amount: 1, Why: "generator, air dryer, injector and destructor"},
			{Part: media.AirRelease, Amount: n, Why: "lets the gas out of the tank"}, {Part: media.VentKit, Amount: 1, Why: "leads it outdoors"},
			{Part: media.Connections, Amount: 1, Why: "bypass, sample taps and blow-down"}, {Part: media.LabourHour, Amount: 8 + n, Why: "fitting and start-up"},
		},
		Yearly:   []cost.Use{{Part: media.ElectricityKWh, PerYear: ozoneKW * hours, Why: "generator, dryer and injector pump"}},
		Renewals: []cost.Renewal{{Part: media.OzoneUnit, Amount: ozoneWear, EveryYears: cost.Years{Low: 3, Mid: 5, High: 8}, Why: "cell, dryer and tubes"}},
		Hours:    52 * 0.1,
	}
	if tank, ok := media.ContactTankOf(o.z.Volume); ok {
		b.First = append(b.First, cost.Line{Part: tank, Amount: n, Why: "time for the ozone"})
	}
	return b
}

// Kind: common practice.
const (
	ozoneKW   = 0.4 // generator, dryer and injector pump
	ozoneWear = 0.3 // of the price of a unit, its worn parts
)

func (o ozone) work() {
	if !o.j.Site.Working.On() {
		return
	}
	w, sym, set := o.j.In, formula.Sym, o.j.Site.Factors
	o.j.Site.Working.Add(ozoneFormula().Step(OzoneGPerH, o.need, "g/h", formula.Syms(
		sym("Fe", w.Ferrous.MgPerL(), "mg/L"), sym("Mn", w.Manganese.MgPerL(), "mg/L"), sym("H2S", w.Sulfide.MgPerLAsH2S(), "mg/L as H2S"),
		sym("TOC", w.OrganicCarbon.MgPerL(), "mg/L"), sym("D", o.demand, "mg/L"), sym("Q", o.flow.GPM(), "gpm")), set.In(ozoneOrganic), set.In(ozoneDissolved)))
}

func (ozoneFeed) Ways() []Way {
	return []Way{
		{FeedEmpty, "the generator gives no ozone", "no smell of ozone in the tank's gas, iron still ferrous", "look at power, dryer and cell"},
		{SolutionStale, "the cell is worn or the air damp", "less ozone than set; iron and smell creep back", "dry the air, renew the cell"},
		{FeedPlugged, "the injector is plugged or sucks no air", "no bubbles, iron still ferrous", "clean the injector, check its pressures"},
		{FeedHigh, "the generator is set too high", "pink water where there is manganese; ozone smelt", "turn it down"},
	}
}

var (
	ozoneOrganic = source.Factor{
		Name: "ozone_organic", What: "ozone taken up by organic matter for each mg of organic carbon", Unit: "mg/mg",
		Value: 0.4, Low: 0.3, High: 0.5, Kind: source.FromMemory, From: "0.3 to 0.5 (from memory)",
	}
	ozoneSulfideHigh = source.Factor{
		Name: "ozone_sulfide_high", What: "ozone taken up by sulfide at most", Unit: "mg/mg as H2S",
		Value: 1.9, Low: 1.41, High: 5.63, Kind: source.FromMemory, From: "1.4 to 1.9 in practice; 5.6 all the way to sulfate",
	}
	ozoneDissolved = source.Factor{
		Name: "ozone_dissolved", What: "share of the ozone made that dissolves at a venturi",
		Value: 0.85, Low: 0.6, High: 0.95, Kind: source.FromMemory, From: "venturi with a contact tank under pressure (from memory)",
	}
	ozoneContact = source.Factor{
		Name: "ozone_contact", What: "ozone: least contact at peak", Unit: "min",
		Value: 4, Low: 3, High: 6, Kind: source.CommonPractice, From: "4 to 6 min",
	}
	ozonePink = source.Factor{
		Name: "ozone_pink_share", What: "share of the manganese that ozone in excess can turn to permanganate",
		Value: 0.5, Low: 0, High: 1, Kind: source.Judgement, From: "pink with too much ozone, mostly where there is iron (Reisz et al. 2008, abstract); the share is judgement",
	}
	ozoneAir = source.Factor{
		Name: "ozone_air", What: "share of saturation with oxygen that the air of the injector brings",
		Value: 0.6, Low: 0.3, High: 0.9, Kind: source.Judgement, From: "our judgement: a venturi with little air",
	}
	ozoneFactors = []source.Factor{ozoneOrganic, ozoneSulfideHigh, ozoneDissolved, ozoneContact, ozonePink, ozoneAir}
)
