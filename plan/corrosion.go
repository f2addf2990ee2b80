package plan

import (
	"fmt"
	"slices"
	"strings"

	"wellwright/chem"
	"wellwright/media"
	"wellwright/source"
	"wellwright/water"
)

var (
	dissolving = source.Factor{Name: "corrosion_index_low", What: "Langelier index below which lead and copper are to be sampled", Unit: "",
		Value: -1, Low: -2, High: -0.5, Kind: source.CommonPractice, From: "printed limits run from -0.5 to -2; the index foretells scale, not metal"}
	scaling = source.Factor{Name: "scale_index_high", What: "Langelier index above which scale is to be looked for", Unit: "",
		Value: 0.5, Low: 0.3, High: 1, Kind: source.CommonPractice, From: "printed limits run from 0.3 to 1, at the temperature of the water"}
	larsonHigh = source.Factor{Name: "corrosion_larson_high", What: "Larson ratio above which steel rusts fast", Unit: "",
		Value: 1.2, Low: 0.8, High: 1.2, Kind: source.Published, From: "Larson and Skold 1958, limits as on Roberge 2006"}
)

// corrosion are the cautions of the indices, of the raw water and of what the
// first choice makes of it. An index that leans on an ion nobody measured is
// left out, and so is a Langelier index of softened water, which means nothing.
func (d *Desk) corrosion(rs []ranked) []string {
	raw := d.indices(d.Cloud.Middle().Water, false)
	if len(rs) == 0 {
		return said("Raw water: ", raw)
	}
	links := rs[0].Links
	after := d.indices(links[len(links)-1].Outcomes[d.middle()].Out, rs[0].Train.Has(media.Softener))
	if slices.Equal(raw, after) {
		return said("Raw water, and still so when treated: ", raw)
	}
	return append(said("Raw water: ", raw), said("Treated by the first choice: ", after)...)
}

func said(of string, cautions []string) []string {
	out := make([]string, len(cautions))
	for i, c := range cautions {
		out[i] = of + c
	}
	return out
}

// indices are the cautions of one water.
func (d *Desk) indices(w water.State, softened bool) []string {
	var cs []string
	if !softened {
		cs = d.scale(w)
	}
	if !d.read("chloride", "sulfate", "alkalinity") {
		return cs
	}
	t := w.Totals()
	if r, ok := chem.MassRatio(t); ok && chem.LeadConcernOf(r, w.Alkalinity) == chem.HighConcern {
		cs = append(cs, fmt.Sprintf("chloride over sulfate %.1f by weight at alkalinity %.0f mg/L is of high concern for lead from solder and brass. Sample first draw for lead and copper.", r, w.Alkalinity.MgPerLAsCaCO3()))
	}
	if r, ok := chem.Larson(t, w.Alkalinity); ok && r > d.set.Of(larsonHigh) {
		cs = append(cs, fmt.Sprintf("chloride and sulfate are %.1f times the alkalinity (Larson): bare steel and iron rust fast in it.", r))
	}
	return cs
}

// scale is the caution of the Langelier index, if there is one.
func (d *Desk) scale(w water.State) []string {
	if !d.read("calcium", "hardness", "ph", "alkalinity") {
		return nil
	}
	s, err := d.Work.Site.Model.AtPH(w.Totals(), w.PH, w.Alkalinity)
	if err != nil {
		return nil
	}
	switch si, ok := s.Langelier(); {
	case ok && si < d.set.Of(dissolving):
		return []string{fmt.Sprintf("Langelier index %.1f: no film of scale forms and metal may be taken up. Sample first draw for lead and copper.", si)}
	case ok && si > d.set.Of(scaling):
		return []string{fmt.Sprintf("Langelier index %.1f: scale may form, first in the heater.", si)}
	}
	return nil
}

// read reports whether nothing that begins with any of the names was assumed.
func (d *Desk) read(names ...string) bool {
	for _, a := range d.Cloud.Assumed {
		if slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(a.Name, n+"_") || a.Name == n }) {
			return false
		}
	}
	return true
}
