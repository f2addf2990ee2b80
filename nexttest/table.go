// Package nexttest works out what each further test would change in the choice
// for one well, and what that is worth. It simulates every result that might come
// of a test in the plausible wells, learns what one would decide on seeing it, and
// values that by the loss it avoids.
package nexttest

import "wellwright/cost"

// Decision is one thing that may be done about the well.
type Decision struct {
	ID    string // train and variant, such as "softener" or "chlorine-feed,contact-tank/large-feed"
	Words string // what is done, in the words of the trade
}

// Table is the loss of every decision in every draw of a cloud whose draws are of
// equal weight. The zero Table holds nothing.
type Table struct {
	Decisions []Decision
	draws     int
	loss      []float64 // US dollars, draw by draw, decisions side by side
}

// NewTable makes a table of no loss.
func NewTable(decisions []Decision, draws int) *Table {
	return &Table{Decisions: decisions, draws: draws, loss: make([]float64, draws*len(decisions))}
}

// Draws is how many draws the table has.
func (t *Table) Draws() int { return t.draws }

// Set writes the loss of one decision in one draw.
func (t *Table) Set(draw, decision int, loss cost.Money) {
	t.loss[draw*len(t.Decisions)+decision] = loss.USD()
}

// Loss reads the loss of one decision in one draw.
func (t *Table) Loss(draw, decision int) cost.Money {
	return cost.USD(t.loss[draw*len(t.Decisions)+decision])
}

// row is the losses of one draw.
func (t *Table) row(draw int) []float64 {
	n := len(t.Decisions)
	return t.loss[draw*n : (draw+1)*n]
}

// Mean is the expected loss of a decision.
func (t *Table) Mean(decision int) cost.Money { return cost.USD(t.means()[decision]) }

func (t *Table) means() []float64 {
	sums := make([]float64, len(t.Decisions))
	for i := range t.draws {
		for d, l := range t.row(i) {
			sums[d] += l
		}
	}
	for d := range sums {
		sums[d] /= float64(t.draws)
	}
	return sums
}

// Best is the decision of least expected loss, the first of equals.
func (t *Table) Best() int {
	best, means := 0, t.means()
	for d, m := range means {
		if m < means[best] {
			best = d
		}
	}
	return best
}

// Perfect is what it would be worth to know the draw itself: no test is worth
// more.
//
//	EVPI = min_d mean L(i,d) − mean min_d L(i,d)
//
//	L(i,d)  loss of decision d in draw i, US dollars
//
// Range: draws of equal weight. Error: that of the draws; the least of the means
// is a little low and the mean of the leasts exact, so it is a little low.
// Source: Raiffa and Schlaifer, Applied Statistical Decision Theory (1961), 4.5
// (from memory; text not seen).
func (t *Table) Perfect() cost.Money {
	if t.draws == 0 || len(t.Decisions) == 0 {
		return cost.Money{}
	}
	least := 0.0
	for i := range t.draws {
		least += lowest(t.row(i))
	}
	return cost.USD(lowest(t.means()) - least/float64(t.draws))
}

func lowest(vs []float64) float64 {
	least := vs[0]
	for _, v := range vs[1:] {
		least = min(least, v)
	}
	return least
}
