package book

import (
	"reflect"
	"testing"
	"time"
)

// A variant written into a book reads back as it was, a later one of its name
// replaces it, and one taken back is gone: the rules of every entry.
func TestVariantsAreKept(t *testing.T) {
	day := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	v := Variant{Name: "a larger filter", Changes: map[string]string{"iron": "7", "no-salt": "yes"}, Factors: map[string]string{"softener_iron_allowance": "4"},
		Prices: map[string]string{"labour hour": "110"}, Train: []string{"coated-sand-filter", "softener"},
		Sizes: []VariantSize{{Stage: 1, Figures: map[string]string{"vessel_diameter_in": "12"}}}, Note: "for the guests"}
	text := Template("Mill Lane", day)
	for range 2 {
		a, err := Add("book", text, NewEntry{On: day, Kind: VariantKind, Section: v.Value()}, day)
		if err != nil {
			t.Fatal(err)
		}
		text = a.Text
		v.Note = "for more guests"
	}
	b, _ := Read("book", text)
	got := b.Present(day).Variants
	if len(got) != 1 {
		t.Fatalf("%d variants, want the later of the two", len(got))
	}
	v.On, v.Entry, v.Note = day, got[0].Entry, "for more guests"
	if !reflect.DeepEqual(got[0], v) {
		t.Errorf("read back %+v\nwant %+v", got[0], v)
	}
	a, err := Add("book", text, NewEntry{On: day, Kind: WithdrawalKind, Corrects: v.Entry, Why: "not wanted"}, day)
	if err != nil {
		t.Fatal(err)
	}
	b, _ = Read("book", a.Text)
	if left := b.Present(day).Variants; len(left) != 1 || left[0].Note != "for the guests" {
		t.Errorf("after the later one was taken back: %+v, want the earlier one", left)
	}
}
