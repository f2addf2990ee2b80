package cloud

import (
	"fmt"
	"math"

	"wellwright/source"
	"wellwright/unit"
	"wellwright/well"
)

// fromShifts takes the use of the shifts, with what branches ahead of the treatment
// draw besides; false if some shift was given none.
func (s *supplyBelief) fromShifts() bool {
	use, known := s.house.ShiftUse()
	if !known {
		return false
	}
	s.daily = use.GalPerDay() + s.house.RawDrawn().Use.GalPerDay()
	s.note("daily_use_gal_per_day", "gal/day", s.daily, source.Derived, "use of the shifts over the days of the week, and of the branches on raw water")
	return true
}

// branches parts what the house uses in all from what passes the treatment.
//
//	Q = max(Q0 - ΣQr, ΣQt)
//
//	Q   through the treatment;  Q0 of the whole house
//	Qr  of branches ahead of the treatment;  Qt of branches behind it
//
// The greater of the two, because a raw branch may stand idle while the treated
// ones draw their most. A peak that was only counted from fixtures is that of the
// treated house, and nothing is taken off it. Source: water balance.
func (s *supplyBelief) branches() {
	raw, treated := s.house.RawDrawn(), s.house.TreatedDrawn()
	if raw.Use.GalPerDay() >= s.daily && raw.Use.GalPerDay() > 0 {
		s.doubt("branches_use", fmt.Sprintf("the branches on raw water are said to use %.0f of %.0f gal/day in all: nothing is taken off for them", raw.Use.GalPerDay(), s.daily))
		raw.Use = unit.Flow{}
	}
	s.raw = raw
	s.daily = math.Max(s.daily-raw.Use.GalPerDay(), treated.Use.GalPerDay())
	stated := s.house.Peak != nil || s.lasts > 0
	off := 0.0
	if stated && raw.Peak.GPM() < s.peak.GPM() {
		off = raw.Peak.GPM()
	}
	s.peak = unit.GPM(math.Max(s.peak.GPM()-off, treated.Peak.GPM()))
	if raw != (well.Drawn{}) {
		s.note("treated_peak_gpm", "gpm", s.peak.GPM(), source.Derived, "peak of the house less that of the branches on raw water, and no less than the branches behind the treatment were said to draw")
		s.note("treated_use_gal_per_day", "gal/day", s.daily, source.Derived, "use of the house less that of the branches on raw water")
	}
}

// rawAt is what the branches ahead of the treatment draw, moved as the rest is.
func (s *supplyBelief) rawAt(l lifts) well.Drawn {
	return well.Drawn{
		Peak: unit.GPM(s.raw.Peak.GPM() * l.peak), Night: unit.GPM(s.raw.Night.GPM() * l.peak),
		Use: unit.GPM(s.raw.Use.GPM() * l.daily),
	}
}
