package formula

import (
	"fmt"
	"slices"
	"strings"

	"wellwright/source"
)

// Read parts words such as temperature=10 C into inputs of the formula. A word
// without an equals sign belongs to the value before it, so that a unit need not
// be quoted. Mistakes in values show when the formula is answered.
func (f Formula) Read(words []string) ([]Filled, []error) {
	var fs []Filled
	var bad []error
	lost := false // the words that follow belong to an unknown input
	for _, w := range words {
		name, text, ok := strings.Cut(w, "=")
		if !ok {
			switch {
			case len(fs) > 0 && !lost:
				fs[len(fs)-1].Text += " " + w
			case !lost:
				bad = append(bad, fmt.Errorf("%q: write an input and its value, as in %s", w, f.sample()))
			}
			continue
		}
		in, known := f.named(name)
		lost = !known
		switch {
		case !known:
			bad = append(bad, f.unknown(name))
		case slices.ContainsFunc(fs, func(x Filled) bool { return x.Name == in.Name }):
			bad = append(bad, fmt.Errorf("%s is given twice", in.Name))
		default:
			fs = append(fs, Filled{in.Name, bare(text), "given"})
		}
	}
	return fs, bad
}

// bare takes off spaces, and quotes that a shell has left on both sides.
func bare(text string) string {
	text = strings.TrimSpace(text)
	for _, q := range []string{`"`, "'"} {
		if len(text) > 2 && strings.HasPrefix(text, q) && strings.HasSuffix(text, q) {
			return text[1 : len(text)-1]
		}
	}
	return text
}

// named finds an input by name, or by its symbol if that is the one.
func (f Formula) named(word string) (Input, bool) {
	for _, i := range f.Inputs {
		if plain(word) == i.Name {
			return i, true
		}
	}
	var found []Input
	for _, i := range f.Inputs {
		if strings.TrimSpace(word) == i.Symbol {
			found = append(found, i)
		}
	}
	if len(found) == 1 {
		return found[0], true
	}
	return Input{}, false
}

// unknown says that a name is not an input, and which are.
func (f Formula) unknown(name string) error {
	names := make([]string, len(f.Inputs))
	for k, i := range f.Inputs {
		names[k] = i.Name
	}
	hint := ""
	if near, ok := Nearest(plain(name), names); ok {
		hint = fmt.Sprintf("; %s is meant perhaps", near)
	}
	return fmt.Errorf("%q is not an input of %s%s; its inputs are %s", name, f.Name, hint, strings.Join(names, ", "))
}

// sample is one input of the first example.
func (f Formula) sample() string {
	if len(f.Examples) == 0 || len(f.Examples[0].Given) == 0 {
		return "name=value"
	}
	return Quoted(f.Examples[0].Given[0])
}

// Quoted writes name=value so that a shell takes it as one word.
func Quoted(pair string) string {
	name, text, ok := strings.Cut(pair, "=")
	if !ok || !strings.ContainsAny(text, " ()<>;&|*?'") {
		return pair
	}
	return name + `="` + text + `"`
}

// args reads the inputs given, fills the rest with what is assumed, and lists
// every mistake.
func (f Formula) args(given []Filled, set source.Set) (Args, []Given, []error) {
	a := Args{Factors: set, values: map[string]any{}, assumed: map[string]bool{}}
	var ins []Given
	var bad []error
	for _, i := range f.Inputs {
		x, ok := filledFor(i, given, set)
		if !ok {
			bad = append(bad, f.missing(i))
			continue
		}
		v, err := i.value(f.Name, x.Text)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		a.values[i.Name], a.assumed[i.Name] = v, strings.HasPrefix(x.From, "assumed")
		ins = append(ins, Given{i.Name, i.Symbol, i.What, x.Text, x.From, i.us(v), i.si(v)})
	}
	return a, ins, bad
}

// missing asks for an input, with a value to write it after.
func (f Formula) missing(i Input) error {
	as := i.Name + "=" + i.asked()
	for _, e := range f.Examples {
		for _, g := range e.Given {
			if name, _, _ := strings.Cut(g, "="); name == i.Name {
				return fmt.Errorf("%s is missing: %s; write it as in %s", i.Name, i.What, Quoted(g))
			}
		}
	}
	return fmt.Errorf("%s is missing: %s; write %s", i.Name, i.What, as)
}

// filledFor finds the value of an input, or its default.
func filledFor(i Input, given []Filled, set source.Set) (Filled, bool) {
	for _, x := range given {
		if x.Name == i.Name {
			return x, true
		}
	}
	return Filled{i.Name, i.standing(set), "assumed: " + i.Why}, i.Default != ""
}

// Nearest returns the one of the names that differs least from a word, if it is
// close or holds the word.
func Nearest(word string, names []string) (string, bool) {
	best, least := "", 4
	for _, n := range names {
		d := apart(word, n)
		if d >= len(word) {
			d = 9
		}
		if len(word) > 2 && strings.Contains(n, word) {
			d = min(d, 2)
		}
		if d < least {
			best, least = n, d
		}
	}
	return best, best != ""
}

// apart counts the letters to change, add or drop between two words.
func apart(a, b string) int {
	row := make([]int, len(b)+1)
	for k := range row {
		row[k] = k
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for k := range len(b) {
			cost := diagonal
			if a[i] != b[k] {
				cost++
			}
			diagonal = row[k+1]
			row[k+1] = min(cost, row[k]+1, row[k+1]+1)
		}
	}
	return row[len(b)]
}
