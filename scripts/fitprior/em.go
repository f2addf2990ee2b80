package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// normal is a mean and a covariance.
type normal struct {
	mean []float64
	cov  *mat.SymDense
}

// point is a sheet reduced to the coordinates of one fit.
type point struct {
	x      []float64
	mark   []mark
	weight float64
}

// sums are the expected weighted moments of a set of points.
type sums struct {
	weight float64
	first  []float64
	second *mat.SymDense // about zero
}

// Rounds of the fit, and the change in standard deviations at which it ends.
const (
	mostSteps = 2000
	fitted    = 1e-4
)

// expect returns the expected moments of the points under a normal law: what is
// missing or below a limit is put in by its conditional law, mean and variance.
func expect(points []point, law normal) (sums, error) {
	n := len(law.mean)
	s := sums{first: make([]float64, n), second: mat.NewSymDense(n, nil)}
	for _, p := range points {
		x, extra, err := complete(p, law)
		if err != nil {
			return s, err
		}
		s.weight += p.weight
		for a := range n {
			s.first[a] += p.weight * x[a]
			for b := a; b < n; b++ {
				s.second.SetSym(a, b, s.second.At(a, b)+p.weight*(x[a]*x[b]+extra[a][b]))
			}
		}
	}
	return s, nil
}

// complete fills the holes of a point: the conditional mean, and the conditional
// covariance that goes with it.
func complete(p point, law normal) (x []float64, extra [][]float64, err error) {
	n := len(law.mean)
	var known, open []int
	for i := range n {
		if p.mark[i] == exact {
			known = append(known, i)
		} else {
			open = append(open, i)
		}
	}
	x = append([]float64(nil), p.x...)
	extra = square(n)
	if len(open) == 0 {
		return x, extra, nil
	}
	mean, cov, err := conditional(p.x, law, known, open)
	if err != nil {
		return nil, nil, err
	}
	limit := make([]float64, len(open))
	for k, i := range open {
		limit[k] = math.Inf(1)
		if p.mark[i] == below {
			limit[k] = p.x[i]
		}
	}
	cutBelow(mean, cov, limit)
	for a, i := range open {
		x[i] = mean[a]
		for b, j := range open {
			extra[i][j] = cov[a][b]
		}
	}
	return x, extra, nil
}

// conditional returns the law of the open coordinates given the known ones.
//
//	m = μu + Suk Skk⁻¹ (xk - μk)     C = Suu - Suk Skk⁻¹ Sku
func conditional(x []float64, law normal, known, open []int) ([]float64, [][]float64, error) {
	mean, cov := make([]float64, len(open)), square(len(open))
	for a, i := range open {
		mean[a] = law.mean[i]
		for b, j := range open {
			cov[a][b] = law.cov.At(i, j)
		}
	}
	if len(known) == 0 {
		return mean, cov, nil
	}
	kk := mat.NewSymDense(len(known), nil)
	ku := mat.NewDense(len(known), len(open), nil)
	dev := mat.NewVecDense(len(known), nil)
	for a, i := range known {
		dev.SetVec(a, x[i]-law.mean[i])
		for b := a; b < len(known); b++ {
			kk.SetSym(a, b, law.cov.At(i, known[b]))
		}
		for b, j := range open {
			ku.Set(a, b, law.cov.At(i, j))
		}
	}
	var root mat.Cholesky
	if !root.Factorize(kk) {
		return nil, nil, fmt.Errorf("covariance of %d known coordinates is not positive definite", len(known))
	}
	var slope mat.Dense
	if err := root.SolveTo(&slope, ku); err != nil {
		return nil, nil, err
	}
	for a := range open {
		for k := range known {
			mean[a] += slope.At(k, a) * dev.AtVec(k)
			for b := range open {
				cov[a][b] -= slope.At(k, a) * ku.At(k, b)
			}
		}
	}
	return mean, cov, nil
}

func square(n int) [][]float64 {
	flat := make([]float64, n*n)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = flat[i*n : (i+1)*n]
	}
	return rows
}

// scatter returns the mean of the sums and the weighted squares about it.
func (s sums) scatter() ([]float64, *mat.SymDense) {
	n := len(s.first)
	mean := make([]float64, n)
	for i := range n {
		mean[i] = s.first[i] / s.weight
	}
	about := mat.NewSymDense(n, nil)
	for a := range n {
		for b := a; b < n; b++ {
			about.SetSym(a, b, s.second.At(a, b)-s.weight*mean[a]*mean[b])
		}
	}
	return mean, about
}

// pooled fits groups that differ in mean and share one covariance, drawn towards
// its own diagonal as if by so many wells more.
//
//	Sij = Tij / (W + n0), i ≠ j     Sii = Tii / W
//
//	T  squares about the means of the groups; W  wells
func pooled(groups [][]point, start normal, n0 float64) ([]normal, error) {
	laws := make([]normal, len(groups))
	for i := range laws {
		laws[i] = normal{append([]float64(nil), start.mean...), start.cov}
	}
	for range mostSteps {
		n := len(start.mean)
		total, weight, moved := mat.NewSymDense(n, nil), 0.0, 0.0
		for i, g := range groups {
			if len(g) == 0 {
				continue
			}
			s, err := expect(g, laws[i])
			if err != nil {
				return nil, err
			}
			mean, about := s.scatter()
			total.AddSym(total, about)
			weight += s.weight
			moved = math.Max(moved, gap(mean, laws[i]))
			laws[i].mean = mean
		}
		for a := range n {
			for b := a; b < n; b++ {
				if total.SetSym(a, b, total.At(a, b)/(weight+n0)); a == b {
					total.SetSym(a, a, total.At(a, a)*(weight+n0)/weight)
				}
			}
		}
		moved = math.Max(moved, widening(total, laws[0].cov))
		for i := range laws {
			laws[i].cov = total
		}
		if moved < fitted {
			break
		}
	}
	return laws, nil
}

// fit fits one group whose covariance is drawn towards that of a start as if by
// so many wells more.
//
//	S = (scatter + n0 S0) / (W + n0)
func fit(points []point, start normal, n0 float64) (normal, error) {
	law := start
	for range mostSteps {
		s, err := expect(points, law)
		if err != nil {
			return law, err
		}
		mean, about := s.scatter()
		cov := mat.NewSymDense(len(mean), nil)
		cov.ScaleSym(n0, start.cov)
		cov.AddSym(cov, about)
		cov.ScaleSym(1/(s.weight+n0), cov)
		moved := math.Max(gap(mean, law), widening(cov, law.cov))
		law = normal{mean, cov}
		if moved < fitted {
			break
		}
	}
	return law, nil
}

// gap is the largest move of a mean in standard deviations.
func gap(mean []float64, law normal) float64 {
	most := 0.0
	for i, m := range mean {
		most = math.Max(most, math.Abs(m-law.mean[i])/math.Sqrt(law.cov.At(i, i)))
	}
	return most
}

// widening is the largest change of a covariance, in standard deviations of its two.
func widening(cov, old *mat.SymDense) float64 {
	most := 0.0
	n := cov.SymmetricDim()
	for a := range n {
		for b := a; b < n; b++ {
			most = math.Max(most, math.Abs(cov.At(a, b)-old.At(a, b))/math.Sqrt(old.At(a, a)*old.At(b, b)))
		}
	}
	return most
}
