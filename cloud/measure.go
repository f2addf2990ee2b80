package cloud

import (
	"math"
	"sort"
	"strings"
	"time"

	"wellwright/cloud/internal/posterior"
	"wellwright/source"
	"wellwright/water"
)

// coordinate is where a property stands among the coordinates of the prior; -1:
// it is believed apart from them.
var coordinate = [nProperties]int{
	temperature: posterior.Temperature, ph: posterior.PH, alkalinity: posterior.Alkalinity, manganese: posterior.Manganese,
	manganeseOx: int(posterior.ManganeseOx), oxygen: posterior.Oxygen, sulfide: posterior.Sulfide, ammonia: posterior.Ammonia,
	calcium: posterior.Calcium, magnesium: posterior.Magnesium, sodium: posterior.Sodium, potassium: posterior.Potassium,
	chloride: posterior.Chloride, sulfate: posterior.Sulfate, fluoride: posterior.Fluoride, silica: posterior.Silica,
	nitrate: posterior.Nitrate, phosphate: posterior.Phosphate, carbon: posterior.OrganicCarbon, arsenic: posterior.Arsenic,
	solids: -1, coliform: -1, ecoli: -1,
}

// measures turns the readings into results with their laws and errors.
type measures struct {
	set    source.Set
	all    readings
	visits []time.Time // first day of each
	out    []posterior.Measure
}

// measuresOf lists the results in a fixed order.
func measuresOf(set source.Set, all readings) *measures {
	m := &measures{set: set, all: all}
	m.visitsOf()
	for p := range property(nProperties) {
		if coordinate[p] >= 0 && p != manganese && p != manganeseOx {
			m.property(p)
		}
	}
	m.manganese()
	m.hardness()
	m.conductivity()
	m.iron()
	return m
}

// visitsOf parts the days on which iron was read into visits.
func (m *measures) visitsOf() {
	var days []time.Time
	for _, f := range []water.Fraction{water.Total, water.Dissolved, water.Fine, water.FerrousIron} {
		for _, o := range m.all[part{water.Iron, f}] {
			days = append(days, o.sampled)
		}
	}
	sort.Slice(days, func(i, k int) bool { return days[i].Before(days[k]) })
	for _, d := range days {
		if n := len(m.visits); n == 0 || d.Sub(m.visits[n-1]) > sameVisit {
			m.visits = append(m.visits, d)
		}
	}
}

// sameVisit is how far apart samples of one state of the well may be taken.
const sameVisit = 72 * time.Hour

func (m *measures) visit(o observation) int {
	for i := len(m.visits) - 1; i >= 0; i-- {
		if !o.sampled.Before(m.visits[i]) {
			return i
		}
	}
	return -1
}

// add puts a result down: an error of a share and a floor, and the season unless
// the visit carries it.
func (m *measures) add(o observation, x posterior.Measure, share, floor, season float64) {
	x.Value, x.Report, x.Bottle = o.value, o.report, -1
	if !o.field && o.report >= 0 {
		x.Bottle = o.report
	}
	switch {
	case o.sign == water.Below:
		x.Sign = posterior.Below
	case o.sign == water.Above:
		x.Sign = posterior.Above
	case o.sign != water.Exact:
		return
	}
	if x.Kind == posterior.LogSum || x.Kind == posterior.LateAlk {
		if x.Value <= m.set.Of(leastRead) && x.Sign == posterior.Exact && (x.Value <= 0 || o.field) {
			x.Value, x.Sign = math.Max(x.Value, m.set.Of(leastRead)), posterior.Below
		}
		if x.Value <= 0 {
			return
		}
		x.Floor = floor
	}
	x.SD = math.Hypot(share, season)
	m.out = append(m.out, x)
}

// repeated is how many times the season of one day has to be counted where a
// property was read several times on it, so that repeats do not average it away.
func repeated(obs []observation, o observation) float64 {
	n := 0.0
	for _, x := range obs {
		if x.field == o.field && x.sampled.Equal(o.sampled) {
			n++
		}
	}
	return math.Sqrt(n)
}

