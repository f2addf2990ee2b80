package section_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/unit"
)

// element is one element of a picture, with the title of the group it stands in.
type element struct {
	name, group, text string
	attr              map[string]string
	tile              bool // part of a hatch, which is laid out elsewhere
}

func (e element) number(t *testing.T, attr string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attr[attr], 64)
	if err != nil {
		t.Fatalf("%s: %s is %q", e.name, attr, e.attr[attr])
	}
	return v
}

// drawn reads a picture back; it fails where the file is not well formed.
func drawn(t *testing.T, d *canvas.Drawing) []element {
	t.Helper()
	var out []element
	var open []int
	var groups []string
	x := xml.NewDecoder(bytes.NewReader(canvas.SVG(d)))
	for {
		tok, err := x.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch k := tok.(type) {
		case xml.StartElement:
			e := element{name: k.Name.Local, attr: map[string]string{}, tile: len(open) > 0 && (out[open[len(open)-1]].tile || out[open[len(open)-1]].name == "pattern")}
			for _, a := range k.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			if e.name == "g" {
				groups = append(groups, "")
			}
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			i := open[len(open)-1]
			open = open[:len(open)-1]
			if out[i].name == "title" && len(groups) > 0 {
				groups[len(groups)-1] = out[i].text
			}
			if k.Name.Local == "g" {
				groups = groups[:len(groups)-1]
			}
			if out[i].group == "" && len(groups) > 0 {
				out[i].group = strings.Join(groups, "")
			}
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(k)
			}
		}
	}
}

// spread is a belief of the shape that draws give.
func spread(v, by float64) plan.Quantiles {
	return plan.Quantiles{P05: v / by / by, P25: v / by, P50: v, P75: v * by, P95: v * by * by}
}

func ptr(v float64) *float64 { return &v }

// well is an answer with something in every column.
func well() plan.Answer {
	wide := func(v float64) *plan.Quantiles { q := spread(v, 3); return &q }
	return plan.Answer{
		Well: "Alder Lane", AsOf: "2025-05-01",
		Quality: plan.Quality{Asked: 2000, Effective: 640, Distinct: 800},
		Belief: []plan.Belief{
			{Name: "iron_total_mg_l", Unit: "mg/L", Before: wide(2), After: spread(2.1, 1.1), Limit: &plan.LimitTicks{High: ptr(0.3)},
				Readings: []plan.Reading{{Value: 2, Tap: "T1", Kind: "field"}, {Value: 2.3, Tap: "T0", Kind: "laboratory"}}},
			{Name: "iron_bound_mg_l", Unit: "mg/L", Before: wide(0.05), After: plan.Quantiles{}, Readings: []plan.Reading{}},
			{Name: "manganese_total_mg_l", Unit: "mg/L", After: spread(0.1, 2), Assumed: true, Limit: &plan.LimitTicks{High: ptr(0.05), Health: ptr(0.3)}},
			{Name: "ph", After: plan.Quantiles{P05: 6.9, P25: 7, P50: 7.1, P75: 7.2, P95: 7.3}, Limit: &plan.LimitTicks{Low: ptr(6.5), High: ptr(8.5)}},
			{Name: "hardness_mg_l_as_caco3", Unit: "mg/L as CaCO3", Before: wide(180), After: spread(171.18, 1.05)},
			{Name: "temperature_c", Unit: "°C", After: plan.Quantiles{P05: 9, P25: 9.5, P50: 10, P75: 10.5, P95: 11}},
			{Name: "arsenic_mg_l", Unit: "mg/L", Before: wide(0.0012), After: spread(0.00071, 1.2), Limit: &plan.LimitTicks{Health: ptr(0.01)},
				Readings: []plan.Reading{{Value: 0.001, Sign: "<", Kind: "laboratory"}}},
			{Name: "pump_gpm", Unit: "gpm", Before: wide(10), After: spread(10, 1.1), Readings: []plan.Reading{{Value: 10, Kind: "field"}}},
			{Name: "daily_use_gal_per_day", Unit: "gal/day", Before: wide(2600), After: spread(260, 1.1), Readings: []plan.Reading{{Value: 260, Kind: "record"}}},
		},
	}
}

// pictures are those that strain the sheet: full, empty, a name that no line
// holds, every value beyond its axis.
func pictures() map[string]*canvas.Drawing {
	long, beyond, trace := well(), well(), well()
	long.Well = strings.TrimSpace(strings.Repeat("Upper Quernstone Hollow behind the old creamery ", 5))
	for i := range beyond.Belief {
		b := &beyond.Belief[i]
		b.After = spread(b.After.P50*400, 1.5)
		for range 12 {
			b.Readings = append(b.Readings, plan.Reading{Value: b.After.P50 * 1.01, Tap: "T1", Kind: "field", Sign: ">"})
		}
	}
	for i := range trace.Belief {
		b := &trace.Belief[i]
		b.After.P05, b.Readings = b.After.P05/100, append(b.Readings, plan.Reading{Value: b.After.P50, Sign: "<", Tap: "T0", Kind: "laboratory"})
	}
	return map[string]*canvas.Drawing{
		"full": section.Belief(well(), unit.US), "metric": section.Belief(well(), unit.Metric), "empty": section.Belief(plan.Answer{}, unit.US),
		"long": section.Belief(long, unit.US), "beyond": section.Belief(beyond, unit.Metric), "trace": section.Belief(trace, unit.US),
	}
}

