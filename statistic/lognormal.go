package statistic

import "math"

// LognormalResult is a lognormal distribution fitted by greatest likelihood.
type LognormalResult struct {
	N, Detects     int
	LogMean, LogSD float64 // natural logs
	SELogMean      float64
	SELogSD        float64
	Mean           Interval // of the figures themselves
	SD             float64
	LogLikelihood  float64
}

// Lognormal fits a lognormal distribution to values with non-detects and values
// over the top, by greatest likelihood.
//
//	L = Σ detects ln[φ((y−μ)/σ)/σ] + Σ below ln Φ((c−μ)/σ) + Σ above ln Φ((μ−c)/σ)
//	mean = exp(μ + σ²/2), sd = mean·√(exp(σ²) − 1)
//
//	y, c   natural logs of a detect and of a limit
//	μ, σ   mean and standard deviation of the natural logs (σ over n)
//
// Solved by Newton steps in 1/σ and μ/σ, in which L has one peak. The interval of
// the mean is normal on μ + σ²/2, from the curvature of L.
// Range: two different detects or more; 30 to 50 values for a figure to print.
// Error: biased in small samples; the mean is wrong if the shape is.
// Source: Cohen 1959; Olsen 1978 for the form; Helsel 2012 (from memory).
func Lognormal(values []Value, confidence float64) (LognormalResult, error) {
	const method = "lognormal fit"
	if err := fraction(method, "confidence", confidence); err != nil {
		return LognormalResult{}, err
	}
	logs := make([]Value, len(values))
	for i, v := range values {
		if err := positive(method, "figure", v.Figure); err != nil {
			return LognormalResult{}, err
		}
		logs[i] = Value{v.Sign, math.Log(v.Figure)}
	}
	detects, _ := split(logs)
	if err := few(method, "number of detects", len(detects), 2); err != nil {
		return LognormalResult{}, err
	}
	start := summarise(detects)
	if err := positive(method, "spread of the detects", start.SD); err != nil {
		return LognormalResult{}, err
	}
	o := climb(logs, olsen{start.Mean / start.SD, 1 / start.SD})
	return o.result(logs, len(detects), confidence), nil
}

// olsen holds the parameters β = μ/σ and γ = 1/σ.
type olsen struct{ beta, gamma float64 }

// curve is the log likelihood with its slopes and curvatures.
type curve struct{ l, b, g, bb, bg, gg float64 }

func (o olsen) likelihood(logs []Value) curve {
	var c curve
	for _, v := range logs {
		u := o.gamma*v.Figure - o.beta
		if v.Sign == Exact {
			c.l += math.Log(o.gamma) - u*u/2 - math.Log(2*math.Pi)/2
			c.b += u
			c.g += 1/o.gamma - v.Figure*u
			c.bb--
			c.bg += v.Figure
			c.gg -= 1/(o.gamma*o.gamma) + v.Figure*v.Figure
			continue
		}
		side := 1.0
		if v.Sign == Above {
			side = -1
		}
		w := side * u
		h := mills(w)
		bend := -h * (w + h)
		c.l += logCumulative(w)
		c.b -= side * h
		c.g += side * h * v.Figure
		c.bb += bend
		c.bg -= bend * v.Figure
		c.gg += bend * v.Figure * v.Figure
	}
	return c
}

// farTail is where Φ is taken from its tail series instead.
const farTail = -25

// logCumulative is ln Φ(w).
func logCumulative(w float64) float64 {
	if w > farTail {
		return math.Log(cumulative(w))
	}
	return -w*w/2 - math.Log(-w*math.Sqrt(2*math.Pi)) + math.Log(tailSeries(w))
}

// mills is φ(w)/Φ(w).
func mills(w float64) float64 {
	if w > farTail {
		return phi(w) / cumulative(w)
	}
	return -w / tailSeries(w)
}

// tailSeries is −w·Φ(w)/φ(w) far below zero: 1 − 1/w² + 3/w⁴ − 15/w⁶ + 105/w⁸.
func tailSeries(w float64) float64 {
	r := 1 / (w * w)
	return 1 - r*(1-3*r*(1-5*r*(1-7*r)))
}

// climb takes Newton steps, halved until the likelihood rises.
func climb(logs []Value, o olsen) olsen {
	c := o.likelihood(logs)
	for range 200 {
		det := c.bb*c.gg - c.bg*c.bg
		db, dg := -(c.gg*c.b-c.bg*c.g)/det, -(c.bb*c.g-c.bg*c.b)/det
		next, cn := o, c
		for half := 1.0; half > 1e-12; half /= 2 {
			next = olsen{o.beta + half*db, o.gamma + half*dg}
			if next.gamma <= 0 {
				continue
			}
			if cn = next.likelihood(logs); cn.l >= c.l {
				break
			}
		}
		moved := math.Abs(next.beta-o.beta) + math.Abs(next.gamma-o.gamma)
		if !(cn.l >= c.l) || next.gamma <= 0 {
			break
		}
		o, c = next, cn
		if moved < 1e-13*(math.Abs(o.beta)+o.gamma) {
			break
		}
	}
	return o
}

func (o olsen) result(logs []Value, detects int, confidence float64) LognormalResult {
	c := o.likelihood(logs)
	sigma, mu := 1/o.gamma, o.beta/o.gamma
	// Covariance of β and γ, then by the chain rule of μ, σ and μ + σ²/2.
	det := c.bb*c.gg - c.bg*c.bg
	vbb, vgg, vbg := -c.gg/det, -c.bb/det, c.bg/det
	spread := func(db, dg float64) float64 {
		return math.Sqrt(db*db*vbb + 2*db*dg*vbg + dg*dg*vgg)
	}
	muG, sigmaG := -o.beta*sigma*sigma, -sigma*sigma
	h := zOf((1+confidence)/2) * spread(sigma, muG+sigma*sigmaG)
	mean := mu + sigma*sigma/2
	return LognormalResult{
		N: len(logs), Detects: detects, LogMean: mu, LogSD: sigma,
		SELogMean: spread(sigma, muG), SELogSD: spread(0, sigmaG),
		Mean: Interval{math.Exp(mean - h), math.Exp(mean), math.Exp(mean + h), confidence},
		SD:   math.Exp(mean) * math.Sqrt(math.Expm1(sigma*sigma)), LogLikelihood: c.l,
	}
}
