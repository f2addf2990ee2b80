package section

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// BeliefRow is one quantity made ready to be drawn or printed, in the units of a
// system.
type BeliefRow struct {
	Part, Name, Unit string
	Note             string          // what the name means; "" where it says so itself
	Before           *plan.Quantiles // nil: nothing is known from before the evidence
	After            plan.Quantiles
	Readings         []plan.Reading
	Limit            plan.LimitTicks
	Assumed          bool
	Axis             Axis

	digits   int     // significant figures; 0 prints decimals instead
	decimals int     // after the point
	finest   float64 // below it a figure is only said to be less
}

// Parts of the picture, in their order.
const (
	Iron       = "Iron, by form"
	Companions = "Companions"
	Health     = "Health"
	Supply     = "Supply and demand"
)

// look is how a quantity is shown.
type look struct {
	leaf, part, name string
	us, metric       scale
	decimals         int // 0: two figures
	note             string
}

// scale is the unit a quantity is shown in with its usual axis. Every sheet has
// the same axis for a quantity, so that two wells can be laid side by side; it
// grows only where a value lies beyond. Limits of the axes: common practice.
type scale struct {
	unit string
	to   func(float64) float64 // from the unit of the answer; nil: as it is
	axis Axis
}

func plainly(name string, low, high float64) scale {
	return scale{unit: name, axis: Axis{low, high, true}}
}

// alike is a look that is the same in both systems, on a logarithmic axis.
func alike(leaf, part, name, u string, low, high float64) look {
	s := plainly(u, low, high)
	return look{leaf: leaf, part: part, name: name, us: s, metric: s}
}

// noted adds what a name means.
func (l look) noted(s string) look { l.note = s; return l }

// own is a look with a unit or an axis of its own in each system.
func own(leaf, part, name string, us, metric scale, decimals int) look {
	return look{leaf: leaf, part: part, name: name, us: us, metric: metric, decimals: decimals}
}

func litres(v float64) float64 { return unit.GPM(v).LPerMin() }

var looks = []look{
	alike("iron_total_mg_l", Iron, "iron, total", "mg/L", 0.01, 30),
	alike("iron_dissolved_mg_l", Iron, "iron, dissolved", "mg/L", 0.01, 30).noted("passes 0.45 µm"),
	alike("iron_ferrous_mg_l", Iron, "iron, ferrous", "mg/L", 0.01, 30).noted("clear"),
	alike("iron_particulate_mg_l", Iron, "iron, particulate", "mg/L", 0.01, 30).noted("rust"),
	alike("iron_bound_mg_l", Iron, "iron, bound", "mg/L", 0.01, 30).noted("fine or organic"),
	alike("manganese_total_mg_l", Companions, "manganese", "mg/L", 0.001, 3),
	own("ph", Companions, "pH", scale{axis: Axis{5, 9, false}}, scale{axis: Axis{5, 9, false}}, 1),
	alike("alkalinity_mg_l_as_caco3", Companions, "alkalinity", "mg/L as CaCO3", 10, 1000),
	own("hardness_mg_l_as_caco3", Companions, "hardness",
		scale{"gpg", func(v float64) float64 { return unit.HardnessAsCaCO3(v).GPG() }, Axis{0.3, 100, true}},
		plainly("mg/L as CaCO3", 3, 1000), 0),
	alike("co2_mg_l", Companions, "carbon dioxide", "mg/L", 1, 300),
	own("temperature_c", Companions, "temperature",
		scale{"F", func(v float64) float64 { return unit.Celsius(v).Fahrenheit() }, Axis{32, 77, false}},
		scale{"°C", nil, Axis{0, 25, false}}, whole),
	own("oxygen_mg_l", Companions, "oxygen", scale{"mg/L", nil, Axis{0, 12, false}}, scale{"mg/L", nil, Axis{0, 12, false}}, 1),
	alike("sulfide_mg_l_as_h2s", Companions, "sulfide", "mg/L as H2S", 0.01, 10),
	alike("ammonia_mg_l_as_n", Companions, "ammonia", "mg/L as N", 0.01, 10),
	alike("toc_mg_l", Companions, "organic carbon", "mg/L", 0.1, 30),
	alike("silica_mg_l", Companions, "silica", "mg/L as SiO2", 1, 100),
	alike("sodium_mg_l", Companions, "sodium", "mg/L", 1, 1000),
	alike("chloride_mg_l", Companions, "chloride", "mg/L", 1, 1000),
	alike("sulfate_mg_l", Companions, "sulfate", "mg/L", 1, 1000),
	alike("arsenic_mg_l", Health, "arsenic", "mg/L", 0.0001, 0.1),
	alike("nitrate_mg_l_as_n", Health, "nitrate", "mg/L as N", 0.01, 100),
	own("yield_gpm", Supply, "yield of the well", scale{"gpm", nil, Axis{0, 20, false}}, scale{"L/min", litres, Axis{0, 80, false}}, 0),
	own("pump_gpm", Supply, "pump at cut-in", scale{"gpm", nil, Axis{0, 20, false}}, scale{"L/min", litres, Axis{0, 80, false}}, 0),
	own("daily_use_gal_per_day", Supply, "daily use", scale{"gal/day", nil, Axis{0, 1000, false}},
		scale{"L/day", func(v float64) float64 { return unit.Gal(v).L() }, Axis{0, 4000, false}}, 0),
	alike("chlorine_demand_mg_l", Supply, "chlorine demand", "mg/L as Cl2", 0.3, 30),
}