// Every coordinate lies on the sheet, and every group has a name and a
// description.
func TestPictureStaysOnTheSheet(t *testing.T) {
	for name, d := range pictures() {
		for _, e := range drawn(t, d) {
			for attr, most := range map[string]float64{"x": d.Width, "cx": d.Width, "y": d.Height, "cy": d.Height} {
				if e.attr[attr] == "" {
					continue
				}
				if v := e.number(t, attr); v < 0 || v > most {
					t.Errorf("%s: %s has %s = %g, beyond 0 to %g", name, e.name, attr, v, most)
				}
			}
			along := strings.NewReplacer("M", " ", "L", " ").Replace(e.attr["d"])
			if e.tile {
				along = ""
			}
			for _, p := range strings.Fields(e.attr["points"] + along) {
				var x, y float64
				if _, err := fmt.Sscanf(p, "%g,%g", &x, &y); err != nil || x < 0 || x > d.Width || y < 0 || y > d.Height {
					t.Errorf("%s: %s goes through %s (%v), beyond the sheet", name, e.name, p, err)
				}
			}
			if e.name == "title" && strings.TrimSpace(e.text) == "" || e.name == "desc" && strings.TrimSpace(e.text) == "" {
				t.Errorf("%s: an empty %s", name, e.name)
			}
		}
	}
}

// No two texts run into each other, nor off the sheet, at the widths of the
// widest face.
func TestTextsStandApart(t *testing.T) {
	type span struct {
		from, to, y, size float64
		words             string
	}
	for name, d := range pictures() {
		var spans []span
		for _, e := range drawn(t, d) {
			if e.name != "text" {
				continue
			}
			size := e.number(t, "font-size")
			w := canvas.Lettering{Size: size, Bold: e.attr["font-weight"] == "bold"}.Width(e.text)
			from := e.number(t, "x") - map[string]float64{"start": 0, "middle": w / 2, "end": w}[e.attr["text-anchor"]]
			spans = append(spans, span{from, from + w, e.number(t, "y"), size, e.text})
		}
		for i, a := range spans {
			if a.from < 0 || a.to > d.Width {
				t.Errorf("%s: %q runs off the sheet", name, a.words)
			}
			for _, b := range spans[:i] {
				if math.Abs(a.y-b.y) < 0.7*math.Min(a.size, b.size) && a.from < b.to && b.from < a.to {
					t.Errorf("%s: %q runs into %q", name, a.words, b.words)
				}
			}
		}
	}
}

// A reading of 2 mg/L lies where a logarithmic rule between the printed 1 and 3
// puts it, within 1 % of the rule: log 2 / log 3 of the way (definition).
func TestReadingLiesOnItsAxis(t *testing.T) {
	var one, three, reading float64
	for _, e := range drawn(t, section.Belief(well(), unit.US)) {
		switch {
		case e.group != "iron, total":
		case e.name == "text" && e.attr["text-anchor"] == "middle" && e.text == "1":
			one = e.number(t, "x")
		case e.name == "text" && e.attr["text-anchor"] == "middle" && e.text == "3":
			three = e.number(t, "x")
		case e.name == "circle":
			reading = e.number(t, "cx")
		}
	}
	want := one + (three-one)*math.Log(2)/math.Log(3)
	if one == 0 || three == 0 || math.Abs(reading-want) > 0.01*(three-one) {
		t.Errorf("the reading of 2 mg/L stands at %g, want %g between 1 at %g and 3 at %g", reading, want, one, three)
	}
}

// Whatever the axis: it rises with the value, holds its ends, and its labels
// stand where their figures do.
func TestAxisIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := section.Axis{Low: rapid.Float64Range(0.0001, 10).Draw(t, "low"), Log: rapid.Bool().Draw(t, "log")}
		a.High = a.Low * rapid.Float64Range(3, 1e5).Draw(t, "times")
		last := -1.0
		for i := range 50 {
			v := a.Low * math.Pow(a.High/a.Low, float64(i)/49)
			if x := a.At(v); x < last || x < 0 || x > 1 {
				t.Fatalf("%v: %g stands at %g, after %g", a, v, x, last)
			} else {
				last = x
			}
		}
		if a.At(a.Low) != 0 || a.At(a.High) != 1 {
			t.Fatalf("%v: ends at %g and %g", a, a.At(a.Low), a.At(a.High))
		}
		for i, k := range a.Ticks() {
			if i > 0 && k.At <= a.Ticks()[i-1].At {
				t.Fatalf("%v: ticks out of order: %v", a, a.Ticks())
			}
			if v, err := strconv.ParseFloat(strings.ReplaceAll(k.Label, ",", ""), 64); k.Label != "" && (err != nil || a.Log && math.Abs(a.At(v)-k.At) > 1e-6) {
				t.Fatalf("%v: label %q stands at %g, its figure at %g (%v)", a, k.Label, k.At, a.At(v), err)
			}
		}
	})
}

