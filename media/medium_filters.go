package media

import "wellwright/source"

// Sources named more than once in the tables.
const (
	trade        = "common practice, no single source"
	valveTable   = "common practice: control-valve backwash tables at 50 °F"
	wisIron      = "Wisconsin Administrative Code NR 811.52, iron and manganese control (2010, amended 2024)"
	oklahoma     = "Oklahoma Administrative Code 252:626-9-7, iron and manganese control"
	wisPressure  = "Wisconsin Administrative Code NR 811.495, pressure filtration"
	davis        = "Davis, Water and Wastewater Engineering, table 11-10"
	handbookHold = "environmental engineers' handbook, filter solids capacity (second hand); the trade's smaller figure is the default"
	dataSheets   = "media data sheets of the trade (from memory)"
	textbookBed  = "our judgement from first-order capture in 0.3 to 0.6 mm beds, so that 30 in at 5 gpm/ft2 polishes oxidised iron as the trade expects"
)

// The catalysing surfaces are calibrated, not measured. The rate of ferrous iron
// on ferric oxide (Tamura, Goto and Nagayama 1976) is taken in the pore water of
// 30 in of bed at 5 gpm/ft2 and 10 °C, about 100 s. With oxygen at 5 mg/L the
// surface is chosen so that 5 mg/L of ferrous iron falls just below 0.3 mg/L at
// pH 7.0, as the trade finds; at pH 6.5 the same bed is three times slower and
// passes iron, as the trade also finds. It is some 5 g of oxide iron in a litre
// of pores: a coat of two thousandths of the weight of the grains. The coat
// for manganese is chosen so that 0.65 mg/L falls below 0.03 at pH 7.1 and a peak
// of 9 gpm/ft2 with 0.7 mg/L of chlorine left over: a coat of about 1 %. Beds that
// do less are given less.
const (
	surfaceFrom   = "our judgement, calibrated: 30 in at 5 gpm/ft2, 10 °C, oxygen 5 mg/L takes 5 mg/L of ferrous iron below 0.3 at pH 7.0 and not at pH 6.5 (common practice)"
	manganeseFrom = "our judgement, calibrated: 30 in at 9 gpm/ft2, pH 7.1, 10 °C takes 0.65 mg/L of manganese below 0.03 with 0.7 mg/L of free chlorine left over (common practice)"
)

// bare is the surface of a medium that is no catalyst.
var bare = number{0, 0, 0, source.Judgement, "grains without an oxide coat; the coat of ripened sand is left out"}

// mediumRows is every medium in use, by the process it fills.
var mediumRows = append(filterRows[:len(filterRows):len(filterRows)], exchangeRows...)

