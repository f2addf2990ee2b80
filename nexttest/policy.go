package nexttest

import "math"

// A policy says what to decide on each reading. It is a tree: a node looks at one
// part of the reading, cuts its range into spans of one decision each, and may look
// at another part within a span. The cut of one part is the exact best of all
// cuts, with a toll for each change of decision; this keeps steps as steps (a
// pump too small, a yield too low), needs no shape to be assumed, and takes yes
// and no, figures and "below the limit" alike. Nearest neighbours were turned down
// because they lose sharpness with each part added, and a fitted curve because
// losses leap.
type policy struct {
	decision int
	part     int      // looked at here
	child    []int8   // by class, which branch
	branches []policy // none: the decision holds whatever is read
}

// decide returns the decision for draw i.
func (p *policy) decide(ss []scale, i int) int {
	for len(p.branches) > 0 {
		p = &p.branches[p.child[ss[p.part].of[i]]]
	}
	return p.decision
}

const (
	depthMost  = 3   // parts looked at one within another
	nodeHolds  = 100 // draws below which no further cut is tried
	spanHolds  = 15  // draws below which a span does not get its own decision
	someErrors = 1.0 // standard errors by which a span's decision must beat the one it replaces, and the toll of a change in those of the class it is made in
	sureErrors = 2.0 // the same for a policy that is shown
)

// learner fits policies to a table.
type learner struct {
	t  *Table
	ss []scale

	errors float64   // standard errors by which a change must pay
	lesson *lesson   // of the policy being learnt
	byFold []float64 // at the root, by part, fold, class and decision: summed once for all lessons
	inFold []int

	sums   []float64 // by class and decision; loss over what stands
	counts []int
	drop   []float64 // of the dynamic programme, by class and decision
	from   []int16
}

// lesson is the draws that a policy is learnt from: all but those of one fold.
type lesson struct {
	members []int
	without int       // the fold left out
	spread  []float64 // of each decision's loss over that of today's, in these draws
}

func newLearner(t *Table, ss []scale) *learner {
	n := len(t.Decisions)
	return &learner{t: t, ss: ss, errors: someErrors, sums: make([]float64, mostClasses*n),
		counts: make([]int, mostClasses), drop: make([]float64, mostClasses*n), from: make([]int16, mostClasses*n)}
}

// learn fits a policy to a lesson, given what would be decided without a look.
func (l *learner) learn(from *lesson, stands int) policy {
	l.lesson = from
	return l.node(from.members, stands, 0, 0)
}

// node fits a policy to some draws of the lesson.
func (l *learner) node(members []int, stands, depth int, used uint64) policy {
	leaf := policy{decision: stands}
	if depth == depthMost || len(members) < nodeHolds {
		return leaf
	}
	spread := l.lesson.spread
	if depth > 0 {
		spread = l.t.spread(members, stands)
	}
	part, best := -1, 0.0
	var cut []int
	for k := range l.ss {
		if used&(1<<k) != 0 || l.ss[k].count < 2 {
			continue
		}
		l.fill(members, k, stands, depth)
		if c, gain := l.cut(l.ss[k].count, stands, spread); gain > best+1e-9 {
			part, best, cut = k, gain, c
		}
	}
	if part < 0 {
		return leaf
	}
	return l.branch(members, part, cut, depth, used|1<<part)
}

// branch makes a node of the spans of one part and looks further within each.
func (l *learner) branch(members []int, part int, cut []int, depth int, used uint64) policy {
	p := policy{part: part, child: make([]int8, len(cut))}
	var decisions []int
	for c, d := range cut {
		if c == 0 || d != cut[c-1] {
			decisions = append(decisions, d)
		}
		p.child[c] = int8(len(decisions) - 1)
	}
	p.branches = make([]policy, len(decisions))
	for b, part := range parted(members, l.ss[part].of, p.child, len(decisions)) {
		p.branches[b] = l.node(part, decisions[b], depth+1, used)
	}
	return p
}

// parted deals draws out to branches.
func parted(members []int, of []uint8, child []int8, branches int) [][]int {
	counts := make([]int, branches)
	for _, i := range members {
		counts[child[of[i]]]++
	}
	all, parts := make([]int, len(members)), make([][]int, branches)
	at := 0
	for b, n := range counts {
		parts[b] = all[at : at : at+n]
		at += n
	}
	for _, i := range members {
		b := child[of[i]]
		parts[b] = append(parts[b], i)
	}
	return parts
}

