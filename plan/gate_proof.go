package plan

import (
	"slices"

	"wellwright/media"
	"wellwright/water"
)

// Proof is a test by a certified laboratory that shows whether a plant does what is
// promised of it.
type Proof struct {
	Test string `json:"test"`
	Tap  string `json:"tap"`
	When string `json:"when"`
	Why  string `json:"why"`
}

// When proof is asked for, in order: standard retest practice, no single source.
const (
	beforeUse   = "before anyone drinks it"
	twoWeeks    = "after 2 weeks"
	threeMonths = "after 3 months"
	quarterly   = "every 3 months"
	yearly      = "every year"
	threeYears  = "every 3 years"
	onChange    = "at once after flood, fire, work on the well, a new baby or a change of taste"
)

var whens = []string{beforeUse, twoWeeks, threeMonths, quarterly, yearly, threeYears, onChange}

// Taps that proof is drawn at.
const (
	kitchenTap = "K, kitchen cold, flushed"
	firstDraw  = "K, kitchen cold, first draw after a night"
	rawTap     = "T1, raw"
)

// prover gathers proofs, each test at a tap and time once.
type prover struct{ all []Proof }

func (p *prover) ask(test, tap, why string, when ...string) {
	for _, w := range when {
		if !slices.ContainsFunc(p.all, func(x Proof) bool { return x.Test == test && x.Tap == tap && x.When == w }) {
			p.all = append(p.all, Proof{test, tap, w, why})
		}
	}
}

// proof is the schedule for a household: what its findings ask, what its first
// option asks, and what every private well asks. Common practice.
func (d *Desk) proof(o *Option, placed []Placing) []Proof {
	p := &prover{all: []Proof{}}
	behind := kitchenTap
	if o != nil {
		behind = lastTap(*o)
	}
	for _, g := range d.gates() {
		d.proveGate(p, g, behind, placed)
	}
	if o != nil {
		d.proveOption(p, *o, behind)
	}
	if d.shocked() {
		const why = "the well is opened and disinfected: not before 7 days, and no chlorine left"
		p.ask("coliform and E. coli", kitchenTap, why, twoWeeks, threeMonths)
		if d.arsenicAfterShock() {
			p.ask("arsenic", kitchenTap, "disinfection may loosen arsenic from scale and slime", twoWeeks)
		}
	}
	p.ask("coliform, E. coli, nitrate, pH, total dissolved solids", rawTap, "asked of every private well", yearly)
	p.ask("arsenic, lead, uranium, fluoride and the metals", rawTap, "asked of every private well; ask for what is found nearby", threeYears)
	p.ask("coliform, E. coli, nitrate", kitchenTap, "asked of every private well", onChange)
	slices.SortStableFunc(p.all, func(a, b Proof) int { return slices.Index(whens, a.When) - slices.Index(whens, b.When) })
	return p.all
}

// proveGate asks for what a gate is opened by. Lead and copper are drawn first, from
// the tap; radon is tested in air too.
func (d *Desk) proveGate(p *prover, g Gate, behind string, placed []Placing) {
	a := water.Analyte(g.ID)
	const why = "above a limit of health: drinking waits for it"
	switch a {
	case water.Lead, water.Copper:
		p.ask("lead and copper", firstDraw, why, beforeUse, threeMonths, yearly)
		return
	case water.EColi, water.FecalColiform, water.TotalColiform:
		p.ask("coliform and E. coli", kitchenTap, why+", two samples on different days", beforeUse, twoWeeks, threeMonths, yearly)
		return
	case water.Radon:
		p.ask("radon in the air of the house", "lowest room in use", "most radon comes through the floor", beforeUse, yearly)
	}
	if !onlyKitchen(placed, g.ID) {
		p.ask(a.Name(), behind, why, beforeUse, twoWeeks, threeMonths, yearly)
	}
	p.ask(a.Name(), kitchenTap, why, beforeUse, twoWeeks, threeMonths, yearly)
}

// onlyKitchen reports whether a finding is met at the kitchen tap alone.
func onlyKitchen(placed []Placing, analyte string) bool {
	return slices.ContainsFunc(placed, func(p Placing) bool { return p.Analyte == analyte && p.Where == atKitchen })
}

// proveOption asks for what a train must show and may do harm by.
func (d *Desk) proveOption(p *prover, o Option, behind string) {
	p.ask("iron, manganese, pH, hardness", rawTap+", and "+behind, "what it was bought for", twoWeeks, threeMonths, yearly)
	for _, c := range o.Companions {
		switch c.ID {
		case "trihalomethanes":
			p.ask("trihalomethanes and haloacetic acids", kitchenTap, "chlorine meets organic matter", threeMonths)
		case "nitrite":
			p.ask("nitrite", behind, "ammonia on a bed", twoWeeks, threeMonths, yearly)
		case "lead-at-tap", "copper-at-tap", "ph-after-regeneration":
			p.ask("lead and copper", firstDraw, "the treated water may take up metal", beforeUse, threeMonths, yearly)
		case "arsenic-on-rust":
			p.ask("arsenic", behind, "rust that leaks carries arsenic", beforeUse, twoWeeks, threeMonths, yearly)
		}
	}
	if slices.Contains(o.Addons, string(media.ReverseOsmosis)) || slices.Contains(o.Train, string(media.ReverseOsmosis)) {
		p.ask("arsenic and nitrate", kitchenTap, "conductivity proves neither of a membrane", yearly)
	}
	for _, s := range o.Stages {
		switch media.Process(s.Process) {
		case media.ArsenicAdsorber:
			p.ask("arsenic", stageTap(s), "the medium says nothing when it is spent", quarterly)
		case media.RadonAeration:
			p.ask("radon in water", stageTap(s), "what the aerator leaves", twoWeeks, yearly)
			p.ask("radon in the air of the house", "lowest room in use", "a leak or a bad vent puts it into the room", twoWeeks, yearly)
		case media.NitrateExchanger:
			p.ask("nitrate and nitrite", stageTap(s), "the resin gives nitrate back when it is overrun", quarterly)
		case media.Ultraviolet:
			p.ask("coliform and E. coli", kitchenTap, "light leaves nothing behind that could be read", twoWeeks, threeMonths, yearly)
		}
	}
}

// lastTap is the tap behind the last vessel of an option.
func lastTap(o Option) string {
	for i := len(o.Stages) - 1; i >= 0; i-- {
		if o.Stages[i].Tap != "" {
			return stageTap(o.Stages[i])
		}
	}
	return kitchenTap
}

func stageTap(s Stage) string {
	if s.Tap == "" {
		return kitchenTap
	}
	return s.Tap + ", behind the " + s.Words
}

// shocked reports whether disinfection of the well is among what is to be done.
func (d *Desk) shocked() bool {
	_, yes := d.shockWell()
	return yes
}

// arsenicAfterShock reports whether arsenic is to be tested after a disinfection:
// enough of it, or never tested.
func (d *Desk) arsenicAfterShock() bool {
	return !d.tested(water.Arsenic) || d.Cloud.Middle().Water.Arsenic.UgPerL() > d.set.Of(arsenicTold)
}
