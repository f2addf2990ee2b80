package cloud

import (
	"math"

	"wellwright/cloud/internal/posterior"
	"wellwright/source"
	"wellwright/water"
)

// near lets the wells of neighbours speak for what may be found here. Each figure
// of theirs is one reading of the place, from which this well stands off as they
// stand off one another:
//
//	SD = s √(1 + 1/n)
//
//	s  spread of the figure among wells of one place, natural logarithm (pH as it is)
//	n  neighbours with the figure
//
// Never narrower than s, however many neighbours: wells fifty feet apart can
// differ. Source: variance of a new value about the mean of n.
func (m *measures) near(wells []Evidence) {
	var all []readings
	for _, e := range wells {
		all = append(all, read(e))
	}
	for p := range property(nProperties) {
		if c := coordinate[p]; c >= 0 && p != manganeseOx {
			m.nearby(all, traits[p].analyte, posterior.Quantity(c), p == ph || p == temperature, neighbourSpread(p))
		}
	}
	m.nearby(all, water.Iron, posterior.Iron, false, apartMetals)
}

// nearby puts down the mean of one figure over the neighbours that have it.
func (m *measures) nearby(all []readings, a water.Analyte, q posterior.Quantity, linear bool, spread source.Factor) {
	sum, n := 0.0, 0.0
	for _, r := range all {
		obs := r[part{a, water.Total}]
		v, ok := r.one(m.set, a)
		if !ok || v <= 0 && !linear || allBelow(obs) {
			continue
		}
		if !linear {
			v = math.Log(v)
		}
		sum, n = sum+v, n+1
	}
	if n == 0 {
		return
	}
	x := posterior.Measure{Terms: []posterior.Term{{Of: q, Times: 1}}, Visit: -1, Bottle: -1, Report: -1, SD: m.set.Of(spread) * math.Sqrt(1+1/n)}
	if x.Value = sum / n; linear {
		x.Kind = posterior.Plain
	} else {
		x.Value = math.Exp(x.Value)
	}
	m.out = append(m.out, x)
}

func allBelow(obs []observation) bool {
	for _, o := range obs {
		if o.sign == water.Exact {
			return false
		}
	}
	return true
}

// neighbourSpread is how far wells of one place stand apart in a property.
func neighbourSpread(p property) source.Factor {
	switch p {
	case ph:
		return apartPH
	case temperature:
		return apartWarmth
	case manganese, sulfide, ammonia, arsenic, nitrate, oxygen, phosphate:
		return apartMetals
	}
	return apartSalts
}

var (
	apartMetals = source.Factor{Name: "cloud_neighbour_metals", What: "spread of iron, manganese and what goes with redox among wells of one place, natural logarithm",
		Value: 0.9, Low: 0.5, High: 1.5, Kind: source.Judgement, From: "bedrock wells some fifty feet apart can be unlike (published: trade column, second hand); the figure is judgement"}
	apartSalts = source.Factor{Name: "cloud_neighbour_salts", What: "spread of hardness, alkalinity and salts among wells of one place, natural logarithm",
		Value: 0.4, Low: 0.2, High: 0.8, Kind: source.Judgement, From: "one rock, other depths"}
	apartPH = source.Factor{Name: "cloud_neighbour_ph", What: "spread of pH among wells of one place", Unit: "pH",
		Value: 0.3, Low: 0.15, High: 0.6, Kind: source.Judgement, From: "one rock, other depths"}
	apartWarmth = source.Factor{Name: "cloud_neighbour_temperature", What: "spread of temperature among wells of one place", Unit: "°C",
		Value: 1, Low: 0.5, High: 3, Kind: source.Judgement, From: "depth and season"}
)

func neighbourFactors() []source.Factor {
	return []source.Factor{apartMetals, apartSalts, apartPH, apartWarmth}
}
