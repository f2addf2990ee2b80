package labfile

import (
	"fmt"
	"strings"
)

// part is one thing a row may say.
type part int

// The parts of a row, whatever the layout calls its columns.
const (
	pSite part = iota
	pSiteName
	pSheet
	pActivity
	pActivityType
	pMedium
	pDate
	pTime
	pZone
	pName
	pFraction
	pValue
	pUnit
	pBasis
	pCondition
	pQualifier
	pStatus
	pLimit
	pLimitUnit
	pLimitType
	pLimit2
	pLimitUnit2
	pLimitType2
	pMethod
	pMethodOf
	pMethodName
	pMethodNote
	pLaboratory
	pOrganisation
	pAnalysed
	pComment
	pLabComment
	pCode
	pStatistic
	pTimeBasis
	pValueType
	pWeight
	pResultID
	pFiltered
	pGroup
	pControl
	pBalance
	pDepth
	pDepthUnit
	pHoleDepth
	pHoleDepthUnit
	pCasing
	pAquifer
	pFormation
	pMade
	pSiteType
	pSampleRemark
	pSampleRemark2
	pTap
	pNote
	nParts
)

// wqxColumns are the names of columns of the Water Quality Exchange, legacy and
// WQX 3, folded. Source: EPA and USGS, the portal's own exports of both layouts.
var wqxColumns = map[string]part{
	"monitoringlocationidentifier": pSite, "location_identifier": pSite,
	"monitoringlocationname": pSiteName, "location_name": pSiteName,
	"monitoringlocationtypename": pSiteType, "location_type": pSiteType,
	"activityidentifier": pActivity, "activity_activityidentifier": pActivity,
	"activitytypecode": pActivityType, "activity_typecode": pActivityType,
	"activitymedianame": pMedium, "activity_media": pMedium,
	"activitystartdate": pDate, "activity_startdate": pDate,
	"activitystarttime/time": pTime, "activity_starttime": pTime,
	"activitystarttime/timezonecode": pZone, "activity_starttimezone": pZone,
	"characteristicname": pName, "result_characteristic": pName,
	"resultsamplefractiontext": pFraction, "result_samplefraction": pFraction,
	"resultmeasurevalue": pValue, "result_measure": pValue,
	"resultmeasure/measureunitcode": pUnit, "result_measureunit": pUnit,
	"methodspeciationname": pBasis, "methodspecificationname": pBasis, "result_methodspeciation": pBasis,
	"resultdetectionconditiontext": pCondition, "result_resultdetectioncondition": pCondition,
	"measurequalifiercode": pQualifier, "result_measurequalifiercode": pQualifier,
	"resultstatusidentifier": pStatus, "result_measurestatusidentifier": pStatus,
	"detectionquantitationlimitmeasure/measurevalue":    pLimit,
	"detectionquantitationlimitmeasure/measureunitcode": pLimitUnit,
	"detectionquantitationlimittypename":                pLimitType,
	"detectionlimit_measurea":                           pLimit, "detectionlimit_measureunita": pLimitUnit, "detectionlimit_typea": pLimitType,
	"detectionlimit_measureb": pLimit2, "detectionlimit_measureunitb": pLimitUnit2, "detectionlimit_typeb": pLimitType2,
	"resultanalyticalmethod/methodidentifier": pMethod, "resultanalyticalmethod_identifier": pMethod,
	"resultanalyticalmethod/methodidentifiercontext": pMethodOf, "resultanalyticalmethod_identifiercontext": pMethodOf,
	"resultanalyticalmethod/methodname": pMethodName, "resultanalyticalmethod_name": pMethodName,
	"resultanalyticalmethod/methoddescriptiontext": pMethodNote, "methoddescriptiontext": pMethodNote, "resultanalyticalmethod_description": pMethodNote,
	"laboratoryname": pLaboratory, "labinfo_name": pLaboratory,
	"organizationformalname": pOrganisation, "org_formalname": pOrganisation,
	"analysisstartdate": pAnalysed, "labinfo_analysisstartdate": pAnalysed,
	"resultcommenttext": pComment, "dataquality_resultcomment": pComment,
	"resultlaboratorycommenttext": pLabComment, "labinfo_laboratorycomment": pLabComment,
	"usgspcode": pCode, "statisticalbasecode": pStatistic, "result_statisticalbase": pStatistic,
	"resulttimebasistext": pTimeBasis, "result_timebasis": pTimeBasis,
	"resultvaluetypename": pValueType, "result_measuretype": pValueType,
	"resultweightbasistext": pWeight, "result_weightbasis": pWeight,
	"resultidentifier": pResultID, "result_measureidentifier": pResultID,
	"activitycommenttext": pSampleRemark, "activity_comment": pSampleRemark,
	"welldepthmeasure/measurevalue": pDepth, "welldepthmeasure/measureunitcode": pDepthUnit,
	"wellholedepthmeasure/measurevalue": pHoleDepth, "wellholedepthmeasure/measureunitcode": pHoleDepthUnit,
	"aquifername": pAquifer, "formationtypetext": pFormation, "constructiondatetext": pMade,
}

