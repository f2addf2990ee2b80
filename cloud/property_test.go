package cloud

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/book"
	"wellwright/chem"
	"wellwright/source"
	"wellwright/water"
	"wellwright/well"
)

// anyEvidence draws evidence of any completeness, contradictions included.
func anyEvidence(t *rapid.T) Evidence {
	amount := func(name string, low, high float64) float64 {
		return math.Exp(rapid.Float64Range(math.Log(low), math.Log(high)).Draw(t, name))
	}
	maybe := func(name string) bool { return rapid.Bool().Draw(t, "has "+name) }
	var l, f water.Report
	l, f = lab(), visit()
	for _, x := range []struct {
		a         water.Analyte
		low, high float64
	}{{water.Calcium, 0.3, 300}, {water.Magnesium, 0.2, 100}, {water.Sodium, 0.5, 500}, {water.Potassium, 0.2, 20},
		{water.Chloride, 0.5, 500}, {water.Sulfate, 0.5, 500}, {water.Fluoride, 0.02, 3}, {water.TOC, 0.2, 20}, {water.Oxygen, 0.05, 10}} {
		if maybe(string(x.a)) {
			l.Results = append(l.Results, mg(x.a, amount(string(x.a), x.low, x.high)))
		}
	}
	for _, fr := range []water.Fraction{water.Total, water.Dissolved} {
		if maybe("iron fraction") {
			l.Results = append(l.Results, iron(fr, amount("iron", 0.01, 40)))
		}
	}
	for _, fr := range []water.Fraction{water.Total, water.FerrousIron} {
		if maybe("field iron") {
			f.Results = append(f.Results, iron(fr, amount("field iron", 0.01, 40)))
		}
	}
	if maybe("alkalinity") {
		l.Results = append(l.Results, alk(amount("alkalinity", 5, 500)))
	}
	if maybe("field alkalinity") {
		f.Results = append(f.Results, alk(amount("field alkalinity", 5, 500)))
	}
	if maybe("ph") {
		l.Results = append(l.Results, pHOf(rapid.Float64Range(5.5, 9).Draw(t, "ph")))
	}
	if maybe("bottle") {
		l.Bottle.Acidified = ptr(rapid.Bool().Draw(t, "acid"))
	}
	e := Evidence{Reports: []water.Report{l, f}}
	for _, s := range []water.Symptom{water.ClearThenRust, water.RustyAtTap, water.TeaColour, water.SlimeInTank, water.RottenEggFades} {
		if maybe(string(s)) {
			e.Signs = append(e.Signs, book.Sign{ID: s, Seen: rapid.Bool().Draw(t, "seen")})
		}
	}
	e.Supply.Tank.Kind = rapid.SampledFrom([]well.TankKind{"", well.PreCharged, well.AirOverWater}).Draw(t, "tank")
	if maybe("pump") {
		e.Supply.Pump.Measured = []well.PumpFlow{measured(amount("pump", 1, 30), 40)}
	}
	return e
}

func TestCloudProperties(t *testing.T) {
	m := chem.New(source.Set{})
	rapid.Check(t, func(t *rapid.T) {
		got, err := WeighIn(Coarse, anyEvidence(t), source.Set{}, m, nil)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, d := range got.Draws {
			sum += d.Weight
			if net := netOf(d.Water); math.Abs(net) > 1e-6 {
				t.Errorf("draw %q carries %g meq/L", d.Name, net)
			}
			if s := d.Water; s.Ferrous.MgPerL() < 0 || s.Particulate.MgPerL() < 0 || s.Bound.MgPerL() < 0 {
				t.Errorf("draw %q has iron below zero: %+v", d.Name, s)
			}
		}
		if !near(sum, 1, 1e-9) || got.Middle().Name != Middle {
			t.Errorf("weights add to %g over %d draws, the middle is %q; want 1 and a middle", sum, len(got.Draws), got.Middle().Name)
		}
		if net := netOf(got.Middle().Water); math.Abs(net) > 1e-6 {
			t.Errorf("the middle draw carries %g meq/L", net)
		}
		f := got.Forms
		if parts := f.Ferrous.P50 + f.Particulate.P50 + f.Bound.P50; !near(parts, f.Total.P50, 1e-9*(1+parts)) {
			t.Errorf("forms add to %g, total is %g", parts, f.Total.P50)
		}
		for _, r := range got.Ranges {
			if !(r.P05 <= r.P50+1e-12 && r.P50 <= r.P95+1e-12) || r.P05 < 0 {
				t.Errorf("%s: range %v out of order or below zero", r.Name, r.Range)
			}
		}
	})
}

// A higher reading that fits the others moves belief up, but for the noise of the
// draws.
func TestMoreFerrousReadNeverLowersFerrous(t *testing.T) {
	for _, total := range []float64{0.5, 2, 8} {
		last := 0.0
		for _, share := range []float64{0.25, 0.4, 0.55, 0.7, 0.85} {
			e := Evidence{Reports: []water.Report{lab(iron(water.Total, total), mg(water.TOC, 1)), visit(iron(water.FerrousIron, share*total))}}
			got := weighed(t, e).Forms.Ferrous.P50
			if got < 0.98*last {
				t.Errorf("total %g: ferrous %g for a reading of %g, %g for a lower one (monotony)", total, got, share*total, last)
			}
			last = got
		}
	}
}

// One equivalent of each ion by the atomic weights that every periodic table prints.
func TestChargesAgainstAtomicWeights(t *testing.T) {
	c := chargesOf()
	for _, tt := range []struct {
		name string
		got  float64
		mass float64 // of one equivalent, mg
	}{
		{"Ca 40.078/2", c.of[calcium], 20.039}, {"Mg 24.305/2", c.of[magnesium], 12.1525}, {"Na", c.of[sodium], 22.990},
		{"K", c.of[potassium], 39.098}, {"Mn 54.938/2", c.of[manganese], 27.469}, {"Fe 55.845/2", c.ferrous, 27.9225},
		{"N of ammonium", c.of[ammonia], 14.007}, {"Cl", c.of[chloride], -35.45}, {"SO4 96.06/2", c.of[sulfate], -48.03},
		{"F", c.of[fluoride], -18.998}, {"N of nitrate", c.of[nitrate], -14.007}, {"P", c.of[phosphate], -30.974},
		{"CaCO3 100.09/2", c.of[alkalinity], -50.044},
	} {
		if math.Abs(tt.got*tt.mass-1) > 2e-4 {
			t.Errorf("%s: %g meq/mg, want 1/%g (IUPAC atomic weights)", tt.name, tt.got, tt.mass)
		}
	}
}

func BenchmarkWeigh(b *testing.B) {
	e, m := wellE(), chem.New(source.Set{})
	for b.Loop() {
		if _, err := Weigh(e, source.Set{}, m, nil); err != nil {
			b.Fatal(err)
		}
	}
}
