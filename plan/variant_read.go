package plan

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
)

// Mistake is something asked that cannot be: where it was asked, and what would be
// right.
type Mistake struct {
	At  string // input, "factor NAME", "price PART", "train", or "size STAGE LEAF"
	Say string
}

// Error says what is wrong.
func (m Mistake) Error() string { return m.Say }

// ReadVariant reads a variant as it is kept in a book. Every mistake is returned.
func ReadVariant(b book.Variant) (Variant, []Mistake) {
	r := &variantReader{}
	r.changes(b.Changes)
	r.train(b.Train)
	r.sizes(b.Sizes)
	r.prices(b.Prices)
	r.factors(b.Factors)
	if len(r.wrong) == 0 {
		for _, err := range r.v.Check() {
			r.add("train", err)
		}
	}
	return r.v, r.wrong
}

// variantReader gathers a variant and its mistakes.
type variantReader struct {
	v     Variant
	wrong []Mistake
}

func (r *variantReader) add(at string, err error) {
	r.wrong = append(r.wrong, Mistake{at, err.Error()})
}

func (r *variantReader) changes(m map[string]string) {
	for _, name := range slices.Sorted(maps.Keys(m)) {
		c, err := parseChange(name + "=" + m[name])
		if err != nil {
			r.add(name, err)
			continue
		}
		r.v.Changes = append(r.v.Changes, c)
	}
}

func (r *variantReader) train(ids []string) {
	for _, id := range ids {
		p, err := media.ParseProcess(id)
		if err == nil {
			err = stands(p)
		}
		if err != nil {
			r.add("train", err)
			continue
		}
		r.v.Train = append(r.v.Train, p)
	}
}

func (r *variantReader) sizes(zs []book.VariantSize) {
	for _, z := range zs {
		for _, leaf := range slices.Sorted(maps.Keys(z.Figures)) {
			at := fmt.Sprintf("size %d %s", z.Stage, leaf)
			v, err := strconv.ParseFloat(strings.TrimSpace(z.Figures[leaf]), 64)
			if err != nil {
				r.add(at, fmt.Errorf("%q is not a number", z.Figures[leaf]))
				continue
			}
			if r.v.Train != nil && z.Stage <= len(r.v.Train) && z.Stage > 0 {
				if bad := (stage.Given{leaf: v}).Check(r.v.Train[z.Stage-1]); len(bad) > 0 {
					r.add(at, errors.Join(bad...))
					continue
				}
			}
			r.give(z.Stage-1, leaf, v)
		}
	}
}

func (r *variantReader) give(at int, leaf string, v float64) {
	if r.v.Sizes == nil {
		r.v.Sizes = train.Given{}
	}
	if r.v.Sizes[at] == nil {
		r.v.Sizes[at] = stage.Given{}
	}
	r.v.Sizes[at][leaf] = v
}

func (r *variantReader) prices(m map[string]string) {
	for _, part := range slices.Sorted(maps.Keys(m)) {
		text := strings.ReplaceAll(strings.TrimPrefix(strings.TrimSpace(m[part]), "$"), ",", "")
		v, err := strconv.ParseFloat(text, 64)
		if err == nil {
			err = errors.Join(Variant{Prices: map[media.Part]float64{media.Part(part): v}}.checkPrices()...)
		} else {
			err = fmt.Errorf("%s: %q is not a price in US dollars", part, m[part])
		}
		if err != nil {
			r.add("price "+part, err)
			continue
		}
		if r.v.Prices == nil {
			r.v.Prices = map[media.Part]float64{}
		}
		r.v.Prices[media.Part(part)] = v
	}
}

func (r *variantReader) factors(m map[string]string) {
	for _, name := range slices.Sorted(maps.Keys(m)) {
		v, err := strconv.ParseFloat(strings.TrimSpace(m[name]), 64)
		if err != nil {
			err = fmt.Errorf("%s: %q is not a number", name, m[name])
		}
		own := map[string]source.Override{name: {Value: v, Why: "asked in a what-if"}}
		if err == nil {
			err = errors.Join(Variant{Own: own}.checkOwn()...)
		}
		if err != nil {
			r.add("factor "+name, err)
			continue
		}
		if r.v.Own == nil {
			r.v.Own = map[string]source.Override{}
		}
		r.v.Own[name] = own[name]
	}
}

// Input is something that a what-if may turn, with what it is now.
type Input struct {
	Name  string
	Group string   // Water, Well and pump, House, Wishes, Place
	Unit  string   // "" for words
	Words []string // the words allowed; nil: a figure
	Now   string   // as it is typed; "" where nothing was said
	Value float64  // of a figure

	Assumed bool // nobody measured or said it
}

// Turnable lists what a what-if may turn, with its present value: the likeliest of
// the water and the supply, and what was said of house and wishes.
func (d *Desk) Turnable() []Input {
	var in []Input
	likeliest, assumed := d.likeliest(), d.assumedInputs()
	for _, x := range dials {
		v := x.now(likeliest)
		if x.name == people {
			v = d.people()
		}
		in = append(in, Input{Name: x.name, Group: groupOf(x.name), Unit: x.unit, Now: shortly(v), Value: v, Assumed: assumed(x.name)})
	}
	for _, w := range wishes {
		in = append(in, Input{Name: w.name, Group: groupOf(w.name), Unit: w.unit, Words: w.words, Now: w.now(&d.Present)})
	}
	return in
}

// assumedInputs tells of an input whether it was assumed, by the leaf names of the
// waters and of what was assumed of the supply.
func (d *Desk) assumedInputs() func(name string) bool {
	leaves := d.assumedNames()
	for _, a := range d.Cloud.Assumed {
		leaves[a.Name] = true
	}
	return func(name string) bool {
		switch name {
		case "iron":
			name = "iron_total"
		case "ferrous", "particulate", "bound":
			name = "iron_" + name
		}
		name = strings.ReplaceAll(name, "-", "_")
		for leaf, assumed := range leaves {
			if assumed && (leaf == name || strings.HasPrefix(leaf, name+"_")) {
				return true
			}
		}
		return false
	}
}

// shortly writes a value to three figures, without a power of ten.
func shortly(v float64) string { return strconv.FormatFloat(roundTo(v, 3), 'f', -1, 64) }

// groupOf is the heading under which an input is asked.
func groupOf(name string) string {
	switch name {
	case "pump", "yield", "cut-in", "casing-storage", "pressure-tank":
		return "Well and pump"
	case "peak", "daily", people, "infants", "low-sodium", "carries-salt", "handles-chemicals", "reads-weekly", "outlet", "vent-to-outside", "frost", "room-height":
		return "House"
	case "budget", "yearly-budget", "no-salt", "no-chemicals", "soft-water", "iron-target":
		return "Wishes"
	case "jurisdiction", "backwash-allowed", "brine-allowed":
		return "Place"
	}
	return "Water"
}