// property puts down the plain readings of one property.
func (m *measures) property(p property) {
	t := traits[p]
	obs := m.all[part{t.analyte, water.Total}]
	q := posterior.Quantity(coordinate[p])
	one := []posterior.Term{{Of: q, Times: 1}}
	for _, o := range obs {
		share, season := m.set.Of(t.lab), m.set.Of(t.season)*repeated(obs, o)
		if o.field {
			share = m.set.Of(t.field)
		}
		x := posterior.Measure{Terms: one, Visit: -1, Tag: tags[p]}
		switch {
		case p == temperature:
			if !o.field {
				continue // a bottle's temperature tells of the laboratory
			}
			x.Kind = posterior.Plain
		case p == ph && o.field:
			x.Kind = posterior.Plain
		case p == ph:
			x.Kind, x.Lag = posterior.LatePH, m.lag(phLag)
		case p == alkalinity && !o.field:
			x.Kind, x.Lag = posterior.LateAlk, m.lag(rustLag)
			x.Terms = []posterior.Term{one[0], {Of: posterior.Ferrous, Times: m.set.Of(alkalinityPerIron)}}
		case p == sulfide && !o.field && !o.kept:
			x.Shift, share = -m.set.Of(sulfideLoss), m.set.Of(sulfideLossSD)
		case p == oxygen:
			share, x.Tag = m.set.Of(oxygenShare), posterior.OxygenRead
		}
		m.add(o, x, share, m.set.Of(floors[p]), season)
	}
}

var tags = [nProperties]posterior.Tag{
	calcium: posterior.HardnessRead, magnesium: posterior.HardnessRead, sodium: posterior.SodiumRead, potassium: posterior.Major,
	chloride: posterior.Major, sulfate: posterior.Major, alkalinity: posterior.Major,
}

// lag is the middle and spread of a late reading, from a factor's range.
func (m *measures) lag(f source.Factor) posterior.Lag {
	low, mid, high := m.set.Range(f)
	return posterior.Lag{Mean: mid, SD: (high - low) / (2 * z05)}
}

func (m *measures) manganese() {
	for _, f := range []water.Fraction{water.Total, water.Dissolved} {
		obs := m.all[part{water.Manganese, f}]
		for _, o := range obs {
			x := posterior.Measure{Visit: -1, Tag: posterior.ManganeseRead, Terms: []posterior.Term{{Of: posterior.Manganese, Times: 1}}}
			if f == water.Total {
				x.Terms = append(x.Terms, posterior.Term{Of: posterior.ManganeseOx, Times: 1})
			}
			share := m.set.Of(errLabMetal)
			if o.field {
				share = m.set.Of(errKit)
			}
			m.add(o, x, share, m.set.Of(floors[manganese]), m.set.Of(seasonManganese)*repeated(obs, o))
		}
	}
}

// hardness puts down a hardness that was titrated. One worked out from calcium
// and magnesium says nothing that they have not said.
func (m *measures) hardness() {
	h := part{water.Hardness, water.Total}
	perCa, perMg := oneOf(water.Hardness, "meq/L")/oneOf(water.Calcium, "meq/L"), oneOf(water.Hardness, "meq/L")/oneOf(water.Magnesium, "meq/L")
	for _, o := range m.all[h] {
		if m.workedOut(o, perCa, perMg) {
			continue
		}
		x := posterior.Measure{Visit: -1, Tag: posterior.HardnessRead, Terms: []posterior.Term{{Of: posterior.Calcium, Times: perCa}, {Of: posterior.Magnesium, Times: perMg}}}
		share := m.set.Of(errHardness)
		if o.field {
			share = m.set.Of(errAlkalinity)
		}
		m.add(o, x, share, 0, m.set.Of(seasonIon))
	}
}

