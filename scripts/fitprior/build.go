package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// joint are the coordinates fitted together: those that nearly every sheet
// holds. Silica and oxygen stand in too few sheets to be told by sixteen others,
// and sulfide in none.
var joint = []int{atTemperature, atPH, atAlkalinity, atCalcium, atMagnesium, atSodium, atPotassium, atChloride, atSulfate,
	atNitrate, atFluoride, atPhosphate, atAmmonia, atIron, atManganese, atArsenic, atCarbon}

// made is a prior with what the page tells of its making.
type made struct {
	prior  prior
	n      tallies
	fitted [classes]float64          // share of each class by wells, before judgement
	call   [classes]float64          // chance of a call
	counts [classes][size][2]float64 // wells with a detection, wells where it was looked for
	sheets [classes]int
	wells  [classes]float64
	survey int
	told   float64 // share of the variance of silica that they tell there
}

// build makes the prior from the public files.
func build(data string) (*made, error) {
	all, n, err := readSheets(data)
	if err != nil {
		return nil, err
	}
	m := &made{n: n}
	by := sorted(all, &m.n)
	laws, err := fitAll(by)
	if err != nil {
		return nil, err
	}
	silica, err := silicaRelation(data)
	if err != nil {
		return nil, err
	}
	m.survey, m.told = silica.wells, silica.told
	ls := make([]law, classes)
	for c := range classes {
		m.count(c, by[c])
		from := c
		if c == acid {
			from = oxic // its correlations only
		}
		if ls[c], err = assemble(c, by[c], laws[from], silica.slopes); err != nil {
			return nil, err
		}
		ls[c].Wells = distinct(by[c])
	}
	weigh(ls, m.wells)
	total := 0.0
	for _, w := range m.wells {
		total += w
	}
	for c := range classes {
		m.fitted[c], m.call[c] = m.wells[c]/total, ls[c].callChance()
	}
	m.prior = prior{About: about, MadeBy: madeBy, Classes: ls, Sources: sources}
	for _, c := range coordinates {
		m.prior.Coordinates = append(m.prior.Coordinates, c.id)
	}
	return m, nil
}

// fitAll fits the classes: first one covariance for all, then each class's own
// drawn towards it.
func fitAll(by [classes][]sheet) ([]normal, error) {
	groups := make([][]point, classes)
	var every []point
	for c, g := range by {
		for i := range g {
			groups[c] = append(groups[c], g[i].point(joint))
		}
		every = append(every, groups[c]...)
	}
	common, err := pooled(groups, roughly(every), priorWells)
	if err != nil {
		return nil, err
	}
	laws := make([]normal, classes)
	for c, g := range groups {
		if len(g) == 0 {
			continue
		}
		if laws[c], err = fit(g, common[c], priorWells); err != nil {
			return nil, err
		}
	}
	drawMeans(laws, by)
	return laws, nil
}

// drawMeans draws the means that the rock sets to those of all wells, as if by
// meanWells wells more.
func drawMeans(laws []normal, by [classes][]sheet) {
	var w [classes]float64
	total := 0.0
	for c, g := range by {
		w[c] = weightOf(g)
		total += w[c]
	}
	for a, i := range joint {
		if !rock[i] {
			continue
		}
		all := 0.0
		for c, l := range laws {
			if w[c] > 0 {
				all += w[c] / total * l.mean[a]
			}
		}
		for c, l := range laws {
			if w[c] > 0 {
				l.mean[a] = (w[c]*l.mean[a] + meanWells*all) / (w[c] + meanWells)
			}
		}
	}
}

// weightOf is the number of wells in a group, each counted by the share of its
// sheets that stand there.
func weightOf(group []sheet) float64 {
	w := 0.0
	for _, s := range group {
		w += s.weight
	}
	return w
}

// assemble brings the fit of a class, the moments fitted alone and those judged
// to one law.
func assemble(c class, group []sheet, fitted normal, slopes []float64) (law, error) {
	l := law{ID: classIDs[c], Say: classSays[c], Mean: make([]float64, size), SD: make([]float64, size), Kind: make([]string, size)}
	r := mat.NewSymDense(size, nil)
	for i := range size {
		r.SetSym(i, i, 1)
	}
	within := correlation(fitted.cov)
	for a, i := range joint {
		l.Mean[i], l.SD[i] = fitted.mean[a], math.Sqrt(fitted.cov.At(a, a))
		for b, j := range joint {
			r.SetSym(i, j, within.At(a, b))
		}
	}
	for i := range size {
		if err := l.settle(c, group, i); err != nil {
			return l, err
		}
	}
	tellSilica(r, slopes)
	l.Correlation = lower(loosen(r))
	return l, nil
}

// settle gives one coordinate its moments and their kind.
func (l *law) settle(c class, group []sheet, i int) (err error) {
	l.Kind[i] = published
	switch {
	case !holds(group, i):
		j := judged[c][i]
		l.Mean[i], _ = coordinates[i].on(j.median)
		l.SD[i], l.Kind[i] = j.sd, judgement
	case i == atSilica || i == atOxygen:
		if l.Mean[i], l.SD[i], err = alone(group, i); err != nil {
			return err
		}
		l.SD[i] = spread(i, l.SD[i])
	default:
		l.SD[i] = spread(i, l.SD[i])
	}
	l.Mean[i], l.SD[i] = round(l.Mean[i], 3), round(l.SD[i], 3)
	return nil
}

// alone fits one coordinate by itself.
func alone(group []sheet, i int) (mean, sd float64, err error) {
	var points []point
	for k := range group {
		if group[k].mark[i] != missing {
			points = append(points, group[k].point([]int{i}))
		}
	}
	fitted, err := fit(points, roughly(points), 0)
	if err != nil {
		return 0, 0, fmt.Errorf("%s alone: %w", coordinates[i].id, err)
	}
	return fitted.mean[0], math.Sqrt(fitted.cov.At(0, 0)), nil
}

func (m *made) count(c class, group []sheet) {
	m.sheets[c] = len(group)
	m.wells[c] = weightOf(group)
	for i := range size {
		m.counts[c][i][0], m.counts[c][i][1] = tally(group, i)
	}
}

func distinct(group []sheet) int {
	seen := map[string]bool{}
	for _, s := range group {
		seen[s.well] = true
	}
	return len(seen)
}
