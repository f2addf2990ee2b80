package plan

import (
	"fmt"
	"strings"

	"wellwright/limits"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/well"
)

// Light commercial wells: shifts, branches, vessels that take turns.

// modeOf says how several vessels share the work and how the process is run.
func modeOf(z stage.Size) string {
	arranged := z.Arranged()
	if arranged == "" || z.Mode == "" {
		return arranged + z.Mode
	}
	return arranged + "; " + z.Mode
}

// atOnce says what two washes at one time would need and have.
func (d *Desk) atOnce(r ranked) *AtOnce {
	m, two := r.Evaluation.Meeting()
	if !two {
		return nil
	}
	first, second := r.Links[m.First].Process, r.Links[m.Second].Process
	a := &AtOnce{
		Stages: []string{string(first), string(second)}, Need: roundTo(m.Need.GPM(), 3), Have: roundTo(m.Have.GPM(), 3),
		Allowed: m.Allowed(), AnyHour: m.AnyHour,
	}
	who := fmt.Sprintf("%s and %s washed at once", first.Words(), second.Words())
	if m.First == m.Second {
		who = fmt.Sprintf("two vessels of %s washed at once", first.Words())
	}
	a.Say = fmt.Sprintf("%s need %s gpm, and pump and well give %s", who, unit.Significant(m.Need.GPM(), 3), unit.Significant(m.Have.GPM(), 3))
	switch {
	case a.Allowed:
		a.Say += ": they bear it, though washing them hours apart is kinder to the taps."
	case a.AnyHour:
		a.Say += ": tie the valves, since the twin regenerates when its meter says and not by the clock."
	default:
		a.Say += ": never both; hours apart, or valves tied."
	}
	return a
}

// workplace are the cautions of a place that works in shifts or has branches on raw
// water.
func (d *Desk) workplace() []string {
	var cs []string
	h := d.Present.House
	if len(h.Shifts) > 0 {
		cs = append(cs, shiftCaution(h))
	}
	if names := h.RawNames(); len(names) > 0 {
		c := fmt.Sprintf("Raw and treated water part here (%s on raw water): no pipe, hose or valve may join them again behind the treatment. Backflow preventer or air gap as plumbing code asks: its office and a licensed plumber decide", strings.Join(names, ", "))
		if len(h.Branches)+len(h.Shifts) > 0 {
			c += ", and in a dairy or food place its inspector"
		}
		cs = append(cs, c+".")
	}
	return cs
}

// shiftCaution says when vessels may wash, or that they have no hour for it.
func shiftCaution(h well.House) string {
	var hours []string
	for _, q := range h.QuietHours() {
		hours = append(hours, fmt.Sprintf("%s to %s", q.From, q.From+well.Clock(q.Minutes)))
	}
	if len(hours) == 0 {
		lull := h.QuietFor(stage.LullMinutes)
		return fmt.Sprintf("Water is drawn round the clock here: there is no quiet hour for a vessel to wash in, so that none may stand alone. Duty and standby: any one is washed while the rest carry the whole, best from %s on, when %.0f %% of the peak is drawn.", lull.Start, 100*lull.Share)
	}
	return fmt.Sprintf("Wash only outside the shifts: %s. Set every clock by that, and again when the shifts change.", strings.Join(hours, " and "))
}

// rawAlerts speak of branches on raw water that holds what harms people: somebody
// drinks from every tap in the end.
func (d *Desk) rawAlerts() []Alert {
	names := d.Present.House.RawNames()
	if len(names) == 0 {
		return nil
	}
	as := []Alert{}
	seen := map[string]bool{}
	for _, f := range d.judged() {
		if f.Outcome != limits.Exceeds || f.Rank == 0 || f.Rank > 2 || seen[f.ID] {
			continue
		}
		seen[f.ID] = true
		as = append(as, Alert{Kind: "safety", Rank: f.Rank, Analyte: f.ID,
			Say:   fmt.Sprintf("%s: this stays raw, and %s. Label every tap and hose on it \"not for drinking\", lock or take the handle off what people can reach, and tell everyone who works here.", strings.Join(names, ", "), lowerFirst(f.Say)),
			Basis: f.Kind.String() + ": " + f.From})
	}
	return as
}

