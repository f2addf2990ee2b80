package labfile

import (
	"strings"
)

// control tells whether a row is no sample of the water at all: a blank, a
// laboratory's own control, another medium, or a result that was rejected.
func control(rec record) (id, why, want string) {
	kind := activityKind(rec)
	switch {
	case kind == blankSample:
		return "field-blank", describe(rec) + ": " + blankWhy(rec), "a blank is clean water carried along, not the well's"
	case kind == controlSample:
		return "control-sample", describe(rec) + ": activity type " + rec.get(pActivityType), "a spike, a standard or a calibration is not the well's water"
	case strings.Contains(folded(rec.get(pStatus)), "reject"):
		return "rejected", describe(rec) + ": status " + rec.get(pStatus), "the agency withdrew it"
	}
	if m := folded(rec.get(pMedium)); m != "" && m != "water" && m != "groundwater" && m != "ground water" && m != "drinking water" {
		return "medium", describe(rec) + ": medium " + rec.get(pMedium), "want water"
	}
	if w := folded(rec.get(pWeight)); strings.Contains(w, "tissue") || w == "wet" {
		return "medium", describe(rec) + ": weight basis " + rec.get(pWeight), "want water"
	}
	return "", "", ""
}

// activity is what sort of sample a row belongs to.
type activity int

const (
	regular activity = iota
	replicate
	blankSample
	controlSample
)

// activityKind reads the type of activity. The narrow profile has none: there
// one commission writes it as the tail of the activity's identifier (QFB field
// blank, QLB laboratory blank, QFR field replicate).
func activityKind(rec record) activity {
	if k := kindOfWords(rec.get(pActivityType)); k != regular {
		return k
	}
	if k := kindOfWords(rec.get(pControl)); k != regular {
		return k
	}
	switch activityTail(rec) {
	case "QFB", "QLB", "QTB", "QEB":
		return blankSample
	case "QFR", "QLR", "QFD":
		return replicate
	}
	return regular
}

// kindOfWords reads the words of the exchange's list of activity types.
func kindOfWords(s string) activity {
	s = strings.ToLower(s)
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(s, w) {
				return true
			}
		}
		return false
	}
	switch {
	case has("spike", "control standard", "calib", "reference", "surrogate", "positive control", "negative control", "sensitivity"):
		return controlSample
	case has("blank"):
		return blankSample
	case has("replicate", "duplicate", "split", "re-analysis", "precision"):
		return replicate
	case has("quality control", "control sample"):
		return controlSample
	}
	return regular
}

func activityTail(rec record) string {
	id := rec.get(pActivity)
	if i := strings.LastIndexByte(id, ':'); i >= 0 {
		return strings.ToUpper(id[i+1:])
	}
	return ""
}

func blankWhy(rec record) string {
	if t := one(" ", rec.get(pActivityType), rec.get(pControl)); t != "" {
		return "a blank (" + t + ")"
	}
	return "a blank: its activity ends in :" + activityTail(rec)
}
