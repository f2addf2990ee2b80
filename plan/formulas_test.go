package plan_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// uncounted are public functions that answer no question by themselves.
var uncounted = map[string]string{
	"chem.IonicMolPerL":              "makes a quantity",
	"chem.PerHour":                   "makes a quantity",
	"chem.Model.Prepare":             "works out constants once for many questions",
	"chem.State.LogActivity":         "a part of saturation_index",
	"hydraulic.PumpAtTank.Scaled":    "stands in for another pump when asking what would flip",
	"hydraulic.PumpFromMeasurements": "PumpFrom with the default factors",
	"hydraulic.PeakFlow":             "PeakQuantile at 99 %",
	"hydraulic.FixtureNamed":         "finds a row of a table",
	"hydraulic.HouseOf":              "makes a list of fixtures",
	"hydraulic.Household.Days":       "days drawn by chance, not a formula",
	"hydraulic.Household.Year":       "days drawn by chance, not a formula",
	"hydraulic.Household.MeanUse":    "a part of the drawn days",
	"hydraulic.Household.MeanDay":    "a part of the drawn days",
	"hydraulic.Supply.Same":          "compares",
	"hydraulic.Supply.Course":        "a draw, minute by minute",
	"hydraulic.Supply.Night":         "a run of draws, minute by minute",
	"hydraulic.Supply.Follow":        "a run of draws, minute by minute",
	"rehab.Plan":                     "a whole plan, not a formula",
	"rehab.PlanWith":                 "a whole plan, not a formula",
	"rehab.Retests":                  "a list of tests",
	"rehab.StepsFor":                 "a procedure",
	"cost.Work":                      "prices a whole bill",
	"cost.Expected":                  "prices a whole bill",
	"cost.Bill.Join":                 "joins bills",
	"cost.Money.Sub":                 "arithmetic of money",
	"cost.Money.UnmarshalJSON":       "reads text",
	"cost.Sure":                      "makes a quantity",
	"cost.ShareAYear":                "makes a quantity",
	"statistic.ChartLimits.Outside":  "compares with limits",
	"statistic.NewCUSUM":             "makes a chart",
	"statistic.NewEWMA":              "makes a chart",
	"statistic.KMResult.Quantile":    "a part of the estimate from a list",
	"statistic.KMResult.UpperMean":   "a part of the estimate from a list",
	"statistic.Exactly":              "makes a value",
	"statistic.LessThan":             "makes a value",
	"statistic.MoreThan":             "makes a value",
	"statistic.Confidence":           "reads a factor",
	"statistic.PlottingConstant":     "reads a factor",
}

// Every public function of the rooms of formulas that takes something and answers
// with a number is opened by some formula of the register. What takes a whole
// sample is left to the reports of a trial: single inputs cannot ask for a list.
func TestEveryPublicFormulaIsRegistered(t *testing.T) {
	for _, room := range []string{"chem", "hydraulic", "rehab", "cost", "statistic"} {
		public, used := functions(t, "../"+room)
		for name, single := range public {
			if room == "statistic" && !single {
				continue
			}
			if !used[name[strings.LastIndex(name, ".")+1:]] && uncounted[room+"."+name] == "" {
				t.Errorf("%s.%s is opened by no formula: register one in %s/formulas*.go, or say here in uncounted why it is none", room, name, room)
			}
		}
	}
}

// functions lists the public functions and methods of a room that take something,
// each with whether it takes single values only, and the names that its formulas
// call.
func functions(t *testing.T, dir string) (public, used map[string]bool) {
	t.Helper()
	public, used = map[string]bool{}, map[string]bool{}
	files, err := filepath.Glob(dir + "/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(filepath.Base(name), "formulas") {
			ast.Inspect(file, func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok {
					used[id.Name] = true
				}
				return true
			})
			continue
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.IsExported() && f.Type.Params.NumFields() > 0 {
				public[receiver(f)+f.Name.Name] = single(f)
			}
		}
	}
	return public, used
}

// single reports whether a function takes no list.
func single(f *ast.FuncDecl) bool {
	for _, p := range f.Type.Params.List {
		switch p.Type.(type) {
		case *ast.ArrayType, *ast.Ellipsis:
			return false
		}
	}
	return true
}

func receiver(f *ast.FuncDecl) string {
	if f.Recv == nil {
		return ""
	}
	e := f.Recv.List[0].Type
	if s, ok := e.(*ast.StarExpr); ok {
		e = s.X
	}
	if id, ok := e.(*ast.Ident); ok {
		return id.Name + "."
	}
	return ""
}

