package stage

import (
	"testing"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// The wells of these tests are invented reference cases, worked out by hand
// from the factors that the stages hold.

func mg(v float64) unit.Concentration { return unit.MgPerL(v) }

// given is what a well of the tests is made from.
type given struct {
	water         water.State
	gpm, psi      float64 // measured at the tank
	yield         float64
	peak, daily   float64
	own           map[string]source.Override
	before, after []media.Process
	variable      bool
	extra         float64
	jar           *float64
}

func (g given) job(t testing.TB) *Job {
	t.Helper()
	points := []hydraulic.PumpPoint{{Flow: unit.GPM(g.gpm), Pressure: unit.PSI(g.psi)}}
	pump, err := hydraulic.PumpFromMeasurements(points)
	if err != nil {
		t.Fatal(err)
	}
	h := hydraulic.Supply{
		Pump: pump, CutIn: unit.PSI(40), CutOut: unit.PSI(60), Yield: unit.GPM(g.yield),
		Tank:          hydraulic.PressureTank{Total: unit.Gal(44), Precharge: unit.PSI(38)},
		CasingStorage: unit.Gal(60),
	}
	set := source.NewSet(g.own)
	s := cloud.Supply{
		Hydraulic: h, Daily: unit.GalPerDay(g.daily), Peak: unit.GPM(g.peak), MeasuredAtTank: points,
		VariableSpeed: g.variable, ChlorineExtra: unit.MgPerLAsCl2(g.extra),
	}
	if g.jar != nil {
		c := unit.MgPerLAsCl2(*g.jar)
		s.DemandMeasured = &c
	}
	return &Job{
		Site: &Site{Model: chem.New(set), Factors: set},
		Draw: &cloud.Draw{Name: cloud.Middle, Weight: 1, Water: g.water, Supply: s, Law: chem.MiddleLaw},
		In:   g.water, Peak: unit.GPM(g.peak), Daily: unit.GalPerDay(g.daily), Supply: h,
		Before: g.before, After: g.after,
	}
}

// tamarack: 9.6 mg/L of mostly ferrous iron, pH 7.4.
func tamarack() given {
	jar := 7.0
	return given{gpm: 12, psi: 45, yield: 12, peak: 8, daily: 375, jar: &jar, water: water.State{
		Temperature: unit.Celsius(9), PH: unit.PHOf(7.4), Alkalinity: unit.AlkalinityAsCaCO3(318),
		Ferrous: mg(9.0), Particulate: mg(0.6), Manganese: mg(0.22), Oxygen: mg(0.1), Ammonia: unit.MgPerLAsN(0.15),
		Calcium: mg(96), Magnesium: mg(34), Sodium: mg(11), Potassium: mg(2.5), Chloride: mg(14), Sulfate: mg(64),
		Fluoride: mg(0.3), Silica: mg(22), OrganicCarbon: mg(1.4), Phosphate: unit.MgPerLAsP(0.03),
	}}
}

// marshGate: iron bacteria with slime, coliform present.
func marshGate() given {
	return given{gpm: 11, psi: 45, yield: 11, peak: 5, daily: 225, water: water.State{
		Temperature: unit.Celsius(11), PH: unit.PHOf(7.0), Alkalinity: unit.AlkalinityAsCaCO3(150),
		Ferrous: mg(2.2), Particulate: mg(1.3), Manganese: mg(0.15), ManganeseOx: mg(0.03), Oxygen: mg(1.2),
		Sulfide: unit.MgPerLAsH2S(0.1), Ammonia: unit.MgPerLAsN(0.2), Nitrate: unit.MgPerLAsN(0.1),
		Calcium: mg(46), Magnesium: mg(12), Sodium: mg(14), Potassium: mg(2.1), Chloride: mg(18), Sulfate: mg(22),
		Fluoride: mg(0.2), Silica: mg(16), OrganicCarbon: mg(2.0), Coliform: unit.Per100mL(3), Bacteria: 0.95,
	}}
}

// flintbank: iron, manganese and sulfide together.
func flintbank() given {
	return given{gpm: 12, psi: 45, yield: 12, peak: 7, daily: 300, water: water.State{
		Temperature: unit.Celsius(11), PH: unit.PHOf(7.1), Alkalinity: unit.AlkalinityAsCaCO3(262),
		Ferrous: mg(4.1), Particulate: mg(0.1), Manganese: mg(0.65), Sulfide: unit.MgPerLAsH2S(2.4), Ammonia: unit.MgPerLAsN(0.4),
		Calcium: mg(66), Magnesium: mg(19), Sodium: mg(38), Potassium: mg(3.4), Chloride: mg(34), Sulfate: mg(12),
		Fluoride: mg(0.4), Silica: mg(24), OrganicCarbon: mg(1.9),
	}}
}

// stonyBrow: a well of 3 gpm that cannot wash a bed.
func stonyBrow() given {
	return given{gpm: 3, psi: 45, yield: 3, peak: 7.5, daily: 300, water: water.State{
		Temperature: unit.Celsius(10), PH: unit.PHOf(7.5), Alkalinity: unit.AlkalinityAsCaCO3(196),
		Ferrous: mg(5.3), Particulate: mg(0.2), Manganese: mg(0.11), Oxygen: mg(0.4), Ammonia: unit.MgPerLAsN(0.1),
		Calcium: mg(52), Magnesium: mg(19.5), Sodium: mg(18), Potassium: mg(1.9), Chloride: mg(11), Sulfate: mg(36),
		Fluoride: mg(0.2), Silica: mg(15), OrganicCarbon: mg(0.7),
	}}
}

// plain is a well-buffered water with nothing in it; tests add what they speak of.
func plain() given {
	return given{gpm: 8, psi: 45, yield: 8, peak: 8, daily: 280, water: water.State{
		Temperature: unit.Celsius(10), PH: unit.PHOf(7.5), Alkalinity: unit.AlkalinityAsCaCO3(200),
		Calcium: mg(60), Magnesium: mg(15), Sodium: mg(10), Chloride: mg(10), Sulfate: mg(20),
	}}
}

// near fails unless got lies within tol of want, and names the source.
func near(t testing.TB, what string, got, want, tol float64, from string) {
	t.Helper()
	if d := got - want; d > tol || d < -tol || d != d {
		t.Errorf("%s = %.4g, want %.4g ± %.3g (%s)", what, got, want, tol, from)
	}
}

// within fails unless got lies between low and high.
func within(t testing.TB, what string, got, low, high float64, from string) {
	t.Helper()
	if !(got >= low && got <= high) {
		t.Errorf("%s = %.4g, want %.4g to %.4g (%s)", what, got, low, high, from)
	}
}

// limitNamed finds a limit; hard or soft as asked.
func limitNamed(t testing.TB, o Outcome, id string, soft bool) Limit {
	t.Helper()
	for _, l := range o.Limits {
		if l.ID == id && l.Soft == soft {
			return l
		}
	}
	t.Fatalf("no limit %q (soft %v) in %v", id, soft, o.Limits)
	return Limit{}
}

// firstPassing returns the first size without a broken hard limit.
func firstPassing(p Process, j *Job) (Size, Outcome, bool) {
	for _, z := range p.Sizes(j) {
		o := p.Run(j, z)
		if _, bad := FirstHard(o.Limits); !bad {
			return z, o, true
		}
	}
	return Size{}, Outcome{}, false
}
