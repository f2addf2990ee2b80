package book

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wellwright/unit"
)

// compare looks into quantities too.
func difference(a, b any) string {
	return cmp.Diff(a, b, cmp.AllowUnexported(unit.Length{}, unit.Flow{}, unit.Pressure{}, unit.Volume{}, unit.Power{},
		unit.SpecificCapacity{}, unit.Concentration{}, unit.Chlorine{}, unit.PH{}))
}

func present(t *testing.T, text, on string) Present {
	t.Helper()
	b, found := Read("f.yaml", []byte(text))
	if len(found) > 0 {
		t.Fatal(found)
	}
	var asOf time.Time
	if on != "" {
		var err error
		if asOf, err = time.Parse(time.DateOnly, on); err != nil {
			t.Fatal(err)
		}
	}
	return b.Present(asOf)
}

const history = `- entry: 1
  date: 2025-04-14
  well:
    name: Test
    depth: 180 ft
    static level: 38 ft
    pump:
      power: 1 hp
- entry: 2
  date: 2025-04-14
  signs:
    - slime in tank
    - words: a smell of wet dog
- entry: 3
  date: 2025-05-02
  well:
    static level: 41 ft
    specific capacity:
      on: 2025-05
      value: 2 gpm/ft
- entry: 4
  date: 2025-05-10
  correction:
    of: 1
    why: tape read wrong
  well:
    name: Test
    depth: 190 ft
    static level: 38 ft
- entry: 5
  date: 2025-05-20
  signs:
    - sign: slime in tank
      seen: no
- entry: 6
  date: 2025-05-21
  correction:
    of: 3
    why: another well
- entry: 7
  date: 2025-05-22
  correction:
    of: 4
    why: it was the old log
  well:
    name: Test
    depth: 185 ft
    static level: 38 ft
`

func TestPresentOnADate(t *testing.T) {
	tests := []struct {
		on            string
		depth, static float64 // feet; 0: not known
		pump, slime   bool
		capacities    int
		used          string
	}{
		{"2025-04-13", 0, 0, false, false, 0, ""},
		{"2025-04-14", 180, 38, true, true, 0, "1 2"},
		{"2025-05-01", 180, 38, true, true, 0, "1 2"},
		{"2025-05-02", 180, 41, true, true, 1, "1 2 3"},
		{"2025-05-10", 190, 41, false, true, 1, "4 2 3"}, // the correction replaces the whole entry, in its place
		{"2025-05-20", 190, 41, false, false, 1, "4 2 3 5"},
		{"2025-05-21", 190, 38, false, false, 0, "4 2 5"}, // entry 3 is taken back
		{"2025-05-22", 185, 38, false, false, 0, "7 2 5"}, // a correction corrected
		{"", 185, 38, false, false, 0, "7 2 5"},
	}
	for _, tt := range tests {
		p := present(t, history, tt.on)
		w := p.Supply.Well
		if got := feet(w.Depth); got != tt.depth {
			t.Errorf("%s: depth %g ft, want %g", tt.on, got, tt.depth)
		}
		if got := feet(w.Static); got != tt.static {
			t.Errorf("%s: static level %g ft, want %g", tt.on, got, tt.static)
		}
		if (p.Supply.Pump.Power != nil) != tt.pump || len(w.Capacities) != tt.capacities {
			t.Errorf("%s: pump %v, capacities %v", tt.on, p.Supply.Pump.Power, w.Capacities)
		}
		if got := strings.Join(p.Used, " "); got != tt.used {
			t.Errorf("%s: used %q, want %q", tt.on, got, tt.used)
		}
		for _, s := range p.Signs {
			if s.ID == "slime_in_tank" && s.Seen != tt.slime {
				t.Errorf("%s: slime seen %v, want %v", tt.on, s.Seen, tt.slime)
			}
		}
	}
}

func feet(l *unit.Length) float64 {
	if l == nil {
		return 0
	}
	return l.Ft()
}

