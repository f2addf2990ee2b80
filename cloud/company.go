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
	share, wide := b.set.Of(arsenicTurned[redox]), b.set.Of(arsenicSpread)
	if read, parted := b.arsenicParted(); parted {
		share, wide = math.Max(leastShare, math.Min(1-leastShare, read)), b.set.Of(arsenicPartedError)
	}
	if r != nil { // about the middle, and never beyond nothing or all
		share = 1 / (1 + math.Exp(-math.Log(share/(1-share))-wide*r.NormFloat64()))
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

// arsenicParted is the share of As(V) where a laboratory has parted the forms, or told
// one of them beside the whole.
func (b *balance) arsenicParted() (share float64, ok bool) {
	iii, has3 := b.all.one(b.set, water.Arsenic3)
	v, has5 := b.all.one(b.set, water.Arsenic5)
	all, has := b.all.one(b.set, water.Arsenic)
	switch {
	case has3 && has5 && iii+v > 0:
		return v / (iii + v), true
	case has5 && has && all > 0:
		return math.Min(1, v/all), true
	case has3 && has && all > 0:
		return math.Max(0, 1-iii/all), true
	}
	return 0, false
}

// leastShare is the share of a form that a separation still tells. Kind: judgement.
const leastShare = 0.02

// arsenicTurned is the share of arsenic that is As(V), by class of redox.
var arsenicTurned = map[string]source.Factor{
	"oxic": turned("oxic", 0.95), "mixed": turned("mixed", 0.5), "reduced": turned("reduced", 0.15),
	"sulfidic": turned("sulfidic", 0.05), "acid": turned("acid", 0.8),
}

func turned(class string, share float64) source.Factor {
	return source.Factor{Name: "cloud_arsenic_turned_" + class, What: "share of the arsenic of " + class + " water that is As(V)",
		Value: share, Low: share / 3, High: math.Min(0.99, 3*share), Kind: source.Judgement, From: "arsenite leads in reduced water, arsenate in oxic (from memory: Smedley and Kinniburgh 2002); nobody speciated it"}
}

var arsenicPartedError = source.Factor{Name: "cloud_arsenic_parted_error", What: "error of the share of As(V) where the forms were parted, in log odds, one standard deviation",
	Value: 0.35, Low: 0.2, High: 0.8, Kind: source.Judgement, From: "forms shift in the bottle and on the cartridge: 50 % is read as 42 to 58; parted in the field and kept by the laboratory's rule"}

var errRadon = source.Factor{Name: "cloud_error_radon", What: "error of radon in water with its swing, one standard deviation",
	Value: 0.2, Low: 0.1, High: 0.4, Kind: source.CommonPractice, From: "bubbles lost in filling, and the weather"}

func companyFactors() []source.Factor {
	fs := []source.Factor{errRadon, arsenicPartedError}
	for _, c := range []string{"oxic", "mixed", "reduced", "sulfidic", "acid"} {
		fs = append(fs, arsenicTurned[c])
	}
	return fs
}
