package nexttest

import (
	"strings"
	"testing"
	"time"

	"wellwright/water"
)

const protocol = "sampling protocol of certified-laboratory lists, citing Standard Methods 2005, and 40 CFR 141.852 for coliform"

// A whole round of reference well c has five bottles: raw acidified, raw filtered
// and acidified, general, bacteria and first draw; first draw is filled first and
// bacteria last.
func TestFiveBottles(t *testing.T) {
	round := Round([]Want{
		{Analyte: water.TotalColiform}, {Analyte: water.EColi}, {Analyte: water.Iron, Fraction: water.Total}, {Analyte: water.Iron, Fraction: water.Dissolved},
		{Analyte: water.Manganese, Fraction: water.Dissolved}, {Analyte: water.Arsenic}, {Analyte: water.Alkalinity}, {Analyte: water.Chloride},
		{Analyte: water.Nitrate}, {Analyte: water.Lead, FirstDraw: true}, {Analyte: water.Iron, Fraction: water.Total}, {Analyte: water.PH},
	})
	want := []struct {
		preserve string
		holds    int
		hold     time.Duration
	}{
		{"nitric acid at the laboratory", 1, 4380 * time.Hour}, // 6 months
		{"cool", 3, 48 * time.Hour},                            // nitrate rules
		{"nitric acid to pH below 2", 2, 4380 * time.Hour},
		{"filter 0.45", 2, 4380 * time.Hour},
		{"thiosulfate", 2, 30 * time.Hour},
	}
	if len(round) != len(want) {
		t.Fatalf("%d bottles, want %d (%s): %+v", len(round), len(want), protocol, round)
	}
	for i, w := range want {
		b := round[i]
		if !strings.Contains(b.Preserve, w.preserve) || len(b.Wants) != w.holds || b.Hold != w.hold {
			t.Errorf("bottle %d: %q with %d analytes, hold %s; want %q, %d, %s (%s)", i+1, b.Preserve, len(b.Wants), b.Hold, w.preserve, w.holds, w.hold, protocol)
		}
	}
	if round[0].Tap != "K" || !strings.Contains(round[0].Draw, "first draw") {
		t.Errorf("lead is drawn at %s, %s", round[0].Tap, round[0].Draw)
	}
}

// Acid, zinc and glass each keep to a bottle of their own, and nothing asked for
// is lost.
func TestEachPreservativeHasItsBottle(t *testing.T) {
	ws := []Want{
		{Analyte: water.TOC}, {Analyte: water.Ammonia}, {Analyte: water.Sulfide}, {Analyte: water.Iron, Fraction: water.Total},
		{Analyte: water.Uranium}, {Analyte: water.IronBacteria}, {Analyte: Microscopy}, {Analyte: water.Tannin}, {Analyte: water.Sulfate}, {Analyte: water.TotalColiform},
	}
	round, got := Round(ws), 0
	for i, b := range round {
		got += len(b.Wants)
		if i > 0 && b.turn < round[i-1].turn {
			t.Errorf("%v is out of turn", b.Wants)
		}
		if b.Container == "" || b.Preserve == "" || b.Note == "" {
			t.Errorf("bottle %+v says too little", b)
		}
	}
	if len(round) != len(ws) || got != len(ws) {
		t.Errorf("%d bottles with %d analytes, want %d (%s): each is kept in its own way", len(round), got, len(ws), protocol)
	}
	if round[0].turn != growthFirst || round[len(round)-1].turn != sterile {
		t.Error("growth is drawn before flushing and germs last")
	}
}
