package plan

import (
	"fmt"
	"slices"
	"sync"

	"wellwright/media"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
)

// rejected carries the simple trains and the equipment as it stands, and lists
// those that the likeliest water rules out, with the first limit to fail.
func (d *Desk) rejected(rs []ranked) []Rejected {
	out := []Rejected{}
	seen := map[string]bool{}
	for _, r := range rs {
		seen[r.Train.String()] = true
	}
	ts := d.simple()
	if t := d.standing(); len(t) > 0 {
		ts = append([]train.Train{t}, ts...)
	}
	ts = slices.DeleteFunc(ts, func(t train.Train) bool {
		again := seen[t.String()]
		seen[t.String()] = true
		return again
	})
	for _, e := range d.evaluated(ts) {
		if !e.Fails {
			continue
		}
		t := e.Train
		l := d.limit(e, e.First)
		if n := len(out); n > 0 && len(t) == 2 && out[n-1].Train[0] == string(t[0]) && out[n-1].FirstLimit.Limit == l.Limit {
			continue // a softener behind it changes nothing
		}
		out = append(out, Rejected{Train: names(t), FirstLimit: l, Say: sayLimit(l)})
	}
	return out
}

// evaluated carries trains at once, each by itself; one that cannot be carried is
// left out.
func (d *Desk) evaluated(ts []train.Train) []train.Evaluation {
	found := make([]*train.Evaluation, len(ts))
	var wg sync.WaitGroup
	for i, t := range ts {
		wg.Go(func() {
			if e, err := d.Work.Evaluate(t); err == nil {
				found[i] = &e
			}
		})
	}
	wg.Wait()
	var es []train.Evaluation
	for _, e := range found {
		if e != nil {
			es = append(es, *e)
		}
	}
	return es
}

// simple lists the trains an owner or a rival might propose: each process that is
// sold as a cure by itself and, where hardness is to be taken out, with a softener
// behind it.
func (d *Desk) simple() []train.Train {
	var ts []train.Train
	soft := d.Work.Want.Hardness.GPG() > 0 && d.Cloud.Middle().Water.Hardness().GPG() > d.Work.Want.Hardness.GPG()
	for _, p := range media.Processes() {
		if _, ok := stage.Of(p); !ok || !soldAlone(p) {
			continue
		}
		ts = append(ts, train.Train{p})
		if soft && filterLike(p) {
			ts = append(ts, train.Train{p, media.Softener})
		}
	}
	if d.holdsIron(d.likeliest().Water) {
		ts = append(ts, train.Train{media.CoagulantFeed, media.ContactTank, media.SedimentFilter})
	}
	return ts
}

// soldAlone is true of processes that are sold as a cure by themselves.
func soldAlone(p media.Process) bool {
	switch p {
	case media.Softener, media.PolyphosphateFeed, media.ChlorineFeed, media.Ultraviolet, media.CarbonFilter:
		return true
	}
	return filterLike(p)
}

// filterLike is true of what may stand alone ahead of a softener.
func filterLike(p media.Process) bool {
	switch p {
	case media.CartridgeFilter, media.SedimentFilter, media.AirInjectionFilter, media.GreensandFilter, media.CoatedSandFilter,
		media.LightweightFilter, media.ManganeseOreFilter, media.CopperZincFilter, media.CatalyticCarbonFilter:
		return true
	}
	return false
}

// standing is the equipment already there, in the order the book lists it.
func (d *Desk) standing() train.Train {
	var t train.Train
	for _, q := range d.Present.Equipment {
		p, err := media.ParseProcess(q.Process)
		if err != nil || q.Bypassed {
			continue
		}
		if _, ok := stage.Of(p); ok {
			t = append(t, p)
		}
	}
	return t
}

// sayLimit puts a limit into one line.
func sayLimit(l Limit) string {
	word := "at least"
	if l.AtMost {
		word = "at most"
	}
	switch l.Unit {
	case "yes or no", "lawful drain", "count", "chlorine feed ahead":
		return l.Say
	}
	return fmt.Sprintf("%s (has %s, needs %s %s %s)", l.Say, unit.Digits(l.Have), word, unit.Digits(l.Need), l.Unit)
}
