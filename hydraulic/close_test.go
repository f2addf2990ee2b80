package hydraulic

import (
	"math"
	"testing"

	"wellwright/unit"
)

// row is one number with where the wanted value comes from.
type row struct {
	name      string
	got, want float64
	tol       float64
	source    string
}

func check(t *testing.T, rows []row) {
	t.Helper()
	for _, r := range rows {
		if math.IsNaN(r.got) || math.Abs(r.got-r.want) > r.tol {
			t.Errorf("%s = %.6g, want %g ± %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

func celsius(c float64) unit.Temperature { return unit.Celsius(c) }

// mPerHour makes a loading from metres an hour by way of flow and area.
func mPerHour(v float64) unit.Loading { return loading(v / 3600) }

func inMPerHour(v unit.Loading) float64 { return metersPerSecond(v) * 3600 }

// meters reads a pressure as metres of water at a temperature.
func meters(p unit.Pressure, t unit.Temperature) float64 {
	return p.KPa() * 1000 / (Density(t) * gravity)
}
