package media

import (
	"math"
	"strings"
	"testing"

	"wellwright/source"
	"wellwright/unit"
)

func mediumOf(t *testing.T, p Process) Medium {
	t.Helper()
	m, ok := MediumFor(p)
	if !ok {
		t.Fatalf("%s has no medium", p)
	}
	return m
}

// Public-supply rules for backwash, read in the text.
func TestPublicBackwash(t *testing.T) {
	tests := []struct {
		p         Process
		low, high float64
		source    string
	}{
		{GreensandFilter, 8, 10, "published: Wisconsin NR 811.52; Oklahoma 252:626-9-7"},
		{CoatedSandFilter, 15, 20, "published: Wisconsin NR 811.52"},
		{SedimentFilter, 15, 18, "published: Wisconsin NR 811.495 (15); Davis, table 11-10 (37 to 45 m/h)"},
	}
	for _, tt := range tests {
		f := mediumOf(t, tt.p).BackwashPublic
		if f.Low != tt.low || f.High != tt.high {
			t.Errorf("%s: public backwash %g to %g gpm/ft2, want %g to %g (%s)", tt.p, f.Low, f.High, tt.low, tt.high, tt.source)
		}
	}
	// 37 and 45 m/h in gpm/ft2, by definition of the units.
	for _, tt := range []struct{ mh, gpm float64 }{{37, 15.1}, {45, 18.4}} {
		if got := tt.mh / 2.445; math.Abs(got-tt.gpm) > 0.05 {
			t.Errorf("%g m/h is %.1f gpm/ft2, want %g", tt.mh, got, tt.gpm)
		}
	}
}

// Grain sizes, gravities and shapes must stand in the printed bands.
func TestGrainsStandInTheirBands(t *testing.T) {
	const davis = "published: Davis, Water and Wastewater Engineering, table 11-1"
	const trade = "common practice, no source"
	tests := []struct {
		p                            Process
		d10Low, d10High, uMost       float64
		sgLow, sgHigh, epsLow, epsHi float64
		source                       string
	}{
		{SedimentFilter, 0.3, 0.6, 1.8, 2.55, 2.65, 0.40, 0.47, davis + " (sand)"},
		{CarbonFilter, 0.55, 1.0, 2.4, 1.3, 1.7, 0.5, 0.5, davis + "; the finer household grade from 0.55 is " + trade},
		{GreensandFilter, 0.30, 0.35, 1.6, 2.4, 2.4, 0.45, 0.50, "published: US EPA text on greensand (second hand); porosity " + trade},
		{CoatedSandFilter, 0.30, 0.35, 1.6, 2.4, 2.6, 0.45, 0.45, trade},
		{AirInjectionFilter, 0.30, 0.35, 1.6, 2.4, 2.6, 0.45, 0.45, trade},
		{ManganeseOreFilter, 0.40, 0.60, 1.7, 3.8, 4.2, 0.45, 0.50, trade},
		{LightweightFilter, 0.48, 0.61, 2.7, 1.5, 1.6, 0.55, 0.60, trade},
		{CalciteBed, 0.30, 0.55, 2.0, 2.7, 2.7, 0.45, 0.45, trade},
		{Softener, 0.40, 0.55, 1.7, 1.22, 1.30, 0.36, 0.40, trade},
	}
	for _, tt := range tests {
		g := mediumOf(t, tt.p).Grains
		in := func(what string, v, low, high float64) {
			if v < low-1e-9 || v > high+1e-9 {
				t.Errorf("%s: %s %g, want %g to %g (%s)", tt.p, what, v, low, high, tt.source)
			}
		}
		in("effective size", g.D10.MM(), tt.d10Low, tt.d10High)
		in("uniformity", g.Uniformity(), 1, tt.uMost)
		in("specific gravity", g.SpecificGravity, tt.sgLow, tt.sgHigh)
		in("porosity", g.Porosity, tt.epsLow, tt.epsHi)
	}
}

// What fills a cubic foot must weigh what the grains and the room between them
// say: gravity × (1 − porosity) × 62.4 lb/ft3. Porous grains are left out, as
// their gravity is that of the wet grain.
func TestBulkWeightAgreesWithPorosity(t *testing.T) {
	for _, p := range []Process{CoatedSandFilter, AirInjectionFilter, GreensandFilter, ManganeseOreFilter, CopperZincFilter, CalciteBed, MagnesiaBlendBed, Softener} {
		m := mediumOf(t, p)
		got := m.Grains.SpecificGravity * (1 - m.Grains.Porosity) * 62.4
		if want := m.Grains.Bulk.Value; math.Abs(got/want-1) > 0.1 {
			t.Errorf("%s: grains make %.0f lb/ft3, sold as %g (within a tenth: common practice)", m.ID, got, want)
		}
	}
}

