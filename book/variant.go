package book

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"wellwright/media"
)

// Variant is a what-if kept by name: what is asked otherwise than the book says. It
// changes no answer on the well itself.
type Variant struct {
	Name    string
	Changes map[string]string // inputs, with their value as typed
	Factors map[string]string
	Prices  map[string]string // by part, US dollars
	Train   []string          // process ids in flow order; nil: it is chosen
	Sizes   []VariantSize
	Note    string
	On      time.Time
	Entry   string
}

// VariantSize are figures of a stage's size, by leaf name.
type VariantSize struct {
	Stage   int // counted from 1
	Figures map[string]string
}

var variantFields = []field{
	required(text("name", "what it is called", "a larger filter", func(v *Variant) *string { return &v.Name })),
	texts("changes", "inputs of the water, the well, the house and the wishes", "{iron: 7, pump: 8 gpm}", func(v *Variant) *map[string]string { return &v.Changes }),
	stages("train", "stages in flow order; if not said, it is chosen", "[coated-sand-filter, softener]"),
	many("sizes", "figures of a stage's size asked for", "", variantSizeFields, nil, func(_ *reader, v *Variant, zs []VariantSize) { v.Sizes = zs }),
	texts("prices", "of parts, US dollars", "{labour hour: 110}", func(v *Variant) *map[string]string { return &v.Prices }),
	texts("factors", "your own values for this variant alone", "{softener_iron_allowance: 4}", func(v *Variant) *map[string]string { return &v.Factors }),
	text("note", "", "if the brother-in-law moves in", func(v *Variant) *string { return &v.Note }),
}

var variantSizeFields = []field{
	required(whole("stage", "its place in the train, from 1", "1", 1, 20, func(z *VariantSize, n int) { z.Stage = n })),
	texts("figures", "by leaf name, as answers print them", "{vessel_diameter_in: 12}", func(z *VariantSize) *map[string]string { return &z.Figures }),
}

// texts makes a field of any keys, each with a text.
func texts[B any](name, what, eg string, at func(*B) *map[string]string) field {
	return field{
		name: name, what: what, eg: eg, form: form{shape: Map, item: &form{}},
		read: func(r *reader, v Value, body any) bool {
			if v.Shape != Map {
				r.wrong(v, fmt.Sprintf("%q stands where keys belong", short(v)), "write "+eg)
				return false
			}
			all := map[string]string{}
			for _, p := range v.Pairs {
				if s, ok := r.text(p.Value); ok {
					all[p.Key] = s
				}
			}
			*at(body.(*B)) = all
			return len(all) > 0
		},
	}
}

// stages makes a field of processes in flow order.
func stages(name, what, eg string) field {
	return field{
		name: name, what: what, eg: eg, form: form{shape: List, item: &form{}, short: true},
		read: func(r *reader, v Value, body any) bool {
			var ids []string
			for _, item := range asList(v) {
				s, ok := r.text(item)
				if !ok {
					continue
				}
				p, err := media.ParseProcess(s)
				if err != nil {
					r.wrong(item, err.Error(), "")
					continue
				}
				ids = append(ids, string(p))
			}
			body.(*Variant).Train = ids
			return len(ids) > 0
		},
	}
}

func newVariant(r *reader) Variant { return Variant{On: r.e.On, Entry: r.e.ID} }

// keepVariant puts a variant in the place of an earlier one of its name.
func keepVariant(p *Present, v Variant) {
	var kept []Variant
	for _, old := range p.Variants {
		if fold(old.Name) != fold(v.Name) {
			kept = append(kept, old)
		}
	}
	p.Variants = append(kept, v)
}

func lastVariant(p *Present) *Variant {
	if len(p.Variants) == 0 {
		return nil
	}
	return &p.Variants[len(p.Variants)-1]
}

// Value is the section of a variant as it stands in a book.
func (v Variant) Value() Value {
	ps := []Pair{Under("name", v.Name)}
	ps = append(ps, under("changes", v.Changes)...)
	if len(v.Train) > 0 {
		var ids []Value
		for _, id := range v.Train {
			ids = append(ids, Words(id))
		}
		ps = append(ps, Pair{Key: "train", Value: Items(ids...)})
	}
	var sizes []Value
	for _, z := range v.Sizes {
		sizes = append(sizes, Fields(append([]Pair{Under("stage", fmt.Sprint(z.Stage))}, under("figures", z.Figures)...)...))
	}
	if len(sizes) > 0 {
		ps = append(ps, Pair{Key: "sizes", Value: Items(sizes...)})
	}
	ps = append(append(ps, under("prices", v.Prices)...), under("factors", v.Factors)...)
	if v.Note != "" {
		ps = append(ps, Under("note", v.Note))
	}
	return Fields(ps...)
}

// under is a key with sorted keys of its own; none if there are none.
func under(key string, m map[string]string) []Pair {
	if len(m) == 0 {
		return nil
	}
	var ps []Pair
	for _, k := range slices.Sorted(maps.Keys(m)) {
		ps = append(ps, Under(k, m[k]))
	}
	return []Pair{{Key: key, Value: Fields(ps...)}}
}
