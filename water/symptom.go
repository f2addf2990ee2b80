package water

import (
	"fmt"
	"strings"

	"wellwright/source"
)

// Symptom is what a household says or an eye sees, by its stable identifier.
type Symptom string

// The symptoms, in the order of the dictionary.
const (
	ClearThenRust          Symptom = "clear_then_rust"
	RustyAtTap             Symptom = "rusty_at_tap"
	RustyHotOnly           Symptom = "rusty_hot_only"
	RustyFirstMinute       Symptom = "rusty_first_minute"
	RustyAfterPumping      Symptom = "rusty_after_pumping"
	CloudyAfterRain        Symptom = "cloudy_after_rain"
	TeaColour              Symptom = "tea_colour"
	BleachFadesColour      Symptom = "bleach_fades_colour"
	BleachTurnsOrange      Symptom = "bleach_turns_orange"
	SlimeInTank            Symptom = "slime_in_tank"
	FeatheryGrowth         Symptom = "feathery_growth"
	FilmBreaks             Symptom = "film_breaks"
	FilmCloses             Symptom = "film_closes"
	SwampySmell            Symptom = "swampy_smell"
	RottenEggHotOnly       Symptom = "rotten_egg_hot_only"
	RottenEggBothConstant  Symptom = "rotten_egg_both_constant"
	RottenEggFades         Symptom = "rotten_egg_fades"
	RottenEggOneSink       Symptom = "rotten_egg_one_sink"
	RottenEggAfterSoftener Symptom = "rotten_egg_after_softener"
	BlackSpecksSoft        Symptom = "black_specks_soft"
	BlackSpecksRubbery     Symptom = "black_specks_rubbery"
	BlackGrainsHard        Symptom = "black_grains_hard"
	BlackStain             Symptom = "black_stain"
	BlackSlime             Symptom = "black_slime"
	BlueGreenStain         Symptom = "blue_green_stain"
	MetallicTaste          Symptom = "metallic_taste"
	PinkSlime              Symptom = "pink_slime"
	PinkWater              Symptom = "pink_water"
	WhiteCrust             Symptom = "white_crust"
	WhiteFlakesHot         Symptom = "white_flakes_hot"
	MilkyClearsUp          Symptom = "milky_clears_up"
	Sand                   Symptom = "sand"
	SoftenerOrange         Symptom = "softener_orange"
	SoftenerSlug           Symptom = "softener_slug"
	SlipperySkin           Symptom = "slippery_skin"
	InkyTea                Symptom = "inky_tea"
	LaundryYellows         Symptom = "laundry_yellows"
	WeakPressureSlime      Symptom = "weak_pressure_slime"
	Pinholes               Symptom = "pinholes"
	SaltyTaste             Symptom = "salty_taste"
	Suds                   Symptom = "suds"
	StomachUpsets          Symptom = "stomach_upsets"
	BlueInfant             Symptom = "blue_infant"
	SilverTarnishes        Symptom = "silver_tarnishes"
	AfterWellWork          Symptom = "after_well_work"
	RustOneBathroom        Symptom = "rust_one_bathroom"
	RustFirstDrawZinc      Symptom = "rust_first_draw_zinc"
	FilterClogs            Symptom = "filter_clogs"
	RustAfterTank          Symptom = "rust_after_tank"
	ToiletNotTub           Symptom = "toilet_not_tub"
	ChlorineTaste          Symptom = "chlorine_taste"
	GasSpurts              Symptom = "gas_spurts"
)

// Description is one line of the dictionary.
type Description struct {
	ID      Symptom
	Say     string // in the household's words
	Apart   string // what tells it from its likes
	Confirm string // the test that settles it
	Kind    source.Kind
	From    string
}

