package plan

import (
	"fmt"

	"wellwright/limits"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// Placing weighs treating a health finding where the water enters the house against
// treating it at the tap where it is drunk.
type Placing struct {
	Analyte  string     `json:"analyte"`
	Exposure string     `json:"exposure"` // how it reaches people
	Where    string     `json:"where"`    // house, kitchen, both
	Say      string     `json:"say"`
	House    *Treatment `json:"house"`   // null: none is built that holds it here
	Kitchen  *Treatment `json:"kitchen"` // the same
	Kind     string     `json:"kind"`
	From     string     `json:"from"`
}

// Treatment is one process at one of the two places.
type Treatment struct {
	Process string   `json:"process"`
	Left    *float64 `json:"left"` // of the analyte, in unit; null: not forecast
	Unit    string   `json:"unit"`
	First   Range    `json:"first_usd"`
	Yearly  Range    `json:"yearly_usd"`
	TenYear Range    `json:"ten_year_usd"`
}

// The ways in which something in water reaches people.
const (
	swallowed = "swallowed: drinking and cooking"
	breathed  = "breathed and on the skin: showers, washing"
	anyTap    = "at any tap: drinking, brushing teeth, wounds"
)

// The places.
const (
	atHouse   = "house"
	atKitchen = "kitchen"
	atBoth    = "both"
	nowhere   = "neither" // nothing here is shown to keep the limit
)

// placed is what is known of an analyte's way to people and of what takes it.
type placed struct {
	exposure string
	house    media.Process             // "" if none is built that is bought for it
	kitchen  media.Process             // "" if none
	left     func(water.State) float64 // in the unit of the analyte; nil: not forecast
}

func swallowedOnly(house media.Process, left func(water.State) float64) placed {
	return placed{swallowed, house, media.ReverseOsmosis, left}
}

// placings is by analyte. Exposure: arsenic, nitrate, lead and fluoride hardly pass
// the skin and are not breathed; radon and sulfide are gases. Common practice of
// health departments.
var placings = map[water.Analyte]placed{
	water.Arsenic:        swallowedOnly(media.ArsenicAdsorber, func(w water.State) float64 { return w.Arsenic.MgPerL() }),
	water.Nitrate:        swallowedOnly(media.NitrateExchanger, func(w water.State) float64 { return w.Nitrate.MgPerLAsN() }),
	water.NitrateNitrite: swallowedOnly(media.NitrateExchanger, func(w water.State) float64 { return w.Nitrate.MgPerLAsN() }),
	water.Manganese:      swallowedOnly("", func(w water.State) float64 { return w.TotalManganese().MgPerL() }),
	water.Fluoride:       swallowedOnly("", func(w water.State) float64 { return w.Fluoride.MgPerL() }),
	water.Sulfate:        swallowedOnly("", func(w water.State) float64 { return w.Sulfate.MgPerL() }),
	water.Sodium:         swallowedOnly("", func(w water.State) float64 { return w.Sodium.MgPerL() }),
	water.Lead:           swallowedOnly("", nil),
	water.Uranium:        swallowedOnly("", nil),
	water.Radium:         swallowedOnly(media.Softener, nil),
	water.Nitrite:        swallowedOnly("", nil), water.Copper: swallowedOnly("", nil), water.Barium: swallowedOnly(media.Softener, nil),
	water.PFOA: swallowedOnly("", nil), water.PFOS: swallowedOnly("", nil), water.PFAS25: swallowedOnly("", nil), water.PFAS20: swallowedOnly("", nil),
	water.Radon:           {breathed, media.RadonAeration, "", func(w water.State) float64 { return w.Radon.PCiPerL() }},
	water.Trihalomethanes: {breathed + ", and swallowed", media.CarbonFilter, "", nil},
	water.EColi:           {anyTap, media.Ultraviolet, "", func(w water.State) float64 { return w.EColi.Per100mL() }},
	water.FecalColiform:   {anyTap, media.Ultraviolet, "", nil},
	water.TotalColiform:   {anyTap, media.Ultraviolet, "", func(w water.State) float64 { return w.Coliform.Per100mL() }},
}

// placingsOf weighs every finding of health that is exceeded, behind the first
// option, or of the raw water where there is none.
func (d *Desk) placingsOf(r *ranked) []Placing {
	ps := []Placing{}
	seen := map[string]bool{}
	for _, f := range d.judged() {
		x, known := placings[water.Analyte(f.ID)]
		if !known {
			x.exposure = swallowed // and nothing is priced for it
		}
		if seen[f.ID] || f.Outcome != limits.Exceeds || !f.Limit.Basis.Protects() || f.Limit.High == nil {
			continue
		}
		seen[f.ID] = true
		if f.ID == string(water.EColi) {
			seen[string(water.TotalColiform)] = true // one unit for both
		}
		ps = append(ps, d.placing(f, x, r))
	}
	return ps
}

// placing weighs one finding.
func (d *Desk) placing(f limits.Finding, x placed, r *ranked) Placing {
	p := Placing{Analyte: f.ID, Exposure: x.exposure, Kind: source.CommonPractice.String(), From: "exposure: health departments' practice; cost: the price list; left: forecast on the likeliest water"}
	var lacks string
	p.House, lacks = d.treated(x.house, f, x, r)
	p.Kitchen, _ = d.treated(x.kitchen, f, x, r)
	most := *f.Limit.High
	if d.keptByTrain(x, most, r) {
		p.Where = atHouse
		p.Say = p.reaches() + " The first option is forecast to keep the limit at every tap; what is priced here is a second barrier." + p.prices()
		if x.house != "" && r.Train.Has(x.house) {
			p.Say = p.reaches() + " The first option keeps the limit at every tap with its " + x.house.Words() + ", which is in its price." + p.prices()
		}
		return p
	}
	if r != nil && r.Tap != nil && x.kitchen != "" && x.left != nil && x.left(r.Tap.Out) <= most {
		p.Where = atKitchen
		p.Say = p.reaches() + " The first option keeps the limit with a kitchen tap, whose cost it bears; every other tap stays as it is, and nobody, children least, drinks from it." + p.prices()
		return p
	}
	p.Where = where(x, p, most)
	p.Say = p.words(most, lacks)
	return p
}

// keptByTrain reports whether the first option keeps the limit at every tap.
func (d *Desk) keptByTrain(x placed, most float64, r *ranked) bool {
	return r != nil && x.left != nil && x.left(d.voyage(r.Evaluation).end()) <= max(most, germTrace)
}

// reaches says how it comes to people.
func (p Placing) reaches() string {
	if p.Exposure == anyTap {
		return "It does harm " + p.Exposure + ". Repair and disinfect the well first; a unit stands for what comes back."
	}
	return "It is " + p.Exposure + "."
}

// where picks the place: the house for what is breathed or comes from any tap; the
// kitchen for what is only swallowed, where that keeps the limit or nothing else is
// built; else the house; else both, one behind the other.
func where(x placed, p Placing, most float64) string {
	holds := func(t *Treatment) bool { return t != nil && t.Left != nil && *t.Left <= most }
	switch {
	case x.kitchen == "" && p.House != nil:
		return atHouse
	case holds(p.Kitchen):
		return atKitchen
	case holds(p.House):
		return atHouse
	case p.House != nil && p.Kitchen != nil:
		return atBoth
	case p.Kitchen != nil && p.Kitchen.Left == nil:
		return atKitchen
	}
	return nowhere
}

// words gives the reasons: exposure, proof, and the cost of both. Lacks is what
// hinders a unit for the house.
func (p Placing) words(most float64, lacks string) string {
	limit := unit.Digits(most)
	say := p.reaches()
	switch p.Where {
	case atHouse:
		if p.Kitchen != nil {
			say += fmt.Sprintf(" A kitchen tap alone would not bring it to %s.", limit)
		}
		say += " Treat it where the water enters the house, so that every tap is covered; prove it behind the unit and at the farthest tap."
	case atKitchen:
		say += " A kitchen tap is enough, is proven by one sample, and fails for one tap alone; every other tap stays as it is, and nobody, children least, drinks from it."
		if p.Kitchen.Left == nil {
			say += " What it leaves is not forecast: only a laboratory tells."
		}
	case atBoth:
		say += fmt.Sprintf(" Neither is shown to bring it to %s alone: both, one behind the other, or another source, and a laboratory before anyone drinks it.", limit)
	default:
		say += fmt.Sprintf(" Nothing here is shown to bring it to %s: other water until something is that does.", limit)
	}
	if p.Kitchen != nil && p.Kitchen.Left != nil && *p.Kitchen.Left > most {
		say += fmt.Sprintf(" A kitchen membrane would leave %s %s.", unit.Digits(*p.Kitchen.Left), p.Kitchen.Unit)
	}
	return say + lacks + p.prices()
}

// prices compares the two by the year.
func (p Placing) prices() string {
	switch {
	case p.House != nil && p.Kitchen != nil:
		return fmt.Sprintf(" By the year: kitchen about $%.0f and $%.0f to fit; house about $%.0f and $%.0f to fit.", p.Kitchen.Yearly.P50, p.Kitchen.First.P50, p.House.Yearly.P50, p.House.First.P50)
	case p.Kitchen != nil:
		return fmt.Sprintf(" A kitchen tap costs about $%.0f a year and $%.0f to fit.", p.Kitchen.Yearly.P50, p.Kitchen.First.P50)
	case p.House != nil:
		return fmt.Sprintf(" A unit for the house costs about $%.0f a year and $%.0f to fit.", p.House.Yearly.P50, p.House.First.P50)
	}
	return " No unit for it is priced here: ask the health department."
}

// treated sizes and prices one process behind the first option: the first size that
// breaks no hard limit there. Nil if none is, and what hinders it.
func (d *Desk) treated(p media.Process, f limits.Finding, x placed, r *ranked) (t *Treatment, lacks string) {
	unitProcess, built := stage.Of(p)
	if !built {
		return nil, ""
	}
	j := d.behind(p, r)
	for _, z := range unitProcess.Sizes(&j) {
		o := unitProcess.Run(&j, z)
		if l, broken := stage.FirstHard(o.Limits); broken {
			lacks = fmt.Sprintf(" For the house, %s fails here: %s.", p.Words(), l.Say)
			continue
		}
		c := d.work(o.Bill, nil)
		t = &Treatment{Process: string(p), Unit: water.Analyte(f.ID).Unit(), First: money(c.First), Yearly: money(c.Yearly), TenYear: money(c.TenYear)}
		if x.left != nil {
			left := roundTo(x.left(o.Out), 3)
			t.Left = &left
		}
		return t, ""
	}
	return nil, lacks
}

// behind is the job of a unit behind the first option, or in its own place there.
func (d *Desk) behind(p media.Process, r *ranked) stage.Job {
	draw := &d.Work.Draws[d.middle()]
	site := *d.Work.Site
	site.Working = nil
	j := stage.Job{Site: &site, Draw: draw, In: draw.Water, Supply: draw.Supply.Hydraulic, Peak: draw.Supply.Peak, Daily: draw.Supply.Daily}
	if r == nil {
		return j
	}
	v := d.voyage(r.Evaluation)
	for k, l := range v.e.Links {
		if l.Process == p {
			break
		}
		if j.In = v.at(k).Out; v.at(k).Supply != nil {
			j.Supply = *v.at(k).Supply
		}
		j.Before = v.e.Train[:k+1]
	}
	return j
}
