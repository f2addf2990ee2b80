package plan

import (
	"wellwright/water"
)

// healthDials are the inputs of whatif that a limit of health holds, by what a
// laboratory would report.
var healthDials = map[string]struct {
	analyte water.Analyte
	unit    string
}{
	"nitrate": {water.Nitrate, "mg/L as N"}, "arsenic": {water.Arsenic, "mg/L"}, "manganese": {water.Manganese, "mg/L"},
}

// suppose is the report that a laboratory would give of the inputs that are changed and
// that a limit of health holds: it is judged as one in the book is, so that what is
// asked about brings its alert, its gate and its limit. It is no evidence of the water.
func (d *Desk) suppose(cs []Change) []water.Report {
	r := water.Report{ID: "what-if", Laboratory: "supposed", Tap: "T1", Sampled: d.Present.AsOf, Analysed: d.Present.AsOf}
	for _, c := range cs {
		if h, held := healthDials[c.Name]; held {
			r.Results = append(r.Results, water.Result{Analyte: h.analyte, Fraction: water.Total, Value: c.to, Unit: h.unit})
		}
	}
	if r.Results == nil {
		return nil
	}
	return []water.Report{r}
}
