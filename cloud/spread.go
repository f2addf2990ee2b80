package cloud

import (
	"math"
	"strings"
)

// spreadDraws is how many draws stand for all where a search cannot afford them.
const spreadDraws = 20

// spread picks draws that stand for all: the middle first, then ever the one that
// is farthest from those picked, in what treatment turns on; each weighs as many
// draws as are nearest to it.
// Source: farthest-point sampling, Gonzalez 1985 (from memory).
func (b *balance) spread(draws []Draw) []Draw {
	const candidates = 400 // a fair sample of the draws
	places := make([]place, len(draws))
	for i := range draws {
		places[i] = placeOf(&draws[i])
	}
	scale := scaleOf(places)
	picked := []place{placeOf(&b.middle)}
	out := []Draw{b.middle}
	nearest := make([]float64, min(candidates, len(draws)))
	for i := range nearest {
		nearest[i] = math.Inf(1)
	}
	for len(out) < min(spreadDraws, len(draws)) {
		far := 0
		for i := range nearest {
			nearest[i] = math.Min(nearest[i], places[i].from(&picked[len(picked)-1], &scale))
			if nearest[i] > nearest[far] {
				far = i
			}
		}
		picked, out = append(picked, places[far]), append(out, draws[far])
	}
	for i := range out {
		out[i].Weight = 0
		if i > 0 {
			out[i].Name = apart(&out[i], &b.middle, &picked[i], &picked[0], &scale)
		}
	}
	for i := range places {
		best, least := 0, math.Inf(1)
		for k := range picked {
			if d := places[i].from(&picked[k], &scale); d < least {
				best, least = k, d
			}
		}
		out[best].Weight += 1 / float64(len(draws))
	}
	return out
}

// place is where a draw stands in what treatment turns on.
type place [12]float64

func placeOf(d *Draw) place {
	w, s := &d.Water, &d.Supply
	ln := func(v, floor float64) float64 { return math.Log(math.Max(v, 0) + floor) }
	return place{
		ln(w.Ferrous.MgPerL(), 0.1), ln(w.Particulate.MgPerL(), 0.1), ln(w.Bound.MgPerL(), 0.1), ln(w.Manganese.MgPerL(), 0.02),
		ln(w.Sulfide.MgPerLAsH2S(), 0.03), ln(w.Ammonia.MgPerLAsN(), 0.05), w.PH.Value(), ln(w.Oxygen.MgPerL(), 0.1),
		ln(w.OrganicCarbon.MgPerL(), 0.3), ln(s.Hydraulic.Yield.GPM(), 0.1), ln(s.Hydraulic.Pump.FlowAt(s.Hydraulic.CutIn).GPM(), 0.1), w.Bacteria,
	}
}

// from is the squared distance of two places.
func (p *place) from(q, scale *place) float64 {
	sum := 0.0
	for i := range p {
		d := (p[i] - q[i]) / scale[i]
		sum += d * d
	}
	return sum
}

// scaleOf is the spread of each figure, with a floor so that what hardly moves
// does not count as if it did.
func scaleOf(ps []place) (s place) {
	const floor = 0.3 // a third of a logarithm or of a pH unit
	n := float64(len(ps))
	for i := range s {
		mean, sq := 0.0, 0.0
		for k := range ps {
			mean += ps[k][i] / n
		}
		for k := range ps {
			sq += (ps[k][i] - mean) * (ps[k][i] - mean) / n
		}
		s[i] = math.Max(floor, math.Sqrt(sq))
	}
	return s
}

// apart names a draw by what sets it off most from the middle one.
func apart(d, middle *Draw, at, from, scale *place) string {
	most, far := 0, 0.0
	for i := range at {
		if off := math.Abs(at[i]-from[i]) / scale[i]; off > far {
			most, far = i, off
		}
	}
	f := setOff[most]
	if f.of == nil {
		if d.World.Bacteria {
			return "iron bacteria"
		}
		return "no iron bacteria"
	}
	way := "more "
	if f.of(d) < f.of(middle) {
		way = "less "
	}
	if f.what == "pH" {
		way = ""
	}
	if f.unit == "gpm" { // every sheet says flows in its own units
		return way + f.what
	}
	return way + f.what + ", " + strings.TrimSpace(trim(f.of(d))+" "+f.unit)
}

// setOff are the figures of a place, in its order, as they are named.
var setOff = [len(place{})]struct {
	what, unit string
	of         func(*Draw) float64
}{
	{"ferrous iron", "mg/L", func(d *Draw) float64 { return d.Water.Ferrous.MgPerL() }},
	{"particulate iron", "mg/L", func(d *Draw) float64 { return d.Water.Particulate.MgPerL() }},
	{"bound iron", "mg/L", func(d *Draw) float64 { return d.Water.Bound.MgPerL() }},
	{"manganese", "mg/L", func(d *Draw) float64 { return d.Water.Manganese.MgPerL() }},
	{"sulfide", "mg/L as H2S", func(d *Draw) float64 { return d.Water.Sulfide.MgPerLAsH2S() }},
	{"ammonia", "mg/L as N", func(d *Draw) float64 { return d.Water.Ammonia.MgPerLAsN() }},
	{"pH", "", func(d *Draw) float64 { return d.Water.PH.Value() }},
	{"oxygen", "mg/L", func(d *Draw) float64 { return d.Water.Oxygen.MgPerL() }},
	{"organic carbon", "mg/L", func(d *Draw) float64 { return d.Water.OrganicCarbon.MgPerL() }},
	{"yield", "gpm", func(d *Draw) float64 { return d.Supply.Hydraulic.Yield.GPM() }},
	{"pump flow", "gpm", func(d *Draw) float64 { return d.Supply.Hydraulic.Pump.FlowAt(d.Supply.Hydraulic.CutIn).GPM() }},
	{"", "", nil},
}
