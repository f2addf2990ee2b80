package main

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// prior is the file that the program writes.
type prior struct {
	About       string     `json:"about"`
	MadeBy      string     `json:"made_by"`
	Coordinates []string   `json:"coordinates"`
	Classes     []law      `json:"classes"`
	Sources     []citation `json:"sources"`
}

// law is the Gaussian of one class. Correlation holds the lower triangle row by
// row without the diagonal.
type law struct {
	ID          string    `json:"id"`
	Say         string    `json:"say"`
	Share       float64   `json:"share"`
	Called      float64   `json:"called"`
	Wells       int       `json:"wells"`
	Mean        []float64 `json:"mean"`
	SD          []float64 `json:"sd"`
	Correlation []float64 `json:"correlation"`
	Kind        []string  `json:"kind"`
}

// citation is where numbers come from.
type citation struct {
	Kind string `json:"kind"`
	Say  string `json:"say"`
}

// The kinds of a moment.
const (
	published = "published"
	judgement = "judgement"
)

// matrix returns the whole correlation matrix.
func (l law) matrix() *mat.SymDense {
	r := mat.NewSymDense(size, nil)
	k := 0
	for a := range size {
		r.SetSym(a, a, 1)
		for b := range a {
			r.SetSym(a, b, l.Correlation[k])
			k++
		}
	}
	return r
}

// lower is the way back.
func lower(r *mat.SymDense) []float64 {
	var flat []float64
	for a := range size {
		for b := range a {
			flat = append(flat, r.At(a, b))
		}
	}
	return flat
}

// Levels at which a household calls about orange, brown, black or smell, mg/L.
// Kind: the two secondary limits are published (40 CFR 143); sulfide is smelt
// from about 0.05 (published second hand).
const (
	callIron      = 0.3
	callManganese = 0.05
	callSulfide   = 0.05
)

// Draws for the chance of a call, and their seed.
const (
	callDraws = 40_000
	callSeed  = 1
)

// callChance is the chance that a water of the class makes its owner call.
func (l law) callChance() float64 {
	var root mat.Cholesky
	if !root.Factorize(l.matrix()) {
		panic("a correlation matrix that was loosened is positive definite")
	}
	var t mat.TriDense
	root.LTo(&t)
	at := func(i int, z []float64) float64 {
		x := 0.0
		for k := 0; k <= i; k++ {
			x += t.At(i, k) * z[k]
		}
		return math.Exp(l.Mean[i] + l.SD[i]*x)
	}
	rng := rand.New(rand.NewPCG(callSeed, callSeed))
	z, called := make([]float64, size), 0
	for range callDraws {
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		if at(atIron, z) > callIron || at(atManganese, z) > callManganese || at(atSulfide, z) > callSulfide {
			called++
		}
	}
	return float64(called) / callDraws
}

// weigh sets the shares of the classes: by wells for those in the files, by
// judgement for the acid one, and among callers by the chance of a call.
func weigh(ls []law, wells [classes]float64) {
	total, callers := 0.0, 0.0
	for c := range acid {
		total += wells[c]
	}
	called := make([]float64, len(ls))
	for c := range ls {
		ls[c].Share = (1 - acidShare) * wells[c] / total
		if class(c) == acid {
			ls[c].Share = acidShare
		}
		called[c] = ls[c].Share * ls[c].callChance()
		callers += called[c]
	}
	for c := range ls {
		ls[c].Share, ls[c].Called = round(ls[c].Share, 3), round(called[c]/callers, 3)
	}
}

// text writes the prior with a line for each class's list of numbers.
func (p prior) text() ([]byte, error) {
	flat, err := json.MarshalIndent(p, "", " ")
	if err != nil {
		return nil, err
	}
	return append(joined(flat), '\n'), nil
}

// joined brings the items of a list of numbers or words onto one line.
func joined(text []byte) []byte {
	var out bytes.Buffer
	lines := bytes.Split(text, []byte("\n"))
	depth := false
	for i, l := range lines {
		t := bytes.TrimSpace(l)
		opens := bytes.HasSuffix(t, []byte("[")) && !bytes.HasPrefix(bytes.TrimSpace(lines[i+1]), []byte("{"))
		switch {
		case depth:
			out.Write(t)
		default:
			out.Write(l)
		}
		if opens {
			depth = true
		} else if depth && bytes.HasPrefix(t, []byte("]")) {
			depth = false
		}
		if !depth && i < len(lines)-1 {
			out.WriteByte('\n')
		}
	}
	return out.Bytes()
}
