package plan

import (
	"fmt"

	"wellwright/book"
	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/limits"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/water"
)

// Ask is the question put to one book.
type Ask struct {
	Prices  media.PriceList
	Working bool           // record the working of every figure of the options shown
	Most    int            // options to show; 0 is six
	Brief   bool           // leave out what flips the order
	Near    []book.Present // books of wells nearby, which speak for what nobody measured here
}

// Desk is one well made ready for questions: what is believed, what is wanted,
// and the search over trains. It is built once and may answer many.
type Desk struct {
	Present book.Present
	Cloud   cloud.Cloud
	Work    *train.Work
	Table   limits.Table
	set     source.Set
	visits  visits
	warm    *memory
	// supposed is what a what-if takes for found; it is judged, and no evidence.
	supposed []water.Report
	shown    *shown
	ask      Ask
}

// Open makes a desk from the present state of a book.
func Open(p book.Present, ask Ask) (*Desk, error) {
	set := p.Factors()
	model := chem.New(set)
	w := &formula.Working{} // a few steps, whoever asks
	e := cloud.From(p)
	for _, n := range ask.Near {
		e.Near = append(e.Near, cloud.From(n))
	}
	c, err := cloud.Weigh(e, set, model, w)
	if err != nil {
		return nil, fmt.Errorf("weigh the evidence: %w", err)
	}
	site := &stage.Site{
		Model: model, Factors: set, Well: p.Supply, House: p.House, Rules: p.Rules, Wishes: p.Wishes,
	}
	table := limits.On(p.AsOf, jurisdiction(p))
	d := &Desk{Present: p, Cloud: c, Table: table, set: set, visits: visitsOf(set), shown: &shown{evidence: w}, ask: ask}
	want := d.targets()
	site.LeastPH = want.PHLow
	d.Work = d.search(site, c, want)
	d.warm = &memory{of: d}
	return d, nil
}

// search makes the search over trains for a cloud: on its spread draws, and then
// over all. A cloud without spread draws holds so few that they are searched on
// themselves.
func (d *Desk) search(site *stage.Site, c cloud.Cloud, want train.Targets) *train.Work {
	few, all := c.Spread, c.Draws
	if len(few) == 0 {
		few, all = c.Draws, nil
	}
	w := train.NewWork(site, few, want)
	w.Whole, w.Leaves, w.Full = all, d.keptLeaves(), fullDraws
	w.Worth, w.Fails, w.FailureCost = d.worth, d.visits.failingIn, d.set.Of(wrongUnit)
	return w
}

// fullDraws is how many plausible waters the range of the cost is taken from.
const fullDraws = 200

// Believing returns the desk with another cloud of waters and supplies.
func (d *Desk) Believing(c cloud.Cloud) *Desk {
	e := *d
	e.Cloud = c
	e.Work = e.search(d.Work.Site, c, d.Work.Want)
	return &e
}

// Build answers a book whole.
func Build(p book.Present, ask Ask) (Answer, error) {
	d, err := Open(p, ask)
	if err != nil {
		return Answer{}, err
	}
	return d.Answer()
}

// Answer searches, costs, ranks and writes down everything. Where the water asks
// for no train none is searched for.
func (d *Desk) Answer() (Answer, error) {
	a := d.evidence()
	a.Actions = append(d.actions(), d.connected()...)
	if d.needsNothing() {
		a.Pruned = map[string]int{}
		a.Cautions = d.cautions(nil)
		a.NextSay, a.Sampling = nothingToTest, d.sampling(nil, nil)
		return a, nil
	}
	found := d.Work.Search()
	a.Considered, a.Pruned = found.Considered, found.Cut
	all := d.priced(found.Trains)
	if d == d.warm.of {
		d.warm.remember(func() []ranked { return all })
	}
	chosen := d.choose(all)
	ranked := chosen.options
	if d == d.warm.of {
		d.shown.keep(ranked)
	}
	a.Actions = append(a.Actions, d.branchesLeftRaw(ranked)...)
	a.Rejected = d.rejected(ranked)
	a.Options = d.options(ranked)
	d.accompany(&a, ranked)
	if d == d.warm.of {
		d.warm.keep(chosen, a.Options)
	}
	d.next(&a, chosen)
	if d.ask.Working && len(ranked) > 0 {
		a.Working = d.working(ranked)
	}
	a.Cautions = d.cautions(ranked)
	return a, nil
}

// jurisdiction is the owner's, or the US federal one, which is said.
func jurisdiction(p book.Present) string {
	if p.Wishes.Jurisdiction == "" {
		return "US"
	}
	return p.Wishes.Jurisdiction
}

// Prices joins the bundled price list with nothing else.
func Prices() media.PriceList { return media.Prices() }

// work prices a bill with the asker's list.
func (d *Desk) work(b cost.Bill, w *formula.Working) cost.Answer {
	return cost.Work(b, d.ask.Prices, d.set, w)
}
