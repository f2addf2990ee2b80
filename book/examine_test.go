package book

import (
	"strings"
	"testing"
	"time"

	"wellwright/unit"
)

// A finding leads to the key it is about. The words and the place of each are
// what docs/book.md says of the key.
func TestExamineLeadsToTheKey(t *testing.T) {
	day := time.Date(2025, 5, 31, 0, 0, 0, 0, time.UTC)
	tests := []struct {
		name, path, says string
		kind             Kind
		section          Value
	}{
		{"a figure without its unit", "well/depth", "unit", WellKind, Fields(Under("depth", "180"))},
		{"below a key", "well/pump/power", "much", WellKind, Fields(Pair{Key: "pump", Value: Fields(Under("power", "much"))})},
		{"one of a list", "signs/1/sign", "dictionary", SignsKind, Items(Fields(Under("words", "slime")), Fields(Under("sign", "green men")))},
		{"one without its list", "jar tests/test", "not one of", JarsKind, Fields(Under("test", "boiling"))},
		{"a result", "readings/results/pH", "want 0 to 14", ReadingsKind, Fields(Under("tap", "T1"), Pair{Key: "results", Value: Fields(Under("pH", "71"))})},
		{"one of two readings", "readings/results/total iron/1", "number", ReadingsKind, Fields(Under("tap", "T1"),
			Pair{Key: "results", Value: Fields(Pair{Key: "total iron", Value: Items(Words("2 mg/L"), Words("lots"))})})},
		{"a needed key", "readings/tap", "missing", ReadingsKind, Fields(Pair{Key: "results", Value: Fields(Under("pH", "7"))})},
		{"a needed key of an item", "cultures/0/result", "missing", CulturesKind, Items(Fields(Under("of", "iron bacteria")))},
		{"an analyte nobody knows", "readings/results/unobtainium", "analyte", ReadingsKind, Fields(Under("tap", "T1"), Pair{Key: "results", Value: Fields(Under("unobtainium", "1 mg/L"))})},
	}
	for _, tt := range tests {
		found := Examine(NewEntry{On: day, Kind: tt.kind, Section: tt.section})
		if len(found) != 1 || found[0].Path != tt.path || !strings.Contains(found[0].Error(), tt.says) {
			t.Errorf("%s: %+v, want one at %s that says %q", tt.name, found, tt.path, tt.says)
		}
	}
}

// Whatever Read would refuse, Examine finds, for both read by one table.
func TestExamineAgreesWithRead(t *testing.T) {
	day := time.Date(2025, 5, 31, 0, 0, 0, 0, time.UTC)
	for _, k := range Kinds() {
		e := NewEntry{On: day, Kind: k, Section: Fields(Under("no such key", "x"))}
		if _, _, err := Append(nil, e); err == nil || len(Examine(e)) == 0 {
			t.Errorf("%s: an unknown key passes: Append %v, Examine %v", k, err, Examine(e))
		}
	}
	good := NewEntry{On: day, Kind: WellKind, By: "me", Section: Fields(Under("depth", "180 ft"))}
	if found := Examine(good); len(found) > 0 {
		t.Errorf("a good entry: %v", found)
	}
}

// Every example of a single figure reads without a finding, with its unit in
// either system, and is refused without: so the unit of a key is the one it needs.
func TestUnitsOfExamples(t *testing.T) {
	seen := 0
	for _, k := range Kinds() {
		key, _ := KeyOf(k)
		if key.Shape == Group && k != ReadingsKind && k != LaboratoryKind { // these cannot do without results
			seen += unitsOf(t, key, func(v Value) NewEntry {
				return NewEntry{On: time.Date(2025, 5, 31, 0, 0, 0, 0, time.UTC), Kind: k, Section: v}
			})
		}
	}
	if seen < 20 {
		t.Errorf("%d keys with a unit: want the depths, flows, volumes and pressures of a well", seen)
	}
}

func unitsOf(t *testing.T, group Key, entry func(Value) NewEntry) int {
	seen := 0
	for _, k := range group.Under {
		put := func(text string) []Placed { return Examine(entry(Fields(Under(k.Name, text)))) }
		if k.Shape == Group {
			name := k.Name
			seen += unitsOf(t, k, func(v Value) NewEntry { return entry(Fields(Pair{Key: name, Value: v})) })
		}
		if k.Unit == "" {
			continue
		}
		seen++
		bare := strings.TrimSpace(strings.TrimSuffix(k.Example, k.Unit))
		if len(put(bare)) == 0 {
			t.Errorf("%s: %q passes without a unit", k.Name, bare)
		}
		for _, s := range []unit.System{unit.US, unit.Metric} {
			if found := put(bare + " " + UnitIn(k.Unit, s)); len(found) > 0 {
				t.Errorf("%s: %v", k.Name, found)
			}
		}
	}
	return seen
}
