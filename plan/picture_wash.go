package plan

import (
	"math"

	"wellwright/hydraulic"
	"wellwright/stage"
	"wellwright/unit"
)

// WashView is the hardest wash of a train, minute by minute, of one vessel with a
// full well before it.
type WashView struct {
	Heading
	Stage     string       `json:"stage"`
	Words     string       `json:"words"`
	Waste     string       `json:"waste"`
	Vessels   int          `json:"vessels"` // washed one after the other; the first is drawn
	Need      float64      `json:"need_gpm"`
	Have      Range        `json:"have_gpm"` // held to the end of the wash
	Floor     float64      `json:"pressure_asked_psi"`
	Minutes   float64      `json:"minutes"`
	Days      float64      `json:"interval_days"`
	Boosted   bool         `json:"boosted"`         // fed by a booster pump behind a store
	Lent      float64      `json:"lent_gal"`        // drawdown of a larger tank that it counts on
	Delivered float64      `json:"delivered_share"` // of the plausible waters
	Short     string       `json:"short"`           // what gives out first in the likeliest water: pump, well, "" nothing
	ShortAt   float64      `json:"short_at_min"`
	Yield     Range        `json:"yield_gpm"`
	Static    *float64     `json:"static_level_ft"` // null: not on record, or a store feeds the wash
	Intake    *float64     `json:"intake_ft"`
	Level     bool         `json:"level_known"`
	Stored    bool         `json:"store_known"` // water over the intake, or in the store
	Recovery  Duration     `json:"recovery_min"`
	Steps     []WashMinute `json:"steps"`
}

// WashMinute is the supply at one time of a wash.
type WashMinute struct {
	Minutes  float64 `json:"minutes"`
	Given    Range   `json:"given_gpm"`
	Pressure Range   `json:"pressure_psi"`
	Drop     Range   `json:"level_drop_ft"`
	Left     Range   `json:"left_gal"`
}

// WashView follows the hardest wash of the train; false where it has none.
func (s Subject) WashView() (WashView, bool) {
	k, n, found := s.hardest()
	if !found {
		return WashView{}, false
	}
	l, lead := s.of.Links[k], s.of.Lead
	w := l.Outcomes[lead].Washes[n]
	job := s.of.JobAt(k, lead)
	supply, floor := job.WashSupply(l.Size)
	v := WashView{
		Heading: s.heading(), Stage: string(l.Process), Words: l.Process.Words(), Waste: string(w.Waste), Vessels: max(1, w.Vessels),
		Need: w.Need.GPM(), Floor: floor.PSI(), Minutes: w.Minutes, Days: w.Days, Boosted: s.boosted(k),
		Lent:  supply.Tank.Drawdown(supply.CutIn, supply.CutOut).Gal(),
		Have:  s.spread(func(i int) float64 { return l.Outcomes[i].Washes[n].Have.GPM() }),
		Yield: s.spread(func(i int) float64 { j := s.of.JobAt(k, i); return j.Supply.Yield.GPM() }),
		Level: hydraulic.CasingVolumePerFoot(supply.CasingBore).Gal() > 0 && supply.CasingStorage.Gal() > 0, Stored: supply.CasingStorage.Gal() > 0,
	}
	if d := s.of.Draws()[lead]; !v.Boosted {
		v.Static, v.Intake = feet(d.Supply.Static), feet(d.Supply.Intake)
	}
	s.steps(&v, k, w)
	return v, true
}

// hardest is the wash with the least flow for its need in the likeliest water.
func (s Subject) hardest() (stageAt, wash int, found bool) {
	least := math.Inf(1)
	for k, l := range s.of.Links {
		for n, w := range l.Outcomes[s.of.Lead].Washes {
			if !fromMain(w.Waste) || w.Need.GPM() <= 0 {
				continue
			}
			if r := w.Have.GPM() / w.Need.GPM(); r < least {
				least, stageAt, wash, found = r, k, n, true
			}
		}
	}
	return stageAt, wash, found
}

// steps carries the wash through the supply of every water.
func (s Subject) steps(v *WashView, k int, w stage.Wash) {
	draws := s.of.Draws()
	courses := make([][]hydraulic.Moment, len(draws))
	for i := range draws {
		courses[i] = s.course(k, i, w)
	}
	lead := courses[s.of.Lead]
	for n := range lead {
		at := func(i int) hydraulic.Moment { return courses[i][min(n, len(courses[i])-1)] }
		v.Steps = append(v.Steps, WashMinute{
			Minutes: lead[n].At, Given: s.spread(func(i int) float64 { return at(i).Given.GPM() }),
			Pressure: s.spread(func(i int) float64 { return at(i).Pressure.PSI() }),
			Drop:     s.spread(func(i int) float64 { return at(i).LevelDrop.Ft() }),
			Left:     s.spread(func(i int) float64 { return at(i).Storage.Gal() }),
		})
		if v.Short == "" && lead[n].Short != hydraulic.ShortNone {
			v.Short, v.ShortAt = lead[n].Short.String(), lead[max(0, n-1)].At
		}
	}
	total := 0.0
	for i, d := range draws {
		total += d.Weight
		if last := courses[i]; d.Weight > 0 && len(last) > 0 && last[len(last)-1].Short == hydraulic.ShortNone {
			v.Delivered += d.Weight
		}
	}
	v.Delivered /= math.Max(total, 1e-12)
	recovery := s.spread(func(i int) float64 { return s.recovery(k, i, courses[i]) })
	v.Recovery = Duration{told(recovery.P05), told(recovery.P50), told(recovery.P95)}
}

// recovery is how long the well takes to make good what a wash drew, in minutes;
// without end where it gives nothing.
func (s Subject) recovery(k, draw int, course []hydraulic.Moment) float64 {
	j := s.of.JobAt(k, draw)
	gone := j.Supply.CasingStorage.Gal() - course[len(course)-1].Storage.Gal()
	d, ok := hydraulic.Recovery(unit.Gal(gone), j.Supply.Yield, unit.Flow{})
	if !ok {
		return math.Inf(1)
	}
	return d.Minutes()
}