// lowerFirst sets a sentence behind others.
func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// connected flags a supply by its service connections, where the people it serves do
// not already.
func (d *Desk) connected() []Action {
	who := limits.Household{Connections: d.Present.House.Connected}
	why := limits.Public(d.set, who)
	if who.Serves = max(d.Present.House.Serves, d.Present.House.People); why == "" || limits.Public(d.set, limits.Household{Serves: who.Serves}) != "" {
		return nil
	}
	return []Action{{
		ID:  "ring-the-state",
		Say: "Ring the state's drinking-water office before anything is bought: so many service connections make a public supply, which this tool does not design for.",
		Why: why + " a public water supply",
	}}
}

// branchesLeftRaw tries what would have to change: where no train holds for all the
// water, whether one does if a branch stays raw, and where one does how much is
// saved. A branch that the book leaves open is asked, never one said to be treated.
func (d *Desk) branchesLeftRaw(rs []ranked) []Action {
	as := []Action{}
	for _, b := range d.Present.House.Branches {
		if b.Treated != nil || b.Use == nil && b.Peak == nil {
			continue
		}
		if a, ok := d.leftRaw(b, rs); ok {
			as = append(as, a)
		}
	}
	return as
}

// leftRaw searches anew in the few spread waters with one branch ahead of the
// treatment.
func (d *Desk) leftRaw(b well.Branch, rs []ranked) (Action, bool) {
	e, err := d.withHouse(d.Present.House.LeavingRaw(b.Name))
	if err != nil {
		return Action{}, false
	}
	best, ok := e.cheapestHolding()
	if !ok {
		return Action{}, false
	}
	say := fmt.Sprintf("Think of leaving %s on raw water, taken off ahead of the treatment. ", b.Name)
	switch {
	case len(rs) == 0:
		say += fmt.Sprintf("Nothing holds for all the water; for the rest %s does, at about $%.0f over ten years.", trainWords(best.Train), best.own)
	case best.own < rs[0].own*(1-e.set.Of(nearTie)):
		say += fmt.Sprintf("%s then costs about $%.0f over ten years, against $%.0f.", capital(trainWords(best.Train)), best.own, rs[0].own)
	default:
		return Action{}, false
	}
	say += " Then nobody drinks from it: label its taps, and let no pipe join it to treated water (plumbing code, a licensed plumber)."
	if why := d.rawHarm(); why != "" {
		say += " Mind: " + why + "."
	}
	return Action{ID: "leave-a-branch-raw", Say: say, Why: branchWhy(b)}, true
}

// rawHarm is the gravest health finding of the raw water; "" if there is none.
func (d *Desk) rawHarm() string {
	for _, f := range d.judged() {
		if f.Outcome == limits.Exceeds && f.Rank > 0 && f.Rank <= 2 {
			return lowerFirst(f.Say)
		}
	}
	return ""
}

func branchWhy(b well.Branch) string {
	why := b.Name
	if b.Use != nil {
		why += fmt.Sprintf(" draws %.0f gal/day", b.Use.GalPerDay())
	}
	if b.Peak != nil {
		why += fmt.Sprintf(" and %s at its peak", b.Peak)
	}
	return why + ", and the book does not say that it must be treated"
}

// withHouse is the desk with another house: the same waters, another draw.
func (d *Desk) withHouse(h well.House) (*Desk, error) {
	p := d.Present
	p.House = h
	ask := d.ask
	ask.Working, ask.Brief = false, true
	return Open(p, ask)
}

// cheapestHolding is the train that costs least of those that hold in the likeliest
// water and keep its limits of health, searched over the spread waters alone.
func (d *Desk) cheapestHolding() (best ranked, ok bool) {
	for _, r := range d.priced(d.Work.Search().Trains) {
		if r.Fails || breaksHealth(r.Limits[d.middle()]) {
			continue
		}
		if !ok || r.own+r.calls*d.set.Of(callback) < best.own+best.calls*d.set.Of(callback) {
			best, ok = r, true
		}
	}
	return best, ok
}

// trainWords names the stages of a train.
func trainWords(t train.Train) string {
	ws := make([]string, len(t))
	for i, p := range t {
		ws[i] = p.Words()
	}
	return strings.Join(ws, ", ")
}
