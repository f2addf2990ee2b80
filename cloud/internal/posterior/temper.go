package posterior

import (
	"math"
	"math/rand/v2"
	"sort"
)

// particle is one water on its way from the fitted Gaussians to the density.
type particle struct {
	x       vector
	fit     int     // the world it belongs to
	density float64 // logarithm
	laid    float64 // logarithm of the density it was drawn from
}

// sampler draws from the fits and moves the draws to the density.
//
// The draws come from a mixture over worlds of Student t distributions laid on
// the fits, and are tempered from it to the density in as few steps as keep half
// of them effective; after each resampling every draw tries independent draws
// from the mixture and a random walk in its own world.
// Source: sequential Monte Carlo samplers, Del Moral, Doucet & Jasra 2006 (from
// memory).
type sampler struct {
	*problem
	fits   []fit
	weight []float64 // of each fit in the mixture
	logW   []float64
	table  []float64 // cumulative weights
	draws  []particle
	stage  uint64 // counts the passes, so that none repeats random numbers
}

const (
	freedom     = 7    // degrees of freedom of the t laid on a fit
	widened     = 1.1  // its spread over that of the fit
	leastShare  = 2e-3 // of the mixture, for every world kept
	walkScale   = 2.38 // over the root of the number of unknowns (Roberts & Rosenthal 2001, from memory)
	mostSteps   = 12   // of tempering
	halfOf      = 0.5  // effective share that a step keeps
	movesAStep  = 2
	movesAtEnd  = 2
	worldsTried = 400 // fits carried into the mixture, at most
)

func (b *problem) sample(fits []fit) Answer {
	if len(fits) > worldsTried {
		fits = fits[:worldsTried]
	}
	s := &sampler{problem: b, fits: fits}
	s.mix()
	s.draws = make([]particle, b.Draws)
	s.begin()
	answer := Answer{LogChance: s.logMean()}
	s.temper(&answer)
	s.report(&answer)
	return answer
}

// mix weighs the fits.
func (s *sampler) mix() {
	top, sum := highest(s.fits), 0.0
	for _, f := range s.fits {
		w := math.Max(leastShare, math.Exp(f.evidence-top))
		s.weight = append(s.weight, w)
		sum += w
	}
	run := 0.0
	for i := range s.weight {
		s.weight[i] /= sum
		s.logW = append(s.logW, math.Log(s.weight[i]))
		run += s.weight[i]
		s.table = append(s.table, run)
	}
}

// pick is the fit whose share of the mixture holds u.
func (s *sampler) pick(u float64) int {
	return min(sort.SearchFloat64s(s.table, u), len(s.fits)-1)
}

// source gives the random numbers of one draw at one pass.
func (s *sampler) source(i int) *rand.Rand {
	return rand.New(rand.NewPCG(s.Seed^s.stage<<32, uint64(i)*0x9e3779b97f4a7c15+1))
}

// begin makes the first draws, the worlds by systematic sampling.
func (s *sampler) begin() {
	s.stage++
	n := len(s.draws)
	shift := rand.New(rand.NewPCG(s.Seed, s.stage)).Float64()
	each(n, func(i int) {
		s.draws[i] = s.fresh(s.pick((float64(i)+shift)/float64(n)), s.source(i))
	})
}

// fresh draws a water from one fit.
func (s *sampler) fresh(k int, r *rand.Rand) particle {
	f := &s.fits[k]
	p := particle{fit: k}
	var z vector
	quad := 0.0
	for i := range s.n {
		z[i] = r.NormFloat64()
		quad += z[i] * z[i]
	}
	chi := 0.0
	for range freedom {
		chi += square(r.NormFloat64())
	}
	scale := widened / math.Sqrt(chi/freedom)
	s.back(&f.root, &z)
	for i := range s.n {
		p.x[i] = f.mode[i] + scale*z[i]
	}
	p.laid = s.logW[k] + s.student(f, quad*square(scale/widened))
	var st state
	p.density = s.density(&f.world, &st, &p.x)
	return p
}

// student is the logarithm of the t density at a squared distance.
//
//	t = Γ((ν+n)/2) / (Γ(ν/2) (νπ)^(n/2) w^n |Σ|^½) (1 + q/ν)^-(ν+n)/2
//
// Source: definition of the multivariate t distribution.
func (s *sampler) student(f *fit, quad float64) float64 {
	n := float64(s.n)
	a, _ := math.Lgamma((freedom + n) / 2)
	c, _ := math.Lgamma(freedom / 2.0)
	return a - c - n/2*math.Log(freedom*math.Pi) - n*math.Log(widened) + 0.5*f.logDet - (freedom+n)/2*math.Log1p(quad/freedom)
}

// laidAt is the density of the mixture at a water of a world.
func (s *sampler) laidAt(k int, x *vector) float64 {
	f := &s.fits[k]
	quad := 0.0
	for i := range s.n { // |Lᵀ (x - mode)|², L the factor of the curvature
		sum := 0.0
		for m := i; m < s.n; m++ {
			sum += f.root[m][i] * (x[m] - f.mode[m])
		}
		quad += sum * sum
	}
	return s.logW[k] + s.student(f, quad/square(widened))
}

