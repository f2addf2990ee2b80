package plan

import (
	"fmt"
	"strconv"
	"strings"

	"wellwright/cloud"
	"wellwright/unit"
)

// dials are the inputs of whatif.
var dials = []dial{
	{"iron", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.TotalIron().MgPerL() }, setIron, 0.3, 30},
	{"ferrous", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Ferrous.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Ferrous = unit.MgPerL(v) }, 0.1, 30},
	{"particulate", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Particulate.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Particulate = unit.MgPerL(v) }, 0.05, 10},
	{"bound", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Bound.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Bound = unit.MgPerL(v) }, 0.05, 10},
	{"manganese", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Manganese.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Manganese = unit.MgPerL(v) }, 0.02, 3},
	{"sulfide", "mg/L as H2S", number, func(d cloud.Draw) float64 { return d.Water.Sulfide.MgPerLAsH2S() },
		func(d *cloud.Draw, v float64) { d.Water.Sulfide = unit.MgPerLAsH2S(v) }, 0.05, 10},
	{"ammonia", "mg/L as N", number, func(d cloud.Draw) float64 { return d.Water.Ammonia.MgPerLAsN() },
		func(d *cloud.Draw, v float64) { d.Water.Ammonia = unit.MgPerLAsN(v) }, 0.05, 5},
	{"oxygen", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Oxygen.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Oxygen = unit.MgPerL(v) }, 0.1, 8},
	{"toc", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.OrganicCarbon.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.OrganicCarbon = unit.MgPerL(v) }, 0.5, 10},
	{"ph", "pH", number, func(d cloud.Draw) float64 { return d.Water.PH.Value() },
		func(d *cloud.Draw, v float64) { d.Water.PH = unit.PHOf(v) }, 5.5, 8.5},
	{"alkalinity", "mg/L as CaCO3", number, func(d cloud.Draw) float64 { return d.Water.Alkalinity.MgPerLAsCaCO3() },
		func(d *cloud.Draw, v float64) { d.Water.Alkalinity = unit.AlkalinityAsCaCO3(v) }, 10, 500},
	{"hardness", "gpg", quantityIn(func(t string) (float64, error) {
		var h unit.Hardness
		err := h.UnmarshalText([]byte(t))
		return h.GPG(), err
	}), func(d cloud.Draw) float64 { return d.Water.Hardness().GPG() }, setHardness, 1, 60},
	{"temperature", "C", quantityIn(func(t string) (float64, error) {
		var q unit.Temperature
		err := q.UnmarshalText([]byte(t))
		return q.Celsius(), err
	}), func(d cloud.Draw) float64 { return d.Water.Temperature.Celsius() },
		func(d *cloud.Draw, v float64) { d.Water.Temperature = unit.Celsius(v) }, 3, 25},
	{"pump", "gpm", gpm, pumpNow, setPump, 1.5, 25},
	{"yield", "gpm", gpm, func(d cloud.Draw) float64 { return d.Supply.Hydraulic.Yield.GPM() },
		func(d *cloud.Draw, v float64) { d.Supply.Hydraulic.Yield = unit.GPM(v) }, 0.25, 25},
	{"peak", "gpm", gpm, func(d cloud.Draw) float64 { return d.Supply.Peak.GPM() },
		func(d *cloud.Draw, v float64) { d.Supply.Peak = unit.GPM(v) }, 3, 20},
	{"daily", "gal/day", quantityIn(func(t string) (float64, error) {
		var q unit.Flow
		err := q.UnmarshalText([]byte(t))
		return q.GalPerDay(), err
	}), dailyNow,
		setDaily, 75, 1500},
	{people, "people", number, dailyNow, setDaily, 1, 20},
	{"nitrate", "mg/L as N", number, func(d cloud.Draw) float64 { return d.Water.Nitrate.MgPerLAsN() },
		func(d *cloud.Draw, v float64) { d.Water.Nitrate = unit.MgPerLAsN(v) }, 0.5, 50},
	{"arsenic", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Arsenic.MgPerL() }, setArsenic, 0.002, 0.1},
	{"sulfate", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Sulfate.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Sulfate = unit.MgPerL(v) }, 5, 500},
	{"chloride", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Chloride.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Chloride = unit.MgPerL(v) }, 5, 500},
	{"sodium", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Sodium.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Sodium = unit.MgPerL(v) }, 5, 300},
	{"silica", "mg/L", number, func(d cloud.Draw) float64 { return d.Water.Silica.MgPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Silica = unit.MgPerL(v) }, 5, 60},
	{"radon", "pCi/L", quantityIn(func(t string) (float64, error) {
		var q unit.Radioactivity
		err := q.UnmarshalText([]byte(t))
		return q.PCiPerL(), err
	}), func(d cloud.Draw) float64 { return d.Water.Radon.PCiPerL() },
		func(d *cloud.Draw, v float64) { d.Water.Radon = unit.PCiPerL(v) }, 300, 50000},
	{"cut-in", "psi", psi, func(d cloud.Draw) float64 { return d.Supply.Hydraulic.CutIn.PSI() }, setCutIn, 20, 60},
	{"casing-storage", "gal", gallon, func(d cloud.Draw) float64 { return d.Supply.Hydraulic.CasingStorage.Gal() },
		func(d *cloud.Draw, v float64) { d.Supply.Hydraulic.CasingStorage = unit.Gal(v) }, 5, 500},
	{"pressure-tank", "gal", gallon, func(d cloud.Draw) float64 { return d.Supply.Hydraulic.Tank.Total.Gal() },
		func(d *cloud.Draw, v float64) { d.Supply.Hydraulic.Tank.Total = unit.Gal(v) }, 5, 250},
}

