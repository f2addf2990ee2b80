package statistic

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// figure is one answer to be met, with where it comes from.
type figure struct {
	what           string
	got, want, tol float64
	source         string
}

func check(t *testing.T, rows []figure) {
	t.Helper()
	for _, r := range rows {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s = %.9g, want %g ± %g (%s)", r.what, r.got, r.want, r.tol, r.source)
		}
	}
}

// values reads a list such as "<1 3 >20".
func values(t testing.TB, text string) []Value {
	t.Helper()
	var vs []Value
	for _, word := range strings.Fields(text) {
		v := Value{}
		switch word[0] {
		case '<':
			v.Sign, word = Below, word[1:]
		case '>':
			v.Sign, word = Above, word[1:]
		}
		f, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		v.Figure = f
		vs = append(vs, v)
	}
	return vs
}

func numbers(t testing.TB, text string) []float64 {
	t.Helper()
	var xs []float64
	for _, v := range values(t, text) {
		xs = append(xs, v.Figure)
	}
	return xs
}

func pairsOf(t testing.TB, one, two string) []Pair {
	t.Helper()
	pairs, ok := Pairs(values(t, one), values(t, two))
	if !ok {
		t.Fatal("columns of unequal length")
	}
	return pairs
}

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
