package media

import (
	"math"
	"testing"

	"wellwright/unit"
)

// Areas by arithmetic and by the trade's short form, volumes as makers print them.
func TestVessels(t *testing.T) {
	const shortForm = "published: surface area in ft2 is D²/183.3, trade journal article on surface loading (2014)"
	tests := []struct {
		name   string
		d, h   float64
		area   float64 // ft2, to three digits
		litres float64 // as makers print, from memory; 0 where none is known
	}{
		{"8 x 44", 8, 44, 0.349, 33}, {"9 x 48", 9, 48, 0.442, 45}, {"10 x 44", 10, 44, 0.545, 50},
		{"10 x 54", 10, 54, 0.545, 62}, {"12 x 52", 12, 52, 0.785, 86}, {"13 x 54", 13, 54, 0.922, 104},
		{"14 x 65", 14, 65, 1.069, 146}, {"16 x 65", 16, 65, 1.396, 188}, {"18 x 65", 18, 65, 1.767, 240},
		{"21 x 62", 21, 62, 2.405, 306}, {"24 x 72", 24, 72, 3.142, 0}, {"30 x 72", 30, 72, 4.909, 0},
	}
	all := Vessels()
	if len(all) != len(tests) {
		t.Fatalf("%d vessels, want %d", len(all), len(tests))
	}
	for i, tt := range tests {
		v := all[i]
		if v.Name != tt.name || math.Abs(v.Diameter.Inches()-tt.d)+math.Abs(v.Height.Inches()-tt.h) > 1e-9 {
			t.Errorf("vessel %d is %s (%g by %g in), want %s", i, v.Name, v.Diameter.Inches(), v.Height.Inches(), tt.name)
		}
		if math.Abs(v.Area.Ft2()-tt.area) > 0.0006 {
			t.Errorf("%s: area %.4f ft2, want %g ± 0.0006 (arithmetic)", tt.name, v.Area.Ft2(), tt.area)
		}
		if short := tt.d * tt.d / 183.3; math.Abs(v.Area.Ft2()/short-1) > 0.001 {
			t.Errorf("%s: area %.4f ft2, want %.4f within 0.1 %% (%s)", tt.name, v.Area.Ft2(), short, shortForm)
		}
		if tt.litres > 0 && math.Abs(v.Gross.L()/tt.litres-1) > 0.04 {
			t.Errorf("%s: holds %.1f L, want %g within 4 %% (makers' tables, from memory)", tt.name, v.Gross.L(), tt.litres)
		}
	}
}

// The volume again by adding thin slices: cylinder between two half ellipsoids,
// each a quarter of the inside diameter high.
func TestVesselVolumeBySlices(t *testing.T) {
	for _, v := range Vessels() {
		outer, height := v.Diameter.Inches(), v.Height.Inches()
		d := 0.965 * outer
		rise := outer / 4 // the ends are as high as those of the nominal tank
		sum := 0.0
		const n = 20000
		for i := range n {
			y := (float64(i) + 0.5) / n * height
			r := d / 2
			if from := min(y, height-y); from < rise {
				x := 1 - from/rise
				r *= math.Sqrt(1 - x*x)
			}
			sum += math.Pi * r * r * height / n
		}
		want := sum / 1728
		if math.Abs(v.Gross.Ft3()/want-1) > 0.001 {
			t.Errorf("%s: holds %.3f ft3, by slices %.3f (second method)", v.Name, v.Gross.Ft3(), want)
		}
	}
}

// The usual fill must leave the freeboard its medium needs.
func TestUsualFillLeavesFreeboard(t *testing.T) {
	resin, _ := MediumFor(Softener)
	for _, v := range Vessels() {
		bed := v.BedDepth(v.Fill).Inches()
		if math.Abs(bed-v.Bed.Inches()) > 1e-9 {
			t.Errorf("%s: bed %g in, want %g", v.Name, v.Bed.Inches(), bed)
		}
		straight := v.Height.Inches() - v.Diameter.Inches()/2 // between the two ends
		if need := bed * (1 + resin.Freeboard) * 0.93; need > straight+v.Diameter.Inches()/4 {
			t.Errorf("%s: %g in of bed and half as much freeboard do not fit in %g in", v.Name, bed, straight)
		}
	}
}

func TestVesselNamed(t *testing.T) {
	v, ok := VesselNamed("12 x 52")
	if !ok || math.Abs(v.Diameter.Inches()-12) > 1e-9 || v.Part() != "vessel 12 x 52" {
		t.Errorf("VesselNamed(12 x 52) = %+v, %t", v, ok)
	}
	if _, ok := VesselNamed("11 x 52"); ok {
		t.Error("VesselNamed(11 x 52) is known; it is no common size")
	}
}

func TestTanksRoundUp(t *testing.T) {
	tests := []struct {
		of     func(unit.Volume) (Part, bool)
		gal    float64
		want   Part
		ok     bool
		source string
	}{
		{ContactTankOf, 80, "contact tank 80 gal", true, "a tank holds its own volume"},
		{ContactTankOf, 80.1, "contact tank 120 gal", true, "just above"},
		{ContactTankOf, 79.9, "contact tank 80 gal", true, "just below"},
		{ContactTankOf, 121, "", false, "two in series"},
		{ContactTankOf, math.NaN(), "", false, "no number"},
		{PressureTankOf, 100, "pressure tank 119 gal", true, "next size"},
		{StorageTankOf, 500, "storage tank 500 gal", true, "a tank holds its own volume"},
	}
	for _, tt := range tests {
		got, ok := tt.of(unit.Gal(tt.gal))
		if got != tt.want || ok != tt.ok {
			t.Errorf("tank of %g gal = %q, %t, want %q, %t (%s)", tt.gal, got, ok, tt.want, tt.ok, tt.source)
		}
	}
	if got, ok := ContactTankOf(unit.L(unit.Gal(80).L())); !ok || got != "contact tank 80 gal" {
		t.Errorf("80 gal by way of litres = %q, %t, want the 80 gal tank", got, ok)
	}
	for _, sizes := range [][]unit.Volume{ContactTankSizes(), PressureTankSizes(), StorageTankSizes()} {
		for i := 1; i < len(sizes); i++ {
			if sizes[i].Gal() <= sizes[i-1].Gal() {
				t.Errorf("sizes %v do not rise", sizes)
			}
		}
	}
}
