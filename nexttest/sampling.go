package nexttest

import (
	"sort"
	"strings"
	"time"

	"wellwright/water"
)

// Want is one analyte to be bottled.
type Want struct {
	Analyte   water.Analyte
	Fraction  water.Fraction
	FirstDraw bool // stood in the pipes for six hours: made in the house
}

// Microscopy is slime looked at for sheaths and stalks: no analyte of a report.
const Microscopy water.Analyte = "iron_bacteria_microscopy"

// Bottle is one bottle of a sampling round.
type Bottle struct {
	Wants     []Want
	Tap       water.Where
	Draw      string // how the water is drawn
	Container string
	Preserve  string
	Hold      time.Duration // the shortest of what is in it
	HoldSays  string        // where it is not a plain limit
	Note      string
	turn      turn
}

// turn is the place of a bottle in the order of filling: what stood in the pipes
// first, then what gas and air would change, then what acid must not touch, and
// germs last, because bleach on the tap would spoil the others.
type turn int

const (
	leadFirst turn = iota
	growthFirst
	scraped
	gasTight
	plain
	inTheDark
	acidTotal
	acidFiltered
	acidRays
	sulfuric
	organic
	other
	sterile
)

// Round merges what is wanted into bottles, in the order of filling.
func Round(ws []Want) []Bottle {
	var bs []Bottle
	seen := map[Want]bool{}
	for _, w := range ws {
		if w.Fraction == water.Unspecified && isMetal(w.Analyte) && !w.FirstDraw {
			w.Fraction = water.Total
		}
		if seen[w] || w.Analyte == water.PH {
			continue // a pH is read on site: in a bottle it lasts 15 minutes
		}
		seen[w] = true
		bs = put(bs, w)
	}
	sort.SliceStable(bs, func(i, j int) bool { return bs[i].turn < bs[j].turn })
	return bs
}

// isMetal is true of what is bottled with nitric acid.
func isMetal(a water.Analyte) bool {
	h, ok := water.HandlingOf(a, water.Dissolved)
	return ok && h.Fraction == water.Dissolved
}

// put adds what is wanted to the bottle that is kept alike, or opens one. Of two
// holding times the shorter rules.
func put(bs []Bottle, w Want) []Bottle {
	h := handling(w)
	t := turnOf(w, h)
	for i := range bs {
		if bs[i].turn != t || t == other {
			continue
		}
		bs[i].Wants = append(bs[i].Wants, w)
		if h.Hold > 0 && h.Hold < bs[i].Hold {
			bs[i].Hold, bs[i].HoldSays = h.Hold, h.HoldSays
		}
		return bs
	}
	b := Bottle{Wants: []Want{w}, Container: h.Container, Preserve: h.Preserve, Hold: h.Hold, HoldSays: h.HoldSays, turn: t}
	b.Tap, b.Draw, b.Note = t.words()
	return append(bs, b)
}

// handling is how a sample is kept. Slime for the microscope is kept as a
// culture is.
func handling(w Want) water.Handling {
	if w.Analyte == Microscopy {
		h, _ := water.HandlingOf(water.IronBacteria, water.Unspecified)
		return h
	}
	if w.FirstDraw {
		h, _ := water.HandlingOf(w.Analyte, water.Unspecified)
		return h
	}
	h, ok := water.HandlingOf(w.Analyte, w.Fraction)
	if !ok {
		return water.Handling{Container: "ask the laboratory", Preserve: "ask the laboratory"}
	}
	return h
}

// turnOf places a bottle by how it is kept.
func turnOf(w Want, h water.Handling) turn {
	has := func(words string) bool { return strings.Contains(h.Preserve, words) }
	switch {
	case w.FirstDraw:
		return leadFirst
	case w.Analyte == water.IronBacteria || w.Analyte == water.SulfateReducers || w.Analyte == water.SlimeFormers:
		return growthFirst
	case w.Analyte == Microscopy:
		return scraped
	case has("zinc acetate"):
		return gasTight
	case has("filter") && has("nitric acid"):
		return acidFiltered
	case has("nitric acid") && strings.Contains(h.Container, "1 L"):
		return acidRays
	case has("nitric acid"):
		return acidTotal
	case strings.HasPrefix(h.Container, "amber"):
		return organic
	case has("sulfuric"):
		return sulfuric
	case strings.HasPrefix(h.Container, "sterile"):
		return sterile
	case has("dark") || strings.Contains(h.Container, "dark"):
		return inTheDark
	case strings.HasPrefix(h.Container, "plastic") && (has("none") || has("cool")):
		return plain
	}
	return other
}

// words are the tap, the way the water is drawn and what to mind.
func (t turn) words() (tap water.Where, draw, note string) {
	const flushed = "raw, flushed until the meters stand steady"
	switch t {
	case leadFirst:
		return "K", "first draw, after six hours without use", "Cold kitchen tap, aerator on, the first litre, before anybody draws water. Nothing is flushed."
	case growthFirst:
		return "T1", "first draw, after a night", "Before anything is flushed: growth sheds at the first draw. None while chlorine is in the water."
	case scraped:
		return "flush tank", "slime scraped off", "From the flush tank, a filter housing or the drop pipe, into raw water, nothing added."
	case gasTight:
		return "T1", flushed, "A slow stream down the wall of the bottle, to the brim, no bubble, not shaken."
	case acidTotal:
		return "T1", flushed, "Not filtered. The acid is in the bottle: do not rinse it out, do not let it run over."
	case acidFiltered:
		return "T1", flushed, "Filter first, acid second, within 15 minutes and away from air: rinse the 0.45 µm filter with 50 to 100 mL, throw that away, then fill."
	case sulfuric:
		return "T1", flushed, "Keep nitric acid away from it: gloves changed after the metals."
	case sterile:
		return "T1", "raw, tap wiped with bleach, then run 2 to 5 minutes", "Last of all. Hose and aerator off, a plain metal tap. Do not rinse the bottle or touch its rim; leave head space. Not within 48 hours of a shock, nor while chlorine is left."
	}
	return "T1", flushed, "Hose off. To the brim, cool and dark at once."
}

// BeforeFlushing reports whether a bottle is filled before the tap is flushed.
func (b Bottle) BeforeFlushing() bool { return b.turn <= scraped }
