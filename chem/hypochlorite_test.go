package chem

import (
	"testing"
	"time"

	"wellwright/unit"
)

func TestFreeAcidShare(t *testing.T) {
	m := standard()
	for _, tt := range []struct{ celsius, ph, percent float64 }{{10, 6.5, 93.9}, {10, 7, 83.1}, {10, 7.5, 60.8}, {10, 8, 32.9}, {10, 8.5, 13.4}} {
		near(t, "HOCl, %", 100*m.FreeAcidShare(unit.Celsius(tt.celsius), unit.PHOf(tt.ph)), tt.percent, 0.1, "derived apart from Morris 1966")
	}
	share := m.FreeAcidShare(unit.Celsius(25), unit.PHOf(7.8))
	nearRel(t, "free chlorine for 2 mg/L as HOCl", 2/share, 5.64, 0.02, "published exercise with pK 7.54; answer derived")
}

func TestStrength(t *testing.T) {
	near(t, "available chlorine of 6 % NaOCl by weight", WeightPercentNaOCl(6, 1.1).WeightPercentAvailable(1.1), 5.7, 0.05, "published: forum post with formulas")
	near(t, "trade per cent of 6 % NaOCl by weight", WeightPercentNaOCl(6, 1.1).TradePercent(), 6.3, 0.05, "published: forum post with formulas")
	near(t, "12.5 trade per cent", TradePercent(12.5).GPerLAvailable(), 125, 1e-9, "published: White 1972, trade per cent is g/L over 10")
	near(t, "by weight", TradePercent(12.5).WeightPercentAvailable(1.16), 10.8, 0.05, "published: pool-operator pages")
	b := WeightPercentNaOCl(6, 1.08)
	nearRel(t, "household bleach", b.GPerLAvailable(), 61.7, 0.01, "derived apart")
	nearRel(t, "feed, mL/min", 1000*b.FeedRate(unit.MgPerLAsCl2(4.72), unit.GPM(5)).LPerMin(), 1.45, 0.01, "derived apart")
	gal := GPerLAvailable(60).FeedRate(unit.MgPerLAsCl2(100), unit.GPM(5000)).GPM()
	near(t, "gallons to dose 5,000", gal, 8.33, 0.02, "published: dosing page")
}

func TestBleachAges(t *testing.T) {
	const (
		table = "published: pool-operator compilation of 12.5 % product"
		day   = 24 * time.Hour
	)
	for _, tt := range []struct {
		f    float64
		days int
		left float64
		rel  float64
	}{
		{80, 30, 9.93, 0.06}, {90, 30, 8.36, 0.06}, {70, 30, 11.11, 0.06}, {100, 30, 6.68, 0.15},
		{100, 7, 9.71, 0.15}, {90, 7, 10.92, 0.15}, {80, 7, 11.69, 0.06}, {70, 7, 12.12, 0.06},
	} {
		b, err := TradePercent(12.5).Aged(time.Duration(tt.days)*day, unit.Fahrenheit(tt.f))
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "strength left", b.TradePercent(), tt.left, tt.rel, table)
	}
	strong, _ := GPerLAvailable(200).Aged(day, unit.Celsius(20))
	weak, _ := GPerLAvailable(100).Aged(day, unit.Celsius(20))
	ratio := (200 - strong.GPerLAvailable()) / (100 - weak.GPerLAvailable())
	if ratio < 4 || ratio > 12 {
		t.Errorf("200 g/L loses %.1f times what 100 g/L does; want 4 to 12: twice the amount at a 4 to 5-fold rate constant of loss (published: hypochlorite industry page)", ratio)
	}
	if _, err := TradePercent(10).Aged(-day, unit.Celsius(20)); err == nil {
		t.Error("bleach aged backward")
	}
	if _, err := TradePercent(10).Aged(day, unit.Celsius(80)); err == nil {
		t.Error("bleach aged at 80 °C")
	}
}
