package plan

import (
	"math"

	"wellwright/hydraulic"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// Bore is the well as recorded, feet below ground. What is nil was not recorded.
type Bore struct {
	Kind         string   `json:"kind"`
	Depth        *float64 `json:"depth_ft"`
	Casing       *float64 `json:"casing_in"`
	CasingDepth  *float64 `json:"casing_depth_ft"`
	ScreenTop    *float64 `json:"screen_top_ft"`
	ScreenBottom *float64 `json:"screen_bottom_ft"`
	Open         bool     `json:"open_hole"`
	Static       *float64 `json:"static_ft"`
	Pumping      *float64 `json:"pumping_ft"`
	PumpingAt    float64  `json:"pumping_gpm"` // flow at which the pumping level stands
	Intake       *float64 `json:"intake_ft"`
	Pump         string   `json:"pump"`
	PumpFlow     float64  `json:"pump_gpm"` // at cut-in
	Yield        float64  `json:"yield_gpm"`
	YieldTested  bool     `json:"yield_tested"`
	Storage      float64  `json:"casing_storage_gal"` // over the intake; 0 where it cannot be reckoned
	Aquifer      string   `json:"aquifer"`

	Unrecorded []string `json:"not_recorded"` // what a picture must leave open
}

// CourseTank is the pressure tank with its switch.
type CourseTank struct {
	Kind      string  `json:"kind"`
	Volume    float64 `json:"volume_gal"` // 0: not recorded, or none
	Larger    float64 `json:"larger_gal"` // a larger one that the train asks for; 0: none
	Precharge float64 `json:"precharge_psi"`
	CutIn     float64 `json:"cut_in_psi"`
	CutOut    float64 `json:"cut_out_psi"`
	Drawdown  float64 `json:"drawdown_gal"`
	Diameter  float64 `json:"vessel_diameter_in"`
	Height    float64 `json:"vessel_height_in"`
	Assumed   bool    `json:"assumed"` // nobody read the switch
}

// LineKind is what a pressure line holds for.
type LineKind string

// The pressure lines.
const (
	AtRest   LineKind = "at rest"       // no flow, the pump just stopped: at cut-out
	AtCutIn  LineKind = "at cut-in"     // no flow, the pump about to start
	AtPeak   LineKind = "at peak"       // house peak from cut-in, beds clean
	DirtyBed LineKind = "at peak dirty" // the same, beds due for their wash
	Washing  LineKind = "washing"       // one bed washes, the house is still
)

// PressureLine is the pressure along the pipe in one state, psi.
type PressureLine struct {
	Kind    LineKind `json:"kind"`
	Flow    float64  `json:"flow_gpm"`
	Stage   int      `json:"stage"`       // bed that washes, from 0; -1 for the house
	From    int      `json:"from"`        // open tank behind whose pump the line begins, from 0; -1: the well pump
	Tank    float64  `json:"at_tank_psi"` // at that pump's tank
	Drops   []Drop   `json:"drops"`       // by stage, as far as the line goes
	Top     *float64 `json:"top_psi"`     // left at the top fixture; null: the line does not reach the house
	Minutes float64  `json:"minutes"`     // a wash lasts
}

// Drop is the pressure ahead of and behind one stage. In an open tank it is lost
// whole, and a pump makes it anew.
type Drop struct {
	In  float64 `json:"in_psi"`
	Out float64 `json:"out_psi"`
}

// bore is the well as recorded.
func (w way) bore() Bore {
	s, h := w.d.Present.Supply, w.r.Leading().Supply.Hydraulic
	b := Bore{
		Kind: string(s.Well.Kind), Depth: feetOf(s.Well.Depth), CasingDepth: feetOf(s.Well.CasingDepth), ScreenTop: feetOf(s.Well.ScreenTop), ScreenBottom: feetOf(s.Well.ScreenBottom),
		Open: s.Well.Open, Static: feetOf(s.Well.Static), Intake: feetOf(s.Pump.Setting), Pump: string(s.Pump.Kind), Aquifer: s.Well.Aquifer,
		Unrecorded: []string{}, PumpFlow: h.Pump.FlowAt(h.CutIn).GPM(), Yield: h.Yield.GPM(), YieldTested: s.Well.Yield != nil, Storage: h.CasingStorage.Gal(),
	}
	if s.Well.Casing != nil {
		in := s.Well.Casing.Inches()
		b.Casing = &in
	}
	b.pumpingLevel(s.Well)
	for _, x := range []struct {
		name string
		v    *float64
	}{{"depth", b.Depth}, {"casing", b.Casing}, {"casing depth", b.CasingDepth}, {"static level", b.Static}, {"pump setting", b.Intake}} {
		if x.v == nil {
			b.Unrecorded = append(b.Unrecorded, x.name)
		}
	}
	if !b.YieldTested {
		b.Unrecorded = append(b.Unrecorded, "yield")
	}
	return b
}

// pumpingLevel takes the level that was read while pumping, or that at the end of
// the yield test, or works it out from the specific capacity at the pump's flow.
func (b *Bore) pumpingLevel(w well.Well) {
	switch {
	case w.Pumping != nil:
		b.Pumping = feetOf(w.Pumping)
		if w.PumpingRate != nil {
			b.PumpingAt = w.PumpingRate.GPM()
		}
	case w.YieldLevel != nil:
		b.Pumping = feetOf(w.YieldLevel)
		if w.Yield != nil {
			b.PumpingAt = w.Yield.GPM()
		}
	case len(w.Capacities) > 0 && b.Static != nil:
		perFoot := w.Capacities[len(w.Capacities)-1].Value.GPMPerFt()
		if perFoot <= 0 {
			return
		}
		level := *b.Static + b.PumpFlow/perFoot
		if b.Intake == nil || level <= *b.Intake {
			b.Pumping, b.PumpingAt = &level, b.PumpFlow
		}
	}
}

func feetOf(l *unit.Length) *float64 {
	if l == nil {
		return nil
	}
	ft := l.Ft()
	return &ft
}

// tank is the pressure tank with its switch.
func (w way) tank() CourseTank {
	t, h := w.d.Present.Supply.Tank, w.r.Leading().Supply.Hydraulic
	c := CourseTank{
		Kind: string(t.Kind), CutIn: h.CutIn.PSI(), CutOut: h.CutOut.PSI(), Precharge: h.Tank.Precharge.PSI(), Volume: h.Tank.Total.Gal(),
		Drawdown: h.Tank.Drawdown(h.CutIn, h.CutOut).Gal(), Assumed: t.CutIn == nil && t.CutOut == nil,
	}
	for _, l := range w.r.Links {
		c.Larger = math.Max(c.Larger, l.Size.Lent.Gal())
	}
	if gal := math.Max(c.Volume, c.Larger); gal > 0 {
		v := Vessel{Volume: gal}
		v.shape(w.d.set.Of(pressureShape))
		c.Diameter, c.Height = v.Diameter, v.Height
	}
	return c
}

// pressureLines are the pressure at rest, at house peak and while each bed washes.
func (w way) pressureLines() []PressureLine {
	lines := []PressureLine{
		w.line(AtRest, func(h hydraulic.Supply) float64 { return h.CutOut.PSI() }, func(stage.Loss) float64 { return 0 }),
		w.line(AtCutIn, func(h hydraulic.Supply) float64 { return h.CutIn.PSI() }, func(stage.Loss) float64 { return 0 }),
		w.line(AtPeak, func(h hydraulic.Supply) float64 { return h.CutIn.PSI() }, func(l stage.Loss) float64 { return l.Clean.PSI() }),
		w.line(DirtyBed, func(h hydraulic.Supply) float64 { return h.CutIn.PSI() }, func(l stage.Loss) float64 { return math.Max(l.Dirty.PSI(), l.Clean.PSI()) }),
	}
	for k := range w.r.Links {
		if v := w.vessel(w.r.Links[k], w.out(k)); v.Backwash != nil {
			lines = append(lines, w.washLine(k, v.Backwash))
		}
	}
	return lines
}

// line runs from the pressure tank to the top fixture.
func (w way) line(kind LineKind, from func(hydraulic.Supply) float64, loss func(stage.Loss) float64) PressureLine {
	l := PressureLine{Kind: kind, Stage: train.Whole, From: train.Whole, Tank: from(w.along[0].Supply), Drops: []Drop{}}
	at := l.Tank
	for k, link := range w.r.Links {
		d := Drop{In: at, Out: at - loss(link.Outcomes[w.r.Lead].Loss)}
		if again := w.out(k).Supply; again != nil && w.isVented(k) {
			d.Out = from(*again)
		}
		l.Drops = append(l.Drops, d)
		at = d.Out
	}
	top := at - w.r.Budget.Rise
	if kind == AtPeak || kind == DirtyBed {
		top -= w.r.Budget.Pipe
		l.Flow = w.along[len(w.along)-1].Peak.GPM()
	}
	l.Top = &top
	return l
}

func (w way) isVented(k int) bool {
	for _, p := range vented {
		if w.r.Links[k].Process == p {
			return true
		}
	}
	return false
}

// washLine runs to a bed that washes while the house is still, at its least
// pressure: at the flow it needs or, where that is not to be had, at what is.
//
//	P = min(cut-in, pump(Q) - (Q - yield) t · fall)
//
//	pump  pressure at which the pump gives the flow Q; a stronger one than the
//	      wash asks for comes down to cut-in between its starts
//	t     minutes of the wash
//	fall  psi that the level in the casing falls for each gallon drawn from it
//
// Source: water balance; the losses of the stages ahead are theirs at that flow.
func (w way) washLine(k int, b *Backwash) PressureLine {
	s := w.along[k].Supply
	q := math.Min(b.Need, b.Have)
	l := PressureLine{Kind: Washing, Flow: q, Stage: k, From: train.Whole, Minutes: w.washMinutes(k)}
	held := s.Pump.PressureAt(unit.GPM(q), unit.PSI(0), s.CutOut).PSI() - fallIn(s, q, l.Minutes)
	l.Tank = math.Max(0, math.Min(s.CutIn.PSI(), held))
	at, losses := l.Tank, w.r.LossAt(unit.GPM(q))
	for i := range k {
		if w.isVented(i) { // the pump that washes stands behind it
			l.From, at = i, l.Tank
			l.Drops = append(l.Drops, Drop{Out: at})
			continue
		}
		d := Drop{In: at, Out: at - losses[i].Clean.PSI()}
		l.Drops = append(l.Drops, d)
		at = d.Out
	}
	l.Drops = append(l.Drops, Drop{In: at, Out: at})
	return l
}

func (w way) washMinutes(k int) float64 {
	for _, x := range w.out(k).Washes {
		if x.Need.GPM() > 0 && x.Waste != stage.WasteSludge {
			return x.Minutes
		}
	}
	return 0
}

// fallIn is the pressure that the falling level in the casing has cost at the end
// of a draw.
func fallIn(s hydraulic.Supply, gpm, minutes float64) float64 {
	perFoot := hydraulic.CasingVolumePerFoot(s.CasingBore).Gal()
	if perFoot <= 0 {
		return 0
	}
	gone := math.Min(s.CasingStorage.Gal(), math.Max(0, (gpm-s.Yield.GPM())*minutes))
	return unit.FtWater(gone / perFoot).PSI()
}

// Stretch is the water along one stretch of the pipe: within a stage from its
// inlet at 0 to its outlet at 1, or raw ahead of them all.
type Stretch struct {
	Stage  int     `json:"stage"` // from 0; -1: raw water
	Points []Trace `json:"points"`
	Inner  bool    `json:"reckoned_inside"` // else only inlet and outlet are known, and a straight line joins them
}

// Trace is the water at one place.
type Trace struct {
	Share       float64 `json:"share"`
	Ferrous     float64 `json:"iron_ferrous_mg_l"`
	Particulate float64 `json:"iron_particulate_mg_l"`
	Bound       float64 `json:"iron_bound_mg_l"`
	PH          float64 `json:"ph"`
	Chlorine    float64 `json:"free_chlorine_mg_l"`
}

// Total is the iron of every form.
func (t Trace) Total() float64 { return t.Ferrous + t.Particulate + t.Bound }

func traceOf(share float64, w *water.State) Trace {
	return Trace{Share: share, Ferrous: w.Ferrous.MgPerL(), Particulate: w.Particulate.MgPerL(), Bound: w.Bound.MgPerL(), PH: w.PH.Value(), Chlorine: w.FreeChlorine.MgPerLAsCl2()}
}

// partWay are the shares of a stage at which its water is worked out.
var partWay = []float64{0.05, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875}

// band is the leading water along the whole way.
func (w way) band() []Stretch {
	raw := w.raw()
	b := []Stretch{{Stage: train.Whole, Points: []Trace{traceOf(0, raw), traceOf(1, raw)}}}
	for k := range w.r.Links {
		in, out := traceOf(0, &w.along[k].Water), traceOf(1, &w.out(k).Out)
		s := Stretch{Stage: k, Points: []Trace{in}}
		for i, x := range w.r.Inside(k, partWay) {
			s.Points, s.Inner = append(s.Points, traceOf(partWay[i], &x)), true
		}
		s.Points = append(s.Points, out)
		b = append(b, s)
	}
	return b
}
