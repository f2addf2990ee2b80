package formula

import (
	"fmt"
	"slices"
	"strings"

	"wellwright/source"
)

// Register is every public formula of the program, in order of subject.
type Register struct {
	all      []Formula
	subjects []string
}

// NewRegister joins the formulas of the rooms; a name used twice is an error.
// Subjects keep the order in which they first appear.
func NewRegister(rooms ...[]Formula) (*Register, error) {
	r := &Register{}
	by := map[string][]Formula{}
	seen := map[string]bool{}
	for _, room := range rooms {
		for _, f := range room {
			if seen[f.Name] {
				return nil, fmt.Errorf("formula %s is registered twice", f.Name)
			}
			seen[f.Name] = true
			if by[f.Subject] == nil {
				r.subjects = append(r.subjects, f.Subject)
			}
			by[f.Subject] = append(by[f.Subject], f)
		}
	}
	for _, s := range r.subjects {
		r.all = append(r.all, by[s]...)
	}
	return r, nil
}

// All returns every formula, subject by subject.
func (r *Register) All() []Formula { return r.all }

// Subjects returns the headings in order.
func (r *Register) Subjects() []string { return r.subjects }

// Find returns the formula of a name; hyphens and spaces do for underscores.
func (r *Register) Find(name string) (Formula, bool) {
	for _, f := range r.all {
		if f.Name == plain(name) {
			return f, true
		}
	}
	return Formula{}, false
}

// Opens returns the formula that opens a figure of a plan. A step that names its
// formula is opened by that one.
func (r *Register) Opens(figure string) (Formula, bool) {
	for _, f := range r.all {
		if slices.Contains(f.Figures, figure) {
			return f, true
		}
	}
	return Formula{}, false
}

// Like returns the formulas whose name, subject or line holds a word.
func (r *Register) Like(word string) []Formula {
	var fs []Formula
	w := strings.ToLower(strings.TrimSpace(word))
	for _, f := range r.all {
		if strings.Contains(f.Name, plain(w)) || strings.Contains(strings.ToLower(f.Subject+" "+f.What), w) {
			fs = append(fs, f)
		}
	}
	return fs
}

// Near returns the name closest to a word that is none.
func (r *Register) Near(word string) (string, bool) {
	names := make([]string, len(r.all))
	for k, f := range r.all {
		names[k] = f.Name
	}
	return Nearest(plain(word), names)
}

// Check is one answer from outside the program beside ours.
type Check struct {
	Formula, Result string
	Given           []string
	Want            string // as printed
	Got             string // in the same words
	Apart           string // got less want, in per cent of want; "" where want is zero or a word
	Source          string
	Err             error // why it does not agree; nil if it does
}

// Checks runs every example of a formula.
func (f Formula) Checks() []Check {
	var cs []Check
	for _, e := range f.Examples {
		given, bad := f.Read(e.Given)
		var a Answer
		if len(bad) == 0 {
			a, bad = f.Answer(given, source.Set{})
		}
		for _, w := range e.Wants {
			c := Check{Formula: f.Name, Result: w.Result, Given: e.Given, Want: w.Value, Source: w.Source}
			if len(bad) > 0 {
				c.Err = bad[0]
			} else {
				c.compare(a, w)
			}
			cs = append(cs, c)
		}
	}
	return cs
}

// compare sets an answer against the one expected.
func (c *Check) compare(a Answer, w Want) {
	for _, r := range a.Results {
		if r.Name != w.Result {
			continue
		}
		if r.read == nil {
			c.Got = r.US.String()
			if c.Got != w.Value {
				c.Err = fmt.Errorf("%s is %s, want %s", r.Name, c.Got, w.Value)
			}
			return
		}
		c.number(r, w)
		return
	}
	c.Err = fmt.Errorf("there is no result %s", w.Result)
}

// number compares a figure within its tolerance, which is read by difference so
// that a scale with another zero does no harm.
func (c *Check) number(r Result, w Want) {
	want, err := r.read(w.Value)
	if err != nil {
		c.Err = err
		return
	}
	tolerance, err := r.size(w.Within)
	if err != nil {
		c.Err = err
		return
	}
	c.Got = r.beside(w.Value)
	apart := r.base - want
	if want != 0 {
		c.Apart = fmt.Sprintf("%+.2f %%", 100*apart/want)
	}
	if !(apart <= tolerance && -apart <= tolerance) {
		c.Err = fmt.Errorf("%s is %s, want %s within %s", r.Name, c.Got, w.Value, w.Within)
	}
}

// size reads the length of a step on the scale of a result.
func (r Result) size(text string) (float64, error) {
	v, err := r.read(text)
	if err != nil {
		return 0, err
	}
	_, u, err := number(text)
	if err != nil { // such as $5, whose scale begins at zero
		return v, nil
	}
	zero, err := r.read(strings.TrimSpace("0 " + u))
	return v - zero, err
}

// beside writes the result in the unit of a text.
func (r Result) beside(text string) string {
	_, u, _ := number(text)
	zero, err0 := r.read(strings.TrimSpace("0 " + u))
	one, err1 := r.read(strings.TrimSpace("1 " + u))
	if err0 != nil || err1 != nil || one == zero {
		return r.US.String()
	}
	return Amount{Value: (r.base - zero) / (one - zero), Unit: u}.String()
}
