package chem

import (
	"fmt"
	"math"
	"time"

	"wellwright/unit"
)

// RadonRatio returns the radon in a volume of air over that in as much water, at
// balance.
//
//	H = 1/(0.105 + 0.405 exp(-0.0502 t))
//
//	t  °C
//
// Range: 0 to 40 °C. Error: 2 %. Source: Weigel 1978, Chemiker-Zeitung 102:287, as
// quoted in manuals of radon monitors (second hand).
func RadonRatio(t unit.Temperature) float64 {
	return 1 / (0.105 + 0.405*math.Exp(-0.0502*t.Celsius()))
}

// RadonAir is a stream of air through water in boxes, one after the other.
type RadonAir struct {
	Ratio    float64 // volumes of air for each volume of water, all boxes together
	Stages   int     // boxes
	Approach float64 // how far the air comes toward balance, 0 to 1
	Fresh    bool    // each box gets its share of fresh air; else the air of the last goes back through the others
}

// RadonLeft returns the share of radon left behind the boxes.
//
//	fresh air to each:  C/C0 = (1 + E H r/n)^-n
//	air against water:  C/C0 = (S - 1)/(S^(n+1) - 1),  S = E H r
//
//	H  radon in air over water at balance;  r  air over water;  n  boxes
//	E  approach to balance
//
// Range: 0 to 40 °C, each box mixed. Error: that of the approach, a factor of two
// in what is left of each box. Source: mass balance and Henry's law; stages after
// Kremser 1930 (from memory).
func RadonLeft(t unit.Temperature, a RadonAir) (float64, error) {
	if !(a.Ratio >= 0) || a.Stages < 1 || !(a.Approach >= 0 && a.Approach <= 1) {
		return 1, fmt.Errorf("radon stripping: air ratio %g, %d boxes, approach %g; want a ratio of zero or more, one box or more and an approach from 0 to 1", a.Ratio, a.Stages, a.Approach)
	}
	s := a.Approach * RadonRatio(t) * a.Ratio
	n := float64(a.Stages)
	if a.Fresh {
		return math.Pow(1+s/n, -n), nil
	}
	if math.Abs(s-1) < 1e-9 {
		return 1 / (n + 1), nil
	}
	return (s - 1) / (math.Pow(s, n+1) - 1), nil
}

// RadonOnCarbon returns the share of radon that passes a bed of granular carbon.
//
//	C/C0 = exp(-Kss t)
//
//	Kss  steady-state constant, 1/h, from 2.5 to 4.5 in two field waters
//	t    empty-bed contact at the mean flow of the day, h
//
// Range: clean water and young carbon; no more than 5,000 pCi/L, since the bed
// becomes a source of gamma rays. Error: wide: iron mats the bed, age lowers Kss.
// Source: National Research Council, Risk Assessment of Radon in Drinking Water,
// 1999, p. 175.
func RadonOnCarbon(k Rate, contact time.Duration) float64 {
	return math.Exp(-k.PerHour() * contact.Hours())
}
