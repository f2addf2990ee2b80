package labfile

import (
	"strings"

	"wellwright/water"
)

// Parameter codes that say where a reading was made, where the analyte alone
// does not. Source: USGS, parameter codes of the National Water Information
// System (published; meanings from memory, checked against the method names in
// the agency's own exports).
var (
	fieldCodes = []string{"00010", "00090", "63002", "00094", "00095", "00300", "00301", "00400", "00405", "00410", "00418", "00419",
		"29802", "29803", "39036", "39086", "39087", "00450", "00451", "00452", "00453", "00440", "00445", "63786", "63788"}
	labCodes = []string{"00403", "90095", "00417", "00421", "29801", "90410", "95410", "00416", "00680", "70300"}
)

// onSite reports whether a row was read on site. What the file says outright
// goes first, then the method, then whether the laboratory dated an analysis,
// and last the habit of the trade: temperature, oxygen and redox potential are
// read at the well.
func onSite(rec record, a water.Analyte) bool {
	code := rec.get(pCode)
	method := folded(rec.get(pMethodName))
	switch {
	case strings.HasPrefix(folded(rec.get(pActivityType)), "field msr"),
		strings.Contains(folded(rec.get(pActivityType)), "field replicate msr"),
		folded(rec.get(pGroup)) == "fieldparameter", folded(rec.get(pGroup)) == "field",
		activityTail(rec) == "FM", contains(fieldCodes, code):
		return true
	case contains(labCodes, code), strings.Contains(method, ", lab"), strings.Contains(method, ",lab"):
		return false
	case folded(rec.get(pGroup)) != "": // the file parts field from laboratory itself
		return false
	case strings.Contains(method, ", field"), strings.Contains(folded(rec.get(pMethodNote)), "national field manual"),
		strings.Contains(folded(rec.get(pName)), ", field"), strings.HasPrefix(folded(rec.get(pName)), "field "):
		return true
	case rec.get(pAnalysed) != "":
		return false
	}
	return habit(rec, a)
}

func habit(rec record, a water.Analyte) bool {
	switch a {
	case water.Temperature, water.Oxygen, water.OxygenSaturation, water.ORP:
		return true
	case water.PH, water.Conductivity, water.Turbidity, water.FreeChlorine, water.TotalChlorine, water.CO2:
		lab := rec.get(pLaboratory)
		crew := strings.Contains(lab, "Water Resources Discipline") || strings.Contains(lab, "Water Science Center")
		return !rec.mappedRow() && (lab == "" || crew)
	}
	return false
}

// mappedRow reports whether the row came through a column mapping, where only
// the mapping says what was read on site.
func (r record) mappedRow() bool { return r.fixed != nil }
