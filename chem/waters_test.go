package chem

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"wellwright/unit"
)

var waterCount = flag.Int("waters", 100_000, "random waters to speciate, by each of the three ways")

// naturalMost are the largest amounts drawn, mg/L: about the most in fresh
// ground water (from memory), iron to 50.
var naturalMost = struct {
	ca, mg, na, k, fe2, fe3, mn, cl, so4, f, sio2, nh4, no3, po4, h2s, alk float64
}{600, 250, 800, 50, 50, 2, 10, 1200, 1800, 10, 120, 15, 60, 5, 20, 1000}

// drawn is one random water: totals, pH and alkalinity drawn apart, so that most
// are not neutral and some ask for what no carbonate can give.
type drawn struct {
	totals Totals
	ph     float64
	alk    unit.Alkalinity
}

// drawWater draws each amount as none, one time in four, or log-uniform over four
// decades up to its most; pH 4 to 10, 0 to 50 °C.
func drawWater(r *rand.Rand) drawn {
	amount := func(most float64) float64 {
		if r.IntN(4) == 0 {
			return 0
		}
		return most * math.Pow(10, -4*r.Float64())
	}
	mg := func(most float64) unit.Concentration { return unit.MgPerL(amount(most)) }
	m := &naturalMost
	return drawn{Totals{
		Temperature: unit.Celsius(50 * r.Float64()),
		Calcium:     mg(m.ca), Magnesium: mg(m.mg), Sodium: mg(m.na), Potassium: mg(m.k),
		IronII: mg(m.fe2), IronIII: mg(m.fe3), Manganese: mg(m.mn),
		Chloride: mg(m.cl), Sulfate: mg(m.so4), Fluoride: mg(m.f), Silica: mg(m.sio2),
		Ammonia: unit.MgPerLAsN(amount(m.nh4)), Nitrate: unit.MgPerLAsN(amount(m.no3)),
		Phosphate: unit.MgPerLAsP(amount(m.po4)), Sulfide: unit.MgPerLAsH2S(amount(m.h2s)),
	}, 4 + 6*r.Float64(), unit.AlkalinityAsCaCO3(m.alk * math.Pow(10, -3*r.Float64()))}
}

// residuals are the largest relative errors of a state, each worked from the
// table of species, not from the solver's sums.
type residuals struct{ mass, alkalinity, charge, action float64 }

func (r *residuals) worst(o residuals) {
	r.mass, r.alkalinity = max(r.mass, o.mass), max(r.alkalinity, o.alkalinity)
	r.charge, r.action = max(r.charge, o.charge), max(r.action, o.action)
}

// residualsOf works the balances of a state. Alkalinity is over the larger of
// itself and what carries it; charge is that of the species against the strong
// ions less alkalinity, over all charge; action is ln of the quotient of each
// complex over its constant. NaN counts as infinite.
func residualsOf(s *State, carbon float64) (out residuals) {
	a := amountsOf(&s.totals)
	a.ligand[lCO3] = carbon
	f := &s.found
	masters, ligands := f.master, f.ligand
	alk, carried := f.oh-f.h, f.oh+f.h
	for i, z := range masterAlk[:nMasters] {
		alk += float64(z) * f.master[i]
		carried += math.Abs(float64(z)) * f.master[i]
	}
	for i, z := range ligandAlk[:nLigands] {
		alk += float64(z) * f.ligand[i]
		carried += float64(z) * f.ligand[i]
	}
	for i, row := range complexRows {
		c := f.complex[i]
		if row.m != mNone {
			masters[row.m] += c
		}
		if row.l != lNone {
			ligands[row.l] += float64(row.nl) * c
		}
		z := float64(masterAlk[row.m] + row.nl*ligandAlk[row.l] - row.nh)
		alk += z * c
		carried += math.Abs(z) * c
		out.action = larger(out.action, actionMiss(s, i, &row))
	}
	for i, want := range a.master {
		out.mass = larger(out.mass, relative(masters[i], want))
	}
	for i, want := range a.ligand {
		out.mass = larger(out.mass, relative(ligands[i], want))
	}
	out.alkalinity = larger(0, math.Abs(alk-s.alk)/max(math.Abs(s.alk), carried))
	out.charge = larger(0, chargeMiss(s))
	return out
}