// A name means one thing: inputs of one name are of one kind in every formula, so
// that a book or a page may fill them by name.
func TestOneNameOneKind(t *testing.T) {
	kind := map[string]string{}
	where := map[string]string{}
	for _, f := range plan.Formulas().All() {
		for _, i := range f.Inputs {
			if was, ok := kind[i.Name]; ok && was != i.Kind && !loose[i.Name] {
				t.Errorf("input %s is a %s in %s and a %s in %s", i.Name, was, where[i.Name], i.Kind, f.Name)
			}
			kind[i.Name], where[i.Name] = i.Kind, f.Name
		}
	}
}

// loose are everyday words that a book never fills.
var loose = map[string]bool{"dose": true}

// Every formula says all that a reader needs to check it.
func TestFormulasAreWhole(t *testing.T) {
	if n := len(plan.Formulas().All()); n < 60 {
		t.Errorf("%d formulas are registered, want 60 at least", n)
	}
	for _, f := range plan.Formulas().All() {
		if f.What == "" || f.Equation == "" || f.Source == "" || f.Subject == "" || len(f.Inputs) == 0 || len(f.Gives()) == 0 {
			t.Errorf("%s lacks its line, equation, source, subject, inputs or results", f.Name)
		}
		seen := map[string]bool{}
		for _, i := range f.Inputs {
			if seen[i.Name] || i.What == "" || i.Name != strings.ToLower(i.Name) || strings.ContainsAny(i.Name, " -") || i.Default != "" && i.Why == "" {
				t.Errorf("%s: input %q is doubled, lacks its words, or is not in snake case", f.Name, i.Name)
			}
			seen[i.Name] = true
		}
		for _, name := range f.Factors {
			if _, ok := plan.Register().Find(name.Name); !ok {
				t.Errorf("%s rests on factor %s, which is not registered", f.Name, name.Name)
			}
		}
	}
}

// A formula is written once: a step of the working that names its formula prints
// the register's equation and source, and each that names none is known here.
func TestWorkingComesFromTheRegister(t *testing.T) {
	for name, d := range wells(t) {
		a, err := d.Answer()
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range a.Working {
			f, ok := plan.Formulas().Find(s.Formula)
			switch {
			case s.Formula == "" && !unopened[s.Figure]:
				t.Errorf("%s: %s of %s names no formula", name, s.Figure, s.Place)
			case s.Formula != "" && (!ok || f.Equation != s.Equation || f.Source != s.Source || !slices.Contains(f.Figures, s.Figure)):
				t.Errorf("%s: %s of %s is not as formula %q has it", name, s.Figure, s.Place, s.Formula)
			}
		}
	}
}

// unopened are figures that no formula answers: a sum over the lines of a bill, and
// what is counted over all waters.
var unopened = map[string]bool{"first cost": true, "cost with own time": true, "expected cost": true, "meets every limit": true}

// Every input refuses what it cannot read, and says its own name and what is right.
func TestEveryInputExplainsItself(t *testing.T) {
	for _, f := range plan.Formulas().All() {
		for _, i := range f.Inputs {
			_, bad := f.Answer([]formula.Filled{{Name: i.Name, Text: "much", From: "given"}}, source.Set{})
			if !slices.ContainsFunc(bad, func(err error) bool {
				return strings.Contains(err.Error(), i.Name) && strings.Contains(err.Error(), "much")
			}) {
				t.Errorf("%s: %s=much is not complained of by name: %v", f.Name, i.Name, bad)
			}
		}
	}
}

// A bundled well fills what formulas ask, in units that they read.
func TestFillFromABook(t *testing.T) {
	for _, w := range wells(t) {
		for _, f := range plan.Formulas().All() {
			for _, x := range w.Fill(f) {
				_, bad := f.Answer([]formula.Filled{x}, source.Set{})
				for _, err := range bad {
					if strings.HasPrefix(err.Error(), x.Name+" ") && !strings.Contains(err.Error(), "is missing") {
						t.Errorf("%s of %s: %v", x.Name, f.Name, err)
					}
				}
				if !strings.HasPrefix(x.From, "book: ") {
					t.Errorf("%s of %s does not say that the book told it: %q", x.Name, f.Name, x.From)
				}
			}
		}
	}
}

