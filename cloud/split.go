package cloud

import "wellwright/unit"

// split is the iron of a water by form, mg/L.
type split struct{ ferrous, particulate, bound float64 }

func (s split) total() float64 { return s.ferrous + s.particulate + s.bound }

func (s split) times(f float64) split {
	return split{s.ferrous * f, s.particulate * f, s.bound * f}
}

func trim(v float64) string { return unit.Digits(v) }