// chargeMiss compares the charge of the species with that of the totals.
func chargeMiss(s *State) float64 {
	q := s.Charge()
	c, a := CationSum(s.totals, s.Alkalinity()), AnionSum(s.totals, s.Alkalinity())
	return math.Abs(q.Excess.meq-(c.meq-a.meq)) / (c.meq + a.meq)
}

// actionMiss is the error of the mass action of complex i, in ln.
func actionMiss(s *State, i int, row *complexRow) float64 {
	sp := firstComplex + Species(i)
	if s.amount(sp) < 1e-30 {
		return 0
	}
	p := powersOf(s.kelvin)
	lk := s.model.logK(row.k, p)
	if row.base != kNone {
		lk += s.model.logK(row.base, p)
	}
	if row.m != mNone {
		lk += s.logActivity(Species(row.m))
	}
	if row.l != lNone {
		lk += float64(row.nl) * s.logActivity(CarbonateIon+Species(row.l))
	}
	lk -= float64(row.nh) * s.PH().Value()
	return math.Abs(s.logActivity(sp)-lk) * ln10
}

func relative(got, want float64) float64 {
	if want < leastAmount {
		return 0
	}
	return math.Abs(got-want) / want
}

// larger is the maximum, with NaN as infinite.
func larger(a, b float64) float64 {
	if math.IsNaN(b) {
		return math.Inf(1)
	}
	return max(a, b)
}

// Random natural waters by the three ways. Every one must converge, and every
// balance hold to 1e-9. A pH and alkalinity may ask for less than no carbonate:
// such a water is refused, and rightly so if without carbonate its pH already
// lies below the one asked for, since carbon dioxide only lowers it.
func TestRandomWaters(t *testing.T) {
	t.Parallel()
	count := *waterCount
	if testing.Short() {
		count = min(count, 5_000)
	}
	m := standard()
	r := rand.New(rand.NewPCG(3, 1))
	var most residuals
	refused, strong, ionic, charged := 0, 0, 0.0, 0.0
	for i := range count {
		w := drawWater(r)
		s, err := m.AtPH(w.totals, unit.PHOf(w.ph), w.alk)
		if err != nil {
			bare, bareErr := m.AtCarbon(w.totals, w.alk, MolPerL(0))
			if bareErr != nil || bare.PH().Value() >= w.ph {
				t.Fatalf("water %d: %v, but without carbonate the pH is %.4f (%v): %+v", i, err, bare.PH().Value(), bareErr, w)
			}
			refused++
			s = bare
		}
		carbon := s.Carbon().MolPerL()
		if s.Ionic().MolPerL() > 0.5 {
			strong++ // carbon dioxide of many atmospheres
		}
		closed, err := m.AtCarbon(w.totals, w.alk, s.Carbon())
		if err != nil {
			t.Fatalf("water %d closed with %g mol/L of carbon: %v: %+v", i, carbon, err, w)
		}
		all := []State{s, closed}
		if carbon > 0 {
			open, err := m.AtCO2(w.totals, w.alk, s.PCO2())
			if err != nil {
				t.Fatalf("water %d open to %g atm: %v: %+v", i, s.PCO2().Atm(), err, w)
			}
			all = append(all, open)
		}
		for way, x := range all {
			c := carbon
			if way == 2 {
				c = x.Carbon().MolPerL()
			}
			o := residualsOf(&x, c)
			if max(o.mass, o.alkalinity, o.charge, o.action) > 1e-9 {
				t.Fatalf("water %d, way %d: residuals %+v: %+v", i, way, o, w)
			}
			if d := x.PH().Value() - s.PH().Value(); math.Abs(d) > 1e-6 {
				t.Fatalf("water %d, way %d: pH differs by %g: %+v", i, way, d, w)
			}
			most.worst(o)
		}
		ionic, charged = max(ionic, s.Ionic().MolPerL()), max(charged, math.Abs(s.Charge().Percent))
	}
	t.Logf("%d waters by three ways: residuals at most %+v; %d refused as asking for less than no carbonate; ionic strength up to %.3f mol/L, %d above 0.5; lacking up to %.0f %% of charge",
		count, most, refused, ionic, strong, charged)
}