// sheetColumns are the columns of a survey that groups results by sheet.
// Source: Ohio EPA, Ambient Ground Water Quality Monitoring Program, as exported.
var sheetColumns = map[string]part{
	"well_id": pSite, "chemistry_sheet_id": pSheet, "sample_id": pActivity, "collection_timestamp": pDate,
	"field_qc_type": pControl, "is_filtered": pFiltered, "analyte_group": pGroup, "parameter": pName,
	"result_value": pValue, "result_unit": pUnit, "detect_limit_value": pLimit, "detect_limit_unit": pLimitUnit,
	"remark_code": pQualifier, "method": pMethod, "status": pStatus, "charge_balance_error": pBalance,
	"user_comments": pComment, "lab_comments": pSampleRemark, "field_comments": pSampleRemark2,
	"well_depth": pDepth, "casing_length": pCasing, "major_lithology": pAquifer, "geo_setting": pFormation,
}

// columns tells where the parts stand in a row: the index of the cell, or -1.
type columns [nParts]int

// none is a table of columns with nothing in it.
func none() columns {
	var c columns
	for i := range c {
		c[i] = -1
	}
	return c
}

// place finds the parts named in a header. Of two columns with one name the
// first counts.
func place(header []string, names map[string]part) columns {
	c := none()
	for i, h := range header {
		if p, ok := names[folded(h)]; ok && c[p] < 0 {
			c[p] = i
		}
	}
	return c
}

func folded(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

func (c columns) has(ps ...part) bool {
	for _, p := range ps {
		if c[p] < 0 {
			return false
		}
	}
	return true
}

// preamble is how many rows may stand before the names of the columns.
const preamble = 40

// detect tells the layout of a table and which row holds the names.
func (g *grid) detect(m *Mapping) (Format, int, error) {
	if m != nil {
		return Mapped, 0, nil
	}
	for i := range min(len(g.lines), preamble) {
		if f := formatOf(g.lines[i].cells); f != "" {
			return f, i, nil
		}
	}
	if at, _, ok := g.headings(); ok {
		return Mapped, at, nil
	}
	return "", 0, fmt.Errorf("%s: no line of column names in the first %d lines: want a portal's export, or columns such as analyte, result and unit, or one named for each analyte", g.file, preamble)
}

// formatOf tells the known layout whose column names these are, or "".
func formatOf(header []string) Format {
	s := place(header, sheetColumns)
	if s.has(pSheet, pName, pValue, pUnit, pLimit, pDate) {
		return OhioSheets
	}
	w := place(header, wqxColumns)
	wqx3 := strings.HasPrefix(folded(nameAt(header, w[pName])), "result_")
	switch {
	case w.has(pName, pValue, pUnit, pDate, pSite) && wqx3:
		return WQX3
	case w.has(pName, pValue, pUnit, pDate, pSite, pActivityType):
		return WQXResults
	case w.has(pName, pValue, pUnit, pDate, pSite):
		return WQXNarrow
	case w.has(pName, pLimit, pLimitUnit) && (w.has(pResultID) || w.has(pActivity)):
		return WQXLimits
	case w.has(pSite, pSiteType):
		return WQXStations
	}
	return ""
}

func nameAt(header []string, i int) string {
	if i < 0 || i >= len(header) {
		return ""
	}
	return header[i]
}
