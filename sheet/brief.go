package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// Brief writes the heart of an answer: the gravest alert, the iron, what comes
// first, the first two choices and the nearest train that was turned down.
func Brief(id string, a plan.Answer, s unit.System) string {
	p := &page{s: s}
	p.wrap(0, "", wellName(a.Well)+" ("+id+")")
	for i, x := range a.Alerts {
		if i == 2 {
			break
		}
		p.say(2, alertWord(x), x.Say)
	}
	f := a.Forms
	p.wrap(2, "iron: ", fmt.Sprintf("%s mg/L: ferrous %s, particulate %s, bound %s; iron bacteria %s", milligrams(f.Total.P50),
		milligrams(f.Ferrous.P50), milligrams(f.Particulate.P50), milligrams(f.Bound.P50), chance(float64(f.Bacteria))))
	for i, x := range a.Actions {
		if i == 3 {
			break
		}
		p.say(2, "before: ", strings.ReplaceAll(x.ID, "-", " ")+": "+x.Why)
	}
	for _, o := range a.Options {
		if o.Rank > 2 {
			break
		}
		p.wrap(2, fmt.Sprintf("%d. ", o.Rank), fmt.Sprintf("%s: ten years %s; first limit: %s", trainWords(o), dollars(o.Cost.TenYear), firstLimit(o.FirstLimit, s)+often(o)))
	}
	if len(a.Options) == 0 {
		p.line("  %s", noOptions(a))
	}
	if len(a.Rejected) > 0 {
		r := a.Rejected[0]
		p.wrap(2, "not: ", trainOf(r.Train)+": "+why(r.FirstLimit, s))
	}
	p.wrap(2, "", considered(a)+"whole answer: wellwright demo "+id)
	p.line("")
	return p.String()
}

func considered(a plan.Answer) string {
	if a.Considered == 0 {
		return ""
	}
	return fmt.Sprintf("%d trains considered; ", a.Considered)
}
