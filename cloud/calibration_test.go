package cloud

import (
	"math"
	"math/rand/v2"
	"sort"
	"sync"
	"testing"

	"wellwright/cloud/internal/posterior"
)

// Simulation-based calibration: where the truth is a draw of the prior and the
// figures are drawn by the laws they are read with, the rank of the truth among
// the draws of the belief is even. Returning the prior passes that test; what is
// turned by the reading, and the misfit, do not let it pass.
// Source: Talts et al. 2018; Modrák et al. 2023 on quantities that look at the
// data (both from memory).

const (
	wells       = 300
	wellDraws   = 500
	firstSeed   = 20260504
	leastChance = 0.001 // of the statistics, times the number of quantities
)

// quantity is one figure of a water whose rank is looked at.
type quantity struct {
	name string
	of   func(*posterior.Draw) float64
	log  bool
}

// quantities are the coordinates, particulate manganese, the forms and hardness.
func quantities() []quantity {
	var qs []quantity
	add := func(name string, k posterior.Quantity, log bool) {
		qs = append(qs, quantity{name, func(d *posterior.Draw) float64 { return d.Amount[k] }, log})
	}
	for k, leaf := range posterior.Leaves {
		add(leaf, posterior.Quantity(k), k != posterior.Temperature && k != posterior.PH)
	}
	add("manganese_particulate_mg_l", posterior.ManganeseOx, true)
	add("iron_ferrous_mg_l", posterior.Ferrous, true)
	add("iron_particulate_mg_l", posterior.Particulate, true)
	add("iron_bound_mg_l", posterior.Bound, true)
	return append(qs, quantity{"hardness_mg_l_as_caco3", func(d *posterior.Draw) float64 {
		return hardnessPer.ca*d.Amount[posterior.Calcium] + hardnessPer.mg*d.Amount[posterior.Magnesium]
	}, true})
}

// hardnessPer is the hardness as CaCO3 of a milligram of each metal, by atomic
// weights of 40.078 and 24.305 and a molar mass of 100.087.
var hardnessPer = struct{ ca, mg float64 }{100.087 / 40.078, 100.087 / 24.305}

func (q quantity) at(d *posterior.Draw) float64 {
	if q.log {
		return math.Log(q.of(d))
	}
	return q.of(d)
}

// engine is a way to answer: that of production, and two that are wrong.
type engine int

const (
	production engine = iota
	priorOnly         // returns the prior
	halved            // errors halved
	nEngines
)

var engineNames = [nEngines]string{"the program", "returns the prior", "half the error"}

// judged is what became of one well.
type judged struct {
	rank     [nEngines][]float64 // of the truth, by quantity
	turned   [nEngines][]float64 // the same, turned so that the reading is above the prior's middle
	misfit   [nEngines]float64   // rank of the truth's misfit
	read     []bool              // by quantity
	score    [2][]float64        // logarithm of the density at the truth: of the belief, of the prior
	bacteria guess
	faults   []guess
}

// guess is a chance that was told and what was true.
type guess struct {
	chance float64
	true   bool
}

// calibration is worked once for all tests of a run.
var calibration = sync.OnceValue(func() []judged { return judgeAll(wells) })

func judgeAll(n int) []judged {
	t := new(testing.T)
	b := put(t, Evidence{}, 20*Count(n), firstSeed)
	truths := b.prior.Ask(b.question).Draws[:n]
	b.question.Seed, b.question.Draws = firstSeed+1, 4000
	before := b.prior.Ask(b.question).Draws
	out := make([]judged, n)
	for i := range out {
		out[i] = judge(t, truths[i], before, i)
	}
	return out
}

// judge asks of one well and holds the truth against the answers.
func judge(t testing.TB, truth posterior.Draw, before []posterior.Draw, i int) judged {
	s := invent(t, truth, i%3, uint64(firstSeed+i))
	b := put(t, s.evidence, wellDraws, uint64(7*firstSeed+i))
	b.answer = b.prior.Ask(b.question)
	j := judged{bacteria: guess{b.bacteriaChance(), s.lives}}
	for k, h := range b.hypotheses {
		if h.touches(b.question.Measures) {
			j.faults = append(j.faults, guess{b.answer.Faulty[k], s.faults[placed(b.hypotheses, k)]})
		}
	}
	j.ranks(&s, b, before, rand.New(rand.NewPCG(uint64(i), firstSeed)))
	return j
}

func (h hypothesis) touches(ms []posterior.Measure) bool {
	for _, m := range ms {
		if h.Change(&m) {
			return true
		}
	}
	return false
}

