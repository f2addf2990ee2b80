package book

import (
	"wellwright/unit"
	"wellwright/well"
)

var branchFields = []field{
	required(text("name", "", "cow drinkers", func(b *well.Branch) *string { return &b.Name })),
	positive("peak", "its own highest flow", "4 gpm", func(b *well.Branch) **unit.Flow { return &b.Peak }),
	positive("use", "mean of the year; part of the daily use", "700 gal/day", func(b *well.Branch) **unit.Flow { return &b.Use }),
	maybe("treat", "no: taken off ahead of the treatment; if not said, it is treated", "no", func(b *well.Branch) **bool { return &b.Treated }),
	maybe("at night", "draws in the quiet hours too, while vessels wash; if not said, it does", "yes", func(b *well.Branch) **bool { return &b.Night }),
	text("remarks", "", "bowls in the freestall", func(b *well.Branch) *string { return &b.Remarks }),
}

// shortBranch takes a bare name.
func shortBranch(s string, b *well.Branch) error { b.Name = s; return nil }

// keepBranches replaces what was said of the same branch before.
func keepBranches(_ *reader, h *well.House, items []well.Branch) {
	var kept []well.Branch
	for _, old := range h.Branches {
		if !anyOf(items, func(b well.Branch) bool { return b.Name == old.Name }) {
			kept = append(kept, old)
		}
	}
	h.Branches = append(kept, items...)
}

var shiftFields = []field{
	text("name", "", "morning milking", func(s *well.Shift) *string { return &s.Name }),
	required(scalar("from", "time of day", "05:00", func(s string, x *well.Shift) (err error) { x.From, err = well.ParseClock(s); return err })),
	required(scalar("to", "before `from`, it runs over midnight; the same, round the clock", "08:30", func(s string, x *well.Shift) (err error) { x.To, err = well.ParseClock(s); return err })),
	number("days", "a week; if not said, all seven", "7", 0.5, 7, func(s *well.Shift, n float64) { s.Days = n }),
	positive("peak", "highest flow in it; if not said, that of the house", "18 gpm", func(s *well.Shift) **unit.Flow { return &s.Peak }),
	positive("use", "in one shift", "500 gal", func(s *well.Shift) **unit.Volume { return &s.Use }),
}

// keepShifts replaces the shifts as a whole: a day is worked by one plan at a time.
func keepShifts(_ *reader, h *well.House, items []well.Shift) { h.Shifts = items }
