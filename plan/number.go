package plan

import (
	"math"

	"wellwright/cost"
)

// round gives whole dollars.
func round(v float64) float64 { return math.Round(v) }

// roundTo keeps n significant figures.
func roundTo(v float64, n int) float64 {
	if v == 0 {
		return 0
	}
	p := math.Pow(10, float64(n)-1-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*p) / p
}

func money(r cost.Range) Range {
	return Range{r.Low.USD(), r.Mid.USD(), r.High.USD()}
}

// parts lists the bill, dearest over ten years first.
func parts(a cost.Answer) []Part {
	ps := []Part{}
	for _, i := range a.Parts {
		ps = append(ps, Part{Part: string(i.Part), When: i.When.String(), Amount: i.Amount, Mid: i.Range.Mid.USD(), Kind: i.Kind.String(), Why: i.Why})
	}
	return ps
}
