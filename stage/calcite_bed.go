package stage

import (
	"math"

	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// neutraliser is a bed of calcite, or of calcite with a fifth of magnesia, that
// dissolves in acid water.
type neutraliser struct{ blend bool }

func (n neutraliser) ID() media.Process {
	if n.blend {
		return media.MagnesiaBlendBed
	}
	return media.CalciteBed
}

// upflow is the mode in which the bed is never washed.
const upflow = "upflow"

// Sizes are washed beds, cheapest first, then the least of them run upward.
func (n neutraliser) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(n.ID())
	zs := j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), filterVessels[:])
	up := zs[0]
	up.Mode, up.Lent = upflow, unit.Volume{}
	return append(zs, up)
}

func (n neutraliser) Run(j *Job, z Size) Outcome {
	m := fillingOf(n.ID())
	b := layBed(j, z, m)
	c, err := n.ceiling(j)
	if err != nil {
		return spoiled(j, Outcome{Settings: Settings{}}, err)
	}
	o := n.plant(b)
	if o.Out, err = n.treat(b, c, j.Typical()); err != nil {
		return spoiled(j, o, err)
	}
	if o.AtPeak, err = n.treat(b, c, j.Peak); err != nil {
		return spoiled(j, o, err)
	}
	o.Settings[TargetPH] = o.Out.PH.Value()
	o.Settings[HardnessAddedGPG] = o.Out.Hardness().GPG() - j.In.Hardness().GPG()
	o.Limits = append(o.Limits, n.outlet(j, o.AtPeak)...)
	if !j.Lean {
		n.describe(b, c, &o)
	}
	return o
}

// plant is the vessel with its wash, what it needs and costs.
func (n neutraliser) plant(b *bed) Outcome {
	s := filterSpec{process: n.ID(), valve: media.TimerValve}
	w := b.wash()
	o := Outcome{Settings: Settings{}, Limits: b.withService(Envelope(b.j, n.ID()), s)}
	b.describe(o.Settings)
	o.Loss, o.Needs = b.loss(w), b.needs()
	washed := b.z.Mode != upflow
	if washed {
		o.Limits = w.withLimits(o.Limits, b.j.Site.Factors)
		w.settle(o.Settings, b.j.Lean)
		o.Washes = []Wash{w.record(WasteBackwash, b.z)}
	}
	if b.j.Lean {
		return o
	}
	o.Bill = b.bill(s)
	if !washed {
		o.Cautions = []string{"Run upward it needs no wash, but holds nothing back: put a sediment filter ahead."}
		return o
	}
	o.Cautions = b.cautions(w, o.Settings)
	b.work(w)
	return o
}

// ceiling is what the bed could dissolve with all the time in the world, mol/L.
type ceiling struct {
	magnesia, calcite float64
	ph                unit.PH // of a water that had dissolved all that
}

// ceilingFound is the ceiling of one bed in one water, kept for all sizes.
type ceilingFound struct {
	bed neutraliser
	in  water.State
	of  ceiling
	err error
}

// ceiling is findCeiling, worked out once for a water.
func (n neutraliser) ceiling(j *Job) (ceiling, error) {
	s := j.scope()
	if f := s.ceiling; f == nil || f.bed != n || f.in != j.In {
		c, err := n.findCeiling(j)
		s.ceiling = &ceilingFound{n, j.In, c, err}
	}
	return s.ceiling.of, s.ceiling.err
}

