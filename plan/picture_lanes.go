package plan

import (
	"wellwright/stage"
	"wellwright/train"
)

// Lanes are the limits of one train, each with how much of it is used up.
type Lanes struct {
	Heading
	Meets *float64 `json:"meets_probability"` // null: not carried over the whole cloud
	Lanes []Lane   `json:"lanes"`             // in flow order, those of the whole train last
}

// Lane is one limit of a train.
type Lane struct {
	Limit
	Words     string   `json:"stage_words"`
	Soft      bool     `json:"caution"` // breaking it is a nuisance and rules nothing out
	YesOrNo   bool     `json:"yes_or_no"`
	Caution   *Caution `json:"caution_before"`       // null: none stands before it
	Used      Range    `json:"used_share"`           // of the limit: 1 at it, above it broken; the likeliest water in the middle
	Breaks    float64  `json:"breaks_in_share"`      // of the plausible waters
	First     bool     `json:"first_to_fail"`        // or, where none fails, the nearest
	Elsewhere bool     `json:"only_in_other_waters"` // the likeliest water does not ask it
}

// Caution is the caution that stands before a limit of the same quantity.
type Caution struct {
	Need   float64 `json:"need"`
	At     float64 `json:"at_used_share"` // share of the limit that is used up where the caution begins
	Fails  bool    `json:"fails"`
	Breaks float64 `json:"breaks_in_share"`
}

// Lanes lists every limit of the train with how much of it is used up; a caution
// stands with the limit that it warns of.
func (s Subject) Lanes() Lanes {
	l := Lanes{Heading: s.heading(), Lanes: []Lane{}}
	if s.of.over != nil && s.of.Rule == nil { // no water mends an order
		m := s.desk.meets(s.of).P
		l.Meets = &m
	}
	seen := s.limits()
	counted := map[limitKey]int{}
	for _, p := range s.of.LimitsIn(s.of.Lead) {
		k := keyOf(p)
		k.again = counted[k]
		counted[keyOf(p)]++
		l.Lanes = append(l.Lanes, s.lane(p, seen[k]))
	}
	s.flag(&l)
	l.Lanes = joined(l.Lanes)
	return l
}

// limitKey names a limit of a train among its own: a stage may ask the same thing
// twice, in earnest and in caution.
type limitKey struct {
	stage int
	id    string
	soft  bool
	again int
}

func keyOf(p train.Placed) limitKey { return limitKey{stage: p.Stage, id: p.ID, soft: p.Soft} }

// limits gathers how much of each limit is used up in every water.
func (s Subject) limits() map[limitKey][]weighed {
	all := map[limitKey][]weighed{}
	for i, d := range s.of.Draws() {
		counted := map[limitKey]int{}
		for _, p := range s.of.LimitsIn(i) {
			k := keyOf(p)
			k.again = counted[k]
			counted[keyOf(p)]++
			if d.Weight > 0 {
				all[k] = append(all[k], weighed{p.Used(), d.Weight})
			}
		}
	}
	return all
}

func (s Subject) lane(p train.Placed, over []weighed) Lane {
	words := "the whole train"
	switch {
	case p.Stage != train.Whole:
		words = s.of.Links[p.Stage].Process.Words()
	case len(s.of.Links) == 0:
		words = "the water as it is"
	}
	return Lane{
		Limit: s.desk.limit(s.of.Evaluation, p), Words: words, Soft: p.Soft, YesOrNo: p.YesOrNo(),
		Used: about(p.Used(), over), Breaks: s.breaking(p, over),
	}
}

// breaking is the share of the plausible waters in which a limit is broken: over
// the whole cloud where hard limits were counted there, else over the waters at
// hand.
func (s Subject) breaking(p train.Placed, over []weighed) float64 {
	if s.of.over != nil && !p.Soft {
		n := 0
		for _, v := range s.of.over.Over {
			for _, b := range v.Broken {
				if b == (train.Broken{Stage: p.Stage, Limit: p.ID}) {
					n++
					break
				}
			}
		}
		return float64(n) / float64(len(s.of.over.Over))
	}
	broken, total := 0.0, 0.0
	for _, w := range over {
		total += w.weight
		if w.v > 1+1e-9 {
			broken += w.weight
		}
	}
	if total == 0 {
		return 0
	}
	return broken / total
}

// flag marks the first limit to fail. A rule of order, and a limit that stands only
// in another water than the likeliest, get a lane of their own.
func (s Subject) flag(l *Lanes) {
	first := s.of.First
	if first.Limit == nil || first.ID == "" {
		return
	}
	for i := range l.Lanes {
		x := &l.Lanes[i]
		if x.Limit.Limit == first.ID && x.Stage == at(s.of.Evaluation, first.Stage) && x.Soft == first.Soft {
			x.First = true
			return
		}
	}
	x := s.lane(first, nil)
	x.First = true
	if s.of.Rule != nil { // of order: no water is asked
		x.Breaks = 1
	} else {
		x.Elsewhere, x.Fails = true, false
		x.Used, x.Breaks = Range{P95: first.Used()}, s.breaking(first, []weighed{{first.Used(), 1}})
	}
	l.Lanes = append(l.Lanes, x)
}

// joined puts each caution with the limit of the same quantity.
func joined(lanes []Lane) []Lane {
	kept := []Lane{}
	taken := map[int]bool{}
	for i := range lanes {
		if !lanes[i].Soft {
			lanes[i].warnedBy(lanes, taken)
		}
	}
	for i, l := range lanes {
		if !taken[i] {
			kept = append(kept, l)
		}
	}
	return kept
}

// warnedBy takes up the caution that stands before a limit, if one does.
func (l *Lane) warnedBy(lanes []Lane, taken map[int]bool) {
	for i, c := range lanes {
		if taken[i] || !c.Soft || c.YesOrNo || c.Stage != l.Stage || c.Limit.Limit != l.Limit.Limit || c.Unit != l.Unit || c.AtMost != l.AtMost || c.Have != l.Have {
			continue
		}
		at := stage.Limit{Have: c.Need, Need: l.Need, Unit: l.Unit, AtMost: l.AtMost}
		l.Caution = &Caution{Need: c.Need, At: at.Used(), Fails: c.Fails, Breaks: c.Breaks}
		l.First = l.First || c.First
		taken[i] = true
		return
	}
}
