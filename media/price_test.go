package media

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"wellwright/source"
)

// Bands the trade quotes for 2024 in US dollars, each common practice.
func TestPricesStandInTheirBands(t *testing.T) {
	tests := []struct {
		part      Part
		low, high float64 // USD
	}{
		{SaltLb, 6.0 / 40, 10.0 / 40}, {PermanganateLb, 4, 8}, {BleachGal, 4, 6}, {HypochloriteGal, 3, 6},
		{CalciteFt3, 60, 110}, {CarbonFt3, 90, 180}, {GreensandFt3, 150, 300}, {CoatedSandFt3, 150, 300},
		{ManganeseOreFt3, 250, 450}, {ResinFt3, 120, 250}, {LightweightFt3, 120, 220},
		{LabourHour, 75, 150}, {Visit, 100, 200}, {TestIron, 50, 120}, {TestBacteria, 25, 50}, {SepticPumpOut, 225, 600},
		{ElectricityKWh, 0.11, 0.30}, // published: US residential 2023, 10.98 (Washington) to 29.61 cents (Massachusetts), Hawaii left out
	}
	for _, tt := range tests {
		p, ok := Prices().Of(tt.part)
		if !ok {
			t.Errorf("%s has no price", tt.part)
			continue
		}
		if p.Low < cents(tt.low) || p.High > cents(tt.high) {
			t.Errorf("%s: %d to %d cents, want within %g to %g USD (common practice, 2024)", tt.part, p.Low, p.High, tt.low, tt.high)
		}
	}
}

func TestPricesAreWhole(t *testing.T) {
	for _, part := range Prices().Parts() {
		p, _ := Prices().Of(part)
		if p.Low <= 0 || p.Low > p.Mid || p.Mid > p.High || p.Per == "" || p.Year != 2024 || p.Kind != source.CommonPractice || p.From == "" {
			t.Errorf("%s: %+v is not whole", part, p)
		}
	}
}

// Every part that is named in the code can be bought, and every vessel and tank.
func TestEveryPartHasAPrice(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "part.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var parts []Part
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if name, ok := spec.Type.(*ast.Ident); ok && name.Name == "Part" {
			text, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			parts = append(parts, Part(text))
		}
		return true
	})
	if len(parts) < 70 {
		t.Fatalf("only %d parts found in the source", len(parts))
	}
	for _, v := range Vessels() {
		parts = append(parts, v.Part())
	}
	for _, v := range ContactTankSizes() {
		p, _ := ContactTankOf(v)
		parts = append(parts, p)
	}
	for _, v := range PressureTankSizes() {
		p, _ := PressureTankOf(v)
		parts = append(parts, p)
	}
	for _, v := range StorageTankSizes() {
		p, _ := StorageTankOf(v)
		parts = append(parts, p)
	}
	for _, p := range parts {
		if _, ok := Prices().Of(p); !ok {
			t.Errorf("%q has no price", p)
		}
	}
	if list := Prices().Parts(); len(list) != len(parts) {
		t.Errorf("%d prices for %d parts: one is never bought", len(list), len(parts))
	}
}

func TestBiggerTanksCostMore(t *testing.T) {
	var last int64
	for _, v := range Vessels() {
		p, _ := Prices().Of(v.Part())
		if p.Mid < last {
			t.Errorf("%s costs less than the one before it", v.Name)
		}
		last = p.Mid
	}
}

func TestOwnPricesReplace(t *testing.T) {
	tests := []struct{ name, text string }{
		{"own.csv", "part,per,low_usd,mid_usd,high_usd,year,source\nsalt lb,lb,0.30,0.35,0.40,2026,my supplier\n"},
		{"own.csv", "\ufeffPart, mid_usd, low_usd, high_usd, year, source\r\n# dear\r\nsalt lb, 0.35, 0.30, 0.40, 2026, my supplier\r\n"},
		{"own.yaml", "- part: salt lb\n  low_usd: 0.30\n  mid_usd: 0.35\n  high_usd: 0.40\n  year: 2026\n  source: my supplier\n"},
		{"own.YML", "# dear\n- {part: salt lb, low_usd: 0.3, mid_usd: \"0.35\", high_usd: 0.4, year: 2026, source: my supplier}\n"},
	}
	want := Price{Part: SaltLb, Per: "lb", Low: 30, Mid: 35, High: 40, Year: 2026, Kind: source.Own, From: "my supplier"}
	for _, tt := range tests {
		list, errs := ReadPrices(tt.name, strings.NewReader(tt.text))
		if len(errs) > 0 {
			t.Errorf("%s %q: %v", tt.name, tt.text, errs)
		}
		if got, _ := list.Of(SaltLb); got != want {
			t.Errorf("%s: salt costs %+v, want %+v", tt.name, got, want)
		}
		resin, _ := list.Of(ResinFt3)
		if standard, _ := Prices().Of(ResinFt3); resin != standard {
			t.Errorf("%s: resin changed too", tt.name)
		}
	}
	if p, _ := Prices().Of(SaltLb); p.Kind != source.CommonPractice {
		t.Error("reading the user's prices changed the standard list")
	}
}