// findCeiling finds the balance with calcite, after magnesia has taken its part of
// the carbon dioxide.
//
//	MgO + 2 CO2 + H2O = Mg + 2 HCO3;  CaCO3 + CO2 + H2O = Ca + 2 HCO3
//
// Error: with 0.1 in the pH read, a fifth of the calcite. Source: equilibrium of
// calcite and carbonate, Plummer & Busenberg 1982.
func (n neutraliser) findCeiling(j *Job) (ceiling, error) {
	var c ceiling
	w := j.In
	if n.blend {
		co2 := j.carbonate(w).CO2(w.PH, w.Alkalinity).MgPerL() / (molCarbonDioxide * mgPerG)
		c.magnesia = j.Site.Factors.Of(magnesiaShare) * co2 / 2
		w = j.dissolved(w, c.magnesia, 0)
	}
	s, err := j.Site.Model.AtPH(w.Totals(), w.PH, w.Alkalinity)
	if err != nil {
		return c, err
	}
	top, err := s.CalciteBalance()
	if err != nil {
		return c, err
	}
	c.calcite = math.Max(0, -top.Precipitates.MgPerL()) / (molCalcite * mgPerG)
	c.ph = j.dissolved(w, 0, c.calcite).PH
	return c, nil
}

// dissolved adds magnesia and calcite, mol/L, to a water.
func (j *Job) dissolved(w water.State, magnesia, calcite float64) water.State {
	w = j.alkalised(w, 2*(magnesia+calcite), calcite)
	w.Calcium = unit.MgPerL(w.Calcium.MgPerL() + calcite*molCalcium*mgPerG)
	w.Magnesium = unit.MgPerL(w.Magnesium.MgPerL() + magnesia*molMagnesium*mgPerG)
	return w
}

// Molar masses, g/mol: IUPAC, abridged.
const (
	molCalcite       = 100.086
	molCalcium       = 40.078
	molMagnesium     = 24.305
	molMagnesia      = 40.304
	molCarbonDioxide = 44.009
)

// reached is the share of the ceiling that is dissolved in a time in the bed.
//
//	share = 1 - exp(-t/T)
//
//	t  empty-bed contact, min;  T  neutraliser_time_constant
//
// Error: grain size and age of the bed, a third. Source: first-order approach;
// five to eight minutes leave it within 0.2 pH units of the end point (from
// memory), which in waters of pH 6 means 96 % dissolved.
func (n neutraliser) reached(b *bed, q unit.Flow) float64 {
	t := b.emptyBedMinutes(q) * b.active
	if b.j.Fault == BedCemented {
		t *= faultCemented
	}
	return approached(t, b.j.Site.Factors.Of(neutraliserTime))
}

// treat lets the bed dissolve, then holds what floc the risen pH makes.
func (n neutraliser) treat(b *bed, c ceiling, q unit.Flow) (water.State, error) {
	share := n.reached(b, q)
	w := b.j.dissolved(b.j.In, c.magnesia*share, c.calcite*share)
	var err error
	if b.z.Mode != upflow {
		if w, _, err = b.through(w, q); err != nil {
			return w, err
		}
	}
	if b.bypass > 0 {
		w = b.j.blend(w, b.j.In, b.bypass)
	}
	return w, nil
}

// describe adds what the bed uses up and does to the hardness.
func (n neutraliser) describe(b *bed, c ceiling, o *Outcome) {
	j := b.j
	share := n.reached(b, j.Typical())
	mg := share * (c.calcite*molCalcite + c.magnesia*molMagnesia) * mgPerG
	day := dissolvedLb(j.Daily, mg)
	stock := float64(max(1, b.z.Count)) * b.z.Media.Ft3() * j.Site.Factors.Of(b.m.Grains.Bulk)
	o.Settings[ChemicalLbPerYear] = day * daysPerYear
	o.Settings[RefillMonths] = j.Site.Factors.Of(neutraliserRefill) * stock / math.Max(day, 1e-6) / (daysPerYear / 12.0)
	o.Bill.Yearly = append(o.Bill.Yearly,
		cost.Use{Part: b.m.Part, PerYear: day * daysPerYear / j.Site.Factors.Of(b.m.Grains.Bulk), Why: "topping up what dissolves"})
	o.Bill.Hours += 12 / math.Max(o.Settings[RefillMonths], 1)
	o.Cautions = append(o.Cautions, n.cautions()...)
	o.WillNot = []string{
		"It takes no iron to count on: iron that turns on the grains coats and cements them.",
		"It adds hardness; a softener, where one is wanted, stands behind it and is set for the risen hardness.",
	}
	n.working(j, c, share, day*daysPerYear)
}

