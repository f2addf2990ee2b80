package labfile

import (
	"strconv"

	"wellwright/unit"
)

// station is one site of the companion file.
type station struct {
	name string
	well WellFacts
}

// companions reads the files given beside the one of results.
func (r *reader) companions() {
	if len(r.opt.Stations) > 0 {
		r.stations = map[string]station{}
		r.companion(r.opt.Stations, "stations", WQXStations, r.addStation)
	}
	if len(r.opt.Limits) > 0 {
		r.limits = map[string][]limit{}
		r.companion(r.opt.Limits, "detection limits", WQXLimits, r.addLimit)
	}
}

// companion reads a companion file row by row.
func (r *reader) companion(data []byte, name string, want Format, add func(record)) {
	g, found := open(name, data, "")
	r.found = append(r.found, found...)
	if g == nil {
		return
	}
	got, at, err := g.detect(nil)
	if err != nil || got != want {
		r.found = append(r.found, fileFinding(name, "companion", Refused, "not a file of "+companionOf[want]+" of the portal"))
		return
	}
	where := place(g.lines[at].cells, wqxColumns)
	for _, l := range g.lines[at+1:] {
		add(record{at: spot{line: l.n}, cells: l.cells, where: &where})
	}
}

func (r *reader) addStation(rec record) {
	s := station{name: rec.get(pSiteName), well: WellFacts{Kind: rec.get(pSiteType), Aquifer: one(", ", rec.get(pFormation), rec.get(pAquifer))}}
	depth, ok := lengthOf(rec.get(pDepth), rec.get(pDepthUnit))
	if !ok {
		depth, ok = lengthOf(rec.get(pHoleDepth), rec.get(pHoleDepthUnit))
	}
	if ok {
		d := unit.Length(depth)
		s.well.Depth = &d
	}
	if made := rec.get(pMade); len(made) >= 4 {
		if y, err := strconv.Atoi(made[:4]); err == nil && y > 1800 {
			s.well.Year = y
		}
	}
	r.stations[rec.get(pSite)] = s
}

func (r *reader) addLimit(rec record) {
	l := limit{rec.get(pLimit), rec.get(pLimitUnit), rec.get(pLimitType)}
	k := limitKey(rec.get(pResultID), "", "")
	if rec.get(pResultID) == "" {
		k = limitKey("", rec.get(pActivity), rec.get(pName))
	}
	r.limits[k] = append(r.limits[k], l)
}

func limitKey(result, activity, name string) string {
	if result != "" {
		return "r\x00" + result
	}
	if activity == "" {
		return ""
	}
	return "a\x00" + activity + "\x00" + name
}
