package plan

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/unit"
	"wellwright/well"
)

// wish is what the owner wants or can do and what the place allows, as a what-if
// turns it: in the book's present state, not in the waters.
type wish struct {
	name  string
	unit  string   // of a figure; "" for words
	words []string // the words allowed, the first of them "not said" where that is one
	now   func(*book.Present) string
	set   func(*book.Present, string) error
}

// wishNamed finds a wish.
func wishNamed(name string) (*wish, bool) {
	for i := range wishes {
		if wishes[i].name == name {
			return &wishes[i], true
		}
	}
	return nil, false
}

// change reads a value for the wish, by setting it in a state of nothing.
func (x *wish) change(text string) (Change, error) {
	if err := x.set(&book.Present{}, text); err != nil {
		return Change{}, fmt.Errorf("%s: %w", x.name, err)
	}
	return Change{Name: x.name, Text: text, wish: x}, nil
}

// unsaid is the word for what nobody has said.
const unsaid = "not said"

// wishes are what a what-if may ask of owner and place.
var wishes = []wish{
	purse("budget", func(p *book.Present) **float64 { return &p.Wishes.Budget }),
	purse("yearly-budget", func(p *book.Present) **float64 { return &p.Wishes.YearlyBudget }),
	flag("no-salt", func(p *book.Present) *bool { return &p.Wishes.NoSalt }),
	flag("no-chemicals", func(p *book.Present) *bool { return &p.Wishes.NoChemicals }),
	unasked("soft-water", func(p *book.Present) **bool { return &p.Wishes.SoftWater }),
	{"iron-target", "mg/L", nil, ironTargetNow, setIronTarget},
	{"jurisdiction", "", nil, func(p *book.Present) string { return jurisdiction(*p) }, setJurisdiction},
	flag("low-sodium", func(p *book.Present) *bool { return &p.House.LowSodium }),
	flag("infants", func(p *book.Present) *bool { return &p.House.Infants }),
	unasked("carries-salt", func(p *book.Present) **bool { return &p.House.Owner.CarriesSalt }),
	unasked("handles-chemicals", func(p *book.Present) **bool { return &p.House.Owner.Chemicals }),
	unasked("reads-weekly", func(p *book.Present) **bool { return &p.House.Owner.Weekly }),
	unasked("outlet", func(p *book.Present) **bool { return &p.House.Room.Power }),
	unasked("vent-to-outside", func(p *book.Present) **bool { return &p.House.Room.VentOut }),
	unasked("frost", func(p *book.Present) **bool { return &p.House.Room.Frost }),
	{"room-height", "ft", nil, roomHeightNow, setRoomHeight},
	drain("backwash-allowed", func(d *well.Drain) **bool { return &d.Backwash }, func(r *well.Rules) **bool { return &r.BackwashToSeptic }),
	drain("brine-allowed", func(d *well.Drain) **bool { return &d.Brine }, func(r *well.Rules) **bool { return &r.BrineToSeptic }),
}

// purse is a sum of money; none: nothing was said.
func purse(name string, at func(*book.Present) **float64) wish {
	return wish{name, "USD", nil, func(p *book.Present) string {
		if v := *at(p); v != nil {
			return strconv.FormatFloat(*v, 'f', -1, 64)
		}
		return ""
	}, func(p *book.Present, text string) error {
		t := strings.ReplaceAll(strings.TrimPrefix(text, "$"), ",", "")
		if t == "" || t == unsaid {
			*at(p) = nil
			return nil
		}
		v, err := strconv.ParseFloat(t, 64)
		if err != nil || !(v >= 0 && v <= 1e6) {
			return fmt.Errorf("%q is not a sum from 0 to 1,000,000 US dollars", text)
		}
		*at(p) = &v
		return nil
	}}
}

// flag is yes or no.
func flag(name string, at func(*book.Present) *bool) wish {
	return wish{name, "", []string{"no", "yes"}, func(p *book.Present) string { return yesWord(*at(p)) },
		func(p *book.Present, text string) error {
			yes, err := readYes(text)
			if err == nil {
				*at(p) = yes != nil && *yes
			}
			return err
		}}
}

// unasked is yes, no or not said.
func unasked(name string, at func(*book.Present) **bool) wish {
	return wish{name, "", []string{unsaid, "yes", "no"}, func(p *book.Present) string { return saidWord(*at(p)) },
		func(p *book.Present, text string) error {
			yes, err := readYes(text)
			if err == nil {
				*at(p) = yes
			}
			return err
		}}
}

// drain is a permission of every drain and of the local rule alike.
func drain(name string, at func(*well.Drain) **bool, rule func(*well.Rules) **bool) wish {
	return wish{name, "", []string{unsaid, "yes", "no"}, func(p *book.Present) string {
		for i := range p.House.Drains {
			if v := *at(&p.House.Drains[i]); v != nil {
				return saidWord(v)
			}
		}
		return saidWord(*rule(&p.Rules))
	}, func(p *book.Present, text string) error {
		yes, err := readYes(text)
		if err != nil {
			return err
		}
		p.House.Drains = slices.Clone(p.House.Drains)
		for i := range p.House.Drains {
			*at(&p.House.Drains[i]) = yes
		}
		*rule(&p.Rules) = yes
		return nil
	}}
}

func yesWord(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

func saidWord(v *bool) string {
	if v == nil {
		return unsaid
	}
	return yesWord(*v)
}

func readYes(text string) (*bool, error) {
	yes, no := true, false
	switch strings.ToLower(text) {
	case "yes", "y", "true":
		return &yes, nil
	case "no", "n", "false":
		return &no, nil
	case unsaid, "":
		return nil, nil
	}
	return nil, fmt.Errorf("%q is neither yes nor no", text)
}

func ironTargetNow(p *book.Present) string {
	if t := p.Wishes.IronTarget; t != nil {
		return unit.Digits(t.MgPerL())
	}
	return ""
}

func setIronTarget(p *book.Present, text string) error {
	if text == "" || text == unsaid {
		p.Wishes.IronTarget = nil
		return nil
	}
	v, err := number(text)
	if err != nil || !(v >= 0.01 && v <= 5) {
		return fmt.Errorf("%q is no aim for iron; write 0.01 to 5 mg/L", text)
	}
	c := unit.MgPerL(v)
	p.Wishes.IronTarget = &c
	return nil
}

// place is how a jurisdiction is written: a country, or a state of it.
var place = regexp.MustCompile(`^(WHO|[A-Z]{2,3}(-[A-Z]{2,3})?)$`)

func setJurisdiction(p *book.Present, text string) error {
	at := strings.ToUpper(text)
	if !place.MatchString(at) {
		return fmt.Errorf("%q is no jurisdiction; write US, CA, WHO, EU, or US-MA and the like", text)
	}
	p.Wishes.Jurisdiction = at
	return nil
}

func roomHeightNow(p *book.Present) string {
	if h := p.House.Room.Height; h != nil {
		return unit.Digits(h.Ft())
	}
	return ""
}

func setRoomHeight(p *book.Present, text string) error {
	if text == "" || text == unsaid {
		p.House.Room.Height = nil
		return nil
	}
	v, err := quantityIn(func(t string) (float64, error) {
		var l unit.Length
		err := l.UnmarshalText([]byte(t))
		return l.Ft(), err
	})(text)
	if err != nil || !(v >= 2 && v <= 40) {
		return fmt.Errorf("%q is no height of a room; write 2 to 40 ft", text)
	}
	l := unit.Ft(v)
	p.House.Room.Height = &l
	return nil
}
