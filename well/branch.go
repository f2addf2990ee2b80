package well

import "wellwright/unit"

// Branch is a part of the plumbing that draws by itself: a milking parlour, cow
// drinkers, a second dwelling.
type Branch struct {
	Name    string
	Peak    *unit.Flow // its own highest flow
	Use     *unit.Flow // mean of the year
	Treated *bool      // no: taken off ahead of the treatment; nil: not said, treated
	Night   *bool      // draws in the quiet hours too; nil: not said, it does
	Remarks string
}

// Raw reports whether the branch is taken off ahead of the treatment.
func (b Branch) Raw() bool { return b.Treated != nil && !*b.Treated }

// RawNames lists the branches taken off ahead of the treatment.
func (h House) RawNames() []string {
	names := append([]string{}, h.TakenOff...)
	for _, b := range h.Branches {
		if b.Raw() {
			names = append(names, b.Name)
		}
	}
	return names
}

// Drawn is what a group of branches draws.
type Drawn struct {
	Peak  unit.Flow // all at once
	Use   unit.Flow // mean of the year
	Night unit.Flow // of the peak, what may also be drawn in the quiet hours
}

// RawDrawn adds up what is known of the branches ahead of the treatment: pump and
// well carry it, the treatment does not.
func (h House) RawDrawn() Drawn { return h.drawn(Branch.Raw) }

// TreatedDrawn adds up the branches behind the treatment, as far as they were given
// a flow of their own.
func (h House) TreatedDrawn() Drawn { return h.drawn(func(b Branch) bool { return !b.Raw() }) }

func (h House) drawn(counts func(Branch) bool) Drawn {
	var peak, use, night float64
	for _, b := range h.Branches {
		if !counts(b) {
			continue
		}
		if b.Use != nil {
			use += b.Use.GPM()
		}
		if b.Peak == nil {
			continue
		}
		peak += b.Peak.GPM()
		if b.Night == nil || *b.Night {
			night += b.Peak.GPM()
		}
	}
	return Drawn{Peak: unit.GPM(peak), Use: unit.GPM(use), Night: unit.GPM(night)}
}

// LeavingRaw returns the house with one more branch taken off ahead of the
// treatment.
func (h House) LeavingRaw(name string) House {
	no := false
	all := append([]Branch{}, h.Branches...)
	for i := range all {
		if all[i].Name == name {
			all[i].Treated = &no
		}
	}
	h.Branches = all
	return h
}