func TestPresentSaysWhereAFactIsFrom(t *testing.T) {
	p := present(t, history, "2025-05-02")
	for path, entry := range map[string]string{"well/depth": "1", "well/static level": "3", "well/pump/power": "1", "well/specific capacity": "3"} {
		if p.From[path] != entry {
			t.Errorf("%s is from entry %q, want %q", path, p.From[path], entry)
		}
	}
}

func TestTimeOfDay(t *testing.T) {
	text := "- entry: 1\n  date: 2025-04-14 15:00\n  well:\n    depth: 180 ft\n- entry: 2\n  date: 2025-04-14 09:00\n  well:\n    depth: 170 ft\n"
	b, found := Read("f.yaml", []byte(text))
	if len(found) > 0 {
		t.Fatal(found)
	}
	noon := time.Date(2025, 4, 14, 12, 0, 0, 0, time.UTC)
	if got := feet(b.Present(noon).Supply.Well.Depth); got != 170 {
		t.Errorf("at noon the depth is %g ft, want 170", got)
	}
	if got := feet(b.Present(noon.Truncate(24 * time.Hour)).Supply.Well.Depth); got != 180 {
		t.Errorf("by the end of the day the depth is %g ft, want 180: the later entry counts", got)
	}
}

// The fold must not depend on the order of the entries in the file.
func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawBook(t)
		b, found := Read("f.yaml", []byte(text))
		if len(found) > 0 {
			t.Fatalf("drawn book has findings %v\n%s", found, text)
		}
		asOf := time.Date(2025, 4, rapid.IntRange(13, 18).Draw(t, "as of"), 0, 0, 0, 0, time.UTC)
		want := b.Present(asOf)
		shuffle := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		mixed := &Book{Path: b.Path, Entries: append([]Entry(nil), b.Entries...)}
		shuffle.Shuffle(len(mixed.Entries), func(i, j int) {
			mixed.Entries[i], mixed.Entries[j] = mixed.Entries[j], mixed.Entries[i]
		})
		if d := difference(want, mixed.Present(asOf)); d != "" {
			t.Fatalf("order matters:\n%s\n%s", d, text)
		}
	})
}

// drawBook writes a book of entries on a few days that contradict, refine and
// correct one another.
func drawBook(t *rapid.T) string {
	sections := []string{
		"well:\n    depth: %d ft", "well:\n    static level: %d ft\n    specific capacity:\n      on: 2024\n      value: %[1]d gpm/ft",
		"well:\n    pump:\n      measured at the tank: %d gpm at 45 psi", "house:\n    people: %d\n    drains:\n      to: dry well\n      note: drain %[1]d",
		"house:\n    fixtures:\n      shower: %d", "equipment:\n    process: softener\n    size: size %d", "wishes:\n    budget: $%d",
		"signs:\n    - sign: slime in tank\n      words: slime %d", "signs:\n    - words: smell %d", "readings:\n    tap: T1\n    results:\n      total iron: %d mg/L",
		"jar tests:\n    test: settling\n    note: jar %d", "cultures:\n    of: iron bacteria\n    result: positive\n    day: %d",
		"factor:\n    name: softener_iron_allowance\n    value: %d\n    why: because", "local rules:\n    discharge: rule %d", "first call:\n    complaint: call %d",
	}
	n := rapid.IntRange(1, 12).Draw(t, "entries")
	days := make([]int, n)
	var b strings.Builder
	for i := range n {
		days[i] = rapid.IntRange(14, 16).Draw(t, "day")
		correction := ""
		if i > 0 && rapid.IntRange(0, 3).Draw(t, "corrects") == 0 {
			of := rapid.IntRange(0, i-1).Draw(t, "of")
			days[i] = max(days[i], days[of])
			correction = fmt.Sprintf("  correction:\n    of: %d\n    why: wrong\n", of+1)
		}
		section := fmt.Sprintf(rapid.SampledFrom(sections).Draw(t, "section"), rapid.IntRange(1, 9).Draw(t, "value"))
		fmt.Fprintf(&b, "- entry: %d\n  date: 2025-04-%d\n%s  %s\n", i+1, days[i], correction, section)
	}
	return b.String()
}
