package book

import (
	"fmt"
	"strings"
	"time"

	"wellwright/unit"
	"wellwright/well"
)

const firstYear, lastYear = 1850, 2200 // years in which a thing may have been made

var callFields = []field{
	word("urgency", "urgent: illness, an infant, coliform found, a sudden change", "routine", func(c *Call) *Urgency { return &c.Urgency }, Urgent, Soon, Routine),
	text("complaint", "in the caller's words", "orange ring in the toilet bowl since spring", func(c *Call) *string { return &c.Complaint }),
	text("since", "how long", "two years", func(c *Call) *string { return &c.Since }),
	text("after", "what came before it: pump work, flood, new baby", "new pump in May", func(c *Call) *string { return &c.After }),
	text("others", "who else has worked on it, and what they did", "owner shocked the well with bleach", func(c *Call) *string { return &c.OthersTouched }),
	maybe("anyone ill", "illness in the house that may come from the water", "no", func(c *Call) **bool { return &c.Illness }),
	text("tests so far", "any test there is", "none", func(c *Call) *string { return &c.TestsSoFar }),
	lines("leave untouched", "what the owner leaves as it is until the visit", "[flush tank lid closed, no regeneration, no bleach in the well]", func(c *Call) *[]string { return &c.LeaveUntouched }),
}

var wellFields = []field{
	text("name", "what this well is called", "Alder Lane", func(s *well.Supply) *string { return &s.Well.Name }),
	text("place", "as exact as the owner allows", "north of the village", func(s *well.Supply) *string { return &s.Well.Place }),
	word("made", "how the well was made", "drilled", func(s *well.Supply) *well.Kind { return &s.Well.Kind }, well.Drilled, well.Driven, well.Dug, well.Bored, well.Spring),
	whole("year", "when it was made", "1998", firstYear, lastYear, func(s *well.Supply, n int) { s.Well.Year = n }),
	text("driller", "who made it", "not known", func(s *well.Supply) *string { return &s.Well.Driller }),
	text("permit", "permit or log number", "98-1234", func(s *well.Supply) *string { return &s.Well.Permit }),
	positive("depth", "of the bore below ground", "180 ft", func(s *well.Supply) **unit.Length { return &s.Well.Depth }),
	positive("casing", "inside diameter", "6 in", func(s *well.Supply) **unit.Length { return &s.Well.Casing }),
	text("casing material", "", "steel", func(s *well.Supply) *string { return &s.Well.CasingIs }),
	positive("casing depth", "to its lower end, below ground", "40 ft", func(s *well.Supply) **unit.Length { return &s.Well.CasingDepth }),
	quantity("casing above ground", "height of its top", "12 in", func(s *well.Supply) **unit.Length { return &s.Well.CasingAbove }),
	text("grout", "", "cement to 20 ft", func(s *well.Supply) *string { return &s.Well.Grout }),
	yesNo("open hole", "open rock below the casing", "yes", func(s *well.Supply, yes bool) { s.Well.Open = yes }),
	positive("screen from", "top of the screen, below ground", "172 ft", func(s *well.Supply) **unit.Length { return &s.Well.ScreenTop }),
	positive("screen to", "bottom of the screen", "180 ft", func(s *well.Supply) **unit.Length { return &s.Well.ScreenBottom }),
	text("aquifer", "what it draws from", "sand and gravel", func(s *well.Supply) *string { return &s.Well.Aquifer }),
	maybe("cap vermin-proof", "sealed and screened against vermin", "yes", func(s *well.Supply) **bool { return &s.Well.CapSealed }),
	text("cap", "as found", "old two-piece cap", func(s *well.Supply) *string { return &s.Well.Cap }),
	quantity("static level", "water at rest, below ground; minus if it flows", "11.6 m", func(s *well.Supply) **unit.Length { return &s.Well.Static }),
	positive("pumping level", "water while pumping, below ground", "55 ft", func(s *well.Supply) **unit.Length { return &s.Well.Pumping }),
	positive("pumping rate", "the flow at that level", "8 gpm", func(s *well.Supply) **unit.Flow { return &s.Well.PumpingRate }),
	section("yield test", "what the well itself gives, which is not what the pump gives", yieldFields, func(s *well.Supply) *well.Well { return &s.Well }),
	many("specific capacity", "flow for each foot of drawdown, over the years", "2.4 gpm/ft", capacityFields, nil, keepCapacities),
	many("past shocks", "disinfections so far", "a gallon of bleach, by the owner", shockFields, shortShock, func(_ *reader, s *well.Supply, all []well.Shock) { s.Well.Shocks = all }),
	many("past rehabilitation", "brushing, acid, surging so far", "brushed and surged by a contractor", shockFields, shortShock, func(_ *reader, s *well.Supply, all []well.Shock) { s.Well.Rehabilitate = all }),
	text("flooding", "", "never", func(s *well.Supply) *string { return &s.Well.Flooding }),
	text("hazards near", "septic, fuel, animals, and how far off", "septic tank at 100 ft", func(s *well.Supply) *string { return &s.Well.Hazards }),
	section("pump", "the well pump", pumpFields, func(s *well.Supply) *well.Pump { return &s.Pump }),
	section("pressure tank", "", tankFields, func(s *well.Supply) *well.Tank { return &s.Tank }),
	section("pipe", "the main from the tank to the house", pipeFields, func(s *well.Supply) *well.Pipe { return &s.Pipe }),
	text("remarks", "", "pit floods in spring", func(s *well.Supply) *string { return &s.Well.Remarks }),
}

