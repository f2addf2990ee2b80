package cloud

import (
	"math"
	"math/rand/v2"

	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// company adds to a raw water what stands apart from the prior: the oxidised part
// of its arsenic, and radon where it was measured.
func (b *balance) company(s *water.State, redox string, r *rand.Rand) {
	share := b.set.Of(arsenicTurned[redox])
	if r != nil { // about the middle, wide, and never beyond nothing or all
		share = 1 / (1 + math.Exp(-math.Log(share/(1-share))-b.set.Of(arsenicSpread)*r.NormFloat64()))
	}
	s.ArsenicV = unit.MgPerL(share * s.Arsenic.MgPerL())
	v, ok := b.all.one(b.set, water.Radon)
	if !ok {
		return // not drawn: only a test can ask for its treatment
	}
	if r != nil {
		v *= math.Exp(b.set.Of(errRadon) * r.NormFloat64())
	}
	s.Radon = unit.PCiPerL(v)
}

// arsenicTurned is the share of arsenic that is As(V), by class of redox.
var arsenicTurned = map[string]source.Factor{
	"oxic": turned("oxic", 0.95), "mixed": turned("mixed", 0.5), "reduced": turned("reduced", 0.15),
	"sulfidic": turned("sulfidic", 0.05), "acid": turned("acid", 0.8),
}

func turned(class string, share float64) source.Factor {
	return source.Factor{Name: "cloud_arsenic_turned_" + class, What: "share of the arsenic of " + class + " water that is As(V)",
		Value: share, Low: share / 3, High: math.Min(0.99, 3*share), Kind: source.Judgement, From: "arsenite leads in reduced water, arsenate in oxic (from memory: Smedley and Kinniburgh 2002); nobody speciated it"}
}

var errRadon = source.Factor{Name: "cloud_error_radon", What: "error of radon in water with its swing, one standard deviation",
	Value: 0.2, Low: 0.1, High: 0.4, Kind: source.CommonPractice, From: "bubbles lost in filling, and the weather"}

func companyFactors() []source.Factor {
	fs := []source.Factor{errRadon}
	for _, c := range []string{"oxic", "mixed", "reduced", "sulfidic", "acid"} {
		fs = append(fs, arsenicTurned[c])
	}
	return fs
}