func dailyNow(d cloud.Draw) float64 { return d.Supply.Daily.GalPerDay() }

func setDaily(d *cloud.Draw, v float64) { d.Supply.Daily = unit.GalPerDay(v) }

// number reads a plain number, with or without mg/L behind it.
func number(text string) (float64, error) {
	t := strings.TrimSpace(text)
	for _, u := range []string{"mg/L", "mg/l", "ppm"} {
		t = strings.TrimSpace(strings.TrimSuffix(t, u))
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", text)
	}
	return v, nil
}

// quantityIn reads a number with its unit; a bare number is in the dial's own.
func quantityIn(read func(string) (float64, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		if v, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
			return v, nil
		}
		return read(text)
	}
}

// gpm reads a flow in gallons a minute.
var gpm = quantityIn(func(text string) (float64, error) {
	var q unit.Flow
	err := q.UnmarshalText([]byte(text))
	return q.GPM(), err
})

// setIron scales every form of iron alike.
func setIron(d *cloud.Draw, total float64) {
	was := d.Water.TotalIron().MgPerL()
	if was == 0 {
		d.Water.Ferrous = unit.MgPerL(total)
		return
	}
	scale := func(c unit.Concentration) unit.Concentration { return unit.MgPerL(c.MgPerL() * total / was) }
	w := &d.Water
	w.Ferrous, w.Particulate, w.Bound = scale(w.Ferrous), scale(w.Particulate), scale(w.Bound)
}

// calciumInCarbonate is the share of calcium in calcium carbonate by weight:
// 40.078 over 100.087 (IUPAC).
const calciumInCarbonate = 40.078 / 100.087

// setHardness scales calcium and magnesium alike.
func setHardness(d *cloud.Draw, gpg float64) {
	was := d.Water.Hardness().GPG()
	if was == 0 {
		d.Water.Calcium = unit.MgPerL(unit.GPG(gpg).MgPerLAsCaCO3() * calciumInCarbonate)
		return
	}
	d.Water.Calcium = unit.MgPerL(d.Water.Calcium.MgPerL() * gpg / was)
	d.Water.Magnesium = unit.MgPerL(d.Water.Magnesium.MgPerL() * gpg / was)
}

func pumpNow(d cloud.Draw) float64 {
	return d.Supply.Hydraulic.Pump.FlowAt(d.Supply.Hydraulic.CutIn).GPM()
}

// setPump gives the pump another flow at cut-in pressure, of the same shape; the
// well is taken to follow if its yield was only assumed from the pump.
func setPump(d *cloud.Draw, flow float64) {
	was := pumpNow(*d)
	if was == 0 {
		return
	}
	d.Supply.Hydraulic.Pump = d.Supply.Hydraulic.Pump.Scaled(flow / was)
	if d.Supply.Hydraulic.Yield.GPM() < flow && d.Supply.Hydraulic.Yield.GPM() >= was*0.999 {
		d.Supply.Hydraulic.Yield = unit.GPM(flow)
	}
}

// psi reads a pressure, gallon a volume.
var (
	psi = quantityIn(func(text string) (float64, error) {
		var q unit.Pressure
		err := q.UnmarshalText([]byte(text))
		return q.PSI(), err
	})
	gallon = quantityIn(func(text string) (float64, error) {
		var q unit.Volume
		err := q.UnmarshalText([]byte(text))
		return q.Gal(), err
	})
)

// setArsenic keeps the share that has been oxidised.
func setArsenic(d *cloud.Draw, v float64) {
	if was := d.Water.Arsenic.MgPerL(); was > 0 {
		d.Water.ArsenicV = unit.MgPerL(d.Water.ArsenicV.MgPerL() * v / was)
	}
	d.Water.Arsenic = unit.MgPerL(v)
}

// setCutIn moves the switch as a whole: cut-out and the charge of the tank's air go
// along.
func setCutIn(d *cloud.Draw, v float64) {
	h := &d.Supply.Hydraulic
	by := v - h.CutIn.PSI()
	h.CutIn, h.CutOut = unit.PSI(v), unit.PSI(h.CutOut.PSI()+by)
	if h.Tank.Precharge.PSI() > 0 {
		h.Tank.Precharge = unit.PSI(max(0, h.Tank.Precharge.PSI()+by))
	}
}
