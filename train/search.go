package train

import (
	"runtime"
	"sort"
	"sync"

	"wellwright/media"
	"wellwright/stage"
)

// Found is the outcome of a search.
type Found struct {
	Considered int            // lawful trains, finished or cut short
	Cut        map[string]int // trains pruned, by the first limit or order rule
	Trains     []Evaluation   // finished trains in which some water meets every limit
}

// Search enumerates the lawful trains, sharing the beginnings, and gives up a
// beginning only when every spread draw has met a hard limit on the way.
func (w *Work) Search() Found {
	start := newFound()
	parts := w.split(node{carried: w.start()}, &start)
	results := make([]Found, len(parts))
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				results[i] = newFound()
				w.explore(parts[i], &results[i])
			}
		}()
	}
	for i := range parts {
		next <- i
	}
	close(next)
	wg.Wait()
	return merge(append(results, start))
}

// node is a train so far and the next place of the grammar to fill.
type node struct {
	*carried
	place int
}

func newFound() Found { return Found{Cut: map[string]int{}} }

// split grows the root until there is work enough for every processor.
func (w *Work) split(root node, f *Found) []node {
	level := []node{root}
	for range 5 {
		var grown []node
		for _, n := range level {
			grown = append(grown, w.grow(n, f)...)
		}
		level = grown
	}
	return level
}

// explore grows a node to the end of the grammar, depth first.
func (w *Work) explore(n node, f *Found) {
	if n.place == len(grammar) {
		w.close(n, f)
		return
	}
	for _, m := range w.grow(n, f) {
		w.explore(m, f)
	}
}

// grow returns the node with the next place left empty and with each of its
// processes that has a purpose and breaks no rule of order; none of those that lack
// what no later place offers.
func (w *Work) grow(n node, f *Found) []node {
	if n.place == len(grammar) {
		return []node{n}
	}
	q := n.quest()
	var grown []node
	if r, broken := tooLate(n.so, n.place+1, q); broken {
		f.count(r.ID)
	} else {
		skip := n
		skip.place++
		grown = append(grown, skip)
	}
	for _, ch := range grammar[n.place].choices {
		if ch.purpose(q) {
			grown = append(grown, w.attach(n, ch.process, q, f)...)
		}
	}
	return grown
}

// attach adds a process to a node unless order, now or however the train goes on, or
// every water forbids it.
func (w *Work) attach(n node, p media.Process, q quest, f *Found) []node {
	t := append(append(Train{}, q.so...), p)
	r, broken := unlawful(t, q)
	if !broken {
		r, broken = tooLate(t, n.place+1, q)
	}
	if broken {
		f.count(r.ID)
		return nil
	}
	next, err := n.add(p, nil)
	if err != nil {
		return nil
	}
	var grown []node
	for _, c := range next {
		if len(c.mine) == 0 {
			f.cutShort(c)
			continue
		}
		grown = append(grown, node{carried: c, place: n.place + 1})
	}
	return grown
}

// count notes one train pruned by a limit or rule.
func (f *Found) count(id string) {
	f.Considered++
	f.Cut[id]++
}

// cutShort notes a beginning in which every draw has failed.
func (f *Found) cutShort(c *carried) {
	l, broken := stage.FirstHard(c.last().Outcomes[c.lead].Limits)
	for i := 0; !broken && i < len(c.state); i++ {
		l, broken = stage.FirstHard(c.last().Outcomes[i].Limits)
	}
	f.count(l.ID)
}

// close finishes a train and files it, if some draw meets every limit in it: of
// those carried, else of the rest.
func (w *Work) close(n node, f *Found) {
	if len(n.links) == 0 {
		return
	}
	if r, broken := incomplete(n.so, n.quest()); broken {
		f.count(r.ID)
		return
	}
	e := n.finish(n.mine)
	for i := 0; e.Meets == 0 && i < len(w.Draws); i++ {
		if n.carry(i, false); n.at(i) == living && e.Limits[i] == nil {
			e = n.finish([]int{i})
		}
	}
	if e.Meets == 0 {
		f.count(e.First.ID)
		return
	}
	f.Considered++
	f.Trains = append(f.Trains, e)
}

func merge(parts []Found) Found {
	all := newFound()
	for _, p := range parts {
		all.Considered += p.Considered
		for id, n := range p.Cut {
			all.Cut[id] += n
		}
		all.Trains = append(all.Trains, p.Trains...)
	}
	sort.SliceStable(all.Trains, func(i, k int) bool { return all.Trains[i].Train.String() < all.Trains[k].Train.String() })
	return all
}