var yieldFields = []field{
	positive("flow", "held to the end of the test", "3.0 gpm", func(w *well.Well) **unit.Flow { return &w.Yield }),
	span("lasted", "how long the test ran", "1 h", func(w *well.Well, d time.Duration) { h := d.Hours(); w.YieldHours = &h }),
	positive("level at end", "below ground", "145 ft", func(w *well.Well) **unit.Length { return &w.YieldLevel }),
	text("recovery", "how the level came back", "10 ft in 15 min", func(w *well.Well) *string { return &w.Recovery }),
}

var capacityFields = []field{
	spelt("on", required(day("date", "or month, or year", "1986", func(c *well.Capacity, t time.Time) { c.On = t }))),
	required(scalar("value", "flow for each foot of drawdown", "2.4 gpm/ft", func(s string, c *well.Capacity) error {
		return c.Value.UnmarshalText([]byte(s))
	})),
}

var shockFields = []field{
	spelt("on", day("date", "or month, or year", "2024-10", func(s *well.Shock, t time.Time) { s.On = t })),
	required(text("how", "product, dose, and who did it", "a gallon of bleach, by the owner", func(s *well.Shock) *string { return &s.How })),
	text("helped for", "", "three weeks", func(s *well.Shock) *string { return &s.Lasted }),
}

func shortShock(s string, into *well.Shock) error { into.How = s; return nil }

var pumpFields = []field{
	word("kind", "", "submersible", func(p *well.Pump) *well.PumpKind { return &p.Kind }, well.Submersible, well.Jet, well.HandPump),
	word("drive", "how it is governed", "fixed speed", func(p *well.Pump) *well.Drive { return &p.Drive }, well.FixedSpeed, well.VariableSpeed, well.ThrottleValve),
	positive("power", "", "0.75 hp", func(p *well.Pump) **unit.Power { return &p.Power }),
	positive("setting", "intake below ground", "120 ft", func(p *well.Pump) **unit.Length { return &p.Setting }),
	pumpFlows("measured at the tank", "flow and the pressure it was measured at; never at a faucet", "9.5 gpm at 45 psi"),
	positive("flow control", "throttled to", "3 gpm", func(p *well.Pump) **unit.Flow { return &p.FlowControl }),
	whole("year", "when it was fitted", "2016", firstYear, lastYear, func(p *well.Pump, n int) { p.Year = n }),
	text("drop pipe", "material and size", "plastic, 1 in", func(p *well.Pump) *string { return &p.DropPipe }),
	text("check valves", "where", "one at the pump", func(p *well.Pump) *string { return &p.CheckValves }),
	text("cycle", "how it starts and stops", "runs 70 s, rests 4 min", func(p *well.Pump) *string { return &p.Cycle }),
}

