package media

import (
	"testing"
	"time"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

// poreTime is how long water at a loading stays in the pores of a bed.
func poreTime(m Medium, depthIn, gpmPerFt2 float64) time.Duration {
	minutes := unit.Ft3(depthIn/12).Gal() / gpmPerFt2 * m.Grains.Porosity
	return time.Duration(minutes * float64(time.Minute))
}

// afterBed lets a water of alkalinity 200 mg/L stand in the pores of a bed.
func afterBed(t *testing.T, m Medium, ph float64, stay time.Duration, fill func(*chem.Mix)) chem.Mix {
	t.Helper()
	model := chem.New(source.Set{})
	c := chem.Conditions{Temperature: unit.Celsius(10), Ionic: chem.IonicMolPerL(0.006), Law: chem.MiddleLaw}
	alk := unit.AlkalinityAsCaCO3(200)
	x := chem.Mix{Alkalinity: alk, Carbon: model.Carbonate(c.Temperature, c.Ionic).Carbon(unit.PHOf(ph), alk)}
	fill(&x)
	out, err := model.React(x, c, chem.Vessel{Time: stay, Surface: m.Surface(source.Set{})})
	if err != nil {
		t.Fatalf("%s: %v", m.ID, err)
	}
	return out
}

// Common practice: at rated flow, 10 °C, with oxygen, the catalytic beds polish
// ferrous iron at pH 7.0 and pass it at pH 6.5; the lightweight bed does somewhat
// less; plain beds do next to nothing.
func TestSurfacesDoWhatTheTradeFinds(t *testing.T) {
	tests := []struct {
		p                   Process
		ph, atLeast, atMost float64
		source              string
	}{
		{CoatedSandFilter, 7.0, 0, 0.3, "common practice"},
		{CoatedSandFilter, 6.5, 0.6, 4, "common practice"},
		{GreensandFilter, 7.0, 0, 0.3, "common practice"},
		{GreensandFilter, 6.5, 0.6, 4, "common practice"},
		{ManganeseOreFilter, 7.0, 0, 0.3, "common practice"},
		{ManganeseOreFilter, 6.5, 0.6, 4, "common practice"},
		{AirInjectionFilter, 7.0, 0, 0.3, "common practice"},
		{LightweightFilter, 7.0, 0.05, 0.6, "common practice: somewhat less"},
		{LightweightFilter, 7.3, 0, 0.1, "common practice: well above its pH 6.8 at least"},
		{CarbonFilter, 7.0, 4, 5, "common practice: no catalyst"},
		{SedimentFilter, 7.0, 4, 5, "common practice: no catalyst"},
	}
	for _, tt := range tests {
		m, _ := MediumFor(tt.p)
		out := afterBed(t, m, tt.ph, poreTime(m, 30, 5), func(x *chem.Mix) {
			x.IronII, x.Oxygen = unit.MgPerL(5), unit.MgPerL(5)
		})
		if got := out.IronII.MgPerL(); got < tt.atLeast || got > tt.atMost {
			t.Errorf("%s at pH %g: 5 mg/L ferrous leaves %.3g, want %g to %g mg/L (%s)", m.ID, tt.ph, got, tt.atLeast, tt.atMost, tt.source)
		}
	}
}

// Manganese goes on an oxide coat where free chlorine is left, and not on air.
func TestSurfacesTakeManganese(t *testing.T) {
	tests := []struct {
		p                    Process
		ph, chlorine, oxygen float64
		atLeast, atMost      float64
		source               string
	}{
		{CoatedSandFilter, 7.1, 1.54, 0, 0, 0.03, "common practice: 0.65 mg/L falls below 0.03 at a peak of 9 gpm/ft2 with 0.7 mg/L free left over"},
		{GreensandFilter, 7.1, 1.54, 0, 0, 0.03, "as coated sand"},
		{CoatedSandFilter, 7.1, 0, 5, 0.5, 0.65, "common practice: air alone does not take manganese at this pH"},
		{CarbonFilter, 7.1, 0, 5, 0.64, 0.65, "no coat"},
	}
	for _, tt := range tests {
		m, _ := MediumFor(tt.p)
		out := afterBed(t, m, tt.ph, poreTime(m, 30, 9), func(x *chem.Mix) {
			x.ManganeseII, x.FreeChlorine, x.Oxygen = unit.MgPerL(0.65), unit.MgPerLAsCl2(tt.chlorine), unit.MgPerL(tt.oxygen)
		})
		if got := out.ManganeseII.MgPerL(); got < tt.atLeast || got > tt.atMost {
			t.Errorf("%s at pH %g, chlorine %g, oxygen %g: 0.65 mg/L manganese leaves %.3g, want %g to %g (%s)",
				m.ID, tt.ph, tt.chlorine, tt.oxygen, got, tt.atLeast, tt.atMost, tt.source)
		}
	}
}
