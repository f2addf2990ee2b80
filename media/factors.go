package media

import "wellwright/source"

// ManganeseTrace is the manganese above which a limit on pH for manganese is
// asked: the level that begins to stain.
var ManganeseTrace = source.Factor{
	Name: "manganese_trace", What: "manganese above which its own pH limits are asked", Unit: "mg/L",
	Value: 0.05, Kind: source.Published,
	From: "US EPA secondary level, as quoted in UMass Extension, Iron and Manganese in Private Drinking Water Wells",
}

// Factors returns every factor of this room.
func Factors() []source.Factor {
	all := []source.Factor{ManganeseTrace}
	for _, p := range Processes() {
		if m, ok := MediumFor(p); ok {
			all = append(all, m.Factors()...)
		}
		for _, l := range Envelope(p) {
			if l.Caution != nil {
				all = append(all, *l.Caution)
			}
			if l.Refuse != nil {
				all = append(all, *l.Refuse)
			}
		}
	}
	return all
}