// workedOut reports whether a hardness was made of the metals beside it: its
// method says so, or it agrees with them, or with calcium alone, as no titration
// does. Sheets that print calcium hardness as hardness are met.
func (m *measures) workedOut(o observation, perCa, perMg float64) bool {
	low := strings.ToLower(o.method)
	if strings.Contains(low, "calc") || strings.Contains(low, "2340 b") || strings.Contains(low, "2340b") {
		return true
	}
	ca, mg := m.beside(water.Calcium, o.report), m.beside(water.Magnesium, o.report)
	sum := perCa*ca + perMg*mg
	return ca > 0 && mg > 0 && (math.Abs(o.value-sum) < 0.015*sum || math.Abs(o.value-perCa*ca) < 0.01*perCa*ca)
}

// beside is the figure for an analyte in the same report; 0: none.
func (m *measures) beside(a water.Analyte, report int) float64 {
	for _, o := range m.all[part{a, water.Total}] {
		if o.report == report && o.sign == water.Exact {
			return o.value
		}
	}
	return 0
}

// conductivity reads the sum of the ions by their conductances. Dissolved solids
// are left out: most are worked out from conductivity or from the ions.
func (m *measures) conductivity() {
	for _, o := range m.all[part{water.Conductivity, water.Total}] {
		damp := dampingAt(o.value)
		x := posterior.Measure{Visit: -1, Tag: posterior.ConductivityRead}
		for _, c := range conductances {
			x.Terms = append(x.Terms, posterior.Term{Of: c.of, Times: damp * c.perMg})
		}
		m.add(o, x, m.set.Of(errConductivity), 0, m.set.Of(seasonIon))
	}
}

// iron puts down every fraction of iron.
func (m *measures) iron() {
	total := []posterior.Term{{Of: posterior.Iron, Times: 1}}
	through := []posterior.Term{{Of: posterior.Ferrous, Times: 1}, {Of: posterior.Bound, Times: 1}}
	fine := []posterior.Term{{Of: posterior.Ferrous, Times: 1}, {Of: posterior.Bound, Times: m.set.Of(finePasses)}}
	ferrous := []posterior.Term{{Of: posterior.Ferrous, Times: 1}}
	metal, kit, floor := m.set.Of(errLabMetal), m.set.Of(errFerrousKit), m.set.Of(ironFloor)
	lab, field := m.calm(m.all.of(water.Iron, water.Total, false)), m.calm(m.all.of(water.Iron, water.Total, true))
	for _, o := range lab {
		x := posterior.Measure{Tag: posterior.IronTotalLab, Terms: total, Visit: m.visit(o)}
		share := metal
		if o.bottle.Acidified != nil && !*o.bottle.Acidified {
			x.Shift, share = -m.set.Of(platedLoss), m.set.Of(platedLossSD)
		}
		m.add(o, x, share, floor, 0)
	}
	for _, o := range field {
		m.add(o, posterior.Measure{Tag: posterior.IronTotalKit, Terms: total, Visit: m.visit(o)}, kit, floor, 0)
	}
	for _, o := range m.all[part{water.Iron, water.Dissolved}] {
		m.add(o, posterior.Measure{Tag: posterior.IronDissolved, Terms: through, Visit: m.visit(o)}, metal, floor, 0)
	}
	for _, o := range m.all[part{water.Iron, water.Fine}] {
		m.add(o, posterior.Measure{Tag: posterior.Other, Terms: fine, Visit: m.visit(o)}, m.set.Of(fineSpread), floor, 0)
	}
	for _, o := range m.all[part{water.Iron, water.FerrousIron}] {
		x, share := posterior.Measure{Tag: posterior.IronFerrous, Terms: ferrous, Visit: m.visit(o)}, kit
		if !o.field && !o.kept {
			x.Shift, share = -m.set.Of(ferrousLoss), m.set.Of(ferrousLossSD)
		}
		m.add(o, x, share, floor, 0)
	}
}

// calm leaves out the readings of slugs, which tell of growth that sheds and not
// of the water.
func (m *measures) calm(obs []observation) []observation {
	kept, top := calm(m.set, obs)
	if !top.slug {
		return obs
	}
	return kept
}

