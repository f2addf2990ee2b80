package posterior

import (
	"math"
)

// Form is a class of how the iron of a water stands: the weights of a Dirichlet
// distribution over ferrous, particulate and bound.
type Form struct {
	ID     string
	Chance float64 // before the figures, signs weighed in
	Alpha  [3]float64

	Organic bool // it goes with organic matter
}

// density is the logarithm of the chance of shares, in the two logarithms of
// ratios that are free.
//
//	ln p = ln Γ(A) - Σ ln Γ(a) + Σ a ln s
//
// The Jacobian of the two logarithms adds one to each exponent a - 1.
// Source: definition of the Dirichlet distribution.
func (f *Form) density(share [3]float64) float64 {
	sum, l := 0.0, 0.0
	for i, a := range f.Alpha {
		sum += a
		g, _ := math.Lgamma(a)
		l += a*math.Log(math.Max(share[i], 1e-300)) - g
	}
	g, _ := math.Lgamma(sum)
	return l + g
}

// Fault is something that may be wrong with the evidence. Change alters the law
// of a result that it touches and says whether it touched it.
type Fault struct {
	ID     string
	Chance float64 // before the figures
	Change func(*Measure) bool
}

// Question is what is asked of the prior: the results on one water, and what may
// be wrong with them.
type Question struct {
	Measures                              []Measure
	Faults                                []Fault
	Forms                                 []Form
	Redox                                 []float64 // how likely what else was seen is in each class; nil: nothing seen
	Visits                                int
	Bottles                               int
	VisitSD                               float64 // deviation of iron at a visit, of the logarithm
	BottleSD                              float64
	OxideMid                              float64 // particulate manganese, mg/L
	OxideSD                               float64 // of its logarithm
	OrganicAt, OrganicSeen, OrganicAbsent float64 // organic carbon, mg/L, above and below which organic forms are so many times likelier

	Draws int
	Seed  uint64
}

// world is one hypothesis: a class of redox, a class of forms, and the faults.
type world struct {
	class    *Class
	form     *Form
	redox    int
	forms    int
	faults   []int
	measures []Measure
	prior    float64 // logarithm of its chance before the figures
}

// problem is a question made ready: shared by all worlds.
type problem struct {
	Question
	prior   *Prior
	charges Charges
	n       int // unknowns in use
}

// newProblem places the shared unknowns.
func newProblem(p *Prior, z Charges, q Question) *problem {
	q.Visits, q.Bottles = min(q.Visits, mostVisits), min(q.Bottles, mostBottles)
	b := &problem{Question: q, prior: p, charges: z, n: nWater + q.Visits + q.Bottles}
	b.Measures = append([]Measure(nil), q.Measures...)
	for i := range b.Measures {
		m := &b.Measures[i]
		if m.Visit >= 0 && m.Visit < q.Visits {
			m.visit = nWater + m.Visit
		} else if m.Visit >= 0 { // too many visits: each deviates alone
			m.SD = math.Hypot(m.SD, q.VisitSD)
		}
		if m.Bottle >= 0 && m.Bottle < q.Bottles {
			m.bottle = nWater + q.Visits + m.Bottle
		}
	}
	return b
}

// faulty returns the results with the faults of a set at work; not ok where one
// of them touches nothing, or two touch the same result.
func (b *problem) faulty(set []int) ([]Measure, bool) {
	ms := append([]Measure(nil), b.Measures...)
	touched := make([]bool, len(ms))
	for _, f := range set {
		any := false
		for i := range ms {
			m := ms[i]
			if !b.Faults[f].Change(&m) {
				continue
			}
			if touched[i] {
				return nil, false
			}
			ms[i], touched[i], any = m, true, true
		}
		if !any {
			return nil, false
		}
	}
	for i := range ms {
		ms[i].ready()
	}
	return ms, true
}

// faultPrior is the logarithm of the chance of a set of faults.
func (b *problem) faultPrior(set []int) float64 {
	l := 0.0
	for _, f := range b.Faults {
		l += math.Log1p(-f.Chance)
	}
	for _, f := range set {
		c := b.Faults[f].Chance
		l += math.Log(c) - math.Log1p(-c)
	}
	return l
}

// plausiblePairs lists the pairs of faults that may matter: those whose chance
// and whose gain on the results, taken one by one, come near the best so far, and
// those of which one already explains much.
func (b *problem) plausiblePairs(plain float64, single []float64) [][]int {
	gain := make([]float64, len(b.Faults))
	top := plain
	for i, f := range b.Faults {
		gain[i] = single[i] - plain - math.Log(f.Chance) + math.Log1p(-f.Chance)
		top = math.Max(top, single[i])
	}
	var sets [][]int
	for i := range b.Faults {
		for k := range i {
			if math.IsInf(single[i], -1) || math.IsInf(single[k], -1) || b.Faults[i].Chance*b.Faults[k].Chance < pairLeast {
				continue
			}
			hope := single[i] + single[k] - plain
			if hope > top-dropped/2 || math.Max(gain[i], gain[k]) > explains {
				sets = append(sets, []int{k, i})
			}
		}
	}
	return sets
}

const (
	pairLeast = 3e-4 // chance below which two faults at once are not looked at
	explains  = 3    // gain of the logarithm from which a fault explains much: twenty times
)

// organic is the logarithm of how much likelier the organic carbon of a water
// makes a class of forms.
//
//	ln h - ln Σ P h,  ln h = (1-s) ln a + s ln b for organic forms, else 0
//
//	s  rises from 0 to 1 about the carbon that counts as much
func (b *problem) organic(f *Form, lnCarbon float64) float64 {
	if b.OrganicAt <= 0 {
		return 0
	}
	s := 1 / (1 + math.Exp(-(lnCarbon-math.Log(b.OrganicAt))/organicRise))
	h := (1-s)*math.Log(b.OrganicAbsent) + s*math.Log(b.OrganicSeen)
	sum, all := 0.0, 0.0
	for i := range b.Forms {
		all += b.Forms[i].Chance
		if b.Forms[i].Organic {
			sum += b.Forms[i].Chance * math.Exp(h)
		} else {
			sum += b.Forms[i].Chance
		}
	}
	if !f.Organic {
		h = 0
	}
	return h - math.Log(sum/all)
}

// organicRise is how sharply organic carbon begins to count, of its logarithm.
const organicRise = 0.25

// worlds pairs a set of faults with classes of redox and of forms.
func (b *problem) worlds(set []int, pairs [][2]int) []world {
	ms, ok := b.faulty(set)
	if !ok {
		return nil
	}
	base := b.faultPrior(set)
	var ws []world
	for _, p := range pairs {
		c, f := &b.prior.Classes[p[0]], &b.Forms[p[1]]
		if c.Called <= 0 || f.Chance <= 0 {
			continue
		}
		l := base + math.Log(c.Called) + math.Log(f.Chance)
		if b.Redox != nil {
			l += b.Redox[p[0]]
		}
		ws = append(ws, world{class: c, form: f, redox: p[0], forms: p[1], faults: set, measures: ms, prior: l})
	}
	return ws
}
