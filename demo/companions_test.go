package demo_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/water"
)

// companions are the wells whose iron has company: each has the answer worked by
// hand in its head.
var companions = []string{
	"bog-bound-iron", "arsenic-with-iron", "nitrate-with-infant", "radon-granite", "dug-well-after-rain", "dairy-parlour",
}

// ion is an ion with its molar mass in g/mol, its charge, and its conductivity at
// infinite dilution in S cm2 per equivalent at 25 °C.
type ion struct {
	analyte  water.Analyte
	fraction water.Fraction
	mass     float64
	charge   float64 // below zero: an anion
	lambda   float64
}

// ions are written anew here, so that a wrong weight in the program shows.
// Masses: IUPAC standard atomic weights. Conductivities: CRC Handbook of Chemistry
// and Physics (from memory). Alkalinity counts as bicarbonate, nitrogen as N.
var ions = []ion{
	{water.Calcium, water.Unspecified, 40.078, 2, 59.5},
	{water.Magnesium, water.Unspecified, 24.305, 2, 53.1},
	{water.Sodium, water.Unspecified, 22.990, 1, 50.1},
	{water.Potassium, water.Unspecified, 39.098, 1, 73.5},
	{water.Iron, water.FerrousIron, 55.845, 2, 54},
	{water.Manganese, water.Dissolved, 54.938, 2, 53.5},
	{water.Ammonia, water.Unspecified, 14.007, 1, 73.5},
	{water.Alkalinity, water.Unspecified, 50.043, -1, 44.5}, // as CaCO3: already an equivalent
	{water.Chloride, water.Unspecified, 35.453, -1, 76.3},
	{water.Sulfate, water.Unspecified, 96.06, -2, 80.0},
	{water.Nitrate, water.Unspecified, 14.007, -1, 71.4},
	{water.Fluoride, water.Unspecified, 18.998, -1, 55.4},
}

// equivalent is the charge of one ion in meq/L.
func (i ion) equivalent(mgL float64) float64 {
	if i.analyte == water.Alkalinity {
		return mgL / i.mass
	}
	return mgL / i.mass * math.Abs(i.charge)
}

// sums are the cations and anions, meq/L, and the conductivity, uS/cm, of the ions.
type sums struct{ cations, anions, conductivity float64 }

// sumsOf adds up the laboratory's ions, with what was read on site in its place
// where that is the better figure: alkalinity and ferrous iron.
//
//	k = y² Σ λ c,  lg y = -0.5 (√I/(1+√I) - 0.3 I),  I = ½ Σ |z| c
//
// Source: Standard Methods 1030 E and 2510 A (both from memory).
func sumsOf(lab, site water.Report) sums {
	var s sums
	strength, limiting := 0.0, 0.0
	for _, i := range ions {
		v, ok := figureOf(site, i.analyte, i.fraction)
		if !ok || i.analyte != water.Alkalinity && i.analyte != water.Iron {
			v, _ = figureOf(lab, i.analyte, i.fraction)
		}
		c := i.equivalent(v)
		if i.charge > 0 {
			s.cations += c
		} else {
			s.anions += c
		}
		strength += c * math.Abs(i.charge) / 2000
		limiting += i.lambda * c
	}
	root := math.Sqrt(strength)
	s.conductivity = limiting * math.Pow(10, -(root/(1+root)-0.3*strength))
	return s
}

// figureOf is a figure of a report, half of what stands behind a "<".
func figureOf(r water.Report, a water.Analyte, f water.Fraction) (float64, bool) {
	got, ok := r.Amount(a, f)
	if !ok {
		return 0, false
	}
	v, _ := got.Canonical()
	if got.Sign == water.Below {
		v /= 2
	}
	return v, true
}

// companion is one of these wells with its head as one line of text.
type companion struct {
	name      string
	head      string
	present   book.Present
	lab, site water.Report
}

// eachCompanion calls f for every one of these wells.
func eachCompanion(t *testing.T, f func(t *testing.T, c companion)) {
	t.Helper()
	read := wells(t)
	all, _ := demo.Wells()
	for _, w := range all {
		for _, name := range companions {
			if w.Name != name {
				continue
			}
			head, _, _ := strings.Cut(string(w.Text), "\n- entry")
			c := companion{name: name, head: strings.ReplaceAll(head, "\n# ", " "), present: last(read[name])}
			c.lab, _ = raw(c.present)
			c.site = fieldOf(c.present)[0]
			t.Run(name, func(t *testing.T) { f(t, c) })
		}
	}
}

