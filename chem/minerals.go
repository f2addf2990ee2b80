package chem

// Mineral is a solid that a well water may form or dissolve.
type Mineral int

// The minerals.
const (
	Calcite Mineral = iota
	Aragonite
	Vaterite
	Siderite
	SideriteFresh
	FerricHydroxide // amorphous
	Ferrihydrite    // aged
	Lepidocrocite
	Goethite
	Rhodochrosite
	RhodochrositeFresh
	Pyrochroite
	Mackinawite
	FeSFresh
	Vivianite
	Strengite
	Gypsum
	Fluorite
	SilicaAmorphous
	nMinerals
)

// part is a species in the ion product of a solid and its power.
type part struct {
	s Species
	n float64
}

type mineralRow struct {
	name  string
	k     constant
	parts [2]part // the second may be empty
	h     float64 // power of {H+} in the ion product
}

var mineralRows = [nMinerals]mineralRow{
	Calcite:            {"calcite", kCalcite, [2]part{{CalciumIon, 1}, {CarbonateIon, 1}}, 0},
	Aragonite:          {"aragonite", kAragonite, [2]part{{CalciumIon, 1}, {CarbonateIon, 1}}, 0},
	Vaterite:           {"vaterite", kVaterite, [2]part{{CalciumIon, 1}, {CarbonateIon, 1}}, 0},
	Siderite:           {"siderite", kSiderite, [2]part{{FerrousIon, 1}, {CarbonateIon, 1}}, 0},
	SideriteFresh:      {"fresh siderite", kSideriteFresh, [2]part{{FerrousIon, 1}, {CarbonateIon, 1}}, 0},
	FerricHydroxide:    {"amorphous ferric hydroxide", kFerricAmorphous, [2]part{{FerricIon, 1}}, -3},
	Ferrihydrite:       {"ferrihydrite", kFerrihydrite, [2]part{{FerricIon, 1}}, -3},
	Lepidocrocite:      {"lepidocrocite", kLepidocrocite, [2]part{{FerricIon, 1}}, -3},
	Goethite:           {"goethite", kGoethite, [2]part{{FerricIon, 1}}, -3},
	Rhodochrosite:      {"rhodochrosite", kRhodochrosite, [2]part{{ManganousIon, 1}, {CarbonateIon, 1}}, 0},
	RhodochrositeFresh: {"fresh rhodochrosite", kRhodochrositeFresh, [2]part{{ManganousIon, 1}, {CarbonateIon, 1}}, 0},
	Pyrochroite:        {"pyrochroite", kPyrochroite, [2]part{{ManganousIon, 1}}, -2},
	Mackinawite:        {"mackinawite", kMackinawite, [2]part{{FerrousIon, 1}, {BisulfideIon, 1}}, -1},
	FeSFresh:           {"fresh iron sulfide", kFeSFresh, [2]part{{FerrousIon, 1}, {BisulfideIon, 1}}, -1},
	Vivianite:          {"vivianite", kVivianite, [2]part{{FerrousIon, 3}, {PhosphateIon, 2}}, 0},
	Strengite:          {"strengite", kStrengite, [2]part{{FerricIon, 1}, {PhosphateIon, 1}}, 0},
	Gypsum:             {"gypsum", kGypsum, [2]part{{CalciumIon, 1}, {SulfateIon, 1}}, 0},
	Fluorite:           {"fluorite", kFluorite, [2]part{{CalciumIon, 1}, {FluorideIon, 2}}, 0},
	SilicaAmorphous:    {"amorphous silica", kSilica, [2]part{{SilicicAcid, 1}}, 0},
}

// String returns the name of the mineral.
func (m Mineral) String() string { return mineralRows[m].name }

// SI returns the saturation index of a mineral: above zero it may form, below
// zero it dissolves. It reports false when the water holds none of a part, which
// leaves the index without meaning.
//
//	SI = log10( ion activity product / K )
//
// Error: that of pH and alkalinity, commonly 0.3, before any other.
// Source: constants named in their factors.
func (s State) SI(mineral Mineral) (float64, bool) {
	r := &mineralRows[mineral]
	iap := r.h * s.logActivity(HydrogenIon)
	for _, p := range r.parts {
		if p.n == 0 {
			continue
		}
		a, ok := s.LogActivity(p.s)
		if !ok {
			return 0, false
		}
		iap += p.n * a
	}
	return iap - s.model.logK(r.k, powersOf(s.kelvin)), true
}
