package cost

import (
	"testing"

	"wellwright/media"
	"wellwright/source"
)

// lines is labour and one each of some parts.
func lines(hours float64, parts ...media.Part) []Line {
	all := []Line{{Part: media.LabourHour, Amount: hours, Why: "fitting"}}
	for _, p := range parts {
		all = append(all, Line{Part: p, Amount: 1})
	}
	return all
}

func (l lineList) and(p media.Part, amount float64) lineList {
	return append(l, Line{Part: p, Amount: amount})
}

type lineList []Line

// bedUnit is one backwashing vessel with its valve, fitted.
func bedUnit(vessel, valve, medium media.Part, ft3 float64) lineList {
	return lineList(lines(5, vessel, valve, media.Connections, media.DrainLine)).and(medium, ft3)
}

// startedUp is a bed whose start-up takes a second visit.
func startedUp(l lineList) lineList { return l.and(media.Visit, 1) }

// feedUnit is a feed pump with its tank, fitted.
func feedUnit() lineList {
	return lines(4, media.FeedPump, media.SolutionTank, media.InjectionFittings, media.FeedRelay, media.Visit)
}

// Complete installed units from the price list must fall in the ranges dealers
// quote for a three-bath house (2024 US dollars, common practice, ± 40 %).
func TestInstalledUnits(t *testing.T) {
	join := func(lists ...lineList) lineList {
		var all lineList
		for _, l := range lists {
			all = append(all, l...)
		}
		return all
	}
	v8, v10, v12, v13 := media.Part("vessel 8 x 44"), media.Part("vessel 10 x 54"), media.Part("vessel 12 x 52"), media.Part("vessel 13 x 54")
	contact := lines(1.5, "contact tank 120 gal", media.Connections)
	tests := []struct {
		name      string
		bill      lineList
		low, high float64
	}{
		{"cartridge housing", lines(1, media.LargeHousing, media.LargeElement, media.Connections), 150, 500},
		{"backwashing sediment filter", bedUnit(v12, media.TimerValve, media.MultimediaFt3, 2), 900, 2000},
		{"pressure aeration, retention and filter", join(
			lines(6, media.AirPump, media.BubbleAerationTank, media.AirRelease, media.Connections, media.FeedRelay),
			bedUnit(v12, media.TimerValve, media.CoatedSandFt3, 2)), 2500, 5500},
		{"air-injection filter", startedUp(bedUnit(v10, media.AirDrawValve, media.CoatedSandFt3, 1.5)), 1400, 3200},
		{"greensand with permanganate charges", startedUp(bedUnit(v10, media.TimerValve, media.GreensandFt3, 1.5)).and(media.PermanganatePot, 1), 1500, 3500},
		{"coated sand with continuous chlorine", join(feedUnit(), bedUnit(v12, media.TimerValve, media.CoatedSandFt3, 2)), 2500, 5000},
		{"lightweight coated media", bedUnit(v10, media.TimerValve, media.LightweightFt3, 1.5), 1000, 2000},
		{"solid ore", startedUp(bedUnit(v10, media.TimerValve, media.ManganeseOreFt3, 1.5)), 1800, 4000},
		{"copper-zinc bed", bedUnit(v8, media.TimerValve, media.CopperZincFt3, 0.5), 1500, 3500},
		{"chlorine, contact, coated sand and carbon", join(feedUnit(), contact,
			bedUnit(v12, media.TimerValve, media.CoatedSandFt3, 2), bedUnit(v10, media.TimerValve, media.CarbonFt3, 1.5)), 3500, 7500},
		{"peroxide feed and catalytic carbon", join(feedUnit(), contact, bedUnit(v12, media.TimerValve, media.CatalyticCarbonFt3, 2)), 3000, 6000},
		{"ozone, contact and filter", join(lines(6, media.OzoneUnit, media.VentKit, media.AirRelease), contact,
			bedUnit(v12, media.TimerValve, media.MultimediaFt3, 2)), 5000, 12000},
		{"softener, 1.5 ft3", bedUnit(v10, media.MeterValve, media.ResinFt3, 1.5).and(media.BrineTank, 1), 1200, 3500},
		{"softener, 2.5 ft3", bedUnit(v13, media.MeterValve, media.Resin10Ft3, 2.5).and(media.BrineTank, 1), 1200, 3500},
		{"tannin unit", startedUp(bedUnit(v10, media.MeterValve, media.TanninResinFt3, 1.5)).and(media.BrineTank, 1), 1800, 3500},
		{"nitrate unit", startedUp(bedUnit(v10, media.MeterValve, media.NitrateResinFt3, 1.5)).and(media.BrineTank, 1), 1800, 3500},
		{"whole-house carbon", bedUnit(v10, media.TimerValve, media.CarbonFt3, 1.5), 900, 2500},
		{"calcite bed", bedUnit(v10, media.TimerValve, media.CalciteFt3, 1.5), 900, 2000},
		{"soda ash feed", feedUnit(), 900, 2000},
		{"ultraviolet, class A", lines(3, media.UltravioletUnit, media.LargeHousing, media.LargeElement, media.Connections), 900, 2200},
		{"kitchen reverse osmosis", lines(2, media.OsmosisUnit), 300, 1200},
		{"arsenic adsorber, lead and lag", join(bedUnit(v10, media.TimerValve, media.ArsenicMediumFt3, 1.5),
			bedUnit(v10, media.TimerValve, media.ArsenicMediumFt3, 1.5)), 3000, 6500},
		{"radon aeration", lines(8, media.RadonAerator, media.VentKit, media.Connections, media.BoosterPump), 4000, 7500},
		{"well rehabilitation", lines(0, media.PullPump, media.DownholeVideo, media.WellCleaningDay), 1000, 5000},
	}
	for _, tt := range tests {
		a := Work(Bill{First: tt.bill}, media.Prices(), source.Set{}, nil)
		if len(a.Missing) > 0 || len(a.Doubts) > 0 {
			t.Errorf("%s: missing %v, doubts %v", tt.name, a.Missing, a.Doubts)
		}
		if mid := a.First.Mid.USD(); mid < tt.low || mid > tt.high {
			t.Errorf("%s: %s, want within $%g to $%g (common practice, 2024)", tt.name, a.First, tt.low, tt.high)
		}
		if a.First.Low.USD() < tt.low*0.85 || a.First.High.USD() > tt.high*1.15 {
			t.Errorf("%s: %s strays more than 15 %% from $%g to $%g", tt.name, a.First, tt.low, tt.high)
		}
	}
}

