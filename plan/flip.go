package plan

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"sync"

	"wellwright/cloud"
	"wellwright/media"
	"wellwright/train"
	"wellwright/unit"
)

// flipDials are the inputs that a flip is looked for in.
var flipDials = []string{"iron", "particulate", "manganese", "sulfide", "ph", "pump", "hardness"}

// flips finds, for each input, where another train comes first: within the cloud
// by what its waters cost, and beyond it by turning the input of the likeliest.
func (d *Desk) flips(rs []ranked) []Flip {
	fs := []Flip{}
	if rs[0].over != nil {
		fs = append(fs, d.believedFlips(d.alike(rs))...)
	}
	return append(fs, d.turnedFlips(rs)...)
}

// alike are the options of the same class as the first: neither health nor the
// likeliest water nor the purse speaks against one and not the other.
func (d *Desk) alike(rs []ranked) []ranked {
	var same []ranked
	for _, r := range rs {
		if math.Abs((d.key(r)-r.expected)-(d.key(rs[0])-rs[0].expected)) < behind/2 {
			same = append(same, r)
		}
	}
	return same
}

// turnedFlips finds, for each input, the nearest value on either side at which
// another train comes first, among those in the running, if only that input of
// the likeliest water were another.
func (d *Desk) turnedFlips(rs []ranked) []Flip {
	runners := d.runners(rs)
	if len(runners) < 2 {
		return []Flip{}
	}
	if first, _ := dialNamed(flipDials[0]); d.best(first, runners, first.now(d.likeliest())) != runners[0].String() {
		return []Flip{} // too close to call as it is
	}
	found := make([][]Flip, len(flipDials))
	var wg sync.WaitGroup
	for i, name := range flipDials {
		wg.Go(func() {
			dl, _ := dialNamed(name)
			found[i] = d.flipsOf(dl, runners)
		})
	}
	wg.Wait()
	fs := []Flip{}
	for _, f := range found {
		fs = append(fs, f...)
	}
	sort.SliceStable(fs, func(i, k int) bool {
		a, b := fs[i].Probability, fs[k].Probability
		return a != nil && b != nil && *a > *b
	})
	return fs
}

// likeliest is the middle of the spread draws.
func (d *Desk) likeliest() cloud.Draw { return d.Work.Draws[d.middle()] }

// runners are the trains that might come first: the best options and the cheap
// ones that the likeliest water rules out.
func (d *Desk) runners(rs []ranked) []train.Train {
	var ts []train.Train
	for i, r := range rs {
		if i == 3 {
			break
		}
		ts = append(ts, r.Train)
	}
	for _, t := range d.simple() {
		if len(ts) == 5 {
			break
		}
		if contender(t) && !slices.ContainsFunc(ts, func(u train.Train) bool { return u.String() == t.String() }) {
			ts = append(ts, t)
		}
	}
	return ts
}

// contender is true of the simple trains that a change of the water brings in.
func contender(t train.Train) bool {
	return t[0] == media.Softener || t.String() == string(media.AirInjectionFilter)+","+string(media.Softener)
}

// flipsOf looks below and above the present value, or where a cloud is believed
// below and above nine tenths of it.
func (d *Desk) flipsOf(dl dial, ts []train.Train) []Flip {
	now := dl.now(d.likeliest())
	edges := d.edges(dl, now)
	var fs []Flip
	for _, end := range []float64{dl.low, dl.high} {
		from := edges.P95
		if end == dl.low {
			from = edges.P05
		}
		if (end < from) != (end == dl.low) {
			continue
		}
		if f, ok := d.flipTowards(dl, ts, from, end); ok {
			f.Say = sayFlip(dl, now, f.At, f.To)
			if d.Work.Whole != nil {
				p := beyond(d.values(dl, len(d.Work.Whole)), f.At, sign(end-from))
				f.Probability, f.Outside = &p, true
				f.Say += "; that is outside what is believed here"
			}
			fs = append(fs, f)
		}
	}
	return fs
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// edges are the 5th and 95th percentile of an input over the cloud; without a
// cloud both are its present value.
func (d *Desk) edges(dl dial, now float64) Range {
	if d.Work.Whole == nil {
		return Range{now, now, now}
	}
	xs := d.values(dl, len(d.Work.Whole))
	sort.Float64s(xs)
	at := func(q float64) float64 { return xs[int(q*float64(len(xs)-1))] }
	return Range{math.Min(at(0.05), now), now, math.Max(at(0.95), now)}
}

// flipTowards walks from a value at which the first choice is taken to stand, to
// end in equal ratios until it changes, then halves the step.
func (d *Desk) flipTowards(dl dial, ts []train.Train, now, end float64) (Flip, bool) {
	from := math.Max(now, math.Min(dl.low, end))
	first := ts[0].String()
	const steps = 3
	was := from
	for i := 1; i <= steps; i++ {
		at := from * math.Pow(end/from, float64(i)/steps)
		if to := d.best(dl, ts, at); to != first {
			at, to = d.halve(dl, ts, was, at, first, to)
			return Flip{Input: dl.name, At: roundTo(at, 2), Unit: dl.unit, To: to}, true
		}
		was = at
	}
	return Flip{}, false
}

// halve closes in on the change between a value with the first choice and one
// without.
func (d *Desk) halve(dl dial, ts []train.Train, same, other float64, first, to string) (float64, string) {
	for range 2 {
		mid := math.Sqrt(same * other)
		if b := d.best(dl, ts, mid); b == first {
			same = mid
		} else {
			other, to = mid, b
		}
	}
	return other, to
}

// best is the train with the least expected cost with the input at v.
func (d *Desk) best(dl dial, ts []train.Train, v float64) string {
	e := d.turned(dl, v)
	var rs []ranked
	for _, ev := range e.Work.EvaluateAll(ts) {
		if !ev.Fails {
			rs = append(rs, e.completed(ev, 0))
		}
	}
	refuge := e.refuge(rs)
	best, least := none, math.Inf(1)
	for i := range rs {
		if e.expect(&rs[i], refuge); rs[i].expected < least {
			best, least = rs[i].Train.String(), rs[i].expected
		}
	}
	return best
}

// none is said where no train in the running meets every limit.
const none = "none of these trains meets every limit"

// turned is the desk with the input of the likeliest water at v, and no other
// water beside it.
func (d *Desk) turned(dl dial, v float64) *Desk {
	draw := d.likeliest()
	dl.set(&draw, v)
	draw.Weight = 1
	e := *d
	e.Work = e.search(d.Work.Site, cloud.Cloud{Draws: []cloud.Draw{draw}}, d.Work.Want)
	return &e
}

func sayFlip(dl dial, now, at float64, to string) string {
	side := "above"
	if at < now {
		side = "below"
	}
	then := "first choice becomes " + strings.ReplaceAll(to, ",", " → ")
	if to == none {
		then = none
	}
	name, to2 := dl.name, func(v float64) string { return strings.TrimSpace(unit.Significant(v, 2) + " " + dl.unit) }
	if dl.unit == "pH" {
		name, to2 = "pH", func(v float64) string { return unit.Significant(v, 2) }
	}
	return fmt.Sprintf("%s %s about %s (now %s): %s", name, side, to2(at), to2(now), then)
}
