package hydraulic

import (
	"math"

	"wellwright/unit"
)

// Bed is one medium of a stacked filter with its settled depth.
type Bed struct {
	Grain Grain
	Depth unit.Length
}

// Stack is a filter of several media, the top one first: anthracite over sand,
// or over a greensand.
type Stack []Bed

// HeadLoss returns the loss of a clean settled stack.
//
// Source: the sum over the beds of Grain.HeadLoss.
func (s Stack) HeadLoss(v unit.Loading, t unit.Temperature) unit.Pressure {
	sum := 0.0
	for _, b := range s {
		sum += b.Grain.HeadLoss(v, b.Depth, t).PSI()
	}
	return unit.PSI(sum)
}

// Washed is one bed of a stack in an upward flow.
type Washed struct {
	Expansion float64     // share of the settled depth
	Depth     unit.Length // as expanded
	Loss      unit.Pressure
	Bulk      float64 // kg/m3, of grains and water together
}

// Wash returns each bed of a stack in an upward flow, and the stack as one: its
// depth, its expansion and the loss through all of it.
//
//	loss = least of the settled bed's and of its weight in water
//	bulk = e rho + (1-e) rhos
//
//	e  porosity as expanded
//
// Range: beds that stay apart, see Boundary. Error: that of Grain.Expansion.
// Source: Grain.Expansion, HeadLoss and Lifted, bed by bed.
func (s Stack) Wash(v unit.Loading, t unit.Temperature) (beds []Washed, all Washed) {
	settled, depth, loss, weight := 0.0, 0.0, 0.0, 0.0
	for _, b := range s {
		w := b.washed(v, t)
		beds = append(beds, w)
		settled += b.Depth.Ft()
		depth += w.Depth.Ft()
		loss += w.Loss.PSI()
		weight += w.Bulk * w.Depth.Ft()
	}
	if settled <= 0 {
		return beds, Washed{}
	}
	return beds, Washed{Expansion: depth/settled - 1, Depth: unit.Ft(depth), Loss: unit.PSI(loss), Bulk: weight / depth}
}

func (b Bed) washed(v unit.Loading, t unit.Temperature) Washed {
	g := b.Grain
	x := g.Expansion(v, t)
	e := 1 - (1-g.Porosity)/(1+x)
	held, lifted := g.HeadLoss(v, b.Depth, t).PSI(), g.Lifted(b.Depth, t).PSI()
	return Washed{
		Expansion: x, Depth: unit.Ft(b.Depth.Ft() * (1 + x)), Loss: unit.PSI(math.Min(held, lifted)),
		Bulk: e*Density(t) + (1-e)*g.Density*gravityBasis,
	}
}

// Boundary is whether two media stay apart in a wash. Coarse is the size that 90 %
// of the upper medium passes, Fine the size that 10 % of the lower one passes;
// Match is the size of upper grain that settles as fast as Fine.
type Boundary struct {
	Coarse, Fine, Match unit.Length
	Overlap             bool // the coarse grains of the upper medium settle faster than the fine of the lower
	Sinks               bool // at this rate the upper bed is the heavier mixture and changes places with the lower
}

// Boundaries returns the boundaries of a stack, the top one first, in an upward
// flow.
//
//	Match = SameSettling(Fine),  Overlap: Coarse > Match
//	Sinks: both beds lifted and bulk of the upper >= bulk of the lower
//
// Overlap blends the two where they meet, which is common and often wanted; a
// bed that sinks turns over.
//
// Range: expanded beds. Error: sizes 10 %, bulk 3 %; the rule of sizes takes
// both media for one shape. Source: sizes as SameSettling; mixtures by the bulk
// density model, Cleasby and Woods, 1975 (from memory).
func (s Stack) Boundaries(v unit.Loading, t unit.Temperature) []Boundary {
	beds, _ := s.Wash(v, t)
	var all []Boundary
	for i := 1; i < len(s); i++ {
		up, down := s[i-1].Grain, s[i].Grain
		b := Boundary{Coarse: up.d90(), Fine: down.D10, Match: SameSettling(down.D10, down.Density, up.Density)}
		b.Overlap = b.Coarse.MM() > b.Match.MM()
		b.Sinks = beds[i-1].Expansion > 0 && beds[i].Expansion > 0 && beds[i-1].Bulk >= beds[i].Bulk
		all = append(all, b)
	}
	return all
}

// SameSettling returns the size of grain of another specific gravity that
// settles as fast as a grain of this size and gravity.
//
//	d1/d2 = ((s2 - 1)/(s1 - 1))^0.667
//
//	s  specific gravity of the wet grain
//
// Range: both above 1, grains of 0.2 to 2 mm, at transitional Reynolds numbers.
// Error: 10 to 20 %, more between shapes far apart. It is +Inf for a grain that
// does not sink. Source: Tchobanoglous, Burton and Stensel, 2003, Wastewater
// Engineering, sizing of dual and multimedia filters (from memory).
func SameSettling(d unit.Length, gravity, other float64) unit.Length {
	if other <= 1 {
		return unit.MM(math.Inf(1))
	}
	return unit.MM(d.MM() * math.Pow(math.Max(0, gravity-1)/(other-1), 0.667))
}
