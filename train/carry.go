package train

import (
	"sync"

	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// Link is one stage of a train, sized, with what it does to the spread draws.
type Link struct {
	Process  media.Process
	Size     stage.Size
	Outcomes []stage.Outcome // by spread draw; empty where it was not carried
	Kept     bool            // already there and kept
}

// carried is a train so far and the waters behind it. Trains that begin alike
// share the links of their beginning. A search carries few draws at first and
// takes up another only where those have all failed; what a draw does is worked
// out once, whoever asks first, and is the same whoever asks.
type carried struct {
	job    *Work
	ahead  *carried // the train without its last stage; nil for the empty one
	links  []Link
	so     Train         // the processes so far
	unit   stage.Process // the last stage
	after  Train         // what will stand behind it, where that is known
	mine   []int         // draws carried on from here, in order
	lead   int           // the draw that sizes are chosen by: the middle while it lives
	asked  bool          // asked about this very train: draws that have failed are carried on
	lock   sync.Mutex
	state  []standing // by draw
	supply []hydraulic.Supply
	peaks  []unit.Flow // most that the house can pull from the supply so far
}

// standing is how far a draw has come at one stage.
type standing byte

const (
	notYet  standing = iota
	living           // carried, no hard limit met so far
	failing          // carried, a hard limit met here or ahead
	given            // failed ahead and not carried further
)

// start is the empty train.
func (w *Work) start() *carried {
	n := len(w.Draws)
	c := &carried{job: w, lead: w.middle, mine: w.core, state: make([]standing, n), supply: make([]hydraulic.Supply, n), peaks: w.peaks}
	for i, d := range w.Draws {
		c.supply[i], c.state[i] = d.Supply.Hydraulic, living
	}
	return c
}

// add puts a stage behind the train, sized. A stage that strengthens the supply
// comes in several strengths, because what it must carry stands behind it: each
// is a train of its own.
func (c *carried) add(p media.Process, after Train) ([]*carried, error) {
	x, ok := stage.Of(p)
	if !ok {
		return nil, notBuilt(p)
	}
	j := c.jobFor(c.lead, after)
	var grown []*carried
	for _, zs := range byStrength(c.sizes(x, &j)) {
		grown = append(grown, c.with(x, c.sized(x, zs, after), after))
	}
	return grown, nil
}

// byStrength parts sizes by their booster pump.
func byStrength(zs []stage.Size) [][]stage.Size {
	var parts [][]stage.Size
	for _, z := range zs {
		placed := false
		for i, part := range parts {
			if part[0].Booster == z.Booster {
				parts[i] = append(part, z)
				placed = true
				break
			}
		}
		if !placed {
			parts = append(parts, []stage.Size{z})
		}
	}
	return parts
}

// with carries the draws through the stage as sized. Of a search only living
// draws are carried on, and when none lives the rest are tried one after the
// other.
func (c *carried) with(x stage.Process, k candidate, after Train) *carried {
	size := len(c.job.Draws)
	n := &carried{
		job: c.job, ahead: c, unit: x, after: after, lead: c.lead, asked: c.asked,
		links: append(append(make([]Link, 0, len(c.links)+1), c.links...), Link{Process: x.ID(), Size: k.size, Outcomes: make([]stage.Outcome, size)}),
		so:    append(append(make(Train, 0, len(c.so)+1), c.so...), x.ID()),
		state: make([]standing, size), supply: c.supply, peaks: c.peaks,
	}
	if k.out.Supply != nil {
		n.supply, n.peaks = make([]hydraulic.Supply, size), make([]unit.Flow, size)
	}
	n.note(c.lead, k.out)
	for at, i := range k.others {
		n.note(i, k.outs[at])
	}
	for _, i := range c.mine {
		if n.carry(i, c.asked); c.asked || n.state[i] == living {
			n.mine = append(n.mine, i)
		}
	}
	if len(n.mine) == 0 {
		n.takeUp()
	}
	if !c.asked && len(n.mine) > 0 && n.state[n.lead] != living {
		n.lead = n.mine[0]
	}
	return n
}

// takeUp looks for one more draw that lives, among those not carried so far.
func (c *carried) takeUp() {
	for i := range c.job.Draws {
		if c.carry(i, false); c.state[i] == living {
			c.mine = []int{i}
			return
		}
	}
}

// carry takes a draw through the stages up to here; a draw that has failed only
// if dead ones are asked for too.
func (c *carried) carry(i int, dead bool) {
	if c.ahead == nil {
		return
	}
	c.lock.Lock()
	defer c.lock.Unlock()
	if c.state[i] == living || c.state[i] == failing || c.state[i] == given && !dead {
		return
	}
	if c.ahead.carry(i, dead); c.ahead.at(i) != living && !dead {
		c.state[i] = given
		return
	}
	j := c.ahead.jobFor(i, c.after)
	j.Lean = i != c.lead
	c.note(i, c.unit.Run(&j, c.last().Size))
}

// at is how far a draw has come.
func (c *carried) at(i int) standing {
	if c.ahead == nil {
		return living
	}
	c.lock.Lock()
	defer c.lock.Unlock()
	return c.state[i]
}

func (c *carried) last() *Link { return &c.links[len(c.links)-1] }

// note writes down what the last stage does to a draw.
func (c *carried) note(i int, o stage.Outcome) {
	c.last().Outcomes[i] = o
	if o.Supply != nil {
		c.supply[i] = *o.Supply
		c.peaks[i] = peakOf(&c.job.Draws[i], o.Supply, unit.Flow{}) // branches ahead draw from the well
	} else if c.ahead != nil {
		c.fedAsAhead(i)
	}
	c.state[i] = living
	if _, broken := stage.FirstHard(o.Limits); broken || c.ahead.at(i) != living {
		c.state[i] = failing
	}
}

// fedAsAhead gives a draw the supply that the stage ahead gives it. Where the
// slices are shared there is nothing to write.
func (c *carried) fedAsAhead(i int) {
	if &c.supply[i] != &c.ahead.supply[i] {
		c.supply[i], c.peaks[i] = c.ahead.supply[i], c.ahead.peaks[i]
	}
}

// water is the water of a draw behind the last stage.
func (c *carried) water(i int) water.State {
	if c.ahead == nil {
		return c.job.Draws[i].Water
	}
	return c.last().Outcomes[i].Out
}

// jobFor is the job of the next stage on draw i; after is what will stand behind
// it, where that is known.
func (c *carried) jobFor(i int, after Train) stage.Job {
	d := &c.job.Draws[i]
	return stage.Job{
		Site: c.job.Site, Draw: d, In: c.water(i), Supply: c.supply[i],
		Peak: c.peaks[i], Daily: d.Supply.Daily, Before: c.so, After: after,
	}
}

// peakOf is the most the house can pull through the treatment: what it asks, or what
// the supply can hold for as long as the peak lasts if that is less. Branches ahead
// of the treatment draw on the same supply meanwhile.
func peakOf(d *cloud.Draw, s *hydraulic.Supply, raw unit.Flow) unit.Flow {
	asked := d.Supply.Peak
	if keepsUp(s, unit.GPM(asked.GPM()+raw.GPM())) {
		return asked
	}
	shared := *s
	shared.HouseDraw = unit.GPM(s.HouseDraw.GPM() + raw.GPM())
	have := shared.Available(peakLasts(d), unit.PSI(20))
	return unit.GPM(min(asked.GPM(), max(have.GPM(), 0.5)))
}

// keepsUp reports whether pump and well plainly give a flow for as long as it is
// asked: the pump at its cut-out pressure, and the well all that the pump draws.
func keepsUp(s *hydraulic.Supply, flow unit.Flow) bool {
	return s.HouseDraw.GPM() == 0 && flow.GPM() <= s.Pump.FlowAt(s.CutOut).GPM() &&
		s.Yield.GPM() >= s.Pump.FlowAt(unit.PSI(20)).GPM()
}

// peakLasts is how long a peak lasts, minutes: that of a shift as the book has it,
// of a household two showers and a washer.
func peakLasts(d *cloud.Draw) float64 {
	return max(d.Supply.PeakMinutes, peakMinutes)
}

const peakMinutes = 10
