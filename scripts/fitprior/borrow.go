package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/mat"

	"wellwright/labfile"
)

// survey is a set of reduced tubewells with silica beside iron and arsenic. Only
// its correlations are used, never its levels.
const (
	surveyFolder = "bangladesh-survey-1998"
	surveyFile   = "NationalSurveyData.csv"
)

// borrowed are the coordinates that silica is told by: what comes off the same
// oxides with it. Its ties to the ions are those of a delta by the sea, and stay there.
var borrowed = []int{atPhosphate, atIron, atManganese, atArsenic}

// mostTold is the greatest share of the variance of silica that may be told by
// the others. Kind: judgement; the survey is of another climate.
const mostTold = 0.5

// relation is how silica goes with the borrowed coordinates.
type relation struct {
	slopes []float64 // in standard deviations of each
	wells  int
	told   float64 // share of the variance of silica, in the survey
}

// silicaRelation fits the survey.
func silicaRelation(data string) (relation, error) {
	points, err := surveyPoints(data)
	if err != nil {
		return relation{}, err
	}
	start := roughly(points)
	law, err := fit(points, start, 0)
	if err != nil {
		return relation{}, err
	}
	r := correlation(law.cov)
	n := len(borrowed)
	among, with := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for a := range n {
		with.SetVec(a, r.At(a, n))
		for b := a; b < n; b++ {
			among.SetSym(a, b, r.At(a, b))
		}
	}
	var slopes mat.VecDense
	if err := slopes.SolveVec(among, with); err != nil {
		return relation{}, err
	}
	return relation{slopes.RawVector().Data, len(points), mat.Dot(&slopes, with)}, nil
}

// surveyPoints reads the iron-bearing wells of the survey, silica last.
func surveyPoints(data string) ([]point, error) {
	text, err := os.ReadFile(filepath.Join(data, surveyFolder, surveyFile))
	if err != nil {
		return nil, err
	}
	m, _ := labfile.Guess(surveyFile, text, "")
	if m == nil {
		return nil, fmt.Errorf("%s: its columns were not recognised", surveyFile)
	}
	samples, _ := labfile.Read(surveyFile, text, labfile.Options{Mapping: m})
	which := append(append([]int(nil), borrowed...), atSilica)
	var points []point
	for _, v := range together(samples) {
		s := v.sheet(surveyFolder)
		s.weight = 1
		if s.over(atIron, boundIron) == yes && s.mark[atSilica] == exact {
			points = append(points, s.point(which))
		}
	}
	if len(points) == 0 {
		return nil, fmt.Errorf("%s: no well with iron and silica", surveyFile)
	}
	return points, nil
}

// point reduces a sheet to some coordinates.
func (s *sheet) point(which []int) point {
	p := point{weight: s.weight}
	for _, i := range which {
		p.x, p.mark = append(p.x, s.x[i]), append(p.mark, s.mark[i])
	}
	return p
}

// tellSilica sets the correlations of silica by its slopes on the others.
//
//	z(Si) = b·z + e     R(Si, k) = Σj bj R(j, k)
//
// Since e is independent of all, the matrix stays positive definite while the
// share told, b'Rb, is below one; the slopes are cut down to mostTold.
func tellSilica(r *mat.SymDense, slopes []float64) {
	told := 0.0
	for a, i := range borrowed {
		for b, j := range borrowed {
			told += slopes[a] * slopes[b] * r.At(i, j)
		}
	}
	cut := 1.0
	if told > mostTold {
		cut = mostTold / told
	}
	row := make([]float64, size)
	for k := range size {
		for a, i := range borrowed {
			row[k] += math.Sqrt(cut) * slopes[a] * r.At(i, k)
		}
	}
	for k := range size {
		if k != atSilica {
			r.SetSym(atSilica, k, row[k])
		}
	}
}
