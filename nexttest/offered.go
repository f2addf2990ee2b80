package nexttest

import (
	"wellwright/media"
	"wellwright/source"
	"wellwright/water"
)

// Tests are the tests that can be offered, with this well's factors and prices.
// One already made stands among them as a repeat with its own error: the draws
// know of the first, and what a second adds falls out by itself. Lead, copper,
// radon, uranium and the like are no part of a plausible water, so they have no
// worth here: they are asked for as tests of health.
func Tests(set source.Set, prices media.PriceList) []Test {
	k := kit{set}
	var ts []Test
	for _, c := range charges {
		t := Test{ID: c.id, Words: c.what, Price: k.price(c, prices), Days: set.Of(c.wait())}
		t.Parts, t.Read, t.Wants = k.reading(c.id)
		if t.Read != nil {
			ts = append(ts, t)
		}
	}
	return ts
}

// reading is what a test reads, how, and which bottles it fills.
func (k kit) reading(id string) ([]Part, Reader, []Want) {
	if parts, read := k.onSite(id); read != nil {
		return parts, read, nil
	}
	parts, read := k.inLaboratory(id)
	return parts, read, wants[id]
}

// onSite are the readings that leave nothing to be sent away.
func (k kit) onSite(id string) ([]Part, Reader) {
	kit := borrowed("cloud_error_field_kit")
	switch id {
	case "ferrous-on-site":
		return figures(figure{mgL("ferrous iron"), ferrous, k.method(borrowed("cloud_error_field_ferrous"), "iron", limitKit)})
	case "iron-on-site":
		return figures(figure{mgL("total iron"), iron, k.method(kit, "iron", limitKit)})
	case "ph-on-site":
		return figures(figure{Part{"pH", "pH"}, ph, k.phMethod(borrowed("cloud_error_field_ph"))})
	case "alkalinity-on-site":
		return figures(figure{Part{"alkalinity", "mg/L as CaCO3"}, alkalinity, k.method(borrowed("cloud_error_alkalinity"), "ion", limitKit)})
	case "oxygen-on-site":
		return figures(figure{mgL("oxygen"), oxygen, method{fixed: k.set.Of(borrowed("cloud_error_oxygen")), limit: k.set.Of(limitKit)}})
	case "sulfide-on-site":
		return figures(figure{Part{"sulfide", "mg/L as H2S"}, sulfide, k.method(kit, "sulfide", limitKit)})
	case "hardness-on-site":
		return figures(figure{Part{"hardness", "mg/L as CaCO3"}, hardness, k.method(kit, "ion", limitKit)})
	case "settled-jar":
		return k.settled()
	case "bleach-jar":
		return k.bleached()
	case "chlorine-demand-jar":
		return figures(figure{Part{"chlorine demand", "mg/L as Cl2"}, demand, k.method(borrowed("chlorine_jar_error"), "ion", limitKit)})
	case "alum-filter-jar":
		return figures(figure{mgL("iron that passes"), k.afterAlum, k.alumMethod()})
	}
	return k.atTheWell(id)
}

// atTheWell are the tests of pump and well.
func (k kit) atTheWell(id string) ([]Part, Reader) {
	switch id {
	case "pump-flow":
		return figures(figure{Part{"pump flow", "gpm"}, pumpFlow, method{share: k.set.Of(errBucket)}})
	case "yield-test":
		return figures(figure{Part{"yield", "gpm"}, yield, method{share: k.set.Of(errYield)}})
	case "capacity-test":
		return figures(figure{Part{Name: "share of its first capacity that can be had back", Unit: "share"}, recovery, method{fixed: k.set.Of(errRecovery)}})
	}
	return nil, nil
}

// inLaboratory are the readings from a bottle.
func (k kit) inLaboratory(id string) ([]Part, Reader) {
	lab, trace := borrowed("cloud_error_lab_metal"), borrowed("cloud_error_trace")
	fe, mn := k.method(lab, "iron", limitLab), k.method(lab, "manganese", limitLab)
	switch id {
	case "iron-manganese":
		return figures(figure{mgL("total iron"), iron, fe}, figure{mgL("total manganese"), manganese, mn})
	case "iron-dissolved-total":
		return figures(figure{mgL("dissolved iron"), dissolved, fe}, figure{mgL("total iron"), iron, fe})
	case "manganese-dissolved-total":
		return figures(figure{mgL("dissolved manganese"), inSolution, mn}, figure{mgL("total manganese"), manganese, mn})
	case "iron-other-season":
		return figures(figure{mgL("ferrous iron"), ferrous, k.inAnotherSeason(borrowed("cloud_error_field_ferrous"), limitKit)},
			figure{mgL("total iron"), iron, k.inAnotherSeason(borrowed("cloud_error_lab_metal"), limitLab)})
	case "basic-panel":
		return k.panel(false)
	case "wide-panel":
		return k.panel(true)
	case "organic-carbon":
		return figures(figure{mgL("organic carbon"), carbon, k.method(trace, "ion", limitCarbon)})
	case "tannin":
		return figures(figure{mgL("tannin, read as organic carbon"), carbon, k.method(errTannin, "ion", limitCarbon)})
	case "ammonia":
		return figures(figure{Part{"ammonia", "mg/L as N"}, ammonia, k.method(trace, "ion", limitLab)})
	case "nitrate":
		return figures(figure{Part{"nitrate", "mg/L as N"}, nitrate, k.method(borrowed("cloud_error_lab_ion"), "ion", limitLab)})
	case "arsenic":
		return figures(figure{mgL("arsenic"), arsenic, k.method(trace, "ion", limitTrace)})
	case "sulfide-preserved":
		return figures(figure{Part{"sulfide", "mg/L as H2S"}, sulfide, k.method(errSulfideLab, "sulfide", limitLab)})
	case "coliform":
		return germs()
	case "iron-bacteria-culture":
		return k.cultured()
	case "iron-bacteria-microscopy":
		return k.microscope()
	}
	return nil, nil
}

// wants is what each laboratory test bottles.
var wants = map[string][]Want{
	"iron-manganese":            {{Analyte: water.Iron, Fraction: water.Total}, {Analyte: water.Manganese, Fraction: water.Total}},
	"iron-dissolved-total":      {{Analyte: water.Iron, Fraction: water.Total}, {Analyte: water.Iron, Fraction: water.Dissolved}},
	"manganese-dissolved-total": {{Analyte: water.Manganese, Fraction: water.Total}, {Analyte: water.Manganese, Fraction: water.Dissolved}},
	"iron-other-season":         {{Analyte: water.Iron, Fraction: water.Total}},
	"basic-panel":               panelWants(false),
	"wide-panel":                panelWants(true),
	"organic-carbon":            {{Analyte: water.TOC}},
	"tannin":                    {{Analyte: water.Tannin}},
	"ammonia":                   {{Analyte: water.Ammonia}},
	"nitrate":                   {{Analyte: water.Nitrate}},
	"arsenic":                   {{Analyte: water.Arsenic, Fraction: water.Total}},
	"sulfide-preserved":         {{Analyte: water.Sulfide}},
	"coliform":                  {{Analyte: water.TotalColiform}, {Analyte: water.EColi}},
	"iron-bacteria-culture":     {{Analyte: water.IronBacteria}},
	"iron-bacteria-microscopy":  {{Analyte: Microscopy}},
}
