package plan

import (
	"wellwright/media"
)

// cautions are the standing ones and those that the best trains bring.
func (d *Desk) cautions(rs []ranked) []string {
	cs := []string{
		"This is advice for a private well. State and local code, the county's rule on what may go to a drain or septic system, and licensed well, plumbing and electrical work come first.",
		"No figure here says that water is fit to drink: it says which tests met which limits on which date. Prove any treatment by a certified laboratory after start-up.",
		"Power off and locked before opening a well, tank or heater; relieve pressure before opening a vessel; no one enters a pit or tank alone or untested: gas and lack of oxygen kill.",
	}
	for _, r := range rs {
		if r.Train.Has(media.ChlorineFeed) {
			cs = append(cs, "Hypochlorite never meets acid, ammonia or permanganate: poisonous gas. Goggles and gloves, open air, and keep it off stainless steel and copper.")
			break
		}
	}
	if note := d.Present.Rules.DischargeNote; note != "" {
		cs = append(cs, "Written in the book of waste water here: "+note+". Hold every setting and drain above against it.")
	}
	cs = append(cs, d.workplace()...)
	cs = append(cs, d.loosened()...)
	cs = append(cs, d.corrosion(rs)...)
	cs = append(cs, d.sodium(rs)...)
	if len(rs) == 0 {
		return cs
	}
	return append(cs, "Loosened rust and manganese may colour the water for weeks after a good plant starts: flush to waste first, then lines, then heater, and tell the owner beforehand.")
}
