package book

import (
	"time"

	"wellwright/source"
	"wellwright/water"
	"wellwright/well"
)

// Present is what the book says on a date: later entries refine earlier ones,
// and corrected entries are replaced.
type Present struct {
	Name      string
	AsOf      time.Time
	Call      *Call // nil: no call recorded
	Supply    well.Supply
	House     well.House
	Rules     well.Rules
	Wishes    well.Wishes
	Equipment []well.Equipment // by process
	Signs     []Sign
	Reports   []water.Report // laboratory reports and readings, oldest sample first
	Jars      []Jar
	Cultures  []Culture
	Own       map[string]source.Override
	Variants  []Variant         // what-ifs kept by name, the latest last
	OwnPrices string            // the user's own price list
	From      map[string]string // "well/static level" and the like -> the entry it came from
	Used      []string          // the entries that hold on the date, oldest first
}

// Factors returns the set of factors with the user's own values in it.
func (p Present) Factors() source.Set { return source.NewSet(p.Own) }
