package main

import "math"

// class is a kind of raw water by the electron acceptor that is being used up.
type class int

const (
	oxic class = iota
	mixed
	reduced
	sulfidic
	acid
	classes
	undecided class = -1
)

var classIDs = [classes]string{"oxic", "mixed", "reduced", "sulfidic", "acid"}

var classSays = [classes]string{
	"oxygen or nitrate is left; little iron or manganese",
	"manganese without iron, or iron beside oxygen or nitrate, or none of them all",
	"iron-reducing: iron above 0.1 mg/L, hardly any nitrate",
	"sulfate-reducing or methanic: rotten egg noted at the well, or iron with hardly any sulfate",
	"shallow, soft and acid: pH below 6.5 with little alkalinity",
}

// Bounds of redox, mg/L. Kind: published, read from memory: McMahon and
// Chapelle 2008, Ground Water 46:259, table 1. Equal to a bound is above it.
const (
	boundOxygen    = 0.5
	boundNitrate   = 0.5
	boundManganese = 0.05
	boundIron      = 0.1
	boundSulfate   = 0.5
)

// Bounds that are ours. Kind: judgement.
const (
	boundORP        = 150 // mV as read; above it a water without nitrate, iron or manganese is called oxic
	boundAcidPH     = 6.5
	boundAcidAlk    = 60 // mg/L as CaCO3
	leastSmellShare = 0.5
)

// tri is an answer that may be unknown.
type tri int

const (
	no tri = iota
	yes
	unknown
)

// over reports whether coordinate i is at or above a bound in its own unit. A
// limit of detection above the bound leaves it open.
func (s *sheet) over(i int, bound float64) tri {
	v := coordinates[i].off(s.x[i])
	switch {
	case s.mark[i] == missing, s.mark[i] == below && v > bound:
		return unknown
	case s.mark[i] == exact && v >= bound:
		return yes
	}
	return no
}

// classify puts a sheet in its class. Smelly says whether rotten egg belongs to
// the well. Oxygen, nitrate and sulfate that nobody measured count as not there
// beside iron; without iron and manganese figures there is no class.
func (s *sheet) classify(smelly bool) class {
	iron, manganese := s.over(atIron, boundIron), s.over(atManganese, boundManganese)
	oxygen, nitrate := s.over(atOxygen, boundOxygen), s.over(atNitrate, boundNitrate)
	switch {
	case iron == unknown || manganese == unknown:
		return undecided
	case s.over(atPH, boundAcidPH) == no && s.over(atAlkalinity, boundAcidAlk) == no:
		return acid
	case iron == yes || manganese == yes || smelly:
		return s.anoxic(iron, smelly, oxygen == yes || nitrate == yes)
	case oxygen == yes, nitrate == yes && oxygen == unknown, oxygen == unknown && s.orp >= boundORP:
		return oxic
	}
	return mixed
}

func (s *sheet) anoxic(iron tri, smelly, oxidant bool) class {
	switch {
	case oxidant:
		return mixed
	case smelly, iron == yes && s.over(atSulfate, boundSulfate) == no:
		return sulfidic
	case iron == yes:
		return reduced
	}
	return mixed
}

// smelly tells the wells where rotten egg was noted at least as often as "no odor".
func smelly(all []sheet) map[string]bool {
	sum := map[string]float64{}
	seen := map[string]float64{}
	for _, s := range all {
		if s.smell != 0 {
			seen[s.well]++
			sum[s.well] += math.Max(0, float64(s.smell))
		}
	}
	out := map[string]bool{}
	for w, n := range seen {
		out[w] = sum[w] >= leastSmellShare*n
	}
	return out
}

// sorted weighs the sheets, one in all for a well, and sorts them by class.
func sorted(all []sheet, n *tallies) [classes][]sheet {
	eggs := smelly(all)
	var by [classes][]sheet
	of := make([]class, len(all))
	count := map[string]float64{}
	for i := range all {
		of[i] = all[i].classify(eggs[all[i].well])
		if of[i] == undecided {
			n.undecided++
			continue
		}
		count[all[i].well]++
	}
	for i, s := range all {
		if of[i] != undecided {
			s.weight = 1 / count[s.well]
			by[of[i]] = append(by[of[i]], s)
			n.used++
		}
	}
	return by
}