// What the invented well has on record comes back as written.
func TestFillIsWhatTheBookSays(t *testing.T) {
	all := wells(t)
	co2, _ := plan.Formulas().Find("carbon_dioxide")
	for _, x := range all["weak-well"].Fill(co2) { // read as 7.3 and 10 °C
		low, high := map[string]float64{"ph": 7.2, "temperature": 9.5}[x.Name], map[string]float64{"ph": 7.4, "temperature": 10.5}[x.Name]
		v, err := strconv.ParseFloat(strings.Fields(x.Text)[0], 64)
		if high > 0 && (err != nil || v < low || v > high || x.From != "book: middle of what was measured") {
			t.Errorf("%s = %q from %q, want %g to %g (the bundled book of weak-well)", x.Name, x.Text, x.From, low, high)
		}
	}
	for _, tt := range []struct{ formula, input, text, from string }{
		{"peak_flow", "shower_head", "7", "book: recorded"},
		{"peak_flow", "clothes_washer", "2", "book: recorded"},
		{"casing_storage", "casing_bore", "4 in", "book: recorded"},
		{"casing_storage", "static_level", "108 ft", "book: recorded"},
		{"available_flow", "pump_points", "5 gpm at 45 psi", "book: measured at the tank"},
		{"tank_drawdown", "tank_volume", "32 gal", "book: recorded"},
		{"daily_use", "people", "4", "book: recorded"},
	} {
		f, _ := plan.Formulas().Find(tt.formula)
		d, name := all["weak-well"], "weak-well"
		if tt.formula == "peak_flow" { // its book counts showers and washing machines
			d, name = all["guest-house"], "guest-house"
		}
		if !slices.Contains(d.Fill(f), formula.Filled{Name: tt.input, Text: tt.text, From: tt.from}) {
			t.Errorf("%s of %s = %v, want %q, %q (the bundled book of %s)", tt.input, tt.formula, d.Fill(f), tt.text, tt.from, name)
		}
	}
}

// The same inputs in metric units give the same answers: both systems are one.
func TestBothSystemsAreOne(t *testing.T) {
	for _, f := range plan.Formulas().All() {
		for _, e := range f.Examples {
			given, _ := f.Read(e.Given)
			a, bad := f.Answer(given, source.Set{})
			if len(bad) > 0 {
				continue // the rooms' own tests tell
			}
			var metric []formula.Filled
			for _, g := range a.Inputs {
				text := g.Read
				if g.Metric.Words == "" {
					text = strings.TrimSpace(strconv.FormatFloat(g.Metric.Value, 'g', -1, 64) + " " + g.Metric.Unit)
				}
				metric = append(metric, formula.Filled{Name: g.Name, Text: text, From: g.From})
			}
			b, bad := f.Answer(metric, source.Set{})
			if len(bad) > 0 {
				t.Errorf("%s in metric units: %v", f.Name, bad)
				continue
			}
			for i, r := range a.Results {
				if d := b.Results[i].US.Value - r.US.Value; math.Abs(d) > 1e-6*math.Max(1e-3, math.Abs(r.US.Value)) || b.Results[i].US.Words != r.US.Words {
					t.Errorf("%s: %s is %v from US units and %v from metric", f.Name, r.Name, r.US, b.Results[i].US)
				}
			}
		}
	}
}

// The user's own factor stands where a formula would assume ours.
func TestOwnFactorIsTheDefault(t *testing.T) {
	f, _ := plan.Formulas().Find("softener_setting")
	given, _ := f.Read([]string{"hardness=18 gpg", "iron=1.5 mg/L"})
	for own, want := range map[float64]string{2: "21", 4: "24"} { // 18 + f · 1.5, by hand
		set := source.NewSet(map[string]source.Override{"softener_iron_allowance": {Value: own, Why: "resin maker"}})
		a, bad := f.Answer(given, set)
		if len(bad) > 0 || unit.Digits(a.Results[0].US.Value) != want {
			t.Errorf("setting at an own allowance of %g = %v, %v, want %s gpg", own, a.Results, bad, want)
		}
	}
}

// wells are desks of the bundled wells by name.
func wells(t *testing.T) map[string]*plan.Desk {
	t.Helper()
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	ds := map[string]*plan.Desk{}
	for _, w := range all {
		b, found := book.Read(w.Name+".yaml", w.Text)
		if bad := book.Mistakes(found); len(bad) > 0 {
			t.Fatal(bad)
		}
		d, err := plan.Open(b.Present(b.Entries[len(b.Entries)-1].On), plan.Ask{Prices: media.Prices(), Working: true})
		if err != nil {
			t.Fatal(err)
		}
		ds[w.Name] = d
	}
	return ds
}