// An axis grows only for what lies beyond it, and then to the nearest round end.
func TestAxisGrowsToARoundEnd(t *testing.T) {
	for _, tt := range []struct {
		name  string
		after plan.Quantiles
		limit *plan.LimitTicks
		want  section.Axis
	}{
		{"pH", plan.Quantiles{P05: 7, P50: 7.1, P95: 7.2}, nil, section.Axis{Low: 5, High: 9}},
		{"pH", plan.Quantiles{P05: 4.4, P50: 7.1, P95: 7.2}, &plan.LimitTicks{High: ptr(10.5)}, section.Axis{Low: 4, High: 11}},
		{"pump at cut-in", plan.Quantiles{P05: 10, P50: 20, P95: 22.7}, nil, section.Axis{Low: 0, High: 25}},
		{"arsenic", plan.Quantiles{P05: 0, P50: 0.001, P95: 0.2}, nil, section.Axis{Low: 0.0001, High: 0.3, Log: true}},
		{"arsenic", plan.Quantiles{P05: 0, P50: 0.00001, P95: 0.0002}, nil, section.Axis{Low: 0.0001, High: 0.1, Log: true}},
	} {
		a := plan.Answer{}
		for _, b := range well().Belief {
			b.Before, b.Readings, b.After, b.Limit = nil, nil, tt.after, tt.limit
			a.Belief = append(a.Belief, b)
		}
		for _, r := range section.BeliefRows(a, unit.US) {
			if r.Name == tt.name && r.Axis != tt.want {
				t.Errorf("%s, %v: axis %v, want %v (rule: nearest round end)", tt.name, tt.after, r.Axis, tt.want)
			}
		}
	}
}

// Units of the rows by definition: 17.118 mg/L as CaCO3 a grain a gallon,
// 3.785412 L a gallon (NIST SP 811, 2008, from memory), 50 °F at 10 °C.
func TestRowsInBothSystems(t *testing.T) {
	for _, tt := range []struct {
		name, us, metric string
	}{
		{"hardness", "10 gpg", "170 mg/L as CaCO3"},
		{"temperature", "50 F", "10 °C"},
		{"pump at cut-in", "10 gpm", "38 L/min"},
		{"daily use", "260 gal/day", "980 L/day"},
		{"pH", "7.1", "7.1"},
		{"arsenic", "0.0007 mg/L", "0.0007 mg/L"},
		{"iron, bound", "0 mg/L", "0 mg/L"},
	} {
		for s, want := range map[unit.System]string{unit.US: tt.us, unit.Metric: tt.metric} {
			for _, r := range section.BeliefRows(well(), s) {
				if got := strings.TrimSpace(r.Figure(r.After.P50) + " " + r.Unit); r.Name == tt.name && got != want {
					t.Errorf("%s in %v is %s, want %s", r.Name, s, got, want)
				}
			}
		}
	}
}

// The description says in words all that the picture shows.
func TestPictureInWords(t *testing.T) {
	a := well()
	d := section.Belief(a, unit.US)
	for _, want := range []string{
		"iron, total: now 2.1, from 1.7 to 2.5 mg/L; before the evidence 2, from 0.22 to 18; read 2 (field, T1), 2.3 (laboratory, T0); limit 0.3.",
		"manganese: now 0.1, from 0.025 to 0.4 mg/L, assumed; limit 0.05; health limit 0.3.",
		"pH: now 7.1, from 6.9 to 7.3; at least 6.5; limit 8.5.",
		"read <0.001 (laboratory)", "2,000 plausible waters, worth 640 independent ones.",
	} {
		if !strings.Contains(d.Desc, want) {
			t.Errorf("the description does not say %q:\n%s", want, d.Desc)
		}
	}
	a.Quality = plan.Quality{Asked: 2000, Effective: 9, Few: true}
	if d := section.Belief(a, unit.US); !strings.Contains(d.Desc, "too few to trust a probability") {
		t.Errorf("that the waters are too few is not said: %s", d.Desc)
	}
	if d := section.Belief(plan.Answer{}, unit.US); !strings.Contains(d.Desc, "Nothing is known.") {
		t.Errorf("an empty picture says %q", d.Desc)
	}
}

// BenchmarkBelief draws the picture and writes it.
func BenchmarkBelief(b *testing.B) {
	a := well()
	b.ReportAllocs()
	for b.Loop() {
		canvas.SVG(section.Belief(a, unit.US))
	}
}