// finestOn is the finest step that a figure on a logarithmic axis is printed to:
// the decade in which the axis begins, or the one below from one on.
func finestOn(a Axis) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(a.Low)+rounding))
	if decade >= 1 {
		decade /= 10
	}
	return tidy(decade)
}

// whole prints no decimals.
const whole = -1

// BeliefRows makes the beliefs of an answer ready, in the order of the picture. A
// belief that has no look of its own is left to the answer for machines.
func BeliefRows(a plan.Answer, s unit.System) []BeliefRow {
	by := map[string]plan.Belief{}
	for _, b := range a.Belief {
		by[b.Name] = b
	}
	var rows []BeliefRow
	for _, l := range looks {
		if b, ok := by[l.leaf]; ok {
			rows = append(rows, l.row(b, s))
		}
	}
	return rows
}

// row turns a belief into the units of a system.
func (l look) row(b plan.Belief, s unit.System) BeliefRow {
	sc := l.us
	if s == unit.Metric {
		sc = l.metric
	}
	r := BeliefRow{Part: l.part, Name: l.name, Note: l.note, Unit: sc.unit, After: sc.five(b.After), Assumed: b.Assumed, Axis: sc.axis, digits: 2}
	switch {
	case l.decimals == whole:
		r.digits = 0
	case l.decimals > 0:
		r.digits, r.decimals = 0, l.decimals
	}
	if sc.axis.Log {
		r.finest = finestOn(sc.axis)
	}
	if b.Before != nil {
		before := sc.five(*b.Before)
		r.Before = &before
	}
	for _, x := range b.Readings {
		x.Value = sc.of(x.Value)
		r.Readings = append(r.Readings, x)
	}
	if b.Limit != nil {
		r.Limit = plan.LimitTicks{Low: sc.maybe(b.Limit.Low), High: sc.maybe(b.Limit.High), Health: sc.maybe(b.Limit.Health)}
	}
	r.Axis = r.Axis.reaching(r.values()...)
	return r
}

func (s scale) of(v float64) float64 {
	if s.to == nil {
		return v
	}
	return s.to(v)
}

func (s scale) maybe(v *float64) *float64 {
	if v == nil {
		return nil
	}
	out := s.of(*v)
	return &out
}

func (s scale) five(q plan.Quantiles) plan.Quantiles {
	return plan.Quantiles{P05: s.of(q.P05), P25: s.of(q.P25), P50: s.of(q.P50), P75: s.of(q.P75), P95: s.of(q.P95)}
}

