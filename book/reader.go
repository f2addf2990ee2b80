package book

import (
	"fmt"
	"strings"

	"wellwright/water"
)

// reader walks what was written by the table of fields, fills a body and
// collects every finding on the way.
type reader struct {
	file  string
	entry string
	found []Finding
	path  []string
	set   func(path string) // told of each fact that was read; may be nil
	e     Entry             // the entry being read: its date and name go into facts
}

func (r *reader) wrong(v Value, read, want string) {
	r.found = append(r.found, Finding{
		Place: water.Place{File: r.file, Line: v.Line}, Entry: r.entry, Read: read, Want: want,
	})
}

// text returns the one text that v is.
func (r *reader) text(v Value) (string, bool) {
	s := strings.Join(strings.Fields(v.Text), " ")
	switch {
	case v.Shape == List:
		r.wrong(v, "a list stands where one value belongs", "write one value")
	case v.Shape == Map:
		r.wrong(v, "keys stand where one value belongs", "write one value")
	case s == "":
		r.wrong(v, "nothing stands after this key", "write a value, or take the line out: not measured is not zero")
	default:
		return s, true
	}
	return "", false
}

// section reads the keys of v into body and reports whether any could be read.
func (r *reader) section(v Value, fields []field, body any) bool {
	if v.Shape == Text && strings.TrimSpace(v.Text) == "" {
		_, ok := r.text(v)
		return ok
	}
	if v.Shape != Map {
		r.wrong(v, fmt.Sprintf("%q stands where keys belong", short(v)), "write keys such as "+firstNames(fields))
		return false
	}
	any := false
	seen := map[string]int{}
	for _, p := range v.Pairs {
		f, ok := r.key(p, fields, seen)
		if !ok {
			continue
		}
		r.path = append(r.path, f.name)
		if f.read(r, p.Value, body) {
			any = true
			if r.set != nil && (f.form.shape != Map || f.form.fields == nil) {
				r.set(strings.Join(r.path, "/"))
			}
		}
		r.path = r.path[:len(r.path)-1]
	}
	r.missing(v, fields, seen)
	return any
}

// key finds the field of a key, and says so if there is none or it stands twice.
func (r *reader) key(p Pair, fields []field, seen map[string]int) (field, bool) {
	at := Value{Line: p.Line}
	for _, f := range fields {
		if !f.is(p.Key) {
			continue
		}
		if first := seen[f.name]; first != 0 {
			r.wrong(at, fmt.Sprintf("%q stands twice, first on line %d", p.Key, first), "keep one")
			return field{}, false
		}
		seen[f.name] = max(p.Line, 1)
		return f, true
	}
	known := names(fields)
	near := nearest(p.Key, known)
	if near == "" {
		near = "; known here are " + strings.Join(known, ", ")
	}
	r.wrong(at, fmt.Sprintf("%q is no key known here%s", p.Key, near), "")
	return field{}, false
}

// is reports whether key is a spelling of the field's name.
func (f field) is(key string) bool {
	key = fold(key)
	return fold(f.name) == key || f.also != "" && f.also == key
}

func (r *reader) missing(v Value, fields []field, seen map[string]int) {
	for _, f := range fields {
		if f.need && seen[f.name] == 0 {
			read, want := f.absent()
			r.wrong(v, read, want)
		}
	}
}

// absent is what is said where a needed field is missing.
func (f field) absent() (read, want string) {
	return fmt.Sprintf("%q is missing", f.name), fmt.Sprintf("write %s: %s", f.name, f.eg)
}

func names(fields []field) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.name
	}
	return out
}

func firstNames(fields []field) string {
	return strings.Join(names(fields[:min(3, len(fields))]), ", ")
}

// short is the beginning of what was written, for a finding.
func short(v Value) string {
	switch v.Shape {
	case List:
		return "a list"
	case Map:
		return "keys"
	}
	if len(v.Text) > 40 {
		return strings.ToValidUTF8(v.Text[:40], "") + "..."
	}
	return v.Text
}
