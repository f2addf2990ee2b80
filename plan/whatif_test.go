package plan

import (
	"math"
	"strings"
	"testing"
)

func TestChangesThatCannotBe(t *testing.T) {
	for _, x := range []struct{ word, say string }{
		{"iron", "iron=14"}, {"lime=3", "the inputs are"}, {"iron=nan", "outside"}, {"iron=-3", "outside"},
		{"iron=1e9", "outside"}, {"pH=14", "4 to 10"}, {"pump=-8gpm", "least possible"}, {"temperature=200F", "0 to 40 C"},
		{"iron=much", "not a number"}, {"hardness=14 apples", "hardness"},
	} {
		_, bad := ParseChanges([]string{x.word})
		if len(bad) != 1 || !strings.Contains(bad[0].Error(), x.say) {
			t.Errorf("%s: %v, want it to say %q", x.word, bad, x.say)
		}
	}
	if _, bad := ParseChanges([]string{"iron=much", "pH=0"}); len(bad) != 2 {
		t.Errorf("two mistakes, told %v", bad)
	}
}

func FuzzParseChanges(f *testing.F) {
	for _, s := range []string{"iron=14", "pump=8gpm", "pump=0.5 L/s", "hardness=12gpg", "temperature=50F", "pH=6.4", "iron=14 ppm", "=", "iron=nan"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, word string) {
		cs, bad := ParseChanges([]string{word})
		if len(cs)+len(bad) != 1 {
			t.Fatalf("%q: %d read and %d refused", word, len(cs), len(bad))
		}
		for _, c := range cs {
			if least, most := c.dial.bounds(); math.IsNaN(c.to) || c.to < least || c.to > most {
				t.Fatalf("%q let through %g", word, c.to)
			}
		}
	})
}
