package plan

import (
	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
)

// PumpView is the well pump against the gauge at the tank, and what is asked of it.
type PumpView struct {
	Heading
	Read      bool     `json:"flow_was_measured"` // else it is assumed
	OnePoint  bool     `json:"one_point"`         // the slope is then that of an ordinary pump
	Variable  bool     `json:"variable_speed"`
	Points    []Gauged `json:"measured"`
	Curve     []Gauged `json:"curve"`
	Lowered   []Gauged `json:"curve_drawn_down"` // with the casing storage gone; empty: the level is not known
	CutIn     Gauged   `json:"cut_in"`
	CutOut    Gauged   `json:"cut_out"`
	Yield     Range    `json:"yield_gpm"`
	YieldRead bool     `json:"yield_on_record"`
	Storage   *float64 `json:"casing_storage_gal"` // null: not known
	Static    *float64 `json:"static_level_ft"`
	Intake    *float64 `json:"intake_ft"`
	Peak      Duty     `json:"peak"`
	House     []Gauged `json:"house"` // pressure that the house asks at the tank, beds dirty; empty: a booster feeds it
	Washes    []Duty   `json:"washes"`
}

// Gauged is a flow at a pressure of the gauge at the tank.
type Gauged struct {
	PSI float64 `json:"at_psi"`
	GPM Range   `json:"flow_gpm"`
}

// Duty is a flow that something asks for and what there is for it.
type Duty struct {
	Stage   string  `json:"stage"`
	Words   string  `json:"words"`
	Waste   string  `json:"waste"` // of a wash
	Need    float64 `json:"need_gpm"`
	PSI     float64 `json:"at_psi"` // asked at the tank
	Have    Range   `json:"have_gpm"`
	Pump    float64 `json:"pump_gpm"` // that the likeliest pump gives there with the level up
	Minutes float64 `json:"minutes"`
	Boosted bool    `json:"boosted"` // fed by a booster pump behind a store, not by the well pump
}

// curveSteps are the steps of a curve from no pressure to where the flow stops.
const curveSteps = 40

// PumpView gathers the pump as it is believed, and the duties that house and
// train put on it.
func (s Subject) PumpView() PumpView {
	d := s.desk
	lead := s.of.Draws()[s.of.Lead]
	h := lead.Supply.Hydraulic
	v := PumpView{
		Heading: s.heading(), Read: len(lead.Supply.MeasuredAtTank) > 0, OnePoint: h.Pump.OnePoint(), Variable: lead.Supply.VariableSpeed,
		Points: []Gauged{}, Lowered: []Gauged{}, House: []Gauged{}, Washes: []Duty{},
		Yield:     d.overSupplies(func(x *cloud.Supply) float64 { return x.Hydraulic.Yield.GPM() }),
		YieldRead: d.Present.Supply.Well.Yield != nil || len(d.Present.Supply.Well.Capacities) > 0,
		Static:    feet(lead.Supply.Static), Intake: feet(lead.Supply.Intake),
		CutIn: d.gauged(h.CutIn, 0), CutOut: d.gauged(h.CutOut, 0),
	}
	for _, p := range lead.Supply.MeasuredAtTank {
		g := p.Flow.GPM()
		v.Points = append(v.Points, Gauged{p.Pressure.PSI(), Range{g, g, g}})
	}
	v.Curve = d.curve(0)
	if fall, known := fallOf(&h); known {
		gal := h.CasingStorage.Gal()
		v.Storage, v.Lowered = &gal, d.curve(fall)
	}
	s.peak(&v)
	s.washDuties(&v)
	return v
}

// overSupplies is a figure of the supply over the plausible waters, as believed in
// the middle.
func (d *Desk) overSupplies(f func(*cloud.Supply) float64) Range {
	draws := d.Cloud.Draws
	over := make([]weighed, len(draws))
	for i := range draws {
		over[i] = weighed{f(&draws[i].Supply), draws[i].Weight}
	}
	middle := d.likeliest().Supply
	return about(f(&middle), over)
}

// gauged is the flow of the pump at a pressure with the level so many psi down.
func (d *Desk) gauged(at unit.Pressure, fall float64) Gauged {
	lowered := unit.PSI(at.PSI() + fall)
	return Gauged{at.PSI(), d.overSupplies(func(x *cloud.Supply) float64 {
		if q := x.Hydraulic.Pump.FlowAt(lowered).GPM(); q > noFlow {
			return q
		}
		return 0
	})}
}

