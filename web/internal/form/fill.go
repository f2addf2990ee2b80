package form

import (
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/water"
)

// Fill is what would have to be typed to write an entry again as it stands.
func Fill(e book.Entry) Typed {
	t := Typed{By: e.By, Note: e.Note}
	key, ok := book.KeyOf(e.Kind)
	if !ok {
		return t
	}
	if e.Kind == book.SignsKind {
		e.Section = t.checked(e.Section)
	}
	t.fill(key, e.Section, key.Name, e.Kind)
	return t
}

// fill puts what stands under a key into the inputs at a path.
func (t Typed) fill(k book.Key, v book.Value, path string, kind book.Kind) {
	switch k.Shape {
	case book.Some:
		var lines []string
		for _, item := range items(v) {
			lines = append(lines, item.Text)
		}
		t[path] = strings.Join(lines, "\n")
	case book.Group:
		t.group(k, v, path, kind)
	case book.Several:
		for i, item := range items(v) {
			t.group(k, item, path+"/"+strconv.Itoa(i), kind)
		}
	case book.Counts:
		for _, p := range v.Pairs {
			t[path+"/"+p.Key] = p.Value.Text
		}
	case book.Figures:
		t.figures(v, path, kind)
	default:
		t[path] = v.Text
	}
}

// group fills the keys of a section. An item that is one text is what its first
// key of free words says.
func (t Typed) group(k book.Key, v book.Value, path string, kind book.Kind) {
	for _, u := range k.Under {
		under, ok := v.Get(u.Name)
		if !ok && u.Also != "" {
			under, ok = v.Get(u.Also)
		}
		switch {
		case ok:
			t.fill(u, under, path+"/"+u.Name, kind)
		case v.Shape == book.Text && u.Free && v.Text != "":
			t[path+"/"+u.Name] = v.Text
			return
		}
	}
}

// figures fills the rows of results: those the form asks for in their place, the
// others below.
func (t Typed) figures(v book.Value, path string, kind book.Kind) {
	next, taken := 0, map[int]bool{}
	if kind == book.ReadingsKind {
		next = len(onSite)
		for i, name := range onSite {
			t[path+"/"+strconv.Itoa(i)+"/name"] = name
		}
	}
	for _, p := range v.Pairs {
		for _, item := range items(p.Value) {
			i, name := next, p.Key
			if j := asked(p.Key); kind == book.ReadingsKind && j >= 0 && !taken[j] {
				i, name = j, onSite[j]
			} else {
				next++
			}
			taken[i] = true
			t.figure(path+"/"+strconv.Itoa(i), name, item)
		}
	}
}

func (t Typed) figure(row, name string, v book.Value) {
	t[row+"/name"], t[row+"/value"] = name, v.Text
	if v.Shape != book.Map {
		return
	}
	for in, key := range map[string]string{"/value": "value", "/fraction": "fraction", "/method": "method", "/limit": "detection limit", "/note": "note"} {
		if s, ok := v.Get(key); ok {
			t[row+in] = s.Text
		}
	}
}

// asked is the place of a result among those that a visit asks for, or -1.
func asked(name string) int {
	a, f, basis, ok := water.ParseAnalyte(name)
	for i, n := range onSite {
		if b, g, also, _ := water.ParseAnalyte(n); ok && a == b && f == g && basis == also {
			return i
		}
	}
	return -1
}

// checked takes the signs that only say seen or not there into the dictionary's
// answers, and returns those with more to say.
func (t Typed) checked(v book.Value) book.Value {
	var rest []book.Value
	for _, item := range items(v) {
		id, answer, ok := plainSign(item)
		if !ok || t[see+string(id)] != "" {
			rest = append(rest, item)
			continue
		}
		t[see+string(id)] = answer
	}
	return book.Items(rest...)
}

// plainSign is a sign of the dictionary with no word added to it.
func plainSign(v book.Value) (id water.Symptom, answer string, ok bool) {
	text := v.Text
	answer = Seen
	for _, p := range v.Pairs {
		switch {
		case strings.EqualFold(p.Key, "sign"):
			text = p.Value.Text
		case strings.EqualFold(p.Key, "seen") && (p.Value.Text == "no" || p.Value.Text == "false"):
			answer = NotThere
		case strings.EqualFold(p.Key, "seen") && p.Value.Text == "yes":
		default:
			return "", "", false
		}
	}
	id, err := water.ParseSymptom(text)
	return id, answer, err == nil
}

// items are the items of a list, or the one value that stands in its place.
func items(v book.Value) []book.Value {
	if v.Shape == book.List {
		return v.List
	}
	if v.Shape == book.Text && v.Text == "" {
		return nil
	}
	return []book.Value{v}
}
