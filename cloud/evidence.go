package cloud

import (
	"wellwright/book"
	"wellwright/water"
	"wellwright/well"
)

// Evidence is everything known of one well on the day of the question.
type Evidence struct {
	Supply    well.Supply
	House     well.House
	Equipment []well.Equipment
	Signs     []book.Sign
	Reports   []water.Report
	Jars      []book.Jar
	Cultures  []book.Culture
	Near      []Evidence // of wells nearby, which speak for what may be found here
}

// From takes the evidence out of the present state of a well's book.
func From(p book.Present) Evidence {
	return Evidence{
		Supply: p.Supply, House: p.House, Equipment: p.Equipment, Signs: p.Signs,
		Reports: p.Reports, Jars: p.Jars, Cultures: p.Cultures,
	}
}
