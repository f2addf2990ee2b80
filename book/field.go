package book

import (
	"encoding"
	"fmt"
	"strconv"
	"strings"
	"time"

	"wellwright/unit"
)

// field is one key of a section: what it means, how it is written, and how it
// is read into a body. The reader, the template and the schema all use it.
type field struct {
	name string
	what string // in a few words, for the template and for editors
	eg   string // an example of the value, in YAML on one line
	need bool
	also string // an older spelling that is still read; "" for none
	free bool   // any words at all
	form form
	read func(r *reader, v Value, body any) bool // false: nothing could be read
}

// form is the shape of a value.
type form struct {
	shape  Shape
	words  []string // the only words allowed, if any
	number bool     // a bare number
	fields []field  // of a Map; nil: any key
	item   *form    // of a List, or of each value of a Map with any key
	short  bool     // a List or Map may also be written as one text
}

// quantityIn is a pointer to a quantity that reads a number with its unit.
type quantityIn[Q any] interface {
	*Q
	encoding.TextUnmarshaler
}

// scalar makes a field whose value is one text read by parse.
func scalar[B any](name, what, eg string, parse func(string, *B) error) field {
	return field{name: name, what: what, eg: eg, read: func(r *reader, v Value, body any) bool {
		text, ok := r.text(v)
		if !ok {
			return false
		}
		if err := parse(text, body.(*B)); err != nil {
			r.wrong(v, err.Error(), "")
			return false
		}
		return true
	}}
}

// text makes a field of free words.
func text[B any](name, what, eg string, at func(*B) *string) field {
	f := scalar(name, what, eg, func(s string, b *B) error { *at(b) = s; return nil })
	f.free = true
	return f
}

// quantity makes a field of a number with its unit.
func quantity[B, Q any, P quantityIn[Q]](name, what, eg string, at func(*B) **Q) field {
	return scalar(name, what, eg, func(s string, b *B) error {
		q := new(Q)
		if err := P(q).UnmarshalText([]byte(s)); err != nil {
			return err
		}
		*at(b) = q
		return nil
	})
}

// positive is a quantity that can only be above zero, such as a depth.
func positive[B, Q any, P quantityIn[Q]](name, what, eg string, at func(*B) **Q) field {
	f := quantity[B, Q, P](name, what, eg, at)
	read := f.read
	f.read = func(r *reader, v Value, body any) bool {
		if strings.HasPrefix(strings.TrimSpace(v.Text), "-") {
			r.wrong(v, fmt.Sprintf("%s: %s is negative", name, v.Text), "write "+eg)
			return false
		}
		return read(r, v, body)
	}
	return f
}

// yesNo makes a field that is yes, no or left out.
func yesNo[B any](name, what, eg string, set func(*B, bool)) field {
	f := scalar(name, what, eg, func(s string, b *B) error {
		yes, err := parseYes(s)
		if err != nil {
			return err
		}
		set(b, yes)
		return nil
	})
	f.form.words = []string{"yes", "no"}
	return f
}

// maybe makes a yes-or-no field where no answer is kept apart.
func maybe[B any](name, what, eg string, at func(*B) **bool) field {
	return yesNo(name, what, eg, func(b *B, yes bool) { *at(b) = &yes })
}

func parseYes(s string) (bool, error) {
	switch strings.ToLower(s) {
	case "yes", "true", "y":
		return true, nil
	case "no", "false", "n":
		return false, nil
	}
	return false, fmt.Errorf("%q is neither yes nor no", s)
}

// word makes a field that takes one of some words.
func word[B any, W ~string](name, what, eg string, at func(*B) *W, words ...W) field {
	known := make([]string, len(words))
	for i, w := range words {
		known[i] = string(w)
	}
	f := scalar(name, what, eg, func(s string, b *B) error {
		for i, w := range known {
			if fold(w) == fold(s) {
				*at(b) = words[i]
				return nil
			}
		}
		return fmt.Errorf("%s: %q is not one of %s%s", name, s, strings.Join(known, ", "), nearest(s, known))
	})
	f.form.words = known
	return f
}

// whole makes a field of a whole number between low and high.
func whole[B any](name, what, eg string, low, high int, set func(*B, int)) field {
	f := scalar(name, what, eg, func(s string, b *B) error {
		n, err := strconv.Atoi(s)
		if err != nil || n < low || n > high {
			return fmt.Errorf("%s: %q is not a whole number from %d to %d", name, s, low, high)
		}
		set(b, n)
		return nil
	})
	f.form.number = true
	return f
}

