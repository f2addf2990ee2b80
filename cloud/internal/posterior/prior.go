// Package posterior turns the results on one raw water into draws of what the
// water may be: a prior by class of redox and of the iron's forms, hypotheses on
// what is wrong with the evidence, a Gaussian fitted to each, and weighted draws
// made exact by tempering. It knows figures with their errors, no laboratories.
package posterior

import (
	"encoding/json"
	"fmt"
	"math"
)

// The coordinates of a water: temperature and pH as they are, the rest as natural
// logarithms of mg/L in the unit of the answer. Alkalinity is last because it is
// not free: it closes the charge.
const (
	Temperature = iota
	PH
	Calcium
	Magnesium
	Sodium
	Potassium
	Chloride
	Sulfate
	Nitrate
	Fluoride
	Silica
	Phosphate
	Ammonia
	Iron // total
	Manganese
	Arsenic
	OrganicCarbon
	Oxygen
	Sulfide
	Alkalinity
	nPrior
)

// Leaves are the names of the coordinates in the answer, in their order.
var Leaves = [nPrior]string{
	"temperature_c", "ph", "calcium_mg_l", "magnesium_mg_l", "sodium_mg_l", "potassium_mg_l", "chloride_mg_l", "sulfate_mg_l",
	"nitrate_mg_l_as_n", "fluoride_mg_l", "silica_mg_l", "phosphate_mg_l_as_p", "ammonia_mg_l_as_n", "iron_total_mg_l", "manganese_mg_l",
	"arsenic_mg_l", "toc_mg_l", "oxygen_mg_l", "sulfide_mg_l_as_h2s", "alkalinity_mg_l_as_caco3",
}

// Class is a class of redox: a Gaussian over the coordinates.
type Class struct {
	ID, Say   string
	Called    float64 // share of the wells that a specialist is called to
	Mean, SD  [nPrior]float64
	Judgement [nPrior]bool            // the moments are judgement, not fitted
	precision [nPrior][nPrior]float64 // inverse of the covariance
	constant  float64                 // logarithm of the density at the mean
	lower     [nPrior][nPrior]float64 // Cholesky factor of the covariance
}

// Prior is the classes of redox.
type Prior struct{ Classes []Class }

// file is the prior as it is kept.
type file struct {
	Coordinates []string
	Classes     []struct {
		ID, Say     string
		Called      float64
		Mean, SD    []float64
		Correlation []float64
		Kind        []string
	}
}

// ReadPrior reads a prior from its file.
func ReadPrior(text []byte) (Prior, error) {
	var f file
	if err := json.Unmarshal(text, &f); err != nil {
		return Prior{}, fmt.Errorf("prior: %w", err)
	}
	place, err := places(f.Coordinates)
	if err != nil {
		return Prior{}, err
	}
	var p Prior
	for _, c := range f.Classes {
		if len(c.Mean) != nPrior || len(c.SD) != nPrior || len(c.Correlation) != nPrior*(nPrior-1)/2 {
			return Prior{}, fmt.Errorf("prior: class %s has %d means, %d spreads and %d correlations; want %d, %d and %d",
				c.ID, len(c.Mean), len(c.SD), len(c.Correlation), nPrior, nPrior, nPrior*(nPrior-1)/2)
		}
		k := Class{ID: c.ID, Say: c.Say, Called: c.Called}
		for i, at := range place {
			k.Mean[at], k.SD[at] = c.Mean[i], c.SD[i]
			k.Judgement[at] = len(c.Kind) == nPrior && c.Kind[i] != "published"
		}
		if err := k.covariance(c.Correlation, place); err != nil {
			return Prior{}, err
		}
		p.Classes = append(p.Classes, k)
	}
	if len(p.Classes) == 0 {
		return Prior{}, fmt.Errorf("prior: no class of redox")
	}
	return p, nil
}

// places finds where each coordinate of the file stands here.
func places(names []string) ([]int, error) {
	at := map[string]int{}
	for i, n := range Leaves {
		at[n] = i
	}
	out := make([]int, len(names))
	for i, n := range names {
		k, known := at[n]
		if !known {
			return nil, fmt.Errorf("prior: coordinate %q is not one of %v", n, Leaves)
		}
		out[i] = k
	}
	if len(out) != nPrior {
		return nil, fmt.Errorf("prior: %d coordinates, want %d", len(out), nPrior)
	}
	return out, nil
}

// covariance makes the precision and the constant of the class from the
// correlations, lower triangle row by row.
func (c *Class) covariance(correlation []float64, place []int) error {
	var v [nPrior][nPrior]float64
	n := 0
	for i := range nPrior {
		for k := range i {
			a, b := place[i], place[k]
			v[a][b] = correlation[n] * c.SD[a] * c.SD[b]
			v[b][a] = v[a][b]
			n++
		}
		v[place[i]][place[i]] = c.SD[place[i]] * c.SD[place[i]]
	}
	l, ok := lower(v)
	if !ok {
		return fmt.Errorf("prior: the covariance of class %s is not positive definite", c.ID)
	}
	c.lower = l
	logDet := 0.0
	for i := range nPrior {
		logDet += math.Log(l[i][i])
	}
	c.constant = -logDet - nPrior*halfLog2Pi
	c.precision = inverseOf(l)
	return nil
}

const halfLog2Pi = 0.91893853320467274178

// lower is the Cholesky factor of a covariance.
func lower(v [nPrior][nPrior]float64) (l [nPrior][nPrior]float64, ok bool) {
	for i := range nPrior {
		for k := range i + 1 {
			sum := v[i][k]
			for m := range k {
				sum -= l[i][m] * l[k][m]
			}
			if i == k {
				if sum <= 0 {
					return l, false
				}
				l[i][i] = math.Sqrt(sum)
			} else {
				l[i][k] = sum / l[k][k]
			}
		}
	}
	return l, true
}

// inverseOf is the inverse of L Lᵀ.
func inverseOf(l [nPrior][nPrior]float64) (inv [nPrior][nPrior]float64) {
	var w [nPrior][nPrior]float64 // inverse of l
	for i := range nPrior {
		w[i][i] = 1 / l[i][i]
		for k := range i {
			sum := 0.0
			for m := k; m < i; m++ {
				sum -= l[i][m] * w[m][k]
			}
			w[i][k] = sum / l[i][i]
		}
	}
	for i := range nPrior {
		for k := range nPrior {
			for m := max(i, k); m < nPrior; m++ {
				inv[i][k] += w[m][i] * w[m][k]
			}
		}
	}
	return inv
}