// Carbon, gas and alkalinity drawn apart, acid waters among them: no start of the
// solver comes from another answer.
func TestRandomCarbonAndGas(t *testing.T) {
	t.Parallel()
	count := *waterCount / 2
	if testing.Short() {
		count = min(count, 5_000)
	}
	m := standard()
	r := rand.New(rand.NewPCG(3, 2))
	var most residuals
	low, high := 14.0, 0.0
	for i := range count {
		w := drawWater(r)
		if r.IntN(8) == 0 {
			w.alk = unit.AlkalinityAsCaCO3(-20 * r.Float64())
		}
		carbon := MolPerL(0.1 * math.Pow(10, -5*r.Float64()))
		closed, err := m.AtCarbon(w.totals, w.alk, carbon)
		if err != nil {
			t.Fatalf("water %d with %g mol/L of carbon: %v: %+v", i, carbon.MolPerL(), err, w)
		}
		gas := Atm(math.Pow(10, -5*r.Float64()))
		open, err := m.AtCO2(w.totals, w.alk, gas)
		if err != nil {
			t.Fatalf("water %d open to %g atm: %v: %+v", i, gas.Atm(), err, w)
		}
		if d := open.PCO2().Atm()/gas.Atm() - 1; math.Abs(d) > 1e-9 {
			t.Fatalf("water %d open to %g atm is off by %g of it", i, gas.Atm(), d)
		}
		for way, x := range []State{closed, open} {
			c := carbon
			if way == 1 {
				c = x.Carbon()
			}
			o := residualsOf(&x, c.MolPerL())
			if max(o.mass, o.alkalinity, o.charge, o.action) > 1e-9 {
				t.Fatalf("water %d, way %d: residuals %+v: %+v", i, way, o, w)
			}
			most.worst(o)
			low, high = min(low, x.PH().Value()), max(high, x.PH().Value())
		}
	}
	t.Logf("%d waters closed and open: residuals at most %+v, pH %.2f to %.2f", count, most, low, high)
}

// A neutral salt water is neutral, and one that lacks an anion says how much.
func TestChargeOfAWater(t *testing.T) {
	m := standard()
	for _, tt := range []struct {
		name        string
		na, cl, alk float64 // meq/L
		excess      float64
		percent     float64
		from        string
	}{
		{"sodium chloride and bicarbonate", 3, 2, 1, 0, 0, "definition"},
		{"half the chloride missed", 3, 1, 1, 1, 20, "definition: 100 (3 - 2)/(3 + 2)"},
		{"chloride counted twice", 3, 4, 1, -2, -25, "definition: 100 (3 - 5)/(3 + 5)"},
	} {
		s, err := m.AtPH(Totals{Temperature: unit.Celsius(25), Sodium: mmol(tt.na, molNa), Chloride: mmol(tt.cl, molCl)}, unit.PHOf(7), unit.AlkalinityMeq(tt.alk))
		if err != nil {
			t.Fatal(err)
		}
		near(t, tt.name+", meq/L", s.Charge().Excess.MeqPerL(), tt.excess, 1e-9, tt.from)
		near(t, tt.name+", %", s.Charge().Percent, tt.percent, 0.02, tt.from+"; bicarbonate pairs with a little sodium")
	}
}