// The usual wash must lift each bed by what the trade expects, at 10 °C, and the
// head loss of a clean bed must be that of the handbook formula at 5 gpm/ft2.
func TestUsualWashLiftsTheBed(t *testing.T) {
	tests := []struct {
		p         Process
		low, high float64 // expansion
		source    string
	}{
		{GreensandFilter, 0.35, 0.40, "common practice 35 to 40 %"},
		{CoatedSandFilter, 0.30, 0.40, "common practice 30 to 40 %"},
		{AirInjectionFilter, 0.25, 0.40, "common practice 30 to 40 % at a little more flow"},
		{ManganeseOreFilter, 0.15, 0.30, "common practice 15 to 30 %"},
		{LightweightFilter, 0.20, 0.40, "common practice 20 to 40 %"},
		{CalciteBed, 0.30, 0.40, "common practice 35 %"},
		{CarbonFilter, 0.30, 0.40, "common practice 30 to 40 %"},
		{CatalyticCarbonFilter, 0.30, 0.50, "common practice 30 to 50 %"},
		{SedimentFilter, 0.15, 0.50, "common practice 15 to 50 %"},
		{Softener, 0.45, 0.75, "common practice 50 to 75 %; control-valve tables 50 %"},
		{CopperZincFilter, 0.08, 0.25, "common practice 10 %"},
	}
	for _, tt := range tests {
		m := mediumOf(t, tt.p)
		got := m.Grain().Expansion(unit.GPMPerFt2(m.Backwash.Value), unit.Celsius(10))
		if got < tt.low || got > tt.high {
			t.Errorf("%s: %g gpm/ft2 lifts the bed by %.0f %%, want %.0f to %.0f (%s)", m.ID, m.Backwash.Value, 100*got, 100*tt.low, 100*tt.high, tt.source)
		}
	}
}

// No grain may wash out at the usual rate in the coldest water a well gives, 4 °C.
func TestColdWashStaysInTheVessel(t *testing.T) {
	for _, p := range Processes() {
		m, ok := MediumFor(p)
		if !ok || p == Softener || p == CatalyticCarbonFilter {
			continue // these two are near their freeboard in cold water: their stage warns
		}
		if got := m.Grain().Expansion(unit.GPMPerFt2(m.Backwash.Value), unit.Celsius(4)); got > m.Freeboard {
			t.Errorf("%s: at 4 °C the wash lifts the bed by %.0f %%, more than its freeboard of %.0f %%", m.ID, 100*got, 100*m.Freeboard)
		}
	}
}

// Every medium is whole: rates rise from caution to refusal, ranges hold their
// defaults, and its cubic foot has a price.
func TestMediaAreWhole(t *testing.T) {
	for _, p := range Processes() {
		m, ok := MediumFor(p)
		if !ok {
			continue
		}
		if m.ServiceCaution.Value >= m.ServiceRefuse.Value {
			t.Errorf("%s: caution at %g, refusal at %g", m.ID, m.ServiceCaution.Value, m.ServiceRefuse.Value)
		}
		if m.MinBed.Inches() < 6 || m.Freeboard <= 0 || m.Grains.From == "" {
			t.Errorf("%s: %+v is not whole", m.ID, m)
		}
		if price, ok := Prices().Of(m.Part); !ok || price.Per != "ft3" {
			t.Errorf("%s: %q has no price by the cubic foot", m.ID, m.Part)
		}
	}
}

// Figures on which the house has decided.
func TestHouseFigures(t *testing.T) {
	coated := mediumOf(t, CoatedSandFilter)
	for _, tt := range []struct {
		f    source.Factor
		want float64
	}{{coated.ServiceCaution, 5}, {coated.ServiceRefuse, 12}, {coated.Backwash, 12}} {
		if tt.f.Value != tt.want {
			t.Errorf("%s = %g, want %g (common practice)", tt.f.Name, tt.f.Value, tt.want)
		}
	}
}

// Every factor has a name of its own, a source, and a default within its range.
func TestFactorsAreSound(t *testing.T) {
	all := Factors()
	if _, err := source.NewRegister(all); err != nil {
		t.Error(err)
	}
	for _, f := range all {
		if f.Name == "" || f.What == "" || f.From == "" {
			t.Errorf("factor %+v is not whole", f)
		}
		if f.HasRange() && (f.Low > f.Value || f.Value > f.High) {
			t.Errorf("%s: %g is not within %g to %g", f.Name, f.Value, f.Low, f.High)
		}
	}
}

// No kind is dressed up as a better one.
func TestKindsAreHonest(t *testing.T) {
	for _, f := range Factors() {
		if strings.Contains(f.From, "our judgement") && f.Kind != source.Judgement {
			t.Errorf("%s is %s and rests on our judgement: %s", f.Name, f.Kind, f.From)
		}
		if strings.Contains(f.From, "from memory") && f.Kind == source.Published {
			t.Errorf("%s is published and from memory: %s", f.Name, f.From)
		}
	}
}