func TestMidAloneIsEnough(t *testing.T) {
	list, errs := ReadPrices("own.csv", strings.NewReader("part,mid_usd\nsalt lb,0.35\n"))
	if p, _ := list.Of(SaltLb); len(errs) > 0 || p.Low != 35 || p.High != 35 || p.From != "own.csv" {
		t.Errorf("salt costs %+v, %v, want 35 cents sure, from own.csv", p, errs)
	}
}

func TestBadPricesAreTold(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string // each begins or stands in one finding, in order
	}{
		{"own.csv", "", []string{"own.csv:1: the list is empty"}},
		{"own.csv", "part,price\n", []string{`own.csv:1: column "price" is not known`, "own.csv:1: column mid_usd is missing"}},
		{"own.csv", "part,part,mid_usd\n", []string{`own.csv:1: column "part" stands twice`}},
		{"own.csv", "part,mid_usd\nsalt lb,cheap\nsalt lb\nresin ft3,-5\nvisit,NaN\nvisit,1e300\n", []string{
			`own.csv:2: mid_usd "cheap" is not a price`, "own.csv:3: 1 fields under 2 headings", `own.csv:4: mid_usd "-5"`, `own.csv:5: mid_usd "NaN"`, `own.csv:6: mid_usd "1e300"`}},
		{"own.csv", "part,mid_usd\n# a note\nsalt lbs,0.35\nvisit,150\nvisit,160\n", []string{
			`own.csv:3: part "salt lbs" is not known; did you mean salt lb?`, `own.csv:5: part "visit" is priced in line 4 already`}},
		{"own.csv", "part,low_usd,mid_usd,high_usd\nvisit,9,8,7\n", []string{"own.csv:2: prices of visit must rise"}},
		{"own.csv", "part,mid_usd,year\nvisit,9,soon\n", []string{`own.csv:2: year "soon"`}},
		{"own.csv", "part,per,mid_usd\nsalt lb,40 lb bag,8\n", []string{`own.csv:2: part "salt lb" is sold by the 40 lb bag here and by the lb in the list`}},
		{"own.csv", "part,mid_usd\n\"visit,9\n", []string{"own.csv:"}},
		{"own.csv", strings.Repeat("x", maxPriceFile+1), []string{"own.csv: longer than"}},
		{"own.yaml", "part: visit\n", []string{"own.yaml:1: a price list is a list of mappings"}},
		{"own.yaml", "- visit\n- part: visit\n  price: 9\n  mid_usd: [1]\n", []string{
			"own.yaml:1: an item is a mapping", `own.yaml:3: key "price" is not known`, "own.yaml:4: mid_usd must be one value", `mid_usd ""`}},
		{"own.yaml", "# mine\n- part: visits\n  mid_usd: 9\n", []string{`own.yaml:2: part "visits" is not known; did you mean visit?`}},
		{"own.yaml", "- part: [unclosed\n", []string{"own.yaml"}},
		{"own.yaml", strings.Repeat("\n", maxYAML+1), []string{"own.yaml: longer than"}},
		{"own.yaml", strings.Repeat("{a: ", 10000), []string{"own.yaml: 10000 marks of structure"}},
	}
	for _, tt := range tests {
		list, errs := ReadPrices(tt.name, strings.NewReader(tt.text))
		if len(errs) != len(tt.want) {
			t.Errorf("%.40q: %d findings %v, want %d", tt.text, len(errs), errs, len(tt.want))
			continue
		}
		for i, want := range tt.want {
			if !strings.Contains(errs[i].Error(), want) {
				t.Errorf("%.40q: finding %q, want %q in it", tt.text, errs[i], want)
			}
		}
		if p, ok := list.Of(CoatedSandFt3); !ok || p.Kind != source.CommonPractice {
			t.Errorf("%.40q: the standard list is gone", tt.text)
		}
	}
}

func FuzzReadPrices(f *testing.F) {
	for _, text := range []string{
		"part,mid_usd\nsalt lb,0.35\n", "part,per,low_usd,mid_usd,high_usd,year,source\nvisit,each,1,2,3,2024,me\n",
		"- part: visit\n  mid_usd: 9\n", "- {part: visit, mid_usd: *a}\n", "part,mid_usd\n\"visit,9\n", "- &a [*a]\n", "? - 1\n: 2\n", "-\n", "- !!binary x\n", "--- \n...\n",
	} {
		f.Add("own.csv", text)
		f.Add("own.yaml", text)
	}
	f.Fuzz(func(t *testing.T, name, text string) {
		list, _ := ReadPrices(name, strings.NewReader(text))
		for _, part := range list.Parts() {
			if p, _ := list.Of(part); p.Low < 0 || p.Low > p.Mid || p.Mid > p.High || p.High > maxCents {
				t.Fatalf("%q: %s costs %+v", text, part, p)
			}
		}
		if len(list.Parts()) != len(Prices().Parts()) {
			t.Fatalf("%q changed the number of parts", text)
		}
	})
}
