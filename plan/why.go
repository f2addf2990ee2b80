package plan

import (
	"wellwright/train"
)

// Why explains one train, lawful or not, in the list or not.
type Why struct {
	Well   string  `json:"well"`
	Meets  bool    `json:"meets"`           // every hard limit, in the likeliest water
	Share  float64 `json:"share_of_waters"` // weight of the waters drawn that meet every hard limit; not a probability
	Rule   string  `json:"order_rule"`      // the rule of order that it breaks; "" if none
	Option Option  `json:"option"`
	Limits []Limit `json:"limits"` // every limit in the likeliest water, in flow order
	Change string  `json:"change"` // what would have to change
}

// Why carries the train through every water and writes down all of its limits.
func (d *Desk) Why(t train.Train) (Why, error) {
	e, err := d.Work.Evaluate(t)
	if err != nil {
		return Why{}, err
	}
	r := d.completed(d.Work.Complete(e), 0)
	refuge := d.refugeFrom(r)
	if d.expect(&r, refuge); d.Work.Whole != nil {
		r = d.compare([]ranked{r}, refuge, rounds)[0]
	}
	e = r.Evaluation
	w := Why{Well: d.Present.Name, Meets: !e.Fails, Share: e.Meets, Option: d.option(r), Limits: []Limit{}}
	w.Option.Companions = d.Companions(e)
	if e.Rule != nil {
		w.Rule = e.Rule.Say
	}
	for _, l := range e.Limits[d.middle()] {
		w.Limits = append(w.Limits, d.limit(e, l))
	}
	if e.Fails {
		w.Change = sayLimit(d.limit(e, e.First))
	}
	return w, nil
}

// refugeFrom is the cost of the train that one would turn to if this one failed:
// what the search would find, and without a search this train itself.
func (d *Desk) refugeFrom(r ranked) float64 {
	if d.needsNothing() {
		return r.own
	}
	rs := d.priced(d.Work.Search().Trains)
	if len(rs) == 0 {
		return r.own
	}
	return d.refuge(rs)
}
