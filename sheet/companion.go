package sheet

import (
	"strings"

	"wellwright/plan"
	"wellwright/water"
)

// companions writes what the first option brings beside what it is bought for.
func (p *page) companions(a plan.Answer) {
	if len(a.Options) == 0 || len(a.Options[0].Companions) == 0 {
		return
	}
	p.head("What the first option brings with it")
	for _, c := range a.Options[0].Companions {
		p.say(2, "- ", c.Say)
		p.wrap(4, "", "("+c.Kind.String()+": "+c.From+")")
	}
}

// treatedWhere name the places of a treatment.
var treatedWhere = map[string]string{
	"house": "where the water enters the house", "kitchen": "at the kitchen tap", "both": "at both, one behind the other", "neither": "not settled",
}

// houseOrKitchen writes where to treat what is of health.
func (p *page) houseOrKitchen(a plan.Answer) {
	if len(a.Placings) == 0 {
		return
	}
	p.head("Whole house or kitchen tap")
	for _, x := range a.Placings {
		p.say(2, "", water.Analyte(x.Analyte).Name()+": "+treatedWhere[x.Where]+". "+x.Say)
	}
}

// proof writes the laboratory's schedule, a line for each time.
func (p *page) proof(a plan.Answer) {
	if len(a.Proof) == 0 {
		return
	}
	p.head("Proof by a certified laboratory")
	for i := 0; i < len(a.Proof); {
		when, text := a.Proof[i].When, ""
		for ; i < len(a.Proof) && a.Proof[i].When == when; i++ {
			text += a.Proof[i].Test
			if j := i + 1; j < len(a.Proof) && a.Proof[j].When == when && a.Proof[j].Tap == a.Proof[i].Tap {
				text += ", "
				continue
			}
			text += " (" + a.Proof[i].Tap + "); "
		}
		p.wrap(2, when+": ", strings.TrimSuffix(text, "; "))
	}
	p.wrap(2, "", "What no test has shown is not known: a forecast is no proof.")
}
