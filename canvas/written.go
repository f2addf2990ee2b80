package canvas

// Written is one text of a drawing with the room it takes up, at most.
type Written struct {
	Words string
	Box   Box
	Group string // titles of the groups it stands in, outermost first
}

// Texts lists every text of a drawing in the order they were written, so that it
// can be seen whether any meets another or the edge.
func (d *Drawing) Texts() []Written { return written(d.items, "") }

func written(items []item, within string) []Written {
	var all []Written
	for _, i := range items {
		switch x := i.(type) {
		case text:
			all = append(all, Written{x.words, x.box(), within})
		case group:
			all = append(all, written(x.items, joinTitles(within, x.title))...)
		}
	}
	return all
}

func joinTitles(outer, inner string) string {
	if outer == "" || inner == "" {
		return outer + inner
	}
	return outer + ": " + inner
}

// Shares of the size that letters rise above their foot and hang below it: those
// of capitals, digits and tails in the faces asked for, at most.
const (
	risesBy = 0.74
	hangsBy = 0.22
)

// box is the room of a text.
func (t text) box() Box {
	w := t.Width(t.words)
	x := t.at.X
	switch t.Anchor {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return Box{X: x, Y: t.at.Y - risesBy*t.Size, W: w, H: (risesBy + hangsBy) * t.Size}
}

// Meets reports whether two boxes have room in common.
func (b Box) Meets(o Box) bool {
	return b.X < o.X+o.W && o.X < b.X+b.W && b.Y < o.Y+o.H && o.Y < b.Y+b.H
}

// Holds reports whether a box lies within b.
func (b Box) Holds(o Box) bool {
	return o.X >= b.X && o.Y >= b.Y && o.X+o.W <= b.X+b.W && o.Y+o.H <= b.Y+b.H
}