// curve is the pump from no pressure to where the likeliest flow stops.
func (d *Desk) curve(fall float64) []Gauged {
	curve := []Gauged{}
	h := d.likeliest().Supply.Hydraulic
	top := h.Pump.PressureAt(unit.GPM(noFlow/2), unit.PSI(0), unit.PSI(shutOffMost)).PSI() - fall
	for n := range curveSteps + 1 {
		if top > 0 {
			left := 1 - float64(n)/curveSteps // closer together towards the top, where the curve bends most
			curve = append(curve, d.gauged(unit.PSI(top*(1-left*left)), fall))
		}
	}
	return curve
}

// noFlow is the flow, gpm, below which a pump counts as giving none.
const noFlow = 1e-3

// shutOffMost is above the shut-off pressure of any household pump, psi.
const shutOffMost = 1000

// fallOf is the pressure that the pump loses as the casing storage is used up; it
// is known where the bore and the water over the intake are.
func fallOf(h *hydraulic.Supply) (psi float64, known bool) {
	perFoot := hydraulic.CasingVolumePerFoot(h.CasingBore).Gal()
	if perFoot <= 0 || h.CasingStorage.Gal() <= 0 {
		return 0, false
	}
	return unit.FtWater(h.CasingStorage.Gal() / perFoot).PSI(), true
}

// peak is what the house asks at its peak, and the pressure that it asks for at
// the tank with the beds dirty:
//
//	P = top fixture + rise + (pipe + train) (q/peak)²
func (s Subject) peak(v *PumpView) {
	lead := s.of.Lead
	draw := s.of.Draws()[lead]
	b := s.of.LossAtPeak(lead)
	least := topFixtureOf(s.of.LimitsIn(lead))
	peak := draw.Supply.Peak.GPM()
	asked := unit.PSI(least + b.Rise + b.Pipe + b.Dirty)
	v.Peak = Duty{
		Stage: "house", Words: "the house at its peak", Need: peak, Minutes: peakMinutes, Boosted: b.Boosted,
		PSI: asked.PSI(), Have: s.spread(func(i int) float64 {
			return s.of.SupplyAtTap(i).Available(peakMinutes, asked).GPM()
		}),
	}
	if b.Boosted {
		return
	}
	v.Peak.Pump = s.desk.gauged(unit.PSI(v.Peak.PSI), 0).GPM.P50
	for n := range curveSteps + 1 {
		q := 1.25 * peak * float64(n) / curveSteps
		share := q / peak
		v.House = append(v.House, Gauged{least + b.Rise + (b.Pipe+b.Dirty)*share*share, Range{q, q, q}})
	}
}

// peakMinutes is how long a house peak lasts, as train has it.
const peakMinutes = 10

// topFixtureOf is the pressure that the top fixture is to have, psi.
func topFixtureOf(ls []train.Placed) float64 {
	for _, l := range ls {
		if l.ID == "pressure_at_top_fixture" {
			return l.Need
		}
	}
	return 0
}

// washDuties are the washes of the train.
func (s Subject) washDuties(v *PumpView) {
	for k, l := range s.of.Links {
		for n, w := range l.Outcomes[s.of.Lead].Washes {
			if !fromMain(w.Waste) {
				continue
			}
			job := s.of.JobAt(k, s.of.Lead)
			_, floor := job.WashSupply(l.Size)
			v.Washes = append(v.Washes, Duty{
				Stage: string(l.Process), Words: l.Process.Words(), Waste: string(w.Waste), Need: w.Need.GPM(), PSI: floor.PSI(), Minutes: w.Minutes,
				Boosted: s.boosted(k), Pump: s.desk.gauged(floor, 0).GPM.P50, Have: s.spread(func(i int) float64 { return l.Outcomes[i].Washes[n].Have.GPM() }),
			})
		}
	}
}

// fromMain reports whether a wash is drawn at full flow from the main, as that of
// a bed is.
func fromMain(w stage.Waste) bool {
	return w == stage.WasteBackwash || w == stage.WasteBrine || w == stage.WastePermanganate
}
