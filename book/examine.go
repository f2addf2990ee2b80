package book

import (
	"strconv"
)

// Placed is a finding on an entry that stands in no file yet, with the key that
// it is about.
type Placed struct {
	// Path leads to the key from the top of the entry: "well/pump/power",
	// "signs/0/sign", "readings/results/ferrous iron", "date". Items of a list are
	// counted from none. "" is the entry as a whole.
	Path string
	Finding
}

// Examine reads an entry by itself, before it is added, and says what is wrong
// under which key. What only the book beside it can tell, such as a date before
// that of the entry it corrects, is for [Add] to say.
func Examine(e NewEntry) []Placed {
	if e.ID == "" {
		e.ID = "1"
	}
	n := &numbered{at: map[int]spot{}}
	_, found := readEntry("", n.value(e.value(), headForm(), ""))
	out := make([]Placed, 0, len(found))
	for _, f := range found {
		path := n.at[f.Place.Line].of(f)
		f.Place.Line = 0
		out = append(out, Placed{Path: path, Finding: f})
	}
	return out
}

// headForm is the form of a whole entry.
func headForm() form { return form{shape: Map, fields: headFields} }

// numbered gives each value a line of its own, so that a finding leads back to
// the key that it is about.
type numbered struct{ at map[int]spot }

// spot is where a line leads.
type spot struct {
	path string
	form form
}

// of is the path of a finding. One on a key that is missing stands on its
// section, and leads to the key itself.
func (s spot) of(f Finding) string {
	for _, under := range s.form.fields {
		if read, _ := under.absent(); under.need && read == f.Read {
			return joined(s.path, under.name)
		}
	}
	return s.path
}

func joined(path, name string) string {
	if path == "" {
		return name
	}
	return path + "/" + name
}

// value numbers v, which has a form, and all below it.
func (n *numbered) value(v Value, f form, path string) Value {
	v.Line = len(n.at) + 1
	items := f
	if f.shape == List && v.Shape != List && f.item != nil {
		f = *f.item // one item without its list
	}
	n.at[v.Line] = spot{path, f}
	out := v
	out.List, out.Pairs = nil, nil
	for i, item := range v.List {
		out.List = append(out.List, n.value(item, items.under(), joined(path, strconv.Itoa(i))))
	}
	for _, p := range v.Pairs {
		name, under := f.named(p.Key)
		p.Value = n.value(p.Value, under, joined(path, name))
		p.Line = p.Value.Line
		out.Pairs = append(out.Pairs, p)
	}
	return out
}

// under is the form of an item.
func (f form) under() form {
	if f.item == nil {
		return form{}
	}
	return *f.item
}

// named is the form under a key, and the key as the table spells it.
func (f form) named(key string) (string, form) {
	for _, one := range f.fields {
		if one.is(key) {
			return one.name, one.form
		}
	}
	if f.fields == nil {
		return key, f.under()
	}
	return key, form{}
}