// pumpFlows reads one or several measurements; they replace earlier ones.
func pumpFlows(name, what, eg string) field {
	return field{
		name: name, what: what, eg: eg, form: form{shape: List, item: &form{}, short: true},
		read: func(r *reader, v Value, body any) bool {
			var all []well.PumpFlow
			for _, item := range asList(v) {
				s, ok := r.text(item)
				if !ok {
					continue
				}
				m, err := parsePumpFlow(s)
				if err != nil {
					r.wrong(item, err.Error(), "write the flow and its pressure, such as "+eg)
					continue
				}
				all = append(all, m)
			}
			if len(all) > 0 {
				body.(*well.Pump).Measured = all
			}
			return len(all) > 0
		},
	}
}

func parsePumpFlow(s string) (m well.PumpFlow, err error) {
	flow, pressure, ok := strings.Cut(s, " at ")
	if !ok {
		return m, fmt.Errorf("pump flow %q has no pressure", s)
	}
	if err = m.Flow.UnmarshalText([]byte(flow)); err != nil {
		return m, err
	}
	return m, m.Pressure.UnmarshalText([]byte(pressure))
}

var tankFields = []field{
	word("kind", "an air-over-water tank lets iron rust before treatment", "pre-charged", func(t *well.Tank) *well.TankKind { return &t.Kind }, well.PreCharged, well.AirOverWater, well.NoTank),
	positive("volume", "total", "44 gal", func(t *well.Tank) **unit.Volume { return &t.Volume }),
	positive("drawdown", "between cut-out and cut-in, measured", "12 gal", func(t *well.Tank) **unit.Volume { return &t.Drawdown }),
	positive("precharge", "air pressure with the tank empty", "38 psi", func(t *well.Tank) **unit.Pressure { return &t.Precharge }),
	scalar("switch", "cut-in and cut-out", "40/60 psi", readSwitch),
	maybe("tap before it", "a sample tap between the pump and the tank", "no", func(t *well.Tank) **bool { return &t.TapBefore }),
	text("remarks", "", "galvanised, old", func(t *well.Tank) *string { return &t.Remarks }),
}

// readSwitch reads "40/60 psi".
func readSwitch(s string, t *well.Tank) error {
	low, high, ok := strings.Cut(s, "/")
	if !ok {
		return fmt.Errorf("switch %q: write cut-in/cut-out, such as 40/60 psi", s)
	}
	var in, out unit.Pressure
	if err := out.UnmarshalText([]byte(high)); err != nil {
		return err
	}
	if err := in.UnmarshalText([]byte(strings.TrimSpace(low) + " " + unitOf(high))); err != nil {
		return err
	}
	if in.PSI() >= out.PSI() {
		return fmt.Errorf("switch %q: cut-in must be below cut-out", s)
	}
	t.CutIn, t.CutOut = &in, &out
	return nil
}

var pipeFields = []field{
	text("material", "copper, pex, cpvc, pvc, galvanised", "copper", func(p *well.Pipe) *string { return &p.Material }),
	positive("size", "nominal", "1 in", func(p *well.Pipe) **unit.Length { return &p.Nominal }),
	positive("length", "", "20 ft", func(p *well.Pipe) **unit.Length { return &p.Length }),
	quantity("top fixture", "height above the tank", "18 ft", func(p *well.Pipe) **unit.Length { return &p.TopRise }),
	text("remarks", "", "nipple at the tank half closed by rust", func(p *well.Pipe) *string { return &p.Remarks }),
}
