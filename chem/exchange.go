package chem

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// Anions are what strong-base resin trades. Fluoride, phosphate and traces are
// left out.
type Anions struct {
	Sulfate     unit.Concentration
	Nitrate     unit.Nitrogen
	Chloride    unit.Concentration
	Bicarbonate unit.Alkalinity
}

// ResinCapacity is the exchange capacity of a bed of resin that its regeneration
// wins back.
type ResinCapacity struct{ eqL float64 }

// EqPerL makes a capacity from equivalents for each litre of bed.
func EqPerL(v float64) ResinCapacity { return ResinCapacity{v} }

// EqPerL returns equivalents for each litre of bed.
func (c ResinCapacity) EqPerL() float64 { return c.eqL }

// Resin is a kind of strong-base resin by what it prefers.
type Resin int

// The resins.
const (
	PlainResin   Resin = iota // sulfate before nitrate
	NitrateResin              // nitrate before sulfate
)

// The anions in a fixed order.
const (
	xSulfate = iota
	xNitrate
	xChloride
	xBicarbonate
	nAnions
)

// anionEq are equivalent weights, mg/meq; nitrate as N.
var anionEq = [nAnions]float64{molSO4 / 2, molN, molCl, molHCO3}

func (a Anions) meq() [nAnions]float64 {
	return [nAnions]float64{
		math.Max(0, a.Sulfate.MgPerL()) / anionEq[xSulfate], math.Max(0, a.Nitrate.MgPerLAsN()) / anionEq[xNitrate],
		math.Max(0, a.Chloride.MgPerL()) / anionEq[xChloride], math.Max(0, a.Bicarbonate.MeqPerL()),
	}
}

func anionsOf(meq [nAnions]float64) Anions {
	return Anions{
		Sulfate: unit.MgPerL(meq[xSulfate] * anionEq[xSulfate]), Nitrate: unit.MgPerLAsN(meq[xNitrate] * anionEq[xNitrate]),
		Chloride: unit.MgPerL(meq[xChloride] * anionEq[xChloride]), Bicarbonate: unit.AlkalinityMeq(meq[xBicarbonate]),
	}
}

// ExchangeRun is what comes from a bed in the chloride form as water runs on.
type ExchangeRun struct {
	total  float64 // meq/L, the same all along
	scale  float64 // bed volumes for each unit of throughput, Q/C
	n      int
	ion    [nAnions]int     // by preference, most preferred first
	a      [nAnions]float64 // preference of the first over each
	f, p   [nAnions]float64 // roots of the feed and of the bed as regenerated
	leaves [nAnions]passage // when each front leaves, in units of throughput
}

// passage is when a front begins and ends to leave.
type passage struct{ from, to float64 }

// AnionRun follows a water through a bed of resin regenerated with salt, by
// equilibrium.
//
//	y_i = α_i x_i / Σ α_j x_j
//	Σ x_i/(h - α_1/α_i) = 0 gives the roots h of a composition
//	front k leaves after  BV = Q/C · Π(α_1/α_i) / (h'_k h''_k Π_{i≠k} h_i)
//
//	x, y  shares of the charge in water and resin;  α  separation factor over chloride
//	Q     capacity, eq/L of bed;  C  anions of the water, eq/L
//	h', h'' the k-th root on the two sides of the front
//
// A divalent ion is preferred the less the saltier the water: α of sulfate is that
// at 5 meq/L times 5/C.
//
// Range: fresh water; slow grains and a bed not wholly regenerated bring the
// fronts forward and leave a slip, which whoever sizes a bed must allow for.
// Error: a fifth, that of the separation factors.
// Source: Helfferich & Klein, Multicomponent Chromatography, 1970; separation
// factors after Clifford, Water Quality and Treatment (all from memory).
func AnionRun(set source.Set, kind Resin, q ResinCapacity, in Anions) ExchangeRun {
	meq := in.meq()
	r := ExchangeRun{}
	for _, v := range meq {
		r.total += v
	}
	if r.total <= 0 || q.eqL <= 0 {
		return r
	}
	r.scale = q.eqL * mmolPerMol / r.total
	alpha := separation(set, kind, r.total)
	r.rank(alpha, meq)
	var x [nAnions]float64
	for i := range r.n {
		x[i] = meq[r.ion[i]] / r.total
	}
	r.roots(x)
	r.fronts()
	return r
}