// symptoms is the dictionary. Kind is that of the link between symptom and cause;
// how likely a cause becomes is not said here.
var symptoms = []Description{
	{ClearThenRust, "drawn clear from the cold raw tap, turns yellow or orange on standing, rust settles", "speed rises with pH; below pH 6.5 it may stay clear for a day", "ferrous kit at the tap; total against filtered iron", source.Published, "extension sheets"},
	{RustyAtTap, "orange or brown as it leaves the cold raw tap, settles within an hour", "air leak on suction, aerated or recirculated well, rusting casing", "total far above filtered iron; dissolved oxygen; look at the pump suction", source.Published, "extension sheets"},
	{RustyHotOnly, "rusty from hot taps only", "the cold raw tap is clear and low in iron", "sample the heater drain and the cold raw tap", source.CommonPractice, tradeUse},
	{RustyFirstMinute, "rusty for the first minute of the morning, then clear", "galvanised pipe brings zinc too; tank sediment comes as a burst after pump start", "first-draw and flushed iron, zinc, lead, copper", source.CommonPractice, tradeUse},
	{RustyAfterPumping, "rusty after long pumping, a power cut or pump work", "yield and level tell", "drawdown test; turbidity against time", source.CommonPractice, tradeUse},
	{CloudyAfterRain, "brown or cloudy after rain or thaw", "conductivity falls, temperature swings", "turbidity, coliform, E. coli and nitrate in a wet and a dry spell", source.Published, "extension sheet on shock chlorination"},
	{TeaColour, "tea or straw colour, clear to look through, does not settle in a day", "tannin alone has little iron; bound iron stays in the filtrate while ferrous iron is low", "organic carbon or tannin, true colour, iron through 0.45 and 0.1 um", source.Published, "extension sheets"},
	{BleachFadesColour, "a few drops of bleach fade the tea colour", "iron would go darker or rusty", "beaker test; organic carbon", source.CommonPractice, tradeUse},
	{BleachTurnsOrange, "a few drops of bleach turn clear water orange", "brown-black within hours is manganese", "iron and manganese", source.CommonPractice, tradeUse},
	{SlimeInTank, "greasy slime inside the toilet tank, orange, brown or grey, wipes off", "dry, gritty and scratching is mineral", "slime under the microscope; culture", source.Published, "provincial sheet on iron bacteria; state health department sheet"},
	{FeatheryGrowth, "feathery or stringy orange growth in standing water", "plain floc has no threads", "microscope: sheaths, twisted stalks", source.Published, "state health department sheet"},
	{FilmBreaks, "rainbow film that breaks into plates when poked", "oil swirls and closes again", "poke it; microscope", source.Published, "extension news on oil-like films"},
	{FilmCloses, "rainbow film that swirls and closes, or a smell of fuel", "smell in the heater vent; a tank nearby", "stop use; volatile organics", source.Published, "extension table of well problems"},
	{SwampySmell, "swampy, oily, cucumber, sewage or musty smell, worse after standing", "no rotten egg in it", "culture, plate count, look into the well", source.Published, "state health department sheet"},
	{RottenEggHotOnly, "rotten egg from every hot tap, none from cold", "the cold raw tap has none", "smell hot and cold away from the sink; sulfate; sulfide kit on cold", source.Published, "extension table of well problems"},
	{RottenEggBothConstant, "rotten egg from hot and cold, does not fade", "the raw tap at the wellhead smells too", "sulfide on site within minutes; redox potential", source.Published, "extension table of well problems"},
	{RottenEggFades, "rotten egg from hot and cold, strong first, then fading", "comes back after absence", "sulfide at 0, 5 and 20 minutes; culture", source.CommonPractice, tradeUse},
	{RottenEggOneSink, "rotten egg at one sink only", "gone when the glass is carried away", "carry the glass away and smell", source.Published, "plumbing explainer pages (read second hand)"},
	{RottenEggAfterSoftener, "rotten egg only after the softener", "the raw tap has none", "sulfide before and after", source.CommonPractice, tradeUse},
	{BlackSpecksSoft, "black specks, soft, smearing like soot", "dissolve in vinegar with peroxide; rubber and carbon do not", "manganese total and filtered; speck test", source.Published, "state laboratory page on iron and manganese"},
	{BlackSpecksRubbery, "black specks that stretch like rubber", "burn with a smell of rubber", "look at washers, hoses, the tank bladder", source.CommonPractice, tradeUse},
	{BlackGrainsHard, "hard black grains after a carbon unit", "only downstream of the carbon", "by-pass the unit", source.CommonPractice, tradeUse},
	{BlackStain, "black stain in dishwasher, toilet or laundry", "black slime that bleaches is iron sulfide", "manganese; a drop of bleach on the stain", source.Published, "county well page; state fact sheet"},
	{BlackSlime, "black slime with rotten egg", "pales with bleach or peroxide", "sulfide, sulfate, culture", source.CommonPractice, tradeUse},
	{BlueGreenStain, "blue-green stain under a drip", "toilet blocks and cleaners colour too", "first-draw copper and lead; pH, alkalinity, carbon dioxide", source.Published, "county well page"},
	{MetallicTaste, "metallic taste", "in the morning only is plumbing; always is the well", "iron, manganese, copper, zinc, first draw and flushed", source.Published, "county well page"},
	{PinkSlime, "pink or red slime at the water line, shower curtain or pet bowl", "in one room, not the whole house", "none; clean it: it comes from the air, not from iron", source.Published, "water authority page on pink stains"},
	{PinkWater, "pink or purple water", "a permanganate feeder in the house", "shut the feeder; manganese", source.CommonPractice, tradeUse},
	{WhiteCrust, "white crust, spotted glass, furred kettle", "silica does not fizz in vinegar", "hardness, silica", source.Published, "county well page"},
	{WhiteFlakesHot, "white flakes from hot taps only", "scale fizzes in vinegar, plastic floats", "vinegar", source.CommonPractice, tradeUse},
	{MilkyClearsUp, "milky, clearing from the bottom up within a minute", "clearing from the top down is fine solids", "a jar", source.CommonPractice, tradeUse},
	{Sand, "grit or sand", "wears the pump; a failed screen", "sand in a five-gallon bucket", source.Published, "extension table of well problems"},
	{SoftenerOrange, "orange stains though a softener runs", "hardness after the unit: high, it failed; low, iron passes as particles or bound", "iron and hardness before and after; salt use; colour of the resin rinse", source.CommonPractice, tradeUse},
	{SoftenerSlug, "orange slug right after the softener regenerates", "timed with the regeneration", "a grab during slow rinse", source.CommonPractice, tradeUse},
	{SlipperySkin, "skin feels slippery since the softener came", "no slime to wipe: normal soft water", "hardness after the unit", source.CommonPractice, tradeUse},
	{InkyTea, "tea, coffee or whisky turns inky", "iron with tannin", "iron, tannin", source.Published, "copies of state iron sheets (read second hand)"},
	{LaundryYellows, "laundry yellows and bleach makes it worse", "iron or manganese", "iron, manganese", source.Published, "copies of extension sheets (read second hand)"},
	{WeakPressureSlime, "pump runs longer, pressure is weak, slime or scale about", "a worn pump brings no slime", "specific capacity against the record", source.Published, "well rehabilitation page"},
	{Pinholes, "pinhole leaks, green pits", "low pH, carbon dioxide, chloride, sulfide or stray current", "pH, carbon dioxide, alkalinity, chloride", source.CommonPractice, tradeUse},
	{SaltyTaste, "salty taste", "raw against treated: a softener stuck in brine", "chloride and sodium on both sides", source.Published, "county well page"},
	{Suds, "suds or foam", "with nitrate and chloride it is sewage", "foaming agents, nitrate, chloride, coliform", source.Published, "extension table of well problems"},
	{StomachUpsets, "stomach upsets, guests worst", "loose guests: sulfate", "coliform, E. coli, sulfate", source.Published, "federal private-well questions page"},
	{BlueInfant, "an infant looks blue-grey", "an emergency", "a doctor now; nitrate, nitrite", source.Published, "40 CFR 141.11(d): infants under 6 months singled out"},
	{SilverTarnishes, "silver tarnishes, taps blacken", "sulfide", "sulfide on site", source.Published, "plumbing explainer pages (read second hand)"},
	{AfterWellWork, "trouble began weeks after pump or well work", "was the well shocked?", "culture, coliform, the shock record", source.Published, "state health department sheet"},
	{RustOneBathroom, "rust from one bathroom only", "a steel nipple, an old branch, a line little used", "first draw there against elsewhere", source.CommonPractice, tradeUse},
	{RustFirstDrawZinc, "rust in the first draw, little iron in the well, zinc raised", "galvanised pipe; lead and cadmium may ride along", "first-draw iron, zinc, lead, cadmium; magnet and scratch on the pipe", source.CommonPractice, tradeUse},
	{FilterClogs, "orange fluff, a sediment filter clogged within days", "slimy is bacteria, muddy is rust", "rub it; microscope", source.Published, "state health department sheet"},
	{RustAfterTank, "clear at the well, rusty after the pressure tank", "air over water, an air leak, growth in the tank", "sample both sides of the tank", source.CommonPractice, tradeUse},
	{ToiletNotTub, "toilet stained, tub clean", "standing time", "as for clear then rust, and slime", source.CommonPractice, tradeUse},
	{ChlorineTaste, "taste of chlorine", "overfeed or a recent shock", "free chlorine", source.CommonPractice, tradeUse},
	{GasSpurts, "gurgling, spurting taps, milky water, maybe flame", "gas that lights is a danger", "ventilate; dissolved gas by a laboratory", source.Published, "extension table of well problems (gas explosive)"},
}

