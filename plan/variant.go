package plan

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/limits"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
)

// Variant is a well asked about otherwise than its book says. The zero Variant
// asks nothing new.
type Variant struct {
	Changes []Change
	Own     map[string]source.Override // factors
	Prices  map[media.Part]float64     // US dollars; the range of the price moves along
	Train   train.Train                // nil: it is chosen
	Sizes   train.Given                // of the train, by place; those of the first choice where no train is named
}

// Plain reports whether nothing is asked.
func (v Variant) Plain() bool { return !v.turns() && v.Train == nil && len(v.Sizes) == 0 }

// turns reports whether more is asked than another train.
func (v Variant) turns() bool { return len(v.Changes)+len(v.Own)+len(v.Prices) > 0 }

// Check returns all that cannot be asked, each with what would be right.
func (v Variant) Check() []error {
	var bad []error
	for _, p := range v.Train {
		if err := stands(p); err != nil {
			bad = append(bad, err)
		}
	}
	if len(v.Train) > mostStages {
		bad = append(bad, fmt.Errorf("%d stages are more than a house has room for; leave out some, down to %d", len(v.Train), mostStages))
	}
	for _, at := range slices.Sorted(maps.Keys(v.Sizes)) {
		if v.Train == nil {
			continue // it is checked when the first choice is known
		}
		if at < 0 || at >= len(v.Train) {
			bad = append(bad, fmt.Errorf("a size is given for stage %d; the train has %d", at+1, len(v.Train)))
			continue
		}
		bad = append(bad, v.Sizes[at].Check(v.Train[at])...)
	}
	return append(append(bad, v.checkPrices()...), v.checkOwn()...)
}

// mostStages bounds a train: no search goes near it.
const mostStages = 14

// stands reports whether a process can be a stage of a train.
func stands(p media.Process) error {
	switch _, built := stage.Of(p); {
	case p == media.WellRehabilitation || p == media.ShockDisinfection:
		return fmt.Errorf("%s is work on the well, not a stage of a train", p.Words())
	case !built:
		return fmt.Errorf("%q is not a stage; write %s", p, strings.Join(names(Stages()), ", "))
	}
	return nil
}

// Stages are the processes that may stand in a train.
func Stages() []media.Process {
	var ps []media.Process
	for _, p := range media.Processes() {
		if _, built := stage.Of(p); built {
			ps = append(ps, p)
		}
	}
	return ps
}

// mostPrice is far above what any part of a house costs, US dollars.
const mostPrice = 1e5

func (v Variant) checkPrices() []error {
	var bad []error
	for _, part := range slices.Sorted(maps.Keys(v.Prices)) {
		usd := v.Prices[part]
		if _, priced := Prices().Of(part); !priced {
			bad = append(bad, fmt.Errorf("%q is not a part on the price list", part))
		} else if !(usd >= 0 && usd <= mostPrice) {
			bad = append(bad, fmt.Errorf("%s: %g is no price; write 0 to %g US dollars", part, usd, float64(mostPrice)))
		}
	}
	return bad
}

// checkOwn takes values of the range in print, or near it: what lies far beyond
// breaks the method that it belongs to.
func (v Variant) checkOwn() []error {
	var bad []error
	for _, name := range slices.Sorted(maps.Keys(v.Own)) {
		f, known := Register().Find(name)
		x := v.Own[name].Value
		switch least, most := f.Value/wideOf, f.Value*wideOf; {
		case !known:
			bad = append(bad, fmt.Errorf("%q is not a factor", name))
		case f.HasRange() && (x < min(f.Low, least) || x > max(f.High, most)), x != x:
			bad = append(bad, errors.New(strings.TrimSpace(fmt.Sprintf("%s: %g is far from what it can be; write %s to %s %s", name, x, unit.Digits(min(f.Low, least)), unit.Digits(max(f.High, most)), f.Unit))))
		}
	}
	return bad
}

// wideOf is how many times a factor may be turned away from its value.
const wideOf = 3

// under returns the desk as the variant has it, but for the train.
func (d *Desk) under(v Variant) *Desk {
	if !v.turns() {
		return d
	}
	e, site := *d, *d.Work.Site
	e.ask.Prices = d.ask.Prices.At(v.Prices)
	if len(v.Own) > 0 {
		e.replaceFactors(v.Own)
		site.Factors, site.Model = e.set, chem.New(e.set)
	}
	for _, c := range v.Changes {
		if c.wish != nil {
			_ = c.wish.set(&e.Present, c.Text) // read before
		}
	}
	site.House, site.Rules, site.Wishes = e.Present.House, e.Present.Rules, e.Present.Wishes
	e.Table = limits.On(e.Present.AsOf, jurisdiction(e.Present))
	e.Cloud = d.moved(v.Changes)
	e.supposed = e.suppose(v.Changes)
	want := e.targets()
	e.wanting(&want, v.Changes)
	site.LeastPH = want.PHLow
	e.Work = e.search(&site, e.Cloud, want)
	return &e
}

// replaceFactors puts the variant's values over the book's own.
func (d *Desk) replaceFactors(own map[string]source.Override) {
	all := maps.Clone(d.Present.Own)
	if all == nil {
		all = map[string]source.Override{}
	}
	maps.Copy(all, own)
	d.Present.Own = all
	d.set = d.Present.Factors()
	d.visits = visitsOf(d.set)
}

// wanting adds the targets of health that a change brings into force.
func (d *Desk) wanting(t *train.Targets, cs []Change) {
	for _, c := range cs {
		switch {
		case c.Name == "nitrate" && c.to > d.nitrateMost():
			t.Nitrate = unit.MgPerLAsN(d.nitrateMost())
		case c.Name == "arsenic" && c.to > d.arsenicMost():
			t.Arsenic = unit.MgPerL(d.arsenicMost())
		}
	}
}

// weighedOn reports whether a variant changes a factor that the waters were weighed
// with: the whole answer weighs them anew, the first one does not.
func (v Variant) weighedOn() bool {
	for _, f := range cloud.Factors() {
		if _, own := v.Own[f.Name]; own {
			return true
		}
	}
	return false
}

// reweighed is the desk opened anew with the variant's factors, for its whole
// answer.
func (d *Desk) reweighed(v Variant) (*Desk, error) {
	if !v.weighedOn() {
		return d, nil
	}
	p := d.Present
	p.Own = maps.Clone(p.Own)
	if p.Own == nil {
		p.Own = map[string]source.Override{}
	}
	maps.Copy(p.Own, v.Own)
	e, err := Open(p, d.ask)
	if err != nil {
		return nil, err
	}
	e.warm = d.warm
	return e, nil
}
