package formula

import (
	"errors"
	"strings"
	"testing"

	"wellwright/source"
	"wellwright/unit"
)

// halved is a small formula to read inputs with.
func halved() Formula {
	q := Flow.Takes("flow", "Q", "flow of the water").Between("0.5 gpm", "100 gpm")
	t := Temperature.Takes("temperature", "t", "temperature of the water").Between("0 C", "40 C").Assume("10 C", "usual well water")
	n := Count.Takes("parts", "n", "how many parts").Between("1", "9").Assume("2", "halves")
	return Formula{
		Name: "halved", Subject: "tests", What: "a flow in parts", Inputs: Inputs(q, t, n), Equation: "q = Q / n", Source: "arithmetic", Kind: source.Derived,
		Examples: By(On("flow=10 gpm").Is("part", "5 gpm", "0 gpm", "arithmetic")),
		Run: func(a Args) (Outcome, error) {
			return Give(Flow.Gives("part", "q", "of the flow", unit.GPM(q.Of(a).GPM()/n.Of(a)))), nil
		},
	}
}

func answer(words ...string) (Answer, []error) {
	f := halved()
	given, bad := f.Read(words)
	a, wrong := f.Answer(given, source.Set{})
	return a, append(bad, wrong...)
}

// Each mistake names the input, what was read and what would be right.
func TestMistakes(t *testing.T) {
	for _, tt := range []struct {
		words []string
		says  []string // in order, one for each mistake
	}{
		{nil, []string{`flow is missing: flow of the water; write it as in flow="10 gpm"`}},
		{[]string{"flow=10"}, []string{`flow "10" has no unit; write it with one of: gpm, L/min, L/s, m3/h, gal/day, L/day, mL/min`}},
		{[]string{"flow=10 psi"}, []string{`flow "10 psi": "psi" is no unit of flow; write one of: gpm, L/min`}},
		{[]string{"flow=much"}, []string{`flow "much": flow: "much" does not begin with a number`}},
		{[]string{"flow="}, []string{"flow has no value; write flow in gpm"}},
		{[]string{"flow=0.1 gpm"}, []string{`halved: flow "0.1 gpm" is outside 0.5 to 100 gpm`}},
		{[]string{"flow=10 gpm", "parts=2 gpm"}, []string{`parts "2 gpm": "2 gpm" is a number without a unit; "gpm" is one too much`}},
		{[]string{"flow=10 gpm", "flow=11 gpm"}, []string{"flow is given twice"}},
		{[]string{"flwo=10 gpm"}, []string{`"flwo" is not an input of halved; flow is meant perhaps; its inputs are flow, temperature, parts`, "flow is missing"}},
		{[]string{"10", "flow=3 gpm"}, []string{`"10": write an input and its value, as in flow="10 gpm"`}},
		{[]string{"flow=10", "temperature=50", "parts=0", "colour=red"},
			[]string{`"colour" is not an input`, `flow "10" has no unit`, `temperature "50" has no unit; write it with one of: C, F`, `halved: parts "0" is outside 1 to 9`}},
	} {
		_, bad := answer(tt.words...)
		if len(bad) != len(tt.says) {
			t.Errorf("%q: %d mistakes %v, want %d", tt.words, len(bad), bad, len(tt.says))
			continue
		}
		for i, want := range tt.says {
			if !strings.Contains(bad[i].Error(), want) {
				t.Errorf("%q: mistake %d is %q, want %q", tt.words, i+1, bad[i], want)
			}
		}
	}
}

// The bounds belong to the range, and a RangeError can be told from the rest.
func TestBounds(t *testing.T) {
	for text, ok := range map[string]bool{"0.5 gpm": true, "100 gpm": true, "378.5 L/min": true, "0.499 gpm": false, "100.1 gpm": false, "379 L/min": false} {
		_, bad := answer("flow=" + text)
		if ok != (len(bad) == 0) {
			t.Errorf("flow %s: %v, want accepted %v (100 gpm is 378.54 L/min)", text, bad, ok)
		}
		var out *RangeError
		if !ok && (len(bad) != 1 || !errors.As(bad[0], &out)) {
			t.Errorf("flow %s: %v, want a RangeError", text, bad)
		}
	}
}

// A unit need not be quoted, a symbol and another spelling do for a name, and
// what is assumed says so.
func TestReadingIsKind(t *testing.T) {
	for _, words := range [][]string{{"flow=10", "gpm"}, {"Q=10 gpm"}, {"Flow=10gpm"}, {"flow=10 US gpm", "n=2"}, {" flow = 37.854 L/min"}} {
		a, bad := answer(words...)
		if len(bad) > 0 || unit.Significant(a.Results[0].US.Value, 4) != "5" {
			t.Errorf("%q: %v, %v; want 5 gpm (half of ten)", words, a.Results, bad)
		}
	}
	a, _ := answer("flow=10 gpm")
	if a.Inputs[1].From != "assumed: usual well water" || a.Inputs[0].From != "given" {
		t.Errorf("origins %q and %q, want given and assumed with the reason", a.Inputs[0].From, a.Inputs[1].From)
	}
	if a.Results[0].Metric.Unit != "L/min" || unit.Significant(a.Results[0].Metric.Value, 4) != "18.93" {
		t.Errorf("metric %v, want 18.93 L/min (5 gpm of 3.785 L)", a.Results[0].Metric)
	}
	s := a.Step()
	if s.Figure != "halved" || s.Value != 5 || len(s.Symbols) != 3 || s.Symbols[0].Name != "Q" {
		t.Errorf("step %+v, want the figure with its three symbols", s)
	}
}

