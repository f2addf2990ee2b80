package hydraulic

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// Use is one draw of water: it runs at one flow from its start, told from the
// midnight the record begins with.
type Use struct {
	What  EndUse
	Start time.Duration
	Long  time.Duration
	Flow  unit.Flow
}

// Volume returns the water of a use.
func (u Use) Volume() unit.Volume { return unit.Gal(u.Flow.GPM() * u.Long.Minutes()) }

// End returns when a use stops.
func (u Use) End() time.Duration { return u.Start + u.Long }

const day = 24 * time.Hour

// Year draws 365 days of uses, in order of their starts. The same household,
// factors and seed give the same year.
//
//	starts   Poisson, at the rate q p(h)/v in hour h of every day
//	volume   log-normal about v, flow log-normal about its mean and capped
//	length   volume over flow
//	leaks    one steady flow over the whole year
//
//	q  daily use, from MeanUse;  v  volume of an event
//	p  share of the hour, from the hourly patterns
//
// A clothes washer draws each load in two fills, a dishwasher in three. Uses do
// not wait for each other, and every day is like the last: no holidays, guests
// or seasons, and nothing outdoors.
//
// Error: means as MeanUse; real houses are more uneven from day to day. Source:
// Poisson rectangular pulses, after Buchberger and Wu, 1995 (from memory).
func (h Household) Year(set source.Set, seed uint64) []Use { return h.Days(set, seed, 365) }

// Days is Year for another number of days; its first days are not those of a
// longer record.
func (h Household) Days(set source.Set, seed uint64, days int) []Use {
	span := time.Duration(max(0, days)) * day
	uses := make([]Use, 0, h.expected(set, days))
	if leak := h.MeanUse(set, Leak); leak.GPM() > 0 && span > 0 {
		uses = append(uses, Use{What: Leak, Long: span, Flow: leak})
	}
	for i := range habits {
		// Each use has a stream of its own: changing one leaves the others alone.
		r := rand.New(rand.NewPCG(seed, uint64(i)))
		p := newPulses(&habits[i], set, h.MeanUse(set, habits[i].use).GalPerDay())
		uses = p.fill(uses, r, span)
	}
	slices.SortFunc(uses, func(a, b Use) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.What, b.What))
	})
	return uses
}

// expected is how many uses to make room for, five standard deviations over the
// mean.
func (h Household) expected(set source.Set, days int) int {
	n := 1.0
	for i := range habits {
		events := h.MeanUse(set, habits[i].use).GalPerDay() / set.Of(habits[i].volumeFactor())
		n += events * float64(habits[i].fills) * float64(days)
	}
	return int(n + 5*math.Sqrt(max(0, n)))
}

// pulses draws the events of one end use.
type pulses struct {
	*habit
	perDay float64
	upTo   [25]float64 // share of the day before each hour
	volume lognormal
	flow   lognormal
}

func newPulses(h *habit, set source.Set, gal float64) pulses {
	mean := set.Of(h.volumeFactor())
	p := pulses{habit: h, volume: about(mean, h.spread), flow: about(set.Of(h.flowFactor()), h.vary)}
	if mean > 0 && set.Of(h.flowFactor()) > 0 {
		p.perDay = gal / mean
	}
	for i, s := range h.pattern {
		p.upTo[i+1] = p.upTo[i] + s
	}
	for i := range p.upTo {
		p.upTo[i] /= p.upTo[24]
	}
	p.upTo[24] = 1
	return p
}

// fill walks through the days in steps of exponential length, measured in shares
// of a day's use, and reads the clock off the pattern.
func (p *pulses) fill(uses []Use, r *rand.Rand, span time.Duration) []Use {
	if p.perDay <= 0 {
		return uses
	}
	days := float64(span / day)
	for at := r.ExpFloat64() / p.perDay; at < days; at += r.ExpFloat64() / p.perDay {
		whole, share := math.Modf(at)
		start := time.Duration((whole*24 + p.clock(share)) * float64(time.Hour))
		uses = p.event(uses, r, start, span)
	}
	return uses
}

// event adds the fills of one event; what would run past the end is cut there.
func (p *pulses) event(uses []Use, r *rand.Rand, start, span time.Duration) []Use {
	gallons, flow := p.volume.draw(r), min(p.most, p.flow.draw(r))
	long := minutesOf(gallons / float64(p.fills) / flow)
	for range p.fills {
		if start < span {
			uses = append(uses, Use{What: p.use, Start: start, Long: min(long, span-start), Flow: unit.GPM(flow)})
		}
		start += max(long, minutesOf(p.gap))
	}
	return uses
}

// clock returns the hour of the day at which a share of its use is past.
func (p *pulses) clock(share float64) float64 {
	hour := 0
	for p.upTo[hour+1] <= share {
		hour++
	}
	return float64(hour) + (share-p.upTo[hour])/(p.upTo[hour+1]-p.upTo[hour])
}

// lognormal is a distribution by the mean and spread of its logarithm.
type lognormal struct{ mu, sigma float64 }

// about returns the log-normal distribution of a mean and of a standard
// deviation that is a share of it.
func about(mean, spread float64) lognormal {
	s2 := math.Log1p(spread * spread)
	return lognormal{math.Log(mean) - s2/2, math.Sqrt(s2)}
}

func (l lognormal) draw(r *rand.Rand) float64 { return math.Exp(l.mu + l.sigma*r.NormFloat64()) }
