package cost

import "wellwright/media"

// Years is a span of time that is known only within bounds.
type Years struct{ Low, Mid, High float64 }

// Line is something bought once, at the start.
type Line struct {
	Part   media.Part
	Amount float64 // of the unit the part is sold by
	Why    string
}

// Use is something used up every year.
type Use struct {
	Part    media.Part
	PerYear float64
	Why     string
}

// Renewal is something bought again when it is worn out. The first one is bought
// at the start and stands in First.
type Renewal struct {
	Part       media.Part
	Amount     float64
	EveryYears Years
	Why        string
}

// Bill is everything a stage or a train asks to be bought.
type Bill struct {
	First    []Line
	Yearly   []Use
	Renewals []Renewal
	Hours    float64 // of the owner's own time, a year; not priced
}

// Join returns both bills in one. Neither is changed.
func (b Bill) Join(o Bill) Bill {
	return Bill{
		First:    join(b.First, o.First),
		Yearly:   join(b.Yearly, o.Yearly),
		Renewals: join(b.Renewals, o.Renewals),
		Hours:    b.Hours + o.Hours,
	}
}

func join[T any](a, b []T) []T {
	if len(a)+len(b) == 0 {
		return nil
	}
	return append(append(make([]T, 0, len(a)+len(b)), a...), b...)
}
