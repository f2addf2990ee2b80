package hydraulic_test

import (
	"testing"
	"time"

	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

const (
	enumerated = "derived: exact convolution; chances of Buchberger and others, 2017 (from memory)"
	betweenRow = "derived: straight line between rows of the code's table"
	epanet     = "US EPA, EPANET 2.2 User Manual, 2020, tutorial output"
	pelikan    = "Pelikan, 2006, trade journal article on drawdown, example 1"
	exhibit    = "77 Ill. Adm. Code 906, Exhibit I, schedule 40 plastic"
	copper     = "irrigation tables for copper tube types K and L"
	pexTable   = "PEX tube data, ASTM F876 SDR-9"
	fluids     = "fluids library 1.3.1"
)

func home(t *testing.T, counts map[string]int) hydraulic.Peak {
	var groups []hydraulic.Group
	for _, f := range hydraulic.Fixtures(source.Set{}) {
		if n := counts[f.Name]; n > 0 {
			groups = append(groups, hydraulic.Group{Fixture: f, Count: n})
		}
	}
	return must[hydraulic.Peak](t)(hydraulic.PeakFlow(groups))
}

func demandExamples(t *testing.T) []example {
	a := home(t, map[string]int{"toilet": 3, "lavatory faucet": 3, "shower head": 1, "bath and shower": 1,
		"kitchen faucet": 1, "dishwasher": 1, "clothes washer": 1})
	b := home(t, map[string]int{"toilet": 1, "lavatory faucet": 1, "bath and shower": 1, "kitchen faucet": 1, "clothes washer": 1})
	code := func(c hydraulic.Code, units float64) float64 { return must[unit.Flow](t)(c.FlushTankPeak(units)).GPM() }
	year := hydraulic.Household{People: 4}.Year(source.Set{}, 1)
	used := 0.0
	for _, u := range year {
		used += u.Volume().Gal() / 365
	}
	const mayer = "Mayer and others, 1999, regression as given by Lawrence Berkeley National Laboratory"
	return []example{
		{"house of 11.4 fixture units, IPC", "gpm", 15.64, 0.01, code(hydraulic.IPC, 11.4), betweenRow, ""},
		{"the same, NSPC", "gpm", 8.70, 0.01, code(hydraulic.NSPC, 11.4), betweenRow, ""},
		{"the same, Illinois", "gpm", 8.84, 0.01, code(hydraulic.Illinois, 11.4), betweenRow, ""},
		{"12 fixture units, IPC", "gpm", 16.0, 0.01, code(hydraulic.IPC, 12), "IRC examination page", ""},
		{"2½-bath house: mean number running", "", 0.270, 1e-6, a.Hunter, enumerated, ""},
		{"2½-bath house: chance that none runs", "", 0.7595, 5e-5, a.Idle, enumerated, ""},
		{"2½-bath house: mean", "gpm", 0.8155, 5e-5, a.Mean.GPM(), enumerated, ""},
		{"2½-bath house: variance", "gpm2", 2.8837, 5e-5, a.Variance, enumerated, ""},
		{"2½-bath house: 99 % of busy time", "gpm", 9.0, 0.01, a.Busy99.GPM(), enumerated, ""},
		{"2½-bath house: modified Wistort", "gpm", 7.59, 0.01, a.ModifiedWistort().GPM(), enumerated, ""},
		{"2½-bath house: Wistort", "gpm", 4.77, 0.01, a.Wistort().GPM(), enumerated, ""},
		{"1-bath house: 99 % of busy time", "gpm", 9.0, 0.01, b.Busy99.GPM(), enumerated, ""},
		{"1-bath house: modified Wistort", "gpm", 7.84, 0.01, b.ModifiedWistort().GPM(), enumerated, ""},
		{"four people", "gal/day", 218, 0.5, hydraulic.DailyUse(source.Set{}, 4).GalPerDay(), mayer, ""},
		{"four people, a year of drawn events", "gal/day", 218, 11, used, mayer + "; end uses from a later study", ""},
		{"two existing homes on a shared well", "gpm", 6, 0, hydraulic.SharedWellFlow(source.Set{}, 2, 0).GPM(), "US HUD Handbook 4000.1", ""},
		{"400 gal/day in a two-hour peak", "gpm", 3.33, 0.01, hydraulic.PlanningPeak(unit.GalPerDay(400)).GPM(), "Penn State Extension, Water system planning, 2017", ""},
	}
}

func supplyExamples(t *testing.T) []example {
	tank := hydraulic.PressureTank{Total: unit.Gal(85), Precharge: unit.PSI(28)}
	one := must[hydraulic.PumpCurve](t)(hydraulic.CurveFromDuty(hydraulic.Duty{Flow: unit.GPM(1000), Head: unit.Ft(200)}))
	three := must[hydraulic.PumpCurve](t)(hydraulic.CurveThrough(unit.Ft(320),
		hydraulic.Duty{Flow: unit.GPM(10), Head: unit.Ft(222)}, hydraulic.Duty{Flow: unit.GPM(14), Head: unit.Ft(110)}))
	perFoot := hydraulic.PumpingEnergy(unit.Gal(1e6), unit.Ft(1), 1).KWh()
	wait, _ := hydraulic.Recovery(unit.Gal(33), unit.GPM(3), unit.GPM(0.5))
	const form = "derived: EPANET 2.2 three-point form, H = 320 - 0.53227 Q^2.26509"
	return []example{
		{"85 gal tank, 28 psi charge, 30/50", "gal", 25.1, 0.1, tank.Drawdown(unit.PSI(30), unit.PSI(50)).Gal(), pelikan, ""},
		{"its factor", "", 0.295, 0.0005, tank.Drawdown(unit.PSI(30), unit.PSI(50)).Gal() / 85, pelikan, ""},
		{"20 gal drawn, 95 s to recover", "gpm", 12.6, 0.1, hydraulic.TimedCycle(unit.Gal(20), 95*time.Second).GPM(), "trade example of a timed cycle", ""},
		{"16 gal drawn, 90 s to recover", "gpm", 10.67, 0.01, hydraulic.TimedCycle(unit.Gal(16), 90*time.Second).GPM(), "derived: arithmetic of a trade example", ""},
		{"16 gal in 90 s as a trade page prints it", "gpm", 10.6, 0.05, hydraulic.TimedCycle(unit.Gal(16), 90*time.Second).GPM(), "trade page on timed cycles",
			"the page rounds a step on the way"},
		{"pump of one point: head at 1049.81 gpm", "ft", 193.19, 0.02, one.HeadAt(unit.GPM(1049.81)).Ft(), epanet, ""},
		{"pump of three points: head at 12 gpm", "ft", 171.9, 0.3, three.HeadAt(unit.GPM(12)).Ft(), form, ""},
		{"6 in casing", "gal/ft", 1.47, 0.005, hydraulic.CasingVolumePerFoot(unit.Inches(6)).Gal(), "derived: 0.0408 d2", ""},
		{"33 gal at 2.5 gpm to spare", "min", 13.2, 0.01, wait.Minutes(), "derived: water balance", ""},
		{"lifting 10 gpm by 10 ft for an hour at 10 cents", "$", 0.00233, 1e-5, 0.10 * hydraulic.PumpingEnergy(unit.Gal(600), unit.Ft(10), 0.81).KWh(), "engineering data page, pumping cost", ""},
		{"745.97 kWh/Mgal at 75 %", "ft", 178.0, 0.5, 745.97 * 0.75 / perFoot, "US EPA, EPANET 2.2 User Manual, 2020, energy table inverted", ""},
		{"1000 gal by 200 ft at 35 %", "kWh", 1.796, 0.002, hydraulic.PumpingEnergy(unit.Gal(1000), unit.Ft(200), 0.35).KWh(), "derived: 0.003143 H/eta", ""},
	}
}

func pipeExamples(t *testing.T) []example {
	loss := func(m hydraulic.Material, inches, gpm float64) unit.Pressure {
		return must[hydraulic.Pipe](t)(hydraulic.NewPipe(m, unit.Inches(inches), unit.Ft(100))).HazenLoss(unit.GPM(gpm))
	}
	main := func(inches, gpm float64) float64 {
		return hydraulic.Pipe{Bore: unit.Inches(inches), Length: unit.Ft(1000), C: 100}.HazenLoss(unit.GPM(gpm)).FtWater()
	}
	old := hydraulic.Pipe{Bore: unit.Inches(0.824), Length: unit.Ft(100), Roughness: unit.Ft(0.0005), C: 120}
	speed := func(inches, gpm float64) float64 {
		return hydraulic.Pipe{Bore: unit.Inches(inches)}.FeetPerSecond(unit.GPM(gpm))
	}
	return []example{
		{"12 in main, C 100, 1049.81 gpm", "ft/1000 ft", 4.51, 0.01, main(12, 1049.81), epanet, ""},
		{"12 in main, C 100, 559.25 gpm", "ft/1000 ft", 1.40, 0.01, main(12, 559.25), epanet, ""},
		{"10 in main, C 100, 474.81 gpm", "ft/1000 ft", 2.52, 0.01, main(10, 474.81), epanet, ""},
		{"12 in main: speed at 1049.81 gpm", "ft/s", 2.98, 0.01, speed(12, 1049.81), epanet, ""},
		{"12 in main: speed at 559.25 gpm", "ft/s", 1.59, 0.01, speed(12, 559.25), epanet, ""},
		{"10 in main: speed at 474.81 gpm", "ft/s", 1.94, 0.01, speed(10, 474.81), epanet, ""},
		{"1 in schedule 40 plastic, 8 gpm", "ft/100 ft", 3.63, 0.05, loss(hydraulic.PVC40, 1, 8).FtWater(), exhibit, ""},
		{"1¼ in schedule 40 plastic, 20 gpm", "ft/100 ft", 5.23, 0.05, loss(hydraulic.PVC40, 1.25, 20).FtWater(), exhibit, ""},
		{"¾ in copper L, 5 gpm", "psi/100 ft", 3.09, 0.03, loss(hydraulic.CopperL, 0.75, 5).PSI(), copper, ""},
		{"½ in copper L, 5 gpm", "psi/100 ft", 18.77, 0.19, loss(hydraulic.CopperL, 0.5, 5).PSI(), copper,
			"the table was made with a roughness number near 138 in this size, and 140 in the next"},
		{"¾ in PEX, 10 gpm", "psi/100 ft", 21.1, 0.2, loss(hydraulic.PEX, 0.75, 10).PSI(), pexTable, ""},
		{"½ in PEX, 5 gpm", "psi/100 ft", 31.4, 0.3, loss(hydraulic.PEX, 0.5, 5).PSI(), pexTable, ""},
		{"¾ in galvanised, 10 gpm, C 120", "psi/100 ft", 11.7, 0.1, old.HazenLoss(unit.GPM(10)).PSI(), "derived: Hazen-Williams", ""},
		{"the same by Darcy-Weisbach at 60 °F", "psi/100 ft", 12.8, 0.1, old.DarcyLoss(unit.GPM(10), unit.Fahrenheit(60)).PSI(), "derived: roughness 0.0005 ft", ""},
		{"friction factor, Re 1e5, e/D 1e-3, Colebrook", "", 0.0221745, 1e-7, hydraulic.FrictionFactor(1e5, 1e-3), fluids, ""},
		{"the same, Swamee-Jain", "", 0.0223424, 1e-7, hydraulic.SwameeJain(1e5, 1e-3), fluids, ""},
		{"the same, Haaland", "", 0.0219662, 1e-7, hydraulic.Haaland(1e5, 1e-3), fluids, ""},
	}
}
