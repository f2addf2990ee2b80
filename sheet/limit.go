package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/stage"
	"wellwright/unit"
)

// spelt is an identifier in words.
func spelt(id string) string {
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

// limitName is a limit in words.
func limitName(id string) string {
	if w, ok := limitNames[id]; ok {
		return w
	}
	return spelt(id)
}

// apart writes two figures with as few digits, two at least, as tell them apart.
func apart(have, need float64) (string, string) {
	for n := 2; n < 4; n++ {
		h, d := slide(have, n), slide(need, n)
		if h != d || have == need {
			return h, d
		}
	}
	word := "just above "
	if have < need {
		word = "just short of "
	}
	return word + figure(need, 3), figure(need, 3)
}

// slide writes a figure to n digits, and to one more where it begins with a one,
// as a slide rule is read: 10.5 is not 10.
func slide(v float64, n int) string {
	if v > 0 && v < 0.0005 {
		return "<0.001"
	}
	if s := strings.TrimLeft(unit.Significant(v, 4), "-0."); strings.HasPrefix(s, "1") {
		n++
	}
	return figure(v, n)
}

// balance is what a limit has and needs, in the system's unit, without its name.
func balance(l plan.Limit, s unit.System) string {
	word := "at least"
	if l.AtMost {
		word = "at most"
	}
	have, _ := convert(l.Have, l.Unit, s)
	need, u := convert(l.Need, l.Unit, s)
	h, n := apart(have, need)
	words := []string{"has", h + ",", "needs", word, n}
	if l.Unit != "chance" && u != "" {
		words = append(words, u)
	}
	return strings.Join(words, " ") + " (" + margin(l.Margin) + ")"
}

// margin writes a margin; above ten it says no more than that there is plenty.
func margin(m float64) string {
	if m >= 10 {
		return "margin above 10"
	}
	return "margin " + plainMargin(m)
}

func plainMargin(m float64) string {
	switch {
	case m >= 10:
		return ">10"
	case m < 1 && m > 0.995:
		return "<1"
	}
	if m >= 2 {
		return fmt.Sprintf("%.1f", m)
	}
	return fmt.Sprintf("%.2f", m)
}

// yesOrNo reports whether a limit is a question of having or not.
func yesOrNo(l plan.Limit) bool { return stage.Limit{Unit: l.Unit}.YesOrNo() }

// why says what goes wrong at a limit and by how much, without the stage.
func why(l plan.Limit, s unit.System) string {
	say := prose(l.Say, s)
	if yesOrNo(l) {
		return say
	}
	return say + "; " + balance(l, s)
}

// firstLimit is the first limit to fail in one line, or the nearest.
func firstLimit(l plan.Limit, s unit.System) string {
	if l.Limit == "" {
		return "none comes near"
	}
	at := spelt(l.Stage)
	if l.Stage == "train" {
		at = "the whole train"
	}
	switch {
	case l.Fails:
		return at + ": " + why(l, s)
	case yesOrNo(l):
		return "none rules it out"
	}
	return "none rules it out; the nearest is " + limitName(l.Limit) + " (" + at + "): " + balance(l, s)
}

// limitRow is one limit as a row of a table. With other, both the caution and the
// refusal for one quantity stand in it, the stricter first.
func limitRow(l plan.Limit, other *plan.Limit, s unit.System) []string {
	mark := ""
	if l.Fails || other != nil && other.Fails {
		mark = "x"
	}
	if yesOrNo(l) {
		return []string{mark, limitName(l.Limit), "", kept(l), "", ""}
	}
	word := "≥ "
	if l.AtMost {
		word = "≤ "
	}
	if other != nil && (other.Need < l.Need) == l.AtMost {
		first := l
		l, other = *other, &first
	}
	have, _ := convert(l.Have, l.Unit, s)
	need, u := convert(l.Need, l.Unit, s)
	h, n := apart(have, need)
	h = strings.NewReplacer("just short of ", "<", "just above ", ">").Replace(h)
	if other != nil {
		lax, _ := convert(other.Need, other.Unit, s)
		n += " / " + slide(lax, 2)
	}
	return []string{mark, limitName(l.Limit), u, h, word + n, plainMargin(l.Margin)}
}

// paired reports whether two limits are the caution and the refusal for one
// quantity.
func paired(a, b plan.Limit) bool {
	return a.Stage == b.Stage && a.Limit == b.Limit && a.Unit == b.Unit && a.AtMost == b.AtMost && a.Have == b.Have && !yesOrNo(a)
}

func kept(l plan.Limit) string {
	if l.Fails {
		return "no"
	}
	return "yes"
}