// Symptoms returns the whole dictionary.
func Symptoms() []Description { return append([]Description(nil), symptoms...) }

// Describe returns what is known of the symptom.
func (s Symptom) Describe() (Description, bool) {
	for _, d := range symptoms {
		if d.ID == s {
			return d, true
		}
	}
	return Description{}, false
}

// String returns the symptom in the household's words.
func (s Symptom) String() string {
	if d, ok := s.Describe(); ok {
		return d.Say
	}
	return string(s)
}

// ParseSymptom reads an identifier, with spaces or hyphens in place of its
// underscores, or the household's words in full.
func ParseSymptom(text string) (Symptom, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	id := Symptom(strings.NewReplacer(" ", "_", "-", "_").Replace(s))
	for _, d := range symptoms {
		if d.ID == id || strings.ToLower(d.Say) == s {
			return d.ID, nil
		}
	}
	if near := nearest(s); near != "" {
		return "", fmt.Errorf("symptom %q is not in the dictionary; did you mean %s?", text, string(near))
	}
	return "", fmt.Errorf("symptom %q is not in the dictionary; want, say, clear_then_rust, slime_in_tank or rotten_egg_hot_only", text)
}

// nearest is the symptom that shares most words with s; none if no two are shared.
func nearest(s string) Symptom {
	var best Symptom
	most := 1
	words := strings.Fields(plain(s))
	for _, d := range symptoms {
		in := " " + plain(string(d.ID)+" "+d.Say) + " "
		n := 0
		for _, w := range words {
			if strings.Contains(in, " "+w+" ") {
				n++
			}
		}
		if n > most {
			best, most = d.ID, n
		}
	}
	return best
}
