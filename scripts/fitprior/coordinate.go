package main

import (
	"math"

	"wellwright/water"
)

// size is the number of coordinates of a water.
const size = 20

// coordinate is one axis of the prior.
type coordinate struct {
	id      string
	analyte water.Analyte
	label   string  // for the page
	linear  bool    // else the natural logarithm
	floor   float64 // least standard deviation
}

// Least standard deviations: of the coordinate, so of the logarithm but for
// temperature and pH. Kind: judgement.
const (
	floorMajor = 0.5  // ions that make up the charge, and what moves with them
	floorHard  = 0.65 // what the rock gives: the files are of limestone and drift, households stand on granite too
	floorRedox = 0.8  // what redox moves over decades
	floorIron  = 2.0  // iron: supplies of 5 mg/L and more are given up by towns, not by households
	floorPH    = 0.45
	floorWarm  = 2.5 // °C; household wells stand in every climate
)

// Places of the coordinates that are named in rules.
const (
	atTemperature = iota
	atPH
	atAlkalinity
	atCalcium
	atMagnesium
	atSodium
	atPotassium
	atChloride
	atSulfate
	atNitrate
	atFluoride
	atSilica
	atPhosphate
	atAmmonia
	atIron
	atManganese
	atArsenic
	atCarbon
	atOxygen
	atSulfide
)

var coordinates = [size]coordinate{
	atTemperature: {"temperature_c", water.Temperature, "temperature, °C", true, floorWarm},
	atPH:          {"ph", water.PH, "pH", true, floorPH},
	atAlkalinity:  {"alkalinity_mg_l_as_caco3", water.Alkalinity, "alkalinity as CaCO3", false, floorHard},
	atCalcium:     {"calcium_mg_l", water.Calcium, "calcium", false, floorHard},
	atMagnesium:   {"magnesium_mg_l", water.Magnesium, "magnesium", false, floorHard},
	atSodium:      {"sodium_mg_l", water.Sodium, "sodium", false, floorMajor},
	atPotassium:   {"potassium_mg_l", water.Potassium, "potassium", false, floorMajor},
	atChloride:    {"chloride_mg_l", water.Chloride, "chloride", false, floorMajor},
	atSulfate:     {"sulfate_mg_l", water.Sulfate, "sulfate", false, floorMajor},
	atNitrate:     {"nitrate_mg_l_as_n", water.NitrateNitrite, "nitrate as N", false, floorRedox},
	atFluoride:    {"fluoride_mg_l", water.Fluoride, "fluoride", false, floorMajor},
	atSilica:      {"silica_mg_l", water.Silica, "silica as SiO2", false, floorMajor},
	atPhosphate:   {"phosphate_mg_l_as_p", water.TotalPhosphorus, "phosphate as P", false, floorMajor},
	atAmmonia:     {"ammonia_mg_l_as_n", water.Ammonia, "ammonia as N", false, floorRedox},
	atIron:        {"iron_total_mg_l", water.Iron, "iron, total", false, floorIron},
	atManganese:   {"manganese_mg_l", water.Manganese, "manganese", false, floorRedox},
	atArsenic:     {"arsenic_mg_l", water.Arsenic, "arsenic", false, floorRedox},
	atCarbon:      {"toc_mg_l", water.TOC, "organic carbon", false, floorMajor},
	atOxygen:      {"oxygen_mg_l", water.Oxygen, "oxygen", false, floorMajor},
	atSulfide:     {"sulfide_mg_l_as_h2s", water.Sulfide, "sulfide as H2S", false, floorRedox},
}

// instead names the analyte that stands in where the first was not measured:
// nitrate alone for nitrate with nitrite, orthophosphate for total phosphorus.
var instead = map[water.Analyte]water.Analyte{
	water.NitrateNitrite: water.Nitrate, water.TotalPhosphorus: water.Phosphate,
}

// on returns the coordinate of a figure in its own unit; not ok for a figure
// that has no logarithm.
func (c coordinate) on(v float64) (float64, bool) {
	if c.linear {
		return v, true
	}
	return math.Log(v), v > 0
}

// off is the way back.
func (c coordinate) off(x float64) float64 {
	if c.linear {
		return x
	}
	return math.Exp(x)
}
