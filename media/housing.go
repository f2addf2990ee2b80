package media

import "strings"

// Housing reports whether a part outlasts what is in it: vessel, valve, pump,
// tank or pipe, as against a medium, a chemical, work or a test. Of equipment
// already there the housing is kept and the rest is bought anew.
func (p Part) Housing() bool {
	s := string(p)
	switch {
	case strings.HasPrefix(s, "vessel"):
		return true
	case strings.HasSuffix(s, " ft3"), strings.HasSuffix(s, " lb"), strings.HasPrefix(s, "test "):
		return false
	}
	switch p {
	case LabourHour, Visit, ElectricityKWh, ChlorineTestStrip, SmallElement, LargeElement,
		HypochloriteGal, BleachGal, PeroxideGal, WellAcidGal, SepticPumpOut, PullPump, DownholeVideo, WellCleaningDay, NewWellFt,
		UltravioletLamp, UltravioletSleeve, OsmosisFilters, OsmosisMembrane:
		return false
	}
	return true
}
