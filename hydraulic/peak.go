package hydraulic

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// Peak is the flow of a house in its busiest hour.
type Peak struct {
	Hunter   float64   // mean number of fixtures running
	Idle     float64   // chance that none runs
	Mean     unit.Flow // over the hour, idle time included
	Variance float64   // gpm2
	Busy99   unit.Flow // 99 % of the time in which anything runs
	All99    unit.Flow // 99 % of the hour
}

// mostCells bounds the enumeration; a house needs a few hundred.
const mostCells = 1 << 20

// PeakFlow finds the peak by exact enumeration.
//
//	P(n of k running) = C(k,n) p^n (1-p)^(k-n), all kinds convolved
//	Q99 = least q with P(flow <= q | flow > 0) >= 0.99
//
//	p  chance that one is running, k fixtures of the kind
//
// The 99 % is of busy time: the idle state is left out and the rest scaled up.
//
// Range: a house or a few, independent fixtures. Error: that of the chances.
// Source: Buchberger and others, 2017, Peak Water Demand Study, exhaustive
// enumeration (from memory).
func PeakFlow(groups []Group) (Peak, error) {
	return PeakQuantile(groups, 0.99)
}

// PeakQuantile is PeakFlow at another share of the time; the fields keep their
// names.
func PeakQuantile(groups []Group, share float64) (Peak, error) {
	if !(share > 0 && share < 1) {
		return Peak{}, &RangeError{"peak flow", "share of time", share, 0, 1, ""}
	}
	step, cells, err := grid(groups)
	if err != nil {
		return Peak{}, err
	}
	p := moments(groups)
	dist := enumerate(groups, step, cells)
	p.Busy99 = unit.GPM(quantile(dist, share, p.Idle) * step)
	p.All99 = unit.GPM(quantile(dist, share, 0) * step)
	return p, nil
}

// grid finds the widest step, in gpm, of which every flow is a whole multiple
// to a thousandth, and how many cells the greatest flow needs.
func grid(groups []Group) (step float64, cells int, err error) {
	unitStep, total := 0, 0
	for _, g := range groups {
		f := g.Fixture
		if f.Busy < 0 || f.Busy > 1 || f.Flow.GPM() < 0 || g.Count < 0 || math.IsNaN(f.Busy+f.Flow.GPM()) {
			return 0, 0, fmt.Errorf("peak flow: %d × %s with chance %g and flow %s; chance must be 0 to 1 and the others not below zero",
				g.Count, f.Name, f.Busy, f.Flow)
		}
		milli := milliGPM(f.Flow)
		unitStep = gcd(unitStep, milli)
		total += milli * g.Count
	}
	if unitStep == 0 {
		return 0.001, 1, nil
	}
	if total/unitStep >= mostCells {
		return 0, 0, fmt.Errorf("peak flow: %d possible flows are too many to enumerate; round fixture flows to 0.1 gpm", total/unitStep)
	}
	return float64(unitStep) / 1000, total/unitStep + 1, nil
}

func milliGPM(q unit.Flow) int { return int(math.Round(q.GPM() * 1000)) }

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// enumerate returns the chance of each flow 0, step, 2 step and so on.
func enumerate(groups []Group, step float64, cells int) []float64 {
	dist := make([]float64, cells)
	next := make([]float64, cells)
	dist[0] = 1
	top := 0
	for _, g := range groups {
		hop := int(math.Round(float64(milliGPM(g.Fixture.Flow)) / (step * 1000)))
		for range g.Count {
			top += hop
			for i := top; i >= 0; i-- {
				next[i] = dist[i] * (1 - g.Fixture.Busy)
				if i >= hop {
					next[i] += dist[i-hop] * g.Fixture.Busy
				}
			}
			dist, next = next, dist
		}
	}
	return dist
}

// quantile returns the least cell at which the cumulative chance, with the idle
// state taken out and the rest scaled up, reaches the share.
func quantile(dist []float64, share, idle float64) float64 {
	if idle >= 1 {
		return 0
	}
	want := share*(1-idle) + idle
	sum := 0.0
	for i, p := range dist {
		sum += p
		if sum >= want-1e-12 {
			return float64(i)
		}
	}
	return float64(len(dist) - 1)
}

func moments(groups []Group) Peak {
	p := Peak{Idle: 1}
	mean := 0.0
	for _, g := range groups {
		n, b, q := float64(g.Count), g.Fixture.Busy, g.Fixture.Flow.GPM()
		p.Hunter += n * b
		p.Idle *= math.Pow(1-b, n)
		mean += n * b * q
		p.Variance += n * b * (1 - b) * q * q
	}
	p.Mean = unit.GPM(mean)
	return p
}

// normal99 is the standard normal deviate of 99 %.
const normal99 = 2.3263478740408408

// Wistort returns the 99 % flow by the normal approximation.
//
//	Q = S n p q + z sqrt(S n p (1-p) q2)
//
// Range: many fixtures, H of 5 and up; in one house it is far too low.
// Source: Wistort, 1994, as Buchberger and others, 2017 (from memory).
func (p Peak) Wistort() unit.Flow {
	return unit.GPM(p.Mean.GPM() + normal99*math.Sqrt(p.Variance))
}

// ModifiedWistort returns the 99 % flow of busy time by the zero-truncated
// normal approximation.
//
//	Q = (m + z sqrt((1-P0) v - P0 m2)) / (1-P0)
//
//	m, v  mean and variance;  P0  chance that nothing runs
//
// Range: H of 1.25 to 5. Source: Buchberger and others, 2017 (from memory);
// the variance is that of a zero-truncated sum.
func (p Peak) ModifiedWistort() unit.Flow {
	busy, m := 1-p.Idle, p.Mean.GPM()
	if busy <= 0 {
		return unit.Flow{}
	}
	v := math.Max(0, busy*p.Variance-p.Idle*m*m)
	return unit.GPM((m + normal99*math.Sqrt(v)) / busy)
}

// HunterCount returns the least number of fixtures of one kind that are not
// exceeded in 99 % of the time.
//
//	least m with S_{x<=m} C(n,x) p^x (1-p)^(n-x) >= 0.99
//
// Range: n to 10,000. Source: Hunter, 1940, NBS BMS 65 (method; the chances
// from memory).
func HunterCount(fixtures int, busy float64) int {
	term := math.Pow(1-busy, float64(fixtures))
	sum, m := term, 0
	for sum < 0.99 && m < fixtures {
		term *= float64(fixtures-m) / float64(m+1) * busy / (1 - busy)
		m++
		sum += term
	}
	return m
}