// spread is the standard deviation of each decision's loss over that of what
// stands.
func (t *Table) spread(members []int, stands int) []float64 {
	n := len(t.Decisions)
	mean, square := make([]float64, n), make([]float64, n)
	for _, i := range members {
		row := t.row(i)
		for d, v := range row {
			x := v - row[stands]
			mean[d] += x
			square[d] += x * x
		}
	}
	m := float64(len(members))
	for d := range square {
		square[d] = math.Sqrt(max(0, square[d]/m-mean[d]/m*mean[d]/m))
	}
	return square
}

// cut returns the best decision for each class of one part, and what it saves in
// all over the one that stands.
func (l *learner) cut(classes, stands int, spread []float64) ([]int, float64) {
	cut := l.cheapestPath(classes, stands, spread)
	return l.sure(cut, stands, spread)
}

// fill sums the losses over what stands, by class of one part.
func (l *learner) fill(members []int, part, stands, depth int) {
	n := len(l.t.Decisions)
	clear(l.sums)
	clear(l.counts)
	if depth == 0 && l.byFold != nil {
		l.fromFolds(part)
	} else {
		of := l.ss[part].of
		for _, i := range members {
			c := int(of[i])
			plus(l.sums[c*n:(c+1)*n], l.t.row(i))
			l.counts[c]++
		}
	}
	for c := range l.ss[part].count {
		sums := l.sums[c*n : (c+1)*n]
		base := sums[stands]
		for d := range sums {
			sums[d] -= base
		}
	}
}

// fold sums the losses of every draw by part, fold and class.
func (l *learner) fold(of []int) {
	n := len(l.t.Decisions)
	if l.byFold == nil {
		l.byFold = make([]float64, len(l.ss)*folds*mostClasses*n)
		l.inFold = make([]int, len(l.ss)*folds*mostClasses)
	}
	clear(l.byFold)
	clear(l.inFold)
	for k := range l.ss {
		for i, f := range of {
			at := (k*folds+f)*mostClasses + int(l.ss[k].of[i])
			plus(l.byFold[at*n:(at+1)*n], l.t.row(i))
			l.inFold[at]++
		}
	}
}

// fromFolds joins the folds of the lesson.
func (l *learner) fromFolds(part int) {
	n, classes := len(l.t.Decisions), l.ss[part].count
	for f := range folds {
		if f == l.lesson.without {
			continue
		}
		at := (part*folds + f) * mostClasses
		plus(l.sums[:classes*n], l.byFold[at*n:(at+classes)*n])
		for c := range classes {
			l.counts[c] += l.inFold[at+c]
		}
	}
}

// plus adds each of b to each of a.
func plus(a, b []float64) {
	a = a[:len(b)]
	for d, v := range b {
		a[d] += v
	}
}

// cheapestPath goes through the classes in order and pays a toll to change to a
// decision other than the one that stands.
//
//	V(c,d) = S(c,d) + min(V(c−1,d), min_e V(c−1,e) + toll(d))
//
//	S(c,d)  loss of decision d over the one that stands, summed over class c
func (l *learner) cheapestPath(classes, stands int, spread []float64) []int {
	n := len(l.t.Decisions)
	for c := range classes {
		root := math.Sqrt(float64(l.counts[c]))
		cheapest := 0
		if c > 0 {
			cheapest = leastOf(l.drop[(c-1)*n : c*n])
		}
		for d := range n {
			toll := l.errors * spread[d] * root
			if d == stands {
				toll = 0
			}
			v, from := toll, d
			if c > 0 {
				stay := l.drop[(c-1)*n+d]
				v, from = l.drop[(c-1)*n+cheapest]+toll, cheapest
				if stay <= v {
					v, from = stay, d
				}
			}
			l.drop[c*n+d] = v + l.sums[c*n+d]
			l.from[c*n+d] = int16(from)
		}
	}
	cut := make([]int, classes)
	d := leastOf(l.drop[(classes-1)*n : classes*n])
	for c := classes - 1; c >= 0; c-- {
		cut[c] = d
		d = int(l.from[c*n+d])
	}
	return cut
}

func leastOf(vs []float64) int {
	best := 0
	for d, v := range vs {
		if v < vs[best] {
			best = d
		}
	}
	return best
}

// sure gives a span back to the decision that stands unless its own is better by
// more than chance, and returns what the rest saves.
func (l *learner) sure(cut []int, stands int, spread []float64) ([]int, float64) {
	n, gain := len(l.t.Decisions), 0.0
	for from := 0; from < len(cut); {
		to, d := from, cut[from]
		sum, count := 0.0, 0
		for ; to < len(cut) && cut[to] == d; to++ {
			sum += l.sums[to*n+d]
			count += l.counts[to]
		}
		if d != stands && (count < spanHolds || -sum < l.errors*spread[d]*math.Sqrt(float64(count))) {
			for c := from; c < to; c++ {
				cut[c] = stands
			}
		} else {
			gain -= sum
		}
		from = to
	}
	return cut, gain
}