// What plants use up in a year must fall in the ranges of the trade.
func TestYearlyCosts(t *testing.T) {
	tests := []struct {
		name      string
		bill      Bill
		low, high float64
	}{
		{"softener on 900 lb of salt", Bill{
			Yearly:   []Use{{Part: media.SaltLb, PerYear: 900}, {Part: media.ResinCleanerLb, PerYear: 2}},
			Renewals: []Renewal{{Part: media.ResinFt3, Amount: 1.5, EveryYears: Years{Mid: 10}}},
		}, 100, 350},
		{"ultraviolet", Bill{
			Yearly:   []Use{{Part: media.UltravioletLamp, PerYear: 1}, {Part: media.LargeElement, PerYear: 2}, {Part: media.ElectricityKWh, PerYear: 260}},
			Renewals: []Renewal{{Part: media.UltravioletSleeve, Amount: 1, EveryYears: Years{Mid: 3}}},
		}, 120, 250},
		{"chlorine, contact, coated sand and carbon", Bill{
			Yearly: []Use{{Part: media.HypochloriteGal, PerYear: 15}, {Part: media.Visit, PerYear: 1}, {Part: media.ElectricityKWh, PerYear: 100}},
			Renewals: []Renewal{{Part: media.CoatedSandFt3, Amount: 2, EveryYears: Years{Mid: 8}}, {Part: media.CarbonFt3, Amount: 1.5, EveryYears: Years{Mid: 4}},
				{Part: media.FeedPump, Amount: 1, EveryYears: Years{Mid: 5}}},
		}, 250, 700},
		{"kitchen reverse osmosis", Bill{
			Yearly:   []Use{{Part: media.OsmosisFilters, PerYear: 1.5}},
			Renewals: []Renewal{{Part: media.OsmosisMembrane, Amount: 1, EveryYears: Years{Mid: 3}}},
		}, 80, 250},
	}
	for _, tt := range tests {
		a := Work(tt.bill, media.Prices(), source.Set{}, nil)
		if mid := a.Yearly.Mid.USD(); mid < tt.low || mid > tt.high || len(a.Missing) > 0 {
			t.Errorf("%s: %s a year, want within $%g to $%g (common practice, 2024); missing %v", tt.name, a.Yearly, tt.low, tt.high, a.Missing)
		}
	}
}
