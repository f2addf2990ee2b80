package section

import (
	"fmt"
	"regexp"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/stage"
	"wellwright/unit"
)

// labelLines are the words below a column.
func (p *longSheet) labelLines(c longColumn) []labelLine {
	if c.process == "" {
		return p.tankLines(p.first().Tank)
	}
	ls := p.in.stageLines(p.vesselOf(c))
	if p.overlaid() && c.in(0) && c.in(1) {
		a, b := p.ways[0].Vessels[c.stage[0]], p.ways[1].Vessels[c.stage[1]]
		for _, words := range []string{differs(p.in.sizeWords(a), p.in.sizeWords(b)), differs(p.in.setWords(a), p.in.setWords(b))} {
			if words != "" {
				ls = append(ls, labelLine{words: "other: " + words})
			}
		}
	}
	return ls
}

// differs is the second text where it is not the first.
func differs(a, b string) string {
	if a == b {
		return ""
	}
	return b
}

// beforeUnit is a figure and the unit behind it.
var beforeUnit = regexp.MustCompile(`(\d) (gpm|gpg|gal|ft³|ft|in|psi|kPa|L/min|L|m|cm|mg/L|min|months|years|µm)\b`)

// tied keeps each figure with its unit when a text is broken into lines.
func tied(words string) string {
	return beforeUnit.ReplaceAllString(words, "$1"+string(canvas.Tied)+"$2")
}

// tankLines are the words of the pressure tank.
func (p *longSheet) tankLines(t plan.CourseTank) []labelLine {
	ls := []labelLine{{words: "pressure tank"}}
	switch {
	case t.Volume > 0:
		ls = append(ls, labelLine{words: p.in.volume.say(t.Volume) + ", draws down " + p.in.volume.figure(t.Drawdown)})
	case t.Larger <= 0:
		ls = append(ls, labelLine{words: "none recorded"})
	}
	if t.Larger > 0 {
		ls = append(ls, labelLine{words: "asked: " + p.in.volume.say(t.Larger), strong: true})
	}
	between := p.in.pressure.figure(t.CutIn) + "/" + p.in.pressure.say(t.CutOut)
	if t.Assumed {
		between += ", assumed"
	}
	return append(ls, labelLine{words: "switch " + between})
}

// stageLines are the words of a stage: its name, its size, how it is set, and how
// it is washed.
func (u longUnits) stageLines(v plan.Vessel) []labelLine {
	ls := []labelLine{{words: shortName(v)}}
	for _, words := range []string{u.sizeWords(v), u.setWords(v)} {
		if words != "" {
			ls = append(ls, labelLine{words: words})
		}
	}
	if b := v.Backwash; b != nil {
		ls = append(ls, labelLine{words: fmt.Sprintf("wash needs %s, has %s", u.flow.figure(b.Need), u.flow.say(b.Have)), strong: b.Have < b.Need})
	}
	return ls
}

// sizeWords are the size of a stage.
func (u longUnits) sizeWords(v plan.Vessel) string {
	words := ""
	switch {
	case v.Count > 1 && v.Series > 1:
		words = fmt.Sprintf("%d rows of %d, each ", v.Count, v.Series)
	case v.Count > 1:
		words = fmt.Sprintf("%d of ", v.Count)
	case v.Series > 1:
		words = fmt.Sprintf("%d in a row of ", v.Series)
	}
	switch {
	case v.Form == plan.BedForm:
		return words + u.length.figure(v.Diameter) + " × " + u.length.say(v.Height) + ", " + u.media.say(v.Media)
	case v.Form == plan.FeedForm || v.Label != "":
		return v.Label
	case v.Volume > 0:
		return words + u.volume.say(v.Volume)
	}
	return ""
}

// setWords are the chief setting of a stage.
func (u longUnits) setWords(v plan.Vessel) string {
	for _, s := range []struct {
		leaf string
		say  func(float64) string
	}{
		{stage.HardnessGPG, func(x float64) string { return "set " + u.hardness.say(x) }},
		{stage.DoseMgL, func(x float64) string { return "dose " + label3(x) + " mg/L" }},
		{stage.BoosterGPM, func(x float64) string { return "booster " + u.flow.say(x) }},
		{stage.ContactMin, func(x float64) string { return unit.Significant(x, 2) + " min at peak" }},
		{stage.ElementMonths, func(x float64) string { return "element " + unit.Significant(x, 2) + " months" }},
		{stage.MediaYears, func(x float64) string { return "media " + unit.Significant(x, 2) + " years" }},
		{stage.RefillMonths, func(x float64) string { return "refill " + unit.Significant(x, 2) + " months" }},
	} {
		if x, ok := v.Settings[s.leaf]; ok && x > 0 {
			return s.say(x)
		}
	}
	return ""
}
