package plan

import (
	"fmt"
	"sort"
	"time"

	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
)

// Heading says of which well and train a picture is.
type Heading struct {
	Well  string   `json:"well"`
	AsOf  string   `json:"as_of"`
	Train []string `json:"train"`       // empty: the well alone
	Words []string `json:"train_words"` // the same in words
	Rank  int      `json:"rank"`        // among the options; 0: it is none of them
}

// Subject is a train as the smaller pictures take it: sized as it is offered or,
// where it is no option, as Why sizes it. Without a stage it is the well alone.
type Subject struct {
	desk *Desk
	of   ranked
	rank int
}

// Subjects are the options, best first; none where the water asks for no train.
func (d *Desk) Subjects() []Subject {
	if d.needsNothing() {
		return nil
	}
	most := d.ask.Most
	if most == 0 {
		most = usualOptions
	}
	var ss []Subject
	for i, r := range d.choose(d.priced(d.Work.Search().Trains)).options {
		if i < most {
			ss = append(ss, Subject{d, r, i + 1})
		}
	}
	return ss
}

// usualOptions is how many options are shown where nobody says.
const usualOptions = 6

// Subject is one train, in the list or not, lawful or not.
func (d *Desk) Subject(t train.Train) (Subject, error) {
	for _, s := range d.Subjects() {
		if s.of.Train.String() == t.String() {
			return s, nil
		}
	}
	e, err := d.Work.Evaluate(t)
	if err != nil {
		return Subject{}, err
	}
	if len(t) > 0 && len(e.Links) == 0 {
		return Subject{}, fmt.Errorf("%s: no common size serves here", t)
	}
	if len(t) == 0 || d.Work.Whole == nil {
		return Subject{desk: d, of: d.completed(d.Work.Complete(e), 0)}, nil
	}
	settled := d.Work.Settle([]train.Evaluation{e})[0]
	if len(settled.Links) == 0 {
		settled = d.Work.Complete(e)
	}
	rs := []ranked{d.price(settled)}
	d.start(rs)
	d.Work.Carry(carriedOf(rs), subjectDraws)
	return Subject{desk: d, of: rs[0]}, nil
}

// subjectDraws is how many plausible waters a train that is no option is carried
// through.
const subjectDraws = 400

func (s Subject) heading() Heading {
	h := Heading{Well: s.desk.Present.Name, AsOf: s.desk.Present.AsOf.Format(time.DateOnly), Train: names(s.of.Train), Words: []string{}, Rank: s.rank}
	for _, p := range s.of.Train {
		h.Words = append(h.Words, p.Words())
	}
	return h
}

// weighed is a figure in one plausible water, with the weight of that water.
type weighed struct{ v, weight float64 }

// about is a range over the plausible waters, the likeliest in its middle.
func about(likeliest float64, over []weighed) Range {
	r := Range{likeliest, likeliest, likeliest}
	sort.Slice(over, func(i, k int) bool { return over[i].v < over[k].v })
	total, sum := 0.0, 0.0
	for _, w := range over {
		total += w.weight
	}
	for _, w := range over {
		before := sum
		sum += w.weight
		if before <= 0.05*total {
			r.P05 = w.v
		}
		if before < 0.95*total {
			r.P95 = w.v
		}
	}
	r.P05, r.P95 = min(r.P05, likeliest), max(r.P95, likeliest)
	return r
}

// sample is some plausible waters, and which of them is the likeliest.
type sample struct {
	draws []cloud.Draw
	lead  int
}

// carried are the waters that the train was carried through.
func (s Subject) carried() sample { return sample{s.of.Draws(), s.of.Lead} }

// ofCloud are the likeliest water and the first of the plausible ones, which stand
// for all of them in number.
func (d *Desk) ofCloud(n int) sample {
	if len(d.Cloud.Draws) < n {
		return sample{d.Work.Draws, d.middle()}
	}
	likeliest := d.likeliest()
	likeliest.Weight = 0
	return sample{append([]cloud.Draw{likeliest}, d.Cloud.Draws[:n]...), 0}
}

// spread is a figure over the waters, that of the likeliest in its middle.
func (x sample) spread(f func(draw int) float64) Range {
	var over []weighed
	for i, d := range x.draws {
		if d.Weight > 0 {
			over = append(over, weighed{f(i), d.Weight})
		}
	}
	return about(f(x.lead), over)
}

// spread is a figure over the waters that the train was carried through.
func (s Subject) spread(f func(draw int) float64) Range { return s.carried().spread(f) }

// boosted reports whether stage k is fed by a booster pump behind a store, and not
// by the well's own.
func (s Subject) boosted(k int) bool {
	lead := s.of.Lead
	return !s.of.JobAt(k, lead).Supply.Same(s.of.Draws()[lead].Supply.Hydraulic)
}

// course carries the wash of stage k through the supply of a draw.
func (s Subject) course(k, draw int, w stage.Wash) []hydraulic.Moment {
	j := s.of.JobAt(k, draw)
	supply, floor := j.WashSupply(s.of.Links[k].Size)
	return supply.Course(hydraulic.Draw{Flow: w.Need, Minutes: w.Minutes, MinPressure: floor})
}

// feet is a depth on record, in feet.
func feet(l *unit.Length) *float64 {
	if l == nil {
		return nil
	}
	v := l.Ft()
	return &v
}
