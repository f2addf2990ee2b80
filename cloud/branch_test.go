package cloud

import (
	"math"
	"testing"

	"wellwright/source"
	"wellwright/unit"
	"wellwright/well"
)

// partedHouse is a house of 1,800 gal/day that peaks at 18 gpm, with branches.
func partedHouse(branches ...well.Branch) well.House {
	h := well.House{Daily: ptr(unit.GalPerDay(1800)), Peak: ptr(unit.GPM(18)), Branches: branches}
	return h
}

// What is on raw water and what is treated add up to the house, and no treated branch
// is sized for less than it was said to draw: Q = max(Q0 - Qr, Qt) (water balance).
func TestBranchesParted(t *testing.T) {
	no := false
	raw := func(gpm, gal float64) well.Branch {
		return well.Branch{Name: "cows", Treated: &no, Peak: ptr(unit.GPM(gpm)), Use: ptr(unit.GalPerDay(gal))}
	}
	treated := func(gpm, gal float64) well.Branch {
		return well.Branch{Name: "parlour", Peak: ptr(unit.GPM(gpm)), Use: ptr(unit.GalPerDay(gal))}
	}
	for _, tt := range []struct {
		name                 string
		h                    well.House
		peak, daily, use     float64 // gpm and gal/day behind the treatment, gal/day in all
		rawPeak, night, left float64
		doubt                bool
	}{
		{"nothing parted", partedHouse(), 18, 1800, 1800, 0, 0, 0, false},
		{"drinkers on raw water", partedHouse(raw(4, 700)), 14, 1100, 1800, 4, 4, 700, false},
		{"and a parlour that draws the whole peak by itself", partedHouse(raw(4, 700), treated(18, 1100)), 18, 1100, 1800, 4, 4, 700, false},
		{"treated branches that use more than is left", partedHouse(raw(4, 700), treated(10, 1300)), 14, 1300, 2000, 4, 4, 700, false},
		{"a raw branch of the whole peak", partedHouse(raw(18, 700)), 18, 1100, 1800, 18, 18, 700, false},
		{"a raw branch said to use it all", partedHouse(raw(4, 1800)), 14, 1800, 1800, 4, 4, 0, true},
	} {
		s := believeSupply(Evidence{House: tt.h}, source.NewSet(nil))
		got, err := s.middle(0, 0)
		if err != nil {
			t.Fatal(err)
		}
		near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6*(1+b) }
		if !near(got.Peak.GPM(), tt.peak) || !near(got.Daily.GalPerDay(), tt.daily) || !near(got.Use().GalPerDay(), tt.use) ||
			!near(got.Raw.Peak.GPM(), tt.rawPeak) || !near(got.Raw.Night.GPM(), tt.night) || !near(got.Raw.Use.GalPerDay(), tt.left) {
			t.Errorf("%s: %s and %.0f gal/day treated, %.0f in all, raw %+v; want %g, %g, %g", tt.name, got.Peak, got.Daily.GalPerDay(), got.Use().GalPerDay(), got.Raw, tt.peak, tt.daily, tt.use)
		}
		doubted := false
		for _, f := range s.found {
			doubted = doubted || f.ID == "branches_use"
		}
		if doubted != tt.doubt {
			t.Errorf("%s: doubted %t, want %t", tt.name, doubted, tt.doubt)
		}
	}
}

// A peak counted from bathrooms is that of the house behind the treatment: nothing is
// taken off it. Shifts give peak, its length and the use where the house has none.
func TestShiftsGivePeakAndUse(t *testing.T) {
	no := false
	cows := well.Branch{Name: "cows", Treated: &no, Peak: ptr(unit.GPM(4)), Use: ptr(unit.GalPerDay(700))}
	counted := believeSupply(Evidence{House: well.House{Baths: ptr(2.0), Daily: ptr(unit.GalPerDay(1000))}}, source.NewSet(nil))
	parted := believeSupply(Evidence{House: well.House{Baths: ptr(2.0), Daily: ptr(unit.GalPerDay(1000)), Branches: []well.Branch{cows}}}, source.NewSet(nil))
	if counted.peak != parted.peak {
		t.Errorf("bathrooms peak at %s, with raw cows at %s", counted.peak, parted.peak)
	}
	h := well.House{Branches: []well.Branch{cows}, Shifts: []well.Shift{
		{From: 270, To: 510, Days: 5, Peak: ptr(unit.GPM(18)), Use: ptr(unit.Gal(560))},
		{From: 930, To: 1110, Peak: ptr(unit.GPM(14)), Use: ptr(unit.Gal(420))},
	}}
	s := believeSupply(Evidence{House: h}, source.NewSet(nil))
	if want := 560*5.0/7 + 420; math.Abs(s.daily-want) > 1e-6 {
		t.Errorf("the shifts use %.1f gal/day behind the treatment, want 560 x 5/7 + 420 = %.1f", s.daily, want)
	}
	if s.peak.GPM() != 14 || math.Abs(s.lasts-560.0/18) > 1e-9 {
		t.Errorf("peak %s for %.1f min, want 18 less 4 of the raw branch for 31.1", s.peak, s.lasts)
	}
}