// separation are the separation factors over chloride at a total of anions, meq/L.
func separation(set source.Set, kind Resin, total float64) [nAnions]float64 {
	sulfate, nitrate := set.Of(sulfateSelectivity), set.Of(nitrateSelectivity)
	if kind == NitrateResin {
		sulfate, nitrate = set.Of(selectiveSulfate), set.Of(selectiveNitrate)
	}
	dilute := standardAnions / math.Max(1, math.Min(total, 50))
	return [nAnions]float64{sulfate * dilute, nitrate, 1, set.Of(bicarbonateSelectivity)}
}

// standardAnions is the water that separation factors are given for, meq/L.
const standardAnions = 5

// rank orders by preference the anions that are there; chloride always is, on the
// resin.
func (r *ExchangeRun) rank(alpha, meq [nAnions]float64) {
	for i := range nAnions {
		if meq[i] <= 1e-9 && i != xChloride {
			continue
		}
		at := r.n
		for at > 0 && alpha[r.ion[at-1]] < alpha[i] {
			r.ion[at] = r.ion[at-1]
			at--
		}
		r.ion[at] = i
		r.n++
	}
	for i := range r.n {
		r.a[i] = alpha[r.ion[0]] / alpha[r.ion[i]]
		if i > 0 && r.a[i] < r.a[i-1]*(1+1e-9) {
			r.a[i] = r.a[i-1] * (1 + 1e-9) // two ions of one preference
		}
	}
}

// roots finds those of the feed, and of a bed all in the chloride form.
func (r *ExchangeRun) roots(x [nAnions]float64) {
	bare := 0
	for r.ion[bare] != xChloride {
		bare++
	}
	for k := range r.n - 1 {
		r.p[k] = r.a[k]
		if k >= bare {
			r.p[k] = r.a[k+1]
		}
		low, high := r.a[k], r.a[k+1]
		for range 60 {
			mid := (low + high) / 2
			sum := 0.0
			for i := range r.n {
				sum += x[i] / (mid - r.a[i])
			}
			if sum > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		r.f[k] = (low + high) / 2
	}
}

// fronts finds when each leaves. The last root's front runs ahead; behind it the
// root has the feed's value, ahead of it that of the bed.
func (r *ExchangeRun) fronts() {
	all := 1.0
	for i := range r.n {
		all *= r.a[i]
	}
	for k := range r.n - 1 {
		others := 1.0
		for i := range r.n - 1 {
			switch {
			case i < k:
				others *= r.p[i]
			case i > k:
				others *= r.f[i]
			}
		}
		at := func(h1, h2 float64) float64 { return all / (h1 * h2 * others) }
		if r.f[k] >= r.p[k] {
			t := at(r.f[k], r.p[k])
			r.leaves[k] = passage{t, t}
			continue
		}
		r.leaves[k] = passage{at(r.p[k], r.p[k]), at(r.f[k], r.f[k])}
	}
}

// At returns the water that leaves after so many bed volumes.
func (r ExchangeRun) At(bedVolumes float64) Anions {
	if r.n == 0 {
		return Anions{}
	}
	return anionsOf(r.at(bedVolumes / r.scale))
}

func (r *ExchangeRun) at(t float64) [nAnions]float64 {
	var h [nAnions]float64
	for k := range r.n - 1 {
		s := r.leaves[k]
		switch {
		case t < s.from:
			h[k] = r.p[k]
		case t >= s.to:
			h[k] = r.f[k]
		default:
			h[k] = r.p[k] * math.Sqrt(s.from/t)
		}
	}
	var meq [nAnions]float64
	for j := range r.n {
		up, down := 1.0, 1.0
		for i := range r.n - 1 {
			up *= h[i] - r.a[j]
		}
		for i := range r.n {
			if i != j {
				down *= r.a[i] - r.a[j]
			}
		}
		meq[r.ion[j]] = math.Max(0, up/down) * r.total
	}
	return meq
}

// Mean returns all that has left up to so many bed volumes, mixed.
func (r ExchangeRun) Mean(bedVolumes float64) Anions {
	if r.n == 0 || bedVolumes <= 0 {
		return r.At(0)
	}
	end := bedVolumes / r.scale
	cuts := []float64{0, end}
	for k := range r.n - 1 {
		s := r.leaves[k]
		for i := range meanCuts + 1 {
			if c := s.from + (s.to-s.from)*float64(i)/meanCuts; c > 0 && c < end {
				cuts = append(cuts, c)
			}
		}
	}
	sortFew(cuts)
	var sum [nAnions]float64
	for i := 1; i < len(cuts); i++ {
		mid := r.at((cuts[i-1] + cuts[i]) / 2)
		for j, v := range mid {
			sum[j] += v * (cuts[i] - cuts[i-1]) / end
		}
	}
	return anionsOf(sum)
}

// meanCuts is how finely a spreading front is cut: sixteen keep the mean within a
// part in a thousand of a finer cut. Kind: own trial.
const meanCuts = 16

func sortFew(v []float64) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j] < v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

