package main

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// roughly starts a fit: mean and variance of what is known, limits of detection
// taken at half, nothing correlated.
func roughly(points []point) normal {
	n := len(points[0].x)
	law := normal{make([]float64, n), mat.NewSymDense(n, nil)}
	for i := range n {
		var w, first, second float64
		for _, p := range points {
			x := p.x[i]
			switch p.mark[i] {
			case missing:
				continue
			case below:
				x -= math.Ln2
			}
			w, first, second = w+p.weight, first+p.weight*x, second+p.weight*x*x
		}
		law.mean[i] = first / w
		law.cov.SetSym(i, i, math.Max(second/w-law.mean[i]*law.mean[i], 0.01))
	}
	return law
}

// correlation returns a covariance divided by its standard deviations.
func correlation(cov *mat.SymDense) *mat.SymDense {
	n := cov.SymmetricDim()
	r := mat.NewSymDense(n, nil)
	for a := range n {
		for b := a; b < n; b++ {
			r.SetSym(a, b, cov.At(a, b)/math.Sqrt(cov.At(a, a)*cov.At(b, b)))
		}
	}
	return r
}

// loosen draws a correlation matrix towards none, by leastLoosen and then as
// much further as its condition asks, and rounds it to three decimals.
func loosen(r *mat.SymDense) *mat.SymDense {
	n := r.SymmetricDim()
	for by := leastLoosen; ; by += leastLoosen {
		out := mat.NewSymDense(n, nil)
		for a := range n {
			out.SetSym(a, a, 1)
			for b := a + 1; b < n; b++ {
				out.SetSym(a, b, round((1-by)*r.At(a, b), 3))
			}
		}
		if c := condition(out); c > 0 && c < worstCond {
			return out
		}
	}
}

// condition is the largest over the least eigenvalue; below zero if the matrix
// is not positive definite.
func condition(r *mat.SymDense) float64 {
	var e mat.EigenSym
	if !e.Factorize(r, false) {
		return -1
	}
	v := e.Values(nil)
	if v[0] <= 0 {
		return -1
	}
	return v[len(v)-1] / v[0]
}

func round(v float64, digits int) float64 {
	k := math.Pow(10, float64(digits))
	return math.Round(v*k) / k
}
