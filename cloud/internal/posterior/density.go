package posterior

import "math"

// density is the logarithm of prior times likelihood of one water in a world,
// that of the world itself counted; minus infinity where no such water can be.
func (b *problem) density(w *world, s *state, x *vector) float64 {
	if !s.make(x, &b.charges) {
		return math.Inf(-1)
	}
	d := b.deviation(w, s, x)
	quad := 0.0
	for i := range nPrior {
		row := &w.class.precision[i]
		sum := 0.5 * row[i] * d[i]
		for k := range i {
			sum += row[k] * d[k]
		}
		quad += d[i] * sum
	}
	l := w.prior + w.class.constant - quad + w.form.density(s.share) + b.organic(w.form, x[OrganicCarbon]) + b.rest(x)
	for i := range w.measures {
		m := &w.measures[i]
		mean, variance := m.predict(s, x)
		part, _, _ := m.likelihood(mean, variance)
		l += part
	}
	if math.IsNaN(l) {
		return math.Inf(-1)
	}
	return l
}

// deviation is how far the coordinates stand from the middle of the class.
func (b *problem) deviation(w *world, s *state, x *vector) (d [nPrior]float64) {
	for i := range nFree {
		d[i] = x[i] - w.class.Mean[i]
	}
	d[Alkalinity] = math.Log(s.amount[Alkalinity]) - w.class.Mean[Alkalinity]
	return d
}

// rest is the density of particulate manganese and of the shared deviations.
func (b *problem) rest(x *vector) float64 {
	l := normal(x[manganeseOx]-math.Log(b.OxideMid), b.OxideSD)
	for i := range b.Visits {
		l += normal(x[nWater+i], b.VisitSD)
	}
	for i := range b.Bottles {
		l += normal(x[nWater+b.Visits+i], b.BottleSD)
	}
	return l
}

func normal(d, sd float64) float64 { return -0.5*square(d/sd) - math.Log(sd) - halfLog2Pi }

// matrix is a symmetric matrix over the unknowns in use.
type matrix [most][most]float64

// expand is density with its gradient and the Gauss-Newton curvature, which is
// never indefinite.
func (b *problem) expand(w *world, s *state, x *vector, g *vector, h *matrix) float64 {
	l := b.density(w, s, x)
	if math.IsInf(l, -1) {
		return l
	}
	s.slopes(&b.charges)
	*g, *h = vector{}, matrix{}
	b.expandPrior(w, s, x, g, h)
	b.expandRest(w, s, x, g, h)
	var slope vector
	for i := range w.measures {
		m := &w.measures[i]
		mean, variance := m.predict(s, x)
		_, first, curve := m.likelihood(mean, variance)
		bent := m.slope(mean)
		first, curve = first*bent, curve*bent*bent
		slope = vector{}
		m.gradient(s, &slope)
		for i := range b.n {
			if slope[i] == 0 {
				continue
			}
			g[i] += first * slope[i]
			for k := range i + 1 {
				h[i][k] += curve * slope[i] * slope[k]
			}
		}
	}
	return l
}

// expandPrior adds the class: alkalinity follows the other coordinates, so that
// its row and column are carried over to them along its slope.
func (b *problem) expandPrior(w *world, s *state, x *vector, g *vector, h *matrix) {
	p, d := &w.class.precision, b.deviation(w, s, x)
	var pull [nPrior]float64
	for i := range nPrior {
		for k := range nPrior {
			pull[i] += p[i][k] * d[k]
		}
	}
	at := func(i int) float64 { // share of the class's own row
		if i < nFree {
			return p[i][Alkalinity]
		}
		return 0
	}
	for i := range nWater {
		if i < nFree {
			g[i] -= pull[i]
		}
		g[i] -= pull[Alkalinity] * s.slope[i]
		for k := range i + 1 {
			v := at(i)*s.slope[k] + s.slope[i]*at(k) + p[Alkalinity][Alkalinity]*s.slope[i]*s.slope[k]
			if i < nFree {
				v += p[i][k]
			}
			h[i][k] += v
		}
	}
}

// expandRest adds the forms, particulate manganese and the shared deviations.
func (b *problem) expandRest(w *world, s *state, x *vector, g *vector, h *matrix) {
	a := w.form.Alpha
	sum, f, p := a[0]+a[1]+a[2], s.share[0], s.share[2]
	g[toFerrous] += a[0] - sum*f
	g[toBound] += a[2] - sum*p
	h[toFerrous][toFerrous] += sum * f * (1 - f)
	h[toBound][toBound] += sum * p * (1 - p)
	h[toBound][toFerrous] -= sum * f * p
	add := func(i int, mid, sd float64) {
		g[i] -= (x[i] - mid) / (sd * sd)
		h[i][i] += 1 / (sd * sd)
	}
	add(manganeseOx, math.Log(b.OxideMid), b.OxideSD)
	for i := range b.Visits {
		add(nWater+i, 0, b.VisitSD)
	}
	for i := range b.Bottles {
		add(nWater+b.Visits+i, 0, b.BottleSD)
	}
}