// outlet asks for a pH that no longer eats copper, at peak: refused below the
// least of drinking-water guidance, cautioned below what iron media want.
func (n neutraliser) outlet(j *Job, out water.State) []Limit {
	limit := func(f source.Factor, soft bool) Limit {
		f = j.Site.Factors.In(f)
		return Limit{
			ID: "ph_out", Have: out.PH.Value(), Need: f.Value, Unit: "pH", Soft: soft,
			Say: "the bed does not bring the pH up at peak: too little contact, or more acid than it can meet", Kind: f.Kind, From: f.From,
		}
	}
	return []Limit{limit(neutraliserLeast, false), limit(neutraliserPH, true)}
}

func (n neutraliser) cautions() []string {
	cs := []string{"Top up when a third has gone. An iron filter stands behind this bed, where the risen pH helps it."}
	if n.blend {
		cs = append(cs, "Magnesia overshoots on standing, to pH 9 and 10 after a weekend: flush before drinking; wear a mask against its dust.")
	}
	return cs
}

func (n neutraliser) working(j *Job, c ceiling, share, lbPerYear float64) {
	if !j.Site.Working.On() {
		return
	}
	sym := formula.Sym
	j.Site.Working.Add(neutraliserFormula().Step(ChemicalLbPerYear, lbPerYear, "lb/year",
		formula.Syms(sym("Q", j.Daily.GalPerDay(), "gal/day"), sym("x∞", (c.calcite*molCalcite+c.magnesia*molMagnesia)*mgPerG, "mg/L"),
			sym("1 - exp(-t/T)", share, ""), sym("pH∞", c.ph.Value(), "")),
		j.Site.Factors.In(neutraliserTime)))
}

func (n neutraliser) Ways() []Way {
	return append(commonWays(),
		Way{BedCemented, "the bed has cemented or its grains are coated", "low pH at the tap, pressure loss up, hard lumps in the bed", "break up or change the bed; wash twice a week, iron below 1 mg/L ahead of it"},
	)
}

// BedCemented is a bed whose grains no longer meet the water.
const BedCemented Fault = "bed_cemented"

// faultCemented is the share of contact left then. Kind: judgement.
const faultCemented = 0.15

var (
	neutraliserTime = source.Factor{
		Name: "neutraliser_time_constant", What: "empty-bed contact in which a neutralising bed comes two thirds of the way to its end point", Unit: "min",
		Value: 2, Low: 1.5, High: 3, Kind: source.FromMemory, From: "5 to 8 min to within 0.2 pH units of the end point",
	}
	neutraliserRefill = source.Factor{
		Name: "neutraliser_refill_share", What: "share of a neutralising bed that may dissolve before it is topped up",
		Value: 1.0 / 3, Low: 0.25, High: 0.5, Kind: source.CommonPractice, From: "trade rule: top up when down a third",
	}
	neutraliserPH = source.Factor{
		Name: "neutraliser_ph", What: "pH wanted behind a neutralising bed at peak", Unit: "pH",
		Value: 6.8, Low: 6.5, High: 7.2, Kind: source.CommonPractice, From: "iron media want 6.8; copper is eaten below about 6.5 to 7",
	}
	neutraliserLeast = source.Factor{
		Name: "neutraliser_ph_least", What: "pH that a neutralising bed must reach at peak", Unit: "pH",
		Value: 6.5, Kind: source.FromMemory, From: "US EPA secondary standard, pH 6.5 to 8.5",
	}
	magnesiaShare = source.Factor{
		Name: "neutraliser_magnesia_share", What: "share of the carbon dioxide that the magnesia of a blend takes",
		Value: 0.35, Low: 0.2, High: 0.6, Kind: source.Judgement, From: "a fifth by weight; pound for pound it takes five times the carbon dioxide of calcite, but its grains are coarse",
	}
	neutraliserFactors = []source.Factor{neutraliserTime, neutraliserRefill, neutraliserPH, neutraliserLeast, magnesiaShare}
)
