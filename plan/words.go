package plan

import "strings"

// Spelt is an identifier in words.
func Spelt(id string) string {
	words := strings.Fields(strings.NewReplacer("_", " ", "-", " ").Replace(id))
	for i, w := range words {
		if right, ok := spellings[w]; ok {
			words[i] = right
		}
	}
	return strings.Join(words, " ")
}

// spellings are the words of identifiers that are not written small.
var spellings = map[string]string{"ph": "pH", "ct": "CT", "toc": "organic carbon", "co2": "carbon dioxide", "e": "E."}

// limitNames are limits whose identifier says too little.
var limitNames = map[string]string{
	"chemicals_handled": "someone to handle chemicals", "solids_need_filter": "a filter behind what oxidises",
	"oxidised_before_resin": "no oxidised iron onto resin", "double_air": "air given twice", "ferric": "rust onto resin",
	"open_tank_unprotected": "chlorine behind an open tank", "free-chlorine": "free chlorine at the medium",
	"hardness_at_kitchen": "hardness left at the kitchen", "ph_at_kitchen": "least pH at the kitchen",
	"ph_high_at_kitchen": "most pH at the kitchen", "iron_at_kitchen": "iron left at the kitchen",
	"manganese_at_kitchen": "manganese left at the kitchen", "sulfide_at_kitchen": "sulfide left at the kitchen",
	"iron": "iron on the medium", "manganese": "manganese on the medium", "sulfide": "sulfide on the medium",
	"particulate": "rust on the medium", "ferrous": "ferrous iron on the medium", "bacteria": "iron bacteria",
	"hardness": "hardness on the medium", "oxidant": "oxidant at the medium", "oxygen": "oxygen for the iron",
	"floor": "floor room", "power": "an outlet", "vent": "a vent", "frost": "a room free of frost", "warm": "warm water",
	"salt_carried": "someone to carry salt", "weekly_look": "someone to look weekly", "turbidity": "solids onto the bed",
	"coated_bed_behind": "a coated bed behind", "ph-low": "least pH", "ph-high": "most pH", "manganese-ph": "pH for manganese",
	"manganese_health": "manganese for health",
}

// LimitName is a limit in words.
func LimitName(id string) string {
	if w, ok := limitNames[id]; ok {
		return w
	}
	return Spelt(id)
}
