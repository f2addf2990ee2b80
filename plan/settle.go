package plan

// Settles says what would settle a conflict of the evidence; "" if nothing is
// known.
func Settles(conflict string) string { return settles[conflict] }

// settles says for each conflict of the evidence what would settle it: the
// reading that its explanations answer differently. Common practice.
var settles = map[string]string{
	"ferrous-above-total":        "ferrous and total iron from one acidified bottle of the raw tap, and on the same water a ferrous kit read at once",
	"dissolved-above-total":      "both bottles again from the raw tap on one day, labelled as they are filled: one acidified, one filtered through 0.45 µm on site and then acidified",
	"total-lab-below-field":      "a new acidified bottle from the raw tap, with the kit read beside it on the same water",
	"total-field-below-lab":      "the kit again on a sample digested in its acid reagent, beside an acidified bottle of the same water",
	"field-total-below-part":     "the total again after digestion, with every dilution written down",
	"dissolved-below-ferrous":    "a bottle filtered through 0.45 µm at the tap and acidified at once, with ferrous iron read beside it",
	"dissolved-not-ferrous":      "one sample filtered through 0.45 and another through 0.1 µm at the tap, both acidified after the filter, with ferrous iron and organic carbon read",
	"dissolved-low":              "ferrous iron read on site within minutes",
	"dissolved-high":             "ferrous iron read on site within minutes, and a bottle filtered before any acid",
	"total-unacidified":          "an acidified bottle from the raw tap",
	"iron-units":                 "the laboratory's own word on the unit",
	"ph-gas-lost":                "pH read on site in a flow cell",
	"ph-lab-above-field":         "pH read on site in a flow cell, the meter checked in two buffers",
	"alkalinity-lab-below-field": "alkalinity titrated on site twice, and a bottle filled to the brim and kept cold",
	"sulfide-lab-below-field":    "sulfide read on site twice, or a bottle with zinc acetate filled to the brim",
	"oxygen-beside-ferrous":      "oxygen read in a flow cell at the well, and the suction line looked at for air",
	"softened-sample":            "hardness by a kit at the raw tap, ahead of everything",
}