// values are all that the axis must hold. A logarithmic axis is not drawn out for
// what is too little to print: that runs off to the left.
func (r BeliefRow) values() []float64 {
	all := []float64{r.After.P50, r.After.P95}
	if !r.Axis.Log {
		all = append(all, r.After.P05)
	}
	if r.Before != nil {
		all = append(all, r.Before.P95)
	}
	for _, x := range r.Readings {
		all = append(all, x.Value)
	}
	for _, v := range []*float64{r.Limit.Low, r.Limit.High, r.Limit.Health} {
		if v != nil {
			all = append(all, *v)
		}
	}
	return slices.DeleteFunc(all, func(v float64) bool { return v < r.finest })
}

// Figure prints a value of the row no finer than it is known.
func (r BeliefRow) Figure(v float64) string {
	switch {
	case r.digits == 0:
		return thousands(fmt.Sprintf("%.*f", r.decimals, math.Max(0, v)))
	case v <= 0:
		return "0"
	case v < r.finest:
		return "<" + unit.Significant(r.finest, 1)
	}
	decimals := r.digits - 1 - int(math.Floor(math.Log10(v)))
	if r.finest > 0 {
		decimals = min(decimals, int(math.Round(-math.Log10(r.finest))))
	}
	if decimals < 0 {
		step := math.Pow(10, -float64(decimals))
		v = math.Round(v/step) * step
	}
	return thousands(trimmed(strconv.FormatFloat(v, 'f', max(0, decimals), 64)))
}

// trimmed takes off the noughts that end a fraction.
func trimmed(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Span prints the ends of what is believed; one figure where they do not differ.
func (r BeliefRow) Span(q plan.Quantiles) string {
	low, high := r.Figure(q.P05), r.Figure(q.P95)
	if low == high {
		return low
	}
	return low + "–" + high
}

// Read prints a reading with its sign, as it was measured.
func (r BeliefRow) Read(x plan.Reading) string {
	return x.Sign + thousands(unit.Significant(x.Value, 3))
}

// Ends prints the figures at the ends of the axis.
func (r BeliefRow) Ends() (low, high string) { return label(r.Axis.Low), label(r.Axis.High) }

// Sentence tells the row in words, for whoever cannot see it.
func (r BeliefRow) Sentence() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: now %s, from %s to %s", r.Name, r.Figure(r.After.P50), r.Figure(r.After.P05), r.Figure(r.After.P95))
	if r.Unit != "" {
		b.WriteString(" " + r.Unit)
	}
	if r.Assumed {
		b.WriteString(", assumed")
	}
	if r.Before != nil {
		fmt.Fprintf(&b, "; before the evidence %s, from %s to %s", r.Figure(r.Before.P50), r.Figure(r.Before.P05), r.Figure(r.Before.P95))
	}
	for i, x := range r.Readings {
		if i == 0 {
			b.WriteString("; read ")
		} else {
			b.WriteString(", ")
		}
		b.WriteString(r.Read(x) + " " + place(x))
	}
	for _, l := range r.Limits() {
		b.WriteString("; " + l)
	}
	return b.String() + "."
}

// place says where a reading is from.
func place(x plan.Reading) string {
	if x.Tap == "" {
		return "(" + x.Kind + ")"
	}
	return "(" + x.Kind + ", " + x.Tap + ")"
}

// Limits are the limits in words.
func (r BeliefRow) Limits() []string {
	var out []string
	for _, l := range []struct {
		words string
		v     *float64
	}{{"at least ", r.Limit.Low}, {"limit ", r.Limit.High}, {"health limit ", r.Limit.Health}} {
		if l.v != nil {
			out = append(out, l.words+r.LimitFigure(*l.v))
		}
	}
	return out
}

// LimitFigure prints a limit as it is set.
func (r BeliefRow) LimitFigure(v float64) string { return thousands(unit.Significant(v, 3)) }