// number makes a field of a bare number between low and high.
func number[B any](name, what, eg string, low, high float64, set func(*B, float64)) field {
	f := scalar(name, what, eg, func(s string, b *B) error {
		n, err := parseNumber(s)
		if err != nil || n < low || n > high {
			return fmt.Errorf("%s: %q is not a number from %g to %g", name, s, low, high)
		}
		set(b, n)
		return nil
	})
	f.form.number = true
	return f
}

// span makes a field of a length of time, such as "30 min" or "2 weeks".
func span[B any](name, what, eg string, set func(*B, time.Duration)) field {
	return scalar(name, what, eg, func(s string, b *B) error {
		d, err := parseSpan(s)
		if err == nil {
			set(b, d)
		}
		return err
	})
}

// day makes a field of a date, or of a year or month where no more is known.
func day[B any](name, what, eg string, set func(*B, time.Time)) field {
	return scalar(name, what, eg, func(s string, b *B) error {
		t, err := parseRoughDate(s)
		if err == nil {
			set(b, t)
		}
		return err
	})
}

// money makes a field of US dollars.
func money[B any](name, what, eg string, at func(*B) **float64) field {
	return scalar(name, what, eg, func(s string, b *B) error {
		n, err := parseMoney(s)
		if err == nil {
			*at(b) = &n
		}
		return err
	})
}

// lines makes a field of one text or a list of texts.
func lines[B any](name, what, eg string, at func(*B) *[]string) field {
	return field{
		name: name, what: what, eg: eg, form: form{shape: List, item: &form{}, short: true},
		read: func(r *reader, v Value, body any) bool {
			var all []string
			for _, item := range asList(v) {
				if s, ok := r.text(item); ok {
					all = append(all, s)
				}
			}
			*at(body.(*B)) = all
			return len(all) > 0
		},
	}
}

// section makes a field that holds keys of its own.
func section[B, S any](name, what string, fields []field, at func(*B) *S) field {
	return field{
		name: name, what: what, form: form{shape: Map, fields: fields},
		read: func(r *reader, v Value, body any) bool { return r.section(v, fields, at(body.(*B))) },
	}
}

// many makes a field of one or several items with keys of their own. With
// short, an item may be one text. Keep receives the items that could be read.
func many[B, I any](name, what, eg string, fields []field, short func(string, *I) error, keep func(*reader, *B, []I)) field {
	item := form{shape: Map, fields: fields, short: short != nil}
	return field{
		name: name, what: what, eg: eg, form: form{shape: List, item: &item, short: true},
		read: func(r *reader, v Value, body any) bool {
			var items []I
			for _, one := range asList(v) {
				var item I
				if readItem(r, one, fields, short, &item) {
					items = append(items, item)
				}
			}
			keep(r, body.(*B), items)
			return len(items) > 0
		},
	}
}

func readItem[I any](r *reader, v Value, fields []field, short func(string, *I) error, into *I) bool {
	if v.Shape == Map || short == nil {
		return r.section(v, fields, into)
	}
	s, ok := r.text(v)
	if !ok {
		return false
	}
	if err := short(s, into); err != nil {
		r.wrong(v, err.Error(), "")
		return false
	}
	return true
}

// required marks a field that a section cannot do without.
func required(f field) field { f.need = true; return f }

// spelt gives a field an older spelling that is still read.
func spelt(also string, f field) field { f.also = also; return f }

// asList is the items of a list, or the one value that stands in its place.
func asList(v Value) []Value {
	if v.Shape == List {
		return v.List
	}
	return []Value{v}
}

// parseRange reads "240 to 300 gal/day" or one flow.
func parseRange(s string) (low, high unit.Flow, err error) {
	from, to, ok := strings.Cut(s, " to ")
	if !ok {
		err = high.UnmarshalText([]byte(s))
		return high, high, err
	}
	if err = high.UnmarshalText([]byte(to)); err != nil {
		return low, high, err
	}
	if low.UnmarshalText([]byte(from)) != nil { // the unit stands once, after the upper end
		err = low.UnmarshalText([]byte(strings.TrimSpace(from) + " " + unitOf(to)))
	}
	if err == nil && low.GPM() > high.GPM() {
		err = fmt.Errorf("range %q: the lower end is above the upper", s)
	}
	return low, high, err
}

// unitOf is what follows the number in a figure.
func unitOf(s string) string {
	return strings.TrimSpace(strings.TrimLeft(strings.TrimSpace(s), "+-0123456789.,"))
}