// ranks fills in the ranks and scores of one well.
func (j *judged) ranks(s *synthetic, b *balance, before []posterior.Draw, r *rand.Rand) {
	for _, q := range quantities() {
		truth := q.at(&s.truth)
		draws, prior := valuesOf(q, b.answer.Draws), valuesOf(q, before)
		reading, was := readingOf(q, b.question.Measures)
		j.read = append(j.read, was)
		j.score[0], j.score[1] = append(j.score[0], kernel(draws, truth)), append(j.score[1], kernel(prior, truth))
		for e, vs := range [nEngines][]float64{draws, prior, drawnIn(draws)} {
			u := rankOf(truth, vs, r)
			j.rank[e] = append(j.rank[e], u)
			if was && reading < median(append([]float64(nil), prior...)) {
				u = 1 - u
			}
			j.turned[e] = append(j.turned[e], u)
		}
	}
	truth := misfit(&s.truth, b.question.Measures)
	for e, ds := range [nEngines][]posterior.Draw{b.answer.Draws, before, allDrawnIn(b.answer.Draws)} {
		vs := make([]float64, len(ds))
		for i := range ds {
			vs[i] = misfit(&ds[i], b.question.Measures)
		}
		j.misfit[e] = rankOf(truth, vs, r)
	}
}

func valuesOf(q quantity, ds []posterior.Draw) []float64 {
	vs := make([]float64, len(ds))
	for i := range ds {
		vs[i] = q.at(&ds[i])
	}
	return vs
}

// rankOf is the rank of the truth among draws, spread over its step.
func rankOf(truth float64, vs []float64, r *rand.Rand) float64 {
	less, same := 0, 0
	for _, v := range vs {
		if v < truth {
			less++
		} else if v == truth {
			same++
		}
	}
	return (float64(less) + r.Float64()*float64(same+1)) / float64(len(vs)+1)
}

// drawnIn halves the distance of each value from the middle.
func drawnIn(vs []float64) []float64 {
	mid := median(append([]float64(nil), vs...))
	out := make([]float64, len(vs))
	for i, v := range vs {
		out[i] = mid + (v-mid)/2
	}
	return out
}

// allDrawnIn halves the distance of each amount of each draw from the middle.
func allDrawnIn(ds []posterior.Draw) []posterior.Draw {
	out := append([]posterior.Draw(nil), ds...)
	for k := range ds[0].Amount {
		q := quantity{log: k > posterior.PH, of: func(d *posterior.Draw) float64 { return d.Amount[k] }}
		for i, v := range drawnIn(valuesOf(q, ds)) {
			if q.log {
				v = math.Exp(v)
			}
			out[i].Amount[k] = v
		}
	}
	return out
}

// readingOf is the first figure that reads a quantity by itself.
func readingOf(q quantity, ms []posterior.Measure) (float64, bool) {
	var one posterior.Draw
	for k := range one.Amount {
		one.Amount[k] = math.Exp(float64(k)) // so that no two quantities are the same
	}
	for _, m := range ms {
		sum := 0.0
		for _, t := range m.Terms {
			sum += t.Times * one.Amount[t.Of]
		}
		late := m.Kind == posterior.LateAlk && q.of(&one) == one.Amount[posterior.Alkalinity]
		if m.Sign == posterior.Exact && (late || math.Abs(sum/q.of(&one)-1) < 1e-3) {
			if q.log {
				return math.Log(m.Value), true
			}
			return m.Value, true
		}
	}
	return 0, false
}

// misfit is how far a water stands from the figures as they are read, nothing
// wrong with them: the sum of squares, none counted above nine.
func misfit(d *posterior.Draw, ms []posterior.Measure) float64 {
	sum := 0.0
	for _, m := range ms {
		if m.Sign != posterior.Exact || m.Kind == posterior.LatePH || m.Kind == posterior.LateAlk {
			continue
		}
		shown := 0.0
		for _, t := range m.Terms {
			shown += t.Times * d.Amount[t.Of]
		}
		z := (m.Value - shown) / m.SD
		if m.Kind == posterior.LogSum {
			z = (math.Log(m.Value/shown) - m.Shift) / math.Hypot(m.SD, m.Floor/m.Value)
		}
		sum += math.Min(9, z*z)
	}
	return sum
}

// test is the evenness of one quantity's ranks over all wells.
type test struct {
	name string
	uniformity
}

// tests are those of one engine: ranks, turned ranks and misfit.
func tests(js []judged, e engine) (plain, turned []test, fit test) {
	qs := quantities()
	for k, q := range qs {
		var us, ts []float64
		for i := range js {
			us = append(us, js[i].rank[e][k])
			if js[i].read[k] {
				ts = append(ts, js[i].turned[e][k])
			}
		}
		plain = append(plain, test{q.name, uniform(us)})
		if len(ts) >= 30 {
			turned = append(turned, test{q.name, uniform(ts)})
		}
	}
	var us []float64
	for i := range js {
		us = append(us, js[i].misfit[e])
	}
	return plain, turned, test{"misfit", uniform(us)}
}

// failures are the tests whose chance, times their number, is too small.
func failures(ts []test) []test {
	var out []test
	for _, x := range ts {
		if x.p()*float64(len(ts)) < leastChance {
			out = append(out, x)
		}
	}
	return out
}

