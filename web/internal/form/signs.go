package form

import (
	"sort"
	"strings"

	"wellwright/water"
)

// Heading is some of the signs of the dictionary, as one looks for them.
type Heading struct {
	Name  string
	Signs []Sign
	Said  int // of them seen, or looked for
}

// Sign is one sign of the dictionary to be answered.
type Sign struct {
	Path  string
	Say   string
	Apart string // what tells it from its likes
	Value string // seen, not, or ""
	Known string
}

// ID names the sign in a page.
func (s Sign) ID() string { return ID(s.Path) }

// headings part the dictionary by where one stands and what one does. Signs that
// stand under none come last.
var headings = []struct {
	name  string
	signs []water.Symptom
}{
	{"At the cold tap, in a glass", []water.Symptom{water.ClearThenRust, water.RustyAtTap, water.TeaColour, water.MilkyClearsUp, water.BlackSpecksSoft, water.BlackSpecksRubbery,
		water.Sand, water.GasSpurts, water.Suds, water.PinkWater, water.BleachFadesColour, water.BleachTurnsOrange, water.InkyTea}},
	{"When it comes and goes", []water.Symptom{water.RustyFirstMinute, water.RustyAfterPumping, water.CloudyAfterRain, water.AfterWellWork, water.RustFirstDrawZinc, water.RustOneBathroom}},
	{"Toilet, laundry, stains", []water.Symptom{water.SlimeInTank, water.FeatheryGrowth, water.FilmBreaks, water.FilmCloses, water.ToiletNotTub, water.BlackStain, water.BlueGreenStain,
		water.BlackSlime, water.PinkSlime, water.WhiteCrust, water.LaundryYellows, water.SilverTarnishes, water.Pinholes}},
	{"Smell and taste", []water.Symptom{water.RottenEggBothConstant, water.RottenEggFades, water.RottenEggHotOnly, water.RottenEggOneSink, water.RottenEggAfterSoftener,
		water.SwampySmell, water.MetallicTaste, water.SaltyTaste, water.ChlorineTaste}},
	{"Hot water, tank and equipment", []water.Symptom{water.RustyHotOnly, water.WhiteFlakesHot, water.RustAfterTank, water.WeakPressureSlime, water.FilterClogs, water.SoftenerOrange,
		water.SoftenerSlug, water.SlipperySkin, water.BlackGrainsHard}},
	{"People", []water.Symptom{water.StomachUpsets, water.BlueInfant}},
}

// see is where the answers on the signs of the dictionary stand.
const see = "signs/see/"

// The answers on a sign.
const (
	Seen     = "seen"
	NotThere = "not"
)

// checks is the whole dictionary of signs to go through.
func (a Ask) checks() Field {
	f := Field{Path: "signs/see", Label: "Look for", Widget: Checks}
	placed := map[water.Symptom]bool{}
	for _, h := range headings {
		f.Signs = append(f.Signs, a.heading(h.name, h.signs))
		for _, id := range h.signs {
			placed[id] = true
		}
	}
	var rest []water.Symptom
	for _, d := range water.Symptoms() {
		if !placed[d.ID] {
			rest = append(rest, d.ID)
		}
	}
	if len(rest) > 0 {
		f.Signs = append(f.Signs, a.heading("Further", rest))
	}
	return f
}

func (a Ask) heading(name string, ids []water.Symptom) Heading {
	h := Heading{Name: name}
	for _, id := range ids {
		d, _ := id.Describe()
		s := Sign{Path: see + string(id), Say: d.Say, Apart: d.Apart, Value: a.Typed[see+string(id)], Known: a.Known[see+string(id)]}
		if s.Value != "" {
			h.Said++
		}
		h.Signs = append(h.Signs, s)
	}
	return h
}

// signWords is a sign as a book has it.
func signWords(id water.Symptom) string { return strings.ReplaceAll(string(id), "_", " ") }

// signNames are all signs as a book has them.
func signNames() []string {
	var out []string
	for _, d := range water.Symptoms() {
		out = append(out, signWords(d.ID))
	}
	return out
}

func sorted(all []string) []string {
	sort.Strings(all)
	return all
}

// SignPath is where the answer on a sign of the dictionary is typed.
func SignPath(id water.Symptom) string { return see + string(id) }
