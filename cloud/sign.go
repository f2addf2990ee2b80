package cloud

import (
	"wellwright/book"
	"wellwright/water"
)

// meaning is what one sign of the dictionary says about iron.
type meaning struct {
	sign   water.Symptom
	group  string
	toward string
	odds   odds
	say    string
}

// meanings are the signs that bear on iron. Signs of one group tell one fact.
func meanings() []meaning {
	ferrous, rust, bound := ferrousIron.String(), particulateIron.String(), organicIron.String()
	return []meaning{
		{water.ClearThenRust, "at the tap", ferrous, clearThenRust, "clear from the cold raw tap, then yellow to orange"},
		{water.RustyAtTap, "at the tap", rust, redAtOnce, "orange or brown as it leaves the tap"},
		{water.TeaColour, "at the tap", bound, teaColour, "tea colour that does not settle"},
		{water.BleachTurnsOrange, "at the tap", ferrous, bleachOrange, "bleach turns clear water orange"},
		{water.LaundryYellows, "at the tap", ferrous, laundryYellows, "laundry yellows"},
		{water.RustAfterTank, "tank", rust, rustAfterTank, "clear at the well, rusty after the pressure tank"},
		{water.InkyTea, "tea", bound, inkyTea, "tea or coffee turns inky"},
		{water.SlimeInTank, "slime", bacteria, slime, "slime in the flush tank"},
		{water.FeatheryGrowth, "slime", bacteria, feathers, "feathery or stringy growth"},
		{water.FilmBreaks, "film", bacteria, filmBreaks, "a film that breaks into plates"},
		{water.SwampySmell, "smell", bacteria, swampySmell, "swampy or musty smell"},
		{water.AfterWellWork, "well work", bacteria, wellWork, "trouble began after pump or well work"},
		{water.FilterClogs, "clogging", bacteria, filterClogs, "a sediment filter clogs within days"},
		{water.FilterClogs, "clogging", rust, filterClogs, "a sediment filter clogs within days"},
		{water.WeakPressureSlime, "capacity", bacteria, capacityFall, "the pump runs longer and pressure is weak"},
	}
}

// signs puts everything seen, smelt or grown on the scales.
func (s *scales) signs(e Evidence) {
	table := meanings()
	for _, g := range e.Signs {
		if hotOnly(g) || treated(g.Tap) {
			continue
		}
		for _, m := range table {
			if m.sign == g.ID {
				s.add(m.group, true, m.toward, m.odds, g.Seen, said(m.say, g.Seen))
			}
		}
	}
	for _, j := range e.Jars {
		s.jar(j)
	}
	s.cultures(e)
}

func said(what string, seen bool) string {
	if seen {
		return what
	}
	return "not found: " + what
}

func hotOnly(g book.Sign) bool { return g.Hot != nil && *g.Hot && g.Cold != nil && !*g.Cold }

// treated reports whether a tap stands behind treatment; K and H may or may not.
func treated(w water.Where) bool { return len(w) > 1 && w[0] == 'T' && w != "T0" && w != "T1" }

// jar weighs what a jar of raw water showed. What a sealed jar shows, no air has done.
func (s *scales) jar(j book.Jar) {
	if treated(j.Tap) || !lookTells(j) {
		return
	}
	sealed := j.Sealed != nil && *j.Sealed
	ferrous, rust, bound := ferrousIron.String(), particulateIron.String(), organicIron.String()
	switch j.Saw {
	case book.RustSettles, book.RustThenBlack:
		s.add("at the tap", true, ferrous, clearThenRust, !sealed, "jar: clear, then rust settles")
	case book.StaysClear:
		if !sealed && j.After.Hours() >= 20 {
			s.add("at the tap", true, ferrous, clearThenRust, false, "jar: open to air and still clear after a day")
		}
	case book.RustAtOnce:
		s.add("at the tap", true, rust, redAtOnce, true, "jar: rust at once")
	case book.RustStaysUp, book.HazeStays:
		s.add("at the tap", true, bound, hazeStays, true, "jar: a haze that does not settle")
	case book.YellowStays:
		s.add("at the tap", true, bound, teaColour, true, "jar: yellow that does not settle")
	case book.TurnsOrange:
		s.add("at the tap", true, ferrous, bleachOrange, true, "jar: bleach turns it orange")
	case book.Threads:
		s.add("slime", true, bacteria, feathers, true, "jar: threads or jelly")
	case book.FiltersClear, book.FiltersStained:
		s.filtrate(j)
	}
}

// filtrate weighs the look of what passed a filter: of raw water it tells of rust,
// of water that had air for a day of iron that stays bound.
func (s *scales) filtrate(j book.Jar) {
	through := j.Saw == book.FiltersStained
	switch {
	case j.Test == book.Filtration && !through:
		s.add("filter", true, particulateIron.String(), filterHolds, true, "jar: the filter takes the colour out")
	case j.Test == book.Filtration:
		s.add("filter", true, particulateIron.String(), filterHolds, false, "jar: the filter lets the colour through")
	case j.Test == book.Aeration && through && j.Iron == nil && j.After.Hours() >= 20:
		s.add("at the tap", true, organicIron.String(), hazeStays, true, "jar: colour passes the filter after a day of air")
	}
}

// cultures weighs what grew and on which day, and what the microscope showed.
func (s *scales) cultures(e Evidence) {
	for _, c := range e.Cultures {
		switch {
		case c.Of != book.IronBacteria && c.Of != book.SlimeFormers:
		case c.Microscope:
			s.add("microscope", false, bacteria, sheaths, c.Positive, said("sheaths or stalks under the microscope", c.Positive))
		case !c.Positive:
			s.add("culture", false, bacteria, cultureNone, true, "culture negative after its full time")
		default:
			s.culture(float64(c.Day))
		}
	}
	for _, r := range e.Reports {
		for _, res := range r.Results {
			if res.Analyte == water.IronBacteria {
				s.cultureResult(res)
			}
		}
	}
}

// culture weighs a positive culture by the day it turned; a day that was not
// said stands in the middle.
func (s *scales) culture(day float64) {
	switch {
	case day <= 0:
		s.add("culture", false, bacteria, cultureMiddle, true, "culture positive, day not said")
	case day <= 3:
		s.add("culture", false, bacteria, cultureFast, true, "culture positive on day "+trim(day))
	case day < 8:
		s.add("culture", false, bacteria, cultureMiddle, true, "culture positive on day "+trim(day))
	default:
		s.add("culture", false, bacteria, cultureSlow, true, "culture positive only on day "+trim(day))
	}
}

func (s *scales) cultureResult(r water.Result) {
	switch r.Sign {
	case water.Absent, water.Below:
		s.add("culture", false, bacteria, cultureNone, true, "culture negative after its full time")
	case water.Present:
		s.culture(0)
	default:
		s.culture(r.Value)
	}
}

func smellsOfSulfide(e Evidence) bool {
	for _, g := range e.Signs {
		smell := g.ID == water.RottenEggBothConstant || g.ID == water.RottenEggFades
		if smell && g.Seen && !hotOnly(g) {
			return true
		}
	}
	return false
}
