package plan

import (
	"fmt"

	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// arsenicOnRust tells how much arsenic rides on each part of rust that leaks.
func (v voyage) arsenicOnRust() []Companion {
	raw, end := v.draw.Water, v.end()
	iron := raw.TotalIron().MgPerL() - end.TotalIron().MgPerL()
	held := raw.Arsenic.UgPerL() - end.Arsenic.UgPerL()
	if raw.Arsenic.UgPerL() <= v.d.set.Of(arsenicTold) || iron <= leakOfIron || held <= 0 {
		return nil
	}
	rides := arsenicRiding(held, iron)
	ratio := 1000 * raw.TotalIron().MgPerL() / raw.Arsenic.UgPerL()
	return []Companion{{"arsenic-on-rust", fmt.Sprintf("The iron filter holds arsenic too, on its rust (iron to arsenic %.0f : 1): each %g mg/L of iron that leaks carries about %.1f µg/L of arsenic with it, and a rusty tap is a tap with arsenic. %.1f µg/L are forecast behind it; %s.",
		ratio, leakOfIron, rides, end.Arsenic.UgPerL(), v.d.besideLimit(water.Arsenic)), sole(rides), "ug/L", source.Derived, "arsenic held over iron held; rule of 20 to 1: US EPA 2001 as cited for iron and arsenic plants (second hand)"}}
}

// arsenicRiding is the arsenic, µg/L, on 0.1 mg/L of rust that leaks.
//
//	as = held / iron · leak
//
//	held  arsenic on the rust, µg/L;  iron  that holds it, mg/L;  leak  0.1 mg/L
func arsenicRiding(held, iron float64) float64 { return held / iron * leakOfIron }

// Kind: common practice: iron just seen at a tap, mg/L, and the least arsenic that a
// laboratory reports, µg/L.
const (
	leakOfIron   = 0.1
	leastArsenic = 1
)

// arsenicLoosed tells of changes that drive arsenic off the rust that holds it.
func (v voyage) arsenicLoosed() []Companion {
	if v.draw.Water.Arsenic.UgPerL() <= v.d.set.Of(arsenicTold) {
		return nil
	}
	var cs []Companion
	if k, fed := v.find(0, media.PolyphosphateFeed); fed {
		dose := v.setting(k, stage.DoseMgL)
		cs = append(cs, Companion{"arsenic-by-phosphate", fmt.Sprintf("Phosphate (%.1f mg/L fed) takes arsenic's place on rust in well, tank and pipes and sets it free: test arsenic at the kitchen tap before it is fed, after 2 weeks and after 3 months.", dose.P50),
			dose, "mg/L", source.FromMemory, "phosphate and arsenate compete for iron oxides"})
	}
	k, holds := v.find(0, append([]media.Process{media.ArsenicAdsorber}, ironFilters...)...)
	if limit := v.d.set.Of(arsenicPH); holds && v.into(k).PH.Value() > limit && v.into(k).PH.Value() > v.draw.Water.PH.Value() {
		ph := v.over(k, func(in, _ *water.State, _ *stage.Outcome) float64 { return in.PH.Value() })
		cs = append(cs, Companion{"arsenic-by-ph", fmt.Sprintf("The pH is raised to %.1f ahead of the %s: above %.1f iron oxide holds less arsenic, and what it held comes off. Raise pH behind it.", ph.P50, v.e.Links[k].Process.Words(), limit),
			ph, "pH", arsenicPH.Kind, arsenicPH.From})
	}
	return cs
}

// radonReleased tells where radon goes: into a vent, or with every shower into the
// rooms.
func (v voyage) radonReleased() []Companion {
	raw, end := v.draw.Water.Radon.PCiPerL(), v.end().Radon.PCiPerL()
	if raw <= 0 {
		return nil
	}
	var cs []Companion
	for k, l := range v.e.Links {
		taken := v.into(k).Radon.PCiPerL() - v.at(k).Out.Radon.PCiPerL()
		if !opens(l.Process) || taken <= 0 {
			continue
		}
		a := Companion{"radon-vented", fmt.Sprintf("The %s lets %s pCi/L of radon out of the water: lead its vent outdoors above the roof, and test the air of the room where it stands.", l.Process.Words(), unit.Significant(taken, 2)),
			sole(taken), "pCi/L", source.Derived, "radon ahead of the stage less radon behind it"}
		if exhaust := v.at(k).Settings[stage.ExhaustRadonPCiL]; exhaust > 0 {
			a.Say += fmt.Sprintf(" The air blown out carries about %s pCi/L.", unit.Significant(exhaust, 2))
		}
		cs = append(cs, a)
	}
	if end <= leastRadon {
		return cs
	}
	per := v.d.set.Of(radonToAir)
	return append(cs, Companion{"radon-in-rooms", fmt.Sprintf("%.0f pCi/L of radon are left at the taps: showers and washing add about %s pCi/L to the air of the house. Test the air first; most radon comes through the floor.", end, unit.Significant(end/per, 2)),
		sole(end / per), "pCi/L", radonToAir.Kind, radonToAir.From})
}

// leastRadon is radon in water too little to speak of, pCi/L: the lowest level ever
// proposed, 300 in 1999 (from memory).
const leastRadon = 300

// opens reports whether a process lets the water meet air.
func opens(p media.Process) bool {
	switch p {
	case media.VentedAeration, media.StorageBooster, media.RadonAeration, media.PressureAeration, media.AirInjectionFilter:
		return true
	}
	return false
}

// radioactiveCarbon tells of carbon that gathers radon.
func (v voyage) radioactiveCarbon() []Companion {
	k, stands := v.find(0, media.CarbonFilter, media.CatalyticCarbonFilter)
	if !stands {
		return nil
	}
	radon := v.over(k, func(in, _ *water.State, _ *stage.Outcome) float64 { return in.Radon.PCiPerL() })
	if radon.P50 <= 0 {
		return nil
	}
	most, _ := Register().Find("radon_carbon_most")
	say := fmt.Sprintf("The carbon gathers radon and what it decays to: %.0f pCi/L reach it.", radon.P50)
	if limit := v.d.set.Of(most); v.into(k).Radon.PCiPerL() > limit {
		say += fmt.Sprintf(" Above %.0f the bed becomes a source of gamma rays: aerate the radon out ahead of it, or do without carbon.", limit)
	} else {
		say += " Keep it away from rooms in use, and ask the state where spent carbon may go."
	}
	return []Companion{{"radioactive-carbon", say, radon, "pCi/L", most.Kind, most.From}}
}

// waste tells what arsenic, radium and uranium go to the drain with.
func (v voyage) waste() []Companion {
	var cs []Companion
	for k := range v.e.Links {
		if a, ok := v.arsenicInWaste(k); ok {
			cs = append(cs, a)
		}
	}
	for _, x := range brineCarries {
		raw, found := v.d.latest(x.analyte)
		for _, p := range x.by {
			if k, has := v.find(0, p); has && found {
				cs = append(cs, v.inBrine(k, x, raw)...)
			}
		}
	}
	return cs
}

// arsenicInWaste is the arsenic that a stage holds, over the water that washes it.
func (v voyage) arsenicInWaste(k int) (Companion, bool) {
	daily, drain := v.draw.Supply.Daily.GalPerDay(), drained(v.at(k))
	p := v.e.Links[k].Process
	held := func(in, out *water.State, _ *stage.Outcome) float64 {
		return in.Arsenic.MgPerL() - out.Arsenic.MgPerL()
	}
	in := v.into(k)
	if drain <= 0 || p == media.ArsenicAdsorber || v.draw.Water.Arsenic.UgPerL() <= v.d.set.Of(arsenicTold) || held(&in, &v.at(k).Out, nil)*1000 < leastArsenic {
		return Companion{}, false // an adsorber keeps what it takes until it is changed
	}
	c := v.over(k, func(in, out *water.State, o *stage.Outcome) float64 { return max(0, held(in, out, o)) * daily / drain })
	grams := held(&in, &v.at(k).Out, nil) / 1000 * unit.Gal(daily).L() * 365
	return Companion{"arsenic-in-waste", fmt.Sprintf("What washes the %s carries arsenic: about %.2f mg/L, %.1f g a year. Not to a garden, a ditch or near the well; ask the county before a septic system gets it.", p.Words(), c.P50, grams),
		c, "mg/L", source.Derived, "balance: arsenic held a day over water drained a day"}, true
}

// drained is the water that a stage sends to the drain, gal/day.
func drained(o *stage.Outcome) float64 {
	sum := 0.0
	for _, w := range o.Washes {
		sum += w.PerDay().GalPerDay()
	}
	return sum
}

// carrying is what resin takes beside what it was bought for.
type carrying struct {
	analyte water.Analyte
	id, say string
	by      []media.Process
}

var brineCarries = []carrying{
	{water.Radium, "radium-in-waste", "radium", []media.Process{media.Softener}},
	{water.Uranium, "uranium-in-waste", "uranium", []media.Process{media.TanninExchanger, media.NitrateExchanger}},
	{water.Barium, "barium-in-waste", "barium", []media.Process{media.Softener}},
}

// inBrine is the most that brine can carry: all that came in.
func (v voyage) inBrine(k int, x carrying, raw water.Amount) []Companion {
	drain := drained(v.at(k))
	c, u := raw.At(water.AtLimit).Canonical()
	if drain <= 0 || c <= 0 || raw.Sign == water.Below {
		return nil
	}
	most := c * v.draw.Supply.Daily.GalPerDay() / drain
	return []Companion{{x.id, fmt.Sprintf("Resin takes %s with what it was bought for: its brine carries up to %s %s, and spent resin may have to go where the state says. Ask its radiation or waste office and the county before brine goes to a septic system.", x.say, unit.Significant(most, 2), u),
		&Range{0, most, most}, u, source.Derived, "balance: all that comes in over the water drained; how much the resin takes is not known"}}
}

// latest is the last result of an analyte in raw water.
func (d *Desk) latest(a water.Analyte) (got water.Amount, found bool) {
	for _, r := range d.Present.Reports {
		if x, ok := r.Amount(a, water.Unspecified); ok && r.Raw() && x.Numeric() {
			got, found = x, true
		}
	}
	return got, found
}

var (
	arsenicPH = source.Factor{Name: "arsenic_loosed_ph", What: "pH above which iron oxide gives up arsenic", Unit: "pH",
		Value: 8, Low: 7.5, High: 8.5, Kind: source.FromMemory, From: "adsorbers are fed below 8; capacity halves with each unit above 7.5"}
	radonToAir = source.Factor{Name: "radon_water_to_air", What: "radon in water that adds one in the air of a house", Unit: "pCi/L",
		Value: 10000, Low: 5000, High: 20000, Kind: source.Published, From: "state advice listed with 64 FR 59246 (second hand): about 10,000 in water adds 1 in air"}
)
