package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/stage"
	"wellwright/unit"
)

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
	have, _ := unit.InSystem(l.Have, l.Unit, s)
	need, u := unit.InSystem(l.Need, l.Unit, s)
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
	at := plan.Spelt(l.Stage)
	if l.Stage == "train" {
		at = "the whole train"
	}
	switch {
	case l.Fails:
		return at + ": " + why(l, s)
	case yesOrNo(l):
		return "none rules it out"
	}
	return "none rules it out; the nearest is " + plan.LimitName(l.Limit) + " (" + at + "): " + balance(l, s)
}

// limitRow is one limit as a row of a table. With other, both the caution and the
// refusal for one quantity stand in it, the stricter first.
func limitRow(l plan.Limit, other *plan.Limit, s unit.System) []string {
	mark := ""
	if l.Fails || other != nil && other.Fails {
		mark = "x"
	}
	if yesOrNo(l) {
		return []string{mark, plan.LimitName(l.Limit), "", kept(l), "", ""}
	}
	word := "≥ "
	if l.AtMost {
		word = "≤ "
	}
	if other != nil && (other.Need < l.Need) == l.AtMost {
		first := l
		l, other = *other, &first
	}
	have, _ := unit.InSystem(l.Have, l.Unit, s)
	need, u := unit.InSystem(l.Need, l.Unit, s)
	h, n := apart(have, need)
	h = strings.NewReplacer("just short of ", "<", "just above ", ">").Replace(h)
	if other != nil {
		lax, _ := unit.InSystem(other.Need, other.Unit, s)
		n += " / " + slide(lax, 2)
	}
	return []string{mark, plan.LimitName(l.Limit), u, h, word + n, plainMargin(l.Margin)}
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
