package stage

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// Limit is one thing a stage or train needs, beside what it has.
type Limit struct {
	ID     string // in words with underscores: backwash_flow, ferrous_iron, ph_low
	Have   float64
	Need   float64
	Unit   string
	AtMost bool // Have must not be above Need; otherwise not below
	Soft   bool // a caution: it passes, and is said
	// Doubtful marks a caution above which print disagrees: Doubt is how far Have
	// stands between the caution and the refusal, 0 to 1.
	Doubtful bool
	Doubt    float64
	Say      string
	Kind     source.Kind
	From     string
}

// Margin is above 1 when the limit is kept: have over need, or need over have
// for an upper limit. pH limits use the distance, half a unit counting as one;
// temperature limits use it in degrees.
func (l Limit) Margin() float64 {
	if per := perDistance(l.Unit); per > 0 {
		if l.AtMost {
			return 1 + per*(l.Need-l.Have)
		}
		return 1 + per*(l.Have-l.Need)
	}
	num, den := l.Have, l.Need
	if l.AtMost {
		num, den = l.Need, l.Have
	}
	switch {
	case den > 0:
		return math.Min(num/den, 99)
	case num > 0:
		return 99
	}
	return 1 // nothing needed, nothing there
}

// perDistance is what one unit of distance counts for, zero where a ratio does.
func perDistance(unit string) float64 {
	switch unit {
	case "pH":
		return 2
	case "F":
		return 1
	}
	return 0
}

// YesOrNo reports whether the limit is a question of having or not.
func (l Limit) YesOrNo() bool {
	switch l.Unit {
	case "yes or no", "lawful drain", "count", "chlorine feed ahead", "peroxide feed":
		return true
	}
	return false
}

// Fails reports whether the limit is broken. Exactly at the limit passes.
func (l Limit) Fails() bool { return l.Margin() < 1-1e-9 }

// Hard reports whether breaking it rules the stage out.
func (l Limit) Hard() bool { return l.Fails() && !l.Soft }

// FirstHard returns the first limit in order that is broken and not soft.
func FirstHard(ls []Limit) (Limit, bool) {
	for _, l := range ls {
		if l.Hard() {
			return l, true
		}
	}
	return Limit{}, false
}

// Join is what two stages together ask of the place: the taller height, the
// floor of both.
func (n Needs) Join(o Needs) Needs {
	if o.Height.Ft() > n.Height.Ft() {
		n.Height = o.Height
	}
	n.Floor = unit.Ft2(n.Floor.Ft2() + o.Floor.Ft2())
	n.Power = n.Power || o.Power
	n.NoFrost = n.NoFrost || o.NoFrost
	n.Vent = n.Vent || o.Vent
	n.Salt = n.Salt || o.Salt
	n.Chemicals = n.Chemicals || o.Chemicals
	n.Weekly = n.Weekly || o.Weekly
	return n
}
