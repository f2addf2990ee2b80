package hydraulic

import (
	"fmt"
	"slices"
	"strings"

	"wellwright/formula"
	"wellwright/unit"
)

// The headings that formulas of this room are listed under.
const (
	onWell    = "well and pump"
	onPipes   = "pipes and valves"
	onBeds    = "granular beds"
	onContact = "contact and feed"
	onDemand  = "household demand"
)

// Formulas lists the public formulas of this room.
func Formulas() []formula.Formula {
	return slices.Concat(wellFormulas(), washFormulas(), curveFormulas(), pipeFormulas(), fittingFormulas(), bedFormulas(), grainFormulas(), stackFormulas(),
		vesselFormulas(), contactFormulas(), demandFormulas())
}

// Quantities that only hydraulics has.
var (
	solidsIn = formula.Measured("solids on an area", formula.Measure{Unit: "lb/ft2", Size: 1}, formula.Measure{Unit: "kg/m2", Size: 0.2048161},
		formula.Measure{Unit: "grains/ft2", Size: GrainsPerFt2(1).LbPerFt2()})
	ctIn        = formula.Measured("residual times time", formula.Measure{Unit: "mg·min/L", Size: 1}, formula.Measure{Unit: "mg·min/L", Size: 1}, formula.Measure{Unit: "mg min/L", Size: 1}, formula.Measure{Unit: "mg h/L", Size: 60})
	viscosityIn = formula.Measured("viscosity", formula.Measure{Unit: "mPa·s", Size: 1}, formula.Measure{Unit: "mPa·s", Size: 1}, formula.Measure{Unit: "cP", Size: 1})
	densityIn   = formula.Measured("density", formula.Measure{Unit: "lb/ft3", Size: 16.018463}, formula.Measure{Unit: "kg/m3", Size: 1})
	slopeIn     = formula.Measured("rate", formula.Measure{Unit: "an hour", Size: 1}, formula.Measure{Unit: "an hour", Size: 1})
	points      = formula.Own("pump measurements", `such as "10 gpm at 45 psi; 7 gpm at 60 psi"`, readPoints, showPoints, showPoints, nil)
)

// readPoints reads flows measured at pressures.
func readPoints(s string) ([]PumpPoint, error) {
	var ps []PumpPoint
	for _, one := range strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ',' }) {
		flow, pressure, ok := strings.Cut(strings.ReplaceAll(one, "@", " at "), " at ")
		var p PumpPoint
		if !ok {
			return nil, fmt.Errorf(`%q: write a flow and the pressure at the tank, as in "10 gpm at 45 psi"`, strings.TrimSpace(one))
		}
		if err := p.Flow.UnmarshalText([]byte(flow)); err != nil {
			return nil, err
		}
		if err := p.Pressure.UnmarshalText([]byte(pressure)); err != nil {
			return nil, err
		}
		ps = append(ps, p)
	}
	return ps, nil
}

func showPoints(ps []PumpPoint) formula.Amount {
	var words []string
	for _, p := range ps {
		words = append(words, fmt.Sprintf("%s at %s", p.Flow, p.Pressure))
	}
	return formula.Amount{Words: strings.Join(words, "; ")}
}

func sym(name string, v float64, u string) formula.Symbol {
	return formula.Symbol{Name: name, Value: v, Unit: u}
}

func flowIn(name, symbol, what string) formula.In[unit.Flow] {
	return formula.Flow.Takes(name, symbol, what).Between("0 gpm", "1000 gpm")
}

func temperatureIn() formula.In[unit.Temperature] {
	return formula.Temperature.Takes("temperature", "t", "temperature of the water").Between("1 C", "40 C")
}

func boreIn() formula.In[unit.Length] {
	return formula.Bore.Takes("casing_bore", "d", "true inside diameter of the casing").Between("1 in", "120 in")
}

func pumpFlowIn() formula.In[unit.Flow] { return flowIn("pump_flow", "Q", "what the pump moves") }

func pressureIn(name, symbol, what string) formula.In[unit.Pressure] {
	return formula.Pressure.Takes(name, symbol, what).Between("0 psi", "150 psi")
}

func pointsIn() formula.In[[]PumpPoint] {
	return points.Takes("pump_points", "", "flow to open drain with the gauge at the tank steady at a pressure, each measured")
}

func lengthIn(name, symbol, what string) formula.In[unit.Length] {
	return formula.Length.Takes(name, symbol, what).Between("0 ft", "5000 ft")
}
