package stage

import (
	"testing"

	"wellwright/media"
)

// The exchangers, the adsorber, the ozone feed and the radon aerator are run lean to
// the same figures as in full, and leave words and money out.
func TestLeanRunOfTheFurtherStages(t *testing.T) {
	for _, x := range []struct {
		p Process
		g given
	}{
		{nitrateExchanger{}, orchard()}, {tanninExchanger{}, brown()}, {arsenicAdsorber{}, granite()},
		{radonAeration{}, ledge()}, {ozoneFeed{}, swampy()},
	} {
		for _, w := range append([]Way{{}}, x.p.Ways()...) {
			j := x.g.job(t)
			j.Fault = w.ID
			for _, z := range x.p.Sizes(j) {
				full := x.p.Run(j, z)
				lean := *j
				lean.Lean = true
				o := x.p.Run(&lean, z)
				checkLean(t, placed{"further", x.p, j, z}, full, o)
				if len(o.Bill.First)+len(o.Cautions)+len(o.WillNot) > 0 {
					t.Errorf("%s: a lean run has a bill or words", x.p.ID())
				}
			}
		}
	}
}

// The usual household units come to installed prices that the trade quotes.
func TestFurtherStagesCostWhatTheTradeQuotes(t *testing.T) {
	const from = "common practice, 2024 dollars, installed, give or take 40 %"
	for _, tt := range []struct {
		p         Process
		g         given
		low, high float64
	}{
		{nitrateExchanger{}, orchard(), 1800, 3500}, {tanninExchanger{}, brown(), 1800, 3500},
		{radonAeration{}, ledge(), 4000, 7500}, {ozoneFeed{}, swampy(), 4000, 12000},
	} {
		j := tt.g.job(t)
		sum := 0.0
		for _, l := range tt.p.Run(j, tt.p.Sizes(j)[0]).Bill.First {
			price, _ := media.Prices().Of(l.Part)
			sum += l.Amount * float64(price.Mid) / 100
		}
		t.Logf("%s: %.0f dollars", tt.p.ID(), sum)
		within(t, string(tt.p.ID())+": installed, dollars", sum, tt.low*0.6, tt.high*1.4, from)
	}
	j := granite().job(t)
	sum := 0.0
	for _, l := range (arsenicAdsorber{}).Run(j, adsorberSize(t, "14 x 65", LeadLag)).Bill.First {
		price, _ := media.Prices().Of(l.Part)
		sum += l.Amount * float64(price.Mid) / 100
	}
	t.Logf("arsenic-adsorber, lead and lag: %.0f dollars", sum)
	within(t, "arsenic-adsorber in lead and lag, dollars", sum, 3000*0.6, 6500*1.4, from)
}

func BenchmarkFurtherStages(b *testing.B) {
	for _, x := range []struct {
		p Process
		g given
	}{
		{nitrateExchanger{}, orchard()}, {tanninExchanger{}, brown()}, {arsenicAdsorber{}, granite()},
		{radonAeration{}, ledge()}, {ozoneFeed{}, swampy()},
	} {
		j := x.g.job(b)
		z := x.p.Sizes(j)[0]
		j.Lean = true
		b.Run(string(x.p.ID()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				x.p.Run(j, z)
			}
		})
	}
}