// conductance is what a milligram of an ion adds to conductivity.
type conductance struct {
	of    posterior.Quantity
	perMg float64 // µS/cm for each mg/L, undamped
}

// conductances are the equivalent conductances at 25 °C over the equivalent
// masses (CRC handbook and Standard Methods 2510, from memory; as package chem).
var conductances = []conductance{
	{posterior.Calcium, 59.5 / 20.039}, {posterior.Magnesium, 53.1 / 12.153}, {posterior.Sodium, 50.1 / 22.990}, {posterior.Potassium, 73.5 / 39.098},
	{posterior.Chloride, 76.4 / 35.453}, {posterior.Sulfate, 80.0 / 48.03}, {posterior.Nitrate, 71.4 / 14.007}, {posterior.Alkalinity, 44.5 / 50.044},
	{posterior.Ferrous, 54.0 / 27.923}, {posterior.Fluoride, 55.4 / 18.998}, {posterior.Ammonia, 73.5 / 14.007},
}

// dampingAt is how far the ions hinder one another at a conductivity, by the
// ionic strength that usually goes with it.
//
//	y² = 10^-(√I/(1+√I) - 0.3 I),  I = 1.6e-5 EC
//
// Source: Davies equation as in package chem; I from conductivity, Snoeyink &
// Jenkins, Water Chemistry (from memory).
func dampingAt(us float64) float64 {
	i := 1.6e-5 * us
	s := math.Sqrt(i)
	return math.Pow(10, -(s/(1+s) - 0.3*i))
}

// least is the least of what a field test shows, and floors the error of each
// result near nothing.
func floorFactor(p property, v float64) source.Factor {
	return source.Factor{Name: "cloud_floor_" + traits[p].leaf, What: "error near nothing of " + traits[p].leaf, Unit: traits[p].unit,
		Value: v, Low: v / 3, High: 3 * v, Kind: source.CommonPractice, From: "about a third of the usual reporting limit or step of the kit"}
}

var floors = [nProperties]source.Factor{
	oxygen: errOxygen, sulfide: floorFactor(sulfide, 0.03), ammonia: floorFactor(ammonia, 0.02), nitrate: floorFactor(nitrate, 0.02),
	phosphate: floorFactor(phosphate, 0.01), carbon: floorFactor(carbon, 0.1), arsenic: floorFactor(arsenic, 0.0003),
	manganese: floorFactor(manganese, 0.003), fluoride: floorFactor(fluoride, 0.02), chloride: floorFactor(chloride, 0.3), sulfate: floorFactor(sulfate, 0.3),
	sodium: floorFactor(sodium, 0.1), potassium: floorFactor(potassium, 0.1), calcium: floorFactor(calcium, 0.1), magnesium: floorFactor(magnesium, 0.1),
	silica: floorFactor(silica, 0.2), alkalinity: floorFactor(alkalinity, 1),
}

func floorFactors() []source.Factor {
	var fs []source.Factor
	for _, f := range floors {
		if strings.HasPrefix(f.Name, "cloud_floor_") {
			fs = append(fs, f)
		}
	}
	return fs
}

