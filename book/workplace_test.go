package book

import (
	"strings"
	"testing"
)

const parlour = `- entry: 1
  date: 2025-08-04
  house:
    people: 4
    service connections: 3
    taken off before treatment: [hose]
    branches:
      - name: parlour
        peak: 18 gpm
      - name: cows
        treat: no
        peak: 4 gpm
        use: 700 gal/day
        at night: yes
      - workshop
    shifts:
      - {name: morning, from: "04:30", to: "08:30", days: 7, peak: 18 gpm, use: 560 gal}
      - {from: "22:00", to: "02:00"}
- entry: 2
  date: 2025-09-04
  house:
    branches:
      - {name: cows, treat: no, use: 800 gal/day}
`

// A workplace is read as it is written; a later entry replaces a branch of the same
// name and leaves the rest, shifts too. Source: the rules of docs/book.md.
func TestReadWorkplace(t *testing.T) {
	b, found := Read("parlour.yaml", []byte(parlour))
	if bad := Mistakes(found); len(bad) > 0 {
		t.Fatal(bad)
	}
	h := b.Present(b.Entries[1].On).House
	if len(h.Branches) != 3 || len(h.Shifts) != 2 || h.Connected != 3 || len(h.TakenOff) != 1 {
		t.Fatalf("branches %v, shifts %v, connections %d, taken off %v", h.Branches, h.Shifts, h.Connected, h.TakenOff)
	}
	cows := h.Branches[2]
	if cows.Name != "cows" || !cows.Raw() || cows.Use.GalPerDay() < 799 || cows.Peak != nil {
		t.Errorf("cows %+v, want raw with 800 gal/day and nothing kept of the entry before", cows)
	}
	if s := h.Shifts[0]; s.From != 270 || s.To != 510 || s.Days != 7 || s.Use.Gal() != 560 {
		t.Errorf("shift %+v, want 04:30 to 08:30 with 560 gal", s)
	}
	if s := h.Shifts[1]; s.Minutes() != 240 {
		t.Errorf("a shift over midnight lasts %g min, want 240", s.Minutes())
	}
}

func TestWorkplaceMistakes(t *testing.T) {
	for _, tt := range []struct{ from, to, say string }{
		{`from: "04:30", to: "08:30", days`, `from: "25:00", to: "08:30", days`, "time of day"},
		{`from: "04:30", to`, `to`, "from"},
		{"peak: 4 gpm", "peak: -4 gpm", "negative"},
		{"days: 7", "days: 8", "days"},
		{"treat: no", "treat: perhaps", "neither yes nor no"},
		{"service connections: 3", "service connections: some", "whole number"},
	} {
		_, found := Read("parlour.yaml", []byte(strings.Replace(parlour, tt.from, tt.to, 1)))
		bad := Mistakes(found)
		if len(bad) == 0 || !strings.Contains(bad[0].Error(), tt.say) {
			t.Errorf("%q in place of %q: %v, want a mistake that speaks of %q", tt.to, tt.from, bad, tt.say)
		}
	}
}
