package plan

import (
	"math"
	"os"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/media"
	"wellwright/unit"
)

// deskOf opens a bundled reference well.
func deskOf(t *testing.T, name string) *Desk {
	t.Helper()
	text, err := os.ReadFile("../book/testdata/scenario-" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	b, found := book.Read(name, text)
	if bad := book.Mistakes(found); len(bad) > 0 {
		t.Fatal(bad)
	}
	d, err := Open(b.Present(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)), Ask{Prices: Prices()})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A feed started right costs nothing more; one that must change by feed_visit_at
// costs a callback and no more than that until its pump is too small. Exactly at
// its most the pump still gives the dose.
func TestFeedLoss(t *testing.T) {
	d := deskOf(t, "f")
	c := d.set.Of(callback)
	pump, _ := d.ask.Prices.Of(media.FeedPump)
	f := &feedStart{dose: 10, top: 20}
	for _, tt := range []struct{ asks, want float64 }{
		{10, 0}, {10 * (1 - d.set.Of(feedVisitAt)/2), c / 4}, {10 * (1 + d.set.Of(feedVisitAt)), c}, {20, c}, {20.01, 2*c + float64(pump.Mid)/100}, {0, c},
	} {
		if got := d.feedLoss(f, tt.asks); math.Abs(got-tt.want) > 1e-6 {
			t.Errorf("asked for %g: loss %g, want %g (the rule as its comment writes it)", tt.asks, got, tt.want)
		}
	}
}

// A water that meets every target costs nothing untreated; ten times the iron
// costs a year's untreated_iron_usd, a hundred times no more.
func TestUntreated(t *testing.T) {
	d := deskOf(t, "a")
	x := d.Cloud.Middle()
	want := d.Work.Want
	x.Water.Ferrous, x.Water.Particulate, x.Water.Bound = want.Iron, unit.MgPerL(0), unit.MgPerL(0)
	x.Water.Manganese, x.Water.ManganeseOx, x.Water.Sulfide = want.Manganese, unit.MgPerL(0), want.Sulfide
	x.Water.Calcium, x.Water.Magnesium = unit.MgPerL(0), unit.MgPerL(0)
	if got := d.untreated(&x); got != 0 {
		t.Errorf("a water on its targets costs %g untreated, want 0: on the limit is met", got)
	}
	year := d.set.Of(untreatedIron) * d.set.Of(lossYears)
	for times, w := range map[float64]float64{10: year, 100: year, math.Sqrt(10): year / 2} {
		x.Water.Ferrous = unit.MgPerL(times * want.Iron.MgPerL())
		if got := d.untreated(&x); math.Abs(got-w) > 1e-6*year {
			t.Errorf("%g times the iron costs %g, want %g (the rule as its comment writes it)", times, got, w)
		}
	}
}

// On the mean the best start of each train costs what the train is ranked by, and
// no draw is better for doing nothing unless its water is better than believed.
func TestLossesKeepTheOrder(t *testing.T) {
	for _, name := range []string{"a", "f"} {
		d := deskOf(t, name)
		if len(d.Cloud.Draws) < fewestForTests {
			t.Skip("too few plausible waters")
		}
		c := d.choose(d.priced(d.Work.Search().Trains))
		ds := d.decisions(c)
		losses := d.lossesOf(ds, c)
		least := map[*ranked]float64{}
		for k, x := range ds {
			if m := meanOf(losses, k); x.train != nil && (least[x.train] == 0 || m < least[x.train]) {
				least[x.train] = m
			}
		}
		for r, m := range least {
			if math.Abs(m-r.expected) > 0.01 {
				t.Errorf("%s: %s costs %g on the mean, ranked by %g", name, r.Train, m, r.expected)
			}
		}
		last := len(ds) - 1
		if ds[last].train != nil {
			continue
		}
		for i, row := range losses {
			nothing := row[last] < lowestOf(row[:last])
			if believed := meanOf(losses, last); nothing && row[last] > believed {
				t.Fatalf("%s, draw %d: doing nothing is best in a water worse than believed", name, i)
			}
		}
	}
}

func lowestOf(vs []float64) float64 {
	least := math.Inf(1)
	for _, v := range vs {
		least = math.Min(least, v)
	}
	return least
}