func TestKinds(t *testing.T) {
	for text, want := range map[string]float64{"90 s": 90, "1.5 min": 90, "2 h": 7200, "1 day": 86400, "1 year": 365.25 * 86400} {
		if d, err := Time.Read(text); err != nil || d.Seconds() != want {
			t.Errorf("time %q = %v, %v, want %g s (definition)", text, d, err, want)
		}
	}
	for _, text := range []string{"90", "1000 years", "soon", "5 fortnights", ""} {
		if d, err := Time.Read(text); err == nil {
			t.Errorf("time %q was read as %v", text, d)
		}
	}
	for text, want := range map[string]float64{"30 %": 0.3, "0.3": 0.3, "30%": 0.3, "100 %": 1} {
		if v, err := Share.Read(text); err != nil || v != want {
			t.Errorf("share %q = %g, %v, want %g (definition)", text, v, err, want)
		}
	}
	if v, err := Speed.Read("1 m/s"); err != nil || unit.Significant(v, 5) != "3.2808" {
		t.Errorf("1 m/s = %g ft/s, %v, want 3.2808 (definition of the foot)", v, err)
	}
	pipe := Choice("pipe", []int{0, 1, 2}, func(i int) string { return []string{"PVC schedule 40", "CPVC", "copper type L"}[i] })
	for text, want := range map[string]int{"pvc": 0, "CPVC": 1, "copper": 2, "copper-type-l": 2, "type L": 2} {
		if v, err := pipe.Read(text); err != nil || v != want {
			t.Errorf("pipe %q = %d, %v, want %d", text, v, err, want)
		}
	}
	if _, err := pipe.Read("lead"); err == nil || !strings.Contains(err.Error(), "PVC schedule 40, CPVC, copper type L") {
		t.Errorf("pipe lead: %v, want the names that would be right", err)
	}
	for v, want := range map[float64]string{0: "0", 1.23456: "1.235", 4.86e-4: "0.000486", 4.86e-7: "4.86e-07", 1.33e12: "1.33e+12", 61700: "61700"} {
		if got := Figure(v); got != want {
			t.Errorf("Figure(%g) = %s, want %s (four figures)", v, got, want)
		}
	}
}

// A wrong example is told from a right one.
func TestChecksTellWrong(t *testing.T) {
	f := halved()
	f.Examples = By(On("flow=10 gpm").Is("part", "5 gpm", "0.01 gpm", "arithmetic").Is("part", "18.93 L/min", "0.01 L/min", "arithmetic").
		Is("part", "6 gpm", "0.5 gpm", "wrong on purpose").Is("whole", "10 gpm", "0 gpm", "no such result"), On("flow=10").Is("part", "5 gpm", "0 gpm", "no unit"))
	var wrong []bool
	for _, c := range f.Checks() {
		wrong = append(wrong, c.Err != nil)
	}
	for i, want := range []bool{false, false, true, true, true} {
		if i >= len(wrong) || wrong[i] != want {
			t.Fatalf("checks are wrong %v, want the last three", wrong)
		}
	}
}

func TestRegister(t *testing.T) {
	f, g := halved(), halved()
	g.Name, g.Subject, g.Figures = "thirds", "others", []string{"third_gpm"}
	r, err := NewRegister([]Formula{f}, []Formula{g})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := NewRegister([]Formula{f, f}); err == nil {
		t.Error("a name used twice was registered")
	}
	if x, ok := r.Find("THIRDS"); !ok || x.Name != "thirds" {
		t.Error("a name in capitals was not found")
	}
	if x, ok := r.Opens("third_gpm"); !ok || x.Name != "thirds" {
		t.Error("the figure of a plan does not open its formula")
	}
	if near, ok := r.Near("halvd"); !ok || near != "halved" {
		t.Errorf("near halvd is %q, want halved", near)
	}
	if n := len(r.Like("others")); n != 1 {
		t.Errorf("%d formulas speak of others, want 1", n)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"flow=10 gpm", "flow=10", "flow=", "=3", "Q=1e400 gpm", "parts=NaN", "flow=-5 gpm", "temperature=-400 C", "flow=10 gpm parts=2", "%=%"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, bad := answer(strings.Split(s, " ")...)
		if len(bad) == 0 && (len(a.Results) != 1 || !(a.Results[0].US.Value >= 0.5/9 && a.Results[0].US.Value <= 100)) {
			t.Errorf("%q gave %v", s, a.Results)
		}
	})
}