func TestRanksAreEven(t *testing.T) {
	plain, turned, fit := tests(calibration(), production)
	for _, x := range append(append(failures(plain), failures(turned)...), failures([]test{fit})...) {
		t.Errorf("%s: chi-square %.1f (%.2g), Kolmogorov %.3f (%.2g): the truth does not stand evenly among the draws (simulation-based calibration, Talts et al. 2018)",
			x.name, x.chi2, x.chi2P, x.ks, x.ksP)
	}
	for _, x := range append(append(plain, turned...), fit) {
		t.Logf("%-28s n %3d chi2 %5.1f p %.3g  ks %.3f p %.3g  low %.2f high %.2f mean %.3f sd %.3f", x.name, x.n, x.chi2, x.chi2P, x.ks, x.ksP, x.low, x.high, x.mean, x.spread)
	}
}

// The same statistics must refuse an engine that returns the prior and one that
// claims half its error, or they would prove nothing.
func TestWrongEnginesAreCaught(t *testing.T) {
	js := calibration()
	plain, turned, fit := tests(js, priorOnly)
	if n := len(failures(turned)); n < len(turned)/2 || len(failures([]test{fit})) == 0 {
		t.Errorf("returning the prior fails %d of %d turned ranks; misfit has a chance of %.2g", n, len(turned), fit.p())
	}
	if n := len(failures(plain)); n > 0 {
		t.Errorf("the truths are not draws of the prior: %d of %d ranks are uneven", n, len(plain))
	}
	plain, _, _ = tests(js, halved)
	if n := len(failures(plain)); n < len(plain)*9/10 {
		t.Errorf("half the error fails only %d of %d ranks", n, len(plain))
	}
}

// gain is how much better the belief foretells a coordinate than the prior.
type gain struct {
	name     string
	n        int
	middle   float64 // median gain of the logarithm of the density
	improved float64 // share of wells
}

func gains(js []judged) []gain {
	var out []gain
	for k, q := range quantities() {
		g := gain{name: q.name}
		var ds []float64
		for i := range js {
			if js[i].read[k] {
				d := js[i].score[0][k] - js[i].score[1][k]
				ds = append(ds, d)
				if d > 0 {
					g.improved++
				}
			}
		}
		if g.n = len(ds); g.n < 30 {
			continue
		}
		sort.Float64s(ds)
		g.middle, g.improved = ds[len(ds)/2], g.improved/float64(len(ds))
		out = append(out, g)
	}
	return out
}

func TestBeliefBeatsPrior(t *testing.T) {
	for _, g := range gains(calibration()) {
		if g.middle <= 0 {
			t.Errorf("%s: the belief foretells it no better than the prior (logarithmic score, median gain %.2f)", g.name, g.middle)
		}
		t.Logf("%-28s %3d wells, gain %.2f, improved %.2f", g.name, g.n, g.middle, g.improved)
	}
}

// bin is guesses of like chance.
type bin struct {
	low, high float64 // of the chance
	n, seen   float64
	told      float64 // mean chance
}

func bins(gs []guess, edges ...float64) []bin {
	var out []bin
	for i := range edges[1:] {
		b := bin{low: edges[i], high: edges[i+1]}
		for _, g := range gs {
			if g.chance >= b.low && (g.chance < b.high || b.high == 1) {
				b.n++
				b.told += g.chance
				if g.true {
					b.seen++
				}
			}
		}
		if b.n > 0 {
			b.told /= b.n
			out = append(out, b)
		}
	}
	return out
}

var bacteriaEdges, faultEdges = []float64{0, 0.1, 0.2, 0.4, 0.6, 0.8, 1}, []float64{0, 0.01, 0.03, 0.1, 0.3, 0.6, 1}

func bacteriaGuesses(js []judged) (gs []guess) {
	for i := range js {
		gs = append(gs, js[i].bacteria)
	}
	return gs
}

func faultGuesses(js []judged) (gs []guess) {
	for i := range js {
		gs = append(gs, js[i].faults...)
	}
	return gs
}

// A chance of so much comes true so often: the frequency in each bin is within
// three standard errors of the chances told, and a fifth of a bin where few are
// in it.
func TestChancesComeTrue(t *testing.T) {
	js := calibration()
	for name, bs := range map[string][]bin{"bacteria": bins(bacteriaGuesses(js), bacteriaEdges...), "faults": bins(faultGuesses(js), faultEdges...)} {
		for _, b := range bs {
			sd := math.Sqrt(math.Max(b.told*(1-b.told), 0.5/b.n) / b.n)
			if math.Abs(b.seen/b.n-b.told) > 3*sd {
				t.Errorf("%s told %.3f: %g of %g came true, want within three standard errors (binomial)", name, b.told, b.seen, b.n)
			}
			low, high := wilson(b.seen, b.n)
			t.Logf("%s told %.3f: %g of %g = %.3f, %.3f to %.3f", name, b.told, b.seen, b.n, b.seen/b.n, low, high)
		}
	}
}
