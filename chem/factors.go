package chem

import "wellwright/source"

// Rate constants and shares that a user may dispute. Second-order constants are
// L/(mol s) at 25 °C unless said.
var (
	ironSlowRate = source.Factor{Name: "iron_oxygen_slow_rate", What: "ferrous iron with oxygen, slow law: log k at 25 °C, no salt",
		Unit: "log L3/(mol3 min)", Value: 21.56 - 1545/refT, Kind: source.Published,
		From: "Millero, Sotolongo & Izaguirre 1987, Geochim. Cosmochim. Acta 51:793, as quoted in public sea-water code"}
	ironFastRate = source.Factor{Name: "iron_oxygen_fast_rate", What: "ferrous iron with oxygen, fast law, 25 °C: k {OH-}² pO2",
		Unit: "L2/(mol2 atm s)", Value: 1.33e12, Low: 3.3e11, High: 1.75e12, Kind: source.Published,
		From: "Singer & Stumm 1970 as in USGS WRIR 99-4259, eq. 159; low: Davison & Seed 1983; high: Stumm & Lee 1961 (both from memory)"}
	ironAcidRate = source.Factor{Name: "iron_oxygen_acid_rate", What: "ferrous iron with oxygen, fast law: part without OH-, in air",
		Unit: "1/s", Value: 2.91e-9, Kind: source.Published, From: "Singer & Stumm 1970 as in USGS WRIR 99-4259, eq. 159"}
	ironFastEnergy = source.Factor{Name: "iron_oxygen_fast_energy", What: "activation energy of the fast law at constant pH",
		Unit: "kJ/mol", Value: 96, Kind: source.FromMemory, From: "Sung & Morgan 1980, Environ. Sci. Technol. 14:561; Stumm & Lee 1961"}
	flocRate = source.Factor{Name: "iron_floc_rate", What: "ferrous iron with oxygen on ferric floc: k [O2][Fe floc]/{H+}",
		Unit: "1/s per mol/L", Value: 73 * 1.4125375446227544e-05, Low: 73 * 1.4125375446227544e-05 / 3, High: 73 * 1.4125375446227544e-05 * 10,
		Kind: source.FromMemory, From: "Tamura, Goto & Nagayama 1976 (ks 73, log K -4.85); a third with silica in the oxide, ten times in a later study at low oxygen"}
	flocEnergy = source.Factor{Name: "iron_floc_energy", What: "activation energy of iron oxidation on ferric floc and coatings at constant pH",
		Unit: "kJ/mol", Value: 60, Low: 30, High: 96, Kind: source.Judgement, From: "between the 30 kJ/mol of the oxygen step and the 96 of the clear-water law"}
	ironChlorineRate = source.Factor{Name: "iron_chlorine_rate", What: "ferrous iron with hypochlorous acid", Unit: "L/(mol s)",
		Value: 1.7e4, Low: 5e3, High: 5e4, Kind: source.FromMemory, From: "Folkes et al. 1995 (order 1e4)"}
	chloramineRate = source.Factor{Name: "chloramine_rate", What: "ammonia with hypochlorous acid to monochloramine", Unit: "L/(mol s)",
		Value: 4.2e6, Low: 3e6, High: 5.6e6, Kind: source.FromMemory, From: "Morris & Isaac 1983"}
	chloramineEnergy = source.Factor{Name: "chloramine_energy", What: "activation energy of monochloramine formation", Unit: "kJ/mol",
		Value: 12.6, Kind: source.FromMemory, From: "Morris & Isaac 1983 (1510 K)"}
	breakpointRate = source.Factor{Name: "breakpoint_rate", What: "monochloramine with hypochlorous acid, the slow step of breakpoint", Unit: "L/(mol s)",
		Value: 150, Low: 100, High: 350, Kind: source.FromMemory, From: "Margerum et al. 1978"}
	chlorineEnergy = source.Factor{Name: "chlorine_energy", What: "activation energy of chlorine with iron, manganese and chloramine", Unit: "kJ/mol",
		Value: 40, Low: 20, High: 60, Kind: source.Judgement, From: "usual for oxidants in water; ozone with manganese 39.5 (Jacobsen et al. 1998)"}
	manganeseChlorineRate = source.Factor{Name: "manganese_chlorine_rate", What: "manganese with hypochlorous acid, no oxide present", Unit: "L/(mol s)",
		Value: 0.15, Low: 0.02, High: 1, Kind: source.Judgement, From: "hours to days below pH 8 (Hao, Davis & Chang 1991; Knocke et al., from memory)"}
	manganeseOxideRate = source.Factor{Name: "manganese_oxide_rate", What: "manganese with free chlorine or permanganate on manganese dioxide",
		Unit: "L2/(mol2 s)", Value: 1e5, Low: 2e4, High: 5e5, Kind: source.Judgement, From: "seconds to minutes in a coated bed at pH 7 and 1 mg/L free chlorine (common practice)"}
	surfaceEnergy = source.Factor{Name: "manganese_oxide_energy", What: "activation energy of manganese oxidation on its oxide", Unit: "kJ/mol",
		Value: 45, Low: 20, High: 80, Kind: source.Judgement, From: "adsorption with a chemical step; no figure read"}
	surfacePK = source.Factor{Name: "manganese_oxide_pk", What: "pH at which half the oxide sites take up manganese", Value: 6.5, Low: 6, High: 7.5,
		Kind: source.Judgement, From: "coated beds work from pH 6.5, better from 7 (common practice)"}
	manganeseOxygenRate = source.Factor{Name: "manganese_oxygen_rate", What: "manganese with oxygen at pH 8.03, 25 °C; by {OH-}², which stands 19 % high at pH 9.30",
		Unit: "L/(mol s)", Value: 8.6e-5, Kind: source.Published, From: "Morgan 2005, Geochim. Cosmochim. Acta 69:35 (2.5e-2 at pH 9.30)"}
	manganeseOxygenSurface = source.Factor{Name: "manganese_oxygen_oxide_rate", What: "manganese with oxygen on its oxide at pH 8; tenfold for each pH unit",
		Unit: "L2/(mol2 s)", Value: 400, Low: 40, High: 4000, Kind: source.Judgement, From: "minutes in a coated bed above pH 8 (common practice)"}
	manganeseOxygenEnergy = source.Factor{Name: "manganese_oxygen_energy", What: "activation energy of manganese with oxygen at constant pH", Unit: "kJ/mol",
		Value: 100, Low: 60, High: 130, Kind: source.Judgement, From: "as iron: two hydroxides in the rate law"}
	sulfideOxygenRate = source.Factor{Name: "sulfide_oxygen_rate", What: "sulfide with oxygen: log k at pH 0, 25 °C, no salt", Unit: "log L/(mol h)",
		Value: 10.50 - 3000/refT, Kind: source.FromMemory, From: "Millero et al. 1987, Environ. Sci. Technol. 21:439"}
	sulfidePeroxideRate = source.Factor{Name: "sulfide_peroxide_rate", What: "bisulfide with peroxide", Unit: "L/(mol s)", Value: 0.48,
		Kind: source.FromMemory, From: "Hoffmann 1977, Environ. Sci. Technol. 11:61"}
	sulfidePeroxideIron = source.Factor{Name: "sulfide_peroxide_iron_rate", What: "sulfide with peroxide, iron as catalyst: k [Fe][H2O2]", Unit: "L2/(mol2 s)",
		Value: 2e6, Low: 5e5, High: 1e7, Kind: source.Judgement, From: "set to below 3 min with iron salt (AWWA WQTC 2003 abstract, published)"}
	ironPermanganateRate = source.Factor{Name: "iron_permanganate_rate", What: "ferrous iron with permanganate", Unit: "L/(mol s)", Value: 5e4, Low: 1e4, High: 5e5,
		Kind: source.FromMemory, From: "seconds at pH 6 and above: Knocke et al. 1990"}
	manganesePermanganateRate = source.Factor{Name: "manganese_permanganate_rate", What: "manganese with permanganate at pH 7", Unit: "L/(mol s)",
		Value: 1200, Low: 400, High: 1e4, Kind: source.FromMemory, From: "one to two minutes above pH 7: Van Benschoten et al. 1992"}
	sulfidePermanganateRate = source.Factor{Name: "sulfide_permanganate_rate", What: "sulfide with permanganate", Unit: "L/(mol s)", Value: 5e3, Low: 1e3, High: 5e4,
		Kind: source.Judgement, From: "seconds in practice"}
	sulfateShare = source.Factor{Name: "sulfide_chlorine_sulfate_share", What: "share of sulfide that chlorine or permanganate takes to sulfate, the rest to sulfur",
		Value: 0, Low: 0, High: 1, Kind: source.CommonPractice, From: "to sulfur at low excess near neutral; more goes to sulfate with excess and high pH"}
	sulfateShareAir = source.Factor{Name: "sulfide_oxygen_sulfate_share", What: "share of sulfide that oxygen or peroxide takes to sulfate, the rest to sulfur",
		Value: 0, Low: 0, High: 1, Kind: source.CommonPractice, From: "catalysed at neutral pH to sulfur; the slow path in clear water makes sulfate and thiosulfate"}
	breakpointRatio = source.Factor{Name: "breakpoint_ratio", What: "chlorine to pass breakpoint for each mg of ammonia as N", Unit: "mg Cl2/mg N",
		Value: 1.5 * molCl2 / molN, Low: 1.5 * molCl2 / molN, High: 10, Kind: source.Published,
		From: "7.6 by the balanced reaction, 10 to 15 in practice: Weiner, Applications of Environmental Aquatic Chemistry, p. 143"}
	organicsDemand = source.Factor{Name: "organics_chlorine_demand", What: "chlorine taken up by organic matter in a day for each mg of organic carbon", Unit: "mg Cl2/mg C",
		Value: 1, Low: 0.5, High: 2, Kind: source.CommonPractice, From: "0.5 to 1 in twenty minutes, 1 to 2 in a day"}
)

// rateFactors lists the factors above.
func rateFactors() []source.Factor {
	return []source.Factor{
		ironSlowRate, ironFastRate, ironAcidRate, ironFastEnergy, flocRate, flocEnergy, ironChlorineRate,
		chloramineRate, chloramineEnergy, breakpointRate, chlorineEnergy,
		manganeseChlorineRate, manganeseOxideRate, surfaceEnergy, surfacePK,
		manganeseOxygenRate, manganeseOxygenSurface, manganeseOxygenEnergy,
		sulfideOxygenRate, sulfidePeroxideRate, sulfidePeroxideIron,
		ironPermanganateRate, manganesePermanganateRate, sulfidePermanganateRate,
		sulfateShare, sulfateShareAir, breakpointRatio, organicsDemand,
		carbonTransfer, sulfideTransfer,
	}
}
