package chem

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/source"
	"wellwright/unit"
)

// anions in meq/L, for the tests.
func anions(sulfate, nitrate, chloride, bicarbonate float64) Anions {
	return anionsOf([nAnions]float64{sulfate, nitrate, chloride, bicarbonate})
}

// With nothing but nitrate and sulfate in the water every site is filled before
// nitrate leaves.
func TestNitrateRunWithoutCompetitors(t *testing.T) {
	const from = "by hand: 0.55 eq/L over 18 mg/L of N (1.285 meq/L) and 40 mg/L of sulfate (0.833); 28.317 L in a cubic foot"
	in := Anions{Sulfate: unit.MgPerL(40), Nitrate: unit.MgPerLAsN(18)}
	r := AnionRun(source.Set{}, PlainResin, EqPerL(0.55), in)
	nitrate, _ := r.NitrateLeaves()
	near(t, "gallons for each cubic foot", nitrate*unit.Ft3(1).Gal(), 1943, 4, from)
	if got := r.At(nitrate * 1.05).Nitrate.MgPerLAsN(); got <= 18 {
		t.Errorf("past its run plain resin leaves %.1f mg/L of nitrate, want more than the 18 that come in: sulfate drives it off", got)
	}
	selective := AnionRun(source.Set{}, NitrateResin, EqPerL(0.45), in)
	for bv := 1.0; bv < 2000; bv *= 1.05 {
		if got := selective.At(bv).Nitrate.MgPerLAsN(); got > 18*(1+1e-6) {
			t.Fatalf("selective resin leaves %.2f mg/L at %.0f bed volumes, more than comes in", got, bv)
		}
	}
}

// cells is a second method: a row of well-mixed cells at equilibrium, the water
// moved on one pore at a time.
func cells(alpha [nAnions]float64, q float64, in [nAnions]float64, n int, bedVolumes float64) [][nAnions]float64 {
	total := in[0] + in[1] + in[2] + in[3]
	resin := make([][nAnions]float64, n) // meq in each cell of one n-th of a bed volume
	for i := range resin {
		resin[i][xChloride] = q * 1000 / float64(n)
	}
	const steps = 20 // parcels for each cell volume
	parcel := 1 / (float64(n) * steps)
	var out [][nAnions]float64
	for v := 0.0; v < bedVolumes; v += parcel * steps {
		var mixed [nAnions]float64
		for range steps {
			x := in
			for c := range resin {
				x = meet(alpha, &resin[c], x, total, parcel)
			}
			for i := range x {
				mixed[i] += x[i] / steps
			}
		}
		out = append(out, mixed)
	}
	return out
}

// meet brings a parcel of water to equilibrium with what a cell holds before it:
// small parcels change the resin little.
func meet(alpha [nAnions]float64, y *[nAnions]float64, x [nAnions]float64, total, parcel float64) [nAnions]float64 {
	sum := 0.0
	for i := range y {
		sum += y[i] / alpha[i]
	}
	var out [nAnions]float64
	for i := range y {
		out[i] = y[i] / alpha[i] / sum * total
		y[i] += (x[i] - out[i]) * parcel
	}
	return out
}

func TestAnionRunAgainstCells(t *testing.T) {
	in := [nAnions]float64{0.83, 1.29, 0.6, 3.5}
	const q, n = 0.5, 80
	r := AnionRun(source.Set{}, PlainResin, EqPerL(q), anionsOf(in))
	got := cells(separation(source.Set{}, PlainResin, 6.22), q, in, n, 500)
	per := 500 / float64(len(got))
	var mean [nAnions]float64
	for i, c := range got {
		for j := range c {
			mean[j] += c[j] / float64(len(got))
		}
		bv := (float64(i) + 0.5) * per
		if !farFromFronts(r, bv) {
			continue
		}
		want := r.At(bv).meq()
		for j := range c {
			if math.Abs(c[j]-want[j]) > 0.03*6.22 {
				t.Fatalf("%.0f bed volumes: anion %d is %.3f meq/L by plateaus, %.3f by %d cells in a row", bv, j, want[j], c[j], n)
			}
		}
	}
	whole := r.Mean(500).meq()
	for j := range mean {
		near(t, "mean of the run, meq/L", whole[j], mean[j], 0.02*6.22, "a row of 80 mixed cells at equilibrium, worked apart")
	}
}

// farFromFronts leaves out the neighbourhood of a sharp front, which mixed cells
// smear.
func farFromFronts(r ExchangeRun, bv float64) bool {
	for k := range r.n - 1 {
		if d := bv / (r.leaves[k].from * r.scale); d > 0.75 && d < 1.33 {
			return false
		}
	}
	return bv > 10
}

// What has gone in and not come out is what resin in balance with the water holds;
// the charge of the water never changes; no wave makes an anion out of nothing.
func TestAnionRunKeepsItsBooks(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := func(name string, high float64) float64 { return rapid.Float64Range(0.01, high).Draw(r, name) }
		in := [nAnions]float64{f("sulfate", 5), f("nitrate", 4), f("chloride", 5), f("bicarbonate", 6)}
		kind := Resin(rapid.IntRange(0, 1).Draw(r, "resin"))
		q := rapid.Float64Range(0.3, 1.2).Draw(r, "capacity")
		x := AnionRun(source.Set{}, kind, EqPerL(q), anionsOf(in))
		total := in[0] + in[1] + in[2] + in[3]
		end := 0.0
		for k := range x.n - 1 {
			end = math.Max(end, x.leaves[k].to*x.scale)
		}
		end *= 1.5
		mean := x.Mean(end).meq()
		alpha := separation(source.Set{}, kind, total)
		sum := 0.0
		for i := range in {
			sum += alpha[i] * in[i]
		}
		for i := range in {
			held := (in[i] - mean[i]) * end / 1000 // eq/L of bed
			want := q * alpha[i] * in[i] / sum
			if i == xChloride {
				want -= q // it was there before
			}
			if math.Abs(held-want) > 0.01*q+1e-3 {
				r.Fatalf("anion %d: %.4f eq/L held, %.4f in balance with the water", i, held, want)
			}
		}
		got := x.At(rapid.Float64Range(0, end).Draw(r, "bed volumes")).meq()
		if s := got[0] + got[1] + got[2] + got[3]; math.Abs(s-total) > 1e-6*total {
			r.Fatalf("charge of %.6f meq/L comes out of %.6f", s, total)
		}
	})
}

// A fresh bed trades bicarbonate too: the dip of pH is over after about a hundred
// bed volumes.
func TestBicarbonateDipIsShort(t *testing.T) {
	r := AnionRun(source.Set{}, PlainResin, EqPerL(0.55), anions(0.8, 1.3, 0.5, 3.5))
	half := 0.0
	for bv := 1.0; bv < 1000; bv++ {
		if r.At(bv).Bicarbonate.MeqPerL() > 3.5/2 {
			half = bv
			break
		}
	}
	if half < 20 || half > 150 {
		t.Errorf("half the bicarbonate is back after %.0f bed volumes, want some tens to a hundred (fact of treatment, from memory)", half)
	}
	if fresh := r.At(1).Bicarbonate.MeqPerL(); fresh > 1e-6 {
		t.Errorf("fresh resin leaves %.3f meq/L of bicarbonate, want none at equilibrium with chloride alone", fresh)
	}
}