// NitrateLeaves returns the bed volumes after which nitrate leaves the bed, and
// those after which sulfate does; infinite for what is not in the water.
func (r ExchangeRun) NitrateLeaves() (nitrate, sulfate float64) {
	return r.leavesOf(xNitrate), r.leavesOf(xSulfate)
}

// leavesOf finds the first front behind which an ion is in the water.
func (r *ExchangeRun) leavesOf(ion int) float64 {
	for k := r.n - 2; k >= 0; k-- {
		end := r.leaves[k].to
		if r.at(end * (1 + 1e-9))[ion] > 1e-6*r.total {
			return r.leaves[k].from * r.scale
		}
	}
	return math.Inf(1)
}

const clifford = "Clifford, in Water Quality and Treatment (from memory)"

var (
	sulfateSelectivity = source.Factor{
		Name: "anion_resin_sulfate", What: "strong-base resin: sulfate over chloride at 5 meq/L",
		Value: 9.1, Low: 5, High: 12, Kind: source.FromMemory, From: clifford,
	}
	nitrateSelectivity = source.Factor{
		Name: "anion_resin_nitrate", What: "strong-base resin: nitrate over chloride",
		Value: 3.2, Low: 2.5, High: 4, Kind: source.FromMemory, From: clifford,
	}
	bicarbonateSelectivity = source.Factor{
		Name: "anion_resin_bicarbonate", What: "strong-base resin: bicarbonate over chloride",
		Value: 0.27, Low: 0.2, High: 0.5, Kind: source.FromMemory, From: clifford,
	}
	selectiveSulfate = source.Factor{
		Name: "nitrate_resin_sulfate", What: "nitrate-selective resin: sulfate over chloride at 5 meq/L",
		Value: 1.2, Low: 0.3, High: 3, Kind: source.FromMemory, From: "triethylamine resin; nitrate before sulfate before chloride (trade text read); the figure from memory",
	}
	selectiveNitrate = source.Factor{
		Name: "nitrate_resin_nitrate", What: "nitrate-selective resin: nitrate over chloride",
		Value: 5, Low: 4, High: 10, Kind: source.FromMemory, From: "triethylamine resin (from memory)",
	}
)

// exchangeFactors are those of anion exchange.
func exchangeFactors() []source.Factor {
	return []source.Factor{sulfateSelectivity, nitrateSelectivity, bicarbonateSelectivity, selectiveSulfate, selectiveNitrate}
}