// TestCompanionSums holds each analysis to 2.5 % of charge and 7 % of conductivity
// by a second way of adding up, and its hardness to 3 % of Ca and Mg.
func TestCompanionSums(t *testing.T) {
	eachCompanion(t, func(t *testing.T, c companion) {
		s := sumsOf(c.lab, c.site)
		if off := 100 * (s.cations - s.anions) / (s.cations + s.anions); math.Abs(off) > 2.5 {
			t.Errorf("cations %.2f, anions %.2f meq/L: %+.1f %%, want within 2.5 (Standard Methods 1030 E, 5 %% for thin waters, from memory)", s.cations, s.anions, off)
		}
		read, _ := figureOf(c.lab, water.Conductivity, water.Unspecified)
		if off := 100 * (read/s.conductivity - 1); math.Abs(off) > 7 {
			t.Errorf("conductivity %g read, %.0f uS/cm from the ions: %+.1f %%, want within 7", read, s.conductivity, off)
		}
		ca, _ := figureOf(c.lab, water.Calcium, water.Unspecified)
		mg, _ := figureOf(c.lab, water.Magnesium, water.Unspecified)
		hard, _ := figureOf(c.lab, water.Hardness, water.Unspecified)
		if want := 100.087 * (ca/40.078 + mg/24.305); math.Abs(hard/want-1) > 0.03 {
			t.Errorf("hardness %g printed, %.1f mg/L as CaCO3 from calcium and magnesium (atomic weights)", hard, want)
		}
	})
}

var (
	headSums = regexp.MustCompile(`cations ([\d.]+), anions ([\d.]+) meq/L`)
	headCO2  = regexp.MustCompile(`CO2 = 0\.88 x (\d+) x 10\^\(([\d.]+) - ([\d.]+)\) = (\d+) mg/L`)
)

// numbers reads the groups of a match.
func numbers(t *testing.T, form *regexp.Regexp, text string) []float64 {
	t.Helper()
	m := form.FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("the head of the book has no %q", form)
	}
	var ns []float64
	for _, s := range m[1:] {
		n, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		ns = append(ns, n)
	}
	return ns
}

// TestCompanionHeadsKeepToTheirBooks: what the head of a book says it reckoned
// with is what its entries hold.
func TestCompanionHeadsKeepToTheirBooks(t *testing.T) {
	eachCompanion(t, func(t *testing.T, c companion) {
		said, s := numbers(t, headSums, c.head), sumsOf(c.lab, c.site)
		if math.Abs(said[0]-s.cations) > 0.03 || math.Abs(said[1]-s.anions) > 0.03 {
			t.Errorf("the head says %g and %g meq/L, the entries %.2f and %.2f", said[0], said[1], s.cations, s.anions)
		}
		co2 := numbers(t, headCO2, c.head)
		alk, _ := figureOf(c.site, water.Alkalinity, water.Unspecified)
		ph, _ := figureOf(c.site, water.PH, water.Unspecified)
		if co2[0] != alk || co2[2] != ph {
			t.Errorf("the head reckons with alkalinity %g and pH %g, read on site were %g and %g", co2[0], co2[2], alk, ph)
		}
		temperature, _ := figureOf(c.site, water.Temperature, water.Unspecified)
		pk := firstDissociation(temperature)
		want := 2 * 44.009 / 100.087 * alk * math.Pow(10, pk-ph)
		if math.Abs(co2[3]/want-1) > 0.05 {
			t.Errorf("the head says %g mg/L of carbon dioxide, %.1f by pK1 = %.3f at %g C (Plummer and Busenberg 1982)", co2[3], want, pk, temperature)
		}
	})
}

// firstDissociation is the pK of carbonic acid at a temperature in °C.
// Source: Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46, 1011 (published).
func firstDissociation(celsius float64) float64 {
	k := celsius + 273.15
	return 356.3094 + 0.06091964*k - 21834.37/k - 126.8339*math.Log10(k) + 1684915/(k*k)
}
