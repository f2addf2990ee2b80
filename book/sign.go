package book

import (
	"errors"
	"fmt"
	"regexp"

	"wellwright/water"
)

// sighting is a sign while it is read. A sign that is written down is seen,
// unless its writer says it is not.
type sighting struct {
	Sign
	denied bool
}

var signFields = []field{
	scalar("sign", "a sign of the dictionary", "clear then rust", readSign),
	text("words", "in the words of whoever saw it", "clear in the glass, orange specks by morning", func(s *sighting) *string { return &s.Text }),
	yesNo("seen", "no: looked for, and not there", "yes", func(s *sighting, yes bool) { s.denied = !yes }),
	maybe("hot", "at the hot tap", "no", func(s *sighting) **bool { return &s.Hot }),
	maybe("cold", "at the cold tap", "yes", func(s *sighting) **bool { return &s.Cold }),
	tapOf("tap", "K", func(s *sighting) *water.Where { return &s.Tap }),
	text("since", "", "last spring", func(s *sighting) *string { return &s.Since }),
}

// shortSign reads a sign written as one text: a sign of the dictionary, or
// free words.
func shortSign(s string, into *sighting) error {
	into.Text = s
	if id, ok := symptom(s); ok {
		into.ID = id
	}
	return nil
}

func readSign(s string, into *sighting) error {
	id, ok := symptom(s)
	if !ok {
		return fmt.Errorf("sign %q is not in the dictionary of signs; write what was seen under words", s)
	}
	into.ID = id
	return nil
}

var cultureFields = []field{
	required(word("of", "what was looked for", "iron bacteria", func(c *Culture) *Organism { return &c.Of }, IronBacteria, SulfateReducers, SlimeFormers)),
	required(culturedResult),
	yesNo("microscope", "seen through a microscope, not grown", "no", func(c *Culture, yes bool) { c.Microscope = yes }),
	whole("day", "on which it turned", "2", 0, 60, func(c *Culture, n int) { c.Day = n }),
	word("strength", "", "strong", func(c *Culture) *Strength { return &c.Strength }, Weak, Middle, Strong),
	text("sample", "", "first draw after a night", func(c *Culture) *string { return &c.Sample }),
	tapOf("tap", "T1", func(c *Culture) *water.Where { return &c.Tap }),
	text("note", "", "slow", func(c *Culture) *string { return &c.Note }),
}

// culturedResult is read by hand: what is kept is whether it was positive.
var culturedResult = field{
	name: "result", eg: "positive", form: form{words: []string{"positive", "negative"}},
	read: func(r *reader, v Value, body any) bool {
		s, ok := r.text(v)
		if ok && fold(s) != "positive" && fold(s) != "negative" {
			r.wrong(v, fmt.Sprintf("result: %q is neither positive nor negative", s), "")
			ok = false
		}
		body.(*Culture).Positive = ok && fold(s) == "positive"
		return ok
	},
}

var factorName = regexp.MustCompile(`^[a-z][a-z0-9_]{2,60}$`)

var factorFields = []field{
	required(scalar("name", "as the command factor lists it", "softener_iron_allowance", func(s string, f *Factor) error {
		if !factorName.MatchString(s) {
			return fmt.Errorf("factor %q: a name has small letters, digits and underscores", s)
		}
		f.Name = s
		return nil
	})),
	required(number("value", "in the unit of the factor", "4", -1e12, 1e12, func(f *Factor, n float64) { f.Value = n })),
	required(scalar("why", "the reason; it is printed beside the number", "what the trade uses here", func(s string, f *Factor) error {
		if len(s) < 3 {
			return errors.New("why: give the reason in words")
		}
		f.Why = s
		return nil
	})),
}