// Laws of late and lost readings.
var (
	leastRead = source.Factor{Name: "cloud_least_read", What: "least that a field test shows: none found is below it", Unit: "mg/L",
		Value: 0.05, Low: 0.02, High: 0.1, Kind: source.CommonPractice, From: "first step of the usual kits"}
	ironFloor = source.Factor{Name: "cloud_floor_iron", What: "error near nothing of iron", Unit: "mg/L",
		Value: 0.01, Low: 0.005, High: 0.05, Kind: source.CommonPractice, From: "about a third of the usual reporting limit"}
	errConductivity = source.Factor{Name: "cloud_error_conductivity", What: "error of conductivity and of its sum by ions, one standard deviation",
		Value: 0.06, Low: 0.03, High: 0.1, Kind: source.CommonPractice, From: "3 to 5 % by the sum, 2 to 3 % by the meter"}
	phLag = source.Factor{Name: "cloud_ph_lag", What: "share of its way to the pH of open air that a mailed bottle has gone",
		Value: 0.33, Low: 0.1, High: 0.56, Kind: source.Judgement, From: "rises of 0.3 to 1 between field and laboratory in hard reduced water"}
	rustLag = source.Factor{Name: "cloud_rust_lag", What: "share of ferrous iron that rusts in the alkalinity bottle before it is titrated",
		Value: 0.75, Low: 0.3, High: 1.2, Kind: source.Judgement, From: "days of standing with a little air; nearly all where the bottle is not full"}
	sulfideLoss = source.Factor{Name: "cloud_sulfide_loss", What: "sulfide lost in an unpreserved bottle, natural logarithm",
		Value: 2, Low: 0.7, High: 4, Kind: source.Judgement, From: "lost within days"}
	sulfideLossSD = source.Factor{Name: "cloud_sulfide_loss_spread", What: "spread of that loss, natural logarithm",
		Value: 1.2, Low: 0.5, High: 2, Kind: source.Judgement, From: "lost within days"}
	ferrousLoss = source.Factor{Name: "cloud_ferrous_loss", What: "ferrous iron lost in a mailed bottle, natural logarithm",
		Value: 0.7, Low: 0.2, High: 2, Kind: source.Judgement, From: "lists disagree on 24 hours cool or 14 days in acid"}
	ferrousLossSD = source.Factor{Name: "cloud_ferrous_loss_spread", What: "spread of that loss, natural logarithm",
		Value: 0.7, Low: 0.3, High: 1.5, Kind: source.Judgement, From: "as the loss"}
	platedLoss = source.Factor{Name: "cloud_plated_loss", What: "iron lost to the wall of a bottle without acid, natural logarithm",
		Value: 0.7, Low: 0.1, High: 1.4, Kind: source.CommonPractice, From: "a third to two thirds of the iron is found again"}
	platedLossSD = source.Factor{Name: "cloud_plated_loss_spread", What: "spread of that loss, natural logarithm",
		Value: 0.5, Low: 0.2, High: 1, Kind: source.CommonPractice, From: "as the loss"}
	finePasses = source.Factor{Name: "cloud_fine_passes", What: "share of bound iron that passes 0.1 to 0.2 µm",
		Value: 0.35, Low: 0.1, High: 0.8, Kind: source.Judgement, From: "colloids are held, complexes pass"}
	oxideMiddle = source.Factor{Name: "cloud_manganese_oxide", What: "particulate manganese where nobody parted it", Unit: "mg/L",
		Value: 0.002, Low: 0.0003, High: 0.015, Kind: source.Judgement, From: "manganese stays dissolved at household pH"}
	bottleError = source.Factor{Name: "cloud_error_bottle", What: "error that all results of one bottle share, one standard deviation",
		Value: 0.02, Low: 0.01, High: 0.05, Kind: source.Judgement, From: "volume and dilution in the laboratory"}
)

func measureFactors() []source.Factor {
	return append(floorFactors(), leastRead, ironFloor, errConductivity, phLag, rustLag, sulfideLoss, sulfideLossSD, ferrousLoss, ferrousLossSD,
		platedLoss, platedLossSD, finePasses, oxideMiddle, bottleError)
}

// numbersOf reads the numbers of a draw off its amounts.
func numbersOf(d *posterior.Draw) (n numbers, i split) {
	for p := range property(nProperties) {
		if c := coordinate[p]; c >= 0 {
			n[p] = d.Amount[c]
		}
	}
	return n, split{d.Amount[posterior.Ferrous], d.Amount[posterior.Particulate], d.Amount[posterior.Bound]}
}

// chargesFor lays the charges out by the coordinates of the prior.
func chargesFor(c charges) (z posterior.Charges) {
	for p := range property(nProperties) {
		if at := coordinate[p]; at >= posterior.Calcium && at <= posterior.Alkalinity {
			z[at] = c.of[p]
		}
	}
	z[posterior.Iron] = c.ferrous
	return z
}
