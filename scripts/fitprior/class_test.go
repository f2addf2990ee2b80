package main

import (
	"math"
	"testing"
)

// water makes a sheet of figures in their own units; a negative one is a limit.
func waterOf(figures map[int]float64) *sheet {
	s := &sheet{orp: math.NaN()}
	for i, v := range figures {
		s.mark[i] = exact
		if v < 0 && !coordinates[i].linear {
			v, s.mark[i] = -v, below
		}
		s.x[i], _ = coordinates[i].on(v)
	}
	return s
}

// Bounds of redox from McMahon and Chapelle 2008, Ground Water 46:259 (from
// memory); which class answers for a pair of processes is ours.
func TestClassify(t *testing.T) {
	const fe, mn, no3, o2, so4, ph, alk = atIron, atManganese, atNitrate, atOxygen, atSulfate, atPH, atAlkalinity
	for _, tt := range []struct {
		name   string
		water  map[int]float64
		smelly bool
		orp    float64
		want   class
	}{
		{"oxygen at its bound", map[int]float64{fe: -0.05, mn: -0.01, o2: 0.5}, false, math.NaN(), oxic},
		{"oxygen below its bound, no nitrate", map[int]float64{fe: -0.05, mn: -0.01, o2: 0.49, no3: -0.1}, false, 300, mixed},
		{"nitrate at its bound, oxygen not known", map[int]float64{fe: -0.05, mn: -0.01, no3: 0.5}, false, math.NaN(), oxic},
		{"nitrate below, electrode high", map[int]float64{fe: -0.05, mn: -0.01, no3: 0.49}, false, boundORP, oxic},
		{"nitrate below, electrode low", map[int]float64{fe: -0.05, mn: -0.01, no3: 0.49}, false, boundORP - 1, mixed},
		{"iron at its bound", map[int]float64{fe: 0.1, mn: -0.01, no3: -0.1, so4: 30}, false, math.NaN(), reduced},
		{"iron below, manganese at its bound", map[int]float64{fe: 0.099, mn: 0.05, no3: -0.1}, false, math.NaN(), mixed},
		{"manganese below too", map[int]float64{fe: 0.099, mn: 0.049, no3: 1}, false, math.NaN(), oxic},
		{"iron with nitrate", map[int]float64{fe: 1, mn: 0.1, no3: 0.5}, false, math.NaN(), mixed},
		{"iron, sulfate just below its bound", map[int]float64{fe: 1, mn: 0.1, no3: -0.1, so4: 0.49}, false, math.NaN(), sulfidic},
		{"iron, sulfate at its bound", map[int]float64{fe: 1, mn: 0.1, no3: -0.1, so4: 0.5}, false, math.NaN(), reduced},
		{"iron, sulfate under a limit too high to tell", map[int]float64{fe: 1, mn: 0.1, no3: -0.1, so4: -5}, false, math.NaN(), reduced},
		{"rotten egg", map[int]float64{fe: -0.05, mn: -0.01, no3: -0.1, so4: 300}, true, math.NaN(), sulfidic},
		{"rotten egg with nitrate", map[int]float64{fe: -0.05, mn: -0.01, no3: 3}, true, math.NaN(), mixed},
		{"acid and soft", map[int]float64{fe: 2, mn: 0.1, ph: 6.4, alk: 30}, false, math.NaN(), acid},
		{"acid and alkaline", map[int]float64{fe: 2, mn: 0.1, ph: 6.4, alk: 200, so4: 20}, false, math.NaN(), reduced},
		{"pH at the bound", map[int]float64{fe: 2, mn: 0.1, ph: 6.5, alk: 30, so4: 20}, false, math.NaN(), reduced},
		{"iron under a limit too high to tell", map[int]float64{fe: -0.3, mn: -0.01, no3: 3}, false, math.NaN(), undecided},
		{"no manganese figure", map[int]float64{fe: 2}, false, math.NaN(), undecided},
	} {
		s := waterOf(tt.water)
		s.orp = tt.orp
		if got := s.classify(tt.smelly); got != tt.want {
			t.Errorf("%s: class %d, want %d", tt.name, got, tt.want)
		}
	}
}

// A well weighs one, however many its sheets and classes.
func TestAWellWeighsOne(t *testing.T) {
	iron := *waterOf(map[int]float64{atIron: 1, atManganese: 0.1})
	clear := *waterOf(map[int]float64{atIron: -0.05, atManganese: -0.01, atNitrate: 4})
	unfit := *waterOf(map[int]float64{atIron: 1})
	iron.well, clear.well, unfit.well = "a", "a", "a"
	other := iron
	other.well = "b"
	var n tallies
	by := sorted([]sheet{iron, iron, iron, clear, unfit, other}, &n)
	near(t, "reduced wells", weightOf(by[reduced]), 1.75, 1e-12, "three sheets of four, and the other well")
	near(t, "oxic wells", weightOf(by[oxic]), 0.25, 1e-12, "one sheet of four")
	if n.undecided != 1 || n.used != 5 {
		t.Errorf("%d undecided and %d used, want 1 and 5", n.undecided, n.used)
	}
}

func TestSmell(t *testing.T) {
	for _, tt := range []struct {
		remarks []string
		want    int
	}{
		{[]string{"Clear, strong H2S odor"}, 1},
		{[]string{"cloudy; Clear, no odor"}, -1},
		{[]string{"clear, metalic odor"}, 0},
		{nil, 0},
	} {
		if got := smellOf(tt.remarks); got != tt.want {
			t.Errorf("%q: %d, want %d", tt.remarks, got, tt.want)
		}
	}
	wells := smelly([]sheet{{well: "a", smell: 1}, {well: "a", smell: -1}, {well: "b", smell: 1}, {well: "b", smell: -1}, {well: "b", smell: -1}, {well: "c"}})
	if !wells["a"] || wells["b"] || wells["c"] {
		t.Errorf("smelly wells %v, want a alone: half of its notes or more", wells)
	}
}
