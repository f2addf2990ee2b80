package labfile

import (
	"fmt"
	"math"
	"strings"

	"wellwright/water"
)

// settle brings the results of one analyte and fraction together. One figure
// printed on two bases is kept once, on the basis used here, with the other in
// its note. Two figures on one basis are both kept: they are two analyses.
func (r *reader) settle(h *half, site string) {
	var kept half
	for i, res := range h.results {
		l := h.lines[i]
		j := sameThing(kept.results, res)
		switch {
		case j < 0 || basis(kept.results[j]) == basis(res) && !alike(kept.results[j], res):
			if j >= 0 {
				r.say("two-results", Notice, l.spot(site), fmt.Sprintf("%s: a second figure beside line %d; both are kept", l.Received, kept.lines[j].Place.Line), "")
			}
			kept.results, kept.lines = append(kept.results, res), append(kept.lines, l)
		case basis(kept.results[j]) == basis(res):
			r.say("twice", Notice, l.spot(site), fmt.Sprintf("%s stands already on line %d", l.Received, kept.lines[j].Place.Line), "")
		default:
			r.oneBasis(&kept, j, res, l, site)
		}
	}
	h.results, h.lines = kept.results, kept.lines
}

// oneBasis keeps the better of two figures that are one analysis, and notes the
// other beside it.
func (r *reader) oneBasis(kept *half, j int, res water.Result, l Line, site string) {
	if rank(res) < rank(kept.results[j]) {
		kept.results[j], res = res, kept.results[j]
		kept.lines[j], l = l, kept.lines[j]
	}
	if !agree(kept.results[j], res) {
		r.say("two-bases", Notice, l.spot(site), fmt.Sprintf("%s does not agree with %s on line %d, which is kept", l.Received, kept.lines[j].Received, kept.lines[j].Place.Line),
			"look at the received file: one of the two bases may be wrong")
	}
	kept.results[j].Note = one("; ", kept.results[j].Note, "also printed as "+one(" ", l.Figure, res.Unit, res.Basis))
}

func (l Line) spot(site string) spot { return spot{l.Place.Line, l.Cell, site} }

// sameThing finds a result for the analyte and fraction of res; the last one, so
// that a third figure stands beside the second.
func sameThing(all []water.Result, res water.Result) int {
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].Analyte == res.Analyte && all[i].Fraction == res.Fraction {
			return i
		}
	}
	return -1
}

// basis is how a result is expressed: its unit, with its basis.
func basis(r water.Result) string {
	u := strings.ReplaceAll(folded(r.Unit+r.Basis), " ", "")
	return strings.NewReplacer("as", "", "mg/l", "", "ug/l", "").Replace(u)
}

// rank orders two ways to express one thing: the basis kept here first, then a
// mass in a litre, then the rest.
func rank(r water.Result) int {
	u := folded(r.Unit + " " + r.Basis)
	want := strings.Fields(strings.ToLower(r.Analyte.Unit()))
	own := want[len(want)-1] // "mg/l as n": n
	switch {
	case strings.HasSuffix(u, " as "+own), strings.HasSuffix(u, "as"+own):
		return 0
	case strings.HasSuffix(u, " "+own):
		return 1
	case strings.Contains(u, "g/l"):
		return 2
	}
	return 3
}

// alike reports whether two results say the same.
func alike(a, b water.Result) bool {
	return a.Sign == b.Sign && a.Value == b.Value && folded(a.Unit) == folded(b.Unit)
}

// apart is how far two roundings of one figure may lie from each other. Kind:
// common practice: a tenth, and for small figures one step of the last digit.
const apart = 0.1

// agree reports whether two figures can be one analysis on two bases.
func agree(a, b water.Result) bool {
	x, errX := a.Amount()
	y, errY := b.Amount()
	if errX != nil || errY != nil || x.Sign == water.Below && y.Sign == water.Below {
		return true // two limits need not be one limit
	}
	if x.Sign != y.Sign {
		return false
	}
	p, _ := x.Canonical()
	q, _ := y.Canonical()
	return math.Abs(p-q) <= apart*math.Max(math.Abs(p), math.Abs(q))+step(a, p)/2+step(b, q)/2
}

// step is one unit in the last printed digit of a figure, in canonical units. A
// figure that lost its closing zeros seems coarser than it is, which is safe.
func step(r water.Result, canonical float64) float64 {
	if r.Value == 0 {
		return 0
	}
	digit := 1.0
	for range 12 {
		if scaled := r.Value / digit; math.Abs(scaled-math.Round(scaled)) < 1e-9*math.Max(1, math.Abs(scaled)) {
			break
		}
		digit /= 10
	}
	return math.Abs(canonical / r.Value * digit)
}
