package source_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/source"
)

// allowance is a factor of our own invention, with a range.
var allowance = source.Factor{Name: "test_iron_allowance", What: "hardness counted for each mg/L of iron", Unit: "gpg per mg/L",
	Value: 4, Low: 2, High: 5, Kind: source.CommonPractice, From: "setters of softeners"}

// bare carries no range.
var bare = source.Factor{Name: "test_gravity", What: "specific gravity", Value: 2.65, Kind: source.FromMemory, From: "none: made for the test"}

func replaced(v float64) source.Set {
	return source.NewSet(map[string]source.Override{allowance.Name: {Value: v, Why: "measured here"}})
}

func TestOf(t *testing.T) {
	var none source.Set
	for _, tt := range []struct {
		what string
		set  source.Set
		f    source.Factor
		want float64
	}{
		{"no overrides", none, allowance, 4},
		{"nil map", source.NewSet(nil), allowance, 4},
		{"replaced", replaced(3), allowance, 3},
		{"replaced by zero, which is a value", replaced(0), allowance, 0},
		{"another factor replaced", replaced(3), bare, 2.65},
		{"outside the range: the user's word stands", replaced(9), allowance, 9},
	} {
		if got := tt.set.Of(tt.f); got != tt.want {
			t.Errorf("%s: Of = %g, want %g", tt.what, got, tt.want)
		}
	}
}

func TestRange(t *testing.T) {
	for _, tt := range []struct {
		what string
		set  source.Set
		f    source.Factor
		want [3]float64
	}{
		{"its own range", source.Set{}, allowance, [3]float64{2, 4, 5}},
		{"an override closes it", replaced(3), allowance, [3]float64{3, 3, 3}},
		{"no range", source.Set{}, bare, [3]float64{2.65, 2.65, 2.65}},
		{"from zero", source.Set{}, source.Factor{Name: "a", Value: 1, High: 2}, [3]float64{0, 1, 2}},
		{"up to zero", source.Set{}, source.Factor{Name: "a", Value: -1, Low: -2}, [3]float64{-2, -1, 0}},
	} {
		low, mid, high := tt.set.Range(tt.f)
		if got := [3]float64{low, mid, high}; got != tt.want {
			t.Errorf("%s: Range = %v, want %v", tt.what, got, tt.want)
		}
	}
}

func TestIn(t *testing.T) {
	if got := (source.Set{}).In(allowance); got != allowance {
		t.Errorf("no override changed the factor: %+v", got)
	}
	want := allowance
	want.Value, want.Low, want.High, want.Kind, want.From = 3, 0, 0, source.Own, "measured here"
	if got := replaced(3).In(allowance); got != want {
		t.Errorf("In = %+v, want %+v", got, want)
	}
	if got := replaced(3).In(allowance); got.HasRange() {
		t.Errorf("a replaced factor still has the range %g to %g", got.Low, got.High)
	}
}

// Of, Range and In are three readings of one thing.
func TestReadingsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6)
		f := source.Factor{Name: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "name"), Value: v.Draw(t, "value")}
		f.Low, f.High = f.Value-rapid.Float64Range(0, 9).Draw(t, "below"), f.Value+rapid.Float64Range(0, 9).Draw(t, "above")
		s := source.NewSet(map[string]source.Override{"a": {Value: v.Draw(t, "own")}})
		low, mid, high := s.Range(f)
		if mid != s.Of(f) || mid != s.In(f).Value {
			t.Fatalf("Of %g, Range %g, In %g", s.Of(f), mid, s.In(f).Value)
		}
		if low > mid || mid > high {
			t.Fatalf("range %g, %g, %g is out of order", low, mid, high)
		}
	})
}

// A set is read from many goroutines, so nothing outside may change it.
func TestSetKeepsACopy(t *testing.T) {
	own := map[string]source.Override{"b": {Value: 1}, "a": {Value: 2}}
	s := source.NewSet(own)
	own["c"] = source.Override{Value: 3}
	delete(own, "a")
	if got, want := s.Overridden(), []string{"a", "b"}; !slices.Equal(got, want) {
		t.Errorf("Overridden = %v, want %v", got, want)
	}
	if got := (source.Set{}).Overridden(); len(got) != 0 {
		t.Errorf("the zero set has overrides: %v", got)
	}
}

func TestRegister(t *testing.T) {
	r, err := source.NewRegister([]source.Factor{bare}, nil, []source.Factor{allowance})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := r.Names(), []string{bare.Name, allowance.Name}; !slices.Equal(got, want) {
		t.Errorf("Names = %v, want %v, sorted", got, want)
	}
	r.Names()[0] = "spoiled"
	if r.Names()[0] == "spoiled" {
		t.Error("the list given out is the register's own")
	}
	if f, ok := r.Find(allowance.Name); !ok || f != allowance {
		t.Errorf("Find = %+v, %t", f, ok)
	}
	if f, ok := r.Find("nothing"); ok || f != (source.Factor{}) {
		t.Errorf("Find of an unknown name = %+v, %t", f, ok)
	}
}

func TestDuplicateNamesAreRefused(t *testing.T) {
	for _, rooms := range [][][]source.Factor{
		{{allowance, bare, allowance}},
		{{allowance}, {bare}, {allowance}},
	} {
		r, err := source.NewRegister(rooms...)
		if err == nil || !strings.Contains(err.Error(), `"test_iron_allowance"`) || !strings.Contains(err.Error(), "twice") || r != nil {
			t.Errorf("a name used twice gave %v, %v", r, err)
		}
	}
}

func TestKindsArePrinted(t *testing.T) {
	for _, tt := range []struct {
		kind source.Kind
		want string
	}{ // the words the documents of the house promise, best founded first
		{source.Published, "published"}, {source.Derived, "derived"}, {source.CommonPractice, "common practice"},
		{source.FromMemory, "from memory"}, {source.Judgement, "judgement"}, {source.Own, "own value"},
		{source.Own + 1, "kind 6"}, {-1, "kind -1"},
	} {
		if got := tt.kind.String(); got != tt.want {
			t.Errorf("Kind(%d) = %q, want %q", int(tt.kind), got, tt.want)
		}
	}
	text, err := json.Marshal(allowance)
	if err != nil || !strings.Contains(string(text), `"kind":"common practice"`) {
		t.Errorf("JSON of a factor: %s, %v", text, err)
	}
}