// logMean is the logarithm of the mean weight of the first draws: the chance of
// the results.
func (s *sampler) logMean() float64 {
	top := math.Inf(-1)
	for i := range s.draws {
		top = math.Max(top, s.draws[i].density-s.draws[i].laid)
	}
	sum := 0.0
	for i := range s.draws {
		sum += math.Exp(s.draws[i].density - s.draws[i].laid - top)
	}
	return top + math.Log(sum/float64(len(s.draws)))
}

// temper carries the draws to the density.
func (s *sampler) temper(a *Answer) {
	at := 0.0
	for a.Steps = 1; at < 1; a.Steps++ {
		step := 1 - at
		if a.Steps < mostSteps {
			step = s.step(1 - at)
		}
		ws := s.weights(step)
		a.Effective = effective(ws)
		at = math.Min(1, at+step)
		s.resample(ws)
		moves := movesAStep
		if at >= 1 {
			moves = movesAtEnd
		}
		for range moves {
			s.move(at)
		}
	}
	a.Steps--
}

// step is the longest step that keeps half of the draws effective.
func (s *sampler) step(left float64) float64 {
	n := float64(len(s.draws))
	if effective(s.weights(left)) >= halfOf*n {
		return left
	}
	low, high := 0.0, left
	for range 30 {
		mid := (low + high) / 2
		if effective(s.weights(mid)) >= halfOf*n {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Max(low, left*1e-3)
}

// weights are those of a step, adding to one.
func (s *sampler) weights(step float64) []float64 {
	ws, top := make([]float64, len(s.draws)), math.Inf(-1)
	for i := range s.draws {
		top = math.Max(top, step*(s.draws[i].density-s.draws[i].laid))
	}
	sum := 0.0
	for i := range s.draws {
		ws[i] = math.Exp(step*(s.draws[i].density-s.draws[i].laid) - top)
		sum += ws[i]
	}
	for i := range ws {
		ws[i] /= sum
	}
	return ws
}

// effective is the number of independent draws that weighted ones are worth.
//
//	1 / Σ w²
//
// Source: Kish 1965 (from memory).
func effective(ws []float64) float64 {
	sum := 0.0
	for _, w := range ws {
		sum += w * w
	}
	return 1 / sum
}

// resample draws anew by systematic sampling.
func (s *sampler) resample(ws []float64) {
	s.stage++
	n := len(s.draws)
	u := rand.New(rand.NewPCG(s.Seed, s.stage)).Float64()
	next := make([]particle, n)
	k, run := 0, ws[0]
	for i := range next {
		for at := (float64(i) + u) / float64(n); run < at && k < n-1; {
			k++
			run += ws[k]
		}
		next[i] = s.draws[k]
	}
	s.draws = next
}

// move lets every draw try another water: one from the mixture, then a step of a
// walk in its own world. Both leave the tempered density as it is.
func (s *sampler) move(at float64) {
	s.stage++
	each(len(s.draws), func(i int) {
		r, p := s.source(i), &s.draws[i]
		to := s.fresh(s.pick(r.Float64()), r)
		if math.Log(r.Float64()) < at*((to.density-to.laid)-(p.density-p.laid)) {
			*p = to
		}
		s.walk(p, at, r)
	})
}

func (s *sampler) walk(p *particle, at float64, r *rand.Rand) {
	f := &s.fits[p.fit]
	var z vector
	for i := range s.n {
		z[i] = r.NormFloat64()
	}
	s.back(&f.root, &z)
	to := particle{x: p.x, fit: p.fit}
	for i := range s.n {
		to.x[i] += walkScale / math.Sqrt(float64(s.n)) * z[i]
	}
	var st state
	to.density = s.density(&f.world, &st, &to.x)
	if math.IsInf(to.density, -1) {
		return
	}
	to.laid = s.laidAt(p.fit, &to.x)
	rise := at*(to.density-p.density) + (1-at)*(to.laid-p.laid)
	if math.Log(r.Float64()) < rise {
		*p = to
	}
}

// report turns the particles into draws, shuffled so that any beginning of them
// is a fair sample.
func (s *sampler) report(a *Answer) {
	s.stage++
	n := len(s.draws)
	rand.New(rand.NewPCG(s.Seed, s.stage)).Shuffle(n, func(i, k int) { s.draws[i], s.draws[k] = s.draws[k], s.draws[i] })
	a.Draws = make([]Draw, n)
	a.Faulty = make([]float64, len(s.Faults))
	seen := map[float64]bool{}
	for i := range s.draws {
		p := &s.draws[i]
		f := &s.fits[p.fit]
		var st state
		st.make(&p.x, &s.charges)
		a.Draws[i] = Draw{Amount: st.amount, Redox: f.redox, Form: f.forms, Faults: f.faults}
		for _, k := range f.faults {
			a.Faulty[k] += 1 / float64(n)
		}
		if len(f.faults) == 0 {
			a.NoFault += 1 / float64(n)
		}
		seen[p.density] = true
	}
	a.Distinct = len(seen)
}