// Sizes, gravities and porosities stand inside the printed bands. The shape of the
// coated grains is not in print: it is chosen so that the usual wash lifts the bed
// by the 30 to 40 % that the trade expects of it (20 to 30 % for ore).
var filterRows = []mediumRow{
	{
		process: SedimentFilter, id: "multimedia", name: "anthracite, sand and garnet", part: MultimediaFt3,
		// The sand layer stands for the whole bed.
		d10: 0.5, uniformity: 1.5, gravity: 2.65, porosity: 0.42, sphericity: 0.8,
		grainKind: source.Published, grainFrom: "Davis, Water and Wastewater Engineering, table 11-1 (sand)",
		minBedIn: 24, freeboard: 0.5,
		bulk:          number{90, 50, 140, source.CommonPractice, trade},
		caution:       number{5, 3, 10, source.Published, "US Department of Defense, UFC 3-280-04, Filtration of Liquids (2003): do not exceed 5"},
		refuse:        number{10, 8, 15, source.CommonPractice, "common practice: 5 to 10 on plain sediment"},
		wash:          number{15, 12, 18, source.Published, davis + ": 37 to 45 m/h"},
		public:        number{15, 15, 18, source.Published, wisPressure},
		minutes:       number{15, 10, 20, source.Published, davis},
		rinse:         number{5, 4, 6, source.CommonPractice, trade},
		hold:          number{1000, 600, 3500, source.CommonPractice, handbookHold},
		days:          number{7, 3, 7, source.CommonPractice, trade},
		life:          number{8, 7, 10, source.CommonPractice, trade},
		capture:       number{5, 3, 10, source.Judgement, textbookBed},
		ferricSurface: bare, mnoSurface: bare,
	},
	{
		process: AirInjectionFilter, id: "air-injection-bed", name: "manganese-dioxide-coated sand under an air pocket", part: CoatedSandFt3,
		d10: 0.35, uniformity: 1.6, gravity: 2.5, porosity: 0.45, sphericity: 0.85,
		grainKind: source.CommonPractice, grainFrom: dataSheets,
		minBedIn: 24, freeboard: 0.5,
		bulk:          number{88, 85, 90, source.CommonPractice, trade},
		caution:       number{5, 3, 8, source.CommonPractice, trade},
		refuse:        number{14, 8, 15, source.Judgement, "our judgement: short peaks of a house of two to three baths on a 10 in tank are borne"},
		wash:          number{11, 10, 12, source.CommonPractice, valveTable},
		minutes:       number{12, 10, 14, source.CommonPractice, trade},
		rinse:         number{5, 4, 6, source.CommonPractice, trade},
		hold:          number{600, 500, 1000, source.FromMemory, "trade figure for greensand types, grains of Fe + Mn a square foot a run"},
		days:          number{3, 1, 3, source.CommonPractice, "common practice: the air pocket dissolves; renew daily to every 3 days"},
		life:          number{6, 5, 8, source.CommonPractice, trade},
		capture:       number{4, 2.5, 7, source.Judgement, textbookBed},
		ferricSurface: number{5000, 2000, 15000, source.Judgement, surfaceFrom},
		mnoSurface:    number{15000, 3000, 60000, source.Judgement, manganeseFrom},
	},
	{
		process: GreensandFilter, id: "greensand", name: "manganese greensand", part: GreensandFt3,
		d10: 0.33, uniformity: 1.6, gravity: 2.4, porosity: 0.46, sphericity: 0.8,
		grainKind: source.Published, grainFrom: "manganese greensand data restating US EPA text: effective size 0.30 to 0.35 mm, uniformity below 1.6; porosity and shape common practice",
		minBedIn: 24, freeboard: 0.5,
		bulk:          number{85, 80, 90, source.CommonPractice, trade},
		caution:       number{5, 3, 5, source.CommonPractice, "common practice 3 to 5; " + oklahoma + " allows 3"},
		refuse:        number{6, 5, 8, source.Judgement, "our judgement: a fifth above the trade's 5, for a short peak; the grains shed their coat when driven"},
		wash:          number{10, 8, 12, source.CommonPractice, valveTable},
		public:        number{9, 8, 10, source.Published, wisIron + "; " + oklahoma},
		minutes:       number{12, 10, 14, source.CommonPractice, trade},
		rinse:         number{5, 4, 6, source.CommonPractice, trade},
		hold:          number{600, 500, 1000, source.FromMemory, "trade figure for greensand types, grains of Fe + Mn a square foot a run"},
		days:          number{3, 2, 7, source.CommonPractice, "common practice: every 2 to 4 days, never beyond 7"},
		life:          number{7, 5, 10, source.CommonPractice, trade},
		capture:       number{3.5, 2, 7, source.Judgement, textbookBed},
		ferricSurface: number{5000, 2000, 15000, source.Judgement, surfaceFrom},
		mnoSurface:    number{25000, 5000, 100000, source.Judgement, manganeseFrom},
	},
	{
		process: CoatedSandFilter, id: "coated-sand", name: "manganese-dioxide-coated sand", part: CoatedSandFt3,
		d10: 0.35, uniformity: 1.6, gravity: 2.5, porosity: 0.45, sphericity: 0.85,
		grainKind: source.CommonPractice, grainFrom: dataSheets,
		minBedIn: 24, freeboard: 0.5,
		bulk:          number{88, 85, 90, source.CommonPractice, trade},
		caution:       number{5, 3, 9, source.CommonPractice, "common practice 3 to 5; Wisconsin pressure filters 4"},
		refuse:        number{12, 8, 12, source.CommonPractice, "common practice: short peaks with a free residual"},
		wash:          number{12, 10, 15, source.CommonPractice, "common practice at 50 to 55 °F; public rules ask more"},
		public:        number{15, 15, 20, source.Published, wisIron + ": 15 to 20"},
		minutes:       number{10, 10, 15, source.CommonPractice, trade},
		rinse:         number{5, 4, 6, source.CommonPractice, trade},
		hold:          number{600, 500, 1000, source.FromMemory, "trade figure for greensand types, grains of Fe + Mn a square foot a run"},
		days:          number{3, 2, 7, source.CommonPractice, "common practice: every 2 to 4 days, never beyond 7"},
		life:          number{8, 7, 10, source.CommonPractice, trade},
		capture:       number{3.5, 2, 7, source.Judgement, textbookBed},
		ferricSurface: number{5000, 2000, 15000, source.Judgement, surfaceFrom},
		mnoSurface:    number{25000, 5000, 100000, source.Judgement, manganeseFrom},
	},
	{
		process: LightweightFilter, id: "lightweight", name: "lightweight manganese-coated aluminosilicate media", part: LightweightFt3,
		// Porous grains: the wet grain is lighter than the solid's 2.0.
		d10: 0.48, uniformity: 2.0, gravity: 1.6, porosity: 0.57, sphericity: 0.55,
		grainKind: source.CommonPractice, grainFrom: dataSheets + "; uniformity of the bulk of the grains, up to 2.7 with the fines",
		minBedIn: 30, freeboard: 0.5,
		bulk:          number{47, 44, 50, source.CommonPractice, trade},
		caution:       number{5, 3.5, 5, source.FromMemory, dataSheets},
		refuse:        number{12, 8, 12, source.Judgement, "our judgement: short peaks pass some iron"},
		wash:          number{10, 10, 12, source.CommonPractice, valveTable},
		minutes:       number{10, 10, 14, source.CommonPractice, trade},
		rinse:         number{5, 4, 6, source.CommonPractice, trade},
		hold:          number{600, 400, 1000, source.Judgement, "our judgement, after the trade's figure for greensand types"},
		days:          number{3, 2, 4, source.CommonPractice, "common practice: every 2 to 4 days"},
		life:          number{5, 3, 7, source.CommonPractice, trade},
		capture:       number{5, 3, 9, source.Judgement, textbookBed},
		ferricSurface: number{3300, 1000, 10000, source.Judgement, surfaceFrom + "; somewhat less than coated sand"},
		mnoSurface:    number{5000, 1000, 20000, source.Judgement, manganeseFrom + "; a thinner coat"},
	},
	{
		process: ManganeseOreFilter, id: "manganese-ore", name: "solid manganese dioxide ore", part: ManganeseOreFt3,
		d10: 0.5, uniformity: 1.6, gravity: 3.9, porosity: 0.5, sphericity: 0.65,
		grainKind: source.CommonPractice, grainFrom: dataSheets + "; 20x40 mesh",
		minBedIn: 18, freeboard: 0.35,
		bulk:          number{120, 115, 125, source.CommonPractice, trade},
		caution:       number{5, 5, 7, source.FromMemory, "trade 5 in households, up to 10 with chlorine and a deep bed (from memory)"},
		refuse:        number{10, 7, 12, source.FromMemory, "trade 5 in households, up to 10 with chlorine and a deep bed (from memory)"},
		wash:          number{25, 20, 30, source.FromMemory, dataSheets + ": 20 to 30 at 50 °F"},
		minutes:       number{8, 5, 10, source.CommonPractice, trade},
		rinse:         number{5, 4, 6, source.CommonPractice, trade},
		hold:          number{600, 500, 1000, source.Judgement, "our judgement, after the trade's figure for greensand types"},
		days:          number{2, 1, 3, source.CommonPractice, "common practice: daily when neat, else every 2 to 3 days"},
		life:          number{12, 10, 15, source.CommonPractice, "common practice: ten years and more, 1 to 3 % lost a year"},
		capture:       number{5, 3, 9, source.Judgement, textbookBed},
		ferricSurface: number{5000, 2000, 15000, source.Judgement, surfaceFrom},
		mnoSurface:    number{60000, 10000, 200000, source.Judgement, manganeseFrom + "; the grain is oxide throughout"},
	},
	{
		process: CopperZincFilter, id: "copper-zinc", name: "copper-zinc redox granules", part: CopperZincFt3,
		d10: 0.3, uniformity: 2.0, gravity: 6.4, porosity: 0.57, sphericity: 0.6,
		grainKind: source.CommonPractice, grainFrom: dataSheets + "; grains 0.15 to 2 mm",
		minBedIn: 10, freeboard: 1.0,
		bulk:          number{170, 165, 175, source.CommonPractice, trade},
		caution:       number{15, 10, 15, source.FromMemory, dataSheets},
		refuse:        number{20, 15, 20, source.Judgement, "our judgement: a third above the trade's rate"},
		wash:          number{30, 30, 30, source.FromMemory, dataSheets},
		minutes:       number{10, 5, 10, source.CommonPractice, trade},
		rinse:         number{3, 2, 5, source.CommonPractice, trade},
		hold:          number{150, 50, 300, source.Judgement, "our judgement: a shallow bed that is no filter"},
		days:          number{3, 1, 7, source.CommonPractice, "common practice: cements within months if seldom washed"},
		life:          number{8, 6, 10, source.FromMemory, dataSheets},
		capture:       number{8, 4, 15, source.Judgement, textbookBed},
		ferricSurface: number{300, 0, 1000, source.Judgement, "our judgement: over-sold for iron, takes a little"},
		mnoSurface:    bare,
	},
}
